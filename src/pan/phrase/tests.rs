//! Phrases as bakers write them.

mod little;

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
    assert_eq!((pan.kind.word, pan.count()), (shape, count), "{phrase}");
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
fn a_hotel_pan_is_known_by_its_share_and_its_depth() {
    for phrase in ["half hotel pan", "1/2 hotel pan", "half size hotel pan, 2.5 inches deep", "half steam table pan, 2 1/2 inches deep"] {
        is(phrase, "rectangle", 17.14, 1);
    }
    is("two full hotel pans, 4 inches deep", "rectangle", 60.44, 2);
    is("1/2 GN 65 mm", "rectangle", 17.61, 1);
    is("1/2 sheet pan", "sheet", 13.08, 1);
}

#[test]
fn how_a_tin_lets_go_of_its_cake_is_no_size() {
    assert_eq!(read("20 cm loose-bottomed round tin").0.map(|pan| pan.text()), read("20 cm round tin").0.map(|pan| pan.text()));
    is("10 inch tart pan with removable bottom", "round", 5.44, 1);
    is("35 x 25 cm roasting tin, 5 cm deep", "rectangle", 18.49, 1);
    let faults = read("20cm loose-bottomed cake tin").0.map(|pan| pan.text()).expect_err("round or square?");
    let tries: Vec<_> = faults.iter().flat_map(|fault| &fault.attempts).collect();
    assert_eq!(tries, ["20cm loose-bottomed cake tin round", "20cm loose-bottomed cake tin square"]);
    assert!(tries.iter().all(|phrase| read(phrase).0.is_ok()));
}

#[test]
fn whose_pint_a_basin_holds_is_told() {
    let (_, told) = is("2 pint pudding basin", "measured", 4.0, 1);
    assert_eq!(told.iter().map(|told| told.text.as_ref()).collect::<Vec<_>>(), ["One pint is 473 ml: it holds 946 ml"]);
}

#[test]
fn a_material_may_be_said() {
    let (pan, _) = read("9x13 glass baking dish");
    assert_eq!(
        pan.map(|pan| (pan.material(), pan.kind.word)).map_err(|faults| panic!("{faults:?}")),
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

#[track_caller]
fn counts(phrase: &str, count: u32, described: &str) -> Vec<Assumption> {
    let (pan, told) = read(phrase);
    let pan = pan.unwrap_or_else(|faults| panic!("{phrase}: {faults:?}"));
    assert_eq!((pan.count(), pan.described().as_str()), (count, described), "{phrase}");
    told
}

#[test]
fn a_number_before_a_size_is_how_many() {
    for phrase in ["2 x 8 inch round", "2 × 8-inch round cake pans", "two 8 inch round", "2 of 8 inch round", "2 pans of 8 inch round"] {
        counts(phrase, 2, "round, 8 × 2 in");
    }
    let told = counts("2 x 8 inch round", 2, "round, 8 × 2 in");
    assert!(told.iter().any(|told| told.value == "2 pans"), "{told:?}");
    counts("2 x 20cm sandwich tins", 2, "round, 20 × 4 cm");
    counts("sandwich tins, 2 x 20cm", 2, "round, 20 × 4 cm");
    counts("1 x 23cm round tin", 1, "round, 23 × 7.5 cm");
    counts("2 x 8 x 3 inch round", 2, "round, 8 × 3 in");
    counts("2 x 9 x 13 inch, 2 inches deep", 2, "rectangle, 13 × 9 × 2 in");
    counts("2 x 2 lb loaf tins", 2, "loaf, 22 × 12 × 7 cm");
    counts("2 x 23cm loaf tin", 2, "loaf, 23 × 13 × 7 cm");
    counts("2 x 12-cup muffin tin", 2, "muffin tray, 12 wells of 2.75 × 1.5 in");
    // A square is a shape here, though chocolate is counted by it, and a cake is what is baked.
    counts("8x8 square", 1, "square, 8 × 2 in");
    counts("16 x 16 square", 1, "square, 16 × 2 in");
    counts("8x8 brownie tin", 1, "square, 8 × 2 in");
    counts("9x13 cake pan", 1, "rectangle, 13 × 9 × 2 in");
    counts("2 layer 8 inch round", 2, "round, 8 × 2 in");
    counts("2 GN 1/1", 2, "rectangle, 495 × 290 × 65 mm");
    counts("6 ramekins", 6, "round, 3.1 × 1.6 in");
    counts("12 x 10cm tart tins", 12, "round, 10 × 2 cm");
}

#[test]
fn a_number_behind_a_whole_pan_is_how_many() {
    for phrase in [
        "8-inch round, 2 pans",
        "8 inch round, 2 of them",
        "8 inch round, two of these",
        "8 inch round x 2",
        "8 inch round, two tins",
        "8 inch round x two",
    ] {
        counts(phrase, 2, "round, 8 × 2 in");
    }
    counts("9 inch round x 3 layers", 3, "round, 9 × 2 in");
    counts("8 inch square x 2", 2, "square, 8 × 2 in");
    counts("9 x 13 inch pan x 2", 2, "rectangle, 13 × 9 × 2 in");
    counts("half sheet, 3 pans", 3, "sheet, 16.5 × 11.5 × 1 in");
    counts("20cm round, 5cm deep, x 2", 2, "round, 20 × 5 cm");
    counts("23 cm springform x 1", 1, "springform, 23 × 7 cm");
}

#[test]
fn a_depth_stands_last_and_two_sides_are_a_rectangle() {
    counts("8 x 2 inch round", 1, "round, 8 × 2 in");
    counts("9 x 13 inch", 1, "rectangle, 13 × 9 × 2 in");
    counts("9 x 13 inch pans", 1, "rectangle, 13 × 9 × 2 in");
    counts("20 x 7.5 cm round", 1, "round, 20 × 7.5 cm");
    counts("6 x 4 inch round", 1, "round, 6 × 4 in");
    counts("8 x 8 x 2 inch square", 1, "square, 8 × 2 in");
    counts("11 x 25 cm loaf tin", 1, "loaf, 25 × 11 × 7.5 cm");
    counts("20cm x 5 round tin", 1, "round, 20 × 5 cm");
}

#[test]
fn a_bare_number_before_a_tray_counts_its_cups() {
    counts("24 mini muffin", 1, "muffin tray, 24 wells of 1.75 × 0.75 in");
    counts("12 muffins", 1, "muffin tray, 12 wells of 2.75 × 1.5 in");
    let told = counts("12 muffin tins", 12, "muffin tray, 12 wells of 2.75 × 1.5 in");
    assert!(told.iter().any(|told| told.value == "12 pans"), "{told:?}");
}

#[test]
fn a_number_that_may_be_a_count_or_a_depth_is_refused_with_both_readings_and_each_is_read() {
    for phrase in [
        "2 x 9 x 13 inch",
        "2 x 8 x 8 inch square",
        "10 x 8 inch round",
        "8 inch round, 2",
        "8 inch x 2 round",
        "round tin, 20 cm x 2",
        "9 x 13 inch x 2",
    ] {
        let (pan, _) = read(phrase);
        let faults = pan.map(|pan| pan.text()).expect_err(phrase);
        let attempts: Vec<String> = faults.iter().flat_map(|fault| fault.attempts.clone()).collect();
        let counts: Vec<u32> = attempts
            .iter()
            .map(|attempt| read(attempt).0.unwrap_or_else(|faults| panic!("{phrase}: {attempt}: {faults:?}")).count())
            .collect();
        assert!(matches!(counts.as_slice(), [several, 1] if *several > 1), "{phrase}: {attempts:?} are {counts:?}");
    }
}

#[test]
fn a_bare_number_that_makes_no_pan_to_bake_in_is_refused() {
    for phrase in ["20 x 1 cm round", "30 x 1 cm", "8 x 2 inch", "sandwich tins, 2"] {
        refused(phrase, Code::ImpossiblePan);
    }
    refused("1 x 23cm", Code::UnknownPan);
    refused("2 x 20 cm", Code::UnknownPan);
}

#[test]
fn a_size_in_two_units_is_read_for_every_shape() {
    counts("13 x 9 inch (33 x 23 cm)", 1, "rectangle, 13 × 9 × 2 in");
    counts("9 x 13 inch (23 x 33 cm) baking tin", 1, "rectangle, 13 × 9 × 2 in");
    counts("9x5 inch (23 x 13 cm) loaf tin", 1, "loaf, 9 × 5 × 3 in");
    counts("9 inch (23 cm) round", 1, "round, 9 × 2 in");
    counts("20cm/8in square tin", 1, "square, 20 × 7.5 cm");
    counts("two 20cm (8in) sandwich tins", 2, "round, 20 × 4 cm");
}

#[test]
fn a_gastronorm_size_is_written_with_its_depth_alone() {
    for phrase in ["GN 1/1 65", "GN 1/1-65", "GN 1/1 65mm", "gastronorm 1/1 65 mm deep"] {
        let (pan, _) = read(phrase);
        assert_eq!(pan.ok().and_then(|pan| pan.trade_size().map(|row| row.id)), Some("gn-1-1-65"), "{phrase}");
    }
    counts("2 x GN 1/2 100", 2, "rectangle, 290 × 230 × 100 mm");
    let (pan, _) = read("GN 7/9 65");
    let faults = pan.map(|pan| pan.text()).expect_err("no such share");
    assert!(faults.iter().all(|fault| fault.detail.contains("gastronorm")), "{faults:?}");
}

#[test]
fn a_size_by_which_only_loaf_tins_are_sold_is_a_loaf_tin_and_told() {
    for phrase in ["9x5x3", "9x5", "9 x 5 x 3 inches"] {
        let told = counts(phrase, 1, "loaf, 9 × 5 × 3 in");
        assert!(told.iter().any(|told| told.value == "loaf"), "{phrase}: {told:?}");
    }
    counts("9x4.75", 1, "rectangle, 9 × 4.75 × 2 in");
}

#[test]
fn the_nearest_trade_size_is_that_of_either_unit() {
    for (phrase, id) in [("23cm bundt tin", "fluted-ring-9x3"), ("9 inch bundt", "fluted-ring-9x3"), ("24 cm bundt", "kugelhopf-24cm")] {
        let (pan, _) = read(phrase);
        assert_eq!(pan.ok().and_then(|pan| pan.trade_size().map(|row| row.id)), Some(id), "{phrase}");
    }
}

#[test]
fn a_deep_tin_has_the_depth_of_deep_tins() {
    let told = counts("deep 8 inch round cake tin", 1, "round, 8 × 3 in");
    assert!(told.iter().any(|told| told.value.contains("depth 3 in")), "{told:?}");
    counts("deep 9 inch square", 1, "square, 9 × 2.953 in");
    counts("shallow 8 inch round", 1, "round, 8 × 1.5 in");
    counts("shallow 20 cm square", 1, "square, 20 × 5 cm");
    counts("deep 20cm round tin", 1, "round, 20 × 7.5 cm");
    counts("deep 20 cm square tin", 1, "square, 20 × 7.5 cm");
}

#[test]
fn two_sides_of_a_tart_tin_are_no_number_of_tins_and_no_depth() {
    for phrase in ["11 x 35 cm tart tin, 2.5 cm deep", "35 x 11 x 2.5 cm tart tin", "35 x 11 cm rectangular tart tin, 2.5 cm deep"] {
        counts(phrase, 1, "rectangle, 35 × 11 × 2.5 cm");
    }
    let told = counts("4 x 14 inch tart pan", 1, "rectangle, 14 × 4 × 1 in");
    assert!(told.iter().any(|told| told.value == "rectangle"), "{told:?}");
    for phrase in ["3 x 9 inch tart pan", "6 x 10 cm tart tin"] {
        let (pan, _) = read(phrase);
        let faults = pan.map(|pan| pan.text()).expect_err(phrase);
        let attempts: Vec<String> = faults.iter().flat_map(|fault| fault.attempts.clone()).collect();
        let shapes: Vec<_> = attempts.iter().map(|attempt| read(attempt).0.map_or("none", |pan| pan.kind.word)).collect();
        assert_eq!(shapes, ["round", "rectangle"], "{attempts:?}");
    }
    refused("28 x 20 cm pie dish", Code::UnknownPan);
}

#[test]
fn a_fluted_or_square_tin_is_what_its_goods_and_sides_say() {
    counts("23 cm fluted tart tin, 3 cm deep", 1, "round, 23 × 3 cm");
    counts("20 cm square sandwich tin, 4 cm deep", 1, "square, 20 × 4 cm");
    counts("24 cm square springform, 7 cm deep", 1, "square, 24 × 7 cm");
    counts("10 inch fluted tube pan", 1, "fluted ring, 10 × 3.5 in");
}

#[test]
fn small_moulds_of_any_shape_are_counted() {
    counts("6 hemispheres 7 cm", 6, "hemisphere, 7 cm");
    counts("6 ovals 10 x 7 x 3 cm", 6, "oval, 10 × 7 × 3 cm");
    counts("4 squares 5 cm, 3 cm deep", 4, "square, 5 × 3 cm");
    counts("6 x 150 ml ramekins", 6, "measured, 150 ml");
    counts("1.2 litre pudding basin", 1, "measured, 1200 ml");
}

#[test]
fn a_pastry_ring_is_open_and_plain_and_a_ring_of_no_kind_is_asked_about() {
    counts("entremet ring 20 cm, 4.5 cm high", 1, "round, 20 × 4.5 cm");
    counts("8 mousse rings 7 cm, 4 cm high", 8, "round, 7 × 4 cm");
    counts("6 muffin rings 9 cm, 3 cm deep", 6, "round, 9 × 3 cm");
    let (pan, _) = read("20 cm ring, 4.5 cm high");
    let faults = pan.map(|pan| pan.text()).expect_err("either ring");
    let attempts: Vec<String> = faults.iter().flat_map(|fault| fault.attempts.clone()).collect();
    let shapes: Vec<_> = attempts.iter().map(|attempt| read(attempt).0.map_or("none", |pan| pan.kind.word)).collect();
    assert_eq!(shapes, ["round", "fluted-ring"], "{attempts:?}");
}

#[test]
fn a_deep_dish_pie_plate_is_deeper_than_a_pie_plate() {
    let told = counts("9 inch deep dish pie plate", 1, "round, 9 × 2 in");
    assert!(told.iter().any(|told| told.value.contains("depth 2 in")), "{told:?}");
    counts("swiss roll tin 23 x 33 cm, 2 cm deep", 1, "sheet, 33 × 23 × 2 cm");
}

proptest::proptest! {
    #[test]
    fn any_phrase_is_a_pan_that_can_be_or_is_refused(
        phrase in "(two |3 |2 x |tins, |)([0-9]{1,3}(\\.[0-9]|)( |)(x|by|in|cm|-| |)( |)){0,4}(round|loaf|muffin|cup|fluted|ring|deep|tube|sheet|square|\\PC){0,3}( x 2|, 2 pans| 2|/8 in|)"
    ) {
        if let (Ok(pan), _) = read(&phrase) && let Ok(capacity) = pan.capacity() {
            let holds = capacity.value().in_millilitres();
            proptest::prop_assert!(holds > 0.0 && holds.is_finite(), "{phrase}: {holds}");
        }
    }
}
