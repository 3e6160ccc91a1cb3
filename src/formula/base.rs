//! What percentages are of. A base exists only where there is such a thing in the mixture: flour, or by nature something else; and only over flour is there a hydration.

use serde::Serialize;
use utoipa::ToSchema;

use super::allergens::is_nut;
use super::counted::{Counts, Reading, Summed};
use super::egg::{MadeUp, whites};
use super::total::Total;
use crate::quantity::{Factor, Percent, Proportion, Span};
use crate::reference::{Base, Basis, Class, Constituent, Ingredient, Trait};

/// What is 100 %.
#[derive(Clone, Debug)]
pub struct NamedBase {
    base: Base,
    starch_is_flour: bool,
    total: Total,
    made_up: MadeUp,
}

impl NamedBase {
    /// The base of a style; nothing where the mixture has no such thing.
    pub fn of(base: Base, starch_is_flour: bool, mixture: &Summed<'_>) -> Option<Self> {
        // Where there is no starch the base is called by what it is.
        let starch_is_flour = starch_is_flour && !mixture[Class::Starch].is_nothing();
        let made_up = mixture.made_up();
        let total = mixture.counted(counts(base, starch_is_flour), whole(base, made_up)).into_owned();
        (!total.is_nothing() && total.mass().is_finite()).then_some(Self { base, starch_is_flour, total, made_up })
    }

    /// The base of a mixture that claims to be nothing: flour, then starch, then the heaviest of what else can carry a formula.
    pub fn natural(mixture: &Summed<'_>) -> Option<Self> {
        Self::of(Base::Class(Class::Flour), starch_is_flour_in(mixture), mixture).or_else(|| {
            let others = [Class::Chocolate, Class::Cheese, Class::Fat, Class::Sugar, Class::Liquid, Class::Egg];
            let mut others: Vec<_> = others.into_iter().map(Base::Class).chain([Base::EggWhite, Base::NutsAndFlour]).collect();
            // Whole eggs are named so only where no white stands alone.
            let white_alone = mixture.lines().any(|line| line.ingredient.is(Trait::EggWhite));
            others.retain(|base| *base != if white_alone { Base::Class(Class::Egg) } else { Base::EggWhite });
            let bases = others.into_iter().filter_map(|base| Self::of(base, false, mixture));
            bases.max_by(|a, b| a.total.mass().value().in_grams().total_cmp(&b.total.mass().value().in_grams()))
        })
    }

    /// Its name in answers.
    pub const fn word(&self) -> &'static str {
        match self.base {
            Base::Class(Class::Flour) if self.starch_is_flour => "flour-and-starch",
            base => base.word(),
        }
    }

    /// Its name in a sentence.
    pub const fn spoken(&self) -> &'static str {
        match self.base {
            Base::Class(Class::Flour) if self.starch_is_flour => "flour and starch",
            base => spoken(base),
        }
    }

    pub const fn base(&self) -> Base {
        self.base
    }

    pub const fn total(&self) -> &Total {
        &self.total
    }

    /// The share of an ingredient's weight that belongs to the base.
    pub(super) fn share_of(&self, ingredient: &Ingredient) -> Factor {
        counts(self.base, self.starch_is_flour).share(ingredient, whole(self.base, self.made_up))
    }

    /// A part as a percentage of the base.
    pub fn percent(&self, part: &Total) -> Span<Percent> {
        part.percent_of(&self.total)
    }

    /// The same base as flour, if it is flour: only then is there a hydration.
    pub fn flour(&self) -> Option<FlourBase<'_>> {
        (self.base == Base::Class(Class::Flour)).then_some(FlourBase(self))
    }
}

/// What is told where it does.
pub const STARCH_IS_FLOUR: &str = "No flour in it binds as that of wheat does: the starch counts as flour with it";

/// Whether starch is flour here, whatever the style: where there is no other flour, and where no flour has the gluten to bind, for what is baked without it
/// is made of flour and starch together. What is in a caller's own flour nobody knows.
pub fn starch_stands_as_flour<'i>(ingredients: impl Iterator<Item = &'i Ingredient>) -> bool {
    let mut has_starch = false;
    for ingredient in ingredients {
        let is_flour = ingredient.counts_as(Class::Flour) > Factor::ZERO;
        if is_flour && binds(ingredient) {
            return false;
        }
        has_starch |= ingredient.counts_as(Class::Starch) > Factor::ZERO;
    }
    has_starch
}

/// Whether a flour may bind a dough: by the law's list of cereals with gluten, but for those of which it is known that they do not.
fn binds(flour: &Ingredient) -> bool {
    flour.citation.is_none() || flour.allergens_eu.contains(&"cereals-with-gluten") && !flour.is(Trait::BindsNoDough)
}

/// The same of a mixture; where no starch is summed, nothing is walked.
pub(super) fn starch_is_flour_in(mixture: &Summed<'_>) -> bool {
    !mixture[Class::Starch].is_nothing() && mixture.starch_is_flour()
}

/// A base as it is called in a sentence.
pub const fn spoken(base: Base) -> &'static str {
    match base {
        Base::EggWhite => "egg whites",
        Base::NutsAndFlour => "nuts and flour",
        Base::Class(Class::Egg) => "eggs",
        Base::Class(class) => class.word(),
    }
}

/// What is counted of an ingredient towards a base.
const fn counts(base: Base, starch_is_flour: bool) -> Counts {
    match base {
        Base::Class(Class::Flour) if starch_is_flour => Counts::Either(Class::Flour, Class::Starch),
        Base::Class(Class::Chocolate) => Counts::Each(|ingredient, _| melted_chocolate(ingredient)),
        Base::Class(class) => Counts::Class(class),
        Base::EggWhite => Counts::Each(|ingredient, reading| whites(ingredient, reading.made_up)),
        Base::NutsAndFlour => Counts::Each(|ingredient, _| nuts(ingredient) + flour_and_starch(ingredient)),
    }
}

/// A base is always the whole weight.
const fn whole(base: Base, made_up: MadeUp) -> Reading {
    Reading { basis: Basis::Whole, base, made_up }
}

/// The share of an ingredient's weight that belongs to a base, dried egg made up.
pub fn share(base: Base, starch_is_flour: bool, ingredient: &Ingredient) -> Factor {
    counts(base, starch_is_flour).share(ingredient, whole(base, MadeUp::WHOLLY))
}

/// Up to this share of its weight flour thickens a cream or a filling; a batter has twice as much, and a crumb of it. Common practice, no source.
pub(super) const THICKENS: f64 = 0.1;

pub(super) fn flour_and_starch(ingredient: &Ingredient) -> Factor {
    ingredient.counts_as(Class::Flour) + ingredient.counts_as(Class::Starch)
}

/// Nuts: additions that carry the allergen of tree nuts or peanuts.
pub(super) fn nuts(ingredient: &Ingredient) -> Factor {
    if ingredient.allergens_us.iter().any(|allergen| is_nut(allergen)) { ingredient.counts_as(Class::Additions) } else { Factor::ZERO }
}

/// Chips are pieces in a dough, and chocolate where chocolate itself is the base: there they are melted.
pub(super) fn melted_chocolate(ingredient: &Ingredient) -> Factor {
    if ingredient.is(Trait::MeltsToChocolate) { Factor::ONE } else { ingredient.counts_as(Class::Chocolate) }
}

/// Fats that are nothing else: butter, oil, lard; not cream, not nut butter.
pub(super) fn pure_fat(ingredient: &Ingredient) -> bool {
    ingredient.counts_as(Class::Fat).value() >= 0.9
}

/// A base that is flour.
#[derive(Clone, Copy, Debug)]
pub struct FlourBase<'b>(&'b NamedBase);

/// Water to flour, in the three ways in which the trade says hydration. The water within the flour itself is never counted.
#[derive(Clone, Copy, Debug, Serialize, ToSchema)]
pub struct Hydration {
    /// Water, milk, juice and other liquids by their whole weight, eggs left out.
    pub added_liquid: Proportion,
    /// The water in everything but flour and starch: in milk, eggs, butter, syrup, fruit.
    pub all_water: Proportion,
    /// The same without the water in butter and other fats.
    pub without_butter: Proportion,
}

impl FlourBase<'_> {
    /// Without its basis a hydration misleads, so all three are told.
    pub fn hydration(self, mixture: &Summed<'_>) -> Hydration {
        let percent = |total: &Total| Proportion::from(self.0.percent(total));
        let (mut all, mut without_fats) = (Total::default(), Total::default());
        mixture.lines().for_each(|line| {
            let water = water(&line.ingredient);
            all.add(&line.weight, line.doubt, water);
            if !pure_fat(&line.ingredient) {
                without_fats.add(&line.weight, line.doubt, water);
            }
        });
        Hydration { added_liquid: percent(&mixture[Class::Liquid]), all_water: percent(&all), without_butter: percent(&without_fats) }
    }
}

/// The water that an ingredient brings. Of a starter only what was poured into it; water itself is wholly water.
pub(super) fn water(ingredient: &Ingredient) -> Factor {
    if flour_and_starch(ingredient).value() > 0.0 {
        return ingredient.counts_as(Class::Liquid);
    }
    water_held(ingredient)
}

/// The water in it, whatever it counts as.
pub(super) fn water_held(ingredient: &Ingredient) -> Factor {
    if ingredient.is_water() {
        return Factor::ONE;
    }
    ingredient.composition.map_or(Factor::ZERO, |composition| composition.share(Constituent::Water))
}

#[cfg(test)]
mod tests {
    use super::super::balance::trial::formula;
    use super::*;

    #[test]
    fn a_brioche_has_three_hydrations() {
        // Computed from USDA SR 28: egg 76.15, milk 88.13, butter 17.94 g of water in 100 g.
        let dough = formula(&[("bread flour", "500 g"), ("egg", "250 g"), ("whole milk", "50 g"), ("butter", "250 g")]);
        let dough = dough.main().summed();
        let hydration = NamedBase::natural(&dough).as_ref().and_then(NamedBase::flour).map(|flour| flour.hydration(&dough));
        let figures = hydration.map(|h| [h.added_liquid, h.all_water, h.without_butter].map(|p| (p.percent.0 * 100.0).round() / 100.0));
        assert_eq!(figures, Some([10.0, 55.86, 46.89]));
    }

    #[test]
    fn without_flour_there_is_no_hydration_and_the_heaviest_is_the_base() {
        let ganache = formula(&[("dark chocolate", "300 g"), ("heavy cream", "200 g")]);
        let base = NamedBase::natural(&ganache.main().summed());
        assert_eq!(base.as_ref().map(NamedBase::word), Some("chocolate"));
        assert!(base.as_ref().is_some_and(|base| base.flour().is_none()));
    }

    #[test]
    fn chips_are_chocolate_where_the_table_says_that_they_melt_to_it_and_not_by_their_name() {
        let known = |id: &str| crate::reference::Reference::load().expect("the tables").ingredients.by_id(id).expect("an ingredient");
        let own = Ingredient { id: "own:no chocolate-chips".into(), traits: Vec::new(), ..known("egg").clone() };
        assert_eq!((melted_chocolate(&own), melted_chocolate(known("mini-chocolate-chips"))), (Factor::ZERO, Factor::ONE));
    }

    #[test]
    fn fruit_alone_carries_no_formula() {
        let fruit = formula(&[("strawberry", "300 g")]);
        assert!(NamedBase::natural(&fruit.main().summed()).is_none());
    }
}
