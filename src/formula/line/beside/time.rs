//! The time of a sentence, in minutes: "1 hour 15 minutes", "an hour and a half", "20/25 min".

use crate::formula::line::text::is_figure;
use crate::quantity::{Number, Pointer, of_a, read_number, with_part, word_number};

pub(super) struct Time {
    pub(super) text: String,
    pub(super) from: usize,
    pub(super) to: usize,
}

/// The first time of a text, in minutes.
pub(super) fn time(lower: &str) -> Option<Time> {
    let starts = lower.char_indices().filter(|(at, c)| {
        let before = &lower[..*at];
        if c.is_alphabetic() {
            return before.is_empty() || before.ends_with([' ', '(']);
        }
        is_figure(*c) && !before.ends_with(|c: char| is_figure(c) || matches!(c, '-' | '–' | '.' | '/'))
    });
    for (at, _) in starts {
        let Some((number, behind)) = in_figures_or_words(&lower[at..]) else { continue };
        let Some((per, rest)) = unit_of_time(behind) else { continue };
        let (mut sum, mut rest) = (number.times(per), rest);
        // "an hour and a half".
        if let (part, behind) = with_part(0.0, rest)
            && part > 0.0
        {
            let part = part * per;
            (sum, rest) = (Number { low: sum.low + part, value: sum.value + part, high: sum.high + part }, behind);
        }
        if per > 1.0 {
            let more = rest.trim_start().trim_start_matches("and ").trim_start();
            if let Ok(Some((minutes, behind))) = read_number(more, &Pointer::ROOT)
                && let Some(after) = minutes_behind(&minutes, behind)
            {
                sum = Number { low: sum.low + minutes.low, value: sum.value + minutes.value, high: sum.high + minutes.high };
                rest = after;
            }
        }
        // "45'-50'", "1 hour to 1 hour 15 minutes": the end of a range has its own unit.
        if let Some((high, behind)) = further(&sum, rest) {
            (sum, rest) = (Number { low: sum.low, value: f64::midpoint(sum.low, high), high }, behind);
        }
        return Some(Time { text: minutes_text(&sum), from: at, to: lower.len() - rest.len() });
    }
    None
}

/// "30 min", "25-30 min".
pub(super) fn minutes_text(minutes: &Number) -> String {
    if minutes.is_exact() { format!("{} min", minutes.value) } else { format!("{}-{} min", minutes.low, minutes.high) }
}

/// The longer end of a range, in minutes, and what stands behind it.
fn further<'t>(first: &Number, rest: &'t str) -> Option<(f64, &'t str)> {
    let rest = rest.trim_start();
    let rest = ["-", "–", "to ", "or "].iter().find_map(|mark| rest.strip_prefix(mark))?.trim_start();
    let (number, behind) = in_figures_or_words(rest).filter(|(number, _)| number.is_exact())?;
    let (per, mut behind) = unit_of_time(behind)?;
    let mut high = number.value * per;
    if per > 1.0
        && let Ok(Some((minutes, more))) = read_number(behind.trim_start(), &Pointer::ROOT)
        && let Some(after) = minutes_behind(&minutes, more)
    {
        (high, behind) = (high + minutes.value, after);
    }
    (first.is_exact() && high > first.value).then_some((high, behind))
}

/// "1 hr 30", "1h30", "1 hr 15 at 180 C": behind hours two figures without a unit are minutes, where nothing else can be counted; what stands behind them.
fn minutes_behind<'t>(minutes: &Number, behind: &'t str) -> Option<&'t str> {
    if let Some((per, after)) = unit_of_time(behind) {
        return (per == 1.0).then_some(after);
    }
    let ends = behind.trim_start();
    let alone = ends.is_empty()
        || ends.starts_with([',', ';', '.', ')', '-', '–'])
        || ["at ", "or ", "to "].iter().any(|word| ends.starts_with(word));
    (alone && minutes.is_exact() && minutes.value.fract() == 0.0 && (10.0..60.0).contains(&minutes.value)).then_some(behind)
}

fn in_figures_or_words(text: &str) -> Option<(Number, &str)> {
    if text.starts_with(char::is_alphabetic) {
        let (value, behind) = word_number(text)?;
        // "three quarters of an hour".
        return Some((Number::exact(value), if value < 1.0 { of_a(behind) } else { behind }));
    }
    // "20/25 min" is a range.
    if let Some((first, second)) = text.split_once('/')
        && let Ok(low) = first.parse::<u16>()
        && let Ok(Some((second, behind))) = read_number(second, &Pointer::ROOT)
        && low >= 5
        && second.low > f64::from(low)
    {
        return Some((Number { low: f64::from(low), value: f64::midpoint(f64::from(low), second.high), high: second.high }, behind));
    }
    read_number(text, &Pointer::ROOT).ok()?
}

fn unit_of_time(behind: &str) -> Option<(f64, &str)> {
    // "14'" are minutes.
    if let Some(rest) = behind.strip_prefix(['\'', '′']) {
        return Some((1.0, rest));
    }
    let behind = behind.trim_start().trim_start_matches('-');
    let end = behind.find(|c: char| !c.is_alphabetic()).unwrap_or(behind.len());
    let per = match &behind[..end] {
        "min" | "mins" | "minute" | "minutes" => 1.0,
        "h" | "hr" | "hrs" | "hour" | "hours" => 60.0,
        _ => return None,
    };
    Some((per, behind[end..].trim_start_matches('.')))
}
