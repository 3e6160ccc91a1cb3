//! Whose measures a formula is in, where it tells so by the way: a pint, a spoon and a medium egg are not the same everywhere.

use crate::quantity::{Measures, Pointer};
use crate::reference::Account;

/// The measures of the country that these lines are from, told as assumed; nothing where they do not tell.
pub(super) fn country<'l>(lines: impl Iterator<Item = &'l str> + Clone, account: &mut Account) -> Option<Measures> {
    let root = Pointer::ROOT;
    let mut told = |text: &'static str, measures: Measures| {
        account.assume(text, &root.key("measures"), measures.word());
        Some(measures)
    };
    if lines.clone().any(is_australian) {
        return told("The spoons are said to be Australian: cup 250 ml, tablespoon 20 ml", Measures::Australia);
    }
    let british = lines.clone().any(|line| any_two(line, |word, next| matches!(word, "gas" | "reg" | "regulo") && is_mark(next)));
    // Books made for both sides of the sea tell the oven of both, and measure in cups.
    let american = || lines.clone().any(|line| any_two(line, |word, next| is_cup(word) || is_stick_of_butter(word, next)));
    if british && !american() {
        return told("Ovens have gas marks in Britain: pints, spoons and eggs are taken as those of the UK", Measures::Uk);
    }
    let by_the_pint =
        || lines.clone().any(|line| any_two(line, |word, _| ["pint", "pints", "gill", "gills", "fl", "fluid", "quart"].contains(&word)));
    if !british && by_the_pint() && names_of_britain(lines.clone()) && !american() {
        return told("The ingredients have their British names: pints, spoons and eggs are taken as those of the UK", Measures::Uk);
    }
    None
}

/// "tablespoon (20 ml)", "20 ml tablespoons", "Australian cups": the spoon of 20 ml is that of Australia alone.
fn is_australian(line: &str) -> bool {
    if !line.contains("20") && !line.contains("ustralia") {
        return false;
    }
    let line = line.to_lowercase();
    let spoons = ["tablespoon", "tbsp", "tbs"].iter().any(|word| line.contains(word));
    let of_it = spoons
        && line.match_indices("20").any(|(at, _)| {
            let (before, behind) = (&line[..at], line[at + 2..].trim_start_matches([' ', '-']));
            // "2 tablespoons (40 ml)" is the same, and "120 ml" is not.
            let whole = !before.ends_with(|letter: char| letter.is_ascii_digit() || letter == '.');
            let one = before.trim_end_matches([' ', '(', '=', ':']);
            let told = one.ends_with("tablespoon")
                || one.ends_with("tbsp")
                || one.ends_with("tablespoons")
                || behind.starts_with("ml tablespoon")
                || behind.starts_with("ml tbsp");
            whole && behind.starts_with("ml") && told
        });
    let measured = || spoons || ["measure", "cup", "spoon"].iter().any(|word| line.contains(word));
    of_it || line.contains("australia") && measured()
}

/// Whether two ingredients at least are called as they are in Britain and never in America.
fn names_of_britain<'l>(lines: impl Iterator<Item = &'l str>) -> bool {
    const NAMES: [&str; 16] = [
        "caster sugar",
        "castor sugar",
        "self-raising",
        "self raising",
        "s.r. flour",
        "plain flour",
        "strong flour",
        "icing sugar",
        "cornflour",
        "bicarbonate of soda",
        "sultanas",
        "demerara",
        "black treacle",
        "double cream",
        "suet",
        "mixed spice",
    ];
    let mut found: Vec<&str> = Vec::new();
    for line in lines.map(str::to_lowercase) {
        if ["all-purpose", "confectioner", "heavy cream"].iter().any(|name| line.contains(name)) {
            return false;
        }
        found.extend(NAMES.iter().filter(|name| line.contains(**name)));
    }
    found.sort_unstable();
    found.dedup();
    found.len() > 1
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
    fn a_pint_among_british_names_is_british() {
        let pudding = ["12 oz S.R. flour", "6 oz shredded suet", "4 oz castor sugar"];
        assert_eq!(of(&[&pudding[..], &["½ pint milk"]].concat()), Some(Measures::Uk));
        assert_eq!(of(&["8 oz plain flour", "1 gill milk", "6 oz sultanas"]), Some(Measures::Uk));
        assert_eq!(of(&["A moderate oven, Reg. 3, for 1 hour", "1 gill milk"]), Some(Measures::Uk));
        // One name alone tells little, and where nothing depends on it nothing is told.
        assert_eq!(of(&["8 oz plain flour", "1 pint milk"]), None);
        assert_eq!(of(&pudding), None);
        assert_eq!(of(&["1 pint heavy cream", "100 g caster sugar", "200 g self-raising flour"]), None);
    }

    #[test]
    fn a_spoon_of_20_ml_is_australian() {
        for line in ["Lamingtons (20 ml tablespoons)", "1 tablespoon (20 ml) milk", "We use Australian cups and spoons", "1 tbsp = 20ml"] {
            assert_eq!(of(&["2 cups flour", line]), Some(Measures::Australia), "{line}");
        }
        for line in
            ["1 tablespoon (15 ml) milk", "2 tablespoons (120 ml) milk", "Australian Anzac biscuits", "20 ml milk and 1 tablespoon honey"]
        {
            assert_eq!(of(&["2 cups flour", line]), None, "{line}");
        }
    }

    #[test]
    fn what_is_measured_in_cups_is_made_for_both() {
        assert_eq!(of(&["2 cups (250g) flour", "350F/180C/gas 4"]), None);
        assert_eq!(of(&["1 stick butter", "gas mark 4"]), None);
    }
}
