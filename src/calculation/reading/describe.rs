//! What was found, in a baker's words: never the name of a type.

use super::node::Node;

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

/// Words as a person lists them.
pub fn listed(words: &[&str]) -> String {
    match words {
        [] => "nothing".to_owned(),
        [only] => (*only).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}
