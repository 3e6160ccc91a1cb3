//! The classes of ingredients on which the rules of balance rest, each counted by the whole weight as weighed. An ingredient may be several things by shares.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::table::{Row, TableFault};
use crate::quantity::Share;

/// What an ingredient counts as in a rule of balance.
/// - `flour`: flours of every grain.
/// - `starch`: pure starches.
/// - `cocoa`: cocoa solids.
/// - `sugar`: sugars and syrups.
/// - `fat`: butter, oil, shortening, by the whole weight.
/// - `egg`: whole eggs, whites and yolks.
/// - `liquid`: water, milk, juice and other liquids, by the whole weight.
/// - `milk-solids`: dry milk.
/// - `leavening`: baking powder, soda, yeast.
/// - `acid`: cream of tartar and other dry acids.
/// - `salt`: salt.
/// - `cheese`: fresh cheeses, the base of a cheesecake.
/// - `chocolate`: chocolate as a whole, the base of a ganache.
/// - `additions`: fruit, nuts and pieces, outside the rules and inside the composition.
/// - `flavouring`: spices, extracts, zest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Class {
    Flour,
    Starch,
    Cocoa,
    Sugar,
    Fat,
    Egg,
    Liquid,
    MilkSolids,
    Leavening,
    Acid,
    Salt,
    Cheese,
    Chocolate,
    Additions,
    Flavouring,
}

impl Class {
    pub const ALL: [Self; 15] = [
        Self::Flour,
        Self::Starch,
        Self::Cocoa,
        Self::Sugar,
        Self::Fat,
        Self::Egg,
        Self::Liquid,
        Self::MilkSolids,
        Self::Leavening,
        Self::Acid,
        Self::Salt,
        Self::Cheese,
        Self::Chocolate,
        Self::Additions,
        Self::Flavouring,
    ];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Flour => "flour",
            Self::Starch => "starch",
            Self::Cocoa => "cocoa",
            Self::Sugar => "sugar",
            Self::Fat => "fat",
            Self::Egg => "egg",
            Self::Liquid => "liquid",
            Self::MilkSolids => "milk-solids",
            Self::Leavening => "leavening",
            Self::Acid => "acid",
            Self::Salt => "salt",
            Self::Cheese => "cheese",
            Self::Chocolate => "chocolate",
            Self::Additions => "additions",
            Self::Flavouring => "flavouring",
        }
    }

    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|class| class.word() == word)
    }
}

/// Classes by shares: a column such as `fat:0.36|liquid:0.64`.
pub(super) fn shares(row: &Row, column: &str) -> Result<Vec<(Class, Share)>, TableFault> {
    row.list(column)?
        .into_iter()
        .map(|part| {
            let (word, share) = part.split_once(':').unwrap_or((part, "1"));
            let class = Class::of_word(word).ok_or_else(|| row.fault(format_args!("no class {word}")))?;
            let share: f64 = share.parse().map_err(|_| row.fault(format_args!("no share {share}")))?;
            Ok((class, Share::of_one(share)))
        })
        .collect()
}
