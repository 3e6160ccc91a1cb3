//! A layer cake of an invented bakery in other pans.

use super::*;
use serde_json::{Value, json};

#[track_caller]
fn answered(question: Value) -> PanScaleAnswer {
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    let question: PanScaleQuestion = serde_json::from_value(question).unwrap_or_else(|fault| panic!("{fault}"));
    PanScale::answer(&question, reference, &mut Account::new(reference, false)).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

#[track_caller]
fn scaled(to: &Value) -> Value {
    scaled_in(to, &json!({ "cover": "top-and-sides", "layers": 2 }), "two 9 inch rounds, 2 inches deep")
}

#[track_caller]
fn scaled_in(to: &Value, finish: &Value, pan: &str) -> Value {
    let formula = json!({
        "name": "Larkrise chocolate layer cake",
        "style": "oil-cake",
        "measures": "us",
        "parts": [
            { "name": "batter", "lines": [
                { "ingredient": "plain flour", "amount": "220 g" },
                { "ingredient": "sugar", "amount": "300 g" },
                { "ingredient": "eggs", "amount": "2 large" },
                { "ingredient": "sunflower oil", "amount": "110 g" },
                { "ingredient": "milk", "amount": "240 g" },
                { "ingredient": "baking powder", "amount": "2 tsp" },
            ] },
            { "name": "icing", "scales_with": "finish", "style": "buttercream", "lines": [
                { "ingredient": "butter", "amount": "200 g" },
                { "ingredient": "icing sugar", "amount": "400 g" },
            ] },
        ],
        "pan": pan,
        "bake": { "oven": "350 F", "minutes": "30-35" },
        "finish": finish,
    });
    serde_json::to_value(answered(json!({ "formula": formula, "to": to }))).unwrap_or_else(|fault| panic!("{fault}"))
}

#[test]
fn cupcakes_are_iced_on_top_and_have_no_sides() {
    let answer = scaled(&json!("two muffin trays of 12 wells"));
    let icing = answer["parts"][1]["factor"].as_f64().unwrap_or_default();
    // 24 tops of 2 3/4 in against a top, a joint and the sides of two 9 in layers, 2 in deep.
    let (tops, stack) = (24.0 * 2.75 * 2.75 / 4.0, 2.0 * 9.0 * 9.0 / 4.0 + 9.0 * 4.0);
    assert!((icing / (tops / stack) - 1.0).abs() < 1e-6, "{icing}");
    let told = answer["assumptions"].as_array().into_iter().flatten().any(|told| told["field"] == "/finish_to");
    assert!(told, "{}", answer["assumptions"]);
}

#[test]
fn each_tier_has_its_own_weight_and_comes_out_in_its_own_time() {
    let answer = scaled(&json!(["12 inch round, 3 inches deep", "9 inch round, 3 inches deep", "6 inch round, 3 inches deep"]));
    let sizes = answer["bake"]["sizes"].as_array().expect("a time for each");
    let minutes: Vec<_> = sizes.iter().filter_map(|size| size["minutes"]["value"].as_f64()).collect();
    assert!(minutes.len() == 3 && minutes[0] > minutes[1] && minutes[1] > minutes[2], "{minutes:?}");
    assert_eq!(answer["bake"]["minutes"], sizes[0]["minutes"]);
    let summary = answer["summary"].as_str().unwrap_or_default();
    for row in answer["scale_at"].as_array().into_iter().flatten() {
        assert!(summary.contains(row["each"]["text"].as_str().expect("a text")), "{summary}");
    }
}

#[track_caller]
fn factors(from: &str, to: &str) -> Vec<f64> {
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    let formula = r#"{"style":"creamed","parts":[{"name":"batter","lines":[{"ingredient":"flour","amount":"300 g"}]},
        {"name":"icing","scales_with":"finish","lines":[{"ingredient":"butter","amount":"200 g"}]}]}"#;
    let question = format!(r#"{{"formula":{formula},"from":"{from}","to":"{to}"}}"#);
    let question = serde_json::from_str(&question).unwrap_or_else(|fault| panic!("{question}: {fault}"));
    let answer = PanScale::answer(&question, reference, &mut Account::new(reference, false)).unwrap_or_else(|faults| panic!("{faults:#?}"));
    answer.parts.iter().map(|part| part.factor.0).collect()
}

#[test]
fn a_stack_of_two_becomes_a_stack_of_three_without_being_asked_twice() {
    // The tops and the sides of all layers, of 8 in by 2 in three times against 9 in by 2 in twice: 3 x (64 / 4 + 8 x 2) to 2 x (81 / 4 + 9 x 2).
    let icing = factors("two 9 inch round, 2 inches deep", "three 8 inch round, 2 inches deep")[1];
    assert!((icing - 96.0 / 76.5).abs() < 0.001, "{icing}");
    // One sheet has one top and no joint within: 13 x 9 + 44 x 2 against pi times 76.5.
    let icing = factors("two 9 inch round, 2 inches deep", "13x9x2 in")[1];
    assert!((icing - 205.0 / (std::f64::consts::PI * 76.5)).abs() < 0.01, "{icing}");
}

#[track_caller]
fn found(question: Value) -> Vec<(String, String)> {
    let answer = serde_json::to_value(answered(question)).unwrap_or_else(|fault| panic!("{fault}"));
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    answer["findings"].as_array().into_iter().flatten().map(|finding| (text(&finding["kind"]), text(&finding["mend"]))).collect()
}

#[test]
fn the_fruit_of_a_pie_lines_nothing_though_it_is_written_first() {
    let apples = json!({"name": "apples", "lines": [
        {"ingredient": "apple", "amount": "900 g"}, {"ingredient": "granulated sugar", "amount": "100 g"}, {"ingredient": "plain flour", "amount": "20 g"}]});
    let crust = json!({"name": "crust", "lines": [
        {"ingredient": "plain flour", "amount": "250 g"}, {"ingredient": "butter", "amount": "125 g"}, {"ingredient": "water", "amount": "60 g"}]});
    let asked = |parts: Value| {
        let question =
            json!({"formula": {"style": "pie dough", "parts": parts}, "from": "20 cm round, 4 cm deep", "to": "28 cm round, 4 cm deep"});
        answered(question)
    };
    // What is put in the pan is said of the crust, which is all that is judged, and named: it is not all that goes in.
    let summary = asked(json!([apples, crust])).owed.summary;
    assert!(summary.contains("put 853 g of crust in it"), "{summary}");
    let told = asked(json!([apples, crust])).findings;
    assert!(told.len() == 1 && told[0].text.contains("as much of the crust"), "{told:?}");
    assert!(asked(json!([apples])).findings.is_empty());
}

#[test]
fn a_crust_goes_by_the_area_it_lines() {
    let crust = json!({"style": "tart-dough", "parts": [{"name": "crust", "lines": [
        {"ingredient": "plain flour", "amount": "250 g"}, {"ingredient": "butter", "amount": "125 g"}, {"ingredient": "icing sugar", "amount": "100 g"},
    ]}]});
    let told = found(json!({"formula": crust, "from": "23 cm round, 3 cm deep", "to": "8 pans of 10 cm round, 2 cm deep"}));
    // Base and side: 415.5 + 216.8 cm2 against 8 of 78.5 + 62.8 cm2.
    assert_eq!(told, [("lining".to_owned(), "Make 1.789 times as much of it to roll it as thin as before".to_owned())]);
    assert_eq!(found(json!({"formula": crust, "from": "23 cm round, 3 cm deep", "to": "two 23 cm rounds, 3 cm deep"})), []);
}

#[test]
fn cookies_on_a_sheet_fill_nothing() {
    let cookies = json!({"style": "drop-cookie", "parts": [{"name": "dough", "lines": [
        {"ingredient": "plain flour", "amount": "280 g"}, {"ingredient": "butter", "amount": "225 g"}, {"ingredient": "sugar", "amount": "300 g"},
    ]}]});
    assert_eq!(found(json!({"formula": cookies, "from": "half sheet", "to": "quarter sheet"})), []);
}

#[test]
fn a_pan_that_another_stands_in_for_is_not_told_of() {
    let formula =
        json!({ "pan": "9 inch round", "parts": [{ "name": "batter", "lines": [{ "ingredient": "plain flour", "amount": "220 g" }] }] });
    let answer = answered(json!({ "from": "9 inch round", "to": "8 inch square", "formula": formula }));
    let told = answer.owed.assumptions.iter().filter(|assumed| assumed.text.contains("9 inch round")).map(|assumed| assumed.field.as_str());
    assert_eq!(told.collect::<Vec<_>>(), ["/from"]);
}

#[test]
fn a_dial_in_fahrenheit_is_answered_in_fahrenheit_too() {
    let answer = scaled(&json!("13x9x2 in"));
    assert_eq!((answer["bake"]["oven"]["text"].as_str(), answer["bake"]["oven"]["unit"].as_str()), (Some("177 °C (350 °F)"), Some("°C")));
    assert!(answer["bake"]["test"].as_str().is_some_and(|test| test.contains("°F (")), "{}", answer["bake"]["test"]);
}

#[test]
fn shortbread_is_as_thick_in_a_shallow_tin_as_in_a_deep_one() {
    let factor = |keep: Option<&str>| {
        let mut question = json!({ "from": "20 cm round, 7.5 cm deep", "to": "30 x 20 cm rectangle, 3 cm deep", "formula": { "style": "shortbread",
            "parts": [{ "name": "dough", "lines": [{ "ingredient": "plain flour", "amount": "300 g" }, { "ingredient": "butter", "amount": "200 g" },
            { "ingredient": "caster sugar", "amount": "100 g" }] }] } });
        question["keep"] = keep.map_or(Value::Null, Value::from);
        if keep.is_none() {
            question.as_object_mut().map(|fields| fields.remove("keep"));
        }
        (answered(question).factor.0 * 1000.0).round() / 1000.0
    };
    assert_eq!([factor(None), factor(Some("depth")), factor(Some("fill"))], [1.91, 1.91, 0.764]);
}

#[test]
fn macarons_lie_on_a_deep_sheet_as_on_a_flat_one() {
    let question = json!({ "from": "40 x 30 cm rectangle, 2 cm deep", "to": "60 x 40 cm rectangle, 1 cm deep", "formula": { "style": "macaron",
        "parts": [{ "name": "shells", "lines": [{ "ingredient": "almond flour", "amount": "150 g" }, { "ingredient": "icing sugar", "amount": "150 g" },
        { "ingredient": "egg white", "amount": "110 g" }, { "ingredient": "caster sugar", "amount": "150 g" }] }] } });
    assert_eq!(answered(question).factor.0, 2.0);
}

#[test]
fn three_layers_become_the_two_that_two_pans_make() {
    let answer = scaled_in(
        &json!("two 9 inch rounds, 2 inches deep"),
        &json!({ "cover": "top-and-sides", "layers": 3 }),
        "three 6 inch rounds, 2 inches deep",
    );
    let told = answer["assumptions"].to_string();
    assert!(told.contains("How the new ones are covered was not said: top and sides, 2 layers"), "{told}");
}

#[test]
fn a_wide_pan_is_told_of_in_the_unit_in_which_it_is_sold() {
    let told = |to: &str| scaled(&json!(to))["findings"].to_string();
    assert!(told("12 in round, 3 in deep").contains("The pan is 12 in wide: from 10–11 in on"), "{}", told("12 in round, 3 in deep"));
    assert!(told("GN 1/1 65 mm").contains("The pan is 290 mm wide: from 254–279 mm on"), "{}", told("GN 1/1 65 mm"));
    assert!(told("30 cm round, 7.5 cm deep").contains("The pan is 30 cm wide"), "{}", told("30 cm round, 7.5 cm deep"));
}

#[test]
fn the_formula_s_own_pan_is_not_looked_at_where_another_stands_in_its_place() {
    let formula = json!({ "pan": "a pan of no shape that is known", "parts": [{ "name": "batter", "lines": [{ "ingredient": "plain flour", "amount": "200 g" }] }] });
    let answer = answered(json!({ "from": "8 inch square, 2 inches deep", "to": "9 inch square, 2 inches deep", "formula": formula }));
    assert_eq!((answer.factor.0 * 1000.0).round(), 1266.0);
    let own =
        json!({ "pan": "8 inch square", "parts": [{ "name": "batter", "lines": [{ "ingredient": "plain flour", "amount": "200 g" }] }] });
    let fields = |question: Value| -> Vec<String> { answered(question).owed.assumptions.iter().map(|told| told.field.clone()).collect() };
    assert!(fields(json!({ "to": "9 inch square, 2 inches deep", "formula": own })).contains(&"/formula/pan".to_owned()));
    let given = fields(json!({ "from": "8 inch square, 2 inches deep", "to": "9 inch square, 2 inches deep", "formula": own }));
    assert!(!given.contains(&"/formula/pan".to_owned()), "{given:?}");
}

#[test]
fn jam_between_layers_goes_into_no_pan_and_is_told_what_it_is_multiplied_with() {
    let asked = |scales_with: &str| {
        let formula = json!({"style": "pound", "pan": "2 x 20 cm round, 4 cm deep", "parts": [
            {"name": "sponge", "lines": [
                {"ingredient": "self-raising flour", "amount": "200 g"}, {"ingredient": "butter", "amount": "200 g"},
                {"ingredient": "caster sugar", "amount": "200 g"}, {"ingredient": "egg", "amount": "200 g"}]},
            {"name": "middle", "scales_with": scales_with, "lines": [{"ingredient": "raspberry jam", "amount": "150 g"}]},
        ]});
        let answer = answered(json!({"formula": formula, "to": "2 x 23 cm round, 4 cm deep"}));
        let parts: Vec<_> = answer.scale_at.iter().map(|row| row.part.clone()).collect();
        let told = answer.owed.assumptions.iter().filter(|it| it.field == "/formula/parts/1/scales_with").count();
        (parts, told)
    };
    assert_eq!([asked("pan-volume"), asked("finish")], [(vec!["sponge".to_owned()], 1), (vec!["sponge".to_owned()], 0)]);
}

#[test]
fn the_working_names_kinds_of_pans_by_the_words_of_the_trade() {
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    let question = json!({"from": "9 inch round, 2 inches deep", "to": "12-cup muffin tin", "bake": {"oven": "350 F", "minutes": "30"},
        "formula": {"style": "creamed", "parts": [{"name": "batter", "lines": [{"ingredient": "flour", "amount": "700 g"}]}]}});
    let question: PanScaleQuestion = serde_json::from_value(question).unwrap_or_else(|fault| panic!("{fault}"));
    let answer = PanScale::answer(&question, reference, &mut Account::new(reference, true)).unwrap_or_else(|faults| panic!("{faults:#?}"));
    let steps = answer.owed.working.unwrap_or_default();
    assert!(steps.iter().any(|step| step.contains("(a layer to cupcakes)")), "{steps:#?}");
}

#[test]
fn the_sentence_says_whether_the_batter_fits() {
    let lines = json!([{ "ingredient": "flour", "amount": "300 g" }, { "ingredient": "sugar", "amount": "300 g" },
        { "ingredient": "butter", "amount": "150 g" }, { "ingredient": "egg", "amount": "150 g" }]);
    let parts = json!([{ "name": "batter", "specific_gravity": 0.8, "lines": lines }]);
    let formula = json!({ "style": "creamed", "measures": "us", "pan": "9 inch round, 2 in deep", "parts": parts });
    let summary = |to: &str, keep: &str| answered(json!({ "to": to, "keep": keep, "formula": formula })).owed.summary;
    // 900 g are 1127 ml at 0.8 times the density of water: 54 % of 2085 ml, 122 % of 927.
    let fits = summary("9 inch square, 2 in deep", "fill");
    assert!(fits.ends_with(" in it"), "{fits}");
    let over = summary("6 inch round, 2 in deep", "amount");
    assert!(over.contains(" in it; it does not go in, 122 % full"), "{over}");
    let shallow = summary("half sheet", "amount");
    assert!(shallow.contains("; it stands shallow, 36 % full"), "{shallow}");
    assert!(summary("two 6 inch rounds, 3 in deep", "amount").contains(" in each"));
}

#[test]
fn a_bake_in_stages_is_told_whole_in_a_sentence() {
    let summary = |to: Value| {
        let bake = json!({"oven": "220 C", "minutes": "10", "then": [{"oven": "180 C", "minutes": "25", "note": "covered"}]});
        answered(json!({ "from": "9 inch round, 3 inches deep", "to": to, "bake": bake })).owed.summary
    };
    let one = summary(json!("8 inch round, 3 inches deep"));
    assert!(one.contains("; bake about 10 min at 220 °C, then ") && one.ends_with(" min at 180 °C (covered)"), "{one}");
    let tiers = summary(json!(["12 inch round, 3 inches deep", "8 inch round, 3 inches deep"]));
    assert!(tiers.contains("; the first bakes about 10 min at 220 °C, then ") && tiers.contains("(covered); in all about "), "{tiers}");
}

#[test]
fn a_batter_without_a_style_is_warned_of_by_what_it_is_most_like() {
    let lines = json!([
        { "ingredient": "dates", "amount": "200 g" }, { "ingredient": "water", "amount": "250 g" }, { "ingredient": "baking soda", "amount": "5 g" },
        { "ingredient": "butter", "amount": "85 g" }, { "ingredient": "dark muscovado sugar", "amount": "140 g" },
        { "ingredient": "egg", "amount": "100 g" }, { "ingredient": "self-raising flour", "amount": "175 g" },
    ]);
    let asked = |pan: &str, to: &str| {
        let formula = json!({ "name": "Larkrise date sponge", "pan": pan, "parts": [{ "name": "sponge", "lines": lines }] });
        answered(json!({ "formula": formula, "to": to }))
    };
    let shallow = asked("23 cm square tin", "12-hole muffin tin");
    let found = shallow.findings.iter().map(|found| (found.kind, &*found.text, &*found.mend)).collect::<Vec<_>>();
    let [(findings::PanFindingKind::TooShallow, text, mend)] = &*found else { panic!("{found:?}") };
    assert!(text.starts_with("No style was named: it is judged as a quick bread, which it is most like. The pans are 24 %"), "{text}");
    assert!(mend.starts_with("Make 2.4") && mend.ends_with("it stood no higher: if that was shallower, say how deep it was"), "{mend}");
    assert!(shallow.owed.summary.ends_with("; by what it is most like it stands shallow"), "{}", shallow.owed.summary);
    let measured = asked("23 cm square, 7.5 cm deep", "12-hole muffin tin");
    assert!(measured.findings.iter().any(|found| found.mend.ends_with("it stood no higher when it was tested")), "{:?}", measured.findings);
    // It goes in as high as it stood, and no figure is of a guess.
    let deep = asked("23 cm square, 3 cm deep", "12-hole muffin tin");
    assert!(deep.findings.is_empty() && deep.to.fill.is_none(), "{:?}", deep.findings);
}
