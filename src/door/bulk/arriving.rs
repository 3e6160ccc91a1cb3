//! The body of a request with many questions, piece by piece. It may be long, so no time is set for the whole: only for each pause, and for how much was waited in all.

use std::time::{Duration, Instant};

use actix_web::dev::Payload;
use actix_web::web::Bytes;
use futures_util::StreamExt;
use tokio::time::timeout;

use crate::door::body::{LEAST_RATE, broken_off};
use crate::door::problem::Problem;
use crate::quantity::Code;

/// A body that is still coming.
pub struct Arriving {
    payload: Payload,
    waited: Duration,
    length: usize,
    /// The longest pause.
    most: Duration,
}

impl Arriving {
    pub fn new(payload: Payload, most: Duration) -> Self {
        Self { payload, waited: Duration::ZERO, length: 0, most }
    }

    /// The next piece; nothing when the body has ended.
    pub async fn next(&mut self) -> Option<Result<Bytes, Problem>> {
        let began = Instant::now();
        let next = timeout(self.patience(), self.payload.next()).await;
        self.waited += began.elapsed();
        match next {
            Err(_) => Some(Err(self.too_slow())),
            Ok(None) => None,
            Ok(Some(Err(_))) => Some(Err(broken_off())),
            Ok(Some(Ok(piece))) => {
                self.length += piece.len();
                Some(Ok(piece))
            }
        }
    }

    /// Waiting beyond half of the time that a body may take has to be earned.
    fn patience(&self) -> Duration {
        let earned = Duration::from_secs_f64(self.length as f64 / LEAST_RATE);
        (self.most / 2 + earned).saturating_sub(self.waited).min(self.most)
    }

    fn too_slow(&self) -> Problem {
        let accepted = format!("pauses of at most {} seconds, and 1 KiB a second at least", self.most.as_secs_f64());
        Problem::new(Code::TooSlow, "a body that came too slowly", accepted).closing()
    }
}
