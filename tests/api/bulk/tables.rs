//! Tables of questions, as spreadsheets write and read them; and one question by address, as a row or as known already.

use std::time::Instant;

use evencrumb::calculation::CALCULATIONS;

use crate::openapi::worked;
use crate::server::{Reply, Server};

const CSV: (&str, &str) = ("Content-Type", "text/csv");

fn table(server: &Server, target: &str, body: &[u8]) -> Reply {
    server.ask("POST", target, &[CSV], body)
}

/// Rows as an independent reader of RFC 4180 has them, by the names of their columns.
fn rows(reply: &Reply, separator: u8) -> Vec<std::collections::HashMap<String, String>> {
    assert_eq!(reply.status, 200, "{}", reply.text());
    assert!(reply.text().ends_with("\r\n"));
    let mut reader = csv::ReaderBuilder::new().delimiter(separator).from_reader(&reply.body[..]);
    reader.deserialize().collect::<Result<_, _>>().expect("a table whose rows are all of one width")
}

#[test]
fn every_flat_example_has_the_same_figures_in_a_table() {
    let server = Server::start();
    let mut compared = 0;
    for entry in CALCULATIONS.iter().filter(|entry| entry.flat) {
        for example in
            worked(entry.name).iter().filter(|example| example.request.as_object().is_some_and(|o| o.values().all(|v| v.is_string())))
        {
            let fields: Vec<_> = example.request.as_object().expect("an object").iter().collect();
            let mut writer = csv::Writer::from_writer(Vec::new());
            writer.write_record(fields.iter().map(|(name, _)| name.as_str())).expect("a heading");
            writer.write_record(fields.iter().map(|(_, value)| value.as_str().expect("a text"))).expect("a row");
            let reply = table(&server, entry.path(), &writer.into_inner().expect("a table"));
            assert_eq!(reply.header("content-type"), Some("text/csv; charset=utf-8; header=present"));
            let row = &rows(&reply, b',')[0];
            if example.status == 200 {
                assert_eq!(row["summary"], example.answer["summary"].as_str().expect("a summary"), "{} {}", entry.name, example.name);
                for part in ["value", "low", "high"] {
                    let told = row.get(&format!("result_{part}")).and_then(|figure| figure.parse::<f64>().ok());
                    assert_eq!(told, example.answer["result"][part].as_f64(), "{} {} {part}", entry.name, example.name);
                }
                assert_eq!(row["problem"], "");
            } else {
                assert_eq!(row["problem"], example.answer["code"].as_str().expect("a code"));
                assert_eq!(row["detail"], example.answer["detail"].as_str().expect("a detail"));
            }
            compared += 1;
        }
    }
    assert!(compared >= 4, "only {compared} were compared");
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn what_a_spreadsheet_would_run_is_made_harmless_and_blanks_stay_blank() {
    let server = Server::start();
    let body = "\u{feff}id,amount,ingredient,to,\r\n=1+1,1 cup,honey,g,\r\n,,,,\r\n\r\n-5,-40 F,,C,\"@SUM(A1)\"\r\n+x,\"1 cup\",\"say \"\"when\"\", =HYPERLINK()\",g,\"a\r\nb\"\r\n\tq,1 cup,,ml,";
    let safe = table(&server, "/v1/convert", body.as_bytes());
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(&safe.body[..]);
    let cells: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().expect("a table");
    let column = |at: usize| -> Vec<&str> { cells.iter().skip(1).map(|row| &row[at]).collect() };
    assert_eq!(column(0), ["'=1+1", "", "", "-5", "'+x", "'\tq"]);
    assert_eq!(column(4), ["", "", "", "'@SUM(A1)", "a\r\nb", ""]);
    assert!(cells[2].iter().chain(cells[3].iter()).all(str::is_empty));
    assert_eq!((&cells[4][1], &cells[4][5]), ("'-40 F", "-40"));
    let unsafe_ = table(&server, "/v1/convert?safe=false", body.as_bytes());
    assert!(unsafe_.text().contains("\n=1+1,"));
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn bad_rows_have_their_problems_beside_them() {
    let server = Server::start();
    let body = [
        &b"amount;to\n1 cup;ml\n2 blobs;ml\n"[..],
        b"1,5 cup;ml\n",
        b"\xff;ml\n1 cup;ml;too;many\n",
        &vec![b'x'; 70_000],
        b";ml\n1 cup;ml\n\"never closed;ml\n",
    ]
    .concat();
    let told: Vec<_> = rows(&table(&server, "/v1/convert?separator=%3B", &body), b';').iter().map(|row| row["problem"].clone()).collect();
    assert_eq!(told, ["", "unknown-unit", "", "not-utf-8", "bad-request", "too-large", "", "bad-request"]);
    for (heading, code) in
        [("amuont,to", "unknown-field"), ("to,to", "repeated-field"), ("amount;to", "unknown-field"), ("", "body-missing")]
    {
        let reply = table(&server, "/v1/convert", heading.as_bytes());
        assert_eq!(reply.code(), code, "{heading}");
    }
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn five_thousand_rows_come_back_in_one_call() {
    let server = Server::start();
    let rows_of = |count: usize| format!("amount,to\n{}", "3 Tbsp,ml\n".repeat(count));
    let begun = Instant::now();
    let reply = table(&server, "/v1/convert", rows_of(5000).as_bytes());
    assert_eq!(reply.text().lines().count(), 5001);
    assert!(begun.elapsed().as_secs_f64() < 5.0 && reply.body.len() < 5_000_000);
    let too_many = table(&server, "/v1/convert", rows_of(10_001).as_bytes());
    assert_eq!((too_many.status, too_many.code().as_str()), (422, "too-many"));
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn one_question_by_address_is_a_row_and_is_known_again_without_being_computed() {
    let server = Server::start();
    let target = "/v1/convert?amount=3+Tbsp&ingredient=honey&to=g";
    let row = server.get(&format!("{target}&format=csv"));
    assert_eq!(row.header("content-type"), Some("text/csv; charset=utf-8; header=present"));
    assert_eq!(rows(&row, b',')[0]["result_unit"], "g");
    let mut tags = Vec::new();
    for form in ["", "&format=text", "&format=csv", "&explain=true"] {
        let first = server.get(&format!("{target}{form}"));
        if form == "&format=csv" {
            assert_eq!(first.body, row.body);
        }
        let tag = first.header("etag").expect("an ETag").to_owned();
        assert!(first.header("cache-control").is_some_and(|control| control.contains("max-age")));
        let again = server.ask("GET", &format!("{target}{form}"), &[("If-None-Match", &tag)], b"");
        assert_eq!((again.status, again.body.len(), again.header("etag")), (304, 0, Some(&*tag)));
        assert!(!tags.contains(&tag), "two forms have one ETag");
        tags.push(tag);
    }
    let refused = server.ask("GET", "/v1/convert?amount=3+blobs&to=g", &[("If-None-Match", "*")], b"");
    assert_eq!((refused.status, refused.header("etag")), (422, None));
    assert_eq!(server.get(&format!("{target}&format=csv&explain=true")).code(), "not-together");
    assert_eq!(server.get(&format!("{target}&format=xml")).status, 406);
    assert_eq!(server.terminate(), Some(0));
}
