//! Which styles a formula might be, when nobody says: ranked by how few of their bounds it breaks. Only quoted weights count here; it is a suggestion, not a judgement.

use serde::Serialize;
use utoipa::ToSchema;

use super::super::base::share;
use super::super::counted::Reading;
use super::super::resolved::Mixture;
use super::finding::BalanceVerdict;
use super::rulebook::{Entry, Ruled, book};
use super::{Over, RULES, given};
use crate::quantity::{Factor, Percent, Span};
use crate::reference::{Base, Basis, Class, Ingredient, LeaveningTables, Nature, Reference, Style};

/// A style that the formula might be.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct LikelyStyle {
    /// The style by its name in questions.
    #[schema(examples("creamed"), max_length = 60)]
    pub style: &'static str,
    /// What it is called.
    #[schema(examples("creamed cake"), max_length = 100)]
    pub name: &'static str,
    /// How many of its rules hold.
    #[schema(minimum = 0, maximum = 50, examples(7))]
    pub within: u32,
    /// How many of its rules have something to say.
    #[schema(minimum = 0, maximum = 50, examples(8))]
    pub of: u32,
    /// The rules that do not hold, by their names.
    #[schema(max_items = 50)]
    pub outside: Vec<&'static str>,
}

/// How many are told.
const TOLD: usize = 5;

/// The likeliest styles of a mixture, the likeliest first.
pub fn likely(mixture: &Mixture<'_>, reference: &'static Reference) -> Vec<LikelyStyle> {
    scored(mixture, reference, |_| true).into_iter().take(TOLD).map(Score::told).collect()
}

/// Which of these styles it might be, the likeliest first.
pub(super) fn scored(mixture: &Mixture<'_>, reference: &'static Reference, asked: impl Fn(&Style) -> bool) -> Vec<Score> {
    let mut sums = Sums { mixture, tables: &reference.leavening, flour: None, above: Vec::new(), below: Vec::new() };
    let yeasty = given::has_yeast(mixture);
    let mut scored: Vec<_> =
        book(reference).iter().filter(|ruled| asked(ruled.style)).filter_map(|ruled| sums.score(ruled, yeasty)).collect();
    scored.sort_by(|a, b| a.order().partial_cmp(&b.order()).unwrap_or(std::cmp::Ordering::Equal));
    scored
}

/// How well a mixture keeps the rules of a style.
pub(super) struct Score {
    ruled: &'static Ruled,
    outside: u64,
    within: u32,
    of: u32,
    /// Kept bounds that ask for something: that there is no fat in it speaks for little.
    telling: u32,
    /// There is none at all of something that the style asks for.
    lacks: bool,
}

impl Score {
    pub(super) const fn broken(&self) -> u32 {
        self.of - self.within
    }

    pub(super) const fn lacks_something(&self) -> bool {
        self.lacks
    }

    /// First what lacks nothing, then what breaks the fewest rules, then what keeps the most that ask for something.
    fn order(&self) -> (bool, u32, i64, f64) {
        (self.lacks, self.broken(), -i64::from(self.telling), -f64::from(self.within) / f64::from(self.of.max(1)))
    }

    pub(super) fn told(self) -> LikelyStyle {
        let outside = self.ruled.entries.iter().enumerate().filter(|(at, _)| self.outside >> at & 1 == 1);
        LikelyStyle {
            style: self.ruled.style.id,
            name: self.ruled.style.name,
            within: self.within,
            of: self.of,
            outside: outside.map(|(_, entry)| entry.rule.id).collect(),
        }
    }
}

/// What was summed already: many styles ask for the same.
struct Sums<'m, 'f> {
    mixture: &'m Mixture<'f>,
    tables: &'static LeaveningTables,
    flour: Option<f64>,
    above: Vec<(usize, Reading, f64)>,
    below: Vec<(Base, bool, f64)>,
}

impl Sums<'_, '_> {
    fn score(&mut self, ruled: &'static Ruled, yeasty: bool) -> Option<Score> {
        let style = ruled.style;
        let flour = *self.flour.get_or_insert_with(|| grams(self.mixture, super::super::base::flour_and_starch));
        // Bread and cake part here: what has yeast in it is none of those that know no yeast.
        let knows_yeast = ruled.entries.iter().any(|entry| entry.rule.id == "yeast");
        if (style.needs_flour && flour <= 0.0)
            || (yeasty && !knows_yeast)
            || (!style.needs_flour && !self.may_be_without_flour(ruled, flour))
            || (style.id == "oil-cake" && !self.is_of_oil())
        {
            return None;
        }
        let base = self.base(style.base, ruled.starch_is_flour).filter(|base| *base > 0.0)?;
        let mut score = Score { ruled, outside: 0, within: 0, of: 0, telling: 0, lacks: false };
        for (at, entry) in ruled.entries.iter().enumerate().take(64) {
            let Some((kept, is_there)) = self.keeps(entry, style.base, base) else { continue };
            score.of += 1;
            score.within += u32::from(kept);
            score.telling += u32::from(kept && entry.bound.low.is_some());
            score.outside |= u64::from(!kept) << at;
            score.lacks |= !is_there && !kept;
        }
        score.lacks |= style.id == "brownie" && !self.is_dark();
        (score.within > 0).then_some(score)
    }

    /// A brownie without chocolate or cocoa is a cookie.
    fn is_dark(&self) -> bool {
        let dark = |i: &Ingredient| i.counts_as(Class::Cocoa).value() + i.counts_as(Class::Chocolate).value() > 0.0;
        self.mixture.lines().any(|line| dark(&line.ingredient))
    }

    /// Oil is at least half of the fat that is nothing else.
    fn is_of_oil(&self) -> bool {
        let fat = |of_oil: bool| {
            grams(self.mixture, |i| {
                let counts = !of_oil || i.nature == Nature::Liquid;
                if counts { melted_fat(i) } else { Factor::ZERO }
            })
        };
        fat(true) * 2.0 >= fat(false)
    }

    /// An icing or a cream is not likely where flour is a good part of the whole.
    fn may_be_without_flour(&mut self, ruled: &Ruled, flour: f64) -> bool {
        let whole = grams(self.mixture, |_| Factor::ONE);
        ruled.style.base == Base::NutsAndFlour || flour <= 0.1 * whole
    }

    fn base(&mut self, base: Base, starch_is_flour: bool) -> Option<f64> {
        if let Some((_, _, known)) = self.below.iter().find(|(of, starch, _)| *of == base && *starch == starch_is_flour) {
            return Some(*known);
        }
        let sum = grams(self.mixture, |i| share(base, starch_is_flour, i));
        self.below.push((base, starch_is_flour, sum));
        Some(sum)
    }

    /// Whether a bound is kept, and whether there is any of what it counts; nothing where it has nothing to say.
    fn keeps(&mut self, entry: &Entry, base: Base, base_grams: f64) -> Option<(bool, bool)> {
        let either = [Basis::Whole, Basis::EffectiveFat];
        let bases = if entry.bound.basis == Basis::Both { &either[..] } else { &[entry.bound.basis][..] };
        let mut kept: Option<(bool, bool)> = None;
        for basis in bases {
            let reading = Reading { basis: *basis, base: counting_base(base) };
            let above = self.counted(entry.place, reading);
            let below = match entry.rule.over {
                Over::Base => base_grams,
                Over::This(_, counts) => grams(self.mixture, |i| counts.share(i, reading)),
            };
            if below <= 0.0 || (entry.where_present && above <= 0.0) {
                return None;
            }
            let percent = Span::exact(Percent::of_hundred(100.0 * above / below));
            let fed = || {
                let fruit = given::water_of_fruit(entry.rule, base, self.mixture).in_grams();
                entry.bound.low.is_some_and(|low| percent.value() < low && above + fruit >= low.as_factor().value() * below)
            };
            let within = BalanceVerdict::of(percent, entry.bound) == BalanceVerdict::Within || fed();
            kept = Some((kept.is_some_and(|(kept, _)| kept) || within, above > 0.0));
        }
        kept
    }

    fn counted(&mut self, place: usize, reading: Reading) -> f64 {
        if let Some((_, _, known)) = self.above.iter().find(|(at, of, _)| *at == place && *of == reading) {
            return *known;
        }
        let leaven = given::leaven(RULES[place], self.mixture, self.tables);
        let sum = match leaven {
            Some(leaven) => leaven.met().mass().value().in_grams(),
            None => grams(self.mixture, |i| RULES[place].counts.share(i, reading)),
        };
        self.above.push((place, reading, sum));
        sum
    }
}

/// Butter, oil and lard, not the fat within milk or cream.
fn melted_fat(ingredient: &Ingredient) -> Factor {
    let fat = ingredient.counts_as(Class::Fat);
    if fat.value() >= 0.5 { fat } else { Factor::ZERO }
}

/// To a rule all bases are alike but flour and chocolate: so fewer sums are needed.
fn counting_base(base: Base) -> Base {
    match base {
        Base::Class(Class::Flour | Class::Chocolate) => base,
        _ => Base::EggWhite,
    }
}

fn grams(mixture: &Mixture<'_>, share: impl Fn(&Ingredient) -> Factor) -> f64 {
    mixture.lines().map(|line| line.weight.mass.value().in_grams() * share(&line.ingredient).value()).sum()
}

#[cfg(test)]
mod tests {
    use super::super::trial::formula;
    use super::*;

    fn likeliest(lines: &[(&str, &str)]) -> Vec<&'static str> {
        let reference = Reference::load().expect("the tables");
        likely(&formula(lines).main(), reference).iter().map(|likely| likely.style).collect()
    }

    #[test]
    fn flour_water_salt_and_yeast_are_bread() {
        let bread = [("bread flour", "500 g"), ("water", "325 g"), ("salt", "10 g"), ("instant yeast", "4 g")];
        assert_eq!(likeliest(&bread).first(), Some(&"lean-dough"));
    }

    #[test]
    fn equal_weights_are_a_pound_cake() {
        let equal = [("cake flour", "200 g"), ("butter", "200 g"), ("granulated sugar", "200 g"), ("egg", "200 g")];
        assert!(likeliest(&equal).contains(&"pound"));
        assert!(likeliest(&equal).len() <= TOLD);
    }

    #[test]
    fn a_banana_bread_is_no_cookie_and_a_dundee_is_a_fruit_cake() {
        let banana = [
            ("all-purpose flour", "250 g"),
            ("granulated sugar", "150 g"),
            ("butter", "115 g"),
            ("egg", "2 large"),
            ("banana", "340 g"),
            ("baking soda", "1 tsp"),
        ];
        assert!(matches!(likeliest(&banana).first(), Some(&"quick-bread" | &"muffin")), "{:?}", likeliest(&banana));
        let dundee =
            [("all-purpose flour", "225 g"), ("butter", "175 g"), ("brown sugar", "175 g"), ("egg", "4 large"), ("raisins", "500 g")];
        assert_eq!(likeliest(&dundee).first(), Some(&"fruit-cake"));
    }

    #[test]
    fn chocolate_and_cream_are_a_ganache() {
        assert_eq!(likeliest(&[("dark chocolate", "200 g"), ("heavy cream", "200 g")]).first(), Some(&"ganache"));
    }
}
