//! What follows `evencrumb <calculation>` on the command line.

use std::path::PathBuf;

use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::parser::ValueSource;
use clap::{CommandFactory, FromArgMatches, Parser};

use crate::calculation::{CALCULATIONS, Entry, Options};
use crate::door::bulk::Separator;
use crate::quantity::nearest;
use crate::settings::Stop;

/// Questions from standard input, answers to standard output.
#[derive(Clone, Parser)]
#[command(
    name = "evencrumb",
    disable_help_subcommand = true,
    override_usage = "evencrumb <CALCULATION> [OPTIONS] < questions > answers",
    after_help = "Leaves with 0 when all are answered, 1 when some have a problem in their place, 2 when the input cannot be used."
)]
pub struct Arguments {
    /// The calculation, by the last part of its path.
    #[arg(value_name = "CALCULATION", value_parser = calculation)]
    pub calculation: &'static Entry,
    /// A table (RFC 4180) in place of a question in JSON on each line; for flat calculations.
    #[arg(long)]
    pub csv: bool,
    /// Each answer with its working; not in a table.
    #[arg(long, conflicts_with = "csv")]
    pub explain: bool,
    /// A last line of counts, by which a cut is seen; not in a table.
    #[arg(long, conflicts_with = "csv")]
    pub counts: bool,
    /// What parts the cells of a table: , or ; or tab.
    #[arg(long, default_value = ",", value_parser = separator)]
    pub separator: Separator,
    /// Leaves cells as they are that a spreadsheet would run as formulas.
    #[arg(long)]
    pub unsafe_cells: bool,
    /// Reads this file in place of standard input.
    #[arg(long, value_name = "FILE")]
    pub from: Option<PathBuf>,
    /// Writes this file in place of standard output; it has its name only when it is whole.
    #[arg(long, value_name = "FILE")]
    pub to: Option<PathBuf>,
    /// Leaves with 0 even when some have a problem in their place, for engines that repeat what failed.
    #[arg(long)]
    pub problems_allowed: bool,
    /// The longest line or row in bytes, from 256 to 1048576.
    #[arg(long, default_value = "65536", value_parser = bytes)]
    pub line_bytes: usize,
}

impl Arguments {
    /// Whether the command line asks for a calculation and not for the service.
    pub fn are_given() -> bool {
        std::env::args_os().nth(1).is_some_and(|first| !first.to_string_lossy().starts_with('-'))
    }

    pub fn read() -> Result<Self, Stop> {
        let matches = Self::command().try_get_matches().map_err(|error| told(&error))?;
        let read = Self::from_arg_matches(&matches).map_err(|error| told(&error))?;
        let of_tables = ["separator", "unsafe_cells"].into_iter().find(|id| matches.value_source(id) == Some(ValueSource::CommandLine));
        match of_tables {
            Some(id) if !read.csv => Err(Stop::Refused(format!("--{} is of tables only; add --csv or leave it out", id.replace('_', "-")))),
            _ => Ok(read),
        }
    }

    pub fn options(&self) -> Options {
        Options { explain: self.explain, cell: false }
    }
}

fn calculation(name: &str) -> Result<&'static Entry, String> {
    let names = || CALCULATIONS.iter().map(|entry| entry.name);
    Entry::named(name).ok_or_else(|| match nearest(name, names(), 1).first() {
        Some(near) => format!("there is no calculation of this name; the nearest is {near}"),
        None => format!("there is no calculation of this name; there are {}", names().collect::<Vec<_>>().join(", ")),
    })
}

fn separator(word: &str) -> Result<Separator, String> {
    Separator::named(word).ok_or_else(|| format!("accepted is one of {}", Separator::WORDS.join(" ")))
}

fn bytes(text: &str) -> Result<usize, String> {
    let number = text.parse().ok().filter(|number| (256..=1_048_576).contains(number));
    number.ok_or_else(|| "accepted is a whole number from 256 to 1048576".to_owned())
}

/// The parser's error as one line of ours.
fn told(error: &clap::Error) -> Stop {
    if matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion) {
        return Stop::Asked(error.to_string());
    }
    let context = |kind| match error.get(kind) {
        Some(ContextValue::String(text)) => text.chars().take(80).filter(|c| !c.is_control()).collect(),
        Some(ContextValue::Strings(texts)) => texts.join(" and "),
        _ => String::new(),
    };
    let (argument, value) = (context(ContextKind::InvalidArg), context(ContextKind::InvalidValue));
    Stop::Refused(match (error.kind(), std::error::Error::source(error)) {
        (_, Some(why)) => format!("\"{value}\": {why}"),
        (ErrorKind::ArgumentConflict, _) => match context(ContextKind::PriorArg) {
            other if other.is_empty() || other == argument => format!("{argument} stands twice; leave one"),
            other => format!("{argument} and {other} do not go together; leave one"),
        },
        (ErrorKind::UnknownArgument, _) if !argument.starts_with('-') => {
            format!("\"{argument}\" has no place here: a file of questions is named by --from FILE, or sent by < FILE")
        }
        (ErrorKind::UnknownArgument, _) => {
            let command = Arguments::command();
            let flags: Vec<String> = command.get_arguments().filter_map(|arg| arg.get_long()).map(|long| format!("--{long}")).collect();
            match nearest(&argument, flags.iter().map(String::as_str), 1).first() {
                Some(near) => format!("there is no {argument} here; the nearest is {near}"),
                None => format!("there is no {argument} here; there are {}", flags.join(", ")),
            }
        }
        _ => format!("{argument} cannot be used so; see evencrumb convert --help"),
    })
}
