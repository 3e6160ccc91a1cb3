//! Dry milk over the base.
//!
//! # What it checks
//! Dry milk by whole weight over the base; passed over where there is none.
//!
//! # Why it matters
//! It stands for milk only with its water beside it: about one part to nine.
//!
//! # Example
//! 200 g of dry milk on 1000 g of flour are 20 %: above the 12 % of a high-ratio cake.
//!
//! # Remedy
//! Take out dry milk, or add as much water again.
//!
//! # Source
//! Ranges of a cake encyclopaedia (8 to 12), copied in print.

use super::{Counts, Over, Rule};
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "milk-solids",
    of: "dry milk",
    reach_for: "nonfat dry milk",
    counts: Counts::Class(Class::MilkSolids),
    over: Over::Base,
    why: "Dry milk browns, binds water and tightens the crumb: past the bound the cake is dry and dark",
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("high-ratio", "milk-solids", &[("cake flour", "1000 g"), ("nonfat dry milk", "95 g")]), WITHIN);
        assert_eq!(verdict("high-ratio", "milk-solids", &[("cake flour", "1000 g"), ("nonfat dry milk", "200 g")]), ABOVE);
    }
}
