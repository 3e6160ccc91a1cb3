//! What the publisher's calculations cost in process: the whole way from the bytes of a question to the bytes of its answer, beside reading the same question and
//! writing always the same answer. Run: `cargo bench --bench desk`; `-- --smoke` fails only when a goal is missed five times over.

use std::process::ExitCode;
use std::time::{Duration, Instant};

use evencrumb::calculation::{Entry, Options};
use evencrumb::reference::Reference;

/// A calculation, a question to it, and the most that it may take.
const GOALS: [(&str, &str, Duration); 3] =
    [("read", READ, Duration::from_micros(60)), ("audit", AUDIT, Duration::from_micros(20)), ("adapt", ADAPT, Duration::from_millis(2))];

const READ: &str = r#"{"lines": ["For the batter:", "1 3/4 cups (220 g) all-purpose flour, sifted", "2 tsp baking powder", "1/2 tsp salt",
"1 stick (113 g) unsalted butter, softened", "3/4 cup (150 g) caster sugar", "2 large eggs, beaten", "zest of 2 lemons", "120 ml whole milk",
"For the icing:", "1 1/2 cups icing sugar", "2-3 Tbsp lemon juice"]}"#;

const AUDIT: &str = r#"{"formula": {"name": "Larkrise lemon cake", "style": "creamed", "measures": "us", "parts": [{"name": "batter", "lines": [
{"ingredient": "all-purpose flour", "amount": "1 3/4 cups", "also": "220 g"}, {"ingredient": "baking powder", "amount": "2 tsp", "also": "9 g"},
{"ingredient": "salt", "amount": "1/2 tsp", "also": "3 g"}, {"ingredient": "unsalted butter", "amount": "1 stick", "also": "113 g"},
{"ingredient": "granulated sugar", "amount": "3/4 cup", "also": "150 g"}, {"ingredient": "egg", "amount": "2 large", "also": "100 g"},
{"ingredient": "whole milk", "amount": "1/2 cup", "also": "120 g"}, {"ingredient": "lemon zest", "amount": "2 tsp", "also": "4 g"}]}],
"bake": {"oven": "350 F / 180 C", "minutes": "38-44"}}}"#;

const ADAPT: &str = r#"{"formula": {"name": "Larkrise fruit cake", "style": "creamed", "measures": "us", "filled": "spooned", "parts": [{"name": "batter", "lines": [
{"ingredient": "all-purpose flour", "amount": "250 g"}, {"ingredient": "almond flour", "amount": "55 g"}, {"ingredient": "baking powder", "amount": "7.3 g"},
{"ingredient": "salt", "amount": "2.7 g"}, {"ingredient": "ground cinnamon", "amount": "3.1 g"}, {"ingredient": "unsalted butter", "amount": "183 g"},
{"ingredient": "light brown sugar", "amount": "171 g"}, {"ingredient": "honey", "amount": "22 g"}, {"ingredient": "egg", "amount": "204 g"},
{"ingredient": "whole milk", "amount": "67 g"}, {"ingredient": "vanilla extract", "amount": "4.2 g"}, {"ingredient": "lemon zest", "amount": "3.3 g"},
{"ingredient": "raisins", "amount": "146 g"}, {"ingredient": "walnuts", "amount": "61 g"}, {"ingredient": "dried apricots", "amount": "73 g"}]}]},
"steps": [{"rounding": {"step": "5 g"}}]}"#;

/// Enough for a steady median.
const ROUNDS: usize = 400;

fn main() -> ExitCode {
    let smoke = std::env::args().any(|argument| argument == "--smoke");
    let reference = Reference::load().expect("the tables");
    let mut missed = 0;
    for (name, question, goal) in GOALS {
        let entry = Entry::named(name).expect("the calculation");
        let floor = entry.floor(question.as_bytes(), reference).expect("a good question");
        let whole = median(|| entry.answer(question.as_bytes(), reference, Options::default()).expect("an answer").len());
        let least = median(|| floor(question.as_bytes()).expect("an answer").len());
        println!("{name}: {whole:.1?} a question, {least:.1?} of it to read it and to write the answer; goal {goal:.0?}");
        missed += usize::from(whole > goal * if smoke { 5 } else { 1 });
    }
    println!("{} passed, {missed} failed", GOALS.len() - missed);
    if missed == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn median(ask: impl Fn() -> usize) -> Duration {
    let mut times: Vec<Duration> = (0..ROUNDS)
        .map(|_| {
            let begun = Instant::now();
            assert!(std::hint::black_box(ask()) > 0);
            begun.elapsed()
        })
        .collect();
    times.sort_unstable();
    times[ROUNDS / 2]
}
