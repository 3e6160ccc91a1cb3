//! Two amounts that are one: "1 lb 4 oz" and "1 cup plus 2 tablespoons" add up, "1 cup less 1 tablespoon" is what is left.

use super::amount::{Amount, Counting, read_amount};
use super::code::Code;
use super::fault::Fault;
use super::number::Number;
use super::pointer::Pointer;
use super::unit::{Family, Measures, Unit};
use super::vocabulary::plain;
use super::written::Written;

/// What the second amount does to the first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Joint {
    Plus,
    Less,
}

const MARKS: [(&str, Joint); 6] = [
    (" plus ", Joint::Plus),
    (" + ", Joint::Plus),
    (" and ", Joint::Plus),
    (" & ", Joint::Plus),
    (" less ", Joint::Less),
    (" minus ", Joint::Less),
];

/// Where a second amount begins: at "plus", "+", "and", "less" or "minus", or at a digit behind a unit.
pub(super) fn split(rest: &str) -> (&str, Option<(Joint, &str)>) {
    // Most amounts are one word behind the number, and searching costs more than looking.
    if !rest.contains(' ') {
        return (rest, None);
    }
    for (mark, joint) in MARKS {
        if let Some((unit, further)) = rest.split_once(mark) {
            // "1 cup less 2 tbsp less 1 tsp": from which the last is taken, the order of the words does not say to everyone.
            if joint == Joint::Less && MARKS.iter().any(|(mark, joint)| *joint == Joint::Less && further.contains(mark)) {
                return (rest, None);
            }
            return (unit.trim().trim_end_matches(','), Some((joint, further.trim())));
        }
    }
    let second = rest.char_indices().find(|(at, c)| {
        *at > 0
            && c.is_ascii_digit()
            && rest[..*at].ends_with(' ')
            && rest[..*at].contains(|c: char| c.is_alphabetic())
            && !rest[..*at].trim_end().ends_with('#')
    });
    match second {
        Some((at, _)) if !is_oven_or_disher(rest) => (rest[..at].trim(), Some((Joint::Plus, &rest[at..]))),
        _ => (rest, None),
    }
}

fn is_oven_or_disher(rest: &str) -> bool {
    let rest = plain(rest);
    rest.starts_with("no") || rest.starts_with("gas") || rest.contains("scoop") || rest.contains("disher")
}

/// "2 x 400 g", "3 × 1.5 kg": what stands behind the joint is one of so many.
pub(super) fn each_of<'t>(number: &Number, rest: &'t str) -> Option<&'t str> {
    let each = rest.trim_start().strip_prefix(['x', '×', '*'])?.trim_start();
    (number.is_exact() && each.starts_with(|c: char| c.is_ascii_digit()) && is_measured(each)).then_some(each)
}

/// Whether a mass or a volume stands behind the number: "8 x 8 in" is no amount of anything.
fn is_measured(each: &str) -> bool {
    let unit = each.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | ' '));
    let unit = unit.split([' ', '-']).next().unwrap_or_default();
    Unit::of_word(unit, Measures::Us).is_some_and(|unit| matches!(unit.family, Family::Mass | Family::Volume))
}

/// Adds the second to the first, or takes it away.
pub(super) fn join(amount: &mut Amount, joint: Joint, further: &Amount, text: &str, at: &Pointer<'_>) -> Result<(), Fault> {
    // "1 cup and a half", "1 lb and a quarter": a part of the same.
    if joint == Joint::Plus
        && further.counting == Counting::Nothing
        && further.number.value < 1.0
        && matches!(amount.counting, Counting::Unit(_))
    {
        let Number { low, value, high } = further.number;
        amount.number = Number { low: amount.number.low + low, value: amount.number.value + value, high: amount.number.high + high };
        return Ok(());
    }
    let what = if joint == Joint::Plus { "to add up" } else { "to take one from the other" };
    let (Counting::Unit(unit), Counting::Unit(other)) = (&amount.counting, &further.counting) else {
        return Err(Fault::new(at, Code::UnreadableAmount, text, format!("amounts of the same kind {what}")));
    };
    if unit.family != other.family || !matches!(unit.family, Family::Mass | Family::Volume | Family::Length | Family::Time) {
        let saying = match joint {
            Joint::Plus => "Only amounts of one kind can be added: put them on two lines, or write both in one unit",
            Joint::Less => "A mass cannot be taken from a volume, nor a volume from a mass: write both in one kind",
        };
        return Err(Fault::new(at, Code::UnreadableAmount, text, format!("two masses, two volumes or two lengths {what}")).saying(saying));
    }
    amount.number = joined(&amount.number, joint, &further.number.times(other.size / unit.size)).ok_or_else(|| {
        Fault::new(at, Code::UnreadableAmount, text, "an amount from which less is taken than it is")
            .saying("Nothing would be left: the amount behind is as large as the one before it")
    })?;
    Ok(())
}

/// Two numbers of one unit, added or the second taken from the first; nothing where that would leave nothing.
pub fn joined(first: &Number, joint: Joint, second: &Number) -> Option<Number> {
    match joint {
        Joint::Plus => Some(Number { low: first.low + second.low, value: first.value + second.value, high: first.high + second.high }),
        // The least is left of the least where the most is taken.
        Joint::Less => Some(Number { low: first.low - second.high, value: first.value - second.value, high: first.high - second.low })
            .filter(|left| left.low > first.value * LEAST_LEFT),
    }
}

/// "1 stick plus 2 tablespoons": two amounts of which one counts what is made to a weight, so that only the ingredient tells what both are.
#[cold]
pub fn parted(written: &Written, measures: Measures, at: &Pointer<'_>) -> Option<(Amount, Joint, Amount)> {
    let Written::Text(text) = written else { return None };
    let (first, joint, further) =
        MARKS.iter().find_map(|(mark, joint)| text.split_once(mark).map(|(first, more)| (first, *joint, more)))?;
    let read = |text: &str| read_amount(&Written::Text(text.into()), measures, at).ok();
    let (first, further) = (read(first)?, read(further)?);
    let made = |amount: &Amount| matches!(amount.counting, Counting::Unit(unit) if unit.is_made());
    let measured = |amount: &Amount| amount.volume().is_some() || made(amount);
    (measured(&first) && measured(&further) && (made(&first) || made(&further))).then_some((first, joint, further))
}

/// What is smaller than this share of the amount is the noise of arithmetic: nothing is left.
const LEAST_LEFT: f64 = 1e-9;

#[cfg(test)]
mod tests {
    use crate::quantity::{Measures, Pointer, Written, read_amount};

    #[track_caller]
    fn refusal(text: &str) -> String {
        match read_amount(&Written::Text(text.into()), Measures::Us, &Pointer::ROOT) {
            Ok(amount) => panic!("{text}: {amount:?}"),
            Err(fault) => fault.detail,
        }
    }

    #[test]
    fn nothing_is_left_of_what_is_taken_away_whole() {
        for text in ["1 tbsp less 1 cup", "1 cup less 16 tbsp", "1 cup less 1 cup", "1-2 cups less 1 cup"] {
            assert!(refusal(text).contains("Nothing would be left"), "{text}: {}", refusal(text));
        }
    }

    #[test]
    fn a_mass_is_not_taken_from_a_volume() {
        assert!(refusal("1 cup less 30 g").contains("A mass cannot be taken from a volume"), "{}", refusal("1 cup less 30 g"));
    }

    #[test]
    fn the_ends_of_a_range_cross_where_a_range_is_taken_away() {
        let left = read_amount(&Written::Text("4-5 cups less 1-2 cups".into()), Measures::Us, &Pointer::ROOT).map(|amount| amount.number);
        assert!(left.as_ref().is_ok_and(|n| (n.low, n.value, n.high) == (2.0, 3.0, 4.0)), "{left:?}");
    }
}
