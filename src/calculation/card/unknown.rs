//! What is not known of a nutrient, where an ingredient has no figure for it: the same on every label.

use serde::Serialize;
use utoipa::ToSchema;

use crate::quantity::{Figure, Percent};

/// What is not known of a figure: the true one is higher.
#[derive(Debug, Serialize, ToSchema)]
pub struct Unknown {
    /// The share of the weight whose ingredients have no figure for it: the true figure is higher.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = f64, nullable = false, minimum = 0.0, maximum = 100.0)]
    pub missing_percent: Option<Figure>,
    /// Those ingredients.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 10_000)]
    pub without: Vec<String>,
}

impl Unknown {
    pub(super) fn of(missing: Percent, without: Vec<String>) -> Self {
        Self { missing_percent: (!without.is_empty()).then(|| Figure(missing.value())), without }
    }

    /// "no figure for 9 % of the weight".
    pub(super) fn told(&self) -> Option<String> {
        self.missing_percent.map(|share| format!("no figure for {:.0} % of the weight", share.0))
    }
}
