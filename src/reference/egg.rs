//! Hen's eggs by class and part. Markets grade by the weight in shell; a class of the EU is a span, and its ends are told.

use super::ingredient::EggPart;
use super::source::{Cited, Sources};
use super::table::{DataFile, TableFault};
use crate::quantity::{Factor, Mass, Measures, Size, Span, upper_first};

/// One part of an egg of one class.
#[derive(Clone, Copy, Debug)]
pub struct Egg {
    pub market: &'static str,
    pub class: &'static str,
    pub part: EggPart,
    /// Without the shell.
    pub edible: Cited<Span<Mass>>,
}

/// All classes of eggs.
pub struct Eggs {
    pub all: &'static [Egg],
}

impl Eggs {
    pub(super) fn load(file: DataFile, sources: &Sources) -> Result<Self, TableFault> {
        let mut all = Vec::new();
        for row in file.rows()? {
            let word = row.required("part")?;
            let figure = row.span("grams", "low", "high")?.ok_or_else(|| row.fault("no grams"))?.map(Mass::grams);
            all.push(Egg {
                market: row.required("system")?,
                class: row.required("class")?,
                part: EggPart::of_word(word).ok_or_else(|| row.fault(format_args!("no part {word}")))?,
                edible: Cited { figure, citation: sources.cite(&row)? },
            });
        }
        Ok(Self { all: Vec::leak(all) })
    }

    /// An egg of a size, in the market of the measures unless the size names one.
    pub fn find(&self, size: Size, part: EggPart, measures: Measures) -> Option<&'static Egg> {
        let market = size.market.unwrap_or(market_of(measures));
        let class = class_in(market, size.class);
        self.all.iter().find(|egg| egg.market == market && egg.part == part && egg.class == class)
    }
}

/// What is left of an egg's weight without its shell, which is 11 % of it by one textbook and 12 % by others.
pub fn without_shell() -> Span<Factor> {
    let (least, most) = (Factor::times(0.88), Factor::times(0.89));
    Span::new(least, most, most)
}

/// Whose classes a baker means who measures so.
pub fn market_of(measures: Measures) -> &'static str {
    match measures {
        Measures::Us | Measures::UsLabel | Measures::Japan => "us",
        Measures::Uk | Measures::Imperial | Measures::Metric => "eu",
        Measures::Canada => "canada",
        Measures::Australia => "australia",
    }
}

/// A market in a sentence: "US", "Australia".
pub fn market_said(market: &str) -> String {
    if market.len() <= 2 { market.to_uppercase() } else { upper_first(market) }
}

/// The EU grades by letters.
fn class_in(market: &str, class: &'static str) -> &'static str {
    match (market, class) {
        ("eu", "extra-large" | "jumbo") => "xl",
        ("eu", "large") => "l",
        ("eu", "medium") => "m",
        ("eu", "small" | "peewee") => "s",
        (_, class) => class,
    }
}
