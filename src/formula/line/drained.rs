//! What is left of a tin when it is drained, and of a fruit when it is peeled: a weight on a tin is that of all that is in it, unless it is called drained.

use super::Item;
use super::amount::{Measure, lead, rendered, times};
use super::read::Reader;
use super::text::{is_figure, segments};
use crate::quantity::{Amount, Counting, Factor, Family, Number, Percent, Span, plain, strip_ignoring_case};

const TINNED: [&str; 9] = ["tin", "tins", "can", "cans", "jar", "jars", "tinned", "canned", "jarred"];

/// What is done before it is weighed once more.
const LEFT: [&str; 9] = ["drained", "prepared", "peeled", "trimmed", "pitted", "stoned", "shelled", "cored", "net"];

/// The same where a bracket ends with it: "1 kg apples (700 g prepared)".
const LEFT_CLOSED: [&str; 8] = ["prepared)", "peeled)", "trimmed)", "pitted)", "stoned)", "shelled)", "cored)", "net)"];

/// So many numbers of a line are looked at.
const NUMBERS: usize = 6;

impl Reader<'_> {
    /// Looks at a line that speaks of draining, or of what is left otherwise.
    pub(super) fn drained(&self, mut item: Item, line: &str) -> Item {
        if !line.contains("rained") && !line.contains(" weight") && !LEFT_CLOSED.iter().any(|closed| line.contains(closed)) {
            return item;
        }
        if !item.notes.iter().any(|note| says(note, &LEFT)) {
            return item;
        }
        if let Some(told) = self.told_drained(line, &item) {
            return with_told(item, told);
        }
        // What stands before the name is done before measuring.
        let first = segments(line).first().copied().unwrap_or_default().split('(').next().unwrap_or_default();
        if says(first, &["drained"]) || !item.notes.iter().any(|note| says(note, &["drained"])) {
            return item;
        }
        let (Some(known), Some(full)) = (item.ingredient, item.also.iter().chain(&item.amount).find(|measure| measure.is_mass()).cloned())
        else {
            return item;
        };
        if let Some(other) = self.ingredients.by_id(&format!("drained-{}", known.id)) {
            item.ingredient = Some(other);
        }
        let tinned = says(line, &TINNED);
        match known.drained.and_then(|entry| entry.percent) {
            Some(share) => {
                let left = full.left(share);
                let doubt = format!("of a full tin of {} are {} left when it is drained: the drained weight stands on the tin", full.text, left.text);
                item.tries.push(format!("{} {}", left.text, item.name()));
                if tinned {
                    item.doubts.push(format!("{} is taken for the weight of the full tin; {doubt}", full.text));
                    item.notes.push(full.text.clone());
                    item.replace(&full, left);
                } else {
                    item.doubts.push(format!("{} is taken for what is left; {doubt}", full.text));
                }
            }
            None if tinned => item.doubts.push(format!(
                "{} is taken as it stands; where it is the weight of the full tin, less is left when it is drained: write the drained weight",
                full.text
            )),
            None => {}
        }
        item
    }

    /// "(240 g drained)", "drained weight 240 g each", "peeled weight 300 g".
    fn told_drained(&self, line: &str, item: &Item) -> Option<Measure> {
        let starts =
            line.char_indices().filter(|(at, c)| is_figure(*c) && !line[..*at].ends_with(|c: char| c.is_alphanumeric() || c == '.'));
        starts.take(NUMBERS).find_map(|(at, _)| {
            let found = lead(&line[at..], self.measures).ok().flatten().filter(|found| found.measure.is_mass())?;
            let before = plain(line[..at].trim_end_matches([':', ' ', '=', '(']));
            let behind = found.rest.trim_start();
            let behind = strip_ignoring_case(behind, "net ").unwrap_or(behind);
            let called = strip_ignoring_case(behind, "drained");
            let left = |done: &&str| {
                before.ends_with(&format!("{done} weight"))
                    || strip_ignoring_case(behind, done).is_some_and(|rest| rest.starts_with(" weight") || rest.starts_with(')'))
            };
            let called = called.or_else(|| (before.ends_with("drained") || LEFT.iter().any(left)).then_some(behind))?;
            // "400 g tin, drained" is not called so: a comma stands between.
            let each = says(called.split([')', ',']).next().unwrap_or_default(), &["each"]);
            let count = || times(line).or_else(|| item.amount.clone().filter(|amount| amount.family() == Family::Count));
            let count = count().filter(|_| each).map_or(1.0, |count| count.amount.number.value);
            Some(found.measure.times(Factor::times(count)))
        })
    }
}

/// The drained weight is what goes in.
fn with_told(mut item: Item, told: Measure) -> Item {
    let masses = || item.also.iter().chain(&item.amount).filter(|measure| measure.is_mass());
    // "1 kg apples (700 g prepared)": what is left stands beside the full weight.
    match masses().find(|measure| measure.amount != told.amount).cloned() {
        Some(full) => {
            item.notes.push(full.text.clone());
            item.replace(&full, told);
        }
        None if masses().next().is_some() => {}
        None => item.also = Some(told),
    }
    item
}

impl Item {
    /// One of its measures by another; what says the same as it goes.
    fn replace(&mut self, measure: &Measure, by: Measure) {
        self.also.take_if(|also| also == measure || also.amount == by.amount);
        match &mut self.amount {
            Some(amount) if amount.is_mass() => *amount = by,
            _ => self.also = Some(by),
        }
    }
}

impl Measure {
    /// What is left of it: whole grams, or tenths of another unit.
    fn left(&self, share: Span<Percent>) -> Self {
        let Counting::Unit(unit) = self.amount.counting else { return self.clone() };
        let parts = if unit.id == "gram" { 1.0 } else { 10.0 };
        let of = |share: Percent, figure: f64| (figure * share.as_factor().value() * parts).round() / parts;
        let Number { low, value, high } = self.amount.number;
        let number = Number { low: of(share.low(), low), value: of(share.value(), value), high: of(share.high(), high) };
        Self { text: rendered(&number, unit.one), amount: Amount { number, counting: Counting::Unit(unit) } }
    }
}

/// Whether its amount is that of a tin or a jar.
pub(super) fn is_tinned(item: &Item) -> bool {
    let packed = |word: &str| matches!(word, "can" | "jar");
    item.notes.iter().any(|note| packed(note))
        || matches!(item.amount.as_ref().map(|measure| &measure.amount.counting), Some(Counting::Named(word)) if packed(word))
}

fn says(text: &str, words: &[&str]) -> bool {
    plain(text).split(|c: char| !c.is_alphabetic()).any(|said| words.contains(&said))
}
