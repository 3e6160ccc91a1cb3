//! Soft fruit and vegetables in the place of liquid: mashed or grated they give up their water.

use super::super::judge::{Judging, Measured};
use super::text;
use crate::formula::balance::BalanceVerdict;
use crate::quantity::{Factor, Mass};
use crate::reference::{Base, Bound, Class, Constituent, Ingredient};

/// Water of fruit, and the liquid that is short.
pub struct Fruit {
    brought: Mass,
    short: Mass,
}

impl Fruit {
    /// Where flour is wetted by too little, and fruit brings what is short.
    pub fn of(judging: &Judging<'_>, measured: &Measured<'_>, bound: &Bound) -> Option<Self> {
        if judging.base.base() != Base::Class(Class::Flour) || measured.verdict == BalanceVerdict::Within {
            return None;
        }
        let short = measured.below.mass().value() * bound.low?.as_factor() - measured.above.mass().value();
        let brought = judging.mixture.sum(soft_water).mass().value();
        (short > Mass::ZERO && brought >= short).then_some(Self { brought, short })
    }

    pub fn settles(&self) -> String {
        let [brought, short] = [self.brought, self.short].map(text);
        format!(
            "The fruit or vegetables in it bring {brought} of water: mashed or grated they stand in for the {short} of liquid that is short, and nothing need be added; left whole they give up little"
        )
    }
}

/// Fruit and vegetables of so much water give it up when they are mashed or grated: not raisins, nuts or chips.
const SOFT: f64 = 0.7;

/// The water of what is soft and stands outside the rules.
fn soft_water(ingredient: &Ingredient) -> Factor {
    let water = ingredient.composition.as_ref().map_or(Factor::ZERO, |composition| composition.share(Constituent::Water));
    let share = ingredient.counts_as(Class::Additions);
    if water.value() >= SOFT { share * water } else { Factor::ZERO }
}

#[cfg(test)]
mod tests {
    use super::super::super::BalanceVerdict;
    use super::super::super::trial::{found, verdict};

    #[test]
    fn mashed_banana_stands_in_for_the_milk_of_a_banana_bread_and_raisins_do_not() {
        let bread = |fruit| [("all-purpose flour", "250 g"), ("granulated sugar", "150 g"), ("butter", "115 g"), fruit];
        let water = found("quick-bread", "water", &bread(("banana", "340 g")));
        assert_eq!(water.verdict, BalanceVerdict::Depends);
        assert!(water.mend.is_some_and(|mend| mend.contains("nothing need be added")), "{}", water.why);
        assert_eq!(verdict("quick-bread", "water", &bread(("raisins", "340 g"))), Some(BalanceVerdict::Below));
    }
}
