//! A fluted ring: no geometry serves its folds. It holds what its maker printed, or a usual share of the plain cylinder around it, as a span.

use crate::pan::geometry::{circle, cone_wall};
use crate::pan::kind::{Bakes, Built, DEPTH, Held, Shape, ShapeKind, missing, optional};
use crate::quantity::{Area, Factor, Length, Share, Span, Volume};
use crate::reference::{Dimension, Sizes};

pub(super) const KIND: ShapeKind = ShapeKind {
    word: "fluted-ring",
    text: "A ring with folds. Give what it holds, or its diameter and depth; without a capacity 0.63 to 0.74 of a cylinder is taken.",
    fields: &[
        optional(Dimension::Diameter, "Inside diameter at the rim."),
        DEPTH,
        optional(Dimension::Capacity, "What it holds to the brim, as printed by its maker or measured with water."),
    ],
    sold_by: &[Dimension::Diameter],
    bakes: Bakes::Ring,
    build,
};

/// Printed capacities of 6, 9, 12 and 12 cups for rings of 7.5 x 3, 9 x 3, 10 x 3 and 10 x 3.5 in are 0.65, 0.68, 0.74 and 0.63 of the cylinder: topic "fluted-share" of the advice.
const LOW: f64 = 0.63;
const USUAL: f64 = 0.68;
const HIGH: f64 = 0.74;

/// The gap between core and wall of common makes is a third of the diameter; heat has half of it to go. Practice.
const HALF_GAP: Factor = Factor::times(1.0 / 6.0);

#[derive(Debug)]
struct FlutedRing {
    diameter: Option<Length>,
    capacity: Option<Span<Volume>>,
}

fn build(sizes: &Sizes) -> Built {
    let diameter = sizes.length(Dimension::Diameter);
    if diameter.is_none() && sizes.capacity.is_none() {
        return Err(missing(Dimension::Capacity));
    }
    Ok(Box::new(FlutedRing { diameter, capacity: sizes.capacity }))
}

impl Shape for FlutedRing {
    fn section(&self, _: Share) -> Option<Area> {
        self.diameter.map(|diameter| circle(diameter) * Factor::times(USUAL))
    }

    fn wall(&self, depth: Length) -> Option<Area> {
        self.diameter.map(|diameter| cone_wall(diameter, diameter, depth))
    }

    fn half_way(&self) -> Option<Length> {
        self.diameter.map(|diameter| diameter * HALF_GAP)
    }

    fn holds(&self, depth: Option<Length>) -> Option<Held> {
        if let Some(capacity) = self.capacity {
            return Some(Held::Printed(capacity));
        }
        let cylinder = circle(self.diameter?) * depth?;
        let [low, usual, high] = [LOW, USUAL, HIGH].map(|share| cylinder * Factor::times(share));
        Some(Held::Estimated(Span::new(low, usual, high)))
    }

    fn has_core(&self) -> bool {
        true
    }
}
