//! A tube pan: a round pan with a core, both of which may taper. The wall leans outwards, the core narrows upwards.

use super::round::Round;
use crate::pan::geometry::{between, circle};
use crate::pan::kind::{Bakes, Built, DEPTH, Shape, ShapeKind, contradiction, must, needed, optional};
use crate::quantity::{Area, Factor, Length, Share};
use crate::reference::{Dimension, Sizes};

pub(super) const KIND: ShapeKind = ShapeKind {
    word: "tube",
    text: "A plain ring: a round pan with a core, such as an angel cake pan.",
    fields: &[
        needed(Dimension::Diameter, "Inside diameter at the rim."),
        DEPTH,
        needed(Dimension::CoreDiameter, "Diameter of the core at the base."),
        optional(Dimension::BaseDiameter, "Inside diameter at the base, where the wall leans."),
        optional(Dimension::CoreTopDiameter, "Diameter of the core at its top, where it narrows."),
    ],
    sold_by: &[Dimension::Diameter],
    bakes: Bakes::Tube,
    build,
};

#[derive(Debug)]
struct Tube {
    outer: Round,
    core: Length,
    core_top: Length,
    gap: Length,
}

fn build(sizes: &Sizes) -> Built {
    let outer = Round::of(sizes)?;
    let rim = must(sizes, Dimension::Diameter)?;
    let floor = sizes.length(Dimension::BaseDiameter).unwrap_or(rim);
    let core = must(sizes, Dimension::CoreDiameter)?;
    if core >= floor {
        return Err(contradiction(Dimension::CoreDiameter, "a core narrower than the base of the pan"));
    }
    let core_top = sizes.length(Dimension::CoreTopDiameter).unwrap_or(core);
    if core_top > core {
        return Err(contradiction(Dimension::CoreTopDiameter, "a core no wider at its top than at the base"));
    }
    let gap = (rim + floor - core - core_top) / Factor::times(4.0);
    Ok(Box::new(Tube { outer, core, core_top, gap }))
}

impl Shape for Tube {
    fn section(&self, at: Share) -> Option<Area> {
        Some(self.outer.section(at)? - circle(between(self.core, self.core_top, at)))
    }

    fn wall(&self, depth: Length) -> Option<Area> {
        self.outer.wall(depth)
    }

    fn half_way(&self) -> Option<Length> {
        Some(self.gap / Factor::times(2.0))
    }

    fn has_core(&self) -> bool {
        true
    }
}
