//! A bake in stages: "425 F for 20 minutes, then 350 F for 40 more", "covered for 30 minutes, uncovered for 15".

use std::borrow::Cow;

use super::Beside;
use super::baked::{bare, setting, settings};
use super::degrees::bare_degrees;
use super::time::{minutes_text, time};
use crate::formula::line::text::is_figure;
use crate::pan::{StageWritten, said};
use crate::quantity::{Pointer, Written, read_number};

/// One stage of a bake, as a line says it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StageSaid {
    pub written: StageWritten,
    /// The setting is that of a fan oven.
    pub fan: bool,
}

impl StageSaid {
    pub(super) fn new(oven: Option<String>, fan: bool, minutes: Option<String>) -> Self {
        let [oven, minutes] = [oven, minutes].map(|text| text.map(|text| Written::Text(text.into())));
        Self { written: StageWritten { oven, minutes, note: None }, fan }
    }

    /// "20 min at 425 F".
    pub fn text(&self) -> String {
        let [minutes, oven] = [&self.written.minutes, &self.written.oven].map(|written| written.as_ref().map(Written::as_text));
        let oven = oven.map(|oven| format!("{oven}{}", if self.fan { " fan" } else { "" }));
        said(minutes.as_deref(), oven.as_deref(), self.written.note.as_deref())
    }

    fn is_nothing(&self) -> bool {
        self.written.oven.is_none() && self.written.minutes.is_none()
    }
}

/// What is done to a lid as a later stage begins.
const LID_COMES_OFF: [&str; 4] = ["remove the lid", "remove lid", "take off the lid", "take the lid off"];

/// What else a later stage begins with.
const LATER: [&str; 23] = [
    "→",
    "-> ",
    "then ",
    "reduce",
    "reducing",
    "lower the ",
    "lower to ",
    "lower oven ",
    "turn the oven ",
    "falling to ",
    "dropping to ",
    "turn down",
    "turn up",
    "turn it down",
    "decrease",
    "drop the ",
    "drop to ",
    "increase",
    "raise",
    "another ",
    "followed by ",
    "and bake ",
    "uncover",
];

/// Whether a bake goes on in another way, wherever in the sentence that is said.
pub(super) fn is_turned_within(lower: &str) -> bool {
    const TURNED: [&str; 17] = [
        "reduce",
        "reducing",
        "falling to ",
        "dropping to ",
        "lower the",
        "turn the oven",
        "turn down",
        "another",
        "increase",
        "decrease",
        "raise the",
        "raise to",
        "minutes more",
        "min more",
        "mins more",
        "more minutes",
        "and bake",
    ];
    TURNED.iter().any(|word| lower.contains(word))
}

/// How a bake without a lid is told from one under it, where it is not said that the lid comes off.
const LIDLESS: [&str; 5] = ["uncovered", "lid off", "without the lid", "without lid", "uncover "];

/// Whether a lid comes off between two times.
pub(super) fn is_under_a_lid(lower: &str) -> bool {
    let off = LIDLESS.iter().chain(&LID_COMES_OFF).any(|word| lower.contains(word));
    off && time(lower).is_some_and(|first| time(&lower[first.to..]).is_some())
}

/// "Uncover and bake 15 minutes longer", "Remove the lid, bake 15 min": a sentence of its own that goes on from the one before. What is only uncovered may have been a dough that rose.
pub(super) fn is_uncovered_for_more(lower: &str) -> bool {
    let lid = LID_COMES_OFF.iter().any(|word| lower.starts_with(word));
    let more = || ["more", "longer", "another", "further"].iter().any(|word| lower.contains(word));
    (lid || lower.starts_with("uncover") && more()) && ["bake", "baking"].iter().any(|word| lower.contains(word)) && time(lower).is_some()
}

/// ", then 15 min", ", then 15 minutes (door ajar)": nothing but a time behind a bake, so that it is no time of cooling.
pub(super) fn is_more_time(later: &str) -> bool {
    let Some(rest) = later.trim_start_matches([',', ' ']).strip_prefix("then ") else { return false };
    let Some(time) = time(rest).filter(|time| time.from == 0) else { return false };
    let behind = rest[time.to..].split("then ").next().unwrap_or_default();
    let bare = behind.split_once('(').map_or(behind, |(before, _)| before).trim_matches([' ', ',', '.', ';']);
    matches!(bare, "" | "more" | "longer")
}

/// "230 C, 15 min; 200 C, 30 min", "190 C for 10 min and 170 C for 25 min": settings with a time each, and nothing else behind the first, so that it is no
/// other tin's.
fn listed(lower: &str) -> Option<Vec<&str>> {
    if settings(lower).len() < 2 {
        return None;
    }
    let whole = |piece: &&str| !settings(piece).is_empty() && time(piece).is_some();
    let alone = |piece: &&str| bare(piece).is_some_and(|said| said.oven.is_some() && said.minutes.is_some());
    [";", ",", " and "].into_iter().find_map(|mark| {
        let pieces: Vec<&str> = lower.split(mark).map(str::trim).collect();
        (pieces.len() > 1 && pieces.iter().all(whole) && pieces[1..].iter().all(alone)).then_some(pieces)
    })
}

pub(super) fn is_listed(lower: &str) -> bool {
    listed(lower).is_some()
}

/// ", then move to the middle for 20 minutes": it stays in the oven.
pub(super) fn is_moved(later: &str) -> bool {
    const MOVED: [&str; 5] = ["move ", "rotate", "swap ", "switch ", "without "];
    const COOLS: [&str; 4] = ["cool", "rest", "stand", "rack"];
    time(later).is_some() && MOVED.iter().any(|word| later.contains(word)) && !COOLS.iter().any(|word| later.contains(word))
}

/// "reduce by 20 C", "for 45 minutes in all", "in two batches": no setting and no time of a stage.
fn is_reckoned(piece: &str) -> bool {
    let by = piece.match_indices("by ").any(|(at, word)| piece[at + word.len()..].starts_with(is_figure));
    by || ["total", "in all", "altogether", "batch"].iter().any(|word| piece.contains(word)) && time(piece).is_some()
}

/// A text without what is done only if it must be, and without all that stands behind an oven that is turned off: "reduce to 150 C if it browns", "turn off and
/// leave for 1 hour".
pub(super) fn surely_baked(lower: &str) -> Cow<'_, str> {
    const OFF: [&str; 5] = ["oven off", "turn off", "turned off", "switch off", "switched off"];
    const BEFORE: [&str; 7] = [", ", "; ", " and ", "then ", "(", ". ", "+"];
    let begins = |at: usize| BEFORE.iter().filter_map(|mark| lower[..at].rfind(mark)).max().unwrap_or(0);
    if let Some(at) = OFF.iter().filter_map(|word| lower.find(word)).min() {
        return surely_baked(&lower[..begins(at)]).into_owned().into();
    }
    let Some(at) = lower.find(" if ") else { return lower.into() };
    let from = begins(at + 1);
    let opens = lower[from..at + 1].trim_matches([',', ';', '(', '.', ' ']).is_empty();
    let end = lower[at + 1..].find([',', ';', ')']).filter(|_| !opens).map_or(lower.len(), |end| at + 1 + end);
    format!("{}{}", &lower[..from], &lower[end..]).into()
}

/// The stages of a text in small letters; nothing where one of them could not be read.
pub(super) fn stages(lower: &str) -> Option<Vec<StageSaid>> {
    let lower = &*surely_baked(lower);
    let end = [" and cool", "cool "].iter().filter_map(|word| lower.find(word)).min().unwrap_or(lower.len());
    let lower = &lower[..end];
    if let Some(stages) = read(parted(lower).into_iter()).filter(|stages| stages.len() > 1) {
        return Some(stages);
    }
    // "425 F for 20 min, 350 F for 40 min"; "30 minutes at 230 C covered, 15 uncovered".
    let pieces = listed(lower).unwrap_or_else(|| lower.split([',', ';']).map(str::trim).collect());
    let goes_on = |piece: &&str| note(piece).is_some() || piece.ends_with("more") || bare(piece).is_some();
    let stages = read(pieces.iter().copied())?;
    let timed = stages.iter().all(|stage| stage.written.minutes.is_some()) && pieces[1..].iter().all(goes_on);
    (stages.len() == 1 || timed && stages[0].written.oven.is_some()).then_some(stages)
}

/// The text before and behind each word that begins a later stage.
fn parted(lower: &str) -> Vec<&str> {
    let begins = |at: usize| at > 0 && !lower[..at].ends_with(char::is_alphanumeric);
    let mut cuts: Vec<usize> =
        LATER.iter().chain(&LID_COMES_OFF).flat_map(|word| lower.match_indices(word).map(|(at, _)| at)).filter(|at| begins(*at)).collect();
    cuts.push(0);
    cuts.sort_unstable();
    cuts.dedup();
    cuts.iter().enumerate().map(|(number, from)| &lower[*from..cuts.get(number + 1).copied().unwrap_or(lower.len())]).collect()
}

fn read<'t>(pieces: impl Iterator<Item = &'t str>) -> Option<Vec<StageSaid>> {
    let mut stages: Vec<StageSaid> = Vec::new();
    // What is done between two stages is done as the next begins; in brackets it belongs to what stands before.
    let (mut waiting, mut bracket) = (None, false);
    for piece in pieces {
        let mut stage = stage(piece)?;
        // "reduce to 180 C after 15 minutes": so long was the stage before.
        if let Some(until) = until(piece) {
            let before = stages.last_mut().filter(|before| before.written.minutes.is_none())?;
            before.written.minutes = Some(until);
            stage.written.minutes = None;
        }
        let note = note(piece);
        match stages.last_mut() {
            _ if stage.is_nothing() && !bracket => waiting = note.or(waiting),
            Some(before) if stage.is_nothing() => before.written.note = note.or(before.written.note.take()),
            _ if stage.is_nothing() => {}
            // "lower the oven to 350 F and bake another 40 minutes".
            Some(before) if before.written.minutes.is_none() && stage.written.oven.is_none() => {
                before.written.minutes = stage.written.minutes;
                before.written.note = before.written.note.take().or(note);
            }
            _ => {
                let note = note.or(waiting.take());
                stages.push(StageSaid { written: StageWritten { note, ..stage.written }, ..stage });
            }
        }
        bracket = piece.trim_end().ends_with('(');
    }
    // "30 min, then another 15, uncovered": behind the last stage.
    if let ([_, .., last], Some(note)) = (&mut *stages, waiting) {
        last.written.note.get_or_insert(note);
    }
    Some(stages)
}

/// "turn down to 180 C after 15 minutes": when a setting is turned.
fn until(piece: &str) -> Option<Written> {
    let at = piece.find(" after ")?;
    settings(piece).last().filter(|set| set.ends_before(piece, at))?;
    let time = time(&piece[at + " after ".len()..]).filter(|time| time.from == 0)?;
    Some(Written::Text(time.text.into()))
}

/// What is done as a stage begins: the lid comes off or on, steam is let in or out, or what stands in brackets.
fn note(piece: &str) -> Option<String> {
    const DONE: [(&str, &[&str]); 7] = [
        ("uncovered", &LIDLESS),
        ("uncovered", &LID_COMES_OFF),
        ("uncovered", &["uncover"]),
        ("covered", &["cover ", "cover, ", "covered", "tent ", "under a lid", "lid on"]),
        ("without steam", &["without steam", "no steam", "steam out", "release the steam"]),
        ("with steam", &["steam"]),
        ("door ajar", &["ajar"]),
    ];
    let said = |words: &[&str]| words.iter().any(|word| piece.contains(word));
    if let Some((done, _)) = DONE.iter().find(|(_, words)| said(words)) {
        return Some((*done).to_owned());
    }
    // "15 min at 218 °C (425 F) (door ajar)": a setting is no remark.
    let of_oven =
        |inner: &str| inner.contains(|c: char| c.is_ascii_digit()) || ["fan", "convection", "gas"].iter().any(|word| inner.contains(word));
    let brackets = piece.split('(').skip(1).filter_map(|inner| Some(inner.split_once(')')?.0.trim()));
    brackets.filter(|inner| !inner.is_empty() && !of_oven(inner)).last().map(str::to_owned)
}

/// One stage; nothing where its setting has no scale or is two, its time is two, or a figure of it is not understood.
fn stage(piece: &str) -> Option<StageSaid> {
    let mut said = Beside::default();
    setting(piece, &mut said);
    if !said.doubts.is_empty() || is_reckoned(piece) {
        return None;
    }
    // "rotating after 15 min" is within the time that was told.
    let within = |behind: &str, at: usize| {
        ["after ", "every ", "until ", "last ", "first "].iter().any(|word| behind[..at].trim_end().ends_with(word.trim_end()))
    };
    let first = time(piece);
    if let Some(first) = &first
        && let Some(second) = time(&piece[first.to..])
        && !within(&piece[first.to..], second.from)
    {
        return None;
    }
    let minutes = first.map(|time| time.text).or_else(|| bare_minutes(piece));
    let stage = StageSaid::new(said.oven, said.fan, minutes);
    let strange = stage.is_nothing() && piece.contains(is_figure);
    (!strange).then_some(stage)
}

/// "then 350 F for 40 more", "then 30 at 180 C": minutes, for those of the stage before had their unit.
fn bare_minutes(piece: &str) -> Option<String> {
    let bare = ["then ", "another ", "and bake "].iter().fold(piece.trim(), |rest, word| rest.strip_prefix(word).unwrap_or(rest)).trim();
    // "375 F 15-20 more".
    let more = || piece.trim_end().ends_with("more").then(|| piece.rsplit(' ').filter(|word| !word.is_empty()).nth(1)).flatten();
    let first = || bare.starts_with(is_figure).then(|| bare.split_once(" at ")).flatten().map(|(figures, _)| figures);
    let behind = piece.find(" for ").map(|at| &piece[at + 5..]).or_else(first).or_else(more)?;
    let (number, rest) = read_number(behind, &Pointer::ROOT).ok()??;
    let ends = rest.trim_matches(|c: char| c.is_whitespace() || matches!(c, '.' | ',' | ';'));
    let alone = settings(behind).is_empty() && bare_degrees(behind).is_none() && matches!(ends, "" | "more" | "longer");
    alone.then(|| minutes_text(&number))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_stage_of_a_bake_is_read() {
        for (line, told) in [
            ("425f for 20 min, then 350f for 40 more", "20 min at 425 F; 40 min at 350 F"),
            ("bake at 425 f for 15 minutes, then 350 f for 40 minutes", "15 min at 425 F; 40 min at 350 F"),
            ("bake 10 minutes, reduce to 350 f and bake 40 minutes more", "10 min; 40 min at 350 F"),
            ("20 min at 220 c, then 40-45 min at 180 c", "20 min at 220 C; 40-45 min at 180 C"),
            (
                "bake at 220c/425f/gas 7 for 10 min; lower the oven to 180c/350f/gas 4 and bake another 25 min",
                "10 min at 220 C / 425 F / gas mark 7; 25 min at 180 C / 350 F / gas mark 4",
            ),
            ("425 for 15 min, then 350 for 40-50", "15 min at 425 F; 40-50 min at 350 F"),
            ("425f 15 min; 375f 15-20 more", "15 min at 425 F; 15-20 min at 375 F"),
            ("425 f 20 min, 350 f 40 min", "20 min at 425 F; 40 min at 350 F"),
            ("bake covered at 230 c for 30 minutes, uncover and bake 15 minutes more", "30 min at 230 C (covered); 15 min (uncovered)"),
            ("30 min at 230 °c (covered), then 15 min (uncovered), then 5 min", "30 min at 230 C (covered); 15 min (uncovered); 5 min"),
            (
                "bake at 250 c with steam for 10 minutes, then without steam 25 minutes at 220 c",
                "10 min at 250 C (with steam); 25 min at 220 C (without steam)",
            ),
            ("160 c for 1 hour, reduce to 140 c, cover with foil and bake another 2 hours", "60 min at 160 C; 120 min at 140 C (covered)"),
            ("bake 2 min at 150 c, then 2 min (with steam), then 10 more", "2 min at 150 C; 2 min (with steam); 10 min"),
            ("bake 15 minutes at 220 c, then 30 at 180 c", "15 min at 220 C; 30 min at 180 C"),
            ("bake at 190 c for 10 min and 170 c for 25 min", "10 min at 190 C; 25 min at 170 C"),
            ("30 min at 230 c (covered); 15 min (uncovered); 5 min", "30 min at 230 C (covered); 15 min (uncovered); 5 min"),
            ("bake 30 min at 180 c, rotating after 15 min, then 10 min at 200 c", "30 min at 180 C; 10 min at 200 C"),
            ("bake 15 min at 220 c, then 40 min at 180 c; cover with foil if it browns", "15 min at 220 C; 40 min at 180 C"),
            ("bake 15 min at 220 c, reduce to 110 c and bake 60 min, turn off and leave 1 hour", "15 min at 220 C; 60 min at 110 C"),
            ("150 c for 1 hour, then at 100 c for 1 hour with the door ajar", "60 min at 150 C; 60 min at 100 C (door ajar)"),
            ("oven: 230 c, 15 min; 200 c, 30 min", "15 min at 230 C; 30 min at 200 C"),
            ("bake at 220 c, reduce to 180 c after 15 minutes and bake for 30 more", "15 min at 220 C; 30 min at 180 C"),
            ("bake 15 min at 220 c, then 30 min at 180 c (door ajar)", "15 min at 220 C; 30 min at 180 C (door ajar)"),
            ("bake at 220 c for 15 minutes, reduce to 180 c until golden, then cool 10 minutes", "15 min at 220 C; 180 C"),
        ] {
            let read = stages(line).unwrap_or_else(|| panic!("{line}"));
            assert_eq!(read.iter().map(StageSaid::text).collect::<Vec<_>>().join("; "), told, "{line}");
        }
        for line in [
            // No scale.
            "bake at 225 for 15 minutes, then 180 for 40",
            "bake at 220 c for 15 minutes, then reduce by 50 c for 30 minutes",
            "bake at 220 c for 15 minutes, then at 180 c for a total of 45 minutes",
            "lower the oven to 180 c after 15 minutes and bake 30 minutes more",
            // Two times, of which one may be that of a stage.
            "bake 15 minutes at 220 c with the lid, 20 minutes on the stone, then 10 minutes at 200 c",
            "bake in two batches, 12 min at 190 c, then 12 min at 190 c",
        ] {
            assert_eq!(stages(line), None, "{line}");
        }
        assert!(is_listed("cheesecake 230 c 10 min, 110 c 60 min") && is_listed("230 c, 15 min; 200 c, 30 min"));
        assert!(!is_listed("cupcakes at 350 f for 20 min, cake at 325 f for 40 min") && !is_listed("180 c / 160 c fan, 30 min"));
    }
}
