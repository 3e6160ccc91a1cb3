//! How much dough is wanted: by weight, by pieces, by flour; with what is lost before the pieces are scaled.

use serde::Deserialize;
use utoipa::ToSchema;

use crate::calculation::percent::{LEAST_LOSS, tell_share};
use crate::quantity::{Code, Factor, Fault, Faults, Loss, Mass, Measures, Percent, Pointer, Written, read_mass};
use crate::reference::Account;

/// How much dough is wanted: exactly one of `weight`, `pieces` with `each`, `flour`.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DoughWantWritten {
    /// So much dough in all, as a mass.
    #[schema(nullable = false)]
    pub weight: Option<Written>,
    /// So many pieces; with `each`.
    #[schema(nullable = false, minimum = 1, maximum = 1_000_000, examples(73))]
    pub pieces: Option<u64>,
    /// What one piece of dough is scaled at, as a mass.
    #[schema(nullable = false)]
    pub each: Option<Written>,
    /// So much flour in all, as a mass.
    #[schema(nullable = false)]
    pub flour: Option<Written>,
    /// What is lost in mixing, rising and dividing, in percent of the dough; beside `weight` or `pieces`.
    #[schema(nullable = false, minimum = 0.0, exclusive_maximum = 100.0, examples(2.0))]
    pub loss: Option<f64>,
}

/// A want, understood.
#[derive(Clone, Copy, Debug)]
pub(super) enum Wanted {
    Dough(Mass),
    Flour(Mass),
}

pub(super) fn understood(written: &DoughWantWritten, at: &Pointer<'_>, account: &mut Account, faults: &mut Faults) -> Option<Wanted> {
    let given = usize::from(written.weight.is_some()) + usize::from(written.pieces.is_some()) + usize::from(written.flour.is_some());
    if given != 1 {
        let found = if given == 0 { "none of them" } else { "more than one of them" };
        faults.push(Fault::new(at, Code::ExactlyOne, found, "one of weight, pieces with each, flour").trying(["{\"weight\": \"10 kg\"}"]));
        return None;
    }
    let kept = match (written.loss, written.flour.is_some()) {
        (None, _) => Factor::ONE,
        (Some(_), true) => {
            faults.push(Fault::new(&at.key("loss"), Code::NotTogether, "loss beside flour", "loss beside weight or pieces"));
            return None;
        }
        (Some(percent), false) => {
            tell_share(Percent::of_hundred(percent), LEAST_LOSS, "The dough loses", "", &at.key("loss"), account);
            kept(percent, &at.key("loss"), faults)?
        }
    };
    if written.each.is_some() && written.pieces.is_none() {
        faults.push(Fault::new(&at.key("each"), Code::NotTogether, "each without pieces", "each only beside pieces"));
    }
    if let Some(flour) = &written.flour {
        return faults.keep(read_mass(flour, Measures::Us, &at.key("flour"))).map(Wanted::Flour);
    }
    if let Some(weight) = &written.weight {
        return faults.keep(read_mass(weight, Measures::Us, &at.key("weight"))).map(|weight| Wanted::Dough(weight / kept));
    }
    let pieces = written.pieces.filter(|pieces| (1..=1_000_000).contains(pieces));
    if pieces.is_none() {
        let found = format!("{} pieces", written.pieces.unwrap_or_default());
        faults.push(Fault::new(&at.key("pieces"), Code::OutOfRange, found, "from 1 to 1000000 pieces"));
    }
    let Some(each) = &written.each else {
        faults.push(Fault::new(&at.key("each"), Code::MissingField, "no mass", "what one piece is scaled at").trying(["400 g"]));
        return None;
    };
    let each = faults.keep(read_mass(each, Measures::Us, &at.key("each")))?;
    Some(Wanted::Dough(each * Factor::times(pieces? as f64) / kept))
}

fn kept(percent: f64, at: &Pointer<'_>, faults: &mut Faults) -> Option<Factor> {
    let loss = Loss::percent(percent);
    if loss.is_none() {
        faults.push(Fault::new(at, Code::OutOfRange, format!("{percent} %"), "from 0 % to below 100 %"));
    }
    loss.map(Loss::kept)
}
