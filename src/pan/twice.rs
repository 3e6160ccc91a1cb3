//! A size written in inches and again in centimetres, "13 x 9 inch (33 x 23 cm)", is one size: the first writing stands.

use super::phrase::is_deep;
use super::spelled::length_unit;
use super::words::Token;
use crate::quantity::{Family, Measures, Unit};

/// How far the two writings of one length lie apart: 3 in are sold as 8 cm and written as 7 cm too, 1½ in as 4 cm.
const ROUNDED: f64 = 0.09;

/// Lengths that stand together and share a unit: "33 x 23 cm".
struct Run {
    start: usize,
    end: usize,
    figures: Vec<f64>,
    unit: &'static Unit,
}

/// Takes the second writing of a size out of the phrase.
pub(super) fn without_second_writing(tokens: &mut Vec<Token>) {
    let mut at = 0;
    while let Some(first) = run(tokens, at) {
        at = first.end;
        let Some(second) = run(tokens, first.end).filter(|second| is_same(&first, second)) else { continue };
        let between = &tokens[first.end..second.start];
        // "20 cm round, 8 in deep" speaks of two lengths.
        let is_depth = !between.is_empty() && is_deep(tokens.get(second.end));
        if between.iter().all(is_word) && !is_depth {
            tokens.drain(second.start..second.end);
            if matches!(&tokens[second.start - 1], Token::Word(word) if word == "or") {
                tokens.remove(second.start - 1);
            }
        }
    }
}

/// "450g/1lb loaf tin" is named once; beside its own sides, "23 x 12 x 7 cm (900 g)", the name of its size says nothing more.
pub(super) fn without_second_weight(tokens: &mut Vec<Token>) {
    let Some(first) = weight(tokens, 0) else { return };
    if run(tokens, 0).is_some_and(|run| run.figures.len() > 1) {
        while let Some((at, _)) = weight(tokens, 0) {
            tokens.drain(at..at + 2);
        }
    } else if let Some((at, grams)) = weight(tokens, first.0 + 2)
        && (grams / first.1 - 1.0).abs() <= ROUNDED
    {
        tokens.drain(at..at + 2);
    }
}

/// The next weight by which a loaf tin is called, in grams, and where it stands.
fn weight(tokens: &[Token], from: usize) -> Option<(usize, f64)> {
    (from..tokens.len()).find_map(|at| match (tokens.get(at), tokens.get(at + 1)) {
        (Some(Token::Number(figure)), Some(Token::Word(word))) => {
            let unit = Unit::of_word(word, Measures::Us).filter(|unit| unit.family == Family::Mass)?;
            Some((at, figure * unit.size))
        }
        _ => None,
    })
}

fn is_word(token: &Token) -> bool {
    matches!(token, Token::Word(_))
}

/// The next run of lengths, from here on.
fn run(tokens: &[Token], from: usize) -> Option<Run> {
    (from..tokens.len()).find_map(|start| run_at(tokens, start))
}

fn run_at(tokens: &[Token], start: usize) -> Option<Run> {
    let mut figures = Vec::new();
    let mut unit: Option<&'static Unit> = None;
    let mut at = start;
    loop {
        let Some(Token::Number(figure)) = tokens.get(at) else { return None };
        figures.push(*figure);
        at += 1;
        if let Some(Token::Word(word)) = tokens.get(at)
            && let Some(said) = length_unit(word)
        {
            if unit.is_some_and(|unit| unit.id != said.id) {
                return None;
            }
            unit = Some(said);
            at += 1;
        }
        match (tokens.get(at), tokens.get(at + 1)) {
            (Some(Token::By), Some(Token::Number(_))) => at += 1,
            _ => break,
        }
    }
    Some(Run { start, end: at, figures, unit: unit? })
}

/// Whether the second says what the first ends with: before a size may stand how many pans there are.
fn is_same(first: &Run, second: &Run) -> bool {
    let falling = |run: &Run, figures: &[f64]| {
        let mut lengths: Vec<f64> = figures.iter().map(|figure| figure * run.unit.size).collect();
        lengths.sort_by(|a, b| b.total_cmp(a));
        lengths
    };
    let is_near = |(a, b): (&f64, &f64)| (a / b - 1.0).abs() <= ROUNDED;
    let Some(spare) = first.figures.len().checked_sub(second.figures.len()).filter(|spare| *spare < 2) else { return false };
    first.unit.id != second.unit.id && falling(first, &first.figures[spare..]).iter().zip(&falling(second, &second.figures)).all(is_near)
}

#[cfg(test)]
mod tests {
    use super::super::words::pieces;
    use super::*;

    #[track_caller]
    fn once(phrase: &str, plain: &str) {
        let mut tokens = pieces(phrase);
        without_second_writing(&mut tokens);
        assert_eq!(tokens, pieces(plain), "{phrase}");
    }

    #[test]
    fn a_size_in_two_units_is_one_size() {
        once("13 x 9 inch (33 x 23 cm)", "13 x 9 inch");
        once("9 x 13 inch (33 x 23 cm) baking tin", "9 x 13 inch baking tin");
        once("9x5x3 inch (23 x 13 x 8 cm) loaf tin", "9x5x3 inch loaf tin");
        once("9x5x3 inch (23x13x7 cm) loaf tin", "9x5x3 inch loaf tin");
        once("20cm/8in round tin", "20cm round tin");
        once("2 x 20cm (8 inch) sandwich tins", "2 x 20cm sandwich tins");
        once("8 in (20 cm) round, 2 in (5 cm) deep", "8 in round, 2 in deep");
    }

    #[test]
    fn two_lengths_of_one_pan_stay_two() {
        for phrase in ["9 inch round, 2 inches deep", "20 cm round 2 in deep", "13 x 9 x 2 in", "9 inch (30 cm) round"] {
            once(phrase, phrase);
        }
    }
}
