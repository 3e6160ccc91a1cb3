//! Which path answers what, by which methods; and what is said where there is no such path or method.

use std::future::ready;
use std::rc::Rc;
use std::sync::{LazyLock, OnceLock};

use actix_http::Message;
use actix_web::dev::{Payload, RequestHead};
use actix_web::http::Method;
use actix_web::web::{self, ServiceConfig};
use actix_web::{HttpRequest, HttpResponse};
use foldhash::HashMap;

use super::doorstep::PendingAnswer;
use super::metrics::Took;
use super::problem::Problem;
use super::watch::RequestId;
use super::{House, chat, health, index, limits, metrics, page, query, question, tables, watch};
use crate::calculation::{CALCULATIONS, Entry};
use crate::quantity::{Code, nearest};

const BODY: &str = "POST, QUERY, OPTIONS";
const BODY_OR_QUERY: &str = "GET, HEAD, POST, QUERY, OPTIONS";
const MESSAGES: &str = "POST, OPTIONS";
const READ: &str = "GET, HEAD, OPTIONS";

/// The method QUERY of RFC 10008: a body, yet safe to repeat.
pub const QUERY: &str = "QUERY";

type Page = fn(&'static House, &HttpRequest) -> Result<HttpResponse, Problem>;

/// What is read only, in the order in which the index names it.
pub const PAGES: &[(&str, Page)] = &[
    ("/", index::page),
    ("/openapi.json", page::document),
    ("/tools.json", chat::export),
    ("/docs", page::page),
    ("/docs/page.js", page::script),
    ("/docs/page.css", page::style),
    ("/health/live", health::live),
    ("/health/ready", health::ready),
    ("/metrics", metrics::page),
    ("/v1/limits", limits::page),
    ("/v1/problems", tables::problems),
    ("/v1/problems/{code}", tables::problem),
];

/// All paths, as templates.
pub fn paths() -> impl Iterator<Item = &'static str> {
    let tables = tables::TABLES.iter().flat_map(|table| [Some(table.path), table.one.as_ref().map(|one| one.path)]).flatten();
    PAGES.iter().map(|(path, _)| *path).chain(tables).chain(CALCULATIONS.iter().map(Entry::path)).chain([chat::PATH])
}

/// The template of a path that nobody knows.
pub const NONE: &str = "none";

/// The template of a path, for the log: a path that nobody knows is never written.
pub fn template(path: &str) -> &'static str {
    let written = unescaped(path);
    let path = written.as_deref().unwrap_or(path);
    let fits = |template: &&'static str| match template.split_once('{') {
        None => *template == path,
        Some((stem, _)) => path.strip_prefix(stem).is_some_and(|rest| !rest.is_empty() && !rest.contains('/')),
    };
    paths().find(fits).unwrap_or(NONE)
}

/// A calculation as it is asked over HTTP.
pub struct Asked {
    pub path: &'static str,
    pub entry: &'static Entry,
    took: OnceLock<Took>,
}

impl Asked {
    /// How long its good answers took: nearly all that there is to count, so that it is looked for once.
    pub fn took(&self) -> &Took {
        self.took.get_or_init(|| metrics::of(self.path, watch::GOOD))
    }
}

/// The calculation that is asked at a path.
pub fn calculation(path: &str) -> Option<&'static Asked> {
    static ASKED: LazyLock<HashMap<&'static str, Asked>> = LazyLock::new(|| {
        let asked = |entry: &'static Entry| Asked { path: entry.path(), entry, took: OnceLock::new() };
        CALCULATIONS.iter().map(|entry| (entry.path(), asked(entry))).collect()
    });
    ASKED.get(path).or_else(|| ASKED.get(&*unescaped(path)?))
}

/// A path with its letters for %XX: it is the same path. Nothing where there are none, or where one of them would be a stroke or a plus sign: what parts a
/// path is never read out of a step of it.
fn unescaped(path: &str) -> Option<String> {
    let written = |text: &str| text.bytes().filter(|letter| matches!(letter, b'/' | b'+')).count();
    path.contains('%').then(|| query::decoded(path).ok().filter(|plain| written(plain) == written(path))).flatten()
}

/// A calculation by whichever method it is asked.
pub fn ask(house: &'static House, entry: &'static Entry, id: RequestId, head: Message<RequestHead>, payload: Payload) -> PendingAnswer {
    match head.method {
        Method::POST => Box::pin(question::by_body(house, entry, id, head, payload)),
        Method::GET | Method::HEAD if entry.flat => Box::pin(question::by_query(house, entry, head)),
        ref other if other.as_str() == QUERY => Box::pin(question::by_body(house, entry, id, head, payload)),
        ref other => Box::pin(ready(other_method(other, if entry.flat { BODY_OR_QUERY } else { BODY }))),
    }
}

/// Everything that is no calculation.
pub fn mount(house: &'static House, app: &mut ServiceConfig) {
    let service = Rc::new(chat::service(house));
    let by_message = move |request: HttpRequest, payload: web::Payload| {
        let service = service.clone();
        async move { chat::answer(house, &service, request, payload.into_inner()).await }
    };
    app.service(refusing(web::resource(chat::PATH).route(web::post().to(by_message)), MESSAGES));
    for (path, page) in PAGES {
        app.service(reading(path, move |request| page(house, request)));
    }
    for table in tables::TABLES {
        app.service(reading(table.path, move |request| tables::whole(house, table, request)));
        if let Some(one) = &table.one {
            app.service(reading(one.path, move |request| tables::single(house, one.find, request)));
        }
    }
}

/// A resource that is only read.
fn reading(path: &'static str, page: impl Fn(&HttpRequest) -> Result<HttpResponse, Problem> + Copy + 'static) -> actix_web::Resource {
    let answer = move |request: HttpRequest| ready(page(&request).unwrap_or_else(|problem| problem.response()));
    refusing(web::resource(path).route(web::get().to(answer)).route(web::head().to(answer)), READ)
}

/// Every other method: OPTIONS is told what there is, the rest is refused.
fn refusing(resource: actix_web::Resource, allowed: &'static str) -> actix_web::Resource {
    resource.default_service(web::to(move |request: HttpRequest| ready(other_method(request.method(), allowed))))
}

fn other_method(method: &Method, allowed: &'static str) -> HttpResponse {
    if method == Method::OPTIONS {
        let mut answer = HttpResponse::NoContent();
        answer.insert_header(("allow", allowed)).insert_header(("cache-control", "max-age=600"));
        if allowed == BODY {
            answer.insert_header(("accept-query", "application/json, application/x-ndjson, application/jsonl"));
        } else if allowed == BODY_OR_QUERY {
            answer.insert_header(("accept-query", "application/json, application/x-ndjson, application/jsonl, text/csv"));
        }
        return answer.finish();
    }
    let method: String = method.as_str().chars().take(20).collect();
    Problem::new(Code::MethodNotAllowed, format!("the method {method}"), allowed).allowing(allowed).response()
}

/// Where there is no such path.
pub async fn nowhere(request: HttpRequest) -> HttpResponse {
    let path = request.path();
    // A star asks of the server as a whole (RFC 9110, section 9.3.7).
    if path == "*" && request.method() == Method::OPTIONS {
        return HttpResponse::NoContent().insert_header(("allow", BODY_OR_QUERY)).insert_header(("cache-control", "no-cache")).finish();
    }
    let near = nearest(path, paths(), 3);
    let accepted = near.first().copied().unwrap_or("one of the paths that / lists");
    let fault = crate::quantity::Fault::new(&crate::quantity::Pointer::ROOT, Code::NotFound, path, accepted).trying(near.iter().copied());
    Problem::from(fault).response()
}
