//! What stands in brackets on a line: further measures, or a remark.

use super::Item;
use super::amount::lead;
use super::compound::goes_on;
use super::noted::{add, remark};
use super::read::Reader;
use super::text::bracketed;
use crate::quantity::{Counting, Factor, Family, strip_ignoring_case};

impl Reader<'_> {
    /// What stands in brackets: further measures, or a remark.
    pub(super) fn bracket(&self, inner: &str, item: &mut Item) {
        let mut rest = self.lessened(inner, item).unwrap_or(inner).trim();
        while let Ok(Some(further)) = lead(rest, self.measures) {
            if matches!(further.measure.amount.counting, Counting::Nothing | Counting::Size(_)) {
                break;
            }
            let behind = further.rest.trim_start();
            // "1/2 cup if you like it less sweet" is another amount, not the same in a second measure; nor is the stick of "1 stick + 1 tbsp".
            // "4 egg whites (60 g eggs)": so heavy is each egg that they come from.
            if behind.starts_with("if ") || goes_on(behind) || matches!(behind.trim(), "egg" | "eggs") {
                break;
            }
            if let Some(after) = ["each", "apiece", "ea.", "ea"].iter().find_map(|word| strip_ignoring_case(behind, word)) {
                let count = item.amount.as_ref().map_or(1.0, |amount| amount.amount.number.value);
                add(item, further.measure.times(Factor::times(count)));
                rest = after;
            } else {
                add(item, further.measure);
                rest = behind;
            }
            rest = rest.trim_start_matches(|c: char| matches!(c, ';' | '/' | ',' | '|' | '=') || c.is_whitespace());
            rest = strip_ignoring_case(rest, "or ").unwrap_or(rest);
        }
        let rest = rest.trim();
        // "about 1¼ cups mashed; 300 g": another measure behind the remark, with nothing behind it.
        let alone = |tail: &str| {
            let found = lead(tail, self.measures).ok().flatten();
            found.is_some_and(|found| matches!(found.measure.family(), Family::Mass | Family::Volume) && found.rest.trim().is_empty())
        };
        let (said, more) = rest.rsplit_once([';', ',']).filter(|(_, tail)| alone(tail)).unwrap_or((rest, ""));
        if !said.is_empty() {
            remark(said.trim(), item);
        }
        if !more.is_empty() {
            self.bracket(more, item);
        }
    }
}

/// The text without its brackets; what stood in them is read.
pub(super) fn without_brackets<'t>(text: &'t str, item: &mut Item, reader: &Reader<'_>) -> std::borrow::Cow<'t, str> {
    if !text.contains(['(', '[']) {
        return text.into();
    }
    let (mut out, mut rest) = (String::with_capacity(text.len()), text);
    while let Some(at) = rest.find(['(', '[']) {
        out.push_str(rest[..at].trim_end());
        out.push(' ');
        let Some((inner, behind)) = bracketed(&rest[at..]) else { break };
        reader.bracket(inner, item);
        rest = behind.trim_start_matches(' ');
        if rest.starts_with(',') {
            out.pop();
        }
    }
    out.push_str(rest);
    out.into()
}
