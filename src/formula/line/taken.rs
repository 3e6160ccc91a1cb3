//! What is taken from a thing: "Yolks 2 eggs", "Grated rind one-half lemon", "juice of half an orange", "zest and juice of 1 lime". The number counts the thing, the ingredient is what comes of it.

use super::amount::{Measure, lead};
use super::text::is_figure;
use crate::quantity::{Amount, Counting, Factor, Family, Measures, plain, strip_ignoring_case, word_number};
use crate::reference::{Ingredient, Ingredients, in_number};

/// One ingredient taken from so many things.
#[derive(Clone, Debug)]
pub(super) struct Taken {
    pub ingredient: &'static Ingredient,
    /// How many things, by their own word; nothing where no number stands.
    pub measure: Option<Measure>,
}

/// What is taken, and what stands behind on the line.
pub(super) struct FromThing<'t> {
    pub taken: Vec<Taken>,
    pub rest: &'t str,
    pub sized: bool,
}

/// What is told where a fruit is large or small.
pub(super) const OF_USUAL_SIZE: &str = "The yield is known of a fruit of usual size; what a larger or smaller one gives is not";

const WORDS: &[(&str, &str)] = &[
    ("yolks", "yolk"),
    ("yolk", "yolk"),
    ("whites", "white"),
    ("white", "white"),
    ("zest", "zest"),
    ("rind", "zest"),
    ("peel", "zest"),
    ("juice", "juice"),
];
const BEFORE: &[&str] = &[
    "the", "grated", "finely", "beaten", "stiffly", "strained", "well", "freshly", "squeezed", "fine", "thinly", "pared", "unbeaten",
    "coarsely", "fresh",
];

/// Reads "juice of 2 lemons" and its like from the start of a line.
pub(super) fn from_thing<'t>(text: &'t str, measures: Measures, ingredients: &Ingredients) -> Option<FromThing<'t>> {
    let mut rest = text;
    let mut parts = Vec::new();
    while let Some((word, behind)) = word(rest.trim_start().strip_prefix('&').filter(|_| !parts.is_empty()).unwrap_or(rest)) {
        let word = plain(word);
        if let Some((_, part)) = WORDS.iter().find(|(known, _)| *known == word) {
            parts.push(*part);
        } else if word == "and" && !parts.is_empty() || BEFORE.contains(&&*word) && parts.is_empty() || word == "grated" {
            // Belongs to the opening.
        } else {
            break;
        }
        rest = behind;
    }
    if parts.is_empty() {
        return None;
    }
    let rest = rest.trim_start();
    let of = ["of ", "from "].iter().find_map(|word| rest.strip_prefix(word)).unwrap_or(rest);
    let head = lead(of, measures).ok()?;
    let (measure, behind) = match &head {
        Some(head) => (Some(&head.measure), head.rest),
        None => (None, of),
    };
    let (thing, behind, size) = thing(behind, ingredients)?;
    let taken = of_thing(thing, &parts, measure, ingredients)?;
    let sized = thing != "egg" && (size || measure.is_some_and(|m| matches!(m.amount.counting, Counting::Size(_))));
    let mut found = FromThing { taken, rest: behind, sized };
    if let Some(more) = further(behind, &parts, thing, measures, ingredients) {
        found.taken.extend(more.taken);
        found.rest = more.rest;
        found.sized |= more.sized;
    }
    Some(found)
}

/// "zest of 1 lemon and 1 orange", "zest of 1 lemon and juice of 2": what is taken from more things, or more of the same.
fn further<'t>(text: &'t str, parts: &[&str], thing: &str, measures: Measures, ingredients: &Ingredients) -> Option<FromThing<'t>> {
    let behind = text.trim_start_matches([',', ' ']);
    let joined = ["and ", "& ", "plus ", "+ "].iter().find_map(|mark| behind.strip_prefix(mark));
    let rest = joined.or_else(|| text.starts_with(',').then_some(behind))?;
    if let Some(found) = from_thing(rest, measures, ingredients) {
        return Some(found);
    }
    // "juice of 2": of the same.
    if let Some((said, of)) = word(rest)
        && let Some((_, part)) = WORDS.iter().find(|(known, _)| *known == &*plain(said))
        && let Some(head) = lead(of.trim_start().trim_start_matches("of "), measures).ok()?
        && head.rest.trim_start_matches([',', ' ']).is_empty()
    {
        return Some(FromThing { taken: of_thing(thing, &[part], Some(&head.measure), ingredients)?, rest: head.rest, sized: false });
    }
    // "zest of 1/2 orange, 1/2 lemon": a comma joins what is counted.
    let counted = || text.starts_with(',').then_some(behind).filter(|behind| behind.starts_with(is_figure));
    let head = lead(joined.or_else(counted)?, measures).ok()??;
    // "zest of 1 lemon + 2 tsp juice": measured, and of the same.
    if let Some((said, behind)) = word(head.rest)
        && let Some((_, part)) = WORDS.iter().find(|(known, _)| *known == &*plain(said))
        && matches!(head.measure.family(), Family::Mass | Family::Volume)
        && let Some(ingredient) = ingredients.by_id(&format!("{thing}-{part}"))
    {
        return Some(FromThing { taken: vec![Taken { ingredient, measure: Some(head.measure) }], rest: behind, sized: false });
    }
    let (other, behind, sized) = self::thing(head.rest, ingredients)?;
    Some(FromThing { taken: of_thing(other, parts, Some(&head.measure), ingredients)?, rest: behind, sized })
}

/// The parts of so many things; nothing where they are none of theirs, or not counted.
fn of_thing(thing: &str, parts: &[&str], measure: Option<&Measure>, ingredients: &Ingredients) -> Option<Vec<Taken>> {
    let fits = |part: &&str| matches!(*part, "yolk" | "white") == (thing == "egg");
    if !parts.iter().all(fits) || measure.is_some_and(|m| !matches!(m.amount.counting, Counting::Nothing | Counting::Size(_))) {
        return None;
    }
    parts.iter().map(|part| taken(thing, part, measure, ingredients)).collect()
}

fn taken(thing: &str, part: &str, measure: Option<&Measure>, ingredients: &Ingredients) -> Option<Taken> {
    let ingredient = ingredients.by_id(&format!("{thing}-{part}"))?;
    Some(Taken { ingredient, measure: measure.map(|measure| counted(thing, &measure.amount)) })
}

/// So many of a thing, by its own word. The size of an egg is kept; that of a fruit has no figure.
pub(super) fn counted(thing: &str, amount: &Amount) -> Measure {
    let number = amount.number;
    if thing == "egg"
        && let Counting::Size(size) = amount.counting
    {
        let market = size.market.map_or(String::new(), |market| format!("{market} "));
        return Measure {
            text: super::amount::rendered(&number, &format!("{market}{}", size.class)),
            amount: Amount { number, counting: Counting::Size(size) },
        };
    }
    let word = in_number(Factor::times(number.high), thing);
    Measure { text: super::amount::rendered(&number, &word), amount: Amount { number, counting: Counting::Named(word.into()) } }
}

/// The thing at the head of a text.
fn thing<'t>(text: &'t str, ingredients: &Ingredients) -> Option<(&'static str, &'t str, bool)> {
    let (mut rest, mut size) = (text, false);
    loop {
        let (word, behind) = word(rest)?;
        let word = plain(word);
        let single = word.strip_suffix('s').unwrap_or(&word);
        if single == "egg" {
            return Some(("egg", behind, size));
        }
        if let Some(fruit) = ingredients.pressed(single) {
            return Some((fruit, behind, size));
        }
        if matches!(single, "large" | "small" | "medium") {
            size = true;
        } else if !matches!(single, "unwaxed" | "fresh" | "organic" | "ripe" | "juicy" | "navel" | "washed" | "a" | "an" | "the" | "blood")
        {
            return None;
        }
        rest = behind;
    }
}

fn word(text: &str) -> Option<(&str, &str)> {
    let text = text.trim_start();
    let end = text.find(|c: char| !c.is_alphabetic()).unwrap_or(text.len());
    (end > 0).then(|| (&text[..end], &text[end..]))
}

/// "2 lemons, juiced", "3 eggs, yolks only": what is made of counted things, by what stands behind them.
pub(super) fn made_of(ingredient: &'static Ingredient, count: &Measure, note: &str, ingredients: &Ingredients) -> Vec<Taken> {
    let note = plain(note);
    let thing = &*ingredient.id;
    if thing != "egg" && ingredients.pressed(thing).is_none() {
        return Vec::new();
    }
    let says = |words: &[&str]| words.iter().any(|word| note.split(|c: char| !c.is_alphabetic()).any(|said| said == *word));
    let only = says(&["only", "just"]);
    let parts: &[(&str, bool)] = if thing == "egg" {
        &[("yolk", only && says(&["yolk", "yolks"])), ("white", only && says(&["white", "whites"]))]
    } else {
        &[("zest", says(&["zest", "zested", "rind", "peel"])), ("juice", says(&["juice", "juiced"]))]
    };
    let of = |(part, said): &(&str, bool)| said.then(|| taken(thing, part, Some(count), ingredients)).flatten();
    parts.iter().filter_map(of).collect()
}

/// "leaves from 2 sprigs rosemary", "pulp of 3 passion fruit": what is used of it, and how many.
pub(super) fn part_of(line: &str) -> Option<(&'static str, &str)> {
    const PARTS: [&str; 5] = ["leaves", "needles", "pulp", "flesh", "seeds"];
    let line = strip_ignoring_case(line, "the ").unwrap_or(line);
    PARTS.iter().find_map(|part| {
        let rest = strip_ignoring_case(line, part)?;
        let rest = [" from ", " of "].iter().find_map(|mark| rest.strip_prefix(mark))?;
        let counted = rest.starts_with(is_figure) || word_number(rest).is_some();
        (counted && (*part != "seeds" || rest.contains("vanilla"))).then_some((*part, rest))
    })
}
