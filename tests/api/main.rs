//! The built binary, asked over the network.

mod bulk;
mod callers;
mod chat;
mod chat_call;
mod door_bodies;
mod door_http;
mod door_questions;
mod door_service;
mod door_slow;
mod door_start;
mod examples;
mod filter;
mod openapi;
mod server;
