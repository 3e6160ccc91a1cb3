//! The answer of `read`: the formula as it would be written, and a report on each line.

use serde::Serialize;
use utoipa::ToSchema;

use super::super::Answer;
use crate::formula::{LineState, MakesWritten, ScalesWith};
use crate::pan::BakeWritten;
use crate::quantity::Measures;
use crate::reference::{Filled, Owed};

/// The formula that was read, and how each line was understood.
#[derive(Debug, Serialize, ToSchema)]
pub struct ReadAnswer {
    /// The formula, as every other calculation takes it; nothing where no line could be weighed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub formula: Option<FormulaRead>,
    /// Every line, in the order in which it was written.
    #[schema(max_items = 1000)]
    pub lines: Vec<LineReport>,
    #[serde(flatten)]
    pub owed: Owed,
}

/// A formula as it was read.
#[derive(Debug, Serialize, ToSchema)]
pub struct FormulaRead {
    /// What its title calls it, where a line before the ingredients is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200, examples("Pear loaf"))]
    pub name: Option<String>,
    /// The national set of cups and spoons, where it was said.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub measures: Option<Measures>,
    /// Its parts, by the headings; "main" where the lines begin without one.
    #[schema(max_items = 50)]
    pub parts: Vec<PartRead>,
    /// The pan, where a line names one with its size.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200, examples("9 inch round tin"))]
    pub pan: Option<String>,
    /// How it bakes, where a line says so and it is baked in one stage.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub bake: Option<BakeWritten>,
    /// What it makes, where a line says so.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub makes: Option<MakesWritten>,
}

/// A part as it was read.
#[derive(Debug, Serialize, ToSchema)]
pub struct PartRead {
    /// What its heading calls it.
    #[schema(max_length = 200, examples("icing"))]
    pub name: String,
    /// With what it grows, where its name says that it covers a cake.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub scales_with: Option<ScalesWith>,
    /// The part into which it is mixed, where their names say that they are the halves of one: the wet goes into the dry, a levain into the dough.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200, examples("dry ingredients"))]
    pub into: Option<String>,
    /// Its lines.
    #[schema(max_items = 200)]
    pub lines: Vec<LineMade>,
}

/// A line of the formula.
#[derive(Debug, Serialize, ToSchema)]
pub struct LineMade {
    /// The ingredient by its name in the table, with the state in which it is measured.
    #[schema(max_length = 200, examples("all-purpose flour"))]
    pub ingredient: String,
    /// How much, as written.
    #[schema(max_length = 200, examples("1 3/4 cups"))]
    pub amount: String,
    /// The same amount in a second measure.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200, examples("180 g"))]
    pub also: Option<String>,
    /// How the cup is filled, where the line says it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub filled: Option<Filled>,
    /// What else the line says.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200, examples("sifted"))]
    pub note: Option<String>,
}

/// How one line was understood.
#[derive(Debug, Serialize, ToSchema)]
pub struct LineReport {
    /// The line in the question, as a JSON Pointer.
    #[schema(max_length = 60, examples("/lines/3"))]
    pub pointer: String,
    /// Its number, the first being 1; lines without a letter are counted too.
    #[schema(minimum = 1, maximum = 1000)]
    pub line: usize,
    /// The line as it was written.
    #[schema(max_length = 20_000)]
    pub written: String,
    /// How it was understood.
    pub state: LineState,
    /// What was matched: one ingredient, several that share the line, or a pan, an oven, a yield, a title.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 20)]
    pub matched: Vec<Matched>,
    /// What is to be said of it: why it is in doubt or unread, or where it is kept.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 1000)]
    pub detail: Option<String>,
    /// What to write instead, the likeliest first.
    #[serde(rename = "try", skip_serializing_if = "Vec::is_empty")]
    #[schema(value_type = Vec<super::WrittenLine>, max_items = 10)]
    pub attempts: Vec<String>,
}

/// What was matched on a line: an ingredient, or what the formula has another place for.
#[derive(Debug, Serialize, ToSchema)]
pub struct Matched {
    /// The ingredient by its id; see /v1/ingredients. Absent where it is not in the table.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200, examples("all-purpose-flour"))]
    pub ingredient: Option<String>,
    /// The amount as understood; of a pan, an oven or a yield, what was taken.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200, examples("1 3/4 cups"))]
    pub amount: Option<String>,
    /// Words that were not understood, and set aside.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(value_type = Vec<super::WrittenLine>, max_items = 10)]
    pub set_aside: Vec<String>,
    /// Where it stands in this answer, as a JSON Pointer; absent where it is kept out of the formula.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 80, examples("/formula/parts/0/lines/2"))]
    pub at: Option<String>,
}

impl LineReport {
    /// What was matched has no place there after all.
    pub(super) fn displace(&mut self, from: &str) {
        let there = |matched: &&mut Matched| matched.at.as_deref().is_some_and(|at| at.starts_with(from));
        self.matched.iter_mut().filter(there).for_each(|matched| matched.at = None);
    }
}

impl Answer for ReadAnswer {
    fn cell(&self) -> String {
        self.lines.iter().filter(|line| line.state == LineState::Understood).count().to_string()
    }

    fn owed(&self) -> &Owed {
        &self.owed
    }
}
