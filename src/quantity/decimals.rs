//! Figures in decimals, for people: with so many of them, without idle zeros, ties away from nothing.

use std::fmt::Write;

use smol_str::{SmolStr, SmolStrBuilder};

use super::figure::{POWERS, places_of};

/// A figure with at most so many decimals, for a sentence.
pub fn decimals(value: f64, places: usize) -> SmolStr {
    let mut text = SmolStrBuilder::new();
    write_decimals(&mut text, value, places);
    text.finish()
}

/// A figure with so many decimals, without idle zeros and never minus zero.
pub(super) fn write_decimals(text: &mut impl Write, value: f64, places: usize) {
    // Whole numbers are written far quicker than decimal ones.
    let Some(digits) = digits(value, places) else { return put(text, &slow_decimals(value, places)) };
    if digits < 0 {
        put(text, "-");
    }
    let mut digits = digits.unsigned_abs();
    let mut places = places;
    while places > 0 && digits.is_multiple_of(10) {
        digits /= 10;
        places -= 1;
    }
    let mut buffer = itoa::Buffer::new();
    if places == 0 {
        return put(text, buffer.format(digits));
    }
    let one = POWERS[places] as u64;
    put(text, buffer.format(digits / one));
    let behind = buffer.format(digits % one);
    put(text, &".00000000"[..1 + places - behind.len()]);
    put(text, behind);
}

/// All digits of a figure with so many decimals, as one whole number; nothing where it has too many.
pub(super) fn digits(value: f64, places: usize) -> Option<i64> {
    let power = if places <= MOST_PLACES { POWERS[places] } else { f64::INFINITY };
    let scaled = value.abs() * power;
    (scaled < 1e15).then(|| ((scaled + 0.5) as i64) * if value < 0.0 { -1 } else { 1 })
}

/// More decimals than these are written the slow way.
const MOST_PLACES: usize = 9;

pub(super) fn slow_decimals(value: f64, places: usize) -> String {
    let mut text = format!("{value:.places$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_owned() } else { text }
}

/// Behind what is there already: writing into memory cannot fail.
pub(super) fn put(text: &mut impl Write, more: &str) {
    text.write_str(more).unwrap_or_default();
}

pub(super) fn rounded(value: f64, places: usize) -> f64 {
    (value * POWERS[places]).round() / POWERS[places]
}

/// A factor or a weight in a sentence: four significant digits, no idle zeros. Nobody weighs closer; the figure beside it is exact.
pub fn in_words(figure: f64) -> SmolStr {
    match usize::try_from(places_of(figure, 4)) {
        Ok(places) if places <= MOST_PLACES => decimals(figure, places),
        _ => short(figure),
    }
}

/// A figure for the working: six significant digits, no idle zeros.
pub fn short(figure: f64) -> SmolStr {
    let figure = figure + 0.0; // Nothing has no sign.
    match usize::try_from(places_of(figure, 6)) {
        Ok(places) if places <= MOST_PLACES => decimals(figure, places),
        _ => {
            let rounded: f64 = format!("{figure:.5e}").parse().unwrap_or(figure);
            SmolStr::from(rounded.to_string())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_factor_in_a_sentence_has_four_digits() {
        assert_eq!([1.171875, 0.399902, 21.6605, 2.5].map(in_words), ["1.172", "0.3999", "21.66", "2.5"]);
    }
}
