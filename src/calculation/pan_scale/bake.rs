//! The bake in the new pans, where the old one is known.

use super::parts::fill_of_style;
use super::{Asked, PanScaleQuestion};
use crate::pan::{BakeMoved, BakeShown, Filling, estimate as estimated, usual_fill};
use crate::quantity::{Faults, Pointer};
use crate::reference::{Account, Reference};

/// An estimate, where a bake was given and something is baked.
pub(super) fn estimate(
    question: &PanScaleQuestion,
    asked: &Asked,
    fillings: [Option<&Filling>; 2],
    reference: &'static Reference,
    account: &mut Account,
) -> Result<Option<BakeShown>, Faults> {
    let root = Pointer::ROOT;
    let formula_at = root.key("formula");
    let own = question.formula.as_ref().and_then(|formula| formula.bake.as_ref());
    let (written, at) = match (&question.bake, own) {
        (Some(written), _) => (written, root.key("bake")),
        (None, Some(own)) => (own, formula_at.key("bake")),
        (None, None) => return Ok(None),
    };
    let bake = written.resolve(&at)?;
    let style = asked.formula.as_ref().and_then(|formula| formula.main().style());
    let usual = asked.formula.as_ref().map_or_else(usual_fill, fill_of_style);
    let fill = |filling: Option<&Filling>| filling.map_or(usual, |filling| filling.fill);
    if asked.altitude > crate::quantity::Length::ZERO {
        account.caution("altitude-doneness");
    }
    let moved = BakeMoved {
        bake: &bake,
        from: &asked.from,
        to: &asked.to,
        fills: [fill(fillings[0]), fill(fillings[1])],
        style,
        altitude: asked.altitude,
    };
    Ok(Some(estimated(&moved, reference, account)))
}
