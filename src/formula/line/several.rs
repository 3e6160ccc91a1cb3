//! A line that holds more than one ingredient: "½ tsp each cinnamon and cloves", "1 egg plus 1 yolk", "salt and pepper".

use super::Item;
use super::amount::lead;
use super::read::Reader;
use super::taken::counted;
use super::text::is_purpose;
use crate::quantity::{Counting, plain};

impl Reader<'_> {
    /// "½ tsp each cinnamon and cloves".
    pub(super) fn shared(&self, names: &str, item: &Item) -> Vec<Item> {
        let text = names.replace(" and ", ",").replace(" & ", ",");
        let each = text.split(',').map(str::trim).filter(|name| !name.is_empty());
        each.map(|name| {
            let mut one = item.clone();
            self.describe(name, &mut one);
            one
        })
        .collect()
    }

    /// "1 egg plus 1 yolk", "1 cup sugar plus 2 tablespoons": two ingredients, or more of the same.
    pub(super) fn two_things(&self, _line: &str, rest: &str, item: &Item) -> Option<Vec<Item>> {
        let (first, second) = [" plus ", " + ", " and "].iter().find_map(|mark| rest.split_once(mark))?;
        let further = lead(second, self.measures).ok().flatten()?;
        if second.starts_with(|c: char| c.is_alphabetic())
            && matches!(further.measure.amount.counting, Counting::Nothing)
            && !rest.contains(" plus ")
        {
            return None;
        }
        let mut one = item.clone();
        self.describe(first, &mut one);
        one.ingredient?;
        let behind = further.rest.trim();
        if behind.is_empty() || is_purpose(behind) {
            one.doubts
                .push(format!("{} more stand behind: write them on a line of their own, or add them to the amount", further.measure.text));
            one.notes.push(format!("plus {}", second.trim()));
            one.tries.push(format!("{} {}", further.measure.text, one.name()));
            return Some(vec![one]);
        }
        let count = item.amount.clone()?;
        let mut others = self.items(second);
        if others.iter().all(|other| other.ingredient.is_some()) {
            let mut items = self.made_of(one, &count);
            items.append(&mut others);
            return Some(items);
        }
        // "1 egg plus 1 yolk": the part of an egg by its own word alone.
        let part = plain(behind.split([',', '(']).next()?).trim_end_matches('s').to_owned();
        let egg = matches!(part.as_str(), "yolk" | "white").then(|| self.ingredients.by_id(&format!("egg-{part}"))).flatten()?;
        let mut items = self.made_of(one, &count);
        items.push(Item { ingredient: Some(egg), amount: Some(counted("egg", &further.measure.amount, false)), ..Item::default() });
        Some(items)
    }

    /// "salt and pepper": two names without an amount.
    pub(super) fn pair(&self, names: &str) -> Option<[Item; 2]> {
        let (first, second) = names.split_once(" and ").or_else(|| names.split_once(" & "))?;
        let of = |name: &str| {
            let mut item = Item::default();
            self.describe(name, &mut item);
            item.ingredient.is_some().then_some(item)
        };
        Some([of(first)?, of(second)?])
    }
}
