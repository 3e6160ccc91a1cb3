//! What each part grows with: the batter with the pans, the icing with the area it covers, and so on; and how full the pans stand.

use super::Asked;
use crate::formula::{Formula, ScalesWith, likely};
use crate::pan::{Filling, Pans, Scaling, batter_volume, filling, usual_fill};
use crate::quantity::{Factor, Faults, Mass, Pointer, Quantifiable, Share, Span};
use crate::reference::{Account, Reference, Style, short};

/// The factor of each part.
pub(super) struct Factors {
    each: Vec<Factor>,
}

impl Factors {
    pub(super) fn of(&self, part: usize) -> Factor {
        self.each.get(part).copied().unwrap_or(Factor::ONE)
    }

    /// What everything weighs when scaled.
    pub(super) fn mass(&self, formula: &Formula) -> Mass {
        (0..formula.parts.len()).map(|part| formula.parts[part].total().mass().value() * self.of(part)).sum()
    }
}

/// The factors of all parts. A part that is mixed into another grows with it.
pub(super) fn factors(asked: &Asked, scaling: &Scaling, account: &mut Account) -> Result<Factors, Faults> {
    let Some(formula) = &asked.formula else { return Ok(Factors { each: Vec::new() }) };
    let by_pan = scaling.factor.value();
    let mut each = Vec::with_capacity(formula.parts.len());
    for part in 0..formula.parts.len() {
        each.push(match formula.parts[formula.root(part)].scales_with {
            ScalesWith::PanVolume => by_pan,
            ScalesWith::Finish => by_area(asked, account)?.unwrap_or(by_pan),
            ScalesWith::PanCount => Factor::times(f64::from(asked.to.count()) / f64::from(asked.from.count())),
            ScalesWith::Pieces => by_pieces(asked, by_pan),
            ScalesWith::Fixed => Factor::ONE,
        });
    }
    Ok(Factors { each })
}

fn by_area(asked: &Asked, account: &mut Account) -> Result<Option<Factor>, Faults> {
    let Some([was, will]) = &asked.finish else { return Ok(None) };
    let root = Pointer::ROOT;
    let before = asked.from.covered(was, &root.key("finish_from"))?;
    let after = asked.to.covered(will, &root.key("finish_to"))?;
    account.step(|| {
        let area = |area: crate::quantity::Area| short(area.in_square_centimetres());
        format!("covered area to / from = {} cm2 / {} cm2 = {}", area(after), area(before), short((after / before).value()))
    });
    Ok(Some(after / before))
}

/// Pieces follow the wells where both are trays, else the batter: the piece stays as large as it was.
fn by_pieces(asked: &Asked, by_pan: Factor) -> Factor {
    let wells = |pans: &Pans| pans.all_wells().then(|| f64::from(pans.cakes()));
    match (wells(&asked.from), wells(&asked.to)) {
        (Some(was), Some(will)) => Factor::times(will / was),
        _ => by_pan,
    }
}

/// "an angel food cake", "a sponge cake".
pub(super) fn article(name: &str) -> &'static str {
    if name.starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" }
}

/// How full pans stand of the formula's batter, times a factor; nothing where its specific gravity is not known.
pub(super) fn fill(formula: &Formula, pans: &Pans, factor: Factor, account: &mut Account) -> Option<Filling> {
    let mixture = formula.main();
    let style = mixture.style();
    let gravity = match (mixture.part().gravity, style.and_then(|style| style.gravity.as_ref())) {
        (Some(measured), _) => Span::exact(measured),
        (None, Some(usual)) => {
            usual.citations.iter().for_each(|citation| account.cite(*citation));
            let usual = usual.figure;
            let root = Pointer::ROOT;
            let (formula_at, style) = (root.key("formula"), style.map_or("batter", |style| style.name));
            let parts = formula_at.key("parts");
            let part = parts.index(mixture.root);
            let text = format!(
                "The specific gravity is that of {} {style}: {} ({}–{})",
                article(style),
                usual.value().raw(),
                usual.low().raw(),
                usual.high().raw()
            );
            account.assume(text, &part.key("specific_gravity"), usual.value().raw().to_string());
            usual
        }
        (None, None) => return None,
    };
    if let Some(style) = style {
        account.cite(style.citation);
    }
    standing(formula, pans, factor, gravity, fill_of_style(formula))
}

/// How full pans stand of so light a batter, against what is usual.
fn standing(formula: &Formula, pans: &Pans, factor: Factor, gravity: Span<Factor>, usual: Span<Share>) -> Option<Filling> {
    filling(pans, batter_volume(formula.main().whole().mass() * factor, gravity), usual).ok()
}

/// How full pans of this style are; half to two thirds where the style is not known.
pub(super) fn fill_of_style(formula: &Formula) -> Span<Share> {
    let style = formula.main().style();
    style.and_then(|style| style.fill).unwrap_or_else(usual_fill)
}

/// What a batter without a style is most like, if that fills a pan: enough for a word of warning, and for no figure.
pub(super) fn most_like(formula: &Formula, reference: &'static Reference) -> Option<&'static Style> {
    let main = formula.main();
    if main.style().is_some() || main.part().gravity.is_some() {
        return None;
    }
    let first = likely(&main.summed(), reference).into_iter().next()?;
    reference.styles.find(first.style).filter(|style| style.gravity.is_some() && style.fill.is_some())
}

/// How full pans would stand of the formula's batter, times a factor, if it were of this style.
pub(super) fn filled_as(style: &Style, formula: &Formula, pans: &Pans, factor: Factor) -> Option<Filling> {
    standing(formula, pans, factor, style.gravity.as_ref()?.figure, style.fill?)
}
