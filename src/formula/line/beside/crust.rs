//! A crust that is baked before it is filled: "Blind bake 15 min at 190 C; bake 30 min at 160 C", "350 F; crust 10 min, filling 15 min". It is told, and the bake of the formula is that of what fills it.

use super::Beside;
use super::baked::{of_bake, setting, settings};
use super::stages::{StageSaid, stages};
use super::time::time;
use crate::pan::{in_stages, said};

/// A sentence of a crust that is baked blind, with the bake that follows behind it.
pub(super) fn blind(lower: &str) -> Option<Beside> {
    if !lower.contains("blind") && !lower.contains("par-bake") {
        return None;
    }
    let (crust, whole) = lower.find("; bake ").map_or((lower, None), |at| (&lower[..at], Some(of_bake(&lower[at + 2..]))));
    let ahead = ahead(crust);
    let alone = || ahead.as_ref().map(|_| Beside::aside(super::STEP));
    whole.or_else(alone).map(|said| Beside { ahead, ..said })
}

/// How it is baked: "15 min at 190 C".
fn ahead(lower: &str) -> Option<String> {
    if let Some(stages) = stages(lower).filter(|stages| stages.len() > 1) {
        return Some(in_stages(&stages.iter().map(StageSaid::text).collect::<Vec<_>>()));
    }
    let mut one = Beside::default();
    setting(lower, &mut one);
    let text = said(time(lower).map(|time| time.text).as_deref(), one.oven.as_deref(), None);
    (!text.is_empty()).then_some(text)
}

/// What is baked empty, and what is baked in it.
const CRUSTS: [&str; 7] = ["crust", "base", "shell", "pastry", "case", "tart shell", "pie crust"];
const FILLINGS: [&str; 6] = ["filling", "filled", "with filling", "with the filling", "with its filling", "when filled"];

/// "350 F; crust 10 min, filling 15 min", "crust 10 min at 375 F, filled 25 min at 325 F": each has its time, and the oven before both is that of both.
pub(super) fn apart(lower: &str) -> Option<Beside> {
    const BEFORE: [&str; 3] = ["then ", "bake ", "the "];
    if !FILLINGS[..2].iter().any(|word| lower.contains(word)) {
        return None;
    }
    let bare = |piece: &'_ str| BEFORE.iter().fold(piece.trim(), |rest, word| rest.strip_prefix(word).unwrap_or(rest)).to_owned();
    let pieces: Vec<String> = lower.split([',', ';', ':']).flat_map(|piece| piece.split(" then ")).map(bare).collect();
    let of = |words: &[&str], piece: &str| {
        let timed = |rest: &str| {
            rest.starts_with([' ', '-']) && time(rest).is_some_and(|time| rest[..time.from].len() < 5 || !settings(rest).is_empty())
        };
        words.iter().any(|word| piece.strip_prefix(word).is_some_and(timed))
    };
    let crust = pieces.iter().position(|piece| of(&CRUSTS, piece))?;
    let filled = pieces.iter().position(|piece| of(&FILLINGS, piece))?;
    let before = pieces[..crust.min(filled)].join(", ");
    let of_both = |piece: &str| if settings(piece).is_empty() { format!("{before} {piece}") } else { piece.to_owned() };
    Some(Beside { ahead: ahead(&of_both(&pieces[crust])), ..of_bake(of_both(&pieces[filled]).trim()) })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_crust_with_its_own_time_is_baked_ahead_of_what_fills_it() {
        for (line, ahead, oven, minutes) in [
            ("350f; crust 10 min, filling 15 min", "10 min at 350 F", "350 F", "15 min"),
            ("bake at 180 c: the crust 10 minutes, then filled 25 minutes", "10 min at 180 C", "180 C", "25 min"),
            ("crust 10 min at 375f, filling 25-30 min at 325f", "10 min at 375 F", "325 F", "25-30 min"),
            ("bake crust for 12 min at 190 c; with filling 40 min at 160 c", "12 min at 190 C", "160 C", "40 min"),
        ] {
            let said = of_bake(line);
            assert_eq!(
                (said.ahead.as_deref(), said.oven.as_deref(), said.minutes.as_deref()),
                (Some(ahead), Some(oven), Some(minutes)),
                "{line}"
            );
        }
        for line in ["350 f 30 min, until the filling bubbles", "180 c, crust golden, filling set, 35 min"] {
            assert_eq!(of_bake(line).ahead, None, "{line}");
        }
    }
}
