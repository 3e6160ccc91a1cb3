//! The sentences of a card that its documents share: its title, what it makes, what it contains.

use super::Jurisdiction;
use super::answer::{CardAnswer, CardLine};
use crate::formula::{AllergenFound, declared_by_kind};

impl CardAnswer {
    /// What it is called, or what it is.
    pub(super) fn title(&self) -> &str {
        self.name.as_deref().map(str::trim).filter(|name| !name.is_empty()).unwrap_or("Formula")
    }

    /// "16 pieces", "1 piece".
    pub(super) fn yields(&self) -> String {
        if self.pieces == 1 { "1 piece".to_owned() } else { format!("{} pieces", self.pieces) }
    }

    /// How far the figures on nutrition can be trusted, by the rules that were asked for.
    pub(super) fn estimate(&self) -> &'static str {
        self.nutrition_declaration.as_ref().map_or(self.nutrition.estimate, |declared| declared.estimate)
    }

    /// The sentences on allergens: one for each list that is asked for.
    pub(super) fn allergen_sentences(&self, jurisdiction: Option<Jurisdiction>) -> Vec<String> {
        let lists = [(false, "US list", &self.allergens.us), (true, "EU list", &self.allergens.eu)];
        let asked = lists.into_iter().filter(|(european, ..)| jurisdiction.is_none_or(|asked| asked.is_european() == *european));
        let mut sentences: Vec<String> = asked
            .map(|(_, list, found)| {
                let names: Vec<String> = found.iter().map(|found| format!("{} ({})", found.name, self.called(found).join(", "))).collect();
                if names.is_empty() {
                    format!("Contains, by the {list}: none known.")
                } else {
                    format!("Contains, by the {list}: {}.", names.join("; "))
                }
            })
            .collect();
        if !self.allergens.unknown.is_empty() {
            sentences.push(format!("Not known: {}.", self.allergens.unknown.join(", ")));
        }
        sentences.push(self.allergens.not_computed.to_owned());
        sentences
    }

    /// The formula's own words for ingredients of the table, so that a card says one thing in one way. What is declared by its kind keeps the name of the kind.
    fn called<'a>(&'a self, found: &'a AllergenFound) -> Vec<&'a str> {
        let lines = || self.parts.iter().flat_map(|part| &part.lines).filter(|_| !declared_by_kind(found.allergen));
        let of =
            |name: &'a String| lines().find(|line| line.ingredient.split(',').next() == Some(name)).map_or(name.as_str(), CardLine::called);
        found.from.iter().map(of).collect()
    }
}
