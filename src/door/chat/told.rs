//! What a chat client is told: the one sentence first, with the cautions that go with it, then the figures; or every fault, in words that alone suffice to mend the call.

use rmcp::model::{CallToolResult, ContentBlock};
use serde::{Serialize, Serializer};
use serde_json::{Map, Value};

use super::{shorten, tool};
use crate::door::problem::{self, Problem};
use crate::quantity::{Code, Fault};

/// How long an answer may be as texts, and as a structure, unless everything is asked for.
pub const SHORT: usize = 4096;
/// What the first text says already.
const SAID: [&str; 2] = ["summary", "cautions"];

/// A good answer.
pub struct Told {
    sentence: String,
    figures: Map<String, Value>,
}

impl Told {
    pub fn new(sentence: String, figures: Map<String, Value>) -> Self {
        Self { sentence, figures }
    }

    /// The figures stand twice, as the protocol asks: some clients hand their model only the texts, others only the structure.
    pub fn result(self) -> CallToolResult {
        let rest = serde_json::to_string(&Rest(&self.figures)).unwrap_or_default();
        let mut result = CallToolResult::success(vec![ContentBlock::text(self.sentence), ContentBlock::text(rest)]);
        result.structured_content = Some(Value::Object(self.figures));
        result
    }
}

/// The figures without what the first text says already.
struct Rest<'f>(&'f Map<String, Value>);

impl Serialize for Rest<'_> {
    fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
        out.collect_map(self.0.iter().filter(|(name, _)| !SAID.contains(&name.as_str())))
    }
}

/// The answer of a calculation, kept short unless it is wanted in full.
pub fn answer(bytes: &[u8], full: bool) -> Result<Told, Problem> {
    let Ok(mut figures) = serde_json::from_slice::<Map<String, Value>>(bytes) else {
        return Err(Problem::new(Code::OurFault, "an answer that cannot be told", "the same question again"));
    };
    let mut sentence = figures.get("summary").and_then(Value::as_str).unwrap_or("The figures follow").to_owned();
    if !sentence.ends_with('.') {
        sentence.push('.');
    }
    for caution in figures.get("cautions").and_then(Value::as_array).into_iter().flatten() {
        if let Some(text) = caution["text"].as_str() {
            sentence.push_str("\nCaution: ");
            sentence.push_str(text);
        }
    }
    if !full {
        // The structure has all that the texts have, and more signs: where it is short, they are.
        shorten::to_length(&mut figures, bytes.len(), SHORT);
    }
    Ok(Told::new(sentence, figures))
}

/// Why a call was not answered.
pub fn refusal(name: &str, problem: &Problem) -> CallToolResult {
    let mut result = CallToolResult::error(vec![ContentBlock::text(words(name, problem))]);
    let document = tool::in_chat_words(&String::from_utf8_lossy(&problem.body()));
    result.structured_content = serde_json::from_str(&document).ok();
    result
}

fn words(name: &str, problem: &Problem) -> String {
    let faults = problem.faults();
    let count = match faults.total() {
        1 => "1 fault".to_owned(),
        total => format!("{total} faults"),
    };
    let mut text = format!("Not answered: {count}. Mend the arguments and call {name} again.");
    for (at, fault) in faults.iter().enumerate() {
        text.push_str(&format!("\n{}. {}", at + 1, one(fault)));
    }
    let beyond = faults.total() - faults.iter().count();
    if beyond > 0 {
        text.push_str(&format!("\nand {beyond} more."));
    }
    tool::in_chat_words(&text)
}

fn one(fault: &Fault) -> String {
    let place = if fault.pointer.is_empty() { "The arguments" } else { &fault.pointer };
    format!("{place} ({}): {}", fault.code.as_str(), problem::told(fault, usize::MAX))
}
