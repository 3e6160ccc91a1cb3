//! The chat door: every calculation, and one look-up for the tables, as tools of the Model Context Protocol at `/mcp`, and as definitions at
//! `/tools.json`. It speaks plain JSON and keeps no sessions; what the protocol asks of a server is done by its official library.

mod call;
mod desk;
mod look_up;
mod message;
mod shorten;
mod told;
mod tool;

use std::convert::Infallible;
use std::sync::{Arc, LazyLock};

use actix_web::dev::Payload;
use actix_web::http::{StatusCode, header};
use actix_web::web::Bytes;
use actix_web::{HttpRequest, HttpResponse};
use http_body_util::combinators::BoxBody;
use http_body_util::{BodyExt, Collected};
use rmcp::transport::streamable_http_server::session::never::NeverSessionManager;
use rmcp::transport::streamable_http_server::{StreamableHttpServerConfig, StreamableHttpService};

use super::accept::{Form, json_body, negotiated};
use super::problem::{CODE_HEADER, Problem};
use super::{House, body, index, openapi, page};
use crate::quantity::Code;
use desk::{Desk, Noted};

/// Where the protocol is spoken.
pub const PATH: &str = "/mcp";

/// What answers the protocol's messages.
pub type Service = StreamableHttpService<Desk, NeverSessionManager>;

/// The service of one worker.
pub fn service(house: &'static House) -> Service {
    let settings = &house.settings;
    let config = StreamableHttpServerConfig::default()
        .with_legacy_session_mode(false)
        .with_json_response(true)
        .with_sse_keep_alive(None)
        .with_max_request_body_bytes(settings.body_bytes);
    let config = if settings.mcp_hosts.iter().any(|host| host == "*") {
        config.disable_allowed_hosts()
    } else {
        // A page of this very service, or one that the settings name, may call from a browser; no other may.
        let own = settings.mcp_hosts.iter().flat_map(|host| own_origins(host));
        let origins: Vec<String> = own.chain(settings.cors_origins.iter().filter(|origin| *origin != "*").cloned()).collect();
        let config = config.with_allowed_hosts(settings.mcp_hosts.clone());
        let any = settings.cors_origins.iter().any(|origin| origin == "*");
        if any { config } else { config.with_allowed_origins(origins).enforce_origin_validation() }
    };
    StreamableHttpService::new(move || Ok(Desk::new(house)), Arc::default(), config)
}

/// The origins of pages that come from this host itself, at any port where none is named.
fn own_origins(host: &str) -> [String; 2] {
    let port = if host.rsplit(']').next().is_some_and(|rest| rest.contains(':')) { "" } else { ":*" };
    ["http", "https"].map(|scheme| format!("{scheme}://{host}{port}"))
}

/// POST: one message.
pub async fn answer(house: &'static House, service: &Service, request: HttpRequest, payload: Payload) -> HttpResponse {
    answered(house, service, &request, payload).await.unwrap_or_else(|problem| problem.response())
}

/// The body within the limits of every door, then the library, which sees the whole of it at once.
async fn answered(house: &'static House, service: &Service, request: &HttpRequest, payload: Payload) -> Result<HttpResponse, Problem> {
    negotiated(request.headers(), &[Form::Json])?;
    json_body(request.headers())?;
    let bytes = body::read(request.headers(), payload, &house.settings).await?;
    let place = house.gate.enter(bytes.len()).await?;
    if let Some(call::Answer { bytes, code }) = call::answered(&Desk::new(house), &house.settings.mcp_hosts, request.headers(), &bytes) {
        return Ok(sent(StatusCode::OK, code, bytes.into()));
    }
    let noted = Noted::default();
    let bad = || Problem::new(Code::BadRequest, "a header that cannot be read", "headers as the protocol has them");
    let asked = message::passed_on(request, bytes.clone(), noted.clone()).ok_or_else(bad)?;
    let response = service.handle(asked).await;
    drop(place);
    Ok(given(response, &bytes, &noted).await)
}

/// The library's answer, its body whole; where it answers in bare words, a message of the protocol in their place.
async fn given(response: http::Response<BoxBody<Bytes, Infallible>>, asked: &[u8], noted: &Noted) -> HttpResponse {
    let status = response.status().as_u16();
    let json = response.headers().get(http::header::CONTENT_TYPE).is_some_and(|kind| kind.as_bytes() == b"application/json");
    let bytes = response.into_body().collect().await.map(Collected::to_bytes).unwrap_or_default();
    let bytes = if json || bytes.is_empty() { bytes } else { message::refusal(status, asked, &bytes) };
    sent(message::status(status), noted.code(), bytes)
}

/// One message, or the bare status where there is none.
fn sent(status: StatusCode, code: Option<Code>, bytes: Bytes) -> HttpResponse {
    let mut answer = HttpResponse::build(status);
    answer.insert_header((header::CACHE_CONTROL, index::CALCULATED));
    if let Some(code) = code {
        answer.insert_header((CODE_HEADER, code.as_str()));
    }
    if bytes.is_empty() {
        return answer.finish();
    }
    answer.insert_header((header::CONTENT_TYPE, Form::Json.media_type())).body(bytes)
}

/// The tools as definitions, for callers that keep them.
pub fn export(_: &'static House, request: &HttpRequest) -> Result<HttpResponse, Problem> {
    static BYTES: LazyLock<Vec<u8>> = LazyLock::new(tool::definitions);
    static TAG: LazyLock<String> = LazyLock::new(|| openapi::strong_tag(&BYTES));
    page::given(request, &BYTES, Form::Json.media_type(), &TAG)
}
