//! Pans: their shapes, what they hold, how one is scaled to another and what that does to the bake. It knows nothing of formulas or of HTTP.

mod document;
mod geometry;
mod kind;
mod material;
mod one;
mod phrase;
mod reading;
mod scaling;
mod several;
mod shapes;
mod sizes;
mod spelled;
mod words;
mod written;

pub use document::{FieldListed, ShapeListed, listed_shapes};
pub use kind::{Field, Held, Impossible, Shape, ShapeKind};
pub use material::Material;
pub use one::{DepthFrom, Pan};
pub use scaling::{Keep, Scaling, System, scaling};
pub use several::Pans;
pub use shapes::SHAPES;
pub use written::{PanWritten, PansWritten};
