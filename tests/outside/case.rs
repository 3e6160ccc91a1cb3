//! One check against the outside, as it stands in a data file: what is asked, what a source says, and how the source is known.

use std::collections::HashSet;
use std::fs;
use std::path::PathBuf;

use serde::Deserialize;
use serde_json::Value;

use crate::expectation::Expectation;

/// What is asked of the service.
#[derive(Debug)]
pub enum Call {
    Post { path: String, question: Value },
    Get { path: String },
}

/// A check, ready to be asked.
#[derive(Debug)]
pub struct Case {
    pub id: String,
    pub title: String,
    pub call: Call,
    pub expect: Vec<Expectation>,
    pub source: String,
    /// Where the project gives another figure than its source, and why.
    pub differs: Option<String>,
}

/// A check as it is written.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    id: String,
    title: String,
    calculation: Option<String>,
    request: Option<Value>,
    get: Option<String>,
    expect: Vec<Expectation>,
    source: String,
    mark: String,
    basis: String,
    #[serde(default)]
    note: String,
    differs: Option<String>,
}

const MARKS: &[&str] = &["seen", "secondary", "memory", "computed", "practice"];

impl Written {
    fn ready(self) -> Case {
        assert!(MARKS.contains(&&*self.mark), "{}: no such mark: {}", self.id, self.mark);
        assert!(
            !self.source.is_empty() && !self.basis.is_empty() && !self.expect.is_empty(),
            "{}: source, basis or figures missing",
            self.id
        );
        let call = match (self.calculation, self.request, self.get) {
            (Some(name), Some(question), None) => Call::Post { path: format!("/v1/{name}"), question },
            (None, None, Some(path)) => Call::Get { path },
            _ => panic!("{}: a calculation with its request, or a path to get", self.id),
        };
        let title = if self.note.is_empty() { self.title } else { format!("{} ({})", self.title, self.note) };
        Case { id: self.id, title, call, expect: self.expect, source: self.source, differs: self.differs }
    }
}

pub fn data() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/data")
}

/// Every check of the files under `tests/data/outside/`.
pub fn all() -> Vec<Case> {
    let mut files: Vec<_> = fs::read_dir(data().join("outside")).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    let mut cases = Vec::new();
    for file in files {
        let text = fs::read_to_string(&file).unwrap();
        let written: Vec<Written> = serde_json::from_str(&text).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
        cases.extend(written.into_iter().map(Written::ready));
    }
    let mut seen = HashSet::new();
    assert!(cases.iter().all(|case| seen.insert(case.id.clone())), "two checks share an id");
    cases
}
