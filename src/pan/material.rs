//! What a pan is made of: it changes how it bakes, never what it holds.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The material of a pan.
/// - `light-metal`: aluminium or tinned steel; taken where nothing is said.
/// - `dark-metal`: dark or coated, or cast iron: browns sooner.
/// - `glass`: the oven is set lower, and it must never go from cold to hot.
/// - `ceramic`: stoneware or porcelain.
/// - `silicone`: browns less and may take longer.
/// - `paper`: paper moulds and cases.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Material {
    /// Aluminium or tinned steel.
    #[default]
    LightMetal,
    /// Dark or coated metal: browns sooner.
    DarkMetal,
    /// Glass: the oven is set lower, and it must never go from cold to hot.
    Glass,
    /// Stoneware or porcelain.
    Ceramic,
    /// Silicone: browns less.
    Silicone,
    /// Paper moulds and cases.
    Paper,
}

impl Material {
    pub const fn word(self) -> &'static str {
        match self {
            Self::LightMetal => "light-metal",
            Self::DarkMetal => "dark-metal",
            Self::Glass => "glass",
            Self::Ceramic => "ceramic",
            Self::Silicone => "silicone",
            Self::Paper => "paper",
        }
    }

    /// What a word of a phrase says of the material.
    pub(super) fn of_phrase_word(word: &str) -> Option<Self> {
        Some(match word {
            "metal" | "aluminium" | "aluminum" | "steel" | "light" => Self::LightMetal,
            "dark" | "nonstick" | "coated" | "iron" => Self::DarkMetal,
            "glass" => Self::Glass,
            "ceramic" | "stoneware" | "porcelain" | "earthenware" => Self::Ceramic,
            "silicone" => Self::Silicone,
            "paper" => Self::Paper,
            _ => return None,
        })
    }
}
