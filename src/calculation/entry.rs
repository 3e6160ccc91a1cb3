//! The list of calculations with their types erased: bytes in, bytes out. The types never leave the list, and no untyped value is on the way.

use std::sync::LazyLock;

use utoipa::openapi::RefOr;
use utoipa::openapi::schema::Schema;
use utoipa::{PartialSchema, ToSchema};

use super::reading::Id;
use super::{Calculation, adapt, audit, batch, card, convert, dough, leavening, orders, pan_scale, ratio_check, read};
use crate::quantity::Faults;
use crate::reference::{Account, Reference};

/// Every calculation, in the order in which it is published. A new one is a file and a line here.
pub const CALCULATIONS: &[Entry] = &[
    Entry::of::<convert::Convert>(),
    Entry::of::<pan_scale::PanScale>(),
    Entry::of::<batch::Batch>(),
    Entry::of::<ratio_check::RatioCheck>(),
    Entry::of::<read::Read>(),
    Entry::of::<audit::Audit>(),
    Entry::of::<adapt::Adapt>(),
    Entry::of::<card::Card>(),
    Entry::of::<orders::Orders>(),
    Entry::of::<dough::DoughRoom>(),
    Entry::of::<leavening::Leavening>(),
];

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

/// From the bytes of a question to those of its answer.
type Answering = fn(&[u8], &'static Reference, Options) -> Result<Vec<u8>, Refusal>;

/// From the bytes of a question among many to those of its answer, behind what is written already.
type AnsweringAmong = fn(&[u8], &'static Reference, Options, Mark, &mut Vec<u8>) -> Result<Option<Id>, Refused>;

/// How an answer among many begins: which of them it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// `line` or `index`.
    pub word: &'static str,
    pub number: usize,
}

impl Mark {
    /// Opens the object: the number, and the caller's name where there is one.
    pub fn begin(self, id: Option<&Id>, out: &mut Vec<u8>) {
        out.extend_from_slice(b"{\"");
        out.extend_from_slice(self.word.as_bytes());
        out.extend_from_slice(b"\":");
        // A whole number can always be written into memory.
        drop(serde_json::to_writer(&mut *out, &self.number));
        if let Some(id) = id {
            out.extend_from_slice(b",\"id\":");
            id.write(out);
        }
    }
}

/// Why one of many has no answer, with the caller's name for it as far as it could be read.
#[derive(Clone, Debug, PartialEq)]
pub struct Refused {
    pub id: Option<Id>,
    pub refusal: Refusal,
}

/// Reads a question of one type, and writes always the same answer.
pub type Floor = Box<dyn Fn(&[u8]) -> Option<Vec<u8>>>;

/// One calculation, its types erased.
pub struct Entry {
    pub name: &'static str,
    pub summary: &'static str,
    pub description: &'static str,
    pub flat: bool,
    answer: Answering,
    among: AnsweringAmong,
    question: fn(&mut Schemas) -> String,
    reply: fn(&mut Schemas) -> String,
    floor: fn(&[u8], &'static Reference) -> Option<Floor>,
}

impl Entry {
    const fn of<C: Calculation<Answer: 'static>>() -> Self {
        Self {
            name: C::NAME,
            summary: C::SUMMARY,
            description: C::DESCRIPTION,
            flat: C::FLAT,
            answer: answer::<C>,
            among: among::<C>,
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
        static PATHS: LazyLock<Vec<String>> = LazyLock::new(|| CALCULATIONS.iter().map(|entry| format!("/v1/{}", entry.name)).collect());
        let at = CALCULATIONS.iter().position(|entry| entry.name == self.name);
        at.and_then(|at| PATHS.get(at)).map_or("/v1", String::as_str)
    }

    /// From the bytes of a question to the bytes of its answer.
    pub fn answer(&self, question: &[u8], reference: &'static Reference, options: Options) -> Result<Vec<u8>, Refusal> {
        (self.answer)(question, reference, options)
    }

    /// The same for one of many: its answer, behind its number and the caller's name for it, is written behind what is there already.
    pub fn answer_among(
        &self,
        question: &[u8],
        reference: &'static Reference,
        options: Options,
        mark: Mark,
        out: &mut Vec<u8>,
    ) -> Result<Option<Id>, Refused> {
        (self.among)(question, reference, options, mark, out)
    }

    /// The least that a question can cost: it is read, and this question's answer, computed once, is written. The benches measure against it.
    pub fn floor(&self, question: &[u8], reference: &'static Reference) -> Option<Floor> {
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

/// Adds the schema of a type, with those it refers to; gives its name.
pub fn schema<T: ToSchema>(schemas: &mut Schemas) -> String {
    let name = T::name().into_owned();
    schemas.push((name.clone(), <T as PartialSchema>::schema()));
    T::schemas(schemas);
    name
}

fn answer<C: Calculation>(bytes: &[u8], reference: &'static Reference, options: Options) -> Result<Vec<u8>, Refusal> {
    match super::reading::question::<C::Question>(bytes) {
        Some(question) => answer_to::<C>(&question, bytes.len(), reference, options),
        None => answer_mended::<C>(bytes, reference, options),
    }
}

/// The answer to a question of so many bytes.
fn answer_to<C: Calculation>(
    question: &C::Question,
    length: usize,
    reference: &'static Reference,
    options: Options,
) -> Result<Vec<u8>, Refusal> {
    let mut account = Account::new(reference, options.explain);
    let answer = C::answer(question, reference, &mut account).map_err(Refusal::Faulty)?;
    super::writing::answer(&answer, length, options)
}

/// The plain way failed: all faults of shape, and with them the faults of meaning of what could be read.
#[cold]
fn answer_mended<C: Calculation>(bytes: &[u8], reference: &'static Reference, options: Options) -> Result<Vec<u8>, Refusal> {
    let mended = super::reading::mended::<C::Question>(bytes)?;
    let meaning = match &mended.question {
        Some(question) if mended.faults.is_empty() => return answer_to::<C>(question, bytes.len(), reference, options),
        Some(question) => C::answer(question, reference, &mut Account::new(reference, false)).err(),
        None => None,
    };
    Err(Refusal::Faulty(mended.with_meaning(&meaning.unwrap_or_default())))
}

fn among<C: Calculation>(
    bytes: &[u8],
    reference: &'static Reference,
    options: Options,
    mark: Mark,
    out: &mut Vec<u8>,
) -> Result<Option<Id>, Refused> {
    match super::reading::item::<C::Question>(bytes) {
        Some((question, id)) => match among_to::<C>(&question, id.as_ref(), reference, options, mark, out) {
            Ok(()) => Ok(id),
            Err(refusal) => Err(Refused { id, refusal }),
        },
        None => among_mended::<C>(bytes, reference, options, mark, out),
    }
}

fn among_to<C: Calculation>(
    question: &C::Question,
    id: Option<&Id>,
    reference: &'static Reference,
    options: Options,
    mark: Mark,
    out: &mut Vec<u8>,
) -> Result<(), Refusal> {
    let mut account = Account::new(reference, options.explain);
    let answer = C::answer(question, reference, &mut account).map_err(Refusal::Faulty)?;
    let begun = out.len();
    mark.begin(id, out);
    let joint = out.len();
    match super::writing::append(&answer, out) {
        Ok(()) => {
            // The answer's own opening brace becomes the comma behind its number.
            out[joint] = b',';
            Ok(())
        }
        Err(refusal) => {
            out.truncate(begun);
            Err(refusal)
        }
    }
}

#[cold]
fn among_mended<C: Calculation>(
    bytes: &[u8],
    reference: &'static Reference,
    options: Options,
    mark: Mark,
    out: &mut Vec<u8>,
) -> Result<Option<Id>, Refused> {
    let (id, mended) = super::reading::mended_item::<C::Question>(bytes);
    let answered = mended.and_then(|mended| match &mended.question {
        Some(question) if mended.faults.is_empty() => among_to::<C>(question, id.as_ref(), reference, options, mark, out),
        Some(question) => {
            let meaning = C::answer(question, reference, &mut Account::new(reference, false)).err().unwrap_or_default();
            Err(Refusal::Faulty(mended.with_meaning(&meaning)))
        }
        None => Err(Refusal::Faulty(mended.with_meaning(&Faults::new()))),
    });
    match answered {
        Ok(()) => Ok(id),
        Err(refusal) => Err(Refused { id, refusal }),
    }
}

fn floor<C: Calculation<Answer: 'static>>(bytes: &[u8], reference: &'static Reference) -> Option<Floor> {
    let answer = C::answer(&serde_json::from_slice(bytes).ok()?, reference, &mut Account::new(reference, false)).ok()?;
    Some(Box::new(move |bytes| {
        // The question lives until the answer is written, as it does where it is needed.
        let _question: C::Question = serde_json::from_slice(bytes).ok()?;
        super::writing::answer(&answer, bytes.len(), Options::default()).ok()
    }))
}
