//! The way in without a network: `evencrumb <calculation>` reads questions from standard input and writes answers to standard output, in constant memory.
//! It stands apart from the doors over HTTP because a pipe has no status, no headers and no other callers.

mod arguments;
mod progress;

use std::fs::File;
use std::io::{self, ErrorKind, Read, Write};
use std::path::Path;

pub use arguments::Arguments;
use progress::Progress;

use crate::door::bulk::{Asking, Lines, Sheet, Tally, Wanted};
use crate::quantity::Faults;
use crate::reference::Reference;

/// How much is read at once.
const PIECE: usize = 64 * 1024;
/// How much a pipe of answers holds: at its usual 64 KiB who reads and who writes wait for one another at every piece.
#[cfg(target_os = "linux")]
const PIPE: usize = 256 * 1024;

/// How it ended.
#[derive(Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Every question has its answer.
    Answered,
    /// Some have a problem in their place.
    Problems,
    /// Nobody reads the answers any more.
    Closed,
    /// Nothing could be answered, or not to the end: why.
    Unusable(String),
}

/// What is being worked on.
enum Work {
    Lines(Lines),
    Sheet(Box<Sheet>),
}

/// Answers until the input ends.
pub fn run(arguments: &Arguments, reference: &'static Reference) -> Outcome {
    let asking = Asking { entry: arguments.calculation, reference, options: arguments.options() };
    let wanted = Wanted { counts: arguments.counts, safe: !arguments.unsafe_cells, separator: arguments.separator, ..Wanted::default() };
    let work = if arguments.csv {
        match Sheet::of(asking, wanted, arguments.line_bytes) {
            Some(sheet) => Work::Sheet(Box::new(sheet)),
            None => return Outcome::Unusable(format!("{} has no table: its questions are more than a row of texts", asking.entry.name)),
        }
    } else {
        Work::Lines(Lines::new(asking, arguments.line_bytes))
    };
    let mut progress = Progress::new();
    let ended = between(arguments, |from, to| work.pass(from, to, wanted.counts, &mut progress));
    progress.finish();
    match ended {
        Ok(Tally { problems: 0, .. }) => Outcome::Answered,
        Ok(_) if arguments.problems_allowed => Outcome::Answered,
        Ok(_) => Outcome::Problems,
        Err(Broken::Heading(faults)) => Outcome::Unusable(crate::door::Problem::from(faults).detail()),
        Err(Broken::Out(error)) if error.kind() == ErrorKind::BrokenPipe => Outcome::Closed,
        Err(Broken::Out(error)) => Outcome::Unusable(format!("the answers cannot be written{}", reason(arguments.to.as_deref(), &error))),
        Err(Broken::In(error)) => Outcome::Unusable(format!("the questions cannot be read{}", reason(arguments.from.as_deref(), &error))),
    }
}

/// Which file it is, where there is one, and what hinders.
fn reason(file: Option<&Path>, error: &io::Error) -> String {
    let place = file.map_or_else(String::new, |file| format!(" ({})", file.display()));
    let why = match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder",
        ErrorKind::PermissionDenied => "this user may not",
        ErrorKind::IsADirectory => "it is a folder",
        ErrorKind::NotADirectory => "there is a file where a folder should be",
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "there is no room left",
        ErrorKind::ReadOnlyFilesystem => "the disk may only be read",
        _ => "the system does not allow it",
    };
    format!("{place}: {why}")
}

/// Runs between the files or the standard streams. A file has its name only when it is whole.
fn between(arguments: &Arguments, pass: impl FnOnce(&mut dyn Read, &mut dyn Write) -> Result<Tally, Broken>) -> Result<Tally, Broken> {
    let mut from: Box<dyn Read> = match &arguments.from {
        Some(path) => Box::new(File::open(path).map_err(Broken::In)?),
        None => Box::new(io::stdin().lock()),
    };
    let Some(path) = &arguments.to else {
        widen();
        return pass(&mut from, &mut io::stdout().lock());
    };
    let mut unfinished = path.clone().into_os_string();
    unfinished.push(".unfinished");
    let mut to = File::create(&unfinished).map_err(Broken::Out)?;
    let tally = pass(&mut from, &mut to)?;
    to.sync_all().and_then(|()| std::fs::rename(&unfinished, path)).map_err(Broken::Out)?;
    Ok(tally)
}

/// Widens standard output where it is a pipe. What is none, or may not be widened, stays as it is.
#[cfg(target_os = "linux")]
fn widen() {
    if rustix::pipe::fcntl_getpipe_size(io::stdout()).is_ok_and(|size| size < PIPE) {
        rustix::pipe::fcntl_setpipe_size(io::stdout(), PIPE).ok();
    }
}

/// Elsewhere a pipe is as wide as it is.
#[cfg(not(target_os = "linux"))]
const fn widen() {}

enum Broken {
    Heading(Faults),
    In(io::Error),
    Out(io::Error),
}

impl Work {
    /// From the questions to the answers. What has been answered is written before more is waited for.
    fn pass(mut self, from: &mut dyn Read, to: &mut dyn Write, counts: bool, progress: &mut Progress) -> Result<Tally, Broken> {
        let mut piece = vec![0; PIECE];
        let mut out = Vec::with_capacity(2 * PIECE);
        loop {
            let length = match from.read(&mut piece) {
                Ok(length) => length,
                Err(error) if error.kind() == ErrorKind::Interrupted => continue,
                Err(error) => return Err(Broken::In(error)),
            };
            let mut come = &piece[..length];
            while !come.is_empty() {
                self.turn(&mut come, &mut out)?;
                if out.len() >= PIECE {
                    given(to, &mut out)?;
                }
            }
            if length == 0 {
                break;
            }
            given(to, &mut out)?;
            progress.tell(self.tally());
        }
        self.last(&mut out)?;
        if counts && let Self::Lines(lines) = &self {
            lines.tally().write(&mut out);
        }
        given(to, &mut out)?;
        to.flush().map_err(Broken::Out)?;
        progress.tell(self.tally());
        Ok(self.tally())
    }

    fn turn(&mut self, come: &mut &[u8], out: &mut Vec<u8>) -> Result<(), Broken> {
        match self {
            Self::Lines(lines) => {
                lines.turn(come, out);
                Ok(())
            }
            Self::Sheet(sheet) => sheet.turn(come, out).map_err(Broken::Heading),
        }
    }

    fn last(&mut self, out: &mut Vec<u8>) -> Result<(), Broken> {
        match self {
            Self::Lines(lines) => {
                lines.last(out);
                Ok(())
            }
            Self::Sheet(sheet) => sheet.last(out).map_err(Broken::Heading),
        }
    }

    fn tally(&self) -> Tally {
        match self {
            Self::Lines(lines) => lines.tally(),
            Self::Sheet(sheet) => sheet.tally(),
        }
    }
}

fn given(to: &mut dyn Write, out: &mut Vec<u8>) -> Result<(), Broken> {
    if !out.is_empty() {
        to.write_all(out).and_then(|()| to.flush()).map_err(Broken::Out)?;
        out.clear();
    }
    Ok(())
}
