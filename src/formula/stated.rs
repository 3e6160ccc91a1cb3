//! So much of an ingredient, said beside a formula and not in it: a pack, what a price is for, what is in store. It is read as a line of the formula is.

use std::rc::Rc;

use super::own::own_ingredient;
use super::resolve::Resolving;
use super::resolved::Known;
use super::written::{FormulaWritten, LineWritten, OwnIngredient};
use crate::quantity::{Code, Fault, Faults, Mass, Pointer, Written, plain};
use crate::reference::{Account, Reference};

/// So much of an ingredient, as written.
#[derive(Clone, Copy)]
pub struct Stated<'q> {
    pub ingredient: &'q str,
    pub amount: &'q Written,
    /// Where it stands, and the field there that holds the amount.
    pub at: &'q Pointer<'q>,
    pub field: &'static str,
    /// The formula whose measures and way of filling hold for it, and where that stands.
    pub formula: &'q FormulaWritten,
    pub formula_at: &'q Pointer<'q>,
}

impl Stated<'_> {
    /// What is meant and what it weighs, above nothing. `own` are the ingredients that the caller describes.
    pub fn weighed<'o>(
        &self,
        own: impl IntoIterator<Item = &'o OwnIngredient>,
        reference: &'static Reference,
        account: &mut Account,
        faults: &mut Faults,
    ) -> Option<(Known, Mass)> {
        let wanted = plain(self.ingredient);
        let own = match own.into_iter().find(|own| plain(&own.name) == wanted) {
            // What is wrong with its description is told with the formula.
            Some(own) => vec![Rc::new(own_ingredient(own, self.at, &mut Faults::new())?)],
            None => Vec::new(),
        };
        let measures = self.formula.measures;
        let mut resolving = Resolving {
            reference,
            account,
            faults,
            measures: measures.unwrap_or_default(),
            own,
            refused: Vec::new(),
            formula_at: self.formula_at,
        };
        let line =
            LineWritten { ingredient: self.ingredient.to_owned(), amount: self.amount.clone(), also: None, filled: None, note: None };
        let mut lines = Vec::with_capacity(1);
        resolving.weighed(&line, self.field, self.formula.filled, measures.is_some(), self.at, &mut lines)?;
        let line = lines.pop()?;
        let mass = line.weight.mass.value();
        if mass > Mass::ZERO {
            return Some((line.ingredient, mass));
        }
        let found = self.amount.as_text().into_owned();
        faults.push(Fault::new(&self.at.key(self.field), Code::OutOfRange, found, "an amount above 0"));
        None
    }
}
