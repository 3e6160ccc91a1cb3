//! Whole formulas in the hands of many: titles, lists on one line, ovens, parts that are called by their names.

use super::*;

/// A formula as JSON.
fn formula(lines: &[&str]) -> serde_json::Value {
    serde_json::to_value(ask(lines).formula).unwrap_or_default()
}

#[test]
fn a_formula_on_one_line_loses_neither_its_last_ingredient_nor_its_oven() {
    let answer =
        ask(&["Flour 300 g, butter 200 g, sugar 100 g, pinch of salt. Bake 160°C 40 min in 20cm square tin. Cut into 16 fingers."]);
    let lines: Vec<_> = answer.formula.iter().flat_map(|formula| &formula.parts[0].lines).map(|line| &*line.ingredient).collect();
    assert_eq!(lines, ["all-purpose flour", "unsalted butter", "granulated sugar", "table salt"]);
    let said = serde_json::to_value(&answer.formula).unwrap_or_default();
    assert_eq!((&said["pan"], &said["bake"]["oven"], &said["makes"]["pieces"]), (&"20cm square tin".into(), &"160 C".into(), &16.into()));
}

#[test]
fn an_oven_is_told_from_the_crumb_and_from_its_fan() {
    let said = |line: &str| serde_json::to_value(ask(&["200 g flour", line]).formula).unwrap_or_default()["bake"].clone();
    for (line, oven, minutes) in [
        ("Bake 180C (160 fan) 18-20 mins.", "180 C / 160 C fan", "18-20 min"),
        ("Bake at 190°C (fan 170) for 40 minutes", "190 C / 170 C fan", "40 min"),
        ("Bake at 175 °C (350 °F) for 30–35 minutes to 88 °C / 190 °F internal.", "175 C / 350 F", "30-35 min"),
        ("Bake at 190°C until a thermometer reads 96°C inside, about 40 minutes", "190 C", "40 min"),
        ("Springform 24cm. 170 C, 50-60 min", "170 C", "50-60 min"),
        ("Bake at 180°C fan (200°C conventional) for 20 mins", "200 C / 180 C fan", "20 min"),
        ("Bake at GM4 for 25 mins", "gas mark 4", "25 min"),
        ("Place in the oven at 180 C and bake for 40–45 minutes", "180 C", "40-45 min"),
    ] {
        let bake = said(line);
        assert_eq!(
            (bake["oven"].as_str(), bake["minutes"].as_str(), bake["from_oven"].as_str()),
            (Some(oven), Some(minutes), None),
            "{line}"
        );
    }
    for step in ["Melt the butter until it browns, about 5–7 minutes. Cool 10 minutes.", "Bulk 4 h at 24C. Shape. Cold proof overnight."]
    {
        assert_eq!(ask(&["200 g flour", step]).lines[1].state, LineState::Understood, "{step}");
    }
}

#[test]
fn a_title_may_say_how_many_are_made_and_a_heading_its_tin() {
    let answer = ask(&["Chocolate chip cookies - 24 big ones", "200 g flour", "100 g butter"]);
    let said = serde_json::to_value(&answer.formula).unwrap_or_default();
    assert_eq!((&said["name"], &said["makes"]["pieces"]), (&"Chocolate chip cookies".into(), &24.into()));
    assert_eq!(said["parts"][0]["lines"].as_array().map(Vec::len), Some(2));
    // A crust is made of bought ones.
    let crust = serde_json::to_value(ask(&["Digestive biscuits – 20", "100 g butter"]).formula).unwrap_or_default();
    assert_eq!(crust["parts"][0]["lines"].as_array().map(Vec::len), Some(2));
    let tin = serde_json::to_value(ask(&["Ingredients (for 1 x 900g / 2lb loaf tin):", "500 g flour"]).formula).unwrap_or_default();
    assert_eq!(tin["pan"], "1 x 900g / 2lb loaf tin");
}

#[test]
fn a_part_that_is_called_by_its_name_goes_in_once() {
    let poolish = ["## Poolish", "100 g flour", "100 g water", "1 g instant yeast", "## Rolls", "400 g flour"];
    let with = |line| ask(&[&poolish[..], &[line]].concat());
    for (line, state) in [
        ("all of the poolish", LineState::Understood),
        ("201 g poolish", LineState::Understood),
        ("150 g poolish", LineState::Doubtful),
        ("150 g pastry cream", LineState::Unread),
    ] {
        assert_eq!(with(line).lines[6].state, state, "{line}");
    }
    // A levain is an ingredient too: all of it is the part, less of it may be.
    let levain = ["Levain", "50 g rye starter", "50 g bread flour", "50 g water", "Dough", "450 g bread flour"];
    let twice = |line| ask(&[&levain[..], &[line]].concat());
    assert_eq!(twice("150 g levain").formula.map(|formula| formula.parts[1].lines.len()), Some(1));
    assert_eq!(twice("100 g levain").lines[6].state, LineState::Doubtful);
    let into: Vec<_> = with("201 g poolish").formula.into_iter().flat_map(|formula| formula.parts).map(|part| part.into).collect();
    assert_eq!(into, [Some("rolls".to_owned()), None]);
}

#[test]
fn a_tin_a_yield_or_a_weight_each_stands_beside_the_title() {
    for (line, name, pan, pieces) in [
        ("Vegan banana loaf (1 lb loaf tin)", "Vegan banana loaf", Some("1 lb loaf tin"), None),
        ("Apple crumble, serves 6", "Apple crumble", None, Some(6)),
        ("Poolish baguettes (Larkrise, 4 pcs @ 350 g)", "Poolish baguettes", None, Some(4)),
    ] {
        let said = formula(&[line, "200 g flour"]);
        assert_eq!((said["name"].as_str(), said["pan"].as_str(), said["makes"]["pieces"].as_u64()), (Some(name), pan, pieces), "{line}");
    }
    assert_eq!(formula(&["Poolish baguettes (4 pcs @ 350 g)", "200 g flour"])["makes"]["each"], "350 g");
    assert!(formula(&["Yield: 24 biscuits", "200 g flour"])["name"].is_null());
}

#[test]
fn a_list_on_one_line_loses_nothing_at_its_end() {
    let list = "4 eggs, 140g plain flour, pinch salt, sunflower oil for the tin. 230C/210C fan 20-25 min, 12-hole muffin tin";
    for line in [list.to_owned(), format!("Yorkshire puddings – {list}")] {
        let said = formula(&[&line]);
        assert_eq!(said["parts"][0]["lines"].as_array().map(Vec::len), Some(3), "{line}");
        assert_eq!((&said["pan"], &said["bake"]["oven"]), (&"12-hole muffin tin".into(), &"230 C / 210 C fan".into()), "{line}");
    }
    let parts =
        formula(&["Filling: 900 g apples (prepared weight 700 g); 75 g sugar; juice ½ lemon", "Crumble: 180 g flour; 110 g butter"]);
    let lines = |at: usize| parts["parts"][at]["lines"].as_array().map(Vec::len);
    assert_eq!((&parts["parts"][0]["name"], lines(0), lines(1)), (&"filling".into(), Some(3), Some(2)));
    assert_eq!(parts["parts"][0]["lines"][0]["amount"], "700 g");
    gives("Flour 500g / Water 300g / Salt 10g", &[("500 g", "all-purpose flour"), ("300 g", "water"), ("10 g", "table salt")]);
    // What nobody counts so is asked back, and not passed over.
    assert_eq!(ask(&["One pound of butter, ten eggs, one nutmeg grated"]).lines[0].state, LineState::Unread);
    let squares = formula(&["200 g flour", "Makes 16 squares ~ 20cm square tin ~ 170°C fan ~ 25–30 min"]);
    assert_eq!((&squares["pan"], &squares["bake"]["minutes"]), (&"20cm square tin".into(), &"25-30 min".into()));
    let lamingtons = formula(&["200 g flour", "Lamington pan 20x30cm; 180C/160C fan-forced; 25 min; cut into 15"]);
    assert_eq!((&lamingtons["pan"], &lamingtons["makes"]["pieces"]), (&"Lamington pan 20x30cm".into(), &15.into()));
    let brandy = ask(&["6 eggs, 3/4 oz caraway seeds, a wineglassful of brandy"]).lines.remove(0);
    assert!(brandy.state == LineState::Unread && brandy.detail.is_some_and(|detail| detail.contains("made in every size")));
}

#[test]
fn two_steps_that_bake_are_not_taken_for_one() {
    let lines = ["200 g flour", "Method", "Bake the crust 10 minutes at 325 F. Cool.", "Bake the cheesecake for 1 hr 15 min."];
    let answer = ask(&lines);
    let said = serde_json::to_value(&answer.formula).unwrap_or_default();
    assert_eq!((&said["bake"]["oven"], &said["bake"]["minutes"]), (&"325 F".into(), &serde_json::Value::Null));
    assert_eq!(answer.lines[3].state, LineState::Doubtful);
    assert!(answer.lines[2].matched.iter().all(|matched| matched.at.as_deref() != Some("/formula/bake/minutes")));
    // What stands above the ingredients is what is meant.
    assert_eq!(formula(&["Bake: 60 min", "200 g flour", "Method", "Bake 55-65 minutes."])["bake"]["minutes"], "60 min");
    let rolls = formula(&["200 g flour", "Yields 9 rolls; 8\" square pan; 350F convection/375F regular; 20-22 min"]);
    assert_eq!((&rolls["bake"]["oven"], &rolls["bake"]["minutes"]), (&"375 F / 350 F fan".into(), &"20-22 min".into()));
}

#[test]
fn what_is_left_and_what_is_used_of_a_thing_is_read() {
    let of = |line: &str| ask(&[line]).formula.into_iter().flat_map(|formula| formula.parts).flat_map(|part| part.lines).next();
    let bananas = of("3 large overripe bananas (peeled weight 300g)");
    assert_eq!(bananas.and_then(|made| made.also).as_deref(), Some("300 g"));
    gives("3/4 cup (170g) unsalted butter melted & cooled 5 minutes", &[("3/4 cup", "unsalted butter")]);
    gives("leaves from 2 sprigs rosemary", &[("2 sprigs", "fresh rosemary")]);
    gives("pulp of 3 passion fruit", &[("3 pieces", "passion fruit")]);
    let eggs = &ask(&["2 eggs, beaten with enough milk to make up to 300ml"]).lines[0];
    assert_eq!((eggs.state, &*eggs.attempts), (LineState::Doubtful, &["whole milk".to_owned()][..]));
    gives("2 cups GF flour blend *with* xanthan gum", &[("2 cups", "gluten-free flour blend")]);
    // An oven is no amount of cups.
    assert!(ask(&["Sunflower oil. 230C"]).formula.is_none());
}

#[test]
fn a_number_without_a_unit_is_asked_back() {
    let answer = ask(&["Milk 250"]);
    assert_eq!(answer.lines[0].state, LineState::Unread);
    assert_eq!(answer.lines[0].attempts, ["250 g whole milk", "250 ml whole milk"]);
}

#[test]
fn a_label_before_a_list_is_the_name_of_a_part() {
    let names = |lines: &[&str]| -> Vec<(String, usize)> {
        let parts = ask(lines).formula.into_iter().flat_map(|formula| formula.parts);
        parts.map(|part| (part.name, part.lines.len())).collect()
    };
    let is = |name: &str, lines: usize| (name.to_owned(), lines);
    let choux = ["CRAQUELIN: 50g soft butter | 60g light brown sugar | 60g flour", "CREAM: 500g milk | 1 vanilla bean | 100g yolks"];
    assert_eq!(names(&choux), [is("craquelin", 3), is("cream", 3)]);
    let stollen = ["Fruit (soak overnight): 200 g raisins, 60 ml dark rum", "To finish: 75 g melted butter, icing sugar to dust"];
    assert_eq!(names(&stollen), [is("fruit", 2), is("finish", 1)]);
    assert_eq!(names(&["Flour: 250 g", "Milk: 100 g"]), [is("main", 2)]);
    // What is to be done is no name.
    assert_eq!(names(&["Cream together: 1 c. butter, 1 c. sugar", "Add: 2 eggs, 1 tsp. vanilla"]), [is("main", 4)]);
    let sponge = ["Sponge", "100 g flour", "100 ml water", "Dough", "Sponge (all of it)", "300 g flour"];
    assert_eq!(names(&sponge), [is("sponge", 2), is("dough", 1)]);
    assert_eq!(names(&["Poolish", "100 g flour", "Main dough", "Poolish", "300 g flour"]), [is("poolish", 1), is("main dough", 1)]);
}

#[test]
fn what_an_assistant_says_around_a_formula_is_no_part_of_it() {
    let lines = [
        "Here's a simple recipe for fluffy pancakes:",
        "**Ingredients:**",
        "- 190 g flour",
        "**Instructions:**",
        "1. Soak the dates in 100 ml water for 10 min.",
        "**Tips:**",
        "- For extra fluffy pancakes, let the batter rest for 5 minutes.",
        "Enjoy!",
    ];
    let answer = ask(&lines);
    let parts: Vec<_> = answer.formula.iter().flat_map(|formula| &formula.parts).map(|part| (&*part.name, part.lines.len())).collect();
    assert_eq!(parts, [("main", 1)], "{:?}", answer.lines);
    assert!([0, 1, 3, 5, 6, 7].iter().all(|at| answer.lines[*at].state == LineState::Understood), "{:?}", answer.lines);
}

#[test]
fn minutes_are_no_number_of_dates() {
    let answer = ask(&["200 g flour", "Soak dates in the water with the bicarb for 10 min."]);
    assert_eq!(answer.formula.map(|formula| formula.parts[0].lines.len()), Some(1));
    assert_eq!(formula(&["200 g flour", "20cm x 30cm tin lined w baking parchment. 160 fan, 25 min."])["bake"]["minutes"], "25 min");
    for (line, pan) in [
        ("7\" flan ring, Gas 5 / 375°F / 190°C 25-30 mins", "7\" flan ring"),
        ("Butter a 1.2 litre ovenproof dish.", "1.2 litre ovenproof dish"),
    ] {
        assert_eq!(formula(&["200 g flour", line])["pan"], pan, "{line}");
    }
    let cake = formula(&["RICH FRUIT CAKE (20cm/8in round)", "200 g flour"]);
    assert_eq!((&cake["name"], &cake["pan"]), (&"RICH FRUIT CAKE".into(), &"20cm/8in round tin".into()));
    assert_eq!(ask(&["1000g \"00\" flour (100%)"]).lines[0].state, LineState::Understood);
}

#[test]
fn a_pan_before_its_oven_is_no_tin_of_food() {
    let said = formula(&["200 g flour", "Six 150ml ramekins, 150C/130 fan/gas 2, 20–30 min in a bain marie"]);
    assert_eq!((&said["pan"], &said["bake"]["oven"]), (&"Six 150ml ramekins".into(), &"150 C / gas mark 2 / 130 C fan".into()));
    let loaf = formula(&["200 g flour", "Loaf tin 25 cm, 180 °C (top/bottom heat) approx. 60 min"]);
    assert_eq!((&loaf["pan"], &loaf["bake"]["minutes"]), (&"Loaf tin 25 cm".into(), &"60 min".into()));
    let tea = formula(&["200 g flour", "Soak the fruit overnight. Next day heat the oven to 150°C (130°C fan), gas mark 2."]);
    assert_eq!(tea["bake"]["oven"], "150 C / gas mark 2 / 130 C fan");
    assert_eq!(formula(&["Formula: Multigrain bread", "200 g flour"])["name"], "Multigrain bread");
    for (line, pieces, each) in [
        ("Makes two 1 lb loaves", Some(2), Some("1 lb")),
        ("This recipe makes 12 muffins.", Some(12), None),
        ("12 muffins", Some(12), None),
        ("Makes 900 g dough", None, None),
    ] {
        let makes = formula(&["200 g flour", line])["makes"].clone();
        assert_eq!((makes["pieces"].as_u64(), makes["each"].as_str()), (pieces, each), "{line}");
    }
    assert_eq!(formula(&["200 g flour", "Temperature: 180°C"])["bake"]["oven"], "180 C");
    assert!(formula(&["200 g flour", "Temperature: 24°C"])["bake"].is_null());
    for aside in ["2 baking sheets", "Scale 22 x 800 g", "Butter for ramekins"] {
        assert_eq!(ask(&["200 g flour", aside]).lines[1].state, LineState::Understood, "{aside}");
    }
}

#[test]
fn a_heading_may_be_shouted_before_a_bracket_or_open_with_ingredients_for() {
    let names = |lines: &[&str]| -> Vec<String> {
        ask(lines).formula.into_iter().flat_map(|formula| formula.parts).map(|part| part.name).collect()
    };
    let pie = ["Pie", "SHORTCRUST (makes enough for one 23 cm round tin)", "225g flour", "LEMON FILLING", "60g cornflour"];
    assert_eq!(names(&pie), ["shortcrust", "lemon filling"]);
    assert_eq!(formula(&pie)["pan"], "one 23 cm round tin");
    let cake = ["Ingredients for the biscuit base", "80g butter", "Ingredients for the filling", "600g cream cheese"];
    assert_eq!(names(&cake), ["biscuit base", "filling"]);
    let eclairs = ["For 20 éclairs:", "250 ml water"];
    assert_eq!((&names(&eclairs)[..], &formula(&eclairs)["makes"]["pieces"]), (&["main".to_owned()][..], &20.into()));
    assert_eq!(formula(&["Pumpkin Pie Filling", "2 eggs"])["name"], "Pumpkin Pie Filling");
    let blind = formula(&["200 g flour", "Bake pastry blind 15 min at 200C. Fill; top with meringue; bake 170C 20-25 min."]);
    assert_eq!((&blind["bake"]["oven"], &blind["bake"]["minutes"]), (&"170 C".into(), &"20-25 min".into()));
    gives("3 leaves gelatine (silver)", &[("3 silver sheets", "sheet gelatin")]);
}

#[test]
fn one_strange_name_costs_the_rest_of_a_list_nothing() {
    let answer = ask(&["Pie", "Filling: 500 g zzyzx (peeled, cored), 250 g blackberries, 100 g sugar"]);
    let parts: Vec<_> = answer.formula.iter().flat_map(|formula| &formula.parts).map(|part| (&*part.name, part.lines.len())).collect();
    assert_eq!((&parts[..], answer.lines[1].state), (&[("filling", 2)][..], LineState::Unread));
    gives("500 g bread flour W260", &[("500 g", "bread flour")]);
}

#[test]
fn ovens_by_a_fraction_and_pans_with_their_size_behind_are_read() {
    let meringue = formula(&["4 egg whites", "110C/fan 100C/gas ¼, 1½–1¾ hrs. Makes 16"]);
    assert_eq!((&meringue["bake"]["oven"], &meringue["makes"]["pieces"]), (&"110 C / gas mark ¼ / 100 C fan".into(), &16.into()));
    let staged = ask(&["200 g flour", "Fan oven 160C/conventional 180C/gas 4, 10 min; then fan 90C for 25 min"]);
    assert_eq!(staged.lines[1].state, LineState::Doubtful);
    let pan = formula(&["200 g flour", "Bake 375 F for 45 min in greased loaf pan (9x5)"]);
    assert_eq!((&pan["pan"], &pan["bake"]["minutes"]), (&"greased loaf pan (9x5)".into(), &"45 min".into()));
    assert_eq!(formula(&["Larkrise Christmas pudding (2 pt basin)", "200 g flour"])["name"], "Larkrise Christmas pudding");
}

#[test]
fn what_it_makes_stands_beside_the_oven_or_the_scale() {
    let said = |line: &str| formula(&["200 g flour", line]);
    for (line, oven, minutes, pieces) in [
        ("225 C, 8-10 min, 40 buns", "225 C", "8-10 min", 40),
        ("40 buns, 225 C, 8-10 min", "225 C", "8-10 min", 40),
        ("180 C, 25 min, 12 muffins", "180 C", "25 min", 12),
    ] {
        let said = said(line);
        let found = (&said["bake"]["oven"], &said["bake"]["minutes"], &said["makes"]["pieces"]);
        assert_eq!(found, (&oven.into(), &minutes.into(), &pieces.into()), "{line}: {said}");
    }
    for (line, pieces, each) in [("Scaling weight 880 g, 47 loaves", 47, "880 g"), ("Scale 80 g each, 12 pieces", 12, "80 g")] {
        let said = said(line);
        assert_eq!((&said["makes"]["pieces"], &said["makes"]["each"]), (&pieces.into(), &each.into()), "{line}: {said}");
    }
    let sheets = said("2 half sheet pans, 220 °C, 7 min");
    assert_eq!((&sheets["pan"], &sheets["bake"]["minutes"]), (&"2 half sheet pans".into(), &"7 min".into()));
    let loaf = said("8x4 loaf, 350, 55-60 mins");
    let found = (&loaf["pan"], &loaf["bake"]["oven"], &loaf["bake"]["minutes"]);
    assert_eq!(found, (&"8x4 loaf".into(), &"350 F".into(), &"55-60 min".into()));
    assert_eq!(ask(&["200 g flour", "Dough weight | | 41.7"]).lines[1].state, LineState::Understood);
}

#[test]
fn a_title_is_one_though_the_table_sells_the_goods_and_says_how_many_there_are() {
    for (title, name, pieces) in [
        ("Croissants (batch of 16)", "Croissants", Some(16)),
        ("Naan x 8", "Naan", Some(8)),
        ("Grandma's Pie Crust (2 crusts)", "Grandma's Pie Crust", Some(2)),
        ("Bagels ×12", "Bagels", Some(12)),
        ("Angel food cake", "Angel food cake", None),
        ("Candied Orange Peel", "Candied Orange Peel", None),
        ("White loaf - formula", "White loaf", None),
        ("100% hydration poolish baguettes", "100% hydration poolish baguettes", None),
        ("Country loaf (baker's %)", "Country loaf", None),
        ("Cake 9 x 13", "Cake 9 x 13", None),
    ] {
        let said = formula(&[title, "500 g bread flour"]);
        let lines = said["parts"][0]["lines"].as_array().map_or(0, Vec::len);
        assert_eq!((&said["name"], said["makes"]["pieces"].as_u64(), lines), (&name.into(), pieces, 1), "{title}: {said}");
    }
}

#[test]
fn what_lies_in_a_tin_is_none_of_it_and_a_size_may_stand_behind_a_dish() {
    let said = |line: &str| formula(&["200 g flour", line]);
    for (line, pan, minutes) in [
        ("Makes 12 buns in a 23 cm square tin, 200°C, 20-25 mins", "23 cm square tin", "20-25 min"),
        ("Bake at 180 C for 45 minutes in an ovenproof dish 20 x 20 cm", "ovenproof dish 20 x 20 cm", "45 min"),
        ("Deep 22cm round; 160C/140C fan-forced 1¾ hours", "22cm round pan", "105 min"),
    ] {
        let said = said(line);
        assert_eq!((&said["pan"], &said["bake"]["minutes"]), (&pan.into(), &minutes.into()), "{line}: {said}");
    }
    let trays = said("180 C 20 min, 2 baking trays");
    assert_eq!((&trays["bake"]["oven"], &trays["bake"]["minutes"]), (&"180 C".into(), &"20 min".into()));
    let meringue = said("Dry at 100 C for 1.5 hrs");
    assert_eq!((&meringue["bake"]["oven"], &meringue["bake"]["minutes"]), (&"100 C".into(), &"90 min".into()));
}

#[test]
fn a_list_loses_no_ingredient_whose_kind_is_open_and_makes_no_kind_of_its_flavour() {
    let lines = |line: &str| {
        let said = formula(&["200 g flour", line]);
        let parts = said["parts"].as_array().cloned().unwrap_or_default();
        let all = parts.iter().flat_map(|part| part["lines"].as_array().cloned().unwrap_or_default());
        all.skip(1).map(|line| line["ingredient"].as_str().unwrap_or_default().to_owned()).collect::<Vec<_>>()
    };
    let sauce = lines("Sauce: 250 ml cream, 125 ml butter, 125 ml sugar, 60 ml hot water, 5 ml vanilla");
    assert_eq!(sauce, ["heavy cream", "unsalted butter", "granulated sugar", "water", "vanilla extract"]);
    assert_eq!(lines("Custard: 600 ml milk, 4 eggs, 75 g sugar, vanilla"), ["whole milk", "egg", "granulated sugar"]);
    assert_eq!(lines("75 g sugar, vanilla"), ["vanilla sugar"]);
    assert_eq!(lines("Filling - 25 g melted butter, 115 g sultanas"), ["melted unsalted butter", "golden raisins"]);
    assert_eq!(formula(&["200 g flour", "Filling - 25 g melted butter, 115 g sultanas"])["parts"][1]["name"], "filling");
}

#[test]
fn one_line_tells_the_unit_of_all() {
    let said = formula(&["Almond filling", "butter 100", "icing sugar 100", "eggs 100", "rum 12.5", "(all in grams)"]);
    let amounts: Vec<_> = said["parts"][0]["lines"].as_array().into_iter().flatten().map(|line| line["amount"].clone()).collect();
    assert_eq!(amounts, ["100 g", "100 g", "100 g", "12.5 g"]);
    assert_eq!(ask(&["butter 100", "rum 10"]).lines[0].state, LineState::Unread);
}

#[test]
fn a_number_in_the_bracket_of_a_title_is_none_of_the_goods() {
    for (title, name) in [
        ("Puff pastry (6 single turns)", "Puff pastry"),
        ("Ciabatta: biga (100% = 1000 g flour in all)", "Ciabatta: biga (100% = 1000 g flour in all)"),
    ] {
        let said = formula(&[title, "500 g bread flour"]);
        assert_eq!((&said["name"], said["parts"][0]["lines"].as_array().map(Vec::len)), (&name.into(), Some(1)), "{said}");
    }
    // Sheets of it are bought.
    assert_eq!(formula(&["Puff pastry (320 g)", "2 eggs"])["parts"][0]["lines"].as_array().map(Vec::len), Some(2));
}

#[test]
fn hours_with_minutes_behind_them_are_both_and_no_oven_is_lost_behind_a_tin_without_a_shape() {
    let bake = |line: &str| formula(&["200 g flour", line])["bake"].clone();
    for (line, minutes) in [
        ("100 C fan, 1 hr 30", "90 min"),
        ("Bake at 180 C for 1h30", "90 min"),
        ("Bake at 180 C for 1 hour 15 minutes", "75 min"),
        ("Bake at 180 C for 1 hour, 20 cm round tin", "60 min"),
        ("20cm deep round tin. 160C/fan 140C/gas 3. 1¾-2 hrs", "105-120 min"),
    ] {
        assert_eq!(bake(line)["minutes"], minutes, "{line}");
    }
    let told = bake("2 x 20 cm tins, 170 C fan, 30-35 min");
    assert_eq!((&told["oven"], &told["minutes"]), (&"170 C".into(), &"30-35 min".into()));
}

#[test]
fn a_list_with_bars_loses_neither_its_water_nor_a_flour_with_a_number_in_its_name() {
    let answer = ask(&["Poolish: T65 330 g / water 330 g / yeast 0.5 g", "Dough: T65 670 g / water 340 g / salt 18 g / fresh yeast 7 g"]);
    assert_eq!(answer.lines[0].state, LineState::Unread, "{:?}", answer.lines[0]);
    let said = serde_json::to_value(&answer.formula).unwrap_or_default();
    let of = |part: usize| said["parts"][part]["lines"].as_array().map_or(0, Vec::len);
    assert_eq!((of(0), of(1)), (2, 4), "{said}");
    let card = formula(&["8 ozs. S.R. flour", "1 dessertsp. milk", "Reg. 6, 15 mins. Makes 1 doz."]);
    assert_eq!((&card["bake"]["oven"], &card["bake"]["minutes"]), (&"gas mark 6".into(), &"15 min".into()));
    assert_eq!((card["parts"][0]["lines"].as_array().map(Vec::len), &card["makes"]["pieces"]), (Some(2), &12.into()));
    let katori = ask(&["1 katori maida"]).lines.remove(0);
    assert!(katori.detail.is_some_and(|detail| detail.contains("made in every size")));
}
