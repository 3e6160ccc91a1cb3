//! In what packs ingredients are bought. Packs are rounded up once, over the whole list: rounded for each order they would add up to too many.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::OrdersQuestion;
use crate::calculation::batch::{WholeAndExact, whole_and_exact};
use crate::formula::{Bought, Stated, bought_as};
use crate::quantity::{Code, Factor, Fault, Faults, Mass, Pointer, Quantity, Written};
use crate::reference::{Account, Reference};

/// What one pack of an ingredient holds.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PackWritten {
    /// The ingredient as it is bought: eggs for whites and yolks, lemons for their juice.
    #[schema(max_length = 200, examples("egg"))]
    pub ingredient: String,
    /// What one pack holds.
    pub pack: Written,
}

/// A pack, understood.
#[derive(Clone, Debug)]
pub(super) struct Pack {
    id: Cow<'static, str>,
    /// The whole that it is taken from, where it is no whole itself.
    bought_as: Option<Cow<'static, str>>,
    name: String,
    written: String,
    mass: Mass,
    /// Its place in the list.
    index: usize,
}

/// How many packs to buy.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct PacksShown {
    /// One pack, as given.
    #[schema(max_length = 200, examples("30 large"))]
    pub pack: String,
    /// Whole packs beside the exact figure; what is short by less than a thousandth is no further pack.
    pub packs: WholeAndExact,
    /// What the packs hold beyond what is needed.
    pub over: Quantity,
}

const MOST: usize = 1000;
/// What is short by less than this share of the need, and of a pack, is no further pack: common practice, no source.
const NO_PACK: f64 = 0.001;
const LEAST_OF_PACK: f64 = 0.02;

pub(super) fn understood(
    question: &OrdersQuestion,
    reference: &'static Reference,
    account: &mut Account,
    faults: &mut Faults,
) -> Vec<Pack> {
    let root = Pointer::ROOT;
    let list = root.key("packs");
    let written = question.packs.as_deref().unwrap_or_default();
    if written.len() > MOST {
        faults.push(Fault::new(&list, Code::TooMany, format!("{} packs", written.len()), format!("at most {MOST} packs")));
        return Vec::new();
    }
    let mut packs: Vec<Pack> = Vec::with_capacity(written.len());
    for (index, one) in written.iter().enumerate() {
        let at = list.index(index);
        let Some(pack) = pack(one, index, question, reference, &at, account, faults) else { continue };
        if packs.iter().any(|known| known.id == pack.id) {
            faults.push(Fault::new(&at.key("ingredient"), Code::RepeatedField, &*one.ingredient, "one pack for each ingredient"));
        }
        packs.push(pack);
    }
    packs
}

fn pack(
    written: &PackWritten,
    index: usize,
    question: &OrdersQuestion,
    reference: &'static Reference,
    at: &Pointer<'_>,
    account: &mut Account,
    faults: &mut Faults,
) -> Option<Pack> {
    let root = Pointer::ROOT;
    let orders = root.key("orders");
    let first = orders.index(0);
    // The kitchen measures as its first formula does.
    let (formula, formula_at) = (&question.orders.first()?.formula, first.key("formula"));
    let stated = Stated { ingredient: &written.ingredient, amount: &written.pack, at, field: "pack", formula, formula_at: &formula_at };
    let own = question.orders.iter().flat_map(|order| &order.formula.ingredients);
    let (ingredient, mass) = stated.weighed(own, reference, account, faults)?;
    let whole = bought_as(&ingredient);
    let whole = (whole != ingredient.id).then_some(whole);
    Some(Pack {
        id: ingredient.id.clone(),
        bought_as: whole,
        name: ingredient.name.to_string(),
        written: written.pack.as_text().into_owned(),
        mass,
        index,
    })
}

/// How many packs of something bought; nothing where no pack is known of it.
pub(super) fn packed(bought: &Bought, packs: &[Pack]) -> Option<PacksShown> {
    let pack = packs.iter().find(|pack| pack.id == bought.id)?;
    let needed = bought.mass.value();
    let exact = needed / pack.mass;
    // Two sticks are 226.8 g and a cup of butter is 227: for what no scale of a kitchen tells apart nobody opens a pack.
    let crumb = (exact.value() * NO_PACK).min(LEAST_OF_PACK);
    let packs = WholeAndExact { whole: exact.rounded_up_but(Factor::times(crumb)), ..whole_and_exact(exact) };
    let over = pack.mass * Factor::times(packs.whole as f64) - needed;
    Some(PacksShown { pack: pack.written.clone(), packs, over: Quantity::from(if over > Mass::ZERO { over } else { Mass::ZERO }) })
}

/// A pack that is not on the list is told: perhaps the thing is bought under another name.
pub(super) fn tell_unused(packs: &[Pack], buy: &[Bought], account: &mut Account) {
    let root = Pointer::ROOT;
    let list = root.key("packs");
    for pack in packs.iter().filter(|pack| !buy.iter().any(|bought| bought.id == pack.id)) {
        let at = list.index(pack.index);
        let text = match pack.bought_as.as_deref().and_then(|whole| buy.iter().find(|bought| bought.id == whole)) {
            Some(whole) => format!("The {} is bought as {}: give the pack of that, this one is not used", pack.name, whole.ingredient),
            None => format!("No {} is on the buying list: its pack is not used", pack.name),
        };
        account.assume(text, &at.key("ingredient"), "not used");
    }
}
