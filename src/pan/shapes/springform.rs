//! A springform: a round pan whose ring comes off. A shape of its own because the trade sells it by other depths, and because it leaks when measured with water.

use super::round::{FIELDS, Round};
use crate::pan::kind::{Bakes, ShapeKind};
use crate::reference::Dimension;

pub(super) const KIND: ShapeKind = ShapeKind {
    word: "springform",
    text: "A round pan with a ring that comes off. It leaks: measure it with rice, or with a bag inside.",
    fields: FIELDS,
    sold_by: &[Dimension::Diameter],
    bakes: Bakes::Layer,
    build: Round::build,
};
