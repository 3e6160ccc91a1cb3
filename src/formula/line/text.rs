//! A line as letters: list marks off, blanks made plain, brackets and commas found. No word is understood here.

use crate::quantity::{plain, strip_ignoring_case, word_number};

/// Without the mark of a list.
pub(super) fn unlisted(line: &str) -> &str {
    let line = line.trim().trim_start_matches('\u{feff}');
    let marks = ["- ", "– ", "— ", "• ", "* ", "· ", "◦ ", "+ ", "→ ", "‣ ", "▪ ", "● ", "> "];
    let boxes = ["[ ] ", "[x] ", "[X] ", "□ ", "☐ ", "▢ ", "☑ ", "✓ ", "✔ "];
    let off = |line, marks: &[&str]| marks.iter().find_map(|mark| str::strip_prefix(line, mark)).map_or(line, str::trim_start);
    let line = off(off(line, &marks), &boxes);
    // A picture may stand before a line, as a mark of the list or for itself.
    let is_picture = |c: char| matches!(u32::from(c), 0x2190..=0x21ff | 0x2300..=0x23ff | 0x25a0..=0x27bf | 0x2b00..=0x2bff | 0xfe0f | 0x1f000..=0x1faff);
    let line = line.trim_start_matches(is_picture).trim();
    // "and 100 g chocolate" goes on from the line before.
    let behind = ["and ", "plus "].iter().find_map(|word| strip_ignoring_case(line, word));
    behind.filter(|behind| behind.starts_with(is_figure)).unwrap_or(line)
}

/// Without the marks of bold and slanted letters within a line: "**Yield:** 12 buns", "flour *with* gum". A line that is bold throughout is a heading by that, and a star before a blank marks a list.
pub fn unmarked(line: &str) -> std::borrow::Cow<'_, str> {
    let whole = || line.trim().strip_prefix("**").and_then(|line| line.strip_suffix("**")).is_some_and(|inner| !inner.contains("**"));
    if !line.contains('*') || whole() {
        return line.into();
    }
    let letter = |c: Option<char>| c.is_some_and(|c| !c.is_whitespace());
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let is_mark = |at: usize| {
        let (before, behind) = (line[..at].chars().next_back(), line[at + 1..].chars().next());
        (letter(before) || letter(behind)) && !(digit(before) && digit(behind))
    };
    line.char_indices().filter(|(at, c)| *c != '*' || !is_mark(*at)).map(|(_, c)| c).collect::<String>().into()
}

/// Blanks of every kind made plain; borrowed where they are plain already.
pub(super) fn cleaned(line: &str) -> std::borrow::Cow<'_, str> {
    if line.is_ascii() && !line.contains("  ") && !line.contains("...") && !line.contains(" ~ ") && !line.contains(['\t', '@']) {
        return line.into();
    }
    let mut out = String::with_capacity(line.len());
    // "16 squares ~ 20 cm square tin ~ 170 C": it parts as a semicolon does.
    let line = &*without_leaders(line).replace(" ~ ", "; ");
    for letter in unicode_normalization::UnicodeNormalization::nfc(line) {
        match letter {
            '\u{200b}' | '\u{200d}' | '\u{2060}' | '\u{ad}' => {}
            c if c.is_whitespace() => {
                if !out.ends_with(' ') {
                    out.push(' ');
                }
            }
            '’' | '‘' => out.push('\''),
            '‐' | '‑' => out.push('-'),
            // "Butter @ room temp".
            '@' => out.push_str("at"),
            c => out.push(c),
        }
    }
    out.into()
}

/// "one (1) cup", "2 (two) eggs": a number that is told twice is told once.
pub(super) fn told_once(line: std::borrow::Cow<'_, str>) -> std::borrow::Cow<'_, str> {
    // "1 egg white w/ 200 g icing sugar".
    if line.contains(" w/ ") {
        return told_once(line.replace(" w/ ", " with ").into());
    }
    // "x6 eggs", "Eggs x6".
    if let Some(bare) = line.strip_prefix(['x', 'X', '×']).filter(|bare| bare.starts_with(|c: char| c.is_ascii_digit())) {
        return bare.to_owned().into();
    }
    let bare = line.trim_end_matches(|c: char| c.is_ascii_digit());
    if bare.len() < line.len() && (bare.ends_with(" x") || bare.ends_with(" ×")) {
        return format!("{bare} {}", &line[bare.len()..]).into();
    }
    let Some((first, (inner, behind))) = line.split_once(" (").and_then(|(first, rest)| Some((first, rest.split_once(')')?))) else {
        return line;
    };
    let number =
        |text: &str| text.parse::<f64>().ok().or_else(|| word_number(text).filter(|(_, rest)| rest.is_empty()).map(|(value, _)| value));
    let (spelled, figures) = if inner.starts_with(is_figure) { (first, inner) } else { (inner, first) };
    let twice = spelled.starts_with(char::is_alphabetic) && number(spelled).is_some() && number(spelled) == number(figures);
    if twice { format!("{figures}{behind}").into() } else { line }
}

/// "Flour........250 g": dots lead from a name to its amount.
fn without_leaders(line: &str) -> std::borrow::Cow<'_, str> {
    let Some(at) = line.find("...") else { return line.into() };
    let (before, dots) = line.split_at(at);
    format!("{before} {}", without_leaders(dots.trim_start_matches('.'))).into()
}

pub(super) fn is_figure(letter: char) -> bool {
    letter.is_ascii_digit() || "¼½¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚".contains(letter)
}

/// Where behind a blank the first figure begins: "T65 330 g", in which that of a word is none.
pub(super) fn figure_behind(text: &str) -> Option<usize> {
    text.char_indices().map(|(at, _)| at).find(|at| text[..*at].ends_with(' ') && text[*at..].starts_with(is_figure))
}

/// "10 min": behind the number stands a time.
pub(super) fn is_of_time(rest: &str) -> bool {
    let word = plain(rest);
    let word = word.split(|c: char| !c.is_alphabetic()).next().unwrap_or_default();
    matches!(
        word,
        "min" | "mins" | "minute" | "minutes" | "h" | "hr" | "hrs" | "hour" | "hours" | "sec" | "secs" | "seconds" | "days" | "day"
    )
}

/// "10 min", "65 3 4": behind a number that counts nothing stands a time, or more numbers, as in the row of a table.
pub(super) fn is_no_count(rest: &str) -> bool {
    is_of_time(rest) || rest.trim_start().starts_with(is_figure)
}

pub(super) fn is_each(part: &str) -> bool {
    matches!(&*plain(part), "each" | "of each")
}

/// "for sprinkling", "more": not an ingredient.
pub(super) fn is_purpose(text: &str) -> bool {
    // "morello cherries" and "extract" are none.
    let added = ["more", "extra"].iter().find_map(|word| text.strip_prefix(word));
    added.is_some_and(|behind| !behind.starts_with(|c: char| c.is_alphanumeric() || c == '-'))
        || ["for ", "to ", "as ", "if "].iter().any(|word| text.starts_with(word))
}

/// A text in brackets at the head, and what stands behind.
pub(super) fn bracketed(text: &str) -> Option<(&str, &str)> {
    let close = match text.as_bytes().first()? {
        b'(' => ')',
        b'[' => ']',
        _ => return None,
    };
    let inner = &text[1..];
    Some(inner.split_once(close).unwrap_or((inner, "")))
}

/// The stretches between commas, dashes and semicolons; a decimal comma parts nothing.
pub(super) fn segments(text: &str) -> Vec<&str> {
    let (mut parts, mut from) = (Vec::with_capacity(2), 0);
    let bytes = text.as_bytes();
    for (at, letter) in text.char_indices() {
        let digit = |at: Option<usize>| at.and_then(|at| bytes.get(at)).is_some_and(u8::is_ascii_digit);
        let parting = match letter {
            ',' => !(digit(at.checked_sub(1)) && digit(Some(at + 1))),
            ';' | '|' | '–' | '—' => true,
            '-' => text[..at].ends_with(' ') && text[at + 1..].starts_with(' '),
            _ => false,
        };
        if parting {
            parts.push(text[from..at].trim());
            from = at + letter.len_utf8();
        }
    }
    parts.push(text[from..].trim());
    if parts.len() > 1 && parts[0].is_empty() {
        parts.remove(0);
    }
    parts
}

/// Whether a stretch says what is done, not what it is.
pub(super) fn is_done(text: &str) -> bool {
    let first = plain(text);
    let first = first.split(' ').next().unwrap_or_default();
    super::words::DONE.contains(first) && !matches!(first, "ground" | "dried" | "fresh" | "frozen" | "crystallised")
}

/// Whether it says nothing but what is done: "flaked", and not "flaked kosher", which is a kind of salt.
pub(super) fn is_only_done(text: &str) -> bool {
    is_done(text) && plain(text).split(' ').all(|word| super::words::DONE.contains(word))
}

/// A name without the percentage behind it, and that.
pub(super) fn without_percent(name: &str) -> Option<(&str, &str)> {
    let figure = name.strip_suffix('%')?.trim_end();
    let bare = figure.trim_end_matches(|c: char| c.is_ascii_digit() || c == '.' || c == ',');
    (bare.len() < figure.len() && bare.ends_with([' ', '|', '(']))
        .then(|| (bare.trim_end_matches([' ', '|', '(', ',', ':']), &name[bare.len()..]))
}
