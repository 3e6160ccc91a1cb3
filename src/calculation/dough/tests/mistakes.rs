//! What people write by mistake of a dough and its water: what is found is named, and so is the mend; and what a dough cannot be steered by.

use super::*;
use crate::quantity::Fault;

const LEAN: &str =
    r#"[{"ingredient":"bread flour","percent":100},{"ingredient":"water","percent":67},{"ingredient":"instant yeast","percent":1}]"#;

#[track_caller]
fn refused(question: &str) -> Vec<Fault> {
    ask(question).map(|_| ()).expect_err(question).iter().cloned().collect()
}

#[track_caller]
fn parted(preferments: &str) -> Vec<Fault> {
    refused(&format!(r#"{{"percentages":{LEAN},"preferments":[{preferments}]}}"#))
}

#[track_caller]
fn warm(members: &str) -> DoughAnswer {
    answered(&format!(r#"{{"temperature":{{{members}}}}}"#))
}

fn water(answer: &DoughAnswer) -> f64 {
    answer.temperature.as_ref().map_or(f64::NAN, |shown| shown.water.value.0)
}

fn assumed<'a>(answer: &'a DoughAnswer, field: &str) -> Vec<&'a str> {
    answer.owed.assumptions.iter().filter(|one| one.field == field).map(|one| &*one.text).collect()
}

#[test]
fn shares_of_one_are_told_to_be_written_in_percent() {
    let faults = refused(r#"{"percentages":[{"ingredient":"bread flour","percent":1},{"ingredient":"water","percent":0.65}]}"#);
    assert!(faults[0].detail.contains("65 for 0.65"), "{faults:?}");
    let faults = parted(r#"{"part":"poolish","prefermented_flour":30,"hydration":1}"#);
    assert_eq!((faults[0].pointer.as_str(), &faults[0].attempts[..]), ("/preferments/0/hydration", &["100".to_owned()][..]));
    // Too much is no share of one.
    assert!(parted(r#"{"part":"poolish","prefermented_flour":120,"hydration":100}"#)[0].attempts.is_empty());
    let share = |figure: &str| {
        let one = format!(r#"{{"part":"biga","prefermented_flour":{figure},"hydration":60,"yeast":0.1,"flour":"bread flour"}}"#);
        let answer = answered(&format!(r#"{{"percentages":{LEAN},"preferments":[{one}]}}"#));
        assumed(&answer, "/preferments/0/prefermented_flour").first().map(|text| (*text).to_owned())
    };
    assert_eq!(share("0.3").as_deref(), Some("The biga takes 0.3 % of all flour, as it stands: as a share of one it would be written 30"));
    assert_eq!(share("30"), None);
}

#[test]
fn what_a_preferment_lacks_is_named_where_it_is_asked_for() {
    let told = |one: &str| parted(one).iter().map(|fault| (fault.pointer.clone(), fault.found.clone())).collect::<Vec<_>>();
    let one = |at: &str, found: &str| vec![(format!("/preferments/0/{at}"), found.to_owned())];
    let rye = r#"{"part":"sour","prefermented_flour":30,"hydration":80,"flour":"rye flour","yeast":0}"#;
    assert_eq!(told(rye), one("flour", "no medium rye flour left in the dough"));
    assert_eq!(parted(rye)[0].attempts, ["bread flour"]);
    assert_eq!(
        told(r#"{"part":"poolish","prefermented_flour":80,"hydration":100}"#),
        one("hydration", "670 g of water left, and 800 g wanted")
    );
    assert_eq!(told(r#"{"part":"poolish","prefermented_flour":30,"hydration":100,"salt":2}"#), one("salt", "no salt left, and 6 g wanted"));
    let salt = parted(r#"{"part":"poolish","prefermented_flour":30,"hydration":100,"salt":2}"#);
    assert!(salt[0].detail.contains("part of the dough's salt: take less, or give the dough more salt"), "{salt:?}");
    let seed = parted(r#"{"part":"levain","prefermented_flour":20,"hydration":50,"seed":{"percent":300,"hydration":200}}"#);
    // Three times the flour it is fed, a third of it flour: half of the preferment's flour is the seed's, and the water twice that.
    assert_eq!((seed[0].found.as_str(), seed[0].accepted.starts_with("100 % or more")), ("50 %", true));
    let twice =
        parted(r#"{"part":"poolish","prefermented_flour":20,"hydration":100},{"part":"Poolish","prefermented_flour":10,"hydration":60}"#);
    assert_eq!((twice[0].code, twice[0].pointer.as_str()), (Code::RepeatedField, "/preferments/1/part"));
}

#[test]
fn a_dough_that_is_too_large_is_told_by_what_was_found() {
    let want = |want: &str| refused(&format!(r#"{{"percentages":{LEAN},"want":{want}}}"#))[0].found.clone();
    assert_eq!(want(r#"{"pieces":10000000,"each":"800 g"}"#), "10000000 pieces");
    assert!(want(r#"{"pieces":1000000,"each":"100 kg"}"#).ends_with("times the dough that is given"));
}

#[test]
fn a_room_of_another_scale_is_refused_and_offered_in_it() {
    let faults = refused(r#"{"temperature":{"desired":"76 C","room":"72 C","flour":"70 C","friction":"24 C"}}"#);
    let told: Vec<_> = faults.iter().map(|fault| (fault.pointer.as_str(), fault.attempts.first().map_or("", String::as_str))).collect();
    assert_eq!(told, [("/temperature/room", "72 F"), ("/temperature/flour", "70 F")]);
    let hot = warm(r#""desired":"76 C","room":"22 C","flour":"20 C","friction":"24 C""#);
    let finding = &hot.findings[0];
    assert_eq!(finding.id, "dough-harms-yeast");
    assert!(finding.mend.ends_with("or write 76 F if that is meant: it is 24 °C"), "{}", finding.mend);
    assert!(warm(r#""desired":"26 C","room":"22 C","flour":"20 C","friction":"24 C""#).findings.is_empty());
}

#[test]
fn of_a_range_the_middle_is_taken_and_told() {
    let answer = warm(r#""desired":"24-26 C","room":"22 degC","flour":"20 C","friction":"12 C""#);
    near(water(&answer), 21.0, 1e-9);
    assert_eq!(assumed(&answer, "/temperature/desired"), ["Of 24-26 C the middle is taken"]);
}

#[test]
fn water_by_the_litre_is_iced_as_water_by_the_kilogram() {
    let ice = |water: &str| {
        let members =
            format!(r#""desired":"24 C","room":"28 C","flour":"27 C","friction":"13 C","tap":"20 C","ice":"replacing","water":"{water}""#);
        warm(&members).temperature.and_then(|shown| shown.ice).map_or(f64::NAN, |ice| ice.ice.value.0)
    };
    near(ice("10 l"), ice("10 kg"), ice("10 kg") * 0.005);
    let faults = refused(r#"{"temperature":{"desired":"24 C","room":"28 C","flour":"27 C","friction":"13 C","water":"0 l"}}"#);
    assert_eq!((faults[0].code, faults[0].pointer.as_str()), (Code::OutOfRange, "/temperature/water"));
}

#[test]
fn a_friction_measured_over_three_terms_warms_a_dough_of_four_as_much() {
    let asked = |preferment: &str, trial: &str| {
        let members = format!(
            r#""desired":"78 F","room":"75 F","flour":"70 F"{preferment},"trial":{{"dough":"82 F","room":"72 F","flour":"68 F","water":"70 F"{trial}}}"#
        );
        let answer = warm(&members);
        (water(&answer).round(), !assumed(&answer, "/temperature/trial/preferment").is_empty())
    };
    // The dough grew 12 °F warmer than the mean of what went in: 36 on three terms, 48 on four.
    assert_eq!(asked("", ""), (3.0 * 78.0 - 75.0 - 70.0 - 36.0, false));
    assert_eq!(asked(r#","preferment":"70 F""#, ""), (4.0 * 78.0 - 75.0 - 70.0 - 70.0 - 48.0, true));
    // 4 x 82 - 72 - 68 - 70 - 70 is 48 on four terms.
    assert_eq!(asked(r#","preferment":"70 F""#, r#","preferment":"70 F""#), (4.0 * 78.0 - 75.0 - 70.0 - 70.0 - 48.0, false));
    assert_eq!(asked("", r#","preferment":"70 F""#), (3.0 * 78.0 - 75.0 - 70.0 - 36.0, true));
}

#[test]
fn a_little_milk_does_not_steer_a_rich_dough() {
    let ids = |milk: f64, egg: f64| -> Vec<&'static str> {
        let lines = format!(
            r#"[{{"ingredient":"bread flour","percent":100}},{{"ingredient":"egg","percent":{egg}}},{{"ingredient":"milk","percent":{milk}}},{{"ingredient":"butter","percent":50}},{{"ingredient":"fresh yeast","percent":4}}]"#
        );
        let warm = r#"{"desired":"24 C","room":"22 C","flour":"20 C","mixer":"planetary"}"#;
        let answer = answered(&format!(r#"{{"percentages":{lines},"temperature":{warm}}}"#));
        assert_eq!(assumed(&answer, "/temperature/room").len(), 1, "eggs and butter are as warm as the room");
        answer.findings.iter().map(|finding| finding.id).collect()
    };
    assert_eq!(ids(10.0, 50.0), ["too-little-poured"]);
    assert_eq!(ids(50.0, 10.0), Vec::<&str>::new());
}

#[test]
fn water_below_freezing_reads_with_words_between_its_ends() {
    let answer = warm(r#""desired":"20 C","room":"40 C","flour":"38 C","mixer":"planetary""#);
    assert!(answer.owed.summary.contains("-32 °C (-34 to -30 °C)"), "{}", answer.owed.summary);
}

#[test]
fn what_no_ice_can_cool_is_not_sent_to_the_ice() {
    let mend = |friction: &str| {
        let answer = warm(&format!(r#""desired":"24 C","room":"28 C","flour":"27 C","friction":"{friction}""#));
        answer.findings.iter().find(|finding| finding.id == "water-below-freezing").map(|finding| finding.mend.clone()).unwrap_or_default()
    };
    // 3 x 24 - 28 - 27 is 17.
    assert!(mend("30 C").starts_with("Use ice"), "{}", mend("30 C"));
    assert!(mend("90 C").starts_with("Not even ice cools so much"), "{}", mend("90 C"));
}

#[test]
fn where_the_tap_is_cold_enough_no_ice_is_needed_and_the_figure_is_told_once() {
    let answer = warm(r#""desired":"26 C","room":"20 C","flour":"20 C","mixer":"hand","ice":"replacing","tap":"15 C","water":"10 kg""#);
    assert_eq!(answer.owed.summary, "The water is to be 35 °C. It comes from the tap at 15 °C, so that no ice is needed");
}

#[test]
fn a_friction_is_told_on_the_scale_of_the_question() {
    let told = |members: &str, field: &str| {
        let answer = warm(members);
        answer.owed.assumptions.iter().find(|one| one.field == field).map(|one| one.value.to_string()).unwrap_or_default()
    };
    let at = "/temperature/friction";
    let spiral = |point: &str| told(&format!(r#""desired":"{point}","room":"{point}","flour":"{point}","mixer":"spiral""#), at);
    // 24 to 26 °F are 13.3 to 14.4 °C.
    assert_eq!(spiral("24 C"), "13.3 to 14.4 Celsius degrees on the sum of the factors");
    assert_eq!(spiral("75 F"), "24 to 26 Fahrenheit degrees on the sum of the factors");
    assert_eq!(told(r#""desired":"80 F","room":"75 F","flour":"65 F","friction":"35 F""#, at), "35 Fahrenheit degrees");
    let cold = refused(
        r#"{"temperature":{"desired":"78 F","room":"75 F","flour":"70 F","trial":{"dough":"60 F","room":"72 F","flour":"68 F","water":"70 F"}}}"#,
    );
    assert_eq!(cold[0].found, "a friction of -30 Fahrenheit degrees");
}
