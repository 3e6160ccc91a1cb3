//! A temperature is a point on a scale; a `TemperatureChange` is a distance. Only the point takes an offset when the scale changes.

use std::ops::{Add, Sub};

use super::decimals::decimals;
use super::measure::TemperatureChange;
use super::shown::{Quantity, between};
use super::span::{Quantifiable, Span};

/// A temperature, held in degrees Celsius.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Temperature(f64);

impl Temperature {
    pub const ABSOLUTE_ZERO: Self = Self(-273.15);

    pub const fn celsius(value: f64) -> Self {
        Self(value)
    }

    /// C = (F - 32) / 1.8, by definition.
    pub const fn fahrenheit(value: f64) -> Self {
        Self((value - 32.0) / 1.8)
    }

    pub const fn in_celsius(self) -> f64 {
        self.0
    }

    pub const fn in_fahrenheit(self) -> f64 {
        self.0 * 1.8 + 32.0
    }

    /// Gas marks are Fahrenheit in disguise: 250 + 25 for each mark from 1 up, and two marks below it (1/2 = 250 F, 1/4 = 225 F).
    pub fn gas_mark(mark: f64) -> Option<Self> {
        match mark {
            0.25 => Some(Self::fahrenheit(225.0)),
            0.5 => Some(Self::fahrenheit(250.0)),
            m if (1.0..=10.0).contains(&m) => Some(Self::fahrenheit(250.0 + 25.0 * m)),
            _ => None,
        }
    }

    /// The mark on the dial that comes nearest, as a number (0.25, 0.5, 1, 2, …), if the dial reaches so far.
    pub fn in_gas_mark(self) -> Option<f64> {
        let fahrenheit = self.in_fahrenheit();
        let marks = [0.25, 0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0];
        marks
            .into_iter()
            .filter_map(|mark| Some((mark, (Self::gas_mark(mark)?.in_fahrenheit() - fahrenheit).abs())))
            .filter(|(_, off)| *off <= 15.0)
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(mark, _)| mark)
    }
}

/// The scale on which a reader's dial stands: temperatures are told on it first, and in Celsius beside it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Scale {
    #[default]
    Celsius,
    Fahrenheit,
}

impl Scale {
    /// The temperature of whole degrees on this scale.
    pub fn whole(self, heat: Temperature, rounded: fn(f64) -> f64) -> Temperature {
        match self {
            Self::Celsius => Temperature::celsius(rounded(heat.in_celsius())),
            Self::Fahrenheit => Temperature::fahrenheit(rounded(heat.in_fahrenheit())),
        }
    }

    /// From one temperature to another, in a sentence: "93 to 94 °C", "200 to 201 °F (93 to 94 °C)".
    pub fn points(self, ends: [Temperature; 2], places: usize) -> String {
        self.both([ends.map(Temperature::in_celsius), ends.map(Temperature::in_fahrenheit)], [places; 2])
    }

    /// A difference, in a sentence: "8.3 to 13.9 °C", "15 to 25 °F (8.3 to 13.9 °C)".
    pub fn changes(self, ends: [TemperatureChange; 2]) -> String {
        let celsius = ends.map(TemperatureChange::in_celsius_degrees);
        self.both([celsius, celsius.map(|degrees| degrees * 1.8)], [1, 0])
    }

    fn both(self, [celsius, fahrenheit]: [[f64; 2]; 2], [places, coarser]: [usize; 2]) -> String {
        let told = |[low, high]: [f64; 2], places: usize, unit: &str| {
            let [low, high] = [low, high].map(|end| decimals(end, places));
            format!("{} {unit}", between(&low, &high))
        };
        let celsius = told(celsius, places, "°C");
        if self == Self::Celsius { celsius } else { format!("{} ({celsius})", told(fahrenheit, coarser, "°F")) }
    }

    /// A quantity in Celsius, and behind it what a reader of this scale knows: "188 °C (370 °F)".
    pub fn quantity(self, heat: Span<Temperature>) -> Quantity {
        let mut quantity = Quantity::from(heat);
        if self == Self::Fahrenheit {
            quantity.text = format!("{} ({} °F)", quantity.text, decimals(heat.value().in_fahrenheit(), 0)).into();
        }
        quantity
    }
}

impl Quantifiable for Temperature {
    fn raw(self) -> f64 {
        self.0
    }

    fn of_raw(raw: f64) -> Self {
        Self(raw)
    }
}

impl Add<TemperatureChange> for Temperature {
    type Output = Self;
    fn add(self, change: TemperatureChange) -> Self {
        Self(self.0 + change.in_celsius_degrees())
    }
}

impl Sub<TemperatureChange> for Temperature {
    type Output = Self;
    fn sub(self, change: TemperatureChange) -> Self {
        Self(self.0 - change.in_celsius_degrees())
    }
}

impl Sub for Temperature {
    type Output = TemperatureChange;
    fn sub(self, other: Self) -> TemperatureChange {
        TemperatureChange::celsius_degrees(self.0 - other.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gas_mark_four_is_a_moderate_oven() {
        let oven = Temperature::gas_mark(4.0).map(Temperature::in_fahrenheit);
        assert!((oven.unwrap_or_default() - 350.0).abs() < 1e-9);
    }

    #[test]
    fn a_difference_takes_no_offset() {
        let rise = Temperature::fahrenheit(375.0) - Temperature::fahrenheit(350.0);
        assert!((rise.in_celsius_degrees() - 25.0 / 1.8).abs() < 1e-9);
    }

    #[test]
    fn a_reader_of_fahrenheit_is_told_in_fahrenheit_first() {
        let crumb = [93.3, 93.9].map(Temperature::celsius);
        assert_eq!(Scale::Celsius.points(crumb, 0), "93 to 94 °C");
        assert_eq!(Scale::Fahrenheit.points(crumb, 0), "200 to 201 °F (93 to 94 °C)");
        let more = [25.0 / 3.0, 125.0 / 9.0].map(TemperatureChange::celsius_degrees);
        assert_eq!(Scale::Fahrenheit.changes(more), "15 to 25 °F (8.3 to 13.9 °C)");
        let dial = Scale::Fahrenheit.quantity(Span::exact(Temperature::fahrenheit(370.0)));
        assert_eq!((dial.text.as_str(), dial.unit), ("188 °C (370 °F)", "°C"));
    }

    #[test]
    fn no_dial_has_a_mark_for_a_warm_room() {
        assert_eq!(Temperature::celsius(25.0).in_gas_mark(), None);
    }
}
