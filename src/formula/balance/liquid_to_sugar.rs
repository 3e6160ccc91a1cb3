//! Eggs and liquid against sugar.
//!
//! # What it checks
//! Eggs and added liquids by whole weight over sugar.
//!
//! # Why it matters
//! In a creamed cake liquid equals sugar, or else equals flour: either is enough. In a high-ratio cake liquid outweighs sugar.
//!
//! # Example
//! 360 g of eggs and milk to 480 g of sugar are 75 %: below the 90 to 110 % of a creamed cake.
//!
//! # Remedy
//! Add milk, or take sugar out.
//!
//! # Source
//! Gisslen, Professional Baking (equality; in print also as 10 % and as 25 to 35 % more for high-ratio cakes).

use super::{Counts, Over, Rule};
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "liquid-to-sugar",
    of: "eggs and liquid",
    reach_for: "milk",
    counts: super::liquid::COUNTS,
    over: Over::This("sugar", Counts::Class(Class::Sugar)),
    why: "Sugar must find its liquid to dissolve in: with too little the crust is sugary and the crumb falls, with too much the crumb is gummy",
    instead: Some("liquid-to-flour"),
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(
            verdict(
                "high-ratio",
                "liquid-to-sugar",
                &[("cake flour", "100 g"), ("granulated sugar", "120 g"), ("egg", "60 g"), ("whole milk", "90 g")]
            ),
            WITHIN
        );
        assert_eq!(
            verdict("high-ratio", "liquid-to-sugar", &[("cake flour", "100 g"), ("granulated sugar", "120 g"), ("egg", "60 g")]),
            BELOW
        );
        assert_eq!(
            verdict(
                "high-ratio",
                "liquid-to-sugar",
                &[("cake flour", "100 g"), ("granulated sugar", "120 g"), ("egg", "60 g"), ("whole milk", "140 g")]
            ),
            ABOVE
        );
    }
}
