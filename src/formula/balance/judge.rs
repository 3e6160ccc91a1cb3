//! The judging, done once for all rules: the measured span against the bound, on each way of counting and of filling.

use std::borrow::Cow;

use super::super::base::NamedBase;
use super::super::counted::{Reading, Summed};
use super::super::leaven::Leaven;
use super::super::total::Total;
use super::Over;
use super::finding::{BalanceFinding, BalanceVerdict};
use super::given;
use super::mend::Amounts;
use super::rulebook::{Entry, Ruled};
use crate::quantity::{Figure, Mass, Percent, Span};
use crate::reference::{Account, Base, Basis, Bound, Filled, LeaveningTables};

/// A mixture before its judge.
#[derive(Clone, Copy)]
pub struct Judging<'f> {
    pub mixture: &'f Summed<'f>,
    pub base: &'f NamedBase,
    pub ruled: &'static Ruled,
}

/// What a rule measured in one way of counting.
pub(super) struct Measured<'j> {
    pub above: Cow<'j, Total>,
    pub below: Cow<'j, Total>,
    pub reading: Reading,
    pub percent: Span<Percent>,
    pub verdict: BalanceVerdict,
}

impl<'f> Judging<'f> {
    /// What each rule of the style finds, in the order of the table. A rule on something that is not there is passed over.
    pub fn findings(&self, account: &mut Account) -> Vec<BalanceFinding> {
        let mut findings = Vec::with_capacity(self.ruled.entries.len());
        for entry in &self.ruled.entries {
            if let Some(finding) = self.finding(entry, &account.reference().leavening) {
                account.cite(entry.bound.citation);
                account.step(|| step(entry, &finding));
                findings.push(finding);
            }
        }
        settle_alternatives(&mut findings, self.ruled);
        findings
    }

    fn finding(&self, entry: &Entry, tables: &'static LeaveningTables) -> Option<BalanceFinding> {
        let bound = entry.bound;
        let both = bound.basis == Basis::Both;
        let mut whole = self.measure(entry, if both { Basis::Whole } else { bound.basis })?;
        let by_fat = if both { self.measure(entry, Basis::EffectiveFat) } else { None };
        let leaven = given::leaven(entry.rule, self.mixture, tables);
        if let Some(leaven) = &leaven {
            let percent = leaven.over(&whole.below);
            whole = Measured { above: Cow::Owned(leaven.met().clone()), percent, verdict: BalanceVerdict::of(percent, bound), ..whole };
        }
        let fruit = given::of_fruit(entry.rule, self.base.base(), self.mixture, &whole, bound);
        let cheese = given::of_cheese(entry.rule, self.mixture, &whole, bound);
        let verdict = match &by_fat {
            Some(by_fat) if by_fat.verdict != whole.verdict => BalanceVerdict::Depends,
            _ if fruit.is_some() || cheese.is_some() => BalanceVerdict::Depends,
            _ if given::is_raised_by_yeast(entry.rule, self.mixture) => BalanceVerdict::at_most(whole.percent, bound),
            _ => whole.verdict,
        };
        let depends_on = match verdict {
            BalanceVerdict::Depends => self.depends_on(bound, &whole, by_fat.as_ref()),
            _ => Vec::new(),
        };
        let hinges =
            if cheese.is_some() { "whether soft cheese counts as butter" } else { hinges(&depends_on, fruit.is_some(), leaven.as_ref()) };
        let mend = match verdict {
            BalanceVerdict::Within => None,
            BalanceVerdict::Above | BalanceVerdict::Below => {
                let soda = leaven.as_ref().and_then(|leaven| given::mend_of_soda(leaven, &whole, bound, tables));
                Some(soda.unwrap_or_else(|| Amounts::of(self, entry, &whole).text(bound)))
            }
            BalanceVerdict::Depends => {
                let settled = fruit.map(|fruit| fruit.mend()).or(cheese);
                let settled = settled.or_else(|| given::doubt_of_soda(leaven.as_ref()?, &whole, bound, &depends_on));
                Some(settled.unwrap_or_else(|| self.mend_of_doubt(entry, &whole, by_fat.as_ref(), &depends_on)))
            }
        };
        let why_of_soda = leaven.as_ref().filter(|_| verdict != BalanceVerdict::Within).and_then(given::why_of_soda);
        Some(BalanceFinding {
            rule: entry.rule.id,
            verdict,
            basis: match entry.rule.over {
                Over::Base => self.base.word(),
                Over::This(what, _) => what,
            },
            counted: bound.basis,
            measured: whole.percent.into(),
            measured_by_fat: by_fat.map(|by_fat| by_fat.percent.into()),
            low: bound.low.map(|low| Figure(low.value())),
            high: bound.high.map(|high| Figure(high.value())),
            why: why_of_soda.map_or(Cow::Borrowed(self.why(entry)), |soda| Cow::Owned(format!("{}{soda}", self.why(entry)))),
            mend,
            source: bound.citation.source.id,
            depends_on: Some(depends_on).filter(|on| !on.is_empty()),
            hinges,
        })
    }

    fn why(&self, entry: &Entry) -> &'static str {
        entry.rule.why_on_whites.filter(|_| self.base.base() == Base::EggWhite).unwrap_or(entry.rule.why)
    }

    /// Measures a rule; nothing where it has nothing to say.
    fn measure(&self, entry: &Entry, basis: Basis) -> Option<Measured<'f>> {
        let reading = Reading { basis, base: self.base.base() };
        let above = self.mixture.counted(entry.rule.counts, reading);
        if entry.where_present && above.is_nothing() {
            return None;
        }
        let below = match entry.rule.over {
            Over::Base => Cow::Borrowed(self.base.total()),
            Over::This(_, counts) => self.mixture.counted(counts, reading),
        };
        if below.is_nothing() {
            return None;
        }
        let percent = above.percent_of(&below);
        Some(Measured { above, below, reading, percent, verdict: BalanceVerdict::of(percent, entry.bound) })
    }

    /// Ways of counting for which the rule holds; where neither way of counting decides, the ways of filling.
    fn depends_on(&self, bound: &Bound, whole: &Measured<'_>, by_fat: Option<&Measured<'_>>) -> Vec<&'static str> {
        if let Some(by_fat) = by_fat {
            let ways = [(whole, "whole"), (by_fat, "effective-fat")];
            let kept: Vec<_> = ways.iter().filter(|(m, _)| m.verdict == BalanceVerdict::Within).map(|(_, word)| *word).collect();
            if !kept.is_empty() {
                return kept;
            }
        }
        let of_ways = |measured: &Measured<'_>| self.ways(bound, measured);
        let ways = of_ways(whole);
        if ways.is_empty() { by_fat.map(of_ways).unwrap_or_default() } else { ways }
    }

    fn ways(&self, bound: &Bound, measured: &Measured<'_>) -> Vec<&'static str> {
        let holds = |way: &Filled| {
            let ratio = measured.above.over_in_way(&measured.below, &self.mixture.formula.doubts, *way);
            ratio.is_some_and(|ratio| BalanceVerdict::of(Span::exact(ratio.as_percent()), bound) == BalanceVerdict::Within)
        };
        Filled::ALL.iter().filter(|way| self.known(**way) && holds(way)).map(|way| way.word()).collect()
    }

    /// Whether anyone has weighed a cup of what is open here in this way: nobody packs flour.
    pub(super) fn known(&self, way: Filled) -> bool {
        let mut open = self.mixture.lines().filter(|line| line.weight.by_way.is_some());
        open.any(|line| line.ingredient.measured.iter().any(|measured| measured.filled == Some(way)))
    }

    fn mend_of_doubt(&self, entry: &Entry, whole: &Measured<'_>, by_fat: Option<&Measured<'_>>, on: &[&str]) -> String {
        let failing = [Some(whole), by_fat].into_iter().flatten().find(|m| m.verdict != BalanceVerdict::Within).unwrap_or(whole);
        let every_way = on.len() == Filled::ALL.iter().filter(|way| self.known(**way)).count();
        Amounts::of(self, entry, failing).text_of_doubt(entry.bound, on, every_way)
    }
}

/// On what a doubt hinges, as the end of a sentence.
fn hinges(depends_on: &[&str], on_fruit: bool, leaven: Option<&Leaven>) -> &'static str {
    match depends_on.first() {
        _ if on_fruit => "how much water the fruit or vegetables give up",
        Some(&"whole" | &"effective-fat") => "how the fat is counted",
        Some(_) => "how the cups were filled",
        _ if leaven.is_some_and(|leaven| leaven.loose_soda() > Mass::ZERO) => "how much of the soda finds acid",
        _ => "how it was measured",
    }
}

/// Where one of two rules may hold in the other's stead, the one that fails is let pass and says so.
fn settle_alternatives(findings: &mut [BalanceFinding], ruled: &Ruled) {
    for place in 0..findings.len() {
        let finding = &findings[place];
        if finding.verdict == BalanceVerdict::Within {
            continue;
        }
        let instead = ruled.entries.iter().find(|entry| entry.rule.id == finding.rule).and_then(|entry| entry.rule.instead);
        let Some(instead) = instead else { continue };
        // Only what holds by itself may stand in: a finding that was let pass still shows its figures outside.
        let Some(other) = findings.iter().find(|other| other.rule == instead && other.verdict == BalanceVerdict::Within) else { continue };
        let (measured, held) = (finding.measured.text(), other.measured.text());
        let why = [
            &*finding.why,
            ". By this rule it ",
            if finding.verdict == BalanceVerdict::Depends { "" } else { "is " },
            finding.verdict.word(),
            " (",
            &measured,
            " %), but either of the two rules is enough, and ",
            other.rule,
            " holds at ",
            &held,
            " %",
        ]
        .concat();
        let finding = &mut findings[place];
        (finding.verdict, finding.mend, finding.depends_on, finding.why) = (BalanceVerdict::Within, None, None, Cow::Owned(why));
    }
}

fn step(entry: &Entry, finding: &BalanceFinding) -> String {
    let end = |end: Option<Figure>| end.map_or_else(|| "…".to_owned(), |figure| figure.rounded().to_string());
    format!(
        "{}: {} % of {} against {} to {} %, give or take 2 % of the bound: {}",
        entry.rule.id,
        finding.measured.text(),
        finding.basis,
        end(finding.low),
        end(finding.high),
        finding.verdict.word()
    )
}

#[cfg(test)]
mod tests {
    use super::super::trial::{WITHIN, findings, verdict};
    use super::*;

    const ONE_TWO_THREE_FOUR: [(&str, &str); 6] = [
        ("butter", "1 cup"),
        ("granulated sugar", "2 cups"),
        ("all-purpose flour", "3 cups"),
        ("egg", "4 large"),
        ("whole milk", "1 cup"),
        ("baking powder", "3 tsp"),
    ];

    #[test]
    fn sugar_against_flour_in_cups_depends_on_how_the_cups_were_filled() {
        let found = findings("creamed", &ONE_TWO_THREE_FOUR).into_iter().find(|f| f.rule == "sugar");
        let on = found.as_ref().and_then(|f| f.depends_on.clone()).unwrap_or_default();
        assert_eq!(found.map(|f| f.verdict), Some(BalanceVerdict::Depends));
        assert!(on.contains(&"dipped") && !on.contains(&"sifted"), "{on:?}");
    }

    #[test]
    fn eggs_against_butter_depend_on_whether_its_water_is_counted() {
        let found = findings("creamed", &ONE_TWO_THREE_FOUR).into_iter().find(|f| f.rule == "eggs-to-fat");
        let figures = found.as_ref().map(|f| (f.measured.percent.0.round(), f.measured_by_fat.map(|p| p.percent.0.round())));
        assert_eq!(figures, Some((88.0, Some(109.0))));
        assert_eq!(found.and_then(|f| f.depends_on), Some(vec!["effective-fat"]));
    }

    #[test]
    fn a_printed_bound_is_kept_within_two_hundredths_of_itself() {
        let sugar = |grams| verdict("creamed", "sugar", &[("cake flour", "100 g"), ("granulated sugar", grams)]);
        assert_eq!([sugar("101.9 g"), sugar("68.7 g")], [WITHIN, WITHIN]);
        assert_ne!(sugar("102.1 g"), WITHIN);
        assert_ne!(sugar("68.5 g"), WITHIN);
    }

    #[test]
    fn either_rule_on_liquid_is_enough_for_a_creamed_cake() {
        let cake = [("cake flour", "100 g"), ("granulated sugar", "80 g"), ("butter", "50 g"), ("egg", "50 g"), ("whole milk", "50 g")];
        let found = findings("creamed", &cake).into_iter().find(|f| f.rule == "liquid-to-sugar");
        assert_eq!(found.as_ref().map(|f| (f.verdict, f.mend.is_none())), Some((BalanceVerdict::Within, true)));
        assert!(found.is_some_and(|f| f.why.contains("liquid-to-flour holds at 100 %")));
    }
}
