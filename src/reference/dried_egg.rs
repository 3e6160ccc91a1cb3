//! How much fresh egg a dried one makes with its water: the one place where it stands, for the rules that count eggs, for the swaps, and for whoever reads the table.

use serde::Serialize;
use utoipa::ToSchema;

use super::ingredient::Ingredient;
use super::published::Ranged;
use super::source::{Citation, Cited};
use crate::quantity::{Factor, Mass, Percent, Span};

/// The fresh egg that a dried one makes.
#[derive(Clone, Copy, Debug, Serialize, ToSchema)]
pub struct FreshEggRow {
    /// Grams of fresh egg from a gram of it, the water that makes it up counted in.
    pub g: Ranged,
    #[serde(flatten)]
    pub citation: Citation,
}

impl From<Cited<Span<Factor>>> for FreshEggRow {
    fn from(of: Cited<Span<Factor>>) -> Self {
        Self { g: of.figure.into(), citation: of.citation }
    }
}

/// What of a swap of fresh and dried egg follows from this: grams of what comes in for a hundred grams of what is missing, or of the water that goes out again.
/// Nothing where neither is dried.
pub(super) fn swapped(missing: &Ingredient, first: &Ingredient, used: &Ingredient) -> Option<Cited<Span<Percent>>> {
    let (fresh, dried_goes) = match (missing.fresh_egg, first.fresh_egg) {
        (Some(fresh), None) => (fresh, true),
        (None, Some(fresh)) => (fresh, false),
        _ => return None,
    };
    let hundred = Span::exact(Mass::grams(100.0));
    let grams = match (dried_goes, used.is_water()) {
        (false, false) => hundred / fresh.figure,
        (false, true) => hundred - hundred / fresh.figure,
        (true, false) => hundred * fresh.figure,
        (true, true) => hundred - hundred * fresh.figure,
    };
    let figure = grams.map(|mass| Percent::of_hundred(mass.in_grams()));
    Some(Cited { figure, citation: fresh.citation })
}

#[cfg(test)]
mod tests {
    use crate::reference::{Class, Constituent, Reference};

    #[test]
    fn a_dried_egg_makes_as_much_fresh_egg_as_its_solids_and_its_swaps_say_the_same() {
        let tables = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        for [dried, egg] in [["dried-egg", "egg"], ["dried-egg-white", "egg-white"], ["dried-egg-yolk", "egg-yolk"]] {
            let known = |id| tables.ingredients.by_id(id).unwrap_or_else(|| panic!("no {id}"));
            let solids = |id| 1.0 - known(id).composition.map_or(0.0, |composition| composition.share(Constituent::Water).value());
            let fresh = known(dried).fresh_egg.unwrap_or_else(|| panic!("{dried} makes nothing")).figure;
            let by_solids = solids(dried) / solids(egg);
            assert!(fresh.low().value() - 0.05 <= by_solids && by_solids <= fresh.high().value(), "{dried}: {by_solids}");
            for (missing, with, grams) in [(egg, dried, 100.0 / fresh.value().value()), (dried, egg, 100.0 * fresh.value().value())] {
                let swap = tables.swaps.of(missing).find(|swap| swap.main() == with).unwrap_or_else(|| panic!("no {with} for {missing}"));
                let of: Vec<_> = swap.components.iter().map(|component| component.grams.value().value()).collect();
                assert!((of[0] - grams).abs() < 1e-9 && (of[1] - (100.0 - grams)).abs() < 1e-9, "{of:?}");
            }
        }
    }

    #[test]
    fn only_what_holds_egg_and_no_fresh_egg_makes_any() {
        let tables = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let dry = |id: &str| tables.ingredients.by_id(id).is_some_and(|known| known.fresh_egg.is_some());
        assert_eq!(["egg", "pasteurized-egg-white", "sugared-egg-yolk", "meringue-powder"].map(dry), [false, false, false, true]);
        let makers = tables.ingredients.all.iter().filter(|known| known.fresh_egg.is_some());
        assert!(makers.clone().count() >= 4 && makers.into_iter().all(|known| known.counts_as(Class::Egg) > crate::quantity::Factor::ZERO));
    }
}
