//! Numbers in words: "one-half", "two and a half", "half a". They stand apart from the digits because "a" is a number only where something is counted.

use super::number::read_number;
use super::pointer::Pointer;

/// Reads a number in words at the start of a text; gives it and what stands behind it.
pub(crate) fn word_number(text: &str) -> Option<(f64, &str)> {
    let (word, rest) = word(text)?;
    if let Some(rest) = couple(word, rest) {
        return Some((2.0, rest));
    }
    if word.eq_ignore_ascii_case("half") || word.eq_ignore_ascii_case("quarter") {
        let value = if word.eq_ignore_ascii_case("half") { 0.5 } else { 0.25 };
        return Some((value, of_a(rest)));
    }
    let whole = ones(word)?;
    if let Some((part, behind)) = part(rest) {
        return Some((whole * part, of_a(behind)));
    }
    Some(with_part(whole, rest))
}

/// "A couple of eggs", "couple pinches": two.
fn couple<'t>(first: &str, rest: &'t str) -> Option<&'t str> {
    let is = |word: &str| word.eq_ignore_ascii_case("couple");
    let behind = if is(first) {
        Some(rest)
    } else {
        word(rest).filter(|(second, _)| first.eq_ignore_ascii_case("a") && is(second)).map(|(_, rest)| rest)
    };
    behind.map(|rest| strip_ignoring_case(rest.trim_start(), "of ").unwrap_or(rest))
}

/// "and a half", "and one-half" behind a whole number.
pub(crate) fn with_part(whole: f64, rest: &str) -> (f64, &str) {
    let more = || {
        let behind = strip_ignoring_case(rest.trim_start_matches([' ', '-', '‐', '‑']), "and")
            .filter(|rest| !rest.starts_with(char::is_alphabetic))?;
        // "one and 1/2".
        if let Ok(Some((number, after))) = read_number(behind.trim_start(), &Pointer::ROOT)
            && number.is_exact()
            && number.value < 1.0
        {
            return Some((whole + number.value, after));
        }
        let (count, behind) = word(behind)?;
        let (part, behind) = part(behind)?;
        Some((whole + ones(count)? * part, of_a(behind)))
    };
    more().unwrap_or((whole, rest))
}

/// "½ of a lemon", "half an orange": the article belongs to the number.
pub(crate) fn of_a(rest: &str) -> &str {
    let trimmed = rest.trim_start();
    ["of a ", "of an ", "of one ", "a ", "an "].iter().find_map(|article| strip_ignoring_case(trimmed, article)).unwrap_or(rest)
}

/// What stands behind an opening, whatever its case.
pub(crate) fn strip_ignoring_case<'t>(text: &'t str, opening: &str) -> Option<&'t str> {
    let start = text.get(..opening.len())?;
    start.eq_ignore_ascii_case(opening).then(|| &text[opening.len()..])
}

fn word(text: &str) -> Option<(&str, &str)> {
    let text = text.trim_start();
    let text = text.strip_prefix(['-', '‐', '‑']).unwrap_or(text);
    let end = text.find(|c: char| !c.is_alphabetic()).unwrap_or(text.len());
    (end > 0).then(|| (&text[..end], &text[end..]))
}

fn ones(word: &str) -> Option<f64> {
    const ONES: &[&str] = &["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    if word.eq_ignore_ascii_case("a") || word.eq_ignore_ascii_case("an") {
        return Some(1.0);
    }
    ONES.iter().position(|known| word.eq_ignore_ascii_case(known)).map(|at| (at + 1) as f64)
}

fn part(text: &str) -> Option<(f64, &str)> {
    let (word, rest) = word(text)?;
    let below = match word.to_ascii_lowercase().as_str() {
        "half" | "halves" => 2.0,
        "third" | "thirds" => 3.0,
        "quarter" | "quarters" | "fourth" | "fourths" => 4.0,
        "eighth" | "eighths" => 8.0,
        _ => return None,
    };
    Some((1.0 / below, rest))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_may_be_written_in_words() {
        for (text, value, rest) in [
            ("one-half lemon", 0.5, "lemon"),
            ("half an orange", 0.5, "orange"),
            ("Two eggs", 2.0, "eggs"),
            ("one and one-half cups", 1.5, "cups"),
            ("two and a half cups", 2.5, "cups"),
            ("three-quarters cup", 0.75, "cup"),
            ("a banana", 1.0, "banana"),
            ("one and 1/2 cups", 1.5, "cups"),
            ("a couple of eggs", 2.0, "eggs"),
            ("Couple pinches salt", 2.0, "pinches salt"),
        ] {
            assert_eq!(word_number(text).map(|(n, rest)| (n, rest.trim())), Some((value, rest)), "{text}");
        }
        assert_eq!(word_number("almonds"), None);
    }
}
