//! All liquids over the base, eggs among them.
//!
//! # What it checks
//! Added liquids and eggs by their whole weight over the base.
//!
//! # Why it matters
//! In an oil cake eggs and buttermilk share the work; in an icing whites and water do.
//!
//! # Example
//! 120 g of milk on 250 g of icing sugar are 48 %: above the 10 to 30 % of a glaze, it runs off.
//!
//! # Remedy
//! Take out liquid down to the bound, or add more of the base.
//!
//! # Source
//! Gisslen, Professional Baking (flat icing 12 to 25, royal icing 15 to 20 of whites).

use super::{Counts, Over, Rule, StandIn};
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "liquid",
    of: "eggs and liquid",
    reach_for: "liquid",
    counts: COUNTS,
    over: Over::Base,
    why: "Eggs and liquids together wet what is dry: too much and it runs or will not set, too little and it is stiff",
    stands_in: &[StandIn::SoftFruit, StandIn::ForFlour],
    ..Rule::PLAIN
};

pub(super) const COUNTS: Counts = Counts::Either(Class::Liquid, Class::Egg);

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("glaze", "liquid", &[("confectioners' sugar", "250 g"), ("lemon juice", "45 g")]), WITHIN);
        assert_eq!(verdict("glaze", "liquid", &[("confectioners' sugar", "250 g"), ("lemon juice", "15 g")]), BELOW);
        assert_eq!(verdict("glaze", "liquid", &[("confectioners' sugar", "250 g"), ("whole milk", "120 g")]), ABOVE);
    }
}
