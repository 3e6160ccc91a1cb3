//! A figure with its honest range. `low <= value <= high` always; a sum adds the ends, a positive factor keeps their order.

use std::ops::{Add, Div, Mul, Sub};

use super::measure::Factor;

/// A quantity that is one number in one unit.
pub trait Quantifiable: Copy {
    fn raw(self) -> f64;
    fn of_raw(raw: f64) -> Self;
}

/// A value between a low and a high end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span<T> {
    low: T,
    value: T,
    high: T,
}

impl<T: Quantifiable> Span<T> {
    /// Puts the three in order, so that no span can stand on its head.
    pub fn new(low: T, value: T, high: T) -> Self {
        let (low, value, high) = (low.raw(), value.raw(), high.raw());
        Self { low: T::of_raw(low.min(value)), value: T::of_raw(value), high: T::of_raw(high.max(value)) }
    }

    pub fn exact(value: T) -> Self {
        Self { low: value, value, high: value }
    }

    /// From `low` to `high`, with the middle as the value.
    pub fn between(low: T, high: T) -> Self {
        Self::new(low, T::of_raw((low.raw() + high.raw()) / 2.0), high)
    }

    pub fn low(&self) -> T {
        self.low
    }

    pub fn value(&self) -> T {
        self.value
    }

    pub fn high(&self) -> T {
        self.high
    }

    /// No range at all: the figure is as sharp as what it came from. Ends within a millionth of a millionth are the noise of arithmetic.
    pub fn is_exact(&self) -> bool {
        self.high.raw() - self.low.raw() <= self.value.raw().abs() * 1e-12
    }

    pub fn is_finite(&self) -> bool {
        self.low.raw().is_finite() && self.value.raw().is_finite() && self.high.raw().is_finite()
    }

    /// Applies an increasing function to the three figures.
    pub fn map<U: Quantifiable>(self, rising: impl Fn(T) -> U) -> Span<U> {
        Span::new(rising(self.low), rising(self.value), rising(self.high))
    }

    /// Applies a decreasing function: the ends change places.
    pub fn map_falling<U: Quantifiable>(self, falling: impl Fn(T) -> U) -> Span<U> {
        Span::new(falling(self.high), falling(self.value), falling(self.low))
    }

    /// The smallest span that holds both; the value stays this one's.
    pub fn hull(self, other: Self) -> Self {
        Self::new(
            if other.low.raw() < self.low.raw() { other.low } else { self.low },
            self.value,
            if other.high.raw() > self.high.raw() { other.high } else { self.high },
        )
    }
}

impl<T: Quantifiable + Add<U, Output = V>, U: Quantifiable, V: Quantifiable> Add<Span<U>> for Span<T> {
    type Output = Span<V>;
    fn add(self, other: Span<U>) -> Span<V> {
        Span { low: self.low + other.low, value: self.value + other.value, high: self.high + other.high }
    }
}

/// Two figures in doubt of which each moves by itself: the ends cross. What is in doubt together is taken over one another by `formula::Total`.
impl<T: Quantifiable + Sub<U, Output = V>, U: Quantifiable, V: Quantifiable> Sub<Span<U>> for Span<T> {
    type Output = Span<V>;
    fn sub(self, other: Span<U>) -> Span<V> {
        Span::new(self.low - other.high, self.value - other.value, self.high - other.low)
    }
}

/// Each moves by itself, and neither is below nothing.
impl<T: Quantifiable + Mul<U, Output = V>, U: Quantifiable, V: Quantifiable> Mul<Span<U>> for Span<T> {
    type Output = Span<V>;
    fn mul(self, other: Span<U>) -> Span<V> {
        Span::new(self.low * other.low, self.value * other.value, self.high * other.high)
    }
}

/// Each moves by itself, and neither is below nothing: the ends cross.
impl<T: Quantifiable + Div<U, Output = V>, U: Quantifiable, V: Quantifiable> Div<Span<U>> for Span<T> {
    type Output = Span<V>;
    fn div(self, other: Span<U>) -> Span<V> {
        Span::new(self.low / other.high, self.value / other.value, self.high / other.low)
    }
}

impl<T: Quantifiable> Mul<Factor> for Span<T> {
    type Output = Self;
    fn mul(self, factor: Factor) -> Self {
        self.map(|end| T::of_raw(end.raw() * factor.value()))
    }
}

impl<T: Quantifiable> Div<Factor> for Span<T> {
    type Output = Self;
    fn div(self, factor: Factor) -> Self {
        self.map(|end| T::of_raw(end.raw() / factor.value()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Mass;

    #[test]
    fn the_ends_of_a_sum_are_the_sums_of_the_ends() {
        let cup = Span::new(Mass::grams(110.0), Mass::grams(125.0), Mass::grams(160.0));
        let two = cup + cup;
        assert_eq!((two.low().in_grams(), two.high().in_grams()), (220.0, 320.0));
    }

    #[test]
    fn the_most_pieces_come_from_the_heaviest_mass_and_the_lightest_piece() {
        let spread = |low, value, high| Span::new(Mass::grams(low), Mass::grams(value), Mass::grams(high));
        let pieces = spread(90.0, 100.0, 110.0) / spread(9.0, 10.0, 11.0);
        assert_eq!([pieces.low(), pieces.value(), pieces.high()].map(Factor::value), [90.0 / 11.0, 10.0, 110.0 / 9.0]);
        let left = spread(90.0, 100.0, 110.0) - spread(9.0, 10.0, 11.0);
        assert_eq!([left.low(), left.value(), left.high()].map(Mass::in_grams), [79.0, 90.0, 101.0]);
    }

    #[test]
    fn a_span_never_stands_on_its_head() {
        let span = Span::new(Mass::grams(3.0), Mass::grams(2.0), Mass::grams(1.0));
        assert!(span.low() <= span.value() && span.value() <= span.high());
    }
}
