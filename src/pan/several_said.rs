//! How many pans a phrase speaks of, wherever that stands in it: in front, behind, or times a size.

use super::spelled;
use super::words::{Token, counted, is_plural, named};
use crate::reference::Reference;

/// More pans than these are not written so.
const MOST: u32 = 12;

/// Takes the number of pans out of the phrase; nothing where it speaks of one.
pub(super) fn take_count(tokens: &mut Vec<Token>, reference: &'static Reference) -> Option<u32> {
    in_front(tokens, reference).or_else(|| times_a_size(tokens)).or_else(|| behind(tokens))
}

/// "two 8 inch rounds", "2 8-inch rounds", "2 loaf tins", "6 ramekins".
fn in_front(tokens: &mut Vec<Token>, reference: &'static Reference) -> Option<u32> {
    let count = match tokens.as_slice() {
        [Token::Word(word), _, ..] => counted(word)?,
        [Token::Number(first), Token::Number(_), ..] => whole(*first)?,
        [Token::Number(first), Token::Word(word), rest @ ..] if !measures(word) => {
            let several = std::iter::once(word).chain(rest.iter().filter_map(word_of)).any(|word| is_plural(word));
            let known = word.ends_with('s') && named(&tokens[1..], reference).is_some();
            whole(*first).filter(|_| several || known)?
        }
        _ => return None,
    };
    tokens.remove(0);
    Some(count)
}

/// "2 x 8 inch round", "sandwich tins, 2 x 20 cm": a small number times a size, where the shape has one size across. A depth stands behind and is the smaller.
fn times_a_size(tokens: &mut Vec<Token>) -> Option<u32> {
    let by = |token: &Token| *token == Token::By;
    let at = tokens.iter().position(by)?;
    if at == 0 || tokens.iter().filter(|token| by(token)).count() > 1 {
        return None;
    }
    let (Token::Number(first), Some(Token::Number(second))) = (&tokens[at - 1], tokens.get(at + 1)) else { return None };
    let count = whole(*first).filter(|count| *count <= MOST)?;
    let one_across = tokens.iter().filter_map(word_of).any(|word| is_plural(word) || ONE_ACROSS.contains(&word.as_str()));
    if count != 1 && !(one_across && 2.0 * first <= *second) {
        return None;
    }
    tokens.drain(at - 1..=at);
    Some(count)
}

/// Shapes whose size is one figure across, and a depth.
const ONE_ACROSS: &[&str] =
    &["round", "square", "sandwich", "springform", "layer", "heart", "hexagon", "petal", "ring", "tube", "bundt", "pie", "tart", "flan"];

/// "8 inch round x 2", "9 inch round x 3 layers", "8-inch round, 2 pans".
fn behind(tokens: &mut Vec<Token>) -> Option<u32> {
    let plural = |token: &Token| word_of(token).is_some_and(|word| is_plural(word));
    let end = tokens.iter().rposition(|token| !plural(token))? + 1;
    let (Token::Number(number), Some(before)) = (tokens.get(end - 1)?, end.checked_sub(2).and_then(|at| tokens.get(at))) else {
        return None;
    };
    let count = whole(*number).filter(|count| *count <= MOST)?;
    let from = match before {
        // Behind a shape, not behind a size.
        Token::By => {
            let shape = end.checked_sub(3).and_then(|at| tokens.get(at)).and_then(word_of)?;
            if measures(shape) {
                return None;
            }
            end - 2
        }
        _ if end < tokens.len() && tokens[..end - 1].iter().any(|token| matches!(token, Token::Number(_))) => end - 1,
        _ => return None,
    };
    tokens.truncate(from);
    Some(count)
}

/// A square is a shape here, though chocolate is sold by it.
fn measures(word: &str) -> bool {
    spelled::is_measure(word) && !ONE_ACROSS.contains(&word)
}

fn word_of(token: &Token) -> Option<&String> {
    match token {
        Token::Word(word) => Some(word),
        _ => None,
    }
}

fn whole(number: f64) -> Option<u32> {
    (number.fract() == 0.0 && (0.0..=1e6).contains(&number)).then_some(number as u32)
}
