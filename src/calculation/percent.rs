//! Percentages that may be meant as shares of one: they count as they stand, and that is told.

use crate::quantity::{Percent, Pointer};
use crate::reference::{Account, short};

/// Of a loss nobody writes less: what is lost in depositing is 0.2 % at the least.
pub const LEAST_LOSS: Percent = Percent::of_hundred(0.2);
/// Of the flour of a dough nobody puts less into a preferment.
pub const LEAST_FLOUR: Percent = Percent::of_hundred(1.0);

/// Tells of a percentage below the least that is usually meant.
pub fn tell_share(percent: Percent, least: Percent, who: &str, of: &str, at: &Pointer<'_>, account: &mut Account) {
    if percent <= Percent::of_hundred(0.0) || percent >= least {
        return;
    }
    let (percent, whole) = (short(percent.value()), short(percent.value() * 100.0));
    account.assume(
        format!("{who} {percent} %{of}, as it stands: as a share of one it would be written {whole}"),
        at,
        format!("{percent} %"),
    );
}
