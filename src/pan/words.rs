//! The words and numbers of a pan phrase, made plain: "13×9×2\"", "20cm" and "8-1/2 by 4-1/2" come out as numbers, units and words.

use std::collections::HashMap;
use std::sync::OnceLock;

use super::shape_words::is_several;
use crate::quantity::plain;
use crate::reference::{PanRow, Reference};

/// A word or a number of a phrase.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Token {
    Number(f64),
    Word(String),
    /// "x" or "by" between two numbers.
    By,
}

pub(super) fn is_number(token: &Token) -> bool {
    matches!(token, Token::Number(_))
}

/// The phrase in pieces.
pub(super) fn pieces(phrase: &str) -> Vec<Token> {
    let plain = plain(phrase);
    let mut spread = String::with_capacity(plain.len() + 8);
    let mut letters = plain.chars().peekable();
    let mut before = ' ';
    while let Some(letter) = letters.next() {
        match letter {
            '×' | '*' => spread.push_str(" x "),
            '"' | '″' | '”' | '“' => spread.push_str(" in "),
            '½' => spread.push_str(" 1/2"),
            '¼' => spread.push_str(" 1/4"),
            '¾' => spread.push_str(" 3/4"),
            '⅓' => spread.push_str(" 1/3"),
            '⅔' => spread.push_str(" 2/3"),
            '⁄' => spread.push('/'),
            'ø' | '⌀' | '∅' => spread.push_str(" diameter "),
            ',' if before.is_ascii_digit() && letters.peek().is_some_and(char::is_ascii_digit) => spread.push('.'),
            '.' if before.is_ascii_digit() || letters.peek().is_some_and(char::is_ascii_digit) => spread.push('.'),
            // "20cm/8in" is a size written twice, "1/2" a number.
            '/' if !(before.is_ascii_digit() && letters.peek().is_some_and(char::is_ascii_digit)) => spread.push(' '),
            '.' | ',' | '-' | ';' | ':' | '(' | ')' | '_' => spread.push(' '),
            _ => {
                let turns = before.is_ascii_digit() && letter.is_alphabetic() || before.is_alphabetic() && letter.is_ascii_digit();
                if turns {
                    spread.push(' ');
                }
                spread.push(letter);
            }
        }
        before = letter;
    }
    joined(spread.split_whitespace().map(token))
}

fn token(piece: &str) -> Token {
    let piece = piece.trim_end_matches('.');
    if let Ok(number) = piece.parse::<f64>()
        && piece.starts_with(|c: char| c.is_ascii_digit() || c == '.')
    {
        return Token::Number(number);
    }
    if let Some((above, below)) = piece.split_once('/')
        && let (Ok(above), Ok(below)) = (above.parse::<u16>(), below.parse::<u16>())
        && below > 0
    {
        return Token::Number(f64::from(above) / f64::from(below));
    }
    match piece {
        "x" | "by" => Token::By,
        "inch" | "inches" | "ins" => Token::Word("in".to_owned()),
        "centimetre" | "centimetres" | "centimeter" | "centimeters" | "cms" => Token::Word("cm".to_owned()),
        "millimetre" | "millimetres" | "millimeter" | "millimeters" => Token::Word("mm".to_owned()),
        "sq" => Token::Word("square".to_owned()),
        "rnd" => Token::Word("round".to_owned()),
        word => Token::Word(word.to_owned()),
    }
}

/// A whole number before a fraction is one number: "8 1/2".
fn joined(tokens: impl Iterator<Item = Token>) -> Vec<Token> {
    let mut out: Vec<Token> = Vec::new();
    for token in tokens {
        match (out.last_mut(), &token) {
            (Some(Token::Number(whole)), Token::Number(part)) if whole.fract() == 0.0 && *part > 0.0 && *part < 1.0 => *whole += part,
            _ => out.push(token),
        }
    }
    out
}

/// The pieces as a phrase again.
pub(super) fn written(tokens: &[Token]) -> String {
    let words: Vec<String> = tokens
        .iter()
        .map(|token| match token {
            // A half sheet is written as people write it; a third has no end in decimals.
            Token::Number(number) if *number < 1.0 => share_text(*number),
            Token::Number(number) => number.to_string(),
            Token::Word(word) => word.clone(),
            Token::By => "x".to_owned(),
        })
        .collect();
    words.join(" ")
}

fn share_text(share: f64) -> String {
    const BELOW: [u16; 8] = [2, 3, 4, 6, 8, 9, 12, 16];
    let whole = |below: &u16| {
        let above = share * f64::from(*below);
        ((above - above.round()).abs() < 1e-9 && above >= 0.5).then(|| format!("{}/{below}", above.round()))
    };
    BELOW.iter().find_map(whole).unwrap_or_else(|| share.to_string())
}

/// How it is made ready, and what leaves its size as it is.
const PREPARED: [&str; 20] = [
    "rimmed",
    "ovenproof",
    "proof",
    "ovensafe",
    "safe",
    "heavy",
    "seasoned",
    "preheated",
    "hot",
    "cast",
    "about",
    "approx",
    "roasting",
    "greased",
    "ungreased",
    "buttered",
    "floured",
    "lined",
    "unlined",
    "prepared",
];

/// Words that name no shape and no size.
pub(super) fn is_filler(word: &str) -> bool {
    PREPARED.contains(&word)
        || matches!(
            word,
            "pan"
                | "pans"
                | "tin"
                | "tins"
                | "mould"
                | "moulds"
                | "mold"
                | "molds"
                | "form"
                | "dish"
                | "dishes"
                | "plate"
                | "plates"
                | "cake"
                | "cakes"
                | "baking"
                | "brownie"
                | "casserole"
                | "lasagne"
                | "lasagna"
                | "bakery"
                | "oven"
                | "standard"
                | "regular"
                | "a"
                | "an"
                | "the"
                | "of"
                | "and"
                | "with"
                | "in"
                | "each"
                | "size"
                | "sized"
                | "inside"
                | "diameter"
                | "wide"
                | "long"
                | "across"
                | "straight"
                | "sided"
                | "shaped"
                | "shape"
                | "deep"
                | "bread"
                | "food"
                | "table"
                | "loose"
                | "removable"
                | "bottom"
                | "bottomed"
                | "base"
                | "based"
        )
}

/// Whether a word speaks of several.
pub(super) fn is_plural(word: &str) -> bool {
    let of_any_pan = ["pans", "tins", "moulds", "molds", "dishes", "plates", "trays", "tiers", "forms", "pies", "quiches", "sandwiches"];
    of_any_pan.contains(&word) || is_several(word)
}

/// The number that a word is.
pub(super) fn counted(word: &str) -> Option<u32> {
    const WORDS: [&str; 12] = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    (1..).zip(WORDS).find(|(_, name)| *name == word).map(|(number, _)| number)
}

/// The phrase as a key into the trade names: every word, or only those that part one name from another.
fn key(tokens: &[Token], spare: bool) -> String {
    let mut key = String::new();
    for token in tokens {
        match token {
            Token::Number(number) => key.push_str(&number.to_string()),
            Token::By => key.push('x'),
            // A deep tin is another size than one of no such word.
            Token::Word(word) if spare && word != "in" && word != "deep" && is_filler(word) => continue,
            Token::Word(word) => key.push_str(singular(word)),
        }
        key.push(' ');
    }
    key
}

pub(super) fn singular(word: &str) -> &str {
    match word {
        "loaves" => "loaf",
        "dishes" => "dish",
        "inches" => "in",
        _ if word.ends_with("ss") => word,
        _ if word.len() > 3 => word.strip_suffix('s').unwrap_or(word),
        _ => word,
    }
}

/// The trade names as keys: whole first, so that a loaf tin is not a loaf pan.
struct Names {
    whole: HashMap<String, &'static PanRow>,
    spare: HashMap<String, &'static PanRow>,
}

static NAMES: OnceLock<Names> = OnceLock::new();

fn names(reference: &'static Reference) -> &'static Names {
    NAMES.get_or_init(|| {
        let mut names = Names { whole: HashMap::new(), spare: HashMap::new() };
        for common in [true, false] {
            for row in reference.pans.all.iter().filter(|row| row.common == common) {
                for name in row.names.iter().chain([&row.name, &row.id]) {
                    let pieces = pieces(name);
                    names.whole.entry(key(&pieces, false)).or_insert(row);
                    if pieces.iter().any(names_something) {
                        names.spare.entry(key(&pieces, true)).or_insert(row);
                    }
                }
            }
        }
        names
    })
}

/// A word that is neither a unit nor to be spared: "20 cm pan" alone names no pan.
fn names_something(token: &Token) -> bool {
    matches!(token, Token::Word(word) if !is_filler(word) && !matches!(word.as_str(), "cm" | "mm"))
}

/// The trade size that a phrase names.
pub(super) fn named(tokens: &[Token], reference: &'static Reference) -> Option<&'static PanRow> {
    let names = names(reference);
    names.whole.get(&key(tokens, false)).or_else(|| names.spare.get(&key(tokens, true))).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_size_has_many_spellings() {
        let by_thirteen = pieces("13x9x2 in");
        for spelling in ["13 x 9 x 2 inches", "13×9×2\"", "13 by 9 by 2 inch", "13X9X2 in."] {
            assert_eq!(pieces(spelling), by_thirteen, "{spelling}");
        }
        assert_eq!(pieces("8-1/2 by 4½ loaf")[..3], [Token::Number(8.5), Token::By, Token::Number(4.5)]);
        assert_eq!(pieces("23,5cm")[..2], [Token::Number(23.5), Token::Word("cm".to_owned())]);
    }
}
