//! Doughs as the trade prints them: a poolish both ways, brioche's water, temperatures and ice.

use super::*;
use crate::quantity::Quantity;

mod mistakes;

#[track_caller]
fn ask(question: &str) -> Result<DoughAnswer, Faults> {
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    let question = serde_json::from_str(question).unwrap_or_else(|fault| panic!("{question}: {fault}"));
    DoughRoom::answer(&question, reference, &mut Account::new(reference, true))
}

#[track_caller]
fn answered(question: &str) -> DoughAnswer {
    ask(question).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

#[track_caller]
fn near(found: f64, printed: f64, within: f64) {
    assert!((found - printed).abs() <= within, "{found} and not {printed}");
}

fn grams(quantity: &Quantity) -> f64 {
    quantity.value.0
}

const POOLISH: &str = r#"{"parts":[
    {"name":"poolish","into":"final dough","lines":[{"ingredient":"bread flour","amount":"468 g"},{"ingredient":"water","amount":"468 g"},{"ingredient":"instant yeast","amount":"0.3 g"}]},
    {"name":"final dough","lines":[{"ingredient":"bread flour","amount":"900 g"},{"ingredient":"water","amount":"468 g"},{"ingredient":"instant yeast","amount":"9 g"},{"ingredient":"salt","amount":"27 g"}]}]}"#;

#[test]
fn a_poolish_and_its_final_dough_are_one_overall_formula() {
    let answer = answered(&format!(r#"{{"formula":{POOLISH}}}"#));
    let overall = answer.overall.as_ref().unwrap_or_else(|| panic!("no overall formula"));
    near(grams(&overall.flour), 1368.0, 1e-9);
    near(grams(&overall.lines[1].amount), 936.0, 1e-9);
    near(overall.lines[1].of_flour.percent.0, 68.421, 0.01);
    near(overall.lines[3].of_flour.percent.0, 1.974, 0.01);
    near(answer.prefermented_flour.map_or(f64::NAN, |share| share.percent.0), 34.211, 0.01);
    near(answer.hydration.map_or(f64::NAN, |wet| wet.added_liquid.percent.0), 68.421, 0.01);
    near(answer.preferments[0].hydration.percent.0, 100.0, 0.01);
    let last = answer.final_dough.as_ref().map(|part| &part.lines[4]);
    assert!(last.is_some_and(|line| line.ingredient == "poolish" && (line.amount.value.0 - 936.3).abs() < 1e-9));
}

#[test]
fn the_final_dough_alone_would_mislead() {
    // 468 of 900 reads 52 % and 27 of 900 reads 3 %, where the dough has 68.4 % and 1.97 %.
    let alone = r#"{"formula":{"parts":[{"name":"final dough","lines":[{"ingredient":"bread flour","amount":"900 g"},{"ingredient":"water","amount":"468 g"},{"ingredient":"salt","amount":"27 g"}]}]}}"#;
    let lines = answered(alone).overall.map_or(Vec::new(), |overall| overall.lines);
    near(lines[1].of_flour.percent.0, 52.0, 1e-9);
    near(lines[2].of_flour.percent.0, 3.0, 1e-9);
}

#[test]
fn a_part_called_poolish_is_a_preferment_without_being_said_so_and_that_is_told() {
    let apart = POOLISH.replace(r#""into":"final dough","#, "");
    let answer = answered(&format!(r#"{{"formula":{apart}}}"#));
    near(answer.prefermented_flour.map_or(f64::NAN, |share| share.percent.0), 34.211, 0.01);
    assert!(answer.owed.assumptions.iter().any(|assumption| assumption.field == "/preferments"));
}

#[test]
fn targets_give_the_poolish_back() {
    let answer = answered(
        r#"{"percentages":[{"ingredient":"bread flour","percent":100},{"ingredient":"water","percent":68.42105},{"ingredient":"salt","percent":1.97368},{"ingredient":"instant yeast","percent":0.67982}],
        "preferments":[{"part":"poolish","prefermented_flour":34.21053,"hydration":100,"yeast":0.0641}],"want":{"weight":"2340.3 g"}}"#,
    );
    let overall = answer.overall.as_ref().map_or(f64::NAN, |overall| grams(&overall.flour));
    near(overall, 1368.0, 0.5);
    near(grams(&answer.preferments[0].flour), 468.0, 0.5);
    near(grams(&answer.preferments[0].water), 468.0, 0.5);
    near(grams(&answer.preferments[0].lines[2].amount), 0.3, 0.001);
    let last = answer.final_dough.map_or(Vec::new(), |part| part.lines);
    near(grams(&last[0].amount), 900.0, 0.5);
    near(grams(&last[1].amount), 468.0, 0.5);
    near(last.iter().map(|line| grams(&line.amount)).sum::<f64>(), 2340.3, 1e-9);
}

fn levain(flour: u32) -> String {
    format!(
        r#"{{"percentages":[{{"ingredient":"bread flour","percent":90}},{{"ingredient":"whole wheat flour","percent":10}},{{"ingredient":"water","percent":72}},{{"ingredient":"salt","percent":2}}],
        "preferments":[{{"part":"levain","prefermented_flour":{flour},"hydration":60,"flour":"whole wheat flour","seed":{{"percent":20}}}}],"want":{{"flour":"10 kg"}}}}"#
    )
}

#[test]
fn a_levain_counts_the_flour_and_water_of_its_seed() {
    let answer = answered(&levain(8));
    let levain = &answer.preferments[0];
    near(grams(&levain.flour), 800.0, 1e-9);
    near(levain.hydration.percent.0, 60.0, 1e-9);
    // Fed 800 / 1.1 g of flour and a fifth of that of seed, half of which is flour.
    let [fed, water, seed] = [0, 1, 2].map(|at| grams(&levain.lines[at].amount));
    near(fed, 727.2727, 0.001);
    near(seed, 145.4545, 0.001);
    near(water, 480.0 - seed / 2.0, 1e-6);
    near(answer.hydration.map_or(f64::NAN, |wet| wet.all_water.percent.0), 72.0, 0.01);
}

#[test]
fn a_preferment_cannot_take_more_of_a_flour_than_there_is() {
    let faults = ask(&levain(15)).err().unwrap_or_default();
    let places: Vec<&str> = faults.iter().map(|fault| fault.pointer.as_str()).collect();
    assert_eq!(places, ["/preferments/0/prefermented_flour"]);
}

#[test]
fn seventy_three_baguettes_come_out_as_the_worksheet_prints_them() {
    let answer = answered(
        r#"{"percentages":[{"ingredient":"bread flour","percent":100},{"ingredient":"water","percent":67},{"ingredient":"salt","percent":2},{"ingredient":"instant yeast","percent":1}],"want":{"pieces":73,"each":"390 g"}}"#,
    );
    let overall = answer.overall.unwrap_or_else(|| panic!("no overall formula"));
    near(overall.total.percent.0, 170.0, 1e-9);
    for (line, printed) in overall.lines.iter().zip([16747.06, 11220.53, 334.94, 167.47]) {
        near(grams(&line.amount), printed, 0.05);
    }
}

#[test]
fn a_brioche_is_wet_by_its_eggs_and_butter() {
    let answer = answered(
        r#"{"formula":{"parts":[{"name":"brioche","lines":[{"ingredient":"bread flour","amount":"500 g"},{"ingredient":"egg","amount":"250 g"},{"ingredient":"whole milk","amount":"50 g"},{"ingredient":"butter","amount":"250 g"}]}]}}"#,
    );
    let wet = answer.hydration.unwrap_or_else(|| panic!("no hydration"));
    near(wet.all_water.percent.0, 54.8, 1.5);
    near(wet.without_butter.percent.0, 46.8, 0.6);
    let from: Vec<&str> = answer.water_from.iter().map(|water| water.from).collect();
    assert_eq!(from, ["milk", "eggs", "fats"]);
}

#[test]
fn the_water_is_told_in_the_scale_of_the_question() {
    let fahrenheit = answered(r#"{"temperature":{"desired":"80 F","room":"75 F","flour":"65 F","friction":"35 F"}}"#);
    let water = fahrenheit.temperature.map(|temperature| temperature.water);
    assert_eq!(water.map(|water| (water.text, (water.value.0 - 65.0).abs() < 1e-9)), Some(("65 °F".into(), true)));
    let celsius = answered(r#"{"temperature":{"desired":"25 C","room":"22 C","flour":"20 C","preferment":"21 C","friction":"12 C"}}"#);
    let shown = celsius.temperature.unwrap_or_else(|| panic!("no temperature"));
    assert_eq!((shown.factor.0, shown.water.value.0), (4.0, 25.0));
    assert_eq!(celsius.owed.summary, "The water is to be 25 °C");
}

#[test]
fn ice_is_told_apart_by_whether_it_replaces_or_is_added() {
    let ask = |way: &str| {
        let temperature =
            format!(r#"{{"desired":"25 C","room":"20 C","flour":"20 C","friction":"25 C","tap":"20 C","water":"40 kg","ice":"{way}"}}"#);
        answered(&format!(r#"{{"temperature":{temperature}}}"#)).temperature.and_then(|temperature| temperature.ice)
    };
    let (Some(replacing), Some(added)) = (ask("replacing"), ask("added")) else { panic!("no ice") };
    near(grams(&replacing.ice), 4003.0, 5.0);
    near(grams(&replacing.water), 35_997.0, 5.0);
    near(grams(&added.ice), 4448.0, 5.0);
    assert_eq!(added.if_replacing, replacing.if_replacing);
}

#[test]
fn too_much_ice_and_water_colder_than_ice_are_findings() {
    let ids = |ice: &str, friction: &str| -> Vec<&'static str> {
        let temperature =
            format!(r#"{{"desired":"22 C","room":"35 C","flour":"30 C","friction":"{friction}","tap":"28 C","water":"40 kg"{ice}}}"#);
        answered(&format!(r#"{{"temperature":{temperature}}}"#)).findings.iter().map(|finding| finding.id).collect()
    };
    assert_eq!(ids("", "14 C"), ["water-below-freezing"]);
    assert_eq!(ids(r#","ice":"replacing""#, "14 C"), ["ice-melts-in-the-dough"]);
    assert_eq!(ids(r#","ice":"replacing""#, "50 C"), ["ice-cannot-melt"]);
    assert_eq!(ids(r#","ice":"added""#, "14 C"), ["ice-wets-dough", "ice-melts-in-the-dough"]);
}

#[test]
fn a_tap_that_is_too_warm_is_told_where_nobody_has_asked_for_ice() {
    let found = |tap: &str, ice: &str| -> Vec<&'static str> {
        let temperature =
            format!(r#"{{"desired":"24 C","room":"28 C","flour":"26 C","friction":"14 C","water":"10 kg","tap":"{tap}"{ice}}}"#);
        answered(&format!(r#"{{"temperature":{temperature}}}"#)).findings.iter().map(|finding| finding.id).collect()
    };
    // 3 x 24 - 28 - 26 - 14 is 4.
    assert_eq!([found("20 C", ""), found("4 C", ""), found("20 C", r#","ice":"replacing""#)], [vec!["tap-too-warm"], vec![], vec![]]);
}

#[test]
fn every_fault_is_told_at_once_with_its_place() {
    let faults = ask(
        r#"{"percentages":[{"ingredient":"bread flour","percent":80},{"ingredient":"watter","percent":60}],"preferments":[{"part":"poolish"}],"want":{"pieces":3},
        "temperature":{"desired":"25","room":"20 C","flour":"20 g","friction":"12 C","mixer":"spiral","ice":"added"}}"#,
    );
    let faults = faults.err().unwrap_or_default();
    let places: Vec<&str> = faults.iter().map(|fault| fault.pointer.as_str()).collect();
    let wanted = [
        "/want/each",
        "/preferments/0/prefermented_flour",
        "/percentages/1/ingredient",
        "/temperature/desired",
        "/temperature/flour",
        "/temperature",
        "/temperature/tap",
    ];
    assert_eq!(places, wanted);
}

#[test]
fn flour_without_gluten_and_its_starch_make_the_hundred_together() {
    let lines =
        r#"[{"ingredient":"rice flour","percent":70},{"ingredient":"tapioca starch","percent":30},{"ingredient":"water","percent":95}]"#;
    let answer = answered(&format!(r#"{{"percentages":{lines},"want":{{"weight":"1950 g"}}}}"#));
    let overall = answer.overall.as_ref().map(|overall| overall.flour.value.0);
    let hydration = answer.hydration.as_ref().map(|hydration| hydration.added_liquid.percent.0);
    assert_eq!((overall.map(f64::round), hydration.map(f64::round)), (Some(1000.0), Some(95.0)));
}

#[test]
fn where_milk_is_poured_it_is_the_milk_that_is_warmed() {
    let lines =
        r#"[{"ingredient":"bread flour","percent":100},{"ingredient":"milk","percent":60},{"ingredient":"instant yeast","percent":1}]"#;
    let warm = r#"{"desired":"26 C","room":"21 C","flour":"20 C","friction":"14 Celsius degrees"}"#;
    let answer = answered(&format!(r#"{{"percentages":{lines},"temperature":{warm}}}"#));
    // 3 x 26 - 21 - 20 - 14.
    assert!(answer.owed.summary.contains("; the whole milk is to be 23 °C ("), "{}", answer.owed.summary);
    // By hand: (1000 x 1.8 x 6 + 10 x 1.98 x 5 - 14 / 3 x (1800 + 19.8 + 600 x 3.903)) / (600 x 3.903) degrees beside 26.
    let by_heat = answer.temperature.and_then(|shown| shown.by_heat).map_or(f64::NAN, |heat| heat.value.0);
    near(by_heat, 22.37, 0.05);
}

#[test]
fn a_final_dough_into_which_nothing_is_poured_is_not_steered_by_its_water() {
    let parts = r#"[{"name":"sponge","into":"dough","lines":[{"ingredient":"bread flour","amount":"250 g"},{"ingredient":"milk","amount":"250 g"},{"ingredient":"fresh yeast","amount":"15 g"}]},
        {"name":"dough","lines":[{"ingredient":"bread flour","amount":"250 g"},{"ingredient":"butter","amount":"100 g"},{"ingredient":"egg","amount":"100 g"}]}]"#;
    let warm = r#"{"desired":"26 C","room":"24 C","flour":"22 C","preferment":"27 C","friction":"14 Celsius degrees"}"#;
    let answer = answered(&format!(r#"{{"formula":{{"parts":{parts}}},"temperature":{warm}}}"#));
    assert_eq!(answer.findings.first().map(|finding| finding.id), Some("nothing-poured"));
    assert!(!answer.owed.summary.contains("is to be"), "{}", answer.owed.summary);
    assert!(answer.owed.summary.contains("Nothing is poured into the final dough"), "{}", answer.owed.summary);
}

#[test]
fn the_working_writes_nothing_without_a_sign() {
    let answer = answered(
        r#"{"temperature":{"desired":"24 C","room":"30 C","flour":"28 C","friction":"12 Celsius degrees","tap":"18 C","ice":"added","water":"1 kg"}}"#,
    );
    let steps = answer.owed.working.unwrap_or_default();
    assert!(steps.iter().any(|step| step.contains("2.108 x 0)")), "{steps:#?}");
}
