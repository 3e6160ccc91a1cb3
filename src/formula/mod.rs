//! A formula, from what was written to what it weighs: resolving, percentages, composition, balance, multiplication and losses. Nothing here knows HTTP.

mod buying;
mod caution;
mod ledger;
mod line;
mod own;
mod resolve;
mod resolved;
mod shown;
mod total;
mod written;

pub use caution::caution;
pub use buying::{Bought, CountShown, LeftOver, buying};
pub use ledger::{Counts, How, LedgerRow, Left, Lost, Way, assumed, baked_only, is_baked};
pub use line::{Item, LineRead, LineState, Measure, read_line};
pub use resolve::{MOST_LINES, MOST_PARTS, find_ingredient, find_style};
pub use resolved::{Formula, Known, Line, Mixture, Part};
pub use shown::{FormulaShown, LineShown, PartShown, lines_scaled};
pub use total::{Doubts, Total};
pub use written::{CountsAs, FormulaWritten, LineWritten, MakesWritten, OwnIngredient, PartWritten, Per100g, ScalesWith};
