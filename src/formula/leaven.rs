//! Soda, acid and powder in a formula: how much soda its sour ingredients take up, what is left over, what gas follows. The balance judges the dose; this computes.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::loose::{Loose, is_within};
use super::place::LinePlace;
use super::resolved::Mixture;
use super::total::Total;
use crate::quantity::{Factor, Mass, Percent, Span};
use crate::reference::{Acid, Cited, Class, Ingredient, LeaveningFigures, LeaveningTables};

/// How much gas a baking powder gives.
/// - `trade`: usual powders of 26 to 30 % soda: 14 % carbon dioxide, from 12 to 15.7.
/// - `us-least`: the least that the US allows: 12 %.
/// - `canada-least`: the least that Canada allows: 10 %.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PowderGas {
    #[default]
    Trade,
    UsLeast,
    CanadaLeast,
}

impl PowderGas {
    pub const fn word(self) -> &'static str {
        match self {
            Self::Trade => "trade",
            Self::UsLeast => "us-least",
            Self::CanadaLeast => "canada-least",
        }
    }

    /// Carbon dioxide for each gram of powder.
    pub fn figure(self, figures: &LeaveningFigures) -> Cited<Span<Factor>> {
        match self {
            Self::Trade => figures.powder_gas_trade,
            Self::UsLeast => figures.powder_gas_us,
            Self::CanadaLeast => figures.powder_gas_canada,
        }
    }
}

/// A line that takes up soda.
#[derive(Clone, Debug)]
pub struct Sour {
    pub place: LinePlace,
    pub acid: &'static Acid,
    /// The soda it takes up.
    pub soda: Span<Mass>,
}

/// The soda that so much of an acid takes up.
pub fn taken_up(acid: Span<Mass>, takes_up: Span<Percent>) -> Span<Mass> {
    acid * takes_up.map(Percent::as_factor)
}

/// The acid that takes up so much soda; nothing where the acid may take up none.
pub fn acid_for(soda: Span<Mass>, takes_up: Span<Percent>) -> Option<Span<Mass>> {
    (takes_up.low().value() > 0.0).then(|| soda / takes_up.map(Percent::as_factor))
}

/// What raises a mixture, yeast apart.
#[derive(Clone, Debug)]
pub struct Leaven {
    pub sour: Vec<Sour>,
    /// Soda, potassium bicarbonate as the soda it stands for.
    pub soda: Span<Mass>,
    /// Baking powder, that of self-raising flour too.
    pub powder: Span<Mass>,
    pub ammonia: Span<Mass>,
    pub sodium_of_leaven: Span<Mass>,
    pub sodium_of_salt: Span<Mass>,
    /// Powder and, as powder, soda and ammonia, in doubt with the flour: with the least acid that is there, with the usual, and with acid for all soda.
    least: Total,
    met: Total,
    full: Total,
    flour: Total,
}

impl Leaven {
    pub fn of(mixture: &Mixture<'_>, tables: &'static LeaveningTables, powder: PowderGas) -> Self {
        let figures = &tables.figures;
        let share = |of: &dyn Fn(&Ingredient) -> Factor| mixture.sum(of).mass();
        let gas_of_powder = powder.figure(figures).figure.value();
        let sour = sour(mixture, tables);
        let soda_there = share(&|ingredient| soda(ingredient, figures));
        let acid = taken_by(&sour);
        let given = |spent: Factor| {
            mixture.sum(|ingredient| {
                let soda = soda(ingredient, figures) * spent * figures.soda_gas.figure.value() / gas_of_powder;
                let ammonia = is(ingredient, "bakers-ammonia") * figures.bakers_ammonia_gas.figure.value() / gas_of_powder;
                powder_share(ingredient) + soda + ammonia
            })
        };
        Self {
            least: given(spent(soda_there.value(), acid.low(), figures)),
            met: given(spent(soda_there.value(), acid.value(), figures)),
            full: given(Factor::ONE),
            sour,
            soda: soda_there,
            powder: share(&powder_share),
            ammonia: share(&|ingredient| is(ingredient, "bakers-ammonia")),
            sodium_of_leaven: sodium_of_leaven(mixture, figures),
            sodium_of_salt: share(&|ingredient| ingredient.counts_as(Class::Salt) * figures.sodium_of_salt.figure.value()),
            flour: mixture.flour(),
        }
    }

    /// The baking powder of a mixture as it can be taken out of it.
    pub fn loose_powder<'f>(mixture: &Mixture<'f>) -> Loose<'f> {
        Loose::of(mixture, powder_share)
    }

    /// The soda that all sour ingredients take up.
    pub fn taken_up(&self) -> Span<Mass> {
        taken_by(&self.sour)
    }

    /// Soda that finds no acid; below 0 where acid finds no soda.
    pub fn left_over(&self) -> Span<Mass> {
        self.soda - self.taken_up()
    }

    /// The carbon dioxide of soda and ammonia: in full where acid is there, by heat alone where it is not.
    pub fn gas_beside_powder(&self, figures: &LeaveningFigures) -> Span<Mass> {
        let acid = self.taken_up();
        let gas = |soda: Mass, acid: Mass, ammonia: Mass| {
            let met = if soda < acid { soda } else { acid };
            met * figures.soda_gas.figure.value()
                + (soda - met) * figures.soda_gas_by_heat.figure.value()
                + ammonia * figures.bakers_ammonia_gas.figure.value()
        };
        Span::new(
            gas(self.soda.low(), acid.low(), self.ammonia.low()),
            gas(self.soda.value(), acid.value(), self.ammonia.value()),
            gas(self.soda.high(), acid.high(), self.ammonia.high()),
        )
    }

    /// All gas.
    pub fn gas(&self, figures: &LeaveningFigures, powder: PowderGas) -> Span<Mass> {
        self.powder * powder.figure(figures).figure + self.gas_beside_powder(figures)
    }

    /// The powder that gives as much.
    pub fn as_powder(&self, figures: &LeaveningFigures, powder: PowderGas) -> Span<Mass> {
        self.powder + self.gas_beside_powder(figures) / powder.figure(figures).figure
    }

    /// All flour.
    pub fn flour(&self) -> Span<Mass> {
        self.flour.mass()
    }

    /// The dose as powder against flour. Soda that finds no acid gives by heat half its gas, and counts so; the high end counts all of it in full,
    /// for there may be acid that no table knows.
    pub fn dose(&self) -> Option<Span<Percent>> {
        (!self.flour.is_nothing()).then(|| self.over(&self.flour))
    }

    /// As the dose, against whatever a style takes as its base.
    pub fn over(&self, base: &Total) -> Span<Percent> {
        let [least, met, full] = [&self.least, &self.met, &self.full].map(|total| total.percent_of(base));
        Span::new(least.low(), met.value(), full.high())
    }

    /// What gives gas, as powder, by the acid there is: a sum that knows the doubts of its cups.
    pub const fn met(&self) -> &Total {
        &self.met
    }

    /// The soda to take out so that as much gas falls away as so much powder gives: first what finds no acid, which gives half.
    pub fn soda_for(&self, powder: Mass, figures: &LeaveningFigures, gas: PowderGas) -> Mass {
        let of_powder = gas.figure(figures).figure.value();
        let (by_acid, by_heat) = (figures.soda_gas.figure.value() / of_powder, figures.soda_gas_by_heat.figure.value() / of_powder);
        let loose = self.loose_soda();
        if loose * by_heat >= powder { powder / by_heat } else { loose + (powder - loose * by_heat) / by_acid }
    }

    /// The soda that with acid gives as much gas as so much powder.
    pub fn soda_by_acid_for(&self, powder: Mass, figures: &LeaveningFigures, gas: PowderGas) -> Mass {
        powder * (gas.figure(figures).figure.value() / figures.soda_gas.figure.value())
    }

    /// The soda that finds no acid; nothing where acid is left over.
    pub fn loose_soda(&self) -> Mass {
        let left = self.left_over().value();
        if left > Mass::ZERO { left } else { Mass::ZERO }
    }

    pub fn has_loose_soda(&self) -> bool {
        self.loose_soda() > Mass::ZERO
    }
}

/// The share of its full gas that soda gives with so much acid.
fn spent(soda: Mass, acid: Mass, figures: &LeaveningFigures) -> Factor {
    if soda <= acid {
        return Factor::ONE;
    }
    let by_heat = figures.soda_gas_by_heat.figure.value() / figures.soda_gas.figure.value();
    (acid + (soda - acid) * by_heat) / soda
}

fn taken_by(sour: &[Sour]) -> Span<Mass> {
    sour.iter().map(|sour| sour.soda).fold(Span::exact(Mass::ZERO), |sum, more| sum + more)
}

fn sour(mixture: &Mixture<'_>, tables: &'static LeaveningTables) -> Vec<Sour> {
    let lines = mixture.placed().filter_map(|(place, line)| {
        let acid = tables.acid_of(&line.ingredient.id)?;
        Some(Sour { place, acid, soda: taken_up(line.weight.mass, acid.takes_up.figure) })
    });
    lines.filter(|sour| sour.soda.high() > Mass::ZERO).collect()
}

fn is(ingredient: &Ingredient, id: &str) -> Factor {
    Factor::times(if ingredient.id == id { 1.0 } else { 0.0 })
}

/// Soda, or what stands for as much of it by its gas.
fn soda(ingredient: &Ingredient, figures: &LeaveningFigures) -> Factor {
    match &*ingredient.id {
        "baking-soda" => Factor::ONE,
        "potassium-bicarbonate" => figures.potassium_bicarbonate_gas.figure.value() / figures.soda_gas.figure.value(),
        _ => Factor::ZERO,
    }
}

/// Whether it is soda, or potassium bicarbonate in its stead.
pub(super) fn is_soda(ingredient: &Ingredient) -> bool {
    matches!(&*ingredient.id, "baking-soda" | "potassium-bicarbonate")
}

/// The share that is baking powder.
pub(super) fn powder_share(ingredient: &Ingredient) -> Factor {
    let other = is_soda(ingredient) || ingredient.id == "bakers-ammonia" || ingredient.fresh_yeast.is_some();
    if other { Factor::ZERO } else { ingredient.counts_as(Class::Leavening) }
}

/// Whether it raises by what it has within: self-raising flour, a cake mix.
pub(super) fn raises_itself(ingredient: &Ingredient) -> bool {
    is_within(powder_share(ingredient))
}

fn sodium_of_leaven(mixture: &Mixture<'_>, figures: &LeaveningFigures) -> Span<Mass> {
    let of = |ingredient: &Ingredient| match &*ingredient.id {
        "baking-soda" => Some(figures.sodium_of_soda.figure),
        id if powder_share(ingredient).value() > 0.0 => figures.sodium_of_powder(id).map(|cited| cited.figure),
        _ => None,
    };
    let lines = mixture.lines().filter_map(|line| {
        let sodium = of(&line.ingredient)?;
        let share = if line.ingredient.id == "baking-soda" { Factor::ONE } else { powder_share(&line.ingredient) };
        Some(line.weight.mass * share * sodium)
    });
    lines.fold(Span::exact(Mass::ZERO), |sum, more| sum + more)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Quantifiable;
    use crate::reference::Reference;

    fn tables() -> &'static LeaveningTables {
        &Reference::load().unwrap_or_else(|fault| panic!("{fault}")).leavening
    }

    fn grams(mass: f64) -> Span<Mass> {
        Span::exact(Mass::grams(mass))
    }

    /// BAKERpedia's list, and parts by the Food Additives Data Book.
    #[test]
    fn a_hundred_grams_of_soda_take_the_printed_acid() {
        for (name, printed) in
            [("DCPD", 303.03), ("cream of tartar", 222.22), ("MCP", 125.0), ("AMCP", 120.48), ("SALP", 100.0), ("SAS", 96.15)]
        {
            let acid = tables().acid(name).and_then(|acid| acid_for(grams(100.0), acid.takes_up.figure));
            let found = acid.map_or(f64::NAN, |acid| acid.value().in_grams());
            assert!((found / printed - 1.0).abs() < 0.03, "{name}: {found} and {printed}");
        }
        for (name, parts) in [("cream of tartar", 2.24), ("SAPP", 1.32), ("SAPP", 1.39), ("ACP", 1.25), ("GDL", 2.12)] {
            let span = tables().acid(name).map(|acid| acid.takes_up.figure);
            let value = 100.0 / parts;
            assert!(span.is_some_and(|span| span.low().value() - 0.05 <= value && value <= span.high().value()), "{name} {value}");
        }
    }

    #[test]
    fn a_gram_of_soda_gives_a_half_gram_of_gas_with_acid_and_half_of_that_by_heat() {
        let figures = &tables().figures;
        assert!((figures.soda_gas.figure.value().raw() - 44.0095 / 84.0066).abs() < 1e-5);
        assert!((figures.soda_gas_by_heat.figure.value().raw() * 2.0 - figures.soda_gas.figure.value().raw()).abs() < 1e-9);
        // At least 12 % of carbon dioxide asks for at least 22.91 % of soda in the powder.
        let soda = figures.powder_gas_us.figure.value() / figures.soda_gas.figure.value();
        assert!((soda.value() * 100.0 - 22.91).abs() < 0.02);
    }
}
