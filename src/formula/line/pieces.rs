//! "3 thyme sprigs", "2 garlic heads", "8 peach halves": the piece in which a thing is counted stands behind its name, or it is cut into equal parts.

use super::amount::{Lead, pack, plain_text, things};
use super::name::named;
use super::read::Reader;
use super::things::unequal;
use super::{Item, Measure};
use crate::quantity::{Amount, Counting, Family, Unit, plain, word_number};

/// The equal parts into which a thing is cut, with the share of it that each is.
const PARTS: &[(&str, f64)] = &[("halves", 0.5), ("half", 0.5), ("quarters", 0.25), ("quarter", 0.25)];

impl Reader<'_> {
    /// The name as it stands before its last word, where that word is a piece in which the thing is counted, or an equal part of it.
    pub(super) fn by_its_piece(&self, name: &str, item: &mut Item) {
        let Some((amount, size)) = item.amount.as_ref().and_then(|measure| match measure.amount.counting {
            Counting::Nothing => Some((measure.amount.clone(), None)),
            Counting::Size(size) => Some((measure.amount.clone(), Some(size))),
            _ => None,
        }) else {
            return;
        };
        let Some((before, word)) = name.rsplit_once(' ') else { return };
        let part = PARTS.iter().find(|(known, _)| *known == word).map(|(_, share)| *share);
        let piece = self.ingredients.piece_word(word);
        if part.is_none() && piece.is_none() {
            return;
        }
        // "3 peach halves, canned": what stands behind the comma tells which.
        let tinned = item.notes.iter().any(|note| matches!(&*plain(note), "canned" | "tinned"));
        let of_tin = tinned.then(|| named(self.ingredients, &format!("canned {name}"))).flatten();
        let Some(found) = of_tin.or_else(|| named(self.ingredients, before)).filter(|found| found.doubts.is_empty()) else { return };
        let known = found.ingredient;
        let counting = match (piece.filter(|piece| known.counted(piece, None).is_some()), part) {
            (Some(piece), _) => Amount { counting: Counting::Named(piece.into()), ..amount },
            (None, Some(share)) if known.counted("each", None).is_some() => {
                let number = amount.number.times(share);
                Amount { number, counting: size.map_or(Counting::Unit(Unit::known("each")), Counting::Size) }
            }
            _ => return,
        };
        let of_piece = matches!(counting.counting, Counting::Named(_));
        let doubts = if item.ingredient.is_none() { std::mem::take(&mut item.doubts) } else { Vec::new() };
        let mut notes = std::mem::take(&mut item.notes);
        notes.retain(|note| note != before);
        if !of_piece {
            notes.insert(0, word.to_owned());
        }
        let measure = Measure { text: written(&counting), amount: counting };
        *item = Item { amount: Some(measure), also: item.also.take(), notes, filled: item.filled, doubts, ..Item::default() };
        super::noted::fill(item, found);
        if of_piece {
            unequal(size, item);
        }
    }

    /// "Vanilla 1 pod": as "1 vanilla pod", where that is a thing by itself.
    pub(super) fn piece_behind(&self, name: &str, found: &Lead<'_>) -> Option<String> {
        let piece = found.rest.trim();
        if found.measure.amount.counting != Counting::Nothing
            || piece.is_empty()
            || !piece.chars().all(char::is_alphabetic)
            || name.is_empty()
        {
            return None;
        }
        let whole = self.ingredients.named(&plain(&format!("{name} {piece}")))?;
        whole.counted("each", None).is_some().then(|| format!("{} {name} {piece}", found.measure.text))
    }

    /// "9-inch pie shell", "1 9-inch pie crust": how wide or long it is is no number of them.
    pub(super) fn of_a_length(&self, line: &str) -> Option<Vec<Item>> {
        if !line.contains("inch") && !line.contains("cm") && !line.contains(['"', '″', '”']) {
            return None;
        }
        let (first, rest) = line
            .split_once(' ')
            .filter(|(first, _)| first.bytes().all(|b| b.is_ascii_digit()) || word_number(first).is_some())
            .unwrap_or(("one", line));
        // "9 inch pie shell" counts none of them; "2 9-inch shells" does.
        let (first, rest) = if rest.starts_with(|c: char| c.is_ascii_digit()) { (first, rest) } else { ("one", line) };
        let end = rest.find(|c: char| !c.is_ascii_digit()).filter(|end| *end > 0)?;
        let unit = rest[end..].trim_start_matches(['-', ' ']);
        let behind = ["inches ", "inch ", "cm ", "\" ", "″ ", "” "].iter().find_map(|word| unit.strip_prefix(word))?;
        let length = rest[..rest.len() - behind.len()].trim_end();
        let mut items = self.items(&format!("{first} {behind}"));
        let item = items.first_mut()?;
        let counted = item.ingredient.is_some_and(|known| known.egg_part().is_none())
            && item.faults.is_empty()
            && item.amount.as_ref().is_some_and(|measure| measure.family() == Family::Count);
        item.doubts.push(format!("\"{length}\": taken as one of usual size"));
        item.notes.push(length.to_owned());
        (counted && items.len() == 1).then_some(items)
    }

    /// "sprigs of thyme", "thyme sprigs" of which nobody says how many: the name of the thing.
    pub(super) fn without_piece<'n>(&self, name: &'n str) -> &'n str {
        let known = |name: &str| named(self.ingredients, name).is_some_and(|found| found.doubts.is_empty());
        if known(name) {
            return name;
        }
        let (first, after) = name.split_once(' ').unwrap_or((name, ""));
        let of = after.strip_prefix("of ").unwrap_or(after);
        if pack(first).is_some() && known(of) {
            return of;
        }
        let behind = name.rsplit_once(' ').filter(|(before, word)| self.ingredients.piece_word(word).is_some() && known(before));
        behind.map_or(name, |(before, _)| before)
    }

    /// "6 cloves": the spice is called as a piece of another thing is, and only the cook knows which is meant.
    pub(super) fn may_be_pieces(&self, name: &str, item: &mut Item) {
        let counted = item.amount.as_ref().is_some_and(|measure| measure.amount.counting == Counting::Nothing);
        let (Some(known), true) = (item.ingredient, counted && !name.contains(' ')) else { return };
        let Some(piece) = self.ingredients.piece_word(name) else { return };
        let other = self.ingredients.all.iter().find(|other| other.id != known.id && other.counted(piece, None).is_some());
        if let Some(other) = other {
            let (one, other) = (&known.name, &other.name);
            item.doubts.push(format!("\"{name}\" may be those of {other}; taken as {one}"));
            item.tries.extend([format!("{name} of {other}"), format!("whole {name}")]);
        }
    }
}

/// So many pieces by their word, as a formula takes it again.
fn written(amount: &Amount) -> String {
    match &amount.counting {
        Counting::Unit(_) => things(&amount.number, "piece"),
        _ => plain_text(amount),
    }
}
