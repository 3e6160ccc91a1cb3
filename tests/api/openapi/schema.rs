//! Whether a value is of the shape that a schema promises: the part of JSON Schema that the document uses, read strictly.

use serde_json::Value;

use super::lint::is;

/// Adds what is wrong with a value.
pub fn check(document: &Value, schema: &Value, value: &Value, place: &str, faults: &mut Vec<String>) {
    if let Some(reference) = schema["$ref"].as_str() {
        let target = document.pointer(&reference[1..]).unwrap_or(&Value::Null);
        check(document, target, value, place, faults);
    }
    let fits = schema.get("type").is_none_or(|_| kinds(value).iter().any(|kind| is(schema, kind)));
    if !fits {
        faults.push(format!("{place}: {value} is not of type {}", schema["type"]));
        return;
    }
    choices(document, schema, value, place, faults);
    leaf(schema, value, place, faults);
    if let Some(object) = value.as_object() {
        for name in schema["required"].as_array().into_iter().flatten().filter_map(Value::as_str).filter(|name| !object.contains_key(*name))
        {
            faults.push(format!("{place}: \"{name}\" is missing"));
        }
        for (name, value) in object {
            let place = format!("{place}/{name}");
            match (schema["properties"].get(name), &schema["additionalProperties"]) {
                (Some(own), _) => check(document, own, value, &place, faults),
                (None, Value::Bool(false)) => faults.push(format!("{place}: not allowed")),
                (None, other) => check(document, other, value, &place, faults),
            }
        }
    }
    for (index, item) in value.as_array().into_iter().flatten().enumerate() {
        check(document, &schema["items"], item, &format!("{place}/{index}"), faults);
    }
}

fn choices(document: &Value, schema: &Value, value: &Value, place: &str, faults: &mut Vec<String>) {
    for part in schema["allOf"].as_array().into_iter().flatten() {
        check(document, part, value, place, faults);
    }
    for (key, exactly) in [("oneOf", true), ("anyOf", false)] {
        let Some(parts) = schema[key].as_array() else { continue };
        let tried: Vec<Vec<String>> = parts
            .iter()
            .map(|part| {
                let mut own = Vec::new();
                check(document, part, value, place, &mut own);
                own
            })
            .collect();
        let fitting = tried.iter().filter(|own| own.is_empty()).count();
        if fitting == 0 || (exactly && fitting != 1) {
            faults.push(format!("{place}: fits {fitting} of {key}: {tried:?}"));
        }
    }
}

fn leaf(schema: &Value, value: &Value, place: &str, faults: &mut Vec<String>) {
    let mut hold = |kept: bool, rule: &str| {
        if !kept {
            faults.push(format!("{place}: {value} breaks {rule} {}", schema[rule]));
        }
    };
    let bound = |rule: &str| schema[rule].as_f64();
    hold(schema["enum"].as_array().is_none_or(|words| words.contains(value)), "enum");
    hold(schema.get("const").is_none_or(|only| only == value), "const");
    if let Some(number) = value.as_f64() {
        hold(bound("minimum").is_none_or(|least| least <= number), "minimum");
        hold(bound("maximum").is_none_or(|most| number <= most), "maximum");
        hold(bound("exclusiveMinimum").is_none_or(|least| least < number), "exclusiveMinimum");
        hold(bound("exclusiveMaximum").is_none_or(|most| number < most), "exclusiveMaximum");
    }
    if let Some(text) = value.as_str() {
        let length = text.chars().count() as f64;
        hold(bound("minLength").is_none_or(|least| least <= length), "minLength");
        hold(bound("maxLength").is_none_or(|most| length <= most), "maxLength");
    }
    if let Some(items) = value.as_array() {
        hold(bound("minItems").is_none_or(|least| least <= items.len() as f64), "minItems");
        hold(bound("maxItems").is_none_or(|most| items.len() as f64 <= most), "maxItems");
    }
}

fn kinds(value: &Value) -> &'static [&'static str] {
    match value {
        Value::Null => &["null"],
        Value::Bool(_) => &["boolean"],
        Value::Number(number) if number.as_f64().is_some_and(|n| n.fract() == 0.0) => &["number", "integer"],
        Value::Number(_) => &["number"],
        Value::String(_) => &["string"],
        Value::Array(_) => &["array"],
        Value::Object(_) => &["object"],
    }
}
