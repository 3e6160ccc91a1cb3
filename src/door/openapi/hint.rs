//! Short ways of writing the schemas that the service itself answers with: a text, a count, a list. The calculations bring their own.

use utoipa::openapi::response::ResponseBuilder;
use utoipa::openapi::schema::{ArrayBuilder, KnownFormat, ObjectBuilder, Schema, SchemaFormat, Type};
use utoipa::openapi::{Ref, RefOr};

/// A text of at most so many characters.
pub fn text(description: &str, most: usize, example: &str) -> ObjectBuilder {
    ObjectBuilder::new().schema_type(Type::String).description(Some(description)).max_length(Some(most)).examples([example])
}

/// A whole number between two bounds.
pub fn whole(description: &str, least: usize, most: usize, example: usize) -> ObjectBuilder {
    ObjectBuilder::new()
        .schema_type(Type::Integer)
        .description(Some(description))
        .minimum(Some(least))
        .maximum(Some(most))
        .examples([example])
}

/// A figure whose unit stands beside it.
pub fn number(description: &str) -> ObjectBuilder {
    let format = SchemaFormat::KnownFormat(KnownFormat::Double);
    ObjectBuilder::new().schema_type(Type::Number).format(Some(format)).description(Some(description)).examples([32])
}

/// A list of at most so many.
pub fn list(description: &str, most: usize, item: impl Into<RefOr<Schema>>) -> ArrayBuilder {
    ArrayBuilder::new().description(Some(description)).min_items(Some(0)).max_items(Some(most)).items(item.into())
}

/// One of a few words, each described: `(word, what it means)`.
pub fn words<'w>(description: &str, words: impl IntoIterator<Item = (&'w str, &'w str)> + Clone) -> ObjectBuilder {
    let mut told = description.to_owned();
    for (word, meaning) in words.clone() {
        told.push_str(&format!("\n- `{word}`: {meaning}"));
    }
    ObjectBuilder::new().schema_type(Type::String).description(Some(told)).enum_values(Some(words.into_iter().map(|(word, _)| word)))
}

/// Members that are always there.
pub trait Always {
    /// Adds a member that no answer leaves out.
    fn always(self, name: &str, schema: impl Into<RefOr<Schema>>) -> Self;
}

impl Always for ObjectBuilder {
    fn always(self, name: &str, schema: impl Into<RefOr<Schema>>) -> Self {
        self.property(name, schema).required(name)
    }
}

/// The answer to who has it already.
pub fn not_modified() -> ResponseBuilder {
    ResponseBuilder::new().description("`If-None-Match` names the answer as it still is; it is not sent again.")
}

/// A reference to a named schema.
pub fn named(name: &str) -> RefOr<Schema> {
    Ref::from_schema_name(name).into()
}
