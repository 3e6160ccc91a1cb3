//! Another oven, another dial, another dish. The corrections for fan and dish are taken together, never added; what the sources leave open stays a span until the end.

use serde::Deserialize;
use utoipa::ToSchema;

use super::working::{Adapting, Change, Place};
use crate::pan::{Bake, Material, Move, OvenKind, dial_change, oven_scales};
use crate::quantity::{Code, Fault, Length, Pointer, Scale, Span, Temperature, TemperatureChange, Written};

/// Another oven or another dish than those the formula was written for.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct OvenStep {
    /// The oven there is; the same where it is left out.
    #[schema(nullable = false)]
    pub to: Option<OvenKind>,
    /// The scale of its dial; that of the formula where it is left out.
    #[schema(nullable = false)]
    pub dial: Option<Dial>,
    /// What the pan there is is made of; the same where it is left out.
    #[schema(nullable = false)]
    pub pan: Option<Material>,
}

/// The scale of an oven's dial.
/// - `celsius`: degrees Celsius.
/// - `fahrenheit`: degrees Fahrenheit.
/// - `gas-mark`: the marks of a British gas oven.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Dial {
    Celsius,
    Fahrenheit,
    GasMark,
}

impl Adapting<'_> {
    pub fn oven(&mut self, wanted: &OvenStep, at: &Pointer<'_>) {
        if wanted.to.is_none() && wanted.dial.is_none() && wanted.pan.is_none() {
            self.refuse(Fault::new(at, Code::MissingField, "nothing", "an oven (to), a dial or a pan's material (pan)"));
            return;
        }
        if wanted.to == Some(OvenKind::Fan) && wanted.dial == Some(Dial::GasMark) {
            let fault = Fault::new(&at.key("dial"), Code::NotTogether, "a fan oven with gas marks", "degrees for a fan oven");
            self.refuse(fault.saying("Gas marks are those of ovens without a fan: leave one of the two").trying(["celsius"]));
            return;
        }
        let Some(bake) = self.baked(at) else { return };
        let Some(formula) = self.formula() else { return };
        let had = formula.pans.as_ref().map(|pans| pans.first().material());
        let material = had.unwrap_or_default();
        let ovens = [bake.ovens[0], wanted.to.unwrap_or(bake.ovens[1])];
        let moved = Move { ovens, materials: [material, wanted.pan.unwrap_or(material)], altitude: Length::ZERO };
        if let Some(pan) = wanted.pan {
            self.other_material(pan, material, had.is_some());
        }
        let change = dial_change(&moved, self.reference, self.account);
        self.account.caution("oven-scale");
        let why = self.why(&moved, change);
        self.turn(&bake, change, ovens[1], wanted.dial, &why, at);
    }

    /// The bake as it stands; refused where no oven was written.
    fn baked(&mut self, at: &Pointer<'_>) -> Option<Bake> {
        let (root, bake) = (Pointer::ROOT, self.written.bake.as_ref());
        let formula = root.key("formula");
        let bake_at = formula.key("bake");
        let Some(bake) = bake.filter(|bake| bake.oven.is_some()) else {
            let fault =
                Fault::new(&bake_at.key("oven"), Code::MissingFigure, "no oven in the formula", "the oven's setting, such as \"350 F\"");
            self.refuse(fault.saying(format!("The step at {} turns the dial: say where it stands", at.text())));
            return None;
        };
        match bake.resolve(&bake_at) {
            Ok(bake) => Some(bake),
            Err(faults) => {
                self.faults.append(faults);
                None
            }
        }
    }

    /// The scale of the dial; another where the formula does not say where it stands.
    pub(super) fn scale(&self, unsaid: Scale) -> Scale {
        let oven = self.written.bake.as_ref().and_then(|bake| bake.oven.as_ref());
        let dial = oven.map(|oven| dial_of(&oven.as_text(), OvenKind::Conventional));
        dial.map_or(unsaid, |dial| if dial == Dial::Fahrenheit { Scale::Fahrenheit } else { Scale::Celsius })
    }

    fn other_material(&mut self, pan: Material, had: Material, known: bool) {
        if pan == Material::Glass || pan == Material::Ceramic {
            self.account.caution("glass-thermal-shock");
        }
        if !known {
            let (root, text) = (Pointer::ROOT, "The formula names no pan: it is taken to have been of light metal");
            let formula = root.key("formula");
            self.account.assume(text, &formula.key("pan"), "light-metal");
            return;
        }
        self.written.pan = self.written.pan.as_ref().map(|pans| pans.in_material(pan));
        let change = Change::new(Place::Field("/pan"), "What the pan is made of changes how it bakes, not what it holds");
        self.tell(change.from(had.word()).to(pan.word()));
    }

    fn why(&self, moved: &Move, change: Span<TemperatureChange>) -> String {
        let by = self.scale(Scale::default()).changes([change.low(), change.high()]);
        let oven = |kind: OvenKind| if kind == OvenKind::Fan { "fan" } else { "conventional" };
        let mut from = Vec::new();
        if moved.ovens[0] != moved.ovens[1] {
            from.push(format!("from {} to {}", oven(moved.ovens[0]), oven(moved.ovens[1])));
        }
        if moved.materials[0] != moved.materials[1] {
            from.push(format!("from {} to {}", moved.materials[0].word(), moved.materials[1].word()));
        }
        let both = if from.len() == 2 { ": fan and dish overlap, so the two are not added where they go the same way" } else { "" };
        match from.is_empty() {
            true => "Another dial, the same heat".to_owned(),
            false => format!("{}: {by} on the dial{both}", from.join(" and ")),
        }
    }

    /// Turns the dial, in every stage alike, and writes it into the formula.
    pub(super) fn turn(
        &mut self,
        bake: &Bake,
        change: Span<TemperatureChange>,
        oven: OvenKind,
        dial: Option<Dial>,
        why: &str,
        at: &Pointer<'_>,
    ) {
        let same = change.is_exact() && change.value() == TemperatureChange::ZERO && dial.is_none();
        for (stage, setting) in bake.stages().enumerate().filter_map(|(stage, known)| Some((stage, known.oven?))) {
            let turned = self.ovens.get(&stage).copied().unwrap_or(setting) + change;
            let before = self.written.bake.as_ref().and_then(|bake| bake.oven_of(stage)).map(|oven| oven.as_text().into_owned());
            let before = before.unwrap_or_default();
            let text = if same { Ok(before.clone()) } else { on_dial(turned.value(), dial.unwrap_or_else(|| dial_of(&before, oven)), at) };
            let Some(text) = self.faults.keep(text) else { return };
            let Some(bake) = self.written.bake.as_mut() else { return };
            bake.set_oven(stage, Written::Text(text.clone().into()));
            self.ovens.insert(stage, turned);
            let range = (!turned.is_exact()).then(|| self.scale(Scale::default()).quantity(turned));
            self.tell(Change { range, ..Change::new(Place::Oven(stage), why).from(before).to(text) });
        }
        let Some(bake) = self.written.bake.as_mut() else { return };
        // A setting without a word is one of a conventional oven, as before.
        bake.from_oven = if oven == OvenKind::Fan { Some(oven) } else { bake.from_oven.map(|_| oven) };
        bake.to_oven = None;
    }
}

/// On which scale a setting is written: of several the first is the oven it was baked in. A fan oven has no marks.
fn dial_of(written: &str, oven: OvenKind) -> Dial {
    let text = oven_scales(written).first().map_or(String::new(), |first| first.to_ascii_lowercase().replace("fan", ""));
    match () {
        () if text.contains("gas") || text.contains("mark") || text.contains("regulo") => match oven {
            OvenKind::Fan => Dial::Celsius,
            OvenKind::Conventional => Dial::GasMark,
        },
        () if text.contains('f') => Dial::Fahrenheit,
        () => Dial::Celsius,
    }
}

/// A temperature as a dial has it: to 5 degrees, or the nearest mark.
fn on_dial(heat: Temperature, dial: Dial, at: &Pointer<'_>) -> Result<String, Fault> {
    let five = |degrees: f64| (degrees / 5.0).round() * 5.0;
    let celsius = heat.in_celsius();
    let beyond =
        || Fault::new(at, Code::OutOfRange, format!("{celsius:.0} °C"), "an oven's setting from 40 °C to 350 °C that this dial reaches");
    if !(40.0..=350.0).contains(&celsius) {
        return Err(beyond());
    }
    Ok(match dial {
        Dial::Celsius => format!("{} C", five(celsius)),
        Dial::Fahrenheit => format!("{} F", five(heat.in_fahrenheit())),
        Dial::GasMark => {
            let mark = heat.in_gas_mark().ok_or_else(beyond)?;
            match mark {
                0.25 => "gas mark 1/4".to_owned(),
                0.5 => "gas mark 1/2".to_owned(),
                m => format!("gas mark {m}"),
            }
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dial_is_that_of_the_first_scale_and_a_fan_oven_has_no_marks() {
        let conventional = |text: &str| dial_of(text, OvenKind::Conventional);
        assert_eq!(conventional("350 F / 180 C / gas mark 4"), Dial::Fahrenheit);
        assert_eq!(conventional("180 C / 160 C fan / gas mark 4"), Dial::Celsius);
        assert_eq!(conventional("gas mark 4 / 180 C"), Dial::GasMark);
        assert_eq!(dial_of("gas mark 4", OvenKind::Fan), Dial::Celsius);
    }
}
