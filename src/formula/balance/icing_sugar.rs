//! Icing sugar over fat in the simple buttercream.
//!
//! # What it checks
//! Icing sugar alone by whole weight over the fat; passed over where there is none.
//!
//! # Why it matters
//! Two of sugar to one of butter is the American kind; boiled or beaten with whites, sugar is judged on the whites.
//!
//! # Example
//! 250 g of icing sugar on 225 g of butter are 111 %: below the 150 to 250 % that hold a shape.
//!
//! # Remedy
//! Beat in icing sugar up to the bound.
//!
//! # Source
//! Gisslen, Professional Baking (200, from 150 to 250).

use super::{Counts, Over, Rule, StandIn};
use crate::quantity::Factor;
use crate::reference::Ingredient;

/// The rule.
pub static RULE: Rule = Rule {
    id: "icing-sugar",
    of: "icing sugar",
    reach_for: "confectioners' sugar",
    counts: Counts::Each(|i, _| counts(i)),
    over: Over::Base,
    why: "Icing sugar is what stiffens a simple buttercream: with too little it slides, with too much it is dry and cracks",
    stands_in: &[StandIn::SoftCheese],
    ..Rule::PLAIN
};

fn counts(ingredient: &Ingredient) -> Factor {
    if ingredient.is_icing_sugar() { Factor::ONE } else { Factor::ZERO }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("buttercream", "icing-sugar", &[("butter", "225 g"), ("confectioners' sugar", "450 g")]), WITHIN);
        assert_eq!(verdict("buttercream", "icing-sugar", &[("butter", "225 g"), ("confectioners' sugar", "250 g")]), BELOW);
        assert_eq!(verdict("buttercream", "icing-sugar", &[("butter", "225 g"), ("confectioners' sugar", "700 g")]), ABOVE);
    }
}
