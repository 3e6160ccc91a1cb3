//! Advice in figures: what ovens, dishes and altitude ask of a baker, one row a printed rule. Rows differ in what they measure, so each says its unit.

use super::source::{Citation, Sources};
use super::table::{DataFile, Row, TableFault};
use crate::quantity::{Factor, Length, Quantifiable, Span, Temperature, TemperatureChange};

/// What an advice's figure measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Measuring {
    CelsiusChange,
    FahrenheitChange,
    Celsius,
    Percent,
    Ratio,
    Inches,
    Bloom,
}

/// One piece of advice.
#[derive(Debug)]
pub struct Advice {
    /// What it is about: fan, glass, bake-kind …
    pub topic: &'static str,
    /// For which goods; "all" for any.
    pub product: &'static str,
    pub kind: &'static str,
    figure: Span<Factor>,
    measuring: Measuring,
    pub citation: Citation,
    pub note: &'static str,
}

impl Advice {
    /// As a change of temperature; nothing where it measures something else.
    pub fn change(&self) -> Option<Span<TemperatureChange>> {
        let degree = match self.measuring {
            Measuring::CelsiusChange => 1.0,
            Measuring::FahrenheitChange => 1.8,
            _ => return None,
        };
        Some(self.figure.map(|figure| TemperatureChange::celsius_degrees(figure.value() / degree)))
    }

    /// As a temperature.
    pub fn temperature(&self) -> Option<Span<Temperature>> {
        (self.measuring == Measuring::Celsius).then(|| self.figure.map(|figure| Temperature::celsius(figure.value())))
    }

    /// As a ratio; a percentage is how much more or less: -5 % is 0.95 times.
    pub fn ratio(&self) -> Option<Span<Factor>> {
        match self.measuring {
            Measuring::Ratio => Some(self.figure),
            Measuring::Percent => Some(self.figure.map(|figure| Factor::times(1.0 + figure.value() / 100.0))),
            _ => None,
        }
    }

    /// As a length.
    pub fn length(&self) -> Option<Span<Length>> {
        (self.measuring == Measuring::Inches).then(|| self.figure.map(|figure| Length::centimetres(figure.value() * 2.54)))
    }

    /// For advice that begins at an altitude ("from-914-m"): from where.
    pub fn from_altitude(&self) -> Option<Length> {
        let metres = self.kind.strip_prefix("from-")?.strip_suffix("-m")?.parse::<u32>().ok()?;
        Some(Length::centimetres(f64::from(metres) * 100.0))
    }
}

/// All advice.
pub struct Advices {
    pub all: &'static [Advice],
}

impl Advices {
    pub(super) fn load(file: DataFile, sources: &Sources) -> Result<Self, TableFault> {
        let all = file.rows()?.iter().map(|row| advice(row, sources)).collect::<Result<Vec<_>, _>>()?;
        Ok(Self { all: Vec::leak(all) })
    }

    /// All advice on a topic, in the order of the table.
    pub fn on(&self, topic: &str) -> impl Iterator<Item = &'static Advice> {
        self.all.iter().filter(move |advice| advice.topic == topic)
    }

    /// The usual Bloom strength of a gelatin, in grams of the gelometer; nothing for what is none.
    pub fn bloom(&self, ingredient: &str) -> Option<Span<Factor>> {
        let row = self.on("bloom").find(|advice| advice.product == ingredient && advice.measuring == Measuring::Bloom)?;
        Some(row.figure)
    }

    /// The temperature at which the crumb of a product is done.
    pub fn crumb(&self, product: &str) -> Option<&'static Advice> {
        self.on("crumb-end").find(|advice| advice.product == product && advice.measuring == Measuring::Celsius)
    }

    /// One piece of advice by its topic and kind.
    pub fn find(&self, topic: &str, kind: &str) -> Option<&'static Advice> {
        self.all.iter().find(|advice| advice.topic == topic && advice.kind == kind)
    }
}

fn advice(row: &Row, sources: &Sources) -> Result<Advice, TableFault> {
    let measuring = match row.required("unit")? {
        "C-difference" => Measuring::CelsiusChange,
        "F-difference" => Measuring::FahrenheitChange,
        "C" => Measuring::Celsius,
        "percent" => Measuring::Percent,
        "ratio" | "exponent" => Measuring::Ratio,
        "in" => Measuring::Inches,
        "bloom" => Measuring::Bloom,
        other => return Err(row.fault(format_args!("no unit {other}"))),
    };
    let [low, value, high] = [row.figure("low")?, row.figure("value")?, row.figure("high")?];
    if !(low <= value && value <= high) {
        return Err(row.fault("low, value and high are out of order"));
    }
    Ok(Advice {
        topic: row.required("topic")?,
        product: row.required("product")?,
        kind: row.required("kind")?,
        figure: Span::new(Factor::of_raw(low), Factor::of_raw(value), Factor::of_raw(high)),
        measuring,
        citation: sources.cite(row)?,
        note: row.text("note")?,
    })
}

#[cfg(test)]
mod tests {
    use crate::reference::Reference;

    #[test]
    fn a_glass_dish_takes_an_oven_of_twenty_five_degrees_fahrenheit_less() {
        let advices = &Reference::load().unwrap_or_else(|fault| panic!("{fault}")).advices;
        let glass = advices.find("glass", "temperature").and_then(super::Advice::change);
        assert!(glass.is_some_and(|change| (change.value().in_celsius_degrees() + 25.0 / 1.8).abs() < 1e-9));
    }
}
