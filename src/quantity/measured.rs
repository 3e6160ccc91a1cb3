//! Amounts that are masses or volumes by their unit, whatever they are of.

use super::amount::{Amount, Counting, read_amount};
use super::code::Code;
use super::fault::Fault;
use super::measure::{Factor, Mass, Volume};
use super::pointer::Pointer;
use super::unit::{Family, Measures, Unit};
use super::written::Written;

impl Amount {
    pub const fn is_mass(&self) -> bool {
        matches!(&self.counting, Counting::Unit(unit) if matches!(unit.family, Family::Mass))
    }

    pub const fn is_volume(&self) -> bool {
        matches!(&self.counting, Counting::Unit(unit) if matches!(unit.family, Family::Volume))
    }

    /// The mass that it is; nothing where an ingredient must say.
    pub fn mass(&self) -> Option<Mass> {
        match &self.counting {
            Counting::Unit(unit) if unit.family == Family::Mass => Some(Mass::grams(self.number.value * unit.size)),
            _ => None,
        }
    }

    /// The volume that it is, by the disher too.
    pub fn volume(&self) -> Option<Volume> {
        match &self.counting {
            Counting::Unit(unit) if unit.family == Family::Volume => Some(Volume::millilitres(self.number.value * unit.size)),
            Counting::Disher(per_quart) => {
                Some(Volume::millilitres(Unit::known("us-quart").size) * Factor::times(self.number.value) / *per_quart)
            }
            _ => None,
        }
    }
}

impl Fault {
    /// What is offered for an amount that must be of one kind: nobody measures a room in cups.
    #[must_use]
    #[cold]
    pub fn offering(mut self, samples: &[&str]) -> Self {
        let told = samples.iter().map(|sample| format!("{sample:?}")).collect::<Vec<_>>().join(" or ");
        match self.code {
            Code::UnreadableAmount => {
                self.attempts = samples.iter().map(|sample| (*sample).to_owned()).collect();
                self.saying(format!("Write it like {told}"))
            }
            Code::UnknownUnit => {
                let family = |text: &str| Some(Unit::of_word(text.split_once(' ')?.1, Measures::Us)?.family);
                let fits = |attempt: &String| samples.iter().any(|sample| family(attempt).is_some() && family(sample) == family(attempt));
                if !self.attempts.iter().any(fits) {
                    let number = self.attempts.first().and_then(|attempt| attempt.split(' ').next()).unwrap_or("1").to_owned();
                    let units = samples.iter().filter_map(|sample| sample.split_once(' '));
                    self.attempts = units.map(|(_, unit)| format!("{number} {unit}")).collect();
                    return self.saying(format!("Use a unit as in {told}"));
                }
                self.attempts.retain(fits);
                self
            }
            _ => self,
        }
    }
}

const MASSES: &[&str] = &["85 g", "3 oz"];

/// Reads an amount that must be a mass above 0.
pub fn read_mass(written: &Written, measures: Measures, at: &Pointer<'_>) -> Result<Mass, Fault> {
    let amount = read_amount(written, measures, at).map_err(|fault| fault.offering(MASSES))?;
    match (amount.mass(), &amount.counting) {
        (Some(mass), _) if mass > Mass::ZERO => Ok(mass),
        (Some(_), _) => Err(Fault::new(at, Code::OutOfRange, written.as_text().into_owned(), "a mass above 0")),
        (None, Counting::Unit(unit)) => Err(Fault::new(at, Code::WrongUnit, unit.family.word(), "a mass, such as \"85 g\"")),
        (None, Counting::Nothing) => {
            let figure = amount.number.value;
            Err(Fault::new(at, Code::UnitMissing, figure.to_string(), "a number and a unit of mass")
                .trying([format!("{figure} g"), format!("{figure} oz")]))
        }
        (None, Counting::Named(word)) => Err(amount.unknown_unit(word, at).offering(MASSES)),
        (None, _) => Err(Fault::new(at, Code::WrongUnit, "a count", "a mass, such as \"85 g\"")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_offered_is_of_the_kind_that_is_wanted() {
        let tried = |text: &str| {
            let read = read_mass(&Written::Text(text.into()), Measures::Us, &Pointer::ROOT);
            read.err().map_or_else(Vec::new, |fault| fault.attempts)
        };
        assert_eq!(tried("some"), ["85 g", "3 oz"]);
        assert_eq!(tried("85 blobs"), ["85 g", "85 oz"]);
        assert_eq!(tried("85 grms").first().map(String::as_str), Some("85 grams"));
    }

    #[test]
    fn only_a_mass_above_nothing_is_a_mass() {
        let read = |text: &str| {
            let read = read_mass(&Written::Text(text.into()), Measures::Us, &Pointer::ROOT);
            read.map(|mass| mass.in_grams().round()).map_err(|fault| fault.code)
        };
        assert_eq!(read("1 kg"), Ok(1000.0));
        let refused = [("0 g", Code::OutOfRange), ("2 cups", Code::WrongUnit), ("85", Code::UnitMissing), ("85 blobs", Code::UnknownUnit)];
        for (text, code) in refused {
            assert_eq!(read(text), Err(code), "{text}");
        }
    }
}
