//! The list of calculations with their types erased: bytes in, bytes out. The types never leave the list, and no untyped value is on the way.

use std::sync::LazyLock;

use utoipa::openapi::schema::Schema;
use utoipa::openapi::RefOr;
use utoipa::{PartialSchema, ToSchema};

use super::{Calculation, convert};
use crate::quantity::Faults;
use crate::reference::{Account, Reference};

/// Every calculation, in the order in which it is published. A new one is a file and a line here.
pub const CALCULATIONS: &[Entry] = &[Entry::of::<convert::Convert>()];

/// What a door may ask beside the question itself.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Options {
    /// With the working.
    pub explain: bool,
    /// Only the bare figure, for a spreadsheet cell.
    pub cell: bool,
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Refusal {
    /// The bytes are no question at all: a single fault of reading, with the place in its detail.
    Unreadable(Faults),
    /// The question was read, and these are its faults of shape and of meaning together.
    Faulty(Faults),
}

/// A named schema, and those it refers to.
pub type Schemas = Vec<(String, RefOr<Schema>)>;

/// Reads a question of one type, and writes always the same answer.
pub type Floor = Box<dyn Fn(&[u8]) -> Result<Vec<u8>, Refusal>>;

/// One calculation, its types erased.
pub struct Entry {
    pub name: &'static str,
    pub summary: &'static str,
    pub description: &'static str,
    pub flat: bool,
    answer: fn(&[u8], &'static Reference, Options) -> Result<Vec<u8>, Refusal>,
    question: fn(&mut Schemas) -> String,
    reply: fn(&mut Schemas) -> String,
    floor: fn(&[u8], &'static Reference) -> Result<Floor, Refusal>,
}

impl Entry {
    const fn of<C: Calculation<Answer: 'static>>() -> Self {
        Self {
            name: C::NAME,
            summary: C::SUMMARY,
            description: C::DESCRIPTION,
            flat: C::FLAT,
            answer: answer::<C>,
            question: schema::<C::Question>,
            reply: schema::<C::Answer>,
            floor: floor::<C>,
        }
    }

    /// The calculation with this name.
    pub fn named(name: &str) -> Option<&'static Self> {
        CALCULATIONS.iter().find(|entry| entry.name == name)
    }

    /// Where it is asked: `/v1/` and its name.
    pub fn path(&self) -> &'static str {
        static PATHS: LazyLock<Vec<String>> =
            LazyLock::new(|| CALCULATIONS.iter().map(|entry| format!("/v1/{}", entry.name)).collect());
        let at = CALCULATIONS.iter().position(|entry| entry.name == self.name);
        at.and_then(|at| PATHS.get(at)).map_or("/v1", String::as_str)
    }

    /// From the bytes of a question to the bytes of its answer.
    pub fn answer(&self, question: &[u8], reference: &'static Reference, options: Options) -> Result<Vec<u8>, Refusal> {
        (self.answer)(question, reference, options)
    }

    /// The least that a question can cost: it is read, and this question's answer, computed once, is written. The benches measure against it.
    pub fn floor(&self, question: &[u8], reference: &'static Reference) -> Result<Floor, Refusal> {
        (self.floor)(question, reference)
    }

    /// Adds the schema of the question, with those it refers to; gives its name.
    pub fn question_schema(&self, schemas: &mut Schemas) -> String {
        (self.question)(schemas)
    }

    /// Adds the schema of the answer, with those it refers to; gives its name.
    pub fn answer_schema(&self, schemas: &mut Schemas) -> String {
        (self.reply)(schemas)
    }
}

fn schema<T: ToSchema>(schemas: &mut Schemas) -> String {
    let name = T::name().into_owned();
    schemas.push((name.clone(), <T as PartialSchema>::schema()));
    T::schemas(schemas);
    name
}

fn answer<C: Calculation>(bytes: &[u8], reference: &'static Reference, options: Options) -> Result<Vec<u8>, Refusal> {
    let question: C::Question = super::reading::question(bytes)?;
    let mut account = Account::new(reference, options.explain);
    let answer = C::answer(&question, reference, &mut account).map_err(Refusal::Faulty)?;
    super::writing::answer(&answer, options)
}

fn floor<C: Calculation<Answer: 'static>>(bytes: &[u8], reference: &'static Reference) -> Result<Floor, Refusal> {
    let question: C::Question = super::reading::question(bytes)?;
    let answer = C::answer(&question, reference, &mut Account::new(reference, false)).map_err(Refusal::Faulty)?;
    Ok(Box::new(move |bytes| {
        // The question lives until the answer is written, as it does where it is needed.
        let _question: C::Question = super::reading::question(bytes)?;
        super::writing::answer(&answer, Options::default())
    }))
}
