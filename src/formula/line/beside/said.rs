//! What one sentence after another says beside the ingredients, taken together: the first to say a thing is believed, and a later stage of a bake joins those before it.

use super::made::Made;
use super::stages::StageSaid;
use super::tin::Tin;
use crate::quantity::Written;

/// What a line without an ingredient says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Beside {
    /// What it is, where it has no place in a formula.
    pub aside: Option<&'static str>,
    pub makes: Option<Made>,
    /// A pan, by a phrase that is understood.
    pub pan: Option<String>,
    /// The setting of the oven, on one scale or several.
    pub oven: Option<String>,
    /// The setting is that of a fan oven.
    pub fan: bool,
    pub minutes: Option<String>,
    /// It is a later stage of a bake that was told before.
    pub goes_on: bool,
    /// The stages of a bake in several.
    pub stages: Vec<StageSaid>,
    /// How a crust is baked before it is filled, which has no place in a formula.
    pub ahead: Option<String>,
    /// Why a pan is not understood: it matters where no line before names one.
    pub strange_pan: Option<Box<str>>,
    /// Whether a setting stands without its scale, and may be on either.
    pub scaleless: bool,
    /// What had to be assumed of the oven.
    pub told: Option<String>,
    /// Why something that has a place could not be put there.
    pub doubts: Vec<String>,
    /// What to write instead.
    pub tries: Vec<String>,
}

impl Beside {
    pub(super) fn aside(what: &'static str) -> Self {
        Self { aside: Some(what), ..Self::default() }
    }

    pub(super) fn is_nothing(&self) -> bool {
        *self == Self::default()
    }

    /// With the pan that was found, or why it was not understood.
    pub(super) fn with_tin(mut self, found: Tin) -> Self {
        match found {
            Tin::Pan(pan, other) => {
                if let Some(other) = other {
                    self.doubts.push(format!("Another pan stands behind ({other}); the first is taken"));
                }
                self.pan = Some(pan);
            }
            Tin::Refused(fault) => {
                self.strange_pan = Some(format!("The pan could not be understood: {}", fault.detail).into());
                self.tries.extend(fault.attempts);
            }
            Tin::None => {}
        }
        self
    }

    /// The first to say a thing is believed.
    pub(super) fn join(&mut self, other: Self) {
        self.aside = self.aside.or(other.aside);
        if let (Some(first), Some(second)) = (&mut self.makes, &other.makes)
            && let (Some(pieces), Some(more)) = (first.pieces, second.pieces)
        {
            if first.tins {
                first.clone_from(second);
            } else if first.told.is_none() && pieces != more && !second.tins {
                first.told = Some(format!("Of {pieces} and {more} pieces the first are taken"));
            }
        }
        self.makes = self.makes.take().or(other.makes);
        self.pan = self.pan.take().or(other.pan);
        if other.goes_on {
            let first = StageSaid::new(self.oven.take(), self.fan, self.minutes.take());
            let told = first != StageSaid::default() && self.stages.is_empty() && !other.stages.is_empty();
            self.stages.extend(told.then_some(first));
            // Where the stage before stands on this line, no line before is the first.
            (self.fan, self.goes_on) = (false, !told && self.stages.is_empty());
        }
        let goes_on = other.oven.is_none() && other.stages.is_empty();
        let mut minutes = other.minutes;
        if let Some(last) = self.stages.last_mut().filter(|last| goes_on && last.written.minutes.is_none()) {
            // "Lower to 180 C. Bake 20 min."
            last.written.minutes = minutes.take().map(|minutes| Written::Text(minutes.into()));
        }
        let mut stages = other.stages;
        if let Some(first) =
            stages.first_mut().filter(|first| first.written.oven.is_none() && self.stages.is_empty() && self.minutes.is_none())
        {
            // "Preheat to 240 C. Bake 30 minutes covered, uncover and bake 15 more."
            (first.written.oven, first.fan) = (self.oven.take().map(|oven| Written::Text(oven.into())), std::mem::take(&mut self.fan));
        }
        self.stages.extend(stages);
        self.ahead = self.ahead.take().or(other.ahead);
        self.scaleless |= other.scaleless;
        self.told = self.told.take().or(other.told);
        self.join_oven(other.oven, other.fan, minutes.is_some());
        self.minutes = self.minutes.take().or(minutes);
        self.strange_pan = self.strange_pan.take().or(other.strange_pan);
        self.doubts.extend(other.doubts);
        self.tries.extend(other.tries);
    }

    /// The setting that stands beside a time is that of the bake; one that only heats the oven gives way to it.
    fn join_oven(&mut self, oven: Option<String>, fan: bool, timed: bool) {
        let scale = |oven: &str| oven.split(" / ").next().and_then(|first| first.rsplit(' ').next()).map(str::to_owned);
        match (&self.oven, oven) {
            (_, None) => {}
            (None, oven) => (self.oven, self.fan) = (oven, fan),
            (Some(held), Some(oven)) if *held != oven && scale(held) == scale(&oven) && self.stages.is_empty() => {
                let gives_way = timed && self.minutes.is_none();
                let (kept, passed, why) = if gives_way {
                    (&oven, held, "is taken, for the time stands with it")
                } else {
                    (held, &oven, "is taken, for it stands first")
                };
                self.doubts.push(format!("An oven at {passed} stands here too; {kept} {why}"));
                if gives_way {
                    (self.oven, self.fan) = (Some(oven), fan);
                }
            }
            (Some(_), Some(_)) => {}
        }
    }
}
