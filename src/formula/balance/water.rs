//! Added liquids over the base, eggs left out.
//!
//! # What it checks
//! Water, milk, juice and other liquids by their whole weight over the base; eggs are a rule of their own, and the water within butter is not counted.
//!
//! # Why it matters
//! The classical rules weigh milk as milk, not as the water in it.
//!
//! # Example
//! 90 g of milk on 300 g of flour are 30 %: below the 40 to 90 % of a quick bread.
//!
//! # Remedy
//! Add liquid up to the bound, or take flour out.
//!
//! # Source
//! Ruhlman, Ratio, for flour and liquid by weight; Gisslen, Professional Baking.

use super::{Counts, Over, Rule, StandIn};
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "water",
    of: "liquid",
    reach_for: "water",
    counts: Counts::Class(Class::Liquid),
    over: Over::Base,
    why: "The added liquid decides whether it is a dough or a batter, and wets flour and starch; past the bound it is slack, short of it stiff and dry",
    stands_in: &[StandIn::SoftFruit, StandIn::ForFlour],
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("lean-dough", "water", &[("bread flour", "500 g"), ("water", "325 g")]), WITHIN);
        assert_eq!(verdict("lean-dough", "water", &[("bread flour", "500 g"), ("water", "250 g")]), BELOW);
        assert_eq!(verdict("lean-dough", "water", &[("bread flour", "500 g"), ("water", "500 g")]), ABOVE);
    }
}
