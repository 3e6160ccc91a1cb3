//! A pan in inches and in centimetres: "9 inch (23 cm) round". The two are compared within the rounding to whole centimetres that is customary.

use super::finding::{AuditFigure, AuditFinding, AuditKind, AuditVerdict, LikelyWrong};
use crate::formula::FormulaWritten;
use crate::pan::{PanWritten, PansWritten};
use crate::quantity::{Family, Length, Pointer, Quantity, Unit, read_number};

/// What came of the comparison.
pub(super) struct Sizes {
    pub compared: usize,
    /// The pans without their second measure, where one had two.
    pub plain: Option<PansWritten>,
}

/// A length in a phrase: where it stands, and what it is.
struct Dimension {
    from: usize,
    end: usize,
    value: f64,
    unit: &'static Unit,
}

pub(super) fn compared(formula: &FormulaWritten, at: &Pointer<'_>, findings: &mut Vec<AuditFinding>) -> Sizes {
    let mut compared = 0;
    let mut plain = |phrase: &str, at: &Pointer<'_>| {
        let (rest, pairs) = without_second(phrase);
        pairs.iter().for_each(|(first, second)| check(phrase, first, second, at, findings));
        compared += pairs.len();
        (!pairs.is_empty()).then_some(rest)
    };
    let one = |pan: &PanWritten, rest: Option<String>| rest.map_or_else(|| pan.clone(), |rest| PanWritten::Phrase(rest.into()));
    let pans = match &formula.pan {
        Some(PansWritten::One(pan @ PanWritten::Phrase(phrase))) => Some(PansWritten::One(one(pan, plain(phrase, at)))),
        Some(PansWritten::Several(pans)) => {
            let made = pans.iter().enumerate().map(|(index, pan)| match pan {
                PanWritten::Phrase(phrase) => one(pan, plain(phrase, &at.index(index))),
                PanWritten::Drawn(_) => pan.clone(),
            });
            Some(PansWritten::Several(made.collect()))
        }
        _ => None,
    };
    Sizes { compared, plain: pans.filter(|_| compared > 0) }
}

/// The phrase without each length that repeats the one before it in the other system, and the pairs.
fn without_second(phrase: &str) -> (String, Vec<(Dimension, Dimension)>) {
    let mut lengths = lengths(phrase).into_iter().peekable();
    let (mut rest, mut from, mut pairs) = (String::new(), 0, Vec::new());
    while let Some(first) = lengths.next() {
        let between = lengths.peek().map(|second| &phrase[first.end..second.from]);
        let joined = between.is_some_and(|between| matches!(between.trim(), "/" | "(" | "" | "," | "or" | "=" | "|"));
        let Some(second) = lengths.next_if(|second| joined && second.unit.id != first.unit.id) else { continue };
        rest.push_str(&phrase[from..first.end]);
        from = second.end + usize::from(phrase[second.end..].starts_with(')'));
        pairs.push((first, second));
    }
    rest.push_str(&phrase[from..]);
    (rest, pairs)
}

/// Every number in the phrase with a length behind it.
fn lengths(phrase: &str) -> Vec<Dimension> {
    let (mut found, mut at) = (Vec::new(), 0);
    while let Some(step) = phrase[at..].find(|c: char| c.is_ascii_digit()) {
        let from = at + step;
        let Ok(Some((number, rest))) = read_number(&phrase[from..], &Pointer::ROOT) else { break };
        let behind = rest.trim_start_matches([' ', '-']);
        let word = behind.find(|c: char| !c.is_alphabetic() && c != '"' && c != '″').unwrap_or(behind.len());
        let unit = Unit::of_word(&behind[..word], crate::quantity::Measures::Us)
            .filter(|unit| matches!(unit.id, "inch" | "centimetre" | "millimetre"));
        let next = phrase.len() - rest.len();
        if let Some(unit) = unit.filter(|unit| unit.family == Family::Length) {
            let end = phrase.len() - behind.len() + word;
            found.push(Dimension { from, end, value: number.value, unit });
            at = end;
        } else {
            at = next.max(from + 1);
        }
    }
    found
}

/// Inches are printed as whole centimetres, and a baker's tin by the nearest that is sold: within half a centimetre they agree, within one centimetre too if it is below 4.5 %.
fn check(phrase: &str, first: &Dimension, second: &Dimension, at: &Pointer<'_>, findings: &mut Vec<AuditFinding>) {
    let centimetres = |length: &Dimension| length.value * length.unit.size;
    let off = (centimetres(first) - centimetres(second)).abs();
    let share = off / centimetres(first).max(centimetres(second));
    if off <= 0.5 + 1e-9 || (off <= 1.0 && share <= 0.045) {
        return;
    }
    let verdict = if off > 2.0 || share > 0.08 { AuditVerdict::Contradict } else { AuditVerdict::Doubtful };
    let figure = |length: &Dimension| AuditFigure {
        pointer: at.text(),
        written: phrase[length.from..length.end].to_owned(),
        is: Quantity::from(Length::centimetres(centimetres(length))),
    };
    let figures = vec![figure(first), figure(second)];
    let meant =
        if second.unit.id == "inch" { format!("{:.1} in", centimetres(first) / 2.54) } else { format!("{:.0} cm", centimetres(first)) };
    let why = format!("{}: the first measure is mostly that of the pan, the second is converted", figures[1].written);
    let mend = format!("{} is {meant}, not {}: measure the pan inside, from edge to edge", figures[0].written, figures[1].written);
    findings.push(AuditFinding {
        pointer: at.text(),
        kind: AuditKind::PanSize,
        verdict,
        figures,
        likely_wrong: Some(LikelyWrong { pointer: at.text(), why }),
        mend,
    });
}
