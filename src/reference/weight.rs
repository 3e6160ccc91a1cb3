//! What a cup or a spoon of an ingredient weighs. Several people have measured, in several ways of filling; the span that follows when nobody says the way holds them all.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::source::{Citation, Sources};
use super::table::{Row, TableFault};
use crate::quantity::{Density, Factor, Mass, Measures, Span, Unit, Volume};

/// How a cup was filled.
/// - `sifted`: sifted into the cup and levelled.
/// - `spooned`: spooned in lightly and levelled.
/// - `dipped`: dipped into the bag and levelled; `scooped` is the same.
/// - `packed`: pressed down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Filled {
    Sifted,
    Spooned,
    #[serde(alias = "scooped")]
    Dipped,
    Packed,
}

impl Filled {
    pub const ALL: [Self; 4] = [Self::Sifted, Self::Spooned, Self::Dipped, Self::Packed];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Sifted => "sifted",
            Self::Spooned => "spooned",
            Self::Dipped => "dipped",
            Self::Packed => "packed",
        }
    }

    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|way| way.word() == word)
    }

    /// The way that a word of a recipe says.
    pub fn said(word: &str) -> Option<Self> {
        match word {
            "unsifted" => Some(Self::Spooned),
            "scooped" => Some(Self::Dipped),
            word => Self::of_word(word),
        }
    }
}

/// One published weight of a household measure.
#[derive(Clone, Copy, Debug)]
pub struct Measured {
    /// The measure as printed: "1 cup".
    pub amount: Factor,
    pub unit: &'static str,
    pub density: Span<Density>,
    /// How much was measured: the larger the measure, the sharper the figure.
    pub volume: Volume,
    pub mass: Mass,
    pub filled: Option<Filled>,
    /// The state in which it was measured (chopped, whipped …), or nothing.
    pub form: &'static str,
    pub citation: Citation,
}

impl Measured {
    pub(super) fn load(row: &Row, sources: &Sources) -> Result<Self, TableFault> {
        let amount = row.figure("amount")?;
        let printed_unit = row.required("unit")?;
        let unit = match printed_unit {
            "metric-cup" => Unit::known("metric-cup"),
            word => Unit::of_word(&word.replace('-', " "), Measures::Us).ok_or_else(|| row.fault(format_args!("no unit {word}")))?,
        };
        let volume = Volume::millilitres(amount * unit.size);
        let mass = row.span("grams", "low", "high")?.ok_or_else(|| row.fault("no grams"))?.map(Mass::grams);
        let filled = row.text("filled")?;
        Ok(Self {
            amount: Factor::times(amount),
            unit: printed_unit,
            density: mass.map(|mass| mass / volume),
            volume,
            mass: mass.value(),
            filled: if filled.is_empty() {
                None
            } else {
                Some(Filled::of_word(filled).ok_or_else(|| row.fault(format_args!("no way of filling {filled}")))?)
            },
            form: row.text("form")?,
            citation: sources.cite(row)?,
        })
    }

    /// The figure as far as it was rounded in print: to 0.1 g below 15 g, to 1 g above.
    fn as_printed(&self) -> Span<Density> {
        let grams = self.mass.in_grams();
        let half = if grams < 15.0 { 0.05 } else { 0.5 };
        Span::new(Mass::grams(grams - half) / self.volume, self.density.value(), Mass::grams(grams + half) / self.volume)
    }
}

/// A density with all that speaks for it.
#[derive(Clone, Debug)]
pub struct Weighing {
    pub density: Span<Density>,
    pub citations: Vec<Citation>,
    /// Whether the way of filling was left open though it matters.
    pub way_open: bool,
}

impl Weighing {
    /// The one or the other: the span of both, on the word of all their sources.
    fn or(mut self, other: Self) -> Self {
        self.density = self.density.hull(other.density);
        for citation in other.citations {
            if !self.citations.iter().any(|known| std::ptr::eq(known.source, citation.source)) {
                self.citations.push(citation);
            }
        }
        self
    }
}

/// Every density of one ingredient, worked out once when the tables are read: a question only looks it up.
#[derive(Clone, Debug, Default)]
pub struct Weighings {
    /// For each state: by the way of filling, the way left open first.
    by_form: Vec<(&'static str, [Option<Weighing>; WAYS])>,
    /// For an ingredient measured in states only, where none was said: the span of all of them.
    in_any_form: [Option<Weighing>; WAYS],
    /// Whether it is packed into its cup by custom: it was measured so, and never without saying how.
    pub packed_by_custom: bool,
}

/// The ways of filling, and the way left open.
const WAYS: usize = Filled::ALL.len() + 1;

fn way(filled: Option<Filled>) -> usize {
    filled.map_or(0, |way| way as usize + 1)
}

impl Weighings {
    /// What the published weights of an ingredient give.
    pub(super) fn of(measured: &[Measured]) -> Self {
        let mut forms: Vec<&'static str> = measured.iter().map(|m| m.form).collect();
        forms.sort_unstable();
        forms.dedup();
        let ways = || std::iter::once(None).chain(Filled::ALL.into_iter().map(Some));
        let in_form = |form: &str| -> [Option<Weighing>; WAYS] {
            let mut found: [Option<Weighing>; WAYS] = Default::default();
            ways().for_each(|filled| found[way(filled)] = weighing(measured, filled, form));
            found
        };
        let by_form: Vec<_> = forms.iter().map(|form| (*form, in_form(form))).collect();
        let mut in_any_form: [Option<Weighing>; WAYS] = Default::default();
        for filled in ways() {
            let all = by_form.iter().filter_map(|(_, found)| found[way(filled)].clone());
            in_any_form[way(filled)] = all.reduce(Weighing::or);
        }
        let packed = measured.iter().any(|m| m.filled == Some(Filled::Packed));
        Self { by_form, in_any_form, packed_by_custom: packed && measured.iter().all(|m| m.filled.is_some()) }
    }

    /// A density that is known sharply and in one state: that of a caller's own ingredient.
    pub fn sharp(density: Density) -> Self {
        let one = || Some(Weighing { density: Span::exact(density), citations: Vec::new(), way_open: false });
        Self { by_form: vec![("", std::array::from_fn(|_| one()))], in_any_form: Default::default(), packed_by_custom: false }
    }

    /// The density for a way of filling and a state; nothing where nobody measured it.
    pub fn find(&self, filled: Option<Filled>, form: &str) -> Option<&Weighing> {
        // Most say no state. Two texts of nothing lie nowhere, and where they are compared as texts the processor takes long to find that out.
        let asked = |known: &str| known.len() == form.len() && (form.is_empty() || known == form);
        self.by_form.iter().find(|(known, _)| asked(known)).and_then(|(_, found)| found[way(filled)].as_ref())
    }

    /// The span over all states, where it was measured in states only.
    pub fn in_any_form(&self, filled: Option<Filled>) -> Option<&Weighing> {
        self.in_any_form[way(filled)].as_ref()
    }
}

/// The density that follows from published weights, for a way of filling and a state; nothing where nobody measured it.
fn weighing(measured: &[Measured], filled: Option<Filled>, form: &str) -> Option<Weighing> {
    let in_form = |m: &&Measured| m.form == form;
    let ways = Filled::ALL.iter().filter(|way| measured.iter().filter(in_form).any(|m| m.filled == Some(**way))).count();
    let way = filled.filter(|way| measured.iter().filter(in_form).any(|m| m.filled == Some(*way)));
    let mut counted = measured.iter().filter(in_form).filter(|m| way.is_none() || m.filled == way);
    let best = best(measured.iter().filter(in_form).filter(|m| way.is_none() || m.filled == way))?;
    let mut density = best.density;
    let mut citations = vec![best.citation];
    for other in &mut counted {
        let printed = other.as_printed();
        let agrees = printed.low() <= density.value() && density.value() <= printed.high() && other.density.is_exact();
        if !agrees {
            density = density.hull(other.density);
            if !citations.iter().any(|known| std::ptr::eq(known.source, other.citation.source)) {
                citations.push(other.citation);
            }
        }
    }
    Some(Weighing { density, citations, way_open: way.is_none() && ways >= 2 })
}

/// The figure to quote: where nobody said the way of filling, a weight that says none; then the first source; then the largest measure.
fn best<'m>(measured: impl Iterator<Item = &'m Measured>) -> Option<&'m Measured> {
    let mut chosen: Option<&Measured> = None;
    for candidate in measured {
        let better = match chosen {
            None => true,
            Some(now) => match (now.filled.is_none(), candidate.filled.is_none()) {
                (false, true) => true,
                (true, false) => false,
                _ => std::ptr::eq(now.citation.source, candidate.citation.source) && candidate.volume > now.volume,
            },
        };
        if better {
            chosen = Some(candidate);
        }
    }
    chosen
}
