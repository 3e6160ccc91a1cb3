//! A bake in stages goes through every calculation whole: what is written of it, read, turned, moved and laid out is the same stages again.

use evencrumb::calculation::{Entry, Options, Refusal};
use evencrumb::reference::Reference;
use proptest::prelude::*;
use serde_json::{Value, json};

fn asked(name: &str, question: &Value) -> Result<Value, Refusal> {
    let reference = Reference::load().expect("the tables are whole");
    let entry = Entry::named(name).expect("there is such a calculation");
    let answer = entry.answer(question.to_string().as_bytes(), reference, Options::default())?;
    Ok(serde_json::from_slice(&answer).expect("an answer is JSON"))
}

#[track_caller]
fn ask(name: &str, question: &Value) -> Value {
    asked(name, question).unwrap_or_else(|refusal| panic!("{question}: {refusal:?}"))
}

/// A cake of Larkrise in a deep tin, with this bake.
fn cake(bake: &Value) -> Value {
    json!({"name": "Larkrise seed cake", "style": "creamed", "measures": "uk", "bake": bake, "pan": "9 inch round, 3 inches deep", "parts": [{"name": "batter", "lines": [
        {"ingredient": "plain flour", "amount": "280 g"}, {"ingredient": "caster sugar", "amount": "225 g"},
        {"ingredient": "butter", "amount": "225 g"}, {"ingredient": "egg", "amount": "4 medium"},
        {"ingredient": "baking powder", "amount": "6 g"}, {"ingredient": "whole milk", "amount": "60 g"}]}]})
}

/// The lines that a baker writes of a cake, with these below them.
fn read(lines: &[&str]) -> Value {
    let all = [&["200 g flour", "200 g butter", "200 g sugar", "4 eggs"], lines].concat();
    ask("read", &json!({ "lines": all }))
}

/// The stages of a bake by what they mean: degrees Celsius, least and most minutes, a note.
fn meant(bake: &Value) -> Vec<(Option<f64>, Option<[f64; 2]>, String)> {
    let figure = |quantity: &Value, end: &str| quantity.get(end).unwrap_or(&quantity["value"]).as_f64();
    let stage = |stage: &Value| {
        let minutes = &stage["minutes"];
        let ends = figure(minutes, "low").zip(figure(minutes, "high")).map(|(low, high)| [low, high]);
        (stage["oven"]["value"].as_f64().map(f64::round), ends, stage["note"].as_str().unwrap_or_default().to_owned())
    };
    std::iter::once(bake).chain(bake["then"].as_array().into_iter().flatten()).map(stage).collect()
}

fn card(bake: &Value) -> Value {
    ask("card", &json!({"formula": cake(bake), "format": "text"}))
}

#[test]
fn a_card_prints_every_stage_in_its_order() {
    for (bake, told) in [
        (json!({"oven": "220 C", "minutes": 15, "then": [{"oven": "180 C", "minutes": "30"}]}), "15 min at 220 °C, then 30 min at 180 °C"),
        (
            json!({"oven": "425 F", "minutes": 15, "then": [{"oven": "350 F", "minutes": "30-40"}]}),
            "15 min at 218 °C (425 F), then 30–40 min at 177 °C (350 F)",
        ),
        (
            json!({"oven": "210 C", "minutes": 30, "note": "covered", "from_oven": "fan", "then": [{"minutes": 15, "note": "uncovered"}]}),
            "30 min at 210 °C fan (covered), then 15 min (uncovered)",
        ),
        (
            json!({"oven": "220 C / gas mark 7", "minutes": 15, "then": [{"oven": "180 C / gas mark 4"}]}),
            "15 min at 220 C / gas mark 7, then 180 C / gas mark 4",
        ),
        // In one stage it is told as ever, and which oven it is.
        (json!({"oven": "350 F", "minutes": "38-44"}), "177 °C (350 F), 38–44 min"),
        (json!({"oven": "160 C", "minutes": "38-44", "from_oven": "fan"}), "160 °C fan, 38–44 min"),
        (json!({"oven": "325 F", "minutes": "38-44", "from_oven": "fan"}), "163 °C fan (325 F fan), 38–44 min"),
        (json!({"oven": "325 F / 160 C", "from_oven": "fan"}), "325 F fan / 160 C fan"),
    ] {
        let card = card(&bake);
        assert_eq!(card["bake"]["text"], told, "{bake}");
        let document = card["document"]["text"].as_str().unwrap_or_default().replace('\n', " ");
        assert!(document.contains(&format!("Bake: {told}")), "{document}");
    }
}

#[test]
fn a_published_formula_bakes_as_long_as_all_its_stages() {
    let time = |bake: Value| {
        let card = ask("card", &json!({"formula": cake(&bake), "format": "json-ld"}));
        let recipe: Value = serde_json::from_str(card["document"]["text"].as_str().unwrap_or_default()).expect("a recipe");
        recipe["cookTime"].as_str().map(str::to_owned)
    };
    assert_eq!(time(json!({"minutes": 15, "then": [{"minutes": "30-40"}]})).as_deref(), Some("PT55M"));
    assert_eq!(time(json!({"minutes": 15, "then": [{"oven": "180 C"}]})), None, "how long the second is, nobody says");
    assert_eq!(time(json!({"minutes": 15})).as_deref(), Some("PT15M"));
}

#[test]
fn every_oven_of_a_bake_goes_the_way_of_the_first() {
    let bake =
        json!({"oven": "425 F", "minutes": 15, "note": "with steam", "then": [{"minutes": "10"}, {"oven": "350 F", "minutes": "30-40"}]});
    let turned = |steps: Value| ask("adapt", &json!({"formula": cake(&bake), "steps": steps}));
    let ovens = |answer: &Value| {
        let bake = answer["formula"]["bake"].clone();
        [&bake["oven"], &bake["then"][0]["oven"], &bake["then"][1]["oven"]].map(|oven| oven.as_str().unwrap_or("as before").to_owned())
    };
    let fan = turned(json!([{"oven": {"to": "fan"}}]));
    assert_eq!(ovens(&fan), ["390 F", "as before", "315 F"]);
    assert_eq!(fan["formula"]["bake"]["from_oven"], "fan");
    assert_eq!((&fan["formula"]["bake"]["note"], &fan["formula"]["bake"]["then"][1]["minutes"]), (&json!("with steam"), &json!("30-40")));
    let told: Vec<_> = fan["changes"].as_array().into_iter().flatten().filter_map(|change| change["pointer"].as_str()).collect();
    assert_eq!(told, ["/formula/bake/oven", "/formula/bake/then/1/oven"]);
    assert_eq!(ovens(&turned(json!([{"oven": {"dial": "gas-mark"}}]))), ["gas mark 7", "as before", "gas mark 4"]);
    assert_eq!(ovens(&turned(json!([{"altitude": {"to": "5000 ft"}}]))), ["445 F", "as before", "370 F"]);
    // What a step leaves open of each stage is carried on to the next.
    let both = turned(json!([{"oven": {"to": "fan"}}, {"altitude": {"to": "5000 ft"}}]));
    assert_eq!(ovens(&both), ["410 F", "as before", "335 F"]);
    let open: Vec<_> = both["changes"]
        .as_array()
        .into_iter()
        .flatten()
        .filter(|change| change["step"] == 1 && change["pointer"].as_str().is_some_and(|at| at.ends_with("/oven")))
        .collect();
    let wide = |change: &Value| change["range"]["high"].as_f64().unwrap_or_default() - change["range"]["low"].as_f64().unwrap_or_default();
    assert!(open.len() == 2 && open.iter().all(|change| wide(change) > 20.0), "{open:?}");
}

#[test]
fn the_scales_of_every_stage_are_compared() {
    let bake = json!({"oven": "425 F / 220 C", "minutes": 15, "then": [{"oven": "350 F / 210 C", "minutes": 30}, {"minutes": 5}]});
    let found = ask("audit", &json!({"formula": cake(&bake)}));
    let places: Vec<_> = found["findings"].as_array().into_iter().flatten().filter_map(|finding| finding["pointer"].as_str()).collect();
    assert_eq!(places, ["/formula/bake/then/0/oven"]);
    let refused = asked("audit", &json!({"formula": cake(&json!({"oven": "220 C", "then": [{"oven": "180 somethings"}]}))}));
    assert!(format!("{refused:?}").contains("/formula/bake/then/0/oven"), "{refused:?}");
}

#[test]
fn a_fault_of_a_stage_is_told_at_its_place_whoever_is_asked() {
    let bake = json!({"oven": "220 C", "minutes": 15, "then": [{"oven": "900 F", "minutes": 30}]});
    for (name, more) in
        [("card", json!({})), ("pan-scale", json!({"to": "8 inch square"})), ("adapt", json!({"steps": [{"oven": {"to": "fan"}}]}))]
    {
        let mut question = json!({"formula": cake(&bake)});
        question.as_object_mut().zip(more.as_object()).into_iter().for_each(|(question, more)| question.extend(more.clone()));
        let refused = asked(name, &question);
        assert!(format!("{refused:?}").contains("/formula/bake/then/0/oven"), "{name}: {refused:?}");
    }
    // Not every question reads the bake, but each takes the formula.
    ask("batch", &json!({"formula": cake(&json!({"oven": "220 C", "minutes": 15, "then": [{"minutes": 30}]})), "want": {"factor": 2}}));
}

#[test]
fn what_follows_on_a_line_of_its_own_is_a_stage() {
    let bake = |lines: &[&str]| read(lines)["formula"]["bake"].clone();
    let staged = |first: &str, minutes: &str, then: Value| json!({"oven": first, "minutes": minutes, "then": then});
    assert_eq!(
        bake(&["Bake at 425 F for 15 minutes.", "Reduce to 350 F and bake 40 minutes more."]),
        staged("425 F", "15 min", json!([{"oven": "350 F", "minutes": "40 min"}]))
    );
    // A whole that is the sum of its stages is no other bake.
    for lines in
        [["Bake: 55 min", "Bake 15 min at 425 F, then 40 min at 350 F"], ["Bake 15 min at 425 F, then 40 min at 350 F", "Bake: 55 min"]]
    {
        assert_eq!(bake(&lines), staged("425 F", "15 min", json!([{"oven": "350 F", "minutes": "40 min"}])), "{lines:?}");
    }
    // Of a fan oven are all, where the first is.
    let fan = read(&["Bake at 200 C fan for 20 minutes, then 160 C for 40 minutes"]);
    assert_eq!((&fan["formula"]["bake"]["from_oven"], &fan["formula"]["bake"]["then"][0]["oven"]), (&json!("fan"), &json!("160 C")));
    assert!(fan["assumptions"].to_string().contains("the same oven as the first"), "{}", fan["assumptions"]);
}

#[test]
fn what_a_baker_writes_of_a_bake_is_what_stands_in_the_formula() {
    let words = |bake: &Value| {
        let stage = |stage: &Value| {
            let text = |name: &str| stage[name].as_str().unwrap_or_default().to_owned();
            [text("minutes"), text("oven"), text("note")].join("|").trim_end_matches('|').to_owned()
        };
        std::iter::once(bake).chain(bake["then"].as_array().into_iter().flatten()).map(stage).collect::<Vec<_>>().join("; ")
    };
    for (line, told) in [
        ("Bake 15 minutes at 220 C, then 30 at 180 C", "15 min|220 C; 30 min|180 C"),
        ("Bake at 475F covered for 20 min, then uncover and bake 25 min more", "20 min|475 F|covered; 25 min||uncovered"),
        ("Bake with steam at 230 C for 15 minutes, then without for 20 minutes", "15 min|230 C|with steam; 20 min"),
        ("Bake 10 minutes at 220 C, then move to the middle for 20 minutes", "10 min|220 C; 20 min"),
        ("Oven: 230 C, 15 min; 200 C, 30 min", "15 min|230 C; 30 min|200 C"),
        ("Bake at 190 C for 10 min and 170 C for 25 min", "10 min|190 C; 25 min|170 C"),
        ("Bake at 220C for 20 min. Lower to 180C. Bake 25 min.", "20 min|220 C; 25 min|180 C"),
        ("Bake at 160 C for 1 hour, then reduce to 140 C, cover with foil and bake another 2 hours", "60 min|160 C; 120 min|140 C|covered"),
        (
            "Preheat a Dutch oven to 475°F. Bake covered 30 minutes; remove lid and bake another 15-20 minutes",
            "30 min|475 F|covered; 15-20 min||uncovered",
        ),
        ("Bake: 260 °C 15 min falling to 200 °C 45 min", "15 min|260 C; 45 min|200 C"),
        // What may be done, and what is no baking, is no stage.
        ("Bake 1 hour at 180 C; reduce to 150 C if it browns too fast", "60 min|180 C"),
        ("Bake 15 min at 220 C, then 40 min at 180 C; cover with foil if it browns", "15 min|220 C; 40 min|180 C"),
        ("Bake 15 min at 220 C, reduce to 110 C and bake 60 min, turn off and leave 1 hour", "15 min|220 C; 60 min|110 C"),
        ("Bake at 180 C for 30 minutes, then cool for 10 minutes", "30 min|180 C"),
        ("Bake at 180 C for 30 min, then 10 min in the tin", "30 min|180 C"),
        ("Bake at 180 C for 25-30 minutes, rotating the tin after 15 minutes", "25-30 min|180 C"),
        // The oven of the bake is not that to which it is heated.
        ("Preheat to 250 C. Bake at 230 C for 40 minutes", "40 min|230 C"),
    ] {
        assert_eq!(words(&read(&[line])["formula"]["bake"]), told, "{line}");
    }
    for line in [
        "Bake at 220 C for 15 minutes, then at 180 C for a total of 45 minutes",
        "Bake at 220 C for 15 minutes, then reduce by 50 C for 30 minutes",
        "Bake at 220 C, reducing to 180 C after 15 minutes, for 45 minutes in all",
        "Bake in two batches, 12 min at 190 C, then 12 min at 190 C",
        "Bake cupcakes at 350 F for 20 min, cake at 325 F for 40 min",
    ] {
        let answer = read(&[line]);
        assert!(answer["formula"]["bake"].is_null() && answer["lines"][4]["state"] == "doubtful", "{line}: {}", answer["formula"]["bake"]);
    }
    let lines =
        [["Bake 1 h at 160 C", "then 2 h at 140 C"], ["Bake at 160 C for 1 h", "Turn the oven down to 140 C and bake for a further 2 h"]];
    for two in lines {
        assert_eq!(words(&read(&two)["formula"]["bake"]), "60 min|160 C; 120 min|140 C", "{two:?}");
    }
}

#[test]
fn stages_that_do_not_go_together_are_told_and_kept_out() {
    for lines in [
        &["Reduce to 350 F and bake 40 minutes more."][..],
        &["Bake at 900 F for 15 minutes, then 350 F for 40 minutes"],
        &["Bake at 200 C for 20 minutes, then 160 C fan for 40 minutes"],
        &["Bake the crust 10 minutes at 375 F.", "Bake 15 min at 425 F, then 40 min at 350 F"],
        &["Bake 15 min at 425 F, then 40 min at 350 F", "Bake 20 min at 400 F, then 30 min at 350 F"],
        &[
            "Bake 15 min at 425 F, then 40 min at 350 F",
            "Bake 15 min at 425 F, then 5 at 420 F, then 5 at 410 F, then 5 at 400 F, then 5 at 390 F, then 5 at 380 F, then 5 at 350 F",
        ],
    ] {
        let answer = read(lines);
        assert!(answer["formula"]["bake"].is_null(), "{lines:?}: {}", answer["formula"]["bake"]);
        let last = answer["lines"].as_array().and_then(|lines| lines.last()).cloned().unwrap_or_default();
        assert_eq!(last["state"], "doubtful", "{last}");
        assert!(last["detail"].as_str().is_some_and(|detail| detail.starts_with("It bakes in stages: ")), "{last}");
        assert!(!answer["lines"].to_string().contains("/formula/bake"), "{}", answer["lines"]);
    }
}

fn oven() -> impl Strategy<Value = String> {
    prop_oneof![(15_u32..25).prop_map(|tens| format!("{} C", tens * 10)), (12_u32..19).prop_map(|steps| format!("{} F", steps * 25))]
}

fn minutes() -> impl Strategy<Value = String> {
    prop_oneof![
        (2_u32..120).prop_map(|time| format!("{time} min")),
        (5_u32..60, 1_u32..20).prop_map(|(time, more)| format!("{time}-{} min", time + more))
    ]
}

/// A stage that says something: its minutes, with its oven or without.
fn stage() -> impl Strategy<Value = Value> {
    let note = prop_oneof![Just(None), Just(Some("covered")), Just(Some("uncovered")), Just(Some("with steam")), Just(Some("door ajar"))];
    (oven(), proptest::bool::weighted(0.8), minutes(), note).prop_map(|(oven, set, minutes, note)| {
        let mut stage = json!({"minutes": minutes});
        if set {
            stage["oven"] = oven.into();
        }
        if let Some(note) = note {
            stage["note"] = note.into();
        }
        stage
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_bake_is_the_same_from_the_card_read_again(first in stage(), oven in oven(), fan in any::<bool>(), then in prop::collection::vec(stage(), 1..5)) {
        let mut bake = first;
        bake["oven"] = oven.into();
        bake["then"] = then.into();
        if fan {
            bake["from_oven"] = "fan".into();
        }
        let card = card(&bake);
        let text = format!("Bake: {}", card["bake"]["text"].as_str().unwrap_or_default());
        // A line may have so many characters.
        prop_assume!(text.chars().count() <= 200);
        let again = read(&[&text]);
        let read = again["formula"]["bake"].clone();
        prop_assert!(read.is_object(), "{}: {}", &text, again["lines"][4]);
        prop_assert_eq!(read["from_oven"].as_str(), fan.then_some("fan"), "{}: {}", &text, again["lines"]);
        let cards = ask("card", &json!({"formula": cake(&read)}));
        prop_assert_eq!(meant(&cards["bake"]), meant(&card["bake"]), "{}: {}", &text, read);
    }

    #[test]
    fn a_bake_goes_through_another_kitchen_and_comes_back_as_it_was(first in stage(), then in prop::collection::vec(stage(), 0..5)) {
        let mut bake = first;
        if !then.is_empty() {
            bake["then"] = then.into();
        }
        let answer = ask("adapt", &json!({"formula": cake(&bake), "steps": [{"eggs": {"to": "large"}}]}));
        prop_assert_eq!(&answer["formula"]["bake"], &bake);
        // And every other question takes the formula as it was put out.
        for (name, more) in [("batch", json!({"want": {"factor": 2}})), ("ratio-check", json!({})), ("audit", json!({})), ("card", json!({}))] {
            let mut question = json!({"formula": answer["formula"]});
            question.as_object_mut().zip(more.as_object()).into_iter().for_each(|(question, more)| question.extend(more.clone()));
            prop_assert!(asked(name, &question).is_ok(), "{}: {:?}", name, asked(name, &question));
        }
    }

    #[test]
    fn the_stages_of_another_pan_hold_the_time_of_the_whole(first in stage(), then in prop::collection::vec(stage(), 1..4), inches in 5_u32..14) {
        let mut bake = first;
        bake["then"] = then.into();
        let answer = ask("pan-scale", &json!({"formula": cake(&bake), "to": format!("{inches} inch round, 3 inches deep")}));
        let baked = &answer["bake"];
        let stages = meant(baked);
        prop_assert_eq!(stages.len(), meant(&card(&bake)["bake"]).len());
        let value = |of: &Value| of["value"].as_f64().unwrap_or_default();
        let sum = value(&baked["minutes"]) + baked["then"].as_array().into_iter().flatten().map(|stage| value(&stage["minutes"])).sum::<f64>();
        // Each is rounded to a minute, and none is less than one.
        prop_assert!((sum - value(&baked["in_all"])).abs() <= stages.len() as f64, "{}", baked);
        for (_, ends, _) in stages {
            let [low, high] = ends.unwrap_or_default();
            prop_assert!(low >= 1.0 && low <= high, "{}", baked);
        }
    }
}

#[test]
fn a_lid_that_comes_off_in_a_sentence_of_its_own_begins_a_stage() {
    let bake = |lines: &[&str]| read(lines)["formula"]["bake"].clone();
    let loaf = json!({"oven": "450 F", "minutes": "30 min", "then": [{"minutes": "15-20 min", "note": "uncovered"}]});
    assert_eq!(bake(&["Bake covered at 450°F for 30 minutes. Uncover and bake 15–20 minutes longer"]), loaf);
    // A lid that is taken off was on before.
    assert_eq!(bake(&["Bake covered at 450°F for 30 minutes. Remove the lid, bake 15-20 min."]), loaf);
    assert_eq!(bake(&["Bake covered at 450°F for 30 minutes.", "Remove the lid and continue baking for another 15–20 minutes."]), loaf);
    // What rests uncovered does not bake.
    let plain = json!({"oven": "450 F", "minutes": "30 min"});
    assert_eq!(bake(&["Bake at 450 F for 30 minutes. Uncover and leave to cool for another 30 minutes"]), plain);
}
