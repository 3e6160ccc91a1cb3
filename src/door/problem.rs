//! Problem details (RFC 9457): the only place where a cause of refusal has a status code.

use actix_web::HttpResponse;
use actix_web::http::StatusCode;
use actix_web::http::header::{self, HeaderName, HeaderValue};
use serde::Serialize;

use super::accept::Form;
use super::bulk;
use super::query::OURS;
use crate::calculation::Refusal;
use crate::quantity::{Code, Fault, Faults, Pointer, nearest};

/// The header that repeats the code, so that logs and proxies see it.
pub const CODE_HEADER: HeaderName = HeaderName::from_static("problem-code");

/// The status of each cause. Exhaustive on purpose: a new cause does not compile until it has one.
pub const fn status(code: Code) -> StatusCode {
    match code {
        Code::NotJson | Code::NotUtf8 | Code::ByteOrderMark | Code::BodyMissing | Code::TooDeep | Code::BadRequest => {
            StatusCode::BAD_REQUEST
        }
        Code::NotAnObject
        | Code::UnknownField
        | Code::MissingField
        | Code::RepeatedField
        | Code::WrongType
        | Code::TooMany
        | Code::TextTooLong
        | Code::UnknownWord
        | Code::UnreadableAmount
        | Code::AmbiguousNumber
        | Code::UnitMissing
        | Code::UnknownUnit
        | Code::WrongUnit
        | Code::OutOfRange
        | Code::BeyondNumbers
        | Code::UnknownIngredient
        | Code::IngredientNeeded
        | Code::NoDensity
        | Code::NotCounted
        | Code::UnknownPan
        | Code::ImpossiblePan
        | Code::DimensionNeeded
        | Code::ExactlyOne
        | Code::NotTogether
        | Code::UnknownPart
        | Code::UnknownStyle
        | Code::NoBase
        | Code::EmptyFormula
        | Code::NothingLeft
        | Code::MissingFigure
        | Code::TablesChanged => StatusCode::UNPROCESSABLE_ENTITY,
        Code::NotFound => StatusCode::NOT_FOUND,
        Code::MethodNotAllowed => StatusCode::METHOD_NOT_ALLOWED,
        Code::NotAcceptable => StatusCode::NOT_ACCEPTABLE,
        Code::UnsupportedMediaType => StatusCode::UNSUPPORTED_MEDIA_TYPE,
        Code::TooLarge => StatusCode::PAYLOAD_TOO_LARGE,
        Code::AddressTooLong => StatusCode::URI_TOO_LONG,
        Code::HeadTooLarge => StatusCode::REQUEST_HEADER_FIELDS_TOO_LARGE,
        Code::TooSlow => StatusCode::REQUEST_TIMEOUT,
        Code::Overloaded => StatusCode::SERVICE_UNAVAILABLE,
        Code::OurFault => StatusCode::INTERNAL_SERVER_ERROR,
    }
}

/// A refusal on its way to the caller.
#[derive(Debug)]
pub struct Problem {
    code: Code,
    faults: Faults,
    allow: Option<&'static str>,
    request_id: Option<String>,
    close: bool,
}

#[derive(Serialize)]
struct Body<'p> {
    r#type: String,
    title: &'static str,
    status: u16,
    code: &'static str,
    detail: String,
    total: usize,
    faults: Vec<Row<'p>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    request_id: Option<&'p str>,
}

#[derive(Serialize)]
struct Row<'p> {
    pointer: &'p str,
    code: &'static str,
    found: &'p str,
    accepted: &'p str,
    detail: &'p str,
    #[serde(rename = "try", skip_serializing_if = "<[_]>::is_empty")]
    attempts: &'p [String],
}

/// Told of what is asked of the door, and is never a field of a question.
pub const OF_THE_ADDRESS: &str =
    "It is no field of a question: write it in the address, behind the question mark; on the command line as an option.";

fn is_of_the_address(name: &str) -> bool {
    [&OURS[..], bulk::OF_LISTS, bulk::OF_LINES, bulk::OF_TABLES].iter().any(|names| names.contains(&name))
}

impl Problem {
    /// A refusal of the request as a whole.
    #[cold]
    pub fn new(code: Code, found: impl Into<String>, accepted: impl Into<String>) -> Self {
        Fault::new(&Pointer::ROOT, code, found, accepted).into()
    }

    /// A fault of ours, which no question is to blame for.
    #[cold]
    pub fn ours() -> Self {
        Self::new(Code::OurFault, "a fault of ours", "the same question again")
    }

    /// What may be asked by instead, for a method that is not allowed.
    #[must_use]
    pub fn allowing(mut self, methods: &'static str) -> Self {
        self.allow = Some(methods);
        self
    }

    #[must_use]
    pub fn of_request(mut self, id: &str) -> Self {
        self.request_id = Some(id.to_owned());
        self
    }

    /// The connection cannot be used again: what follows on it is no request.
    #[must_use]
    pub fn closing(mut self) -> Self {
        self.close = true;
        self
    }

    pub fn code(&self) -> Code {
        self.code
    }

    pub fn faults(&self) -> &Faults {
        &self.faults
    }

    /// As bytes.
    pub fn body(&self) -> Vec<u8> {
        let body = Body {
            r#type: format!("/v1/problems/{}", self.code.as_str()),
            title: self.code.title(),
            status: status(self.code).as_u16(),
            code: self.code.as_str(),
            detail: self.detail(),
            total: self.faults.total(),
            faults: self.faults.iter().map(row).collect(),
            request_id: self.request_id.as_deref(),
        };
        // Texts and whole numbers only: nothing here can fail to be written.
        serde_json::to_vec(&body).unwrap_or_default()
    }

    /// One sentence or two for who reads nothing else.
    pub fn detail(&self) -> String {
        detail(&self.faults)
    }

    /// In an address the door's own names stand beside the fields: a name that is neither may be meant as either.
    #[must_use]
    #[cold]
    pub fn beside(mut self, ours: &[&'static str]) -> Self {
        for fault in self.faults.iter_mut().filter(|fault| fault.code == Code::UnknownField) {
            fault.accepted.push_str(&format!("; and for the answer {}", ours.join(", ")));
            if fault.detail == OF_THE_ADDRESS {
                fault.detail = "Leave it out: it is asked only of many questions at once.".to_owned();
            }
            let near = nearest(&fault.found.to_lowercase(), ours.iter().copied(), 1);
            fault.attempts.extend(near.into_iter().map(str::to_owned));
        }
        self
    }

    /// Where less is accepted than elsewhere.
    #[must_use]
    #[cold]
    pub fn accepting_instead(mut self, elsewhere: &str, here: &str) -> Self {
        self.faults.iter_mut().for_each(|fault| fault.accepted = fault.accepted.replacen(elsewhere, here, 1));
        self
    }

    /// Of a question that is one line of many: its own number is told beside it.
    #[must_use]
    #[cold]
    pub fn of_one_line(mut self) -> Self {
        const WHOLE: &str = "Each question stands whole on a line of its own";
        let placed = |fault: &&mut Fault| matches!(fault.code, Code::NotJson | Code::NotUtf8 | Code::TooDeep | Code::NotAnObject);
        for fault in self.faults.iter_mut().filter(placed) {
            fault.found = fault.found.replacen("line 1, column", "column", 1);
            fault.detail = fault.detail.replacen("line 1, column", "column", 1);
            match fault.code {
                Code::NotAnObject if fault.found.starts_with("a list") => {
                    fault.detail = format!("{WHOLE}; a list of questions is a body by itself, as application/json.");
                }
                // A question that is laid out over several lines ends too soon on its first, and on the others begins too late.
                Code::NotJson if fault.found == "the end of the text" => fault.detail = format!("{} {WHOLE}.", fault.detail),
                Code::NotJson if fault.found.starts_with("more text") => fault.detail = format!("{WHOLE}, and nothing behind it."),
                _ => {}
            }
        }
        self
    }

    /// The faults, as those of one item of a list.
    pub fn within(self, index: usize) -> Faults {
        let mut within = Faults::new();
        within.count_beside(self.faults.total() - self.faults.iter().count());
        for fault in self.faults.iter() {
            within.push(Fault { pointer: format!("/{index}{}", fault.pointer), ..fault.clone() });
        }
        within
    }

    #[cold]
    pub fn response(&self) -> HttpResponse {
        self.answered("application/problem+json", self.body())
    }

    /// For a cell or a person that asked for text: what is wrong and what to do, in a sentence or two.
    #[cold]
    pub fn in_words(&self) -> HttpResponse {
        self.answered(Form::Text.media_type(), self.detail().into_bytes())
    }

    fn answered(&self, media_type: &'static str, body: Vec<u8>) -> HttpResponse {
        let mut response = HttpResponse::build(status(self.code));
        response
            .insert_header((header::CONTENT_TYPE, media_type))
            .insert_header((header::CACHE_CONTROL, "no-store"))
            .insert_header((CODE_HEADER, HeaderValue::from_static(self.code.as_str())));
        if let Some(methods) = self.allow {
            response.insert_header((header::ALLOW, methods));
        }
        if self.code == Code::Overloaded {
            response.insert_header((header::RETRY_AFTER, "1"));
        }
        if self.close {
            response.force_close();
        }
        response.body(body)
    }
}

impl From<Fault> for Problem {
    fn from(fault: Fault) -> Self {
        Faults::from(fault).into()
    }
}

impl From<Faults> for Problem {
    fn from(faults: Faults) -> Self {
        let code = faults.iter().next().map_or(Code::OurFault, |fault| fault.code);
        Self { code, faults, allow: None, request_id: None, close: false }
    }
}

impl From<Refusal> for Problem {
    fn from(refusal: Refusal) -> Self {
        match refusal {
            Refusal::Unreadable(faults) => faults.into(),
            Refusal::Faulty(mut faults) => {
                for fault in faults.iter_mut().filter(|fault| fault.code == Code::UnknownField) {
                    if fault.pointer.strip_prefix('/').is_some_and(is_of_the_address) {
                        OF_THE_ADDRESS.clone_into(&mut fault.detail);
                        fault.attempts.clear();
                    }
                }
                faults.into()
            }
        }
    }
}

fn row(fault: &Fault) -> Row<'_> {
    Row {
        pointer: &fault.pointer,
        code: fault.code.as_str(),
        found: &fault.found,
        accepted: &fault.accepted,
        detail: &fault.detail,
        attempts: &fault.attempts,
    }
}

/// One sentence or two for who reads nothing else: the first fault whole, and how many there are.
fn detail(faults: &Faults) -> String {
    let Some(first) = faults.iter().next() else { return Code::OurFault.mend().to_owned() };
    let place = if first.pointer.is_empty() { String::new() } else { format!("At {}: ", first.pointer) };
    let more = match faults.total() {
        1 => String::new(),
        total => format!(" This is the first of {total} faults."),
    };
    format!("{place}{}{more}", told(first, TOLD))
}

/// So many of what may be tried are told in the one sentence, which must fit into a cell.
const TOLD: usize = 3;

/// One fault in words that alone suffice to mend it: what was found, what is accepted, what to do, and so many of the values that would be accepted.
pub fn told(fault: &Fault, most: usize) -> String {
    let stop = if fault.detail.ends_with('.') { "" } else { "." };
    let attempts: Vec<String> = fault.attempts.iter().take(most).map(|attempt| quoted(fault.code, attempt)).collect();
    let attempts = if attempts.is_empty() { String::new() } else { format!(" Try: {}.", attempts.join(", ")) };
    format!("found {}; accepted is {}. {}{stop}{attempts}", fault.found, fault.accepted, fault.detail)
}

/// A text stands in quotes; a number, a truth or an object that is wanted in place of a text does not.
fn quoted(code: Code, attempt: &str) -> String {
    if code == Code::WrongType || attempt.starts_with(['{', '[']) { attempt.to_owned() } else { format!("\"{attempt}\"") }
}
