//! The body of a request, read within its limits: how large it may be, how long it may take, how slowly it may come.

use std::task::Poll;
use std::time::Duration;

use actix_web::dev::Payload;
use actix_web::http::header::{self, HeaderMap};
use actix_web::web::{Bytes, BytesMut};
use futures_util::{FutureExt, StreamExt};
use tokio::time::{Instant, timeout_at};

use super::problem::Problem;
use crate::quantity::Code;
use crate::settings::Settings;

/// After half of the time a body must have come at this many bytes a second.
pub const LEAST_RATE: f64 = 1024.0;

/// Reads the body.
pub async fn read(headers: &HeaderMap, mut payload: Payload, settings: &Settings) -> Result<Bytes, Problem> {
    let limit = settings.body_bytes;
    let mut given_way = false;
    let mut begun = None;
    let mut whole = Bytes::new();
    let mut gathered = BytesMut::new();
    let mut length = 0;
    loop {
        let next = match payload.next().now_or_never() {
            Some(next) => Ok(next),
            // A body that came with its head is handed on as soon as we give way: the clock runs only where there is something to wait for.
            None if !given_way => {
                give_way().await;
                given_way = true;
                continue;
            }
            None => {
                // Whoever says at once that it is too much is not read to the end.
                if declared(headers).is_some_and(|declared| declared > limit as u64) {
                    return Err(too_large(headers, limit));
                }
                let begun = *begun.get_or_insert_with(Instant::now);
                Box::pin(timeout_at(begun + patience(length, settings.body_seconds), payload.next())).await
            }
        };
        match next {
            Err(_) => return Err(too_slow(settings.body_seconds)),
            Ok(None) => break,
            Ok(Some(Err(_))) => {
                return Err(broken_off());
            }
            Ok(Some(Ok(part))) => {
                length += part.len();
                if length > limit {
                    return Err(too_large(headers, limit));
                }
                // Most bodies come in one part, which then is not copied.
                if gathered.is_empty() && whole.is_empty() {
                    whole = part;
                } else {
                    if gathered.is_empty() {
                        gathered.reserve(
                            declared(headers)
                                .map_or(2 * length, |declared| usize::try_from(declared).map_or(limit, |declared| declared.min(limit))),
                        );
                        gathered.extend_from_slice(&std::mem::take(&mut whole));
                    }
                    gathered.extend_from_slice(&part);
                }
            }
        }
    }
    Ok(if gathered.is_empty() { whole } else { gathered.freeze() })
}

/// How long the head says that the body is.
pub fn declared(headers: &HeaderMap) -> Option<u64> {
    headers.get(header::CONTENT_LENGTH)?.to_str().ok()?.trim().parse().ok()
}

pub fn broken_off() -> Problem {
    Problem::new(Code::BadRequest, "a body that broke off or is wrongly framed", "a whole body").closing()
}

/// Lets the reader of this connection go on, without asking it to come back: it comes back by itself. Whenever it has handed on a part of a body it asks for the
/// answer in the same turn, and without one it does so when more arrives or when the wire looks at the connection. Asking would cost another turn for nothing.
async fn give_way() {
    let mut given = false;
    std::future::poll_fn(|_| if std::mem::replace(&mut given, true) { Poll::Ready(()) } else { Poll::Pending }).await;
}

/// How long after the beginning the next part may come.
fn patience(length: usize, most: Duration) -> Duration {
    let earned = Duration::from_secs_f64(length as f64 / LEAST_RATE);
    earned.clamp(most / 2, most)
}

fn too_large(headers: &HeaderMap, limit: usize) -> Problem {
    let found = declared(headers).map_or_else(|| "a larger body".to_owned(), |declared| format!("a body of {declared} bytes"));
    Problem::new(Code::TooLarge, found, format!("at most {limit} bytes")).closing()
}

fn too_slow(most: Duration) -> Problem {
    let accepted = format!("the whole body within {} seconds, after half of them at 1 KiB a second at least", most.as_secs_f64());
    Problem::new(Code::TooSlow, "a body that came too slowly", accepted).closing()
}
