//! A pan in inches and in centimetres: "9 inch (23 cm) round". The two are compared within the rounding to whole centimetres that is customary.

use super::finding::{AuditFigure, AuditFinding, AuditKind, AuditVerdict, LikelyWrong};
use crate::formula::FormulaWritten;
use crate::pan::{PanWritten, PansWritten};
use crate::quantity::{Family, Length, Pointer, Quantity, Unit, read_number};
use crate::reference::short;

/// What came of the comparison.
pub(super) struct Sizes {
    pub compared: usize,
    /// The pans without their second measure, where one had two.
    pub plain: Option<PansWritten>,
}

/// A length in a phrase, or several that stand together, "9 x 5 x 3 inch": where they stand, and what they are.
struct Dimension {
    from: usize,
    end: usize,
    values: Vec<f64>,
    unit: &'static Unit,
    /// The unit as it is written.
    word: String,
}

impl Dimension {
    fn written(&self, place: usize) -> String {
        format!("{} {}", short(self.values[place]), self.word)
    }

    fn centimetres(&self, place: usize) -> f64 {
        self.values[place] * self.unit.size
    }
}

pub(super) fn compared(formula: &FormulaWritten, at: &Pointer<'_>, findings: &mut Vec<AuditFinding>) -> Sizes {
    let mut compared = 0;
    let mut plain = |phrase: &str, at: &Pointer<'_>| {
        let (rest, pairs) = without_second(phrase);
        for (first, second) in &pairs {
            let both = first.values.len().min(second.values.len());
            (0..both).for_each(|place| check(first, second, place, at, findings));
            compared += both;
        }
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

/// Every number in the phrase with a length behind it, and with it those that are multiplied by it.
fn lengths(phrase: &str) -> Vec<Dimension> {
    let (mut found, mut at) = (Vec::<Dimension>::new(), 0);
    // Numbers that wait for the unit behind the last of them.
    let mut waiting: Option<(usize, Vec<f64>)> = None;
    while let Some(step) = phrase[at..].find(|c: char| c.is_ascii_digit()) {
        let from = at + step;
        let Ok(Some((number, rest))) = read_number(&phrase[from..], &Pointer::ROOT) else { break };
        let behind = rest.trim_start_matches([' ', '-']);
        let word = behind.find(|c: char| !c.is_alphabetic() && c != '"' && c != '″').unwrap_or(behind.len());
        let unit = Unit::of_word(&behind[..word], crate::quantity::Measures::Us)
            .filter(|unit| matches!(unit.id, "inch" | "centimetre" | "millimetre"));
        let next = phrase.len() - rest.len();
        let (start, mut values) = waiting.take().unwrap_or((from, Vec::new()));
        values.push(number.value);
        if let Some(unit) = unit.filter(|unit| unit.family == Family::Length) {
            let end = phrase.len() - behind.len() + word;
            // "9 in x 5 in" stands together as well.
            match found.last_mut().filter(|last| last.unit.id == unit.id && is_times(&phrase[last.end..start])) {
                Some(last) => {
                    last.values.extend(values);
                    last.end = end;
                }
                None => found.push(Dimension { from: start, end, values, unit, word: behind[..word].to_owned() }),
            }
            at = end;
        } else {
            let ahead = rest.find(|c: char| c.is_ascii_digit()).unwrap_or(0);
            waiting = is_times(&rest[..ahead]).then_some((start, values));
            at = next.max(from + 1);
        }
    }
    found
}

/// What stands between the sides of one pan.
fn is_times(between: &str) -> bool {
    matches!(between.trim(), "x" | "X" | "×" | "by")
}

/// Inches are printed as whole centimetres, and a baker's tin by the nearest that is sold: within half a centimetre they agree, within one centimetre too if it is below 4.5 %; a depth of 3 in written as 7 cm is doubtful.
fn check(first: &Dimension, second: &Dimension, place: usize, at: &Pointer<'_>, findings: &mut Vec<AuditFinding>) {
    let centimetres = |length: &Dimension| length.centimetres(place);
    let off = (centimetres(first) - centimetres(second)).abs();
    let share = off / centimetres(first).max(centimetres(second));
    if off <= 0.5 + 1e-9 || (off <= 1.0 && share <= 0.045) {
        return;
    }
    let verdict = if off > 2.0 || off > 1.0 && share > 0.08 { AuditVerdict::Contradict } else { AuditVerdict::Doubtful };
    let figure = |length: &Dimension| AuditFigure {
        pointer: at.text(),
        written: length.written(place),
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
