//! What is kept while a question is judged, and how the tree is mended where judging got stuck.

use std::cell::{OnceCell, RefCell};
use std::fmt;

use super::describe;
use super::node::{Node, Why};
use crate::quantity::{Fault, Faults, Pointer};

/// The faults of one pass through the tree, and the places that were filled.
#[derive(Default)]
pub struct Mending {
    noted: RefCell<(Faults, Vec<String>)>,
    /// How the first object that was missing is written, where there is a form for it.
    wanted: OnceCell<Option<String>>,
}

impl Mending {
    pub fn new() -> Self {
        Self::default()
    }

    /// Notes a fault; its place is filled.
    pub fn fault(&self, at: &Pointer<'_>, fault: impl FnOnce() -> Fault) {
        let fault = fault();
        let (faults, filled) = &mut *self.noted.borrow_mut();
        filled.push(at.text());
        faults.push(fault);
    }

    /// Notes how what was missing is written.
    pub fn wanted(&self, written: Option<String>) {
        // Only the first is of use.
        drop(self.wanted.set(written));
    }

    pub fn first_wanted(&self) -> Option<&str> {
        self.wanted.get()?.as_deref()
    }

    pub fn count(&self) -> usize {
        self.noted.borrow().0.total()
    }

    /// Whether as many are kept as will be told: suggestions for more need not be sought.
    pub fn is_full(&self) -> bool {
        self.count() >= Faults::MOST
    }

    pub fn close(self) -> (Faults, Vec<String>) {
        self.noted.into_inner()
    }
}

/// Where judging could not go on, and why.
#[derive(Debug)]
pub struct Stuck {
    pub why: Cause,
    pub at: Option<String>,
}

#[derive(Debug)]
pub enum Cause {
    Missing(&'static str),
    Unknown(String, &'static [&'static str]),
    Wrong(String),
    /// A bare value where an object with these fields should stand.
    Bare(&'static [&'static str]),
}

impl Stuck {
    pub fn new(why: Cause) -> Self {
        Self { why, at: None }
    }

    /// Names the place, unless one further in is named already.
    #[must_use]
    pub fn placed(mut self, at: &Pointer<'_>) -> Self {
        self.at.get_or_insert_with(|| at.text());
        self
    }
}

impl fmt::Display for Stuck {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("stuck")
    }
}

impl std::error::Error for Stuck {}

impl serde::de::Error for Stuck {
    fn custom<T: fmt::Display>(_: T) -> Self {
        Self::new(Cause::Wrong("a value of the kind that the document names".to_owned()))
    }

    fn invalid_type(_: serde::de::Unexpected<'_>, accepted: &dyn serde::de::Expected) -> Self {
        Self::new(Cause::Wrong(accepted.to_string()))
    }

    fn invalid_value(_: serde::de::Unexpected<'_>, accepted: &dyn serde::de::Expected) -> Self {
        Self::new(Cause::Wrong(accepted.to_string()))
    }

    fn unknown_field(field: &str, known: &'static [&'static str]) -> Self {
        Self::new(Cause::Unknown(field.to_owned(), known))
    }

    fn missing_field(field: &'static str) -> Self {
        Self::new(Cause::Missing(field))
    }
}

/// Mends the tree where it got stuck; false when that cannot be done.
pub fn mend(tree: &mut Node, stuck: &Stuck) -> bool {
    let Some(node) = stuck.at.as_deref().and_then(|at| tree.at_mut(at)) else { return false };
    match (&stuck.why, node) {
        (Cause::Missing(field), Node::Object(fields)) => give(fields, field, Why::Missing),
        (Cause::Missing(field), Node::Filled { fields, .. }) => give(fields, field, Why::Told),
        (Cause::Missing(_), node) => {
            *node = Node::Filled { why: wrong(node, &describe::in_braces(&[])), fields: Vec::new() };
            true
        }
        (Cause::Bare(known), node) => {
            *node = Node::Filled { why: describe::bare(node, known), fields: Vec::new() };
            true
        }
        (Cause::Unknown(name, known), Node::Object(fields)) => {
            let Some((_, field)) = fields.iter_mut().find(|(key, _)| key == name) else { return false };
            let new = !matches!(field, Node::Unknown(_));
            *field = Node::Unknown(known);
            new
        }
        (Cause::Wrong(_), Node::Filled { .. } | Node::Unknown(_)) => false,
        (Cause::Wrong(accepted), node) => {
            *node = Node::Filled { why: wrong(node, accepted), fields: Vec::new() };
            true
        }
        _ => false,
    }
}

fn wrong(node: &Node, accepted: &str) -> Why {
    Why::Wrong { found: describe::found(node), accepted: accepted.to_owned() }
}

fn give(fields: &mut Vec<(String, Node)>, field: &str, why: Why) -> bool {
    if fields.iter().any(|(key, _)| key == field) {
        return false;
    }
    fields.push((field.to_owned(), Node::Filled { why, fields: Vec::new() }));
    true
}
