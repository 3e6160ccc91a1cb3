//! What a mixture holds that a rule cannot see in its shares: acid for the soda, water in soft fruit, yeast in the place of powder.

use super::super::leaven::{Leaven, PowderGas};
use super::super::resolved::Mixture;
use super::finding::BalanceVerdict;
use super::judge::Measured;
use super::{Rule, icing_sugar, leavening, liquid, water};
use crate::quantity::{Factor, Mass, Quantity, Span};
use crate::reference::{Base, Bound, Class, Constituent, Ingredient, LeaveningTables, short};

/// What soda there is and what of it finds acid; nothing where a rule does not ask, or there is no soda.
pub(super) fn leaven(rule: &Rule, mixture: &Mixture<'_>, tables: &'static LeaveningTables) -> Option<Leaven> {
    let has_soda = || mixture.lines().any(|line| matches!(&*line.ingredient.id, "baking-soda" | "potassium-bicarbonate"));
    (rule.id == leavening::RULE.id && has_soda()).then(|| Leaven::of(mixture, tables, PowderGas::Trade))
}

/// How the soda was counted.
pub(super) fn why_of_soda(leaven: &Leaven) -> Option<String> {
    let loose = leaven.loose_soda();
    if loose < leaven.soda.value() * Factor::times(0.05) {
        return None;
    }
    let [soda, loose] = [leaven.soda.value(), loose].map(|mass| Quantity::from(mass).text);
    let of =
        if loose == soda { format!("No acid is known for the {soda} of soda") } else { format!("Of {soda} of soda {loose} finds no acid") };
    Some(format!(
        ". {of}: such soda gives half its gas, by heat, and stays behind, which some dark cakes want for their colour; the high end counts all of it in full"
    ))
}

/// What to take out, soda without acid first.
pub(super) fn mend_of_soda(leaven: &Leaven, measured: &Measured<'_>, bound: &Bound, tables: &'static LeaveningTables) -> Option<String> {
    let high = bound.high?.as_factor();
    let surplus = measured.above.mass().value() - measured.below.mass().value() * high;
    let loose = leaven.loose_soda();
    if surplus <= Mass::ZERO || loose <= Mass::ZERO {
        return None;
    }
    let soda = leaven.soda_for(surplus, &tables.figures, PowderGas::Trade);
    let text = |mass: Mass| Quantity::from(mass).text;
    Some(match soda {
        soda if soda <= loose => format!("Take out {} of baking soda, which finds no acid", text(soda)),
        soda if soda <= leaven.soda.value() => format!("Take out {} of baking soda; {} of it finds no acid", text(soda), text(loose)),
        _ => return None,
    })
}

/// Where nothing but the soda without acid leaves it open, and it holds by what is known.
pub(super) fn doubt_of_soda(leaven: &Leaven, measured: &Measured<'_>, bound: &Bound, depends_on: &[&str]) -> Option<String> {
    let known = BalanceVerdict::of(Span::exact(measured.percent.value()), bound) == BalanceVerdict::Within;
    (known && depends_on.is_empty() && leaven.loose_soda() > Mass::ZERO).then(|| {
        "It holds by the acid that is known, and nothing need be changed; only with acid for all of the soda would it be too much"
            .to_owned()
    })
}

/// Yeast raises it: that there is little powder is no fault.
pub(super) fn is_raised_by_yeast(rule: &Rule, mixture: &Mixture<'_>) -> bool {
    rule.id == leavening::RULE.id && has_yeast(mixture)
}

pub(super) fn has_yeast(mixture: &Mixture<'_>) -> bool {
    mixture.lines().any(|line| line.ingredient.fresh_yeast.is_some())
}

/// Water that fruit and vegetables bring, where liquid is short and they may stand in for it.
pub(super) fn of_fruit(rule: &Rule, base: Base, mixture: &Mixture<'_>, measured: &Measured<'_>, bound: &Bound) -> Option<Fruit> {
    if !is_fed_by_fruit(rule, base) || measured.verdict == BalanceVerdict::Within {
        return None;
    }
    let short = measured.below.mass().value() * bound.low?.as_factor() - measured.above.mass().value();
    let brought = mixture.sum(soft_water).mass().value();
    (short > Mass::ZERO && brought >= short).then_some(Fruit { brought, short })
}

/// Whether fruit may stand in for what a rule counts.
fn is_fed_by_fruit(rule: &Rule, base: Base) -> bool {
    [water::RULE.id, liquid::RULE.id].contains(&rule.id) && base == Base::Class(Class::Flour)
}

/// What fruit brings to a rule, where it may stand in at all.
pub(super) fn water_of_fruit(rule: &Rule, base: Base, mixture: &Mixture<'_>) -> Mass {
    if is_fed_by_fruit(rule, base) { mixture.sum(soft_water).mass().value() } else { Mass::ZERO }
}

/// Water of fruit, and the liquid that is short.
pub(super) struct Fruit {
    brought: Mass,
    short: Mass,
}

impl Fruit {
    pub(super) fn mend(&self) -> String {
        let [brought, short] = [self.brought, self.short].map(|mass| Quantity::from(mass).text);
        format!(
            "The fruit or vegetables in it bring {brought} of water: mashed or grated they stand in for the {short} of liquid that is short, and nothing need be added; left whole they give up little"
        )
    }
}

/// Fruit and vegetables of so much water give it up when they are mashed or grated: not raisins, nuts or chips.
const SOFT: f64 = 0.7;

/// The mend where icing sugar is too much on the butter alone, and soft cheese is worked in like butter.
pub(super) fn of_cheese(rule: &Rule, mixture: &Mixture<'_>, measured: &Measured<'_>, bound: &Bound) -> Option<String> {
    if rule.id != icing_sugar::RULE.id || measured.verdict != BalanceVerdict::Above {
        return None;
    }
    let cheese = mixture.class(Class::Cheese).mass().value();
    let both = (measured.above.mass().value() / (measured.below.mass().value() + cheese)).as_percent();
    let holds = cheese > Mass::ZERO && bound.high.is_some_and(|high| both.value() <= high.value());
    holds.then(|| {
        format!(
            "Soft cheese is worked in like butter: on both together the icing sugar is {} %, and nothing need be taken out for stiffness",
            short(both.value().round())
        )
    })
}

/// The water of what is soft and stands outside the rules.
fn soft_water(ingredient: &Ingredient) -> Factor {
    let water = ingredient.composition.as_ref().map_or(Factor::ZERO, |composition| composition.share(Constituent::Water));
    let share = ingredient.counts_as(Class::Additions);
    if water.value() >= SOFT { share * water } else { Factor::ZERO }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{findings, verdict};
    use super::super::{BalanceFinding, BalanceVerdict};

    fn found(style: &str, rule: &str, lines: &[(&str, &str)]) -> BalanceFinding {
        findings(style, lines).into_iter().find(|finding| finding.rule == rule).expect("a finding")
    }

    const CHOCOLATE: [(&str, &str); 7] = [
        ("all-purpose flour", "220 g"),
        ("granulated sugar", "300 g"),
        ("cocoa powder", "60 g"),
        ("baking powder", "4.6 g"),
        ("baking soda", "9.2 g"),
        ("buttermilk", "240 g"),
        ("vegetable oil", "110 g"),
    ];

    #[test]
    fn soda_that_finds_no_acid_counts_half_and_is_taken_out_first() {
        let leavening = found("oil-cake", "leavening", &CHOCOLATE);
        // Cocoa takes up 4 % of its weight and buttermilk 0.79 %: 4.296 g of soda in full, 4.904 g by half, at 3.742 g of powder a gram.
        let by_hand = 100.0 * (4.6 + 3.742 * (4.296 + 4.904 / 2.0)) / 220.0;
        assert!((leavening.measured.percent.0 - by_hand).abs() < 0.01, "{:?} and {by_hand}", leavening.measured);
        assert_eq!(leavening.measured.high.map(|high| high.0.round()), Some(18.0));
        assert_eq!(leavening.verdict, BalanceVerdict::Above);
        assert!(leavening.why.contains("4.9 g finds no acid"), "{}", leavening.why);
        assert!(leavening.mend.is_some_and(|mend| mend.starts_with("Take out 6")));
    }

    #[test]
    fn a_carrot_cake_raised_by_soda_without_acid_holds_by_what_is_known() {
        let carrot = [("all-purpose flour", "250 g"), ("granulated sugar", "300 g"), ("vegetable oil", "220 g"), ("baking soda", "9 g")];
        let leavening = found("oil-cake", "leavening", &carrot);
        assert_eq!((leavening.verdict, leavening.hinges), (BalanceVerdict::Depends, "how much of the soda finds acid"));
        assert!(leavening.mend.is_some_and(|mend| mend.contains("nothing need be changed")));
    }

    #[test]
    fn a_yeast_waffle_is_not_told_to_take_powder() {
        let waffle = [("bread flour", "500 g"), ("instant yeast", "14 g"), ("butter", "250 g"), ("whole milk", "500 g")];
        assert_eq!(verdict("waffle", "leavening", &waffle), Some(BalanceVerdict::Within));
    }

    #[test]
    fn the_icing_sugar_of_a_cream_cheese_icing_stands_on_butter_and_cheese() {
        let icing = [("cream cheese", "225 g"), ("butter", "115 g"), ("icing sugar", "450 g")];
        let sugar = found("buttercream", "icing-sugar", &icing);
        assert_eq!(sugar.verdict, BalanceVerdict::Depends);
        // 450 on 340.
        assert!(sugar.mend.is_some_and(|mend| mend.contains("132 %")));
        assert_eq!(verdict("buttercream", "icing-sugar", &[("butter", "115 g"), ("icing sugar", "450 g")]), Some(BalanceVerdict::Above));
    }

    #[test]
    fn mashed_banana_stands_in_for_the_milk_of_a_banana_bread_and_raisins_do_not() {
        let bread = |fruit| [("all-purpose flour", "250 g"), ("granulated sugar", "150 g"), ("butter", "115 g"), fruit];
        let water = found("quick-bread", "water", &bread(("banana", "340 g")));
        assert_eq!(water.verdict, BalanceVerdict::Depends);
        assert!(water.mend.is_some_and(|mend| mend.contains("nothing need be added")), "{}", water.why);
        assert_eq!(verdict("quick-bread", "water", &bread(("raisins", "340 g"))), Some(BalanceVerdict::Below));
    }
}
