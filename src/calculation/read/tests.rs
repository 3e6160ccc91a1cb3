//! Lines as people write them, each with what stands in it.

mod counted;
mod tables;
mod told;
mod whole;
mod written;

use super::*;
use crate::formula::LineState;

#[track_caller]
fn ask(lines: &[&str]) -> ReadAnswer {
    ask_either(None, Some(lines.iter().map(|line| (*line).to_owned()).collect()))
}

#[track_caller]
fn ask_either(text: Option<String>, lines: Option<Vec<String>>) -> ReadAnswer {
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    let question = ReadQuestion { text, lines, measures: None };
    Read::answer(&question, reference, &mut Account::new(reference, false)).unwrap_or_else(|faults| panic!("{faults:?}"))
}

#[track_caller]
fn gives(line: &str, wanted: &[(&str, &str)]) {
    let answer = ask(&[line]);
    let got: Vec<(String, String)> = answer
        .formula
        .iter()
        .flat_map(|formula| &formula.parts)
        .flat_map(|part| &part.lines)
        .map(|line| (line.amount.clone(), line.ingredient.clone()))
        .collect();
    let got: Vec<(&str, &str)> = got.iter().map(|(amount, name)| (amount.as_str(), name.as_str())).collect();
    assert_eq!(got, wanted, "{line}: {:#?}", answer.lines);
}

#[test]
fn eggs_by_their_weight_in_the_shell_go_in_without_it() {
    for line in ["2 x 59g eggs", "2 eggs (59g each)", "2 59 g eggs"] {
        let answer = ask(&[line]);
        let made = &answer.formula.as_ref().expect(line).parts[0].lines[0];
        assert_eq!((made.also.as_deref(), answer.lines[0].state), (Some("105 g"), LineState::Doubtful), "{line}: {made:?}");
    }
    let said = ask(&["4 large eggs, weighed in their shells (about 240 g)", "250 g eggs in shell"]);
    let made = &said.formula.as_ref().expect("both are read").parts[0].lines;
    assert_eq!((made[0].also.as_deref(), &*made[1].amount), (Some("214 g"), "223 g"), "{made:?}");
    for (line, also) in [("3 large eggs (150 g)", "150 g"), ("2 large eggs (114 g without shells)", "114 g")] {
        let answer = ask(&[line]);
        let made = &answer.formula.as_ref().expect(line).parts[0].lines[0];
        assert_eq!(made.also.as_deref(), Some(also), "{line}");
    }
}

#[test]
fn what_is_taken_from_an_amount_is_not_in_it() {
    gives("1 cup less 1 tbsp plain flour", &[("1 cup less 1 tbsp", "all-purpose flour")]);
    gives("1 cup flour, less 1 tbsp", &[("1 cup less 1 tbsp", "all-purpose flour")]);
    gives("1 cup flour minus 2 tablespoons", &[("1 cup less 2 tablespoons", "all-purpose flour")]);
    gives("1 cup (less 1 tbsp) flour", &[("1 cup less 1 tbsp", "all-purpose flour")]);
    let whole = ask(&["1 tbsp flour less 1 cup"]);
    assert_eq!(whole.lines[0].state, LineState::Unread, "{:?}", whole.lines);
    // Of which the grams are, nobody says.
    let both = ask(&["1 cup (120 g) flour less 2 tbsp"]);
    let made = &both.formula.as_ref().expect("it is read").parts[0].lines[0];
    assert_eq!((made.amount.as_str(), made.also.as_deref(), both.lines[0].state), ("1 cup less 2 tbsp", None, LineState::Doubtful));
}

#[test]
fn the_size_of_eggs_stands_behind_them_too() {
    gives("3 eggs (medium)", &[("3 medium", "egg")]);
    gives("2 Eggs, size M", &[("2 medium", "egg")]);
    gives("2 eggs (L)", &[("2 large", "egg")]);
    gives("3 egg yolks (EU medium)", &[("3 EU medium", "egg yolk")]);
    gives("2 egg whites (from small eggs)", &[("2 small", "egg white")]);
    gives("1 dozen eggs (small)", &[("12 small", "egg")]);
    gives("4 eggs (beaten)", &[("4 eggs", "egg")]);
}

#[test]
fn a_choice_or_a_condition_in_brackets_is_a_remark() {
    gives("1 cup buttermilk (or 1 cup milk + 1 tbsp vinegar)", &[("1 cup", "buttermilk")]);
    gives("1 cup buttermilk, or 1 cup milk plus 1 tbsp lemon juice", &[("1 cup", "buttermilk")]);
    gives("1 cup buttermilk or 1 cup milk plus 1 tbsp lemon juice", &[("1 cup", "buttermilk")]);
    let sweet = ask(&["3/4 cup sugar (1/2 cup if you like it less sweet)"]);
    assert_eq!(sweet.formula.as_ref().expect("it is read").parts[0].lines[0].also, None, "{:?}", sweet.lines);
}

#[test]
fn what_only_a_remark_measures_is_not_passed_over() {
    for line in ["2 tsp instant espresso powder dissolved in 1 tbsp hot water", "1 egg beaten with 1 tbsp milk"] {
        assert_eq!(ask(&[line]).lines[0].state, LineState::Doubtful, "{line}");
    }
    for line in ["1 cup milk (or 1 cup water)", "1 cup walnuts, chopped (about 4 oz)", "2 bananas (about 1 cup mashed)"] {
        assert_eq!(ask(&[line]).lines[0].state, LineState::Understood, "{line}");
    }
}

#[test]
fn a_share_of_an_amount_is_no_second_measure_of_it() {
    let divided = ask(&["1 cup sugar, divided: 3/4 cup for the cake, 1/4 cup for topping"]);
    assert_eq!(divided.formula.as_ref().expect("it is read").parts[0].lines[0].also, None, "{:?}", divided.lines);
    let total = ask(&["5 eggs, 250 g in total"]).formula.expect("it is read");
    assert_eq!(total.parts[0].lines[0].also.as_deref(), Some("250 g"));
}

#[test]
fn ginger_that_is_grated_is_fresh() {
    gives("1 tbsp grated ginger", &[("1 tbsp", "fresh ginger")]);
    gives("1 tbsp finely grated ginger", &[("1 tbsp", "fresh ginger")]);
    gives("1 tsp ginger", &[("1 tsp", "ground ginger")]);
}

#[test]
fn a_bakers_percentage_behind_the_name_is_a_remark() {
    gives("500g strong white bread flour (T45)  100%", &[("500 g", "bread flour")]);
    gives("500 g flour 100 %", &[("500 g", "all-purpose flour")]);
    gives("100 g dark chocolate 70%", &[("100 g", "dark chocolate 70-85%")]);
}

#[test]
fn an_egg_to_glaze_with_is_doubted_as_one_of_the_dough() {
    let states = |line: &str| ask(&[line]).lines[0].state;
    for line in ["1 egg, beaten, to glaze", "1 egg for egg wash", "2 tbsp sugar, for sprinkling"] {
        assert_eq!(states(line), LineState::Doubtful, "{line}");
    }
    for line in ["200 g plain flour + extra for dusting", "250 g plain flour, plus extra for dusting", "butter, for greasing", "2 eggs"] {
        assert_eq!(states(line), LineState::Understood, "{line}");
    }
}

#[test]
fn a_point_that_may_part_thousands_is_doubted() {
    for (line, state) in [
        ("1.000 g flour", LineState::Doubtful),
        ("2.500 ml milk", LineState::Doubtful),
        ("0.500 g saffron", LineState::Understood),
        ("1.125 lb butter", LineState::Understood),
        ("187.125 g flour", LineState::Understood),
        ("2.5 g salt", LineState::Understood),
    ] {
        assert_eq!(ask(&[line]).lines[0].state, state, "{line}");
    }
}

#[test]
fn a_yeast_of_no_kind_is_asked_for_its_kind() {
    for line in ["7 g yeast", "1 packet yeast", "20 g baker's yeast, crumbled"] {
        let read = &ask(&[line]).lines[0];
        assert_eq!(read.state, LineState::Unread, "{line}");
        assert!(read.detail.as_deref().is_some_and(|detail| detail.contains("3 g of fresh yeast")), "{line}: {:?}", read.detail);
        assert_eq!(read.attempts, ["instant yeast", "active dry yeast", "fresh yeast"], "{line}");
    }
}

#[test]
fn both_measures_of_a_line_are_kept_in_either_order() {
    for line in ["1 3/4 cups (180 g) rye flour, sifted", "180 g / 1 3/4 cups rye flour"] {
        let answer = ask(&[line]);
        let made = &answer.formula.as_ref().map(|formula| &formula.parts[0].lines[0]);
        let both = made.map(|made| (made.amount.as_str(), made.also.as_deref()));
        assert!(matches!(both, Some(("1 3/4 cups", Some("180 g")) | ("180 g", Some("1 3/4 cups")))), "{line}: {both:?}");
        assert_eq!(answer.lines[0].state, LineState::Understood);
    }
}

#[test]
fn what_is_taken_from_a_thing_counts_the_thing() {
    gives("zest of 2 lemons", &[("2 lemons", "lemon zest")]);
    gives("juice of half an orange", &[("0.5 orange", "orange juice")]);
    gives("Yolks 2 eggs", &[("2 eggs", "egg yolk")]);
    gives("Grated rind one-half lemon", &[("0.5 lemon", "lemon zest")]);
    gives("finely grated zest and juice of 1 lime", &[("1 lime", "lime zest"), ("1 lime", "lime juice")]);
    gives("3 large eggs, separated", &[("3 large", "egg")]);
    gives("1 stick butter", &[("1 stick", "unsalted butter")]);
    gives("½ tsp each cinnamon and nutmeg", &[("½ tsp", "ground cinnamon"), ("½ tsp", "ground nutmeg")]);
    gives("1 egg plus 1 yolk", &[("1 egg", "egg"), ("1 yolk", "egg yolk")]);
}

#[test]
fn a_line_that_lists_several_loses_none() {
    let flour = ("500 g", "bread flour");
    gives("500g bread flour, 300ml water, 10g salt", &[flour, ("300ml", "water"), ("10 g", "table salt")]);
    gives("2 eggs, 100 g sugar and 100 g cake flour", &[("2 eggs", "egg"), ("100 g", "granulated sugar"), ("100 g", "cake flour")]);
    gives("Bread flour 500 g    Salted butter 125 g", &[flour, ("125 g", "salted butter")]);
    gives("Sugar 125 g    Eggs 2", &[("125 g", "granulated sugar"), ("2 eggs", "egg")]);
    gives("Egg wash: 1 egg + 1 tbsp water", &[("1 egg", "egg"), ("1 tbsp", "water")]);
    gives("1 cup granulated sugar, 200 g, sifted", &[("1 cup", "granulated sugar")]);
    gives("500 g bread flour, 2 tbsp for dusting", &[flour]);
    let bracketed = "1½ cups (210 g) bread flour; 1 tsp baking powder; ½ tsp fine sea salt";
    gives(bracketed, &[("1½ cups", "bread flour"), ("1 tsp", "baking powder"), ("½ tsp", "fine sea salt")]);
    gives("2 x 5 ml spoons baking powder", &[("10 ml", "baking powder")]);
    gives("100 g unsalted butter @ room temp", &[("100 g", "unsalted butter")]);
    gives("2 lg. eggs, well beaten", &[("2 large", "egg")]);
    gives("Salt: pinch", &[("1 pinch", "table salt")]);
    gives("Water 68% 680 g", &[("680 g", "water")]);
    gives("dark chocolate 70% 200 g", &[("200 g", "dark chocolate 70-85%")]);
}

#[test]
fn flour_that_is_sifted_and_then_measured_is_sifted() {
    for (line, way) in [
        ("2 cups flour, sifted then measured", Some(crate::reference::Filled::Sifted)),
        ("2 cups flour, sifted", None),
        ("2 cups flour, measured then sifted", None),
    ] {
        let answer = ask(&[line]);
        assert_eq!(answer.formula.as_ref().expect(line).parts[0].lines[0].filled, way, "{line}");
    }
}

#[test]
fn sifted_before_the_name_is_not_sifted_behind_the_comma() {
    let filled = |line: &str| ask(&[line]).formula.and_then(|formula| formula.parts[0].lines[0].filled);
    assert_eq!(filled("2 cups sifted flour"), Some(crate::reference::Filled::Sifted));
    assert_eq!(filled("2 cups flour, sifted"), None);
}

#[test]
fn a_size_by_likeness_is_refused_with_the_mend() {
    let answer = ask(&["Butter the size of an egg"]);
    assert_eq!(answer.lines[0].state, LineState::Unread);
    assert_eq!(answer.lines[0].attempts.first().map(String::as_str), Some("2 oz unsalted butter"));
}

#[test]
fn a_shouted_line_with_its_amount_behind_is_no_heading() {
    gives("CAKE FLOUR: 250 GR", &[("250 GR", "cake flour")]);
    gives("UNSALTED BUTTER 125 G", &[("125 g", "unsalted butter")]);
    assert!(ask(&["5 g salt", "LAYER 1", "250 g cake flour"]).formula.is_some_and(|formula| formula.parts[1].name == "layer 1"));
}

#[test]
fn the_wet_goes_into_the_dry() {
    let answer =
        ask(&["Muffins", "Dry ingredients:", "200 g cake flour", "Wet ingredients:", "120 ml water", "Icing:", "50 g powdered sugar"]);
    let parts = answer.formula.map(|formula| formula.parts).unwrap_or_default();
    let into: Vec<_> = parts.iter().map(|part| part.into.as_deref()).collect();
    assert_eq!(into, [None, Some("dry ingredients"), None]);
    assert!(answer.owed.assumptions.iter().any(|told| told.text.contains("is mixed into")));
    assert!(answer.lines.iter().all(|line| line.state == LineState::Understood));
}

#[test]
fn a_levain_goes_into_the_dough_unless_the_dough_lists_its_starter() {
    let into = |lines: &[&str]| -> Vec<Option<String>> {
        ask(lines).formula.map(|formula| formula.parts).unwrap_or_default().into_iter().map(|part| part.into).collect()
    };
    let levain =
        ["Country loaf", "Levain", "50 g rye starter", "50 g bread flour", "50 g water", "Dough", "450 g bread flour", "300 g water"];
    assert_eq!(into(&levain), [Some("dough".to_owned()), None]);
    assert_eq!(into(&[&levain[..], &["100 g levain"]].concat()), [None, None]);
    assert_eq!(into(&["Sponge", "4 eggs", "100 g cake flour", "Cookie dough", "100 g butter"]), [None, None]);
}

#[test]
fn a_part_is_called_by_what_is_made_of_it_without_a_colon() {
    let names = |lines: &[&str]| -> Vec<String> {
        ask(lines).formula.map(|formula| formula.parts).unwrap_or_default().into_iter().map(|part| part.name).collect()
    };
    assert_eq!(
        names(&["Streusel muffins", "Streusel", "50 g flour", "Muffins", "190 g flour", "To finish", "20 g icing sugar"]),
        ["streusel", "muffins", "finish"]
    );
    assert_eq!(names(&["Choux pastry", "75 g plain flour", "Creme patissiere", "250 ml whole milk"]), ["main", "creme patissiere"]);
    let pie = ask(&["Pumpkin pie", "Crust:", "150 g flour"]);
    assert_eq!(pie.formula.and_then(|formula| formula.name).as_deref(), Some("Pumpkin pie"));
}

#[test]
fn what_is_for_the_icing_is_doubted_as_mixed_in() {
    let answer = ask(&["300 g cake flour", "240 g powdered sugar, for the icing"]);
    assert_eq!(answer.lines[1].state, LineState::Doubtful, "{:?}", answer.lines);
}

#[test]
fn a_heaped_spoon_is_doubted_wherever_the_word_stands() {
    for line in ["1 heaped tsp baking powder", "1 tsp heaped baking powder", "1 tsp, heaped, baking powder", "1 tsp baking powder, heaped"]
    {
        assert_eq!(ask(&[line]).lines[0].state, LineState::Doubtful, "{line}");
    }
}

#[test]
fn a_pinch_goes_into_the_formula_and_is_told() {
    for line in ["1 pinch salt", "a pinch of salt", "pinch of salt"] {
        gives(line, &[("1 pinch", "table salt")]);
        assert!(ask(&[line]).owed.assumptions.iter().any(|told| told.value == "1/16 tsp"), "{line}");
    }
    gives("2 pinches of salt", &[("2 pinches", "table salt")]);
    gives("a dash of vanilla", &[("1 dash", "vanilla extract")]);
    gives("a little salt", &[]);
}

#[test]
fn what_stands_beside_the_ingredients_is_put_where_it_belongs() {
    let lines = [
        "Chocolate Cake for a 9 inch round tin",
        "Serves 8",
        "1. 200 g flour",
        "2. 3 eggs",
        "Grease a 9 inch round tin",
        "Method",
        "1. Preheat the oven to 180C/350F/Gas 4.",
        "2. Mix the flour and the eggs.",
        "3. Bake for 25-30 minutes.",
    ];
    let answer = ask(&lines);
    assert!(answer.lines.iter().all(|line| line.state == LineState::Understood), "{:#?}", answer.lines);
    let formula = answer.formula.expect("two lines are weighed");
    assert_eq!(formula.name.as_deref(), Some("Chocolate Cake"));
    assert_eq!(formula.parts[0].lines.len(), 2);
    let text = serde_json::to_value(&formula).expect("it is written");
    assert_eq!(text["pan"], "9 inch round tin");
    assert_eq!(text["makes"]["pieces"], 8);
    assert_eq!(text["bake"]["oven"], "180 C / 350 F / gas mark 4");
    assert_eq!(text["bake"]["minutes"], "25-30 min");
}

#[test]
fn the_depth_of_a_tin_is_kept_where_the_oven_stands_behind_it() {
    for (line, pan) in [
        ("2 x 20 cm round tins, 5 cm deep, 180 C, 30 min", "2 x 20 cm round tins, 5 cm deep"),
        ("20 x 30 cm tin 4 cm deep, 180 C 30 min", "20 x 30 cm tin 4 cm deep"),
        ("20 x 30 cm tin 4 cm deep, 180 C 30 min, cut into 15", "20 x 30 cm tin 4 cm deep"),
        ("23 cm tart tin, 180 C, 30 min", "23 cm tart tin"),
    ] {
        let formula = ask(&["200 g flour", line]).formula.unwrap_or_else(|| panic!("{line}"));
        let said = serde_json::to_value(formula).unwrap_or_default();
        assert_eq!((said["pan"].as_str(), said["bake"]["oven"].as_str()), (Some(pan), Some("180 C")), "{line}");
    }
}

#[test]
fn a_tin_without_its_shape_is_asked_for_it_and_costs_the_oven_nothing() {
    for line in [
        "bake in a 20 cm tin at 180 C for 40 minutes",
        "20 cm tin, 180 C, 40 min",
        "In a 20 cm tin at 180 C for 40 min",
        "Pour into a 20 cm tin and bake at 180 C for 40 min",
    ] {
        let answer = ask(&["200 g flour", line]);
        let told = &answer.lines[1];
        assert_eq!((told.state, told.attempts.first().map(String::as_str)), (LineState::Doubtful, Some("20 cm tin round")), "{line}");
        let said = serde_json::to_value(answer.formula).unwrap_or_default();
        assert_eq!((said["bake"]["oven"].as_str(), said["bake"]["minutes"].as_str()), (Some("180 C"), Some("40 min")), "{line}");
        // Where the pan stands elsewhere nothing is asked.
        assert_eq!(ask(&["200 g flour", "20 cm round tin", line]).lines[2].state, LineState::Understood, "{line}");
    }
}

#[test]
fn an_oven_of_no_kitchen_is_told_and_kept_out() {
    let answer = ask(&["200 g flour", "Bake at 900 F for 30 minutes"]);
    assert_eq!(answer.lines[1].state, LineState::Doubtful, "{:#?}", answer.lines);
    assert!(answer.formula.is_some_and(|formula| formula.bake.is_none()));
}

#[test]
fn a_title_stands_over_ingredients_and_is_none_of_them() {
    let answer = ask(&["Victoria Sponge", "200 g butter", "For the filling:", "100 g jam"]);
    let formula = answer.formula.expect("it is weighed");
    assert_eq!((formula.name.as_deref(), formula.parts.len()), (Some("Victoria Sponge"), 2));
    // What was weighed is no title, known or not.
    assert!(ask(&["Gluten Free Blend 300 g", "200 g butter"]).formula.is_some_and(|formula| formula.name.is_none()));
    let alone = ask(&["Victoria Sponge"]);
    assert!(alone.formula.is_none() && alone.lines[0].detail.is_some(), "{:#?}", alone.lines);
    assert_eq!(ask(&["Unknown Powder"]).lines[0].state, LineState::Unread);
    assert!(ask(&["2 cups Unknown Powder", "200 g flour"]).formula.is_some_and(|formula| formula.name.is_none()));
}

#[test]
fn the_first_of_two_amounts_is_no_second_measure_of_both() {
    let also = |line: &str| {
        let formula = ask(&[line]).formula.expect("it is weighed");
        let line = &formula.parts[0].lines[0];
        (line.also.clone(), line.note.clone())
    };
    assert_eq!(also("125 g (1 stick + 1 tbsp) unsalted butter"), (None, Some("1 stick + 1 tbsp".to_owned())));
    assert_eq!(also("125 g (1 stick plus 1 tbsp) unsalted butter").0, None);
    assert_eq!(also("270 g (1 cup plus 2 tbsp) sugar").0.as_deref(), Some("1 cup plus 2 tbsp"));
    assert_eq!(also("113 g (1 stick) unsalted butter").0.as_deref(), Some("1 stick"));
}

#[test]
fn no_line_is_dropped() {
    let lines = ["For the icing:", "salt to taste", "250 g Mehl", "une pincée de sel", "2 cups", "butter", "a little salt"];
    let answer = ask(&lines);
    let written: Vec<&str> = answer.lines.iter().map(|line| line.written.as_str()).collect();
    assert_eq!(written, lines);
    assert!(answer.formula.is_none());
    let states: Vec<LineState> = answer.lines.iter().map(|line| line.state).collect();
    use LineState::{Doubtful, Understood, Unread};
    assert_eq!(states, [Understood, Understood, Unread, Unread, Unread, Doubtful, Understood]);
}
