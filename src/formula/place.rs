//! Where a line of a formula stands in the question. It is two numbers until it is told.

use serde::{Serialize, Serializer};

/// The place of a line, told as a JSON Pointer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LinePlace {
    pub part: usize,
    pub line: usize,
}

impl LinePlace {
    /// "/formula/parts/0/lines/1". Each line of an answer has one, so it is put together at once and not by a chain of `Pointer`.
    pub fn pointer(self) -> String {
        let mut number = itoa::Buffer::new();
        let mut text = String::with_capacity(32);
        text.push_str("/formula/parts/");
        text.push_str(number.format(self.part));
        text.push_str("/lines/");
        text.push_str(number.format(self.line));
        text
    }
}

impl Serialize for LinePlace {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.pointer())
    }
}
