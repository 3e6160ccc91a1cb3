//! Cream over the base: over chocolate in a ganache, over cheese in a cheesecake.
//!
//! # What it checks
//! Creams and sour cream by whole weight, their fat with them; in a ganache any other liquid counts with them.
//!
//! # Why it matters
//! Two of chocolate to one of cream roll into truffles, equal weights fill, one to two pours.
//!
//! # Example
//! 300 g of cream on 100 g of chocolate are 300 %: above the 33 to 200 % of a ganache.
//!
//! # Remedy
//! Take out cream down to the bound, or melt in more chocolate.
//!
//! # Source
//! Ruhlman, Ratio; one list calls 1:1 a glaze, others 1:2.

use super::{Counts, Over, Reading, Rule};
use crate::quantity::Factor;
use crate::reference::{Base, Class, Ingredient};

/// The rule.
pub static RULE: Rule = Rule {
    id: "cream",
    of: "cream",
    reach_for: "heavy cream",
    counts: Counts::Each(counts),
    over: Over::Base,
    why: "Cream loosens what chocolate or cheese sets: past the bound it never sets, short of it it is stiff",
    ..Rule::PLAIN
};

/// Creams by their names, so that one of the caller's own counts too: "double Jersey cream".
pub(super) fn counts(ingredient: &Ingredient, reading: Reading) -> Factor {
    let liquid = ingredient.counts_as(Class::Liquid).value();
    if liquid == 0.0 {
        return Factor::ZERO;
    }
    let cream =
        ["cream", "creme", "crème", "half-and-half"].iter().any(|word| ingredient.id.contains(word) || ingredient.name.contains(word));
    let poured = cream && ingredient.counts_as(Class::Sugar).value() == 0.0;
    match (poured, reading.base) {
        (true, _) => Factor::times(liquid + ingredient.counts_as(Class::Fat).value()),
        (false, Base::Class(Class::Chocolate)) => Factor::times(liquid),
        (false, _) => Factor::ZERO,
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("ganache", "cream", &[("dark chocolate", "300 g"), ("heavy cream", "300 g")]), WITHIN);
        assert_eq!(verdict("ganache", "cream", &[("dark chocolate", "300 g"), ("heavy cream", "60 g")]), BELOW);
        assert_eq!(verdict("ganache", "cream", &[("dark chocolate", "100 g"), ("heavy cream", "300 g")]), ABOVE);
    }
}
