//! What a collector reads at `/metrics`, in Prometheus's text format: requests by path and status, how long they took, and what is in work just now. Every
//! worker counts by itself, so that none waits for another's count; they are added up only when somebody reads.

use std::cell::OnceCell;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{LazyLock, Mutex, PoisonError};
use std::time::Duration;

use actix_web::http::header;
use actix_web::{HttpRequest, HttpResponse};
use foldhash::HashMap;

use super::problem::{Problem, status};
use super::{House, query, routes, watch};
use crate::quantity::Code;

/// The bounds of the times taken, in microseconds.
const BOUNDS: [u64; 9] = [100, 250, 500, 1_000, 2_500, 10_000, 50_000, 250_000, 1_000_000];
/// The statuses that no cause of refusal has.
const GOOD: [u16; 5] = [200, 202, 204, 303, 304];
/// What has another status is counted here.
const OTHER: u16 = 0;

/// All statuses that are counted apart, and all paths.
struct Kinds {
    statuses: Vec<u16>,
    paths: Vec<&'static str>,
    path_at: HashMap<&'static str, usize>,
}

static KINDS: LazyLock<Kinds> = LazyLock::new(|| {
    let refused = Code::ALL.iter().map(|code| status(*code).as_u16());
    let mut statuses: Vec<u16> = GOOD.into_iter().chain(refused).chain([403, watch::LEFT, OTHER]).collect();
    statuses.sort_unstable();
    statuses.dedup();
    let paths: Vec<_> = routes::paths().chain([routes::NONE]).collect();
    let path_at = paths.iter().enumerate().map(|(at, path)| (*path, at)).collect();
    Kinds { statuses, paths, path_at }
});

/// What one worker has counted.
struct Counts {
    /// By path, and by status within it.
    requests: Vec<AtomicU64>,
    took: [AtomicU64; BOUNDS.len() + 1],
    microseconds: AtomicU64,
}

static ALL: Mutex<Vec<&'static Counts>> = Mutex::new(Vec::new());

thread_local! {
    static OWN: OnceCell<&'static Counts> = const { OnceCell::new() };
}

/// Counts a request.
pub fn count(route: &'static str, status: u16, took: Duration) {
    let own = OWN.with(|own| *own.get_or_init(Counts::begun));
    let statuses = &KINDS.statuses;
    let at = KINDS.path_at.get(route).copied().unwrap_or(KINDS.paths.len() - 1);
    let within = statuses.binary_search(&status).unwrap_or(0);
    add(&own.requests[at * statuses.len() + within], 1);
    let micros = u64::try_from(took.as_micros()).unwrap_or(u64::MAX);
    add(&own.took[BOUNDS.partition_point(|bound| *bound < micros)], 1);
    add(&own.microseconds, micros);
}

/// Only its own worker writes a count, so that nothing comes between reading and writing it.
fn add(count: &AtomicU64, more: u64) {
    count.store(count.load(Ordering::Relaxed).wrapping_add(more), Ordering::Relaxed);
}

impl Counts {
    /// Those of a worker that has counted nothing yet. A worker lives as long as the program.
    fn begun() -> &'static Self {
        let noughts = || std::iter::repeat_with(|| AtomicU64::new(0));
        let own: &'static Self = Box::leak(Box::new(Self {
            requests: noughts().take(KINDS.paths.len() * KINDS.statuses.len()).collect(),
            took: std::array::from_fn(|_| AtomicU64::new(0)),
            microseconds: AtomicU64::new(0),
        }));
        ALL.lock().unwrap_or_else(PoisonError::into_inner).push(own);
        own
    }
}

/// The counts of all workers together.
fn sum(of: impl Fn(&Counts) -> &AtomicU64) -> u64 {
    ALL.lock().unwrap_or_else(PoisonError::into_inner).iter().map(|counts| of(counts).load(Ordering::Relaxed)).sum()
}

pub fn page(house: &'static House, request: &HttpRequest) -> Result<HttpResponse, Problem> {
    let (_, rest) = query::read(request.query_string())?;
    query::nothing_else(&rest)?;
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, "text/plain; version=0.0.4; charset=utf-8"))
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .body(text(house)))
}

fn text(house: &House) -> String {
    let mut out = String::with_capacity(8 * 1024);
    requests(&mut out);
    times(&mut out);
    let draining = house.draining.load(Ordering::Relaxed);
    let build = format!("{{version=\"{}\",tables=\"{}\"}}", env!("CARGO_PKG_VERSION"), house.reference.version);
    for (name, labels, value, help) in [
        ("questions_in_work", "", house.gate.inside(), "Questions in work or waiting."),
        ("bulk_places_free", "", house.bulk.available_permits(), "Requests with many questions that would still be taken."),
        ("ready", "", usize::from(!draining), "1, and 0 once it has been told to stop."),
        ("build", build.as_str(), 1, "Which program, on which version of the tables."),
    ] {
        head(&mut out, name, "gauge", help);
        out.push_str(&format!("evencrumb_{name}{labels} {value}\n"));
    }
    out
}

fn head(out: &mut String, name: &str, kind: &str, help: &str) {
    out.push_str(&format!("# HELP evencrumb_{name} {help}\n# TYPE evencrumb_{name} {kind}\n"));
}

fn requests(out: &mut String) {
    head(out, "requests_total", "counter", "Requests by path and status; 499 is a caller who went before the answer, 0 any other status.");
    for (at, path) in KINDS.paths.iter().enumerate() {
        for (within, status) in KINDS.statuses.iter().enumerate() {
            let count = sum(|counts| &counts.requests[at * KINDS.statuses.len() + within]);
            if count > 0 {
                out.push_str(&format!("evencrumb_requests_total{{route=\"{path}\",status=\"{status}\"}} {count}\n"));
            }
        }
    }
}

fn times(out: &mut String) {
    head(out, "request_seconds", "histogram", "Time from the head of a request to the beginning of its answer.");
    let mut until = 0;
    for at in 0..=BOUNDS.len() {
        until += sum(|counts| &counts.took[at]);
        let bound = BOUNDS.get(at).map_or_else(|| "+Inf".to_owned(), |bound| seconds(*bound));
        out.push_str(&format!("evencrumb_request_seconds_bucket{{le=\"{bound}\"}} {until}\n"));
    }
    let whole = seconds(sum(|counts| &counts.microseconds));
    out.push_str(&format!("evencrumb_request_seconds_sum {whole}\nevencrumb_request_seconds_count {until}\n"));
}

fn seconds(microseconds: u64) -> String {
    Duration::from_micros(microseconds).as_secs_f64().to_string()
}
