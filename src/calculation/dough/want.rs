//! How much dough is wanted: by weight, by pieces, by flour; with what is lost before the pieces are scaled.

use serde::Deserialize;
use utoipa::ToSchema;

use crate::quantity::{Code, Counting, Factor, Family, Fault, Faults, Loss, Mass, Measures, Pointer, Written, read_amount};

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

pub(super) fn understood(written: &DoughWantWritten, at: &Pointer<'_>, faults: &mut Faults) -> Option<Wanted> {
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
        (Some(percent), false) => kept(percent, &at.key("loss"), faults)?,
    };
    if written.each.is_some() && written.pieces.is_none() {
        faults.push(Fault::new(&at.key("each"), Code::NotTogether, "each without pieces", "each only beside pieces"));
    }
    if let Some(flour) = &written.flour {
        return mass(flour, &at.key("flour"), faults).map(Wanted::Flour);
    }
    if let Some(weight) = &written.weight {
        return mass(weight, &at.key("weight"), faults).map(|weight| Wanted::Dough(weight / kept));
    }
    let pieces = written.pieces.filter(|pieces| (1..=1_000_000).contains(pieces));
    if pieces.is_none() {
        faults.push(Fault::new(&at.key("pieces"), Code::OutOfRange, "that many pieces", "from 1 to 1000000 pieces"));
    }
    let Some(each) = &written.each else {
        faults.push(Fault::new(&at.key("each"), Code::MissingField, "no mass", "what one piece is scaled at").trying(["400 g"]));
        return None;
    };
    let each = mass(each, &at.key("each"), faults)?;
    Some(Wanted::Dough(each * Factor::times(pieces? as f64) / kept))
}

fn kept(percent: f64, at: &Pointer<'_>, faults: &mut Faults) -> Option<Factor> {
    let loss = Loss::percent(percent);
    if loss.is_none() {
        faults.push(Fault::new(at, Code::OutOfRange, format!("{percent} %"), "from 0 % to below 100 %"));
    }
    loss.map(Loss::kept)
}

/// A mass above 0.
pub(super) fn mass(written: &Written, at: &Pointer<'_>, faults: &mut Faults) -> Option<Mass> {
    let amount = faults.keep(read_amount(written, Measures::Us, at))?;
    let read = match &amount.counting {
        Counting::Unit(unit) if unit.family == Family::Mass => Ok(Mass::grams(amount.number.value * unit.size)),
        Counting::Unit(unit) => Err(Fault::new(at, Code::WrongUnit, unit.family.word(), "a mass, such as \"400 g\"")),
        Counting::Nothing => Err(Fault::new(at, Code::UnitMissing, amount.number.value.to_string(), "a number and a unit of mass")
            .trying([format!("{} g", amount.number.value)])),
        Counting::Named(word) => Err(amount.unknown_unit(word, at)),
        _ => Err(Fault::new(at, Code::WrongUnit, "a count", "a mass, such as \"400 g\"")),
    };
    let mass = faults.keep(read)?;
    if mass > Mass::ZERO {
        return Some(mass);
    }
    faults.push(Fault::new(at, Code::OutOfRange, written.as_text().into_owned(), "a mass above 0"));
    None
}
