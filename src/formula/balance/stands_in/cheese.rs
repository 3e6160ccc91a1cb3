//! Soft cheese in the place of butter: an icing carries icing sugar on both.

use super::super::judge::{Judging, Measured};
use crate::formula::balance::BalanceVerdict;
use crate::quantity::{Mass, Percent};
use crate::reference::{Bound, Class, short};

/// What is counted, on butter and cheese together.
pub struct Cheese {
    on_both: Percent,
}

impl Cheese {
    /// Where it is too much on the butter alone, and not on both.
    pub fn of(judging: &Judging<'_>, measured: &Measured<'_>, bound: &Bound) -> Option<Self> {
        if measured.verdict != BalanceVerdict::Above {
            return None;
        }
        let cheese = judging.mixture[Class::Cheese].mass().value();
        let on_both = (measured.above.mass().value() / (measured.below.mass().value() + cheese)).as_percent();
        let holds = cheese > Mass::ZERO && bound.high.is_some_and(|high| on_both.value() <= high.value());
        holds.then_some(Self { on_both })
    }

    pub fn settles(&self) -> String {
        format!(
            "Soft cheese is worked in like butter: on both together the icing sugar is {} %, and nothing need be taken out for stiffness",
            short(self.on_both.value().round())
        )
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::BalanceVerdict;
    use super::super::super::trial::{found, likeliest, verdict};

    #[test]
    fn the_icing_sugar_of_a_cream_cheese_icing_stands_on_butter_and_cheese() {
        let icing = [("cream cheese", "225 g"), ("butter", "115 g"), ("icing sugar", "450 g")];
        let sugar = found("buttercream", "icing-sugar", &icing);
        assert_eq!(sugar.verdict, BalanceVerdict::Depends);
        // 450 on 340.
        assert!(sugar.mend.is_some_and(|mend| mend.contains("132 %")));
        assert_eq!(verdict("buttercream", "icing-sugar", &[("butter", "115 g"), ("icing sugar", "450 g")]), Some(BalanceVerdict::Above));
        let likely = likeliest(&icing);
        assert!(likely.iter().any(|likely| likely.style == "buttercream" && !likely.outside.contains(&"icing-sugar")), "{likely:?}");
    }
}
