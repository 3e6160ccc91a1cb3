//! A springform: a round pan whose ring comes off. A shape of its own because the trade sells it by other depths, and because it leaks when measured with water.

use super::round::{FIELDS, Round};
use crate::pan::kind::ShapeKind;

pub(super) const KIND: ShapeKind = ShapeKind {
    word: "springform",
    text: "A round pan with a ring that comes off. It leaks: measure it with rice, or with a bag inside.",
    fields: FIELDS,
    build: Round::build,
};
