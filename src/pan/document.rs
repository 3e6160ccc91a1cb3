//! How a pan is described in the document: the object's members are the list of shapes, their members the fields of each.

use std::borrow::Cow;

use serde::Serialize;
use utoipa::openapi::schema::{AdditionalProperties, ArrayBuilder, ObjectBuilder, OneOfBuilder, Schema, Type};
use utoipa::openapi::{Ref, RefOr};
use utoipa::{PartialSchema, ToSchema};

use super::kind::{Field, ShapeKind};
use super::material::Material;
use super::shapes::SHAPES;
use super::written::{MOST_PANS, PanWritten, PansWritten};
use crate::quantity::{Family, Written};

type Components = Vec<(String, RefOr<Schema>)>;

impl PartialSchema for PanWritten {
    fn schema() -> RefOr<Schema> {
        let phrase = ObjectBuilder::new()
            .schema_type(Type::String)
            .description(Some(
                "A trade phrase: words and numbers, order free. Without a depth the commonest trade depth is taken, and told. Several sizes in one phrase are several pans.",
            ))
            .min_length(Some(1))
            .max_length(Some(200))
            .examples(["9 inch round, 2 inches deep", "13x9x2 in", "half sheet", "12-cup fluted ring", "2 lb loaf tin", "10, 8 and 6 inch rounds"]);
        let count = ObjectBuilder::new()
            .schema_type(Type::Integer)
            .description(Some("How many such pans; 1 where it is left out."))
            .minimum(Some(1))
            .maximum(Some(1000))
            .examples([2]);
        let mut drawn =
            ObjectBuilder::new().schema_type(Type::Object).description(Some("By shape: exactly one shape, beside count and material."));
        for kind in SHAPES {
            drawn = drawn.property(kind.word, shape(kind));
        }
        let drawn = drawn
            .property("count", count)
            .property("material", Ref::from_schema_name("Material"))
            .additional_properties(Some(AdditionalProperties::FreeForm(false)));
        OneOfBuilder::new()
            .item(phrase)
            .item(drawn)
            .description(Some("A pan, by its inside dimensions: a trade phrase, or an object with exactly one shape."))
            .into()
    }
}

fn shape(kind: &ShapeKind) -> ObjectBuilder {
    let mut object = ObjectBuilder::new().schema_type(Type::Object).description(Some(kind.text));
    for field in kind.fields {
        object = object.property(field.dimension.word(), dimension(field));
        if field.needed {
            object = object.required(field.dimension.word());
        }
    }
    object.additional_properties(Some(AdditionalProperties::FreeForm(false)))
}

fn dimension(field: &Field) -> RefOr<Schema> {
    if field.dimension.family() == Family::Count {
        let wells = ObjectBuilder::new()
            .schema_type(Type::Integer)
            .description(Some(field.text))
            .minimum(Some(1))
            .maximum(Some(200))
            .examples([12]);
        return wells.into();
    }
    let mut amount = Ref::from_schema_name("Amount");
    amount.description = field.text.to_owned();
    RefOr::Ref(amount)
}

impl ToSchema for PanWritten {
    fn name() -> Cow<'static, str> {
        Cow::Borrowed("Pan")
    }

    fn schemas(schemas: &mut Components) {
        schemas.push((Written::name().into_owned(), Written::schema()));
        schemas.push((Material::name().into_owned(), Material::schema()));
    }
}

impl PartialSchema for PansWritten {
    fn schema() -> RefOr<Schema> {
        let several = ArrayBuilder::new()
            .items(Ref::from_schema_name("Pan"))
            .description(Some("Several pans at once."))
            .min_items(Some(1))
            .max_items(Some(MOST_PANS));
        OneOfBuilder::new()
            .item(Ref::from_schema_name("Pan"))
            .item(several)
            .description(Some("One pan, or a list of pans used at once."))
            .into()
    }
}

impl ToSchema for PansWritten {
    fn name() -> Cow<'static, str> {
        Cow::Borrowed("Pans")
    }

    fn schemas(schemas: &mut Components) {
        schemas.push((PanWritten::name().into_owned(), PanWritten::schema()));
        PanWritten::schemas(schemas);
    }
}

/// One shape as it is listed.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct ShapeListed {
    /// Its word, to be used as the key of a pan.
    #[schema(examples("round"), max_length = 40)]
    pub shape: &'static str,
    /// What it is.
    #[schema(max_length = 400)]
    pub text: &'static str,
    /// Its dimensions.
    #[schema(max_items = 20)]
    pub fields: Vec<FieldListed>,
}

/// One dimension of a shape as it is listed.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct FieldListed {
    /// Its name.
    #[schema(examples("diameter"), max_length = 40)]
    pub field: &'static str,
    /// Whether the shape cannot do without it.
    pub needed: bool,
    /// What kind of measure it is.
    pub measures: Family,
    /// What to measure.
    #[schema(max_length = 400)]
    pub text: &'static str,
}

/// All shapes with their fields, as they are listed at /v1/shapes.
pub fn listed_shapes() -> Vec<ShapeListed> {
    let field = |field: &Field| FieldListed {
        field: field.dimension.word(),
        needed: field.needed,
        measures: field.dimension.family(),
        text: field.text,
    };
    SHAPES.iter().map(|kind| ShapeListed { shape: kind.word, text: kind.text, fields: kind.fields.iter().map(field).collect() }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_shape_of_the_list_is_in_the_document() {
        let document = serde_json::to_string(&PanWritten::schema()).unwrap_or_default();
        for kind in SHAPES {
            assert!(document.contains(&format!("\"{}\":{{", kind.word)), "{}", kind.word);
        }
    }
}
