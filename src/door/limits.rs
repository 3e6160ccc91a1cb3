//! What is allowed at most and at least: the very figures that refuse.

use actix_web::http::header;
use actix_web::{HttpRequest, HttpResponse};
use serde::{Serialize, Serializer};
use serde_json::Number;

use super::problem::Problem;
use super::{House, tables};
use crate::calculation::{DEPTH, ITEMS, TEXT};
use crate::quantity::{Faults, LARGEST, SMALLEST};
use crate::settings::Settings;

/// One limit.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Limit {
    pub name: &'static str,
    #[serde(serialize_with = "as_written")]
    pub value: f64,
    pub unit: &'static str,
    pub meaning: &'static str,
}

impl Limit {
    /// The figure as it is told.
    pub fn written(&self) -> Number {
        written(self.value)
    }
}

/// A whole figure without a point.
fn written(value: f64) -> Number {
    let whole = Number::from(value as i64);
    if value.fract() == 0.0 { whole } else { Number::from_f64(value).unwrap_or(whole) }
}

fn as_written<S: Serializer>(value: &f64, out: S) -> Result<S::Ok, S::Error> {
    written(*value).serialize(out)
}

const fn limit(name: &'static str, value: f64, unit: &'static str, meaning: &'static str) -> Limit {
    Limit { name, value, unit, meaning }
}

/// The longest address: path and query.
pub const ADDRESS: usize = 8192;
/// The largest head of a request, and the most header lines: what the HTTP reader takes.
pub const HEAD: usize = 131_072;
pub const HEADERS: usize = 96;

/// All limits under these settings.
pub fn limits(settings: &Settings) -> Vec<Limit> {
    vec![
        limit("body", settings.body_bytes as f64, "bytes", "the body of a question"),
        limit("address", ADDRESS as f64, "bytes", "path and query string"),
        limit("head", HEAD as f64, "bytes", "request line and headers together"),
        limit("headers", HEADERS as f64, "lines", "headers of a request"),
        limit("depth", DEPTH as f64, "levels", "lists and objects inside one another"),
        limit("items", ITEMS as f64, "items", "in one list"),
        limit("bulk-items", settings.items as f64, "questions", "in one list of questions"),
        limit("bulk-rows", settings.rows as f64, "rows", "of one table of questions"),
        limit("bulk-line", settings.line_bytes as f64, "bytes", "of one line of a stream, or one row of a table"),
        limit("bulk-held", settings.held_bytes as f64, "bytes", "of lines without stream=true, which are held until all have come"),
        limit("bulk", settings.bulk as f64, "requests", "with many questions worked on at once; all together hold so many times bulk-held"),
        limit("text", TEXT as f64, "characters", "in one text, such as a name or an amount"),
        limit("largest", LARGEST, "", "the largest figure of a question"),
        limit("smallest", SMALLEST, "", "the smallest figure of a question that is not 0"),
        limit("faults", Faults::MOST as f64, "faults", "told at once; all are counted"),
        limit("head-time", settings.head_seconds.as_secs_f64(), "s", "until the head of a request has come"),
        limit(
            "body-time",
            settings.body_seconds.as_secs_f64(),
            "s",
            "until the body has come; after half of it at 1 KiB a second at least",
        ),
        limit("write-time", settings.write_seconds.as_secs_f64(), "s", "until a reader that takes nothing of its answer is cut"),
        limit("idle-time", settings.idle_seconds.as_secs_f64(), "s", "until an idle connection is closed"),
        limit("wait-time", settings.wait().as_secs_f64(), "s", "that a question waits before it is refused with 503"),
        limit("connections", settings.connections as f64, "connections", "open at once"),
        limit("in-flight", settings.in_flight() as f64, "questions", "in work at once"),
        limit("queue", settings.queue() as f64, "questions", "waiting beyond those"),
    ]
}

pub fn page(house: &'static House, request: &HttpRequest) -> Result<HttpResponse, Problem> {
    tables::check(request)?;
    let body = tables::listed("limits", &limits(&house.settings));
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, "application/json"))
        .insert_header((header::CACHE_CONTROL, "no-cache"))
        .body(body))
}
