//! Estimates against what is printed and practised.

use super::*;
use crate::pan::{BakeWritten, PansWritten};
use crate::quantity::{Measures, Pointer, Written};

fn reference() -> &'static Reference {
    Reference::load().unwrap_or_else(|fault| panic!("{fault}"))
}

#[track_caller]
fn pans(phrase: &str) -> Pans {
    let written: PansWritten = serde_json::from_value(phrase.into()).unwrap_or_else(|fault| panic!("{fault}"));
    written
        .resolve(Measures::Us, reference(), &Pointer::ROOT.key("to"), &mut Account::new(reference(), false))
        .unwrap_or_else(|faults| panic!("{faults:?}"))
}

fn share(value: f64) -> Span<Share> {
    Span::exact(Share::of_one(value))
}

fn baked(minutes: &str, from: (&str, f64), to: (&str, f64), style: Option<&str>, metres: f64) -> BakeShown {
    let written = serde_json::json!({"oven": "350 F", "minutes": minutes});
    staged(written, from, to, style, metres)
}

fn staged(bake: serde_json::Value, from: (&str, f64), to: (&str, f64), style: Option<&str>, metres: f64) -> BakeShown {
    let written: BakeWritten = serde_json::from_value(bake).unwrap_or_else(|fault| panic!("{fault}"));
    let bake = written.resolve(&Pointer::ROOT).unwrap_or_else(|faults| panic!("{faults:?}"));
    let moved = BakeMoved {
        bake: &bake,
        from: &pans(from.0),
        to: &pans(to.0),
        fills: [share(from.1), share(to.1)],
        style: style.and_then(|style| reference().styles.find(style)),
        altitude: Length::centimetres(metres * 100.0),
    };
    estimate(&moved, reference(), &mut Account::new(reference(), false))
}

fn range(shown: &BakeShown) -> (f64, f64) {
    let minutes = shown.minutes.as_ref().unwrap_or_else(|| panic!("{shown:?}"));
    (minutes.low.unwrap_or(minutes.value).0, minutes.high.unwrap_or(minutes.value).0)
}

#[track_caller]
fn holds(shown: &BakeShown, low: f64, high: f64) {
    let (least, most) = range(shown);
    assert!(least <= low && high <= most, "{least} to {most} for {low} to {high}");
}

#[test]
fn a_thin_layer_that_goes_into_a_sheet_as_thin_takes_no_jelly_rolls_time() {
    // Practice: two 9 in layers of 28 to 33 minutes are a 13 x 9 in cake of 32 to 38, of the same depth whatever that is.
    for fill in [0.29, 0.5] {
        let shown = baked("28-33", ("9 inch round", fill), ("13x9x2 in", fill), Some("creamed"), 0.0);
        holds(&shown, 32.0, 38.0);
        assert!(range(&shown).0 > 20.0, "{shown:?}");
    }
    let roll = baked("28-33", ("9 inch round", 0.5), ("half sheet", 0.5), Some("creamed"), 0.0);
    holds(&roll, 12.0, 20.0);
}

#[test]
fn the_same_batter_in_a_wider_round_bakes_as_printed() {
    // Old Farmer's Almanac: 25 minutes in an 8 in round, 20 in a 9 in round.
    let shown = baked("25", ("8 inch round", 0.5), ("9 inch round", 0.395), Some("creamed"), 0.0);
    holds(&shown, 20.0, 20.0);
    let (least, most) = range(&shown);
    assert!(most - least < 6.0, "{least} to {most}");
}

#[test]
fn another_kind_of_pan_holds_what_is_practised() {
    holds(&baked("32", ("9 inch round", 0.6), ("12-cup muffin tin", 0.6), Some("creamed"), 0.0), 18.0, 22.0);
    holds(&baked("32", ("9 inch round", 0.6), ("12-cup fluted ring", 0.6), Some("creamed"), 0.0), 50.0, 64.0);
    holds(&baked("32", ("9 inch round", 0.6), ("9x5 loaf", 0.6), Some("creamed"), 0.0), 50.0, 70.0);
}

#[test]
fn a_much_wider_layer_holds_what_is_practised() {
    // A pan maker's chart: 25 to 40 minutes up to 12 in, 45 to 60 from 14 in on.
    holds(&baked("30", ("9 inch round", 0.6), ("12 inch round", 0.6), Some("creamed"), 0.0), 31.0, 38.0);
    holds(&baked("30-35", ("8 inch round", 0.6), ("14 inch round", 0.6), Some("creamed"), 0.0), 45.0, 60.0);
    holds(&baked("35", ("12 inch round", 0.6), ("9 inch round", 0.6), Some("creamed"), 0.0), 29.0, 35.0);
    let near = range(&baked("30", ("9 inch round", 0.6), ("8 inch round", 0.6), Some("creamed"), 0.0));
    assert!(near.1 - near.0 < 3.0, "{near:?}");
}

#[test]
fn the_same_pan_takes_the_same_time() {
    let shown = baked("38-44", ("9 inch round", 0.6), ("9 inch round", 0.6), None, 0.0);
    assert_eq!(range(&shown), (38.0, 44.0));
    assert_eq!(shown.check_from.map(|quantity| quantity.value.0), Some(30.0));
    assert_eq!(shown.oven.map(|quantity| quantity.text), Some("177 °C (350 °F)".into()));
}

#[test]
fn a_test_is_never_above_local_boiling() {
    let sea = baked("30", ("9 inch round", 0.6), ("8 inch square", 0.6), None, 0.0).test.unwrap_or_default();
    assert!(sea.contains("200 to 209 °F (93 to 98 °C)") && sea.contains("boils at 212 °F (100 °C)"), "{sea}");
    let high = baked("30", ("9 inch round", 0.6), ("8 inch square", 0.6), None, 2500.0).test.unwrap_or_default();
    assert!(high.contains("skewer") && !high.contains("thermometer in the middle shows"), "{high}");
}

#[test]
fn what_is_no_batter_in_a_pan_has_no_estimate_and_is_told_why() {
    let shown = baked("30", ("9 inch round", 0.6), ("8 inch square", 0.6), Some("doughnut"), 0.0);
    assert!(shown.minutes.is_none() && shown.oven.is_none() && shown.model.contains("fried"), "{shown:?}");
}

#[test]
fn a_pan_known_only_by_water_has_no_time_but_an_oven() {
    let written =
        BakeWritten { oven: Some(Written::Text("180 C".into())), minutes: Some(Written::Text("30".into())), ..BakeWritten::default() };
    let bake = written.resolve(&Pointer::ROOT).unwrap_or_else(|faults| panic!("{faults:?}"));
    let (from, to) = (pans("9 inch round"), pans("5 quart dish"));
    let moved = BakeMoved { bake: &bake, from: &from, to: &to, fills: [share(0.6); 2], style: None, altitude: Length::ZERO };
    let shown = estimate(&moved, reference(), &mut Account::new(reference(), false));
    assert!(shown.minutes.is_none() && shown.oven.is_some() && shown.model.starts_with("No time"), "{shown:?}");
}

/// A 9 in round, three fifths full, into this pan.
fn in_stages_to(bake: serde_json::Value, to: &str) -> BakeShown {
    staged(bake, ("9 inch round", 0.6), (to, 0.6), Some("creamed"), 0.0)
}

/// Each stage by its least and most minutes.
fn shares(shown: &BakeShown) -> Vec<[f64; 2]> {
    let ends = |minutes: &Quantity| [minutes.low.unwrap_or(minutes.value).0, minutes.high.unwrap_or(minutes.value).0];
    shown.minutes.iter().chain(shown.then.iter().filter_map(|stage| stage.minutes.as_ref())).map(ends).collect()
}

#[test]
fn a_hot_start_keeps_its_minutes_and_the_rest_takes_the_change() {
    let bake = serde_json::json!({"oven": "220 C", "minutes": "10", "note": "lid on", "then": [{"oven": "180 C", "minutes": "25", "note": "lid off"}]});
    let shown = in_stages_to(bake.clone(), "12 inch round");
    let alone = range(&in_stages_to(serde_json::json!({"oven": "180 C", "minutes": "35"}), "12 inch round"));
    assert_eq!(shares(&shown), [[10.0, 10.0], [alone.0 - 10.0, alone.1 - 10.0]]);
    let whole = shown.in_all.as_ref().map(|whole| (whole.low.unwrap_or(whole.value).0, whole.high.unwrap_or(whole.value).0));
    assert_eq!(whole, Some(alone), "the time of the whole is that of a bake in one stage");
    assert_eq!((shown.note.as_deref(), shown.then[0].note.as_deref()), (Some("lid on"), Some("lid off")));
    assert!(shown.model.contains("keeps its minutes") && shown.model.contains("practice, from memory") && shown.model.len() <= 1000);
    assert!(shown.in_stages().is_some_and(|told| told.starts_with("10 min at 220 °C (lid on), then ")), "{shown:?}");
    // Where nothing changes, nothing is changed.
    assert_eq!(shares(&in_stages_to(bake, "9 inch round")), [[10.0, 10.0], [25.0, 25.0]]);
}

#[test]
fn a_hot_end_browns_and_keeps_its_minutes_too() {
    let bake = serde_json::json!({"oven": "150 C", "minutes": "40", "then": [{"oven": "200 C", "minutes": "5"}]});
    let alone = range(&in_stages_to(serde_json::json!({"minutes": "45"}), "12 inch round"));
    assert_eq!(shares(&in_stages_to(bake, "12 inch round")), [[alone.0 - 5.0, alone.1 - 5.0], [5.0, 5.0]]);
}

#[test]
fn stages_of_which_none_is_hot_and_short_take_their_share_each() {
    let alone = range(&in_stages_to(serde_json::json!({"minutes": "180"}), "6 inch round"));
    for bake in [
        serde_json::json!({"oven": "150 C", "minutes": "60", "then": [{"minutes": "120", "note": "covered"}]}),
        serde_json::json!({"minutes": "60", "then": [{"minutes": "120"}]}),
        // The first hour of a falling oven bakes the whole.
        serde_json::json!({"oven": "160 C", "minutes": "60", "then": [{"oven": "140 C", "minutes": "120"}]}),
    ] {
        let shown = in_stages_to(bake, "6 inch round");
        let third = [(alone.0 / 3.0).floor(), (alone.1 / 3.0).ceil()];
        assert_eq!(shares(&shown)[0], third, "{shown:?}");
        assert!(shown.model.contains("takes its share"), "{}", shown.model);
    }
}

#[test]
fn a_hot_start_is_never_most_of_a_bake_that_has_become_short() {
    let bake = serde_json::json!({"oven": "220 C", "minutes": "15", "then": [{"oven": "180 C", "minutes": "20"}]});
    let shown = in_stages_to(bake, "24-cup mini muffin tin");
    let all = shares(&shown);
    let whole = shown.in_all.as_ref().map_or(0.0, |whole| whole.value.0);
    assert!(all[0][1] < 15.0 && (all[0][1] - whole / 2.0).abs() <= 1.0 && all[1][0] >= 1.0, "{shown:?}");
    assert!(shown.model.contains("cut too"), "{}", shown.model);
}

#[test]
fn a_stage_that_does_not_say_how_long_it_is_leaves_no_estimate_but_its_oven() {
    let shown = in_stages_to(serde_json::json!({"oven": "220 C", "minutes": "15", "then": [{"oven": "180 C"}]}), "12 inch round");
    assert!(shown.minutes.is_none() && shown.in_all.is_none() && shown.in_stages().is_none(), "{shown:?}");
    assert_eq!(shown.then[0].oven.as_ref().map(|oven| &*oven.text), Some("180 °C"));
    assert!(shown.model.contains("does not say how long"), "{}", shown.model);
}

#[test]
fn the_dial_is_turned_in_every_stage() {
    let bake = serde_json::json!({"oven": "425 F", "minutes": "10", "to_oven": "fan", "then": [{"minutes": "5"}, {"oven": "350 F", "minutes": "25"}]});
    let shown = in_stages_to(bake, "9 inch round");
    let texts: Vec<_> =
        shown.oven.iter().chain(shown.then.iter().filter_map(|stage| stage.oven.as_ref())).map(|oven| &*oven.text).collect();
    assert_eq!(texts, ["198 °C (389 °F)", "157 °C (314 °F)"]);
}
