//! Where figures come from. A figure of a table is `Cited`: it cannot exist without its source and the mark that tells how far the source was seen.

use foldhash::HashMap;
use serde::Serialize;
use utoipa::ToSchema;

use super::account::Used;
use super::ready::Ready;
use super::table::{DataFile, Row, TableFault};

/// A published source.
#[derive(Debug, PartialEq, Serialize, ToSchema)]
pub struct Source {
    /// Its name in answers.
    #[schema(examples("usda-sr28"), max_length = 60)]
    pub id: &'static str,
    /// Its title.
    #[schema(max_length = 400)]
    pub title: &'static str,
    /// Who published it.
    #[serde(skip_serializing_if = "str::is_empty")]
    #[schema(max_length = 200)]
    pub publisher: &'static str,
    /// The year of publication.
    #[serde(skip_serializing_if = "str::is_empty")]
    #[schema(max_length = 40)]
    pub year: &'static str,
    /// Where it can be seen.
    #[serde(skip_serializing_if = "str::is_empty")]
    #[schema(max_length = 400)]
    pub address: &'static str,
    /// As it is named in answers.
    #[serde(skip)]
    #[schema(ignore)]
    pub used: Ready<Used>,
}

/// How far a figure's source was seen.
/// - `seen`: read in print.
/// - `secondary`: read in a copy that quotes the source.
/// - `memory`: from memory; the source is named as exactly as it could be.
/// - `computed`: computed from figures that have a source.
/// - `practice`: common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Mark {
    Seen,
    Secondary,
    Memory,
    Computed,
    Practice,
}

/// A source, the place in it, and how far it was seen.
#[derive(Clone, Copy, Debug, Serialize, ToSchema)]
pub struct Citation {
    /// The source's id; see /v1/sources.
    #[serde(rename = "source", serialize_with = "id_only")]
    #[schema(value_type = String, max_length = 60)]
    pub source: &'static Source,
    /// Where in the source.
    #[serde(skip_serializing_if = "str::is_empty")]
    #[schema(max_length = 400)]
    pub locator: &'static str,
    /// How far the source was seen.
    pub mark: Mark,
}

fn id_only<S: serde::Serializer>(source: &&'static Source, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(source.id)
}

/// A figure with its source.
#[derive(Clone, Copy, Debug)]
pub struct Cited<T> {
    pub figure: T,
    pub citation: Citation,
}

/// All sources, by id.
pub struct Sources {
    pub all: &'static [Source],
    by_id: HashMap<&'static str, &'static Source>,
}

impl Sources {
    pub(super) fn load(file: DataFile) -> Result<Self, TableFault> {
        let mut all = Vec::new();
        for row in file.rows()? {
            let (id, title) = (row.required("id")?, row.required("title")?);
            all.push(Source {
                id,
                title,
                used: Ready::of(Used { id, title })?,
                publisher: row.text("publisher")?,
                year: row.text("year")?,
                address: row.text("address")?,
            });
        }
        let all: &'static [Source] = Vec::leak(all);
        let by_id: HashMap<_, _> = all.iter().map(|source| (source.id, source)).collect();
        if by_id.len() != all.len() {
            return Err("sources: an id stands twice".to_owned());
        }
        Ok(Self { all, by_id })
    }

    pub fn find(&self, id: &str) -> Option<&'static Source> {
        self.by_id.get(id).copied()
    }

    /// The citation of a row, from its columns `source`, `mark` and, where there is one, `locator`.
    pub(super) fn cite(&self, row: &Row) -> Result<Citation, TableFault> {
        self.cited(row.required("source")?, row.required("mark")?, row.text("locator").unwrap_or_default(), row)
    }

    /// The citation of a source that a row names in columns of its own.
    pub(super) fn cited(&self, id: &str, mark: &str, locator: &'static str, row: &Row) -> Result<Citation, TableFault> {
        let source = self.find(id).ok_or_else(|| row.fault(format_args!("no source {id}")))?;
        let mark = match mark {
            "seen" => Mark::Seen,
            "secondary" => Mark::Secondary,
            "memory" => Mark::Memory,
            "computed" => Mark::Computed,
            "practice" => Mark::Practice,
            other => return Err(row.fault(format_args!("no mark {other}"))),
        };
        Ok(Citation { source, locator, mark })
    }
}
