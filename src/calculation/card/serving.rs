//! How many servings a formula makes: by its pieces, or by the mass of one.

use super::CardQuestion;
use crate::formula::Formula;
use crate::quantity::{Code, Counting, Factor, Family, Fault, Faults, Mass, Pointer, read_amount, read_mass};
use crate::reference::Account;

/// What one serving is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Serving {
    Pieces(Factor),
    Mass(Mass),
}

/// How many servings there are, and one of them in words.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Servings {
    pub count: Factor,
    pub one: String,
}

/// Into how many pieces it is cut or scaled.
pub(super) fn pieces(question: &CardQuestion, account: &mut Account, faults: &mut Faults) -> Option<u32> {
    let root = Pointer::ROOT;
    let (formula, asked) = (root.key("formula"), root.key("pieces"));
    let makes = formula.key("makes");
    let made = question.formula.makes.as_ref().and_then(|makes| makes.pieces);
    let (pieces, at) = match (question.pieces, made) {
        (Some(pieces), _) => (pieces, asked),
        (None, Some(pieces)) => (pieces, makes.key("pieces")),
        (None, None) => {
            account.assume("Into how many pieces it is cut was not said: the whole is one", &asked, "1");
            (1, asked)
        }
    };
    if (1..=1_000_000).contains(&pieces) {
        return Some(pieces);
    }
    faults.push(Fault::new(&at, Code::OutOfRange, pieces.to_string(), "from 1 to 1000000 pieces"));
    None
}

/// What one serving is; one piece where nothing was said.
pub(super) fn understood(question: &CardQuestion, account: &mut Account, faults: &mut Faults) -> Option<Serving> {
    let root = Pointer::ROOT;
    let at = root.key("serving");
    let Some(written) = &question.serving else {
        account.assume("A serving is one piece", &at, "1 piece");
        return Some(Serving::Pieces(Factor::ONE));
    };
    let amount = faults.keep(read_amount(written, question.formula.measures.unwrap_or_default(), &at))?;
    let many = amount.number.value;
    let serving = match &amount.counting {
        Counting::Unit(unit) if unit.family == Family::Mass => Some(Serving::Mass(Mass::grams(many * unit.size))),
        Counting::Unit(unit) if unit.id == "each" => Some(Serving::Pieces(Factor::times(many))),
        Counting::Named(word) if matches!(&**word, "piece" | "pieces" | "slice" | "slices") => Some(Serving::Pieces(Factor::times(many))),
        _ => None,
    };
    if serving.is_none() || many <= 0.0 {
        let fault = Fault::new(&at, Code::WrongUnit, written.as_text().into_owned(), "a number of pieces or a mass, above 0");
        faults.push(fault.trying(["1 piece", "80 g"]));
        return None;
    }
    serving
}

/// How many servings the formula makes.
pub(super) fn servings(
    serving: &Serving,
    pieces: u32,
    question: &CardQuestion,
    formula: &Formula,
    account: &mut Account,
) -> Result<Servings, Faults> {
    match *serving {
        Serving::Pieces(each) => {
            let name = if each == Factor::ONE { "piece" } else { "pieces" };
            Ok(Servings { count: Factor::times(f64::from(pieces)) / each, one: format!("{} {name}", each.value()) })
        }
        Serving::Mass(mass) => {
            let whole = finished(pieces, question, formula, account)?;
            Ok(Servings { count: whole / mass, one: crate::quantity::Quantity::from(mass).text.to_string() })
        }
    }
}

/// What the whole weighs when it is done: as the formula says, else as mixed, which is told.
fn finished(pieces: u32, question: &CardQuestion, formula: &Formula, account: &mut Account) -> Result<Mass, Faults> {
    let root = Pointer::ROOT;
    let formula_at = root.key("formula");
    let at = formula_at.key("makes");
    let mut faults = Faults::new();
    let made = question.formula.makes.as_ref();
    let mut mass =
        |written: &Option<_>, key: &str| written.as_ref().map(|written| faults.keep(read_mass(written, formula.measures, &at.key(key))));
    let weight = made.and_then(|makes| mass(&makes.weight, "weight")).flatten();
    let each = made.and_then(|makes| mass(&makes.each, "each")).flatten();
    if !faults.is_empty() {
        return Err(faults);
    }
    let done = weight.or(each.map(|each| each * Factor::times(f64::from(pieces))));
    Ok(done.unwrap_or_else(|| {
        let text = "What it weighs when it is done was not said: a serving by weight is a share of what is mixed, without losses";
        account.assume(text, &at.key("weight"), crate::quantity::Quantity::from(formula.mass()).text.to_string());
        formula.mass()
    }))
}
