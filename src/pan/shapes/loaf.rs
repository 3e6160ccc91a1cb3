//! A loaf pan: a rectangle whose four walls may lean, each by its own amount (a prismatoid).

use super::four_sided::FourSided;
use crate::pan::kind::{Bakes, Built, DEPTH, ShapeKind, base, must, needed, optional};
use crate::reference::{Dimension, Sizes};

pub(super) const KIND: ShapeKind = ShapeKind {
    word: "loaf",
    text: "A loaf pan or tin, straight or tapered.",
    fields: &[
        needed(Dimension::Length, "Inside length at the rim."),
        needed(Dimension::Width, "Inside width at the rim."),
        DEPTH,
        optional(Dimension::BaseLength, "Inside length at the base, where the ends lean."),
        optional(Dimension::BaseWidth, "Inside width at the base, where the sides lean."),
    ],
    sold_by: &[Dimension::Length, Dimension::Width],
    bakes: Bakes::Loaf,
    build,
};

fn build(sizes: &Sizes) -> Built {
    let rim = [must(sizes, Dimension::Length)?, must(sizes, Dimension::Width)?];
    let base = [base(sizes, Dimension::BaseLength, rim[0])?, base(sizes, Dimension::BaseWidth, rim[1])?];
    Ok(Box::new(FourSided::sharp(rim, base)))
}
