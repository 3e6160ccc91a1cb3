//! A table as it comes (RFC 4180), cut into rows of cells. A row with nothing in it is a row, so that answers stand beside their questions; of a row
//! beyond the limit nothing is kept.

/// Cuts one table.
pub struct Rows {
    cells: Vec<Vec<u8>>,
    cell: Vec<u8>,
    within: Within,
    separator: u8,
    most: usize,
    /// The bytes of this row so far.
    length: usize,
}

/// What some spreadsheets write before the first cell, quoted or not.
const BYTE_ORDER_MARK: &[u8] = b"\xEF\xBB\xBF";

#[derive(Clone, Copy, Debug, PartialEq)]
enum Within {
    /// At the beginning of the table, behind so many bytes of a byte order mark.
    Mark(usize),
    /// Before the first byte of a row.
    Nothing,
    Start,
    Plain,
    Quoted,
    /// Behind a quote inside a quoted cell: it ends the cell, or is the first of two.
    Quote,
    /// Behind a cell that has ended, among blanks.
    Ended,
    /// Behind a quote that neither ended its cell nor was doubled: up to the end of the line nothing is certain.
    Spoiled,
}

/// One row.
#[derive(Debug, PartialEq)]
pub enum Row {
    Cells(Vec<Vec<u8>>),
    /// Longer than is allowed, by its bytes.
    TooLong(usize),
    /// A quoted cell without an end.
    Open(Vec<Vec<u8>>),
    /// A quoted cell with more behind its quote: a quote within was not doubled. Read on, it would swallow the rows that follow.
    Spoiled(Vec<Vec<u8>>),
}

impl Rows {
    pub fn new(separator: u8, most: usize) -> Self {
        Self { cells: Vec::new(), cell: Vec::new(), within: Within::Mark(0), separator, most, length: 0 }
    }

    /// The next row that has ended, taken off what has come.
    pub fn next(&mut self, come: &mut &[u8]) -> Option<Row> {
        while let Some((&byte, rest)) = come.split_first() {
            *come = rest;
            if self.take(byte) {
                return Some(self.row());
            }
        }
        None
    }

    /// The last row, where no line break ends it.
    pub fn last(&mut self) -> Option<Row> {
        if let Within::Mark(bytes) = self.within {
            self.no_mark(bytes);
        }
        if self.within == Within::Nothing {
            return None;
        }
        self.end_cell();
        Some(self.row())
    }

    /// So many bytes were no beginning of a byte order mark, but of a cell.
    fn no_mark(&mut self, bytes: usize) {
        self.length = bytes;
        self.cell.extend_from_slice(&BYTE_ORDER_MARK[..bytes]);
        self.within = if bytes == 0 { Within::Nothing } else { Within::Plain };
    }

    /// Takes one byte; tells whether it ended the row.
    fn take(&mut self, byte: u8) -> bool {
        if let Within::Mark(bytes) = self.within {
            if byte == BYTE_ORDER_MARK[bytes] {
                let whole = bytes + 1 == BYTE_ORDER_MARK.len();
                self.within = if whole { Within::Nothing } else { Within::Mark(bytes + 1) };
                return false;
            }
            self.no_mark(bytes);
        }
        self.length += 1;
        match (self.within, byte) {
            (Within::Quoted, b'"') => self.within = Within::Quote,
            (Within::Quoted, _) => self.keep(byte),
            (Within::Quote, b'"') => {
                self.keep(b'"');
                self.within = Within::Quoted;
            }
            (_, b'\n') => {
                self.end_cell();
                return true;
            }
            (within, byte) if byte == self.separator && within != Within::Spoiled => {
                self.end_cell();
                self.within = Within::Start;
            }
            (Within::Nothing | Within::Start, b'"') => self.within = Within::Quoted,
            (Within::Quote | Within::Ended, b'\r') => {}
            (Within::Quote | Within::Ended, b' ' | b'\t') => {
                self.keep(byte);
                self.within = Within::Ended;
            }
            (Within::Quote | Within::Ended | Within::Spoiled, _) => {
                self.keep(byte);
                self.within = Within::Spoiled;
            }
            _ => {
                self.keep(byte);
                self.within = Within::Plain;
            }
        }
        false
    }

    fn keep(&mut self, byte: u8) {
        if self.length <= self.most {
            self.cell.push(byte);
        }
    }

    fn end_cell(&mut self) {
        let mut cell = std::mem::take(&mut self.cell);
        if matches!(self.within, Within::Plain | Within::Spoiled) && cell.last() == Some(&b'\r') {
            cell.pop();
        }
        if self.length <= self.most {
            self.cells.push(cell);
        }
    }

    fn row(&mut self) -> Row {
        let cells = std::mem::take(&mut self.cells);
        let within = std::mem::replace(&mut self.within, Within::Nothing);
        let length = std::mem::take(&mut self.length);
        if length > self.most {
            return Row::TooLong(length);
        }
        match within {
            Within::Quoted => Row::Open(cells),
            Within::Spoiled => Row::Spoiled(cells),
            _ => Row::Cells(cells),
        }
    }
}

/// Writes a row with CRLF behind it; a cell is quoted where it must be.
pub fn write(cells: &[impl AsRef<str>], separator: u8, out: &mut Vec<u8>) {
    for (index, cell) in cells.iter().enumerate() {
        if index > 0 {
            out.push(separator);
        }
        let cell = cell.as_ref().as_bytes();
        if cell.iter().any(|byte| matches!(byte, b'"' | b'\r' | b'\n') || *byte == separator) {
            out.push(b'"');
            for byte in cell {
                if *byte == b'"' {
                    out.push(b'"');
                }
                out.push(*byte);
            }
            out.push(b'"');
        } else {
            out.extend_from_slice(cell);
        }
    }
    out.extend_from_slice(b"\r\n");
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(text: &[u8], size: usize) -> Vec<Row> {
        let mut rows = Rows::new(b',', 100);
        let mut found = Vec::new();
        for mut piece in text.chunks(size) {
            while let Some(row) = rows.next(&mut piece) {
                found.push(row);
            }
        }
        found.extend(rows.last());
        found
    }

    fn cells(of: &[&str]) -> Row {
        Row::Cells(of.iter().map(|cell| cell.as_bytes().to_vec()).collect())
    }

    #[test]
    fn rows_are_the_same_however_the_bytes_come_and_a_blank_row_is_a_row() {
        let text = b"a,b\r\n\r\n\"x, \"\"y\"\"\nz\",2\n,\n\"\",q\r\nlast,";
        let expected =
            [cells(&["a", "b"]), cells(&[""]), cells(&["x, \"y\"\nz", "2"]), cells(&["", ""]), cells(&["", "q"]), cells(&["last", ""])];
        for size in 1..=text.len() {
            assert_eq!(cut(text, size), expected, "pieces of {size}");
        }
    }

    #[test]
    fn a_byte_order_mark_is_no_part_of_the_first_cell_quoted_or_not() {
        let plain = [cells(&["a, b", "c"]), cells(&["\u{feff}d"])];
        let text = "\u{feff}\"a, b\",c\n\u{feff}d".as_bytes();
        for size in 1..=text.len() {
            assert_eq!(cut(text, size), plain, "pieces of {size}");
        }
        assert_eq!(cut("\u{feff}a".as_bytes(), 2), [cells(&["a"])]);
        assert_eq!(cut("\u{feff}".as_bytes(), 1), []);
        assert_eq!(cut(b"\xEF\xBB", 1), [Row::Cells(vec![b"\xEF\xBB".to_vec()])]);
        assert_eq!(cut("\u{fec0},a".as_bytes(), 1), [cells(&["\u{fec0}", "a"])]);
    }

    #[test]
    fn a_row_too_long_is_told_and_the_next_is_read() {
        let text = [b"a,".as_slice(), &[b'x'; 200], b"\r\nb,c"].concat();
        assert_eq!(cut(&text, 7), [Row::TooLong(204), cells(&["b", "c"])]);
        assert_eq!(cut(b"\"never closed,1\n2", 4), [Row::Open(vec![b"never closed,1\n2".to_vec()])]);
    }

    #[test]
    fn a_quote_that_is_not_doubled_costs_its_own_row_and_no_other() {
        let text = b"\"9\" round, deep\",x\r\n\"9\"\" round\",y\r\n9\" round,z\n\"a\" ,\"b\"\t\r\n";
        for size in 1..=text.len() {
            let read = [
                Row::Spoiled(vec![b"9 round, deep\",x".to_vec()]),
                cells(&["9\" round", "y"]),
                cells(&["9\" round", "z"]),
                cells(&["a ", "b\t"]),
            ];
            assert_eq!(cut(text, size), read, "pieces of {size}");
        }
        assert_eq!(cut(b"\"a\"b", 1), [Row::Spoiled(vec![b"ab".to_vec()])]);
    }

    #[test]
    fn what_is_written_is_read_again_as_it_was() {
        let row = ["plain", "a,b", "say \"when\"", "two\r\nlines", "", "1 cup; 2"];
        let mut out = Vec::new();
        write(&row, b',', &mut out);
        assert_eq!(cut(&out, 3), [cells(&row)]);
    }
}
