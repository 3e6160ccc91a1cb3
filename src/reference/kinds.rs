//! A name that is not one ingredient: its kinds differ by so much that none is taken for another, and whoever writes it is asked which.

use super::ingredients::Ingredients;
use crate::quantity::plain;

/// The names, and the kinds by their ids, the one that counts for most first.
const YEAST: (&[&str], [&str; 3]) = (
    &["yeast", "yeasts", "baker's yeast", "bakers yeast", "bakers' yeast", "baking yeast", "bread yeast", "yeast granules"],
    ["instant-yeast", "active-dry-yeast", "fresh-yeast"],
);

/// Names of several, and the kinds by their ids.
type Open = (&'static [&'static str], &'static [&'static str]);

/// Seeds that are sold mixed, each packer's in shares of its own.
const SEEDS: Open = (
    &["mixed seeds", "mixed seed", "seed mix", "seeds", "seed mixture"],
    &["sunflower-seeds", "pumpkin-seeds", "flaxseed", "sesame-seeds"],
);

/// Nuts of which the kind is not said.
const NUTS: Open = (
    &["nuts", "mixed nuts", "chopped nuts", "chopped mixed nuts", "mixed chopped nuts", "ground nuts", "nut meats", "toasted nuts"],
    &["walnuts", "pecans", "almonds", "hazelnuts"],
);

/// Milks of plants.
const PLANT_MILKS: Open = (
    &[
        "plant milk",
        "plant-based milk",
        "plant based milk",
        "non-dairy milk",
        "nondairy milk",
        "dairy-free milk",
        "dairy free milk",
        "vegan milk",
    ],
    &["soy-milk", "oat-milk", "almond-milk", "rice-milk"],
);

/// Drinks that are one thing in America and another in Britain.
const CIDER: Open = (&["cider", "ciders"], &["apple-juice", "hard-cider"]);
const LEMONADE: Open = (&["lemonade", "lemonades"], &["still-lemonade", "lemon-lime-soda"]);

/// Biscuits and sweets of which the kind is not said.
const WAFERS: Open = (&["wafers", "wafer"], &["vanilla-wafer", "chocolate-wafer", "sugar-wafer"]);
const FUDGE: Open = (&["fudge", "fudges"], &["chocolate-fudge", "vanilla-fudge"]);
const CHOCOLATE_SPRINKLES: Open =
    (&["chocolate sprinkles", "chocolate vermicelli", "chocolate strands"], &["sprinkles", "semisweet-chocolate", "milk-chocolate"]);

/// Fats of which the kind is not said.
const FATS: Open = (&["fat", "fats", "hard fat", "soft fat", "baking fat"], &["shortening", "butter", "margarine", "lard"]);

/// Names that are sold or written for several, and why none of these is taken for another.
const OPEN: &[(Open, &str)] = &[
    (SEEDS, "sesame is an allergen, the others are none, and every packet is mixed in another way"),
    (NUTS, "each nut is an allergen by its own name, and a cup of each weighs something else"),
    (PLANT_MILKS, "soy, oats and almonds are allergens each by its own name, and some are sweetened"),
    (CIDER, "it is pressed juice in America, and fermented with alcohol in Britain"),
    (LEMONADE, "it is still, of lemons, in America, and a fizzy soft drink in Britain"),
    (WAFERS, "some are filled with cream, and a piece of each weighs something else"),
    (FUDGE, "some is of cocoa and some is not"),
    (FATS, "butter and margarine hold a fifth of water and shortening and lard none, and butter is an allergen"),
    (CHOCOLATE_SPRINKLES, "some are strands of sugar with cocoa, and some are chocolate"),
];

/// What is asked where a name leaves the kind open.
pub struct Kinds {
    /// What tells them apart: "1 g of instant yeast raises as 3 g of fresh yeast".
    pub why: String,
    pub names: Vec<String>,
}

impl Ingredients {
    /// The kinds between which a name does not choose; nothing where it is one ingredient, or none at all.
    pub fn kinds(&self, whole: &str) -> Option<Kinds> {
        let name = plain(whole);
        let name = name.split([',', '(']).next().unwrap_or_default().trim();
        if let Some(((_, ids), why)) = OPEN.iter().find(|((names, _), _)| names.contains(&name)).filter(|_| self.find(whole).is_none()) {
            let names = ids.iter().filter_map(|id| self.by_id(id)).map(|kind| kind.name.to_string()).collect();
            return Some(Kinds { why: (*why).to_owned(), names });
        }
        let (names, ids) = YEAST;
        if !names.contains(&name) || self.find(whole).is_some() {
            return None;
        }
        let kinds: Vec<_> = ids.iter().filter_map(|id| self.by_id(id)).collect();
        let raises = |at: usize| Some(kinds.get(at)?.fresh_yeast?.value());
        let as_much = |at: usize| Some(format!("{} g of {}", super::short(raises(0)? / raises(at)?), kinds.get(at)?.name));
        let why = format!("1 g of {} raises as {} or {}", kinds.first()?.name, as_much(1)?, as_much(2)?);
        Some(Kinds { why, names: kinds.iter().map(|kind| kind.name.to_string()).collect() })
    }
}

#[cfg(test)]
mod tests {
    use crate::reference::Reference;

    #[test]
    fn yeast_alone_is_asked_for_its_kind_and_a_kind_is_not() {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let kinds = |name: &str| reference.ingredients.kinds(name);
        let asked = kinds("Yeast, crumbled").unwrap_or_else(|| panic!("yeast leaves its kind open"));
        assert_eq!(asked.names, ["instant yeast", "active dry yeast", "fresh yeast"]);
        assert_eq!(asked.why, "1 g of instant yeast raises as 1.2 g of active dry yeast or 3 g of fresh yeast");
        assert!(["fresh yeast", "dried yeast", "yeast, cake", "nutritional yeast", "flour"].into_iter().all(|name| kinds(name).is_none()));
    }

    #[test]
    fn nuts_are_asked_for_their_kind_and_walnuts_are_not() {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        for name in ["nuts", "mixed nuts, chopped", "Chopped nuts"] {
            assert_eq!(reference.ingredients.kinds(name).map(|kinds| kinds.names.len()), Some(4), "{name}");
        }
        assert!(["walnuts", "chopped walnuts", "pine nuts", "nutmeg"].into_iter().all(|name| reference.ingredients.kinds(name).is_none()));
    }

    #[test]
    fn seeds_that_are_sold_mixed_are_asked_for_their_kinds() {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let asked = reference.ingredients.kinds("mixed seeds, toasted").unwrap_or_else(|| panic!("mixed seeds leave their kinds open"));
        assert_eq!(asked.names.len(), 4);
        assert!(asked.why.contains("allergen") && reference.ingredients.kinds("sesame seeds").is_none());
    }

    #[test]
    fn a_name_of_two_countries_is_asked_for_its_kind() {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let names = |name: &str| reference.ingredients.kinds(name).map(|kinds| kinds.names);
        assert_eq!(names("cider"), Some(vec!["apple juice".to_owned(), "hard cider".to_owned()]));
        assert_eq!(names("Lemonade, chilled").map(|kinds| kinds.len()), Some(2));
        assert_eq!(names("plant milk").map(|kinds| kinds.len()), Some(4));
        assert!(["dry cider", "still lemonade", "soy milk", "chocolate fudge"].into_iter().all(|name| names(name).is_none()));
    }

    #[test]
    fn every_kind_is_an_ingredient_of_the_table() {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        for ((names, ids), why) in super::OPEN {
            assert!(ids.iter().all(|id| reference.ingredients.by_id(id).is_some()), "{names:?}: {why}");
        }
    }
}
