//! How many pans a phrase speaks of: "two 8 inch rounds", "2 x 8 inch round", "6 ramekins", "8 inch round, 2 pans". A figure that may as well
//! be a length is refused with both readings, or counted and told.

use super::phrase::{is_deep, is_gastronorm, named_without_size, without_depth};
use super::shape_words::{Little, across, is_side_of_tart, is_tray, little};
use super::spelled::{self, length_unit};
use super::words::{Token, counted, is_filler, is_number, is_plural, written};
use crate::quantity::{Code, Family, Fault, Measures, Pointer, Unit};

/// How many pans, and whether another reader might have taken the figure for a length.
#[derive(Clone, Copy, Debug)]
pub(super) struct Counted {
    pub(super) pans: u32,
    pub(super) doubtful: bool,
}

/// What the figure before a joint is.
enum First {
    Pans {
        doubtful: bool,
    },
    Length,
    /// Either; the phrase by which it is a length.
    Either(String),
}

/// Nobody would take it for a length.
const SURE: First = First::Pans { doubtful: false };

/// Narrower than this is no cake tin, shallower no pan, deeper none of the trade: centimetres.
const LEAST_ACROSS: f64 = 6.0;
const LEAST_DEEP: f64 = 1.25;
const MOST_DEEP: f64 = 12.0;
/// More pans than this are not written as a figure before a size without a word for several.
const FEW: u32 = 24;
/// Round tart pans are sold up to so many inches; tartlet tins, which are written by the dozen, up to so many centimetres.
const MOST_ROUND_TART_IN: f64 = 12.0;
const MOST_TARTLET_CM: f64 = 12.0;
/// Wider than this no ramekin and no tartlet tin is sold, in centimetres; more of them than this nobody writes.
const MOST_LITTLE_CM: f64 = 12.5;
const MOST_LITTLE: u32 = 200;
/// Pastry rings are sold up to this height, in centimetres; a small one that is as high as this share of its breadth is common.
const MOST_RING_DEEP: f64 = 8.0;
const SQUAT_RING: f64 = 0.5;
/// Deeper than this share of its breadth, a pan is as likely several: a tier of 6 x 4 in is the deepest that is common.
const DEEP_TIER: f64 = 0.67;
const SURELY_TOO_DEEP: f64 = 0.8;

/// Takes the number of pans out of the phrase.
pub(super) fn take_count(tokens: &mut Vec<Token>, phrase: &str, at: &Pointer<'_>) -> Result<Option<Counted>, Fault> {
    of_them(tokens);
    if let Some(counted) = take_cavities(tokens) {
        return Ok(Some(counted));
    }
    if let Some(counted) = take_behind(tokens) {
        return Ok(Some(counted));
    }
    if leading(tokens).is_none()
        && let Some(turned) = words_last(tokens)
    {
        *tokens = turned;
    }
    match leading(tokens) {
        Some((_, taken, _)) if taken >= tokens.len() => Ok(None),
        Some((pans, taken, First::Either(length))) => Err(either(pans, &tokens[taken..], &length, phrase, at)),
        Some((pans, taken, First::Pans { doubtful })) => {
            tokens.drain(..taken);
            Ok(Some(Counted { pans, doubtful }))
        }
        Some((_, _, First::Length)) | None => leftover(tokens).map_or(Ok(None), |(pans, kept)| {
            let length = format!("{}, {pans} {} deep", written(&kept), unit_of(&kept).one);
            Err(either(pans, &kept, &length, phrase, at))
        }),
    }
}

/// "24 cavities of 30 ml", "mould with 6 holes, 120 ml each": what one holds is told, so each is a pan. The cups of a tray have a size by their name.
fn take_cavities(tokens: &mut Vec<Token>) -> Option<Counted> {
    let is_hole = |token: &Token| matches!(token, Token::Word(word) if spelled::is_well(word));
    let at = tokens.iter().position(is_hole)?;
    let pans = number_of(tokens.get(at.checked_sub(1)?)?)?;
    let of = usize::from(matches!(tokens.get(at + 1), Some(Token::Word(word)) if word == "of"));
    let [Token::Number(_), Token::Word(unit), ..] = tokens.get(at + 1 + of..)? else { return None };
    let holds = Unit::of_word(unit, Measures::Us).is_some_and(|unit| unit.family == Family::Volume);
    if !holds || is_tray(tokens) {
        return None;
    }
    tokens.drain(at - 1..=at + of);
    Some(Counted { pans, doubtful: false })
}

/// "6 inch round, 2 of them" is "2 pans".
fn of_them(tokens: &mut Vec<Token>) {
    if let [.., number, Token::Word(of), Token::Word(them)] = tokens.as_slice()
        && number_of(number).is_some()
        && of == "of"
        && matches!(them.as_str(), "them" | "these" | "those")
    {
        tokens.truncate(tokens.len() - 2);
        tokens.push(Token::Word("pans".to_owned()));
    }
}

/// "sandwich tins, 2 x 20 cm" with its size in front; nothing where no joint stands behind the first number.
fn words_last(tokens: &[Token]) -> Option<Vec<Token>> {
    let number = tokens.iter().position(|token| !matches!(token, Token::Word(_)))?;
    let (words, size) = tokens.split_at(number);
    let of_size = !matches!(words.last(), Some(Token::Word(word)) if matches!(word.as_str(), "core" | "depth" | "of"));
    (of_size && matches!(size, [Token::Number(_), Token::By, ..])).then(|| [size, words].concat())
}

fn either(pans: u32, each: &[Token], length: &str, phrase: &str, at: &Pointer<'_>) -> Fault {
    let several = format!("{pans} pans of {}", written(each));
    Fault::new(at, Code::UnknownPan, phrase, "a phrase in which the number of pans and the depth cannot be taken for one another")
        .saying(format!("{pans} may be how many pans there are, or a length. Write {several:?}, or {length:?}"))
        .trying([several, length.to_owned()])
}

/// "8 inch round x 2", "9 inch round x 3 layers", "8 inch round, 2 pans": a number behind a whole pan.
fn take_behind(tokens: &mut Vec<Token>) -> Option<Counted> {
    let holder = match tokens.last() {
        Some(Token::Word(word)) if is_plural(word) || is_filler(word) && length_unit(word).is_none() => Some(word.clone()),
        _ => None,
    };
    let number = tokens.len().checked_sub(1 + usize::from(holder.is_some()))?;
    let pans = number_of(tokens.get(number)?)?;
    let several = holder.as_deref().is_some_and(|word| is_plural(word) || pans == 1);
    let joint = tokens[..number].iter().rposition(|token| *token != Token::By).map_or(0, |last| last + 1);
    let Some(Token::Word(before)) = tokens[..joint].last() else { return None };
    let is_behind = match joint < number {
        true => several || holder.is_none() && length_unit(before).is_none(),
        false => several && (tokens[..joint].iter().any(is_number) || named_without_size(&tokens[..joint])),
    };
    if !is_behind {
        return None;
    }
    let doubtful = holder.is_none();
    // Layers are of a round pan: their word stays.
    let kept = holder.filter(|word| across(&[Token::Word(word.clone())]).is_some());
    tokens.truncate(joint);
    tokens.extend(kept.map(Token::Word));
    Some(Counted { pans, doubtful })
}

fn number_of(token: &Token) -> Option<u32> {
    match token {
        Token::Number(number) => whole(*number),
        Token::Word(word) => counted(word),
        Token::By => None,
    }
}

fn whole(number: f64) -> Option<u32> {
    (number.fract() == 0.0 && (0.0..=1e6).contains(&number)).then_some(number as u32)
}

/// A number before the pan: how many, how much of the phrase it takes, what it is.
fn leading(tokens: &[Token]) -> Option<(u32, usize, First)> {
    let plural = tokens.iter().any(|token| matches!(token, Token::Word(word) if is_plural(word)));
    match tokens {
        [Token::Word(word), Token::By, ..] => Some((counted(word)?, 2, SURE)),
        [Token::Word(word), ..] => Some((counted(word)?, 1, SURE)),
        [Token::Number(first), Token::Number(_), ..] => Some((whole(*first)?, 1, SURE)),
        [Token::Number(first), Token::By, rest @ ..] => Some((whole(*first)?, 2, before_joint(*first, rest, plural))),
        [Token::Number(first), Token::Word(word), rest @ ..] if !spelled::is_measure(word) || is_plural(word) => {
            let pans = whole(*first)?;
            let of_wells = is_tray(&tokens[1..]);
            let of_layers = word == "layer" && rest.iter().any(is_number);
            let several = plural || of_layers || word == "of" || is_gastronorm(word) || pans == 1 || of_wells && pans < 4;
            // "12 muffin tins" may be a tin of twelve, "9 round pans" one of nine inches.
            let doubtful = pans > 3 && word != "of" && !is_plural(word) && !rest.iter().any(is_number);
            several.then_some((pans, 1, First::Pans { doubtful }))
        }
        _ => None,
    }
}

/// "2 x …": how many where it cannot be a length of the shape, a length where it can be nothing else.
fn before_joint(first: f64, rest: &[Token], plural: bool) -> First {
    let run = run_of(rest);
    let Some(second) = run.first().copied() else { return SURE };
    if let Some(Token::Word(word)) = rest.get(1)
        && spelled::is_measure(word)
        && length_unit(word).is_none()
    {
        // "2 x 900 g loaf tin", "2 x 12-cup muffin tin".
        return SURE;
    }
    if is_tray(rest) {
        return First::Length;
    }
    let unit = unit_of(rest);
    let cm = first * unit.size;
    let has_depth = without_depth(rest).is_some();
    if run.len() == 1
        && !has_depth
        && let Some(little) = little(rest)
        && let Some(found) = of_little(little, [first, second], rest, unit, plural)
    {
        return found;
    }
    if run.len() == 1 && !plural && across(rest) == Some(1) && is_side_of_tart(rest, cm) {
        return side_of_tart(first, second, rest, unit);
    }
    match (across(rest), run.len()) {
        (Some(1), 1) if has_depth && first != second => SURE,
        (Some(1), 1) if first < second => First::Pans { doubtful: !plural && (LEAST_DEEP..=MOST_DEEP).contains(&cm) },
        (Some(1), 1) => tier(first, second, rest, unit, plural),
        (Some(1), 2) if first < second && run[0] == run[1] => flat(first, rest, unit, plural || has_depth),
        (Some(1), 2) if first < second => SURE,
        (Some(1), 2) => First::Length,
        (Some(2) | None, 1) if cm < LEAST_ACROSS => SURE,
        (Some(2) | None, 2) if run.iter().all(|figure| first < *figure) => flat(first, rest, unit, plural || has_depth),
        (Some(2) | None, 1 | 2) => First::Length,
        (Some(0), _) => First::Length,
        _ => SURE,
    }
}

/// "6 x 4 in tartlet tins", "8 x 8 cm ramekins", "12 x 6 cm mousse rings": what is baked by the dozen is counted before it is measured. Nothing where the
/// second figure may well be the depth.
fn of_little(little: Little, [first, second]: [f64; 2], rest: &[Token], unit: &Unit, plural: bool) -> Option<First> {
    let [wide, deep] = [first, second].map(|figure| figure * unit.size);
    whole(first).filter(|pans| *pans <= MOST_LITTLE)?;
    match little {
        Little::Dish if wide > MOST_LITTLE_CM => Some(First::Pans { doubtful: !plural }),
        Little::Dish if plural && deep >= LEAST_ACROSS => Some(First::Pans { doubtful: true }),
        Little::Ring if plural && deep > MOST_RING_DEEP => Some(First::Pans { doubtful: true }),
        Little::Ring if plural && first >= second && second / first >= SQUAT_RING => {
            Some(First::Either(as_deep(first, second, rest, unit)))
        }
        _ => None,
    }
}

/// "11 x 35 cm tart tin" has two sides; "3 x 9 inch tart pan" may as well be three.
fn side_of_tart(first: f64, second: f64, rest: &[Token], unit: &Unit) -> First {
    let sold = if unit.id == "inch" { MOST_ROUND_TART_IN } else { MOST_TARTLET_CM };
    let few = whole(first).is_some_and(|pans| pans <= FEW);
    match first < second && second <= sold && few {
        true => First::Either(format!("rectangular {first} x {}", written(rest))),
        false => First::Length,
    }
}

/// "10 x 8 inch round": ten of them, or one as deep as a bucket.
fn tier(first: f64, second: f64, rest: &[Token], unit: &Unit, plural: bool) -> First {
    let deep = second / first;
    let few = whole(first).is_some_and(|pans| (1..=FEW).contains(&pans));
    match () {
        () if first == second || !few => First::Length,
        () if plural && deep >= SURELY_TOO_DEEP => First::Pans { doubtful: true },
        () if deep >= SURELY_TOO_DEEP || plural && deep >= DEEP_TIER - 0.01 => First::Either(as_deep(first, second, rest, unit)),
        () => First::Length,
    }
}

/// The phrase by which the second figure is the depth.
fn as_deep(first: f64, second: f64, rest: &[Token], unit: &Unit) -> String {
    let words: Vec<Token> = rest[1..].to_vec();
    format!("{first} {}, {second} {} deep", written(&with_unit(words, unit)), unit.one)
}

fn with_unit(words: Vec<Token>, unit: &Unit) -> Vec<Token> {
    match words.first() {
        Some(Token::Word(word)) if length_unit(word).is_some() => words,
        _ => [vec![Token::Word(unit.one.to_owned())], words].concat(),
    }
}

/// "2 x 9 x 13 inch": two of them, or one two inches deep.
fn flat(first: f64, rest: &[Token], unit: &Unit, several: bool) -> First {
    match (LEAST_DEEP..=MOST_DEEP).contains(&(first * unit.size)) && !several {
        true => First::Either(format!("{}, {first} {} deep", written(rest), unit.one)),
        false => SURE,
    }
}

/// The figures that are joined at the start.
fn run_of(tokens: &[Token]) -> Vec<f64> {
    let mut figures = Vec::new();
    let mut at = 0;
    while let Some(Token::Number(figure)) = tokens.get(at) {
        figures.push(*figure);
        at += 1;
        at += usize::from(matches!(tokens.get(at), Some(Token::Word(word)) if length_unit(word).is_some()));
        match tokens.get(at) {
            Some(Token::By) => at += 1,
            _ => break,
        }
    }
    figures
}

fn unit_of(tokens: &[Token]) -> &'static Unit {
    let said = tokens.iter().find_map(|token| match token {
        Token::Word(word) => length_unit(word),
        _ => None,
    });
    said.unwrap_or_else(|| Unit::known("inch"))
}

/// "8 inch round, 2": a bare number apart from a size that has its unit; and the phrase without it.
fn leftover(tokens: &[Token]) -> Option<(u32, Vec<Token>)> {
    if is_tray(tokens) {
        return None;
    }
    let one_across = across(tokens) == Some(1);
    let sized = tokens.iter().position(|token| matches!(token, Token::Word(word) if length_unit(word).is_some()))?;
    let bare = |at: usize| {
        let joint = tokens[at - 1] == Token::By && matches!(&tokens[at - 2], Token::Word(word) if length_unit(word).is_some());
        let is_alone = (joint || matches!(tokens[at - 1], Token::Word(_)))
            && match tokens.get(at + 1) {
                Some(Token::Word(word)) => !spelled::is_measure(word) && !is_deep(tokens.get(at + 1)),
                Some(_) => false,
                None => true,
            };
        let pans = number_of(&tokens[at]).filter(|_| is_alone && is_number(&tokens[at]))?;
        let named = matches!(&tokens[at - 1], Token::Word(word) if matches!(word.as_str(), "core" | "depth" | "of"));
        // "20 cm x 5 round": five may be a depth alone.
        let sides = tokens[..at].iter().filter(|token| is_number(token)).count();
        let either = !named && if joint { pans <= 4 && (one_across || sides == 2) } else { one_across };
        either.then(|| (pans, [&tokens[..at - usize::from(joint)], &tokens[at + 1..]].concat()))
    };
    (sized + 1..tokens.len()).find_map(bare)
}
