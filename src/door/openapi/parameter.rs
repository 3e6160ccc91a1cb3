//! Query parameters: those of a flat question, made from the properties of its schema, and the three that belong to the door and never to a question.

use serde_json::Value;
use utoipa::openapi::path::{Parameter, ParameterBuilder, ParameterIn};
use utoipa::openapi::schema::{Components, Object, ObjectBuilder, Schema, SchemaType, Type};
use utoipa::openapi::{Ref, RefOr, Required};

use super::hint::{text, words};

/// The parameters of the door, which a question asked by POST takes in its address too.
pub fn of_the_door(in_rows: bool) -> Vec<Parameter> {
    let mut forms = vec![("json", "the whole answer"), ("text", "the bare figure, for a spreadsheet cell")];
    forms.extend(in_rows.then_some(("csv", "a heading and a row, for a sheet that reads tables by address")));
    let form = words("One of these forms.", forms).default(Some("json".into()));
    vec![
        query("format", "The form of the answer. It decides before the header `Accept`.", form.into()),
        query("explain", "With `true`, the answer carries its working: the steps with numbers in.", switch()),
        query("tables", "The version of the tables for which figures are wanted; another version is refused by name.", version()),
    ]
}

/// One parameter for each property of a flat question that a text can say; what is a whole of its own (a formula, a bake) is asked by POST.
pub fn of_question(name: &str, components: &Components, example: Option<&Value>) -> Vec<Parameter> {
    let Some(question) = object(name, components) else { return Vec::new() };
    question
        .properties
        .iter()
        .filter(|(_, schema)| stands_in_an_address(schema, components))
        .map(|(field, schema)| {
            let required = question.required.contains(field);
            let mut parameter = ParameterBuilder::new()
                .name(field)
                .parameter_in(ParameterIn::Query)
                .required(if required { Required::True } else { Required::False })
                .description(description(schema, components))
                .schema(Some(as_text(schema, components)));
            if let Some(value) = example.and_then(|question| question.get(field)) {
                parameter = parameter.example(Some(value.clone()));
            }
            parameter.build()
        })
        .collect()
}

pub fn query(name: &str, description: &str, schema: Schema) -> Parameter {
    ParameterBuilder::new()
        .name(name)
        .parameter_in(ParameterIn::Query)
        .required(Required::False)
        .description(Some(description))
        .schema(Some(schema))
        .build()
}

fn switch() -> Schema {
    truth("Whether the working is wanted.", false)
}

/// True or false.
pub fn truth(description: &str, default: bool) -> Schema {
    ObjectBuilder::new().schema_type(Type::Boolean).description(Some(description)).default(Some(Value::Bool(default))).into()
}

fn version() -> Schema {
    text("12 hexadecimal digits, as `tables` in an answer has them.", 12, "0123456789ab").pattern(Some("^[0-9a-f]{12}$")).into()
}

fn object<'c>(name: &str, components: &'c Components) -> Option<&'c Object> {
    match components.schemas.get(name) {
        Some(RefOr::T(Schema::Object(object))) => Some(object),
        _ => None,
    }
}

fn description(schema: &RefOr<Schema>, components: &Components) -> Option<String> {
    match schema {
        RefOr::Ref(reference) if !reference.description.is_empty() => Some(reference.description.clone()),
        RefOr::Ref(reference) => target(reference, components).and_then(|schema| description(schema, components)),
        RefOr::T(Schema::Object(object)) => object.description.clone(),
        RefOr::T(Schema::OneOf(one)) => one.description.clone(),
        RefOr::T(_) => None,
    }
}

fn target<'c>(reference: &Ref, components: &'c Components) -> Option<&'c RefOr<Schema>> {
    components.schemas.get(reference.ref_location.rsplit('/').next()?)
}

/// The schema of a property as it stands in an address: a text, without the forms that only JSON has.
fn as_text(schema: &RefOr<Schema>, components: &Components) -> RefOr<Schema> {
    match schema {
        RefOr::Ref(reference) => match target(reference, components) {
            Some(RefOr::T(Schema::Object(object))) if is(object, &Type::String) => Ref::new(reference.ref_location.clone()).into(),
            Some(RefOr::T(one @ Schema::OneOf(_))) => as_text(&RefOr::T(one.clone()), components),
            _ => schema.clone(),
        },
        RefOr::T(Schema::OneOf(one)) => {
            one.items.iter().map(|item| as_text(item, components)).find(is_text).unwrap_or_else(|| schema.clone())
        }
        RefOr::T(Schema::Object(object)) => {
            let mut object = object.clone();
            if let SchemaType::Array(types) = &object.schema_type {
                let kept = types.iter().find(|kind| **kind != Type::Null).cloned();
                object.schema_type = kept.map_or(SchemaType::AnyValue, SchemaType::Type);
            }
            RefOr::T(Schema::Object(object))
        }
        RefOr::T(_) => schema.clone(),
    }
}

fn stands_in_an_address(schema: &RefOr<Schema>, components: &Components) -> bool {
    match as_text(schema, components) {
        RefOr::Ref(reference) => {
            matches!(target(&reference, components), Some(RefOr::T(Schema::Object(object))) if is(object, &Type::String))
        }
        RefOr::T(Schema::Object(object)) => !is(&object, &Type::Object) && !is(&object, &Type::Array),
        RefOr::T(_) => false,
    }
}

fn is_text(schema: &RefOr<Schema>) -> bool {
    match schema {
        RefOr::T(Schema::Object(object)) => is(object, &Type::String),
        RefOr::T(_) => false,
        RefOr::Ref(_) => true,
    }
}

fn is(object: &Object, wanted: &Type) -> bool {
    match &object.schema_type {
        SchemaType::Type(kind) => kind == wanted,
        SchemaType::Array(kinds) => kinds.contains(wanted),
        SchemaType::AnyValue => false,
    }
}
