//! What is counted in leaves, cubes and tins.

use super::*;

/// How a line was understood, with its amounts and its ingredient.
fn said(line: &str) -> (LineState, String, Option<String>, String) {
    let answer = ask(&[line]);
    let state = answer.lines[0].state;
    let made = answer.formula.into_iter().flat_map(|formula| formula.parts).flat_map(|part| part.lines).next();
    made.map_or((state, String::new(), None, String::new()), |made| (state, made.amount, made.also, made.ingredient))
}

#[track_caller]
fn is(line: &str, state: LineState, amount: &str, also: Option<&str>, ingredient: &str) {
    assert_eq!(said(line), (state, amount.to_owned(), also.map(str::to_owned), ingredient.to_owned()), "{line}");
}

#[test]
fn a_leaf_of_gelatin_is_a_sheet_and_a_leaf_of_basil_is_none() {
    use LineState::{Understood, Unread};
    is("10 leaves basil", Understood, "10 leaves", None, "fresh basil");
    is("1 leaf bay", Understood, "1 leaf", None, "bay leaf");
    is("12 mint leaves", Understood, "12 leaves", None, "fresh mint");
    is("3 leaves gelatine", Understood, "3 leaves", None, "sheet gelatin");
    assert_eq!(said("10 sheets basil").0, Unread);
    // Of a head of lettuce nobody has weighed the leaves.
    assert_eq!(said("4 leaves lettuce").0, Unread);
}

#[test]
fn a_remark_or_a_count_tells_the_kind_that_a_name_leaves_open() {
    use LineState::{Understood, Unread};
    is("42 g yeast (1 cube)", Understood, "42 g", Some("1 cube"), "fresh yeast");
    is("1/2 cube (21 g) yeast", Understood, "1/2 cube", Some("21 g"), "fresh yeast");
    is("20 g yeast (fresh)", Understood, "20 g", None, "fresh yeast");
    is("2 tbsp plant milk (oat)", Understood, "2 tbsp", None, "oat milk");
    is("50 g chopped nuts (walnuts)", Understood, "50 g", None, "walnuts");
    // Two kinds are sold in packets.
    assert_eq!(said("7 g yeast (1 sachet)").0, Unread);
}

#[test]
fn of_a_tin_that_is_drained_less_goes_in() {
    use LineState::{Doubtful, Understood};
    is("400 g tin chickpeas, drained", Doubtful, "226-240 g", None, "cooked chickpeas");
    is("2 x 400 g tins chickpeas, drained and rinsed", Doubtful, "452-480 g", None, "cooked chickpeas");
    is("1 can (15 oz) kidney beans, drained", Doubtful, "1 can", Some("9-9.2 oz"), "cooked kidney beans");
    is("1 tin chickpeas, drained", Understood, "1 can", None, "cooked chickpeas");
    // The drained weight is told.
    is("1 tin (400 g, drained weight 240 g) chickpeas", Understood, "1 can", Some("240 g"), "cooked chickpeas");
    is("2 x 400 g tins chickpeas (drained weight 480 g)", Understood, "480 g", None, "cooked chickpeas");
    is("2 cans chickpeas (240 g drained weight each)", Understood, "2 cans", Some("480 g"), "cooked chickpeas");
    // What stands before the name is done before measuring.
    is("240 g drained chickpeas", Understood, "240 g", None, "cooked chickpeas");
    is("250 g ricotta, drained", Understood, "250 g", None, "ricotta");
    // No share is published; what is asked for is the drained weight.
    for line in ["400 g tin apricots in juice, drained", "1 can (20 oz) crushed pineapple, drained"] {
        let told = ask(&[line]).lines.remove(0);
        assert_eq!(told.state, Doubtful, "{line}");
        assert!(told.detail.is_some_and(|detail| detail.contains("write the drained weight")), "{line}");
    }
}

#[test]
fn what_is_in_a_tin_is_tinned() {
    is("1 x 410 g tin pear halves in juice", LineState::Understood, "410 g", None, "canned pears");
    is("400 g tin apricots", LineState::Understood, "400 g", None, "canned apricots");
    is("1 can evaporated milk", LineState::Understood, "1 can", None, "evaporated milk");
    let unknown = ask(&["1 can (400 g) medlars"]).lines.remove(0);
    assert!(unknown.detail.is_some_and(|detail| detail.contains("\"medlars\"")));
}

#[test]
fn spoons_of_other_languages_are_read_with_english_names() {
    is("2 EL sugar", LineState::Understood, "2 EL", None, "granulated sugar");
    is("1 c. à c. vanilla extract", LineState::Understood, "1 c. à c.", None, "vanilla extract");
}

#[test]
fn a_glass_of_no_set_size_is_asked_back_though_the_name_behind_it_is_known() {
    let told = ask(&["1 wine glass sherry"]).lines.remove(0);
    assert!(told.state == LineState::Unread && told.detail.is_some_and(|detail| detail.contains("made in every size")));
    is("7g/1 sachet fast action yeast", LineState::Understood, "7 g", Some("1 sachet"), "instant yeast");
    is("2 x 5 ml sp cinnamon", LineState::Understood, "10 ml", None, "ground cinnamon");
    is("Salt   pinch", LineState::Understood, "1 pinch", None, "table salt");
    is("115g brown butter (from 150 g butter)", LineState::Understood, "115 g", None, "brown butter");
    is("¼ cup freshly-squeezed lemon juice", LineState::Understood, "¼ cup", None, "lemon juice");
}

#[test]
fn a_kind_that_stands_behind_its_name_is_the_kind() {
    use LineState::Understood;
    is("200 g butter (salted)", Understood, "200 g", None, "salted butter");
    is("200 g butter (melted)", Understood, "200 g", None, "unsalted butter");
    is("1 cup cream (heavy)", Understood, "1 cup", None, "heavy cream");
    is("2 cups flour (sifted)", Understood, "2 cups", None, "all-purpose flour");
    is("FLOUR AP 1000 GR", Understood, "1000 GR", None, "all-purpose flour");
    is("tin of coconut milk (400ml)", Understood, "400ml", None, "coconut milk");
}

#[test]
fn what_is_taken_of_a_fruit_may_stand_before_a_dash() {
    use LineState::{Doubtful, Understood};
    is("Lemon juice – 2 lemons", Understood, "2 lemons", None, "lemon juice");
    is("Zest: 1 orange", Understood, "1 orange", None, "orange zest");
    is("Chocolate (dark, 70%) 200 g", Understood, "200 g", None, "dark chocolate 70-85%");
    is("1 egg for wash", Doubtful, "1 egg", None, "egg");
}

#[test]
fn a_piece_behind_its_name_is_counted_as_one_before_it() {
    use LineState::{Doubtful, Understood};
    is("2 thyme sprigs", Understood, "2 sprigs", None, "fresh thyme");
    is("2 fresh rosemary sprigs, finely chopped", Understood, "2 sprigs", None, "fresh rosemary");
    is("leaves from 3 mint sprigs", Understood, "3 sprigs", None, "fresh mint");
    is("2 garlic heads", Understood, "2 heads", None, "garlic");
    is("1 bulb of garlic", Understood, "1 bulb", None, "garlic");
    is("1 whole garlic bulb, roasted", Understood, "1 bulb", None, "garlic");
    is("2 bulbs fennel", Understood, "2 bulbs", None, "fennel bulb");
    is("1 small rosemary sprig", Doubtful, "1 sprig", None, "fresh rosemary");
    is("4 canned peach halves", Understood, "4 halves", None, "canned peaches");
    is("3 peach halves, tinned", Understood, "3 halves", None, "canned peaches");
    is("6 whole cloves", Understood, "6 pieces", None, "ground cloves");
    // Garlic is counted in cloves too.
    is("3 cloves, minced", Doubtful, "3 pieces", None, "ground cloves");
}

#[test]
fn two_halves_are_one() {
    use LineState::Understood;
    is("8 apricot halves", Understood, "4 pieces", None, "apricot");
    is("16 strawberry halves", Understood, "8 pieces", None, "strawberry");
    is("6 plum halves, stoned", Understood, "3 pieces", None, "plum");
    is("2 pear quarters", Understood, "0.5 piece", None, "pear");
    is("2 large peach halves", Understood, "1 large", None, "peach");
    // Of these a half was weighed.
    is("8 pecan halves", Understood, "8 halves", None, "halves pecans");
}

#[test]
fn how_long_a_thing_is_is_no_number_of_it() {
    use LineState::{Doubtful, Unread};
    is("9-inch pie shell", Doubtful, "1 piece", None, "ready-made pie crust");
    is("2 9-inch pie crusts", Doubtful, "2 pieces", None, "ready-made pie crust");
    is("4 cm cinnamon stick", Doubtful, "1 stick", None, "cinnamon stick");
    for line in ["1-inch piece of ginger", "2 cm ginger, grated", "5cm piece root ginger", "a thumb of ginger", "a walnut of butter"] {
        let told = ask(&[line]).lines.remove(0);
        assert_eq!(told.state, Unread, "{line}");
        assert!(told.attempts.iter().all(|attempt| attempt.ends_with("fresh ginger") || attempt.ends_with("unsalted butter")), "{told:?}");
    }
}

#[test]
fn what_is_given_by_the_eye_is_not_measured_wherever_it_stands() {
    use LineState::Understood;
    for (line, ingredient) in [
        ("olive oil, a drizzle", "olive-oil"),
        ("butter – a small knob", "butter"),
        ("milk: a splash", "whole-milk"),
        ("a squirt of lemon juice", "lemon-juice"),
        ("a scraping of nutmeg", "nutmeg"),
        ("few grinds black pepper", "black-pepper"),
        ("a lump of butter", "butter"),
        ("1 lump butter", "butter"),
        ("a few thyme sprigs", "fresh-thyme"),
        ("some sprigs of rosemary", "fresh-rosemary"),
    ] {
        let answer = ask(&[line]);
        assert_eq!((answer.lines[0].state, answer.formula.is_some()), (Understood, false), "{line}: {:?}", answer.lines[0]);
        assert_eq!(answer.lines[0].matched[0].ingredient.as_deref(), Some(ingredient), "{line}");
    }
    is("2 lumps of sugar", Understood, "2 pieces", None, "sugar cube");
    is("large pinch of saffron", Understood, "1 pinch", None, "saffron");
    is("a couple of eggs", Understood, "2 eggs", None, "egg");
}

#[test]
fn what_is_left_stands_in_a_bracket_behind_the_full_weight() {
    use LineState::Understood;
    is("1kg Bramley apples, peeled (700 g prepared)", Understood, "700 g", None, "peeled apple");
    is("1 kg apples (about 700 g peeled)", Understood, "700 g", None, "apple");
    is("400 g tin chickpeas (240 g drained)", Understood, "240 g", None, "cooked chickpeas");
    is("400g tin green lentils, drained (235g)", Understood, "235 g", None, "lentils");
    is("Vanilla 1 pod", Understood, "1 piece", None, "vanilla bean");
    is("250 g lievito madre", Understood, "250 g", None, "stiff sourdough starter");
    is("1 kg apples (peeled)", Understood, "1 kg", None, "apple");
}

#[test]
fn small_tomatoes_are_no_large_ones_and_a_strip_of_peel_is_counted() {
    use LineState::Understood;
    is("20 cherry tomatoes, halved", Understood, "20 pieces", None, "cherry tomato");
    is("2 strips lemon peel", Understood, "2 strips", None, "lemon zest");
    is("2 tsk cardamom", Understood, "2 tsk", None, "ground cardamom");
    // The cup holds them mashed.
    is("3 very ripe bananas (about 1 1/2 cups mashed)", Understood, "3 pieces", Some("1 1/2 cups"), "mashed banana");
    is("3 bananas, mashed", Understood, "3 pieces", None, "banana");
}

#[test]
fn the_zest_of_two_fruits_loses_neither() {
    let taken = |line: &str| {
        let lines = ask(&[line]).formula.into_iter().flat_map(|formula| formula.parts).flat_map(|part| part.lines);
        lines.map(|line| (line.amount, line.ingredient)).collect::<Vec<_>>()
    };
    let two = |one: (&str, &str), other: (&str, &str)| [one, other].map(|(amount, name)| (amount.to_owned(), name.to_owned())).to_vec();
    assert_eq!(taken("grated zest 1/2 orange, 1/2 lemon"), two(("0.5 orange", "orange zest"), ("0.5 lemon", "lemon zest")));
    assert_eq!(taken("juice of 1 lemon, 2 limes"), two(("1 lemon", "lemon juice"), ("2 limes", "lime juice")));
}

#[test]
fn a_number_in_a_bracket_measures_nothing_of_what_is_to_taste() {
    for (line, state) in [
        ("Salt & pepper to taste (2:1 ratio)", LineState::Understood),
        ("nutmeg for grating", LineState::Understood),
        ("salt to taste (about 5 g)", LineState::Understood),
        ("2 oz fat", LineState::Unread),
    ] {
        assert_eq!(ask(&[line]).lines[0].state, state, "{line}");
    }
    assert_eq!(said("salt to taste (about 5 g)").1, "5 g");
}

#[test]
fn what_a_strange_name_is_stands_in_a_bracket_behind_it() {
    use LineState::{Doubtful, Understood, Unread};
    is("1 cup curd (yogurt)", Understood, "1 cup", None, "plain yogurt");
    is("1 cup boora (powdered sugar)", Doubtful, "1 cup", None, "powdered sugar");
    assert_eq!(said("1 cup zorb (chopped)").0, Unread);
    is("1 9\" unbaked pie shell", Doubtful, "1 piece", None, "ready-made pie crust");
    is("Roll-in butter 500 g 50.0%", Understood, "500 g", None, "unsalted butter");
}
