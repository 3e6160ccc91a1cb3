//! The real binary, started on a free port with no configuration but that, and asked over HTTP.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use serde_json::Value;

use crate::case::Call;

pub struct Service {
    child: Child,
    address: String,
    client: reqwest::Client,
}

impl Service {
    /// Starts it and waits for the first line, which tells the address.
    pub fn start() -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_evencrumb"))
            .env("EVENCRUMB_ADDRESS", "127.0.0.1:0")
            .stdout(Stdio::piped())
            .spawn()
            .expect("the binary starts");
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let first = lines.next().expect("a first line").unwrap();
        let from = first.find("http://").unwrap_or_else(|| panic!("no address in the first line: {first}"));
        let address: String = first[from..].chars().take_while(|c| c.is_ascii_alphanumeric() || ":/.[]".contains(*c)).collect();
        // The log is read to its end, or a full pipe would stop the service.
        std::thread::spawn(move || lines.for_each(drop));
        let client = reqwest::Client::builder().timeout(Duration::from_secs(10)).build().unwrap();
        Self { child, address: address.trim_end_matches(['/', '.']).to_owned(), client }
    }

    pub async fn ask(&self, call: &Call) -> (u16, Value) {
        let request = match call {
            Call::Post { path, question } => self.client.post(format!("{}{path}", self.address)).json(question),
            Call::Get { path } => self.client.get(format!("{}{path}", self.address)),
        };
        let response = request.send().await.expect("an answer");
        let status = response.status().as_u16();
        (status, response.json().await.unwrap_or(Value::Null))
    }

    pub fn stop(mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }
}
