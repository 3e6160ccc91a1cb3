//! A list of questions: a list of as many answers in the same order, with a problem in place of each that has none; or all or nothing.

use std::collections::HashMap;

use actix_web::HttpResponse;
use actix_web::http::header;
use memchr::memchr2;

use super::{Asking, TURN, TURN_BYTES, Tally, place};
use crate::calculation::{Id, Mark, unreadable};
use crate::door::accept::Form;
use crate::door::problem::Problem;
use crate::door::{House, index};
use crate::quantity::{Code, Fault, Faults, Pointer};

/// Whether a body is a list.
pub fn is_list(bytes: &[u8]) -> bool {
    bytes.trim_ascii_start().first() == Some(&b'[')
}

pub async fn answer(house: &'static House, asking: Asking, bytes: &[u8], strict: bool) -> Result<HttpResponse, Problem> {
    let items = split(bytes, house.settings.items)?;
    let _place = place(house).await?;
    let list = List { bytes, items };
    let body = if strict { list.all_or_nothing(&asking).await? } else { list.each_in_place(&asking).await? };
    Ok(HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, Form::Json.media_type()))
        .insert_header((header::CACHE_CONTROL, index::CALCULATED))
        .body(body))
}

/// A list and its items.
struct List<'l> {
    bytes: &'l [u8],
    items: Vec<&'l [u8]>,
}

impl List<'_> {
    async fn each_in_place(&self, asking: &Asking) -> Result<Vec<u8>, Problem> {
        let mut out = vec![b'['];
        let mut tally = Tally::default();
        let mut seen = Seen::default();
        let mut turns = Turns::default();
        for (number, item) in self.items.iter().enumerate() {
            turns.take(item.len(), out.len()).await;
            part(number, self.items.len(), &mut out);
            let problems = tally.problems;
            let id = asking.in_place(Mark { word: "index", number }, item, &mut out, &mut tally);
            if tally.problems > problems {
                self.readable(item)?;
            }
            seen.tell(id, number, &mut out);
        }
        out.push(b']');
        Ok(out)
    }

    async fn all_or_nothing(&self, asking: &Asking) -> Result<Vec<u8>, Problem> {
        let mut out = vec![b'['];
        let mut faults = Faults::new();
        let mut seen = Seen::default();
        let mut turns = Turns::default();
        for (number, item) in self.items.iter().enumerate() {
            turns.take(item.len(), out.len()).await;
            part(number, self.items.len(), &mut out);
            match asking.one(Mark { word: "index", number }, item, &mut out) {
                Ok(id) => seen.tell(id, number, &mut out),
                Err((_, problem)) => {
                    self.readable(item)?;
                    faults.append(problem.within(number));
                }
            }
        }
        out.push(b']');
        Ok(faults.or(out)?)
    }

    /// A list with an item that is no JSON is none itself: where it was cut is a guess.
    fn readable(&self, item: &[u8]) -> Result<(), Problem> {
        if unreadable(item).is_some_and(|fault| fault.code == Code::NotJson) { Err(broken(self.bytes)) } else { Ok(()) }
    }
}

/// Room set aside ahead at most, whatever the first answer promises: what is not written costs nothing, but it is asked for.
const ROOM: usize = 96 * 1024;

/// What stands before an answer. Answers to one calculation are about as long as one another: the first tells how much room the others take.
fn part(number: usize, count: usize, out: &mut Vec<u8>) {
    if number == 1 {
        out.reserve((out.len() * (count - 1)).min(ROOM));
    }
    if number > 0 {
        out.push(b',');
    }
}

/// Lets others on this worker have their turn.
#[derive(Default)]
struct Turns {
    items: usize,
    questions: usize,
    /// How long the answers were when the turn began.
    answers: usize,
}

impl Turns {
    /// Before a question of so many bytes, where the answers are so long by now.
    async fn take(&mut self, question: usize, answers: usize) {
        self.items += 1;
        self.questions += question;
        if self.items > TURN || self.questions + answers - self.answers > TURN_BYTES {
            *self = Self { answers, ..Self::default() };
            tokio::task::yield_now().await;
        }
    }
}

/// The names that the caller gave, with where each came first.
#[derive(Default)]
struct Seen(HashMap<Id, usize>);

impl Seen {
    /// Tells behind an answer where its name has come before: both are answered, and whoever joins by name is warned.
    fn tell(&mut self, id: Option<Id>, number: usize, out: &mut Vec<u8>) {
        let Some(id) = id else { return };
        let first = *self.0.entry(id).or_insert(number);
        if first != number && out.pop() == Some(b'}') {
            out.extend_from_slice(format!(",\"same_id_as\":{first}}}").as_bytes());
        }
    }
}

/// The items of a list as bytes. They are cut by brackets, quotes and commas alone, which is right wherever every item turns out to be JSON.
fn split(bytes: &[u8], most: usize) -> Result<Vec<&[u8]>, Problem> {
    let mut items = Vec::new();
    let mut count = 0;
    let mut rest = bytes.trim_ascii_start().get(1..).unwrap_or_default().trim_ascii_start();
    if let Some(behind) = rest.strip_prefix(b"]") {
        return if behind.trim_ascii().is_empty() { Ok(items) } else { Err(broken(bytes)) };
    }
    loop {
        let (item, behind) = end_of_item(rest).map(|end| rest.split_at(end)).ok_or_else(|| broken(bytes))?;
        count += 1;
        if count <= most {
            items.push(item.trim_ascii());
        }
        rest = &behind[1..];
        match behind[0] {
            _ if item.trim_ascii().is_empty() => return Err(broken(bytes)),
            b',' => {}
            b']' if rest.trim_ascii().is_empty() => break,
            _ => return Err(broken(bytes)),
        }
    }
    if count > most {
        let fault = Fault::new(&Pointer::ROOT, Code::TooMany, format!("a list of {count} questions"), format!("at most {most} questions"));
        return Err(fault.saying("Send shorter lists, or lines by application/x-ndjson, which have no such limit.").into());
    }
    Ok(items)
}

/// Where an item ends: at the comma behind it, or at the end of the list.
fn end_of_item(bytes: &[u8]) -> Option<usize> {
    let (mut at, mut depth) = (0, 0_usize);
    loop {
        match bytes.get(at)? {
            b'"' => at = end_of_text(bytes, at + 1)?,
            b'{' | b'[' => depth += 1,
            b',' | b'}' | b']' if depth == 0 => return Some(at),
            b'}' | b']' => depth -= 1,
            _ => {}
        }
        at += 1;
    }
}

/// Where the text that begins here has its closing quote.
fn end_of_text(bytes: &[u8], from: usize) -> Option<usize> {
    let mut at = from;
    loop {
        at += memchr2(b'"', b'\\', bytes.get(at..)?)?;
        if bytes[at] == b'"' {
            return Some(at);
        }
        // What stands behind a backslash is not looked at.
        at += 2;
    }
}

/// Where the list stops being JSON.
fn broken(bytes: &[u8]) -> Problem {
    let unknown = || Fault::new(&Pointer::ROOT, Code::NotJson, "a list that is no JSON", "a list of questions in JSON");
    unreadable(bytes).unwrap_or_else(unknown).into()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parts(text: &str) -> Option<Vec<&str>> {
        let items = split(text.as_bytes(), 3).ok()?;
        Some(items.into_iter().filter_map(|item| std::str::from_utf8(item).ok()).collect())
    }

    #[test]
    fn a_list_is_parted_into_its_items_whatever_they_are() {
        assert_eq!(parts("[]"), Some(vec![]));
        assert_eq!(parts(" [ 1 , {\"a\":[1,\"],\"]},null ] "), Some(vec!["1", "{\"a\":[1,\"],\"]}", "null"]));
        assert_eq!(parts(r#"["a\\", "\"]", 3]"#), Some(vec![r#""a\\""#, r#""\"]""#, "3"]));
        for broken in ["[", "[1", "[1,", "[1,]", "[,1]", "[1]]", "[] x", "[\"a]", "[\"\\", "[{]", "[1}"] {
            assert_eq!(parts(broken), None, "{broken}");
        }
    }

    #[test]
    fn a_list_beyond_the_limit_is_refused_with_its_count() {
        let problem = split(b"[1,2,3,4]", 3).expect_err("too many");
        assert_eq!(problem.code(), Code::TooMany);
    }
}
