//! Things that are counted: the unit may stand behind the name, or tell the kind; and something else may be made of them ("2 lemons, juiced").

use super::Item;
use super::amount::{Lead, Measure, in_units, lead, rendered, things};
use super::name::named;
use super::noted::{add, fill};
use super::read::Reader;
use super::taken::{OF_USUAL_SIZE, made_of};
use super::text::{is_figure, segments};
use crate::quantity::{Counting, Family, Size, Unit, plain};

/// "1 small package", "2 large tablespoons": of some packs the small one was weighed; of every other measure no size has a figure, unless what is in it stands beside.
pub(super) fn unequal(size: Option<Size>, item: &mut Item) {
    let (Some(size), Some(measure)) = (size, &mut item.amount) else { return };
    let (id, thing, things, fingers) = match &measure.amount.counting {
        Counting::Unit(unit) => (unit.id, unit.one, unit.many, unit.by_the_fingers().is_some()),
        Counting::Named(pack) => (&**pack, &**pack, &**pack, false),
        _ => return,
    };
    if item.ingredient.is_some_and(|known| known.counted_by(id, Some(size.class)).is_some()) {
        let word = format!("{} {}", size.class, if measure.amount.number.high > 1.0 { things } else { thing });
        measure.text = rendered(&measure.amount.number, &word);
        measure.amount.counting = Counting::Named(word.into());
    } else if item.also.is_none() && !fingers {
        let (size, one) = (size.class, &measure.text);
        item.doubts.push(format!("\"{size}\": how much a {size} {thing} holds is not known; taken as {one}"));
    }
}

/// From so many on, a number behind a name may as well be its grams.
const MANY: f64 = 24.0;

/// "Egg yolks 220": two hundred yolks, or so many grams.
pub(super) fn many_without_a_unit(item: &mut Item) {
    let Some(measure) = item.amount.as_ref().filter(|measure| measure.amount.counting == Counting::Nothing && item.also.is_none()) else {
        return;
    };
    let figure = measure.amount.number.value;
    if figure > MANY {
        let name = item.name();
        item.doubts.push(format!("{figure} is taken as the number of them: write {figure} g, if grams are meant"));
        item.tries.push(format!("{figure} g {name}"));
    }
}

impl Reader<'_> {
    /// "2 gelatin sheets", "¼ yeast cake": the unit stands behind the name.
    pub(super) fn counted_behind(&self, rest: &str, item: &mut Item) {
        self.sold_so(rest, item);
        let name = || segments(rest).first().map(|part| plain(part).into_owned()).unwrap_or_default();
        let Some(measure) = item.amount.as_mut().filter(|measure| measure.amount.counting == Counting::Nothing) else {
            // "1 small rosemary sprig".
            if matches!(&item.amount, Some(Measure { amount, .. }) if matches!(amount.counting, Counting::Size(_))) {
                self.by_its_piece(&name(), item);
            }
            return;
        };
        let name = name();
        if let Some((before, word)) = name.rsplit_once(' ')
            && let Some(unit) = Unit::of_word(word, self.measures).filter(|unit| unit.family == Family::Count && unit.id != "each")
        {
            let whole = named(self.ingredients, &format!("{} {before}", unit.one)).filter(|found| found.doubts.is_empty());
            let Some(found) = whole.or_else(|| named(self.ingredients, before)).or_else(|| named(self.ingredients, &name)) else { return };
            if found.ingredient.counted(unit.id, None).is_some() {
                measure.text = in_units(&measure.amount.number, unit);
                measure.amount.counting = Counting::Unit(unit);
                let (amount, also, mut notes) = (item.amount.take(), item.also.take(), std::mem::take(&mut item.notes));
                notes.retain(|note| note != before);
                *item = Item { amount, also, notes, ..Item::default() };
                fill(item, found);
            }
        } else if let Some(piece) = item.ingredient.and_then(|known| known.counted_in(&name)) {
            // "6 walnut halves".
            measure.text = things(&measure.amount.number, piece);
            measure.amount.counting = Counting::Named(piece.into());
        } else {
            self.by_its_piece(&name, item);
            self.may_be_pieces(&name, item);
        }
    }

    /// "1 1/2 cups bread flour 6.75 oz": a second measure behind the name, which is what is left; nothing where there is none.
    pub(super) fn measured_behind<'t>(&self, text: &'t str, item: &mut Item) -> Option<&'t str> {
        item.amount.as_ref().filter(|measure| measure.amount.counting != Counting::Nothing)?;
        let begins = |at: usize| text[..at].ends_with(' ') && text[at..].starts_with(|c: char| is_figure(c) || c == '.');
        let at = text.char_indices().map(|(at, _)| at).find(|at| begins(*at))?;
        let name = text[..at].trim_end();
        let further = lead(&text[at..], self.measures).ok().flatten().filter(|further| further.rest.trim().is_empty())?;
        let measured = matches!(further.measure.family(), Family::Mass | Family::Volume);
        named(self.ingredients, name).filter(|found| measured && found.doubts.is_empty())?;
        add(item, further.measure);
        Some(name)
    }

    /// "3 sheets gelatine": the unit tells which kind is meant.
    pub(super) fn sold_so(&self, rest: &str, item: &mut Item) {
        let (Some(known), Some(measure)) = (item.ingredient, &item.amount) else { return };
        let name = segments(rest).first().copied().unwrap_or_default().split('(').next().unwrap_or_default().trim();
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
        let made = made_of(ingredient, count, &item.notes.join(" "), self.ingredients);
        if !made.is_empty() {
            if matches!(counting, Counting::Size(_)) && ingredient.egg_part().is_none() {
                item.doubts.push(OF_USUAL_SIZE.to_owned());
            }
            if made.len() > 1 && item.notes.iter().any(|note| note.contains(is_figure)) {
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
            if !size && let Some(measure) = item.amount.as_mut() {
                measure.text = things(number, word);
            }
        } else if *counting == Counting::Nothing
            && let Some(measure) = item.amount.as_mut()
        {
            measure.text = things(&count.amount.number, "piece");
        }
        vec![item]
    }

    /// "Half-and-half 240 ml", "10x sugar 100 g": a name may open with a number; where nothing is named behind it, the amount may stand behind the name.
    pub(super) fn either_way(&self, line: &str, lead: Lead<'_>) -> Vec<Item> {
        let items = self.amount_first(line, lead);
        let strange = matches!(&*items, [one] if one.ingredient.is_none());
        let named = if strange { self.name_first(line) } else { Vec::new() };
        if named.iter().any(Item::is_weighable) { named } else { items }
    }

    pub(super) fn is_counted(&self, name: &str) -> bool {
        named(self.ingredients, name.split('(').next().unwrap_or_default().trim_end())
            .is_some_and(|found| found.ingredient.egg_part().is_some() || found.ingredient.counted("each", None).is_some())
    }
}

#[cfg(test)]
mod tests {
    use crate::formula::{LineRead, LineState, read_line};
    use crate::quantity::Measures;
    use crate::reference::Reference;

    fn read(line: &str) -> (String, LineState) {
        let LineRead::Items(items) = read_line(line, Measures::Us, Reference::load().expect("the tables")) else { panic!("{line}") };
        (items[0].amount.as_ref().map_or_else(String::new, |amount| amount.text.clone()), items[0].state())
    }

    #[test]
    fn a_piece_behind_the_name_is_what_is_counted() {
        for (line, amount) in [
            ("10 dried apricot halves", "10 halves"),
            ("10 halves dried apricots", "10 halves"),
            ("8 pecan halves for the top", "8 halves"),
            ("4 bacon rashers", "4 rashers"),
            ("10 dried apricots", "10 pieces"),
            // The end of a range tells whether they are several.
            ("1/2-1 1/2 bananas", "0.5-1.5 pieces"),
            ("1/2-1 1/2 lemons, juiced", "0.5-1.5 lemons"),
            ("1/2 banana", "0.5 piece"),
        ] {
            assert_eq!(read(line), (amount.to_owned(), LineState::Understood), "{line}");
        }
    }

    #[test]
    fn the_size_of_a_pack_or_a_spoon_is_weighed_or_doubted() {
        for (line, amount, state) in [
            ("1 small package cream cheese", "1 small packet", LineState::Understood),
            ("1 large package cream cheese", "1 packet", LineState::Doubtful),
            ("1 large package (8 oz) cream cheese", "1 packet", LineState::Understood),
            ("1 large tablespoon sugar", "1 tbsp", LineState::Doubtful),
            ("1 large pinch salt", "1 pinch", LineState::Understood),
            ("2 medium dozen eggs", "24 medium", LineState::Understood),
            ("2 extra-small bananas", "2 extra-small", LineState::Understood),
        ] {
            assert_eq!(read(line), (amount.to_owned(), state), "{line}");
        }
    }

    #[test]
    fn a_kind_is_the_kind_though_its_name_begins_with_what_is_done_or_with_a_pack() {
        for (line, id) in [
            ("2 cups salt, flaked kosher", "kosher-salt-flaked"),
            ("100 g flour, blanched almond", "almond-flour"),
            ("1 tbsp oil, toasted sesame", "sesame-oil"),
            ("1 lb butter, lightly salted", "salted-butter"),
            ("500 g flour, very strong white", "high-gluten-flour"),
            ("2 sticks butter, browned", "butter"),
            ("200 g tub margarine", "tub-margarine"),
            ("Extra fine sugar, 200 g", "superfine-sugar"),
            ("200 g tub cream cheese", "cream-cheese"),
            ("1 cup almonds, finely ground", "almonds"),
        ] {
            let read = read_line(line, Measures::Us, Reference::load().expect("the tables"));
            let LineRead::Items(items) = read else { panic!("{line}") };
            assert_eq!(items[0].ingredient.map(|known| &*known.id), Some(id), "{line}");
        }
    }

    #[test]
    fn what_is_made_of_small_ones_is_not_told_of_usual_ones() {
        assert_eq!(read("3 small eggs, yolks only"), ("3 small".to_owned(), LineState::Understood));
        assert_eq!(read("2 small lemons, juiced"), ("2 lemons".to_owned(), LineState::Doubtful));
    }
}
