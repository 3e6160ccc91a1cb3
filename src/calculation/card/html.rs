//! The card as one page to print: weights first and large, the household measure beside them, a box to tick on every line. It asks for nothing from outside, and every text of the caller's is escaped.

use super::Jurisdiction;
use super::answer::{CardAnswer, CardLine, CardPart};
use super::declaration::{DeclarationRow, NutritionDeclaration};
use crate::quantity::behind_the;

const STYLE: &str = include_str!("card.css");

pub(super) fn laid_out(card: &CardAnswer, jurisdiction: Option<Jurisdiction>) -> String {
    let title = escaped(card.title());
    let mut page = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n<title>{title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<main>\n<header>\n<h1>{title}</h1>\n<p>{} · {} as mixed",
        escaped(&card.yields()),
        escaped(&card.weight.text)
    );
    if let Some(pan) = &card.pan {
        page.push_str(&format!(" · tested in {}", escaped(pan)));
    }
    if let Some(bake) = &card.bake {
        page.push_str(&format!(" · bake {}", escaped(&bake.text)));
    }
    page.push_str("</p>\n</header>\n");
    card.parts.iter().for_each(|part| page.push_str(&table(part, card.cost.is_some())));
    page.push_str("<div class=\"beside\">\n");
    page.push_str(&card.nutrition_declaration.as_ref().map_or_else(|| nutrition(card), declaration));
    page.push_str("<div>\n");
    page.push_str(&allergens(card, jurisdiction));
    page.push_str(&cost(card));
    page.push_str("</div>\n</div>\n");
    page.push_str(&cautions(card));
    page.push_str(&sources(card));
    page.push_str("</main>\n</body>\n</html>\n");
    page
}

fn table(part: &CardPart, priced: bool) -> String {
    let into = part.into.as_deref().map(|into| format!(" <span>into the {}</span>", escaped(behind_the(into)))).unwrap_or_default();
    let rows: String = part.lines.iter().map(|line| row(line, priced)).collect();
    format!(
        "<section class=\"parts\">\n<h2>{}{into} <span>{}</span></h2>\n<table>\n<thead><tr><th scope=\"col\"><span class=\"unseen\">Done</span></th><th scope=\"col\" class=\"figure\">Weight</th><th scope=\"col\">Ingredient</th><th scope=\"col\">Measure</th>{}</tr></thead>\n<tbody>\n{rows}</tbody>\n</table>\n</section>\n",
        escaped(&part.part),
        escaped(&part.weight.text),
        if priced { "<th scope=\"col\" class=\"figure\">Cost</th>" } else { "" }
    )
}

fn row(line: &CardLine, priced: bool) -> String {
    let note = line.note.as_deref().map(|note| format!(" <small>{}</small>", escaped(note))).unwrap_or_default();
    let cost = line.cost.as_ref().map(|cost| escaped(&cost.text)).unwrap_or_default();
    format!(
        "<tr><td class=\"tick\"><span></span></td><td class=\"weight\">{}</td><td>{}{note}</td><td class=\"measure\">{}</td>{}</tr>\n",
        escaped(&line.amount.text),
        escaped(line.called()),
        escaped(line.measure.as_deref().unwrap_or_default()),
        if priced { format!("<td class=\"figure\">{cost}</td>") } else { String::new() }
    )
}

fn nutrition(card: &CardAnswer) -> String {
    let rows: String = card
        .nutrition
        .nutrients
        .iter()
        .map(|nutrient| {
            let missing = nutrient.unknown.told().map(|told| format!(" <small>{told}</small>")).unwrap_or_default();
            let part = if nutrient.nutrient.name().starts_with("of which") { " class=\"part\"" } else { "" };
            format!(
                "<tr{part}><th scope=\"row\">{}</th><td class=\"figure\">{}{missing}</td></tr>\n",
                nutrient.nutrient.name(),
                escaped(&nutrient.label.text)
            )
        })
        .collect();
    format!(
        "<section class=\"nutrition\">\n<h2>In {} <span>estimated</span></h2>\n<table>\n<tbody>\n{rows}</tbody>\n</table>\n<p class=\"fine\">{}</p>\n</section>\n",
        escaped(&card.nutrition.serving),
        escaped(card.nutrition.estimate)
    )
}

fn declaration(declared: &NutritionDeclaration) -> String {
    let row = |row: &DeclarationRow| {
        let missing = row.unknown.told().map(|missing| format!(" <small>{missing}</small>")).unwrap_or_default();
        format!(
            "<tr{}><th scope=\"row\">{}</th><td class=\"figure\">{}{missing}</td><td class=\"figure\">{}</td></tr>\n",
            if row.is_part() { " class=\"part\"" } else { "" },
            row.nutrient.name(),
            escaped(&row.declared_per_100g.text),
            escaped(&row.declared_per_portion.text)
        )
    };
    let rows: String = declared.nutrients.iter().map(row).collect();
    format!(
        "<section class=\"nutrition\">\n<h2>Nutrition declaration <span>estimated</span></h2>\n<table>\n<thead><tr><th scope=\"col\"><span class=\"unseen\">Nutrient</span></th><th scope=\"col\" class=\"figure\">100 g</th><th scope=\"col\" class=\"figure\">{}</th></tr></thead>\n<tbody>\n{rows}</tbody>\n</table>\n<p class=\"fine\">{} {}</p>\n</section>\n",
        escaped(&declared.portion_told()),
        escaped(&declared.weight_told()),
        escaped(declared.estimate)
    )
}

fn allergens(card: &CardAnswer, jurisdiction: Option<Jurisdiction>) -> String {
    let sentences: String =
        card.allergen_sentences(jurisdiction).iter().map(|sentence| format!("<p>{}</p>\n", escaped(sentence))).collect();
    format!("<section>\n<h2>Allergens</h2>\n{sentences}</section>\n")
}

fn cost(card: &CardAnswer) -> String {
    let Some(cost) = &card.cost else { return String::new() };
    let without = if cost.without.is_empty() {
        String::new()
    } else {
        format!(" Without a price, not counted: {}.", escaped(&cost.without.join(", ")))
    };
    format!(
        "<section>\n<h2>Cost <span>of the ingredients</span></h2>\n<p>{} in all, <strong>{}</strong> a piece.{without}</p>\n</section>\n",
        escaped(&cost.batch.text),
        escaped(&cost.piece.text)
    )
}

fn cautions(card: &CardAnswer) -> String {
    let items: String = card.owed.cautions.iter().map(|caution| format!("<li>{}</li>\n", escaped(caution.text))).collect();
    if items.is_empty() { items } else { format!("<section class=\"mind\">\n<h2>To mind</h2>\n<ul>\n{items}</ul>\n</section>\n") }
}

fn sources(card: &CardAnswer) -> String {
    let titles: Vec<String> = card.owed.sources.iter().map(|source| escaped(source.title)).collect();
    format!("<footer>Figures after: {}. Tables {}.</footer>\n", titles.join("; "), escaped(card.owed.tables))
}

/// A text as it stands between tags and inside quotes; control characters have no place on a page.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}
