//! Which cautions a formula calls for: by its styles, by what stays raw, by how much has to cool.

use super::ledger::is_baked;
use super::resolved::Formula;
use crate::quantity::{Factor, Mass};
use crate::reference::{Account, Class, EggPart};

/// From here on a single mass cools slowly enough to mind: common practice, no source.
const LARGE: Mass = Mass::grams(4000.0);

/// Notes the cautions of a formula of which so much is made at once.
pub fn caution(formula: &Formula, made: Mass, account: &mut Account) {
    for mixture in formula.mixtures() {
        let baked = is_baked(formula, mixture.root);
        for (_, _, line) in mixture.lines() {
            for hazard in &line.ingredient.hazards {
                // What is baked through is no longer raw; honey and the like keep their caution.
                let raw = matches!(*hazard, "raw-egg" | "raw-flour");
                if !baked || !raw {
                    account.caution(hazard);
                }
            }
            if !baked && line.ingredient.egg_part().is_some_and(|part| part != EggPart::Yolk || mixture.style().is_none()) {
                account.caution("raw-egg");
            }
        }
        let has_egg = mixture.lines().any(|(_, _, line)| line.ingredient.counts_as(Class::Egg) > Factor::times(0.0));
        let Some(style) = mixture.style() else { continue };
        for id in &style.cautions {
            match *id {
                "cooling-large-batch" if made < LARGE => {}
                // Tasting the raw mixture is the risk of what is baked; it is told once, for flour.
                "raw-egg" if baked || !has_egg => {}
                "allergen" => {}
                other => account.caution(other),
            }
        }
    }
}
