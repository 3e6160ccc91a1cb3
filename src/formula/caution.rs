//! Which cautions a formula calls for: by its styles, by what stays raw, by how much has to cool.

use super::ledger::is_baked;
use super::resolved::{Formula, Mixture};
use crate::quantity::{Factor, Mass};
use crate::reference::{Account, Class, EggPart};

/// From here on a single mass cools slowly enough to mind: common practice, no source.
const LARGE: Mass = Mass::grams(4000.0);

/// From this share of sugar on a mixture with a liquid and without flour may well be a syrup or a caramel: common practice, no source.
const BOILED: f64 = 1.0 / 3.0;

/// Notes the cautions of a formula of which so much is made at once.
pub fn caution(formula: &Formula, made: Mass, account: &mut Account) {
    for mixture in formula.mixtures() {
        // Without a style, and where nothing is said of an oven, nobody knows whether it is ever baked: then it is not taken to be.
        let known = mixture.style().is_some() || formula.bakes;
        let baked = known && is_baked(formula, mixture.root);
        for (_, _, line) in mixture.lines() {
            for hazard in &line.ingredient.hazards {
                // What is baked through is no longer raw; honey and the like keep their caution.
                let raw = matches!(*hazard, "raw-egg" | "raw-flour");
                if !baked || !raw {
                    account.caution(hazard);
                }
            }
            if !baked && line.ingredient.egg_part().is_some_and(|part| part != EggPart::Yolk || mixture.style().is_none()) {
                account.caution("raw-egg");
            }
        }
        if !known {
            by_its_lines(&mixture, account);
        }
        let has_egg = mixture.lines().any(|(_, _, line)| line.ingredient.counts_as(Class::Egg) > Factor::times(0.0));
        let Some(style) = mixture.style() else { continue };
        for id in &style.cautions {
            match *id {
                "cooling-large-batch" if made < LARGE => {}
                // Tasting the raw mixture is the risk of what is baked; it is told once, for flour.
                "raw-egg" if baked || !has_egg => {}
                "allergen" => {}
                other => account.caution(other),
            }
        }
    }
}

/// What a mixture without a style looks like by what is in it: a custard, or sugar that is boiled. With flour it is neither.
fn by_its_lines(mixture: &Mixture<'_>, account: &mut Account) {
    let classes = mixture.by_class();
    if !classes[Class::Flour].is_nothing() || classes[Class::Liquid].is_nothing() {
        return;
    }
    let (mut whole, mut sugar, mut thickens) = (Mass::ZERO, Mass::ZERO, false);
    mixture.lines().for_each(|(_, _, line)| {
        let mass = line.weight.mass.value();
        whole += mass;
        // Icing sugar is stirred in cold.
        if line.ingredient.id != "powdered-sugar" {
            sugar += mass * line.ingredient.counts_as(Class::Sugar);
        }
        thickens |= line.ingredient.egg_part().is_some_and(|part| part != EggPart::White);
    });
    if thickens {
        account.caution("custard-hold");
    }
    if sugar >= whole * Factor::times(BOILED) {
        account.caution("boiled-sugar");
    }
}

#[cfg(test)]
mod tests {
    use super::super::balance::trial;
    use super::*;
    use crate::reference::Reference;

    /// The cautions of a formula that names no style and no oven.
    fn cautions(lines: &[(&str, &str)]) -> Vec<&'static str> {
        let reference = Reference::load().expect("the tables");
        let mut account = Account::new(reference, false);
        caution(&trial::formula(lines), Mass::grams(500.0), &mut account);
        account.settle(String::new()).cautions.iter().map(|caution| caution.id).collect()
    }

    #[test]
    fn what_may_never_see_an_oven_keeps_the_cautions_of_what_is_raw() {
        assert!(cautions(&[("dark chocolate", "200 g"), ("egg", "4 large"), ("granulated sugar", "40 g")]).contains(&"raw-egg"));
        assert!(cautions(&[("powdered sugar", "300 g"), ("egg white", "60 g")]).contains(&"raw-egg"));
    }

    #[test]
    fn a_custard_and_a_caramel_are_known_by_their_lines() {
        let custard = cautions(&[("whole milk", "500 g"), ("egg yolk", "100 g"), ("granulated sugar", "100 g")]);
        assert!(custard.contains(&"custard-hold") && !custard.contains(&"boiled-sugar"), "{custard:?}");
        let caramel = cautions(&[("granulated sugar", "300 g"), ("water", "80 g"), ("heavy cream", "200 g"), ("butter", "60 g")]);
        assert!(caramel.contains(&"boiled-sugar"), "{caramel:?}");
        let icing = cautions(&[("powdered sugar", "250 g"), ("lemon juice", "40 g")]);
        assert!(!icing.contains(&"boiled-sugar"), "{icing:?}");
    }
}
