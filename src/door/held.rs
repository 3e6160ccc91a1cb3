//! A body in chunks that nobody reads to its end. The HTTP reader would listen to it for ever; held until the answer is out, it makes the reader close instead.

use std::cell::{Cell, RefCell};
use std::pin::Pin;
use std::rc::Rc;
use std::task::{Context, Poll};
use std::time::Duration;

use actix_http::Request;
use actix_web::dev::Payload;
use actix_web::error::PayloadError;
use actix_web::http::header;
use actix_web::{rt, web::Bytes};
use futures_util::Stream;

/// Longer than the answer and the time for which a refused sender is still listened to.
const HOLD: Duration = Duration::from_secs(4);

/// The body of a request, with a second hand on it.
#[derive(Clone)]
pub struct Held(Rc<Shared>);

struct Shared {
    payload: RefCell<Payload>,
    ended: Cell<bool>,
}

impl Held {
    /// Takes hold of a body in chunks; other bodies have a length, and the reader closes by itself.
    pub fn take(request: &mut Request) -> Option<Self> {
        if !request.head().headers.contains_key(header::TRANSFER_ENCODING) {
            return None;
        }
        let held = Self(Rc::new(Shared { payload: RefCell::new(request.take_payload()), ended: Cell::new(false) }));
        *request.payload() = Payload::Stream { payload: Box::pin(held.clone()) };
        Some(held)
    }

    /// Lets go: at once when the body was read to its end, else after the answer.
    pub fn release(self) {
        if !self.0.ended.get() {
            rt::spawn(async move {
                tokio::time::sleep(HOLD).await;
                drop(self);
            });
        }
    }
}

impl Stream for Held {
    type Item = Result<Bytes, PayloadError>;

    fn poll_next(self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Option<Self::Item>> {
        let next = Pin::new(&mut *self.0.payload.borrow_mut()).poll_next(context);
        if matches!(next, Poll::Ready(None | Some(Err(_)))) {
            self.0.ended.set(true);
        }
        next
    }
}
