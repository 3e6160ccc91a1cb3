//! "Bake at 180": a setting without a scale, in a formula that tells by its measures which scale its baker means.

use super::gathered::Gathered;
use crate::formula::{Beside, LineRead, in_celsius, read_beside, taken_as};
use crate::quantity::{Measures, Pointer};
use crate::reference::Account;

impl Gathered<'_> {
    /// "Bake at 180" in a formula in grams: the line with its scale, which is told as assumed; nothing where it needs none.
    pub(super) fn in_celsius(
        &self,
        bare: &str,
        read: &LineRead,
        behind: Option<&Beside>,
        at: &Pointer<'_>,
        account: &mut Account,
    ) -> Option<String> {
        if !matches!(read, LineRead::Beside(said) if said.scaleless) && !behind.is_some_and(|said| said.scaleless) {
            return None;
        }
        let why = (*self.celsius.get_or_init(|| celsius(self.measures, self.question.written())))?;
        let (scaled, figures) = in_celsius(bare)?;
        let set = read_beside(&scaled, self.reference).is_some_and(|said| said.oven.is_some() || !said.stages.is_empty());
        let text = format!("{}, for {why}", taken_as("Celsius", &figures));
        // How hot the crumb is when it is done is no setting of the oven.
        set.then(|| account.assume(text, at, format!("{} C", figures[0])))?;
        Some(scaled)
    }
}

/// Why degrees without a scale are those of Celsius, where they are: the formula has the measures of such a country, or all of it is weighed in grams.
fn celsius<'l>(measures: Option<Measures>, mut lines: impl Iterator<Item = &'l str>) -> Option<&'static str> {
    match measures {
        Some(Measures::Us | Measures::UsLabel) => None,
        Some(Measures::Metric) => Some("the measures are metric"),
        // Both scales stand in books with these cups and ounces. From memory.
        Some(Measures::Imperial | Measures::Canada) => None,
        Some(Measures::Uk) => Some("the measures are those of the UK"),
        Some(Measures::Australia) => Some("the measures are those of Australia"),
        Some(Measures::Japan) => Some("the measures are those of Japan"),
        None => {
            let mut weighed = false;
            let other = lines.any(|line| {
                let units = units(line);
                weighed |= units.contains(&Unit::Metric);
                units.contains(&Unit::Other)
            });
            (weighed && !other).then_some("all is weighed in grams")
        }
    }
}

#[derive(PartialEq)]
enum Unit {
    Metric,
    /// Cups, ounces, degrees Fahrenheit: those of a kitchen where an oven without a scale is none of Celsius.
    Other,
}

/// The units behind the figures of a line.
fn units(line: &str) -> Vec<Unit> {
    let line = line.to_lowercase();
    let figure = |word: &str| word.chars().all(|c| !c.is_alphabetic());
    let mut measured = false;
    let mut found = Vec::new();
    for word in line.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()) {
        // "200g", "350f".
        let bare = word.trim_start_matches(|c: char| !c.is_alphabetic());
        let behind = measured || bare.len() < word.len();
        match bare {
            "fahrenheit" | "cup" | "cups" => found.push(Unit::Other),
            "f" | "oz" | "ounce" | "ounces" | "lb" | "lbs" | "pound" | "pounds" | "stick" | "sticks" | "quart" | "quarts" if behind => {
                found.push(Unit::Other);
            }
            "g" | "gr" | "gram" | "grams" | "kg" | "ml" if behind => found.push(Unit::Metric),
            _ => {}
        }
        measured = figure(word);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_formula_in_grams_alone_is_baked_by_celsius() {
        let grams = |lines: &[&str]| celsius(None, lines.iter().copied()).is_some();
        assert!(grams(&["200g flour", "2 eggs", "1 tsp baking powder", "20 cm tin"]));
        assert!(!grams(&["2 eggs", "1 tsp baking powder"]), "nothing is weighed");
        for other in ["1 cup milk", "8 oz butter", "1 stick butter", "cool the oven to 325F", "325 °F", "(½ cup)"] {
            assert!(!grams(&["200 g flour", other]), "{other}");
        }
        assert!(celsius(Some(Measures::Us), ["200 g flour"].into_iter()).is_none());
        assert!(celsius(Some(Measures::Uk), ["8 oz flour"].into_iter()).is_some());
    }
}
