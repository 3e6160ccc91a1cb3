//! The trade's tables: measured figures as rows of data files, each with its source, read and checked once at start. No judgement lives here, and no HTTP.

mod account;
mod advice;
mod altitude;
mod caution;
mod class;
mod composition;
mod crossing;
mod declaration;
mod dough;
mod dried_egg;
mod egg;
mod ingredient;
mod ingredients;
mod kinds;
mod leavening;
mod loss;
mod made;
mod packed;
mod pans;
mod published;
mod ready;
mod sized;
mod source;
mod style;
mod swap;
mod table;
mod weight;

use std::sync::OnceLock;

use sha2::{Digest, Sha256};

/// Told from here too, beside what it is used for: the working of a weighing.
pub use crate::quantity::short;
pub use account::{Account, Assumption, Owed, Used, Warning};
pub use advice::{Advice, Advices};
pub use altitude::{AltitudeBand, AltitudeTable, Altitudes};
pub use caution::{Caution, Cautions};
pub use class::Class;
pub use composition::{Composition, CompositionRow, Constituent, ConstituentRow, LabelFigures};
pub use crossing::{Doubt, Measuring, Weight, cite_all, egg_word, tell_drained, tell_fingers, tell_measures};
pub use declaration::{DeclarationRules, DeclaredNutrient, Energy, Rounding};
pub use dough::{DoughFigures, Friction, Frictions};
pub use dried_egg::FreshEggRow;
pub use egg::{Egg, Eggs, market_of, market_said, without_shell};
pub use ingredient::{Counted, EggPart, Ingredient, Nature, Trait, Yield, in_number, pieces};
pub use ingredients::{Found, Ingredients, is_drink};
pub use leavening::{Acid, LeaveningFigures, LeaveningTables, PrintedDose, PrintedSoda};
pub use loss::{Losses, Stage, StageLoss};
pub use made::is_made;
pub use pans::{Dimension, PanRow, PanTable, Sizes};
pub use published::{BoundRow, ClassShare, ComponentRow, CountRow, IngredientRow, LossRow, MeasureRow, Ranged, StyleRow, SwapRow};
pub use source::{Citation, Cited, Mark, Source, Sources};
pub use style::{Base, Basis, Bound, Goods, Gravity, KnownBy, Style, Styles, UpHigh};
pub use swap::{Component, Swap, Swaps};
use table::DataFile;
pub use table::TableFault;
pub use weight::{Filled, Measured, Weighing, Weighings};

/// All tables.
pub struct Reference {
    /// The first 12 hexadecimal digits of SHA-256 over the data files.
    pub version: &'static str,
    pub sources: Sources,
    pub cautions: Cautions,
    pub ingredients: Ingredients,
    pub eggs: Eggs,
    pub styles: Styles,
    pub losses: Losses,
    pub declaration: DeclarationRules,
    pub advices: Advices,
    pub pans: PanTable,
    pub altitudes: Altitudes,
    pub dough: DoughFigures,
    pub frictions: Frictions,
    pub leavening: LeaveningTables,
    pub swaps: Swaps,
}

/// Names the data files that are part of the program, in the order in which they are hashed.
macro_rules! data_files {
    ($($constant:ident = $name:literal;)*) => {
        $(const $constant: DataFile = DataFile { name: $name, text: include_str!(concat!("data/", $name)) };)*
        const FILES: &[DataFile] = &[$($constant),*];
    };
}

data_files! {
    SOURCES = "sources.csv";
    CAUTIONS = "cautions.csv";
    INGREDIENTS = "ingredients.csv";
    COMPOSITION = "composition.csv";
    MEASURES = "measures.csv";
    COUNTS = "counts.csv";
    YIELDS = "yields.csv";
    DRIED_EGGS = "dried-eggs.csv";
    EGGS = "eggs.csv";
    STYLES = "styles.csv";
    BOUNDS = "bounds.csv";
    LOSSES = "losses.csv";
    ENERGY = "energy.csv";
    DECLARED = "declared.csv";
    ADVICE = "advice.csv";
    PANS = "pans.csv";
    ALTITUDE = "altitude.csv";
    DOUGH = "dough.csv";
    FRICTION = "friction.csv";
    LEAVENING = "leavening.csv";
    ACIDS = "acids.csv";
    PRINTED_SODA = "printed-soda.csv";
    POWDER_DOSES = "powder-doses.csv";
    SWAPS = "swaps.csv";
}

static LOADED: OnceLock<Result<Reference, TableFault>> = OnceLock::new();

impl Reference {
    /// The tables, read on the first call. Fails when a data file is broken, naming file and line.
    pub fn load() -> Result<&'static Self, TableFault> {
        LOADED.get_or_init(Self::read).as_ref().map_err(Clone::clone)
    }

    fn read() -> Result<Self, TableFault> {
        let sources = Sources::load(SOURCES)?;
        let advices = Advices::load(ADVICE, &sources)?;
        let leavening = LeaveningTables::load(
            &leavening::Files { figures: LEAVENING, acids: ACIDS, soda: PRINTED_SODA, doses: POWDER_DOSES },
            &sources,
        )?;
        let files = ingredients::Files {
            ingredients: INGREDIENTS,
            composition: COMPOSITION,
            measures: MEASURES,
            counts: COUNTS,
            yields: YIELDS,
            dried_eggs: DRIED_EGGS,
        };
        let ingredients = Ingredients::load(&files, &leavening.figures, &sources)?;
        Ok(Self {
            version: version(),
            cautions: Cautions::load(CAUTIONS, &sources)?,
            eggs: Eggs::load(EGGS, &sources)?,
            styles: Styles::load(STYLES, BOUNDS, &advices, &sources)?,
            losses: Losses::load(LOSSES, &sources)?,
            declaration: DeclarationRules::load(ENERGY, DECLARED, &sources)?,
            advices,
            pans: PanTable::load(PANS, &sources)?,
            altitudes: Altitudes::load(ALTITUDE, &sources)?,
            dough: DoughFigures::load(DOUGH, &sources)?,
            frictions: Frictions::load(FRICTION, &sources)?,
            leavening,
            swaps: Swaps::load(SWAPS, &ingredients, &sources)?,
            ingredients,
            sources,
        })
    }
}

fn version() -> &'static str {
    let mut hash = Sha256::new();
    for file in FILES {
        hash.update(file.name);
        hash.update(file.text);
    }
    let digits: String = hash.finalize().iter().take(6).map(|byte| format!("{byte:02x}")).collect();
    Box::leak(digits.into_boxed_str())
}

#[cfg(test)]
mod tests;
