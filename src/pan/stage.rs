//! A stage of a bake: an oven's setting, minutes, or both. How it is read, shown and said is written here, for the first and for what follows it.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::oven_scales::oven_scales;
use crate::quantity::{
    Amount, Code, Counting, Family, Fault, Faults, Measures, Minutes, Pointer, Quantity, Scale, Span, Temperature, TemperatureChange,
    Written, longer, read_amount,
};

/// The longest note.
const LONGEST_NOTE: usize = 200;

/// A later stage of a bake: its oven, its minutes, or both.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct StageWritten {
    /// The setting of the same oven; as before where it is left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub oven: Option<Written>,
    /// How long this stage is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub minutes: Option<Written>,
    /// What is done as it begins; it is not read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200, examples("uncovered"))]
    pub note: Option<String>,
}

/// A stage of a bake.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BakeStage {
    pub oven: Option<Span<Temperature>>,
    pub minutes: Option<Span<Minutes>>,
    /// On which scale the setting is written.
    pub scale: Scale,
    /// What is done as it begins.
    pub note: Option<String>,
}

/// A stage of a bake.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct StageShown {
    /// The oven's setting; as before where it is left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub oven: Option<Quantity>,
    /// How long this stage is.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub minutes: Option<Quantity>,
    /// What is done as it begins.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub note: Option<String>,
}

impl StageWritten {
    /// The stage that is meant; all faults at once.
    pub(super) fn resolve(&self, at: &Pointer<'_>, faults: &mut Faults) -> BakeStage {
        if self.oven.is_none() && self.minutes.is_none() {
            faults.push(
                Fault::new(at, Code::MissingField, "no oven and no minutes", "a stage with its oven, its minutes, or both")
                    .saying("Write what changes, as {\"oven\": \"180 C\", \"minutes\": 30}; what does not bake is no stage"),
            );
        }
        BakeStage::read([self.oven.as_ref(), self.minutes.as_ref()], self.note.as_deref(), at, faults)
    }

    /// "30 min at 180 C".
    pub fn text(&self) -> String {
        let [minutes, oven] = [&self.minutes, &self.oven].map(|written| written.as_ref().map(Written::as_text));
        said(minutes.as_deref(), oven.as_deref(), self.note.as_deref())
    }
}

impl BakeStage {
    /// Read from its oven, its minutes and its note.
    pub(super) fn read([oven, minutes]: [Option<&Written>; 2], note: Option<&str>, at: &Pointer<'_>, faults: &mut Faults) -> Self {
        let oven = oven.and_then(|written| faults.keep(setting(written, &at.key("oven"))));
        let minutes = minutes.and_then(|written| faults.keep(time(written, &at.key("minutes"))));
        let (oven, scale) = oven.map_or((None, Scale::default()), |(oven, scale)| (Some(oven), scale));
        if let Some(note) = note.filter(|note| longer(note, LONGEST_NOTE)) {
            faults.push(Fault::new(&at.key("note"), Code::TextTooLong, note, format!("at most {LONGEST_NOTE} characters")));
        }
        Self { oven, minutes, scale, note: note.map(str::to_owned) }
    }

    /// The setting on another dial.
    pub(super) fn turned(&self, change: Span<TemperatureChange>) -> Option<Quantity> {
        self.oven.map(|oven| self.scale.quantity(oven + change))
    }

    /// As it is shown.
    pub fn shown(&self) -> StageShown {
        StageShown { oven: self.oven.map(Quantity::from), minutes: self.minutes.map(Quantity::from), note: self.note.clone() }
    }

    /// As it is shown with other minutes, and the setting on another dial.
    pub(super) fn moved(&self, minutes: Option<Span<Minutes>>, change: Span<TemperatureChange>) -> StageShown {
        StageShown { oven: self.turned(change), minutes: minutes.map(Quantity::from), note: self.note.clone() }
    }
}

impl StageShown {
    /// "26–38 min at 180 °C".
    pub fn text(&self) -> String {
        let minutes = self.minutes.as_ref().map(Quantity::range_text);
        said(minutes.as_deref(), self.oven.as_ref().map(|oven| &*oven.text), self.note.as_deref())
    }
}

/// A stage in words: "15 min at 220 °C", "15 min (uncovered)".
pub fn said(minutes: Option<&str>, oven: Option<&str>, note: Option<&str>) -> String {
    let stage = match (minutes, oven) {
        (Some(minutes), Some(oven)) => format!("{minutes} at {oven}"),
        (one, other) => one.or(other).unwrap_or_default().to_owned(),
    };
    match note.map(str::trim).filter(|note| !note.is_empty()) {
        Some(note) if stage.is_empty() => note.to_owned(),
        Some(note) => format!("{stage} ({note})"),
        None => stage,
    }
}

/// All stages in words, in their order.
pub fn in_stages<T: AsRef<str>>(stages: &[T]) -> String {
    stages.iter().map(AsRef::as_ref).collect::<Vec<_>>().join(", then ")
}

fn setting(written: &Written, at: &Pointer<'_>) -> Result<(Span<Temperature>, Scale), Fault> {
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
    let amount = read_amount(first.as_ref().unwrap_or(written), Measures::Us, at)
        .map_err(|fault| if is_off(written) { turned_off(written, at) } else { fault.offering(&["350 F", "180 C"]) })?;
    let ends = [amount.number.low, amount.number.value, amount.number.high].map(|figure| degrees(&amount, figure));
    let [Some(low), Some(value), Some(high)] = ends else {
        let figure = amount.number.value;
        let code = if amount.counting == Counting::Nothing { Code::UnitMissing } else { Code::WrongUnit };
        return Err(Fault::new(at, code, written.as_text(), "an oven temperature, such as \"350 F\", \"180 C\" or \"gas mark 4\"")
            .trying([format!("{figure} F"), format!("{figure} C")]));
    };
    let fahrenheit = matches!(&amount.counting, Counting::Unit(unit) if unit.id == "fahrenheit");
    let within = |oven: Temperature| (40.0..=350.0).contains(&oven.in_celsius());
    if !within(low) || !within(high) {
        let figure = amount.number.value;
        // No oven is set to 425 °C, and many to 425 °F.
        let other = (!fahrenheit && within(Temperature::fahrenheit(figure))).then(|| vec![format!("{figure} F")]);
        return Err(Fault::new(at, Code::OutOfRange, written.as_text(), "an oven temperature from 40 °C to 350 °C")
            .trying(other.unwrap_or_else(|| ["350 F", "180 C"].map(str::to_owned).to_vec())));
    }
    Ok((Span::new(low, value, high), if fahrenheit { Scale::Fahrenheit } else { Scale::Celsius }))
}

/// "off", "oven off", "turned off".
fn is_off(written: &Written) -> bool {
    written.as_text().split_whitespace().next_back().is_some_and(|word| word.trim_matches('.').eq_ignore_ascii_case("off"))
}

fn turned_off(written: &Written, at: &Pointer<'_>) -> Fault {
    Fault::new(at, Code::WrongUnit, written.as_text(), "the setting of an oven that is on, such as \"350 F\" or \"180 C\"")
        .saying("What stands in an oven turned off is not baked by the clock: leave this stage out, and say it in the note of the last")
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
        Fault::new(at, Code::WrongUnit, text.as_ref(), "the temperature alone, and the kind of oven in the bake as from_oven")
            .saying(format!("Write {alone:?} here, and \"from_oven\": \"fan\" in the bake, for all its stages"))
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

fn time(written: &Written, at: &Pointer<'_>) -> Result<Span<Minutes>, Fault> {
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
