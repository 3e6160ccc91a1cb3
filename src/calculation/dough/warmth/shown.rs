//! The temperature of the water, computed both ways, and the ice that goes with it; with what has to be said about either.

use serde::Serialize;
use utoipa::ToSchema;

use super::IceWay;
use super::found::{below_freezing, cooled_by_what, disagreement, judged, steered};
use super::given::{Given, degrees, point};
use crate::calculation::dough::answer::DoughFinding;
use crate::formula::{Dough, Heats, Icing, Portion, Warmth, balanced_water};
use crate::quantity::{Code, Factor, Fault, Faults, Mass, Pointer, Proportion, Quantity, Span, Temperature, TemperatureChange};
use crate::reference::{Account, Reference, short};

/// How warm the water must be, in the scale of `desired`.
#[derive(Debug, Serialize, ToSchema)]
pub struct TemperatureShown {
    /// How many terms the sum has: 3, or 4 with a preferment.
    #[schema(minimum = 3.0, maximum = 4.0, examples(3.0))]
    pub factor: crate::quantity::Figure,
    /// The friction, a difference on the scale of the sum.
    pub friction: Quantity,
    /// What is poured, by its name; nothing where nothing is.
    #[serde(skip)]
    pub poured: Option<String>,
    /// The water by the sum of factors; its range holds the spread of the friction and the balance of heat.
    pub water: Quantity,
    /// The water by a balance of heat that weighs flour, preferment and the rest; where the masses are known.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub by_heat: Option<Quantity>,
    /// The ice, where it was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ice: Option<IceShown>,
}

/// Ice for the water by the sum of factors.
#[derive(Debug, Serialize, ToSchema)]
pub struct IceShown {
    /// How the ice is used.
    pub way: IceWay,
    /// The ice to weigh.
    pub ice: Quantity,
    /// The water to draw from the tap beside it.
    pub water: Quantity,
    /// The ice as a share of all water, itself included.
    pub share: Proportion,
    /// The ice if it takes the place of part of the water.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub if_replacing: Option<Quantity>,
    /// The ice if it comes on top of all the water.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub if_added: Option<Quantity>,
}

/// The temperature with its findings.
pub(in crate::calculation::dough) struct Answered {
    pub shown: TemperatureShown,
    pub findings: Vec<DoughFinding>,
}

pub(in crate::calculation::dough) fn answered(
    given: &Given,
    dough: Option<&Dough>,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<Answered, Faults> {
    let preferment = preferment(given, dough, account)?;
    let others: Vec<_> = [given.room, given.flour].into_iter().chain(preferment).collect();
    let friction = friction(given, others.len() + 1, account);
    let warmth = Warmth { desired: given.desired, others, friction };
    let water = warmth.water();
    account.cite_id("pizza-today-2018");
    step(&warmth, water, account);
    let balanced = dough.and_then(|dough| by_heat(given, dough, preferment, &warmth, reference, account));
    let poured = dough.filter(|_| given.water.is_none()).map_or(Some("water"), |dough| dough.poured().map(|poured| poured.name));
    // With hardly any water the balance asks for what no water can be: it then gives no figure.
    let likely = if poured == Some("water") { LIKELY } else { LIKELY_MILK };
    let by_heat = balanced.filter(|water| likely.contains(water));
    let range = by_heat.map_or(water, |heat| water.hull(Span::exact(heat)));
    let mut findings = Vec::new();
    findings.extend(steered(given, dough, poured, balanced.filter(|_| by_heat.is_none())));
    judged(given, water.value(), reference, account, &mut findings);
    findings.extend(by_heat.and_then(|heat| disagreement(given, water.value(), heat)));
    findings.extend(cooled_by_what(given, water.value()));
    let ice = given.ice.map(|way| iced(way, given, dough, range, reference, account, &mut findings)).transpose()?;
    let shown = TemperatureShown {
        factor: crate::quantity::Figure(warmth.factor().value()),
        friction: degrees(warmth.friction, given.fahrenheit),
        poured: poured.map(str::to_owned),
        water: point(range, given.fahrenheit),
        by_heat: by_heat.map(|heat| point(Span::exact(heat), given.fahrenheit)),
        ice: ice.flatten(),
    };
    Ok(Answered { shown, findings })
}

/// The friction on the sum of so many terms: one that was measured over fewer or more warms the dough as much in each.
fn friction(given: &Given, terms: usize, account: &mut Account) -> Span<TemperatureChange> {
    let Some(measured) = given.measured_over.filter(|measured| *measured != terms) else { return given.friction };
    let friction = given.friction * Factor::times(terms as f64 / measured as f64);
    let root = Pointer::ROOT;
    let temperature = root.key("temperature");
    let trial = temperature.key("trial");
    let [before, now] = [given.friction, friction].map(|friction| degrees(friction, given.fahrenheit).text);
    let text = match measured < terms {
        true => "The trial had no preferment and this dough has one",
        false => "The trial had a preferment and this dough has none",
    };
    let text = format!("{text}: the friction that is {before} over {measured} terms is {now} over {terms}, for it warms the dough as much");
    account.assume(text, &trial.key("preferment"), now.to_string());
    friction
}

fn preferment(given: &Given, dough: Option<&Dough>, account: &mut Account) -> Result<Option<Temperature>, Faults> {
    let root = Pointer::ROOT;
    let temperature = root.key("temperature");
    let at = temperature.key("preferment");
    match (dough.map(|dough| !dough.preferments.is_empty()), given.preferment) {
        (Some(false), Some(_)) => Err(Fault::new(&at, Code::NotTogether, "a preferment's temperature", "a dough with a preferment").into()),
        (Some(true), None) => {
            account.assume("The preferment is as warm as the room", &at, given.said(given.room).to_string());
            Ok(Some(given.room))
        }
        (_, preferment) => Ok(preferment),
    }
}

fn step(warmth: &Warmth, water: Span<Temperature>, account: &mut Account) {
    account.step(|| {
        let others: Vec<_> = warmth.others.iter().map(|other| short(other.in_celsius())).collect();
        let friction = short(warmth.friction.value().in_celsius_degrees());
        let desired = short(warmth.desired.in_celsius());
        format!(
            "water: {} x {desired} - {} - {friction} (friction) = {} °C",
            warmth.factor().value(),
            others.join(" - "),
            short(water.value().in_celsius())
        )
    });
}

/// What water, ice counted as its cold, can be.
const LIKELY: std::ops::RangeInclusive<Temperature> = Temperature::celsius(-60.0)..=Temperature::celsius(120.0);
/// Nobody pours milk with ice in it.
const LIKELY_MILK: std::ops::RangeInclusive<Temperature> = Temperature::celsius(0.0)..=Temperature::celsius(100.0);

/// Of so much of the dough the warmth counts: salt and yeast are less.
const MANY: Factor = Factor::times(0.06);

/// Eggs, fat and sugar have no temperature of their own in the question.
fn tell_others(share: Factor, given: &Given, account: &mut Account) {
    if share > MANY {
        let root = Pointer::ROOT;
        let temperature = root.key("temperature");
        let text = "Whatever is neither flour, preferment nor poured is taken as warm as the room, eggs and fat too";
        account.assume(text, &temperature.key("room"), given.said(given.room).to_string());
    }
}

/// Every portion by its mass: the friction of the sum, shared among its terms, is the rise of the whole dough.
fn by_heat(
    given: &Given,
    dough: &Dough,
    preferment: Option<Temperature>,
    warmth: &Warmth,
    reference: &'static Reference,
    account: &mut Account,
) -> Option<Temperature> {
    let figures = &reference.dough;
    let (of_water, of_dry) = (figures.heat_of_water.figure.value(), figures.heat_of_dry.figure.value());
    let poured = dough.poured();
    let in_dough = poured.map_or(Mass::ZERO, |poured| poured.mass);
    let mixed_heat = |share: Factor| Factor::times(of_water.value() * share.value() + of_dry.value() * (1.0 - share.value()));
    let poured_wet = poured.map_or(Mass::ZERO, |poured| poured.mass * poured.water);
    // Milk takes up less than water; water that is told apart is water.
    let (water, heat) = match (given.water, poured) {
        (Some(water), _) => (water, of_water),
        (None, Some(poured)) => (poured.mass, mixed_heat(poured.water)),
        (None, None) => return None,
    };
    let mut rest = Vec::new();
    let mut others = Mass::ZERO;
    for part in 0..dough.formula.parts.len() {
        let held = dough.held(part);
        let [flour, wet, whole] = [&held.flour, &held.water, &held.whole].map(|total| total.mass().value());
        let mixed = |mass: Mass, wet: Mass, temperature| {
            let share = if mass > Mass::ZERO { wet / mass } else { Factor::ZERO };
            Portion { mass, heat: mixed_heat(share), temperature }
        };
        match preferment.filter(|_| dough.preferments.contains(&part)) {
            Some(temperature) => rest.push(mixed(whole, wet, temperature)),
            None => {
                let (out, wet_out) = if part == dough.root { (in_dough, poured_wet) } else { (Mass::ZERO, Mass::ZERO) };
                rest.push(mixed(flour, Mass::ZERO, given.flour));
                rest.push(mixed(whole - flour - out, wet - wet_out, given.room));
                others += whole - flour - out;
            }
        }
    }
    let rise = TemperatureChange::celsius_degrees(warmth.friction.value().in_celsius_degrees() / warmth.factor().value());
    let found = balanced_water(given.desired, &rest, water, heat, rise)?;
    tell_others(others / dough.whole().whole().mass().value(), given, account);
    account.cite(figures.heat_of_water.citation);
    account.cite(figures.heat_of_dry.citation);
    account.step(|| {
        format!(
            "balance of heat with {} g of {}, {} kJ/kgK for water, {} for the rest, a rise of {} in mixing: {} °C",
            short(water.in_grams()),
            poured.filter(|_| given.water.is_none()).map_or("water", |poured| poured.name),
            short(of_water.value()),
            short(of_dry.value()),
            short(rise.in_celsius_degrees()),
            short(found.in_celsius())
        )
    });
    Some(found)
}

/// The water that is iced: as given, else that of the dough.
fn iced_water(given: &Given, dough: Option<&Dough>, at: &Pointer<'_>) -> Result<Mass, Fault> {
    let water = given.water.or_else(|| dough.map(Dough::poured_water)).filter(|water| *water > Mass::ZERO);
    water
        .ok_or_else(|| Fault::new(&at.key("water"), Code::MissingFigure, "nothing", "the mass of the water that is iced").trying(["10 kg"]))
}

/// The ice, where the tap is too warm without it.
fn iced(
    way: IceWay,
    given: &Given,
    dough: Option<&Dough>,
    range: Span<Temperature>,
    reference: &'static Reference,
    account: &mut Account,
    findings: &mut Vec<DoughFinding>,
) -> Result<Option<IceShown>, Faults> {
    let wanted = range.value();
    let root = Pointer::ROOT;
    let at = root.key("temperature");
    let Some(tap) = given.tap else { return Ok(None) };
    let water = iced_water(given, dough, &at)?;
    if wanted >= tap {
        findings.push(DoughFinding {
            id: "no-ice-needed",
            why: format!("It comes from the tap at {}, so that no ice is needed", given.said(tap)),
            mend: "Leave the ice out and warm the water".to_owned(),
        });
        return Ok(None);
    }
    let icing = Icing { water, tap, wanted, ice: given.ice_temperature, heats: Heats::from(&reference.dough) };
    // In the place of water there can be no more ice than water.
    let within = |ice: Span<Mass>| if ice.high() > water { Span::new(ice.low(), ice.value(), water) } else { ice };
    let (replacing, added) = (icing.across(range, Icing::replacing).map(within), icing.across(range, Icing::added));
    let chosen = match way {
        IceWay::Replacing => replacing,
        IceWay::Added => added,
    };
    let Some(ice) = chosen else {
        let found = format!("water of {}", given.said(wanted));
        let fault = Fault::new(&at, Code::OutOfRange, found, "a dough that ice can cool");
        return Err(fault.saying("Even all the water as ice would be too warm: chill the flour or mix with less friction").into());
    };
    [&reference.dough.latent_heat, &reference.dough.heat_of_ice].iter().for_each(|cited| account.cite(cited.citation));
    account.cite(reference.dough.heat_of_water.citation);
    ice_step(way, &icing, ice.value(), account);
    ice_judged(way, ice.value(), water, dough, reference, account, findings);
    findings.extend(below_freezing(given, wanted, findings));
    let drawn = match way {
        IceWay::Replacing => ice.map_falling(|ice| water - ice),
        IceWay::Added => Span::exact(water),
    };
    Ok(Some(IceShown {
        way,
        ice: Quantity::from(ice),
        water: Quantity::from(drawn),
        share: ice.map(|ice| (ice / all_water(way, water, ice)).as_percent()).into(),
        if_replacing: replacing.map(Quantity::from),
        if_added: added.map(Quantity::from),
    }))
}

fn ice_step(way: IceWay, icing: &Icing, ice: Mass, account: &mut Account) {
    account.step(|| {
        let [c, melting, below] = [icing.heats.water, icing.heats.melting, icing.heats.ice].map(|heat| short(heat.value().value()));
        let [water, tap, wanted] = [icing.water.in_grams(), icing.tap.in_celsius(), icing.wanted.in_celsius()].map(short);
        let (last, name) = match way {
            IceWay::Replacing => (&tap, "replacing"),
            IceWay::Added => (&wanted, "added"),
        };
        let frozen = short(-icing.ice.in_celsius());
        format!(
            "ice {name}: {water} g x {c} x ({tap} - {wanted}) / ({melting} + {c} x {last} + {below} x {frozen}) = {} g",
            short(ice.in_grams())
        )
    });
}

/// All water, the ice included.
fn all_water(way: IceWay, water: Mass, ice: Mass) -> Mass {
    if way == IceWay::Added { water + ice } else { water }
}

fn ice_judged(
    way: IceWay,
    ice: Mass,
    water: Mass,
    dough: Option<&Dough>,
    reference: &'static Reference,
    account: &mut Account,
    findings: &mut Vec<DoughFinding>,
) {
    let melts = &reference.dough.ice_that_melts;
    let share = (ice / all_water(way, water, ice)).value();
    if share > melts.figure.low().value() {
        account.cite(melts.citation);
        findings.push(DoughFinding {
            id: "ice-cannot-melt",
            why: format!(
                "Ice is {:.0} % of the water; beyond {:.0} to {:.0} % it has not melted when the mix ends",
                share * 100.0,
                melts.figure.low().value() * 100.0,
                melts.figure.high().value() * 100.0
            ),
            mend: "Chill the flour overnight, crush the ice fine, or mix with less friction".to_owned(),
        });
    }
    if way == IceWay::Added {
        let flour = dough.map(|dough| dough.flour().mass().value()).filter(|flour| *flour > Mass::ZERO);
        let wetter = flour.map(|flour| format!(": the hydration rises by {:.1} points", (ice / flour).value() * 100.0)).unwrap_or_default();
        findings.push(DoughFinding {
            id: "ice-wets-dough",
            why: format!("Ice that is added brings {:.0} g of water on top{wetter}", ice.in_grams()),
            mend: "Let the ice take the place of part of the water (`ice`: `replacing`)".to_owned(),
        });
    }
}
