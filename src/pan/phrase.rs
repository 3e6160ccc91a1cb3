//! A pan phrase understood: a trade name first, then a shape word with its numbers. Whatever was not said is taken from the trade, and told.

use super::kind::ShapeKind;
use super::material::Material;
use super::one::{DepthFrom, Pan};
use super::reading::{MOST_COUNT, Reading, assembled, sound_capacity, sound_length, whole_wells};
use super::spelled::{self, Spelled};
use super::words::{Token, counted, is_plural, named, pieces};
use crate::quantity::{Code, Fault, Length, Pointer, Unit, nearest, plain};
use crate::reference::{Dimension, PanRow, Sizes};

/// The longest phrase that is read.
const LONGEST: usize = 200;

/// The pan that a phrase means.
pub(super) fn resolve(phrase: &str, reading: &mut Reading<'_>, at: &Pointer<'_>) -> Result<Pan, Fault> {
    if phrase.len() > LONGEST {
        return Err(Fault::new(at, Code::TextTooLong, phrase, format!("at most {LONGEST} characters")));
    }
    let mut tokens = pieces(phrase);
    let material = take_material(&mut tokens);
    let mut count = None;
    let mut row = named(&tokens, reading.reference);
    if row.is_none() {
        count = take_count(&mut tokens);
        row = named(&tokens, reading.reference).filter(|_| count.is_some());
    }
    let pan = match row {
        Some(row) => trade_size(row, None, phrase, reading, at),
        None => with_depth(&tokens, phrase, reading, at),
    };
    let mut pan = pan.map_err(|mut fault| {
        fault.pointer = at.to_string();
        fault
    })?;
    pan.at = at.to_string();
    pan.count = count.unwrap_or(1);
    if !(1..=MOST_COUNT).contains(&pan.count) {
        return Err(Fault::new(at, Code::OutOfRange, pan.count.to_string(), format!("1 to {MOST_COUNT} pans")));
    }
    pan.material = material;
    Ok(pan)
}

fn take_material(tokens: &mut Vec<Token>) -> Option<Material> {
    let of = |token: &Token| match token {
        Token::Word(word) => Material::of_phrase_word(word),
        _ => None,
    };
    let found = tokens.iter().find_map(of);
    tokens.retain(|token| of(token).is_none());
    found
}

/// "two 8 inch rounds", "2 8-inch rounds", "2 x 8 inch rounds", "2 loaf tins".
fn take_count(tokens: &mut Vec<Token>) -> Option<u32> {
    let plural = tokens.iter().any(|token| matches!(token, Token::Word(word) if is_plural(word)));
    let (count, taken) = match tokens.as_slice() {
        [Token::Word(word), ..] => (counted(word)?, 1),
        [Token::Number(first), Token::Number(_), ..] => (whole(*first)?, 1),
        [Token::Number(first), Token::By, Token::Number(second), ..] if plural && first < second => (whole(*first)?, 2),
        [Token::Number(first), Token::Word(word), ..] if plural && !spelled::is_measure(word) => (whole(*first)?, 1),
        _ => return None,
    };
    if tokens.len() <= taken {
        return None;
    }
    tokens.drain(..taken);
    Some(count)
}

fn whole(number: f64) -> Option<u32> {
    (number.fract() == 0.0 && (0.0..=1e6).contains(&number)).then_some(number as u32)
}

fn with_depth(tokens: &[Token], phrase: &str, reading: &mut Reading<'_>, at: &Pointer<'_>) -> Result<Pan, Fault> {
    let Some((rest, depth)) = without_depth(tokens) else { return spelled_out(tokens, None, phrase, reading, at) };
    if let Some(row) = named(&rest, reading.reference) {
        let unit = depth.1.unwrap_or(row.unit);
        let depth = Length::centimetres(depth.0 * unit.size);
        return trade_size(row, Some(depth), phrase, reading, at);
    }
    spelled_out(&rest, Some(depth), phrase, reading, at)
}

type Measure = (f64, Option<&'static Unit>);

/// What makes the number before it a depth.
const DEEP: &[&str] = &["deep", "high", "tall", "depth"];

/// "2 in deep", "depth 2 in": the depth, and the phrase without it.
fn without_depth(tokens: &[Token]) -> Option<(Vec<Token>, Measure)> {
    let is = |at: usize, words: &[&str]| matches!(tokens.get(at), Some(Token::Word(word)) if words.contains(&word.as_str()));
    for at in 0..tokens.len() {
        let Token::Number(number) = tokens[at] else { continue };
        let unit = match tokens.get(at + 1) {
            Some(Token::Word(word)) => spelled::length_unit(word),
            _ => None,
        };
        let end = at + 1 + usize::from(unit.is_some());
        let behind = is(end, DEEP) && !matches!(tokens.get(end + 1), Some(Token::Number(_)));
        let start = match at {
            at if behind => at,
            at if at > 0 && is(at - 1, &["depth"]) => at - 1,
            at if at > 1 && is(at - 1, &["of"]) && is(at - 2, &["depth"]) => at - 2,
            _ => continue,
        };
        let end = end + usize::from(behind);
        let rest = [&tokens[..start], &tokens[end..]].concat();
        // "9 inch deep round" speaks of a deep pan: nine inches are its diameter.
        let sized = rest.iter().any(|token| matches!(token, Token::Number(_)));
        if sized || named_without_size(&rest) {
            return Some((rest, (number, unit)));
        }
    }
    None
}

fn named_without_size(rest: &[Token]) -> bool {
    rest.iter().any(|token| matches!(token, Token::Word(word) if matches!(word.as_str(), "muffin" | "sheet" | "half" | "quarter" | "tray")))
}

/// A trade size by its name.
fn trade_size(
    row: &'static PanRow,
    depth: Option<Length>,
    phrase: &str,
    reading: &mut Reading<'_>,
    at: &Pointer<'_>,
) -> Result<Pan, Fault> {
    let Some(kind) = ShapeKind::of_word(row.shape) else { return Err(unknown(phrase, reading, at)) };
    let mut sizes = row.sizes.clone();
    if let Some(depth) = depth {
        sizes.set(Dimension::Depth, sound_length(depth, Dimension::Depth, phrase, at)?);
    }
    let mut pan = assembled(kind, sizes, row.unit, reading.reference, at)?;
    if depth.is_none() {
        pan.row = Some(row);
        pan.depth = pan.depth.map(|(depth, _)| (depth, DepthFrom::Trade));
    }
    // A round of a diameter and a depth is all said; a half sheet is a name for a size that was not.
    if depth.is_none() || !matches!(kind.word, "round" | "square" | "springform") {
        let text = format!("{phrase:?} is taken as the trade size {}; inside: {}", row.name, pan.described());
        reading.account.assume(text, at, row.name);
        reading.account.cite(row.citation);
    }
    Ok(pan)
}

/// A pan spelled out by its shape and numbers.
fn spelled_out(tokens: &[Token], depth: Option<Measure>, phrase: &str, reading: &mut Reading<'_>, at: &Pointer<'_>) -> Result<Pan, Fault> {
    let spelled = Spelled::of(tokens, depth, reading.measures).map_err(|strange| unknown_word(&strange, phrase, reading, at))?;
    let Some(laid) = spelled.laid_out(phrase, reading, at)? else { return Err(unknown(phrase, reading, at)) };
    let sizes = sound(&laid.sizes, phrase, at)?;
    let mut pan = assembled(laid.kind, sizes, laid.unit, reading.reference, at)?;
    if laid.trade_depth {
        pan.depth = pan.depth.map(|(depth, _)| (depth, DepthFrom::Trade));
    }
    Ok(pan)
}

fn sound(sizes: &Sizes, phrase: &str, at: &Pointer<'_>) -> Result<Sizes, Fault> {
    for dimension in Dimension::ALL {
        if let Some(length) = sizes.length(*dimension) {
            sound_length(length, *dimension, phrase, at)?;
        }
    }
    if let Some(capacity) = sizes.capacity {
        sound_capacity(capacity, phrase, at)?;
    }
    if let Some(wells) = sizes.wells {
        whole_wells(wells, at)?;
    }
    Ok(sizes.clone())
}

fn unknown_word(word: &str, phrase: &str, reading: &Reading<'_>, at: &Pointer<'_>) -> Fault {
    unknown(phrase, reading, at).saying(format!("{word:?} is no word for a pan that is known. {}", Code::UnknownPan.mend()))
}

fn unknown(phrase: &str, reading: &Reading<'_>, at: &Pointer<'_>) -> Fault {
    let phrase = plain(phrase);
    let mut near = nearest(&phrase, reading.reference.pans.names(), 3);
    if near.is_empty() {
        near = vec!["9 inch round, 2 inches deep", "13x9x2 in", "half sheet"];
    }
    Fault::new(at, Code::UnknownPan, phrase, "a shape and its size, such as \"9 inch round, 2 inches deep\"").trying(near)
}

#[cfg(test)]
mod tests;
