//! Which allergens a formula brings in, after the US list of nine and the EU list of fourteen. They differ, so they stay two lists; what a formula does not say (cross-contact) is not computed.

use serde::Serialize;
use utoipa::ToSchema;

use super::resolved::{Formula, Known};
use crate::reference::Ingredient;

/// The major food allergens of the US: the Food Allergen Labeling and Consumer Protection Act of 2004, with sesame from 2023 on. Each with its word in the table.
pub const US_ALLERGENS: [(&str, &str); 9] = [
    ("milk", "milk"),
    ("eggs", "eggs"),
    ("fish", "fish"),
    ("crustacean-shellfish", "crustacean shellfish"),
    ("tree-nuts", "tree nuts"),
    ("peanuts", "peanuts"),
    ("wheat", "wheat"),
    ("soybeans", "soybeans"),
    ("sesame", "sesame"),
];

/// The substances of Annex II of Regulation (EU) No 1169/2011. Each with its word in the table.
pub const EU_ALLERGENS: [(&str, &str); 14] = [
    ("cereals-with-gluten", "cereals containing gluten"),
    ("crustaceans", "crustaceans"),
    ("eggs", "eggs"),
    ("fish", "fish"),
    ("peanuts", "peanuts"),
    ("soybeans", "soybeans"),
    ("milk", "milk"),
    ("nuts", "nuts"),
    ("celery", "celery"),
    ("mustard", "mustard"),
    ("sesame", "sesame seeds"),
    ("sulphites", "sulphur dioxide and sulphites above 10 mg/kg"),
    ("lupin", "lupin"),
    ("molluscs", "molluscs"),
];

/// Whether an allergen of either list is a nut, whose caution and kinds are told.
pub fn is_nut(allergen: &str) -> bool {
    matches!(allergen, "tree-nuts" | "nuts" | "peanuts")
}

/// Whether an allergen of either list is declared by the kind of nut, fish or shellfish and not by the formula's own word for it.
pub fn declared_by_kind(allergen: &str) -> bool {
    is_nut(allergen) || matches!(allergen, "fish" | "crustacean-shellfish" | "crustaceans" | "molluscs")
}

/// One allergen, and what brings it in.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct AllergenFound {
    /// Its word.
    #[schema(max_length = 60, examples("tree-nuts"))]
    pub allergen: &'static str,
    /// As the list names it.
    #[schema(max_length = 100, examples("tree nuts"))]
    pub name: &'static str,
    /// The ingredients that bring it in: nuts, fish and cereals are declared by their kind.
    #[schema(max_items = 10_000)]
    pub from: Vec<String>,
}

/// What a formula brings in, by both lists.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Allergens {
    /// Of the nine of the US.
    #[schema(max_items = 9)]
    pub us: Vec<AllergenFound>,
    /// Of the fourteen of the EU; the United Kingdom has the same.
    #[schema(max_items = 14)]
    pub eu: Vec<AllergenFound>,
    /// Ingredients of your own: what they bring in is not known, look at their labels.
    #[schema(max_items = 100)]
    pub unknown: Vec<String>,
    /// What the lists do not tell.
    #[schema(max_length = 400)]
    pub not_computed: &'static str,
}

const NOT_COMPUTED: &str = "Cross-contact (\"may contain\") is not computed: it depends on what else is made with the same hands and tools. A bought ingredient can hold more than its kind does: read its label.";

/// The allergens of a formula.
pub fn allergens(formula: &Formula) -> Allergens {
    let mut ingredients: Vec<&Known> = Vec::new();
    for line in formula.lines() {
        if !ingredients.iter().any(|known| known.id == line.ingredient.id) {
            ingredients.push(&line.ingredient);
        }
    }
    let own = ingredients.iter().filter(|known| matches!(known, Known::Own(_)));
    Allergens {
        us: found(&US_ALLERGENS, &ingredients, |ingredient| &ingredient.allergens_us),
        eu: found(&EU_ALLERGENS, &ingredients, |ingredient| &ingredient.allergens_eu),
        unknown: own.map(|known| known.name.to_string()).collect(),
        not_computed: NOT_COMPUTED,
    }
}

fn found(list: &[(&'static str, &'static str)], ingredients: &[&Known], of: impl Fn(&Ingredient) -> &[&'static str]) -> Vec<AllergenFound> {
    list.iter()
        .filter_map(|&(allergen, name)| {
            let from: Vec<String> =
                ingredients.iter().filter(|known| of(known).contains(&allergen)).map(|known| known.name.to_string()).collect();
            (!from.is_empty()).then_some(AllergenFound { allergen, name, from })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::Reference;

    #[test]
    fn the_us_has_nine_and_the_eu_fourteen() {
        assert_eq!((US_ALLERGENS.len(), EU_ALLERGENS.len()), (9, 14));
        assert!(US_ALLERGENS.iter().any(|(word, _)| *word == "sesame"));
    }

    #[test]
    fn what_is_told_apart_of_the_allergens_is_in_the_lists() {
        let listed = || US_ALLERGENS.iter().chain(&EU_ALLERGENS).map(|(word, _)| *word);
        let told = |which: fn(&str) -> bool| listed().filter(|word| which(word)).collect::<Vec<_>>();
        assert_eq!(told(is_nut), ["tree-nuts", "peanuts", "peanuts", "nuts"]);
        let kinds = ["fish", "crustacean-shellfish", "tree-nuts", "peanuts", "crustaceans", "fish", "peanuts", "nuts", "molluscs"];
        assert_eq!(told(declared_by_kind), kinds);
    }

    #[test]
    fn every_allergen_of_the_table_is_in_its_list() {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let mut looked_at = 0;
        for ingredient in reference.ingredients.all {
            for (words, list) in [(&ingredient.allergens_us, &US_ALLERGENS[..]), (&ingredient.allergens_eu, &EU_ALLERGENS[..])] {
                for word in words {
                    assert!(list.iter().any(|(known, _)| known == word), "{}: {word}", ingredient.id);
                    looked_at += 1;
                }
            }
        }
        assert!(looked_at > 100, "{looked_at}");
    }

    /// Rye, barley and oats are cereals with gluten in the EU and no major allergen in the US.
    #[test]
    fn rye_is_on_the_list_of_the_eu_alone() {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let rye = reference.ingredients.find("rye flour").map(|found| found.ingredient);
        assert_eq!(
            rye.map(|rye| (rye.allergens_us.as_slice(), rye.allergens_eu.as_slice())),
            Some((&[][..], &["cereals-with-gluten"][..]))
        );
    }
}
