//! Bytes as they come, cut into lines. Only the part of a line that has not ended is kept, and of a line beyond the limit nothing.

use memchr::memchr;

/// Cuts one stream.
pub struct Cutter {
    /// The beginning of a line whose end has not come yet.
    part: Vec<u8>,
    /// The bytes of that line so far.
    length: usize,
    number: usize,
    most: usize,
    given: bool,
}

/// A line with something in it.
#[derive(Debug, PartialEq)]
pub enum Line<'l> {
    Question(&'l [u8]),
    /// Longer than is allowed, by its bytes.
    TooLong(usize),
}

const BYTE_ORDER_MARK: &[u8] = b"\xEF\xBB\xBF";

impl Cutter {
    pub fn new(most: usize) -> Self {
        Self { part: Vec::new(), length: 0, number: 0, most, given: false }
    }

    /// Lines that have ended until now, blank ones too.
    pub fn number(&self) -> usize {
        self.number
    }

    /// The next line that is not blank, taken off what has come; nothing when the rest is kept until more comes.
    pub fn next<'l, 'c: 'l>(&'l mut self, come: &mut &'c [u8]) -> Option<(usize, Line<'l>)> {
        loop {
            if self.given {
                self.part.clear();
                self.length = 0;
                self.given = false;
            }
            let Some(end) = memchr(b'\n', come) else {
                self.keep(come);
                *come = &[];
                return None;
            };
            let (line, rest) = come.split_at(end);
            *come = &rest[1..];
            self.number += 1;
            if self.length == 0 {
                let line = self.trimmed(line);
                if line.is_empty() {
                    continue;
                }
                return Some((self.number, self.judged(line)));
            }
            self.keep(line);
            self.given = true;
            if self.length > self.most + BYTE_ORDER_MARK.len() {
                return Some((self.number, Line::TooLong(self.length)));
            }
            if self.trimmed(&self.part).is_empty() {
                continue;
            }
            return Some((self.number, self.judged(self.trimmed(&self.part))));
        }
    }

    /// The last line, where it has no end of its own.
    pub fn last(&mut self) -> Option<(usize, Line<'_>)> {
        if self.given || self.length == 0 {
            return None;
        }
        self.given = true;
        self.number += 1;
        if self.length > self.most + BYTE_ORDER_MARK.len() {
            return Some((self.number, Line::TooLong(self.length)));
        }
        let line = self.trimmed(&self.part);
        (!line.is_empty()).then(|| (self.number, self.judged(line)))
    }

    fn judged<'b>(&self, line: &'b [u8]) -> Line<'b> {
        if line.len() > self.most { Line::TooLong(line.len()) } else { Line::Question(line) }
    }

    fn keep(&mut self, bytes: &[u8]) {
        self.length += bytes.len();
        if self.length > self.most + BYTE_ORDER_MARK.len() + 1 {
            self.part = Vec::new();
        } else {
            self.part.extend_from_slice(bytes);
        }
    }

    /// Without blanks around it, and the first line without a byte order mark.
    fn trimmed<'b>(&self, line: &'b [u8]) -> &'b [u8] {
        let line = if self.number == 1 { line.strip_prefix(BYTE_ORDER_MARK).unwrap_or(line) } else { line };
        line.trim_ascii()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The lines of a text that comes in pieces of so many bytes.
    fn cut(text: &[u8], size: usize, most: usize) -> Vec<(usize, String)> {
        let mut cutter = Cutter::new(most);
        let mut lines = Vec::new();
        let told = |(number, line): (usize, Line<'_>)| match line {
            Line::Question(line) => (number, String::from_utf8_lossy(line).into_owned()),
            Line::TooLong(bytes) => (number, format!("{bytes} bytes")),
        };
        for mut piece in text.chunks(size) {
            while let Some(line) = cutter.next(&mut piece).map(told) {
                lines.push(line);
            }
        }
        lines.extend(cutter.last().map(told));
        lines
    }

    #[test]
    fn lines_are_the_same_however_the_bytes_come() {
        let text = b"\xEF\xBB\xBF{\"a\":1}\r\n\n  \r\n{\"b\":2}\n\xEF\xBB\xBFx\nlast";
        let expected = [(1, "{\"a\":1}"), (4, "{\"b\":2}"), (5, "\u{feff}x"), (6, "last")].map(|(n, line)| (n, line.to_owned()));
        for size in 1..=text.len() {
            assert_eq!(cut(text, size, 20), expected, "pieces of {size}");
        }
    }

    #[test]
    fn a_line_beyond_the_limit_is_told_by_its_length_and_not_kept() {
        let text = [b"ok\n".as_slice(), &[b'x'; 5000], b"\nok"].concat();
        for size in [1, 7, 100, 10_000] {
            assert_eq!(cut(&text, size, 64), [(1, "ok".into()), (2, "5000 bytes".into()), (3, "ok".into())], "pieces of {size}");
        }
        let mut cutter = Cutter::new(64);
        for _ in 0..1000 {
            assert_eq!(cutter.next(&mut [b'x'; 1000].as_slice()), None);
        }
        assert!(cutter.part.capacity() <= 64);
        assert_eq!(cutter.last(), Some((1, Line::TooLong(1_000_000))));
    }

    #[test]
    fn a_line_exactly_at_the_limit_is_read() {
        for size in [1, 30, 100] {
            assert_eq!(cut(&[&[b'x'; 64][..], b"\r\n"].concat(), size, 64).len(), 1);
            assert!(cut(&[b'x'; 64], size, 64)[0].1.starts_with('x'));
            assert_eq!(cut(&[b'x'; 65], size, 64)[0].1, "65 bytes");
        }
    }

    #[test]
    fn nothing_has_no_lines_and_a_last_blank_line_is_none() {
        assert!(cut(b"", 1, 64).is_empty());
        assert!(cut(b"\n\n  ", 2, 64).is_empty());
    }
}
