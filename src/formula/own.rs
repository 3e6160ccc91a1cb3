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

fn composition(written: &OwnIngredient, at: &Pointer<'_>, faults: &mut Faults) -> Composition {
    let list = at.key("per_100g");
    let figures: Vec<(&str, f64)> = written.per_100g.figures().collect();
    for (name, figure) in &figures {
        if !(0.0..=100.0).contains(figure) {
            faults.push(Fault::new(&list.key(name), Code::OutOfRange, figure.to_string(), "from 0 to 100 grams"));
        }
    }
    let of = |wanted: &str| figures.iter().find(|(name, _)| *name == wanted || (wanted == "sugars" && *name == "sugar")).map(|(_, f)| *f);
    // Sugars, starch and fibre are within the carbohydrate, saturated fat within the fat.
    let carbohydrate = of("carbohydrate").unwrap_or_else(|| ["sugars", "starch", "fibre"].iter().filter_map(|part| of(part)).sum());
    // Salt is within the ash, where that is told too.
    let minerals = of("ash").unwrap_or(0.0).max(of("salt").unwrap_or(0.0));
    let whole: f64 = carbohydrate + minerals + ["water", "protein", "fat", "alcohol"].iter().filter_map(|part| of(part)).sum::<f64>();
    if whole > 100.5 {
        faults.push(Fault::new(&list, Code::OutOfRange, format!("{whole} g in 100 g"), "at most 100 g in 100 g"));
    }
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
