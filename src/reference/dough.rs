//! Heat and friction in the dough room: how much ice takes up, what a mixer adds. Constants and mixers are rows, each with its source and its spread.

use super::source::{Cited, Sources};
use super::table::{DataFile, Row, TableFault};
use crate::quantity::{Factor, Quantifiable, Share, Span, Temperature, TemperatureChange};

/// The figures of water, ice and flour that a dough temperature rests on.
#[derive(Debug)]
pub struct DoughFigures {
    /// What ice takes up while it melts, in kJ/kg.
    pub latent_heat: Cited<Span<Factor>>,
    /// What water takes up for each degree, in kJ/kgK.
    pub heat_of_water: Cited<Span<Factor>>,
    /// The same of ice.
    pub heat_of_ice: Cited<Span<Factor>>,
    /// The same of flour and of whatever is not water.
    pub heat_of_dry: Cited<Span<Factor>>,
    /// The share of the water that melts as ice before the mix ends.
    pub ice_that_melts: Cited<Span<Share>>,
    /// Water so warm weakens yeast, then kills it.
    pub water_kills_yeast: Cited<Span<Temperature>>,
}

impl DoughFigures {
    pub(super) fn load(file: DataFile, sources: &Sources) -> Result<Self, TableFault> {
        let rows = file.rows()?;
        Ok(Self {
            latent_heat: figure(&rows, "latent-heat", sources)?,
            heat_of_water: figure(&rows, "heat-of-water", sources)?,
            heat_of_ice: figure(&rows, "heat-of-ice", sources)?,
            heat_of_dry: figure(&rows, "heat-of-dry", sources)?,
            ice_that_melts: figure(&rows, "ice-that-melts", sources)?,
            water_kills_yeast: figure(&rows, "water-kills-yeast", sources)?,
        })
    }
}

/// One figure by the id of its row.
pub(super) fn figure<T: Quantifiable>(rows: &[Row], id: &str, sources: &Sources) -> Result<Cited<Span<T>>, TableFault> {
    for row in rows {
        if row.required("id")? == id {
            let figures = row.span("value", "low", "high")?.ok_or_else(|| row.fault("no value"))?;
            return Ok(Cited { figure: figures.map(T::of_raw), citation: sources.cite(row)? });
        }
    }
    Err(format!("no row {id}"))
}

/// What a way of mixing adds, on the scale of the factors: it stands beside the other terms of their sum.
#[derive(Debug)]
pub struct Friction {
    /// Its word in questions.
    pub mixer: &'static str,
    pub name: &'static str,
    /// Whether the figure is for each minute of mixing; else it is for a usual mix.
    pub each_minute: bool,
    pub rise: Cited<Span<TemperatureChange>>,
}

/// All ways of mixing.
#[derive(Debug)]
pub struct Frictions {
    pub all: &'static [Friction],
}

impl Frictions {
    pub(super) fn load(file: DataFile, sources: &Sources) -> Result<Self, TableFault> {
        let all = file.rows()?.iter().map(|row| friction(row, sources)).collect::<Result<Vec<_>, _>>()?;
        Ok(Self { all: Vec::leak(all) })
    }

    pub fn find(&self, mixer: &str) -> Option<&'static Friction> {
        self.all.iter().find(|friction| friction.mixer == mixer)
    }
}

fn friction(row: &Row, sources: &Sources) -> Result<Friction, TableFault> {
    if row.required("unit")? != "F-difference" {
        return Err(row.fault("a friction is a difference in °F"));
    }
    let each_minute = match row.required("per")? {
        "minute" => true,
        "mix" => false,
        other => return Err(row.fault(format_args!("no {other}: minute or mix"))),
    };
    let rise = row.span("value", "low", "high")?.ok_or_else(|| row.fault("no value"))?;
    let rise = rise.map(|fahrenheit| TemperatureChange::celsius_degrees(fahrenheit / 1.8));
    Ok(Friction {
        mixer: row.required("mixer")?,
        name: row.required("name")?,
        each_minute,
        rise: Cited { figure: rise, citation: sources.cite(row)? },
    })
}

#[cfg(test)]
mod tests {
    use crate::reference::Reference;

    #[test]
    fn a_pound_of_ice_takes_up_144_british_thermal_units() {
        let dough = &Reference::load().unwrap_or_else(|fault| panic!("{fault}")).dough;
        let latent = dough.latent_heat.figure;
        // One BTU a pound is 2.326 kJ/kg.
        let printed = 144.0 * 2.326;
        assert!(latent.low().value() <= printed && printed <= latent.high().value());
    }

    #[test]
    fn a_bakery_mixer_warms_a_dough_more_than_hands_do() {
        let frictions = &Reference::load().unwrap_or_else(|fault| panic!("{fault}")).frictions;
        let rise = |mixer| frictions.find(mixer).map(|friction| friction.rise.figure);
        let (Some(hand), Some(spiral)) = (rise("hand"), rise("spiral")) else { panic!("a mixer is missing") };
        assert!(hand.high() < spiral.low());
    }
}
