//! A table of questions: its columns are the fields, and the columns of the answer are appended to each row.

use actix_web::HttpResponse;
use actix_web::http::header;

use super::asked::Separator;
use super::cell::harmless;
use super::columns::Columns;
use super::rows::{self, Row, Rows};
use super::{Asking, TURN, Tally, Wanted, place};
use crate::calculation::Entry;
use crate::door::accept::Form;
use crate::door::problem::Problem;
use crate::door::{House, index, query};
use crate::quantity::{Code, Fault, Faults, Pointer, nearest};

/// The column that is the caller's own and never a field.
const ID: &str = "id";

/// What a column of the caller's is.
#[derive(Debug, PartialEq)]
enum Role {
    Field(String),
    /// The caller's own: it is given back and not read.
    Own,
}

/// One table under work.
pub struct Sheet {
    asking: Asking,
    columns: &'static Columns,
    rows: Rows,
    roles: Option<Vec<Role>>,
    separator: Separator,
    safe: bool,
    tally: Tally,
    most: usize,
}

impl Sheet {
    /// With rows of at most so many bytes. Nothing where the calculation is not flat.
    pub fn of(asking: Asking, wanted: Wanted, most: usize) -> Option<Self> {
        let columns = Columns::of(asking.entry)?;
        let Wanted { separator, safe, .. } = wanted;
        let rows = Rows::new(separator.byte(), most);
        Some(Self { asking, columns, rows, roles: None, separator, safe, tally: Tally::default(), most })
    }

    /// Rows answered until now; the heading is none.
    pub fn tally(&self) -> Tally {
        self.tally
    }

    /// Answers what has come, as much as one turn allows. A fault is one of the heading: then nothing can be answered.
    pub fn turn(&mut self, come: &mut &[u8], out: &mut Vec<u8>) -> Result<(), Faults> {
        for _ in 0..TURN {
            let Some(row) = self.rows.next(come) else { return Ok(()) };
            self.row(row, out)?;
        }
        Ok(())
    }

    /// Answers the last row, where no line break ends it.
    pub fn last(&mut self, out: &mut Vec<u8>) -> Result<(), Faults> {
        if let Some(row) = self.rows.last() {
            self.row(row, out)?;
        }
        if self.roles.is_some() {
            return Ok(());
        }
        Err(Fault::new(&Pointer::ROOT, Code::BodyMissing, "nothing", "a heading and rows")
            .saying("Send a row of field names first.")
            .into())
    }

    fn row(&mut self, row: Row, out: &mut Vec<u8>) -> Result<(), Faults> {
        if self.roles.is_none() {
            return self.heading(row, out);
        }
        self.tally.lines += 1;
        match row {
            Row::TooLong(bytes) => {
                let problem =
                    Problem::new(Code::TooLarge, format!("a row of {bytes} bytes"), format!("rows of at most {} bytes", self.most));
                self.refused(&[], &problem, out);
            }
            Row::Open(cells) => {
                let mend = "Write a double quote behind the cell; all that follows the first one was taken for one cell.";
                self.refused(&lossy(&cells), &unruly("a quoted cell without an end", "a double quote behind the cell", mend), out);
            }
            Row::Spoiled(cells) => {
                let mend = "Double a quote that belongs to a quoted cell: \"9\"\" round\".";
                self.refused(&lossy(&cells), &unruly("more behind a quoted cell", "a separator or the end of the row there", mend), out);
            }
            Row::Cells(cells) => self.cells(cells, out),
        }
        Ok(())
    }

    fn heading(&mut self, row: Row, out: &mut Vec<u8>) -> Result<(), Faults> {
        let cells = match row {
            Row::Cells(cells) => cells,
            Row::TooLong(_) | Row::Open(_) | Row::Spoiled(_) => {
                let mend = "Write the names of the fields with a separator between them; a quoted one ends with a double quote.";
                return Err(Fault::new(&Pointer::ROOT, Code::BadRequest, "a heading that cannot be read", "a row of field names")
                    .saying(mend)
                    .into());
            }
        };
        if cells.iter().any(|cell| std::str::from_utf8(cell).is_err() || cell.contains(&0)) {
            let mend = "Save the table as UTF-8, not as UTF-16 or in an older set of letters, and do not compress it.";
            return Err(Fault::new(&Pointer::ROOT, Code::NotUtf8, "a heading that is no UTF-8 text", "UTF-8 text").saying(mend).into());
        }
        let names = lossy(&cells);
        self.roles = Some(roles(&names, self.columns)?);
        let appended = self.columns.names().map(str::to_owned);
        let names: Vec<String> = names.into_iter().chain(appended).collect();
        self.write(&names, out);
        Ok(())
    }

    fn cells(&mut self, cells: Vec<Vec<u8>>, out: &mut Vec<u8>) {
        if cells.iter().all(|cell| cell.trim_ascii().is_empty()) {
            let blank = self.columns.blank();
            return self.beside(&lossy(&cells), blank, out);
        }
        match self.question(&cells) {
            Err(problem) => self.refused(&lossy(&cells), &problem, out),
            Ok((question, texts)) => match self.answered(&question) {
                Ok(appended) => {
                    self.tally.answered += 1;
                    self.beside(&texts, appended, out);
                }
                Err(problem) => self.refused(&texts, &problem, out),
            },
        }
    }

    /// The question of a row, with its cells as texts.
    fn question(&self, cells: &[Vec<u8>]) -> Result<(Vec<u8>, Vec<String>), Problem> {
        let roles = self.roles.as_deref().unwrap_or_default();
        if cells.len() > roles.len() {
            let (found, accepted) = (format!("{} cells", cells.len()), format!("{} cells, as the heading has", roles.len()));
            return Err(unruly(found, accepted, "Put a cell that has a separator in it into double quotes."));
        }
        let mut texts = Vec::with_capacity(roles.len());
        let mut pairs = Vec::with_capacity(roles.len());
        for (role, cell) in roles.iter().zip(cells) {
            let text = std::str::from_utf8(cell).map_err(|_| Problem::new(Code::NotUtf8, "bytes that are no UTF-8 text", "UTF-8 text"))?;
            if let (Role::Field(name), false) = (role, text.trim().is_empty()) {
                pairs.push((name.clone(), text.trim().to_owned()));
            }
            texts.push(text.to_owned());
        }
        Ok((query::question(&pairs), texts))
    }

    fn answered(&self, question: &[u8]) -> Result<Vec<String>, Problem> {
        let answer = self.asking.alone(question)?;
        Ok(self.columns.answered(&serde_json::from_slice(&answer).map_err(|_| Problem::ours())?))
    }

    fn refused(&mut self, texts: &[String], problem: &Problem, out: &mut Vec<u8>) {
        self.tally.problems += 1;
        let appended = self.columns.refused(problem.code().as_str(), &problem.detail());
        self.beside(texts, appended, out);
    }

    /// The caller's cells, as many as the heading has, and those appended.
    fn beside(&self, texts: &[String], appended: Vec<String>, out: &mut Vec<u8>) {
        let width = self.roles.as_ref().map_or(0, Vec::len);
        let blank = std::iter::repeat_n(String::new(), width.saturating_sub(texts.len()));
        let cells: Vec<String> = texts.iter().take(width).cloned().chain(blank).chain(appended).collect();
        self.write(&cells, out);
    }

    fn write(&self, cells: &[String], out: &mut Vec<u8>) {
        if self.safe {
            let cells: Vec<_> = cells.iter().map(|cell| harmless(cell)).collect();
            rows::write(&cells, self.separator.byte(), out);
        } else {
            rows::write(cells, self.separator.byte(), out);
        }
    }
}

/// A row that breaks the rules of RFC 4180, and what to do about it.
fn unruly(found: impl Into<String>, accepted: impl Into<String>, mend: &str) -> Problem {
    Fault::new(&Pointer::ROOT, Code::BadRequest, found, accepted).saying(mend).into()
}

fn lossy(cells: &[Vec<u8>]) -> Vec<String> {
    cells.iter().map(|cell| String::from_utf8_lossy(cell).into_owned()).collect()
}

/// What each column is. A name that is no field is refused, unless it is the caller's own.
fn roles(names: &[String], columns: &Columns) -> Result<Vec<Role>, Faults> {
    let mut faults = Faults::new();
    let mut roles: Vec<Role> = Vec::with_capacity(names.len());
    for name in names.iter().map(|name| name.trim()) {
        let role = if name.is_empty() || name == ID { Role::Own } else { Role::Field(name.to_owned()) };
        if let Role::Field(name) = &role {
            let root = Pointer::ROOT;
            let at = root.key(name);
            let fields = columns.fields.iter().map(String::as_str);
            if !columns.fields.contains(name) {
                let accepted = fields.clone().collect::<Vec<_>>().join(", ");
                let fault = Fault::new(&at, Code::UnknownField, name.as_str(), accepted).saying(of_column(name));
                faults.push(fault.trying(nearest(&name.to_lowercase(), fields, 1)));
            } else if roles.contains(&role) {
                faults.push(Fault::new(&at, Code::RepeatedField, format!("two columns \"{name}\""), "each column once"));
            }
        }
        roles.push(role);
    }
    if faults.is_empty() && !roles.iter().any(|role| matches!(role, Role::Field(_))) {
        let accepted = columns.fields.join(", ");
        let fault = Fault::new(&Pointer::ROOT, Code::MissingField, "a first row that names no field", accepted);
        faults.push(fault.saying("Let the first row name the fields, with no blank row before it."));
    }
    faults.or(roles)
}

/// What to do about a column that is no field. A heading that came as one cell was cut at another sign than parts its cells.
fn of_column(name: &str) -> &'static str {
    if name.starts_with("sep=") {
        "Leave this row out, and say what parts the cells: separator=%3B or separator=tab in the address, --separator on the command line."
    } else if name.contains('\t') {
        "If tabs part the cells, say so: separator=tab in the address, --separator tab on the command line."
    } else if name.contains(';') {
        "If semicolons part the cells, say so: separator=%3B in the address, --separator ';' on the command line."
    } else if name.contains(',') {
        "If commas part the cells, leave out what says otherwise: separator in the address, --separator on the command line."
    } else if name.contains('\r') {
        "End each row with a line feed, or with a carriage return and a line feed."
    } else {
        "Leave the column out; a column of your own is called id."
    }
}

/// A table over HTTP.
pub async fn answer(house: &'static House, asking: Asking, bytes: &[u8], wanted: Wanted) -> Result<HttpResponse, Problem> {
    let settings = &house.settings;
    let sheet = Sheet::of(asking, wanted, settings.line_bytes);
    let mut sheet = sheet.ok_or_else(|| Problem::new(Code::UnsupportedMediaType, "a table", "JSON or lines of JSON"))?;
    let _place = place(house).await?;
    let mut out = Vec::with_capacity(8 * bytes.len());
    let mut come = bytes;
    while !come.is_empty() {
        sheet.turn(&mut come, &mut out)?;
        if sheet.tally().lines > settings.rows {
            let accepted = format!("at most {} rows", settings.rows);
            return Err(Problem::new(Code::TooMany, format!("more than {} rows", settings.rows), accepted));
        }
        tokio::task::yield_now().await;
    }
    sheet.last(&mut out)?;
    Ok(response(out))
}

/// The question of an address. A field with nothing behind it is left out, as an empty cell is; a name that is no field is refused all the same.
pub fn of_address(entry: &Entry, pairs: &[query::Pair]) -> Vec<u8> {
    if pairs.iter().all(query::is_said) {
        return query::question(pairs);
    }
    let is_field = |name: &String| Columns::of(entry).is_some_and(|columns| columns.fields.contains(name));
    let said: Vec<_> = pairs.iter().filter(|pair| query::is_said(pair) || !is_field(&pair.0)).cloned().collect();
    query::question(&said)
}

/// The question of an address, answered as a table of one row.
pub fn single(asking: Asking, pairs: &[query::Pair]) -> Result<HttpResponse, Problem> {
    let columns = Columns::of(asking.entry);
    let columns = columns.ok_or_else(|| Problem::new(Code::NotAcceptable, "format=csv", "format=json"))?;
    let answer = asking.alone(&of_address(asking.entry, pairs))?;
    let appended = columns.answered(&serde_json::from_slice(&answer).map_err(|_| Problem::ours())?);
    let names: Vec<&str> = pairs.iter().map(|(name, _)| name.as_str()).chain(columns.names()).collect();
    let cells: Vec<_> = pairs.iter().map(|(_, text)| text.as_str()).chain(appended.iter().map(String::as_str)).map(harmless).collect();
    let mut out = Vec::with_capacity(1024);
    rows::write(&names, Separator::Comma.byte(), &mut out);
    rows::write(&cells, Separator::Comma.byte(), &mut out);
    Ok(response(out))
}

fn response(body: Vec<u8>) -> HttpResponse {
    HttpResponse::Ok()
        .insert_header((header::CONTENT_TYPE, Form::Csv.media_type()))
        .insert_header((header::CACHE_CONTROL, index::CALCULATED))
        .body(body)
}
