//! Where in a question something stands, as a JSON Pointer (RFC 6901). It is a chain on the stack: nothing is allocated until a fault or an assumption needs the text.

use std::fmt;

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
}

impl fmt::Display for Pointer<'_> {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(parent) = self.parent {
            parent.fmt(out)?;
        }
        match self.token {
            Token::Whole => Ok(()),
            Token::Index(index) => write!(out, "/{index}"),
            Token::Key(key) if key.contains(['~', '/']) => {
                write!(out, "/{}", key.replace('~', "~0").replace('/', "~1"))
            }
            Token::Key(key) => write!(out, "/{key}"),
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
        assert_eq!(lines.index(3).to_string(), "/formula/lines/3");
        assert_eq!(Pointer::ROOT.key("a/b~c").to_string(), "/a~1b~0c");
        assert_eq!(Pointer::ROOT.to_string(), "");
    }
}
