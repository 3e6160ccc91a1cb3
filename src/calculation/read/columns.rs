//! A table that is headed with its units: "Ingredient | Grams | Cups". The head says what the bare numbers below it measure, and a row becomes a line as it would be written.

use crate::formula::{Item, is_sum};
use crate::quantity::{Counting, Family, Measures, Number, Pointer, Unit, plain, read_number};

/// What stands in a column.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Column {
    Name,
    /// Amounts, with the unit that their bare numbers are in where the head tells it.
    Amount(Option<&'static Unit>),
    /// Pounds and ounces in one cell: "12-8".
    PoundsAndOunces,
    /// The unit of the amount.
    Unit,
    /// Percentages of the flour.
    Percent,
    /// Anything else that is said of the ingredient.
    Note,
}

/// What parts the cells of a row.
#[derive(Clone, Copy, Debug)]
enum Parted {
    By(char),
    /// Gaps of two blanks or more.
    Wide,
}

/// The columns of a table, by its head.
#[derive(Debug)]
pub(super) struct Columns {
    columns: Vec<Column>,
    parted: Parted,
}

/// What is told of a head.
pub(super) struct Headed {
    pub columns: Columns,
    pub told: String,
    /// Why it must be looked at: two columns that measure in the same unit are not the same amount.
    pub doubt: Option<String>,
}

const NAMES: [&str; 7] = ["ingredient", "ingredients", "item", "material", "materials", "raw material", "name"];
const AMOUNTS: [&str; 11] = ["amount", "amounts", "quantity", "qty", "weight", "mass", "volume", "measure", "metric", "imperial", "us"];

impl Columns {
    /// Reads the head of a table; nothing where it is none, or tells no unit.
    pub(super) fn headed(line: &str, measures: Measures) -> Option<Headed> {
        let parted = Parted::of(line)?;
        let mut cells = parted.cells(line);
        // "                %      lb  oz": between gaps the empty head over the names is a gap itself.
        if matches!(parted, Parted::Wide) && line.starts_with("   ") {
            cells.insert(0, "");
        }
        let mut columns: Vec<Column> = cells.iter().map(|cell| column(cell, measures)).collect();
        let named = columns.iter().filter(|column| **column == Column::Name).count();
        // "| | Grams |": the first cell of a head may be left empty.
        if named == 0 && cells[0].is_empty() {
            columns[0] = Column::Name;
        } else if named != 1 {
            return None;
        }
        let mut units: Vec<(&str, usize)> = Vec::new();
        let mut again = None;
        for at in 0..columns.len() {
            let Column::Amount(Some(unit)) = columns[at] else { continue };
            let Some((_, first)) = units.iter_mut().find(|(known, _)| *known == unit.one) else {
                units.push((unit.one, at));
                continue;
            };
            // Of the parts and their sum the sum is the formula; of two batches the first.
            let sum = ["total", "overall", "whole"].iter().any(|word| plain(cells[at]).contains(word));
            let (kept, gone) = if sum { (at, *first) } else { (*first, at) };
            (*first, columns[gone]) = (kept, Column::Note);
            again = Some((unit.one, cells[kept]));
        }
        let both = columns.contains(&Column::PoundsAndOunces);
        if units.is_empty() && !both && !columns.contains(&Column::Unit) {
            return None;
        }
        let units: Vec<&str> = units.into_iter().map(|(unit, _)| unit).chain(both.then_some("lb and oz")).collect();
        let told = if units.is_empty() {
            "The head of a table, which has a column for the units".to_owned()
        } else {
            format!("The head of a table: bare numbers below it are in {}", units.join(", "))
        };
        let doubt = again
            .map(|(unit, kept)| format!("Several columns are in {unit}, and a formula has a place for one of them: \"{kept}\" is taken"));
        Some(Headed { columns: Self { columns, parted }, told, doubt })
    }

    /// A row of the table as a line would be written; nothing where the line is no row of it, or needs no unit.
    pub(super) fn line(&self, row: &str) -> Option<String> {
        let mut cells = self.parted.cells(row);
        // "H.R. shortening 55     2   12": after a long name the gap is one blank.
        if matches!(self.parted, Parted::Wide)
            && cells.len() + 1 == self.columns.len()
            && let Some((name, figure)) = cells[0].rsplit_once(' ').filter(|(_, figure)| is_number(figure))
        {
            cells.splice(0..1, [name.trim_end(), figure]);
        }
        // Between gaps nobody sees which cell is left empty.
        let fits = if matches!(self.parted, Parted::Wide) { cells.len() == self.columns.len() } else { cells.len() <= self.columns.len() };
        if !fits || cells.len() < 2 {
            return None;
        }
        // "| **Dough** | | |": the name of a part, marked or known for one.
        if let [name] = cells.iter().filter(|cell| !cell.is_empty()).collect::<Vec<_>>()[..] {
            return Some(if row.contains("**") { format!("{name}:") } else { (*name).to_owned() });
        }
        if !cells.iter().any(|cell| is_number(cell) || is_counted(cell)) {
            return None;
        }
        let of =
            |wanted: fn(&Column) -> bool| self.columns.iter().zip(&cells).filter(move |(column, cell)| wanted(column) && !is_empty(cell));
        let name = of(|column| *column == Column::Name).map(|(_, cell)| *cell).next()?;
        let unit = of(|column| *column == Column::Unit).map(|(_, cell)| *cell).next();
        let amounts: Vec<(&Column, &&str)> = of(|column| matches!(column, Column::Amount(_) | Column::PoundsAndOunces)).collect();
        let amounts = parts_of_one(&amounts).unwrap_or_else(|| {
            let texts = amounts.iter().map(|(column, cell)| match column {
                Column::Amount(Some(unit)) => match number(cell) {
                    Some(number) => format!("{cell} {}", if number.value > 1.0 { unit.many } else { unit.one }),
                    None => (**cell).to_owned(),
                },
                Column::PoundsAndOunces => pounds_and_ounces(cell).unwrap_or_else(|| (**cell).to_owned()),
                _ => unit.map_or_else(|| (**cell).to_owned(), |unit| format!("{cell} {unit}")),
            });
            texts.collect::<Vec<_>>().join(" / ")
        });
        if amounts.is_empty() {
            return None;
        }
        // "Total": what opens as no ingredient does is known by its first word.
        let mut line = if is_sum(name) { format!("{name} {amounts}") } else { format!("{amounts} {name}") };
        for (_, percent) in of(|column| *column == Column::Percent) {
            // Without its sign, for behind chocolate that tells the cocoa.
            line.extend([", baker's percentage ", percent.trim_end_matches('%').trim_end()]);
        }
        // A bare number of another batch is no remark on this one.
        of(|column| *column == Column::Note).filter(|(_, cell)| !is_number(cell)).for_each(|(_, cell)| line.extend([", ", cell]));
        Some(line)
    }
}

/// "1 pod", "3 large": a number with one word, which is none of a time or an oven.
fn is_counted(cell: &str) -> bool {
    let Some((figure, word)) = cell.split_once(' ') else { return false };
    let timed = ["min", "mins", "minutes", "h", "hr", "hrs", "hour", "hours", "c", "f", "days"].contains(&&*plain(word));
    is_number(figure) && !timed && word.chars().all(char::is_alphabetic)
}

/// A large unit and the small one of which it holds so many.
const LARGE: [(&str, &str, f64); 2] = [("lb", "oz", 16.0), ("kg", "g", 1000.0)];

/// "LB | OZ" above "12 | 8", "kg | g" above "1 | 250": two columns for one amount. Where the second alone says as much as the first they are two measures of it.
fn parts_of_one(amounts: &[(&Column, &&str)]) -> Option<String> {
    let [(Column::Amount(Some(large)), first), (Column::Amount(Some(small)), second)] = amounts else { return None };
    let (.., holds) = LARGE.iter().find(|(one, other, _)| large.one == *one && small.one == *other)?;
    let (first, second) = (number(first)?.value, number(second)?.value);
    let parted = first.fract() == 0.0 && second < *holds && second != first * holds;
    parted.then(|| joint(first, large.one, second, small.one))
}

/// "12-8", "0-5", "6 - 4": pounds, and ounces behind them; a bare number is pounds.
fn pounds_and_ounces(cell: &str) -> Option<String> {
    let (pounds, ounces) = match cell.split_once(['-', '–', ':', '/', ' ']) {
        Some((pounds, ounces)) => (number(pounds.trim())?.value, number(ounces.trim_start_matches(['-', '–', ' ']))?.value),
        None => (number(cell)?.value, 0.0),
    };
    (pounds.fract() == 0.0 || ounces == 0.0).then(|| joint(pounds, "lb", ounces, "oz"))
}

fn joint(large: f64, large_unit: &str, small: f64, small_unit: &str) -> String {
    match (large > 0.0, small > 0.0) {
        (true, true) => format!("{large} {large_unit} {small} {small_unit}"),
        (false, true) => format!("{small} {small_unit}"),
        _ => format!("{large} {large_unit}"),
    }
}

/// Eggs are counted in tables of grams too: of so few grams no egg is made.
const LEAST_EGG: f64 = 12.0;

/// What stands in a column of grams and may have been counted is doubted.
pub(super) fn may_be_counted(items: &mut [Item]) {
    for item in items {
        let (Some(_), Some(amount)) = (item.ingredient.and_then(|known| known.egg_part()), &item.amount) else { continue };
        let figure = amount.amount.number.value;
        if matches!(amount.amount.counting, Counting::Unit(unit) if unit.id == "gram") && figure < LEAST_EGG && figure.fract() == 0.0 {
            item.doubts.push(format!("{} is less than one weighs: where it is the number of them, write that", amount.text));
            item.tries.push(format!("{figure} {}", item.name()));
        }
    }
}

fn column(head: &str, measures: Measures) -> Column {
    let head = plain(head);
    if NAMES.contains(&&*head) {
        return Column::Name;
    }
    // "per 100 g" measures no ingredient.
    if head.starts_with(|c: char| c.is_ascii_digit()) || head.starts_with("per ") {
        return Column::Note;
    }
    if matches!(&*head, "unit" | "units" | "uom") {
        return Column::Unit;
    }
    if head.contains('%') || head.contains("percent") {
        return Column::Percent;
    }
    // "Weight (g)", "grams", "US cups", "metric, g".
    let words = || head.split(|c: char| !c.is_alphanumeric() && c != '.').filter(|word| !word.is_empty());
    let unit = |word: &str| Unit::of_word(word, measures).filter(|unit| matches!(unit.family, Family::Mass | Family::Volume));
    let has = |wanted: &str| words().filter_map(unit).any(|found| found.one == wanted);
    if has("lb") && has("oz") {
        return Column::PoundsAndOunces;
    }
    let found = unit(&head).or_else(|| words().find_map(unit));
    if found.is_some() || words().any(|word| AMOUNTS.contains(&word)) { Column::Amount(found) } else { Column::Note }
}

impl Parted {
    /// What parts the cells of a head: the first that parts it at all.
    fn of(line: &str) -> Option<Self> {
        let line = line.trim_matches(' ');
        let by = ['|', '\t', ';', ','].into_iter().find(|mark| line.contains(*mark)).map(Self::By);
        by.or_else(|| line.contains("  ").then_some(Self::Wide))
    }

    fn cells(self, line: &str) -> Vec<&str> {
        let line = line.trim_matches(' ');
        let parts: Vec<&str> = match self {
            Self::By('|') => {
                let inner = line.strip_prefix('|').unwrap_or(line);
                inner.strip_suffix('|').unwrap_or(inner).split('|').collect()
            }
            Self::By(mark) if line.contains('"') => quoted(line, mark),
            Self::By(mark) => line.split(mark).collect(),
            Self::Wide => line.split("  ").map(str::trim).filter(|part| !part.is_empty()).collect(),
        };
        parts.into_iter().map(|cell| cell.trim().trim_matches('*').trim()).collect()
    }
}

/// The cells of a row whose marks may stand within quotation marks: "Flour, bread",25,kg.
fn quoted(line: &str, mark: char) -> Vec<&str> {
    let (mut cells, mut from, mut open) = (Vec::new(), 0, false);
    for (at, letter) in line.char_indices() {
        open ^= letter == '"';
        if letter == mark && !open {
            cells.push(&line[from..at]);
            from = at + letter.len_utf8();
        }
    }
    cells.push(&line[from..]);
    let bare = |cell: &'_ str| cell.trim().strip_prefix('"').and_then(|cell| cell.strip_suffix('"')).is_some();
    cells.into_iter().map(|cell| if bare(cell) { &cell.trim()[1..cell.trim().len() - 1] } else { cell }).collect()
}

fn number(cell: &str) -> Option<Number> {
    read_number(cell, &Pointer::ROOT).ok()?.filter(|(_, rest)| rest.is_empty()).map(|(number, _)| number)
}

fn is_number(cell: &str) -> bool {
    number(cell).is_some()
}

fn is_empty(cell: &str) -> bool {
    cell.chars().all(|c| matches!(c, '-' | '–' | '—' | '.'))
}
