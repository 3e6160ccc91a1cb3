//! What is this amount of this ingredient in another unit?

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::{Answer, Calculation};
use crate::quantity::{Code, Counting, Fault, Faults, Mass, Measures, Pointer, Quantity, Unit, Written, read_amount};
use crate::reference::{Account, Owed, Reference};

/// An amount to be converted.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ConvertQuestion {
    /// The amount, as written.
    pub amount: Written,
    /// The unit wanted.
    pub to: String,
    /// The national set of cups and spoons.
    #[serde(default)]
    pub measures: Option<Measures>,
}

/// The amount as understood, and in the unit wanted.
#[derive(Debug, Serialize, ToSchema)]
pub struct ConvertAnswer {
    /// The amount in the unit wanted.
    pub result: Quantity,
    #[serde(flatten)]
    pub owed: Owed,
}

impl Answer for ConvertAnswer {
    fn cell(&self) -> String {
        self.result.value.rounded().to_string()
    }

    fn owed(&self) -> &Owed {
        &self.owed
    }
}

/// The calculation.
pub struct Convert;

impl Calculation for Convert {
    const NAME: &'static str = "convert";
    const SUMMARY: &'static str = "What is this amount of this ingredient in another unit?";
    const DESCRIPTION: &'static str = "Use it for one amount.";
    const FLAT: bool = true;

    type Question = ConvertQuestion;
    type Answer = ConvertAnswer;

    fn answer(question: &ConvertQuestion, _: &'static Reference, account: &mut Account) -> Result<ConvertAnswer, Faults> {
        let measures = question.measures.unwrap_or_default();
        let at = Pointer::ROOT;
        let amount = read_amount(&question.amount, measures, &at.key("amount")).map_err(Faults::from)?;
        let to = Unit::of_word(&question.to, measures)
            .ok_or_else(|| Faults::from(Fault::new(&at.key("to"), Code::UnknownUnit, question.to.as_str(), "a unit")))?;
        let Counting::Unit(unit) = amount.counting else { return Err(amount.unit_missing(&at.key("amount")).into()) };
        let result = Quantity::in_unit(crate::quantity::Span::exact(Mass::grams(amount.number.value * unit.size / to.size)), to);
        account.step(|| format!("{} x {} / {}", amount.number.value, unit.size, to.size));
        let owed = account.settle(result.text.clone());
        Ok(ConvertAnswer { result, owed })
    }
}
