//! An oval pan: an ellipse by its full axes.

use std::f64::consts::PI;

use crate::pan::geometry::straight_wall;
use crate::pan::kind::{Bakes, Built, DEPTH, Shape, ShapeKind, must, needed};
use crate::quantity::{Area, Factor, Length, Share};
use crate::reference::{Dimension, Sizes};

pub(super) const KIND: ShapeKind = ShapeKind {
    word: "oval",
    text: "An oval pan (an ellipse) with upright walls.",
    fields: &[
        needed(Dimension::Length, "Inside length, the longer way across."),
        needed(Dimension::Width, "Inside width, the shorter way across."),
        DEPTH,
    ],
    sold_by: &[Dimension::Length, Dimension::Width],
    bakes: Bakes::Layer,
    build,
};

#[derive(Debug)]
struct Oval {
    length: Length,
    width: Length,
}

fn build(sizes: &Sizes) -> Built {
    Ok(Box::new(Oval { length: must(sizes, Dimension::Length)?, width: must(sizes, Dimension::Width)? }))
}

impl Oval {
    /// The girth by Ramanujan's second rule: within a millionth for any oval that is a pan.
    fn girth(&self) -> Length {
        let (a, b) = (self.length.in_centimetres() / 2.0, self.width.in_centimetres() / 2.0);
        let h = (a - b) * (a - b) / ((a + b) * (a + b));
        Length::centimetres(PI * (a + b) * (1.0 + 3.0 * h / (10.0 + libm::sqrt(4.0 - 3.0 * h))))
    }
}

impl Shape for Oval {
    fn section(&self, _: Share) -> Option<Area> {
        Some(self.length * self.width * Factor::times(PI / 4.0))
    }

    fn wall(&self, depth: Length) -> Option<Area> {
        Some(straight_wall(self.girth(), depth))
    }

    fn half_way(&self) -> Option<Length> {
        let narrow = if self.width < self.length { self.width } else { self.length };
        Some(narrow / Factor::times(2.0))
    }
}
