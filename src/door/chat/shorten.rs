//! Keeps an answer short for a reader who pays by the word: what is dear and seldom asked goes first, the figures asked for and the cautions never. It stands apart
//! because the list of what may go, and in which order, is a judgement.

use serde_json::{Map, Value};

/// Where a cut is made: on the members of a whole answer. It says whether it took anything.
type Make = fn(&mut Map<String, Value>) -> bool;

/// What may be left out, in this order, and how it is told.
const CUTS: &[(&str, Make)] = &[
    ("the working", |answer| answer.shift_remove("working").is_some()),
    ("the titles of the sources (look_up has them)", source_titles),
    ("the spans of amounts in lists", |answer| in_lists(answer, without_span)),
    ("where in the question a line stands", |answer| in_lists(answer, without_pointer)),
    ("why the rules that hold are there", |answer| held_rules(answer, &["why", "counted", "basis", "source"])),
    ("the rules whose verdict a change left as it was", same_verdicts),
    ("the lines that were only rounded (the formula has them)", only_rounded),
    ("the eggs, places and sources of the changes", |answer| in_changes(answer, &["eggs", "pointer", "source"])),
    ("why each change was made", |answer| in_changes(answer, &["why", "off_percent"])),
    ("the spans of the percentages and the composition", spans_of_shares),
    ("the areas of the pans", areas),
    ("how the bake was estimated", |answer| member(answer, "bake").is_some_and(|bake| bake.shift_remove("model").is_some())),
    ("amounts in lists as numbers (their texts stay)", |answer| in_lists(answer, as_text)),
    ("the nutrients of the whole (those of a serving stay)", |answer| {
        member(answer, "nutrition").is_some_and(|table| in_lists(table, without_whole))
    }),
    ("what each line costs", |answer| in_lists(answer, without_cost)),
    ("the nutrients (the document has them)", |answer| answer.contains_key(ASKED_FOR) && answer.shift_remove("nutrition").is_some()),
    ("the formula as a whole (the batches have its amounts)", whole_formula),
    ("the figures of the rules that hold", |answer| held_rules(answer, &["measured", "measured_by_fat", "low", "high"])),
];

/// Lists whose every word is for the person: nothing is taken from them here.
const UNTOUCHED: &[&str] = &["cautions", "assumptions", "findings"];

/// What is answered only to who asked for it by name, at whatever length: a page, a file.
const ASKED_FOR: &str = "document";

/// Cuts until the answer is no longer than this; notes in it what was left out and how to get it. Figures are never given up: a very long formula stays long.
pub fn to_length(answer: &mut Map<String, Value>, most: usize) {
    let most = most + answer.get(ASKED_FOR).map_or(0, |document| document.to_string().len());
    let mut left_out = Vec::new();
    for (told, make) in CUTS {
        if length(answer) <= most {
            break;
        }
        if make(answer) {
            left_out.push(*told);
            answer.insert("left_out".to_owned(), note(&left_out));
        }
    }
}

/// What a reader is told of what is missing.
pub fn note(left_out: &[&str]) -> Value {
    Value::String(format!("{}. Call again with \"full\": true for everything.", left_out.join("; ")))
}

/// How long the members are as JSON.
pub fn length(answer: &Map<String, Value>) -> usize {
    serde_json::to_vec(answer).map_or(0, |bytes| bytes.len())
}

fn source_titles(answer: &mut Map<String, Value>) -> bool {
    let Some(Value::Array(sources)) = answer.get_mut("sources") else { return false };
    let mut taken = false;
    for source in sources {
        if let Some(id) = source.get("id").cloned() {
            *source = id;
            taken = true;
        }
    }
    taken
}

fn held_rules(answer: &mut Map<String, Value>, names: &[&str]) -> bool {
    let Some(Value::Array(findings)) = answer.get_mut("findings") else { return false };
    let mut taken = false;
    for finding in findings.iter_mut().filter_map(Value::as_object_mut) {
        if finding.get("verdict").is_some_and(|verdict| verdict == "within") {
            for name in names {
                taken |= finding.shift_remove(*name).is_some();
            }
        }
    }
    taken
}

/// Of a balance before and after, the rules whose verdict is another are kept.
fn same_verdicts(answer: &mut Map<String, Value>) -> bool {
    let Some(balance) = member(answer, "balance") else { return false };
    let verdicts = |side: &Value| -> Vec<(Value, Value, Value)> {
        let rules = side.as_array().into_iter().flatten();
        rules.map(|rule| (rule["part"].clone(), rule["rule"].clone(), rule["verdict"].clone())).collect()
    };
    let sides = ["before", "after"].map(|side| balance.get(side).map(verdicts).unwrap_or_default());
    let mut taken = false;
    for side in ["before", "after"] {
        let Some(Value::Array(rules)) = balance.get_mut(side) else { continue };
        let had = rules.len();
        rules.retain(|rule| {
            let same = (rule["part"].clone(), rule["rule"].clone(), rule["verdict"].clone());
            !sides.iter().all(|side| side.contains(&same))
        });
        taken |= rules.len() < had;
    }
    taken
}

fn only_rounded(answer: &mut Map<String, Value>) -> bool {
    let Some(Value::Array(changes)) = answer.get_mut("changes") else { return false };
    let had = changes.len();
    changes.retain(|change| !change["why"].as_str().is_some_and(|why| why.ends_with(" rounded up") || why.ends_with(" rounded down")));
    changes.len() < had
}

fn in_changes(answer: &mut Map<String, Value>, names: &[&str]) -> bool {
    let Some(Value::Array(changes)) = answer.get_mut("changes") else { return false };
    let changes = changes.iter_mut().filter_map(Value::as_object_mut);
    changes.fold(false, |taken, change| names.iter().fold(taken, |taken, name| change.shift_remove(*name).is_some() | taken))
}

fn member<'a>(answer: &'a mut Map<String, Value>, name: &str) -> Option<&'a mut Map<String, Value>> {
    answer.get_mut(name).and_then(Value::as_object_mut)
}

fn spans_of_shares(answer: &mut Map<String, Value>) -> bool {
    let shares = ["percentages", "composition"];
    shares
        .into_iter()
        .filter_map(|name| answer.get_mut(name).map(|value| each(value, without_span)))
        .fold(false, |taken, more| taken | more)
}

fn areas(answer: &mut Map<String, Value>) -> bool {
    let mut taken = false;
    for side in ["from", "to"] {
        for area in ["top_area", "side_area"] {
            taken |= member(answer, side).is_some_and(|pan| pan.shift_remove(area).is_some());
        }
    }
    taken
}

/// Only where the batches tell every line of it.
fn whole_formula(answer: &mut Map<String, Value>) -> bool {
    let told = answer.get("batches").and_then(Value::as_array).is_some_and(|batches| !batches.is_empty());
    told && answer.shift_remove("formula").is_some()
}

/// Applies a cut to everything inside a list, at any depth.
fn in_lists(answer: &mut Map<String, Value>, cut: fn(&mut Value) -> bool) -> bool {
    let members = answer.iter_mut().filter(|(name, _)| !UNTOUCHED.contains(&name.as_str()));
    members.map(|(_, value)| lists_of(value, cut)).fold(false, |taken, more| taken | more)
}

fn lists_of(value: &mut Value, cut: fn(&mut Value) -> bool) -> bool {
    match value {
        Value::Array(items) => items.iter_mut().map(|item| each(item, cut)).fold(false, |taken, more| taken | more),
        Value::Object(members) => in_lists(members, cut),
        _ => false,
    }
}

/// Applies a cut to a value and all inside it.
fn each(value: &mut Value, cut: fn(&mut Value) -> bool) -> bool {
    let mut taken = cut(value);
    match value {
        Value::Array(items) => items.iter_mut().for_each(|item| taken |= each(item, cut)),
        Value::Object(members) => members.values_mut().for_each(|item| taken |= each(item, cut)),
        _ => {}
    }
    taken
}

/// A figure has its value or its percentage beside its span; the bounds of a rule have neither, and stay.
fn without_span(value: &mut Value) -> bool {
    let Some(members) = value.as_object_mut() else { return false };
    let figure = ["value", "percent", "amount"].into_iter().any(|name| members.get(name).is_some_and(Value::is_number));
    let ends = |members: &mut Map<String, Value>| members.shift_remove("low").is_some() | members.shift_remove("high").is_some();
    figure && ends(members)
}

fn without_pointer(value: &mut Value) -> bool {
    value.as_object_mut().is_some_and(|members| members.contains_key("ingredient") && members.shift_remove("pointer").is_some())
}

fn without_whole(value: &mut Value) -> bool {
    value.as_object_mut().is_some_and(|members| members.contains_key("each") && members.shift_remove("whole").is_some())
}

fn without_cost(value: &mut Value) -> bool {
    value.as_object_mut().is_some_and(|members| members.contains_key("ingredient") && members.shift_remove("cost").is_some())
}

/// `{"value": 461.538461538, "unit": "g", "text": "462 g"}` as `"462 g"`, and a price likewise; what has its span still, or more to say, stays.
fn as_text(value: &mut Value) -> bool {
    const FIGURE: [&str; 4] = ["value", "unit", "amount", "text"];
    let text = value.as_object().filter(|members| members.keys().all(|name| FIGURE.contains(&name.as_str()))).and_then(|members| {
        let figure = members.get("value").or_else(|| members.get("amount")).is_some_and(Value::is_number);
        members.get("text").filter(|text| figure && text.is_string()).cloned()
    });
    let found = text.is_some();
    if let Some(text) = text {
        *value = text;
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn cut(answer: Value, most: usize) -> Value {
        let Value::Object(mut members) = answer else { panic!("no object") };
        to_length(&mut members, most);
        Value::Object(members)
    }

    #[test]
    fn a_short_answer_is_left_as_it_is() {
        let answer =
            json!({ "result": { "value": 250.0, "unit": "g", "text": "250 g", "low": 220.0, "high": 320.0 }, "working": ["2 × 125"] });
        assert_eq!(cut(answer.clone(), 4000), answer);
    }

    #[test]
    fn however_short_it_must_be_the_figure_asked_for_keeps_its_span_and_the_cautions_stay() {
        let answer = json!({
            "result": { "value": 250.0, "unit": "g", "text": "250 g", "low": 220.0, "high": 320.0 },
            "lines": [{ "ingredient": "honey", "pointer": "/formula", "amount": { "value": 12.34567, "unit": "g", "text": "12.3 g", "low": 12.0, "high": 13.0 } }],
            "findings": [{ "verdict": "above", "low": 1.0, "high": 2.0, "why": "gas" }, { "verdict": "within", "low": 1.0, "why": "salt" }],
            "cautions": [{ "id": "infant-honey", "text": "Not for infants.", "source": "cdc" }],
            "sources": [{ "id": "usda-sr28", "title": "A long title" }],
        });
        let short = cut(answer.clone(), 0);
        assert_eq!(short["result"], answer["result"]);
        assert_eq!(short["cautions"], answer["cautions"]);
        assert_eq!(short["findings"], json!([{ "verdict": "above", "low": 1.0, "high": 2.0, "why": "gas" }, { "verdict": "within" }]));
        assert_eq!(short["lines"], json!([{ "ingredient": "honey", "amount": "12.3 g" }]));
        assert_eq!(short["sources"], json!(["usda-sr28"]));
        assert!(short["left_out"].as_str().is_some_and(|told| told.contains("\"full\": true") && told.contains("spans")));
    }
}
