//! Numbers that know what they measure, and how they are written and read. Everything else stands on this room; it knows nothing of baking or of HTTP.

mod amount;
mod code;
mod fault;
mod figure;
mod measure;
mod measured;
mod number;
mod percent;
mod pointer;
mod shown;
mod span;
mod spoons;
mod temperature;
mod unit;
mod units;
mod vocabulary;
mod written;

pub use amount::{Amount, Counting, Size, read_amount, size_alone, size_before};
pub use code::Code;
pub use fault::{Fault, Faults};
pub use figure::{Figure, off_percent};
pub use measure::{Area, Density, Factor, Length, Mass, Minutes, TemperatureChange, Volume};
pub use measured::read_mass;
pub use number::{LARGEST, Number, SMALLEST, read_number};
pub use percent::{Loss, Percent, Share};
pub use pointer::Pointer;
pub use shown::{Proportion, Quantity, decimals, fitted_texts, grams_text, short};
pub use span::{Quantifiable, Span};
pub use spoons::{Drawer, Spooned};
pub use temperature::Temperature;
pub use unit::{Family, Measures, Unit};
pub use units::UNITS;
pub use vocabulary::{longer, lower_first, nearest, plain, upper_first};
pub use written::Written;
