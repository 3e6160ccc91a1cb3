//! The ways in. Each walks the list of calculations; only here are there paths, status codes and headers, and no arithmetic.

mod accept;
mod bell;
mod body;
pub mod bulk;
mod chat;
mod doorstep;
mod gate;
mod health;
mod held;
mod index;
mod limits;
mod metrics;
pub mod openapi;
mod outgoing;
mod page;
mod problem;
mod query;
mod question;
mod routes;
mod server;
mod tables;
mod unread;
mod watch;
mod wire;

use std::sync::atomic::AtomicBool;

use tokio::sync::Semaphore;

pub use limits::{Limit, limits};
pub use problem::{Problem, status};
pub use server::Server;

use crate::reference::Reference;
use crate::settings::Settings;
use gate::Gate;

/// What every request may look at. It lives as long as the program.
pub struct House {
    pub settings: Settings,
    pub reference: &'static Reference,
    pub tables: tables::Tables,
    /// Whether the service has been told to stop.
    pub draining: AtomicBool,
    pub gate: Gate,
    /// Places of requests with many questions, for as long as they are worked on.
    pub bulk: Semaphore,
    /// Room for lines that are held.
    pub room: Semaphore,
}
