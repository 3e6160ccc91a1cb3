//! What is done around every request: heads that could mislead are refused, a request id is given, the answer gets what every answer carries, one line is logged, and a fault of ours costs one answer and no more.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::pin::Pin;
use std::sync::atomic::{AtomicU64, Ordering};
use std::task::{Context, Poll};
use std::time::{Duration, Instant};

use actix_web::HttpResponse;
use actix_web::body::{BodySize, MessageBody};
use actix_web::dev::RequestHead;
use actix_web::http::Method;
use actix_web::http::header::{self, HeaderMap, HeaderName, HeaderValue};

use super::problem::{CODE_HEADER, Problem, status};
use super::routes::Asked;
use super::{House, gate, limits, metrics, routes};
use crate::quantity::Code;

const REQUEST_ID: HeaderName = HeaderName::from_static("x-request-id");
const LONGEST_ID: usize = 128;
/// The status in the log of a request whose caller went away; nobody is sent it.
pub const LEFT: u16 = 499;
pub const GOOD: u16 = 200;

// What answers carry in the same words is made once.
static LINK: HeaderValue = HeaderValue::from_static("</openapi.json>; rel=\"service-desc\"");
static NO_SNIFFING: HeaderValue = HeaderValue::from_static("nosniff");
static VARIES: HeaderValue = HeaderValue::from_static("Accept, Origin");

/// What is kept of a request until its answer.
pub struct Watched {
    begun: Instant,
    id: RequestId,
    method: Method,
    route: &'static str,
    /// The calculation that is asked, if one is.
    asked: Option<&'static Asked>,
    origin: Option<HeaderValue>,
    preflight: bool,
}

impl Watched {
    /// The Origin header is kept only where origins are set.
    pub fn new(origins: &[String], head: &RequestHead, asked: Option<&'static Asked>) -> Self {
        let granting = !origins.is_empty();
        Self {
            begun: Instant::now(),
            id: given_id(&head.headers).map_or_else(own_id, RequestId::Given),
            method: head.method.clone(),
            route: asked.map_or_else(|| routes::template(head.uri.path()), |asked| asked.path),
            asked,
            origin: granting.then(|| head.headers.get(header::ORIGIN).cloned()).flatten(),
            preflight: granting && head.method == Method::OPTIONS && head.headers.contains_key(header::ACCESS_CONTROL_REQUEST_METHOD),
        }
    }

    /// The request's id, for what is logged of it beside its one line.
    pub fn id(&self) -> RequestId {
        self.id.clone()
    }

    /// A problem of our own, where answering failed.
    #[cold]
    pub fn failed(&self) -> HttpResponse {
        Problem::ours().of_request(self.id.text()).response()
    }

    /// What every answer carries; then its line in the log.
    pub fn finish(&self, house: &House, response: &mut HttpResponse) {
        let calculated = self.calculated(response.status().as_u16()).is_some();
        let headers = response.headers_mut();
        headers.insert(REQUEST_ID, self.id.header());
        // Who has been answered by a calculation knows the way.
        if !calculated {
            headers.insert(header::LINK, LINK.clone());
        }
        headers.insert(header::X_CONTENT_TYPE_OPTIONS, NO_SNIFFING.clone());
        headers.insert(header::VARY, VARIES.clone());
        self.grant(&house.settings.cors_origins, headers);
        if house.draining.load(Ordering::Relaxed) {
            response.head_mut().set_connection_type(actix_web::http::ConnectionType::Close);
        }
        self.log(response, calculated);
    }

    /// The calculation whose good answer this is: nearly all that is given.
    fn calculated(&self, status: u16) -> Option<&'static Asked> {
        self.asked.filter(|_| status == GOOD)
    }

    /// The grant to pages of other origins, where the settings give one.
    fn grant(&self, origins: &[String], headers: &mut HeaderMap) {
        let Some(origin) = &self.origin else { return };
        let granted = if origins.iter().any(|known| known == "*") {
            HeaderValue::from_static("*")
        } else if origins.iter().any(|known| known.as_bytes() == origin.as_bytes()) {
            origin.clone()
        } else {
            return;
        };
        headers.insert(header::ACCESS_CONTROL_ALLOW_ORIGIN, granted);
        headers.insert(header::ACCESS_CONTROL_EXPOSE_HEADERS, HeaderValue::from_static("ETag, Problem-Code, Retry-After, X-Request-Id"));
        if self.preflight {
            headers.insert(header::ACCESS_CONTROL_ALLOW_METHODS, HeaderValue::from_static("GET, HEAD, POST, QUERY"));
            headers.insert(
                header::ACCESS_CONTROL_ALLOW_HEADERS,
                HeaderValue::from_static("Content-Type, X-Request-Id, If-None-Match, Mcp-Protocol-Version, Mcp-Method, Mcp-Name"),
            );
            headers.insert(header::ACCESS_CONTROL_MAX_AGE, HeaderValue::from_static("600"));
        }
    }

    /// A line in the log for who went before the answer.
    #[cold]
    pub fn left(&self) {
        self.line(LEFT, Some("left"), 0);
    }

    fn log(&self, response: &HttpResponse, calculated: bool) {
        let bytes = match response.body().size() {
            BodySize::Sized(bytes) => bytes,
            BodySize::None | BodySize::Stream => 0,
        };
        let code = if calculated { None } else { response.headers().get(CODE_HEADER) };
        let code = code.and_then(|code| code.to_str().ok().map(str::to_owned));
        self.line(response.status().as_u16(), code.as_deref(), bytes);
    }

    fn line(&self, status: u16, code: Option<&str>, bytes: u64) {
        let method = match self.method {
            Method::GET | Method::HEAD | Method::POST | Method::OPTIONS | Method::PUT | Method::DELETE | Method::PATCH => {
                self.method.as_str()
            }
            _ if self.method.as_str() == routes::QUERY => routes::QUERY,
            _ => "other",
        };
        let took = self.begun.elapsed();
        gate::took(took);
        match self.calculated(status) {
            Some(asked) => asked.took().count(took),
            None => metrics::of(self.route, status).count(took),
        }
        tracing::info!(
            method,
            route = self.route,
            status,
            code,
            duration_ms = (took.as_micros() as f64) / 1000.0,
            bytes,
            request_id = self.id.text(),
            "request"
        );
    }
}

/// The line in the log for what the HTTP reader refused: nothing of it was read.
#[cold]
pub fn unread(id: &RequestId, code: Code, bytes: usize) {
    let status = status(code).as_u16();
    metrics::of(routes::NONE, status).count(Duration::ZERO);
    tracing::info!(method = "none", route = routes::NONE, status, code = code.as_str(), bytes, request_id = id.text(), "request");
}

/// Polls what answers a request; nothing where it fails by a panic: that costs one answer, and the process lives.
pub fn unharmed<A>(answering: Pin<&mut (impl Future<Output = A> + ?Sized)>, context: &mut Context<'_>) -> Poll<Option<A>> {
    catch_unwind(AssertUnwindSafe(|| answering.poll(context).map(Some))).unwrap_or(Poll::Ready(None))
}

/// Why a head is not answered: it is meant for a proxy, or too long.
pub fn refused(head: &RequestHead) -> Option<Problem> {
    if head.method == Method::CONNECT {
        return Some(
            Problem::new(Code::MethodNotAllowed, "the method CONNECT", "GET, HEAD, POST or QUERY")
                .allowing("GET, HEAD, POST, QUERY, OPTIONS")
                .closing(),
        );
    }
    if head.uri.authority().is_some() {
        return Some(Problem::new(Code::NotFound, "an address with a host in it, as for a proxy", "a path such as /v1/convert").closing());
    }
    let length = head.uri.path_and_query().map_or(0, |both| both.as_str().len());
    let long = || Problem::new(Code::AddressTooLong, format!("an address of {length} bytes"), format!("at most {} bytes", limits::ADDRESS));
    (length > limits::ADDRESS).then(long)
}

/// The caller's request id, if it is clean.
fn given_id(headers: &HeaderMap) -> Option<HeaderValue> {
    let id = headers.get(&REQUEST_ID)?;
    let clean = |b: &u8| b.is_ascii_alphanumeric() || matches!(b, b'.' | b'_' | b'-');
    ((1..=LONGEST_ID).contains(&id.len()) && id.as_bytes().iter().all(clean)).then(|| id.clone())
}

/// By what a request is told from others: the caller's word for it, or ours.
#[derive(Clone)]
pub enum RequestId {
    Given(HeaderValue),
    Own([u8; 16]),
}

impl RequestId {
    fn header(&self) -> HeaderValue {
        match self {
            Self::Given(id) => id.clone(),
            Self::Own(digits) => HeaderValue::from_bytes(digits).unwrap_or_else(|_| HeaderValue::from_static("none")),
        }
    }

    pub fn text(&self) -> &str {
        match self {
            Self::Given(id) => id.to_str().unwrap_or_default(),
            Self::Own(digits) => std::str::from_utf8(digits).unwrap_or_default(),
        }
    }
}

/// Sixteen hexadecimal digits: a beginning of this process's own, and a count.
pub fn own_id() -> RequestId {
    use std::hash::{BuildHasher, RandomState};
    use std::sync::LazyLock;
    static BEGINNING: LazyLock<u64> = LazyLock::new(|| RandomState::new().hash_one(std::process::id()));
    static COUNT: AtomicU64 = AtomicU64::new(0);
    const DIGITS: &[u8; 16] = b"0123456789abcdef";
    let number = BEGINNING.wrapping_add(COUNT.fetch_add(1, Ordering::Relaxed));
    RequestId::Own(std::array::from_fn(|at| DIGITS[(number >> (60 - 4 * at) & 15) as usize]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::pin::pin;
    use std::task::Waker;

    #[test]
    fn a_panic_while_answering_becomes_a_problem_of_our_own() {
        let answering = pin!(async { panic!("a test") });
        assert_eq!(unharmed::<()>(answering, &mut Context::from_waker(Waker::noop())), Poll::Ready(None));
        let mut head = RequestHead::default();
        head.headers.insert(REQUEST_ID, HeaderValue::from_static("order-17"));
        let answer = Watched::new(&[], &head, routes::calculation("/v1/convert")).failed();
        assert_eq!(answer.status(), 500);
        assert_eq!(answer.headers().get(CODE_HEADER), Some(&HeaderValue::from_static("our-fault")));
        let bytes = answer.into_body().try_into_bytes().expect("a whole body");
        assert!(String::from_utf8_lossy(&bytes).contains(r#""request_id":"order-17""#));
    }

    #[test]
    fn only_a_clean_request_id_is_taken_over() {
        let given = |text: &str| {
            let mut headers = HeaderMap::new();
            headers.insert(REQUEST_ID, HeaderValue::from_str(text).expect("a header"));
            given_id(&headers)
        };
        assert!(given("order-17_b.2").is_some());
        for wrong in ["", "a b", "<b>", "%0d%0a", &"x".repeat(129)] {
            assert!(given(wrong).is_none(), "{wrong}");
        }
        assert_ne!(own_id().text(), own_id().text());
    }
}
