//! Factors as they are printed, and the laws that hold for all pans.

use proptest::prelude::*;

use super::*;
use crate::quantity::{Code, Measures, Pointer};
use crate::reference::Reference;

fn reference() -> &'static Reference {
    Reference::load().unwrap_or_else(|fault| panic!("{fault}"))
}

#[track_caller]
fn pans(json: &str, key: &str, account: &mut Account) -> Pans {
    let written: crate::pan::PansWritten = serde_json::from_str(json).unwrap_or_else(|fault| panic!("{json}: {fault}"));
    written.resolve(Measures::Us, reference(), &Pointer::ROOT.key(key), account).unwrap_or_else(|faults| panic!("{json}: {faults:?}"))
}

#[track_caller]
fn from_to(from: &str, to: &str, keep: Keep) -> (Result<Scaling, Faults>, usize) {
    let mut account = Account::new(reference(), false);
    let (from, to) = (pans(from, "from", &mut account), pans(to, "to", &mut account));
    let _ = account.settle(String::new());
    let scaling = scaling(&from, &to, keep, None, &mut account);
    (scaling, account.settle(String::new()).assumptions.len())
}

#[track_caller]
fn is(from: &str, to: &str, keep: Keep, factor: f64, system: System) {
    let (scaling, _) = from_to(from, to, keep);
    let scaling = scaling.unwrap_or_else(|faults| panic!("{from} → {to}: {faults:?}"));
    assert!((scaling.factor.value().value() - factor).abs() < 1e-5, "{from} → {to}: {scaling:?}");
    assert_eq!(scaling.system, system, "{from} → {to}");
}

#[test]
fn an_eight_inch_square_takes_a_good_quarter_more_than_the_round() {
    is("\"8 inch round\"", "\"8 inch square\"", Keep::Fill, 1.273_240, System::Geometry);
    is("\"8 inch round, 2 in deep\"", "\"9 inch round, 2 in deep\"", Keep::Fill, 1.265_625, System::Geometry);
}

#[test]
fn depths_that_cancel_are_not_asked_for() {
    let (round, square) = ("{\"round\":{\"diameter\":\"8 in\"}}", "{\"square\":{\"side\":\"8 in\"}}");
    is(round, square, Keep::Fill, 1.273_240, System::EqualDepth);
    is(round, square, Keep::Depth, 1.273_240, System::BatterDepth);
}

#[test]
fn a_depth_that_does_not_cancel_is_asked_for_at_its_place() {
    let (scaling, _) = from_to("\"9 inch round\"", "{\"square\":{\"side\":\"8 in\"}}", Keep::Fill);
    let faults = scaling.expect_err("the square has no depth");
    let places: Vec<_> = faults.iter().map(|fault| (fault.code, fault.pointer.as_str())).collect();
    assert_eq!(places, [(Code::DimensionNeeded, "/to/square/depth")]);
}

#[test]
fn a_ring_of_twelve_printed_cups_takes_half_as_much_again_as_a_round_of_eight() {
    is("\"9 inch round, 2 inches deep\"", "\"12-cup fluted ring\"", Keep::Fill, 1.5, System::Printed);
    is(
        "{\"round\":{\"diameter\":\"9 in\",\"depth\":\"2 in\"}}",
        "{\"fluted-ring\":{\"capacity\":\"12 cups\"}}",
        Keep::Fill,
        1.5,
        System::Printed,
    );
    let (_, told) = from_to("\"9 inch round, 2 inches deep\"", "\"12-cup fluted ring\"", Keep::Fill);
    assert!(told > 0, "the system is told");
}

#[test]
fn where_two_systems_must_meet_the_factor_is_a_span_that_holds_both() {
    let (scaling, told) = from_to("{\"round\":{\"diameter\":\"9.5 in\",\"depth\":\"2 in\"}}", "\"12-cup fluted ring\"", Keep::Fill);
    let Scaling { factor, system } = scaling.unwrap_or_else(|faults| panic!("{faults:?}"));
    let computed = std::f64::consts::PI * 9.5 * 9.5 / 2.0 / 14.4375;
    assert_eq!(system, System::Mixed);
    assert!(factor.low().value() < 12.0 / computed && 12.0 / computed < factor.high().value(), "{factor:?}");
    assert!(told > 0);
}

#[test]
fn dough_for_a_larger_loaf_pan_goes_by_volume() {
    // wholegrain baking, 2015: 450 g in 8 x 3.5 x 3 in; printed 770 g and 1.71 for 9 x 4 x 4.
    is("\"8x3.5x3 in loaf\"", "\"9x4x4 in loaf\"", Keep::Fill, 1.714_286, System::Geometry);
}

#[test]
fn two_layers_take_twice_one() {
    is("\"8 inch round\"", "\"two 8 inch rounds\"", Keep::Fill, 2.0, System::Geometry);
    is("[\"8 inch round\", \"8 inch round\"]", "\"two 8 inch rounds\"", Keep::Fill, 1.0, System::Geometry);
}

#[test]
fn the_same_depth_in_a_leaning_pan_depends_on_how_deep_it_is() {
    let (scaling, _) = from_to("\"9 inch round\"", "\"9 inch pie plate\"", Keep::Depth);
    let factor = scaling.unwrap_or_else(|faults| panic!("{faults:?}")).factor;
    assert!(!factor.is_exact() && factor.high().value() < 1.0, "{factor:?}");
}

#[test]
fn what_there_is_stays_what_it_is() {
    is("\"9 inch round\"", "\"half sheet\"", Keep::Amount, 1.0, System::Amount);
}

proptest! {
    #[test]
    fn there_and_back_is_once(d in 10.0..60.0_f64, h in 2.0..15.0_f64, s in 10.0..60.0_f64, k in 2.0..15.0_f64, n in 1..9_u32) {
        let one = format!("{{\"round\":{{\"diameter\":\"{d:.2} cm\",\"depth\":\"{h:.2} cm\"}},\"count\":{n}}}");
        for other in [
            format!("{{\"square\":{{\"side\":\"{s:.2} cm\",\"depth\":\"{k:.2} cm\"}}}}"),
            "{\"fluted-ring\":{\"capacity\":\"12 cups\"}}".to_owned(),
            format!("{{\"fluted-ring\":{{\"diameter\":\"{s:.2} cm\",\"depth\":\"{k:.2} cm\"}}}}"),
        ] {
            let value = |a: &str, b: &str| from_to(a, b, Keep::Fill).0.map_or(f64::NAN, |scaling| scaling.factor.value().value());
            prop_assert!((value(&one, &other) * value(&other, &one) - 1.0).abs() < 1e-12);
        }
    }
}

#[track_caller]
fn told(from: &str, to: &str) -> Vec<String> {
    let mut account = Account::new(reference(), false);
    let (from, to) = (pans(from, "from", &mut account), pans(to, "to", &mut account));
    let _ = account.settle(String::new());
    scaling(&from, &to, Keep::Fill, None, &mut account).unwrap_or_else(|faults| panic!("{faults:?}"));
    account.settle(String::new()).assumptions.into_iter().map(|told| told.value.into_owned()).collect()
}

#[test]
fn two_depths_that_nobody_said_are_told_where_they_make_the_factor() {
    assert_eq!(told("\"8 inch square\"", "\"20 cm square tin\""), ["the depths of the trade sizes"]);
    assert!(told("\"8 inch square\"", "\"9 inch square\"").is_empty());
    assert!(told("\"8 inch square, 2 inches deep\"", "\"20 cm square tin\"").is_empty());
}

#[test]
fn only_what_is_printed_is_called_printed() {
    assert_eq!(told("\"9 inch bundt\"", "\"12-cup bundt pan\""), ["printed capacities"]);
    assert_eq!(told("\"24 cm kugelhopf\"", "\"12-cup bundt pan\""), ["share of a cylinder"]);
    assert!(told("\"23cm bundt tin\"", "\"9 inch bundt\"").iter().all(|told| told != "share of a cylinder"));
}
