//! A heart: a square on its corner with a half circle on each upper side. Its width is 1.7071 times the square's side.

use std::f64::consts::{FRAC_1_SQRT_2, PI};

use crate::pan::geometry::straight_wall;
use crate::pan::kind::{Bakes, Built, DEPTH, Shape, ShapeKind, must, needed};
use crate::quantity::{Area, Factor, Length, Share};
use crate::reference::{Dimension, Sizes};

pub(super) const KIND: ShapeKind = ShapeKind {
    word: "heart",
    text: "A heart: a square and two half circles, with upright walls.",
    fields: &[needed(Dimension::Width, "Inside width at the widest."), DEPTH],
    sold_by: &[Dimension::Width],
    bakes: Bakes::Layer,
    build,
};

#[derive(Debug)]
struct Heart {
    side: Length,
}

fn build(sizes: &Sizes) -> Built {
    Ok(Box::new(Heart { side: must(sizes, Dimension::Width)? / Factor::times(1.0 + FRAC_1_SQRT_2) }))
}

impl Shape for Heart {
    fn section(&self, _: Share) -> Option<Area> {
        Some(self.side * self.side * Factor::times(1.0 + PI / 4.0))
    }

    fn wall(&self, depth: Length) -> Option<Area> {
        Some(straight_wall(self.side * Factor::times(2.0 + PI), depth))
    }

    /// The widest circle that fits is a little wider than the square; the square is near enough, practice.
    fn half_way(&self) -> Option<Length> {
        Some(self.side / Factor::times(2.0))
    }
}
