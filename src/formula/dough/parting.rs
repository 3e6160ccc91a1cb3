//! From targets to amounts: a straight dough from percentages of its flour, and preferments parted from a straight dough, so that the overall formula stays as it was.

use std::borrow::Cow;
use std::rc::Rc;

use super::overall::Dough;
use crate::formula::{Formula, Known, Line, Part, ScalesWith};
use crate::quantity::{
    Amount, Code, Counting, Factor, Fault, Faults, Mass, Measures, Number, Percent, Pointer, Quantity, Share, Span, Unit,
};
use crate::reference::{Class, Doubt, Ingredient, Reference, Weight, short};

/// A preferment to be made out of a dough.
#[derive(Clone, Debug)]
pub struct Preferment {
    pub name: String,
    /// Of all flour.
    pub flour: Share,
    /// Water to its own flour.
    pub hydration: Factor,
    /// The id of the flour it takes; the heaviest when nothing.
    pub of: Option<Cow<'static, str>>,
    /// Of its own flour.
    pub yeast: Option<Percent>,
    /// Of its own flour.
    pub salt: Option<Percent>,
    pub seed: Option<Seed>,
}

/// The ripe starter with which a levain is fed.
#[derive(Clone, Copy, Debug)]
pub struct Seed {
    /// Of the flour it is fed.
    pub percent: Percent,
    pub hydration: Factor,
}

/// A straight dough of so much flour, from percentages of it.
pub fn straight(percentages: &[(Known, Percent)], flour: Mass, name: &str) -> Dough {
    let lines = percentages.iter().map(|(ingredient, percent)| sharp_line(ingredient.clone(), flour * percent.as_factor())).collect();
    let part = Part { name: name.into(), scales_with: ScalesWith::PanVolume, into: None, style: None, gravity: None, lines };
    let formula = Formula::new(None, None, Measures::Metric, vec![part], true);
    Dough { formula, root: 0, preferments: Vec::new() }
}

fn sharp_line(ingredient: Known, mass: Mass) -> Line {
    Line {
        ingredient,
        form: "",
        filled: None,
        amount: Amount { number: Number::exact(mass.in_grams()), counting: Counting::Unit(Unit::known("gram")) },
        measures: Measures::default(),
        weight: Weight { mass: Span::exact(mass), doubt: Doubt::Sharp, by_way: None },
        doubt: None,
    }
}

/// Parts the preferments from the final dough, one after the other; what one has taken the next cannot take.
pub fn parted(
    mut dough: Dough,
    preferments: &[(Preferment, usize)],
    at: &Pointer<'_>,
    reference: &'static Reference,
) -> Result<Dough, Faults> {
    let all_flour = dough.flour().mass().value();
    let mut faults = Faults::new();
    for (preferment, index) in preferments {
        let at = at.index(*index);
        match lines_of(preferment, &mut dough, all_flour, &at, reference) {
            Ok(lines) => {
                let part = Part {
                    name: preferment.name.as_str().into(),
                    scales_with: ScalesWith::PanVolume,
                    into: Some(dough.root),
                    style: None,
                    gravity: None,
                    lines,
                };
                dough.preferments.push(dough.formula.parts.len());
                dough.formula.parts.push(part);
            }
            Err(fault) => faults.push(fault),
        }
    }
    faults.or(dough)
}

fn lines_of(
    preferment: &Preferment,
    dough: &mut Dough,
    all_flour: Mass,
    at: &Pointer<'_>,
    reference: &'static Reference,
) -> Result<Vec<Line>, Fault> {
    let flour = all_flour * preferment.flour.as_factor();
    let (seed_flour, seed_water) = seeded(preferment, flour);
    let poured = flour * preferment.hydration - seed_water;
    if poured < Mass::ZERO {
        return Err(Fault::new(
            &at.key("hydration"),
            Code::OutOfRange,
            format!("{} %", short(preferment.hydration.value() * 100.0)),
            format!("{} % or more: the seed alone brings so much water", short((seed_water / flour).value() * 100.0)),
        ));
    }
    let lines = &mut dough.formula.parts[dough.root].lines;
    let mut taken = Vec::new();
    let of = flour_of(preferment, lines, flour, at)?;
    let named = lines.iter().find(|line| line.ingredient.id == of).map_or_else(|| of.to_string(), |line| line.ingredient.name.to_string());
    take(lines, &of, flour, flour - seed_flour, &mut taken).map_err(|there| lacking(at, "prefermented_flour", &named, there, flour))?;
    let water = heaviest(lines, |ingredient| ingredient.id == "water")
        .or_else(|| heaviest(lines, |ingredient| ingredient.counts_as(Class::Liquid).value() >= 0.8));
    let needed = flour * preferment.hydration;
    let water = water.ok_or_else(|| lacking(at, "hydration", "water", Mass::ZERO, needed))?;
    take(lines, &water, needed, poured, &mut taken).map_err(|there| lacking(at, "hydration", "water", there, needed))?;
    let share = |percent: Percent| flour * percent.as_factor();
    let is_yeast = |ingredient: &Ingredient| ingredient.fresh_yeast.is_some();
    let is_salt = |ingredient: &Ingredient| ingredient.counts_as(Class::Salt).value() >= 0.9;
    for (field, percent, id) in
        [("yeast", preferment.yeast, heaviest(lines, is_yeast)), ("salt", preferment.salt, heaviest(lines, is_salt))]
    {
        let Some(mass) = percent.map(share).filter(|mass| *mass > Mass::ZERO) else { continue };
        let id = id.ok_or_else(|| lacking(at, field, field, Mass::ZERO, mass))?;
        take(lines, &id, mass, mass, &mut taken).map_err(|there| lacking(at, field, field, there, mass))?;
    }
    if let Some(seed) = preferment.seed
        && let Some(starter) = starter(seed, reference)
    {
        taken.push(sharp_line(starter, seed_flour + seed_water));
    }
    Ok(taken)
}

/// The flour that it takes: as named, else the heaviest.
fn flour_of(preferment: &Preferment, lines: &[Line], flour: Mass, at: &Pointer<'_>) -> Result<Cow<'static, str>, Fault> {
    let is_flour = |ingredient: &Ingredient| ingredient.counts_as(Class::Flour).value() >= 0.9;
    let Some(of) = &preferment.of else {
        return heaviest(lines, is_flour).ok_or_else(|| lacking(at, "prefermented_flour", "flour", Mass::ZERO, flour));
    };
    if lines.iter().any(|line| line.ingredient.id == *of) {
        return Ok(of.clone());
    }
    let left: Vec<_> = lines.iter().filter(|line| is_flour(&line.ingredient)).map(|line| line.ingredient.name.to_string()).collect();
    let fault = Fault::new(
        &at.key("flour"),
        Code::OutOfRange,
        format!("no {} left in the dough", of.replace('-', " ")),
        "a flour that the dough holds",
    );
    Err(fault.saying("Name a flour of the dough, or give the dough this one").trying(left))
}

/// Flour and water of the seed: it is so much of the flour that is fed, and both together are the preferment's flour.
fn seeded(preferment: &Preferment, flour: Mass) -> (Mass, Mass) {
    let Some(seed) = preferment.seed else { return (Mass::ZERO, Mass::ZERO) };
    let flour_of_seed = seed.percent.value() / 100.0 / (1.0 + seed.hydration.value());
    let seed_flour = flour * Factor::times(flour_of_seed / (1.0 + flour_of_seed));
    (seed_flour, seed_flour * seed.hydration)
}

/// A starter at its own hydration.
fn starter(seed: Seed, reference: &'static Reference) -> Option<Known> {
    let known = reference.ingredients.by_id("sourdough-starter")?;
    let flour = 1.0 / (1.0 + seed.hydration.value());
    if (flour - 0.5).abs() < 1e-12 {
        return Some(Known::Table(known));
    }
    let classes = vec![(Class::Flour, Share::of_one(flour)), (Class::Liquid, Share::of_one(1.0 - flour))];
    Some(Known::Own(Rc::new(Ingredient { classes, composition: None, ..known.clone() })))
}

fn heaviest(lines: &[Line], wanted: impl Fn(&Ingredient) -> bool) -> Option<Cow<'static, str>> {
    let found = lines.iter().filter(|line| wanted(&line.ingredient));
    let of_id = |line: &Line| -> f64 {
        lines.iter().filter(|other| other.ingredient.id == line.ingredient.id).map(|other| other.weight.mass.value().in_grams()).sum()
    };
    found.max_by(|a, b| of_id(a).total_cmp(&of_id(b))).map(|line| line.ingredient.id.clone())
}

/// Takes so much of an ingredient out of the lines and keeps so much of it; or tells how much there is.
fn take(lines: &mut Vec<Line>, id: &str, out: Mass, kept: Mass, taken: &mut Vec<Line>) -> Result<(), Mass> {
    let there: Mass = lines.iter().filter(|line| line.ingredient.id == id).map(|line| line.weight.mass.value()).sum();
    let share = (out / there).value();
    if !share.is_finite() || share > 1.0 + 1e-9 {
        return Err(there);
    }
    let stays = if share > 1.0 - 1e-9 { 0.0 } else { 1.0 - share };
    for line in lines.iter_mut().filter(|line| line.ingredient.id == id) {
        let mut part = line.clone();
        part.scale(kept / there);
        if kept > Mass::ZERO {
            taken.push(part);
        }
        line.scale(Factor::times(stays));
    }
    if stays == 0.0 {
        lines.retain(|line| line.ingredient.id != id);
    }
    Ok(())
}

fn lacking(at: &Pointer<'_>, field: &str, what: &str, there: Mass, needed: Mass) -> Fault {
    let grams = |mass: Mass| Quantity::from(mass).text;
    let left = if there > Mass::ZERO { format!("{} of {what}", grams(there)) } else { format!("no {what}") };
    let found = format!("{left} left, and {} wanted", grams(needed));
    Fault::new(&at.key(field), Code::OutOfRange, found, format!("no more {what} than the dough holds")).saying(match field {
        // Of its own flour: a poolish of a dough without yeast takes it from nowhere.
        "yeast" | "salt" => format!(
            "It is in percent of the preferment's own flour, and part of the dough's {what}: take less, or give the dough more {what}"
        ),
        _ => format!("The preferment takes more {what} than is left in the dough: preferment less flour, or give the dough more {what}"),
    })
}
