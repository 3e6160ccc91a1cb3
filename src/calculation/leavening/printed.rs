//! What cook books print by spoons, weighed: a proportion by mass read as one by spoons leaves the acid short, and some rules are off by five times.

use super::answer::{Dosed, PrintedShown, SodiumShown};
use crate::formula::{acid_for, taken_up};
use crate::quantity::{Density, Factor, Mass, Measures, Quantity, Span, Unit, Volume};
use crate::reference::{Account, PrintedSoda, Reference};

/// What a millilitre weighs; nothing where nobody measured it.
pub(super) fn density(ingredient: &str, reference: &'static Reference, account: &mut Account) -> Option<Span<Density>> {
    let weighing = reference.ingredients.by_id(ingredient)?.weighing(None, "")?;
    weighing.citations.iter().for_each(|citation| account.cite(*citation));
    Some(weighing.density)
}

/// A mass with its teaspoons.
pub(super) fn dosed(mass: Span<Mass>, ingredient: &str, measures: Measures, reference: &'static Reference, account: &mut Account) -> Dosed {
    Dosed { amount: Quantity::from(mass), spoons: spoons(mass, ingredient, measures, reference, account) }
}

pub(super) fn spoons(
    mass: Span<Mass>,
    ingredient: &str,
    measures: Measures,
    reference: &'static Reference,
    account: &mut Account,
) -> Option<Quantity> {
    let teaspoon = Unit::of_word("tsp", measures)?;
    let density = density(ingredient, reference, account)?;
    let one = Volume::millilitres(teaspoon.size);
    Some(Quantity::measured((mass / density).map(|volume| volume / one), teaspoon, measures))
}

/// The rules about these acids, weighed.
pub(super) fn weighed(acids: &[&str], reference: &'static Reference, account: &mut Account) -> Vec<PrintedShown> {
    let rules = reference.leavening.printed.iter().filter(|rule| acids.contains(&rule.acid));
    rules.filter_map(|rule| one(rule, reference, account)).collect()
}

fn one(rule: &'static PrintedSoda, reference: &'static Reference, account: &mut Account) -> Option<PrintedShown> {
    let acid = reference.leavening.acid_of(rule.acid)?;
    let spoon = Volume::millilitres(Unit::known("us-teaspoon").size);
    let soda_density = density("baking-soda", reference, account)?;
    let acid_density = density(rule.acid, reference, account)?;
    let soda_spoon = soda_density.value() * spoon;
    let soda = rule.soda_spoons.map(|spoons| soda_spoon * spoons);
    let acid_mass = acid_density.map(|density| density * spoon * rule.acid_spoons);
    let taken = taken_up(acid_mass, acid.takes_up.figure);
    let left_over = soda - taken;
    account.cite(rule.citation);
    Some(PrintedShown {
        rule: rule.rule,
        soda: Quantity::from(soda),
        acid: Quantity::from(acid_mass),
        taken_up: Quantity::from(taken),
        left_over: Quantity::from(left_over),
        acid_needed: Quantity::from(acid_for(soda, acid.takes_up.figure)?),
        verdict: verdict(soda, taken),
        source: rule.citation.source.id,
    })
}

/// A rule by spoons holds where it is met within a tenth: nobody levels a spoon closer.
fn verdict(soda: Span<Mass>, taken: Span<Mass>) -> &'static str {
    let tenth = Factor::times(1.1);
    if soda.low() > taken.high() * tenth {
        "acid-short"
    } else if soda.high() * tenth < taken.low() {
        "soda-short"
    } else {
        "agree"
    }
}

/// Sodium, in milligrams.
pub(super) fn sodium(leavening: Span<Mass>, salt: Span<Mass>) -> SodiumShown {
    let milligram = Unit::known("milligram");
    let shown = |mass: Span<Mass>| {
        let mut quantity = Quantity::in_unit(mass / Factor::times(milligram.size), milligram);
        quantity.text = format!("{:.0} mg", quantity.value.0).into();
        quantity
    };
    SodiumShown { leavening: shown(leavening), salt: shown(salt), total: shown(leavening + salt) }
}
