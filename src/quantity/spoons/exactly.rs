//! What no fraction tells, by two measures that are as much: "1 cup less 1 tablespoon" is no 0.94 cup.

use super::{CUPS, Drawer, MOST_TABLESPOONS, Part, TABLESPOONS, Taken, WHOLE};
use crate::quantity::shown::{Quantity, spoon_fraction};
use crate::quantity::span::{Quantifiable, Span};
use crate::quantity::unit::{Family, Measures, Unit};
use smol_str::{SmolStr, SmolStrBuilder};
use std::fmt::Write;

/// So many halves of the smaller measure are added or taken away at most.
const MOST_HALVES: f64 = 6.0;
/// As near as this, in halves of the smaller measure, it is as much: the rest is the noise of arithmetic.
const NOISE: f64 = 1e-6;

impl Quantity {
    /// An amount as it was understood, in its own unit. Nobody measures 0.9375 cup: what is more than tenths is told by measures that are as much, where there are.
    pub fn understood<T: Quantifiable>(span: Span<T>, unit: &'static Unit, measures: Measures) -> Self {
        let (value, exact) = (span.value().raw(), span.is_exact());
        let quantity = Self::in_unit(span, unit);
        let tenths = value * 10.0;
        if !exact || !unit.is_national() || (tenths - tenths.round()).abs() < 1e-6 || spoon_fraction(value).is_some() {
            return quantity;
        }
        match Drawer::of(measures).exactly(value, unit) {
            Some(text) => Self { text, ..quantity },
            None => quantity,
        }
    }
}

impl Drawer {
    /// So many of a unit by a larger measure with a smaller one added or taken away; nothing where no two are as much.
    #[cold]
    fn exactly(&self, count: f64, unit: &'static Unit) -> Option<SmolStr> {
        if unit.family != Family::Volume || !unit.sets.contains(&self.measures) {
            return None;
        }
        let (spoon, teaspoon) = (self.tablespoon, self.teaspoon);
        let cups = self.cup.into_iter().flat_map(|cup| [(cup, CUPS, spoon), (cup, CUPS, teaspoon)]);
        let wanted = count * unit.size;
        let of_spoons = self.cup.is_none() || wanted < spoon.size * MOST_TABLESPOONS;
        let pairs = cups.chain(of_spoons.then_some((spoon, TABLESPOONS, teaspoon)));
        let found = pairs.filter_map(|(large, parts, small)| beside(wanted, large, parts, small));
        // A whole spoon before a half one.
        found.min_by_key(|(halves, _)| (halves % 2, *halves)).map(|(_, told)| told)
    }
}

/// The larger measure that leaves the least to the smaller: how many halves of that, and both in words.
fn beside(wanted: f64, large: &'static Unit, parts: &[Part], small: &'static Unit) -> Option<(u16, SmolStr)> {
    let whole = (wanted / large.size).floor();
    let near = [whole, whole + 1.0].into_iter().filter(|whole| *whole < 1000.0);
    let taken = near.flat_map(|whole| parts.iter().map(move |part| Taken { unit: large, whole: whole as u16, part: *part }));
    let halves = |first: &Taken| (wanted - first.size()) / small.size * 2.0;
    let fits = |off: f64| (off - off.round()).abs() < NOISE && (1.0..=MOST_HALVES).contains(&off.abs().round());
    let first =
        taken.filter(|first| first.count() > 0.0 && fits(halves(first))).min_by(|a, b| halves(a).abs().total_cmp(&halves(b).abs()))?;
    let off = halves(&first).round();
    let count = off.abs() as u16;
    let second = Taken { unit: small, whole: count / 2, part: if count.is_multiple_of(2) { WHOLE } else { (1, 2) } };
    let mut told = SmolStrBuilder::new();
    first.write(large.one, large.many, &mut told).ok()?;
    told.write_str(if off < 0.0 { " less " } else { " plus " }).ok()?;
    second.write(small.one, small.many, &mut told).ok()?;
    Some((count, told.finish()))
}
