//! Where a line of a formula stands in the question. It is two numbers until it is told.

use serde::{Serialize, Serializer};

/// The place of a line, told as a JSON Pointer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LinePlace {
    pub part: usize,
    pub line: usize,
}

impl LinePlace {
    /// "/formula/parts/0/lines/1". Each line of an answer has one, so it is put together at once and not by a chain of `Pointer`.
    pub fn pointer(self) -> String {
        self.written(&mut [0; LONGEST]).to_owned()
    }

    /// The same in room that is there already: an answer writes it and keeps none.
    fn written(self, room: &mut [u8; LONGEST]) -> &str {
        let mut end = 0;
        let mut put = |text: &str| {
            room[end..end + text.len()].copy_from_slice(text.as_bytes());
            end += text.len();
        };
        let mut number = itoa::Buffer::new();
        put("/formula/parts/");
        put(number.format(self.part));
        put("/lines/");
        put(number.format(self.line));
        std::str::from_utf8(&room[..end]).unwrap_or_default()
    }
}

/// The words of a place with two of the largest numbers.
const LONGEST: usize = 15 + 20 + 7 + 20;

impl Serialize for LinePlace {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.written(&mut [0; LONGEST]))
    }
}

#[cfg(test)]
mod tests {
    use super::LinePlace;

    #[test]
    fn a_place_is_a_json_pointer_however_large_its_numbers() {
        assert_eq!(LinePlace { part: 0, line: 12 }.pointer(), "/formula/parts/0/lines/12");
        let largest = LinePlace { part: usize::MAX, line: usize::MAX };
        assert_eq!(largest.pointer(), format!("/formula/parts/{0}/lines/{0}", usize::MAX));
    }
}
