//! The answer of `batch`, put together from the plan: batches with their lines, the ledger, what to put in each pan or piece, what to buy.

use serde::Serialize;
use smol_str::SmolStr;
use utoipa::ToSchema;

use super::BatchQuestion;
use super::multiplied::{Multiplied, ScaleAt};
use super::want::Plan;
use crate::calculation::Answer;
use crate::formula::{Bought, Formula, FormulaShown, LedgerRow, Line, LineShown, Mixture, Way, lines_scaled};
use crate::quantity::{Factor, Mass, Quantity, decimals, in_words};
use crate::reference::{Account, Owed, short};

/// What to weigh, what is lost, what to buy.
#[derive(Debug, Serialize, ToSchema)]
pub struct BatchAnswer {
    #[serde(flatten)]
    pub multiplied: Multiplied,
    /// How often the oven is filled.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, maximum = 1e9)]
    pub oven_loads: Option<u64>,
    /// The batches to mix: for each part, so many equal ones.
    #[schema(max_items = 50)]
    pub batches: Vec<BatchShown>,
    /// Where mass goes: it closes, each out is the next in.
    #[schema(max_items = 600)]
    pub ledger: Vec<LedgerRow>,
    /// What to buy, each ingredient once.
    #[schema(max_items = 10_000)]
    pub buy: Vec<Bought>,
    /// The formula at its new size.
    pub formula: FormulaShown,
    #[serde(flatten)]
    pub owed: Owed,
}

/// So many equal batches of one part.
#[derive(Debug, Serialize, ToSchema)]
pub struct BatchShown {
    /// The part.
    #[schema(value_type = String, max_length = 200)]
    pub part: SmolStr,
    /// How many batches.
    #[schema(minimum = 1, maximum = 1e9)]
    pub count: u64,
    /// What one batch weighs.
    pub weight: Quantity,
    /// What to weigh for one batch; the texts add up to that of the weight.
    #[schema(max_items = 10_000)]
    pub lines: Vec<LineShown>,
}

impl Answer for BatchAnswer {
    fn cell(&self) -> String {
        self.multiplied.factor.rounded().to_string()
    }

    fn owed(&self) -> &Owed {
        &self.owed
    }
}

pub(super) fn assembled(
    question: &BatchQuestion,
    formula: &Formula,
    way: &Way<'_>,
    plan: &Plan,
    buy: Vec<Bought>,
    account: &mut Account,
) -> BatchAnswer {
    let delivered = plan.delivered(way);
    let mixed = plan.mixed(formula);
    account.step(|| {
        format!("factor {}: {} g mixed, {} g delivered", short(plan.factor.value()), short(mixed.in_grams()), short(delivered.in_grams()))
    });
    let multiplied = Multiplied::of(formula, way, plan);
    let oven_loads = question.oven_pans.zip(multiplied.pans).map(|(at_once, pans)| pans.whole.div_ceil(u64::from(at_once)));
    let whole = formula.scaled(|part| plan.factor_of(formula, part));
    let batches: Vec<BatchShown> =
        formula.mixtures().zip(&plan.batches).map(|(mixture, count)| batch(formula, &whole, &mixture, *count, plan)).collect();
    let main = &*formula.main().part().name;
    let summary = summary(question, plan, [mixed, delivered], (main, &multiplied.scale_at), &batches);
    BatchAnswer {
        multiplied,
        oven_loads,
        batches,
        ledger: way.ledger(plan.factor, plan.counts),
        buy,
        formula: whole,
        owed: account.settle(summary),
    }
}

fn batch(formula: &Formula, whole: &FormulaShown, mixture: &Mixture<'_>, count: u64, plan: &Plan) -> BatchShown {
    let part = mixture.part().name.clone();
    if count == 1 && mixture.members().count() == 1 {
        // All of the part at once: its lines are in the formula already.
        let shown = &whole.parts[mixture.root];
        return BatchShown { part, count, weight: shown.weight.clone(), lines: shown.lines.clone() };
    }
    let scaled = mixture_lines(formula, mixture, plan, Factor::ONE / Factor::times(count as f64));
    let (lines, weight) = lines_scaled(&scaled, Factor::ONE);
    BatchShown { part, count, weight, lines }
}

/// The lines of a mixture as planned, times a share of them. The parts of one mixture are multiplied alike, but for a part that is fixed.
pub(in crate::calculation) fn mixture_lines(formula: &Formula, mixture: &Mixture<'_>, plan: &Plan, share: Factor) -> Vec<Line> {
    mixture.placed().map(|(place, line)| line.clone().times(plan.factor_of(formula, place.part) * share)).collect()
}

fn summary(
    question: &BatchQuestion,
    plan: &Plan,
    [mixed, delivered]: [Mass; 2],
    (main, scale_at): (&str, &[ScaleAt]),
    batches: &[BatchShown],
) -> String {
    let name = question.formula.name.as_deref().unwrap_or("The formula");
    let whole = |mass: Mass| decimals(mass.in_grams(), 0);
    let mut text = String::with_capacity(name.len() + 120);
    text.extend([name, " times ", &in_words(plan.factor.value()), ": mix ", &whole(mixed), " g"]);
    if let Some(first) = batches.first().filter(|first| first.count > 1) {
        text.extend([", in ", &first.count.to_string(), " equal batches of ", &first.weight.text]);
    }
    if let Some(first) = scale_at.iter().find(|row| row.part == main).or(scale_at.first()) {
        // Where several parts go into one piece, this one is not all of it.
        let of_part = if scale_at.len() > 1 { [" of ", &first.part].concat() } else { String::new() };
        text.extend([", ", &first.each.text, &of_part, " in each ", first.into]);
    }
    text.extend([", to deliver ", &whole(delivered), " g"]);
    text
}
