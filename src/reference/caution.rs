//! The usual cautions of the trade, each a row with its source. They never replace the local food code.

use serde::Serialize;
use utoipa::ToSchema;

use super::source::{Citation, Sources};
use super::table::{DataFile, TableFault};

/// One caution.
#[derive(Debug, Serialize, ToSchema)]
pub struct Caution {
    /// Its name.
    #[schema(max_length = 60)]
    pub id: &'static str,
    /// What to mind.
    #[schema(max_length = 600)]
    pub text: &'static str,
    #[serde(flatten)]
    pub citation: Citation,
}

/// All cautions.
pub struct Cautions {
    pub all: &'static [Caution],
}

impl Cautions {
    pub(super) fn load(file: DataFile, sources: &Sources) -> Result<Self, TableFault> {
        let all = file
            .rows()?
            .iter()
            .map(|row| Ok(Caution { id: row.required("id")?, text: row.required("text")?, citation: sources.cite(row)? }))
            .collect::<Result<Vec<_>, TableFault>>()?;
        Ok(Self { all: Vec::leak(all) })
    }

    pub fn find(&self, id: &str) -> Option<&'static Caution> {
        self.all.iter().find(|caution| caution.id == id)
    }
}
