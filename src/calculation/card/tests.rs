//! What a card says of formulas of a bakery that does not exist, and that its documents are what their standards call them.

use serde_json::Value;

use super::*;

const CAKE: &str = r#"{"name":"Larkrise orchard cake","style":"creamed","measures":"us","filled":"spooned","parts":[
    {"name":"batter","lines":[{"ingredient":"all-purpose flour","amount":"220 g","also":"1 3/4 cups"},{"ingredient":"granulated sugar","amount":"200 g"},
        {"ingredient":"unsalted butter, softened","amount":"150 g"},{"ingredient":"egg","amount":"3 large"},{"ingredient":"whole milk","amount":"120 ml"},
        {"ingredient":"peeled apple","amount":"250 g","note":"in 1 cm dice"},{"ingredient":"chopped walnuts","amount":"60 g"}]},
    {"name":"lemon glaze","scales_with":"finish","lines":[{"ingredient":"powdered sugar","amount":"150 g"},{"ingredient":"lemon juice","amount":"25 g"}]}],
    "bake":{"oven":"350 F","minutes":"38-44"},"makes":{"pieces":12}}"#;

fn asked(question: &str) -> Result<CardAnswer, Faults> {
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    let question = serde_json::from_str(question).unwrap_or_else(|fault| panic!("{question}: {fault}"));
    Card::answer(&question, reference, &mut Account::new(reference, true))
}

#[track_caller]
fn card(formula: &str, more: &str) -> CardAnswer {
    asked(&format!(r#"{{"formula":{formula}{more}}}"#)).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

#[track_caller]
fn document(formula: &str, more: &str) -> String {
    card(formula, more).document.map(|document| document.text).unwrap_or_default()
}

#[track_caller]
fn faults(question: &str) -> Vec<(String, Code)> {
    asked(question).err().map(|faults| faults.iter().map(|fault| (fault.pointer.clone(), fault.code)).collect()).unwrap_or_default()
}

#[test]
fn weights_stand_beside_the_measures_of_the_kitchen() {
    let card = card(CAKE, "");
    let measures: Vec<_> = card.parts[0].lines.iter().map(|line| line.measure.as_deref().unwrap_or_default()).collect();
    assert_eq!(measures, ["1 3/4 cups", "about 1 cup", "about 2/3 cup", "3 large", "120 ml", "about 2 1/4 cups", "about 1/2 cup"]);
    assert_eq!(card.parts[0].lines[2].note.as_deref(), Some("softened"));
    assert_eq!(card.parts[0].lines[6].ingredient, "walnuts, chopped");
    assert_eq!(card.bake.map(|bake| bake.text).as_deref(), Some("177 °C (350 F), 38–44 min"));
    assert!(card.document.is_none());
}

#[test]
fn an_oven_on_several_scales_is_told_as_it_was_written() {
    let told = |oven: &str| {
        let bake = format!("\"oven\":\"{oven}\"");
        card(&CAKE.replace("\"oven\":\"350 F\"", &bake), "").bake.map(|bake| bake.text)
    };
    let several = "350 F / 180 C / 160 C fan / gas mark 4";
    assert_eq!(told(several).as_deref(), Some("350 F / 180 C / 160 C fan / gas mark 4, 38–44 min"));
    assert_eq!(told("350 F").as_deref(), Some("177 °C (350 F), 38–44 min"));
    assert_eq!(told("180 C").as_deref(), Some("180 °C, 38–44 min"));
}

#[test]
fn a_serving_is_a_twelfth_of_what_is_weighed_in_whatever_bakes_out() {
    let card = card(CAKE, "");
    for nutrient in &card.nutrition.nutrients {
        assert!((nutrient.each.value.0 * 12.0 - nutrient.whole.value.0).abs() < 1e-9, "{nutrient:?}");
    }
    // 3 eggs of 50 g at 372 mg, 150 g of butter at 215 mg, 124 g of milk at 10 mg in 100 g: 893 mg, 74.4 mg a piece.
    let cholesterol = card.nutrition.nutrients.iter().find(|shown| shown.nutrient == crate::formula::Nutrient::Cholesterol);
    assert_eq!(cholesterol.map(|shown| (shown.each.value.0.round(), shown.label.text.as_str())), Some((74.0, "75 mg")));
}

#[test]
fn a_serving_by_weight_is_a_share_of_what_the_whole_weighs_when_done() {
    let made = CAKE.replace(r#""pieces":12"#, r#""pieces":12,"weight":"1200 g""#);
    assert_eq!(card(&made, r#","serving":"80 g""#).nutrition.servings.0, 15.0);
    let unsaid = card(CAKE, r#","serving":"80 g""#);
    assert!(unsaid.owed.assumptions.iter().any(|assumption| assumption.field == "/formula/makes/weight"));
    assert_eq!(card(CAKE, r#","serving":"2 pieces""#).nutrition.servings.0, 6.0);
}

#[test]
fn the_eu_and_the_united_kingdom_are_declared_to_for_100_g_as_sold_and_nobody_else() {
    assert!(["", r#","jurisdiction":"us""#].iter().all(|more| card(CAKE, more).nutrition_declaration.is_none()));
    for of in ["eu", "uk"] {
        let made = CAKE.replace(r#""pieces":12"#, r#""pieces":12,"weight":"1050 g""#);
        let card = card(&made, &format!(r#","serving":"80 g","jurisdiction":"{of}""#));
        let declared = card.nutrition_declaration.unwrap_or_else(|| panic!("no declaration for {of}"));
        assert_eq!((declared.weight.value.0, declared.portion.as_str(), declared.portion_weight.value.0), (1050.0, "80 g", 80.0));
        for row in &declared.nutrients {
            assert!((row.per_100g.value.0 * 0.8 - row.per_portion.value.0).abs() < 1e-9, "{row:?}");
        }
        // The same fat as for the US, of which a serving is a share of the same weight.
        let fat = card.nutrition.nutrients.iter().find(|shown| shown.nutrient == crate::formula::Nutrient::Fat);
        assert!(fat.is_some_and(|fat| (fat.each.value.0 - declared.nutrients[2].per_portion.value.0).abs() < 1e-9));
        assert!(card.owed.sources.iter().any(|source| source.id == "eu-tolerances-2012"));
    }
}

#[test]
fn a_piece_holds_what_it_holds_however_much_bakes_out() {
    let card = card(CAKE, r#","jurisdiction":"uk""#);
    let declared = card.nutrition_declaration.unwrap_or_else(|| panic!("no declaration"));
    assert!(declared.weight.low.is_some(), "the cake's loss has a range");
    for row in &declared.nutrients {
        assert!(row.per_portion.low.is_none(), "{row:?}");
        assert!(row.per_100g.low.is_some() || row.per_100g.value.0 == 0.0, "{row:?}");
    }
    assert!(card.owed.assumptions.iter().any(|told| told.field == "/formula/makes/weight" && told.value == "9 %"));
}

#[test]
fn a_label_for_europe_has_the_declaration_in_place_of_the_us_figures() {
    let text = document(CAKE, r#","format":"text","jurisdiction":"uk""#);
    assert!(text.contains("Nutrition declaration, estimated") && text.contains(" kJ ") && text.contains("Salt "), "{text}");
    assert!(!text.contains("In 1 piece, estimated") && !text.contains("Cholesterol"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 78), "{text}");
    let page = document(CAKE, r#","format":"html","jurisdiction":"eu""#);
    assert!(page.contains("of which saturates") && page.contains("1 piece (") && !page.contains("Cholesterol"), "{page}");
}

#[test]
fn the_frying_fat_that_no_line_tells_is_asked_for() {
    let dough = r#"{"style":"doughnut","parts":[{"name":"dough","lines":[{"ingredient":"bread flour","amount":"500 g"},{"ingredient":"milk","amount":"280 g"}]}]}"#;
    let fried =
        |formula: &str| card(formula, r#","jurisdiction":"eu""#).owed.assumptions.iter().any(|told| told.text.contains("in frying"));
    assert_eq!([fried(dough), fried(&dough.replace("doughnut", "brioche"))], [true, false]);
}

#[test]
fn a_recipe_published_in_europe_has_its_figures_of_a_serving() {
    let of = |more: &str| -> Value {
        let text = document(CAKE, &format!(r#","format":"json-ld"{more}"#));
        serde_json::from_str(&text).unwrap_or_else(|fault| panic!("{text}: {fault}"))
    };
    let (us, uk) = (of(""), of(r#","jurisdiction":"uk""#));
    let rows = card(CAKE, r#","jurisdiction":"uk""#).nutrition_declaration.map(|declared| declared.nutrients).unwrap_or_default();
    assert_eq!(uk["nutrition"]["calories"], rows[1].declared_per_portion.text);
    assert_eq!(uk["nutrition"]["carbohydrateContent"], rows[4].declared_per_portion.text);
    assert_ne!(uk["nutrition"]["carbohydrateContent"], us["nutrition"]["carbohydrateContent"]);
    // The sentence tells the energy that the declaration does, and no other.
    let told = card(CAKE, r#","jurisdiction":"uk""#).owed.summary;
    let portion = format!("about {} / {} in 1 piece, ", rows[0].declared_per_portion.text, rows[1].declared_per_portion.text);
    assert!(told.contains(&portion), "{told}");
    assert_eq!(uk["nutrition"]["cholesterolContent"], us["nutrition"]["cholesterolContent"]);
    let mut faults = Vec::new();
    assert!(check_node(&uk, &mut faults) > 25 && faults.is_empty(), "{faults:#?}");
}

#[test]
fn the_fibre_of_ones_own_ingredient_is_told_to_be_in_its_carbohydrate() {
    let own = r#"{"ingredients":[{"name":"seed mix","per_100g":{"fat":40,"carbohydrate":25,"fibre":10,"protein":20,"water":5}}],
        "parts":[{"name":"dough","lines":[{"ingredient":"seed mix","amount":"100 g"}]}]}"#;
    let card = card(own, r#","jurisdiction":"eu""#);
    // 15 g of carbohydrate, 10 g of fibre, 20 g of protein, 40 g of fat: 255 + 80 + 340 + 1480 kJ.
    let texts: Vec<_> =
        card.nutrition_declaration.iter().flat_map(|shown| &shown.nutrients).map(|row| &*row.declared_per_100g.text).collect();
    assert_eq!(texts[..5], ["2155 kJ", "520 kcal", "40 g", "0 g", "15 g"]);
    assert!(card.owed.assumptions.iter().any(|told| told.value == "with fibre"), "{:#?}", card.owed.assumptions);
}

#[test]
fn each_allergen_is_told_with_what_brings_it_in() {
    let own = r#"{"ingredients":[{"name":"house praline"}],"parts":[{"name":"dough","lines":[{"ingredient":"rye flour","amount":"100 g"},
        {"ingredient":"butter","amount":"50 g"},{"ingredient":"almonds","amount":"50 g"},{"ingredient":"house praline","amount":"20 g"}]}]}"#;
    let card = card(own, "");
    let of = |list: &[crate::formula::AllergenFound]| {
        list.iter().map(|found| format!("{}: {}", found.allergen, found.from.join(", "))).collect::<Vec<_>>()
    };
    assert_eq!(of(&card.allergens.us), ["milk: unsalted butter", "tree-nuts: almonds"]);
    assert_eq!(of(&card.allergens.eu), ["cereals-with-gluten: medium rye flour", "milk: unsalted butter", "nuts: almonds"]);
    assert_eq!(card.allergens.unknown, ["house praline"]);
    let cautions: Vec<_> = card.owed.cautions.iter().map(|caution| caution.id).collect();
    assert!(cautions.contains(&"allergen-label") && cautions.contains(&"allergen-nuts"), "{cautions:?}");
    assert!(card.allergens.not_computed.contains("may contain"));
    let energy = card.nutrition.nutrients.first();
    assert_eq!(energy.and_then(|energy| energy.unknown.missing_percent).map(|share| share.0.round()), Some(9.0));
}

#[test]
fn the_cost_of_the_lines_is_the_cost_of_the_batch() {
    let prices = r#","currency":"GBP","prices":[{"ingredient":"egg","amount":"30 large","price":7.2},{"ingredient":"apple","amount":"1 kg","price":2.2},
        {"ingredient":"lemon","amount":"10","price":3.8},{"ingredient":"saffron","amount":"1 g","price":4}]"#;
    let card = card(CAKE, prices);
    let cost = card.cost.as_ref().map(|cost| (cost.batch.text.as_str(), cost.piece.text.as_str(), cost.without.len()));
    // Three eggs 0.72; 250 g of peeled apple are 329 g bought, 0.72; the juice of one lemon 0.38.
    assert_eq!(cost, Some(("1.82 GBP", "0.15 GBP", 6)));
    assert!(card.owed.assumptions.iter().any(|assumption| assumption.field == "/prices/3/ingredient"), "{:#?}", card.owed.assumptions);
}

#[test]
fn every_fault_of_a_card_is_told_at_once() {
    let found = faults(&format!(
        r#"{{"formula":{CAKE},"pieces":0,"serving":"1 cup","currency":"","prices":[{{"ingredient":"buter","amount":"1 kg","price":-1}},{{"ingredient":"egg","amount":"0 g","price":1}}]}}"#
    ));
    let pointers: Vec<_> = found.iter().map(|(pointer, _)| pointer.as_str()).collect();
    assert_eq!(pointers, ["/pieces", "/serving", "/prices/0/price", "/prices/0/ingredient", "/prices/1/amount", "/currency"]);
    assert_eq!(faults(&format!(r#"{{"formula":{CAKE},"currency":"GBP"}}"#)), [("/currency".to_owned(), Code::NotTogether)]);
}

const HOSTILE: &str = r#"{"name":"</script><script>alert(1)</script>","parts":[{"name":"<b>&\"'","lines":[{"ingredient":"water","amount":"100 g","note":"=HYPERLINK(\"x\")"}]},
    {"name":"@part, \"two\"","lines":[{"ingredient":"salt","amount":"2 g","note":"line\none"}]}]}"#;

#[test]
fn no_text_of_a_caller_becomes_markup() {
    let html = document(HOSTILE, r#","format":"html""#);
    assert!(html.contains("&lt;/script&gt;&lt;script&gt;alert(1)") && html.contains("&lt;b&gt;&amp;&quot;&#39;"));
    assert!(!html.contains("<script") && !html.contains("<b>"));
    let published = document(HOSTILE, r#","format":"json-ld""#);
    assert!(!published.contains('<'), "{published}");
}

#[test]
fn the_page_asks_for_nothing_from_outside() {
    let html = document(CAKE, r#","format":"html""#);
    for word in ["http:", "https:", "src=", "href=", "url(", "@import", "<script"] {
        assert!(!html.contains(word), "{word}");
    }
    assert_eq!(html.matches("class=\"tick\"").count(), 9);
}

#[test]
fn the_table_is_read_back_as_it_was_written() {
    let text = document(HOSTILE, r#","format":"csv""#);
    let mut reader = ::csv::Reader::from_reader(text.as_bytes());
    let rows: Vec<_> = reader.records().map(|row| row.unwrap_or_else(|fault| panic!("{fault}"))).collect();
    assert_eq!(rows.len(), 2);
    assert_eq!((&rows[0][0], &rows[0][2], &rows[0][6]), ("<b>&\"'", "100", "'=HYPERLINK(\"x\")"));
    assert_eq!((&rows[1][0], &rows[1][6]), ("'@part, \"two\"", "line\none"));
    assert!(text.ends_with("\r\n"));
}

#[test]
fn no_line_of_the_plain_text_is_broken_by_a_name() {
    let text = document(HOSTILE, r#","format":"text""#);
    assert!(text.contains("(line one)"));
    assert_eq!(text.matches("[ ] ").count(), 2);
}

/// A property, and what its values may be.
type Property = (&'static str, &'static [&'static str]);

/// The terms that are used, each type with its properties and what a value may be: schema.org/Recipe, /HowTo, /Thing, /CreativeWork, /HowToSupply,
/// /HowToTool, /NutritionInformation, /QuantitativeValue and /MonetaryAmount, as published.
const TERMS: &[(&str, &[Property])] = &[
    (
        "Recipe",
        &[
            ("name", &["Text"]),
            ("description", &["Text"]),
            ("inLanguage", &["Text"]),
            ("recipeCategory", &["Text"]),
            ("recipeYield", &["Text", "QuantitativeValue"]),
            ("cookTime", &["Duration"]),
            ("recipeIngredient", &["Text"]),
            ("supply", &["HowToSupply", "Text"]),
            ("tool", &["HowToTool", "Text"]),
            ("nutrition", &["NutritionInformation"]),
            ("estimatedCost", &["MonetaryAmount", "Text"]),
        ],
    ),
    ("HowToSupply", &[("name", &["Text"]), ("requiredQuantity", &["Number", "QuantitativeValue", "Text"])]),
    ("HowToTool", &[("name", &["Text"])]),
    (
        "QuantitativeValue",
        &[("value", &["Number"]), ("minValue", &["Number"]), ("maxValue", &["Number"]), ("unitCode", &["Text"]), ("unitText", &["Text"])],
    ),
    ("MonetaryAmount", &[("currency", &["Text"]), ("value", &["Number"])]),
    (
        "NutritionInformation",
        &[
            ("servingSize", &["Text"]),
            ("calories", &["Energy"]),
            ("fatContent", &["Mass"]),
            ("saturatedFatContent", &["Mass"]),
            ("cholesterolContent", &["Mass"]),
            ("sodiumContent", &["Mass"]),
            ("carbohydrateContent", &["Mass"]),
            ("fiberContent", &["Mass"]),
            ("sugarContent", &["Mass"]),
            ("proteinContent", &["Mass"]),
        ],
    ),
];

/// Adds what is wrong with a node; gives how many properties were looked at.
fn check_node(node: &Value, faults: &mut Vec<String>) -> usize {
    let kind = node["@type"].as_str().unwrap_or_default();
    let Some((_, properties)) = TERMS.iter().find(|(known, _)| *known == kind) else {
        faults.push(format!("no type {kind}"));
        return 0;
    };
    let mut looked_at = 0;
    for (name, value) in node.as_object().into_iter().flatten().filter(|(name, _)| !name.starts_with('@')) {
        let Some((_, kinds)) = properties.iter().find(|(known, _)| known == name) else {
            faults.push(format!("{kind} has no {name}"));
            continue;
        };
        let values = value.as_array().map_or_else(|| std::slice::from_ref(value), Vec::as_slice);
        for value in values {
            looked_at += 1;
            if !kinds.iter().any(|kind| is(value, kind)) {
                faults.push(format!("{kind}.{name}: {value} is none of {kinds:?}"));
            }
            if value.is_object() {
                looked_at += check_node(value, faults);
            }
        }
    }
    looked_at
}

fn is(value: &Value, kind: &str) -> bool {
    // Energy and Mass are texts of a number and a unit.
    let measured = |units: &[&str]| {
        let parts = value.as_str().and_then(|text| text.split_once(' '));
        parts.is_some_and(|(number, unit)| number.parse::<f64>().is_ok() && units.contains(&unit))
    };
    match kind {
        "Text" => value.as_str().is_some_and(|text| !text.is_empty()),
        "Duration" => value
            .as_str()
            .is_some_and(|text| text.starts_with("PT") && text.ends_with('M') && text[2..text.len() - 1].parse::<u32>().is_ok()),
        "Number" => value.is_number(),
        "Energy" => measured(&["kcal"]),
        "Mass" => measured(&["g", "mg"]),
        object => value["@type"] == *object,
    }
}

#[test]
fn the_recipe_speaks_only_terms_of_schema_org() {
    let prices = r#","prices":[{"ingredient":"egg","amount":"30 large","price":7.2}]"#;
    for more in
        [String::new(), format!(r#"{prices},"currency":"GBP""#), format!(r#"{prices},"currency":"pence""#), r#","pieces":1000"#.to_owned()]
    {
        for formula in [CAKE, HOSTILE] {
            let text = document(formula, &format!(r#","format":"json-ld"{more}"#));
            let recipe: Value = serde_json::from_str(&text).unwrap_or_else(|fault| panic!("{text}: {fault}"));
            assert_eq!((&recipe["@context"], &recipe["@type"]), (&Value::from("https://schema.org"), &Value::from("Recipe")));
            let mut faults = Vec::new();
            assert!(check_node(&recipe, &mut faults) > 25);
            assert!(faults.is_empty(), "{faults:#?}");
        }
    }
}

#[test]
fn supplies_are_weighed_in_grams_and_liquids_measured_in_millilitres_too() {
    let recipe: Value = serde_json::from_str(&document(CAKE, r#","format":"json-ld""#)).unwrap_or_default();
    let codes = |at: usize| {
        recipe["supply"][at]["requiredQuantity"].as_array().into_iter().flatten().map(|q| q["unitCode"].clone()).collect::<Vec<_>>()
    };
    assert_eq!((codes(0), codes(4)), (vec![Value::from("GRM")], vec![Value::from("GRM"), Value::from("MLT")]));
    assert_eq!(recipe["recipeIngredient"][0], "220 g all-purpose flour (1 3/4 cups)");
    assert_eq!((&recipe["recipeYield"][0], &recipe["cookTime"]), (&Value::from("12 pieces"), &Value::from("PT44M")));
}

#[test]
fn a_card_calls_things_as_its_formula_does() {
    let british = r#"{"measures":"uk","parts":[{"name":"batter","lines":[{"ingredient":"plain flour, sifted","amount":"200 g"},
        {"ingredient":"caster sugar","amount":"150 g"},{"ingredient":"salt","amount":"1 pinch"}]}]}"#;
    let text = document(british, r#","format":"text","jurisdiction":"uk""#);
    assert!(text.contains("plain flour") && text.contains("caster sugar") && text.contains("cereals containing gluten (plain"), "{text}");
    assert!(!text.contains("all-purpose") && !text.contains("superfine"), "{text}");
    let line = &card(british, "").parts[0].lines[0];
    assert_eq!(
        (line.ingredient.as_str(), line.written.as_deref(), line.note.as_deref()),
        ("all-purpose flour", Some("plain flour"), Some("sifted"))
    );
}
