//! A pan on its way out in the form in which it came in, so that an answer can be asked again; and the same pan in another material.

use serde::ser::{Serialize, SerializeMap, SerializeSeq, Serializer};

use super::kind::ShapeKind;
use super::material::Material;
use super::written::{Entry, PanWritten, PansWritten};
use crate::reference::Dimension;

impl Serialize for PansWritten {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::One(pan) => pan.serialize(serializer),
            Self::Several(pans) => {
                let mut list = serializer.serialize_seq(Some(pans.len()))?;
                pans.iter().try_for_each(|pan| list.serialize_element(pan))?;
                list.end()
            }
        }
    }
}

impl Serialize for PanWritten {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let drawn = match self {
            Self::Phrase(phrase) => return serializer.serialize_str(phrase),
            Self::Drawn(drawn) => drawn,
        };
        let mut fields = serializer.serialize_map(None)?;
        for (word, dimensions) in &drawn.shapes {
            fields.serialize_entry(word, &Dimensions(word, dimensions))?;
        }
        if let Some(count) = drawn.count {
            fields.serialize_entry("count", &count)?;
        }
        if let Some(material) = drawn.material {
            fields.serialize_entry("material", &material)?;
        }
        fields.end()
    }
}

/// The dimensions of one shape, by their names: in the order of its fields, so that another order of the question's keys gives the same bytes.
struct Dimensions<'p>(&'static str, &'p [(Dimension, Entry)]);

impl Serialize for Dimensions<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Self(word, entries) = self;
        let known = ShapeKind::of_word(word).map_or(&[][..], |kind| kind.fields);
        let in_order = known.iter().filter_map(|field| entries.iter().find(|(dimension, _)| *dimension == field.dimension));
        let mut fields = serializer.serialize_map(Some(entries.len()))?;
        for (dimension, entry) in in_order {
            match entry {
                Entry::Amount(amount) => fields.serialize_entry(dimension.word(), amount)?,
                Entry::Number(number) => fields.serialize_entry(dimension.word(), number)?,
            }
        }
        fields.end()
    }
}

impl PansWritten {
    /// The same pans of another material.
    #[must_use]
    pub fn in_material(&self, material: Material) -> Self {
        match self {
            Self::One(pan) => Self::One(pan.in_material(material)),
            Self::Several(pans) => Self::Several(pans.iter().map(|pan| pan.in_material(material)).collect()),
        }
    }
}

impl PanWritten {
    fn in_material(&self, material: Material) -> Self {
        match self {
            // A phrase may have said a material already: its word gives way.
            Self::Phrase(phrase) => {
                let kept: Vec<&str> = phrase
                    .split_whitespace()
                    .filter(|word| Material::of_phrase_word(&word.trim_matches(',').to_ascii_lowercase()).is_none())
                    .collect();
                Self::Phrase(format!("{}, {}", kept.join(" ").trim_end_matches(','), spoken(material)).into())
            }
            Self::Drawn(drawn) => {
                let mut drawn = drawn.clone();
                drawn.material = Some(material);
                Self::Drawn(drawn)
            }
        }
    }
}

/// The word by which a phrase says a material.
const fn spoken(material: Material) -> &'static str {
    match material {
        Material::LightMetal => "light",
        Material::DarkMetal => "dark",
        other => other.word(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pan_leaves_as_it_came() {
        for pan in [
            "\"9 inch round, 2 inches deep\"",
            "{\"round\":{\"diameter\":\"9 in\",\"depth\":{\"value\":2.5,\"unit\":\"in\"}},\"count\":2,\"material\":\"glass\"}",
            "[{\"muffin-tray\":{\"wells\":12,\"diameter\":\"7 cm\"}},\"8 inch square\"]",
        ] {
            let read: PansWritten = serde_json::from_str(pan).unwrap_or_else(|fault| panic!("{pan}: {fault}"));
            assert_eq!(serde_json::to_string(&read).unwrap_or_default(), pan);
        }
    }

    #[test]
    fn the_order_of_the_keys_changes_nothing() {
        let read: PansWritten = serde_json::from_str(r#"{"material":"glass","oval":{"depth":"2 in","width":"7 in","length":"9 in"}}"#)
            .unwrap_or_else(|fault| panic!("{fault}"));
        let written = serde_json::to_string(&read).unwrap_or_default();
        assert_eq!(written, r#"{"oval":{"length":"9 in","width":"7 in","depth":"2 in"},"material":"glass"}"#);
    }

    #[test]
    fn a_phrase_in_glass_is_a_phrase_that_says_so() {
        let pan = PansWritten::One(PanWritten::Phrase("9 inch dark round, 2 inches deep".into()));
        let PansWritten::One(PanWritten::Phrase(glass)) = pan.in_material(Material::Glass) else { panic!("a phrase stays one") };
        assert_eq!(&*glass, "9 inch round, 2 inches deep, glass");
    }
}
