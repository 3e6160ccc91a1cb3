//! The bounds of each style with the rules that read them, matched once: a question never searches for a rule by its name.

use std::sync::OnceLock;

use super::super::base::{NamedBase, starch_is_flour_in};
use super::super::counted::Summed;
use super::{RULES, Rule, yeast};
use crate::reference::{Base, Bound, Class, Reference, Style};

/// A style with its rules.
#[derive(Debug)]
pub struct Ruled {
    pub style: &'static Style,
    pub entries: Vec<Entry>,
    /// Whether it may be raised by yeast.
    pub knows_yeast: bool,
}

/// One bound with its rule.
#[derive(Debug)]
pub struct Entry {
    pub rule: &'static Rule,
    pub bound: &'static Bound,
}

impl Ruled {
    /// The base of the style in a mixture; over flour also the starch that stands as flour.
    pub fn base(&self, mixture: &Summed<'_>) -> Option<NamedBase> {
        NamedBase::of(self.style.base, self.starch_is_flour(mixture), mixture)
    }

    fn starch_is_flour(&self, mixture: &Summed<'_>) -> bool {
        self.style.starch_is_flour || self.style.base == Base::Class(Class::Flour) && starch_is_flour_in(mixture)
    }
}

static BOOK: OnceLock<Vec<Ruled>> = OnceLock::new();

/// All styles with their rules, in the order of the table.
pub fn book(reference: &'static Reference) -> &'static [Ruled] {
    BOOK.get_or_init(|| reference.styles.all.iter().map(of_style).collect())
}

/// A style with its rules.
pub fn ruled(reference: &'static Reference, style: &'static Style) -> &'static Ruled {
    let book = book(reference);
    let place = reference.styles.all.iter().position(|known| std::ptr::eq(known, style)).unwrap_or_default();
    &book[place]
}

fn of_style(style: &'static Style) -> Ruled {
    let entries = style.bounds.iter().filter_map(|bound| {
        let rule = RULES.iter().copied().find(|rule| rule.id == bound.rule)?;
        Some(Entry { rule, bound })
    });
    Ruled { style, entries: entries.collect(), knows_yeast: style.bounds.iter().any(|bound| bound.rule == yeast::RULE.id) }
}
