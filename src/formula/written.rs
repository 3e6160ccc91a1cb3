//! A formula as it comes in: named parts, each a list of lines, amounts as people write them. Nothing is looked up here; the doc comments are the published text.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::pan::{BakeWritten, FinishWritten, PansWritten};
use crate::quantity::{Measures, Written};
use crate::reference::{Class, Filled};

/// A formula as written.
#[derive(Clone, Debug, Default, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FormulaWritten {
    /// What it is called.
    #[schema(nullable = false, max_length = 200, examples("Cardamom pear cake"))]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// What it claims to be; see /v1/styles.
    #[schema(nullable = false, max_length = 200, examples("creamed"))]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub style: Option<String>,
    /// The national set of cups and spoons. Without it: us, which is told.
    #[schema(nullable = false)]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measures: Option<Measures>,
    /// How the cups were filled; one person fills all cups alike.
    #[schema(nullable = false)]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub filled: Option<Filled>,
    /// Ingredients of your own, known by name in the lines.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 100)]
    pub ingredients: Vec<OwnIngredient>,
    /// What is mixed apart, in the order of the work.
    #[schema(min_items = 1, max_items = 50)]
    pub parts: Vec<PartWritten>,
    /// The pan, or pans, the formula was tested in.
    #[schema(nullable = false)]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pan: Option<PansWritten>,
    /// How the finished cake is covered.
    #[schema(nullable = false)]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub finish: Option<FinishWritten>,
    /// How it bakes as tested.
    #[schema(nullable = false)]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bake: Option<BakeWritten>,
    /// What it makes as tested.
    #[schema(nullable = false)]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub makes: Option<MakesWritten>,
}

/// What a formula makes as tested.
#[derive(Clone, Debug, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MakesWritten {
    /// How many pieces.
    #[schema(nullable = false, minimum = 1, maximum = 1_000_000, examples(16))]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pieces: Option<u32>,
    /// What one piece weighs when it is done.
    #[schema(nullable = false)]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub each: Option<Written>,
    /// What the whole weighs when it is done.
    #[schema(nullable = false)]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub weight: Option<Written>,
}

/// A part: what is mixed apart.
#[derive(Clone, Debug, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PartWritten {
    /// What it is called.
    #[schema(max_length = 200, examples("batter"))]
    pub name: String,
    /// With what it grows when the pan or the number changes.
    #[serde(default)]
    #[schema(default = "pan-volume")]
    pub scales_with: ScalesWith,
    /// The part into which it is mixed before baking, by name: whites beaten apart and folded in.
    #[schema(nullable = false, max_length = 200, examples("batter"))]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub into: Option<String>,
    /// A style of its own: a curd, an icing.
    #[schema(nullable = false, max_length = 200, examples("buttercream"))]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub style: Option<String>,
    /// Its specific gravity when mixed: the weight of a cup of it over the weight of a cup of water.
    #[schema(nullable = false, minimum = 0.1, maximum = 2.0, examples(0.85))]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub specific_gravity: Option<f64>,
    /// How the cups of this part were filled.
    #[schema(nullable = false)]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub filled: Option<Filled>,
    /// Its ingredients, in the order of use.
    #[schema(min_items = 1, max_items = 200)]
    pub lines: Vec<LineWritten>,
}

/// With what a part grows.
/// - `pan-volume`: with the capacity of the pans.
/// - `finish`: with the area that is covered: tops, joints and outer sides.
/// - `pan-count`: with the number of pans.
/// - `pieces`: with the number of pieces.
/// - `fixed`: not at all.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, serde::Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ScalesWith {
    #[default]
    PanVolume,
    Finish,
    PanCount,
    Pieces,
    Fixed,
}

impl ScalesWith {
    pub const fn word(self) -> &'static str {
        match self {
            Self::PanVolume => "pan-volume",
            Self::Finish => "finish",
            Self::PanCount => "pan-count",
            Self::Pieces => "pieces",
            Self::Fixed => "fixed",
        }
    }
}

/// A line: one ingredient and its amount.
#[derive(Clone, Debug, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LineWritten {
    /// The ingredient by any of its names, or one of your own.
    #[schema(max_length = 200, examples("all-purpose flour"))]
    pub ingredient: String,
    /// How much.
    pub amount: Written,
    /// The same amount in a second measure; a mass wins over a volume.
    #[schema(nullable = false)]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub also: Option<Written>,
    /// How the cup of this line was filled.
    #[schema(nullable = false)]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub filled: Option<Filled>,
    /// Anything else that belongs to the line; it is not read.
    #[schema(nullable = false, max_length = 200)]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// An ingredient of your own.
#[derive(Clone, Debug, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct OwnIngredient {
    /// Its name, as the lines use it.
    #[schema(max_length = 200, examples("chestnut paste"))]
    pub name: String,
    /// What a millilitre of it weighs, in grams.
    #[schema(nullable = false, minimum = 0.01, maximum = 25.0, examples(1.1))]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub g_per_ml: Option<f64>,
    /// Grams of each constituent in 100 g.
    #[serde(default)]
    pub per_100g: Per100g,
    /// What it counts as, by shares that add up to 1.
    #[serde(default)]
    pub counts_as: CountsAs,
}

/// Makes a closed set of optional numbers, so that reader and schema agree.
macro_rules! optional_numbers {
    ($(#[$doc:meta])* $name:ident, $high:tt, $($(#[$field_doc:meta])* $field:ident),*) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default, Deserialize, Serialize, ToSchema)]
        #[serde(deny_unknown_fields, rename_all = "kebab-case")]
        pub struct $name {
            $($(#[$field_doc])* #[serde(skip_serializing_if = "Option::is_none")] #[schema(nullable = false, minimum = 0.0, maximum = $high)] pub $field: Option<f64>,)*
        }

        impl $name {
            /// Each field by its name, in the order written here.
            pub(crate) fn figures(&self) -> impl Iterator<Item = (&'static str, f64)> {
                [$((stringify!($field), self.$field)),*].into_iter().filter_map(|(name, figure)| Some((name, figure?)))
            }
        }
    };
}

optional_numbers!(
    /// Grams in 100 g; what is left out counts as none.
    Per100g, 100.0,
    /// Water, in grams in 100 g.
    water,
    /// Protein, in grams in 100 g.
    protein,
    /// Fat, in grams in 100 g.
    fat,
    /// Saturated fat, in grams in 100 g.
    saturated,
    /// Carbohydrate with its fibre, in grams in 100 g: a European pack gives it without, so add the two.
    carbohydrate,
    /// Fibre, in grams in 100 g.
    fibre,
    /// Sugars, in grams in 100 g.
    sugars,
    /// The same as sugars, in grams in 100 g.
    sugar,
    /// Starch, in grams in 100 g.
    starch,
    /// Alcohol, in grams in 100 g.
    alcohol,
    /// Ash, in grams in 100 g.
    ash,
    /// Salt as a European pack gives it, 2.5 times all sodium, in grams in 100 g. Without it the sodium is not known.
    salt
);

optional_numbers!(
    /// Shares of the weight by what they count as; together 1.
    CountsAs, 1.0,
    /// The share that counts as flour.
    flour,
    /// The share that counts as starch.
    starch,
    /// The share that counts as cocoa.
    cocoa,
    /// The share that counts as sugar.
    sugar,
    /// The share that counts as fat.
    fat,
    /// The share that counts as egg.
    egg,
    /// The share that counts as liquid.
    liquid,
    /// The share that counts as dry milk.
    milk_solids,
    /// The share that counts as leavening.
    leavening,
    /// The share that counts as acid.
    acid,
    /// The share that counts as salt.
    salt,
    /// The share that counts as fresh cheese.
    cheese,
    /// The share that counts as chocolate.
    chocolate,
    /// The share that counts as additions: fruit, nuts, pieces.
    additions,
    /// The share that counts as flavouring.
    flavouring
);

impl CountsAs {
    /// The classes with their shares.
    pub(crate) fn classes(&self) -> impl Iterator<Item = (Class, f64)> {
        self.figures().filter_map(|(name, share)| Some((Class::of_word(&name.replace('_', "-"))?, share)))
    }
}
