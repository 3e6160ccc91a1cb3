//! Many questions at once, as the document shows them: the media types beside one JSON object, what the address may say of them, and how an answer among many looks.

use utoipa::openapi::header::{Header, HeaderBuilder};
use utoipa::openapi::path::Parameter;
use utoipa::openapi::schema::{AllOfBuilder, Components, ObjectBuilder, OneOfBuilder, Schema};
use utoipa::openapi::{Content, ContentBuilder, RefOr};

use super::example::Example;
use super::hint::{Always, list, named, text, whole, words};
use super::parameter::{query, truth};
use crate::calculation::{Entry, ITEMS, Mark, TEXT};
use crate::door::bulk::{LINES, TABLE, columns};

/// The names of the schemas of what every answer among many has, and of a problem in its place.
pub const ITEM: &str = "AmongMany";
pub const PROBLEM_ITEM: &str = "ProblemAmongMany";

/// What may be sent.
pub const BODY: &str = "One question as a JSON object in UTF-8, or a list of them: answered by a list of the same length in the same order, with a \
problem in place of each that has no answer. Any number as lines (`application/x-ndjson` or `application/jsonl`), one a line: an answer a line. Flat \
questions also as a table (`text/csv`). Among many a question may carry an `id` of the caller's own, a text or a whole number, which its answer repeats.";

/// What the document can say of a text without end.
const LINE: usize = 1 << 30;

/// One question, or a list of them.
pub fn asked(question: &str) -> RefOr<Schema> {
    one_or_many(question, named(question))
}

/// One answer, or a list of them with problems in the places of those that have none.
pub fn answered(answer: &str) -> RefOr<Schema> {
    let among = AllOfBuilder::new().item(named(ITEM)).item(named(answer)).build();
    let item = OneOfBuilder::new().item(Schema::AllOf(among)).item(named(PROBLEM_ITEM)).build();
    one_or_many(answer, RefOr::T(item.into()))
}

fn one_or_many(one: &str, item: RefOr<Schema>) -> RefOr<Schema> {
    let many = list("Many at once; see `/v1/limits` for how many.", ITEMS, item);
    RefOr::T(OneOfBuilder::new().item(named(one)).item(Schema::Array(many.build())).build().into())
}

/// What the address may say of many questions.
pub fn parameters(flat: bool) -> Vec<Parameter> {
    let mut parameters = vec![
        query("strict", "A list of questions: all answers, or with any fault none.", truth("Whether all must have answers.", false)),
        query(
            "stream",
            "Lines: each is answered while others still come, in constant memory and without end. Only where the client and all between can read and write at once; without it the answer begins when the question has ended.",
            truth("Whether answers may leave before all questions have come.", false),
        ),
        query("counts", "Lines: a last line of counts, by which a cut is seen.", truth("Whether counts are wanted.", false)),
    ];
    if flat {
        let parting = [(",", "a comma"), (";", "a semicolon"), ("tab", "a tabulator")];
        let parting = words("One of these.", parting).default(Some(",".into()));
        parameters.extend([
            query(
                "safe",
                "Tables: cells that a spreadsheet would run as formulas get an apostrophe before them; numbers never do.",
                truth("Whether cells are made harmless.", true),
            ),
            query("separator", "Tables: what parts the cells, in both directions.", parting.into()),
        ]);
    }
    parameters
}

/// The questions in other forms than JSON.
pub fn questions(entry: &Entry, examples: &[Example]) -> Vec<(&'static str, Content)> {
    let first = examples.iter().find(|example| example.status == 200);
    let mut line = first.map(|example| example.request.clone()).unwrap_or_default();
    if let Some(line) = line.as_object_mut() {
        line.insert("id".into(), "order 17".into());
    }
    let lines = content("One question a line.", 0, format!("{line}\n"));
    let mut all = vec![(LINES[0], lines.clone()), (LINES[1], lines)];
    if let (true, Some(first)) = (entry.flat, first) {
        all.push((TABLE, content("A heading of field names, and a question a row.", 1, rows(first, Vec::new()))));
    }
    all
}

/// The answers in the same forms.
pub fn answers(entry: &Entry, examples: &[Example]) -> Vec<(&'static str, Content)> {
    let mut line = Vec::new();
    Mark { word: "line", number: 1 }.begin(None, &mut line);
    let answer = examples.iter().find(|example| example.status == 200).map(|example| example.answer.to_string()).unwrap_or_default();
    let line = format!("{},{}\n", String::from_utf8_lossy(&line), answer.trim_start_matches('{'));
    let lines = content("An answer a line, each with the number of its question's line.", 0, line);
    let mut all = vec![(LINES[0], lines.clone()), (LINES[1], lines)];
    all.extend(entry.flat.then(|| (TABLE, row(entry, examples))));
    all
}

/// A table of one row, with the columns of the answer.
pub fn row(entry: &Entry, examples: &[Example]) -> Content {
    let shown = examples.iter().find(|example| example.status == 200).map(|first| rows(first, columns(entry, &first.answer)));
    content("The caller's columns, then those of the answer.", 1, shown.unwrap_or_default())
}

fn rows(example: &Example, appended: Vec<(String, String)>) -> String {
    let own = example.request.as_object().into_iter().flatten().filter(|(_, value)| value.is_string());
    let own = own.map(|(name, value)| (name.clone(), value.as_str().unwrap_or_default().to_owned()));
    let (names, cells): (Vec<_>, Vec<_>) = own.chain(appended).unzip();
    let mut out = Vec::new();
    crate::door::bulk::write_row(&names, b',', &mut out);
    crate::door::bulk::write_row(&cells, b',', &mut out);
    String::from_utf8_lossy(&out).into_owned()
}

fn content(description: &str, least: usize, example: String) -> Content {
    let schema = text(description, LINE, "…").min_length(Some(least));
    ContentBuilder::new().schema(Some(schema)).example(Some(example.into())).build()
}

/// The entity tag of an answer by address.
pub fn etag() -> Header {
    let tag = text("A strong entity tag of the question, the form and the tables: 304 to who has it.", 40, "\"0123456789abcdef01234567\"")
        .build();
    HeaderBuilder::new().description(tag.description.clone()).schema(Some(tag)).build()
}

/// The schemas shared by all calculations.
pub fn schemas(components: &mut Components) {
    let id = OneOfBuilder::new()
        .description(Some("What the caller calls the question, as it came."))
        .item(text("A text.", TEXT, "order 17"))
        .item(whole("A whole number.", 0, 1 << 53, 17));
    let item = ObjectBuilder::new()
        .description(Some("What an answer among many has beside its own members: its place, and the caller's name for it."))
        .always("index", whole("Which question of the list it answers, counted from nought.", 0, 100_000, 0))
        .property("id", id)
        .property("same_id_as", whole("Where the same `id` stood first; both are answered.", 0, 100_000, 0));
    components.schemas.insert(ITEM.to_owned(), RefOr::T(item.into()));
    let problem = AllOfBuilder::new()
        .description(Some("A problem in the place of an answer among many."))
        .item(named(ITEM))
        .item(ObjectBuilder::new().always("problem", named("Problem")));
    components.schemas.insert(PROBLEM_ITEM.to_owned(), RefOr::T(Schema::AllOf(problem.build())));
}
