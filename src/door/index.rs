//! The front page: what can be asked here, and where.

use actix_web::http::header;
use actix_web::{HttpRequest, HttpResponse};
use serde::Serialize;

use super::accept::{Form, negotiated};
use super::problem::Problem;
use super::{House, chat, tables};
use crate::calculation::CALCULATIONS;

/// An answer depends on the question and the tables alone, but the same address may meet other tables after an upgrade.
pub const CALCULATED: &str = "no-cache";

#[derive(Serialize)]
struct Index {
    name: &'static str,
    version: &'static str,
    tables_version: &'static str,
    calculations: Vec<Line>,
    tables: Vec<&'static str>,
    document: &'static str,
    docs: &'static str,
    chat: &'static str,
    tools: &'static str,
    health: [&'static str; 2],
    metrics: &'static str,
    limits: &'static str,
    problems: &'static str,
    links: Vec<Link>,
}

#[derive(Serialize)]
struct Line {
    path: &'static str,
    summary: &'static str,
}

#[derive(Serialize)]
struct Link {
    rel: &'static str,
    href: &'static str,
}

pub fn page(house: &'static House, request: &HttpRequest) -> Result<HttpResponse, Problem> {
    if negotiated(request.headers(), &[Form::Json, Form::Html])? == Form::Html {
        return Ok(HttpResponse::SeeOther()
            .insert_header((header::LOCATION, "docs"))
            .insert_header((header::CACHE_CONTROL, "no-cache"))
            .finish());
    }
    let index = Index {
        name: "evencrumb",
        version: env!("CARGO_PKG_VERSION"),
        tables_version: house.reference.version,
        calculations: CALCULATIONS.iter().map(|entry| Line { path: entry.path(), summary: entry.summary }).collect(),
        tables: tables::TABLES.iter().map(|table| table.path).collect(),
        document: "/openapi.json",
        docs: "/docs",
        chat: chat::PATH,
        tools: "/tools.json",
        health: ["/health/live", "/health/ready"],
        metrics: "/metrics",
        limits: "/v1/limits",
        problems: "/v1/problems",
        links: vec![
            Link { rel: "service-desc", href: "/openapi.json" },
            Link { rel: "service-doc", href: "/docs" },
            Link { rel: "status", href: "/health/ready" },
        ],
    };
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, Form::Json.media_type()))
        .insert_header((header::CACHE_CONTROL, "no-cache"))
        .body(tables::json(&index)))
}
