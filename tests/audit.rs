//! The formulas of our own, written with both measures, agree with themselves: an audit of each gives no finding. And no text, however odd, is more than the reader of lines can answer.

use evencrumb::calculation::{Entry, Options, Refusal};
use evencrumb::reference::Reference;
use proptest::prelude::*;
use serde_json::Value;

fn ask(name: &str, question: &Value) -> Result<Value, Refusal> {
    let reference = Reference::load().expect("the tables are whole");
    let entry = Entry::named(name).expect("there is such a calculation");
    let answer = entry.answer(question.to_string().as_bytes(), reference, Options::default())?;
    Ok(serde_json::from_slice(&answer).expect("an answer is JSON"))
}

#[test]
fn the_demo_formulas_agree_with_themselves() {
    let formulas: Vec<Value> = serde_json::from_str(include_str!("data/formulas.json")).expect("the formulas are JSON");
    let mut audited = 0;
    for formula in &formulas {
        let fields = ["style", "measures", "filled", "parts", "ingredients"];
        let question: serde_json::Map<String, Value> =
            fields.iter().filter_map(|name| Some(((*name).to_owned(), formula.get(*name)?.clone()))).collect();
        let answer =
            ask("audit", &serde_json::json!({ "formula": question })).unwrap_or_else(|refusal| panic!("{}: {refusal:?}", formula["id"]));
        assert_eq!(answer["findings"], serde_json::json!([]), "{}", formula["id"]);
        audited += 1;
    }
    assert!(audited > 40);
}

/// What was typed is read, and what was read is audited: only the two mistakes put in come out.
#[test]
fn a_typed_formula_shows_exactly_the_mistakes_that_were_put_in() {
    let text = "1 3/4 cups (220 g) all-purpose flour\n1 cup (2000 g) granulated sugar\n1/2 cup (113 g) unsalted butter\n3 large eggs (150 g)\n3/4 cup (180 ml) buttermilk\n2 tsp (9 g) baking powder";
    let mut formula = ask("read", &serde_json::json!({ "text": text })).expect("it is read")["formula"].take();
    formula["bake"] = serde_json::json!({ "oven": "350 F / 150 C" });
    let answer = ask("audit", &serde_json::json!({ "formula": formula })).expect("it is audited");
    let found: Vec<&str> = answer["findings"].as_array().into_iter().flatten().filter_map(|finding| finding["pointer"].as_str()).collect();
    assert_eq!(found, ["/formula/parts/0/lines/1", "/formula/bake/oven"]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_line_is_answered(line in "\\PC{0,120}") {
        let answer = ask("read", &serde_json::json!({ "lines": [line] })).expect("a line is answered");
        prop_assert_eq!(answer["lines"][0]["written"].as_str(), Some(line.as_str()));
    }

    #[test]
    fn any_line_of_the_trades_letters_is_answered_and_taken_back(
        line in "(1|½|2 1/2|3-4|half|a|10|0,5)? ?(cups?|g|oz|tbsp|large|\\(|\\)|/|x|stick|can|plus|of)? ?(1|2|14)? ?(g|oz|cup|eggs?|lemons?)?[ ,)]*(flour|butter|sugar|zest|juice|and|or|yolks?|chocolate|%|each| ){0,4}"
    ) {
        let answer = ask("read", &serde_json::json!({ "lines": [line] })).expect("a line is answered");
        if let Some(formula) = answer.get("formula") {
            let taken = ask("batch", &serde_json::json!({ "formula": formula, "want": { "factor": 1 } }));
            prop_assert!(taken.is_ok(), "{line}: {formula} {taken:?}");
        }
    }

    #[test]
    fn any_oven_and_any_pan_are_answered_or_refused(oven in "[0-9 FC/().,gasmrk°½-]{1,24}", pan in "[0-9 inchcmround/()x,-]{1,30}") {
        let question = serde_json::json!({ "formula": {
            "parts": [{ "name": "a", "lines": [{ "ingredient": "sugar", "amount": "200 g", "also": "1 cup" }] }], "bake": { "oven": oven }, "pan": pan
        } });
        let _ = ask("audit", &question);
    }
}
