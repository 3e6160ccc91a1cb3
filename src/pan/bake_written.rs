//! A bake as written: the oven's setting and the minutes, read and bounded before anything is estimated from them.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::oven::OvenKind;
use super::oven_scales::oven_scales;
use crate::quantity::{
    Amount, Code, Counting, Family, Fault, Faults, Measures, Minutes, Pointer, Scale, Span, Temperature, Written, read_amount,
};

/// How something is baked, as written.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct BakeWritten {
    /// The oven's setting: a temperature or a gas mark.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub oven: Option<Written>,
    /// How long it bakes: minutes where no unit is said, and a range where there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub minutes: Option<Written>,
    /// The oven for which the setting is meant; conventional where it is left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub from_oven: Option<OvenKind>,
    /// The oven that is used; the same where it is left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub to_oven: Option<OvenKind>,
}

/// How something is baked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bake {
    pub oven: Option<Span<Temperature>>,
    pub minutes: Option<Span<Minutes>>,
    pub ovens: [OvenKind; 2],
    /// On which scale the setting is written.
    pub scale: Scale,
}

impl BakeWritten {
    /// The bake that is meant; all faults at once.
    pub fn resolve(&self, at: &Pointer<'_>) -> Result<Bake, Faults> {
        let mut faults = Faults::new();
        let oven = self.oven.as_ref().and_then(|written| faults.keep(oven(written, &at.key("oven"))));
        let (oven, scale) = oven.map_or((None, Scale::default()), |(oven, scale)| (Some(oven), scale));
        let minutes = self.minutes.as_ref().and_then(|written| faults.keep(minutes(written, &at.key("minutes"))));
        let from = self.from_oven.unwrap_or_default();
        faults.or(Bake { oven, minutes, ovens: [from, self.to_oven.unwrap_or(from)], scale })
    }
}

fn oven(written: &Written, at: &Pointer<'_>) -> Result<(Span<Temperature>, Scale), Fault> {
    // Of several scales the first is the oven it was baked in; whether they agree is another question.
    let first = match written {
        Written::Text(text) => oven_scales(text).first().map(|scale| Written::Text((*scale).into())),
        Written::Pair { .. } => None,
    };
    // One temperature that is a fan oven's is no other oven's: "180 C (160 C fan)" has two.
    let has_figure = |scale: &&&str| scale.contains(|letter: char| letter.is_ascii_digit());
    let only_one = matches!(written, Written::Text(text) if oven_scales(text).iter().filter(has_figure).count() < 2);
    if let Some(fault) = fan_beside(written, at).filter(|_| only_one) {
        return Err(fault);
    }
    let amount = read_amount(first.as_ref().unwrap_or(written), Measures::Us, at).map_err(|fault| fault.offering(&["350 F", "180 C"]))?;
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
    let fahrenheit = matches!(&amount.counting, Counting::Unit(unit) if unit.id == "fahrenheit");
    Ok((Span::new(low, value, high), if fahrenheit { Scale::Fahrenheit } else { Scale::Celsius }))
}

/// "160 C fan", "fan oven 160 C": the kind of oven has a field of its own.
fn fan_beside(written: &Written, at: &Pointer<'_>) -> Option<Fault> {
    let text = written.as_text();
    let plain = |word: &str| word.trim_matches(|c: char| !c.is_alphanumeric()).to_lowercase();
    let is_fan = |word: &str| matches!(plain(word).as_str(), "fan" | "convection");
    if !text.split_whitespace().any(is_fan) {
        return None;
    }
    let kept = text.split_whitespace().filter(|word| !is_fan(word) && plain(word) != "oven");
    let alone = kept.collect::<Vec<_>>().join(" ");
    Some(
        Fault::new(at, Code::WrongUnit, text.as_ref(), "the temperature alone, and the kind of oven beside it as from_oven")
            .saying(format!("Write {alone:?} here, and beside it \"from_oven\": \"fan\""))
            .trying([alone].into_iter().filter(|alone| !alone.is_empty())),
    )
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
    let amount = read_amount(written, Measures::Us, at).map_err(|fault| fault.offering(&["35 min", "1 h"]))?;
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_oven_of_no_kitchen_is_refused() {
        for (oven, minutes, code, at) in [
            ("350", "30", Code::UnitMissing, "/oven"),
            ("900 F", "30", Code::OutOfRange, "/oven"),
            ("3 cups", "30", Code::WrongUnit, "/oven"),
            ("350 F", "0", Code::OutOfRange, "/minutes"),
            ("350 F", "30 g", Code::WrongUnit, "/minutes"),
        ] {
            let written = BakeWritten {
                oven: Some(Written::Text(oven.into())),
                minutes: Some(Written::Text(minutes.into())),
                from_oven: None,
                to_oven: None,
            };
            let faults = written.resolve(&Pointer::ROOT).map(|_| ()).expect_err(oven);
            assert_eq!(faults.iter().map(|fault| (fault.code, fault.pointer.as_str())).collect::<Vec<_>>(), [(code, at)]);
        }
    }

    #[test]
    fn a_fan_beside_the_temperature_is_told_its_field() {
        for oven in ["160 C fan", "fan oven 160 C", "160 C (fan)"] {
            let written = BakeWritten { oven: Some(Written::Text(oven.into())), minutes: None, from_oven: None, to_oven: None };
            let faults = written.resolve(&Pointer::ROOT).map(|_| ()).expect_err(oven);
            let fault = faults.iter().find(|fault| fault.pointer == "/oven").expect("a fault");
            assert_eq!(
                (fault.attempts.first().map(String::as_str), fault.detail.contains("from_oven")),
                (Some("160 C"), true),
                "{fault:?}"
            );
        }
    }
}
