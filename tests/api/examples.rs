//! The worked examples are true: each is asked of the built binary, and the answer is the one that the document shows.

use std::fs;

use evencrumb::calculation::CALCULATIONS;
use evencrumb::door::openapi::Example;
use serde_json::Value;

use crate::openapi::{file_of, worked};
use crate::server::{Reply, Server};

/// What a reply says, without the id that is new with every request.
fn said(reply: &Reply) -> Value {
    let mut answer = reply.json();
    if let Some(problem) = answer.as_object_mut() {
        problem.shift_remove("request_id");
    }
    answer
}

fn asked(server: &Server, path: &str, example: &Example) -> Reply {
    server.post(path, &example.request.to_string())
}

/// The question as an address; nothing where a field is no text and no amount.
fn address(path: &str, question: &Value) -> Option<String> {
    let text = |value: &Value| match value {
        Value::String(text) => Some(text.clone()),
        Value::Object(pair) => Some(format!("{} {}", pair.get("value")?, pair.get("unit")?.as_str()?)),
        _ => None,
    };
    let parameters: Option<Vec<String>> =
        question.as_object()?.iter().map(|(name, value)| Some(format!("{name}={}", encoded(&text(value)?)))).collect();
    Some(format!("{path}?{}", parameters?.join("&")))
}

fn encoded(text: &str) -> String {
    text.bytes().map(|b| if b.is_ascii_alphanumeric() { char::from(b).to_string() } else { format!("%{b:02X}") }).collect()
}

#[test]
fn every_worked_example_is_answered_as_the_document_shows() {
    let server = Server::start();
    let mut stale = Vec::new();
    for entry in CALCULATIONS {
        let mut examples = worked(entry.name);
        for example in &mut examples {
            let reply = asked(&server, entry.path(), example);
            assert_eq!(reply.status, example.status, "{} {}: {}", entry.name, example.name, reply.text());
            let answer = said(&reply);
            if answer != example.answer {
                stale.push(format!("{} {}", entry.name, example.name));
                example.answer = answer;
            }
        }
        if std::env::var_os("UPDATE_EXAMPLES").is_some() {
            let text = serde_json::to_string_pretty(&examples).expect("examples can be written");
            fs::write(file_of(entry.name), text + "\n").expect("the file can be written");
            stale.clear();
        }
    }
    assert!(stale.is_empty(), "answers have changed: {}; look at them with UPDATE_EXAMPLES=1", stale.join(", "));
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn every_calculation_shows_the_simplest_the_typical_and_the_refused() {
    for entry in CALCULATIONS {
        let examples = worked(entry.name);
        for (name, status) in [("simplest", 200), ("typical", 200), ("refused", 422)] {
            let there = examples.iter().any(|example| example.name == name && example.status == status);
            assert!(there, "{} has no example \"{name}\" with the status {status}", entry.name);
        }
    }
}

#[test]
fn a_flat_question_has_the_same_answer_by_address_and_by_body() {
    let server = Server::start();
    let mut compared = 0;
    for entry in CALCULATIONS.iter().filter(|entry| entry.flat) {
        for example in worked(entry.name) {
            let Some(target) = address(entry.path(), &example.request) else { continue };
            let (by_address, by_body) = (server.get(&target), asked(&server, entry.path(), &example));
            assert_eq!(by_address.status, example.status, "{target}: {}", by_address.text());
            assert_eq!(said(&by_address), said(&by_body), "{target}");
            compared += 1;
        }
    }
    assert!(compared >= 3, "only {compared} questions were compared");
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn every_mend_that_a_refused_example_names_leads_to_another_answer() {
    let server = Server::start();
    for entry in CALCULATIONS {
        for example in worked(entry.name).iter().filter(|example| example.status == 422) {
            for fault in example.answer["faults"].as_array().expect("faults") {
                let (Some(pointer), Some(attempt)) = (fault["pointer"].as_str(), fault["try"].get(0)) else { continue };
                let mut mended = example.clone();
                let Some(place) = mended.request.pointer_mut(pointer).filter(|place| place.is_string()) else { continue };
                *place = attempt.clone();
                let again = said(&asked(&server, entry.path(), &mended));
                let still = again["faults"]
                    .as_array()
                    .into_iter()
                    .flatten()
                    .any(|other| other["pointer"] == fault["pointer"] && other["code"] == fault["code"]);
                assert!(!still, "{} at {pointer}: {attempt} is refused like what was found", entry.name);
            }
        }
    }
    assert_eq!(server.terminate(), Some(0));
}
