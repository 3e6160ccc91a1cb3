//! Size and shape of the body; numbers and texts that mean harm.

use std::io::{BufReader, Write};
use std::time::Instant;

use crate::server::{Reply, Server, read_reply};

const TYPE: (&str, &str) = ("Content-Type", "application/json");

fn refused(server: &Server, body: &[u8]) -> Reply {
    let answer = server.ask("POST", "/v1/convert", &[TYPE], body);
    assert!((400..500).contains(&answer.status), "{} for {}", answer.text(), String::from_utf8_lossy(&body[..body.len().min(80)]));
    assert!(answer.body.len() <= 65_536, "an answer of {} bytes", answer.body.len());
    answer
}

#[test]
fn a_body_too_large_is_refused_before_it_is_read_and_the_sender_sees_it() {
    let server = Server::start();
    let large = vec![b' '; 33_000_000];
    let answer = server.ask("POST", "/v1/convert", &[TYPE], &large);
    assert_eq!((answer.status, answer.code().as_str()), (413, "too-large"));
    assert!(answer.text().contains("1048576"));
    let mut stream = server.connect();
    stream
        .write_all(b"POST /v1/convert HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\nContent-Length: 10000000000\r\n\r\n")
        .expect("sent");
    assert_eq!(read_reply(&mut BufReader::new(stream), false).map(|answer| answer.status), Some(413));
    let mut stream = server.connect();
    let chunk = [b"100000\r\n".as_slice(), &vec![b' '; 1 << 20], b"\r\n"].concat();
    drop(stream.write_all(b"POST /v1/convert HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n"));
    (0..3).for_each(|_| drop(stream.write_all(&chunk)));
    assert_eq!(read_reply(&mut BufReader::new(stream), false).map(|answer| answer.status), Some(413));
}

#[test]
fn a_body_that_is_no_json_is_refused_by_line_and_column() {
    let server = Server::start();
    for body in [
        "{\"amount\":",
        "{} x",
        "{}{}",
        "{\"a\":1,}",
        "{/**/}",
        "{'a':1}",
        "{\"a\":0x1}",
        "{\"a\":+1}",
        "{\"a\":.5}",
        "{\"a\":010}",
        "{\"a\":NaN}",
        "{\"a\":Infinity}",
        "{\"a\":-Infinity}",
        "{\"a\":\"\\ud800\"}",
    ] {
        let answer = refused(&server, body.as_bytes());
        assert_eq!((answer.status, answer.code().as_str()), (400, "not-json"), "{body}");
        assert!(answer.json()["detail"].as_str().is_some_and(|detail| detail.contains("line 1, column")), "{}", answer.text());
    }
    for (body, code) in [
        (&b""[..], "body-missing"),
        (b" \n", "body-missing"),
        (b"\xef\xbb\xbf{}", "byte-order-mark"),
        (b"{\"a\":\"\xff\"}", "not-utf-8"),
        (b"{\"a\":\"\xed\xa0\x80\"}", "not-utf-8"),
    ] {
        assert_eq!(refused(&server, body).code(), code);
    }
    for body in ["\"x\"", "5", "null", "true"] {
        assert_eq!(refused(&server, body.as_bytes()).code(), "not-an-object", "{body}");
    }
}

#[test]
fn depth_and_crowds_of_keys_cost_no_time() {
    let server = Server::start();
    let deep = |many: usize| "[".repeat(many);
    let inside = |many: usize| format!("{{\"unknown\":{}", deep(many));
    let objects = |many: usize| "{\"a\":".repeat(many);
    let crowd = |many: usize| {
        let keys: Vec<String> = (0..many).map(|index| format!("\"key{index}\":1")).collect();
        format!("{{{}}}", keys.join(","))
    };
    // In the service's own processor time, the best of a few tries: what else runs on the machine is not what is tested.
    let cost = |body: &str, code: &str| {
        let tries = (0..5).map(|_| {
            let before = server.processor_ns();
            assert_eq!(refused(&server, body.as_bytes()).code(), code);
            server.processor_ns() - before
        });
        tries.min().expect("five tries")
    };
    // The test build is some ten times slower than the one that is shipped.
    let shapes = [
        (&deep as &dyn Fn(usize) -> String, 100_000, "too-deep", 200),
        (&inside, 100_000, "too-deep", 200),
        (&objects, 100_000, "too-deep", 200),
        (&crowd, 60_000, "unknown-field", 2000),
    ];
    for (shape, many, code, milliseconds) in shapes {
        let (half, whole) = (cost(&shape(many / 2), code), cost(&shape(many), code));
        assert!(whole < milliseconds * 1_000_000, "{code} took {whole} ns");
        // Twice as many cost twice as much and not four times.
        assert!(whole < 3 * half + 2_000_000, "{code}: {half} ns, and {whole} ns for twice as many");
    }
    let crowd = crowd(60_000);
    let total = refused(&server, crowd.as_bytes()).json();
    assert_eq!(total["faults"].as_array().map(Vec::len), Some(50));
    assert!(total["total"].as_u64().is_some_and(|total| total >= 60_000));
}

#[test]
fn every_fault_of_a_body_is_told_at_once_with_its_place_and_its_mend() {
    let server = Server::start();
    let nothing = refused(&server, b"{}").json();
    let missing: Vec<_> =
        nothing["faults"].as_array().expect("faults").iter().map(|fault| fault["pointer"].as_str().expect("a pointer")).collect();
    assert!(missing.contains(&"/amount") && missing.contains(&"/to"), "{missing:?}");
    let problem = refused(&server, br#"{"amount":"2 blobs","amuont":1,"to":5,"to":"g","measures":"metrik"}"#);
    assert_eq!(problem.status, 422);
    let problem = problem.json();
    let faults = problem["faults"].as_array().expect("faults");
    let find = |code: &str| faults.iter().find(|fault| fault["code"] == code).unwrap_or_else(|| panic!("no {code} in {problem}"));
    assert_eq!(find("unknown-field")["pointer"], "/amuont");
    assert_eq!(find("unknown-field")["try"][0], "amount");
    assert_eq!(find("repeated-field")["pointer"], "/to");
    assert_eq!(find("wrong-type")["pointer"], "/to");
    assert_eq!(find("unknown-word")["try"][0], "metric");
    assert_eq!(find("unknown-unit")["pointer"], "/amount");
    let cut_short = refused(&server, br#"{"amount":"2 cups","to":"ml","measures":"AU"}"#).json();
    assert_eq!(cut_short["faults"][0]["try"], serde_json::json!(["australia"]));
    assert_eq!(problem["total"], faults.len());
    assert_eq!(server.get(problem["type"].as_str().expect("a type")).status, 200);
}

#[test]
fn what_is_missing_is_told_by_what_belongs_there() {
    let server = Server::start();
    let told = |path: &str, body: &str| {
        let answer = server.ask("POST", path, &[TYPE], body.as_bytes()).json();
        let faults = answer["faults"].as_array().cloned().unwrap_or_default();
        faults.iter().map(|fault| format!("{}: {}", fault["pointer"], fault["accepted"]).replace(['"', '\\'], "")).collect::<Vec<_>>()
    };
    let formula =
        r#"{"parts":[{"name":"dough","lines":[{"ingredient":"bread flour","amount":"500 g"},{"ingredient":"water","amount":"300 g"}]}]}"#;
    assert_eq!(
        told("/v1/dough", &format!(r#"{{"formula":{formula},"temperature":{{"room":"22 C","flour":"20 C","friction":"6 C"}}}}"#)),
        ["/temperature/desired: a temperature such as 24 °C or 75 F"]
    );
    let steps = told("/v1/adapt", &format!(r#"{{"formula":{formula}}}"#));
    assert!(steps[0].starts_with("/steps: a list in brackets, each item an object in braces with fields such as"), "{steps:?}");
    let lines = told("/v1/ratio-check", r#"{"formula":{"parts":[{"name":"dough","lines":"500 g bread flour"}]}}"#);
    assert_eq!(lines.len(), 1, "{lines:?}");
    assert!(lines[0].contains("ingredient, amount"), "{lines:?}");
}

#[test]
fn only_plain_json_in_utf_8_is_taken() {
    let server = Server::start();
    for header in [
        ("Content-Type", "text/plain"),
        ("Content-Type", "application/json; charset=utf-16"),
        ("Content-Type", "multipart/form-data"),
        ("X-None", "1"),
    ] {
        let answer = server.ask("POST", "/v1/convert", &[header], b"{}");
        assert_eq!((answer.status, answer.code().as_str()), (415, "unsupported-media-type"), "{header:?}");
        assert!(answer.text().contains("application/json"));
    }
    for coding in ["gzip", "deflate", "br", "gzip, gzip", "nonsense"] {
        let answer = server.ask("POST", "/v1/convert", &[TYPE, ("Content-Encoding", coding)], b"\x1f\x8b\x08");
        assert_eq!(answer.status, 415, "{coding}");
    }
    let good = r#"{"amount":"3 Tbsp","to":"ml"}"#;
    assert_eq!(server.ask("POST", "/v1/convert", &[("Content-Type", "application/json; charset=UTF-8")], good.as_bytes()).status, 200);
}

#[test]
fn numbers_beyond_any_kitchen_never_become_an_answer() {
    let server = Server::start();
    for number in ["1e309", "1e999999999", "-1e309", "1e308", "5e-324", "2.2e-308", &"9".repeat(200_000)] {
        let begun = Instant::now();
        let answer = refused(&server, format!(r#"{{"amount":{{"value":{number},"unit":"g"}},"to":"kg"}}"#).as_bytes());
        assert_eq!(answer.status, 422, "{}", answer.text());
        assert!(begun.elapsed().as_millis() < 200);
    }
    for wrong in ["true", "null", "[]", "{}", "\"1.5\"", "\"1,5\"", "\"NaN\"", "\"1.000,5\""] {
        let answer = refused(&server, format!(r#"{{"amount":{{"value":{wrong},"unit":"g"}},"to":"kg"}}"#).as_bytes());
        assert_eq!(answer.json()["faults"][0]["pointer"], "/amount/value", "{wrong}");
    }
}

#[test]
fn a_negative_mass_and_a_cold_below_all_cold_are_refused_and_a_freezer_is_not() {
    let server = Server::start();
    for (amount, to) in [("-5 g", "kg"), ("-300 C", "F"), ("-500 F", "C")] {
        let answer = refused(&server, serde_json::json!({"amount": amount, "to": to}).to_string().as_bytes());
        assert_eq!((answer.status, answer.json()["faults"][0]["pointer"].as_str()), (422, Some("/amount")), "{}", answer.text());
    }
    let nothing = server.post("/v1/convert", r#"{"amount":{"value":-0.0,"unit":"C"},"to":"F"}"#);
    assert!(nothing.status == 200 && !nothing.text().contains("-0"), "{}", nothing.text());
    let freezer = server.post("/v1/convert", r#"{"amount":"-18 C","to":"F"}"#);
    assert_eq!(freezer.status, 200, "{}", freezer.text());
}

#[test]
fn one_amount_in_many_spellings_has_one_meaning() {
    let server = Server::start();
    let plain = server.post("/v1/convert", r#"{"amount":"1.5 cups","to":"ml"}"#).json()["result"].clone();
    for spelling in ["1½ cups", "1 1/2 cups", "1 1⁄2 cups", "1 ½ cups", "1.5 CUPS"] {
        let answer = server.post("/v1/convert", &serde_json::json!({"amount": spelling, "to": "ml"}).to_string());
        assert_eq!(answer.json()["result"], plain, "{spelling}");
    }
    for odd in ["１ cup", "١ cup", "Ⅰ cup"] {
        let answer = server.post("/v1/convert", &serde_json::json!({"amount": odd, "to": "ml"}).to_string());
        assert!(answer.status == 422 || answer.json()["result"]["value"] == serde_json::json!(236.5882365), "{odd}: {}", answer.text());
    }
}

#[test]
fn texts_that_mean_harm_stay_texts() {
    let server = Server::start();
    let long = "x".repeat(100_000);
    let patterns = ["1/".repeat(60_000), "(".repeat(60_000), "1 1/2 ".repeat(60_000)];
    let texts = [
        "2 gr\u{430}m",
        "2 \u{202e}g",
        "2 g\u{200b}",
        "2 \u{e0067}",
        "2 Z\u{335}a\u{334}l",
        "2 ı",
        "2 ß",
        "2 ﬁ",
        "2 <script>alert(1)</script>",
        "2 ${jndi:ldap://x}",
        "2 %s%n",
        "2 \u{0}",
        "2 \u{1b}[31m",
        "2 \r\nX: y",
    ];
    for text in texts.into_iter().chain(patterns.iter().map(String::as_str)).chain([long.as_str()]) {
        let begun = Instant::now();
        let answer = server.post("/v1/convert", &serde_json::json!({"amount": text, "to": "ml"}).to_string());
        assert_eq!(answer.status, 422, "{}", answer.text());
        assert!(answer.body.len() <= 8192);
        assert_eq!(answer.header("x-content-type-options"), Some("nosniff"));
        assert_eq!(answer.header("x"), None);
        assert!(begun.elapsed().as_millis() < 300);
    }
    assert_eq!(refused(&server, serde_json::json!({"amount": long, "to": "ml"}).to_string().as_bytes()).code(), "text-too-long");
    // Every line of the log is one JSON object: looked at when the server is dropped.
}

#[test]
fn a_strange_accept_is_answered_or_refused_as_a_problem() {
    let server = Server::start();
    let target = "/v1/convert?amount=3+Tbsp&to=ml";
    for (accept, status) in [
        (",".repeat(3000), 406),
        ("*/*;q=NaN".into(), 200),
        ("application/*;q=0.1, */*;q=0".into(), 200),
        ("image/png".into(), 406),
        ("text/plain".into(), 200),
    ] {
        assert_eq!(server.ask("GET", target, &[("Accept", &accept)], b"").status, status, "{accept:.40}");
    }
    let cell = server.ask("GET", &format!("{target}&format=text"), &[("Accept", "application/json")], b"");
    assert_eq!(cell.header("content-type"), Some("text/plain; charset=utf-8"));
    assert!(cell.text().parse::<f64>().is_ok(), "{}", cell.text());
}
