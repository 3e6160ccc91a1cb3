//! A formula multiplied to what is wanted, as it is told of one batch and of each order of a day.

use serde::Serialize;
use smol_str::SmolStr;
use utoipa::ToSchema;

use super::want::Plan;
use crate::formula::{Formula, Mixture, Way};
use crate::quantity::{Factor, Figure, Quantity};
use crate::reference::Stage;

/// A formula multiplied to what is wanted.
#[derive(Debug, Serialize, ToSchema)]
pub struct Multiplied {
    /// By what the formula is multiplied.
    #[schema(minimum = 0.0, maximum = 1e9, examples(3.48))]
    pub factor: Figure,
    /// What is delivered, after all losses.
    pub delivered: Quantity,
    /// What to put in each pan or piece.
    #[schema(max_items = 50)]
    pub scale_at: Vec<ScaleAt>,
    /// Pieces to scale: more than are delivered where some are lost as rejects.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pieces: Option<WholeAndExact>,
    /// Pans to fill.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pans: Option<WholeAndExact>,
}

impl Multiplied {
    pub(in crate::calculation) fn of(formula: &Formula, way: &Way<'_>, plan: &Plan) -> Self {
        Self {
            factor: Figure(plan.factor.value()),
            delivered: Quantity::from(plan.delivered(way)),
            scale_at: scale_at(formula, way, plan),
            pieces: plan.pieces_scaled.map(whole_and_exact),
            pans: plan.pans.map(whole_and_exact),
        }
    }
}

/// A whole number beside the exact one.
#[derive(Clone, Copy, Debug, Serialize, ToSchema)]
pub struct WholeAndExact {
    /// Rounded up.
    #[schema(minimum = 0, maximum = 1e12)]
    pub whole: u64,
    /// As computed.
    #[schema(value_type = f64, minimum = 0.0, maximum = 1e12)]
    pub exact: Figure,
}

/// What to put in each pan or piece of one part.
#[derive(Debug, Serialize, ToSchema)]
pub struct ScaleAt {
    /// The part.
    #[schema(value_type = String, max_length = 200)]
    pub part: SmolStr,
    /// Into what: `pan` or `piece`.
    #[schema(max_length = 10, examples("piece"))]
    pub into: &'static str,
    /// How much of it is to lie in it before the oven: what stays on ladle and bag is not in it.
    pub each: Quantity,
}

/// Whole things beside the exact figure.
pub(in crate::calculation) fn whole_and_exact(exact: Factor) -> WholeAndExact {
    WholeAndExact { whole: exact.rounded_up(), exact: Figure(exact.value()) }
}

/// What goes into each pan, where the formula names its pans, else into each piece.
fn scale_at(formula: &Formula, way: &Way<'_>, plan: &Plan) -> Vec<ScaleAt> {
    let (into, count) = match (plan.pieces_scaled, plan.pans) {
        // What does not fill one pan lies in one pan all the same.
        (_, Some(pans)) if plan.pieces.is_none() => ("pan", if pans < Factor::ONE { Factor::ONE } else { pans }),
        (Some(pieces), _) => ("piece", pieces),
        _ => return Vec::new(),
    };
    let scaled = |mixture: Mixture<'_>| {
        let mass = way.left(Some(mixture.root), plan.counts, Stage::before_scaling).at(plan.factor);
        ScaleAt { part: mixture.part().name.clone(), into, each: Quantity::from(mass / count) }
    };
    formula.mixtures().map(scaled).collect()
}
