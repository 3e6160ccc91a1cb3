//! Questions as bakers put them.

use super::*;

#[track_caller]
fn asked(amount: &str, ingredient: &str, to: &str) -> Result<ConvertAnswer, Faults> {
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    let question = ConvertQuestion {
        amount: Written::Text(amount.into()),
        ingredient: (!ingredient.is_empty()).then(|| ingredient.to_owned()),
        filled: None,
        to: to.to_owned(),
        measures: None,
        from_oven: None,
        to_oven: None,
    };
    Convert::answer(&question, reference, &mut Account::new(reference, false))
}

#[track_caller]
fn is(amount: &str, ingredient: &str, to: &str, wanted: &str) {
    let answer = asked(amount, ingredient, to).unwrap_or_else(|faults| panic!("{amount} {ingredient}: {faults:?}"));
    assert_eq!(answer.result.text, wanted, "{amount} {ingredient} to {to}: {}", answer.owed.summary);
}

#[test]
fn an_amount_in_words_and_one_that_names_its_ingredient_are_read() {
    is("one and a half sticks", "butter", "g", "170 g");
    is("1½ sticks butter", "", "g", "170 g");
    is("12 g", "garlic", "cloves", "4 cloves");
    is("2 cloves garlic", "", "clove", "2 cloves");
    is("2 dozen large", "eggs", "g", "1200 g");
    is("a dozen eggs", "", "g", "600 g");
    is("zest of 1 lemon", "", "g", "3 g");
    is("two", "eggs", "g", "100 g");
    is("1 cup, packed", "brown sugar", "g", "220 g");
    is("1 cup chopped", "walnuts", "g", "117 g");
    is("2 x 400 g tins", "condensed milk", "g", "800 g");
    is("2 level tsp", "salt", "g", "12 g");
    // What is in doubt is not read so: it is asked back.
    assert!(asked("3 heaping tbsp", "cocoa", "g").is_err() && asked("1 blob", "butter", "g").is_err());
    assert!(asked("1 cup of sugar", "butter", "g").is_err());
}

#[test]
fn a_heaped_spoon_is_no_level_one_wherever_the_word_stands() {
    for amount in ["1 heaped tsp", "1 tsp heaped", "1 tsp heaping", "1 cup scant", "1 rounded tbsp"] {
        let faults = asked(amount, "baking powder", "g").expect_err(amount);
        assert!(faults.iter().any(|fault| fault.detail.contains("how many level ones")), "{amount}: {faults:?}");
    }
    is("1 level tsp", "baking powder", "g", "4.6 g");
}

#[test]
fn gelatin_by_the_sheet_is_sheet_gelatin() {
    for (amount, ingredient) in [("4 sheets", "gelatin"), ("4 leaves", "gelatine"), ("4 gelatin sheets", ""), ("4 leaves gelatine", "")] {
        is(amount, ingredient, "g", "8 g");
    }
    is("4 silver sheets", "gelatin", "g", "10 g");
    is("1 packet", "gelatin", "g", "7 g");
    let said = |amount| asked(amount, "gelatine", "g").map(|answer| answer.owed.summary).unwrap_or_default();
    assert_eq!(said("4 silver leaves"), "4 silver leaves of sheet gelatin is 10 g");
    assert_eq!(said("4 silver sheets"), "4 silver sheets of sheet gelatin is 10 g");
    // Nobody sells sugar by the leaf: the word is known, the count is not.
    let refused = asked("4 green leaves", "sugar", "g").expect_err("no leaf is of sugar");
    assert!(refused.iter().all(|fault| fault.pointer == "/amount"), "{refused:?}");
}

#[test]
fn things_are_counted_by_their_own_name() {
    is("100 ml", "lemon juice", "lemons", "2.15 lemons");
    is("500 g", "banana", "bananas", "4.24 bananas");
    is("250 g", "egg white", "whites", "7.58 large egg whites (US)");
    is("1 kg", "egg", "dozen", "1.67 dozen large eggs (US)");
    let refused = asked("50 g", "butter", "lemons").expect_err("no lemon is in butter");
    assert!(refused.iter().all(|fault| fault.code == Code::NotCounted));
}

#[test]
fn a_part_of_an_egg_is_never_a_whole_one() {
    is("1 large egg white", "", "g", "33 g");
    is("3 large whites", "egg white", "g", "99 g");
    is("3 eggs", "egg yolk", "g", "51 g");
    for (amount, ingredient) in [("3 whites", "egg"), ("3 large whites", "egg"), ("2 yolks", "egg white")] {
        let refused = asked(amount, ingredient, "g").expect_err("another part is meant");
        assert!(refused.iter().all(|fault| fault.code == Code::NotTogether), "{amount} {ingredient}");
    }
}

#[test]
fn a_large_c_is_a_temperature_and_a_cup_is_offered() {
    let refused = asked("1C", "sugar", "g").expect_err("C is Celsius");
    assert_eq!(refused.iter().next().map(|fault| fault.attempts.clone()), Some(vec!["1 cup".to_owned()]));
}

#[test]
fn a_bare_number_for_the_oven_is_offered_its_scales() {
    let refused = asked("375", "", "C").expect_err("no scale is said");
    assert_eq!(refused.iter().next().map(|fault| fault.attempts.clone()), Some(vec!["375 F".to_owned(), "375 C".to_owned()]));
}

#[track_caller]
fn ask(question: &str) -> ConvertAnswer {
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    let question = serde_json::from_str(question).unwrap_or_else(|fault| panic!("{question}: {fault}"));
    Convert::answer(&question, reference, &mut Account::new(reference, true)).unwrap_or_else(|faults| panic!("{faults:?}"))
}

#[track_caller]
fn gives(question: &str, value: f64, text: &str) {
    let answer = ask(question);
    assert!((answer.result.value.0 - value).abs() <= value.abs() * 1e-6, "{question}: {answer:#?}");
    assert_eq!(answer.result.text, text, "{question}");
}

#[test]
fn definitions_are_exact() {
    gives(r#"{"amount":"1 gal","to":"ml"}"#, 3785.411784, "3785 ml");
    gives(r#"{"amount":"40 oz","to":"g"}"#, 1133.980925, "1134 g");
    gives(r#"{"amount":"3 australian tbsp","to":"us tbsp"}"#, 4.057682724, "4.06 tbsp");
    gives(r#"{"amount":"9 in","to":"cm"}"#, 22.86, "22.86 cm");
}

#[test]
fn a_cup_of_flour_is_a_span_until_the_way_of_filling_is_said() {
    let open = ask(r#"{"amount":"2 cups","ingredient":"all-purpose flour","to":"g"}"#);
    assert_eq!(open.result.range_text(), "220–320 g");
    let spooned = ask(r#"{"amount":"2 cups","ingredient":"all-purpose flour","to":"g","filled":"spooned"}"#);
    assert_eq!(spooned.result.text, "252 g");
    assert!(open.owed.assumptions.iter().any(|a| a.field == "/filled"));
}

#[test]
fn ovens_are_told_apart() {
    gives(r#"{"amount":"350 F","to":"C"}"#, 176.6666667, "177 °C");
    gives(r#"{"amount":"gas mark 4","to":"F"}"#, 350.0, "350 °F");
    gives(r#"{"amount":"350 F","to":"gas mark"}"#, 4.0, "gas mark 4");
    let fan = ask(r#"{"amount":"180 C","to":"C","to_oven":"fan"}"#);
    assert_eq!(fan.owed.summary, "180 °C in a conventional oven is 160 °C in a fan oven (152–167 °C)");
    assert_eq!(ask(r#"{"amount":"180 C","to":"F","to_oven":"conventional"}"#).owed.summary, "180 °C is 356 °F");
    assert_eq!((fan.result.low.map(|f| f.0), fan.result.value.0, fan.result.high.map(|f| f.0)), (Some(152.0), 160.0, Some(167.0)));
}

#[test]
fn a_gas_mark_is_that_of_an_oven_without_a_fan() {
    // As British books print it: 200 °C, 180 °C with a fan, gas mark 6.
    let fan = ask(r#"{"amount":"180 C","to":"gas mark","from_oven":"fan"}"#);
    assert_eq!(fan.result.text, "gas mark 6");
    assert_eq!(fan.owed.summary, "180 °C in a fan oven is gas mark 6 in a conventional oven (gas mark 5–6)");
    assert!(fan.owed.assumptions.iter().any(|told| told.field == "/to_oven"));
    gives(r#"{"amount":"180 C","to":"gas mark","from_oven":"fan","to_oven":"fan"}"#, 4.0, "gas mark 4");
    gives(r#"{"amount":"gas mark 6","to":"C","to_oven":"fan"}"#, 204.4444444 - 20.0, "184 °C");
    gives(r#"{"amount":"180 C","to":"F","from_oven":"fan"}"#, 356.0, "356 °F");
}

#[test]
fn eggs_are_counted_across_classes() {
    gives(r#"{"amount":"5 large","ingredient":"egg","to":"medium"}"#, 250.0 / 44.0, "5.68 medium eggs (US)");
    gives(r#"{"amount":"3 eggs","to":"g"}"#, 150.0, "150 g");
    assert_eq!(ask(r#"{"amount":"3","ingredient":"medium eggs","to":"g","measures":"uk"}"#).result.text, "155 g");
    assert_eq!(ask(r#"{"amount":"1 dozen","ingredient":"medium eggs","to":"kg","measures":"uk"}"#).result.text, "0.619 kg");
    assert!(
        ask(r#"{"amount":"1 lemon","ingredient":"lemon","to":"ml"}"#).owed.assumptions.iter().any(|assumed| assumed.value == "lemon juice")
    );
    assert_eq!(ask(r#"{"amount":"1 tin","ingredient":"evaporated milk","to":"g"}"#).result.text, "354 g");
    assert_eq!(ask(r#"{"amount":"pinch","ingredient":"salt","to":"ml"}"#).result.text, "0.31 ml");
    assert!(ask(r#"{"amount":"3 bananas","ingredient":"banana","to":"g"}"#).owed.summary.starts_with("3 bananas is "));
    gives(r#"{"amount":"2 lemons","ingredient":"lemon juice","to":"g"}"#, 96.0, "96 g");
    gives(r#"{"amount":"4 silver sheets","ingredient":"sheet gelatin","to":"g"}"#, 10.0, "10 g");
    gives(r#"{"amount":"1 stick","ingredient":"butter","to":"g"}"#, 113.4, "113 g");
}

#[test]
fn scooped_is_dipped_and_packed_behind_a_comma_is_packed() {
    let scooped: ConvertQuestion =
        serde_json::from_str(r#"{"amount":"2 cups","ingredient":"flour","to":"g","filled":"scooped"}"#).expect("a way of filling");
    assert_eq!(scooped.filled, Some(Filled::Dipped));
    let packed = asked("1 cup", "brown sugar, packed", "g").unwrap_or_else(|faults| panic!("{faults:?}"));
    let before = asked("1 cup", "packed brown sugar", "g").unwrap_or_else(|faults| panic!("{faults:?}"));
    assert_eq!(packed.result, before.result);
}

#[test]
fn what_nobody_has_published_is_said_of_what_was_asked() {
    let refused = |amount: &str, ingredient: &str, to: &str| {
        let faults = asked(amount, ingredient, to).map(|_| ()).expect_err(ingredient);
        faults.iter().map(|fault| (fault.pointer.clone(), fault.found.clone(), fault.detail.contains(ingredient))).collect::<Vec<_>>()
    };
    assert_eq!(refused("1 each", "vanilla bean", "tsp"), [("/to".to_owned(), "tsp".to_owned(), true)]);
    assert!(refused("1 cube", "marzipan", "g").iter().all(|(at, _, named)| at == "/amount" && *named));
    is("1 block", "cream cheese", "g", "227 g");
    is("1 cube", "fresh yeast", "g", "42 g");
}

#[test]
fn packs_and_spoons_of_one_ingredient_are_one_amount() {
    for amount in ["1 stick plus 2 tbsp", "1 stick + 2 tbsp", "1 stick and 2 tablespoons", "2 tbsp plus 1 stick"] {
        is(amount, "butter", "g", "142 g");
    }
    is("1 stick plus 2 tbsp butter", "", "g", "142 g");
    is("4 silver leaves", "gelatine", "g", "10 g");
    is("10 leaves", "basil", "g", "5 g");
    is("1 lb. 2 oz.", "flour", "g", "510 g");
    assert!(asked("1 egg plus 1 yolk", "", "g").is_err());
    is("1 stick less 1 tbsp", "butter", "g", "99 g");
    is("1 packet plus 1 tsp", "active dry yeast", "g", "10 g");
    // The stick of another fat is another stick, and flour is sold in none; a weight is no measure.
    is("1 stick plus 2 tbsp", "shortening", "g", "217 g");
    for (amount, ingredient) in [("1 stick plus 2 tbsp", "flour"), ("1 stick plus 30 g", "butter"), ("1 cup plus 30 g", "sugar")] {
        let faults = asked(amount, ingredient, "g").expect_err(amount);
        assert!(faults.iter().any(|fault| fault.detail.contains("put them on two lines")), "{amount}: {faults:?}");
    }
}

#[test]
fn what_is_left_of_a_cup_is_told_by_measures_that_there_are() {
    for (amount, told) in [
        ("1 cup less 1 tbsp", "1 cup less 1 tbsp"),
        ("1 cup minus 1 tsp", "1 cup less 1 tsp"),
        ("2 cups plus 1 teaspoon", "2 cups plus 1 tsp"),
        ("1 pint less 2 tbsp", "2 cups less 2 tbsp"),
        ("2 tbsp less 1/2 tsp", "2 tbsp less 1/2 tsp"),
        ("1 cup less 2 tbsp", "7/8 cup"),
        ("1.23456 cups", "1.23 cups"),
        ("0.9 cup", "0.9 cup"),
    ] {
        let answer = asked(amount, "sugar", "g").unwrap_or_else(|faults| panic!("{amount}: {faults:?}"));
        assert_eq!(answer.amount.text, told, "{amount}");
    }
}

#[test]
fn what_is_made_of_several_is_told_so_and_a_name_of_two_countries_is_asked_for_its_kind() {
    for name in ["vanilla buttercream", "egg wash", "poolish"] {
        let faults = asked("1 cup", name, "g").expect_err(name);
        assert!(faults.iter().any(|fault| fault.detail.contains("a part of its own") && fault.attempts.is_empty()), "{name}: {faults:?}");
    }
    let faults = asked("1 cup", "cider", "g").expect_err("cider is two drinks");
    assert!(faults.iter().any(|fault| fault.attempts == ["apple juice", "hard cider"]), "{faults:?}");
}

#[test]
fn what_is_left_of_a_full_tin_is_told_where_a_weight_may_be_that_of_the_tin() {
    let told = asked("400 g tin", "chickpeas, drained", "cup").unwrap_or_else(|faults| panic!("{faults:?}"));
    assert!(told.owed.assumptions.iter().any(|told| told.text.contains("56.5 to 60 %")), "{:?}", told.owed.assumptions);
    assert!(told.owed.sources.iter().any(|source| source.id == "usda-sr28"));
    let whole = asked("400 g tin", "chickpeas", "cup").unwrap_or_else(|faults| panic!("{faults:?}"));
    assert!(!whole.owed.assumptions.iter().any(|told| told.text.contains("tin")), "{:?}", whole.owed.assumptions);
}

#[test]
fn a_size_beside_what_is_counted_is_never_lost() {
    is("2 large bananas", "banana", "g", "272 g");
    is("2 small apples", "apple", "g", "298 g");
    is("2 bananas", "large banana", "g", "272 g");
    is("2 extra small bananas", "banana", "g", "162 g");
    is("2 small fresh eggs", "egg", "g", "76 g");
    is("2 medium dozen", "egg", "g", "1056 g");
    is("1 small package", "cream cheese", "g", "85 g");
    let answer = asked("2 small packages", "cream cheese", "g").unwrap_or_else(|faults| panic!("{faults:?}"));
    assert_eq!(answer.owed.summary, "2 small packets of cream cheese is 170 g");
    let faults = asked("2 large tablespoons", "sugar", "g").expect_err("nobody knows how large");
    assert!(faults.iter().any(|fault| fault.attempts == ["2 tablespoons"]), "{faults:?}");
}

#[test]
fn what_is_sold_in_cans_is_counted_in_cans_too() {
    is("850 g", "pumpkin puree", "cans", "2 cans");
    is("14 g", "american cheese", "slices", "0.5 slice");
    is("100 g", "pecans", "halves", "66.67 halves");
    let said = |amount, ingredient| asked(amount, ingredient, "g").map(|answer| answer.amount.text.to_string()).unwrap_or_default();
    assert_eq!(
        [said("3 tins", "evaporated milk"), said("1 tin", "evaporated milk"), said("2 sprigs", "thyme")],
        ["3 cans", "1 can", "2 sprigs"]
    );
    assert!(asked("100 g", "sugar", "slices").is_err());
    is("10 g", "gelatine", "sheets", "5 sheets");
    is("500 g", "banana", "large", "3.68 large bananas");
    let eggs = asked("1 kg", "eggs", "eggs").unwrap_or_else(|faults| panic!("{faults:?}"));
    assert_eq!(eggs.result.text, "20 large eggs (US)");
    assert!(eggs.owed.assumptions.iter().any(|told| told.field == "/to" && told.value == "large"), "{:?}", eggs.owed.assumptions);
    assert!(eggs.owed.assumptions.iter().any(|told| told.field == "/measures"), "{:?}", eggs.owed.assumptions);
}

#[test]
fn halves_are_no_whole_ones_wherever_the_word_stands() {
    // USDA: one half of a dried apricot is 3.5 g, of a walnut 2 g.
    for (amount, ingredient) in [("10 halves", "dried apricots"), ("10", "dried apricot halves"), ("10 dried apricot halves", "")] {
        is(amount, ingredient, "g", "35 g");
    }
    is("10", "dried apricots", "g", "70 g");
    is("6", "walnut halves", "g", "12 g");
    is("1 cup", "walnut halves", "g", "100 g");
    is("2", "garlic cloves", "g", "6 g");
    is("half", "lemon", "g", "42 g");
    assert!(asked("2 halves", "lemon", "g").is_err());
}

#[test]
fn a_way_of_filling_that_was_said_is_not_called_unsaid() {
    let told = |ingredient: &str, filled: &str| {
        let answer = ask(&format!(r#"{{"amount": "2 cups", "ingredient": "{ingredient}", "to": "g", "filled": "{filled}"}}"#));
        answer.owed.assumptions.iter().find(|told| told.field == "/filled").map(|told| told.text.to_string())
    };
    assert!(told("whole wheat flour", "sifted").is_some_and(|text| text.contains("when it is sifted is not published: the span")));
    assert!(told("dark rye flour", "dipped").is_some_and(|text| text.contains("when it is dipped is not published")));
    assert_eq!([told("dark rye flour", "spooned"), told("all-purpose flour", "dipped"), told("sugar", "sifted")], [None, None, None]);
}
