//! Cocoa over the base.
//!
//! # What it checks
//! Cocoa by whole weight over the base; passed over where there is none.
//!
//! # Why it matters
//! Its fibre and starch bind three quarters to once its weight in water.
//!
//! # Example
//! 100 g of cocoa on 400 g of flour are 25 %: above the 20 % of a cake.
//!
//! # Remedy
//! Take out cocoa, or add liquid of 75 to 100 % of its weight.
//!
//! # Source
//! Ranges of a cake encyclopaedia (10 to 20), copied in print; Gisslen, Professional Baking, for the water.

use super::{Counts, Over, Rule};
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "cocoa",
    of: "cocoa",
    reach_for: "cocoa",
    counts: Counts::Class(Class::Cocoa),
    over: Over::Base,
    why: "Cocoa drinks liquid like flour without binding like it: past the bound the cake is dry and crumbles",
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("creamed", "cocoa", &[("cake flour", "400 g"), ("cocoa powder", "60 g")]), WITHIN);
        assert_eq!(verdict("creamed", "cocoa", &[("cake flour", "400 g"), ("cocoa powder", "100 g")]), ABOVE);
    }
}
