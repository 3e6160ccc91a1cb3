//! Messages on their way between the HTTP server and the protocol's library: the few headers it looks at, and its bare words made messages that tell the mend.

use actix_web::HttpRequest;
use actix_web::http::StatusCode;
use actix_web::web::Bytes;
use http_body_util::Full;
use serde_json::{Value, json};

use super::desk::Noted;

/// The faults that JSON-RPC 2.0 names by number.
const NOT_JSON: i32 = -32700;
const NO_MESSAGE: i32 = -32600;
const OUR_FAULT: i32 = -32603;

/// The request as the library takes it. What came as Accept and Content-Type has been judged already, as on every other path.
pub fn passed_on(request: &HttpRequest, body: Bytes, noted: Noted) -> Option<http::Request<Full<Bytes>>> {
    let mut passed = http::Request::builder()
        .method(http::Method::POST)
        .uri(super::PATH)
        .header(http::header::ACCEPT, "application/json, text/event-stream")
        .header(http::header::CONTENT_TYPE, "application/json")
        .extension(noted);
    for (name, value) in request.headers() {
        if matches!(name.as_str(), "host" | "origin") || name.as_str().starts_with("mcp-") {
            passed = passed.header(name.as_str(), value.as_bytes());
        }
    }
    passed.body(Full::new(body)).ok()
}

/// Its status as the HTTP server has it. The library calls a body that is no message a wrong media type.
pub fn status(status: u16) -> StatusCode {
    match StatusCode::from_u16(status) {
        Ok(StatusCode::UNSUPPORTED_MEDIA_TYPE) => StatusCode::BAD_REQUEST,
        Ok(status) => status,
        Err(_) => StatusCode::INTERNAL_SERVER_ERROR,
    }
}

/// A refusal in place of the library's bare words.
pub fn refusal(status: u16, asked: &[u8], words: &[u8]) -> Bytes {
    let read = serde_json::from_slice::<Value>(asked);
    let (code, text) = match status {
        403 => (NO_MESSAGE, FOREIGN.to_owned()),
        415 => not_a_message(&read),
        500.. => (OUR_FAULT, "A fault of ours; the same call may be made again.".to_owned()),
        _ => (NO_MESSAGE, String::from_utf8_lossy(words).chars().take(200).collect()),
    };
    let id = read.ok().and_then(|read| read.get("id").cloned());
    let message =
        json!({ "jsonrpc": "2.0", "id": id.filter(|id| id.is_string() || id.is_number()), "error": { "code": code, "message": text } });
    serde_json::to_vec(&message).unwrap_or_default().into()
}

const FOREIGN: &str = "This service does not answer chat tools under the host, or to the web page, that this request names. \
Who runs it can allow the host with --mcp-hosts (EVENCRUMB_MCP_HOSTS), and the page with --cors-origins (EVENCRUMB_CORS_ORIGINS).";

/// Why the bytes are no message.
fn not_a_message(read: &serde_json::Result<Value>) -> (i32, String) {
    match read {
        Err(fault) => {
            let place = format!("line {}, column {}", fault.line(), fault.column());
            (
                NOT_JSON,
                format!(
                    "At {place} the body is not JSON, is nested too deeply, or has a number beyond all numbers; send one message as one JSON object."
                ),
            )
        }
        Ok(Value::Array(_)) => (
            NO_MESSAGE,
            "Found a list of messages; send one message a request. Batches left the protocol with revision 2025-06-18.".to_owned(),
        ),
        Ok(_) => (NO_MESSAGE, format!("The body is JSON, but no message of JSON-RPC 2.0; a message looks like {SHAPE}")),
    }
}

const SHAPE: &str = r#"{"jsonrpc":"2.0","id":1,"method":"tools/call","params":{"name":"convert","arguments":{"amount":"2 cups","ingredient":"flour","to":"g"}}}"#;
