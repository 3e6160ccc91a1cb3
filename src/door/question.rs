//! One question over HTTP: its bytes from the body or from the query string, then the same way for both.

use actix_web::http::header;
use actix_web::web::Payload;
use actix_web::{HttpRequest, HttpResponse};

use super::House;
use super::accept::{Form, check_body_type, negotiated};
use super::problem::Problem;
use super::query::{self, Asked};
use super::{body, index};
use crate::calculation::{Entry, Options};
use crate::quantity::{Code, Fault, Pointer, nearest};

/// POST and QUERY: the question is the body.
pub async fn by_body(house: &'static House, entry: &'static Entry, request: HttpRequest, payload: Payload) -> HttpResponse {
    answered(with_body(house, entry, &request, payload).await)
}

async fn with_body(house: &'static House, entry: &'static Entry, request: &HttpRequest, payload: Payload) -> Result<HttpResponse, Problem> {
    let (asked, rest) = query::read(request.query_string())?;
    query::nothing_else(&rest)?;
    let form = form(house, request, &asked)?;
    check_body_type(request.headers())?;
    let bytes = body::read(request.headers(), payload, &house.settings).await?;
    answer(house, entry, &bytes, &asked, form).await
}

/// GET and HEAD: the question is the query string.
pub async fn by_query(house: &'static House, entry: &'static Entry, request: HttpRequest) -> HttpResponse {
    answered(with_query(house, entry, &request).await)
}

async fn with_query(house: &'static House, entry: &'static Entry, request: &HttpRequest) -> Result<HttpResponse, Problem> {
    let (asked, rest) = query::read(request.query_string())?;
    let form = form(house, request, &asked)?;
    answer(house, entry, &query::question(&rest), &asked, form).await
}

/// The form of the answer; and the tables must be those that the caller insists on.
fn form(house: &House, request: &HttpRequest, asked: &Asked) -> Result<Form, Problem> {
    let here = house.reference.version;
    if let Some(version) = asked.tables.as_deref().filter(|version| *version != here) {
        let at = Pointer::ROOT;
        return Err(Fault::new(&at.key("tables"), Code::TablesChanged, version, here).trying([here]).into());
    }
    match asked.format.as_deref() {
        Some("json") => Ok(Form::Json),
        Some("text") => Ok(Form::Text),
        Some(other) => {
            let at = Pointer::ROOT;
            Err(Fault::new(&at.key("format"), Code::NotAcceptable, other, "json or text")
                .trying(nearest(other, ["json", "text"], 1))
                .into())
        }
        None => negotiated(request.headers(), &[Form::Json, Form::Text]),
    }
}

async fn answer(house: &'static House, entry: &'static Entry, bytes: &[u8], asked: &Asked, form: Form) -> Result<HttpResponse, Problem> {
    let busy = || Problem::new(Code::Overloaded, "more questions than can be computed at once", "the same question in a second");
    let place = house.gate.enter(bytes.len()).await.ok_or_else(busy)?;
    let options = Options { explain: asked.explain, cell: form == Form::Text };
    let answer = entry.answer(bytes, house.reference, options)?;
    drop(place);
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, form.media_type()))
        .insert_header((header::CACHE_CONTROL, index::CALCULATED))
        .body(answer))
}

fn answered(answer: Result<HttpResponse, Problem>) -> HttpResponse {
    answer.unwrap_or_else(|problem| problem.response())
}
