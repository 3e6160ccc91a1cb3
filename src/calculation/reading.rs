//! From bytes to a question. A good question is read once and plainly; only one that fails is read again, slowly, so that all its faults can be told at once.

mod describe;
mod forms;
mod item;
mod judge;
mod mend;
mod node;
mod parse;
mod strict;
mod survey;

use serde::de::DeserializeOwned;
use serde_json::de::StrRead;

use super::Refusal;
use crate::quantity::{Code, Fault, Faults};
use mend::Mending;
use node::Node;

pub use item::{Id, item, mended_item};

/// How deep lists and objects may stand inside one another.
pub const DEPTH: usize = 32;
/// The most items of one list.
pub const ITEMS: usize = 1000;
/// The most characters of one text.
pub const TEXT: usize = 200;
/// The most characters of a written formula, in a field named `text`.
pub const LONG_TEXT: usize = 20_000;

/// How often a question is read anew after a mend: each pass mends one place that the reader cannot get past by itself.
const PASSES: usize = 2 * Faults::MOST;

/// Reads a good question; nothing is said of why another is not.
pub fn question<Q: DeserializeOwned>(bytes: &[u8]) -> Option<Q> {
    let mut reader = reader_of_object(bytes)?;
    let question = Q::deserialize(strict::Strict(&mut reader)).ok()?;
    reader.end().ok()?;
    Some(question)
}

/// A reader of what begins as an object does. That all of it is text is seen once, and not again for each text in it.
fn reader_of_object(bytes: &[u8]) -> Option<serde_json::Deserializer<StrRead<'_>>> {
    let text = std::str::from_utf8(bytes).ok()?;
    text.trim_ascii_start().starts_with('{').then(|| serde_json::Deserializer::from_str(text))
}

/// A question with faults of shape, each fault's place filled so that the rest can still be judged.
pub struct Mended<Q> {
    /// The question, unless it could not even be filled.
    pub question: Option<Q>,
    pub faults: Vec<Fault>,
    total: usize,
    filled: Vec<String>,
    tree: Node,
}

/// Reads a question that failed, collecting every fault of shape.
pub fn mended<Q: DeserializeOwned>(bytes: &[u8]) -> Result<Mended<Q>, Refusal> {
    mended_tree(parse::tree(bytes).map_err(|fault| Refusal::Unreadable(fault.into()))?)
}

/// Why these bytes are no JSON, or nothing where they are.
pub fn unreadable(bytes: &[u8]) -> Option<Fault> {
    parse::tree(bytes).err()
}

fn mended_tree<Q: DeserializeOwned>(mut tree: Node) -> Result<Mended<Q>, Refusal> {
    if !matches!(tree, Node::Object(_)) {
        return Err(Refusal::Faulty(describe::not_an_object(&tree).into()));
    }
    let surveyed = survey::survey(&mut tree);
    for _ in 0..PASSES {
        let mending = Mending::new();
        match Q::deserialize(judge::Judge::of(&tree, &mending)) {
            Ok(question) => return Ok(collected(Some(question), &surveyed, mending, tree)),
            Err(stuck) if mend::mend(&mut tree, &stuck) => {}
            Err(_) => return Ok(collected(None, &surveyed, mending, tree)),
        }
    }
    let mending = Mending::new();
    drop(Q::deserialize(judge::Judge::of(&tree, &mending)));
    Ok(collected(None, &surveyed, mending, tree))
}

fn collected<Q>(question: Option<Q>, surveyed: &Faults, mending: Mending, tree: Node) -> Mended<Q> {
    let (judged, filled) = mending.close();
    let filled = surveyed.iter().map(|fault| fault.pointer.clone()).chain(filled).collect();
    let total = surveyed.total() + judged.total();
    let faults = surveyed.iter().chain(judged.iter()).cloned().collect();
    Mended { question, faults, total, filled, tree }
}

impl<Q> Mended<Q> {
    /// All faults in the order in which they stand: those of shape, and those of meaning that do not come from what was filled in.
    pub fn with_meaning(mut self, meaning: &Faults) -> Faults {
        let beyond = self.total - self.faults.len();
        let theirs: Vec<Fault> = meaning.iter().filter(|fault| self.is_the_callers(fault)).cloned().collect();
        self.faults.extend(theirs);
        let tree = &self.tree;
        self.faults.sort_by_cached_key(|fault| tree.place(&fault.pointer));
        let mut all = Faults::new();
        self.faults.into_iter().for_each(|fault| all.push(fault));
        all.count_beside(beyond);
        all
    }

    fn is_the_callers(&self, fault: &Fault) -> bool {
        let under =
            |filled: &String| fault.pointer.strip_prefix(filled.as_str()).is_some_and(|rest| rest.is_empty() || rest.starts_with('/'));
        // "4 of 1 g": a value is not judged by a part of it that was filled in.
        let of = |filled: &String| filled.rsplit_once('/').is_some_and(|(whole, _)| whole == fault.pointer);
        // Flours of which one was filled in make no sum: nor is a list judged by what was filled in anywhere in it.
        let in_it = |filled: &String| filled.strip_prefix(&fault.pointer).is_some_and(|rest| rest.starts_with('/'));
        let sums = |filled: &String| fault.code == Code::OutOfRange && in_it(filled);
        !self.filled.iter().any(|filled| under(filled) || of(filled) || sums(filled))
            && (self.filled.is_empty() || !depends_on_the_rest(fault.code))
    }
}

/// Causes that lie in how several fields go together: where one of them was filled in, nobody can tell.
const fn depends_on_the_rest(code: Code) -> bool {
    matches!(
        code,
        Code::IngredientNeeded
            | Code::NoDensity
            | Code::NotCounted
            | Code::DimensionNeeded
            | Code::ExactlyOne
            | Code::NotTogether
            | Code::UnknownPart
            | Code::NoBase
            | Code::EmptyFormula
            | Code::NothingLeft
            | Code::MissingFigure
            | Code::BeyondNumbers
            | Code::WrongUnit
            | Code::ImpossiblePan
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Measures, Pointer, Written};
    use serde::Deserialize;

    #[derive(Debug, Deserialize)]
    #[serde(deny_unknown_fields)]
    #[allow(dead_code)]
    struct Tray {
        name: String,
        pieces: u32,
        weight: Written,
        measures: Option<Measures>,
        share: Option<f64>,
        lines: Vec<Line>,
        lid: Option<Line>,
    }

    #[derive(Debug, Deserialize)]
    #[serde(deny_unknown_fields)]
    #[allow(dead_code)]
    struct Line {
        ingredient: String,
        amount: Written,
    }

    const GOOD: &str = r#"{"name":"pear","pieces":12,"weight":"1 kg","lines":[{"ingredient":"pear","amount":{"value":2,"unit":"cup"}}]}"#;

    fn told(text: &str) -> Vec<(Code, String)> {
        assert!(question::<Tray>(text.as_bytes()).is_none(), "{text}");
        let faults = match mended::<Tray>(text.as_bytes()) {
            Ok(mended) => mended.with_meaning(&Faults::new()),
            Err(Refusal::Unreadable(faults) | Refusal::Faulty(faults)) => faults,
        };
        faults.iter().map(|fault| (fault.code, fault.pointer.clone())).collect()
    }

    #[test]
    fn a_good_question_is_read_the_plain_way() {
        assert!(question::<Tray>(GOOD.as_bytes()).is_some());
        assert!(mended::<Tray>(GOOD.as_bytes()).is_ok_and(|mended| mended.faults.is_empty() && mended.question.is_some()));
    }

    #[test]
    fn a_bare_value_where_an_object_belongs_is_told_the_fields_it_should_have() {
        #[derive(Debug, Deserialize)]
        #[allow(dead_code)]
        struct Height {
            to: Written,
        }
        #[derive(Debug, Deserialize)]
        #[allow(dead_code)]
        struct Kitchen {
            height: Height,
            pear: Line,
        }
        let mended = mended::<Kitchen>(br#"{"height":"6500 ft","pear":"2"}"#).unwrap_or_else(|refusal| panic!("{refusal:?}"));
        let told: Vec<_> = mended.faults.iter().map(|fault| (fault.accepted.as_str(), fault.detail.as_str())).collect();
        let fields = "an object in braces with fields such as ingredient or amount";
        let kind = r#"Write it like {"ingredient": "butter", "amount": "250 g"}; /v1/read makes that of written lines."#;
        assert_eq!(told, [("an object in braces with the field to", r#"Write {"to":"6500 ft"}."#), (fields, kind)]);
    }

    #[test]
    fn all_faults_of_shape_are_told_at_once_in_the_order_in_which_they_stand() {
        let wrong = r#"{"pieces":"twelve","weight":true,"wieght":1,"measures":"metrik","lines":[{"amount":{"value":"2"}},7,{"ingredient":null,"amount":[],"x":{"y":[]}}],"pieces":3}"#;
        let expected = [
            (Code::RepeatedField, "/pieces"),
            (Code::WrongType, "/pieces"),
            (Code::WrongType, "/weight"),
            (Code::UnknownField, "/wieght"),
            (Code::UnknownWord, "/measures"),
            (Code::WrongType, "/lines/0/amount/value"),
            (Code::MissingField, "/lines/0/amount/unit"),
            (Code::MissingField, "/lines/0/ingredient"),
            (Code::WrongType, "/lines/1"),
            (Code::WrongType, "/lines/2/ingredient"),
            (Code::WrongType, "/lines/2/amount"),
            (Code::UnknownField, "/lines/2/x"),
            (Code::MissingField, "/name"),
        ];
        assert_eq!(told(wrong).iter().map(|(code, pointer)| (*code, pointer.as_str())).collect::<Vec<_>>(), expected);
    }

    #[test]
    fn a_value_is_not_judged_by_a_part_of_it_that_was_filled_in() {
        let mended = mended::<Line>(br#"{"ingredient":"pear","amount":{"value":4}}"#).unwrap_or_else(|refusal| panic!("{refusal:?}"));
        let mut meaning = Faults::new();
        for pointer in ["/amount", "/ingredient"] {
            let (field, root) = (&pointer[1..], Pointer::ROOT);
            meaning.push(Fault::new(&root.key(field), Code::UnknownUnit, "4 of nothing", "a unit"));
        }
        let told = mended.with_meaning(&meaning);
        let told: Vec<_> = told.iter().map(|fault| (fault.code, fault.pointer.as_str())).collect();
        assert_eq!(told, [(Code::UnknownUnit, "/ingredient"), (Code::MissingField, "/amount/unit")]);
    }

    #[test]
    fn a_list_is_not_summed_over_what_was_filled_in() {
        let mended = mended::<Tray>(GOOD.replacen('{', r#"{"share":"65 %","#, 1).as_bytes());
        let mended = mended.unwrap_or_else(|refusal| panic!("{refusal:?}"));
        let shape: Vec<_> = mended.faults.iter().map(|fault| (fault.pointer.clone(), fault.attempts.clone())).collect();
        assert_eq!(shape, [("/share".to_owned(), vec!["65".to_owned()])]);
        let whole = mended_lines();
        let mut meaning = Faults::new();
        let root = Pointer::ROOT;
        meaning.push(Fault::new(&root.key("lines"), Code::OutOfRange, "lines that make 1", "lines that make 100"));
        meaning.push(Fault::new(&root.key("lines"), Code::TooMany, "many lines", "few"));
        let told = whole.with_meaning(&meaning);
        let told: Vec<_> = told.iter().map(|fault| (fault.code, fault.pointer.as_str())).collect();
        assert_eq!(told, [(Code::TooMany, "/lines"), (Code::WrongType, "/lines/0/amount/value")]);
    }

    fn mended_lines() -> Mended<Tray> {
        mended::<Tray>(GOOD.replacen(r#""value":2"#, r#""value":"2""#, 1).as_bytes()).unwrap_or_else(|refusal| panic!("{refusal:?}"))
    }

    #[test]
    fn a_missing_field_is_told_what_belongs_there() {
        let mended = mended::<Tray>(br#"{"lines":[{}]}"#).unwrap_or_else(|refusal| panic!("{refusal:?}"));
        let belongs: Vec<_> = mended.faults.iter().map(|fault| (fault.pointer.as_str(), fault.accepted.as_str())).collect();
        let (text, amount) = ("a text", "an amount such as \"1 1/2 cups\", or {\"value\": 1.5, \"unit\": \"cup\"}");
        let pieces = "a whole number of at least 0";
        let told = [("/lines/0/ingredient", text), ("/lines/0/amount", amount), ("/name", text), ("/pieces", pieces), ("/weight", amount)];
        assert_eq!(belongs, told);
    }

    #[test]
    fn a_list_is_no_object_null_is_no_value_and_an_object_is_no_word() {
        assert_eq!(told(r#"["pear",12,"1 kg",null,null,[]]"#), [(Code::NotAnObject, String::new())]);
        let with = |member: &str| GOOD.replacen('{', &format!("{{{member},"), 1);
        assert_eq!(told(&with(r#""lid":["pear","1 g"]"#)), [(Code::WrongType, "/lid".to_owned())]);
        assert_eq!(told(&with(r#""measures":null"#)), [(Code::WrongType, "/measures".to_owned())]);
        assert_eq!(told(&with(r#""measures":{"us":null}"#)), [(Code::WrongType, "/measures".to_owned())]);
        assert_eq!(told(&with(r#""share":1e999"#)), [(Code::OutOfRange, "/share".to_owned())]);
        assert_eq!(told(&with(r#""share":"0.5""#)), [(Code::WrongType, "/share".to_owned())]);
    }

    #[test]
    fn what_is_too_long_is_told_with_its_limit() {
        assert_eq!(told(&GOOD.replacen("pear", &"ä".repeat(201), 1)), [(Code::TextTooLong, "/name".to_owned())]);
        assert!(question::<Tray>(GOOD.replacen("pear", &"ä".repeat(200), 1).as_bytes()).is_some());
        let line = r#"{"ingredient":"pear","amount":"1 g"}"#;
        let many = |count: usize| format!(r#"{{"name":"pear","pieces":12,"weight":"1 kg","lines":[{}]}}"#, vec![line; count].join(","));
        assert!(question::<Tray>(many(ITEMS).as_bytes()).is_some());
        assert_eq!(told(&many(ITEMS + 1)), [(Code::TooMany, "/lines".to_owned())]);
    }

    #[test]
    fn sixty_thousand_unknown_fields_are_counted_and_fifty_told() {
        let fields: Vec<String> = (0..60_000).map(|index| format!(r#""k{index}":{index}"#)).collect();
        let text = format!("{{{}}}", fields.join(","));
        let Ok(mended) = mended::<Tray>(text.as_bytes()) else { panic!("a question after all") };
        let faults = mended.with_meaning(&Faults::new());
        assert_eq!((faults.total(), faults.iter().count()), (60_004, 50));
    }

    #[test]
    fn faults_of_meaning_are_told_beside_unless_they_come_from_what_was_filled_in() {
        let text = GOOD.replace("12", "\"a dozen\"");
        let Ok(mended) = mended::<Tray>(text.as_bytes()) else { panic!("a question after all") };
        let at = Pointer::ROOT;
        let mut meaning = Faults::new();
        meaning.push(Fault::new(&at.key("weight"), Code::UnknownUnit, "kg", "g"));
        meaning.push(Fault::new(&at.key("pieces"), Code::OutOfRange, "1", "2"));
        meaning.push(Fault::new(&at.key("lines"), Code::EmptyFormula, "1", "2"));
        meaning.push(Fault::new(&at.key("name"), Code::UnknownStyle, "1", "2"));
        let told: Vec<_> = mended.with_meaning(&meaning).iter().map(|fault| fault.pointer.clone()).collect();
        assert_eq!(told, ["/name", "/pieces", "/weight"]);
    }

    #[test]
    fn only_where_a_number_belongs_the_quotes_are_too_many() {
        let tried = |text: &str| {
            let mended = mended::<Tray>(text.as_bytes()).unwrap_or_else(|refusal| panic!("{refusal:?}"));
            mended.faults.iter().map(|fault| fault.attempts.join(", ")).collect::<Vec<_>>()
        };
        assert_eq!(tried(&GOOD.replace("12", r#""12""#)), ["12"]);
        let list = GOOD.split(r#","lines""#).next().unwrap_or_default();
        assert_eq!(tried(&format!(r#"{list},"lines":"12"}}"#)), [""]);
    }

    #[test]
    fn no_word_of_the_language_or_a_library_is_ever_told() {
        let wrongs = [
            "{}",
            "[]",
            "nul",
            r#"{"pieces":1.5}"#,
            r#"{"pieces":-1}"#,
            r#"{"pieces":99999999999}"#,
            r#"{"lines":{}}"#,
            r#"{"name":5,"weight":true,"measures":5,"share":{},"lid":"x"}"#,
            r#"{"weight":{"value":1,"unit":"g","x":1}}"#,
            r#"{"weight":{}}"#,
            r#"{"weight":{"value":{},"unit":[]}}"#,
        ];
        for wrong in wrongs {
            let faults = match mended::<Tray>(wrong.as_bytes()) {
                Ok(mended) => mended.with_meaning(&Faults::new()),
                Err(Refusal::Unreadable(faults) | Refusal::Faulty(faults)) => faults,
            };
            for fault in faults.iter() {
                let said = format!("{} {} {}", fault.found, fault.accepted, fault.detail);
                for word in [
                    "struct",
                    "enum",
                    "f64",
                    "u32",
                    "deserialize",
                    "serde",
                    "usize",
                    "Option",
                    "variant",
                    " map",
                    "sequence",
                    "expected",
                    "invalid",
                    "floating",
                ] {
                    assert!(!said.contains(word), "{said}");
                }
            }
        }
    }
}
