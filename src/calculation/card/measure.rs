//! The household measure beside a weight: as the formula has it, else as near as cups and spoons come, which is said with "about".

use crate::formula::{Line, LineWritten};
use crate::quantity::{Factor, Mass, Measures, Pointer, Size, Unit, Volume, read_amount};
use crate::reference::{EggPart, Reference};

/// What of a whole can be measured, each with its text.
type Fractions = &'static [(f64, &'static str)];

/// The fractions that people have cups and spoons for, with their texts.
const CUP: Fractions = &[(0.0, ""), (0.25, "1/4"), (1.0 / 3.0, "1/3"), (0.5, "1/2"), (2.0 / 3.0, "2/3"), (0.75, "3/4"), (1.0, "")];
const TABLESPOON: Fractions = &[(0.0, ""), (0.5, "1/2"), (1.0, "")];
const TEASPOON: Fractions = &[(0.0, ""), (0.125, "1/8"), (0.25, "1/4"), (0.5, "1/2"), (0.75, "3/4"), (1.0, "")];

/// Units from the largest on: the word, its plural, the least of it that is worth measuring, its fractions.
const UNITS: [(&str, &str, f64, Fractions); 3] =
    [("cup", "cups", 0.23, CUP), ("tbsp", "tbsp", 0.9, TABLESPOON), ("tsp", "tsp", 0.11, TEASPOON)];

/// Further off than this, a measure says something else than the weight.
const OFF: f64 = 0.1;

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
    UNITS.iter().find_map(|(one, many, least, fractions)| {
        let unit = Unit::of_word(one, measures)?;
        let exact = volume / Volume::millilitres(unit.size);
        (exact.value() >= *least).then(|| nearest(exact, fractions)).flatten().map(|(figure, text)| {
            let name = if figure > 1.0 { many } else { one };
            format!("about {text} {name}")
        })
    })
}

fn eggs(mass: Mass, part: EggPart, measures: Measures, reference: &'static Reference) -> Option<String> {
    let large = reference.eggs.find(Size::LARGE, part, measures)?;
    let (_, text) = nearest(mass / large.edible.figure.value(), TABLESPOON)?;
    Some(format!("about {text} large"))
}

/// The nearest figure that can be measured, as a mixed number; nothing where it is too far off, or too many to count.
fn nearest(exact: Factor, fractions: Fractions) -> Option<(f64, String)> {
    let exact = exact.value();
    if !(0.0..=40.0).contains(&exact) {
        return None;
    }
    let (whole, rest) = (exact.floor(), exact.fract());
    let (fraction, text) = fractions.iter().min_by(|a, b| (a.0 - rest).abs().total_cmp(&(b.0 - rest).abs()))?;
    let figure = whole + fraction;
    if figure <= 0.0 || (figure - exact).abs() > OFF * exact {
        return None;
    }
    let whole = figure.floor();
    let text = match (whole > 0.0, text.is_empty()) {
        (true, true) => format!("{whole}"),
        (true, false) => format!("{whole} {text}"),
        (false, _) => (*text).to_owned(),
    };
    Some((figure, text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_is_written_as_a_cook_measures_it() {
        let text = |exact: f64, fractions| nearest(Factor::times(exact), fractions).map(|(_, text)| text);
        assert_eq!(text(1.76, CUP).as_deref(), Some("1 3/4"));
        assert_eq!(text(0.34, CUP).as_deref(), Some("1/3"));
        assert_eq!(text(1.97, CUP).as_deref(), Some("2"));
        assert_eq!(text(0.18, TEASPOON), None);
        assert_eq!(text(500.0, CUP), None);
    }
}
