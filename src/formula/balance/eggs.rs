//! Eggs over the base: whole eggs, whites and yolks together.
//!
//! # What it checks
//! Whole eggs, whites and yolks without shell, by whole weight over the base.
//!
//! # Why it matters
//! Egg is the toughener that answers fat and sugar. Foams stand on it alone; cookies need a little to bind.
//!
//! # Example
//! 180 g of egg on 150 g of flour are 120 %: below the 150 to 175 % of a genoise.
//!
//! # Remedy
//! Add egg up to the bound, or take flour out; a whole large egg is 50 g.
//!
//! # Source
//! Gisslen, Professional Baking; Lowe, Experimental Cookery, for the old sponge.

use super::{Counts, Over, Rule, StandIn};
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "eggs",
    of: "egg",
    reach_for: "egg",
    counts: Counts::Class(Class::Egg),
    over: Over::Base,
    why: "Eggs set the crumb, hold the air and bring most of the moisture; too many make it tough, too few let it fall apart",
    stands_in: &[StandIn::ForFlour, StandIn::ForEgg],
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("genoise", "eggs", &[("cake flour", "150 g"), ("egg", "250 g")]), WITHIN);
        assert_eq!(verdict("genoise", "eggs", &[("cake flour", "150 g"), ("egg", "180 g")]), BELOW);
        assert_eq!(verdict("genoise", "eggs", &[("cake flour", "150 g"), ("egg", "300 g")]), ABOVE);
    }
}
