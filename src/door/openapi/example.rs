//! Worked examples: a question, and what the service answered to it. They are data files, executed by a test, so that the document never shows what is not true.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use serde_json::Value;
use utoipa::openapi::example::{Example as Shown, ExampleBuilder};

/// One question with its answer.
#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Example {
    /// Its name in the document.
    pub name: String,
    /// What it shows, in one line.
    pub summary: String,
    /// The question.
    pub request: Value,
    /// The status of the answer.
    pub status: u16,
    /// The answer as it was given.
    pub answer: Value,
}

impl Example {
    /// The question, as the document shows it.
    pub fn question(&self) -> (String, Shown) {
        (self.name.clone(), self.shown(&self.request))
    }

    /// The answer, as the document shows it.
    pub fn reply(&self) -> (String, Shown) {
        (self.name.clone(), self.shown(&self.answer))
    }

    fn shown(&self, value: &Value) -> Shown {
        ExampleBuilder::new().summary(self.summary.clone()).value(Some(value.clone())).build()
    }
}

/// The worked examples of every calculation, by its name.
#[derive(Clone, Debug, Default)]
pub struct Examples(BTreeMap<String, Vec<Example>>);

impl Examples {
    /// Adds the examples of a calculation.
    #[must_use]
    pub fn with(mut self, calculation: &str, examples: Vec<Example>) -> Self {
        self.0.insert(calculation.to_owned(), examples);
        self
    }

    /// The examples of a calculation; none where there are none.
    pub fn of(&self, calculation: &str) -> &[Example] {
        self.0.get(calculation).map_or(&[], Vec::as_slice)
    }
}
