//! The quantities of the kitchen as types: a mass never meets a volume but through a density, and a difference of temperature is not a temperature.

use std::ops::{Add, AddAssign, Div, Mul, Sub};

use super::percent::Percent;
use super::span::Quantifiable;

/// Makes one quantity: a thin type over a number in one unit, with the arithmetic that every quantity has.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $make:ident, $get:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            pub const ZERO: Self = Self(0.0);

            pub const fn $make(value: f64) -> Self {
                Self(value)
            }

            pub const fn $get(self) -> f64 {
                self.0
            }
        }

        impl Quantifiable for $name {
            fn raw(self) -> f64 {
                self.0
            }

            fn of_raw(raw: f64) -> Self {
                Self(raw)
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Mul<Factor> for $name {
            type Output = Self;
            fn mul(self, factor: Factor) -> Self {
                Self(self.0 * factor.0)
            }
        }

        impl Div<Factor> for $name {
            type Output = Self;
            fn div(self, factor: Factor) -> Self {
                Self(self.0 / factor.0)
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
                all.fold(Self::ZERO, Add::add)
            }
        }
    };
}

/// Two of a kind divided give a bare factor.
macro_rules! proportion {
    ($($name:ident),*) => {$(
        impl Div<$name> for $name {
            type Output = Factor;
            fn div(self, other: $name) -> Factor {
                Factor(self.0 / other.0)
            }
        }
    )*};
}

/// `A * B = C`, hence `C / B = A`.
macro_rules! product {
    ($a:ident * $b:ident = $c:ident) => {
        impl Mul<$b> for $a {
            type Output = $c;
            fn mul(self, other: $b) -> $c {
                $c(self.0 * other.0)
            }
        }

        impl Div<$b> for $c {
            type Output = $a;
            fn div(self, other: $b) -> $a {
                $a(self.0 / other.0)
            }
        }
    };
}

quantity!(
    /// A mass, in grams.
    Mass, grams, in_grams
);
quantity!(
    /// A volume, in millilitres.
    Volume, millilitres, in_millilitres
);
quantity!(
    /// A length, in centimetres.
    Length, centimetres, in_centimetres
);
quantity!(
    /// An area, in square centimetres.
    Area, square_centimetres, in_square_centimetres
);
quantity!(
    /// A density, in grams for each millilitre.
    Density, grams_per_millilitre, in_grams_per_millilitre
);
quantity!(
    /// A difference of temperature, in Celsius degrees: it takes no offset.
    TemperatureChange, celsius_degrees, in_celsius_degrees
);
quantity!(
    /// A length of time, in minutes.
    Minutes, minutes, in_minutes
);

/// A bare factor: how many times.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Factor(f64);

impl Factor {
    pub const ZERO: Self = Self(0.0);
    pub const ONE: Self = Self(1.0);

    pub const fn times(value: f64) -> Self {
        Self(value)
    }

    pub const fn value(self) -> f64 {
        self.0
    }

    pub const fn as_percent(self) -> Percent {
        Percent::of_hundred(self.0 * 100.0)
    }

    /// So many whole things, rounded up; what is beyond by less than this share of one makes no further one.
    pub fn rounded_up_but(self, crumb: Self) -> u64 {
        let beyond = self.0 - self.0.floor();
        if self.0 >= 1.0 && beyond < crumb.0 { self.0.floor().min(1e15) as u64 } else { self.rounded_up() }
    }

    /// So many whole things, rounded up; the noise of arithmetic makes no further one.
    pub fn rounded_up(self) -> u64 {
        ((self.0 * 1e9).round() / 1e9).ceil().clamp(0.0, 1e15) as u64
    }
}

impl Quantifiable for Factor {
    fn raw(self) -> f64 {
        self.0
    }

    fn of_raw(raw: f64) -> Self {
        Self(raw)
    }
}

impl Add for Factor {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Mul for Factor {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self(self.0 * other.0)
    }
}

impl Div for Factor {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        Self(self.0 / other.0)
    }
}

proportion!(Mass, Volume, Length, Area, Density, Minutes, TemperatureChange);
product!(Density * Volume = Mass);
product!(Area * Length = Volume);

impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Self) -> Area {
        Area(self.0 * other.0)
    }
}

impl Div<Length> for Area {
    type Output = Length;
    fn div(self, other: Length) -> Length {
        Length(self.0 / other.0)
    }
}

impl Div<Density> for Mass {
    type Output = Volume;
    fn div(self, density: Density) -> Volume {
        Volume(self.0 / density.0)
    }
}

impl Div<Area> for Volume {
    type Output = Length;
    fn div(self, area: Area) -> Length {
        Length(self.0 / area.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mass_divided_by_a_density_is_a_volume() {
        let volume = Mass::grams(100.0) / Density::grams_per_millilitre(0.5);
        assert_eq!(volume.in_millilitres(), 200.0);
    }

    #[test]
    fn three_lengths_multiplied_are_a_volume() {
        let side = Length::centimetres(2.0);
        assert_eq!((side * side * side).in_millilitres(), 8.0);
    }
}
