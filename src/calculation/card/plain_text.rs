//! The card as plain text of at most 78 columns: weights in a column of their own, a box to tick before each.

use super::Jurisdiction;
use super::answer::CardAnswer;
use super::declaration::NutritionDeclaration;
use crate::quantity::behind_the;

const WIDTH: usize = 78;

pub(super) fn laid_out(card: &CardAnswer, jurisdiction: Option<Jurisdiction>) -> String {
    let mut text = String::new();
    let title = one_line(card.title());
    line(&mut text, &title);
    line(&mut text, &"=".repeat(title.chars().count().min(WIDTH)));
    let pan = card.pan.as_deref().map(|pan| format!(", tested in {pan}")).unwrap_or_default();
    wrapped(&mut text, &format!("{}, {} as mixed{pan}", card.yields(), card.weight.text), "");
    if let Some(bake) = &card.bake {
        wrapped(&mut text, &format!("Bake: {}", one_line(&bake.text)), "");
    }
    parts(&mut text, card);
    match &card.nutrition_declaration {
        Some(declared) => declaration(&mut text, declared),
        None => nutrition(&mut text, card),
    }
    if let Some(cost) = &card.cost {
        heading(&mut text, "Cost of the ingredients");
        wrapped(&mut text, &format!("{} in all, {} a piece.", cost.batch.text, cost.piece.text), "");
        if !cost.without.is_empty() {
            wrapped(&mut text, &format!("Without a price, not counted: {}.", cost.without.join(", ")), "");
        }
    }
    heading(&mut text, "Allergens");
    card.allergen_sentences(jurisdiction).iter().for_each(|sentence| wrapped(&mut text, sentence, ""));
    heading(&mut text, "To mind");
    card.owed.cautions.iter().for_each(|caution| wrapped(&mut text, &format!("- {}", caution.text), "  "));
    text
}

fn parts(text: &mut String, card: &CardAnswer) {
    let lines = || card.parts.iter().flat_map(|part| &part.lines);
    let widest = lines().map(|line| line.amount.text.chars().count()).max().unwrap_or(0);
    let names = lines().map(|line| line.called().chars().count()).max().unwrap_or(0).min(34);
    for part in &card.parts {
        let into = part.into.as_deref().map(|into| format!(", into the {}", behind_the(into))).unwrap_or_default();
        heading(text, &format!("{} ({}{into})", part.part, part.weight.text));
        for one in &part.lines {
            let name = one_line(one.called());
            let measure = one.measure.as_deref().map(one_line).unwrap_or_default();
            let row = format!("[ ] {:>widest$}  {name:<names$}  {measure}", one.amount.text);
            line(text, row.trim_end());
            if let Some(note) = &one.note {
                line(text, &format!("    {:>widest$}  ({})", "", one_line(note)));
            }
        }
    }
}

fn nutrition(text: &mut String, card: &CardAnswer) {
    heading(text, &format!("In {}, estimated", card.nutrition.serving));
    for nutrient in &card.nutrition.nutrients {
        let missing = nutrient.unknown.told().map(|told| format!("  ({told})")).unwrap_or_default();
        line(text, &format!("{:<20}{}{missing}", nutrient.nutrient.name(), nutrient.label.text));
    }
    wrapped(text, card.nutrition.estimate, "");
}

fn declaration(text: &mut String, declared: &NutritionDeclaration) {
    heading(text, "Nutrition declaration, estimated");
    let portion = declared.portion_told();
    let widest = portion.chars().count();
    line(text, &format!("{:<20}{:>10}  {portion}", "", "100 g"));
    for row in &declared.nutrients {
        let missing = row.unknown.told().map(|missing| format!("  ({missing})")).unwrap_or_default();
        let (each, portion) = (&row.declared_per_100g.text, &row.declared_per_portion.text);
        line(text, &format!("{:<20}{each:>10}  {portion:>widest$}{missing}", row.nutrient.name()));
    }
    wrapped(text, &declared.weight_told(), "");
    wrapped(text, declared.estimate, "");
}

fn heading(text: &mut String, words: &str) {
    text.push('\n');
    let words = one_line(words);
    line(text, &words);
    line(text, &"-".repeat(words.chars().count().min(WIDTH)));
}

fn line(text: &mut String, words: &str) {
    text.push_str(words);
    text.push('\n');
}

/// Words in lines of at most the width; lines behind the first are set in.
fn wrapped(text: &mut String, words: &str, indent: &str) {
    let mut row = String::new();
    for word in words.split_whitespace() {
        if !row.trim().is_empty() && row.chars().count() + 1 + word.chars().count() > WIDTH {
            line(text, &row);
            row = indent.trim_end_matches('\n').to_owned();
        } else if !row.is_empty() {
            row.push(' ');
        }
        row.push_str(word);
    }
    line(text, &row);
}

/// No line break or control character of a name breaks the layout.
pub(super) fn one_line(text: &str) -> String {
    text.split(|c: char| c.is_control() || c.is_whitespace()).filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}
