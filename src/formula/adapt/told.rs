//! What a step tells of itself: where it changed the formula, from what to what, why, and how far the sources disagree.

use serde::Serialize;
use utoipa::ToSchema;

use crate::quantity::{Figure, Quantity};

/// One change of the formula.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct Changed {
    /// The step that made it, counted from 0.
    #[schema(minimum = 0, maximum = 49, examples(0))]
    pub step: usize,
    /// Where it stands in the formula of this answer, as a JSON Pointer; for a line that is gone, the list in which it stood.
    #[schema(max_length = 200, examples("/formula/parts/0/lines/2"))]
    pub pointer: String,
    /// What stood there; left out where nothing did.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 500, examples("3 large egg"))]
    pub before: Option<String>,
    /// What stands there now; left out where nothing does.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 500, examples("150 g egg"))]
    pub after: Option<String>,
    /// Why, with the figures it rests on.
    #[schema(max_length = 1000)]
    pub why: String,
    /// What it may be where sources disagree; the formula takes the value.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub range: Option<Quantity>,
    /// How far the new amount is off the old one, in hundredths of the old weight; for a mixture that stands for something, how far its composition is off.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, value_type = f64, minimum = -100.0, maximum = 100_000.0, examples(-1.4))]
    pub off_percent: Option<Figure>,
    /// The eggs to take, where the line is one of eggs.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub eggs: Option<EggsTold>,
    /// The id of the source; see /v1/sources/{id}.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 60, examples("usda-sr28"))]
    pub source: Option<&'static str>,
}

/// How many of the new eggs a line wants.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct EggsTold {
    /// How many by weight.
    #[schema(value_type = f64, minimum = 0.0, maximum = 1e9, examples(3.41))]
    pub exact: Figure,
    /// The nearest whole number, at least 1.
    #[schema(minimum = 1, maximum = 1_000_000_000, examples(3))]
    pub whole: u32,
    /// What so many weigh, without their shells.
    pub weight: Quantity,
    /// How far that is off, in hundredths of the weight that is wanted.
    #[schema(value_type = f64, minimum = -100.0, maximum = 100_000.0, examples(-12.0))]
    pub off_percent: Figure,
}
