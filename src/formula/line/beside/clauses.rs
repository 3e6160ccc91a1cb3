//! The sentences of a line that is no ingredient.

use super::words::{TINS, YIELDS};
use super::{baked, made};
use crate::formula::line::text::is_figure;
use crate::quantity::plain;

/// The sentences of a line, and what is parted by bars and dots.
pub(super) fn clauses(line: &str) -> Vec<&str> {
    let mut parts: Vec<&str> = Vec::with_capacity(2);
    for piece in line.split(['|', '•', '·']) {
        let mut from = 0;
        for (at, _) in piece.match_indices(". ") {
            // "Springform 24 cm. 170 C": a measure ends a sentence too.
            let rest = &piece[at + 2..];
            // "160 C. 1¾-2 hrs": the time stays with its oven.
            let timed = || baked::time(&plain(rest)).is_some() && !baked::is_set_within(&piece[from..at]);
            let set = || baked::is_set_within(rest) || timed();
            let before = piece[from..at].trim_start();
            let about =
                ["approx", "ca", "c", "no", "nr", "reg", "Reg"].iter().any(|word| before == *word || before.ends_with(&format!(" {word}")));
            let measured = || !about && rest.starts_with(is_figure) && (ENDS.iter().any(|word| piece[from..at].ends_with(word)) || set());
            if rest.starts_with(char::is_uppercase) || measured() {
                parts.push(&piece[from..at]);
                from = at + 2;
            }
        }
        // "180 C, 30 min, cut into 15": what it makes stands behind the oven.
        let rest = &piece[from..];
        match SERVED.iter().filter_map(|mark| rest.find(mark)).min() {
            // "500 g quinces, cut into 8 wedges" is what is done to them, known or not.
            Some(at) if rest[at..].starts_with(", cut") && is_of_a_thing(&rest[..at]) => parts.push(rest),
            Some(at) => parts.extend([&rest[..at], &rest[at + 2..]]),
            // "Yields 9 rolls; 180 C for 20 min": the oven stands behind what it makes.
            None => match rest.find([';', ',']).filter(|at| makes(rest) && baked::is_set_within(&rest[*at..])) {
                Some(at) => parts.extend([&rest[..at], &rest[at + 1..]]),
                // "225 C, 8-10 min, 40 buns".
                None => match rest.rfind([';', ',']).filter(|at| baked::is_set_within(&rest[..*at]) && is_baked_goods(&rest[at + 1..])) {
                    Some(at) => parts.extend([&rest[..at], &rest[at + 1..]]),
                    // "40 buns, 225 C, 8-10 min".
                    None => match rest.find([';', ',']).filter(|at| is_baked_goods(&rest[..*at]) && baked::is_set_within(&rest[*at..])) {
                        Some(at) => parts.extend([&rest[..at], &rest[at + 1..]]),
                        None => parts.push(rest),
                    },
                },
            },
        }
    }
    parts.into_iter().map(|part| part.trim().trim_end_matches('.')).filter(|part| !part.is_empty()).collect()
}

/// "40 buns" and nothing else.
fn is_baked_goods(text: &str) -> bool {
    made::pieces(text.trim().trim_end_matches('.')).is_some()
}

fn makes(text: &str) -> bool {
    let first = plain(text.trim_start().split([' ', ':']).next().unwrap_or_default()).into_owned();
    YIELDS.contains(&&*first)
}

/// What stands behind the oven and tells what is made.
const SERVED: [&str; 10] = [
    ", cut into ",
    ", cuts into ",
    ", serves ",
    ", makes ",
    ", yields ",
    "; cut into ",
    "; cuts into ",
    "; serves ",
    "; makes ",
    "; yields ",
];

/// What a sentence may end with though a number follows.
const ENDS: [&str; 6] = ["cm", "min", "mins", "minutes", "tin", "pan"];

/// Whether a text begins with an amount that is none of a tin, an oven or a time.
fn is_of_a_thing(text: &str) -> bool {
    let lower = plain(text);
    let of_tin = lower.split([' ', ',']).any(|word| TINS.contains(&word));
    text.trim_start().starts_with(is_figure) && !of_tin && !baked::is_set_within(&lower) && baked::time(&lower).is_none()
}
