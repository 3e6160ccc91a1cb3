//! What an answer owes its reader: the assumptions it made, the cautions that apply, the sources it used and, when asked, its working. No answer can be built without it.

use std::borrow::Cow;

use serde::Serialize;
use utoipa::ToSchema;

use super::Reference;
use super::ready::Ready;
use super::source::{Citation, Source};
use crate::quantity::Pointer;

/// Something that was not said and had to be assumed.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Assumption {
    /// What was assumed, in a sentence.
    #[schema(examples("The measures are those of the US"), max_length = 400)]
    pub text: Cow<'static, str>,
    /// The field to set to change it, as a JSON Pointer into the question.
    #[schema(examples("/measures"), max_length = 200)]
    pub field: String,
    /// The value that was assumed.
    #[schema(examples("us"), max_length = 200)]
    pub value: Cow<'static, str>,
}

/// Where something can hurt someone.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, ToSchema)]
pub struct Warning {
    /// Its name.
    #[schema(examples("raw-egg"), max_length = 60)]
    pub id: &'static str,
    /// What to mind, in a sentence or two.
    #[schema(max_length = 600)]
    pub text: &'static str,
    /// The id of its source.
    #[schema(examples("fda-food-code-2022"), max_length = 60)]
    pub source: &'static str,
}

/// A source that an answer used.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, ToSchema)]
pub struct Used {
    /// Its name; see /v1/sources/{id}.
    #[schema(examples("usda-sr28"), max_length = 60)]
    pub id: &'static str,
    /// Its title.
    #[schema(max_length = 400)]
    pub title: &'static str,
}

/// What every answer carries beside its own figures.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Owed {
    /// The answer in one sentence, with units.
    #[schema(max_length = 1000)]
    pub summary: String,
    /// What was assumed, each with the field that changes it.
    #[schema(max_items = 200)]
    pub assumptions: Vec<Assumption>,
    /// What can hurt someone. Local food codes and licensed practice come first.
    #[schema(value_type = Vec<Warning>, max_items = 40)]
    pub cautions: Vec<&'static Ready<Warning>>,
    /// The published sources of the figures used.
    #[schema(value_type = Vec<Used>, max_items = 100)]
    pub sources: Vec<&'static Ready<Used>>,
    /// The version of the tables: the first 12 hexadecimal digits of SHA-256 over the data files.
    #[schema(examples("0123456789ab"), max_length = 12)]
    pub tables: &'static str,
    /// The steps with numbers in, to be redone with a pencil; only with `explain=true`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 1000)]
    pub working: Option<Vec<String>>,
}

/// What is told of several together: a reader takes in no more.
const MOST_TOGETHER: usize = 150;
const MOST_STEPS: usize = 900;

/// The running account of one question.
pub struct Account {
    reference: &'static Reference,
    explain: bool,
    assumptions: Vec<Assumption>,
    cautions: Vec<&'static Ready<Warning>>,
    sources: Vec<&'static Ready<Used>>,
    working: Vec<String>,
}

impl Account {
    pub fn new(reference: &'static Reference, explain: bool) -> Self {
        // Hardly an answer has no source.
        let sources = Vec::with_capacity(4);
        Self { reference, explain, assumptions: Vec::new(), cautions: Vec::new(), sources, working: Vec::new() }
    }

    /// The tables that the answer is made of.
    pub const fn reference(&self) -> &'static Reference {
        self.reference
    }

    /// Notes an assumption; the same one is told once.
    pub fn assume(&mut self, text: impl Into<Cow<'static, str>>, field: &Pointer<'_>, value: impl Into<Cow<'static, str>>) {
        self.assume_at(text, field.text(), value);
    }

    /// Notes an assumption whose place is already a text.
    pub fn assume_at(&mut self, text: impl Into<Cow<'static, str>>, field: String, value: impl Into<Cow<'static, str>>) {
        let assumption = Assumption { text: text.into(), field, value: value.into() };
        if !self.assumptions.contains(&assumption) {
            self.assumptions.push(assumption);
        }
    }

    /// Notes a caution by its id; the same one is told once.
    pub fn caution(&mut self, id: &str) {
        let found = self.reference.cautions.find(id);
        debug_assert!(found.is_some(), "a caution that no table has would never be told: {id}");
        if let Some(caution) = found.filter(|caution| !self.cautions.iter().any(|known| std::ptr::eq(*known, &caution.warning))) {
            self.cautions.push(&caution.warning);
        }
    }

    /// Notes a source.
    pub fn cite(&mut self, citation: Citation) {
        self.source(citation.source);
    }

    /// Notes a source by its id.
    pub fn cite_id(&mut self, id: &str) {
        let found = self.reference.sources.find(id);
        debug_assert!(found.is_some(), "no source {id}");
        found.into_iter().for_each(|source| self.source(source));
    }

    fn source(&mut self, source: &'static Source) {
        self.using(&source.used);
    }

    fn using(&mut self, used: &'static Ready<Used>) {
        // A source stands once in its table, so its place in memory tells it from all others.
        if !self.sources.iter().any(|known| std::ptr::eq(*known, used)) {
            self.sources.push(used);
        }
    }

    /// A step of the working: made only when the working was asked for.
    pub fn step(&mut self, step: impl FnOnce() -> String) {
        if self.explain {
            self.write_down(step);
        }
    }

    /// Apart, so that what is seldom asked for does not lie in the way of what always is.
    #[cold]
    fn write_down(&mut self, step: impl FnOnce() -> String) {
        self.working.push(step());
    }

    /// A fresh account for one of several questions that are answered together.
    pub fn beside(&self) -> Self {
        Self::new(self.reference, self.explain)
    }

    /// Takes in what one of several owes. An assumption in the same words is told once, for the first that made it.
    pub fn take_in(&mut self, other: Self) {
        for assumption in other.assumptions {
            if self.assumptions.len() < MOST_TOGETHER && !self.assumptions.iter().any(|known| known.text == assumption.text) {
                self.assumptions.push(assumption);
            }
        }
        other.cautions.iter().for_each(|caution| self.caution(caution.id));
        other.sources.into_iter().for_each(|used| self.using(used));
        let room = MOST_STEPS.saturating_sub(self.working.len());
        self.working.extend(other.working.into_iter().take(room));
    }

    /// Closes the account with the answer's sentence.
    pub fn settle(&mut self, summary: String) -> Owed {
        Owed {
            summary,
            assumptions: std::mem::take(&mut self.assumptions),
            cautions: std::mem::take(&mut self.cautions),
            sources: std::mem::take(&mut self.sources),
            tables: self.reference.version,
            working: self.explain.then(|| std::mem::take(&mut self.working)),
        }
    }
}
