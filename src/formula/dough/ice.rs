//! Ice for cold dough water. Ice that replaces water and ice that is added to it are two questions: mixing them up misses the dough by a degree and its water by a tenth.

use crate::quantity::{Factor, Mass, Span, Temperature};
use crate::reference::DoughFigures;

/// What water and ice take up: kJ/kg for melting, kJ/kgK for warming.
#[derive(Clone, Copy, Debug)]
pub struct Heats {
    pub melting: Span<Factor>,
    pub water: Span<Factor>,
    pub ice: Span<Factor>,
}

impl From<&DoughFigures> for Heats {
    fn from(figures: &DoughFigures) -> Self {
        Self { melting: figures.latent_heat.figure, water: figures.heat_of_water.figure, ice: figures.heat_of_ice.figure }
    }
}

/// So much water that has to come from the tap's temperature to a colder one.
#[derive(Clone, Copy, Debug)]
pub struct Icing {
    pub water: Mass,
    pub tap: Temperature,
    /// May lie below 0 °C: the ice then melts in the dough.
    pub wanted: Temperature,
    /// The temperature of the ice, at most 0 °C.
    pub ice: Temperature,
    pub heats: Heats,
}

#[derive(Clone, Copy)]
struct Sharp {
    melting: f64,
    water: f64,
    ice: f64,
}

impl Icing {
    /// Ice instead of part of the water; nothing where not even all of it as ice is cold enough.
    pub fn replacing(&self) -> Option<Span<Mass>> {
        self.spread(|heats| heats.melting + heats.water * self.tap.in_celsius(), self.water)
    }

    /// Ice on top of all the water; nothing where no amount is cold enough.
    pub fn added(&self) -> Option<Span<Mass>> {
        let most = self.water * Factor::times(10.0);
        self.spread(|heats| heats.melting + heats.water * self.wanted.in_celsius(), most)
    }

    /// The ice for water of a range of temperatures: the more the colder, and none from the tap's own on.
    pub fn across(&self, range: Span<Temperature>, way: impl Fn(&Self) -> Option<Span<Mass>>) -> Option<Span<Mass>> {
        let middle = way(self)?;
        let at = |wanted: Temperature| way(&Self { wanted, ..*self });
        let cold = at(range.low()).unwrap_or(Span::exact(self.water));
        let warm = if range.high() >= self.tap { Span::exact(Mass::ZERO) } else { at(range.high()).unwrap_or(middle) };
        Some(middle.hull(cold).hull(warm))
    }

    fn spread(&self, taken_up: impl Fn(Sharp) -> f64, most: Mass) -> Option<Span<Mass>> {
        let fall = (self.tap - self.wanted).in_celsius_degrees();
        let mass = |heats: Sharp| {
            let each_gram = taken_up(heats) - heats.ice * self.ice.in_celsius();
            if each_gram <= 0.0 { f64::INFINITY } else { self.water.in_grams() * heats.water * fall / each_gram }
        };
        let value = mass(self.sharp(Span::value));
        let ends = self.corners().map(mass);
        let low = ends.iter().copied().fold(value, f64::min);
        let high = ends.iter().copied().fold(value, f64::max);
        (high.is_finite() && Mass::grams(value) <= most).then(|| Span::new(Mass::grams(low), Mass::grams(value), Mass::grams(high)))
    }

    fn sharp(&self, end: impl Fn(&Span<Factor>) -> Factor) -> Sharp {
        let Heats { melting, water, ice } = &self.heats;
        Sharp { melting: end(melting).value(), water: end(water).value(), ice: end(ice).value() }
    }

    fn corners(&self) -> [Sharp; 4] {
        let (low, high) = (self.sharp(Span::low), self.sharp(Span::high));
        [low, high, Sharp { water: high.water, ..low }, Sharp { water: low.water, ..high }]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::Reference;

    fn icing(water: f64, tap: Temperature, wanted: Temperature, ice: f64) -> Icing {
        let figures = &Reference::load().unwrap_or_else(|fault| panic!("{fault}")).dough;
        Icing { water: Mass::grams(water), tap, wanted, ice: Temperature::celsius(ice), heats: Heats::from(figures) }
    }

    fn grams(mass: Option<Span<Mass>>) -> f64 {
        mass.map_or(f64::NAN, |mass| mass.value().in_grams())
    }

    /// Where the water lands when so much of it is ice.
    fn lands_at(icing: &Icing, ice: Mass) -> Temperature {
        let heats = icing.sharp(Span::value);
        let water = icing.water - ice;
        let warmth =
            water.in_grams() * heats.water * icing.tap.in_celsius() + ice.in_grams() * (heats.ice * icing.ice.in_celsius() - heats.melting);
        Temperature::celsius(warmth / (icing.water.in_grams() * heats.water))
    }

    /// Two cells that lie off the line of their own row: by the rule of 144 BTU they are 0.3846 and 0.4605.
    const MISPRINTED: [(f64, f64); 2] = [(0.0, 70.0), (-30.0, 40.0)];

    /// The bakers' printed table, pounds of ice for each pound of water by calculated water (rows) and tap (columns), °F.
    #[test]
    fn the_printed_ice_table_agrees_within_four_thousandths() {
        let taps = [32.0, 40.0, 50.0, 60.0, 70.0, 80.0];
        let table: [(f64, [f64; 6]); 7] = [
            (60.0, [0.0, 0.0, 0.0, 0.0, 0.054, 0.103]),
            (50.0, [0.0, 0.0, 0.0, 0.057, 0.109, 0.155]),
            (40.0, [0.0, 0.0, 0.061, 0.115, 0.163, 0.206]),
            (30.0, [0.014, 0.065, 0.122, 0.172, 0.217, 0.258]),
            (20.0, [0.083, 0.130, 0.183, 0.230, 0.272, 0.309]),
            (0.0, [0.222, 0.260, 0.305, 0.345, 0.380, 0.416]),
            (-30.0, [0.430, 0.455, 0.494, 0.523, 0.549, 0.573]),
        ];
        let mut compared = 0;
        for (wanted, row) in table {
            for (tap, printed) in taps.into_iter().zip(row).filter(|(_, printed)| *printed > 0.0) {
                let ice = icing(1.0, Temperature::fahrenheit(tap), Temperature::fahrenheit(wanted), 0.0);
                let share = grams(ice.replacing());
                let off = (share - printed).abs();
                let misprinted = MISPRINTED.contains(&(wanted, tap));
                assert_eq!(off > 0.0041, misprinted, "{tap} to {wanted}: {share} and {printed}");
                assert!(off < 0.007 && ((tap - wanted) / (tap + 112.0) - share).abs() < 0.001);
                compared += 1;
            }
        }
        assert_eq!(compared, 33);
    }

    #[test]
    fn forty_kilograms_from_20_to_10_degrees_take_four_of_ice_in_the_water_and_more_on_top() {
        let ice = icing(40.0, Temperature::celsius(20.0), Temperature::celsius(10.0), 0.0);
        assert!((grams(ice.replacing()) - 4.003).abs() < 0.005);
        assert!((grams(ice.added()) - 4.448).abs() < 0.005);
    }

    /// A published page gives 4.4 kg for water that is replaced: that is the figure for ice on top.
    #[test]
    fn a_published_page_that_replaces_with_the_ice_for_adding_lands_a_degree_too_cold() {
        let ice = icing(40.0, Temperature::celsius(20.0), Temperature::celsius(10.0), 0.0);
        assert!((lands_at(&ice, Mass::grams(4.4)).in_celsius() - 9.0).abs() < 0.02);
        let right = ice.replacing().map_or(Mass::ZERO, |ice| ice.value());
        assert!((lands_at(&ice, right).in_celsius() - 10.0).abs() < 1e-9);
    }

    /// A forum page sums 37.944 + 334 + 83.74 as 454.064 and so prints 1383.17 g; its own terms make 455.684 and 1378.26 g.
    #[test]
    fn ice_from_the_freezer_is_colder_and_a_forum_page_adds_it_up_wrongly() {
        let heat = |figure: f64| Span::exact(Factor::times(figure));
        let (tap, wanted) = (Temperature::celsius(25.0), Temperature::celsius(20.0));
        let ice =
            Icing { heats: Heats { melting: heat(334.0), water: heat(4.187), ice: heat(2.108) }, ..icing(30_000.0, tap, wanted, -18.0) };
        let found = grams(ice.added());
        assert!((found - 1378.26).abs() < 0.05 && (found - 1383.17).abs() > 4.0, "{found}");
        // By the heats of the tables the right figure lies within the range.
        let ours = icing(30_000.0, tap, wanted, -18.0).added();
        assert!(ours.is_some_and(|ice| ice.low().in_grams() < 1378.26 && 1378.26 < ice.high().in_grams()));
    }

    #[test]
    fn water_that_may_be_colder_or_warmer_takes_more_ice_or_less() {
        let ice = icing(6500.0, Temperature::celsius(26.0), Temperature::celsius(0.0), 0.0);
        let of = |low: f64, high: f64| {
            let range = Span::new(Temperature::celsius(low), Temperature::celsius(0.0), Temperature::celsius(high));
            ice.across(range, Icing::replacing).map_or([f64::NAN; 2], |ice| [ice.low(), ice.high()].map(|end| end.in_grams().round()))
        };
        let [least, most] = of(-1.56, 13.45);
        assert!((least - 770.0).abs() < 5.0 && (most - 1690.0).abs() < 8.0, "{least} {most}");
        assert_eq!(of(-1.56, 30.0)[0], 0.0, "the tap's own water may do");
    }

    #[test]
    fn there_is_no_ice_for_water_that_would_have_to_be_colder_than_ice() {
        let ice = icing(1.0, Temperature::celsius(20.0), Temperature::celsius(-90.0), 0.0);
        assert!(ice.replacing().is_none() && ice.added().is_none());
    }
}
