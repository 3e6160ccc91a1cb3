//! The bake in another pan: an estimate by ratios from a bake that is known, never from nothing. It says when to begin to look, not when it is done.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::boiling::{Doneness, boiling, doneness};
use super::conduction::{Baking, time_ratio};
use super::goods::{Batter, batter};
use super::one::Pan;
use super::oven::{Move, OvenKind, dial_change, material_time};
use super::several::Pans;
use crate::quantity::{
    Amount, Code, Counting, Family, Fault, Faults, Length, Measures, Minutes, Pointer, Quantifiable, Quantity, Share, Span, Temperature,
    TemperatureChange, Written, read_amount,
};
use crate::reference::{Account, Reference};

/// How something is baked, as written.
#[derive(Clone, Debug, PartialEq, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct BakeWritten {
    /// The oven's setting: a temperature or a gas mark.
    #[serde(default)]
    #[schema(nullable = false)]
    pub oven: Option<Written>,
    /// How long it bakes: minutes where no unit is said, and a range where there is one.
    #[serde(default)]
    #[schema(nullable = false)]
    pub minutes: Option<Written>,
    /// The oven for which the setting is meant; conventional where it is left out.
    #[serde(default)]
    #[schema(nullable = false)]
    pub from_oven: Option<OvenKind>,
    /// The oven that is used; the same where it is left out.
    #[serde(default)]
    #[schema(nullable = false)]
    pub to_oven: Option<OvenKind>,
}

/// How something is baked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bake {
    pub oven: Option<Span<Temperature>>,
    pub minutes: Option<Span<Minutes>>,
    pub ovens: [OvenKind; 2],
}

impl BakeWritten {
    /// The bake that is meant; all faults at once.
    pub fn resolve(&self, at: &Pointer<'_>) -> Result<Bake, Faults> {
        let mut faults = Faults::new();
        let oven = self.oven.as_ref().and_then(|written| faults.keep(oven(written, &at.key("oven"))));
        let minutes = self.minutes.as_ref().and_then(|written| faults.keep(minutes(written, &at.key("minutes"))));
        let from = self.from_oven.unwrap_or_default();
        faults.or(Bake { oven, minutes, ovens: [from, self.to_oven.unwrap_or(from)] })
    }
}

fn oven(written: &Written, at: &Pointer<'_>) -> Result<Span<Temperature>, Fault> {
    let amount = read_amount(written, Measures::Us, at)?;
    let ends = [amount.number.low, amount.number.value, amount.number.high].map(|figure| degrees(&amount, figure));
    let [Some(low), Some(value), Some(high)] = ends else {
        let figure = amount.number.value;
        let code = if amount.counting == Counting::Nothing { Code::UnitMissing } else { Code::WrongUnit };
        return Err(Fault::new(at, code, written.as_text(), "an oven temperature, such as \"350 F\", \"180 C\" or \"gas mark 4\"")
            .trying([format!("{figure} F"), format!("{figure} C")]));
    };
    if low.in_celsius() < 40.0 || high.in_celsius() > 350.0 {
        return Err(
            Fault::new(at, Code::OutOfRange, written.as_text(), "an oven temperature from 40 °C to 350 °C").trying(["350 F", "180 C"])
        );
    }
    Ok(Span::new(low, value, high))
}

fn degrees(amount: &Amount, figure: f64) -> Option<Temperature> {
    match &amount.counting {
        Counting::Unit(unit) if unit.family == Family::OvenMark => Temperature::gas_mark(figure),
        Counting::Unit(unit) if unit.id == "fahrenheit" => Some(Temperature::fahrenheit(figure)),
        Counting::Unit(unit) if unit.id == "celsius" => Some(Temperature::celsius(figure)),
        _ => None,
    }
}

fn minutes(written: &Written, at: &Pointer<'_>) -> Result<Span<Minutes>, Fault> {
    let amount = read_amount(written, Measures::Us, at)?;
    let size = match &amount.counting {
        Counting::Nothing => 1.0,
        Counting::Unit(unit) if unit.family == Family::Time => unit.size,
        _ => {
            return Err(
                Fault::new(at, Code::WrongUnit, written.as_text(), "a time, such as \"38-44\" minutes or \"1 1/4 h\"").trying(["35 min"])
            );
        }
    };
    let [low, value, high] = [amount.number.low, amount.number.value, amount.number.high].map(|figure| Minutes::minutes(figure * size));
    if low.in_minutes() < 1.0 || high.in_minutes() > 1440.0 {
        return Err(Fault::new(at, Code::OutOfRange, written.as_text(), "a time from 1 minute to 24 hours").trying(["35 min"]));
    }
    Ok(Span::new(low, value, high))
}

/// A bake to be moved to other pans.
pub struct BakeMoved<'a> {
    pub bake: &'a Bake,
    pub from: &'a Pans,
    pub to: &'a Pans,
    /// How full each of them is.
    pub fills: [Span<Share>; 2],
    /// The formula's style, if it has one.
    pub style: Option<&'a str>,
    /// The crumb's end temperature for that style, and the baker's own test for it.
    pub done: Option<Span<Temperature>>,
    pub test: Option<&'a str>,
    /// The height of the kitchen.
    pub altitude: Length,
}

/// A bake estimate: ratios, not absolutes.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct BakeShown {
    /// How long it may take, as a span in whole minutes. Missing where no estimate can be made.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub minutes: Option<Quantity>,
    /// When to begin to look.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub check_from: Option<Quantity>,
    /// The oven's setting.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub oven: Option<Quantity>,
    /// How to tell that it is done.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 600)]
    pub test: Option<String>,
    /// What the estimate rests on, or why there is none.
    #[schema(max_length = 800)]
    pub model: String,
}

/// The bake in the new pans.
pub fn estimate(moved: &BakeMoved<'_>, reference: &'static Reference, account: &mut Account) -> BakeShown {
    match batter(moved.style) {
        Err(none) => {
            BakeShown { minutes: None, check_from: None, oven: None, test: None, model: format!("No estimate: {}.", lower(none.why)) }
        }
        Ok(goods) => estimate_batter(moved, goods, reference, account),
    }
}

fn lower(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

fn estimate_batter(moved: &BakeMoved<'_>, goods: Batter, reference: &'static Reference, account: &mut Account) -> BakeShown {
    let (from, to) = (moved.from.first(), moved.to.first());
    told_materials([from, to], account);
    if moved.to.iter().count() > 1 {
        account.assume_at(
            format!("The bake is estimated for {}; other sizes take their own time", to.text()),
            to.place_of(None),
            to.text(),
        );
    }
    let minutes = moved.bake.minutes.and_then(|minutes| time(moved, minutes, reference, account));
    let setting = Move { ovens: moved.bake.ovens, materials: [from.material(), to.material()], altitude: moved.altitude };
    let oven = moved.bake.oven.map(|oven| {
        let change = dial_change(&setting, reference, account);
        Span::new(oven.low() + change.low(), oven.value() + change.value(), oven.high() + change.high())
    });
    BakeShown {
        model: model(minutes.is_some(), moved.bake.minutes.is_some()),
        check_from: minutes.map(|minutes| check_from(minutes, reference, account).into()),
        minutes: minutes.map(Quantity::from),
        oven: oven.map(Quantity::from),
        test: Some(test(moved, goods, reference, account)),
    }
}

fn told_materials(pans: [&Pan; 2], account: &mut Account) {
    for pan in pans.into_iter().filter(|pan| !pan.material_given()) {
        account.assume_at("The pan is taken to be of light metal", pan.material_place(), "light-metal");
    }
}

fn time(moved: &BakeMoved<'_>, minutes: Span<Minutes>, reference: &'static Reference, account: &mut Account) -> Option<Span<Minutes>> {
    let [from, to] = [(moved.from.first(), moved.fills[0]), (moved.to.first(), moved.fills[1])]
        .map(|(pan, fill)| Baking { pan, batter: batter_depth(pan, fill) });
    let ratio = time_ratio(from, to, reference, account)?;
    let material = material_time([from.pan.material(), to.pan.material()], reference, account);
    let times = |minutes: Minutes, ratio: f64, material: f64| minutes.in_minutes() * ratio * material;
    let low = times(minutes.low(), ratio.low().raw(), material.low().raw());
    let value = times(minutes.value(), ratio.value().raw(), material.value().raw());
    let high = times(minutes.high(), ratio.high().raw(), material.high().raw());
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
fn test(moved: &BakeMoved<'_>, goods: Batter, reference: &'static Reference, account: &mut Account) -> String {
    let advised = reference.advices.on("crumb-end").find(|advice| advice.product == goods.crumb);
    let usual = moved.done.or_else(|| {
        account.cite(advised?.citation);
        advised?.temperature()
    });
    let own = moved.test.unwrap_or("the top springs back when pressed and the edge draws from the pan");
    let Some(usual) = usual else { return sentence(own) };
    let margin = reference.advices.find("boiling", "below-boiling");
    let under = margin.and_then(|advice| advice.change()).map_or(TemperatureChange::ZERO, |change| change.high());
    let boils = boiling(moved.altitude).in_celsius();
    account.cite_id("icao-standard-atmosphere");
    match doneness(usual, moved.altitude, under) {
        Doneness::Crumb(crumb) => {
            let (low, high) = (crumb.low().in_celsius().round(), crumb.high().in_celsius().floor().max(crumb.low().in_celsius().round()));
            let span = if low == high { format!("{low} °C") } else { format!("{low} to {high} °C") };
            format!("{} A thermometer in the middle shows {span}; water boils at {boils:.1} °C here.", sentence(own))
        }
        Doneness::Skewer => format!(
            "{} No thermometer can tell here: water boils at {boils:.1} °C, below the {:.0} °C that the crumb reaches lower down. Trust a skewer: clean, or with a few moist crumbs.",
            sentence(own),
            usual.low().in_celsius()
        ),
    }
}

fn sentence(text: &str) -> String {
    let mut letters = text.trim_end_matches('.').chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).chain(['.']).collect())
}

fn model(estimated: bool, asked: bool) -> String {
    match (estimated, asked) {
        (true, _) => "An estimate from the time that is known, not a measurement: time goes with heat's way into the batter (its depth and half the width, or half the ring's gap, taken together) to the power 0.8 to 1.5, widened to hold what is usual where the kind of pan changes. Ovens, pans and batters differ by more than this. Begin to look at the time given, and trust the test.",
        (false, true) => "No time can be estimated: neither heat's way through this pan nor a practice for its kind is known. Give its dimensions, or go by the test.",
        (false, false) => "No time was given to estimate from: only the oven and the test are told.",
    }
    .to_owned()
}

#[cfg(test)]
mod tests;
