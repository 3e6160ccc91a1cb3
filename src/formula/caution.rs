//! Which cautions a formula calls for: by its styles, by what stays raw, by how much has to cool. One list for every question that is asked of a formula.

use super::base::THICKENS;
use super::ledger::is_baked;
use super::resolved::{Formula, Known, Mixture};
use super::written::ScalesWith;
use crate::quantity::{Factor, Mass};
use crate::reference::{Account, Class, Goods, Style, Trait};

/// From here on a single mass cools slowly enough to mind: common practice, no source.
const LARGE: Mass = Mass::grams(4000.0);

/// From this share of sugar on a mixture with a liquid and without flour may well be a syrup or a caramel: common practice, no source.
const BOILED: f64 = 1.0 / 3.0;

/// From this share of egg on something is egg and not only made with it, as mayonnaise is.
const MOSTLY: Factor = Factor::times(0.5);

/// Notes the cautions of a formula of which so much is made at once; nothing is made yet where it is only judged.
pub fn caution(formula: &Formula, made: Option<Mass>, account: &mut Account) {
    for mixture in formula.mixtures() {
        let style = mixture.style();
        // Without a style, and where nothing is said of an oven, nobody knows whether it is ever baked: then it is not taken to be.
        let known = style.is_some() || formula.bakes;
        let contents = Contents::of(&mixture);
        let browned = style.map_or_else(|| contents.is_foam_of_whites(), only_browned);
        let baked = known && is_baked(formula, mixture.root) && !browned;
        let within_crumb = baked && style.map_or(contents.is_of_flour(), |style| style.needs_flour);
        for line in mixture.lines() {
            for hazard in &line.ingredient.hazards {
                // What is baked through is no longer raw, and cream within a crumb is no filling; honey and the like keep their caution.
                let applies = match *hazard {
                    "raw-egg" => !baked,
                    // Whoever makes what is baked may taste it raw; a style tells that among its own.
                    "raw-flour" => !baked || style.is_none() && made.is_some(),
                    "chilled-filling" => !within_crumb,
                    _ => true,
                };
                if applies {
                    account.caution(hazard);
                }
            }
        }
        // What names no style may have been cooked on the stove, and a custard that is baked is one all the same.
        if style.is_none() && formula.parts[mixture.root].scales_with != ScalesWith::Finish {
            by_its_lines(&contents, account);
        }
        for id in style.map_or(&[][..], |style| &style.cautions) {
            let applies = match *id {
                "cooling-large-batch" => made.is_some_and(|made| made >= LARGE),
                // Tasting the raw mixture is the risk of whoever makes what is baked; it is told once, for flour.
                "raw-egg" => !baked && contents.raw_egg,
                "raw-flour" => !baked || made.is_some(),
                "loose-bottom-leaks" => made.is_some(),
                "boiled-sugar" => contents.sugar > Mass::ZERO,
                // Said of what is swapped in, not of a formula.
                "allergen" => false,
                _ => true,
            };
            if applies {
                account.caution(id);
            }
        }
    }
}

/// A meringue may stand in an oven and still be raw within.
fn only_browned(style: &Style) -> bool {
    style.goods == Goods::Dried
}

/// What of a mixture bears on its cautions.
#[derive(Default)]
struct Contents {
    whole: Mass,
    /// What may be boiled: icing sugar is stirred in cold.
    sugar: Mass,
    flour: Mass,
    liquid: bool,
    raw_egg: bool,
    /// Whole eggs or yolks, of any bird and treated in any way: they set a custard.
    yolk: bool,
}

impl Contents {
    fn of(mixture: &Mixture<'_>) -> Self {
        let mut contents = Self::default();
        mixture.lines().for_each(|line| {
            let mass = line.weight.mass.value();
            contents.whole += mass;
            for (class, share) in &line.ingredient.classes {
                match class {
                    Class::Sugar if !line.ingredient.is_icing_sugar() => contents.sugar += mass * share.as_factor(),
                    Class::Flour => contents.flour += mass * share.as_factor(),
                    Class::Liquid => contents.liquid = true,
                    Class::Egg => {
                        // What is pasteurised is what the caution asks for; of an ingredient of one's own nobody knows.
                        contents.raw_egg |= matches!(line.ingredient, Known::Own(_)) || line.ingredient.hazards.contains(&"raw-egg");
                        contents.yolk |= share.as_factor() >= MOSTLY && !line.ingredient.is(Trait::EggWhite);
                    }
                    _ => {}
                }
            }
        });
        contents
    }

    /// Raw whites without yolk or flour: an icing, a mousse, a meringue. Without a style nobody knows that it is baked through.
    fn is_foam_of_whites(&self) -> bool {
        self.raw_egg && !self.yolk && !self.is_of_flour()
    }

    /// Whether it has more flour than thickens a cream.
    fn is_of_flour(&self) -> bool {
        self.flour > self.whole * Factor::times(THICKENS)
    }
}

/// What a mixture without a style looks like by what is in it: a custard, or sugar that is boiled. With more flour than thickens it, it is neither.
fn by_its_lines(contents: &Contents, account: &mut Account) {
    if contents.is_of_flour() || !contents.liquid {
        return;
    }
    if contents.yolk {
        account.caution("custard-hold");
    }
    if contents.sugar >= contents.whole * Factor::times(BOILED) {
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
        cautions_of("", lines)
    }

    /// Those of one of a style.
    fn cautions_of(style: &str, lines: &[(&str, &str)]) -> Vec<&'static str> {
        let reference = Reference::load().expect("the tables");
        let mut account = Account::new(reference, false);
        let mut formula = trial::formula(lines);
        formula.style = reference.styles.find(style);
        caution(&formula, Some(Mass::grams(500.0)), &mut account);
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
        for yolk in ["pasteurized egg yolk", "duck egg", "dried egg yolk"] {
            assert!(cautions(&[("whole milk", "500 g"), (yolk, "100 g")]).contains(&"custard-hold"), "{yolk}");
        }
        assert!(!cautions(&[("whole milk", "500 g"), ("dried egg white", "100 g")]).contains(&"custard-hold"));
        let thickened = [("whole milk", "500 g"), ("egg yolk", "90 g"), ("granulated sugar", "120 g"), ("all-purpose flour", "45 g")];
        assert!(cautions(&thickened).contains(&"custard-hold"));
        let pancakes = [("whole milk", "250 g"), ("egg", "2 large"), ("all-purpose flour", "125 g")];
        assert!(!cautions(&pancakes).contains(&"custard-hold"));
        let caramel = cautions(&[("granulated sugar", "300 g"), ("water", "80 g"), ("heavy cream", "200 g"), ("butter", "60 g")]);
        assert!(caramel.contains(&"boiled-sugar"), "{caramel:?}");
        let icing = cautions(&[("powdered sugar", "250 g"), ("lemon juice", "40 g")]);
        assert!(!icing.contains(&"boiled-sugar"), "{icing:?}");
    }

    #[test]
    fn a_cake_without_a_style_that_is_baked_is_a_crumb_and_its_batter_raw_flour() {
        let reference = Reference::load().expect("the tables");
        let mut account = Account::new(reference, false);
        let cake = [("all-purpose flour", "280 g"), ("sour cream", "230 g"), ("egg", "2 large"), ("granulated sugar", "300 g")];
        let mut formula = trial::formula(&cake);
        formula.bakes = true;
        caution(&formula, Some(Mass::grams(900.0)), &mut account);
        let told: Vec<_> = account.settle(String::new()).cautions.iter().map(|caution| caution.id).collect();
        assert_eq!(told, ["raw-flour"]);
    }

    #[test]
    fn a_meringue_is_raw_within_though_it_stands_in_the_oven() {
        let meringue = cautions_of("meringue", &[("egg white", "100 g"), ("granulated sugar", "200 g")]);
        assert!(meringue.contains(&"raw-egg"), "{meringue:?}");
        assert!(
            !cautions_of("angel", &[("egg white", "300 g"), ("granulated sugar", "300 g"), ("cake flour", "100 g")]).contains(&"raw-egg")
        );
    }

    #[test]
    fn whoever_has_taken_pasteurised_egg_is_not_told_to_take_it() {
        let told = |egg: &str| cautions_of("buttercream", &[("butter", "200 g"), (egg, "100 g")]).contains(&"raw-egg");
        assert_eq!(["egg white", "pasteurized egg white", "meringue powder"].map(told), [true, false, false]);
    }

    #[test]
    fn raw_whites_beside_a_cake_keep_their_caution_where_nobody_says_that_they_are_baked() {
        let of = |beside: &[(&str, &str)]| {
            let lines = |all: &[(&str, &str)]| -> Vec<_> {
                all.iter().map(|(name, amount)| serde_json::json!({"ingredient": name, "amount": amount})).collect()
            };
            let cake = lines(&[("cake flour", "200 g"), ("butter", "100 g"), ("granulated sugar", "180 g"), ("egg", "100 g")]);
            let parts = serde_json::json!([{"name": "cake", "lines": cake}, {"name": "middle", "lines": lines(beside)}]);
            let written = serde_json::from_value(serde_json::json!({"style": "creamed", "parts": parts, "bake": {"oven": "180 C"}}))
                .expect("a formula");
            let (reference, mut faults) = (Reference::load().expect("the tables"), crate::quantity::Faults::new());
            let mut account = Account::new(reference, false);
            let formula = Formula::resolve(&written, &crate::quantity::Pointer::ROOT, reference, &mut account, &mut faults);
            caution(&formula.expect("understood"), None, &mut account);
            account.settle(String::new()).cautions.iter().map(|caution| caution.id).collect::<Vec<_>>()
        };
        assert!(of(&[("egg white", "120 g"), ("granulated sugar", "240 g"), ("butter", "300 g")]).contains(&"raw-egg"));
        assert!(!of(&[("egg white", "120 g"), ("granulated sugar", "120 g"), ("cake flour", "100 g")]).contains(&"raw-egg"));
        // Cream between the layers is a filling that is kept cold; a curd is a custard.
        assert!(of(&[("double cream", "300 g")]).contains(&"chilled-filling"));
        // So it is one that is baked in.
        assert!(of(&[("whole milk", "300 g"), ("egg", "150 g"), ("cream cheese", "100 g")]).contains(&"custard-hold"));
        assert!(
            of(&[("lemon juice", "100 g"), ("egg yolk", "80 g"), ("granulated sugar", "100 g"), ("butter", "80 g")])
                .contains(&"custard-hold")
        );
    }

    #[test]
    fn cream_within_a_crumb_is_no_filling_and_cold_icing_sugar_is_not_boiled() {
        let cream = [("all-purpose flour", "300 g"), ("heavy cream", "240 g")];
        assert!(!cautions_of("scone", &cream).contains(&"chilled-filling"));
        assert!(cautions_of("cheesecake", &[("cream cheese", "500 g"), ("egg", "100 g")]).contains(&"chilled-filling"));
        let boiled = |sugar: &str| {
            cautions_of("buttercream", &[("butter", "200 g"), (sugar, "200 g"), ("egg white", "100 g")]).contains(&"boiled-sugar")
        };
        assert_eq!((boiled("granulated sugar"), boiled("powdered sugar")), (true, false));
    }
}
