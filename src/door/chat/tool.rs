//! The tools: one for each calculation and one for the tables. What a tool takes is cut out of the committed OpenAPI document, so that there is one description
//! of a question. What it gives is described there too, not here: an answer that is kept short has not every field, and the schemas would double the list.

use std::collections::BTreeSet;
use std::sync::{Arc, LazyLock};

use rmcp::model::{JsonObject, Tool, ToolAnnotations};
use serde_json::{Map, Value, json};

use super::look_up;
use crate::calculation::{CALCULATIONS, Entry};
use crate::door::problem::OF_THE_ADDRESS;
use crate::door::{openapi, tables};

/// The argument of every tool that is no field of its question.
pub const FULL: &str = "full";
/// Schemas that would fill the list, where a chat client reads what is folded away, and the calculations that need them whole: a pan is mostly said in words,
/// and what only some heed comes to the others along with a formula.
const FOLDED: &[(&str, &str, &[&str])] = &[
    ("Pan", "The shapes and their dimensions: look_up (table shapes).", &[]),
    ("Amount", "`value` is a number, `unit` a word of the kitchen or a UCUM code; see look_up (table units).", &[]),
    ("FinishWritten", "Only pan_scale reckons with it, and has its fields.", &["pan-scale"]),
    ("StageWritten", "Its fields: oven, minutes, note.", &["pan-scale"]),
    ("BakeWritten", "Its fields are those of pan_scale.", &["pan-scale", "card"]),
];
/// Limits that nobody who asks in good faith meets, and an error would name.
const LIMITS: [&str; 3] = ["minLength", "maxLength", "maxItems"];
const REFERENCE: &str = "#/components/schemas/";

/// All tools, in the order of the calculations. They are made when the first chat client asks.
pub fn all() -> &'static [Tool] {
    static TOOLS: LazyLock<Vec<Tool>> = LazyLock::new(made);
    &TOOLS
}

pub fn named(name: &str) -> Option<&'static Tool> {
    all().iter().find(|tool| tool.name == name)
}

/// The calculation behind a tool.
pub fn entry(name: &str) -> Option<&'static Entry> {
    CALCULATIONS.iter().find(|entry| name_of(entry) == name)
}

/// The tools as one document.
pub fn definitions() -> Vec<u8> {
    serde_json::to_vec(&json!({ "tools": all() })).unwrap_or_default()
}

/// Calculations by the names of their tools, and paths of tables as the tool that reads them: a chat client has no other way to either.
pub fn in_chat_words(text: &str) -> String {
    let text = tables_by_tool(text).replace(OF_THE_ADDRESS, "It is no argument of this tool: leave it out; full, true, gives the working.");
    let by_tool = CALCULATIONS.iter().fold(text, |text, entry| text.replace(entry.path(), &name_of(entry)));
    let named = CALCULATIONS.iter().filter(|entry| entry.name.contains('-'));
    named.fold(by_tool, |text, entry| text.replace(entry.name, &name_of(entry)))
}

fn tables_by_tool(text: &str) -> String {
    tables::TABLES.iter().fold(text.to_owned(), |text, table| {
        let spoken = format!("{} (table {})", look_up::NAME, look_up::table_name(table));
        text.replace(table.path, &spoken)
    })
}

fn name_of(entry: &Entry) -> String {
    entry.name.replace('-', "_")
}

fn made() -> Vec<Tool> {
    let text = tables_by_tool(&String::from_utf8_lossy(openapi::document()));
    let document: Value = serde_json::from_str(&text).unwrap_or_default();
    let calculations = CALCULATIONS.iter().map(|entry| {
        let stop = if entry.summary.ends_with('?') { "" } else { "." };
        let description = in_chat_words(&format!("{}{stop} {}", entry.summary, entry.description));
        tool(name_of(entry), entry.summary, description, question(&document, entry))
    });
    let tables = tool(look_up::NAME.to_owned(), look_up::TITLE, look_up::description(), look_up::question());
    calculations.chain([tables]).collect()
}

fn tool(name: String, title: &str, description: String, mut schema: JsonObject) -> Tool {
    let full = json!({
        "type": "boolean",
        "default": false,
        "description": "true gives everything, with the working, at any length. Without it the answer is kept short; no caution and no figure asked for is left out.",
    });
    if let Some(Value::Object(properties)) = schema.get_mut("properties") {
        properties.insert(FULL.to_owned(), full);
    }
    let hints = ToolAnnotations::with_title(title).read_only(true).destructive(false).idempotent(true).open_world(false);
    Tool::new(name, description, Arc::new(schema)).with_title(title).with_annotations(hints)
}

/// The schema of a question, standing by itself: its own object on top, all that it refers to under `$defs`.
fn question(document: &Value, entry: &Entry) -> JsonObject {
    let place = format!("/paths/{}/post/requestBody/content/application~1json/schema", entry.path().replace('/', "~1"));
    let schemas = &document["components"]["schemas"];
    let body = document.pointer(&place).cloned().unwrap_or_default();
    // A body is one question or a list of them; a tool takes one.
    let mut top = body["oneOf"].get(0).cloned().unwrap_or(body);
    if let Some(name) = top["$ref"].as_str().and_then(|reference| reference.strip_prefix(REFERENCE)) {
        top = schemas[name].clone();
    }
    let mut wanted = BTreeSet::new();
    rewrite(&mut top, &mut wanted);
    let defs = closure(schemas, wanted, entry);
    let Value::Object(mut top) = top else { return Map::new() };
    if !defs.is_empty() {
        top.insert("$defs".to_owned(), Value::Object(defs));
    }
    top
}

/// Every schema that is referred to, and those that it refers to in turn.
fn closure(schemas: &Value, mut wanted: BTreeSet<String>, entry: &Entry) -> JsonObject {
    let mut defs = Map::new();
    while let Some(name) = wanted.pop_first() {
        let mut schema = schemas[&name].clone();
        if let Some((_, advice, _)) = FOLDED.iter().find(|(folded, _, whole)| *folded == name && !whole.contains(&entry.name)) {
            fold(&mut schema, advice);
        }
        let mut more = BTreeSet::new();
        rewrite(&mut schema, &mut more);
        wanted.extend(more.into_iter().filter(|other| *other != name && !defs.contains_key(other)));
        defs.insert(name, schema);
    }
    defs
}

/// Leaves of an object, and of the forms that are objects, only their description, and where the rest is told.
fn fold(schema: &mut Value, advice: &str) {
    let forms = match schema.get_mut("oneOf") {
        Some(forms) => forms.as_array_mut().map_or(&mut [][..], Vec::as_mut_slice),
        None => std::slice::from_mut(schema),
    };
    for form in forms.iter_mut().filter_map(Value::as_object_mut).filter(|form| form.contains_key("properties")) {
        let told = form.get("description").and_then(Value::as_str).unwrap_or_default();
        let told = json!(format!("{told} {advice}"));
        form.retain(|name, _| name == "type");
        form.insert("description".to_owned(), told);
    }
}

/// Where an object has numbers and nothing else, many of them, their names and its own description say all.
fn shares(properties: &mut JsonObject) {
    const MANY: usize = 8;
    if properties.len() >= MANY && properties.values().all(|property| property["type"] == "number") {
        properties.values_mut().filter_map(Value::as_object_mut).for_each(|property| property.retain(|key, _| key == "type"));
    }
}

/// Turns the references of the document into those of a schema by itself, and notes them.
fn rewrite(schema: &mut Value, noted: &mut BTreeSet<String>) {
    match schema {
        Value::Object(members) => {
            // What only a generator of programs reads.
            members.retain(|key, value| !(value.is_string() && (key == "title" || key == "format")));
            members.retain(|key, value| !(value.is_number() && LIMITS.contains(&&**key)));
            if let Some(Value::Object(properties)) = members.get_mut("properties") {
                shares(properties);
            }
            for (key, value) in members {
                match value {
                    Value::String(reference) if key == "$ref" => {
                        if let Some(name) = reference.strip_prefix(REFERENCE) {
                            noted.insert(name.to_owned());
                            *reference = format!("#/$defs/{name}");
                        }
                    }
                    _ => rewrite(value, noted),
                }
            }
        }
        Value::Array(items) => items.iter_mut().for_each(|item| rewrite(item, noted)),
        _ => {}
    }
}
