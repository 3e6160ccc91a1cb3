//! Things that are counted: the unit may stand behind the name, or tell the kind; and something else may be made of them ("2 lemons, juiced").

use super::Item;
use super::amount::{Measure, rendered};
use super::name::named;
use super::noted::fill;
use super::read::Reader;
use super::taken::made_of;
use super::text::segments;
use crate::quantity::{Counting, Family, Unit, plain};

impl Reader<'_> {
    /// "2 gelatin sheets", "¼ yeast cake": the unit stands behind the name.
    pub(super) fn counted_behind(&self, rest: &str, item: &mut Item) {
        self.sold_so(rest, item);
        let Some(measure) = item.amount.as_mut().filter(|measure| measure.amount.counting == Counting::Nothing) else { return };
        let name = segments(rest).first().map(|part| plain(part).into_owned()).unwrap_or_default();
        if let Some((before, word)) = name.rsplit_once(' ')
            && let Some(unit) = Unit::of_word(word, self.measures).filter(|unit| unit.family == Family::Count && unit.id != "each")
        {
            let whole = named(self.ingredients, &format!("{} {before}", unit.one)).filter(|found| found.doubts.is_empty());
            let Some(found) = whole.or_else(|| named(self.ingredients, before)).or_else(|| named(self.ingredients, &name)) else { return };
            if found.ingredient.counted(unit.id, None).is_some() {
                measure.text = rendered(&measure.amount.number, if measure.amount.number.value > 1.0 { unit.many } else { unit.one });
                measure.amount.counting = Counting::Unit(unit);
                let (amount, also, mut notes) = (item.amount.take(), item.also.take(), std::mem::take(&mut item.notes));
                notes.retain(|note| note != before);
                *item = Item { amount, also, notes, ..Item::default() };
                fill(item, found);
            }
        }
    }

    /// "3 sheets gelatine": the unit tells which kind is meant.
    pub(super) fn sold_so(&self, rest: &str, item: &mut Item) {
        let (Some(known), Some(measure)) = (item.ingredient, &item.amount) else { return };
        let name = segments(rest).first().copied().unwrap_or_default();
        let kind = self.ingredients.counted_as(known, name, &measure.amount);
        item.ingredient = kind.or(item.ingredient);
    }

    /// Counted things, by their own word; and what is made of them: "2 lemons, juiced".
    pub(super) fn made_of(&self, mut item: Item, count: &Measure) -> Vec<Item> {
        let Some(ingredient) = item.ingredient else { return vec![item] };
        let counting = &count.amount.counting;
        let still = item.amount.as_ref().is_some_and(|amount| amount.amount.counting == *counting);
        if !still || !matches!(counting, Counting::Nothing | Counting::Size(_)) {
            return vec![item];
        }
        let made = made_of(ingredient, &count.amount.number, &item.notes.join(" "), self.ingredients);
        if !made.is_empty() {
            if made.len() > 1 && item.notes.iter().any(|note| note.contains(super::text::is_figure)) {
                item.doubts.push("A second number stands behind; the first is taken for all: give each a line of its own".to_owned());
            }
            return made
                .into_iter()
                .map(|taken| Item { ingredient: Some(taken.ingredient), amount: taken.measure, ..item.clone() })
                .collect();
        }
        if let Some(part) = ingredient.egg_part() {
            let size = matches!(counting, Counting::Size(_));
            let word = match part.word() {
                "whole" => "egg",
                other => other,
            };
            let number = &count.amount.number;
            let word = if number.value > 1.0 { format!("{word}s") } else { word.to_owned() };
            if !size && let Some(measure) = item.amount.as_mut() {
                measure.text = rendered(number, &word);
            }
        } else if *counting == Counting::Nothing
            && let Some(measure) = item.amount.as_mut()
        {
            measure.text = rendered(&count.amount.number, if count.amount.number.value == 1.0 { "piece" } else { "pieces" });
        }
        vec![item]
    }

    pub(super) fn is_counted(&self, name: &str) -> bool {
        named(self.ingredients, name)
            .is_some_and(|found| found.ingredient.egg_part().is_some() || found.ingredient.counted("each", None).is_some())
    }
}
