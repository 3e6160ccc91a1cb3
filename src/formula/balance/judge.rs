//! The judging, done once for all rules: what is measured against the bound, with what may stand in for it. What a named style finds and which styles are
//! likely both ask here.

use std::borrow::Cow;

use super::super::base::NamedBase;
use super::super::counted::{Reading, Summed};
use super::super::total::Total;
use super::Over;
use super::finding::BalanceVerdict;
use super::rulebook::{Entry, Ruled};
use super::stands_in::StoodIn;
use crate::quantity::{Percent, Span};
use crate::reference::{Basis, Reference};

/// A mixture before its judge.
#[derive(Clone, Copy)]
pub struct Judging<'f> {
    pub mixture: &'f Summed<'f>,
    pub base: &'f NamedBase,
    pub ruled: &'static Ruled,
    pub reference: &'static Reference,
}

/// By which weights it is judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum By {
    /// As quoted: enough for a guess.
    Quoted,
    /// With all that they may be.
    Doubt,
}

impl By {
    pub fn ratio(self, above: &Total, below: &Total) -> Span<Percent> {
        match self {
            Self::Quoted => Span::exact(above.quoted_percent_of(below)),
            Self::Doubt => above.percent_of(below),
        }
    }
}

/// What a rule measured in one way of counting.
#[derive(Clone)]
pub(super) struct Measured<'j> {
    pub above: Cow<'j, Total>,
    pub below: Cow<'j, Total>,
    pub reading: Reading,
    pub percent: Span<Percent>,
    pub verdict: BalanceVerdict,
}

/// A rule held against a mixture, before it is put into words.
pub(super) struct Judged<'j> {
    pub whole: Measured<'j>,
    pub by_fat: Option<Measured<'j>>,
    pub stood_in: Option<StoodIn<'j>>,
    pub verdict: BalanceVerdict,
}

impl<'j> Judged<'j> {
    /// Of two ways of counting that both fail, the one that lies further out: what mends it mends the other. Otherwise the one that fails.
    pub(super) fn failing(&self) -> &Measured<'j> {
        let Some(by_fat) = &self.by_fat else { return &self.whole };
        let kept = |measured: &Measured<'_>| measured.verdict == BalanceVerdict::Within;
        if kept(&self.whole) != kept(by_fat) {
            return if kept(&self.whole) { by_fat } else { &self.whole };
        }
        let (whole, alone) = (self.whole.percent.value(), by_fat.percent.value());
        let too_much = [&self.whole, by_fat].iter().any(|measured| measured.verdict == BalanceVerdict::Above);
        if (alone > whole) == too_much { by_fat } else { &self.whole }
    }
}

impl<'f> Judging<'f> {
    /// Holds a rule against the mixture; nothing where it has nothing to say.
    pub(super) fn judged(&self, entry: &Entry, by: By) -> Option<Judged<'f>> {
        let bound = entry.bound;
        let both = bound.basis == Basis::Both;
        let mut whole = self.measured(entry, if both { Basis::Whole } else { bound.basis }, by)?;
        let by_fat = if both { self.measured(entry, Basis::EffectiveFat, by) } else { None };
        // Where several tell, the last of them does.
        let stood_in = entry.rule.stands_in.iter().filter_map(|stands_in| stands_in.found(self, entry, by, &mut whole)).last();
        let verdict = match (&by_fat, &stood_in) {
            (Some(by_fat), _) if by_fat.verdict != whole.verdict => BalanceVerdict::Depends,
            (_, Some(stood_in)) => stood_in.verdict(&whole, bound),
            _ => whole.verdict,
        };
        Some(Judged { whole, by_fat, stood_in, verdict })
    }

    /// Whether the rule that may hold in its stead does, by the weights as quoted.
    pub(super) fn let_pass(&self, entry: &Entry) -> bool {
        let of = |id: &str| self.ruled.entries.iter().find(|other| other.rule.id == id);
        let instead = entry.rule.instead.and_then(of).and_then(|other| self.judged(other, By::Quoted));
        instead.is_some_and(|judged| judged.verdict == BalanceVerdict::Within)
    }

    fn measured(&self, entry: &Entry, basis: Basis, by: By) -> Option<Measured<'f>> {
        let reading = Reading { basis, base: self.base.base(), made_up: self.mixture.made_up() };
        let above = self.mixture.counted(entry.rule.counts, reading);
        if entry.bound.where_present && above.is_nothing() {
            return None;
        }
        let below = match entry.rule.over {
            Over::Base => Cow::Borrowed(self.base.total()),
            Over::This(_, counts) => self.mixture.counted(counts, reading),
        };
        if below.is_nothing() {
            return None;
        }
        let percent = by.ratio(&above, &below);
        Some(Measured { above, below, reading, percent, verdict: BalanceVerdict::of(percent, entry.bound) })
    }
}
