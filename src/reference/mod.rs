//! The trade's tables: measured figures as rows of data files, each with its source, read and checked once at start. No judgement lives here, and no HTTP.

mod account;
mod advice;
mod altitude;
mod caution;
mod pans;
mod source;
mod table;

use std::sync::OnceLock;

use sha2::{Digest, Sha256};

pub use account::{Account, Assumption, Owed, Used, Warning};
pub use advice::{Advice, Advices};
pub use altitude::{AltitudeBand, Altitudes};
pub use caution::{Caution, Cautions};
pub use pans::{Dimension, PanRow, PanTable, Sizes};
pub use source::{Citation, Cited, Mark, Source, Sources};
use table::DataFile;
pub use table::TableFault;

/// All tables.
pub struct Reference {
    /// The first 12 hexadecimal digits of SHA-256 over the data files.
    pub version: &'static str,
    pub sources: Sources,
    pub cautions: Cautions,
    pub pans: PanTable,
    pub advices: Advices,
    pub altitudes: Altitudes,
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
    SOURCES_TRADE = "sources-trade.csv";
    CAUTIONS = "cautions.csv";
    PANS = "pans.csv";
    ADVICE = "advice.csv";
    ALTITUDE = "altitude.csv";
}

static LOADED: OnceLock<Result<Reference, TableFault>> = OnceLock::new();

impl Reference {
    /// The tables, read on the first call. Fails when a data file is broken, naming file and line.
    pub fn load() -> Result<&'static Self, TableFault> {
        LOADED.get_or_init(Self::read).as_ref().map_err(Clone::clone)
    }

    fn read() -> Result<Self, TableFault> {
        let sources = Sources::load(&[SOURCES, SOURCES_TRADE])?;
        let cautions = Cautions::load(CAUTIONS, &sources)?;
        let pans = PanTable::load(PANS, &sources)?;
        let advices = Advices::load(ADVICE, &sources)?;
        let altitudes = Altitudes::load(ALTITUDE, &sources)?;
        Ok(Self { version: version(), sources, cautions, pans, advices, altitudes })
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
