//! A formula, from what was written to what it weighs: resolving, percentages, composition, balance, multiplication and losses. Nothing here knows HTTP.

mod own;
mod resolve;
mod resolved;
mod total;
mod written;

pub use resolve::{MOST_LINES, MOST_PARTS, find_ingredient, find_style};
pub use resolved::{Formula, Known, Line, Mixture, Part};
pub use total::{Doubts, Total};
pub use written::{CountsAs, FormulaWritten, LineWritten, MakesWritten, OwnIngredient, PartWritten, Per100g, ScalesWith};
