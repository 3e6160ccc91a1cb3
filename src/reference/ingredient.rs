//! An ingredient: its names, what it counts as, what is in it, what its cups and pieces weigh. Each figure is a row of its own table, with its source.

use std::borrow::Cow;

use serde::Serialize;
use utoipa::ToSchema;

use super::class::Class;
use super::composition::Composition;
use super::source::{Citation, Cited};
use super::weight::{Filled, Measured, Weighing, Weighings};
use crate::quantity::{Factor, Mass, Measures, Percent, Share, Size, Span, Unit, plain};

/// What an ingredient is by nature: a liquid's ounce is told apart.
/// - `liquid`: it flows.
/// - `powder`: it packs, and a cup of it weighs what its filling makes of it.
/// - `granular`: it pours.
/// - `fat`: butter, lard, shortening and oils.
/// - `syrup`: it flows slowly.
/// - `egg`: eggs and what is in them.
/// - `piece`: it is counted or comes in pieces.
/// - `paste`: it is spread.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Nature {
    Liquid,
    Powder,
    Granular,
    Fat,
    Syrup,
    Egg,
    Piece,
    Paste,
}

impl Nature {
    pub(super) fn of_word(word: &str) -> Option<Self> {
        Some(match word {
            "liquid" => Self::Liquid,
            "powder" => Self::Powder,
            "granular" => Self::Granular,
            "fat" => Self::Fat,
            "syrup" => Self::Syrup,
            "egg" => Self::Egg,
            "piece" => Self::Piece,
            "paste" => Self::Paste,
            _ => return None,
        })
    }
}

/// Part of an egg.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum EggPart {
    Whole,
    White,
    Yolk,
}

impl EggPart {
    pub const ALL: [Self; 3] = [Self::Whole, Self::White, Self::Yolk];

    pub(super) fn of_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|part| part.word() == word)
    }

    /// The id of the ingredient that it is.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Whole => "egg",
            Self::White => "egg-white",
            Self::Yolk => "egg-yolk",
        }
    }

    pub const fn word(self) -> &'static str {
        match self {
            Self::Whole => "whole",
            Self::White => "white",
            Self::Yolk => "yolk",
        }
    }
}

/// What an ingredient is for a baker beyond what it counts as and what is in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trait {
    /// All of its egg is white.
    EggWhite,
    /// All of its egg is yolk.
    EggYolk,
    /// It may be told nearer by its share of cocoa.
    DarkChocolate,
    /// Pieces in a dough, and chocolate where they are melted.
    MeltsToChocolate,
    /// It is bought for its setting.
    Sets,
    /// It is bought for its binding of water.
    BindsWater,
    /// Flour and water that ferment.
    Ferments,
    /// Its protein binds no dough, though a law lists its grain with those that hold gluten: oats. What that means for who may eat it, the allergens say.
    BindsNoDough,
    /// Bought to be spread: jam, and a curd in a jar.
    Spread,
    /// Pieces or meal in a dough that stand in for some of its flour: oats, bran, ground nuts.
    StandsForFlour,
    /// It is made as well as bought, by its own formula: alone on the first line it is the title.
    Goods,
}

impl Trait {
    pub(super) fn of_word(word: &str) -> Option<Self> {
        Some(match word {
            "egg-white" => Self::EggWhite,
            "egg-yolk" => Self::EggYolk,
            "dark-chocolate" => Self::DarkChocolate,
            "melts-to-chocolate" => Self::MeltsToChocolate,
            "sets" => Self::Sets,
            "binds-water" => Self::BindsWater,
            "ferments" => Self::Ferments,
            "binds-no-dough" => Self::BindsNoDough,
            "spread" => Self::Spread,
            "stands-for-flour" => Self::StandsForFlour,
            "goods" => Self::Goods,
            _ => return None,
        })
    }
}

/// Something that is counted: a stick, a packet, a banana.
#[derive(Clone, Copy, Debug)]
pub struct Counted {
    pub unit: &'static str,
    /// Its size by the trade's word; nothing for the usual one.
    pub size: &'static str,
    pub mass: Cited<Span<Mass>>,
}

/// What one thing gives when it is juiced, zested, peeled or shelled.
#[derive(Clone, Copy, Debug)]
pub struct Yield {
    /// The id of what is bought.
    pub from: &'static str,
    /// The id of what is used.
    pub gives: &'static str,
    /// Whether a baker buys it so: lemons for their juice, but nuts without their shells.
    pub bought: bool,
    /// Whether it is the share of a full tin that is left when it is drained.
    pub canned: bool,
    /// Of the weight as bought, where there is a figure.
    pub percent: Option<Span<Percent>>,
    /// From each piece, where there is a figure.
    pub each: Option<Span<Mass>>,
    pub citation: Citation,
}

impl Yield {
    /// Whether something is pressed or grated from it, so much from each.
    pub fn is_pressed(&self) -> bool {
        self.each.is_some() && self.from != self.gives
    }
}

/// An ingredient with all that is known of it.
#[derive(Clone, Debug)]
pub struct Ingredient {
    pub id: Cow<'static, str>,
    pub name: Cow<'static, str>,
    pub names: Vec<&'static str>,
    pub classes: Vec<(Class, Share)>,
    pub nature: Nature,
    /// Grams of fresh yeast that a gram of this stands for.
    pub fresh_yeast: Option<Factor>,
    /// Grams of fresh egg that a gram of this makes with its water, where it is dried.
    pub fresh_egg: Option<Cited<Span<Factor>>>,
    /// Grams of usual baking powder that a gram of this stands for by its gas, where it gives some and is no powder.
    pub as_powder: Option<Factor>,
    pub allergens_us: Vec<&'static str>,
    pub allergens_eu: Vec<&'static str>,
    pub hazards: Vec<&'static str>,
    pub traits: Vec<Trait>,
    /// The share of cocoa by which it is sold.
    pub cocoa: Option<Span<Percent>>,
    pub composition: Option<Composition>,
    pub composition_citation: Option<Citation>,
    pub measured: Vec<Measured>,
    pub counted: Vec<Counted>,
    /// What follows from the weights, worked out once.
    pub weighings: Weighings,
    /// The fruit that is juiced or zested for it, where that is how it is got.
    pub juiced: Option<&'static Yield>,
    /// What is bought for it, where something is trimmed off before it is used.
    pub trimmed: Option<&'static Yield>,
    /// What is left of a full tin of it when it is drained.
    pub drained: Option<&'static Yield>,
    pub citation: Option<Citation>,
    pub note: &'static str,
}

impl Ingredient {
    /// What a millilitre weighs, for a way of filling and a state; nothing where nobody measured it.
    pub fn weighing(&self, filled: Option<Filled>, form: &str) -> Option<&Weighing> {
        self.weighings.find(filled, form)
    }

    /// The share of its weight that counts as a class.
    pub fn counts_as(&self, class: Class) -> Factor {
        self.classes.iter().find(|(known, _)| *known == class).map_or(Factor::ZERO, |(_, share)| share.as_factor())
    }

    pub fn is(&self, wanted: Trait) -> bool {
        self.traits.contains(&wanted)
    }

    /// A flour, which weighs otherwise for each way of filling.
    pub fn is_flour(&self) -> bool {
        self.nature == Nature::Powder && self.counts_as(Class::Flour) > Factor::ZERO
    }

    /// Water as it is poured, or its ice.
    pub fn is_water(&self) -> bool {
        matches!(&*self.id, "water" | "ice")
    }

    /// Sugar that is stirred in cold: icings are made of it.
    pub fn is_icing_sugar(&self) -> bool {
        self.id == "powdered-sugar"
    }

    /// Which part of a hen's egg in its shell it is, if it is one: those are bought by the egg and sized.
    pub fn egg_part(&self) -> Option<EggPart> {
        EggPart::ALL.into_iter().find(|part| part.id() == self.id)
    }

    /// What one of it is called, or several: "egg", "eggs"; by the spelling that the table has, else by its name.
    pub fn called(&self, several: bool) -> &str {
        let single = &*self.name;
        if !several {
            return single;
        }
        let plural = |name: &&&str| {
            let ending = name.strip_prefix(single).or_else(|| name.strip_prefix(single.strip_suffix('y')?));
            matches!(ending, Some("s" | "es" | "ies"))
        };
        self.names.iter().find(plural).map_or(single, |name| *name)
    }

    /// Whether it is sold by this size: eggs by their class, fruit where its sizes were weighed.
    pub fn sold_by(&self, size: Size) -> bool {
        self.egg_part().is_some() || self.counted("each", Some(size.class)).is_some_and(|counted| counted.size == size.class)
    }

    /// The weight of one that is counted by this unit and size.
    pub fn counted(&self, unit: &str, size: Option<&str>) -> Option<&Counted> {
        let unit = piece(unit);
        // A leaf of gelatin is a sheet; a sheet of basil is none.
        let is = |counted: &&Counted| counted.unit == unit || unit == "leaf" && counted.unit == "sheet";
        let of_unit = || self.counted.iter().filter(is);
        match size {
            Some(size) => of_unit().find(|counted| counted.size == size),
            None => of_unit()
                .find(|counted| counted.size.is_empty())
                .or_else(|| of_unit().find(|c| c.size == "medium"))
                .or_else(|| of_unit().next()),
        }
    }

    /// The weight of one that is counted by this unit and size; a packet by any of the trade's words for a small bag.
    pub fn counted_by(&self, unit: &str, size: Option<&str>) -> Option<&Counted> {
        const BAGS: [&str; 4] = ["packet", "envelope", "package", "pouch"];
        if unit == BAGS[0] { BAGS.iter().find_map(|bag| self.counted(bag, size)) } else { self.counted(unit, size) }
    }

    /// The piece that its name says it is counted in: "walnut halves", "garlic cloves".
    pub fn counted_in(&self, name: &str) -> Option<&'static str> {
        if self.counted.is_empty() {
            return None;
        }
        let name = plain(name);
        let (_, word) = name.split([',', '(']).next()?.split(" for ").next()?.trim().rsplit_once(' ')?;
        pieces(word).find_map(|word| self.counted.iter().map(|counted| counted.unit).find(|unit| *unit == word && word != "each"))
    }

    /// Whether a word is how it is sold, and not what is got of it: "packet", "small packets", "silver sheets".
    pub fn is_sold_by(&self, word: &str) -> bool {
        let single = word.trim_end_matches('s');
        let graded = || {
            let (grade, thing) = word.rsplit_once(' ')?;
            self.counted_by(Unit::of_word(thing, Measures::Us)?.id, Some(grade))
        };
        self.counted(single, None).or_else(graded).is_some()
    }

    /// The states in which it was measured.
    pub fn forms(&self) -> Vec<&'static str> {
        let mut forms: Vec<_> = self.measured.iter().map(|m| m.form).filter(|form| !form.is_empty()).collect();
        forms.sort_unstable();
        forms.dedup();
        forms
    }
}

/// The word by which things are counted where there are so many: "1 can" and "3 cans", "2 halves".
pub fn in_number(number: Factor, word: &str) -> Cow<'_, str> {
    match word {
        word if number <= Factor::ONE || word.ends_with('s') => word.into(),
        word if word.ends_with("half") || word.ends_with("leaf") => format!("{}ves", &word[..word.len() - 1]).into(),
        word if word.ends_with("ch") || word.ends_with('x') => format!("{word}es").into(),
        word => format!("{word}s").into(),
    }
}

/// A piece by the word that the table has for it: a tin is a can, and so many halves without their last letter are halves.
fn piece(word: &str) -> &str {
    match word {
        "tin" => "can",
        "halve" => "half",
        "leave" => "leaf",
        word => word,
    }
}

/// The words that the table may have for one piece or for several: "can" of "cans", "half" of "halves", "bunch" of "bunches".
pub fn pieces(word: &str) -> impl Iterator<Item = &str> {
    [Some(word), word.strip_suffix('s'), word.strip_suffix("es")].into_iter().flatten().map(piece)
}
