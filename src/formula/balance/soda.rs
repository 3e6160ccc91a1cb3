//! Baking soda by itself: it tastes before it fails to lift.
//!
//! # What it checks
//! Baking soda and potassium bicarbonate as weighed over the base.
//!
//! # Why it matters
//! 2 g of soda take up the acid of a US cup of buttermilk; what is over is tasted.
//!
//! # Example
//! 8 g of soda on 300 g of flour are 2.7 %: above the 1.5 % of a drop cookie.
//!
//! # Remedy
//! Take out soda, and where lift is missing give powder at 3.74 g for each gram.
//!
//! # Source
//! Gisslen, Professional Baking; ranges of a cake encyclopaedia (1 to 1.5).

use super::{Counts, Over, Rule, StandIn, Tells};
use crate::formula::leaven::is_soda;
use crate::quantity::Factor;
use crate::reference::Ingredient;

/// The rule.
pub static RULE: Rule = Rule {
    id: "soda",
    of: "baking soda",
    reach_for: "baking soda",
    counts: Counts::Each(|i, _| counts(i)),
    over: Over::Base,
    why: "Soda that finds no acid stays behind: past the bound it tastes of soap and turns the crumb dark",
    stands_in: &[StandIn::ForFlour],
    tells: Tells::Half,
    ..Rule::PLAIN
};

fn counts(ingredient: &Ingredient) -> Factor {
    if is_soda(ingredient) { Factor::ONE } else { Factor::ZERO }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("drop-cookie", "soda", &[("all-purpose flour", "300 g"), ("baking soda", "4 g")]), WITHIN);
        assert_eq!(verdict("drop-cookie", "soda", &[("all-purpose flour", "300 g"), ("baking soda", "8 g")]), ABOVE);
    }
}
