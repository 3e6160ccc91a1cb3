//! Gas in the place of powder: soda by the acid that it finds, and yeast.

use std::borrow::Cow;

use super::super::finding::BalanceVerdict;
use super::super::judge::{By, Judging, Measured};
use super::text;
use crate::formula::leaven::{Leaven, PowderGas};
use crate::quantity::{Factor, Mass, Span, enough_text, lower_first};
use crate::reference::{Bound, LeaveningFigures};

/// What raises a mixture beside its powder.
pub struct Gas<'j> {
    /// All that gives gas, where there is soda in it.
    with_soda: Option<&'j Leaven>,
    has_yeast: bool,
    figures: &'j LeaveningFigures,
}

impl<'j> Gas<'j> {
    /// Nothing where powder alone raises it. Soda is measured by its gas.
    pub fn of(judging: &Judging<'j>, bound: &Bound, by: By, measured: &mut Measured<'j>) -> Option<Self> {
        let (with_soda, has_yeast) = (judging.mixture.with_soda(&judging.reference.leavening), judging.mixture.has_yeast());
        if let Some(leaven) = with_soda {
            measured.above = Cow::Borrowed(leaven.met());
            measured.percent = match by {
                By::Quoted => by.ratio(leaven.met(), &measured.below),
                By::Doubt => leaven.over(&measured.below),
            };
            measured.verdict = BalanceVerdict::of(measured.percent, bound);
        }
        (with_soda.is_some() || has_yeast).then_some(Self { with_soda, has_yeast, figures: &judging.reference.leavening.figures })
    }

    /// Where yeast raises it, little powder is no fault.
    pub fn verdict(&self, measured: &Measured<'_>, bound: &Bound) -> BalanceVerdict {
        if self.has_yeast { BalanceVerdict::at_most(measured.percent, bound) } else { measured.verdict }
    }

    pub fn hinges(&self) -> Option<&'static str> {
        // Soda that finds no acid is what its ends differ by.
        match self.with_soda {
            Some(leaven) if leaven.has_loose_soda() => Some("how much of the soda finds acid"),
            _ => None,
        }
    }

    /// What to take out, soda without acid first; or powder to add, where more soda would find no acid either.
    pub fn mend(&self, measured: &Measured<'_>, bound: &Bound) -> Option<String> {
        let leaven = self.with_soda?;
        self.surplus(leaven, measured, bound).or_else(|| self.lacking(leaven, measured, bound))
    }

    fn surplus(&self, leaven: &Leaven, measured: &Measured<'_>, bound: &Bound) -> Option<String> {
        let kept = measured.below.mass().value() * bound.high?.as_factor();
        let surplus = measured.above.mass().value() - kept;
        let loose = leaven.loose_soda();
        if surplus <= Mass::ZERO || loose <= Mass::ZERO {
            return None;
        }
        let soda = leaven.soda_for(surplus, self.figures, PowderGas::Trade);
        let out = enough_text(soda, kept * (soda / surplus));
        Some(match soda {
            soda if soda <= loose => format!("Take out {out} of baking soda, which finds no acid"),
            soda if soda <= leaven.soda.value() => format!("Take out {out} of baking soda; {} of it finds no acid", text(loose)),
            _ => return None,
        })
    }

    fn lacking(&self, leaven: &Leaven, measured: &Measured<'_>, bound: &Bound) -> Option<String> {
        let wanted = measured.below.mass().value() * bound.low?.as_factor();
        let lacking = wanted - measured.above.mass().value();
        let soda = leaven.soda_by_acid_for(lacking, self.figures, PowderGas::Trade);
        if lacking <= Mass::ZERO || leaven.left_over().value() + soda <= Mass::ZERO {
            return None;
        }
        Some(format!("Add {} of baking powder, for more soda would find no acid", enough_text(lacking, wanted)))
    }

    /// Nothing but the soda without acid leaves it open: it holds by what is known, or it is too much or too little by that and no more than little.
    pub fn settles(&self, measured: &Measured<'_>, bound: &Bound) -> Option<String> {
        if !self.with_soda?.has_loose_soda() {
            return None;
        }
        match BalanceVerdict::of(Span::exact(measured.percent.value()), bound) {
            BalanceVerdict::Within => Some(
                "It holds by the acid that is known, and nothing need be changed; only with acid for all of the soda would it be too much"
                    .to_owned(),
            ),
            BalanceVerdict::Below => {
                Some(format!("By the acid that is known it is too little: {}", lower_first(&self.mend(measured, bound)?)))
            }
            _ => Some(format!("By the acid that is known it is too much: {}", lower_first(&self.mend(measured, bound)?))),
        }
    }

    /// How the soda was counted.
    pub fn why(&self) -> Option<String> {
        let leaven = self.with_soda?;
        let (soda, loose) = (leaven.soda.value(), leaven.loose_soda());
        if loose < soda * Factor::times(0.05) {
            return None;
        }
        let [soda, loose] = [soda, loose].map(text);
        let of = if loose == soda {
            format!("No acid is known for the {soda} of soda")
        } else {
            format!("Of {soda} of soda {loose} finds no acid")
        };
        Some(format!(
            ". {of}: such soda gives half its gas, by heat, and stays behind, which some dark cakes want for their colour; the high end counts all of it in full"
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::BalanceVerdict;
    use super::super::super::trial::{found, likeliest, verdict};

    const CHOCOLATE: [(&str, &str); 7] = [
        ("all-purpose flour", "220 g"),
        ("granulated sugar", "300 g"),
        ("cocoa powder", "60 g"),
        ("baking powder", "4.6 g"),
        ("baking soda", "9.2 g"),
        ("buttermilk", "240 g"),
        ("vegetable oil", "110 g"),
    ];

    #[test]
    fn soda_that_finds_no_acid_counts_half_and_is_taken_out_first() {
        let leavening = found("oil-cake", "leavening", &CHOCOLATE);
        // Cocoa takes up 4 % of its weight and buttermilk 0.79 %: 4.296 g of soda in full, 4.904 g by half, at 3.742 g of powder a gram.
        let by_hand = 100.0 * (4.6 + 3.742 * (4.296 + 4.904 / 2.0)) / 220.0;
        assert!((leavening.measured.percent.0 - by_hand).abs() < 0.01, "{:?} and {by_hand}", leavening.measured);
        assert_eq!(leavening.measured.high.map(|high| high.0.round()), Some(18.0));
        assert_eq!(leavening.verdict, BalanceVerdict::Above);
        assert!(leavening.why.contains("4.9 g finds no acid"), "{}", leavening.why);
        assert!(leavening.mend.is_some_and(|mend| mend.starts_with("Take out 6")));
    }

    #[test]
    fn a_carrot_cake_raised_by_soda_without_acid_holds_by_what_is_known() {
        let carrot = [("all-purpose flour", "250 g"), ("granulated sugar", "300 g"), ("vegetable oil", "220 g"), ("baking soda", "9 g")];
        let leavening = found("oil-cake", "leavening", &carrot);
        assert_eq!((leavening.verdict, leavening.hinges), (BalanceVerdict::Depends, "how much of the soda finds acid"));
        assert!(leavening.mend.is_some_and(|mend| mend.contains("nothing need be changed")));
    }

    #[test]
    fn where_more_soda_would_find_no_acid_powder_is_added() {
        let scone = |more: &[(&'static str, &'static str)]| {
            let lines = [("plain flour", "120 g"), ("baking soda", "0.55 g"), ("butter", "33 g"), ("whole milk", "70 g")];
            found("scone", "leavening", &[&lines[..], more].concat())
        };
        // 0.55 g by heat alone are worth 1.03 g of powder, of which a scone takes 3.5 % of 120 g: 4.2.
        let alone = scone(&[]);
        assert_eq!(alone.mend.as_deref(), Some("Add 3.2 g of baking powder, for more soda would find no acid"));
        assert_eq!(scone(&[("baking powder", "3.2 g")]).measured.percent.0.round(), 4.0);
        // Buttermilk that takes up all of it and more: soda is what is missing.
        let sour = scone(&[("buttermilk", "240 g")]);
        assert!(sour.mend.is_some_and(|mend| mend.starts_with("Add 0.57 g of baking soda")));
    }

    #[test]
    fn a_yeast_waffle_is_not_told_to_take_powder_and_is_likely_one_without_it() {
        let waffle = [("bread flour", "500 g"), ("instant yeast", "14 g"), ("butter", "250 g"), ("whole milk", "500 g")];
        assert_eq!(verdict("waffle", "leavening", &waffle), Some(BalanceVerdict::Within));
        assert!(!likeliest(&waffle).iter().any(|likely| likely.outside.contains(&"leavening")), "{:?}", likeliest(&waffle));
    }

    #[test]
    fn soda_that_may_be_too_much_is_taken_out_as_soda_on_flour_and_on_flour_with_bran() {
        let pancake = [("plain flour", "250 g"), ("baking soda", "4.6 g"), ("baking powder", "4.6 g"), ("buttermilk", "500 g")];
        // 4.6 + 3.742 x (3.95 + 0.65 / 2) is 20.6, of which 20 may stay.
        let found_on = found("pancake", "leavening", &pancake);
        assert_eq!(found_on.verdict, BalanceVerdict::Depends);
        let mend = found_on.mend.unwrap_or_default();
        assert!(mend.starts_with("By the acid that is known it is too much: take out 0.32 g of baking soda"), "{mend}");
        let muffin =
            [("plain flour", "150 g"), ("wheat bran", "50 g"), ("baking soda", "6 g"), ("baking powder", "6 g"), ("buttermilk", "240 g")];
        let mend = found("muffin", "leavening", &muffin).mend.unwrap_or_default();
        assert!(mend.starts_with("On flour and wheat bran together it is ") && mend.contains("of baking soda"), "{mend}");
    }
}
