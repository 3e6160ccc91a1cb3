//! Starts the built binary on a free port, and looks at its log when it is done with.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

#[path = "../bench/processor.rs"]
mod processor;

/// A running service.
pub struct Server {
    pub address: SocketAddr,
    pub first_lines: [String; 2],
    child: Child,
    log: Arc<Mutex<Vec<String>>>,
    reader: Option<std::thread::JoinHandle<()>>,
}

/// An answer as it came over the wire.
#[derive(Clone, Debug, PartialEq)]
pub struct Reply {
    pub status: u16,
    pub head: String,
    pub body: Vec<u8>,
}

impl Reply {
    pub fn header(&self, name: &str) -> Option<&str> {
        self.head
            .lines()
            .filter_map(|line| line.split_once(':'))
            .find(|(known, _)| known.eq_ignore_ascii_case(name))
            .map(|(_, value)| value.trim())
    }

    pub fn json(&self) -> serde_json::Value {
        serde_json::from_slice(&self.body).unwrap_or_else(|e| panic!("no JSON ({e}): {}", self.text()))
    }

    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    /// The code of a problem, after a look at its shape.
    pub fn code(&self) -> String {
        let problem = self.json();
        assert_eq!(self.header("content-type"), Some("application/problem+json"), "{}", self.text());
        assert_eq!(problem["status"], self.status);
        assert_eq!(self.header("problem-code"), problem["code"].as_str());
        assert_eq!(self.header("cache-control"), Some("no-store"));
        assert!(problem["faults"].as_array().is_some_and(|faults| !faults.is_empty()));
        problem["code"].as_str().unwrap_or_default().to_owned()
    }
}

impl Server {
    /// With no configuration but a free port.
    pub fn start() -> Self {
        Self::with(&[])
    }

    /// With these settings beside.
    pub fn with(settings: &[(&str, &str)]) -> Self {
        Self::of(Command::new(env!("CARGO_BIN_EXE_evencrumb")), settings)
    }

    pub fn of(mut command: Command, settings: &[(&str, &str)]) -> Self {
        let mut child = command
            .env("EVENCRUMB_ADDRESS", "127.0.0.1:0")
            .env("EVENCRUMB_PAUSE_SECONDS", "0")
            .envs(settings.iter().copied())
            .stdout(Stdio::piped())
            .spawn()
            .expect("the binary starts");
        let mut out = BufReader::new(child.stdout.take().expect("its output"));
        let mut first_lines = [String::new(), String::new()];
        for line in &mut first_lines {
            out.read_line(line).expect("a line");
        }
        let address = first_lines[0]
            .trim()
            .rsplit('/')
            .next()
            .and_then(|at| at.parse().ok())
            .unwrap_or_else(|| panic!("no address in {first_lines:?}"));
        let log = Arc::new(Mutex::new(Vec::new()));
        let lines = log.clone();
        let reader =
            std::thread::spawn(move || out.lines().map_while(Result::ok).for_each(|line| lines.lock().expect("the log").push(line)));
        Self { address, first_lines, child, log, reader: Some(reader) }
    }

    pub fn process(&self) -> u32 {
        self.child.id()
    }

    /// Nanoseconds on a processor, of all its threads together.
    pub fn processor_ns(&self) -> u64 {
        processor::ns_of(self.process())
    }

    /// The lines logged until now.
    pub fn log(&self) -> Vec<String> {
        std::thread::sleep(Duration::from_millis(60));
        self.log.lock().expect("the log").clone()
    }

    pub fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(self.address).expect("a connection");
        stream.set_read_timeout(Some(Duration::from_secs(20))).expect("a timeout");
        stream
    }

    /// Sends bytes as they are; gives all that comes back until the service closes.
    pub fn raw(&self, bytes: &[u8]) -> String {
        let mut stream = self.connect();
        // The service may refuse and close before everything is sent.
        drop(stream.write_all(bytes));
        let mut back = Vec::new();
        drop(stream.read_to_end(&mut back));
        String::from_utf8_lossy(&back).into_owned()
    }

    /// One request on a connection of its own.
    pub fn ask(&self, method: &str, target: &str, headers: &[(&str, &str)], body: &[u8]) -> Reply {
        let mut request = format!("{method} {target} HTTP/1.1\r\nHost: larkrise.example\r\nConnection: close\r\n");
        for (name, value) in headers {
            request.push_str(&format!("{name}: {value}\r\n"));
        }
        if !body.is_empty() || method == "POST" {
            request.push_str(&format!("Content-Length: {}\r\n", body.len()));
        }
        request.push_str("\r\n");
        let mut stream = self.connect();
        drop(stream.write_all(&[request.as_bytes(), body].concat()));
        read_reply(&mut BufReader::new(stream), method == "HEAD").expect("an answer")
    }

    pub fn get(&self, target: &str) -> Reply {
        self.ask("GET", target, &[], b"")
    }

    pub fn post(&self, target: &str, body: &str) -> Reply {
        self.ask("POST", target, &[("Content-Type", "application/json")], body.as_bytes())
    }

    /// Stops the service as an operator would; gives its exit code.
    pub fn terminate(mut self) -> Option<i32> {
        self.signal("TERM");
        self.wait(Duration::from_secs(15))
    }

    pub fn signal(&self, name: &str) {
        let done = Command::new("kill").args([format!("-{name}"), self.process().to_string()]).status().expect("kill runs");
        assert!(done.success());
    }

    pub fn wait(&mut self, most: Duration) -> Option<i32> {
        let begun = Instant::now();
        while begun.elapsed() < most {
            if let Some(status) = self.child.try_wait().expect("a status") {
                return status.code();
            }
            std::thread::sleep(Duration::from_millis(10));
        }
        panic!("still running after {most:?}");
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        drop(self.child.kill());
        drop(self.child.wait());
        if let Some(reader) = self.reader.take() {
            drop(reader.join());
        }
        if std::thread::panicking() {
            return;
        }
        for line in self.log.lock().expect("the log").iter() {
            let line: serde_json::Value = serde_json::from_str(line).unwrap_or_else(|e| panic!("a log line that is no JSON ({e}): {line}"));
            assert_ne!(line["level"], "ERROR", "the log is not clean: {line}");
        }
    }
}

/// Reads one answer, by its Content-Length or in chunks.
pub fn read_reply(stream: &mut impl BufRead, head_only: bool) -> Option<Reply> {
    let mut head = String::new();
    loop {
        let mut line = String::new();
        if stream.read_line(&mut line).ok()? == 0 {
            return None;
        }
        if line == "\r\n" {
            break;
        }
        head.push_str(&line);
    }
    let status = head.split(' ').nth(1)?.parse().ok()?;
    let mut reply = Reply { status, head, body: Vec::new() };
    if status == 100 {
        return read_reply(stream, head_only);
    }
    if reply.header("transfer-encoding") == Some("chunked") && !head_only {
        reply.body = read_chunks(stream)?;
        return Some(reply);
    }
    let length = reply.header("content-length").and_then(|length| length.parse().ok()).unwrap_or(0);
    if !head_only {
        reply.body.resize(length, 0);
        stream.read_exact(&mut reply.body).ok()?;
    }
    Some(reply)
}

/// Chunks to the last one; nothing where they break off before it.
fn read_chunks(stream: &mut impl BufRead) -> Option<Vec<u8>> {
    let mut body = Vec::new();
    loop {
        let mut size = String::new();
        stream.read_line(&mut size).ok()?;
        let size = usize::from_str_radix(size.trim(), 16).ok()?;
        let begun = body.len();
        body.resize(begun + size, 0);
        stream.read_exact(&mut body[begun..]).ok()?;
        let mut end = [0; 2];
        stream.read_exact(&mut end).ok()?;
        if size == 0 {
            return Some(body);
        }
    }
}
