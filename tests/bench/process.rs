//! The processes that are measured, each pinned to the first core while the load stays on the last; what they use is read from the kernel.

use std::fs;
use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::process::{Child, Command, Stdio};
use std::sync::LazyLock;
use std::time::{Duration, Instant};

use crate::processor;

/// A process that answers.
pub struct Running {
    pub address: String,
    child: Child,
}

/// Keeps both cores from falling asleep between two questions, by processes that run where nothing else wants to. What a virtual core needs for waking is the host's affair, and it
/// comes back without what its caches and branches had learned.
pub struct Awake([Child; 2]);

impl Awake {
    pub fn keep() -> Self {
        let own = std::env::current_exe().expect("its own path");
        Self([0, *LAST_CORE].map(|core| {
            Command::new("chrt")
                .args(["--idle", "0", "taskset", "-c", &core.to_string()])
                .arg(&own)
                .arg("awake")
                .stdin(Stdio::piped())
                .spawn()
                .expect("chrt gives a process the least priority")
        }))
    }

    /// What such a process does until the bench is gone.
    pub fn spin() -> ! {
        std::thread::spawn(|| {
            drop(std::io::stdin().read_to_end(&mut Vec::new()));
            std::process::exit(0);
        });
        // Not by the processor's own word for waiting: a host takes that for a core that may be put to sleep.
        loop {
            std::hint::black_box(0);
        }
    }
}

impl Drop for Awake {
    fn drop(&mut self) {
        for child in &mut self.0 {
            drop(child.kill());
            drop(child.wait());
        }
    }
}

/// The load's core. Once this process is pinned to it, it sees no other: so it is counted before.
static LAST_CORE: LazyLock<usize> = LazyLock::new(|| {
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    assert!(cores >= 2, "one core for the service and one for the load are needed");
    cores - 1
});

/// An address that was free a moment ago.
pub fn free_address() -> String {
    TcpListener::bind("127.0.0.1:0").and_then(|listener| listener.local_addr()).expect("a free port").to_string()
}

/// The load stays off the core of what is measured.
pub fn pin_this_process() {
    let own = std::process::id().to_string();
    let pinned = Command::new("taskset").args(["-acp", &LAST_CORE.to_string(), &own]).stdout(Stdio::null()).status();
    assert!(pinned.is_ok_and(|status| status.success()), "taskset pins processes to cores");
}

impl Running {
    /// The service, with one worker.
    pub fn service(address: &str) -> Self {
        Self::start(env!("CARGO_BIN_EXE_evencrumb"), &[], address)
    }

    /// The bare route: this same program in another role.
    pub fn bare(address: &str) -> Self {
        let own = std::env::current_exe().expect("its own path");
        Self::start(own.to_str().expect("a plain path"), &["bare", address], address)
    }

    fn start(program: &str, arguments: &[&str], address: &str) -> Self {
        let child = Command::new("taskset")
            .args(["-c", "0", program])
            .args(arguments)
            .env("EVENCRUMB_ADDRESS", address)
            .env("EVENCRUMB_WORKERS", "1")
            .env("EVENCRUMB_PAUSE_SECONDS", "0")
            .stdout(Stdio::null())
            .spawn()
            .expect("the program starts");
        let running = Self { address: address.to_owned(), child };
        running.wait();
        running
    }

    /// Until it answers anything at all.
    fn wait(&self) {
        let began = Instant::now();
        while !self.answers() {
            assert!(began.elapsed() < Duration::from_secs(10), "no answer within ten seconds");
            std::thread::sleep(Duration::from_micros(200));
        }
    }

    fn answers(&self) -> bool {
        let Ok(mut stream) = TcpStream::connect(&self.address) else { return false };
        let asked = stream.write_all(b"GET /health/live HTTP/1.1\r\nHost: bench\r\nConnection: close\r\n\r\n");
        let mut answer = [0; 12];
        asked.is_ok() && stream.read_exact(&mut answer).is_ok() && answer.starts_with(b"HTTP/1.1 ")
    }

    /// Nanoseconds on a processor, of all threads together.
    pub fn processor_ns(&self) -> u64 {
        processor::ns_of(self.child.id())
    }

    pub fn resident_mb(&self) -> f64 {
        self.memory_mb("VmRSS:")
    }

    /// The most it ever was.
    pub fn peak_mb(&self) -> f64 {
        self.memory_mb("VmHWM:")
    }

    fn memory_mb(&self, kind: &str) -> f64 {
        let status = fs::read_to_string(format!("/proc/{}/status", self.child.id())).expect("its status");
        let line = status.lines().find_map(|line| line.strip_prefix(kind)).expect("its memory");
        line.trim().split(' ').next().and_then(|kb| kb.parse::<f64>().ok()).expect("kilobytes") / 1024.0
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        drop(self.child.kill());
        drop(self.child.wait());
    }
}
