//! The filter: the same answers by standard input, its exit codes, and an end that is quiet.

use std::io::{Read, Write};
use std::process::{Command, Output, Stdio};

use evencrumb::calculation::CALCULATIONS;
use serde_json::{Value, json};

use crate::bulk::among;
use crate::openapi::worked;
use crate::server::Server;

fn filtered(arguments: &[&str], input: &[u8]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_evencrumb"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the binary starts");
    let mut stdin = child.stdin.take().expect("its input");
    let input = input.to_vec();
    let writer = std::thread::spawn(move || drop(stdin.write_all(&input)));
    let output = child.wait_with_output().expect("its output");
    writer.join().expect("all written");
    output
}

#[test]
fn every_worked_example_has_the_same_answer_by_standard_input() {
    let server = Server::start();
    for entry in CALCULATIONS {
        let examples = worked(entry.name);
        let input: String = examples.iter().map(|example| format!("{}\n", example.request)).collect();
        let output = filtered(&[entry.name], input.as_bytes());
        let answers: Vec<Value> =
            String::from_utf8_lossy(&output.stdout).lines().map(|line| serde_json::from_str(line).expect("JSON")).collect();
        assert_eq!(answers.len(), examples.len());
        for (at, (example, answer)) in examples.iter().zip(&answers).enumerate() {
            assert_eq!(*answer, among(&server, entry, example, json!({ "line": at + 1 })), "{} {}", entry.name, example.name);
        }
        assert_eq!(output.status.code(), Some(1), "some of the examples are refused");
        assert!(output.stderr.is_empty());
    }
    assert_eq!(server.terminate(), Some(0));
}

#[test]
fn the_exit_code_tells_the_outcome_and_a_wrong_call_is_one_line() {
    let good = b"{\"amount\":\"3 Tbsp\",\"to\":\"ml\"}\n";
    let output = filtered(&["convert", "--explain", "--counts"], good);
    assert_eq!(output.status.code(), Some(0));
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(text.contains("\"working\":[") && text.ends_with("{\"counts\":{\"lines\":1,\"answered\":1,\"problems\":0}}\n"));
    assert_eq!(filtered(&["convert"], b"nul\n").status.code(), Some(1));
    assert_eq!(filtered(&["convert"], b"").status.code(), Some(0));
    for (arguments, says) in [
        (&["convret"][..], "convert"),
        (&["convert", "--cvs"], "--csv"),
        (&["ratio-check", "--csv"], "no table"),
        (&["convert", "--csv", "--explain"], "--csv and --explain do not go together"),
        (&["convert", "--csv", "--csv"], "--csv stands twice"),
        (&["convert", "--from", "/nowhere/larkrise"], "(/nowhere/larkrise): there is no such file"),
        (&["convert", "--to", "/nowhere/larkrise"], "(/nowhere/larkrise): there is no such file or folder"),
        (&["convert", "--from", "/"], "it is a folder"),
        (&["convert", "--csv", "--separator", "|"], "tab"),
        (&["convert", "--csv"], "heading"),
        (&["convert", "questions.ndjson"], "--from FILE"),
        (&["convert", "--separator", ";"], "--separator is of tables only; add --csv"),
        (&["convert", "--unsafe-cells"], "--unsafe-cells is of tables only; add --csv"),
    ] {
        let output = filtered(arguments, b"");
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!((output.status.code(), said.lines().count()), (Some(2), 1), "{arguments:?}: {said}");
        assert!(said.contains(says), "{said}");
    }
}

#[test]
fn a_table_by_standard_input_is_the_table_of_the_network() {
    let output = filtered(&["convert", "--csv"], b"amount,to\n1 l,ml\n\n=1,ml\n");
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    let starts: Vec<_> = text.split("\r\n").map(|row| row.split(',').take(4).collect::<Vec<_>>().join(",")).collect();
    assert_eq!(starts, ["amount,to,result_value,result_unit", "1 l,ml,1000,ml", ",,,", "'=1,ml,,", ""]);
    assert_eq!(output.status.code(), Some(1));
}

#[test]
fn answers_come_while_questions_are_still_written_and_a_closed_pipe_is_a_quiet_end() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_evencrumb"))
        .arg("convert")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the binary starts");
    let (mut stdin, mut stdout) = (child.stdin.take().expect("its input"), child.stdout.take().expect("its output"));
    let good = b"{\"amount\":\"3 Tbsp\",\"to\":\"ml\"}\n";
    stdin.write_all(good).expect("a question");
    let mut answer = [0; 9];
    stdout.read_exact(&mut answer).expect("an answer at once");
    assert_eq!(&answer, b"{\"line\":1");
    drop(stdout);
    while stdin.write_all(&good.repeat(1000)).is_ok() {}
    let output = child.wait_with_output().expect("its end");
    assert_eq!((output.status.code(), output.stderr.len()), (Some(0), 0));
}

#[test]
fn a_list_and_a_question_over_several_lines_are_told_that_each_stands_on_one() {
    let input =
        "[{\"amount\":\"1 cup\",\"to\":\"ml\"}]\n{\n  \"amount\": \"1 cup\",\n  \"to\": \"ml\"\n}\n{\"amount\":\"1 cup\",\"to\":\"ml\"}\n";
    let output = filtered(&["convert"], input.as_bytes());
    let answers: Vec<Value> =
        String::from_utf8_lossy(&output.stdout).lines().map(|line| serde_json::from_str(line).expect("JSON")).collect();
    let detail = |at: usize| answers[at]["problem"]["detail"].as_str().unwrap_or_default();
    assert!((0..4).all(|at| detail(at).contains("Each question stands whole on a line of its own")), "{answers:#?}");
    assert_eq!(answers.last().map(|answer| (answer["line"].clone(), answer["result"]["unit"].clone())), Some((json!(6), json!("ml"))));
}
