//! The answer of `pan-scale`, put together: the factor, what goes into each pan, the parts, the bake.

use serde::Serialize;
use utoipa::ToSchema;

use super::eggs::{WholeEggFactor, whole_egg_factors};
use super::findings::{PanFinding, findings};
use super::parts::{Factors, fill};
use super::{Asked, PanScaleQuestion};
use crate::calculation::Answer;
use crate::formula::{FormulaShown, ScalesWith, tell_fillings, tell_growing_fillings};
use crate::pan::{BakeShown, Filling, PanShown, Scaling, System};
use crate::quantity::{Factor, Faults, Figure, Mass, Pointer, Quantifiable, Quantity, Share, Span, in_words};
use crate::reference::{Account, Owed, Reference};

/// The factor, and all that follows from it.
#[derive(Debug, Serialize, ToSchema)]
pub struct PanScaleAnswer {
    /// By what the formula is multiplied.
    #[schema(minimum = 0.0, maximum = 1e6, examples(1.273240))]
    pub factor: Figure,
    /// The least it may be, where a capacity is not exact.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e6)]
    pub factor_low: Option<Figure>,
    /// The most it may be.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1e6)]
    pub factor_high: Option<Figure>,
    /// By which figures it was reckoned.
    pub reckoned_by: System,
    /// The factors nearest to it that leave whole eggs.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 2)]
    pub whole_egg_factors: Vec<WholeEggFactor>,
    /// The pans it was written for.
    pub from: PanShown,
    /// The pans there are.
    pub to: PanShown,
    /// What to put in each pan, before the oven.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 1000)]
    pub scale_at: Vec<ScalePan>,
    /// By what each part is multiplied.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 50)]
    pub parts: Vec<PartFactor>,
    /// The formula at its new size.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub formula: Option<Box<FormulaShown>>,
    /// How it bakes: an estimate.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub bake: Option<Box<BakeShown>>,
    /// What is wrong with it, if anything.
    #[schema(max_items = 5)]
    pub findings: Vec<PanFinding>,
    #[serde(flatten)]
    pub owed: Owed,
}

/// What to put in one pan.
#[derive(Debug, Serialize, ToSchema)]
pub struct ScalePan {
    /// The part.
    #[schema(max_length = 200)]
    pub part: String,
    /// The pan.
    #[schema(max_length = 400)]
    pub pan: String,
    /// How many such pans.
    #[schema(minimum = 1, maximum = 1_000_000)]
    pub count: u32,
    /// How much in each; in each well of a tray.
    pub each: Quantity,
}

/// By what a part is multiplied.
#[derive(Debug, Serialize, ToSchema)]
pub struct PartFactor {
    /// The part.
    #[schema(max_length = 200)]
    pub part: String,
    /// With what it grows.
    pub scales_with: ScalesWith,
    /// By what it is multiplied.
    #[schema(minimum = 0.0, maximum = 1e9)]
    pub factor: Figure,
}

impl Answer for PanScaleAnswer {
    fn cell(&self) -> String {
        self.factor.rounded().to_string()
    }

    fn owed(&self) -> &Owed {
        &self.owed
    }
}

pub(super) fn assembled(
    question: &PanScaleQuestion,
    asked: &Asked,
    scaling: &Scaling,
    factors: &Factors,
    before: Option<Filling>,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<PanScaleAnswer, Faults> {
    let factor = scaling.factor.value();
    let formula = asked.formula.as_ref();
    let after = formula.and_then(|formula| fill(formula, &asked.to, factors.of(formula.main_root()), account));
    let findings =
        formula.map(|formula| findings(asked, formula, factors, [before.as_ref(), after.as_ref()], reference, account)).unwrap_or_default();
    let eggs = formula.map(|formula| whole_egg_factors(formula, factor, after.as_ref(), reference, account)).unwrap_or_default();
    let bake = super::bake::estimate(question, asked, [before.as_ref(), after.as_ref()], reference, account)?;
    if let Some(formula) = formula {
        let root = Pointer::ROOT;
        tell_fillings(formula, &root.key("formula"), account);
        tell_growing_fillings(formula, &root.key("formula"), account);
    }
    let scale_at = formula.map(|_| scale_at(asked, factors)).unwrap_or_default();
    let share = |filling: &Option<Filling>| filling.as_ref().map(|filling| filling.fill);
    let before_share = share(&before).map(|fill| by_the_same_system(fill, asked, scaling));
    let (from, to) = (asked.from.shown(before_share, account), asked.to.shown(share(&after), account));
    let parts = formula.map(|formula| {
        let part = |(at, part): (usize, &crate::formula::Part)| PartFactor {
            part: part.name.to_string(),
            scales_with: formula.parts[formula.root(at)].scales_with,
            factor: Figure(factors.of(at).raw()),
        };
        formula.parts.iter().enumerate().map(part).collect()
    });
    let main = formula.map_or("", |formula| &*formula.main().part().name);
    let one_alone = asked.to.iter().map(|pan| u64::from(pan.count()) * u64::from(pan.wells().max(1))).sum::<u64>() == 1;
    let put_in = if one_alone { " in it" } else { " in each" };
    let mut summary = summary([&from, &to], scaling.factor, (main, &scale_at, put_in), bake.as_ref());
    match (findings.iter().find_map(|finding| finding.kind.spoken()), &to.fill) {
        (Some(unfit), Some(fill)) => summary.push_str(&format!("; it {unfit}, {:.0} % full", fill.percent.0)),
        (Some(unfit), None) => summary.extend(["; by what it is most like it ", unfit]),
        (None, _) => {}
    }
    let end = |end: Factor| (!scaling.factor.is_exact()).then(|| Figure(end.raw()));
    Ok(PanScaleAnswer {
        factor: Figure(factor.raw()),
        factor_low: end(scaling.factor.low()),
        factor_high: end(scaling.factor.high()),
        reckoned_by: scaling.system,
        whole_egg_factors: eggs,
        from,
        to,
        scale_at,
        parts: parts.unwrap_or_default(),
        formula: formula.map(|formula| Box::new(formula.scaled(|part| factors.of(part)))),
        bake: bake.map(Box::new),
        findings,
        owed: account.settle(summary),
    })
}

/// Where printed capacities were compared, the fill is of the printed one on both sides.
fn by_the_same_system(fill: Span<Share>, asked: &Asked, scaling: &Scaling) -> Span<Share> {
    match (scaling.system, asked.from.published(), asked.from.capacity()) {
        (System::Printed, Some(printed), Ok(capacity)) => {
            let times = (capacity.value() / printed.value()).raw();
            fill.map(|share| Share::of_one(share.raw() * times))
        }
        _ => fill,
    }
}

/// What goes into each pan: shared by capacity where the pans differ. Only what is baked in them.
fn scale_at(asked: &Asked, factors: &Factors) -> Vec<ScalePan> {
    let Some(formula) = &asked.formula else { return Vec::new() };
    let capacities: Vec<f64> = asked.to.iter().map(|pan| pan.capacity().map_or(1.0, |capacity| capacity.value().raw())).collect();
    let whole: f64 = asked.to.iter().zip(&capacities).map(|(pan, capacity)| capacity * f64::from(pan.count())).sum();
    let mut rows = Vec::new();
    for mixture in formula.mixtures() {
        if !crate::formula::is_baked(formula, mixture.root) {
            continue;
        }
        let mass: Mass = mixture.members().map(|part| formula.parts[part].total().mass().value() * factors.of(part)).sum();
        for (pan, capacity) in asked.to.iter().zip(&capacities) {
            let each = mass * Factor::times(capacity / whole / f64::from(pan.wells().max(1)));
            rows.push(ScalePan { part: mixture.part().name.to_string(), pan: pan.text(), count: pan.count(), each: Quantity::from(each) });
        }
    }
    rows
}

fn summary(
    [from, to]: [&PanShown; 2],
    factor: Span<Factor>,
    (main, scale_at, put_in): (&str, &[ScalePan], &str),
    bake: Option<&BakeShown>,
) -> String {
    let mut text = ["From ", &*from.pan, " to ", &*to.pan, ": multiply by ", &*in_words(factor.value().raw())].concat();
    if !factor.is_exact() {
        text.extend([" (", &*in_words(factor.low().raw()), "–", &*in_words(factor.high().raw()), ")"]);
    }
    let each: Vec<_> = scale_at.iter().filter(|row| row.part == main).map(|row| &*row.each.text).collect();
    // Where several parts are listed, this one is not all of it.
    let of_part = if scale_at.len() > each.len() { [" of ", main].concat() } else { String::new() };
    match &*each {
        [] => {}
        [one] => text.extend(["; put ", one, &of_part, put_in]),
        several => text.extend(["; put ", &*several.join(", "), &of_part, " in one of each, in this order"]),
    }
    let times = bake.map(|bake| match &*bake.sizes {
        [] => bake.minutes.iter().map(Quantity::range_text).collect(),
        sizes => sizes.iter().map(|size| size.minutes.range_text()).collect(),
    });
    match (bake.and_then(BakeShown::in_stages), times.filter(|times: &Vec<_>| !times.is_empty())) {
        (Some(stages), Some(sizes)) if sizes.len() > 1 => {
            text.extend(["; the first bakes about ", &*stages, "; in all about ", &*sizes.join(", ")]);
        }
        (Some(stages), _) => text.extend(["; bake about ", &*stages]),
        (None, Some(times)) => text.extend(["; bake about ", &*times.join(", ")]),
        (None, None) => {}
    }
    text
}
