//! What is counted of a mixture, and its sums: those by class are made in one walk and asked often.

use std::borrow::Cow;
use std::cell::OnceCell;
use std::ops::{Deref, Index};

use super::egg::{MadeUp, eggs};
use super::leaven::{Leaven, PowderGas, is_soda};
use super::resolved::{Line, Mixture};
use super::total::Total;
use crate::quantity::Factor;
use crate::reference::{Base, Basis, Class, EggPart, Ingredient, LeaveningTables, Reference, Trait};

/// The share of an ingredient's weight that is counted: of a base, by a rule.
#[derive(Clone, Copy, Debug)]
pub enum Counts {
    /// What the table counts as this class.
    Class(Class),
    /// What it counts as the one or the other.
    Either(Class, Class),
    /// By the whole weight what it counts as this class; by the fat alone a share of its own.
    OrFatAlone(Class, fn(&Ingredient) -> Factor),
    /// A share of its own for each ingredient.
    Each(fn(&Ingredient, Reading) -> Factor),
}

impl Counts {
    pub fn share(self, ingredient: &Ingredient, reading: Reading) -> Factor {
        match self {
            Self::Class(Class::Egg) => eggs(ingredient, reading.made_up),
            Self::Class(class) => ingredient.counts_as(class),
            Self::Either(one, other) => ingredient.counts_as(one) + ingredient.counts_as(other),
            Self::OrFatAlone(_, share) if reading.basis == Basis::EffectiveFat => share(ingredient),
            Self::OrFatAlone(class, _) => ingredient.counts_as(class),
            Self::Each(share) => share(ingredient, reading),
        }
    }
}

/// What must be known of the style before anything is counted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    pub basis: Basis,
    pub base: Base,
    /// How much of its dried egg a mixture makes up.
    pub made_up: MadeUp,
}

/// A mixture with the sums of its classes, and what else is asked of it again and again.
pub struct Summed<'f> {
    mixture: Mixture<'f>,
    classes: [Total; Class::ALL.len()],
    /// How much of its dried egg is made up, where it has some.
    dried_egg: Option<MadeUp>,
    with_soda: OnceCell<Option<Box<Leaven>>>,
    /// Without cocoa and with it: styles that differ in this are asked of the same mixture.
    for_flour: [OnceCell<Total>; 2],
    for_egg: OnceCell<Total>,
}

impl<'f> Mixture<'f> {
    /// The weights that count as each class, in one walk over the lines.
    pub fn summed(self) -> Summed<'f> {
        let (with_soda, for_flour, for_egg) = (OnceCell::new(), Default::default(), OnceCell::new());
        let mut summed = Summed { mixture: self, classes: Default::default(), dried_egg: None, with_soda, for_flour, for_egg };
        let mut dried = false;
        self.lines().for_each(|line| {
            dried |= line.ingredient.fresh_egg.is_some();
            for (class, share) in &line.ingredient.classes {
                summed.classes[*class as usize].add(&line.weight, line.doubt, share.as_factor());
            }
        });
        if dried {
            summed.make_up();
        }
        summed
    }
}

impl<'f> Summed<'f> {
    /// Counts dried egg as the egg that it makes, and the liquid that makes it up with it.
    #[cold]
    fn make_up(&mut self) {
        let made_up = MadeUp::of(&self.mixture);
        for line in self.mixture.lines() {
            let water = made_up.water(&line.ingredient);
            self.classes[Class::Egg as usize].add(&line.weight, line.doubt, water);
            self.classes[Class::Liquid as usize].add(&line.weight, line.doubt, Factor::times(-water.value()));
        }
        self.dried_egg = Some(made_up);
    }

    /// How much of its dried egg is made up; nothing where it has none.
    pub(super) const fn dried_egg(&self) -> Option<MadeUp> {
        self.dried_egg
    }

    /// The same for what counts: of no dried egg all is made up.
    pub(super) fn made_up(&self) -> MadeUp {
        self.dried_egg.unwrap_or(MadeUp::WHOLLY)
    }

    /// The sum of what is counted: that of a class is there already.
    pub fn counted(&self, counts: Counts, reading: Reading) -> Cow<'_, Total> {
        match counts {
            Counts::Class(class) => Cow::Borrowed(&self[class]),
            Counts::OrFatAlone(class, _) if reading.basis != Basis::EffectiveFat => Cow::Borrowed(&self[class]),
            Counts::Either(one, other) => Cow::Owned(self[one].plus(&self[other])),
            Counts::OrFatAlone(..) | Counts::Each(_) => Cow::Owned(self.sum(|ingredient| counts.share(ingredient, reading))),
        }
    }

    /// All that gives gas, by the acid that is there; nothing where there is no soda. Every style has a rule that asks for it.
    pub fn with_soda(&self, tables: &'static LeaveningTables) -> Option<&Leaven> {
        let with_soda = self.with_soda.get_or_init(|| {
            self.lines().any(|line| is_soda(&line.ingredient)).then(|| Box::new(Leaven::of(self, tables, PowderGas::Trade)))
        });
        with_soda.as_deref()
    }

    /// The egg for which something else in it stands, by the swaps of egg for what is none, with its name.
    pub fn for_egg(&self, reference: &'static Reference) -> Option<(&'f str, &Total)> {
        let first = self.mixture.lines().find(|line| instead_of_egg(&line.ingredient, reference).is_some())?;
        let egg = || self.sum(|ingredient| instead_of_egg(ingredient, reference).unwrap_or(Factor::ZERO));
        Some((&first.ingredient.name, self.for_egg.get_or_init(egg)))
    }

    /// What takes the place of flour in it though it is none, with the name of the heaviest: oats, bran and ground nuts, and cocoa where it is weighed out of the flour.
    /// Where there is neither, nothing is walked.
    pub fn for_flour(&self, with_cocoa: bool) -> Option<(&'f str, &Total)> {
        let with_cocoa = with_cocoa && !self[Class::Cocoa].is_nothing();
        if self[Class::Additions].is_nothing() && !with_cocoa {
            return None;
        }
        let share = |ingredient: &Ingredient| match ingredient.is(Trait::StandsForFlour) {
            true => Factor::ONE,
            false if with_cocoa => ingredient.counts_as(Class::Cocoa),
            false => Factor::ZERO,
        };
        let grams = |line: &&Line| (line.weight.mass.value() * share(&line.ingredient)).in_grams();
        let heaviest = self.mixture.lines().filter(|line| grams(line) > 0.0).max_by(|a, b| grams(a).total_cmp(&grams(b)))?;
        Some((&heaviest.ingredient.name, self.for_flour[usize::from(with_cocoa)].get_or_init(|| self.sum(share))))
    }
}

/// Grams of egg for which a gram of something stands that is none.
fn instead_of_egg(ingredient: &Ingredient, reference: &'static Reference) -> Option<Factor> {
    if ingredient.counts_as(Class::Additions) == Factor::ZERO {
        return None;
    }
    let swap = reference.swaps.of(EggPart::Whole.id()).find(|swap| swap.main() == ingredient.id)?;
    Some(Factor::ONE / swap.components.first()?.grams.value().as_factor())
}

impl<'f> Deref for Summed<'f> {
    type Target = Mixture<'f>;

    fn deref(&self) -> &Mixture<'f> {
        &self.mixture
    }
}

impl Index<Class> for Summed<'_> {
    type Output = Total;

    fn index(&self, class: Class) -> &Total {
        &self.classes[class as usize]
    }
}

#[cfg(test)]
mod tests {
    use super::super::balance::trial::formula;

    #[test]
    fn cocoa_takes_the_place_of_flour_for_whom_asks_for_it_and_for_nobody_else() {
        let flapjack = formula(&[("all-purpose flour", "100 g"), ("rolled oats", "80 g"), ("cocoa powder", "20 g")]);
        let flapjack = flapjack.main().summed();
        let grams = |with_cocoa| flapjack.for_flour(with_cocoa).map(|(name, total)| (name, total.mass().value().in_grams()));
        assert_eq!(
            [true, false, true].map(grams),
            [Some(("rolled oats", 100.0)), Some(("rolled oats", 80.0)), Some(("rolled oats", 100.0))]
        );
    }
}
