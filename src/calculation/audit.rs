//! Is the published formula consistent with itself? Two measures of one line, one ingredient in two places, the scales of the oven, inches and centimetres, yields and pieces are compared; a clean formula gives no finding.

mod finding;
mod oven;
mod pairs;
mod pans;
mod places;
mod slip;
mod whole;

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::{Answer, Calculation};
use crate::formula::{Formula, FormulaWritten};
use crate::quantity::{Faults, Pointer};
use crate::reference::{Account, Owed, Reference};
use finding::{AuditFinding, AuditVerdict};

/// A formula to be compared with itself.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct AuditQuestion {
    /// The formula, with all the measures that were printed: `also` beside `amount`, the oven as "350 F / 180 C", the pan as "9 inch (23 cm) round".
    pub formula: FormulaWritten,
}

/// What does not agree.
#[derive(Debug, Serialize, ToSchema)]
pub struct AuditAnswer {
    /// One finding for each contradiction and each doubt; empty where everything agrees.
    #[schema(max_items = 1000)]
    pub findings: Vec<AuditFinding>,
    /// How many pairs of figures were compared.
    #[schema(minimum = 0, maximum = 100_000)]
    pub compared: usize,
    #[serde(flatten)]
    pub owed: Owed,
}

impl Answer for AuditAnswer {
    fn cell(&self) -> String {
        self.findings.len().to_string()
    }

    fn owed(&self) -> &Owed {
        &self.owed
    }
}

/// The calculation.
pub struct Audit;

impl Calculation for Audit {
    const NAME: &'static str = "audit";
    const SUMMARY: &'static str = "Does this formula agree with itself in all its measures?";
    const DESCRIPTION: &'static str = "Compares a formula with itself: the two measures of each line through what is published of the ingredient, one ingredient measured in two places, eggs by count against grams, °F against °C against gas mark, inches against centimetres, pieces against weight, the batter against its pan. Each finding tells the figures, which one is more probably wrong and why, and the mend. Use it on a formula that was typed or printed, before anything is computed from it; it does not judge the balance: use ratio-check for that.";
    const FLAT: bool = false;

    type Question = AuditQuestion;
    type Answer = AuditAnswer;

    fn answer(question: &AuditQuestion, reference: &'static Reference, account: &mut Account) -> Result<AuditAnswer, Faults> {
        let root = Pointer::ROOT;
        let at = root.key("formula");
        let mut faults = Faults::new();
        let written = &question.formula;
        let mut findings = Vec::new();
        // A pan in inches and centimetres is one pan by its inches once the two have been compared.
        let sizes = pans::compared(written, &at.key("pan"), &mut findings);
        let plain = sizes.plain.map(|pan| FormulaWritten { pan: Some(pan), ..written.clone() });
        let formula = Formula::resolve(plain.as_ref().unwrap_or(written), &at, reference, account, &mut faults);
        let mut scales = 0;
        if let Some(bake) = &written.bake {
            bake.each_oven(&at.key("bake"), |oven, at| scales += faults.keep(oven::compared(oven, at, &mut findings)).unwrap_or(0));
        }
        let Some(formula) = formula.filter(|_| faults.is_empty()) else { return Err(faults) };
        let pairs = pairs::pairs(written, &formula, reference, &at, account);
        let mut lines = pairs::compared(&pairs);
        places::scaled(&pairs, &mut lines, &at);
        places::uneven(&pairs, &mut lines);
        lines.append(&mut findings);
        let wholes = whole::compared(written, &formula, &at, &mut lines);
        let compared = pairs.len() + sizes.compared + scales + wholes;
        let owed = account.settle(summary(&lines, compared));
        Ok(AuditAnswer { findings: lines, compared, owed })
    }
}

fn summary(findings: &[AuditFinding], compared: usize) -> String {
    let contradictions = findings.iter().filter(|finding| finding.verdict == AuditVerdict::Contradict).count();
    let pairs = if compared == 1 { "1 pair".to_owned() } else { format!("{compared} pairs") };
    match findings.len() {
        0 => format!("{pairs} of figures compared: nothing contradicts itself"),
        all => {
            let doubtful = all - contradictions;
            let contradict = if contradictions == 1 { "contradicts" } else { "contradict" };
            let are = if doubtful == 1 { "is" } else { "are" };
            format!("{pairs} of figures compared: {contradictions} {contradict}, {doubtful} {are} doubtful")
        }
    }
}

#[cfg(test)]
mod tests;
