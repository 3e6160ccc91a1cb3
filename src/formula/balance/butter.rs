//! Butter over the base, in doughs and creams where cream must not be taken for it.
//!
//! # What it checks
//! Fats that are nothing else (butter, oil, lard) by whole weight over the base; the fat within cream is left out.
//!
//! # Why it matters
//! In a brioche it is worked in last and the dough must carry it; in a ganache it softens what the chocolate sets.
//!
//! # Example
//! 75 g of butter on 500 g of flour are 15 %: below the 30 to 100 % of a brioche.
//!
//! # Remedy
//! Add butter up to the bound, or call it an enriched dough.
//!
//! # Source
//! Gisslen, Professional Baking (brioche, 30 % in a basic formula).

use super::{Counts, Over, Rule};
use crate::formula::base::pure_fat;
use crate::quantity::Factor;
use crate::reference::{Class, Ingredient};

/// The rule.
pub static RULE: Rule = Rule {
    id: "butter",
    of: "butter",
    reach_for: "butter",
    counts: Counts::Each(|i, _| counts(i)),
    over: Over::Base,
    why: "Butter makes the dough rich and short; past the bound it can no longer be worked in, short of it the goods are plain",
    ..Rule::PLAIN
};

pub(super) fn counts(ingredient: &Ingredient) -> Factor {
    if pure_fat(ingredient) { ingredient.counts_as(Class::Fat) } else { Factor::ZERO }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("brioche", "butter", &[("bread flour", "500 g"), ("butter", "250 g")]), WITHIN);
        assert_eq!(verdict("brioche", "butter", &[("bread flour", "500 g"), ("butter", "75 g")]), BELOW);
        assert_eq!(verdict("brioche", "butter", &[("bread flour", "500 g"), ("butter", "550 g")]), ABOVE);
    }
}
