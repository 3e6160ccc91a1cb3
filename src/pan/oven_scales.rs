//! An oven's setting that is printed on several scales: "350 F / 180 C / gas mark 4". It is parted here, so that the bake takes the first and an audit compares them all.

/// The settings of one text, each on its scale.
pub fn oven_scales(text: &str) -> Vec<&str> {
    let mut pieces: Vec<&str> = Vec::with_capacity(3);
    let mut from = 0;
    for (at, letter) in text.char_indices() {
        let digit = |at: usize| text.as_bytes().get(at).is_some_and(u8::is_ascii_digit);
        // "gas mark 1/4" is a fraction, "180 C/350 F" are two settings.
        let fraction = letter == '/' && at > 0 && digit(at - 1) && digit(at + 1);
        if matches!(letter, '/' | '(' | ')' | ',' | ';' | '|' | '=') && !fraction {
            pieces.push(&text[from..at]);
            from = at + 1;
        }
    }
    pieces.push(&text[from..]);
    let parted = pieces.iter().flat_map(|piece| piece.split(" or ")).map(str::trim);
    parted.filter(|piece| !piece.is_empty()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fraction_of_a_mark_is_one_setting() {
        assert_eq!(oven_scales("350 F / 180 C (gas mark 4)"), ["350 F", "180 C", "gas mark 4"]);
        assert_eq!(oven_scales("225F/110C, gas mark 1/4"), ["225F", "110C", "gas mark 1/4"]);
        assert_eq!(oven_scales("350 F"), ["350 F"]);
    }
}
