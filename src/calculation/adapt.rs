//! The formula must work in another kitchen: other eggs, a missing ingredient, another oven, a height, other spoons, a scale. One request, several steps in order.

mod answer;
mod step;

use serde::Deserialize;
use utoipa::ToSchema;

pub use answer::AdaptAnswer;
pub use step::StepWritten;

use super::Calculation;
use crate::formula::{Adapting, Formula, FormulaWritten, caution};
use crate::quantity::{Code, Fault, Faults, Pointer};
use crate::reference::{Account, Reference};

/// A formula and what is to be done to it.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct AdaptQuestion {
    /// The formula.
    pub formula: FormulaWritten,
    /// What is changed, in this order; each step works on what the one before has left.
    #[schema(min_items = 1, max_items = 50)]
    pub steps: Vec<StepWritten>,
}

/// The most steps of one question.
const MOST_STEPS: usize = 50;

/// The calculation.
pub struct Adapt;

impl Calculation for Adapt {
    const NAME: &'static str = "adapt";
    const SUMMARY: &'static str = "My kitchen is another: what changes in this formula?";
    const DESCRIPTION: &'static str = "Rewrites a formula for another kitchen, step by step: eggs of another class or weight, a missing ingredient by a published swap or by the nearest mixture of what is on hand, another oven, dial or dish, an altitude, another country's cups and spoons or grams, and amounts rounded to a scale or to real spoons with the balance moved least. The formula comes back in the form in which it was asked, with an account of every change and the balance before and after. To change how much is made use batch, to change the pan's size use pan-scale.";
    const FLAT: bool = false;

    type Question = AdaptQuestion;
    type Answer = AdaptAnswer;

    fn answer(question: &AdaptQuestion, reference: &'static Reference, account: &mut Account) -> Result<AdaptAnswer, Faults> {
        let (root, mut faults) = (Pointer::ROOT, Faults::new());
        let before = Formula::resolve(&question.formula, &root.key("formula"), reference, account, &mut faults);
        let steps_at = root.key("steps");
        many(&question.steps, &steps_at, &mut faults);
        step::contradictions(&question.steps, &steps_at, &mut faults);
        let Some(before) = before.filter(|_| question.steps.len() <= MOST_STEPS) else { return Err(faults) };
        let mut adapting = Adapting::new(&question.formula, reference, account, &mut faults);
        for (index, step) in question.steps.iter().enumerate() {
            adapting.step = index;
            step::take(step, &mut adapting, &steps_at.index(index));
        }
        let after = adapting.formula();
        let (written, changes, rounding) = adapting.finish();
        let Some(after) = after.filter(|_| faults.is_empty()) else { return Err(faults) };
        caution(&after, Some(after.mass()), account);
        Ok(answer::assembled(written, changes, rounding, [&before, &after], reference, account))
    }
}

fn many(steps: &[StepWritten], at: &Pointer<'_>, faults: &mut Faults) {
    if steps.is_empty() {
        faults.push(Fault::new(
            at,
            Code::MissingField,
            "no step",
            "one step at least: eggs, replace, oven, altitude, measures or rounding",
        ));
    }
    if steps.len() > MOST_STEPS {
        faults.push(Fault::new(at, Code::TooMany, format!("{} steps", steps.len()), format!("at most {MOST_STEPS} steps")));
    }
}

#[cfg(test)]
mod tests;
