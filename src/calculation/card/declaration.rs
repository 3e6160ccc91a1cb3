//! The nutrition declaration as the EU and the United Kingdom have it, on its way out.

use serde::Serialize;
use utoipa::ToSchema;

use super::answer::in_unit;
use super::serving::{Serving, Servings};
use super::unknown::Unknown;
use crate::formula::{AsSold, Declared, DeclaredSum, Formula, SoldBy, declaration, declared_amount, is_described};
use crate::quantity::{Factor, Pointer, Quantity, Span};
use crate::reference::{Account, Constituent, DeclaredNutrient, Reference, Style};

/// The nutrition declaration of the EU and the United Kingdom: for 100 g of the goods as sold, and for a portion.
#[derive(Debug, Serialize, ToSchema)]
pub struct NutritionDeclaration {
    /// What the whole weighs as sold.
    pub weight: Quantity,
    /// What that weight rests on.
    pub weight_by: SoldBy,
    /// One portion in words: the serving that was asked for.
    #[schema(max_length = 100, examples("1 piece"))]
    pub portion: String,
    /// What a portion weighs as sold.
    pub portion_weight: Quantity,
    /// The figures, in the order of the declaration.
    #[schema(max_items = 9)]
    pub nutrients: Vec<DeclarationRow>,
    /// How far the figures can be trusted.
    #[schema(max_length = 600)]
    pub estimate: &'static str,
}

/// One figure of the declaration.
#[derive(Debug, Serialize, ToSchema)]
pub struct DeclarationRow {
    pub nutrient: DeclaredNutrient,
    /// In 100 g as sold, not rounded; its range holds what may evaporate.
    pub per_100g: Quantity,
    /// The same as it is declared: rounded once.
    pub declared_per_100g: Declared,
    /// In a portion, not rounded.
    pub per_portion: Quantity,
    /// The same as it is declared: rounded once.
    pub declared_per_portion: Declared,
    #[serde(flatten)]
    pub unknown: Unknown,
}

const ESTIMATE: &str = "An estimate from food composition tables after Regulation (EU) No 1169/2011, which the United Kingdom has kept, not an analysis: check it against your suppliers' figures. Carbohydrate is without fibre; salt is 2.5 times all sodium, that of soda and milk too. Sugar that yeast eats, frying fat taken up and alcohol that cooks off are not reckoned; the protein of cereals may be up to a tenth higher, for the EU counts 6.25 times nitrogen and the tables less. What must be declared, and how far a figure may be off, your local food authority says.";

/// The declaration of a formula.
pub(super) fn declared(
    formula: &Formula,
    sold: &AsSold,
    (serving, servings): (&Serving, &Servings),
    reference: &'static Reference,
    account: &mut Account,
) -> NutritionDeclaration {
    tell_carbohydrate_of_own(formula, account);
    tell_frying(formula, account);
    let weight = sold.mass();
    let portion = match *serving {
        Serving::Mass(mass) => Span::exact(mass),
        Serving::Pieces(_) => weight / servings.count,
    };
    let row = |sum: DeclaredSum| {
        let per_100g = sum.in_a_gram * Factor::times(100.0);
        // A piece holds the same, however much of it evaporates.
        let per_portion = match *serving {
            Serving::Mass(mass) => sum.in_a_gram * Factor::times(mass.in_grams()),
            Serving::Pieces(_) => sum.whole / servings.count,
        };
        let declared = |amount: Span<Factor>| declared_amount(sum.nutrient, amount.value(), &reference.declaration);
        DeclarationRow {
            nutrient: sum.nutrient,
            declared_per_100g: declared(per_100g),
            per_100g: in_unit(per_100g, sum.nutrient.unit()),
            declared_per_portion: declared(per_portion),
            per_portion: in_unit(per_portion, sum.nutrient.unit()),
            unknown: Unknown::of(sum.missing, sum.without),
        }
    };
    NutritionDeclaration {
        weight: weight.into(),
        weight_by: sold.by,
        portion: servings.one.clone(),
        portion_weight: portion.into(),
        nutrients: declaration(formula, sold, reference, account).into_iter().map(row).collect(),
        estimate: ESTIMATE,
    }
}

/// A pack from Europe gives carbohydrate without its fibre; the tables, and what a caller describes, have it within.
fn tell_carbohydrate_of_own(formula: &Formula, account: &mut Account) {
    let root = Pointer::ROOT;
    for line in formula.lines().filter(|line| line.ingredient.citation.is_none() && is_described(&line.ingredient)) {
        let fibre = line.ingredient.composition.map_or(Factor::ZERO, |composition| composition.share(Constituent::Fibre));
        if fibre > Factor::ZERO {
            let text = format!(
                "The carbohydrate of {} is taken to have its fibre in it, as the tables do: add the fibre if its pack gives carbohydrate without",
                line.ingredient.name
            );
            account.assume(text, &root.key("formula").key("ingredients"), "with fibre");
        }
    }
}

/// Doughnuts take up a good share of their fat from the pan, which no line of a formula tells.
fn tell_frying(formula: &Formula, account: &mut Account) {
    let fried = |style: &'static Style| style.cautions.contains(&"deep-fat");
    for mixture in formula.mixtures().filter(|mixture| mixture.style().is_some_and(fried)) {
        let text = format!(
            "The fat that {} takes up in frying is not in the declaration: weigh the fat before and after, and add what is gone as a line",
            mixture.part().name
        );
        account.assume(text, &Pointer::ROOT.key("formula").key("parts"), "none");
    }
}

impl NutritionDeclaration {
    /// What the weight rests on, for people.
    pub(super) fn weight_told(&self) -> String {
        let weight = self.weight.range_text();
        match self.weight_by {
            SoldBy::Stated => format!("The whole weighs {weight} as sold, as the formula says."),
            SoldBy::Losses => format!("The whole is taken to weigh {weight} as sold, less what usually evaporates: weigh it and say so."),
            SoldBy::Mixed => format!("The whole is taken to weigh {weight} as sold, as if nothing evaporated: weigh it and say so."),
        }
    }

    /// "1 piece (25 g)"; a portion by weight says it already.
    pub(super) fn portion_told(&self) -> String {
        if self.portion == self.portion_weight.text {
            self.portion.clone()
        } else {
            format!("{} ({})", self.portion, self.portion_weight.text)
        }
    }
}

impl DeclarationRow {
    /// Whether it is a part of the figure above.
    pub(super) fn is_part(&self) -> bool {
        matches!(self.nutrient, DeclaredNutrient::Saturates | DeclaredNutrient::Sugars)
    }
}
