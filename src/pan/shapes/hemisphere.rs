//! A half ball: its depth is half its diameter, so nobody asks for it.

use crate::pan::geometry::circle;
use crate::pan::kind::{Bakes, Built, Shape, ShapeKind, must, needed};
use crate::quantity::{Area, Factor, Length, Share};
use crate::reference::{Dimension, Sizes};

pub(super) const KIND: ShapeKind = ShapeKind {
    word: "hemisphere",
    text: "A half ball, standing on its dome.",
    fields: &[needed(Dimension::Diameter, "Inside diameter at the rim.")],
    sold_by: &[Dimension::Diameter],
    bakes: Bakes::Layer,
    build,
};

#[derive(Debug)]
struct Hemisphere {
    diameter: Length,
}

fn build(sizes: &Sizes) -> Built {
    Ok(Box::new(Hemisphere { diameter: must(sizes, Dimension::Diameter)? }))
}

impl Shape for Hemisphere {
    /// At height y the circle has the area pi (2 r y - y^2).
    fn section(&self, at: Share) -> Option<Area> {
        let t = at.value();
        Some(circle(self.diameter) * Factor::times(2.0 * t - t * t))
    }

    /// The whole dome: 2 pi r^2.
    fn wall(&self, _: Length) -> Option<Area> {
        Some(circle(self.diameter) * Factor::times(2.0))
    }

    fn half_way(&self) -> Option<Length> {
        Some(self.diameter / Factor::times(2.0))
    }

    fn own_depth(&self) -> Option<Length> {
        Some(self.diameter / Factor::times(2.0))
    }
}
