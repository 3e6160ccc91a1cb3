//! The answer of `leavening`, in pieces that stand only where they were asked for: parts, acidity, balance of soda and acid, gas, dose, sodium, printed rules.

use serde::Serialize;
use utoipa::ToSchema;

use crate::calculation::Answer;
use crate::quantity::{Proportion, Quantity};
use crate::reference::Owed;

/// Soda, acid and powder, with what was printed of them.
#[derive(Debug, Serialize, ToSchema)]
pub struct LeaveningAnswer {
    /// The soda: as given, or as found.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub soda: Option<Dosed>,
    /// The baking powder: as given, or what gives as much gas.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub powder: Option<Dosed>,
    /// The acids: as given, or as much as the soda needs.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 60)]
    pub acids: Vec<AcidShown>,
    /// What each sour line of the formula takes up.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 10_000)]
    pub acidity: Vec<SourShown>,
    /// Soda against acid.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub balance: Option<SodaBalance>,
    /// The carbon dioxide that is given off.
    pub gas: Quantity,
    /// The dose against flour.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub dose: Option<DoseShown>,
    /// Sodium.
    pub sodium: SodiumShown,
    /// What cook books print by spoons, beside what it is by mass.
    #[schema(max_items = 40)]
    pub printed: Vec<PrintedShown>,
    #[serde(flatten)]
    pub owed: Owed,
}

/// A mass with its teaspoons.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Dosed {
    /// By mass.
    pub amount: Quantity,
    /// The same in level teaspoons; its text in the cups and spoons that there are.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub spoons: Option<Quantity>,
}

/// An acid.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct AcidShown {
    /// Its name.
    #[schema(max_length = 200, examples("cream of tartar"))]
    pub acid: &'static str,
    /// Its neutralising value: the grams of soda that 100 g of it take up, as a percentage.
    pub neutralising_value: Proportion,
    /// By mass.
    pub amount: Quantity,
    /// The same in level teaspoons, where it is known what one weighs; its text in the cups and spoons that there are.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub spoons: Option<Quantity>,
    /// The source of the neutralising value.
    #[schema(max_length = 60)]
    pub source: &'static str,
}

/// A line that takes up soda.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct SourShown {
    /// Where the line stands in the question, as a JSON Pointer.
    #[schema(max_length = 200, examples("/formula/parts/0/lines/3"))]
    pub pointer: String,
    /// The ingredient.
    #[schema(max_length = 200, examples("buttermilk"))]
    pub ingredient: String,
    /// The soda that it takes up.
    pub soda: Quantity,
    /// The source of its acidity.
    #[schema(max_length = 60)]
    pub source: &'static str,
}

/// Soda against acid.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct SodaBalance {
    /// The soda there is.
    pub soda: Quantity,
    /// The soda that the acids take up.
    pub taken_up: Quantity,
    /// Soda that finds no acid; below 0: soda that the acid could still take up.
    pub left_over: Quantity,
    /// Whether they meet: `within` (by their values, a tenth off at most), `above` (all of the range is soda left over), `below` (all of it is acid left over), `depends`.
    #[schema(max_length = 10, examples("within"))]
    pub verdict: &'static str,
    /// What to do, in grams.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 400)]
    pub mend: Option<String>,
}

/// The dose, as powder against flour.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct DoseShown {
    /// All leavening as powder, in hundredths of the flour: soda in full as far as acid takes it up, half by heat alone; the high end has all of it in full.
    pub of_flour: Proportion,
    /// The style that judges it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 60, examples("muffin"))]
    pub style: Option<&'static str>,
    /// The least of the style.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub least: Option<Proportion>,
    /// The most of the style.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub most: Option<Proportion>,
    /// `within`, `above`, `below` or `depends`; nothing where no style has a bound.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 10, examples("within"))]
    pub verdict: Option<&'static str>,
    /// What to do, in grams of powder.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 400)]
    pub mend: Option<String>,
    /// The source of the bounds.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 60)]
    pub source: Option<&'static str>,
    /// General doses that are printed, as grams of powder for this flour.
    #[schema(max_items = 10)]
    pub rules: Vec<DoseRule>,
}

/// A general dose that is printed.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct DoseRule {
    /// The rule.
    #[schema(max_length = 200)]
    pub rule: &'static str,
    /// As powder in hundredths of the flour.
    pub of_flour: Proportion,
    /// Powder for this flour.
    pub powder: Quantity,
    /// Its source.
    #[schema(max_length = 60)]
    pub source: &'static str,
}

/// Sodium, in milligrams.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct SodiumShown {
    /// From soda and powder.
    pub leavening: Quantity,
    /// From salt.
    pub salt: Quantity,
    /// Both.
    pub total: Quantity,
}

/// A rule by spoons, beside what it is by mass.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct PrintedShown {
    /// The rule.
    #[schema(max_length = 200, examples("1 1/4 tsp of cream of tartar for 1/2 tsp of soda"))]
    pub rule: &'static str,
    /// The soda of the rule.
    pub soda: Quantity,
    /// The acid of the rule.
    pub acid: Quantity,
    /// The soda that this acid takes up by mass.
    pub taken_up: Quantity,
    /// Soda that finds no acid; below 0: soda that the acid could still take up.
    pub left_over: Quantity,
    /// The acid that the rule's soda needs by mass.
    pub acid_needed: Quantity,
    /// `agree`; `acid-short` or `soda-short`: the rule does not hold by mass.
    #[schema(max_length = 20, examples("acid-short"))]
    pub verdict: &'static str,
    /// Its source.
    #[schema(max_length = 60)]
    pub source: &'static str,
}

impl Answer for LeaveningAnswer {
    fn cell(&self) -> String {
        let left_over = self.balance.as_ref().map(|balance| balance.left_over.value);
        let acid = self.acids.first().map(|acid| acid.amount.value);
        left_over.or(acid).unwrap_or(self.gas.value).rounded().to_string()
    }

    fn owed(&self) -> &Owed {
        &self.owed
    }
}
