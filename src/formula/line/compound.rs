//! Two amounts that are one on a written line: "1 cup plus 2 tablespoons", "1 lb 4 oz", "1 cup less 1 tablespoon", "200 g – 250 g".

use super::Item;
use super::amount::{Lead, Measure, lead, number, plain_text, unit};
use super::read::Reader;
use super::text::is_figure;
use crate::quantity::{
    Amount, Counting, Factor, Family, Fault, Joint, Measures, Number, Pointer, Unit, Written, joined, read_amount, strip_ignoring_case,
};

const PLUS: [&str; 5] = ["plus ", "+ ", "and ", "& ", "+"];
const LESS: [&str; 2] = ["less ", "minus "];
const TO: [&str; 4] = ["-", "–", "—", "to "];

/// What a second amount is to the first.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Second {
    Added,
    TakenAway,
    /// Behind it without a word: "1 lb 4 oz".
    Below,
    End,
}

/// What belongs to the same amount is taken into it.
pub(super) fn compound<'t>(lead: &mut Lead<'t>, start: &'t str, measures: Measures) -> Result<(), Fault> {
    let Counting::Unit(first) = lead.measure.amount.counting else { return Ok(()) };
    if !matches!(first.family, Family::Mass | Family::Volume) {
        return Ok(());
    }
    let rest = lead.rest.trim_start();
    // "1 cup, plus 2 tbsp".
    let rest = rest.strip_prefix(", ").filter(|behind| PLUS[..2].iter().chain(&LESS).any(|mark| behind.starts_with(mark))).unwrap_or(rest);
    let behind = |marks: &[&str]| marks.iter().find_map(|mark| strip_ignoring_case(rest, mark));
    let added = behind(&PLUS).map(|further| (Second::Added, further));
    let taken = || behind(&LESS).map(|further| (Second::TakenAway, further));
    let ranged = || TO.iter().find_map(|mark| rest.strip_prefix(mark)).map(|further| (Second::End, further.trim_start()));
    // "1 lb, 2 oz".
    let comma = rest.strip_prefix(", ").filter(|behind| behind.starts_with(|c: char| c.is_ascii_digit()));
    let below = || rest.starts_with(|c: char| c.is_ascii_digit()).then_some(rest).or(comma).map(|further| (Second::Below, further));
    let Some((second, further)) = added.or_else(taken).or_else(ranged).or_else(below) else { return Ok(()) };
    let Some((number, behind)) = number(further)? else { return Ok(()) };
    if unit(behind, measures).is_none() {
        let direct = second == Second::Below && lead.rest.starts_with(|c: char| c.is_ascii_digit());
        let of_it = second == Second::Added && strip_ignoring_case(rest, "and ").is_some();
        if let Some((whole, rest)) = of_the_same(&lead.measure.amount.number, &number, first, behind, (direct, of_it)) {
            lead.measure.amount.number = whole;
            lead.measure.text = plain_text(&lead.measure.amount);
            lead.rest = rest;
        }
        return Ok(());
    }
    let Some((other, word, behind)) = unit(behind, measures).filter(|(unit, ..)| unit.family == first.family) else { return Ok(()) };
    let mine = lead.measure.amount.number;
    let whole = match second {
        Second::Below if comma.is_some() && !(is_below(other, first) && number.high * other.size < first.size) => None,
        Second::Below if !(is_below(other, first) || is_spooned_below(other, first, &number, &mine)) => None,
        Second::Added | Second::Below => joined(&mine, Joint::Plus, &number.times(other.size / first.size)),
        Second::TakenAway => joined(&mine, Joint::Less, &number.times(other.size / first.size)),
        Second::End if other.id == first.id && mine.is_exact() && number.value > mine.value => {
            Some(Number { low: mine.value, value: f64::midpoint(mine.value, number.value), high: number.value })
        }
        Second::End => None,
    };
    let Some(whole) = whole else { return Ok(()) };
    lead.measure.amount.number = whole;
    let taken = start[..start.len() - behind.len()].trim();
    let figure = further[..further.len() - behind.len()].trim().trim_end_matches(['.', ' ']).trim_end_matches(word.trim_end_matches('.'));
    lead.measure.text = match second {
        Second::End => plain_text(&lead.measure.amount),
        Second::Added | Second::Below | Second::TakenAway if is_safe(taken, word, &lead.measure, measures) => taken.to_owned(),
        Second::Added | Second::TakenAway if figure.starts_with(|c: char| !c.is_alphabetic()) => {
            let joint = if second == Second::Added { "plus" } else { "less" };
            let of_unit = if number.high > 1.0 { other.many } else { other.one };
            format!("{} {joint} {} {of_unit}", lead.measure.text, figure.trim())
        }
        _ => plain_text(&lead.measure.amount),
    };
    lead.rest = behind;
    Ok(())
}

/// A second number without a unit: "1 cup and a half of sugar" is a part of the same, "1kg500" are grams behind the kilogram.
fn of_the_same<'t>(
    mine: &Number,
    number: &Number,
    first: &Unit,
    behind: &'t str,
    (direct, of_it): (bool, bool),
) -> Option<(Number, &'t str)> {
    if of_it && number.value < 1.0 {
        return joined(mine, Joint::Plus, number).zip(strip_ignoring_case(behind.trim_start(), "of "));
    }
    let small = small_of(first).filter(|small| direct && number.value < first.size / small.size)?;
    Some((joined(mine, Joint::Plus, &number.times(small.size / first.size))?, behind))
}

/// Whether a further amount is added here, which with the one before it is more than that one.
pub(super) fn goes_on(rest: &str) -> bool {
    let further = PLUS.iter().find_map(|mark| strip_ignoring_case(rest.trim_start(), mark));
    further.is_some_and(|further| further.trim_start().starts_with(is_figure))
}

/// Whether an amount can stand as it was written: in figures, with words for its units that mean the same in any formula.
fn is_safe(taken: &str, word: &str, first: &Measure, measures: Measures) -> bool {
    let again = || read_amount(&Written::Text(taken.into()), measures, &Pointer::ROOT);
    let same =
        |amount: &Amount| amount.counting == first.amount.counting && (amount.number.value / first.amount.number.value - 1.0).abs() < 1e-6;
    taken.starts_with(|c: char| c.is_ascii_digit())
        && (!taken.contains('+') || taken.contains(" + "))
        && word.len() > 1
        && first.text.len() < taken.len()
        && again().is_ok_and(|amount| same(&amount))
}

/// The unit of which a thousand make this one.
fn small_of(unit: &Unit) -> Option<&'static Unit> {
    match unit.id {
        "kilogram" => Some(Unit::known("gram")),
        "litre" => Some(Unit::known("millilitre")),
        _ => None,
    }
}

/// "500 g x 2": so many times what stands before.
pub(super) fn multiplied(lead: &mut Lead<'_>, measures: Measures) {
    let Some(times) = lead.rest.trim_start().strip_prefix(['x', '×', '*']).filter(|_| lead.measure.family() != Family::Count) else {
        return;
    };
    let Ok(Some((count, behind))) = number(times.trim_start()) else { return };
    let sides =
        behind.trim_start().starts_with(['x', '×', '*']) || unit(behind, measures).is_some() || behind.starts_with(char::is_alphabetic);
    if count.is_exact() && count.value.fract() == 0.0 && !sides {
        lead.measure = lead.measure.times(Factor::times(count.value));
        lead.rest = behind;
    }
}

/// Pounds are followed by ounces, kilograms by grams; a mass beside another mass is a second measure.
fn is_below(second: &Unit, first: &Unit) -> bool {
    matches!((first.id, second.id), ("pound", "ounce") | ("kilogram", "gram") | ("stone", "pound"))
}

/// Two measures that differ by less than this share are the same amount twice.
const SAME: f64 = 0.2;

/// "1 pint 5 fl oz", "1 cup 2 tbsp": less than one of the larger, by the same country's measures; as much of it is a second measure.
fn is_spooned_below(second: &Unit, first: &Unit, count: &Number, mine: &Number) -> bool {
    let national = |unit: &Unit| unit.family == Family::Volume && unit.is_national();
    let (more, whole) = (count.high * second.size, mine.value * first.size);
    national(first) && national(second) && more < first.size * 0.9 && (more / whole - 1.0).abs() > SAME
}

impl Reader<'_> {
    /// "less 1 tbsp", behind the name or in brackets: it is taken from the amount. What is left of the text; nothing where it says no such thing.
    pub(super) fn lessened<'t>(&self, text: &'t str, item: &mut Item) -> Option<&'t str> {
        let further = LESS.iter().find_map(|mark| strip_ignoring_case(text.trim_start(), mark))?;
        let found = lead(further, self.measures).ok()??;
        let amount = item.amount.as_mut()?;
        let (Counting::Unit(first), Counting::Unit(other)) = (&amount.amount.counting, &found.measure.amount.counting) else { return None };
        if first.family != other.family || !matches!(first.family, Family::Mass | Family::Volume) {
            return None;
        }
        match joined(&amount.amount.number, Joint::Less, &found.measure.amount.number.times(other.size / first.size)) {
            Some(left) => {
                amount.amount.number = left;
                let once = !amount.text.contains(" less ") && !amount.text.contains(" minus ");
                amount.text = if once { format!("{} less {}", amount.text, found.measure.text) } else { plain_text(&amount.amount) };
                // "1 cup (120 g) less 2 tbsp": nobody says of which of both the second measure is.
                if let Some(also) = item.also.take() {
                    item.doubts.push(format!("{} may be the whole or what is left: it is not counted, {} is", also.text, amount.text));
                    item.notes.push(also.text);
                }
            }
            None => item.faults.push(format!("Nothing would be left of {} less {}", amount.text, found.measure.text)),
        }
        Some(found.rest)
    }

    /// "1 cup flour minus 2 tbsp": the text without what is taken away.
    pub(super) fn lessened_behind<'t>(&self, text: &'t str, item: &mut Item) -> &'t str {
        let Some(at) = [" less ", " minus "].iter().find_map(|mark| text.find(mark)) else { return text };
        let mut left = item.clone();
        match self.lessened(&text[at + 1..], &mut left) {
            Some(rest) if rest.trim().is_empty() && !text[..at].contains(['(', '[']) => {
                *item = left;
                &text[..at]
            }
            _ => text,
        }
    }
}
