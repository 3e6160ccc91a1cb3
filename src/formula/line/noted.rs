//! How an item is filled in: a further measure, a remark, a name that was found or was not. Each is noted where it belongs, so that nothing on the line is lost.

use super::Item;
use super::amount::{Lead, Measure};
use super::name::{Named, named};
use crate::quantity::{Code, Counting, Fault, Percent, Pointer, UNEVEN, no_measure, plain, strip_ignoring_case};
use crate::reference::{Filled, Ingredients, is_made};

/// A further measure: the second is kept beside the first, a mass before a volume; what is left over is a remark.
pub(super) fn add(item: &mut Item, measure: Measure) {
    if item.amount.is_none() {
        item.amount = Some(measure);
        return;
    }
    match item.also.take() {
        None => item.also = Some(measure),
        Some(held) => {
            // A measure of another kind says more than one of the same; then grams before ounces.
            let first = item.amount.as_ref().map(Measure::family);
            let rank = |measure: &Measure| {
                let grams = matches!(&measure.amount.counting, Counting::Unit(unit) if unit.id == "gram");
                (Some(measure.family()) != first, measure.is_mass(), grams)
            };
            let (kept, left) = if rank(&measure) > rank(&held) { (measure, held) } else { (held, measure) };
            item.notes.push(left.text);
            item.also = Some(kept);
        }
    }
}

/// "1 tsp heaped baking powder": such a word behind the measure.
pub(super) fn uneven(text: &str) -> Option<(&'static str, &str)> {
    UNEVEN.into_iter().find_map(|word| Some((word, strip_ignoring_case(text, word)?.strip_prefix([' ', ','])?.trim_start())))
}

/// "scant", "heaped": such a word before the unit.
pub(super) fn not_quite(word: Option<&'static str>, measure: &Measure, item: &mut Item) {
    let Some(word) = word else { return };
    item.doubts.push(format!("\"{word}\": the amount is not quite {}", measure.text));
    item.notes.push(word.to_owned());
}

/// A remark; where it says how the cup is filled, that is taken.
pub(super) fn remark(text: &str, item: &mut Item) {
    let lower = plain(text);
    let way = if lower.contains("packed") && !lower.contains("unpacked") {
        Some(Filled::Packed)
    } else if lower.contains("spooned") {
        Some(Filled::Spooned)
    } else if ["sifted then measured", "sifted before", "measured after sifting", "measured sifted"].iter().any(|said| lower.contains(said))
    {
        Some(Filled::Sifted)
    } else if lower.starts_with("dip and sweep") || lower.contains("scooped and level") {
        Some(Filled::Dipped)
    } else {
        None
    };
    item.filled = item.filled.or(way);
    if UNEVEN.contains(&&*lower) {
        item.doubts.push(format!("\"{lower}\": the amount is not quite what it says"));
    }
    item.notes.push(text.to_owned());
}

pub(super) fn fill(item: &mut Item, found: Named) {
    item.ingredient = Some(found.ingredient);
    item.form = found.form;
    item.filled = found.filled.or(item.filled);
    item.assumed = found.assumed.or(item.assumed.take());
    item.notes.extend(found.notes);
    item.aside.extend(found.aside);
    item.slip = found.slip;
    item.doubts.extend(found.doubts);
    item.tries.extend(found.tries);
}

pub(super) fn unknown(name: &str, text: &str, item: &mut Item, ingredients: &Ingredients) {
    if text.trim().is_empty() {
        item.faults.push("The line names no ingredient".to_owned());
        return;
    }
    item.unknown = Some(name.trim().to_owned());
    let lower = plain(name);
    if let Some((first, second)) = lower.split_once(" and ").or_else(|| lower.split_once(" & "))
        && named(ingredients, first).is_some()
    {
        item.faults.push(format!("Two ingredients share one amount: give {first} and {second} a line each"));
        return;
    }
    // "breakfast cup milk", "teacupful of currants".
    let spaces = lower.match_indices(' ').map(|(at, _)| at);
    if let Some(saying) = spaces.take(2).find_map(|at| {
        let word = &lower[..at];
        no_measure(word.strip_suffix("ful").or_else(|| word.strip_suffix("fuls")).unwrap_or(word))
    }) {
        item.faults.push(saying);
        item.tries.extend(ingredients.nearest(&lower).into_iter().map(str::to_owned));
        return;
    }
    // "cider or brandy": the first leaves its kind open.
    let open = lower.split(" or ").next().unwrap_or_default();
    if let Some(kinds) = ingredients.kinds(&lower).or_else(|| ingredients.kinds(open)) {
        item.faults.push(format!("\"{}\" leaves its kind open, and {}: write the kind", name.trim(), kinds.why));
        item.tries = kinds.names;
        return;
    }
    if is_made(&lower) {
        item.faults.push(format!("\"{}\" is made of several ingredients: write these, as a part of its own", name.trim()));
        return;
    }
    item.faults
        .push(format!("\"{}\" is not in the table: see /v1/ingredients, or describe it under \"ingredients\" of the formula", name.trim()));
    item.strange = Some(name.trim().to_owned());
}

/// "1.000 g" is a thousand where a point parts the thousands, and one where it parts the decimals.
pub(super) fn thousands(mut item: Item) -> Item {
    let parted = |measure: &Measure| {
        let (whole, behind) = measure.text.split_once('.')?;
        let digits = behind.bytes().take_while(u8::is_ascii_digit).count();
        let small = matches!(&measure.amount.counting, Counting::Unit(unit) if matches!(unit.id, "gram" | "millilitre"));
        let may_be = small && digits == 3 && behind.as_bytes()[2] == b'0' && matches!(whole.len(), 1 | 2) && !whole.starts_with('0');
        may_be.then(|| format!("{whole}{behind}"))
    };
    if let Some((measure, other)) = item.amount.as_ref().and_then(|measure| Some((measure, parted(measure)?))) {
        item.doubts.push(format!("\"{}\" may mean {other} where a point parts the thousands", measure.text));
        item.tries.push(other);
    }
    item
}

/// Dark chocolate by the share of cocoa that the line tells.
pub(super) fn by_percent(text: &str, item: &mut Item, ingredients: &Ingredients) {
    let Some(at) = text.find('%') else { return };
    let digits = text[..at].trim_end().rsplit(|c: char| !c.is_ascii_digit()).next().unwrap_or_default();
    let cocoa = digits.parse::<u32>().map(|percent| Percent::of_hundred(f64::from(percent)));
    if let Some(known) = cocoa.ok().and_then(|cocoa| ingredients.dark_chocolate(cocoa)) {
        item.ingredient = Some(known);
        item.form = if known.forms().contains(&item.form) { item.form } else { "" };
        item.doubts.retain(|doubt| !doubt.starts_with("\"chocolate\""));
        item.tries.clear();
    }
}

/// "1 000 g flour": thousands that are parted.
pub(super) fn parted(lead: &Lead<'_>) -> Option<Fault> {
    let rest = lead.rest.trim_start();
    if lead.measure.amount.counting != Counting::Nothing || !rest.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let end = rest.match_indices(' ').nth(1).map_or(rest.len(), |(at, _)| at);
    Some(lead.measure.amount.unknown_unit(&rest[..end], &Pointer::ROOT)).filter(|fault| fault.code == Code::AmbiguousNumber)
}

/// A line that is refused for its amount: what may be tried is the line with another number.
pub(super) fn refused(fault: &Fault, line: &str) -> Item {
    let tries = fault.attempts.iter().map(|attempt| line.replacen(&*fault.found, attempt, 1)).collect();
    Item { faults: vec![fault.detail.clone()], tries, ..Item::default() }
}

/// A name alone: its amount is missing.
pub(super) fn alone(mut item: Item) -> Item {
    if item.faults.is_empty() && item.amount.is_none() {
        let name = item.name();
        // "Water 68 %": as many grams for every 100 g of flour.
        if let Some(percent) = item.notes.iter().find_map(|note| note.strip_suffix('%')) {
            item.tries.push(format!("{} g {name}", percent.trim()));
            item.doubts.push(
                "A percentage stands on the line and no amount: write the grams, as many as the percentage for 100 g of flour".to_owned(),
            );
            return item;
        }
        item.doubts.push("No amount stands on the line".to_owned());
        item.tries.extend([format!("100 g {name}"), format!("{name}, to taste")]);
    }
    item
}
