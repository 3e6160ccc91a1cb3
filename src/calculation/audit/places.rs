//! One ingredient in two places, and a part whose second measures all differ alike: what no single line can show.

use super::finding::{AuditFigure, AuditFinding, AuditKind, AuditVerdict};
use super::pairs::{Half, Pair};
use crate::quantity::{Family, Mass, Pointer, Quantity, short};

/// All second measures of a part by one factor: the part was scaled, and one of its measures was not.
pub(super) fn scaled(pairs: &[Pair], findings: &mut Vec<AuditFinding>, formula: &Pointer<'_>) {
    let mut from = 0;
    while from < pairs.len() {
        let part = pairs[from].part;
        let end = pairs[from..].iter().position(|pair| pair.part != part).map_or(pairs.len(), |at| from + at);
        let lines = &pairs[from..end];
        from = end;
        let Some(factor) = common_factor(lines) else { continue };
        let pointer = formula.key("parts").index(part).text();
        let within = format!("{pointer}/");
        findings.retain(|finding| !finding.pointer.starts_with(&within));
        let figures = lines.iter().take(5).flat_map(sides).collect();
        findings.push(AuditFinding {
            pointer,
            kind: AuditKind::PartScaled,
            verdict: AuditVerdict::Contradict,
            figures,
            likely_wrong: None,
            mend: format!("All second measures of this part are {} times the first: one of the two was scaled and the other was not; write them for the same amount, and see whether pan and yield belong to it", short((factor * 100.0).round() / 100.0)),
        });
    }
}

fn sides(pair: &Pair) -> [AuditFigure; 2] {
    let pointer = pair.pointer();
    let figure = |half: &Half, field: &str| AuditFigure {
        pointer: format!("{pointer}/{field}"),
        written: half.text.clone(),
        is: Quantity::from(half.mass),
    };
    [figure(&pair.first, "amount"), figure(&pair.second, "also")]
}

/// The factor by which the two measures of each line differ, where most of at least three lines share it.
fn common_factor(lines: &[Pair]) -> Option<f64> {
    if lines.len() < 3 || lines.iter().filter(|pair| pair.gap() > 1.0).count() < 3 {
        return None;
    }
    let mut ratios: Vec<f64> = lines.iter().map(Pair::ratio).collect();
    ratios.sort_by(f64::total_cmp);
    let middle = ratios[ratios.len() / 2];
    // The middle ratio is rarely exact: the factor is a half or a whole number, or its inverse, near it.
    let near = [1.0 / 4.0, 1.0 / 3.0, 0.5, 2.0 / 3.0, 0.75, 1.5, 2.0, 3.0, 4.0]
        .into_iter()
        .min_by(|a, b| (middle / a).ln().abs().total_cmp(&(middle / b).ln().abs()))?;
    let alike = ratios.iter().filter(|ratio| (*ratio / near).ln().abs() < 0.18).count();
    ((middle / near).ln().abs() < 0.12 && alike * 4 >= ratios.len() * 3).then_some(near)
}

/// Two weights to the cup for one ingredient stand further apart than this: 10 %, common practice.
const UNEVEN: f64 = 1.10;

/// One ingredient measured in two places with different weights to the cup.
pub(super) fn uneven(pairs: &[Pair], findings: &mut Vec<AuditFinding>) {
    for (at, later) in pairs.iter().enumerate() {
        let Some(second) = density(later) else { continue };
        let earlier = pairs[..at].iter().find(|pair| same(pair, later) && density(pair).is_some());
        let Some((earlier, first)) = earlier.and_then(|pair| Some((pair, density(pair)?))) else { continue };
        // A line that contradicts itself has its own finding.
        if earlier.gap() > 1.0 || later.gap() > 1.0 {
            continue;
        }
        let rounded = (1.0 + earlier.first.slack() + earlier.second.slack()) * (1.0 + later.first.slack() + later.second.slack());
        if (second / first).max(first / second) <= UNEVEN * rounded {
            continue;
        }
        let cup = |density: f64| Quantity::from(Mass::grams(density * 236.588_236_5));
        let figure = |pair: &Pair, density: f64| AuditFigure {
            pointer: pair.pointer(),
            written: format!("{}, {}", pair.first.text, pair.second.text),
            is: cup(density),
        };
        findings.push(AuditFinding {
            pointer: later.pointer(),
            kind: AuditKind::UnevenMeasure,
            verdict: AuditVerdict::Doubtful,
            figures: vec![figure(earlier, first), figure(later, second)],
            likely_wrong: None,
            mend: format!(
                "A cup of {} weighs {} on one line and {} on another: one person fills all cups alike; weigh both",
                later.ingredient.name,
                cup(first).text,
                cup(second).text
            ),
        });
    }
}

fn same(one: &Pair, other: &Pair) -> bool {
    one.ingredient.id == other.ingredient.id && one.form == other.form && one.filled == other.filled
}

/// Grams in a millilitre by the line's own two measures.
fn density(pair: &Pair) -> Option<f64> {
    let (volume, mass) = match (pair.first.family(), pair.second.family()) {
        (Family::Volume, Family::Mass) => (&pair.first, &pair.second),
        (Family::Mass, Family::Volume) => (&pair.second, &pair.first),
        _ => return None,
    };
    let size = volume.unit()?.size;
    Some(mass.mass.value().in_grams() / (volume.amount.number.value * size))
}
