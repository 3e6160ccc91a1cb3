//! What is said behind an amount and changes it: the size of eggs, the shell they were weighed in, another ingredient that only a remark tells of.

use super::Item;
use super::amount::{Measure, lead, rendered};
use super::name::named;
use super::read::Reader;
use super::text::is_figure;
use crate::quantity::{Amount, Counting, Family, Number, Size, plain, size_alone};
use crate::reference::{EggPart, Ingredient, Trait, market_said, without_shell};

impl Reader<'_> {
    pub(super) fn weighed_up(&self, mut item: Item) -> Item {
        may_be_made(&mut item);
        if item.notes.is_empty() {
            return item;
        }
        if let Some(part) = item.ingredient.and_then(Ingredient::egg_part) {
            sized(&mut item);
            if part == EggPart::Whole {
                in_shell(&mut item);
            }
        }
        self.told_beside(&mut item);
        item
    }

    /// "espresso powder dissolved in 1 tbsp hot water": the water is in no line, and is not passed over.
    fn told_beside(&self, item: &mut Item) {
        if !item.doubts.is_empty() || !item.faults.is_empty() {
            return;
        }
        let other = |note: &String| {
            let at = note.find(is_figure)?;
            // "or 1 cup milk", "if you like it sweet, 1 cup": a choice is no more of it.
            let before = plain(&note[..at]);
            if before.split(' ').any(|word| matches!(word, "or" | "if" | "not" | "instead" | "from")) {
                return None;
            }
            let found = lead(&note[at..], self.measures).ok().flatten()?;
            let name = found.rest.split([',', '(', '+']).next().unwrap_or_default();
            let measured = matches!(found.measure.family(), Family::Mass | Family::Volume);
            let sure = |name: &str| named(self.ingredients, name).filter(|known| measured && known.doubts.is_empty());
            // "+ sugar 50 g": the name may stand before its amount.
            let known = if name.trim().is_empty() { last_words(&before).find_map(sure) } else { sure(name) }?.ingredient;
            let eggs = known.egg_part().is_some() && item.ingredient.and_then(Ingredient::egg_part).is_some();
            (!eggs && item.ingredient.is_some_and(|mine| mine.id != known.id)).then(|| format!("{} {}", found.measure.text, known.name))
        };
        // "beaten with enough milk to make 300 ml".
        let enough = |note: &String| {
            let name = note.split_once("enough ")?.1.split(" to ").next()?;
            let known = named(self.ingredients, name).filter(|known| known.doubts.is_empty())?.ingredient;
            item.ingredient.is_some_and(|mine| mine.id != known.id).then(|| known.name.to_string())
        };
        if let Some(other) = item.notes.iter().find_map(other).or_else(|| item.notes.iter().find_map(enough)) {
            item.doubts.push(format!("{other} stands in a remark and is not in the formula: where it goes in, give it a line of its own"));
            item.tries.push(other);
        }
    }
}

/// The last words of a text: three of them, two, one.
fn last_words(text: &str) -> impl Iterator<Item = &str> {
    let text = text.trim_end();
    let from = move |count: usize| text.rmatch_indices(' ').nth(count - 1).map_or(text, |(at, _)| &text[at + 1..]);
    [3, 2, 1].into_iter().map(from)
}

/// "12 bread rolls" may go into the bowl or come out of the oven.
fn may_be_made(item: &mut Item) {
    const BY_THE_PIECE: [&str; 6] = ["croissant", "roll", "bun", "muffin", "tortilla", "bread"];
    let Some(goods) = item.ingredient.filter(|known| known.is(Trait::Goods)) else { return };
    let counted = item.amount.as_ref().filter(|amount| amount.family() == Family::Count && item.also.is_none());
    let Some(text) = counted.map(|amount| amount.text.clone()).filter(|text| text.ends_with("piece") || text.ends_with("pieces")) else {
        return;
    };
    if goods.name.rsplit(' ').next().is_some_and(|word| BY_THE_PIECE.contains(&word)) {
        item.doubts.push(format!("{text} of {} are taken as bought; where the formula makes them, write what it makes", goods.name));
        item.tries.push(format!("Makes {text}"));
    }
}

/// "3 eggs (medium)", "2 eggs, size M", "2 egg whites (from large eggs)".
fn sized(item: &mut Item) {
    let Some(amount) = item.amount.as_mut().filter(|amount| !matches!(amount.amount.counting, Counting::Size(_))) else { return };
    let Some((at, size)) = item.notes.iter().enumerate().find_map(|(at, note)| Some((at, size_said(note)?))) else { return };
    let mut sized = amount.amount.clone();
    sized.put_in_size(size);
    if sized.counting != Counting::Size(size) {
        return;
    }
    let market = size.market.map_or(String::new(), |market| format!("{} ", market_said(market)));
    let text = rendered(&sized.number, &format!("{market}{}", size.class));
    *amount = Measure { amount: sized, text };
    let note = item.notes.remove(at);
    // "medium, at room temperature".
    if let Some((_, behind)) = note.split_once(',') {
        item.notes.insert(at, behind.trim().to_owned());
    }
}

fn size_said(note: &str) -> Option<Size> {
    let first = plain(note.split(',').next().unwrap_or_default());
    let first = ["size ", "sized ", "from ", "of "].iter().find_map(|word| first.strip_prefix(word)).unwrap_or(&first);
    let first =
        [" size", " sized", "-sized", "-size", " eggs", " egg", " ones"].iter().find_map(|word| first.strip_suffix(word)).unwrap_or(first);
    size_alone(first)
}

/// "4 eggs, weighed in their shells (240 g)": a formula counts what goes into the bowl.
fn in_shell(item: &mut Item) {
    let says = |note: &String| {
        let note = plain(note);
        let shell = note.split(|c: char| !c.is_alphabetic()).any(|word| matches!(word, "shell" | "shells"));
        let out = ["without", "out of", "no shell", "minus", "removed", "less"].iter().any(|word| note.contains(word));
        shell && !out && ["in ", "with ", "on", "including", "incl"].iter().any(|word| note.contains(word))
    };
    if !item.notes.iter().any(says) {
        return;
    }
    let Some(measure) = [&mut item.amount, &mut item.also].into_iter().flatten().find(|measure| measure.is_mass()) else { return };
    let bare = measure.without_shell();
    item.doubts.push(format!("{} is taken as the weight in the shell: {} without it", measure.text, bare.text));
    *measure = bare;
}

impl Measure {
    /// What is left of eggs that were weighed in their shells: whole grams, or hundredths of another unit.
    pub fn without_shell(&self) -> Self {
        let Counting::Unit(unit) = self.amount.counting else { return self.clone() };
        let parts = if unit.id == "gram" { 1.0 } else { 100.0 };
        let bare = |figure: f64| (figure * without_shell().value().value() * parts).round() / parts;
        let Number { low, value, high } = self.amount.number;
        let amount = Amount { number: Number { low: bare(low), value: bare(value), high: bare(high) }, counting: Counting::Unit(unit) };
        Self { text: rendered(&amount.number, unit.one), amount }
    }
}
