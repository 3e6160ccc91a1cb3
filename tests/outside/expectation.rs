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
    /// The quantity's own range holds the source's figure. Twelve digits are written: a bound on the figure itself may have lost the thirteenth.
    Holds {
        pointer: String,
        holds: f64,
        #[serde(default)]
        tolerance: f64,
    },
    /// The very same value.
    Equals { pointer: String, equals: Value },
    /// The text says this.
    Says { pointer: String, says: String },
    /// Some element of the list at the pointer has all these members.
    Has { pointer: String, has: serde_json::Map<String, Value> },
    /// The finding of a rule of balance has one of these verdicts.
    Finding { rule: String, verdicts: Vec<String> },
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
        if let Self::Finding { rule, verdicts } = self {
            let found = answer["findings"].as_array().and_then(|findings| findings.iter().find(|finding| finding["rule"] == rule.as_str()));
            let verdict = found.and_then(|finding| finding["verdict"].as_str()).unwrap_or("none");
            let agrees = verdicts.iter().any(|one| one == verdict);
            return (!agrees).then(|| format!("rule {rule}: {verdicts:?} expected, found {verdict}"));
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
            | Self::Says { pointer, .. }
            | Self::Has { pointer, .. } => pointer,
            Self::Finding { .. } | Self::Refused { .. } => "",
        }
    }

    fn agrees(&self, found: &Value) -> bool {
        match self {
            Self::Figure { value, tolerance, .. } => {
                figure(found).is_some_and(|figure| (figure - value).abs() <= tolerance + value.abs() * 1e-11)
            }
            Self::Between { low, high, .. } => figure(found).is_some_and(|figure| (*low..=*high).contains(&figure)),
            Self::Holds { holds, tolerance, .. } => {
                let slack = tolerance + holds.abs() * 1e-11;
                span(found).is_some_and(|(low, high)| low - slack <= *holds && *holds <= high + slack)
            }
            Self::Equals { equals, .. } => found == equals,
            Self::Says { says, .. } => found.as_str().is_some_and(|text| text.contains(says)),
            Self::Has { has, .. } => {
                found.as_array().is_some_and(|list| list.iter().any(|one| has.iter().all(|(key, value)| &one[key] == value)))
            }
            Self::Finding { .. } | Self::Refused { .. } => false,
        }
    }
}

/// A bare figure, or that of a quantity or a percentage.
fn figure(found: &Value) -> Option<f64> {
    found.as_f64().or_else(|| found.get("value")?.as_f64()).or_else(|| found.get("percent")?.as_f64())
}

fn span(found: &Value) -> Option<(f64, f64)> {
    let bound = |name: &str| found.get(name).map_or_else(|| figure(found), Value::as_f64);
    Some((bound("low")?, bound("high")?))
}
