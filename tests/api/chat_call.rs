//! A call of a tool is answered at once where it is beyond doubt and by the protocol's library where it is not: nobody sees by which.

use reqwest::Response;
use serde_json::{Value, json};

use crate::chat::{NEW, OLD, Peer, examples};
use crate::server::Server;

/// A call as a client of one revision sends it, and what it says in its head.
fn call<'n>(revision: &str, name: &'n str, arguments: &Value) -> (String, Vec<(&'static str, &'n str)>) {
    let mut params = json!({ "name": name, "arguments": arguments });
    let mut headers = Vec::new();
    if revision == NEW {
        params["_meta"] = json!({ "io.modelcontextprotocol/protocolVersion": NEW, "io.modelcontextprotocol/clientCapabilities": {} });
        headers.extend([("Mcp-Method", "tools/call"), ("Mcp-Name", name)]);
    }
    (json!({ "jsonrpc": "2.0", "id": 17, "method": "tools/call", "params": params }).to_string(), headers)
}

/// All of an answer but what is new in every one.
async fn whole(response: Response) -> (u16, Vec<(String, String)>, String) {
    let headers = response.headers().iter().filter(|(name, _)| !matches!(name.as_str(), "x-request-id" | "date" | "vary"));
    let headers = headers.filter(|(name, _)| !name.as_str().starts_with("access-control"));
    let mut headers: Vec<_> = headers.map(|(name, value)| (name.to_string(), format!("{value:?}"))).collect();
    headers.sort();
    (response.status().as_u16(), headers, response.text().await.expect("a text"))
}

#[tokio::test]
async fn the_worked_examples_are_answered_by_the_same_bytes_either_way() {
    let server = Server::start();
    // What names the page it comes from is judged by the library.
    let own = format!("http://{}", server.address);
    for (at, (tool, example)) in examples().enumerate() {
        let peer = Peer::of(&server, [OLD, NEW, "2025-06-18"][at % 3]);
        let (body, mut headers) = call(peer.revision, &tool, &example.request);
        let at_once = whole(peer.sent(body.clone(), &headers).await).await;
        headers.push(("Origin", &own));
        assert_eq!(at_once, whole(peer.sent(body, &headers).await).await, "{tool} {}", example.name);
        assert_eq!(at_once.0, 200, "{tool} {}", example.name);
    }
    assert_eq!(server.terminate(), Some(0));
}

#[tokio::test]
async fn a_call_that_leaves_a_doubt_is_refused_in_the_words_of_the_protocol() {
    let server = Server::start();
    let cup = json!({ "amount": "1 cup", "ingredient": "flour", "to": "g" });
    let (plain, head) = call(NEW, "convert", &cup);
    let (old, _) = call(OLD, "convert", &cup);
    let head_of = |name| vec![("Mcp-Method", "tools/call"), ("Mcp-Name", name)];
    for (revision, body, headers, status, code) in [
        (NEW, plain.clone(), vec![("Mcp-Method", "tools/call")], 400, -32020),
        (NEW, plain.clone(), head_of("batch"), 400, -32020),
        (NEW, plain.replace(NEW, "2025-11-25"), head.clone(), 400, -32020),
        (NEW, plain.replace("clientCapabilities", "clientCapacities"), head.clone(), 400, -32602),
        (NEW, old.clone(), head.clone(), 400, -32602),
        ("2031-01-01", old.clone(), vec![], 400, -32600),
        (OLD, old.replace("convert", "convrt"), vec![], 200, -32602),
        (OLD, old.replace("\"1 cup\"", "1e400"), vec![], 400, -32700),
        (OLD, old.clone(), vec![("Host", "larkrise.example")], 403, -32600),
    ] {
        let told = format!("{revision} {body} {headers:?}");
        let (found, _, answer) = whole(Peer::of(&server, revision).sent(body, &headers).await).await;
        let answer: Value = serde_json::from_str(&answer).unwrap_or_else(|fault| panic!("{told}: {fault} in {answer}"));
        assert_eq!((found, &answer["error"]["code"]), (status, &json!(code)), "{told}: {answer}");
    }
    assert_eq!(server.terminate(), Some(0));
}
