//! What is told twice, and what is told of one thing in two ways.

use super::{ask, gives};
use crate::formula::LineState;

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
    gives("2 sprigs fresh tarragon", &[("2 sprig", "fresh tarragon")]);
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
    let answer = ask(&["Pear &amp; ginger pudding", "200 g flour", "350&deg;F for 30&ndash;35 min"]);
    let formula = answer.formula.expect("it is read");
    assert_eq!(formula.name.as_deref(), Some("Pear & ginger pudding"));
    assert_eq!(formula.bake.and_then(|bake| bake.minutes).map(|minutes| minutes.as_text().into_owned()).as_deref(), Some("30-35 min"));
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
    let named = ask(&["Lamingtons (Aussie 20 ml tablespoons)", "2 tbsp milk"]).formula.expect("it is read");
    assert_eq!(
        (named.name.as_deref(), named.measures),
        (Some("Lamingtons (Aussie 20 ml tablespoons)"), Some(crate::quantity::Measures::Australia))
    );
    let choux = ask(&["Choux", "140 g flour", "Craquelin", "90 g brown sugar"]).formula.expect("it is read");
    assert_eq!(choux.parts.iter().map(|part| &*part.name).collect::<Vec<_>>(), ["main", "craquelin"]);
}
