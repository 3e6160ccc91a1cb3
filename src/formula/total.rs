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
    /// How the cups of this ingredient were filled: as those of every other.
    Way(String),
    Ingredient(String),
    Line(usize),
}

impl Doubts {
    /// The place of a line's doubt; nothing where the weight is sharp.
    pub(super) fn place(&mut self, doubt: Doubt, ingredient: &str, line: usize) -> Option<usize> {
        let known = self.keys.iter().position(|key| match (key, doubt) {
            (Key::Way(id), Doubt::Way) | (Key::Ingredient(id), Doubt::Ingredient) => id == ingredient,
            (Key::Line(at), Doubt::Line) => *at == line,
            _ => false,
        });
        if known.is_some() || doubt == Doubt::Sharp {
            return known;
        }
        self.keys.push(match doubt {
            Doubt::Way => Key::Way(ingredient.to_owned()),
            Doubt::Ingredient => Key::Ingredient(ingredient.to_owned()),
            Doubt::Line | Doubt::Sharp => Key::Line(line),
        });
        Some(self.keys.len() - 1)
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
    /// The cups whose filling was left open, by what is in them.
    cups: Vec<Cups>,
}

/// What is in doubt together.
#[derive(Clone, Copy, Debug, Default)]
struct Doubtful {
    place: usize,
    low: f64,
    value: f64,
    high: f64,
}

/// Cups of one ingredient: whichever way they were filled, and filled in each.
#[derive(Clone, Copy, Debug)]
struct Cups {
    any: Doubtful,
    filled: [Doubtful; WAYS],
}

impl Doubtful {
    fn of(place: usize, mass: Span<Mass>, share: Factor) -> Self {
        let [low, value, high] = [mass.low(), mass.value(), mass.high()].map(|mass| mass.in_grams() * share.value());
        Self { place, low, value, high }
    }

    fn add(&mut self, more: &Self) {
        self.low += more.low;
        self.value += more.value;
        self.high += more.high;
    }
}

impl Open {
    fn add(&mut self, more: Doubtful) {
        match self.doubtful.iter_mut().find(|known| known.place == more.place) {
            Some(known) => known.add(&more),
            None => self.doubtful.push(more),
        }
    }

    fn add_cups(&mut self, more: Cups) {
        match self.cups.iter_mut().find(|known| known.any.place == more.any.place) {
            Some(known) => {
                known.any.add(&more.any);
                known.filled.iter_mut().zip(&more.filled).for_each(|(known, more)| known.add(more));
            }
            None => self.cups.push(more),
        }
    }
}

/// What a doubt at one of its ends brings to a sum and to the one that it is held against.
#[derive(Clone, Copy)]
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
        let of = |mass: Span<Mass>| Doubtful::of(place, mass, share);
        let open = self.open.get_or_insert_default();
        match &weight.by_way {
            Some(ways) => open.add_cups(Cups { any: of(weight.mass), filled: ways.map(of) }),
            None => open.add(of(weight.mass)),
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
            theirs.cups.iter().for_each(|cups| open.add_cups(*cups));
        }
        sum
    }

    fn doubtful(&self) -> &[Doubtful] {
        self.open.as_ref().map_or(&[], |open| &open.doubtful)
    }

    fn cups(&self) -> &[Cups] {
        self.open.as_ref().map_or(&[], |open| &open.cups)
    }

    fn every_doubt(&self) -> impl Iterator<Item = &Doubtful> {
        self.doubtful().iter().chain(self.cups().iter().map(|cups| &cups.any))
    }

    /// The sum itself, with its ends.
    pub fn mass(&self) -> Span<Mass> {
        let sum = |of: fn(&Doubtful) -> f64| Mass::grams(self.sharp + self.every_doubt().map(of).sum::<f64>());
        // What is taken off a sum is least where it is most.
        Span::new(sum(|d| d.low.min(d.high)), sum(|d| d.value), sum(|d| d.high.max(d.low)))
    }

    fn value(&self) -> f64 {
        self.sharp + self.every_doubt().map(|d| d.value).sum::<f64>()
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
        let mut doubts = self.doubts_with(base);
        let sharp = doubts.len();
        // All cups are filled in one way.
        if !(self.cups().is_empty() && base.cups().is_empty()) {
            let [mine, its] = [self, base].map(Self::any_cups);
            doubts.push(ends(&mine, &its));
        }
        let span = self.between(base, &doubts, value);
        if self.cups().is_empty() || base.cups().is_empty() || !self.cups_differ(base) {
            return span;
        }
        doubts.truncate(sharp);
        self.in_every_way(base, &doubts, span)
    }

    /// The ratio at the least and the most of these doubts.
    fn between(&self, base: &Self, doubts: &[[End; 2]], value: f64) -> Span<Factor> {
        let end = |sign| Factor::times(self.extreme(base, doubts, value, sign));
        Span::new(end(-1.0), Factor::times(value), end(1.0))
    }

    /// All cups together.
    fn any_cups(&self) -> Doubtful {
        let mut sum = Doubtful::default();
        self.cups().iter().for_each(|cups| sum.add(&cups.any));
        sum
    }

    /// Whether the cups of both hold more than one ingredient: those of one have their ends together in every way of filling.
    fn cups_differ(&self, base: &Self) -> bool {
        let mut places = self.cups().iter().chain(base.cups()).map(|cups| cups.any.place);
        let first = places.next();
        places.any(|place| Some(place) != first)
    }

    /// Where cups of one ingredient are held against cups of another, what each way of filling gives: by itself it leaves open what each of them weighs, and
    /// the ends of the one need not be those of the other.
    #[cold]
    fn in_every_way(&self, base: &Self, doubts: &[[End; 2]], span: Span<Factor>) -> Span<Factor> {
        let in_way = |way: Filled| {
            let at = |total: &Self, place| {
                total.cups().iter().find(|cups| cups.any.place == place).map_or_else(Doubtful::default, |cups| cups.filled[way as usize])
            };
            let mut all = doubts.to_vec();
            all.extend(self.cups().iter().map(|cups| ends(&cups.filled[way as usize], &at(base, cups.any.place))));
            let others = base.cups().iter().filter(|its| !self.cups().iter().any(|mine| mine.any.place == its.any.place));
            all.extend(others.map(|cups| ends(&Doubtful::default(), &cups.filled[way as usize])));
            self.filled(base, way).map(|value| self.between(base, &all, value.value()))
        };
        Filled::ALL.into_iter().filter_map(in_way).fold(span, Span::hull)
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
        let mine = self.doubtful().iter().map(|doubt| ends(doubt, &base.at(doubt.place)));
        let others = base.doubtful().iter().filter(|doubt| !self.doubtful().iter().any(|mine| mine.place == doubt.place));
        mine.chain(others.map(|doubt| ends(&Doubtful::default(), doubt))).collect()
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
        self.doubtful().iter().find(|d| d.place == place).copied().unwrap_or_default()
    }

    /// This over another by the usual weights when all cups are filled in one way; nothing where the way plays no part.
    pub fn filled(&self, base: &Self, way: Filled) -> Option<Factor> {
        let with = |total: &Self| {
            let shift = |cups: &Cups| cups.filled[way as usize].value - cups.any.value;
            total.value() + total.cups().iter().map(shift).sum::<f64>()
        };
        (self.any_cups().value != 0.0 || base.any_cups().value != 0.0).then(|| Factor::times(with(self) / with(base)))
    }
}

/// Both ends of a doubt, with what it brings to either sum.
fn ends(mine: &Doubtful, its: &Doubtful) -> [End; 2] {
    [End { above: mine.low, below: its.low }, End { above: mine.high, below: its.high }]
}

#[cfg(test)]
mod tests {
    use super::*;

    const FLOUR: [f64; 3] = [110.0, 125.0, 160.0];

    fn grams([low, value, high]: [f64; 3]) -> Span<Mass> {
        Span::new(Mass::grams(low), Mass::grams(value), Mass::grams(high))
    }

    /// What weighs so much, by what was published of it.
    fn cup(low: f64, value: f64, high: f64) -> Weight {
        Weight { mass: grams([low, value, high]), doubt: Doubt::Ingredient, by_way: None }
    }

    /// A cup whose way of filling was left open, with what it weighs sifted, spooned, dipped and packed.
    fn open(any: [f64; 3], ways: [[f64; 3]; 4]) -> Weight {
        Weight { mass: grams(any), doubt: Doubt::Way, by_way: Some(Box::new(ways.map(grams))) }
    }

    fn flour() -> Weight {
        open(FLOUR, [[110.0, 116.0, 118.0], [118.0, 126.0, 136.0], [138.0, 142.0, 160.0], FLOUR])
    }

    fn total(weights: &[(Weight, Option<usize>)]) -> Total {
        let mut total = Total::default();
        weights.iter().for_each(|(weight, place)| total.add(weight, *place, Factor::ONE));
        total
    }

    fn ends_are(ratio: Span<Factor>, low: f64, high: f64) {
        assert!((ratio.low().value() - low).abs() < 1e-12 && (ratio.high().value() - high).abs() < 1e-12, "{ratio:?}");
    }

    #[test]
    fn flour_is_a_hundred_per_cent_of_flour_however_the_cup_is_filled() {
        let flour = total(&[(flour(), Some(0))]);
        let ratio = flour.over(&flour);
        assert!(ratio.is_exact() && ratio.value() == Factor::ONE);
    }

    #[test]
    fn a_cup_that_is_taken_off_a_sum_is_least_where_the_cup_is_full() {
        let egg = open([40.0, 45.0, 60.0], [40.0, 45.0, 50.0, 60.0].map(|grams| [grams; 3]));
        let mut left = total(&[(cup(200.0, 200.0, 200.0), None)]);
        left.add(&egg, Some(0), Factor::times(-3.0));
        let mass = left.mass();
        assert_eq!([mass.low(), mass.value(), mass.high()].map(Mass::in_grams), [20.0, 65.0, 80.0]);
        let flour = total(&[(cup(100.0, 100.0, 100.0), None)]);
        let filled = left.filled(&flour, Filled::ALL[3]).map(Factor::value);
        assert!(filled.is_some_and(|share| (share - 0.2).abs() < 1e-12), "{filled:?}");
    }

    #[test]
    fn what_is_weighed_moves_against_a_doubtful_cup() {
        let sugar = total(&[(cup(200.0, 200.0, 200.0), None)]);
        ends_are(sugar.over(&total(&[(flour(), Some(0))])), 1.25, 200.0 / 110.0);
    }

    #[test]
    fn cups_of_one_person_are_filled_in_one_way() {
        // Sharp in every way, cocoa and flour are both light or both heavy: never 100 g on 110.
        let sharp = |ways: [f64; 4], any| open(any, ways.map(|grams| [grams; 3]));
        let cocoa = total(&[(sharp([80.0, 90.0, 100.0, 90.0], [80.0, 90.0, 100.0]), Some(0))]);
        let flour = total(&[(sharp([110.0, 125.0, 160.0, 125.0], FLOUR), Some(1))]);
        ends_are(cocoa.over(&flour), 100.0 / 160.0, 80.0 / 110.0);
    }

    #[test]
    fn a_span_with_the_way_left_open_holds_that_of_every_way_that_may_be_said() {
        let ways = [[68.0, 75.0, 80.0], [80.0, 85.0, 86.0], [84.0, 86.0, 92.0], [68.0, 86.0, 92.0]];
        let cocoa = total(&[(open([68.0, 86.0, 92.0], ways), Some(0))]);
        let flour = |weight: Weight| total(&[(weight, Some(1))]);
        let any = cocoa.over(&flour(flour_in(None)));
        for (way, [low, value, high]) in ways.into_iter().enumerate().take(3) {
            let said = total(&[(cup(low, value, high), Some(0))]).over(&flour(flour_in(Some(way))));
            assert!(any.low() <= said.low() && said.high() <= any.high(), "{any:?} and {said:?}");
        }
    }

    fn flour_in(way: Option<usize>) -> Weight {
        let open = flour();
        match (way, &open.by_way) {
            (Some(way), Some(ways)) => Weight { mass: ways[way], doubt: Doubt::Ingredient, by_way: None },
            _ => open,
        }
    }

    #[test]
    fn cups_of_one_ingredient_have_one_weight_in_both_sums() {
        let mut both = total(&[(flour(), Some(0))]);
        both.add(&open([68.0, 86.0, 92.0], [[68.0, 75.0, 80.0]; 4]), Some(1), Factor::ONE);
        let ratio = total(&[(flour(), Some(0))]).over(&both);
        // Flour that is heavier above is heavier below: 110 of 110 and 80, 160 of 160 and 68.
        ends_are(ratio, 110.0 / 190.0, 160.0 / 228.0);
    }
}
