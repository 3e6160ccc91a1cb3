//! How a refusal looks: the schemas of a problem and its faults, and the answers that every operation shares by reference.

use serde_json::json;
use utoipa::openapi::header::HeaderBuilder;
use utoipa::openapi::response::ResponseBuilder;
use utoipa::openapi::schema::{ComponentsBuilder, ObjectBuilder, Schema};
use utoipa::openapi::{Content, ContentBuilder, Ref, RefOr, Response};

use super::hint::{Always, list, named, text, whole, words};
use crate::door::status;
use crate::quantity::{Code, Faults};

/// The media type of a problem (RFC 9457).
pub const MEDIA_TYPE: &str = "application/problem+json";

/// The statuses with which a question can be refused: what each means, and a cause that shows it.
pub const STATUSES: &[(u16, &str, Code)] = &[
    (400, "The request cannot be read: it breaks the rules of HTTP or of JSON.", Code::NotJson),
    (404, "There is nothing at this address; the nearest one is named.", Code::NotFound),
    (405, "The path does not answer this method; `Allow` lists those that it does.", Code::MethodNotAllowed),
    (406, "The answer does not come in any of the forms asked for.", Code::NotAcceptable),
    (408, "The request did not arrive within the time allowed.", Code::TooSlow),
    (413, "The body is larger than the limit; see `/v1/limits`.", Code::TooLarge),
    (414, "The address is longer than the limit; ask by POST.", Code::AddressTooLong),
    (415, "The body is not `application/json` in UTF-8, or it is compressed.", Code::UnsupportedMediaType),
    (431, "The request line and the headers are larger than the limit; see `/v1/limits`.", Code::HeadTooLarge),
    (422, "The question was read and cannot be answered as it stands; all faults are told at once.", Code::MissingField),
    (503, "More is being computed than fits at once; ask again after the seconds in `Retry-After`.", Code::Overloaded),
];

/// The name under which the answer with this status is shared.
pub fn name_of(status: u16) -> String {
    format!("Refused{status}")
}

/// A reference to the shared answer with this status.
pub fn shared(status: u16) -> RefOr<Response> {
    Ref::from_response_name(name_of(status)).into()
}

/// A problem as a body.
pub fn content() -> ContentBuilder {
    ContentBuilder::new().schema(Some(named("Problem")))
}

/// The same in words.
pub fn in_words() -> Content {
    let told = "Only where a question in the address asked for `format=text`: what is wrong and what to do, in a sentence or two.";
    let shown = "At /to: found 2 blobs; accepted is a unit in /v1/units. Use a unit such as g, ml, cup or tsp.";
    ContentBuilder::new().schema(Some(text(told, 4000, shown))).example(Some(shown.into())).build()
}

/// Adds the schemas and the shared answers.
pub fn components(components: ComponentsBuilder) -> ComponentsBuilder {
    let components = components.schema("Code", code()).schema("Fault", fault()).schema("Problem", problem());
    STATUSES
        .iter()
        .fold(components, |components, &(status, meaning, cause)| components.response(name_of(status), response(status, meaning, cause)))
}

fn response(number: u16, meaning: &str, cause: Code) -> Response {
    let response = ResponseBuilder::new().description(meaning).content(MEDIA_TYPE, shown(number, cause));
    // With these a question in the address can be refused.
    let response = if matches!(number, 400 | 422 | 503) { response.content("text/plain", in_words()) } else { response };
    let response = response.header("Problem-Code", header(text("The code once more, for logs and proxies.", 60, cause.as_str())));
    match number {
        405 => response.header("Allow", header(text("The methods that this path answers.", 200, "GET, HEAD, POST, QUERY"))),
        503 => response.header("Retry-After", header(whole("Seconds to wait before asking again.", 1, 3600, 1))),
        _ => response,
    }
    .build()
}

fn header(schema: ObjectBuilder) -> utoipa::openapi::Header {
    let schema = schema.build();
    HeaderBuilder::new().description(schema.description.clone()).schema(Some(schema)).build()
}

/// What the body looks like for one cause. The particulars of a request are in the worked examples of the calculations.
fn shown(number: u16, cause: Code) -> Content {
    content()
        .example(Some(json!({
            "type": format!("/v1/problems/{}", cause.as_str()),
            "title": cause.title(),
            "status": number,
            "code": cause.as_str(),
            "detail": cause.mend(),
            "total": 1,
            "faults": [{ "pointer": "", "code": cause.as_str(), "found": cause.title(), "accepted": cause.mend(), "detail": cause.mend() }],
        })))
        .build()
}

fn code() -> Schema {
    let told: Vec<_> = Code::ALL.iter().map(|code| (code.as_str(), format!("{} ({})", code.title(), status(*code).as_u16()))).collect();
    let described: Vec<_> = told.iter().map(|(code, title)| (*code, title.as_str())).collect();
    words("The cause of a refusal. A code keeps its meaning for ever; each has a page at `/v1/problems/{code}`. Behind each: the status it comes with.", described)
        .examples([Code::UnknownUnit.as_str()])
        .into()
}

fn fault() -> Schema {
    ObjectBuilder::new()
        .description(Some("One fault of a question."))
        .always("pointer", text("Where it is, as a JSON Pointer (RFC 6901) into the question; empty for the whole of it.", 400, "/amount"))
        .always("code", described("The cause of this fault.", "Code"))
        .always("found", text("What was found there, shortened.", 80, "2 blobs"))
        .always("accepted", text("What is accepted there.", 1000, "an amount with a unit"))
        .always(
            "detail",
            text("What is wrong and what to do, in a sentence or two.", 1000, "Use a unit in /v1/units, such as g, ml, cup or tsp."),
        )
        .property(
            "try",
            list("Values that would be accepted in its place, the likeliest first.", 12, text("A value to try.", 400, "2 cups")),
        )
        .into()
}

fn problem() -> Schema {
    ObjectBuilder::new()
        .description(Some("Why there is no answer, and how to mend the question (RFC 9457)."))
        .always("type", text("The page of this problem, relative to this server; it opens.", 100, "/v1/problems/unknown-unit"))
        .always("title", text("The same for every problem of this code.", 200, Code::UnknownUnit.title()))
        .always("status", whole("The status of the answer.", 400, 599, 422))
        .always("code", described("The cause; that of the first fault where there are several.", "Code"))
        .always("detail", text("What happened and what to do, in a sentence or two.", 4000, "Mend what the faults name and ask again."))
        .always("total", whole("How many faults there are, those beyond the list counted too.", 0, 1_000_000_000, 1))
        .always("faults", list("The faults, in the order in which they stand in the question.", Faults::MOST, named("Fault")))
        .property("request_id", text("The id of the request, as the header `X-Request-Id` has it.", 128, "larkrise-17"))
        .into()
}

fn described(description: &str, name: &str) -> RefOr<Schema> {
    let mut reference = Ref::from_schema_name(name);
    reference.description = description.to_owned();
    reference.into()
}
