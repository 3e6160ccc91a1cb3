//! Reads a question from its tree and goes on past every fault: what is wrong is noted, and something harmless is read in its place.

use serde::de::value::StrDeserializer;
use serde::de::{DeserializeSeed, Deserializer, Expected, IntoDeserializer, MapAccess, SeqAccess, Visitor};

use super::describe::{as_written, in_braces, in_part, listed, meant, no_list, no_text, unknown_field, unquoted, wrong_type};
use super::forms::like;
use super::mend::{Cause, Mending, Stuck};
use super::node::{Node, Why};
use crate::quantity::{Code, Fault, Pointer, nearest};

/// The largest whole number that is written exactly (RFC 7493).
const WHOLE: f64 = 9_007_199_254_740_991.0;

const A_NUMBER: &str = "a number";
const A_LIST: &str = "a list in brackets";
const TRUTH: &str = "true or false";

/// Stands in for a text whose kind is not known: an amount can be read from it.
const HARMLESS: &str = "1 g";

/// One value being judged.
#[derive(Clone, Copy)]
pub struct Judge<'a> {
    node: &'a Node,
    at: &'a Pointer<'a>,
    mending: &'a Mending,
    /// The fields that stand, or may stand, beside it.
    beside: &'static [&'static str],
}

impl<'a> Judge<'a> {
    pub fn of(tree: &'a Node, mending: &'a Mending) -> Self {
        Self { node: tree, at: &Pointer::ROOT, mending, beside: &[] }
    }

    fn wrong(&self, accepted: &str) {
        self.mending.fault(self.at, || wrong_type(self.at, self.node, accepted));
    }

    /// No text belongs here, and one that holds the very value needs only to lose its quotes.
    fn wrong_bare(&self, accepted: &str, value: impl FnOnce(&str) -> Option<String>) {
        self.mending.fault(self.at, || {
            let fault = wrong_type(self.at, self.node, accepted);
            match self.node {
                Node::Text(text) => match value(text.trim()) {
                    Some(value) => fault.saying(unquoted(text)).trying([value]),
                    None => fault,
                },
                _ => fault,
            }
        });
    }

    /// Notes why this value was filled in, unless that was told; a missing one by what belongs there.
    fn told(&self, why: &Why, belongs: impl FnOnce() -> String) {
        match why {
            Why::Told => {}
            Why::Missing => self.missing(belongs(), None),
            Why::Bare { found, accepted, mend } => self.mending.fault(self.at, || {
                let fault = Fault::new(self.at, Code::WrongType, found, accepted);
                if mend.is_empty() { fault } else { fault.saying(mend) }
            }),
            Why::Wrong { found, accepted } => self.mending.fault(self.at, || Fault::new(self.at, Code::WrongType, found, accepted)),
        }
    }

    fn missing(&self, accepted: String, written: Option<String>) {
        self.mending.fault(self.at, || {
            let fault = Fault::new(self.at, Code::MissingField, "nothing", accepted);
            match (&written, like(self.beside)) {
                (Some(written), _) => fault.saying(format!("Add the field, written like {written}.")),
                (None, Some(whole)) => fault.saying(format!("Add the field, as in {whole}.")),
                (None, None) => fault,
            }
        });
        self.mending.wanted(written);
    }

    fn whole(&self, low: f64, high: f64) -> Option<f64> {
        // Where only the machine sets an upper end, nobody need hear of it.
        let accepted = || match high >= f64::from(u32::MAX) {
            true => format!("a whole number of at least {low}"),
            false => format!("a whole number from {low} to {high}"),
        };
        match self.node {
            Node::Number { value, .. } if value.fract() == 0.0 && (low..=high).contains(value) => return Some(*value),
            Node::Number { value, written } => self.mending.fault(self.at, || {
                let fault = Fault::new(self.at, Code::OutOfRange, written, accepted());
                if value.fract() > 0.0 { in_part(fault, self.beside) } else { fault }
            }),
            Node::Filled { why, .. } => self.told(why, accepted),
            _ => self.wrong_bare(&accepted(), |text| a_number(text, |number| number.fract() == 0.0 && (low..=high).contains(&number))),
        }
        None
    }

    fn text(&self) -> &'a str {
        match self.node {
            Node::Text(text) => return text,
            Node::Filled { why, .. } => self.told(why, || "a text".to_owned()),
            node => self.mending.fault(self.at, || no_text(self.at, node)),
        }
        HARMLESS
    }

    /// The fields of an object; of another value none, and that is noted.
    fn fields(&self, known: &[&str]) -> &'a [(String, Node)] {
        match self.node {
            Node::Object(fields) => fields,
            Node::Filled { why: Why::Missing, fields } => {
                self.missing(in_braces(known), like(known).map(str::to_owned));
                fields
            }
            Node::Filled { why, fields } => {
                self.told(why, || in_braces(known));
                fields
            }
            node => {
                self.mending.fault(self.at, || {
                    let fault = wrong_type(self.at, node, &in_braces(known));
                    as_written(node, known).into_iter().fold(fault, Fault::saying)
                });
                &[]
            }
        }
    }

    fn unknown_field(&self, name: &str, known: &[&'static str]) {
        let shown: String = name.chars().take(60).collect();
        let at = self.at.key(&shown);
        let near = if self.mending.is_full() { Vec::new() } else { nearest(&name.to_lowercase(), known.iter().copied(), 3) };
        self.mending.fault(&at, || unknown_field(&at, &shown, known, near));
    }

    fn visit_fields<'de, V: Visitor<'de>>(
        self,
        fields: &'a [(String, Node)],
        known: Option<&'static [&'static str]>,
        visitor: V,
    ) -> Result<V::Value, Stuck> {
        visitor.visit_map(Fields { judge: self, rest: fields.iter(), known, value: None }).map_err(|stuck: Stuck| stuck.placed(self.at))
    }
}

/// The number that a text is, where it may be.
fn a_number(text: &str, may_be: impl FnOnce(f64) -> bool) -> Option<String> {
    // A percentage says itself that it is one: "65 %" is 65.
    let bare = text.strip_suffix('%').unwrap_or(text).trim_end();
    bare.parse().ok().filter(|number: &f64| may_be(*number)).map(|number| number.to_string())
}

macro_rules! whole_numbers {
    ($($method:ident, $kind:ty, $low:expr, $high:expr, $visit:ident;)*) => {
        $(fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
            visitor.$visit(self.whole($low, $high).unwrap_or(1.0) as $kind).map_err(|stuck: Stuck| stuck.placed(self.at))
        })*
    };
}

impl<'de> Deserializer<'de> for Judge<'_> {
    type Error = Stuck;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        let read = match self.node {
            Node::Null => visitor.visit_unit(),
            Node::Truth(truth) => visitor.visit_bool(*truth),
            Node::Number { value, .. } => visitor.visit_f64(*value),
            Node::Text(text) => visitor.visit_str(text),
            Node::List(items) => visitor.visit_seq(Items { judge: self, rest: items.iter().enumerate() }),
            Node::Object(fields) => return self.visit_fields(fields, None, visitor),
            Node::Filled { why, .. } => {
                self.told(why, || (&visitor as &dyn Expected).to_string());
                visitor.visit_str(HARMLESS)
            }
            Node::Unknown(_) => visitor.visit_unit(),
        };
        read.map_err(|stuck: Stuck| stuck.placed(self.at))
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        let truth = match self.node {
            Node::Truth(truth) => *truth,
            Node::Filled { why, .. } => {
                self.told(why, || TRUTH.to_owned());
                false
            }
            _ => {
                self.wrong_bare(TRUTH, |text| text.parse().ok().map(|truth: bool| truth.to_string()));
                false
            }
        };
        visitor.visit_bool(truth)
    }

    whole_numbers! {
        deserialize_i8, i8, -128.0, 127.0, visit_i8;
        deserialize_i16, i16, -32_768.0, 32_767.0, visit_i16;
        deserialize_i32, i32, -2_147_483_648.0, 2_147_483_647.0, visit_i32;
        deserialize_i64, i64, -WHOLE, WHOLE, visit_i64;
        deserialize_u8, u8, 0.0, 255.0, visit_u8;
        deserialize_u16, u16, 0.0, 65_535.0, visit_u16;
        deserialize_u32, u32, 0.0, 4_294_967_295.0, visit_u32;
        deserialize_u64, u64, 0.0, WHOLE, visit_u64;
    }

    fn deserialize_f32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        self.deserialize_f64(visitor)
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        let value = match self.node {
            Node::Number { value, .. } => *value,
            Node::Filled { why, .. } => {
                self.told(why, || A_NUMBER.to_owned());
                1.0
            }
            _ => {
                self.wrong_bare(A_NUMBER, |text| a_number(text, f64::is_finite));
                1.0
            }
        };
        visitor.visit_f64(value)
    }

    fn deserialize_char<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        self.deserialize_str(visitor)
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        visitor.visit_str(self.text()).map_err(|stuck: Stuck| stuck.placed(self.at))
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        self.deserialize_str(visitor)
    }

    fn deserialize_bytes<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        self.deserialize_str(visitor)
    }

    fn deserialize_byte_buf<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        self.deserialize_str(visitor)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        match self.node {
            Node::Filled { why, .. } => {
                self.told(why, || "a value, or nothing".to_owned());
                visitor.visit_none()
            }
            _ => visitor.visit_some(self),
        }
    }

    fn deserialize_unit<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        visitor.visit_unit()
    }

    fn deserialize_unit_struct<V: Visitor<'de>>(self, _: &'static str, visitor: V) -> Result<V::Value, Stuck> {
        visitor.visit_unit()
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(self, _: &'static str, visitor: V) -> Result<V::Value, Stuck> {
        visitor.visit_newtype_struct(self).map_err(|stuck: Stuck| stuck.placed(self.at))
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        let read = match self.node {
            Node::List(items) => visitor.visit_seq(Items { judge: self, rest: items.iter().enumerate() }),
            _ => visitor.visit_seq(NoItems { judge: self, seen: false }),
        };
        read.map_err(|stuck: Stuck| stuck.placed(self.at))
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Stuck> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(self, _: &'static str, _: usize, visitor: V) -> Result<V::Value, Stuck> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        self.visit_fields(self.fields(&[]), None, visitor)
    }

    fn deserialize_struct<V: Visitor<'de>>(self, _: &'static str, known: &'static [&'static str], visitor: V) -> Result<V::Value, Stuck> {
        match self.node {
            Node::Object(_) | Node::Filled { .. } => self.visit_fields(self.fields(known), Some(known), visitor),
            _ => Err(Stuck::new(Cause::Bare(known)).placed(self.at)),
        }
    }

    fn deserialize_enum<V: Visitor<'de>>(self, _: &'static str, words: &'static [&'static str], visitor: V) -> Result<V::Value, Stuck> {
        let word = match self.node {
            Node::Text(text) if words.contains(&text.as_str()) => text,
            Node::Text(text) => {
                self.mending
                    .fault(self.at, || Fault::new(self.at, Code::UnknownWord, text.as_str(), listed(words)).trying(meant(text, words)));
                words.first().copied().unwrap_or_default()
            }
            Node::Filled { why, .. } => {
                self.told(why, || listed(words));
                words.first().copied().unwrap_or_default()
            }
            _ => {
                self.wrong(&listed(words));
                words.first().copied().unwrap_or_default()
            }
        };
        let word: StrDeserializer<'_, Stuck> = word.into_deserializer();
        visitor.visit_enum(word).map_err(|stuck: Stuck| stuck.placed(self.at))
    }

    fn deserialize_identifier<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        self.deserialize_str(visitor)
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Stuck> {
        visitor.visit_unit()
    }
}

struct Items<'a> {
    judge: Judge<'a>,
    rest: std::iter::Enumerate<std::slice::Iter<'a, Node>>,
}

impl<'de> SeqAccess<'de> for Items<'_> {
    type Error = Stuck;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, Stuck> {
        let Some((index, node)) = self.rest.next() else { return Ok(None) };
        let at = self.judge.at.index(index);
        seed.deserialize(Judge { node, at: &at, beside: &[], ..self.judge }).map(Some).map_err(|stuck: Stuck| stuck.placed(&at))
    }
}

/// No list stands here: what it would be a list of is asked of the first item that is wanted, and told.
struct NoItems<'a> {
    judge: Judge<'a>,
    seen: bool,
}

impl<'de> SeqAccess<'de> for NoItems<'_> {
    type Error = Stuck;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, Stuck> {
        if !std::mem::replace(&mut self.seen, true) {
            let (missing, asked) = (Node::Filled { why: Why::Missing, fields: Vec::new() }, Mending::new());
            drop(seed.deserialize(Judge { node: &missing, at: self.judge.at, mending: &asked, beside: &[] }));
            let written = asked.first_wanted().map(|item| format!("[{item}]"));
            let of = asked.close().0.iter().next().map(|item| format!(", each item {}", item.accepted));
            let accepted = A_LIST.to_owned() + &of.unwrap_or_default();
            match self.judge.node {
                Node::Filled { why: Why::Missing, .. } => self.judge.missing(accepted, written),
                Node::Filled { why, .. } => self.judge.told(why, || accepted),
                node => self.judge.mending.fault(self.judge.at, || no_list(self.judge.at, node, &accepted)),
            }
        }
        Ok(None)
    }
}

struct Fields<'a> {
    judge: Judge<'a>,
    rest: std::slice::Iter<'a, (String, Node)>,
    known: Option<&'static [&'static str]>,
    value: Option<&'a (String, Node)>,
}

impl<'de> MapAccess<'de> for Fields<'_> {
    type Error = Stuck;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, Stuck> {
        for field in self.rest.by_ref() {
            let (name, node) = field;
            match (node, self.known) {
                (Node::Unknown(known), _) => self.judge.unknown_field(name, known),
                (_, Some(known)) if !known.contains(&name.as_str()) => self.judge.unknown_field(name, known),
                _ => {
                    self.value = Some(field);
                    let key: StrDeserializer<'_, Stuck> = name.as_str().into_deserializer();
                    return seed.deserialize(key).map(Some);
                }
            }
        }
        Ok(None)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Stuck> {
        let Some((name, node)) = self.value.take() else {
            return Err(serde::de::Error::custom("a value before its field"));
        };
        let at = self.judge.at.key(name);
        seed.deserialize(Judge { node, at: &at, beside: self.known.unwrap_or_default(), ..self.judge })
            .map_err(|stuck: Stuck| stuck.placed(&at))
    }
}
