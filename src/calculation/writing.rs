//! From an answer to bytes. A figure that is no number stops the whole answer: it never leaves as nothing.

use super::{Answer, Options, Refusal};
use crate::quantity::{Code, Fault, Faults, Pointer};

/// Writes an answer: as JSON, or as the bare figure for a cell.
pub fn answer<A: Answer>(answer: &A, options: Options) -> Result<Vec<u8>, Refusal> {
    if options.cell {
        return Ok(answer.cell().into_bytes());
    }
    let mut bytes = Vec::with_capacity(1024);
    append(answer, &mut bytes)?;
    Ok(bytes)
}

/// Writes an answer as JSON behind what is there already. What was begun stays where it fails.
pub fn append<A: Answer>(answer: &A, bytes: &mut Vec<u8>) -> Result<(), Refusal> {
    match serde_json::to_writer(bytes, answer) {
        Ok(()) => Ok(()),
        Err(_) => Err(Refusal::Faulty(Faults::from(Fault::new(
            &Pointer::ROOT,
            Code::BeyondNumbers,
            "figures that together go beyond all numbers",
            "figures of a real kitchen",
        )))),
    }
}
