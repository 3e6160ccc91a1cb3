//! What the ingredients of a formula cost, by the caller's prices. Paid is what is bought: whole eggs and fruit, and what is trimmed off; each line bears its share of it.

use std::borrow::Cow;
use std::ops::Add;

use super::buying::{Bought, Usage, bought_as, taken_alone};
use super::resolved::{Formula, Line};
use crate::quantity::{Factor, Mass, Quantifiable, Span};
use crate::reference::{Account, Ingredient, Reference, short};

/// An amount of money, in whatever currency the prices are.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Money(f64);

impl Money {
    pub const fn of_figure(figure: Factor) -> Self {
        Self(figure.value())
    }
}

impl Quantifiable for Money {
    fn raw(self) -> f64 {
        self.0
    }

    fn of_raw(raw: f64) -> Self {
        Self(raw)
    }
}

impl Add for Money {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

/// The price of an ingredient: so much money for so much mass.
#[derive(Clone, Debug)]
pub struct Price {
    /// The id of the ingredient.
    pub id: Cow<'static, str>,
    pub money: Money,
    pub mass: Mass,
}

impl Price {
    fn of(&self, mass: Span<Mass>) -> Span<Money> {
        mass.map(|mass| Money(self.money.0 * (mass / self.mass).value()))
    }
}

/// The cost of every line, in the order of the formula; nothing where there is no price for it.
pub type LineCosts = Vec<Vec<Option<Span<Money>>>>;

/// The cost of each line of a formula as written.
pub fn line_costs(formula: &Formula, prices: &[Price], reference: &'static Reference, account: &mut Account) -> LineCosts {
    // Juice in bottles, whites in cartons: what has a price of its own is bought as it is used, though its fruit or egg has one too.
    let priced = |id: &str| prices.iter().find(|price| price.id == id);
    let apart = |ingredient: &Ingredient| bought_as(ingredient) != ingredient.id && priced(&ingredient.id).is_some();
    let mut usage = Usage::default();
    usage.add(formula, |_| Factor::ONE);
    let usage = usage.without(apart);
    let buy = usage.buying(reference, account);
    let paid: Vec<(&Bought, Option<&Price>)> = buy.iter().map(|bought| (bought, priced(&bought.id))).collect();
    for (bought, price) in paid.iter().filter_map(|(bought, price)| Some((bought, (*price)?))) {
        account.step(|| {
            let cost = price.of(bought.mass).value().0;
            format!(
                "{}: {} g bought at {} for {} g = {}",
                bought.ingredient,
                short(bought.mass.value().in_grams()),
                short(price.money.0),
                short(price.mass.in_grams()),
                short(cost)
            )
        });
    }
    let share = |line: &Line| taken_alone(&line.ingredient, line.weight.mass.value(), &usage, reference).value();
    let together =
        |id: &str| -> f64 { formula.lines().filter(|line| bought_as(&line.ingredient) == id && !apart(&line.ingredient)).map(share).sum() };
    let of_line = |line: &Line| {
        if apart(&line.ingredient) {
            return priced(&line.ingredient.id).map(|price| price.of(line.weight.mass));
        }
        let id = bought_as(&line.ingredient);
        let (bought, price) = paid.iter().find(|(bought, _)| *bought.id == *id)?;
        Some((*price)?.of(bought.mass) * Factor::times(share(line) / together(&id)))
    };
    formula.parts.iter().map(|part| part.lines.iter().map(of_line).collect()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Faults, Pointer};

    #[track_caller]
    fn costs(lines: &str, prices: &[(&'static str, f64, f64)]) -> Vec<Option<f64>> {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let text = format!(r#"{{"measures":"us","parts":[{{"name":"filling","lines":[{lines}]}}]}}"#);
        let written = serde_json::from_str(&text).unwrap_or_else(|fault| panic!("{text}: {fault}"));
        let (mut account, mut faults) = (Account::new(reference, false), Faults::new());
        let formula =
            Formula::resolve(&written, &Pointer::ROOT, reference, &mut account, &mut faults).unwrap_or_else(|| panic!("{faults:#?}"));
        let price = |&(id, money, grams): &(&'static str, f64, f64)| Price { id: id.into(), money: Money(money), mass: Mass::grams(grams) };
        let prices: Vec<Price> = prices.iter().map(price).collect();
        let costs = line_costs(&formula, &prices, reference, &mut account);
        costs.into_iter().flatten().map(|cost| cost.map(|cost| (cost.value().0 * 1e6).round() / 1e6)).collect()
    }

    #[test]
    fn trimmings_are_paid_for() {
        // 76 % of an apple is left when it is peeled and cored: 760 g of it are a kilogram bought.
        assert_eq!(costs(r#"{"ingredient":"peeled apple","amount":"760 g"}"#, &[("apple", 2.5, 1000.0)]), [Some(2.5)]);
    }

    #[test]
    fn an_egg_is_paid_whole_and_white_and_yolk_share_it() {
        let lines = r#"{"ingredient":"egg white","amount":"3 large"},{"ingredient":"egg yolk","amount":"1 large"},{"ingredient":"sugar","amount":"100 g"}"#;
        // Three eggs of 50 g at 3.00 for twelve: 0.75, of which the whites bear three quarters.
        assert_eq!(costs(lines, &[("egg", 3.0, 600.0)]), [Some(0.5625), Some(0.1875), None]);
    }

    #[test]
    fn bottled_juice_is_paid_as_it_is_used() {
        let lines = r#"{"ingredient":"lemon juice","amount":"48 g"},{"ingredient":"lemon zest","amount":"6 g"}"#;
        assert_eq!(costs(lines, &[("lemon-juice", 2.0, 480.0)]), [Some(0.2), None]);
        // Of the lemons only their zest is bought then, from 3 g each: two, whose juice is not paid for twice.
        assert_eq!(costs(lines, &[("lemon-juice", 2.0, 480.0), ("lemon", 0.5, 84.0)]), [Some(0.2), Some(1.0)]);
        let lines = r#"{"ingredient":"egg","amount":"3 large"},{"ingredient":"egg white","amount":"99 g"}"#;
        assert_eq!(costs(lines, &[("egg", 3.0, 600.0), ("egg-white", 20.0, 1000.0)]), [Some(0.75), Some(1.98)]);
    }
}
