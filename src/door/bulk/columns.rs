//! The columns of a table, read off the schemas of a flat calculation: its fields are the columns that may come, and of its answer all figures and texts that fit into a cell are the columns appended.

use std::sync::LazyLock;

use serde_json::Value;
use utoipa::openapi::RefOr;
use utoipa::openapi::schema::{ArrayItems, Object, Schema, SchemaType, Type};

use crate::calculation::{CALCULATIONS, Entry, Schemas};

/// What is appended where there is no answer: the code, and the sentence.
const PROBLEM: [&str; 2] = ["problem", "detail"];

/// The columns of one calculation.
pub struct Columns {
    pub fields: Vec<String>,
    results: Vec<Column>,
}

struct Column {
    name: String,
    member: String,
    part: Part,
}

/// What of a member of an answer goes into a cell.
enum Part {
    Whole,
    /// A member of it: the value, the unit.
    Inner(&'static str),
    /// This member of each item, one behind the other.
    Each(&'static str),
}

impl Columns {
    /// Those of a flat calculation.
    pub fn of(entry: &Entry) -> Option<&'static Self> {
        static ALL: LazyLock<Vec<(&str, Columns)>> =
            LazyLock::new(|| CALCULATIONS.iter().filter(|entry| entry.flat).map(|entry| (entry.name, Columns::read(entry))).collect());
        ALL.iter().find(|(name, _)| *name == entry.name).map(|(_, columns)| columns)
    }

    fn read(entry: &Entry) -> Self {
        let mut schemas = Schemas::new();
        let (question, answer) = (entry.question_schema(&mut schemas), entry.answer_schema(&mut schemas));
        let fields: Vec<String> = properties(&schemas, &question).into_iter().map(|(name, _)| name).collect();
        let mut results = Vec::new();
        // What the answer repeats of the question stands in the caller's own columns already.
        for (member, schema) in properties(&schemas, &answer).into_iter().filter(|(member, _)| !fields.contains(member)) {
            results.extend(parts(&schemas, &schema).into_iter().map(|(ending, part)| Column {
                name: if ending.is_empty() { member.clone() } else { format!("{member}_{ending}") },
                member: member.clone(),
                part,
            }));
        }
        Self { fields, results }
    }

    /// The names of the columns appended.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.results.iter().map(|column| column.name.as_str()).chain(PROBLEM)
    }

    /// The cells of an answer.
    pub fn answered(&self, answer: &Value) -> Vec<String> {
        self.results.iter().map(|column| column.cell(answer)).chain(PROBLEM.map(|_| String::new())).collect()
    }

    /// The cells where there is none.
    pub fn refused(&self, code: &str, detail: &str) -> Vec<String> {
        self.results.iter().map(|_| String::new()).chain([code.to_owned(), detail.to_owned()]).collect()
    }

    /// The cells beside a row in which nothing is asked.
    pub fn blank(&self) -> Vec<String> {
        self.refused("", "")
    }
}

/// The names and cells that an answer appends to its row, as a worked example shows them.
pub fn shown(entry: &Entry, answer: &Value) -> Vec<(String, String)> {
    let Some(columns) = Columns::of(entry) else { return Vec::new() };
    columns.names().map(str::to_owned).zip(columns.answered(answer)).collect()
}

impl Column {
    fn cell(&self, answer: &Value) -> String {
        let member = &answer[&self.member];
        match self.part {
            Part::Whole => written(member),
            Part::Inner(name) => written(&member[name]),
            Part::Each(name) => {
                let texts: Vec<String> = member.as_array().into_iter().flatten().map(|item| written(&item[name])).collect();
                if name == "text" { sentences(&texts) } else { texts.join(", ") }
            }
        }
    }
}

/// Texts one behind the other, each with its full stop where another follows.
fn sentences(texts: &[String]) -> String {
    texts.iter().fold(String::new(), |mut all, text| {
        if !all.is_empty() {
            all.push_str(if all.ends_with(['.', '!', '?']) { " " } else { ". " });
        }
        all + text
    })
}

/// A figure without a nought behind the point, a text as it is, nothing for what is not there.
fn written(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        Value::Number(number) => number.as_f64().map_or_else(|| number.to_string(), |figure| figure.to_string()),
        Value::Bool(truth) => truth.to_string(),
        _ => String::new(),
    }
}

fn named<'s>(schemas: &'s Schemas, schema: &'s RefOr<Schema>) -> Option<&'s Schema> {
    match schema {
        RefOr::T(schema) => Some(schema),
        RefOr::Ref(reference) => {
            let name = reference.ref_location.rsplit('/').next()?;
            schemas.iter().find(|(known, _)| known == name).and_then(|(_, schema)| named(schemas, schema))
        }
    }
}

/// The members of an object, its own before those that every answer carries.
fn properties(schemas: &Schemas, name: &str) -> Vec<(String, RefOr<Schema>)> {
    let of = |object: &Object| -> Vec<(String, RefOr<Schema>)> {
        object.properties.iter().map(|(name, schema)| (name.clone(), schema.clone())).collect()
    };
    match schemas.iter().find(|(known, _)| known == name).and_then(|(_, schema)| named(schemas, schema)) {
        Some(Schema::Object(object)) => of(object),
        Some(Schema::AllOf(all)) => {
            let (shared, own): (Vec<_>, Vec<_>) = all.items.iter().partition(|item| matches!(item, RefOr::Ref(_)));
            let objects = own.into_iter().chain(shared).filter_map(|item| named(schemas, item));
            objects.filter_map(|schema| if let Schema::Object(object) = schema { Some(of(object)) } else { None }).flatten().collect()
        }
        _ => Vec::new(),
    }
}

/// What of a member fits into cells, each with the ending of its column's name.
fn parts(schemas: &Schemas, schema: &RefOr<Schema>) -> Vec<(&'static str, Part)> {
    match named(schemas, schema) {
        Some(Schema::Object(object)) if is(object, &Type::Object) || !object.properties.is_empty() => {
            let figures = ["value", "percent", "unit", "text", "low", "high"];
            if !object.properties.contains_key("value") && !object.properties.contains_key("percent") {
                return Vec::new();
            }
            figures.into_iter().filter(|name| object.properties.contains_key(*name)).map(|name| (name, Part::Inner(name))).collect()
        }
        Some(Schema::Object(_)) => vec![("", Part::Whole)],
        Some(Schema::Array(array)) => {
            let ArrayItems::RefOrSchema(item) = &array.items else { return Vec::new() };
            let Some(Schema::Object(item)) = named(schemas, item) else { return Vec::new() };
            ["text", "id"]
                .into_iter()
                .find(|name| item.properties.contains_key(*name))
                .map(|name| ("", Part::Each(name)))
                .into_iter()
                .collect()
        }
        _ => Vec::new(),
    }
}

fn is(object: &Object, wanted: &Type) -> bool {
    match &object.schema_type {
        SchemaType::Type(kind) => kind == wanted,
        SchemaType::Array(kinds) => kinds.contains(wanted),
        SchemaType::AnyValue => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_in_one_cell_are_parted_by_full_stops() {
        let texts =
            ["Cups are those of the US".to_owned(), "It was not said. It is taken".to_owned(), "Hot!".to_owned(), "Begin".to_owned()];
        assert_eq!(sentences(&texts), "Cups are those of the US. It was not said. It is taken. Hot! Begin");
        assert_eq!(sentences(&texts[..1]), "Cups are those of the US");
    }

    #[test]
    fn every_flat_calculation_has_columns_that_come_and_columns_that_are_appended() {
        for entry in CALCULATIONS.iter().filter(|entry| entry.flat) {
            let columns = Columns::of(entry).expect("columns");
            assert!(!columns.fields.is_empty(), "{}", entry.name);
            let names: Vec<_> = columns.names().collect();
            assert!(["summary", "assumptions", "cautions", "problem", "detail"].iter().all(|name| names.contains(name)), "{names:?}");
            assert!(names.iter().all(|name| !columns.fields.iter().any(|field| field == name)), "{names:?}");
        }
        let convert = Entry::named("convert").and_then(Columns::of).expect("columns");
        let first: Vec<_> = convert.names().take(5).collect();
        assert_eq!(first, ["result_value", "result_unit", "result_text", "result_low", "result_high"]);
    }
}
