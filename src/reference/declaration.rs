//! What the nutrition declaration of the EU and the United Kingdom goes by: the energy of a gram of each nutrient, and how each figure is rounded.

use serde::Serialize;
use utoipa::ToSchema;

use super::source::{Citation, Cited, Sources};
use super::table::{DataFile, Row, TableFault};
use crate::quantity::Factor;

/// A figure of the nutrition declaration.
/// - `energy-kj`: energy, in kJ.
/// - `energy-kcal`: energy, in kcal.
/// - `fat`: fat, in g.
/// - `saturates`: saturated fat, in g.
/// - `carbohydrate`: carbohydrate without fibre, polyols within, in g.
/// - `sugars`: sugars, in g.
/// - `fibre`: fibre, in g; it may be left out of the declaration.
/// - `protein`: protein, in g.
/// - `salt`: 2.5 times all sodium, whether of salt, soda or milk, in g.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum DeclaredNutrient {
    EnergyKj,
    EnergyKcal,
    Fat,
    Saturates,
    Carbohydrate,
    Sugars,
    Fibre,
    Protein,
    Salt,
}

impl DeclaredNutrient {
    /// In the order in which they are declared.
    pub const ALL: [Self; 9] = [
        Self::EnergyKj,
        Self::EnergyKcal,
        Self::Fat,
        Self::Saturates,
        Self::Carbohydrate,
        Self::Sugars,
        Self::Fibre,
        Self::Protein,
        Self::Salt,
    ];

    /// Its word in the tables.
    pub const fn word(self) -> &'static str {
        match self {
            Self::EnergyKj => "energy-kj",
            Self::EnergyKcal => "energy-kcal",
            Self::Fat => "fat",
            Self::Saturates => "saturates",
            Self::Carbohydrate => "carbohydrate",
            Self::Sugars => "sugars",
            Self::Fibre => "fibre",
            Self::Protein => "protein",
            Self::Salt => "salt",
        }
    }

    /// For people.
    pub const fn name(self) -> &'static str {
        match self {
            Self::EnergyKj | Self::EnergyKcal => "Energy",
            Self::Fat => "Fat",
            Self::Saturates => "of which saturates",
            Self::Carbohydrate => "Carbohydrate",
            Self::Sugars => "of which sugars",
            Self::Fibre => "Fibre",
            Self::Protein => "Protein",
            Self::Salt => "Salt",
        }
    }

    pub const fn unit(self) -> &'static str {
        match self {
            Self::EnergyKj => "kJ",
            Self::EnergyKcal => "kcal",
            _ => "g",
        }
    }
}

/// The energy of a gram.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Energy {
    pub kilojoules: Factor,
    pub kilocalories: Factor,
}

/// Ingredients whose carbohydrate, in the tables of composition, is something else than sugars and starch.
#[derive(Debug)]
struct Apart {
    ingredients: Vec<&'static str>,
    energy: Energy,
    carbohydrate: bool,
}

/// How a figure is declared.
#[derive(Clone, Copy, Debug)]
pub struct Rounding {
    /// Up to here it may be neglected.
    pub negligible: Option<Factor>,
    /// As less than what it is declared then.
    pub less_than: Factor,
    /// To the nearest multiple of this.
    pub step: Factor,
    /// From here on to a coarser one.
    pub coarse: Option<(Factor, Factor)>,
    pub citation: Citation,
}

/// All of it.
#[derive(Debug)]
pub struct DeclarationRules {
    pub carbohydrate: Cited<Energy>,
    pub protein: Cited<Energy>,
    pub fat: Cited<Energy>,
    pub alcohol: Cited<Energy>,
    pub fibre: Cited<Energy>,
    apart: Vec<Apart>,
    roundings: [Rounding; DeclaredNutrient::ALL.len()],
}

impl DeclarationRules {
    pub(super) fn load(energy: DataFile, declared: DataFile, sources: &Sources) -> Result<Self, TableFault> {
        let rows = energy.rows()?;
        let of = |id: &str| -> Result<Cited<Energy>, TableFault> {
            let row = rows.iter().find(|row| row.text("id") == Ok(id)).ok_or_else(|| format!("energy.csv: no row {id}"))?;
            Ok(Cited { figure: energy_of(row)?, citation: sources.cite(row)? })
        };
        let mut apart = Vec::new();
        for row in &rows {
            let ingredients = row.list("ingredients")?;
            if !ingredients.is_empty() {
                apart.push(Apart { ingredients, energy: energy_of(row)?, carbohydrate: row.flag("carbohydrate")? });
            }
        }
        let rows = declared.rows()?;
        let mut roundings = Vec::with_capacity(rows.len());
        for nutrient in DeclaredNutrient::ALL {
            let row = rows.iter().find(|row| row.text("nutrient") == Ok(nutrient.word()));
            roundings.push(rounding(row.ok_or_else(|| format!("declared.csv: no row {}", nutrient.word()))?, sources)?);
        }
        Ok(Self {
            carbohydrate: of("carbohydrate")?,
            protein: of("protein")?,
            fat: of("fat")?,
            alcohol: of("alcohol")?,
            fibre: of("fibre")?,
            apart,
            roundings: roundings.try_into().map_err(|_| "declared.csv: not one row for each nutrient".to_owned())?,
        })
    }

    /// How a nutrient is rounded.
    pub fn rounding(&self, nutrient: DeclaredNutrient) -> &Rounding {
        &self.roundings[nutrient as usize]
    }

    /// The energy of a gram of what the tables count as the carbohydrate of an ingredient, by its id; and whether it is declared as carbohydrate.
    pub fn carbohydrate_of(&self, ingredient: &str) -> (Energy, bool) {
        let apart = self.apart.iter().find(|apart| apart.ingredients.contains(&ingredient));
        apart.map_or((self.carbohydrate.figure, true), |apart| (apart.energy, apart.carbohydrate))
    }

    /// The ids of the ingredients that are taken apart.
    #[cfg(test)]
    pub(super) fn taken_apart(&self) -> impl Iterator<Item = &'static str> {
        self.apart.iter().flat_map(|apart| apart.ingredients.iter().copied())
    }
}

fn energy_of(row: &Row) -> Result<Energy, TableFault> {
    Ok(Energy { kilojoules: Factor::times(row.figure("kj")?), kilocalories: Factor::times(row.figure("kcal")?) })
}

fn rounding(row: &Row, sources: &Sources) -> Result<Rounding, TableFault> {
    let figure = |column| row.number(column).map(|number| number.map(Factor::times));
    let negligible = figure("negligible")?;
    let step = Factor::times(row.figure("step")?);
    if step <= Factor::ZERO || negligible.is_some() != figure("less_than")?.is_some() {
        return Err(row.fault("a step above 0, and negligible beside less_than"));
    }
    Ok(Rounding {
        negligible,
        less_than: figure("less_than")?.unwrap_or(Factor::ZERO),
        step,
        coarse: figure("coarse_from")?.zip(figure("coarse_step")?),
        citation: sources.cite(row)?,
    })
}
