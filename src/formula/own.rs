//! An ingredient that the caller describes: nothing is known of it but what they say.

use std::borrow::Cow;

use super::declaration::SALT_OF_SODIUM;
use super::written::OwnIngredient;
use crate::quantity::{Code, Density, Fault, Faults, Percent, Pointer, Share, longer};
use crate::reference::{Composition, Constituent, Ingredient, LabelFigures, Nature, Weighings};

/// Understands an ingredient of the caller's own.
pub fn own_ingredient(written: &OwnIngredient, at: &Pointer<'_>, faults: &mut Faults) -> Option<Ingredient> {
    let before = faults.total();
    if written.name.trim().is_empty() || longer(&written.name, 200) {
        faults.push(Fault::new(&at.key("name"), Code::TextTooLong, &*written.name, "a name of 1 to 200 characters"));
    }
    if let Some(density) = written.g_per_ml.filter(|density| !(0.01..=25.0).contains(density)) {
        faults.push(Fault::new(&at.key("g_per_ml"), Code::OutOfRange, density.to_string(), "from 0.01 to 25 grams for each millilitre"));
    }
    let contents = composition(written, at, faults);
    let classes = classes(written, at, faults);
    (faults.total() == before).then(|| Ingredient {
        id: Cow::Owned(format!("own:{}", written.name)),
        name: Cow::Owned(written.name.clone()),
        names: Vec::new(),
        classes,
        nature: Nature::Piece,
        fresh_yeast: None,
        fresh_egg: None,
        as_powder: None,
        allergens_us: Vec::new(),
        allergens_eu: Vec::new(),
        hazards: Vec::new(),
        traits: Vec::new(),
        cocoa: None,
        composition: Some(contents),
        composition_citation: None,
        measured: Vec::new(),
        counted: Vec::new(),
        weighings: written.g_per_ml.map(|density| Weighings::sharp(Density::grams_per_millilitre(density))).unwrap_or_default(),
        juiced: None,
        trimmed: None,
        drained: None,
        citation: None,
        note: "",
    })
}

/// What a pack's rounding may add up to, in grams.
const ROUNDED: f64 = 1.0;

fn composition(written: &OwnIngredient, at: &Pointer<'_>, faults: &mut Faults) -> Composition {
    let list = at.key("per_100g");
    let figures: Vec<(&str, f64)> = written.per_100g.figures().collect();
    for (name, figure) in &figures {
        if !(0.0..=100.0).contains(figure) {
            faults.push(Fault::new(&list.key(name), Code::OutOfRange, figure.to_string(), "from 0 to 100 grams"));
        }
    }
    let said = |wanted: &str| figures.iter().find(|(name, _)| *name == wanted).map(|(_, f)| *f);
    let of = |wanted: &str| figures.iter().find(|(name, _)| *name == wanted || (wanted == "sugars" && *name == "sugar")).map(|(_, f)| *f);
    // Sugars, starch and fibre are within the carbohydrate, saturated fat within the fat.
    let carbohydrate = of("carbohydrate").unwrap_or_else(|| ["sugars", "starch", "fibre"].iter().filter_map(|part| of(part)).sum());
    // Salt is within the ash, where that is told too.
    let minerals = of("ash").unwrap_or(0.0).max(of("salt").unwrap_or(0.0));
    let whole: f64 = carbohydrate + minerals + ["water", "protein", "fat", "alcohol"].iter().filter_map(|part| of(part)).sum::<f64>();
    if whole > 100.5 {
        faults.push(Fault::new(&list, Code::OutOfRange, format!("{whole} g in 100 g"), "at most 100 g in 100 g"));
    }
    if let Some((one, other)) = said("sugar").zip(said("sugars")).filter(|(one, other)| one != other) {
        let found = format!("sugar {one} g and sugars {other} g");
        faults.push(Fault::new(&list.key("sugar"), Code::NotTogether, found, "one of the two names"));
    }
    let mut holds = |whole: &str, grams: f64, parts: &[&str], mend: &str| {
        let sum: f64 = parts.iter().filter_map(|part| of(part)).sum();
        if sum > grams + ROUNDED {
            let parts = parts.join(", ");
            let fault =
                Fault::new(&list.key(whole), Code::OutOfRange, format!("{grams} g"), format!("at least the {sum} g of {parts} in it"));
            faults.push(fault.saying(mend));
        }
    };
    holds("fat", of("fat").unwrap_or(0.0), &["saturated"], "Saturated fat is a part of the fat");
    let apart = "A European pack gives carbohydrate without its fibre: add the two";
    holds("carbohydrate", carbohydrate, &["sugars", "starch", "fibre"], apart);
    let sodium = of("salt").map(|salt| Percent::of_hundred(salt / SALT_OF_SODIUM));
    let contents = Composition::of(|constituent| match constituent {
        Constituent::Carbohydrate => Some(Percent::of_hundred(carbohydrate)),
        Constituent::Ash => Some(Percent::of_hundred(minerals)),
        other => Some(Percent::of_hundred(of(other.word()).unwrap_or(0.0))),
    });
    contents.with_label(LabelFigures { sodium, ..LabelFigures::default() })
}

fn classes(written: &OwnIngredient, at: &Pointer<'_>, faults: &mut Faults) -> Vec<(crate::reference::Class, Share)> {
    let list = at.key("counts_as");
    let shares: Vec<_> = written.counts_as.classes().collect();
    for (class, share) in &shares {
        if !(0.0..=1.0).contains(share) {
            faults.push(Fault::new(&list.key(class.word()), Code::OutOfRange, share.to_string(), "a share from 0 to 1"));
        }
    }
    let sum: f64 = shares.iter().map(|(_, share)| share).sum();
    if sum > 1.000_001 {
        faults.push(Fault::new(&list, Code::OutOfRange, format!("shares that add up to {sum}"), "shares that add up to at most 1"));
    }
    if shares.is_empty() {
        return vec![(crate::reference::Class::Additions, Share::of_one(1.0))];
    }
    shares.into_iter().map(|(class, share)| (class, Share::of_one(share))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(per_100g: &str) -> Vec<String> {
        let written = serde_json::from_str(&format!(r#"{{"name":"house mix","per_100g":{per_100g}}}"#)).expect("an ingredient");
        let mut faults = Faults::new();
        let understood = own_ingredient(&written, &Pointer::ROOT, &mut faults);
        assert_eq!(understood.is_none(), !faults.is_empty());
        faults.iter().map(|fault| fault.pointer.clone()).collect()
    }

    #[test]
    fn no_part_is_more_than_its_whole() {
        // Bran by a European pack: 18 g of carbohydrate without the 43 g of its fibre.
        assert_eq!(refused(r#"{"carbohydrate":18,"fibre":43}"#), ["/per_100g/carbohydrate"]);
        assert_eq!(refused(r#"{"fat":2,"saturated":5}"#), ["/per_100g/fat"]);
        assert_eq!(refused(r#"{"sugar":5,"sugars":6}"#), ["/per_100g/sugar"]);
        let good = [
            r#"{"carbohydrate":61,"fibre":43}"#,
            r#"{"sugars":20,"fibre":3}"#,
            r#"{"fat":2,"saturated":2.4}"#,
            r#"{"sugar":5,"sugars":5}"#,
        ];
        assert!(good.iter().all(|per_100g| refused(per_100g).is_empty()));
    }

    #[test]
    fn what_is_wrong_with_a_description_is_told_there_alone() {
        let formula = r#"{"ingredients":[{"name":"House mix","per_100g":{"fat":2,"saturated":5}}],
            "parts":[{"name":"dough","lines":[{"ingredient":"house mix","amount":"100 g"}]}]}"#;
        let written = serde_json::from_str(formula).expect("a formula");
        let reference = crate::reference::Reference::load().expect("the tables");
        let (mut account, mut faults) = (crate::reference::Account::new(reference, false), Faults::new());
        let read = crate::formula::Formula::resolve(&written, &Pointer::ROOT, reference, &mut account, &mut faults);
        assert!(read.is_none());
        assert_eq!(faults.iter().map(|fault| fault.pointer.as_str()).collect::<Vec<_>>(), ["/ingredients/0/per_100g/fat"]);
    }
}
