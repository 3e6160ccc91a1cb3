//! Lists of questions in JSON.

use serde_json::{Value, json};

use crate::server::Server;

const GOOD: &str = r#"{"amount":"3 Tbsp","to":"ml"}"#;

#[test]
fn a_bad_item_has_its_problem_in_its_place_and_the_others_their_answers() {
    let server = Server::start();
    let list = format!(r#"[{GOOD},null,{{"amount":"2 blobs","to":"g","id":9}},5,[],"x",{{}},{{"id":[],"amount":"1 g","to":"g"}},{GOOD}]"#);
    let reply = server.post("/v1/convert", &list);
    assert_eq!((reply.status, reply.header("content-type")), (200, Some("application/json")));
    let items = reply.json();
    let items = items.as_array().expect("a list");
    let codes: Vec<_> = items.iter().map(|item| item["problem"]["code"].as_str().unwrap_or("answered")).collect();
    let expected = [
        "answered",
        "not-an-object",
        "unknown-unit",
        "not-an-object",
        "not-an-object",
        "not-an-object",
        "missing-field",
        "wrong-type",
        "answered",
    ];
    assert_eq!(codes, expected);
    assert!(items.iter().enumerate().all(|(at, item)| item["index"] == at));
    assert_eq!(items[2]["id"], 9);
    assert_eq!(items[7]["problem"]["faults"][0]["pointer"], "/id");
    assert_eq!(items[0]["result"], items[8]["result"]);
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn strict_is_all_or_nothing_with_all_faults_by_their_places_in_the_list() {
    let server = Server::start();
    let all = server.post("/v1/convert?strict=true", &format!("[{GOOD},{GOOD}]"));
    assert_eq!((all.status, all.json().as_array().map(Vec::len)), (200, Some(2)));
    let nothing = server.post("/v1/convert?strict=true", &format!(r#"[{GOOD},{{"amount":"2 blobs","to":"g"}},{{"to":"g"}},7]"#));
    assert_eq!((nothing.status, nothing.code().as_str()), (422, "unknown-unit"));
    let problem = nothing.json();
    let places: Vec<_> = problem["faults"].as_array().into_iter().flatten().map(|fault| fault["pointer"].clone()).collect();
    assert_eq!(places, ["/1/amount", "/2/amount", "/3"]);
    assert_eq!(problem["total"], 3);
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn two_questions_with_one_name_are_both_answered_and_the_second_says_so() {
    let server = Server::start();
    let named = |id: &str| format!(r#"{{"id":{id},"amount":"1 cup","to":"ml"}}"#);
    let list = server.post("/v1/convert", &format!("[{},{},{}]", named("\"a\""), named("1"), named("\"a\""))).json();
    assert_eq!((&list[0]["same_id_as"], &list[1]["same_id_as"], &list[2]["same_id_as"]), (&Value::Null, &Value::Null, &json!(0)));
    assert_eq!(list[0]["result"], list[2]["result"]);
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn an_empty_list_has_an_empty_answer_and_a_list_too_long_or_broken_none() {
    let server = Server::start();
    assert_eq!(server.post("/v1/convert", " [ ] ").json(), json!([]));
    let too_long = server.post("/v1/convert", &format!("[{}]", vec!["1"; 100_000].join(",")));
    assert_eq!((too_long.status, too_long.code().as_str()), (422, "too-many"));
    assert_eq!(too_long.json()["faults"][0]["found"], "a list of 100000 questions");
    let most = vec![GOOD; 1000].join(",");
    assert_eq!(server.post("/v1/convert", &format!("[{most}]")).json().as_array().map(Vec::len), Some(1000));
    for broken in ["[", "[{}", "[{},]", "[{}]]", "[nul]", "[{}] {}"] {
        let reply = server.post("/v1/convert", broken);
        assert_eq!((reply.status, reply.code().as_str()), (400, "not-json"), "{broken}");
    }
    let deep = server.post("/v1/convert", &format!("[{GOOD},{}{}]", "[".repeat(100_000), "]".repeat(100_000)));
    assert_eq!((deep.status, deep.json()[1]["problem"]["code"].as_str().map(str::to_owned)), (200, Some("too-deep".into())));
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn the_limit_of_a_list_is_the_one_that_is_set_and_told() {
    let server = Server::with(&[("EVENCRUMB_ITEMS", "2")]);
    let limits = server.get("/v1/limits").json();
    let told =
        limits["limits"].as_array().into_iter().flatten().find(|limit| limit["name"] == "bulk-items").map(|limit| limit["value"].clone());
    assert_eq!(told, Some(json!(2)));
    let refused = server.post("/v1/convert", &format!("[{GOOD},{GOOD},{GOOD}]")).json();
    assert_eq!(refused["faults"][0]["accepted"], "at most 2 questions");
    assert_eq!(server.terminate(), Some(0));
}
