//! What another oven, another dish and another altitude ask of the dial. Corrections for fan and dish overlap, so the larger stands for both; altitude comes on top.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::material::Material;
use crate::quantity::{Factor, Length, Quantifiable, Span, TemperatureChange};
use crate::reference::{Account, Advice, Reference};

/// How an oven moves its heat.
/// - `conventional`: top and bottom heat.
/// - `fan`: a fan, convection.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum OvenKind {
    /// Top and bottom heat.
    #[default]
    Conventional,
    /// Fan or convection.
    Fan,
}

/// From one oven, dish and height to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Move {
    pub ovens: [OvenKind; 2],
    pub materials: [Material; 2],
    /// The height of the kitchen the bake is moved to.
    pub altitude: Length,
}

fn none() -> Span<TemperatureChange> {
    Span::exact(TemperatureChange::ZERO)
}

/// By how much the dial is turned.
pub fn dial_change(moved: &Move, reference: &'static Reference, account: &mut Account) -> Span<TemperatureChange> {
    let fan = fan_change(moved.ovens, reference, account);
    let dish = dish_change(moved.materials, reference, account);
    let larger = if fan.value().raw().abs() >= dish.value().raw().abs() { fan } else { dish };
    let opposed = fan.value().raw() * dish.value().raw() < 0.0;
    let indoors = if opposed { fan + dish } else { larger };
    indoors + altitude_change(moved.altitude, reference, account)
}

fn of(advice: Option<&'static Advice>, account: &mut Account) -> Span<TemperatureChange> {
    let Some((advice, change)) = advice.and_then(|advice| Some((advice, advice.change()?))) else { return none() };
    // Advice to change nothing adds nothing to the answer, so it is not cited.
    if change != none() {
        account.cite(advice.citation);
    }
    change
}

fn reversed(change: Span<TemperatureChange>) -> Span<TemperatureChange> {
    change.map_falling(|end| TemperatureChange::ZERO - end)
}

fn fan_change(ovens: [OvenKind; 2], reference: &'static Reference, account: &mut Account) -> Span<TemperatureChange> {
    if ovens[0] == ovens[1] {
        return none();
    }
    let change = of(reference.advices.find("fan", "span"), account);
    if ovens[1] == OvenKind::Fan { change } else { reversed(change) }
}

fn dish_change(materials: [Material; 2], reference: &'static Reference, account: &mut Account) -> Span<TemperatureChange> {
    if materials[0] == materials[1] {
        return none();
    }
    let [was, will] = materials.map(|material| of(reference.advices.find(material.word(), "temperature"), account));
    will + reversed(was)
}

/// Two tables disagree between their heights, so the two bands nearest below are taken together, and what is set is their middle: no kitchen bakes cooler than one below it.
fn altitude_change(altitude: Length, reference: &'static Reference, account: &mut Account) -> Span<TemperatureChange> {
    let reached = |advice: &&'static Advice| advice.from_altitude().is_some_and(|from| from <= altitude);
    let bands: Vec<_> = reference.advices.on("altitude-oven").filter(reached).collect();
    match bands.as_slice() {
        [.., below, band] => {
            let (wider, change) = (of(Some(*below), account), of(Some(*band), account));
            let both = change.hull(wider);
            Span::between(both.low(), both.high())
        }
        [band] => of(Some(*band), account),
        [] => none(),
    }
}

/// How much longer it takes in this material than in that.
pub(super) fn material_time(materials: [Material; 2], reference: &'static Reference, account: &mut Account) -> Span<Factor> {
    let mut time = |material: Material| {
        let advice = reference.advices.find(material.word(), "time")?;
        account.cite(advice.citation);
        advice.ratio()
    };
    let one = Span::exact(Factor::ONE);
    if materials[0] == materials[1] {
        return one;
    }
    let [was, will] = materials.map(|material| time(material).unwrap_or(one));
    will / was
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn is(ovens: [OvenKind; 2], materials: [Material; 2], metres: f64, celsius: [f64; 3]) {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let moved = Move { ovens, materials, altitude: Length::centimetres(metres * 100.0) };
        let change = dial_change(&moved, reference, &mut Account::new(reference, false));
        let found = [change.low(), change.value(), change.high()].map(TemperatureChange::in_celsius_degrees);
        assert!(found.iter().zip(celsius).all(|(found, asked)| (found - asked).abs() < 0.06), "{found:?} for {celsius:?}");
    }

    use Material::{DarkMetal, Glass, LightMetal};
    use OvenKind::{Conventional, Fan};

    #[test]
    fn nothing_moved_turns_no_dial() {
        is([Fan, Fan], [Glass, Glass], 0.0, [0.0; 3]);
    }

    #[test]
    fn fan_and_glass_overlap_and_are_not_added() {
        is([Conventional, Conventional], [LightMetal, Glass], 0.0, [-13.9; 3]);
        is([Conventional, Fan], [LightMetal, LightMetal], 0.0, [-28.0, -20.0, -13.0]);
        is([Conventional, Fan], [LightMetal, Glass], 0.0, [-28.0, -20.0, -13.0]);
        is([Conventional, Conventional], [LightMetal, DarkMetal], 0.0, [-13.9, -13.9, 0.0]);
    }

    #[test]
    fn the_way_back_turns_the_dial_back() {
        is([Fan, Conventional], [LightMetal, LightMetal], 0.0, [13.0, 20.0, 28.0]);
        is([Conventional, Conventional], [Glass, LightMetal], 0.0, [13.9; 3]);
    }

    #[test]
    fn a_high_kitchen_comes_on_top() {
        is([Conventional, Conventional], [LightMetal, LightMetal], 500.0, [0.0; 3]);
        is([Conventional, Conventional], [LightMetal, LightMetal], 1609.0, [8.3, 11.1, 13.9]);
        is([Conventional, Fan], [LightMetal, Glass], 1609.0, [-19.7, -8.9, 0.9]);
        // One table has 5 °F at most there, the other 25: 12.5 is between them, and less than higher up.
        is([Conventional, Conventional], [LightMetal, LightMetal], 1219.0, [0.0, 6.9, 13.9]);
    }
}
