//! The heading of a part: "For the icing:", "## Filling". A line that ends in a colon, or opens with "for the" and has no amount, names what follows.

use crate::quantity::{longer, plain};
use crate::reference::{Ingredients, Reference, is_made};

/// A heading: the name of the part that begins; empty where it only says that ingredients follow.
pub(super) fn heading(line: &str, ingredients: &Ingredients) -> Option<String> {
    let marked = line.starts_with('#') || (line.starts_with("**") && line.ends_with("**"));
    let bare = line.trim_matches(|c: char| matches!(c, '#' | '*' | '_' | '=' | '-' | '—' | '–') || c.is_whitespace());
    let (name, colon) = match bare.strip_suffix([':', '：']) {
        Some(name) => (name.trim_end(), true),
        None => (bare, false),
    };
    if name.is_empty() || longer(name, 80) {
        return None;
    }
    let lower = plain(name);
    let opens = ["for the ", "to make the ", "make the ", "ingredients for the "].iter().any(|word| lower.starts_with(word));
    // "SHORTCRUST (makes enough for two)".
    let said = name.split('(').next().unwrap_or_default().trim_end();
    let shouted = said.chars().any(char::is_alphabetic)
        && !said.chars().any(char::is_lowercase)
        && said.len() > 3
        && !said.ends_with('%')
        && ingredients.named(&plain(said)).is_none()
        && !is_measured(&plain(said), ingredients)
        && !super::is_measured_within(said)
        && said.split_whitespace().count() <= 4;
    let numbered = name.starts_with(|c: char| c.is_ascii_digit() || !c.is_alphabetic());
    // "For the glaze: juice of 1 lemon" is no name.
    let goes_on = opens && name.contains(": ");
    if numbered
        || goes_on
        || !(marked || colon || shouted || opens)
        || (opens && !colon && !marked && names_ingredient(&lower, ingredients))
    {
        return None;
    }
    Some(part_name(&lower))
}

/// "FLOUR: 250 G" is no heading, though it is shouted; "LAYER 1" is one.
fn is_measured(lower: &str, ingredients: &Ingredients) -> bool {
    let before = lower.find(|c: char| c.is_numeric()).map(|at| lower[..at].trim_end_matches(|c: char| !c.is_alphanumeric()));
    before.is_some_and(|name| ingredients.find(name).is_some())
}

/// "for the pan: butter" is no heading, nor is "for the tin, butter".
fn names_ingredient(lower: &str, ingredients: &Ingredients) -> bool {
    lower.split([',', ':']).skip(1).any(|tail| ingredients.find(tail.trim()).is_some())
}

/// What is done last, and the thing that it is done with.
const LAST: &[(&str, &str)] = &[
    ("to finish", "finish"),
    ("to decorate", "decoration"),
    ("to ice", "icing"),
    ("to glaze", "glaze"),
    ("to fill", "filling"),
    ("to top", "topping"),
    ("to assemble", "assembly"),
    ("to coat", "coating"),
];

fn part_name(lower: &str) -> String {
    let name = ["ingredients for the ", "for the ", "to make the ", "make the ", "for ", "the "]
        .iter()
        .find_map(|opening| lower.strip_prefix(opening))
        .unwrap_or(lower);
    let name = name.split('(').next().unwrap_or(name).trim();
    let name = LAST.iter().find(|(said, _)| *said == name).map_or(name, |(_, thing)| thing);
    if matches!(name, "ingredients" | "you will need" | "you'll need" | "ingredient list") {
        String::new()
    } else {
        name.chars().take(80).collect()
    }
}

/// "For the glaze: juice of 1 lemon", "Filling: 900 g apples": the part that begins on the line of its first ingredient, and that.
pub fn begun(line: &str) -> Option<(String, &str)> {
    // "Filling - 25 g butter, 115 g sultanas": a dash does as well where the name is that of a part.
    let dashed = || {
        let (name, first) = [" - ", " – ", " — "].iter().find_map(|mark| line.split_once(mark))?;
        (names_part(&plain(name)) && first.starts_with(|c: char| c.is_ascii_digit())).then_some((name, first))
    };
    let (name, first) = line.split_once(": ").or_else(dashed).filter(|(_, first)| !first.trim().is_empty())?;
    let lower = plain(name);
    // "Fruit (soak overnight)".
    let lower = lower.split('(').next().unwrap_or_default().trim();
    let thing = lower.strip_prefix("for the ").or_else(|| lower.strip_prefix("to make the ")).unwrap_or(lower);
    let few = thing.split(' ').count() <= 3 && thing.chars().all(|c| c.is_alphabetic() || matches!(c, ' ' | '-' | '\''));
    // "Sift together: 200 g flour, 5 g salt" is what is done; "Cream: 500 g milk" is what is made.
    let done = super::beside::is_work(thing.split(' ').next().unwrap_or_default()) && thing != "cream";
    (few && !done).then(|| (part_name(thing), first.trim()))
}

/// Whether a label before a colon names a part by its own word: "filling", "to finish".
pub fn names_part(part: &str) -> bool {
    PARTS.contains(&part.rsplit(' ').next().unwrap_or_default()) || LAST.iter().any(|(_, thing)| *thing == part)
}

/// Words that end the name of a part.
const PARTS: &[&str] = &[
    "ingredients",
    "dry",
    "wet",
    "filling",
    "icing",
    "frosting",
    "glaze",
    "topping",
    "add-ins",
    "soak",
    "mix-ins",
    "sauce",
    "crust",
    "base",
    "batter",
    "dough",
    "ganache",
    "buttercream",
    "crumble",
    "streusel",
    "drizzle",
    "decoration",
    "poolish",
    "biga",
    "levain",
    "soaker",
    "preferment",
    "pastry",
    "case",
    "garnish",
    "crumb",
    "layer",
    "layers",
    "mixture",
    "cake",
    "cakes",
    "sponge",
    "sponges",
    "syrup",
    "custard",
    "meringue",
    "frangipane",
    "craquelin",
    "dacquoise",
    "joconde",
    "crémeux",
    "cremeux",
    "nougatine",
    "tangzhong",
    "swirl",
    "fruit",
    "détrempe",
    "detrempe",
    "beurrage",
    "manié",
];

/// Whether a heading that opens a list may be the title of the whole: "Victoria Sponge", but not "For the icing", "Filling:" or "DRY INGREDIENTS".
pub fn may_be_title(line: &str) -> bool {
    let lower = plain(line);
    let name = lower.split('(').next().unwrap_or_default().trim_matches(|c: char| !c.is_alphanumeric() && c != ':');
    let alone = !name.contains(' ');
    !(name.ends_with([':', '：'])
        || name.ends_with("ingredients")
        || name.starts_with("for ")
        || name.starts_with("to ")
        || name.starts_with("make the ")
        || name.starts_with("ingredients for ")
        || alone && PARTS.contains(&name)
        || super::beside::is_method(name))
}

/// Parts by names that are no ingredients, so that they need no colon: "Sauce", "Dry ingredients", "Almond filling".
pub(super) fn bare_heading(line: &str) -> Option<String> {
    let lower = plain(line);
    // "Levain (the night before)": what is said of it, and no amount.
    let (lower, said) = lower.split_once('(').map_or((&*lower, ""), |(name, said)| (name.trim_end(), said));
    // "Sponge (all of it)" is what goes in.
    let goes_in = ["all", "from", "above", "see"].iter().any(|word| said.starts_with(word));
    if !said.is_empty() && (!said.ends_with(')') || goes_in || super::is_measured_within(said)) {
        return None;
    }
    let last = lower.rsplit(' ').next()?;
    let few = lower.split(' ').count() <= 3 && lower.chars().all(|c| c.is_alphabetic() || matches!(c, ' ' | '-' | '\''));
    let is_part = PARTS.contains(&last) && (lower.split(' ').count() == 1 || !matches!(last, "cake" | "cakes"));
    (few && (is_part || super::beside::is_method(lower))).then(|| part_name(lower))
}

/// "Muffins", "Crème pâtissière", "To finish": what is made of the lines below, by the name of its style, or what they are for.
pub(super) fn style_heading(line: &str, reference: &Reference) -> Option<String> {
    let lower = plain(line);
    // "Crème pâtissière café": what it is made with stands behind.
    let plainly = || lower.chars().all(|c| c.is_alphabetic() || c == ' ') && lower.split(' ').count() <= 4;
    let flavoured = || lower.rsplit_once(' ').is_some_and(|(name, _)| name.contains(' ') && is_made(name));
    if plainly() && flavoured() {
        return Some(part_name(&lower));
    }
    (lower == "rye sour" || LAST.iter().any(|(said, _)| *said == &*lower) || reference.styles.find(&lower).is_some())
        .then(|| part_name(&lower))
}
