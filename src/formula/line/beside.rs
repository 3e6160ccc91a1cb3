//! What stands beside the ingredients of a printed formula: what it makes, its tin, its oven, its times, its method. What a formula has a place for is read; the rest is told for what it is.

mod baked;
mod clauses;
mod crust;
mod degrees;
mod made;
mod said;
mod stages;
mod time;
mod tin;
mod titled;
mod words;

pub use degrees::{in_celsius, taken_as};
pub use made::Made;
pub use said::Beside;
pub use stages::StageSaid;
pub use titled::titled;

use std::borrow::Cow;

use crate::quantity::{plain, strip_ignoring_case};
use crate::reference::Reference;
use clauses::clauses;
use tin::Tin;
use words::{HEADS, METHOD, NOTES, NUTRITION, TIMES, TINS, TOOLS, TOTALS, WORK, YIELDS};

/// A line that opens as no ingredient does: "Makes 12", "Bake at 180 C", "Total time: 1 hour", "Ingredient | Amount".
pub(super) fn opened(line: &str, reference: &'static Reference) -> Option<Beside> {
    if !line.is_empty() && line.chars().all(|c| matches!(c, '-' | '|' | '=' | '_' | '*' | ':' | '+' | '~' | '—') || c.is_whitespace()) {
        return Some(Beside::aside("a rule between lines"));
    }
    if is_table_head(line) {
        return Some(Beside::aside("the head of a table"));
    }
    let mut whole = Beside::default();
    let clauses = clauses(line);
    for (number, clause) in clauses.iter().enumerate() {
        match clause_opened(clause, reference) {
            Some(said) => whole.join(said),
            None if number == 0 && is_talk(line) => return Some(Beside::aside("a remark")),
            None if number == 0 => return None,
            None => whole.join(without_opening(clause, reference).unwrap_or_default()),
        }
    }
    Some(whole)
}

/// A line in which no ingredient was found, once more: a tin, an oven, a time, a step of the method.
pub(super) fn otherwise(line: &str, reference: &'static Reference) -> Option<Beside> {
    let mut whole = Beside::default();
    clauses(line)
        .iter()
        .filter_map(|clause| clause_opened(clause, reference).or_else(|| without_opening(clause, reference)))
        .for_each(|said| whole.join(said));
    (!whole.is_nothing()).then_some(whole)
}

/// Whether a word tells the cook what to do.
pub(super) fn is_work(word: &str) -> bool {
    WORK.contains(&word)
}

/// Whether a line opens with what a cook is told to do.
pub fn opens_as_step(line: &str) -> bool {
    let first = line.trim_start().split([' ', ',']).next().unwrap_or_default();
    is_work(&plain(first))
}

/// Whether a line opens with a word that tells what is made.
pub fn opens_as_yield(line: &str) -> bool {
    let first = line.trim_start().split([' ', ':']).next().unwrap_or_default();
    YIELDS.contains(&&*plain(first))
}

/// "All in grams", "(weights in g)": a line that tells the unit of all, by itself or in the bracket of a title.
pub fn is_all_in_grams(line: &str) -> bool {
    const SAID: [&str; 9] = [
        "all in grams",
        "all weights in grams",
        "all amounts in grams",
        "all quantities in grams",
        "weights in grams",
        "amounts in grams",
        "quantities in grams",
        "all figures in grams",
        "in grams",
    ];
    let lower = plain(line);
    let said = lower.split_once('(').map_or(&*lower, |(_, said)| said);
    let said = said.trim_matches(|c: char| !c.is_alphanumeric());
    let said = said.strip_suffix(" g").map_or(Cow::Borrowed(said), |said| Cow::Owned(format!("{said} grams")));
    SAID.contains(&&*said)
}

/// Whether a name is that of a sum: "Total", "Dough weight".
pub fn is_sum(name: &str) -> bool {
    let lower = plain(name);
    TOTALS.iter().any(|word| lower.strip_prefix(word).is_some_and(|rest| !rest.starts_with(char::is_alphabetic)))
}

/// A heading that says that the method begins.
pub fn is_method(part: &str) -> bool {
    METHOD.contains(&part)
}

fn clause_opened(clause: &str, reference: &'static Reference) -> Option<Beside> {
    // "This recipe makes 12 muffins".
    let bare = ["this recipe ", "the recipe ", "recipe "].iter().find_map(|word| strip_ignoring_case(clause, word));
    let clause = bare.filter(|bare| YIELDS.iter().any(|word| strip_ignoring_case(bare, word).is_some())).unwrap_or(clause);
    let lower = plain(clause);
    let opens = |words: &[&str]| {
        words.iter().any(|word| lower.strip_prefix(word).is_some_and(|rest| !rest.starts_with(|c: char| c.is_alphabetic() || c == '\'')))
    };
    // "Makes a stiff dough" is what it is to be like.
    let soft = ["dough", "batter", "paste", "mixture"].iter().any(|word| lower.ends_with(word));
    if opens(YIELDS) && soft && lower.contains(|c: char| c.is_ascii_digit()) {
        return Some(Beside::aside("what is mixed, which is the sum of the lines"));
    }
    if opens(YIELDS) && !soft {
        return Some(made::made(clause, reference));
    }
    if let Some(said) = made::shared_out(clause).or_else(|| made::baked_each(clause)) {
        return Some(said);
    }
    if let Some(said) = labelled_tin(&lower, reference) {
        return Some(said);
    }
    if let Some(bake) = baked::baked(clause) {
        return Some(bake.with_tin(tin::tin(clause, reference)));
    }
    if opens(&["cook", "cooking"])
        && let Some(time) = baked::time(&lower)
    {
        let doubts = vec!["A time that does not say whether it is that of the oven".to_owned()];
        return Some(Beside { doubts, tries: vec![format!("Bake for {}", time.text)], ..Beside::default() });
    }
    if opens(TIMES)
        && let Some(said) = timed_in_oven(clause, reference)
    {
        return Some(said);
    }
    if opens(TIMES) && (lower.contains(':') || baked::time(&lower).is_some()) {
        return Some(Beside::aside("a time of the work, which has no place in a formula"));
    }
    if opens(&["scale", "scaling weight", "scaled", "deposit", "deposit weight"]) && lower.contains(|c: char| c.is_ascii_digit()) {
        return Some(
            scaled(&lower).unwrap_or_else(|| Beside::aside("what a piece of dough is scaled at, which has no place in a formula")),
        );
    }
    if is_all_in_grams(clause) {
        return Some(Beside::aside("the unit of what stands without one"));
    }
    if opens(TOTALS) {
        return Some(Beside::aside("a sum, which is made of the lines where it is needed"));
    }
    if opens(NUTRITION) || opens(NOTES) && lower.contains(':') {
        return Some(Beside::aside("a remark"));
    }
    None
}

/// "Prep 15 min, cook 50 min", "Prep 20 min; bake 35 min at 180 C": behind the times of the work stands one that may be that of the oven.
fn timed_in_oven(clause: &str, reference: &'static Reference) -> Option<Beside> {
    let pieces = clause.match_indices([',', ';', '/', '+', '&']).map(|(at, _)| clause[at + 1..].trim_start());
    let baked = |piece: &&str| {
        let lower = plain(piece);
        let first = lower.split([' ', ':']).next().unwrap_or_default();
        matches!(first, "cook" | "cooking" | "bake" | "baking" | "oven") && baked::time(&lower).is_some()
    };
    let piece = pieces.into_iter().find(baked)?;
    match strip_ignoring_case(piece, "baking") {
        // "baking 35 min".
        Some(rest) => Some(baked::of_bake(&plain(rest))),
        None => clause_opened(piece, reference),
    }
}

/// "Scaling weight 880 g, 47 loaves", "scale 12 pieces at 80 g": how many there are of what weighs so much.
fn scaled(lower: &str) -> Option<Beside> {
    let mut stretches = lower.split([',', ';']).map(str::trim);
    let weight = stretches.clone().find_map(|text| {
        let from = text.find(super::text::is_figure)?;
        let measured = super::amount::lead(&text[from..], crate::quantity::Measures::Us).ok().flatten()?.measure;
        measured.is_mass().then_some(measured.text)
    })?;
    let pieces = stretches.find(|text| made::pieces(text).is_some())?;
    made::weighed_each(&format!("{pieces} at {weight}"))
}

/// "Pan: 9x13", "Equipment: two 8 inch round tins".
fn labelled_tin(lower: &str, reference: &'static Reference) -> Option<Beside> {
    let (label, rest) = lower.split_once(':')?;
    let tools = matches!(label, "equipment" | "you will need" | "you will also need");
    if !tools && !matches!(label, "pan" | "tin" | "mould" | "mold" | "form" | "pan size" | "tin size" | "baking tin" | "baking pan") {
        return None;
    }
    let rest = rest.trim();
    let found = match tin::tin(rest, reference) {
        Tin::None | Tin::Refused(_) if !tools => tin::tin(&format!("{rest} pan"), reference),
        found => found,
    };
    match found {
        // "Tin: butter" is greased with it.
        Tin::None => tools.then(|| Beside::aside("a list of tools")),
        found => Some(Beside::default().with_tin(found)),
    }
}

/// A sentence that opens with no word of its own: a tin, an oven, a time, what is made, a step.
fn without_opening(clause: &str, reference: &'static Reference) -> Option<Beside> {
    let lower = plain(clause);
    let found = match tin::tin(clause, reference) {
        Tin::None | Tin::Refused(_) if tin::is_whole(clause, reference) => Tin::Pan(clause.to_owned(), None),
        // "Loaf tin 25 cm, 180 C, 60 min"; "2 loaf tins 21 x 8 cm, 6 balls of 60 g in each".
        Tin::None | Tin::Refused(_) if clause.split_once([',', ';']).is_some_and(|(first, _)| tin::is_whole(first, reference)) => {
            Tin::Pan(clause.split([',', ';']).next().unwrap_or_default().to_owned(), None)
        }
        found => found,
    };
    let found = match found {
        Tin::None => bare_size(clause, reference),
        found => found,
    };
    // "12-hole muffin tin, 12 paper cases" is a tin first.
    if !matches!(found, Tin::Pan(..)) && TOOLS.iter().any(|tool| lower.ends_with(tool)) {
        // "180 C 20 min, 2 baking trays": the oven stands before it.
        let oven = clause.rfind([',', ';']).and_then(|at| baked::bare(&clause[..at]));
        return Some(oven.unwrap_or_else(|| Beside::aside("a tool")));
    }
    // "9" springform, 325 F for 1 hour": the oven stands beside the tin, understood or not.
    let rest = match &found {
        Tin::Pan(pan, _) => clause.replacen(pan.trim_end_matches(" pan"), " ", 1),
        // "2 x 20 cm tins, 170 fan, 30-35 min": behind the comma nothing is of the tin.
        Tin::Refused(fault) => match lower.split_once([',', ';']) {
            Some((first, behind)) if TINS.iter().any(|tin| first.trim_end().ends_with(tin)) => behind.to_owned(),
            _ => lower.replacen(&*fault.found, " ", 1),
        },
        Tin::None => clause.to_owned(),
    };
    if matches!(found, Tin::Pan(..)) && is_on_the_stove(&lower) {
        return Some(Beside::aside(STOVE));
    }
    if is_of_turns(&lower) {
        return Some(Beside::aside(STEP));
    }
    let works = lower.split(' ').next().is_some_and(|first| WORK.contains(&first)) && lower.split(' ').count() > 2;
    // "Cool 10 minutes" is no time of the oven.
    if (!works || baked::is_set_within(clause))
        && let Some(bare) = baked::bare(&rest)
    {
        return Some(bare.with_tin(found));
    }
    // "8 in tin, line it well, 350 F until golden", "8 layers; 200 C 4-5 min each": the oven is not lost behind other words.
    if !works && (matches!(found, Tin::Pan(..)) && baked::is_set_within(&rest) || !is_grilled(&lower) && baked::is_baked_within(&rest)) {
        return Some(baked::of_bake(&plain(&rest)).with_tin(found));
    }
    if let Tin::None = found
        && let Some(said) = made::weighed_each(clause).or_else(|| made::pieces(clause))
    {
        return Some(said);
    }
    let aside = (works && (baked::is_set_within(clause) || baked::time(&lower).is_some() || !super::amount::is_measured_within(clause)))
        .then_some(STEP);
    let said = Beside { aside, ..Beside::default() }.with_tin(found);
    (!said.is_nothing()).then_some(said)
}

/// What a pan is called that stands on the stove, and may be the one it bakes in or not.
const STOVE: &str = "a pan on the stove; if it bakes in that pan too, say so on a line of its own";

/// "Melt the butter in a 10 inch skillet", "cook in a frying pan over medium heat": what is cooked before may be baked in another pan.
fn is_on_the_stove(lower: &str) -> bool {
    const COOKED: [&str; 8] = ["melt ", "cook ", "heat ", "fry ", "brown ", "toast ", "saute ", "sauté "];
    ["skillet", "frying pan", "frypan"].iter().any(|pan| lower.contains(pan))
        && !lower.contains("oven ")
        && (COOKED.iter().any(|work| lower.starts_with(work)) || lower.contains(" heat"))
}

/// What is hot and no oven for baking.
fn is_grilled(lower: &str) -> bool {
    ["grill", "broil", "fry", "torch", "deep-fry"].iter().any(|work| lower.starts_with(work))
}

/// "2 double turns", "3 single folds", "Soft ball 116 °C": how a dough is laid in folds, how far a syrup is boiled.
pub fn is_of_turns(said: &str) -> bool {
    const BOILED: [&str; 6] = ["soft ball", "firm ball", "hard ball", "soft crack", "hard crack", "thread stage"];
    let lower = &*plain(said);
    let words = || lower.split([' ', ',', ')']);
    let laid = || words().any(|word| matches!(word, "turn" | "turns" | "fold" | "folds"));
    let kind = || words().any(|word| matches!(word, "single" | "double" | "simple" | "book" | "letter" | "half"));
    BOILED.iter().any(|stage| lower.starts_with(stage)) || lower.starts_with(|c: char| c.is_ascii_digit()) && laid() && kind()
}

/// "9x13; 350 F 35 min": a size before an oven is that of the tin.
fn bare_size(clause: &str, reference: &'static Reference) -> Tin {
    let Some((size, _)) = clause.split_once([';', ',']).filter(|(_, rest)| baked::is_set_within(rest)) else { return Tin::None };
    let sides = |mark| {
        size.split_once(mark).is_some_and(|(one, other): (&str, &str)| {
            one.trim().parse::<f64>().is_ok() && other.trim_start().starts_with(|c: char| c.is_ascii_digit())
        })
    };
    // "Deep 22 cm round; 160 C".
    let shaped = || size.contains(|c: char| c.is_ascii_digit()) && [" round", " square"].iter().any(|shape| plain(size).ends_with(shape));
    if !sides('x') && !sides('×') && !shaped() {
        return Tin::None;
    }
    let size = ["deep ", "shallow ", "loose-bottomed ", "lined "].iter().find_map(|word| strip_ignoring_case(size, word)).unwrap_or(size);
    match tin::tin(&format!("{size} pan"), reference) {
        // What stands on the line is taken out of it by its own words.
        Tin::Pan(..) => Tin::Pan(format!("{} pan", size.trim()), None),
        other => other,
    }
}

/// What a step is called.
pub const STEP: &str = "a line of the method, which is not read";

/// "Here's a simple recipe for pancakes:", "Enjoy!": what is said to the reader, and neither a part nor an ingredient.
fn is_talk(line: &str) -> bool {
    let lower = plain(line);
    let opens = ["here's ", "here is ", "here are ", "below is ", "below you ", "this recipe ", "sure", "certainly", "let me know"];
    let ends = lower.ends_with([':', '!', '.', '?']);
    ends && opens.iter().any(|word| lower.starts_with(word))
        || ["enjoy", "happy baking", "bon appétit"].contains(&lower.trim_end_matches(['!', '.', ' ']))
}

/// Whether every word of a line is the head of a column.
fn is_table_head(line: &str) -> bool {
    let lower = plain(line);
    let words: Vec<&str> = lower
        .split(|c: char| c.is_whitespace() || matches!(c, '|' | '/' | ',' | '(' | ')' | ';'))
        .filter(|word| !word.is_empty())
        .collect();
    words.len() > 1 && words.iter().all(|word| HEADS.contains(word)) && words.iter().any(|word| word.starts_with("ingredient"))
}

#[cfg(test)]
mod tests;
