//! Turn written lines into a formula: every line comes back, understood, doubtful or unread, and what was understood is a formula that the other calculations take.

mod answer;
mod celsius;
mod columns;
mod country;
mod facts;
mod gathered;
mod in_grams;
mod joined;
mod markup;
mod numbering;
mod staged;
mod titles;
mod weighed;
mod whole_part;

use serde::Deserialize;
use utoipa::ToSchema;

pub use answer::ReadAnswer;

use super::Calculation;
use crate::formula::{MOST_LINES, MOST_PARTS};
use crate::quantity::{Code, Fault, Faults, Measures, Pointer};
use crate::reference::{Account, Reference};
use country::country;
use gathered::Gathered;
use in_grams::in_grams;
use numbering::unnumbered;

/// Written ingredient lines, as one text or as a list.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ReadQuestion {
    /// The ingredient list as one text, a line for each ingredient; a line such as "For the icing:" begins a part, and "Makes 12", "For a 9 inch round tin" and "Bake at 180 C for 30 minutes" are read too. Exactly one of `text` and `lines` stands.
    #[schema(nullable = false, max_length = 20_000, examples("1 3/4 cups (180 g) rye flour, sifted\n3 large eggs, separated"))]
    pub text: Option<String>,
    /// The lines as a list, headings among them.
    #[schema(value_type = Option<Vec<WrittenLine>>, nullable = false, max_items = 1000, examples(json!(["2 cups flour", "1 cup sugar"])))]
    pub lines: Option<Vec<String>>,
    /// The national set of cups and spoons. Without it: australia by its spoon of 20 ml; uk by a gas mark, or pints among British names, without cups; else us; told.
    #[schema(nullable = false)]
    pub measures: Option<Measures>,
}

impl ReadQuestion {
    /// Every line as it was written.
    fn written(&self) -> impl Iterator<Item = &str> + Clone {
        self.text.iter().flat_map(|text| text.lines()).chain(self.lines.iter().flatten().map(String::as_str))
    }
}

/// One line as it was written.
#[derive(ToSchema)]
#[schema(value_type = String, max_length = 200, examples("2 cups flour, sifted"))]
pub struct WrittenLine(#[allow(dead_code, reason = "it stands for a text in the document only")] String);

/// The calculation.
pub struct Read;

/// The most lines of one question.
const MOST: usize = 1000;
/// The longest text, in letters.
const LONGEST: usize = 20_000;

impl Calculation for Read {
    const NAME: &'static str = "read";
    const SUMMARY: &'static str = "Turn written ingredient lines into a formula";
    const DESCRIPTION: &'static str = "Reads an ingredient list as it was typed or printed: amounts with one or two measures, counts, ranges, part headings, tables headed with their units, preparations, \"zest of 2 lemons\", old usage; and beside them the title, what it makes, the tin and the oven, which stand in the formula too. Every line comes back with how it was understood, with what was matched, and what to write instead where it could not be; what was understood stands in a formula that every other calculation accepts. What stands before a name is done before measuring, what stands behind the comma after. Use it first for any recipe that is text; then audit it. It reads English. Of a method it reads the tin and the oven alone. Not for pictures.";
    const FLAT: bool = false;

    type Question = ReadQuestion;
    type Answer = ReadAnswer;

    fn answer(question: &ReadQuestion, reference: &'static Reference, account: &mut Account) -> Result<ReadAnswer, Faults> {
        let root = Pointer::ROOT;
        let measures = question.measures.or_else(|| country(question.written(), account));
        let mut gathered = Gathered::new(question, measures, reference);
        match (&question.text, &question.lines) {
            (Some(text), None) => {
                let at = root.key("text");
                within(text.chars().count(), LONGEST, "letters", &at)?;
                within(text.lines().count(), MOST, "lines", &at)?;
                let lines: Vec<&str> = text.lines().collect();
                let read = in_grams(unnumbered(&lines));
                gathered.unitless = gathered.is_without_units(read.iter().map(|line| &**line));
                for (number, bare) in read.iter().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
                    gathered.line(lines[number], bare, number, &at, account);
                }
            }
            (None, Some(lines)) => {
                let list = root.key("lines");
                within(lines.len(), MOST, "lines", &list)?;
                let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
                let read = in_grams(unnumbered(&lines));
                gathered.unitless = gathered.is_without_units(read.iter().map(|line| &**line));
                for (number, bare) in read.iter().enumerate() {
                    gathered.line(lines[number], bare, number, &list.index(number), account);
                }
            }
            (text, _) => return Err(one_of(text.is_some()).into()),
        }
        if gathered.is_empty() {
            let at = root.key(if question.text.is_some() { "text" } else { "lines" });
            return Err(Fault::new(&at, Code::EmptyFormula, "no line", "one line at least, such as \"2 cups flour\"").into());
        }
        gathered.in_bounds(MOST_PARTS, MOST_LINES, &root)?;
        Ok(gathered.settled(account))
    }
}

fn within(count: usize, most: usize, of: &str, at: &Pointer<'_>) -> Result<(), Faults> {
    if count <= most {
        return Ok(());
    }
    Err(Fault::new(at, Code::TooMany, format!("{count} {of}"), format!("at most {most} {of}")).into())
}

fn one_of(both: bool) -> Fault {
    let found = if both { "text and lines" } else { "neither text nor lines" };
    Fault::new(&Pointer::ROOT, Code::ExactlyOne, found, "one of text and lines")
        .saying("Send the ingredient list as one text, or as a list of lines")
}

#[cfg(test)]
mod tests;
