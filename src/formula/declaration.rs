//! The nutrition declaration of the EU and the United Kingdom, for 100 g of the goods as sold. Water evaporates, nutrients do not: what is weighed in is all there, in less. Computed unrounded and rounded once.

use super::as_sold::AsSold;
use super::label::Declared;
use super::nutrition::is_described;
use super::resolved::Formula;
use super::total::Total;
use crate::quantity::{Factor, Figure, Mass, Percent, Span, short};
use crate::reference::{Account, Composition, Constituent, DeclarationRules, DeclaredNutrient, Energy, Ingredient, Reference};

/// Salt is 2.5 times sodium, by Annex I of Regulation (EU) No 1169/2011.
pub(super) const SALT_OF_SODIUM: f64 = 2.5;

/// One figure of the declaration, in its unit.
#[derive(Clone, Debug)]
pub struct DeclaredSum {
    pub nutrient: DeclaredNutrient,
    /// In the whole formula.
    pub whole: Span<Factor>,
    /// In a gram as sold.
    pub in_a_gram: Span<Factor>,
    /// The share of the weight that comes from ingredients without a figure.
    pub missing: Percent,
    /// Those ingredients, by their names.
    pub without: Vec<String>,
}

/// Every figure of the declaration.
pub fn declaration(formula: &Formula, sold: &AsSold, reference: &'static Reference, account: &mut Account) -> Vec<DeclaredSum> {
    let rules = &reference.declaration;
    account.cite(rules.carbohydrate.citation);
    account.cite(rules.rounding(DeclaredNutrient::Salt).citation);
    let mass = formula.mass();
    let sum = |nutrient: DeclaredNutrient| {
        let (mut total, mut unknown, mut without) = (Total::default(), Mass::ZERO, Vec::<String>::new());
        for line in formula.lines() {
            match in_a_gram(&line.ingredient, nutrient, rules) {
                Some(share) => total.add(&line.weight, line.doubt, share),
                None => {
                    unknown += line.weight.mass.value();
                    if !without.iter().any(|name| *name == *line.ingredient.name) {
                        without.push(line.ingredient.name.to_string());
                    }
                }
            }
        }
        // The figures of a total are in the unit of the share: kJ, kcal or g.
        let whole = total.mass().map(|mass| Factor::times(mass.in_grams()));
        DeclaredSum { nutrient, whole, in_a_gram: sold.in_a_gram(&total), missing: (unknown / mass).as_percent(), without }
    };
    let sums: Vec<DeclaredSum> = DeclaredNutrient::ALL.map(sum).into();
    account.step(|| working(&sums, rules));
    sums
}

/// The energy, to be redone with a pencil: the figures of 100 g by their factors.
fn working(sums: &[DeclaredSum], rules: &DeclarationRules) -> String {
    let in_100g = |nutrient| {
        let found = sums.iter().find(|sum| sum.nutrient == nutrient);
        found.map_or(Factor::ZERO, |sum| sum.in_a_gram.value() * Factor::times(100.0)).value()
    };
    let factors = [
        (DeclaredNutrient::Carbohydrate, rules.carbohydrate.figure),
        (DeclaredNutrient::Fibre, rules.fibre.figure),
        (DeclaredNutrient::Protein, rules.protein.figure),
        (DeclaredNutrient::Fat, rules.fat.figure),
    ];
    let term = |(nutrient, energy): (DeclaredNutrient, Energy)| {
        format!("{} × {} g {}", energy.kilojoules.value(), short(in_100g(nutrient)), nutrient.word())
    };
    let terms = factors.map(term).join(" + ");
    let energy = in_100g(DeclaredNutrient::EnergyKj);
    let rest = energy - factors.iter().map(|(nutrient, energy)| in_100g(*nutrient) * energy.kilojoules.value()).sum::<f64>();
    let sign = if rest < 0.0 { "-" } else { "+" };
    let rest =
        if rest.abs() < 0.05 { String::new() } else { format!(" {sign} {} for alcohol, sugar alcohols and acids", short(rest.abs())) };
    format!("Energy in 100 g as sold: {terms}{rest} = {} kJ", short(energy))
}

/// How much, in the unit of the figure, is in a gram; nothing where there is no figure.
fn in_a_gram(ingredient: &Ingredient, nutrient: DeclaredNutrient, rules: &DeclarationRules) -> Option<Factor> {
    let composition = ingredient.composition.as_ref().filter(|_| is_described(ingredient))?;
    let grams = |constituent| composition.percent(constituent).map(Percent::as_factor);
    match nutrient {
        DeclaredNutrient::EnergyKj => Some(energy(composition, &ingredient.id, rules, |energy| energy.kilojoules)),
        DeclaredNutrient::EnergyKcal => Some(energy(composition, &ingredient.id, rules, |energy| energy.kilocalories)),
        DeclaredNutrient::Fat => grams(Constituent::Fat),
        DeclaredNutrient::Saturates => grams(Constituent::Saturated),
        DeclaredNutrient::Carbohydrate if !rules.carbohydrate_of(&ingredient.id).1 => Some(Factor::ZERO),
        DeclaredNutrient::Carbohydrate => grams(Constituent::Carbohydrate).map(|_| available(composition)),
        DeclaredNutrient::Sugars => grams(Constituent::Sugars),
        DeclaredNutrient::Fibre => grams(Constituent::Fibre),
        DeclaredNutrient::Protein => grams(Constituent::Protein),
        DeclaredNutrient::Salt => composition.label.sodium.map(|sodium| Factor::times(sodium.as_factor().value() * SALT_OF_SODIUM)),
    }
}

/// The tables have carbohydrate by difference, with its fibre; the EU declares it without.
fn available(composition: &Composition) -> Factor {
    let share = |constituent| composition.share(constituent).value();
    Factor::times((share(Constituent::Carbohydrate) - share(Constituent::Fibre)).max(0.0))
}

fn energy(composition: &Composition, id: &str, rules: &DeclarationRules, of: fn(Energy) -> Factor) -> Factor {
    let share = |constituent| composition.share(constituent);
    let parts = [
        (available(composition), rules.carbohydrate_of(id).0),
        (share(Constituent::Fibre), rules.fibre.figure),
        (share(Constituent::Protein), rules.protein.figure),
        (share(Constituent::Fat), rules.fat.figure),
        (share(Constituent::Alcohol), rules.alcohol.figure),
    ];
    Factor::times(parts.iter().map(|(share, energy)| share.value() * of(*energy).value()).sum())
}

/// An amount, in its unit, as it is declared; ties go up.
pub fn declared_amount(nutrient: DeclaredNutrient, amount: Factor, rules: &DeclarationRules) -> Declared {
    let (rule, unit) = (rules.rounding(nutrient), nutrient.unit());
    // Twelve digits: the noise of arithmetic does not turn a tie down.
    let clean = |number: f64| Figure(number).rounded();
    let amount = clean(amount.value());
    if rule.negligible.is_some_and(|most| amount <= most.value()) {
        let bound = rule.less_than.value();
        return match amount > 0.0 {
            true => Declared { value: Figure(bound), unit, text: format!("<{bound} {unit}") },
            false => Declared { value: Figure(0.0), unit, text: format!("0 {unit}") },
        };
    }
    let to = |step: f64| clean((clean(amount / step) + 0.5).floor() * step);
    let fine = to(rule.step.value());
    let coarse = rule.coarse.filter(|(from, _)| fine >= from.value());
    let (value, step) = coarse.map_or((fine, rule.step.value()), |(_, step)| (to(step.value()), step.value()));
    let places = if step >= 1.0 {
        0
    } else if step >= 0.1 {
        1
    } else {
        2
    };
    Declared { value: Figure(value), unit, text: format!("{value:.places$} {unit}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::{SoldBy, as_sold};
    use crate::quantity::{Faults, Pointer};

    fn rules() -> &'static Reference {
        Reference::load().unwrap_or_else(|fault| panic!("{fault}"))
    }

    #[track_caller]
    fn declares(text: &str) -> (AsSold, Vec<DeclaredSum>) {
        let written: crate::formula::FormulaWritten = serde_json::from_str(text).unwrap_or_else(|fault| panic!("{text}: {fault}"));
        let (mut account, mut faults) = (Account::new(rules(), false), Faults::new());
        let formula = Formula::resolve(&written, &Pointer::ROOT, rules(), &mut account, &mut faults);
        let formula = formula.unwrap_or_else(|| panic!("{faults:#?}"));
        let sold = as_sold(&formula, written.makes.as_ref(), 1, &Pointer::ROOT, rules(), &mut account);
        let sold = sold.unwrap_or_else(|faults| panic!("{faults:#?}"));
        let sums = declaration(&formula, &sold, rules(), &mut account);
        (sold, sums)
    }

    fn texts(sums: &[DeclaredSum]) -> Vec<String> {
        let per_100g = |sum: &DeclaredSum| sum.in_a_gram.value() * Factor::times(100.0);
        sums.iter().map(|sum| declared_amount(sum.nutrient, per_100g(sum), &rules().declaration).text).collect()
    }

    #[track_caller]
    fn in_100g(sums: &[DeclaredSum], nutrient: DeclaredNutrient) -> f64 {
        sums.iter().find(|sum| sum.nutrient == nutrient).map_or(f64::NAN, |sum| (sum.in_a_gram.value().value() * 1e8).round() / 1e6)
    }

    const SHORT: &str = r#"{"ingredient":"all-purpose flour","amount":"200 g"},{"ingredient":"unsalted butter","amount":"100 g"},{"ingredient":"table salt","amount":"2 g"}"#;

    /// SR28: flour 10.33 g protein, 0.98 fat, 76.31 carbohydrate with 2.7 fibre, 2 mg sodium; butter 0.85, 81.11, 0.06 and 11 mg; salt 38,758 mg.
    /// Without fibre 147.28 g, fibre 5.4, protein 21.51, fat 83.07: 2503.76 + 43.2 + 365.67 + 3073.59 = 5986.22 kJ, 1433.59 kcal in 280 g.
    #[test]
    fn a_dough_that_weighs_280_g_when_done_is_declared_as_reckoned_by_hand() {
        let (sold, sums) = declares(&format!(r#"{{"parts":[{{"name":"dough","lines":[{SHORT}]}}],"makes":{{"weight":"280 g"}}}}"#));
        assert_eq!(sold.by, SoldBy::Stated);
        assert_eq!(texts(&sums), ["2138 kJ", "512 kcal", "30 g", "18 g", "53 g", "<0.5 g", "1.9 g", "7.7 g", "0.71 g"]);
        assert!(sums.iter().all(|sum| sum.in_a_gram.is_exact() && sum.missing.value() == 0.0), "{sums:#?}");
    }

    /// Shortbread loses 9 % of 302 g (6 to 12 %): 274.82 g.
    #[test]
    fn what_is_assumed_to_bake_out_leaves_its_range_on_every_figure() {
        let (sold, sums) = declares(&format!(r#"{{"style":"shortbread","parts":[{{"name":"dough","lines":[{SHORT}]}}]}}"#));
        assert_eq!(sold.by, SoldBy::Losses);
        let fat = sums.iter().find(|sum| sum.nutrient == DeclaredNutrient::Fat).map(|sum| sum.in_a_gram);
        let ends = fat.map(|fat| [fat.low(), fat.value(), fat.high()].map(Factor::value));
        let of = |kept: f64| 83.07 / (302.0 * kept);
        assert!(ends.is_some_and(|ends| ends.iter().zip([of(0.94), of(0.91), of(0.88)]).all(|(a, b)| (a - b).abs() < 1e-12)), "{ends:?}");
    }

    #[test]
    fn what_is_in_100_g_times_the_weight_is_what_was_weighed_in() {
        for makes in ["", r#","makes":{"weight":"250 g"}"#, r#","style":"shortbread""#] {
            let (sold, sums) = declares(&format!(r#"{{"parts":[{{"name":"dough","lines":[{SHORT}]}}]{makes}}}"#));
            for sum in sums {
                let back = sum.in_a_gram.value().value() * sold.mass().value().in_grams();
                assert!((back - sum.whole.value().value()).abs() < 1e-9 * back.max(1.0), "{makes} {sum:?}");
            }
        }
    }

    #[test]
    fn the_declaration_does_not_change_with_the_batch() {
        let (one, many) = (SHORT, SHORT.replace("200 g", "5 kg").replace("100 g", "2.5 kg").replace("\"2 g", "\"50 g"));
        let of = |lines: &str| texts(&declares(&format!(r#"{{"style":"shortbread","parts":[{{"name":"dough","lines":[{lines}]}}]}}"#)).1);
        assert_eq!(of(one), of(&many));
    }

    /// A cup is in doubt, but of flour alone a gram holds what a gram of flour holds.
    #[test]
    fn what_is_in_doubt_moves_above_and_below_together() {
        let (_, sums) = declares(r#"{"parts":[{"name":"dough","lines":[{"ingredient":"all-purpose flour","amount":"2 cups"}]}]}"#);
        assert!(sums.iter().all(|sum| sum.in_a_gram.is_exact()), "{sums:#?}");
    }

    /// 100 g each: isomalt 97 g at 10 kJ, erythritol nothing, citric acid 91.4 g at 13 kJ and no carbohydrate.
    #[test]
    fn sugar_alcohols_and_acids_have_their_own_energy() {
        let (_, sums) = declares(
            r#"{"parts":[{"name":"mix","lines":[{"ingredient":"isomalt","amount":"100 g"},{"ingredient":"erythritol","amount":"100 g"},{"ingredient":"citric acid","amount":"100 g"},{"ingredient":"water","amount":"100 g"}]}]}"#,
        );
        assert_eq!(in_100g(&sums, DeclaredNutrient::EnergyKj), (970.0 + 1188.2) / 4.0);
        assert_eq!(in_100g(&sums, DeclaredNutrient::EnergyKcal), (232.8 + 274.2) / 4.0);
        assert_eq!(in_100g(&sums, DeclaredNutrient::Carbohydrate), (97.0 + 99.7) / 4.0);
    }

    #[test]
    fn the_working_of_the_energy_is_redone_with_a_pencil() {
        let (_, sums) = declares(&format!(r#"{{"parts":[{{"name":"dough","lines":[{SHORT}]}}],"makes":{{"weight":"280 g"}}}}"#));
        assert_eq!(
            working(&sums, &rules().declaration),
            "Energy in 100 g as sold: 17 × 52.6 g carbohydrate + 8 × 1.92857 g fibre + 17 × 7.68214 g protein + 37 × 29.6679 g fat = 2137.94 kJ"
        );
        let (_, sums) = declares(r#"{"parts":[{"name":"mix","lines":[{"ingredient":"erythritol","amount":"100 g"}]}]}"#);
        assert!(working(&sums, &rules().declaration).ends_with(" - 1694.9 for alcohol, sugar alcohols and acids = 0 kJ"));
    }

    #[test]
    fn what_nobody_described_is_told_and_not_counted() {
        let (_, sums) = declares(
            r#"{"ingredients":[{"name":"house mix"}],"parts":[{"name":"dough","lines":[{"ingredient":"house mix","amount":"50 g"},{"ingredient":"water","amount":"150 g"}]}]}"#,
        );
        assert!(sums.iter().all(|sum| sum.missing.value() == 25.0 && sum.without == ["house mix"]), "{sums:#?}");
    }

    #[test]
    fn the_salt_of_a_bought_mix_is_what_its_pack_gives() {
        let own = r#"{"name":"house mix","per_100g":{"carbohydrate":60,"protein":10,"water":10,"salt":1.2}}"#;
        let lines = r#"{"ingredient":"house mix","amount":"500 g"},{"ingredient":"water","amount":"500 g"}"#;
        let (_, sums) = declares(&format!(r#"{{"ingredients":[{own}],"parts":[{{"name":"dough","lines":[{lines}]}}]}}"#));
        // Tap water of the table holds 4 mg of sodium in 100 g.
        assert!((in_100g(&sums, DeclaredNutrient::Salt) - (0.6 + 0.005)).abs() < 0.001);
        assert!(sums.iter().all(|sum| sum.missing.value() == 0.0), "{sums:#?}");
    }

    #[track_caller]
    fn rounds(nutrient: DeclaredNutrient, amounts: &[(f64, &str)]) {
        for (amount, text) in amounts {
            assert_eq!(declared_amount(nutrient, Factor::times(*amount), &rules().declaration).text, *text, "{amount} of {nutrient:?}");
        }
    }

    #[test]
    fn figures_are_rounded_by_the_bands_of_the_guidance() {
        rounds(DeclaredNutrient::EnergyKj, &[(0.0, "0 kJ"), (0.4, "0 kJ"), (1985.5, "1986 kJ")]);
        rounds(
            DeclaredNutrient::Fat,
            &[
                (0.0, "0 g"),
                (0.5, "<0.5 g"),
                (0.51, "0.5 g"),
                (2.05, "2.1 g"),
                (9.94, "9.9 g"),
                (9.95, "10 g"),
                (10.4, "10 g"),
                (10.5, "11 g"),
            ],
        );
        rounds(DeclaredNutrient::Saturates, &[(0.1, "<0.1 g"), (0.2, "0.2 g"), (12.4, "12 g")]);
        rounds(
            DeclaredNutrient::Salt,
            &[
                (0.0, "0 g"),
                (0.0125, "<0.01 g"),
                (0.0126, "0.01 g"),
                (0.705, "0.71 g"),
                (0.994, "0.99 g"),
                (0.995, "1.0 g"),
                (1.25, "1.3 g"),
            ],
        );
    }
}
