//! Egg whites over the base.
//!
//! # What it checks
//! Whites over the base; of a whole egg its 33 of 50 g count, for formulas that say "eggs, separated".
//!
//! # Why it matters
//! A chiffon stands on the foam of its whites, a royal icing sets by them.
//!
//! # Example
//! 140 g of white on 200 g of flour are 70 %: below the 80 to 140 % of a chiffon.
//!
//! # Remedy
//! Add whites up to the bound; a large white is 33 g.
//!
//! # Source
//! Gisslen, Professional Baking (chiffon, 100 printed); white and yolk of a large egg from USDA SR 28.

use super::{Counts, Over, Rule, StandIn};
use crate::formula::egg;

/// The rule.
pub static RULE: Rule = Rule {
    id: "whites",
    of: "egg white",
    reach_for: "egg white",
    counts: Counts::Each(|i, reading| egg::whites(i, reading.made_up)),
    over: Over::Base,
    why: "Whites are the foam: too few raise nothing, too many make it dry and tough",
    stands_in: &[StandIn::ForFlour],
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("chiffon", "whites", &[("cake flour", "200 g"), ("egg white", "200 g")]), WITHIN);
        assert_eq!(verdict("chiffon", "whites", &[("cake flour", "200 g"), ("egg white", "140 g")]), BELOW);
        assert_eq!(verdict("chiffon", "whites", &[("cake flour", "200 g"), ("egg white", "300 g")]), ABOVE);
    }
}
