//! A square pan, straight or tapered.

use super::four_sided::FourSided;
use crate::pan::kind::{Bakes, Built, DEPTH, ShapeKind, base, must, needed, optional};
use crate::reference::{Dimension, Sizes};

pub(super) const KIND: ShapeKind = ShapeKind {
    word: "square",
    text: "A square pan, straight or tapered.",
    fields: &[
        needed(Dimension::Side, "Inside length of a side at the rim."),
        DEPTH,
        optional(Dimension::BaseSide, "Inside length of a side at the base, where the walls lean."),
    ],
    sold_by: &[Dimension::Side],
    bakes: Bakes::Layer,
    build,
};

fn build(sizes: &Sizes) -> Built {
    let rim = must(sizes, Dimension::Side)?;
    let base = base(sizes, Dimension::BaseSide, rim)?;
    Ok(Box::new(FourSided::sharp([rim, rim], [base, base])))
}
