//! Parts of a whole: a share, a percentage, and a loss, which can never be the whole of what enters a stage.

use super::measure::Factor;
use super::span::Quantifiable;

/// A part of a whole, as a number between 0 and 1 (a fill may pass 1: then it runs over).
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
pub struct Share(f64);

impl Share {
    pub const fn of_one(value: f64) -> Self {
        Self(value)
    }

    pub const fn value(self) -> f64 {
        self.0
    }

    pub const fn as_factor(self) -> Factor {
        Factor::times(self.0)
    }

    pub const fn as_percent(self) -> Percent {
        Percent::of_hundred(self.0 * 100.0)
    }
}

/// A number of hundredths of a named basis: 60 % of the flour, 110 % of the sugar.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
pub struct Percent(f64);

impl Percent {
    pub const fn of_hundred(value: f64) -> Self {
        Self(value)
    }

    pub const fn value(self) -> f64 {
        self.0
    }

    pub const fn as_factor(self) -> Factor {
        Factor::times(self.0 / 100.0)
    }
}

impl Quantifiable for Share {
    fn raw(self) -> f64 {
        self.0
    }

    fn of_raw(raw: f64) -> Self {
        Self(raw)
    }
}

impl Quantifiable for Percent {
    fn raw(self) -> f64 {
        self.0
    }

    fn of_raw(raw: f64) -> Self {
        Self(raw)
    }
}

/// The share of the mass entering a stage that does not leave it: from 0 up to, but never, the whole.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Loss(f64);

impl Loss {
    /// Fails outside 0 % … below 100 %.
    pub fn percent(percent: f64) -> Option<Self> {
        (0.0..100.0).contains(&percent).then_some(Self(percent / 100.0))
    }

    /// What stays, as a factor above 0.
    pub const fn kept(self) -> Factor {
        Factor::times(1.0 - self.0)
    }

    pub const fn as_percent(self) -> Percent {
        Percent::of_hundred(self.0 * 100.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_can_be_lost_whole() {
        assert!(Loss::percent(100.0).is_none());
        assert!(Loss::percent(-1.0).is_none());
        assert!(Loss::percent(f64::NAN).is_none());
        assert_eq!(Loss::percent(11.0).map(|loss| loss.kept().value()), Some(0.89));
    }
}
