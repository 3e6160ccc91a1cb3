//! Keeps an answer short for a reader who pays by the word: what is dear and seldom asked goes first, the figures asked for and the cautions never. It stands apart
//! because the list of what may go, and in which order, is a judgement.

use serde_json::{Map, Value};

/// Where a cut is made: on the members of a whole answer. It says how many bytes of JSON it took.
type Make = fn(&mut Map<String, Value>) -> usize;

/// What may be left out, in this order, and how it is told.
const CUTS: &[(&str, Make)] = &[
    ("the working", |answer| taken(answer, &["working"])),
    ("the titles of the sources (look_up has them)", source_titles),
    ("the spans of amounts in lists", |answer| in_lists(answer, without_span)),
    ("where in the question a line stands", |answer| in_lists(answer, |line| taken_beside(line, "ingredient", "pointer"))),
    ("why the rules that hold are there", |answer| held_rules(answer, &["why", "counted", "basis", "source"])),
    ("the rules whose verdict a change left as it was", same_verdicts),
    ("the lines that were only rounded (the formula has them)", only_rounded),
    ("the eggs, places, ranges and sources of the changes", |answer| in_changes(answer, &["eggs", "pointer", "range", "source"])),
    ("why each change was made", |answer| in_changes(answer, &["why", "off_percent"])),
    ("the spans of the percentages and the composition", spans_of_shares),
    ("the areas of the pans", |answer| ["from", "to"].into_iter().map(|pan| inside(answer, pan, &["top_area", "side_area"])).sum()),
    ("how the bake was estimated", |answer| inside(answer, "bake", &["model"])),
    ("amounts in lists as numbers (their texts stay)", |answer| in_lists(answer, as_text)),
    ("the nutrients of the whole (those of a serving stay)", |answer| in_lists(answer, |nutrient| taken_beside(nutrient, "each", "whole"))),
    ("the figures of the declaration before rounding", |answer| {
        in_lists(answer, |row| {
            taken_beside(row, "declared_per_100g", "per_100g") + taken_beside(row, "declared_per_portion", "per_portion")
        })
    }),
    ("the nutrients as the US rounds them (the declaration has them)", |answer| {
        if answer.contains_key(DECLARATION) { taken(answer, &["nutrition"]) } else { 0 }
    }),
    ("what each line costs", |answer| in_lists(answer, |line| taken_beside(line, "ingredient", "cost"))),
    ("the nutrients (the document has them)", |answer| if answer.contains_key(ASKED_FOR) { taken(answer, &["nutrition"]) } else { 0 }),
    ("the declaration (the document has it)", declaration_laid_out),
    ("the declaration of a portion (that of 100 g stays)", |answer| {
        in_lists(answer, |row| taken_beside(row, "declared_per_100g", "declared_per_portion"))
    }),
    ("the formula as a whole (the batches have its amounts)", whole_formula),
    ("the lines that were understood (the formula has them)", understood),
    ("the figures of the rules that hold", |answer| held_rules(answer, &["measured", "measured_by_fat", "low", "high"])),
];

/// Lists whose every word is for the person, and the later stages of a bake, whose minutes are as much asked for as those of the first: nothing is taken from
/// them here.
const UNTOUCHED: &[&str] = &["cautions", "assumptions", "findings", "then"];

/// What is answered only to who asked for it by name, at whatever length: a page, a file.
const ASKED_FOR: &str = "document";

/// What the EU and the United Kingdom have declared; only who asks for it gets it.
const DECLARATION: &str = "nutrition_declaration";

/// Cuts an answer of so many bytes until it is no longer than this; notes in it what was left out and how to get it. Figures are never given up: a very long formula stays long.
pub fn to_length(answer: &mut Map<String, Value>, mut length: usize, most: usize) {
    let most = most + answer.get(ASKED_FOR).map_or(0, length_of);
    let mut left_out = Vec::new();
    for (told, make) in CUTS {
        let told_too = if left_out.is_empty() { 0 } else { length_of(&note(&left_out)) + NOTE.len() + 4 };
        if length + told_too <= most {
            break;
        }
        let cut = make(answer);
        if cut > 0 {
            length -= cut.min(length);
            left_out.push(*told);
        }
    }
    if !left_out.is_empty() {
        answer.insert(NOTE.to_owned(), note(&left_out));
    }
}

/// The member that tells what is missing.
pub const NOTE: &str = "left_out";

/// What a reader is told of what is missing.
pub fn note(left_out: &[&str]) -> Value {
    Value::String(format!("{}. Call again with \"full\": true for everything.", left_out.join("; ")))
}

/// How long the members are as JSON.
pub fn length(answer: &Map<String, Value>) -> usize {
    serde_json::to_vec(answer).map_or(0, |bytes| bytes.len())
}

fn length_of(value: &Value) -> usize {
    serde_json::to_vec(value).map_or(0, |bytes| bytes.len())
}

/// Takes members out; gives the bytes they had, with their names and the signs between.
fn taken(members: &mut Map<String, Value>, names: &[&str]) -> usize {
    names.iter().filter_map(|name| members.shift_remove(*name).map(|value| length_of(&value) + name.len() + 4)).sum()
}

/// Takes a member out of an object that has this other one.
fn taken_beside(value: &mut Value, other: &str, name: &str) -> usize {
    value.as_object_mut().filter(|members| members.contains_key(other)).map_or(0, |members| taken(members, &[name]))
}

fn inside(answer: &mut Map<String, Value>, member: &str, names: &[&str]) -> usize {
    answer.get_mut(member).and_then(Value::as_object_mut).map_or(0, |members| taken(members, names))
}

fn source_titles(answer: &mut Map<String, Value>) -> usize {
    let Some(Value::Array(sources)) = answer.get_mut("sources") else { return 0 };
    let mut cut = 0;
    for source in sources {
        if let Some(id) = source.get("id").cloned() {
            cut += length_of(source).saturating_sub(length_of(&id));
            *source = id;
        }
    }
    cut
}

fn held_rules(answer: &mut Map<String, Value>, names: &[&str]) -> usize {
    let Some(Value::Array(findings)) = answer.get_mut("findings") else { return 0 };
    let held = findings.iter_mut().filter_map(Value::as_object_mut);
    held.filter(|finding| finding.get("verdict").is_some_and(|verdict| verdict == "within")).map(|finding| taken(finding, names)).sum()
}

/// Only where the document is one for people: a recipe for machines has no declaration, and a table none either.
fn declaration_laid_out(answer: &mut Map<String, Value>) -> usize {
    let laid_out = answer.get(ASKED_FOR).is_some_and(|document| document["format"] == "text" || document["format"] == "html");
    if laid_out { taken(answer, &[DECLARATION]) } else { 0 }
}

/// Of a balance before and after, the rules whose verdict is another are kept.
fn same_verdicts(answer: &mut Map<String, Value>) -> usize {
    let Some(balance) = answer.get_mut("balance").and_then(Value::as_object_mut) else { return 0 };
    let verdict = |rule: &Value| (rule["part"].clone(), rule["rule"].clone(), rule["verdict"].clone());
    let sides = ["before", "after"].map(|side| -> Vec<_> {
        let rules = balance.get(side).and_then(Value::as_array);
        rules.into_iter().flatten().map(verdict).collect()
    });
    let mut cut = 0;
    for side in ["before", "after"] {
        let Some(Value::Array(rules)) = balance.get_mut(side) else { continue };
        cut += kept(rules, |rule| !sides.iter().all(|side| side.contains(&verdict(rule))));
    }
    cut
}

fn only_rounded(answer: &mut Map<String, Value>) -> usize {
    let Some(Value::Array(changes)) = answer.get_mut("changes") else { return 0 };
    kept(changes, |change| {
        !change["why"]
            .as_str()
            .is_some_and(|why| [" rounded up", " rounded down", " needs no rounding"].iter().any(|end| why.ends_with(end)))
    })
}

/// Of lines that were read, those that leave a doubt are kept.
fn understood(answer: &mut Map<String, Value>) -> usize {
    let Some(Value::Array(lines)) = answer.get_mut("lines") else { return 0 };
    kept(lines, |line| line["state"] != "understood")
}

/// Keeps the items that are worth it; gives the bytes of the others.
fn kept(items: &mut Vec<Value>, worth: impl Fn(&Value) -> bool) -> usize {
    let mut cut = 0;
    items.retain(|item| {
        let keep = worth(item);
        if !keep {
            cut += length_of(item) + 1;
        }
        keep
    });
    cut
}

fn in_changes(answer: &mut Map<String, Value>, names: &[&str]) -> usize {
    let Some(Value::Array(changes)) = answer.get_mut("changes") else { return 0 };
    changes.iter_mut().filter_map(Value::as_object_mut).map(|change| taken(change, names)).sum()
}

fn spans_of_shares(answer: &mut Map<String, Value>) -> usize {
    let mut cut = 0;
    for name in ["percentages", "composition"] {
        cut += answer.get_mut(name).map_or(0, |value| each(value, without_span));
    }
    cut
}

/// Only where the batches tell every line of it.
fn whole_formula(answer: &mut Map<String, Value>) -> usize {
    let told = answer.get("batches").and_then(Value::as_array).is_some_and(|batches| !batches.is_empty());
    if told { taken(answer, &["formula"]) } else { 0 }
}

/// Applies a cut to everything inside a list, at any depth.
fn in_lists(answer: &mut Map<String, Value>, cut: fn(&mut Value) -> usize) -> usize {
    answer.iter_mut().filter(|(name, _)| !UNTOUCHED.contains(&name.as_str())).map(|(_, value)| lists_of(value, cut)).sum()
}

fn lists_of(value: &mut Value, cut: fn(&mut Value) -> usize) -> usize {
    match value {
        Value::Array(items) => items.iter_mut().map(|item| each(item, cut)).sum(),
        Value::Object(members) => in_lists(members, cut),
        _ => 0,
    }
}

/// Applies a cut to a value and all inside it.
fn each(value: &mut Value, cut: fn(&mut Value) -> usize) -> usize {
    let outer = cut(value);
    let inner: usize = match value {
        Value::Array(items) => items.iter_mut().map(|item| each(item, cut)).sum(),
        Value::Object(members) => members.values_mut().map(|item| each(item, cut)).sum(),
        _ => 0,
    };
    outer + inner
}

/// A figure has its value or its percentage beside its span; the bounds of a rule have neither, and stay. A range without its ends says nothing that the change
/// beside it does not.
fn without_span(value: &mut Value) -> usize {
    let Some(members) = value.as_object_mut() else { return 0 };
    let ranges = taken(members, &["range"]);
    let figure = ["value", "percent", "amount"].into_iter().any(|name| members.get(name).is_some_and(Value::is_number));
    ranges + if figure { taken(members, &["low", "high"]) } else { 0 }
}

/// `{"value": 461.538461538, "unit": "g", "text": "462 g"}` as `"462 g"`, and a price likewise; what has its span still, or more to say, stays.
fn as_text(value: &mut Value) -> usize {
    const FIGURE: [&str; 4] = ["value", "unit", "amount", "text"];
    let text = value.as_object().filter(|members| members.keys().all(|name| FIGURE.contains(&name.as_str()))).and_then(|members| {
        let figure = members.get("value").or_else(|| members.get("amount")).is_some_and(Value::is_number);
        members.get("text").filter(|text| figure && text.is_string()).cloned()
    });
    let Some(text) = text else { return 0 };
    let cut = length_of(value).saturating_sub(length_of(&text));
    *value = text;
    cut
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_range_without_its_ends_is_none() {
        let range = json!({"value": 223.0, "unit": "g", "text": "223 g", "low": 203.0, "high": 242.0});
        let mut change = json!({"before": "250 g sugar", "after": "223 g sugar", "range": range});
        without_span(&mut change);
        assert_eq!(change, json!({"before": "250 g sugar", "after": "223 g sugar"}));
    }

    fn cut(answer: Value, most: usize) -> Value {
        let Value::Object(mut members) = answer else { panic!("no object") };
        let long = length(&members);
        to_length(&mut members, long, most);
        Value::Object(members)
    }

    #[test]
    fn a_short_answer_is_left_as_it_is() {
        let answer =
            json!({ "result": { "value": 250.0, "unit": "g", "text": "250 g", "low": 220.0, "high": 320.0 }, "working": ["2 × 125"] });
        assert_eq!(cut(answer.clone(), 4000), answer);
    }

    #[test]
    fn the_declaration_goes_only_where_a_document_for_people_has_it() {
        let row = json!({ "nutrient": "salt", "per_100g": { "value": 0.7054, "unit": "g", "text": "0.71 g" }, "declared_per_100g": { "value": 0.71, "unit": "g", "text": "0.71 g" },
            "declared_per_portion": { "value": 0.3, "unit": "g", "text": "0.30 g" } });
        for (format, stays) in [("text", false), ("html", false), ("json-ld", true)] {
            let answer = json!({ "nutrition": {}, "nutrition_declaration": { "nutrients": [row] }, "document": { "format": format } });
            let short = cut(answer, 0);
            assert_eq!(
                short["nutrition_declaration"]["nutrients"] == json!([{ "nutrient": "salt", "declared_per_100g": "0.71 g" }]),
                stays,
                "{short}"
            );
        }
    }

    #[test]
    fn however_short_it_must_be_the_figure_asked_for_keeps_its_span_and_the_cautions_stay() {
        let answer = json!({
            "result": { "value": 250.0, "unit": "g", "text": "250 g", "low": 220.0, "high": 320.0 },
            "lines": [{ "ingredient": "honey", "pointer": "/formula", "amount": { "value": 12.34567, "unit": "g", "text": "12.3 g", "low": 12.0, "high": 13.0 } }],
            "findings": [{ "verdict": "above", "low": 1.0, "high": 2.0, "why": "gas" }, { "verdict": "within", "low": 1.0, "why": "salt" }],
            "cautions": [{ "id": "infant-honey", "text": "Not for infants.", "source": "cdc" }],
            "sources": [{ "id": "usda-sr28", "title": "A long title" }],
            "bake": { "then": [{ "minutes": { "value": 30.0, "unit": "min", "text": "30 min", "low": 26.0, "high": 38.0 } }], "model": "An estimate." },
        });
        let short = cut(answer.clone(), 0);
        assert_eq!(short["bake"], json!({ "then": answer["bake"]["then"] }));
        assert_eq!(short["result"], answer["result"]);
        assert_eq!(short["cautions"], answer["cautions"]);
        assert_eq!(short["findings"], json!([{ "verdict": "above", "low": 1.0, "high": 2.0, "why": "gas" }, { "verdict": "within" }]));
        assert_eq!(short["lines"], json!([{ "ingredient": "honey", "amount": "12.3 g" }]));
        assert_eq!(short["sources"], json!(["usda-sr28"]));
        assert!(short["left_out"].as_str().is_some_and(|told| told.contains("\"full\": true") && told.contains("spans")));
    }
}
