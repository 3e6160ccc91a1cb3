//! The household measure beside a weight: as the formula has it, else as near as cups and spoons come, which is said with "about".

use crate::formula::{Line, LineWritten};
use crate::quantity::{Drawer, Factor, Mass, Measures, Pointer, Size, read_amount};
use crate::reference::{EggPart, Reference};

/// Further off than this, a measure says something else than the weight.
const OFF: f64 = 0.1;
/// More eggs than this are not counted by halves.
const MOST_EGGS: f64 = 40.0;

/// The measure to stand beside the weight of a line.
pub(super) fn beside(written: &LineWritten, line: &Line, measures: Measures, reference: &'static Reference) -> Option<String> {
    if !line.amount.is_mass() {
        return Some(written.amount.as_text().trim().to_owned());
    }
    let also = written.also.as_ref().filter(|also| read_amount(also, measures, &Pointer::ROOT).is_ok_and(|amount| !amount.is_mass()));
    also.map(|also| also.as_text().trim().to_owned()).or_else(|| estimated(line, measures, reference))
}

fn estimated(line: &Line, measures: Measures, reference: &'static Reference) -> Option<String> {
    let mass = line.weight.mass.value();
    if let Some(part) = line.ingredient.egg_part() {
        return eggs(mass, part, measures, reference);
    }
    let volume = mass / line.ingredient.weighing(line.filled, line.form)?.density.value();
    let drawer = Drawer::of(measures);
    let nearest = Some(drawer.nearest(volume)).filter(|_| drawer.is_handy(volume))?;
    near(nearest.volume() / volume).then(|| format!("about {nearest}"))
}

fn near(ratio: Factor) -> bool {
    (ratio.value() - 1.0).abs() <= OFF
}

/// "about 3 1/2 large".
fn eggs(mass: Mass, part: EggPart, measures: Measures, reference: &'static Reference) -> Option<String> {
    let each = reference.eggs.find(Size::LARGE, part, measures)?.edible.figure.value();
    let exact = (mass / each).value();
    let halves = (exact * 2.0).round();
    if exact > MOST_EGGS || !near(Factor::times(halves / 2.0 / exact)) {
        return None;
    }
    let whole = (halves / 2.0).floor();
    let figure = match (whole, halves % 2.0 == 0.0) {
        (_, true) => whole.to_string(),
        (0.0, false) => "1/2".to_owned(),
        (_, false) => format!("{whole} 1/2"),
    };
    Some(format!("about {figure} large"))
}
