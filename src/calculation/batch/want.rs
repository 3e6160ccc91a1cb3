//! How much is wanted, and the factor that follows. Finished and scaled weights are not the same question: what is delivered has passed every loss.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::mixer::Mixer;
use super::order::Order;
use crate::formula::{BatchesAndPans, Formula, How, Known, Lost, Mixture, ScalesWith, Stated, Way};
use crate::quantity::{Code, Factor, Fault, Faults, Mass, Pointer, Written, read_mass};
use crate::reference::{Account, Ingredient, Reference, Stage, short};

/// How much is wanted: exactly one of `pieces`, `pans`, `weight`, `factor`, `have`.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WantWritten {
    /// So many pieces.
    #[schema(nullable = false, minimum = 1, maximum = 1_000_000, examples(48))]
    pub pieces: Option<u64>,
    /// What one piece weighs; only beside `pieces`. Without it what the formula makes as tested is multiplied.
    #[schema(nullable = false)]
    pub each: Option<Written>,
    /// So many pans, filled as the formula was tested.
    #[schema(nullable = false, minimum = 1, maximum = 1_000_000, examples(6))]
    pub pans: Option<u64>,
    /// So much in all.
    #[schema(nullable = false)]
    pub weight: Option<Written>,
    /// So many times the formula.
    #[schema(nullable = false, exclusive_minimum = 0.0, maximum = 1e9, examples(2.5))]
    pub factor: Option<f64>,
    /// As much as this in store allows.
    #[schema(nullable = false)]
    pub have: Option<HaveWritten>,
    /// Whether `each` and `weight` are as delivered, after all losses (the default), or as scaled into pans and pieces.
    #[schema(nullable = false)]
    pub weighed: Option<Weighed>,
}

/// What is in store of one ingredient.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct HaveWritten {
    /// The ingredient, as the formula has it.
    #[schema(max_length = 200, examples("unsalted butter"))]
    pub ingredient: String,
    /// How much of it there is.
    pub amount: Written,
}

/// When a piece is weighed.
///
/// - `delivered`: as it is delivered, after all losses.
/// - `scaled`: as it is scaled into pans and pieces, before the oven.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Weighed {
    Delivered,
    Scaled,
}

/// A want, understood.
#[derive(Clone, Debug)]
pub(in crate::calculation) enum Want {
    Pieces {
        count: u64,
        each: Option<Mass>,
        weighed: Weighed,
    },
    Pans(u64),
    Weight {
        mass: Mass,
        weighed: Weighed,
    },
    Factor(Factor),
    /// So much of an ingredient is in store.
    Have {
        ingredient: Known,
        mass: Mass,
    },
}

pub(super) fn understood(order: &Order<'_>, reference: &'static Reference, account: &mut Account, faults: &mut Faults) -> Option<Want> {
    let (written, measures, at) = (order.want, order.formula.measures.unwrap_or_default(), &order.at.key("want"));
    let given =
        [written.pieces.is_some(), written.pans.is_some(), written.weight.is_some(), written.factor.is_some(), written.have.is_some()];
    let many = given.iter().filter(|given| **given).count();
    if many != 1 {
        let found = if many == 0 { "none of them" } else { "more than one of them" };
        faults.push(Fault::new(at, Code::ExactlyOne, found, "one of pieces, pans, weight, factor, have").trying(["{\"pieces\": 48}"]));
        return None;
    }
    let weighed = written.weighed.unwrap_or(Weighed::Delivered);
    if written.each.is_some() && written.pieces.is_none() {
        faults.push(Fault::new(&at.key("each"), Code::NotTogether, "each without pieces", "each only beside pieces"));
    }
    if written.weighed.is_some() && written.each.is_none() && written.weight.is_none() {
        faults.push(Fault::new(&at.key("weighed"), Code::NotTogether, "weighed without a weight", "weighed only beside each or weight"));
    }
    if let Some(count) = written.pieces {
        let each = written.each.as_ref().map(|each| faults.keep(read_mass(each, measures, &at.key("each"))));
        let count = counted(count, &at.key("pieces"), faults)?;
        return Some(Want::Pieces { count, each: each.map_or(Some(None), |each| each.map(Some))?, weighed });
    }
    if let Some(count) = written.pans {
        return counted(count, &at.key("pans"), faults).map(Want::Pans);
    }
    if let Some(weight) = &written.weight {
        return faults.keep(read_mass(weight, measures, &at.key("weight"))).map(|mass| Want::Weight { mass, weighed });
    }
    if let Some(factor) = written.factor {
        return in_range(Factor::times(factor), &at.key("factor"), faults).map(Want::Factor);
    }
    let (have, at, formula_at) = (written.have.as_ref()?, at.key("have"), order.at.key("formula"));
    let stated = Stated {
        ingredient: &have.ingredient,
        amount: &have.amount,
        at: &at,
        field: "amount",
        formula: order.formula,
        formula_at: &formula_at,
    };
    let (ingredient, mass) = stated.weighed(&order.formula.ingredients, reference, account, faults)?;
    Some(Want::Have { ingredient, mass })
}

fn counted(count: u64, at: &Pointer<'_>, faults: &mut Faults) -> Option<u64> {
    if (1..=1_000_000).contains(&count) {
        return Some(count);
    }
    faults.push(Fault::new(at, Code::OutOfRange, count.to_string(), "from 1 to 1000000"));
    None
}

fn in_range(factor: Factor, at: &Pointer<'_>, faults: &mut Faults) -> Option<Factor> {
    if (1e-6..=1e6).contains(&factor.value()) {
        return Some(factor);
    }
    faults.push(Fault::new(at, Code::OutOfRange, factor.value().to_string(), "a factor from 0.000001 to 1000000"));
    None
}

/// The plan that follows from a want.
#[derive(Clone, Debug)]
pub(in crate::calculation) struct Plan {
    pub factor: Factor,
    pub counts: BatchesAndPans,
    /// For each mixture in order: into how many equal batches it is parted.
    pub batches: Vec<u64>,
    pub pieces: Option<u64>,
    /// Pieces to scale, where some are lost as rejects.
    pub pieces_scaled: Option<Factor>,
    /// Pans as exactly as the factor has it; nothing where the formula names no pan.
    pub pans: Option<Factor>,
}

impl Plan {
    /// By how much a part is multiplied.
    pub(in crate::calculation) fn factor_of(&self, formula: &Formula, part: usize) -> Factor {
        if formula.parts[part].scales_with == ScalesWith::Fixed { Factor::ONE } else { self.factor }
    }

    /// What is delivered in all, after all losses.
    pub(in crate::calculation) fn delivered(&self, way: &Way<'_>) -> Mass {
        way.left(None, self.counts, |_| true).at(self.factor)
    }

    /// What is mixed in all.
    pub(in crate::calculation) fn mixed(&self, formula: &Formula) -> Mass {
        (0..formula.parts.len()).map(|part| formula.parts[part].total().mass().value() * self.factor_of(formula, part)).sum()
    }
}

/// A loss in each pan is nothing without pans: the formula must say in how many it is baked.
fn no_pans_to_lose_in(order: &Order<'_>) -> Result<(), Faults> {
    let losses = order.losses.into_iter().flatten();
    let Some(index) = losses.into_iter().position(|loss| loss.each_pan.is_some()) else { return Ok(()) };
    let list = order.at.key("losses");
    let at = list.index(index);
    let fault =
        Fault::new(&at.key("each_pan"), Code::MissingFigure, "a loss in each pan of a formula without pans", "a formula with its pan");
    Err(fault.saying("Say in the formula what pan it fills and how many, or give the loss by percent or for each batch").into())
}

/// How a plan is found: the factor, then the batches it makes, then the factor again until the losses by the piece agree.
pub(super) fn planned(
    want: &Want,
    order: &Order<'_>,
    formula: &Formula,
    way: &Way<'_>,
    mixer: Option<&Mixer>,
    account: &mut Account,
) -> Result<Plan, Faults> {
    let pans_tested = tested_pans(order, formula, account);
    if pans_tested.is_none() {
        no_pans_to_lose_in(order)?;
    }
    let by_piece = way.losses().iter().any(|lost: &Lost| !matches!(lost.how, How::Share(_)));
    let mut counts = BatchesAndPans { batches: Factor::ONE, pans: Factor::times(pans_tested.map_or(0.0, Factor::value)) };
    let mut plan;
    let mut rounds = 0;
    loop {
        let factor = factor(want, order, formula, way, counts, account)?;
        let batches = batches(formula, factor, mixer, account).map_err(Faults::from)?;
        let pans = pans_tested.map(|pans| pans * factor);
        let next = BatchesAndPans {
            batches: Factor::times(batches.iter().copied().max().unwrap_or(1) as f64),
            pans: Factor::times(pans.map_or(0.0, |pans| pans.rounded_up() as f64)),
        };
        plan = Plan { factor, counts, batches, pieces: None, pieces_scaled: None, pans };
        rounds += 1;
        if !by_piece || next == counts || rounds > 50 {
            plan.counts = if by_piece { counts } else { next };
            break;
        }
        counts = next;
    }
    let refused = |found| Fault::new(&order.at.key("losses"), Code::NothingLeft, found, "losses that leave something to deliver");
    if plan.delivered(way) <= Mass::ZERO {
        return Err(refused("losses that leave nothing").into());
    }
    if by_piece && way.uses_one_up(plan.factor, plan.counts) {
        return Err(refused("losses that leave nothing of a part")
            .saying(
                "More is lost of a part with each batch or pan than there is of it: give that by percent, or name the part that loses it",
            )
            .into());
    }
    plan.pieces = match want {
        Want::Pieces { count, .. } => Some(*count),
        _ => None,
    };
    plan.pieces_scaled = plan.pieces.map(|count| Factor::times(count as f64) / rejects_kept(way));
    Ok(plan)
}

/// The share of pieces that can be sold.
fn rejects_kept(way: &Way<'_>) -> Factor {
    way.losses().iter().filter(|lost| lost.stage == Stage::Rejects).fold(Factor::ONE, |kept, lost| match lost.how {
        How::Share(loss) => kept * loss.kept(),
        _ => kept,
    })
}

/// How many pans the formula was tested in.
fn tested_pans(order: &Order<'_>, formula: &Formula, account: &mut Account) -> Option<Factor> {
    if let Some(count) = formula.pan_count() {
        return Some(count);
    }
    order.want.pans.map(|_| {
        let formula = order.at.key("formula");
        account.assume("The formula as written fills one pan", &formula.key("pan"), "1 pan");
        Factor::ONE
    })
}

fn factor(
    want: &Want,
    order: &Order<'_>,
    formula: &Formula,
    way: &Way<'_>,
    counts: BatchesAndPans,
    account: &mut Account,
) -> Result<Factor, Faults> {
    let at = order.at.key("want");
    let factor = match want {
        Want::Factor(factor) => *factor,
        Want::Pans(pans) => Factor::times(*pans as f64) / tested_pans(order, formula, account).unwrap_or(Factor::ONE),
        Want::Weight { mass, weighed } => weighed_factor(*mass, *weighed, formula, way, counts),
        Want::Pieces { count, each: Some(each), weighed: Weighed::Delivered } => {
            weighed_factor(*each * Factor::times(*count as f64), Weighed::Delivered, formula, way, counts)
        }
        Want::Pieces { count, each: Some(each), weighed: Weighed::Scaled } => {
            let scaled = Factor::times(*count as f64) / rejects_kept(way);
            weighed_factor(*each * scaled, Weighed::Scaled, formula, way, counts)
        }
        Want::Pieces { count, each: None, .. } => Factor::times(*count as f64) / tested_pieces(order)?,
        Want::Have { ingredient, mass } => have_factor(ingredient, *mass, order, formula, account)?,
    };
    let mut faults = Faults::new();
    match in_range(factor, &at, &mut faults) {
        Some(factor) => Ok(factor),
        None => Err(faults),
    }
}

/// The factor that delivers, or scales, this mass.
fn weighed_factor(mass: Mass, weighed: Weighed, formula: &Formula, way: &Way<'_>, counts: BatchesAndPans) -> Factor {
    match weighed {
        Weighed::Delivered => way.left(None, counts, |_| true).factor_for(mass),
        Weighed::Scaled => way.left(Some(formula.main_root()), counts, Stage::before_scaling).factor_for(mass),
    }
}

fn tested_pieces(order: &Order<'_>) -> Result<Factor, Faults> {
    let formula = order.at.key("formula");
    let makes = formula.key("makes");
    match order.formula.makes.as_ref().and_then(|makes| makes.pieces) {
        Some(0) => Err(Fault::new(&makes.key("pieces"), Code::OutOfRange, "0", "from 1 to 1000000 pieces").into()),
        Some(pieces) => Ok(Factor::times(f64::from(pieces))),
        None => Err(Fault::new(&makes.key("pieces"), Code::MissingFigure, "nothing", "how many pieces the formula makes as tested")
            .saying("Say how many pieces the formula makes, or what each wanted piece weighs (want.each)")
            .into()),
    }
}

fn have_factor(ingredient: &Ingredient, mass: Mass, order: &Order<'_>, formula: &Formula, account: &mut Account) -> Result<Factor, Faults> {
    let lines = || formula.lines();
    let needed: Mass = lines().filter(|line| line.ingredient.id == ingredient.id).map(|line| line.weight.mass.value()).sum();
    if needed <= Mass::ZERO {
        let want_at = order.at.key("want");
        let at = want_at.key("have");
        let mut names: Vec<String> = Vec::new();
        for line in lines() {
            let name = line.ingredient.name.to_string();
            if !names.contains(&name) && names.len() < 8 {
                names.push(name);
            }
        }
        let found = order.want.have.as_ref().map_or(&*ingredient.name, |have| &have.ingredient);
        return Err(Fault::new(&at.key("ingredient"), Code::UnknownPart, found, "an ingredient of the formula").trying(names).into());
    }
    account.step(|| {
        format!(
            "{} g in store / {} g in the formula = {}",
            short(mass.in_grams()),
            short(needed.in_grams()),
            short((mass / needed).value())
        )
    });
    Ok(mass / needed)
}

fn batches(formula: &Formula, factor: Factor, mixer: Option<&Mixer>, account: &mut Account) -> Result<Vec<u64>, Fault> {
    let mixed = |mixture: Mixture<'_>| -> Mass { mixture.whole().mass().value() * factor };
    formula.mixtures().map(|mixture| mixer.map_or(Ok(1), |mixer| mixer.batches(mixture, mixed(mixture), account))).collect()
}
