//! The short way to a figure: most amounts are a few digits and a word, and need none of what the long way knows.

/// "400 g", "2/3 cup", "1 1/2 cups", "2.5 oz": a figure as nearly everyone writes it, and then a letter that cannot belong to it. The long way, which knows
/// everything else, reads the same.
pub(super) fn plainly(text: &str) -> Option<(f64, &str)> {
    let (whole, rest) = few_digits(text)?;
    let (value, rest) = match rest.as_bytes() {
        [b'/', ..] => over(whole, &rest[1..])?,
        [b'.', ..] => decimals(whole, &rest[1..])?,
        [b' ', b'0'..=b'9', ..] => {
            let (above, rest) = few_digits(&rest[1..])?;
            let (part, rest) = over(above, rest.strip_prefix('/')?)?;
            (part < 1.0).then_some((f64::from(whole) + part, rest))?
        }
        _ => (f64::from(whole), rest),
    };
    let word = rest.strip_prefix(' ').unwrap_or(rest);
    let joins = ["to ", "or ", "and "].iter().any(|joint| word.starts_with(joint));
    // Without a blank an "e" may begin an exponent.
    let letter = word.as_bytes().first().is_some_and(|first| first.is_ascii_alphabetic() && !matches!(first, b'e' | b'E'));
    (letter && !joins).then_some((value, rest))
}

fn few_digits(text: &str) -> Option<(u32, &str)> {
    let bytes = text.as_bytes();
    let count = bytes.iter().take_while(|byte| byte.is_ascii_digit()).count();
    let figure = || bytes[..count].iter().fold(0, |figure, digit| figure * 10 + u32::from(digit - b'0'));
    (1..=9).contains(&count).then(|| (figure(), &text[count..]))
}

/// The fraction with what stands below its stroke.
fn over(above: u32, below: &str) -> Option<(f64, &str)> {
    let (below, rest) = few_digits(below)?;
    // A part of a thousandth or less may be smaller than any amount, and "200/250 g" is a range.
    ((1..1000).contains(&below) && (above < 10 || above >= below)).then(|| (f64::from(above) / f64::from(below), rest))
}

/// A figure with what stands behind its point: few enough digits that the quotient is the decimal itself, and no less than the smallest amount.
fn decimals(whole: u32, behind: &str) -> Option<(f64, &str)> {
    const TENS: [f64; 7] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6];
    let (digits, rest) = few_digits(behind)?;
    let tens = *TENS.get(behind.len() - rest.len())?;
    Some(((f64::from(whole) * tens + f64::from(digits)) / tens, rest))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_nearly_everyone_writes_is_read_the_short_way() {
        for (text, figure) in [("400 g", 400.0), ("2/3 cup", 2.0 / 3.0), ("1 1/2 cups", 1.5), ("2.5 oz", 2.5), ("0.1 g", 0.1), ("3T", 3.0)]
        {
            assert_eq!(plainly(text).map(|(figure, _)| figure), Some(figure), "{text}");
        }
        for text in ["1 3/2 cups", "1/0 cup", "1 e3", "1e3 g", "2 to 3 cups", "0.0000001 g", "1-1/2 cups", "1 1 g", "200/250 g"] {
            assert_eq!(plainly(text), None, "{text}");
        }
    }
}
