//! Holds the architecture: who may name whom, how long a file and a function may be, which words may not be written. It reads the sources as
//! text, so that a broken rule is told with its file and line.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// The import table. A room may name the rooms beside it, and no other.
const MAY_NAME: &[(&str, &[&str])] = &[
    ("quantity", &[]),
    ("reference", &["quantity"]),
    ("pan", &["quantity", "reference"]),
    ("formula", &["quantity", "reference", "pan"]),
    ("calculation", &["quantity", "reference", "pan", "formula"]),
    ("settings", &["quantity"]),
    ("telemetry", &["settings"]),
    ("door", &["quantity", "reference", "pan", "calculation", "settings", "telemetry"]),
    ("filter", &["quantity", "reference", "calculation", "settings", "door"]),
];

const TOP_LEVEL: &[&str] = &[
    ".ci",
    ".gitignore",
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "Dockerfile",
    "LICENSE",
    "README.md",
    "deploy",
    "openapi",
    "src",
    "tests",
];

/// What a build or a tool leaves behind; `.gitignore` names the same.
const LEFT_BEHIND: &[&str] = &[".git", "target", "node_modules", "__pycache__"];

const LONGEST_FILE: usize = 400;
const LONGEST_FUNCTION: usize = 60;

/// Names that say nothing about what is inside.
const EMPTY_NAMES: &[&str] = &["utils", "util", "helpers", "helper", "common", "misc", "manager"];

/// What would end the service on something that a caller can send.
const PANICS: &[&str] = &[".unwrap()", ".expect(", "panic!(", "todo!(", "unimplemented!(", "unreachable!(", "dbg!("];

/// Places on one machine, and hosts of package registries: a clean clone elsewhere knows neither. Written in halves, for this file is read too.
const FOREIGN: &[&str] = &[
    concat!("/wo", "rk/"),
    concat!("/tm", "p/"),
    concat!("/ro", "ot/"),
    concat!("/ho", "me/"),
    concat!("crates", ".io/"),
    concat!("index.crates", ".io"),
    concat!("registry.npm", "js.org"),
    concat!("pypi", ".org"),
    concat!("pythonhosted", ".org"),
    concat!("docker", ".io"),
    concat!("debian", ".org"),
];

/// One file of the package, its text beside its code with all that is no code blanked out.
struct Source {
    path: String,
    text: String,
    code: String,
}

impl Source {
    fn is_rust(&self) -> bool {
        self.path.ends_with(".rs")
    }

    /// The room of a file under `src/`, or the file's own name where it stands beside the rooms.
    fn room(&self) -> Option<&str> {
        let inside = self.path.strip_prefix("src/")?;
        Some(inside.split('/').next()?.trim_end_matches(".rs"))
    }

    fn line(&self, at: usize) -> usize {
        1 + self.code[..at].matches('\n').count()
    }
}

fn package() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn walk(folder: &Path, found: &mut Vec<PathBuf>) {
    let mut entries: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        let name = path.file_name().unwrap().to_str().unwrap();
        if LEFT_BEHIND.contains(&name) {
            continue;
        }
        if path.is_dir() { walk(&path, found) } else { found.push(path) }
    }
}

/// Every file of text in the package.
fn sources() -> Vec<Source> {
    let root = package();
    let mut found = Vec::new();
    walk(&root, &mut found);
    let sources: Vec<Source> = found
        .into_iter()
        .filter_map(|path| {
            let text = fs::read_to_string(&path).ok()?;
            let path = path.strip_prefix(&root).unwrap().to_str().unwrap().to_owned();
            // A room's tests may stand in a file of their own.
            let code = if path.ends_with(".rs") && !path.ends_with("/tests.rs") { without_tests(&only_code(&text)) } else { String::new() };
            Some(Source { path, text, code })
        })
        .collect();
    assert!(sources.iter().filter(|source| source.is_rust()).count() > 20, "the sources were not found");
    sources
}

/// The code with comments and the insides of texts turned into blanks; lines and columns stay.
fn only_code(text: &str) -> String {
    let bytes = text.as_bytes();
    let mut code = bytes.to_vec();
    let mut at = 0;
    while at < bytes.len() {
        let end = token_end(bytes, at);
        if end > at + 1 {
            for byte in &mut code[at..end] {
                if *byte != b'\n' {
                    *byte = b' ';
                }
            }
        }
        at = end.max(at + 1);
    }
    String::from_utf8(code).unwrap()
}

/// Where a comment, a text or a character that begins here ends; here itself where none begins.
fn token_end(bytes: &[u8], at: usize) -> usize {
    let rest = &bytes[at..];
    let named = at > 0 && (bytes[at - 1].is_ascii_alphanumeric() || bytes[at - 1] == b'_');
    if rest.starts_with(b"//") {
        return at + rest.iter().position(|byte| *byte == b'\n').unwrap_or(rest.len());
    }
    if !named && rest[0] == b'r' && (rest.starts_with(b"r\"") || rest.starts_with(b"r#")) {
        let hashes = rest[1..].iter().take_while(|byte| **byte == b'#').count();
        if rest.get(1 + hashes) == Some(&b'"') {
            let close = [b"\"".as_slice(), &b"#".repeat(hashes)].concat();
            let open = 2 + hashes;
            return at + open + find(&rest[open..], &close) + close.len();
        }
    }
    if rest[0] == b'"' {
        return at + quoted(rest, b'"');
    }
    if rest[0] == b'\'' && (rest.get(1) == Some(&b'\\') || rest.iter().skip(2).take(4).any(|byte| *byte == b'\'')) && !is_lifetime(rest) {
        return at + quoted(rest, b'\'');
    }
    at
}

fn is_lifetime(rest: &[u8]) -> bool {
    rest.get(1).is_some_and(|byte| byte.is_ascii_alphabetic() || *byte == b'_') && rest.get(2) != Some(&b'\'')
}

fn quoted(rest: &[u8], quote: u8) -> usize {
    let mut at = 1;
    while at < rest.len() && rest[at] != quote {
        at += if rest[at] == b'\\' { 2 } else { 1 };
    }
    (at + 1).min(rest.len())
}

fn find(bytes: &[u8], wanted: &[u8]) -> usize {
    bytes.windows(wanted.len()).position(|window| window == wanted).unwrap_or(bytes.len() - wanted.len())
}

/// The code with its `#[cfg(test)]` items turned into blanks.
fn without_tests(code: &str) -> String {
    let mut code = code.to_owned();
    let mut from = 0;
    while let Some(found) = code[from..].find("#[cfg(test)]") {
        let start = from + found;
        let end = start + body_end(&code[start..]);
        let blank: String = code[start..end].chars().map(|c| if c == '\n' { '\n' } else { ' ' }).collect();
        code.replace_range(start..end, &blank);
        from = end;
    }
    code
}

/// Where an item ends: behind its body, or at a semicolon where it has none.
fn body_end(code: &str) -> usize {
    let mut depth = 0_i32;
    for (at, c) in code.char_indices() {
        match c {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' => depth -= 1,
            '}' => {
                depth -= 1;
                if depth == 0 {
                    return at + 1;
                }
            }
            ';' if depth == 0 => return at + 1,
            _ => {}
        }
    }
    code.len()
}

/// Every function with where it begins, its name and its signature and body.
fn functions(code: &str) -> Vec<(usize, &str, &str)> {
    let mut found = Vec::new();
    for (at, _) in code.match_indices("fn ") {
        let bounded = at == 0 || !code[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_');
        let name: &str = code[at + 3..].split(|c: char| !c.is_alphanumeric() && c != '_').next().unwrap();
        if bounded && !name.is_empty() {
            found.push((at, name, &code[at..at + body_end(&code[at..])]));
        }
    }
    found
}

fn signature(function: &str) -> &str {
    &function[..function.find('{').unwrap_or(function.len())]
}

/// The rest of the line before this place: the words that say who sees what follows.
fn before(code: &str, at: usize) -> &str {
    code[..at].rsplit('\n').next().unwrap().trim()
}

fn hold(rule: &str, broken: &[String]) {
    assert!(broken.is_empty(), "{rule}\n  {}", broken.join("\n  "));
}

/// The first word of a path.
fn word(path: &str) -> String {
    path.trim_start().split(|c: char| !c.is_alphanumeric() && c != '_').next().unwrap().to_owned()
}

/// The rooms named in `crate::room`, `crate::{room::…, other::…}`, and by `super::` where it climbs out of the room.
fn rooms_named(source: &Source) -> Vec<(usize, String)> {
    let code = &source.code;
    let climbs = "super::".repeat(source.path.matches('/').count() - usize::from(source.path.ends_with("/mod.rs")));
    let mut named: Vec<_> = code.match_indices(&*climbs).map(|(at, _)| (at, word(&code[at + climbs.len()..]))).collect();
    for (at, _) in code.match_indices("crate::") {
        let rest = &code[at + 7..];
        if !rest.starts_with('{') {
            named.push((at, word(rest)));
            continue;
        }
        let mut depth = 0;
        for (inside, c) in rest.char_indices() {
            match c {
                '{' | ',' if depth == i32::from(c == ',') => named.push((at, word(&rest[inside + 1..]))),
                _ => {}
            }
            depth += i32::from(c == '{') - i32::from(c == '}');
            if depth == 0 {
                break;
            }
        }
    }
    named.retain(|(_, room)| !room.is_empty());
    named
}

#[test]
fn every_room_names_only_the_rooms_it_may_name() {
    let mut broken = Vec::new();
    for source in sources().iter().filter(|source| source.is_rust()) {
        let Some(room) = source.room().filter(|room| !["lib", "main"].contains(room)) else { continue };
        let Some((_, may)) = MAY_NAME.iter().find(|(name, _)| *name == room) else {
            broken.push(format!("{}: the room `{room}` is not in the import table", source.path));
            continue;
        };
        for (at, named) in rooms_named(source) {
            if named != room && !may.contains(&&*named) {
                broken.push(format!("{}:{}: `{room}` names `{named}`; it may name {may:?}", source.path, source.line(at)));
            }
        }
    }
    hold("The import table is broken:", &broken);
}

#[test]
fn no_file_and_no_function_outgrows_its_reader() {
    let mut broken = Vec::new();
    for source in sources().iter().filter(|source| source.is_rust()) {
        let lines = source.text.lines().count();
        if lines > LONGEST_FILE {
            broken.push(format!("{}: {lines} lines; a file has at most {LONGEST_FILE}", source.path));
        }
        for (at, name, function) in functions(&only_code(&source.text)) {
            let lines = function.lines().count();
            if lines > LONGEST_FUNCTION {
                let line = 1 + source.text[..at].matches('\n').count();
                broken.push(format!("{}:{line}: `{name}` has {lines} lines; a function has at most {LONGEST_FUNCTION}", source.path));
            }
        }
    }
    hold("Too long:", &broken);
}

#[test]
fn every_file_opens_by_saying_what_it_is() {
    let rust = sources().into_iter().filter(Source::is_rust);
    let silent = rust.filter(|source| !source.text.starts_with("//! ")).map(|source| format!("{}:1: no `//!`", source.path));
    hold("A file opens with a sentence or two: what it is, why it stands apart.", &silent.collect::<Vec<_>>());
}

#[test]
fn no_name_is_empty() {
    let mut broken = Vec::new();
    for source in &sources() {
        let parts = source.path.split('/').map(|part| part.split('.').next().unwrap());
        broken.extend(parts.filter(|part| EMPTY_NAMES.contains(part)).map(|part| format!("{}: `{part}`", source.path)));
        for keyword in ["mod ", "struct ", "enum ", "trait ", "type "] {
            for (at, _) in source.code.match_indices(keyword) {
                let name = source.code[at + keyword.len()..].split(|c: char| !c.is_alphanumeric()).next().unwrap().to_lowercase();
                if EMPTY_NAMES.iter().any(|empty| name == *empty || (name.len() > 6 && name.ends_with(empty))) {
                    broken.push(format!("{}:{}: `{name}`", source.path, source.line(at)));
                }
            }
        }
    }
    hold("A name says what is inside; these say nothing:", &broken);
}

#[test]
fn no_bare_number_crosses_a_border() {
    let mut broken = Vec::new();
    for source in sources().iter().filter(|source| source.room().is_some_and(|room| room != "quantity")) {
        for (at, name, function) in functions(&source.code) {
            let public = before(&source.code, at).split(' ').next() == Some("pub");
            if public && signature(function).contains("f64") {
                broken.push(format!("{}:{}: `{name}` shows an f64; give it the quantity it is", source.path, source.line(at)));
            }
        }
    }
    hold("Only `quantity` knows bare numbers:", &broken);
}

#[test]
fn nothing_a_caller_sends_can_end_the_service() {
    let mut broken = Vec::new();
    for source in sources().iter().filter(|source| source.room().is_some_and(|room| room != "main")) {
        for word in PANICS {
            for (at, _) in source.code.match_indices(word) {
                broken.push(format!("{}:{}: `{word}`", source.path, source.line(at)));
            }
        }
    }
    hold("No panic outside main and tests:", &broken);
}

#[test]
fn no_file_knows_one_machine_or_one_registry() {
    let mut broken = Vec::new();
    for source in sources().iter().filter(|source| source.path != "Cargo.lock") {
        for (number, line) in source.text.lines().enumerate() {
            let foreign = FOREIGN.iter().filter(|word| line.contains(**word));
            broken.extend(foreign.map(|word| format!("{}:{}: `{word}`", source.path, number + 1)));
        }
    }
    hold("A clean clone on another machine knows none of these:", &broken);
}

#[test]
fn the_top_level_holds_only_what_it_should() {
    let found: BTreeSet<String> = fs::read_dir(package()).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    let extra = found.iter().filter(|name| !TOP_LEVEL.contains(&&***name) && !LEFT_BEHIND.contains(&&***name));
    let missing = TOP_LEVEL.iter().filter(|name| !found.contains(**name)).map(|name| format!("{name} is missing"));
    hold("The top level:", &extra.map(|name| format!("{name} does not belong there")).chain(missing).collect::<Vec<_>>());
}
