//! The phrase of a sentence that names a pan with its size; it is tried on the reader of pans, so that what is found is understood by every calculation.

use super::words::TINS;
use crate::formula::line::text::is_figure;
use crate::pan::{PanWritten, PansWritten};
use crate::quantity::{Code, Fault, Measures, Pointer, plain, word_number};
use crate::reference::{Account, Reference};

/// So many beginnings are tried.
const TRIED: usize = 6;

/// Within so many words behind a tin its depth is said: "tin, at least 5 cm deep".
const DEPTH: usize = 5;
/// The size of a tin behind it has so many words at most: "20 x 30 x 5 cm".
const SIZE: usize = 6;
const DEEP: &[&str] = &["deep", "high", "tall"];

/// What was found of a pan.
pub(super) enum Tin {
    /// None is named with a size.
    None,
    /// One that is understood, and what else is named.
    Pan(String, Option<String>),
    /// One that is not: why, and what to write.
    Refused(Fault),
}

/// The first pan of a text.
pub(super) fn tin(text: &str, reference: &'static Reference) -> Tin {
    let words: Vec<(usize, usize)> = words(text);
    let is_tin = |at: usize| words.get(at).is_some_and(|(from, to)| TINS.contains(&&*bare(&text[*from..*to])));
    let mut refused = Tin::None;
    let mut tried = 0;
    let word = |at: usize| words.get(at).map_or("", |(from, to)| &text[*from..*to]);
    for last in (0..words.len())
        .filter(|at| is_tin(*at) && !is_tin(*at + 1) && !is_eaten(at.checked_sub(1).map_or("", word), word(*at), word(*at + 1)))
    {
        if let Some(pan) = sized_behind(text, &words, last, reference) {
            return Tin::Pan(pan.to_owned(), None);
        }
        for (from, to) in &words[..last] {
            let word = text[*from..*to].trim_start_matches('(');
            if !word.starts_with(is_figure) && (word.len() < 3 || word_number(word).is_none()) || tried > TRIED {
                continue;
            }
            tried += 1;
            let end = words[last].1;
            // "20 cm round tin, 5 cm deep, 180 C": the depth belongs to the tin, the oven does not.
            let deep = words[last + 1..].iter().take(DEPTH).position(|(from, to)| DEEP.contains(&&*bare(&text[*from..*to])));
            let deep = deep.map_or(end, |at| words[last + 1 + at].1);
            let phrases = [closed(&text[*from..]), closed(&text[*from..deep]), closed(&text[*from..end])];
            // "12 buns in a 23 cm square tin": what lies in it is none of the tin.
            if [" in a ", " in an ", " in one ", " in the "].iter().any(|mark| phrases[2].contains(mark)) {
                continue;
            }
            // "8 in round or 7 in square tin": the first is taken.
            if let Some((first, other)) = phrases[2].split_once(" or ")
                && is_sized(first)
                && meant(first, reference).is_ok()
            {
                return Tin::Pan(first.to_owned(), Some(other.to_owned()));
            }
            for phrase in phrases.into_iter().filter(|phrase| is_sized(phrase)) {
                match meant(phrase, reference) {
                    Ok(()) => {
                        let more = text.get(*from + phrase.len()..).map_or(Tin::None, |behind| tin(behind, reference));
                        return Tin::Pan(phrase.to_owned(), if let Tin::Pan(other, _) = more { Some(other) } else { None });
                    }
                    Err(fault) if matches!(refused, Tin::None) || phrase == phrases[2] => refused = Tin::Refused(fault),
                    Err(_) => {}
                }
            }
        }
    }
    refused
}

/// "greased loaf pan (9x5)": its size stands behind it in brackets.
fn sized_behind<'t>(text: &'t str, words: &[(usize, usize)], last: usize, reference: &'static Reference) -> Option<&'t str> {
    let (from, _) = *words.get(last + 1)?;
    if text[from..].starts_with(|c: char| c.is_ascii_digit()) && !text[..from].trim_end().ends_with([',', ';', '.']) {
        // "an ovenproof dish 20 x 20 cm".
        let end = words.get(last + sized_words(text, &words[last + 1..]))?.1;
        let names = |(from, to): &&(usize, usize)| !matches!(&text[*from..*to], "in" | "into" | "a" | "an" | "the");
        let starts = [3, 2, 1, 0].iter().filter_map(|back| words.get(last.checked_sub(*back)?)).filter(names);
        return starts.map(|(from, _)| closed(&text[*from..end])).find(|phrase| is_whole(phrase, reference));
    }
    let sized = text[from..].strip_prefix('(').filter(|size| size.starts_with(|c: char| c.is_ascii_digit()))?;
    let to = from + 1 + sized.find(')')? + 1;
    [2, 1]
        .iter()
        .filter_map(|back| words.get(last.checked_sub(*back)?))
        .map(|(from, _)| &text[*from..to])
        .find(|phrase| phrase.starts_with(char::is_alphabetic) && is_sized(phrase) && meant(phrase, reference).is_ok())
}

/// How many words in a row are those of a size, to the end of their stretch.
fn sized_words(text: &str, words: &[(usize, usize)]) -> usize {
    const UNITS: [&str; 12] = ["x", "×", "by", "cm", "mm", "in", "inch", "inches", "deep", "high", "ø", "diameter"];
    let word = |at: usize| words.get(at).map(|(from, to)| &text[*from..*to]);
    let is_size = |word: &str| word.starts_with(|c: char| c.is_ascii_digit()) || UNITS.contains(&&*bare(word));
    let ended = |word: &str| word.ends_with([',', ';', '.']);
    (0..SIZE).take_while(|at| word(*at).is_some_and(is_size) && (*at == 0 || !word(*at - 1).is_some_and(ended))).count()
}

/// "400 g tin chickpeas", "loaf sugar": what is in it is eaten.
fn is_eaten(before: &str, tin: &str, behind: &str) -> bool {
    // "six 150 ml ramekins, 150 C": behind the comma stands the oven.
    if tin.ends_with([',', ';', '.']) {
        return false;
    }
    let unit = before.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '-'));
    let full = matches!(&*bare(unit), "g" | "kg" | "gram" | "grams" | "ml" | "oz" | "ounce" | "ounces");
    full && !behind.is_empty() || bare(behind) == "sugar"
}

/// Whether a line is a pan and nothing else, whose size stands behind its name: "lamington pan 20 x 30 cm".
pub(super) fn is_whole(text: &str, reference: &'static Reference) -> bool {
    let named = words(text).iter().any(|(from, to)| TINS.contains(&&*bare(&text[*from..*to])));
    named && is_sized(text) && meant(text, reference).is_ok()
}

/// Whether a figure of the phrase is a measure: "9 inch", "2lb", "9x5", "12-cup", but not "1 loaf"; or its name is one.
fn is_sized(phrase: &str) -> bool {
    const UNITS: &[&str] = &[
        "in", "inch", "inches", "cm", "mm", "lb", "lbs", "kg", "g", "x", "×", "by", "cup", "cups", "hole", "holes", "well", "wells",
        "quart", "pt", "pint", "pints", "litre", "l", "ml",
    ];
    const TRADE: [&str; 4] = ["half sheet", "half-sheet", "quarter sheet", "quarter-sheet"];
    let lower = plain(phrase);
    // The trade's sheets have their size by their name.
    TRADE.iter().any(|sheet| lower.contains(sheet))
        || lower.char_indices().filter(|(_, c)| is_figure(*c)).any(|(at, c)| {
            let behind = lower[at + c.len_utf8()..].trim_start_matches([' ', '-', '–']);
            let end = behind.find(|c: char| !c.is_alphabetic() && c != '×').unwrap_or(behind.len());
            behind.starts_with(['"', '″', '”']) || UNITS.contains(&&behind[..end])
        })
}

/// Without a bracket that is not closed or not opened, and without what ends a sentence.
fn closed(phrase: &str) -> &str {
    // How it is prepared is no part of its name.
    let prepared = [", greased", ", buttered", ", lined", ", ungreased"].iter().filter_map(|mark| phrase.find(mark)).min();
    let phrase = &phrase[..prepared.unwrap_or(phrase.len())];
    let phrase = phrase.trim_matches(|c: char| matches!(c, '.' | ',' | ';' | ':' | '!') || c.is_whitespace());
    let phrase =
        phrase.strip_prefix('(').and_then(|inner| inner.strip_suffix(')')).filter(|inner| !inner.contains(['(', ')'])).unwrap_or(phrase);
    let phrase = phrase.strip_prefix('(').filter(|_| !phrase.contains(')')).unwrap_or(phrase);
    phrase.strip_suffix(')').filter(|_| !phrase.contains('(')).unwrap_or(phrase)
}

fn meant(phrase: &str, reference: &'static Reference) -> Result<(), Fault> {
    let written = PansWritten::One(PanWritten::Phrase(phrase.into()));
    // What a trial assumes is told by the calculation that asks for the pan.
    let read = written.resolve(Measures::Us, reference, &Pointer::ROOT, &mut Account::new(reference, false));
    let Err(faults) = read else { return Ok(()) };
    Err(faults.iter().next().cloned().unwrap_or_else(|| Fault::new(&Pointer::ROOT, Code::UnreadableAmount, phrase, "a pan")))
}

fn bare(word: &str) -> String {
    plain(word).trim_matches(|c: char| !c.is_alphanumeric()).to_owned()
}

/// Where each word begins and ends.
fn words(text: &str) -> Vec<(usize, usize)> {
    let mut at = 0;
    text.split(' ')
        .filter_map(|word| {
            let from = at;
            at += word.len() + 1;
            (!word.is_empty()).then_some((from, from + word.len()))
        })
        .collect()
}
