//! The card as a table for a spreadsheet: a row a line, RFC 4180. A cell that a spreadsheet would take for a formula gets an apostrophe in front.

use super::answer::CardAnswer;
use crate::quantity::Figure;

const COLUMNS: [&str; 9] = ["part", "ingredient", "grams", "low", "high", "measure", "note", "cost", "text"];

pub(super) fn laid_out(card: &CardAnswer) -> String {
    let mut text = row(COLUMNS.iter().map(|name| (*name).to_owned()));
    for part in &card.parts {
        for line in &part.lines {
            let end = |end: Option<Figure>| end.map(figure).unwrap_or_default();
            let cells = [
                safe(&part.part),
                safe(line.called()),
                figure(line.amount.value),
                end(line.amount.low),
                end(line.amount.high),
                safe(line.measure.as_deref().unwrap_or_default()),
                safe(line.note.as_deref().unwrap_or_default()),
                line.cost.as_ref().map(|cost| figure(cost.amount)).unwrap_or_default(),
                safe(&line.amount.text),
            ];
            text.push_str(&row(cells.into_iter()));
        }
    }
    text
}

fn figure(figure: Figure) -> String {
    figure.rounded().to_string()
}

/// A text that no spreadsheet computes.
fn safe(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{text}") } else { text.to_owned() }
}

fn row(cells: impl Iterator<Item = String>) -> String {
    let quoted = |cell: String| {
        if cell.contains([',', '"', '\r', '\n']) { format!("\"{}\"", cell.replace('"', "\"\"")) } else { cell }
    };
    let mut row = cells.map(quoted).collect::<Vec<_>>().join(",");
    row.push_str("\r\n");
    row
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_cell_is_taken_for_a_formula() {
        for text in ["=1+1", "+1", "-1", "@sum", "\tx", "\rx"] {
            assert!(safe(text).starts_with('\''), "{text:?}");
        }
        assert_eq!(safe("1/2 cup"), "1/2 cup");
    }

    #[test]
    fn quotes_are_doubled_and_lines_end_as_the_standard_has_it() {
        assert_eq!(row(["a".to_owned(), "b \"c\", d".to_owned()].into_iter()), "a,\"b \"\"c\"\", d\"\r\n");
    }
}
