//! What takes the place of flour though it is none: rolled oats, bran and ground nuts in a dough, and in a whisked cake the cocoa that is sifted with the flour and weighed out of it.

use std::borrow::Cow;

use super::super::judge::{By, Judging, Measured};
use crate::formula::balance::BalanceVerdict;
use crate::quantity::{Proportion, Span, upper_first};
use crate::reference::{Base, Bound, Class};

/// The same counted on flour and on what takes its place together.
pub struct ForFlour<'j> {
    on_both: Measured<'j>,
    /// What takes the place of flour, by its name.
    name: &'j str,
    holds: bool,
}

impl<'j> ForFlour<'j> {
    /// Where it is too much on the flour alone, and less so on both.
    pub fn of(judging: &Judging<'j>, measured: &Measured<'j>, bound: &Bound, by: By) -> Option<Self> {
        if measured.verdict == BalanceVerdict::Within {
            return None;
        }
        let quoted = |measured: &Measured<'_>| BalanceVerdict::of(Span::exact(measured.percent.value()), bound);
        if judging.base.base() != Base::Class(Class::Flour) || quoted(measured) != BalanceVerdict::Above {
            return None;
        }
        let (name, beside) = judging.mixture.for_flour(judging.ruled.style.whipped)?;
        let below = measured.below.plus(beside);
        let percent = by.ratio(&measured.above, &below);
        let verdict = BalanceVerdict::of(percent, bound);
        let on_both = Measured { above: measured.above.clone(), below: Cow::Owned(below), reading: measured.reading, percent, verdict };
        match quoted(&on_both) {
            // Where it is too little on both, it holds with a part of it counted.
            BalanceVerdict::Within | BalanceVerdict::Below => Some(Self { on_both, name, holds: true }),
            // What is greasy on both is so by less than on the flour alone, and loses less.
            BalanceVerdict::Above if measured.verdict == BalanceVerdict::Above => Some(Self { on_both, name, holds: false }),
            _ => None,
        }
    }

    pub const fn verdict(&self, measured: &Measured<'_>) -> BalanceVerdict {
        if self.holds { BalanceVerdict::Depends } else { measured.verdict }
    }

    pub fn settles(&self) -> Option<String> {
        let (name, take) = (upper_first(self.name), if self.name.ends_with('s') { "take" } else { "takes" });
        let on_both = self.text();
        self.holds
            .then(|| format!("{name} {take} the place of flour here: on both together it is {on_both} %, and nothing need be taken out"))
    }

    /// The weights by which it is mended, where what takes its place does not settle it.
    pub fn mended_by(&self) -> Option<(&Measured<'j>, String)> {
        (!self.holds).then(|| (&self.on_both, format!("On flour and {} together it is {} %: ", self.name, self.text())))
    }

    fn text(&self) -> smol_str::SmolStr {
        Proportion::from(self.on_both.percent).text()
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::BalanceVerdict;
    use super::super::super::trial::{ABOVE, WITHIN, found, likeliest, verdict};

    fn cookies(butter: &'static str, oats: &'static str) -> [(&'static str, &'static str); 6] {
        [
            ("all-purpose flour", "180 g"),
            ("butter", butter),
            ("brown sugar", "260 g"),
            ("egg", "100 g"),
            ("baking soda", "4 g"),
            ("rolled oats", oats),
        ]
    }

    #[test]
    fn the_butter_of_oat_cookies_stands_on_flour_and_oats() {
        let oat = cookies("225 g", "240 g");
        let fat = found("drop-cookie", "fat", &oat);
        assert_eq!((fat.verdict, fat.hinges), (BalanceVerdict::Depends, "what counts as flour"));
        // 225 on 420.
        assert!(fat.mend.as_ref().is_some_and(|mend| mend.contains("together it is 53.6 %")), "{:?}", fat.mend);
        for rule in ["sugar", "eggs", "soda", "leavening"] {
            assert_eq!(verdict("drop-cookie", rule, &oat), Some(BalanceVerdict::Depends), "{rule}");
        }
        assert_eq!(likeliest(&oat).first().map(|likely| likely.style), Some("drop-cookie"));
    }

    #[test]
    fn greasy_cookies_stay_so_and_lose_what_is_too_much_on_both() {
        assert_eq!(verdict("drop-cookie", "fat", &cookies("225 g", "240 g")[..5]), ABOVE);
        let greasy = found("drop-cookie", "fat", &cookies("300 g", "100 g"));
        assert_eq!(Some(greasy.verdict), ABOVE);
        // 85 % of 280 are 238: 62 too many. On the flour alone 147 would have to go.
        let mend = greasy.mend.unwrap_or_default();
        assert!(mend.starts_with("On flour and rolled oats together it is 107.1 %: take out 62 g of unsalted butter"), "{mend}");
    }

    #[test]
    fn a_handful_of_oats_in_what_holds_changes_nothing() {
        assert_eq!(verdict("drop-cookie", "fat", &cookies("120 g", "50 g")), WITHIN);
    }

    #[test]
    fn cocoa_takes_the_place_of_flour_in_a_whisked_cake_and_not_in_a_batter() {
        let sponge = |flour| [("egg", "255 g"), ("granulated sugar", "150 g"), ("cake flour", flour), ("cocoa powder", "30 g")];
        let sugar = found("genoise", "sugar", &sponge("120 g"));
        assert_eq!((sugar.verdict, sugar.hinges), (BalanceVerdict::Depends, "what counts as flour"));
        // 150 on 150.
        assert!(
            sugar.mend.as_ref().is_some_and(|mend| mend.starts_with("Unsweetened cocoa powder takes the place of flour here")),
            "{:?}",
            sugar.mend
        );
        assert!(sugar.mend.is_some_and(|mend| mend.contains("together it is 100 %")));
        assert_eq!(verdict("genoise", "eggs", &sponge("120 g")), Some(BalanceVerdict::Depends));
        assert_eq!(verdict("creamed", "sugar", &sponge("120 g")), ABOVE);
    }

    #[test]
    fn the_milk_of_a_bran_muffin_stands_on_flour_and_bran() {
        let muffin = [("plain flour", "150 g"), ("wheat bran", "80 g"), ("buttermilk", "220 g"), ("egg", "50 g")];
        let water = found("muffin", "water", &muffin);
        // 220 on 230.
        assert!(
            water.mend.as_ref().is_some_and(|mend| mend.starts_with("Wheat bran takes") && mend.contains("95.7 %")),
            "{:?}",
            water.mend
        );
    }

    #[test]
    fn what_is_too_much_on_the_flour_and_too_little_with_the_oats_is_no_fault() {
        let digestives = [("whole wheat flour", "150 g"), ("rolled oats", "100 g"), ("butter", "100 g"), ("brown sugar", "75 g")];
        let fat = found("rolled-cookie", "fat", &digestives);
        // 66.7 % of the flour, 40 % of both, and the style has 45 to 65.
        assert_eq!(fat.verdict, BalanceVerdict::Depends);
        assert!(fat.mend.is_some_and(|mend| mend.contains("together it is 40 %, and nothing need be taken out")));
    }

    #[test]
    fn a_chocolate_chiffon_stands_on_flour_and_cocoa() {
        let chiffon = [
            ("cake flour", "130 g"),
            ("cocoa powder", "40 g"),
            ("granulated sugar", "225 g"),
            ("egg yolk", "85 g"),
            ("egg white", "200 g"),
        ];
        // 225, 85 and 200 on 170; on 130 of flour the whites are 154 %.
        assert_eq!(["sugar", "yolks", "whites"].map(|rule| verdict("chiffon", rule, &chiffon)), [Some(BalanceVerdict::Depends); 3]);
    }
}
