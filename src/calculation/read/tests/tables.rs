//! Tables that are headed with their units, and the titles of parts.

use super::super::answer::PartRead;
use super::*;

/// The lines of the formula: part, amount, second measure, ingredient.
fn made(text: &str) -> Vec<(String, String, Option<String>, String)> {
    let formula = ask_text(text).formula;
    let of = |part: &PartRead| {
        let name = part.name.clone();
        part.lines
            .iter()
            .map(move |line| (name.clone(), line.amount.clone(), line.also.clone(), line.ingredient.clone()))
            .collect::<Vec<_>>()
    };
    formula.iter().flat_map(|formula| &formula.parts).flat_map(of).collect()
}

#[track_caller]
fn ask_text(text: &str) -> ReadAnswer {
    ask_either(Some(text.to_owned()), None)
}

#[test]
fn the_head_of_a_table_says_what_its_bare_numbers_are() {
    let row =
        |amount: &str, also: Option<&str>, name: &str| ("main".to_owned(), amount.to_owned(), also.map(str::to_owned), name.to_owned());
    let wanted = [row("500 g", Some("4 cups"), "bread flour"), row("350 g", Some("1 1/2 cups"), "water")];
    for text in [
        "Ingredient | Grams | Cups\nBread flour | 500 | 4\nWater | 350 | 1 1/2",
        "| Ingredient | Weight (g) | Cups |\n|---|---:|---:|\n| Bread flour | 500 | 4 |\n| Water | 350 | 1 1/2 |",
        "g  cups  ingredient\n500  4  bread flour\n350  1 1/2  water",
        "Ingredient\tGrams\tUS cups\nBread flour\t500\t4\nWater\t350\t1 1/2",
    ] {
        assert_eq!(made(text), wanted, "{text}");
    }
    // A cell that has a unit keeps it; an empty one is none.
    let wanted = [row("10 g", Some("2 tsp"), "table salt"), row("7 g", None, "instant yeast")];
    assert_eq!(made("Ingredient | Grams | Cups\nSalt | 10 | 2 tsp\nInstant yeast | 7 | –"), wanted);
}

#[test]
fn a_bakers_percentage_in_a_table_is_no_amount_and_no_share_of_cocoa() {
    let text = "Ingredient | Weight (g) | Baker's %\nFlour | 1000 | 100\nDark chocolate | 700 | 70\nTotal | 1700 | 170";
    let answer = ask_text(text);
    let lines = answer.formula.iter().flat_map(|formula| &formula.parts[0].lines);
    let said: Vec<_> = lines.map(|line| (&*line.amount, &*line.ingredient, line.note.as_deref().unwrap_or_default())).collect();
    let flour = ("1000 g", "all-purpose flour", "baker's percentage 100");
    assert_eq!(said, [flour, ("700 g", "bittersweet chocolate", "baker's percentage 70")]);
    assert!(answer.lines[3].detail.as_deref().is_some_and(|told| told.contains("a sum")), "{:?}", answer.lines[3]);
}

#[test]
fn a_table_has_its_parts_and_two_batches_are_told() {
    let text = "| Ingredient | g | Notes |\n|---|---|---|\n| **Levain** | | |\n| Bread flour | 50 | |\n| Dough | | |\n| Bread flour | 450 | sifted |";
    let parts: Vec<_> = made(text).into_iter().map(|(part, amount, ..)| (part, amount)).collect();
    assert_eq!(parts, [("levain".to_owned(), "50 g".to_owned()), ("dough".to_owned(), "450 g".to_owned())]);
    let two = ask_text("Ingredient\tg (1 loaf)\tg (10 loaves)\nBread flour\t500\t5000\nWater\t340\t3400");
    assert_eq!(two.lines[0].state, LineState::Doubtful, "{:?}", two.lines[0]);
    let amounts: Vec<_> = two.formula.iter().flat_map(|formula| &formula.parts[0].lines).map(|line| (&*line.amount, &line.also)).collect();
    assert_eq!(amounts, [("500 g", &None), ("340 g", &None)]);
}

#[test]
fn eggs_that_are_counted_in_a_column_of_grams_are_doubted() {
    let answer = ask_text("Ingredient | g\nFlour | 500\nEggs | 2\nEgg yolk | 36");
    let states: Vec<_> = answer.lines.iter().map(|line| line.state).collect();
    use LineState::{Doubtful, Understood};
    assert_eq!(states, [Understood, Understood, Doubtful, Understood], "{:?}", answer.lines);
}

#[test]
fn a_name_above_its_own_ingredients_is_the_title_of_a_part() {
    let parts = |text: &str| -> Vec<(String, usize)> {
        let formula = ask_text(text).formula;
        formula.iter().flat_map(|formula| &formula.parts).map(|part| (part.name.clone(), part.lines.len())).collect()
    };
    let is = |name: &str, lines: usize| (name.to_owned(), lines);
    let tart = "Lemon tart\n\nPastry\n250 g flour\n\nLemon curd\n150 g sugar\n3 eggs\n\nRhubarb compote\n200 g rhubarb";
    assert_eq!(parts(tart), [is("pastry", 1), is("lemon curd", 2), is("rhubarb compote", 1)]);
    let states: Vec<_> = ask_text(tart).lines.iter().map(|line| (line.state, line.matched.is_empty())).collect();
    assert_eq!((states[3], states[6]), ((LineState::Understood, true), (LineState::Doubtful, true)));
    // No blank line parts it: it may be an ingredient whose amount was forgotten.
    let slice = ask_text("Slice\nBase\n100 g flour\nCaramel sauce\n30 g butter");
    assert_eq!((slice.lines[3].state, &*slice.lines[3].attempts), (LineState::Doubtful, &["100 g caramel sauce".to_owned()][..]));
    assert_eq!(parts("Levain (the night before)\n50 g flour\n\nMain dough\n450 g flour"), [is("levain", 1), is("main dough", 1)]);
}

#[test]
fn an_ingredient_without_its_amount_is_no_title() {
    for text in [
        "Biscuits\n\n200 g flour\n\nSalt\n100 g sugar",
        "200 g flour\n\nVanilla\n\n100 g sugar",
        "200 g flour\n\nZzyzx powder\n\n100 g sugar",
        "200 g flour\nIcing sugar, for dusting\n100 g sugar",
        "200 g flour\nJam\n100 g sugar",
    ] {
        assert_eq!(ask_text(text).formula.map(|formula| formula.parts.len()), Some(1), "{text}");
    }
}

#[test]
fn a_column_may_hold_the_units_and_commas_part_the_cells() {
    let lines = |text: &str| -> Vec<(String, String)> { made(text).into_iter().map(|(_, amount, _, name)| (amount, name)).collect() };
    let is = |amount: &str, name: &str| (amount.to_owned(), name.to_owned());
    let text = "Quantity,Unit,Ingredient\n500,g,bread flour\n2,tsp,salt\n3,,eggs";
    assert_eq!(lines(text), [is("500 g", "bread flour"), is("2 tsp", "table salt"), is("3 eggs", "egg")]);
    assert_eq!(lines("ingredient;grams\nbread flour;500\nwater;350"), [is("500 g", "bread flour"), is("350 g", "water")]);
    // Of the parts and their sum the sum is the formula.
    let parts = "| | Poolish (g) | Dough (g) | Total (g) |\n|---|---|---|---|\n| Bread flour | 150 | 350 | 500 |\n| Salt | | 10 | 10 |";
    assert_eq!(lines(parts), [is("500 g", "bread flour"), is("10 g", "table salt")]);
    // Between gaps nobody sees which cell is empty.
    assert_eq!(lines("ingredient  grams  cups\nbread flour  4"), []);
}

#[test]
fn pounds_and_ounces_in_two_columns_or_in_one_are_one_amount() {
    let wanted = ["12 lb 8 oz", "15 lb", "5 oz", "10 oz"];
    for text in [
        "Ingredient\tLB\tOZ\nCake flour\t12\t8\nSugar\t15\t0\nSalt\t0\t5\nBaking powder\t\t10",
        "Ingredient | lb-oz | %\nCake flour | 12-8 | 100\nSugar | 15-0 | 120\nSalt | 0-5 | 2.5\nBaking powder | 0-10 | 5",
    ] {
        let amounts: Vec<_> = made(text).into_iter().map(|(_, amount, also, _)| (amount, also)).collect();
        assert_eq!(amounts, wanted.map(|amount| (amount.to_owned(), None)), "{text}");
    }
    let metric: Vec<_> =
        made("Ingredient | kg | g\nFlour | 1 | 250\nWater | 1 | 1000").into_iter().map(|(_, amount, also, _)| (amount, also)).collect();
    // A thousand grams beside a kilogram are the same once more.
    assert_eq!(metric, [("1.25 kg".to_owned(), None), ("1 kg".to_owned(), Some("1000 g".to_owned()))]);
}

#[test]
fn a_cell_may_stand_in_quotation_marks() {
    let amounts: Vec<_> = made("Item,Qty,UoM\n\"Flour, bread\",25,kg\nWater,16.25,kg\n\"Yeast, instant\",125,g")
        .into_iter()
        .map(|(_, amount, _, name)| (amount, name))
        .collect();
    let wanted = [("25 kg", "bread flour"), ("16.25 kg", "water"), ("125 g", "instant yeast")];
    assert_eq!(amounts, wanted.map(|(amount, name)| (amount.to_owned(), name.to_owned())));
    let two = ask_text("|Ingredient|Small (6in)|Large (9in)|\n|---|---|---|\n|Butter|115 g|225 g|");
    assert_eq!((two.lines[2].state, two.formula.is_some_and(|formula| formula.name.is_none())), (LineState::Doubtful, true));
}

#[test]
fn the_weight_of_the_dough_below_a_table_is_a_sum() {
    let answer = ask_text("Ingredient | Baker's % | kg\nFlour | 100% | 25\nWater | 62% | 15.5\nDough weight | | 40.5");
    assert_eq!(answer.lines[3].state, LineState::Understood, "{:?}", answer.lines[3]);
    assert_eq!(answer.formula.map(|formula| formula.parts[0].lines.len()), Some(2));
}

#[test]
fn a_row_may_count_where_the_others_weigh() {
    let rows =
        made("| ingredient | grams | % |\n| Bread flour | 1000 | 100 |\n| Honey | 40 | |\n| Vanilla | 1 pod | |\n| Egg | 3 large | |");
    let rows: Vec<_> = rows.into_iter().map(|(_, amount, _, name)| (amount, name)).collect();
    let wanted = [("1000 g", "bread flour"), ("40 g", "honey"), ("1 piece", "vanilla bean"), ("3 large", "egg")];
    assert_eq!(rows, wanted.map(|(amount, name)| (amount.to_owned(), name.to_owned())));
}

#[test]
fn a_head_without_a_word_over_the_names_is_a_head() {
    let text = "                %      lb  oz\nCake flour     100     5   0\nSugar          125     6   4\nH.R. shortening 55     2   12\nSalt            3.5    0   2.75\nWhole eggs      65     3   4";
    let rows: Vec<_> = made(text).into_iter().map(|(_, amount, _, name)| (amount, name)).collect();
    let wanted = [
        ("5 lb", "cake flour"),
        ("6 lb 4 oz", "granulated sugar"),
        ("2 lb 12 oz", "high-ratio shortening"),
        ("2.75 oz", "table salt"),
        ("3 lb 4 oz", "egg"),
    ];
    assert_eq!(rows, wanted.map(|(amount, name)| (amount.to_owned(), name.to_owned())));
    // Without its head a row of numbers counts no eggs.
    assert_eq!(ask_text("Whole eggs      65     3   4").lines[0].state, LineState::Unread);
}
