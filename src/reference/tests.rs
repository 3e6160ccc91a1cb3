//! Every row of every table is walked: a wrong figure must not wait for the question that meets it.

use std::collections::HashSet;

use super::*;
use crate::quantity::{UNITS, plain};

#[track_caller]
fn tables() -> &'static Reference {
    Reference::load().unwrap_or_else(|fault| panic!("{fault}"))
}

#[test]
fn the_tables_are_read_and_found_whole() {
    let tables = tables();
    assert!(tables.ingredients.all.len() >= 200);
    assert!(tables.styles.all.iter().all(|style| style.bounds.len() >= 3), "a style has fewer than three bounds");
}

#[test]
fn what_stands_before_the_name_is_done_before_measuring() {
    let tables = tables();
    let sifted = tables.ingredients.find("sifted all-purpose flour");
    assert_eq!(sifted.and_then(|found| found.filled), Some(Filled::Sifted));
    let after = tables.ingredients.find("all-purpose flour, sifted");
    assert_eq!(after.map(|found| (found.filled, found.after_measuring)), Some((None, true)));
    let packed = tables.ingredients.find("brown sugar, firmly packed");
    assert_eq!(packed.map(|found| (found.filled, found.after_measuring)), Some((Some(Filled::Packed), false)));
    assert_eq!(tables.ingredients.find("chopped walnuts").map(|found| found.form), Some("chopped"));
}

#[test]
fn what_is_drunk_hot_is_not_the_solid_that_is_left_without_the_word() {
    let ingredients = &tables().ingredients;
    let found = |name| ingredients.find(name).map(|found| &*found.ingredient.id);
    for drink in ["hot chocolate", "hot cocoa", "Hot Chocolate, cooled", "good quality hot cocoa"] {
        assert_eq!(found(drink), None, "{drink}");
    }
    assert_eq!(found("hot cocoa mix"), Some("hot-cocoa-mix"));
    assert_eq!(found("hot melted chocolate"), found("melted chocolate"));
    assert_eq!(found("hot water"), found("water"));
    let near = ingredients.nearest("hot chocolate");
    assert!(near.contains(&"hot chocolate mix"), "{near:?}");
}

#[test]
fn the_size_of_an_egg_stands_beside_its_name_as_well_as_before_it() {
    let size = |name: &str| tables().ingredients.find(name).and_then(|found| found.size).map(|size| (size.class, size.market));
    assert_eq!(size("medium eggs"), Some(("medium", None)));
    assert_eq!(size("extra large egg whites"), Some(("extra-large", None)));
    assert_eq!(size("UK medium eggs, beaten"), Some(("medium", Some("eu"))));
    assert_eq!(size("fresh large eggs"), Some(("large", None)));
    assert_eq!([size("eggs, medium"), size("eggs (large)")], [Some(("medium", None)), Some(("large", None))]);
    assert_eq!([size("eggs"), size("large curd cottage cheese"), size("small tapioca pearls")], [None, None, None]);
}

#[test]
fn a_cup_of_flour_is_as_wide_as_the_ways_of_filling_it() {
    let tables = tables();
    let flour = tables.ingredients.find("plain flour").map(|found| found.ingredient);
    let cup = flour.and_then(|flour| flour.weighing(None, "")).map(|w| {
        let grams = |d: crate::quantity::Density| (d.in_grams_per_millilitre() * 236.588_236_5).round();
        (grams(w.density.low()), grams(w.density.value()), grams(w.density.high()), w.way_open)
    });
    assert_eq!(cup, Some((110.0, 125.0, 160.0, true)));
}

#[test]
fn every_name_means_one_ingredient() {
    let mut names = HashSet::new();
    for ingredient in tables().ingredients.all {
        let mut own = HashSet::new();
        for name in std::iter::once(&*ingredient.name).chain(ingredient.names.iter().copied()) {
            if own.insert(plain(name).into_owned()) {
                assert!(names.insert(plain(name).into_owned()), "{name} ({}) means two things", ingredient.id);
            }
        }
    }
}

#[test]
fn a_cup_of_anything_weighs_what_a_cup_can_weigh() {
    for ingredient in tables().ingredients.all {
        for measured in &ingredient.measured {
            let density = measured.density.value().in_grams_per_millilitre();
            assert!((0.02..=3.5).contains(&density), "{}: {density} g/ml as {} {}", ingredient.id, measured.amount.value(), measured.unit);
        }
        assert!(ingredient.counted.iter().all(|counted| counted.mass.figure.low() > crate::quantity::Mass::ZERO), "{}", ingredient.id);
    }
}

#[test]
fn a_hundred_grams_hold_a_hundred_grams_at_most() {
    for ingredient in tables().ingredients.all {
        let composition = ingredient.composition.unwrap_or_else(|| panic!("{} has no composition", ingredient.id));
        let grams = |constituent| composition.percent(constituent).map_or(0.0, crate::quantity::Percent::value);
        let whole: f64 =
            [Constituent::Water, Constituent::Protein, Constituent::Fat, Constituent::Carbohydrate, Constituent::Alcohol, Constituent::Ash]
                .map(grams)
                .iter()
                .sum();
        // SR28 prints one cheese whose parts add up to 101.9.
        assert!(whole <= 102.0, "{}: {whole} g", ingredient.id);
        assert!(grams(Constituent::Saturated) <= grams(Constituent::Fat) + 0.05, "{}: more saturated fat than fat", ingredient.id);
        let shares: f64 = ingredient.classes.iter().map(|(_, share)| share.value()).sum();
        assert!((shares - 1.0).abs() < 1e-6 || !ingredient.note.is_empty(), "{}: its classes add up to {shares}", ingredient.id);
    }
}

#[test]
fn every_ingredient_can_be_measured_or_weighed_and_its_cautions_exist() {
    let tables = tables();
    for ingredient in tables.ingredients.all {
        for hazard in &ingredient.hazards {
            assert!(tables.cautions.find(hazard).is_some(), "{}: no caution {hazard}", ingredient.id);
        }
    }
    for style in tables.styles.all {
        for caution in &style.cautions {
            assert!(tables.cautions.find(caution).is_some(), "{}: no caution {caution}", style.id);
        }
        assert!(!tables.losses.of_product(style.loss_product).is_empty(), "{}: no losses", style.id);
    }
}

#[test]
fn every_definition_of_a_unit_has_its_source() {
    let tables = tables();
    for unit in UNITS {
        assert!(tables.sources.find(unit.source).is_some(), "{}: no source {}", unit.id, unit.source);
    }
}

#[test]
fn what_is_yielded_and_what_yields_are_ingredients() {
    let tables = tables();
    for entry in tables.ingredients.yields {
        assert!(tables.ingredients.by_id(entry.from).is_some() && tables.ingredients.by_id(entry.gives).is_some(), "{}", entry.from);
    }
}

#[test]
fn what_is_declared_apart_from_sugar_and_starch_is_in_the_table_of_ingredients() {
    let tables = tables();
    let mut looked_at = 0;
    for id in tables.declaration.taken_apart() {
        let found = tables.ingredients.all.iter().find(|ingredient| ingredient.id == id);
        assert!(found.is_some_and(|ingredient| ingredient.composition.is_some()), "{id}");
        looked_at += 1;
    }
    assert!(looked_at >= 6);
}

#[test]
fn a_share_of_cocoa_names_one_dark_chocolate_or_none() {
    let sold = |percent: f64| {
        let within =
            |span: crate::quantity::Span<crate::quantity::Percent>| span.low().value() <= percent && percent <= span.high().value();
        tables().ingredients.all.iter().filter(|known| known.cocoa.is_some_and(within)).count()
    };
    assert!((45..=85).all(|percent| sold(f64::from(percent)) == 1));
    assert_eq!([sold(44.0), sold(86.0)], [0, 0]);
    assert!(tables().ingredients.all.iter().all(|known| known.cocoa.is_none() || known.is(Trait::DarkChocolate)));
}

#[test]
fn a_loss_is_published_for_what_it_is_reckoned_on() {
    let published = |stage: Stage| {
        let row = tables().losses.all.iter().find(|loss| loss.stage == stage).map(LossRow::from);
        row.map(|row| row.baked_only)
    };
    assert_eq!([Stage::Mixing, Stage::Baking, Stage::Trimming, Stage::Slicing].map(published), [false, true, true, false].map(Some));
}

/// All code that names rows by their ids, of every room.
fn code(folder: &std::path::Path, found: &mut String) {
    for entry in std::fs::read_dir(folder).unwrap_or_else(|fault| panic!("{fault}")).flatten() {
        let path = entry.path();
        if path.is_dir() {
            code(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") && !path.ends_with("src/reference/tests.rs") {
            found.push_str(&std::fs::read_to_string(&path).unwrap_or_else(|fault| panic!("{fault}")));
        }
    }
}

#[test]
fn every_row_that_code_names_by_its_id_is_in_its_table() {
    let tables = tables();
    let mut text = String::new();
    code(&std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut text);
    let named = |opening: &str| -> Vec<String> {
        text.split(opening).skip(1).filter_map(|behind| Some(behind.strip_prefix('"')?.split('"').next()?.to_owned())).collect()
    };
    let missing = |openings: &[&str], known: &dyn Fn(&str) -> bool| -> Vec<String> {
        let ids: Vec<_> = openings.iter().flat_map(|opening| named(opening)).collect();
        assert!(ids.len() > 1, "nothing is named behind {openings:?}");
        ids.into_iter().filter(|id| !known(id)).collect()
    };
    let none: [&str; 0] = [];
    let ingredient = |id: &str| tables.ingredients.by_id(id).is_some();
    assert_eq!(missing(&["by_id(", "ingredient.id == ", "ingredient.id != ", "is(ingredient, "], &ingredient), none);
    assert_eq!(missing(&[".cite_id("], &|id| tables.sources.find(id).is_some()), none);
    assert_eq!(missing(&[".caution("], &|id| tables.cautions.find(id).is_some()), none);
    assert_eq!(missing(&["advices.on(", "advices.find("], &|topic| tables.advices.on(topic).next().is_some()), none);
}

#[test]
fn every_published_source_is_named_by_a_row_or_by_code() {
    let mut text = String::new();
    code(&std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut text);
    let rows: Vec<_> = FILES.iter().filter(|file| file.name != SOURCES.name).map(|file| file.text).collect();
    let in_a_cell = |id: &str| rows.iter().any(|rows| rows.split([',', '|', '\n']).any(|cell| cell == id));
    let idle: Vec<_> =
        tables().sources.all.iter().map(|source| source.id).filter(|id| !in_a_cell(id) && !text.contains(&format!("\"{id}\""))).collect();
    assert_eq!(idle, [""; 0]);
}
