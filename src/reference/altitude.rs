//! What altitude asks of a formula: bands of cuts and additions at the heights that were printed. Two tables disagree, so each row says of which it is. What it asks of an oven is among the advice.

use super::source::{Citation, Sources};
use super::table::{DataFile, Row, TableFault};
use crate::quantity::{Factor, Length, Share, Span};

/// Whose bands they are: within a table the figure between two of them lies on the line, between the tables it is a span.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AltitudeTable {
    Household,
    Military,
}

/// What is advised at one altitude.
#[derive(Debug)]
pub struct AltitudeBand {
    pub table: AltitudeTable,
    pub altitude: Length,
    /// The share of the baking powder to leave out.
    pub powder_cut: Span<Share>,
    /// Tablespoons of sugar to leave out for each cup of it.
    pub sugar_cut: Option<Span<Factor>>,
    /// Tablespoons of liquid to add for each cup of it.
    pub liquid_rise: Option<Span<Factor>>,
    pub citation: Citation,
}

/// All bands, in the order of the table.
pub struct Altitudes {
    pub all: &'static [AltitudeBand],
}

impl Altitudes {
    pub(super) fn load(file: DataFile, sources: &Sources) -> Result<Self, TableFault> {
        let all = file.rows()?.iter().map(|row| band(row, sources)).collect::<Result<Vec<_>, _>>()?;
        Ok(Self { all: Vec::leak(all) })
    }
}

fn band(row: &Row, sources: &Sources) -> Result<AltitudeBand, TableFault> {
    let spoons = |low: &str, high: &str| -> Result<Option<Span<Factor>>, TableFault> {
        Ok(row.ends(low, high)?.map(|[low, high]| Span::between(Factor::times(low), Factor::times(high))))
    };
    Ok(AltitudeBand {
        table: match row.required("table")? {
            "household" => AltitudeTable::Household,
            "military" => AltitudeTable::Military,
            other => return Err(row.fault(format_args!("no table {other}"))),
        },
        altitude: Length::centimetres(row.figure("metres")? * 100.0),
        powder_cut: Span::between(Share::of_one(row.figure("powder_cut_low")?), Share::of_one(row.figure("powder_cut_high")?)),
        sugar_cut: spoons("sugar_cut_tbsp_per_cup_low", "sugar_cut_tbsp_per_cup_high")?,
        liquid_rise: spoons("liquid_add_tbsp_per_cup_low", "liquid_add_tbsp_per_cup_high")?,
        citation: sources.cite(row)?,
    })
}

#[cfg(test)]
mod tests {
    use crate::reference::Reference;

    #[test]
    fn the_higher_the_kitchen_the_less_baking_powder() {
        let altitudes = &Reference::load().unwrap_or_else(|fault| panic!("{fault}")).altitudes;
        let bands = altitudes.all.iter().filter(|band| band.table == super::AltitudeTable::Military);
        let cuts: Vec<_> = bands.map(|band| band.powder_cut.low()).collect();
        assert!(cuts.len() >= 4 && cuts.is_sorted_by(|a, b| a < b), "{cuts:?}");
    }
}
