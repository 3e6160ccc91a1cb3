//! One data file as rows: read once at start, every cell asked for by its column's name, every fault told by file and line.

use csv::StringRecord;
use foldhash::HashMap;

use crate::quantity::{Quantifiable, Span};

/// A data file that is part of the program.
#[derive(Clone, Copy, Debug)]
pub struct DataFile {
    pub name: &'static str,
    pub text: &'static str,
}

/// One row of a data file.
pub struct Row {
    columns: &'static Columns,
    cells: &'static StringRecord,
    file: &'static str,
    line: u64,
}

/// Where each column stands. Every cell is asked for by name, tens of thousands of them at start.
type Columns = HashMap<Box<str>, usize>;

/// Why a table cannot be used: file, line and what is wrong with it.
pub type TableFault = String;

impl DataFile {
    /// All rows. The tables live as long as the program, so their cells are kept where they are and never copied again.
    pub fn rows(self) -> Result<Vec<Row>, TableFault> {
        let mut reader = csv::ReaderBuilder::new().from_reader(self.text.as_bytes());
        let names = reader.headers().map_err(|e| format!("{}: {e}", self.name))?;
        let columns: &'static Columns = Box::leak(Box::new(names.iter().zip(0..).map(|(name, at)| (name.into(), at)).collect()));
        reader
            .into_records()
            .map(|record| {
                let record = record.map_err(|e| format!("{}: {e}", self.name))?;
                let line = record.position().map_or(0, csv::Position::line);
                Ok(Row { columns, cells: Box::leak(Box::new(record)), file: self.name, line })
            })
            .collect()
    }
}

impl Row {
    /// The fault of this row.
    pub fn fault(&self, what: impl std::fmt::Display) -> TableFault {
        format!("{} line {}: {what}", self.file, self.line)
    }

    /// A cell's text; empty where the cell is.
    pub fn text(&self, column: &str) -> Result<&'static str, TableFault> {
        self.columns
            .get(column)
            .and_then(|at| self.cells.get(*at))
            .map(str::trim)
            .ok_or_else(|| self.fault(format_args!("no column {column}")))
    }

    /// A cell that must hold something.
    pub fn required(&self, column: &str) -> Result<&'static str, TableFault> {
        let text = self.text(column)?;
        if text.is_empty() { Err(self.fault(format_args!("{column} is empty"))) } else { Ok(text) }
    }

    /// A cell's parts, parted by `|`.
    pub fn list(&self, column: &str) -> Result<Vec<&'static str>, TableFault> {
        Ok(self.text(column)?.split('|').map(str::trim).filter(|part| !part.is_empty()).collect())
    }

    /// A cell that says yes or no.
    pub fn flag(&self, column: &str) -> Result<bool, TableFault> {
        match self.required(column)? {
            "0" => Ok(false),
            "1" => Ok(true),
            other => Err(self.fault(format_args!("{column} is neither 0 nor 1: {other}"))),
        }
    }

    /// A cell's number, if it holds one.
    pub(crate) fn number(&self, column: &str) -> Result<Option<f64>, TableFault> {
        let text = self.text(column)?;
        if text.is_empty() {
            return Ok(None);
        }
        match text.parse::<f64>() {
            Ok(number) if number.is_finite() => Ok(Some(number)),
            _ => Err(self.fault(format_args!("{column} is no number: {text}"))),
        }
    }

    /// A figure with its ends, from three columns: an end that is not there is the figure.
    pub(super) fn span(&self, value: &str, low: &str, high: &str) -> Result<Option<Figures>, TableFault> {
        let [low, high] = [self.number(low)?, self.number(high)?];
        let Some(figure) = self.number(value)? else {
            return if low.or(high).is_none() { Ok(None) } else { Err(self.fault(format_args!("an end without its {value}"))) };
        };
        let [low, high] = [low, high].map(|end| end.unwrap_or(figure));
        if low > figure || figure > high {
            return Err(self.fault(format_args!("{value} is not between its ends")));
        }
        Ok(Some(Figures { low, value: figure, high }))
    }

    /// The two ends of a range, of which neither stands without the other.
    pub(crate) fn ends(&self, low: &str, high: &str) -> Result<Option<[f64; 2]>, TableFault> {
        match (self.number(low)?, self.number(high)?) {
            (None, None) => Ok(None),
            (Some(least), Some(most)) if least <= most => Ok(Some([least, most])),
            _ => Err(self.fault(format_args!("{low} and {high} are not the two ends of a range"))),
        }
    }

    /// A cell that must hold a number.
    pub(crate) fn figure(&self, column: &str) -> Result<f64, TableFault> {
        self.number(column)?.ok_or_else(|| self.fault(format_args!("{column} is empty")))
    }
}

/// Three figures before they are told what they measure.
#[derive(Debug, PartialEq)]
pub(super) struct Figures {
    low: f64,
    value: f64,
    high: f64,
}

impl Figures {
    pub(super) fn map<T: Quantifiable>(self, make: impl Fn(f64) -> T) -> Span<T> {
        Span::new(make(self.low), make(self.value), make(self.high))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(text: &'static str) -> Row {
        let mut rows = DataFile { name: "trial.csv", text }.rows().unwrap_or_else(|fault| panic!("{fault}"));
        rows.pop().unwrap_or_else(|| panic!("no row"))
    }

    #[test]
    fn what_is_neither_yes_nor_no_is_no_quiet_no() {
        let flag = |text| row(text).flag("whole");
        assert_eq!([flag("whole\n0"), flag("whole\n1")], [Ok(false), Ok(true)]);
        assert_eq!(flag("whole,\nyes,"), Err("trial.csv line 2: whole is neither 0 nor 1: yes".into()));
        assert!(flag("whole,other\n,a").is_err());
    }

    #[test]
    fn a_figure_stands_between_its_ends() {
        let span = |text| row(text).span("value", "low", "high");
        assert_eq!(span("value,low,high\n2,1,"), Ok(Some(Figures { low: 1.0, value: 2.0, high: 2.0 })));
        assert_eq!(span("value,low,high\n,,"), Ok(None));
        assert!(["value,low,high\n2,3,", "value,low,high\n2,,1", "value,low,high\n,1,"].into_iter().all(|text| span(text).is_err()));
    }

    #[test]
    fn an_end_alone_is_no_range() {
        let ends = |text| row(text).ends("low", "high");
        assert_eq!([ends("low,high\n1,2"), ends("low,high\n,")], [Ok(Some([1.0, 2.0])), Ok(None)]);
        assert!(["low,high\n1,", "low,high\n,2", "low,high\n2,1"].into_iter().all(|text| ends(text).is_err()));
    }
}
