//! Where water boils at an altitude, and what that leaves of a crumb's end temperature: no crumb gets hotter than its own water.

use crate::quantity::{
    Code, Counting, Family, Fault, Length, Measures, Pointer, Span, Temperature, TemperatureChange, Written, read_amount,
};

/// The pressure of the standard atmosphere at this altitude, as millimetres of mercury (ICAO: P = 101.325 (1 - 2.25577e-5 h)^5.25588 kPa).
fn millimetres_of_mercury(altitude: Length) -> f64 {
    let metres = altitude.in_centimetres() / 100.0;
    let kilopascal = 101.325 * libm::pow(1.0 - 2.255_77e-5 * metres, 5.255_88);
    kilopascal * 760.0 / 101.325
}

/// Where water boils at this altitude: Antoine's equation for water, T = 1730.63 / (8.07131 - log10 P) - 233.426 C.
pub fn boiling(altitude: Length) -> Temperature {
    Temperature::celsius(1730.63 / (8.071_31 - libm::log10(millimetres_of_mercury(altitude))) - 233.426)
}

/// How a baker knows that it is done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doneness {
    /// A thermometer in the middle reads this.
    Crumb(Span<Temperature>),
    /// The usual crumb temperature cannot be reached here: a skewer must tell.
    Skewer,
}

/// A thermometer's last digit: a target within it of the bound still counts.
const LAST_DIGIT: TemperatureChange = TemperatureChange::celsius_degrees(0.05);

/// The usual end temperature of a crumb, held this far under local boiling.
pub fn doneness(usual: Span<Temperature>, altitude: Length, under_boiling: TemperatureChange) -> Doneness {
    let most = boiling(altitude) + under_boiling;
    if usual.low() > most + LAST_DIGIT {
        return Doneness::Skewer;
    }
    let under = |end: Temperature| if end > most { most } else { end };
    Doneness::Crumb(Span::new(usual.low(), under(usual.value()), under(usual.high())))
}

/// The altitudes at which people bake.
const LOWEST_METRES: f64 = -430.0;
const HIGHEST_METRES: f64 = 5500.0;

/// An altitude as it was written.
#[derive(Debug, PartialEq)]
pub struct Altitude {
    pub height: Length,
    pub in_metres: bool,
    /// In a sentence: "1600 m", "5280 ft (1609 m)".
    pub said: String,
}

/// Reads an altitude: "1600 m", "5280 ft".
pub fn read_altitude(written: &Written, at: &Pointer<'_>) -> Result<Altitude, Fault> {
    const SAMPLES: &[&str] = &["1600 m", "5280 ft"];
    let amount = read_amount(written, Measures::Us, at).map_err(|fault| fault.offering(SAMPLES))?;
    let accepted = "an altitude from -430 m to 5500 m, such as \"1600 m\" or \"5280 ft\"";
    let figure = amount.number.value;
    let attempts = [format!("{figure} m"), format!("{figure} ft")];
    let unit = match &amount.counting {
        Counting::Unit(unit) if unit.family == Family::Length => *unit,
        Counting::Nothing => return Err(Fault::new(at, Code::UnitMissing, figure.to_string(), accepted).trying(attempts)),
        Counting::Named(word) => return Err(amount.unknown_unit(word, at).offering(SAMPLES)),
        _ => return Err(Fault::new(at, Code::WrongUnit, written.as_text(), accepted).trying(attempts)),
    };
    let height = Length::centimetres(figure * unit.size);
    let metres = height.in_centimetres() / 100.0;
    if !(LOWEST_METRES..=HIGHEST_METRES).contains(&metres) {
        return Err(Fault::new(at, Code::OutOfRange, written.as_text(), accepted));
    }
    let in_metres = unit.id.ends_with("metre");
    let said = format!("{metres:.0} m");
    let said = if in_metres { said } else { format!("{} ({said})", written.as_text().trim()) };
    Ok(Altitude { height, in_metres, said })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn feet(feet: f64) -> Length {
        Length::centimetres(feet * 30.48)
    }

    #[test]
    fn water_boils_as_the_printed_tables_have_it() {
        for (altitude, fahrenheit) in [(0.0, 212.0), (1000.0, 210.2), (2000.0, 208.4), (5000.0, 203.0), (8000.0, 197.4), (10000.0, 193.6)] {
            let boils = boiling(feet(altitude)).in_fahrenheit();
            assert!((boils - fahrenheit).abs() < 0.25, "{altitude} ft: {boils} for {fahrenheit}");
        }
    }

    #[test]
    fn a_crumb_stays_under_boiling_and_gives_way_to_a_skewer() {
        let cake = Span::new(Temperature::celsius(93.3), Temperature::celsius(96.7), Temperature::celsius(98.9));
        let under = TemperatureChange::celsius_degrees(-2.0 / 1.8);
        let Doneness::Crumb(denver) = doneness(cake, feet(5280.0), under) else { panic!("a cake can be tested in Denver") };
        assert!(denver.high() < boiling(feet(5280.0)) && denver.low().in_celsius() == 93.3, "{denver:?}");
        assert_eq!(doneness(cake, feet(8000.0), under), Doneness::Skewer);
    }

    #[test]
    fn an_altitude_is_said_as_it_was_asked() {
        let said =
            |text: &str| read_altitude(&Written::Text(text.into()), &Pointer::ROOT).map(|altitude| (altitude.said, altitude.in_metres));
        assert_eq!([said("1600 m"), said("5280 ft")], [Ok(("1600 m".to_owned(), true)), Ok(("5280 ft (1609 m)".to_owned(), false))]);
    }

    #[test]
    fn an_altitude_has_a_unit_and_a_limit() {
        let read = |text: &str| read_altitude(&Written::Text(text.into()), &Pointer::ROOT).map_err(|fault| fault.code);
        assert!(read("5280 ft").is_ok_and(|altitude| (altitude.height.in_centimetres() - 160_934.4).abs() < 1e-6));
        assert_eq!(read("1600"), Err(Code::UnitMissing));
        assert_eq!(read("9000 m"), Err(Code::OutOfRange));
        assert_eq!(read("3 cups"), Err(Code::WrongUnit));
    }
}
