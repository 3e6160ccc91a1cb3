//! What was found, in a baker's words: never the name of a type.

use super::node::{Node, Why};

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
        _ => String::new(),
    };
    Why::Bare { found: found(node), accepted: in_braces(known), mend }
}

/// An object with these fields, where they are known.
pub fn in_braces(known: &[&str]) -> String {
    match known {
        [] => "an object in braces".to_owned(),
        [only] => format!("an object in braces with the field {only}"),
        several => format!("an object in braces with fields such as {}", listed(several)),
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
