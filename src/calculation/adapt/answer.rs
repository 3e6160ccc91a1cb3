//! The answer of `adapt`: the formula as it can be asked again, what changed and why, and the balance before and after.

use serde::Serialize;
use utoipa::ToSchema;

use crate::calculation::Answer;
use crate::formula::{BalanceFinding, BalanceVerdict, Changed, Formula, FormulaWritten, Judging, RoundingShown, Tally, ruled};
use crate::quantity::{Pointer, Proportion};
use crate::reference::{Account, Owed, Reference};

/// The formula for the other kitchen.
#[derive(Debug, Serialize, ToSchema)]
pub struct AdaptAnswer {
    /// The formula, in the form in which it is asked: it can be sent to every other calculation.
    pub formula: FormulaWritten,
    /// What changed, in the order of the steps.
    #[schema(max_items = 100_000)]
    pub changes: Vec<Changed>,
    /// The rules of the styles before and after; empty where no style was named.
    pub balance: BalanceShown,
    /// What the rounding cost, where there was one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub rounding: Option<RoundingShown>,
    #[serde(flatten)]
    pub owed: Owed,
}

/// The balance before and after.
#[derive(Debug, Serialize, ToSchema)]
pub struct BalanceShown {
    /// Of the formula as it came.
    #[schema(max_items = 1000)]
    pub before: Vec<RuleShown>,
    /// Of the formula as it is now.
    #[schema(max_items = 1000)]
    pub after: Vec<RuleShown>,
}

/// What one rule found; see ratio-check for the whole of it.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct RuleShown {
    /// The part by its name.
    #[schema(max_length = 200, examples("batter"))]
    pub part: String,
    /// The rule by its name.
    #[schema(max_length = 60, examples("sugar"))]
    pub rule: &'static str,
    pub verdict: BalanceVerdict,
    /// What was measured, in hundredths of the basis of the rule.
    pub measured: Proportion,
}

impl Answer for AdaptAnswer {
    fn cell(&self) -> String {
        told(&self.changes)
    }

    fn owed(&self) -> &Owed {
        &self.owed
    }
}

pub(super) fn assembled(
    formula: FormulaWritten,
    changes: Vec<Changed>,
    rounding: Option<RoundingShown>,
    [before, after]: [&Formula; 2],
    reference: &'static Reference,
    account: &mut Account,
) -> AdaptAnswer {
    for id in changes.iter().filter_map(|change| change.source) {
        account.cite_id(id);
    }
    if before.mixtures().all(|mixture| mixture.style().is_none()) {
        let root = Pointer::ROOT;
        let at = root.key("formula");
        account.assume("No style was named, so the balance is not judged", &at.key("style"), "none");
    }
    let balance = BalanceShown { before: rules(before, reference, account), after: rules(after, reference, account) };
    let summary = summary(&changes, &balance, [before, after]);
    AdaptAnswer { formula, changes, balance, rounding, owed: account.settle(summary) }
}

fn rules(formula: &Formula, reference: &'static Reference, account: &mut Account) -> Vec<RuleShown> {
    let mut shown = Vec::new();
    for mixture in formula.mixtures() {
        let Some(ruled) = mixture.style().map(|style| ruled(reference, style)) else { continue };
        let mixture = mixture.summed();
        let Some(base) = ruled.base(&mixture) else { continue };
        let findings = Judging { mixture: &mixture, base: &base, ruled, reference }.findings(account);
        let rule = |finding: BalanceFinding| RuleShown {
            part: mixture.part().name.to_string(),
            rule: finding.rule,
            verdict: finding.verdict,
            measured: finding.measured,
        };
        shown.extend(findings.into_iter().map(rule));
    }
    shown
}

/// How many changes there are, and how many notes that change nothing.
fn told(changes: &[Changed]) -> String {
    let changed = changes.iter().filter(|change| change.before.is_some() || change.after.is_some()).count();
    let many = |count: usize, word: &str| format!("{count} {word}{}", if count == 1 { "" } else { "s" });
    match changes.len() - changed {
        0 => many(changed, "change"),
        notes => format!("{} and {}", many(changed, "change"), many(notes, "note")),
    }
}

fn summary(changes: &[Changed], balance: &BalanceShown, [before, after]: [&Formula; 2]) -> String {
    let grams = |formula: &Formula| crate::quantity::Quantity::from(formula.mass()).text;
    let mut text = format!("{}; {} before, {} after", told(changes), grams(before), grams(after));
    if !balance.after.is_empty() {
        let [was, will] = [&balance.before, &balance.after].map(|rules| Tally::of(rules.iter().map(|rule| rule.verdict)));
        let depended = if was.open == 0 { String::new() } else { format!(" and {} depended", was.open) };
        let depend = will.depend().map_or_else(String::new, |depend| format!(" and {depend}"));
        let [Tally { held, of, .. }, now] = [was, will];
        text.push_str(&format!("; {held} of {of} rules held{depended} before, {} of {} hold{depend} now", now.held, now.of));
    }
    text
}
