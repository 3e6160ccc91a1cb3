//! The temperature of the water: what is asked and how it is read. A friction is a difference, whatever scale it is written in: it takes no offset.

mod found;
mod given;
mod shown;

use serde::Deserialize;
use utoipa::ToSchema;

pub(super) use given::understood;
pub use shown::TemperatureShown;
pub(super) use shown::{Answered, answered};

use crate::quantity::Written;

/// The temperatures around a dough, to be told that of its water. Answers are in the scale of `desired`.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TemperatureWritten {
    /// What the dough is to have when it leaves the mixer.
    #[serde(deserialize_with = "Written::temperature")]
    pub desired: Written,
    /// The room.
    #[serde(deserialize_with = "Written::temperature")]
    pub room: Written,
    /// The flour.
    #[serde(deserialize_with = "Written::temperature")]
    pub flour: Written,
    /// The preferment. Without it, where there is one: as warm as the room, which is told.
    #[schema(nullable = false)]
    pub preferment: Option<Written>,
    /// The friction, as a difference on the scale of the sum of factors. Exactly one of `friction`, `mixer`, `trial`.
    #[schema(nullable = false)]
    pub friction: Option<Written>,
    /// The way of mixing, to take its usual friction.
    #[schema(nullable = false)]
    pub mixer: Option<MixerKind>,
    /// How long it is mixed, as a time; needed for the `small-stand` mixer.
    #[schema(nullable = false)]
    pub minutes: Option<Written>,
    /// A trial batch, to find its friction.
    #[schema(nullable = false)]
    pub trial: Option<TrialWritten>,
    /// The water as it comes from the tap: needed for ice.
    #[schema(nullable = false)]
    pub tap: Option<Written>,
    /// How ice is used. Without it: no ice.
    #[schema(nullable = false)]
    pub ice: Option<IceWay>,
    /// The temperature of the ice. Without it: melting, 0 °C, which is told.
    #[schema(nullable = false)]
    pub ice_temperature: Option<Written>,
    /// How much water, by mass or volume. Without it: the water poured into the final dough.
    #[schema(nullable = false)]
    pub water: Option<Written>,
}

/// A trial batch as it was measured.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TrialWritten {
    /// The dough as it came out of the mixer.
    #[serde(deserialize_with = "Written::temperature")]
    pub dough: Written,
    /// The room.
    #[serde(deserialize_with = "Written::temperature")]
    pub room: Written,
    /// The flour.
    #[serde(deserialize_with = "Written::temperature")]
    pub flour: Written,
    /// The water.
    #[serde(deserialize_with = "Written::temperature")]
    pub water: Written,
    /// The preferment, where there was one.
    #[schema(nullable = false)]
    pub preferment: Option<Written>,
}

/// A way of mixing.
/// - `hand`: kneading by hand.
/// - `small-stand`: a small stand mixer at second speed; give `minutes`.
/// - `spiral`: a spiral mixer, for a usual mix.
/// - `planetary`: a planetary mixer, for a usual mix.
/// - `commercial`: a commercial mixer of a kind not said, for a usual mix.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum MixerKind {
    Hand,
    SmallStand,
    Spiral,
    Planetary,
    Commercial,
}

impl MixerKind {
    pub const fn word(self) -> &'static str {
        match self {
            Self::Hand => "hand",
            Self::SmallStand => "small-stand",
            Self::Spiral => "spiral",
            Self::Planetary => "planetary",
            Self::Commercial => "commercial",
        }
    }
}

/// How ice is used.
/// - `replacing`: ice takes the place of part of the water, so that the dough keeps its hydration.
/// - `added`: ice comes on top of all the water, so that the dough grows wetter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, serde::Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum IceWay {
    Replacing,
    Added,
}
