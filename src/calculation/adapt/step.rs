//! One step as it comes in: a closed object with exactly one member. Steps that undo one another are refused before anything is done.

use serde::Deserialize;
use utoipa::ToSchema;

use crate::formula::{Adapting, AltitudeStep, EggsStep, MeasuresStep, OvenStep, ReplaceStep, RoundingStep, ScaleStep};
use crate::quantity::{Code, Fault, Faults, Pointer, plain};

/// One step: exactly one of these.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct StepWritten {
    /// Other eggs.
    #[schema(nullable = false)]
    pub eggs: Option<EggsStep>,
    /// A missing ingredient.
    #[schema(nullable = false)]
    pub replace: Option<ReplaceStep>,
    /// Another oven, dial or dish.
    #[schema(nullable = false)]
    pub oven: Option<OvenStep>,
    /// A high kitchen.
    #[schema(nullable = false)]
    pub altitude: Option<AltitudeStep>,
    /// Other cups and spoons, or grams.
    #[schema(nullable = false)]
    pub measures: Option<MeasuresStep>,
    /// Amounts that can be weighed or spooned.
    #[schema(nullable = false)]
    pub rounding: Option<RoundingStep>,
}

impl StepWritten {
    /// The members that stand.
    fn members(&self) -> Vec<&'static str> {
        let all = [
            ("eggs", self.eggs.is_some()),
            ("replace", self.replace.is_some()),
            ("oven", self.oven.is_some()),
            ("altitude", self.altitude.is_some()),
            ("measures", self.measures.is_some()),
            ("rounding", self.rounding.is_some()),
        ];
        all.into_iter().filter(|(_, there)| *there).map(|(name, _)| name).collect()
    }

    /// Whether it changes how much of something goes in.
    fn changes_amounts(&self) -> bool {
        self.eggs.is_some() || self.replace.is_some() || self.altitude.is_some() || self.measures.is_some()
    }
}

/// Does one step; its faults are kept, and the next goes on.
pub(super) fn take(step: &StepWritten, adapting: &mut Adapting<'_>, at: &Pointer<'_>) {
    if let Some(eggs) = &step.eggs {
        adapting.eggs(eggs, &at.key("eggs"));
    }
    if let Some(replace) = &step.replace {
        adapting.replace(replace, &at.key("replace"));
    }
    if let Some(oven) = &step.oven {
        adapting.oven(oven, &at.key("oven"));
    }
    if let Some(altitude) = &step.altitude {
        adapting.altitude(altitude, &at.key("altitude"));
    }
    if let Some(measures) = &step.measures {
        adapting.measures(measures);
    }
    if let Some(rounding) = &step.rounding {
        adapting.rounding(rounding);
    }
}

/// Steps with more or less than one member, and steps that undo one another.
pub(super) fn contradictions(steps: &[StepWritten], at: &Pointer<'_>, faults: &mut Faults) {
    for (index, step) in steps.iter().enumerate() {
        let here = at.index(index);
        let members = step.members();
        let earlier = &steps[..index];
        match members.as_slice() {
            [] => faults.push(Fault::new(
                &here,
                Code::ExactlyOne,
                "an empty step",
                "one of eggs, replace, oven, altitude, measures, rounding",
            )),
            [one] => twice(one, earlier, &here, faults),
            several => faults.push(
                Fault::new(&here, Code::ExactlyOne, several.join(" and "), "one member in each step")
                    .saying("Make a step of its own of each, in the order in which they are to be done"),
            ),
        }
        if step.changes_amounts() && earlier.iter().any(|step| step.rounding.is_some()) {
            let found = format!("{} after rounding", members.first().copied().unwrap_or_default());
            refuse(
                &here,
                found,
                "rounding as the last step that changes amounts",
                "This would undo the rounding: put the rounding behind it",
                faults,
            );
        }
        rounding_against_measures(step, earlier, &here, faults);
        there_and_back(step, earlier, &here, faults);
    }
}

/// A second step of one kind undoes the first; only ingredients can be replaced one after another.
fn twice(member: &'static str, earlier: &[StepWritten], at: &Pointer<'_>, faults: &mut Faults) {
    if member != "replace"
        && let Some(first) = earlier.iter().position(|step| step.members() == [member])
    {
        let mend = format!("The step at /steps/{first} says it already, and this would undo it: leave one of the two");
        refuse(&at.key(member), format!("a second {member}"), "each kind of step once, but for replace", &mend, faults);
    }
}

fn rounding_against_measures(step: &StepWritten, earlier: &[StepWritten], at: &Pointer<'_>, faults: &mut Faults) {
    let Some(rounding) = &step.rounding else { return };
    let Some(measures) = earlier.iter().find_map(|step| step.measures.as_ref()) else { return };
    let rounding_at = at.key("rounding");
    match (measures.to.set(), rounding.step) {
        (Some(_), ScaleStep::Spoons) => {}
        (Some(_), _) => refuse(
            &rounding_at.key("step"),
            "a scale after cups and spoons",
            "spoons, where the formula was written in cups and spoons",
            "A scale would turn the cups and spoons into grams again: round to \"spoons\", or leave the measures out",
            faults,
        ),
        (None, ScaleStep::Spoons) => refuse(
            &rounding_at.key("step"),
            "spoons after grams",
            "a step of a scale, where the formula was written in grams",
            "Spoons would undo the grams: round to \"1 g\", or leave the measures out",
            faults,
        ),
        (None, _) => {}
    }
}

fn there_and_back(step: &StepWritten, earlier: &[StepWritten], at: &Pointer<'_>, faults: &mut Faults) {
    let Some(replace) = &step.replace else { return };
    let back = |other: &StepWritten| {
        let Some(other) = &other.replace else { return false };
        let (Some(with), Some(first)) = (&replace.with, &other.with) else { return false };
        plain(with) == plain(&other.ingredient) && plain(first) == plain(&replace.ingredient)
    };
    if earlier.iter().any(back) {
        let replace_at = at.key("replace");
        let with = replace.with.clone().unwrap_or_default();
        refuse(
            &replace_at.key("with"),
            with,
            "an ingredient that no earlier step has taken out",
            "An earlier step goes the other way: leave one of the two",
            faults,
        );
    }
}

fn refuse(at: &Pointer<'_>, found: impl Into<String>, accepted: &str, mend: &str, faults: &mut Faults) {
    let fault = Fault::new(at, Code::NotTogether, found, accepted).saying(mend);
    let attempts = match accepted {
        a if a.starts_with("spoons") => vec!["spoons"],
        a if a.starts_with("a step") => vec!["1 g"],
        _ => Vec::new(),
    };
    faults.push(fault.trying(attempts));
}
