//! Answers with the document and with the page, as they were compiled in: with a strong ETag, and 304 to who has them.

use std::sync::OnceLock;

use actix_web::http::header;
use actix_web::{HttpRequest, HttpResponse};

use super::{PAGE, POLICY, SCRIPT, STYLE};
use crate::door::problem::Problem;
use crate::door::{House, openapi, query, tables};

/// The document.
pub fn document(_: &'static House, request: &HttpRequest) -> Result<HttpResponse, Problem> {
    given(request, openapi::document(), "application/json", openapi::etag())
}

/// The page.
pub fn page(_: &'static House, request: &HttpRequest) -> Result<HttpResponse, Problem> {
    static TAG: OnceLock<String> = OnceLock::new();
    given(request, PAGE.as_bytes(), "text/html; charset=utf-8", tag(&TAG, PAGE))
}

/// Its script.
pub fn script(_: &'static House, request: &HttpRequest) -> Result<HttpResponse, Problem> {
    static TAG: OnceLock<String> = OnceLock::new();
    given(request, SCRIPT.as_bytes(), "text/javascript; charset=utf-8", tag(&TAG, SCRIPT))
}

/// Its look.
pub fn style(_: &'static House, request: &HttpRequest) -> Result<HttpResponse, Problem> {
    static TAG: OnceLock<String> = OnceLock::new();
    given(request, STYLE.as_bytes(), "text/css; charset=utf-8", tag(&TAG, STYLE))
}

fn tag(known: &'static OnceLock<String>, text: &str) -> &'static str {
    known.get_or_init(|| openapi::strong_tag(text.as_bytes()))
}

/// Fixed bytes, or 304 to who has them.
pub fn given(request: &HttpRequest, bytes: &'static [u8], kind: &str, etag: &str) -> Result<HttpResponse, Problem> {
    let (_, rest) = query::read(request.query_string())?;
    query::nothing_else(&rest, &[])?;
    let known = tables::holds(request.headers(), etag);
    let mut answer = if known { HttpResponse::NotModified() } else { HttpResponse::Ok() };
    answer.insert_header((header::ETAG, etag)).insert_header((header::CACHE_CONTROL, "no-cache"));
    if known {
        return Ok(answer.finish());
    }
    Ok(answer
        .insert_header((header::CONTENT_TYPE, kind))
        .insert_header((header::CONTENT_SECURITY_POLICY, POLICY))
        .insert_header((header::REFERRER_POLICY, "no-referrer"))
        .body(bytes))
}
