//! The questions that can be asked, one a file, and the one list of them that every door walks. Nothing here knows HTTP, a clock or chance.

mod adapt;
mod audit;
mod batch;
mod card;
mod convert;
mod dough;
mod entry;
mod leavening;
mod orders;
mod pan_scale;
mod percent;
mod ratio_check;
mod read;
mod reading;
mod writing;

pub use entry::{CALCULATIONS, Entry, Floor, Mark, Options, Refusal, Refused, Schemas, schema};
pub use reading::{DEPTH, ITEMS, Id, TEXT, unreadable};

use serde::Serialize;
use serde::de::DeserializeOwned;
use utoipa::ToSchema;

use crate::quantity::Faults;
use crate::reference::{Account, Owed, Reference};

/// One calculation: a question, its answer, and what is published of both.
pub trait Calculation {
    /// The last part of its path, in lower case with hyphens.
    const NAME: &'static str;
    /// The question it answers, in one line.
    const SUMMARY: &'static str;
    /// When to use it, and when not.
    const DESCRIPTION: &'static str;
    /// Whether the whole question can be asked as a query string: all its fields are texts.
    const FLAT: bool;

    type Question: DeserializeOwned + ToSchema;
    type Answer: Answer;

    /// Computes the answer, noting on the account what it owes; or gives all faults at once.
    fn answer(question: &Self::Question, reference: &'static Reference, account: &mut Account) -> Result<Self::Answer, Faults>;
}

/// An answer that can be written, and shown in one cell.
pub trait Answer: Serialize + ToSchema {
    /// The bare figure for a spreadsheet cell.
    fn cell(&self) -> String;

    fn owed(&self) -> &Owed;
}
