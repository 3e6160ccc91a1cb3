//! Leavening as the trade prints it, and where print is wrong.

use super::*;
use crate::quantity::Quantity;

#[track_caller]
fn ask(question: &str) -> Result<LeaveningAnswer, Faults> {
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    let question = serde_json::from_str(question).unwrap_or_else(|fault| panic!("{question}: {fault}"));
    Leavening::answer(&question, reference, &mut Account::new(reference, true))
}

#[track_caller]
fn answered(question: &str) -> LeaveningAnswer {
    ask(question).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

#[track_caller]
fn near(quantity: &Quantity, printed: f64, within: f64) {
    assert!((quantity.value.0 - printed).abs() <= within, "{} and not {printed}", quantity.value.0);
}

fn verdict(answer: &LeaveningAnswer, rule: &str) -> Option<&'static str> {
    answer.printed.iter().find(|printed| printed.rule.starts_with(rule)).map(|printed| printed.verdict)
}

#[test]
fn two_grams_of_soda_take_under_three_of_pyrophosphate() {
    // 2 % of soda takes 2.78 % of SAPP of neutralising value 72.
    let answer = answered(r#"{"soda":"2 g","acid":"SAPP"}"#);
    near(&answer.acids[0].amount, 2.78, 0.005);
    assert!(answered(r#"{"soda":"2 g"}"#).acids.len() >= 10);
}

#[test]
fn ten_grams_of_the_least_american_powder_stand_for_two_and_a_third_of_soda() {
    let answer = answered(r#"{"powder":"10 g","powder_gas":"us-least"}"#);
    near(&answer.gas, 1.2, 1e-9);
    let soda = answer.soda.as_ref().map(|soda| &soda.amount);
    near(soda.unwrap_or(&answer.gas), 2.29, 0.005);
}

/// 1 tsp of powder for 1/4 tsp of soda and 1/2 tsp of cream of tartar: 1.15 g of soda would need 2.57 g, and half a teaspoon is 1.50 g.
#[test]
fn the_household_swap_for_powder_is_short_of_acid() {
    let answer = answered(r#"{"powder":"1 tsp","measures":"us"}"#);
    assert_eq!(verdict(&answer, "1 tsp of baking powder"), Some("acid-short"));
    assert_eq!(verdict(&answer, "1 tbsp of baking powder"), Some("acid-short"));
    assert_eq!(verdict(&answer, "2 tsp of cream of tartar"), Some("acid-short"));
    let swap = &answer.printed[0];
    near(&swap.soda, 1.15, 0.01);
    near(&swap.acid, 1.5, 0.01);
    near(&swap.acid_needed, 2.57, 0.03);
    near(&swap.left_over, 0.48, 0.02);
}

#[test]
fn a_cup_of_buttermilk_takes_up_half_a_teaspoon_of_soda_and_lemon_juice_five_times_less_than_printed() {
    let buttermilk = answered(r#"{"acid":"buttermilk","acid_amount":"1 cup","measures":"us"}"#);
    let soda = buttermilk.soda.as_ref().map_or_else(|| panic!("no soda"), |soda| soda.amount.clone());
    near(&soda, 1.942, 0.05);
    assert_eq!(verdict(&buttermilk, "1/2 tsp of soda for 1 cup"), Some("agree"));
    assert_eq!(verdict(&buttermilk, "3/4 tsp of soda for 1 cup"), Some("acid-short"));
    let lemon = answered(r#"{"acid":"lemon juice","acid_amount":"5 g"}"#);
    near(&lemon.soda.as_ref().map_or_else(|| panic!("no soda"), |soda| soda.amount.clone()), 0.394, 0.02);
    assert_eq!(verdict(&lemon, "1 tsp of lemon juice"), Some("acid-short"));
}

const SCONES: &str = r#"{"style":"scone","parts":[{"name":"dough","lines":[{"ingredient":"all-purpose flour","amount":"400 g"},{"ingredient":"buttermilk","amount":"240 g"},{"ingredient":"baking soda","amount":"4 g"}LINE]}]}"#;

#[test]
fn soda_beyond_the_buttermilk_is_left_over_and_the_mend_takes_it_up() {
    let answer = answered(&format!(r#"{{"formula":{}}}"#, SCONES.replace("LINE", "")));
    let balance = answer.balance.as_ref().unwrap_or_else(|| panic!("no balance"));
    near(&balance.taken_up, 1.90, 0.01);
    near(&balance.left_over, 2.10, 0.01);
    assert_eq!(balance.verdict, "above");
    let tartar = r#",{"ingredient":"cream of tartar","amount":"4.7 g"}"#;
    let mended = answered(&format!(r#"{{"formula":{}}}"#, SCONES.replace("LINE", tartar)));
    assert_eq!(mended.balance.map(|balance| balance.verdict), Some("within"));
}

#[test]
fn natural_cocoa_takes_up_soda_and_dutched_cocoa_does_not() {
    let left = |cocoa: &str| {
        let lines = format!(
            r#"[{{"ingredient":"all-purpose flour","amount":"250 g"}},{{"ingredient":"{cocoa}","amount":"60 g"}},{{"ingredient":"baking soda","amount":"2.4 g"}}]"#
        );
        answered(&format!(r#"{{"formula":{{"parts":[{{"name":"batter","lines":{lines}}}]}}}}"#)).balance.map(|balance| balance.verdict)
    };
    assert_eq!((left("natural cocoa"), left("dutch cocoa")), (Some("within"), Some("above")));
}

#[test]
fn a_weak_dose_is_told_with_its_grams() {
    let answer = answered(
        r#"{"formula":{"parts":[{"name":"batter","lines":[{"ingredient":"all-purpose flour","amount":"250 g"},{"ingredient":"baking powder","amount":"5 g"}]}]},"style":"muffin"}"#,
    );
    let dose = answer.dose.unwrap_or_else(|| panic!("no dose"));
    assert_eq!((dose.of_flour.percent.0, dose.verdict), (2.0, Some("below")));
    assert_eq!(dose.mend.as_deref(), Some("Add 3.8 g of baking powder"));
    // 1 to 1 1/4 teaspoons for each cup is 3.68 to 4.79 % of the flour.
    let powder = &dose.rules[0].powder;
    assert!(powder.low.is_some_and(|low| (low.0 - 9.2).abs() < 0.01) && powder.high.is_some_and(|high| (high.0 - 11.975).abs() < 0.01));
}

#[test]
fn five_grams_of_soda_and_five_of_salt_are_over_three_grams_of_sodium() {
    let answer = answered(
        r#"{"formula":{"parts":[{"name":"dough","lines":[{"ingredient":"all-purpose flour","amount":"500 g"},{"ingredient":"salt","amount":"5 g"},{"ingredient":"baking soda","amount":"5 g"}]}]}}"#,
    );
    near(&answer.sodium.total, 3335.0, 1.0);
}

#[test]
fn bakers_ammonia_brings_its_caution() {
    let answer = answered(
        r#"{"formula":{"style":"rolled-cookie","parts":[{"name":"dough","lines":[{"ingredient":"all-purpose flour","amount":"500 g"},{"ingredient":"baker's ammonia","amount":"5 g"}]}]}}"#,
    );
    assert!(answer.owed.cautions.iter().any(|caution| caution.id == "bakers-ammonia"));
}

#[test]
fn too_much_ammonia_is_taken_out_as_ammonia() {
    let answer = answered(
        r#"{"formula":{"style":"rolled-cookie","parts":[{"name":"dough","lines":[{"ingredient":"all-purpose flour","amount":"500 g"},{"ingredient":"baker's ammonia","amount":"20 g"}]}]}}"#,
    );
    let mend = answer.dose.and_then(|dose| dose.mend).unwrap_or_default();
    assert!(mend.starts_with("Take out ") && mend.ends_with(" of baker's ammonia"), "{mend}");
}

#[test]
fn soda_is_taken_out_by_the_gas_of_the_powder_that_was_named() {
    let soda = |gas: &str| {
        let answer = answered(&format!(
            r#"{{"powder_gas":"{gas}","formula":{{"style":"muffin","parts":[{{"name":"batter","lines":[{{"ingredient":"all-purpose flour","amount":"200 g"}},{{"ingredient":"baking soda","amount":"8 g"}}]}}]}}}}"#
        ));
        answer.dose.and_then(|dose| dose.mend).unwrap_or_default()
    };
    // By heat alone 8 g of soda stand for 14.97 g of powder of 14 % gas, and for 20.96 g of one of 10 %; a muffin allows 7 % of 200 g, 14 g.
    assert_eq!((&*soda("trade"), &*soda("canada-least")), ("Take out 0.52 g of soda", "Take out 2.7 g of soda"));
}

#[test]
fn the_dose_agrees_with_the_powder_beside_it_and_the_sentence_tells_the_bounds() {
    let answer = answered(
        r#"{"formula":{"name":"Dark cake","style":"oil-cake","parts":[{"name":"batter","lines":[{"ingredient":"all-purpose flour","amount":"220 g"},{"ingredient":"buttermilk","amount":"240 g"},{"ingredient":"baking soda","amount":"9.2 g"}]}]}}"#,
    );
    let powder = answer.powder.as_ref().map_or(0.0, |powder| powder.amount.value.0);
    let of_flour = answer.dose.as_ref().map_or(0.0, |dose| dose.of_flour.percent.0);
    assert!((powder / 220.0 * 100.0 - of_flour).abs() < 1e-6, "{powder} g are {of_flour} %");
    assert!(answer.owed.summary.contains(", above the 1.5–7 % for oil cake; soda is left over"), "{}", answer.owed.summary);
}

#[test]
fn every_fault_is_told_at_once_with_its_place() {
    let places =
        |question: &str| -> Vec<String> { ask(question).err().unwrap_or_default().iter().map(|fault| fault.pointer.clone()).collect() };
    assert_eq!(places("{}"), [""]);
    assert_eq!(places(r#"{"soda":"2 blobs","acid":"tartre","acid_amount":"3"}"#), ["/acid", "/soda", "/acid_amount"]);
    assert_eq!(places(r#"{"acid":"dutch cocoa","acid_amount":"30 g"}"#), ["/acid"]);
    assert_eq!(places(r#"{"soda":"5 g","powder":"5 g","style":"mufin"}"#), ["", "/style", "/style"]);
}

#[test]
fn what_is_to_be_taken_out_is_there() {
    let mend = |lines: &str| {
        let question = format!(
            r#"{{"formula":{{"style":"creamed","measures":"uk","parts":[{{"name":"batter","lines":[{lines},
            {{"ingredient":"butter","amount":"225 g"}},{{"ingredient":"caster sugar","amount":"225 g"}},{{"ingredient":"egg","amount":"4 medium"}}]}}]}}}}"#
        );
        answered(&question).dose.and_then(|dose| dose.mend).unwrap_or_default()
    };
    let plain = mend(r#"{"ingredient":"plain flour","amount":"225 g"},{"ingredient":"baking powder","amount":"20 g"}"#);
    assert_eq!(plain, "Take out 11 g of baking powder");
    let both = mend(r#"{"ingredient":"self-raising flour","amount":"225 g"},{"ingredient":"baking powder","amount":"9.5 g"}"#);
    assert!(
        both.starts_with("Take out all of the baking powder (9.5 g), and use ")
            && both.ends_with(" of plain flour in place of as much self-raising flour"),
        "{both}"
    );
    let within = mend(r#"{"ingredient":"self-raising flour","amount":"225 g"}"#);
    assert!(within.starts_with("Use ") && !within.contains("Take out"), "{within}");
}

#[test]
fn nobody_measures_buttermilk_by_a_hundred_teaspoons() {
    let answer = answered(r#"{"soda":"1 tsp","acid":"buttermilk","measures":"us"}"#);
    let told = |dosed: Option<&Quantity>| dosed.map(|spoons| (spoons.unit, spoons.text.to_string()));
    let buttermilk = answer.acids.first().and_then(|acid| acid.spoons.as_ref());
    assert_eq!(told(buttermilk), Some(("tsp", "2 1/4 cups plus 2 tbsp".to_owned())));
    let soda = answer.soda.as_ref().and_then(|soda| soda.spoons.as_ref());
    assert_eq!(told(soda), Some(("tsp", "1 tsp".to_owned())));
}

#[test]
fn soda_that_is_taken_out_leaves_its_lift_to_powder() {
    let cake = r#"{"formula":{"parts":[{"name":"batter","lines":[{"ingredient":"plain flour","amount":"220 g"},
        {"ingredient":"dutch cocoa","amount":"75 g"},{"ingredient":"baking soda","amount":"9 g"},{"ingredient":"milk","amount":"240 g"}]}]}}"#;
    // Half the gas of 9 g, 2.36 g, is that of 17 g of powder.
    let mend = answered(cake).balance.and_then(|balance| balance.mend).unwrap_or_default();
    assert!(mend.starts_with("Take out 9 g of soda, whose lift 17 g of baking powder gives, or add 20 g of cream of tartar"), "{mend}");
}

#[test]
fn leavening_without_flour_is_told_by_its_weight_and_flour_without_gluten_has_its_starch() {
    let formula = |lines: &[(&str, &str)]| {
        let lines: Vec<_> = lines.iter().map(|(name, amount)| serde_json::json!({"ingredient": name, "amount": amount})).collect();
        answered(&serde_json::json!({"formula": {"parts": [{"name": "batter", "lines": lines}]}}).to_string())
    };
    let torte = formula(&[("almond flour", "250 g"), ("egg", "300 g"), ("baking powder", "4.6 g")]);
    assert_eq!(torte.owed.summary, "The formula: leavening as powder 4.6 g, and no flour to set it against");
    let dose = |lines: &[(&str, &str)]| formula(lines).dose.map(|dose| dose.of_flour.percent.0);
    let blend = [("rice flour", "150 g"), ("potato starch", "100 g"), ("baking powder", "10 g")];
    assert_eq!(dose(&blend), Some(4.0));
}

#[test]
fn too_much_soda_in_too_much_leavening_is_only_taken_out() {
    let muffin = r#"{"formula":{"style":"muffin","parts":[{"name":"batter","lines":[{"ingredient":"plain flour","amount":"280 g"},
        {"ingredient":"baking soda","amount":"8 g"},{"ingredient":"baking powder","amount":"10 g"},{"ingredient":"buttermilk","amount":"240 g"}]}]}}"#;
    let answer = answered(muffin);
    let mend = answer.balance.and_then(|balance| balance.mend).unwrap_or_default();
    assert!(mend.starts_with("Take out 6.1 g of soda: ") && mend.ends_with("there is too much leavening with it"), "{mend}");
    assert!(answer.owed.summary.contains("above the 3.5–7 % for muffin"), "{}", answer.owed.summary);
}

#[test]
fn what_yeast_raises_is_not_told_to_take_powder() {
    let crumpet = r#"{"formula":{"style":"pancake","parts":[{"name":"batter","lines":[{"ingredient":"plain flour","amount":"250 g"},
        {"ingredient":"instant yeast","amount":"7 g"},{"ingredient":"baking powder","amount":"3 g"},{"ingredient":"water","amount":"300 g"}]}]}}"#;
    let dose = answered(crumpet).dose.map(|dose| (dose.verdict, dose.mend));
    assert_eq!(dose, Some((Some("within"), None)));
}

#[test]
fn the_dose_of_an_almond_cake_is_judged_as_the_rules_of_balance_judge_it() {
    let cake = |powder: &str| {
        let question = format!(
            r#"{{"formula":{{"style":"creamed","parts":[{{"name":"batter","lines":[{{"ingredient":"plain flour","amount":"200 g"}},
            {{"ingredient":"ground almonds","amount":"50 g"}},{{"ingredient":"butter","amount":"110 g"}},{{"ingredient":"baking powder","amount":"{powder}"}}]}}]}}}}"#
        );
        answered(&question).dose.map(|dose| (dose.verdict.unwrap_or_default(), dose.mend.unwrap_or_default())).unwrap_or_default()
    };
    // 9 g are 4.5 % of the flour and 3.6 % of both; 15 g are 6 % of both, of which 4 may stay.
    let (verdict, mend) = cake("9 g");
    assert_eq!(verdict, "depends");
    assert!(mend.starts_with("Almond flour takes the place of flour here: on both together it is 3.6 %"), "{mend}");
    let (verdict, mend) = cake("15 g");
    assert_eq!(verdict, "above");
    assert!(mend.starts_with("On flour and almond flour together it is 6 %: take out 5 g of baking powder"), "{mend}");
}

#[test]
fn the_working_of_what_an_acid_takes_up_ends_in_its_figure() {
    let answer = answered(r#"{"acid":"buttermilk","acid_amount":"200 g"}"#);
    let steps = answer.owed.working.unwrap_or_default();
    assert!(steps.iter().any(|step| step == "200 g of buttermilk x 0.79 / 100 = 1.58 g of soda taken up"), "{steps:#?}");
}

#[test]
fn a_cookie_bears_the_soda_that_browns_it_up_to_its_bound() {
    let mend = |style: &str, soda: &str| {
        let question = format!(
            r#"{{"formula":{{"style":"{style}","parts":[{{"name":"dough","lines":[{{"ingredient":"plain flour","amount":"280 g"}},
            {{"ingredient":"butter","amount":"227 g"}},{{"ingredient":"light brown sugar","amount":"200 g"}},{{"ingredient":"baking soda","amount":"{soda}"}}]}}]}}}}"#
        );
        answered(&question).balance.and_then(|balance| balance.mend).unwrap_or_default()
    };
    // 4.6 g are 1.6 % of 280 g, and 1.85 % are 5.18 g.
    assert!(
        mend("drop-cookie", "4.6 g").starts_with("Nothing need be done: the soda is 1.6 % of the flour"),
        "{}",
        mend("drop-cookie", "4.6 g")
    );
    assert!(
        mend("drop-cookie", "9.2 g").starts_with("Take out 4 g of soda: the soda is 3.3 % of the flour"),
        "{}",
        mend("drop-cookie", "9.2 g")
    );
    assert!(mend("oil-cake", "4.6 g").starts_with("Take out 4.5 g of soda, whose lift"), "{}", mend("oil-cake", "4.6 g"));
}

#[test]
fn an_acid_goes_by_the_number_on_the_label_too() {
    let acid = |name: &str| {
        let answer = ask(&format!(r#"{{"soda":"5 g","acid":"{name}"}}"#));
        answer.map_or("none", |answer| answer.acids[0].acid)
    };
    for name in ["E450", "E 450", "e450(i)", "E450 (i)", "SAPP 28", "disodium diphosphate"] {
        assert_eq!(acid(name), "sodium acid pyrophosphate", "{name}");
    }
    let others = ["E341(i)", "E341(ii)", "E336", "E575", "E541", "E330", "E300", "E500"].map(acid);
    let names = ["monocalcium phosphate monohydrate", "dicalcium phosphate dihydrate", "cream of tartar", "glucono-delta-lactone"];
    assert_eq!(others[..4], names);
    assert_eq!(others[4..], ["sodium aluminium phosphate", "citric acid", "ascorbic acid", "none"]);
    let faults = ask(r#"{"soda":"5 g","acid":"E500"}"#).map(|_| ()).expect_err("no acid");
    assert_eq!(
        faults.iter().next().map(|fault| fault.attempts[0].clone()).as_deref(),
        Some("cream of tartar"),
        "no number near it is offered"
    );
}

#[test]
fn soda_and_an_acid_given_together_are_told_by_what_is_left_of_them() {
    let told = |soda: &str| answered(&format!(r#"{{"soda":"{soda}","acid":"buttermilk","acid_amount":"500 g"}}"#)).owed.summary;
    // 500 g take up 3.25 to 4.7 g.
    assert_eq!(told("1 g"), "1 g of soda and 500 g of buttermilk: acid is left over, for 2.3–3.7 g more of soda");
    assert_eq!(told("4 g"), "4 g of soda and 500 g of buttermilk: soda and acid meet: 3.3–4.7 g is taken up");
    assert_eq!(told("10 g"), "10 g of soda and 500 g of buttermilk: 5.3–6.8 g of soda is left over");
}

#[test]
fn an_acid_that_is_not_known_is_the_only_fault_and_soda_is_offered_by_the_teaspoon() {
    let faults = |question: &str| -> Vec<(String, Vec<String>)> {
        let faults = ask(question).map(|_| ()).expect_err(question);
        faults.iter().map(|fault| (fault.pointer.clone(), fault.attempts.clone())).collect()
    };
    let unknown = faults(r#"{"acid":"milk","acid_amount":"1 cup"}"#);
    assert_eq!(unknown.iter().map(|(at, _)| at.as_str()).collect::<Vec<_>>(), ["/acid"]);
    let detail = |acid: &str| {
        let faults = ask(&format!(r#"{{"soda":"5 g","acid":"{acid}"}}"#)).map(|_| ()).expect_err(acid);
        faults.iter().map(|fault| fault.detail.to_string()).collect::<String>()
    };
    assert_eq!(detail("milk"), "What acid whole milk has is not known: it counts as neutral. Name another that is sour.");
    assert!(detail("battery acid").starts_with("Name the acid"));
    // A level spoon is the spoon.
    let spoon = |soda: &str| answered(&format!(r#"{{"soda":"{soda}"}}"#)).soda.map_or(f64::NAN, |soda| soda.amount.value.0);
    assert_eq!([spoon("1 level teaspoon"), spoon("2 level tsp")], [spoon("1 tsp"), spoon("2 tsp")]);
    assert!(ask(r#"{"soda":"1 heaped tsp"}"#).is_err() && ask(r#"{"soda":"5 level g"}"#).is_err());
    assert_eq!(faults(r#"{"soda":"5"}"#), [("/soda".to_owned(), vec!["5 g".to_owned(), "5 tsp".to_owned()])]);
}
