//! The binary: settings, tables, log, server; nothing else.

use std::io::Write;
use std::process::ExitCode;

use evencrumb::door::Server;
use evencrumb::reference::Reference;
use evencrumb::settings::{Settings, Stop};
use evencrumb::telemetry;

/// What a shell expects of a program that was called wrongly.
const MISUSED: u8 = 2;

fn main() -> ExitCode {
    let settings = match Settings::read() {
        Ok(settings) => settings,
        Err(Stop::Asked(text)) => {
            print(&text);
            return ExitCode::SUCCESS;
        }
        Err(Stop::Refused(line)) => return stop(&line, MISUSED),
    };
    let reference = match Reference::load() {
        Ok(reference) => reference,
        Err(fault) => return stop(&format!("a table is broken: {fault}"), 1),
    };
    if settings.check {
        print(&format!("the settings are good, the tables are version {}\n", reference.version));
        return ExitCode::SUCCESS;
    }
    let log = telemetry::start(settings.log);
    let ended = Server::bind(settings, reference).and_then(|server| {
        server.run(|at| {
            print(&format!("evencrumb listens on http://{at}\n"));
            print(&format!("try: curl 'http://{at}/v1/convert?amount=3+Tbsp&to=ml'\n"));
        })
    });
    log.finish();
    match ended {
        Ok(()) => ExitCode::SUCCESS,
        Err(line) => stop(&line, 1),
    }
}

/// Standard output may be closed; that is no reason to stop.
fn print(text: &str) {
    let mut out = std::io::stdout();
    drop(out.write_all(text.as_bytes()).and_then(|()| out.flush()));
}

fn stop(line: &str, code: u8) -> ExitCode {
    drop(writeln!(std::io::stderr(), "evencrumb: {line}"));
    ExitCode::from(code)
}
