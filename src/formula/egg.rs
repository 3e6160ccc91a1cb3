//! What counts as egg, white and yolk. Dried egg counts as the fresh egg that it makes, as far as the mixture has the liquid to make it up with; so much of the liquid is egg then, and no liquid any more.

use super::base::water_held;
use super::counted::Summed;
use super::resolved::{Line, Mixture};
use crate::quantity::{Factor, Mass, Pointer, Quantity};
use crate::reference::{Account, Class, Ingredient, Trait};

/// The white of a large egg as printed by USDA SR 28: 33 of 50 g; the yolk is the other 17 g.
pub(super) const WHITE_OF_WHOLE: f64 = 33.0 / 50.0;

/// How much of the dried egg of a mixture finds the water that makes it up. Where none is dried, it does not matter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MadeUp(Factor);

impl MadeUp {
    /// All of it.
    pub const WHOLLY: Self = Self(Factor::ONE);
    /// None of it.
    pub const NOT: Self = Self(Factor::ZERO);

    /// By the water in all that counts as liquid, at the weights as quoted.
    pub(super) fn of(mixture: &Mixture<'_>) -> Self {
        let sum = |share: fn(&Ingredient) -> Factor| mixture.sum(share).mass().value();
        let there = sum(|it| it.counts_as(Class::Liquid) * water_held(it));
        let wanted = sum(water_wanted);
        if there >= wanted { Self::WHOLLY } else { Self(there / wanted) }
    }

    /// The liquid that is egg with this ingredient, for each gram of it.
    pub(super) fn water(self, ingredient: &Ingredient) -> Factor {
        water_wanted(ingredient) * self.0
    }
}

/// The water that makes a gram of it up; nothing of what is not dried.
fn water_wanted(ingredient: &Ingredient) -> Factor {
    let wanted = |fresh: Factor| Factor::times(fresh.value() - ingredient.counts_as(Class::Egg).value());
    ingredient.fresh_egg.map_or(Factor::ZERO, |fresh| wanted(fresh.figure.value()))
}

/// Whole eggs, whites and yolks.
pub(super) fn eggs(ingredient: &Ingredient, made_up: MadeUp) -> Factor {
    ingredient.counts_as(Class::Egg) + made_up.water(ingredient)
}

/// The white in it: a formula that says "6 eggs, separated" names whole eggs.
pub(super) fn whites(ingredient: &Ingredient, made_up: MadeUp) -> Factor {
    part(ingredient, made_up, [Trait::EggWhite, Trait::EggYolk], WHITE_OF_WHOLE)
}

pub(super) fn yolks(ingredient: &Ingredient, made_up: MadeUp) -> Factor {
    part(ingredient, made_up, [Trait::EggYolk, Trait::EggWhite], 1.0 - WHITE_OF_WHOLE)
}

fn part(ingredient: &Ingredient, made_up: MadeUp, [all, none]: [Trait; 2], of_whole: f64) -> Factor {
    if ingredient.counts_as(Class::Egg) == Factor::ZERO || ingredient.is(none) {
        return Factor::ZERO;
    }
    let egg = eggs(ingredient, made_up);
    if ingredient.is(all) { egg } else { egg * Factor::times(of_whole) }
}

/// Tells as what the dried egg of a mixture counts, where there is some.
pub fn tell_made_up(mixture: &Summed<'_>, at: &Pointer<'_>, account: &mut Account) {
    let Some(made_up) = mixture.dried_egg() else { return };
    let dried: Vec<&Line> = mixture.lines().filter(|line| line.ingredient.fresh_egg.is_some()).collect();
    let grams =
        |of: &dyn Fn(&Ingredient) -> Factor| -> Mass { dried.iter().map(|line| line.weight.mass.value() * of(&line.ingredient)).sum() };
    let text = |mass: Mass| Quantity::from(mass).text;
    dried.iter().filter_map(|line| line.ingredient.fresh_egg).for_each(|fresh| account.cite(fresh.citation));
    let name = match dried.as_slice() {
        [only] => &*only.ingredient.name,
        _ => "dried egg",
    };
    let (dry, water) = (text(grams(&|_| Factor::ONE)), grams(&|it| made_up.water(it)));
    if water <= Mass::ZERO {
        let told = format!("There is no liquid to make up the {dry} of {name} with: it counts dry");
        account.assume(told, &at.key("parts"), "dry");
        return;
    }
    let egg = grams(&|it| eggs(it, made_up));
    let short = if made_up == MadeUp::WHOLLY { "" } else { ". There is not liquid enough for all of it, and the rest of it counts dry" };
    let told = format!(
        "{dry} of {name} counts as {} of egg, with the {} of the liquid that makes it up: so much of the liquid is not counted as liquid{short}",
        text(egg),
        text(water)
    );
    account.assume(told, &at.key("parts"), "made up");
}

#[cfg(test)]
mod tests {
    use super::super::balance::trial::{BELOW, WITHIN, findings, found, likeliest, verdict};
    use super::*;
    use crate::reference::Reference;

    #[test]
    fn an_egg_is_white_and_yolk_by_what_the_table_says_of_it_and_not_by_its_name() {
        let known = |id: &str| Reference::load().expect("the tables").ingredients.by_id(id).expect("an ingredient");
        let parts = |of: &Ingredient| [whites, yolks].map(|share| (share(of, MadeUp::WHOLLY).value() * 100.0).round());
        assert_eq!(parts(known("duck-egg")), [66.0, 34.0]);
        assert_eq!([parts(known("dried-egg-white")), parts(known("meringue-powder"))], [[800.0, 0.0], [280.0, 0.0]]);
        assert_eq!([parts(known("dried-egg-yolk")), parts(known("dried-egg"))], [[0.0, 200.0], [264.0, 136.0]]);
        assert_eq!(parts(known("sugared-egg-yolk")), [0.0, 90.0]);
        let own = Ingredient { id: "own:no egg-white, no egg-yolk".into(), traits: Vec::new(), ..known("egg").clone() };
        assert_eq!(parts(&own), [66.0, 34.0]);
    }

    #[test]
    fn dried_egg_with_its_water_is_judged_as_the_egg_that_it_makes() {
        let genoise = |egg: &[(&'static str, &'static str)]| {
            let cake = [("cake flour", "150 g"), ("granulated sugar", "150 g")];
            findings("genoise", &[&cake[..], egg].concat())
                .into_iter()
                .map(|found| (found.rule, found.measured.percent.0.round(), found.verdict))
                .collect::<Vec<_>>()
        };
        let [fresh, dried] = [genoise(&[("egg", "240 g")]), genoise(&[("dried egg", "60 g"), ("water", "180 g")])];
        assert_eq!(fresh, dried);
        // Counted dry it would be 40 % of egg and 120 % of water.
        assert!(dried.contains(&("eggs", 160.0, crate::formula::BalanceVerdict::Within)), "{dried:?}");
        let likely = |egg: &[(&'static str, &'static str)]| {
            likeliest(&[&[("cake flour", "150 g"), ("granulated sugar", "150 g")], egg].concat()).first().map(|it| it.style)
        };
        assert_eq!(likely(&[("dried egg", "60 g"), ("water", "180 g")]), likely(&[("egg", "240 g")]));
    }

    #[test]
    fn dried_egg_counts_as_fresh_only_as_far_as_there_is_water_for_it() {
        let eggs = |water: &[(&'static str, &'static str)]| {
            let cake = [("cake flour", "150 g"), ("granulated sugar", "150 g"), ("dried egg", "60 g")];
            found("genoise", "eggs", &[&cake[..], water].concat()).measured.percent.0
        };
        // 60 and 90 of the 180 g of water that it wants, on 150.
        assert!((eggs(&[]) - 40.0).abs() < 1e-9 && (eggs(&[("water", "90 g")]) - 100.0).abs() < 1e-9);
        // Milk makes it up by the water in it: all that there is, 88.13 of 100 g.
        assert!((eggs(&[("whole milk", "100 g")]) - (60.0 + 88.13) / 1.5).abs() < 0.01, "{}", eggs(&[("whole milk", "100 g")]));
    }

    #[test]
    fn dried_whites_beside_fresh_ones_without_water_are_no_pint_of_whites() {
        let macaron = |more: &'static str| {
            [
                ("almond flour", "150 g"),
                ("powdered sugar", "150 g"),
                ("granulated sugar", "150 g"),
                ("egg white", "55 g"),
                ("dried egg white", more),
            ]
        };
        assert_eq!(verdict("macaron", "whites", &macaron("5 g")), BELOW);
        assert_eq!(
            verdict(
                "angel",
                "water",
                &[("dried egg white", "30 g"), ("water", "210 g"), ("granulated sugar", "240 g"), ("cake flour", "85 g")]
            ),
            WITHIN
        );
    }

    #[test]
    fn what_is_short_of_dried_egg_is_mended_by_dried_egg_and_its_water() {
        let cake = [("cake flour", "150 g"), ("granulated sugar", "150 g"), ("dried egg", "50 g"), ("water", "150 g")];
        // 225 g wanted, 200 there.
        let mend = found("genoise", "eggs", &cake).mend.unwrap_or_default();
        assert!(mend.starts_with("Add 6.3 g of dried whole egg with 19 g of water"), "{mend}");
    }
}
