//! Formulas as they are written in many kitchens: what stands on a line goes in once, and nothing of it is lost.

use super::*;

/// The second measure of a line.
fn also(line: &str) -> Option<String> {
    ask(&[line]).formula.into_iter().flat_map(|formula| formula.parts).flat_map(|part| part.lines).find_map(|made| made.also)
}

#[test]
fn what_is_taken_of_several_fruits_is_taken_of_each() {
    gives("zest of 1 lemon and 1 orange", &[("1 lemon", "lemon zest"), ("1 orange", "orange zest")]);
    gives("juice of 1 lemon and 2 oranges", &[("1 lemon", "lemon juice"), ("2 oranges", "orange juice")]);
    gives("zest of 1 lemon, juice of 2", &[("1 lemon", "lemon zest"), ("2 lemons", "lemon juice")]);
    gives("grated rind of 1 lemon and juice of half an orange", &[("1 lemon", "lemon zest"), ("0.5 orange", "orange juice")]);
    gives("yolks of 2 eggs and whites of 3", &[("2 eggs", "egg yolk"), ("3 eggs", "egg white")]);
    gives("1 tbsp lemon juice plus zest of 1 lemon", &[("1 tbsp", "lemon juice"), ("1 lemon", "lemon zest")]);
    gives("zest of 1 lemon + 2 tsp juice", &[("1 lemon", "lemon zest"), ("2 tsp", "lemon juice")]);
    gives("juice of 2 lemons, strained", &[("2 lemons", "lemon juice")]);
}

#[test]
fn one_ingredient_counted_and_measured_goes_in_once() {
    gives("3 cups (300 g) grated carrots, about 5 to 6 medium carrots", &[("3 cups", "grated carrot")]);
    let pinched = [("225 g", "unsalted butter"), ("1 pinch", "table salt"), ("6 tbsp", "water")];
    gives("225 g butter, pinch salt, 6 tbsp cold water", &pinched);
    gives("½lb/225g plain flour, pinch of salt", &[("½lb", "all-purpose flour"), ("1 pinch", "table salt")]);
    gives("2 eggs, 1 egg yolk", &[("2 eggs", "egg"), ("1 yolk", "egg yolk")]);
    gives("4 egg whites (60 g eggs)", &[("4 whites", "egg white")]);
    assert_eq!(also("4 egg whites (60 g eggs)"), None);
}

#[test]
fn less_than_one_of_the_larger_measure_is_added_to_it() {
    gives("1 pint 5 fl oz milk", &[("1 pint 5 fl oz", "whole milk")]);
    gives("1 cup 2 tbsp flour", &[("1 cup 2 tbsp", "all-purpose flour")]);
    gives("½ cup 2 tbsp flour", &[("0.625 cup", "all-purpose flour")]);
    for (line, also) in [("1 cup 8 fl oz milk", "8 fl oz"), ("½ cup 4 fl oz milk", "4 fl oz"), ("1 cup 240 ml milk", "240 ml")] {
        assert_eq!(self::also(line).as_deref(), Some(also), "{line}");
    }
}

#[test]
fn what_holds_no_set_amount_is_asked_for_its_weight() {
    for line in
        ["1 punnet strawberries", "2 baskets raspberries", "1 teacup sugar", "a wineglassful of brandy", "1 cup nuts", "1 000 g flour"]
    {
        let told = &ask(&[line]).lines[0];
        assert!(
            told.state == LineState::Unread && told.detail.as_deref().is_some_and(|detail| !detail.contains("not in the table")),
            "{line}: {told:?}"
        );
    }
    gives("1 punnet (250 g) strawberries", &[("250 g", "strawberry")]);
}

#[test]
fn a_tin_that_holds_food_is_no_pan_and_fat_to_fry_in_is_doubted() {
    gives("½ lb loaf sugar, pounded", &[("½ lb", "granulated sugar")]);
    for line in ["1 x 400 g tin flageolets, drained", "2 x 400 g tins hominy"] {
        let told = &ask(&["200 g flour", line]).lines[1];
        assert!(
            told.state == LineState::Unread && told.detail.as_deref().is_some_and(|detail| !detail.contains("pan")),
            "{line}: {told:?}"
        );
    }
    for line in ["2 litres sunflower oil, for deep-frying", "1/4 cup currants, raisins or chopped pecans"] {
        assert_eq!(ask(&[line]).lines[0].state, LineState::Doubtful, "{line}");
    }
    for line in [
        "350 g strong flour, plus more for rolling",
        "1 cup canola or other vegetable oil",
        "250 g flour T55",
        "100 g sugar + a little to sprinkle",
    ] {
        assert_eq!(ask(&[line]).lines[0].state, LineState::Understood, "{line}");
    }
}

#[test]
fn a_part_may_begin_on_the_line_of_its_first_ingredient() {
    let answer = ask(&["200 g flour", "For the glaze: juice of 1½ lemons", "175 g icing sugar", "For the tin: butter and flour"]);
    let parts: Vec<_> = answer.formula.iter().flat_map(|formula| &formula.parts).map(|part| (&*part.name, part.lines.len())).collect();
    assert_eq!(parts, [("main", 1), ("glaze", 2)], "{:#?}", answer.lines);
    assert!(answer.lines[3].detail.as_deref().is_some_and(|detail| detail.contains("Not measured")), "{:?}", answer.lines[3]);
}

/// They are sold too, and stand in the table for a bread pudding.
#[test]
fn goods_alone_on_the_first_line_are_the_title() {
    for title in ["Brioche", "White bread", "Granola", "Croissants", "Gingersnaps"] {
        let answer = ask(&[title, "500 g flour", "300 g milk"]);
        assert_eq!(answer.formula.as_ref().and_then(|formula| formula.name.as_deref()), Some(title), "{:?}", answer.lines);
    }
    let answer = ask(&["Butter", "500 g flour"]);
    assert!(answer.formula.is_some_and(|formula| formula.name.is_none()), "butter without its weight is no title");
    gives("200 g white bread", &[("200 g", "white bread")]);
    gives("6 croissants", &[("6 pieces", "croissant")]);
    let counted = &ask(&["500 g flour", "12 bread rolls"]).lines[1];
    assert!(counted.state == LineState::Doubtful && counted.attempts == ["Makes 12 pieces"], "{counted:?}");
}

#[test]
fn what_stands_beside_is_read_in_many_hands() {
    let said = |line: &str| serde_json::to_value(ask(&["200 g flour", line]).formula).unwrap_or_default();
    for (line, minutes) in [
        ("Bake one hour and a half in a moderate oven", "90 min"),
        ("Bake three quarters of an hour", "45 min"),
        ("180 °C top/bottom heat, 50-60 min", "50-60 min"),
        ("Cook 35 min at 200°C", "35 min"),
        ("Bake 180°C 14'", "14 min"),
        ("Oven: 375°; 35 to 40 minutes", "35-40 min"),
        ("Mark 5, 375F, 190C for 20 mins", "20 min"),
        ("180°C 30-35 minutes (a skewer should come out clean)", "30-35 min"),
        ("425° F - 20/25 min", "20-25 min"),
        ("210°C (no fan), 35-40 minutes, until dark; it must wobble", "35-40 min"),
        ("Reg 3, 325F, 1¾ hrs", "105 min"),
        ("Water bath 160C 60-70 min", "60-70 min"),
    ] {
        assert_eq!(said(line)["bake"]["minutes"], minutes, "{line}");
    }
    assert!(said("Cook the syrup 5 minutes at 118 °C")["bake"].is_null());
    for (line, pan) in [
        ("8 in round or 7 in square cake tin", "8 in round"),
        ("10-inch ungreased tube pan", "10-inch ungreased tube pan"),
        ("Gugelhupf form of 22 cm Ø", "Gugelhupf form of 22 cm Ø"),
    ] {
        assert_eq!(said(line)["pan"], pan, "{line}");
    }
    for (line, each) in [("Makes 2 loaves at 900 g", "900 g"), ("28 brioches of 80 g", "80 g"), ("Makes 12 buns of 60 g each", "60 g")] {
        assert_eq!(said(line)["makes"]["each"], each, "{line}");
    }
    assert_eq!(said("For 12 muffins")["makes"]["pieces"], 12);
    assert!(said("20 digestive biscuits of 15 g")["makes"].is_null(), "the biscuits of a crust are no yield");
    assert!(said("12 medlars of 60 g")["makes"].is_null());
    gives("12 eggs of 60 g", &[("12 eggs", "egg")]);
    gives("Flour.......250 g", &[("250 g", "all-purpose flour")]);
}

#[test]
fn a_bake_in_stages_is_read_whoever_writes_it() {
    for (line, told) in [
        (
            "180C/fan 160C/gas 4 for 10 mins, then 110C/fan 90C/gas 1/4 for 45 mins",
            &["10 min at 180 C / gas mark 4 / 160 C fan", "45 min at 110 C / gas mark 1/4 / 90 C fan"][..],
        ),
        (
            "Oven 230C/Gas 8 for 15 minutes, then 200C/Gas 6 for 30 minutes",
            &["15 min at 230 C / gas mark 8", "30 min at 200 C / gas mark 6"],
        ),
        // In a formula in grams they are those of Celsius.
        ("Oven 210° for 4 min then 180° for 5 min", &["4 min at 210 C", "5 min at 180 C"]),
        // Of which scale they are, nobody says.
        ("Oven 210° for 4 min then 180° for 5 min (1 cup of water in the oven)", &[]),
    ] {
        let answer = ask(&["200 g flour", line]);
        let state = if told.is_empty() { LineState::Doubtful } else { LineState::Understood };
        assert_eq!(answer.lines[1].state, state, "{:?}", answer.lines[1]);
        let stages: Vec<_> = answer.lines[1].matched.iter().filter_map(|stage| stage.amount.as_deref()).collect();
        assert_eq!(stages, told, "{line}");
        let places: Vec<_> = answer.lines[1].matched.iter().filter_map(|stage| stage.at.as_deref()).collect();
        assert_eq!(places, ["/formula/bake", "/formula/bake/then/0"][..told.len()], "{line}");
        let bake = answer.formula.and_then(|formula| formula.bake);
        let kept: Vec<String> = bake.iter().flat_map(|bake| bake.stages()).map(|stage| stage.text()).collect();
        assert_eq!(kept, told, "{line}");
    }
    // The first stage is not the bake, whether the next stands on its line or not.
    for lines in [
        &["200 g flour", "Bake at 425 F for 15 minutes. Reduce temperature to 350 F; bake for 40 to 50 minutes"][..],
        &["200 g flour", "Bake at 425 F for 15 minutes.", "Reduce to 350 F and bake 40 minutes more."],
    ] {
        let answer = ask(lines);
        let told = answer.lines.last().and_then(|line| line.detail.clone()).unwrap_or_default();
        let later =
            answer.formula.and_then(|formula| formula.bake).map(|bake| bake.then.iter().map(|stage| stage.text()).collect::<String>());
        assert!(later.is_some_and(|later| later.starts_with("40") && later.ends_with("min at 350 F")), "{lines:?}");
        assert!(told.contains("15 min at 425 F, then 40"), "{told}");
    }
    // The oven that was heated on a line before is that of the first stage.
    let heated = ask(&["200 g flour", "Preheat the oven to 220 C.", "Bake 10 minutes, reduce to 180 C and bake 25 minutes more."]);
    let told = heated.lines[2].detail.as_deref().unwrap_or_default();
    assert!(told.contains("10 min at 220 C, then 25 min at 180 C"), "{told}");
    for step in
        ["Reduce the heat and simmer 5 minutes", "Reduce the syrup at 105 C by half", "Drop by spoonfuls and bake 30 minutes at 350 F"]
    {
        let answer = ask(&["200 g flour", "Bake at 350 F for 30 minutes", step]);
        assert!(answer.formula.is_some_and(|formula| formula.bake.is_some()), "{step}");
    }
    assert!(ask(&["200 g flour", "Makes a stiff dough"]).formula.is_some_and(|formula| formula.makes.is_none()));
}

#[test]
fn degrees_without_a_scale_are_celsius_where_the_formula_is_metric_and_told() {
    for line in ["Bake at 180 for 30 minutes", "180, 30 min", "Heat the oven to 180°. Bake for 30 minutes.", "20 cm round tin, 180° 30 min"]
    {
        let answer = ask(&["200 g flour", line]);
        let bake = answer.formula.and_then(|formula| formula.bake).unwrap_or_default();
        assert_eq!(bake.oven.map(|oven| oven.as_text().into_owned()).as_deref(), Some("180 C"), "{line}");
        assert_eq!(answer.lines[1].state, LineState::Understood, "{line}: {:?}", answer.lines[1]);
        let told = "180 without a scale is taken as Celsius, for all is weighed in grams";
        assert!(answer.owed.assumptions.iter().any(|assumed| assumed.text == told), "{line}: {:?}", answer.owed.assumptions);
    }
    // How hot the crumb is when it is done is no setting.
    let core = ask(&["200 g flour", "Bake until the core is at 200, 40 minutes"]);
    assert!(core.owed.assumptions.iter().all(|assumed| !assumed.text.contains("Celsius")), "{:?}", core.owed.assumptions);
    // Where it is measured in cups, nobody says; and no cake is baked at 300 C.
    for lines in [["2 cups flour", "Bake at 180 for 30 minutes"], ["200 g flour", "Bake at 300 for 30 minutes"]] {
        let answer = ask(&lines);
        assert_eq!(answer.lines[1].state, LineState::Doubtful, "{:?}", answer.lines[1]);
        assert!(answer.formula.and_then(|formula| formula.bake).is_none_or(|bake| bake.oven.is_none()), "{lines:?}");
    }
}

#[test]
fn numbers_in_a_list_without_units_are_no_eggs() {
    for lines in [&["Flour 100, Egg 50, Sugar 80, Butter 60"][..], &["Flour 100", "Egg 50", "Sugar 80", "Butter 60"]] {
        let answer = ask(lines);
        assert!(answer.formula.is_none(), "{lines:?}");
        assert!(answer.lines.iter().all(|line| line.state == LineState::Unread), "{lines:?}: {:?}", answer.lines);
        let tries: Vec<_> = answer.lines.iter().flat_map(|line| &line.attempts).map(String::as_str).collect();
        assert_eq!(tries, ["100 g all-purpose flour", "50 g egg", "80 g granulated sugar", "60 g unsalted butter"]);
        let told = answer.lines[0].detail.as_deref().unwrap_or_default();
        assert!(told.contains("percentages of the flour") && told.contains("All in grams"), "{told}");
        // As it is told, it is read.
        let grams = ask(&[lines, &["All in grams"]].concat());
        assert_eq!(grams.formula.map(|formula| formula.parts[0].lines.len()), Some(4), "{:?}", grams.lines);
    }
    // Two of them are two, and told; where all can be counted, they are.
    let few = ask(&["Flour 100", "Eggs 2", "Sugar 80"]);
    assert_eq!((few.lines[1].state, few.formula.is_some()), (LineState::Doubtful, true), "{:?}", few.lines[1]);
    assert!(ask(&["Eggs 12", "Lemons 3", "Bananas 7"]).lines.iter().all(|line| line.state == LineState::Understood));
}

#[test]
fn a_percentage_alone_is_offered_in_grams_and_a_bare_column_is_asked_for_its_unit() {
    let tries = |line: &str| ask(&[line]).lines.remove(0).attempts.first().cloned().unwrap_or_default();
    assert_eq!(tries("Water 68%"), "68 g water");
    assert_eq!(tries("Instant yeast 0.4 %"), "0.4 g instant yeast");
    assert_eq!(tries("Buttermilk 110 % 1,100 g"), "Buttermilk 110 % 1100 g");
    assert_eq!(tries("1,100 g buttermilk"), "1100 g buttermilk");
    assert_eq!(tries("1 000 g flour"), "1000 g flour");
    assert_eq!(tries("Flour | 100 | 1000"), "1000 g all-purpose flour");
}

#[test]
fn a_line_is_read_behind_its_mark_and_by_short_words() {
    for (line, amount, ingredient) in [
        ("➡️ 1 cup warm milk", "1 cup", "whole milk"),
        ("🥚 2 eggs", "2 eggs", "egg"),
        ("and 100 g dark chocolate, melted", "100 g", "bittersweet chocolate"),
        ("2 tblspn golden syrup", "2 tblspn", "golden syrup"),
        ("½ tspn bicarb soda", "½ tspn", "baking soda"),
        ("1 even teaspoonful soda", "1 tsp", "baking soda"),
        ("1/2 teaspoonful carb. soda", "1/2 teaspoonful", "baking soda"),
        ("1 t. cream tartar", "1 tsp", "cream of tartar"),
        ("500 g '00' flour", "500 g", "00 flour"),
        ("2 tsp fine salt + flaked salt for topping", "2 tsp", "table salt"),
        ("1 cup, plus 2 tbsp sugar", "1 cup, plus 2 tbsp", "granulated sugar"),
        ("4 oz mixed candied peel", "4 oz", "candied peel"),
        ("1 cup sour milk or buttermilk", "1 cup", "buttermilk"),
    ] {
        let told = ask(&[line]).lines.remove(0);
        assert_eq!((told.state, told.detail), (LineState::Understood, None), "{line}");
        gives(line, &[(amount, ingredient)]);
    }
}

#[test]
fn a_title_stands_between_pictures() {
    let name = |line: &str| ask(&[line, "200 g flour"]).formula.and_then(|formula| formula.name).unwrap_or_default();
    assert_eq!(name("🍌 Best Banana Bread! 🍌"), "Best Banana Bread!");
    assert_eq!(name("**Grandma's Spice Cake** 🎂"), "Grandma's Spice Cake");
    assert_eq!(name("Apple cake for 12 people"), "Apple cake");
    assert_eq!(name("Madeleines - 24 pieces"), "Madeleines");
    assert_eq!(name("Zucchini bread (2 loaves)"), "Zucchini bread");
    assert_eq!(name("Potato rolls"), "Potato rolls");
}

#[test]
fn what_is_made_of_several_is_told_to_be_a_part() {
    let answer = ask(&["200 g vanilla buttercream"]);
    let details: Vec<_> = answer.lines.iter().filter_map(|said| said.detail.as_deref()).collect();
    assert!(details.iter().any(|detail| detail.contains("made of several ingredients")), "{details:?}");
}

#[test]
fn what_is_marked_bold_within_a_line_is_read_as_if_it_were_not() {
    let answer = ask(&["**Yield:** 2 loaves (450 g each)", "- **Flour** – 300 g", "**For the glaze:** 50 g apricot jam"]);
    let parts = answer.formula.iter().flat_map(|formula| &formula.parts);
    assert_eq!(parts.map(|part| (&*part.name, part.lines.len())).collect::<Vec<_>>(), [("main", 1), ("glaze", 1)]);
    let said = serde_json::to_value(&answer.formula).unwrap_or_default();
    assert_eq!((said["makes"]["pieces"].as_u64(), said["makes"]["each"].as_str()), (Some(2), Some("450 g")));
    let wash = [("1 egg", "egg"), ("1 tbsp", "whole milk"), ("1 pinch", "table salt")];
    gives("**Egg wash:** 1 egg + 1 tbsp milk + pinch of salt", &wash);
    // It is brushed on, and none of the dough.
    let washed = ask(&["200 g flour", "Egg wash: 1 egg + 1 tbsp milk"]).formula.into_iter().flat_map(|formula| formula.parts);
    assert_eq!(washed.map(|part| part.name).collect::<Vec<_>>(), ["main", "egg wash"]);
}

#[test]
fn two_that_share_a_volume_are_no_second_measure_of_what_stands_before() {
    let answer = ask(&["One-half cup sugar, one-half cup butter and lard mixed, one cup boiling water"]);
    assert_eq!(answer.lines[0].state, LineState::Unread, "{:?}", answer.lines);
    let lines: Vec<_> =
        answer.formula.iter().flat_map(|formula| &formula.parts[0].lines).map(|line| (&*line.ingredient, &line.also)).collect();
    assert_eq!(lines, [("granulated sugar", &None), ("water", &None)]);
}

#[test]
fn a_starter_and_a_rye_by_their_short_names_are_known() {
    gives("15 g ripe starter", &[("15 g", "sourdough starter")]);
    gives("85 g wholemeal rye", &[("85 g", "dark rye flour")]);
}

#[test]
fn packs_and_spoons_of_one_ingredient_are_one_line() {
    for (line, amount, ingredient) in [
        ("1 stick plus 2 tbsp unsalted butter", "1 stick plus 2 tbsp", "unsalted butter"),
        ("2 sticks and 3 tbsp butter, softened", "2 sticks plus 3 tbsp", "unsalted butter"),
        ("1/2 cup plus 1 stick butter", "1/2 cup plus 1 stick", "unsalted butter"),
        ("1 packet plus 1 tsp instant yeast", "1 packet plus 1 tsp", "instant yeast"),
    ] {
        gives(line, &[(amount, ingredient)]);
        // The other calculations take it.
        let written = crate::quantity::Written::Text(amount.into());
        assert!(crate::quantity::parted(&written, Measures::Us, &Pointer::ROOT).is_some(), "{amount}");
    }
    gives("1 stick + 2 tbsp (142 g) unsalted butter", &[("1 stick plus 2 tbsp", "unsalted butter")]);
    assert_eq!(also("1 stick + 2 tbsp (142 g) unsalted butter").as_deref(), Some("142 g"));
    let told = ask(&["1 stick plus 2 tbsp butter"]).owed.assumptions;
    assert!(told.iter().any(|told| told.text.contains("spoons are those of the US")), "whose spoons stand behind is told");
    // A mass and a volume do not add up, and two lines lose neither.
    gives("100 g plus 2 tbsp sugar", &[("100 g", "granulated sugar"), ("2 tbsp", "granulated sugar")]);
}

#[test]
fn a_mass_behind_a_remark_in_the_same_brackets_is_the_second_measure() {
    assert_eq!(also("3 medium very ripe bananas (about 1 1/4 cups mashed; 300g)").as_deref(), Some("300 g"));
    assert_eq!(also("1 stick butter (softened, 113 g)").as_deref(), Some("113 g"));
}

#[test]
fn a_hot_drink_is_told_and_not_taken_for_the_solid_it_is_made_of() {
    for line in ["1 cup hot chocolate", "1/2 cup hot cocoa", "1 cup good hot chocolate, cooled"] {
        let answer = ask(&[line]);
        assert_eq!((answer.lines[0].state, answer.formula.is_none()), (LineState::Unread, true), "{line}: {:#?}", answer.lines);
    }
}

#[test]
fn a_cake_of_a_size_names_its_tin() {
    for (line, pan) in [
        ("Makes one 20 cm round cake", "one 20 cm round tin"),
        ("Makes two 8 inch square cakes", "two 8 inch square tins"),
        ("Larkrise blondies (9x13)", "9x13 tin"),
        ("Larkrise slab (23 x 33 cm)", "23 x 33 cm tin"),
    ] {
        let answer = ask(&[line, "200 g flour", "100 g butter"]);
        let formula = serde_json::to_value(answer.formula).unwrap_or_default();
        assert_eq!(formula["pan"], pan, "{line}: {:?}", answer.lines);
    }
    // So wide is no cake of many.
    let answer = ask(&["Makes 12 round cakes", "200 g flour"]);
    assert!(answer.formula.is_some_and(|formula| formula.pan.is_none()));
}

#[test]
fn what_stands_behind_a_name_a_fruit_or_a_yield_is_not_lost() {
    gives("Instant yeast .25 oz 1%", &[(".25 oz", "instant yeast")]);
    gives("Salt .5oz", &[(".5oz", "table salt")]);
    let filling = [("4 lemons", "lemon zest"), ("4 lemons", "lemon juice"), ("60 g", "cornstarch"), ("250 ml", "water")];
    gives("zest and juice of 4 lemons, 60 g cornflour, 250 ml water", &filling);
    let answer = ask(&["Yield: 10 pretzels, 4 oz each", "24 oz bread flour"]);
    let makes = answer.formula.and_then(|formula| formula.makes);
    assert_eq!(serde_json::to_value(makes).unwrap_or_default(), serde_json::json!({"pieces": 10, "each": "4 oz"}));
}
