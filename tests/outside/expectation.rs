//! What a source says of one place in an answer, and whether the answer agrees.

use serde::Deserialize;
use serde_json::Value;

/// A figure or a word expected at a JSON Pointer.
#[derive(Debug, Deserialize)]
#[serde(untagged, deny_unknown_fields)]
pub enum Expectation {
    /// The figure, within so much on either side.
    Figure { pointer: String, value: f64, tolerance: f64 },
    /// The figure lies between these.
    Between { pointer: String, low: f64, high: f64 },
    /// The quantity's own range holds the source's figure.
    Holds { pointer: String, holds: f64 },
    /// The very same value.
    Equals { pointer: String, equals: Value },
    /// Some element of the list at the pointer has all these members.
    Has { pointer: String, has: serde_json::Map<String, Value> },
    /// Refused with this status and code.
    Refused { status: u16, code: String },
}

impl Expectation {
    /// What is wrong, if anything is.
    pub fn broken_by(&self, status: u16, answer: &Value) -> Option<String> {
        if let Self::Refused { status: wanted, code } = self {
            let agrees = status == *wanted && answer["code"] == code.as_str();
            return (!agrees).then(|| format!("refused with {wanted} {code} expected"));
        }
        if status != 200 {
            return Some(format!("status 200 expected, found {status}"));
        }
        let pointer = self.pointer();
        let Some(found) = answer.pointer(pointer) else { return Some(format!("nothing at {pointer}")) };
        (!self.agrees(found)).then(|| format!("at {pointer}: {self:?} expected, found {found}"))
    }

    fn pointer(&self) -> &str {
        match self {
            Self::Figure { pointer, .. }
            | Self::Between { pointer, .. }
            | Self::Holds { pointer, .. }
            | Self::Equals { pointer, .. }
            | Self::Has { pointer, .. } => pointer,
            Self::Refused { .. } => "",
        }
    }

    fn agrees(&self, found: &Value) -> bool {
        match self {
            Self::Figure { value, tolerance, .. } => figure(found).is_some_and(|figure| (figure - value).abs() <= tolerance + value.abs() * 1e-11),
            Self::Between { low, high, .. } => figure(found).is_some_and(|figure| (*low..=*high).contains(&figure)),
            Self::Holds { holds, .. } => span(found).is_some_and(|(low, high)| low - rounding(low) <= *holds && *holds <= high + rounding(high)),
            Self::Equals { equals, .. } => found == equals,
            Self::Has { has, .. } => found.as_array().is_some_and(|list| list.iter().any(|one| has.iter().all(|(key, value)| &one[key] == value))),
            Self::Refused { .. } => false,
        }
    }
}

/// Twelve digits are written; a bound that fell on the source's own figure may have lost the thirteenth.
fn rounding(bound: f64) -> f64 {
    bound.abs() * 1e-11
}

/// A bare figure, or that of a quantity or a percentage.
fn figure(found: &Value) -> Option<f64> {
    found.as_f64().or_else(|| found.get("value")?.as_f64()).or_else(|| found.get("percent")?.as_f64())
}

fn span(found: &Value) -> Option<(f64, f64)> {
    let bound = |name: &str| found.get(name).map_or_else(|| figure(found), Value::as_f64);
    Some((bound("low")?, bound("high")?))
}
