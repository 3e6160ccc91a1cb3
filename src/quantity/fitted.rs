//! Texts of masses that add up to the text of their total.

use super::measure::Mass;
use super::shown::{fine, grams_text, rounded};
use smol_str::SmolStr;

/// Texts of masses that make a total, and the text of the total: they add up exactly. Fine amounts keep their decimals; the whole grams are shared out by largest remainder.
pub fn fitted_texts(masses: impl Iterator<Item = Mass>) -> (Vec<SmolStr>, SmolStr) {
    let (mut coarse, mut fine_sum, mut total) = (0.0, 0.0, 0.0);
    let mut remainders = Vec::with_capacity(masses.size_hint().0);
    let mut shown = Vec::with_capacity(masses.size_hint().0);
    for (at, grams) in masses.map(Mass::in_grams).enumerate() {
        let places = fine(grams);
        total += grams;
        if places == 0 {
            coarse += grams;
            remainders.push((grams.fract(), at));
            shown.push(grams.floor());
        } else {
            fine_sum += rounded(grams, places);
            shown.push(rounded(grams, places));
        }
    }
    let whole: f64 = remainders.iter().map(|(_, at)| shown[*at]).sum();
    // The total in whole grams stands elsewhere too: beside fine amounts it must read the same.
    let whole_coarse =
        [coarse.round(), coarse.floor(), coarse.ceil()].into_iter().find(|whole| (whole + fine_sum).round() == total.round());
    let short = (whole_coarse.unwrap_or(coarse.round()) - whole).max(0.0) as usize;
    remainders.sort_unstable_by(|(a, at), (b, other)| b.total_cmp(a).then(at.cmp(other)));
    remainders.iter().take(short).for_each(|(_, at)| shown[*at] += 1.0);
    let hundredths: f64 = shown.iter().map(|grams| (grams * 100.0).round()).sum();
    (shown.into_iter().map(grams_text).collect(), grams_text(hundredths / 100.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_total_beside_fine_amounts_reads_as_it_does_alone() {
        // 600 g, 464.4 g and 1.14 g are 1065.54 g, which is 1066 g.
        let (texts, total) = fitted_texts([600.0, 464.4, 1.14].map(Mass::grams).into_iter());
        assert_eq!((texts.join(", "), total.as_str()), ("600 g, 465 g, 1.1 g".to_owned(), "1066.1 g"));
        let (texts, total) = fitted_texts([387.0, 62.5, 0.95].map(Mass::grams).into_iter());
        assert_eq!((texts.join(", "), total.as_str()), ("387 g, 62 g, 0.95 g".to_owned(), "449.95 g"));
    }

    #[test]
    fn the_texts_of_a_total_add_up() {
        let masses = [33.4, 33.4, 33.2, 0.46, 2.22].map(Mass::grams);
        let (texts, total) = fitted_texts(masses.into_iter());
        assert_eq!(texts, ["34 g", "33 g", "33 g", "0.46 g", "2.2 g"]);
        assert_eq!(total, "102.66 g");
    }
}
