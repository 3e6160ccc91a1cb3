//! Turn written lines into a formula: every line comes back, understood, doubtful or unread, and what was understood is a formula that the other calculations take.

mod answer;
mod gathered;

use serde::Deserialize;
use utoipa::ToSchema;

pub use answer::ReadAnswer;

use super::Calculation;
use crate::formula::{MOST_LINES, MOST_PARTS};
use crate::quantity::{Code, Fault, Faults, Measures, Pointer};
use crate::reference::{Account, Reference};
use gathered::Gathered;

/// Written ingredient lines, as one text or as a list.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ReadQuestion {
    /// The ingredient list as one text, a line for each ingredient; a line such as "For the icing:" begins a part. Exactly one of `text` and `lines` stands.
    #[schema(nullable = false, max_length = 20_000, examples("1 3/4 cups (180 g) rye flour, sifted\n3 large eggs, separated"))]
    pub text: Option<String>,
    /// The lines as a list, headings among them.
    #[schema(value_type = Option<Vec<WrittenLine>>, nullable = false, max_items = 1000, examples(json!(["2 cups flour", "1 cup sugar"])))]
    pub lines: Option<Vec<String>>,
    /// The national set of cups and spoons. Without it: us, which is told.
    #[schema(nullable = false)]
    pub measures: Option<Measures>,
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
    const DESCRIPTION: &'static str = "Reads an ingredient list as it was typed or printed: amounts with one or two measures, counts, ranges, part headings, preparations, \"zest of 2 lemons\", old usage. Every line comes back with how it was understood, with what was matched, and what to write instead where it could not be; what was understood stands in a formula that every other calculation accepts. What stands before a name is done before measuring, what stands behind the comma after. Use it first for any recipe that is text; then audit it. It reads English. Not for methods or pictures.";
    const FLAT: bool = false;

    type Question = ReadQuestion;
    type Answer = ReadAnswer;

    fn answer(question: &ReadQuestion, reference: &'static Reference, account: &mut Account) -> Result<ReadAnswer, Faults> {
        let root = Pointer::ROOT;
        let mut gathered = Gathered::new(question.measures, reference);
        match (&question.text, &question.lines) {
            (Some(text), None) => {
                let at = root.key("text");
                within(text.chars().count(), LONGEST, "letters", &at)?;
                within(text.lines().count(), MOST, "lines", &at)?;
                for (number, line) in text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
                    gathered.line(line, number, &at, account);
                }
            }
            (None, Some(lines)) => {
                let list = root.key("lines");
                within(lines.len(), MOST, "lines", &list)?;
                for (number, line) in lines.iter().enumerate() {
                    gathered.line(line, number, &list.index(number), account);
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
mod tests {
    use super::*;
    use crate::formula::LineState;

    #[track_caller]
    fn ask(lines: &[&str]) -> ReadAnswer {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let lines = lines.iter().map(|line| (*line).to_owned()).collect();
        let question = ReadQuestion { text: None, lines: Some(lines), measures: None };
        Read::answer(&question, reference, &mut Account::new(reference, false)).unwrap_or_else(|faults| panic!("{faults:?}"))
    }

    #[track_caller]
    fn gives(line: &str, wanted: &[(&str, &str)]) {
        let answer = ask(&[line]);
        let got: Vec<(String, String)> = answer
            .formula
            .iter()
            .flat_map(|formula| &formula.parts)
            .flat_map(|part| &part.lines)
            .map(|line| (line.amount.clone(), line.ingredient.clone()))
            .collect();
        let got: Vec<(&str, &str)> = got.iter().map(|(amount, name)| (amount.as_str(), name.as_str())).collect();
        assert_eq!(got, wanted, "{line}: {:#?}", answer.lines);
    }

    #[test]
    fn both_measures_of_a_line_are_kept_in_either_order() {
        for line in ["1 3/4 cups (180 g) rye flour, sifted", "180 g / 1 3/4 cups rye flour"] {
            let answer = ask(&[line]);
            let made = &answer.formula.as_ref().map(|formula| &formula.parts[0].lines[0]);
            let both = made.map(|made| (made.amount.as_str(), made.also.as_deref()));
            assert!(matches!(both, Some(("1 3/4 cups", Some("180 g")) | ("180 g", Some("1 3/4 cups")))), "{line}: {both:?}");
            assert_eq!(answer.lines[0].state, LineState::Understood);
        }
    }

    #[test]
    fn what_is_taken_from_a_thing_counts_the_thing() {
        gives("zest of 2 lemons", &[("2 lemons", "lemon zest")]);
        gives("juice of half an orange", &[("0.5 orange", "orange juice")]);
        gives("Yolks 2 eggs", &[("2 eggs", "egg yolk")]);
        gives("Grated rind one-half lemon", &[("0.5 lemon", "lemon zest")]);
        gives("finely grated zest and juice of 1 lime", &[("1 lime", "lime zest"), ("1 lime", "lime juice")]);
        gives("3 large eggs, separated", &[("3 large", "egg")]);
        gives("1 stick butter", &[("1 stick", "unsalted butter")]);
        gives("½ tsp each cinnamon and nutmeg", &[("½ tsp", "ground cinnamon"), ("½ tsp", "ground nutmeg")]);
        gives("1 egg plus 1 yolk", &[("1 egg", "egg"), ("1 yolk", "egg yolk")]);
    }

    #[test]
    fn sifted_before_the_name_is_not_sifted_behind_the_comma() {
        let filled = |line: &str| ask(&[line]).formula.and_then(|formula| formula.parts[0].lines[0].filled);
        assert_eq!(filled("2 cups sifted flour"), Some(crate::reference::Filled::Sifted));
        assert_eq!(filled("2 cups flour, sifted"), None);
    }

    #[test]
    fn a_size_by_likeness_is_refused_with_the_mend() {
        let answer = ask(&["Butter the size of an egg"]);
        assert_eq!(answer.lines[0].state, LineState::Unread);
        assert_eq!(answer.lines[0].attempts.first().map(String::as_str), Some("2 oz unsalted butter"));
    }

    #[test]
    fn no_line_is_dropped() {
        let lines = ["For the icing:", "salt to taste", "250 g Mehl", "une pincée de sel", "2 cups", "butter", "a pinch of salt"];
        let answer = ask(&lines);
        let written: Vec<&str> = answer.lines.iter().map(|line| line.written.as_str()).collect();
        assert_eq!(written, lines);
        assert!(answer.formula.is_none());
        let states: Vec<LineState> = answer.lines.iter().map(|line| line.state).collect();
        use LineState::{Doubtful, Understood, Unread};
        assert_eq!(states, [Understood, Understood, Unread, Unread, Unread, Doubtful, Understood]);
    }
}
