//! A call of a tool that is beyond doubt, answered in the types of the protocol's library at once: it would read the message three times over and pass it
//! between two tasks. Whatever else a message may be, and every doubt about its head, is the library's.

use actix_web::http::header::{self, HeaderMap};
use rmcp::model::{
    CallToolRequestMethod, CallToolRequestParams, JsonRpcVersion2_0, ProtocolVersion, RequestId, ServerJsonRpcMessage, ServerResult,
};
use serde::Deserialize;

use super::desk::{Desk, REVISIONS};
use crate::quantity::Code;

/// A message that calls a tool and has nothing beside.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Call {
    #[serde(rename = "jsonrpc")]
    _jsonrpc: JsonRpcVersion2_0,
    id: RequestId,
    #[serde(rename = "method")]
    _method: CallToolRequestMethod,
    params: CallToolRequestParams,
}

/// What is answered, and why a call was refused.
pub struct Answer {
    pub bytes: Vec<u8>,
    pub code: Option<Code>,
}

/// The answer to such a call; nothing where there is a doubt.
pub fn answered(desk: &Desk, hosts: &[String], headers: &HeaderMap, body: &[u8]) -> Option<Answer> {
    if headers.contains_key(header::ORIGIN) || !allowed(one(headers, "host")?, hosts) {
        return None;
    }
    let call: Call = serde_json::from_slice(body).ok()?;
    let stands_alone = stands_alone(headers, &call.params)?;
    let (result, code) = desk.result(call.params)?;
    let mut result = ServerResult::from(result);
    if !stands_alone {
        result.strip_result_type_for_legacy_peer();
        result.strip_non_object_output_for_legacy_peer();
    }
    let bytes = serde_json::to_vec(&ServerJsonRpcMessage::response(result, call.id)).ok()?;
    Some(Answer { bytes, code })
}

/// Whether the call is of a revision in which every message stands by itself, its head saying what its body says; nothing where the two do not agree.
fn stands_alone(headers: &HeaderMap, params: &CallToolRequestParams) -> Option<bool> {
    let named = one(headers, "mcp-protocol-version")?;
    let within = params.meta.as_ref().and_then(|meta| meta.protocol_version());
    let revision = REVISIONS.iter().find(|revision| revision.as_str() == named);
    match (revision, within) {
        (None, None) if named.is_empty() => Some(false),
        (Some(revision), None) if *revision < ProtocolVersion::STANDARD_HEADERS => Some(false),
        (Some(revision), Some(within)) if *revision == within => {
            let whole = params.meta.as_ref().is_some_and(|meta| meta.missing_required_keys(revision).is_empty());
            let agreed = one(headers, "mcp-method")? == "tools/call" && one(headers, "mcp-name")? == params.name;
            (whole && agreed && *revision >= ProtocolVersion::STANDARD_HEADERS).then_some(true)
        }
        _ => None,
    }
}

/// The one value of a header, empty where there is none; nothing where there are two or where it cannot be read.
fn one<'h>(headers: &'h HeaderMap, name: &str) -> Option<&'h str> {
    let mut values = headers.get_all(name);
    match (values.next(), values.next()) {
        (None, _) => Some(""),
        (Some(value), None) => value.to_str().ok(),
        _ => None,
    }
}

/// Whether a host is one of these as it is written, with any port where they name none.
fn allowed(host: &str, hosts: &[String]) -> bool {
    let (name, port) = host.split_once(':').unwrap_or((host, "80"));
    let plain = !name.is_empty() && name.bytes().all(|letter| letter.is_ascii_alphanumeric() || b".-".contains(&letter));
    plain && port.parse::<u16>().is_ok() && hosts.iter().any(|known| known == "*" || known == host || known == name)
}

#[cfg(test)]
mod tests {
    use actix_web::http::header::{HeaderName, HeaderValue};
    use serde_json::json;

    use super::*;

    const OLD: &str = "2025-11-25";
    const NEW: &str = "2026-07-28";

    fn judged(head: &[(&str, &str)], within: Option<&str>) -> Option<bool> {
        let mut headers = HeaderMap::new();
        for (name, value) in head {
            headers.append(HeaderName::try_from(*name).expect("a name"), HeaderValue::try_from(*value).expect("a value"));
        }
        let meta = within.map(
            |revision| json!({ "io.modelcontextprotocol/protocolVersion": revision, "io.modelcontextprotocol/clientCapabilities": {} }),
        );
        let params = json!({ "name": "convert", "_meta": meta.unwrap_or(json!({ "progressToken": 1 })) });
        stands_alone(&headers, &serde_json::from_value(params).expect("params"))
    }

    #[test]
    fn a_call_is_beyond_doubt_where_head_and_body_agree_on_the_revision_and_the_tool() {
        let (of, method, name) = (|revision| ("mcp-protocol-version", revision), ("mcp-method", "tools/call"), ("mcp-name", "convert"));
        for (head, within, wanted) in [
            (&[][..], None, Some(false)),
            (&[of(OLD)], None, Some(false)),
            (&[of(OLD), name], None, Some(false)),
            (&[of(NEW), method, name], Some(NEW), Some(true)),
            (&[of(NEW), method, name], None, None),
            (&[of(NEW), method, name], Some(OLD), None),
            (&[of(NEW), method], Some(NEW), None),
            (&[of(NEW), name], Some(NEW), None),
            (&[of(NEW), method, ("mcp-name", "batch")], Some(NEW), None),
            (&[of(NEW), ("mcp-method", "tools/list"), name], Some(NEW), None),
            (&[of(NEW), method, name, name], Some(NEW), None),
            (&[of(OLD)], Some(OLD), None),
            (&[of(OLD), of(OLD)], None, None),
            (&[of("2024-11-05")], None, None),
            (&[], Some(NEW), None),
        ] {
            assert_eq!(judged(head, within), wanted, "{head:?} {within:?}");
        }
    }

    #[test]
    fn a_host_is_known_as_it_is_written_at_any_port_unless_the_settings_name_one() {
        let hosts = ["127.0.0.1".to_owned(), "larkrise.example:8443".to_owned()];
        for (host, wanted) in [
            ("127.0.0.1", true),
            ("127.0.0.1:8080", true),
            ("larkrise.example:8443", true),
            ("larkrise.example:8444", false),
            ("larkrise.example", false),
            ("127.0.0.1:99999", false),
            ("127.0.0.1:", false),
            ("", false),
        ] {
            assert_eq!(allowed(host, &hosts), wanted, "{host}");
        }
        let any = ["*".to_owned()];
        assert!(allowed("anything.example:1", &any) && !allowed("any thing", &any) && !allowed("", &any));
    }
}
