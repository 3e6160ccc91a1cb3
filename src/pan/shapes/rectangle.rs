//! A rectangular pan with straight walls and, if said, round corners.

use super::four_sided::FourSided;
use crate::pan::kind::{Bakes, Built, DEPTH, Field, ShapeKind, must, needed, optional};
use crate::reference::{Dimension, Sizes};

pub(super) const FIELDS: &[Field] = &[
    needed(Dimension::Length, "Inside length."),
    needed(Dimension::Width, "Inside width."),
    DEPTH,
    optional(Dimension::Corner, "Inside radius of the corners; sharp where it is left out."),
];

pub(super) const KIND: ShapeKind =
    ShapeKind { word: "rectangle", text: "A rectangular pan or dish with upright walls.", fields: FIELDS,
    sold_by: &[Dimension::Length, Dimension::Width],
    bakes: Bakes::Sheet,
    build };

pub(super) fn build(sizes: &Sizes) -> Built {
    let rim = [must(sizes, Dimension::Length)?, must(sizes, Dimension::Width)?];
    Ok(Box::new(FourSided::cornered(rim, sizes.length(Dimension::Corner))?))
}
