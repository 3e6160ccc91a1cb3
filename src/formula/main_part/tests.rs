//! Pies, cheesecakes and crumbles with their parts in either order.

use serde_json::{Value, json};

use super::super::written::FormulaWritten;
use super::*;
use crate::quantity::Faults;
use crate::reference::Reference;

fn lines(all: &[(&str, &str)]) -> Value {
    all.iter().map(|(ingredient, amount)| json!({"ingredient": ingredient, "amount": amount})).collect()
}

fn crust() -> Value {
    json!({"name": "crust", "lines": lines(&[("plain flour", "250 g"), ("butter", "125 g"), ("water", "60 g")])})
}

/// Flour thickens it.
fn apples() -> Value {
    json!({"name": "apples", "lines": lines(&[("apple", "900 g"), ("granulated sugar", "100 g"), ("plain flour", "20 g")])})
}

fn crumbs() -> Value {
    json!({"name": "crumbs", "lines": lines(&[("digestive biscuit crumbs", "200 g"), ("butter", "100 g")])})
}

fn cheese() -> Value {
    json!({"name": "cheese", "lines": lines(&[("cream cheese", "600 g"), ("caster sugar", "150 g"), ("egg", "150 g")])})
}

/// The name of the main part, the style it is taken in, and what was assumed.
fn main_of(formula: Value) -> (String, Option<&'static str>, Vec<String>) {
    let written: FormulaWritten = serde_json::from_value(formula).expect("a formula");
    let reference = Reference::load().expect("the tables");
    let (mut account, mut faults) = (Account::new(reference, false), Faults::new());
    let formula = Formula::resolve(&written, &Pointer::ROOT, reference, &mut account, &mut faults).expect("understood");
    let owed = serde_json::to_value(account.settle(String::new())).expect("an answer");
    let told =
        owed["assumptions"].as_array().expect("a list").iter().map(|told| told["text"].as_str().unwrap_or_default().to_owned()).collect();
    let main = formula.main();
    (main.part().name.to_string(), main.style().map(|style| style.id), told)
}

#[test]
fn the_style_of_a_crust_is_that_of_the_part_with_the_flour_whichever_is_written_first() {
    for parts in [[crust(), apples()], [apples(), crust()]] {
        let (main, style, told) = main_of(json!({"style": "pie dough", "parts": parts}));
        assert_eq!((main.as_str(), style), ("crust", Some("pie-dough")));
        assert_eq!(told, ["Pie dough is taken to be the style of \"crust\", not of \"apples\""]);
    }
}

#[test]
fn a_crust_with_a_style_of_its_own_leaves_none_for_the_filling() {
    let mut own = crust();
    own["style"] = json!("tart dough");
    let (main, style, _) = main_of(json!({"style": "pie dough", "parts": [apples(), own]}));
    assert_eq!((main.as_str(), style), ("crust", Some("tart-dough")));
}

#[test]
fn what_is_plainly_no_crust_is_taken_as_none() {
    for parts in [json!([apples()]), json!([{"name": "custard", "lines": lines(&[("egg", "200 g"), ("heavy cream", "300 g")])}])] {
        let (_, style, told) = main_of(json!({"style": "pie dough", "parts": parts}));
        assert!(style.is_none() && told.iter().any(|text| text.contains("plainly none")), "{told:?}");
    }
    let nuts = json!({"name": "crust", "lines": lines(&[("almond flour", "200 g"), ("butter", "60 g")])});
    for parts in [crust(), crumbs(), nuts] {
        assert_eq!(main_of(json!({"style": "tart dough", "parts": [parts]})).1, Some("tart-dough"));
    }
}

#[test]
fn without_a_style_a_cheesecake_is_what_is_baked_on_the_crumbs() {
    let (main, _, told) = main_of(json!({"parts": [crumbs(), cheese()]}));
    assert_eq!((main.as_str(), told.len()), ("cheese", 1));
    assert!(told[0].starts_with("\"cheese\" is taken to be the thing itself"), "{told:?}");
    // Nothing is told where nothing was chosen.
    let (main, _, told) = main_of(json!({"parts": [cheese(), crumbs()]}));
    assert_eq!((main.as_str(), told.is_empty()), ("cheese", true));
    assert_eq!(main_of(json!({"parts": [apples(), crust()]})).0, "crust");
    assert_eq!(main_of(json!({"parts": [crumbs(), apples()]})).0, "crumbs");
}

#[test]
fn a_streusel_that_is_written_before_its_muffins_is_not_the_muffins() {
    let streusel =
        json!({"name": "streusel", "lines": lines(&[("plain flour", "45 g"), ("butter", "55 g"), ("granulated sugar", "100 g")])});
    let muffins = json!({"name": "muffins", "lines":
        lines(&[("plain flour", "190 g"), ("granulated sugar", "150 g"), ("baking powder", "9 g"), ("egg", "50 g"), ("whole milk", "80 g")])});
    for parts in [[&streusel, &muffins], [&muffins, &streusel]] {
        assert_eq!(main_of(json!({"parts": parts})).0, "muffins");
        assert_eq!(main_of(json!({"style": "muffin", "parts": parts})).0, "muffins");
    }
    let dough = json!({"name": "dough", "lines": lines(&[("bread flour", "500 g"), ("whole milk", "250 g"), ("instant yeast", "7 g"), ("butter", "80 g")])});
    assert_eq!(main_of(json!({"style": "enriched-dough", "parts": [streusel, dough]})).0, "dough");
    // Where nothing else is of the style, it is taken at its word.
    assert_eq!(main_of(json!({"style": "muffin", "parts": [streusel, apples()]})).0, "streusel");
    let custard = json!({"name": "custard", "lines": lines(&[("egg", "150 g"), ("heavy cream", "400 g")])});
    assert_eq!(main_of(json!({"parts": [crust(), custard]})).0, "crust");
}

#[test]
fn a_spoon_of_flour_in_the_fruit_makes_no_crumble_of_it() {
    let topping = json!({"name": "topping", "lines": lines(&[("plain flour", "150 g"), ("butter", "75 g"), ("demerara sugar", "75 g")])});
    assert_eq!(main_of(json!({"style": "streusel", "parts": [apples(), topping]})).0, "topping");
}
