//! Which of two figures is more probably wrong: the slips that people make when they type and convert are tried on each, and the one that makes them agree is the likelier.

use super::pairs::{Half, Pair};
use crate::quantity::{Counting, Factor, Family, Quantity, Span, UNITS, short, upper_first};

/// The first or the second measure of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    First,
    Second,
}

/// A slip that would explain it.
#[derive(Clone, Debug)]
pub(super) struct Slip {
    pub side: Side,
    pub why: String,
    /// What was meant, if it is this slip.
    pub instead: Option<String>,
    /// How common such a slip is: common practice, no source.
    weight: f64,
}

/// A figure made anew, and how the slip is called.
struct Trial {
    factor: f64,
    weight: f64,
    why: &'static str,
    instead: Option<String>,
}

/// The likelier slip, if one explains it better than any other.
pub(super) fn likelier(pair: &Pair) -> Option<Slip> {
    let first = best(&pair.first, &pair.second, Side::First);
    let second = best(&pair.second, &pair.first, Side::Second).map(|mut slip| {
        // Of two measures the second is mostly the one that was converted, and conversions go wrong.
        slip.weight += 0.5;
        slip
    });
    match (first, second) {
        (Some(first), Some(second)) if first.weight > second.weight => Some(first),
        (first, second) => second.or(first),
    }
}

fn best(half: &Half, other: &Half, side: Side) -> Option<Slip> {
    let fits = |trial: &Trial| {
        let (low, high) = (half.low() * trial.factor, half.high() * trial.factor);
        low <= other.high() * 1.02 && other.low() <= high * 1.02
    };
    let mut trials: Vec<Trial> = Vec::with_capacity(24);
    match half.family() {
        Family::Mass => {
            masses(half, &mut trials);
            trials.extend(millilitres(half, other));
        }
        Family::Volume => {
            volumes(half, &mut trials);
            countries(half, other, &mut trials);
        }
        _ => counts(half, &mut trials),
    }
    let found = trials.into_iter().filter(fits).max_by(|a, b| a.weight.total_cmp(&b.weight))?;
    Some(Slip { side, why: format!("{}: {}", half.text, found.why), instead: found.instead, weight: found.weight })
}

fn masses(half: &Half, trials: &mut Vec<Trial>) {
    let value = half.amount.number.value;
    let Some(unit) = half.unit() else { return };
    let anew = |value: f64| Some(format!("{} {}", short(value), unit.many));
    trials.push(Trial { factor: 0.1, weight: 3.0, why: "a nought too many, or a point left out", instead: anew(value / 10.0) });
    trials.push(Trial { factor: 10.0, weight: 3.0, why: "a nought missing, or a point too many", instead: anew(value * 10.0) });
    if unit.id == "gram" {
        trials.push(Trial {
            factor: 28.349_523_125,
            weight: 3.0,
            why: "the figure fits ounces, not grams",
            instead: Some(format!("{} oz", short(value))),
        });
    }
    if unit.id == "ounce" {
        trials.push(Trial {
            factor: 1.0 / 28.349_523_125,
            weight: 3.0,
            why: "the figure fits grams, not ounces",
            instead: Some(format!("{} g", short(value))),
        });
        trials.push(Trial {
            factor: 16.0,
            weight: 2.5,
            why: "the figure fits pounds, not ounces",
            instead: Some(format!("{} lb", short(value))),
        });
    }
    digits(value, trials, anew);
    halves(value, trials, anew);
}

/// A volume whose millilitres were written as grams.
fn millilitres(half: &Half, other: &Half) -> Option<Trial> {
    let (grams, beside) = (half.amount.number.value, other.unit()?);
    let volume = other.amount.number.value * beside.size;
    let same = half.unit()?.id == "gram" && beside.family == Family::Volume && (grams / volume - 1.0).abs() <= 0.03;
    let factor = (other.low() + other.high()) / 2.0 / grams;
    same.then(|| Trial {
        factor,
        weight: 3.2,
        why: "the figure fits millilitres, not grams",
        instead: Some(format!("{} ml", short(grams))),
    })
}

/// Digits exchanged, or one of them mistyped.
fn digits(value: f64, trials: &mut Vec<Trial>, anew: impl Fn(f64) -> Option<String>) {
    if value.fract() != 0.0 || !(10.0..100_000.0).contains(&value) {
        return;
    }
    let digits: Vec<u32> = short(value).chars().filter_map(|c| c.to_digit(10)).collect();
    let number = |digits: &[u32]| digits.iter().fold(0.0, |sum, digit| sum * 10.0 + f64::from(*digit));
    for at in 0..digits.len() - 1 {
        let mut other = digits.clone();
        other.swap(at, at + 1);
        let exchanged = number(&other);
        if exchanged > 0.0 && exchanged != value {
            trials.push(Trial { factor: exchanged / value, weight: 2.5, why: "two digits may be exchanged", instead: anew(exchanged) });
        }
    }
    // Of a round figure any first digit would do: that explains nothing.
    let is_round = digits[1..].iter().all(|digit| *digit == 0);
    for digit in (1..10).filter(|_| !is_round) {
        let mut other = digits.clone();
        other[0] = digit;
        let typed = number(&other);
        if typed != value {
            // A neighbour on the keys is the likelier slip.
            let weight = if digit.abs_diff(digits[0]) == 1 { 1.1 } else { 1.0 };
            trials.push(Trial { factor: typed / value, weight, why: "its first digit may be mistyped", instead: anew(typed) });
        }
    }
}

fn halves(value: f64, trials: &mut Vec<Trial>, anew: impl Fn(f64) -> Option<String>) {
    trials.push(Trial { factor: 0.5, weight: 1.2, why: "it fits twice the amount beside it", instead: anew(value / 2.0) });
    trials.push(Trial { factor: 2.0, weight: 1.2, why: "it fits half the amount beside it", instead: anew(value * 2.0) });
}

/// The same word in another country: its tablespoon of 20 ml, its pint of 568. Beside millilitres that is plain to see.
fn countries(half: &Half, other: &Half, trials: &mut Vec<Trial>) {
    let value = half.amount.number.value;
    let Some(unit) = half.unit().filter(|unit| !unit.national.is_empty()) else { return };
    let beside = other.unit().filter(|beside| beside.family == Family::Volume).map(|beside| beside.size * other.amount.number.value);
    for foreign in UNITS.iter().filter(|foreign| foreign.national == unit.national && (foreign.size / unit.size - 1.0).abs() > 0.03) {
        let is_plain = beside.is_some_and(|beside| (beside / (foreign.size * value) - 1.0).abs() <= 0.015);
        let Some(name) = foreign.words.get(usize::from(value > 1.0)).or(foreign.words.first()) else { continue };
        trials.push(Trial {
            factor: foreign.size / unit.size,
            weight: if is_plain { 3.6 } else { 2.0 },
            why: "the figure fits the measures of another country",
            instead: Some(format!("{} {}", written_number(half), of_country(name))),
        });
    }
}

/// The number as it was written, "1/2".
fn written_number(half: &Half) -> String {
    let end = half.text.find(|c: char| c.is_alphabetic()).unwrap_or(half.text.len());
    half.text[..end].trim().to_owned()
}

/// "US pint", "Australian tablespoon", but "metric cup".
fn of_country(name: &str) -> String {
    match name.split_once(' ') {
        Some(("us", rest)) => format!("US {rest}"),
        Some(("metric" | "imperial", _)) => name.to_owned(),
        _ => upper_first(name),
    }
}

fn volumes(half: &Half, trials: &mut Vec<Trial>) {
    let value = half.amount.number.value;
    let Some(unit) = half.unit() else { return };
    let anew = |value: f64| Some(Quantity::in_unit(Span::exact(Factor::times(value)), unit).text.to_string());
    let word = |word: &str| Some(format!("{} {word}", short(value)));
    if unit.id.ends_with("teaspoon") {
        trials.push(Trial { factor: 3.0, weight: 3.0, why: "the figure fits tablespoons, not teaspoons", instead: word("tbsp") });
    } else if unit.id.ends_with("tablespoon") {
        trials.push(Trial { factor: 1.0 / 3.0, weight: 3.0, why: "the figure fits teaspoons, not tablespoons", instead: word("tsp") });
        trials.push(Trial { factor: 16.0, weight: 2.0, why: "the figure fits cups, not tablespoons", instead: word("cups") });
    } else if unit.id.ends_with("cup") {
        trials.push(Trial { factor: 1.0 / 16.0, weight: 2.0, why: "the figure fits tablespoons, not cups", instead: word("tbsp") });
    } else if unit.size <= 1.0 {
        trials.push(Trial { factor: 0.1, weight: 3.0, why: "a nought too many", instead: anew(value / 10.0) });
        trials.push(Trial { factor: 10.0, weight: 3.0, why: "a nought missing", instead: anew(value * 10.0) });
        digits(value, trials, anew);
    }
    if value.fract() != 0.0 || value >= 1.0 {
        trials.push(Trial {
            factor: (value + 1.0) / value,
            weight: 1.0,
            why: "a whole one may be missing before it",
            instead: anew(value + 1.0),
        });
    }
    if value > 1.0 {
        trials.push(Trial {
            factor: (value - 1.0) / value,
            weight: 1.0,
            why: "there may be a whole one too many",
            instead: anew(value - 1.0),
        });
    }
    halves(value, trials, anew);
}

fn counts(half: &Half, trials: &mut Vec<Trial>) {
    let value = half.amount.number.value;
    let word = match &half.amount.counting {
        Counting::Size(size) => size.class.to_owned(),
        Counting::Unit(unit) => unit.many.to_owned(),
        Counting::Named(word) => (**word).to_owned(),
        _ => String::new(),
    };
    let anew = |value: f64| Some(format!("{} {word}", short(value)).trim_end().to_owned());
    for count in 1..=12 {
        let count = f64::from(count);
        if count != value {
            let weight = if (count - value).abs() == 1.0 { 1.1 } else { 0.9 };
            trials.push(Trial { factor: count / value, weight, why: "the weight beside it fits another number", instead: anew(count) });
        }
    }
}
