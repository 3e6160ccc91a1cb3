//! evencrumb: the arithmetic of baking formulas, computed with its sources, its ranges and its working. The library computes; the binary serves.

pub mod calculation;
pub mod door;
pub mod filter;
pub mod formula;
pub mod pan;
pub mod quantity;
pub mod reference;
pub mod settings;
pub mod telemetry;
