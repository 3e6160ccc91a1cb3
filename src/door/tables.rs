//! The tables that can be read: whole, and by name. Written once at start; a caller who has them already is told so by their ETag.

use std::sync::OnceLock;

use actix_web::http::header::{self, HeaderMap};
use actix_web::web::Bytes;
use actix_web::{HttpRequest, HttpResponse};
use serde::Serialize;
use utoipa::ToSchema;

use super::House;
use super::accept::{Form, negotiated};
use super::openapi::strong_tag;
use super::problem::{Problem, status};
use super::query;
use crate::calculation::{Schemas, TEXT, schema};
use crate::pan::{PanListed, ShapeListed, listed_pans, listed_shapes};
use crate::quantity::{Code, Fault, Pointer, UNITS, longer, nearest, plain};
use crate::reference::{Caution, IngredientRow, LossRow, Reference, Source, StyleRow, SwapRow};

/// One row, or the names of all rows, so that the nearest can be told.
pub type One = fn(&'static Reference, &str) -> Result<Vec<u8>, Vec<&'static str>>;

/// Adds the schema of a row, with those it refers to; gives its name.
pub type RowSchema = fn(&mut Schemas) -> String;

/// A table that can be read.
pub struct Table {
    pub path: &'static str,
    pub whole: fn(&'static Reference) -> Vec<u8>,
    pub row: RowSchema,
    pub one: Option<Single>,
}

/// One row of a table: its path, how it is found, and what it looks like by itself.
pub struct Single {
    pub path: &'static str,
    pub find: One,
    pub row: RowSchema,
}

/// All tables. A new one is a line here and a function that writes it.
pub const TABLES: &[Table] = &[
    Table { path: "/v1/units", whole: units, row: schema::<UnitRow>, one: None },
    Table {
        path: "/v1/sources",
        whole: sources,
        row: schema::<Source>,
        one: Some(Single { path: "/v1/sources/{id}", find: source, row: schema::<Source> }),
    },
    Table {
        path: "/v1/ingredients",
        whole: ingredients,
        row: schema::<IngredientListed>,
        one: Some(Single { path: "/v1/ingredients/{id}", find: ingredient, row: schema::<IngredientRow> }),
    },
    Table { path: "/v1/pans", whole: pans, row: schema::<PanListed>, one: None },
    Table { path: "/v1/shapes", whole: shapes, row: schema::<ShapeListed>, one: None },
    Table { path: "/v1/styles", whole: styles, row: schema::<StyleRow>, one: None },
    Table { path: "/v1/losses", whole: losses, row: schema::<LossRow>, one: None },
    Table { path: "/v1/swaps", whole: swaps, row: schema::<SwapRow>, one: None },
    Table { path: "/v1/cautions", whole: cautions, row: schema::<Caution>, one: None },
];

/// Rows of a table by words of their names.
type Search = fn(&'static Reference, &str) -> Vec<u8>;

/// The tables that can be searched, with `q`.
const SEARCHES: &[(&str, Search)] = &[("/v1/ingredients", ingredients_like)];

/// A table as it is sent: its path, its bytes and, once somebody has asked for it, their tag.
struct Sent {
    path: &'static str,
    bytes: Bytes,
    tag: OnceLock<String>,
}

/// The tables as bytes.
pub struct Tables(Vec<Sent>);

impl Tables {
    /// A table, by its path.
    pub fn of(&self, path: &str) -> &[u8] {
        self.sent(path).map_or(&[], |sent| &sent.bytes)
    }

    pub fn written(reference: &'static Reference) -> Self {
        let sent = |table: &Table| Sent { path: table.path, bytes: (table.whole)(reference).into(), tag: OnceLock::new() };
        Self(TABLES.iter().map(sent).collect())
    }

    fn sent(&self, path: &str) -> Option<&Sent> {
        self.0.iter().find(|sent| sent.path == path)
    }
}

pub fn whole(house: &'static House, table: &'static Table, request: &HttpRequest) -> Result<HttpResponse, Problem> {
    let search = SEARCHES.iter().find(|(path, _)| *path == table.path).map(|(_, search)| search);
    if let (Some(words), Some(search)) = (asked(request, search.is_some())?, search) {
        return Ok(cached(request, search(house.reference, &words)));
    }
    let sent = house.tables.sent(table.path).ok_or_else(|| Problem::new(Code::OurFault, "a table that is not there", "another table"))?;
    Ok(tagged(request, sent.bytes.clone(), sent.tag.get_or_init(|| strong_tag(&sent.bytes)).clone()))
}

pub fn single(house: &'static House, one: One, request: &HttpRequest) -> Result<HttpResponse, Problem> {
    check(request)?;
    let id = last(request.path());
    match one(house.reference, &id) {
        Ok(bytes) => Ok(cached(request, bytes)),
        Err(names) => Err(missing(request.path(), &id, names.into_iter())),
    }
}

/// The causes of refusal.
pub fn problems(_: &'static House, request: &HttpRequest) -> Result<HttpResponse, Problem> {
    check(request)?;
    let rows: Vec<_> = Code::ALL.iter().map(|code| Cause::of(*code)).collect();
    Ok(cached(request, listed("problems", &rows)))
}

pub fn problem(_: &'static House, request: &HttpRequest) -> Result<HttpResponse, Problem> {
    check(request)?;
    let wanted = last(request.path());
    match Code::ALL.iter().find(|code| code.as_str() == wanted) {
        Some(code) => Ok(cached(request, json(&Cause::of(*code)))),
        None => Err(missing(request.path(), &wanted, Code::ALL.iter().map(|code| code.as_str()))),
    }
}

fn missing(path: &str, id: &str, names: impl Iterator<Item = &'static str>) -> Problem {
    let near = nearest(&plain(id), names, 3);
    let accepted = near.first().map_or_else(|| "one of the names that the table lists".to_owned(), |near| (*near).to_owned());
    let table = TABLES.iter().map(|table| table.path).find(|table| path.starts_with(table)).unwrap_or("/v1/problems");
    Fault::new(&Pointer::ROOT, Code::NotFound, id, accepted).saying(format!("See {table} for all of them.")).trying(near).into()
}

/// A table is JSON and takes no parameters.
pub fn check(request: &HttpRequest) -> Result<(), Problem> {
    asked(request, false).map(drop)
}

/// The words to search for, where the table can be searched.
fn asked(request: &HttpRequest, searched: bool) -> Result<Option<String>, Problem> {
    let (asked, rest) = query::read(request.query_string())?;
    query::nothing_else(&rest, if searched { &["q"] } else { &[] })?;
    let words = rest.into_iter().find(|(name, _)| searched && name == "q").map(|(_, words)| words);
    if let Some(long) = words.as_ref().filter(|words| longer(words, TEXT)) {
        return Err(Fault::new(&Pointer::ROOT.key("q"), Code::TextTooLong, long.as_str(), format!("at most {TEXT} characters")).into());
    }
    match asked.format.as_deref() {
        None => negotiated(request.headers(), &[Form::Json])?,
        Some("json") => Form::Json,
        Some(other) => return Err(Problem::new(Code::NotAcceptable, format!("format={other}"), "format=json")),
    };
    Ok(words)
}

/// The last part of a path, decoded.
fn last(path: &str) -> String {
    let last = path.rsplit('/').next().unwrap_or_default();
    query::decoded(&last.replace('+', "%2B")).unwrap_or_else(|_| last.to_owned())
}

/// With a strong ETag of these very bytes; 304 to who has them.
fn cached(request: &HttpRequest, bytes: Vec<u8>) -> HttpResponse {
    let tag = strong_tag(&bytes);
    tagged(request, bytes.into(), tag)
}

fn tagged(request: &HttpRequest, bytes: Bytes, etag: String) -> HttpResponse {
    let known = holds(request.headers(), &etag);
    let mut answer = if known { HttpResponse::NotModified() } else { HttpResponse::Ok() };
    answer.insert_header((header::ETAG, etag)).insert_header((header::CACHE_CONTROL, "public, max-age=86400"));
    if known {
        return answer.finish();
    }
    answer.insert_header((header::CONTENT_TYPE, Form::Json.media_type())).body(bytes)
}

/// Whether If-None-Match names this ETag.
pub fn holds(headers: &HeaderMap, etag: &str) -> bool {
    headers
        .get_all(header::IF_NONE_MATCH)
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(','))
        .map(str::trim)
        .any(|value| value == "*" || value.strip_prefix("W/").unwrap_or(value) == etag)
}

/// Rows under the name of their table, never a bare list: members can be added beside them.
pub fn listed(name: &'static str, rows: &impl Serialize) -> Vec<u8> {
    json(&std::collections::BTreeMap::from([(name, rows)]))
}

#[derive(Serialize)]
struct Cause {
    code: &'static str,
    status: u16,
    title: &'static str,
    meaning: &'static str,
    mend: &'static str,
}

impl Cause {
    fn of(code: Code) -> Self {
        Self { code: code.as_str(), status: status(code).as_u16(), title: code.title(), meaning: code.meaning(), mend: code.mend() }
    }
}

/// A unit, with the words by which it is known.
#[derive(Serialize, ToSchema)]
struct UnitRow {
    /// Its name in the table.
    #[schema(max_length = 40, examples("tbsp"))]
    id: &'static str,
    /// As it is written behind one.
    #[schema(max_length = 40, examples("tbsp"))]
    one: &'static str,
    /// As it is written behind several.
    #[schema(max_length = 40, examples("tbsp"))]
    many: &'static str,
    /// Its UCUM code, where it has one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 40, examples("[tbs_us]"))]
    ucum: Option<&'static str>,
    /// What it measures.
    family: crate::quantity::Family,
    /// What it is, exactly.
    #[schema(max_length = 400)]
    definition: &'static str,
    /// The source of that; see /v1/sources.
    #[schema(max_length = 60)]
    source: &'static str,
    /// Words that always mean it.
    #[schema(max_items = 60)]
    words: &'static [&'static str],
    /// Words that mean this unit in these sets of measures.
    #[schema(max_items = 60)]
    national: &'static [&'static str],
    /// Those sets.
    #[schema(max_items = 20)]
    measures: Vec<&'static str>,
}

fn units(_: &'static Reference) -> Vec<u8> {
    let row = |unit: &'static crate::quantity::Unit| UnitRow {
        id: unit.id,
        one: unit.one,
        many: unit.many,
        ucum: unit.ucum,
        family: unit.family,
        definition: unit.definition,
        source: unit.source,
        words: unit.words,
        national: unit.national,
        measures: unit.sets.iter().map(|set| set.word()).collect(),
    };
    listed("units", &UNITS.iter().map(row).collect::<Vec<_>>())
}

fn sources(reference: &'static Reference) -> Vec<u8> {
    listed("sources", &reference.sources.all)
}

/// The table as a list of names: each row whole is one address further.
#[derive(Serialize, ToSchema)]
struct IngredientListed {
    /// Its name in the table: one address further it stands whole.
    #[schema(max_length = 80, examples("all-purpose-flour"))]
    id: &'static str,
    /// Its usual name.
    #[schema(max_length = 200)]
    name: &'static str,
    /// Other names and spellings.
    #[schema(max_items = 100)]
    names: &'static [&'static str],
}

impl IngredientListed {
    fn of(known: &'static crate::reference::Ingredient) -> Self {
        Self { id: &known.id, name: &known.name, names: &known.names }
    }
}

fn ingredients(reference: &'static Reference) -> Vec<u8> {
    listed("ingredients", &reference.ingredients.all.iter().map(IngredientListed::of).collect::<Vec<_>>())
}

/// Those whose names hold all the words; where there are none, those that are spelled most alike.
fn ingredients_like(reference: &'static Reference, words: &str) -> Vec<u8> {
    const MOST: usize = 50;
    let wanted = plain(words);
    let names = |known: &'static crate::reference::Ingredient| std::iter::once(&*known.name).chain(known.names.iter().copied());
    let all = || reference.ingredients.all.iter();
    let holds = |known: &&'static crate::reference::Ingredient| names(known).any(|name| wanted.split(' ').all(|word| name.contains(word)));
    let mut found: Vec<_> = all().filter(holds).take(MOST).map(IngredientListed::of).collect();
    if found.is_empty() {
        let near = nearest(&wanted, all().flat_map(names), 5);
        found = all().filter(|known| names(known).any(|name| near.contains(&name))).map(IngredientListed::of).collect();
    }
    listed("ingredients", &found)
}

fn ingredient(reference: &'static Reference, id: &str) -> Result<Vec<u8>, Vec<&'static str>> {
    match reference.ingredients.by_id(id) {
        Some(known) => Ok(json(&IngredientRow::from(known))),
        None => Err(reference.ingredients.all.iter().map(|known| &*known.id).collect()),
    }
}

fn pans(reference: &'static Reference) -> Vec<u8> {
    listed("pans", &listed_pans(reference))
}

fn shapes(_: &'static Reference) -> Vec<u8> {
    listed("shapes", &listed_shapes())
}

fn styles(reference: &'static Reference) -> Vec<u8> {
    listed("styles", &reference.styles.all.iter().map(StyleRow::from).collect::<Vec<_>>())
}

fn losses(reference: &'static Reference) -> Vec<u8> {
    listed("losses", &reference.losses.all.iter().map(LossRow::from).collect::<Vec<_>>())
}

fn swaps(reference: &'static Reference) -> Vec<u8> {
    listed("swaps", &reference.swaps.all.iter().map(SwapRow::from).collect::<Vec<_>>())
}

fn cautions(reference: &'static Reference) -> Vec<u8> {
    listed("cautions", &reference.cautions.all)
}

fn source(reference: &'static Reference, id: &str) -> Result<Vec<u8>, Vec<&'static str>> {
    reference.sources.find(id).map(json).ok_or_else(|| reference.sources.all.iter().map(|source| source.id).collect())
}

/// Tables hold texts and finite figures, checked at start: writing them cannot fail.
pub fn json(rows: &impl Serialize) -> Vec<u8> {
    serde_json::to_vec(rows).unwrap_or_default()
}
