//! Gas, soda and acid: what soda and powder give, how much soda each acid and each sour ingredient takes up, and what cook books print about it, right or wrong.

use super::dough::figure;
use super::source::{Citation, Cited, Sources};
use super::table::{DataFile, Row, TableFault};
use crate::quantity::{Factor, Percent, Span, plain};

/// Grams for each gram: gas and sodium.
#[derive(Debug)]
pub struct LeaveningFigures {
    /// Carbon dioxide of soda with acid enough.
    pub soda_gas: Cited<Span<Factor>>,
    /// Carbon dioxide of soda by heat alone.
    pub soda_gas_by_heat: Cited<Span<Factor>>,
    pub potassium_bicarbonate_gas: Cited<Span<Factor>>,
    pub bakers_ammonia_gas: Cited<Span<Factor>>,
    /// The least that the US allows in baking powder.
    pub powder_gas_us: Cited<Span<Factor>>,
    /// The least that Canada allows.
    pub powder_gas_canada: Cited<Span<Factor>>,
    /// Usual powders.
    pub powder_gas_trade: Cited<Span<Factor>>,
    pub sodium_of_soda: Cited<Span<Factor>>,
    pub sodium_of_salt: Cited<Span<Factor>>,
    sodium_of_powders: Vec<OfPowder>,
}

/// A figure of one kind of powder, by the id of the ingredient.
type OfPowder = (&'static str, Cited<Span<Factor>>);

const USUAL_POWDER: &str = "baking-powder";

impl LeaveningFigures {
    /// Grams of usual baking powder that a gram of this ingredient stands for, by its gas with acid enough; nothing where it is no gas by itself.
    pub fn as_powder(&self, id: &str) -> Option<Factor> {
        let gas = match id {
            "baking-soda" => self.soda_gas,
            "potassium-bicarbonate" => self.potassium_bicarbonate_gas,
            "bakers-ammonia" => self.bakers_ammonia_gas,
            _ => return None,
        };
        Some(gas.figure.value() / self.powder_gas_trade.figure.value())
    }

    /// Sodium of a kind of baking powder, by the id of the ingredient; that of the usual one where the kind has no figure.
    pub fn sodium_of_powder(&self, id: &str) -> Option<Cited<Span<Factor>>> {
        let of = |id: &str| self.sodium_of_powders.iter().find(|(known, _)| *known == id).map(|(_, sodium)| *sodium);
        of(id).or_else(|| of(USUAL_POWDER))
    }
}

/// An acid, or an ingredient that holds some: grams of soda that 100 g of it take up, its neutralising value.
#[derive(Debug)]
pub struct Acid {
    pub id: &'static str,
    pub name: &'static str,
    names: Vec<&'static str>,
    /// The id of the ingredient, where the table has it.
    pub ingredient: &'static str,
    pub takes_up: Cited<Span<Percent>>,
    pub note: &'static str,
}

/// A rule that is printed by spoons.
#[derive(Debug)]
pub struct PrintedSoda {
    pub id: &'static str,
    pub rule: &'static str,
    /// The id of the ingredient that is the acid.
    pub acid: &'static str,
    /// US teaspoons of the acid.
    pub acid_spoons: Factor,
    /// US teaspoons of soda.
    pub soda_spoons: Span<Factor>,
    pub citation: Citation,
    pub note: &'static str,
}

/// A printed dose of powder against flour.
#[derive(Debug)]
pub struct PrintedDose {
    pub rule: &'static str,
    pub dose: Span<Percent>,
    pub citation: Citation,
}

/// All that is known of leavening.
#[derive(Debug)]
pub struct LeaveningTables {
    pub figures: LeaveningFigures,
    pub acids: &'static [Acid],
    pub printed: &'static [PrintedSoda],
    pub doses: &'static [PrintedDose],
}

/// The data files.
pub(super) struct Files {
    pub figures: DataFile,
    pub acids: DataFile,
    pub soda: DataFile,
    pub doses: DataFile,
}

impl LeaveningTables {
    pub(super) fn load(files: &Files, sources: &Sources) -> Result<Self, TableFault> {
        let acids = files.acids.rows()?.iter().map(|row| acid(row, sources)).collect::<Result<Vec<_>, _>>()?;
        let printed = files.soda.rows()?.iter().map(|row| printed(row, sources)).collect::<Result<Vec<_>, _>>()?;
        let doses = files.doses.rows()?.iter().map(|row| dose(row, sources)).collect::<Result<Vec<_>, _>>()?;
        if let Some(rule) = printed.iter().find(|rule| !acids.iter().any(|acid| acid.ingredient == rule.acid)) {
            return Err(format!("printed-soda.csv: no acid {}", rule.acid));
        }
        Ok(Self {
            figures: figures(&files.figures.rows()?, sources)?,
            acids: Vec::leak(acids),
            printed: Vec::leak(printed),
            doses: Vec::leak(doses),
        })
    }

    /// An acid by its id or any of its names.
    pub fn acid(&self, name: &str) -> Option<&'static Acid> {
        let name = plain(name);
        // "E 450(i)" stands on a label, and e450i in the table.
        let number: String = name.chars().filter(|letter| !matches!(letter, ' ' | '(' | ')')).collect();
        let name = if is_label_number(&number) { &*number } else { &*name };
        self.acids.iter().find(|acid| acid.id == name || acid.name == name || acid.names.contains(&name))
    }

    /// What an ingredient takes up; nothing where it counts as neutral.
    pub fn acid_of(&self, ingredient: &str) -> Option<&'static Acid> {
        self.acids.iter().find(|acid| acid.ingredient == ingredient && !ingredient.is_empty())
    }

    /// Every name of every acid.
    pub fn acid_names(&self) -> impl Iterator<Item = &'static str> {
        // A number near another is another acid.
        let names = self.acids.iter().flat_map(|acid| std::iter::once(acid.name).chain(acid.names.iter().copied()));
        names.filter(|name| !is_label_number(name))
    }
}

/// "e450i": a number of the European list of additives (Regulation (EC) No 1333/2008).
fn is_label_number(name: &str) -> bool {
    name.strip_prefix('e').is_some_and(|number| number.starts_with(|digit: char| digit.is_ascii_digit()))
}

fn figures(rows: &[Row], sources: &Sources) -> Result<LeaveningFigures, TableFault> {
    Ok(LeaveningFigures {
        soda_gas: figure(rows, "soda-gas", sources)?,
        soda_gas_by_heat: figure(rows, "soda-gas-by-heat", sources)?,
        potassium_bicarbonate_gas: figure(rows, "potassium-bicarbonate-gas", sources)?,
        bakers_ammonia_gas: figure(rows, "bakers-ammonia-gas", sources)?,
        powder_gas_us: figure(rows, "powder-gas-us", sources)?,
        powder_gas_canada: figure(rows, "powder-gas-canada", sources)?,
        powder_gas_trade: figure(rows, "powder-gas-trade", sources)?,
        sodium_of_soda: figure(rows, "sodium-soda", sources)?,
        sodium_of_salt: figure(rows, "sodium-salt", sources)?,
        sodium_of_powders: sodium_of_powders(rows, sources)?,
    })
}

/// The usual powder stands for one without a figure of its own, so it must be there.
fn sodium_of_powders(rows: &[Row], sources: &Sources) -> Result<Vec<OfPowder>, TableFault> {
    let ids = rows.iter().filter_map(|row| row.required("id").ok()?.strip_prefix("sodium-"));
    let powders: Vec<_> = ids.filter(|id| !matches!(*id, "soda" | "salt")).collect();
    if !powders.contains(&USUAL_POWDER) {
        return Err(format!("leavening.csv: no row sodium-{USUAL_POWDER}"));
    }
    powders.into_iter().map(|id| Ok((id, figure(rows, &format!("sodium-{id}"), sources)?))).collect()
}

fn acid(row: &Row, sources: &Sources) -> Result<Acid, TableFault> {
    let takes_up = row.span("value", "low", "high")?.ok_or_else(|| row.fault("no value"))?;
    Ok(Acid {
        id: row.required("id")?,
        name: row.required("name")?,
        names: row.list("names")?,
        ingredient: row.text("ingredient")?,
        takes_up: Cited { figure: takes_up.map(Percent::of_hundred), citation: sources.cite(row)? },
        note: row.text("note")?,
    })
}

fn printed(row: &Row, sources: &Sources) -> Result<PrintedSoda, TableFault> {
    let spoons = |column| row.figure(column).map(Factor::times);
    Ok(PrintedSoda {
        id: row.required("id")?,
        rule: row.required("rule")?,
        acid: row.required("acid")?,
        acid_spoons: spoons("acid_tsp")?,
        soda_spoons: Span::between(spoons("soda_low_tsp")?, spoons("soda_high_tsp")?),
        citation: sources.cite(row)?,
        note: row.text("note")?,
    })
}

fn dose(row: &Row, sources: &Sources) -> Result<PrintedDose, TableFault> {
    let percent = |column| row.figure(column).map(Percent::of_hundred);
    Ok(PrintedDose { rule: row.required("rule")?, dose: Span::between(percent("low")?, percent("high")?), citation: sources.cite(row)? })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::Reference;

    fn tables() -> &'static LeaveningTables {
        &Reference::load().unwrap_or_else(|fault| panic!("{fault}")).leavening
    }

    /// Grams of soda for each 84.0066 g of it that so many protons take up, over the acid's molar mass.
    #[test]
    fn pure_acids_take_up_what_their_protons_allow() {
        for (acid, molar, protons) in [
            ("cream of tartar", 188.18, 1.0),
            ("lactic acid", 90.08, 1.0),
            ("citric acid", 192.12, 3.0),
            ("acetic acid", 60.05, 1.0),
            ("GDL", 178.14, 1.0),
            ("tartaric acid", 150.09, 2.0),
        ] {
            let theory = protons * 84.0066 / molar * 100.0;
            let span = tables().acid(acid).map(|acid| acid.takes_up.figure);
            let holds = span.is_some_and(|span| span.low().value() - 0.1 <= theory && theory <= span.high().value() + 0.1);
            assert!(holds, "{acid}: {theory} {span:?}");
        }
    }

    #[test]
    fn every_powder_whose_sodium_is_known_is_an_ingredient_that_raises() {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let raises = |id: &str| reference.ingredients.by_id(id).map(|powder| powder.counts_as(crate::reference::Class::Leavening).value());
        let powders = &tables().figures.sodium_of_powders;
        assert!(powders.len() >= 4 && powders.iter().all(|(id, _)| raises(id) == Some(1.0)), "{powders:?}");
    }

    #[test]
    fn every_acid_is_an_ingredient_of_the_table_or_a_dry_acid_of_the_trade() {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let known = |acid: &Acid| acid.ingredient.is_empty() || reference.ingredients.by_id(acid.ingredient).is_some();
        assert!(tables().acids.iter().all(known));
        assert!(tables().acids.iter().filter(|acid| acid.ingredient.is_empty()).all(|acid| acid.takes_up.figure.value().value() > 30.0));
    }
}
