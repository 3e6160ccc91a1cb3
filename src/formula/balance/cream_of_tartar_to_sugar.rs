//! Acid against sugar in a syrup.
//!
//! # What it checks
//! Cream of tartar and other dry acids over sugar; passed over where there is none.
//!
//! # Why it matters
//! Inverted sugar does not crystallise; too much of it draws water.
//!
//! # Example
//! 2 g of cream of tartar to 200 g of sugar are 1 %: above the 0.5 % of a syrup.
//!
//! # Remedy
//! Take out acid, or use glucose syrup in its stead.
//!
//! # Source
//! Common practice.

use super::{Counts, Over, Rule, Tells};
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "cream-of-tartar-to-sugar",
    of: "cream of tartar or other acid",
    reach_for: "cream of tartar",
    counts: Counts::Class(Class::Acid),
    over: Over::This("sugar", Counts::Class(Class::Sugar)),
    why: "A trace of acid splits some of the sugar, so that the syrup does not grain; past the bound it splits too much and stays sticky",
    tells: Tells::Half,
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(
            verdict(
                "syrup",
                "cream-of-tartar-to-sugar",
                &[("granulated sugar", "200 g"), ("water", "100 g"), ("cream of tartar", "0.5 g")]
            ),
            WITHIN
        );
        assert_eq!(
            verdict("syrup", "cream-of-tartar-to-sugar", &[("granulated sugar", "200 g"), ("water", "100 g"), ("cream of tartar", "2 g")]),
            ABOVE
        );
    }
}
