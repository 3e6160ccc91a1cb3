//! One written ingredient line, understood: its amounts, its ingredient, what is done to it, and what stays in doubt. Nothing on a line is dropped and nothing is guessed in silence.

mod amount;
mod beside;
mod brackets;
mod compound;
mod drained;
mod grade;
mod heading;
mod name;
mod noted;
mod pieces;
mod read;
mod several;
mod taken;
mod text;
mod things;
mod unmeasured;
mod weighed_up;
mod within;
mod words;

pub use amount::{Measure, is_measured_within};
pub use beside::{
    Beside, Made, STEP, StageSaid, in_celsius, is_all_in_grams, is_method, is_of_turns, is_sum, opens_as_step, opens_as_yield, taken_as,
    titled,
};
pub use heading::{begun, may_be_title, names_part};
pub use name::suggested;
pub use read::{read_beside, read_line};
pub use text::unmarked;

use serde::Serialize;
use utoipa::ToSchema;

use crate::reference::{Filled, Ingredient};

/// How a line was understood.
/// - `understood`: all of it, in one way.
/// - `doubtful`: in a way that should be looked at; the detail says why.
/// - `unread`: not; the detail says what is missing, and what to try.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LineState {
    Understood,
    Doubtful,
    Unread,
}

/// What a written line turned out to be.
#[derive(Clone, Debug)]
pub enum LineRead {
    /// The heading of a part, by the part's name; empty where it names none.
    Heading(String),
    /// One ingredient, or several that share the line.
    Items(Vec<Item>),
    /// No ingredient: the yield, the tin, the oven, a step.
    Beside(Box<Beside>),
}

/// One ingredient on a line.
#[derive(Clone, Debug, Default)]
pub struct Item {
    pub ingredient: Option<&'static Ingredient>,
    /// The state in which it is measured: what stood before the name and was measured so.
    pub form: &'static str,
    pub filled: Option<Filled>,
    pub amount: Option<Measure>,
    /// The same amount in a second measure.
    pub also: Option<Measure>,
    /// What else is said: preparations, temperatures, a third measure.
    pub notes: Vec<String>,
    /// Words that were not understood and set aside.
    pub aside: Vec<String>,
    /// What a short name is taken for: flour, butter.
    pub assumed: Option<String>,
    /// Why it should be looked at.
    pub doubts: Vec<String>,
    /// Why it could not be read.
    pub faults: Vec<String>,
    /// Whether its name was only near to one of the table.
    pub slip: bool,
    /// The name that is not in the table.
    pub strange: Option<String>,
    /// The name that no ingredient has: it may be that of a part.
    pub unknown: Option<String>,
    /// What to write instead.
    pub tries: Vec<String>,
    /// Whether nobody has published what this weighs: it is understood, and has no place in a formula.
    pub weightless: bool,
    /// Whether the line itself leaves the amount to the cook.
    pub unmeasured: bool,
}

impl Item {
    pub fn state(&self) -> LineState {
        if !self.faults.is_empty() {
            LineState::Unread
        } else if self.doubts.is_empty() {
            LineState::Understood
        } else {
            LineState::Doubtful
        }
    }

    /// Whether it can stand in a formula: known, measured, and not refused.
    pub fn is_weighable(&self) -> bool {
        self.ingredient.is_some() && self.amount.is_some() && !self.unmeasured && !self.weightless
    }

    /// The ingredient as a formula names it, with its state.
    pub fn name(&self) -> String {
        let name = self.ingredient.map_or("", |known| &*known.name);
        if self.form.is_empty() { name.to_owned() } else { format!("{} {name}", self.form) }
    }
}
