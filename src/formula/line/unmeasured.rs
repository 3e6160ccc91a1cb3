//! What nobody measured: "a pinch of salt", "few grains cayenne", "butter, for greasing", "salt to taste". It stays on the list and takes no place in the arithmetic.

use super::Item;
use super::amount::is_measured_within;
use super::name::{Named, named};
use super::read::Reader;
use super::words::{NOT_MEASURED, OUTSIDE, SOME, UNMEASURED};
use crate::quantity::{Measures, Pointer, Unit, plain, read_number, strip_ignoring_case, word_number};

/// The name on a line whose amount was never measured, and how the line puts it; nothing where an amount stands.
pub(super) fn unmeasured(line: &str) -> Option<(&str, String)> {
    if let Some(name) = by_opening(line) {
        return Some((name, line[..line.len() - name.len()].trim().to_owned()));
    }
    // "Salt & pepper to taste (2:1 ratio)": in a bracket a number may stand that measures nothing.
    let outside = line.split('(').next().unwrap_or_default();
    if outside.contains(|c: char| c.is_ascii_digit()) || outside.len() < line.len() && is_measured_within(line) {
        return None;
    }
    if let Some(found) = by_closing(line) {
        return Some(found);
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
    (!name.is_empty() && !starts_with_number(name)).then(|| (name, closed(&line[at..]).to_owned()))
}

/// Without the bracket that closes what was opened before.
fn closed(words: &str) -> &str {
    if words.contains('(') { words } else { words.trim_end_matches(')') }
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
    rest = unsized_word(rest);
    let end = rest.find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len());
    // A pinch has its spoon, and goes into the formula: what is not there is not multiplied.
    if some.is_none() && Unit::of_word(&plain(&rest[..end]), Measures::Us).is_some_and(|unit| unit.by_the_fingers().is_some()) {
        return None;
    }
    if UNMEASURED.contains(&&*plain(&rest[..end])) {
        let behind = rest[end..].trim_start();
        let behind = strip_ignoring_case(behind, "of ").unwrap_or(behind);
        // A lump of sugar is a cube, and is counted.
        if rest.get(..4).is_some_and(|word| word.eq_ignore_ascii_case("lump")) && plain(behind).contains("sugar") {
            return None;
        }
        return (!behind.is_empty()).then_some(behind);
    }
    some
}

/// A text without the words that say how large a pinch or a knob is.
pub(super) fn unsized_word(text: &str) -> &str {
    ["large ", "small ", "big ", "good ", "generous ", "tiny ", "scant ", "healthy ", "fat "]
        .iter()
        .fold(text, |rest, size| strip_ignoring_case(rest, size).unwrap_or(rest))
}

/// "Olive oil, a drizzle", "butter – a small knob": so much by the eye, behind the name. A pinch has its spoon.
fn by_closing(line: &str) -> Option<(&str, String)> {
    let (name, tail) = line.rsplit_once([':', ',', '–', '—', '|']).or_else(|| line.rsplit_once(" - "))?;
    let (name, tail) = (name.trim(), tail.trim());
    let bare = ["a few ", "a ", "an ", "one ", "some "].iter().find_map(|article| strip_ignoring_case(tail, article)).unwrap_or(tail);
    let bare = plain(unsized_word(bare));
    let by_eye = UNMEASURED.contains(&&*bare) && Unit::of_word(&bare, Measures::Us).is_none_or(|unit| unit.by_the_fingers().is_none());
    (by_eye && !name.is_empty()).then(|| (name, tail.to_owned()))
}

/// What is likened, and to what: "butter the size of an egg", "a walnut-sized knob of butter", "a thumb of ginger".
fn likened(line: &str) -> Option<(&str, &str)> {
    const THINGS: [&str; 5] = ["egg", "walnut", "hazelnut", "nutmeg", "thumb"];
    if let Some(at) = line.find("size of ") {
        let thing = line[at + 8..].trim_start_matches("an ").trim_start_matches("a ").split([' ', ',']).next().unwrap_or_default();
        return Some((line[..at].trim_end_matches("the ").trim_end_matches([' ', ',']), thing));
    }
    let bare = ["a ", "an ", "one ", "1 "].iter().find_map(|article| line.strip_prefix(article)).unwrap_or(line);
    THINGS.iter().find_map(|thing| {
        let rest = bare.strip_prefix(thing)?;
        let sized = ["-sized ", "-size ", " sized ", " size "].iter().find_map(|mark| rest.strip_prefix(mark));
        let of = sized.and_then(|rest| Some(rest.split_once("of ").filter(|(_, name)| !name.is_empty())?.1));
        // "A walnut of butter": a thumb is no other thing's name.
        of.or_else(|| rest.strip_prefix(" of ")).map(|name| (name, *thing))
    })
}

/// "1-inch piece of ginger", "2 cm ginger": of a root so long nobody has weighed how thick it is.
fn by_length<'l>(line: &'l str, reader: &Reader<'_>) -> Option<(&'l str, &'static str)> {
    let (_, rest) = read_number(line, &Pointer::ROOT).ok().flatten()?;
    let rest = rest.trim_start_matches(['-', ' ']);
    let rest = ["inches ", "inch ", "in ", "in. ", "cm ", "\" "].iter().find_map(|unit| rest.strip_prefix(unit))?;
    let piece = ["piece ", "knob ", "length ", "chunk ", "thumb "].iter().find_map(|piece| rest.strip_prefix(piece));
    let of = piece.unwrap_or(rest);
    let name = of.strip_prefix("of ").unwrap_or(of);
    (piece.is_some() || fresh_root(name, reader).is_some()).then_some((name, "length"))
}

/// What is taken by the thumb or by its length is fresh: dried ginger has neither.
fn fresh_root(name: &str, reader: &Reader<'_>) -> Option<Named> {
    let bare = name.split([',', '(']).next()?.trim();
    let bare = ["fresh ", "root "].iter().find_map(|word| bare.strip_prefix(word)).unwrap_or(bare);
    let known = matches!(bare, "ginger" | "ginger root" | "root ginger" | "gingerroot" | "turmeric" | "turmeric root");
    known.then(|| named(reader.ingredients, &format!("fresh {}", bare.replace("root", "").trim()))).flatten()
}

/// "Butter the size of an egg": an amount that nobody can weigh.
pub(super) fn by_likeness(line: &str, reader: &Reader<'_>) -> Option<Item> {
    let lower = plain(line);
    let (name, thing) = likened(&lower).or_else(|| by_length(&lower, reader))?;
    let name = ["a piece of ", "piece of ", "a lump of ", "lump of ", "a knob of ", "knob of "]
        .iter()
        .find_map(|opening| name.strip_prefix(opening))
        .unwrap_or(name);
    let root = fresh_root(name, reader);
    let of_root = root.is_some();
    let found = root.or_else(|| named(reader.ingredients, name));
    let called = found.as_ref().map_or(name.to_owned(), |found| found.ingredient.name.clone().into_owned());
    // What old kitchens took them for: common practice, no source.
    let weights: &[&str] = match thing.trim_end_matches('s') {
        "egg" => &["2 oz", "60 g"],
        "walnut" => &["1 oz", "30 g"],
        "hazelnut" | "nutmeg" => &["1 tbsp", "15 g"],
        "thumb" | "length" if of_root => &["15 g", "25 g"],
        "thumb" | "length" => &[],
        _ => &["60 g"],
    };
    let what =
        if thing == "length" { "A length is no weight".to_owned() } else { format!("The size of another thing ({thing}) is no amount") };
    let practice = if weights.is_empty() { "" } else { "; the weights to try are common practice" };
    let fault = format!("{what}: weigh it, or write the weight that is meant{practice}");
    let tries = weights.iter().map(|amount| format!("{amount} {called}")).collect();
    Some(Item { ingredient: found.map(|found| found.ingredient), faults: vec![fault], tries, ..Item::default() })
}
