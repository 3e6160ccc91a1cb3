//! What a formula brings in of each nutrient, from the composition of its ingredients as weighed. Water that bakes out takes no nutrient with it, so the sum over the formula is that over all its pieces.

use super::label::Nutrient;
use super::resolved::Formula;
use crate::quantity::{Factor, Mass, Percent, Span};
use crate::reference::{Account, Composition, Constituent, Ingredient};

/// The sum of one nutrient over the whole formula.
#[derive(Clone, Debug)]
pub struct NutrientSum {
    pub nutrient: Nutrient,
    /// In the nutrient's unit.
    pub whole: Span<Factor>,
    /// The share of the weight that comes from ingredients without a figure.
    pub missing: Percent,
    /// Those ingredients, by their names.
    pub without: Vec<String>,
}

/// Grams of energy-giving constituents to kilocalories: the general factors 4, 4 and 9 of 21 CFR 101.9(c)(1)(i)(B), and 7 for alcohol.
const GENERAL_FACTORS: [(Constituent, f64); 4] =
    [(Constituent::Protein, 4.0), (Constituent::Carbohydrate, 4.0), (Constituent::Fat, 9.0), (Constituent::Alcohol, 7.0)];

/// Every nutrient of the label, summed over the formula.
pub fn nutrition(formula: &Formula, account: &mut Account) -> Vec<NutrientSum> {
    let lines = || formula.lines();
    for citation in lines().filter_map(|line| line.ingredient.composition_citation) {
        account.cite(citation);
    }
    let mass = formula.mass();
    Nutrient::ALL
        .into_iter()
        .map(|nutrient| {
            let (mut whole, mut unknown, mut without) = (Span::exact(Factor::ZERO), Mass::ZERO, Vec::new());
            for line in lines() {
                match in_a_gram(&line.ingredient, nutrient) {
                    Some(share) => whole = whole + line.weight.mass.map(|mass| Factor::times(mass.in_grams() * share.value())),
                    None => {
                        unknown += line.weight.mass.value();
                        if !without.iter().any(|name| *name == *line.ingredient.name) {
                            without.push(line.ingredient.name.to_string());
                        }
                    }
                }
            }
            NutrientSum { nutrient, whole, missing: (unknown / mass).as_percent(), without }
        })
        .collect()
}

/// Whether the caller has described what is in an ingredient of their own. Everything has something in it: all noughts are a table not filled in.
pub fn is_described(ingredient: &Ingredient) -> bool {
    let filled = |composition: &Composition| Constituent::ALL.iter().any(|constituent| composition.share(*constituent).value() > 0.0);
    ingredient.composition.as_ref().is_some_and(filled)
}

/// How much of a nutrient, in its unit, is in a gram; nothing where there is no figure.
fn in_a_gram(ingredient: &Ingredient, nutrient: Nutrient) -> Option<Factor> {
    let composition = ingredient.composition.as_ref().filter(|_| is_described(ingredient))?;
    let grams = |constituent| composition.percent(constituent).map(Percent::as_factor);
    let milligrams = |percent: Option<Percent>| percent.map(|percent| Factor::times(percent.as_factor().value() * 1000.0));
    match nutrient {
        Nutrient::Energy => composition.label.energy.or_else(|| Some(general_energy(composition))),
        Nutrient::Cholesterol => milligrams(composition.label.cholesterol),
        Nutrient::Sodium => milligrams(composition.label.sodium),
        Nutrient::Fat => grams(Constituent::Fat),
        Nutrient::Saturated => grams(Constituent::Saturated),
        Nutrient::Carbohydrate => grams(Constituent::Carbohydrate),
        Nutrient::Fibre => grams(Constituent::Fibre),
        Nutrient::Sugars => grams(Constituent::Sugars),
        Nutrient::Protein => grams(Constituent::Protein),
    }
}

fn general_energy(composition: &Composition) -> Factor {
    Factor::times(GENERAL_FACTORS.iter().map(|(constituent, kcal)| composition.share(*constituent).value() * kcal).sum())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Faults, Pointer};
    use crate::reference::Reference;

    #[track_caller]
    fn sums(lines: &str, own: &str) -> Vec<NutrientSum> {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let text = format!(r#"{{"ingredients":[{own}],"parts":[{{"name":"dough","lines":[{lines}]}}]}}"#);
        let written = serde_json::from_str(&text).unwrap_or_else(|fault| panic!("{text}: {fault}"));
        let (mut account, mut faults) = (Account::new(reference, false), Faults::new());
        let formula = Formula::resolve(&written, &Pointer::ROOT, reference, &mut account, &mut faults);
        nutrition(&formula.unwrap_or_else(|| panic!("{faults:#?}")), &mut account)
    }

    #[track_caller]
    fn whole(sums: &[NutrientSum], nutrient: Nutrient) -> f64 {
        sums.iter().find(|sum| sum.nutrient == nutrient).map_or(f64::NAN, |sum| (sum.whole.value().value() * 1e6).round() / 1e6)
    }

    /// SR28: 20081 flour 364 kcal, protein 10.33 g; 01145 butter 717 kcal, cholesterol 215 mg; 02047 salt sodium 38,758 mg.
    #[test]
    fn a_dough_brings_in_what_its_ingredients_hold() {
        let sums = sums(
            r#"{"ingredient":"all-purpose flour","amount":"200 g"},{"ingredient":"unsalted butter","amount":"100 g"},{"ingredient":"table salt","amount":"2 g"}"#,
            "",
        );
        assert_eq!(whole(&sums, Nutrient::Energy), 2.0 * 364.0 + 717.0);
        assert_eq!(whole(&sums, Nutrient::Cholesterol), 215.0);
        assert_eq!(whole(&sums, Nutrient::Protein), 21.51);
        assert_eq!(whole(&sums, Nutrient::Sodium), 790.16);
        assert!(sums.iter().all(|sum| sum.missing.value() == 0.0), "{sums:#?}");
    }

    #[test]
    fn an_ingredient_of_ones_own_counts_only_as_far_as_it_is_described() {
        let sums = sums(
            r#"{"ingredient":"chestnut paste","amount":"100 g"},{"ingredient":"house spice","amount":"25 g"},{"ingredient":"water","amount":"75 g"}"#,
            r#"{"name":"chestnut paste","per_100g":{"water":40,"protein":2,"fat":1,"carbohydrate":50}},{"name":"house spice"}"#,
        );
        assert_eq!(whole(&sums, Nutrient::Energy), 8.0 + 200.0 + 9.0);
        let of = |nutrient| sums.iter().find(|sum| sum.nutrient == nutrient).map(|sum| (sum.missing.value(), sum.without.join(", ")));
        assert_eq!(of(Nutrient::Fat), Some((12.5, "house spice".to_owned())));
        assert_eq!(of(Nutrient::Sodium), Some((62.5, "chestnut paste, house spice".to_owned())));
    }
}
