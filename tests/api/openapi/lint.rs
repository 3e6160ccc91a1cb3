//! What a good document keeps to: everything described, bounded, shown and resolved. Each rule gives the places where it is broken.

use std::collections::BTreeSet;

use serde_json::Value;

const METHODS: [&str; 4] = ["get", "put", "post", "delete"];
/// Words of programs, and words that belittle the reader.
const BANNED: &[&str] =
    &["struct", "enum", "f64", "serde", "usize", "i32", "u32", "Option", "Vec", "deserialize", "simply", "obviously", "just"];

fn members(value: &Value) -> impl Iterator<Item = (&str, &Value)> {
    value.as_object().into_iter().flatten().map(|(key, value)| (key.as_str(), value))
}

fn text<'v>(value: &'v Value, key: &str) -> &'v str {
    value[key].as_str().unwrap_or_default()
}

/// Every operation with its place.
fn each_operation(document: &Value) -> Vec<(String, &Value)> {
    members(&document["paths"])
        .flat_map(|(path, item)| members(item).map(move |(method, operation)| (path, method, operation)))
        .filter(|(_, method, _)| METHODS.contains(method))
        .map(|(path, method, operation)| (format!("{method} {path}"), operation))
        .collect()
}

/// Every body with its place: of requests, of answers and of the shared refusals.
pub fn contents(document: &Value) -> Vec<(String, &Value)> {
    let mut found = Vec::new();
    for (place, operation) in each_operation(document) {
        push_contents(&mut found, &format!("{place} request"), &operation["requestBody"]);
        for (status, response) in members(&operation["responses"]) {
            push_contents(&mut found, &format!("{place} {status}"), response);
        }
    }
    for (name, response) in members(&document["components"]["responses"]) {
        push_contents(&mut found, name, response);
    }
    found
}

fn push_contents<'v>(found: &mut Vec<(String, &'v Value)>, place: &str, holder: &'v Value) {
    found.extend(members(&holder["content"]).map(|(kind, content)| (format!("{place} {kind}"), content)));
}

/// Names, texts, tags, examples and refusals of every operation.
pub fn operations(document: &Value) -> Vec<String> {
    let mut faults = Vec::new();
    let tags: BTreeSet<_> = document["tags"]
        .as_array()
        .into_iter()
        .flatten()
        .filter(|tag| !text(tag, "description").is_empty())
        .map(|tag| text(tag, "name"))
        .collect();
    let mut names = BTreeSet::new();
    for (place, operation) in each_operation(document) {
        let mut say = |what: &str| faults.push(format!("{place}: {what}"));
        let id = text(operation, "operationId");
        let plain = id.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_');
        if !plain || !id.contains('_') {
            say("the operationId is no verb and noun in snake case");
        }
        if !names.insert(id) {
            say("the operationId stands twice");
        }
        if text(operation, "summary").is_empty() || text(operation, "summary").chars().count() > 60 {
            say("the summary is missing or longer than 60 characters");
        }
        if !(20..=1024).contains(&text(operation, "description").chars().count()) {
            say("the description is shorter than 20 or longer than 1024 characters");
        }
        if !operation["tags"].as_array().is_some_and(|own| own.iter().all(|tag| tags.contains(tag.as_str().unwrap_or_default()))) {
            say("a tag is missing or not described");
        }
        let asked = operation.get("requestBody").is_some();
        let wanted: &[&str] =
            if asked { &["200", "400", "405", "406", "408", "413", "415", "422", "503"] } else { &["200", "400", "405", "406", "503"] };
        for status in wanted.iter().filter(|status| operation["responses"].get(**status).is_none()) {
            say(&format!("the answer {status} is missing"));
        }
        for (name, parameter) in operation["parameters"].as_array().into_iter().flatten().map(|p| (text(p, "name"), p)) {
            if text(parameter, "description").is_empty() {
                say(&format!("the parameter {name} is not described"));
            }
        }
        for (status, response) in members(&operation["responses"]) {
            if response.get("$ref").is_none() && text(response, "description").is_empty() {
                say(&format!("the answer {status} is not described"));
            }
        }
    }
    for (place, content) in contents(document) {
        if content.get("example").is_none() && content.get("examples").is_none() {
            faults.push(format!("{place}: no example"));
        }
    }
    faults
}

/// Every `$ref` that leads nowhere.
pub fn references(document: &Value) -> Vec<String> {
    let mut faults = Vec::new();
    each_value(document, "", &mut |place, value| {
        if let Some(reference) = value.get("$ref").and_then(Value::as_str)
            && reference.strip_prefix('#').and_then(|pointer| document.pointer(pointer)).is_none()
        {
            faults.push(format!("{place}: {reference}"));
        }
    });
    faults
}

/// Texts with a banned word.
pub fn words(document: &Value) -> Vec<String> {
    let mut faults = Vec::new();
    each_value(document, "", &mut |place, value| {
        for key in ["description", "summary", "title"] {
            let Some(text) = value.get(key).and_then(Value::as_str) else { continue };
            let found = text.split(|c: char| !c.is_alphanumeric()).find(|word| BANNED.contains(word));
            faults.extend(found.map(|word| format!("{place}/{key}: the word \"{word}\"")));
        }
    });
    faults
}

fn each_value(value: &Value, place: &str, visit: &mut impl FnMut(&str, &Value)) {
    visit(place, value);
    match value {
        Value::Object(object) => object.iter().for_each(|(key, value)| each_value(value, &format!("{place}/{key}"), visit)),
        Value::Array(items) => items.iter().enumerate().for_each(|(index, value)| each_value(value, &format!("{place}/{index}"), visit)),
        _ => {}
    }
}

/// The rules of all schemas; and how many properties were read.
pub fn schemas(document: &Value) -> (Vec<String>, usize) {
    let mut reader = Reader { document, faults: Vec::new(), properties: 0, asked: false };
    let asked = asked(document);
    for (name, schema) in members(&document["components"]["schemas"]) {
        reader.asked = asked.contains(name);
        if text(schema, "description").is_empty() && schema.get("allOf").is_none() {
            reader.faults.push(format!("{name}: not described"));
        }
        reader.schema(name, schema, is(schema, "number"));
    }
    for (place, operation) in each_operation(document) {
        for parameter in operation["parameters"].as_array().into_iter().flatten() {
            reader.asked = true;
            reader.schema(&format!("{place} {}", text(parameter, "name")), &parameter["schema"], false);
        }
    }
    (reader.faults, reader.properties)
}

/// The schemas that a question can be made of.
fn asked(document: &Value) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut open: Vec<&Value> = each_operation(document).into_iter().map(|(_, operation)| &operation["requestBody"]["content"]).collect();
    while let Some(value) = open.pop() {
        let mut names = Vec::new();
        each_value(value, "", &mut |_, value| names.extend(value.get("$ref").and_then(Value::as_str).map(str::to_owned)));
        for reference in names {
            let name = reference.rsplit('/').next().unwrap_or_default().to_owned();
            if found.insert(name.clone()) {
                open.push(&document["components"]["schemas"][name]);
            }
        }
    }
    found
}

struct Reader<'d> {
    document: &'d Value,
    faults: Vec<String>,
    properties: usize,
    /// Whether the schema is part of a question: then its objects are closed.
    asked: bool,
}

impl Reader<'_> {
    fn say(&mut self, place: &str, what: &str) {
        self.faults.push(format!("{place}: {what}"));
    }

    fn schema(&mut self, place: &str, schema: &Value, measured: bool) {
        // A named number has its bounds, or its unit, where it is used.
        let named = schema.get("$ref").and_then(Value::as_str).and_then(|reference| self.document.pointer(&reference[1..]));
        if let Some(number) = named.filter(|named| is(named, "number") || is(named, "integer")) {
            self.schema(place, number, measured);
        }
        if is(schema, "number") || is(schema, "integer") {
            let bounded = (schema.get("minimum").is_some() || schema.get("exclusiveMinimum").is_some())
                && (schema.get("maximum").is_some() || schema.get("exclusiveMaximum").is_some());
            if !bounded && !measured {
                self.say(place, "a number without bounds, and no unit beside it");
            }
        }
        // A list of sentences in an answer is bounded by its number of sentences.
        let sentence = !self.asked && place.ends_with("[]");
        if is(schema, "string") && !sentence && ["maxLength", "enum", "pattern", "const"].iter().all(|key| schema.get(key).is_none()) {
            self.say(place, "a text without a greatest length, a pattern or a list of words");
        }
        if is(schema, "array") {
            if schema.get("maxItems").is_none() {
                self.say(place, "a list without a greatest length");
            }
            self.schema(&format!("{place}[]"), &schema["items"], measured);
        }
        for word in schema["enum"].as_array().into_iter().flatten().filter_map(Value::as_str) {
            if !text(schema, "description").contains(&format!("`{word}`")) {
                self.say(place, &format!("the word \"{word}\" is not described"));
            }
        }
        for key in ["oneOf", "anyOf", "allOf"] {
            for (index, part) in schema[key].as_array().into_iter().flatten().enumerate() {
                self.schema(&format!("{place}.{key}[{index}]"), part, measured);
            }
        }
        if let Some(values) = schema.get("additionalProperties").filter(|values| values.is_object()) {
            self.schema(&format!("{place}.*"), values, measured);
        }
        self.object(place, schema);
    }

    fn object(&mut self, place: &str, schema: &Value) {
        if self.asked && is(schema, "object") && schema.get("additionalProperties").is_none() {
            self.say(place, "an object of a question that is not closed");
        }
        let properties = &schema["properties"];
        let unit = ["unit", "percent"].iter().any(|name| properties.get(name).is_some());
        for (name, property) in members(properties) {
            self.properties += 1;
            let place = format!("{place}.{name}");
            if !self.described(property) {
                self.say(&place, "not described");
            }
            let telling = ["percent", "factor", "count"].iter().any(|word| name.contains(word));
            self.schema(&place, property, unit || telling);
        }
        for name in schema["required"].as_array().into_iter().flatten().filter_map(Value::as_str) {
            if properties.get(name).is_none() {
                self.say(place, &format!("\"{name}\" is required and does not exist"));
            }
        }
    }

    /// A reference is described by itself or by what it leads to.
    fn described(&self, schema: &Value) -> bool {
        let target = schema.get("$ref").and_then(Value::as_str).and_then(|reference| self.document.pointer(&reference[1..]));
        !text(schema, "description").is_empty() || target.is_some_and(|target| self.described(target))
    }
}

/// Whether a schema is of this kind; with a kind "null" beside it too.
pub fn is(schema: &Value, kind: &str) -> bool {
    match &schema["type"] {
        Value::String(own) => own == kind,
        Value::Array(kinds) => kinds.iter().any(|own| own == kind),
        _ => false,
    }
}
