//! The floor: an actix-web service with one route a calculation that reads the question's type, writes an answer computed once, and logs the same
//! line as the service does.

use std::time::Instant;

use actix_web::rt::System;
use actix_web::web::{self, Bytes};
use actix_web::{App, HttpResponse, HttpServer};
use evencrumb::calculation::{CALCULATIONS, Entry, Floor, Options};
use evencrumb::reference::Reference;
use evencrumb::telemetry;
use tracing::metadata::LevelFilter;

use crate::questions::Questions;

/// Serves until it is ended.
pub fn serve(address: &str) {
    let reference = Reference::load().expect("the tables");
    let _log = telemetry::start(LevelFilter::INFO);
    let server = HttpServer::new(move || {
        CALCULATIONS.iter().filter(|entry| Questions::known(entry.name)).fold(App::new(), |app, entry| {
            let floor: &'static Floor = Box::leak(Box::new(floor(entry, reference)));
            app.route(entry.path(), web::post().to(move |body: Bytes| std::future::ready(answer(entry, floor, &body))))
        })
    });
    System::new().block_on(server.workers(1).bind(address).expect("the address").run()).expect("a service");
}

/// The fixed answer is one of the usual size.
fn floor(entry: &Entry, reference: &'static Reference) -> Floor {
    let size = |body: &String| entry.answer(body.as_bytes(), reference, Options::default()).expect("a good question").len();
    let mut bodies = Questions::of(entry.name).bodies;
    bodies.sort_by_cached_key(size);
    entry.floor(bodies[bodies.len() / 2].as_bytes(), reference).expect("a good question")
}

fn answer(entry: &Entry, floor: &Floor, body: &[u8]) -> HttpResponse {
    let begun = Instant::now();
    let answer = floor(body).expect("a good question");
    let bytes = answer.len();
    // Under the service's own name: the log keeps only its lines, and a floor that logs nothing would be no floor.
    tracing::info!(
        target: "evencrumb::bare",
        method = "POST",
        route = entry.path(),
        status = 200,
        code = None::<&str>,
        duration_ms = (begun.elapsed().as_micros() as f64) / 1000.0,
        bytes,
        request_id = "0123456789abcdef",
        "request"
    );
    HttpResponse::Ok().content_type("application/json").body(answer)
}
