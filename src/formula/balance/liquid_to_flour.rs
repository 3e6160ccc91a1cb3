//! Eggs and liquid against flour: the other way of saying how wet a creamed cake is.
//!
//! # What it checks
//! Eggs and added liquids by whole weight over flour.
//!
//! # Why it matters
//! Some textbooks set liquid against sugar, others against flour; a creamed cake that keeps to either is in balance.
//!
//! # Example
//! 390 g of eggs and milk to 400 g of flour are 97.5 %: within 90 to 110 %.
//!
//! # Remedy
//! Add milk, or take flour out.
//!
//! # Source
//! Gisslen, Professional Baking, as printed in two lists of rules.

use super::{Counts, Over, Rule, StandIn};
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "liquid-to-flour",
    of: "eggs and liquid",
    reach_for: "milk",
    counts: super::liquid::COUNTS,
    over: Over::This("flour", Counts::Class(Class::Flour)),
    why: "Flour must find its liquid to set with: with too little the cake is dry, with too much it is gummy",
    instead: Some("liquid-to-sugar"),
    stands_in: &[StandIn::ForFlour],
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(
            verdict(
                "creamed",
                "liquid-to-flour",
                &[("cake flour", "100 g"), ("granulated sugar", "100 g"), ("egg", "50 g"), ("whole milk", "50 g")]
            ),
            WITHIN
        );
        assert_eq!(
            verdict("creamed", "liquid-to-flour", &[("cake flour", "100 g"), ("granulated sugar", "100 g"), ("egg", "50 g")]),
            BELOW
        );
        assert_eq!(
            verdict(
                "creamed",
                "liquid-to-flour",
                &[("cake flour", "100 g"), ("granulated sugar", "100 g"), ("egg", "60 g"), ("whole milk", "90 g")]
            ),
            ABOVE
        );
    }
}
