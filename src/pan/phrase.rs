//! A pan phrase understood: a trade name first, then a shape word with its numbers. Whatever was not said is taken from the trade, and told.

use super::counted::take_count;
use super::kind::ShapeKind;
use super::material::Material;
use super::one::{DepthFrom, Pan};
use super::reading::{MOST_COUNT, Reading, assembled, sound_capacity, sound_length, whole_wells};
use super::spelled::{self, Spelled};
use super::twice::{without_second_weight, without_second_writing};
use super::words::{Token, is_number, named, pieces};
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
    // "1/2 GN 65 mm" is "GN 1/2 65 mm".
    if let [Token::Number(share), Token::Word(word), ..] = tokens.as_slice()
        && *share < 1.0
        && is_gastronorm(word)
    {
        tokens.swap(0, 1);
    }
    let material = take_material(&mut tokens);
    without_second_writing(&mut tokens);
    let mut count = None;
    let mut row = named(&tokens, reading.reference);
    if row.is_none() {
        without_second_weight(&mut tokens);
        row = named(&tokens, reading.reference);
    }
    if row.is_none() {
        count = take_count(&mut tokens, phrase, at)?;
        row = named(&tokens, reading.reference).filter(|_| count.is_some());
    }
    let pan = match row {
        Some(row) => trade_size(row, None, phrase, reading, at),
        None => with_depth(&tokens, phrase, reading, at),
    };
    let mut pan = pan.map_err(|mut fault| {
        fault.pointer = at.text();
        fault
    })?;
    pan.at = at.text();
    pan.count = count.map_or(1, |counted| counted.pans);
    if !(1..=MOST_COUNT).contains(&pan.count) {
        return Err(Fault::new(at, Code::OutOfRange, pan.count.to_string(), format!("1 to {MOST_COUNT} pans")));
    }
    if count.is_some_and(|counted| counted.doubtful) {
        let pans = if pan.count == 1 { "1 pan".to_owned() } else { format!("{} pans", pan.count) };
        let text = format!("{phrase:?} is taken as {pans}, each: {}", pan.described());
        reading.account.assume(text, at, pans);
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

fn with_depth(tokens: &[Token], phrase: &str, reading: &mut Reading<'_>, at: &Pointer<'_>) -> Result<Pan, Fault> {
    let split = gastronorm(tokens).or_else(|| without_depth(tokens));
    let Some((rest, depth)) = split else { return spelled_out(tokens, None, phrase, reading, at) };
    if let Some(row) = named(&rest, reading.reference) {
        let unit = depth.1.unwrap_or(row.unit);
        let depth = Length::centimetres(depth.0 * unit.size);
        // With its depth it may be a row of its own: "GN 1/1 65" is "GN 1/1 65 mm".
        let whole = [rest.as_slice(), &[Token::Number(depth.in_centimetres() / row.unit.size)], &[unit_word(row)]].concat();
        return match named(&whole, reading.reference).filter(|_| gastronorm(tokens).is_some()) {
            Some(exact) => trade_size(exact, None, phrase, reading, at),
            None => trade_size(row, Some(depth), phrase, reading, at),
        };
    }
    spelled_out(&rest, Some(depth), phrase, reading, at)
}

pub(super) type Measure = (f64, Option<&'static Unit>);

fn unit_word(row: &PanRow) -> Token {
    let word = ["in", "cm", "mm"].into_iter().find(|word| spelled::length_unit(word).is_some_and(|unit| unit.id == row.unit.id));
    Token::Word(word.unwrap_or("in").to_owned())
}

/// "GN 1/1 65", "GN 1/1-65": behind a gastronorm size stands its depth, in millimetres as the standard has it.
fn gastronorm(tokens: &[Token]) -> Option<(Vec<Token>, Measure)> {
    let [Token::Word(word), size @ Token::Number(_), Token::Number(depth), unit @ ..] = tokens else { return None };
    let unit = match unit {
        [] => Unit::known("millimetre"),
        [Token::Word(unit), rest @ ..] if rest.iter().all(|token| is_deep(Some(token))) => {
            spelled::length_unit(unit).or_else(|| DEEP.contains(&unit.as_str()).then(|| Unit::known("millimetre")))?
        }
        _ => return None,
    };
    is_gastronorm(word).then(|| (vec![Token::Word(word.clone()), size.clone()], (*depth, Some(unit))))
}

pub(super) fn is_gastronorm(word: &str) -> bool {
    matches!(word, "gn" | "gastronorm")
}

/// What makes the number before it a depth.
const DEEP: &[&str] = &["deep", "high", "tall", "depth"];

/// Whether a word makes the length before it a depth.
pub(super) fn is_deep(token: Option<&Token>) -> bool {
    matches!(token, Some(Token::Word(word)) if DEEP.contains(&word.as_str()))
}

/// "2 in deep", "depth 2 in": the depth, and the phrase without it.
pub(super) fn without_depth(tokens: &[Token]) -> Option<(Vec<Token>, Measure)> {
    let is = |at: usize, words: &[&str]| matches!(tokens.get(at), Some(Token::Word(word)) if words.contains(&word.as_str()));
    for at in 0..tokens.len() {
        let Token::Number(number) = tokens[at] else { continue };
        let unit = match tokens.get(at + 1) {
            Some(Token::Word(word)) => spelled::length_unit(word),
            _ => None,
        };
        let end = at + 1 + usize::from(unit.is_some());
        let behind = is(end, DEEP) && !tokens.get(end + 1).is_some_and(is_number);
        let start = match at {
            at if behind => at,
            at if at > 0 && is(at - 1, &["depth"]) => at - 1,
            at if at > 1 && is(at - 1, &["of"]) && is(at - 2, &["depth"]) => at - 2,
            _ => continue,
        };
        let end = end + usize::from(behind);
        let rest = [&tokens[..start], &tokens[end..]].concat();
        // "9 inch deep round" speaks of a deep pan: nine inches are its diameter.
        let sized = rest.iter().any(is_number);
        if sized || named_without_size(&rest) {
            return Some((rest, (number, unit)));
        }
    }
    None
}

pub(super) fn named_without_size(rest: &[Token]) -> bool {
    rest.iter().any(|token| matches!(token, Token::Word(word) if matches!(word.as_str(), "muffin" | "sheet" | "half" | "quarter" | "third" | "tray" | "hotel" | "steam")))
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
        let leans = pan.sizes.length(Dimension::BaseDiameter).filter(|_| kind.word == "round");
        let leans = leans.map_or(String::new(), |base| format!(", {}", named_length(Dimension::BaseDiameter, base, row.unit)));
        let text = format!("{phrase:?} is taken as the trade size {}; inside: {}{leans}", row.name, pan.described());
        reading.account.assume(text, at, row.name);
        reading.account.cite(row.citation);
    }
    Ok(pan)
}

/// "base diameter 8.25 in".
pub(super) fn named_length(dimension: Dimension, length: Length, unit: &Unit) -> String {
    let figure = (length.in_centimetres() / unit.size * 100.0).round() / 100.0;
    format!("{} {figure} {}", dimension.word().replace('_', " "), unit.one)
}

/// A pan spelled out by its shape and numbers.
fn spelled_out(tokens: &[Token], depth: Option<Measure>, phrase: &str, reading: &mut Reading<'_>, at: &Pointer<'_>) -> Result<Pan, Fault> {
    let spelled = Spelled::of(tokens, depth, reading.measures).map_err(|strange| unknown_word(&strange, phrase, reading, at))?;
    let Some(laid) = spelled.laid_out(phrase, reading, at)? else { return Err(without_shape(tokens, phrase, reading, at)) };
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

/// One length alone is that of a round tin or of a square one.
fn without_shape(tokens: &[Token], phrase: &str, reading: &Reading<'_>, at: &Pointer<'_>) -> Fault {
    let mut fault = unknown(phrase, reading, at);
    // "12-hole tin": those of muffins are deep, and those of buns shallow.
    if tokens.iter().any(|token| matches!(token, Token::Word(word) if spelled::is_well(word))) {
        let phrase = plain(phrase);
        let bare = ["tin", "pan", "tray"].iter().find_map(|tin| phrase.strip_suffix(tin)).unwrap_or(&phrase).trim_end();
        fault.attempts = ["muffin", "bun"].map(|goods| format!("{bare} {goods} tin")).into();
        return fault.saying("A tin with holes may be deep, for muffins, or shallow, for buns and tartlets: write which");
    }
    if tokens.iter().filter(|token| is_number(token)).count() == 1 {
        fault.attempts = ["round", "square"].map(|shape| format!("{} {shape}", plain(phrase))).into();
        fault = fault.saying("Its shape is not said: write whether it is round or square");
    }
    fault
}

fn unknown_word(word: &str, phrase: &str, reading: &Reading<'_>, at: &Pointer<'_>) -> Fault {
    if is_gastronorm(word) {
        return unknown(phrase, reading, at)
            .saying("No gastronorm pan of that size is known. Write its share of the full size and its depth, like \"GN 1/2 65 mm\"");
    }
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
