//! The operations of the calculations: one for a question in the body and, where the question is flat, one for a question in the address.

use utoipa::openapi::path::{HttpMethod, Operation, OperationBuilder, PathItem, PathItemBuilder};
use utoipa::openapi::request_body::RequestBodyBuilder;
use utoipa::openapi::response::ResponseBuilder;
use utoipa::openapi::schema::{Components, Schema};
use utoipa::openapi::tag::{Tag, TagBuilder};
use utoipa::openapi::{ContentBuilder, RefOr, Required, Response};

use super::example::Example;
use super::hint::{named, not_modified, text};
use super::{bulk, parameter, problem};
use crate::calculation::Entry;

/// The tag of the calculations.
const CALCULATIONS: &str = "calculations";

/// The tags, in the order in which a reader meets them.
pub fn tags() -> Vec<Tag> {
    [
        (CALCULATIONS, "Questions about a formula, a pan or an amount. Each is asked by itself and nothing is kept."),
        (super::table::TABLES, "The figures behind the answers, each with its source. They change only with the version of the tables."),
        (super::table::SERVICE, "The service itself: whether it lives, what it allows, how it refuses."),
    ]
    .map(|(name, description)| TagBuilder::new().name(name).description(Some(description)).build())
    .into()
}

/// The operations at the path of a calculation; its schemas are added to the components.
pub fn path_item(entry: &Entry, examples: &[Example], components: &mut Components) -> PathItem {
    let mut schemas = Vec::new();
    let question = entry.question_schema(&mut schemas);
    let answer = entry.answer_schema(&mut schemas);
    components.schemas.extend(schemas);
    let item = PathItemBuilder::new().operation(HttpMethod::Post, by_body(entry, &question, &answer, examples));
    if entry.flat { item.operation(HttpMethod::Get, by_address(entry, &question, &answer, examples, components)) } else { item }.build()
}

fn by_body(entry: &Entry, question: &str, answer: &str, examples: &[Example]) -> Operation {
    let asked = ContentBuilder::new().schema(Some(bulk::asked(question))).examples_from_iter(answered(examples).map(Example::question));
    let body =
        RequestBodyBuilder::new().description(Some(bulk::BODY)).content("application/json", asked.build()).required(Some(Required::True));
    let body = bulk::questions(entry, examples).into_iter().fold(body, |body, (kind, content)| body.content(kind, content)).build();
    let mut parameters = parameter::of_the_door(false);
    parameters.extend(bulk::parameters(entry.flat));
    let response = given(bulk::answered(answer), examples);
    let response = bulk::answers(entry, examples).into_iter().fold(response, |response, (kind, content)| response.content(kind, content));
    let operation = begun(entry, "ask", "").parameters(Some(parameters)).request_body(Some(body)).response("200", response);
    refusals(operation, examples, &[400, 405, 406, 408, 413, 414, 415, 431, 503], false).build()
}

fn by_address(entry: &Entry, question: &str, answer: &str, examples: &[Example], components: &Components) -> Operation {
    let example = answered(examples).map(|example| &example.request).next();
    let mut parameters = parameter::of_question(question, components, example);
    parameters.extend(parameter::of_the_door(true));
    let also = " In the address, for a link or a spreadsheet cell: `format=text` gives the bare figure, or what is wrong in a sentence, `format=csv` a heading and a row. A field with nothing behind its name is left out, as an empty cell is. HEAD is answered too, and the ETag is known without computing.";
    let operation = begun(entry, "get", also)
        .parameters(Some(parameters))
        .response("200", given(named(answer), examples).content("text/csv", bulk::row(entry, examples)).header("ETag", bulk::etag()))
        .response("304", not_modified());
    refusals(operation, examples, &[400, 405, 406, 408, 414, 431, 503], true).build()
}

fn begun(entry: &Entry, verb: &str, also: &str) -> OperationBuilder {
    OperationBuilder::new()
        .tag(CALCULATIONS)
        .operation_id(Some(format!("{verb}_{}", entry.name.replace('-', "_"))))
        .summary(Some(entry.summary))
        .description(Some(format!("{}{also}", entry.description)))
}

fn answered(examples: &[Example]) -> impl Iterator<Item = &Example> {
    examples.iter().filter(|example| example.status == 200)
}

fn given(answer: RefOr<Schema>, examples: &[Example]) -> ResponseBuilder {
    // The answer to the simplest question shows every form; the others stand in openapi/examples and would treble the document.
    let content = ContentBuilder::new().schema(Some(answer)).examples_from_iter(answered(examples).take(1).map(Example::reply));
    let cell = ContentBuilder::new().schema(Some(text("The bare figure, without its unit.", 400, "42"))).example(Some("42".into()));
    ResponseBuilder::new()
        .description("The answer, with what it assumed, its cautions and its sources; as a text, its bare figure.")
        .content("application/json", content.build())
        .content("text/plain", cell.build())
}

/// The shared refusals by reference; the one for a question that cannot be answered shows this calculation's own example.
fn refusals(operation: OperationBuilder, examples: &[Example], statuses: &[u16], in_address: bool) -> OperationBuilder {
    let operation = statuses.iter().fold(operation, |operation, &status| operation.response(status.to_string(), problem::shared(status)));
    let refused: Vec<_> = examples.iter().filter(|example| example.status == 422).map(Example::reply).collect();
    if refused.is_empty() {
        return operation.response("422", problem::shared(422));
    }
    let response = ResponseBuilder::new()
        .description("The question was read and cannot be answered as it stands; all faults are told at once.")
        .content(problem::MEDIA_TYPE, problem::content().examples_from_iter(refused).build());
    let response: Response = if in_address { response.content("text/plain", problem::in_words()) } else { response }.build();
    operation.response("422", response)
}
