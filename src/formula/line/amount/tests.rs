//! Amounts at the head of a line.

use super::*;

#[track_caller]
fn heads(text: &str, amount: &str, rest: &str) {
    let lead = lead(text, Measures::Us).unwrap_or_else(|fault| panic!("{text}: {fault:?}")).unwrap_or_else(|| panic!("{text}: no amount"));
    assert_eq!((lead.measure.text.as_str(), lead.rest.trim()), (amount, rest), "{text}");
}

#[test]
fn an_amount_ends_where_the_name_begins() {
    heads("1 3/4 cups (180 g) rye flour", "1 3/4 cups", "(180 g) rye flour");
    heads("200g flour", "200 g", "flour");
    heads("½ lb. dates, stoned", "½ lb.", "dates, stoned");
    heads("1 cup plus 2 tablespoons sugar", "1 cup plus 2 tablespoons", "sugar");
    heads("1 lb 4 oz flour", "1 lb 4 oz", "flour");
    heads("1 cup less 1 tbsp plain flour", "1 cup less 1 tbsp", "plain flour");
    heads("a scant 1/2 cup milk", "1/2 cup", "milk");
    heads("a heaped ½ cup oats", "½ cup", "oats");
    heads("a scant cup milk", "1 cup", "milk");
    heads("1 cup and a half of sugar", "1.5 cups", "sugar");
    heads("1 cup minus 2 T sugar", "1 cup less 2 tbsp", "sugar");
    heads("1 lb less 2 oz butter", "1 lb less 2 oz", "butter");
    heads("half a cup less 1 tbsp oil", "0.5 cup less 1 tbsp", "oil");
    heads("2-3 tbsp milk", "2-3 tbsp", "milk");
    heads("2 C. flour", "2 cups", "flour");
    heads("2/3 c + 2 T shortening", "2/3 cup plus 2 tbsp", "shortening");
    heads("1/3 c. milk", "1/3 cup", "milk");
    heads("3 large eggs", "3 large", "eggs");
    heads("2 fl oz milk", "2 fl oz", "milk");
    heads("half a cup of oil", "0.5 cup", "of oil");
    heads("1 heaping teaspoon soda", "1 tsp", "soda");
    heads("200 g – 250 g flour", "200-250 g", "flour");
}

#[test]
fn packs_whose_content_is_told_are_multiplied() {
    heads("2 x 400 g tins condensed milk", "800 g", "condensed milk");
    heads("1 (14-oz) can condensed milk", "14 oz", "condensed milk");
    heads("1 14-ounce can evaporated milk", "14 oz", "evaporated milk");
}
