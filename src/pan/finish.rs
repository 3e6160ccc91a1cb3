//! What covers a cake follows what is covered: the tops, the joints between layers and the outer sides of the stack.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::one::Pan;
use super::several::Pans;
use crate::quantity::{Area, Code, Factor, Fault, Faults, Pointer};
use crate::reference::{Account, Dimension};

/// What of a cake is covered.
/// - `top`: the top, and the joints where layers are filled.
/// - `top-and-sides`: the top and the outer sides, and the joints where layers are filled.
/// - `sides`: the outer sides, and the joints where layers are filled.
/// - `filling`: only the joints between layers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Cover {
    /// The top, and the joints where layers are filled.
    Top,
    /// The top and the outer sides, and the joints where layers are filled.
    TopAndSides,
    /// The outer sides, and the joints where layers are filled.
    Sides,
    /// Only the joints between layers.
    Filling,
}

/// How a cake is finished, as written.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FinishWritten {
    /// What is covered.
    pub cover: Cover,
    /// How many layers stand on one another; 1 where it is left out. More layers than pans means that the cakes are split.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(minimum = 1, maximum = 50, nullable = false, examples(2))]
    pub layers: Option<u32>,
    /// Whether the same is spread between the layers; yes where it is left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub filled: Option<bool>,
}

/// The most layers of one cake.
const MOST_LAYERS: u32 = 50;

/// How a cake is finished.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Finish {
    cover: Cover,
    layers: u32,
    filled: bool,
}

impl FinishWritten {
    /// How what comes out of these pans is mostly finished: what is baked in wells on its top, the rest as one stack.
    pub fn usual(pans: &Pans) -> Self {
        if pans.all_wells() {
            return Self { cover: Cover::Top, layers: Some(1), filled: Some(false) };
        }
        Self::stacked(pans.count().min(MOST_LAYERS))
    }

    /// So many layers on one another, spread between, the top and the sides covered.
    pub fn stacked(layers: u32) -> Self {
        Self { cover: Cover::TopAndSides, layers: Some(layers), filled: Some(true) }
    }

    /// In a sentence.
    pub fn spoken(&self) -> String {
        let cover = match self.cover {
            Cover::Top => "the top",
            Cover::TopAndSides => "top and sides",
            Cover::Sides => "the sides",
            Cover::Filling => "nothing but the joints",
        };
        match self.layers {
            Some(1) | None => format!("{cover}, each by itself"),
            Some(layers) => format!("{cover}, {layers} layers, the same between them"),
        }
    }

    /// The finish that is meant; what had to be assumed is told.
    pub fn resolve(&self, at: &Pointer<'_>, account: &mut Account) -> Result<Finish, Fault> {
        let layers = self.layers.unwrap_or_else(|| {
            account.assume("Each cake is finished by itself, as one layer", &at.key("layers"), "1");
            1
        });
        if !(1..=MOST_LAYERS).contains(&layers) {
            return Err(Fault::new(&at.key("layers"), Code::OutOfRange, layers.to_string(), format!("1 to {MOST_LAYERS} layers")));
        }
        if self.cover == Cover::Filling && layers == 1 {
            return Err(Fault::new(&at.key("layers"), Code::NotTogether, "a filling and one layer", "2 layers at least").trying(["2"]));
        }
        if self.filled.is_none() && layers > 1 && self.cover != Cover::Filling {
            account.assume("The joints between the layers are spread with the same", &at.key("filled"), "true");
        }
        Ok(Finish { cover: self.cover, layers, filled: self.cover == Cover::Filling || self.filled.unwrap_or(true) })
    }
}

impl Pans {
    /// The area that is covered. Each kind of pan makes stacks of its own (tiers); a cake is taken to be as high as its pan is deep.
    pub fn covered(&self, finish: &Finish, at: &Pointer<'_>) -> Result<Area, Faults> {
        let mut faults = Faults::new();
        let areas: Vec<Area> = self.iter().filter_map(|pan| faults.keep(pan.covered(finish, at))).collect();
        faults.or(areas.into_iter().sum())
    }
}

impl Pan {
    fn covered(&self, finish: &Finish, at: &Pointer<'_>) -> Result<Area, Fault> {
        let stacks = self.stacks(finish, at)?;
        let top = self.top_area().ok_or_else(|| self.needs(Dimension::TopArea, "the area at the rim, such as \"400 cm2\""))?;
        let tops = match finish.cover {
            Cover::Top | Cover::TopAndSides => top * stacks,
            Cover::Sides | Cover::Filling => Area::ZERO,
        };
        let joints = if finish.filled { top * stacks * Factor::times(f64::from(finish.layers - 1)) } else { Area::ZERO };
        let sides = match finish.cover {
            Cover::TopAndSides | Cover::Sides => {
                self.depth_known()?;
                self.side_area().ok_or_else(|| self.needs(Dimension::Depth, "a shape by its dimensions"))? * self.times()
            }
            Cover::Top | Cover::Filling => Area::ZERO,
        };
        Ok(tops + joints + sides)
    }

    /// How many stacks its cakes make. Two pans and two layers are one stack; one pan and two layers are a cake split in two.
    fn stacks(&self, finish: &Finish, at: &Pointer<'_>) -> Result<Factor, Fault> {
        let (pans, layers) = (self.count(), finish.layers);
        match () {
            () if pans % layers == 0 => Ok(Factor::times(f64::from(pans / layers))),
            () if layers % pans == 0 => Ok(Factor::ONE),
            () => Err(Fault::new(
                &at.key("layers"),
                Code::NotTogether,
                format!("{pans} pans and {layers} layers"),
                "layers that the pans make without a rest",
            )
            .trying([pans.to_string()])),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pan::PansWritten;
    use crate::quantity::Measures;
    use crate::reference::Reference;

    #[track_caller]
    fn square_inches(phrase: &str, cover: Cover, layers: u32) -> Result<f64, Code> {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let mut account = Account::new(reference, false);
        let written: PansWritten = serde_json::from_value(phrase.into()).unwrap_or_else(|fault| panic!("{fault}"));
        let pans = written.resolve(Measures::Us, reference, &Pointer::ROOT, &mut account).unwrap_or_else(|faults| panic!("{faults:?}"));
        let finish = FinishWritten { cover, layers: Some(layers), filled: None }
            .resolve(&Pointer::ROOT, &mut account)
            .map_err(|fault| fault.code)?;
        pans.covered(&finish, &Pointer::ROOT)
            .map(|area| area.in_square_centimetres() / 6.4516)
            .map_err(|faults| faults.iter().next().map_or(Code::OurFault, |fault| fault.code))
    }

    #[test]
    fn icing_for_a_sheet_becomes_icing_for_a_filled_stack() {
        let sheet = square_inches("13x9x2 in", Cover::Top, 1).unwrap_or_default();
        let stack = square_inches("two 8 inch rounds, 2 in deep", Cover::TopAndSides, 2).unwrap_or_default();
        assert!((sheet - 117.0).abs() < 1e-9 && (stack - 201.06).abs() < 0.01, "{sheet} {stack}");
        assert!((400.0 * stack / sheet - 687.4).abs() < 0.1);
    }

    #[test]
    fn a_cake_split_in_two_gains_a_joint_and_no_side() {
        let whole = square_inches("8 inch round, 2 in deep", Cover::TopAndSides, 1).unwrap_or_default();
        let split = square_inches("8 inch round, 2 in deep", Cover::TopAndSides, 2).unwrap_or_default();
        let joint = square_inches("8 inch round, 2 in deep", Cover::Filling, 2).unwrap_or_default();
        assert!((split - whole - joint).abs() < 1e-9 && (joint - 50.265).abs() < 0.001);
    }

    #[test]
    fn three_pans_make_no_stacks_of_two() {
        assert_eq!(square_inches("three 8 inch rounds, 2 in deep", Cover::Top, 2), Err(Code::NotTogether));
        assert_eq!(square_inches("8 inch round", Cover::Filling, 1), Err(Code::NotTogether));
    }
}
