//! The formula on the bench: as written, with a key for every line, so that a change can be told where it stands in the end, however many lines came and went.

use std::collections::BTreeMap;

use super::super::place::LinePlace;
use super::super::resolved::{Formula, Line};
use super::super::written::{FormulaWritten, LineWritten};
use super::told::{Changed, EggsTold};
use crate::quantity::{Code, Counting, Factor, Fault, Faults, Figure, Mass, Pointer, Quantity, Span, Temperature, Written, read_amount};
use crate::reference::{Account, Reference, egg_word};

/// The adapting of one formula, step by step.
pub struct Adapting<'a> {
    pub(super) reference: &'static Reference,
    pub(super) account: &'a mut Account,
    pub(super) faults: &'a mut Faults,
    pub(super) written: FormulaWritten,
    /// The place of each line of each part among all lines that ever stood.
    keys: Vec<Vec<usize>>,
    next: usize,
    /// What the lines weigh whose grams were reckoned here, by their keys: they are told as a scale shows them. Whatever else becomes of a line goes through
    /// `set`, which takes it out.
    reckoned: BTreeMap<usize, Mass>,
    /// The oven's setting in each stage that was turned, with what the steps so far leave open of it.
    pub(super) ovens: BTreeMap<usize, Span<Temperature>>,
    /// The step at work, counted from 0.
    pub step: usize,
    changes: Vec<Change>,
    pub(super) rounded: Option<super::RoundingShown>,
}

/// Where a change stands.
#[derive(Clone, Copy, Debug)]
pub(super) enum Place {
    /// A line by its key, with the part it stands in.
    Line(usize, usize),
    /// Somewhere else in the formula, below `/formula`.
    Field(&'static str),
    /// The oven's setting in a stage of the bake, counted from 0.
    Oven(usize),
}

/// A change before its place is known.
pub(super) struct Change {
    pub place: Place,
    pub before: Option<String>,
    pub after: Option<String>,
    pub why: String,
    pub range: Option<Quantity>,
    pub off: Option<f64>,
    pub eggs: Option<EggsTold>,
    pub source: Option<&'static str>,
    pub step: usize,
}

impl Change {
    pub(super) fn new(place: Place, why: impl Into<String>) -> Self {
        Self { place, before: None, after: None, why: why.into(), range: None, off: None, eggs: None, source: None, step: 0 }
    }

    pub(super) fn from(mut self, before: impl Into<String>) -> Self {
        self.before = Some(before.into());
        self
    }

    pub(super) fn to(mut self, after: impl Into<String>) -> Self {
        self.after = Some(after.into());
        self
    }
}

impl<'a> Adapting<'a> {
    pub fn new(written: &FormulaWritten, reference: &'static Reference, account: &'a mut Account, faults: &'a mut Faults) -> Self {
        let mut next = 0;
        let keys = written.parts.iter().map(|part| {
            let first = next;
            next += part.lines.len();
            (first..next).collect()
        });
        let keys = keys.collect();
        let written = written.clone();
        let (reckoned, ovens) = (BTreeMap::new(), BTreeMap::new());
        Self { reference, account, faults, written, keys, next, reckoned, ovens, step: 0, changes: Vec::new(), rounded: None }
    }

    /// The formula as it stands, understood and weighed.
    pub fn formula(&mut self) -> Option<Formula> {
        let (root, mut account) = (Pointer::ROOT, Account::new(self.reference, false));
        Formula::resolve(&self.written, &root.key("formula"), self.reference, &mut account, self.faults)
    }

    /// All changes with their places in the formula as it stands now, that formula, and what a rounding left.
    pub fn finish(self) -> (FormulaWritten, Vec<Changed>, Option<super::RoundingShown>) {
        let keys = &self.keys;
        let told = |change: Change| Changed {
            step: change.step,
            pointer: pointer(keys, change.place),
            before: change.before,
            after: change.after,
            why: change.why,
            range: change.range,
            off_percent: change.off.map(Figure),
            eggs: change.eggs,
            source: change.source,
        };
        let changes = self.changes.into_iter().map(told).collect();
        (self.written, changes, self.rounded)
    }

    pub(super) fn tell(&mut self, change: Change) {
        self.changes.push(Change { step: self.step, ..change });
    }

    pub(super) fn refuse(&mut self, fault: Fault) {
        self.faults.push(fault);
    }

    /// The place of a line.
    pub(super) fn place(&self, part: usize, at: usize) -> Place {
        Place::Line(self.keys[part][at], part)
    }

    pub(super) fn line(&self, part: usize, at: usize) -> &LineWritten {
        &self.written.parts[part].lines[at]
    }

    /// A line as a person would say it: "36 g water" of what was reckoned and stands in the formula as 36.32 g, so that nothing is lost when it is asked again.
    pub(super) fn said(&self, part: usize, at: usize) -> String {
        match self.reckoned.get(&self.keys[part][at]) {
            Some(mass) => format!("{} {}", scale_text(mass.in_grams()), self.line(part, at).ingredient),
            None => self.said_as_written(part, at),
        }
    }

    /// A line as a person would say it, with its amount as it stands: what is rounded is told to the last figure.
    pub(super) fn said_as_written(&self, part: usize, at: usize) -> String {
        let line = self.line(part, at);
        let (amount, name) = (line.amount.as_text(), &*line.ingredient);
        let read = read_amount(&line.amount, self.written.measures.unwrap_or_default(), &Pointer::ROOT).ok();
        if let Some(Counting::Named(word)) = read.as_ref().map(|amount| &amount.counting) {
            let part = |name: &str| egg_word(name).map(|(_, part)| part.id());
            let id = |name: &str| part(name).or_else(|| self.reference.ingredients.find(name).map(|found| &*found.ingredient.id));
            // "4 eggs" are named by their amount, "1 lemon" is what the juice is of.
            match (id(word), id(name)) {
                (Some(thing), Some(own)) if thing == own => return amount.into_owned(),
                (Some(_), Some(_)) => return format!("{name} of {amount}"),
                _ => {}
            }
        }
        let several =
            read.is_some_and(|amount| amount.number.value > 1.0 && matches!(amount.counting, Counting::Size(_) | Counting::Nothing));
        // "3 large eggs", but "150 g egg".
        let plural = if several && egg_word(name).is_some() && !name.ends_with('s') { "s" } else { "" };
        format!("{amount} {name}{plural}")
    }

    /// Gives a line another amount, in place of all it said of it.
    pub(super) fn set(&mut self, part: usize, at: usize, amount: String, also: Option<String>) {
        self.reckoned.remove(&self.keys[part][at]);
        let line = &mut self.written.parts[part].lines[at];
        line.amount = Written::Text(amount.into());
        line.also = also.map(|also| Written::Text(also.into()));
    }

    /// Gives a line the weight that was reckoned for it.
    pub(super) fn set_mass(&mut self, part: usize, at: usize, mass: Mass) {
        self.set(part, at, grams_text(mass.in_grams()), None);
        self.reckoned.insert(self.keys[part][at], mass);
    }

    /// Leaves a line its first measure alone.
    pub(super) fn drop_second(&mut self, part: usize, at: usize) {
        self.written.parts[part].lines[at].also = None;
    }

    /// Puts another ingredient in the place of a line.
    pub(super) fn put(&mut self, part: usize, at: usize, ingredient: &str, mass: Mass) {
        self.written.parts[part].lines[at] = new_line(ingredient, mass);
        self.reckoned.insert(self.keys[part][at], mass);
    }

    /// A new line in front of the one at this place.
    pub(super) fn insert(&mut self, part: usize, at: usize, ingredient: &str, mass: Mass) {
        self.written.parts[part].lines.insert(at, new_line(ingredient, mass));
        self.keys[part].insert(at, self.next);
        self.reckoned.insert(self.next, mass);
        self.next += 1;
    }

    pub(super) fn remove(&mut self, part: usize, at: usize) {
        self.written.parts[part].lines.remove(at);
        self.keys[part].remove(at);
    }

    /// Takes grams out of a line, or the whole line; gives what was taken. A part keeps its last line.
    pub(super) fn take(&mut self, (part, at): (usize, usize), line: &Line, grams: f64, why: &str, source: Option<&'static str>) -> f64 {
        let has = line.weight.mass.value().in_grams();
        let (place, before) = (self.place(part, at), self.said(part, at));
        let mut change = Change { source, ..Change::new(place, why).from(before) };
        let taken = grams.min(has);
        if has - taken < has * 0.005 && self.written.parts[part].lines.len() > 1 {
            self.remove(part, at);
        } else {
            let left = (has - taken).max(has * 0.005);
            self.set_mass(part, at, Mass::grams(left));
            change = change.to(self.said(part, at));
        }
        self.tell(change);
        taken
    }

    /// Multiplies a line, by weight.
    pub(super) fn multiply(&mut self, (part, at): (usize, usize), line: &Line, factor: Span<Factor>, why: &str, source: &'static str) {
        let mass = line.weight.mass.value();
        let (place, before) = (self.place(part, at), self.said(part, at));
        self.set_mass(part, at, mass * factor.value());
        let range = (!factor.is_exact()).then(|| Quantity::from(factor.map(|factor| mass * factor)));
        let change = Change::new(place, why).from(before).to(self.said(part, at));
        self.tell(Change { range, source: Some(source), ..change });
    }
}

fn new_line(ingredient: &str, mass: Mass) -> LineWritten {
    LineWritten {
        ingredient: ingredient.to_owned(),
        amount: Written::Text(grams_text(mass.in_grams()).into()),
        also: None,
        filled: None,
        note: None,
    }
}

fn pointer(keys: &[Vec<usize>], place: Place) -> String {
    match place {
        Place::Field(field) => format!("/formula{field}"),
        Place::Oven(0) => "/formula/bake/oven".to_owned(),
        Place::Oven(stage) => format!("/formula/bake/then/{}/oven", stage - 1),
        Place::Line(key, part) => match keys[part].iter().position(|known| *known == key) {
            Some(at) => LinePlace { part, line: at }.pointer(),
            None => format!("/formula/parts/{part}/lines"),
        },
    }
}

/// Grams as a scale shows them, for a sentence: whole from 10 up, one decimal from 1. What no kitchen scale shows is not made nothing.
pub(super) fn scale_text(grams: f64) -> String {
    if grams < 0.1 { grams_text(grams) } else { Quantity::from(Mass::grams(grams)).text.into() }
}

/// Grams as they are written into a line: to four figures or so, so that nothing drifts where the formula is asked again and again.
pub(super) fn grams_text(grams: f64) -> String {
    let places = match grams {
        g if g >= 100.0 => 1,
        g if g >= 1.0 => 2,
        g if g >= 0.01 => 4,
        _ => 6,
    };
    let text = format!("{grams:.places$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    // What is above nothing is never written as nothing: the least that a line may be.
    if text == "0" { "0.000001 g".to_owned() } else { format!("{text} g") }
}

/// The refusal of a step that finds nothing to work on.
pub(super) fn nothing_there(at: &Pointer<'_>, found: impl Into<String>, accepted: &str) -> Fault {
    Fault::new(at, Code::UnknownPart, found, accepted)
}
