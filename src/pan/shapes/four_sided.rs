//! The figure behind squares, rectangles, sheets and loaves: four walls that may lean, and corners that may be round.

use std::f64::consts::PI;

use crate::pan::geometry::between;
use crate::pan::kind::{Impossible, Shape, contradiction};
use crate::quantity::{Area, Factor, Length, Share};
use crate::reference::Dimension;

/// Length and width at the rim and at the base, and the radius of the corners.
#[derive(Debug)]
pub(super) struct FourSided {
    pub(super) rim: [Length; 2],
    pub(super) base: [Length; 2],
    corner: Length,
}

impl FourSided {
    pub(super) fn sharp(rim: [Length; 2], base: [Length; 2]) -> Self {
        Self { rim, base, corner: Length::ZERO }
    }

    /// Straight walls and round corners: a corner cannot be wider than half the pan.
    pub(super) fn cornered(rim: [Length; 2], corner: Option<Length>) -> Result<Self, Impossible> {
        let corner = corner.unwrap_or(Length::ZERO);
        let narrow = if rim[0] < rim[1] { rim[0] } else { rim[1] };
        if corner + corner > narrow {
            return Err(contradiction(Dimension::Corner, "a corner radius of at most half the width"));
        }
        Ok(Self { rim, base: rim, corner })
    }
}

impl Shape for FourSided {
    fn section(&self, at: Share) -> Option<Area> {
        let [length, width] = [0, 1].map(|side| between(self.base[side], self.rim[side], at));
        Some(length * width - self.corner * self.corner * Factor::times(4.0 - PI))
    }

    fn wall(&self, depth: Length) -> Option<Area> {
        let sides: Area = [(0, 1), (1, 0)]
            .map(|(side, other)| {
                let lean = (self.rim[other] - self.base[other]).in_centimetres() / 2.0;
                let slant = libm::hypot(depth.in_centimetres(), lean);
                (self.rim[side] + self.base[side]) * Length::centimetres(slant)
            })
            .into_iter()
            .sum();
        Some(sides - self.corner * depth * Factor::times(8.0 - 2.0 * PI))
    }

    fn half_way(&self) -> Option<Length> {
        let middle = [0, 1].map(|side| self.rim[side] + self.base[side]);
        let narrow = if middle[0] < middle[1] { middle[0] } else { middle[1] };
        Some(narrow / Factor::times(4.0))
    }
}
