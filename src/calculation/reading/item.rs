//! One question among many: the caller's own name for it stands beside its fields, and is taken out before the question is read strictly.

use std::borrow::Cow;
use std::fmt;

use serde::de::value::{BorrowedStrDeserializer, StrDeserializer};
use serde::de::{Deserialize, DeserializeOwned, DeserializeSeed, Deserializer, Error, MapAccess, Visitor};

use super::node::Node;
use super::strict::Strict;
use super::{Mended, Refusal, TEXT, mended_tree, parse, reader_of_object};
use crate::quantity::{Code, Fault, Pointer};

/// The member that is the caller's, and never a field of a question.
pub const ID: &str = "id";

/// What the caller calls a question among many: a text or a whole number, given back as it came.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Id {
    Text(String),
    Whole(i64),
    Natural(u64),
}

impl Id {
    /// Writes it as JSON.
    pub fn write(&self, out: &mut Vec<u8>) {
        // Texts and whole numbers can always be written into memory.
        drop(match self {
            Self::Text(text) => serde_json::to_writer(out, text),
            Self::Whole(number) => serde_json::to_writer(out, number),
            Self::Natural(number) => serde_json::to_writer(out, number),
        });
    }

    fn of(node: &Node) -> Result<Self, Fault> {
        let root = Pointer::ROOT;
        let wrong = |found: &str| Fault::new(&root.key(ID), Code::WrongType, found, "a text or a whole number");
        match node {
            Node::Text(text) if text.chars().count() <= TEXT => Ok(Self::Text(text.clone())),
            Node::Text(_) => Err(Fault::new(&root.key(ID), Code::TextTooLong, "a longer text", format!("at most {TEXT} characters"))),
            Node::Number { written, .. } => {
                let natural = written.parse().map(Self::Natural);
                natural.or_else(|_| written.parse().map(Self::Whole)).map_err(|_| wrong(written))
            }
            Node::Null => Err(wrong("null")),
            Node::Truth(_) => Err(wrong("true or false")),
            Node::List(_) => Err(wrong("a list")),
            _ => Err(wrong("an object")),
        }
    }
}

impl<'de> Deserialize<'de> for Id {
    fn deserialize<D: Deserializer<'de>>(reader: D) -> Result<Self, D::Error> {
        reader.deserialize_any(IdVisitor)
    }
}

struct IdVisitor;

impl Visitor<'_> for IdVisitor {
    type Value = Id;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("a text or a whole number")
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Id, E> {
        Ok(Id::Text(text.to_owned()))
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Id, E> {
        Ok(Id::Natural(number))
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Id, E> {
        Ok(Id::Whole(number))
    }
}

/// Reads a good question and its name; nothing is said of why another is not.
pub fn item<Q: DeserializeOwned>(bytes: &[u8]) -> Option<(Q, Option<Id>)> {
    let mut reader = reader_of_object(bytes)?;
    let mut id = None;
    let question = Q::deserialize(Named { inner: Strict(&mut reader), id: &mut id }).ok()?;
    reader.end().ok()?;
    Some((question, id))
}

/// Reads a question among many that failed, collecting every fault of shape; its name is told wherever it can be read.
pub fn mended_item<Q: DeserializeOwned>(bytes: &[u8]) -> (Option<Id>, Result<Mended<Q>, Refusal>) {
    let mut tree = match parse::tree(bytes) {
        Ok(tree) => tree,
        Err(fault) => return (None, Err(Refusal::Unreadable(fault.into()))),
    };
    let id = match taken(&mut tree) {
        Some(Ok(id)) => Some(id),
        Some(Err(fault)) => return (None, Err(Refusal::Faulty(fault.into()))),
        None => None,
    };
    (id, mended_tree(tree))
}

/// Takes the name out of the tree. Of two the second stays, and is refused with the fields.
fn taken(tree: &mut Node) -> Option<Result<Id, Fault>> {
    let Node::Object(fields) = tree else { return None };
    let at = fields.iter().position(|(name, _)| name == ID)?;
    let (_, node) = fields.remove(at);
    Some(Id::of(&node))
}

/// A reader or a visitor of an object that may have the caller's name for it among its members.
struct Named<'i, T> {
    inner: T,
    id: &'i mut Option<Id>,
}

macro_rules! passed_on {
    ($($method:ident)*) => {
        $(fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, D::Error> {
            self.inner.$method(visitor)
        })*
    };
}

impl<'de, D: Deserializer<'de>> Deserializer<'de> for Named<'_, D> {
    type Error = D::Error;

    passed_on! {
        deserialize_any deserialize_bool deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64 deserialize_u8 deserialize_u16
        deserialize_u32 deserialize_u64 deserialize_f32 deserialize_f64 deserialize_char deserialize_str deserialize_string
        deserialize_bytes deserialize_byte_buf deserialize_option deserialize_unit deserialize_seq deserialize_identifier
        deserialize_ignored_any
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, D::Error> {
        self.inner.deserialize_map(Named { inner: visitor, id: self.id })
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, D::Error> {
        self.inner.deserialize_struct(name, fields, Named { inner: visitor, id: self.id })
    }

    fn deserialize_unit_struct<V: Visitor<'de>>(self, name: &'static str, visitor: V) -> Result<V::Value, D::Error> {
        self.inner.deserialize_unit_struct(name, visitor)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(self, _: &'static str, visitor: V) -> Result<V::Value, D::Error> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, length: usize, visitor: V) -> Result<V::Value, D::Error> {
        self.inner.deserialize_tuple(length, visitor)
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(self, name: &'static str, length: usize, visitor: V) -> Result<V::Value, D::Error> {
        self.inner.deserialize_tuple_struct(name, length, visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        words: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, D::Error> {
        self.inner.deserialize_enum(name, words, visitor)
    }
}

impl<'de, V: Visitor<'de>> Visitor<'de> for Named<'_, V> {
    type Value = V::Value;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.inner.expecting(out)
    }

    fn visit_map<A: MapAccess<'de>>(self, fields: A) -> Result<V::Value, A::Error> {
        self.inner.visit_map(Named { inner: fields, id: self.id })
    }
}

impl<'de, A: MapAccess<'de>> MapAccess<'de> for Named<'_, A> {
    type Error = A::Error;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, A::Error> {
        loop {
            match self.inner.next_key_seed(Key)? {
                None => return Ok(None),
                Some(key) if key == ID => {
                    if self.id.is_some() {
                        return Err(A::Error::custom("twice"));
                    }
                    *self.id = Some(self.inner.next_value()?);
                }
                Some(Cow::Borrowed(key)) => return seed.deserialize(BorrowedStrDeserializer::new(key)).map(Some),
                Some(Cow::Owned(key)) => return seed.deserialize(StrDeserializer::new(&key)).map(Some),
            }
        }
    }

    fn next_value_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<S::Value, A::Error> {
        self.inner.next_value_seed(seed)
    }

    fn size_hint(&self) -> Option<usize> {
        self.inner.size_hint()
    }
}

/// A key, not copied where it stands plainly in the bytes.
struct Key;

impl<'de> DeserializeSeed<'de> for Key {
    type Value = Cow<'de, str>;

    fn deserialize<D: Deserializer<'de>>(self, reader: D) -> Result<Cow<'de, str>, D::Error> {
        reader.deserialize_str(self)
    }
}

impl<'de> Visitor<'de> for Key {
    type Value = Cow<'de, str>;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("a name")
    }

    fn visit_borrowed_str<E: Error>(self, text: &'de str) -> Result<Cow<'de, str>, E> {
        Ok(Cow::Borrowed(text))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Cow<'de, str>, E> {
        Ok(Cow::Owned(text.to_owned()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Debug, serde::Deserialize, PartialEq)]
    #[serde(deny_unknown_fields)]
    struct Tray {
        pieces: u32,
    }

    fn named(text: &str) -> Option<(u32, Option<Id>)> {
        item::<Tray>(text.as_bytes()).map(|(tray, id)| (tray.pieces, id))
    }

    #[test]
    fn the_callers_name_is_taken_out_wherever_it_stands() {
        assert_eq!(named(r#"{"pieces":3}"#), Some((3, None)));
        assert_eq!(named(r#"{"id":"a","pieces":3}"#), Some((3, Some(Id::Text("a".into())))));
        assert_eq!(named(r#"{"pieces":3,"id":-7}"#), Some((3, Some(Id::Whole(-7)))));
        assert_eq!(named(r#"{"pieces":3,"\u0069d":18446744073709551615}"#), Some((3, Some(Id::Natural(u64::MAX)))));
        for wrong in [r#"{"id":1.5,"pieces":3}"#, r#"{"id":null,"pieces":3}"#, r#"{"id":1,"id":2,"pieces":3}"#, r#"{"pieces":3,"name":1}"#]
        {
            assert_eq!(named(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn a_bad_question_keeps_its_name_and_a_bad_name_is_a_fault_of_its_own() {
        let (id, mended) = mended_item::<Tray>(br#"{"id":"tray 4","pieces":"many"}"#);
        assert_eq!(id, Some(Id::Text("tray 4".into())));
        assert_eq!(mended.map(|mended| mended.faults[0].code).ok(), Some(Code::WrongType));
        let (_, mended) = mended_item::<Tray>(br#"{"id":{},"pieces":3}"#);
        assert!(matches!(mended, Err(Refusal::Faulty(faults)) if faults.iter().all(|fault| fault.pointer == "/id")));
    }
}
