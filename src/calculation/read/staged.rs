//! A bake in stages, put together from what its lines say: a whole list of stages, or one that goes on where a line before ended.

use super::facts::text_of;
use crate::formula::StageSaid;
use crate::pan::{BakeWritten, OvenKind, StageWritten, in_stages};
use crate::quantity::{Minutes, Pointer, Span, Written, plain};

/// A bake with all stages that are known.
pub(super) struct Joined {
    pub bake: BakeWritten,
    /// Which of its stages this line has told, the first being 0.
    pub from: usize,
    /// What had to be taken for granted.
    pub assumed: Option<&'static str>,
    /// What is to be said beside it.
    pub beside: Option<String>,
}

/// All stages in words, where no formula has them.
pub(super) fn told(standing: Option<&BakeWritten>, stages: &[StageSaid], goes_on: bool) -> Vec<String> {
    all(standing, stages, goes_on).iter().map(StageSaid::text).collect()
}

/// The stages with what a line before has said of the first: its oven, or all of it.
fn all(standing: Option<&BakeWritten>, stages: &[StageSaid], goes_on: bool) -> Vec<StageSaid> {
    let mut all = stages.to_vec();
    let Some(standing) = standing else { return all };
    let fan = standing.from_oven == Some(OvenKind::Fan);
    if goes_on {
        let before = standing.stages().map(|written| StageSaid { fan: fan && written.oven.is_some(), written });
        all.splice(0..0, before);
    } else if let Some(first) = all.first_mut().filter(|first| first.written.oven.is_none()) {
        (first.written.oven, first.fan) = (standing.oven.clone(), fan);
    }
    all
}

/// The bake of what stood there before and of the stages of this line; or why they do not go together.
pub(super) fn joined(standing: Option<&BakeWritten>, stages: &[StageSaid], goes_on: bool) -> Result<Joined, String> {
    if goes_on && standing.is_none() && stages.len() < 2 {
        let later = stages.first().map(StageSaid::text).unwrap_or_default();
        let first = if later.contains(" C") { "220 C" } else { "425 F" };
        return Err(format!(
            "It is a later stage of a bake, and no line before tells the first: write both, as \"Bake 15 min at {first}, then {later}\""
        ));
    }
    let all = all(standing, stages, goes_on);
    let (fan, assumed) = one_oven(&all)?;
    let from = all.len() - stages.len();
    let mut stages = all.into_iter().map(|stage| stage.written);
    let first = stages.next().unwrap_or_default();
    let bake = BakeWritten {
        oven: first.oven,
        minutes: first.minutes,
        from_oven: fan.then_some(OvenKind::Fan),
        to_oven: None,
        note: first.note,
        then: stages.collect(),
    };
    if let Some(doubt) = doubt(&bake) {
        return Err(doubt);
    }
    let beside = standing.filter(|_| !goes_on).map(|standing| agreed(standing, &bake)).transpose()?.flatten();
    Ok(Joined { bake, from, assumed, beside })
}

/// Why a bake would be taken by no calculation.
pub(super) fn doubt(bake: &BakeWritten) -> Option<String> {
    let faults = bake.resolve(&Pointer::ROOT).err()?;
    faults.iter().next().map(|fault| format!("{}: {}", fault.found, fault.detail))
}

/// Whether all settings are those of a fan oven: it is one oven throughout.
fn one_oven(stages: &[StageSaid]) -> Result<(bool, Option<&'static str>), String> {
    let mut set = stages.iter().filter(|stage| stage.written.oven.is_some());
    let first = set.next().is_some_and(|stage| stage.fan);
    let others: Vec<bool> = set.map(|stage| stage.fan).collect();
    match (first, others.contains(&!first)) {
        (_, false) => Ok((first, None)),
        // "200 C fan for 20 minutes, then 160 C for 40".
        (true, true) => Ok((true, Some("The later stages name no fan: they are taken to be of the same oven as the first"))),
        (false, true) => Err("A later stage is of a fan oven and the first is not: write all settings for one oven".to_owned()),
    }
}

/// What a line before said of the bake, held against its stages: the minutes of the first or of all, an oven that is heated hotter first.
fn agreed(standing: &BakeWritten, bake: &BakeWritten) -> Result<Option<String>, String> {
    let another = |what: &str, standing: &str| {
        Err(format!("{what} {standing} stands on another line, and the stages say otherwise: write the bake that is meant once"))
    };
    if !standing.then.is_empty() && standing.stages().ne(bake.stages()) {
        return another("A bake of", &in_words(standing));
    }
    if let Some(minutes) = &standing.minutes
        && bake.minutes.as_ref().is_none_or(|first| plain(&first.as_text()) != plain(&minutes.as_text()))
        && !is_whole(bake, minutes)
    {
        return another("A bake of", &text_of(minutes));
    }
    let heated = standing.oven.as_ref().map(text_of);
    let first = bake.oven.as_ref().map(text_of);
    let other = heated.zip(first).filter(|(heated, first)| plain(heated) != plain(first));
    Ok(other.map(|(heated, first)| format!("Another line has the oven at {heated}; the first stage is baked at {first}, which is kept")))
}

/// Whether so many minutes are those of all stages together.
pub(super) fn is_whole(bake: &BakeWritten, minutes: &Written) -> bool {
    let time = |bake: &BakeWritten| bake.resolve(&Pointer::ROOT).ok()?.in_all();
    let whole = time(&BakeWritten { minutes: Some(minutes.clone()), ..BakeWritten::default() });
    let ends = |span: Span<Minutes>| [span.low(), span.high()].map(|end| end.in_minutes().round());
    !bake.then.is_empty() && whole.zip(time(bake)).is_some_and(|(one, other)| ends(one) == ends(other))
}

/// The stages of a bake in words.
pub(super) fn in_words(bake: &BakeWritten) -> String {
    let all: Vec<String> = bake.stages().map(|stage: StageWritten| stage.text()).collect();
    in_stages(&all)
}
