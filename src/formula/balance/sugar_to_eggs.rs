//! Sugar against eggs: the old rule of the sponge.
//!
//! # What it checks
//! Sugar over eggs, both by whole weight.
//!
//! # Why it matters
//! The old sponge takes the weight of its eggs in sugar and half of it in flour.
//!
//! # Example
//! 200 g of sugar to 150 g of egg are 133 %: above the 50 to 105 % of a sponge.
//!
//! # Remedy
//! Take out sugar, or add an egg.
//!
//! # Source
//! Lowe, Experimental Cookery; Gisslen, Professional Baking.

use super::{Counts, Over, Rule};
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "sugar-to-eggs",
    of: "sugar",
    reach_for: "sugar",
    counts: Counts::Class(Class::Sugar),
    over: Over::This("egg", Counts::Class(Class::Egg)),
    why: "Sugar steadies the foam of eggs: past their weight it makes a sticky crust, short of half of it the foam is coarse and dry",
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("sponge", "sugar-to-eggs", &[("cake flour", "150 g"), ("granulated sugar", "300 g"), ("egg", "300 g")]), WITHIN);
        assert_eq!(verdict("sponge", "sugar-to-eggs", &[("cake flour", "150 g"), ("granulated sugar", "100 g"), ("egg", "300 g")]), BELOW);
        assert_eq!(verdict("sponge", "sugar-to-eggs", &[("cake flour", "150 g"), ("granulated sugar", "400 g"), ("egg", "300 g")]), ABOVE);
    }
}
