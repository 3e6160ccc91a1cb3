//! Lay the formula out to weigh from or to publish: the structured card always, and one document beside it in the form that was asked for.

mod answer;
mod bake;
mod csv;
mod declaration;
mod html;
mod json_ld;
mod measure;
mod plain_text;
mod price;
mod sentences;
mod serving;
#[cfg(test)]
mod tests;
mod unknown;

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

pub use answer::CardAnswer;
pub use price::PriceWritten;

use super::Calculation;
use crate::formula::{Formula, FormulaWritten, allergens, as_sold, caution, is_described, is_nut, line_costs, nutrition};
use crate::quantity::{Code, Fault, Faults, Pointer, Written, longer};
use crate::reference::{Account, Reference};

/// A formula to be laid out.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct CardQuestion {
    /// The formula.
    pub formula: FormulaWritten,
    /// The form of the document beside the structured card. Without it: json, no document.
    #[schema(nullable = false)]
    pub format: Option<CardFormat>,
    /// What ingredients cost, to reckon the cost of lines, batch and piece.
    #[schema(nullable = false, max_items = 1000)]
    pub prices: Option<Vec<PriceWritten>>,
    /// The currency of all prices, as it is to stand behind the figures; an ISO 4217 code is best.
    #[schema(nullable = false, max_length = 20, examples("GBP"))]
    pub currency: Option<String>,
    /// How many pieces it is cut or scaled into; without it, what the formula makes.
    #[schema(nullable = false, minimum = 1, maximum = 1_000_000, examples(16))]
    pub pieces: Option<u32>,
    /// What a serving is: a number of pieces ("2 pieces") or a mass ("80 g"). Without it: one piece.
    #[schema(nullable = false)]
    pub serving: Option<Written>,
    /// Whose rules the document goes by. With eu or uk: the allergens of that list, and the nutrition declaration for 100 g as sold and for a serving. Without it: both lists of allergens, which the structured card always has, and a serving rounded as the US asks.
    #[schema(nullable = false)]
    pub jurisdiction: Option<Jurisdiction>,
}

/// The form of a document.
/// - `json`: no document, the structured card alone.
/// - `text`: plain text for a screen or a printer.
/// - `csv`: a table for a spreadsheet, a row a line (RFC 4180).
/// - `html`: one page to print: weights first, a box to tick on every line.
/// - `json-ld`: a schema.org Recipe to publish with the page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CardFormat {
    #[default]
    Json,
    Text,
    Csv,
    Html,
    JsonLd,
}

/// Whose rules on allergens and nutrition.
/// - `us`: the nine allergens of the US; nutrition of a serving, rounded as 21 CFR 101.9(c) has it.
/// - `eu`: the fourteen allergens of the EU; the nutrition declaration of Regulation (EU) No 1169/2011.
/// - `uk`: the same as for the EU, whose regulation the United Kingdom has kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Jurisdiction {
    Us,
    Eu,
    Uk,
}

impl Jurisdiction {
    /// Whether the rules are those of Regulation (EU) No 1169/2011.
    const fn is_european(self) -> bool {
        matches!(self, Self::Eu | Self::Uk)
    }
}

/// The calculation.
pub struct Card;

impl Calculation for Card {
    const NAME: &'static str = "card";
    const SUMMARY: &'static str = "Lay the formula out to weigh from or to publish";
    const DESCRIPTION: &'static str = "Lays a formula out as a card: weights with the household measures beside them, an estimate of the nutrients of a serving rounded as 21 CFR 101.9(c) has it, for the EU and the United Kingdom (jurisdiction eu or uk) the nutrition declaration for 100 g as sold, the allergens by the lists of the US and of the EU with what brings each in, and the cost where prices are given. Beside the structured card it writes one document: plain text, CSV, a page to print, or a schema.org Recipe. Use it for a formula at its final size; to change the size use batch or pan-scale first.";
    const FLAT: bool = false;

    type Question = CardQuestion;
    type Answer = CardAnswer;

    fn answer(question: &CardQuestion, reference: &'static Reference, account: &mut Account) -> Result<CardAnswer, Faults> {
        let root = Pointer::ROOT;
        let mut faults = Faults::new();
        let formula = Formula::resolve(&question.formula, &root.key("formula"), reference, account, &mut faults);
        let pieces = serving::pieces(question, account, &mut faults);
        let serving = serving::understood(question, account, &mut faults);
        let bake = question.formula.bake.as_ref().map(|bake| bake.resolve(&root.key("formula").key("bake")));
        let bake = bake.and_then(|read| read.map_err(|others| faults.append(others)).ok());
        let prices = price::understood(question, reference, account, &mut faults);
        currency(question, account, &mut faults);
        let (Some(formula), Some(pieces), Some(serving), Some(prices), true) = (formula, pieces, serving, prices, faults.is_empty()) else {
            return Err(faults);
        };
        let european = question.jurisdiction.is_some_and(Jurisdiction::is_european);
        let makes = question.formula.makes.as_ref();
        let weighed = |account: &mut Account| as_sold(&formula, makes, pieces, &root.key("formula"), reference, account);
        let sold = if european { Some(weighed(account)?) } else { None };
        let servings = serving::servings(&serving, pieces, || match &sold {
            Some(sold) => Ok(sold.mass().value()),
            None => weighed(account).map(|sold| sold.mass().value()),
        })?;
        caution(&formula, Some(formula.mass()), account);
        let allergens = allergens(&formula);
        account.caution("allergen-label");
        ["fda-allergens", "eu-1169-2011"].into_iter().for_each(|id| account.cite_id(id));
        if allergens.us.iter().any(|found| is_nut(found.allergen)) {
            account.caution("allergen-nuts");
        }
        for own in &allergens.unknown {
            let text = format!("{own} is one of your own: which allergens it brings in is not known");
            account.assume(text, &root.key("formula").key("ingredients"), "unknown");
        }
        tell_energy_of_own(&formula, account);
        let nutrients = nutrition(&formula, account);
        account.cite_id("fda-labeling-guide");
        let declaration = sold.map(|sold| declaration::declared(&formula, &sold, (&serving, &servings), reference, account));
        if let Some(prices) = &prices {
            price::tell_unused(prices, question, &formula, account);
        }
        let costs = prices.as_ref().map(|prices| line_costs(&formula, prices, reference, account));
        let figures = answer::Figures { formula: &formula, bake, pieces, servings, nutrients, declaration, allergens, costs };
        Ok(answer::assembled(question, figures, reference, account))
    }
}

/// The energy of the caller's own ingredients is computed from what they say is in them.
fn tell_energy_of_own(formula: &Formula, account: &mut Account) {
    let root = Pointer::ROOT;
    for line in formula.lines() {
        let computed = line.ingredient.composition.is_some_and(|composition| composition.label.energy.is_none());
        if computed && is_described(&line.ingredient) {
            let text = format!(
                "The energy of {} is computed: 4, 4 and 9 kcal a gram of protein, carbohydrate and fat, 7 of alcohol",
                line.ingredient.name
            );
            account.assume(text, &root.key("formula").key("ingredients"), "general factors");
        }
    }
}

fn currency(question: &CardQuestion, account: &mut Account, faults: &mut Faults) {
    let root = Pointer::ROOT;
    let at = root.key("currency");
    match (&question.currency, &question.prices) {
        (Some(currency), _) if currency.trim().is_empty() || longer(currency, 20) => {
            faults
                .push(Fault::new(&at, Code::TextTooLong, &**currency, "a currency of 1 to 20 characters, such as \"GBP\"").trying(["GBP"]));
        }
        (Some(_), None) => faults.push(Fault::new(&at, Code::NotTogether, "currency without prices", "currency only beside prices")),
        (None, Some(_)) => account.assume("The prices are in one currency, which was not named", &at, "none"),
        _ => {}
    }
}
