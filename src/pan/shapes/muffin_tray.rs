//! A tray of round wells, each straight or tapered. All areas and volumes are of the whole tray.

use super::round::Round;
use crate::pan::kind::{Bakes, Built, DEPTH, Shape, ShapeKind, missing, needed, optional};
use crate::quantity::{Area, Factor, Length, Share};
use crate::reference::{Dimension, Sizes};

pub(super) const KIND: ShapeKind = ShapeKind {
    word: "muffin-tray",
    text: "A tray of wells for muffins, cupcakes or buns.",
    fields: &[
        needed(Dimension::Wells, "How many wells the tray has, from 1 to 200."),
        needed(Dimension::Diameter, "Inside diameter of a well at the rim."),
        optional(Dimension::BaseDiameter, "Inside diameter of a well at the base, where the wall leans."),
        DEPTH,
    ],
    sold_by: &[Dimension::Diameter],
    bakes: Bakes::Wells,
    build,
};

#[derive(Debug)]
struct MuffinTray {
    well: Round,
    wells: u32,
}

fn build(sizes: &Sizes) -> Built {
    let wells = sizes.wells.ok_or_else(|| missing(Dimension::Wells))?;
    Ok(Box::new(MuffinTray { well: Round::of(sizes)?, wells }))
}

impl MuffinTray {
    fn all(&self, one: Area) -> Area {
        one * Factor::times(f64::from(self.wells))
    }
}

impl Shape for MuffinTray {
    fn section(&self, at: Share) -> Option<Area> {
        self.well.section(at).map(|one| self.all(one))
    }

    fn wall(&self, depth: Length) -> Option<Area> {
        self.well.wall(depth).map(|one| self.all(one))
    }

    fn half_way(&self) -> Option<Length> {
        self.well.half_way()
    }

    fn wells(&self) -> u32 {
        self.wells
    }
}
