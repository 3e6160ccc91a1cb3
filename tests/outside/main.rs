//! The checks against the outside: figures from standards, governments and textbooks, carried as data under `tests/data/`, each asked of the
//! real binary. It stands apart from the other tests, without their harness, so that it always prints how many such checks there are.

mod case;
mod expectation;
mod formulas;
#[path = "../api/server.rs"]
#[allow(dead_code, reason = "the other tests need more of it")]
mod server;
mod usda;

use std::process::ExitCode;

use case::{Call, Case};
use server::Server;

fn main() -> ExitCode {
    let wanted: Vec<String> = std::env::args().skip(1).filter(|argument| !argument.starts_with('-')).collect();
    if std::env::args().any(|argument| argument == "--list") {
        return ExitCode::SUCCESS;
    }
    let mut cases = case::all();
    cases.extend(usda::portions());
    cases.extend(usda::composition());
    cases.extend(formulas::printed());
    cases.retain(|case| wanted.is_empty() || wanted.iter().any(|part| case.id.contains(part)));
    let server = Server::start();
    let failed: Vec<String> = cases.iter().filter_map(|case| wrong(&server, case)).collect();
    // Its end looks whether the log is clean.
    drop(server);
    report(&cases, &failed, wanted.is_empty())
}

/// What is wrong with an answer, if anything is.
fn wrong(server: &Server, case: &Case) -> Option<String> {
    let reply = match &case.call {
        Call::Post { path, question } => server.post(path, &question.to_string()),
        Call::Get { path } => server.get(path),
    };
    let answer = reply.json();
    let mut wrong: Vec<String> = case.expect.iter().filter_map(|expectation| expectation.broken_by(reply.status, &answer)).collect();
    wrong.dedup();
    let Case { id, title, source, .. } = case;
    let told = || {
        format!("{id}: {title}\n    {}\n    source: {source}\n    answer {}: {}", wrong.join("\n    "), reply.status, shortened(&answer))
    };
    (!wrong.is_empty()).then(told)
}

fn shortened(answer: &serde_json::Value) -> String {
    answer.to_string().chars().take(1200).collect()
}

/// At least this many checks are asked: fewer means that data got lost.
const FEWEST: usize = 150;

fn report(cases: &[Case], failed: &[String], whole: bool) -> ExitCode {
    for text in failed {
        println!("FAILED {text}\n");
    }
    for case in cases.iter().filter(|case| case.differs.is_some()) {
        println!("differs from its source: {}: {}", case.id, case.differs.as_deref().unwrap_or_default());
    }
    println!("outside checks: {}", cases.len());
    println!("{} passed, {} failed", cases.len() - failed.len(), failed.len());
    let lost = whole && cases.len() < FEWEST;
    if lost {
        println!("only {} checks were found, of at least {FEWEST}", cases.len());
    }
    if failed.is_empty() && !lost { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
