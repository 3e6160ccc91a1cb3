//! What may stand for what, and what may not.

use super::super::*;

fn replaced(formula: &Value, step: &Value) -> AdaptAnswer {
    adapted(formula, &json!([{ "replace": step }]))
}

/// The field, what was found, and the mend.
#[track_caller]
fn no(formula: &Value, step: &Value) -> (String, String, String) {
    match asked(formula, &json!([{ "replace": step }])) {
        Ok(answer) => panic!("{answer:#?}"),
        Err(faults) => {
            faults.iter().map(|fault| (fault.pointer.clone(), fault.found.clone(), fault.detail.clone())).next().unwrap_or_default()
        }
    }
}

fn muffins(liquid: &str) -> Value {
    formula(
        "muffin",
        &[
            "all-purpose flour: 250 g",
            "granulated sugar: 120 g",
            "vegetable oil: 80 g",
            "egg: 100 g",
            liquid,
            "baking powder: 2 tsp",
            "salt: 3 g",
        ],
    )
}

/// 2 teaspoons of powder are 9.2 g.
const POWDER: f64 = 9.2;

fn grams_of(answer: &AdaptAnswer, name: &str) -> f64 {
    let lines = lines(answer);
    let line = lines.iter().find_map(|line| line.strip_prefix(&format!("{name}: "))).unwrap_or_else(|| panic!("{name} in {lines:?}"));
    line.trim_end_matches(" g").parse().unwrap_or_else(|_| panic!("{line}"))
}

#[test]
fn soda_and_cream_of_tartar_are_a_baking_powder_with_or_without_the_starch() {
    let milk = muffins("whole milk: 240 g");
    for hand in [json!(["baking soda", "cream of tartar"]), json!(["cream of tartar", "cornstarch", "baking soda"])] {
        let answer = replaced(&milk, &json!({"ingredient": "baking powder", "on_hand": hand}));
        assert!((grams_of(&answer, "baking soda") - POWDER * 0.25).abs() < 0.01);
        assert!((grams_of(&answer, "cream of tartar") - POWDER * 0.56).abs() < 0.01);
        let starch = lines(&answer).iter().any(|line| line.starts_with("cornstarch"));
        assert_eq!(starch, hand.as_array().is_some_and(|hand| hand.len() == 3));
        let said = answer.changes.iter().any(|change| change.why.contains("cornstarch is not on hand and may be left out"));
        assert_ne!(said, starch);
    }
}

#[test]
fn soda_alone_is_no_baking_powder() {
    for step in [
        json!({"ingredient": "baking powder", "on_hand": ["baking soda"]}),
        json!({"ingredient": "baking powder", "with": "baking soda", "on_hand": ["flour"]}),
        json!({"ingredient": "baking powder", "on_hand": ["baking soda", "buttermilk"]}),
        json!({"ingredient": "baking powder", "on_hand": ["baking soda", "lemon juice", "milk"]}),
    ] {
        let (_, _, mend) = no(&muffins("whole milk: 240 g"), &step);
        assert!(mend.contains("baking soda and cream of tartar (cornstarch may be left out)"), "{mend}");
    }
    let (at, found, mend) =
        no(&muffins("whole milk: 240 g"), &json!({"ingredient": "baking powder", "on_hand": ["baking soda", "buttermilk"]}));
    assert_eq!(at, "/steps/0/replace/on_hand");
    assert!(found.contains("acid for 0 g"), "{found}");
    // 2.3 g of soda over 0.65 to 0.94 %.
    assert!(mend.contains("245 to 354 g of buttermilk in the place of as much of its liquid"), "{mend}");
}

#[test]
fn soda_is_enough_where_the_buttermilk_takes_it_up() {
    let answer = replaced(&muffins("buttermilk: 300 g"), &json!({"ingredient": "baking powder", "on_hand": ["baking soda"]}));
    assert!((grams_of(&answer, "baking soda") - POWDER * 0.25).abs() < 0.01);
    assert!(!lines(&answer).iter().any(|line| line.starts_with("cream of tartar")));
    let told = &change(&answer, "/formula/parts/0/lines/5").why;
    assert!(told.contains("the acid of buttermilk takes up 1.95 to 2.82 g of soda"), "{told}");
    // Where soda stands already, the acid is spoken for.
    let mut spoken_for = muffins("buttermilk: 300 g");
    spoken_for["parts"][0]["lines"]
        .as_array_mut()
        .into_iter()
        .for_each(|lines| lines.push(json!({"ingredient": "baking soda", "amount": "2 g"})));
    no(&spoken_for, &json!({"ingredient": "baking powder", "on_hand": ["baking soda"]}));
}

#[test]
fn leavening_acid_salt_gelatin_and_flavouring_are_never_worked_out_by_composition() {
    let all = formula(
        "creamed",
        &[
            "flour: 300 g",
            "milk: 200 g",
            "baking powder: 9 g",
            "baking soda: 2 g",
            "cream of tartar: 2 g",
            "salt: 3 g",
            "instant yeast: 3 g",
            "powdered gelatin: 7 g",
            "cinnamon: 3 g",
            "vanilla extract: 5 g",
            "lemon juice: 10 g",
            "baker's ammonia: 2 g",
            "xanthan gum: 2 g",
        ],
    );
    for missing in [
        "baking powder",
        "baking soda",
        "cream of tartar",
        "salt",
        "instant yeast",
        "gelatin",
        "cinnamon",
        "vanilla extract",
        "lemon juice",
        "baker's ammonia",
        "xanthan gum",
    ] {
        for hand in [json!(["whole milk", "sugar", "flour"]), json!(["butter"])] {
            let (at, _, mend) = no(&all, &json!({"ingredient": missing, "on_hand": hand}));
            assert_eq!(at, "/steps/0/replace/on_hand", "{missing}");
            assert!(mend.contains("no mixture is worked out"), "{missing}: {mend}");
            // What is said of the table is true.
            let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
            let id = find_id(reference, missing);
            assert_eq!(mend.contains("No swap is listed"), reference.swaps.of(&id).next().is_none(), "{missing}: {mend}");
        }
        let (_, _, mend) = no(&all, &json!({"ingredient": missing, "with": "whole milk"}));
        assert!(mend.contains("no mixture is worked out"), "{missing}: {mend}");
    }
}

fn find_id(reference: &'static Reference, name: &str) -> String {
    reference.ingredients.named(name).map_or_else(|| panic!("{name}"), |found| found.id.to_string())
}

#[test]
fn what_is_not_bought_for_its_composition_is_never_mixed_in_for_it() {
    let cake = formula("creamed", &["flour: 300 g", "whole milk: 200 g", "light cream: 100 g"]);
    for hand in [json!(["baking powder", "salt"]), json!(["baking soda"]), json!(["vinegar"]), json!(["vanilla extract", "cinnamon"])] {
        let (_, _, mend) = no(&cake, &json!({"ingredient": "light cream", "on_hand": hand}));
        assert!(mend.contains("Nothing of this can stand for light cream"), "{mend}");
    }
    let answer = replaced(
        &cake,
        &json!({"ingredient": "light cream", "on_hand": ["heavy cream", "whole milk", "vinegar", "gelatin", "baking powder"]}),
    );
    assert_eq!(lines(&answer).len(), 4, "{:?}", lines(&answer));
    // A mixture with hardly anything in common is none, even where it is named: almonds have next to no starch.
    no(&cake, &json!({"ingredient": "whole milk", "on_hand": ["granulated sugar"]}));
    let (at, _, mend) = no(&cake, &json!({"ingredient": "flour", "with": "almond flour"}));
    assert!(at.ends_with("/with") && mend.contains("as a line of its own"), "{mend}");
}

#[test]
fn a_flour_with_its_own_powder_leaves_as_much_powder_as_before() {
    for (flour, [own, powder, salt]) in [("self-raising flour", [0.957, 0.043, 0.0]), ("self-rising flour", [0.938, 0.045, 0.017])] {
        for missing in ["cake flour", "bread flour", "whole wheat flour"] {
            let cake = formula("creamed", &[&format!("{missing}: 300 g"), "whole milk: 200 g", "baking powder: 15 g", "salt: 6 g"]);
            let answer = replaced(&cake, &json!({"ingredient": missing, "with": flour}));
            let flour_grams = grams_of(&answer, flour);
            assert!((flour_grams - 300.0 / own).abs() < 0.1, "{flour_grams}");
            for (name, was, share) in [("baking powder", 15.0, powder), ("salt", 6.0, salt)] {
                assert!((grams_of(&answer, name) - (was - flour_grams * share)).abs() < 0.1, "{name} in {:?}", lines(&answer));
            }
            assert!(answer.changes.iter().any(|change| change.why.contains(&format!("The {flour} brings its own baking powder"))));
        }
    }
}

#[test]
fn powder_that_cannot_be_taken_out_is_told_in_grams() {
    let shortbread = formula("shortbread", &["cake flour: 300 g", "butter: 200 g", "granulated sugar: 100 g"]);
    let answer = replaced(&shortbread, &json!({"ingredient": "cake flour", "with": "self-raising flour"}));
    let told = &answer.owed.assumptions;
    assert!(told.iter().any(|known| known.text.starts_with("13.5 g of baking powder could not be taken out")), "{told:#?}");
}

#[test]
fn a_plain_flour_for_self_raising_brings_the_powder_beside_it() {
    let cake = formula("creamed", &["self-raising flour: 200 g", "whole milk: 100 g"]);
    let answer = replaced(&cake, &json!({"ingredient": "self-raising flour", "with": "cake flour"}));
    assert_eq!(lines(&answer), ["cake flour: 191.4 g", "baking powder: 8.6 g", "whole milk: 100 g"]);
}
