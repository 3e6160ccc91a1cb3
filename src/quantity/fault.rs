//! Faults, collected rather than thrown: a person mends a list, not one thing at a time.

use super::code::Code;
use super::pointer::Pointer;

/// One fault of a question: where it is, what was found, what is accepted, and what to try.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    pub pointer: String,
    pub code: Code,
    pub found: String,
    pub accepted: String,
    pub detail: String,
    pub attempts: Vec<String>,
}

// A good answer never comes here, and its way must not be lengthened by what is never gone.
impl Fault {
    #[cold]
    pub fn new(at: &Pointer<'_>, code: Code, found: impl Into<String>, accepted: impl Into<String>) -> Self {
        Self {
            pointer: at.text(),
            code,
            found: shortened(found.into()),
            accepted: accepted.into(),
            detail: code.mend().to_owned(),
            attempts: Vec::new(),
        }
    }

    /// Replaces the general advice by particular advice.
    #[must_use]
    #[cold]
    pub fn saying(mut self, detail: impl Into<String>) -> Self {
        self.detail = detail.into();
        self
    }

    /// Values that would be accepted in place of the one found, the likeliest first.
    #[must_use]
    #[cold]
    pub fn trying<T: Into<String>>(mut self, attempts: impl IntoIterator<Item = T>) -> Self {
        self.attempts.extend(attempts.into_iter().map(Into::into));
        self
    }
}

/// What is echoed of a caller's text is short: a refusal never carries a flood back.
const ECHO: usize = 60;

fn shortened(text: String) -> String {
    if text.trim().is_empty() {
        return "an empty text".to_owned();
    }
    match text.char_indices().nth(ECHO) {
        Some((cut, _)) => format!("{}…", &text[..cut]),
        // "Found ;" tells nobody what was found.
        None if text.is_empty() => "an empty text".to_owned(),
        None => text,
    }
}

/// All faults of a question, in the order in which they stand; at most fifty are kept, all are counted.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Faults {
    kept: Vec<Fault>,
    total: usize,
}

impl Faults {
    /// How many are kept and told.
    pub const MOST: usize = 50;

    pub fn new() -> Self {
        Self::default()
    }

    #[cold]
    pub fn push(&mut self, fault: Fault) {
        self.total += 1;
        if !self.is_full() {
            self.kept.push(fault);
        }
    }

    #[cold]
    pub fn append(&mut self, others: Faults) {
        let beyond = others.total - others.kept.len();
        others.kept.into_iter().for_each(|fault| self.push(fault));
        self.total += beyond;
    }

    /// Counts faults that are not kept.
    pub fn count_beside(&mut self, more: usize) {
        self.total += more;
    }

    /// Keeps a value, or keeps its fault and goes on without the value.
    pub fn keep<T>(&mut self, read: Result<T, Fault>) -> Option<T> {
        read.map_err(|fault| self.push(fault)).ok()
    }

    /// Whether no further fault is kept: of what comes now only the number is told.
    pub fn is_full(&self) -> bool {
        self.kept.len() >= Self::MOST
    }

    pub fn is_empty(&self) -> bool {
        self.total == 0
    }

    pub fn total(&self) -> usize {
        self.total
    }

    #[cold]
    pub fn iter_mut(&mut self) -> impl Iterator<Item = &mut Fault> {
        self.kept.iter_mut()
    }

    pub fn iter(&self) -> impl Iterator<Item = &Fault> {
        self.kept.iter()
    }

    /// The value, if there was no fault at all.
    pub fn or<T>(self, value: T) -> Result<T, Faults> {
        if self.is_empty() { Ok(value) } else { Err(self) }
    }
}

impl From<Fault> for Faults {
    fn from(fault: Fault) -> Self {
        let mut faults = Self::new();
        faults.push(fault);
        faults
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hundred_faults_are_counted_and_fifty_told() {
        let mut faults = Faults::new();
        for index in 0..100 {
            faults.push(Fault::new(&Pointer::ROOT.index(index), Code::WrongType, "x", "y"));
        }
        assert_eq!((faults.total(), faults.iter().count()), (100, 50));
        let mut more = Faults::new();
        more.append(faults);
        assert_eq!(more.total(), 100);
    }

    #[test]
    fn an_empty_text_is_found_in_words() {
        assert_eq!(Fault::new(&Pointer::ROOT, Code::UnknownField, "", "y").found, "an empty text");
    }

    #[test]
    fn a_long_text_is_not_echoed_whole() {
        let fault = Fault::new(&Pointer::ROOT, Code::TextTooLong, "ä".repeat(100_000), "at most 200 characters");
        assert!(fault.found.chars().count() <= 61);
        let empty = Fault::new(&Pointer::ROOT, Code::UnknownIngredient, " ", "a name");
        assert_eq!(empty.found, "an empty text");
    }
}
