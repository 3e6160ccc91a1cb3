//! Several sizes in one phrase: "10, 8 and 6 inch rounds", "tiers of 25, 20 and 15 cm", "an 8 in round and a 9 x 5 in loaf tin". Each becomes a phrase of
//! its own: what one leaves out, its unit or its shape, stands with the next that has it.

use std::ops::Range;

use super::phrase::{is_deep, without_depth};
use super::shape_words::is_shape;
use super::spelled::is_measure;
use super::words::{Token, counted, is_filler, is_number, pieces, written};
use crate::quantity::plain;

/// What joins two pans as surely as a comma does, and more.
const JOINTS: [&str; 5] = [" and ", " & ", " + ", " plus ", "; "];

/// Below this a bare number is how many, or a depth: no tier is as narrow, in inches or in centimetres.
const LEAST: f64 = 4.0;

/// One of the pans, as far as it is said.
struct Piece {
    tokens: Vec<Token>,
    depth: Vec<Token>,
}

/// The phrases of the pans that a phrase lists; nothing where it speaks of one kind of pan.
pub(super) fn listed(phrase: &str) -> Option<Vec<String>> {
    let (text, of_tiers) = without_tiers(&plain(phrase));
    let text = if is_slashed(&text) { text.replace('/', ", ") } else { text };
    let is_joined = JOINTS.iter().any(|joint| text.contains(joint));
    let text = JOINTS.iter().fold(text, |text, joint| text.replace(joint, ", "));
    let parts = gathered(text.split(", ").map(pieces).filter(|tokens| !tokens.is_empty()))?;
    let (last, before) = parts.split_last()?;
    if before.is_empty() || !(is_joined || of_tiers || is_plain_list(before, last)) {
        return None;
    }
    (0..parts.len()).map(|at| completed(&parts, at, of_tiers)).collect()
}

/// "tiers of 10, 8 and 6 in", "three-tier 10, 8 and 6 in", "three tiers: 10, 8, 6 in", "12/9/6 in tiers": the sizes, and whether they are of tiers.
fn without_tiers(text: &str) -> (String, bool) {
    let is_tier = |word: &str| matches!(word.trim_end_matches([':', ',']).rsplit('-').next(), Some("tier" | "tiers" | "tiered"));
    let words: Vec<&str> = text.split_whitespace().collect();
    let Some(at) = words.iter().position(|word| is_tier(word)) else { return (text.to_owned(), false) };
    let sized = |words: &[&str]| words.iter().any(|word| word.starts_with(|c: char| c.is_ascii_digit()));
    let behind = &words[at + 1..];
    if sized(behind) {
        let of = usize::from(behind.first() == Some(&"of"));
        // "Top tier 6 in, bottom tier 10 in": each says it anew.
        let stands = |at: usize| matches!(behind[at], "top" | "bottom" | "middle" | "upper" | "lower" | "second" | "third");
        let is_said_anew = |at: usize| is_tier(behind[at]) || stands(at) && behind.get(at + 1).is_some_and(|next| is_tier(next));
        let kept: Vec<&str> = (of..behind.len()).filter(|at| !is_said_anew(*at)).map(|at| behind[at]).collect();
        return (kept.join(" "), true);
    }
    ([&words[..at], behind].concat().join(" "), sized(&words[..at]))
}

/// "12/9/6 in": no fraction has two strokes.
fn is_slashed(text: &str) -> bool {
    let of_three = |word: &str| {
        let figures: Vec<&str> = word.split('/').collect();
        figures.len() > 2 && figures.iter().all(|figure| !figure.is_empty() && figure.bytes().all(|byte| byte.is_ascii_digit()))
    };
    text.split_whitespace().any(of_three)
}

/// Puts what has no size of its own, and depths, to the sizes before them; nothing where the first has no size.
fn gathered(parts: impl Iterator<Item = Vec<Token>>) -> Option<Vec<Piece>> {
    let mut pieces: Vec<Piece> = Vec::new();
    for tokens in parts {
        if is_depth(&tokens) {
            pieces.iter_mut().filter(|piece| piece.depth.is_empty()).for_each(|piece| piece.depth.clone_from(&tokens));
        } else if tokens.iter().any(is_size) {
            pieces.push(Piece { tokens, depth: Vec::new() });
        } else {
            pieces.last_mut()?.tokens.extend(tokens);
        }
    }
    Some(pieces)
}

/// "4 in deep" and nothing else.
fn is_depth(tokens: &[Token]) -> bool {
    tokens.iter().filter(|token| is_number(token)).count() == 1
        && tokens.iter().any(|token| is_deep(Some(token)))
        && tokens.iter().all(|token| is_number(token) || is_deep(Some(token)) || !says_shape(token))
}

/// A number, and a word for one: "six ramekins", "half and quarter sheets".
fn is_size(token: &Token) -> bool {
    is_number(token) || matches!(token, Token::Word(word) if counted(word).is_some() || SHARES.contains(&word.as_str()))
}

/// The shares of a sheet or of a hotel pan.
const SHARES: [&str; 5] = ["full", "half", "third", "quarter", "eighth"];

/// Whether a word is more than a unit, a size and what any pan may be called. A square is a shape here, and a piece of chocolate elsewhere.
fn says_shape(token: &Token) -> bool {
    matches!(token, Token::Word(word) if is_shape(word) || !is_measure(word) && !is_filler(word) && !is_size(token))
}

/// Where the size stands, with its unit; the shape is about it.
fn size(tokens: &[Token]) -> Range<usize> {
    let begins = tokens.iter().position(is_size).unwrap_or_default();
    let of_size = |token: &&Token| is_size(token) || is_unit(token) || **token == Token::By;
    begins..begins + tokens[begins..].iter().take_while(of_size).count()
}

/// "10, 8, 6 inch rounds": sizes and nothing else before the last, and not how many there are. "1/2 sheet, 1/4 sheet": each a share of a size that has a name.
fn is_plain_list(before: &[Piece], last: &Piece) -> bool {
    let bare = |piece: &Piece| matches!(piece.tokens.as_slice(), [Token::Number(size)] if *size >= LEAST);
    let shared = |piece: &Piece| piece.tokens.first().is_some_and(is_share) && piece.tokens.iter().any(says_shape);
    last.tokens.iter().any(says_shape) && (before.iter().all(bare) || shared(last) && before.iter().all(shared))
}

fn is_share(token: &Token) -> bool {
    matches!(token, Token::Number(share) if *share < 1.0) || matches!(token, Token::Word(word) if SHARES.contains(&word.as_str()))
}

/// The phrase of one of them.
fn completed(parts: &[Piece], at: usize, of_tiers: bool) -> Option<String> {
    let piece = &parts[at];
    let mut tokens = piece.tokens.clone();
    let nearest = |has: &dyn Fn(&[Token]) -> bool| {
        let others = parts[at + 1..].iter().chain(parts[..at].iter().rev());
        others.map(|other| other.tokens.as_slice()).find(|tokens| has(tokens))
    };
    let sides = Sides::of(&tokens);
    if !tokens.iter().any(is_unit) {
        // "A half and a quarter sheet": a share of a size that has a name.
        let of_share = matches!(tokens.iter().find(|token| is_number(token)), Some(Token::Number(share)) if *share < 1.0);
        let is_small = matches!(tokens.as_slice(), [Token::Number(size)] if *size < LEAST);
        if is_small && !of_share {
            return None;
        }
        let unit = nearest(&|tokens| tokens.iter().any(is_unit)).and_then(|tokens| tokens.iter().find(|token| is_unit(token)));
        let end = size(&tokens).end;
        let is_bare = tokens.iter().any(is_number) && !of_share;
        tokens.splice(end..end, unit.filter(|_| is_bare).cloned());
    }
    if !tokens.iter().any(says_shape) {
        match nearest(&|tokens| tokens.iter().any(says_shape) && Sides::of(tokens) == sides) {
            Some(other) => {
                let size = size(other);
                let before = other[..size.start].iter().filter(|token| says_shape(token));
                tokens.extend(before.chain(&other[size.end..]).cloned());
            }
            None if of_tiers => tokens.push(Token::Word("round".to_owned())),
            // Two sides alone are a rectangle's, and one alone is asked for its shape.
            None => {}
        }
    }
    let depth = if without_depth(&tokens).is_none() { &piece.depth[..] } else { &[] };
    tokens.extend(depth.iter().cloned());
    Some(written(&tokens))
}

/// How a size is written: as one length, or as two that are alike or not.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Sides {
    One,
    Alike,
    Two,
}

impl Sides {
    fn of(tokens: &[Token]) -> Self {
        let two = tokens.windows(3).find_map(|three| match three {
            // "2 x 8 in" is how many.
            [Token::Number(one), Token::By, Token::Number(other)] if *one >= LEAST => Some((*one, *other)),
            _ => None,
        });
        match two {
            None => Self::One,
            Some((one, other)) if one.total_cmp(&other).is_eq() => Self::Alike,
            Some(_) => Self::Two,
        }
    }
}

fn is_unit(token: &Token) -> bool {
    matches!(token, Token::Word(word) if is_measure(word) && !is_shape(word))
}

#[cfg(test)]
mod tests {
    use super::listed;

    #[track_caller]
    fn are(phrase: &str, pans: &[&str]) {
        assert_eq!(listed(phrase).unwrap_or_default(), pans, "{phrase}");
    }

    #[test]
    fn sizes_of_one_shape_are_so_many_pans() {
        let rounds = ["10 in rounds", "8 in rounds", "6 in rounds"];
        for phrase in
            ["10, 8 and 6 inch rounds", "10, 8, 6 in rounds", "10 in, 8 in and 6 in rounds", "10 + 8 + 6 in rounds", "10/8/6 in rounds"]
        {
            are(phrase, &rounds);
        }
        are("8 & 6 in round", &["8 in round", "6 in round"]);
        are("20 and 25 cm square tins, 10 cm deep", &["20 cm square tins 10 cm deep", "25 cm square tins 10 cm deep"]);
        are("9 x 5 and 8 1/2 x 4 1/2 in loaf pans", &["9 x 5 in loaf pans", "8.5 x 4.5 in loaf pans"]);
        are("2 lb and 1 lb loaf tins", &["2 lb loaf tins", "1 lb loaf tins"]);
        are("loaf tins 2 lb and 1 lb", &["loaf tins 2 lb", "1 lb loaf"]);
        are("20 cm and 15 cm cakes", &["20 cm", "15 cm cakes"]);
        are("two 8 in and one 6 in rounds", &["two 8 in rounds", "one 6 in rounds"]);
        are("1/2 and 1/4 GN 65 mm", &["1/2 gn 65 mm", "1/4 gn 65 mm"]);
        are("half and quarter sheet pans", &["half sheet pans", "quarter sheet pans"]);
    }

    #[test]
    fn tiers_are_round_where_nothing_else_is_said() {
        let tiers = ["10 in round", "8 in round", "6 in round"];
        for phrase in [
            "top tier 10 in, middle tier 8 in and bottom tier 6 in",
            "tiers of 10, 8 and 6 in",
            "three tiers: 10, 8, 6 inch",
            "10/8/6 in tiers",
        ] {
            are(phrase, &tiers);
        }
        are("tiers of 25, 20 and 15 cm square", &["25 cm square", "20 cm square", "15 cm square"]);
    }

    #[test]
    fn pans_of_their_own_shapes_stand_each_for_itself() {
        are("an 8 in round and a 9 x 5 in loaf tin", &["an 8 in round", "a 9 x 5 in loaf tin"]);
        are("an 8 in square and a 9x13 pan", &["an 8 in square", "a 9 x 13 in pan"]);
        are("two 8 in rounds and six ramekins", &["two 8 in rounds", "six ramekins"]);
        are("a 9x13 and an 8 in square", &["a 9 x 13 in", "an 8 in square"]);
        are("9 x 13 and 8 x 8 in square", &["9 x 13 in", "8 x 8 in square"]);
        are("9x13 and 8x8 pans", &["9 x 13", "8 x 8 pans"]);
        are("2 x 8 in and a 6 in round", &["2 x 8 in round", "a 6 in round"]);
        are("half sheet and quarter sheet", &["half sheet", "quarter sheet"]);
        are("1/2 sheet, 1/4 sheet", &["1/2 sheet", "1/4 sheet"]);
        are("half sheet, quarter sheet, eighth sheet", &["half sheet", "quarter sheet", "eighth sheet"]);
        are("1/4 sheet and 6 in round", &["1/4 sheet", "6 in round"]);
        are("8 in cake and 6 in cake", &["8 in cake", "6 in cake"]);
        are("9 in round, 3 in deep and 8 in square, 2 in deep", &["9 in round 3 in deep", "8 in square 2 in deep"]);
    }

    #[test]
    fn one_pan_is_no_list() {
        for phrase in [
            "9 inch round, 2 in",
            "9 inch round, 2 inches deep",
            "9 in round and 2 in deep",
            "2, 8 in rounds",
            "13 x 9 x 2 in",
            "8,5 x 4,5 in loaf",
            "loose bottom and sides, 23 cm",
            "8 in round, 2 and 3 in deep",
            "tiered 10 in round",
        ] {
            assert_eq!(listed(phrase), None, "{phrase}");
        }
    }
}
