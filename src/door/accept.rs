//! What may come in and what may go out: the Content-Type of a question, and the form of its answer by `format` in the address, or else by Accept.

use actix_web::http::header::{self, HeaderMap};

use super::problem::Problem;
use crate::quantity::Code;

/// The form of an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    Json,
    /// The bare figure, for a spreadsheet cell.
    Text,
    /// Answers a line, by one name or the other.
    Lines,
    Jsonl,
    Csv,
    Html,
}

impl Form {
    pub const fn media_type(self) -> &'static str {
        match self {
            Self::Json => "application/json",
            Self::Text => "text/plain; charset=utf-8",
            Self::Lines => "application/x-ndjson",
            Self::Jsonl => "application/jsonl",
            Self::Csv => "text/csv; charset=utf-8; header=present",
            Self::Html => "text/html; charset=utf-8",
        }
    }

    /// As `format` in an address has it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Json => "json",
            Self::Text => "text",
            Self::Lines => "ndjson",
            Self::Jsonl => "jsonl",
            Self::Csv => "csv",
            Self::Html => "html",
        }
    }

    const fn parts(self) -> (&'static str, &'static str) {
        match self {
            Self::Json => ("application", "json"),
            Self::Text => ("text", "plain"),
            Self::Lines => ("application", "x-ndjson"),
            Self::Jsonl => ("application", "jsonl"),
            Self::Csv => ("text", "csv"),
            Self::Html => ("text", "html"),
        }
    }
}

/// The form wanted by the Accept header among those offered; the first offered where all are alike.
pub fn negotiated(headers: &HeaderMap, offered: &[Form]) -> Result<Form, Problem> {
    let mut lines = headers.get_all(header::ACCEPT).peekable();
    let Some(first) = lines.peek() else { return Ok(offered[0]) };
    if matches!(first.as_bytes(), b"*/*" | b"application/json") && headers.get_all(header::ACCEPT).count() == 1 {
        return Ok(offered[0]);
    }
    let ranges: Vec<Range<'_>> =
        lines.filter_map(|line| line.to_str().ok()).flat_map(|line| line.split(',')).filter_map(Range::read).collect();
    let best = offered.iter().map(|form| (weight(&ranges, *form), *form)).rev().max_by(|a, b| a.0.total_cmp(&b.0));
    match best {
        Some((weight, form)) if weight > 0.0 => Ok(form),
        // An error reader may name only the type of errors; the good answer is the same JSON.
        _ if ranges.iter().any(|range| range.is("application", "problem+json") && range.weight > 0.0) => Ok(Form::Json),
        _ => Err(not_acceptable(offered)),
    }
}

fn not_acceptable(offered: &[Form]) -> Problem {
    let forms: Vec<_> = offered.iter().map(|form| form.media_type()).collect();
    Problem::new(Code::NotAcceptable, "an Accept header that names none of these forms", forms.join(" or "))
}

struct Range<'h> {
    kind: &'h str,
    subkind: &'h str,
    weight: f32,
}

impl<'h> Range<'h> {
    fn read(text: &'h str) -> Option<Self> {
        let mut parts = text.split(';').map(str::trim);
        let (kind, subkind) = parts.next()?.split_once('/')?;
        let weight = parts
            .find_map(|part| part.strip_prefix("q=").or_else(|| part.strip_prefix("Q=")))
            .and_then(|q| q.parse::<f32>().ok())
            .filter(|q| (0.0..=1.0).contains(q))
            .unwrap_or(1.0);
        Some(Self { kind, subkind, weight })
    }

    fn is(&self, kind: &str, subkind: &str) -> bool {
        self.kind.eq_ignore_ascii_case(kind) && self.subkind.eq_ignore_ascii_case(subkind)
    }

    /// How closely the range names a form: 3 by name, 2 by its kind, 1 with everything else.
    fn closeness(&self, form: Form) -> Option<u8> {
        let (kind, subkind) = form.parts();
        if self.is(kind, subkind) {
            Some(3)
        } else if self.is(kind, "*") {
            Some(2)
        } else {
            self.is("*", "*").then_some(1)
        }
    }
}

fn weight(ranges: &[Range<'_>], form: Form) -> f32 {
    let named = ranges.iter().filter_map(|range| range.closeness(form).map(|close| (close, range.weight)));
    named.max_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))).map_or(0.0, |(_, weight)| weight)
}

/// What a body is: JSON, lines of JSON by either name, or a table where the calculation is flat. Everything else is refused.
pub fn body_form(headers: &HeaderMap, flat: bool) -> Result<Form, Problem> {
    if let Some(coding) = headers.get(header::CONTENT_ENCODING)
        && !coding.as_bytes().eq_ignore_ascii_case(b"identity")
    {
        return Err(Problem::new(Code::UnsupportedMediaType, "a body with a Content-Encoding", "a body that is not compressed"));
    }
    let Some(given) = headers.get(header::CONTENT_TYPE) else {
        return Err(Problem::new(Code::UnsupportedMediaType, "no Content-Type", accepted(flat)));
    };
    // Nearly all say just this.
    if given.as_bytes() == b"application/json" {
        return Ok(Form::Json);
    }
    let given = given.to_str();
    let forms = [Form::Json, Form::Lines, Form::Jsonl, Form::Csv];
    let named = given.as_ref().ok().and_then(|text| forms.into_iter().find(|form| (flat || *form != Form::Csv) && names(text, *form)));
    named.ok_or_else(|| {
        let found = format!("Content-Type: {}", given.as_deref().unwrap_or("bytes that are no text"));
        let in_other_letters = given.as_ref().is_ok_and(|text| text.to_ascii_lowercase().contains("charset="));
        let accepted = accepted(flat).to_owned() + if in_other_letters { "; each in UTF-8" } else { "" };
        Problem::new(Code::UnsupportedMediaType, found, accepted)
    })
}

/// One message of JSON and nothing else, for doors that know no other form.
pub fn json_body(headers: &HeaderMap) -> Result<(), Problem> {
    const ALONE: &str = "Content-Type: application/json";
    match body_form(headers, false) {
        Ok(Form::Json) => Ok(()),
        Ok(other) => Err(Problem::new(Code::UnsupportedMediaType, format!("Content-Type: {}", other.media_type()), ALONE)),
        Err(problem) => Err(problem.accepting_instead(accepted(false), ALONE)),
    }
}

const fn accepted(flat: bool) -> &'static str {
    if flat {
        "Content-Type: application/json; for many, application/x-ndjson or text/csv"
    } else {
        "Content-Type: application/json; for many, application/x-ndjson"
    }
}

/// Whether a Content-Type names this form, in UTF-8.
fn names(text: &str, form: Form) -> bool {
    let mut parts = text.split(';').map(str::trim);
    let (kind, subkind) = form.parts();
    let named = parts.next().and_then(|named| named.split_once('/'));
    named.is_some_and(|(first, second)| first.eq_ignore_ascii_case(kind) && second.eq_ignore_ascii_case(subkind))
        && parts.all(|part| match part.split_once('=') {
            Some((name, value)) if name.eq_ignore_ascii_case("charset") => value.trim_matches('"').eq_ignore_ascii_case("utf-8"),
            _ => true,
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use actix_web::http::header::HeaderValue;

    fn asked(accept: &str) -> Option<Form> {
        let mut headers = HeaderMap::new();
        headers.insert(header::ACCEPT, HeaderValue::from_str(accept).ok()?);
        negotiated(&headers, &[Form::Json, Form::Text]).ok()
    }

    #[test]
    fn the_header_accept_is_weighed_by_its_q_values() {
        assert_eq!(asked("*/*"), Some(Form::Json));
        assert_eq!(asked("text/plain"), Some(Form::Text));
        assert_eq!(asked("text/*;q=0.5, application/json;q=0.4"), Some(Form::Text));
        assert_eq!(asked("text/plain;q=0.2, */*;q=0.1"), Some(Form::Text));
        assert_eq!(asked("application/problem+json"), Some(Form::Json));
        assert_eq!(asked("image/png"), None);
        assert_eq!(asked("application/json;q=0"), None);
        assert_eq!(asked("application/json;q=NaN"), Some(Form::Json));
    }

    #[test]
    fn json_in_utf_8_is_read_and_nothing_else() {
        for (given, good) in [
            ("application/json", true),
            ("Application/JSON; charset=UTF-8", true),
            ("application/json;charset=\"utf-8\"", true),
            ("application/json; charset=utf-16", false),
            ("text/plain", false),
            ("application/x-www-form-urlencoded", false),
        ] {
            assert_eq!(names(given, Form::Json), good, "{given}");
        }
    }
}
