//! The table of ingredients, put together from its files and checked as it is read; found by any of the names that people use.

mod rows;

use std::sync::OnceLock;

use foldhash::{HashMap, HashSet};

use rows::{composition, counted, fresh_egg, ingredient, yielded};

use super::ingredient::{Ingredient, Yield, pieces};
use super::leavening::LeaveningFigures;
use super::source::Sources;
use super::table::{DataFile, Row, TableFault};
use super::weight::{Filled, Measured, Weighings};
use crate::quantity::{Amount, Counting, Family, KnownWords, Measures, Percent, Size, Unit, plain, size_alone, size_before};

/// The files of the table.
pub(super) struct Files {
    pub ingredients: DataFile,
    pub composition: DataFile,
    pub measures: DataFile,
    pub counts: DataFile,
    pub yields: DataFile,
    pub dried_eggs: DataFile,
}

/// All ingredients.
pub struct Ingredients {
    pub all: &'static [Ingredient],
    pub yields: &'static [Yield],
    by_id: HashMap<&'static str, &'static Ingredient>,
    by_name: HashMap<&'static str, Found>,
    forms: HashSet<&'static str>,
    /// The names for whoever did not find one, made when the first is not found: as they are looked up, as they are called, and as they are written.
    lookalikes: OnceLock<KnownWords>,
    called: OnceLock<KnownWords>,
    spelled: OnceLock<KnownWords>,
}

/// What a name was found to mean.
#[derive(Clone, Copy, Debug)]
pub struct Found {
    pub ingredient: &'static Ingredient,
    /// The state that stands before the name: "sliced almonds".
    pub form: &'static str,
    /// The way of filling that stands before the name: "sifted flour".
    pub filled: Option<Filled>,
    /// The size that stands beside the name, where it is sold by that size: "medium eggs".
    pub size: Option<Size>,
    /// Whether words behind a comma were left aside: they are done after measuring.
    pub after_measuring: bool,
}

impl Found {
    pub const fn of(ingredient: &'static Ingredient) -> Self {
        Self { ingredient, form: "", filled: None, size: None, after_measuring: false }
    }
}

impl Ingredients {
    pub(super) fn load(files: &Files, leavening: &LeaveningFigures, sources: &Sources) -> Result<Self, TableFault> {
        let mut all = files.ingredients.rows()?.iter().map(|row| ingredient(row, leavening, sources)).collect::<Result<Vec<_>, _>>()?;
        let at: HashMap<&'static str, usize> = all.iter().enumerate().filter_map(|(at, i)| Some((borrowed(&i.id)?, at))).collect();
        if at.len() != all.len() {
            return Err("ingredients.csv: an id stands twice".to_owned());
        }
        let place = |row: &Row, column: &str| -> Result<usize, TableFault> {
            let id = row.required(column)?;
            at.get(id).copied().ok_or_else(|| row.fault(format_args!("no ingredient {id}")))
        };
        for row in files.composition.rows()? {
            let at = place(&row, "ingredient")?;
            all[at].composition = Some(composition(&row)?);
            all[at].composition_citation = Some(sources.cite(&row)?);
        }
        for row in files.measures.rows()? {
            let at = place(&row, "ingredient")?;
            all[at].measured.push(Measured::load(&row, sources)?);
        }
        for row in files.counts.rows()? {
            let at = place(&row, "ingredient")?;
            all[at].counted.push(counted(&row, sources)?);
        }
        for row in files.dried_eggs.rows()? {
            let at = place(&row, "ingredient")?;
            all[at].fresh_egg = Some(fresh_egg(&row, &all[at], sources)?);
        }
        all.iter_mut().for_each(|known| known.weighings = Weighings::of(&known.measured));
        let yields = files.yields.rows()?.iter().map(|row| yielded(row, sources)).collect::<Result<Vec<_>, _>>()?;
        let yields: &'static [Yield] = Vec::leak(yields);
        for known in &mut all {
            let how = |is: fn(&Yield) -> bool| yields.iter().find(|entry| entry.gives == known.id && entry.bought && is(entry));
            known.juiced = how(Yield::is_pressed);
            known.trimmed = how(|entry| entry.percent.is_some());
            known.drained = yields.iter().find(|entry| entry.gives == known.id && entry.canned);
        }
        Self::indexed(Vec::leak(all), yields)
    }

    fn indexed(all: &'static [Ingredient], yields: &'static [Yield]) -> Result<Self, TableFault> {
        let mut by_name: HashMap<&'static str, Found> = HashMap::default();
        for ingredient in all {
            let name = borrowed(&ingredient.name).into_iter();
            for name in name.chain(ingredient.names.iter().copied()) {
                let key: &'static str = match plain(name) {
                    std::borrow::Cow::Borrowed(_) => name,
                    std::borrow::Cow::Owned(plain) => Box::leak(plain.into_boxed_str()),
                };
                if let Some(other) = by_name.insert(key, Found::of(ingredient))
                    && other.ingredient.id != ingredient.id
                {
                    return Err(format!("ingredients.csv: {name} names both {} and {}", other.ingredient.id, ingredient.id));
                }
            }
        }
        let by_id = all.iter().filter_map(|i| Some((borrowed(&i.id)?, i))).collect();
        let forms = all.iter().flat_map(|i| i.measured.iter().map(|m| m.form)).filter(|form| !form.is_empty()).collect();
        let (lookalikes, called, spelled) = Default::default();
        let mut table = Self { all, yields, by_id, by_name, forms, lookalikes, called, spelled };
        table.find_forms();
        Ok(table)
    }

    /// "sliced almonds" is both a name and a state in which almonds were measured.
    fn find_forms(&mut self) {
        let form = |name: &str, ingredient: &'static Ingredient| {
            let (word, rest) = name.split_once(' ')?;
            let same = self.forms.contains(word) && self.named(rest).is_some_and(|same| same.id == ingredient.id);
            ingredient.forms().into_iter().find(|known| same && *known == word)
        };
        let formed: Vec<_> = self.by_name.iter().filter_map(|(name, found)| Some((*name, form(name, found.ingredient)?))).collect();
        for (name, form) in formed {
            if let Some(found) = self.by_name.get_mut(name) {
                found.form = form;
            }
        }
    }

    pub fn by_id(&self, id: &str) -> Option<&'static Ingredient> {
        self.by_id.get(id).copied()
    }

    /// A fruit that gives juice or zest, so much from each.
    pub fn pressed(&self, id: &str) -> Option<&'static str> {
        self.yields.iter().find(|entry| entry.from == id && entry.is_pressed()).map(|entry| entry.from)
    }

    /// The table's word for a thing by which something is counted, in the singular or the plural: "cans", "slice", "leaves".
    pub fn piece_word(&self, word: &str) -> Option<&'static str> {
        let word = plain(word);
        let counted = || self.all.iter().flat_map(|known| &known.counted).map(|counted| counted.unit);
        pieces(&word).find_map(|word| counted().find(|unit| *unit == word))
    }

    /// The dark chocolate with this share of cocoa.
    pub fn dark_chocolate(&self, cocoa: Percent) -> Option<&'static Ingredient> {
        self.all.iter().find(|known| known.cocoa.is_some_and(|span| span.low() <= cocoa && cocoa <= span.high()))
    }

    /// What an ingredient's name means. What stands before the name is done before measuring; what stands behind a comma is done after.
    pub fn find(&self, name: &str) -> Option<Found> {
        // Most names come in the very letters of the table.
        if let Some(found) = self.by_name.get(name) {
            return Some(*found);
        }
        let name = plain(name);
        if let Some(found) = self.exactly(&name) {
            return Some(found);
        }
        let before = name.split([',', '(']).next().unwrap_or_default().trim();
        let behind = name.get(before.len()..).unwrap_or_default().trim_matches([',', '(', ')', ' ']);
        // Nothing is packed or spooned after measuring: "brown sugar, packed" says how the cup is filled.
        let filled = behind.split(' ').filter(|word| *word != "unsifted").find_map(Filled::said).filter(|way| *way != Filled::Sifted);
        self.before_measuring(before).or_else(|| self.before_piece(before)).map(|found| {
            let size = size_alone(behind).filter(|size| found.ingredient.sold_by(*size));
            let after_measuring = size.is_none() && filled.is_none() && before.len() < name.len();
            Found { size: size.or(found.size), filled: filled.or(found.filled), after_measuring, ..found }
        })
    }

    /// A name or an id, in the singular or the plural.
    pub fn named(&self, name: &str) -> Option<&'static Ingredient> {
        self.exactly(name).map(|found| found.ingredient)
    }

    fn exactly(&self, name: &str) -> Option<Found> {
        let exact = |name: &str| self.by_name.get(name).copied().or_else(|| self.by_id(name).map(Found::of));
        let without = |ending: &str| name.strip_suffix(ending).and_then(exact);
        exact(name).or_else(|| without("es")).or_else(|| without("s"))
    }

    /// Of a name that several kinds share, the kind that is counted so: gelatin by the sheet is sheet gelatin. Nothing where the kind that was found is, or none is.
    pub fn counted_as(&self, found: &'static Ingredient, name: &str, amount: &Amount) -> Option<&'static Ingredient> {
        let unit = match &amount.counting {
            Counting::Unit(unit) => unit,
            // "4 silver sheets": a grade stands before the unit.
            Counting::Named(words) => Unit::of_word(words.rsplit(' ').next()?, Measures::Us)?,
            _ => return None,
        };
        if unit.family != Family::Count || matches!(unit.id, "each" | "dozen") || found.counted(unit.id, None).is_some() {
            return None;
        }
        let name = plain(name);
        let name = name.strip_prefix("of ").unwrap_or(&name);
        self.named(&format!("{} {name}", unit.one)).filter(|kind| kind.counted(unit.id, None).is_some())
    }

    /// Whether a word is a state in which something was measured: chopped, whipped.
    pub fn is_form(&self, word: &str) -> bool {
        self.forms.contains(word)
    }

    /// "walnut halves": the piece, or the state in which it was measured, stands behind the name.
    fn before_piece(&self, name: &str) -> Option<Found> {
        let (rest, word) = name.rsplit_once(' ')?;
        let found = self.before_measuring(rest)?;
        let form = found.ingredient.forms().into_iter().find(|form| *form == word);
        (form.is_some() || found.ingredient.counted_in(name).is_some()).then(|| Found { form: form.unwrap_or(found.form), ..found })
    }

    /// Takes words off the front until a name is left.
    fn before_measuring(&self, name: &str) -> Option<Found> {
        let (mut rest, mut form, mut filled, mut size) = (name, "", None, None);
        loop {
            if let Some(ingredient) = self.named(rest) {
                let form = if ingredient.forms().contains(&form) { form } else { "" };
                let size = size.filter(|size| ingredient.sold_by(*size));
                return Some(Found { form, filled, size, ..Found::of(ingredient) });
            }
            if let Some((known, behind)) = size_before(rest) {
                (size, rest) = (Some(known), behind);
                continue;
            }
            let (word, behind) = rest.split_once(' ').filter(|_| !is_drink(rest))?;
            if let Some(way) = Filled::said(word) {
                filled = Some(way);
            } else if let Some(known) = self.forms.get(word) {
                form = known;
            } else if !IDLE.contains(&word) {
                return None;
            }
            rest = behind.trim_start();
        }
    }

    /// Names near to one that was not found.
    pub fn nearest(&self, name: &str) -> Vec<&'static str> {
        let name = plain(name);
        let name = name.split(',').next().unwrap_or_default();
        // Other spellings of one ingredient are no choice.
        let mut known = Vec::with_capacity(MOST_NEAR);
        let mut near = self.lookalikes.get_or_init(|| KnownWords::of(self.by_name.keys().copied())).nearest(name, 8 * MOST_NEAR);
        near.retain(|name| {
            let fresh =
                self.by_name.get(name).map(|found| &found.ingredient.id).filter(|id| known.len() < MOST_NEAR && !known.contains(id));
            known.extend(fresh);
            fresh.is_some()
        });
        near
    }

    /// Names as the ingredients are called that are near to a word.
    pub fn nearest_called(&self, word: &str) -> Vec<&'static str> {
        self.called.get_or_init(|| KnownWords::of(self.all.iter().map(|known| &*known.name))).nearest(word, MOST_NEAR)
    }

    /// Every spelling in the table.
    pub fn spellings(&self) -> impl Iterator<Item = &'static str> {
        self.all.iter().flat_map(|known| std::iter::once(&*known.name).chain(known.names.iter().copied()))
    }

    /// The spelling of which a name may be a slip of the pen.
    pub fn slip_of(&self, name: &str, most: usize) -> Option<&'static str> {
        self.spelled.get_or_init(|| KnownWords::of(self.spellings())).slip_of(name, most)
    }
}

/// So many are offered where a name is not known.
const MOST_NEAR: usize = 3;

/// Whether a name is of something to drink: without its first word it would be another thing.
pub fn is_drink(name: &str) -> bool {
    matches!(name, "hot chocolate" | "hot cocoa")
}

/// Words before a name that change neither its weight nor its kind.
const IDLE: &[&str] = &[
    "fresh",
    "freshly",
    "extra",
    "softened",
    "cold",
    "cool",
    "warm",
    "hot",
    "boiling",
    "lukewarm",
    "tepid",
    "room-temperature",
    "ripe",
    "good",
    "quality",
    "organic",
    "pure",
    "raw",
    "finely",
    "coarsely",
    "roughly",
    "thinly",
    "firmly",
    "lightly",
    "level",
    "plain",
    "dry",
    "strained",
    "beaten",
    "toasted",
    "roasted",
    "peeled",
    "pitted",
    "cooled",
];

#[allow(clippy::ptr_arg, reason = "what is borrowed for ever is told from what is owned")]
fn borrowed(text: &std::borrow::Cow<'static, str>) -> Option<&'static str> {
    match text {
        std::borrow::Cow::Borrowed(text) => Some(text),
        std::borrow::Cow::Owned(_) => None,
    }
}

#[cfg(test)]
mod tests {
    use crate::reference::Reference;

    #[test]
    fn the_names_offered_are_of_different_ingredients() {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let near = reference.ingredients.nearest("yeast");
        let ids: Vec<_> = near.iter().filter_map(|name| reference.ingredients.find(name)).map(|found| &*found.ingredient.id).collect();
        assert!(ids.len() == 3 && ids.contains(&"fresh-yeast"), "{near:?}");
    }
}
