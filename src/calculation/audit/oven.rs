//! One oven on several scales: °F, °C and gas mark are compared within the rounding that is customary in print.

use super::finding::{AuditFigure, AuditFinding, AuditKind, AuditVerdict, LikelyWrong};
use crate::pan::oven_scales;
use crate::quantity::{Code, Counting, Family, Fault, Measures, Pointer, Quantity, Temperature, Written, read_amount};
use crate::reference::short;

/// What one scale says.
struct Said {
    text: String,
    celsius: f64,
    scale: &'static str,
    fan: bool,
    /// Half the step in which the scale is printed, in Celsius degrees: °C by tens, °F by 25, marks by one.
    half_step: f64,
}

/// From here on two scales contradict one another, in Celsius degrees: a whole step of the dial.
const CONTRADICTION: f64 = 15.0;

/// Compares the scales of one oven; gives how many pairs there were.
pub(super) fn compared(written: &Written, at: &Pointer<'_>, findings: &mut Vec<AuditFinding>) -> Result<usize, Fault> {
    let Written::Text(text) = written else { return said(&written.as_text(), at).map(|_| 0) };
    let all = oven_scales(text).into_iter().map(|piece| said(piece, at)).collect::<Result<Vec<_>, _>>()?;
    let Some((first, others)) = all.split_first() else { return Ok(0) };
    for other in others {
        let off = apart(first, other);
        if off > 0.0 {
            findings.push(finding(first, other, off, at));
        }
    }
    Ok(others.len())
}

fn said(piece: &str, at: &Pointer<'_>) -> Result<Said, Fault> {
    let lower = piece.to_lowercase();
    let fan = lower.contains("fan") || lower.contains("convection");
    let words = ["convection", "conventional", "fan", "oven", "about", "assisted", "forced", "preheated", "preheat"];
    let bare = words.iter().fold(piece.to_owned(), |text, word| without(&text, word));
    let bare = bare.trim().trim_end_matches('.').trim();
    let amount = read_amount(&Written::Text(bare.into()), Measures::Us, at).map_err(|fault| fault.offering(&["350 F", "180 C"]))?;
    let value = amount.number.value;
    let (celsius, scale, half_step) = match &amount.counting {
        Counting::Unit(unit) if unit.id == "celsius" => (Some(value), "°C", 5.0),
        Counting::Unit(unit) if unit.id == "fahrenheit" => (Some(Temperature::fahrenheit(value).in_celsius()), "°F", 1.0),
        Counting::Unit(unit) if unit.family == Family::OvenMark => {
            (Temperature::gas_mark(value).map(Temperature::in_celsius), "gas mark", 8.0)
        }
        Counting::Nothing => {
            let fault = Fault::new(at, Code::UnitMissing, piece, "an oven temperature with its scale, such as \"350 F / 180 C\"");
            return Err(fault.trying([format!("{value} F"), format!("{value} C")]));
        }
        _ => (None, "", 0.0),
    };
    let Some(celsius) = celsius else {
        return Err(Fault::new(at, Code::WrongUnit, piece, "an oven temperature, such as \"350 F / 180 C\" or \"gas mark 4\"")
            .trying(["350 F / 180 C"]));
    };
    Ok(Said { text: piece.trim().to_owned(), celsius, scale, fan, half_step })
}

/// A text without a word, whatever its case.
fn without(text: &str, word: &str) -> String {
    match text.to_ascii_lowercase().find(word) {
        Some(at) => format!("{} {}", &text[..at], &text[at + word.len()..]),
        None => text.to_owned(),
    }
}

/// By how much the other is set off where one of them is a fan oven, at least and at most.
const fn fan_of(first: &Said, other: &Said) -> [f64; 2] {
    match (first.fan, other.fan) {
        (false, true) => [-25.0, -10.0],
        (true, false) => [10.0, 25.0],
        _ => [0.0, 0.0],
    }
}

/// How far apart two scales are beyond their rounding. A fan oven is set 10 to 25 °C lower.
fn apart(first: &Said, other: &Said) -> f64 {
    let rounding = first.half_step.max(other.half_step) + 0.05;
    let off = other.celsius - first.celsius;
    let [low, high] = fan_of(first, other);
    ((off - high).max(low - off) - rounding).max(0.0)
}

fn finding(first: &Said, other: &Said, off: f64, at: &Pointer<'_>) -> AuditFinding {
    let figure = |said: &Said| AuditFigure {
        pointer: at.text(),
        written: said.text.clone(),
        is: Quantity::from(Temperature::celsius(said.celsius)),
    };
    let lower = other.celsius - first.celsius;
    let fan = !first.fan && !other.fan && (-25.0..=-10.0).contains(&lower);
    let verdict = if off > CONTRADICTION - 5.0 && !fan { AuditVerdict::Contradict } else { AuditVerdict::Doubtful };
    let meant = meant(first, other);
    let why = if fan {
        format!("{} is lower by {:.0} °C, as it would be for a fan oven", other.text, -lower)
    } else {
        format!("{}: of several scales the first is mostly the one it was baked by, the others are converted", other.text)
    };
    let mend = if fan {
        format!("{} is {meant}: if {} is meant for a fan oven, say so", first.text, other.text)
    } else {
        format!("{} is {meant}, not {}", first.text, other.text)
    };
    AuditFinding {
        pointer: at.text(),
        kind: AuditKind::Oven,
        verdict,
        figures: vec![figure(first), figure(other)],
        likely_wrong: Some(LikelyWrong { pointer: at.text(), why }),
        mend,
    }
}

/// The first on the scale of the other, with or without its fan, rounded as is customary.
fn meant(first: &Said, other: &Said) -> String {
    let ends = fan_of(first, other).map(|off| Temperature::celsius(first.celsius + off));
    let stepped = |figure: f64, step: f64| (figure / step).round() * step;
    let range = |[low, high]: [f64; 2]| if low == high { short(low).to_string() } else { format!("{} to {}", short(low), short(high)) };
    let said = match other.scale {
        "°C" => format!("{} °C", range(ends.map(|end| stepped(end.in_celsius(), if first.fan == other.fan { 10.0 } else { 5.0 })))),
        "°F" => format!("{} °F", range(ends.map(|end| stepped(end.in_fahrenheit(), 25.0)))),
        _ => match ends.map(Temperature::in_gas_mark) {
            [Some(low), Some(high)] => format!("gas mark {}", range([low, high])),
            _ => "beyond the marks of a gas oven".to_owned(),
        },
    };
    match (first.fan, other.fan) {
        (false, true) => said + " with a fan",
        (true, false) => said + " without a fan",
        _ => said,
    }
}
