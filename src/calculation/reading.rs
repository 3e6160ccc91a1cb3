//! From bytes to a question.

use serde::de::DeserializeOwned;

use super::Refusal;
use crate::quantity::{Code, Fault, Faults, Pointer};

/// How deep lists and objects may stand inside one another.
pub const DEPTH: usize = 32;
/// The most items of one list.
pub const ITEMS: usize = 1000;
/// The most characters of one text.
pub const TEXT: usize = 200;

/// Reads a question.
pub fn question<Q: DeserializeOwned>(bytes: &[u8]) -> Result<Q, Refusal> {
    serde_json::from_slice(bytes).map_err(|e| {
        Refusal::Unreadable(Faults::from(Fault::new(&Pointer::ROOT, Code::NotJson, e.to_string(), "a question")))
    })
}
