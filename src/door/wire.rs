//! A connection between the system and the HTTP reader, for what the reader has no room for: it times only the first head of a connection, so that a later one that
//! never ends would hold the connection for ever; and it refuses with a bare status what it cannot read.

use std::cell::Cell;
use std::io;
use std::pin::Pin;
use std::rc::Rc;
use std::task::{Context, Poll};
use std::time::Duration;

use actix_web::body::{BodySize, MessageBody};
use actix_web::rt::net::TcpStream;
use actix_web::web::Bytes;
use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::tcp::OwnedReadHalf;
use tokio::time::{Sleep, sleep};

use super::bell::Belled;
use super::outgoing::Outgoing;
use super::unread;
use crate::settings::Settings;

/// How long a connection may be without a request in work.
#[derive(Clone, Copy)]
pub struct Patience {
    /// When a head has begun.
    head: Duration,
    /// When nothing has come.
    idle: Duration,
}

impl Patience {
    pub fn of(settings: &Settings) -> Self {
        Self { head: settings.head_seconds, idle: settings.idle_seconds }
    }

    /// How often a connection is looked at. Looking seldom and counting the looks costs less than reading a clock for every request; what is late is cut
    /// late by this at most.
    fn pause(self) -> Duration {
        self.head.min(self.idle) / 2
    }
}

/// What a connection and the requests on it know of one another.
#[derive(Clone)]
pub struct Pace(Rc<Turns>);

struct Turns {
    /// Requests whose answers are not at their end.
    in_work: Cell<usize>,
    /// Whether anything has come since the last of them ended.
    begun: Cell<bool>,
    /// How often the connection has been looked at since then.
    looks: Cell<u32>,
}

impl Pace {
    fn new() -> Self {
        Self(Rc::new(Turns { in_work: Cell::new(0), begun: Cell::new(false), looks: Cell::new(0) }))
    }

    /// A request is in work until what is given here is dropped.
    pub fn work(&self) -> InWork {
        self.0.in_work.set(self.0.in_work.get() + 1);
        InWork(self.clone())
    }

    fn came(&self) {
        if self.0.in_work.get() == 0 && !self.0.begun.replace(true) {
            self.0.looks.set(0);
        }
    }

    /// Looks once more, and tells whether the caller has been waited for long enough. Who is still taking an answer is not asked for the next question.
    fn look(&self, patience: Patience, taking: bool) -> bool {
        if taking {
            self.0.looks.set(0);
            return false;
        }
        let most = if self.0.begun.get() { patience.head } else { patience.idle };
        let before = self.0.looks.replace(self.0.looks.get().saturating_add(1));
        // Between the change and the first look lies no more than one pause, and perhaps nothing.
        self.0.in_work.get() == 0 && patience.pause() * before >= most
    }
}

/// One request in work on its connection.
pub struct InWork(Pace);

impl InWork {
    /// Lasts as long as the body of an answer that is written while it comes.
    pub fn until_the_end_of<B: MessageBody + Unpin>(self, body: B) -> impl MessageBody<Error = B::Error> {
        Lasting { body, _in_work: self }
    }
}

impl Drop for InWork {
    fn drop(&mut self) {
        let turns = &self.0.0;
        turns.in_work.set(turns.in_work.get() - 1);
        turns.begun.set(false);
        turns.looks.set(0);
    }
}

struct Lasting<B> {
    body: B,
    _in_work: InWork,
}

impl<B: MessageBody + Unpin> MessageBody for Lasting<B> {
    type Error = B::Error;

    fn size(&self) -> BodySize {
        self.body.size()
    }

    fn poll_next(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Option<Result<Bytes, Self::Error>>> {
        Pin::new(&mut self.body).poll_next(context)
    }
}

/// The connection, as the HTTP reader reads and writes it.
pub struct Wire {
    incoming: OwnedReadHalf,
    outgoing: Outgoing,
    pace: Pace,
    patience: Patience,
    /// When the connection is looked at next: every request comes by here, and the clock tells seldom.
    look: Option<Belled<Sleep>>,
    /// Whether the caller has not yet taken what was written.
    full: bool,
    /// What is written in the place of a bare refusal, and how much of it has been.
    refusal: Option<(Vec<u8>, usize)>,
}

impl Wire {
    pub fn new(stream: TcpStream, patience: Patience) -> Self {
        let (incoming, outgoing) = stream.into_split();
        Self { incoming, outgoing: Outgoing::new(outgoing), pace: Pace::new(), patience, look: None, full: false, refusal: None }
    }

    pub fn pace(&self) -> Pace {
        self.pace.clone()
    }

    /// Writes what has words, and in words what has none.
    fn write(&mut self, context: &mut Context<'_>, bytes: &[u8]) -> Poll<io::Result<usize>> {
        let Some((begins, code)) = unread::bare(bytes) else { return self.outgoing.poll_write(context, bytes) };
        if begins > 0 {
            return self.outgoing.poll_write(context, &bytes[..begins]);
        }
        let (told, mut written) = self.refusal.take().unwrap_or_else(|| (unread::told(bytes, code), 0));
        while written < told.len() {
            match self.outgoing.poll_write(context, &told[written..]) {
                Poll::Ready(Ok(0)) => return Poll::Ready(Ok(0)),
                Poll::Ready(Ok(more)) => written += more,
                Poll::Ready(Err(error)) => return Poll::Ready(Err(error)),
                Poll::Pending => {
                    self.refusal = Some((told, written));
                    return Poll::Pending;
                }
            }
        }
        Poll::Ready(Ok(bytes.len()))
    }

    /// Whether nothing more is waited for; woken again if not.
    fn over(&mut self, context: &mut Context<'_>) -> bool {
        let every = self.patience.pause();
        let look = self.look.get_or_insert_with(|| Belled::new(sleep(every)));
        while Pin::new(&mut *look).poll(context).is_ready() {
            if self.pace.look(self.patience, self.full) {
                return true;
            }
            *look = Belled::new(sleep(every));
        }
        false
    }
}

impl AsyncRead for Wire {
    fn poll_read(self: Pin<&mut Self>, context: &mut Context<'_>, buffer: &mut ReadBuf<'_>) -> Poll<io::Result<()>> {
        let wire = self.get_mut();
        let before = buffer.filled().len();
        let read = Pin::new(&mut wire.incoming).poll_read(context, buffer);
        if buffer.filled().len() > before {
            wire.pace.came();
        }
        // As if the caller had closed: then the reader closes too.
        if read.is_pending() && wire.over(context) { Poll::Ready(Ok(())) } else { read }
    }
}

impl AsyncWrite for Wire {
    fn poll_write(self: Pin<&mut Self>, context: &mut Context<'_>, bytes: &[u8]) -> Poll<io::Result<usize>> {
        let wire = self.get_mut();
        let written = wire.write(context, bytes);
        wire.full = written.is_pending();
        written
    }

    fn poll_flush(self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        let wire = self.get_mut();
        let taken = wire.outgoing.poll_taken(context);
        wire.full = taken.is_pending();
        taken
    }

    fn poll_shutdown(self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        self.outgoing.poll_shutdown(context)
    }
}
