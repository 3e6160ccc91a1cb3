//! Eggs against fat: what toughens against what makes tender.
//!
//! # What it checks
//! Eggs by whole weight over fat, both by the whole weight of butter and by its fat alone.
//!
//! # Why it matters
//! A creamed cake wants eggs as heavy as its fat or up to a tenth more, a high-ratio cake more eggs than fat.
//!
//! # Example
//! 4 eggs (200 g) to 1 cup of butter (227 g) are 88 % of the butter and 109 % of its fat: it depends on which is counted.
//!
//! # Remedy
//! Add egg, or take fat out, until they weigh alike.
//!
//! # Source
//! Gisslen, Professional Baking; a printed demonstration misses it by 12.5 %.

use super::{Counts, Over, Rule, StandIn};
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "eggs-to-fat",
    of: "egg",
    reach_for: "egg",
    counts: Counts::Class(Class::Egg),
    over: Over::This("fat", super::fat::COUNTS),
    why: "Eggs carry the fat and set around it: with fewer eggs than fat the batter parts and the cake is heavy",
    stands_in: &[StandIn::ForEgg],
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("high-ratio", "eggs-to-fat", &[("cake flour", "100 g"), ("shortening", "50 g"), ("egg", "67 g")]), WITHIN);
        assert_eq!(verdict("high-ratio", "eggs-to-fat", &[("cake flour", "100 g"), ("shortening", "60 g"), ("egg", "40 g")]), BELOW);
    }
}
