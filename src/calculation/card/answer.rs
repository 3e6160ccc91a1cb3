//! The structured card, put together: parts with weights and measures, nutrients, allergens, cost; and the document, laid out from it.

use std::borrow::Cow;

use serde::Serialize;
use utoipa::ToSchema;

use super::bake::{BakeCard, baked};
use super::declaration::{DeclarationRow, NutritionDeclaration};
use super::price::{CostShown, fitted};
use super::serving::Servings;
use super::unknown::Unknown;
use super::{CardFormat, CardQuestion, Jurisdiction, csv, html, json_ld, measure, plain_text};
use crate::calculation::Answer;
use crate::formula::{Allergens, Declared, Formula, Line, LineCosts, LineShown, LineWritten, Nutrient, NutrientSum, lines_scaled};
use crate::pan::Bake;
use crate::quantity::{Factor, Figure, Mass, Quantity, Span, plain};
use crate::reference::{Account, Owed, Reference};

/// The card.
#[derive(Debug, Serialize, ToSchema)]
pub struct CardAnswer {
    /// What it is called.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub name: Option<String>,
    /// Into how many pieces it is cut or scaled.
    #[schema(minimum = 1, maximum = 1_000_000, examples(16))]
    pub pieces: u32,
    /// What it weighs in all, as mixed.
    pub weight: Quantity,
    /// The pans it was tested in.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 20_000)]
    pub pan: Option<String>,
    /// How it bakes as tested.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub bake: Option<BakeCard>,
    /// Its parts, in the order of the work.
    #[schema(max_items = 50)]
    pub parts: Vec<CardPart>,
    /// What is in a serving: an estimate.
    pub nutrition: NutritionShown,
    /// The same as the EU and the United Kingdom have it declared; only where `jurisdiction` asks for it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub nutrition_declaration: Option<NutritionDeclaration>,
    /// Which allergens the ingredients bring in, by two lists.
    pub allergens: Allergens,
    /// What the ingredients cost; only where prices are given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cost: Option<CostCard>,
    /// The card laid out; nothing for json.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub document: Option<Document>,
    #[serde(flatten)]
    pub owed: Owed,
    /// The style by its name in words, for the documents.
    #[serde(skip)]
    #[schema(ignore)]
    pub(super) style: Option<&'static str>,
}

/// A part of the card.
#[derive(Debug, Serialize, ToSchema)]
pub struct CardPart {
    /// What it is called.
    #[schema(max_length = 200, examples("batter"))]
    pub part: String,
    /// The part it is mixed into before baking.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub into: Option<String>,
    /// What it weighs.
    pub weight: Quantity,
    /// Its lines; their texts add up to that of the weight.
    #[schema(max_items = 200)]
    pub lines: Vec<CardLine>,
}

impl CardLine {
    /// As the formula calls it.
    pub(super) fn called(&self) -> &str {
        self.written.as_deref().unwrap_or(&self.ingredient)
    }
}

/// A line of the card.
#[derive(Debug, Serialize, ToSchema)]
pub struct CardLine {
    /// The ingredient by its name in the table, with the state in which it is measured.
    #[schema(max_length = 250, examples("all-purpose flour"))]
    pub ingredient: String,
    /// What the formula calls it, where that is another word; the documents call it so.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 250, examples("plain flour"))]
    pub written: Option<String>,
    /// What to weigh out.
    pub amount: Quantity,
    /// The household measure: as the formula has it, or "about" what comes near.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 250, examples("about 1 3/4 cups"))]
    pub measure: Option<String>,
    /// What else belongs to the line.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 420)]
    pub note: Option<String>,
    /// What it costs, its share of what is bought for it; only where there is a price.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cost: Option<CostShown>,
    /// The volume, where the line is written as one.
    #[serde(skip)]
    #[schema(ignore)]
    pub(super) volume: Option<crate::quantity::Volume>,
}

/// What is in a serving.
#[derive(Debug, Serialize, ToSchema)]
pub struct NutritionShown {
    /// One serving in words.
    #[schema(max_length = 100, examples("1 piece"))]
    pub serving: String,
    /// How many servings the formula makes.
    #[schema(value_type = f64, minimum = 0.0, maximum = 1e15, examples(16))]
    pub servings: Figure,
    /// The nutrients, in the order of a label.
    #[schema(max_items = 9)]
    pub nutrients: Vec<NutrientShown>,
    /// How far the figures can be trusted.
    #[schema(max_length = 600)]
    pub estimate: &'static str,
}

/// One nutrient.
#[derive(Debug, Serialize, ToSchema)]
pub struct NutrientShown {
    pub nutrient: Nutrient,
    /// In a serving, not rounded.
    pub each: Quantity,
    /// In the whole formula, not rounded.
    pub whole: Quantity,
    /// As a label declares it: rounded once, after 21 CFR 101.9(c).
    pub label: Declared,
    #[serde(flatten)]
    pub unknown: Unknown,
}

/// What the ingredients cost.
#[derive(Debug, Serialize, ToSchema)]
pub struct CostCard {
    /// All lines that have a price.
    pub batch: CostShown,
    /// The same for one piece.
    pub piece: CostShown,
    /// Ingredients without a price: they are not in the cost.
    #[schema(max_items = 10_000)]
    pub without: Vec<Cow<'static, str>>,
}

/// The card laid out in one form.
#[derive(Debug, Serialize, ToSchema)]
pub struct Document {
    pub format: CardFormat,
    /// Its media type.
    #[schema(max_length = 60, examples("text/html; charset=utf-8"))]
    pub media_type: &'static str,
    /// The document itself.
    #[schema(max_length = 100_000_000)]
    pub text: String,
}

const ESTIMATE: &str = "An estimate from food composition tables, not an analysis: the kind of each ingredient stands for the brand. Nutrients are those weighed in, over all servings alike: what evaporates takes none with it; sugar that yeast eats, frying fat taken up and alcohol that cooks off are not reckoned. Trans fat, added sugars, vitamins and minerals are not computed. The label's figures are rounded as the US asks; for what the EU and the United Kingdom declare for 100 g, ask with jurisdiction eu or uk.";

/// What was computed of a card.
pub(super) struct Figures<'f> {
    pub formula: &'f Formula,
    pub bake: Option<Bake>,
    pub pieces: u32,
    pub servings: Servings,
    pub nutrients: Vec<NutrientSum>,
    pub declaration: Option<NutritionDeclaration>,
    pub allergens: Allergens,
    pub costs: Option<LineCosts>,
}

pub(super) fn assembled(question: &CardQuestion, figures: Figures<'_>, reference: &'static Reference, account: &mut Account) -> CardAnswer {
    let formula = figures.formula;
    let (parts, cost) = parts(question, &figures, reference);
    let weight = formula.scaled(|_| Factor::ONE).weight;
    let nutrition = nutrition(&figures);
    let summary = summary(question, &figures, &weight, &nutrition, cost.as_ref());
    let mut card = CardAnswer {
        name: formula.name.as_ref().map(ToString::to_string),
        pieces: figures.pieces,
        weight,
        pan: formula.pans.as_ref().map(|pans| pans.text()),
        bake: figures.bake.as_ref().zip(question.formula.bake.as_ref()).and_then(|(bake, written)| baked(bake, written)),
        parts,
        nutrition,
        nutrition_declaration: figures.declaration,
        allergens: figures.allergens,
        cost,
        document: None,
        owed: account.settle(summary),
        style: formula.style.map(|style| style.name),
    };
    card.document = document(&card, question.format.unwrap_or_default(), question.jurisdiction, question.currency.as_deref());
    card
}

fn document(card: &CardAnswer, format: CardFormat, jurisdiction: Option<Jurisdiction>, currency: Option<&str>) -> Option<Document> {
    let (media_type, text) = match format {
        CardFormat::Json => return None,
        CardFormat::Text => ("text/plain; charset=utf-8", plain_text::laid_out(card, jurisdiction)),
        CardFormat::Csv => ("text/csv; charset=utf-8; header=present", csv::laid_out(card)),
        CardFormat::Html => ("text/html; charset=utf-8", html::laid_out(card, jurisdiction)),
        CardFormat::JsonLd => ("application/ld+json", json_ld::laid_out(card, jurisdiction, currency)),
    };
    Some(Document { format, media_type, text })
}

fn parts(question: &CardQuestion, figures: &Figures<'_>, reference: &'static Reference) -> (Vec<CardPart>, Option<CostCard>) {
    let (formula, currency) = (figures.formula, question.currency.as_deref());
    let costs: Vec<_> = figures.costs.iter().flatten().flatten().copied().collect();
    let (shown, batch) = fitted(&costs, currency);
    let (mut shown, mut without) = (shown.into_iter(), Vec::new());
    let mut parts = Vec::with_capacity(formula.parts.len());
    for (part, written) in formula.parts.iter().zip(&question.formula.parts) {
        let (lines, weight) = lines_scaled(&part.lines, Factor::ONE);
        let lines =
            lines.into_iter().zip(part.lines.iter().zip(&written.lines)).map(|(LineShown { ingredient, amount, .. }, (line, written))| {
                let cost = shown.next().flatten();
                if cost.is_none() && !without.contains(&ingredient) {
                    without.push(ingredient.clone());
                }
                let ingredient = named(ingredient, line);
                CardLine {
                    written: called(written, &ingredient, reference),
                    ingredient,
                    amount,
                    measure: measure::beside(written, line, formula.measures, reference),
                    note: note(written, reference),
                    cost,
                    volume: line.amount.volume(),
                }
            });
        let lines = lines.collect();
        let name = |part: usize| formula.parts[part].name.to_string();
        parts.push(CardPart { part: part.name.to_string(), into: part.into.map(name), weight, lines });
    }
    let sum = costs.iter().flatten().copied().reduce(|sum, cost| sum + cost);
    let piece = sum.map(|sum| CostShown::new(sum / Factor::times(f64::from(figures.pieces)), currency));
    let cost = figures.costs.as_ref().map(|_| CostCard { piece: piece.unwrap_or_else(|| batch.clone()), batch, without });
    (parts, cost)
}

/// The ingredient with the state in which it is measured: "walnuts, chopped".
fn named(ingredient: Cow<'_, str>, line: &Line) -> String {
    if line.form.is_empty() || ingredient.contains(line.form) { ingredient.into_owned() } else { format!("{ingredient}, {}", line.form) }
}

/// The formula's own word for an ingredient: a British card says plain flour, whatever the table calls it.
fn called(written: &LineWritten, ingredient: &str, reference: &'static Reference) -> Option<String> {
    let after = reference.ingredients.find(&written.ingredient).is_some_and(|found| found.after_measuring);
    let name = if after { written.ingredient.split([',', '(']).next().unwrap_or_default() } else { &written.ingredient };
    let name = name.trim();
    (!name.is_empty() && plain(name) != plain(ingredient)).then(|| name.to_owned())
}

/// What is done after measuring, and what else the formula notes.
fn note(written: &LineWritten, reference: &'static Reference) -> Option<String> {
    let after = reference.ingredients.find(&written.ingredient).is_some_and(|found| found.after_measuring);
    let done = if after { written.ingredient.split_once([',', '(']).map(|(_, done)| done.trim_end_matches(')').trim()) } else { None };
    let noted = written.note.as_deref().map(str::trim);
    let all: Vec<&str> = done.into_iter().chain(noted).filter(|note| !note.is_empty()).collect();
    (!all.is_empty()).then(|| all.join("; "))
}

fn nutrition(figures: &Figures<'_>) -> NutritionShown {
    let count = figures.servings.count;
    let shown = |sum: &NutrientSum| NutrientShown {
        nutrient: sum.nutrient,
        each: in_unit(sum.whole / count, sum.nutrient.unit()),
        whole: in_unit(sum.whole, sum.nutrient.unit()),
        label: sum.nutrient.declared((sum.whole / count).value()),
        unknown: Unknown::of(sum.missing, sum.without.clone()),
    };
    NutritionShown {
        serving: figures.servings.one.clone(),
        servings: Figure(count.value()),
        nutrients: figures.nutrients.iter().map(shown).collect(),
        estimate: ESTIMATE,
    }
}

/// An amount of a nutrient in its unit, written as masses are.
pub(super) fn in_unit(amount: Span<Factor>, unit: &'static str) -> Quantity {
    let mut quantity = Quantity::from(amount.map(|amount| Mass::grams(amount.value())));
    quantity.unit = unit;
    quantity.text = quantity.text.replace(" g", &format!(" {unit}")).into();
    quantity
}

fn summary(
    question: &CardQuestion,
    figures: &Figures<'_>,
    weight: &Quantity,
    nutrition: &NutritionShown,
    cost: Option<&CostCard>,
) -> String {
    let name = question.formula.name.as_deref().unwrap_or("The formula");
    let pieces = if figures.pieces == 1 { "1 piece".to_owned() } else { format!("{} pieces", figures.pieces) };
    // One energy in one sentence: the EU's factors and roundings are not those of the US label.
    let energy = match figures.declaration.as_ref() {
        Some(declaration) => {
            let both =
                |of: &dyn Fn(&DeclarationRow) -> String| declaration.nutrients.iter().take(2).map(of).collect::<Vec<_>>().join(" / ");
            let (portion, hundred) = (both(&|row| row.declared_per_portion.text.clone()), both(&|row| row.declared_per_100g.text.clone()));
            format!("about {portion} in {}, {hundred} in 100 g as sold", nutrition.serving)
        }
        None => {
            let label = nutrition.nutrients.first().map(|energy| energy.label.text.clone()).unwrap_or_default();
            format!("about {label} in {}", nutrition.serving)
        }
    };
    let names: Vec<&str> = figures.allergens.eu.iter().map(|found| found.name).collect();
    let known = if names.is_empty() { "no allergen of the EU list".to_owned() } else { names.join(", ") };
    let unknown = &figures.allergens.unknown;
    let allergens = if unknown.is_empty() {
        known
    } else {
        format!("{known}; not known of {}", unknown.join(", ").chars().take(200).collect::<String>())
    };
    let cost = cost.map(|cost| match cost.without.len() {
        0 => format!("; a piece costs {}", cost.piece.text),
        1 => format!("; a piece costs {} without {}, which has no price", cost.piece.text, cost.without[0]),
        many => format!("; a piece costs {} without {many} ingredients that have no price", cost.piece.text),
    });
    let cost = cost.unwrap_or_default();
    format!("{name}: {} as mixed, {pieces}; {energy}; it brings in {allergens}{cost}", weight.text)
}

impl Answer for CardAnswer {
    fn cell(&self) -> String {
        self.weight.value.rounded().to_string()
    }

    fn owed(&self) -> &Owed {
        &self.owed
    }
}
