//! What a collector reads at `/metrics`, in the text of OpenMetrics: how long requests took, by path and status, and what is in work just now. The names are
//! those of OpenTelemetry's conventions for HTTP, where there are any.

use std::sync::LazyLock;
use std::sync::atomic::Ordering;
use std::time::Duration;

use actix_web::http::header;
use actix_web::{HttpRequest, HttpResponse};
use prometheus_client::encoding::{EncodeLabelSet, text};
use prometheus_client::metrics::family::Family;
use prometheus_client::metrics::gauge::ConstGauge;
use prometheus_client::metrics::histogram::Histogram;
use prometheus_client::metrics::info::Info;
use prometheus_client::registry::{Registry, Unit};

use super::bulk::room::PIECE;
use super::problem::Problem;
use super::{House, query};

/// Of which kind a request was: the template of its path, never the path itself, so that the kinds stay few whatever is asked.
#[derive(Clone, Debug, PartialEq, Eq, Hash, EncodeLabelSet)]
struct Kind {
    http_route: &'static str,
    http_response_status_code: u16,
}

/// The bounds of the times, in seconds: most answers take less than the first.
const BOUNDS: [f64; 7] = [0.0001, 0.0005, 0.002, 0.01, 0.05, 0.25, 1.0];

static TOOK: LazyLock<Family<Kind, Histogram>> = LazyLock::new(|| Family::new_with_constructor(|| Histogram::new(BOUNDS)));

/// How long requests of one kind took.
pub struct Took(Histogram);

impl Took {
    pub fn count(&self, time: Duration) {
        self.0.observe(time.as_secs_f64());
    }
}

/// The requests of one kind.
pub fn of(route: &'static str, status: u16) -> Took {
    Took(TOOK.get_or_create(&Kind { http_route: route, http_response_status_code: status }).clone())
}

pub fn page(house: &'static House, request: &HttpRequest) -> Result<HttpResponse, Problem> {
    let (_, rest) = query::read(request.query_string())?;
    query::nothing_else(&rest, &[])?;
    let mut out = String::with_capacity(8 * 1024);
    let written = text::encode(&mut out, &registry(house));
    debug_assert!(written.is_ok(), "into memory everything can be written");
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, "application/openmetrics-text; version=1.0.0; charset=utf-8"))
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .body(out))
}

/// All that is told, as it stands now.
fn registry(house: &House) -> Registry {
    let mut registry = Registry::default();
    let took = "From the head of a request to the beginning of its answer; 499 is a caller who went before it";
    registry.register_with_unit("http_server_request_duration", took, Unit::Seconds, TOOK.clone());
    let ready = !house.draining.load(Ordering::Relaxed);
    for (name, help, value) in [
        ("evencrumb_questions_in_work", "Questions in work or waiting", house.gate.inside() as u64),
        (
            "evencrumb_bulk_places_free",
            "Requests with many questions that could be worked on beside the others",
            house.bulk.available_permits() as u64,
        ),
        ("evencrumb_bulk_room_free_bytes", "Room for lines that are held", (house.room.available_permits() * PIECE) as u64),
        ("evencrumb_ready", "1, and 0 once it has been told to stop", u64::from(ready)),
    ] {
        registry.register(name, help, ConstGauge::new(value));
    }
    let build = Info::new([("version", env!("CARGO_PKG_VERSION")), ("tables", house.reference.version)].to_vec());
    registry.register("evencrumb_build", "Which program, on which version of the tables", build);
    registry
}
