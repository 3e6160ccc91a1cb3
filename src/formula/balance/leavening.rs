//! Chemical leavening over the base, soda counted as the powder it stands for.
//!
//! # What it checks
//! Baking powder as weighed and soda by the carbon dioxide it gives, over the base: in full as far as the acid in the formula takes it up, half by heat
//! alone. The high end counts all of it in full. Yeast is a rule of its own, and asks for no powder. Self-raising flour brings its share.
//!
//! # Why it matters
//! Creamed fat and beaten egg bring air of their own and need less powder than a batter that is only stirred.
//!
//! # Example
//! 8 g of soda on 300 g of flour are 2.7 %, as powder 5 % by heat alone and 10 % with acid for all of it: the 8 % of a drop cookie lie between.
//!
//! # Remedy
//! Take out powder, or soda at 1 g for 3.74 g of powder; a teaspoon of either is 4.6 g.
//!
//! # Source
//! Carbon dioxide of acidified soda 0.5239 g/g (84.0066 and 44.0095 g/mol); usual powders give 14 % (12 % is the least in the US), hence 0.5239 / 0.14 = 3.74. At 12 % it would be 4.37.

use super::{Counts, Over, Rule, StandIn, Tells};
use crate::quantity::Factor;
use crate::reference::{Class, Ingredient};

/// The rule.
pub static RULE: Rule = Rule {
    id: "leavening",
    of: "leavening, counted as baking powder",
    reach_for: "baking powder",
    counts: Counts::Each(|i, _| counts(i)),
    over: Over::Base,
    why: "Gas must lift what the crumb can hold: too much bursts and falls with a bitter taste, too little leaves it close",
    stands_in: &[StandIn::Gas, StandIn::ForFlour],
    tells: Tells::Half,
    ..Rule::PLAIN
};

fn counts(ingredient: &Ingredient) -> Factor {
    if ingredient.fresh_yeast.is_some() {
        return Factor::ZERO;
    }
    ingredient.counts_as(Class::Leavening) * ingredient.as_powder.unwrap_or(Factor::ONE)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("muffin", "leavening", &[("all-purpose flour", "200 g"), ("baking powder", "10 g")]), WITHIN);
        assert_eq!(verdict("muffin", "leavening", &[("all-purpose flour", "200 g"), ("baking powder", "4 g")]), BELOW);
        assert_eq!(verdict("muffin", "leavening", &[("all-purpose flour", "200 g"), ("baking powder", "15 g")]), ABOVE);
    }

    #[test]
    fn soda_stands_for_as_much_powder_as_its_gas() {
        use crate::reference::Reference;
        let by_id = |id: &str| Reference::load().expect("the tables").ingredients.by_id(id).and_then(|found| found.as_powder);
        let found = ["baking-soda", "potassium-bicarbonate", "bakers-ammonia", "baking-powder"].map(by_id);
        // 44.0095 g/mol of carbon dioxide over each molar mass, over the 14 % of usual powder.
        for (found, molar) in found.into_iter().zip([84.0066, 100.115, 79.056]) {
            assert!(found.is_some_and(|powder| (powder.value() - 44.0095 / molar / 0.14).abs() < 1e-3), "{molar}: {found:?}");
        }
        assert!(found[3].is_none());
    }
}
