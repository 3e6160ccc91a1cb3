//! A finding: what does not agree, with its figures, which of them is more probably wrong, and the mend.

use serde::Serialize;
use utoipa::ToSchema;

use crate::quantity::Quantity;

/// What was compared.
/// - `two-measures`: two measures of one line.
/// - `count-and-mass`: things counted and their mass: eggs, fruit, packets.
/// - `uneven-measure`: one ingredient measured in two places with different weights to the cup.
/// - `part-scaled`: all second measures of a part differ by one factor.
/// - `mass-missing`: a cup without its grams among lines that have them.
/// - `oven`: °F, °C and gas mark.
/// - `pan-size`: inches and centimetres.
/// - `pan-and-batter`: the batter and the pan it was tested in.
/// - `yield`: pieces and weights of what it makes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum AuditKind {
    TwoMeasures,
    CountAndMass,
    UnevenMeasure,
    PartScaled,
    MassMissing,
    Oven,
    PanSize,
    PanAndBatter,
    Yield,
}

/// How grave it is.
/// - `doubtful`: it may be meant, but should be looked at.
/// - `contradict`: both cannot be true.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum AuditVerdict {
    Doubtful,
    Contradict,
}

/// One thing that does not agree.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct AuditFinding {
    /// Where it stands, as a JSON Pointer into the question.
    #[schema(max_length = 120, examples("/formula/parts/0/lines/3"))]
    pub pointer: String,
    /// What was compared.
    pub kind: AuditKind,
    /// How grave it is.
    pub verdict: AuditVerdict,
    /// The figures that do not agree, in the measure in which they can be compared.
    #[schema(min_items = 1, max_items = 10)]
    pub figures: Vec<AuditFigure>,
    /// Which figure is more probably wrong; absent where nothing tells.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub likely_wrong: Option<LikelyWrong>,
    /// What to do, in a sentence.
    #[schema(max_length = 600)]
    pub mend: String,
}

/// A figure as written, and what it comes to.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct AuditFigure {
    /// The field it stands in, as a JSON Pointer into the question.
    #[schema(max_length = 120, examples("/formula/parts/0/lines/3/also"))]
    pub pointer: String,
    /// As it was written.
    #[schema(max_length = 200, examples("1 3/4 cups"))]
    pub written: String,
    /// What it comes to, with its range.
    pub is: Quantity,
}

/// The figure that is more probably wrong.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct LikelyWrong {
    /// The field, as a JSON Pointer into the question.
    #[schema(max_length = 120, examples("/formula/parts/0/lines/3/also"))]
    pub pointer: String,
    /// Why it is the likelier one, in a sentence.
    #[schema(max_length = 400)]
    pub why: String,
}
