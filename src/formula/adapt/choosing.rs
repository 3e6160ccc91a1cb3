//! Which swap of the table stands for what is missing: by what is on hand, and by what it does in the formula.

use super::super::leaven::{Leaven, PowderGas, acid_for};
use super::super::resolved::{Formula, Known, Mixture};
use super::swapped::{StandIn, Standing};
use super::working::Adapting;
use crate::quantity::{Code, Factor, Fault, Mass, Percent, Pointer, Span, between};
use crate::reference::{Class, Component, Constituent, Ingredient, Reference, Swap, short};

/// What a step asks for, looked up.
#[derive(Clone, Copy)]
pub(super) struct Asked<'a> {
    pub missing: &'a Known,
    pub with: Option<&'static Ingredient>,
    pub on_hand: &'a [&'static Ingredient],
    pub formula: &'a Formula,
    /// The lines of what is missing.
    pub places: &'a [(usize, usize)],
    /// How much of it is replaced.
    pub replaced: Percent,
}

/// A cup of buttermilk for half a teaspoon of soda is the printed rule, at the high end of what its acid takes up, whether the cup holds 237 or 245 g.
const SLACK: Factor = Factor::times(1.05);
/// Below this share of a mixture's water flour and starch thicken it: a cream has a sixth at most, a pancake batter a third at least.
const THICKENS: f64 = 0.25;

impl Asked<'_> {
    /// All that may stand in the place.
    pub(super) fn hand(&self) -> Vec<&'static Ingredient> {
        self.with.into_iter().chain(self.on_hand.iter().copied()).collect()
    }

    /// The field that names it.
    pub(super) fn field(&self) -> &'static str {
        match (self.with, self.on_hand.is_empty()) {
            (_, false) => "on_hand",
            (Some(_), true) => "with",
            (None, true) => "ingredient",
        }
    }

    fn named(&self, id: &str) -> bool {
        id == "water" || self.on_hand.iter().chain(&self.with).any(|known| known.id == id)
    }

    /// What stands in the place must be named; what goes with it may also be taken from what the formula has.
    fn has(&self, id: &str) -> bool {
        let in_formula = || self.formula.lines().any(|line| line.ingredient.id == id);
        self.named(id) || id != self.missing.id && in_formula()
    }

    fn can_be_made(&self, swap: &Swap) -> bool {
        self.named(swap.main()) && swap.needs().all(|id| self.has(id))
    }

    /// The swap that is asked for: the first of the table that can be made and does here what the missing did.
    pub(super) fn swap(&self, reference: &'static Reference) -> Option<&'static Swap> {
        let mut listed = reference.swaps.of(&self.missing.id).filter(|swap| self.suits(reference, swap));
        match (self.with, self.on_hand.is_empty()) {
            (Some(with), true) => listed.find(|swap| swap.main() == with.id),
            (Some(with), false) => listed.find(|swap| swap.main() == with.id && self.can_be_made(swap)),
            (None, true) => listed.next(),
            (None, false) => listed.find(|swap| self.can_be_made(swap)),
        }
    }

    /// Flour for starch, or starch for flour, is listed by what it thickens: in a batter that would be twice too much, or half too little.
    fn suits(&self, reference: &'static Reference, swap: &Swap) -> bool {
        let Some(main) = reference.ingredients.by_id(swap.main()) else { return false };
        let is = |ingredient: &Ingredient, class| ingredient.counts_as(class).value() > 0.5;
        let crosses = |one, other| is(self.missing, one) && is(main, other);
        if !crosses(Class::Starch, Class::Flour) && !crosses(Class::Flour, Class::Starch) {
            return true;
        }
        self.roots().into_iter().all(|root| {
            let mixture = Mixture { formula: self.formula, root };
            let grams = |mass: Mass| mass.in_grams();
            let thickening = grams(mixture.class(Class::Flour).mass().value()) + grams(mixture.class(Class::Starch).mass().value());
            let water =
                |ingredient: &Ingredient| ingredient.composition.map_or(Factor::ZERO, |composition| composition.share(Constituent::Water));
            thickening < THICKENS * grams(mixture.sum(water).mass().value())
        })
    }

    /// The mixtures in which it is missing.
    fn roots(&self) -> Vec<usize> {
        let mut roots: Vec<_> = self.places.iter().map(|&(part, _)| self.formula.root(part)).collect();
        roots.sort_unstable();
        roots.dedup();
        roots
    }

    /// What is missing in a mixture.
    fn mass_in(&self, root: usize) -> Mass {
        let here = self.places.iter().filter(|&&(part, _)| self.formula.root(part) == root);
        here.map(|&(part, at)| self.formula.parts[part].lines[at].weight.mass.value()).sum()
    }
}

impl Adapting<'_> {
    pub(super) fn listed(&mut self, swap: &'static Swap, asked: &Asked<'_>) -> Standing {
        // Without a list of what is on hand everything is taken to be there.
        let left_out = |component: &Component| !asked.on_hand.is_empty() && component.may_be_left_out() && !asked.has(component.ingredient);
        let known = |component: &'static Component| Some((self.reference.ingredients.by_id(component.ingredient)?, component));
        let (without, parts): (Vec<_>, Vec<_>) = swap.components.iter().filter_map(known).partition(|(_, component)| left_out(component));
        parts.iter().for_each(|(_, component)| self.account.cite(component.citation));
        let source = swap.components.first().map(|component| component.citation.source.id);
        let mut note = if swap.note.is_empty() { String::new() } else { format!(": {}", swap.note) };
        if let Some(share) = swap.try_first.filter(|share| asked.replaced > *share) {
            let first = if share == Percent::of_hundred(50.0) { "half".to_owned() } else { format!("{} %", short(share.value())) };
            note.push_str(&format!(": try {first} of it first"));
        }
        for (ingredient, _) in without {
            note.push_str(&format!("; {} is not on hand and may be left out", ingredient.name));
        }
        let parts = parts.into_iter().map(|(ingredient, component)| {
            // What is said of the first component is said of the whole swap.
            let why = if component.ingredient == swap.main() { "" } else { component.note };
            StandIn { why, ..StandIn::new(ingredient, component.grams) }
        });
        Standing { parts: parts.collect(), note, off: None, source }
    }

    /// Soda alone for baking powder: only where the formula is sour enough to take it up. Nothing where this is not asked.
    pub(super) fn soda_for_powder(&mut self, asked: &Asked<'_>, at: &Pointer<'_>) -> Option<Result<Standing, Fault>> {
        const SODA: &str = "baking-soda";
        if !asked.on_hand.iter().any(|known| known.id == SODA) || asked.with.is_some_and(|with| with.id != SODA) {
            return None;
        }
        let swap = self.reference.swaps.of(&asked.missing.id).find(|swap| swap.main() == SODA)?;
        let component = swap.components.first()?;
        let share = component.grams.value().as_factor();
        let mut told = Vec::new();
        for root in asked.roots() {
            let mixture = Mixture { formula: asked.formula, root };
            let wanted = asked.mass_in(root) * share;
            let leaven = Leaven::of(&mixture, &self.reference.leavening, PowderGas::Trade);
            let free = leaven.left_over().map_falling(|left| Mass::grams(-left.in_grams()));
            leaven.sour.iter().for_each(|sour| self.account.cite(sour.acid.takes_up.citation));
            if free.high() * SLACK < wanted {
                return Some(Err(self.not_sour_enough(asked, swap, (wanted, free.value()), at)));
            }
            let names: Vec<_> = leaven.sour.iter().map(|sour| sour.acid.name).collect();
            let ends = [free.low(), free.high()].map(|end| short(end.in_grams().max(0.0)));
            told.push(format!(
                "in the place of cream of tartar the acid of {} takes up {} g of soda",
                names.join(", "),
                between(&ends[0], &ends[1])
            ));
        }
        self.account.cite(component.citation);
        let ingredient = self.reference.ingredients.by_id(SODA)?;
        let note = format!(": {}. It acts at once: bake without waiting", told.join("; "));
        let source = Some(component.citation.source.id);
        Some(Ok(Standing { parts: vec![StandIn::new(ingredient, component.grams)], note, off: None, source }))
    }

    /// Soda that finds no acid tastes of soap and raises half as much: how much more acid it would want.
    fn not_sour_enough(&self, asked: &Asked<'_>, swap: &Swap, (wanted, free): (Mass, Mass), at: &Pointer<'_>) -> Fault {
        let wanted = wanted.in_grams();
        // Less than nothing is nothing, without a sign before it.
        let free = if free.in_grams() > 0.0 { free.in_grams() } else { 0.0 };
        let acid = |ingredient: &Ingredient| self.reference.leavening.acid_of(&ingredient.id);
        // What is on hand and sour, or else what a baker would take.
        let sour = asked.on_hand.iter().find(|known| known.id != asked.missing.id && acid(known).is_some());
        let sour = sour.copied().or_else(|| self.reference.ingredients.by_id("buttermilk"));
        let more = sour.and_then(|ingredient| {
            let span = acid_for(Span::exact(Mass::grams(wanted - free)), acid(ingredient)?.takes_up.figure)?;
            let ends = [span.low(), span.high()].map(|end| short(end.in_grams().round()));
            Some(format!(
                "Put {} g of {} in the place of as much of its liquid, then ask this step again; or ",
                between(&ends[0], &ends[1]),
                ingredient.name
            ))
        });
        let found = format!("soda alone, and acid for {} g of it", short((free * 100.0).round() / 100.0));
        let accepted =
            format!("acid in the formula that takes up {} g of soda, or a swap with all it needs", short((wanted * 100.0).round() / 100.0));
        let mend = format!("{}have all of a swap that is listed: {}", more.unwrap_or_default(), self.needs(swap));
        Fault::new(&at.key("on_hand"), Code::NotTogether, found, accepted).saying(mend)
    }

    /// What a swap is made of, as a person would say it.
    fn needs(&self, swap: &Swap) -> String {
        let name = |component: &Component| self.reference.ingredients.by_id(component.ingredient).map_or("", |known| &*known.name);
        let must = swap.components.iter().filter(|component| component.grams.low().value() > 0.0).map(name);
        let may: Vec<_> = swap.components.iter().filter(|component| component.may_be_left_out()).map(name).collect();
        let must = must.collect::<Vec<_>>().join(" and ");
        if may.is_empty() { must } else { format!("{must} ({} may be left out)", may.join(", ")) }
    }

    /// Refuses to work out by composition what is not bought for it; says what swaps there are and what each needs.
    pub(super) fn only_listed(&self, asked: &Asked<'_>, bought_for: &str, at: &Pointer<'_>) -> Fault {
        let name = &asked.missing.name;
        let listed: Vec<_> = self.reference.swaps.of(&asked.missing.id).filter(|swap| asked.suits(self.reference, swap)).collect();
        let hand: Vec<_> = asked.hand().iter().map(|known| &*known.name).collect();
        let found = if hand.is_empty() { name.to_string() } else { hand.join(", ") };
        let why = format!("y water, fat, sugar, starch and protein no mixture is worked out for {name}, which is there for {bought_for}");
        let accepted = "what a listed swap needs";
        if listed.is_empty() {
            return Fault::new(&at.key(asked.field()), Code::NotTogether, found, "an ingredient for which a swap is listed")
                .saying(format!("No swap is listed for {name}, and b{why}: write another line in its place, or leave it out"));
        }
        let swaps: Vec<_> = listed.iter().map(|swap| self.needs(swap)).collect();
        let mut mains: Vec<String> = Vec::new();
        for swap in listed {
            let main = self.reference.ingredients.by_id(swap.main()).map_or_else(String::new, |main| main.name.to_string());
            if !mains.contains(&main) {
                mains.push(main);
            }
        }
        Fault::new(&at.key(asked.field()), Code::NotTogether, found, accepted)
            .saying(format!("B{why}. Listed for it: {}. Have all of one on hand", swaps.join("; ")))
            .trying(mains)
    }
}
