//! The document is the contract: it equals what the list of calculations gives, keeps the rules of a good document, and its examples are of the shape that it promises.

mod lint;
mod schema;

use std::fs;
use std::path::PathBuf;

use evencrumb::calculation::CALCULATIONS;
use evencrumb::door::openapi::{self, Example, Examples};
use evencrumb::reference::Reference;
use serde_json::Value;

use crate::server::Server;

/// A path inside the package.
pub fn inside(path: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// Where the worked examples of a calculation are kept.
pub fn file_of(calculation: &str) -> PathBuf {
    inside("openapi/examples").join(format!("{calculation}.json"))
}

/// The worked examples of a calculation, as they are kept.
pub fn worked(calculation: &str) -> Vec<Example> {
    let file = file_of(calculation);
    let text = fs::read_to_string(&file).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
    serde_json::from_str(&text).unwrap_or_else(|e| panic!("{}: {e}", file.display()))
}

fn built() -> String {
    let examples = CALCULATIONS.iter().fold(Examples::default(), |examples, entry| examples.with(entry.name, worked(entry.name)));
    let reference = Reference::load().expect("the tables can be read");
    openapi::text(&openapi::build(&examples, reference)).expect("the document can be written")
}

fn document() -> Value {
    serde_json::from_str(&built()).expect("the document is JSON")
}

#[track_caller]
fn assert_none(faults: &[String]) {
    assert!(faults.is_empty(), "{} faults in the document:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn the_committed_document_is_what_the_list_of_calculations_gives() {
    let built = built();
    let file = inside("openapi/openapi.json");
    if std::env::var_os("UPDATE_OPENAPI").is_some() {
        fs::write(&file, &built).expect("the document can be written");
        return;
    }
    let committed = fs::read_to_string(&file).expect("there is a committed document");
    assert!(committed == built, "openapi/openapi.json is stale: run the tests once with UPDATE_OPENAPI=1 and look at the difference");
    assert_eq!(openapi::document(), committed.as_bytes());
}

#[test]
fn the_document_has_the_same_bytes_every_time_and_stays_small() {
    let first = built();
    assert_eq!(first, built());
    // About 25 kB a calculation, with its examples; written plainly for the eye, half as much when packed.
    assert!(first.len() <= 700_000, "the document has {} bytes", first.len());
}

#[test]
fn the_document_is_openapi_3_1_with_a_relative_server_and_a_licence() {
    let document = document();
    assert_eq!(document["openapi"], "3.1.0");
    assert_eq!(document["servers"][0]["url"], "/");
    assert_eq!(document["info"]["license"]["identifier"], "MIT OR Apache-2.0");
    assert!(document["x-limits"].is_object());
}

#[test]
fn every_calculation_is_in_the_document_and_flat_ones_by_address_too() {
    let document = document();
    for entry in CALCULATIONS {
        let item = &document["paths"][entry.path()];
        assert!(item["post"].is_object(), "{}", entry.name);
        assert_eq!(item["get"].is_object(), entry.flat, "{}", entry.name);
    }
}

#[test]
fn every_operation_is_named_described_and_shown() {
    assert_none(&lint::operations(&document()));
}

#[test]
fn every_property_is_described_and_has_its_bounds() {
    let document = document();
    let (faults, properties) = lint::schemas(&document);
    println!("{properties} properties read, {} faults", faults.len());
    assert_none(&faults);
}

#[test]
fn every_reference_leads_somewhere() {
    assert_none(&lint::references(&document()));
}

#[test]
fn no_text_of_the_document_speaks_the_language_of_programs() {
    assert_none(&lint::words(&document()));
}

#[test]
fn every_example_is_of_the_shape_that_is_promised() {
    let document = document();
    let mut faults = Vec::new();
    for (place, content) in lint::contents(&document) {
        let named = content["examples"].as_object().into_iter().flatten().map(|(name, example)| (name.as_str(), &example["value"]));
        for (name, value) in named.chain(content.get("example").map(|value| ("example", value))) {
            schema::check(&document, &content["schema"], value, &format!("{place} {name}"), &mut faults);
        }
    }
    assert_none(&faults);
}

#[test]
fn a_list_is_answered_in_the_shape_that_is_promised_and_a_problem_in_it_is_no_answer() {
    let (document, server) = (document(), Server::start());
    let mut faults = Vec::new();
    for entry in CALCULATIONS {
        let questions: Vec<Value> = worked(entry.name).into_iter().map(|example| example.request).chain([Value::Null]).collect();
        let reply = server.post(entry.path(), &Value::from(questions).to_string());
        let schema = &document["paths"][entry.path()]["post"]["responses"]["200"]["content"]["application/json"]["schema"];
        schema::check(&document, schema, &reply.json(), entry.name, &mut faults);
    }
    assert_none(&faults);
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn every_path_that_is_read_answers_in_the_shape_that_is_promised() {
    let (document, server) = (document(), Server::start());
    let mut faults = Vec::new();
    for (path, item) in document["paths"].as_object().expect("paths").iter().filter(|(_, item)| item["post"].is_null()) {
        let key = item["get"]["parameters"].as_array().into_iter().flatten().find(|parameter| parameter["in"] == "path");
        let target = key.map_or_else(
            || path.clone(),
            |key| path.replace(&format!("{{{}}}", key["name"].as_str().unwrap_or_default()), key["example"].as_str().unwrap_or_default()),
        );
        let reply = server.get(&target);
        assert_eq!(reply.status, 200, "{target}: {}", reply.text());
        let content = &item["get"]["responses"]["200"]["content"]["application/json"];
        schema::check(&document, &content["schema"], &reply.json(), &target, &mut faults);
    }
    let row = &document["paths"]["/v1/ingredients/{id}"]["get"]["responses"]["200"]["content"]["application/json"]["schema"];
    for known in server.get("/v1/ingredients").json()["ingredients"].as_array().expect("ingredients") {
        let target = format!("/v1/ingredients/{}", known["id"].as_str().expect("an id"));
        schema::check(&document, row, &server.get(&target).json(), &target, &mut faults);
    }
    assert_none(&faults);
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn the_limits_of_the_document_are_those_that_the_service_tells() {
    let (document, server) = (document(), Server::start());
    let told = server.get("/v1/limits").json();
    let limits = document["x-limits"].as_object().expect("limits");
    assert!(limits.len() > 10);
    for (name, limit) in limits {
        let other = told["limits"].as_array().into_iter().flatten().find(|other| other["name"] == *name);
        assert_eq!(other.map(|other| (&other["value"], &other["unit"])), Some((&limit["value"], &limit["unit"])), "{name}");
    }
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn the_document_and_the_page_are_served_whole_and_told_from_a_copy_by_their_etag() {
    let server = Server::start();
    for (path, kind) in [
        ("/openapi.json", "application/json"),
        ("/docs", "text/html; charset=utf-8"),
        ("/docs/page.js", "text/javascript; charset=utf-8"),
        ("/docs/page.css", "text/css; charset=utf-8"),
    ] {
        let reply = server.get(path);
        assert_eq!((reply.status, reply.header("content-type")), (200, Some(kind)), "{path}");
        assert!(reply.header("content-security-policy").is_some_and(|policy| policy.starts_with("default-src 'none'")), "{path}");
        let tag = reply.header("etag").expect("an ETag");
        let again = server.ask("GET", path, &[("If-None-Match", tag)], b"");
        assert_eq!((again.status, again.body.len()), (304, 0), "{path}");
    }
    assert_eq!(server.get("/openapi.json").body, openapi::document());
    assert_eq!(server.terminate(), Some(0));
}
