//! The one number that may leave: finite, 12 significant digits, never minus zero. So 0.1 + 0.2 leaves as 0.3, and a number that is none stops the answer.

use serde::ser::{Error, Serialize, Serializer};

/// A number on its way out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure(pub f64);

impl Figure {
    /// Twelve significant digits. The exact decimal way: formatting is slower than powers of ten and always right.
    pub fn rounded(self) -> f64 {
        let number = self.0;
        if number == 0.0 {
            return 0.0;
        }
        if number.fract() == 0.0 && number.abs() < 1e12 {
            return number;
        }
        if let Some(short) = short_decimal(number) {
            return short;
        }
        format!("{number:.11e}").parse().unwrap_or(number)
    }
}

/// A number with few decimals is already rounded: a thousand times it is whole. Most figures of the kitchen are.
fn short_decimal(number: f64) -> Option<f64> {
    let thousandfold = number * 1000.0;
    (thousandfold.abs() < 1e11 && thousandfold.fract() == 0.0 && thousandfold / 1000.0 == number).then_some(number)
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
    }

    #[test]
    fn a_number_that_is_none_never_leaves() {
        assert!(serde_json::to_string(&Figure(f64::NAN)).is_err());
        assert!(serde_json::to_string(&Figure(f64::INFINITY)).is_err());
    }
}
