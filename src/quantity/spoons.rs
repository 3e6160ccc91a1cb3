//! The cups and spoons that lie in a drawer, by country: which of them, or which two together, come nearest to a volume.

mod exactly;

use std::fmt::{self, Write};
use std::sync::LazyLock;

use smol_str::{SmolStr, SmolStrBuilder};

use super::measure::Volume;
use super::shown::write_in_fractions;
use super::unit::{Family, Measures, Unit};

/// The measures of one country. The British weigh what is more than a few spoons: they have no cup.
#[derive(Debug)]
pub struct Drawer {
    measures: Measures,
    cup: Option<&'static Unit>,
    tablespoon: &'static Unit,
    teaspoon: &'static Unit,
}

/// A fraction of a measure: how many parts, of how many.
type Part = (u8, u8);

/// One measure, so many times: 1 2/3 cups.
#[derive(Clone, Copy, Debug)]
struct Taken {
    unit: &'static Unit,
    whole: u16,
    part: Part,
}

/// A volume in real measures: one, or a larger with a smaller.
#[derive(Clone, Copy, Debug)]
pub struct Spooned {
    first: Taken,
    second: Option<Taken>,
    /// How odd it is to measure: the fewer measures and the plainer the fractions, the better.
    trouble: f64,
}

const WHOLE: Part = (0, 1);
const EIGHTH: Part = (1, 8);
/// The fractions of a cup that are made.
const CUPS: &[Part] = &[WHOLE, (1, 4), (1, 3), (1, 2), (2, 3), (3, 4)];
/// The fractions of a teaspoon that are made; three quarters are a half and a quarter.
const TEASPOONS: &[Part] = &[WHOLE, EIGHTH, (1, 4), (1, 2), (3, 4)];
/// Below one of them two small spoons are taken for one: three eighths are a quarter and an eighth.
const SMALL_TEASPOONS: &[Part] = &[WHOLE, EIGHTH, (1, 4), (3, 8), (1, 2), (5, 8), (3, 4)];
const TABLESPOONS: &[Part] = &[WHOLE, (1, 2)];

/// The least that is told, of a teaspoon: a pinch, as the smallest spoons of a set have it. Common practice, no source.
const PINCH: Part = (1, 16);
/// No set has it of a teaspoon, yet the eye fills it: a half spoon to two thirds.
const BY_EYE: Part = (1, 3);
/// The small spoons, of which any amount between two is told by both.
const SMALL_SPOONS: &[Part] = &[PINCH, EIGHTH, (1, 4)];

/// Other measures, and what is counted, are told in these.
const OTHERS: &[Part] = CUPS;

/// Tablespoons up to so many are counted out where they were written; beyond, a cup is at hand. Three teaspoons are a tablespoon.
const MOST_TABLESPOONS: f64 = 7.001;
const MOST_TEASPOONS: f64 = 2.999;
/// A kitchen counts cups up to so many; whoever scoops more loses count, and weighs. Common practice, no source.
const MOST_CUPS: f64 = 12.001;
/// As many quarts, or spoons where there is no cup, are still counted.
const MOST_OTHERS: f64 = 16.001;
/// More pieces than these are told whole: nobody breaks a third of the forty-second egg.
const MOST_DIVIDED: f64 = 12.0;
/// Nearer than this, as a share, nobody can fill a cup.
const NEAR: f64 = 0.01;
/// As far as this it is "about" the measure.
const ABOUT: f64 = 0.05;
/// As far as this the measure is scant or generous; what is further off is no help beside the weight, and the figure stands instead.
const FAR: f64 = 0.15;
/// A figure is a fraction where it is within so much of it, as a share: the noise of arithmetic, not a rounding.
const SAME: f64 = 2e-4;

impl Drawer {
    pub fn of(measures: Measures) -> &'static Self {
        static DRAWERS: LazyLock<Vec<Drawer>> = LazyLock::new(|| Measures::ALL.into_iter().map(Drawer::opened).collect());
        &DRAWERS[measures as usize]
    }

    fn opened(measures: Measures) -> Self {
        let of = |word| Unit::of_word(word, measures);
        let spoon = |word, known| of(word).unwrap_or_else(|| Unit::known(known));
        let cup = if measures == Measures::Uk { None } else { of("cup") };
        Self { measures, cup, tablespoon: spoon("tbsp", "metric-tablespoon"), teaspoon: spoon("tsp", "metric-teaspoon") }
    }

    /// The least that can be measured: an eighth of a teaspoon.
    pub fn least(&self) -> Volume {
        Volume::millilitres(self.teaspoon.size / 8.0)
    }

    /// Whether so much is measured by cups and spoons, and not weighed.
    pub fn serves(&self, volume: Volume) -> bool {
        let most = self.cup.map_or(self.tablespoon.size * 4.25, |cup| cup.size * 5000.0);
        volume.in_millilitres() <= most
    }

    /// Whether a kitchen measures so much without being asked to: what is more is weighed.
    pub fn is_handy(&self, volume: Volume) -> bool {
        self.serves(volume) && self.cup.is_none_or(|cup| volume.in_millilitres() <= cup.size * MOST_CUPS)
    }

    /// Whether so many of a unit are counted out. Millilitres are read off a jug and pieces come as they are: neither is scooped.
    pub fn counts(&self, count: f64, unit: &Unit) -> bool {
        if unit.family != Family::Volume || !unit.is_national() {
            return true;
        }
        match self.cup {
            Some(cup) if unit.size <= cup.size => count * unit.size <= cup.size * MOST_CUPS,
            _ => count <= MOST_OTHERS,
        }
    }

    /// The nearest real measure; a plain one wins over one that is hardly nearer.
    pub fn nearest(&self, volume: Volume) -> Spooned {
        let mut best = Best::of(volume, 1.0);
        self.around(volume.in_millilitres(), &mut |spooned| best.offer(spooned));
        best.found.unwrap_or_else(|| Spooned::of(self.teaspoon, 0, EIGHTH))
    }

    /// The nearest measures below and above.
    pub fn bounds(&self, volume: Volume) -> [Spooned; 2] {
        let [mut below, mut above] = [Best::of(volume, PATIENCE), Best::of(volume, PATIENCE)];
        self.around(volume.in_millilitres(), &mut |spooned| {
            if spooned.volume() <= volume { below.offer(spooned) } else { above.offer(spooned) }
        });
        [below, above].map(|side| side.found.unwrap_or_else(|| self.nearest(volume)))
    }

    /// So many of a unit as they are measured out; nothing where the figure says it as well, or where nothing in the drawer comes near.
    pub fn told(&self, count: f64, unit: &'static Unit) -> Option<SmolStr> {
        match unit.family {
            Family::Count if !is_one_of(divided(count), count) => nearest_count(count, unit),
            Family::Volume if unit.sets.contains(&self.measures) && !self.is_plain(count, unit) => {
                let volume = Volume::millilitres(count * unit.size);
                if !self.serves(volume) {
                    return self.spoon_after_spoon(count, unit);
                }
                let off = |spooned: &Spooned| (spooned.size() / volume.in_millilitres() - 1.0).abs();
                let eye = Spooned::of(self.teaspoon, 0, BY_EYE);
                let near = Some(self.nearest(volume)).filter(|_| volume >= self.least());
                let near = near.map(|near| if off(&eye) < off(&near).min(FAR) { eye } else { near });
                let near = near.and_then(|near| told_as(&near, volume.in_millilitres()));
                near.or_else(|| self.told_small(volume.in_millilitres()))
            }
            _ => None,
        }
    }

    /// Where there is no cup, what is more than a few spoons is weighed; who spoons it all the same counts whole and half ones.
    fn spoon_after_spoon(&self, count: f64, unit: &'static Unit) -> Option<SmolStr> {
        let halves = (count * 2.0).round();
        if self.cup.is_some() || unit.id != self.tablespoon.id || halves > f64::from(u16::MAX) {
            return None;
        }
        let part = if halves % 2.0 == 0.0 { WHOLE } else { (1, 2) };
        told_as(&Spooned::of(unit, (halves / 2.0).floor() as u16, part), count * unit.size)
    }

    /// What falls between the smallest spoons: between which two it lies, or below which.
    fn told_small(&self, millilitres: f64) -> Option<SmolStr> {
        let spoon = |part| Spooned::of(self.teaspoon, 0, part);
        if let Some(text) = told_as(&spoon(PINCH), millilitres) {
            return Some(text);
        }
        let above = SMALL_SPOONS.iter().position(|part| spoon(*part).size() > millilitres)?;
        let unit = self.teaspoon.one;
        let written = |(over, under): Part| format!("{over}/{under}");
        Some(match above.checked_sub(1) {
            None => format!("less than {} {unit}", written(PINCH)).into(),
            Some(below) => format!("{} to {} {unit}", written(SMALL_SPOONS[below]), written(SMALL_SPOONS[above])).into(),
        })
    }

    /// Whether so many of a unit are measured out as they are counted.
    fn is_plain(&self, count: f64, unit: &Unit) -> bool {
        let (parts, most) = if unit.id == self.teaspoon.id {
            (TEASPOONS, MOST_TEASPOONS)
        } else if unit.id == self.tablespoon.id {
            (TABLESPOONS, if self.cup.is_some() { MOST_TABLESPOONS } else { f64::INFINITY })
        } else {
            (OTHERS, f64::INFINITY)
        };
        count <= most && is_one_of(parts, count)
    }

    /// Real measures near a volume.
    fn around(&self, millilitres: f64, found: &mut impl FnMut(Spooned)) {
        let (tablespoon, teaspoon) = (self.tablespoon, self.teaspoon);
        // The ranges overlap, so that a volume between two kinds of measure has one below and one above.
        if millilitres < tablespoon.size * 1.02 {
            let parts = if millilitres < teaspoon.size { SMALL_TEASPOONS } else { TEASPOONS };
            steps(millilitres, teaspoon, parts, |taken| found(Spooned { first: taken, second: None, trouble: oddness(taken) }));
        }
        if millilitres >= tablespoon.size * 0.8 && self.cup.is_none_or(|cup| millilitres < cup.size * 0.48) {
            steps(millilitres, tablespoon, TABLESPOONS, |spoons| {
                let handful = spoons.whole >= HANDFUL;
                if spoons.part == WHOLE {
                    steps(millilitres - spoons.size(), teaspoon, TEASPOONS, |more| {
                        if more.size() < tablespoon.size * 0.9 && more.part != EIGHTH && !(handful && more.part != WHOLE) {
                            let trouble = TWO + oddness(more) + if handful { ODD } else { 0.0 };
                            found(Spooned { first: spoons, second: Some(more), trouble });
                        }
                    });
                }
                if !(handful && spoons.part != WHOLE) {
                    found(Spooned { first: spoons, second: None, trouble: 0.0 });
                }
            });
        }
        if let Some(cup) = self.cup.filter(|cup| millilitres >= cup.size * 0.2) {
            steps(millilitres, cup, CUPS, |cups| {
                let more = ((millilitres - cups.size()) / tablespoon.size).floor();
                for count in [more, more + 1.0] {
                    if (1.0..=3.0).contains(&count) {
                        let spoons = Taken { unit: tablespoon, whole: count as u16, part: WHOLE };
                        found(Spooned { first: cups, second: Some(spoons), trouble: TWO });
                    }
                }
                found(Spooned { first: cups, second: None, trouble: 0.0 });
            });
        }
    }
}

/// Whether a count is a whole number with one of these fractions.
fn is_one_of(parts: &[Part], count: f64) -> bool {
    let part = count.fract();
    parts.iter().any(|(above, below)| {
        let off = part - f64::from(*above) / f64::from(*below);
        off.abs().min((off - 1.0).abs()) <= count * SAME
    })
}

/// Whoever rounds a whole formula to measures takes more trouble with each.
const PATIENCE: f64 = 0.5;

/// The parts of a piece that are told beside so many.
const fn divided(count: f64) -> &'static [Part] {
    if count > MOST_DIVIDED { &[WHOLE] } else { OTHERS }
}

/// The nearest count in halves, thirds and quarters. A thing is not scant.
fn nearest_count(count: f64, unit: &'static Unit) -> Option<SmolStr> {
    let mut best = Best { wanted: count * unit.size, fuss: 1.0, cost: ABOUT, found: None };
    steps(best.wanted, unit, divided(count), |taken| best.offer(Spooned { first: taken, second: None, trouble: 0.0 }));
    best.found.and_then(|nearest| told_as(&nearest, best.wanted))
}

/// A measure told for so much: plainly where it is as much, with a word for how it is filled where it is not. Nothing where it is another amount.
fn told_as(spooned: &Spooned, wanted: f64) -> Option<SmolStr> {
    let off = spooned.size() / wanted - 1.0;
    let filled = match off.abs() {
        off if off <= NEAR => "",
        off if off <= ABOUT => "about ",
        over if over > FAR || over.is_nan() => return None,
        _ if off > 0.0 => "scant ",
        _ => "generous ",
    };
    let mut text = SmolStrBuilder::new();
    // Writing into memory cannot fail.
    write!(text, "{filled}{}", Named(spooned)).ok()?;
    Some(text.finish())
}

/// A second measure below this share of the whole is not worth the washing up.
const LEAST_SECOND: f64 = 0.03;
/// The trouble of taking two measures for one: no hand fills a cup to a hundredth.
const TWO: f64 = 0.012;

/// The trouble of an odd count.
const ODD: f64 = 0.004;
/// So many tablespoons are counted whole: a hand is no finer, and a cup is as near.
const HANDFUL: u16 = 4;

/// Three teaspoons are a tablespoon: the larger spoon wins.
fn oddness(taken: Taken) -> f64 {
    let count = taken.count();
    if count < 1.0 && taken.part.1 == 8 && taken.part != EIGHTH {
        return ODD;
    }
    if count < 1.0 || (count < 3.0 && (count * 2.0).fract() == 0.0) { 0.0 } else { ODD }
}

/// How often a measure may be taken near a volume: the fractions of the whole number below, and the whole number above.
fn steps(millilitres: f64, unit: &'static Unit, parts: &[Part], mut found: impl FnMut(Taken)) {
    let whole = (millilitres / unit.size).max(0.0).floor() as u16;
    parts.iter().map(|part| (whole, *part)).chain([(whole.saturating_add(1), WHOLE)]).for_each(|(whole, part)| {
        if (whole, part) != (0, WHOLE) {
            found(Taken { unit, whole, part });
        }
    });
}

impl Taken {
    fn count(self) -> f64 {
        f64::from(self.whole) + f64::from(self.part.0) / f64::from(self.part.1)
    }

    fn size(self) -> f64 {
        self.count() * self.unit.size
    }

    fn write(self, one: &str, many: &str, out: &mut impl Write) -> fmt::Result {
        let name = if self.count() <= 1.0 { one } else { many };
        match self.part {
            WHOLE => write!(out, "{} {name}", self.whole),
            part => write_in_fractions(out, self.whole, part, name),
        }
    }
}

impl Spooned {
    fn of(unit: &'static Unit, whole: u16, part: Part) -> Self {
        Self { first: Taken { unit, whole, part }, second: None, trouble: 0.0 }
    }

    /// In the unit's own measure: millilitres, or a number of pieces.
    fn size(&self) -> f64 {
        self.first.size() + self.second.map_or(0.0, Taken::size)
    }

    pub fn volume(&self) -> Volume {
        Volume::millilitres(self.size())
    }

    fn write(&self, name: fn(&'static Unit) -> (&'static str, &'static str), out: &mut impl Write) -> fmt::Result {
        let (one, many) = name(self.first.unit);
        self.first.write(one, many, out)?;
        let Some(second) = self.second else { return Ok(()) };
        out.write_str(" plus ")?;
        let (one, many) = name(second.unit);
        second.write(one, many, out)
    }
}

/// In the words of a formula that says whose measures they are.
impl fmt::Display for Spooned {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.write(
            |unit| match ["tbsp", "tsp"].into_iter().find(|word| unit.national.contains(word)) {
                Some(spoon) => (spoon, spoon),
                None => ("cup", "cups"),
            },
            out,
        )
    }
}

/// In words that say by themselves whose measures they are.
struct Named<'s>(&'s Spooned);

impl fmt::Display for Named<'_> {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.write(|unit| (unit.one, unit.many), out)
    }
}

/// The least troublesome of those that come near a volume.
struct Best {
    wanted: f64,
    /// What trouble counts.
    fuss: f64,
    cost: f64,
    found: Option<Spooned>,
}

impl Best {
    fn of(volume: Volume, fuss: f64) -> Self {
        Self { wanted: volume.in_millilitres(), fuss, cost: f64::INFINITY, found: None }
    }

    fn offer(&mut self, spooned: Spooned) {
        if spooned.second.is_some_and(|second| second.size() < self.wanted * LEAST_SECOND) {
            return;
        }
        let cost = (spooned.size() / self.wanted - 1.0).abs() + spooned.trouble * self.fuss;
        if cost < self.cost {
            *self = Self { cost, found: Some(spooned), ..*self };
        }
    }
}

#[cfg(test)]
mod tests;
