//! Egg yolks over the base: wanted in a chiffon, unwanted in a foam of whites.
//!
//! # What it checks
//! Yolks over the base; of a whole egg its 17 of 50 g count.
//!
//! # Why it matters
//! Its fat and lecithin carry the oil of a chiffon and break the foam of an angel cake or meringue.
//!
//! # Example
//! 17 g of yolk in 250 g of whites are 6.8 %: above the 1 % that an angel cake bears.
//!
//! # Remedy
//! Part the eggs again and leave the yolk out; in a chiffon add yolk up to the bound.
//!
//! # Source
//! Gisslen, Professional Baking; white and yolk of a large egg from USDA SR 28.

use super::{Counts, Over, Rule, StandIn};
use crate::formula::egg;

/// The rule.
pub static RULE: Rule = Rule {
    id: "yolks",
    of: "egg yolk",
    reach_for: "egg yolk",
    in_place: "egg white",
    counts: Counts::Each(|i, reading| egg::yolks(i, reading.made_up)),
    over: Over::Base,
    why: "Yolk binds fat and water and makes tender; too much makes the cake heavy, too little dry",
    why_on_whites: Some("Yolk is a third fat and keeps whites from foaming: part the eggs clean"),
    stands_in: &[StandIn::ForFlour],
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("chiffon", "yolks", &[("cake flour", "200 g"), ("egg yolk", "100 g")]), WITHIN);
        assert_eq!(verdict("chiffon", "yolks", &[("cake flour", "200 g"), ("egg yolk", "40 g")]), BELOW);
        assert_eq!(verdict("chiffon", "yolks", &[("cake flour", "200 g"), ("egg yolk", "140 g")]), ABOVE);
    }
}
