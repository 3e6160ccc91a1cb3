//! How many servings a formula makes: by its pieces, or by the mass of one.

use super::CardQuestion;
use crate::quantity::{Code, Counting, Factor, Family, Fault, Faults, Mass, Pointer, Quantity, read_amount};
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
    let read = read_amount(written, question.formula.measures.unwrap_or_default(), &at);
    let amount = faults.keep(read.map_err(|fault| fault.offering(&["1 piece", "80 g"])))?;
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

/// How many servings the formula makes. One by weight is a share of what the whole weighs as sold, which is asked for only then.
pub(super) fn servings(serving: &Serving, pieces: u32, whole: impl FnOnce() -> Result<Mass, Faults>) -> Result<Servings, Faults> {
    match *serving {
        Serving::Pieces(each) => {
            let name = if each == Factor::ONE { "piece" } else { "pieces" };
            Ok(Servings { count: Factor::times(f64::from(pieces)) / each, one: format!("{} {name}", each.value()) })
        }
        Serving::Mass(mass) => Ok(Servings { count: whole()? / mass, one: Quantity::from(mass).text.to_string() }),
    }
}
