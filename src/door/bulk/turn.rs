//! Lines of questions into lines of answers, a few at a time. The same for what comes over the network and what comes on standard input.

use super::cutter::{Cutter, Line};
use super::{Asking, TURN, TURN_BYTES, Tally, refuse};
use crate::calculation::Mark;
use crate::door::problem::Problem;
use crate::quantity::Code;

/// The work on one stream of lines.
pub struct Lines {
    asking: Asking,
    cutter: Cutter,
    tally: Tally,
    most: usize,
}

impl Lines {
    /// With lines of at most so many bytes.
    pub fn new(asking: Asking, most: usize) -> Self {
        Self { asking, cutter: Cutter::new(most), tally: Tally::default(), most }
    }

    pub fn tally(&self) -> Tally {
        Tally { lines: self.cutter.number(), ..self.tally }
    }

    /// Answers what has come, as much as one turn allows; what is left of it stays in `come`.
    pub fn turn(&mut self, come: &mut &[u8], out: &mut Vec<u8>) {
        let (before, begun) = (come.len(), out.len());
        for _ in 0..TURN {
            let Some((number, line)) = self.cutter.next(come) else { return };
            answer(&self.asking, (number, line), self.most, out, &mut self.tally);
            if before - come.len() + out.len() - begun > TURN_BYTES {
                return;
            }
        }
    }

    /// Answers the last line, where it has no end of its own.
    pub fn last(&mut self, out: &mut Vec<u8>) {
        if let Some(line) = self.cutter.last() {
            answer(&self.asking, line, self.most, out, &mut self.tally);
        }
    }

    /// A last line for what broke off: which line it was, and why.
    pub fn broken(&mut self, problem: &Problem, out: &mut Vec<u8>) {
        self.tally.problems += 1;
        refuse(mark(self.cutter.number() + 1), None, problem, out);
        out.push(b'\n');
    }
}

const fn mark(number: usize) -> Mark {
    Mark { word: "line", number }
}

fn answer(asking: &Asking, (number, line): (usize, Line<'_>), most: usize, out: &mut Vec<u8>, tally: &mut Tally) {
    match line {
        Line::Question(question) => drop(asking.in_place(mark(number), question, out, tally)),
        Line::TooLong(bytes) => {
            tally.problems += 1;
            let problem = Problem::new(Code::TooLarge, format!("a line of {bytes} bytes"), format!("lines of at most {most} bytes"));
            refuse(mark(number), None, &problem, out);
        }
    }
    out.push(b'\n');
}
