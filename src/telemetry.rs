//! The log: one JSON object a line on standard output. A reader of the log that stalls or leaves costs lines, which are counted, and never a request.

use std::io::{self, Write};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use tracing::metadata::LevelFilter;
use tracing_subscriber::filter::Targets;
use tracing_subscriber::fmt::MakeWriter;
use tracing_subscriber::layer::SubscriberExt;

/// Lines that nobody has read yet take at most this; what comes beyond is dropped and counted.
const MOST_WAITING: usize = 1 << 20;
/// Lines of this long are written together, so that a busy service is not woken for each.
const GATHERING: Duration = Duration::from_millis(5);

/// The lines on their way out.
#[derive(Clone, Default)]
pub struct Log(Arc<Shared>);

#[derive(Default)]
struct Shared {
    waiting: Mutex<Waiting>,
    woken: Condvar,
    written: Condvar,
}

#[derive(Default)]
struct Waiting {
    lines: Vec<u8>,
    dropped: u64,
    writing: bool,
}

/// Begins to log.
pub fn start(level: LevelFilter) -> Log {
    let log = Log::default();
    let writer = log.clone();
    // Without the thread, lines gather up to the bound and are dropped: the service goes on.
    drop(std::thread::Builder::new().name("log".into()).spawn(move || writer.write_for_ever(io::stdout())));
    let subscriber = tracing_subscriber::fmt()
        .json()
        .flatten_event(true)
        .with_current_span(false)
        .with_span_list(false)
        .with_target(false)
        .with_max_level(level)
        .with_writer(log.clone())
        .finish()
        // The libraries speak of callers' faults as if they were ours.
        .with(Targets::new().with_target("evencrumb", level));
    drop(tracing::subscriber::set_global_default(subscriber));
    std::panic::set_hook(Box::new(|panic| {
        let place = panic.location().map(ToString::to_string).unwrap_or_default();
        tracing::error!(place, "a fault of ours");
    }));
    log
}

impl Log {
    fn waiting(&self) -> MutexGuard<'_, Waiting> {
        self.0.waiting.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn push(&self, line: &[u8]) {
        let mut waiting = self.waiting();
        if waiting.lines.len() + line.len() > MOST_WAITING {
            waiting.dropped += 1;
            return;
        }
        let first = waiting.lines.is_empty();
        waiting.lines.extend_from_slice(line);
        drop(waiting);
        if first {
            self.0.woken.notify_one();
        }
    }

    fn write_for_ever(&self, mut out: impl Write) {
        let mut lines = Vec::new();
        loop {
            let mut waiting = self.waiting();
            while waiting.lines.is_empty() {
                waiting.writing = false;
                self.0.written.notify_all();
                waiting = self.0.woken.wait(waiting).unwrap_or_else(PoisonError::into_inner);
            }
            drop(waiting);
            std::thread::sleep(GATHERING);
            let mut waiting = self.waiting();
            std::mem::swap(&mut lines, &mut waiting.lines);
            waiting.writing = true;
            let dropped = std::mem::take(&mut waiting.dropped);
            drop(waiting);
            if dropped > 0 {
                lines.extend_from_slice(
                    format!("{{\"level\":\"WARN\",\"message\":\"log lines dropped\",\"dropped\":{dropped}}}\n").as_bytes(),
                );
            }
            if out.write_all(&lines).and_then(|()| out.flush()).is_err() {
                let lost = lines.iter().filter(|byte| **byte == b'\n').count() as u64;
                self.waiting().dropped += lost;
            }
            lines.clear();
        }
    }

    /// Waits, but not long, until everything is written.
    pub fn finish(&self) {
        let waiting = self.waiting();
        let done = |waiting: &mut Waiting| !waiting.lines.is_empty() || waiting.writing;
        drop(self.0.written.wait_timeout_while(waiting, Duration::from_millis(300), done));
    }
}

/// One line being made.
pub struct Line<'l> {
    log: &'l Log,
    bytes: Vec<u8>,
}

impl Write for Line<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.bytes.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl Drop for Line<'_> {
    fn drop(&mut self) {
        self.log.push(&self.bytes);
    }
}

impl<'l> MakeWriter<'l> for Log {
    type Writer = Line<'l>;

    fn make_writer(&'l self) -> Line<'l> {
        Line { log: self, bytes: Vec::with_capacity(256) }
    }
}
