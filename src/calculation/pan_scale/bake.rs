//! The bake in the new pans, where the old one is known.

use super::parts::usual_fill;
use super::{Asked, PanScaleQuestion};
use crate::pan::{BakeMoved, BakeShown, Filling, estimate as estimated};
use crate::quantity::{Faults, Pointer, Share, Span};
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
    let usual = asked.formula.as_ref().map_or(Span::new(Share::of_one(0.5), Share::of_one(0.6), Share::of_one(2.0 / 3.0)), usual_fill);
    let fill = |filling: Option<&Filling>| filling.map_or(usual, |filling| filling.fill);
    if asked.altitude > crate::quantity::Length::ZERO {
        account.caution("altitude-doneness");
    }
    let moved = BakeMoved {
        bake: &bake,
        from: &asked.from,
        to: &asked.to,
        fills: [fill(fillings[0]), fill(fillings[1])],
        style: style.map(|style| style.id),
        done: style.and_then(|style| style.done),
        test: style.map(|style| style.test).filter(|test| !test.is_empty()),
        altitude: asked.altitude,
    };
    Ok(Some(estimated(&moved, reference, account)))
}
