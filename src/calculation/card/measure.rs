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

/// More spoons than this are not counted.
const MOST_SPOONS: f64 = 6.0;
/// More cups than this are not measured.
const MOST_CUPS: f64 = 40.0;

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
    let one = |word| Some(Volume::millilitres(Unit::of_word(word, measures)?.size));
    UNITS.iter().find_map(|(word, many, least, fractions)| {
        let exact = volume / one(word)?;
        // A cup and some spoons are plainer than eighteen spoons.
        if *word == "tbsp" && exact.value() > MOST_SPOONS {
            return cup_and_spoons(volume, one("cup")?, one("tbsp")?);
        }
        (exact.value() >= *least).then(|| nearest(exact, fractions)).flatten().map(|(figure, text)| {
            let name = if figure > 1.0 { many } else { word };
            format!("about {text} {name}")
        })
    })
}

/// "about 1 cup plus 2 tbsp": the largest measure of cups below, and whole spoons.
fn cup_and_spoons(volume: Volume, cup: Volume, spoon: Volume) -> Option<String> {
    let cups = (volume / cup).value();
    let (whole, rest) = (cups.floor(), cups.fract());
    let (fraction, text) = CUP.iter().rev().find(|(fraction, _)| *fraction < 1.0 && *fraction <= rest)?;
    let spoons = ((rest - fraction) * (cup / spoon).value()).round();
    let figure = match (whole > 0.0, text.is_empty()) {
        (true, true) => format!("{whole}"),
        (true, false) => format!("{whole} {text}"),
        (false, _) => (*text).to_owned(),
    };
    let name = if whole + fraction > 1.0 { "cups" } else { "cup" };
    (!figure.is_empty() && spoons >= 1.0 && cups <= MOST_CUPS).then(|| format!("about {figure} {name} plus {spoons} tbsp"))
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
    fn eighteen_spoons_are_a_cup_and_some() {
        let [cup, spoon] = [250.0, 15.0].map(Volume::millilitres);
        let text = |ml: f64| cup_and_spoons(Volume::millilitres(ml), cup, spoon);
        assert_eq!(text(277.0).as_deref(), Some("about 1 cup plus 2 tbsp"));
        assert_eq!(text(100.0).as_deref(), Some("about 1/3 cup plus 1 tbsp"));
    }

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
