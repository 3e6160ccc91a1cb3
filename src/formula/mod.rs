//! A formula, from what was written to what it weighs: resolving, percentages, composition, balance, multiplication and losses. Nothing here knows HTTP.

mod adapt;
mod allergens;
mod as_sold;
mod balance;
mod base;
mod buying;
mod caution;
mod cost;
mod counted;
mod declaration;
mod dough;
mod egg;
mod label;
mod leaven;
mod ledger;
mod line;
mod loose;
mod main_part;
mod nutrition;
mod own;
mod percentages;
mod place;
mod resolve;
mod resolved;
mod shown;
mod stated;
mod total;
mod unknown;
mod unstyled;
mod written;

pub use adapt::{
    Adapting, AltitudeStep, Changed, Dial, EggWeighed, EggsStep, EggsTold, MeasuresStep, MeasuresTo, OvenStep, ReplaceStep, RoundingShown,
    RoundingStep, ScaleStep,
};
pub use allergens::{AllergenFound, Allergens, allergens, declared_by_kind, is_nut};
pub use as_sold::{AsSold, SoldBy, as_sold};
pub use balance::{BalanceFinding, BalanceVerdict, Judging, LikelyStyle, RULES, Rule, Ruled, Tally, likely, nearer, ruled};
pub use base::{FlourBase, Hydration, NamedBase, STARCH_IS_FLOUR, spoken, starch_stands_as_flour};
pub use buying::{Bought, CountShown, LeftOver, Usage, Used, bought_as, buying, eggs_used, taken_alone};
pub use caution::caution;
pub use cost::{LineCosts, Money, Price, line_costs};
pub use counted::Summed;
pub use declaration::{DeclaredSum, declaration, declared_amount};
pub use dough::{
    Dough, Heats, Held, Icing, Portion, Preferment, Seed, Warmth, WaterOf, balanced_water, friction_of_trial, is_called_preferment, parted,
    straight,
};
pub use egg::tell_made_up;
pub use label::{Declared, Nutrient};
pub use leaven::{Leaven, PowderGas, Sour, acid_for, taken_up};
pub use ledger::{BatchesAndPans, How, LedgerRow, Left, Lost, Way, assumed, is_baked, is_browned_on_a_crust, none_is_baked};
pub use line::{
    Beside, Item, LineRead, LineState, Made, Measure, STEP, StageSaid, begun, in_celsius, is_all_in_grams, is_measured_within, is_method,
    is_of_turns, is_sum, may_be_title, names_part, opens_as_step, opens_as_yield, read_beside, read_line, suggested, taken_as, titled,
    unmarked,
};
pub use loose::Loose;
pub use nutrition::{NutrientSum, is_described, nutrition};
pub use own::own_ingredient;
pub use percentages::{MixtureContents, Percentages};
pub use place::LinePlace;
pub use resolve::{MOST_LINES, MOST_PARTS};
pub use resolved::{Formula, Known, Line, Mixture, Part};
pub use shown::{FormulaShown, LineShown, PartShown, lines_scaled};
pub use stated::Stated;
pub use total::{Doubts, Total};
pub use unknown::{find_ingredient, find_style};
pub use unstyled::{tell_fillings, tell_growing_fillings, why_no_losses};
pub use written::{CountsAs, FormulaWritten, LineWritten, MakesWritten, OwnIngredient, PartWritten, Per100g, ScalesWith};
