//! Degrees without their scale: "at 425", "350° 40 min". So many are those of Fahrenheit; of fewer nobody can say.

use super::baked::end_of_number;
use super::time::time;

/// From so many degrees without a scale they are those of Fahrenheit. Common practice, no source.
const SURELY_FAHRENHEIT: u16 = 325;

/// "180 and 200 without a scale are taken as Celsius".
pub fn taken_as(scale: &str, figures: &[&str]) -> String {
    let are = if figures.len() == 1 { "is" } else { "are" };
    format!("{} without a scale {are} taken as {scale}", figures.join(" and "))
}

pub(super) fn taken_as_fahrenheit(figures: &[&str]) -> String {
    taken_as("Fahrenheit", figures) + ": so many degrees Celsius no oven for cakes has"
}

/// The degrees without a scale that may be those of Celsius: no oven for cakes is set lower, and few higher. Common practice, no source.
const MAYBE_CELSIUS: std::ops::RangeInclusive<u16> = 100..=260;

/// A line with the scale of Celsius behind every degree that has none, and those degrees; nothing where none of them may be Celsius.
pub fn in_celsius(line: &str) -> Option<(String, Vec<&str>)> {
    let lower = line.to_ascii_lowercase();
    let (mut scaled, mut figures, mut done) = (String::with_capacity(line.len() + 8), Vec::new(), 0);
    for at in places(&lower) {
        let end = end_of_number(&lower, at);
        let mark = lower[end..].chars().next().filter(|c| DEGREE.contains(c)).map_or(0, char::len_utf8);
        let behind = lower[end + mark..].trim_start();
        let has_one = behind.strip_prefix(['c', 'f']).is_some_and(|rest| !rest.starts_with(char::is_alphabetic));
        if has_one || behind.starts_with("to ") || !lower[at..at + 3].parse().is_ok_and(|degrees| MAYBE_CELSIUS.contains(&degrees)) {
            continue;
        }
        scaled.extend([&line[done..end + mark], " C"]);
        figures.push(&line[at..end]);
        done = end + mark;
    }
    scaled.push_str(&line[done..]);
    (!figures.is_empty()).then_some((scaled, figures))
}

/// How the mark of a degree is typed.
pub(super) const DEGREE: [char; 3] = ['°', 'º', '˚'];

/// "350" alone, and neither "325-350" nor "350/180", is no setting in Celsius.
pub(super) fn is_fahrenheit(lower: &str, figure: &str) -> bool {
    let behind = lower.find(figure).map_or("", |at| lower[at + figure.len()..].trim_start_matches(DEGREE).trim_start());
    figure.parse().is_ok_and(|degrees: u16| degrees >= SURELY_FAHRENHEIT)
        && !behind.starts_with(['-', '–', '/'])
        && !behind.starts_with("to ")
}

/// "at 425", "to 350", "350°": a setting without its scale.
pub(super) fn bare_degrees(lower: &str) -> Option<&str> {
    place(lower).map(|at| &lower[at..at + 3])
}

/// All settings without a scale, one behind the other.
pub(super) fn all_bare_degrees(lower: &str) -> Vec<&str> {
    places(lower).map(|at| &lower[at..at + 3]).collect()
}

fn places(lower: &str) -> impl Iterator<Item = usize> {
    let next = |from: usize| place(&lower[from..]).map(|at| from + at);
    std::iter::successors(next(0), move |at| next(at + 3))
}

fn place(lower: &str) -> Option<usize> {
    // "then 100 min" is a time.
    let timed = |at: usize| time(&lower[at..]).is_some_and(|time| time.from == 0);
    let three = |at: &usize| lower[*at..].bytes().take_while(u8::is_ascii_digit).count() == 3 && !timed(*at);
    let marked = lower.find(DEGREE).and_then(|at| at.checked_sub(3)).filter(|at| lower.is_char_boundary(*at) && three(at));
    let spoken = ["at ", "@ ", "to ", "oven ", "oven: ", "then ", "bake "].iter().filter_map(|word| Some(lower.find(word)? + word.len()));
    // "160 fan, 25 min".
    let fan = lower.find(" fan").and_then(|at| at.checked_sub(3)).filter(|at| lower.is_char_boundary(*at) && three(at));
    // "350 for 30 min", "350, 55-60 min".
    let first = Some(0).filter(|at| three(at) && [" for ", ", "].iter().any(|mark| lower[3..].starts_with(mark)) && time(lower).is_some());
    marked.or(first).or_else(|| spoken.into_iter().find(three)).or(fan)
}
