//! From bytes to a question.

use serde::de::DeserializeOwned;

use super::Refusal;
use crate::quantity::{Code, Fault, Faults, Pointer};

/// Reads a question.
pub fn question<Q: DeserializeOwned>(bytes: &[u8]) -> Result<Q, Refusal> {
    serde_json::from_slice(bytes).map_err(|e| {
        Refusal::Unreadable(Faults::from(Fault::new(&Pointer::ROOT, Code::NotJson, e.to_string(), "a question")))
    })
}
