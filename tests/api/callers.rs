//! What a caller trips over, and whether the refusal alone sets him right: a page, a sheet, an assistant, a catalogue.

use serde_json::json;

use crate::chat::{NEW, Peer};
use crate::server::{Reply, Server};

fn table(server: &Server, target: &str, body: &str) -> Reply {
    server.ask("POST", target, &[("Content-Type", "text/csv")], body.as_bytes())
}

fn detail(reply: &Reply) -> String {
    reply.json()["detail"].as_str().expect("a detail").to_owned()
}

/// The cells of a column, by an independent reader.
fn column(reply: &Reply, name: &str) -> Vec<String> {
    let mut reader = csv::Reader::from_reader(&reply.body[..]);
    let rows: Vec<std::collections::HashMap<String, String>> = reader.deserialize().collect::<Result<_, _>>().expect("a table");
    rows.into_iter().map(|row| row[name].clone()).collect()
}

#[test]
fn who_reads_the_detail_alone_is_told_what_to_try() {
    let server = Server::start();
    let page = server.post("/v1/convert", r#"{"amount":"1 cup","ingredient":"buter","to":"g"}"#);
    assert!(detail(&page).ends_with(r#"names there. Try: "butter", "butterfat"."#), "{}", detail(&page));
    // A cell has no room for more than the detail.
    let sheet = table(&server, "/v1/convert", "amount,ingredient,to\n1 cup,buter,g\n");
    assert_eq!(column(&sheet, "detail"), [detail(&page)]);
    // Where nothing is near, nothing is said to be suggested.
    let nothing_near = server.post("/v1/convert", r#"{"amount":"1 cup","ingredient":"qqqqqqqq","to":"g"}"#);
    let told = detail(&nothing_near);
    assert!(!told.contains("suggested") && !told.contains("Try"), "{told}");
    let nowhere = server.get("/zzzzzzzzzzzzzzzzzzzzzz");
    assert!(detail(&nowhere).ends_with("See / for all paths."), "{}", detail(&nowhere));
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn a_quote_that_is_not_doubled_costs_its_own_row_alone() {
    let server = Server::start();
    let reply = table(
        &server,
        "/v1/pan-scale",
        "from,to\n\"9\" round, 2 in deep\",8 in square\n9 in round,8 in square\n\"9\"\" round\",8 in square\n",
    );
    assert_eq!(column(&reply, "problem"), ["bad-request", "", ""]);
    assert!(column(&reply, "detail")[0].contains("Double a quote"), "{}", reply.text());
    assert_eq!(column(&reply, "from")[2], "9\" round");
    let wide = table(&server, "/v1/convert", "amount,to\n1,5 cups,ml\n");
    assert!(column(&wide, "detail")[0].ends_with("into double quotes."), "{}", wide.text());
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn a_heading_that_was_cut_at_another_sign_is_told_how_to_say_which() {
    let server = Server::start();
    for (heading, mend) in [
        ("amount;to", "separator=%3B"),
        ("amount\tto", "separator=tab"),
        ("sep=;\namount;to", "Leave this row out"),
        ("amount\rto", "line feed"),
        ("amount,note", "Leave the column out"),
    ] {
        let told = detail(&table(&server, "/v1/convert", &format!("{heading}\n")));
        assert!(told.contains(mend), "{heading}: {told}");
        assert_eq!(told.contains("separator"), !mend.contains("column") && !mend.contains("feed"), "{told}");
    }
    let shouted = table(&server, "/v1/convert", "AMOUNT,TO\n1 cup,ml\n").json();
    assert_eq!((&shouted["faults"][0]["try"], &shouted["faults"][1]["try"]), (&json!(["amount"]), &json!(["to"])));
    for word in ["tab", "%09"] {
        let reply = table(&server, &format!("/v1/convert?separator={word}"), "amount\tto\n2,5 cups\tml\n");
        assert!(reply.text().contains("\t591.47059125\t"), "{}", reply.text());
    }
    let working = table(&server, "/v1/convert?explain=true", "amount,to\n1 cup,ml\n");
    assert_eq!(working.json()["faults"][0]["accepted"], "explain left out");
    let letters = server.ask("POST", "/v1/convert", &[("Content-Type", "text/csv; charset=windows-1252")], b"amount,to\n");
    assert_eq!(letters.status, 415);
    assert!(detail(&letters).contains("each in UTF-8"), "{}", detail(&letters));
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn a_heading_that_names_no_field_or_is_no_text_is_refused_as_a_whole() {
    let server = Server::start();
    let utf_16: Vec<u8> = "amount,to\n1 cup,ml\n".encode_utf16().flat_map(u16::to_le_bytes).collect();
    for (body, code, mend) in [
        (&b"\n\namount,to\n1 cup,ml\n"[..], "missing-field", "no blank row before it"),
        (b"id\n7\n", "missing-field", "name the fields"),
        (&utf_16, "not-utf-8", "not as UTF-16"),
        (b"\x1f\x8b\x08\n", "not-utf-8", "do not compress"),
        (b"\"amount,to\n1 cup,ml\n", "bad-request", "ends with a double quote"),
    ] {
        let reply = server.ask("POST", "/v1/convert", &[("Content-Type", "text/csv")], body);
        assert_eq!(reply.code(), code, "{}", reply.text());
        assert!(detail(&reply).contains(mend), "{}", detail(&reply));
    }
    let utf_16: Vec<u8> = r#"{"amount":"1 cup","to":"ml"}"#.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let reply = server.ask("POST", "/v1/convert", &[("Content-Type", "application/json")], &utf_16);
    assert!(detail(&reply).contains("UTF-16"), "{}", detail(&reply));
    let list = server.ask("POST", "/v1/convert", &[("Content-Type", "application/x-ndjson")], br#"[{"amount":"1 cup","to":"ml"}]"#);
    assert!(list.text().contains("a list of questions is a body by itself"), "{}", list.text());
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn what_is_asked_of_the_door_is_told_from_what_is_asked_of_the_calculation() {
    let server = Server::start();
    for form in ["", "&format=csv"] {
        let misspelt = server.get(&format!("/v1/convert?amount=1+cup&to=ml&explian=true{form}")).json();
        assert_eq!(misspelt["faults"][0]["try"], json!(["explain"]));
        assert!(
            misspelt["faults"][0]["accepted"].as_str().is_some_and(|accepted| accepted.ends_with("for the answer explain, format, tables"))
        );
    }
    let field = server.post("/v1/convert", r#"{"amount":"1 cup","to":"ml","explain":true}"#);
    assert!(detail(&field).contains("write it in the address"), "{}", detail(&field));
    // In an address and in a cell there are no double quotes to write.
    let missing = server.get("/v1/convert?amount=1+cup").json();
    assert_eq!(missing["faults"][0]["accepted"], "a text");
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn what_a_table_can_be_asked_is_told_where_it_is_asked_otherwise() {
    let server = Server::start();
    let otherwise = server.get("/v1/ingredients?query=honey").json();
    assert_eq!(otherwise["faults"][0]["accepted"], "q, explain, format, tables");
    assert_eq!(server.get("/v1/units?q=cup").json()["faults"][0]["accepted"], "explain, format, tables");
    assert_eq!(server.get("/v1/ingredients?q=honey").status, 200);
    for (path, table) in
        [("/v1/ingredients/qqqqqqqqqqq", "/v1/ingredients"), ("/v1/sources/qqqqqqqqqqq", "/v1/sources"), ("/v1/problems/q", "/v1/problems")]
    {
        let reply = server.get(path);
        assert_eq!(reply.status, 404);
        assert!(detail(&reply).contains(&format!("See {table} for all of them.")), "{}", detail(&reply));
    }
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn what_is_to_be_tried_is_written_as_it_must_be_sent() {
    let server = Server::start();
    let formula = json!({ "parts": [{ "name": "dough", "lines": [{ "ingredient": "flour", "amount": "250 g" }] }] });
    let batch = |want: serde_json::Value| detail(&server.post("/v1/batch", &json!({ "formula": formula, "want": want }).to_string()));
    assert!(batch(json!({})).ends_with(r#"Give one of them and no other. Try: {"pieces": 48}."#), "{}", batch(json!({})));
    assert!(batch(json!("48 pieces")).ends_with(r#"Write it like {"pieces": 48} or {"weight": "5 kg"}."#));
    assert!(batch(json!({ "factor": "2" })).ends_with("Write it without quotes. Try: 2."), "{}", batch(json!({ "factor": "2" })));
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn a_sheet_of_another_country_is_never_told_ten_times_or_a_thousandth_of_what_it_holds() {
    let server = Server::start();
    for (amount, tries) in [
        ("1.000,5 g", json!(["1000.5 g"])),
        ("1,500 g", json!(["1500 g", "1.500 g"])),
        ("1 lb 1,500 oz", json!(["1 lb 1500 oz", "1 lb 1.500 oz"])),
        ("1\u{a0}000 g", json!(["1000 g"])),
        ("1\u{202f}500,5 g", json!(["1500.5 g"])),
        ("1'000 g", json!(["1000 g"])),
        ("2 500 g", json!(["2500 g", "2 x 500 g"])),
    ] {
        let refused = server.post("/v1/convert", &json!({ "amount": amount, "to": "kg" }).to_string());
        assert_eq!((refused.code().as_str(), &refused.json()["faults"][0]["try"]), ("ambiguous-number", &tries), "{amount}");
        for attempt in tries.as_array().expect("tries") {
            let mended = server.post("/v1/convert", &json!({ "amount": attempt, "to": "kg" }).to_string());
            assert_eq!(mended.status, 200, "{attempt}: {}", mended.text());
        }
    }
    let numbered = server.post("/v1/convert", r#"{"amount":"1 kg","to":"500 g"}"#).json();
    assert_eq!((&numbered["code"], &numbered["faults"][0]["try"]), (&json!("unknown-unit"), &json!(["g"])));
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn a_formula_as_written_is_told_who_reads_it() {
    let server = Server::start();
    for formula in [json!("250 g flour\n150 g butter"), json!(["250 g flour", "150 g butter"])] {
        let reply = server.post("/v1/ratio-check", &json!({ "formula": formula }).to_string());
        assert_eq!(reply.code(), "wrong-type");
        assert!(detail(&reply).contains("Ask /v1/read first"), "{}", detail(&reply));
    }
    let lines = server.post("/v1/ratio-check", r#"{"formula":{"parts":[{"name":"dough","lines":["250 g flour"]}]}}"#);
    assert!(detail(&lines).contains(r#"{"ingredient": "butter", "amount": "250 g"}"#), "{}", detail(&lines));
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn a_line_that_is_no_json_has_one_number() {
    let server = Server::start();
    let reply = server.ask("POST", "/v1/convert", &[("Content-Type", "application/x-ndjson")], b"\n\n{\"amount\":}\n\xff\n");
    let text = reply.text();
    let told: Vec<serde_json::Value> = text.lines().filter_map(|line| serde_json::from_str(line).ok()).collect();
    assert_eq!((&told[0]["line"], &told[1]["line"]), (&json!(3), &json!(4)));
    assert!(text.contains("stops being JSON at column 11") && text.contains("at column 1;") && !text.contains("line 1, column"), "{text}");
    let two = server.post("/v1/convert", "{}\n{}");
    assert!(detail(&two).contains("ended before line 2, column 1: several questions stand in one list"), "{}", detail(&two));
    // A whole body has lines of its own.
    assert!(server.post("/v1/convert", "{\n\"amount\":}").text().contains("line 2, column 10"));
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn the_server_as_a_whole_tells_its_methods_and_a_table_may_be_asked_by_query() {
    let server = Server::with(&[("EVENCRUMB_CORS_ORIGINS", "https://larkrise.example")]);
    let whole = server.ask("OPTIONS", "*", &[], b"");
    assert_eq!((whole.status, whole.header("allow")), (204, Some("GET, HEAD, POST, QUERY, OPTIONS")));
    assert_eq!(server.ask("GET", "*", &[], b"").status, 404);
    for (path, table) in [("/v1/convert", true), ("/v1/card", false)] {
        let told = server.ask("OPTIONS", path, &[], b"");
        assert_eq!(told.header("accept-query").is_some_and(|forms| forms.contains("text/csv")), table, "{path}");
    }
    assert_eq!(server.ask("QUERY", "/v1/convert", &[("Content-Type", "text/csv")], b"amount,to\n1 cup,ml\n").status, 200);
    let page = server.ask("GET", "/v1/units", &[("Origin", "https://larkrise.example")], b"");
    assert!(
        page.header("access-control-expose-headers").is_some_and(|names| names.contains("Retry-After")),
        "a page sees when to come again"
    );
    assert_eq!(server.terminate(), Some(0));
}

#[tokio::test]
async fn a_sloppy_call_is_told_the_word_or_the_tool_that_was_meant() {
    let server = Server::with(&[("EVENCRUMB_MCP_HOSTS", "*")]);
    let peer = Peer::of(&server, NEW);
    let lines = "250 g flour\n150 g butter";
    for (tool, arguments, told) in [
        ("look_up", json!({ "table": "ingredients", "query": "brwn sugar" }), r#"Try: "brown sugar""#),
        ("look_up", json!({ "table": "ingredients", "q": "honey" }), r#"Try: "query"."#),
        ("ratio_check", json!({ "formula": lines }), "Ask read first: it makes a formula of written lines"),
        ("batch", json!({ "formula": lines, "want": 48 }), r#"Write it like {"pieces": 48}"#),
        ("convert", json!({ "amount": "1 cup", "to": "ml", "explain": true }), "full, true, gives the working"),
        ("convert", json!({ "amount": "1 cup", "to": "ml", "full": "yes" }), "Try: true."),
    ] {
        let (refused, text, _) = peer.called(tool, &arguments).await;
        assert!(refused && text.contains(told) && !text.contains("/v1/"), "{tool} {arguments}: {text}");
    }
    // A name where an id belongs finds its row; what is suggested for an id is one.
    let (refused, _, figures) = peer.called("look_up", &json!({ "table": "units", "id": "Cups" })).await;
    assert!(!refused && figures["rows"][0]["many"] == "cups", "{figures}");
    let (_, text, _) = peer.called("look_up", &json!({ "table": "sources", "id": "usda-sr2" })).await;
    assert!(text.contains(r#"Try: "usda-sr28""#), "{text}");
    for (method, told) in
        [("initialize", "params of initialize"), ("resources/list", "there are tools/list"), ("prompts/list", "there are tools/list")]
    {
        let message = json!({ "jsonrpc": "2.0", "id": 1, "method": method, "params": {} }).to_string();
        let answer = server.ask("POST", "/mcp", &[("Content-Type", "application/json")], message.as_bytes()).text();
        assert!(answer.contains(told) && !answer.contains("no method initialize"), "{answer}");
    }
    let typed = server.ask("POST", "/mcp", &[("Content-Type", "text/plain")], b"{}").json();
    assert_eq!(typed["faults"][0]["accepted"], "Content-Type: application/json");
    for tool in peer.tools().await {
        let (title, description) = (tool["title"].as_str().expect("a title"), tool["description"].as_str().expect("a description"));
        let rest = description.strip_prefix(title).expect("the title first").trim_start_matches('?');
        assert!(rest.starts_with(". ") || description.as_bytes()[title.len() - 1] == b'?', "{description}");
    }
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn an_empty_cell_in_an_address_is_a_field_left_out_as_it_is_in_a_table() {
    let server = Server::start();
    let text = |query: &str| {
        let reply = server.get(&format!("/v1/convert?{query}"));
        (reply.status, String::from_utf8_lossy(&reply.body).into_owned())
    };
    assert_eq!(text("amount=350+F&ingredient=&to=gas+mark&filled=&measures=+&format=text"), (200, "4".to_owned()));
    // The column of a blank cell stays, so that rows stay below one another.
    let (status, table) = text("amount=350+F&ingredient=&to=C&format=csv");
    assert!(status == 200 && table.starts_with("amount,ingredient,to,result_value") && table.contains("\n350 F,,C,176."), "{table}");
    assert_eq!(server.get("/v1/convert?amount=350+F&to=").json()["faults"][0]["code"], "missing-field");
    assert_eq!(server.get("/v1/convert?amount=350+F&to=C&flour=").json()["faults"][0]["code"], "unknown-field");
    for query in ["tables=", "format=", "explain=", "ingredient"] {
        assert_eq!(server.get(&format!("/v1/convert?amount=350+F&to=C&{query}")).status, 422, "{query}");
    }
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn a_cell_that_asks_for_text_is_told_in_a_sentence_what_is_wrong() {
    let server = Server::start();
    let told = |query: &str| server.get(&format!("/v1/convert?{query}"));
    for (query, status, code, holds) in [
        ("amount=3+blobs&to=g&format=text", 422, "unknown-unit", "found blobs"),
        ("amount=3+Tbsp&ingredient=honny&to=g&format=text", 422, "unknown-ingredient", "Try: \"honey\""),
        ("amount=3+Tbsp&amount=4+Tbsp&to=g&format=text", 422, "repeated-field", "each name once"),
        ("format=text&amount=%zz&to=g", 400, "bad-request", "%25"),
    ] {
        let reply = told(query);
        let text = reply.text();
        assert_eq!((reply.status, reply.header("problem-code")), (status, Some(code)), "{query}: {text}");
        assert_eq!(reply.header("content-type"), Some("text/plain; charset=utf-8"), "{query}");
        assert!(text.contains(holds) && !text.contains('{') && !text.contains('\n'), "{query}: {text}");
        // The same sentence as the problem has.
        let problem = told(&query.replace("format=text&", "").replace("&format=text", "")).json();
        assert_eq!(problem["detail"], *text, "{query}");
    }
    for query in ["amount=3+blobs&to=g&format=csv", "amount=3+blobs&to=g&format=json", "amount=3+blobs&to=g&format=txt"] {
        assert_eq!(told(query).header("content-type"), Some("application/problem+json"), "{query}");
    }
    let by_header = server.ask("GET", "/v1/convert?amount=3+blobs&to=g", &[("Accept", "text/plain")], b"");
    assert_eq!(by_header.header("content-type"), Some("application/problem+json"));
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn what_a_caller_guesses_first_is_told_how_it_is_written() {
    let server = Server::start();
    let told = |path: &str, question: serde_json::Value| {
        let reply = server.post(path, &question.to_string()).json();
        let details = reply["faults"].as_array().cloned().unwrap_or_default();
        details.iter().map(|fault| fault["detail"].as_str().unwrap_or_default().to_owned()).collect::<Vec<_>>().join(" ")
    };
    let line = r#"{"ingredient": "butter", "amount": "250 g"}"#;
    // What is told is accepted as it stands.
    let dough = json!({ "percentages": [{ "ingredient": "bread flour", "percent": 100 }, { "ingredient": "water", "percent": 68 }],
        "preferments": [{ "part": "poolish", "prefermented_flour": 30, "hydration": 100 }], "want": { "weight": "2 kg" },
        "temperature": { "desired": "25 C", "room": "22 C", "flour": "20 C", "friction": "14 Celsius degrees" } });
    let lines = json!([{ "ingredient": "butter", "amount": "250 g" }, { "ingredient": "egg", "amount": "4 large" }]);
    let parts = json!([{ "name": "batter", "lines": lines }]);
    let formula = json!({ "parts": parts, "makes": { "pieces": 12 }, "bake": { "oven": "350 F", "minutes": "30-35" } });
    let prices = json!([{ "ingredient": "butter", "amount": "1 kg", "price": 9.5 }]);
    let steps = json!([{ "replace": { "ingredient": "butter", "with": "vegetable oil" } }, { "eggs": { "to": "medium" } }, { "oven": { "to": "fan" } }]);
    for (path, question) in [
        ("/v1/dough", dough),
        ("/v1/card", json!({ "formula": formula, "prices": prices, "currency": "EUR" })),
        ("/v1/adapt", json!({ "formula": formula, "steps": steps })),
        ("/v1/batch", json!({ "formula": formula, "want": { "pieces": 48 } })),
        ("/v1/read", json!({ "text": "250 g flour\n2 eggs" })),
        ("/v1/pan-scale", json!({ "from": { "round": { "diameter": "9 in", "depth": "2 in" } }, "to": "8 inch square" })),
    ] {
        let reply = server.post(path, &question.to_string());
        assert_eq!(reply.status, 200, "{path}: {}", String::from_utf8_lossy(&reply.body));
    }
    for (path, question, mend) in [
        ("/v1/convert", json!({ "amount": "2 cups", "unit": "g" }), r#"{"amount": "2 cups", "ingredient": "flour", "to": "g"}"#),
        ("/v1/pan-scale", json!({ "from": { "shape": "round", "diameter": 9 }, "to": "9x13" }), r#"{"round": {"diameter": "9 in""#),
        ("/v1/ratio-check", json!({ "formula": { "lines": [] } }), line),
        ("/v1/ratio-check", json!({ "formula": { "ingredients": [{ "name": "flour", "amount": "1 g" }] } }), "ingredients of your own"),
        ("/v1/ratio-check", json!({ "formula": r#"{"parts": []}"# }), "Send the object itself"),
        ("/v1/ratio-check", json!({ "formula": { "parts": [{ "name": "b", "lines": [{ "ingredient": "flour", "grams": 3 }] }] } }), line),
        ("/v1/batch", json!({ "formula": { "makes": 12, "parts": [] }, "want": { "factor": 2 } }), r#"Write it like {"pieces": 12}."#),
        ("/v1/card", json!({ "formula": {}, "prices": [{ "per": "kg" }] }), r#""amount": "1 kg", "price": 9.5}"#),
        ("/v1/dough", json!({ "percentages": [{}] }), r#"{"ingredient": "water", "percent": 68}"#),
        ("/v1/dough", json!({ "preferments": [{}] }), r#"{"part": "poolish", "prefermented_flour": 30, "hydration": 100}"#),
        ("/v1/dough", json!({ "temperature": {} }), r#""friction": "14 Celsius degrees"}"#),
        ("/v1/dough", json!({ "want": { "dough": "2 kg" } }), r#"{"weight": "2 kg"}"#),
        ("/v1/adapt", json!({ "formula": {}, "steps": [{ "replace": "eggs" }] }), r#"{"ingredient": "butter", "with": "vegetable oil"}"#),
        ("/v1/adapt", json!({ "formula": {}, "steps": [{ "oven": 180 }] }), r#"{"to": "fan"}"#),
        ("/v1/adapt", json!({ "formula": {}, "steps": [{ "eggs": "medium" }] }), r#"{"to": "medium"}"#),
        ("/v1/read", json!({ "recipe": "250 g flour" }), r#"{"text": "250 g flour\n2 eggs"}"#),
        ("/v1/read", json!({ "text": ["250 g flour"] }), "Send one text"),
        ("/v1/read", json!({ "lines": "250 g flour" }), "Put it into brackets"),
    ] {
        let said = told(path, question.clone());
        assert!(said.contains(mend), "{path} {question}: {said}");
    }
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn who_asks_for_half_a_cake_is_told_of_the_factor() {
    let server = Server::start();
    let order = |want: serde_json::Value| {
        let formula =
            json!({"name": "Larkrise sponge", "parts": [{"name": "batter", "lines": [{"ingredient": "plain flour", "amount": "200 g"}]}]});
        server.post("/v1/orders", &json!({"orders": [{"formula": formula, "want": want}]}).to_string())
    };
    for half in [json!({"pieces": 0.5}), json!({"pans": 1.5})] {
        let told = detail(&order(half));
        assert!(told.contains("asked for by `factor` in its place"), "{told}");
    }
    assert!(!detail(&order(json!({"pieces": -1}))).contains("factor"));
    assert_eq!(order(json!({"factor": 0.5})).status, 200);
    assert_eq!(server.terminate(), Some(0));
}
