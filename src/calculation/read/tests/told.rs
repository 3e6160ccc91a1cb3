//! What is told twice, and what is told of one thing in two ways.

use super::{ask, gives};
use crate::formula::LineState;

fn formula(lines: &[&str]) -> serde_json::Value {
    serde_json::to_value(ask(lines).formula).unwrap_or_default()
}

#[test]
fn a_tin_that_is_filled_is_no_piece_where_pieces_are_told() {
    let pieces = |lines: &[&str]| formula(&[&["200 g flour"][..], lines].concat())["makes"]["pieces"].clone();
    for lines in [
        &["Makes one 9 inch square tin, cuts into 16"][..],
        &["Makes one 9 inch square tin", "Cuts into 16"],
        &["Cuts into 16", "Makes one 9 inch square tin"],
        &["Makes 16 squares in a 9 inch square tin"],
    ] {
        assert_eq!(pieces(lines), 16, "{lines:?}");
        let told: Vec<_> = ask(&[&["200 g flour"][..], lines].concat()).owed.assumptions.into_iter().map(|told| told.text).collect();
        assert!(!told.iter().any(|text| text.contains("pieces")), "{told:?}");
    }
    assert_eq!(pieces(&["Makes two 8 inch tins"]), 2);
    assert_eq!(pieces(&["Makes 1 loaf, cuts into 12 slices"]), 1);
}

#[test]
fn what_is_shared_out_is_no_other_number_of_what_is_baked() {
    for lines in [&["Makes 1 loaf", "Cuts into 12 slices"][..], &["Makes 1 loaf", "Serves 12"], &["Makes one 9 inch cake", "12 servings"]] {
        let answer = ask(&[&["200 g flour"][..], lines].concat());
        assert_eq!(answer.lines[2].state, LineState::Understood, "{:?}", answer.lines[2]);
        let told = answer.lines[2].detail.clone().unwrap_or_default();
        assert!(told.contains("makes 1, shared out into 12"), "{told}");
        assert_eq!(answer.formula.and_then(|formula| formula.makes).and_then(|makes| makes.pieces), Some(1), "{lines:?}");
    }
    for line in ["Makes 1 loaf, cuts into 12 slices", "Makes 1 loaf (serves 12)", "Makes 1 loaf (12 slices)"] {
        let answer = ask(&["200 g flour", line]);
        assert!(answer.owed.assumptions.iter().any(|told| told.text.contains("12")), "{line}: {:?}", answer.owed.assumptions);
    }
    // Two numbers of the same are still told apart.
    assert_eq!(ask(&["200 g flour", "Makes 12 buns", "Makes 10 buns"]).lines[2].state, LineState::Doubtful);
}

#[test]
fn a_number_told_in_words_and_figures_is_one_number() {
    gives("one (1) cup milk", &[("1 cup", "whole milk")]);
    gives("two (2) eggs", &[("2 eggs", "egg")]);
    gives("2 (two) cups sugar", &[("2 cups", "granulated sugar")]);
    gives("one (8 oz) package cream cheese", &[("8 oz", "cream cheese")]);
}

#[test]
fn what_is_fresh_is_not_taken_for_what_is_dried() {
    gives("1 tbsp fresh oregano, chopped", &[("1 tbsp", "fresh oregano")]);
    gives("6 sage leaves", &[("6 leaves", "fresh sage")]);
    gives("2 sprigs fresh tarragon", &[("2 sprigs", "fresh tarragon")]);
    gives("1 tsp dried oregano", &[("1 tsp", "dried oregano")]);
    for line in ["100 g fresh currants", "1 tsp fresh lavender", "10 g fresh turmeric"] {
        let answer = ask(&[line]);
        assert_eq!(answer.lines[0].state, LineState::Doubtful, "{line}: {:?}", answer.lines);
    }
}

#[test]
fn a_line_of_a_web_page_is_read_by_its_letters() {
    gives("1&frac12;&nbsp;cups all-purpose flour", &[("1½ cups", "all-purpose flour")]);
    gives("<li>200 g sugar</li>", &[("200 g", "granulated sugar")]);
    let formula = formula(&["Pear &amp; ginger pudding", "200 g flour", "350&deg;F for 30&ndash;35 min"]);
    assert_eq!((&formula["name"], &formula["bake"]["minutes"]), (&"Pear & ginger pudding".into(), &"30-35 min".into()));
}

#[test]
fn a_hand_in_a_hurry_is_read() {
    gives("200 g dark choc", &[("200 g", "bittersweet chocolate")]);
    gives("12 oz gran. sugar", &[("12 oz", "granulated sugar")]);
    gives("7 fl oz milk approx", &[("7 fl oz", "whole milk")]);
    gives("1 ea vanilla bean, split + scraped", &[("1", "vanilla bean")]);
    gives("ca 14 dl wheat flour", &[("14 dl", "all-purpose flour")]);
    let choice = ask(&["225g plain flour (or use self-raising and 2 tsp less baking powder)"]);
    assert_eq!(choice.lines[0].state, LineState::Understood, "{:?}", choice.lines);
    let named = formula(&["Lamingtons (Aussie 20 ml tablespoons)", "2 tbsp milk"]);
    assert_eq!((&named["name"], &named["measures"]), (&"Lamingtons (Aussie 20 ml tablespoons)".into(), &"australia".into()));
    let choux = formula(&["Choux", "140 g flour", "Craquelin", "90 g brown sugar"]);
    assert_eq!((&choux["parts"][0]["name"], &choux["parts"][1]["name"]), (&"main".into(), &"craquelin".into()));
}

#[test]
fn an_amount_that_may_be_nothing_stands_in_no_formula() {
    let answer = ask(&["500 g flour", "0-5 g salt"]);
    assert_eq!((answer.lines[1].state, answer.formula.map(|formula| formula.parts[0].lines.len())), (LineState::Unread, Some(1)));
}

#[test]
fn things_are_counted_whatever_stands_between_the_number_and_the_name() {
    gives("1 whole egg & 2 yolks", &[("1 egg", "egg"), ("2 yolks", "egg yolk")]);
    gives("1 cup half & half", &[("1 cup", "half-and-half")]);
    gives("Eggs (large) x 2", &[("2 large", "egg")]);
    gives("4 ex-large eggs", &[("4 extra-large", "egg")]);
    gives("1 stk butter", &[("1 stk", "unsalted butter")]);
    gives("2 tsp. b.p.", &[("2 tsp.", "baking powder")]);
    let tin = ask(&["1 small tin (170 g) evaporated milk"]);
    let made = tin.formula.map(|formula| formula.parts[0].lines[0].also.clone());
    assert_eq!((made, tin.lines[0].state), (Some(Some("170 g".to_owned())), LineState::Understood), "{:?}", tin.lines);
}

#[test]
fn a_great_number_behind_a_name_may_be_its_grams() {
    for (line, state) in
        [("Egg yolks 220", LineState::Doubtful), ("Eggs 3", LineState::Understood), ("Egg whites 12", LineState::Understood)]
    {
        assert_eq!(ask(&[line]).lines[0].state, state, "{line}");
    }
}

#[test]
fn goods_that_are_made_may_be_the_title() {
    for (title, line) in
        [("Marshmallow", "21 g gelatin powder"), ("Puff pastry (inverse)", "300 g bread flour"), ("Fudge", "450 g demerara sugar")]
    {
        assert!(formula(&[title, line])["name"].is_string(), "{title}");
    }
    gives("500 g filo (1 pkt)", &[("500 g", "phyllo dough")]);
    for line in ["500 g filo (1 pkt)", "1 1/2 cups graham cracker crumbs (abt 10 full sheets)"] {
        assert_eq!(ask(&[line]).lines[0].state, LineState::Understood, "{line}");
    }
    gives("1 1/2 c. packed br. sugar", &[("1 1/2 cups", "light brown sugar")]);
    gives("55 g aged whites", &[("55 g", "egg white")]);
    assert_eq!(formula(&["100 g flour", "makes ± 60 shells"])["makes"]["pieces"], 60);
    assert!(ask(&["3 parts flour"]).lines[0].detail.as_deref().is_some_and(|told| told.contains("what one part weighs")));
}

#[test]
fn what_is_creamed_in_the_method_is_no_cream() {
    let answer = ask(&["200 g butter", "200 g sugar", "Method", "2. Cream 200g butter and sugar 5 min.", "200 g flour"]);
    assert_eq!(answer.lines[3].state, LineState::Understood, "{:?}", answer.lines[3]);
    let parts = answer.formula.map(|formula| formula.parts).unwrap_or_default();
    assert!(parts.iter().flat_map(|part| &part.lines).all(|line| !line.ingredient.contains("cream")));
}

#[test]
fn a_word_that_the_table_has_is_no_slip() {
    for line in ["30 g dark syrup", "3 parts flour"] {
        assert_eq!(ask(&[line]).lines[0].state, LineState::Unread, "{line}");
    }
    gives("1/2 tsp ground cinammon", &[("1/2 tsp", "ground cinnamon")]);
    gives("3 new-laid eggs", &[("3 eggs", "egg")]);
    gives("7 pineapple rings, drained", &[("7 rings", "drained canned pineapple")]);
    gives("1 tsp c.o.t.", &[("1 tsp", "cream of tartar")]);
    assert_eq!(ask(&["2 ozs. peel"]).lines[0].state, LineState::Doubtful);
}

#[test]
fn nothing_in_the_middle_of_a_list_is_lost() {
    let answer = ask(&["Dough: 300 g rye sour (100 % hyd.), 350 g wholegrain zzyzx, 50 g wheat flour, 250 g dark beer"]);
    assert_eq!((answer.lines[0].matched.len(), answer.lines[0].state), (4, LineState::Unread), "{:?}", answer.lines);
}

#[test]
fn a_name_may_open_with_a_number() {
    gives("Half-and-half 240 ml", &[("240 ml", "half-and-half")]);
    gives("five-spice powder: 2 tsp", &[("2 tsp", "five-spice powder")]);
    gives("10x sugar 100 g", &[("100 g", "powdered sugar")]);
}

#[test]
fn morello_and_extract_are_no_more_and_no_extra() {
    for (line, second) in [
        ("200 g caster sugar, 100 g morello cherries, 50 g water", "sour cherry"),
        ("200 g caster sugar, 100 g extra strong flour, 50 g water", "high-gluten flour"),
        ("200 g caster sugar, 10 g extract, vanilla, 50 g water", "vanilla extract"),
    ] {
        let lines = formula(&[line])["parts"][0]["lines"].clone();
        assert_eq!((&lines[1]["ingredient"], lines.as_array().map(Vec::len)), (&second.into(), Some(3)), "{line}: {lines}");
    }
    gives("500 g bread flour, 2 tbsp extra for dusting", &[("500 g", "bread flour")]);
}

#[test]
fn amounts_of_two_units_are_one_amount_that_every_calculation_reads() {
    for (line, amount) in [
        ("1 lb, 2 oz flour", "1.125 lb"),
        ("1# 2oz flour", "1.125 lb"),
        ("1lb2oz flour", "1.125 lb"),
        ("1 cup & 2 tbsp flour", "1 cup & 2 tbsp"),
        ("1kg500 flour", "1.5 kg"),
        ("Flour 1kg500", "1.5 kg"),
        ("500 g x 2 flour", "1000 g"),
        ("Flour 500 g x 2", "1000 g"),
        ("200/250 g flour", "200/250 g"),
        ("200g-250g flour", "200-250 g"),
        ("1-½ cups flour", "1-½ cups"),
        ("1 lb 2 oz flour", "1 lb 2 oz"),
    ] {
        let made = formula(&[line])["parts"][0]["lines"][0].clone();
        assert_eq!((&made["amount"], made.get("also")), (&amount.into(), None), "{line}");
        let text: crate::quantity::Written = crate::quantity::Written::Text(amount.into());
        assert!(crate::quantity::read_amount(&text, crate::quantity::Measures::Us, &crate::quantity::Pointer::ROOT).is_ok(), "{amount}");
    }
    assert_eq!(ask(&["Flour 2 heaped tablespoons"]).lines[0].state, LineState::Doubtful);
    gives("1 cup → 125 g flour", &[("1 cup", "all-purpose flour")]);
}

#[test]
fn a_sign_or_a_word_of_the_shop_says_no_more_than_the_number() {
    for line in ["6 x eggs", "6x eggs", "x6 eggs", "eggs x6", "6no. eggs", "6 nos eggs", "6 pcs eggs", "6 ea. eggs"] {
        let made = formula(&[line])["parts"][0]["lines"][0].clone();
        assert_eq!(made["ingredient"], "egg", "{line}: {made}");
        assert!(made["amount"].as_str().is_some_and(|amount| amount.starts_with('6')), "{line}: {made}");
    }
    gives("6 x large eggs", &[("6 large", "egg")]);
}

#[test]
fn biscuits_that_go_in_are_not_what_is_made() {
    let answer = ask(&["200 g cream cheese", "10 Zzyzx cookies"]);
    assert_eq!((answer.lines[1].state, answer.formula.is_some_and(|formula| formula.makes.is_none())), (LineState::Unread, true));
    assert_eq!(formula(&["200 g flour", "12 muffins"])["makes"]["pieces"], 12);
}

#[test]
fn a_second_measure_may_stand_behind_the_name() {
    for (line, also) in [("1 1/2 C bread flour 6.75 oz", "6.75 oz"), ("1/2 tsp salt .13 oz", ".13 oz"), ("1 cup water 8 oz", "8 oz")] {
        assert_eq!(formula(&[line])["parts"][0]["lines"][0]["also"], also, "{line}");
    }
    // What is three amounts is not one.
    assert_eq!(ask(&["1 oz. / 1½ oz. / 2 oz. flour"]).lines[0].state, LineState::Doubtful);
    assert_eq!(ask(&["4 oz (100 g) flour"]).lines[0].state, LineState::Understood);
    gives("Eggs ....... 240 à 260 g", &[("240 à 260 g", "egg")]);
    let choux = formula(&["Pâte à choux", "150 g flour", "Crème pâtissière café", "500 g milk"]);
    assert_eq!(choux["parts"][1]["name"], "crème pâtissière café", "{choux}");
}

#[test]
fn what_is_said_behind_a_colon_is_a_remark_where_the_name_stands_before_it() {
    gives("3 tablespoons butter: 2 melted, 1 for the pan", &[("3 tablespoons", "unsalted butter")]);
    let bare = ask(&["Flour      1000  100%"]);
    assert!(bare.lines[0].detail.as_deref().is_some_and(|told| told.contains("has no unit")), "{:?}", bare.lines);
}

#[test]
fn how_warm_a_thing_is_and_how_hot_its_middle_is_no_oven() {
    gives("Water 105F......3 pt", &[("3 pt", "water")]);
    let custard = formula(&["500 g heavy cream", "300F water bath 35-40 min. till 170F"]);
    assert_eq!((&custard["bake"]["oven"], &custard["bake"]["minutes"]), (&"300 F".into(), &"35-40 min".into()));
    assert_eq!(formula(&["3 cans (12 oz ea) evaporated milk"])["parts"][0]["lines"][0]["also"], "36 oz");
    assert_eq!(ask(&["200 g flour", "Fry 375F 90 sec/side"]).lines[1].state, LineState::Understood);
}

#[test]
fn of_two_measures_that_differ_the_one_that_goes_in_is_taken() {
    gives("¼ pt (150ml) milk", &[("150ml", "whole milk")]);
    assert_eq!(ask(&["¼ pt (150ml) milk"]).lines[0].state, LineState::Doubtful);
    let tin = formula(&["1 × 400g tin chickpeas, drained & rinsed (240g drained wt)"])["parts"][0]["lines"][0].clone();
    assert_eq!(tin["amount"], "240 g", "{tin}");
}

#[test]
fn what_stands_in_a_remark_with_its_amount_behind_it_is_told() {
    for line in ["Flour 500 g / sugar 50 g", "Butter 100 g + sugar 50 g", "500 g flour with water 330 g", "500 g flour (water 300 g)"] {
        let told = ask(&[line]).lines.remove(0);
        assert!(told.state == LineState::Doubtful && told.detail.is_some_and(|detail| detail.contains("stands in a remark")), "{line}");
    }
    for line in [
        "115 g brown butter (from 150 g butter)",
        "2 cups flour (spooned, 250 g)",
        "200 g flour / 1⅔ cups flour",
        "50 g sugar, or honey 40 g",
    ] {
        assert!(!ask(&[line]).lines[0].detail.as_ref().is_some_and(|detail| detail.contains("stands in a remark")), "{line}");
    }
}

#[test]
fn a_crust_that_is_baked_ahead_is_told_and_is_not_the_bake() {
    let crust = |line: &str| ask(&["200 g flour", line]).lines[1].detail.clone().unwrap_or_default();
    for (line, ahead) in [
        ("Blind bake at 190 C for 15 minutes.", "15 min at 190 C"),
        (
            "Line a 23cm tart tin. Blind bake at 190C for 15 minutes, then remove the beans and bake 5 minutes more.",
            "15 min at 190 C, then 5 min",
        ),
        ("Bake pastry blind 15 min at 200C. Fill; top with meringue; bake 170C 20-25 min.", "15 min at 200 C"),
    ] {
        let told = format!("A crust is baked ahead, {ahead}: that stays in your method and is not in the formula");
        assert!(crust(line).contains(&told), "{}", crust(line));
    }
}
