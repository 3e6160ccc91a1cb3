//! Pans on their way out: in an answer beside their figures, and in the list of trade sizes.

use std::collections::BTreeMap;

use serde::Serialize;
use utoipa::ToSchema;

use super::one::Pan;
use super::several::Pans;
use crate::quantity::{Family, Proportion, Quantity, Share, Span};
use crate::reference::{Account, Citation, Dimension, PanRow, Reference};

/// Pans and what they hold, all of them together.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct PanShown {
    /// The pans as understood, by their inside dimensions.
    #[schema(examples("2 × round, 9 × 2 in"), max_length = 400)]
    pub pan: String,
    /// What they hold to the brim, by inside geometry or by water; of a fluted ring as printed. Missing where the depths cancelled.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub capacity: Option<Quantity>,
    /// What is printed of them. Printed capacities run below geometry.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub published: Option<Quantity>,
    /// The area at the rim.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub top_area: Option<Quantity>,
    /// The outer sides of what comes out of them.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub side_area: Option<Quantity>,
    /// The share of the capacity that is filled, in percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub fill: Option<Proportion>,
}

impl Pans {
    /// The pans as they stand in an answer; cites what is printed of them.
    pub fn shown(&self, fill: Option<Span<Share>>, account: &mut Account) -> PanShown {
        let published = self.published();
        if published.is_some() {
            self.iter().filter_map(Pan::published).for_each(|cited| account.cite(cited.citation));
        }
        PanShown {
            pan: self.text(),
            capacity: self.capacity().ok().map(Quantity::from),
            published: published.map(Quantity::from),
            top_area: self.top_area().map(Quantity::from),
            side_area: self.side_area().map(Quantity::from),
            fill: fill.map(|fill| fill.map(Share::as_percent).into()),
        }
    }
}

/// A trade size as it is listed.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct PanListed {
    /// Its name in the table.
    #[schema(examples("round-9x2"), max_length = 60)]
    pub id: &'static str,
    /// What it is.
    #[schema(max_length = 200)]
    pub name: &'static str,
    /// What else it is called: each may stand as a phrase.
    #[schema(max_items = 40)]
    pub names: &'static [&'static str],
    /// Where this size is sold.
    #[schema(examples("us"), max_length = 20)]
    pub region: &'static str,
    /// Its shape; see /v1/shapes.
    #[schema(examples("round"), max_length = 40)]
    pub shape: &'static str,
    /// Its inside dimensions.
    pub inside: BTreeMap<&'static str, Quantity>,
    /// How many wells it has.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, maximum = 1000)]
    pub wells: Option<u32>,
    /// What it holds to the brim.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub capacity: Option<Quantity>,
    /// What is printed of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub published: Option<Quantity>,
    /// Whether it is the commonest of its kind, taken where no depth is said.
    pub common: bool,
    #[serde(flatten)]
    pub citation: Citation,
    /// What to mind.
    #[serde(skip_serializing_if = "str::is_empty")]
    #[schema(max_length = 400)]
    pub note: &'static str,
}

/// All trade sizes, as they are listed at /v1/pans.
pub fn listed_pans(reference: &'static Reference) -> Vec<PanListed> {
    reference.pans.all.iter().map(|row| listed(row, reference)).collect()
}

fn listed(row: &'static PanRow, reference: &'static Reference) -> PanListed {
    let lengths = Dimension::ALL.iter().filter(|dimension| dimension.family() == Family::Length);
    let inside = lengths.filter_map(|dimension| Some((dimension.word(), Quantity::from(row.sizes.length(*dimension)?)))).collect();
    let pan = Pan::of_row(row, reference);
    PanListed {
        id: row.id,
        name: row.name,
        names: &row.names,
        region: row.region,
        shape: row.shape,
        inside,
        wells: row.sizes.wells,
        capacity: pan.and_then(|pan| pan.capacity().ok()).map(Quantity::from),
        published: row.published.map(|cited| cited.figure.into()),
        common: row.common,
        citation: row.citation,
        note: row.note,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pan::PansWritten;
    use crate::quantity::{Measures, Pointer};

    #[test]
    fn a_printed_capacity_stands_beside_the_geometry_with_its_source() {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let mut account = Account::new(reference, false);
        let written: PansWritten = serde_json::from_value("13x9x2 in".into()).unwrap_or_else(|fault| panic!("{fault}"));
        let pans = written.resolve(Measures::Us, reference, &Pointer::ROOT, &mut account).unwrap_or_else(|faults| panic!("{faults:?}"));
        let shown = pans.shown(Some(Span::exact(Share::of_one(0.6))), &mut account);
        assert_eq!(shown.capacity.map(|capacity| capacity.text), Some("3835 ml".into()));
        assert_eq!(shown.published.map(|published| published.range_text()), Some("3312–3549 ml".into()));
        assert_eq!(shown.fill.map(|fill| fill.text()), Some("60".into()));
        assert!(account.settle(String::new()).sources.iter().any(|source| source.id == "almanac-pan-sizes"));
    }

    #[test]
    fn the_list_tells_what_every_trade_size_holds() {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let listed = listed_pans(reference);
        assert!(listed.len() >= 60);
        assert!(listed.iter().all(|pan| pan.capacity.is_some()));
        assert!(serde_json::to_string(&listed).is_ok());
    }
}
