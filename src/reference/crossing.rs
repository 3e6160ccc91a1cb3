//! The crossing between volume, count and mass: possible only through a particular ingredient, and as sharp as what was published of it.

use super::Reference;
use super::account::Account;
use super::egg::{market_of, market_said};
use super::ingredient::{EggPart, Ingredient, Nature};
use super::source::Citation;
use super::weight::{Filled, Weighing};
use crate::quantity::{
    Amount, Code, Counting, Factor, Family, Fault, Mass, Measures, Number, Pointer, Size, Span, Unit, Volume, plain, short, size_before,
};

/// What moves together when a weight is in doubt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// None: the weight is what it is.
    Sharp,
    /// How the cups were filled: all cups of one person move together.
    Way,
    /// What was published of the ingredient: all its lines move together.
    Ingredient,
    /// A range that was written: this line alone.
    Line,
}

/// The mass that an amount stands for.
#[derive(Clone, Debug)]
pub struct Weight {
    pub mass: Span<Mass>,
    pub doubt: Doubt,
    /// The mass for each way of filling, where the way was left open.
    pub by_way: Option<Box<[Span<Mass>; Filled::ALL.len()]>>,
}

/// What an amount is an amount of, and how it is measured.
#[derive(Clone, Copy)]
pub struct Measuring<'a> {
    pub ingredient: &'a Ingredient,
    /// The state in which it is measured (chopped, whipped …), or nothing.
    pub form: &'a str,
    pub filled: Option<Filled>,
    pub measures: Measures,
    /// Where the measures would be set; nothing where they were said.
    pub measures_at: Option<&'a Pointer<'a>>,
    /// Where the way of filling would be set.
    pub filled_at: &'a Pointer<'a>,
}

impl Reference {
    /// The mass of an amount of an ingredient, told and cited on the account.
    pub fn weigh(&self, amount: &Amount, of: &Measuring<'_>, at: &Pointer<'_>, account: &mut Account) -> Result<Weight, Fault> {
        match &amount.counting {
            Counting::Unit(unit) => self.weigh_unit(amount, unit, of, at, account),
            Counting::Disher(per_quart) => {
                let quart = Volume::millilitres(Unit::known("us-quart").size);
                self.weigh_volume(amount, quart / *per_quart, of, at, account)
            }
            Counting::Size(size) => self.weigh_size(amount, *size, of, at, account),
            Counting::Nothing => self.weigh_pieces(amount, 1.0, of, at, account),
            Counting::Named(word) => self.weigh_named(amount, word, of, at, account),
        }
    }

    fn weigh_unit(
        &self,
        amount: &Amount,
        unit: &'static Unit,
        of: &Measuring<'_>,
        at: &Pointer<'_>,
        account: &mut Account,
    ) -> Result<Weight, Fault> {
        tell_measures(unit, of.measures, of.measures_at, account);
        tell_fingers(unit, at, account);
        match unit.family {
            Family::Mass => {
                if unit.id == "ounce" && of.ingredient.nature == Nature::Liquid {
                    account.assume("An ounce of a liquid is taken as a weight, not as a fluid ounce", at, "oz");
                }
                Ok(so_many(&amount.number, Span::exact(Mass::grams(unit.size))))
            }
            Family::Volume => self.weigh_volume(amount, Volume::millilitres(unit.size), of, at, account),
            Family::Count if matches!(unit.id, "each" | "dozen") => self.weigh_pieces(amount, unit.size, of, at, account),
            Family::Count => counted(amount, unit.id, of, at, account),
            other => Err(Fault::new(at, Code::WrongUnit, other.word(), "a mass, a volume or a count of the ingredient")),
        }
    }

    fn weigh_volume(
        &self,
        amount: &Amount,
        one: Volume,
        of: &Measuring<'_>,
        at: &Pointer<'_>,
        account: &mut Account,
    ) -> Result<Weight, Fault> {
        let weighing = of.density(at)?;
        cite_all(&weighing.citations, account);
        let volume = one * Factor::times(amount.number.value);
        of.tell_way(weighing, account);
        let sharp = amount.number.is_exact();
        let mass = weighing.density.map(|density| density * one) * amount.number.span();
        // What is packed by custom moves by itself, however flour is filled.
        let by_filling = weighing.way_open && !of.ingredient.weighings.packed_by_custom;
        let doubt = match (by_filling, weighing.density.is_exact(), sharp) {
            (true, ..) => Doubt::Way,
            (_, false, _) => Doubt::Ingredient,
            (_, _, false) => Doubt::Line,
            _ => Doubt::Sharp,
        };
        let by_way = by_filling.then(|| {
            let filled = |weighing: &Weighing| weighing.density.map(|density| density * one) * amount.number.span();
            Box::new(Filled::ALL.map(|way| of.ingredient.weighing(Some(way), of.form).map_or(mass, filled)))
        });
        account.step(|| {
            format!(
                "{} {}: {} ml x {} g/ml = {} g",
                short(amount.number.value),
                of.ingredient.name,
                short(volume.in_millilitres()),
                short(weighing.density.value().in_grams_per_millilitre()),
                short(mass.value().in_grams())
            )
        });
        Ok(Weight { mass, doubt, by_way })
    }

    fn weigh_size(
        &self,
        amount: &Amount,
        size: Size,
        of: &Measuring<'_>,
        at: &Pointer<'_>,
        account: &mut Account,
    ) -> Result<Weight, Fault> {
        let Some(part) = of.ingredient.egg_part() else { return counted_in_grade(amount, "each", size.class, of, at, account) };
        let market = size.market.unwrap_or(market_of(of.measures));
        let Some(egg) = self.eggs.find(size, part, of.measures) else {
            let classes = self.eggs.all.iter().filter(|egg| egg.market == market && egg.part == part).map(|egg| egg.class);
            return Err(Fault::new(at, Code::UnknownWord, size.class, format!("a class of the {market} market"))
                .trying(classes.map(|class| format!("{} {class}", amount.number.value)).take(6)));
        };
        if size.market.is_none()
            && let Some(measures_at) = of.measures_at
        {
            account.assume(format!("The egg classes are those of the {} market", market_said(market)), measures_at, of.measures.word());
        }
        account.cite(egg.edible.citation);
        account.step(|| {
            format!(
                "{} x {} {} ({}) x {} g",
                short(amount.number.value),
                size.class,
                of.ingredient.name,
                market,
                short(egg.edible.figure.value().in_grams())
            )
        });
        Ok(so_many(&amount.number, egg.edible.figure))
    }

    /// Pieces of the ingredient itself: eggs (large unless said), fruits.
    fn weigh_pieces(
        &self,
        amount: &Amount,
        per: f64,
        of: &Measuring<'_>,
        at: &Pointer<'_>,
        account: &mut Account,
    ) -> Result<Weight, Fault> {
        let number = amount.number.times(per);
        let pieces = Amount { number, counting: Counting::Nothing };
        if of.ingredient.egg_part().is_some() {
            account.assume("Eggs without a size are large", at, format!("{} large", number.value));
            return self.weigh_size(&pieces, Size::LARGE, of, at, account);
        }
        if of.ingredient.counted("each", None).is_none() {
            return Err(if per == 1.0 && amount.counting == Counting::Nothing { amount.unit_missing(at) } else { not_counted(of, at) });
        }
        counted(&pieces, "each", of, at, account)
    }

    /// A word that is no unit: the thing itself, or what it is got from.
    fn weigh_named(
        &self,
        amount: &Amount,
        word: &str,
        of: &Measuring<'_>,
        at: &Pointer<'_>,
        account: &mut Account,
    ) -> Result<Weight, Fault> {
        let word = plain(word);
        let single = word.strip_suffix('s').unwrap_or(&word);
        if of.ingredient.counted(single, None).is_some() {
            return counted(amount, single, of, at, account);
        }
        // "4 silver sheets": a grade before the thing that is counted.
        if let Some((grade, thing)) = word.rsplit_once(' ')
            && let Some(unit) = Unit::of_word(thing, of.measures)
            && of.ingredient.counted_by(unit.id, Some(grade)).is_some()
        {
            return counted_in_grade(amount, unit.id, grade, of, at, account);
        }
        if let Some(weight) = self.weigh_parts(amount, single, of, at, account) {
            return weight;
        }
        let Some(named) = self.ingredients.find(&word) else { return Err(amount.unknown_unit(&word, at)) };
        if *named.ingredient.id == *of.ingredient.id {
            // "gelatin sheets": the name of the ingredient tells the unit.
            let told = word
                .split(' ')
                .filter_map(|part| Unit::of_word(part, of.measures))
                .find(|unit| of.ingredient.counted(unit.id, None).is_some());
            if let Some(unit) = told {
                return counted(amount, unit.id, of, at, account);
            }
            return self.weigh_pieces(amount, 1.0, of, at, account);
        }
        let yielded = self.ingredients.yields.iter().find(|y| y.from == named.ingredient.id && y.gives == of.ingredient.id);
        match yielded.and_then(|y| Some((y, y.each?))) {
            Some((entry, each)) => {
                account.cite(entry.citation);
                // "2 large lemons".
                let usual =
                    if size_before(&word).is_some() { ", whatever its size: that of a larger or smaller one is not known" } else { "" };
                account.assume(
                    format!("One {} gives {} g of {}{usual}", named.ingredient.name, short(each.value().in_grams()), of.ingredient.name),
                    at,
                    format!("{} g", short(each.value().in_grams() * amount.number.value)),
                );
                Ok(so_many(&amount.number, each))
            }
            None => Err(amount.unknown_unit(&word, at)),
        }
    }
}

/// The part of an egg that a word means, and its size where it says one: "eggs", "large whites", "egg yolk".
pub fn egg_word(word: &str) -> Option<(Option<Size>, EggPart)> {
    let word = plain(word);
    let (size, thing) = size_before(&word).map_or((None, &*word), |(size, thing)| (Some(size), thing));
    let part = match thing.strip_suffix('s').unwrap_or(thing) {
        "egg" => EggPart::Whole,
        "white" | "egg white" => EggPart::White,
        "yolk" | "egg yolk" => EggPart::Yolk,
        _ => return None,
    };
    Some((size, part))
}

impl Reference {
    /// "3 whites", "2 large egg yolks", and "2 eggs" of which the yolks are taken; nothing where no egg is counted.
    fn weigh_parts(
        &self,
        amount: &Amount,
        word: &str,
        of: &Measuring<'_>,
        at: &Pointer<'_>,
        account: &mut Account,
    ) -> Option<Result<Weight, Fault>> {
        let mine = of.ingredient.egg_part()?;
        let (size, part) = egg_word(word)?;
        // "2 eggs" of which the yolks are taken.
        let said = (part != EggPart::Whole).then_some(part);
        if let Some(part) = said.filter(|part| *part != mine) {
            let number = short(amount.number.value);
            let other = part.word();
            return Some(Err(Fault::new(
                at,
                Code::NotTogether,
                format!("{other}s of {}", of.ingredient.name),
                format!("eggs, or the ingredient egg {other}"),
            )
            .saying(format!("Egg {other}s are another ingredient than {}: name egg {other}, or count whole eggs", of.ingredient.name))
            .trying([format!("{number} large")])));
        }
        Some(match size {
            Some(size) => self.weigh_size(amount, size, of, at, account),
            None => self.weigh_pieces(amount, 1.0, of, at, account),
        })
    }
}

impl Measuring<'_> {
    /// The density of what is measured, or the refusal that tells what is known of it. Where it was measured in states only (whole, chopped,
    /// ground …), the span of all of them holds a cup whose state was not said.
    pub fn density(&self, at: &Pointer<'_>) -> Result<&Weighing, Fault> {
        let weighings = &self.ingredient.weighings;
        weighings.find(self.filled, self.form).or_else(|| weighings.in_any_form(self.filled)).ok_or_else(|| self.no_density(at))
    }

    /// Tells where a cup was not measured as it is filled here, whether or not that was said.
    pub fn tell_way(&self, weighing: &Weighing, account: &mut Account) {
        let (open, name) = (weighing.way_open, &self.ingredient.name);
        let text = match self.filled {
            None if open => format!("How the cup of {name} was filled was not said: the span holds every way"),
            Some(way) if open => {
                format!("What a cup of {name} weighs when it is {} is not published: the span holds every way that is", way.word())
            }
            Some(way) if self.ingredient.is_flour() && self.ingredient.measured.iter().all(|measured| measured.filled != Some(way)) => {
                format!("What a cup of {name} weighs when it is {} is not published: it is taken as it is published", way.word())
            }
            _ => return,
        };
        account.assume(text, self.filled_at, "any");
    }

    fn no_density(&self, at: &Pointer<'_>) -> Fault {
        let forms = self.ingredient.forms();
        let fault = Fault::new(at, Code::NoDensity, &*self.ingredient.name, "a mass, such as \"100 g\"");
        if forms.is_empty() {
            return fault;
        }
        let tries: Vec<String> = forms.iter().map(|form| format!("{form} {}", self.ingredient.name)).collect();
        fault.saying(format!("What a cup of {} weighs is known only as {}", self.ingredient.name, forms.join(", "))).trying(tries)
    }
}

/// Tells whose cups and spoons are meant, where that matters and was not said: `at` is where it would be.
pub fn tell_measures(unit: &Unit, measures: Measures, at: Option<&Pointer<'_>>, account: &mut Account) {
    if unit.is_national()
        && unit.sets.contains(&measures)
        && let Some(at) = at
    {
        account.assume(unit.taken_for_us(), at, measures.word());
    }
}

/// "chickpeas, drained": a weight is that of what was measured, and of a full tin less is left.
pub fn tell_drained(of: &Ingredient, said: &str, at: &Pointer<'_>, account: &mut Account) {
    let Some((entry, share)) = of.drained.and_then(|entry| Some((entry, entry.percent?))) else { return };
    if plain(said).contains("drained") {
        account.cite(entry.citation);
        let ends = [share.low(), share.high()].map(|end| short(end.value()));
        let text = format!("The weight is taken for what is left: of a full tin of {} it is {} to {} %", of.name, ends[0], ends[1]);
        account.assume(text, at, of.name.clone());
    }
}

/// Tells for what spoon a pinch is taken.
pub fn tell_fingers(unit: &Unit, at: &Pointer<'_>, account: &mut Account) {
    if let Some(spoon) = unit.by_the_fingers() {
        account.assume(format!("A {} is taken as {spoon} of the US: it has no standard", unit.one), at, spoon);
    }
}

fn counted(amount: &Amount, unit: &str, of: &Measuring<'_>, at: &Pointer<'_>, account: &mut Account) -> Result<Weight, Fault> {
    let Some(counted) = of.ingredient.counted_by(unit, None) else { return Err(not_counted(of, at)) };
    account.cite(counted.mass.citation);
    account.step(|| format!("{} {} x {} g", short(amount.number.value), of.ingredient.name, short(counted.mass.figure.value().in_grams())));
    Ok(so_many(&amount.number, counted.mass.figure))
}

fn counted_in_grade(
    amount: &Amount,
    unit: &str,
    grade: &str,
    of: &Measuring<'_>,
    at: &Pointer<'_>,
    account: &mut Account,
) -> Result<Weight, Fault> {
    let Some(counted) = of.ingredient.counted_by(unit, Some(grade)) else { return Err(not_counted(of, at)) };
    account.cite(counted.mass.citation);
    account.step(|| {
        format!("{} {grade} {} x {} g", short(amount.number.value), of.ingredient.name, short(counted.mass.figure.value().in_grams()))
    });
    Ok(so_many(&amount.number, counted.mass.figure))
}

fn not_counted(of: &Measuring<'_>, at: &Pointer<'_>) -> Fault {
    let known: Vec<String> = of
        .ingredient
        .counted
        .iter()
        .map(|c| ["1", c.size, if c.unit == "each" { "" } else { c.unit }].join(" ").split_whitespace().collect::<Vec<_>>().join(" "))
        .take(4)
        .collect();
    Fault::new(at, Code::NotCounted, &*of.ingredient.name, "a mass or a volume")
        .saying(format!("What {} weighs, counted so, is not known: give a mass or a volume", of.ingredient.name))
        .trying(known)
        .trying(["100 g", "1 cup"])
}

/// So many of one mass: as sharp as the mass and the number are.
fn so_many(number: &Number, one: Span<Mass>) -> Weight {
    let doubt = match (one.is_exact(), number.is_exact()) {
        (false, _) => Doubt::Ingredient,
        (true, false) => Doubt::Line,
        (true, true) => Doubt::Sharp,
    };
    Weight { mass: one * number.span(), doubt, by_way: None }
}

/// Cites everything that a weighing rests on.
pub fn cite_all(citations: &[Citation], account: &mut Account) {
    citations.iter().for_each(|citation| account.cite(*citation));
}
