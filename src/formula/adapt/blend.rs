//! A mixture that comes nearest to an ingredient in what it is made of: water, fat, sugar, starch and protein, by least squares with no amount below nothing (the active-set way of Lawson and Hanson, 1974).

use crate::quantity::Factor;
use crate::reference::{Composition, Constituent};

/// What is kept, in the order of the columns.
pub(super) const KEPT: [Constituent; 5] =
    [Constituent::Water, Constituent::Fat, Constituent::Sugars, Constituent::Starch, Constituent::Protein];
const ROWS: usize = KEPT.len();

type Column = [f64; ROWS];

/// A mixture and how far it is off.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Blend {
    /// Grams of each on hand, for a gram of what it stands for.
    pub grams: Vec<Factor>,
    /// What is missing of each constituent, or too much where it is below nothing, in grams for a gram.
    pub missing: Column,
    /// The length of what is missing over the length of what was wanted.
    pub off: Factor,
}

pub(super) fn column(composition: &Composition) -> Column {
    KEPT.map(|constituent| composition.share(constituent).value())
}

/// The mixture nearest to `wanted`.
pub(super) fn nearest(wanted: &Column, on_hand: &[Column]) -> Blend {
    let amounts = least_squares(wanted, on_hand);
    let missing = residual(wanted, on_hand, &amounts);
    let length = |column: &Column| column.iter().map(|part| part * part).sum::<f64>().sqrt();
    let whole = length(wanted);
    let off = if whole > 0.0 { length(&missing) / whole } else { 1.0 };
    Blend { grams: amounts.into_iter().map(Factor::times).collect(), missing, off: Factor::times(off) }
}

fn residual(wanted: &Column, on_hand: &[Column], amounts: &[f64]) -> Column {
    let mut left = *wanted;
    for (column, amount) in on_hand.iter().zip(amounts) {
        left.iter_mut().zip(column).for_each(|(left, part)| *left -= part * amount);
    }
    left
}

fn dot(a: &Column, b: &Column) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Below this a gain is the noise of arithmetic.
const NOISE: f64 = 1e-10;

fn least_squares(wanted: &Column, on_hand: &[Column]) -> Vec<f64> {
    let mut amounts = vec![0.0; on_hand.len()];
    let mut chosen: Vec<usize> = Vec::new();
    // Each round takes in one more; no more than so many rounds can be of use.
    for _ in 0..3 * on_hand.len().max(1) {
        let left = residual(wanted, on_hand, &amounts);
        let gain = |at: &usize| dot(&on_hand[*at], &left);
        let next = (0..on_hand.len()).filter(|at| !chosen.contains(at)).max_by(|a, b| gain(a).total_cmp(&gain(b)));
        let Some(next) = next.filter(|at| gain(at) > NOISE) else { break };
        chosen.push(next);
        if !settle(wanted, on_hand, &mut chosen, &mut amounts) {
            break;
        }
    }
    amounts
}

/// Solves for the chosen; whatever would fall below nothing is put back. Says whether the newest could stay.
fn settle(wanted: &Column, on_hand: &[Column], chosen: &mut Vec<usize>, amounts: &mut [f64]) -> bool {
    loop {
        let Some(solved) = solve(wanted, on_hand, chosen) else {
            // The newest is a mixture of the others: it brings nothing new.
            chosen.pop();
            return false;
        };
        let worst = chosen
            .iter()
            .zip(&solved)
            .filter(|(_, new)| **new <= 0.0)
            .map(|(&at, &new)| amounts[at] / (amounts[at] - new))
            .min_by(f64::total_cmp);
        let share = worst.filter(|share| share.is_finite()).map_or(1.0, |share| share.clamp(0.0, 1.0));
        for (&at, new) in chosen.iter().zip(&solved) {
            amounts[at] += share * (new - amounts[at]);
        }
        if worst.is_none() {
            return true;
        }
        for &at in chosen.iter() {
            if amounts[at] <= NOISE {
                amounts[at] = 0.0;
            }
        }
        let before = chosen.len();
        chosen.retain(|at| amounts[*at] > NOISE);
        if chosen.is_empty() || chosen.len() == before {
            return !chosen.is_empty();
        }
    }
}

/// The normal equations of the chosen columns, by elimination with pivots; nothing where they have no single solution.
fn solve(wanted: &Column, on_hand: &[Column], chosen: &[usize]) -> Option<Vec<f64>> {
    let n = chosen.len();
    let mut rows: Vec<Vec<f64>> =
        chosen.iter().map(|&a| chosen.iter().map(|&b| dot(&on_hand[a], &on_hand[b])).chain([dot(&on_hand[a], wanted)]).collect()).collect();
    for at in 0..n {
        let pivot = (at..n).max_by(|&a, &b| rows[a][at].abs().total_cmp(&rows[b][at].abs()))?;
        rows.swap(at, pivot);
        if rows[at][at].abs() < 1e-9 {
            return None;
        }
        let (above, below) = rows.split_at_mut(at + 1);
        let base = &above[at];
        for row in below {
            let times = row[at] / base[at];
            row.iter_mut().zip(base).skip(at).for_each(|(cell, base)| *cell -= times * base);
        }
    }
    let mut solved = vec![0.0; n];
    for at in (0..n).rev() {
        let known: f64 = (at + 1..n).map(|other| rows[at][other] * solved[other]).sum();
        solved[at] = (rows[at][n] - known) / rows[at][at];
    }
    solved.iter().all(|x| x.is_finite()).then_some(solved)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The best of all subsets whose plain least squares has nothing below nothing: slow, and surely right.
    fn by_trying_all(wanted: &Column, on_hand: &[Column]) -> f64 {
        let square = |column: &Column| dot(column, column);
        (0..1_usize << on_hand.len())
            .filter_map(|set| {
                let chosen: Vec<usize> = (0..on_hand.len()).filter(|at| set >> at & 1 == 1).collect();
                let solved = solve(wanted, on_hand, &chosen)?;
                let mut amounts = vec![0.0; on_hand.len()];
                chosen.iter().zip(&solved).for_each(|(&at, amount)| amounts[at] = *amount);
                solved.iter().all(|amount| *amount >= 0.0).then(|| square(&residual(wanted, on_hand, &amounts)))
            })
            .fold(square(wanted), f64::min)
    }

    #[test]
    fn no_other_mixture_of_what_is_on_hand_comes_nearer() {
        let mut seed = 7_u64;
        let mut chance = || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) as f64 / f64::from(1_u32 << 31)
        };
        for _ in 0..2000 {
            let mut column = || -> Column { [0; ROWS].map(|_| if chance() < 0.4 { 0.0 } else { chance() }) };
            let wanted = column();
            let on_hand: Vec<Column> = (0..6).map(|_| column()).collect();
            let blend = nearest(&wanted, &on_hand);
            assert!(blend.grams.iter().all(|grams| grams.value() >= 0.0));
            let (found, best) = (dot(&blend.missing, &blend.missing), by_trying_all(&wanted, &on_hand));
            assert!(found <= best + 1e-7, "{found} for {best}: {wanted:?} {on_hand:?}");
        }
    }

    #[test]
    fn what_is_on_hand_stands_for_itself() {
        let milk = [0.88, 0.033, 0.05, 0.0, 0.032];
        let blend = nearest(&milk, &[[1.0, 0.0, 0.0, 0.0, 0.0], milk]);
        assert!(blend.off.value() < 1e-9 && (blend.grams[1].value() - 1.0).abs() < 1e-9, "{blend:?}");
    }

    #[test]
    fn nothing_on_hand_is_all_missing() {
        let blend = nearest(&[1.0, 0.0, 0.0, 0.0, 0.0], &[[0.0, 1.0, 0.0, 0.0, 0.0]]);
        assert_eq!((blend.off.value(), blend.grams[0].value()), (1.0, 0.0));
    }
}
