//! Where no listed swap fits: the mixture of what is on hand that is nearest in water, fat, sugar, starch and protein, for what is bought for these; and the powder and salt that a flour carries within itself.

use super::super::leaven::raises_itself;
use super::super::resolved::Known;
use super::blend::{Blend, KEPT, column, nearest};
use super::choosing::Asked;
use super::swapped::{StandIn, Standing};
use super::working::Adapting;
use crate::quantity::{Code, Fault, Percent, Pointer, Span};
use crate::reference::{Class, Ingredient, Reference, Trait, short};

/// A component below this share of what is replaced is left out of a mixture.
const LEAST_SHARE: f64 = 0.005;
/// From here on a mixture stands for something only in name.
const POOR: f64 = 0.15;
/// From here on it does not even do that.
const NO_FIT: f64 = 0.5;
/// With less than this of water, fat, sugar, starch and protein there is nothing to fit by.
const LEAST_KEPT: f64 = 0.1;
/// An ingredient of which a hundred grams take up so much soda is in a formula for its acid: vinegar and lemon juice, not buttermilk or cocoa.
const SHARP: f64 = 5.0;
/// Carried leavening or salt below this, in grams for a hundred of what is replaced, is within the doubt of the flour's own.
const LEAST_CARRIED: f64 = 0.5;

/// What an ingredient is there for, where that is not its water, fat, sugar, starch and protein.
pub(super) fn not_by_composition(reference: &'static Reference, ingredient: &Ingredient) -> Option<&'static str> {
    let mostly = |class| ingredient.counts_as(class).value() > 0.5;
    let acid = || reference.leavening.acid_of(&ingredient.id).is_some_and(|acid| acid.takes_up.figure.value().value() >= SHARP);
    match ingredient {
        it if it.is(Trait::Sets) => Some("its setting"),
        it if it.is(Trait::BindsWater) => Some("its binding of water"),
        it if it.is(Trait::Ferments) || it.fresh_yeast.is_some() || mostly(Class::Leavening) => Some("its leavening"),
        _ if mostly(Class::Acid) || acid() => Some("its acid"),
        _ if mostly(Class::Salt) => Some("its salt"),
        _ if mostly(Class::Flavouring) => Some("its flavour"),
        _ => None,
    }
}

/// Makes the powder and the salt the same as before where a flour that carries its own comes in or goes out: by what both count as.
pub(super) fn carried(reference: &'static Reference, missing: &Ingredient, standing: &mut Standing) {
    if !raises_itself(missing) && !standing.parts.iter().any(|part| part.comes_in() && raises_itself(part.ingredient)) {
        return;
    }
    for (class, id) in [(Class::Leavening, "baking-powder"), (Class::Salt, "table-salt")] {
        let in_all: f64 = standing.parts.iter().map(|part| part.grams.value().value() * part.ingredient.counts_as(class).value()).sum();
        let more = in_all - 100.0 * missing.counts_as(class).value();
        if let (Some(ingredient), true) = (reference.ingredients.by_id(id), more.abs() >= LEAST_CARRIED) {
            standing.parts.push(StandIn::new(ingredient, Span::exact(Percent::of_hundred(-more))));
        }
    }
}

impl Adapting<'_> {
    /// No listed swap fits: the nearest mixture by composition.
    pub(super) fn blended(&mut self, asked: &Asked<'_>, at: &Pointer<'_>) -> Result<Standing, Fault> {
        let (missing, reference) = (asked.missing, self.reference);
        if let Some(bought_for) = not_by_composition(reference, missing) {
            return Err(self.only_listed(asked, bought_for, at));
        }
        if asked.with.is_some_and(|with| not_by_composition(reference, with).is_some()) {
            return Err(self.nothing_like_it(asked, at));
        }
        let hand: Vec<_> = asked.hand().into_iter().filter(|on| not_by_composition(reference, on).is_none()).collect();
        if let Some(standing) = self.flour_for_flour(missing, &hand) {
            return Ok(standing);
        }
        let wanted = missing.composition.as_ref().map(column).filter(|column| column.iter().sum::<f64>() >= LEAST_KEPT);
        let Some(wanted) = wanted else {
            let accepted = "an ingredient whose composition is known";
            return Err(Fault::new(&at.key("ingredient"), Code::MissingFigure, &*missing.name, accepted)
                .saying("No listed swap fits and its composition is not known: weigh in what you think best, or leave it out"));
        };
        let known = hand.iter().filter_map(|on| Some((*on, column(on.composition.as_ref()?))));
        let known: Vec<_> = known.filter(|(_, column)| column.iter().sum::<f64>() >= LEAST_KEPT).collect();
        let columns: Vec<_> = known.iter().map(|(_, column)| *column).collect();
        let blend = nearest(&wanted, &columns);
        let shares = known.iter().zip(&blend.grams).filter(|(_, grams)| grams.value() >= LEAST_SHARE);
        let parts: Vec<_> =
            shares.map(|((on, _), grams)| StandIn::new(on, Span::exact(Percent::of_hundred(grams.value() * 100.0)))).collect();
        if parts.is_empty() || blend.off.value() > NO_FIT {
            return Err(self.nothing_like_it(asked, at));
        }
        known.iter().filter_map(|(on, _)| on.composition_citation).for_each(|citation| self.account.cite(citation));
        let note = format!(
            ": {}, so this is the nearest in water, fat, sugar, starch and protein; it is off by {}. Acid, gluten and flavour are not matched",
            self.none_listed(missing),
            off_by(&blend)
        );
        let source = missing.composition_citation.map(|citation| citation.source.id);
        Ok(Standing { parts, note, off: Some(blend.off.value() * 100.0), source })
    }

    /// Nothing that was named can stand in; where swaps are listed, their names are told.
    fn nothing_like_it(&self, asked: &Asked<'_>, at: &Pointer<'_>) -> Fault {
        let listed = self.reference.swaps.of(&asked.missing.id).map(|swap| swap.main().replace('-', " "));
        let mut listed: Vec<_> = listed.filter(|_| asked.with.is_some()).collect();
        // Who names flaxseed for egg means the ground one.
        listed.sort_by_key(|name| !asked.with.is_some_and(|with| name.contains(&*with.name)));
        nothing_like_it(asked, at).trying(listed.into_iter().take(3))
    }

    fn none_listed(&self, missing: &Ingredient) -> &'static str {
        if self.reference.swaps.of(&missing.id).next().is_some() { "no listed swap fits" } else { "no swap is listed" }
    }

    /// A flour alone, one of them with leavening of its own: as much flour as before.
    fn flour_for_flour(&mut self, missing: &Known, hand: &[&'static Ingredient]) -> Option<Standing> {
        let [with] = hand else { return None };
        let flour = |ingredient: &Ingredient| ingredient.counts_as(Class::Flour).value();
        if flour(missing) <= 0.5 || flour(with) <= 0.5 || !(raises_itself(missing) || raises_itself(with)) {
            return None;
        }
        let carrier: &Ingredient = if raises_itself(with) { with } else { missing };
        let citation = carrier.citation;
        citation.into_iter().for_each(|citation| self.account.cite(citation));
        let share = |class| short((carrier.counts_as(class).value() * 1000.0).round() / 10.0);
        let salt =
            if carrier.counts_as(Class::Salt).value() > 0.0 { format!(" and {} g of salt", share(Class::Salt)) } else { String::new() };
        let note = format!(
            ": {}, so this is as much flour as before; 100 g of {} hold {} g of powder{salt}. The strength of the flour is not matched",
            self.none_listed(missing),
            carrier.name,
            share(Class::Leavening)
        );
        let grams = Span::exact(Percent::of_hundred(100.0 * flour(missing) / flour(with)));
        Some(Standing { parts: vec![StandIn::new(with, grams)], note, off: None, source: citation.map(|citation| citation.source.id) })
    }
}

/// How far a mixture is off, in words.
fn off_by(blend: &Blend) -> String {
    let gaps: Vec<_> = KEPT
        .iter()
        .zip(blend.missing)
        .filter(|(_, gap)| gap.abs() >= 0.005)
        .map(|(constituent, gap)| {
            let (word, more) = (constituent.word(), if gap > 0.0 { "less" } else { "more" });
            format!("{} g {more} {word}", short((gap.abs() * 1000.0).round() / 10.0))
        })
        .collect();
    let gaps = if gaps.is_empty() { "nothing to speak of".to_owned() } else { format!("{} in 100 g", gaps.join(", ")) };
    let poor = if blend.off.value() > POOR { "; that is far off: look for something nearer" } else { "" };
    format!("{gaps}{poor}")
}

fn nothing_like_it(asked: &Asked<'_>, at: &Pointer<'_>) -> Fault {
    let names: Vec<_> = asked.hand().iter().map(|on| on.name.to_string()).collect();
    let accepted = "something that has water, fat, sugar, starch or protein in common with it";
    Fault::new(&at.key(asked.field()), Code::NotTogether, names.join(", "), accepted).saying(format!(
        "Nothing of this can stand for {}, alone or mixed; leavening, acid, salt, gelatin and flavouring are never mixed in for their composition. Name something nearer, or write it in as a line of its own",
        asked.missing.name
    ))
}
