//! One question by every way of asking it.

use crate::server::Server;

const HONEY: &str = r#"{"amount":"3 Tbsp","to":"ml"}"#;
const TYPE: (&str, &str) = ("Content-Type", "application/json");

#[test]
fn the_same_question_gives_the_same_bytes_by_post_query_and_get() {
    let server = Server::start();
    let posted = server.post("/v1/convert", HONEY);
    assert_eq!(posted.status, 200, "{}", posted.text());
    let queried = server.ask("QUERY", "/v1/convert", &[TYPE], HONEY.as_bytes());
    let got = server.get("/v1/convert?amount=3+Tbsp&to=ml");
    assert_eq!(posted.body, queried.body);
    assert_eq!(posted.body, got.body);
    assert_eq!(posted.header("content-type"), Some("application/json"));
    let spaced = server.post("/v1/convert", "{\r\n  \"to\": \"ml\",\r\n  \"amount\": \"3 Tbsp\"\r\n}\r\n");
    assert_eq!(posted.body, spaced.body);
}

#[test]
fn the_curl_line_that_the_service_prints_works() {
    let server = Server::start();
    assert!(server.first_lines[0].starts_with("evencrumb listens on http://127.0.0.1:"));
    let line = server.first_lines[1].trim();
    let target = line
        .strip_prefix("try: curl 'http://")
        .and_then(|rest| rest.strip_suffix('\''))
        .and_then(|rest| rest.split_once('/'))
        .expect("a curl line");
    assert_eq!(server.get(&format!("/{}", target.1)).status, 200);
}
