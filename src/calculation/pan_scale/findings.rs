//! What is wrong with batter in its pans, in words: too much, too little, too wide; each with the figures and the mend.

use serde::Serialize;
use utoipa::ToSchema;

use super::Asked;
use super::parts::{Factors, article, fill_of_style, filled_as, most_like};
use crate::formula::{Formula, Mixture, ScalesWith};
use crate::pan::{DepthFrom, Filling, Fit, Pans, wide_tier};
use crate::quantity::{Factor, Length, Proportion, Quantifiable, Quantity, Share, Span, behind_the, in_words};
use crate::reference::{Account, Goods, Reference};

/// What is found of batter in its pans.
///
/// - `beyond-the-brim`: it does not go in.
/// - `overflow`: it rises over the rim.
/// - `may-overflow`: it may rise over the rim; the figures are spans.
/// - `too-shallow`: it bakes flat and dry.
/// - `wide-tier`: its middle bakes late.
/// - `lining`: a crust goes by the base and sides it lines, not by what the pan holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PanFindingKind {
    BeyondTheBrim,
    Overflow,
    MayOverflow,
    TooShallow,
    WideTier,
    Lining,
}

impl PanFindingKind {
    /// What whoever reads one sentence alone must know of it, with the verb behind "it".
    pub(super) const fn spoken(self) -> Option<&'static str> {
        match self {
            Self::BeyondTheBrim => Some("does not go in"),
            Self::Overflow => Some("runs over"),
            Self::MayOverflow => Some("may run over"),
            Self::TooShallow => Some("stands shallow"),
            Self::WideTier | Self::Lining => None,
        }
    }
}

/// One finding.
#[derive(Debug, Serialize, ToSchema)]
pub struct PanFinding {
    /// What is found.
    pub kind: PanFindingKind,
    /// The figures, in a sentence.
    #[schema(max_length = 400)]
    pub text: String,
    /// What to do about it.
    #[schema(max_length = 400)]
    pub mend: String,
}

/// All findings for the new pans.
pub(super) fn findings(
    asked: &Asked,
    formula: &Formula,
    factors: &Factors,
    [before, after]: [Option<&Filling>; 2],
    reference: &'static Reference,
    account: &mut Account,
) -> Vec<PanFinding> {
    let to = &asked.to;
    // What is rolled, cut or dropped fills no pan.
    let fills = formula.main().style().is_none_or(|style| style.fill.is_some());
    let known = after.filter(|_| fills).and_then(|after| unfit([before, Some(after)], fill_of_style(formula), &asked.from));
    let guessed = || if after.is_none() { unfit_as_guessed(asked, formula, factors, reference, account) } else { None };
    let mut found: Vec<PanFinding> = known.or_else(guessed).into_iter().collect();
    if found.iter().any(|finding| finding.kind != PanFindingKind::TooShallow) {
        account.caution("overfull-pan");
    }
    if let Some(wide) = wide_tier(to, reference) {
        account.cite(wide.citation);
        // Ten inches are no 254 mm to a tenth: whole millimetres say it as well.
        let whole = |length: Length| Length::centimetres((length.in_centimetres() * 10.0).round() / 10.0);
        let told = |span: Span<Length>| if wide.unit.id == "millimetre" { span.map(whole) } else { span };
        let in_its_unit = |span: Span<Length>| Quantity::in_unit(told(span) * (Factor::ONE / Factor::times(wide.unit.size)), wide.unit);
        found.push(PanFinding {
            kind: PanFindingKind::WideTier,
            text: format!(
                "The pan is {} wide: from {} on the middle bakes late",
                in_its_unit(Span::exact(wide.width)).text,
                in_its_unit(wide.core_from).range_text()
            ),
            mend: "Use a heating core or bake at a lower temperature for longer, and test the middle".to_owned(),
        });
    }
    found.extend(formula.mixtures().filter_map(|mixture| lining(&mixture, asked, formula, factors)));
    found
}

/// How far a factor by volume may be from one by area before it is told.
const LINING_OFF: f64 = 0.05;

/// A crust that was multiplied by what the pans hold, though it lines them.
fn lining(mixture: &Mixture<'_>, asked: &Asked, formula: &Formula, factors: &Factors) -> Option<PanFinding> {
    let is_crust = mixture.style().is_some_and(|style| style.goods == Goods::Crust);
    if !is_crust || formula.parts[mixture.root].scales_with != ScalesWith::PanVolume {
        return None;
    }
    let lined = |pans: &Pans| Some(pans.top_area()? + pans.side_area()?);
    let (by_area, by_volume) = (lined(&asked.to)? / lined(&asked.from)?, factors.of(mixture.root));
    if ((by_area / by_volume).raw() - 1.0).abs() <= LINING_OFF {
        return None;
    }
    let [area, volume] = [by_area, by_volume].map(|factor| in_words(factor.raw()));
    Some(PanFinding {
        kind: PanFindingKind::Lining,
        text: format!(
            "A crust lines the base and the sides: by their area it takes {area} times as much of the {}, by what the pans hold {volume}",
            behind_the(&mixture.part().name)
        ),
        mend: format!("Make {area} times as much of it to roll it as thin as before"),
    })
}

/// Where no style was named, by what the batter is most like.
fn unfit_as_guessed(
    asked: &Asked,
    formula: &Formula,
    factors: &Factors,
    reference: &'static Reference,
    account: &mut Account,
) -> Option<PanFinding> {
    let style = most_like(formula, reference)?;
    let before = filled_as(style, formula, &asked.from, Factor::ONE);
    let after = filled_as(style, formula, &asked.to, factors.of(formula.main_root()));
    let found = unfit([before.as_ref(), after.as_ref()], style.fill?, &asked.from)?;
    account.cite(style.citation);
    style.gravity.iter().flat_map(|gravity| &gravity.citations).for_each(|citation| account.cite(*citation));
    let likeness = format!("No style was named: it is judged as {} {}, which it is most like. ", article(style.name), style.name);
    Some(PanFinding { text: likeness + &found.text, ..found })
}

/// What is wrong with how full the new pans are, beside how full the old ones were.
fn unfit([before, after]: [Option<&Filling>; 2], usual: Span<Share>, from: &Pans) -> Option<PanFinding> {
    let filling = after?;
    let percent = |share: Span<Share>| Proportion::from(share.map(Share::as_percent));
    let fill = percent(filling.fill);
    let range = match (fill.low, fill.high) {
        (Some(low), Some(high)) => format!("{:.0} % ({:.0}–{:.0} %)", fill.percent.0, low.0, high.0),
        _ => format!("{:.0} %", fill.percent.0),
    };
    let usual_text = format!("{:.0}–{:.0} %", usual.low().raw() * 100.0, usual.high().raw() * 100.0);
    let text = format!("The pans are {range} full; {usual_text} is usual for this style");
    let (kind, mend) = match filling.fit {
        Fit::Fits => return None,
        Fit::BeyondTheBrim => (PanFindingKind::BeyondTheBrim, less(filling, usual)),
        Fit::Overflows => (PanFindingKind::Overflow, less(filling, usual)),
        Fit::MayOverflow => (PanFindingKind::MayOverflow, less(filling, usual)),
        Fit::TooShallow => {
            let was_shallow = before.is_some_and(|before| before.fit == Fit::TooShallow);
            (PanFindingKind::TooShallow, more(filling, usual) + &if was_shallow { as_before(from) } else { String::new() })
        }
    };
    Some(PanFinding { kind, text, mend })
}

fn less(filling: &Filling, usual: Span<Share>) -> String {
    let keep = Factor::times(usual.high().raw() / filling.fill.value().raw());
    if keep.raw() >= 1.0 {
        return "Measure the specific gravity of the batter and say it, or leave a finger's breadth more below the rim".to_owned();
    }
    format!("Put in {:.0} % of it and bake the rest as small cakes, or take deeper pans", keep.raw() * 100.0)
}

/// It stood no higher where it was tested: then nothing is wrong, unless the tin was not so deep as such tins commonly are.
fn as_before(from: &Pans) -> String {
    let taken = from.iter().any(|pan| pan.depth_from() == Some(DepthFrom::Trade));
    let unless = if taken { ": if that was shallower, say how deep it was" } else { " when it was tested" };
    format!(". In the {} it stood no higher{unless}", from.text())
}

fn more(filling: &Filling, usual: Span<Share>) -> String {
    let factor = usual.low().raw() / filling.fill.value().raw();
    format!("Make {factor:.2} times as much, or take smaller pans; a thin layer bakes sooner and drier")
}
