//! The chat door as a chat client meets it: the tools it finds, what they answer, and what it is told when a call is wrong.

use evencrumb::calculation::CALCULATIONS;
use evencrumb::door::openapi::Example;
use reqwest::{Client, Response};
use serde_json::{Value, json};

use crate::openapi::worked;
use crate::server::Server;

pub const OLD: &str = "2025-11-25";
pub const NEW: &str = "2026-07-28";
/// How long an answer may be as texts, and as a structure.
const SHORT: usize = 4096;

/// A chat client that speaks one revision of the protocol.
pub struct Peer<'s> {
    server: &'s Server,
    client: Client,
    pub revision: &'static str,
}

impl<'s> Peer<'s> {
    pub fn of(server: &'s Server, revision: &'static str) -> Self {
        Self { server, client: Client::new(), revision }
    }

    fn address(&self) -> String {
        format!("http://{}/mcp", self.server.address)
    }

    /// Bytes as they are, with these headers beside.
    pub async fn sent(&self, body: impl Into<reqwest::Body>, headers: &[(&str, &str)]) -> Response {
        let request = self.client.post(self.address()).header("Accept", "application/json, text/event-stream");
        let request = request.header("Content-Type", "application/json").header("Mcp-Protocol-Version", self.revision).body(body);
        headers.iter().fold(request, |request, (name, value)| request.header(*name, *value)).send().await.expect("an answer")
    }

    /// One message; the result of it, or its error.
    async fn asked(&self, method: &str, mut params: Value) -> Result<Value, Value> {
        let name = params["name"].as_str().unwrap_or_default().to_owned();
        let mut headers = Vec::new();
        if self.revision == NEW {
            // From this revision on every message stands by itself, and names what it is in its head too.
            params["_meta"] = json!({
                "io.modelcontextprotocol/protocolVersion": NEW,
                "io.modelcontextprotocol/clientInfo": { "name": "larkrise", "version": "1" },
                "io.modelcontextprotocol/clientCapabilities": {},
            });
            headers.push(("Mcp-Method", method));
            if !name.is_empty() {
                headers.push(("Mcp-Name", &name));
            }
        }
        let message = json!({ "jsonrpc": "2.0", "id": "larkrise-17", "method": method, "params": params });
        let response = self.sent(message.to_string(), &headers).await;
        assert_eq!(response.headers()["content-type"], "application/json");
        let mut answer: Value = response.json().await.expect("JSON");
        assert_eq!((&answer["jsonrpc"], &answer["id"]), (&json!("2.0"), &json!("larkrise-17")), "{answer}");
        if answer["error"].is_null() { Ok(answer["result"].take()) } else { Err(answer["error"].take()) }
    }

    pub async fn tools(&self) -> Vec<Value> {
        let listed = self.asked("tools/list", json!({})).await.expect("a list");
        listed["tools"].as_array().expect("tools").clone()
    }

    /// What a tool answers: whether it refused, its first text, its figures. Short, unless everything is asked for.
    pub async fn called(&self, tool: &str, arguments: &Value) -> (bool, String, Value) {
        let mut result = self.asked("tools/call", json!({ "name": tool, "arguments": arguments })).await.expect("a result");
        if arguments["full"] != true {
            let texts: usize =
                result["content"].as_array().expect("texts").iter().map(|part| part["text"].as_str().map_or(0, str::len)).sum();
            // A document that was asked for by its format is given whole.
            let document = result["structuredContent"]["document"].to_string().len();
            assert!(texts <= SHORT + document, "{tool} {arguments}: {texts} bytes of text");
            let structure = result["structuredContent"].to_string().len();
            assert!(structure <= SHORT + document, "{tool} {arguments}: {structure} bytes of structure");
        }
        let text = result["content"][0]["text"].as_str().expect("a text").to_owned();
        (result["isError"] == true, text, result["structuredContent"].take())
    }
}

fn tool_of(calculation: &str) -> String {
    calculation.replace('-', "_")
}

pub fn examples() -> impl Iterator<Item = (String, Example)> {
    CALCULATIONS.iter().flat_map(|entry| worked(entry.name).into_iter().map(|example| (tool_of(entry.name), example)))
}

/// Every reference in a schema.
fn references<'v>(schema: &'v Value, found: &mut Vec<&'v str>) {
    match schema {
        Value::Object(members) => members.iter().for_each(|(key, value)| match value {
            Value::String(reference) if key == "$ref" => found.push(reference),
            value => references(value, found),
        }),
        Value::Array(items) => items.iter().for_each(|item| references(item, found)),
        _ => {}
    }
}

#[tokio::test]
async fn every_calculation_and_the_tables_are_tools_in_both_revisions() {
    let server = Server::start();
    let tools = Peer::of(&server, OLD).tools().await;
    assert_eq!(tools, Peer::of(&server, NEW).tools().await);
    let names: Vec<&str> = tools.iter().filter_map(|tool| tool["name"].as_str()).collect();
    let wanted: Vec<String> = CALCULATIONS.iter().map(|entry| tool_of(entry.name)).chain(["look_up".to_owned()]).collect();
    assert_eq!(names, wanted);
    assert!(names.len() <= 14, "an assistant loses its way among {}", names.len());
    for tool in &tools {
        let (name, told) = (&tool["name"], tool["description"].as_str().expect("a description"));
        assert!((100..=1024).contains(&told.chars().count()), "{name}: {told}");
        let elsewhere = told.contains("Not for")
            || told.contains(" not ")
            || names.iter().any(|other| name != other && told.contains(&format!("use {other}")));
        assert!(elsewhere, "{name} says not when it is of no use: {told}");
        assert!(!told.contains("/v1/"), "{name}: {told}");
        for (hint, wanted) in [("readOnlyHint", true), ("destructiveHint", false), ("idempotentHint", true), ("openWorldHint", false)] {
            assert_eq!(tool["annotations"][hint], wanted, "{name} {hint}");
        }
        let schema = &tool["inputSchema"];
        assert_eq!(schema["type"], "object", "{name}");
        assert_eq!(schema["properties"]["full"]["type"], "boolean", "{name}");
        assert!(tool.to_string().len() <= 24_000, "{name} fills the list with {} bytes", tool.to_string().len());
        let mut found = Vec::new();
        references(schema, &mut found);
        for reference in found {
            let inside = reference.strip_prefix('#').and_then(|pointer| schema.pointer(pointer));
            assert!(inside.is_some(), "{name}: {reference} leads nowhere");
        }
    }
    assert_eq!(server.terminate(), Some(0));
}

#[tokio::test]
async fn no_question_has_a_field_of_its_own_named_as_the_argument_for_everything() {
    for entry in CALCULATIONS {
        let mut schemas = Vec::new();
        let name = entry.question_schema(&mut schemas);
        let question = schemas.iter().find(|(known, _)| *known == name).map(|(_, schema)| json!(schema)).expect("a schema");
        assert!(question["properties"].is_object() && question["properties"]["full"].is_null(), "{name}");
    }
}

#[tokio::test]
async fn the_worked_examples_have_the_same_figures_as_by_the_other_doors() {
    let server = Server::start();
    let mut explained = 0;
    for (peer, (tool, example)) in examples().enumerate().map(|(at, example)| (Peer::of(&server, [OLD, NEW][at % 2]), example)) {
        let mut arguments = example.request.clone();
        arguments["full"] = json!(true);
        let (refused, text, mut figures) = peer.called(&tool, &arguments).await;
        assert_eq!(refused, example.status != 200, "{tool} {}: {text}", example.name);
        if refused {
            for fault in example.answer["faults"].as_array().expect("faults") {
                let tries = fault["try"].as_array().into_iter().flatten();
                for said in [&fault["pointer"], &fault["code"], &fault["found"]].into_iter().chain(tries) {
                    assert!(text.contains(said.as_str().expect("a text")), "{tool} {}: {said} is not in {text}", example.name);
                }
            }
            continue;
        }
        let steps = figures.as_object_mut().expect("figures").shift_remove("working");
        explained += usize::from(steps.is_some_and(|steps| steps.as_array().is_some_and(|steps| !steps.is_empty())));
        assert_eq!(figures, example.answer, "{tool} {}", example.name);
    }
    assert!(explained >= CALCULATIONS.len(), "only {explained} answers came with their working");
    assert_eq!(server.terminate(), Some(0));
}

#[tokio::test]
async fn an_answer_is_short_and_yet_has_its_sentence_its_cautions_and_what_was_asked_for() {
    let server = Server::start();
    let peer = Peer::of(&server, OLD);
    let mut shortened = 0;
    for (tool, example) in examples().filter(|(_, example)| example.status == 200) {
        let (refused, text, figures) = peer.called(&tool, &example.request).await;
        let place = format!("{tool} {}", example.name);
        assert!(!refused, "{place}: {text}");
        assert!(text.starts_with(example.answer["summary"].as_str().expect("a summary")), "{place}: {text}");
        for caution in example.answer["cautions"].as_array().expect("cautions") {
            assert!(text.contains(caution["text"].as_str().expect("a caution")), "{place}: {caution} is not in {text}");
        }
        for member in ["result", "factor", "cautions", "assumptions", "delivered", "hydration", "summary", "tables"] {
            assert_eq!(figures[member], example.answer[member], "{place}: {member}");
        }
        assert_eq!(figures["bake"]["minutes"], example.answer["bake"]["minutes"], "{place}");
        let changed = figures.as_object().is_some_and(|members| members.contains_key("left_out"));
        assert_eq!(changed, figures != example.answer, "{place}: what is left out is told, and nothing else");
        if changed {
            assert!(figures["left_out"].as_str().is_some_and(|told| told.contains("\"full\": true")), "{place}");
            shortened += 1;
        }
    }
    assert!(shortened >= 2, "only {shortened} answers were long enough to be shortened");
    assert_eq!(server.terminate(), Some(0));
}

#[tokio::test]
async fn the_text_of_an_error_alone_suffices_to_mend_the_call() {
    let server = Server::start();
    let peer = Peer::of(&server, NEW);
    let mut arguments = json!({ "amount": "2 blobs", "ingredient": "wheat fluor", "to": "g" });
    let (mut refused, mut text, mut figures) = peer.called("convert", &arguments).await;
    assert!(refused && text.contains("2 faults") && text.contains("convert"), "{text}");
    for _ in 0..3 {
        if !refused {
            break;
        }
        assert!(!text.contains("/v1/"), "a chat client cannot follow a path: {text}");
        // Nothing but the text is read: a place at the head of a line, and the first thing to try.
        for line in text.lines().skip(1) {
            let pointer = line.split(' ').nth(1).expect("a place").to_owned();
            let attempt = line.split("Try: \"").nth(1).and_then(|rest| rest.split('"').next()).expect("something to try");
            *arguments.pointer_mut(&pointer).expect("a place in the arguments") = json!(attempt);
        }
        (refused, text, figures) = peer.called("convert", &arguments).await;
    }
    assert!(!refused && figures["result"]["unit"] == "g", "{text}");
    let (_, text, _) = peer.called("convert", &json!({ "amount": "2 cups", "to": "ml", "full": 3 })).await;
    assert!(text.contains("/full") && text.contains("true or false"), "{text}");
    let (_, text, figures) = peer.called("ratio_check", &json!({})).await;
    assert!(text.contains("missing-field") && figures["code"] == "missing-field", "{text}");
    let deep = format!("{}{}", "[".repeat(60), "]".repeat(60));
    let (_, text, _) = peer.called("convert", &json!({ "amount": serde_json::from_str::<Value>(&deep).expect("lists") })).await;
    assert!(text.contains("too-deep"), "{text}");
    let error = peer.asked("tools/call", json!({ "name": "convrt", "arguments": {} })).await.expect_err("no such tool");
    assert!(error["code"] == -32602 && error["message"].as_str().is_some_and(|told| told.contains("the nearest is convert")), "{error}");
    let error = peer.asked("tools/call", json!({ "name": "convert", "arguments": "{}" })).await.expect_err("no object");
    assert!(error["message"].as_str().is_some_and(|told| told.contains("\"arguments\", an object")), "{error}");
    let log = server.log().join("\n");
    assert!(log.contains(r#""route":"/mcp","status":200,"code":"unknown-ingredient""#), "{log}");
    assert_eq!(server.terminate(), Some(0));
}

#[tokio::test]
async fn a_table_is_looked_up_by_words_and_a_row_by_its_id() {
    let server = Server::start();
    let peer = Peer::of(&server, NEW);
    let (_, text, figures) = peer.called("look_up", &json!({ "table": "ingredients", "query": "Brown Sugar" })).await;
    let first = &figures["rows"][0];
    assert!(first["names"].as_array().is_some_and(|names| names.contains(&json!("brown sugar"))), "{text} {first}");
    let (_, _, figures) = peer.called("look_up", &json!({ "table": "ingredients", "id": "honey" })).await;
    assert_eq!(figures["rows"], json!([server.get("/v1/ingredients/honey").json()]));
    let index = server.get("/").json();
    let tables: Vec<&str> =
        index["tables"].as_array().expect("tables").iter().filter_map(|path| path.as_str()?.strip_prefix("/v1/")).collect();
    assert!(tables.len() >= 9, "{index}");
    for table in tables {
        let (refused, text, figures) = peer.called("look_up", &json!({ "table": table })).await;
        assert!(!refused && text.contains("rows"), "{text}");
        assert!(
            figures["left_out"].is_string() || server.get(&format!("/v1/{table}")).body.len() < 4000,
            "{table} is cut, and it is not told"
        );
        let (_, _, whole) = peer.called("look_up", &json!({ "table": table, "full": true })).await;
        assert_eq!(whole["rows"], server.get(&format!("/v1/{table}")).json()[table], "{table}");
        let id = ["id", "shape", "product"].into_iter().find_map(|key| whole["rows"][0][key].as_str()).expect("a key");
        let (_, text, one) = peer.called("look_up", &json!({ "table": table, "id": id })).await;
        assert!(one["rows"].as_array().is_some_and(|rows| !rows.is_empty()), "{table} {id}: {text}");
    }
    for (arguments, words) in [
        (json!({}), ["missing-field", "ingredients"]),
        (json!({ "table": "ingredient" }), ["/table", "Try: \"ingredients\""]),
        (json!({ "table": "styles", "id": "creamd" }), ["/id", "\"creamed\""]),
        (json!({ "table": "pans", "query": "zzz" }), ["/query", "fewer words"]),
        (json!({ "table": 3, "words": "a" }), ["/table", "/words"]),
    ] {
        let (refused, text, _) = peer.called("look_up", &arguments).await;
        assert!(refused && words.iter().all(|word| text.contains(word)), "{arguments}: {text}");
    }
    assert_eq!(server.terminate(), Some(0));
}

#[tokio::test]
async fn what_is_no_message_is_refused_in_the_words_of_the_protocol() {
    let server = Server::start();
    let peer = Peer::of(&server, OLD);
    let deep = format!("{{\"jsonrpc\":\"2.0\",\"id\":1,\"method\":\"ping\",\"params\":{}{}}}", "[".repeat(5000), "]".repeat(5000));
    let ping = r#"{"jsonrpc":"2.0","id":9,"method":"ping"}"#;
    for (body, code, words) in [
        ("{\"jsonrpc\":\"2.0\"".to_owned(), -32700, "not JSON"),
        (deep, -32700, "nested too deeply"),
        (ping.replace("}", ",\"params\":{\"n\":1e400}}"), -32700, "beyond all numbers"),
        (format!("[{ping}]"), -32600, "one message a request"),
        ("{\"amount\":\"2 cups\"}".to_owned(), -32600, "tools/call"),
    ] {
        let response = peer.sent(body, &[]).await;
        assert_eq!((response.status().as_u16(), response.headers()["content-type"].as_bytes()), (400, &b"application/json"[..]));
        let answer: Value = response.json().await.expect("JSON");
        assert_eq!((&answer["error"]["code"], &answer["id"]), (&json!(code), &Value::Null), "{answer}");
        assert!(answer["error"]["message"].as_str().is_some_and(|told| told.contains(words)), "{answer}");
    }
    let error = peer.asked("tools/cal", json!({})).await.expect_err("no such method");
    assert_eq!(error["code"], -32601);
    let told = peer.sent(r#"{"jsonrpc":"2.0","method":"notifications/initialized"}"#, &[]).await;
    assert_eq!(told.status(), 202);
    let large = peer.sent(vec![b' '; 2 << 20], &[]).await;
    assert_eq!((large.status().as_u16(), large.headers()["problem-code"].as_bytes()), (413, &b"too-large"[..]));
    let typed = peer.client.post(peer.address()).header("Content-Type", "text/plain").body(ping).send().await.expect("an answer");
    assert_eq!((typed.status().as_u16(), typed.headers()["problem-code"].as_bytes()), (415, &b"unsupported-media-type"[..]));
    let plain = peer.client.post(peer.address()).header("Content-Type", "application/json").body(ping).send().await.expect("an answer");
    assert_eq!(plain.status(), 200, "a caller that names no form has JSON");
    let got = peer.client.get(peer.address()).send().await.expect("an answer");
    assert_eq!((got.status().as_u16(), got.headers()["allow"].as_bytes()), (405, &b"POST, OPTIONS"[..]));
    assert_eq!(server.terminate(), Some(0));
}

#[tokio::test]
async fn both_revisions_are_agreed_on_and_an_older_one_is_offered_one_that_is_spoken() {
    let server = Server::start();
    let peer = Peer::of(&server, OLD);
    for (asked, agreed) in [(OLD, OLD), ("2025-06-18", "2025-06-18"), ("2024-11-05", OLD)] {
        let params = json!({ "protocolVersion": asked, "capabilities": {}, "clientInfo": { "name": "larkrise", "version": "1" } });
        let message = json!({ "jsonrpc": "2.0", "id": 1, "method": "initialize", "params": params });
        let answer: Value = peer.client.post(peer.address()).json(&message).send().await.expect("an answer").json().await.expect("JSON");
        assert_eq!(answer["result"]["protocolVersion"], agreed, "{answer}");
        assert_eq!(answer["result"]["serverInfo"]["name"], "evencrumb");
        assert!(answer["result"]["instructions"].as_str().is_some_and(|told| told.contains("cautions")));
    }
    let found = Peer::of(&server, NEW).asked("server/discover", json!({})).await.expect("what there is");
    assert!(found["supportedVersions"].as_array().is_some_and(|all| all.contains(&json!(NEW)) && all.contains(&json!(OLD))), "{found}");
    assert_eq!(server.terminate(), Some(0));
}

#[tokio::test]
async fn only_the_hosts_and_pages_of_the_settings_may_call() {
    let ping = r#"{"jsonrpc":"2.0","id":9,"method":"ping"}"#;
    let status = async |server: &Server, headers: &[(&str, &str)]| Peer::of(server, OLD).sent(ping, headers).await.status().as_u16();
    let closed = Server::start();
    assert_eq!(status(&closed, &[]).await, 200);
    assert_eq!(status(&closed, &[("Host", "localhost:8080")]).await, 200);
    assert_eq!(status(&closed, &[("Origin", "http://localhost:6274")]).await, 200);
    for wrong in [("Host", "larkrise.example"), ("Origin", "https://larkrise.example"), ("Origin", "null")] {
        let response = Peer::of(&closed, OLD).sent(ping, &[wrong]).await;
        assert_eq!(response.status(), 403, "{wrong:?}");
        let answer: Value = response.json().await.expect("JSON");
        assert!(answer["error"]["message"].as_str().is_some_and(|told| told.contains("EVENCRUMB_MCP_HOSTS")), "{answer}");
    }
    let open = Server::with(&[("EVENCRUMB_MCP_HOSTS", "larkrise.example,[::1]:9000"), ("EVENCRUMB_CORS_ORIGINS", "https://pages.example")]);
    for (header, wanted) in [
        (("Host", "larkrise.example"), 200),
        (("Host", "Larkrise.example:8443"), 200),
        (("Host", "[::1]:9000"), 200),
        (("Host", "[::1]:9001"), 403),
        (("Host", "127.0.0.1"), 403),
    ] {
        assert_eq!(status(&open, &[header]).await, wanted, "{header:?}");
    }
    for (origin, wanted) in
        [("https://larkrise.example", 200), ("https://pages.example", 200), ("https://larkrise.example.evil.example", 403)]
    {
        assert_eq!(status(&open, &[("Host", "larkrise.example"), ("Origin", origin)]).await, wanted, "{origin}");
    }
    let any = Server::with(&[("EVENCRUMB_MCP_HOSTS", "*")]);
    assert_eq!(status(&any, &[("Host", "anything.example")]).await, 200);
    for server in [closed, open, any] {
        assert_eq!(server.terminate(), Some(0));
    }
}

#[tokio::test]
async fn the_tools_are_exported_as_definitions_with_an_etag() {
    let server = Server::start();
    let reply = server.get("/tools.json");
    assert_eq!((reply.status, reply.header("content-type")), (200, Some("application/json")));
    assert_eq!(reply.json()["tools"], json!(Peer::of(&server, NEW).tools().await));
    // An assistant reads all of it before the first word is spoken.
    assert!(reply.body.len() <= 120_000, "{} bytes", reply.body.len());
    let formula = |tool: &str, part: &str| -> Value {
        let tools = reply.json();
        let tool = tools["tools"].as_array().and_then(|tools| tools.iter().find(|known| known["name"] == tool)).expect("a tool").clone();
        tool["inputSchema"]["$defs"][part]["properties"].clone()
    };
    for (tool, finish, bake) in [("pan_scale", true, true), ("card", false, true), ("batch", false, false)] {
        let whole = ["FinishWritten", "BakeWritten"].map(|part| formula(tool, part).is_object());
        assert_eq!(whole, [finish, bake], "{tool} has what it reckons with, and no more");
    }
    let tag = reply.header("etag").expect("an ETag");
    let again = server.ask("GET", "/tools.json", &[("If-None-Match", tag)], b"");
    assert_eq!((again.status, again.body.len()), (304, 0));
    let index = server.get("/").json();
    assert_eq!((&index["chat"], &index["tools"]), (&json!("/mcp"), &json!("/tools.json")));
    assert_eq!(server.terminate(), Some(0));
}
