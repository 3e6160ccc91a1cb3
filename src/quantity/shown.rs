//! Quantities on their way out: a value for machines, a text for people, and a range wherever the figure is not exact.

use std::fmt::Write;

use serde::Serialize;
use smol_str::{SmolStr, SmolStrBuilder};
use utoipa::ToSchema;

use super::decimals::{decimals, digits, put, rounded, slow_decimals, write_decimals};
use super::figure::Figure;
use super::measure::{Area, Length, Mass, Minutes, Volume};
use super::percent::Percent;
use super::span::{Quantifiable, Span};
use super::spoons::Drawer;
use super::temperature::Temperature;
use super::unit::{Family, Measures, Unit};
use super::units::UNITS;

/// A figure with its unit. `low` and `high` stand whenever it is not exact.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Quantity {
    /// The figure, to 12 significant digits.
    #[schema(examples(355.0))]
    pub value: Figure,
    /// The unit: g, ml, cm, cm2, °C or min unless another was asked for.
    #[schema(examples("g"), max_length = 40)]
    pub unit: &'static str,
    /// The same for people: g and ml whole from 10 up, one decimal from 1, two below; °C and min whole.
    #[schema(value_type = String, examples("355 g"), max_length = 60)]
    pub text: SmolStr,
    /// The least it may be, where it is not exact.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, examples(340.0))]
    pub low: Option<Figure>,
    /// The most it may be, where it is not exact.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, examples(370.0))]
    pub high: Option<Figure>,
}

/// A percentage of a named basis, with its range where it is not exact.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, ToSchema)]
pub struct Proportion {
    /// Hundredths of the basis.
    #[schema(examples(66.7))]
    pub percent: Figure,
    /// The least it may be, where it is not exact.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, examples(64.0))]
    pub low: Option<Figure>,
    /// The most it may be, where it is not exact.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, examples(69.0))]
    pub high: Option<Figure>,
}

impl From<Span<Percent>> for Proportion {
    fn from(span: Span<Percent>) -> Self {
        let (low, high) = ends(&span);
        Self { percent: Figure(span.value().value()), low, high }
    }
}

impl Proportion {
    /// For people: one decimal.
    pub fn text(&self) -> SmolStr {
        decimals(self.percent.0, 1)
    }
}

fn ends<T: Quantifiable>(span: &Span<T>) -> (Option<Figure>, Option<Figure>) {
    if span.is_exact() { (None, None) } else { (Some(Figure(span.low().raw())), Some(Figure(span.high().raw()))) }
}

/// Quantities that leave in their base unit.
macro_rules! shown {
    ($($name:ident as $unit:literal with $places:expr),*) => {$(
        impl From<Span<$name>> for Quantity {
            fn from(span: Span<$name>) -> Self {
                let value = span.value().raw();
                Self::told(span, $unit, written(value, $places(value), $unit))
            }
        }

        impl From<$name> for Quantity {
            fn from(value: $name) -> Self {
                Span::exact(value).into()
            }
        }
    )*};
}

shown!(
    Mass as "g" with fine,
    Volume as "ml" with fine,
    Length as "cm" with one,
    Area as "cm2" with none,
    Temperature as "°C" with none,
    Minutes as "min" with none
);

fn one(_: f64) -> usize {
    1
}

fn none(_: f64) -> usize {
    0
}

/// Whole from 10 up, one decimal from 1, two below.
pub(super) fn fine(value: f64) -> usize {
    match value.abs() {
        // 9.96 would be written 10.0: it belongs to the whole ones already.
        v if v >= 9.95 => 0,
        v if v >= 0.995 => 1,
        _ => 2,
    }
}

/// From here on so many decimals as are usual are enough in any unit.
const LITTLE: f64 = 10.0;
/// The most decimals of a text.
const MOST_PLACES: usize = 9;

/// With how many decimals so little of a large unit is written: a millilitre is no 0 l, and 45 minutes are no hour. What is rounded is off by a twentieth at
/// most; of grams and millilitres the usual two decimals stay, where anything is left by them.
fn enough(value: f64, places: usize, fine: bool) -> usize {
    let off = |places| (rounded(value, places) - value).abs() > value.abs() * if fine { 0.5 } else { 0.05 };
    (places..MOST_PLACES).find(|places| !off(*places)).unwrap_or(MOST_PLACES)
}

impl Quantity {
    /// In a unit that was asked for. Temperatures and oven marks come as figures on that scale.
    pub fn in_unit<T: Quantifiable>(span: Span<T>, unit: &'static Unit) -> Self {
        let value = span.value().raw();
        let places = match unit.family {
            Family::Mass | Family::Volume if unit.size == 1.0 => fine(value),
            Family::Temperature | Family::Time => 0,
            Family::TemperatureChange => 1,
            Family::Mass | Family::Volume if value.abs() >= 100.0 => 1,
            // A kilogram or a pound is much: 1 lb 2 oz is 1.125 lb.
            Family::Mass if unit.size > 100.0 => 3,
            _ => 2,
        };
        let places =
            if value.abs() < LITTLE && unit.family != Family::Temperature { enough(value, places, unit.size == 1.0) } else { places };
        let spooned = unit.is_national() || unit.family == Family::Count;
        let fraction = if spooned { spoon_fraction(value) } else { None };
        // The word goes by the number as it is written: 1.004 is "1 cup".
        let single = if fraction.is_some() { value < 1.0 } else { rounded(value, places) <= 1.0 };
        let name = if single { unit.one } else { unit.many };
        let mut text = SmolStrBuilder::new();
        match fraction {
            Some(part) => write_in_fractions(&mut text, value.trunc() as u16, part, name).unwrap_or_default(),
            None => write_with_unit(&mut text, value, places, name),
        }
        let text = text.finish();
        Self::told(span, unit.one, text)
    }

    /// In the unit in which it was written, and for people in cups and spoons that there are: "3 tbsp" for 0.19 cup.
    pub fn measured<T: Quantifiable>(span: Span<T>, unit: &'static Unit, measures: Measures) -> Self {
        match Drawer::of(measures).told(span.value().raw(), unit) {
            Some(text) => Self::told(span, unit.one, text),
            None => Self::in_unit(span, unit),
        }
    }

    /// A mass whose text is known: where texts make a total.
    pub fn weighed(span: Span<Mass>, text: SmolStr) -> Self {
        Self::told(span, "g", text)
    }

    fn told<T: Quantifiable>(span: Span<T>, unit: &'static str, text: SmolStr) -> Self {
        let (low, high) = ends(&span);
        Self { value: Figure(span.value().raw()), unit, text, low, high }
    }

    /// "110–160 g", or just "125 g" where the figure is exact.
    pub fn range_text(&self) -> SmolStr {
        let mut text = SmolStrBuilder::new();
        self.write_range(&mut text);
        text.finish()
    }

    /// The same, written into a sentence.
    pub fn write_range(&self, text: &mut impl Write) {
        match self.spread() {
            Some(ends) => self.write_ends(text, ends),
            None => put(text, &self.text),
        }
    }

    /// Behind the figure in a sentence: " (110–160 g)", or nothing where it is exact.
    pub fn write_bracketed(&self, text: &mut impl Write) {
        if let Some(ends) = self.spread() {
            put(text, " (");
            self.write_ends(text, ends);
            put(text, ")");
        }
    }

    fn write_ends(&self, text: &mut impl Write, (low, high, places): (f64, f64, usize)) {
        // "gas mark 5–6": the one unit that stands before its figure.
        let before = self.unit == "gas mark";
        if before {
            put(text, "gas mark ");
        }
        write_decimals(text, low, places);
        // "-10–-9" is read by nobody.
        put(text, if low < 0.0 { " to " } else { "–" });
        write_decimals(text, high, places);
        if self.unit != "piece" && !before {
            put(text, " ");
            put(text, self.word());
        }
    }

    /// Both ends, and with how many decimals they are written; nothing where they are written alike.
    fn spread(&self) -> Option<(f64, f64, usize)> {
        let (low, high) = (self.low?.0, self.high?.0);
        let places = match self.unit {
            "g" | "ml" => fine(self.value.0),
            "cm2" | "°C" | "°F" | "min" => 0,
            "cm" => 1,
            _ if self.value.0.abs() < LITTLE => enough(self.value.0, 2, false),
            _ => 2,
        };
        let alike = match (digits(low, places), digits(high, places)) {
            (Some(low), Some(high)) => low == high,
            _ => slow_decimals(low, places) == slow_decimals(high, places),
        };
        (!alike).then_some((low, high, places))
    }

    /// The unit as it stands behind a number up to the high end: "cups" where there may be more than one.
    fn word(&self) -> &str {
        let single = self.high.is_none_or(|high| high.0 <= 1.0);
        if single || matches!(self.unit, "g" | "ml" | "min" | "°C") {
            return self.unit;
        }
        UNITS.iter().find(|unit| unit.one == self.unit).map_or(self.unit, |unit| unit.many)
    }
}

fn written(value: f64, places: usize, unit: &str) -> SmolStr {
    let mut text = SmolStrBuilder::new();
    write_with_unit(&mut text, value, places, unit);
    text.finish()
}

fn write_with_unit(text: &mut impl Write, value: f64, places: usize, unit: &str) {
    write_decimals(text, value, places);
    put(text, " ");
    put(text, unit);
}

const FRACTIONS: [(u8, u8); 9] = [(1, 2), (1, 3), (2, 3), (1, 4), (3, 4), (1, 8), (3, 8), (5, 8), (7, 8)];

/// The kitchen fraction behind a whole: cups, spoons and eggs are halved, not written in decimals. The nearest, where it is within a fiftieth of a percent
/// and no further off than decimals would be.
pub(super) fn spoon_fraction(value: f64) -> Option<(u8, u8)> {
    let part = value - value.trunc();
    if !(0.0..10_000.0).contains(&value) || part < 1e-9 {
        return None;
    }
    let off = |(above, below): (u8, u8)| (part - f64::from(above) / f64::from(below)).abs();
    let nearest = FRACTIONS.iter().copied().min_by(|a, b| off(*a).total_cmp(&off(*b)))?;
    (off(nearest) <= (value * 2e-4).min(0.005)).then_some(nearest)
}

/// "1 1/8 cups".
pub(super) fn write_in_fractions(text: &mut impl Write, whole: u16, (above, below): (u8, u8), name: &str) -> std::fmt::Result {
    let mut digits = itoa::Buffer::new();
    if whole > 0 {
        text.write_str(digits.format(whole))?;
        text.write_str(" ")?;
    }
    text.write_str(digits.format(above))?;
    text.write_str("/")?;
    text.write_str(digits.format(below))?;
    text.write_str(" ")?;
    text.write_str(name)
}

/// Grams with at most two decimals.
pub fn grams_text(grams: f64) -> SmolStr {
    written(grams, 2, "g")
}

/// Two ends in a sentence; one where they are the same.
pub fn between(low: &str, high: &str) -> String {
    if low == high { low.to_owned() } else { format!("{low} to {high}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(grams: f64) -> SmolStr {
        Quantity::from(Mass::grams(grams)).text
    }

    #[test]
    fn a_little_of_a_large_unit_is_not_nothing_and_not_another_amount() {
        let told = |value: f64, unit: &str| Quantity::in_unit(Span::exact(crate::quantity::Factor::times(value)), Unit::known(unit)).text;
        assert_eq!([told(0.001, "litre"), told(0.00130208333, "us-gallon"), told(0.75, "hour")], ["0.001 l", "0.0013 gallon", "0.75 h"]);
        assert_eq!([told(0.0352739619, "ounce"), told(0.28, "ounce"), told(1.5, "hour")], ["0.035 oz", "0.28 oz", "1.5 h"]);
        assert_eq!([told(0.004, "gram"), told(0.175, "gram"), told(0.0, "gram"), told(0.0, "litre")], ["0.004 g", "0.18 g", "0 g", "0 l"]);
    }

    #[test]
    fn people_see_whole_grams_from_ten_up() {
        assert_eq!([text(355.04), text(9.96), text(4.62), text(0.5), text(-0.0)], ["355 g", "10 g", "4.6 g", "0.5 g", "0 g"]);
    }

    #[test]
    fn cups_and_spoons_are_shown_in_fractions() {
        let cups = |value| Quantity::in_unit(Span::exact(Volume::millilitres(value)), Unit::known("us-cup")).text;
        assert_eq!(
            [cups(1.125), cups(0.75), cups(2.0 / 3.0), cups(1.3), cups(3.0)],
            ["1 1/8 cups", "3/4 cup", "2/3 cup", "1.3 cups", "3 cups"]
        );
    }

    #[test]
    fn a_range_stands_only_where_there_is_one() {
        let exact = Quantity::from(Mass::grams(3.0));
        assert!(exact.low.is_none() && exact.high.is_none());
        let cup = Quantity::from(Span::new(Mass::grams(110.0), Mass::grams(125.0), Mass::grams(160.0)));
        assert_eq!(cup.range_text(), "110–160 g");
        let cups = |low, value, high| {
            let cups = |number: f64| Volume::millilitres(number);
            Quantity::in_unit(Span::new(cups(low), cups(value), cups(high)), Unit::known("us-cup")).range_text()
        };
        assert_eq!(
            [cups(1.5625, 2.0, 2.27), cups(0.7, 0.75, 0.8), cups(0.4999, 0.5, 0.5001)],
            ["1.56–2.27 cups", "0.7–0.8 cup", "1/2 cup"]
        );
    }

    #[test]
    fn a_fraction_is_the_nearest_and_one_cup_is_single() {
        let cups = |value| Quantity::in_unit(Span::exact(Volume::millilitres(value)), Unit::known("us-cup")).text;
        assert_eq!([cups(5000.001), cups(1000.9), cups(250.375)], ["5000 cups", "1000.9 cups", "250 3/8 cups"]);
        assert_eq!([cups(1.000_000_000_1), cups(1.004), cups(1.01)], ["1 cup", "1 cup", "1.01 cups"]);
    }

    #[test]
    fn a_tie_is_rounded_away_from_nothing() {
        assert_eq!([text(1.25), text(0.625), text(12.5)], ["1.3 g", "0.63 g", "13 g"]);
    }
}
