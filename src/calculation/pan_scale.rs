//! I have this pan, the formula was written for that one: by what factor, how much goes in, how does it bake?

mod answer;
mod bake;
mod eggs;
mod findings;
mod parts;
#[cfg(test)]
mod tests;

use serde::Deserialize;
use utoipa::ToSchema;

pub use answer::PanScaleAnswer;

use super::Calculation;
use crate::formula::{Formula, FormulaWritten, caution};
use crate::pan::{BakeWritten, Finish, FinishWritten, Keep, Material, Pans, PansWritten, Scaling, read_altitude, scaling};
use crate::quantity::{Code, Factor, Fault, Faults, Length, Pointer, Quantifiable, Span, Written, upper_first};
use crate::reference::{Account, Goods, Reference};

/// From one pan to another.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PanScaleQuestion {
    /// The pan, or pans, the formula was written for. May be left out where the formula says its own.
    #[schema(nullable = false)]
    pub from: Option<PansWritten>,
    /// The pan, or pans, there are.
    pub to: PansWritten,
    /// What stays the same. Where it is left out the fill; for what lies as thick in any pan, such as shortbread, the depth.
    #[schema(nullable = false)]
    pub keep: Option<Keep>,
    /// How the cake was covered as written; the formula's own finish where it has one.
    #[schema(nullable = false)]
    pub finish_from: Option<FinishWritten>,
    /// How it is to be covered; the same where it is left out, the top alone in the wells of a tray.
    #[schema(nullable = false)]
    pub finish_to: Option<FinishWritten>,
    /// The formula, to be scaled part by part.
    #[schema(nullable = false)]
    pub formula: Option<FormulaWritten>,
    /// How it bakes as written; the formula's own where it has one.
    #[schema(nullable = false)]
    pub bake: Option<BakeWritten>,
    /// The altitude of the kitchen, such as "1600 m" or "5280 ft". Without it: sea level.
    #[schema(nullable = false)]
    pub altitude: Option<Written>,
}

/// The calculation.
pub struct PanScale;

/// The question, understood.
pub(super) struct Asked {
    pub from: Pans,
    pub to: Pans,
    pub finish: Option<[Finish; 2]>,
    pub formula: Option<Formula>,
    pub altitude: Length,
}

impl Calculation for PanScale {
    const NAME: &'static str = "pan-scale";
    const SUMMARY: &'static str = "Another pan: by what factor, how much, how baked?";
    const DESCRIPTION: &'static str = "Takes a formula from the pans it was written for into other pans: the factor by capacity (or by the same depth of batter), what to put in each pan, each part by what it grows with (batter by the pans, icing by the area it covers), the factors that leave whole eggs, whether the batter runs over or stands too shallow, and an estimate of the bake. Use it to change pans; to make more or less in the same pans use batch. Not for dough that is shaped by hand.";
    const FLAT: bool = true;

    type Question = PanScaleQuestion;
    type Answer = PanScaleAnswer;

    fn answer(question: &PanScaleQuestion, reference: &'static Reference, account: &mut Account) -> Result<PanScaleAnswer, Faults> {
        let asked = understood(question, reference, account)?;
        let before = asked.formula.as_ref().and_then(|formula| parts::fill(formula, &asked.from, Factor::ONE, account));
        let scaling = scaling(&asked.from, &asked.to, kept(question, &asked, account), before.map(|filling| filling.fill), account)?;
        in_range(&scaling)?;
        let factors = parts::factors(&asked, &scaling, account)?;
        cautions(&asked, &factors, account);
        answer::assembled(question, &asked, &scaling, &factors, before, reference, account)
    }
}

/// What stays the same: shortbread fills no tin, it is as thick in the next.
fn kept(question: &PanScaleQuestion, asked: &Asked, account: &mut Account) -> Keep {
    let style = asked.formula.as_ref().and_then(|formula| formula.main().style()).filter(|style| style.goods == Goods::Piece);
    let known = || asked.from.iter().chain(asked.to.iter()).all(|pan| pan.top_area().is_some() && pan.base_area().is_some());
    match (question.keep, style) {
        (Some(keep), _) => keep,
        (None, Some(style)) if known() => {
            let text = format!("{} is taken to lie as thick as before, so the factor is that of the areas", upper_first(style.name));
            account.assume(text, &Pointer::ROOT.key("keep"), "depth");
            Keep::Depth
        }
        (None, _) => Keep::Fill,
    }
}

fn understood(question: &PanScaleQuestion, reference: &'static Reference, account: &mut Account) -> Result<Asked, Faults> {
    let root = Pointer::ROOT;
    let mut faults = Faults::new();
    let written = question.formula.as_ref();
    let measures = written.and_then(|formula| formula.measures).unwrap_or_default();
    let formula_at = root.key("formula");
    let formula = written.and_then(|formula| Formula::resolve_without_pans(formula, &formula_at, reference, account, &mut faults));
    // The pan of the formula is asked only where none stands in its place.
    let from = match (&question.from, written.and_then(|formula| formula.pan.as_ref())) {
        (Some(from), _) => from.resolve(measures, reference, &root.key("from"), account),
        (None, Some(own)) => own.resolve(measures, reference, &formula_at.key("pan"), account),
        (None, None) => Err(Fault::new(&root.key("from"), Code::MissingField, "nothing", "the pan that the formula was written for")
            .trying(["9 inch round, 2 inches deep"])
            .into()),
    };
    let to = question.to.resolve(measures, reference, &root.key("to"), account);
    let finish = finish(question, [from.as_ref().ok(), to.as_ref().ok()], account, &mut faults);
    let altitude =
        question.altitude.as_ref().map(|altitude| read_altitude(altitude, &root.key("altitude")).map(|altitude| altitude.height));
    let altitude = altitude.map_or(Some(Length::ZERO), |altitude| faults.keep(altitude));
    let mut kept = |pans: Result<Pans, Faults>| pans.map_err(|more| faults.append(more)).ok();
    let (from, to) = (kept(from), kept(to));
    match (from, to, altitude, faults.is_empty()) {
        (Some(from), Some(to), Some(altitude), true) => Ok(Asked { from, to, finish, formula, altitude }),
        _ => Err(faults),
    }
}

/// How it was covered and how it will be; nothing where no part of the formula covers anything.
fn finish(question: &PanScaleQuestion, pans: [Option<&Pans>; 2], account: &mut Account, faults: &mut Faults) -> Option<[Finish; 2]> {
    let root = Pointer::ROOT;
    let formula_at = root.key("formula");
    let formula = question.formula.as_ref();
    let own = formula.and_then(|formula| formula.finish.as_ref());
    let covers = formula.is_some_and(|formula| formula.parts.iter().any(|part| part.scales_with == crate::formula::ScalesWith::Finish));
    let (from_at, to_at) = (root.key("finish_from"), root.key("finish_to"));
    let (was, was_at) = match (&question.finish_from, own) {
        (Some(was), _) => (was.clone(), from_at),
        (None, Some(own)) => (own.clone(), formula_at.key("finish")),
        (None, None) if !covers => return None,
        (None, None) => {
            let was = pans[0].map_or(FinishWritten::stacked(1), FinishWritten::usual);
            account.assume(format!("How the cake is covered was not said: {}", was.spoken()), &from_at, was.spoken());
            (was, from_at)
        }
    };
    let assumed = question.finish_from.is_none() && own.is_none();
    let (will, will_at) = match (&question.finish_to, pans[1].filter(|to| covers && stands_otherwise(&was, assumed, to))) {
        (Some(will), _) => (will.clone(), to_at),
        (None, Some(to)) => {
            let usual = FinishWritten::usual(to);
            let will = if to.all_wells() { usual } else { FinishWritten { layers: usual.layers, ..was.clone() } };
            account.assume(format!("How the new ones are covered was not said: {}", will.spoken()), &to_at, will.spoken());
            (will, to_at)
        }
        (None, None) => (was.clone(), was_at),
    };
    let (was, will) = (was.resolve(&was_at, account), will.resolve(&will_at, account));
    Some([faults.keep(was)?, faults.keep(will)?])
}

/// Whether other pans are not finished as the old ones were: what is baked in wells has no sides to cover; three layers come of no two pans; and where nobody
/// said how many layers there were, pans that make no stacks of as many are a stack of their own.
fn stands_otherwise(was: &FinishWritten, assumed: bool, to: &Pans) -> bool {
    let (pans, layers) = (to.count().max(1), was.layers.unwrap_or(1).max(1));
    let stacks = pans.is_multiple_of(layers);
    to.all_wells() || !stacks && (assumed || !layers.is_multiple_of(pans))
}

fn in_range(scaling: &Scaling) -> Result<(), Faults> {
    let factor: Span<Factor> = scaling.factor;
    if factor.is_finite() && (1e-6..=1e6).contains(&factor.value().raw()) {
        return Ok(());
    }
    let root = Pointer::ROOT;
    let found = format!("a factor of {}", factor.value().raw());
    Err(Fault::new(&root.key("to"), Code::OutOfRange, found, "pans whose factor is from 0.000001 to 1000000").into())
}

fn cautions(asked: &Asked, factors: &parts::Factors, account: &mut Account) {
    if asked.to.iter().any(|pan| pan.material() == Material::Glass) {
        account.caution("glass-thermal-shock");
    }
    if let Some(formula) = &asked.formula {
        caution(formula, Some(factors.mass(formula)), account);
    }
}
