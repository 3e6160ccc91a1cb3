//! Which cautions a judged mixture calls for: what is eaten raw, held warm, boiled or fried. How much is made is not asked here.

use crate::formula::Mixture;
use crate::reference::{Account, Base, Class, Style};

/// The cautions of a mixture: what is eaten raw, held warm, boiled or fried.
pub fn caution(mixture: &Mixture<'_>, style: Option<&'static Style>, account: &mut Account) {
    // Nobody knows whether a formula without a style is baked; a meringue is often only browned.
    let (baked, cooked) = style.map_or((false, false), |style| {
        let custard = style.cautions.contains(&"custard-hold");
        let browned = style.baked && !style.needs_flour && style.base == Base::EggWhite;
        (style.baked && !browned, (style.baked && !browned) || custard)
    });
    for (_, _, line) in mixture.lines() {
        for hazard in &line.ingredient.hazards {
            let applies = match *hazard {
                "raw-egg" | "raw-flour" => !cooked,
                "chilled-filling" => !baked && style.is_some(),
                _ => true,
            };
            if applies {
                account.caution(hazard);
            }
        }
    }
    let Some(style) = style else { return };
    let has = |class| mixture.lines().any(|(_, _, line)| line.ingredient.counts_as(class).value() > 0.0);
    for id in &style.cautions {
        let applies = match *id {
            "custard-hold" => has(Class::Egg),
            "boiled-sugar" => has(Class::Sugar) && has(Class::Liquid) && (style.base == Base::Class(Class::Liquid) || has(Class::Egg)),
            "allergen-nuts" | "deep-fat" => true,
            _ => false,
        };
        if applies {
            account.caution(id);
        }
    }
}
