//! A missing ingredient: a swap of the table where one is listed, otherwise the mixture of what is on hand that is nearest in composition. New allergens are told.

use serde::Deserialize;
use utoipa::ToSchema;

use super::super::allergens::is_nut;
use super::super::resolve::MOST_LINES;
use super::super::resolved::{Formula, Known};
use super::super::unknown::find_ingredient;
use super::choosing::Asked;
use super::fitted::{carried, not_by_composition};
use super::swapped::{StandIn, Standing};
use super::working::{Adapting, Change, Place, nothing_there, scale_text};
use crate::quantity::{Code, Factor, Fault, Mass, Percent, Pointer, Quantity, Span, nearest as near_words, plain};
use crate::reference::{Ingredient, short};

/// Another ingredient in the place of one that is missing.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ReplaceStep {
    /// What is missing, by any of its names.
    #[schema(max_length = 200, examples("cake flour"))]
    pub ingredient: String,
    /// How much of it is replaced, in percent of its weight; the rest stays as a line of its own. Without it all.
    #[schema(nullable = false, minimum = 1.0, maximum = 100.0, examples(50.0))]
    pub percent: Option<f64>,
    /// What stands in its place. Without it the usual swap, or the first whose components are on hand, what may be left out apart.
    #[schema(nullable = false, max_length = 200, examples("all-purpose flour"))]
    pub with: Option<String>,
    /// What is on hand: where no swap of it is listed, the mixture of these that is nearest in water, fat, sugar, starch and protein; never for leavening, acid, salt, gelatin or flavouring, which are not bought for these.
    #[schema(nullable = false, min_items = 1, max_items = 20)]
    pub on_hand: Option<Vec<IngredientName>>,
    /// The Bloom strength of the gelatin that is missing.
    #[schema(nullable = false, minimum = 50, maximum = 350, examples(225))]
    pub bloom: Option<f64>,
    /// The Bloom strength of the gelatin in its place.
    #[schema(nullable = false, minimum = 50, maximum = 350, examples(160))]
    pub with_bloom: Option<f64>,
}

/// An ingredient by any of its names.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(transparent)]
#[schema(value_type = String, max_length = 200, examples("whole milk"))]
pub struct IngredientName(pub String);

/// The most that may be on hand.
const MOST_ON_HAND: usize = 20;

impl Adapting<'_> {
    pub fn replace(&mut self, wanted: &ReplaceStep, at: &Pointer<'_>) {
        let before = self.faults.total();
        let Some(formula) = self.formula() else { return };
        let places = self.lines_of(&formula, &wanted.ingredient, at);
        let with = wanted.with.as_deref().and_then(|name| self.known(name, &at.key("with")));
        let on_hand = self.on_hand(wanted, at);
        let kept = self.kept(wanted, at);
        let (Some(places), true) = (places, self.faults.total() == before) else { return };
        let (formula, places) = match kept {
            Some(kept) => match self.part_lines(&formula, &places, kept) {
                Some(parted) => parted,
                None => return,
            },
            None => (formula, places),
        };
        let missing = formula.parts[places[0].0].lines[places[0].1].ingredient.clone();
        let replaced = Percent::of_hundred(wanted.percent.unwrap_or(100.0));
        let asked = Asked { missing: &missing, with, on_hand: &on_hand, formula: &formula, places: &places, replaced };
        let standing = self.standing(wanted, &asked, at);
        let Some(standing) = self.faults.keep(standing) else { return };
        self.stand_in(&formula, &places, &standing);
        self.new_allergens(&formula, &missing);
    }

    /// The lines of an ingredient; the refusal says what there is.
    fn lines_of(&mut self, formula: &Formula, name: &str, at: &Pointer<'_>) -> Option<Vec<(usize, usize)>> {
        let own = self.written.ingredients.iter().any(|own| plain(&own.name) == plain(name));
        let place = at.key("ingredient");
        let id = if own { format!("own {}", plain(name)) } else { self.known(name, &place)?.id.to_string() };
        let is = |known: &Known| match known {
            Known::Table(ingredient) => !own && ingredient.id == id,
            Known::Own(ingredient) => own && plain(&ingredient.name) == plain(name),
        };
        let lines = formula.parts.iter().enumerate().flat_map(|(part, known)| (0..known.lines.len()).map(move |at| (part, at)));
        let found: Vec<_> = lines.filter(|&(part, at)| is(&formula.parts[part].lines[at].ingredient)).collect();
        if found.is_empty() {
            let names: Vec<&str> = self.written.parts.iter().flat_map(|part| &part.lines).map(|line| &*line.ingredient).collect();
            let mut near = near_words(name, names.iter().copied(), 3);
            if near.is_empty() {
                near = names.into_iter().take(3).collect();
            }
            let near: Vec<String> = near.into_iter().map(str::to_owned).collect();
            let fault = nothing_there(&place, name, "an ingredient that the formula has when this step is reached");
            self.refuse(fault.saying("Name an ingredient of the formula; a step before may have replaced it already").trying(near));
            return None;
        }
        Some(found)
    }

    /// The share that stays, where some does.
    fn kept(&mut self, wanted: &ReplaceStep, at: &Pointer<'_>) -> Option<Factor> {
        let percent = wanted.percent?;
        if (1.0..=100.0).contains(&percent) {
            return (percent < 100.0).then(|| Factor::times(1.0 - percent / 100.0));
        }
        let mend = match percent > 100.0 {
            true => "No more of an ingredient can be replaced than there is: leave the percent out to replace all of it",
            false => "Say 50 for a half; leave the step out where nothing is to be replaced",
        };
        self.refuse(
            Fault::new(&at.key("percent"), Code::OutOfRange, percent.to_string(), "from 1 to 100, in percent of its weight").saying(mend),
        );
        None
    }

    /// Parts each line in two: what stays, and behind it what is replaced. Gives the formula as it stands then, with the places of what is replaced.
    fn part_lines(&mut self, formula: &Formula, places: &[(usize, usize)], kept: Factor) -> Option<(Formula, Vec<(usize, usize)>)> {
        let lines = formula.lines().count() + places.len();
        if formula
            .parts
            .iter()
            .enumerate()
            .any(|(part, known)| known.lines.len() + places.iter().filter(|place| place.0 == part).count() > MOST_LINES)
        {
            let root = Pointer::ROOT;
            let found = format!("{lines} lines with those that are parted");
            self.refuse(Fault::new(&root.key("formula"), Code::TooMany, found, format!("at most {MOST_LINES} lines in a part")));
            return None;
        }
        for &(part, at) in places.iter().rev() {
            let mass = formula.parts[part].lines[at].weight.mass.value();
            let (place, before, name) = (self.place(part, at), self.said(part, at), self.line(part, at).ingredient.clone());
            self.set_mass(part, at, mass * kept);
            self.insert(part, at + 1, &name, mass * Factor::times(1.0 - kept.value()));
            let why = format!("{} % of it stays: the rest is replaced, on the line below", short(kept.value() * 100.0));
            self.tell(Change::new(place, why).from(before).to(self.said(part, at)));
        }
        // Each line that was parted before it in its part moves a place down.
        let moved = places
            .iter()
            .map(|&(part, at)| (part, at + 1 + places.iter().filter(|&&(other, before)| other == part && before < at).count()));
        Some((self.formula()?, moved.collect()))
    }

    fn known(&mut self, name: &str, at: &Pointer<'_>) -> Option<&'static Ingredient> {
        let found = find_ingredient(self.reference, name, at);
        self.faults.keep(found).map(|found| found.ingredient)
    }

    fn on_hand(&mut self, wanted: &ReplaceStep, at: &Pointer<'_>) -> Vec<&'static Ingredient> {
        let list = at.key("on_hand");
        let names = wanted.on_hand.as_deref().unwrap_or_default();
        if wanted.on_hand.is_some() && names.is_empty() {
            self.refuse(
                Fault::new(&list, Code::MissingField, "an empty list", "one ingredient at least, or no list").saying("Leave the list out"),
            );
        }
        if names.len() > MOST_ON_HAND {
            let found = format!("{} ingredients", names.len());
            self.refuse(Fault::new(&list, Code::TooMany, found, format!("at most {MOST_ON_HAND} ingredients")));
            return Vec::new();
        }
        names.iter().enumerate().filter_map(|(index, name)| self.known(&name.0, &list.index(index))).collect()
    }

    /// What stands in the place of the missing.
    fn standing(&mut self, wanted: &ReplaceStep, asked: &Asked<'_>, at: &Pointer<'_>) -> Result<Standing, Fault> {
        let Asked { missing, with, .. } = *asked;
        if wanted.bloom.is_some() || wanted.with_bloom.is_some() {
            return self.gelatin(wanted, missing, with, at);
        }
        if let Some(with) = with.filter(|with| with.id == missing.id) {
            return Err(Fault::new(&at.key("with"), Code::NotTogether, &*with.name, "another ingredient than the one that is missing"));
        }
        if let Some(swap) = asked.swap(self.reference) {
            return Ok(self.listed(swap, asked));
        }
        if let Some(standing) = self.soda_for_powder(asked, at) {
            return standing;
        }
        if asked.hand().is_empty() && not_by_composition(self.reference, missing).is_none() {
            let accepted = "what is on hand, or an ingredient to put in its place";
            return Err(Fault::new(&at.key("on_hand"), Code::MissingField, "nothing", accepted)
                .saying(format!("No swap is listed for {}: say what is on hand, and the nearest mixture is found", missing.name)));
        }
        let mut standing = self.blended(asked, at)?;
        carried(self.reference, missing, &mut standing);
        Ok(standing)
    }

    /// Gelatin by its strength: twice the Bloom does for half the weight by one law, for the root of it by another; the truth lies between.
    fn gelatin(
        &mut self,
        wanted: &ReplaceStep,
        missing: &Known,
        with: Option<&'static Ingredient>,
        at: &Pointer<'_>,
    ) -> Result<Standing, Fault> {
        let usual = |id: &str| self.reference.advices.bloom(id).map(|strength| strength.value().value());
        let stands = with.or_else(|| self.reference.ingredients.by_id(&missing.id));
        let gelatins = stands.and_then(|stands| Some((stands, usual(&missing.id)?, usual(&stands.id)?)));
        let Some((stands, usual_was, usual_will)) = gelatins else {
            let key = if wanted.bloom.is_some() { "bloom" } else { "with_bloom" };
            return Err(Fault::new(
                &at.key(key),
                Code::NotTogether,
                &*missing.name,
                "a Bloom strength only where gelatin replaces gelatin",
            ));
        };
        for (key, strength) in [("bloom", wanted.bloom), ("with_bloom", wanted.with_bloom)] {
            if strength.is_some_and(|strength| !(50.0..=350.0).contains(&strength)) {
                let found = strength.map_or_else(String::new, |strength| strength.to_string());
                return Err(Fault::new(&at.key(key), Code::OutOfRange, found, "a Bloom strength from 50 to 350"));
            }
        }
        let was = wanted.bloom.unwrap_or(usual_was);
        let will = wanted.with_bloom.unwrap_or(usual_will);
        self.account.cite_id("gmia-gelatin");
        self.account.cite_id("lersch-hydrocolloids");
        let laws = [was / will, libm::sqrt(was / will)].map(|factor| Percent::of_hundred(factor * 100.0));
        let span = Span::between(if laws[0] < laws[1] { laws[0] } else { laws[1] }, if laws[0] < laws[1] { laws[1] } else { laws[0] });
        let note = format!(
            ": {} Bloom for {}, by {} g for each gram by the linear law and {} g by that of the root",
            short(will),
            short(was),
            short(laws[0].value() / 100.0),
            short(laws[1].value() / 100.0)
        );
        Ok(Standing { parts: vec![StandIn::new(stands, span)], note, off: None, source: Some("gmia-gelatin") })
    }

    /// Cautions for allergens that the formula did not hold before.
    fn new_allergens(&mut self, before: &Formula, missing: &Known) {
        let Some(after) = self.formula() else { return };
        let all = |formula: &Formula| -> Vec<&'static str> {
            let lines = formula.lines();
            lines
                .flat_map(|line| line.ingredient.allergens_us.iter().chain(&line.ingredient.allergens_eu).copied().collect::<Vec<_>>())
                .collect()
        };
        let (was, is) = (all(before), all(&after));
        let mut new: Vec<_> = is.into_iter().filter(|allergen| !was.contains(allergen)).collect();
        new.sort_unstable();
        new.dedup();
        if new.is_empty() {
            return;
        }
        self.account.caution("allergen");
        if new.iter().any(|allergen| is_nut(allergen)) {
            self.account.caution("allergen-nuts");
        }
        let why = format!("What stands for {} brings in {}, which the formula did not hold before", missing.name, new.join(", "));
        self.tell(Change::new(Place::Field("/parts"), why));
    }

    /// What a component weighs for so much of the missing, with its range.
    pub(super) fn amount(mass: Mass, grams: Span<Percent>) -> (Mass, Option<Quantity>) {
        let of = |percent: Percent| mass * Factor::times(percent.value() / 100.0);
        let span = grams.map(of);
        (Mass::grams(span.value().in_grams().abs()), (!grams.is_exact()).then(|| Quantity::from(span)))
    }

    pub(super) fn grams_said(mass: Mass, name: &str) -> String {
        format!("{} {name}", scale_text(mass.in_grams()))
    }
}
