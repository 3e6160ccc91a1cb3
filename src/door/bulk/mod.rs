//! Many questions at once: lists, lines and tables. What is the same for all of them stands here: how one of many is answered, and how they are counted.

mod arriving;
mod asked;
mod cell;
mod columns;
mod cutter;
mod lines;
mod list;
pub mod room;
mod rows;
mod table;
mod turn;

use std::panic::{AssertUnwindSafe, catch_unwind};

use serde::Serialize;
use tokio::sync::{Semaphore, SemaphorePermit};
use tokio::time::timeout;

pub use asked::{OF_LINES, OF_LISTS, OF_TABLES, Separator, Wanted};
pub use columns::shown as columns;
pub use lines::answer as lines;
pub use list::{answer as list, is_list};
pub use rows::write as write_row;
pub use table::{Sheet, answer as table, of_address, single};
pub use turn::Lines;

use super::House;
use super::problem::Problem;
use crate::calculation::{Entry, Id, Mark, Options, Refused};
use crate::quantity::Code;
use crate::reference::Reference;

/// The media types of lines, by either name, and of a table.
pub const LINES: [&str; 2] = ["application/x-ndjson", "application/jsonl"];
pub const TABLE: &str = "text/csv";

/// After so many questions, or so many bytes of them and of their answers, others on the same worker have their turn: a stream that never pauses
/// starves them. The bytes tell the work: a formula judged is many times a cup converted.
pub const TURN: usize = 48;
pub const TURN_BYTES: usize = 36 * 1024;

/// What is asked of each of many questions.
#[derive(Clone, Copy)]
pub struct Asking {
    pub entry: &'static Entry,
    pub reference: &'static Reference,
    pub options: Options,
}

/// How many there were.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Tally {
    /// All lines, blank ones too.
    pub lines: usize,
    pub answered: usize,
    pub problems: usize,
}

impl Tally {
    /// The last line of an answer, by which a cut is seen.
    pub fn write(&self, out: &mut Vec<u8>) {
        out.extend_from_slice(b"{\"counts\":");
        // Whole numbers can always be written into memory.
        drop(serde_json::to_writer(&mut *out, self));
        out.extend_from_slice(b"}\n");
    }
}

impl Asking {
    /// One answer, or its refusal.
    fn one(&self, mark: Mark, question: &[u8], out: &mut Vec<u8>) -> Result<Option<Id>, (Option<Id>, Problem)> {
        let begun = out.len();
        match unharmed(|| self.entry.answer_among(question, self.reference, self.options, mark, out)) {
            Ok(Ok(id)) => Ok(id),
            Ok(Err(Refused { id, refusal })) => Err((id, refusal.into())),
            Err(ours) => {
                out.truncate(begun);
                Err((None, ours))
            }
        }
    }

    /// One answer by itself, or its refusal.
    fn alone(&self, question: &[u8]) -> Result<Vec<u8>, Problem> {
        Ok(unharmed(|| self.entry.answer(question, self.reference, self.options))??)
    }

    /// One answer, or the problem in its place.
    fn in_place(&self, mark: Mark, question: &[u8], out: &mut Vec<u8>, tally: &mut Tally) -> Option<Id> {
        match self.one(mark, question, out) {
            Ok(id) => {
                tally.answered += 1;
                id
            }
            Err((id, problem)) => {
                tally.problems += 1;
                let problem = if mark.word == "line" { problem.of_one_line() } else { problem };
                refuse(mark, id.as_ref(), &problem, out);
                id
            }
        }
    }
}

/// A fault of ours costs one answer and no more.
fn unharmed<A>(answering: impl FnOnce() -> A) -> Result<A, Problem> {
    catch_unwind(AssertUnwindSafe(answering)).map_err(|_| Problem::ours())
}

/// Writes a problem in the place of an answer.
fn refuse(mark: Mark, id: Option<&Id>, problem: &Problem, out: &mut Vec<u8>) {
    mark.begin(id, out);
    out.extend_from_slice(b",\"problem\":");
    out.extend_from_slice(&problem.body());
    out.push(b'}');
}

/// A place among the requests that are worked on; what those hold is bounded by their number.
async fn place(house: &'static House) -> Result<SemaphorePermit<'static>, Problem> {
    in_time(house, &house.bulk, 1, || format!("{} requests with many questions already", house.settings.bulk)).await
}

/// So many of what is bounded, unless the caller would wait too long: then what there is too much of.
async fn in_time(
    house: &'static House,
    bounded: &'static Semaphore,
    count: u32,
    found: impl FnOnce() -> String,
) -> Result<SemaphorePermit<'static>, Problem> {
    match timeout(house.settings.wait(), bounded.acquire_many(count)).await {
        Ok(Ok(taken)) => Ok(taken),
        _ => Err(Problem::new(Code::Overloaded, found(), "the same request in a second").closing()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_among_many_answers_is_one_problem() {
        assert_eq!(unharmed(|| 1).ok(), Some(1));
        let ours = unharmed(|| -> usize { panic!("a test") }).expect_err("a fault of ours");
        assert_eq!(ours.code(), Code::OurFault);
    }
}
