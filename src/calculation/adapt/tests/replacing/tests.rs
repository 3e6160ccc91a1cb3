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
fn who_asks_for_no_more_than_half_is_not_told_to_try_half_first() {
    let bread = formula("lean-dough", &["bread flour: 500 g", "water: 340 g", "salt: 10 g", "instant yeast: 5 g"]);
    let told = |percent: f64| {
        let answer = replaced(&bread, &json!({"ingredient": "bread flour", "with": "whole wheat flour", "percent": percent}));
        answer.changes.iter().any(|change| change.why.contains("closer loaf: try half of it first"))
    };
    assert_eq!([30.0, 50.0, 60.0, 100.0].map(told), [false, false, true, true]);
}

#[test]
fn fresh_egg_in_the_place_of_dried_brings_the_water_that_made_it_up() {
    let cake = ["cake flour: 200 g", "granulated sugar: 200 g", "butter: 100 g", "dried whole egg: 30 g", "water: 150 g"];
    let answer = replaced(&formula("creamed", &cake), &json!({"ingredient": "dried whole egg"}));
    assert_eq!((grams_of(&answer, "egg"), grams_of(&answer, "water")), (120.0, 60.0));
    let back = replaced(&formula("creamed", &["cake flour: 200 g", "egg: 120 g"]), &json!({"ingredient": "egg", "with": "dried egg"}));
    assert_eq!((grams_of(&back, "dried whole egg"), grams_of(&back, "water")), (30.0, 90.0));
}

#[test]
fn half_of_a_flour_is_replaced_and_half_stays() {
    let bread = formula("lean-dough", &["bread flour: 500 g", "water: 340 g", "bread flour: 100 g", "salt: 10 g", "instant yeast: 5 g"]);
    let answer = replaced(&bread, &json!({"ingredient": "bread flour", "with": "whole wheat flour", "percent": 30}));
    let all = lines(&answer);
    let flours: Vec<_> = all.iter().filter(|line| line.contains("flour")).map(String::as_str).collect();
    let [stays, comes, stays_too, comes_too] = flours.as_slice() else { panic!("{all:?}") };
    assert_eq!([*stays, *stays_too], ["bread flour: 350 g", "bread flour: 70 g"]);
    assert!(comes.starts_with("whole wheat flour: ") && comes_too.starts_with("whole wheat flour: "), "{all:?}");
    let whole = replaced(&bread, &json!({"ingredient": "bread flour", "with": "whole wheat flour"}));
    let of_all = lines(&whole).iter().filter_map(|line| grams_in(line, "whole wheat flour")).sum::<f64>();
    let of_part = flours.iter().filter_map(|line| grams_in(line, "whole wheat flour")).sum::<f64>();
    assert!((of_part - 0.3 * of_all).abs() < 0.2, "{of_part} of {of_all}");
    // Each change stands at its own line.
    let places: Vec<_> = answer.changes.iter().map(|change| change.pointer.as_str()).collect();
    for at in ["/formula/parts/0/lines/0", "/formula/parts/0/lines/1", "/formula/parts/0/lines/4", "/formula/parts/0/lines/5"] {
        assert!(places.contains(&at), "{places:?}");
    }
    // All of it in per cent is all of it.
    let all_of_it = replaced(&bread, &json!({"ingredient": "bread flour", "with": "whole wheat flour", "percent": 100}));
    assert_eq!(lines(&all_of_it), lines(&whole));
}

fn grams_in(line: &str, name: &str) -> Option<f64> {
    line.strip_prefix(name)?.strip_prefix(": ")?.trim_end_matches(" g").parse().ok()
}

#[test]
fn half_the_milk_is_replaced_by_half_of_what_stands_for_it_all() {
    let [whole, half] = [100, 50].map(|percent| {
        replaced(&muffins("whole milk: 240 g"), &json!({"ingredient": "whole milk", "with": "buttermilk", "percent": percent}))
    });
    let [all, part] = [&whole, &half].map(|answer| grams_of(answer, "buttermilk"));
    assert!((part * 2.0 - all).abs() < 0.2, "{part} {all}");
    assert!((grams_of(&half, "whole milk") - 120.0).abs() < 0.01);
}

#[test]
fn no_more_of_an_ingredient_is_replaced_than_there_is() {
    for percent in [0.0, -5.0, 0.5, 100.5] {
        let (at, _, mend) = no(&muffins("whole milk: 240 g"), &json!({"ingredient": "egg", "percent": percent}));
        assert!(at.ends_with("/replace/percent") && mend.contains("replace"), "{at} {mend}");
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
    // The printed rule: half a teaspoon of soda to a cup.
    replaced(&muffins("buttermilk: 1 cup"), &json!({"ingredient": "baking powder", "on_hand": ["baking soda"]}));
    no(&muffins("buttermilk: 200 g"), &json!({"ingredient": "baking powder", "on_hand": ["baking soda"]}));
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
    no(&cake, &json!({"ingredient": "light cream", "with": "salt", "on_hand": ["heavy cream", "whole milk"]}));
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
fn soda_that_finds_no_powder_to_stand_for_stays_out_and_nothing_is_said_to_be_left() {
    let scones = formula("scone", &["self-raising flour: 300 g", "whole milk: 160 g", "butter: 60 g"]);
    let answer = replaced(&scones, &json!({"ingredient": "whole milk", "with": "buttermilk"}));
    assert_eq!(lines(&answer), ["self-raising flour: 300 g", "buttermilk: 160 g", "butter: 60 g"]);
    let told: Vec<_> = answer.owed.assumptions.iter().map(|known| &*known.text).collect();
    assert!(
        told.contains(&"No more baking soda comes in than there is baking powder to give way to it, and here there is none"),
        "{told:?}"
    );
    assert!(!told.iter().any(|text| text.contains("could not be taken out")), "{told:?}");
}

#[test]
fn a_plain_flour_for_self_raising_brings_the_powder_beside_it() {
    let cake = formula("creamed", &["self-raising flour: 200 g", "whole milk: 100 g"]);
    let answer = replaced(&cake, &json!({"ingredient": "self-raising flour", "with": "cake flour"}));
    assert_eq!(lines(&answer), ["cake flour: 191.4 g", "baking powder: 8.6 g", "whole milk: 100 g"]);
    // The US kind holds salt too, the UK kind none.
    let cake = formula("creamed", &["self-rising flour: 200 g", "whole milk: 100 g"]);
    let answer = replaced(&cake, &json!({"ingredient": "self-rising flour", "with": "self-raising flour"}));
    assert_eq!(lines(&answer), ["self-raising flour: 196 g", "table salt: 3.4 g", "whole milk: 100 g"]);
}

#[test]
fn between_two_cocoas_soda_and_powder_change_places_for_the_acid_and_neither_cocoa_brings_any() {
    let cake = |cocoa: &str| formula("creamed", &["cake flour: 300 g", cocoa, "baking soda: 2 g", "baking powder: 10 g", "water: 100 g"]);
    let said = |answer: &AdaptAnswer| answer.changes.iter().map(|change| change.why.clone()).collect::<Vec<_>>().join("\n");
    let natural = said(&replaced(&cake("dutch cocoa: 50 g"), &json!({"ingredient": "dutch cocoa", "with": "natural cocoa"})));
    assert!(natural.contains("So much less baking powder here: it gives way to soda"), "{natural}");
    let dutch = said(&replaced(&cake("natural cocoa: 50 g"), &json!({"ingredient": "natural cocoa", "with": "dutch cocoa"})));
    assert!(dutch.contains("So much less baking soda here: the acid of natural cocoa took it up"), "{dutch}");
    assert!(!natural.contains("brings its own") && !dutch.contains("brings its own"));
}

#[test]
fn what_comes_in_is_said_to_bring_only_what_it_holds() {
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    for swap in reference.swaps.all {
        let ids = [swap.replaces, swap.main()].map(|id| reference.ingredients.by_id(id).map_or("", |known| &*known.name));
        for out in swap.components.iter().filter(|component| component.grams.value().value() < 0.0) {
            let name = reference.ingredients.by_id(out.ingredient).map_or("", |known| &*known.name);
            let other = if ids[0] == "whole milk" { "buttermilk: 500 g" } else { "whole milk: 500 g" };
            let missing = format!("{}: 100 g", ids[0]);
            let dough =
                formula("creamed", &["cake flour: 300 g", &missing, other, "baking soda: 50 g", "baking powder: 50 g", "salt: 50 g"]);
            let answer = replaced(&dough, &json!({"ingredient": ids[0], "with": ids[1]}));
            let brought =
                answer.changes.iter().any(|change| change.why == format!("The {} brings its own {name}: so much less of it here", ids[1]));
            assert_eq!(brought, out.note.is_empty(), "{}: {:#?}", swap.id, answer.changes);
        }
    }
}

#[test]
fn a_muffin_without_egg_is_bound_by_flax_or_moistened_by_applesauce() {
    let cake = muffins("whole milk: 240 g");
    let flax = replaced(&cake, &json!({"ingredient": "egg", "with": "flax meal"}));
    has(&flax, "ground flaxseed: 14 g");
    has(&flax, "water: 88 g");
    has(&replaced(&cake, &json!({"ingredient": "egg", "on_hand": ["applesauce"]})), "unsweetened applesauce: 122 g");
}

#[test]
fn buttermilk_for_milk_brings_soda_for_which_powder_gives_way_by_its_gas() {
    let answer = replaced(&muffins("whole milk: 250 g"), &json!({"ingredient": "whole milk", "with": "buttermilk"}));
    has(&answer, "buttermilk: 250 g");
    has(&answer, "baking soda: 2 g");
    assert!((grams_of(&answer, "baking powder") - (POWDER - 8.0)).abs() < 0.05);
}

#[test]
fn an_egg_is_not_parted_for_want_of_an_egg() {
    let cake = muffins("whole milk: 240 g");
    let usual = replaced(&cake, &json!({"ingredient": "egg"}));
    has(&usual, "pasteurized whole egg: 100 g");
    let parted = replaced(&cake, &json!({"ingredient": "egg", "on_hand": ["egg yolk", "egg white"]}));
    has(&parted, "egg white: 66 g");
    has(&parted, "egg yolk: 34 g");
    has(&replaced(&cake, &json!({"ingredient": "egg", "with": "egg yolk"})), "egg yolk: 68 g");
}

#[test]
fn flour_thickens_half_as_much_as_starch_and_in_a_cake_neither_is_a_thickener() {
    let cream = |thickener: &str| formula("pastry-cream", &["whole milk: 500 g", thickener, "egg yolk: 80 g", "granulated sugar: 100 g"]);
    let flour = replaced(&cream("cornstarch: 40 g"), &json!({"ingredient": "cornstarch", "on_hand": ["flour"]}));
    has(&flour, "all-purpose flour: 78 g");
    let range = change(&flour, "/formula/parts/0/lines/1").range.clone();
    assert!(range.is_some_and(|range| range.high.is_some_and(|high| (high.0 - 117.2).abs() < 0.1)));
    has(&replaced(&cream("all-purpose flour: 80 g"), &json!({"ingredient": "flour", "with": "cornstarch"})), "cornstarch: 40.8 g");
    let cake = formula("sponge", &["cake flour: 150 g", "cornstarch: 50 g", "egg: 250 g", "granulated sugar: 200 g"]);
    let brownie = formula("brownie", &["flour: 85 g", "cocoa: 60 g", "butter: 200 g", "egg: 200 g", "granulated sugar: 300 g"]);
    assert!(grams_of(&replaced(&brownie, &json!({"ingredient": "flour", "with": "cornstarch"})), "cornstarch") > 60.0);
    let told = replaced(&cake, &json!({"ingredient": "cornstarch", "with": "flour"}));
    assert!(grams_of(&told, "all-purpose flour") < 65.0 && told.changes[0].why.contains("no listed swap fits"), "{:?}", lines(&told));
}

#[test]
fn salt_is_salt_by_weight_and_a_bean_is_some_spoons_of_extract() {
    for [from, to] in [["salt", "kosher salt"], ["flaked kosher salt", "table salt"], ["salt", "fine sea salt"]] {
        let bread = formula("lean-dough", &["bread flour: 1000 g", "water: 650 g", &format!("{from}: 20 g")]);
        let answer = replaced(&bread, &json!({"ingredient": from, "with": to}));
        has(&answer, &format!("{to}: 20 g"));
        assert!(answer.changes[0].why.contains("weight for weight"), "{:?}", answer.changes);
    }
    let cream = formula("pastry-cream", &["whole milk: 500 g", "cornstarch: 40 g", "vanilla bean: 1", "egg yolk: 80 g"]);
    let answer = replaced(&cream, &json!({"ingredient": "vanilla bean", "on_hand": ["vanilla extract"]}));
    has(&answer, "vanilla extract: 10.5 g");
}

#[test]
fn another_flour_sugar_or_milk_goes_in_weight_for_weight() {
    let muffins = muffins("whole milk: 160 g");
    for (from, with, grams) in [
        ("all-purpose flour", "whole wheat flour", 250.0),
        ("all-purpose flour", "gluten-free flour blend", 250.0),
        ("granulated sugar", "light brown sugar", 120.0),
        ("whole milk", "oat milk", 160.0),
    ] {
        let answer = replaced(&muffins, &json!({ "ingredient": from, "with": with }));
        assert_eq!(grams_of(&answer, with), grams, "{with} for {from}");
    }
    let loaf = formula("lean-dough", &["bread flour: 500 g", "water: 330 g", "instant yeast: 5 g", "salt: 10 g"]);
    let brown = replaced(&loaf, &json!({ "ingredient": "bread flour", "with": "whole wheat flour" }));
    assert_eq!(grams_of(&brown, "whole wheat flour"), 500.0);
}

#[test]
fn one_chocolate_goes_in_for_another_weight_for_weight() {
    let cookies = formula(
        "drop-cookie",
        &["all-purpose flour: 280 g", "butter: 225 g", "brown sugar: 300 g", "egg: 100 g", "chocolate chips: 340 g"],
    );
    assert_eq!(
        grams_of(&replaced(&cookies, &json!({"ingredient": "chocolate chips", "with": "dark chocolate"})), "bittersweet chocolate"),
        340.0
    );
    let ganache = formula("ganache", &["heavy cream: 300 g", "dark chocolate: 300 g"]);
    assert_eq!(grams_of(&replaced(&ganache, &json!({"ingredient": "dark chocolate", "with": "milk chocolate"})), "milk chocolate"), 300.0);
}
