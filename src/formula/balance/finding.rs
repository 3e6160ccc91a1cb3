//! A judgement as it leaves: the rule, its figures, why it matters and how many grams would mend it.

use serde::Serialize;
use utoipa::ToSchema;

use crate::quantity::{Figure, Percent, Proportion, Span};
use crate::reference::{Basis, Bound};

/// Printed grams are rounded: a bound is kept within this share of itself.
const ROUNDED: f64 = 0.02;

/// What a rule of balance finds.
///
/// - `within`: it keeps to what the style allows, to within 2 % of the bound.
/// - `above`: all of what it may be lies above what the style allows.
/// - `below`: all of what it may be lies below what the style allows.
/// - `depends`: it depends on how the cups were filled, on whether the whole weight or the fat alone is counted, on how much of the soda finds acid,
///   on how much water fruit and vegetables give up, on whether soft cheese counts as butter, on whether rolled oats, bran and ground nuts count as flour,
///   or on whether what binds in its place counts as egg.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum BalanceVerdict {
    Within,
    Above,
    Below,
    Depends,
}

impl BalanceVerdict {
    /// A span against a bound.
    pub fn of(percent: Span<Percent>, bound: &Bound) -> Self {
        let low = bound.low.map_or(f64::NEG_INFINITY, |low| low.value() * (1.0 - ROUNDED));
        let high = bound.high.map_or(f64::INFINITY, |high| high.value() * (1.0 + ROUNDED));
        let (least, most) = (percent.low().value(), percent.high().value());
        if least >= low && most <= high {
            Self::Within
        } else if least > high {
            Self::Above
        } else if most < low {
            Self::Below
        } else {
            Self::Depends
        }
    }

    /// A span against the upper end of a bound alone.
    pub fn at_most(percent: Span<Percent>, bound: &Bound) -> Self {
        let high = bound.high.map_or(f64::INFINITY, |high| high.value() * (1.0 + ROUNDED));
        match () {
            () if percent.high().value() <= high => Self::Within,
            () if percent.low().value() > high => Self::Above,
            () => Self::Depends,
        }
    }

    pub const fn word(self) -> &'static str {
        match self {
            Self::Within => "within",
            Self::Above => "above",
            Self::Below => "below",
            Self::Depends => "depends",
        }
    }
}

/// How many rules hold, and how many may hold: those that depend are neither kept nor broken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    pub held: usize,
    pub open: usize,
    pub of: usize,
}

impl Tally {
    pub fn of(verdicts: impl IntoIterator<Item = BalanceVerdict>) -> Self {
        verdicts.into_iter().fold(Self::default(), |mut tally, verdict| {
            tally.of += 1;
            tally.held += usize::from(verdict == BalanceVerdict::Within);
            tally.open += usize::from(verdict == BalanceVerdict::Depends);
            tally
        })
    }

    /// As the end of a sentence: "4 of 7 rules hold, 1 depends".
    pub fn text(self) -> String {
        let holds = if self.held == 1 { "holds" } else { "hold" };
        let [held, of] = [self.held, self.of].map(|count| count.to_string());
        [&*held, " of ", &of, " rules ", holds, &self.text_of_open()].concat()
    }

    /// As a cell of a table: "4 of 7, 1 depends".
    pub fn cell(self) -> String {
        format!("{} of {}{}", self.held, self.of, self.text_of_open())
    }

    fn text_of_open(self) -> String {
        self.depend().map_or_else(String::new, |depend| format!(", {depend}"))
    }

    /// "1 depends", "2 depend"; nothing where none does.
    pub fn depend(self) -> Option<String> {
        match self.open {
            0 => None,
            1 => Some("1 depends".to_owned()),
            open => Some(format!("{open} depend")),
        }
    }
}

/// One judgement with its figures and its mend.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct BalanceFinding {
    /// The rule by its name.
    #[schema(examples("eggs-to-fat"), max_length = 60)]
    pub rule: &'static str,
    pub verdict: BalanceVerdict,
    /// What is 100 %: the base of the percentages, or what the rule itself compares with.
    #[schema(examples("fat"), max_length = 60)]
    pub basis: &'static str,
    /// How the rule counts: by whole weight, by fresh yeast, or both by whole weight and by the fat alone.
    pub counted: Basis,
    /// What was measured, by the whole weight unless `counted` says otherwise, in hundredths of the basis.
    pub measured: Proportion,
    /// The same by the fat alone, where both ways are in use, in hundredths of the basis.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub measured_by_fat: Option<Proportion>,
    /// The least that the style allows, in hundredths of the basis.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = Option<f64>, nullable = false, minimum = 0.0, maximum = 1000.0, examples(90.0))]
    pub low: Option<Figure>,
    /// The most that the style allows, in hundredths of the basis.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = Option<f64>, nullable = false, minimum = 0.0, maximum = 1000.0, examples(136.0))]
    pub high: Option<Figure>,
    /// Why it matters, in a sentence, and what speaks for or against it here.
    #[schema(max_length = 800)]
    pub why: std::borrow::Cow<'static, str>,
    /// What to change, in grams; left out where nothing need be changed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        max_length = 800,
        examples("Take out 35 g of granulated sugar, or add 42 g of flour (which moves the other percentages too)")
    )]
    pub mend: Option<String>,
    /// The id of the source of the bound; see /v1/sources/{id}.
    #[schema(examples("gisslen-professional-baking"), max_length = 60)]
    pub source: &'static str,
    /// For what the rule holds, where it depends: ways of filling (sifted, spooned, dipped, packed), or ways of counting (whole, effective-fat).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 6)]
    pub depends_on: Option<Vec<&'static str>>,
    /// On what it hinges where it depends, as the end of a sentence.
    #[serde(skip)]
    pub hinges: &'static str,
}
