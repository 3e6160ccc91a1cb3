//! A bake as written: the oven's setting and the minutes, and the stages that follow, read and bounded before anything is estimated from them.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::oven::OvenKind;
use super::stage::{BakeStage, StageWritten};
use crate::quantity::{Code, Fault, Faults, Minutes, Pointer, Span, Written};

/// The most stages that follow the first.
const MOST_LATER: usize = 5;

/// How it bakes.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, Serialize, ToSchema)]
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
    /// What is done as it begins; it is not read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub note: Option<String>,
    /// What follows, where it bakes in stages: the fields above are then the first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 5)]
    pub then: Vec<StageWritten>,
}

/// How something is baked: in one stage, or in several.
#[derive(Clone, Debug, PartialEq)]
pub struct Bake {
    pub first: BakeStage,
    /// What follows; nothing for a bake in one stage.
    pub then: Vec<BakeStage>,
    pub ovens: [OvenKind; 2],
}

impl BakeWritten {
    /// The bake that is meant; all faults at once.
    pub fn resolve(&self, at: &Pointer<'_>) -> Result<Bake, Faults> {
        let mut faults = Faults::new();
        let first = BakeStage::read([self.oven.as_ref(), self.minutes.as_ref()], self.note.as_deref(), at, &mut faults);
        let then = if self.then.is_empty() { Vec::new() } else { self.later(&at.key("then"), &mut faults) };
        let from = self.from_oven.unwrap_or_default();
        faults.or(Bake { first, then, ovens: [from, self.to_oven.unwrap_or(from)] })
    }

    fn later(&self, at: &Pointer<'_>, faults: &mut Faults) -> Vec<BakeStage> {
        if self.then.len() > MOST_LATER {
            let found = format!("{} stages behind the first", self.then.len());
            faults.push(Fault::new(at, Code::TooMany, found, format!("at most {MOST_LATER} stages behind the first")));
            return Vec::new();
        }
        self.then.iter().enumerate().map(|(number, stage)| stage.resolve(&at.index(number), faults)).collect()
    }

    /// Every setting with its place, in the order of the stages.
    pub fn each_oven(&self, at: &Pointer<'_>, mut told: impl FnMut(&Written, &Pointer<'_>)) {
        self.oven.iter().for_each(|oven| told(oven, &at.key("oven")));
        let then = at.key("then");
        for (number, oven) in self.then.iter().enumerate().filter_map(|(number, stage)| Some((number, stage.oven.as_ref()?))) {
            told(oven, &then.index(number).key("oven"));
        }
    }

    /// The setting of a stage, counted from 0; nothing where it is as before.
    pub fn oven_of(&self, stage: usize) -> Option<&Written> {
        match stage.checked_sub(1) {
            None => self.oven.as_ref(),
            Some(later) => self.then.get(later)?.oven.as_ref(),
        }
    }

    /// Gives a stage another setting.
    pub fn set_oven(&mut self, stage: usize, oven: Written) {
        let held = match stage.checked_sub(1) {
            None => Some(&mut self.oven),
            Some(later) => self.then.get_mut(later).map(|stage| &mut stage.oven),
        };
        held.into_iter().for_each(|held| *held = Some(oven.clone()));
    }

    /// All stages as they are written, the first among them.
    pub fn stages(&self) -> impl Iterator<Item = StageWritten> + '_ {
        let first = StageWritten { oven: self.oven.clone(), minutes: self.minutes.clone(), note: self.note.clone() };
        std::iter::once(first).chain(self.then.iter().cloned())
    }
}

impl Bake {
    /// All stages in their order.
    pub fn stages(&self) -> impl Iterator<Item = &BakeStage> {
        std::iter::once(&self.first).chain(&self.then)
    }

    /// How long it bakes in all; nothing where a stage does not say how long it is.
    pub fn in_all(&self) -> Option<Span<Minutes>> {
        self.then.iter().try_fold(self.first.minutes?, |sum, stage| Some(sum + stage.minutes?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_oven_of_no_kitchen_is_refused() {
        for (oven, minutes, code, at) in [
            ("350", "30", Code::UnitMissing, "/oven"),
            ("900 F", "30", Code::OutOfRange, "/oven"),
            ("off", "30", Code::WrongUnit, "/oven"),
            ("3 cups", "30", Code::WrongUnit, "/oven"),
            ("350 F", "0", Code::OutOfRange, "/minutes"),
            ("350 F", "30 g", Code::WrongUnit, "/minutes"),
        ] {
            let [oven_written, minutes] = [oven, minutes].map(|text| Some(Written::Text(text.into())));
            let written = BakeWritten { oven: oven_written, minutes, ..BakeWritten::default() };
            let faults = written.resolve(&Pointer::ROOT).map(|_| ()).expect_err(oven);
            assert_eq!(faults.iter().map(|fault| (fault.code, fault.pointer.as_str())).collect::<Vec<_>>(), [(code, at)]);
        }
    }

    #[test]
    fn an_oven_of_the_other_scale_and_one_turned_off_are_told_what_to_write() {
        let told = |oven: &str| {
            let written = BakeWritten { oven: Some(Written::Text(oven.into())), ..BakeWritten::default() };
            let faults = written.resolve(&Pointer::ROOT).map(|_| ()).expect_err(oven);
            faults.iter().map(|fault| (fault.attempts.clone(), fault.detail.to_string())).next().expect("a fault")
        };
        assert_eq!(told("425 C").0, ["425 F"]);
        assert_eq!(told("900 C").0, ["350 F", "180 C"]);
        for off in ["off", "oven off", "turn oven OFF."] {
            assert!(told(off).1.contains("leave this stage out"), "{off}: {:?}", told(off));
        }
    }

    #[test]
    fn a_fan_beside_the_temperature_is_told_its_field() {
        for oven in ["160 C fan", "fan oven 160 C", "160 C (fan)"] {
            let written = BakeWritten { oven: Some(Written::Text(oven.into())), ..BakeWritten::default() };
            let faults = written.resolve(&Pointer::ROOT).map(|_| ()).expect_err(oven);
            let fault = faults.iter().find(|fault| fault.pointer == "/oven").expect("a fault");
            assert_eq!(
                (fault.attempts.first().map(String::as_str), fault.detail.contains("from_oven")),
                (Some("160 C"), true),
                "{fault:?}"
            );
        }
    }

    #[track_caller]
    fn faults(json: serde_json::Value) -> Vec<(Code, String)> {
        let written: BakeWritten = serde_json::from_value(json).unwrap_or_else(|fault| panic!("{fault}"));
        let faults = written.resolve(&Pointer::ROOT).map(|_| ()).expect_err("a fault");
        faults.iter().map(|fault| (fault.code, fault.pointer.clone())).collect()
    }

    #[test]
    fn every_fault_of_a_later_stage_is_told_at_its_place() {
        let told = faults(serde_json::json!({"oven": "220 C", "minutes": "15", "then": [
            {"oven": "900 F", "minutes": "0"}, {"note": "lid off"}, {"oven": "180"}, {"minutes": "30 g", "note": "x".repeat(201)},
            {"oven": "160 C fan"}]}));
        let told: Vec<_> = told.iter().map(|(code, at)| (*code, at.as_str())).collect();
        let all = [
            (Code::OutOfRange, "/then/0/oven"),
            (Code::OutOfRange, "/then/0/minutes"),
            (Code::MissingField, "/then/1"),
            (Code::UnitMissing, "/then/2/oven"),
            (Code::WrongUnit, "/then/3/minutes"),
            (Code::TextTooLong, "/then/3/note"),
            (Code::WrongUnit, "/then/4/oven"),
        ];
        assert_eq!(told, all);
        let stage = serde_json::json!({"minutes": 5});
        assert_eq!(faults(serde_json::json!({"then": vec![stage; 6]})), [(Code::TooMany, "/then".to_owned())]);
    }

    #[test]
    fn what_is_put_out_is_taken_back_in_the_same() {
        for json in [
            serde_json::json!({"oven": "350 F", "minutes": "38-44"}),
            serde_json::json!({"oven": "230 C", "minutes": "30 min", "note": "covered", "from_oven": "fan",
                "then": [{"minutes": {"value": 15.0, "unit": "min"}, "note": "uncovered"}, {"oven": "gas mark 6"}]}),
        ] {
            let written: BakeWritten = serde_json::from_value(json.clone()).expect("a bake");
            assert_eq!(serde_json::to_value(&written).expect("its text"), json);
        }
    }

    #[test]
    fn a_whole_has_no_minutes_where_one_stage_has_none() {
        let whole = |json| {
            let written: BakeWritten = serde_json::from_value(json).expect("a bake");
            let whole = written.resolve(&Pointer::ROOT).unwrap_or_else(|faults| panic!("{faults:?}")).in_all();
            whole.map(|span| [span.low(), span.high()].map(Minutes::in_minutes))
        };
        assert_eq!(whole(serde_json::json!({"minutes": "15", "then": [{"minutes": "30-40"}]})), Some([45.0, 55.0]));
        assert_eq!(whole(serde_json::json!({"minutes": "15", "then": [{"oven": "180 C"}]})), None);
        assert_eq!(whole(serde_json::json!({"then": [{"minutes": "30"}]})), None);
    }
}
