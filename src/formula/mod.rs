//! A formula, from what was written to what it weighs: resolving, percentages, composition, balance, multiplication and losses. Nothing here knows HTTP.

mod adapt;
mod balance;
mod base;
mod buying;
mod caution;
mod ledger;
mod own;
mod percentages;
mod resolve;
mod resolved;
mod shown;
mod total;
mod written;

pub use adapt::{
    Adapting, AltitudeStep, Changed, Dial, EggWeighed, EggsStep, EggsTold, MeasuresStep, MeasuresTo, OvenStep, ReplaceStep, RoundingShown,
    RoundingStep, ScaleStep,
};
pub use balance::{BalanceFinding, BalanceVerdict, Judging, LikelyStyle, RULES, Rule, Ruled, likely, ruled};
pub use base::{FlourBase, Hydration, NamedBase, spoken};
pub use buying::{Bought, CountShown, LeftOver, buying, eggs_used};
pub use caution::caution;
pub use ledger::{Counts, How, LedgerRow, Left, Lost, Way, assumed, baked_only, is_baked};
pub use percentages::{MixtureContents, Percentages};
pub use resolve::{MOST_LINES, MOST_PARTS, find_ingredient, find_style};
pub use resolved::{Formula, Known, Line, Mixture, Part};
pub use shown::{FormulaShown, LineShown, PartShown, lines_scaled};
pub use total::{Doubts, Total};
pub use written::{CountsAs, FormulaWritten, LineWritten, MakesWritten, OwnIngredient, PartWritten, Per100g, ScalesWith};
