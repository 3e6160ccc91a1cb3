//! Room for the lines that are held, counted in pieces. Whoever sends or reads slowly keeps the room that is filled and nobody's place of work, so that a few
//! slow callers keep nobody out.

use tokio::sync::{Semaphore, SemaphorePermit};

use super::in_time;
use crate::door::House;
use crate::door::problem::Problem;
use crate::settings::Settings;

/// What is held is held in pieces of this many bytes, however small those are in which it comes.
pub const PIECE: usize = 64 * 1024;
/// The pieces of every request with lines, whatever more it holds: one that has come, its answers, and both once more where they are read and written.
const OWN: u32 = 4;

/// All the room there is: for so many requests that hold as much as they may.
pub fn all(settings: &Settings) -> Semaphore {
    let each = settings.held_bytes.div_ceil(PIECE) + OWN as usize;
    Semaphore::new(settings.bulk.saturating_mul(each).min(Semaphore::MAX_PERMITS))
}

/// The room that one request has. Given back when dropped.
pub struct Room {
    house: &'static House,
    taken: SemaphorePermit<'static>,
}

impl Room {
    /// Room for a request that begins.
    pub async fn take(house: &'static House) -> Result<Self, Problem> {
        Ok(Self { house, taken: pieces(house, OWN).await? })
    }

    /// Room for one piece more.
    pub async fn grow(&mut self) -> Result<(), Problem> {
        self.taken.merge(pieces(self.house, 1).await?);
        Ok(())
    }
}

async fn pieces(house: &'static House, count: u32) -> Result<SemaphorePermit<'static>, Problem> {
    in_time(house, &house.room, count, || "as many lines held already as there is room for".to_owned()).await
}
