//! What has to be said about the temperature of the water: where it harms, cannot be had, or cannot steer the dough.

use super::given::{Given, degrees};
use crate::calculation::dough::answer::DoughFinding;
use crate::formula::Dough;
use crate::quantity::{Quantity, Span, Temperature, TemperatureChange};
use crate::reference::{Account, Reference};

/// Where nothing is poured into the final dough, or too little for its temperature to tell: by the balance of heat it would have to be so cold or so hot.
pub(super) fn steered(given: &Given, dough: Option<&Dough>, poured: Option<&str>, unlikely: Option<Temperature>) -> Option<DoughFinding> {
    let Some(poured) = poured else {
        return Some(DoughFinding {
            id: "nothing-poured",
            why: "Nothing is poured into the final dough whose temperature could steer it".to_owned(),
            mend: "Warm or cool the preferment, the eggs or the flour instead, or keep some of the liquid for the final dough".to_owned(),
        });
    };
    let (dough, needed) = dough.zip(unlikely)?;
    let whole = Quantity::from(dough.whole().whole().mass().value()).text;
    let (degree, do_it) = if needed < given.desired { ("cold", "Chill") } else { ("hot", "Warm") };
    Some(DoughFinding {
        id: "too-little-poured",
        why: format!("There is too little {poured} to steer {whole} of dough: by the balance of heat no {poured} is {degree} enough"),
        mend: format!("{do_it} the flour, the eggs or the fat as well, and measure the dough of a trial"),
    })
}

/// What yeast is dissolved in is no warmer than this: common practice.
const YEAST_WATER: Temperature = Temperature::celsius(43.0);

/// So cold is water of which as much is ice as melts in a mix, from a tap of 15 °C: 15 - 0.65 x (15 + 79.9). Computed.
const AS_ICE: Temperature = Temperature::celsius(-47.0);

pub(super) fn judged(
    given: &Given,
    water: Temperature,
    reference: &'static Reference,
    account: &mut Account,
    findings: &mut Vec<DoughFinding>,
) {
    let hot = &reference.dough.water_kills_yeast;
    if given.desired >= hot.figure.low() {
        account.cite(hot.citation);
        let meant = Temperature::fahrenheit(given.desired.in_celsius());
        let meant = (!given.fahrenheit)
            .then(|| format!(", or write {:.0} F if that is meant: it is {:.0} °C", given.desired.in_celsius(), meant.in_celsius()));
        findings.push(DoughFinding {
            id: "dough-harms-yeast",
            why: format!("A dough of {} kills the yeast in it", given.said(given.desired)),
            mend: format!("Leave yeast out of so hot a dough until it has cooled{}", meant.unwrap_or_default()),
        });
    }
    if water >= hot.figure.low() {
        account.cite(hot.citation);
        let beyond = if water >= Temperature::celsius(100.0) { "No water is so hot. " } else { "" };
        findings.push(DoughFinding {
            id: "water-harms-yeast",
            why: format!(
                "{beyond}Water of {} harms yeast: it is weakened from {} on and killed at {}",
                given.said(water),
                given.said(hot.figure.low()),
                given.said(hot.figure.high())
            ),
            mend: format!("Warm the flour or the room instead, or give the yeast its own water below {}", given.said(YEAST_WATER)),
        });
    }
    if water < Temperature::celsius(0.0) && given.ice.is_none() {
        let colder = degrees(Span::exact(Temperature::celsius(0.0) - water), given.fahrenheit).text;
        let mend = match water >= AS_ICE {
            true => format!("Use ice (`ice`: `replacing`), chill the flour by {colder}, or mix with less friction"),
            false => "Not even ice cools so much: chill flour and room, mix with less friction, and measure it by a `trial`".to_owned(),
        };
        let why = format!("The water would have to be {}, colder than ice", given.said(water));
        findings.push(DoughFinding { id: "water-below-freezing", why, mend });
    }
}

/// Common practice: a baker corrects the water by a trial from here on.
const APART: TemperatureChange = TemperatureChange::celsius_degrees(5.0);

/// The sum of factors weighs flour, room and preferment alike, whatever their masses.
pub(super) fn disagreement(given: &Given, by_factors: Temperature, by_heat: Temperature) -> Option<DoughFinding> {
    let apart = (by_heat - by_factors).in_celsius_degrees();
    (apart.abs() > APART.in_celsius_degrees()).then(|| DoughFinding {
        id: "methods-disagree",
        why: format!("The sum of factors asks for {} and the balance of heat for {}", given.said(by_factors), given.said(by_heat)),
        mend: "Mix one trial batch between the two, measure it, and give it as `trial`".to_owned(),
    })
}

/// Where the tap is too warm and nobody has said how the water is cooled.
pub(super) fn cooled_by_what(given: &Given, wanted: Temperature) -> Option<DoughFinding> {
    let tap = given.tap.filter(|tap| given.ice.is_none() && wanted < *tap && wanted >= Temperature::celsius(0.0))?;
    Some(DoughFinding {
        id: "tap-too-warm",
        why: format!("From the tap it comes at {}, which is too warm", given.said(tap)),
        mend: "Ask for the ice: `ice`: `replacing` part of the water, or `added` to it; or cool the water beforehand".to_owned(),
    })
}

/// Said of water below freezing, unless the ice cannot melt anyway.
pub(super) fn below_freezing(given: &Given, wanted: Temperature, findings: &[DoughFinding]) -> Option<DoughFinding> {
    let melts = findings.iter().all(|finding| finding.id != "ice-cannot-melt");
    (wanted < Temperature::celsius(0.0) && melts).then(|| DoughFinding {
        id: "ice-melts-in-the-dough",
        why: format!("No water is {}: that is the cold which the ice brings as it melts in the dough", given.said(wanted)),
        mend: "Crush the ice, and chill the flour where the dough is mixed before it has melted".to_owned(),
    })
}
