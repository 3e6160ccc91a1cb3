//! Numbers as people write them: "1 1/2", "1½", "1⁄2", "2-3", "2 to 3", "1,5". What has two readings is refused with both.

use super::code::Code;
use super::fault::Fault;
use super::measure::Factor;
use super::plainly::plainly;
use super::pointer::Pointer;
use super::span::Span;

/// A number as written: one value, or a range with its middle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Number {
    pub low: f64,
    pub value: f64,
    pub high: f64,
}

impl Number {
    pub const fn exact(value: f64) -> Self {
        Self { low: value, value, high: value }
    }

    pub fn is_exact(&self) -> bool {
        self.low == self.high
    }

    pub fn span(&self) -> Span<Factor> {
        Span::new(Factor::times(self.low), Factor::times(self.value), Factor::times(self.high))
    }

    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        Self { low: self.low * factor, value: self.value * factor, high: self.high * factor }
    }
}

/// The largest and the smallest figure any question may hold, where it is not nothing.
pub const LARGEST: f64 = 1e9;
pub const SMALLEST: f64 = 1e-6;

/// Reads the number at the start of a text; gives it and what stands behind it. `Ok(None)` when the text does not begin with a number.
pub fn read_number<'t>(text: &'t str, at: &Pointer<'_>) -> Result<Option<(Number, &'t str)>, Fault> {
    let text = text.trim_start();
    match plainly(text) {
        Some((figure, rest)) => Ok(Some((Number::exact(figure), rest))),
        None => any_number(text, at),
    }
}

fn any_number<'t>(text: &'t str, at: &Pointer<'_>) -> Result<Option<(Number, &'t str)>, Fault> {
    if let Some((low, high, rest)) = fraction(text).filter(|(low, high, _)| is_a_range(*low, *high)) {
        return bounded(Number { low, value: f64::midpoint(low, high), high }, at).map(|range| Some((range, rest)));
    }
    let Some((first, rest)) = single(text, at)? else { return Ok(None) };
    if let Some(behind) = range_mark(rest)
        && let Some((second, rest)) = single(behind, at)?
    {
        if second < first {
            return Err(Fault::new(at, Code::UnreadableAmount, text, "a range from the smaller to the larger figure")
                .saying("Write the smaller figure first"));
        }
        let range = Number { low: first, value: (first + second) / 2.0, high: second };
        return bounded(range, at).map(|range| Some((range, rest)));
    }
    bounded(Number::exact(first), at).map(|number| Some((number, rest)))
}

pub(super) fn bounded(number: Number, at: &Pointer<'_>) -> Result<Number, Fault> {
    let fits = |x: f64| x == 0.0 || (SMALLEST..=LARGEST).contains(&x.abs());
    if fits(number.low) && fits(number.high) {
        return Ok(number);
    }
    let found = if number.high.abs() > LARGEST { "a figure too large" } else { "a figure below the smallest amount" };
    Err(Fault::new(at, Code::OutOfRange, found, "0, or a figure from 0.000001 to 1000000000"))
}

/// "200/250 g" are from 200 to 250: nobody divides by such a figure. "15/16" is a fraction.
fn is_a_range(low: f64, high: f64) -> bool {
    const BELOW: [f64; 6] = [12.0, 16.0, 32.0, 64.0, 100.0, 1000.0];
    low >= 10.0 && high > low && !BELOW.contains(&high)
}

/// "to", a hyphen or a dash between two figures.
fn range_mark(rest: &str) -> Option<&str> {
    let rest = rest.trim_start();
    ["-", "–", "—", "to ", "or ", "à "].iter().find_map(|mark| rest.strip_prefix(mark)).map(str::trim_start)
}

/// One figure: a whole, a decimal, a fraction, or a whole with a fraction.
fn single<'t>(text: &'t str, at: &Pointer<'_>) -> Result<Option<(f64, &'t str)>, Fault> {
    if let Some((sign, rest)) = signed(text) {
        return match single(rest, at)? {
            Some((value, rest)) => Ok(Some((sign * value, rest))),
            None => Ok(None),
        };
    }
    let mut letters = text.chars();
    if let Some(part) = letters.next().and_then(vulgar) {
        return Ok(Some((part, letters.as_str())));
    }
    let Some((whole, rest, plain_digits)) = decimal(text, at)? else { return Ok(None) };
    if !plain_digits {
        return Ok(Some((whole, rest)));
    }
    if let Some((below, rest)) = slash(rest) {
        return divided(whole, below, text, at).map(|value| Some((value, rest)));
    }
    Ok(Some(mixed(whole, rest, text, at)?))
}

fn signed(text: &str) -> Option<(f64, &str)> {
    let rest = text.strip_prefix('-').or_else(|| text.strip_prefix('−'))?;
    rest.starts_with(|c: char| c.is_ascii_digit() || c == '.').then_some((-1.0, rest))
}

/// A whole followed by a fraction: "1 1/2", "1½", "1 and ½", "1-1/2".
fn mixed<'t>(whole: f64, rest: &'t str, text: &str, at: &Pointer<'_>) -> Result<(f64, &'t str), Fault> {
    let behind = rest.trim_start();
    let behind = behind.strip_prefix("and ").or_else(|| behind.strip_prefix("& ")).map_or(behind, str::trim_start);
    let mut letters = behind.chars();
    if let Some(part) = letters.next().and_then(vulgar) {
        return Ok((whole + part, letters.as_str()));
    }
    // "1-½".
    if let Some(part) = behind.strip_prefix('-').and_then(|tail| tail.chars().next()).and_then(vulgar) {
        return Ok((whole + part, behind.trim_start_matches('-').strip_prefix(|c: char| vulgar(c).is_some()).unwrap_or_default()));
    }
    let hyphenated = behind.strip_prefix('-').filter(|tail| fraction(tail).is_some_and(|(above, ..)| above < 10.0));
    if let Some((above, below, rest)) = fraction(hyphenated.unwrap_or(behind))
        && above < below
    {
        return divided(above, below, text, at).map(|part| (whole + part, rest));
    }
    Ok((whole, rest))
}

fn divided(above: f64, below: f64, text: &str, at: &Pointer<'_>) -> Result<f64, Fault> {
    if below == 0.0 {
        return Err(Fault::new(at, Code::UnreadableAmount, text, "a fraction over a number above 0"));
    }
    Ok(above / below)
}

fn fraction(text: &str) -> Option<(f64, f64, &str)> {
    let (above, rest) = digits(text)?;
    let (below, rest) = slash(rest)?;
    Some((above, below, rest))
}

fn slash(text: &str) -> Option<(f64, &str)> {
    let rest = text.trim_start();
    let rest = rest.strip_prefix('/').or_else(|| rest.strip_prefix('⁄')).or_else(|| rest.strip_prefix('∕'))?;
    digits(rest.trim_start())
}

fn digits(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    (1..=15).contains(&end).then(|| (text[..end].parse().unwrap_or(f64::INFINITY), &text[end..]))
}

/// A decimal; tells also whether it was digits only, so that a fraction may follow.
fn decimal<'t>(text: &'t str, at: &Pointer<'_>) -> Result<Option<(f64, &'t str, bool)>, Fault> {
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',').unwrap_or(text.len());
    let written = text[..end].trim_end_matches(['.', ',']);
    let rest = &text[written.len()..];
    if !written.contains(|c: char| c.is_ascii_digit()) {
        return Ok(None);
    }
    if written.len() > 30 {
        return Err(Fault::new(at, Code::OutOfRange, written, "at most 30 digits"));
    }
    let (points, commas) = (written.matches('.').count(), written.matches(',').count());
    let value = match (points, commas) {
        (_, 0) if points <= 1 => written.parse().ok(),
        (0, 1) => comma(written, at)?,
        _ => None,
    };
    let Some(value) = value else { return Err(two_readings(written, at)) };
    let (value, rest) = exponent(value, rest, at)?;
    Ok(Some((value, rest, points + commas == 0)))
}

/// "1e3" is a number where a machine wrote it; "1 egg" is none. An exponent must follow at once and end in digits.
fn exponent<'t>(value: f64, rest: &'t str, at: &Pointer<'_>) -> Result<(f64, &'t str), Fault> {
    let Some(tail) = rest.strip_prefix(['e', 'E']) else { return Ok((value, rest)) };
    let unsigned = tail.strip_prefix(['-', '+']).unwrap_or(tail);
    let Some((power, behind)) = digits(unsigned) else { return Ok((value, rest)) };
    if power > 300.0 {
        return Err(Fault::new(at, Code::OutOfRange, "a figure too large or too small", "0, or a figure from 0.000001 to 1000000000"));
    }
    let power = if tail.starts_with('-') { -power } else { power };
    Ok((value * libm::pow(10.0, power), behind))
}

/// A decimal comma: "2,5". Before exactly three digits it may part thousands; only "0,125" cannot.
fn comma(written: &str, at: &Pointer<'_>) -> Result<Option<f64>, Fault> {
    let (whole, decimals) = written.split_once(',').unwrap_or((written, ""));
    if decimals.len() == 3 && whole != "0" && !whole.is_empty() {
        return Err(two_readings(written, at));
    }
    Ok(format!("{whole}.{decimals}").parse().ok())
}

#[cold]
fn two_readings(written: &str, at: &Pointer<'_>) -> Fault {
    let tries = readings(written);
    let mend = match &*tries {
        [] => "Write digits, and one point at most, before the decimals".to_owned(),
        [only] => format!("Write it as {only}: nothing between thousands, and a point before decimals"),
        several => format!("{written} may mean {}; write the one you mean, without a comma", several.join(" or ")),
    };
    Fault::new(at, Code::AmbiguousNumber, written, "digits with at most one decimal point").saying(mend).trying(tries)
}

/// What digits with points and commas between them can mean. Of two signs the last one stands before the decimals: 1.000,5 is 1000.5 and never 10005; one sign
/// again and again parts thousands; a single one does either.
fn readings(written: &str) -> Vec<String> {
    let groups: Vec<&str> = written.split(['.', ',']).collect();
    let marks: Vec<char> = written.chars().filter(|c| matches!(c, '.' | ',')).collect();
    let [first, .., last] = &*groups else { return Vec::new() };
    let in_threes = |groups: &[&str]| (1..=3).contains(&first.len()) && groups.iter().skip(1).all(|group| group.len() == 3);
    let alike = |marks: &[char]| marks.windows(2).all(|pair| pair[0] == pair[1]);
    let (before, mark) = (&groups[..groups.len() - 1], &marks[..marks.len() - 1]);
    let mut readings = Vec::new();
    if in_threes(&groups) && alike(&marks) {
        readings.push(groups.concat());
    }
    let apart = mark.iter().all(|mark| Some(mark) != marks.last());
    if !last.is_empty() && !first.is_empty() && in_threes(before) && alike(mark) && apart {
        readings.push(format!("{}.{last}", before.concat()));
    }
    readings
}

/// The fractions that have a character of their own.
fn vulgar(letter: char) -> Option<f64> {
    let (above, below) = match letter {
        '¼' => (1, 4),
        '½' => (1, 2),
        '¾' => (3, 4),
        '⅐' => (1, 7),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    Some(f64::from(above) / f64::from(below))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn means(text: &str, value: f64, rest: &str) {
        let read = read_number(text, &Pointer::ROOT).ok().flatten();
        assert_eq!(read.map(|(n, r)| (n.value, r.trim())), Some((value, rest)), "{text}");
    }

    #[track_caller]
    fn refused(text: &str, code: Code) {
        assert_eq!(read_number(text, &Pointer::ROOT).map_err(|fault| fault.code), Err(code), "{text}");
    }

    #[test]
    fn one_and_a_half_has_many_spellings() {
        for text in ["1.5", "1,5", "1 1/2", "1½", "1 ½", "1-½", "1 1⁄2", "1 and 1/2", "1-1/2", "3/2", "1 and ½"] {
            means(text, 1.5, "");
        }
        means("½ cup", 0.5, "cup");
        means(".5 oz", 0.5, "oz");
        means("0,125", 0.125, "");
    }

    #[test]
    fn a_range_has_two_ends_and_a_middle() {
        for text in ["2-3 Tbsp", "2 to 3 Tbsp", "2–3 Tbsp", "2 - 3 Tbsp"] {
            let read = read_number(text, &Pointer::ROOT).ok().flatten();
            assert_eq!(read.map(|(n, r)| (n.low, n.value, n.high, r.trim())), Some((2.0, 2.5, 3.0, "Tbsp")), "{text}");
        }
    }

    #[test]
    fn a_stroke_between_figures_by_which_nobody_divides_is_a_range() {
        for (text, low, high) in [("200/250 g", 200.0, 250.0), ("20/25 g", 20.0, 25.0), ("12/15", 12.0, 15.0)] {
            let read = read_number(text, &Pointer::ROOT).ok().flatten();
            assert_eq!(read.map(|(n, _)| (n.low, n.high)), Some((low, high)), "{text}");
        }
        for (text, value) in [("15/16 in", 15.0 / 16.0), ("3/4", 0.75), ("10/12", 10.0 / 12.0), ("33/100", 0.33)] {
            let read = read_number(text, &Pointer::ROOT).ok().flatten();
            assert_eq!(read.map(|(n, _)| n.value), Some(value), "{text}");
        }
    }

    #[test]
    fn what_has_two_readings_is_refused_with_both() {
        for text in ["1,500", "1.000,5", "1,500.5", "12,345"] {
            refused(text, Code::AmbiguousNumber);
        }
    }

    #[test]
    fn what_may_be_tried_is_never_ten_times_what_was_meant() {
        for (text, tries) in [
            ("1,500", &["1500", "1.500"][..]),
            ("1.000,5", &["1000.5"]),
            ("1,234.5", &["1234.5"]),
            ("1.234,567", &["1234.567"]),
            ("1,234,567", &["1234567"]),
            ("1.234.567", &["1234567"]),
            ("1.234.567,8", &["1234567.8"]),
            ("1.5.2", &[]),
            ("1,5,2", &[]),
            ("12,34.5", &[]),
            ("1.234,567,8", &[]),
        ] {
            let fault = read_number(text, &Pointer::ROOT).expect_err(text);
            assert_eq!(
                (fault.code, &*fault.attempts),
                (Code::AmbiguousNumber, &*tries.iter().map(|t| (*t).to_owned()).collect::<Vec<_>>()),
                "{text}"
            );
        }
    }

    #[test]
    fn numbers_of_no_kitchen_are_refused() {
        for text in ["1e308", "5e-324", "1e999999999", "9999999999", &"9".repeat(200)] {
            refused(text, Code::OutOfRange);
        }
        refused("1/0", Code::UnreadableAmount);
    }

    #[test]
    fn the_short_way_reads_what_the_long_way_reads() {
        let behind = [
            "",
            " ",
            "g",
            " g",
            " eggs",
            "eggs",
            " tbsp",
            " to 3 cups",
            "to 3",
            " or 4",
            " and 1/2 cup",
            " andouille",
            " oz",
            "e3",
            ".5 g",
            ",5",
            "/2",
            " 1/2",
            "/2 cup",
            "/0 cup",
            "/1000 cup",
            " 1/2 cups",
            " 3/2 cups",
            " 1/2 to 2 cups",
            ".25 tsp",
            ".1 eggs",
            ".000001 g",
            ".0000001 g",
            ".1234567 g",
            ".5e3 g",
            "½",
            "  g",
            " total",
        ];
        for whole in ["0", "7", "007", "400", "999999999", "1234567890"] {
            for behind in behind {
                let text = format!("{whole}{behind}");
                assert_eq!(read_number(&text, &Pointer::ROOT), any_number(&text, &Pointer::ROOT), "{text}");
            }
        }
    }

    #[test]
    fn a_text_without_a_number_is_not_a_number() {
        assert_eq!(read_number("pinch", &Pointer::ROOT), Ok(None));
        assert_eq!(read_number("NaN", &Pointer::ROOT), Ok(None));
        means("1 egg", 1.0, "egg");
    }
}
