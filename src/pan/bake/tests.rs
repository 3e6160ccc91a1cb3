//! Estimates against what is printed and practised.

use super::*;
use crate::pan::PansWritten;

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
    let written = BakeWritten {
        oven: Some(Written::Text("350 F".into())),
        minutes: Some(Written::Text(minutes.into())),
        from_oven: None,
        to_oven: None,
    };
    let bake = written.resolve(&Pointer::ROOT).unwrap_or_else(|faults| panic!("{faults:?}"));
    let moved = BakeMoved {
        bake: &bake,
        from: &pans(from.0),
        to: &pans(to.0),
        fills: [share(from.1), share(to.1)],
        style,
        done: None,
        test: None,
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
fn the_same_pan_takes_the_same_time() {
    let shown = baked("38-44", ("9 inch round", 0.6), ("9 inch round", 0.6), None, 0.0);
    assert_eq!(range(&shown), (38.0, 44.0));
    assert_eq!(shown.check_from.map(|quantity| quantity.value.0), Some(30.0));
    assert_eq!(shown.oven.map(|quantity| quantity.text), Some("177 °C".to_owned()));
}

#[test]
fn a_test_is_never_above_local_boiling() {
    let sea = baked("30", ("9 inch round", 0.6), ("8 inch square", 0.6), None, 0.0).test.unwrap_or_default();
    assert!(sea.contains("93 to 98 °C") && sea.contains("boils at 100.0 °C"), "{sea}");
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
    let bake = Bake {
        oven: Some(Span::exact(Temperature::celsius(180.0))),
        minutes: Some(Span::exact(Minutes::minutes(30.0))),
        ovens: [OvenKind::default(); 2],
    };
    let (from, to) = (pans("9 inch round"), pans("5 quart dish"));
    let moved = BakeMoved {
        bake: &bake,
        from: &from,
        to: &to,
        fills: [share(0.6); 2],
        style: None,
        done: None,
        test: None,
        altitude: Length::ZERO,
    };
    let shown = estimate(&moved, reference(), &mut Account::new(reference(), false));
    assert!(shown.minutes.is_none() && shown.oven.is_some() && shown.model.starts_with("No time"), "{shown:?}");
}

#[test]
fn an_oven_of_no_kitchen_is_refused() {
    for (oven, minutes, code, at) in [
        ("350", "30", Code::UnitMissing, "/oven"),
        ("900 F", "30", Code::OutOfRange, "/oven"),
        ("3 cups", "30", Code::WrongUnit, "/oven"),
        ("350 F", "0", Code::OutOfRange, "/minutes"),
        ("350 F", "30 g", Code::WrongUnit, "/minutes"),
    ] {
        let written = BakeWritten {
            oven: Some(Written::Text(oven.into())),
            minutes: Some(Written::Text(minutes.into())),
            from_oven: None,
            to_oven: None,
        };
        let faults = written.resolve(&Pointer::ROOT).map(|_| ()).expect_err(oven);
        assert_eq!(faults.iter().map(|fault| (fault.code, fault.pointer.as_str())).collect::<Vec<_>>(), [(code, at)]);
    }
}
