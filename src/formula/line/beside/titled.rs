//! What stands beside the name on the line of a title: what it makes, its tin.

use super::tin::{self, Tin};
use super::{Beside, made, opens_as_yield, otherwise};
use crate::quantity::{plain, strip_ignoring_case};
use crate::reference::Reference;

/// What a title says beyond the name: "(makes 2 loaves)", "– serves 8", "for a 9 inch round tin"; and the name without it.
pub fn titled(line: &str, reference: &'static Reference) -> (String, Beside) {
    let mut said = Beside::default();
    let line = line.trim();
    let mut name = ["formula: ", "recipe: ", "title: ", "name: "].iter().find_map(|word| strip_ignoring_case(line, word)).unwrap_or(line);
    // "Yield: 24 biscuits" names nothing.
    if opens_as_yield(name) {
        return (name.to_owned(), said);
    }
    for mark in [" (", " – ", " — ", " - ", " -- ", ": ", ", ", " | "] {
        if let Some((before, behind)) = name.split_once(mark)
            && let Some(found) = titled_yield(behind, reference).or_else(|| titled_tin(mark, behind, reference)).or_else(|| {
                // "(24 h)" tells no time of the oven.
                otherwise(behind.trim_end_matches(')'), reference)
                    .filter(|said| said.doubts.is_empty() || said.pan.is_some() || said.oven.is_some())
            })
        {
            said.join(found);
            name = before;
        }
    }
    if let Some((before, count)) = times(name) {
        said.join(made::made(&format!("makes {count}"), reference));
        name = before;
    }
    let ends = [" - formula", " – formula", " - recipe", " – recipe", " (baker's %)", " (bakers' %)"];
    name = ends.iter().find_map(|end| name.strip_suffix(end)).filter(|before| !before.is_empty()).unwrap_or(name);
    if said.pan.is_none()
        && let Some((before, behind)) = name.split_once(" for a").or_else(|| name.split_once(" for "))
    {
        if let Tin::Pan(pan, _) = tin::tin(behind, reference) {
            said.pan = Some(pan);
            name = before;
        } else if let Some(shared) = made::shared_out(&format!("for {behind}")) {
            said.join(shared);
            name = before;
        }
    }
    // Marks and pictures stand around a name; a bracket, a quotation mark or an exclamation may close it.
    let closes = |c: char| matches!(c, ')' | ']' | '"' | '”' | '’' | '\'' | '!' | '?' | '%');
    let name = name.trim_start_matches(|c: char| !c.is_alphanumeric() && !matches!(c, '"' | '“' | '‘' | '\''));
    let name = name.trim_end_matches(|c: char| !c.is_alphanumeric() && !closes(c));
    (name.chars().take(200).collect(), said)
}

/// "Naan x 8", "Bagels ×12": so many.
fn times(name: &str) -> Option<(&str, &str)> {
    let (before, count) = name.rsplit_once([' ', 'x', '×'])?;
    let before = before.trim_end().strip_suffix(['x', '×']).unwrap_or(before);
    let marked = name[before.len()..].contains(['x', '×']) && before.ends_with(' ');
    let whole = (1..=3).contains(&count.len()) && count.bytes().all(|digit| digit.is_ascii_digit());
    (marked && whole && before.trim_end().ends_with(char::is_alphabetic)).then(|| (before.trim_end(), count))
}

/// "(20 cm round)", "(9x13)": a size in brackets is that of the tin.
fn titled_tin(mark: &str, behind: &str, reference: &'static Reference) -> Option<Beside> {
    let size = behind.strip_suffix(')').filter(|size| mark == " (" && size.starts_with(|c: char| c.is_ascii_digit()))?;
    let sides = || size.split(['x', '×']).filter(|side| side.contains(|c: char| c.is_ascii_digit())).count() > 1;
    let shaped = plain(size).split([' ', '-']).any(|word| matches!(word, "round" | "square")) || sides();
    match tin::tin(&format!("{size} tin"), reference) {
        found @ Tin::Pan(..) if shaped => Some(Beside::default().with_tin(found)),
        _ => None,
    }
}

/// "(2 loaves)", "- 24 pieces", "(overnight, 4 pieces of 350 g)", "(batch of 16)".
fn titled_yield(behind: &str, reference: &'static Reference) -> Option<Beside> {
    if let Some(of) = ["a batch of ", "batch of "].iter().find_map(|word| strip_ignoring_case(behind, word)) {
        let made = made::made(&format!("makes {}", of.trim_end_matches(')')), reference);
        return made.makes.is_some().then_some(made);
    }
    let mut things = behind.trim_end_matches(')').split(", ").filter(|things| things.starts_with(|c: char| c.is_ascii_digit()));
    things.find_map(|things| made::shared_out(&format!("for {things}")))
}
