//! Slow and rude clients. The times are shortened by settings; what is tested is that they are kept.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use crate::server::Server;

const SHORT: &[(&str, &str)] =
    &[("EVENCRUMB_HEAD_SECONDS", "1"), ("EVENCRUMB_BODY_SECONDS", "1"), ("EVENCRUMB_IDLE_SECONDS", "1"), ("EVENCRUMB_WRITE_SECONDS", "1")];
const POST: &str = "POST /v1/convert HTTP/1.1\r\nHost: larkrise.example\r\nContent-Type: application/json\r\n";

/// Sends drop by drop until the service closes; gives what came back and how long it took.
fn drip(server: &Server, first: &str, drop_: &[u8]) -> (String, Duration) {
    let mut stream = server.connect();
    let begun = Instant::now();
    stream.write_all(first.as_bytes()).expect("sent");
    stream.set_read_timeout(Some(Duration::from_millis(100))).expect("a timeout");
    let (mut back, mut buffer) = (Vec::new(), [0; 4096]);
    while begun.elapsed() < Duration::from_secs(12) {
        if stream.write_all(drop_).is_err() {
            break;
        }
        match stream.read(&mut buffer) {
            Ok(0) => break,
            Ok(count) => back.extend_from_slice(&buffer[..count]),
            Err(error) if error.kind() == std::io::ErrorKind::WouldBlock => {}
            Err(_) => break,
        }
    }
    (String::from_utf8_lossy(&back).into_owned(), begun.elapsed())
}

#[test]
fn a_head_that_drips_is_cut() {
    let server = Server::with(SHORT);
    let (answer, time) = drip(&server, "GET / HTTP/1.1\r\nX: ", b"y");
    assert!(answer.starts_with("HTTP/1.1 408") && answer.contains("\"code\":\"too-slow\""), "{answer}");
    assert!(time < Duration::from_secs(5), "{time:?}");
}

#[test]
fn a_body_that_drips_gets_408_and_is_closed_whether_it_has_a_length_or_comes_in_chunks() {
    let server = Server::with(SHORT);
    for (head, drop_) in [("Content-Length: 1000\r\n\r\n", &b" "[..]), ("Transfer-Encoding: chunked\r\n\r\n", b"1\r\n \r\n")] {
        let (answer, time) = drip(&server, &format!("{POST}{head}"), drop_);
        assert!(answer.starts_with("HTTP/1.1 408") && answer.contains("too-slow"), "{answer}");
        assert!(time < Duration::from_secs(6), "{time:?}");
    }
}

#[test]
fn a_second_question_whose_body_never_comes_gets_408_whether_it_is_sent_with_the_first_or_while_that_is_answered() {
    let server = Server::with(SHORT);
    let body = r#"{"amount":"1 cup","ingredient":"honey","to":"g"}"#;
    let (length, head) = (body.len(), format!("{POST}Content-Length: 100\r\n\r\n"));
    for begun in ["", "{\"amount\":"] {
        let (answer, time) = drip(&server, &format!("{POST}Content-Length: {length}\r\n\r\n{body}{head}{begun}"), b"");
        let second = answer.find("HTTP/1.1 408").unwrap_or_else(|| panic!("no 408: {answer}"));
        assert!(answer.starts_with("HTTP/1.1 200") && answer[second..].contains("too-slow"), "{answer}");
        assert!(time < Duration::from_secs(6), "{time:?}");
    }
}

#[test]
fn chunks_that_drip_to_where_nobody_reads_them_are_cut_too() {
    let server = Server::with(SHORT);
    for target in ["POST /nowhere", "GET /health/live", "DELETE /v1/convert"] {
        let (answer, time) = drip(&server, &format!("{target} HTTP/1.1\r\nHost: a\r\nTransfer-Encoding: chunked\r\n\r\n"), b"1\r\n \r\n");
        assert!(answer.starts_with("HTTP/1.1 "), "{target}");
        assert!(time < Duration::from_secs(6), "{target} {time:?}");
    }
}

#[test]
fn who_says_nothing_or_nothing_more_is_closed() {
    let server = Server::with(SHORT);
    let begun = Instant::now();
    let silent = server.raw(b"");
    assert!(silent.is_empty() || silent.starts_with("HTTP/1.1 408"), "{silent}");
    let idle = server.raw(b"GET /health/live HTTP/1.1\r\nHost: a\r\n\r\n");
    assert_eq!(idle.matches("HTTP/1.1").count(), 1);
    assert!(begun.elapsed() < Duration::from_secs(6));
}

#[test]
fn a_head_that_is_not_the_first_on_its_connection_is_cut_too_however_little_of_it_comes() {
    const LIVE: &[u8] = b"GET /health/live HTTP/1.1\r\nHost: a\r\n\r\n";
    let server = Server::with(SHORT);
    for (beside, behind) in [(&b""[..], &b"G"[..]), (b"", b"\r\n"), (b"", b"GET / HTTP/1.1\r\nHost: a\r\n"), (b"G", b"")] {
        let mut stream = server.connect();
        stream.write_all(&[LIVE, beside].concat()).expect("sent");
        std::thread::sleep(Duration::from_millis(200));
        stream.write_all(behind).expect("sent");
        let (begun, mut back) = (Instant::now(), String::new());
        stream.read_to_string(&mut back).expect("an answer, and the end");
        assert_eq!(back.matches("HTTP/1.1 200").count(), 1, "{back}");
        assert!(begun.elapsed() < Duration::from_secs(5), "{behind:?}: {:?}", begun.elapsed());
    }
    let (answer, time) = drip(&server, "GET /health/live HTTP/1.1\r\nHost: a\r\n\r\nGET / HTTP/1.1\r\nX: ", b"y");
    assert_eq!(answer.matches("HTTP/1.1").count(), 1, "{answer}");
    assert!(time < Duration::from_secs(5), "{time:?}");
}

#[test]
fn who_pauses_between_the_lines_of_a_stream_is_waited_for_longer_than_for_a_head() {
    let server = Server::with(&[("EVENCRUMB_HEAD_SECONDS", "0.5"), ("EVENCRUMB_IDLE_SECONDS", "0.5")]);
    let mut stream = server.connect();
    let line = "{\"amount\":\"3 Tbsp\",\"to\":\"ml\"}\n";
    let head = "POST /v1/convert?stream=true HTTP/1.1\r\nHost: a\r\nContent-Type: application/x-ndjson\r\n";
    write!(stream, "{head}Content-Length: {}\r\n\r\n{line}", 2 * line.len()).expect("sent");
    std::thread::sleep(Duration::from_secs(2));
    stream.write_all(line.as_bytes()).expect("sent");
    let mut back = String::new();
    stream.read_to_string(&mut back).expect("an answer, and the end");
    assert!(back.contains("{\"line\":2,") && back.ends_with("\r\n0\r\n\r\n"), "{back}");
}

#[test]
fn a_reader_that_takes_nothing_is_cut_and_others_are_served() {
    let server = Server::with(SHORT);
    let mut stream = TcpStream::connect(server.address).expect("a connection");
    stream.set_nonblocking(true).expect("not blocking");
    let requests = "GET /v1/units HTTP/1.1\r\nHost: a\r\n\r\n".repeat(1000);
    let begun = Instant::now();
    let mut sent = 0;
    while begun.elapsed() < Duration::from_secs(5) {
        match stream.write(requests.as_bytes()) {
            Ok(count) => sent += count,
            Err(error) if error.kind() == std::io::ErrorKind::WouldBlock => std::thread::sleep(Duration::from_millis(50)),
            Err(_) => break,
        }
        assert_eq!(server.get("/health/live").status, 200);
    }
    assert!(sent > 0);
    stream.set_nonblocking(false).expect("blocking");
    stream.set_read_timeout(Some(Duration::from_secs(5))).expect("a timeout");
    // What was on the way may still come; then the connection is at its end.
    let mut buffer = vec![0; 1 << 20];
    loop {
        match stream.read(&mut buffer) {
            Ok(0) => break,
            Ok(_) => {}
            Err(error) => {
                assert_ne!(error.kind(), std::io::ErrorKind::WouldBlock, "still open");
                break;
            }
        }
    }
}

#[test]
fn three_hundred_broken_connections_leave_nothing_behind() {
    let server = Server::start();
    let descriptors = || std::fs::read_dir(format!("/proc/{}/fd", server.process())).map_or(0, Iterator::count);
    server.get("/health/live");
    let before = descriptors();
    for index in 0..300 {
        let mut stream = TcpStream::connect(server.address).expect("a connection");
        let request = format!("{POST}Content-Length: 10\r\n\r\n{{}}");
        // Unread bytes make the close a reset.
        drop(stream.write_all(&request.as_bytes()[..index % request.len()]));
    }
    std::thread::sleep(Duration::from_millis(500));
    assert!(descriptors() <= before + 2, "{} after {before}", descriptors());
    assert!(server.log().len() < 320);
}

#[test]
fn six_hundred_idle_connections_keep_nobody_out() {
    let server = Server::start();
    let idle: Vec<_> = (0..600).map(|_| TcpStream::connect(server.address).expect("a connection")).collect();
    let begun = Instant::now();
    assert_eq!(server.get("/v1/convert?amount=3+Tbsp&to=ml").status, 200);
    assert!(begun.elapsed() < Duration::from_secs(1));
    drop(idle);
}

#[test]
fn who_leaves_before_the_answer_leaves_a_line_in_the_log() {
    let server = Server::start();
    let mut stream = server.connect();
    let head = "POST /v1/c%6Fnvert HTTP/1.1\r\nHost: a\r\nX-Request-Id: gone-1\r\nContent-Type: application/json\r\nContent-Length: 48\r\n\r\n{\"a";
    stream.write_all(head.as_bytes()).expect("a head and three bytes");
    std::thread::sleep(Duration::from_millis(200));
    socket2::SockRef::from(&stream).set_linger(Some(Duration::ZERO)).expect("a socket that is reset");
    drop(stream);
    let begun = Instant::now();
    while server.log().is_empty() && begun.elapsed() < Duration::from_secs(5) {
        std::thread::sleep(Duration::from_millis(50));
    }
    let log = server.log();
    let line: serde_json::Value = serde_json::from_str(log.first().expect("a line")).expect("JSON");
    assert_eq!((log.len(), &line["request_id"], &line["route"]), (1, &"gone-1".into(), &"/v1/convert".into()), "{line}");
}
