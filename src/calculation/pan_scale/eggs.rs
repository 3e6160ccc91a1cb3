//! Nobody likes to halve an egg: the factors nearest to the one wanted that leave whole eggs, each with the fill that follows.

use serde::Serialize;
use utoipa::ToSchema;

use crate::formula::{Formula, eggs_used};
use crate::pan::Filling;
use crate::quantity::{Factor, Figure, Proportion, Quantifiable, Share};
use crate::reference::{Account, Reference};

/// A factor that leaves whole eggs.
#[derive(Debug, Serialize, ToSchema)]
pub struct WholeEggFactor {
    /// The factor.
    #[schema(minimum = 0.0, maximum = 1e6, examples(1.333333))]
    pub factor: Figure,
    /// How many whole eggs it takes.
    #[schema(minimum = 1, maximum = 1e9, examples(4))]
    pub eggs: u64,
    /// How full the new pans are then.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub fill: Option<Proportion>,
}

/// The nearest below and above; one where the factor itself leaves whole eggs.
pub(super) fn whole_egg_factors(
    formula: &Formula,
    factor: Factor,
    filling: Option<&Filling>,
    reference: &'static Reference,
    account: &mut Account,
) -> Vec<WholeEggFactor> {
    let Some(eggs) = eggs_used(formula, reference, account) else { return Vec::new() };
    let wanted = (eggs * factor).raw();
    let near = wanted.round();
    let whole = if (wanted - near).abs() < 1e-6 { vec![near] } else { vec![wanted.floor(), wanted.ceil()] };
    whole
        .into_iter()
        .filter(|count| *count >= 1.0)
        .map(|count| {
            let whole_factor = Factor::times(count / eggs.raw());
            let times = whole_factor / factor;
            let fill =
                filling.map(|filling| filling.fill.map(|share| Share::of_one(share.raw() * times.raw())).map(Share::as_percent).into());
            WholeEggFactor { factor: Figure(whole_factor.raw()), eggs: count as u64, fill }
        })
        .collect()
}
