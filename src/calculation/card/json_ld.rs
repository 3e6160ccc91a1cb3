//! The card as a schema.org Recipe in JSON-LD: ingredients as texts for people and as supplies with figures for machines, weights in UN/CEFACT codes. It names no picture; a page that wants one adds `image`.

use serde::Serialize;

use super::Jurisdiction;
use super::answer::{CardAnswer, CardLine, NutritionShown};
use super::declaration::NutritionDeclaration;
use super::plain_text::one_line;
use crate::formula::{Declared, Nutrient};
use crate::quantity::{Figure, Quantity};
use crate::reference::DeclaredNutrient;

#[derive(Serialize)]
struct Recipe<'c> {
    #[serde(rename = "@context")]
    context: &'static str,
    #[serde(rename = "@type")]
    kind: &'static str,
    name: String,
    description: String,
    #[serde(rename = "inLanguage")]
    language: &'static str,
    #[serde(rename = "recipeCategory", skip_serializing_if = "Option::is_none")]
    category: Option<&'static str>,
    #[serde(rename = "recipeYield")]
    yields: (String, Value),
    /// A Duration of ISO 8601.
    #[serde(rename = "cookTime", skip_serializing_if = "Option::is_none")]
    time: Option<String>,
    #[serde(rename = "recipeIngredient")]
    ingredients: Vec<String>,
    supply: Vec<Supply>,
    #[serde(skip_serializing_if = "Option::is_none")]
    tool: Option<Tool<'c>>,
    nutrition: Nutrition,
    #[serde(rename = "estimatedCost", skip_serializing_if = "Option::is_none")]
    cost: Option<Cost>,
}

#[derive(Serialize)]
struct Supply {
    #[serde(rename = "@type")]
    kind: &'static str,
    name: String,
    #[serde(rename = "requiredQuantity")]
    quantity: Vec<Value>,
}

#[derive(Serialize)]
struct Tool<'c> {
    #[serde(rename = "@type")]
    kind: &'static str,
    name: &'c str,
}

/// A QuantitativeValue.
#[derive(Serialize)]
struct Value {
    #[serde(rename = "@type")]
    kind: &'static str,
    value: Figure,
    #[serde(rename = "minValue", skip_serializing_if = "Option::is_none")]
    least: Option<Figure>,
    #[serde(rename = "maxValue", skip_serializing_if = "Option::is_none")]
    most: Option<Figure>,
    /// UN/CEFACT Recommendation 20: GRM gram, MLT millilitre.
    #[serde(rename = "unitCode", skip_serializing_if = "Option::is_none")]
    code: Option<&'static str>,
    #[serde(rename = "unitText")]
    unit: &'static str,
}

#[derive(Serialize)]
struct Nutrition {
    #[serde(rename = "@type")]
    kind: &'static str,
    #[serde(rename = "servingSize")]
    serving: String,
    calories: String,
    #[serde(rename = "fatContent")]
    fat: String,
    #[serde(rename = "saturatedFatContent")]
    saturated: String,
    #[serde(rename = "cholesterolContent")]
    cholesterol: String,
    #[serde(rename = "sodiumContent")]
    sodium: String,
    #[serde(rename = "carbohydrateContent")]
    carbohydrate: String,
    #[serde(rename = "fiberContent")]
    fibre: String,
    #[serde(rename = "sugarContent")]
    sugars: String,
    #[serde(rename = "proteinContent")]
    protein: String,
}

/// A cost as text, or as a MonetaryAmount where the currency is a code of ISO 4217.
#[derive(Serialize)]
#[serde(untagged)]
enum Cost {
    Text(String),
    Amount {
        #[serde(rename = "@type")]
        kind: &'static str,
        currency: String,
        value: Figure,
    },
}

pub(super) fn laid_out(card: &CardAnswer, jurisdiction: Option<Jurisdiction>, currency: Option<&str>) -> String {
    let lines = || card.parts.iter().flat_map(|part| &part.lines);
    let recipe = Recipe {
        context: "https://schema.org",
        kind: "Recipe",
        name: one_line(card.title()),
        description: one_line(&format!("{} {}", card.allergen_sentences(jurisdiction).join(" "), card.estimate())),
        language: "en",
        category: card.style,
        yields: (card.yields(), value(Figure(f64::from(card.pieces)), None, if card.pieces == 1 { "piece" } else { "pieces" })),
        time: card
            .bake
            .as_ref()
            .and_then(|bake| bake.in_all.as_ref())
            .map(|minutes| format!("PT{:.0}M", minutes.high.unwrap_or(minutes.value).0.ceil())),
        ingredients: lines().map(ingredient).collect(),
        supply: lines().map(supply).collect(),
        tool: card.pan.as_deref().map(|name| Tool { kind: "HowToTool", name }),
        nutrition: nutrition(&card.nutrition, card.nutrition_declaration.as_ref()),
        cost: card.cost.as_ref().map(|cost| money(cost.batch.amount, &cost.batch.text, currency)),
    };
    // Inside a script element of a page no text of the caller's may end the script.
    serde_json::to_string_pretty(&recipe).unwrap_or_default().replace('<', "\\u003c")
}

/// "220 g all-purpose flour (1 3/4 cups), sifted".
fn ingredient(line: &CardLine) -> String {
    let measure = line.measure.as_deref().map(|measure| format!(" ({measure})")).unwrap_or_default();
    let note = line.note.as_deref().map(|note| format!(", {note}")).unwrap_or_default();
    one_line(&format!("{} {}{measure}{note}", line.amount.text, line.called()))
}

fn supply(line: &CardLine) -> Supply {
    let weight = Value { least: line.amount.low, most: line.amount.high, ..value(line.amount.value, Some("GRM"), "g") };
    let volume = line.volume.map(|volume| value(Figure(volume.in_millilitres()), Some("MLT"), "ml"));
    Supply { kind: "HowToSupply", name: one_line(line.called()), quantity: std::iter::once(weight).chain(volume).collect() }
}

fn value(value: Figure, code: Option<&'static str>, unit: &'static str) -> Value {
    Value { kind: "QuantitativeValue", value, least: None, most: None, code, unit }
}

/// Of a serving, by the rules that were asked for; the EU declares no cholesterol, and salt for sodium, for which schema.org has no word.
fn nutrition(shown: &NutritionShown, declared: Option<&NutritionDeclaration>) -> Nutrition {
    // schema.org wants a number and a unit: "less than 1 g" is no such thing, there the estimate itself stands.
    let written = |label: &Declared, each: &Quantity| {
        if label.text.starts_with(['l', '<']) { each.text.to_string() } else { label.text.clone() }
    };
    let us = |wanted: Nutrient| {
        let found = shown.nutrients.iter().find(|nutrient| nutrient.nutrient == wanted);
        found.map(|found| written(&found.label, &found.each)).unwrap_or_default()
    };
    let of = |wanted: Nutrient, declares: DeclaredNutrient| {
        let found = declared.and_then(|declared| declared.nutrients.iter().find(|row| row.nutrient == declares));
        found.map_or_else(|| us(wanted), |row| written(&row.declared_per_portion, &row.per_portion))
    };
    Nutrition {
        kind: "NutritionInformation",
        serving: shown.serving.clone(),
        calories: of(Nutrient::Energy, DeclaredNutrient::EnergyKcal),
        fat: of(Nutrient::Fat, DeclaredNutrient::Fat),
        saturated: of(Nutrient::Saturated, DeclaredNutrient::Saturates),
        cholesterol: us(Nutrient::Cholesterol),
        sodium: us(Nutrient::Sodium),
        carbohydrate: of(Nutrient::Carbohydrate, DeclaredNutrient::Carbohydrate),
        fibre: of(Nutrient::Fibre, DeclaredNutrient::Fibre),
        sugars: of(Nutrient::Sugars, DeclaredNutrient::Sugars),
        protein: of(Nutrient::Protein, DeclaredNutrient::Protein),
    }
}

fn money(value: Figure, text: &str, currency: Option<&str>) -> Cost {
    match currency.map(str::trim) {
        Some(code) if code.len() == 3 && code.bytes().all(|b| b.is_ascii_uppercase()) => {
            Cost::Amount { kind: "MonetaryAmount", currency: code.to_owned(), value: Figure((value.0 * 100.0).round() / 100.0) }
        }
        _ => Cost::Text(text.to_owned()),
    }
}
