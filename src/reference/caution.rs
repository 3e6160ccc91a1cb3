//! The usual cautions of the trade, each a row with its source. They never replace the local food code.

use foldhash::HashMap;
use serde::Serialize;
use utoipa::ToSchema;

use super::account::Warning;
use super::ready::Ready;
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
    /// As it stands in answers.
    #[serde(skip)]
    #[schema(ignore)]
    pub warning: Ready<Warning>,
}

/// All cautions.
pub struct Cautions {
    pub all: &'static [Caution],
    by_id: HashMap<&'static str, &'static Caution>,
}

impl Cautions {
    pub(super) fn load(file: DataFile, sources: &Sources) -> Result<Self, TableFault> {
        let all = file
            .rows()?
            .iter()
            .map(|row| {
                let (id, text, citation) = (row.required("id")?, row.required("text")?, sources.cite(row)?);
                Ok(Caution { id, text, citation, warning: Ready::of(Warning { id, text, source: citation.source.id })? })
            })
            .collect::<Result<Vec<_>, TableFault>>()?;
        let all: &'static [Caution] = Vec::leak(all);
        Ok(Self { all, by_id: all.iter().map(|caution| (caution.id, caution)).collect() })
    }

    pub fn find(&self, id: &str) -> Option<&'static Caution> {
        self.by_id.get(id).copied()
    }
}
