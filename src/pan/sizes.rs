//! Which trade size a pan is. A pan matches a row of the table when its measures lie within 2 % of it: nobody measures a rim closer than that.

use super::kind::{Bakes, ShapeKind};
use crate::quantity::{Family, Length, Share, Unit};
use crate::reference::{Dimension, PanRow, Reference, Sizes};

/// How far a measure may be off.
const TOLERANCE: f64 = 0.02;

/// How much nearer a row of the other unit must be, which counts at all only within the tolerance: 20 cm is first a size of its own, but a ring of
/// 23 cm is rather the one of 9 in than the one of 24 cm.
const OTHER_UNIT: f64 = TOLERANCE;

/// The row that matches these measures, depth included: the nearest, sooner one measured in the same unit.
pub(super) fn matching(kind: &'static ShapeKind, sizes: &Sizes, unit: &Unit, reference: &Reference) -> Option<&'static PanRow> {
    let rows = reference.pans.near(kind.word, sizes.lead(), Share::of_one(TOLERANCE)).iter().copied();
    nearest(rows.filter(|row| row.sizes.wells == sizes.wells), sizes, unit, dimensions_of(kind), TOLERANCE)
}

/// The dimensions that make a trade size of a shape. A tube's core and taper are seldom printed, so they do not part one size from another; nor does a
/// corner.
fn dimensions_of(kind: &'static ShapeKind) -> impl Iterator<Item = Dimension> + Clone {
    use Dimension::{CoreDiameter, CoreTopDiameter, Corner, Depth, Diameter};
    let hollow = matches!(kind.bakes, Bakes::Tube | Bakes::Ring);
    let makes_a_size = move |dimension: &Dimension| match dimension {
        Depth | Diameter => true,
        CoreDiameter | CoreTopDiameter | Corner => false,
        other => !hollow && other.family() == Family::Length,
    };
    kind.fields.iter().map(|field| field.dimension).filter(makes_a_size)
}

/// The row nearest in these dimensions, if all of them lie within the tolerance. Where none is known at all, the capacities decide.
pub(super) fn nearest(
    rows: impl Iterator<Item = &'static PanRow>,
    sizes: &Sizes,
    unit: &Unit,
    dimensions: impl Iterator<Item = Dimension> + Clone,
    tolerance: f64,
) -> Option<&'static PanRow> {
    rows.filter_map(|row| Some((row, distance(row, sizes, dimensions.clone(), tolerance)?)))
        .min_by(|(a, off_a), (b, off_b)| {
            let other = |row: &PanRow| row.unit.id != unit.id;
            let rank = |row: &PanRow, off: f64| (other(row) && off > TOLERANCE, if other(row) { off + OTHER_UNIT } else { off });
            let ((far_a, off_a), (far_b, off_b)) = (rank(a, *off_a), rank(b, *off_b));
            far_a.cmp(&far_b).then(off_a.total_cmp(&off_b)).then(b.common.cmp(&a.common))
        })
        .map(|(row, _)| row)
}

/// How far apart sizes are that are sold as one: 20 cm and 8 in; a deep pie dish of nine inches and a half as one of nine.
pub(super) const SOLD_AS_ONE: f64 = 0.03;
pub(super) const DEEP_DISH_APART: f64 = 0.06;

/// Whether two sizes are sold as one.
pub(super) fn is_beside(one: Option<Length>, other: Option<Length>, apart: f64) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => ((one / other).value() - 1.0).abs() <= apart,
        (one, other) => one.is_none() && other.is_none(),
    }
}

/// The largest of the relative differences; nothing where a measure stands on one side only, or from the first one beyond the tolerance.
fn distance(row: &PanRow, sizes: &Sizes, dimensions: impl Iterator<Item = Dimension>, tolerance: f64) -> Option<f64> {
    let within = |times: f64| Some((times - 1.0).abs()).filter(|off| *off <= tolerance);
    let mut worst: Option<f64> = None;
    for dimension in dimensions {
        match (or_rim(&row.sizes, dimension), or_rim(sizes, dimension)) {
            (None, None) => {}
            (Some(printed), Some(measured)) => worst = Some(within((measured / printed).value())?.max(worst.unwrap_or(0.0))),
            _ => return None,
        }
    }
    worst.or_else(|| within((sizes.capacity?.value() / row.sizes.capacity?.value()).value()))
}

/// A base that is not told is as wide as the rim.
fn or_rim(sizes: &Sizes, dimension: Dimension) -> Option<Length> {
    sizes.length(dimension).or_else(|| match dimension {
        Dimension::BaseDiameter => sizes.length(Dimension::Diameter),
        Dimension::BaseSide => sizes.length(Dimension::Side),
        Dimension::BaseLength => sizes.length(Dimension::Length),
        Dimension::BaseWidth => sizes.length(Dimension::Width),
        _ => None,
    })
}
