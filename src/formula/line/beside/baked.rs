//! The oven and the minutes of a sentence: "Bake at 350 °F for 30 minutes", "Oven: 180 C fan 160 C". Of a bake in stages none is taken for the whole.

use std::borrow::Cow;

use super::Beside;
use super::crust;
use super::degrees::{DEGREE, all_bare_degrees, bare_degrees, is_fahrenheit, taken_as_fahrenheit};
use super::stages::{is_listed, is_more_time, is_moved, is_turned_within, is_uncovered_for_more, is_under_a_lid, stages, surely_baked};
pub(super) use super::time::time;
use super::words::IDLE;
use crate::formula::line::text::is_figure;
use crate::quantity::plain;

/// A sentence of the oven.
pub(super) fn baked(clause: &str) -> Option<Beside> {
    let lower = plain(clause);
    let first = lower.split([' ', ':', ',', ';']).next().unwrap_or_default();
    if let Some(said) = crust::blind(&lower) {
        return Some(said);
    }
    if is_turned(&lower, first) && lower.contains(" if ") {
        // "Reduce to 150 C if it browns too fast" may not be done.
        return Some(Beside::aside(super::STEP));
    }
    if is_turned(&lower, first) {
        return Some(Beside { goes_on: true, ..in_stages(&lower, 1) });
    }
    let bakes = first == "bake"
        || first == "baking" && ["time", "temperature"].iter().any(|word| lower.contains(word))
        || lower.starts_with("cook in the oven")
        || first == "dry" && time(&lower).is_some() && !settings(&lower).is_empty()
        || first == "cook" && time(&lower).is_some() && settings(&lower).iter().any(|set| set.is_of_an_oven());
    let oven = matches!(first, "oven" | "preheat" | "pre-heat")
        || lower.starts_with("fan oven")
        || matches!(first, "temperature" | "temp") && settings(&lower).iter().any(Setting::is_of_an_oven)
        || matches!(first, "heat" | "set" | "turn" | "place" | "put") && lower.contains("oven");
    if let Some(named) = by_name(&lower).filter(|_| !bakes && !oven) {
        return Some(of_oven(named));
    }
    if !bakes && !oven {
        // "Next day heat the oven to 150 C": somewhere in a sentence of the method.
        if let Some(at) = lower.find("heat the oven to ") {
            return Some(of_oven(&lower[at..]));
        }
        // "until firm, bake in the oven".
        let at = lower.find(" bake ")?;
        return (super::WORK.contains(&first)).then(|| of_bake(&lower[at + 1..]));
    }
    if let Some(at) = lower.find(" bake ").filter(|_| !bakes && !first.starts_with("pre")) {
        // "Place in the oven at 180 C and bake for 40 minutes".
        let mut said = of_bake(&lower[at + 1..]);
        if said.oven.is_none() && said.minutes.is_some() {
            setting(&lower[..at], &mut said);
        }
        return Some(said);
    }
    Some(if bakes { of_bake(&lower) } else { of_oven(&lower) })
}

/// "Reduce to 350 F and bake for 40 minutes", "then 2 h at 140 C": what was said before is the first stage only.
fn is_turned(lower: &str, first: &str) -> bool {
    const TURNED: [&str; 6] =
        ["turn down", "turn up", "turn the oven down", "turn the heat down", "turn it down", "turn the temperature down"];
    let goes_on = || lower.strip_prefix("then ").is_some_and(|rest| is_set_within(rest) && bare(rest).is_some());
    let turned =
        matches!(first, "reduce" | "lower" | "decrease" | "increase" | "raise") || TURNED.iter().any(|word| lower.starts_with(word));
    // "Reduce the syrup at 105 C by half" is of no oven.
    let set = || settings(lower).iter().any(|set| set.is_of_an_oven() || lower.contains("oven") || lower.contains(" bake "));
    turned && (set() || bare_degrees(lower).is_some_and(|_| settings(lower).is_empty()))
        || first == "then" && goes_on()
        || is_uncovered_for_more(lower)
}

/// "A moderate oven, Reg. 3, for 1 hour", "Mod. oven 2 hours": the oven by its old name, and what is said of it.
fn by_name(lower: &str) -> Option<&str> {
    const NAMES: [&str; 11] = ["very", "moderate", "moderately", "mod.", "mod", "slow", "hot", "cool", "quick", "warm", "medium"];
    let mut rest = ["in a ", "a "].iter().find_map(|word| lower.strip_prefix(word)).unwrap_or(lower);
    let whole = rest;
    while let Some((_, behind)) = rest.split_once(' ').filter(|(word, _)| NAMES.contains(word)) {
        rest = behind;
    }
    (rest.len() < whole.len() && rest.starts_with("oven")).then_some(rest)
}

fn of_oven(lower: &str) -> Beside {
    let mut said = Beside::default();
    if is_listed(lower) || lower.split_once("then ").is_some_and(|(_, later)| time(later).is_some() || !settings(later).is_empty()) {
        // "Preheat to 450 F, then bake at 400 F" tells what it bakes at, and none of its stages first.
        return in_stages(lower, if lower.starts_with("oven") { 2 } else { usize::MAX });
    }
    setting(lower, &mut said);
    // "Oven 220 C, 30 min" bakes; "preheat for 30 minutes" does not; of two settings the minutes are of neither alone.
    if lower.starts_with("oven") && (said.oven.is_some() || settings(lower).is_empty()) {
        said.minutes = time(lower).map(|time| time.text);
    }
    if said.oven.is_none() && said.doubts.is_empty() {
        said.aside = Some(super::STEP);
    }
    said
}

/// All stages where they could be read and are so many at least; asked back where not.
fn in_stages(lower: &str, least: usize) -> Beside {
    let figures = if settings(lower).is_empty() { all_bare_degrees(lower) } else { Vec::new() };
    if let Some(stages) = stages(lower).filter(|stages| stages.len() >= least) {
        let told = (!figures.is_empty()).then(|| taken_as_fahrenheit(&figures));
        return Beside { stages, told, ..Beside::default() };
    }
    let doubt = "It bakes in stages, of which not each could be read: write each with its setting and its minutes";
    Beside {
        scaleless: !figures.is_empty(),
        doubts: vec![doubt.to_owned()],
        tries: vec!["Bake 15 minutes at 425 F, then 40 minutes at 350 F".to_owned()],
        ..Beside::default()
    }
}

pub(super) fn of_bake(lower: &str) -> Beside {
    let lower = &*without_crumb(lower);
    let lower = &*surely_baked(lower);
    if let Some(said) = crust::apart(lower) {
        return said;
    }
    let end = [", then", " then ", " and cool", ", cool", ". cool"].iter().filter_map(|word| lower.find(word)).min().unwrap_or(lower.len());
    let (now, later) = lower.split_at(end);
    let staged = is_turned_within(lower)
        || later.contains("bake")
        || !settings(later).is_empty()
        || bare_degrees(later).is_some()
        || is_under_a_lid(lower)
        || is_more_time(later)
        || is_moved(later)
        || is_listed(lower);
    if staged {
        return in_stages(lower, 2);
    }
    let mut said = Beside { minutes: time(now).map(|minutes| minutes.text), ..Beside::default() };
    setting(now, &mut said);
    if said.oven.is_none() && said.minutes.is_none() && said.doubts.is_empty() {
        said.aside = Some(super::STEP);
    }
    said
}

/// "to 88 °C inside", "until a thermometer reads 96 °C": how hot the crumb is when it is done is no setting of the oven.
fn without_crumb(lower: &str) -> Cow<'_, str> {
    const CRUMB: [&str; 9] = ["internal", "inside", " core", "core ", "reads ", "registers ", "reaches ", "in the centre", "in the middle"];
    // "35 min till 170 F".
    let till = |(at, word): (usize, &str)| lower[at + word.len()..].starts_with(|c: char| c.is_ascii_digit()).then_some(at);
    if let Some(from) = lower.match_indices("till ").find_map(till)
        && let Some(set) = settings(lower).into_iter().find(|set| set.from > from)
    {
        return format!("{} {}", &lower[..from], &lower[set.to..]).into();
    }
    let Some(at) = CRUMB.iter().filter_map(|word| lower.find(word)).min() else { return lower.into() };
    let from = ["until ", " to "].iter().filter_map(|word| lower[..at].rfind(word)).max().unwrap_or(at);
    let to = settings(lower).iter().filter(|set| set.from > from).map(|set| set.to).max();
    to.map_or(lower.into(), |to| format!("{} {}", &lower[..from], &lower[to..]).into())
}

/// "325F, 20-25 min", "25 minutes at 180 C", "350° 40 min", "1 hour": nothing but an oven and a time.
pub(super) fn bare(clause: &str) -> Option<Beside> {
    let lower = plain(clause.trim_start_matches([' ', ',', ';']));
    let found = settings(&lower);
    let when = time(&lower);
    let degrees = if found.is_empty() { bare_degrees(&lower) } else { None };
    if found.is_empty() && when.is_none() && degrees.is_none() {
        return None;
    }
    let idle = |text: &str| text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).all(|word| IDLE.contains(&word));
    // "water bath, 325 F for 1 hour".
    let begins = found.first().map_or(degrees.is_some_and(|figure| lower.starts_with(figure)), |set| idle(&lower[..set.from]));
    let timed_again = || when.as_ref().is_some_and(|when| time(&lower[when.to..]).is_some());
    let again = || when.is_some() && stages(&lower).is_some_and(|all| all.len() > 1 && (all[1].written.oven.is_some() || timed_again()));
    if begins && again() {
        return Some(in_stages(&lower, 2));
    }
    if begins && when.is_some() && lower.contains("then ") {
        // "180 C for 10 minutes, then 110 C for 45": in stages.
        return Some(of_bake(&lower));
    }
    // "210 C, 35-40 minutes, until dark": behind the time of an oven is said how it is known to be done.
    let end = when.as_ref().filter(|_| begins).map_or(lower.len(), |when| found.iter().map(|set| set.to).fold(when.to, usize::max));
    let mut rest = lower[..end].to_string();
    if let Some(degrees) = degrees {
        rest = rest.replacen(degrees, " ", 1);
    }
    found.iter().for_each(|set| rest = rest.replacen(&lower[set.from..set.to], " ", 1));
    if let Some(when) = &when {
        rest = rest.replacen(&lower[when.from..when.to], " ", 1);
    }
    // "(a skewer should come out clean)".
    if let Some((before, (remark, behind))) = rest.split_once('(').and_then(|(before, inner)| Some((before, inner.split_once(')')?)))
        && !remark.contains(|c: char| c.is_ascii_digit())
    {
        rest = format!("{before} {behind}");
    }
    // "200 C fan, 25-30": what stands behind the oven may be its minutes.
    let last = rest.rsplit([' ', ',']).next().unwrap_or_default().to_owned();
    let unitless = (begins && when.is_none() && last.starts_with(is_figure)).then_some(last).filter(|last| !idle(last));
    let rest = unitless.as_ref().map_or(&*rest, |last| rest.strip_suffix(&**last).unwrap_or(&rest));
    if !idle(rest) {
        return None;
    }
    let mut said = Beside::default();
    setting(&without_crumb(&lower), &mut said);
    if let (None, Some(figures)) = (&when, unitless) {
        said.doubts.push(format!("{figures} has no unit: write {figures} min, if minutes are meant"));
        said.tries.push(format!("Bake for {figures} min"));
    }
    match when {
        Some(when) if said.oven.is_some() || degrees.is_some() => said.minutes = Some(when.text),
        Some(when) => {
            said.doubts.push("A time that does not say of what".to_owned());
            said.tries.push(format!("Bake for {}", when.text));
        }
        None => {}
    }
    Some(said)
}

/// Puts the setting of the oven down: the conventional one where both are told.
pub(super) fn setting(lower: &str, said: &mut Beside) {
    let found = settings(lower);
    if found.is_empty() {
        if let Some(figure) = bare_degrees(lower) {
            if is_fahrenheit(lower, figure) {
                said.told = Some(taken_as_fahrenheit(&[figure]));
                said.oven = Some(format!("{figure} F"));
                return;
            }
            said.scaleless = true;
            said.doubts.push(format!("{figure} has no scale: write {figure} F or {figure} C"));
            said.tries.extend([format!("Bake at {figure} F"), format!("Bake at {figure} C")]);
        }
        return;
    }
    let plain_ones: Vec<&Setting> = found.iter().filter(|set| !set.fan).collect();
    said.fan = plain_ones.is_empty();
    let taken: Vec<&Setting> = if said.fan { found.iter().collect() } else { plain_ones };
    if (1..taken.len()).any(|at| taken[..at].iter().any(|other| other.scale == taken[at].scale)) {
        said.doubts.push("Two settings of one scale stand here: write the one that is meant, or each stage with its minutes".to_owned());
        said.tries.push(format!("Bake at {}", taken[0].text));
        // Of which of them the time is, nobody says.
        (said.fan, said.minutes) = (false, None);
        return;
    }
    // The first is the oven it was baked in; those of a fan oven stand behind with their word, so that they can be compared.
    let behind = found.iter().filter(|set| set.fan && !said.fan).map(|set| format!("{} fan", set.text));
    said.oven = Some(taken.iter().map(|set| set.text.clone()).chain(behind).collect::<Vec<_>>().join(" / "));
}

pub(super) struct Setting {
    text: String,
    scale: &'static str,
    fan: bool,
    from: usize,
    to: usize,
}

impl Setting {
    /// Whether nothing stands between it and a place behind it.
    pub(super) fn ends_before(&self, text: &str, at: usize) -> bool {
        text.get(self.to..at).is_some_and(|between| between.trim().is_empty())
    }

    /// The figure; the lower one of a range.
    fn degrees(&self) -> Option<u32> {
        self.text.split(|c: char| !c.is_ascii_digit()).next()?.parse().ok()
    }

    /// Whether no syrup and no custard is cooked so hot for minutes: from 150 °C it is an oven. Common practice, no source.
    fn is_of_an_oven(&self) -> bool {
        self.scale == "gas" || self.degrees().is_some_and(|degrees| degrees >= if self.scale == "C" { 150 } else { 300 })
    }
}

/// Whether an oven's setting stands in a text.
pub(super) fn is_set_within(text: &str) -> bool {
    !settings(&plain(text)).is_empty()
}

/// Whether a text tells how hot an oven is and how long it bakes.
pub(super) fn is_baked_within(text: &str) -> bool {
    let lower = plain(text);
    settings(&lower).iter().any(Setting::is_of_an_oven) && time(&lower).is_some()
}

/// The settings of a text in small letters, each with its scale.
pub(super) fn settings(lower: &str) -> Vec<Setting> {
    let mut found: Vec<Setting> = Vec::new();
    let mut from = 0;
    while let Some(at) = lower[from..].find(is_figure).map(|at| at + from) {
        // "gas ¼".
        let fraction = lower[at..].chars().next().filter(|c| !c.is_ascii_digit()).map(|c| at + c.len_utf8());
        let end = fraction.unwrap_or_else(|| end_of_number(lower, at));
        from = end;
        let before = lower[..at].trim_end();
        let gas = ["gas mark", "gas no.", "gas", "regulo", "reg.", "reg", "mark", " gm"]
            .iter()
            .find_map(|word| Some(before.strip_suffix(word)?.len()));
        if let Some(start) = gas {
            found.push(Setting { text: format!("gas mark {}", &lower[at..end]), scale: "gas", fan: false, from: start, to: end });
            continue;
        }
        let behind = lower[end..].trim_start().trim_start_matches(DEGREE).trim_start();
        let behind = ["degrees ", "deg. ", "deg ", "degree "].iter().find_map(|word| behind.strip_prefix(word)).unwrap_or(behind);
        let Some(scale) = ["celsius", "centigrade", "fahrenheit", "c", "f"]
            .iter()
            .find(|word| behind.strip_prefix(**word).is_some_and(|rest| !rest.starts_with(|c: char| c.is_alphanumeric())))
        else {
            // "180 fan 160": the fan oven is set 20 lower in degrees Celsius, and 25 in those of Fahrenheit.
            if found.is_empty() && end - at == 3 && is_twenty_above_its_fan(&lower[at..end], behind) {
                found.push(Setting { text: format!("{} C", &lower[at..end]), scale: "C", fan: false, from: at, to: end });
                continue;
            }
            // "180 C (160 fan)", "180 C (fan 160)": of the scale before it.
            let of_fan = behind.starts_with("fan") || behind.starts_with("convection") || before.ends_with("fan");
            if let Some(scale) = found.last().filter(|set| of_fan && end - at == 3 && set.scale != "gas").map(|set| set.scale) {
                found.push(Setting { text: format!("{} {scale}", &lower[at..end]), scale, fan: true, from: at, to: end });
            }
            continue;
        };
        let to = lower.len() - behind.len() + scale.len();
        // "2 C flour" are cups.
        if lower[at..].bytes().take_while(u8::is_ascii_digit).count() < 2 {
            continue;
        }
        let letter = if scale.starts_with('f') { "F" } else { "C" };
        found.push(Setting { text: format!("{} {letter}", &lower[at..end]), scale: letter, fan: false, from: at, to });
        from = to;
    }
    whose_fan(lower, &mut found);
    found
}

fn is_twenty_above_its_fan(figure: &str, behind: &str) -> bool {
    let behind = behind.trim_start_matches(['(', '/', ',', ' ']);
    let figures = |text: &str| text.get(..3).and_then(|figure| figure.parse::<u16>().ok());
    let lower = match behind.strip_prefix("fan") {
        Some(rest) => figures(rest.trim_start_matches([' ', ':'])),
        None => figures(behind).filter(|_| behind[3..].trim_start().starts_with("fan")),
    };
    lower.zip(figures(figure)).is_some_and(|(fan, plain)| fan + 20 == plain)
}

/// "180 C fan 160 C": the word stands before its setting; "180 C/160 C fan/gas 4": behind it.
fn whose_fan(lower: &str, found: &mut [Setting]) {
    for gap in 0..=found.len() {
        let from = if gap == 0 { 0 } else { found[gap - 1].to };
        let text = &lower[from..found.get(gap).map_or(lower.len(), |next| next.from)];
        let Some((before, after)) = text.split_once("fan").or_else(|| text.split_once("convection")) else { continue };
        if before.ends_with("no ") || before.ends_with("non-") || before.ends_with("without ") {
            continue;
        }
        // It has its number.
        if found.get(gap).is_some_and(|next| next.fan) || gap > 0 && found[gap - 1].fan {
            continue;
        }
        let after = after.trim_start().trim_start_matches("oven").trim_start();
        let ends = after.starts_with(['/', ',', ';', ')', '(', '|']) || after.starts_with("or ");
        let behind = ends || found.get(gap).is_none_or(|next| next.scale == "gas");
        if let Some(set) = if gap > 0 && behind { found.get_mut(gap - 1) } else { found.get_mut(gap) } {
            set.fan = true;
        }
    }
    // A fan oven is set lower than one without: wherever the word stands.
    if let [one, other] = found
        && one.scale == other.scale
        && one.fan != other.fan
        && one.degrees() != other.degrees()
        && one.fan != (one.degrees() < other.degrees())
    {
        (one.fan, other.fan) = (other.fan, one.fan);
    }
}

/// Where a number ends, with its range and its fraction: "350-375", "1/4", "½".
pub(super) fn end_of_number(lower: &str, at: usize) -> usize {
    let rest = &lower[at..];
    let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
    let tail = &rest[end..];
    let joined = tail.chars().next().filter(|c| matches!(c, '-' | '–' | '/' | '.'));
    let Some(mark) = joined else { return at + end };
    let second = &tail[mark.len_utf8()..];
    let more = second.find(|c: char| !c.is_ascii_digit()).unwrap_or(second.len());
    // "180/350 F" are two settings; "1/4" is a fraction.
    if more == 0 || mark == '/' && (end > 1 || more > 1) {
        return at + end;
    }
    at + end + mark.len_utf8() + more
}
