//! Starch: beside flour in a whisked cake, as thickener in a cream or cheesecake.
//!
//! # What it checks
//! In whisked cakes starch as a share of flour and starch together; where milk, cheese or whites are the base flour thickens too and counts with it.
//!
//! # Why it matters
//! The same spoon of flour is body in a cake and thickener in a cream.
//!
//! # Example
//! 20 g of starch in 1000 g of milk are 2 %: below the 4.5 to 10 % of a pastry cream.
//!
//! # Remedy
//! Add starch up to the bound, or exchange it for flour.
//!
//! # Source
//! Gisslen, Professional Baking (75 to 100 g on 1000 g of milk).

use super::{Counts, Over, Reading, Rule};
use crate::formula::base::flour_and_starch;
use crate::quantity::Factor;
use crate::reference::{Base, Class, Ingredient};

/// The rule.
pub static RULE: Rule = Rule {
    id: "starch",
    of: "starch",
    reach_for: "cornstarch",
    counts: Counts::Each(counts),
    over: Over::Base,
    why: "Starch sets soft and short: in a cake too much of it makes dust, in a cream too little leaves it runny and too much makes paste",
    ..Rule::PLAIN
};

fn counts(ingredient: &Ingredient, reading: Reading) -> Factor {
    match reading.base {
        Base::Class(Class::Flour) => ingredient.counts_as(Class::Starch),
        _ => flour_and_starch(ingredient),
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("pastry-cream", "starch", &[("whole milk", "1000 g"), ("cornstarch", "80 g")]), WITHIN);
        assert_eq!(verdict("pastry-cream", "starch", &[("whole milk", "1000 g"), ("cornstarch", "20 g")]), BELOW);
        assert_eq!(
            verdict("pastry-cream", "starch", &[("whole milk", "1000 g"), ("cornstarch", "60 g"), ("all-purpose flour", "90 g")]),
            ABOVE
        );
    }
}
