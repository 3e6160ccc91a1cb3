//! The one tool for all tables: rows by their id or by words of their names. A table whole would flood a conversation, so that names come first and rows by asking.

use rmcp::model::JsonObject;
use serde_json::{Map, Value, json};

use super::{shorten, told};
use crate::door::House;
use crate::door::problem::Problem;
use crate::door::tables::{TABLES, Table};
use crate::quantity::{Code, Fault, Faults, Pointer, nearest, plain};

pub const NAME: &str = "look_up";
pub const TITLE: &str = "What do the tables know, and from where?";

const FIELDS: [&str; 3] = ["table", "query", "id"];
/// What others call the words that are looked for.
const OTHERWISE: [&str; 6] = ["q", "search", "text", "term", "name", "words"];
/// What names a row, in this order.
const KEYS: [&str; 3] = ["id", "shape", "product"];
/// What is kept of a row where there is room for names only.
const NAMES: [&str; 8] = ["id", "shape", "product", "stage", "name", "one", "title", "replaces"];
/// Where words are looked for.
const SEARCHED: [&str; 14] =
    ["id", "shape", "product", "stage", "name", "names", "one", "many", "ucum", "words", "title", "publisher", "region", "replaces"];

/// The last part of a table's path.
pub fn table_name(table: &Table) -> &'static str {
    table.path.rsplit('/').next().unwrap_or(table.path)
}

pub fn description() -> String {
    format!(
        "{TITLE} Reads the tables behind the answers: {}. With \"query\" the rows whose names have these words, with \"id\" one row whole \
         (of an ingredient: its names, composition, the weight of its cups, allergens), with neither the names of all rows. Use it for a name that a tool \
         did not accept, for what a source is, for the styles and their bounds. Not for a calculation: convert, pan_scale, batch and ratio_check look up by themselves.",
        names().collect::<Vec<_>>().join(", ")
    )
}

fn names() -> impl Iterator<Item = &'static str> + Clone {
    TABLES.iter().map(table_name)
}

pub fn question() -> JsonObject {
    let text = |told: &str, example: &str| json!({ "type": "string", "description": told, "maxLength": 200, "examples": [example] });
    let schema = json!({
        "type": "object",
        "description": "What is looked up.",
        "required": ["table"],
        "properties": {
            "table": { "type": "string", "enum": names().collect::<Vec<_>>(), "description": "The table." },
            "query": text("Words that the names of a row must have, all of them.", "brown sugar"),
            "id": text("The id of one row, as the tables and the answers give it.", "honey"),
        },
        "additionalProperties": false,
    });
    if let Value::Object(schema) = schema { schema } else { Map::new() }
}

/// What is asked, read.
struct Asked<'a> {
    table: &'static Table,
    query: Option<&'a str>,
    id: Option<&'a str>,
}

pub fn answer(house: &'static House, arguments: &JsonObject, full: bool) -> Result<told::Told, Problem> {
    let asked = read(arguments)?;
    let rows = rows(house, asked.table);
    let total = rows.len();
    let name = table_name(asked.table);
    let found = match (asked.id, asked.query) {
        (Some(id), _) => by_id(house, &asked, rows, id)?,
        (None, Some(words)) => match by_words(&rows, words)? {
            one if one.len() == 1 => by_id(house, &asked, rows, key(&one[0]))?,
            several => several,
        },
        (None, None) => rows,
    };
    let sentence = match (asked.id, asked.query) {
        (None, None) => format!("The table {name} has {total} rows."),
        _ => format!("{} of the {total} rows of the table {name}.", found.len()),
    };
    let mut figures = Map::new();
    figures.insert("table".to_owned(), json!(name));
    figures.insert("version".to_owned(), json!(house.reference.version));
    figures.insert("rows".to_owned(), Value::Array(found));
    if !full {
        fit(&mut figures, told::SHORT - sentence.len());
    }
    Ok(told::Told::new(sentence, figures))
}

fn read(arguments: &JsonObject) -> Result<Asked<'_>, Faults> {
    let mut faults = Faults::new();
    let root = Pointer::ROOT;
    for (name, value) in arguments {
        let at = root.key(name);
        if !FIELDS.contains(&name.as_str()) {
            let near = if OTHERWISE.contains(&name.as_str()) { vec!["query"] } else { nearest(name, FIELDS, 1) };
            faults.push(Fault::new(&at, Code::UnknownField, name.as_str(), "table, query, id, full").trying(near));
        } else if !value.is_string() && !value.is_null() {
            faults.push(Fault::new(&at, Code::WrongType, value.to_string(), "a text"));
        }
    }
    let text = |name: &str| arguments.get(name).and_then(Value::as_str).map(str::trim).filter(|text| !text.is_empty());
    let table = text("table").and_then(|wanted| TABLES.iter().find(|table| table_name(table) == wanted));
    let Some(table) = table else {
        let accepted = names().collect::<Vec<_>>().join(", ");
        faults.push(match text("table") {
            Some(other) => Fault::new(&root.key("table"), Code::UnknownWord, other, accepted).trying(nearest(other, names(), 3)),
            None => Fault::new(&root.key("table"), Code::MissingField, "no table", accepted).trying(names()),
        });
        return Err(faults);
    };
    faults.or(Asked { table, query: text("query"), id: text("id") })
}

/// The rows of a table, which stand under its one name.
fn rows(house: &House, table: &Table) -> Vec<Value> {
    let document: Value = serde_json::from_slice(house.tables.of(table.path)).unwrap_or_default();
    match document {
        Value::Object(members) => {
            members.into_iter().find_map(|(_, rows)| if let Value::Array(rows) = rows { Some(rows) } else { None }).unwrap_or_default()
        }
        _ => Vec::new(),
    }
}

fn key(row: &Value) -> &str {
    KEYS.iter().find_map(|key| row[*key].as_str()).unwrap_or_default()
}

/// One row whole; several where a key stands for several.
fn by_id(house: &'static House, asked: &Asked<'_>, rows: Vec<Value>, id: &str) -> Result<Vec<Value>, Problem> {
    if let Some(one) = &asked.table.one
        && let Ok(bytes) = (one.find)(house.reference, id)
    {
        return Ok(vec![serde_json::from_slice(&bytes).unwrap_or_default()]);
    }
    let (found, others): (Vec<Value>, Vec<Value>) = rows.into_iter().partition(|row| key(row) == id);
    if !found.is_empty() {
        return Ok(found);
    }
    // A name where an id belongs is as good, where it is just so the name of a row.
    let wanted = plain(id);
    let (named, others): (Vec<Value>, Vec<Value>) = others.into_iter().partition(|row| any_name(row, &|name| name == wanted));
    if !named.is_empty() {
        return Ok(named);
    }
    let near: Vec<String> = nearest(&wanted, others.iter().map(key), 5).into_iter().map(str::to_owned).collect();
    Err(unknown("id", id, "the id of a row; the words of a name go into \"query\"", near))
}

/// Rows whose names have all the words; those that are named just so come first.
fn by_words(rows: &[Value], words: &str) -> Result<Vec<Value>, Problem> {
    let wanted = plain(words);
    let mut found: Vec<(bool, &Value)> = rows
        .iter()
        .filter(|row| wanted.split(' ').all(|word| any_name(row, &|name| name.contains(word))))
        .map(|row| (!any_name(row, &|name| name == wanted), row))
        .collect();
    if found.is_empty() {
        return Err(unknown("query", words, "words that stand in the names of a row", near(rows, words)));
    }
    found.sort_by_key(|(other, _)| *other);
    Ok(found.into_iter().map(|(_, row)| row.clone()).collect())
}

fn any_name(row: &Value, fits: &dyn Fn(&str) -> bool) -> bool {
    SEARCHED.iter().any(|field| match &row[*field] {
        Value::String(name) => fits(&plain(name)),
        Value::Array(names) => names.iter().filter_map(Value::as_str).any(|name| fits(&plain(name))),
        _ => false,
    })
}

fn near(rows: &[Value], word: &str) -> Vec<String> {
    let others = |row: &'_ Value| ["names", "words"].map(|field| row[field].as_array().cloned().unwrap_or_default()).concat();
    let others: Vec<Value> = rows.iter().flat_map(others).collect();
    let known = rows.iter().flat_map(|row| [Some(key(row)), row["name"].as_str()]).flatten().chain(others.iter().filter_map(Value::as_str));
    nearest(&plain(word), known, 5).into_iter().map(str::to_owned).collect()
}

fn unknown(field: &str, found: &str, accepted: &str, near: Vec<String>) -> Problem {
    let advice = "Use fewer words, or ask for the table without words for all its names.";
    Fault::new(&Pointer::ROOT.key(field), Code::UnknownWord, found, accepted).saying(advice).trying(near).into()
}

/// Rows whole where there is room, or where there is only one; else their names; else as many names as there is room for.
fn fit(figures: &mut Map<String, Value>, most: usize) {
    let one = figures.get("rows").and_then(Value::as_array).is_some_and(|rows| rows.len() == 1);
    if one || shorten::length(figures) <= most {
        return;
    }
    let mut told = vec!["all but the names of the rows (ask by \"id\" for one whole)".to_owned()];
    let Some(Value::Array(rows)) = figures.get_mut("rows") else { return };
    for row in rows.iter_mut().filter_map(Value::as_object_mut) {
        row.retain(|name, _| NAMES.contains(&name.as_str()));
    }
    let total = rows.len();
    let mut room = most.saturating_sub(400);
    let kept = rows.iter().take_while(|row| take(&mut room, row.to_string().len() + 1)).count();
    rows.truncate(kept);
    if kept < total {
        told.push(format!("{} of the {total} rows (give words in \"query\")", total - kept));
    }
    let told: Vec<&str> = told.iter().map(String::as_str).collect();
    figures.insert(shorten::NOTE.to_owned(), shorten::note(&told));
}

fn take(room: &mut usize, length: usize) -> bool {
    let fits = length <= *room;
    *room = room.saturating_sub(length);
    fits
}
