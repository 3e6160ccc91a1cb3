//! How it bakes, as a card has it: the oven on the reader's scales, the minutes, and every stage in its order.

use serde::Serialize;
use utoipa::ToSchema;

use crate::pan::{Bake, BakeStage, BakeWritten, OvenKind, StageShown, in_stages, oven_scales, said};
use crate::quantity::Quantity;

/// How it bakes.
#[derive(Debug, Serialize, ToSchema)]
pub struct BakeCard {
    /// The oven's setting.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub oven: Option<Quantity>,
    /// How long it bakes, in the first of several stages.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub minutes: Option<Quantity>,
    /// What is done as it begins.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub note: Option<String>,
    /// The stages that follow, where it bakes in several.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 5)]
    pub then: Vec<StageShown>,
    /// For people, the oven's setting as written too.
    #[schema(max_length = 3000, examples("177 °C (350 F), 38–44 min"))]
    pub text: String,
    /// How long it bakes in all, where every stage says it.
    #[serde(skip)]
    #[schema(ignore)]
    pub(super) in_all: Option<Quantity>,
}

/// The bake of a card; nothing where neither an oven nor minutes are written.
pub(super) fn baked(bake: &Bake, written: &BakeWritten) -> Option<BakeCard> {
    let oven = |stage: usize, shown: &StageShown| Some(dial(shown.oven.as_ref()?, &written.oven_of(stage)?.as_text(), bake.ovens[0]));
    let first = bake.first.shown();
    let then: Vec<StageShown> = bake.then.iter().map(BakeStage::shown).collect();
    let minutes = |shown: &StageShown| shown.minutes.as_ref().map(Quantity::range_text);
    let text = if then.is_empty() {
        let both: Vec<String> = oven(0, &first).into_iter().chain(minutes(&first).map(Into::into)).collect();
        said(Some(&both.join(", ")), None, first.note.as_deref())
    } else {
        let stages = std::iter::once(&first).chain(&then).enumerate();
        let told = stages.map(|(stage, shown)| said(minutes(shown).as_deref(), oven(stage, shown).as_deref(), shown.note.as_deref()));
        in_stages(&told.filter(|told| !told.is_empty()).collect::<Vec<_>>())
    };
    let in_all = bake.in_all().map(Quantity::from);
    (!text.is_empty()).then_some(BakeCard { oven: first.oven, minutes: first.minutes, note: first.note, then, text, in_all })
}

/// A setting as a reader of its scale and one of degrees Celsius know it; that of a fan oven says so on each.
fn dial(oven: &Quantity, written: &str, kind: OvenKind) -> String {
    let scales = oven_scales(written);
    let fan = kind == OvenKind::Fan && !written.to_lowercase().contains("fan");
    let of_fan = if fan { " fan" } else { "" };
    match &scales[..] {
        // Whoever gives several scales has told each reader's own.
        [_, _, ..] if fan => scales.iter().map(|scale| format!("{scale} fan")).collect::<Vec<_>>().join(" / "),
        [_, _, ..] => written.trim().to_owned(),
        _ if written.contains(['C', 'c']) => format!("{}{of_fan}", oven.text),
        _ => format!("{}{of_fan} ({}{of_fan})", oven.text, written.trim()),
    }
}
