//! The temperature of the water for a dough: by the trade's sum of factors, which ignores masses, and by a balance of heat, which weighs them.

use crate::quantity::{Factor, Mass, Span, Temperature, TemperatureChange};

/// What is known before the water is drawn.
#[derive(Clone, Debug)]
pub struct Warmth {
    pub desired: Temperature,
    /// Room, flour and, where there is one, preferment.
    pub others: Vec<Temperature>,
    /// On the scale of the sum: it stands beside the other terms.
    pub friction: Span<TemperatureChange>,
}

impl Warmth {
    /// How many terms the sum has, the water among them: 3, or 4 with a preferment.
    pub fn factor(&self) -> Factor {
        Factor::times(self.others.len() as f64 + 1.0)
    }

    /// Factor times desired, less every other term, less friction. More friction asks for colder water.
    pub fn water(&self) -> Span<Temperature> {
        let others: f64 = self.others.iter().map(|other| other.in_celsius()).sum();
        let sum = self.factor().value() * self.desired.in_celsius() - others;
        self.friction.map_falling(|friction| Temperature::celsius(sum - friction.in_celsius_degrees()))
    }
}

/// The friction that a trial batch shows: factor times the dough as it came out, less every term as it was measured, the water too.
pub fn friction_of_trial(dough: Temperature, terms: &[Temperature]) -> TemperatureChange {
    let sum: f64 = terms.iter().map(|term| term.in_celsius()).sum();
    TemperatureChange::celsius_degrees(terms.len() as f64 * dough.in_celsius() - sum)
}

/// A part of the dough with its temperature and what it takes up for each degree, in kJ/kgK.
#[derive(Clone, Copy, Debug)]
pub struct Portion {
    pub mass: Mass,
    pub heat: Factor,
    pub temperature: Temperature,
}

impl Portion {
    fn capacity(&self) -> f64 {
        self.mass.in_grams() * self.heat.value()
    }
}

/// The water that brings every portion to the desired temperature, when mixing itself warms the whole dough by so much.
pub fn balanced_water(
    desired: Temperature,
    rest: &[Portion],
    water: Mass,
    heat_of_water: Factor,
    rise: TemperatureChange,
) -> Option<Temperature> {
    let of_water = water.in_grams() * heat_of_water.value();
    let wanted: f64 = rest.iter().map(|portion| portion.capacity() * (desired - portion.temperature).in_celsius_degrees()).sum();
    let whole: f64 = of_water + rest.iter().map(Portion::capacity).sum::<f64>();
    let from_desired = (wanted - whole * rise.in_celsius_degrees()) / of_water;
    from_desired.is_finite().then(|| desired + TemperatureChange::celsius_degrees(from_desired))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fahrenheit(desired: f64, others: &[f64], friction: f64) -> f64 {
        let warmth = Warmth {
            desired: Temperature::fahrenheit(desired),
            others: others.iter().map(|other| Temperature::fahrenheit(*other)).collect(),
            friction: Span::exact(TemperatureChange::celsius_degrees(friction / 1.8)),
        };
        warmth.water().value().in_fahrenheit()
    }

    /// Pizza Today, June 2018; a second printed example; Hamelman's fourth factor.
    #[test]
    fn the_printed_examples_of_three_and_four_factors_come_out() {
        assert!((fahrenheit(80.0, &[75.0, 65.0], 35.0) - 65.0).abs() < 1e-9);
        assert!((fahrenheit(78.0, &[70.0, 60.0], 16.0) - 88.0).abs() < 1e-9);
        let celsius = Warmth {
            desired: Temperature::celsius(25.0),
            others: [22.0, 20.0, 21.0].map(Temperature::celsius).to_vec(),
            friction: Span::exact(TemperatureChange::celsius_degrees(12.0)),
        };
        assert_eq!((celsius.factor().value(), celsius.water().value().in_celsius()), (4.0, 25.0));
    }

    #[test]
    fn friction_is_a_difference_so_that_both_scales_agree() {
        let taken_for_a_temperature = (35.0 - 32.0) / 1.8;
        let right = fahrenheit(80.0, &[75.0, 65.0], 35.0);
        let wrong = fahrenheit(80.0, &[75.0, 65.0], taken_for_a_temperature * 1.8);
        assert!((right - 65.0).abs() < 1e-9 && (wrong - 97.0).abs() < 1e-9);
    }

    /// PMQ, spring 2003: 3 x 82 less 72, 68 and 70.
    #[test]
    fn a_trial_batch_shows_its_friction() {
        let friction = friction_of_trial(Temperature::fahrenheit(82.0), &[72.0, 68.0, 70.0].map(Temperature::fahrenheit));
        assert!((friction.in_celsius_degrees() * 1.8 - 36.0).abs() < 1e-9);
    }

    #[test]
    fn water_that_balances_leaves_no_heat_over() {
        let (desired, water) = (Temperature::celsius(25.0), Mass::grams(650.0));
        let flour = Portion { mass: Mass::grams(1000.0), heat: Factor::times(1.8), temperature: Temperature::celsius(20.0) };
        let at = balanced_water(desired, &[flour], water, Factor::times(4.186), TemperatureChange::celsius_degrees(4.0));
        let at = at.map_or(f64::NAN, Temperature::in_celsius);
        let heat = 1000.0 * 1.8 * (25.0 - 20.0) + 650.0 * 4.186 * (25.0 - at) - 4.0 * (1000.0 * 1.8 + 650.0 * 4.186);
        assert!(heat.abs() < 1e-6, "{at}");
        assert_eq!(balanced_water(desired, &[flour], Mass::ZERO, Factor::times(4.186), TemperatureChange::ZERO), None);
    }
}
