//! The plain way of reading, made strict: an object is never read from a list, a word never from an object, and nothing is never read from null. All of it is compiled away into the reader.

use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, Error, IntoDeserializer, MapAccess, SeqAccess, Visitor};

use super::{ITEMS, TEXT};
use crate::quantity::longer;

/// A reader, a visitor or an access, made strict.
pub struct Strict<T>(pub T);

/// A visitor of an object: a list is none.
struct OnlyFields<V>(V);

/// A visitor of one word.
struct OnlyWord<V>(V);

macro_rules! strictly {
    ($($method:ident)*) => {
        $(fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, D::Error> {
            self.0.$method(Strict(visitor))
        })*
    };
}

impl<'de, D: Deserializer<'de>> Deserializer<'de> for Strict<D> {
    type Error = D::Error;

    strictly! {
        deserialize_any deserialize_bool deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64 deserialize_u8 deserialize_u16
        deserialize_u32 deserialize_u64 deserialize_f32 deserialize_f64 deserialize_char deserialize_str deserialize_string
        deserialize_bytes deserialize_byte_buf deserialize_unit deserialize_seq deserialize_map deserialize_identifier deserialize_ignored_any
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, D::Error> {
        visitor.visit_some(self)
    }

    fn deserialize_unit_struct<V: Visitor<'de>>(self, name: &'static str, visitor: V) -> Result<V::Value, D::Error> {
        self.0.deserialize_unit_struct(name, Strict(visitor))
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(self, _: &'static str, visitor: V) -> Result<V::Value, D::Error> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, length: usize, visitor: V) -> Result<V::Value, D::Error> {
        self.0.deserialize_tuple(length, Strict(visitor))
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(self, name: &'static str, length: usize, visitor: V) -> Result<V::Value, D::Error> {
        self.0.deserialize_tuple_struct(name, length, Strict(visitor))
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, D::Error> {
        self.0.deserialize_struct(name, fields, OnlyFields(visitor))
    }

    fn deserialize_enum<V: Visitor<'de>>(self, _: &'static str, _: &'static [&'static str], visitor: V) -> Result<V::Value, D::Error> {
        self.0.deserialize_str(OnlyWord(visitor))
    }
}

macro_rules! passed_on {
    ($($method:ident: $kind:ty;)*) => {
        $(fn $method<E: Error>(self, value: $kind) -> Result<V::Value, E> {
            self.0.$method(value)
        })*
    };
}

impl<'de, V: Visitor<'de>> Visitor<'de> for Strict<V> {
    type Value = V::Value;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.expecting(out)
    }

    passed_on! {
        visit_bool: bool;
        visit_i64: i64;
        visit_u64: u64;
        visit_f64: f64;
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<V::Value, E> {
        short(text)?;
        self.0.visit_str(text)
    }

    fn visit_borrowed_str<E: Error>(self, text: &'de str) -> Result<V::Value, E> {
        short(text)?;
        self.0.visit_borrowed_str(text)
    }

    fn visit_string<E: Error>(self, text: String) -> Result<V::Value, E> {
        short(&text)?;
        self.0.visit_string(text)
    }

    fn visit_unit<E: Error>(self) -> Result<V::Value, E> {
        self.0.visit_unit()
    }

    fn visit_seq<A: SeqAccess<'de>>(self, items: A) -> Result<V::Value, A::Error> {
        self.0.visit_seq(Items { items, read: 0 })
    }

    fn visit_map<A: MapAccess<'de>>(self, fields: A) -> Result<V::Value, A::Error> {
        self.0.visit_map(Strict(fields))
    }
}

/// A text too long fails the plain way; the slow way knows which fields may be longer.
fn short<E: Error>(text: &str) -> Result<(), E> {
    if longer(text, TEXT) { Err(E::custom("long")) } else { Ok(()) }
}

impl<'de, V: Visitor<'de>> Visitor<'de> for OnlyFields<V> {
    type Value = V::Value;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.expecting(out)
    }

    fn visit_map<A: MapAccess<'de>>(self, fields: A) -> Result<V::Value, A::Error> {
        self.0.visit_map(Strict(fields))
    }
}

impl<'de, V: Visitor<'de>> Visitor<'de> for OnlyWord<V> {
    type Value = V::Value;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.expecting(out)
    }

    fn visit_str<E: Error>(self, word: &str) -> Result<V::Value, E> {
        self.0.visit_enum(word.into_deserializer())
    }
}

impl<'de, A: MapAccess<'de>> MapAccess<'de> for Strict<A> {
    type Error = A::Error;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, A::Error> {
        self.0.next_key_seed(seed)
    }

    fn next_value_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<S::Value, A::Error> {
        self.0.next_value_seed(Strict(seed))
    }

    fn size_hint(&self) -> Option<usize> {
        self.0.size_hint()
    }
}

struct Items<A> {
    items: A,
    read: usize,
}

impl<'de, A: SeqAccess<'de>> SeqAccess<'de> for Items<A> {
    type Error = A::Error;

    fn next_element_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<Option<S::Value>, A::Error> {
        self.read += 1;
        if self.read > ITEMS + 1 {
            return Err(A::Error::custom("long"));
        }
        self.items.next_element_seed(Strict(seed))
    }

    fn size_hint(&self) -> Option<usize> {
        self.items.size_hint()
    }
}

impl<'de, S: DeserializeSeed<'de>> DeserializeSeed<'de> for Strict<S> {
    type Value = S::Value;

    fn deserialize<D: Deserializer<'de>>(self, reader: D) -> Result<S::Value, D::Error> {
        self.0.deserialize(Strict(reader))
    }
}
