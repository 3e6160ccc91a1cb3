//! The answer of `orders`, put together: the plan of each, what is mixed, what is bought for all.

use std::collections::BTreeMap;

use std::borrow::Cow;

use serde::Serialize;
use utoipa::ToSchema;

use super::Planned;
use super::mixing::Mixing;
use super::packs::{Pack, PacksShown, packed};
use crate::calculation::Answer;
use crate::calculation::batch::Multiplied;
use crate::formula::{Bought, CountShown, LeftOver, LineShown, Usage, buying, lines_scaled};
use crate::quantity::{Mass, Quantity, in_words};
use crate::reference::{Account, Owed, Reference};

/// The plan of a day.
#[derive(Debug, Serialize, ToSchema)]
pub struct OrdersAnswer {
    /// The plan of each order, in the order of the question.
    #[schema(max_items = 200)]
    pub plans: Vec<OrderPlan>,
    /// What to mix: every part once, for all orders that share it.
    #[schema(max_items = 10_000)]
    pub mix: Vec<MixingShown>,
    /// What to buy for all orders together.
    #[schema(max_items = 100_000)]
    pub buy: Vec<BoughtTogether>,
    /// What is used of each ingredient, as weighed: before trimming, without whole eggs and packs.
    #[schema(max_items = 100_000)]
    pub totals: Vec<TotalUsed>,
    /// What is mixed in all.
    pub weight: Quantity,
    #[serde(flatten)]
    pub owed: Owed,
}

/// The plan of one order.
#[derive(Debug, Serialize, ToSchema)]
pub struct OrderPlan {
    /// The order by its name, else that of its formula.
    #[schema(max_length = 200, examples("Saturday market"))]
    pub order: String,
    #[serde(flatten)]
    pub multiplied: Multiplied,
    /// What is mixed for it.
    pub mixed: Quantity,
}

/// One mixing.
#[derive(Debug, Serialize, ToSchema)]
pub struct MixingShown {
    /// The part.
    #[schema(max_length = 200, examples("lemon curd"))]
    pub part: String,
    /// What is mixed of it in all.
    pub weight: Quantity,
    /// The orders it is for, with what goes into each.
    #[schema(max_items = 200)]
    pub orders: Vec<MixedFor>,
    /// What to weigh; the texts add up to that of the weight.
    #[schema(max_items = 10_000)]
    pub lines: Vec<LineShown>,
}

/// What of a mixing goes into one order.
#[derive(Debug, Serialize, ToSchema)]
pub struct MixedFor {
    /// The order by its name.
    #[schema(max_length = 200)]
    pub order: String,
    /// How much.
    pub weight: Quantity,
}

/// One thing to buy for all orders.
#[derive(Debug, Serialize, ToSchema)]
pub struct BoughtTogether {
    /// What to buy.
    #[schema(max_length = 200, examples("egg"))]
    pub ingredient: Cow<'static, str>,
    /// How much of it, as bought where trimming takes a share.
    pub amount: Quantity,
    /// How many, where it is bought by the piece: whole ones, rounded up.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub count: Option<CountShown>,
    /// How many it would be, bought for each order apart; only where that is more.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1e15)]
    pub apart: Option<u64>,
    /// Whole packs, where a pack is given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub packed: Option<PacksShown>,
    /// What remains of it when all orders have taken theirs.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 5)]
    pub left_over: Vec<LeftOver>,
}

/// What is used of an ingredient.
#[derive(Debug, Serialize, ToSchema)]
pub struct TotalUsed {
    /// The ingredient.
    #[schema(max_length = 200, examples("egg white"))]
    pub ingredient: String,
    /// How much of it.
    pub amount: Quantity,
}

pub(super) fn assembled(
    planned: &[Planned],
    mixings: &[Mixing],
    usage: &Usage<'_>,
    buy: Vec<Bought>,
    packs: &[Pack],
    reference: &'static Reference,
    account: &mut Account,
) -> OrdersAnswer {
    let apart = counted_apart(planned, reference, account);
    let buy: Vec<BoughtTogether> = buy.into_iter().map(|bought| together(bought, &apart, packs)).collect();
    let mixed: Mass = planned.iter().map(|order| order.plan.mixed(&order.understood.formula)).sum();
    let shared = mixings.iter().filter(|mixing| mixing.orders.len() > 1).count();
    account.step(|| format!("{} orders, {} mixings, {shared} of them for several orders", planned.len(), mixings.len()));
    OrdersAnswer {
        plans: planned.iter().map(plan).collect(),
        mix: mixings.iter().map(|mixing| shown(mixing, planned)).collect(),
        totals: usage
            .all()
            .iter()
            .map(|used| TotalUsed { ingredient: used.ingredient.name.to_string(), amount: Quantity::from(used.mass) })
            .collect(),
        weight: Quantity::from(mixed),
        owed: account.settle(summary(planned.len(), mixed, shared, &buy)),
        buy,
    }
}

fn plan(order: &Planned) -> OrderPlan {
    let (formula, plan) = (&order.understood.formula, &order.plan);
    let way = order.understood.way();
    OrderPlan { order: order.name.clone(), multiplied: Multiplied::of(formula, &way, plan), mixed: Quantity::from(plan.mixed(formula)) }
}

fn shown(mixing: &Mixing, planned: &[Planned]) -> MixingShown {
    let (lines, times) = mixing.lines();
    let (lines, weight) = lines_scaled(lines, times);
    let orders = mixing.orders.iter().map(|(order, mass)| MixedFor { order: planned[*order].name.clone(), weight: Quantity::from(*mass) });
    MixingShown { part: mixing.part.clone(), weight, orders: orders.collect(), lines }
}

/// What is bought by the piece, counted for each order apart.
fn counted_apart(planned: &[Planned], reference: &'static Reference, account: &Account) -> BTreeMap<String, u64> {
    let mut apart: BTreeMap<String, u64> = BTreeMap::new();
    for order in planned {
        let formula = &order.understood.formula;
        for bought in buying(formula, |part| order.plan.factor_of(formula, part), reference, &mut account.beside()) {
            if let Some(count) = &bought.count {
                let sum = apart.entry(bought.id.into_owned()).or_default();
                *sum = sum.saturating_add(count.whole);
            }
        }
    }
    apart
}

fn together(bought: Bought, apart: &BTreeMap<String, u64>, packs: &[Pack]) -> BoughtTogether {
    let packed = packed(&bought, packs);
    let whole = bought.count.as_ref().map(|count| count.whole);
    let apart = apart.get(&*bought.id).copied().filter(|apart| whole.is_some_and(|whole| whole < *apart));
    let Bought { ingredient, amount, count, left_over, .. } = bought;
    BoughtTogether { ingredient, amount, count, apart, packed, left_over }
}

fn summary(orders: usize, mixed: Mass, shared: usize, buy: &[BoughtTogether]) -> String {
    let orders = if orders == 1 { "1 order".to_owned() } else { format!("{orders} orders") };
    let shared = match shared {
        0 => String::new(),
        1 => ", one part mixed once for several".to_owned(),
        many => format!(", {many} parts mixed once for several"),
    };
    let eggs = buy.iter().find(|bought| bought.ingredient == "egg").and_then(|egg| {
        let whole = egg.count.as_ref()?.whole;
        Some(egg.apart.map_or_else(|| format!("; {whole} eggs"), |apart| format!("; {whole} eggs, not {apart} as for each order apart")))
    });
    format!("{orders}: mix {} kg{shared}{}", in_words(mixed.in_grams() / 1000.0), eggs.unwrap_or_default())
}

impl Answer for OrdersAnswer {
    fn cell(&self) -> String {
        self.weight.value.rounded().to_string()
    }

    fn owed(&self) -> &Owed {
        &self.owed
    }
}
