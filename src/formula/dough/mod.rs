//! The arithmetic of doughs: preferments and the final dough as one overall formula, the temperature of the water, and ice. It stands apart from the balance, which judges; this computes.

mod ice;
mod overall;
mod parting;
mod temperature;

pub use ice::{Heats, Icing};
pub use overall::{Dough, Held, WaterOf, is_called_preferment};
pub use parting::{Preferment, Seed, parted, straight};
pub use temperature::{Portion, Warmth, balanced_water, friction_of_trial};
