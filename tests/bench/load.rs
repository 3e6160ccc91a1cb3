//! The load: a few kept connections, each with one question under way.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;

use crate::process::{Awake, Running};
use crate::questions::Questions;

/// How many ask at the same time, each the next question when the last is answered. One alone wakes the service for every question; of several it finds some waiting.
#[derive(Clone, Copy)]
pub enum Callers {
    One,
    Eight,
}

impl Callers {
    pub const BOTH: [Self; 2] = [Self::One, Self::Eight];

    const fn count(self) -> usize {
        match self {
            Self::One => 1,
            Self::Eight => 8,
        }
    }

    pub const fn said(self) -> &'static str {
        match self {
            Self::One => "one caller",
            Self::Eight => "eight at once",
        }
    }
}

/// Microseconds of processor time for one request to a calculation.
pub fn cost(running: &Running, questions: &Questions, callers: Callers, requests: usize) -> f64 {
    cost_of(running, &written(questions), callers, requests)
}

/// The same for requests as bytes.
pub fn cost_of(running: &Running, written: &[Vec<u8>], callers: Callers, requests: usize) -> f64 {
    let _awake = matches!(callers, Callers::One).then(Awake::keep);
    let callers = callers.count();
    let mut connections: Vec<_> = (0..callers).map(|_| Connection::open(running)).collect();
    let before = running.processor_ns();
    let turns = requests / callers;
    for turn in 0..turns {
        for (at, connection) in connections.iter_mut().enumerate() {
            connection.send(&written[(turn * callers + at) % written.len()]);
        }
        for connection in &mut connections {
            connection.receive();
        }
    }
    let spent = running.processor_ns() - before;
    spent as f64 / 1000.0 / (turns * callers) as f64
}

/// The mean size of an answer.
pub fn answer_size(running: &Running, questions: &Questions) -> usize {
    let mut connection = Connection::open(running);
    let written = written(questions);
    let ask = |request: &Vec<u8>| {
        connection.send(request);
        connection.receive()
    };
    written.iter().map(ask).sum::<usize>() / written.len()
}

fn written(questions: &Questions) -> Vec<Vec<u8>> {
    questions.bodies.iter().map(|body| request(questions.name, "application/json", body)).collect()
}

/// A request as bytes.
pub fn request(calculation: &str, kind: &str, body: &str) -> Vec<u8> {
    format!("POST /v1/{calculation} HTTP/1.1\r\nHost: bench\r\nContent-Type: {kind}\r\nContent-Length: {}\r\n\r\n{body}", body.len())
        .into_bytes()
}

pub struct Connection {
    stream: TcpStream,
    reader: BufReader<TcpStream>,
    line: String,
    body: Vec<u8>,
}

impl Connection {
    pub fn open(running: &Running) -> Self {
        let stream = TcpStream::connect(&running.address).expect("a connection");
        stream.set_nodelay(true).expect("a plain socket");
        let reader = BufReader::with_capacity(64 * 1024, stream.try_clone().expect("the same socket"));
        Self { stream, reader, line: String::new(), body: Vec::new() }
    }

    pub fn send(&mut self, request: &[u8]) {
        self.stream.write_all(request).expect("a request");
    }

    /// The size of the answer's body; anything but 200 ends the bench.
    pub fn receive(&mut self) -> usize {
        let mut length = 0;
        let mut first = true;
        loop {
            self.line.clear();
            self.reader.read_line(&mut self.line).expect("an answer");
            assert!(!first || self.line.starts_with("HTTP/1.1 200"), "the bench asked something that is refused: {}", self.line);
            first = false;
            if self.line == "\r\n" {
                break;
            }
            if let Some((name, value)) = self.line.split_once(':')
                && name.eq_ignore_ascii_case("content-length")
            {
                length = value.trim().parse().expect("a length");
            }
        }
        self.body.resize(length, 0);
        self.reader.read_exact(&mut self.body).expect("the whole answer");
        length
    }
}
