//! The query string: what belongs to the door (`format`, `explain`, `tables`) taken out first, the rest as a question of texts.

use crate::quantity::{Code, Fault, Faults, Pointer, nearest};

/// What a query string asks of the door itself.
#[derive(Debug, Default, PartialEq)]
pub struct Asked {
    pub format: Option<String>,
    pub explain: bool,
    /// The version of the tables that the caller insists on.
    pub tables: Option<String>,
}

/// The names that are never fields of a question.
pub const OURS: [&str; 3] = ["explain", "format", "tables"];

/// A name and its text.
pub type Pair = (String, String);

/// Whether an address asks for text, whatever else may be wrong with it.
pub fn wants_text(query: Option<&str>) -> bool {
    query.is_some_and(|query| query.split('&').any(|part| part == "format=text"))
}

/// Parts a query string into what the door is asked and the rest, in order.
pub fn read(query: &str) -> Result<(Asked, Vec<Pair>), Faults> {
    parted(query, false)
}

/// The same for a question: behind a field of it there may be nothing, as in an empty cell or a form that was not filled in. The pair is kept, with a blank text.
pub fn read_question(query: &str) -> Result<(Asked, Vec<Pair>), Faults> {
    parted(query, true)
}

fn parted(query: &str, blanks: bool) -> Result<(Asked, Vec<Pair>), Faults> {
    if query.is_empty() {
        return Ok((Asked::default(), Vec::new()));
    }
    let mut asked = Asked::default();
    let mut rest: Vec<Pair> = Vec::new();
    let mut faults = Faults::new();
    let mut seen: Vec<String> = Vec::new();
    for part in query.split('&').filter(|part| !part.is_empty()) {
        let Some((name, value)) = faults.keep(pair(part)) else { continue };
        let at = Pointer::ROOT;
        let at = at.key(&name);
        if seen.contains(&name) {
            faults.push(Fault::new(&at, Code::RepeatedField, format!("\"{name}\" twice"), "each name once"));
            continue;
        }
        let blank = blanks && part.contains('=') && !OURS.contains(&name.as_str());
        if value.is_empty() && !blank {
            faults.push(
                Fault::new(&at, Code::UnreadableAmount, "an empty value", "a value, or the name left out")
                    .saying("Write the value behind the equals sign, or leave the name out."),
            );
            seen.push(name);
            continue;
        }
        seen.push(name.clone());
        match name.as_str() {
            "format" => asked.format = Some(value),
            "tables" => asked.tables = Some(value),
            "explain" => asked.explain = faults.keep(truth(&value, &at)).unwrap_or_default(),
            _ => rest.push((name, value)),
        }
        if seen.len() > 100 {
            faults.push(Fault::new(&Pointer::ROOT, Code::TooMany, "more than 100 names", "at most 100 names"));
            break;
        }
    }
    faults.or((asked, rest))
}

pub fn truth(value: &str, at: &Pointer<'_>) -> Result<bool, Fault> {
    match value {
        "true" => Ok(true),
        "false" => Ok(false),
        other => Err(Fault::new(at, Code::UnknownWord, other, "true or false").trying(["true"])),
    }
}

/// Where nothing but the door's own names may stand, and those of this place: every other is a fault.
pub fn nothing_else(rest: &[Pair], here: &[&'static str]) -> Result<(), Faults> {
    let mut faults = Faults::new();
    let names = || here.iter().copied().chain(OURS);
    for (name, _) in rest.iter().filter(|(name, _)| !here.contains(&name.as_str())) {
        faults.push(
            Fault::new(&Pointer::ROOT.key(name), Code::UnknownField, name.as_str(), names().collect::<Vec<_>>().join(", "))
                .saying("In the address only these may stand here; leave the name out.")
                .trying(nearest(name, names(), 1)),
        );
    }
    faults.or(())
}

/// Whether there is anything behind a name.
pub fn is_said((_, value): &Pair) -> bool {
    !value.trim().is_empty()
}

/// The rest as the bytes of a JSON object of texts.
pub fn question(rest: &[Pair]) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(128);
    bytes.push(b'{');
    for (index, (name, value)) in rest.iter().enumerate() {
        if index > 0 {
            bytes.push(b',');
        }
        // Writing a text into memory cannot fail.
        drop(serde_json::to_writer(&mut bytes, name));
        bytes.push(b':');
        drop(serde_json::to_writer(&mut bytes, value));
    }
    bytes.push(b'}');
    bytes
}

fn pair(part: &str) -> Result<Pair, Fault> {
    let (name, value) = part.split_once('=').unwrap_or((part, ""));
    Ok((decoded(name)?, decoded(value)?))
}

/// Blanks for plus signs and bytes for %XX, as a browser's form writes them.
pub fn decoded(text: &str) -> Result<String, Fault> {
    let mut bytes = Vec::with_capacity(text.len());
    let mut letters = text.bytes();
    while let Some(letter) = letters.next() {
        bytes.push(match letter {
            b'+' => b' ',
            b'%' => match (letters.next().and_then(hexadecimal), letters.next().and_then(hexadecimal)) {
                (Some(high), Some(low)) => high << 4 | low,
                _ => {
                    return Err(Fault::new(&Pointer::ROOT, Code::BadRequest, text, "% followed by two hexadecimal digits")
                        .saying("Write a percent sign as %25."));
                }
            },
            other => other,
        });
    }
    String::from_utf8(bytes).map_err(|_| Fault::new(&Pointer::ROOT, Code::NotUtf8, text, "UTF-8 text, percent-encoded"))
}

fn hexadecimal(letter: u8) -> Option<u8> {
    char::from(letter).to_digit(16).and_then(|digit| u8::try_from(digit).ok())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_doors_own_names_are_taken_out_and_the_rest_becomes_a_question() {
        let (asked, rest) = read("amount=3+Tbsp&explain=true&to=g&ingredient=cr%C3%A8me%20fra%C3%AEche&tables=abc").expect("a good query");
        assert_eq!(asked, Asked { format: None, explain: true, tables: Some("abc".into()) });
        assert_eq!(question(&rest), r#"{"amount":"3 Tbsp","to":"g","ingredient":"crème fraîche"}"#.as_bytes());
    }

    #[test]
    fn what_stands_twice_or_is_empty_or_cannot_be_decoded_is_refused_all_at_once() {
        let faults = read("amount=1&amount=2&to=&x=%zz&y=%ff&explain=maybe").expect_err("a bad query");
        let codes: Vec<_> = faults.iter().map(|fault| fault.code).collect();
        assert_eq!(codes, [Code::RepeatedField, Code::UnreadableAmount, Code::BadRequest, Code::NotUtf8, Code::UnknownWord]);
        assert!(read_question("amount=1&ingredient=&to=+").is_ok_and(|(_, rest)| rest.iter().filter(|pair| is_said(pair)).count() == 1));
        assert!(["format=", "explain=", "tables=", "to"].into_iter().all(|query| read_question(query).is_err()));
        let faults = read("explain").expect_err("a name without a value");
        assert_eq!(faults.total(), 1, "what is empty is told once: {faults:?}");
    }
}
