//! The one number that may leave: finite, 12 significant digits, never minus zero. So 0.1 + 0.2 leaves as 0.3, and a number that is none stops the answer.

use serde::ser::{Error, Serialize, Serializer};

/// A number on its way out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure(pub f64);

/// How far a figure is off what was wanted, in hundredths of that. What only the arithmetic is off is nothing.
pub fn off_percent(figure: f64, wanted: f64) -> f64 {
    let off = (figure / wanted - 1.0) * 100.0;
    if off.abs() < 1e-9 { 0.0 } else { off }
}

impl Figure {
    /// Twelve significant digits: scaled to a whole number of them, rounded, and scaled back. Powers of ten up to 10^22 are exact, so the same figure
    /// always gives the same digits.
    pub fn rounded(self) -> f64 {
        let number = self.0;
        if number.abs() < 1e12 && whole(number) == number {
            // Minus nothing is nothing.
            return number + 0.0;
        }
        match places_of(number, 12) {
            places @ 0..=22 => nearest(number * POWERS[places as usize]) / POWERS[places as usize],
            places @ -22..0 => (number / POWERS[-places as usize]).round() * POWERS[-places as usize],
            _ => format!("{number:.11e}").parse().unwrap_or(number),
        }
    }
}

/// What stands before the point, for numbers that a 64-bit whole number holds: far quicker than by way of the library.
fn whole(number: f64) -> f64 {
    number as i64 as f64
}

/// Rounded, halves away from nothing, within the same bounds.
fn nearest(number: f64) -> f64 {
    whole(number + 0.5_f64.copysign(number))
}

/// The powers of ten that a number can hold exactly.
pub(super) const POWERS: [f64; 23] =
    [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22];

/// How many decimals hold so many significant digits; below nothing where the digits end before the point.
pub(super) fn places_of(number: f64, digits: i32) -> i32 {
    digits - 1 - magnitude(number)
}

/// The power of ten of the first digit: 2 for 355, -1 for 0.5.
fn magnitude(number: f64) -> i32 {
    let number = number.abs();
    let binary = ((number.to_bits() >> 52) & 0x7ff) as i32 - 1023;
    // log10(2) is 315652.8 / 2^20; rounded so that the guess is never too large, and at most one too small, which the comparison mends.
    let guess = (binary * if binary < 0 { 315_653 } else { 315_652 }) >> 20;
    let next = match guess + 1 {
        power @ 0..=22 => POWERS[power as usize],
        power @ -22..0 => 1.0 / POWERS[-power as usize],
        power => libm::pow(10.0, f64::from(power)),
    };
    if number >= next { guess + 1 } else { guess }
}

impl Serialize for Figure {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if !self.0.is_finite() {
            return Err(S::Error::custom("a figure is beyond all numbers"));
        }
        let rounded = self.rounded();
        serializer.serialize_f64(rounded)
    }
}

impl utoipa::PartialSchema for Figure {
    fn schema() -> utoipa::openapi::RefOr<utoipa::openapi::schema::Schema> {
        utoipa::openapi::schema::ObjectBuilder::new()
            .schema_type(utoipa::openapi::schema::Type::Number)
            .format(Some(utoipa::openapi::schema::SchemaFormat::KnownFormat(utoipa::openapi::schema::KnownFormat::Double)))
            .description(Some("A finite number of at most 12 significant digits."))
            .into()
    }
}

impl utoipa::ToSchema for Figure {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tenth_and_two_tenths_are_three_tenths() {
        assert_eq!(Figure(0.1 + 0.2).rounded(), 0.3);
        assert_eq!(Figure(-0.0).rounded().to_bits(), 0.0_f64.to_bits());
        assert_eq!(Figure(1.0 / 3.0).rounded(), 0.333333333333);
        assert_eq!(Figure(2084.999934989).rounded(), 2084.99993499);
        assert_eq!(Figure(9.999_999_999_999_9).rounded(), 10.0);
        assert_eq!(Figure(0.001_234_567_890_123_4).rounded(), 0.00123456789012);
    }

    #[test]
    fn rounding_agrees_with_exact_decimal_rounding() {
        let mut figure = 1.234_567_890_123_456_7e-9;
        for _ in 0..4000 {
            figure *= 1.011_311_7;
            let exact: f64 = format!("{figure:.11e}").parse().unwrap_or(f64::NAN);
            assert!((Figure(figure).rounded() - exact).abs() <= exact.abs() * 1e-11, "{figure}");
            assert!((Figure(-figure).rounded() + Figure(figure).rounded()).abs() < f64::MIN_POSITIVE);
        }
    }

    #[test]
    fn a_number_that_is_none_never_leaves() {
        assert!(serde_json::to_string(&Figure(f64::NAN)).is_err());
        assert!(serde_json::to_string(&Figure(f64::INFINITY)).is_err());
    }
}
