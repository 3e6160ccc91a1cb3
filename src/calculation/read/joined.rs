//! What a part is to the others, by what everybody calls it: a half of what is mixed, a preferment of the dough, what goes over the cake.

use super::answer::PartRead;
use crate::formula::is_called_preferment;
use crate::quantity::plain;

/// A part that is called a preferment is mixed into the dough that stands below it; unless the dough lists a starter of its own, for then it may be the same.
pub(super) fn preferments(parts: &mut [PartRead]) {
    let is_dough = |name: &str| plain(name).split(' ').any(|word| word == "dough");
    let Some(dough) = parts.iter().position(|part| is_dough(&part.name) && !is_called_preferment(&part.name)) else { return };
    if parts[dough].lines.iter().any(|line| is_called_preferment(&line.ingredient)) {
        return;
    }
    let name = parts[dough].name.clone();
    // A sponge with eggs is a cake.
    let has_eggs = |part: &PartRead| part.lines.iter().any(|line| line.ingredient.split(' ').any(|word| word == "egg"));
    for part in parts[..dough].iter_mut().filter(|part| part.into.is_none() && is_called_preferment(&part.name) && !has_eggs(part)) {
        part.into = Some(name.clone());
    }
}

/// Whether a part is by its name a half of what is mixed: "dry ingredients", "wet".
pub(super) fn is_half(name: &str) -> bool {
    let name = plain(name);
    let (first, rest) = name.split_once(' ').unwrap_or((&name, ""));
    matches!(first, "dry" | "wet" | "liquid") && matches!(rest, "" | "ingredients" | "mix" | "mixture") || name == "liquids"
}

/// Parts that go over what has been baked, by what everybody calls them. A filling or a topping may go into the oven.
pub(super) fn covers(name: &str) -> bool {
    ["icing", "finish", "decoration", "frosting", "glaze", "buttercream", "drizzle", "ganache"]
        .iter()
        .any(|word| plain(name).split(' ').any(|part| part == *word))
}
