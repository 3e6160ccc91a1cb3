//! Whether the service lives, and whether it should be sent questions: not any more once it has been told to stop.

use std::sync::atomic::Ordering;

use actix_web::http::header;
use actix_web::{HttpRequest, HttpResponse};

use super::House;
use super::problem::Problem;
use crate::quantity::Code;

pub fn live(_: &'static House, _: &HttpRequest) -> Result<HttpResponse, Problem> {
    Ok(well("{\"status\":\"live\"}"))
}

pub fn ready(house: &'static House, _: &HttpRequest) -> Result<HttpResponse, Problem> {
    if house.draining.load(Ordering::Relaxed) {
        return Err(Problem::new(Code::Overloaded, "a service that is being stopped", "another instance"));
    }
    Ok(well("{\"status\":\"ready\"}"))
}

fn well(body: &'static str) -> HttpResponse {
    HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, "application/json"))
        .insert_header((header::CACHE_CONTROL, "no-store"))
        .body(body)
}
