//! The checks against the outside: figures from standards, governments and textbooks, carried as data under `tests/data/`, each asked of the
//! real binary. It stands apart from the other tests, without their harness, so that it always prints how many such checks there are.

mod case;
mod expectation;
mod service;
mod usda;

use std::process::ExitCode;

use case::Case;
use service::Service;

fn main() -> ExitCode {
    let wanted: Vec<String> = std::env::args().skip(1).filter(|argument| !argument.starts_with('-')).collect();
    if std::env::args().any(|argument| argument == "--list") {
        return ExitCode::SUCCESS;
    }
    let runtime = tokio::runtime::Runtime::new().unwrap();
    let service = Service::start();
    let mut cases = case::all();
    cases.extend(usda::portions());
    cases.extend(usda::composition());
    cases.retain(|case| wanted.is_empty() || wanted.iter().any(|part| case.id.contains(part)));
    let failed = runtime.block_on(ask_all(&service, &cases));
    service.stop();
    report(&cases, &failed, wanted.is_empty())
}

async fn ask_all(service: &Service, cases: &[Case]) -> Vec<String> {
    let mut failed = Vec::new();
    for case in cases {
        let (status, answer) = service.ask(&case.call).await;
        let wrong: Vec<String> = case.expect.iter().filter_map(|expectation| expectation.broken_by(status, &answer)).collect();
        if !wrong.is_empty() {
            failed.push(format!("{}: {}\n    {}\n    source: {}\n    answer {status}: {}", case.id, case.title, wrong.join("\n    "), case.source, shortened(&answer)));
        }
    }
    failed
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
