//! The walk over one line: amounts, further measures, the name, what stands behind it. It stands apart from the words and the numbers, which are read by their own files.

use super::amount::{Lead, lead, times, unit};
use super::beside::{Beside, opened, otherwise};
use super::brackets::without_brackets;
use super::drained::is_tinned;
use super::grade::{graded, without_grade};
use super::heading::{bare_heading, heading, style_heading};
use super::name::{Named, named};
use super::noted::{add, alone, by_percent, fill, not_quite, parted, refused, remark, thousands, uneven, unknown};
use super::taken::{OF_USUAL_SIZE, from_thing, part_of};
use super::text::{
    bracketed, cleaned, is_each, is_figure, is_no_count, is_only_done, is_purpose, segments, told_once, unlisted, unmarked, without_percent,
};
use super::things::{many_without_a_unit, unequal};
use super::unmeasured::{by_likeness, on_the_outside, unmeasured, unsized_word};
use super::within::{kind_told, settle, told_in_bracket};
use super::{Item, LineRead};
use crate::quantity::{Counting, Family, Measures, longer, no_measure, plain, strip_ignoring_case};
use crate::reference::{Ingredient, Ingredients, Reference, Trait};

/// The longest line that is read.
const LONGEST: usize = 400;

/// So many numbers of a line are tried as its amount: a line with more is no ingredient line.
const NUMBERS: usize = 8;

/// What is read with.
pub(super) struct Reader<'a> {
    pub(super) measures: Measures,
    pub(super) ingredients: &'a Ingredients,
    pub(super) reference: &'static Reference,
}

/// Reads one written line.
pub fn read_line(written: &str, measures: Measures, reference: &'static Reference) -> LineRead {
    let reader = Reader { measures, ingredients: &reference.ingredients, reference };
    let unmarked = unmarked(written);
    let line = unlisted(&unmarked);
    if longer(line, LONGEST) {
        return LineRead::Items(vec![Item { faults: vec![format!("A line has at most {LONGEST} letters: part it")], ..Item::default() }]);
    }
    let cleaned = told_once(cleaned(line));
    if let Some(beside) = opened(&cleaned, reference) {
        return LineRead::Beside(Box::new(beside));
    }
    if let Some(part) = heading(line, reader.ingredients) {
        return LineRead::Heading(part);
    }
    let (bare, grade) = without_grade(&cleaned, reader.ingredients);
    let items = reader.items(&bare).into_iter().map(|item| graded(item, grade)).map(on_the_outside).map(thousands);
    let items: Vec<Item> = items.map(|item| reader.drained(reader.weighed_up(item), &cleaned)).collect();
    if items.iter().any(|item| item.ingredient.is_some()) {
        // "Levain" by itself is what a part is called, though it is an ingredient too.
        let alone = matches!(&*items, [one] if one.amount.is_none() && !one.unmeasured && !cleaned.split('(').next().is_some_and(|name| name.trim_end().contains(' ')));
        return match bare_heading(&cleaned).filter(|_| alone) {
            Some(part) => LineRead::Heading(part),
            None => LineRead::Items(items),
        };
    }
    match bare_heading(&cleaned)
        .or_else(|| style_heading(&cleaned, reference))
        .map(LineRead::Heading)
        .or_else(|| otherwise(&cleaned, reference).map(|said| LineRead::Beside(Box::new(said))))
    {
        Some(other) => other,
        None => LineRead::Items(items),
    }
}

/// Reads a line of the method for its tin and its oven.
pub fn read_beside(written: &str, reference: &'static Reference) -> Option<Beside> {
    let line = unlisted(written);
    if longer(line, LONGEST) {
        return None;
    }
    otherwise(&cleaned(line), reference)
}

impl Reader<'_> {
    pub(super) fn items(&self, line: &str) -> Vec<Item> {
        if let Some(item) = by_likeness(line, self) {
            return vec![item];
        }
        if let Some((name, words)) = unmeasured(line) {
            let item = self.unmeasured(name, words);
            let pair = self.pair(name).filter(|_| item.ingredient.is_none());
            return match pair {
                Some(pair) => pair.map(|one| Item { unmeasured: true, notes: item.notes.clone(), ..one }).into(),
                None => vec![item],
            };
        }
        if let Some(list) = self.barred(line) {
            return self.items(&list);
        }
        if let Some((part, rest)) = part_of(line) {
            let mut items = self.items(rest);
            items.iter_mut().for_each(|item| item.notes.push(part.to_owned()));
            return items;
        }
        if let Some(items) = self.listed(line).or_else(|| self.thing_of(line)).or_else(|| self.of_a_length(line)) {
            return items;
        }
        match lead(line, self.measures) {
            Err(fault) => vec![refused(&fault, line)],
            Ok(Some(lead)) => self.either_way(line, lead),
            // "pinch of nutmeg", "large pinch of saffron": one is meant.
            Ok(None) if unit(unsized_word(line), self.measures).is_some_and(|(unit, ..)| unit.by_the_fingers().is_some()) => {
                self.items(&format!("one {}", unsized_word(line)))
            }
            // "tin of coconut milk (400 ml)", "jar (340 g) jam": one is meant.
            Ok(None)
                if super::amount::pack(line).is_some_and(|(word, behind)| {
                    matches!(word, "can" | "jar" | "carton" | "tub" | "bottle") && (behind.starts_with(" of ") || behind.starts_with(" ("))
                }) =>
            {
                self.items(&format!("one {line}"))
            }
            Ok(None) => self.name_first(line),
        }
    }

    fn unmeasured(&self, name: &str, words: String) -> Item {
        let mut item = Item { unmeasured: true, ..Item::default() };
        item.notes.push(words);
        self.describe(self.without_piece(name), &mut item);
        item
    }

    /// "juice of 2 lemons".
    pub(super) fn thing_of(&self, line: &str) -> Option<Vec<Item>> {
        let found = from_thing(line, self.measures, self.ingredients)?;
        let mut behind = Item::default();
        let rest = without_brackets(found.rest, &mut behind, self);
        behind.notes.extend(segments(&rest).into_iter().filter(|s| !s.is_empty()).map(str::to_owned));
        let items = found.taken.into_iter().map(|taken| {
            let mut item = behind.clone();
            item.ingredient = Some(taken.ingredient);
            match (taken.measure, item.amount.take()) {
                (Some(measure), further) => (item.amount, item.also) = (Some(measure), further),
                (None, Some(further)) => item.amount = Some(further),
                (None, None) => item.doubts.push("No amount stands on the line".to_owned()),
            }
            if found.sized {
                item.doubts.push(OF_USUAL_SIZE.to_owned());
            }
            item
        });
        Some(items.collect())
    }

    pub(super) fn amount_first(&self, line: &str, lead: Lead<'_>) -> Vec<Item> {
        if let Some(fault) = parted(&lead) {
            return vec![refused(&fault, line)];
        }
        let mut item = Item { filled: lead.filled, ..Item::default() };
        let behind = uneven(lead.rest.trim_start_matches([' ', ',']));
        not_quite(lead.inexact.or(behind.map(|(word, _)| word)), &lead.measure, &mut item);
        item.notes.extend(lead.pack.map(str::to_owned));
        let count = lead.measure.clone();
        item.amount = Some(lead.measure);
        let rest = self.further(behind.map_or(lead.rest, |(_, rest)| rest), &mut item);
        let rest = self.lessened_behind(packed(rest.trim_start(), &mut item, self.ingredients), &mut item);
        if let Some(names) = ["each of: ", "each of ", "each: ", "each ", "ea. ", "ea ", "pcs. ", "pcs ", "nos. ", "nos ", "no. "]
            .iter()
            .find_map(|word| strip_ignoring_case(rest, word))
        {
            return self.shared(names, &item);
        }
        if let Some(items) = self.in_two_measures(rest, &item).or_else(|| self.two_things(line, rest, &item)) {
            return items;
        }
        self.describe(rest, &mut item);
        self.counted_behind(rest, &mut item);
        unequal(lead.size, &mut item);
        if item.ingredient.and_then(Ingredient::egg_part).is_some() && item.also.is_none() {
            // "2 x 59 g eggs" are two eggs: what they weigh stands beside.
            item.also = times(line).and_then(|number| item.amount.replace(number));
        }
        self.made_of(item, &count)
    }

    /// Measures that follow the first: "(180 g)", "/ 240 ml", "or 240 ml"; gives what stands behind.
    fn further<'t>(&self, mut rest: &'t str, item: &mut Item) -> &'t str {
        loop {
            let trimmed = rest.trim_start();
            if let Some((inner, behind)) = bracketed(trimmed) {
                self.bracket(inner, item);
                rest = behind;
                continue;
            }
            let marked =
                ["/", "|", "=", "≈", "→", "~", ",", ";", "or ", "–", "—", "- ", ":"].iter().find_map(|mark| trimmed.strip_prefix(mark));
            let begins = trimmed.starts_with(|c: char| c.is_ascii_digit()).then_some(trimmed);
            let Some(further) = marked.or(begins).and_then(|text| lead(text, self.measures).ok().flatten()) else { return rest };
            // "7 g/1 sachet yeast".
            let packed = trimmed.starts_with(['/', '=']) && matches!(further.measure.amount.counting, Counting::Unit(_));
            if !matches!(further.measure.family(), Family::Mass | Family::Volume) && !packed {
                return rest;
            }
            add(item, further.measure);
            rest = further.rest;
        }
    }

    /// The name, and what is said around it.
    pub(super) fn describe(&self, rest: &str, item: &mut Item) {
        let text = without_brackets(rest, item, self);
        let parts = segments(&text);
        let tinned = if is_tinned(item) { self.tinned(&text) } else { (None, 0) };
        let (found, used) = match if tinned.0.is_some() { tinned } else { self.name(&parts) } {
            // "bread flour 100 %": the percentage of the baker stands behind.
            (None, _) => match parts.first().and_then(|name| without_percent(name)) {
                Some((bare, percent)) => {
                    let found = named(self.ingredients, bare);
                    item.notes.extend(found.as_ref().map(|_| percent.to_owned()));
                    (found, 1)
                }
                None => (parts.first().and_then(|name| kind_told(name, item, self.ingredients)), 1),
            },
            found => found,
        };
        let found = found.or_else(|| told_in_bracket(parts.first().copied().unwrap_or_default(), item, self.ingredients));
        let Some(found) = found else {
            if let Some(name) = self.measured_behind(parts.first().copied().unwrap_or_default(), item) {
                return self.describe(&text.replacen(parts[0], name, 1), item);
            }
            let name = parts.first().copied().unwrap_or_default();
            unknown(name, &text, item, self.ingredients);
            item.notes.extend(parts.iter().skip(1).filter(|s| !s.is_empty()).map(|s| (*s).to_owned()));
            return;
        };
        // "1 wine glass sherry": what is set aside is a measure of no set size.
        item.faults.extend(no_measure(&found.aside.join(" ")));
        fill(item, found);
        for part in parts.iter().skip(used).filter(|part| !part.is_empty()) {
            self.behind(part, item);
        }
        settle(parts.first().copied().unwrap_or_default(), item, self.measures, self.ingredients);
        if item.ingredient.is_some_and(|known| known.is(Trait::DarkChocolate)) {
            by_percent(rest, item, self.ingredients);
        }
    }

    /// "1 tin pear halves": what is in it is tinned.
    fn tinned(&self, text: &str) -> (Option<Named>, usize) {
        let (mut found, used) = self.name(&segments(&format!("canned {}", text.trim_start())));
        if let Some(found) = &mut found {
            found.notes = found
                .notes
                .iter()
                .filter_map(|note| note.strip_prefix("canned").map_or(Some(&**note), |rest| rest.strip_prefix(' ')))
                .map(str::to_owned)
                .collect();
        }
        (found.filter(|found| found.aside.is_empty() && !found.slip), used)
    }

    /// The name is the first stretch before a comma, or two of them: "sugar, brown"; "chopped, toasted walnuts".
    fn name(&self, parts: &[&str]) -> (Option<Named>, usize) {
        let [first, more @ ..] = parts else { return (None, 0) };
        if let Some(second) = more.first() {
            let whole = format!("{first}, {second}");
            if self.ingredients.named(&plain(&whole)).is_some() && !is_only_done(second) {
                return (named(self.ingredients, &whole), 2);
            }
        }
        if let Some(found) = named(self.ingredients, first) {
            // "cocoa powder, Dutch-process": the kind stands behind.
            let kind = more.first().filter(|second| !is_only_done(second)).map(|second| plain(&format!("{second} {first}")).into_owned());
            let kind = kind.filter(|whole| self.ingredients.named(whole).is_some_and(|other| other.id != found.ingredient.id));
            return match kind {
                Some(whole) => (named(self.ingredients, &whole), 2),
                None => (Some(found), 1),
            };
        }
        match more.first() {
            Some(second) => (named(self.ingredients, &format!("{first} {second}")).filter(|found| found.doubts.is_empty()), 2),
            None => (None, 1),
        }
    }

    /// What stands behind a comma: a measure, a way of filling, or what is done after measuring.
    fn behind(&self, part: &str, item: &mut Item) {
        if let Some(rest) = self.lessened(part, item) {
            return Some(rest.trim()).filter(|rest| !rest.is_empty()).into_iter().for_each(|rest| remark(rest, item));
        }
        if let Ok(Some(further)) = lead(part, self.measures)
            && matches!(further.measure.family(), Family::Mass | Family::Volume)
            && !matches!(further.measure.amount.counting, Counting::Nothing)
        {
            let rest = further.rest.trim();
            // "divided: 3/4 cup for the cake, 1/4 cup for topping": a share of it is not the same in a second measure.
            if is_purpose(rest) {
                return remark(part, item);
            }
            if named(self.ingredients, rest).is_some_and(|found| {
                found.doubts.is_empty() && Some(found.ingredient.id.as_ref()) != item.ingredient.map(|known| &*known.id)
            }) {
                item.doubts.push(format!("\"{part}\" may be another ingredient: give it a line of its own"));
            }
            add(item, further.measure);
            if !rest.is_empty() {
                remark(rest, item);
            }
            return;
        }
        self.offered(part, item);
        remark(part, item);
    }

    /// "Flour 200 g", "butter: 1 stick", or a name alone.
    pub(super) fn name_first(&self, line: &str) -> Vec<Item> {
        // "Salt .5 oz" begins with its point.
        let pointed = |at: usize| line[..at].ends_with(' ') && line[at + 1..].starts_with(|c: char| c.is_ascii_digit());
        let begins = |at: usize| at > 0 && !line[..at].ends_with(|c: char| c.is_alphanumeric() || c == '.');
        let starts = line.char_indices().filter(|(at, c)| is_figure(*c) && begins(*at) || *c == '.' && pointed(*at));
        for (at, _) in starts.take(NUMBERS) {
            let name = name_before(line, at);
            let found = match lead(&line[at..], self.measures) {
                // "Vanilla 1 pod": the piece stands behind its number.
                Ok(Some(found)) if let Some(piece) = self.piece_behind(name, &found) => return self.items(&piece),
                Ok(Some(found)) => found,
                // "Buttermilk 110 % 1,100 g": a number with two readings.
                Err(fault) if named(self.ingredients, without_percent(name).map_or(name, |(bare, _)| bare)).is_some() => {
                    return vec![refused(&fault, line)];
                }
                _ => continue,
            };
            if name.is_empty()
                || matches!(found.measure.amount.counting, Counting::Nothing) && (!self.is_counted(name) || is_no_count(found.rest))
                || line[..at].trim_end().ends_with(':') && self.labels(name, found.rest)
            {
                continue;
            }
            let mut item = Item { amount: Some(found.measure.clone()), filled: found.filled, ..Item::default() };
            self.describe(name, &mut item);
            if item.ingredient.is_none() {
                // "Water 68% 680 g": the percentage of the baker stands between.
                let Some((bare, percent)) = without_percent(name) else { continue };
                item = Item { amount: item.amount, filled: item.filled, notes: vec![percent.to_owned()], ..Item::default() };
                self.describe(bare, &mut item);
            }
            if item.ingredient.is_none() {
                continue;
            }
            let open = line[..at].trim_end().ends_with('(');
            let rest = found.rest.trim_start().strip_prefix(')').filter(|_| open).unwrap_or(found.rest);
            let rest = self.further(rest, &mut item);
            many_without_a_unit(&mut item);
            not_quite(found.inexact, &found.measure, &mut item);
            // "Flour 250 g   Butter 125 g": two columns.
            if self.stands_alone(rest.trim()) {
                let mut items = self.made_of(item, &found.measure);
                items.append(&mut self.items(rest.trim()));
                return items;
            }
            let rest = without_brackets(rest, &mut item, self).into_owned();
            segments(&rest).into_iter().filter(|part| !part.is_empty() && !is_each(part)).for_each(|part| self.behind(part, &mut item));
            return self.made_of(item, &found.measure);
        }
        if let Some(items) = self.pinched_behind(line).or_else(|| self.labelled(line)) {
            return items;
        }
        if let Some(item) = self.unitless(line) {
            return vec![item];
        }
        let mut item = Item::default();
        self.describe(line, &mut item);
        let pair = self.pair(line).filter(|_| item.ingredient.is_none());
        pair.map_or_else(|| vec![item], Vec::from).into_iter().map(alone).collect()
    }
}

/// The name before a number at this place: "Butter: ", "Flour ....", "Eggs (large) x ".
fn name_before(line: &str, at: usize) -> &str {
    let parts = |c: char| c.is_whitespace() || matches!(c, ':' | '-' | '–' | '—' | '|' | ',' | '.' | '…' | '=' | '(' | '~' | ';');
    let name = line[..at].trim_end_matches(parts);
    [" x", " ×"].iter().find_map(|times| name.strip_suffix(times)).unwrap_or(name)
}

/// "12 oz bag chocolate chips": the bag holds what was weighed.
fn packed<'t>(rest: &'t str, item: &mut Item, ingredients: &Ingredients) -> &'t str {
    let bag = ["sachet of ", "sachet ", "packet of ", "packet ", "envelope "].iter().find_map(|word| strip_ignoring_case(rest, word));
    let spoon = ["spoons of ", "spoons ", "spoon of ", "spoon ", "sp. ", "sp "].iter().find_map(|word| strip_ignoring_case(rest, word));
    let of_volume = item.amount.as_ref().is_some_and(|measure| measure.family() == Family::Volume);
    let rest = spoon.filter(|_| of_volume).unwrap_or(rest);
    let rest = bag.filter(|_| item.amount.as_ref().is_some_and(super::Measure::is_mass)).unwrap_or(rest);
    let weighed = item.amount.as_ref().is_some_and(|measure| matches!(measure.family(), Family::Mass | Family::Volume));
    // "tub margarine" is a margarine.
    let whole = || segments(rest).first().is_some_and(|name| ingredients.named(&plain(name)).is_some());
    match super::amount::pack(rest).filter(|(word, behind)| weighed && *word != "half" && !behind.trim().is_empty() && !whole()) {
        Some((word, behind)) => {
            item.notes.push(word.to_owned());
            behind.trim_start()
        }
        None => rest,
    }
}
