//! What nobody measured: "a pinch of salt", "few grains cayenne", "butter, for greasing", "salt to taste". It stays on the list and takes no place in the arithmetic.

use super::Item;
use super::amount::is_measured_within;
use super::name::named;
use super::read::Reader;
use super::words::{NOT_MEASURED, OUTSIDE, SOME, UNMEASURED};
use crate::quantity::{Measures, Pointer, Unit, plain, read_number, strip_ignoring_case, word_number};

/// The name on a line whose amount was never measured, and how the line puts it; nothing where an amount stands.
pub(super) fn unmeasured(line: &str) -> Option<(&str, String)> {
    if let Some(name) = by_opening(line) {
        return Some((name, line[..line.len() - name.len()].trim().to_owned()));
    }
    if line.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let lower = line.to_ascii_lowercase();
    // A word begins where no letter stands before it: "potato rolls" are not to be rolled.
    let begins = |at: &usize| !lower[..*at].ends_with(char::is_alphanumeric);
    let at = NOT_MEASURED.iter().filter_map(|words| lower.match_indices(words).map(|(at, _)| at).find(begins)).min()?;
    // "For the tin: butter and flour".
    if let Some((purpose, name)) = line.split_once(": ").filter(|_| at == 0) {
        return Some((name, purpose.to_owned()));
    }
    let name = line[..at].trim_end_matches(|c: char| c.is_whitespace() || matches!(c, ',' | '(' | '-' | '–' | '—' | ';'));
    (!name.is_empty() && !starts_with_number(name)).then(|| (name, line[at..].trim_end_matches(')').to_owned()))
}

/// What is measured and yet not mixed in: the egg that glazes a dough is none of its eggs.
pub(super) fn on_the_outside(mut item: Item) -> Item {
    let outside = |note: &String| {
        let note = note.to_lowercase();
        OUTSIDE
            .iter()
            .copied()
            .find(|words| note.contains(words) && !["extra", "plus more", "+ more", "plus a", "+ a"].iter().any(|more| note.contains(more)))
    };
    if let Some(words) = item.notes.iter().find_map(outside).filter(|_| item.is_weighable()) {
        item.doubts.push(format!("\"{words}\": it counts as mixed in; where it is not, give it a part of its own"));
    }
    item
}

fn starts_with_number(text: &str) -> bool {
    matches!(read_number(text, &Pointer::ROOT), Ok(Some(_)) | Err(_)) || word_number(text).is_some()
}

/// "a pinch of", "few drops", "some".
fn by_opening(line: &str) -> Option<&str> {
    let mut rest = line;
    // "Extra fine sugar, 200 g" is measured.
    let some = SOME.iter().find_map(|opening| strip_ignoring_case(rest, opening)).filter(|behind| !is_measured_within(behind));
    rest = some.unwrap_or(rest);
    if some.is_none() {
        if let Ok(Some((_, behind))) = read_number(rest, &Pointer::ROOT) {
            rest = behind.trim_start();
        } else if let Some((_, behind)) = word_number(rest) {
            rest = behind.trim_start();
        }
    }
    for size in ["large ", "small ", "big ", "good ", "generous ", "tiny ", "scant "] {
        rest = strip_ignoring_case(rest, size).unwrap_or(rest);
    }
    let end = rest.find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len());
    // A pinch has its spoon, and goes into the formula: what is not there is not multiplied.
    if some.is_none() && Unit::of_word(&plain(&rest[..end]), Measures::Us).is_some_and(|unit| unit.by_the_fingers().is_some()) {
        return None;
    }
    if UNMEASURED.contains(&&*plain(&rest[..end])) {
        let behind = rest[end..].trim_start();
        let behind = strip_ignoring_case(behind, "of ").unwrap_or(behind);
        return (!behind.is_empty()).then_some(behind);
    }
    some
}

/// "Butter the size of an egg": an amount that nobody can weigh.
pub(super) fn by_likeness(line: &str, reader: &Reader<'_>) -> Option<Item> {
    let lower = plain(line);
    let at = lower.find("size of ")?;
    let thing = lower[at + 8..].trim_start_matches("an ").trim_start_matches("a ").split([' ', ',']).next().unwrap_or_default();
    let name = lower[..at].trim_end_matches("the ").trim_end_matches([' ', ',']);
    let name = ["a piece of ", "piece of ", "a lump of ", "lump of "].iter().find_map(|opening| name.strip_prefix(opening)).unwrap_or(name);
    let found = named(reader.ingredients, name);
    let called = found.as_ref().map_or(name.to_owned(), |found| found.ingredient.name.clone().into_owned());
    // What old kitchens took them for: common practice, no source.
    let grams = match thing.trim_end_matches('s') {
        "egg" => Some("2 oz"),
        "walnut" => Some("1 oz"),
        "hazelnut" | "nutmeg" => Some("1 tbsp"),
        _ => None,
    };
    let fault = format!(
        "The size of another thing ({thing}) is no amount: weigh it, or write the weight that is meant; the weights to try are common practice"
    );
    let tries = grams.into_iter().chain(["60 g"]).map(|amount| format!("{amount} {called}")).collect();
    Some(Item { ingredient: found.map(|found| found.ingredient), faults: vec![fault], tries, ..Item::default() })
}
