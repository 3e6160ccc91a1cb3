//! Abuse of HTTP itself, by raw bytes.

use std::io::{BufReader, Read, Write};
use std::net::Shutdown;
use std::time::Instant;

use crate::server::{Server, read_reply};

const QUESTION: &str = r#"{"amount":"3 Tbsp","to":"ml"}"#;
const LIVE: &str = "GET /health/live HTTP/1.1\r\nHost: larkrise.example\r\n\r\n";

fn statuses(answers: &str) -> Vec<u16> {
    answers.lines().filter_map(|line| line.split("HTTP/1.1 ").nth(1)).filter_map(|rest| rest.get(..3)?.parse().ok()).collect()
}

fn post(headers: &str, body: &str) -> Vec<u8> {
    format!("POST /v1/convert HTTP/1.1\r\nHost: larkrise.example\r\nContent-Type: application/json\r\n{headers}\r\n{body}").into_bytes()
}

fn chunked(body: &str) -> String {
    format!("{:x}\r\n{body}\r\n0\r\n\r\n", body.len())
}

#[test]
fn a_length_and_chunks_together_or_a_strange_transfer_coding_get_one_400_and_a_closed_connection() {
    let server = Server::start();
    let both = format!("Content-Length: {}\r\nTransfer-Encoding: chunked\r\n", QUESTION.len());
    for headers in [
        both.as_str(),
        "Transfer-Encoding: xchunked\r\n",
        "Transfer-Encoding: chunked, identity\r\n",
        "Transfer-Encoding: chunked\r\nTransfer-Encoding: chunked\r\n",
        "Transfer-Encoding: \"chunked\"\r\n",
        "Transfer-Encoding:\u{b}chunked\r\n",
        "Transfer-Encoding : chunked\r\n",
    ] {
        assert_eq!(statuses(&server.raw(&post(headers, &chunked(QUESTION)))), [400], "{headers}");
    }
    assert_eq!(statuses(&server.raw(&post("Transfer-Encoding: chunked\r\nConnection: close\r\n", &chunked(QUESTION)))), [200]);
}

#[test]
fn a_length_that_is_no_single_plain_number_is_refused() {
    let server = Server::start();
    for lengths in ["5\r\nContent-Length: 6", "29, 29", "-5", "+5", "0x5", "1e2", "", "\u{b2}", "18446744073709551616"] {
        let answer = server.raw(&post(&format!("Content-Length: {lengths}\r\n"), QUESTION));
        assert_eq!(statuses(&answer), [400], "{lengths}");
    }
}

#[test]
fn a_chunk_that_is_wrongly_framed_is_refused() {
    let server = Server::start();
    for chunk in ["fffffffffffffffff\r\n", "-1\r\n", "zz\r\n", "0x5\r\nabcde\r\n", "5\nabcde\n0\n\n", "5\r\nabcdeXX0\r\n\r\n"] {
        assert_eq!(statuses(&server.raw(&post("Transfer-Encoding: chunked\r\n", chunk))), [400], "{chunk:?}");
    }
}

#[test]
fn headers_that_only_other_programs_heed_change_nothing() {
    let server = Server::start();
    let plain = server.post("/v1/convert", QUESTION);
    for header in [
        ("Content_Length", "3"),
        ("Transfer_Encoding", "chunked"),
        ("X-HTTP-Method-Override", "DELETE"),
        ("X-Original-URL", "/health/live"),
        ("Expect", "200-ok"),
    ] {
        let answer = server.ask("POST", "/v1/convert", &[("Content-Type", "application/json"), header], QUESTION.as_bytes());
        assert_eq!((answer.status, answer.body), (200, plain.body.clone()), "{header:?}");
    }
}

#[test]
fn a_refused_body_is_never_read_as_a_request() {
    let server = Server::start();
    let body = LIVE.repeat(3);
    let request = format!("POST /v1/none HTTP/1.1\r\nHost: a\r\nContent-Length: {}\r\n\r\n{body}{LIVE}", body.len());
    let answers = statuses(&server.raw(request.as_bytes()));
    assert!(answers == [404] || answers == [404, 200], "{answers:?}");
}

#[test]
fn the_host_is_given_once_and_the_service_is_no_proxy() {
    let server = Server::start();
    for (request, status) in [
        ("GET / HTTP/1.1\r\n\r\n", 400),
        ("GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n", 400),
        ("GET http://elsewhere.example/health/live HTTP/1.1\r\nHost: a\r\n\r\n", 404),
        ("CONNECT elsewhere.example:443 HTTP/1.1\r\nHost: elsewhere.example:443\r\n\r\n", 405),
    ] {
        assert_eq!(statuses(&server.raw(request.as_bytes())), [status], "{request}");
    }
}

#[test]
fn a_wrong_method_is_told_which_are_right() {
    let server = Server::start();
    for method in ["BREW", "TRACE", "PUT", "DELETE", "get"] {
        let answer = server.ask(method, "/v1/convert", &[("X-Secret", "cinnamon")], b"");
        assert_eq!((answer.status, answer.code().as_str()), (405, "method-not-allowed"), "{method}");
        assert_eq!(answer.header("allow"), Some("GET, HEAD, POST, QUERY, OPTIONS"));
        assert!(!answer.text().contains("cinnamon"));
    }
    assert_eq!(server.post("/v1/units", "{}").header("allow"), Some("GET, HEAD, OPTIONS"));
}

#[test]
fn what_is_not_http_1_gets_400_or_is_closed_and_an_upgrade_is_ignored() {
    let server = Server::start();
    for noise in [
        &b"GET /\r\n\r\n"[..],
        b"GET / HTTP/9.9\r\nHost: a\r\n\r\n",
        b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03",
        &[0; 100],
        b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
    ] {
        let answers = statuses(&server.raw(noise));
        assert!(answers.is_empty() || answers == [400], "{noise:?}");
    }
    for upgrade in [
        "Upgrade: h2c\r\nConnection: Upgrade, HTTP2-Settings\r\nHTTP2-Settings: x",
        "Upgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Key: eA==",
    ] {
        let request = format!("GET /health/live HTTP/1.1\r\nHost: a\r\n{upgrade}\r\n\r\n");
        let mut stream = server.connect();
        stream.write_all(request.as_bytes()).expect("sent");
        assert_eq!(read_reply(&mut BufReader::new(stream), false).map(|answer| answer.status), Some(200));
    }
    assert_eq!(server.get("/health/live").status, 200);
}

#[test]
fn a_header_that_holds_what_no_header_may_is_refused() {
    let server = Server::start();
    for header in ["X: a\0b", "X: a\rb", "X: a\r\n b", "X : a", "X\0: a"] {
        assert_eq!(statuses(&server.raw(format!("GET / HTTP/1.1\r\nHost: a\r\n{header}\r\n\r\n").as_bytes())), [400], "{header:?}");
    }
}

#[test]
fn a_long_address_and_a_large_head_are_refused_at_once() {
    let server = Server::start();
    let begun = Instant::now();
    let long = server.get(&format!("/v1/convert?amount={}", "9".repeat(9000)));
    assert_eq!((long.status, long.code().as_str()), (414, "address-too-long"));
    for head in [
        format!("GET /{} HTTP/1.1\r\nHost: a\r\n\r\n", "a".repeat(70_000)),
        format!("GET / HTTP/1.1\r\nHost: a\r\n{}\r\n", "X: a\r\n".repeat(5000)),
        format!("GET / HTTP/1.1\r\nHost: a\r\nX: {}\r\n\r\n", "a".repeat(1_000_000)),
    ] {
        let answers = statuses(&server.raw(head.as_bytes()));
        assert!(answers.iter().all(|status| [400, 414, 431].contains(status)), "{answers:?}");
    }
    assert!(begun.elapsed().as_millis() < 1000);
}

#[test]
fn what_the_reader_of_http_refuses_is_a_problem_too_and_has_its_line_in_the_log() {
    let server = Server::start();
    for (request, status, code) in [
        ("GARBAGE\r\n\r\n".to_owned(), 400, "bad-request"),
        ("GET /v1/convert?amount=\u{bd}+cup&to=ml HTTP/1.1\r\nHost: a\r\n\r\n".to_owned(), 400, "bad-request"),
        ("GET /v1/convert?amount=3 Tbsp&to=ml HTTP/1.0\r\n\r\n".to_owned(), 400, "bad-request"),
        ("GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n".to_owned(), 400, "bad-request"),
        (format!("GET /{} HTTP/1.1\r\nHost: a\r\n\r\n", "a".repeat(70_000)), 400, "bad-request"),
        (format!("GET / HTTP/1.1\r\nHost: a\r\n{}\r\n", "X: a\r\n".repeat(200)), 431, "head-too-large"),
        (format!("{LIVE}GARBAGE\r\n\r\n"), 400, "bad-request"),
    ] {
        let mut stream = server.connect();
        stream.write_all(request.as_bytes()).expect("sent");
        let mut reader = BufReader::new(stream);
        if request.starts_with(LIVE) {
            assert_eq!(read_reply(&mut reader, false).map(|answer| answer.status), Some(200));
        }
        let answer = read_reply(&mut reader, false).expect("a refusal");
        assert_eq!((answer.status, answer.code().as_str()), (status, code), "{request:.60}");
        assert_eq!(answer.header("connection"), Some("close"));
        let id = answer.header("x-request-id").expect("an id").to_owned();
        assert!(read_reply(&mut reader, false).is_none(), "closed behind it");
        assert!(server.log().iter().any(|line| line.contains(&id) && line.contains(code)), "{request:.60}");
    }
}

#[test]
fn an_address_with_odd_bytes_leads_nowhere_and_into_no_header() {
    let server = Server::start();
    for path in
        ["/%00", "/%zz", "/%c0%af", "/../../etc/passwd", "/v1%2fconvert", "/v1/sources/%0d%0aSet-Cookie:x", "//v1/convert", "/v1/convert/"]
    {
        let answer = server.get(path);
        assert_eq!(answer.status, 404, "{path}");
        assert_eq!(answer.code(), "not-found");
        assert_eq!(answer.header("set-cookie"), None);
    }
    assert_eq!(server.get("/v1/convrt").json()["faults"][0]["try"][0], "/v1/convert");
}

#[test]
fn forty_requests_sent_together_get_forty_answers_in_order() {
    let server = Server::start();
    let mut stream = server.connect();
    let requests: String =
        (0..40).map(|index| if index % 2 == 0 { LIVE.to_owned() } else { LIVE.replace("/health/live", "/nowhere") }).collect();
    stream.write_all(requests.as_bytes()).expect("sent");
    let mut reader = BufReader::new(stream);
    for index in 0..40 {
        let answer = read_reply(&mut reader, false).expect("an answer");
        assert_eq!(answer.status, if index % 2 == 0 { 200 } else { 404 });
    }
}

#[test]
fn a_sender_that_waits_for_leave_gets_it() {
    let server = Server::start();
    let mut stream = server.connect();
    stream.write_all(&post(&format!("Content-Length: {}\r\nExpect: 100-continue\r\n", QUESTION.len()), "")).expect("sent");
    let mut leave = [0; 25];
    stream.read_exact(&mut leave).expect("leave");
    assert_eq!(&leave, b"HTTP/1.1 100 Continue\r\n\r\n");
    stream.write_all(QUESTION.as_bytes()).expect("sent");
    assert_eq!(read_reply(&mut BufReader::new(stream), false).map(|answer| answer.status), Some(200));
}

#[test]
fn head_is_answered_as_get_without_the_body() {
    let server = Server::start();
    for target in ["/v1/convert?amount=3+Tbsp&to=ml", "/v1/units", "/", "/nowhere", "/health/ready"] {
        let (get, head) = (server.get(target), server.ask("HEAD", target, &[], b""));
        assert_eq!((head.status, head.header("content-length")), (get.status, get.header("content-length")), "{target}");
    }
}

#[test]
fn who_closes_his_half_after_asking_is_answered() {
    let server = Server::start();
    let mut stream = server.connect();
    stream.write_all(&post(&format!("Content-Length: {}\r\n", QUESTION.len()), QUESTION)).expect("sent");
    stream.shutdown(Shutdown::Write).expect("half closed");
    let mut answer = String::new();
    stream.read_to_string(&mut answer).expect("an answer");
    assert_eq!(statuses(&answer), [200]);
}
