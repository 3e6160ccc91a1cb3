//! Phrases as bakers write them.

use crate::pan::{DepthFrom, Material, Pan, PansWritten};
use crate::quantity::{Code, Faults, Measures, Pointer};
use crate::reference::{Account, Assumption, Reference};

fn read(phrase: &str) -> (Result<Pan, Faults>, Vec<Assumption>) {
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    let mut account = Account::new(reference, false);
    let written: PansWritten =
        serde_json::from_value(serde_json::Value::String(phrase.to_owned())).unwrap_or_else(|fault| panic!("{fault}"));
    let pans = written.resolve(Measures::Us, reference, &Pointer::ROOT.key("from"), &mut account);
    (pans.map(|mut pans| pans.all.remove(0)), account.settle(String::new()).assumptions)
}

#[track_caller]
fn is(phrase: &str, shape: &str, cups: f64, count: u32) -> (Pan, Vec<Assumption>) {
    let (pan, told) = read(phrase);
    let pan = pan.unwrap_or_else(|faults| panic!("{phrase}: {faults:?}"));
    let holds = pan.capacity().unwrap_or_else(|fault| panic!("{phrase}: {fault:?}")).value().in_millilitres() / 236.588_236_5;
    assert_eq!((pan.shape(), pan.count()), (shape, count), "{phrase}");
    assert!((holds - cups).abs() < 0.01, "{phrase}: {holds} cups, {}", pan.text());
    (pan, told)
}

#[track_caller]
fn refused(phrase: &str, code: Code) {
    let (pan, _) = read(phrase);
    let faults = pan.map(|pan| pan.text()).expect_err(phrase);
    assert_eq!(
        faults.iter().map(|fault| (fault.code, fault.pointer.as_str())).collect::<Vec<_>>(),
        [(code, "/from")],
        "{phrase}: {faults:?}"
    );
}

#[test]
fn a_round_is_read_in_any_order() {
    for phrase in [
        "9 inch round, 2 inches deep",
        "round, 9 in, depth 2 in",
        "2 inches deep 9\" round cake pan",
        "9x2 in round",
        "9-inch round pan 2-inch deep",
    ] {
        let (pan, told) = is(phrase, "round", 8.813, 1);
        assert_eq!(pan.depth_from(), Some(DepthFrom::Given), "{phrase}");
        assert!(told.is_empty(), "{phrase}: {told:?}");
        assert_eq!(pan.published().map(|cited| (cited.figure.value().in_millilitres() / 236.588_236_5).round()), Some(8.0));
    }
}

#[test]
fn a_depth_that_is_not_said_is_the_trade_s_and_told() {
    let (pan, told) = is("9 inch round", "round", 8.813, 1);
    assert_eq!(pan.depth_from(), Some(DepthFrom::Trade));
    assert_eq!(told.len(), 1, "{told:?}");
    assert_eq!(told[0].field, "/from");
    let (_, told) = is("9.5 inch round", "round", 9.819, 1);
    assert!(told.iter().any(|told| told.value.contains("depth 2 in")), "{told:?}");
}

#[test]
fn several_pans_are_counted() {
    is("two 8 inch round pans", "round", 6.963, 2);
    is("2 8-inch rounds", "round", 6.963, 2);
    is("2 x 8 inch rounds", "round", 6.963, 2);
    is("three 9x5 loaf pans", "loaf", 9.351, 3);
    is("two half sheets", "sheet", 13.085, 2);
}

#[test]
fn three_numbers_without_a_shape_are_a_rectangle_and_told() {
    let (pan, told) = is("13x9x2 in", "rectangle", 16.208, 1);
    assert_eq!(pan.trade_size().map(|row| row.id), Some("rectangle-13x9x2"));
    assert!(told.iter().any(|told| told.value == "rectangle"), "{told:?}");
    is("9 × 13 × 2 inches", "rectangle", 16.208, 1);
    is("8x8x2\"", "square", 8.866, 1);
}

#[test]
fn cups_count_wells_on_a_tray_and_measure_a_ring() {
    is("12-cup muffin tin", "muffin-tray", 0.4641 * 12.0, 1);
    is("12-cup fluted ring", "fluted-ring", 12.0, 1);
    is("10-cup ring", "fluted-ring", 10.0, 1);
    let (_, told) = is("14-cup fluted ring", "fluted-ring", 14.0, 1);
    assert!(told.iter().any(|told| told.text.contains("what the ring holds")), "{told:?}");
    let (pan, told) = is("18-hole muffin tray", "muffin-tray", 0.4641 * 18.0, 1);
    assert_eq!(pan.wells(), 18);
    assert!(!told.is_empty(), "the size of the wells is told");
}

#[test]
fn trade_names_are_known() {
    is("half sheet", "sheet", 13.085, 1);
    is("9x5 loaf", "loaf", 9.351, 1);
    is("9 in square", "square", 11.221, 1);
    is("standard muffin tray", "muffin-tray", 0.4641 * 12.0, 1);
    for (phrase, id) in [
        ("23 cm springform", "springform-23cm"),
        ("20cm sandwich tin", "sandwich-20cm"),
        ("GN 1/1", "gn-1-1-65"),
        ("gastronorm 1/2 40 mm", "gn-1-2-40"),
        ("10 inch tube", "tube-10x4"),
        ("9 in pie plate", "pie-9x1-5"),
        ("1 lb loaf tin", "loaf-1lb"),
        ("2 lb loaf tin", "loaf-2lb"),
        ("loaf tin", "loaf-2lb"),
        ("Swiss roll tin", "swiss-roll-33x23"),
    ] {
        let (pan, told) = read(phrase);
        let pan = pan.unwrap_or_else(|faults| panic!("{phrase}: {faults:?}"));
        assert_eq!(pan.trade_size().map(|row| row.id), Some(id), "{phrase}");
        assert!(!told.is_empty(), "{phrase}");
    }
}

#[test]
fn a_size_that_is_not_in_the_table_is_built_of_its_numbers() {
    is("22 cm round, 6 cm deep", "round", 9.640, 1);
    is("11 inch tube, 4 inches deep, core 3 in", "tube", 22.302, 1);
    is("4x3x2.5 in loaf", "loaf", 30.0 / 14.4375, 1);
}

#[test]
fn a_material_may_be_said() {
    let (pan, _) = read("9x13 glass baking dish");
    assert_eq!(
        pan.map(|pan| (pan.material(), pan.shape())).map_err(|faults| panic!("{faults:?}")),
        Ok::<_, ()>((Material::Glass, "rectangle"))
    );
}

#[test]
fn what_is_no_pan_is_refused_with_what_may_be_meant() {
    for phrase in ["9 inch rond", "a large one", "", "9 inch", "12-cup", "round of cheese", "💥"] {
        refused(phrase, Code::UnknownPan);
    }
    let (pan, _) = read("9 inch rond");
    let faults = pan.map(|_| ()).expect_err("no such shape");
    assert!(faults.iter().all(|fault| fault.attempts.contains(&"9 inch round".to_owned())), "{faults:?}");
    refused("24x24x2", Code::UnitMissing);
    refused("5000 inch round", Code::OutOfRange);
    refused("0 inch round", Code::ImpossiblePan);
    refused("5000 8 inch rounds", Code::OutOfRange);
}
