//! A sheet or jelly-roll pan: a shallow rectangle. A shape of its own because trade sizes of sheets are outside sizes, and because it bakes thin.

use super::rectangle::{FIELDS, build};
use crate::pan::kind::{Bakes, ShapeKind};
use crate::reference::Dimension;

pub(super) const KIND: ShapeKind = ShapeKind {
    word: "sheet",
    text: "A shallow sheet pan, by its inside: a half sheet of 18 x 13 in outside is about 16.5 x 11.5 in inside.",
    fields: FIELDS,
    sold_by: &[Dimension::Length, Dimension::Width],
    bakes: Bakes::Sheet,
    build,
};
