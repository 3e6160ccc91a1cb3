//! The cups and spoons that lie in a drawer, by country: which of them, or which two together, come nearest to a volume.

use crate::quantity::{Measures, Unit};

/// The measures of one country. The British weigh what is more than a few spoons: they have no cup.
pub(super) struct Drawer {
    cup: Option<f64>,
    tablespoon: f64,
    teaspoon: f64,
}

/// A volume in real measures.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Spooned {
    pub text: String,
    pub millilitres: f64,
    /// How many kinds of measure are taken, and how odd their fractions are: the fewer and plainer the better.
    pub trouble: f64,
}

/// The fractions of a cup that are made.
const CUPS: [(f64, &str); 6] = [(0.0, ""), (0.25, "1/4"), (1.0 / 3.0, "1/3"), (0.5, "1/2"), (2.0 / 3.0, "2/3"), (0.75, "3/4")];
/// The fractions of a teaspoon that are made; three quarters are a half and a quarter.
const TEASPOONS: [(f64, &str); 5] = [(0.0, ""), (0.125, "1/8"), (0.25, "1/4"), (0.5, "1/2"), (0.75, "3/4")];
const TABLESPOONS: [(f64, &str); 2] = [(0.0, ""), (0.5, "1/2")];

impl Drawer {
    pub(super) fn of(measures: Measures) -> Option<Self> {
        let size = |word| Unit::of_word(word, measures).map(|unit| unit.size);
        let cup = if measures == Measures::Uk { None } else { size("cup") };
        Some(Self { cup, tablespoon: size("tbsp")?, teaspoon: size("tsp")? })
    }

    /// The least that can be measured: an eighth of a teaspoon.
    pub(super) fn least(&self) -> f64 {
        self.teaspoon / 8.0
    }

    /// Whether so much is measured by cups and spoons, and not weighed.
    pub(super) fn serves(&self, millilitres: f64) -> bool {
        match self.cup {
            Some(cup) => millilitres <= cup * 5000.0,
            None => millilitres <= self.tablespoon * 4.25,
        }
    }

    /// The nearest real measure; a plain one wins over one that is hardly nearer.
    pub(super) fn nearest(&self, millilitres: f64) -> Spooned {
        let cost = |s: &Spooned| (s.millilitres / millilitres - 1.0).abs() + s.trouble;
        let best = self.around(millilitres).into_iter().min_by(|a, b| cost(a).total_cmp(&cost(b)));
        best.unwrap_or_else(|| Spooned { text: "1/8 tsp".to_owned(), millilitres: self.least(), trouble: 0.0 })
    }

    /// The nearest measures below and above.
    pub(super) fn bounds(&self, millilitres: f64) -> [Spooned; 2] {
        let all = self.around(millilitres);
        let cost = |s: &&Spooned| (s.millilitres / millilitres - 1.0).abs() + s.trouble;
        let side = |below: bool| all.iter().filter(|s| (s.millilitres <= millilitres) == below).min_by(|a, b| cost(a).total_cmp(&cost(b)));
        let nearest = || self.nearest(millilitres);
        [side(true).cloned().unwrap_or_else(nearest), side(false).cloned().unwrap_or_else(nearest)]
    }

    /// Real measures near a volume.
    fn around(&self, millilitres: f64) -> Vec<Spooned> {
        let mut found = Vec::with_capacity(24);
        // The ranges overlap, so that a volume between two kinds of measure has one below and one above.
        if millilitres < self.tablespoon * 1.02 {
            self.teaspoons(millilitres, &mut found, None);
        }
        if millilitres >= self.tablespoon * 0.8 && self.cup.is_none_or(|cup| millilitres < cup * 0.27) {
            self.tablespoons(millilitres, &mut found);
        }
        if let Some(cup) = self.cup.filter(|cup| millilitres >= cup * 0.2) {
            for (count, text) in steps(millilitres / cup, &CUPS) {
                let cups = Spooned { text: said(&text, "cup", "cups", count), millilitres: count * cup, trouble: 0.0 };
                self.more_tablespoons(millilitres, &cups, &mut found);
                found.push(cups);
            }
        }
        found.retain(|spooned| spooned.millilitres > 0.0);
        found
    }

    fn tablespoons(&self, millilitres: f64, found: &mut Vec<Spooned>) {
        for (count, text) in steps(millilitres / self.tablespoon, &TABLESPOONS) {
            let spoons = Spooned { text: said(&text, "tbsp", "tbsp", count), millilitres: count * self.tablespoon, trouble: 0.0 };
            if count.fract() == 0.0 {
                self.teaspoons(millilitres - spoons.millilitres, found, Some(&spoons));
            }
            found.push(spoons);
        }
    }

    fn more_tablespoons(&self, millilitres: f64, cups: &Spooned, found: &mut Vec<Spooned>) {
        let more = ((millilitres - cups.millilitres) / self.tablespoon).floor();
        for count in [more, more + 1.0] {
            if cups.millilitres > 0.0 && (1.0..=3.0).contains(&count) {
                found.push(Spooned {
                    text: format!("{} plus {count} tbsp", cups.text),
                    millilitres: cups.millilitres + count * self.tablespoon,
                    trouble: 0.006,
                });
            }
        }
    }

    /// Teaspoons, alone or beside tablespoons.
    fn teaspoons(&self, millilitres: f64, found: &mut Vec<Spooned>, beside: Option<&Spooned>) {
        for (count, text) in steps(millilitres / self.teaspoon, &TEASPOONS) {
            // Three teaspoons are a tablespoon: the larger spoon wins.
            let odd = if count < 1.0 || (count < 3.0 && (count * 2.0).fract() == 0.0) { 0.0 } else { 0.004 };
            let spoons = said(&text, "tsp", "tsp", count);
            let one = Spooned { text: spoons, millilitres: count * self.teaspoon, trouble: odd };
            match beside {
                Some(_) if count <= 0.0 || count > 2.5 => {}
                Some(first) => found.push(Spooned {
                    text: format!("{} plus {}", first.text, one.text),
                    millilitres: first.millilitres + one.millilitres,
                    trouble: 0.006 + odd,
                }),
                None => found.push(one),
            }
        }
    }
}

/// The whole numbers with fractions that lie around a figure: those of its own whole and the one above.
fn steps(figure: f64, fractions: &[(f64, &str)]) -> Vec<(f64, String)> {
    let whole = figure.max(0.0).floor();
    let of = |whole: f64, (part, text): &(f64, &str)| {
        let text = match (whole == 0.0, text.is_empty()) {
            (true, _) => (*text).to_owned(),
            (false, true) => format!("{whole}"),
            (false, false) => format!("{whole} {text}"),
        };
        (whole + part, text)
    };
    let own = fractions.iter().map(|fraction| of(whole, fraction));
    own.chain([of(whole + 1.0, &(0.0, ""))]).filter(|(count, _)| *count > 0.0).collect()
}

fn said(number: &str, one: &str, many: &str, count: f64) -> String {
    format!("{number} {}", if count <= 1.0 { one } else { many })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn is(measures: Measures, millilitres: f64, text: &str) {
        let drawer = Drawer::of(measures).unwrap_or_else(|| panic!("{measures:?} has spoons"));
        let found = drawer.nearest(millilitres);
        assert_eq!(found.text, text, "{millilitres} ml: {found:?}");
        assert!((found.millilitres / millilitres - 1.0).abs() < 0.09, "{found:?}");
    }

    #[test]
    fn a_us_cup_is_a_little_less_than_a_metric_one() {
        is(Measures::Us, 236.588, "1 cup");
        is(Measures::Us, 250.0, "1 cup plus 1 tbsp");
        is(Measures::Metric, 236.588, "3/4 cup plus 3 tbsp");
        is(Measures::Japan, 400.0, "2 cups");
    }

    #[test]
    fn spoons_are_whole_halves_quarters_and_eighths() {
        is(Measures::Us, 14.787, "1 tbsp");
        is(Measures::Us, 4.93, "1 tsp");
        is(Measures::Us, 2.5, "1/2 tsp");
        is(Measures::Us, 0.62, "1/8 tsp");
        is(Measures::Australia, 14.787, "3 tsp");
        is(Measures::Australia, 29.574, "1 1/2 tbsp");
    }

    #[test]
    fn the_measures_around_a_volume_hold_it_between_them() {
        let drawer = Drawer::of(Measures::Us).unwrap_or_else(|| panic!("the US has cups"));
        for tenths in 7..20_000 {
            let millilitres = f64::from(tenths) / 10.0;
            let [below, above] = drawer.bounds(millilitres);
            assert!(below.millilitres <= millilitres || millilitres < drawer.least(), "{millilitres}: {below:?}");
            assert!(
                above.millilitres >= millilitres && above.millilitres - below.millilitres < millilitres.max(1.0),
                "{millilitres}: {above:?}"
            );
        }
    }
}
