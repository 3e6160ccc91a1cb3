//! A formula, how much is wanted of it and what is lost on the way, wherever in a question they stand: `batch` has one, `orders` has many.

use super::losses::{self, LossWritten};
use super::want::{self, Plan, Want, WantWritten};
use crate::formula::{Formula, FormulaWritten, Lost, Way};
use crate::quantity::{Faults, Pointer};
use crate::reference::{Account, Reference};

/// One formula and how much is wanted of it, as written.
#[derive(Clone, Copy)]
pub(in crate::calculation) struct Order<'q> {
    pub formula: &'q FormulaWritten,
    pub want: &'q WantWritten,
    pub losses: Option<&'q [LossWritten]>,
    /// Where `formula`, `want` and `losses` stand.
    pub at: &'q Pointer<'q>,
}

/// An order, understood.
pub(in crate::calculation) struct Understood {
    pub formula: Formula,
    pub(super) want: Want,
    pub losses: Vec<Lost>,
}

impl Order<'_> {
    /// Understands all of it; nothing comes back where anything was at fault.
    pub(in crate::calculation) fn understood(
        &self,
        reference: &'static Reference,
        account: &mut Account,
        faults: &mut Faults,
    ) -> Option<Understood> {
        let formula = Formula::resolve(self.formula, &self.at.key("formula"), reference, account, faults);
        let measures = self.formula.measures.unwrap_or_default();
        let want = want::understood(self, reference, account, faults);
        let losses = losses::understood(self, formula.as_ref(), measures, reference, account, faults);
        Some(Understood { formula: formula?, want: want?, losses: losses? })
    }

    /// What follows from it where no mixer parts the work.
    pub(in crate::calculation) fn planned(&self, understood: &Understood, account: &mut Account) -> Result<Plan, Faults> {
        let way = understood.way();
        want::planned(&understood.want, self, &understood.formula, &way, None, account)
    }
}

impl Understood {
    /// The way of the formula through its losses.
    pub(in crate::calculation) fn way(&self) -> Way<'_> {
        Way::new(&self.formula, self.losses.clone())
    }
}
