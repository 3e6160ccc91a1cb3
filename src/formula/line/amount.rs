//! The amount at the head of a text, which goes on: "1 3/4 cups (180 g) rye flour". The readers of `quantity` want the whole text to be one amount; this one gives back what stands behind.

use super::compound::{compound, multiplied};
use super::words::PACKS;
use crate::quantity::{
    Amount, Counting, Factor, Family, Fault, Measures, NEARLY, Number, Pointer, Size, Unit, of_a, read_number, strip_ignoring_case,
    with_part, word_number,
};
use crate::reference::{Filled, in_number, pieces};

/// An amount as read, and as it is written into a formula.
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    pub amount: Amount,
    pub text: String,
}

/// An amount at the head of a text.
#[derive(Clone, Debug)]
pub(super) struct Lead<'t> {
    pub measure: Measure,
    /// "scant", "heaping": the amount is not quite what it says.
    pub inexact: Option<&'static str>,
    /// "packed", before the unit.
    pub filled: Option<Filled>,
    /// What it is packed in, where the content is told: "2 x 400 g tins".
    pub pack: Option<&'static str>,
    /// "large", before a cup or a packet: how much is in such a one is not told.
    pub size: Option<Size>,
    pub rest: &'t str,
}

impl Measure {
    pub(super) fn family(&self) -> Family {
        match &self.amount.counting {
            Counting::Unit(unit) => unit.family,
            Counting::Disher(_) => Family::Volume,
            _ => Family::Count,
        }
    }

    pub fn is_mass(&self) -> bool {
        self.family() == Family::Mass
    }

    /// So many of this.
    pub fn times(&self, count: Factor) -> Self {
        let count = count.value();
        let number = &self.amount.number;
        let number = number.times(count);
        let word = match &self.amount.counting {
            Counting::Unit(unit) => unit.many,
            _ => "pieces",
        };
        Self { text: rendered(&number, word), amount: Amount { number, counting: self.amount.counting.clone() } }
    }
}

/// A number and a word, as an amount is read again.
pub(super) fn rendered(number: &Number, word: &str) -> String {
    let figure = if number.is_exact() { number.value.to_string() } else { format!("{}-{}", number.low, number.high) };
    if word.is_empty() { figure } else { format!("{figure} {word}") }
}

/// So many of a unit: the end of a range tells whether it is several.
pub(super) fn in_units(number: &Number, unit: &Unit) -> String {
    rendered(number, if number.high > 1.0 { unit.many } else { unit.one })
}

/// So many things by their word: "1 can", "3 cans".
pub(super) fn things(number: &Number, word: &str) -> String {
    rendered(number, &in_number(Factor::times(number.high), word))
}

/// What may stand around a number beside the words that only say that it is not exact, with what it tells of it.
const HEDGES: &[(&str, Option<&str>)] = &[
    ("level ", None),
    ("even ", None),
    ("full ", None),
    ("good ", Some("good")),
    ("scant ", Some("scant")),
    ("generous ", Some("generous")),
    ("heaping ", Some("heaping")),
    ("heaped ", Some("heaped")),
    ("rounded ", Some("rounded")),
    ("at least ", None),
    ("nearly ", Some("nearly")),
    ("barely ", Some("barely")),
    ("almost ", Some("almost")),
    ("up to ", Some("up to")),
];

const FILLED: &[(&str, Filled)] = &[
    ("firmly packed ", Filled::Packed),
    ("lightly packed ", Filled::Packed),
    ("well packed ", Filled::Packed),
    ("tightly packed ", Filled::Packed),
    ("packed ", Filled::Packed),
    ("sifted ", Filled::Sifted),
    ("spooned ", Filled::Spooned),
];

/// Reads the amount at the head of a text. `Ok(None)` when the text does not begin with one.
pub(super) fn lead<'t>(text: &'t str, measures: Measures) -> Result<Option<Lead<'t>>, Fault> {
    let (mut inexact, mut filled) = (None, None);
    let start = aside(without_article(text.trim_start()), &mut inexact, &mut filled);
    let Some((number, rest)) = number(start)? else { return Ok(None) };
    let behind = rest.trim_start();
    let rest = aside(counting_sign(rest), &mut inexact, &mut filled);
    let between = rest.len() < behind.len();
    if let Some(packs) = packs(&number, rest, measures)? {
        return Ok(Some(Lead { inexact, filled, ..packs }));
    }
    let mut lead = counted(start, number, rest, measures);
    if between {
        // The words between are told apart; the amount is written anew without them.
        lead.measure.text = plain_text(&lead.measure.amount);
    }
    compound(&mut lead, start, measures)?;
    multiplied(&mut lead, measures);
    Ok(Some(Lead { inexact, filled, ..lead }))
}

/// "6 x large eggs", "6x eggs": the sign before a thing says no more than the number.
fn counting_sign(rest: &str) -> &str {
    let behind = rest.trim_start().strip_prefix(['x', '×']).and_then(|behind| behind.strip_prefix(' '));
    behind.filter(|behind| behind.starts_with(char::is_alphabetic)).unwrap_or(rest)
}

pub(super) fn plain_text(amount: &Amount) -> String {
    match &amount.counting {
        Counting::Unit(unit) => in_units(&amount.number, unit),
        Counting::Size(size) => rendered(&amount.number, size.class),
        Counting::Named(word) => things(&amount.number, word),
        _ => rendered(&amount.number, ""),
    }
}

/// "a scant 1/2 cup" is no one and a half: the article belongs to the word before the number.
fn without_article(text: &str) -> &str {
    let rest = ["a ", "an "].iter().find_map(|article| strip_ignoring_case(text, article));
    let hedged = rest.filter(|rest| {
        let behind = unhedged(rest).map(|(behind, _)| behind);
        behind.is_some_and(|behind| behind.trim_start().starts_with(super::text::is_figure))
    });
    hedged.unwrap_or(text)
}

/// A text without the first such word, and what it tells.
fn unhedged(text: &str) -> Option<(&str, Option<&'static str>)> {
    let nearly = NEARLY.iter().find_map(|word| Some((strip_ignoring_case(text, word)?, None)));
    nearly.or_else(|| HEDGES.iter().find_map(|(word, hedge)| Some((strip_ignoring_case(text, word)?, *hedge))))
}

/// Takes words aside that stand around a number.
fn aside<'t>(mut text: &'t str, inexact: &mut Option<&'static str>, filled: &mut Option<Filled>) -> &'t str {
    loop {
        text = text.trim_start();
        if let Some((rest, hedge)) = unhedged(text) {
            *inexact = hedge.or(*inexact);
            text = rest;
        } else if let Some((rest, way)) = FILLED.iter().find_map(|(word, way)| Some((strip_ignoring_case(text, word)?, way)))
            && unit(rest, Measures::Us).is_some()
        {
            *filled = Some(*way);
            text = rest;
        } else {
            return text;
        }
    }
}

/// Whether a mass or a volume stands somewhere in a text.
pub fn is_measured_within(text: &str) -> bool {
    let starts = text.char_indices().filter(|(at, c)| super::text::is_figure(*c) && !text[..*at].ends_with(|c: char| c.is_alphanumeric()));
    starts.take(8).any(|(at, _)| {
        lead(&text[at..], Measures::Us).ok().flatten().is_some_and(|found| matches!(found.measure.family(), Family::Mass | Family::Volume))
    })
}

/// A number in digits or in words, above nothing.
pub(super) fn number(text: &str) -> Result<Option<(Number, &str)>, Fault> {
    if let Some((number, rest)) = read_number(text, &Pointer::ROOT)? {
        if number.value <= 0.0 || rest.trim_start().starts_with('%') || rest.starts_with('°') {
            return Ok(None);
        }
        let (value, rest) = if number.is_exact() { with_part(number.value, rest) } else { (number.value, rest) };
        let number = if number.is_exact() { Number::exact(value) } else { number };
        let rest = if number.value < 1.0 { of_a(rest) } else { rest };
        return Ok(Some((number, rest)));
    }
    let Some((value, rest)) = word_number(text) else { return Ok(None) };
    // "two or three", "two to three".
    let second = [" or ", " to "].iter().find_map(|mark| word_number(rest.strip_prefix(mark)?));
    Ok(Some(match second {
        Some((high, rest)) if high > value => (Number { low: value, value: f64::midpoint(value, high), high }, rest),
        _ => (Number::exact(value), rest),
    }))
}

/// "1 (14 oz) can", "2 x 400 g tins", "1 14-ounce can": so many of a pack whose content is told.
fn packs<'t>(number: &Number, rest: &'t str, measures: Measures) -> Result<Option<Lead<'t>>, Fault> {
    let bracketed = rest.strip_prefix('(').and_then(|inner| inner.split_once(')'));
    let times = rest.strip_prefix(['x', '×', '*']).filter(|behind| behind.trim_start().starts_with(|c: char| c.is_ascii_digit()));
    let (inner, behind) = match (bracketed, times) {
        (Some((inner, behind)), _) => (inner, Some(behind)),
        (None, Some(behind)) => (behind, None),
        (None, None) if rest.starts_with(|c: char| c.is_ascii_digit()) => (rest, None),
        _ => return Ok(None),
    };
    let Some((each, after)) = self::number(inner.trim_start())? else { return Ok(None) };
    let Some((unit, _, after)) = unit(after, measures) else { return Ok(None) };
    if !matches!(unit.family, Family::Mass | Family::Volume) || !number.is_exact() {
        return Ok(None);
    }
    // "(14 oz / 397 g)": the second says the same.
    let second = after.trim_start().strip_prefix(['/', ',', ';']).filter(|_| behind.is_some());
    let after = second.and_then(|second| lead(second, measures).ok().flatten()).map_or(after, |second| second.rest);
    let after = match behind {
        Some(behind) if after.trim().is_empty() => behind.trim_start(),
        Some(_) => return Ok(None),
        None => after.trim_start(),
    };
    let packed = pack(after)
        .map(|(word, after)| (Some(word), after))
        .or_else(|| self::unit(after, measures).filter(|(unit, ..)| unit.family == Family::Count).map(|(.., after)| (None, after)));
    let Some((pack, after)) = packed.or(times.map(|_| (None, after))) else { return Ok(None) };
    let one = Measure { amount: Amount { number: each, counting: Counting::Unit(unit) }, text: String::new() };
    Ok(Some(Lead { measure: one.times(Factor::times(number.value)), inexact: None, filled: None, size: None, pack, rest: after }))
}

/// "2 x 59 g": how many.
pub(super) fn times(line: &str) -> Option<Measure> {
    let (number, rest) = number(line.trim_start()).ok()??;
    let many = rest.trim_start().strip_prefix(['x', '×', '*']).is_some_and(|each| each.trim_start().starts_with(super::text::is_figure));
    many.then(|| Measure { text: rendered(&number, ""), amount: Amount { number, counting: Counting::Nothing } })
}

/// A thing in which an ingredient is bought: the table's word for it, and what stands behind.
pub(super) fn pack(text: &str) -> Option<(&'static str, &str)> {
    let text = text.trim_start();
    let end = text.find(|c: char| !c.is_alphabetic()).unwrap_or(text.len());
    let word = text[..end].to_lowercase();
    let rest = &text[end..];
    let of = |word: &str| PACKS.iter().find(|(known, _)| *known == word).map(|(_, table)| *table);
    let table = pieces(&word).find_map(of)?;
    Some((table, rest))
}

/// A pack with a name behind it: "1 half lemon" is part of one, "10 halves dried apricots" are counted.
fn named_pack(text: &str) -> Option<(&'static str, &str)> {
    let several = |word| word != "half" || text.trim_start().get(..6).is_some_and(|word| word.eq_ignore_ascii_case("halves"));
    pack(text).filter(|(word, behind)| several(*word) && !behind.trim().is_empty())
}

/// So many cups by a single letter are degrees.
const OVEN: f64 = 60.0;

/// What the number counts: a unit, a size, a pack, or the thing itself.
fn counted<'t>(start: &'t str, number: Number, rest: &'t str, measures: Measures) -> Lead<'t> {
    let sized = |counting, text, size, rest| Lead {
        measure: Measure { amount: Amount { number, counting }, text },
        inexact: None,
        filled: None,
        size,
        pack: None,
        rest,
    };
    let made = |counting, text, rest| sized(counting, text, None, rest);
    // "230C" is an oven, "2 C flour" are cups.
    let of_an_oven =
        number.value >= OVEN && rest.trim_start().starts_with(['C', 'c']) && !rest.trim_start()[1..].starts_with(char::is_alphabetic);
    if let Some((unit, word, behind)) = unit(rest, measures).filter(|_| !of_an_oven) {
        let consumed = start[..start.len() - behind.len()].trim();
        let digits = consumed.starts_with(|c: char| !c.is_alphabetic()) && !consumed.contains(" a ") && !rest.starts_with('-');
        let letter = word.trim_end_matches('.').len() < 2;
        let text = match (digits, letter) {
            (true, false) => consumed.to_owned(),
            (false, false) => rendered(&number, word),
            // A single letter may stand for what no ingredient is measured in ("2 C. flour"): the unit's own word is safe.
            (_, true) => {
                let figure = start[..start.len() - rest.len()].trim();
                let of_unit = if number.high > 1.0 { unit.many } else { unit.one };
                if figure.starts_with(|c: char| !c.is_alphabetic()) { format!("{figure} {of_unit}") } else { rendered(&number, of_unit) }
            }
        };
        return made(Counting::Unit(unit), text, behind);
    }
    if let Some((size, behind)) = size(rest) {
        let market = size.market.map_or(String::new(), |market| format!("{market} "));
        let of_size = |number: &Number| rendered(number, &format!("{market}{}", size.class));
        return match unit(behind, measures) {
            // "2 medium dozen eggs": the eggs are medium.
            Some((dozen, _, behind)) if dozen.id == "dozen" => {
                let number = number.times(dozen.size);
                Lead {
                    measure: Measure { amount: Amount { number, counting: Counting::Size(size) }, text: of_size(&number) },
                    ..made(Counting::Nothing, String::new(), behind)
                }
            }
            // "1 large pinch", "2 large tablespoons": the size is that of another unit.
            Some((unit, _, behind)) => sized(Counting::Unit(unit), rendered(&number, unit.one), Some(size), behind),
            None => match named_pack(behind) {
                // "1 small tin (170 g)": the size is that of the tin.
                Some((word, behind)) => sized(Counting::Named(word.into()), things(&number, word), Some(size), behind),
                None => made(Counting::Size(size), of_size(&number), behind),
            },
        };
    }
    if let Some((word, behind)) = named_pack(rest) {
        return made(Counting::Named(word.into()), things(&number, word), behind);
    }
    made(Counting::Nothing, rendered(&number, ""), rest)
}

/// The unit at the head of a text, of up to three words: it, its word, and what stands behind.
pub(super) fn unit(text: &str, measures: Measures) -> Option<(&'static Unit, &str, &str)> {
    let text = text.trim_start();
    let text = text.strip_prefix('-').filter(|rest| rest.starts_with(char::is_alphabetic)).unwrap_or(text);
    let mut ends = [0usize; 3];
    let (mut count, mut from) = (0, 0);
    while count < 3 {
        let word = &text[from..];
        let skip = if count == 0 { 0 } else { usize::from(word.starts_with(' ')) };
        if count > 0 && skip == 0 {
            break;
        }
        let word = &word[skip..];
        let end = word.find(|c: char| !c.is_alphabetic() && c != '.' && c != '#').unwrap_or(word.len());
        if end == 0 {
            break;
        }
        from += skip + end;
        ends[count] = from;
        count += 1;
    }
    ends[..count].iter().rev().find_map(|&end| {
        let word = &text[..end];
        let known = if word == "C" || word == "C." { Unit::of_word("c", measures) } else { Unit::of_word(word, measures) }?;
        let fits = matches!(known.family, Family::Mass | Family::Volume | Family::Count)
            && !matches!(known.id, "grain" | "go" | "sho" | "cubic-inch" | "each");
        // "2 whole eggs" counts eggs; "1-inch" is no amount.
        let joined = text[end..].strip_prefix('-').is_some_and(|behind| !behind.starts_with(|c: char| c.is_ascii_digit()));
        (fits && !joined).then(|| (known, word, &text[end..]))
    })
}

/// A size at the head of a text: "large", "EU medium", "extra-large".
fn size(text: &str) -> Option<(Size, &str)> {
    const MARKETS: &[(&str, &str)] = &[("us ", "us"), ("eu ", "eu"), ("uk ", "eu"), ("british ", "eu"), ("american ", "us")];
    const SIZES: &[(&str, &str)] = &[
        ("extra large ", "extra-large"),
        ("extra-large ", "extra-large"),
        ("very large ", "extra-large"),
        ("ex-large ", "extra-large"),
        ("ex. large ", "extra-large"),
        ("x-large ", "extra-large"),
        ("extra small ", "extra-small"),
        ("extra-small ", "extra-small"),
        ("xl ", "extra-large"),
        ("jumbo ", "jumbo"),
        ("large ", "large"),
        ("lg ", "large"),
        ("lge ", "large"),
        ("lge. ", "large"),
        ("lg. ", "large"),
        ("med. ", "medium"),
        ("sm. ", "small"),
        ("sm ", "small"),
        ("medium-sized ", "medium"),
        ("medium sized ", "medium"),
        ("medium ", "medium"),
        ("med ", "medium"),
        ("small ", "small"),
    ];
    let text = text.trim_start();
    let (market, rest) =
        MARKETS.iter().find_map(|(word, market)| Some((Some(*market), strip_ignoring_case(text, word)?))).unwrap_or((None, text));
    let found = SIZES.iter().find_map(|(word, class)| Some((Size { class, market }, strip_ignoring_case(rest, word)?)));
    // "3 free-range medium eggs": words that leave an egg as it is may stand between.
    found.or_else(|| {
        let rest = ["free-range ", "free range ", "organic ", "fresh "].iter().find_map(|word| strip_ignoring_case(rest, word))?;
        size(rest)
    })
}

#[cfg(test)]
mod tests;
