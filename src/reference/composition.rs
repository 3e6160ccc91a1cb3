//! What is in a hundred grams. An ingredient's composition decides water, fat and sugar; its classes decide what the classical rules count it as.

use serde::Serialize;
use utoipa::ToSchema;

use super::ingredient::Ingredient;
use super::source::Citation;
use crate::quantity::{Factor, Figure, Percent};

/// A constituent of food.
/// - `water`: water.
/// - `protein`: protein.
/// - `fat`: all fat.
/// - `saturated`: saturated fat, a part of it.
/// - `carbohydrate`: carbohydrate, its fibre with it.
/// - `fibre`: fibre.
/// - `sugars`: sugars.
/// - `starch`: starch.
/// - `alcohol`: alcohol.
/// - `ash`: minerals.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Constituent {
    Water,
    Protein,
    Fat,
    Saturated,
    Carbohydrate,
    Fibre,
    Sugars,
    Starch,
    Alcohol,
    Ash,
}

impl Constituent {
    pub const ALL: [Self; 10] = [
        Self::Water,
        Self::Protein,
        Self::Fat,
        Self::Saturated,
        Self::Carbohydrate,
        Self::Fibre,
        Self::Sugars,
        Self::Starch,
        Self::Alcohol,
        Self::Ash,
    ];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Water => "water",
            Self::Protein => "protein",
            Self::Fat => "fat",
            Self::Saturated => "saturated",
            Self::Carbohydrate => "carbohydrate",
            Self::Fibre => "fibre",
            Self::Sugars => "sugars",
            Self::Starch => "starch",
            Self::Alcohol => "alcohol",
            Self::Ash => "ash",
        }
    }
}

/// What a label asks for beside the constituents, where the source has a figure.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LabelFigures {
    /// Kilocalories in a gram.
    pub energy: Option<Factor>,
    pub sodium: Option<Percent>,
    pub cholesterol: Option<Percent>,
}

/// Grams of each constituent in a hundred grams, where the source has a figure.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Composition {
    hundredths: [Option<Percent>; Constituent::ALL.len()],
    pub label: LabelFigures,
}

impl Composition {
    /// From one figure for each constituent.
    pub fn of(figures: impl Fn(Constituent) -> Option<Percent>) -> Self {
        Self { hundredths: Constituent::ALL.map(figures), label: LabelFigures::default() }
    }

    /// The same with the figures of the label.
    #[must_use]
    pub fn with_label(self, label: LabelFigures) -> Self {
        Self { label, ..self }
    }

    /// Grams in a hundred grams, if there is a figure.
    pub fn percent(&self, constituent: Constituent) -> Option<Percent> {
        self.hundredths[constituent as usize]
    }

    /// Grams in a gram; nothing where there is no figure.
    pub fn share(&self, constituent: Constituent) -> Factor {
        self.percent(constituent).map_or(Factor::ZERO, Percent::as_factor)
    }
}

/// One constituent in 100 g.
#[derive(Clone, Copy, Debug, Serialize, ToSchema)]
pub struct ConstituentRow {
    /// The constituent.
    pub constituent: Constituent,
    /// Grams in 100 g of the edible part.
    #[schema(value_type = f64, minimum = 0.0, maximum = 100.0)]
    pub g_per_100g: Figure,
}

/// A composition with its source.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct CompositionRow {
    /// The constituents that the source has a figure for.
    #[schema(max_items = 20)]
    pub constituents: Vec<ConstituentRow>,
    /// Kilocalories in 100 g.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = f64, nullable = false, minimum = 0.0, maximum = 1000.0)]
    pub energy_kcal: Option<Figure>,
    /// Milligrams of sodium in 100 g.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = f64, nullable = false, minimum = 0.0, maximum = 100_000.0)]
    pub sodium_mg: Option<Figure>,
    /// Milligrams of cholesterol in 100 g.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = f64, nullable = false, minimum = 0.0, maximum = 100_000.0)]
    pub cholesterol_mg: Option<Figure>,
    #[serde(flatten)]
    pub citation: Citation,
}

impl CompositionRow {
    pub(super) fn of(of: &Ingredient) -> Option<Self> {
        let (figures, citation) = of.composition.zip(of.composition_citation)?;
        let constituents = Constituent::ALL
            .into_iter()
            .filter_map(|constituent| Some(ConstituentRow { constituent, g_per_100g: Figure(figures.percent(constituent)?.value()) }))
            .collect();
        let milligrams = |share: Percent| Figure(share.value() * 1000.0);
        Some(CompositionRow {
            constituents,
            energy_kcal: figures.label.energy.map(|of_a_gram| Figure(of_a_gram.value() * 100.0)),
            sodium_mg: figures.label.sodium.map(milligrams),
            cholesterol_mg: figures.label.cholesterol.map(milligrams),
            citation,
        })
    }
}
