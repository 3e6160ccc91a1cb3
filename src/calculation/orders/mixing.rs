//! What is mixed in a day: the mixtures of all orders, those of the same name and the same lines in the same proportions as one.

use std::collections::HashMap;

use super::Planned;
use crate::calculation::batch::mixture_lines;
use crate::formula::{Line, Mixture};
use crate::quantity::{Factor, Mass, Pointer, plain};
use crate::reference::Account;

/// Shares that differ by less than this of the whole are the same: a hundredth of a gram in a hundred kilograms.
const SAME: f64 = 1e-7;

/// One mixing for one order or several.
pub(super) struct Mixing {
    pub part: String,
    /// The orders it is for, each with the mass that goes into it.
    pub orders: Vec<(usize, Mass)>,
    /// The lines as the first order has them.
    first: Vec<Line>,
    proportions: Vec<Proportion>,
    /// Where the part stands in the formula of the first order.
    root: usize,
}

/// A line's share of its mixture.
#[derive(Clone, Debug, PartialEq)]
struct Proportion {
    part: String,
    ingredient: String,
    form: &'static str,
    share: f64,
}

impl Mixing {
    /// What is mixed in all.
    pub(super) fn mass(&self) -> Mass {
        self.orders.iter().map(|(_, mass)| *mass).sum()
    }

    pub(super) fn is_for(&self, order: usize) -> bool {
        self.orders.iter().any(|(known, _)| *known == order)
    }

    /// The lines for all orders, and by how much those of the first are multiplied for it.
    pub(super) fn lines(&self) -> (&[Line], Factor) {
        let first = self.orders.first().map_or(Mass::ZERO, |(_, mass)| *mass);
        (&self.first, self.mass() / first)
    }
}

/// All mixings of all orders, in the order in which they come.
pub(super) fn mixings(planned: &[Planned]) -> Vec<Mixing> {
    let mut all: Vec<Mixing> = Vec::new();
    let mut named: HashMap<String, Vec<usize>> = HashMap::new();
    for (index, order) in planned.iter().enumerate() {
        for mixture in order.understood.formula.mixtures() {
            let one = mixing(index, order, &mixture);
            let alike = named.entry(plain(&one.part).into_owned()).or_default();
            match alike.iter().copied().find(|&at| same(&all[at].proportions, &one.proportions)) {
                Some(at) => join(&mut all[at], one),
                None => {
                    alike.push(all.len());
                    all.push(one);
                }
            }
        }
    }
    all
}

fn mixing(index: usize, order: &Planned, mixture: &Mixture<'_>) -> Mixing {
    let formula = &order.understood.formula;
    let first = mixture_lines(formula, mixture, &order.plan, Factor::ONE);
    let mass: Mass = first.iter().map(|line| line.weight.mass.value()).sum();
    let mut proportions: Vec<Proportion> = mixture
        .placed()
        .zip(&first)
        .map(|((place, _), line)| Proportion {
            // A mixture of one part goes by its name already.
            part: if place.part == mixture.root { String::new() } else { plain(&formula.parts[place.part].name).into_owned() },
            ingredient: line.ingredient.id.to_string(),
            form: line.form,
            share: (line.weight.mass.value() / mass).value(),
        })
        .collect();
    proportions.sort_by(|a, b| (&a.part, &a.ingredient, a.form).cmp(&(&b.part, &b.ingredient, b.form)).then(a.share.total_cmp(&b.share)));
    Mixing { part: mixture.part().name.to_string(), orders: vec![(index, mass)], first, proportions, root: mixture.root }
}

fn same(one: &[Proportion], other: &[Proportion]) -> bool {
    let alike = |a: &Proportion, b: &Proportion| {
        (a.share - b.share).abs() <= SAME && a.ingredient == b.ingredient && a.form == b.form && a.part == b.part
    };
    one.len() == other.len() && one.iter().zip(other).all(|(a, b)| alike(a, b))
}

fn join(known: &mut Mixing, one: Mixing) {
    for (order, mass) in one.orders {
        match known.orders.iter_mut().find(|(same, _)| *same == order) {
            Some((_, sum)) => *sum += mass,
            None => known.orders.push((order, mass)),
        }
    }
}

/// Says which parts are mixed once for several orders: whoever wants them apart names them apart.
pub(super) fn tell(mixings: &[Mixing], planned: &[Planned], account: &mut Account) {
    let root = Pointer::ROOT;
    let list = root.key("orders");
    for mixing in mixings.iter().filter(|mixing| mixing.orders.len() > 1) {
        let Some((first, _)) = mixing.orders.first() else { continue };
        let names: Vec<&str> = mixing.orders.iter().take(5).map(|(order, _)| planned[*order].name.as_str()).collect();
        let more = mixing.orders.len() - names.len();
        let more = if more > 0 { format!(" and {more} more") } else { String::new() };
        let text: String =
            format!("{} is the same in {}{more}: it is mixed once", mixing.part, names.join(", ")).chars().take(400).collect();
        let (order, formula) = (list.index(*first), "formula");
        let formula = order.key(formula);
        let parts = formula.key("parts");
        let part = parts.index(mixing.root);
        account.assume(text, &part.key("name"), "mixed once");
    }
}
