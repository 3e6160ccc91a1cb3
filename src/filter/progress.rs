//! A line on standard error that says how far the work has come, where a person watches; a pipe or a file hears nothing.

use std::io::{self, IsTerminal, Write};
use std::time::{Duration, Instant};

use crate::door::bulk::Tally;

/// How often it is renewed.
const EVERY: Duration = Duration::from_millis(250);

/// The line.
pub struct Progress {
    began: Instant,
    told: Instant,
    watched: bool,
    written: bool,
    tally: Tally,
}

impl Progress {
    pub fn new() -> Self {
        let now = Instant::now();
        Self { began: now, told: now, watched: io::stderr().is_terminal(), written: false, tally: Tally::default() }
    }

    /// Tells how far it is, not more often than can be read.
    pub fn tell(&mut self, tally: Tally) {
        self.tally = tally;
        if self.watched && self.told.elapsed() >= EVERY {
            self.told = Instant::now();
            self.write("\r", "");
        }
    }

    /// Tells the whole.
    pub fn finish(&mut self) {
        if self.watched {
            self.write(if self.written { "\r" } else { "" }, "\n");
        }
    }

    fn write(&mut self, before: &str, behind: &str) {
        self.written = true;
        let line = line(self.tally, self.began.elapsed());
        drop(write!(io::stderr(), "{before}{line}  {behind}"));
    }
}

fn line(tally: Tally, taken: Duration) -> String {
    let done = tally.answered + tally.problems;
    let rate = done as f64 / taken.as_secs_f64().max(0.001);
    format!("{done} questions, {rate:.0} a second, {} problems", tally.problems)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_line_tells_count_rate_and_problems() {
        let tally = Tally { lines: 31, answered: 28, problems: 2 };
        assert_eq!(line(tally, Duration::from_secs(10)), "30 questions, 3 a second, 2 problems");
    }
}
