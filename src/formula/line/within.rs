//! What a remark behind a name says of the ingredient itself: "ginger, grated" is fresh, and "flour (half plain, half wholemeal)" is two flours.

use super::amount::lead;
use super::name::{Named, named};
use super::text::{is_done, is_purpose};
use super::{Item, Measure};
use crate::quantity::{Counting, Factor, Family, Measures, plain, strip_ignoring_case};
use crate::reference::{Ingredient, Ingredients, Nature};

/// Looks at the remarks of an item once its name is known.
pub(super) fn settle(name: &str, item: &mut Item, measures: Measures, ingredients: &Ingredients) {
    if item.notes.is_empty() || item.ingredient.is_none() {
        return;
    }
    state_of_the_cup(item);
    kind_beside(name, item, ingredients);
    fresh(name, item, ingredients);
    of_two_kinds(name, item, measures, ingredients);
}

/// "3 bananas (about 1 1/2 cups mashed)": what is counted is whole, and the cup beside it holds it in a state of its own.
fn state_of_the_cup(item: &mut Item) {
    let (Some(known), true) = (item.ingredient, item.form.is_empty()) else { return };
    let family = |measure: &Option<Measure>| measure.as_ref().map(Measure::family);
    if family(&item.amount) != Some(Family::Count) || family(&item.also) != Some(Family::Volume) {
        return;
    }
    let state = item.notes.iter().enumerate().find_map(|(at, note)| Some((at, known.forms().into_iter().find(|form| note == form)?)));
    if let Some((at, form)) = state {
        item.form = form;
        item.notes.remove(at);
    }
}

/// "1 cup curd (yogurt)", "boora (powdered sugar)": a name that is not known by itself, and what it is in a bracket behind it.
pub(super) fn told_in_bracket(name: &str, item: &mut Item, ingredients: &Ingredients) -> Option<Named> {
    let plainly = !name.is_empty() && name.split(' ').count() <= 2 && name.chars().all(|c| c.is_alphabetic() || c == ' ');
    if !plainly || item.notes.is_empty() {
        return None;
    }
    let (at, mut found) = item.notes.iter().enumerate().find_map(|(at, note)| {
        let whole = ingredients.named(&plain(&format!("{name} {note}"))).and_then(|_| named(ingredients, &format!("{name} {note}")));
        // What is told of the state of a thing is none.
        let other = || ingredients.named(&plain(note)).and_then(|_| named(ingredients, note)).map(|found| found.told_as(name));
        Some((at, whole.or_else(other)?))
    })?;
    item.notes.remove(at);
    found.notes.push(name.to_owned());
    Some(found)
}

/// "42 g yeast (1 cube)", "20 g yeast (fresh)", "50 g nuts (walnuts)": a name that leaves its kind open, and a remark or a count that closes it.
pub(super) fn kind_told(name: &str, item: &Item, ingredients: &Ingredients) -> Option<Named> {
    let kinds = ingredients.kinds(&plain(name))?;
    let kinds: Vec<&'static Ingredient> = kinds.names.iter().filter_map(|kind| ingredients.named(&plain(kind))).collect();
    let is_kind = |found: &Named| found.doubts.is_empty() && kinds.iter().any(|kind| kind.id == found.ingredient.id);
    let last = name.rsplit(' ').next().unwrap_or_default();
    let whole = |note: &String| {
        let wholes = [format!("{note} {name}"), format!("{note} {last}"), note.clone()];
        wholes.iter().find_map(|whole| named(ingredients, whole).filter(is_kind))
    };
    if let Some(found) = item.notes.iter().find_map(whole) {
        return Some(found);
    }
    // What only one of them is sold by.
    let unit = item.also.iter().chain(&item.amount).find_map(|measure| match &measure.amount.counting {
        Counting::Unit(unit) if unit.family == Family::Count && !matches!(unit.id, "each" | "dozen") => Some(unit.id),
        _ => None,
    })?;
    let sold: Vec<_> = kinds.iter().filter(|kind| kind.counted_by(unit, None).is_some()).collect();
    let [only] = sold[..] else { return None };
    named(ingredients, &only.name)
}

/// "butter (salted)": a remark that is a kind of it, and makes another ingredient of the name.
fn kind_beside(name: &str, item: &mut Item, ingredients: &Ingredients) {
    let other = |note: &String| {
        let few = note.split(' ').count() <= 2 && !is_done(note);
        few.then(|| ingredients.named(&plain(&format!("{note} {name}")))).flatten()
    };
    if let Some(other) = item.notes.iter().find_map(other) {
        if item.ingredient.is_none_or(|known| known.id != other.id) {
            (item.ingredient, item.form) = (Some(other), "");
        }
        item.assumed = None;
        // What the name alone left open is told.
        let open = format!("\"{}\" may mean", plain(name));
        if item.doubts.iter().any(|doubt| doubt.starts_with(&open)) {
            item.doubts.retain(|doubt| !doubt.starts_with(&open));
            item.tries.clear();
        }
    }
}

/// What is a powder cannot be grated or chopped: where the table has the name with such a word for something that can, that is meant.
fn fresh(name: &str, item: &mut Item, ingredients: &Ingredients) {
    if item.ingredient.is_none_or(|known| known.nature != Nature::Powder) {
        return;
    }
    let words = item.notes.iter().flat_map(|note| note.split([' ', ',']));
    let found = words.filter(|word| is_done(word)).find_map(|word| ingredients.named(&plain(&format!("{word} {name}"))));
    if let Some(other) = found.filter(|other| other.nature != Nature::Powder) {
        item.ingredient = Some(other);
        item.form = "";
    }
}

/// "half plain, half wholemeal", "150 g plain, 50 g wholemeal": one weight for two ingredients, of which only one would be counted.
fn of_two_kinds(name: &str, item: &mut Item, measures: Measures, ingredients: &Ingredients) {
    let Some(at) = item.notes.iter().position(|note| is_of_shares(note)) else { return };
    let of_shares: Vec<&str> = item.notes[at..].iter().filter(|note| is_of_shares(note)).map(String::as_str).collect();
    let said = of_shares.join(", ");
    let note = plain(&said).into_owned();
    let head = name.rsplit(' ').next().unwrap_or_default();
    let pieces = note.replace(" and ", ",").replace(" & ", ",");
    let kinds = pieces.split([',', ';']).filter_map(|piece| {
        let kind = without_share(piece.trim(), measures);
        if is_no_kind(kind) {
            return None;
        }
        named(ingredients, &format!("{kind} {head}")).or_else(|| named(ingredients, kind)).map(|found| found.ingredient)
    });
    let mut kinds: Vec<_> = kinds.collect();
    kinds.dedup_by_key(|kind| &kind.id);
    if !kinds.iter().any(|kind| item.ingredient.is_some_and(|known| known.id != kind.id)) {
        return;
    }
    // What was read as a second measure of the whole is that of the first kind.
    let both_weighed = [&item.amount, &item.also].into_iter().all(|measure| measure.as_ref().is_some_and(Measure::is_mass));
    if let Some(first) = item.also.take_if(|_| both_weighed) {
        item.notes[at] = format!("{} {}", first.text, item.notes[at]);
    }
    let half = item
        .amount
        .as_ref()
        .filter(|_| !note.contains(|c: char| c.is_ascii_digit()))
        .map(|whole| whole.clone().times(Factor::times(0.5)).text);
    item.tries.extend(kinds.iter().map(|kind| match &half {
        Some(half) if kinds.len() == 2 => format!("{half} {}", kind.name),
        _ => kind.name.to_string(),
    }));
    item.doubts.push(format!("\"{}\" makes it more than one ingredient: give each a line and an amount of its own", said));
}

fn is_of_shares(note: &str) -> bool {
    let lower = plain(note);
    // "or use self-raising and 1 tsp less powder" is a choice that is not taken.
    if lower.starts_with("or ") {
        return false;
    }
    // "dark, 70 %" is a share of cocoa.
    let figure = |word: &str| word.starts_with(|c: char| c.is_ascii_digit()) && !word.ends_with('%');
    let counted = || lower.split([' ', ',', '(']).any(figure) && (lower.contains(',') || lower.contains(" and "));
    lower.contains("half ") || lower.contains("50/50") || counted()
}

/// "half for the cake", "half in the icing": what it is for, and no kind.
fn is_no_kind(piece: &str) -> bool {
    piece.is_empty()
        || is_done(piece)
        || is_purpose(piece)
        || ["in ", "on ", "to ", "at ", "into ", "with "].iter().any(|word| piece.starts_with(word))
}

/// A kind without the share before it.
fn without_share(piece: &str, measures: Measures) -> &str {
    if let Ok(Some(found)) = lead(piece, measures) {
        return found.rest.trim();
    }
    ["half of it ", "half of the ", "half ", "50/50 ", "a half "]
        .iter()
        .find_map(|share| strip_ignoring_case(piece, share))
        .unwrap_or(piece)
}

#[cfg(test)]
mod tests {
    use super::super::{Item, LineRead, read_line};
    use crate::quantity::Measures;
    use crate::reference::Reference;

    fn item(line: &str) -> Item {
        let reference = Reference::load().expect("the tables");
        match read_line(line, Measures::default(), reference) {
            LineRead::Items(mut items) if items.len() == 1 => items.remove(0),
            _ => panic!("{line}"),
        }
    }

    #[test]
    fn ginger_that_is_grated_is_fresh_wherever_the_word_stands() {
        for line in
            ["1 tbsp ginger, grated", "1 tbsp ginger, peeled and finely grated", "1 tbsp ginger (grated)", "20 g ginger, finely chopped"]
        {
            assert_eq!(item(line).ingredient.map(|known| &*known.id), Some("fresh-ginger"), "{line}");
        }
        for (line, id) in
            [("1 tsp ginger, ground", "ground-ginger"), ("1 tsp ginger, sifted", "ground-ginger"), ("1 tsp nutmeg, grated", "nutmeg")]
        {
            assert_eq!(item(line).ingredient.map(|known| &*known.id), Some(id), "{line}");
        }
    }

    #[test]
    fn a_flour_that_is_half_of_one_kind_and_half_of_another_is_doubted() {
        for line in [
            "300 g flour (half plain, half wholemeal)",
            "300 g flour, half plain, half wholemeal",
            "300 g flour (50/50 plain and wholemeal)",
        ] {
            let item = item(line);
            assert!(item.doubts.iter().any(|doubt| doubt.contains("more than one ingredient")), "{line}: {:?}", item.doubts);
        }
        assert_eq!(item("300 g flour (half plain, half wholemeal)").tries, ["150 g all-purpose flour", "150 g whole wheat flour"]);
        let shared = item("200 g flour (150 g plain, 50 g wholemeal)");
        assert!(shared.also.is_none() && !shared.doubts.is_empty(), "{:?}", shared.doubts);
    }

    #[test]
    fn halves_of_one_ingredient_are_one_ingredient() {
        for line in [
            "200 g butter (half melted, half cold)",
            "200 g sugar (half for the cake, half for the icing)",
            "200 g icing sugar, half in the cake",
            "100 g walnuts (half chopped, half whole)",
            "1 cup half-and-half, chilled",
            "1 cup (120 g) flour, sifted",
        ] {
            let doubts = item(line).doubts;
            assert!(!doubts.iter().any(|doubt| doubt.contains("more than one")), "{line}: {doubts:?}");
        }
    }
}
