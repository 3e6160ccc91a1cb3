//! The tables as callers read them: every row with its figures, its source and its mark.

use serde::Serialize;
use utoipa::ToSchema;

use super::class::Class;
use super::composition::CompositionRow;
use super::dried_egg::FreshEggRow;
use super::ingredient::{Ingredient, Nature};
use super::loss::{Stage, StageLoss};
use super::source::Citation;
use super::style::{Basis, Style};
use super::swap::Swap;
use super::weight::Filled;
use crate::quantity::{Figure, Quantifiable, Span};

/// A figure with its range, in the unit its field names.
#[derive(Clone, Copy, Debug, Serialize, ToSchema)]
pub struct Ranged {
    /// The figure.
    #[schema(value_type = f64, minimum = -1e6, maximum = 1e6)]
    pub value: Figure,
    /// The least published.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = f64, nullable = false, minimum = -1e6, maximum = 1e6)]
    pub low: Option<Figure>,
    /// The most published.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = f64, nullable = false, minimum = -1e6, maximum = 1e6)]
    pub high: Option<Figure>,
}

impl<T: Quantifiable> From<Span<T>> for Ranged {
    fn from(span: Span<T>) -> Self {
        let end = |end: T| (!span.is_exact()).then(|| Figure(end.raw()));
        Self { value: Figure(span.value().raw()), low: end(span.low()), high: end(span.high()) }
    }
}

/// The share of an ingredient that counts as a class.
#[derive(Clone, Copy, Debug, Serialize, ToSchema)]
pub struct ClassShare {
    /// The class.
    pub class: Class,
    /// The share, 1 for the whole.
    #[schema(value_type = f64, minimum = 0.0, maximum = 1.0)]
    pub share: Figure,
}

/// A measured weight of a cup or spoon.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct MeasureRow {
    /// How many of the unit were measured.
    #[schema(value_type = f64, minimum = 0.0, maximum = 1000.0)]
    pub amount: Figure,
    /// The unit: US customary unless it says otherwise.
    #[schema(max_length = 40)]
    pub unit: &'static str,
    /// How it was filled.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub filled: Option<Filled>,
    /// The state in which it was measured.
    #[serde(skip_serializing_if = "str::is_empty")]
    #[schema(max_length = 40)]
    pub form: &'static str,
    /// What it weighed, in grams.
    pub g: Figure,
    /// Grams for each millilitre.
    pub g_per_ml: Ranged,
    #[serde(flatten)]
    pub citation: Citation,
}

/// What a piece weighs.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct CountRow {
    /// The piece.
    #[schema(max_length = 40)]
    pub unit: &'static str,
    /// Its size, where there are several.
    #[serde(skip_serializing_if = "str::is_empty")]
    #[schema(max_length = 40)]
    pub size: &'static str,
    /// What it weighs, in grams.
    pub g: Ranged,
    #[serde(flatten)]
    pub citation: Citation,
}

/// An ingredient, whole.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct IngredientRow {
    /// Its name in the table.
    #[schema(max_length = 80)]
    pub id: String,
    /// Its usual name.
    #[schema(max_length = 200)]
    pub name: String,
    /// Other names and spellings.
    #[schema(max_items = 100)]
    pub names: Vec<&'static str>,
    /// What it counts as in the rules of balance.
    #[schema(max_items = 20)]
    pub classes: Vec<ClassShare>,
    /// What it is by nature.
    pub nature: Nature,
    /// Grams of fresh yeast that a gram stands for.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = f64, nullable = false, minimum = 0.0, maximum = 100.0)]
    pub fresh_yeast: Option<Figure>,
    /// Grams of fresh egg that a gram makes with its water, where it is dried.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub fresh_egg: Option<FreshEggRow>,
    /// Allergens of the US list.
    #[schema(max_items = 9)]
    pub allergens_us: Vec<&'static str>,
    /// Allergens of the EU list.
    #[schema(max_items = 14)]
    pub allergens_eu: Vec<&'static str>,
    /// The cautions it calls for.
    #[schema(max_items = 10)]
    pub cautions: Vec<&'static str>,
    /// What is in it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub composition: Option<CompositionRow>,
    /// What cups and spoons of it weigh.
    #[schema(max_items = 60)]
    pub measures: Vec<MeasureRow>,
    /// What pieces of it weigh.
    #[schema(max_items = 60)]
    pub counts: Vec<CountRow>,
    /// What to know about it.
    #[serde(skip_serializing_if = "str::is_empty")]
    #[schema(max_length = 1000)]
    pub note: &'static str,
}

impl From<&'static Ingredient> for IngredientRow {
    fn from(of: &'static Ingredient) -> Self {
        Self {
            id: of.id.clone().into_owned(),
            name: of.name.clone().into_owned(),
            names: of.names.clone(),
            classes: of.classes.iter().map(|(class, share)| ClassShare { class: *class, share: Figure(share.value()) }).collect(),
            nature: of.nature,
            fresh_yeast: of.fresh_yeast.map(|grams| Figure(grams.value())),
            fresh_egg: of.fresh_egg.map(FreshEggRow::from),
            allergens_us: of.allergens_us.clone(),
            allergens_eu: of.allergens_eu.clone(),
            cautions: of.hazards.clone(),
            composition: CompositionRow::of(of),
            measures: of.measured.iter().map(measure).collect(),
            counts: of
                .counted
                .iter()
                .map(|c| CountRow { unit: c.unit, size: c.size, g: c.mass.figure.into(), citation: c.mass.citation })
                .collect(),
            note: of.note,
        }
    }
}

fn measure(of: &super::weight::Measured) -> MeasureRow {
    MeasureRow {
        amount: Figure(of.amount.value()),
        unit: of.unit,
        filled: of.filled,
        form: of.form,
        g: Figure(of.mass.in_grams()),
        g_per_ml: of.density.into(),
        citation: of.citation,
    }
}

/// One bound of a style.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct BoundRow {
    /// The rule it bounds.
    #[schema(max_length = 60)]
    pub rule: &'static str,
    /// The least, in percent of the style's base or of what the rule names.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = f64, nullable = false, minimum = 0.0, maximum = 10_000.0)]
    pub low: Option<Figure>,
    /// The most.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = f64, nullable = false, minimum = 0.0, maximum = 10_000.0)]
    pub high: Option<Figure>,
    /// How it reads the weights.
    pub basis: Basis,
    /// Whether it speaks only of what is there, and is passed over where there is none.
    pub where_present: bool,
    /// What to know about it.
    #[serde(skip_serializing_if = "str::is_empty")]
    #[schema(max_length = 1000)]
    pub note: &'static str,
    #[serde(flatten)]
    pub citation: Citation,
}

/// A style, whole.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct StyleRow {
    /// Its name in questions.
    #[schema(max_length = 60)]
    pub id: &'static str,
    /// Its usual name.
    #[schema(max_length = 100)]
    pub name: &'static str,
    /// Other words for it.
    #[schema(max_items = 60)]
    pub names: Vec<&'static str>,
    /// What is 100 %.
    #[schema(max_length = 40)]
    pub base: &'static str,
    /// Whether starch counts as flour in it.
    pub starch_is_flour: bool,
    /// Whether it is baked.
    pub baked: bool,
    /// How full its pans are, as a share of the capacity.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub fill: Option<Ranged>,
    /// The specific gravity of its batter.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub specific_gravity: Option<Ranged>,
    /// Who printed it; see /v1/sources.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 10)]
    pub specific_gravity_sources: Vec<&'static str>,
    /// The temperature of the crumb when done, in °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub done_c: Option<Ranged>,
    /// How to tell that it is done.
    #[schema(max_length = 400)]
    pub test: &'static str,
    /// Its bounds.
    #[schema(max_items = 60)]
    pub bounds: Vec<BoundRow>,
    /// What to know about it.
    #[serde(skip_serializing_if = "str::is_empty")]
    #[schema(max_length = 1000)]
    pub note: &'static str,
    #[serde(flatten)]
    pub citation: Citation,
}

impl From<&'static Style> for StyleRow {
    fn from(of: &'static Style) -> Self {
        let bound = |b: &super::style::Bound| BoundRow {
            rule: b.rule,
            low: b.low.map(|p| Figure(p.value())),
            high: b.high.map(|p| Figure(p.value())),
            basis: b.basis,
            where_present: b.where_present,
            note: b.note,
            citation: b.citation,
        };
        Self {
            id: of.id,
            name: of.name,
            names: of.names.clone(),
            base: of.base.word(),
            starch_is_flour: of.starch_is_flour,
            baked: of.is_baked(),
            fill: of.fill.map(Ranged::from),
            specific_gravity: of.gravity.as_ref().map(|gravity| gravity.figure.into()),
            specific_gravity_sources: of.gravity.iter().flat_map(|gravity| &gravity.citations).map(|by| by.source.id).collect(),
            done_c: of.done.map(Ranged::from),
            test: of.test,
            bounds: of.bounds.iter().map(bound).collect(),
            note: of.note,
            citation: of.citation,
        }
    }
}

/// A published loss.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct LossRow {
    /// The class of product.
    #[schema(max_length = 60)]
    pub product: &'static str,
    /// Where it is lost.
    pub stage: Stage,
    /// Percent of the mass entering the stage.
    pub percent: Ranged,
    /// Whether only what is baked loses it.
    pub baked_only: bool,
    /// What to know about it.
    #[serde(skip_serializing_if = "str::is_empty")]
    #[schema(max_length = 1000)]
    pub note: &'static str,
    #[serde(flatten)]
    pub citation: Citation,
}

impl From<&'static StageLoss> for LossRow {
    fn from(of: &'static StageLoss) -> Self {
        Self {
            product: of.product,
            stage: of.stage,
            percent: of.percent.figure.into(),
            baked_only: of.stage.baked_only(),
            note: of.note,
            citation: of.percent.citation,
        }
    }
}

/// What comes in, or goes out, where one ingredient stands for another.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct ComponentRow {
    /// The ingredient that comes in; one with figures below nothing is taken out of the formula.
    #[schema(max_length = 80)]
    pub ingredient: &'static str,
    /// Grams for 100 g of what is replaced.
    pub g_per_100g: Ranged,
    #[serde(flatten)]
    pub citation: Citation,
}

/// A swap, whole.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct SwapRow {
    /// Its name.
    #[schema(max_length = 80)]
    pub id: &'static str,
    /// The ingredient that is replaced.
    #[schema(max_length = 80)]
    pub replaces: &'static str,
    /// What stands for it, the main one first.
    #[schema(max_items = 10)]
    pub components: Vec<ComponentRow>,
    /// How much of the ingredient to replace first, in percent of it, where it changes the result; left out where all may be replaced at once.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = f64, nullable = false, minimum = 1.0, maximum = 100.0)]
    pub try_first_percent: Option<Figure>,
    /// What to know about it.
    #[serde(skip_serializing_if = "str::is_empty")]
    #[schema(max_length = 1000)]
    pub note: &'static str,
}

impl From<&'static Swap> for SwapRow {
    fn from(of: &'static Swap) -> Self {
        let component = |one: &super::swap::Component| ComponentRow {
            ingredient: one.ingredient,
            g_per_100g: one.grams.into(),
            citation: one.citation,
        };
        Self {
            id: of.id,
            replaces: of.replaces,
            components: of.components.iter().map(component).collect(),
            try_first_percent: of.try_first.map(|share| Figure(share.value())),
            note: of.note,
        }
    }
}
