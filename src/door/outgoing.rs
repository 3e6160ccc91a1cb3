//! The way out of a connection. Answers that are made in one turn of a worker leave at its end, together: a question costs less where others were answered just before, and
//! so does an answer to be sent where others are; and who reads several is woken once.

use std::cell::RefCell;
use std::future::poll_fn;
use std::io;
use std::pin::Pin;
use std::rc::Rc;
use std::task::{Context, Poll, Waker, ready};

use actix_web::rt;
use tokio::io::AsyncWrite;
use tokio::net::tcp::OwnedWriteHalf;

/// A longer piece leaves at once: it is one of a stream's, or an answer that costs more than all around it.
const LONG: usize = 16 * 1024;
/// So many wait for one another at most.
const MOST: usize = 16;

/// The way out of one connection.
pub struct Outgoing(Rc<RefCell<Way>>);

struct Way {
    half: OwnedWriteHalf,
    /// How many pieces wait for the end of the turn.
    waiting: usize,
    /// What the caller did not take at the end of a turn, and how much of it has gone since.
    left: Vec<u8>,
    gone: usize,
    failed: Option<io::Error>,
    /// Who comes back for what is left.
    writer: Waker,
}

/// What waits for the end of a worker's turn: pieces behind one another, each with its way and where it ends.
struct Together {
    bytes: Vec<u8>,
    pieces: Vec<(Rc<RefCell<Way>>, usize)>,
    /// Who is woken to send it, once there is somebody.
    sender: Option<Waker>,
}

thread_local! {
    static TOGETHER: RefCell<Together> = const { RefCell::new(Together { bytes: Vec::new(), pieces: Vec::new(), sender: None }) };
}

impl Outgoing {
    pub fn new(half: OwnedWriteHalf) -> Self {
        Self(Rc::new(RefCell::new(Way { half, waiting: 0, left: Vec::new(), gone: 0, failed: None, writer: Waker::noop().clone() })))
    }

    /// Takes a piece: it leaves at the end of the turn, or at once where it is long.
    pub fn poll_write(&self, context: &mut Context<'_>, bytes: &[u8]) -> Poll<io::Result<usize>> {
        if bytes.len() > LONG {
            ready!(self.poll_sent(context))?;
            return self.0.borrow_mut().poll_half(context, bytes);
        }
        {
            let mut way = self.0.borrow_mut();
            ready!(way.poll_left(context))?;
            way.waiting += 1;
            if !way.writer.will_wake(context.waker()) {
                way.writer.clone_from(context.waker());
            }
        }
        if TOGETHER.with_borrow_mut(|together| together.add(&self.0, bytes)) {
            send();
        }
        Poll::Ready(Ok(bytes.len()))
    }

    /// Whether the caller has taken all but what waits for the end of the turn.
    pub fn poll_taken(&self, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        self.0.borrow_mut().poll_left(context)
    }

    /// The same with what waits.
    fn poll_sent(&self, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        if self.0.borrow().waiting > 0 {
            send();
        }
        self.poll_taken(context)
    }

    pub fn poll_shutdown(&self, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        ready!(self.poll_sent(context))?;
        Pin::new(&mut self.0.borrow_mut().half).poll_shutdown(context)
    }
}

impl Together {
    /// Adds a piece, and tells whether enough wait.
    fn add(&mut self, way: &Rc<RefCell<Way>>, bytes: &[u8]) -> bool {
        self.bytes.extend_from_slice(bytes);
        self.pieces.push((way.clone(), self.bytes.len()));
        match &self.sender {
            // The first wakes it: it comes behind all who are ready by now.
            Some(sender) if self.pieces.len() == 1 => sender.wake_by_ref(),
            Some(_) => {}
            None => {
                self.sender = Some(Waker::noop().clone());
                drop(rt::spawn(sending()));
            }
        }
        self.pieces.len() >= MOST
    }
}

/// Sends whatever waits, at the end of each turn.
async fn sending() {
    /// A worker's end: another on this thread begins anew.
    struct Ended;
    impl Drop for Ended {
        fn drop(&mut self) {
            // Nothing is kept where the thread itself ends.
            TOGETHER.try_with(|together| together.borrow_mut().sender = None).unwrap_or_default();
        }
    }
    let _ended = Ended;
    poll_fn(|context| {
        TOGETHER.with_borrow_mut(|together| together.sender = Some(context.waker().clone()));
        send();
        Poll::<()>::Pending
    })
    .await;
}

/// Sends what waits before the turn is over.
pub fn send() {
    let (mut bytes, mut pieces) =
        TOGETHER.with_borrow_mut(|together| (std::mem::take(&mut together.bytes), std::mem::take(&mut together.pieces)));
    let mut begins = 0;
    for (way, ends) in pieces.drain(..) {
        way.borrow_mut().send(&bytes[begins..ends]);
        begins = ends;
    }
    bytes.clear();
    TOGETHER.with_borrow_mut(|together| (together.bytes, together.pieces) = (bytes, pieces));
}

impl Way {
    /// Sends a piece whose turn is over. What does not go stays, and its connection comes for it.
    fn send(&mut self, mut bytes: &[u8]) {
        self.waiting -= 1;
        while !bytes.is_empty() && self.left.is_empty() && self.failed.is_none() {
            match self.half.try_write(bytes) {
                Ok(0) => self.failed = Some(io::ErrorKind::WriteZero.into()),
                Ok(gone) => bytes = &bytes[gone..],
                Err(error) if error.kind() == io::ErrorKind::WouldBlock => break,
                Err(error) => self.failed = Some(error),
            }
        }
        if !bytes.is_empty() {
            self.left.extend_from_slice(bytes);
            self.writer.wake_by_ref();
        }
    }

    /// Sends what is left.
    fn poll_left(&mut self, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        if let Some(error) = self.failed.take() {
            return Poll::Ready(Err(error));
        }
        while self.gone < self.left.len() {
            let left = std::mem::take(&mut self.left);
            let gone = self.poll_half(context, &left[self.gone..]);
            self.left = left;
            match ready!(gone)? {
                0 => return Poll::Ready(Err(io::ErrorKind::WriteZero.into())),
                more => self.gone += more,
            }
        }
        (self.left, self.gone) = (Vec::new(), 0);
        Poll::Ready(Ok(()))
    }

    fn poll_half(&mut self, context: &mut Context<'_>, bytes: &[u8]) -> Poll<io::Result<usize>> {
        Pin::new(&mut self.half).poll_write(context, bytes)
    }
}

#[cfg(test)]
mod tests {
    use actix_web::rt::System;
    use tokio::io::AsyncReadExt;
    use tokio::net::tcp::OwnedReadHalf;
    use tokio::net::{TcpListener, TcpStream};

    use super::*;
    use crate::door::gate::Gate;
    use crate::settings::Settings;

    /// The way out of a connection, with what must live as long, and its other end.
    async fn connected() -> (Outgoing, OwnedReadHalf, TcpStream) {
        let listener = TcpListener::bind("127.0.0.1:0").await.expect("an address");
        let address = listener.local_addr().expect("an address");
        let (here, there) = tokio::join!(TcpStream::connect(address), listener.accept());
        let (incoming, outgoing) = here.expect("a connection").into_split();
        (Outgoing::new(outgoing), incoming, there.expect("a caller").0)
    }

    async fn written(outgoing: &Outgoing, bytes: &[u8]) -> usize {
        poll_fn(|context| outgoing.poll_write(context, bytes)).await.expect("a way out")
    }

    fn nothing_has_come(caller: &TcpStream) -> bool {
        caller.try_read(&mut [0; 1]).is_err_and(|error| error.kind() == io::ErrorKind::WouldBlock)
    }

    async fn come(caller: &mut TcpStream, bytes: usize) -> Vec<u8> {
        let mut come = vec![0; bytes];
        caller.read_exact(&mut come).await.expect("what was written");
        come
    }

    #[test]
    fn what_is_written_in_one_turn_leaves_at_its_end() {
        System::new().block_on(async {
            let (one, _one, mut first) = connected().await;
            let (other, _other, mut second) = connected().await;
            for turn in 0..3 {
                written(&one, b"one").await;
                written(&other, b"two").await;
                written(&one, b", three").await;
                assert!(nothing_has_come(&first) && nothing_has_come(&second), "in turn {turn}");
                assert_eq!(come(&mut first, 10).await, b"one, three");
                assert_eq!(come(&mut second, 3).await, b"two");
            }
            // Whoever goes meanwhile leaves nothing behind.
            written(&one, b"the last").await;
            drop((one, _one));
            assert_eq!(come(&mut first, 8).await, b"the last");
        });
    }

    #[test]
    fn no_more_wait_for_one_another_than_are_allowed_to() {
        System::new().block_on(async {
            let (outgoing, _incoming, mut caller) = connected().await;
            caller.writable().await.expect("a connection");
            for _ in 0..MOST {
                written(&outgoing, b"x").await;
            }
            assert_eq!(come(&mut caller, MOST).await, [b'x'; MOST]);
            assert_eq!(TOGETHER.with_borrow(|together| together.pieces.len()), 0);
        });
    }

    #[test]
    fn what_is_made_does_not_wait_for_a_longer_question() {
        System::new().block_on(async {
            let (outgoing, _incoming, mut caller) = connected().await;
            written(&outgoing, b"made").await;
            let waiting = || TOGETHER.with_borrow(|together| together.pieces.len());
            let gate = Gate::new(&Settings::default());
            assert!(gate.enter(200).await.is_ok());
            assert_eq!(waiting(), 1);
            assert!(gate.enter(5000).await.is_ok());
            assert_eq!(waiting(), 0);
            assert_eq!(come(&mut caller, 4).await, b"made");
        });
    }

    #[test]
    fn long_and_short_pieces_come_in_their_order_to_a_caller_who_is_slow() {
        System::new().block_on(async {
            let (outgoing, _incoming, mut caller) = connected().await;
            let pieces: Vec<Vec<u8>> = (0..400).map(|at: usize| vec![at as u8; [100, LONG, LONG + 1, 3 * LONG][at % 4]]).collect();
            let whole = pieces.concat();
            let writing = async {
                let mut waited = 0;
                for mut piece in pieces.iter().map(Vec::as_slice) {
                    while !piece.is_empty() {
                        let gone = poll_fn(|context| {
                            let polled = outgoing.poll_write(context, piece);
                            waited += usize::from(polled.is_pending());
                            polled
                        });
                        piece = &piece[gone.await.expect("a way out")..];
                    }
                }
                poll_fn(|context| outgoing.poll_taken(context)).await.expect("all taken");
                waited
            };
            let reading = async {
                tokio::time::sleep(std::time::Duration::from_millis(50)).await;
                come(&mut caller, whole.len()).await
            };
            let (waited, come) = tokio::join!(writing, reading);
            assert!(waited > 0, "nobody was slow");
            assert!(come == whole, "something was lost or out of its place");
        });
    }

    #[test]
    fn a_caller_who_has_gone_is_told_of_to_whoever_writes() {
        System::new().block_on(async {
            let (outgoing, _incoming, caller) = connected().await;
            drop(caller);
            let mut told = Ok(0);
            for _ in 0..100 {
                told = poll_fn(|context| outgoing.poll_write(context, b"nobody is there")).await;
                if told.is_err() {
                    break;
                }
                tokio::time::sleep(std::time::Duration::from_millis(1)).await;
            }
            assert!(told.is_err());
        });
    }
}
