//! The binary: settings, tables, log and server; or, with a calculation named, the filter. Nothing else.

use std::io::Write;
use std::process::ExitCode;

use evencrumb::door::Server;
use evencrumb::filter::{self, Arguments, Outcome};
use evencrumb::reference::Reference;
use evencrumb::settings::{Settings, Stop};
use evencrumb::telemetry;

/// What a shell expects of a program that was called wrongly.
const MISUSED: u8 = 2;

fn main() -> ExitCode {
    if Arguments::are_given() { filtered() } else { served() }
}

/// `evencrumb <calculation>`: standard input to standard output.
fn filtered() -> ExitCode {
    let arguments = match Arguments::read() {
        Ok(arguments) => arguments,
        Err(why) => return stopped(&why),
    };
    match Reference::load().map(|reference| filter::run(&arguments, reference)) {
        Ok(Outcome::Answered | Outcome::Closed) => ExitCode::SUCCESS,
        Ok(Outcome::Problems) => ExitCode::FAILURE,
        Ok(Outcome::Unusable(line)) => stop(&line, MISUSED),
        Err(fault) => stop(&format!("a table is broken: {fault}"), MISUSED),
    }
}

/// The room for an answer to many questions is taken and given back again and again. The C library of Linux gives such room back to the system each time, and every page of it
/// must then be made anew; unless it has seen a larger piece come and go. Nothing is written to this one, so that it costs no memory.
fn keep_what_answers_take() {
    const LARGE: usize = 1024 * 1024;
    drop(std::hint::black_box(Vec::<u8>::with_capacity(LARGE)));
}

/// `evencrumb`: the service.
fn served() -> ExitCode {
    let settings = match Settings::read() {
        Ok(settings) => settings,
        Err(why) => return stopped(&why),
    };
    let reference = match Reference::load() {
        Ok(reference) => reference,
        Err(fault) => return stop(&format!("a table is broken: {fault}"), 1),
    };
    if settings.check {
        print(&format!("the settings are good, the tables are version {}\n", reference.version));
        return ExitCode::SUCCESS;
    }
    keep_what_answers_take();
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

/// What was asked for is printed; what was refused is told in one line.
fn stopped(why: &Stop) -> ExitCode {
    match why {
        Stop::Asked(text) => {
            print(text);
            ExitCode::SUCCESS
        }
        Stop::Refused(line) => stop(line, MISUSED),
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
