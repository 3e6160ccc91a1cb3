//! What does this dough weigh with its preferments, how wet is it, how warm must its water be? One overall formula stands behind all parts: percentages are of all flour.

mod answer;
mod made;
mod parts;
mod want;
mod warmth;

use serde::Deserialize;
use utoipa::ToSchema;

pub use answer::DoughAnswer;
pub use made::{PercentageWritten, PrefermentWritten};
pub use want::DoughWantWritten;
pub use warmth::TemperatureWritten;

use super::Calculation;
use crate::formula::FormulaWritten;
use crate::quantity::{Code, Fault, Faults, Pointer};
use crate::reference::{Account, Reference};

/// A dough: from a formula, or from percentages; with preferments; with the temperature of its water.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DoughQuestion {
    /// The formula by what it weighs. A preferment is a part mixed `into` the final dough, or one named under `preferments`.
    #[schema(nullable = false)]
    pub formula: Option<FormulaWritten>,
    /// In place of a formula: the overall formula as percentages of all flour, flours together 100.
    #[schema(nullable = false, max_items = 100)]
    pub percentages: Option<Vec<PercentageWritten>>,
    /// The preferments: parts of the formula by name, or targets to be parted from the dough.
    #[schema(nullable = false, max_items = 10)]
    pub preferments: Option<Vec<PrefermentWritten>>,
    /// How much dough is wanted. Without it: the formula as it stands, or 1000 g of flour for percentages, which is told.
    #[schema(nullable = false)]
    pub want: Option<DoughWantWritten>,
    /// The temperatures, to be told that of the water. It may stand alone.
    #[schema(nullable = false)]
    pub temperature: Option<TemperatureWritten>,
}

/// The calculation.
pub struct DoughRoom;

impl Calculation for DoughRoom {
    const NAME: &'static str = "dough";
    const SUMMARY: &'static str = "What goes into each preferment, how warm is the water?";
    const DESCRIPTION: &'static str = "Bread doughs by baker's percentage. From a formula with preferments: the overall formula on all flour, prefermented flour, each preferment's hydration, hydration with the water of milk, eggs and butter told apart. From targets (percentages, prefermented flour, hydration, dough weight or pieces): the amounts of each preferment and of the final dough. With temperatures: the water by three or four factors and friction, a balance of heat beside it, and ice, replacing or added. For losses and buying use batch; for balance use ratio-check.";
    const FLAT: bool = false;

    type Question = DoughQuestion;
    type Answer = DoughAnswer;

    fn answer(question: &DoughQuestion, reference: &'static Reference, account: &mut Account) -> Result<DoughAnswer, Faults> {
        let root = Pointer::ROOT;
        let mut faults = Faults::new();
        something_asked(question, &root, &mut faults);
        let made = made::understood(question, reference, account, &mut faults);
        let given = question
            .temperature
            .as_ref()
            .map(|written| warmth::understood(written, &root.key("temperature"), reference, account, &mut faults));
        if !faults.is_empty() {
            return Err(faults);
        }
        let warmth = given.flatten().map(|given| warmth::answered(&given, made.as_ref(), reference, account)).transpose()?;
        Ok(answer::assembled(question, made.as_ref(), warmth, account))
    }
}

fn something_asked(question: &DoughQuestion, root: &Pointer<'_>, faults: &mut Faults) {
    let wanted = "one of formula, percentages; or temperature alone";
    match (&question.formula, &question.percentages) {
        (Some(_), Some(_)) => faults.push(Fault::new(&root.key("percentages"), Code::ExactlyOne, "both formula and percentages", wanted)),
        (None, None) if question.temperature.is_none() => faults.push(Fault::new(root, Code::ExactlyOne, "none of them", wanted)),
        (None, None) => {
            let given = [("preferments", question.preferments.is_some()), ("want", question.want.is_some())];
            for (field, _) in given.into_iter().filter(|(_, given)| *given) {
                faults.push(Fault::new(
                    &root.key(field),
                    Code::NotTogether,
                    format!("{field} without a dough"),
                    "a formula or percentages beside it",
                ));
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests;
