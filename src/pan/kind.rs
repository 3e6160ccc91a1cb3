//! What every shape has in common, and how one comes to be: from measures that were checked, so that an impossible pan cannot exist.

use std::fmt;

use crate::quantity::{Area, Code, Length, Share, Span, Volume};
use crate::reference::{Dimension, Sizes};

/// The inside of a pan, but for its depth: that may stay open where it cancels.
pub trait Shape: fmt::Debug + Send + Sync {
    /// The area inside at this share of the depth: 0 at the base, 1 at the rim. Between them it is a quadratic in the height for every shape, so Simpson's rule is exact.
    fn section(&self, at: Share) -> Option<Area>;

    /// The outer wall at this depth: the side of the cake that comes out.
    fn wall(&self, depth: Length) -> Option<Area>;

    /// How far heat has to come from the side: half the width, or half the ring's gap.
    fn half_way(&self) -> Option<Length>;

    /// The depth, where the other measures leave no choice.
    fn own_depth(&self) -> Option<Length> {
        None
    }

    /// What it holds by another way than geometry, if that is how it is known.
    fn holds(&self, _depth: Option<Length>) -> Option<Held> {
        None
    }

    /// How many cakes come out of it.
    fn wells(&self) -> u32 {
        1
    }

    /// Whether heat comes up through the middle too.
    fn has_core(&self) -> bool {
        false
    }
}

/// A capacity that is not reckoned from the measures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Held {
    /// Filled with water: the same as geometry would give, if it could.
    Water(Span<Volume>),
    /// As printed by the maker or in a book.
    Printed(Span<Volume>),
    /// A usual share of the plain cylinder, taken from printed capacities.
    Estimated(Span<Volume>),
}

/// One kind of shape: its word, its dimensions and how it is built of them.
#[derive(Debug)]
pub struct ShapeKind {
    pub word: &'static str,
    pub text: &'static str,
    pub fields: &'static [Field],
    /// The lengths by which the trade sells it, depth aside.
    pub(super) sold_by: &'static [Dimension],
    pub(super) bakes: Bakes,
    pub(super) build: fn(&Sizes) -> Built,
}

impl ShapeKind {
    /// Whether it is described by this dimension, among others.
    pub(super) fn takes(&self, dimension: Dimension) -> bool {
        self.fields.iter().any(|field| field.dimension == dimension)
    }

    /// Whether a count of its wells or what it holds can stand for its lengths.
    pub(super) fn needs_no_length(&self) -> bool {
        self.takes(Dimension::Wells) || self.takes(Dimension::Capacity)
    }
}

/// What a pan of a shape bakes like; its size and the depth of the batter tell the rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Bakes {
    Layer,
    /// As a sheet where it is large, as a jelly roll where the batter is thin.
    Sheet,
    Loaf,
    Tube,
    Ring,
    Wells,
}

/// A shape, or why there can be none.
pub type Built = Result<Box<dyn Shape>, Impossible>;

/// One dimension of a shape.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    pub dimension: Dimension,
    pub needed: bool,
    pub text: &'static str,
}

pub(super) const fn needed(dimension: Dimension, text: &'static str) -> Field {
    Field { dimension, needed: true, text }
}

pub(super) const fn optional(dimension: Dimension, text: &'static str) -> Field {
    Field { dimension, needed: false, text }
}

/// The field that nearly all shapes share. It may be left out where it cancels.
pub(super) const DEPTH: Field =
    optional(Dimension::Depth, "Inside depth, straight down. May be left out where both pans are equally deep.");

/// Why there can be no such pan.
#[derive(Clone, Debug, PartialEq)]
pub struct Impossible {
    pub dimension: Dimension,
    pub code: Code,
    pub accepted: String,
}

/// A length that the shape cannot do without.
pub(super) fn must(sizes: &Sizes, dimension: Dimension) -> Result<Length, Impossible> {
    sizes.length(dimension).ok_or_else(|| missing(dimension))
}

pub(super) fn missing(dimension: Dimension) -> Impossible {
    let accepted = format!("the {} of the pan, such as \"9 in\"", dimension.word().replace('_', " "));
    Impossible { dimension, code: Code::DimensionNeeded, accepted }
}

/// The base of a wall that may lean outwards: as wide as the rim where nothing is said, never wider, or no cake would come out.
pub(super) fn base(sizes: &Sizes, dimension: Dimension, rim: Length) -> Result<Length, Impossible> {
    match sizes.length(dimension) {
        None => Ok(rim),
        Some(base) if base <= rim => Ok(base),
        Some(_) => Err(contradiction(dimension, "a base no wider than the rim")),
    }
}

pub(super) fn contradiction(dimension: Dimension, accepted: &str) -> Impossible {
    Impossible { dimension, code: Code::ImpossiblePan, accepted: accepted.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_base_wider_than_the_rim_lets_no_cake_out() {
        let mut sizes = Sizes::default();
        sizes.set(Dimension::BaseDiameter, Length::centimetres(25.0));
        let refusal = base(&sizes, Dimension::BaseDiameter, Length::centimetres(20.0));
        assert!(refusal.is_err_and(|impossible| impossible.code == Code::ImpossiblePan));
    }
}
