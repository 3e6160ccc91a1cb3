//! What may stand for what: swaps with their arithmetic, one row a component, in grams for a hundred grams of what is missing. A negative row is taken out of the formula, its note says why; a row from 0 up may be left out where there is none on hand. Between fresh and dried egg a row has no grams of its own: they follow from the fresh egg that the dried one makes.

use super::dried_egg;
use super::ingredients::Ingredients;
use super::source::{Citation, Cited, Sources};
use super::table::{DataFile, Row, TableFault};
use crate::quantity::{Percent, Span};

/// One component of a swap.
#[derive(Debug)]
pub struct Component {
    /// The id of the ingredient that comes in, or goes out.
    pub ingredient: &'static str,
    /// Grams for a hundred grams of what is replaced; below nothing where it is taken out of the formula. Sources that disagree are its ends.
    pub grams: Span<Percent>,
    pub citation: Citation,
    /// What the table says of this component.
    pub note: &'static str,
}

impl Component {
    /// Whether it may be left out where there is none.
    pub fn may_be_left_out(&self) -> bool {
        self.grams.low().value() <= 0.0 && self.grams.value().value() > 0.0
    }
}

/// A swap: what stands for an ingredient.
#[derive(Debug)]
pub struct Swap {
    pub id: &'static str,
    /// The id of the ingredient that is replaced.
    pub replaces: &'static str,
    pub components: Vec<Component>,
    pub note: &'static str,
    /// What share of the missing is replaced first, by who has not tried it.
    pub try_first: Option<Percent>,
}

impl Swap {
    /// What stands in the place of the missing: the first component.
    pub fn main(&self) -> &'static str {
        self.components.first().map_or("", |first| first.ingredient)
    }

    /// What must be on hand: what comes in and may not be left out.
    pub fn needs(&self) -> impl Iterator<Item = &'static str> {
        self.components.iter().filter(|component| component.grams.low().value() > 0.0).map(|component| component.ingredient)
    }
}

/// All swaps, in the order of the table: the first for an ingredient is the usual one.
pub struct Swaps {
    pub all: &'static [Swap],
}

impl Swaps {
    pub(super) fn load(file: DataFile, ingredients: &Ingredients, sources: &Sources) -> Result<Self, TableFault> {
        let mut all: Vec<Swap> = Vec::new();
        for row in file.rows()? {
            let (id, replaces, note) = (row.required("swap")?, row.required("for")?, row.text("note")?);
            let known = all.iter().position(|swap| swap.id == id);
            let first = known.map_or(row.required("use")?, |at| all[at].main());
            let component = component(&row, [replaces, first], ingredients, sources)?;
            match known {
                None => {
                    let try_first = row.number("try_first")?.map(Percent::of_hundred);
                    all.push(Swap { id, replaces, components: vec![component], note, try_first });
                }
                // The rows of a swap stand together.
                Some(at) if at + 1 == all.len() && all[at].replaces == replaces => all[at].components.push(component),
                Some(_) => return Err(row.fault(format_args!("{id} stands twice"))),
            }
        }
        Ok(Self { all: Vec::leak(all) })
    }

    /// What may stand for an ingredient, the usual first.
    pub fn of(&self, ingredient: &str) -> impl Iterator<Item = &'static Swap> {
        self.all.iter().filter(move |swap| swap.replaces == ingredient)
    }
}

fn component(row: &Row, [replaces, first]: [&str; 2], ingredients: &Ingredients, sources: &Sources) -> Result<Component, TableFault> {
    let ingredient = row.required("use")?;
    let written = row.span("grams", "low", "high")?.map(|grams| grams.map(Percent::of_hundred));
    let cited = match written {
        Some(figure) => Some(Cited { figure, citation: sources.cite(row)? }),
        None => {
            let known = |id: &str| ingredients.by_id(id).ok_or_else(|| row.fault(format_args!("no ingredient {id}")));
            dried_egg::swapped(known(replaces)?, known(first)?, known(ingredient)?)
        }
    };
    let grams = cited.filter(|grams| grams.figure.value().value() != 0.0).ok_or_else(|| row.fault("no grams, or nothing of it"))?;
    Ok(Component { ingredient, grams: grams.figure, citation: grams.citation, note: row.text("note")? })
}

#[cfg(test)]
mod tests {
    use crate::reference::Reference;

    #[test]
    fn every_swap_names_ingredients_of_the_table_and_never_itself() {
        let tables = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        for swap in tables.swaps.all {
            assert!(tables.ingredients.by_id(swap.replaces).is_some(), "{}", swap.replaces);
            for component in &swap.components {
                assert!(tables.ingredients.by_id(component.ingredient).is_some(), "{}", component.ingredient);
                assert_ne!(component.ingredient, swap.replaces, "{}", swap.id);
            }
            assert!(swap.components[0].grams.value().value() > 0.0, "{}: what comes first stands in the place", swap.id);
        }
    }

    #[test]
    fn whoever_has_no_egg_is_not_told_to_part_one() {
        let tables = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let is_egg = |id: &str| tables.ingredients.by_id(id).is_some_and(|known| known.egg_part().is_some());
        for egg in ["egg", "egg-white", "egg-yolk"] {
            assert!(tables.swaps.of(egg).next().is_some_and(|usual| !usual.needs().any(is_egg)), "{egg}");
        }
    }

    #[test]
    fn butter_is_four_fifths_fat_and_a_sixth_water_both_ways() {
        let tables = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let grams = |replaces: &str, main: &str| -> Vec<f64> {
            let swap = tables.swaps.of(replaces).find(|swap| swap.main() == main);
            swap.map(|swap| swap.components.iter().map(|c| c.grams.value().value()).collect()).unwrap_or_default()
        };
        let [there, back] = [grams("butter", "vegetable-oil"), grams("vegetable-oil", "butter")];
        assert_eq!(there, [81.0, 16.0]);
        assert!((back[0] * 0.81 - 100.0).abs() < 0.5 && (back[1] + back[0] * 0.16).abs() < 0.2, "{back:?}");
    }
}
