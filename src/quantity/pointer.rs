//! Where in a question something stands, as a JSON Pointer (RFC 6901). It is a chain on the stack: nothing is allocated until a fault or an assumption needs the text.

use memchr::memchr2;

/// A place in the question.
#[derive(Clone, Copy, Debug)]
pub struct Pointer<'a> {
    parent: Option<&'a Pointer<'a>>,
    token: Token<'a>,
}

#[derive(Clone, Copy, Debug)]
enum Token<'a> {
    Whole,
    Key(&'a str),
    Index(usize),
}

impl<'a> Pointer<'a> {
    /// The whole question.
    pub const ROOT: Pointer<'static> = Pointer { parent: None, token: Token::Whole };

    pub const fn key(&'a self, key: &'a str) -> Pointer<'a> {
        Pointer { parent: Some(self), token: Token::Key(key) }
    }

    pub const fn index(&'a self, index: usize) -> Pointer<'a> {
        Pointer { parent: Some(self), token: Token::Index(index) }
    }

    /// The place as it is told. There is no other way to it, so that it is written in one allocation.
    pub fn text(&self) -> String {
        let mut text = String::with_capacity(self.length());
        self.write(&mut text);
        text
    }

    /// Room for the text, but for letters that must be spelled.
    fn length(&self) -> usize {
        let above = self.parent.map_or(0, Pointer::length);
        above
            + match self.token {
                Token::Whole => 0,
                Token::Key(key) => 1 + key.len(),
                Token::Index(_) => 4,
            }
    }

    fn write(&self, text: &mut String) {
        if let Some(parent) = self.parent {
            parent.write(text);
        }
        match self.token {
            Token::Whole => {}
            Token::Index(index) => {
                text.push('/');
                text.push_str(itoa::Buffer::new().format(index));
            }
            Token::Key(key) => {
                text.push('/');
                if memchr2(b'~', b'/', key.as_bytes()).is_some() {
                    text.push_str(&key.replace('~', "~0").replace('/', "~1"));
                } else {
                    text.push_str(key);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pointer_names_the_way_down() {
        let formula = Pointer::ROOT.key("formula");
        let lines = formula.key("lines");
        assert_eq!(lines.index(3).text(), "/formula/lines/3");
        assert_eq!(Pointer::ROOT.key("a/b~c").text(), "/a~1b~0c");
        assert_eq!(Pointer::ROOT.text(), "");
    }
}
