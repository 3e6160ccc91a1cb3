//! The built binary, asked over the network.

mod door_questions;
mod examples;
mod openapi;
mod server;
