//! How much acid for this soda, how much soda for this acid, what stands for this powder; and in a formula: what soda is left over, and is the dose right?

mod answer;
mod dose;
mod formula;
mod parts;
mod printed;

use serde::Deserialize;
use utoipa::ToSchema;

pub use answer::LeaveningAnswer;

use super::Calculation;
use crate::formula::{Formula, FormulaWritten, PowderGas, find_style};
use crate::quantity::{Code, Fault, Faults, Measures, Pointer, Written};
use crate::reference::{Account, Reference};

/// Soda, powder or acid; or a formula whose leavening is looked into.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LeaveningQuestion {
    /// Baking soda: how much acid does it need, and what powder does it stand for?
    #[schema(nullable = false)]
    pub soda: Option<Written>,
    /// Baking powder: what soda and acid stand for it?
    #[schema(nullable = false)]
    pub powder: Option<Written>,
    /// The acid, or the sour ingredient, by its name. Without it: every dry acid of the trade, and cream of tartar for powder, which is told.
    #[schema(nullable = false, max_length = 200, examples("cream of tartar"))]
    pub acid: Option<String>,
    /// How much of the acid: how much soda does it take up? Beside `soda`: what is left over?
    #[schema(nullable = false)]
    pub acid_amount: Option<Written>,
    /// A formula: its acidity, the soda left over, its gas, its dose.
    #[schema(nullable = false)]
    pub formula: Option<FormulaWritten>,
    /// The style by which the dose is judged. Without it: that of the formula.
    #[schema(nullable = false, max_length = 200, examples("muffin"))]
    pub style: Option<String>,
    /// The gas of the baking powder. Without it: that of usual powders.
    #[schema(nullable = false)]
    pub powder_gas: Option<PowderGas>,
    /// The national set of cups and spoons. Without it: us, which is told.
    #[schema(nullable = false)]
    pub measures: Option<Measures>,
}

/// The calculation.
pub struct Leavening;

impl Calculation for Leavening {
    const NAME: &'static str = "leavening";
    const SUMMARY: &'static str = "Which acid for this soda, and is the dose right?";
    const DESCRIPTION: &'static str = "Chemical leavening by neutralising value. For soda: the acid it needs; for an acid or a sour ingredient: the soda it takes up; for baking powder: the soda and acid that stand for it, in grams and teaspoons, beside what cook books print by the spoon, right or wrong. For a formula: the acidity of buttermilk, cocoa, molasses, honey and the like as spans, soda left over or missing, gas, the dose against flour by style with its mend in grams, and sodium. For yeast doughs use dough; for the whole balance use ratio-check.";
    const FLAT: bool = false;

    type Question = LeaveningQuestion;
    type Answer = LeaveningAnswer;

    fn answer(question: &LeaveningQuestion, reference: &'static Reference, account: &mut Account) -> Result<LeaveningAnswer, Faults> {
        let root = Pointer::ROOT;
        let mut faults = Faults::new();
        one_question(question, &root, &mut faults);
        let style = question.style.as_deref().and_then(|name| faults.keep(find_style(reference, name, &root.key("style"))));
        let formula =
            question.formula.as_ref().and_then(|written| Formula::resolve(written, &root.key("formula"), reference, account, &mut faults));
        let asked = parts::understood(question, reference, account, &mut faults);
        if !faults.is_empty() {
            return Err(faults);
        }
        let gas = question.powder_gas.unwrap_or_default();
        match (formula, asked) {
            (Some(formula), _) => formula::answered(question, &formula, style, gas, reference, account),
            (None, Some(asked)) => parts::answered(question, &asked, gas, reference, account),
            (None, None) => Err(Fault::new(&root, Code::ExactlyOne, "none of them", WANTED).into()),
        }
    }
}

const WANTED: &str = "one of soda, powder, acid with acid_amount, formula";

/// Soda and an amount of acid may stand together; a formula and powder stand alone.
fn one_question(question: &LeaveningQuestion, root: &Pointer<'_>, faults: &mut Faults) {
    let given = [
        ("formula", question.formula.is_some()),
        ("powder", question.powder.is_some()),
        ("soda", question.soda.is_some()),
        ("acid_amount", question.acid_amount.is_some()),
    ];
    let named: Vec<&str> = given.iter().filter(|(_, given)| *given).map(|(name, _)| *name).collect();
    match named[..] {
        [] => faults.push(Fault::new(root, Code::ExactlyOne, "none of them", WANTED)),
        [_] | ["soda", "acid_amount"] => {}
        _ => faults.push(Fault::new(root, Code::ExactlyOne, named.join(" and "), WANTED)),
    }
    if question.acid_amount.is_some() && question.acid.is_none() {
        let fault = Fault::new(&root.key("acid"), Code::MissingField, "nothing", "the name of the acid");
        faults.push(fault.trying(["cream of tartar", "buttermilk"]));
    }
    for (field, given) in [("acid", question.acid.is_some()), ("measures", question.measures.is_some())] {
        if given && question.formula.is_some() {
            faults.push(Fault::new(
                &root.key(field),
                Code::NotTogether,
                format!("{field} beside a formula"),
                "a formula that says it itself",
            ));
        }
    }
    if question.style.is_some() && question.formula.is_none() {
        faults.push(Fault::new(&root.key("style"), Code::NotTogether, "a style without a formula", "a formula beside it"));
    }
}

#[cfg(test)]
mod tests;
