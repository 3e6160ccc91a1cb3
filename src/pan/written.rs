//! A pan as it comes in: a trade phrase, or a closed object with one shape. What may stand in it is read off the list of shapes, so the reader, the document and the refusals agree.

use std::borrow::Cow;
use std::fmt;
use std::sync::LazyLock;

use serde::de::{Deserialize, DeserializeSeed, Deserializer, Error, IgnoredAny, MapAccess, SeqAccess, Visitor};

use super::kind::ShapeKind;
use super::material::Material;
use super::shapes::SHAPES;
use crate::quantity::{Family, Written};
use crate::reference::Dimension;

/// A pan as written: `"9 inch round, 2 inches deep"`, or `{"round": {"diameter": "9 in", "depth": "2 in"}, "count": 2}`.
#[derive(Clone, Debug, PartialEq)]
pub enum PanWritten {
    Phrase(Box<str>),
    Drawn(Box<Drawn>),
}

/// A pan by its shape and dimensions.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawn {
    pub(super) shapes: Vec<(&'static str, Vec<(Dimension, Entry)>)>,
    pub(super) count: Option<u32>,
    pub(super) material: Option<Material>,
}

/// One dimension as written.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Entry {
    Amount(Written),
    Number(u32),
}

/// One pan, or several at once.
#[derive(Clone, Debug, PartialEq)]
pub enum PansWritten {
    One(PanWritten),
    Several(Vec<PanWritten>),
}

/// The most kinds of pan in one question.
pub(super) const MOST_PANS: usize = 20;

const EXPECTED: &str = "a pan such as \"9 inch round, 2 inches deep\", or {\"round\": {\"diameter\": \"9 in\", \"depth\": \"2 in\"}}";

/// What may stand in a pan.
static PAN_FIELDS: LazyLock<Vec<&'static str>> =
    LazyLock::new(|| SHAPES.iter().map(|kind| kind.word).chain(["count", "material"]).collect());

/// What may stand in each shape.
static SHAPE_FIELDS: LazyLock<Vec<(&'static str, Vec<&'static str>)>> =
    LazyLock::new(|| SHAPES.iter().map(|kind| (kind.word, kind.fields.iter().map(|field| field.dimension.word()).collect())).collect());

fn fields_of(kind: &ShapeKind) -> &'static [&'static str] {
    SHAPE_FIELDS.iter().find(|(word, _)| *word == kind.word).map_or(&[], |(_, fields)| fields)
}

impl<'de> Deserialize<'de> for PanWritten {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(OnePan)
    }
}

impl<'de> Deserialize<'de> for PansWritten {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(AnyPans)
    }
}

struct OnePan;

impl<'de> Visitor<'de> for OnePan {
    type Value = PanWritten;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(EXPECTED)
    }

    fn visit_str<E: Error>(self, phrase: &str) -> Result<PanWritten, E> {
        Ok(PanWritten::Phrase(phrase.into()))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<PanWritten, A::Error> {
        let mut drawn = Drawn::default();
        while let Some(field) = fields.next_key::<Cow<'de, str>>()? {
            match &*field {
                "count" if drawn.count.is_some() => return Err(Error::duplicate_field("count")),
                "material" if drawn.material.is_some() => return Err(Error::duplicate_field("material")),
                "count" => drawn.count = Some(fields.next_value()?),
                "material" => drawn.material = Some(fields.next_value()?),
                word => {
                    let Some(kind) = ShapeKind::of_word(word) else {
                        let refusal = Error::unknown_field(word, &PAN_FIELDS);
                        fields.next_value::<IgnoredAny>()?;
                        return Err(refusal);
                    };
                    if drawn.shapes.iter().any(|(known, _)| *known == kind.word) {
                        return Err(Error::duplicate_field(kind.word));
                    }
                    drawn.shapes.push((kind.word, fields.next_value_seed(Measuring(kind))?));
                }
            }
        }
        Ok(PanWritten::Drawn(Box::new(drawn)))
    }
}

struct AnyPans;

impl<'de> Visitor<'de> for AnyPans {
    type Value = PansWritten;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(EXPECTED)
    }

    fn visit_str<E: Error>(self, phrase: &str) -> Result<PansWritten, E> {
        OnePan.visit_str(phrase).map(PansWritten::One)
    }

    fn visit_map<A: MapAccess<'de>>(self, fields: A) -> Result<PansWritten, A::Error> {
        OnePan.visit_map(fields).map(PansWritten::One)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut pans: A) -> Result<PansWritten, A::Error> {
        let mut several = Vec::new();
        while let Some(pan) = pans.next_element()? {
            several.push(pan);
        }
        Ok(PansWritten::Several(several))
    }
}

/// Reads the dimensions of one shape.
struct Measuring(&'static ShapeKind);

impl<'de> DeserializeSeed<'de> for Measuring {
    type Value = Vec<(Dimension, Entry)>;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Self::Value, D::Error> {
        deserializer.deserialize_map(self)
    }
}

impl<'de> Visitor<'de> for Measuring {
    type Value = Vec<(Dimension, Entry)>;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "the dimensions of a {} pan", self.0.word)
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<Self::Value, A::Error> {
        let mut entries: Self::Value = Vec::new();
        while let Some(name) = fields.next_key::<Cow<'de, str>>()? {
            let Some(field) = self.0.fields.iter().find(|field| field.dimension.word() == name) else {
                let refusal = Error::unknown_field(&name, fields_of(self.0));
                fields.next_value::<IgnoredAny>()?;
                return Err(refusal);
            };
            if entries.iter().any(|(known, _)| *known == field.dimension) {
                return Err(Error::duplicate_field(field.dimension.word()));
            }
            let entry = match field.dimension.family() {
                Family::Count => Entry::Number(fields.next_value()?),
                _ => Entry::Amount(fields.next_value()?),
            };
            entries.push((field.dimension, entry));
        }
        Ok(entries)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_phrase_an_object_and_a_list_are_read() {
        for good in [
            "\"9 inch round\"",
            "{\"round\": {\"diameter\": \"9 in\"}, \"count\": 2, \"material\": \"glass\"}",
            "{\"muffin-tray\": {\"wells\": 12, \"diameter\": {\"value\": 7, \"unit\": \"cm\"}}}",
            "[\"9 inch round\", {\"square\": {\"side\": \"8 in\"}}]",
        ] {
            assert!(serde_json::from_str::<PansWritten>(good).is_ok(), "{good}");
        }
    }

    #[test]
    fn a_pan_has_no_other_shape_s_dimensions() {
        for wrong in [
            "{\"round\": {\"side\": \"9 in\"}}",
            "{\"rownd\": {}}",
            "{\"round\": {\"diameter\": [9]}}",
            "{\"round\": {}, \"round\": {}}",
            "{\"count\": -1}",
            "9",
            "null",
        ] {
            assert!(serde_json::from_str::<PansWritten>(wrong).is_err(), "{wrong}");
        }
    }
}
