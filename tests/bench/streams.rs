//! What a question costs among many: over HTTP by the line, by standard input, in a list, in a table; what it costs others on the same worker; and that
//! memory does not grow with the length of a stream. The floor reads the same type of question and writes a fixed answer of the same type in this process.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use evencrumb::calculation::{Entry, Floor, Options};
use evencrumb::reference::Reference;

use crate::Plan;
use crate::load::{self, Callers, Connection};
use crate::process::Running;
use crate::processor;
use crate::questions::Questions;

/// The least share of the floor's speed, over HTTP and by standard input.
const GOALS: [(&str, f64); 2] = [("lines over HTTP", 0.65), ("lines by standard input", 0.75)];
/// How many times cheaper a conversion is among a hundred than where the same caller asks them one after another.
const CHEAPER: f64 = 12.0;
const GROWTH_MB: f64 = 8.0;
const TABLE_SECONDS: f64 = 0.2;
const FAIR_MS: f64 = 1.0;
/// A stream is this much slower at its end than at its beginning at most.
const SLOWER: f64 = 1.15;

/// A catalogue: documents that all differ.
struct Catalogue(Vec<String>);

impl Catalogue {
    fn new() -> Self {
        Self(Questions::of("ratio-check").bodies)
    }

    fn line(&self, number: usize) -> String {
        self.0[number % self.0.len()].replacen("Larkrise layer cake", &format!("Larkrise layer cake {number}"), 1) + "\n"
    }

    /// So many lines at a time.
    fn piece(&self, from: usize, count: usize) -> Vec<u8> {
        (from..from + count).map(|number| self.line(number)).collect::<String>().into_bytes()
    }
}

pub fn measure(plan: &Plan, service: &Running) -> Vec<bool> {
    // First, before anything else has raised the most memory there ever was.
    let long = long(plan, service);
    let documents = plan.requests * 5;
    let lines = Catalogue::new().piece(0, documents);
    let (mut floors, mut over_http, mut by_input) = (Vec::new(), Vec::new(), Vec::new());
    for _ in 0..plan.rounds.min(7) {
        let floor = floor(&lines, documents);
        floors.push(floor);
        over_http.push(floor / streamed(service, &lines, documents));
        by_input.push(floor / piped(&lines, documents));
    }
    let floor = crate::median(&mut floors);
    let mut kept = Vec::new();
    for ((name, goal), ratios) in GOALS.iter().zip([&mut over_http, &mut by_input]) {
        let ratio = crate::median(ratios);
        println!(
            "ratio-check, {name}: {:.1} µs of processor time a document, floor {floor:.1} µs: ratio {ratio:.2}, goal {goal} ({} bytes each)",
            floor / ratio,
            lines.len() / documents
        );
        kept.push(ratio >= goal * plan.strictness);
    }
    kept.extend([listed(plan, service), table(plan, service), fair(plan, service)]);
    kept.extend(long);
    kept
}

fn own_ns() -> u64 {
    processor::ns_in("/proc/thread-self").expect("this thread's time")
}

/// Microseconds a document for reading the question and writing a fixed answer.
fn floor(lines: &[u8], documents: usize) -> f64 {
    let entry = Entry::named("ratio-check").expect("the calculation");
    let reference = Reference::load().expect("the tables");
    let floor = of_usual_size(entry, reference, lines);
    let mut out = Vec::with_capacity(1 << 20);
    let before = own_ns();
    for line in lines.split(|byte| *byte == b'\n').filter(|line| !line.is_empty()) {
        out.extend_from_slice(&floor(line).expect("a good question"));
        out.push(b'\n');
        if out.len() > 64 * 1024 {
            std::hint::black_box(&out);
            out.clear();
        }
    }
    (own_ns() - before) as f64 / 1000.0 / documents as f64
}

/// The fixed answer is the one of the middle size among the first.
fn of_usual_size(entry: &Entry, reference: &'static Reference, lines: &[u8]) -> Floor {
    let mut first: Vec<&[u8]> = lines.split(|byte| *byte == b'\n').take(64).collect();
    first.sort_by_cached_key(|line| entry.answer(line, reference, Options::default()).expect("a good question").len());
    entry.floor(first[first.len() / 2], reference).expect("a good question")
}

/// Microseconds a document by `stream=true`, all threads of the service together.
fn streamed(service: &Running, lines: &[u8], documents: usize) -> f64 {
    let before = service.processor_ns();
    stream(service, documents, |send| send(lines));
    (service.processor_ns() - before) as f64 / 1000.0 / documents as f64
}

/// Sends pieces from a thread of its own while the answers are read; the counts at the end must be right.
fn stream(service: &Running, documents: usize, pieces: impl FnOnce(&mut dyn FnMut(&[u8])) + Send) {
    let mut reading = TcpStream::connect(&service.address).expect("a connection");
    let mut sending = reading.try_clone().expect("the same socket");
    let head = "POST /v1/ratio-check?stream=true&counts=true HTTP/1.1\r\nHost: bench\r\nConnection: close\r\nContent-Type: application/x-ndjson\r\nTransfer-Encoding: chunked\r\n\r\n";
    std::thread::scope(|scope| {
        scope.spawn(move || {
            sending.write_all(head.as_bytes()).expect("a head");
            pieces(&mut |piece| {
                for chunk in piece.chunks(64 * 1024) {
                    sending.write_all(format!("{:x}\r\n", chunk.len()).as_bytes()).expect("a chunk");
                    sending.write_all(chunk).and_then(|()| sending.write_all(b"\r\n")).expect("a chunk");
                }
            });
            sending.write_all(b"0\r\n\r\n").expect("the end");
        });
        let mut tail = Vec::new();
        let mut piece = vec![0; 256 * 1024];
        loop {
            let length = reading.read(&mut piece).expect("an answer");
            if length == 0 {
                break;
            }
            tail.drain(..tail.len().saturating_sub(200));
            tail.extend_from_slice(&piece[length.saturating_sub(200)..length]);
        }
        let tail = String::from_utf8_lossy(&tail).into_owned();
        assert!(tail.contains(&format!("\"answered\":{documents},\"problems\":0")), "not all were answered: {tail}");
    });
}

/// Microseconds a document by standard input.
fn piped(lines: &[u8], documents: usize) -> f64 {
    let mut child = Command::new("taskset")
        .args(["-c", "0", env!("CARGO_BIN_EXE_evencrumb"), "ratio-check"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut stdin = child.stdin.take().expect("its input");
    let mut answers = BufReader::with_capacity(256 * 1024, child.stdout.take().expect("its output"));
    // One answer first: the start of the program is measured by itself.
    let end = 1 + lines.iter().position(|byte| *byte == b'\n').expect("a line");
    let mut line = Vec::new();
    stdin.write_all(&lines[..end]).expect("a question");
    answers.read_until(b'\n', &mut line).expect("an answer");
    let process = format!("/proc/{}", child.id());
    let spent_by = || processor::ns_in(&process).expect("its time");
    let before = spent_by();
    let spent = std::thread::scope(|scope| {
        let writer = scope.spawn(move || {
            stdin.write_all(&lines[end..]).expect("the questions");
            stdin
        });
        for _ in 1..documents {
            line.clear();
            answers.read_until(b'\n', &mut line).expect("an answer");
            assert!(line.starts_with(b"{\"line\":") && line.ends_with(b"}\n"));
        }
        let spent = spent_by() - before;
        drop(writer.join().expect("all written"));
        spent
    });
    assert!(child.wait().expect("its end").success());
    spent as f64 / 1000.0 / documents as f64
}

/// A hundred conversions in one request, each against one by itself. Of eight callers at once the single ones share what it costs to wake and to send; that is told too.
fn listed(plan: &Plan, service: &Running) -> bool {
    let one = Questions::of("convert");
    let bodies: Vec<String> = (0..8)
        .map(|from| format!("[{}]", (0..100).map(|at| one.bodies[(from + at) % one.bodies.len()].as_str()).collect::<Vec<_>>().join(",")))
        .collect();
    let many = Questions { name: "convert", bodies };
    let cheaper = Callers::BOTH.map(|callers| {
        let mut ratios: Vec<f64> = (0..plan.rounds.min(7))
            .map(|_| load::cost(service, &one, callers, plan.requests) * 100.0 / load::cost(service, &many, callers, plan.requests / 8))
            .collect();
        let ratio = crate::median(&mut ratios);
        println!("convert, a hundred in one request, {}: {ratio:.1} times cheaper each than singly, goal {CHEAPER}", callers.said());
        ratio
    });
    cheaper[0] >= CHEAPER * plan.strictness * plan.strictness
}

fn table(plan: &Plan, service: &Running) -> bool {
    let rows: String = (0..5000).map(|n| format!("{} tbsp,honey,g\r\n", n + 1)).collect();
    let request = load::request("convert", "text/csv", &format!("amount,ingredient,to\r\n{rows}"));
    let mut connection = Connection::open(service);
    let mut seconds: Vec<f64> = (0..5)
        .map(|_| {
            let began = Instant::now();
            connection.send(&request);
            assert!(connection.receive() > 5000 * 50);
            began.elapsed().as_secs_f64()
        })
        .collect();
    let seconds = crate::median(&mut seconds);
    println!("a table of 5000 rows: {seconds:.3} s, goal {TABLE_SECONDS} s");
    seconds * plan.strictness <= TABLE_SECONDS
}

/// How long the slowest hundredth of small requests takes, in milliseconds.
fn slowest_hundredth(service: &Running, count: usize) -> f64 {
    let request = load::request("convert", "application/json", &Questions::of("convert").bodies[0]);
    let mut connection = Connection::open(service);
    let mut taken: Vec<f64> = (0..count)
        .map(|_| {
            std::thread::sleep(Duration::from_micros(500));
            let began = Instant::now();
            connection.send(&request);
            connection.receive();
            began.elapsed().as_secs_f64() * 1000.0
        })
        .collect();
    taken.sort_by(f64::total_cmp);
    taken[count * 99 / 100]
}

/// Small requests while a catalogue streams on the same worker.
fn fair(plan: &Plan, service: &Running) -> bool {
    let count = plan.requests;
    let alone = slowest_hundredth(service, count);
    let (ended, catalogue) = (AtomicBool::new(false), Catalogue::new());
    let piece = catalogue.piece(0, 1000);
    let beside = std::thread::scope(|scope| {
        let streaming = scope.spawn(|| stream_until(service, &piece, &ended));
        let beside = slowest_hundredth(service, count);
        ended.store(true, Ordering::Relaxed);
        streaming.join().expect("a stream");
        beside
    });
    println!("small requests while a catalogue streams: p99 {beside:.2} ms, alone {alone:.2} ms, goal {FAIR_MS} ms and 5 times alone");
    // The load shares one core with what measures it: a smoke run says only whether a stream starves the others.
    if plan.strictness < 1.0 { beside < 30.0 } else { beside <= FAIR_MS && beside <= 5.0 * alone.max(0.1) }
}

fn stream_until(service: &Running, piece: &[u8], ended: &AtomicBool) {
    let mut reading = TcpStream::connect(&service.address).expect("a connection");
    let mut sending = reading.try_clone().expect("the same socket");
    std::thread::scope(|scope| {
        scope.spawn(move || {
            let head = "POST /v1/ratio-check?stream=true HTTP/1.1\r\nHost: bench\r\nConnection: close\r\nContent-Type: application/x-ndjson\r\nTransfer-Encoding: chunked\r\n\r\n";
            sending.write_all(head.as_bytes()).expect("a head");
            while !ended.load(Ordering::Relaxed) {
                sending.write_all(format!("{:x}\r\n", piece.len()).as_bytes()).expect("a chunk");
                sending.write_all(piece).and_then(|()| sending.write_all(b"\r\n")).expect("a chunk");
            }
            sending.write_all(b"0\r\n\r\n").expect("the end");
        });
        std::io::copy(&mut reading, &mut std::io::sink()).expect("answers");
    });
}

/// A long stream: memory, and whether a line costs more at its end.
fn long(plan: &Plan, service: &Running) -> [bool; 2] {
    let megabytes = if plan.strictness < 1.0 { 100 } else { 500 };
    let catalogue = Catalogue::new();
    let documents = megabytes * 1_000_000 / catalogue.line(0).len() / 10_000 * 10_000;
    let before = service.resident_mb();
    let mut costs = Vec::new();
    stream(service, documents, |send| {
        for from in (0..documents).step_by(10_000) {
            let spent = service.processor_ns();
            send(&catalogue.piece(from, 10_000));
            costs.push(service.processor_ns() - spent);
        }
    });
    let grown = service.peak_mb() - before;
    let quarter = costs.len() / 4;
    let (first, last): (u64, u64) = (costs[1..=quarter].iter().sum(), costs[costs.len() - quarter..].iter().sum());
    let slower = last as f64 / first as f64;
    println!(
        "{documents} documents, {megabytes} MB in one stream: {grown:.1} MB more memory, goal {GROWTH_MB} MB; a line at the end costs {slower:.2} of one at the beginning, goal {SLOWER}"
    );
    [grown * plan.strictness <= GROWTH_MB, slower * plan.strictness.sqrt() <= SLOWER]
}
