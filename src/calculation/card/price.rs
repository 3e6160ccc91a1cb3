//! The caller's prices, each so much for so much of an ingredient; and money on its way out.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::CardQuestion;
use crate::formula::{Formula, Money, Price, Stated, bought_as};
use crate::quantity::{Code, Factor, Fault, Faults, Figure, Pointer, Quantifiable, Span, Written};
use crate::reference::{Account, Reference};

/// What an amount of an ingredient costs.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PriceWritten {
    /// The ingredient, as it is used or as it is bought: lemons for their juice, eggs for whites and yolks. Where both have a price, what is used is bought by its own.
    #[schema(max_length = 200, examples("unsalted butter"))]
    pub ingredient: String,
    /// The amount that the price is for.
    pub amount: Written,
    /// The price of that amount.
    #[schema(minimum = 0.0, maximum = 1e9, examples(8.4))]
    pub price: f64,
}

/// An amount of money.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct CostShown {
    /// The figure.
    #[schema(value_type = f64, minimum = 0.0, maximum = 1e30, examples(1.84))]
    pub amount: Figure,
    /// The least it may be, where the weight is not exact.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = f64, nullable = false, minimum = 0.0, maximum = 1e30)]
    pub low: Option<Figure>,
    /// The most it may be, where the weight is not exact.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = f64, nullable = false, minimum = 0.0, maximum = 1e30)]
    pub high: Option<Figure>,
    /// For people, with the currency as given; the texts of lines add up to that of the batch.
    #[schema(max_length = 80, examples("1.84 GBP"))]
    pub text: String,
}

/// The most prices that a question may name.
const MOST: usize = 1000;

/// The prices; nothing inside where none were given.
pub(super) fn understood(
    question: &CardQuestion,
    reference: &'static Reference,
    account: &mut Account,
    faults: &mut Faults,
) -> Option<Option<Vec<Price>>> {
    let root = Pointer::ROOT;
    let list = root.key("prices");
    let Some(written) = &question.prices else { return Some(None) };
    if written.len() > MOST {
        faults.push(Fault::new(&list, Code::TooMany, format!("{} prices", written.len()), format!("at most {MOST} prices")));
        return None;
    }
    let mut prices: Vec<Price> = Vec::with_capacity(written.len());
    for (index, one) in written.iter().enumerate() {
        let at = list.index(index);
        let Some(price) = price(one, question, reference, &at, account, faults) else { continue };
        if prices.iter().any(|known| known.id == price.id) {
            faults.push(Fault::new(&at.key("ingredient"), Code::RepeatedField, &*one.ingredient, "one price for each ingredient"));
        }
        prices.push(price);
    }
    Some(Some(prices))
}

fn price(
    written: &PriceWritten,
    question: &CardQuestion,
    reference: &'static Reference,
    at: &Pointer<'_>,
    account: &mut Account,
    faults: &mut Faults,
) -> Option<Price> {
    if !(0.0..=1e9).contains(&written.price) {
        faults.push(Fault::new(&at.key("price"), Code::OutOfRange, written.price.to_string(), "a price from 0 to 1000000000"));
    }
    let money = Money::of_figure(Factor::times(written.price));
    let root = Pointer::ROOT;
    let formula_at = root.key("formula");
    let formula = &question.formula;
    let stated = Stated { ingredient: &written.ingredient, amount: &written.amount, at, field: "amount", formula, formula_at: &formula_at };
    let (ingredient, mass) = stated.weighed(&formula.ingredients, reference, account, faults)?;
    Some(Price { id: ingredient.id.clone(), money, mass })
}

/// Prices that nothing was reckoned with are told: perhaps the name is another.
pub(super) fn tell_unused(prices: &[Price], question: &CardQuestion, formula: &Formula, account: &mut Account) {
    let root = Pointer::ROOT;
    let list = root.key("prices");
    let lines = || formula.lines();
    for (index, (price, written)) in prices.iter().zip(question.prices.iter().flatten()).enumerate() {
        if !lines().any(|line| line.ingredient.id == price.id || bought_as(&line.ingredient) == price.id) {
            let at = list.index(index);
            account.assume(
                format!("The formula takes no {}: its price is not used", written.ingredient),
                &at.key("ingredient"),
                "not used",
            );
        }
    }
}

impl CostShown {
    pub(super) fn new(cost: Span<Money>, currency: Option<&str>) -> Self {
        let value = cost.value().raw();
        // A crumb of a cent is worth telling where the whole is only cents.
        let places = if value >= 0.1 || value == 0.0 { 2 } else { 4 };
        let end = |money: Money| (!cost.is_exact()).then_some(Figure(money.raw()));
        Self { amount: Figure(value), low: end(cost.low()), high: end(cost.high()), text: text(&format!("{value:.places$}"), currency) }
    }
}

/// Costs, as far as there are any, whose texts add up to that of their sum: hundredths are shared out by largest remainder.
pub(super) fn fitted(lines: &[Option<Span<Money>>], currency: Option<&str>) -> (Vec<Option<CostShown>>, CostShown) {
    let costs: Vec<Span<Money>> = lines.iter().flatten().copied().collect();
    let whole = costs.iter().copied().fold(Span::exact(Money::of_raw(0.0)), |sum, cost| sum + cost);
    let hundredfold: Vec<f64> = costs.iter().map(|cost| (cost.value().raw() * 1e8).round() / 1e6).collect();
    let mut shown: Vec<f64> = hundredfold.iter().map(|cents| cents.floor()).collect();
    let target = (whole.value().raw() * 100.0).round();
    let mut order: Vec<usize> = (0..costs.len()).collect();
    order.sort_by(|&a, &b| hundredfold[b].fract().total_cmp(&hundredfold[a].fract()).then(a.cmp(&b)));
    let short = (target - shown.iter().sum::<f64>()).max(0.0) as usize;
    order.iter().take(short).for_each(|&at| shown[at] += 1.0);
    let with = |cost: Span<Money>, cents: f64| CostShown {
        text: text(&format!("{:.2}", cents / 100.0), currency),
        ..CostShown::new(cost, currency)
    };
    let mut shown = costs.iter().zip(shown).map(|(cost, cents)| with(*cost, cents));
    (lines.iter().map(|line| line.and_then(|_| shown.next())).collect(), with(whole, target))
}

fn text(figure: &str, currency: Option<&str>) -> String {
    currency.map_or_else(|| figure.to_owned(), |currency| format!("{figure} {}", currency.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cents_of_the_lines_add_up() {
        let costs = [Some(0.333), None, Some(0.333), Some(0.334)].map(|cost| cost.map(|cost| Span::exact(Money::of_raw(cost))));
        let (lines, whole) = fitted(&costs, Some("GBP"));
        let texts: Vec<_> = lines.iter().map(|line| line.as_ref().map(|line| line.text.as_str())).collect();
        assert_eq!(texts, [Some("0.33 GBP"), None, Some("0.33 GBP"), Some("0.34 GBP")]);
        assert_eq!(whole.text, "1.00 GBP");
    }
}
