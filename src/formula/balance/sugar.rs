//! Sugar over the base: the first figure a baker looks at.
//!
//! # What it checks
//! Sugars and syrups by their whole weight over the base (flour; whites in a meringue, milk in a cream, fat nowhere).
//!
//! # Why it matters
//! Sugar holds water away from flour and egg and raises the heat at which they set. In a creamed cake it must not outweigh the flour, in a high-ratio cake an emulsified shortening lets it.
//!
//! # Example
//! 235 g of sugar on 200 g of flour are 117 %: above the 70 to 100 % of a creamed cake, within the 110 to 160 % of a high-ratio cake.
//!
//! # Remedy
//! Take out sugar down to the bound, or add flour; or bake it as the style that it is.
//!
//! # Source
//! Gisslen, Professional Baking (balance of creamed and two-stage cakes); each style names its own.

use super::{Counts, Over, Rule, StandIn};
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "sugar",
    of: "sugar",
    reach_for: "sugar",
    counts: Counts::Class(Class::Sugar),
    over: Over::Base,
    why: "Sugar makes tender, moist and brown; past the bound the crumb falls or runs, short of it the goods are dry and pale",
    why_on_whites: Some("Sugar steadies the foam of whites: past the bound it stays sticky and heavy, short of it it weeps and falls"),
    stands_in: &[StandIn::ForFlour],
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("creamed", "sugar", &[("cake flour", "200 g"), ("granulated sugar", "180 g")]), WITHIN);
        assert_eq!(verdict("creamed", "sugar", &[("cake flour", "200 g"), ("granulated sugar", "120 g")]), BELOW);
        assert_eq!(verdict("creamed", "sugar", &[("cake flour", "200 g"), ("granulated sugar", "235 g")]), ABOVE);
    }
}
