//! "4 sheets gelatin, bronze", "3 silver leaves gelatine": the grade of a sheet, which tells what it weighs, wherever it stands on the line.

use std::borrow::Cow;

use super::Item;
use super::amount::things;
use crate::quantity::{Counting, plain};
use crate::reference::{Ingredient, Ingredients};

/// What is sold by the sheet in several grades.
const GRADED: &str = "sheet-gelatin";

/// The line without the grade of its sheets, and that grade; the line as it is where it speaks of none.
pub(super) fn without_grade<'l>(line: &'l str, ingredients: &Ingredients) -> (Cow<'l, str>, Option<&'static str>) {
    // Every line comes by here: what it is about is asked first.
    if !line.contains("elat") && !line.contains("ELAT") {
        return (line.into(), None);
    }
    let of_word = |word: &str| grades(ingredients).find(|grade| plain(word.trim_matches(|c: char| !c.is_alphabetic())) == *grade);
    let mut words: Vec<&str> = line.split(' ').collect();
    let Some((at, grade)) = words.iter().enumerate().find_map(|(at, word)| Some((at, of_word(word)?))) else { return (line.into(), None) };
    words.remove(at);
    // "(gold strength)", "silver grade".
    if words.get(at).is_some_and(|word| ["grade", "strength"].contains(&&*plain(word.trim_end_matches([')', ','])))) {
        words.remove(at);
    }
    (words.join(" ").trim_end_matches([',', ';', ' ']).to_owned().into(), Some(grade))
}

fn grades(ingredients: &Ingredients) -> impl Iterator<Item = &'static str> {
    let graded: Option<&'static Ingredient> = ingredients.by_id(GRADED);
    graded.into_iter().flat_map(|known| &known.counted).map(|counted| counted.size).filter(|size| !size.is_empty())
}

/// An item with the grade of its sheets: counted, it weighs what that grade does; weighed, it is a remark.
pub(super) fn graded(mut item: Item, grade: Option<&'static str>) -> Item {
    let Some(grade) = grade else { return item };
    if item.ingredient.is_none_or(|known| &*known.id != GRADED) {
        item.notes.push(grade.to_owned());
        return item;
    }
    let counted = |counting: &Counting| match counting {
        Counting::Unit(unit) => matches!(unit.id, "sheet" | "leaf" | "each"),
        Counting::Nothing => true,
        _ => false,
    };
    match item.amount.as_mut().filter(|measure| counted(&measure.amount.counting)) {
        Some(measure) => {
            let word = format!("{grade} sheet");
            measure.text = things(&measure.amount.number, &word);
            measure.amount.counting = Counting::Named(word.into());
        }
        None => item.notes.push(grade.to_owned()),
    }
    item
}

#[cfg(test)]
mod tests {
    use super::super::{LineRead, LineState, read_line};
    use crate::quantity::Measures;
    use crate::reference::Reference;

    #[test]
    fn the_grade_of_a_sheet_is_read_wherever_it_stands() {
        let reference = Reference::load().expect("the tables");
        for (line, amount) in [
            ("4 sheets gelatin, bronze", "4 bronze sheets"),
            ("5 leaves gelatine (silver)", "5 silver sheets"),
            ("3 silver gelatine leaves", "3 silver sheets"),
            ("2 gold sheets gelatin", "2 gold sheets"),
            ("3 leaves silver gelatine", "3 silver sheets"),
            ("4 platinum sheet gelatin", "4 platinum sheets"),
            ("4 sheets gelatin (gold strength)", "4 gold sheets"),
            ("10 g gold leaf gelatine", "10 g"),
            ("3 sheets gelatine", "3 sheets"),
            ("1/2-1 1/2 sheets gold gelatine", "0.5-1.5 gold sheets"),
            ("1 silver leaf gelatine", "1 silver sheet"),
        ] {
            let LineRead::Items(items) = read_line(line, Measures::default(), reference) else { panic!("{line}") };
            let [item] = &items[..] else { panic!("{line}: {items:?}") };
            let known = item.ingredient.map(|known| &*known.id);
            let text = item.amount.as_ref().map(|measure| &*measure.text);
            assert_eq!((known, text, item.state()), (Some("sheet-gelatin"), Some(amount), LineState::Understood), "{line}: {item:?}");
        }
        let LineRead::Items(gold) = read_line("1 sheet edible gold leaf", Measures::default(), reference) else { panic!("no item") };
        assert!(gold[0].ingredient.is_none(), "{gold:?}");
    }
}
