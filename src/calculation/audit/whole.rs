//! The formula as a whole: what it makes against what it weighs, the batter against its pan, cups without grams among lines that have them.

use super::finding::{AuditFigure, AuditFinding, AuditKind, AuditVerdict};
use crate::formula::{Formula, FormulaWritten, LinePlace, ScalesWith};
use crate::quantity::{Counting, Family, Mass, Pointer, Quantity, Span, Volume, Written, read_amount};
use crate::reference::Doubt;

/// Compares what it makes, the pan, and the masses; gives how many pairs there were.
pub(super) fn compared(written: &FormulaWritten, formula: &Formula, at: &Pointer<'_>, findings: &mut Vec<AuditFinding>) -> usize {
    let sound = findings
        .iter()
        .all(|finding| finding.verdict == AuditVerdict::Doubtful || matches!(finding.kind, AuditKind::Oven | AuditKind::PanSize));
    masses_missing(written, formula, at, findings);
    // Where a line contradicts itself nobody knows what is mixed: only what it makes can be compared with itself.
    yields(written, formula, at, sound, findings) + if sound { batter(formula, at, findings) } else { 0 }
}

/// Lines in cups whose weight depends on how the cup is filled, where most other lines are weighed.
fn masses_missing(written: &FormulaWritten, formula: &Formula, at: &Pointer<'_>, findings: &mut Vec<AuditFinding>) {
    let lines = || {
        written
            .parts
            .iter()
            .zip(&formula.parts)
            .enumerate()
            .flat_map(|(part, (w, k))| w.lines.iter().zip(&k.lines).enumerate().map(move |(line, pair)| (part, line, pair)))
    };
    let is_mass = |counting: &Counting| matches!(counting, Counting::Unit(unit) if unit.family == Family::Mass);
    let is_cup = |counting: &Counting| matches!(counting, Counting::Unit(unit) if unit.family == Family::Volume && unit.size >= 100.0);
    let weighed = |also: &Option<Written>| {
        also.as_ref().and_then(|also| read_amount(also, formula.measures, at).ok()).is_some_and(|amount| is_mass(&amount.counting))
    };
    let (mut with, mut without) = (0, 0);
    for (_, _, (as_written, known)) in lines() {
        if is_mass(&known.amount.counting) || weighed(&as_written.also) {
            with += 1;
        } else if is_cup(&known.amount.counting) {
            without += 1;
        }
    }
    if without == 0 || with <= without {
        return;
    }
    for (part, line, (as_written, known)) in lines() {
        if !is_cup(&known.amount.counting) || known.weight.doubt != Doubt::Way || weighed(&as_written.also) {
            continue;
        }
        let pointer = LinePlace { part, line }.pointer();
        let is = Quantity::from(known.weight.mass);
        findings.push(AuditFinding {
            mend: format!(
                "Most lines are weighed, this one is not: {} of {} may be {}; weigh it as it was tested, and add the grams",
                as_written.amount.as_text(),
                known.ingredient.name,
                is.range_text()
            ),
            figures: vec![AuditFigure { pointer: format!("{pointer}/amount"), written: as_written.amount.as_text().into_owned(), is }],
            pointer,
            kind: AuditKind::MassMissing,
            verdict: AuditVerdict::Doubtful,
            likely_wrong: None,
        });
    }
}

fn mass_of(written: Option<&Written>, formula: &Formula, at: &Pointer<'_>) -> Option<Mass> {
    let amount = read_amount(written?, formula.measures, at).ok()?;
    match amount.counting {
        Counting::Unit(unit) if unit.family == Family::Mass => Some(Mass::grams(amount.number.value * unit.size)),
        _ => None,
    }
}

/// Nothing bakes away more than this: meringues lose most, about a third (common practice).
const LEAST_LEFT: f64 = 0.55;

/// Pieces by their weight, against the whole and against what is mixed.
fn yields(written: &FormulaWritten, formula: &Formula, at: &Pointer<'_>, sound: bool, findings: &mut Vec<AuditFinding>) -> usize {
    let Some(makes) = &written.makes else { return 0 };
    let here = at.key("makes");
    let (each, weight) = (mass_of(makes.each.as_ref(), formula, at), mass_of(makes.weight.as_ref(), formula, at));
    let pieces = makes.pieces.map(f64::from).zip(each).map(|(count, each)| Mass::grams(count * each.in_grams()));
    let mixed = formula.mass();
    let mut compared = 0;
    let text = |written: &Option<Written>| written.as_ref().map_or(String::new(), |written| written.as_text().into_owned());
    let by_piece = |sum: Mass| AuditFigure {
        pointer: here.key("each").text(),
        written: format!("{} pieces of {}", makes.pieces.unwrap_or(0), text(&makes.each)),
        is: Quantity::from(sum),
    };
    let by_weight = |sum: Mass| AuditFigure { pointer: here.key("weight").text(), written: text(&makes.weight), is: Quantity::from(sum) };
    let mut push = |verdict, figures, mend| {
        findings.push(AuditFinding { pointer: here.text(), kind: AuditKind::Yield, verdict, figures, likely_wrong: None, mend });
    };
    if let (Some(pieces), Some(weight)) = (pieces, weight) {
        compared += 1;
        let ratio = pieces.in_grams() / weight.in_grams();
        if !(0.95..=1.05).contains(&ratio) {
            push(
                AuditVerdict::Contradict,
                vec![by_piece(pieces), by_weight(weight)],
                "The pieces together do not make the whole: weigh one piece, or count them anew".to_owned(),
            );
        }
    }
    let made = [pieces.map(|sum| (sum, by_piece(sum))), weight.map(|sum| (sum, by_weight(sum)))].into_iter().flatten().next();
    if let Some((made, figure)) = made.filter(|_| sound) {
        compared += 1;
        let left = made.in_grams() / mixed.in_grams();
        let all = AuditFigure { pointer: at.key("parts").text(), written: "all that is mixed".to_owned(), is: Quantity::from(mixed) };
        if left > 1.02 {
            push(
                AuditVerdict::Contradict,
                vec![figure, all],
                format!("It makes more than is mixed ({}): pieces, weight or a line is wrong", Quantity::from(mixed).text),
            );
        } else if left < LEAST_LEFT {
            push(
                AuditVerdict::Doubtful,
                vec![figure, all],
                format!(
                    "It makes {:.0} % of what is mixed ({}): more is lost than bakes away; see whether all pieces are counted",
                    left * 100.0,
                    Quantity::from(mixed).text
                ),
            );
        }
    }
    compared
}

/// Grams of batter to a millilitre of pan: above the first it cannot go in, below the second the pan is nearly empty (common practice).
const FULL: f64 = 1.15;
const EMPTY: f64 = 0.12;

/// The batter against the pan it was tested in: a part that was scaled and a pan that was not.
fn batter(formula: &Formula, at: &Pointer<'_>, findings: &mut Vec<AuditFinding>) -> usize {
    let Some(capacity) = formula.pans.as_ref().and_then(|pans| pans.capacity().ok()) else { return 0 };
    let parts = formula.parts.iter().filter(|part| part.scales_with == ScalesWith::PanVolume);
    let batter: Mass = parts.map(|part| part.total().mass().value()).sum();
    let share = |volume: Volume| batter.in_grams() / volume.in_millilitres();
    let (most, least) = (share(capacity.low()), share(capacity.high()));
    let mend = if least > FULL {
        "The pan cannot hold it: the formula was scaled and its pan was not, or the pan is another; tell the pans it was tested in"
    } else if most < EMPTY {
        "The pan is nearly empty: the formula was scaled and its pan was not, or the pan is another; tell the pans it was tested in"
    } else {
        return 1;
    };
    let pan = at.key("pan").text();
    let figures = vec![
        AuditFigure { pointer: at.key("parts").text(), written: "what grows with the pan".to_owned(), is: Quantity::from(batter) },
        AuditFigure {
            pointer: pan.clone(),
            written: "the pans to the brim".to_owned(),
            is: Quantity::from(Span::new(capacity.low(), capacity.value(), capacity.high())),
        },
    ];
    let verdict = if least > FULL { AuditVerdict::Contradict } else { AuditVerdict::Doubtful };
    findings.push(AuditFinding {
        pointer: pan,
        kind: AuditKind::PanAndBatter,
        verdict,
        figures,
        likely_wrong: None,
        mend: mend.to_owned(),
    });
    1
}
