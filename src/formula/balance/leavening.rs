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

use super::{Counts, Over, Rule, StandIn};
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
    stands_in: &[StandIn::Gas, StandIn::Oats],
    ..Rule::PLAIN
};

/// Carbon dioxide in grams for each gram, acid taking it up: 44.0095 g/mol over the molar mass.
const GAS: [(&str, f64); 3] =
    [("baking-soda", 44.0095 / 84.0066), ("potassium-bicarbonate", 44.0095 / 100.115), ("bakers-ammonia", 44.0095 / 79.056)];

/// Carbon dioxide of a gram of usual powder.
const GAS_OF_POWDER: f64 = 0.14;

fn counts(ingredient: &Ingredient) -> Factor {
    let leavening = ingredient.counts_as(Class::Leavening).value();
    if leavening == 0.0 || ingredient.fresh_yeast.is_some() {
        return Factor::ZERO;
    }
    let as_powder = GAS.iter().find(|(id, _)| ingredient.id == *id).map_or(1.0, |(_, gas)| gas / GAS_OF_POWDER);
    Factor::times(leavening * as_powder)
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
    fn the_gas_of_the_rule_is_that_of_the_tables() {
        let figures = &crate::reference::Reference::load().expect("the tables").leavening.figures;
        let tables = [figures.soda_gas, figures.potassium_bicarbonate_gas, figures.bakers_ammonia_gas].map(|gas| gas.figure.value().value());
        for ((id, gas), table) in super::GAS.iter().zip(tables) {
            assert!((gas - table).abs() < 1e-4, "{id}: {gas} and {table}");
        }
        assert_eq!(super::GAS_OF_POWDER, figures.powder_gas_trade.figure.value().value());
    }
}
