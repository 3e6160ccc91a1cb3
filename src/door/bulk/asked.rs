//! What the address of a bulk request may say beside `explain`, `format` and `tables`: each kind of body has its own few names.

use crate::door::query::{OURS, Pair, truth};
use crate::quantity::{Code, Fault, Faults, Pointer, nearest};

/// What parts the cells of a table.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Separator {
    #[default]
    Comma,
    Semicolon,
    Tab,
}

impl Separator {
    /// As it is told and chosen.
    pub const WORDS: [&str; 3] = [",", ";", "tab"];

    pub fn named(word: &str) -> Option<Self> {
        match word {
            "," => Some(Self::Comma),
            ";" => Some(Self::Semicolon),
            "tab" | "\t" => Some(Self::Tab),
            _ => None,
        }
    }

    pub const fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
        }
    }
}

/// What is asked of a bulk door.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// A list: all answers or none.
    pub strict: bool,
    /// Lines: answered while they come.
    pub stream: bool,
    /// Lines: a last line of counts.
    pub counts: bool,
    /// Tables: cells that a spreadsheet would run are made harmless.
    pub safe: bool,
    pub separator: Separator,
}

impl Default for Wanted {
    fn default() -> Self {
        Self { strict: false, stream: false, counts: false, safe: true, separator: Separator::Comma }
    }
}

pub const OF_LISTS: &[&str] = &["strict"];
pub const OF_LINES: &[&str] = &["stream", "counts"];
pub const OF_TABLES: &[&str] = &["safe", "separator"];

impl Wanted {
    /// From what the door did not take; only these names are known with this kind of body.
    pub fn read(rest: &[Pair], known: &[&'static str]) -> Result<Self, Faults> {
        if rest.is_empty() {
            return Ok(Self::default());
        }
        let mut wanted = Self::default();
        let mut faults = Faults::new();
        for (name, value) in rest {
            let at = Pointer::ROOT;
            let at = at.key(name);
            if !known.contains(&name.as_str()) {
                let names = || OURS.iter().chain(known).copied();
                let accepted = names().collect::<Vec<_>>().join(", ");
                let fault = Fault::new(&at, Code::UnknownField, name.as_str(), accepted);
                let mend = "In the address only these may stand with this kind of body; leave the name out.";
                faults.push(fault.saying(mend).trying(nearest(name, names(), 1)));
                continue;
            }
            let truth = |default: bool, faults: &mut Faults| faults.keep(truth(value, &at)).unwrap_or(default);
            match name.as_str() {
                "strict" => wanted.strict = truth(false, &mut faults),
                "stream" => wanted.stream = truth(false, &mut faults),
                "counts" => wanted.counts = truth(false, &mut faults),
                "safe" => wanted.safe = truth(true, &mut faults),
                _ => match Separator::named(value) {
                    Some(separator) => wanted.separator = separator,
                    None => {
                        let fault = Fault::new(&at, Code::UnknownWord, value.as_str(), "one of , ; and tab");
                        faults.push(
                            fault
                                .saying("Name what parts the cells: separator=%3B for a semicolon, separator=tab for a tab.")
                                .trying([",", ";", "tab"]),
                        );
                    }
                },
            }
        }
        faults.or(wanted)
    }
}
