//! What binds in the place of egg: ground flaxseed and the like, by the swaps of the table.

use super::super::judge::{By, Judging, Measured};
use super::text;
use crate::formula::balance::BalanceVerdict;
use crate::quantity::{Mass, Proportion, Span, upper_first};
use crate::reference::{Base, Bound, Class};

/// The egg that it stands for, counted with the egg that is there.
pub struct ForEgg<'j> {
    name: &'j str,
    stands_for: Mass,
    together: Proportion,
}

impl<'j> ForEgg<'j> {
    /// Where flour has too little egg to bind it, and enough with what stands for it.
    pub fn of(judging: &Judging<'j>, measured: &Measured<'_>, bound: &Bound, by: By) -> Option<Self> {
        let low = bound.low?;
        // It holds no air and sets no custard.
        let binds = judging.base.base() == Base::Class(Class::Flour) && !judging.ruled.style.whipped;
        if !binds || measured.percent.value() >= low {
            return None;
        }
        let (name, egg) = judging.mixture.for_egg(judging.reference)?;
        let together = by.ratio(&measured.above.plus(egg), &measured.below);
        let enough = BalanceVerdict::of(Span::exact(together.value()), bound) != BalanceVerdict::Below;
        (enough && measured.verdict != BalanceVerdict::Within).then(|| Self {
            name,
            stands_for: egg.mass().value(),
            together: together.into(),
        })
    }

    pub fn settles(&self) -> String {
        let (name, stand) = (upper_first(self.name), if self.name.ends_with('s') { "stand" } else { "stands" });
        format!(
            "{name} {stand} in for egg here: by the usual swap for {} of it, with which it is {} %, and nothing need be added; it binds, and holds no air",
            text(self.stands_for),
            self.together.text()
        )
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::BalanceVerdict;
    use super::super::super::trial::{BELOW, found, verdict};

    fn muffins(with: (&'static str, &'static str)) -> [(&'static str, &'static str); 5] {
        [("plain flour", "250 g"), ("light brown sugar", "120 g"), ("vegetable oil", "80 g"), ("oat milk", "230 g"), with]
    }

    #[test]
    fn flaxseed_stands_in_for_the_egg_of_a_muffin_and_a_pinch_of_it_does_not() {
        let eggs = found("muffin", "eggs", &muffins(("ground flaxseed", "14 g")));
        assert_eq!((eggs.verdict, eggs.hinges), (BalanceVerdict::Depends, "whether what binds in its place counts as egg"));
        // 14 g stand for 100 g of egg, on 250.
        let mend = eggs.mend.unwrap_or_default();
        assert!(
            mend.starts_with("Ground flaxseed stands in for egg here: by the usual swap for 100 g of it, with which it is 40 %"),
            "{mend}"
        );
        assert_eq!(verdict("muffin", "eggs", &muffins(("ground flaxseed", "2 g"))), BELOW);
        assert_eq!(verdict("muffin", "eggs", &muffins(("raisins", "100 g"))), BELOW);
    }

    #[test]
    fn nothing_whips_in_the_place_of_the_eggs_of_a_sponge() {
        let sponge = [("plain flour", "100 g"), ("caster sugar", "100 g"), ("ground flaxseed", "30 g")];
        assert_eq!(verdict("genoise", "eggs", &sponge), BELOW);
    }
}
