//! A line that names a part of the formula: "all of the poolish". Its lines are counted where they stand, and not once more.

use super::answer::LineReport;
use super::gathered::Gathered;
use crate::formula::{Item, LineState};
use crate::quantity::plain;

/// An amount within this share of what the part weighs is all of it.
const ALL: f64 = 0.02;

impl Gathered<'_> {
    /// The part above that a line calls by its name, which no ingredient has.
    pub(super) fn part_called(&self, items: &[Item]) -> Option<usize> {
        let [item] = items else { return None };
        if let Some(at) = self.part_of_its_name(item) {
            let whole = self.weights.get(at).map_or(0.0, |weight| weight.in_grams());
            return Some(at).filter(|_| whole > 0.0 && (self.weight(item).in_grams() / whole - 1.0).abs() <= ALL);
        }
        let name = plain(item.unknown.as_deref().filter(|_| item.ingredient.is_none())?).into_owned();
        let idle = |word: &&str| !matches!(*word, "all" | "of" | "the" | "from" | "above" | "ripe" | "your" | "prepared" | "whole");
        let called: Vec<&str> = name.split(' ').filter(idle).collect();
        let is = |part: &str| !called.is_empty() && called.iter().all(|word| plain(part).split(' ').any(|said| said == *word));
        (0..self.finished()).find(|at| is(&self.parts[*at].name))
    }

    /// "150 g levain" below a part of that name: an ingredient of the table that is made here too.
    fn part_of_its_name(&self, item: &Item) -> Option<usize> {
        let known = item.ingredient.filter(|_| item.is_weighable())?;
        let same = |part: &str| self.reference.ingredients.find(part).is_some_and(|found| found.ingredient.id == known.id);
        (0..self.finished()).find(|at| same(&self.parts[*at].name))
    }

    /// What may stand in the formula twice is doubted.
    pub(super) fn may_be_twice(&self, items: &mut [Item]) {
        for item in items {
            if let Some(at) = self.part_of_its_name(item) {
                let name = &self.parts[at].name;
                item.doubts.push(format!("The part \"{name}\" may be the same, and would count twice: leave one of them out"));
            }
        }
    }

    /// The part above that a bare name calls once more, which is no heading then: that would have its colon or its mark.
    pub(super) fn called_again(&self, part: &str, bare: &str) -> Option<usize> {
        let bare = plain(bare.trim()).trim_start_matches(['-', '•', ' ']).to_owned();
        (0..self.finished()).find(|at| self.parts[*at].name == part && bare == part)
    }

    /// How many parts are done: the last is not while its lines come.
    fn finished(&self) -> usize {
        self.parts.len() - usize::from(self.waiting.is_none() && !self.parts.is_empty())
    }

    /// The part goes into the one that calls it.
    pub(super) fn whole_part(&mut self, part: usize, items: Vec<Item>, report: &mut LineReport) {
        let into = self.parts.last().filter(|_| self.waiting.is_none()).map(|last| last.name.clone());
        let whole = self.weights.get(part).map_or(0.0, |weight| weight.in_grams());
        let called = &mut self.parts[part];
        called.into = called.into.take().or(into);
        report.detail = Some(format!("It is the part \"{}\", whose lines are counted there", called.name));
        let amount = items.into_iter().next().and_then(|item| item.amount);
        let Some((amount, taken)) = amount.and_then(|amount| Some((amount.text, amount.amount.mass()?.in_grams()))) else { return };
        if whole > 0.0 && (taken / whole - 1.0).abs() > ALL {
            report.state = LineState::Doubtful;
            let told = report.detail.take().unwrap_or_default();
            report.detail = Some(format!("{told}; they weigh {whole:.0} g, and {amount} goes in: multiply them by {:.2}", taken / whole));
        }
    }
}
