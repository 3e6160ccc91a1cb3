//! The operations beside the calculations: the tables, all read by GET, and the service itself.

use serde_json::{Value, json};
use utoipa::openapi::header::HeaderBuilder;
use utoipa::openapi::path::{HttpMethod, Operation, OperationBuilder, Parameter, ParameterBuilder, ParameterIn, PathItem};
use utoipa::openapi::response::ResponseBuilder;
use utoipa::openapi::schema::{Components, ObjectBuilder, Schema};
use utoipa::openapi::{ContentBuilder, Required};

use super::hint::{list, named, text, whole};
use super::problem;
use crate::quantity::Code;

/// The tag of the tables.
pub const TABLES: &str = "tables";
/// The tag of the service's own paths.
pub const SERVICE: &str = "service";

/// One path that is read by GET and takes no question.
struct Read {
    path: &'static str,
    id: &'static str,
    summary: &'static str,
    description: &'static str,
    tag: &'static str,
    /// What the path or the query asks for: its name, its description and a value that is found.
    key: Option<(&'static str, &'static str, &'static str)>,
}

const READS: &[Read] = &[
    table("/v1/ingredients", "list_ingredients", "The ingredients that are known", "Every ingredient with its spellings; `q` narrows the list to names that are near a word.", Some(("q", "A word to look for in the names and spellings.", "flour"))),
    table("/v1/ingredients/{id}", "get_ingredient", "One ingredient with all its figures", "Its spellings, its measured weights by way of filling, its composition and what it counts as, each with its source.", Some(("id", "The id, as `/v1/ingredients` has it.", "all-purpose-flour"))),
    table("/v1/units", "list_units", "The units that are read", "Words of the kitchen and UCUM codes, with the exact size of each in every national set of measures.", None),
    table("/v1/pans", "list_pans", "Trade pan sizes", "Pans as they are sold, with their inside dimensions and, where one is printed, the published capacity.", None),
    table("/v1/shapes", "list_shapes", "The shapes of pans and their dimensions", "Which dimensions each shape takes, and which of them may be left out.", None),
    table("/v1/styles", "list_styles", "The styles of product and their bounds", "Each style with the bounds that its balance is judged by.", None),
    table("/v1/losses", "list_losses", "Losses by product and stage", "The share of the mass entering a stage that does not leave it, where a batch names no losses of its own.", None),
    table("/v1/sources", "list_sources", "The published sources of all figures", "Each source with its title, its publisher and its year.", None),
    table("/v1/sources/{id}", "get_source", "One published source", "Its title, its publisher and its year.", Some(("id", "The id, as an answer names it.", "usda-sr28"))),
    service("/v1/problems", "list_problems", "Every cause of a refusal", "The codes with which a question can be refused, each with its meaning and its mend.", None),
    service("/v1/problems/{code}", "get_problem", "One cause of a refusal", "What it means and how to mend it.", Some(("code", "The code, as a refusal names it.", "unknown-unit"))),
    service("/v1/limits", "get_limits", "What the service allows", "Sizes, counts and times beyond which a request is refused.", None),
    service("/health/live", "check_liveness", "Whether the service lives", "Answers as long as the process can answer at all.", None),
    service("/health/ready", "check_readiness", "Whether the service takes questions", "Answers 503 while the service is being stopped.", None),
];

const fn table(path: &'static str, id: &'static str, summary: &'static str, description: &'static str, key: Option<(&'static str, &'static str, &'static str)>) -> Read {
    Read { path, id, summary, description, tag: TABLES, key }
}

const fn service(path: &'static str, id: &'static str, summary: &'static str, description: &'static str, key: Option<(&'static str, &'static str, &'static str)>) -> Read {
    Read { path, id, summary, description, tag: SERVICE, key }
}

/// The paths, each with its one operation.
pub fn path_items() -> impl Iterator<Item = (&'static str, PathItem)> {
    READS.iter().map(|read| (read.path, PathItem::new(HttpMethod::Get, operation(read))))
}

fn operation(read: &Read) -> Operation {
    let operation = OperationBuilder::new()
        .tag(read.tag)
        .operation_id(Some(read.id))
        .summary(Some(read.summary))
        .description(Some(read.description))
        .parameters(read.key.map(|key| [parameter(read, key)]))
        .response("200", answer(read));
    let mut statuses = vec![400, 405, 406, 414, 503];
    if read.path.contains('{') {
        statuses.push(404);
    }
    statuses.into_iter().fold(operation, |operation, status| operation.response(status.to_string(), problem::shared(status))).build()
}

fn answer(read: &Read) -> ResponseBuilder {
    let content = ContentBuilder::new().schema(Some(named(schema_of(read)))).example(Some(example(read)));
    let response = ResponseBuilder::new().description(read.summary).content("application/json", content.build());
    if read.tag == TABLES {
        let tag = text("A strong tag of these bytes.", 80, "\"0123456789abcdef\"").build();
        return response.header("ETag", HeaderBuilder::new().description(Some("For `If-None-Match`.")).schema(Some(tag)).build());
    }
    response
}

fn parameter(read: &Read, (name, description, found): (&str, &str, &str)) -> Parameter {
    let in_path = read.path.contains('{');
    ParameterBuilder::new()
        .name(name)
        .parameter_in(if in_path { ParameterIn::Path } else { ParameterIn::Query })
        .required(if in_path { Required::True } else { Required::False })
        .description(Some(description))
        .schema(Some(text(description, 200, found)))
        .example(Some(found.into()))
        .build()
}

fn schema_of(read: &Read) -> &'static str {
    match (read.path, read.tag) {
        ("/v1/limits", _) => "Limits",
        ("/v1/problems", _) => "Causes",
        ("/v1/problems/{code}", _) => "Cause",
        (path, SERVICE) if path.starts_with("/health") => "Health",
        _ => "Table",
    }
}

fn example(read: &Read) -> Value {
    match schema_of(read) {
        "Limits" => limits(),
        "Causes" => json!({ "problems": [cause_of(Code::UnknownUnit)] }),
        "Cause" => cause_of(Code::UnknownUnit),
        "Health" => json!({ "status": "live" }),
        _ => json!({ "tables": "0123456789ab" }),
    }
}

fn cause_of(code: Code) -> Value {
    json!({ "code": code.as_str(), "title": code.title(), "meaning": code.meaning(), "mend": code.mend() })
}

/// Adds the schemas of these answers.
pub fn schemas(components: &mut Components) {
    let tables = text("The version of the tables: the first 12 hexadecimal digits of SHA-256 over the data files.", 12, "0123456789ab");
    let table = ObjectBuilder::new().description(Some("A table, in the order in which it is kept.")).property("tables", tables).required("tables");
    let causes = ObjectBuilder::new()
        .description(Some("Every cause of a refusal."))
        .property("problems", list("The causes.", 200, named("Cause")))
        .required("problems");
    let health = ObjectBuilder::new()
        .description(Some("How the service is."))
        .property("status", text("`live`, `ready` or `stopping`.", 20, "live"))
        .required("status");
    let named: [(&str, Schema); 5] =
        [("Table", table.into()), ("Causes", causes.into()), ("Cause", cause()), ("Health", health.into()), ("Limits", limits_schema())];
    components.schemas.extend(named.map(|(name, schema)| (name.to_owned(), schema.into())));
}

fn cause() -> Schema {
    ObjectBuilder::new()
        .description(Some("One cause of a refusal."))
        .property("code", named("Code"))
        .property("title", text("The same for every problem of this code.", 200, Code::UnknownUnit.title()))
        .property("meaning", text("What it means.", 400, Code::UnknownUnit.meaning()))
        .property("mend", text("How to mend the question.", 400, Code::UnknownUnit.mend()))
        .required("code")
        .required("title")
        .required("meaning")
        .required("mend")
        .into()
}

/// What the service allows, as the document carries it.
pub fn limits() -> Value {
    json!({ "body_bytes": 1_048_576, "depth": 32 })
}

fn limits_schema() -> Schema {
    ObjectBuilder::new()
        .description(Some("What the service allows."))
        .property("body_bytes", whole("The largest body, in bytes.", 1, 1 << 30, 1_048_576))
        .property("depth", whole("How deep lists and objects may stand inside one another.", 1, 1000, 32))
        .into()
}
