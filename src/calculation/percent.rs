//! Percentages that may be meant as shares of one: they count as they stand, and that is told.

use crate::quantity::Pointer;
use crate::reference::{Account, short};

/// Of a loss nobody writes less: what is lost in depositing is 0.2 % at the least.
pub const LEAST_LOSS: f64 = 0.2;
/// Of the flour of a dough nobody puts less into a preferment.
pub const LEAST_FLOUR: f64 = 1.0;

/// Tells of a percentage below the least that is usually meant.
pub fn tell_share(percent: f64, least: f64, who: &str, of: &str, at: &Pointer<'_>, account: &mut Account) {
    if percent <= 0.0 || percent >= least {
        return;
    }
    let (percent, whole) = (short(percent), short(percent * 100.0));
    account.assume(
        format!("{who} {percent} %{of}, as it stands: as a share of one it would be written {whole}"),
        at,
        format!("{percent} %"),
    );
}
