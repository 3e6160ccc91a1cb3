//! Lines that name what is made: the title of the whole on the first line, and that of a part above its own ingredients.

use super::answer::{LineReport, Matched};
use super::gathered::Gathered;
use crate::formula::{Item, LineRead, LineState, is_measured_within, is_of_turns, may_be_title, titled};
use crate::quantity::{Pointer, plain};
use crate::reference::{Account, Trait, is_made};

/// A line that may be the title of a part: it is one where the next has an amount.
pub(super) struct Heading {
    /// Its report.
    index: usize,
    name: String,
    /// Whether it is goods that a formula of its own makes.
    goods: bool,
    /// Whether nothing stands above it: it is the first, or a blank line parts it.
    parted: bool,
}

/// The title of a part has so many words at most.
const WORDS: usize = 5;

/// Whether a line without an amount is called by what is made: by no ingredient, or by goods that a formula of its own makes.
fn names_a_whole(item: &Item) -> bool {
    let named_otherwise = item.ingredient.is_none_or(|known| known.is(Trait::Goods)) || !item.aside.is_empty() || item.slip;
    item.amount.is_none() && !item.unmeasured && named_otherwise
}

/// "Puff pastry (6 single turns)", "Ciabatta: biga (100 % = 1000 g flour)": the number in the bracket is none of the goods.
fn says_of_goods(bare: &str, item: &Item) -> bool {
    let Some((name, said)) = bare.split_once('(') else { return false };
    let goods = item.ingredient.is_some_and(|known| known.is(Trait::Goods));
    goods && !name.contains(|c: char| c.is_ascii_digit()) && (is_of_turns(said) || name.contains(": ") && said.split(' ').count() > 2)
}

impl Gathered<'_> {
    /// "Chocolate chip cookies – 24 big ones": on the first line so many of them are made, not bought. "Digestive biscuits – 20" says no such thing.
    fn makes_goods(&self, bare: &str, item: &Item) -> bool {
        let goods = || item.ingredient.is_some_and(|known| known.is(Trait::Goods));
        item.also.is_none() && goods() && titled(bare, self.reference).1.makes.is_some()
    }

    /// Whether the first line names the whole: no ingredient, no amount, and no more than a tin or a yield beside its name.
    pub(super) fn is_title(&self, bare: &str, read: &LineRead) -> bool {
        // "100% hydration baguettes".
        let by_percent = bare.split(' ').next().is_some_and(|first| first.ends_with('%'));
        let named = by_percent || bare.trim_start_matches(|c: char| !c.is_alphanumeric()).starts_with(char::is_uppercase);
        // A tin of a pound, or loaves of 350 g each, stand beside the name.
        // "Lamingtons (20 ml tablespoons)": what is said in brackets behind a name measures nothing.
        let measured = || {
            let outside = |name: &str| name.split(" (").next().is_some_and(is_measured_within);
            is_measured_within(bare) && outside(&titled(bare, self.reference).0)
        };
        // "|Ingredient|Small|Large|" heads a table.
        named
            && !bare.trim_start().starts_with('|')
            && !measured()
            && match read {
                LineRead::Heading(part) => !part.is_empty() && may_be_title(bare),
                // "Rye sourdough" names an ingredient only if a word of it is set aside.
                // "Pumpkin pie" is no slip for pumpkin spice.
                LineRead::Items(items) => {
                    matches!(&**items, [one] if names_a_whole(one) || self.makes_goods(bare, one) || says_of_goods(bare, one))
                }
                // "Brownies (8-inch square pan)", "Apple crumble, serves 6", but not "Grease a 9 inch tin".
                LineRead::Beside(said) => {
                    let (name, again) = titled(bare, self.reference);
                    let same = again.pan == said.pan
                        && again.makes == said.makes
                        && (said.pan.is_some() || said.makes.is_some() || said.strange_pan.is_some());
                    said.aside.is_none() && said.oven.is_none() && same && name.len() < bare.len()
                }
            }
    }

    /// "Lemon curd" above four lemons and the sugar: a name without an amount may be that of a part. "Salt" is an ingredient wherever it stands.
    pub(super) fn may_head(&self, bare: &str, items: &[Item], report: &LineReport) -> Option<Heading> {
        let [item] = items else { return None };
        if self.lines.is_empty() || !names_a_whole(item) || !item.notes.is_empty() && item.ingredient.is_none() {
            return None;
        }
        let name = bare.trim().split('(').next().unwrap_or_default().trim();
        let words = name.split(' ').count();
        let plainly = name.chars().all(|c| c.is_alphabetic() || matches!(c, ' ' | '-' | '\'' | '’' | '&'));
        if !name.starts_with(char::is_uppercase) || !plainly || words > WORDS || is_measured_within(bare) {
            return None;
        }
        let goods = item.ingredient.map_or_else(|| is_made(name), |known| known.is(Trait::Goods));
        let parted = self.lines.last().is_some_and(|last| last.line + 1 < report.line);
        (goods || parted).then(|| Heading { index: self.lines.len(), name: plain(name).into_owned(), goods, parted })
    }

    /// The line before was a title where this one has an amount. Where no blank line parts it from what stands above, or nobody knows its name, that is doubted.
    pub(super) fn headed(&mut self, items: &[Item], report: &LineReport) {
        let Some(heading) = self.heading.take().filter(|_| items.iter().any(Item::is_weighable)) else { return };
        let Some(line) = self.lines.get(heading.index) else { return };
        let apart = heading.parted && line.line + 1 == report.line;
        if !apart && !heading.goods {
            return;
        }
        let detail = self.heading(heading.name);
        let Some(line) = self.lines.get_mut(heading.index) else { return };
        line.matched.clear();
        let sure = apart && heading.goods;
        line.state = if sure { LineState::Understood } else { LineState::Doubtful };
        line.attempts.truncate(usize::from(!sure && heading.goods));
        line.detail = Some(if sure { detail } else { format!("{detail}; if it is an ingredient, write its amount") });
    }

    /// The first line is a title where ingredients follow it.
    pub(super) fn entitled(&mut self, account: &mut Account) {
        let Some((index, name, said)) = self.title.take() else { return };
        let Some(report) = self.lines.get_mut(index) else { return };
        if self.parts.is_empty() {
            let alone = || "It may be a title: no ingredient that can be weighed follows it".to_owned();
            report.detail.get_or_insert_with(alone);
            return;
        }
        report.matched.clear();
        report.attempts.clear();
        report.detail = None;
        let names_none = matches!(&*plain(&name), "ingredients" | "you will need");
        self.facts.put(said, report, self.reference, &Pointer::ROOT.key("formula"), account);
        let detail = report.detail.take().map_or(String::new(), |more| format!(". {more}"));
        if names_none {
            report.detail = Some(format!("A heading that names no part{detail}"));
            return;
        }
        report.detail = Some(format!("The title: \"{name}\"{detail}"));
        report.matched.insert(0, Matched { ingredient: None, amount: None, set_aside: Vec::new(), at: Some("/formula/name".to_owned()) });
        self.facts.name = Some(name);
    }
}
