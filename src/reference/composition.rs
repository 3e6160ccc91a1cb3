//! What is in a hundred grams. An ingredient's composition decides water, fat and sugar; its classes decide what the classical rules count it as.

use serde::Serialize;
use utoipa::ToSchema;

use crate::quantity::{Factor, Percent};

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
