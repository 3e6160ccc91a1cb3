//! From an answer to bytes. A figure that is no number stops the whole answer: it never leaves as nothing.

use super::{Answer, Options, Refusal};
use crate::quantity::{Code, Fault, Faults, Pointer};

/// An answer is seldom longer than so many times its question.
const TIMES: usize = 9;
/// Room set aside for an answer before it is written: no less, and no more, than this.
const ROOM: [usize; 2] = [1024, 64 * 1024];

/// Writes the answer to a question of so many bytes: as JSON, or as the bare figure for a cell.
pub fn answer<A: Answer>(answer: &A, question: usize, options: Options) -> Result<Vec<u8>, Refusal> {
    if options.cell {
        return Ok(answer.cell().into_bytes());
    }
    let mut bytes = Vec::with_capacity((TIMES * question).clamp(ROOM[0], ROOM[1]));
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
