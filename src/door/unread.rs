//! What the HTTP reader refuses before it is a request: it answers with a bare status, and this puts the problem in its place, on the way out. No answer of
//! ours has one of these statuses and nothing behind it, so that the bare one is known by its first two lines.

use memchr::memmem::rfind;

use super::problem::{CODE_HEADER, Problem};
use super::watch;
use crate::quantity::{Code, Fault, Pointer};

/// The bare answers as they begin, behind the version.
const BARE: [(&str, Code); 3] = [
    ("400 Bad Request\r\ncontent-length: 0\r\n", Code::BadRequest),
    ("408 Request Timeout\r\ncontent-length: 0\r\n", Code::TooSlow),
    ("431 Request Header Fields Too Large\r\ncontent-length: 0\r\n", Code::HeadTooLarge),
];
/// No bare answer is longer.
const LONGEST: usize = 256;
const VERSION: usize = "HTTP/1.1 ".len();

/// Where in these bytes a bare refusal begins, if they end with one, and what it refuses.
pub fn bare(bytes: &[u8]) -> Option<(usize, Code)> {
    // Nearly all answers have a body, and end with it.
    if !bytes.ends_with(b"\r\n\r\n") {
        return None;
    }
    let last = bytes.len().saturating_sub(LONGEST);
    let begins = last + rfind(&bytes[last..], b"HTTP/1.")?;
    let rest = bytes.get(begins + VERSION..)?;
    BARE.iter().find(|(head, _)| rest.starts_with(head.as_bytes())).map(|(_, code)| (begins, *code))
}

/// The refusal in words, in the place of this bare one; it is logged as every answer is.
pub fn told(bare: &[u8], code: Code) -> Vec<u8> {
    let problem = Problem::from(fault(code));
    let (id, body) = (watch::own_id(), problem.body());
    let text = String::from_utf8_lossy(bare);
    let mut lines = text.lines();
    let mut head = lines.next().unwrap_or_default().to_owned();
    for (name, value) in [
        ("content-type", "application/problem+json"),
        ("content-length", &body.len().to_string()),
        ("cache-control", "no-store"),
        (CODE_HEADER.as_str(), code.as_str()),
        ("x-content-type-options", "nosniff"),
        ("x-request-id", id.text()),
        ("connection", "close"),
    ] {
        head.push_str(&format!("\r\n{name}: {value}"));
    }
    lines.filter(|line| line.starts_with("date:")).for_each(|date| head.push_str(&format!("\r\n{date}")));
    head.push_str("\r\n\r\n");
    watch::unread(&id, code, body.len());
    [head.into_bytes(), body].concat()
}

fn fault(code: Code) -> Fault {
    let at = Pointer::ROOT;
    match code {
        Code::HeadTooLarge => {
            let most = format!("at most {} bytes and {} headers", super::limits::HEAD, super::limits::HEADERS);
            Fault::new(&at, code, "a larger head, or more headers", most)
        }
        Code::TooSlow => Fault::new(&at, code, "a head that came too slowly", "request line and headers without pauses"),
        _ => Fault::new(&at, code, "what is no request", "a request as RFC 9112 has it").saying(
            "Write the address in ASCII, with %20 for a blank and %C2%BD for ½, below 64 KiB; give one Host, and the length of the body in one way.",
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bare_refusal_is_known_behind_other_answers_and_no_other_answer_is_taken_for_one() {
        let bare_one = "HTTP/1.1 400 Bad Request\r\ncontent-length: 0\r\ndate: x\r\n\r\n";
        let before = "HTTP/1.1 200 OK\r\ncontent-length: 2\r\n\r\n{}";
        assert_eq!(bare(bare_one.as_bytes()), Some((0, Code::BadRequest)));
        assert_eq!(bare(format!("{before}{bare_one}").as_bytes()), Some((before.len(), Code::BadRequest)));
        for other in [
            before,
            "HTTP/1.1 204 No Content\r\nallow: GET\r\n\r\n",
            "HTTP/1.1 400 Bad Request\r\ncontent-length: 376\r\n\r\n",
            "HTTP/1.1 400 Bad Request\r\ncontent-length: 0\r\n\r\n{}",
            "\r\n\r\n",
            "",
        ] {
            assert_eq!(bare(other.as_bytes()), None, "{other}");
        }
    }
}
