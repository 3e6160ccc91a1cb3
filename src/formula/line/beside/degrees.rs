//! Degrees without their scale: "at 425", "350° 40 min". So many are those of Fahrenheit; of fewer nobody can say.

use super::time::time;

/// From so many degrees without a scale they are those of Fahrenheit. Common practice, no source.
const SURELY_FAHRENHEIT: u16 = 325;

pub(super) fn taken_as_fahrenheit(figure: &str) -> String {
    format!("{figure} without a scale is taken as Fahrenheit: so many degrees Celsius no oven for cakes has")
}

/// "350" alone, and neither "325-350" nor "350/180", is no setting in Celsius.
pub(super) fn is_fahrenheit(lower: &str, figure: &str) -> bool {
    let behind = lower.find(figure).map_or("", |at| lower[at + figure.len()..].trim_start_matches(['°', 'º']).trim_start());
    figure.parse().is_ok_and(|degrees: u16| degrees >= SURELY_FAHRENHEIT)
        && !behind.starts_with(['-', '–', '/'])
        && !behind.starts_with("to ")
}

/// "at 425", "to 350", "350°": a setting without its scale.
pub(super) fn bare_degrees(lower: &str) -> Option<&str> {
    // "then 100 min" is a time.
    let timed = |at: usize| time(&lower[at..]).is_some_and(|time| time.from == 0);
    let three = |at: &usize| lower[*at..].bytes().take_while(u8::is_ascii_digit).count() == 3 && !timed(*at);
    let marked = lower.find(['°', 'º']).and_then(|at| at.checked_sub(3)).filter(|at| lower.is_char_boundary(*at) && three(at));
    let spoken = ["at ", "@ ", "to ", "oven ", "oven: ", "then ", "bake "].iter().filter_map(|word| Some(lower.find(word)? + word.len()));
    // "160 fan, 25 min".
    let fan = lower.find(" fan").and_then(|at| at.checked_sub(3)).filter(|at| lower.is_char_boundary(*at) && three(at));
    // "350 for 30 min", "350, 55-60 min".
    let first = Some(0).filter(|at| three(at) && [" for ", ", "].iter().any(|mark| lower[3..].starts_with(mark)) && time(lower).is_some());
    let at = marked.or_else(|| spoken.into_iter().find(three)).or(fan).or(first)?;
    Some(&lower[at..at + 3])
}
