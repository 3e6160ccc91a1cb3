//! Ingredient lines as they are printed and typed, each with what a person read in it: the reader of lines is measured against them, and its shares are printed.

use evencrumb::calculation::{Entry, Options};
use evencrumb::quantity::{Amount, Counting, Measures, Pointer, Written, read_amount};
use evencrumb::reference::Reference;
use serde_json::Value;

/// One line with what stands in it.
struct Expected {
    line: String,
    state: String,
    amounts: Vec<String>,
    also: Vec<String>,
    ingredients: Vec<String>,
    filled: Option<String>,
}

/// The columns of a table by their names.
fn rows(text: &'static str) -> Vec<Vec<(&'static str, &'static str)>> {
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let names: Vec<&str> = lines.next().unwrap_or_default().split('\t').collect();
    lines.map(|line| names.iter().copied().zip(line.split('\t').chain(std::iter::repeat(""))).collect()).collect()
}

fn expected(text: &'static str) -> Vec<Expected> {
    let several = |text: &str| text.split(" ; ").map(|one| one.trim().to_owned()).collect();
    rows(text)
        .iter()
        .map(|row| {
            let cell = |name: &str| row.iter().find(|(known, _)| *known == name).map_or("", |(_, cell)| *cell);
            Expected {
                line: cell("line").to_owned(),
                state: cell("state").to_owned(),
                amounts: several(cell("amount")),
                also: cell("also").split(" | ").filter(|also| !also.is_empty()).map(str::to_owned).collect(),
                ingredients: several(cell("ingredient")),
                filled: row.iter().find(|(known, cell)| *known == "filled" && !cell.is_empty()).map(|(_, cell)| (*cell).to_owned()),
            }
        })
        .collect()
}

/// An amount by its value in the base unit and what it counts; eggs by any word of theirs.
fn meaning(text: &str) -> Option<(i64, String)> {
    let amount = read_amount(&Written::Text(text.into()), Measures::Us, &Pointer::ROOT).ok()?;
    let Amount { number, counting } = amount;
    let (size, word) = match counting {
        Counting::Unit(unit) if unit.id == "dozen" => (12.0, "piece".to_owned()),
        Counting::Unit(unit) => (
            unit.size,
            format!(
                "{:?}{}",
                unit.family,
                if unit.family == evencrumb::quantity::Family::Count && unit.id != "each" { unit.id } else { "" }
            ),
        ),
        Counting::Named(word) => (1.0, word.trim_end_matches('s').replace("yolk", "egg").replace("white", "egg")),
        other => (1.0, format!("{other:?}")),
    };
    let word = if word == "Nothing" { "Count".to_owned() } else { word };
    Some((((number.low * 3.0 + number.high) * size * 1e6).round() as i64, word))
}

fn same(found: &str, wanted: &str) -> bool {
    match (wanted.is_empty(), found.is_empty()) {
        (true, true) => true,
        (false, false) => meaning(found) == meaning(wanted),
        _ => false,
    }
}

#[derive(Default)]
struct Shares {
    lines: usize,
    amounts: usize,
    amounts_right: usize,
    ingredients: usize,
    ingredients_right: usize,
    wrong_and_confident: usize,
    misses: Vec<String>,
    /// Lines whose formula another calculation would not take.
    refused: Vec<String>,
}

impl Shares {
    fn share(right: usize, of: usize) -> f64 {
        100.0 * right as f64 / of.max(1) as f64
    }

    fn amounts_share(&self) -> f64 {
        Self::share(self.amounts_right, self.amounts)
    }

    fn ingredients_share(&self) -> f64 {
        Self::share(self.ingredients_right, self.ingredients)
    }

    fn print(&self, name: &str) {
        println!(
            "{name}: {} lines; amounts and units {}/{} ({:.1} %), ingredients in the table {}/{} ({:.1} %), wrong and confident {}",
            self.lines,
            self.amounts_right,
            self.amounts,
            self.amounts_share(),
            self.ingredients_right,
            self.ingredients,
            self.ingredients_share(),
            self.wrong_and_confident
        );
        self.misses.iter().for_each(|miss| println!("  {miss}"));
    }
}

fn ask(line: &str) -> Value {
    let reference = Reference::load().expect("the tables are whole");
    let entry = Entry::named("read").expect("read is a calculation");
    let question = serde_json::json!({ "lines": [line] }).to_string();
    let answer = entry.answer(question.as_bytes(), reference, Options::default()).unwrap_or_else(|refusal| panic!("{line}: {refusal:?}"));
    serde_json::from_slice(&answer).expect("an answer is JSON")
}

/// Whether a formula that was read is taken by another calculation.
fn is_taken_back(answer: &Value) -> bool {
    let Some(formula) = answer.get("formula") else { return true };
    let reference = Reference::load().expect("the tables are whole");
    let question = serde_json::json!({ "formula": formula, "want": { "factor": 2 } }).to_string();
    Entry::named("batch").expect("batch is a calculation").answer(question.as_bytes(), reference, Options::default()).is_ok()
}

fn measured(all: &[Expected]) -> Shares {
    let mut shares = Shares { lines: all.len(), ..Shares::default() };
    for wanted in all {
        let answer = ask(&wanted.line);
        if !is_taken_back(&answer) {
            shares.refused.push(wanted.line.clone());
        }
        let report = &answer["lines"][0];
        let empty = Vec::new();
        let matched = report["matched"].as_array().unwrap_or(&empty);
        let cell = |at: usize, name: &str| matched.get(at).and_then(|one| one[name].as_str()).unwrap_or_default().to_owned();
        let state = report["state"].as_str().unwrap_or_default();
        let mut right = matched.len() <= wanted.ingredients.len().max(wanted.amounts.len()).max(1);
        let made = answer["formula"]["parts"][0]["lines"][0].clone();
        for (at, amount) in wanted.amounts.iter().enumerate() {
            let mut fits = same(&cell(at, "amount"), amount);
            if at == 0 && !wanted.also.is_empty() {
                fits &= made["also"].as_str().is_some_and(|also| wanted.also.iter().any(|wanted| same(also, wanted)));
            }
            shares.amounts += 1;
            shares.amounts_right += usize::from(fits);
            right &= fits;
        }
        for (at, ingredient) in wanted.ingredients.iter().enumerate().filter(|(_, id)| !id.is_empty()) {
            let fits = ingredient.split('|').any(|id| id.trim() == cell(at, "ingredient"));
            shares.ingredients += 1;
            shares.ingredients_right += usize::from(fits);
            right &= fits;
        }
        right &= wanted.filled.as_deref() == made["filled"].as_str() || wanted.filled.is_none();
        let confident = state == "understood";
        if confident && (!right || wanted.state != "understood") {
            shares.wrong_and_confident += 1;
        }
        if !right || state != wanted.state {
            shares.misses.push(format!("{:?}: {state} {matched:?} {}", wanted.line, made));
        }
    }
    shares
}

#[track_caller]
fn holds(name: &str, text: &'static str, least: usize) {
    let all = expected(text);
    let shares = measured(&all);
    shares.print(name);
    assert!(all.len() >= least, "only {} lines", all.len());
    assert!(shares.amounts_share() >= 95.0 && shares.ingredients_share() >= 90.0, "the shares are too low");
    assert!(shares.refused.is_empty(), "what was read is not taken back: {:?}", shares.refused);
    assert_eq!(shares.wrong_and_confident, 0, "a line was read wrongly, and confidently");
}

#[test]
fn modern_lines_with_two_measures_are_read() {
    holds("modern lines", include_str!("data/modern-lines.tsv"), 120);
}

#[test]
fn lines_of_an_old_cook_book_are_read() {
    holds("cook book of 1910", include_str!("data/cookery-lines.tsv"), 300);
}

#[test]
fn lines_of_the_book_that_were_never_looked_at_are_read() {
    holds("cook book of 1910, unseen", include_str!("data/cookery-unseen-lines.tsv"), 200);
}

#[test]
fn modern_lines_that_were_never_looked_at_are_read() {
    holds("modern lines, unseen", include_str!("data/modern-unseen-lines.tsv"), 60);
}
