//! Cream of tartar, or another dry acid, over the base.
//!
//! # What it checks
//! Cream of tartar and other dry acids by whole weight over the base.
//!
//! # Why it matters
//! Acid lets the proteins of the white bind slowly, so that the foam is not overbeaten.
//!
//! # Example
//! 8 g of cream of tartar in 250 g of whites are 3.2 %: above the 1.5 % of an angel cake.
//!
//! # Remedy
//! Take out acid down to the bound; a teaspoon of cream of tartar is 3 g.
//!
//! # Source
//! Gisslen, Professional Baking (0.8 to 1.5 on whites).

use super::{Counts, Over, Rule, Tells};
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "cream-of-tartar",
    of: "cream of tartar or other acid",
    reach_for: "cream of tartar",
    counts: Counts::Class(Class::Acid),
    over: Over::Base,
    why: "A little acid steadies the foam and keeps it white; past the bound it is sour and the crumb shrinks",
    tells: Tells::Half,
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(
            verdict("angel", "cream-of-tartar", &[("egg white", "250 g"), ("cake flour", "90 g"), ("cream of tartar", "2.5 g")]),
            WITHIN
        );
        assert_eq!(
            verdict("angel", "cream-of-tartar", &[("egg white", "250 g"), ("cake flour", "90 g"), ("cream of tartar", "8 g")]),
            ABOVE
        );
    }
}
