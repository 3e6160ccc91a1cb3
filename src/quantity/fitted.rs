//! Texts of masses that add up to the text of their total.

use super::decimals::rounded;
use super::figure::POWERS;
use super::measure::Mass;
use super::shown::{fine, grams_text};
use smol_str::SmolStr;

/// Texts of masses that make a total, and the text of the total: they add up exactly. Fine amounts keep their decimals, the rest is rounded to whole grams; what
/// is then over or short goes to the lines of which a gram is the least share: a gram of flour is nothing, a gram of soda is.
pub fn fitted_texts(masses: impl Iterator<Item = Mass>) -> (Vec<SmolStr>, SmolStr) {
    let (mut coarse, mut whole, mut fine_sum, mut total) = (0.0, 0.0, 0.0, 0.0);
    let mut grams = Vec::with_capacity(masses.size_hint().0);
    let mut shown = Vec::with_capacity(masses.size_hint().0);
    for mass in masses.map(Mass::in_grams) {
        let places = fine(mass);
        let told = rounded(mass, places);
        total += mass;
        if places == 0 {
            coarse += mass;
            whole += told;
        } else {
            fine_sum += told;
        }
        grams.push(mass);
        shown.push(told);
    }
    // The total in whole grams stands elsewhere too: beside fine amounts it must read the same. Half a gram reads as either.
    let same = |whole: &f64| (whole + fine_sum - total.round()).abs() < 0.5 + 1e-6;
    let wanted = [coarse.round(), coarse.floor(), coarse.ceil()].into_iter().find(same);
    share_out(wanted.unwrap_or(coarse.round()) - whole, &grams, &mut shown);
    let hundredths: f64 = shown.iter().map(|grams| (grams * 100.0).round()).sum();
    (shown.into_iter().map(grams_text).collect(), grams_text(hundredths / 100.0))
}

/// What it counts, as a share, to tell a weight otherwise that is whole as it is: more for a round one, for that is how it was written.
fn told_otherwise(grams: f64) -> f64 {
    match grams {
        round if round % 100.0 == 0.0 => 0.03,
        round if round % 10.0 == 0.0 => 0.025,
        _ => 0.02,
    }
}

/// Adds or takes so many whole grams, at most one from each line of whole grams.
fn share_out(off: f64, grams: &[f64], shown: &mut [f64]) {
    let (step, lines) = (off.signum(), off.abs() as usize);
    if lines == 0 {
        return;
    }
    // How much further off a line would be, as a share of itself. A weight that is whole is the last to be told otherwise.
    let share = |at: usize| {
        let (was, will) = ((shown[at] - grams[at]).abs(), (shown[at] + step - grams[at]).abs());
        (will - was) / grams[at] + if was < 1e-6 { told_otherwise(shown[at]) } else { 0.0 }
    };
    let mut shares: Vec<(f64, usize)> = (0..grams.len()).filter(|&at| fine(grams[at]) == 0).map(|at| (share(at), at)).collect();
    shares.sort_unstable_by(|(a, at), (b, other)| a.total_cmp(b).then(at.cmp(other)));
    shares.iter().take(lines).for_each(|(_, at)| shown[*at] += step);
}

/// What rounding may lack, as a share of what there is to be: half of what a bound gives way. And what it may be over.
const LACKING: f64 = 0.01;
const OVER: f64 = 0.05;

/// A mass by which another is changed until there is so much of it: to one decimal more where its usual text would miss that.
pub fn enough_text(mass: Mass, to_be: Mass) -> SmolStr {
    let (grams, to_be) = (mass.in_grams(), to_be.in_grams());
    let places = fine(grams);
    let told = rounded(grams, places);
    let misses = places < 2 && (grams - told > LACKING * to_be || told - grams > OVER * to_be);
    let finer = POWERS[places + usize::from(misses)];
    grams_text(if misses { (grams * finer - 1e-6).ceil() / finer } else { told })
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
    fn a_gram_over_goes_to_the_flour_and_not_to_the_soda() {
        let masses = [843.75, 17.25, 20.25, 431.25, 431.25].map(Mass::grams);
        let (texts, total) = fitted_texts(masses.into_iter());
        assert_eq!((texts.join(", "), total.as_str()), ("844 g, 17 g, 20 g, 432 g, 431 g".to_owned(), "1744 g"));
        let (texts, total) = fitted_texts([900.75, 17.75, 12.75, 20.75].map(Mass::grams).into_iter());
        assert_eq!((texts.join(", "), total.as_str()), ("900 g, 18 g, 13 g, 21 g".to_owned(), "952 g"));
        // Who wrote a kilogram finds a kilogram, while another weight can carry the gram.
        let (texts, total) = fitted_texts([1000.0, 454.0, 30.375, 20.0, 6.2].map(Mass::grams).into_iter());
        assert_eq!((texts.join(", "), total.as_str()), ("1000 g, 454 g, 31 g, 20 g, 6.2 g".to_owned(), "1511.2 g"));
    }

    #[test]
    fn a_kilogram_is_told_as_it_was_written_while_another_weight_can_carry_the_gram() {
        let told = |masses: &[f64]| {
            let (texts, total) = fitted_texts(masses.iter().copied().map(Mass::grams));
            (texts.join(", "), total.to_string())
        };
        // 345 g are not as round as a kilogram.
        let (texts, total) = told(&[1000.0, 345.0, 10.3, 2.3]);
        assert_eq!((&*texts, &*total), ("1000 g, 346 g, 10 g, 2.3 g", "1358.3 g"));
        // 2519.43 g beside "2519.5 g": half a gram reads as either.
        let (texts, total) = told(&[1000.0, 850.0, 250.0, 1.15, 32.99, 2.3, 350.0, 32.99]);
        assert_eq!((&*texts, &*total), ("1000 g, 850 g, 250 g, 1.2 g, 33 g, 2.3 g, 350 g, 33 g", "2519.5 g"));
    }

    #[test]
    fn of_many_formulas_the_texts_add_up_and_a_kilogram_is_one_but_where_only_soda_could_carry_the_gram() {
        let mut seed = 1u64;
        let mut pick = |of: &[f64]| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            of[(seed >> 33) as usize % of.len()]
        };
        let (mut moved, mut all) = (0, 0);
        for _ in 0..20_000 {
            let mut grams = vec![1000.0];
            for _ in 0..pick(&[3.0, 4.0, 5.0, 6.0, 7.0, 8.0]) as usize {
                grams.push(pick(&[
                    25.0, 75.0, 350.0, 625.0, 453.59, 226.8, 345.0, 212.0, 96.0, 18.0, 13.8, 10.3, 9.2, 6.25, 3.45, 2.3, 241.3, 94.6,
                ]));
            }
            let (texts, total) = fitted_texts(grams.iter().copied().map(Mass::grams));
            let number = |text: &str| text.trim_end_matches(" g").parse::<f64>().expect("a number");
            let told: Vec<f64> = texts.iter().map(|text| number(text)).collect();
            assert!((told.iter().sum::<f64>() - number(&total)).abs() < 1e-6, "{texts:?}: {total}");
            assert!((number(&total) - grams.iter().sum::<f64>()).abs() < 1.5, "{grams:?}: {total}");
            (moved, all) = (moved + u32::from(texts[0] != "1000 g"), all + 1);
        }
        // 10.3 g of soda told as 11 would be worse than 1001 g of flour.
        assert!(moved * 150 < all, "{moved} of {all}");
    }

    #[test]
    fn what_changes_a_mass_is_told_so_sharply_that_it_is_enough() {
        let told = |grams, to_be| enough_text(Mass::grams(grams), Mass::grams(to_be));
        assert_eq!([told(11.2, 4.8), told(11.2, 200.0), told(13.43, 8.0)], ["11.2 g", "11 g", "13.5 g"]);
        assert_eq!([told(1.14, 2.0), told(1.14, 40.0), told(12.6, 1.4), told(0.346, 0.1)], ["1.14 g", "1.1 g", "12.6 g", "0.35 g"]);
    }

    #[test]
    fn the_texts_of_a_total_add_up() {
        let masses = [33.4, 33.4, 33.2, 0.46, 2.22].map(Mass::grams);
        let (texts, total) = fitted_texts(masses.into_iter());
        assert_eq!(texts, ["34 g", "33 g", "33 g", "0.46 g", "2.2 g"]);
        assert_eq!(total, "102.66 g");
    }
}
