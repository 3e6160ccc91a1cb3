//! Packs and spoons of one ingredient that are one amount: "1 stick plus 2 tablespoons" of butter, "1 packet plus 1 teaspoon" of yeast.

use super::Reference;
use super::account::Account;
use super::crossing::Measuring;
use crate::quantity::{Amount, Number, Pointer, Written, joined, parted};

impl Reference {
    /// Both in the unit of the first, by what each weighs; nothing where it is no such amount, or a pack of the ingredient is not known.
    pub fn in_packs(&self, written: &Written, of: &Measuring<'_>, at: &Pointer<'_>, account: &mut Account) -> Option<Amount> {
        let (first, joint, further) = parted(written, of.measures, at)?;
        let one = Amount { number: Number::exact(1.0), counting: first.counting.clone() };
        let one = self.weigh(&one, of, at, account).ok()?.mass.value();
        let more = self.weigh(&further, of, at, account).ok()?.mass;
        let [low, value, high] = [more.low(), more.value(), more.high()].map(|mass| (mass / one).value());
        let number = joined(&first.number, joint, &Number { low, value, high })?;
        Some(Amount { number, counting: first.counting })
    }
}
