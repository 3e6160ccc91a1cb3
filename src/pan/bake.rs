//! The bake in another pan: an estimate by ratios from a bake that is known, never from nothing. It says when to begin to look, not when it is done.

use serde::Serialize;
use utoipa::ToSchema;

use super::bake_written::Bake;
use super::boiling::{Doneness, boiling, doneness};
use super::conduction::{Baking, time_ratio};
use super::goods::no_estimate;
use super::one::Pan;
use super::oven::{Move, dial_change, material_time};
use super::several::Pans;
use super::stage::{StageShown, in_stages};
use super::staged::{Staged, shared_out};
use crate::quantity::{Length, Minutes, Quantity, Share, Span, TemperatureChange, lower_first, upper_first};
use crate::reference::{Account, Advice, Reference, Style};

/// A bake to be moved to other pans.
pub struct BakeMoved<'a> {
    pub bake: &'a Bake,
    pub from: &'a Pans,
    pub to: &'a Pans,
    /// How full each of them is.
    pub fills: [Span<Share>; 2],
    /// The formula's style, if it has one.
    pub style: Option<&'static Style>,
    /// The height of the kitchen.
    pub altitude: Length,
}

/// A bake estimate: ratios, not absolutes.
#[derive(Clone, Debug, Default, PartialEq, Serialize, ToSchema)]
pub struct BakeShown {
    /// How long it may take, as a span in whole minutes: in the first of several sizes, the first of several stages. Missing where no estimate can be made.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub minutes: Option<Quantity>,
    /// How long it may take in all, where it bakes in stages.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub in_all: Option<Quantity>,
    /// When to begin to look, from the start of the bake.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub check_from: Option<Quantity>,
    /// The same for each size, where there are several: tiers come out one after the other.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 20)]
    pub sizes: Vec<SizeBaked>,
    /// The oven's setting.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub oven: Option<Quantity>,
    /// What is done as it begins.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub note: Option<String>,
    /// The stages that follow, where it bakes in several.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 5)]
    pub then: Vec<StageShown>,
    /// How to tell that it is done.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 600)]
    pub test: Option<String>,
    /// What the estimate rests on, or why there is none.
    #[schema(max_length = 1000)]
    pub model: String,
}

impl BakeShown {
    /// All stages in words, with their new minutes; nothing where it bakes in one, or no time could be estimated.
    pub fn in_stages(&self) -> Option<String> {
        self.in_all.as_ref()?;
        let first = StageShown { oven: self.oven.clone(), minutes: self.minutes.clone(), note: self.note.clone() };
        let all: Vec<String> = std::iter::once(&first).chain(&self.then).map(StageShown::text).collect();
        Some(in_stages(&all))
    }
}

/// One of several sizes that bake together.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct SizeBaked {
    /// The pan.
    #[schema(max_length = 400)]
    pub pan: String,
    /// How long it may take in all.
    pub minutes: Quantity,
    /// When to begin to look.
    pub check_from: Quantity,
}

/// The bake in the new pans.
pub fn estimate(moved: &BakeMoved<'_>, reference: &'static Reference, account: &mut Account) -> BakeShown {
    // Where no style is said, a cake batter is meant.
    match moved.style.and_then(|style| no_estimate(style.goods)) {
        Some(why) => BakeShown { model: format!("No estimate: {}.", lower_first(why)), ..BakeShown::default() },
        None => estimate_batter(moved, reference, account),
    }
}

fn estimate_batter(moved: &BakeMoved<'_>, reference: &'static Reference, account: &mut Account) -> BakeShown {
    let (from, to) = (moved.from.first(), moved.to.first());
    told_materials([from, to], account);
    let whole = moved.bake.in_all();
    let times = whole.map(|minutes| moved.to.iter().map(|to| (to, time(moved, to, minutes, reference, account))).collect());
    let times: Vec<(&Pan, Option<Span<Minutes>>)> = times.unwrap_or_default();
    let first = times.first().and_then(|(_, minutes)| *minutes);
    let staged = first.and_then(|minutes| shared_out(moved.bake, minutes, account));
    let mut look = |minutes: Span<Minutes>| (minutes, check_from(minutes, reference, account));
    let looks: Vec<_> = times.into_iter().map(|(pan, minutes)| (pan, minutes.map(&mut look))).collect();
    let size = |(pan, look): &(&Pan, Option<(Span<Minutes>, Minutes)>)| {
        look.map(|(minutes, check_from)| SizeBaked { pan: pan.text(), minutes: minutes.into(), check_from: check_from.into() })
    };
    let sizes = if looks.len() > 1 { looks.iter().filter_map(size).collect() } else { Vec::new() };
    let setting = Move { ovens: moved.bake.ovens, materials: [from.material(), to.material()], altitude: moved.altitude };
    let known = moved.bake.stages().any(|stage| stage.oven.is_some());
    let change = if known { dial_change(&setting, reference, account) } else { Span::exact(TemperatureChange::ZERO) };
    let share = |stage: usize| staged.as_ref().and_then(|staged| staged.minutes.get(stage)).copied();
    let first_stage = moved.bake.first.moved(share(0).or(first), change);
    BakeShown {
        model: model(first.is_some(), moved.bake, staged.as_ref()),
        check_from: looks.first().and_then(|(_, look)| *look).map(|(_, check_from)| check_from.into()),
        minutes: first_stage.minutes,
        in_all: first.filter(|_| staged.is_some()).map(Quantity::from),
        sizes,
        oven: first_stage.oven,
        note: first_stage.note,
        then: moved.bake.then.iter().enumerate().map(|(number, stage)| stage.moved(share(number + 1), change)).collect(),
        test: Some(test(moved, reference, account)),
    }
}

fn told_materials(pans: [&Pan; 2], account: &mut Account) {
    let texts = ["The pan it was written for is taken to be of light metal", "The pan it goes into is taken to be of light metal"];
    for (pan, text) in pans.into_iter().zip(texts).filter(|(pan, _)| !pan.material_given()) {
        account.assume_at(text, pan.material_place(), "light-metal");
    }
}

fn time(
    moved: &BakeMoved<'_>,
    to: &Pan,
    minutes: Span<Minutes>,
    reference: &'static Reference,
    account: &mut Account,
) -> Option<Span<Minutes>> {
    let [from, to] =
        [(moved.from.first(), moved.fills[0]), (to, moved.fills[1])].map(|(pan, fill)| Baking { pan, batter: batter_depth(pan, fill) });
    let ratio = time_ratio(from, to, reference, account)?;
    let material = material_time([from.pan.material(), to.pan.material()], reference, account);
    let long = minutes * ratio * material;
    let [low, value, high] = [long.low(), long.value(), long.high()].map(Minutes::in_minutes);
    account.step(|| {
        format!(
            "{} min, {:.2} to {:.2} times as long: {low:.1} to {high:.1} min",
            minutes.value().in_minutes(),
            ratio.low().value(),
            ratio.high().value()
        )
    });
    // Nobody sets a clock to less than a minute; the ends are rounded outwards.
    Some(Span::new(Minutes::minutes(low.floor().max(1.0)), Minutes::minutes(value.round().max(1.0)), Minutes::minutes(high.ceil())))
}

fn batter_depth(pan: &Pan, fill: Span<Share>) -> Option<Length> {
    let capacity = pan.capacity().ok()?.value();
    pan.height_of(capacity * fill.value().as_factor())
}

fn check_from(minutes: Span<Minutes>, reference: &'static Reference, account: &mut Account) -> Minutes {
    let advice = reference.advices.find("check-from", "share");
    let share = advice.and_then(|advice| {
        account.cite(advice.citation);
        advice.ratio()
    });
    let early = share.map_or(minutes.low(), |share| minutes.low() * share.value());
    Minutes::minutes(early.in_minutes().floor().max(1.0))
}

/// The crumb's temperature under local boiling, or a skewer, beside the baker's own test.
fn test(moved: &BakeMoved<'_>, reference: &'static Reference, account: &mut Account) -> String {
    let usual = moved.style.and_then(|style| style.done).or_else(|| {
        let advised = moved.style.map_or_else(|| reference.advices.crumb("layer-cake"), |style| style.crumb);
        account.cite(advised?.citation);
        advised?.temperature()
    });
    let own = moved.style.map(|style| style.test).filter(|test| !test.is_empty());
    let own = own.unwrap_or("the top springs back when pressed and the edge draws from the pan");
    let Some(usual) = usual else { return sentence(own) };
    let margin = reference.advices.find("boiling", "below-boiling");
    let under = margin.and_then(Advice::change).map_or(TemperatureChange::ZERO, |change| change.high());
    let (boils, scale) = (boiling(moved.altitude), moved.bake.first.scale);
    let boils = scale.points([boils; 2], 1);
    account.cite_id("icao-standard-atmosphere");
    match doneness(usual, moved.altitude, under) {
        Doneness::Crumb(crumb) => {
            // What is rounded up would be hotter than water gets here.
            let low = scale.whole(crumb.low(), f64::round);
            let high = scale.whole(crumb.high(), f64::floor);
            let ends = [low, if high > low { high } else { low }];
            format!("{} A thermometer in the middle shows {}; water boils at {boils} here.", sentence(own), scale.points(ends, 0))
        }
        Doneness::Skewer => format!(
            "{} No thermometer can tell here: water boils at {boils}, below the {} that the crumb reaches lower down. Trust a skewer: clean, or with a few moist crumbs.",
            sentence(own),
            scale.points([usual.low(); 2], 0)
        ),
    }
}

fn sentence(text: &str) -> String {
    format!("{}.", upper_first(text.trim_end_matches('.')))
}

fn model(estimated: bool, bake: &Bake, staged: Option<&Staged>) -> String {
    let asked = bake.stages().any(|stage| stage.minutes.is_some());
    let text = match (estimated, asked, bake.in_all().is_some()) {
        (true, ..) => {
            "An estimate from the time that is known, not a measurement: time goes with heat's way into the batter (its depth and half the width, or half the ring's gap, taken together) to the power 0.8 to 1.5, widened to hold what is usual where the kind or the width of the pan changes. Ovens, pans and batters differ by more than this. Begin to look at the time given, and trust the test."
        }
        (_, true, false) => "No time can be estimated, for a stage does not say how long it is: only the oven and the test are told.",
        (_, true, true) => {
            "No time can be estimated: neither heat's way through this pan nor a practice for its kind is known. Give its dimensions, or go by the test."
        }
        (_, false, _) => "No time was given to estimate from: only the oven and the test are told.",
    };
    staged.map_or_else(|| text.to_owned(), |staged| [text, staged.model()].concat())
}

#[cfg(test)]
mod tests;
