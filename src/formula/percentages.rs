//! Percentages of a base, and what the mixture is made of, as they leave: line by line, class by class, constituent by constituent.

use serde::Serialize;
use utoipa::ToSchema;

use super::base::NamedBase;
use super::counted::Summed;
use super::place::LinePlace;
use super::resolved::{Line, Mixture};
use super::total::Total;
use crate::quantity::{Factor, Proportion, Quantity};
use crate::reference::{Class, Constituent};

/// Percentages of the base, line by line and class by class.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Percentages {
    /// What is 100 %: flour, or what stands in its place.
    #[schema(examples("flour"), max_length = 40)]
    pub basis: &'static str,
    /// Each line, in the order of the formula.
    #[schema(max_items = 10_000)]
    pub lines: Vec<LinePercent>,
    /// Each class of ingredient by its shares; flour comes first.
    pub classes: ClassPercents,
}

/// One line as a percentage of the base.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct LinePercent {
    /// Where the line stands in the question, as a JSON Pointer.
    #[schema(value_type = String, examples("/formula/parts/0/lines/1"), max_length = 200)]
    pub pointer: LinePlace,
    /// The ingredient as the table names it.
    #[schema(examples("granulated sugar"), max_length = 200)]
    pub ingredient: std::borrow::Cow<'static, str>,
    /// Hundredths of the basis.
    #[schema(minimum = 0.0, examples(95.0))]
    pub percent: crate::quantity::Figure,
    /// The least it may be, where it is not exact.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, examples(93.0))]
    pub low: Option<crate::quantity::Figure>,
    /// The most it may be, where it is not exact.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, examples(97.0))]
    pub high: Option<crate::quantity::Figure>,
}

/// Makes a closed set of optional proportions, so that the order is the trade's and each is described.
macro_rules! proportions {
    ($(#[$doc:meta])* $name:ident by $key:ident, $($(#[$field_doc:meta])* $field:ident = $member:ident),*) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default, Serialize, ToSchema)]
        #[serde(rename_all = "kebab-case")]
        pub struct $name {
            $($(#[$field_doc])* #[serde(skip_serializing_if = "Option::is_none")] #[schema(nullable = false)] pub $field: Option<Proportion>,)*
        }

        impl $name {
            /// Fills each place by what is found for it.
            fn fill(of: impl Fn($key) -> Option<Proportion>) -> Self {
                Self { $($field: of($key::$member)),* }
            }
        }
    };
}

proportions!(
    /// Classes as percentages of the base; a class that does not occur is left out.
    ClassPercents by Class,
    /// Flours of every grain, in hundredths of the basis.
    flour = Flour,
    /// Pure starches, in hundredths of the basis.
    starch = Starch,
    /// Cocoa, in hundredths of the basis.
    cocoa = Cocoa,
    /// Sugars and syrups, in hundredths of the basis.
    sugar = Sugar,
    /// Butter, oil and the fat of cream by the whole weight, in hundredths of the basis.
    fat = Fat,
    /// Whole eggs, whites and yolks, dried ones with the liquid that makes them up, in hundredths of the basis.
    egg = Egg,
    /// Water, milk and other liquids by the whole weight, without what makes up dried eggs, in hundredths of the basis.
    liquid = Liquid,
    /// Dry milk, in hundredths of the basis.
    milk_solids = MilkSolids,
    /// Powder, soda and yeast as weighed, in hundredths of the basis.
    leavening = Leavening,
    /// Dry acids, in hundredths of the basis.
    acid = Acid,
    /// Salt, in hundredths of the basis.
    salt = Salt,
    /// Fresh cheeses, in hundredths of the basis.
    cheese = Cheese,
    /// Chocolate, in hundredths of the basis.
    chocolate = Chocolate,
    /// Fruit, nuts and pieces, in hundredths of the basis.
    additions = Additions,
    /// Spices, extracts and zest, in hundredths of the basis.
    flavouring = Flavouring
);

proportions!(
    /// Grams of each constituent in 100 g of the mixture before baking; one that does not occur is left out. Sugars, starch and fibre stand as far as the sources have them.
    Contents by Constituent,
    /// Water, in grams in 100 g.
    water = Water,
    /// Protein, in grams in 100 g.
    protein = Protein,
    /// Fat, in grams in 100 g.
    fat = Fat,
    /// Sugars, in grams in 100 g.
    sugars = Sugars,
    /// Starch, in grams in 100 g.
    starch = Starch,
    /// Fibre, in grams in 100 g.
    fibre = Fibre,
    /// Alcohol, in grams in 100 g.
    alcohol = Alcohol
);

/// What the mixture is made of before baking, fruit, nuts and pieces included.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct MixtureContents {
    /// What the whole mixture weighs.
    pub weight: Quantity,
    /// Grams of each constituent in 100 g of the mixture.
    pub in_100_g: Contents,
    /// How much of the weight has no figures of composition and counts as none, in hundredths of the weight; left out where all has.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub without_figures: Option<Proportion>,
}

impl Percentages {
    pub fn of(mixture: &Summed<'_>, base: &NamedBase) -> Self {
        let mut lines = Vec::with_capacity(mixture.members().map(|part| mixture.formula.parts[part].lines.len()).sum());
        lines.extend(mixture.placed().map(|(place, line)| LinePercent::of(base, place, line)));
        Self { basis: base.word(), lines, classes: ClassPercents::of(mixture, base) }
    }
}

impl ClassPercents {
    fn of(mixture: &Summed<'_>, base: &NamedBase) -> Self {
        Self::fill(|class| some(base.total(), &mixture[class]))
    }
}

fn some(base: &Total, part: &Total) -> Option<Proportion> {
    (!part.is_nothing()).then(|| part.percent_of(base).into())
}

impl LinePercent {
    fn of(base: &NamedBase, pointer: LinePlace, line: &Line) -> Self {
        let Proportion { percent, low, high } = base.percent(&line.total()).into();
        Self { pointer, ingredient: line.ingredient.name.clone(), percent, low, high }
    }
}

impl MixtureContents {
    pub fn of(mixture: &Mixture<'_>) -> Self {
        let mut totals: [Total; Constituent::ALL.len()] = Default::default();
        let (mut whole, mut unknown) = (Total::default(), Total::default());
        mixture.lines().for_each(|line| {
            whole.add(&line.weight, line.doubt, Factor::ONE);
            match &line.ingredient.composition {
                Some(composition) => Constituent::ALL
                    .iter()
                    .for_each(|constituent| totals[*constituent as usize].add(&line.weight, line.doubt, composition.share(*constituent))),
                None => unknown.add(&line.weight, line.doubt, Factor::ONE),
            }
        });
        Self {
            weight: whole.mass().into(),
            in_100_g: Contents::fill(|constituent| some(&whole, &totals[constituent as usize])),
            without_figures: some(&whole, &unknown),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::balance::trial::formula;
    use super::*;

    #[test]
    fn flour_is_a_hundred_per_cent_and_two_flours_together_are() {
        let mixed = formula(&[("bread flour", "300 g"), ("whole wheat flour", "200 g"), ("water", "350 g")]);
        let mixed = mixed.main().summed();
        let classes = NamedBase::natural(&mixed).map(|base| Percentages::of(&mixed, &base).classes);
        assert_eq!(classes.and_then(|c| c.flour).map(|p| p.percent.0), Some(100.0));
    }
}
