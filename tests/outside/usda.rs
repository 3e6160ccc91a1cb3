//! The USDA's own figures, two tables of them: household measures with their grams, and composition. Each row is one check.

use std::fs;

use serde::Deserialize;
use serde_json::json;

use crate::case::{Call, Case, data};
use crate::expectation::Expectation;

const SOURCE: &str = "USDA National Nutrient Database for Standard Reference, Release 28";

#[derive(Deserialize)]
struct Portion {
    ndb: String,
    description: String,
    measure: String,
    grams: String,
    ingredient: String,
    amount: String,
    filled: String,
    ours: Option<f64>,
    differs: String,
}

impl Portion {
    /// Grams are rounded to the last place printed. Where we differ, our own figure is held, so that the difference cannot change unseen.
    fn expectation(&self) -> Expectation {
        let pointer = "/result".to_owned();
        match self.ours {
            Some(value) => Expectation::Figure { pointer, value, tolerance: 1e-6 },
            None => Expectation::Holds {
                pointer,
                holds: self.grams.parse().unwrap(),
                tolerance: if self.grams.contains('.') { 0.05 } else { 0.5 },
            },
        }
    }
}

/// A household measure: the service's range for it must hold the grams that the USDA gives.
pub fn portions() -> Vec<Case> {
    rows("usda-portions.csv", |row: Portion| {
        let mut question = json!({"amount": row.amount, "ingredient": row.ingredient, "to": "g"});
        if !row.filled.is_empty() {
            question["filled"] = json!(row.filled);
        }
        assert_eq!(row.ours.is_some(), !row.differs.is_empty(), "{}: a figure of ours and why it differs stand together", row.measure);
        Case {
            id: format!("usda-portion-{}-{}-{}", row.ndb, row.ingredient, row.measure.replace(' ', "-")),
            title: format!("{}: {} is {} g", row.description, row.measure, row.grams),
            call: Call::Post { path: "/v1/convert".to_owned(), question },
            expect: vec![row.expectation()],
            source: format!("{SOURCE}, NDB {}", row.ndb),
            differs: (!row.differs.is_empty()).then_some(row.differs),
        }
    })
}

#[derive(Deserialize)]
struct Food {
    ndb: String,
    description: String,
    ingredient: String,
    water: Option<f64>,
    protein: Option<f64>,
    fat: Option<f64>,
    carbohydrate: Option<f64>,
    sugars: Option<f64>,
    fibre: Option<f64>,
    energy_kcal: Option<f64>,
    sodium_mg: Option<f64>,
    cholesterol_mg: Option<f64>,
}

/// The composition of 100 g: every figure must be the USDA's own.
pub fn composition() -> Vec<Case> {
    rows("usda-composition.csv", |row: Food| {
        let figures = [
            ("water", row.water),
            ("protein", row.protein),
            ("fat", row.fat),
            ("carbohydrate", row.carbohydrate),
            ("sugars", row.sugars),
            ("fibre", row.fibre),
        ];
        let figure = |(name, value): (&str, Option<f64>)| {
            let has = json!({"constituent": name, "g_per_100g": value?}).as_object()?.clone();
            Some(Expectation::Has { pointer: "/composition/constituents".to_owned(), has })
        };
        let label = [("energy_kcal", row.energy_kcal), ("sodium_mg", row.sodium_mg), ("cholesterol_mg", row.cholesterol_mg)];
        let of_label = |(name, value): (&str, Option<f64>)| {
            Some(Expectation::Figure { pointer: format!("/composition/{name}"), value: value?, tolerance: 1e-9 })
        };
        Case {
            id: format!("usda-composition-{}-{}", row.ndb, row.ingredient),
            title: format!("{} as {}", row.ingredient, row.description),
            call: Call::Get { path: format!("/v1/ingredients/{}", row.ingredient) },
            expect: figures.into_iter().filter_map(figure).chain(label.into_iter().filter_map(of_label)).collect(),
            source: format!("{SOURCE}, NDB {}", row.ndb),
            differs: None,
        }
    })
}

fn rows<R: for<'a> Deserialize<'a>>(file: &str, case: impl Fn(R) -> Case) -> Vec<Case> {
    let text = fs::read_to_string(data().join(file)).unwrap();
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    reader.deserialize().map(|row| case(row.unwrap_or_else(|e| panic!("{file}: {e}")))).collect()
}
