//! A hexagonal pan, measured flat to flat. Makers often name it corner to corner: that is 1.1547 times as much.

use crate::pan::geometry::straight_wall;
use crate::pan::kind::{Bakes, Built, DEPTH, Shape, ShapeKind, must, needed};
use crate::quantity::{Area, Factor, Length, Share};
use crate::reference::{Dimension, Sizes};

pub(super) const KIND: ShapeKind = ShapeKind {
    word: "hexagon",
    text: "A hexagonal pan with upright walls.",
    fields: &[needed(Dimension::Across, "Inside width from flat to flat, not from corner to corner."), DEPTH],
    sold_by: &[Dimension::Across],
    bakes: Bakes::Layer,
    build,
};

#[derive(Debug)]
struct Hexagon {
    across: Length,
}

fn build(sizes: &Sizes) -> Built {
    Ok(Box::new(Hexagon { across: must(sizes, Dimension::Across)? }))
}

impl Shape for Hexagon {
    fn section(&self, _: Share) -> Option<Area> {
        Some(self.across * self.across * Factor::times(libm::sqrt(3.0) / 2.0))
    }

    fn wall(&self, depth: Length) -> Option<Area> {
        Some(straight_wall(self.across * Factor::times(2.0 * libm::sqrt(3.0)), depth))
    }

    fn half_way(&self) -> Option<Length> {
        Some(self.across / Factor::times(2.0))
    }
}
