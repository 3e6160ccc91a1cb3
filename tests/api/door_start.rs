//! Whether it starts: its settings, its address, its help.

use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Starts the binary with settings that must stop it; gives its exit code and what it said.
fn stopped(settings: &[(&str, &str)], flags: &[&str]) -> (Option<i32>, String) {
    let begun = Instant::now();
    let done = Command::new(env!("CARGO_BIN_EXE_evencrumb"))
        .args(flags)
        .envs(settings.iter().copied())
        .stdout(Stdio::null())
        .output()
        .expect("it runs");
    assert!(begun.elapsed() < Duration::from_millis(500), "{:?}", begun.elapsed());
    (done.status.code(), String::from_utf8_lossy(&done.stderr).into_owned())
}

#[test]
fn a_wrong_setting_stops_the_start_with_one_line_that_names_it() {
    for (settings, flags, words) in [
        (&[("EVENCRUMB_ADRESS", "127.0.0.1:0")][..], &[][..], &["EVENCRUMB_ADRESS", "EVENCRUMB_ADDRESS"][..]),
        (&[("EVENCRUMB_ADDRESS", "127.0.0.1:99999")], &[], &["EVENCRUMB_ADDRESS", "99999", "65535"]),
        (&[("EVENCRUMB_ADDRESS", "abc")], &[], &["EVENCRUMB_ADDRESS", "abc", "127.0.0.1:8080"]),
        (&[("EVENCRUMB_ADDRESS", "")], &[], &["EVENCRUMB_ADDRESS", "empty"]),
        (&[("EVENCRUMB_MCP_HOSTS", "https://larkrise.example")], &[], &["EVENCRUMB_MCP_HOSTS", "hosts such as", "or *"]),
        (&[("EVENCRUMB_MCP_HOSTS", "localhost,")], &[], &["EVENCRUMB_MCP_HOSTS", "hosts such as"]),
        (&[("EVENCRUMB_WORKERS", "0")], &[], &["EVENCRUMB_WORKERS", "\"0\"", "from 1 to 256"]),
        (&[("EVENCRUMB_IDLE_SECONDS", "soon")], &[], &["EVENCRUMB_IDLE_SECONDS", "soon", "seconds"]),
        (&[], &["--wrokers", "2"], &["--wrokers", "--workers"]),
        (&[], &["--log", "loud"], &["--log", "loud", "error, warn, info or off"]),
        (&[], &["--workers"], &["--workers"]),
        (&[], &["--workers", "1", "--workers", "2"], &["--workers"]),
        (&[], &["flour"], &["flour"]),
    ] {
        let (code, said) = stopped(settings, flags);
        assert_eq!(code, Some(2), "{said}");
        assert_eq!(said.lines().count(), 1, "{said}");
        assert!(words.iter().all(|word| said.contains(word)), "{said}");
    }
}

#[test]
fn a_port_that_cannot_be_had_stops_the_start_with_one_line() {
    let taken = std::net::TcpListener::bind("127.0.0.1:0").expect("a port");
    let address = taken.local_addr().expect("its address").to_string();
    let (code, said) = stopped(&[("EVENCRUMB_ADDRESS", &address)], &[]);
    assert_eq!((code, said.lines().count()), (Some(1), 1), "{said}");
    assert!(said.contains(&address) && said.contains("another port"), "{said}");
    let (code, said) = stopped(&[("EVENCRUMB_ADDRESS", "192.0.2.1:8080")], &[]);
    assert_eq!((code, said.lines().count()), (Some(1), 1), "{said}");
}

#[test]
fn what_kubernetes_tells_of_a_service_of_our_name_is_no_setting() {
    let links = [
        ("EVENCRUMB_SERVICE_HOST", "10.0.0.7"),
        ("EVENCRUMB_SERVICE_PORT_HTTP", "80"),
        ("EVENCRUMB_PORT", "tcp://10.0.0.7:80"),
        ("EVENCRUMB_PORT_80_TCP_ADDR", "10.0.0.7"),
    ];
    assert_eq!(stopped(&links, &["--check"]), (Some(0), String::new()));
    let (code, said) = stopped(&[("EVENCRUMB_PORT", "9000")], &[]);
    assert!(code == Some(2) && said.contains("EVENCRUMB_PORT"), "{said}");
}

#[test]
fn help_and_check_answer_and_stop() {
    assert_eq!(stopped(&[], &["--check"]).0, Some(0));
    let help = Command::new(env!("CARGO_BIN_EXE_evencrumb")).arg("--help").output().expect("it runs");
    let text = String::from_utf8_lossy(&help.stdout);
    assert!(help.status.success() && text.contains("EVENCRUMB_ADDRESS") && text.contains("--body-bytes"), "{text}");
}
