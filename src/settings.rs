//! The settings of the service: one struct for environment and flags. A setting that is unknown, empty, mistyped or out of range stops the start with one line.

use std::net::SocketAddr;
use std::time::Duration;

use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{CommandFactory, FromArgMatches, Parser};

use crate::quantity::nearest;

const PREFIX: &str = "EVENCRUMB_";
const FILTER: &str =
    "Without a server: evencrumb <CALCULATION> [--csv] [--explain] [--counts] < questions > answers; see evencrumb convert --help.";

/// The arithmetic of baking formulas as an HTTP JSON service.
#[derive(Clone, Debug, Parser)]
#[command(name = "evencrumb", version, disable_help_subcommand = true, after_help = FILTER)]
pub struct Settings {
    /// The address to listen on; port 0 takes a free port and prints it.
    #[arg(long, env = "EVENCRUMB_ADDRESS", default_value = "127.0.0.1:8080", value_parser = address)]
    pub address: SocketAddr,
    /// Threads that compute, from 1 to 256; by default one for each core.
    #[arg(long, env = "EVENCRUMB_WORKERS", value_parser = whole::<1, 256>)]
    pub workers: Option<usize>,
    /// The largest body of a question in bytes, from 1024 to 67108864.
    #[arg(long, env = "EVENCRUMB_BODY_BYTES", default_value = "1048576", value_parser = whole::<1024, 67_108_864>)]
    pub body_bytes: usize,
    /// Questions in one list, from 1 to 100000.
    #[arg(long, env = "EVENCRUMB_ITEMS", default_value = "1000", value_parser = whole::<1, 100_000>)]
    pub items: usize,
    /// Rows of one table, from 1 to 1000000.
    #[arg(long, env = "EVENCRUMB_ROWS", default_value = "10000", value_parser = whole::<1, 1_000_000>)]
    pub rows: usize,
    /// The longest line of a stream, or row of a table, in bytes, from 256 to 1048576.
    #[arg(long, env = "EVENCRUMB_LINE_BYTES", default_value = "65536", value_parser = whole::<256, 1_048_576>)]
    pub line_bytes: usize,
    /// The largest body of lines that is held until it has come whole, in bytes, from 1024 to 1073741824.
    #[arg(long, env = "EVENCRUMB_HELD_BYTES", default_value = "33554432", value_parser = whole::<1024, 1_073_741_824>)]
    pub held_bytes: usize,
    /// Requests with many questions worked on at once, from 1 to 10000; all there are hold together at most so many times the bytes held.
    #[arg(long, env = "EVENCRUMB_BULK", default_value = "8", value_parser = whole::<1, 10_000>)]
    pub bulk: usize,
    /// Connections open at once, from 8 to 100000.
    #[arg(long, env = "EVENCRUMB_CONNECTIONS", default_value = "1024", value_parser = whole::<8, 100_000>)]
    pub connections: usize,
    /// Questions that may be in work at once, from 1 to 100000; by default 64 for each core.
    #[arg(long, env = "EVENCRUMB_IN_FLIGHT", value_parser = whole::<1, 100_000>)]
    pub in_flight: Option<usize>,
    /// Questions that may wait beyond those, from 0 to 100000; by default twice as many as may be in work.
    #[arg(long, env = "EVENCRUMB_QUEUE", value_parser = whole::<0, 100_000>)]
    pub queue: Option<usize>,
    /// How long a question may wait before it is refused with 503, in milliseconds, from 1 to 60000.
    #[arg(long, env = "EVENCRUMB_WAIT_MILLISECONDS", default_value = "250", value_parser = whole::<1, 60_000>)]
    pub wait_milliseconds: usize,
    /// Seconds within which the head of a request must have come, from 0.1 to 3600.
    #[arg(long, env = "EVENCRUMB_HEAD_SECONDS", default_value = "5", value_parser = seconds)]
    pub head_seconds: Duration,
    /// Seconds within which the body of a request must have come, from 0.1 to 3600; after half of them it must come at 1 KiB a second at least.
    #[arg(long, env = "EVENCRUMB_BODY_SECONDS", default_value = "10", value_parser = seconds)]
    pub body_seconds: Duration,
    /// Seconds after which a reader that takes nothing of its answer is cut, from 0.1 to 3600.
    #[arg(long, env = "EVENCRUMB_WRITE_SECONDS", default_value = "30", value_parser = seconds)]
    pub write_seconds: Duration,
    /// Seconds after which an idle connection is closed, from 0.1 to 3600.
    #[arg(long, env = "EVENCRUMB_IDLE_SECONDS", default_value = "15", value_parser = seconds)]
    pub idle_seconds: Duration,
    /// Seconds between "not ready" and the end of listening when the service is told to stop, from 0 to 3600.
    #[arg(long, env = "EVENCRUMB_PAUSE_SECONDS", default_value = "1", value_parser = pause)]
    pub pause_seconds: Duration,
    /// Seconds that requests in work have to finish after that, from 0.1 to 3600.
    #[arg(long, env = "EVENCRUMB_GRACE_SECONDS", default_value = "10", value_parser = seconds)]
    pub grace_seconds: Duration,
    /// Origins of web pages that may ask from a browser, parted by commas; * for all. None unless set.
    #[arg(long, env = "EVENCRUMB_CORS_ORIGINS", value_delimiter = ',', value_parser = origin)]
    pub cors_origins: Vec<String>,
    /// Hosts under which chat clients may call /mcp, parted by commas; * for all. A host without a port is any port of it.
    #[arg(long, env = "EVENCRUMB_MCP_HOSTS", default_value = "localhost,127.0.0.1,[::1]", value_delimiter = ',', value_parser = host)]
    pub mcp_hosts: Vec<String>,
    /// What is logged: error, warn, info or off.
    #[arg(long, env = "EVENCRUMB_LOG", default_value = "info", value_parser = log_level)]
    pub log: tracing::metadata::LevelFilter,
    /// Checks the settings and the tables, and stops.
    #[arg(long)]
    pub check: bool,
}

/// Why the program stops before it starts: what to print, and whether it was asked for.
pub enum Stop {
    Asked(String),
    Refused(String),
}

impl Settings {
    /// From the environment and the flags.
    pub fn read() -> Result<Self, Stop> {
        check_environment()?;
        let matches = Self::command().try_get_matches().map_err(|error| told(&error))?;
        Self::from_arg_matches(&matches).map_err(|error| told(&error))
    }

    pub fn workers(&self) -> usize {
        self.workers.unwrap_or_else(cores)
    }

    pub fn in_flight(&self) -> usize {
        self.in_flight.unwrap_or_else(|| 64 * cores())
    }

    pub fn queue(&self) -> usize {
        self.queue.unwrap_or_else(|| 2 * self.in_flight())
    }

    pub fn wait(&self) -> Duration {
        Duration::from_millis(self.wait_milliseconds as u64)
    }
}

impl Default for Settings {
    /// As they are when nothing is set.
    fn default() -> Self {
        Self::parse_from(["evencrumb"])
    }
}

fn cores() -> usize {
    std::thread::available_parallelism().map_or(1, std::num::NonZero::get)
}

/// Every variable with our prefix must be a setting, and must say something.
fn check_environment() -> Result<(), Stop> {
    let command = Settings::command();
    let known: Vec<String> =
        command.get_arguments().filter_map(|arg| arg.get_env()).map(|name| name.to_string_lossy().into_owned()).collect();
    // Kubernetes tells every container where a service is that is named as we are, in the names that our settings have.
    let linked = std::env::var_os("EVENCRUMB_SERVICE_HOST").is_some();
    for (name, value) in std::env::vars_os() {
        let name = name.to_string_lossy();
        let link = linked && ["EVENCRUMB_SERVICE_", "EVENCRUMB_PORT"].iter().any(|link| name.starts_with(link));
        if link || !name.starts_with(PREFIX) {
            continue;
        }
        if !known.iter().any(|known| *known == name) {
            return Err(unknown(&name, known.iter().map(String::as_str)));
        }
        if value.is_empty() {
            return Err(Stop::Refused(format!("the setting {name} is empty; give it a value, or leave it out")));
        }
    }
    Ok(())
}

fn unknown<'k>(name: &str, known: impl Iterator<Item = &'k str> + Clone) -> Stop {
    let shown: String = name.chars().take(80).collect();
    Stop::Refused(match nearest(name, known.clone(), 1).first() {
        Some(near) => format!("there is no setting {shown}; the nearest is {near}"),
        None => format!("there is no setting {shown}; there are {}", known.collect::<Vec<_>>().join(", ")),
    })
}

/// The parser's error as one line of ours: the setting, the value, what is accepted.
fn told(error: &clap::Error) -> Stop {
    if matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion) {
        return Stop::Asked(error.to_string());
    }
    let context = |kind| match error.get(kind) {
        Some(ContextValue::String(text)) => text.as_str(),
        Some(ContextValue::Strings(texts)) => texts.first().map_or("", String::as_str),
        _ => "",
    };
    let argument = context(ContextKind::InvalidArg);
    let flag = argument.split(' ').next().unwrap_or(argument);
    let value = context(ContextKind::InvalidValue);
    let accepted = std::error::Error::source(error).map(ToString::to_string);
    match (error.kind(), accepted) {
        (ErrorKind::UnknownArgument, _) => {
            let command = Settings::command();
            let flags: Vec<String> = command.get_arguments().filter_map(|arg| arg.get_long()).map(|long| format!("--{long}")).collect();
            unknown(flag, flags.iter().map(String::as_str))
        }
        (ErrorKind::ArgumentConflict, _) => Stop::Refused(format!("the setting {} stands twice; leave one", with_variable(flag))),
        (_, Some(accepted)) => {
            Stop::Refused(format!("the setting {} is \"{}\"; accepted is {accepted}", with_variable(flag), shortened(value)))
        }
        (_, None) => Stop::Refused(format!("the setting {} has no value; see --help", with_variable(flag))),
    }
}

fn shortened(value: &str) -> String {
    value.chars().take(80).map(|c| if c.is_control() { ' ' } else { c }).collect()
}

fn with_variable(flag: &str) -> String {
    let name = flag.trim_start_matches('-');
    format!("--{name} ({PREFIX}{})", name.replace('-', "_").to_uppercase())
}

fn address(text: &str) -> Result<SocketAddr, String> {
    text.parse().map_err(|_| "an address and a port from 0 to 65535, such as 127.0.0.1:8080 or [::1]:8080".to_owned())
}

fn whole<const LEAST: usize, const MOST: usize>(text: &str) -> Result<usize, String> {
    match text.parse() {
        Ok(number) if (LEAST..=MOST).contains(&number) => Ok(number),
        _ => Err(format!("a whole number from {LEAST} to {MOST}")),
    }
}

fn seconds(text: &str) -> Result<Duration, String> {
    within(text, 0.1)
}

fn pause(text: &str) -> Result<Duration, String> {
    within(text, 0.0)
}

fn within(text: &str, least: f64) -> Result<Duration, String> {
    match text.parse::<f64>() {
        Ok(number) if (least..=3600.0).contains(&number) => Ok(Duration::from_secs_f64(number)),
        _ => Err(format!("a number of seconds from {least} to 3600")),
    }
}

fn origin(text: &str) -> Result<String, String> {
    let host = text.strip_prefix("https://").or_else(|| text.strip_prefix("http://"));
    let clean = |host: &str| !host.is_empty() && host.bytes().all(|b| b.is_ascii_alphanumeric() || b".-:[]".contains(&b));
    if text == "*" || host.is_some_and(clean) {
        Ok(text.to_ascii_lowercase())
    } else {
        Err("origins such as https://bakery.example, parted by commas, or *".to_owned())
    }
}

/// A name or an address, and perhaps a port. An empty list would let every host in, so nothing empty is taken.
fn host(text: &str) -> Result<String, String> {
    let (name, port) = match text.rsplit_once(':') {
        Some((name, port)) if !text.ends_with(']') => (name, Some(port)),
        _ => (text, None),
    };
    let bare = name.strip_prefix('[').and_then(|name| name.strip_suffix(']'));
    let clean = match bare {
        Some(address) => address.parse::<std::net::Ipv6Addr>().is_ok(),
        None => !name.is_empty() && name.bytes().all(|b| b.is_ascii_alphanumeric() || b"-._".contains(&b)),
    };
    if text == "*" || (clean && port.is_none_or(|port| port.parse::<u16>().is_ok())) {
        Ok(text.to_ascii_lowercase())
    } else {
        Err("hosts such as tools.bakery.example, bakery.example:8080 or [::1], parted by commas, or *".to_owned())
    }
}

fn log_level(text: &str) -> Result<tracing::metadata::LevelFilter, String> {
    use tracing::metadata::LevelFilter;
    match text {
        "error" => Ok(LevelFilter::ERROR),
        "warn" => Ok(LevelFilter::WARN),
        "info" => Ok(LevelFilter::INFO),
        "off" => Ok(LevelFilter::OFF),
        _ => Err("error, warn, info or off".to_owned()),
    }
}
