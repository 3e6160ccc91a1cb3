//! A temperature is a point on a scale; a `TemperatureChange` is a distance. Only the point takes an offset when the scale changes.

use std::ops::{Add, Sub};

use super::measure::TemperatureChange;
use super::span::Quantifiable;

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
    fn no_dial_has_a_mark_for_a_warm_room() {
        assert_eq!(Temperature::celsius(25.0).in_gas_mark(), None);
    }
}
