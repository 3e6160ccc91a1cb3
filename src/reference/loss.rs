//! What is lost on the way, by class of product and stage: each a share of the mass that enters the stage, with its published spread.

use foldhash::HashMap;
use serde::Serialize;
use utoipa::ToSchema;

use super::source::{Cited, Sources};
use super::table::{DataFile, TableFault};
use crate::quantity::{Percent, Span};

/// Where mass is lost, in the order of the work.
///
/// - `sieving`: what sieves and bags keep back.
/// - `mixing`: what bowl, paddle and scraper keep back.
/// - `cooking`: what boils away in a curd, cream or syrup.
/// - `fermentation`: what dough loses as gas and moisture while it rises.
/// - `dividing`: what dividing and scaling waste.
/// - `cutting`: dough cut away where a pan is lined with it or pieces are cut out.
/// - `depositing`: what stays on ladle, bag and scale.
/// - `baking`: moisture lost in the oven, with cooling where the product's figures are so defined.
/// - `cooling`: moisture lost while cooling.
/// - `trimming`: what levelling and trimming take off when it has been baked.
/// - `slicing`: what cutting turns to crumbs.
/// - `rejects`: pieces that cannot be sold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, serde::Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Stage {
    Sieving,
    Mixing,
    Cooking,
    Fermentation,
    Dividing,
    Cutting,
    Depositing,
    Baking,
    Cooling,
    Trimming,
    Slicing,
    Rejects,
}

impl Stage {
    pub const ALL: [Self; 12] = [
        Self::Sieving,
        Self::Mixing,
        Self::Cooking,
        Self::Fermentation,
        Self::Dividing,
        Self::Cutting,
        Self::Depositing,
        Self::Baking,
        Self::Cooling,
        Self::Trimming,
        Self::Slicing,
        Self::Rejects,
    ];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Sieving => "sieving",
            Self::Mixing => "mixing",
            Self::Cooking => "cooking",
            Self::Fermentation => "fermentation",
            Self::Dividing => "dividing",
            Self::Cutting => "cutting",
            Self::Depositing => "depositing",
            Self::Baking => "baking",
            Self::Cooling => "cooling",
            Self::Trimming => "trimming",
            Self::Slicing => "slicing",
            Self::Rejects => "rejects",
        }
    }

    /// Whether it touches only what goes into the oven: what is trimmed is levelled when it has been baked.
    pub const fn baked_only(self) -> bool {
        matches!(self, Self::Baking | Self::Cooling | Self::Trimming)
    }

    /// Whether the stage stands before a piece or pan is weighed: what stays on ladle and bag never comes into it.
    pub fn before_scaling(self) -> bool {
        self <= Self::Depositing
    }
}

/// One published loss.
#[derive(Clone, Debug)]
pub struct StageLoss {
    pub product: &'static str,
    pub stage: Stage,
    pub percent: Cited<Span<Percent>>,
    /// What is told of it behind the name of a part that loses so much, and in short: "2 % (1–3 %) in mixing, as is usual for scones", "2 %".
    told: String,
    pub told_percent: String,
    pub note: &'static str,
}

impl StageLoss {
    /// The sentence of it for a part by its name: shells lose, a sponge loses.
    pub fn told_of(&self, part: &str) -> String {
        let several = part.ends_with('s') && !part.ends_with("ss");
        [part, if several { " lose " } else { " loses " }, &self.told].concat()
    }
}

/// All published losses.
pub struct Losses {
    pub all: &'static [StageLoss],
    /// Of each class of product, in the order of the work; one for each stage.
    by_product: HashMap<&'static str, Vec<&'static StageLoss>>,
}

impl Losses {
    pub(super) fn load(file: DataFile, sources: &Sources) -> Result<Self, TableFault> {
        let mut all = Vec::new();
        for row in file.rows()? {
            let word = row.required("stage")?;
            let stage = Stage::ALL.into_iter().find(|stage| stage.word() == word);
            let figure = row.span("percent", "low", "high")?.ok_or_else(|| row.fault("no percent"))?;
            let product = row.required("product")?;
            let percent = figure.map(Percent::of_hundred);
            let told_percent = format!("{} %", percent.value().value());
            let spread = format!("{}–{} %", percent.low().value(), percent.high().value());
            all.push(StageLoss {
                product,
                stage: stage.ok_or_else(|| row.fault(format_args!("no stage {word}")))?,
                told: format!("{told_percent} ({spread}) in {word}, as is usual for {}", spoken(product)),
                told_percent,
                percent: Cited { figure: percent, citation: sources.cite(&row)? },
                note: row.text("note")?,
            });
        }
        let all: &'static [StageLoss] = Vec::leak(all);
        let mut by_product: HashMap<&'static str, Vec<&'static StageLoss>> = HashMap::default();
        all.iter().for_each(|loss| by_product.entry(loss.product).or_default().push(loss));
        for losses in by_product.values_mut() {
            losses.sort_by_key(|loss| loss.stage);
            losses.dedup_by_key(|loss| loss.stage);
        }
        Ok(Self { all, by_product })
    }

    /// The losses of a class of product, in the order of the work; one for each stage.
    pub fn of_product(&self, product: &str) -> &[&'static StageLoss] {
        self.by_product.get(product).map_or(&[], Vec::as_slice)
    }
}
/// A class of product as it is spoken of.
fn spoken(product: &str) -> String {
    match product {
        "bread-pan" => "pan bread".to_owned(),
        "bread-hearth" => "hearth bread".to_owned(),
        "cookie-drop" => "drop cookies".to_owned(),
        "cookie-crisp" => "crisp cookies".to_owned(),
        "meringue-dry" => "dry meringue".to_owned(),
        "meringue-soft" => "soft meringue".to_owned(),
        "enriched" | "laminated" => format!("{product} dough"),
        "puff" => "puff pastry".to_owned(),
        "bar" | "scone" | "muffin" | "pancake" | "waffle" | "doughnut" | "pie-shell" | "tart-shell" => {
            format!("{}s", product.replace('-', " "))
        }
        _ => product.replace('-', " "),
    }
}

#[cfg(test)]
mod tests {
    use crate::reference::Reference;

    #[test]
    fn shells_lose_and_a_sponge_loses() {
        let tables = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let told = |part: &str| tables.losses.of_product("scone").first().map(|loss| loss.told_of(part)).unwrap_or_default();
        let of = "1 % (0.5–2 %) in mixing, as is usual for scones";
        let names = ["shells", "sponge", "lemon glass"].map(told);
        assert_eq!(names, [format!("shells lose {of}"), format!("sponge loses {of}"), format!("lemon glass loses {of}")]);
    }
}
