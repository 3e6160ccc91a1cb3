//! What may stand in for what a rule counts, though no share of it is counted: each a file, named by the rule that asks for it.

mod cheese;
mod for_egg;
mod for_flour;
mod fruit;
mod gas;

use super::finding::BalanceVerdict;
use super::judge::{By, Judging, Measured};
use super::rulebook::Entry;
use crate::quantity::{Mass, Quantity};
use crate::reference::Bound;

use cheese::Cheese;
use for_egg::ForEgg;
use for_flour::ForFlour;
use fruit::Fruit;
use gas::Gas;

/// What may stand in for what a rule counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StandIn {
    /// Soda, by the acid that it finds, and yeast, for powder.
    Gas,
    /// The water of soft fruit, for liquid.
    SoftFruit,
    /// Soft cheese, for butter.
    SoftCheese,
    /// Ground flaxseed and the like, for egg that binds.
    ForEgg,
    /// Oats, bran, ground nuts and the cocoa of a whisked cake, for the flour that it is measured on.
    ForFlour,
}

/// What does stand in, in one mixture.
pub(super) enum StoodIn<'j> {
    Gas(Gas<'j>),
    Fruit(Fruit),
    Cheese(Cheese),
    ForEgg(ForEgg<'j>),
    ForFlour(ForFlour<'j>),
}

impl StandIn {
    /// What stands in, where it tells on the rule. What was measured may be another sum with it.
    pub(super) fn found<'j>(self, judging: &Judging<'j>, entry: &Entry, by: By, measured: &mut Measured<'j>) -> Option<StoodIn<'j>> {
        match self {
            Self::Gas => Gas::of(judging, entry.bound, by, measured).map(StoodIn::Gas),
            Self::SoftFruit => Fruit::of(judging, measured, entry.bound).map(StoodIn::Fruit),
            Self::SoftCheese => Cheese::of(judging, measured, entry.bound).map(StoodIn::Cheese),
            Self::ForEgg => ForEgg::of(judging, measured, entry.bound, by).map(StoodIn::ForEgg),
            Self::ForFlour => ForFlour::of(judging, measured, entry.bound, by).map(StoodIn::ForFlour),
        }
    }
}

impl<'j> StoodIn<'j> {
    pub fn verdict(&self, measured: &Measured<'_>, bound: &Bound) -> BalanceVerdict {
        match self {
            Self::Gas(gas) => gas.verdict(measured, bound),
            Self::Fruit(_) | Self::Cheese(_) | Self::ForEgg(_) => BalanceVerdict::Depends,
            Self::ForFlour(beside) => beside.verdict(measured),
        }
    }

    /// On what it hinges, as the end of a sentence; `open` where no way of counting or of filling explains the doubt.
    pub fn hinges(&self, open: bool) -> Option<&'static str> {
        match self {
            Self::Gas(gas) => gas.hinges().filter(|_| open),
            Self::Fruit(_) => Some("how much water the fruit or vegetables give up"),
            Self::Cheese(_) => Some("whether soft cheese counts as butter"),
            Self::ForEgg(_) => Some("whether what binds in its place counts as egg"),
            Self::ForFlour(_) => Some("what counts as flour"),
        }
    }

    /// The mend of what is above or below, where it is another than that of the shares.
    pub fn mend(&self, measured: &Measured<'_>, bound: &Bound) -> Option<String> {
        match self {
            Self::Gas(gas) => gas.mend(measured, bound),
            Self::Fruit(_) | Self::Cheese(_) | Self::ForEgg(_) | Self::ForFlour(_) => None,
        }
    }

    /// The weights by which it is mended, where they are others than what the rule measured, and what is to be said before.
    pub fn mended_by(&self) -> Option<(&Measured<'j>, String)> {
        match self {
            Self::ForFlour(beside) => beside.mended_by(),
            Self::Gas(_) | Self::Fruit(_) | Self::Cheese(_) | Self::ForEgg(_) => None,
        }
    }

    /// What settles the doubt, under the same condition.
    pub fn settles(&self, measured: &Measured<'_>, bound: &Bound, open: bool) -> Option<String> {
        match self {
            Self::Gas(gas) => open.then(|| gas.settles(measured, bound)).flatten(),
            Self::Fruit(fruit) => Some(fruit.settles()),
            Self::Cheese(cheese) => Some(cheese.settles()),
            Self::ForEgg(instead) => Some(instead.settles()),
            Self::ForFlour(beside) => beside.settles(),
        }
    }

    /// What is to be said of it beside why the rule matters.
    pub fn why(&self) -> Option<String> {
        match self {
            Self::Gas(gas) => gas.why(),
            Self::Fruit(_) | Self::Cheese(_) | Self::ForEgg(_) | Self::ForFlour(_) => None,
        }
    }
}

fn text(mass: Mass) -> smol_str::SmolStr {
    Quantity::from(mass).text
}
