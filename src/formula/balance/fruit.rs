//! Fruit over the base: what makes a fruit cake one.
//!
//! # What it checks
//! Fruit, peel and nuts by whole weight over the base; not oats and ground nuts, which stand in for flour.
//!
//! # Why it matters
//! Everywhere else pieces stand outside the rules; in a fruit cake they are the half of it.
//!
//! # Example
//! 270 g of raisins on 300 g of flour are 90 %: below the 100 to 400 % of a fruit cake.
//!
//! # Remedy
//! Fold in more fruit, or bake it as a creamed cake.
//!
//! # Source
//! From memory after Gisslen, Professional Baking (100 to 300); British rich cakes run to 400.

use super::{Counts, Over, Rule, StandIn};
use crate::quantity::Factor;
use crate::reference::{Class, Ingredient, Trait};

/// The rule.
pub static RULE: Rule = Rule {
    id: "fruit",
    of: "fruit and nuts",
    reach_for: "raisins",
    counts: Counts::Each(|ingredient, _| counts(ingredient)),
    over: Over::Base,
    why: "Batter must hold the fruit: with too much the cake crumbles around it, with too little it is a plain cake with raisins",
    stands_in: &[StandIn::ForFlour],
    ..Rule::PLAIN
};

/// Fruit, peel, nuts and pieces; not the oats and ground nuts that stand in for flour.
fn counts(ingredient: &Ingredient) -> Factor {
    if ingredient.is(Trait::StandsForFlour) { Factor::ZERO } else { ingredient.counts_as(Class::Additions) }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("fruit-cake", "fruit", &[("all-purpose flour", "300 g"), ("raisins", "800 g")]), WITHIN);
        assert_eq!(verdict("fruit-cake", "fruit", &[("all-purpose flour", "300 g"), ("raisins", "200 g")]), BELOW);
        assert_eq!(verdict("fruit-cake", "fruit", &[("all-purpose flour", "300 g"), ("raisins", "1500 g")]), ABOVE);
    }
}
