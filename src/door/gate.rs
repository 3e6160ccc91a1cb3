//! Load shedding. Questions are computed one after another on each worker; when that is slow, those that are waiting are counted, and who would wait too long is sent away at once.

use std::cell::Cell;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use super::outgoing;
use super::problem::Problem;
use crate::quantity::Code;
use crate::settings::Settings;

/// A worker whose last question took longer than this lets others be read before it computes the next, so that waiting can be measured.
const SLOW: Duration = Duration::from_micros(500);
/// A body larger than this may take a little longer: the answers that are made do not wait for its own.
const LIGHT: usize = 4 * 1024;
/// A body larger than this may be slow to compute.
const HEAVY: usize = 16 * 1024;

thread_local! {
    static LAST: Cell<Duration> = const { Cell::new(Duration::ZERO) };
}

/// The door that a question passes once its body has been read.
pub struct Gate {
    inside: AtomicUsize,
    most: usize,
    wait: Duration,
}

/// Notes how long this worker took for what it has just answered.
pub fn took(time: Duration) {
    LAST.set(time);
}

/// A question's place among those in work; given back when dropped.
pub struct Place<'g>(&'g Gate);

impl Gate {
    pub fn new(settings: &Settings) -> Self {
        Self { inside: AtomicUsize::new(0), most: settings.in_flight() + settings.queue(), wait: settings.wait() }
    }

    /// Questions in work and waiting.
    pub fn inside(&self) -> usize {
        self.inside.load(Ordering::Relaxed)
    }

    /// A place, unless the service is busy.
    pub async fn enter(&self, size: usize) -> Result<Place<'_>, Problem> {
        let inside = self.inside.fetch_add(1, Ordering::Relaxed);
        let place = Place(self);
        if inside >= self.most {
            return Err(busy());
        }
        if size > LIGHT {
            outgoing::send();
        }
        if size > HEAVY || LAST.get() > SLOW {
            let came = Instant::now();
            tokio::task::yield_now().await;
            if came.elapsed() > self.wait {
                return Err(busy());
            }
        }
        Ok(place)
    }
}

#[cold]
fn busy() -> Problem {
    Problem::new(Code::Overloaded, "more questions than can be computed at once", "the same question in a second")
}

impl Drop for Place<'_> {
    fn drop(&mut self) {
        self.0.inside.fetch_sub(1, Ordering::Relaxed);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn beyond_those_in_work_and_waiting_a_question_is_sent_away() {
        let settings = Settings { in_flight: Some(1), queue: Some(1), ..Settings::default() };
        let gate = Gate::new(&settings);
        let enter = || futures_util::FutureExt::now_or_never(gate.enter(1)).and_then(Result::ok);
        let (first, second) = (enter(), enter());
        assert!(first.is_some() && second.is_some());
        assert!(enter().is_none());
        drop(first);
        assert!(enter().is_some());
    }
}
