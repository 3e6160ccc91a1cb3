//! How many instructions a question costs, counted by callgrind: the same on every machine, so that a change of speed is seen whatever the machine does.
//! Told and kept in `instructions.csv`; a count that has moved by more than a tenth fails, and the new table is written by hand from what is told here.

use std::io::Write;
use std::process::{Command, Stdio};

use crate::questions::Questions;

const TABLE: &str = include_str!("instructions.csv");
/// The first run bears the start of the program; the second has so many questions more.
const FEW: usize = 64;
const MORE: usize = 640;
/// Another compiler or C library moves a count a little.
const MOVED: f64 = 0.1;

pub fn measure() -> Vec<bool> {
    TABLE.lines().skip(1).map(kept).collect()
}

fn kept(row: &str) -> bool {
    let (name, kept) = row.split_once(',').expect("a calculation and its count");
    let kept: f64 = kept.parse().expect("a count");
    let count = (collected(name, FEW + MORE) - collected(name, FEW)) as f64 / MORE as f64;
    println!("{name}: {count:.0} instructions a question by standard input, kept in the table as {kept}");
    (count / kept - 1.0).abs() <= MOVED
}

fn collected(name: &str, questions: usize) -> u64 {
    let bodies = Questions::of(name).bodies;
    let lines: String = (0..questions).map(|at| bodies[at % bodies.len()].clone() + "\n").collect();
    let mut child = Command::new("valgrind")
        .args(["--tool=callgrind", "--callgrind-out-file=/dev/null", env!("CARGO_BIN_EXE_evencrumb"), name])
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .expect("valgrind counts the instructions: install it");
    let mut stdin = child.stdin.take().expect("its input");
    let writer = std::thread::spawn(move || stdin.write_all(lines.as_bytes()).expect("the questions"));
    let told = child.wait_with_output().expect("its end");
    writer.join().expect("all written");
    let told = String::from_utf8_lossy(&told.stderr).into_owned();
    let count = told.lines().find_map(|line| line.split_once("Collected : ")).and_then(|(_, count)| count.trim().parse().ok());
    count.unwrap_or_else(|| panic!("no count was told: {told}"))
}
