//! Lines of questions over HTTP. An answer that begins before its question has ended hangs with clients and proxies that write all before they read; so
//! the question is held, within a bound, unless the caller says that it can read and write together.

use std::collections::VecDeque;

use actix_web::HttpResponse;
use actix_web::dev::{Payload, RequestHead};
use actix_web::http::{ConnectionType, Version, header};
use actix_web::web::{Buf, Bytes, BytesMut};
use futures_util::stream;

use super::arriving::Arriving;
use super::room::{PIECE, Room};
use super::{Asking, Lines, TURN_BYTES, Wanted};
use crate::door::accept::Form;
use crate::door::body::declared;
use crate::door::problem::Problem;
use crate::door::watch::RequestId;
use crate::door::{House, index};
use crate::quantity::Code;

/// An answer leaves when it has this many bytes, or when nothing more has come.
const FULL: usize = 64 * 1024;

/// Where the questions come from.
enum Source {
    Held(VecDeque<Bytes>),
    Arriving(Arriving),
}

/// One answer on its way out. Dropped when the caller leaves: then nothing more is computed.
struct Answering {
    house: &'static House,
    lines: Lines,
    source: Source,
    come: Bytes,
    counts: bool,
    route: &'static str,
    id: RequestId,
    state: State,
    _room: Room,
}

#[derive(Clone, Copy, PartialEq)]
enum State {
    Going,
    Ended,
    Broken,
}

pub async fn answer(
    house: &'static House,
    asking: Asking,
    id: RequestId,
    head: &RequestHead,
    payload: Payload,
    wanted: Wanted,
    form: Form,
) -> Result<HttpResponse, Problem> {
    let settings = &house.settings;
    if let Some(declared) = declared(&head.headers).filter(|declared| !wanted.stream && *declared > settings.held_bytes as u64) {
        return Err(too_large(&format!("a body of {declared} bytes"), settings.held_bytes));
    }
    let mut room = Room::take(house).await?;
    let mut arriving = Arriving::new(payload, settings.body_seconds);
    let source = match wanted.stream {
        true => Source::Arriving(arriving),
        false => Source::Held(held(&mut arriving, settings.held_bytes, &mut room).await?),
    };
    let lines = Lines::new(asking, settings.line_bytes);
    let route = asking.entry.path();
    let answering =
        Answering { house, lines, source, come: Bytes::new(), counts: wanted.counts, route, id, state: State::Going, _room: room };
    let pieces = stream::unfold(answering, |mut answering| async {
        let piece = answering.next().await?;
        Some((Ok::<_, actix_web::Error>(piece), answering))
    });
    let mut answer = HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, form.media_type()))
        .insert_header((header::CACHE_CONTROL, index::CALCULATED))
        .streaming(pieces);
    if head.version < Version::HTTP_11 {
        // Chunks came with HTTP/1.1: before it the end of the connection is the end of an answer without a length.
        answer.head_mut().no_chunking(true);
        answer.head_mut().set_connection_type(ConnectionType::Close);
    }
    Ok(answer)
}

/// The whole question, within its bound.
async fn held(arriving: &mut Arriving, most: usize, room: &mut Room) -> Result<VecDeque<Bytes>, Problem> {
    let mut pieces = VecDeque::new();
    let mut piece = BytesMut::with_capacity(PIECE);
    let mut length = 0;
    while let Some(come) = arriving.next().await {
        let mut come = come?;
        length += come.len();
        if length > most {
            return Err(too_large("a larger body", most));
        }
        while !come.is_empty() {
            let rest = PIECE - piece.len();
            piece.extend_from_slice(&come.split_to(rest.min(come.len())));
            if piece.len() == PIECE {
                room.grow().await?;
                pieces.push_back(std::mem::replace(&mut piece, BytesMut::with_capacity(PIECE)).freeze());
            }
        }
    }
    pieces.push_back(piece.freeze());
    Ok(pieces)
}

fn too_large(found: &str, most: usize) -> Problem {
    let mend = "Send pieces of 4 MB, or add stream=true where both you and all between can read and write at once.";
    Problem::from(
        crate::quantity::Fault::new(&crate::quantity::Pointer::ROOT, Code::TooLarge, found, format!("at most {most} bytes")).saying(mend),
    )
    .closing()
}

impl Answering {
    /// The next piece of the answer.
    async fn next(&mut self) -> Option<Bytes> {
        if self.state != State::Going {
            return None;
        }
        let mut out = Vec::with_capacity(FULL + TURN_BYTES);
        while out.is_empty() && self.state == State::Going {
            if self.come.is_empty() {
                self.more(&mut out).await;
            }
            // Only what is worked on takes a place: neither who is waited for nor who is slow to read.
            let _place = self.house.bulk.acquire().await;
            self.answer(&mut out).await;
        }
        Some(out.into())
    }

    /// Answers what has come, until that is enough for a piece; after each turn the others on this worker have theirs.
    async fn answer(&mut self, out: &mut Vec<u8>) {
        while !self.come.is_empty() && out.len() < FULL {
            let mut come = self.come.as_ref();
            self.lines.turn(&mut come, out);
            let taken = self.come.len() - come.len();
            self.come.advance(taken);
            tokio::task::yield_now().await;
        }
    }

    async fn more(&mut self, out: &mut Vec<u8>) {
        let more = match &mut self.source {
            Source::Held(pieces) => pieces.pop_front().map(Ok),
            Source::Arriving(arriving) => arriving.next().await,
        };
        match more {
            Some(Ok(piece)) => self.come = piece,
            Some(Err(problem)) => {
                self.lines.broken(&problem, out);
                self.state = State::Broken;
            }
            None => {
                self.lines.last(out);
                if self.counts {
                    self.lines.tally().write(out);
                }
                self.state = State::Ended;
            }
        }
    }
}

impl Drop for Answering {
    fn drop(&mut self) {
        let tally = self.lines.tally();
        let ended = self.state == State::Ended;
        tracing::info!(
            route = self.route,
            lines = tally.lines,
            answered = tally.answered,
            problems = tally.problems,
            ended,
            request_id = self.id.text(),
            "lines answered"
        );
    }
}
