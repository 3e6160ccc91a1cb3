//! Many formulas for one day: each planned as a batch is, parts that several share mixed once, and one buying list in which whites and yolks left over are used up.

mod answer;
mod mixing;
mod packs;
#[cfg(test)]
mod tests;

use serde::Deserialize;
use utoipa::ToSchema;

pub use answer::OrdersAnswer;
pub use packs::PackWritten;

use super::Calculation;
use super::batch::{LossWritten, Order, Plan, Understood, WantWritten};
use crate::formula::{FormulaWritten, Usage, caution};
use crate::quantity::{Code, Fault, Faults, Mass, Pointer, longer};
use crate::reference::{Account, Reference};

/// The orders of one day.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct OrdersQuestion {
    /// The orders, each a formula and how much is wanted of it.
    #[schema(min_items = 1, max_items = 200)]
    pub orders: Vec<OrderWritten>,
    /// In what packs ingredients are bought: the list is rounded up to whole ones, once, at the end.
    #[schema(nullable = false, max_items = 1000)]
    pub packs: Option<Vec<PackWritten>>,
}

/// One order.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct OrderWritten {
    /// What it is called; without it, as the formula is.
    #[schema(nullable = false, max_length = 200, examples("Saturday market"))]
    pub name: Option<String>,
    /// The formula.
    pub formula: FormulaWritten,
    /// How much is wanted: exactly one of `pieces`, `pans`, `weight`, `factor`, `have`.
    pub want: WantWritten,
    /// What is lost on the way. Those given are the only ones; without any, the style's are assumed and listed.
    #[schema(nullable = false, max_items = 50)]
    pub losses: Option<Vec<LossWritten>>,
}

/// The most orders of one question.
const MOST: usize = 200;

/// An order, understood and planned.
struct Planned {
    name: String,
    understood: Understood,
    plan: Plan,
}

/// The calculation.
pub struct Orders;

impl Calculation for Orders {
    const NAME: &'static str = "orders";
    const SUMMARY: &'static str = "Many formulas for one day: one plan, one buying list";
    const DESCRIPTION: &'static str = "Plans up to 200 formulas for one day, each as batch plans one; parts of the same name and the same lines are mixed once for all that share them; one buying list covers everything, with whites and yolks that one order leaves used by another, whole eggs and fruit counted once and packs rounded up once, at the end. Use it for a day's production; for one formula, with mixer and ledger, use batch.";
    const FLAT: bool = false;

    type Question = OrdersQuestion;
    type Answer = OrdersAnswer;

    fn answer(question: &OrdersQuestion, reference: &'static Reference, account: &mut Account) -> Result<OrdersAnswer, Faults> {
        let mut faults = Faults::new();
        let planned = planned(question, reference, account, &mut faults);
        let packs = packs::understood(question, reference, account, &mut faults);
        if !faults.is_empty() {
            return Err(faults);
        }
        let mixings = mixing::mixings(&planned);
        mixing::tell(&mixings, &planned, account);
        for (index, order) in planned.iter().enumerate() {
            // What is mixed once cools as one, however many it is for.
            let largest = mixings.iter().filter(|mixing| mixing.is_for(index)).map(mixing::Mixing::mass).fold(Mass::ZERO, larger);
            caution(&order.understood.formula, Some(larger(order.plan.mixed(&order.understood.formula), largest)), account);
        }
        let mut usage = Usage::default();
        planned.iter().for_each(|order| usage.add(&order.understood.formula, |part| order.plan.factor_of(&order.understood.formula, part)));
        tell_egg_sizes(&usage, account);
        let buy = usage.buying(reference, account);
        packs::tell_unused(&packs, &buy, account);
        Ok(answer::assembled(&planned, &mixings, &usage, buy, &packs, reference, account))
    }
}

/// Every order with its plan; those at fault are missing, and their faults told.
fn planned(question: &OrdersQuestion, reference: &'static Reference, account: &mut Account, faults: &mut Faults) -> Vec<Planned> {
    let root = Pointer::ROOT;
    let list = root.key("orders");
    if question.orders.is_empty() || question.orders.len() > MOST {
        let code = if question.orders.is_empty() { Code::MissingField } else { Code::TooMany };
        faults.push(Fault::new(&list, code, format!("{} orders", question.orders.len()), format!("from 1 to {MOST} orders")));
        return Vec::new();
    }
    let mut all = Vec::with_capacity(question.orders.len());
    for (index, written) in question.orders.iter().enumerate() {
        let at = list.index(index);
        if let Some(name) = written.name.as_deref().filter(|name| longer(name, 200)) {
            faults.push(Fault::new(&at.key("name"), Code::TextTooLong, name, "at most 200 characters"));
        }
        let mut own = account.beside();
        let order = Order { formula: &written.formula, want: &written.want, losses: written.losses.as_deref(), at: &at };
        let before = faults.total();
        let understood = order.understood(reference, &mut own, faults);
        if let Some(understood) = understood.filter(|_| faults.total() == before) {
            match order.planned(&understood, &mut own) {
                Ok(plan) => {
                    let name =
                        written.name.clone().or_else(|| written.formula.name.clone()).unwrap_or_else(|| format!("order {}", index + 1));
                    all.push(Planned { name, understood, plan });
                }
                Err(others) => faults.append(others),
            }
        }
        account.take_in(own);
    }
    all
}

fn larger(one: Mass, other: Mass) -> Mass {
    if other > one { other } else { one }
}

/// One list has one size of egg.
fn tell_egg_sizes(usage: &Usage<'_>, account: &mut Account) {
    let mut sizes: Vec<&str> = Vec::new();
    for size in usage.egg_sizes() {
        if !sizes.contains(&size.class) {
            sizes.push(size.class);
        }
    }
    if let Some((first, others)) = sizes.split_first().filter(|(_, others)| !others.is_empty()) {
        let text = format!("The orders count {first} and {} eggs; by their weight all are bought as {first}", others.join(" and "));
        account.assume(text, &Pointer::ROOT.key("orders"), *first);
    }
}
