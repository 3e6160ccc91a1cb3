//! A round pan: a cylinder, or a cone cut off where the wall leans (pie plates, ramekins).

use crate::pan::geometry::{between, circle, cone_wall};
use crate::pan::kind::{Bakes, Built, DEPTH, Field, Impossible, Shape, ShapeKind, base, must, needed, optional};
use crate::quantity::{Area, Factor, Length, Share};
use crate::reference::{Dimension, Sizes};

pub(super) const FIELDS: &[Field] = &[
    needed(Dimension::Diameter, "Inside diameter at the rim."),
    DEPTH,
    optional(Dimension::BaseDiameter, "Inside diameter at the base, where the wall leans."),
];

pub(super) const KIND: ShapeKind = ShapeKind {
    word: "round",
    text: "A round pan, straight or tapered: layer pans, pie plates, ramekins.",
    fields: FIELDS,
    sold_by: &[Dimension::Diameter],
    bakes: Bakes::Layer,
    build: Round::build,
};

/// A round pan.
#[derive(Debug)]
pub(super) struct Round {
    rim: Length,
    base: Length,
}

impl Round {
    pub(super) fn build(sizes: &Sizes) -> Built {
        Ok(Box::new(Self::of(sizes)?))
    }

    pub(super) fn of(sizes: &Sizes) -> Result<Self, Impossible> {
        let rim = must(sizes, Dimension::Diameter)?;
        Ok(Self { rim, base: base(sizes, Dimension::BaseDiameter, rim)? })
    }

    /// Half its width at the middle of its depth.
    pub(super) fn half_width(&self) -> Length {
        (self.rim + self.base) / Factor::times(4.0)
    }
}

impl Shape for Round {
    fn section(&self, at: Share) -> Option<Area> {
        Some(circle(between(self.base, self.rim, at)))
    }

    fn wall(&self, depth: Length) -> Option<Area> {
        Some(cone_wall(self.base, self.rim, depth))
    }

    fn half_way(&self) -> Option<Length> {
        Some(self.half_width())
    }
}
