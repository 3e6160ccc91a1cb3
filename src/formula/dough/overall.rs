//! A dough as a whole: which parts belong to it, which of them are preferments, and what they hold of flour and of water. Percentages are of all flour, wherever it is mixed in.

use crate::formula::base::{flour_and_starch, water};
use crate::formula::{Formula, Line, Mixture, Part, Total};
use crate::quantity::{Factor, Mass, plain};
use crate::reference::{Class, Ingredient};

/// A formula that is one dough: every part of it ends in the final dough.
#[derive(Clone, Debug)]
pub struct Dough {
    pub formula: Formula,
    /// The final dough, by its place.
    pub root: usize,
    /// The preferments, by their places.
    pub preferments: Vec<usize>,
}

/// Where the water of a dough comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WaterOf {
    Water,
    Milk,
    Eggs,
    Fats,
    Other,
}

impl WaterOf {
    pub const ALL: [Self; 5] = [Self::Water, Self::Milk, Self::Eggs, Self::Fats, Self::Other];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Water => "water",
            Self::Milk => "milk",
            Self::Eggs => "eggs",
            Self::Fats => "fats",
            Self::Other => "other",
        }
    }

    /// What a starter was fed with is water as poured.
    pub fn ingredient(ingredient: &Ingredient) -> Self {
        let share = |class| ingredient.counts_as(class).value();
        match ingredient {
            water if water.is_water() => Self::Water,
            _ if share(Class::Flour) > 0.0 => Self::Water,
            _ if share(Class::Egg) > 0.0 => Self::Eggs,
            _ if share(Class::Fat) >= 0.5 => Self::Fats,
            _ if ingredient.allergens_us.contains(&"milk") => Self::Milk,
            _ => Self::Other,
        }
    }
}

/// What is poured into a dough and steers its temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Poured<'d> {
    pub name: &'d str,
    pub mass: Mass,
    /// Its share of water.
    pub water: Factor,
}

/// Trade words for a part that ferments before the dough is mixed.
const CALLED: &[&str] = &[
    "preferment",
    "pre-ferment",
    "poolish",
    "biga",
    "levain",
    "leaven",
    "sponge",
    "sourdough",
    "starter",
    "old dough",
    "rye sour",
    "pâte fermentée",
    "pate fermentee",
    "desem",
    "lievito",
];

/// Whether the name of a part is a trade word for a preferment.
pub fn is_called_preferment(name: &str) -> bool {
    let name = plain(name);
    CALLED.iter().any(|word| name.contains(word))
}

/// What a part of a dough holds.
#[derive(Clone, Debug, Default)]
pub struct Held {
    pub flour: Total,
    pub water: Total,
    pub whole: Total,
}

impl Held {
    fn add(&mut self, line: &Line, starch_is_flour: bool) {
        let flour = if starch_is_flour { flour_and_starch(&line.ingredient) } else { line.ingredient.counts_as(Class::Flour) };
        self.flour.add(&line.weight, line.doubt, flour);
        self.water.add(&line.weight, line.doubt, water(&line.ingredient));
        self.whole.add(&line.weight, line.doubt, Factor::ONE);
    }

    fn of(lines: &[Line], starch_is_flour: bool) -> Self {
        let mut held = Self::default();
        lines.iter().for_each(|line| held.add(line, starch_is_flour));
        held
    }
}

impl Dough {
    /// The dough of a formula: the mixture around `root`, with the parts named joined to it. Everything else of the formula is left out.
    pub fn gathered(formula: &Formula, root: usize, joined: &[usize], preferments: &[usize]) -> Self {
        let belongs = |part: usize| formula.root(part) == root || joined.iter().any(|&one| formula.root(part) == formula.root(one));
        let kept: Vec<usize> = (0..formula.parts.len()).filter(|&part| belongs(part)).collect();
        let place = |part: usize| kept.iter().position(|&one| one == part);
        let root_at = place(root).unwrap_or(0);
        let parts: Vec<Part> =
            kept.iter().map(|&part| Part { into: (part != root).then_some(root_at), ..formula.parts[part].clone() }).collect();
        Self { formula: formula.of_parts(parts), root: root_at, preferments: preferments.iter().filter_map(|&part| place(part)).collect() }
    }

    /// All of it, joined.
    pub fn whole(&self) -> Mixture<'_> {
        Mixture { formula: &self.formula, root: self.root }
    }

    /// All flour.
    pub fn flour(&self) -> Total {
        self.whole().flour()
    }

    /// The water from one kind of ingredient.
    pub fn water_of(&self, kind: WaterOf) -> Total {
        self.whole().sum(|ingredient| if WaterOf::ingredient(ingredient) == kind { water(ingredient) } else { Factor::ZERO })
    }

    /// Each ingredient once, over all parts, in the order of first use.
    pub fn ingredients(&self) -> Vec<(&Ingredient, Total)> {
        let mut all: Vec<(&Ingredient, Total)> = Vec::new();
        for line in self.formula.lines() {
            let place = all.iter().position(|(known, _)| known.id == line.ingredient.id).unwrap_or_else(|| {
                all.push((&line.ingredient, Total::default()));
                all.len() - 1
            });
            all[place].1.add(&line.weight, line.doubt, Factor::ONE);
        }
        all
    }

    /// What a part holds.
    pub fn held(&self, part: usize) -> Held {
        Held::of(&self.formula.parts[part].lines, self.whole().starch_is_flour())
    }

    /// All of it so many times.
    #[must_use]
    pub fn times(mut self, factor: Factor) -> Self {
        self.formula.parts.iter_mut().flat_map(|part| &mut part.lines).for_each(|line| line.scale(factor));
        self
    }

    /// What is poured into the final dough, the heaviest of it: water, or the milk in its stead; nothing where all of it is wet by other things.
    pub fn poured(&self) -> Option<Poured<'_>> {
        let lines = &self.formula.parts[self.root].lines;
        let liquid = |line: &&Line| match water(&line.ingredient) > Factor::ZERO && flour_and_starch(&line.ingredient) == Factor::ZERO {
            true => (line.weight.mass.value() * line.ingredient.counts_as(Class::Liquid)).in_grams(),
            false => 0.0,
        };
        let mass = self.poured_water();
        if mass > Mass::ZERO {
            return Some(Poured { name: "water", mass, water: Factor::ONE });
        }
        let heaviest = lines.iter().filter(|line| liquid(line) > 0.0).max_by(|a, b| liquid(a).total_cmp(&liquid(b)))?;
        let of_it = lines.iter().filter(|line| line.ingredient.id == heaviest.ingredient.id);
        let mass = of_it.map(|line| line.weight.mass.value()).sum();
        Some(Poured { name: &heaviest.ingredient.name, mass, water: water(&heaviest.ingredient) })
    }

    /// What is poured as water into the final dough itself.
    pub fn poured_water(&self) -> Mass {
        let lines = self.formula.parts[self.root].lines.iter();
        lines.filter(|line| line.ingredient.is_water()).map(|line| line.weight.mass.value()).sum()
    }
}
