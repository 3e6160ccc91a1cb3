//! What was found, in a baker's words: never the name of a type.

use super::node::{Node, Why};
use crate::quantity::nearest;

/// What stands there.
pub fn found(node: &Node) -> String {
    match node {
        Node::Null => "null".to_owned(),
        Node::Truth(truth) => truth.to_string(),
        Node::Number { written, .. } => written.chars().take(60).collect(),
        Node::Text(text) => format!("\"{}\"", text.chars().take(60).collect::<String>()),
        Node::List(items) if items.is_empty() => "an empty list".to_owned(),
        Node::List(items) => format!("a list of {}", items.len()),
        Node::Object(fields) if fields.is_empty() => "an empty object".to_owned(),
        Node::Object(_) => "an object".to_owned(),
        Node::Filled { .. } | Node::Unknown(_) => "nothing".to_owned(),
    }
}

/// A bare value where an object with these fields belongs. Where there is one field only, the value is what should stand in it.
pub fn bare(node: &Node, known: &[&str]) -> Why {
    let mend = match (node, known) {
        (Node::Text(text), [field]) if text.len() <= 60 => format!("Write {}.", serde_json::json!({ *field: text })),
        (Node::Null, _) => "Leave the field out, or give it a value.".to_owned(),
        _ => as_written(node, known).unwrap_or_default().to_owned(),
    };
    Why::Bare { found: found(node), accepted: in_braces(known), mend }
}

/// What to do with lines as a person writes them, where a formula or a line of one belongs.
pub fn as_written(node: &Node, known: &[&str]) -> Option<&'static str> {
    match node {
        Node::Text(_) | Node::List(_) if known.contains(&"parts") => {
            Some("Ask /v1/read first: it makes a formula of written lines, and that formula is what belongs here.")
        }
        Node::Text(_) if known.contains(&"ingredient") && known.contains(&"amount") => {
            Some("Write it like {\"ingredient\": \"butter\", \"amount\": \"250 g\"}; /v1/read makes that of written lines.")
        }
        Node::Text(_) | Node::Number { .. } if known.contains(&"pieces") && known.contains(&"factor") => {
            Some("Write it like {\"pieces\": 48} or {\"weight\": \"5 kg\"}.")
        }
        _ => None,
    }
}

/// An object with these fields, where they are known.
pub fn in_braces(known: &[&str]) -> String {
    match known {
        [] => "an object in braces".to_owned(),
        [only] => format!("an object in braces with the field {only}"),
        several => format!("an object in braces with fields such as {}", listed(several)),
    }
}

/// Which of a few words may be meant: those that are near, or else those that are cut short, as "au" is.
pub fn meant<'w>(text: &str, words: &[&'w str]) -> Vec<&'w str> {
    let lower = text.to_lowercase();
    let near = nearest(&lower, words.iter().copied(), 3);
    if !near.is_empty() || lower.len() < 2 {
        return near;
    }
    words.iter().copied().filter(|word| word.starts_with(&*lower)).take(3).collect()
}

/// Words as a person lists them.
pub fn listed(words: &[&str]) -> String {
    match words {
        [] => "nothing".to_owned(),
        [only] => (*only).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}
