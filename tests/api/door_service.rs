//! The service as an operator, a browser and a cache see it: signals, headers, tables, limits.

use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::server::Server;

#[test]
fn a_collector_finds_every_request_counted_once_and_few_series_whatever_was_asked() {
    let server = Server::with(&[("EVENCRUMB_WORKERS", "3")]);
    let odd: Vec<String> = (0..60).map(|at| format!("/odd/{at}?x={at}")).collect();
    odd.iter().for_each(|target| assert_eq!(server.get(target).status, 404));
    for method in ["GET", "BREW", "PUT"] {
        server.ask(method, "/v1/convert?amount=3+Tbsp&to=ml", &[], b"");
    }
    assert!(server.raw(b"GARBAGE\r\n\r\n").contains("400"));
    let told = server.get("/metrics");
    assert_eq!(told.header("content-type"), Some("application/openmetrics-text; version=1.0.0; charset=utf-8"));
    let text = told.text();
    for line in [
        "http_server_request_duration_seconds_count{http_route=\"none\",http_response_status_code=\"404\"} 60",
        "http_server_request_duration_seconds_count{http_route=\"none\",http_response_status_code=\"400\"} 1",
        "http_server_request_duration_seconds_count{http_route=\"/v1/convert\",http_response_status_code=\"200\"} 1",
        "http_server_request_duration_seconds_count{http_route=\"/v1/convert\",http_response_status_code=\"405\"} 2",
        "http_server_request_duration_seconds_bucket{le=\"+Inf\",http_route=\"none\",http_response_status_code=\"404\"} 60",
        "evencrumb_questions_in_work 0",
        "evencrumb_bulk_places_free 8",
        "evencrumb_bulk_room_free_bytes 270532608",
        "evencrumb_ready 1",
    ] {
        assert!(text.lines().any(|known| known == line), "{line} is not in {text}");
    }
    assert!(text.contains(&format!("tables=\"{}\"", server.get("/").json()["tables_version"].as_str().expect("a version"))));
    assert!(text.lines().filter(|line| !line.starts_with('#')).count() < 60, "{text}");
    assert!(text.ends_with("# EOF\n"), "{text}");
    assert_eq!(server.get("/").json()["metrics"], "/metrics");
    assert_eq!(server.get("/metrics?of=all").code(), "unknown-field");
}

#[test]
fn told_to_stop_it_is_not_ready_first_then_finishes_and_leaves_with_0() {
    let mut server = Server::with(&[("EVENCRUMB_PAUSE_SECONDS", "1")]);
    assert_eq!(server.get("/health/ready").status, 200);
    server.signal("HUP");
    server.signal("TERM");
    std::thread::sleep(Duration::from_millis(200));
    let ready = server.get("/health/ready");
    assert_eq!((ready.status, ready.header("retry-after")), (503, Some("1")));
    assert_eq!(server.get("/health/live").status, 200);
    assert_eq!(server.get("/v1/convert?amount=3+Tbsp&to=ml").status, 200);
    assert_eq!(server.wait(Duration::from_secs(8)), Some(0));
}

#[test]
fn a_second_signal_ends_at_once_and_interrupt_is_heard_too() {
    let mut server = Server::with(&[("EVENCRUMB_PAUSE_SECONDS", "30")]);
    server.signal("TERM");
    std::thread::sleep(Duration::from_millis(100));
    server.signal("TERM");
    server.wait(Duration::from_secs(1));
    let mut server = Server::start();
    server.signal("INT");
    assert_eq!(server.wait(Duration::from_secs(5)), Some(0));
}

#[test]
fn told_to_stop_under_load_no_answer_is_lost() {
    let mut server = Server::with(&[("EVENCRUMB_PAUSE_SECONDS", "1")]);
    let address = server.address;
    let asking: Vec<_> = (0..8)
        .map(|_| {
            std::thread::spawn(move || {
                let begun = Instant::now();
                let mut answered = 0;
                while begun.elapsed() < Duration::from_millis(800) {
                    use std::io::{Read, Write};
                    let mut stream = std::net::TcpStream::connect(address).expect("still listening");
                    stream
                        .write_all(b"GET /v1/convert?amount=3+Tbsp&to=ml HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n")
                        .expect("sent");
                    let mut answer = String::new();
                    stream.read_to_string(&mut answer).expect("an answer");
                    assert!(answer.starts_with("HTTP/1.1 200"), "{answer}");
                    answered += 1;
                }
                answered
            })
        })
        .collect();
    std::thread::sleep(Duration::from_millis(200));
    server.signal("TERM");
    for asker in asking {
        assert!(asker.join().expect("no answer lost") > 0);
    }
    assert_eq!(server.wait(Duration::from_secs(8)), Some(0));
}

#[test]
fn it_runs_with_few_descriptors_and_recovers_when_they_run_out() {
    let mut command = Command::new("sh");
    command.args(["-c", "ulimit -n 40; exec \"$0\"", env!("CARGO_BIN_EXE_evencrumb")]);
    let server = Server::of(command, &[]);
    let crowd: Vec<_> = (0..60).map(|_| std::net::TcpStream::connect(server.address).expect("queued")).collect();
    std::thread::sleep(Duration::from_millis(300));
    let ticks = || {
        let stat = std::fs::read_to_string(format!("/proc/{}/stat", server.process())).expect("its times");
        stat.split(' ').skip(13).take(2).filter_map(|field| field.parse::<u64>().ok()).sum::<u64>()
    };
    let before = ticks();
    std::thread::sleep(Duration::from_secs(1));
    assert!(ticks() - before < 40, "it spins");
    drop(crowd);
    assert_eq!(server.get("/health/live").status, 200);
}

#[test]
fn it_runs_with_nothing_of_its_own_around_it() {
    let mut command = Command::new(env!("CARGO_BIN_EXE_evencrumb"));
    command.env_clear().current_dir("/");
    assert_eq!(Server::of(command, &[]).get("/health/live").status, 200);
}

/// The first line of a service whose log nobody reads, and what its log goes into.
fn unread() -> (std::process::Child, std::net::SocketAddr, std::process::ChildStdout) {
    use std::io::Read;
    let mut child = Command::new(env!("CARGO_BIN_EXE_evencrumb"))
        .env("EVENCRUMB_ADDRESS", "127.0.0.1:0")
        .stdout(Stdio::piped())
        .spawn()
        .expect("it starts");
    let mut out = child.stdout.take().expect("its output");
    let mut line = Vec::new();
    while line.last() != Some(&b'\n') {
        let mut byte = [0];
        out.read_exact(&mut byte).expect("a line");
        line.push(byte[0]);
    }
    let address = String::from_utf8_lossy(&line).trim().rsplit('/').next().and_then(|at| at.parse().ok()).expect("an address");
    (child, address, out)
}

#[test]
fn a_log_reader_that_leaves_or_stalls_costs_no_answer() {
    use std::io::{BufReader, Write};
    for leaves in [true, false] {
        let (mut child, address, out) = unread();
        let kept = (!leaves).then_some(out);
        let mut stream = std::net::TcpStream::connect(address).expect("a connection");
        stream.set_read_timeout(Some(Duration::from_secs(10))).expect("a timeout");
        let mut reader = BufReader::new(stream.try_clone().expect("the other half"));
        // More lines than the pipe and our own store hold together.
        for _ in 0..90 {
            stream.write_all("GET /health/live HTTP/1.1\r\nHost: a\r\n\r\n".repeat(100).as_bytes()).expect("sent");
            for _ in 0..100 {
                assert_eq!(crate::server::read_reply(&mut reader, false).map(|answer| answer.status), Some(200));
            }
        }
        drop(Command::new("kill").args(["-TERM", &child.id().to_string()]).status());
        assert_eq!(child.wait().expect("a status").code(), Some(0));
        drop(kept);
    }
}

#[test]
fn a_hundred_and_twenty_eight_askers_get_the_same_bytes_or_are_sent_away_politely() {
    let server = Server::start();
    let target = "/v1/convert?amount=3+Tbsp&to=ml";
    let right = server.get(target).body;
    std::thread::scope(|scope| {
        for _ in 0..128 {
            scope.spawn(|| {
                for _ in 0..5 {
                    let answer = server.get(target);
                    assert!(
                        answer.status == 200 && answer.body == right || answer.status == 503 && answer.header("retry-after").is_some(),
                        "{}",
                        answer.text()
                    );
                }
            });
        }
    });
}

#[test]
fn no_page_of_another_origin_is_granted_anything_unless_it_is_set() {
    let origin = [("Origin", "https://bakery.example"), ("Access-Control-Request-Method", "POST")];
    let server = Server::start();
    for origin in [&origin[..], &[("Origin", "null"), ("Access-Control-Request-Method", "DELETE")]] {
        let preflight = server.ask("OPTIONS", "/v1/convert", origin, b"");
        assert_eq!(preflight.status, 204);
        assert!(!preflight.head.to_lowercase().contains("access-control"), "{}", preflight.head);
        assert!(preflight.header("vary").is_some_and(|vary| vary.contains("Origin")));
    }
    let open = Server::with(&[("EVENCRUMB_CORS_ORIGINS", "https://bakery.example,https://other.example")]);
    let preflight = open.ask("OPTIONS", "/v1/convert", &origin, b"");
    assert_eq!(preflight.header("access-control-allow-origin"), Some("https://bakery.example"));
    assert_eq!(preflight.header("access-control-allow-credentials"), None);
    assert!(preflight.header("access-control-allow-methods").is_some_and(|methods| methods.contains("QUERY")));
    assert_eq!(open.ask("OPTIONS", "/v1/convert", &[("Origin", "https://evil.example")], b"").header("access-control-allow-origin"), None);
}

#[test]
fn spoofed_hosts_and_unclean_request_ids_go_nowhere() {
    let server = Server::start();
    let spoofed = [("X-Forwarded-Host", "evil.example"), ("Forwarded", "host=evil.example"), ("X-Forwarded-Proto", "gopher")];
    for target in ["/", "/v1/units", "/nowhere"] {
        let answer = server.ask("GET", target, &spoofed, b"");
        assert!(!answer.text().contains("evil.example") && !answer.head.contains("evil.example"), "{target}");
    }
    assert_eq!(server.ask("GET", "/", &[("X-Request-Id", "order-17_b.2")], b"").header("x-request-id"), Some("order-17_b.2"));
    let long = "x".repeat(7000);
    for unclean in ["<b>", "a%0d%0ab", "a b", long.as_str()] {
        let answer = server.ask("GET", "/", &[("X-Request-Id", unclean), ("traceparent", "nonsense")], b"");
        let id = answer.header("x-request-id").expect("an id");
        assert!(id != unclean && id.len() <= 128 && id.bytes().all(|b| b.is_ascii_alphanumeric()), "{id}");
    }
}

#[test]
fn what_a_row_names_is_found_in_the_table_that_has_it() {
    let server = Server::start();
    let rows = |table: &str| server.get(&format!("/v1/{table}")).json()[table].as_array().cloned().expect("rows");
    let ids = |table: &str| rows(table).iter().map(|row| row["id"].clone()).collect::<Vec<_>>();
    let (ingredients, cautions, sources) = (ids("ingredients"), ids("cautions"), ids("sources"));
    assert!(rows("cautions").iter().all(|caution| sources.contains(&caution["source"])));
    for swap in rows("swaps") {
        assert!(ingredients.contains(&swap["replaces"]), "{swap}");
        for component in swap["components"].as_array().expect("components") {
            assert!(ingredients.contains(&component["ingredient"]) && sources.contains(&component["source"]), "{swap}");
        }
    }
    let egg = server.get("/v1/ingredients/egg").json();
    assert!(egg["cautions"].as_array().is_some_and(|named| !named.is_empty() && named.iter().all(|id| cautions.contains(id))), "{egg}");
}

#[test]
fn tables_are_cached_and_problems_are_not() {
    let server = Server::start();
    for target in ["/v1/units", "/v1/swaps", "/v1/cautions", "/v1/sources", "/v1/sources/practice", "/v1/problems", "/v1/problems/not-json"]
    {
        let answer = server.get(target);
        assert_eq!(answer.status, 200, "{target}");
        assert!(answer.header("cache-control").is_some_and(|cache| cache.starts_with("public, max-age=")));
        assert_eq!(answer.header("link"), Some("</openapi.json>; rel=\"service-desc\""));
        let etag = answer.header("etag").expect("an ETag").to_owned();
        let again = server.ask("GET", target, &[("If-None-Match", &format!("\"other\", {etag}"))], b"");
        assert_eq!((again.status, again.body.len(), again.header("etag")), (304, 0, Some(etag.as_str())));
        for nonsense in [("If-None-Match", "\u{7f}\"\"W/,,"), ("If-Modified-Since", "yesterday"), ("Range", "bytes=9-1,x")] {
            assert!(server.ask("GET", target, &[nonsense], b"").status < 500, "{nonsense:?}");
        }
    }
    assert_eq!(server.get("/v1/sources/practise").json()["faults"][0]["try"][0], "practice");
    assert_eq!(server.get("/v1/units?colour=red").status, 422);
    assert_eq!(server.get("/v1/problems/not-jsn").code(), "not-found");
    assert_eq!(server.post("/v1/convert", r#"{"amount":"3 Tbsp","to":"ml"}"#).header("etag"), None);
}

#[test]
fn tables_of_another_version_are_refused_by_name() {
    let server = Server::start();
    let target = "/v1/convert?amount=3+Tbsp&to=ml";
    let version = server.get(target).json()["tables"].as_str().expect("a version").to_owned();
    assert_eq!(server.get(&format!("{target}&tables={version}")).status, 200);
    let refused = server.get(&format!("{target}&tables=000000000000"));
    assert_eq!((refused.status, refused.code().as_str()), (422, "tables-changed"));
    assert_eq!(refused.json()["faults"][0]["try"][0], version.as_str());
}

#[test]
fn parameters_of_the_door_are_strict_too() {
    let server = Server::start();
    for (target, code) in [
        ("/v1/convert?amount=3+Tbsp&to=ml&explain=yes", "unknown-word"),
        ("/v1/convert?amount=3+Tbsp&to=ml&to=g", "repeated-field"),
        ("/v1/convert?amount=3+Tbsp&to=", "missing-field"),
        ("/v1/convert?amount=3+Tbsp&to=ml&x=1", "unknown-field"),
        ("/v1/convert?amount=%ff&to=ml", "not-utf-8"),
        ("/v1/convert?amount=%zz&to=ml", "bad-request"),
        ("/v1/convert?amount=3+Tbsp&to=ml&format=xml", "not-acceptable"),
        ("/v1/limits?of=body", "unknown-field"),
        ("/v1/problems?of=body", "unknown-field"),
    ] {
        assert_eq!(server.get(target).code(), code, "{target}");
    }
    let posted = server.post("/v1/convert?explian=true", r#"{"amount":"3 Tbsp","to":"ml"}"#);
    assert_eq!((posted.code().as_str(), posted.json()["faults"][0]["try"][0].as_str()), ("unknown-field", Some("explain")));
    assert!(server.get("/v1/convert?amount=3+Tbsp&to=ml&explain=true").json()["working"].is_array());
}

#[test]
fn the_limits_told_are_the_limits_kept() {
    let server = Server::with(&[("EVENCRUMB_BODY_BYTES", "2048")]);
    let limits = server.get("/v1/limits").json();
    let value = |name: &str| {
        limits["limits"]
            .as_array()
            .and_then(|all| all.iter().find(|limit| limit["name"] == name))
            .and_then(|limit| limit["value"].as_f64())
            .unwrap_or_else(|| panic!("no limit {name}")) as usize
    };
    assert_eq!(value("body"), 2048);
    let question = |blanks: usize| format!("{}{}", r#"{"amount":"3 Tbsp","to":"ml"}"#, " ".repeat(blanks - 29));
    assert_eq!(server.post("/v1/convert", &question(2048)).status, 200);
    let refused = server.post("/v1/convert", &question(2049));
    assert!(refused.status == 413 && refused.text().contains("2048"));
    let text = value("text");
    let long = server.post("/v1/convert", &serde_json::json!({"amount": "x".repeat(text + 1), "to": "ml"}).to_string());
    assert!(long.code() == "text-too-long" && long.text().contains(&text.to_string()));
    let depth = value("depth");
    let nested = |levels: usize| format!("{{\"amount\":{}{}}}", "[".repeat(levels - 1), "]".repeat(levels - 1));
    assert_ne!(server.post("/v1/convert", &nested(depth)).code(), "too-deep");
    let deep = server.post("/v1/convert", &nested(depth + 1));
    assert!(deep.code() == "too-deep" && deep.text().contains(&depth.to_string()));
    let address = value("address");
    let target = |length: usize| format!("/v1/units?{}", "a".repeat(length - "/v1/units?".len()));
    assert_ne!(server.get(&target(address)).status, 414);
    assert_eq!(server.get(&target(address + 1)).status, 414);
}

#[test]
fn the_index_leads_everywhere_and_names_no_library() {
    let server = Server::start();
    let index = server.get("/");
    let json = index.json();
    for link in ["limits", "problems"].map(|name| json[name].as_str().expect("a link").to_owned()) {
        assert_eq!(server.get(&link).status, 200, "{link}");
    }
    for table in json["tables"].as_array().expect("tables") {
        assert_eq!(server.get(table.as_str().expect("a path")).status, 200, "{table}");
    }
    assert_eq!(server.ask("GET", "/", &[("Accept", "text/html,application/xhtml+xml,*/*;q=0.8")], b"").header("location"), Some("docs"));
    for answer in [index, server.get("/nowhere"), server.post("/v1/convert", "{"), server.ask("BREW", "/", &[], b"")] {
        for word in ["actix", "serde", "rust", "tokio", "src/"] {
            assert!(!answer.text().to_lowercase().contains(word) && !answer.head.to_lowercase().contains(word), "{word}");
        }
    }
}

#[test]
fn one_line_is_logged_a_request_and_never_what_was_asked() {
    let server = Server::start();
    server.post("/v1/convert", r#"{"amount":"3 secretspoons","to":"ml"}"#);
    server.ask("BREW", "/private-path-of-a-customer", &[("X-Request-Id", "order-9")], b"");
    let log = server.log();
    assert_eq!(log.len(), 2, "{log:?}");
    let lines: Vec<serde_json::Value> = log.iter().map(|line| serde_json::from_str(line).expect("JSON")).collect();
    assert_eq!(
        (&lines[0]["method"], &lines[0]["route"], &lines[0]["status"], &lines[0]["code"]),
        (&"POST".into(), &"/v1/convert".into(), &422.into(), &"unknown-unit".into())
    );
    assert_eq!((&lines[1]["method"], &lines[1]["route"], &lines[1]["request_id"]), (&"other".into(), &"none".into(), &"order-9".into()));
    assert!(!log.concat().contains("secret") && !log.concat().contains("private"));
}

#[test]
fn ingredients_are_found_by_a_word_of_their_names_or_by_their_likeness() {
    let server = Server::start();
    let found = |query: &str| {
        let rows = server.get(&format!("/v1/ingredients?q={query}")).json()["ingredients"].as_array().cloned().unwrap_or_default();
        rows.iter().filter_map(|row| row["id"].as_str().map(str::to_owned)).collect::<Vec<_>>()
    };
    assert!(found("Bread+FLOUR").contains(&"bread-flour".to_owned()), "{:?}", found("Bread+FLOUR"));
    assert!(found("caster").len() < 10 && !found("caster").is_empty());
    assert!(!found("buttermlik").is_empty());
    assert!(found("gravel+and+sand").is_empty());
    assert_eq!(server.get("/v1/units?q=cup").code(), "unknown-field");
}

#[test]
fn a_search_has_an_etag_of_its_own_and_an_end_to_its_words() {
    let server = Server::start();
    let tag = |target: &str| server.get(target).header("etag").map(str::to_owned);
    let [whole, honey, rye] = ["/v1/ingredients", "/v1/ingredients?q=honey", "/v1/ingredients?q=rye"].map(tag);
    assert!(whole != honey && honey != rye && rye.is_some());
    assert_eq!(server.get(&format!("/v1/ingredients?q={}", "r".repeat(201))).code(), "text-too-long");
}
