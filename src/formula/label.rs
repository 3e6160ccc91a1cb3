//! What a nutrition label declares: the nutrients and the rounding of each, after 21 CFR 101.9(c). A figure is computed unrounded and rounded once, here; ties go up (the rule is silent on them).

use serde::Serialize;
use utoipa::ToSchema;

use crate::quantity::{Factor, Figure};

/// A nutrient of the label.
/// - `energy`: energy, in kcal.
/// - `fat`: total fat, in g.
/// - `saturated`: saturated fat, in g.
/// - `cholesterol`: cholesterol, in mg.
/// - `sodium`: sodium, in mg.
/// - `carbohydrate`: total carbohydrate, in g.
/// - `fibre`: dietary fibre, in g.
/// - `sugars`: total sugars, in g.
/// - `protein`: protein, in g.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Nutrient {
    Energy,
    Fat,
    Saturated,
    Cholesterol,
    Sodium,
    Carbohydrate,
    Fibre,
    Sugars,
    Protein,
}

/// What stands on the label for an amount of a nutrient.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Declared {
    /// The rounded figure; 0 for what may be neglected, the bound for "less than".
    #[schema(examples(4.5))]
    pub value: Figure,
    /// Its unit: kJ, kcal, g or mg.
    #[schema(max_length = 10, examples("g"))]
    pub unit: &'static str,
    /// As it is declared.
    #[schema(max_length = 60, examples("4.5 g"))]
    pub text: String,
}

/// How a band of amounts is declared.
enum Step {
    /// As nothing.
    Nothing,
    /// To the nearest multiple of this.
    Nearest(f64),
    /// As "less than" this.
    LessThan(f64),
}

impl Nutrient {
    pub const ALL: [Self; 9] = [
        Self::Energy,
        Self::Fat,
        Self::Saturated,
        Self::Cholesterol,
        Self::Sodium,
        Self::Carbohydrate,
        Self::Fibre,
        Self::Sugars,
        Self::Protein,
    ];

    /// For people.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Energy => "Energy",
            Self::Fat => "Fat",
            Self::Saturated => "of which saturated",
            Self::Cholesterol => "Cholesterol",
            Self::Sodium => "Sodium",
            Self::Carbohydrate => "Carbohydrate",
            Self::Fibre => "Fibre",
            Self::Sugars => "of which sugars",
            Self::Protein => "Protein",
        }
    }

    pub const fn unit(self) -> &'static str {
        match self {
            Self::Energy => "kcal",
            Self::Cholesterol | Self::Sodium => "mg",
            _ => "g",
        }
    }

    /// The amount, in the nutrient's unit, as the label declares it.
    pub fn declared(self, amount: Factor) -> Declared {
        // Twelve digits: the noise of arithmetic does not turn a tie down.
        let amount = Figure(amount.value()).rounded();
        let unit = self.unit();
        let (value, text) = match self.step(amount) {
            Step::Nothing => (0.0, format!("0 {unit}")),
            Step::LessThan(bound) => (bound, format!("less than {bound} {unit}")),
            Step::Nearest(step) => {
                let rounded = (amount / step + 0.5).floor() * step;
                (rounded, format!("{rounded} {unit}"))
            }
        };
        Declared { value: Figure(value), unit, text }
    }

    /// 21 CFR 101.9(c)(1) to (7), paragraph by paragraph.
    fn step(self, amount: f64) -> Step {
        match self {
            Self::Energy if amount < 5.0 => Step::Nothing,
            Self::Energy => Step::Nearest(if amount <= 50.0 { 5.0 } else { 10.0 }),
            Self::Fat | Self::Saturated if amount < 0.5 => Step::Nothing,
            Self::Fat | Self::Saturated => Step::Nearest(if amount < 5.0 { 0.5 } else { 1.0 }),
            Self::Cholesterol if amount < 2.0 => Step::Nothing,
            Self::Cholesterol if amount <= 5.0 => Step::LessThan(5.0),
            Self::Cholesterol => Step::Nearest(5.0),
            Self::Sodium if amount < 5.0 => Step::Nothing,
            Self::Sodium => Step::Nearest(if amount <= 140.0 { 5.0 } else { 10.0 }),
            Self::Carbohydrate | Self::Fibre | Self::Sugars | Self::Protein if amount < 0.5 => Step::Nothing,
            Self::Carbohydrate | Self::Fibre | Self::Sugars | Self::Protein if amount < 1.0 => Step::LessThan(1.0),
            Self::Carbohydrate | Self::Fibre | Self::Sugars | Self::Protein => Step::Nearest(1.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn declares(nutrient: Nutrient, amounts: &[(f64, &str)]) {
        for (amount, text) in amounts {
            assert_eq!(nutrient.declared(Factor::times(*amount)).text, *text, "{amount} of {nutrient:?}");
        }
    }

    /// A Food Labeling Guide, Appendix H, with the bounds of each band.
    #[test]
    fn energy_goes_by_fives_to_fifty_and_by_tens_above() {
        declares(
            Nutrient::Energy,
            &[
                (4.9, "0 kcal"),
                (5.0, "5 kcal"),
                (47.0, "45 kcal"),
                (47.5, "50 kcal"),
                (50.0, "50 kcal"),
                (52.0, "50 kcal"),
                (127.0, "130 kcal"),
            ],
        );
    }

    #[test]
    fn fat_goes_by_halves_to_five_and_whole_above() {
        let fat =
            [(0.49, "0 g"), (0.5, "0.5 g"), (1.3, "1.5 g"), (4.74, "4.5 g"), (4.75, "5 g"), (5.4, "5 g"), (5.5, "6 g"), (12.6, "13 g")];
        declares(Nutrient::Fat, &fat);
        declares(Nutrient::Saturated, &fat);
    }

    #[test]
    fn a_little_cholesterol_is_less_than_five() {
        declares(
            Nutrient::Cholesterol,
            &[(1.9, "0 mg"), (2.0, "less than 5 mg"), (3.0, "less than 5 mg"), (5.0, "less than 5 mg"), (5.1, "5 mg"), (33.0, "35 mg")],
        );
    }

    #[test]
    fn sodium_goes_by_fives_to_a_hundred_and_forty() {
        declares(
            Nutrient::Sodium,
            &[(4.9, "0 mg"), (5.0, "5 mg"), (58.0, "60 mg"), (140.0, "140 mg"), (143.0, "140 mg"), (145.0, "150 mg")],
        );
    }

    #[test]
    fn carbohydrate_and_protein_below_a_gram_are_less_than_one() {
        for nutrient in [Nutrient::Carbohydrate, Nutrient::Fibre, Nutrient::Sugars, Nutrient::Protein] {
            declares(nutrient, &[(0.49, "0 g"), (0.5, "less than 1 g"), (0.7, "less than 1 g"), (1.0, "1 g"), (1.4, "1 g"), (1.5, "2 g")]);
        }
    }

    #[test]
    fn the_noise_of_arithmetic_does_not_turn_a_tie() {
        assert_eq!(Nutrient::Protein.declared(Factor::times(1.1 + 2.2 + 0.199_999_999_999_999_6)).text, "4 g");
    }
}
