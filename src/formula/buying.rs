//! What to buy: each ingredient once over all parts; whole eggs for the larger of whites and yolks, fruit for the larger of juice and zest, trimmings added; what is left over is told.

use std::borrow::Cow;

use foldhash::HashMap;
use serde::Serialize;
use utoipa::ToSchema;

use super::resolved::{Formula, Line};
use crate::quantity::{Factor, Figure, Mass, Measures, Percent, Quantity, Size, Span, Unit};
use crate::reference::{Account, EggPart, Ingredient, Reference, Yield};

/// One thing to buy.
#[derive(Debug, Serialize, ToSchema)]
pub struct Bought {
    /// What to buy.
    #[schema(max_length = 200, examples("egg"))]
    pub ingredient: Cow<'static, str>,
    /// How much of it, as bought where trimming takes a share.
    pub amount: Quantity,
    /// How many, where it is bought by the piece: whole ones, rounded up; for less than a hundredth of one no further one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub count: Option<CountShown>,
    /// What remains of it, where the whole is not used.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 5)]
    pub left_over: Vec<LeftOver>,
    /// The id of what is bought, for prices and packs.
    #[serde(skip)]
    #[schema(ignore)]
    pub id: Cow<'static, str>,
    /// How much of it, for prices and packs.
    #[serde(skip)]
    #[schema(ignore)]
    pub mass: Span<Mass>,
}

/// How many pieces: the exact figure and the whole ones to buy.
#[derive(Debug, Serialize, ToSchema)]
pub struct CountShown {
    /// Whole ones to buy.
    #[schema(minimum = 0, maximum = 1e12)]
    pub whole: u64,
    /// The exact figure.
    #[schema(value_type = f64, minimum = 0.0, maximum = 1e12)]
    pub exact: Figure,
    /// Of what kind.
    #[schema(max_length = 80, examples("large (US)"))]
    pub kind: String,
}

/// What remains.
#[derive(Debug, Serialize, ToSchema)]
pub struct LeftOver {
    /// What it is.
    #[schema(max_length = 200, examples("egg yolk"))]
    pub ingredient: Cow<'static, str>,
    /// How much of it.
    pub amount: Quantity,
}

/// Less than this is no left-over but rounding.
const CRUMB: Mass = Mass::grams(0.5);
/// Nobody opens an egg for this share of one, half a gram, which is no left-over either.
const CRUMB_OF_ONE: Factor = Factor::times(0.01);

/// What is used of one ingredient.
#[derive(Clone, Copy, Debug)]
pub struct Used<'f> {
    pub ingredient: &'f Ingredient,
    pub mass: Span<Mass>,
}

/// All that is used of all ingredients, of one formula or of many: each ingredient once, in the order of its first use.
#[derive(Clone, Debug, Default)]
pub struct Usage<'f> {
    used: Vec<Used<'f>>,
    places: HashMap<&'f str, usize>,
    /// The sizes in which eggs are counted, each with the measures that name its market.
    sizes: Vec<(Size, Measures)>,
    /// Those of the first formula that takes eggs: they name the market of eggs that are only weighed.
    measures: Option<Measures>,
}

impl<'f> Usage<'f> {
    /// Adds a formula with each part multiplied.
    pub fn add(&mut self, formula: &'f Formula, factor: impl Fn(usize) -> Factor) {
        let lines: usize = formula.parts.iter().map(|part| part.lines.len()).sum();
        self.used.reserve(lines);
        self.places.reserve(lines);
        for (at, part) in formula.parts.iter().enumerate() {
            for line in &part.lines {
                let mass = line.weight.mass * factor(at);
                if line.ingredient.egg_part().is_some() {
                    self.measures.get_or_insert(formula.measures);
                }
                match self.places.get(&*line.ingredient.id) {
                    Some(&place) => self.used[place].mass = self.used[place].mass + mass,
                    None => {
                        self.places.insert(&line.ingredient.id, self.used.len());
                        self.used.push(Used { ingredient: &line.ingredient, mass });
                    }
                }
                if let Some(size) = line.egg_size()
                    && !self.sizes.iter().any(|(known, measures)| *known == size && *measures == formula.measures)
                {
                    self.sizes.push((size, formula.measures));
                }
            }
        }
    }

    /// Without what is not bought with the rest.
    #[must_use]
    pub fn without(mut self, apart: impl Fn(&Ingredient) -> bool) -> Self {
        self.used.retain(|used| !apart(used.ingredient));
        self.places = self.used.iter().enumerate().map(|(place, used)| (&*used.ingredient.id, place)).collect();
        self
    }

    /// Every ingredient with what is used of it.
    pub fn all(&self) -> &[Used<'f>] {
        &self.used
    }

    /// The sizes in which eggs are counted, each once.
    pub fn egg_sizes(&self) -> impl Iterator<Item = Size> {
        self.sizes.iter().map(|(size, _)| *size)
    }

    /// What to buy for it.
    pub fn buying(&self, reference: &'static Reference, account: &mut Account) -> Vec<Bought> {
        let mut list: Vec<Bought> = Vec::with_capacity(self.used.len());
        for one in &self.used {
            let id = bought_as(one.ingredient);
            let known = list.iter_mut().find(|bought| bought.id == id);
            if one.ingredient.egg_part().is_some() {
                if known.is_none() {
                    list.push(eggs(self, reference, account));
                }
            } else if let Some(entry) = one.ingredient.juiced {
                if known.is_none() {
                    list.push(citrus(entry.from, self, reference, account));
                }
            } else {
                let bought = plain(one, id, reference, account);
                match known {
                    // Apples, say, both peeled and not.
                    Some(known) => {
                        known.mass = known.mass + bought.mass;
                        known.amount = Quantity::from(known.mass);
                    }
                    None => list.push(bought),
                }
            }
        }
        list
    }

    fn mass_of(&self, id: &str) -> Option<Span<Mass>> {
        self.places.get(id).map(|&place| self.used[place].mass)
    }

    /// The size in which eggs are counted, the first that is named; large where they are only weighed.
    fn egg_size(&self) -> (Size, Measures) {
        let large = (Size::LARGE, self.measures.unwrap_or_default());
        self.sizes.first().copied().unwrap_or(large)
    }
}

/// The buying list of a formula with each part multiplied.
pub fn buying(formula: &Formula, factor: impl Fn(usize) -> Factor, reference: &'static Reference, account: &mut Account) -> Vec<Bought> {
    let mut usage = Usage::default();
    usage.add(formula, factor);
    usage.buying(reference, account)
}

/// The id of what is bought for an ingredient: an egg for its white, a lemon for its juice, an apple for what is peeled of it, else itself.
pub fn bought_as(ingredient: &Ingredient) -> Cow<'static, str> {
    if ingredient.egg_part().is_some() {
        return Cow::Borrowed("egg");
    }
    ingredient.juiced.or(ingredient.trimmed).map_or_else(|| ingredient.id.clone(), |entry| Cow::Borrowed(entry.from))
}

/// How much of what is bought this much of an ingredient would take alone: in eggs, in fruits, or in grams before trimming.
pub fn taken_alone(ingredient: &Ingredient, mass: Mass, usage: &Usage<'_>, reference: &'static Reference) -> Factor {
    let grams = Factor::times(mass.in_grams());
    if let Some(part) = ingredient.egg_part() {
        let (size, measures) = usage.egg_size();
        return reference.eggs.find(size, part, measures).map_or(grams, |egg| mass / egg.edible.figure.value());
    }
    if let Some(entry) = ingredient.juiced {
        return entry.each.map_or(grams, |each| mass / each.value());
    }
    ingredient.trimmed.and_then(|entry| entry.percent).map_or(grams, |percent| grams / percent.value().as_factor())
}

/// Whole eggs: those used whole, and as many more as the larger of whites and yolks takes.
fn eggs(usage: &Usage<'_>, reference: &'static Reference, account: &mut Account) -> Bought {
    let (size, measures) = usage.egg_size();
    let one = |part| reference.eggs.find(size, part, measures).map(|egg| egg.edible);
    let [egg, white, yolk] = EggPart::ALL.map(one);
    let each = |cited: Option<crate::reference::Cited<Span<Mass>>>, usual: Mass| cited.map_or(usual, |c| c.figure.value());
    // SR28's large egg, should a market's table lack the class: the resolver has refused such a size before.
    let [egg_mass, white_mass, yolk_mass] = [(egg, 50.0), (white, 33.0), (yolk, 17.0)].map(|(c, usual)| each(c, Mass::grams(usual)));
    egg.into_iter().chain(white).chain(yolk).for_each(|cited| account.cite(cited.citation));
    let nothing = Span::exact(Mass::ZERO);
    let [whole_used, whites, yolks] = EggPart::ALL.map(|part| usage.mass_of(part.id()).unwrap_or(nothing).value());
    let (as_whole, by_white, by_yolk) = (whole_used / egg_mass, whites / white_mass, yolks / yolk_mass);
    let exact = opened([as_whole, by_white, by_yolk]);
    let bought = exact.rounded_up_but(CRUMB_OF_ONE);
    let parted = Factor::times(bought as f64 - as_whole.value());
    let mut left_over = Vec::new();
    if exact > as_whole {
        left(&mut left_over, "egg white", white_mass * parted - whites);
        left(&mut left_over, "egg yolk", yolk_mass * parted - yolks);
    } else {
        left(&mut left_over, "egg", egg_mass * parted);
    }
    let market = crate::reference::market_said(size.market.unwrap_or(crate::reference::market_of(measures)));
    account.step(|| {
        format!(
            "eggs: {:.2} used whole + the larger of {:.2} for whites and {:.2} for yolks = {:.2}",
            as_whole.value(),
            by_white.value(),
            by_yolk.value(),
            exact.value()
        )
    });
    let mass = egg_mass * Factor::times(bought as f64);
    Bought {
        ingredient: "egg".into(),
        amount: Quantity::from(mass),
        count: Some(CountShown { whole: bought, exact: Figure(exact.value()), kind: format!("{} ({market})", size.class) }),
        left_over,
        id: Cow::Borrowed("egg"),
        mass: Span::exact(mass),
    }
}

/// How many eggs a formula takes as written, whites and yolks by the larger of the two; nothing where it has none.
pub fn eggs_used(formula: &Formula, reference: &'static Reference, account: &mut Account) -> Option<Factor> {
    let lines = || formula.lines();
    let size = lines().find_map(Line::egg_size).unwrap_or(Size::LARGE);
    let by = |part: EggPart| -> Option<Factor> {
        let mass: Mass = lines().filter(|line| line.ingredient.egg_part() == Some(part)).map(|line| line.weight.mass.value()).sum();
        let egg = reference.eggs.find(size, part, formula.measures)?;
        if mass > Mass::ZERO {
            account.cite(egg.edible.citation);
        }
        Some(mass / egg.edible.figure.value())
    };
    let [whole, white, yolk] = EggPart::ALL.map(by);
    let eggs = opened([whole?, white?, yolk?]);
    (eggs > Factor::ZERO).then_some(eggs)
}

/// How many eggs are opened for so many whole ones, whites and yolks: what is left of one is the other.
fn opened([whole, white, yolk]: [Factor; 3]) -> Factor {
    whole + if white > yolk { white } else { yolk }
}

fn left(list: &mut Vec<LeftOver>, ingredient: impl Into<Cow<'static, str>>, amount: Mass) {
    if amount > CRUMB {
        list.push(LeftOver { ingredient: ingredient.into(), amount: Quantity::from(amount) });
    }
}

/// Whole fruits: as many as the larger of juice and zest takes.
fn citrus(fruit: &'static str, usage: &Usage<'_>, reference: &'static Reference, account: &mut Account) -> Bought {
    let yields: Vec<(&'static Yield, Span<Mass>, Mass)> = reference
        .ingredients
        .yields
        .iter()
        .filter(|entry| entry.from == fruit)
        .filter_map(|entry| Some((entry, entry.each?, usage.mass_of(entry.gives).map_or(Mass::ZERO, |mass| mass.value()))))
        .collect();
    let exact = yields.iter().map(|(_, each, mass)| (*mass / each.value()).value()).fold(0.0, f64::max);
    let bought = Factor::times(exact).rounded_up_but(CRUMB_OF_ONE);
    let mut left_over = Vec::new();
    for (entry, each, mass) in &yields {
        account.cite(entry.citation);
        let name = reference.ingredients.by_id(entry.gives).map_or(Cow::Borrowed(entry.gives), |known| known.name.clone());
        left(&mut left_over, name, each.value() * Factor::times(bought as f64) - *mass);
    }
    let named = reference.ingredients.by_id(fruit);
    let each = named.and_then(|known| known.counted("each", None)).map(|counted| counted.mass.figure.value());
    let needed: Mass = yields.iter().map(|(_, _, mass)| *mass).sum();
    let mass = each.map_or(needed, |each| each * Factor::times(bought as f64));
    Bought {
        ingredient: named.map_or(Cow::Borrowed(fruit), |known| known.name.clone()),
        amount: Quantity::from(mass),
        count: Some(CountShown { whole: bought, exact: Figure(exact), kind: "fruit of usual size".to_owned() }),
        left_over,
        id: Cow::Borrowed(fruit),
        mass: Span::exact(mass),
    }
}

/// Anything else: by mass, more where trimming takes its share; by the piece too where it is sold so.
fn plain(one: &Used<'_>, id: Cow<'static, str>, reference: &'static Reference, account: &mut Account) -> Bought {
    let mut amount = one.mass;
    let mut name = one.ingredient.name.clone();
    if let Some(entry) = one.ingredient.trimmed
        && let Some(percent) = entry.percent
    {
        account.cite(entry.citation);
        amount = amount / percent.map(Percent::as_factor);
        if let Some(bought) = reference.ingredients.by_id(entry.from) {
            name = bought.name.clone();
        }
        account.step(|| format!("{name}: of what is bought {:.0} % is used", percent.value().value()));
    }
    Bought { ingredient: name, amount: Quantity::from(amount), count: in_packets(one), left_over: Vec::new(), id, mass: amount }
}

/// Whole packets or sheets beside the exact figure, of what is bought by them.
fn in_packets(one: &Used<'_>) -> Option<CountShown> {
    // Sugar and sauce come in serving packets too; nobody buys them so for a batch.
    let unit = if one.ingredient.fresh_yeast.is_some() { "packet" } else { "sheet" };
    let counted = one.ingredient.counted(unit, None)?;
    let exact = one.mass.value() / counted.mass.figure.value();
    Some(CountShown {
        whole: exact.rounded_up_but(CRUMB_OF_ONE),
        exact: Figure(exact.value()),
        kind: Unit::known(counted.unit).many.to_owned(),
    })
}
