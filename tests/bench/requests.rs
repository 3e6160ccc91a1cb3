//! What a request costs in processor time, as a share of the least it could cost: the service against a bare actix-web route that reads the same
//! question, writes a fixed answer of the same type, and logs the same line. Run: `cargo bench`; `cargo bench -- convert` for one calculation,
//! `-- streams` for many questions at once, `-- chat` for a call of a tool, `-- instructions` for what each costs by count; `-- --smoke` for a few rounds
//! that fail only when something is badly wrong. Processor time hardly swings with what else runs on the machine; requests a second would.

mod bare;
mod chat;
mod instructions;
mod load;
mod process;
mod processor;
mod questions;
mod streams;

use std::process::ExitCode;

use load::Callers;
use process::{Awake, Running, free_address, pin_this_process};
use questions::Questions;

/// How hard to measure, and what to ask of the result.
struct Plan {
    rounds: usize,
    requests: usize,
    /// The share of each goal that must be met.
    strictness: f64,
}

/// The least share of the bare route's speed where eight ask at once, by calculation. What one caller costs is told beside it.
const GOALS: &[(&str, f64)] = &[("convert", 0.9), ("pan-scale", 0.8), ("batch", 0.8), ("ratio-check", 0.85)];
const START_GOAL_MS: f64 = 15.0;
const MEMORY_GOAL_MB: f64 = 16.0;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().collect();
    if let Some(at) = arguments.iter().position(|argument| argument == "bare") {
        bare::serve(&arguments[at + 1]);
        return ExitCode::SUCCESS;
    }
    if arguments.get(1).is_some_and(|role| role == "awake") {
        Awake::spin();
    }
    let plan = if arguments.iter().any(|argument| argument == "--smoke") {
        Plan { rounds: 5, requests: 800, strictness: 0.45 }
    } else {
        Plan { rounds: 21, requests: 4000, strictness: 1.0 }
    };
    let wanted: Vec<&str> = arguments.iter().skip(1).map(String::as_str).filter(|argument| !argument.starts_with('-')).collect();
    pin_this_process();
    let kept = measure(&plan, &wanted);
    println!("{} passed, {} failed", kept.iter().filter(|kept| **kept).count(), kept.iter().filter(|kept| !**kept).count());
    if kept.iter().all(|kept| *kept) { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn measure(plan: &Plan, wanted: &[&str]) -> Vec<bool> {
    let mut kept = start(plan);
    let address = free_address();
    let service = Running::service(&address);
    let memory = service.resident_mb();
    println!("idle resident memory: {memory:.1} MB, goal {MEMORY_GOAL_MB} MB");
    kept.push(memory * plan.strictness <= MEMORY_GOAL_MB);
    let bare_address = free_address();
    let bare = Running::bare(&bare_address);
    for (name, goal) in GOALS.iter().filter(|(name, _)| wanted.is_empty() || wanted.contains(name)) {
        let [_, together] = Callers::BOTH.map(|callers| compare(plan, (&service, &bare), &Questions::of(name), callers, *goal));
        kept.push(together);
    }
    if wanted.is_empty() || wanted.contains(&"streams") {
        kept.extend(streams::measure(plan, &service));
    }
    if wanted.is_empty() || wanted.contains(&"chat") {
        kept.push(chat::measure(plan, &service));
    }
    if wanted.is_empty() || wanted.contains(&"instructions") {
        kept.extend(instructions::measure());
    }
    kept
}

/// From the start of the process to its first answer: the median of a few.
fn start(plan: &Plan) -> Vec<bool> {
    let mut times: Vec<f64> = (0..plan.rounds)
        .map(|_| {
            let address = free_address();
            let began = std::time::Instant::now();
            let running = Running::service(&address);
            let taken = began.elapsed().as_secs_f64() * 1000.0;
            drop(running);
            taken
        })
        .collect();
    let median = median(&mut times);
    println!("start to first answer: {median:.1} ms, goal {START_GOAL_MS} ms");
    vec![median * plan.strictness * plan.strictness <= START_GOAL_MS]
}

/// Interleaved rounds of both; the ratio of each round's pair, and of those the median.
fn compare(plan: &Plan, (service, bare): (&Running, &Running), questions: &Questions, callers: Callers, goal: f64) -> bool {
    let (mut ours, mut floor, mut ratios) = (Vec::new(), Vec::new(), Vec::new());
    let sizes = [service, bare].map(|running| load::answer_size(running, questions));
    assert!(sizes[0].abs_diff(sizes[1]) * 4 <= sizes[0], "{}: answers of {sizes:?} bytes are no fair pair", questions.name);
    for round in 0..=plan.rounds {
        let (one, other) = (load::cost(service, questions, callers, plan.requests), load::cost(bare, questions, callers, plan.requests));
        // The first round warms caches and allocators.
        if round > 0 {
            ours.push(one);
            floor.push(other);
            ratios.push(other / one);
        }
    }
    let ratio = median(&mut ratios);
    let (ours, floor) = (median(&mut ours), median(&mut floor));
    println!(
        "{}, {}: {ours:.1} µs of processor time a request, bare route {floor:.1} µs: ratio {ratio:.2}, goal {goal} (question {} bytes, answer {} bytes)",
        questions.name,
        callers.said(),
        questions.size(),
        sizes[0]
    );
    ratio >= goal * plan.strictness
}

fn median(figures: &mut [f64]) -> f64 {
    figures.sort_by(f64::total_cmp);
    figures[figures.len() / 2]
}
