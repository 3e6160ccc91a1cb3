//! JSON (RFC 8259) into a tree, with the line and column of the first thing that breaks its rules, in words that name the mend.

use super::DEPTH;
use super::node::Node;
use crate::quantity::{Code, Fault, Pointer};

/// Reads a whole text.
pub fn tree(bytes: &[u8]) -> Result<Node, Fault> {
    if bytes.starts_with(b"\xEF\xBB\xBF") {
        return Err(Fault::new(&Pointer::ROOT, Code::ByteOrderMark, "a byte order mark", "a text that begins with {"));
    }
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let place = place(bytes, error.valid_up_to());
        Fault::new(&Pointer::ROOT, Code::NotUtf8, format!("bytes that are no UTF-8 text, at {place}"), "UTF-8 text")
    })?;
    if text.trim_ascii().is_empty() {
        return Err(Fault::new(&Pointer::ROOT, Code::BodyMissing, "nothing", "one JSON object"));
    }
    let mut reader = Parser { text, at: 0, depth: 0 };
    let node = reader.value()?;
    reader.blanks();
    if reader.at < text.len() {
        let place = place(text.as_bytes(), reader.at);
        let mend = format!(
            "The question has ended before {place}: several questions stand in one list, or each on a line of its own, sent as application/x-ndjson."
        );
        return Err(reader.fault("more text after the end of the question", "one JSON object and nothing behind it").saying(mend));
    }
    Ok(node)
}

fn place(bytes: &[u8], at: usize) -> String {
    let before = &bytes[..at.min(bytes.len())];
    let line = before.iter().filter(|byte| **byte == b'\n').count() + 1;
    let begins = before.iter().rposition(|byte| *byte == b'\n').map_or(0, |newline| newline + 1);
    let column = String::from_utf8_lossy(&before[begins..]).chars().count() + 1;
    format!("line {line}, column {column}")
}

struct Parser<'t> {
    text: &'t str,
    at: usize,
    depth: usize,
}

impl Parser<'_> {
    fn fault(&self, found: &str, accepted: &str) -> Fault {
        let place = place(self.text.as_bytes(), self.at);
        Fault::new(&Pointer::ROOT, Code::NotJson, found, accepted)
            .saying(format!("The text stops being JSON at {place}: write {accepted} there."))
    }

    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn take(&mut self, byte: u8) -> bool {
        let there = self.peek() == Some(byte);
        self.at += usize::from(there);
        there
    }

    fn blanks(&mut self) {
        while matches!(self.peek(), Some(b' ' | b'\t' | b'\n' | b'\r')) {
            self.at += 1;
        }
    }

    fn value(&mut self) -> Result<Node, Fault> {
        self.blanks();
        match self.peek() {
            Some(b'{') => self.nested(Self::object),
            Some(b'[') => self.nested(Self::list),
            Some(b'"') => self.string().map(Node::Text),
            Some(b'-' | b'0'..=b'9') => self.number(),
            _ => self.word(),
        }
    }

    fn nested(&mut self, read: fn(&mut Self) -> Result<Node, Fault>) -> Result<Node, Fault> {
        self.depth += 1;
        if self.depth > DEPTH {
            let place = place(self.text.as_bytes(), self.at);
            return Err(Fault::new(
                &Pointer::ROOT,
                Code::TooDeep,
                format!("more than {DEPTH} levels, at {place}"),
                format!("at most {DEPTH} levels"),
            ));
        }
        self.at += 1;
        let node = read(self)?;
        self.depth -= 1;
        Ok(node)
    }

    fn object(&mut self) -> Result<Node, Fault> {
        let mut fields = Vec::new();
        self.blanks();
        if self.take(b'}') {
            return Ok(Node::Object(fields));
        }
        loop {
            self.blanks();
            if self.peek() != Some(b'"') {
                return Err(self.unexpected("a field's name in double quotes"));
            }
            let name = self.string()?;
            self.blanks();
            if !self.take(b':') {
                return Err(self.unexpected("a colon after the field's name"));
            }
            fields.push((name, self.value()?));
            self.blanks();
            if self.take(b'}') {
                return Ok(Node::Object(fields));
            }
            if !self.take(b',') {
                return Err(self.unexpected("a comma or a closing brace"));
            }
        }
    }

    fn list(&mut self) -> Result<Node, Fault> {
        let mut items = Vec::new();
        self.blanks();
        if self.take(b']') {
            return Ok(Node::List(items));
        }
        loop {
            items.push(self.value()?);
            self.blanks();
            if self.take(b']') {
                return Ok(Node::List(items));
            }
            if !self.take(b',') {
                return Err(self.unexpected("a comma or a closing bracket"));
            }
        }
    }

    /// What stands where something else belongs, as far as it can be named.
    fn unexpected(&self, accepted: &str) -> Fault {
        let found = match self.peek() {
            None => "the end of the text",
            Some(b'}' | b']') => "a comma too many, or a bracket too early",
            Some(b'\'') => "a single quote",
            Some(b'/' | b'#') => "a comment",
            Some(b',') => "a comma too many",
            Some(0) => "a zero byte, as UTF-16 has many and UTF-8 none",
            _ => "something else",
        };
        self.fault(found, accepted)
    }

    fn word(&mut self) -> Result<Node, Fault> {
        for (word, node) in [("true", Node::Truth(true)), ("false", Node::Truth(false)), ("null", Node::Null)] {
            if self.text[self.at..].starts_with(word)
                && !self.text.as_bytes().get(self.at + word.len()).is_some_and(u8::is_ascii_alphanumeric)
            {
                self.at += word.len();
                return Ok(node);
            }
        }
        let rest = &self.text[self.at..];
        if rest.starts_with("NaN") || rest.starts_with("Infinity") {
            return Err(self.fault("a word that is no number in JSON", "a number"));
        }
        if rest.starts_with(['+', '.']) {
            return Err(self.fault("a number that begins with a sign or a point", "a number that begins with a digit"));
        }
        Err(self.unexpected("a value: a text in double quotes, a number, a list or an object"))
    }

    fn digits(&mut self) -> usize {
        let begin = self.at;
        while self.peek().is_some_and(|byte| byte.is_ascii_digit()) {
            self.at += 1;
        }
        self.at - begin
    }

    fn number(&mut self) -> Result<Node, Fault> {
        let begin = self.at;
        self.take(b'-');
        if self.text[self.at..].starts_with("Infinity") {
            return Err(self.fault("a word that is no number in JSON", "a number"));
        }
        let zero = self.peek() == Some(b'0');
        let whole = self.digits();
        if whole == 0 || (zero && whole > 1) {
            return Err(self.fault("a number with a nought too many, or none", "a number without leading noughts"));
        }
        if self.take(b'.') && self.digits() == 0 {
            return Err(self.fault("a point without digits behind it", "digits behind the point"));
        }
        if self.take(b'e') || self.take(b'E') {
            let _ = self.take(b'+') || self.take(b'-');
            if self.digits() == 0 {
                return Err(self.fault("an exponent without digits", "digits of the exponent"));
            }
        }
        if self.peek().is_some_and(|byte| byte.is_ascii_alphanumeric()) {
            return Err(self.fault("letters in a number", "digits only; an amount with its unit is a text in double quotes"));
        }
        let written = &self.text[begin..self.at];
        let value = written.parse().unwrap_or(f64::INFINITY);
        Ok(Node::Number { written: written.chars().take(80).collect(), value })
    }

    fn string(&mut self) -> Result<String, Fault> {
        self.at += 1;
        let mut text = String::new();
        loop {
            let begin = self.at;
            while self.peek().is_some_and(|byte| byte >= 0x20 && byte != b'"' && byte != b'\\') {
                self.at += 1;
            }
            text.push_str(&self.text[begin..self.at]);
            match self.peek() {
                Some(b'"') => {
                    self.at += 1;
                    return Ok(text);
                }
                Some(b'\\') => text.push(self.escape()?),
                Some(_) => return Err(self.fault("a line break or a control character inside a text", "\\n, or another escape")),
                None => return Err(self.fault("the end of the text", "the closing double quote")),
            }
        }
    }

    fn escape(&mut self) -> Result<char, Fault> {
        self.at += 1;
        let letter = self.peek();
        self.at += 1;
        Ok(match letter {
            Some(b'"') => '"',
            Some(b'\\') => '\\',
            Some(b'/') => '/',
            Some(b'b') => '\u{8}',
            Some(b'f') => '\u{c}',
            Some(b'n') => '\n',
            Some(b'r') => '\r',
            Some(b't') => '\t',
            Some(b'u') => return self.code_point(),
            _ => {
                self.at -= 1;
                return Err(self.fault("a backslash before a character that needs none", "\\\\ for a backslash"));
            }
        })
    }

    fn code_point(&mut self) -> Result<char, Fault> {
        let high = self.four_digits()?;
        if let Some(letter) = char::from_u32(high) {
            return Ok(letter);
        }
        let half = "half of a character, without the other half";
        if (0xD800..0xDC00).contains(&high) && self.take(b'\\') && self.take(b'u') {
            let low = self.four_digits()?;
            if (0xDC00..0xE000).contains(&low) {
                let joined = 0x10000 + ((high - 0xD800) << 10) + (low - 0xDC00);
                return char::from_u32(joined).ok_or_else(|| self.fault(half, "both halves"));
            }
        }
        Err(self.fault(half, "both halves"))
    }

    fn four_digits(&mut self) -> Result<u32, Fault> {
        let digits = self.text.get(self.at..self.at + 4).filter(|digits| digits.bytes().all(|byte| byte.is_ascii_hexdigit()));
        let number = digits.and_then(|digits| u32::from_str_radix(digits, 16).ok());
        let number = number.ok_or_else(|| self.fault("\\u without four hexadecimal digits", "four hexadecimal digits"))?;
        self.at += 4;
        Ok(number)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(text: &str) -> (Code, String) {
        let fault = tree(text.as_bytes()).expect_err(text);
        (fault.code, fault.detail)
    }

    #[test]
    fn what_breaks_the_rules_of_json_is_told_by_line_and_column() {
        for wrong in [
            "{\"a\":1,}",
            "{'a':1}",
            "{\"a\":NaN}",
            "{\"a\":-Infinity}",
            "{\"a\":+1}",
            "{\"a\":.5}",
            "{\"a\":010}",
            "{\"a\":0x1}",
            "{\"a\":1.}",
            "{\"a\":1e}",
            "{\"a\":1} {}",
            "{\"a\":1",
            "{\"a\"",
            "{\"a\":\"\\ud800\"}",
            "{\"a\":\"\\x\"}",
            "{\"a\":\"\n\"}",
            "{/* */}",
            "[1,]",
            "{\"a\" 1}",
            "nul",
            "{\"a\":\"\\u00\u{e9}\"}",
            "{\"a\":3 cups}",
        ] {
            let (code, detail) = refused(wrong);
            assert_eq!(code, Code::NotJson, "{wrong}");
            assert!(detail.contains("line ") && detail.contains("column "), "{detail}");
        }
        assert!(refused("{\n  \"a\": 1,\n}").1.contains("line 3, column 1"));
    }

    #[test]
    fn our_reader_and_the_plain_reader_agree_on_what_is_json() {
        for text in ["{\"a\":[1,-0.5e+3,true,null,\"\\u00bd \\ud83c\\udf70 \\n\"]}", " [ ] ", "{}", "\"x\"", "-0", "1E5"] {
            assert!(tree(text.as_bytes()).is_ok(), "{text}");
            assert!(serde_json::from_str::<serde_json::Value>(text).is_ok(), "{text}");
        }
    }

    #[test]
    fn a_hundred_thousand_levels_are_refused_at_the_thirty_third() {
        for deep in ["[".repeat(100_000), "{\"a\":".repeat(100_000)] {
            assert_eq!(refused(&deep).0, Code::TooDeep);
        }
    }

    #[test]
    fn nothing_and_a_byte_order_mark_and_other_encodings_have_codes_of_their_own() {
        assert_eq!(refused(" \r\n").0, Code::BodyMissing);
        assert_eq!(refused("\u{feff}{}").0, Code::ByteOrderMark);
        assert_eq!(tree(b"{\"a\":\"\xff\"}").expect_err("no UTF-8").code, Code::NotUtf8);
    }
}
