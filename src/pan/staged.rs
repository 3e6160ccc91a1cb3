//! A bake in stages in other pans: how the time that was estimated for all of it is shared out. What is hot is of the outside, and the depth of the batter moves the rest.

use super::bake_written::Bake;
use crate::quantity::{Minutes, Span};
use crate::reference::Account;

/// So long a hot start or a hot end is: what is hot for longer bakes the whole, as the first hour of a falling oven does. Common practice from memory, no source.
const HOT_MINUTES: f64 = 25.0;
/// More than this of a bake that has become short is not hot, unless it was before. Common practice from memory, no source.
const MOST_HOT: f64 = 0.5;

/// What becomes of each stage.
pub(super) struct Staged {
    /// In the order of the stages.
    pub minutes: Vec<Span<Minutes>>,
    kept: Kept,
}

/// What becomes of the stages that are hot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kept {
    /// No stage is hot: each takes its share of the change.
    None,
    /// The hot ones stay as they are.
    Hot,
    /// They would be too much of what has become a short bake.
    Shortened,
}

/// Which stages are hot and short: the first, where it is hotter than the next, and the last, where it is hotter than the one before.
fn hot(bake: &Bake) -> Vec<bool> {
    let mut standing = None;
    // A stage that names no oven bakes as the one before.
    let ovens: Vec<_> = bake
        .stages()
        .map(|stage| {
            standing = stage.oven.map(|oven| oven.value()).or(standing);
            standing
        })
        .collect();
    let last = ovens.len() - 1;
    let hotter = |one: usize, other: usize| ovens[one].zip(ovens[other]).is_some_and(|(one, other)| one > other);
    let short =
        |at: usize| bake.stages().nth(at).and_then(|stage| stage.minutes).is_some_and(|time| time.value().in_minutes() <= HOT_MINUTES);
    let is_hot = |at: usize| (at == 0 && hotter(0, 1) || at == last && hotter(last, last - 1)) && short(at);
    (0..=last).map(is_hot).collect()
}

/// The new time of the whole, shared out. Nothing for a bake in one stage, or where a stage does not say how long it is.
pub(super) fn shared_out(bake: &Bake, now: Span<Minutes>, account: &mut Account) -> Option<Staged> {
    if bake.then.is_empty() {
        return None;
    }
    let before: Vec<Span<Minutes>> = bake.stages().map(|stage| stage.minutes).collect::<Option<_>>()?;
    let hot = hot(bake);
    let sum = |of: bool| {
        let ends = before.iter().zip(&hot).filter(|(_, hot)| **hot == of).map(|(time, _)| ends(*time));
        ends.fold([0.0; 3], |sum, time| [0, 1, 2].map(|end| sum[end] + time[end]))
    };
    let (held, rest, now) = (sum(true), sum(false), ends(now));
    let share = MOST_HOT.max(held[1] / (held[1] + rest[1]));
    let shortened = if held[1] > share * now[1] { share * now[1] / held[1] } else { 1.0 };
    // What is left of the new time for the others, over what they had: at each end by itself, so that the sums stay.
    let factors = [0, 1, 2].map(|end| (now[end] - held[end] * shortened).max(0.0) / rest[end]);
    let minutes = before.iter().zip(&hot).map(|(time, hot)| moved(*time, if *hot { [shortened; 3] } else { factors }));
    let kept = match (hot.contains(&true), shortened < 1.0) {
        (false, _) => Kept::None,
        (true, false) => Kept::Hot,
        (true, true) => Kept::Shortened,
    };
    account.step(|| {
        let [low, _, high] = factors;
        let others = format!("{:.2} to {:.2} times as long", low.min(high), low.max(high));
        match kept {
            Kept::None => format!("Each stage {others}"),
            Kept::Hot => format!("The hot stage kept, {:.0} min; the others {others}", held[1]),
            Kept::Shortened => format!("The hot stage cut to {:.0} min; the others {others}", held[1] * shortened),
        }
    });
    Some(Staged { minutes: minutes.collect(), kept })
}

fn ends(time: Span<Minutes>) -> [f64; 3] {
    [time.low(), time.value(), time.high()].map(Minutes::in_minutes)
}

/// A time multiplied; what stays as it is is not rounded. Nobody sets a clock to less than a minute.
fn moved(time: Span<Minutes>, factors: [f64; 3]) -> Span<Minutes> {
    if factors == [1.0; 3] {
        return time;
    }
    let [one, value, other] = [0, 1, 2].map(|end| ends(time)[end] * factors[end]);
    let whole = |time: f64| Minutes::minutes(time.max(1.0));
    // Within a billionth a whole minute is one.
    Span::new(whole((one.min(other) + 1e-9).floor()), whole(value.round()), whole((one.max(other) - 1e-9).ceil()))
}

impl Staged {
    /// What it rests on.
    pub(super) fn model(&self) -> &'static str {
        match self.kept {
            Kept::None => {
                " What is estimated is the time of all stages, and each takes its share of it: common practice, from memory and without a source."
            }
            Kept::Hot => {
                " What is estimated is the time of all stages: a short, hot start or end, which sets or browns the outside, keeps its minutes, and the others take the change. That is common practice, from memory and without a source."
            }
            Kept::Shortened => {
                " What is estimated is the time of all stages: a short, hot start or end would be most of so short a bake, so it is cut too, and the others take the rest. That is common practice, from memory and without a source."
            }
        }
    }
}
