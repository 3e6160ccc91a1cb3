//! Questions a line each: bad lines in the middle, lines without end, callers that leave or never read.

use std::io::{BufReader, Read, Write};
use std::time::{Duration, Instant};

use serde_json::Value;

use super::{LINES, each, lines};
use crate::server::{Server, read_reply};

const GOOD: &str = r#"{"amount":"3 Tbsp","to":"ml"}"#;

fn codes(answers: &[Value]) -> Vec<(u64, String)> {
    let code = |answer: &Value| answer["problem"]["code"].as_str().unwrap_or("answered").to_owned();
    answers.iter().map(|answer| (answer["line"].as_u64().expect("a line"), code(answer))).collect()
}

#[test]
fn bad_lines_have_their_problems_in_place_and_all_others_are_answered() {
    let server = Server::start();
    let deep = format!("{}{}", "[".repeat(5000), "]".repeat(5000));
    let mut body = format!("\u{feff}{GOOD}\r\n\r\n{{\"amount\":\n  \nNaN\n7\n{deep}\n").into_bytes();
    body.extend_from_slice(b"{\"amount\":\"\xff\",\"to\":\"g\"}\n");
    body.extend_from_slice(format!("{GOOD} {GOOD}\n{{\"amount\":NaN,\"to\":\"g\"}}\n\u{feff}{GOOD}\n{GOOD}").as_bytes());
    let expected = [
        (1, "answered"),
        (3, "not-json"),
        (5, "not-json"),
        (6, "not-an-object"),
        (7, "too-deep"),
        (8, "not-utf-8"),
        (9, "not-json"),
        (10, "not-json"),
        (11, "byte-order-mark"),
        (12, "answered"),
    ]
    .map(|(line, code)| (line, code.to_owned()));
    for target in ["/v1/convert", "/v1/convert?stream=true"] {
        assert_eq!(codes(&each(&lines(&server, target, &body))), expected, "{target}");
    }
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn a_line_of_ten_megabytes_is_told_in_its_place_and_not_kept() {
    let server = Server::start();
    let before = memory(&server);
    let body = [GOOD.as_bytes(), b"\n", &vec![b'x'; 10_000_000], b"\n", GOOD.as_bytes(), b"\n"].concat();
    let answers = each(&lines(&server, "/v1/convert?stream=true&counts=true", &body));
    assert_eq!(codes(&answers[..3]), [(1, "answered"), (2, "too-large"), (3, "answered")].map(|(line, code)| (line, code.to_owned())));
    assert_eq!(answers[1]["problem"]["faults"][0]["found"], "a line of 10000000 bytes");
    assert_eq!(answers[3]["counts"], serde_json::json!({ "lines": 3, "answered": 2, "problems": 1 }));
    let grown = memory(&server) - before;
    assert!(grown < 6.0, "{grown} MB more");
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn nothing_but_blank_lines_has_an_empty_answer_and_counts_when_asked() {
    let server = Server::start();
    assert!(each(&lines(&server, "/v1/convert", b"\n\r\n  \n")).is_empty());
    let counts = each(&lines(&server, "/v1/convert?counts=true", b""));
    assert_eq!(counts[0]["counts"], serde_json::json!({ "lines": 0, "answered": 0, "problems": 0 }));
    let reply = server.ask("POST", "/v1/convert", &[("Content-Type", "application/jsonl; charset=utf-8")], GOOD.as_bytes());
    assert_eq!((each(&reply).len(), reply.header("content-type")), (1, Some("application/jsonl")));
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn more_than_is_held_is_refused_with_the_way_out_and_streamed_without_bound() {
    let server = Server::with(&[("EVENCRUMB_HELD_BYTES", "200000")]);
    let body = format!("{GOOD}\n").repeat(10_000);
    let refused = lines(&server, "/v1/convert", body.as_bytes());
    assert_eq!((refused.status, refused.code().as_str()), (413, "too-large"));
    assert!(refused.json()["detail"].as_str().is_some_and(|detail| detail.contains("pieces of 4 MB") && detail.contains("stream=true")));
    let chunked = format!(
        "POST /v1/convert HTTP/1.1\r\nHost: x\r\nContent-Type: application/x-ndjson\r\nTransfer-Encoding: chunked\r\n\r\n{:x}\r\n{body}\r\n0\r\n\r\n",
        body.len()
    );
    assert!(server.raw(chunked.as_bytes()).starts_with("HTTP/1.1 413"));
    assert_eq!(write_while_reading(&server, "/v1/convert?stream=true", body.as_bytes()).lines().count(), 10_000);
    assert_eq!(server.terminate(), Some(0));
}

/// Sends from one thread and reads in another, as a caller must who wants to stream.
fn write_while_reading(server: &Server, target: &str, body: &[u8]) -> String {
    let stream = server.connect();
    let mut sending = stream.try_clone().expect("the same socket");
    let head = format!("POST {target} HTTP/1.1\r\nHost: x\r\n{}: {}\r\nContent-Length: {}\r\n\r\n", LINES.0, LINES.1, body.len());
    let all = [head.as_bytes(), body].concat();
    let sender = std::thread::spawn(move || drop(sending.write_all(&all)));
    let reply = read_reply(&mut BufReader::new(stream), false).expect("an answer");
    sender.join().expect("all sent");
    reply.text()
}

#[test]
fn who_writes_all_before_reading_gets_its_answer_unless_it_asked_to_stream() {
    let server = Server::start();
    // Twenty megabytes and more come back, while not a byte of it is read before the last question is written.
    let body = format!("{GOOD}{}\n", " ".repeat(400)).repeat(40_000);
    let reply = lines(&server, "/v1/convert", body.as_bytes());
    assert_eq!(reply.body.iter().filter(|byte| **byte == b'\n').count(), 40_000);
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn a_caller_that_leaves_ends_the_work_and_one_that_never_reads_is_held_back() {
    let server = Server::with(&[("EVENCRUMB_BULK", "1"), ("EVENCRUMB_WRITE_SECONDS", "20")]);
    let before = memory(&server);
    let mut never = server.connect();
    never.set_write_timeout(Some(Duration::from_millis(700))).expect("a timeout");
    let head =
        format!("POST /v1/convert?stream=true HTTP/1.1\r\nHost: x\r\n{}: {}\r\nContent-Length: 1000000000\r\n\r\n", LINES.0, LINES.1);
    never.write_all(head.as_bytes()).expect("a head");
    let piece = format!("{GOOD}\n").repeat(2000);
    let mut sent = 0;
    while sent < 500_000_000 && never.write_all(piece.as_bytes()).is_ok() {
        sent += piece.len();
    }
    assert!(sent < 100_000_000, "{sent} bytes were taken while nothing was read");
    assert!(memory(&server) - before < 16.0);
    // There is one place, and who does not read does not keep it.
    for target in ["/v1/convert", "/v1/convert?stream=true"] {
        assert_eq!(lines(&server, target, GOOD.as_bytes()).status, 200, "{target}");
    }
    drop(never);
    let begun = Instant::now();
    let ended = |server: &Server| server.log().iter().any(|line| line.contains("lines answered") && line.contains("\"ended\":false"));
    while !ended(&server) {
        assert!(begun.elapsed() < Duration::from_secs(6), "the log does not tell of the work that ended early");
        std::thread::sleep(Duration::from_millis(50));
    }
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn callers_who_send_slowly_keep_no_place_from_others_and_what_they_hold_is_bounded() {
    let server = Server::with(&[("EVENCRUMB_BULK", "1"), ("EVENCRUMB_HELD_BYTES", "1048576")]);
    let begun = |target: &str, sent: &[u8]| {
        let mut slow = server.connect();
        let head = format!("POST {target} HTTP/1.1\r\nHost: x\r\n{}: {}\r\nContent-Length: 1000000\r\n\r\n", LINES.0, LINES.1);
        slow.write_all(&[head.as_bytes(), sent].concat()).expect("a beginning");
        slow
    };
    let answered =
        || [lines(&server, "/v1/convert", GOOD.as_bytes()).status, lines(&server, "/v1/convert?stream=true", GOOD.as_bytes()).status];
    let slow = ["/v1/convert?stream=true", "/v1/convert", "/v1/ratio-check?stream=true"].map(|target| begun(target, b"{\"amount\""));
    std::thread::sleep(Duration::from_millis(200));
    assert_eq!(answered(), [200, 200], "three callers are slow and there is one place");
    drop(slow);
    // All that may be held at once is held by one who does not come to an end.
    let full = begun("/v1/convert", &vec![b' '; 990_000]);
    std::thread::sleep(Duration::from_millis(300));
    let busy = lines(&server, "/v1/convert", GOOD.as_bytes());
    assert_eq!((busy.status, busy.header("retry-after"), &*busy.code()), (503, Some("1"), "overloaded"));
    assert_eq!(server.get("/v1/convert?amount=3+Tbsp&to=ml").status, 200);
    drop(full);
    let gone = Instant::now();
    while answered() != [200, 200] {
        assert!(gone.elapsed() < Duration::from_secs(6), "the room is not given back");
        std::thread::sleep(Duration::from_millis(50));
    }
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn a_body_that_stops_coming_ends_with_a_problem_as_its_last_line() {
    let server = Server::with(&[("EVENCRUMB_BODY_SECONDS", "1")]);
    let mut stream = server.connect();
    let head = format!("POST /v1/convert?stream=true HTTP/1.1\r\nHost: x\r\n{}: {}\r\nContent-Length: 5000\r\n\r\n", LINES.0, LINES.1);
    stream.write_all(format!("{head}{GOOD}\n{{\"amount\"").as_bytes()).expect("a beginning");
    let mut back = String::new();
    drop(stream.read_to_string(&mut back));
    let last = back.lines().rfind(|line| line.starts_with('{')).expect("a line");
    let last: Value = serde_json::from_str(last).expect("JSON");
    assert_eq!((&last["line"], &last["problem"]["code"]), (&Value::from(2), &Value::from("too-slow")));
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn the_two_lines_in_the_log_of_a_request_with_lines_have_the_same_id() {
    let server = Server::start();
    for target in ["/v1/convert", "/v1/convert?stream=true"] {
        let reply = server.ask("POST", target, &[LINES, ("X-Request-Id", "larkrise-17")], GOOD.as_bytes());
        assert_eq!(reply.header("x-request-id"), Some("larkrise-17"));
        assert_eq!(lines(&server, target, GOOD.as_bytes()).status, 200);
    }
    let log: Vec<Value> = server.log().iter().map(|line| serde_json::from_str(line).expect("JSON")).collect();
    let of = |message: &str| {
        let ids = log.iter().filter(|line| line["message"] == message).map(|line| line["request_id"].as_str().expect("an id").to_owned());
        let mut ids: Vec<_> = ids.collect();
        ids.sort();
        ids
    };
    let (requests, answered) = (of("request"), of("lines answered"));
    assert_eq!((requests.len(), &requests), (4, &answered), "{log:?}");
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn before_http_1_1_lines_come_without_chunks_and_end_with_the_connection() {
    let server = Server::start();
    for target in ["/v1/convert?counts=true", "/v1/convert?stream=true&counts=true"] {
        for more in ["", "Connection: keep-alive\r\n"] {
            let head = format!("POST {target} HTTP/1.0\r\n{}: {}\r\n{more}Content-Length: {}\r\n\r\n", LINES.0, LINES.1, GOOD.len());
            let answer = server.raw(format!("{head}{GOOD}").as_bytes());
            let (head, body) = answer.split_once("\r\n\r\n").expect("a head and a body");
            assert!(head.starts_with("HTTP/1.0 200") && !head.contains("transfer-encoding"), "{head}");
            assert!(body.starts_with("{\"line\":1,") && body.ends_with("\"problems\":0}}\n"), "{body}");
        }
    }
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn an_answer_in_pieces_does_not_wait_for_its_caller_to_acknowledge_the_first() {
    let server = Server::start();
    let stream = server.connect();
    let mut reader = BufReader::new(stream.try_clone().expect("the same connection"));
    let head = format!("POST /v1/convert HTTP/1.1\r\nHost: x\r\n{}: {}\r\nContent-Length: {}\r\n\r\n{GOOD}", LINES.0, LINES.1, GOOD.len());
    let mut took: Vec<Duration> = (0..15)
        .map(|_| {
            let begun = Instant::now();
            (&stream).write_all(head.as_bytes()).expect("sent");
            assert_eq!(read_reply(&mut reader, false).map(|reply| reply.status), Some(200));
            begun.elapsed()
        })
        .collect();
    took.sort();
    // 40 ms is what a caller's system waits before it acknowledges what needs no answer of its own.
    assert!(took[7] < Duration::from_millis(30), "{took:?}");
    assert_eq!(server.terminate(), Some(0));
}

fn memory(server: &Server) -> f64 {
    let status = std::fs::read_to_string(format!("/proc/{}/status", server.process())).expect("its status");
    let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:")).expect("its memory");
    line.trim().split(' ').next().and_then(|kb| kb.parse::<f64>().ok()).expect("kilobytes") / 1024.0
}
