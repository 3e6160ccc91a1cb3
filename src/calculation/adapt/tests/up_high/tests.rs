//! The same formulas in kitchens high above the sea.

use super::super::*;

#[test]
fn a_high_kitchen_takes_the_middle_of_what_the_tables_say() {
    // 5000 ft: 3 teaspoons of powder become 2.25 to 2.63 by the household table, 1.8 by the military one.
    let answer = adapted(&layer_cake(), &json!([{"altitude": {"to": "5000 ft"}}]));
    let powder = change(&answer, "/formula/parts/0/lines/5").range.clone().unwrap_or_else(|| panic!("the tables disagree"));
    assert!(powder.high.is_some_and(|high| (high.0 / 9.0 - 0.875).abs() < 0.003), "{powder:?}");
    assert!(powder.low.is_some_and(|low| (low.0 / 9.0 - 0.61).abs() < 0.02), "{powder:?}");
    let crumb = answer.changes.iter().find(|change| change.pointer == "/formula/bake").and_then(|change| change.range.clone());
    assert!(crumb.is_none_or(|crumb| crumb.high.is_some_and(|high| high.0 < 94.95)), "no crumb is hotter than water boils");
    assert_eq!(change(&answer, "/formula/bake/oven").after.as_deref(), Some("370 F"));
}

#[test]
fn below_nine_hundred_metres_nothing_changes_and_it_says_so() {
    let answer = adapted(&layer_cake(), &json!([{"altitude": {"to": "500 m"}}]));
    assert_eq!(
        serde_json::to_value(&answer.formula).ok(),
        serde_json::to_value(serde_json::from_value::<FormulaWritten>(layer_cake()).ok()).ok()
    );
    assert!(answer.changes[0].why.contains("nothing is changed"));
}

#[test]
fn pastry_in_a_high_kitchen_takes_no_more_water_by_the_tables_of_cakes() {
    let choux = formula("choux", &["water: 250 g", "butter: 110 g", "all-purpose flour: 140 g", "egg: 250 g"]);
    let answer = adapted(&choux, &json!([{"altitude": {"to": "2000 m"}}]));
    assert_eq!(lines(&answer).first().map(String::as_str), Some("water: 250 g"));
    assert!(answer.changes.iter().any(|change| change.why.contains("by the teaspoon")), "{:?}", answer.changes);
}

fn formula_of(lines: &[(&str, &str)]) -> Value {
    let lines: Vec<_> = lines.iter().map(|(name, amount)| json!({"ingredient": name, "amount": amount})).collect();
    json!({"parts": [{"name": "main", "lines": lines}]})
}

#[test]
fn a_jam_in_a_high_kitchen_is_boiled_and_not_baked() {
    let jam = json!({"parts": [{"name": "jam", "lines": [
        {"ingredient": "strawberry", "amount": "1 kg"}, {"ingredient": "granulated sugar", "amount": "700 g"}, {"ingredient": "lemon juice", "amount": "1 lemon"}]}]});
    let answer = adapted(&jam, &json!([{"altitude": {"to": "1600 m"}}]));
    let [change] = &answer.changes[..] else { panic!("{:?}", answer.changes) };
    assert!(change.why.contains("nothing of it is baked") && change.after.is_none(), "{change:?}");
    let cheese =
        formula_of(&[("cream cheese", "500 g"), ("double cream", "300 ml"), ("sheet gelatin", "5 sheets"), ("powdered sugar", "100 g")]);
    assert_eq!(adapted(&cheese, &json!([{"altitude": {"to": "1600 m"}}])).changes.len(), 1);
    // In an oven it dries, and the dial is another up here.
    let mut leather = jam;
    leather["bake"] = json!({"oven": "90 C"});
    assert!(adapted(&leather, &json!([{"altitude": {"to": "1600 m"}}])).changes.len() > 1);
}

#[test]
fn a_cream_in_a_high_kitchen_is_told_why_nothing_is_changed() {
    let cream = formula("pastry-cream", &["whole milk: 500 g", "granulated sugar: 100 g", "egg yolk: 100 g", "cornstarch: 40 g"]);
    let answer = adapted(&cream, &json!([{"altitude": {"to": "2000 m"}}]));
    let why = answer.changes.first().map(|change| change.why.clone()).unwrap_or_default();
    assert!(
        why.starts_with("At 2000 m nothing is changed, for nothing of it is baked. Water boils at 93.4 °C")
            && why.ends_with("below 100 °C"),
        "{why}"
    );
}

#[test]
fn a_kitchen_in_feet_is_answered_in_feet_and_fahrenheit() {
    let whys = |height: &str, oven: &str| {
        let mut cake = layer_cake();
        cake["bake"]["oven"] = json!(oven);
        let answer = adapted(&cake, &json!([{"altitude": {"to": height}}]));
        answer.changes.iter().map(|change| change.why.clone()).collect::<Vec<_>>().join("; ")
    };
    let feet = whys("5280 ft", "350 F");
    assert!(feet.contains("At 5280 ft (1609 m) ") && feet.contains("15 to 25 °F (8.3 to 13.9 °C) more") && feet.contains("202."), "{feet}");
    let metres = whys("1609 m", "180 C");
    assert!(metres.contains("At 1609 m ") && !metres.contains("°F"), "{metres}");
}

#[test]
fn the_sugared_butter_in_a_bun_is_no_cake_that_could_fall() {
    let mut buns = formula("enriched-dough", &["bread flour: 500 g", "whole milk: 300 g", "instant yeast: 7 g", "butter: 80 g"]);
    let filling = json!({"name": "filling", "lines": [{"ingredient": "butter", "amount": "80 g"}, {"ingredient": "dark brown sugar", "amount": "120 g"}]});
    buns["parts"].as_array_mut().expect("parts").push(filling);
    let answer = adapted(&buns, &json!([{"altitude": {"to": "2000 m"}}]));
    let of_filling: Vec<_> =
        answer.changes.iter().filter(|change| change.why.contains("filling") || change.pointer.contains("/parts/1")).collect();
    assert!(matches!(of_filling.as_slice(), [only] if only.why.contains("no crumb that could fall")), "{of_filling:?}");
}
