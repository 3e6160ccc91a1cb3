//! Many questions at once: lists, lines and tables, each answered as its questions would be one by one, whatever comes between.

mod lines;
mod lists;
mod tables;

use evencrumb::calculation::{CALCULATIONS, Entry};
use evencrumb::door::openapi::Example;
use serde_json::{Value, json};

use crate::openapi::worked;
use crate::server::{Reply, Server};

pub const LINES: (&str, &str) = ("Content-Type", "application/x-ndjson");

pub fn lines(server: &Server, target: &str, body: &[u8]) -> Reply {
    server.ask("POST", target, &[LINES], body)
}

/// Every line of an answer.
pub fn each(reply: &Reply) -> Vec<Value> {
    assert_eq!(reply.status, 200, "{}", reply.text());
    let text = reply.text();
    assert!(text.is_empty() || text.ends_with('\n'));
    text.lines().map(|line| serde_json::from_str(line).unwrap_or_else(|e| panic!("no JSON ({e}): {line}"))).collect()
}

/// An example with a name of the caller's.
fn named(example: &Example, id: &Value) -> Value {
    let mut question = example.request.clone();
    question.as_object_mut().expect("an object").insert("id".into(), id.clone());
    question
}

/// What the answer among many must be: that to the same question asked by itself, behind these members.
pub fn among(server: &Server, entry: &Entry, example: &Example, mut expected: Value) -> Value {
    let single = server.post(entry.path(), &example.request.to_string());
    let mut answer = single.json();
    let object = expected.as_object_mut().expect("an object");
    if single.status == 200 {
        object.append(answer.as_object_mut().expect("an answer"));
    } else {
        answer.as_object_mut().expect("a problem").shift_remove("request_id");
        object.insert("problem".into(), answer);
    }
    expected
}

#[test]
fn every_worked_example_has_the_same_answer_in_a_list_and_by_the_line() {
    let server = Server::start();
    for entry in CALCULATIONS {
        let examples = worked(entry.name);
        let questions: Vec<_> = examples.iter().enumerate().map(|(at, example)| named(example, &json!(format!("larkrise {at}")))).collect();
        let list = server.post(entry.path(), &Value::from(questions.clone()).to_string()).json();
        let text: String = questions.iter().map(|question| format!("{question}\n")).collect();
        let held = each(&lines(&server, entry.path(), text.as_bytes()));
        let streamed = each(&lines(&server, &format!("{}?stream=true", entry.path()), text.as_bytes()));
        assert_eq!(held, streamed);
        for (at, example) in examples.iter().enumerate() {
            let id = json!(format!("larkrise {at}"));
            assert_eq!(list[at], among(&server, entry, example, json!({ "index": at, "id": id })), "{} {}", entry.name, example.name);
            assert_eq!(held[at], among(&server, entry, example, json!({ "line": at + 1, "id": id })), "{} {}", entry.name, example.name);
        }
        assert_eq!((list.as_array().map(Vec::len), held.len()), (Some(examples.len()), examples.len()));
    }
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn what_the_address_says_beside_must_fit_the_kind_of_body() {
    let server = Server::start();
    for (kind, target, place) in [
        ("application/json", "/v1/convert?stream=true", "/stream"),
        ("application/x-ndjson", "/v1/convert?strict=true", "/strict"),
        ("text/csv", "/v1/convert?counts=true", "/counts"),
        ("text/csv", "/v1/convert?separator=|", "/separator"),
        ("application/x-ndjson", "/v1/convert?stream=perhaps", "/stream"),
    ] {
        let reply = server.ask("POST", target, &[("Content-Type", kind)], b"amount,to\n1 cup,ml\n");
        assert_eq!(reply.status, 422, "{target} {}", reply.text());
        assert_eq!(reply.json()["faults"][0]["pointer"], place);
    }
    let csv = server.ask("POST", "/v1/ratio-check", &[("Content-Type", "text/csv")], b"a\n");
    assert_eq!((csv.status, csv.code().as_str()), (415, "unsupported-media-type"));
    assert_eq!(server.terminate(), Some(0));
}
