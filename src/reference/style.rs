//! Styles: classes of product with a balance of their own. A style is a row, each of its bounds is a row; the rules that read the bounds are files elsewhere.

use foldhash::HashMap;
use serde::Serialize;
use utoipa::ToSchema;

use super::class::Class;
use super::ingredients::span;
use super::source::{Citation, Sources};
use super::table::{DataFile, Row, TableFault};
use crate::quantity::{Factor, Percent, Share, Span, Temperature, nearest, plain};

/// How a bound reads the weights.
///
/// - `whole`: the whole weight as weighed.
/// - `effective-fat`: the fat alone, without the water and solids of butter.
/// - `water`: the water alone.
/// - `fresh-yeast`: grams of fresh yeast that the yeast stands for.
/// - `both`: some read it by the whole weight, some by the fat alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Basis {
    Whole,
    EffectiveFat,
    Water,
    FreshYeast,
    Both,
}

impl Basis {
    fn of_word(word: &str) -> Option<Self> {
        Some(match word {
            "whole" => Self::Whole,
            "effective-fat" => Self::EffectiveFat,
            "water" => Self::Water,
            "fresh-yeast" => Self::FreshYeast,
            "both" => Self::Both,
            _ => return None,
        })
    }
}

/// What a rule allows in a style.
#[derive(Clone, Copy, Debug)]
pub struct Bound {
    pub rule: &'static str,
    pub low: Option<Percent>,
    pub high: Option<Percent>,
    pub basis: Basis,
    pub citation: Citation,
    /// What a contributor is to know of it.
    pub note: &'static str,
    /// What speaks for or against it, in a sentence for whoever has too little.
    pub told_below: &'static str,
    /// The same for whoever has too much.
    pub told_above: &'static str,
}

/// One style.
#[derive(Debug)]
pub struct Style {
    pub id: &'static str,
    pub name: &'static str,
    pub names: Vec<&'static str>,
    /// What is 100 %.
    pub base: Base,
    /// Whether there is no such thing without flour.
    pub needs_flour: bool,
    pub baked: bool,
    pub loss_product: &'static str,
    pub fill: Option<Span<Share>>,
    pub gravity: Option<Span<Factor>>,
    pub rise: Option<Span<Factor>>,
    /// Whether the bowl must hold the whipped volume.
    pub whipped: bool,
    pub done: Option<Span<Temperature>>,
    pub test: &'static str,
    pub cautions: Vec<&'static str>,
    pub bounds: Vec<Bound>,
    pub citation: Citation,
    pub note: &'static str,
}

/// What the percentages of a style are of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Base {
    Class(Class),
    /// Egg whites alone.
    EggWhite,
    /// All nuts with flour and starch: sponges that stand on ground nuts.
    NutsAndFlour,
}

impl Base {
    fn of_word(word: &str) -> Option<Self> {
        match word {
            "egg-white" => Some(Self::EggWhite),
            "nuts-and-flour" => Some(Self::NutsAndFlour),
            word => Class::of_word(word).map(Self::Class),
        }
    }

    pub const fn word(self) -> &'static str {
        match self {
            Self::Class(class) => class.word(),
            Self::EggWhite => "egg-white",
            Self::NutsAndFlour => "nuts-and-flour",
        }
    }
}

/// All styles.
pub struct Styles {
    pub all: &'static [Style],
    by_name: HashMap<&'static str, &'static Style>,
}

impl Styles {
    pub(super) fn load(styles: DataFile, bounds: DataFile, sources: &Sources) -> Result<Self, TableFault> {
        let mut all = styles.rows()?.iter().map(|row| style(row, sources)).collect::<Result<Vec<_>, _>>()?;
        for row in bounds.rows()? {
            let id = row.required("style")?;
            let style = all.iter_mut().find(|style| style.id == id).ok_or_else(|| row.fault(format_args!("no style {id}")))?;
            style.bounds.push(bound(&row, sources)?);
        }
        let all: &'static [Style] = Vec::leak(all);
        let mut by_name = HashMap::default();
        // An id wins over a name, and what stands earlier over what stands later.
        for style in all.iter().rev() {
            by_name.extend(style.names.iter().copied().chain([style.name]).map(|name| (name, style)));
        }
        by_name.extend(all.iter().map(|style| (style.id, style)));
        Ok(Self { all, by_name })
    }

    /// A style by its id or by another word for it.
    pub fn find(&self, name: &str) -> Option<&'static Style> {
        self.by_name.get(name).or_else(|| self.by_name.get(&*plain(name))).copied()
    }

    /// Names near to one that was not found.
    pub fn nearest(&self, name: &str) -> Vec<&'static str> {
        let words = self.all.iter().flat_map(|style| std::iter::once(style.id).chain(style.names.iter().copied()));
        nearest(&plain(name), words, 3)
    }
}

fn style(row: &Row, sources: &Sources) -> Result<Style, TableFault> {
    let base = row.required("base")?;
    let flag = |column| Ok::<_, TableFault>(row.text(column)? == "1");
    let done = match (row.number("done_low_c")?, row.number("done_high_c")?) {
        (Some(low), Some(high)) => Some(Span::between(Temperature::celsius(low), Temperature::celsius(high))),
        _ => None,
    };
    let rise = match (row.number("rise_low")?, row.number("rise_high")?) {
        (Some(low), Some(high)) => Some(Span::between(Factor::times(low), Factor::times(high))),
        _ => None,
    };
    Ok(Style {
        id: row.required("id")?,
        name: row.required("name")?,
        names: row.list("names")?,
        base: Base::of_word(base).ok_or_else(|| row.fault(format_args!("no base {base}")))?,
        needs_flour: flag("needs_flour")?,
        baked: flag("baked")?,
        loss_product: row.text("loss_product")?,
        fill: span(row, "fill", "fill_low", "fill_high")?.map(|s| s.map(Share::of_one)),
        gravity: span(row, "gravity", "gravity_low", "gravity_high")?.map(|s| s.map(Factor::times)),
        rise,
        whipped: flag("whipped")?,
        done,
        test: row.text("test")?,
        cautions: row.list("cautions")?,
        bounds: Vec::new(),
        citation: sources.cite(row)?,
        note: row.text("note")?,
    })
}

fn bound(row: &Row, sources: &Sources) -> Result<Bound, TableFault> {
    let basis = row.required("basis")?;
    let low = row.number("low")?.map(Percent::of_hundred);
    let high = row.number("high")?.map(Percent::of_hundred);
    if low.is_none() && high.is_none() {
        return Err(row.fault("a bound without an end"));
    }
    let (told, of) = (row.text("told")?, row.text("told_of")?);
    if !matches!(of, "" | "below" | "above") || told.is_empty() && !of.is_empty() {
        return Err(row.fault(format_args!("nothing is told of what lies {of}")));
    }
    Ok(Bound {
        rule: row.required("rule")?,
        low,
        high,
        basis: Basis::of_word(basis).ok_or_else(|| row.fault(format_args!("no basis {basis}")))?,
        citation: sources.cite(row)?,
        note: row.text("note")?,
        told_below: if of == "above" { "" } else { told },
        told_above: if of == "below" { "" } else { told },
    })
}
