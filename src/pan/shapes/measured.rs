//! Any pan at all, by what it holds: water to the brim is the same figure that geometry would give, if it could.

use crate::pan::kind::{Bakes, Built, DEPTH, Held, Shape, ShapeKind, missing, needed, optional};
use crate::quantity::{Area, Length, Share, Span, Volume};
use crate::reference::{Dimension, Sizes};

pub(super) const KIND: ShapeKind = ShapeKind {
    word: "measured",
    text: "Any shape, by the water that fills it to the brim: better than a formula for an odd pan.",
    fields: &[
        needed(Dimension::Capacity, "The water that fills it to the brim (grams are millilitres)."),
        DEPTH,
        optional(Dimension::TopArea, "The area at the rim, for what is spread on top."),
    ],
    sold_by: &[],
    bakes: Bakes::Layer,
    build,
};

#[derive(Debug)]
struct ByWater {
    capacity: Span<Volume>,
    top: Option<Area>,
}

fn build(sizes: &Sizes) -> Built {
    let capacity = sizes.capacity.ok_or_else(|| missing(Dimension::Capacity))?;
    Ok(Box::new(ByWater { capacity, top: sizes.top_area }))
}

impl Shape for ByWater {
    fn section(&self, _: Share) -> Option<Area> {
        self.top
    }

    fn wall(&self, _: Length) -> Option<Area> {
        None
    }

    fn half_way(&self) -> Option<Length> {
        None
    }

    fn holds(&self, _: Option<Length>) -> Option<Held> {
        Some(Held::Water(self.capacity))
    }
}
