//! A formula made fit for another kitchen: other eggs, a missing ingredient, another oven, a height, other spoons, a scale. Each step changes the formula as written, so that the result can be asked again, and leaves an account of what changed and why.

mod altitude;
mod blend;
mod choosing;
mod eggs;
mod fitted;
mod household;
mod oven;
mod replace;
mod rounding;
mod swapped;
mod told;
mod working;

pub use altitude::AltitudeStep;
pub use eggs::{EggWeighed, EggsStep};
pub use household::{MeasuresStep, MeasuresTo};
pub use oven::{Dial, OvenStep};
pub use replace::ReplaceStep;
pub use rounding::{RoundingShown, RoundingStep, ScaleStep};
pub use told::{Changed, EggsTold};
pub use working::Adapting;
