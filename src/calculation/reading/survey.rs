//! Faults that need no knowledge of the question: a field written twice, a list or a text too long, a number beyond all numbers.

use std::collections::HashSet;

use super::node::{Node, Why};
use super::{ITEMS, LONG_TEXT, TEXT};
use crate::quantity::{Code, Fault, Faults, Pointer};

/// Finds them all; each is mended in the tree, so that reading goes on.
pub fn survey(tree: &mut Node) -> Faults {
    let mut faults = Faults::new();
    walk(tree, &Pointer::ROOT, "", &mut faults);
    faults
}

fn walk(node: &mut Node, at: &Pointer<'_>, key: &str, faults: &mut Faults) {
    match node {
        Node::Object(fields) => object(fields, at, faults),
        Node::List(items) => {
            if items.len() > ITEMS {
                faults.push(Fault::new(at, Code::TooMany, format!("a list of {}", items.len()), format!("at most {ITEMS} items")));
                items.truncate(1);
            }
            for (index, item) in items.iter_mut().enumerate() {
                walk(item, &at.index(index), key, faults);
            }
        }
        Node::Text(text) => {
            let most = if key == "text" { LONG_TEXT } else { TEXT };
            let length = if text.len() > most { text.chars().count() } else { 0 };
            if length > most {
                faults.push(Fault::new(
                    at,
                    Code::TextTooLong,
                    format!("a text of {length} characters"),
                    format!("at most {most} characters"),
                ));
                *node = Node::Filled { why: Why::Told, fields: Vec::new() };
            }
        }
        Node::Number { written, value } if !value.is_finite() => {
            let found = std::mem::take(written);
            faults.push(
                Fault::new(at, Code::OutOfRange, found, "a figure up to 1000000000")
                    .saying("The figure is too large for any kitchen; write a smaller one."),
            );
            *node = Node::Filled { why: Why::Told, fields: Vec::new() };
        }
        _ => {}
    }
}

/// Of fields that stand twice the first is kept.
fn object(fields: &mut Vec<(String, Node)>, at: &Pointer<'_>, faults: &mut Faults) {
    let mut seen: HashSet<String> = HashSet::with_capacity(fields.len());
    fields.retain(|(name, _)| {
        let new = seen.insert(name.clone());
        if !new {
            let shown: String = name.chars().take(60).collect();
            faults.push(Fault::new(&at.key(&shown), Code::RepeatedField, format!("\"{shown}\" a second time"), "each field once"));
        }
        new
    });
    for (name, node) in fields.iter_mut() {
        walk(node, &at.key(name), name, faults);
    }
}
