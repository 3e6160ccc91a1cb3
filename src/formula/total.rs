//! Sums of weights that remember what is in doubt together, so that a ratio is taken at both ends of each doubt with everything it touches moving at once: flour stays 100 %.

use crate::quantity::{Factor, Mass, Percent, Span};
use crate::reference::{Doubt, Filled, Weight};

/// How many ways of filling there are.
const WAYS: usize = Filled::ALL.len();

/// What the doubts of a formula are: each moves by itself, and all its lines move with it.
#[derive(Clone, Debug, Default)]
pub struct Doubts {
    keys: Vec<Key>,
}

#[derive(Clone, Debug, PartialEq)]
enum Key {
    Way,
    Ingredient(String),
    Line(usize),
}

impl Doubts {
    /// The place of a line's doubt; nothing where the weight is sharp.
    pub(super) fn place(&mut self, doubt: Doubt, ingredient: &str, line: usize) -> Option<usize> {
        let known = self.keys.iter().position(|key| match (key, doubt) {
            (Key::Way, Doubt::Way) => true,
            (Key::Ingredient(id), Doubt::Ingredient) => id == ingredient,
            (Key::Line(at), Doubt::Line) => *at == line,
            _ => false,
        });
        if known.is_some() || doubt == Doubt::Sharp {
            return known;
        }
        self.keys.push(match doubt {
            Doubt::Way => Key::Way,
            Doubt::Ingredient => Key::Ingredient(ingredient.to_owned()),
            Doubt::Line | Doubt::Sharp => Key::Line(line),
        });
        Some(self.keys.len() - 1)
    }

    /// The doubt about the ways, if it is among them.
    fn way(&self) -> Option<usize> {
        self.keys.iter().position(|key| *key == Key::Way)
    }
}

/// A sum of weights by what is in doubt. A formula has dozens of them, and most hold no doubt: then it is a number and nothing else.
#[derive(Clone, Debug, Default)]
pub struct Total {
    sharp: f64,
    open: Option<Box<Open>>,
}

/// What of a sum is in doubt.
#[derive(Clone, Debug, Default)]
struct Open {
    doubtful: Vec<Doubtful>,
    /// The cups whose filling was left open, filled in each way; and the place of that doubt.
    by_way: [f64; WAYS],
    way: Option<usize>,
}

impl Open {
    fn add(&mut self, more: Doubtful) {
        match self.doubtful.iter_mut().find(|known| known.place == more.place) {
            Some(known) => {
                known.low += more.low;
                known.value += more.value;
                known.high += more.high;
            }
            None => self.doubtful.push(more),
        }
    }

    fn add_ways(&mut self, ways: impl IntoIterator<Item = f64>) {
        self.by_way.iter_mut().zip(ways).for_each(|(sum, more)| *sum += more);
    }
}

#[derive(Clone, Copy, Debug)]
struct Doubtful {
    place: usize,
    low: f64,
    value: f64,
    high: f64,
}

/// What a doubt at one of its ends brings to a sum and to the one that it is held against.
struct End {
    above: f64,
    below: f64,
}

impl Total {
    /// A weight that is known.
    pub(super) fn sharp(mass: Mass) -> Self {
        Self { sharp: mass.in_grams(), ..Self::default() }
    }

    /// Adds a share of a line's weight.
    #[inline]
    pub(super) fn add(&mut self, weight: &Weight, place: Option<usize>, share: Factor) {
        match place {
            None => self.sharp += weight.mass.value().in_grams() * share.value(),
            Some(place) => self.add_doubtful(weight, place, share),
        }
    }

    fn add_doubtful(&mut self, weight: &Weight, place: usize, share: Factor) {
        if share.value() == 0.0 {
            return;
        }
        let of = |mass: Mass| mass.in_grams() * share.value();
        let open = self.open.get_or_insert_default();
        open.add(Doubtful { place, low: of(weight.mass.low()), value: of(weight.mass.value()), high: of(weight.mass.high()) });
        if let Some(ways) = &weight.by_way {
            open.way = Some(place);
            open.add_ways(ways.iter().map(|mass| of(*mass)));
        }
    }

    /// Two sums together.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        let mut sum = self.clone();
        sum.sharp += other.sharp;
        if let Some(theirs) = &other.open {
            let open = sum.open.get_or_insert_default();
            theirs.doubtful.iter().for_each(|doubtful| open.add(*doubtful));
            open.way = open.way.or(theirs.way);
            open.add_ways(theirs.by_way);
        }
        sum
    }

    fn doubtful(&self) -> &[Doubtful] {
        self.open.as_ref().map_or(&[], |open| &open.doubtful)
    }

    /// The sum itself, with its ends.
    pub fn mass(&self) -> Span<Mass> {
        let sum = |of: fn(&Doubtful) -> f64| Mass::grams(self.sharp + self.doubtful().iter().map(of).sum::<f64>());
        // What is taken off a sum is least where it is most.
        Span::new(sum(|d| d.low.min(d.high)), sum(|d| d.value), sum(|d| d.high.max(d.low)))
    }

    fn value(&self) -> f64 {
        self.sharp + self.doubtful().iter().map(|d| d.value).sum::<f64>()
    }

    /// Nothing at all.
    pub fn is_nothing(&self) -> bool {
        self.value() <= 0.0
    }

    /// This over another, at its value and at the least and the most that the doubts allow together.
    pub fn over(&self, base: &Self) -> Span<Factor> {
        let value = self.value() / base.value();
        if self.open.is_none() && base.open.is_none() {
            return Span::exact(Factor::times(value));
        }
        let doubts = self.doubts_with(base);
        let end = |sign| Factor::times(self.extreme(base, &doubts, value, sign));
        let span = Span::new(end(-1.0), Factor::times(value), end(1.0));
        match self.way().zip(base.way()) {
            Some((place, _)) => self.in_every_way(base, place, span),
            None => span,
        }
    }

    fn way(&self) -> Option<usize> {
        self.open.as_ref()?.way
    }

    /// Where cups are held against cups, what each way of filling gives by its usual weights: the ends of the one need not be those of the other.
    #[cold]
    fn in_every_way(&self, base: &Self, place: usize, span: Span<Factor>) -> Span<Factor> {
        let ways = Filled::ALL.into_iter().filter_map(|way| self.filled(base, place, way)).map(Span::exact);
        ways.fold(span, Span::hull)
    }

    /// This in hundredths of another.
    pub fn percent_of(&self, base: &Self) -> Span<Percent> {
        self.over(base).map(Factor::as_percent)
    }

    /// The same by the weights as quoted.
    pub fn quoted_percent_of(&self, base: &Self) -> Percent {
        Factor::times(self.value() / base.value()).as_percent()
    }

    /// Every doubt of either sum, with its part in both.
    fn doubts_with(&self, base: &Self) -> Vec<[End; 2]> {
        let ends = |mine: Doubtful, its: Doubtful| [End { above: mine.low, below: its.low }, End { above: mine.high, below: its.high }];
        let mine = self.doubtful().iter().map(|doubt| ends(*doubt, base.at(doubt.place)));
        let others = base.doubtful().iter().filter(|doubt| !self.doubtful().iter().any(|mine| mine.place == doubt.place));
        mine.chain(others.map(|doubt| ends(self.at(doubt.place), *doubt))).collect()
    }

    /// The most (sign 1) or the least (sign -1) of a ratio of two sums. Each doubt is set to the end that moves `above - ratio * below` the right way, until nothing moves (Dinkelbach's way for linear fractions).
    fn extreme(&self, base: &Self, doubts: &[[End; 2]], start: f64, sign: f64) -> f64 {
        let mut ratio = start;
        for _ in 0..20 {
            let (mut above, mut below) = (self.sharp, base.sharp);
            for [low, high] in doubts {
                let gain = |end: &End| sign * (end.above - ratio * end.below);
                let end = if gain(high) >= gain(low) { high } else { low };
                above += end.above;
                below += end.below;
            }
            let next = above / below;
            if !next.is_finite() || (next - ratio).abs() <= ratio.abs() * 1e-14 {
                break;
            }
            ratio = next;
        }
        ratio
    }

    fn at(&self, place: usize) -> Doubtful {
        let nothing = Doubtful { place, low: 0.0, value: 0.0, high: 0.0 };
        self.doubtful().iter().find(|d| d.place == place).copied().unwrap_or(nothing)
    }

    /// This over another when all cups are filled in one way; nothing where the way plays no part.
    pub fn over_in_way(&self, base: &Self, doubts: &Doubts, way: Filled) -> Option<Factor> {
        self.filled(base, doubts.way()?, way)
    }

    fn filled(&self, base: &Self, place: usize, way: Filled) -> Option<Factor> {
        let with = |total: &Self| {
            let open = total.at(place).value;
            let filled = total.open.as_ref().map_or(0.0, |open| open.by_way[way as usize]);
            // Below nothing where it is taken off the sum.
            let shift = if open == 0.0 { 0.0 } else { filled - open };
            (total.value() + shift, open)
        };
        let ((above, mine), (below, its)) = (with(self), with(base));
        (mine != 0.0 || its != 0.0).then(|| Factor::times(above / below))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cup(low: f64, value: f64, high: f64) -> Weight {
        Weight { mass: Span::new(Mass::grams(low), Mass::grams(value), Mass::grams(high)), doubt: Doubt::Way, by_way: None }
    }

    fn total(weights: &[(Weight, Option<usize>)]) -> Total {
        let mut total = Total::default();
        weights.iter().for_each(|(weight, place)| total.add(weight, *place, Factor::ONE));
        total
    }

    #[test]
    fn flour_is_a_hundred_per_cent_of_flour_however_the_cup_is_filled() {
        let flour = total(&[(cup(110.0, 125.0, 160.0), Some(0))]);
        let ratio = flour.over(&flour);
        assert!(ratio.is_exact() && ratio.value() == Factor::ONE);
    }

    #[test]
    fn a_cup_that_is_taken_off_a_sum_is_least_where_the_cup_is_full() {
        let mut doubts = Doubts::default();
        doubts.place(Doubt::Way, "", 0);
        let ways = [40.0, 45.0, 50.0, 60.0].map(Mass::grams);
        let egg = Weight { by_way: Some(ways.into()), ..cup(40.0, 45.0, 60.0) };
        let mut left = total(&[(cup(200.0, 200.0, 200.0), None)]);
        left.add(&egg, Some(0), Factor::times(-3.0));
        let mass = left.mass();
        assert_eq!([mass.low(), mass.value(), mass.high()].map(Mass::in_grams), [20.0, 65.0, 80.0]);
        let flour = total(&[(cup(100.0, 100.0, 100.0), None)]);
        let filled = left.over_in_way(&flour, &doubts, Filled::ALL[3]).map(Factor::value);
        assert!(filled.is_some_and(|share| (share - 0.2).abs() < 1e-12), "{filled:?}");
    }

    #[test]
    fn what_is_weighed_moves_against_a_doubtful_cup() {
        let sugar = total(&[(cup(200.0, 200.0, 200.0), None)]);
        let flour = total(&[(cup(110.0, 125.0, 160.0), Some(0))]);
        let ratio = sugar.over(&flour);
        assert!((ratio.low().value() - 1.25).abs() < 1e-12 && (ratio.high().value() - 200.0 / 110.0).abs() < 1e-12);
    }

    #[test]
    fn what_a_way_of_filling_gives_lies_between_the_ends() {
        // Sifted cocoa is light, and flour is not so much lighter: neither end of both together holds 75 on 116 g.
        let filled = |ways: [f64; 4], cup: Weight| Weight { by_way: Some(ways.map(Mass::grams).into()), ..cup };
        let cocoa = total(&[(filled([75.0, 85.0, 86.0, 86.0], cup(68.0, 86.0, 92.0)), Some(0))]);
        let flour = total(&[(filled([116.0, 126.0, 142.0, 125.0], cup(110.0, 125.0, 160.0)), Some(0))]);
        let ratio = cocoa.over(&flour);
        assert!(ratio.low().value() <= 92.0 / 160.0 + 1e-12 && ratio.high().value() >= 86.0 / 125.0 - 1e-12, "{ratio:?}");
        for [mine, its] in [[75.0, 116.0], [85.0, 126.0], [86.0, 142.0]] {
            assert!((ratio.low().value()..=ratio.high().value()).contains(&(mine / its)), "{ratio:?}");
        }
    }

    #[test]
    fn cups_of_one_person_move_together() {
        let cocoa = total(&[(cup(80.0, 90.0, 100.0), Some(0))]);
        let flour = total(&[(cup(110.0, 125.0, 160.0), Some(0))]);
        let ratio = cocoa.over(&flour);
        assert!((ratio.low().value() - 100.0 / 160.0).abs() < 1e-12, "{ratio:?}");
        assert!((ratio.high().value() - 80.0 / 110.0).abs() < 1e-12, "{ratio:?}");
    }
}
