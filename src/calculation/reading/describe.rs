//! What was found, in a baker's words: never the name of a type.

use super::forms::{is_line, like};
use super::node::{Node, Why};
use crate::quantity::{Code, Fault, Pointer, nearest};

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
        _ => as_written(node, known).unwrap_or_default(),
    };
    Why::Bare { found: found(node), accepted: in_braces(known), mend }
}

/// What to do with what a person writes where an object with these fields belongs.
pub fn as_written(node: &Node, known: &[&str]) -> Option<String> {
    let like = || like(known).map(|like| format!("Write it like {like}"));
    match node {
        Node::Text(text) if text.trim_start().starts_with(['{', '[']) => {
            Some("Send the object itself, and not a text that holds it.".to_owned())
        }
        Node::Text(_) | Node::List(_) if known.contains(&"parts") => {
            Some("Ask /v1/read first: it makes a formula of written lines, and that formula is what belongs here.".to_owned())
        }
        Node::Text(_) if is_line(known) => like().map(|like| like + "; /v1/read makes that of written lines."),
        Node::Text(_) | Node::Number { .. } => like().map(|like| like + "."),
        _ => None,
    }
}

/// A value of the wrong kind.
pub fn wrong_type(at: &Pointer<'_>, node: &Node, accepted: &str) -> Fault {
    let fault = Fault::new(at, Code::WrongType, found(node), accepted);
    match node {
        Node::Null => fault.saying("Leave the field out, or give it a value."),
        _ => fault,
    }
}

/// What is no text, where one belongs.
pub fn no_text(at: &Pointer<'_>, node: &Node) -> Fault {
    let fault = wrong_type(at, node, "a text in double quotes");
    match node {
        Node::List(_) => fault.saying("Send one text, its lines parted by \\n."),
        Node::Object(_) => fault.saying("Send the text alone, without braces."),
        Node::Number { .. } => fault.saying("Write it in double quotes."),
        _ => fault,
    }
}

/// What is no list, where one belongs.
pub fn no_list(at: &Pointer<'_>, node: &Node, accepted: &str) -> Fault {
    let fault = wrong_type(at, node, accepted);
    match node {
        Node::Text(text) if text.trim_start().starts_with(['{', '[']) => {
            fault.saying("Send the list itself, and not a text that holds it.")
        }
        Node::Text(_) | Node::Number { .. } | Node::Object(_) => fault.saying("Put it into brackets, each item by itself: [ … ]."),
        _ => fault,
    }
}

pub fn not_an_object(node: &Node) -> Fault {
    let fault = Fault::new(&Pointer::ROOT, Code::NotAnObject, found(node), "one JSON object");
    match node {
        Node::List(_) => fault.saying("Send one JSON object; a list of questions is a body by itself, and holds objects alone."),
        _ => fault,
    }
}

/// A field that there is none of, of an object with those that are known.
pub fn unknown_field(at: &Pointer<'_>, name: &str, known: &[&'static str], near: Vec<&str>) -> Fault {
    let fault = Fault::new(at, Code::UnknownField, name, listed(known));
    if !near.is_empty() {
        return fault.trying(near);
    }
    // Described are only those ingredients that no table knows: what goes in stands elsewhere.
    if known.contains(&"g_per_ml") {
        return fault.saying(
            "Here stand ingredients of your own, described; what goes in stands under parts: {\"parts\": [{\"name\": \"batter\", \"lines\": [{\"ingredient\": \"butter\", \"amount\": \"250 g\"}]}]}.",
        );
    }
    let like = like(known).map(|like| format!(" It is written like {like}."));
    fault.saying(["Use one of the fields named, or leave it out.", &like.unwrap_or_default()].concat())
}

/// An object with these fields, where they are known.
pub fn in_braces(known: &[&str]) -> String {
    match known {
        [] => "an object in braces".to_owned(),
        [only] => format!("an object in braces with the field {only}"),
        several => format!("an object in braces with fields such as {}", listed(several)),
    }
}

/// Which of a few words may be meant: those that are near, or else those that are cut short, as "au" is, or hold it as a word of theirs, as "small-stand" does "stand".
pub fn meant<'w>(text: &str, words: &[&'w str]) -> Vec<&'w str> {
    let lower = text.to_lowercase();
    let near = nearest(&lower, words.iter().copied(), 3);
    if !near.is_empty() || lower.len() < 2 {
        return near;
    }
    let holds = |word: &&str| word.starts_with(&*lower) || word.split('-').any(|part| part == lower);
    words.iter().copied().filter(holds).take(3).collect()
}

/// Words as a person lists them.
pub fn listed(words: &[&str]) -> String {
    match words {
        [] => "nothing".to_owned(),
        [only] => (*only).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}

/// How a text becomes the value it holds.
pub fn unquoted(text: &str) -> &'static str {
    if text.trim_end().ends_with('%') { "Write it without quotes and without the percent sign." } else { "Write it without quotes." }
}

/// Half a cake is half the formula.
pub fn in_part(fault: Fault, beside: &[&str]) -> Fault {
    if !beside.contains(&"factor") {
        return fault;
    }
    fault.saying("Whole ones are counted here; a part of the formula is asked for by `factor` in its place")
}
