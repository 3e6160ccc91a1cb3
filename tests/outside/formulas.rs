//! Formulas that stand in print, asked of the balance check: every line's percentage, and the verdict of every rule.

use std::collections::BTreeMap;
use std::fs;

use serde::Deserialize;
use serde_json::{Value, json};

use crate::case::{Call, Case, data};
use crate::expectation::Expectation;

#[derive(Deserialize)]
struct Printed {
    id: String,
    title: String,
    style: String,
    source: String,
    invented: bool,
    measures: Option<String>,
    filled: Option<String>,
    parts: Value,
    expect: Percentages,
    inside: Vec<String>,
    outside: Vec<Outside>,
}

#[derive(Deserialize)]
struct Percentages {
    /// Weights are printed, so that percentages follow without a doubt.
    exact: bool,
    basis: String,
    percent: BTreeMap<String, f64>,
    rules: BTreeMap<String, f64>,
}

#[derive(Deserialize)]
struct Outside {
    rule: String,
    verdict: String,
}

/// Every formula of the file that was not invented here.
pub fn printed() -> Vec<Case> {
    let text = fs::read_to_string(data().join("formulas.json")).unwrap();
    let formulas: Vec<Printed> = serde_json::from_str(&text).unwrap_or_else(|e| panic!("formulas.json: {e}"));
    formulas.into_iter().filter(|formula| !formula.invented).map(case).collect()
}

fn case(printed: Printed) -> Case {
    let mut formula = json!({"name": printed.title, "style": printed.style, "parts": printed.parts});
    for (key, value) in [("measures", &printed.measures), ("filled", &printed.filled)] {
        if let Some(value) = value {
            formula[key] = json!(value);
        }
    }
    let mut expect = percentages(&printed);
    // Where print says flour, a style may count its starch with it; without flour the base must be the one in print.
    if printed.expect.basis != "flour" {
        expect.push(Expectation::Equals { pointer: "/percentages/basis".to_owned(), equals: json!(printed.expect.basis) });
    }
    expect.extend(verdicts(&printed));
    Case {
        id: format!("formula-{}", printed.id),
        title: printed.title,
        call: Call::Post { path: "/v1/ratio-check".to_owned(), question: json!({"formula": formula}) },
        expect,
        source: printed.source,
        differs: None,
    }
}

/// Print has two decimals. Where cups were printed, the percentage stands on a weight of the cup, and the range must hold it.
fn percentages(printed: &Printed) -> Vec<Expectation> {
    let lines = printed.parts.as_array().into_iter().flatten().flat_map(|part| part["lines"].as_array().into_iter().flatten());
    let expected = |(at, line): (usize, &Value)| {
        let pointer = format!("/percentages/lines/{at}");
        let percent = *printed.expect.percent.get(line["ingredient"].as_str()?)?;
        Some(if printed.expect.exact {
            Expectation::Figure { pointer, value: percent, tolerance: 0.006 }
        } else {
            Expectation::Holds { pointer, holds: percent, tolerance: 0.006 }
        })
    };
    lines.enumerate().filter_map(expected).collect()
}

fn verdicts(printed: &Printed) -> Vec<Expectation> {
    let either =
        |verdict: &str| if printed.expect.exact { vec![verdict.to_owned()] } else { vec![verdict.to_owned(), "depends".to_owned()] };
    let present = |rule: &&String| printed.expect.rules.get(*rule).is_none_or(|measured| *measured > 0.0);
    let inside = printed.inside.iter().filter(present).map(|rule| Expectation::Finding { rule: rule.clone(), verdicts: either("within") });
    let outside = printed.outside.iter().map(|one| Expectation::Finding { rule: one.rule.clone(), verdicts: either(&one.verdict) });
    inside.chain(outside).collect()
}
