//! The operations beside the calculations: the tables, all read by GET, and the service itself. What each path is for is said here; which paths there are is the door's list.

use serde_json::{Value, json};
use utoipa::openapi::header::HeaderBuilder;
use utoipa::openapi::path::{HttpMethod, Operation, OperationBuilder, Parameter, ParameterBuilder, ParameterIn, PathItem};
use utoipa::openapi::response::ResponseBuilder;
use utoipa::openapi::schema::{Components, ObjectBuilder, Schema};
use utoipa::openapi::{ContentBuilder, Required};

use super::hint::{Always, list, named, not_modified, number, text, whole};
use super::problem;
use crate::calculation::Schemas;
use crate::door::{routes, status, tables};
use crate::quantity::Code;
use crate::reference::Reference;
use crate::settings::Settings;

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
    table(
        "/v1/ingredients",
        "list_ingredients",
        "The ingredients that are known",
        "Every ingredient with its spellings; with `q` those whose name holds the words, or else those that are spelled most alike.",
        Some(("q", "Words of a name.", "flour")),
    ),
    table(
        "/v1/ingredients/{id}",
        "get_ingredient",
        "One ingredient with all its figures",
        "Its spellings, its measured weights by way of filling, its composition and what it counts as, each with its source.",
        Some(("id", "The id, as `/v1/ingredients` has it.", "all-purpose-flour")),
    ),
    table(
        "/v1/units",
        "list_units",
        "The units that are read",
        "Words of the kitchen and UCUM codes, with the exact definition of each and the sets of measures that it belongs to.",
        None,
    ),
    table(
        "/v1/pans",
        "list_pans",
        "Trade pan sizes",
        "Pans as they are sold, with their inside dimensions and, where one is printed, the published capacity.",
        None,
    ),
    table(
        "/v1/shapes",
        "list_shapes",
        "The shapes of pans and their dimensions",
        "Which dimensions each shape takes, and which of them may be left out.",
        None,
    ),
    table(
        "/v1/styles",
        "list_styles",
        "The styles of product and their bounds",
        "Each style with the bounds that its balance is judged by.",
        None,
    ),
    table(
        "/v1/losses",
        "list_losses",
        "Losses by product and stage",
        "The share of the mass entering a stage that does not leave it, where a batch names no losses of its own.",
        None,
    ),
    table(
        "/v1/swaps",
        "list_swaps",
        "What may stand for what",
        "Each swap with what comes in and goes out, in grams for a hundred grams of what is replaced. `adapt` uses them.",
        None,
    ),
    table("/v1/cautions", "list_cautions", "What can hurt someone", "Every caution that an answer can carry, with its source.", None),
    table(
        "/v1/sources",
        "list_sources",
        "The published sources of all figures",
        "Each source with its title, its publisher and its year.",
        None,
    ),
    table(
        "/v1/sources/{id}",
        "get_source",
        "One published source",
        "Its title, its publisher and its year.",
        Some(("id", "The id, as an answer names it.", "usda-sr28")),
    ),
    service(
        "/v1/problems",
        "list_problems",
        "Every cause of a refusal",
        "The codes with which a question can be refused, each with its meaning and its mend.",
        None,
    ),
    service(
        "/v1/problems/{code}",
        "get_problem",
        "One cause of a refusal",
        "What it means and how to mend it.",
        Some(("code", "The code, as a refusal names it.", "unknown-unit")),
    ),
    service("/v1/limits", "get_limits", "What the service allows", "Sizes, counts and times beyond which a request is refused.", None),
    service("/health/live", "check_liveness", "Whether the service lives", "Answers as long as the process can answer at all.", None),
    service(
        "/health/ready",
        "check_readiness",
        "Whether the service takes questions",
        "Answers 503 while the service is being stopped.",
        None,
    ),
];

const fn table(
    path: &'static str,
    id: &'static str,
    summary: &'static str,
    description: &'static str,
    key: Option<(&'static str, &'static str, &'static str)>,
) -> Read {
    Read { path, id, summary, description, tag: TABLES, key }
}

const fn service(
    path: &'static str,
    id: &'static str,
    summary: &'static str,
    description: &'static str,
    key: Option<(&'static str, &'static str, &'static str)>,
) -> Read {
    Read { path, id, summary, description, tag: SERVICE, key }
}

/// The paths that the door reads, each with its one operation.
pub fn path_items(reference: &'static Reference) -> impl Iterator<Item = (&'static str, PathItem)> {
    let reads = routes::paths().filter_map(|path| READS.iter().find(|read| read.path == path));
    reads.map(move |read| (read.path, PathItem::new(HttpMethod::Get, operation(read, reference))))
}

fn operation(read: &Read, reference: &'static Reference) -> Operation {
    let operation = OperationBuilder::new()
        .tag(read.tag)
        .operation_id(Some(read.id))
        .summary(Some(read.summary))
        .description(Some(read.description))
        .parameters(read.key.map(|key| [parameter(read, key)]))
        .response("200", answer(read, reference));
    let found = if read.path.contains('{') { Some(404) } else { None };
    let operation = if is_kept(read) { operation.response("304", not_modified()) } else { operation };
    let statuses = [400, 405, 406, 408, 414, 422, 431, 503].into_iter().chain(found);
    statuses.fold(operation, |operation, status| operation.response(status.to_string(), problem::shared(status))).build()
}

/// Whether its answer has an entity tag: it depends on nothing but the tables and the program.
fn is_kept(read: &Read) -> bool {
    !read.path.starts_with("/health") && read.path != "/v1/limits"
}

fn answer(read: &Read, reference: &'static Reference) -> ResponseBuilder {
    let content = ContentBuilder::new().schema(Some(named(&schema_of(read)))).example(Some(example(read, reference)));
    let response = ResponseBuilder::new().description(read.summary).content("application/json", content.build());
    if is_kept(read) {
        let tag = text("A strong tag of these bytes.", 120, "\"0123456789abcdef\"").build();
        return response.header(
            "ETag",
            HeaderBuilder::new().description(Some("For `If-None-Match`, which is answered by 304.")).schema(Some(tag)).build(),
        );
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

/// The last part of a path: the name of the table, and of the list in its answer.
fn name_of(path: &str) -> &str {
    path.rsplit('/').next().unwrap_or(path)
}

fn schema_of(read: &Read) -> String {
    let single = tables::TABLES.iter().filter_map(|table| table.one.as_ref()).find(|one| one.path == read.path);
    if let Some(one) = single {
        return (one.row)(&mut Schemas::new());
    }
    match read.path {
        "/v1/limits" => "Limits".to_owned(),
        "/v1/problems" => "Causes".to_owned(),
        "/v1/problems/{code}" => "Cause".to_owned(),
        path if path.starts_with("/health") => "Health".to_owned(),
        path => format!("Table-{}", name_of(path)),
    }
}

/// What the path really answers: of a list, its first row.
fn example(read: &Read, reference: &'static Reference) -> Value {
    let whole = tables::TABLES.iter().find(|table| table.path == read.path).map(|table| (table.whole)(reference));
    let one = tables::TABLES.iter().filter_map(|table| table.one.as_ref()).find(|one| one.path == read.path);
    let found = one.and_then(|one| (one.find)(reference, read.key?.2).ok());
    match read.path {
        "/v1/limits" => {
            json!({ "limits": [{ "name": "depth", "value": crate::calculation::DEPTH, "unit": "levels", "meaning": "lists and objects inside one another" }] })
        }
        "/v1/problems" => json!({ "problems": [cause_of(Code::UnknownUnit)] }),
        "/v1/problems/{code}" => cause_of(Code::UnknownUnit),
        path if path.starts_with("/health") => json!({ "status": name_of(path) }),
        _ => whole.or(found).and_then(|bytes| serde_json::from_slice(&bytes).ok()).map_or(Value::Null, shortened),
    }
}

fn shortened(mut answer: Value) -> Value {
    if let Some(rows) =
        answer.as_object_mut().filter(|answer| answer.len() == 1).and_then(|answer| answer.values_mut().next()?.as_array_mut())
    {
        rows.truncate(1);
    }
    answer
}

fn cause_of(code: Code) -> Value {
    json!({ "code": code.as_str(), "status": status(code).as_u16(), "title": code.title(), "meaning": code.meaning(), "mend": code.mend() })
}

/// Adds the schemas of these answers.
pub fn schemas(components: &mut Components) {
    for table in tables::TABLES {
        let mut rows = Schemas::new();
        let (name, row) = (name_of(table.path), (table.row)(&mut rows));
        table.one.iter().for_each(|one| drop((one.row)(&mut rows)));
        components.schemas.extend(rows);
        components.schemas.insert(format!("Table-{name}"), table_of(name, &row).into());
    }
    let named: [(&str, Schema); 5] =
        [("Causes", causes()), ("Cause", cause()), ("Health", health()), ("Limits", limits_schema()), ("Limit", limit())];
    components.schemas.extend(named.map(|(name, schema)| (name.to_owned(), schema.into())));
}

fn table_of(name: &str, row: &str) -> Schema {
    ObjectBuilder::new()
        .description(Some(format!("The table of {name}.")))
        .always(name, list("The rows, in the order in which they are kept.", 10_000, named(row)))
        .into()
}

fn causes() -> Schema {
    ObjectBuilder::new().description(Some("Every cause of a refusal.")).always("problems", list("The causes.", 200, named("Cause"))).into()
}

fn health() -> Schema {
    ObjectBuilder::new().description(Some("How the service is.")).always("status", text("`live` or `ready`.", 20, "live")).into()
}

fn cause() -> Schema {
    ObjectBuilder::new()
        .description(Some("One cause of a refusal."))
        .always("code", named("Code"))
        .always("status", whole("The status of an answer that refuses for this cause.", 400, 599, 422))
        .always("title", text("The same for every problem of this code.", 200, Code::UnknownUnit.title()))
        .always("meaning", text("What it means.", 400, Code::UnknownUnit.meaning()))
        .always("mend", text("How to mend the question.", 400, Code::UnknownUnit.mend()))
        .into()
}

fn limits_schema() -> Schema {
    ObjectBuilder::new().description(Some("What the service allows.")).always("limits", list("The limits.", 100, named("Limit"))).into()
}

fn limit() -> Schema {
    ObjectBuilder::new()
        .description(Some("One limit."))
        .always("name", text("Its name.", 60, "depth"))
        .always("value", number("The figure beyond which a request is refused, in the unit."))
        .always("unit", text("The unit; empty for a bare number.", 40, "levels"))
        .always("meaning", text("What is limited.", 200, "lists and objects inside one another"))
        .into()
}

/// The limits of a service that nobody has configured, by name. How many questions it takes at once depends on the machine: that is told by `/v1/limits` alone.
pub fn limits() -> Value {
    let of_the_machine = ["in-flight", "queue"];
    let fixed = crate::door::limits(&Settings::default()).into_iter().filter(|limit| !of_the_machine.contains(&limit.name));
    fixed.map(|limit| (limit.name.to_owned(), json!({ "value": limit.written(), "unit": limit.unit, "meaning": limit.meaning }))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculation::CALCULATIONS;

    /// The later would silently take the place of the earlier.
    #[test]
    fn no_two_schemas_have_the_same_name() {
        let mut all = Schemas::new();
        for entry in CALCULATIONS {
            entry.question_schema(&mut all);
            entry.answer_schema(&mut all);
        }
        for table in tables::TABLES {
            (table.row)(&mut all);
            table.one.iter().for_each(|one| drop((one.row)(&mut all)));
        }
        let mut known = std::collections::BTreeMap::new();
        for (name, schema) in all {
            let schema = json!(schema);
            assert_eq!(known.entry(name.clone()).or_insert_with(|| schema.clone()), &schema, "{name}");
        }
        for own in [
            "Causes",
            "Cause",
            "Health",
            "Limits",
            "Limit",
            "Code",
            "Fault",
            "Problem",
            super::super::bulk::ITEM,
            super::super::bulk::PROBLEM_ITEM,
        ] {
            assert!(!known.contains_key(own), "{own}");
        }
    }

    #[test]
    fn every_path_that_the_door_reads_is_in_the_document() {
        let own = ["/", "/openapi.json", "/tools.json", "/mcp", "/metrics", "/docs", "/docs/page.js", "/docs/page.css"];
        for path in routes::paths().filter(|path| !own.contains(path) && CALCULATIONS.iter().all(|entry| entry.path() != *path)) {
            assert!(READS.iter().any(|read| read.path == path), "{path}");
        }
    }
}
