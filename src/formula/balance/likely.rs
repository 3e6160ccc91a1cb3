//! Which styles a formula might be, when nobody says: ranked by how far it lies outside their bounds. Only quoted weights count here; it is a suggestion, not a judgement.

use serde::Serialize;
use utoipa::ToSchema;

use super::super::base::{NamedBase, flour_and_starch, nuts};
use super::super::counted::{Reading, Summed};
use super::Tells;
use super::finding::BalanceVerdict;
use super::judge::{By, Judging};
use super::rulebook::{Entry, Ruled, book};
use super::stands_in::StandIn;
use crate::quantity::{Factor, Mass, Percent};
use crate::reference::{Base, Basis, Bound, Class, Constituent, Goods, Ingredient, KnownBy, Nature, Reference, Style, Trait};

/// A style that the formula might be.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct LikelyStyle {
    /// The style by its name in questions.
    #[schema(examples("creamed"), max_length = 60)]
    pub style: &'static str,
    /// What it is called.
    #[schema(examples("creamed cake"), max_length = 100)]
    pub name: &'static str,
    /// How many of its rules hold by the weights as quoted, or may hold as they are counted.
    #[schema(minimum = 0, maximum = 50, examples(7))]
    pub within: u32,
    /// How many of its rules have something to say.
    #[schema(minimum = 0, maximum = 50, examples(8))]
    pub of: u32,
    /// How many of them depend.
    #[serde(skip)]
    pub open: u32,
    /// The rules that are broken by the weights as quoted, by their names.
    #[schema(max_items = 50)]
    pub outside: Vec<&'static str>,
}

/// How many are told.
const TOLD: usize = 5;

/// The likeliest styles of a mixture, the likeliest first.
pub fn likely(mixture: &Summed<'_>, reference: &'static Reference) -> Vec<LikelyStyle> {
    // What says how it bakes is neither fried nor made on a griddle.
    let in_an_oven = mixture.formula.bakes;
    let scored = scored(mixture, reference, |style| !in_an_oven || !matches!(style.goods, Goods::Fried | Goods::Griddle));
    // What lacks something is told beside what does not: by itself it is no likeness.
    if scored.first().is_some_and(|first| first.lacks) {
        return Vec::new();
    }
    scored.into_iter().take(TOLD).map(Score::told).collect()
}

/// Which of these styles it might be, the likeliest first.
pub(super) fn scored(mixture: &Summed<'_>, reference: &'static Reference, asked: impl Fn(&Style) -> bool) -> Vec<Score> {
    let looks = Looks::of(mixture);
    let may_be = book(reference).iter().filter(|ruled| asked(ruled.style) && looks.may_be(ruled));
    let mut scored: Vec<_> = may_be.filter_map(|ruled| Score::of(mixture, ruled, &looks, reference)).collect();
    scored.sort_by(|a, b| a.order().partial_cmp(&b.order()).unwrap_or(std::cmp::Ordering::Equal));
    scored
}

/// How far outside a style a mixture lies, whatever it looks like.
pub(super) fn off_of(mixture: &Summed<'_>, ruled: &'static Ruled, reference: &'static Reference) -> f64 {
    let base = ruled.base(mixture);
    base.map_or(f64::INFINITY, |base| Score::measured(mixture, ruled, &base, false, reference).off)
}

/// How well a mixture keeps the rules of a style.
pub(super) struct Score {
    ruled: &'static Ruled,
    /// The rules that do not hold, a bit for each by its place in the style.
    outside: u64,
    of: u32,
    /// How many depend.
    open: u32,
    /// How far it lies outside, all rules together: a cake a little sweet is a cake still, and no waffle four times as sweet as waffles are.
    off: f64,
    /// Kept bounds that ask for something, and what the style is known by: that there is no fat in it speaks for little.
    telling: u32,
    /// It shows what the style is known by.
    shows: bool,
    /// There is none at all of something that the style asks for.
    lacks: bool,
}

/// Within so much, as a logarithm, two styles are as near as one another: the cups of two bakers differ by more than a fifth.
const NEAR: f64 = 0.2;

impl Score {
    /// Nothing where it is no likeness, or much of it is nothing that the style knows.
    fn of(mixture: &Summed<'_>, ruled: &'static Ruled, looks: &Looks, reference: &'static Reference) -> Option<Self> {
        let base = ruled.base(mixture).filter(|base| is_accounted_for(mixture, ruled, base))?;
        let shows = ruled.style.known_by.is_some_and(|by| looks.show(by));
        // What breaks more rules than it keeps, keeps only those that ask for nothing, or lies far outside, is no likeness.
        let score = Self::measured(mixture, ruled, &base, shows, reference);
        (score.telling > 0 && score.broken() * 2 <= score.of && score.off < FAR.ln()).then_some(score)
    }

    fn measured(mixture: &Summed<'_>, ruled: &'static Ruled, base: &NamedBase, shows: bool, reference: &'static Reference) -> Self {
        let judging = Judging { mixture, base, ruled, reference };
        let lacks = ruled.style.known_by == Some(KnownBy::Cocoa) && !shows;
        let mut score = Self { ruled, outside: 0, of: 0, open: 0, off: 0.0, telling: u32::from(shows), shows, lacks };
        for (place, entry) in ruled.entries.iter().enumerate().take(u64::BITS as usize) {
            let Some(judged) = judging.judged(entry, By::Quoted) else { continue };
            // Where the way of counting decides, or something stands in, it may well hold; of two rules of which either is enough, one does.
            let holds = matches!(judged.verdict, BalanceVerdict::Within | BalanceVerdict::Depends);
            let kept = holds || judging.let_pass(entry);
            score.of += 1;
            score.open += u32::from(judged.verdict == BalanceVerdict::Depends);
            score.outside |= u64::from(!kept) << place;
            let tells = match entry.rule.tells {
                Tells::Fully => 1.0,
                Tells::Half => 0.5,
                Tells::Nothing => continue,
            };
            if holds {
                score.telling += u32::from(entry.bound.low.is_some());
            } else if !kept {
                score.off += tells * off(judged.whole.percent.value(), entry.bound);
                score.lacks |= judged.whole.above.is_nothing();
            }
        }
        score
    }

    pub(super) const fn broken(&self) -> u32 {
        self.outside.count_ones()
    }

    pub(super) const fn lacks_something(&self) -> bool {
        self.lacks
    }

    const fn within(&self) -> u32 {
        self.of - self.broken()
    }

    /// How far it lies outside.
    pub(super) const fn off(&self) -> f64 {
        self.off
    }

    /// First what lacks nothing, then what it lies least outside of; of equals what shows it at a glance, then what keeps the most rules that ask for
    /// something, then what breaks the fewest.
    fn order(&self) -> (bool, i64, bool, i64, u32, f64) {
        (self.lacks, (self.off / NEAR) as i64, !self.shows, -i64::from(self.telling), self.broken(), self.off)
    }

    pub(super) fn told(self) -> LikelyStyle {
        let outside = self.ruled.entries.iter().enumerate().filter(|(place, _)| self.outside >> place & 1 == 1);
        LikelyStyle {
            style: self.ruled.style.id,
            name: self.ruled.style.name,
            within: self.within(),
            of: self.of,
            open: self.open,
            outside: outside.map(|(_, entry)| entry.rule.id).collect(),
        }
    }
}

/// A cream, an icing or a syrup is made of what its rules speak of: a custard with pumpkin or a torte of chocolate and eggs is none, though it breaks few of
/// their rules. What has flour carries fruit and nuts besides.
fn is_accounted_for(mixture: &Summed<'_>, ruled: &Ruled, base: &NamedBase) -> bool {
    if ruled.style.needs_flour || base.base() == Base::NutsAndFlour {
        return true;
    }
    let reading = Reading { basis: Basis::Whole, base: base.base(), made_up: mixture.made_up() };
    let known = |ingredient: &Ingredient| {
        let as_butter =
            |entry: &Entry| entry.rule.stands_in.contains(&StandIn::SoftCheese) && ingredient.counts_as(Class::Cheese) > Factor::ZERO;
        let counted = |entry: &Entry| entry.rule.counts.share(ingredient, reading) > Factor::ZERO || as_butter(entry);
        let known = base.share_of(ingredient) > Factor::ZERO || ruled.entries.iter().any(counted);
        if known { Factor::ONE } else { Factor::ZERO }
    };
    mixture.sum(known).mass().value() >= mixture.whole().mass().value() * Factor::times(ACCOUNTED)
}

/// So much of the weight at least.
const ACCOUNTED: f64 = 0.8;

/// From so many times its bound on, or so small a part of it, a thing is simply another.
const FAR: f64 = 4.0;

/// How far outside a bound something is, as the logarithm of how many times: half of the least is as far off as twice the most.
fn off(percent: Percent, bound: &Bound) -> f64 {
    let times = |end: Option<Percent>, over: fn(f64, f64) -> f64| end.map_or(1.0, |end| over(percent.value(), end.value()));
    let above = times(bound.high, |measured, high| measured / high);
    let below = times(bound.low, |measured, low| low / measured);
    above.max(below).clamp(1.0, FAR).ln()
}

/// What a baker sees at a glance, before any rule is asked.
struct Looks {
    /// Flour and starch, as a share of the whole.
    flour: Factor,
    has_yeast: bool,
    /// Powder or soda raises it, and nothing that ferments.
    raised_by_powder: bool,
    /// Oil is at least half of the fat that is nothing else.
    of_oil: bool,
    /// There is chocolate or cocoa in it.
    dark: bool,
    has_nuts: bool,
    /// There is dried or candied fruit in it, and as much as flour.
    has_dried_fruit: bool,
    full_of_fruit: bool,
    /// Whites and yolks are written each for itself.
    whites_apart: bool,
}

impl Looks {
    fn of(mixture: &Summed<'_>) -> Self {
        let sum = |share: &dyn Fn(&Ingredient) -> Factor| mixture.sum(share).mass().value();
        let oil = sum(&|i| if i.nature == Nature::Liquid { melted_fat(i) } else { Factor::ZERO });
        let fruit = sum(&dried_fruit);
        Self {
            flour: sum(&flour_and_starch) / sum(&|_| Factor::ONE),
            has_yeast: mixture.has_yeast(),
            raised_by_powder: mixture.lines().any(|line| by_powder(&line.ingredient))
                && !mixture.has_yeast()
                && !mixture.lines().any(|line| line.ingredient.is(Trait::Ferments)),
            of_oil: oil > Mass::ZERO && oil * Factor::times(2.0) >= sum(&melted_fat),
            whites_apart: [Trait::EggWhite, Trait::EggYolk].into_iter().all(|part| mixture.lines().any(|line| line.ingredient.is(part))),
            has_dried_fruit: fruit > Mass::ZERO,
            full_of_fruit: fruit >= mixture[Class::Flour].mass().value(),
            has_nuts: sum(&nuts) > Mass::ZERO,
            dark: [Class::Cocoa, Class::Chocolate].into_iter().any(|class| mixture[class].mass().value() > Mass::ZERO),
        }
    }

    fn show(&self, by: KnownBy) -> bool {
        match by {
            KnownBy::Oil => self.of_oil,
            KnownBy::Cocoa => self.dark,
            KnownBy::WhitesApart => self.whites_apart,
            KnownBy::DriedFruit => self.full_of_fruit,
        }
    }

    fn may_be(&self, ruled: &Ruled) -> bool {
        let style = ruled.style;
        let with_this_flour = match () {
            () if style.needs_flour => self.flour > Factor::ZERO,
            () if style.base == Base::NutsAndFlour => self.has_nuts,
            // An icing or a cream is not likely where flour is a good part of the whole.
            () => self.flour <= Factor::times(0.1),
        };
        // Bread and cake part here: what has yeast in it is none of those that know no yeast.
        let risen = (!self.has_yeast || ruled.knows_yeast) && !(self.raised_by_powder && style.goods == Goods::Dough);
        let with_what_names_it = match style.known_by {
            Some(KnownBy::Oil) => self.of_oil,
            // Chips and nuts alone make no fruit cake.
            Some(KnownBy::DriedFruit) => self.has_dried_fruit,
            Some(KnownBy::Cocoa | KnownBy::WhitesApart) | None => true,
        };
        with_this_flour && risen && with_what_names_it
    }
}

/// Leavening that is no yeast.
fn by_powder(ingredient: &Ingredient) -> bool {
    ingredient.fresh_yeast.is_none() && ingredient.counts_as(Class::Leavening) > Factor::ZERO
}

/// Butter, oil and lard, not the fat within milk or cream.
fn melted_fat(ingredient: &Ingredient) -> Factor {
    let fat = ingredient.counts_as(Class::Fat);
    if fat.value() >= 0.5 { fat } else { Factor::ZERO }
}

/// Raisins, peel and cherries: dry, sweet and not fat, which tells them from bananas, nuts and chips.
fn dried_fruit(ingredient: &Ingredient) -> Factor {
    let holds = |constituent| ingredient.composition.map_or(0.0, |composition| composition.share(constituent).value());
    let is_fruit = holds(Constituent::Water) <= 0.4 && holds(Constituent::Sugars) >= 0.4 && holds(Constituent::Fat) <= 0.1;
    if is_fruit { ingredient.counts_as(Class::Additions) } else { Factor::ZERO }
}

#[cfg(test)]
mod tests;
