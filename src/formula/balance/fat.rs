//! Fat over the base, by whole weight and, where both are in use, by the fat alone.
//!
//! # What it checks
//! Butter, oil and the fat of cream over the base. By whole weight butter counts whole; by the fat alone its 81 % of fat count.
//!
//! # Why it matters
//! Textbooks weigh butter whole, millers and makers of shortening count fat. A formula may keep to one and not to the other: then it depends, and says so.
//!
//! # Example
//! 360 g of butter on 400 g of flour are 90 % (73 % by the fat alone): above the 40 to 65 % of a creamed cake both ways.
//!
//! # Remedy
//! Take out fat down to the bound, or bake it as a pound cake.
//!
//! # Source
//! Gisslen, Professional Baking; fat of butter from USDA SR 28 (81.11 g in 100 g), 80 % by law in the US and the EU.

use super::{Counts, Over, Rule, StandIn};
use crate::quantity::Factor;
use crate::reference::{Class, Constituent, Ingredient};

/// The rule.
pub static RULE: Rule = Rule {
    id: "fat",
    of: "fat",
    reach_for: "butter",
    counts: COUNTS,
    over: Over::Base,
    why: "Fat makes tender, carries flavour and holds air when it is creamed; beyond the bound it weighs the crumb down, short of it the goods are dry",
    why_on_whites: Some("Fat keeps whites from foaming: a trace on the bowl is enough to spoil them"),
    stands_in: &[StandIn::ForFlour],
    ..Rule::PLAIN
};

/// A fat by its whole weight, or by no more of it than is fat.
pub(super) const COUNTS: Counts = Counts::OrFatAlone(Class::Fat, fat_alone);

fn fat_alone(ingredient: &Ingredient) -> Factor {
    let whole = ingredient.counts_as(Class::Fat);
    let fat = ingredient.composition.map_or(whole, |composition| composition.share(Constituent::Fat));
    if fat.value() < whole.value() { fat } else { whole }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("muffin", "fat", &[("all-purpose flour", "200 g"), ("butter", "80 g")]), WITHIN);
        assert_eq!(verdict("muffin", "fat", &[("all-purpose flour", "200 g"), ("butter", "20 g")]), BELOW);
        assert_eq!(verdict("muffin", "fat", &[("all-purpose flour", "200 g"), ("butter", "160 g")]), ABOVE);
    }
}
