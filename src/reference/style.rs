//! Styles: classes of product with a balance of their own. A style is a row, each of its bounds is a row; the rules that read the bounds are files elsewhere.

use foldhash::HashMap;
use serde::Serialize;
use utoipa::ToSchema;

use super::advice::{Advice, Advices};
use super::class::Class;
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
    /// Whether it speaks only of what is there.
    pub where_present: bool,
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
    /// Whether starch is flour in it, and no thickener.
    pub starch_is_flour: bool,
    pub goods: Goods,
    pub up_high: UpHigh,
    /// The families whose members are taken for one another.
    kin: Vec<&'static str>,
    pub known_by: Option<KnownBy>,
    pub loss_product: &'static str,
    pub fill: Option<Span<Share>>,
    pub gravity: Option<Gravity>,
    pub rise: Option<Span<Factor>>,
    /// Whether the bowl must hold the whipped volume.
    pub whipped: bool,
    pub done: Option<Span<Temperature>>,
    /// The advice on the crumb, for a batter of which no end temperature of its own is printed.
    pub crumb: Option<&'static Advice>,
    pub test: &'static str,
    pub cautions: Vec<&'static str>,
    pub bounds: Vec<Bound>,
    pub citation: Citation,
    pub note: &'static str,
}

impl Style {
    pub fn is_baked(&self) -> bool {
        self.goods != Goods::Unbaked
    }

    /// Whether one is taken for the other: a fruit cake is no cookie, whatever its percentages.
    pub fn is_kin(&self, other: &Self) -> bool {
        self.kin.iter().any(|family| other.kin.contains(family))
    }
}

/// What the goods of a style are to a pan: it decides how a formula and its bake move to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goods {
    /// A batter that lies in a pan and fills its share of it.
    Batter,
    /// A crust that lines a pan.
    Crust,
    /// Pastry that is thin or hollow and lines nothing.
    Pastry,
    /// Pieces that lie on a sheet, and what is pressed into a pan without filling it: as thick in any other.
    Piece,
    /// A yeast dough that is proved and shaped.
    Dough,
    Griddle,
    Fried,
    Dried,
    Unbaked,
}

impl Goods {
    fn of_word(word: &str) -> Option<Self> {
        Some(match word {
            "batter" => Self::Batter,
            "crust" => Self::Crust,
            "pastry" => Self::Pastry,
            "piece" => Self::Piece,
            "dough" => Self::Dough,
            "griddle" => Self::Griddle,
            "fried" => Self::Fried,
            "dried" => Self::Dried,
            "unbaked" => Self::Unbaked,
            _ => return None,
        })
    }
}

/// What a high kitchen changes in the formulas of a style.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UpHigh {
    /// Leavening, sugar and liquid.
    All,
    /// Pastry rises by steam: it only dries out sooner, and takes a little more liquid by feel. The tables of cakes are not for it.
    Liquid,
    /// What hardly rises.
    Nothing,
}

impl UpHigh {
    fn of_word(word: &str) -> Option<Self> {
        Some(match word {
            "all" => Self::All,
            "liquid" => Self::Liquid,
            "nothing" => Self::Nothing,
            _ => return None,
        })
    }
}

/// What a style is known by at a glance, beside what its rules count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KnownBy {
    /// Its fat is oil, at least half of it: without that it is another cake.
    Oil,
    /// It is dark with cocoa or chocolate: without that it is seldom meant, though a blondie is.
    Cocoa,
    /// Its whites are beaten apart, and mostly written so.
    WhitesApart,
    /// Dried fruit as heavy as its flour.
    DriedFruit,
}

impl KnownBy {
    fn of_word(word: &str) -> Option<Self> {
        Some(match word {
            "oil" => Self::Oil,
            "cocoa" => Self::Cocoa,
            "whites-apart" => Self::WhitesApart,
            "dried-fruit" => Self::DriedFruit,
            _ => return None,
        })
    }
}

/// The specific gravity of a batter, and who printed it: two who disagree are both named.
#[derive(Clone, Debug)]
pub struct Gravity {
    pub figure: Span<Factor>,
    pub citations: Vec<Citation>,
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
    pub(super) fn load(styles: DataFile, bounds: DataFile, advices: &Advices, sources: &Sources) -> Result<Self, TableFault> {
        let mut all = styles.rows()?.iter().map(|row| style(row, advices, sources)).collect::<Result<Vec<_>, _>>()?;
        if let Some(at) = (1..all.len()).find(|at| all[..*at].iter().any(|other| other.id == all[*at].id)) {
            return Err(format!("styles.csv: {} stands twice", all[at].id));
        }
        for row in bounds.rows()? {
            let id = row.required("style")?;
            let style = all.iter_mut().find(|style| style.id == id).ok_or_else(|| row.fault(format_args!("no style {id}")))?;
            style.bounds.push(bound(&row, sources)?);
        }
        let alone = |style: &Style| !all.iter().any(|other| other.id != style.id && style.is_kin(other));
        if let Some(style) = all.iter().find(|style| alone(style)) {
            return Err(format!("styles.csv: {} has no kin", style.id));
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

fn style(row: &Row, advices: &Advices, sources: &Sources) -> Result<Style, TableFault> {
    let [base, goods, up_high] = [row.required("base")?, row.required("goods")?, row.required("up_high")?];
    let goods = Goods::of_word(goods).ok_or_else(|| row.fault(format_args!("no goods {goods}")))?;
    let done =
        row.ends("done_low_c", "done_high_c")?.map(|[low, high]| Span::between(Temperature::celsius(low), Temperature::celsius(high)));
    let rise = row.ends("rise_low", "rise_high")?.map(|[low, high]| Span::between(Factor::times(low), Factor::times(high)));
    Ok(Style {
        id: row.required("id")?,
        name: row.required("name")?,
        names: row.list("names")?,
        base: Base::of_word(base).ok_or_else(|| row.fault(format_args!("no base {base}")))?,
        needs_flour: row.flag("needs_flour")?,
        starch_is_flour: row.flag("starch_is_flour")?,
        goods,
        up_high: UpHigh::of_word(up_high).ok_or_else(|| row.fault(format_args!("no up_high {up_high}")))?,
        kin: row.list("kin")?,
        known_by: match row.text("known_by")? {
            "" => None,
            word => Some(KnownBy::of_word(word).ok_or_else(|| row.fault(format_args!("known by no {word}")))?),
        },
        loss_product: row.text("loss_product")?,
        fill: row.span("fill", "fill_low", "fill_high")?.map(|s| s.map(Share::of_one)),
        gravity: gravity(row, sources)?,
        rise,
        whipped: row.flag("whipped")?,
        crumb: crumb(row, advices, goods == Goods::Batter && done.is_none())?,
        done,
        test: row.text("test")?,
        cautions: row.list("cautions")?,
        bounds: Vec::new(),
        citation: sources.cite(row)?,
        note: row.text("note")?,
    })
}

/// The specific gravity, by sources of its own where the row's own source prints none.
fn gravity(row: &Row, sources: &Sources) -> Result<Option<Gravity>, TableFault> {
    let Some(figures) = row.span("gravity", "gravity_low", "gravity_high")? else { return Ok(None) };
    let own = row.list("gravity_sources")?;
    let citations = match (own.is_empty(), row.text("gravity_mark")?) {
        (true, "") => vec![sources.cite(row)?],
        (true, mark) => return Err(row.fault(format_args!("a gravity {mark} and by no source"))),
        (false, mark) => own.into_iter().map(|id| sources.cited(id, mark, "", row)).collect::<Result<_, _>>()?,
    };
    Ok(Some(Gravity { figure: figures.map(Factor::times), citations }))
}

/// The advice on the crumb, where a batter has no end temperature of its own and nowhere else: two figures for one crumb could disagree.
fn crumb(row: &Row, advices: &Advices, wanted: bool) -> Result<Option<&'static Advice>, TableFault> {
    match (row.text("crumb")?, wanted) {
        ("", false) => Ok(None),
        ("", true) => Err(row.fault("a batter with neither done_low_c and done_high_c nor a crumb")),
        (crumb, false) => Err(row.fault(format_args!("crumb {crumb} where no batter without an end temperature is"))),
        (crumb, true) => advices.crumb(crumb).map(Some).ok_or_else(|| row.fault(format_args!("no advice on a crumb of {crumb}"))),
    }
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
        where_present: row.flag("where_present")?,
        citation: sources.cite(row)?,
        note: row.text("note")?,
        told_below: if of == "above" { "" } else { told },
        told_above: if of == "below" { "" } else { told },
    })
}
