//! An amount as it comes in: a text as people write it, a bare number, or a value and a unit. Serialisation stands here, apart from the meaning.

use std::borrow::Cow;
use std::fmt;

use serde::de::{Deserialize, Deserializer, Error, IgnoredAny, MapAccess, Visitor};
use utoipa::openapi::RefOr;
use utoipa::openapi::schema::{AdditionalProperties, KnownFormat, ObjectBuilder, OneOfBuilder, Schema, SchemaFormat, Type};

/// An amount as written: `"1 1/2 cups"`, or `{"value": 1.5, "unit": "cup"}`. A bare number is its text: what is counted, and what is always minutes, needs no unit;
/// everything else tells what is missing.
#[derive(Clone, Debug, PartialEq)]
pub enum Written {
    Text(Box<str>),
    Pair { value: f64, unit: Box<str> },
}

impl Written {
    /// As a person would write it.
    pub fn as_text(&self) -> Cow<'_, str> {
        match self {
            Self::Text(text) => Cow::Borrowed(text),
            Self::Pair { value, unit } => Cow::Owned(format!("{value} {unit}")),
        }
    }
}

impl<'de> Deserialize<'de> for Written {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Reader { expected: EXPECTED })
    }
}

/// Amounts of one kind: read as all are, and told by an example of their own where they are missing.
impl Written {
    pub fn temperature<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Reader { expected: "a temperature such as \"24 °C\" or \"75 F\"" })
    }

    pub fn altitude<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Reader { expected: "an altitude such as \"1600 m\" or \"5280 ft\"" })
    }

    pub fn egg<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Reader {
            expected: "a class of eggs such as \"medium\" or \"EU large\", or what one weighs, such as \"52 g\"",
        })
    }
}

impl serde::Serialize for Written {
    /// In the form in which it came: a text stays a text.
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Text(text) => serializer.serialize_str(text),
            Self::Pair { value, unit } => {
                use serde::ser::SerializeStruct;
                let mut pair = serializer.serialize_struct("Amount", 2)?;
                pair.serialize_field("value", &super::Figure(*value))?;
                pair.serialize_field("unit", unit)?;
                pair.end()
            }
        }
    }
}

struct Reader {
    expected: &'static str,
}

/// What is said when no form is met.
const EXPECTED: &str = "an amount such as \"1 1/2 cups\", or {\"value\": 1.5, \"unit\": \"cup\"}";

impl<'de> Visitor<'de> for Reader {
    type Value = Written;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(self.expected)
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Written, E> {
        Ok(Written::Text(text.into()))
    }

    fn visit_string<E: Error>(self, text: String) -> Result<Written, E> {
        Ok(Written::Text(text.into()))
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Written, E> {
        Ok(Written::Text(number.to_string().into()))
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Written, E> {
        Ok(Written::Text(number.to_string().into()))
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<Written, E> {
        // A figure beyond all amounts is told as one, and not by its noughts.
        let short = number == 0.0 || (1e-9..1e15).contains(&number.abs());
        Ok(Written::Text(if short { number.to_string() } else { format!("{number:e}") }.into()))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<Written, A::Error> {
        let (mut value, mut unit) = (None, None);
        while let Some(field) = fields.next_key::<Cow<'de, str>>()? {
            match &*field {
                "value" if value.is_some() => return Err(Error::duplicate_field("value")),
                "unit" if unit.is_some() => return Err(Error::duplicate_field("unit")),
                "value" => value = Some(fields.next_value::<f64>()?),
                "unit" => unit = Some(fields.next_value::<Box<str>>()?),
                unknown => {
                    let refusal = Error::unknown_field(unknown, &["value", "unit"]);
                    fields.next_value::<IgnoredAny>()?;
                    return Err(refusal);
                }
            }
        }
        Ok(Written::Pair {
            value: value.ok_or_else(|| Error::missing_field("value"))?,
            unit: unit.ok_or_else(|| Error::missing_field("unit"))?,
        })
    }
}

impl utoipa::PartialSchema for Written {
    fn schema() -> RefOr<Schema> {
        let text = ObjectBuilder::new()
            .schema_type(Type::String)
            .description(Some("As people write it: a number (fractions and ranges too) and a unit."))
            .min_length(Some(1))
            .max_length(Some(200))
            .examples(["1 1/2 cups", "120 ml", "2-3 Tbsp", "3 large"]);
        let value = ObjectBuilder::new()
            .schema_type(Type::Number)
            .format(Some(SchemaFormat::KnownFormat(KnownFormat::Double)))
            .description(Some("How many of the unit."))
            .minimum(Some(-1e9))
            .maximum(Some(1e9))
            .examples([1.5]);
        let unit = ObjectBuilder::new()
            .schema_type(Type::String)
            .description(Some("A unit by a word of the kitchen or by its UCUM code; see /v1/units."))
            .min_length(Some(1))
            .max_length(Some(200))
            .examples(["cup"]);
        let pair = ObjectBuilder::new()
            .schema_type(Type::Object)
            .description(Some("As a value and a unit."))
            .property("value", value)
            .property("unit", unit)
            .required("value")
            .required("unit")
            .additional_properties(Some(AdditionalProperties::FreeForm(false)));
        let number = ObjectBuilder::new()
            .schema_type(Type::Number)
            .description(Some("A bare number, where no unit is needed: 4 eggs, 25 minutes."))
            .minimum(Some(-1e9))
            .maximum(Some(1e9))
            .examples([4]);
        OneOfBuilder::new()
            .item(text)
            .item(number)
            .item(pair)
            .description(Some("An amount: a text such as \"1 1/2 cups\", or a value and a unit."))
            .into()
    }
}

impl utoipa::ToSchema for Written {
    fn name() -> Cow<'static, str> {
        Cow::Borrowed("Amount")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_a_number_and_a_pair_are_read_and_nothing_else() {
        let read = serde_json::from_str::<Written>;
        assert!(matches!(read("\"2 cups\""), Ok(Written::Text(_))));
        assert!(matches!(read("{\"unit\":\"g\",\"value\":2}"), Ok(Written::Pair { .. })));
        for (number, text) in [("2", "2"), ("2.0", "2"), ("-2.5", "-2.5"), ("25e-1", "2.5"), ("1e308", "1e308"), ("1e-300", "1e-300")] {
            assert!(matches!(read(number), Ok(Written::Text(read)) if *read == *text), "{number}");
        }
        for wrong in ["true", "null", "[]", "{}", "{\"value\":1}", "{\"value\":1,\"unit\":\"g\",\"x\":1}"] {
            assert!(serde_json::from_str::<Written>(wrong).is_err(), "{wrong}");
        }
    }
}
