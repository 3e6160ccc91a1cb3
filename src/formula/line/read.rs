//! The walk over one line: amounts, further measures, the name, what stands behind it. It stands apart from the words and the numbers, which are read by their own files.

use super::amount::{Lead, Measure, lead, rendered};
use super::heading::heading;
use super::name::{Named, named, suggested};
use super::taken::{counted, from_thing, made_of};
use super::unmeasured::unmeasured;
use super::{Item, LineRead};
use crate::quantity::{Counting, Family, Fault, Measures, Unit, plain};
use crate::reference::{Filled, Ingredients, Reference};

/// The longest line that is read.
const LONGEST: usize = 400;

/// What is read with.
struct Reader<'a> {
    measures: Measures,
    ingredients: &'a Ingredients,
}

/// Reads one written line.
pub fn read_line(written: &str, measures: Measures, reference: &'static Reference) -> LineRead {
    let reader = Reader { measures, ingredients: &reference.ingredients };
    let line = unlisted(written);
    if line.chars().count() > LONGEST {
        return LineRead::Items(vec![Item { faults: vec![format!("A line has at most {LONGEST} letters: part it")], ..Item::default() }]);
    }
    if let Some(part) = heading(line, reader.ingredients) {
        return LineRead::Heading(part);
    }
    let cleaned = cleaned(line);
    LineRead::Items(reader.items(&cleaned))
}

/// Without the mark of a list.
fn unlisted(line: &str) -> &str {
    let line = line.trim().trim_start_matches('\u{feff}');
    let marks = ["- [ ] ", "- ", "– ", "• ", "* ", "· ", "□ ", "☐ ", "▢ ", "◦ ", "+ "];
    marks.iter().find_map(|mark| line.strip_prefix(mark)).unwrap_or(line).trim()
}

/// Blanks of every kind made plain; borrowed where they are plain already.
fn cleaned(line: &str) -> std::borrow::Cow<'_, str> {
    if line.is_ascii() && !line.contains("  ") && !line.contains('\t') {
        return line.into();
    }
    let mut out = String::with_capacity(line.len());
    for letter in unicode_normalization::UnicodeNormalization::nfc(line) {
        match letter {
            '\u{200b}' | '\u{200d}' | '\u{2060}' | '\u{ad}' => {}
            c if c.is_whitespace() => {
                if !out.ends_with(' ') {
                    out.push(' ');
                }
            }
            '’' | '‘' => out.push('\''),
            '‐' | '‑' => out.push('-'),
            c => out.push(c),
        }
    }
    out.into()
}

impl Reader<'_> {
    fn items(&self, line: &str) -> Vec<Item> {
        if let Some(item) = by_likeness(line, self) {
            return vec![item];
        }
        if let Some((name, words)) = unmeasured(line) {
            return vec![self.unmeasured(name, words)];
        }
        if let Some(items) = self.from_thing(line) {
            return items;
        }
        match lead(line, self.measures) {
            Err(fault) => vec![refused(&fault)],
            Ok(Some(lead)) => self.amount_first(line, lead),
            Ok(None) => self.name_first(line),
        }
    }

    fn unmeasured(&self, name: &str, words: String) -> Item {
        let mut item = Item { unmeasured: true, ..Item::default() };
        item.notes.push(words);
        self.describe(name, &mut item);
        item
    }

    /// "juice of 2 lemons".
    fn from_thing(&self, line: &str) -> Option<Vec<Item>> {
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
                item.doubts.push("The yield is known of a fruit of usual size; what a larger or smaller one gives is not".to_owned());
            }
            item
        });
        Some(items.collect())
    }

    fn amount_first(&self, line: &str, lead: Lead<'_>) -> Vec<Item> {
        let mut item = Item { filled: lead.filled, ..Item::default() };
        if let Some(word) = lead.inexact {
            item.doubts.push(format!("\"{word}\": the amount is not quite {}", lead.measure.text));
            item.notes.push(word.to_owned());
        }
        let count = lead.measure.clone();
        item.amount = Some(lead.measure);
        let rest = self.further(lead.rest, &mut item);
        let rest = rest.trim_start();
        if let Some(names) = ["each of: ", "each of ", "each: ", "each "].iter().find_map(|word| plain_strip(rest, word)) {
            return self.shared(names, &item);
        }
        if let Some(items) = self.two_things(line, rest, &item) {
            return items;
        }
        self.describe(rest, &mut item);
        self.counted_behind(rest, &mut item);
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
            let marked = ["/", "|", "=", "≈", "~", ",", ";", "or ", "–", "—", "- ", ":"].iter().find_map(|mark| trimmed.strip_prefix(mark));
            let begins = trimmed.starts_with(|c: char| c.is_ascii_digit()).then_some(trimmed);
            let Some(further) = marked.or(begins).and_then(|text| lead(text, self.measures).ok().flatten()) else { return rest };
            if !matches!(further.measure.family(), Family::Mass | Family::Volume) {
                return rest;
            }
            add(item, further.measure);
            rest = further.rest;
        }
    }

    /// What stands in brackets: further measures, or a remark.
    fn bracket(&self, inner: &str, item: &mut Item) {
        let mut rest = inner.trim();
        while let Ok(Some(further)) = lead(rest, self.measures) {
            if matches!(further.measure.amount.counting, Counting::Nothing | Counting::Size(_)) {
                break;
            }
            let behind = further.rest.trim_start();
            if let Some(after) = plain_strip(behind, "each").or_else(|| plain_strip(behind, "apiece")) {
                let count = item.amount.as_ref().map_or(1.0, |amount| amount.amount.number.value);
                add(item, further.measure.times(count));
                rest = after;
            } else {
                add(item, further.measure);
                rest = behind;
            }
            rest = rest.trim_start_matches(|c: char| matches!(c, ';' | '/' | ',' | '|' | '=') || c.is_whitespace());
            rest = plain_strip(rest, "or ").unwrap_or(rest);
        }
        let rest = rest.trim();
        if !rest.is_empty() {
            remark(rest, item);
        }
    }

    /// The name, and what is said around it.
    fn describe(&self, rest: &str, item: &mut Item) {
        let text = without_brackets(rest, item, self);
        let parts = segments(&text);
        let (found, used) = self.name(&parts);
        let Some(found) = found else {
            let name = parts.first().copied().unwrap_or_default();
            unknown(name, &text, item, self.ingredients);
            item.notes.extend(parts.iter().skip(1).filter(|s| !s.is_empty()).map(|s| (*s).to_owned()));
            return;
        };
        fill(item, found);
        for part in parts.iter().skip(used).filter(|part| !part.is_empty()) {
            self.behind(part, item);
        }
        if item.ingredient.is_some_and(|known| is_dark_chocolate(&known.id)) {
            by_percent(rest, item, self.ingredients);
        }
    }

    /// The name is the first stretch before a comma, or two of them: "sugar, brown"; "chopped, toasted walnuts".
    fn name(&self, parts: &[&str]) -> (Option<Named>, usize) {
        let [first, more @ ..] = parts else { return (None, 0) };
        if let Some(second) = more.first() {
            let whole = format!("{first}, {second}");
            if self.ingredients.named(&plain(&whole)).is_some() && !is_done(second) {
                return (named(self.ingredients, &whole), 2);
            }
        }
        if let Some(found) = named(self.ingredients, first) {
            return (Some(found), 1);
        }
        match more.first() {
            Some(second) => (named(self.ingredients, &format!("{first} {second}")).filter(|found| found.doubts.is_empty()), 2),
            None => (None, 1),
        }
    }

    /// What stands behind a comma: a measure, a way of filling, or what is done after measuring.
    fn behind(&self, part: &str, item: &mut Item) {
        if let Ok(Some(further)) = lead(part, self.measures)
            && matches!(further.measure.family(), Family::Mass | Family::Volume)
            && !matches!(further.measure.amount.counting, Counting::Nothing)
        {
            let rest = further.rest.trim();
            add(item, further.measure);
            if !rest.is_empty() {
                remark(rest, item);
            }
            return;
        }
        remark(part, item);
    }

    /// "½ tsp each cinnamon and cloves".
    fn shared(&self, names: &str, item: &Item) -> Vec<Item> {
        let text = names.replace(" and ", ",").replace(" & ", ",");
        let each = text.split(',').map(str::trim).filter(|name| !name.is_empty());
        each.map(|name| {
            let mut one = item.clone();
            self.describe(name, &mut one);
            one
        })
        .collect()
    }

    /// "1 egg plus 1 yolk", "1 cup sugar plus 2 tablespoons": two ingredients, or more of the same.
    fn two_things(&self, _line: &str, rest: &str, item: &Item) -> Option<Vec<Item>> {
        let (first, second) = [" plus ", " + ", " and "].iter().find_map(|mark| rest.split_once(mark))?;
        let further = lead(second, self.measures).ok().flatten()?;
        if second.starts_with(|c: char| c.is_alphabetic())
            && matches!(further.measure.amount.counting, Counting::Nothing)
            && !rest.contains(" plus ")
        {
            return None;
        }
        let mut one = item.clone();
        self.describe(first, &mut one);
        one.ingredient?;
        let behind = further.rest.trim();
        if behind.is_empty() || is_purpose(behind) {
            one.doubts
                .push(format!("{} more stand behind: write them on a line of their own, or add them to the amount", further.measure.text));
            one.notes.push(format!("plus {}", second.trim()));
            one.tries.push(format!("{} {}", further.measure.text, one.name()));
            return Some(vec![one]);
        }
        let count = item.amount.clone()?;
        let mut others = self.items(second);
        if others.iter().all(|other| other.ingredient.is_some()) {
            let mut items = self.made_of(one, &count);
            items.append(&mut others);
            return Some(items);
        }
        // "1 egg plus 1 yolk": the part of an egg by its own word alone.
        let part = plain(behind.split([',', '(']).next()?).trim_end_matches('s').to_owned();
        let egg = matches!(part.as_str(), "yolk" | "white").then(|| self.ingredients.by_id(&format!("egg-{part}"))).flatten()?;
        let mut items = self.made_of(one, &count);
        items.push(Item { ingredient: Some(egg), amount: Some(counted("egg", &further.measure.amount, false)), ..Item::default() });
        Some(items)
    }

    /// "2 gelatin sheets", "¼ yeast cake": the unit stands behind the name.
    fn counted_behind(&self, rest: &str, item: &mut Item) {
        self.sold_so(rest, item);
        let Some(measure) = item.amount.as_mut().filter(|measure| measure.amount.counting == Counting::Nothing) else { return };
        let name = segments(rest).first().map(|part| plain(part).into_owned()).unwrap_or_default();
        if let Some((before, word)) = name.rsplit_once(' ')
            && let Some(unit) = Unit::of_word(word, self.measures).filter(|unit| unit.family == Family::Count && unit.id != "each")
        {
            let whole = named(self.ingredients, &format!("{} {before}", unit.one)).filter(|found| found.doubts.is_empty());
            let Some(found) = whole.or_else(|| named(self.ingredients, before)).or_else(|| named(self.ingredients, &name)) else { return };
            if found.ingredient.counted(unit.id, None).is_some() {
                measure.text = rendered(&measure.amount.number, unit.one);
                measure.amount.counting = Counting::Unit(unit);
                let (amount, also, mut notes) = (item.amount.take(), item.also.take(), std::mem::take(&mut item.notes));
                notes.retain(|note| note != before);
                *item = Item { amount, also, notes, ..Item::default() };
                fill(item, found);
            }
        }
    }

    /// "3 sheets gelatine": the unit tells which kind is meant.
    fn sold_so(&self, rest: &str, item: &mut Item) {
        let (Some(known), Some(measure)) = (item.ingredient, &item.amount) else { return };
        let Counting::Unit(unit) = measure.amount.counting else { return };
        if unit.family != Family::Count || unit.id == "dozen" || known.counted(unit.id, None).is_some() {
            return;
        }
        let name = segments(rest).first().map(|part| plain(part).into_owned()).unwrap_or_default();
        let kind = self.ingredients.named(&format!("{} {name}", unit.one)).filter(|kind| kind.counted(unit.id, None).is_some());
        item.ingredient = kind.or(item.ingredient);
    }

    /// Counted things, by their own word; and what is made of them: "2 lemons, juiced".
    fn made_of(&self, mut item: Item, count: &Measure) -> Vec<Item> {
        let Some(ingredient) = item.ingredient else { return vec![item] };
        let counting = &count.amount.counting;
        let still = item.amount.as_ref().is_some_and(|amount| amount.amount.counting == *counting);
        if !still || !matches!(counting, Counting::Nothing | Counting::Size(_)) {
            return vec![item];
        }
        let made = made_of(ingredient, &count.amount.number, &item.notes.join(" "), self.ingredients);
        if !made.is_empty() {
            return made
                .into_iter()
                .map(|taken| Item { ingredient: Some(taken.ingredient), amount: taken.measure, ..item.clone() })
                .collect();
        }
        if let Some(part) = ingredient.egg_part() {
            let size = matches!(counting, Counting::Size(_));
            let word = match part.word() {
                "whole" => "egg",
                other => other,
            };
            let number = &count.amount.number;
            let word = if number.value > 1.0 { format!("{word}s") } else { word.to_owned() };
            if !size && let Some(measure) = item.amount.as_mut() {
                measure.text = rendered(number, &word);
            }
        } else if *counting == Counting::Nothing
            && let Some(measure) = item.amount.as_mut()
        {
            measure.text = rendered(&count.amount.number, if count.amount.number.value == 1.0 { "piece" } else { "pieces" });
        }
        vec![item]
    }

    /// "Flour 200 g", "butter: 1 stick", or a name alone.
    fn name_first(&self, line: &str) -> Vec<Item> {
        for (at, _) in line
            .char_indices()
            .filter(|(at, c)| is_figure(*c) && *at > 0 && !line[..*at].ends_with(|c: char| c.is_alphanumeric() || c == '.'))
        {
            let Ok(Some(found)) = lead(&line[at..], self.measures) else { continue };
            let name = line[..at].trim_end_matches(|c: char| {
                c.is_whitespace() || matches!(c, ':' | '-' | '–' | '—' | '|' | ',' | '.' | '…' | '=' | '(' | '~' | ';')
            });
            if name.is_empty() || matches!(found.measure.amount.counting, Counting::Nothing) && !self.is_counted(name) {
                continue;
            }
            let mut item = Item { amount: Some(found.measure.clone()), filled: found.filled, ..Item::default() };
            self.describe(name, &mut item);
            if item.ingredient.is_none() {
                continue;
            }
            let open = line[..at].trim_end().ends_with('(');
            let rest = if open { found.rest.trim_start().strip_prefix(')').unwrap_or(found.rest) } else { found.rest };
            let rest = self.further(rest, &mut item);
            let rest = without_brackets(rest, &mut item, self).into_owned();
            segments(&rest).into_iter().filter(|part| !part.is_empty() && !is_each(part)).for_each(|part| self.behind(part, &mut item));
            return self.made_of(item, &found.measure);
        }
        let mut item = Item::default();
        self.describe(line, &mut item);
        if item.faults.is_empty() && item.amount.is_none() {
            item.doubts.push("No amount stands on the line".to_owned());
            let name = item.name();
            item.tries.extend([format!("100 g {name}"), format!("{name}, to taste")]);
        }
        vec![item]
    }

    fn is_counted(&self, name: &str) -> bool {
        named(self.ingredients, name)
            .is_some_and(|found| found.ingredient.egg_part().is_some() || found.ingredient.counted("each", None).is_some())
    }
}

fn is_each(part: &str) -> bool {
    matches!(&*plain(part), "each" | "of each")
}

fn is_figure(letter: char) -> bool {
    letter.is_ascii_digit() || "¼½¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚".contains(letter)
}

fn plain_strip<'t>(text: &'t str, opening: &str) -> Option<&'t str> {
    super::counting::strip_ignoring_case(text, opening)
}

/// "for sprinkling", "more": not an ingredient.
fn is_purpose(text: &str) -> bool {
    ["for ", "to ", "more", "extra", "as ", "if "].iter().any(|word| text.starts_with(word))
}

/// "Butter the size of an egg": an amount that nobody can weigh.
fn by_likeness(line: &str, reader: &Reader<'_>) -> Option<Item> {
    let lower = plain(line);
    let at = lower.find("size of ")?;
    let thing = lower[at + 8..].trim_start_matches("an ").trim_start_matches("a ").split([' ', ',']).next().unwrap_or_default();
    let name = lower[..at].trim_end_matches("the ").trim_end_matches(|c: char| c == ' ' || c == ',');
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
    let fault = format!("\"the size of {thing}\" is no amount: weigh it, or write the weight that is meant");
    let tries = grams.into_iter().chain(["60 g"]).map(|amount| format!("{amount} {called}")).collect();
    Some(Item { ingredient: found.map(|found| found.ingredient), faults: vec![fault], tries, ..Item::default() })
}

fn refused(fault: &Fault) -> Item {
    Item { faults: vec![fault.detail.clone()], tries: fault.attempts.clone(), ..Item::default() }
}

/// A further measure: the second is kept beside the first, a mass before a volume; what is left over is a remark.
fn add(item: &mut Item, measure: Measure) {
    if item.amount.is_none() {
        item.amount = Some(measure);
        return;
    }
    match item.also.take() {
        None => item.also = Some(measure),
        Some(held) => {
            let metric = |measure: &Measure| matches!(&measure.amount.counting, Counting::Unit(unit) if unit.id == "gram");
            let (kept, left) = if (measure.is_mass() && !held.is_mass()) || (metric(&measure) && !metric(&held)) {
                (measure, held)
            } else {
                (held, measure)
            };
            item.notes.push(left.text);
            item.also = Some(kept);
        }
    }
}

/// A remark; where it says how the cup is filled, that is taken.
fn remark(text: &str, item: &mut Item) {
    let lower = plain(text);
    let way = if lower.contains("packed") && !lower.contains("unpacked") {
        Some(Filled::Packed)
    } else if lower.contains("spooned") {
        Some(Filled::Spooned)
    } else if lower.starts_with("dip and sweep") || lower.contains("scooped and level") {
        Some(Filled::Dipped)
    } else {
        None
    };
    item.filled = item.filled.or(way);
    if matches!(&*lower, "scant" | "heaping" | "heaped" | "generous" | "rounded") {
        item.doubts.push(format!("\"{lower}\": the amount is not quite what it says"));
    }
    item.notes.push(text.to_owned());
}

fn fill(item: &mut Item, found: Named) {
    item.ingredient = Some(found.ingredient);
    item.form = found.form;
    item.filled = found.filled.or(item.filled);
    item.notes.extend(found.notes);
    item.aside.extend(found.aside);
    item.doubts.extend(found.doubts);
    item.tries.extend(found.tries);
}

fn unknown(name: &str, text: &str, item: &mut Item, ingredients: &Ingredients) {
    if text.trim().is_empty() {
        item.faults.push("The line names no ingredient".to_owned());
        return;
    }
    let lower = plain(name);
    if let Some((first, second)) = lower.split_once(" and ").or_else(|| lower.split_once(" & "))
        && named(ingredients, first).is_some()
    {
        item.faults.push(format!("Two ingredients share one amount: give {first} and {second} a line each"));
        return;
    }
    item.faults
        .push(format!("\"{}\" is not in the table: see /v1/ingredients, or describe it under \"ingredients\" of the formula", name.trim()));
    item.tries.extend(suggested(ingredients, name));
}

/// A text in brackets at the head, and what stands behind.
fn bracketed(text: &str) -> Option<(&str, &str)> {
    let close = match text.as_bytes().first()? {
        b'(' => ')',
        b'[' => ']',
        _ => return None,
    };
    let inner = &text[1..];
    Some(inner.split_once(close).unwrap_or((inner, "")))
}

/// The text without its brackets; what stood in them is read.
fn without_brackets<'t>(text: &'t str, item: &mut Item, reader: &Reader<'_>) -> std::borrow::Cow<'t, str> {
    if !text.contains(['(', '[']) {
        return text.into();
    }
    let (mut out, mut rest) = (String::with_capacity(text.len()), text);
    while let Some(at) = rest.find(['(', '[']) {
        out.push_str(rest[..at].trim_end());
        out.push(' ');
        let Some((inner, behind)) = bracketed(&rest[at..]) else { break };
        reader.bracket(inner, item);
        rest = behind.trim_start_matches(' ');
        if rest.starts_with(',') {
            out.pop();
        }
    }
    out.push_str(rest);
    out.into()
}

/// The stretches between commas, dashes and semicolons; a decimal comma parts nothing.
fn segments(text: &str) -> Vec<&str> {
    let (mut parts, mut from) = (Vec::with_capacity(2), 0);
    let bytes = text.as_bytes();
    for (at, letter) in text.char_indices() {
        let digit = |at: Option<usize>| at.and_then(|at| bytes.get(at)).is_some_and(u8::is_ascii_digit);
        let parting = match letter {
            ',' => !(digit(at.checked_sub(1)) && digit(Some(at + 1))),
            ';' | '|' | '–' | '—' => true,
            '-' => text[..at].ends_with(' ') && text[at + 1..].starts_with(' '),
            _ => false,
        };
        if parting {
            parts.push(text[from..at].trim());
            from = at + letter.len_utf8();
        }
    }
    parts.push(text[from..].trim());
    if parts.len() > 1 && parts[0].is_empty() {
        parts.remove(0);
    }
    parts
}

/// Whether a stretch says what is done, not what it is.
fn is_done(text: &str) -> bool {
    let first = plain(text);
    let first = first.split(' ').next().unwrap_or_default();
    super::words::DONE.contains(&first) && !matches!(first, "ground" | "dried" | "fresh" | "frozen" | "crystallised")
}

fn is_dark_chocolate(id: &str) -> bool {
    matches!(id, "semisweet-chocolate" | "dark-chocolate-50" | "dark-chocolate-60" | "dark-chocolate-70")
}

/// Dark chocolate by the share of cocoa that the line tells.
fn by_percent(text: &str, item: &mut Item, ingredients: &Ingredients) {
    let Some(at) = text.find('%') else { return };
    let digits = text[..at].trim_end().rsplit(|c: char| !c.is_ascii_digit()).next().unwrap_or_default();
    let id = match digits.parse::<u32>() {
        Ok(45..=59) => "dark-chocolate-50",
        Ok(60..=69) => "dark-chocolate-60",
        Ok(70..=85) => "dark-chocolate-70",
        _ => return,
    };
    if let Some(known) = ingredients.by_id(id) {
        item.ingredient = Some(known);
        item.form = if known.forms().contains(&item.form) { item.form } else { "" };
        item.doubts.retain(|doubt| !doubt.starts_with("\"chocolate\""));
        item.tries.clear();
    }
}
