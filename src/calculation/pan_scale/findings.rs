//! What is wrong with batter in its pans, in words: too much, too little, too wide; each with the figures and the mend.

use serde::Serialize;
use utoipa::ToSchema;

use crate::pan::{Filling, Fit, Pans, wide_tier};
use crate::quantity::{Factor, Proportion, Quantifiable, Quantity, Share, Span};
use crate::reference::{Account, Reference};

/// What is found of batter in its pans.
///
/// - `beyond-the-brim`: it does not go in.
/// - `overflow`: it rises over the rim.
/// - `may-overflow`: it may rise over the rim; the figures are spans.
/// - `too-shallow`: it bakes flat and dry.
/// - `wide-tier`: its middle bakes late.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PanFindingKind {
    BeyondTheBrim,
    Overflow,
    MayOverflow,
    TooShallow,
    WideTier,
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
    to: &Pans,
    filling: Option<&Filling>,
    usual: Span<Share>,
    reference: &'static Reference,
    account: &mut Account,
) -> Vec<PanFinding> {
    let mut found: Vec<PanFinding> = filling.and_then(|filling| unfit(filling, usual)).into_iter().collect();
    if found.iter().any(|finding| finding.kind != PanFindingKind::TooShallow) {
        account.caution("overfull-pan");
    }
    if let Some(wide) = wide_tier(to, reference) {
        account.cite(wide.citation);
        found.push(PanFinding {
            kind: PanFindingKind::WideTier,
            text: format!(
                "The pan is {} wide: from {} on the middle bakes late",
                Quantity::from(wide.width).text,
                Quantity::from(wide.core_from).range_text()
            ),
            mend: "Use a heating core or bake at a lower temperature for longer, and test the middle".to_owned(),
        });
    }
    found
}

fn unfit(filling: &Filling, usual: Span<Share>) -> Option<PanFinding> {
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
        Fit::TooShallow => (PanFindingKind::TooShallow, more(filling, usual)),
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

fn more(filling: &Filling, usual: Span<Share>) -> String {
    let factor = usual.low().raw() / filling.fill.value().raw();
    format!("Make {factor:.2} times as much, or take smaller pans; a thin layer bakes sooner and drier")
}
