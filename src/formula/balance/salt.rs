//! Salt over the base.
//!
//! # What it checks
//! Salt by whole weight over the base; the salt within salted butter is not counted, that in self-raising flour is.
//!
//! # Why it matters
//! Bread without it is flat and slack; at 5 % it is inedible and the yeast is nearly stopped.
//!
//! # Example
//! 25 g of salt on 500 g of flour are 5 %: above the 1.5 to 2.5 % of a lean dough.
//!
//! # Remedy
//! Take out salt down to the bound; weigh it, for a teaspoon is 3 to 6 g by the kind.
//!
//! # Source
//! Gisslen, Professional Baking (1.8 to 2.2 in bread); elsewhere common practice.

use super::{Counts, Over, Rule, StandIn, Tells};
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "salt",
    of: "salt",
    reach_for: "salt",
    counts: Counts::Class(Class::Salt),
    over: Over::Base,
    why: "Salt rounds the taste and, in dough, tightens gluten and holds the yeast back; past the bound it is all that is tasted",
    stands_in: &[StandIn::ForFlour],
    tells: Tells::Nothing,
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("lean-dough", "salt", &[("bread flour", "500 g"), ("water", "325 g"), ("salt", "10 g")]), WITHIN);
        assert_eq!(verdict("lean-dough", "salt", &[("bread flour", "500 g"), ("water", "325 g"), ("salt", "3 g")]), BELOW);
        assert_eq!(verdict("lean-dough", "salt", &[("bread flour", "500 g"), ("water", "325 g"), ("salt", "25 g")]), ABOVE);
    }
}
