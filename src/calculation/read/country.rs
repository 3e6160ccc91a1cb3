//! Whose measures a formula is in, where it tells so by the way: a pint, a spoon and a medium egg are not the same everywhere.

use crate::quantity::{Measures, Pointer};
use crate::reference::Account;

/// The measures of the country that these lines are from, told as assumed; nothing where they do not tell.
pub(super) fn country<'l>(lines: impl Iterator<Item = &'l str> + Clone, account: &mut Account) -> Option<Measures> {
    let british = lines.clone().any(|line| any_two(line, |word, next| word == "gas" && is_mark(next)));
    // Books made for both sides of the sea tell the oven of both, and measure in cups.
    let american = || lines.clone().any(|line| any_two(line, |word, next| is_cup(word) || is_stick_of_butter(word, next)));
    if !british || american() {
        return None;
    }
    let root = Pointer::ROOT;
    let told = "Ovens have gas marks in Britain: pints, spoons and eggs are taken as those of the UK";
    account.assume(told, &root.key("measures"), Measures::Uk.word());
    Some(Measures::Uk)
}

/// Whether two words that stand together are such; the last has none behind it.
fn any_two(line: &str, are: impl Fn(&str, &str) -> bool) -> bool {
    let line = line.to_lowercase();
    let mut words = line.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty()).peekable();
    while let Some(word) = words.next() {
        if are(word, words.peek().copied().unwrap_or_default()) {
            return true;
        }
    }
    false
}

fn is_mark(word: &str) -> bool {
    word == "mark" || matches!(word, "½" | "¼") || word.parse().is_ok_and(|mark: u8| (1..=10).contains(&mark))
}

fn is_cup(word: &str) -> bool {
    matches!(word, "cup" | "cups")
}

fn is_stick_of_butter(word: &str, next: &str) -> bool {
    matches!(word, "stick" | "sticks") && matches!(next, "of" | "butter" | "unsalted" | "salted" | "plus")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::Reference;

    fn of(lines: &[&str]) -> Option<Measures> {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        country(lines.iter().copied(), &mut Account::new(reference, false))
    }

    #[test]
    fn a_gas_mark_is_british() {
        for oven in ["Heat the oven to 180C/160C fan/gas 4", "350F, Gas Mark 4", "gas mark ½", "Bake at Gas 10."] {
            assert_eq!(of(&["3 medium eggs", "1 cinnamon stick", oven]), Some(Measures::Uk), "{oven}");
        }
        for oven in ["Heat the oven to 180 C", "a gas oven at 350 F", "gas 180"] {
            assert_eq!(of(&["3 medium eggs", oven]), None, "{oven}");
        }
    }

    #[test]
    fn what_is_measured_in_cups_is_made_for_both() {
        assert_eq!(of(&["2 cups (250g) flour", "350F/180C/gas 4"]), None);
        assert_eq!(of(&["1 stick butter", "gas mark 4"]), None);
    }
}
