//! Names of what bakers make of several ingredients: buttercream, a poolish, an egg wash. They are no ingredients, and whoever writes one is told what to write.

use crate::quantity::plain;

/// Names as they stand alone.
const MADE: &[&str] = &[
    "biga",
    "cheesecake filling",
    "chia egg",
    "chia eggs",
    "choux",
    "choux pastry",
    "crème anglaise",
    "crème diplomate",
    "crème patissiere",
    "crème pâtissière",
    "creme anglaise",
    "creme diplomate",
    "creme patissiere",
    "crumb topping",
    "crumble topping",
    "custard",
    "diplomat cream",
    "egg wash",
    "eggwash",
    "flax egg",
    "flax eggs",
    "frangipane",
    "french meringue",
    "italian meringue",
    "pastry cream",
    "pate brisee",
    "pate sablee",
    "pate sucree",
    "poolish",
    "pre-ferment",
    "preferment",
    "pâte brisée",
    "pâte sablée",
    "pâte sucrée",
    "scald",
    "soaker",
    "streusel",
    "streusel topping",
    "sweet paste",
    "sweet pastry",
    "sweet shortcrust pastry",
    "swiss meringue",
    "tangzhong",
    "vegan egg",
    "water roux",
    "yudane",
];

/// The last words of such names, whatever stands before them: "vanilla buttercream", "sugar cookie dough".
const MADE_AT_THE_END: &[&str] =
    &["batter", "buttercream", "custard", "dough", "frosting", "ganache", "glaze", "icing", "mousse", "pastry cream", "streusel"];

/// Whether a name that no ingredient has is that of something made of several.
pub fn is_made(whole: &str) -> bool {
    let name = plain(whole);
    let name = name.split([',', '(']).next().unwrap_or_default().trim();
    let ends = |last: &&str| name.strip_suffix(*last).is_some_and(|before| before.is_empty() || before.ends_with(' '));
    MADE.contains(&name) || MADE_AT_THE_END.iter().any(ends)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::Reference;

    #[test]
    fn what_is_made_of_several_is_told_from_an_ingredient() {
        for name in
            ["Buttercream", "vanilla buttercream", "Royal icing, stiff", "ganache (cooled)", "egg wash", "poolish", "cream cheese frosting"]
        {
            assert!(is_made(name), "{name}");
        }
        assert!(
            ["butter", "cream", "buttercreams of the house", "sourdough", "spinach", "cashew milk"].into_iter().all(|name| !is_made(name))
        );
    }

    #[test]
    fn no_name_alone_is_that_of_an_ingredient() {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        for name in MADE.iter().chain(MADE_AT_THE_END) {
            assert!(reference.ingredients.find(name).is_none(), "{name} is in the table");
        }
    }
}
