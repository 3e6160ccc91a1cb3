//! What was judged, in words: on what it depends, what would mend it, why it matters.

use std::borrow::Cow;

use super::Over;
use super::finding::{BalanceFinding, BalanceVerdict};
use super::judge::{By, Judged, Judging, Measured};
use super::mend::Amounts;
use super::rulebook::{Entry, Ruled};
use super::stands_in::{StandIn, StoodIn};
use crate::quantity::{Figure, Span, lower_first};
use crate::reference::{Account, Base, Bound, Filled};

impl Judging<'_> {
    /// What each rule of the style finds, in the order of the table. A rule on something that is not there is passed over.
    pub fn findings(&self, account: &mut Account) -> Vec<BalanceFinding> {
        let mut findings = Vec::with_capacity(self.ruled.entries.len());
        for entry in &self.ruled.entries {
            if let Some(judged) = self.judged(entry, By::Doubt) {
                let finding = self.told(entry, &judged);
                account.cite(entry.bound.citation);
                account.step(|| step(entry, &finding));
                findings.push(finding);
            }
        }
        settle_alternatives(&mut findings, self.ruled);
        findings
    }

    fn told(&self, entry: &Entry, judged: &Judged<'_>) -> BalanceFinding {
        let (bound, verdict) = (entry.bound, judged.verdict);
        let depends_on = if verdict == BalanceVerdict::Depends { self.depends_on(bound, judged) } else { Vec::new() };
        let open = depends_on.is_empty();
        let hinges = judged.stood_in.as_ref().and_then(|stood_in| stood_in.hinges(open)).unwrap_or_else(|| hinges(&depends_on));
        let mend = match verdict {
            BalanceVerdict::Within => None,
            BalanceVerdict::Above | BalanceVerdict::Below => {
                let of_its_own = judged.stood_in.as_ref().and_then(|stood_in| stood_in.mend(&judged.whole, bound));
                Some(of_its_own.unwrap_or_else(|| self.mend_in_grams(entry, judged)))
            }
            BalanceVerdict::Depends => {
                let settled = judged.stood_in.as_ref().and_then(|stood_in| stood_in.settles(&judged.whole, bound, open));
                Some(settled.unwrap_or_else(|| self.mend_of_doubt(entry, judged, &depends_on)))
            }
        };
        let why = self.why(entry, judged);
        BalanceFinding {
            rule: entry.rule.id,
            verdict,
            basis: match entry.rule.over {
                Over::Base => self.base.word(),
                Over::This(what, _) => what,
            },
            counted: bound.basis,
            measured: judged.whole.percent.into(),
            measured_by_fat: judged.by_fat.as_ref().map(|by_fat| by_fat.percent.into()),
            low: bound.low.map(|low| Figure(low.value())),
            high: bound.high.map(|high| Figure(high.value())),
            why,
            mend,
            source: bound.citation.source.id,
            depends_on: Some(depends_on).filter(|on| !on.is_empty()),
            hinges,
        }
    }

    /// Why it matters, and where it is not kept what speaks for or against it here.
    fn why(&self, entry: &Entry, judged: &Judged<'_>) -> Cow<'static, str> {
        let why = entry.rule.why_on_whites.filter(|_| self.base.base() == Base::EggWhite).unwrap_or(entry.rule.why);
        if judged.verdict == BalanceVerdict::Within {
            return Cow::Borrowed(why);
        }
        // What depends says in its mend what would settle it.
        let told = match judged.verdict {
            BalanceVerdict::Above => entry.bound.told_above,
            BalanceVerdict::Below => entry.bound.told_below,
            BalanceVerdict::Depends | BalanceVerdict::Within => "",
        };
        let beside = judged.stood_in.as_ref().and_then(StoodIn::why).unwrap_or_default();
        if told.is_empty() && beside.is_empty() {
            return Cow::Borrowed(why);
        }
        Cow::Owned([why, if told.is_empty() { "" } else { ". " }, told, &beside].concat())
    }

    fn mend_in_grams(&self, entry: &Entry, judged: &Judged<'_>) -> String {
        match judged.stood_in.as_ref().and_then(StoodIn::mended_by) {
            Some((measured, before)) => {
                // What else stands in may have a mend of its own: soda is taken out as soda, however the flour is counted.
                let own = |stands_in: &StandIn| stands_in.found(self, entry, By::Doubt, &mut measured.clone())?.mend(measured, entry.bound);
                let of_its_own = entry.rule.stands_in.iter().find_map(own);
                before + &lower_first(&of_its_own.unwrap_or_else(|| Amounts::of(self, entry, measured).text(entry.bound)))
            }
            None => Amounts::of(self, entry, judged.failing()).text(entry.bound),
        }
    }

    /// Ways of counting for which the rule holds; where neither way of counting decides, the ways of filling.
    fn depends_on(&self, bound: &Bound, judged: &Judged<'_>) -> Vec<&'static str> {
        let ways = self.ways(bound, &judged.whole);
        let Some(by_fat) = &judged.by_fat else { return ways };
        let counted = [(&judged.whole, "whole"), (by_fat, "effective-fat")];
        let kept: Vec<_> = counted.iter().filter(|(m, _)| m.verdict == BalanceVerdict::Within).map(|(_, word)| *word).collect();
        match () {
            () if !kept.is_empty() => kept,
            () if !ways.is_empty() => ways,
            () => self.ways(bound, by_fat),
        }
    }

    fn ways(&self, bound: &Bound, measured: &Measured<'_>) -> Vec<&'static str> {
        let holds = |way: &Filled| {
            let ratio = measured.above.filled(&measured.below, *way);
            ratio.is_some_and(|ratio| BalanceVerdict::of(Span::exact(ratio.as_percent()), bound) == BalanceVerdict::Within)
        };
        Filled::ALL.iter().filter(|way| self.known(**way) && holds(way)).map(|way| way.word()).collect()
    }

    /// Whether anyone has weighed a cup of what is open here in this way: nobody packs flour.
    fn known(&self, way: Filled) -> bool {
        let mut open = self.mixture.lines().filter(|line| line.weight.by_way.is_some());
        open.any(|line| line.ingredient.measured.iter().any(|measured| measured.filled == Some(way)))
    }

    fn mend_of_doubt(&self, entry: &Entry, judged: &Judged<'_>, on: &[&str]) -> String {
        let every_way = on.len() == Filled::ALL.iter().filter(|way| self.known(**way)).count();
        Amounts::of(self, entry, judged.failing()).text_of_doubt(entry.bound, on, every_way)
    }
}

/// On what a doubt hinges, as the end of a sentence.
fn hinges(depends_on: &[&str]) -> &'static str {
    match depends_on.first() {
        Some(&"whole" | &"effective-fat") => "how the fat is counted",
        Some(_) => "how the cups were filled",
        None => "how it was measured",
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
        let stands_in = |verdict| findings.iter().find(|other| other.rule == instead && other.verdict == verdict);
        let may_stand_in = || stands_in(BalanceVerdict::Depends).filter(|_| finding.verdict != BalanceVerdict::Depends);
        let Some(other) = stands_in(BalanceVerdict::Within).or_else(may_stand_in) else { continue };
        let verdict = other.verdict;
        let open = (verdict == BalanceVerdict::Depends).then_some(other);
        let depends_on = open.and_then(|other| other.depends_on.clone());
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
            if verdict == BalanceVerdict::Within { " holds at " } else { " may hold at " },
            &held,
            " %",
        ]
        .concat();
        let mend = open.and_then(|other| other.mend.as_deref()).map(|mend| format!("By {}: {}", other.rule, lower_first(mend)));
        let finding = &mut findings[place];
        (finding.verdict, finding.mend, finding.depends_on, finding.why) = (verdict, mend, depends_on, Cow::Owned(why));
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
    fn what_is_outside_its_bound_hears_what_else_is_printed() {
        let waffle = |butter| [("all-purpose flour", "200 g"), ("butter", butter), ("milk", "250 g"), ("egg", "100 g")];
        let fat = |butter| super::super::trial::found("waffle", "fat", &waffle(butter)).why;
        assert!(fat("140 g").ends_with(". Crisp waffles run to 60 % in practice"), "{}", fat("140 g"));
        assert!(!fat("100 g").contains("Crisp"), "{}", fat("100 g"));
        assert!(!fat("20 g").contains("Crisp"), "{}", fat("20 g"));
    }

    #[test]
    fn what_is_told_beside_a_bound_is_a_sentence_for_a_reader() {
        let reference = crate::reference::Reference::load().expect("the tables");
        let told: Vec<_> =
            reference.styles.all.iter().flat_map(|style| &style.bounds).flat_map(|bound| [bound.told_below, bound.told_above]).collect();
        assert!(told.iter().any(|told| !told.is_empty()));
        let is_one =
            |told: &&str| !told.ends_with('.') && !told.contains("where present") && !told.contains("counts as") && told.len() < 200;
        let wrong: Vec<_> = told.iter().filter(|told| !told.is_empty() && !is_one(told)).collect();
        assert!(wrong.is_empty(), "{wrong:?}");
        assert!(told.iter().all(|told| told.chars().next().is_none_or(|first| !first.is_lowercase())));
    }

    #[test]
    fn either_rule_on_liquid_is_enough_for_a_creamed_cake() {
        let cake = [("cake flour", "100 g"), ("granulated sugar", "80 g"), ("butter", "50 g"), ("egg", "50 g"), ("whole milk", "50 g")];
        let found = findings("creamed", &cake).into_iter().find(|f| f.rule == "liquid-to-sugar");
        assert_eq!(found.as_ref().map(|f| (f.verdict, f.mend.is_none())), Some((BalanceVerdict::Within, true)));
        assert!(found.is_some_and(|f| f.why.contains("liquid-to-flour holds at 100 %")));
        // With flour by a cup that may be sifted or dipped the other rule may hold, and then this one is no fault.
        let cake = [
            ("all-purpose flour", "1 1/2 cups"),
            ("granulated sugar", "135 g"),
            ("butter", "100 g"),
            ("egg", "100 g"),
            ("whole milk", "85 g"),
        ];
        let found = findings("creamed", &cake).into_iter().find(|f| f.rule == "liquid-to-sugar").expect("a finding");
        assert_eq!(found.verdict, BalanceVerdict::Depends);
        assert!(found.depends_on.is_some_and(|on| on.contains(&"spooned")) && found.why.contains("liquid-to-flour may hold"));
    }
}
