//! Questions over HTTP: by what the body is, one question, a list, lines or a table; or one question in the query string.

use std::sync::LazyLock;
use std::time::UNIX_EPOCH;

use actix_http::Message;
use actix_web::HttpResponse;
use actix_web::body::BoxBody;
use actix_web::dev::{Payload, RequestHead};
use actix_web::http::{StatusCode, header};
use sha2::{Digest, Sha256};

use super::House;
use super::accept::{Form, body_form, negotiated};
use super::bulk::{self, Asking, Wanted};
use super::problem::Problem;
use super::query::{self, Asked, Pair};
use super::watch::RequestId;
use super::{body, index};
use crate::calculation::{Entry, Options};
use crate::quantity::{Code, Fault, Pointer, nearest};

/// POST and QUERY: the questions are the body.
pub async fn by_body(
    house: &'static House,
    entry: &'static Entry,
    id: RequestId,
    head: Message<RequestHead>,
    payload: Payload,
) -> HttpResponse {
    answered(with_body(house, entry, id, &head, payload).await)
}

// A single question is the usual case: what is needed for many is put aside, so that every question need not carry room for it.
async fn with_body(
    house: &'static House,
    entry: &'static Entry,
    id: RequestId,
    head: &RequestHead,
    payload: Payload,
) -> Result<HttpResponse, Problem> {
    let (asked, rest) = query::read(head.uri.query().unwrap_or_default())?;
    let come = body_form(&head.headers, entry.flat)?;
    let options = Options { explain: asked.explain, cell: false };
    let asking = Asking { entry, reference: house.reference, options };
    match come {
        Form::Lines | Form::Jsonl => {
            let wanted = Wanted::read(&rest, bulk::OF_LINES)?;
            let other = if come == Form::Lines { Form::Jsonl } else { Form::Lines };
            let form = form(house, head, &asked, &[come, other])?;
            Box::pin(bulk::lines(house, asking, id, head, payload, wanted, form)).await
        }
        Form::Csv => {
            let wanted = Wanted::read(&rest, bulk::OF_TABLES)?;
            form(house, head, &asked, &[Form::Csv])?;
            no_working(&asked, "explain left out")?;
            let bytes = body::read(&head.headers, payload, &house.settings).await?;
            Box::pin(bulk::table(house, asking, &bytes, wanted)).await
        }
        _ => {
            let wanted = Wanted::read(&rest, bulk::OF_LISTS)?;
            let form = form(house, head, &asked, &[Form::Json, Form::Text])?;
            let bytes = body::read(&head.headers, payload, &house.settings).await?;
            if !bulk::is_list(&bytes) {
                return answer(house, entry, &bytes, &asked, form).await;
            }
            if form != Form::Json {
                let fault = Fault::new(&Pointer::ROOT, Code::NotAcceptable, "a bare figure for a list of questions", "format=json");
                return Err(fault
                    .saying("A list is answered by a list; for figures in cells send the questions as a table, text/csv.")
                    .into());
            }
            Box::pin(bulk::list(house, asking, &bytes, wanted.strict)).await
        }
    }
}

/// GET and HEAD: the question is the query string.
pub async fn by_query(house: &'static House, entry: &'static Entry, head: Message<RequestHead>) -> HttpResponse {
    // Who asks for text in the address reads no problem: a cell or a person is told in words. A table, and who asks by Accept, gets the problem itself.
    let told = |problem: Problem| if query::wants_text(head.uri.query()) { problem.in_words() } else { problem.response() };
    with_query(house, entry, &head).await.unwrap_or_else(told)
}

async fn with_query(house: &'static House, entry: &'static Entry, head: &RequestHead) -> Result<HttpResponse, Problem> {
    let (asked, rest) = query::read_question(head.uri.query().unwrap_or_default())?;
    let form = form(house, head, &asked, &[Form::Json, Form::Text, Form::Csv])?;
    let tag = tag(house, head, form);
    if names(head, &tag) {
        return Ok(HttpResponse::NotModified().insert_header((header::ETAG, tag)).insert_header((header::CACHE_CONTROL, KEPT)).finish());
    }
    let mut response = if form == Form::Csv {
        one_row(house, entry, &asked, &rest).map_err(|problem| problem.beside(&query::OURS))?
    } else {
        let answer = answer(house, entry, &bulk::of_address(entry, &rest), &asked, form).await;
        answer.map_err(|problem| problem.beside(&query::OURS))?
    };
    if let Ok(tag) = header::HeaderValue::from_str(&tag) {
        response.headers_mut().insert(header::ETAG, tag);
    }
    response.headers_mut().insert(header::CACHE_CONTROL, header::HeaderValue::from_static(KEPT));
    Ok(response)
}

/// An answer by address may be kept, and is asked for again at no cost: its ETag is known without computing.
const KEPT: &str = "public, max-age=3600";

/// This program as it stands on the disk: another build may answer in other words, whatever its version says.
static BUILD: LazyLock<String> = LazyLock::new(|| {
    let file = std::env::current_exe().and_then(std::fs::metadata).ok();
    let changed = file.as_ref().and_then(|file| file.modified().ok()?.duration_since(UNIX_EPOCH).ok());
    format!("{} {:?} {:?}", env!("CARGO_PKG_VERSION"), file.map(|file| file.len()), changed)
});

/// A strong entity tag of all that an answer depends on: this program, the tables, the question and the form.
fn tag(house: &House, head: &RequestHead, form: Form) -> String {
    let mut digest = Sha256::new();
    for part in [&*BUILD, house.reference.version, head.uri.path(), head.uri.query().unwrap_or_default(), form.media_type()] {
        digest.update(part);
        digest.update([0]);
    }
    let digits: String = digest.finalize().iter().take(12).map(|byte| format!("{byte:02x}")).collect();
    format!("\"{digits}\"")
}

/// Whether If-None-Match names this very tag. A star would be true of any answer, and whether there is one is not known yet.
fn names(head: &RequestHead, tag: &str) -> bool {
    let lines = head.headers.get_all(header::IF_NONE_MATCH).filter_map(|value| value.to_str().ok());
    lines.flat_map(|line| line.split(',')).map(str::trim).any(|known| known.strip_prefix("W/").unwrap_or(known) == tag)
}

fn one_row(house: &'static House, entry: &'static Entry, asked: &Asked, rest: &[Pair]) -> Result<HttpResponse, Problem> {
    no_working(asked, "format=json, or explain left out")?;
    bulk::single(Asking { entry, reference: house.reference, options: Options::default() }, rest)
}

const WHERE_TABLES_COME_FROM: &str = "A table is the answer to a table, text/csv, and to a flat question in the address.";

/// A cell has no room for the working.
fn no_working(asked: &Asked, accepted: &str) -> Result<(), Problem> {
    if asked.explain {
        let at = Pointer::ROOT;
        let fault = Fault::new(&at.key("explain"), Code::NotTogether, "explain=true for a table", accepted);
        return Err(fault.saying("The working has no room in a cell: ask for it by JSON.").into());
    }
    Ok(())
}

/// The form of the answer; and the tables must be those that the caller insists on.
fn form(house: &House, head: &RequestHead, asked: &Asked, offered: &[Form]) -> Result<Form, Problem> {
    let here = house.reference.version;
    if let Some(version) = asked.tables.as_deref().filter(|version| *version != here) {
        let at = Pointer::ROOT;
        return Err(Fault::new(&at.key("tables"), Code::TablesChanged, version, here).trying([here]).into());
    }
    let Some(wanted) = asked.format.as_deref() else { return negotiated(&head.headers, offered) };
    let words = || offered.iter().map(|form| form.word());
    match offered.iter().find(|form| form.word() == wanted) {
        Some(form) => Ok(*form),
        None => {
            let at = Pointer::ROOT;
            let accepted = words().collect::<Vec<_>>().join(" or ");
            let fault = Fault::new(&at.key("format"), Code::NotAcceptable, wanted, accepted);
            let fault = fault.trying(nearest(&wanted.to_lowercase(), words(), 1));
            Err(if wanted == Form::Csv.word() { fault.saying(WHERE_TABLES_COME_FROM) } else { fault }.into())
        }
    }
}

async fn answer(house: &'static House, entry: &'static Entry, bytes: &[u8], asked: &Asked, form: Form) -> Result<HttpResponse, Problem> {
    let place = house.gate.enter(bytes.len()).await?;
    let options = Options { explain: asked.explain, cell: form == Form::Text };
    let answer = entry.answer(bytes, house.reference, options)?;
    drop(place);
    let mut response = HttpResponse::with_body(StatusCode::OK, BoxBody::new(answer));
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_TYPE, header::HeaderValue::from_static(form.media_type()));
    headers.insert(header::CACHE_CONTROL, header::HeaderValue::from_static(index::CALCULATED));
    Ok(response)
}

fn answered(answer: Result<HttpResponse, Problem>) -> HttpResponse {
    answer.unwrap_or_else(|problem| problem.response())
}
