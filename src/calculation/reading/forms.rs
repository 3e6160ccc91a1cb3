//! How objects are written that callers often write otherwise. Of an object that is wanted nothing is known but its fields: by some of them each is told from all others.

/// One kind of object.
struct Form {
    /// All of these are among its fields.
    with: &'static [&'static str],
    /// None of these is.
    without: &'static [&'static str],
    written: &'static str,
}

const fn form(with: &'static [&'static str], without: &'static [&'static str], written: &'static str) -> Form {
    Form { with, without, written }
}

/// A line of a formula.
const LINE: &Form = &form(&["ingredient", "amount"], &["to", "price"], r#"{"ingredient": "butter", "amount": "250 g"}"#);

const FORMS: &[&Form] = &[
    &form(&["parts"], &[], r#"{"parts": [{"name": "batter", "lines": [{"ingredient": "butter", "amount": "250 g"}]}]}"#),
    &form(&["lines", "into"], &[], r#"{"name": "batter", "lines": [{"ingredient": "butter", "amount": "250 g"}]}"#),
    &form(&["ingredient", "price"], &[], r#"{"ingredient": "butter", "amount": "1 kg", "price": 9.5}"#),
    &form(&["ingredient", "percent"], &["on_hand"], r#"{"ingredient": "water", "percent": 68}"#),
    LINE,
    &form(&["pieces", "factor"], &[], r#"{"pieces": 48} or {"weight": "5 kg"}"#),
    &form(&["weight", "loss"], &[], r#"{"weight": "2 kg"}"#),
    &form(&["pieces", "each"], &[], r#"{"pieces": 12}"#),
    &form(&["with", "on_hand"], &[], r#"{"ingredient": "butter", "with": "vegetable oil"}"#),
    &form(&["replace", "rounding"], &[], r#"{"replace": {"ingredient": "butter", "with": "vegetable oil"}}"#),
    &form(&["to", "weighed"], &[], r#"{"to": "medium"}"#),
    &form(&["to", "dial"], &[], r#"{"to": "fan"}"#),
    &form(&["prefermented_flour"], &[], r#"{"part": "poolish", "prefermented_flour": 30, "hydration": 100}"#),
    &form(&["desired", "friction"], &[], r#"{"desired": "25 C", "room": "22 C", "flour": "20 C", "friction": "14 Celsius degrees"}"#),
    &form(&["minutes", "then"], &[], r#"{"oven": "220 C", "minutes": 15, "then": [{"oven": "180 C", "minutes": 30}]}"#),
    &form(&["oven", "minutes"], &["then"], r#"{"oven": "180 C", "minutes": 30}"#),
    &form(&["muffin-tray"], &[], r#"{"round": {"diameter": "9 in", "depth": "2 in"}}, or "9 inch round, 2 inches deep""#),
    &form(&["amount", "to_oven"], &[], r#"{"amount": "2 cups", "ingredient": "flour", "to": "g"}"#),
    &form(&["from", "keep"], &[], r#"{"from": "9 inch round", "to": "8 inch square"}"#),
    &form(&["text", "lines"], &[], r#"{"text": "250 g flour\n2 eggs"}"#),
];

impl Form {
    fn is_of(&self, fields: &[&str]) -> bool {
        self.with.iter().all(|field| fields.contains(field)) && !self.without.iter().any(|field| fields.contains(field))
    }
}

/// An object with these fields as it is written, if it is often written otherwise.
pub fn like(fields: &[&str]) -> Option<&'static str> {
    FORMS.iter().find(|form| form.is_of(fields)).map(|form| form.written)
}

/// Whether an object with these fields is a line of a formula.
pub fn is_line(fields: &[&str]) -> bool {
    LINE.is_of(fields)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use serde_json::{Map, Value};

    use super::*;

    /// Adds the schemas that are referred to, with those that they refer to.
    fn refer(value: &Value, schemas: &Value, found: &mut BTreeSet<String>) {
        match value {
            Value::Object(members) => {
                if let Some(name) = members.get("$ref").and_then(Value::as_str).and_then(|path| path.rsplit('/').next())
                    && found.insert(name.to_owned())
                {
                    refer(&schemas[name], schemas, found);
                }
                members.values().for_each(|member| refer(member, schemas, found));
            }
            Value::Array(items) => items.iter().for_each(|item| refer(item, schemas, found)),
            _ => {}
        }
    }

    /// The objects that questions are made of, each as its fields.
    fn objects() -> Vec<(String, Vec<String>)> {
        let document: Value = serde_json::from_slice(include_bytes!("../../../openapi/openapi.json")).expect("the document");
        let (schemas, mut asked) = (&document["components"]["schemas"], BTreeSet::new());
        for path in document["paths"].as_object().expect("paths").values() {
            refer(&path["post"]["requestBody"], schemas, &mut asked);
        }
        asked.iter().map(|name| (name.clone(), fields(&schemas[name]))).collect()
    }

    /// The fields that an object has, or may have one of.
    fn fields(schema: &Value) -> Vec<String> {
        let own = schema["properties"].as_object().into_iter().flat_map(Map::keys).cloned();
        let kinds = ["oneOf", "anyOf", "allOf"].into_iter().filter_map(|kinds| schema[kinds].as_array()).flatten();
        own.chain(kinds.flat_map(fields)).collect()
    }

    #[test]
    fn each_form_has_fields_that_its_object_has() {
        let mut found = BTreeSet::new();
        for (name, fields) in objects() {
            let fields: Vec<&str> = fields.iter().map(String::as_str).collect();
            let Some(written) = like(&fields) else { continue };
            found.insert(written);
            let mut objects = serde_json::Deserializer::from_str(written).into_iter::<Map<String, Value>>();
            let first = objects.next().and_then(Result::ok).expect("an object");
            assert!(first.keys().all(|field| fields.contains(&field.as_str())), "{name} is written like {written}");
        }
        for form in FORMS {
            assert!(found.contains(form.written), "no object of the document is written like {}", form.written);
        }
    }
}
