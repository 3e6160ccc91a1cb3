//! What is baked by the dozen, and what is round by its diameter.

use super::{counts, is, read};

#[test]
fn what_is_baked_by_the_dozen_is_counted_before_it_is_measured() {
    counts("6 x 4 in tartlet tins", 6, "round, 4 × 0.787 in");
    counts("6 x 4 inch tartlets", 6, "round, 4 × 0.787 in");
    counts("4 x 4 in tartlet tins", 4, "round, 4 × 0.787 in");
    counts("12 x 3 inch tartlets", 12, "round, 3 × 0.75 in");
    counts("24 x 5 cm tartlet tins", 24, "round, 5 × 2 cm");
    counts("8 x 8cm ramekins", 8, "round, 8 × 4.064 cm");
    counts("12 x 8cm ramekins", 12, "round, 8 × 4.064 cm");
    // A depth that such a dish may have stays one.
    counts("10 x 2 cm tartlet tin", 1, "round, 10 × 2 cm");
    counts("7 x 4 cm ramekins", 1, "round, 7 × 4 cm");
    // Rings of six centimetres are sold, and rings six centimetres high.
    let faults = read("12 x 6 cm mousse rings").0.map(|pan| pan.text()).expect_err("twelve rings or one?");
    let tries: Vec<_> = faults.iter().flat_map(|fault| &fault.attempts).collect();
    assert_eq!(tries, ["12 pans of 6 cm mousse rings", "12 cm mousse rings, 6 cm deep"]);
}

#[test]
fn what_has_a_diameter_is_round() {
    for phrase in ["Ø 24 cm", "24 cm diameter", "⌀24cm", "24 cm diameter tin"] {
        counts(phrase, 1, "round, 24 × 7.5 cm");
    }
    counts("springform Ø 26 cm", 1, "springform, 26 × 7 cm");
    counts("fluted ring, 24 cm diameter, 10 cm deep", 1, "fluted ring, 24 × 10 cm");
    counts("2 x Ø 20 cm", 2, "round, 20 × 7.5 cm");
}

#[test]
fn a_dish_by_what_it_holds_is_that() {
    is("1 litre soufflé dish", "measured", 4.227, 1);
    is("terrine 1.2 litre", "measured", 5.072, 1);
    is("1/8 sheet", "sheet", 2.71, 1);
}

#[test]
fn the_cavities_of_a_mould_are_so_many_pans() {
    counts("silicone mould 24 cavities of 30 ml", 24, "measured, 30 ml");
    counts("mould with 6 holes, 120 ml each", 6, "measured, 120 ml");
}

#[test]
fn a_loaf_tin_called_by_two_weights_is_one_tin() {
    for phrase in ["450g/1lb loaf tin", "1lb (450g) loaf tin"] {
        counts(phrase, 1, "loaf, 16 × 9 × 6.5 cm");
    }
    counts("2 x 450g/1lb loaf tins", 2, "loaf, 16 × 9 × 6.5 cm");
    counts("23 x 12 x 7cm loaf tin (900g/2lb)", 1, "loaf, 23 × 12 × 7 cm");
    counts("20cm sq tin", 1, "square, 20 × 7.5 cm");
}

#[test]
fn a_skillet_leans_and_is_sold_by_its_rim() {
    for phrase in ["10-inch cast iron skillet", "10 inch ovenproof frying pan", "well-seasoned 10 in skillet, 2 in deep"] {
        let (pan, told) = is(phrase, "round", 9.088, 1);
        assert_eq!(pan.trade_size().map(|row| row.id), Some("skillet-10"), "{phrase}");
        assert!(told.iter().any(|told| told.text.contains("base diameter 8.25 in")), "{phrase}: {told:?}");
    }
    let (pan, _) = is("10 inch cast iron skillet", "round", 9.088, 1);
    assert_eq!(pan.material, Some(crate::pan::Material::DarkMetal));
    is("two 8 inch skillets", "round", 4.436, 2);
}

#[test]
fn a_tin_with_holes_is_asked_how_deep_they_are() {
    let faults = read("12-hole tin").0.map(|pan| pan.text()).expect_err("of muffins or of buns?");
    let tries: Vec<_> = faults.iter().flat_map(|fault| &fault.attempts).collect();
    assert_eq!(tries, ["12-hole muffin tin", "12-hole bun tin"]);
    tries.iter().for_each(|phrase| assert!(read(phrase).0.is_ok(), "{phrase}"));
}

#[test]
fn a_rim_is_no_shape() {
    let (pan, _) = read("18x13 inch rimmed baking sheet");
    assert_eq!(pan.map(|pan| pan.kind.word).ok(), Some("sheet"));
}
