//! Printed and invented formulas through ratio-check: every percentage and every verdict of `tests/data/formulas.json`.

use std::collections::BTreeMap;

use evencrumb::calculation::{Entry, Options};
use evencrumb::reference::Reference;
use serde_json::{Value, json};

fn ask(question: &Value) -> Result<Value, String> {
    let reference = Reference::load()?;
    let entry = Entry::named("ratio-check").ok_or("no such calculation")?;
    let bytes = entry.answer(question.to_string().as_bytes(), reference, Options::default()).map_err(|refusal| format!("{refusal:?}"))?;
    serde_json::from_slice(&bytes).map_err(|e| e.to_string())
}

fn formulas() -> Vec<Value> {
    serde_json::from_str(include_str!("data/formulas.json")).expect("the data file is JSON")
}

fn question(formula: &Value) -> Value {
    let mut written = json!({"name": formula["title"], "style": formula["style"], "parts": formula["parts"]});
    for key in ["measures", "filled"] {
        if !formula[key].is_null() {
            written[key] = formula[key].clone();
        }
    }
    json!({"formula": written})
}

fn near(found: &Value, expected: &Value, exact: bool) -> bool {
    let (Some(found), Some(expected)) = (found.as_f64(), expected.as_f64()) else { return false };
    // Expected figures are printed to two decimals; those from cups rest on one published weight of several.
    let room = if exact { 0.006 } else { 0.006 + expected * 0.03 };
    (found - expected).abs() <= room
}

/// What is wrong with one formula's answer, and how many figures and verdicts were looked at.
fn compare(formula: &Value, answer: &Value) -> (Vec<String>, usize) {
    let (mut wrong, mut checks, expect) = (Vec::new(), 0, &formula["expect"]);
    let exact = expect["exact"] == json!(true);
    if answer["percentages"]["basis"] != expect["basis"] {
        wrong.push(format!("the basis is {} and not {}", answer["percentages"]["basis"], expect["basis"]));
    }
    let lines = formula["parts"].as_array().into_iter().flatten().flat_map(|part| part["lines"].as_array().into_iter().flatten());
    for (line, found) in lines.zip(answer["percentages"]["lines"].as_array().into_iter().flatten()) {
        let expected = &expect["percent"][line["ingredient"].as_str().unwrap_or_default()];
        checks += 1;
        if !near(&found["percent"], expected, exact) {
            wrong.push(format!("{} is {} and not {expected}", line["ingredient"], found["percent"]));
        }
    }
    let findings: BTreeMap<&str, &Value> =
        answer["findings"].as_array().into_iter().flatten().map(|f| (f["rule"].as_str().unwrap_or_default(), f)).collect();
    for (rule, expected) in expect["rules"].as_object().into_iter().flatten() {
        checks += 1;
        match findings.get(rule.as_str()) {
            Some(found) if near(&found["measured"]["percent"], expected, exact) => {}
            found => wrong.push(format!("{rule} is {:?} and not {expected}", found.map(|f| f["measured"].to_string()))),
        }
    }
    let verdicts = verdicts(formula);
    for (rule, found) in &findings {
        checks += 1;
        if verdicts.get(rule) != found["verdict"].as_str().as_ref() {
            wrong.push(format!("{rule} {} is {} and not {:?}", found["measured"], found["verdict"], verdicts.get(rule)));
        }
    }
    (wrong, checks)
}

/// What is expected of each rule that has something to say.
fn verdicts(formula: &Value) -> BTreeMap<&str, &str> {
    let inside = formula["inside"].as_array().into_iter().flatten().map(|rule| (rule.as_str().unwrap_or_default(), "within"));
    let outside = formula["outside"].as_array().into_iter().flatten();
    let outside = outside.map(|o| (o["rule"].as_str().unwrap_or_default(), o["verdict"].as_str().unwrap_or_default()));
    inside.chain(outside).collect()
}

#[test]
fn every_formula_has_the_percentages_and_the_verdicts_that_are_expected() {
    let (mut wrong, mut checks, all) = (Vec::new(), 0, formulas());
    for formula in &all {
        match ask(&question(formula)) {
            Ok(answer) => {
                let (faults, looked) = compare(formula, &answer);
                checks += looked;
                wrong.extend(faults.into_iter().map(|fault| format!("{}: {fault}", formula["id"])));
            }
            Err(refusal) => wrong.push(format!("{}: {refusal}", formula["id"])),
        }
    }
    println!("{} formulas, {checks} figures and verdicts checked against print and practice", all.len());
    assert!(checks > 1000, "only {checks} figures were looked at");
    assert!(wrong.is_empty(), "{} of {checks} are wrong:\n{}", wrong.len(), wrong.join("\n"));
}
