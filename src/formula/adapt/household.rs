//! Another country's cups and spoons, or grams only: every line is written anew, and what the nearest real measure is off is told.

use serde::Deserialize;
use utoipa::ToSchema;

use super::super::resolved::Line;
use super::working::{Adapting, Change, grams_text};
use crate::quantity::{Counting, Density, Drawer, Measures, Number, Pointer, Quantity, Size, Volume, off_percent};
use crate::reference::{EggPart, Measuring, Nature, market_of, market_said, short};

/// Other measures.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MeasuresStep {
    /// Whose cups and spoons, or grams.
    pub to: MeasuresTo,
}

/// Whose cups and spoons a formula is written in.
/// - `us`: US customary: cup 236.588 ml, tablespoon 14.787 ml.
/// - `metric`: cup 250 ml, tablespoon 15 ml, teaspoon 5 ml.
/// - `uk`: modern British: spoons of 15 and 5 ml; what is more is weighed.
/// - `imperial`: old British books: cup 284 ml, tablespoon 17.76 ml.
/// - `canada`: traditional Canadian: cup 227.3 ml.
/// - `australia`: cup 250 ml, tablespoon 20 ml.
/// - `japan`: cup 200 ml.
/// - `us-label`: US nutrition labels: cup 240 ml, tablespoon 15 ml.
/// - `grams`: no cups or spoons at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum MeasuresTo {
    Us,
    Metric,
    Uk,
    Imperial,
    Canada,
    Australia,
    Japan,
    UsLabel,
    Grams,
}

impl MeasuresTo {
    /// The national set; nothing for grams.
    pub const fn set(self) -> Option<Measures> {
        Some(match self {
            Self::Us => Measures::Us,
            Self::Metric => Measures::Metric,
            Self::Uk => Measures::Uk,
            Self::Imperial => Measures::Imperial,
            Self::Canada => Measures::Canada,
            Self::Australia => Measures::Australia,
            Self::Japan => Measures::Japan,
            Self::UsLabel => Measures::UsLabel,
            Self::Grams => return None,
        })
    }
}

/// How far off a spoon may be, in hundredths: an eighth of a teaspoon is no measure of a quarter of a gram.
const FAR_OFF: f64 = 50.0;

impl Adapting<'_> {
    pub fn measures(&mut self, wanted: &MeasuresStep) {
        let Some(formula) = self.formula() else { return };
        let set = wanted.to.set();
        for (part, known) in formula.parts.iter().enumerate() {
            for (at, line) in known.lines.iter().enumerate() {
                match set {
                    Some(set) => self.spooned((part, at), line, set),
                    None => self.in_grams((part, at), line),
                }
            }
        }
        if let Some(set) = set {
            self.written.measures = Some(set);
        }
    }

    /// To grams: a line that is weighed already stays.
    fn in_grams(&mut self, (part, at): (usize, usize), line: &Line) {
        let weighed = matches!(&line.amount.counting, Counting::Unit(unit) if unit.id == "gram");
        if weighed && self.line(part, at).also.is_none() {
            return;
        }
        let (place, before) = (self.place(part, at), self.said(part, at));
        if weighed {
            self.drop_second(part, at);
        } else {
            self.set_mass(part, at, line.weight.mass.value());
        }
        let why = format!("{} is the weight of {before}", Quantity::from(line.weight.mass).range_text());
        let range = (!line.weight.mass.is_exact()).then(|| Quantity::from(line.weight.mass));
        let source = line.ingredient.citation.map(|citation| citation.source.id);
        let change = Change::new(place, why).from(before).to(self.said(part, at));
        self.tell(Change { range, source: source.filter(|_| !weighed), ..change });
    }

    /// To the nearest real measure of another country.
    fn spooned(&mut self, (part, at): (usize, usize), line: &Line, set: Measures) {
        if line.ingredient.egg_part().is_some() && line.is_counted() {
            return self.named_egg((part, at), line, set);
        }
        // A pinch is a pinch in every country.
        let pinched = matches!(&line.amount.counting, Counting::Unit(unit) if unit.by_the_fingers().is_some());
        if pinched || line.is_counted() {
            return;
        }
        let (drawer, Some(density)) = (Drawer::of(set), density(line)) else {
            return self.left_weighed((part, at), line);
        };
        let mass = line.weight.mass.value();
        let volume = line.amount.volume().unwrap_or(mass / density);
        let (place, before) = (self.place(part, at), self.said(part, at));
        let has_mass = line.amount.is_mass() || self.written_mass(part, at, line);
        if !drawer.serves(volume) {
            return self.beyond_spoons((part, at), line, volume);
        }
        // Cups that were written are crossed however many they are; a weight that no kitchen scoops stays as it is.
        if line.amount.is_mass() && !drawer.is_handy(volume) {
            let place = self.place(part, at);
            return self.tell(Change::new(place, "More than a dozen cups are weighed, not scooped: it stays so"));
        }
        let nearest = drawer.nearest(volume);
        let [millilitres, near] = [volume, nearest.volume()].map(Volume::in_millilitres);
        let off = off_percent(near, millilitres);
        if line.amount.is_mass() && off.abs() > FAR_OFF {
            let place = self.place(part, at);
            return self.tell(Change::new(place, "No spoon comes near to so little: it stays weighed"));
        }
        // A weight that was written stays beside, and wins; a volume is crossed without a weight.
        self.set(part, at, nearest.to_string(), has_mass.then(|| grams_text(mass.in_grams())));
        let after = self.said(part, at);
        if after == before {
            return;
        }
        let [was, is] = [millilitres, near].map(|volume| Quantity::from(Volume::millilitres(volume)).text);
        let why = format!("{before} is {was}; {nearest} is {is}");
        self.tell(Change { off: Some(off), ..Change::new(place, why).from(before).to(after) });
    }

    /// A count of eggs means the class of a market: the market is named where the new measures mean another.
    fn named_egg(&mut self, (part, at): (usize, usize), line: &Line, set: Measures) {
        let own = self.written.measures.unwrap_or_default();
        let (size, each) = match &line.amount.counting {
            Counting::Size(size) => (*size, 1.0),
            Counting::Unit(unit) => (Size::LARGE, unit.size),
            _ => (Size::LARGE, 1.0),
        };
        if size.market.is_some() || market_of(own) == market_of(set) {
            return;
        }
        let (place, before) = (self.place(part, at), self.said(part, at));
        let part_of = match line.ingredient.egg_part() {
            Some(EggPart::White) => " white",
            Some(EggPart::Yolk) => " yolk",
            _ => "",
        };
        match market_of(own) {
            market @ ("us" | "eu") => {
                let count = number(&line.amount.number.times(each));
                self.set(part, at, format!("{count} {} {}", market_said(market), size.class), None);
            }
            _ => self.set_mass(part, at, line.weight.mass.value()),
        }
        let why = format!("An egg{part_of} of this class is of the {} market, whatever the cups", market_said(market_of(own)));
        let change = Change::new(place, why).from(before).to(self.said(part, at));
        self.tell(change);
    }

    /// Nobody has published what a cup of it weighs: it is weighed.
    fn left_weighed(&mut self, (part, at): (usize, usize), line: &Line) {
        if line.amount.is_mass() {
            let name = line.ingredient.name.clone();
            let place = self.place(part, at);
            self.tell(Change::new(place, format!("Nobody has published what a cup or spoon of {name} weighs: it stays weighed")));
        }
    }

    /// More than spoons are used for: a liquid by millilitres, all else by grams.
    fn beyond_spoons(&mut self, (part, at): (usize, usize), line: &Line, volume: Volume) {
        let liquid = matches!(line.ingredient.nature, Nature::Liquid);
        let (place, before) = (self.place(part, at), self.said(part, at));
        match liquid && !line.amount.is_mass() {
            true => self.set(part, at, format!("{} ml", short((volume.in_millilitres() * 10.0).round() / 10.0)), None),
            false => self.set_mass(part, at, line.weight.mass.value()),
        }
        let after = self.said(part, at);
        if after != before {
            self.tell(Change::new(place, "More than a few spoons are weighed, or measured in millilitres").from(before).to(after));
        }
    }

    /// Whether a mass was written as the second measure.
    fn written_mass(&self, part: usize, at: usize, line: &Line) -> bool {
        self.line(part, at).also.as_ref().is_some_and(|also| {
            let root = Pointer::ROOT;
            let read = crate::quantity::read_amount(also, self.written.measures.unwrap_or_default(), &root);
            read.is_ok_and(|also| also.is_mass()) && !line.amount.is_mass()
        })
    }
}

/// What a millilitre of it weighs, in the way in which the line is filled.
pub(super) fn density(line: &Line) -> Option<Density> {
    let root = Pointer::ROOT;
    let of = Measuring {
        ingredient: &line.ingredient,
        form: line.form,
        filled: line.filled,
        measures: Measures::Us,
        measures_at: None,
        filled_at: &root,
    };
    of.density(&root).ok().map(|weighing| weighing.density.value())
}

fn number(number: &Number) -> String {
    if number.is_exact() { short(number.value).to_string() } else { format!("{}-{}", short(number.low), short(number.high)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_national_set_can_be_asked_for_by_its_own_word() {
        for set in Measures::ALL {
            let step: MeasuresStep = serde_json::from_value(serde_json::json!({ "to": set.word() })).expect("a set");
            assert_eq!(step.to.set(), Some(set));
        }
    }
}
