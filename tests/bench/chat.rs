//! What a call of a tool costs beside the same question by JSON: the protocol wraps the answer and says it twice, as a text and as a structure.

use crate::Plan;
use crate::load::{self, Callers};
use crate::process::Running;
use crate::questions::Questions;

/// A call costs so many times the question at most.
const GOAL: f64 = 2.5;

pub fn measure(plan: &Plan, service: &Running) -> bool {
    let questions = Questions::of("convert");
    let calls: Vec<Vec<u8>> = questions.bodies.iter().map(|body| call(body)).collect();
    let mut ratios: Vec<f64> = (0..plan.rounds.min(7))
        .map(|_| {
            load::cost_of(service, &calls, Callers::Eight, plan.requests) / load::cost(service, &questions, Callers::Eight, plan.requests)
        })
        .collect();
    let ratio = crate::median(&mut ratios);
    println!("convert, called as a tool: {ratio:.2} times the question by JSON, goal {GOAL}");
    ratio * plan.strictness <= GOAL
}

fn call(arguments: &str) -> Vec<u8> {
    let meta = r#"{"io.modelcontextprotocol/protocolVersion":"2026-07-28","io.modelcontextprotocol/clientInfo":{"name":"larkrise","version":"1"},"io.modelcontextprotocol/clientCapabilities":{}}"#;
    let body = format!(
        r#"{{"jsonrpc":"2.0","id":17,"method":"tools/call","params":{{"name":"convert","arguments":{arguments},"_meta":{meta}}}}}"#
    );
    let head =
        "Accept: application/json, text/event-stream\r\nMcp-Protocol-Version: 2026-07-28\r\nMcp-Method: tools/call\r\nMcp-Name: convert";
    format!(
        "POST /mcp HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\n{head}\r\nContent-Length: {}\r\n\r\n{body}",
        body.len()
    )
    .into_bytes()
}
