//! Lists whose amounts stand without a unit: "All in grams" tells it for all; where no line does, none of them is a number of eggs.

use std::borrow::Cow;

use super::gathered::Gathered;
use crate::formula::{Item, LineRead, is_all_in_grams, opens_as_yield, read_line};
use crate::quantity::Counting;

/// The lines with the unit that one of them tells for all; where none does, as they are.
pub(super) fn in_grams(lines: Vec<&str>) -> Vec<Cow<'_, str>> {
    let told = lines.iter().any(|line| line.len() < 120 && is_all_in_grams(line));
    lines.into_iter().map(|line| if told { with_grams(line) } else { Cow::Borrowed(line) }).collect()
}

fn with_grams(line: &str) -> Cow<'_, str> {
    bare_pieces(line).map_or(Cow::Borrowed(line), |pieces| {
        Cow::Owned(pieces.iter().map(|piece| format!("{} g", piece.trim_end())).collect::<Vec<_>>().join(", "))
    })
}

/// "Butter 100", "Flour 100, egg 50": the pieces of a line of which each is a name with a number.
fn bare_pieces(line: &str) -> Option<Vec<&str>> {
    if is_bare(line) {
        return Some(vec![line]);
    }
    let pieces: Vec<&str> = line.split([',', ';']).map(str::trim).filter(|piece| !piece.is_empty()).collect();
    (pieces.len() > 1 && pieces.iter().all(|piece| is_bare(piece))).then_some(pieces)
}

/// From so many names with a bare number on, of which so many cannot be counted, it is a list without units.
const LIST: usize = 3;
const UNCOUNTED: usize = 2;
/// Up to so many, a number in such a list is one of eggs.
const SURELY_COUNTED: f64 = 6.0;

/// What is said once of such a list.
const LISTED: &str =
    "The list has no unit: write g behind each, if it is grams or percentages of the flour; a line \"All in grams\" says it of all";

impl Gathered<'_> {
    /// Whether a list stands without its unit: names with a bare number behind, and flour and sugar among them.
    pub(super) fn is_without_units<'l>(&self, lines: impl Iterator<Item = &'l str>) -> bool {
        let pieces: Vec<&str> = lines.filter_map(bare_pieces).flatten().collect();
        let uncounted = |piece: &&&str| self.bare_item(piece).is_some_and(|item| item.amount.is_none() && item.ingredient.is_some());
        pieces.len() >= LIST && pieces.iter().filter(uncounted).take(UNCOUNTED).count() == UNCOUNTED
    }

    fn bare_item(&self, piece: &str) -> Option<Item> {
        match read_line(piece, self.measures.unwrap_or_default(), self.reference) {
            LineRead::Items(items) => items.into_iter().next(),
            _ => None,
        }
    }

    /// A line of such a list: what it names, and that nobody says what its numbers are.
    pub(super) fn without_units(&self, bare: &str) -> Option<LineRead> {
        let asked = |piece: &str| {
            let mut item = self.bare_item(piece)?;
            let counted = item.amount.take_if(|amount| amount.amount.counting == Counting::Nothing);
            if let Some(few) = counted.as_ref().map(|amount| amount.amount.number.value).filter(|count| *count <= SURELY_COUNTED) {
                item.amount = counted;
                item.doubts.push(format!("{few} is taken as the number of them, in a list without units"));
                item.tries = vec![format!("{few} g {}", item.name())];
            } else if counted.is_some() || !item.faults.is_empty() {
                let figure = piece.trim().rsplit([' ', '\t', '.']).next().unwrap_or_default();
                item.doubts.clear();
                item.faults = vec![format!("{figure} has no unit"), LISTED.to_owned()];
                item.tries = vec![format!("{figure} g {}", item.name())];
            }
            item.ingredient.is_some().then_some(item)
        };
        bare_pieces(bare)?.into_iter().map(asked).collect::<Option<Vec<_>>>().map(LineRead::Items)
    }
}

/// "Butter 100", "butter ..... 12.5": a name with a number behind it, and nothing behind that.
fn is_bare(line: &str) -> bool {
    let line = line.trim();
    let name = line.trim_end_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',')).trim_end();
    let figure = &line[name.len()..];
    line.starts_with(char::is_alphabetic)
        && !opens_as_yield(line)
        && figure.ends_with(|c: char| c.is_ascii_digit())
        && figure.starts_with([' ', '\t', '.'])
        && !name.contains(|c: char| c.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_without_a_unit_is_in_grams_where_a_line_says_so_of_all() {
        let told = |lines: &[&'static str]| in_grams(lines.to_vec()).iter().map(|line| line.to_string()).collect::<Vec<_>>();
        assert_eq!(
            told(&["butter 100", "Eggs 2 large", "rum 12.5", "(all in grams)"]),
            ["butter 100 g", "Eggs 2 large", "rum 12.5 g", "(all in grams)"]
        );
        assert_eq!(told(&["Frangipane (weights in grams)", "flour 20"]), ["Frangipane (weights in grams)", "flour 20 g"]);
        assert_eq!(told(&["Flour 100, egg 50", "(all in grams)"])[0], "Flour 100 g, egg 50 g");
        assert_eq!(told(&["Makes 12", "butter 100", "in grams"]), ["Makes 12", "butter 100 g", "in grams"]);
        assert_eq!(told(&["butter 100", "rum 10"]), ["butter 100", "rum 10"]);
        assert_eq!(told(&["Layer 1", "All amounts in g."])[1], "All amounts in g.");
    }
}
