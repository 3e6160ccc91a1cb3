//! A row that leaves with many answers: it is put into JSON once, when the tables are read, and from then on only copied.

use std::ops::Deref;

use serde::{Serialize, Serializer};
use serde_json::value::{RawValue, to_raw_value};

/// A row, and how it stands in answers.
#[derive(Debug)]
pub struct Ready<T> {
    row: T,
    json: &'static RawValue,
}

impl<T: Serialize> Ready<T> {
    pub(super) fn of(row: T) -> Result<Self, String> {
        let json = to_raw_value(&row).map_err(|fault| fault.to_string())?;
        Ok(Self { row, json: Box::leak(json) })
    }
}

impl<T: Copy> Copy for Ready<T> {}

impl<T: Copy> Clone for Ready<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T: PartialEq> PartialEq for Ready<T> {
    fn eq(&self, other: &Self) -> bool {
        self.row == other.row
    }
}

impl<T> Deref for Ready<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.row
    }
}

impl<T> Serialize for Ready<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.json.serialize(serializer)
    }
}
