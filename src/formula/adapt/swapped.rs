//! What stands for a missing ingredient, put into the formula line by line. What a swap takes out is taken from where it is: water from the liquids, leavening from the leavening, and never more than there is.

use super::super::leaven::{is_soda, powder_share};
use super::super::place::LinePlace;
use super::super::resolved::{Formula, Line};
use super::working::{Adapting, Change};
use crate::quantity::{Factor, Percent, Pointer, Span};
use crate::reference::{Class, Constituent, Ingredient};

/// What stands for a hundred grams of the missing, and why.
pub(super) struct Standing {
    pub parts: Vec<StandIn>,
    pub note: String,
    pub off: Option<f64>,
    pub source: Option<&'static str>,
}

/// What comes in, or goes out.
#[derive(Clone)]
pub(super) struct StandIn {
    pub ingredient: &'static Ingredient,
    /// Below nothing where it is taken out of the formula.
    pub grams: Span<Percent>,
    /// Why, where the table says it.
    pub why: &'static str,
}

impl StandIn {
    pub(super) fn new(ingredient: &'static Ingredient, grams: Span<Percent>) -> Self {
        Self { ingredient, grams, why: "" }
    }

    pub(super) fn comes_in(&self) -> bool {
        self.grams.value().value() > 0.0
    }
}

impl Adapting<'_> {
    /// Replaces every line of the missing, the last first, so that the places of the others stay.
    pub(super) fn stand_in(&mut self, formula: &Formula, places: &[(usize, usize)], standing: &Standing) {
        let share = leavening_share(formula, places, standing);
        for &(part, at) in places.iter().rev() {
            self.stand_in_line((part, at), &formula.parts[part].lines[at], standing, share);
        }
        // Taken out last, from each mixture as it then stands: what was replaced in two lines is taken once.
        let mut roots: Vec<(usize, f64)> = Vec::new();
        for &(part, at) in places {
            let (root, mass) = (formula.root(part), formula.parts[part].lines[at].weight.mass.value().in_grams());
            match roots.iter_mut().find(|(known, _)| *known == root) {
                Some((_, sum)) => *sum += mass,
                None => roots.push((root, mass)),
            }
        }
        let exchanged = standing.parts.iter().find(|part| part.comes_in() && leavens(part.ingredient));
        for (root, mass) in roots {
            for out in standing.parts.iter().filter(|part| !part.comes_in()) {
                // Leavening that came in only so far makes no more give way.
                let share = if exchanged.is_some() && leavens(out.ingredient) { share } else { 1.0 };
                self.take_out(out, mass * share * -out.grams.value().value() / 100.0, root, standing);
            }
        }
        let gives_way = standing.parts.iter().find(|part| !part.comes_in() && leavens(part.ingredient));
        if let (Some(comes_in), Some(out)) = (exchanged, gives_way)
            && share < 0.95
        {
            self.tell_short_exchange(&comes_in.ingredient.name, &out.ingredient.name, share);
        }
    }

    fn tell_short_exchange(&mut self, comes_in: &str, out: &str, share: f64) {
        let there = if share < 0.05 { "none" } else { "too little" };
        let text = format!("No more {comes_in} comes in than there is {out} to give way to it, and here there is {there}");
        let root = Pointer::ROOT;
        let formula = root.key("formula");
        self.account.assume(text, &formula.key("parts"), "left out");
    }

    fn stand_in_line(&mut self, (part, at): (usize, usize), line: &Line, standing: &Standing, share: f64) {
        let mass = line.weight.mass.value();
        let (place, before) = (self.place(part, at), self.said(part, at));
        let mut entering = standing.parts.iter().filter(|part| part.comes_in());
        let Some(StandIn { ingredient: first, grams, .. }) = entering.next() else { return };
        let (amount, range) = Self::amount(mass, *grams);
        self.put(part, at, &first.name, amount);
        let why = format!("{} stands for {}{}", Self::grams_said(amount, &first.name), before, standing.note);
        let change = Change::new(place, why).from(before.clone()).to(self.said(part, at));
        self.tell(Change { range, off: standing.off, source: standing.source, ..change });
        for (offset, StandIn { ingredient, grams, why }) in entering.enumerate() {
            let (amount, range) = Self::amount(mass, *grams);
            // Leavening is exchanged only as far as there is some to take.
            let amount = if leavens(ingredient) { amount * Factor::times(share) } else { amount };
            if amount.in_grams() < 0.005 {
                continue;
            }
            let below = at + 1 + offset;
            let below = below.min(self.written.parts[part].lines.len());
            self.insert(part, below, &ingredient.name, amount);
            let why = if why.is_empty() { format!("With it, for {before}") } else { format!("With it, for {before}: {why}") };
            let change = Change::new(self.place(part, below), why).to(self.said(part, below));
            self.tell(Change { range, source: standing.source, ..change });
        }
    }

    /// Takes so much out of the mixture: of the ingredient itself, or of what holds it.
    fn take_out(&mut self, out: &StandIn, grams: f64, root: usize, standing: &Standing) {
        let (ingredient, why) = (out.ingredient, reason(out, standing));
        let mut left = grams;
        // As many turns as a mixture can have lines to take from; each takes one line as far as it goes.
        for _ in 0..8 {
            let Some(formula) = self.formula().filter(|_| left > 0.05) else { break };
            let Some((part, at, share)) = holder(&formula, root, ingredient) else { break };
            let line = &formula.parts[part].lines[at];
            // A milk or a juice keeps a fifth of itself: without any it would be another cake.
            let most = line.weight.mass.value().in_grams() * if share < 1.0 { 0.8 } else { 1.0 };
            let wanted = (left / share).min(most);
            let taken = self.take((part, at), line, wanted, &why, standing.source);
            left -= taken * share;
            if share < 1.0 {
                break;
            }
        }
        if left > grams * 0.05 && left > 0.1 {
            let (root, text) = (
                Pointer::ROOT,
                format!(
                    "{left:.1} g of {} could not be taken out: there is no more of it, so the mixture holds that much more than before",
                    ingredient.name
                ),
            );
            let formula = root.key("formula");
            self.account.assume(text, &formula.key("parts"), "left in");
        }
    }
}

/// The line from which to take: the ingredient itself, or for water the heaviest liquid, with the share of it that is water.
fn holder(formula: &Formula, root: usize, ingredient: &Ingredient) -> Option<(usize, usize, f64)> {
    let mixture = formula.mixtures().find(|mixture| mixture.root == root)?;
    let itself = mixture.placed().find(|(_, line)| line.ingredient.id == ingredient.id);
    let itself = itself.or_else(|| mixture.placed().find(|(_, line)| same_in_use(&line.ingredient, ingredient)));
    if let Some((LinePlace { part, line }, _)) = itself {
        return Some((part, line, 1.0));
    }
    if ingredient.id != "water" {
        return None;
    }
    let liquid = mixture.placed().filter(|(_, line)| line.ingredient.counts_as(Class::Liquid).value() >= 0.5);
    let grams = |line: &Line| line.weight.mass.value().in_grams();
    let (LinePlace { part, line: at }, line) = liquid.max_by(|(_, a), (_, b)| grams(a).total_cmp(&grams(b)))?;
    let water = line.ingredient.composition.map_or(1.0, |composition| composition.share(Constituent::Water).value());
    Some((part, at, water.clamp(0.3, 0.999)))
}

/// Whether one is taken out for the other: a baking powder of any kind, a salt of any grain.
fn same_in_use(one: &Ingredient, other: &Ingredient) -> bool {
    let powder = |ingredient: &Ingredient| powder_share(ingredient).value() >= 0.9;
    let salt = |ingredient: &Ingredient| ingredient.counts_as(Class::Salt).value() >= 0.9;
    one.id == other.id || powder(one) && powder(other) || salt(one) && salt(other)
}

/// Why it is taken out: what the table says; that what comes in holds it, where it does; that it gives way, where it does not.
fn reason(out: &StandIn, standing: &Standing) -> String {
    let name = &out.ingredient.name;
    let holds = |ingredient: &Ingredient| {
        let share = |constituent| ingredient.composition.map_or(0.0, |composition| composition.share(constituent).value());
        let sodium = ingredient.composition.and_then(|composition| composition.label.sodium).map_or(0.0, |sodium| sodium.value());
        match &*out.ingredient.id {
            "water" => share(Constituent::Water) > 0.01,
            "table-salt" => ingredient.counts_as(Class::Salt).value() > 0.0 || sodium > 0.4,
            _ if leavens(out.ingredient) => ingredient.counts_as(Class::Leavening).value() > 0.0,
            _ => false,
        }
    };
    let bringer = standing.parts.iter().find(|part| part.comes_in() && holds(part.ingredient) && !leavens(part.ingredient));
    match (out.why, bringer) {
        ("", Some(part)) => format!("The {} brings its own {name}: so much less of it here", part.ingredient.name),
        ("", None) => format!("The {name} gives way to what stands in the place: so much less of it here"),
        (why, _) => format!("So much less {name} here: {why}"),
    }
}

/// How far the leavening that a swap takes out is there at all.
fn leavening_share(formula: &Formula, places: &[(usize, usize)], standing: &Standing) -> f64 {
    let out = standing.parts.iter().find(|part| !part.comes_in() && leavens(part.ingredient));
    let Some(StandIn { ingredient, grams, .. }) = out else { return 1.0 };
    let grams_of = |line: &Line| line.weight.mass.value().in_grams();
    let replaced: f64 = places.iter().map(|&(part, at)| grams_of(&formula.parts[part].lines[at])).sum();
    let needed = replaced * -grams.value().value() / 100.0;
    let lines = formula.lines();
    let there: f64 = lines.filter(|line| same_in_use(&line.ingredient, ingredient)).map(grams_of).sum();
    if needed > 0.0 { (there / needed).min(1.0) } else { 1.0 }
}

fn leavens(ingredient: &Ingredient) -> bool {
    powder_share(ingredient).value() >= 0.9 || is_soda(ingredient)
}
