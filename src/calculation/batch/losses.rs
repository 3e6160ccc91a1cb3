//! The losses of a question: by percent, by grams a batch or a pan, by before and after; or those the tables assume, each told.

use serde::Deserialize;
use utoipa::ToSchema;

use super::order::Order;
use crate::calculation::percent::{LEAST_LOSS, tell_share};
use crate::formula::{Formula, How, Lost, assumed, is_browned_on_a_crust, none_is_baked, tell_fillings, why_no_losses};
use crate::quantity::{Code, Fault, Faults, Loss, Mass, Measures, Percent, Pointer, Quantity, Written, plain, read_mass};
use crate::reference::{Account, Reference, Stage};

/// One loss: exactly one of `percent`, `each_batch`, `each_pan`, or `before` with `after`.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LossWritten {
    /// Where it is lost.
    pub stage: Stage,
    /// The part that loses it. Without it: what is baked for baking, cooling and trimming, or everything where nothing is; everything for the rest.
    #[schema(nullable = false, max_length = 200, examples("batter"))]
    pub part: Option<String>,
    /// The percentage of the mass entering.
    #[schema(nullable = false, minimum = 0.0, exclusive_maximum = 100.0, examples(11.0))]
    pub percent: Option<f64>,
    /// The mass lost from each batch.
    #[schema(nullable = false)]
    pub each_batch: Option<Written>,
    /// The mass lost from each pan.
    #[schema(nullable = false)]
    pub each_pan: Option<Written>,
    /// The mass of a sample before, to tell the loss by weighing.
    #[schema(nullable = false)]
    pub before: Option<Written>,
    /// The mass of the same sample after.
    #[schema(nullable = false)]
    pub after: Option<Written>,
}

/// The most losses that a question may name.
const MOST_LOSSES: usize = 50;

/// The losses that count.
pub(super) fn understood(
    order: &Order<'_>,
    formula: Option<&Formula>,
    measures: Measures,
    reference: &'static Reference,
    account: &mut Account,
    faults: &mut Faults,
) -> Option<Vec<Lost>> {
    let list = order.at.key("losses");
    if let Some(formula) = formula {
        tell_fillings(formula, &order.at.key("formula"), account);
    }
    let Some(written) = order.losses else { return formula.map(|formula| from_tables(formula, &list, reference, account)) };
    if written.len() > MOST_LOSSES {
        faults.push(Fault::new(&list, Code::TooMany, format!("{} losses", written.len()), format!("at most {MOST_LOSSES} losses")));
        return None;
    }
    let mut losses = Vec::with_capacity(written.len());
    for (index, loss) in written.iter().enumerate() {
        let at = list.index(index);
        let how = how(loss, measures, &at, faults);
        if let Some(percent) = loss.percent.map(Percent::of_hundred).filter(|percent| *percent < LEAST_LOSS) {
            tell_share(percent, LEAST_LOSS, &format!("In {}", loss.stage.word()), " is lost", &at.key("percent"), account);
        }
        let mixture = loss.part.as_deref().map(|name| mixture(name, order, formula, &at.key("part"), faults));
        if let Some(formula) = formula
            && loss.part.is_none()
            && loss.stage.baked_only()
            && none_is_baked(formula)
        {
            account.assume("No part is baked, so everything loses it", &at.key("part"), "all");
        }
        if let Some(how) = how {
            losses.push(Lost { stage: loss.stage, mixture: mixture.flatten(), how });
        }
    }
    Some(losses)
}

fn mixture(name: &str, order: &Order<'_>, formula: Option<&Formula>, at: &Pointer<'_>, faults: &mut Faults) -> Option<usize> {
    let wanted = plain(name);
    let found = order.formula.parts.iter().position(|part| plain(&part.name) == wanted);
    match found {
        Some(part) => formula.map(|formula| formula.root(part)),
        None => {
            let names = order.formula.parts.iter().map(|part| part.name.clone()).take(5);
            faults.push(Fault::new(at, Code::UnknownPart, name, "the name of a part of the formula").trying(names));
            None
        }
    }
}

fn how(loss: &LossWritten, measures: Measures, at: &Pointer<'_>, faults: &mut Faults) -> Option<How> {
    let weighed = loss.before.is_some() || loss.after.is_some();
    let given = usize::from(loss.percent.is_some())
        + usize::from(loss.each_batch.is_some())
        + usize::from(loss.each_pan.is_some())
        + usize::from(weighed);
    if given != 1 {
        let found = if given == 0 { "none of them" } else { "more than one of them" };
        faults.push(Fault::new(at, Code::ExactlyOne, found, "one of percent, each_batch, each_pan, or before with after"));
        return None;
    }
    if let Some(percent) = loss.percent {
        return share(percent, &at.key("percent"), faults).map(How::Share);
    }
    if let Some(mass) = &loss.each_batch {
        return faults.keep(read_mass(mass, measures, &at.key("each_batch"))).map(How::EachBatch);
    }
    if let Some(mass) = &loss.each_pan {
        return faults.keep(read_mass(mass, measures, &at.key("each_pan"))).map(How::EachPan);
    }
    by_weighing(loss, measures, at, faults)
}

fn share(percent: f64, at: &Pointer<'_>, faults: &mut Faults) -> Option<Loss> {
    let loss = Loss::percent(percent);
    if loss.is_none() {
        let code = if percent >= 100.0 { Code::NothingLeft } else { Code::OutOfRange };
        faults.push(Fault::new(at, code, format!("{percent} %"), "from 0 % to below 100 %"));
    }
    loss
}

fn by_weighing(loss: &LossWritten, measures: Measures, at: &Pointer<'_>, faults: &mut Faults) -> Option<How> {
    let mut side = |written: &Option<Written>, field: &str| match written {
        Some(written) => faults.keep(read_mass(written, measures, &at.key(field))),
        None => {
            faults.push(Fault::new(&at.key(field), Code::MissingField, "no mass", "the masses before and after"));
            None
        }
    };
    let (before, after) = (side(&loss.before, "before"), side(&loss.after, "after"));
    let (before, after) = (before?, after?);
    if after > before {
        let grams = |mass: Mass| Quantity::from(mass).text;
        faults.push(
            Fault::new(
                &at.key("after"),
                Code::OutOfRange,
                format!("{}, more than before", grams(after)),
                format!("at most {}", grams(before)),
            )
            .saying("Nothing grows heavier on the way: are the two the other way round?"),
        );
        return None;
    }
    let percent = ((before - after) / before).value() * 100.0;
    share(percent, at, faults).map(How::Share)
}

/// What the tables assume for each mixture, told one by one.
fn from_tables(formula: &Formula, at: &Pointer<'_>, reference: &'static Reference, account: &mut Account) -> Vec<Lost> {
    let (mut losses, mut unknown) = (Vec::new(), Vec::new());
    for mixture in formula.mixtures() {
        let usual = assumed(formula, mixture.root, reference);
        if is_browned_on_a_crust(formula, mixture.root) {
            let name = &mixture.part().name;
            account.assume(format!("No loss of {name} in the oven is counted: on a pie it is browned and not dried"), at, "none");
        }
        if usual.is_empty() && mixture.style().is_none() {
            unknown.push((&mixture.part().name, why_no_losses(formula, mixture.root)));
        }
        for found in usual {
            let Some(loss) = Loss::percent(found.percent.figure.value().value()) else { continue };
            account.cite(found.percent.citation);
            account.assume(found.told_of(&mixture.part().name), at, found.told_percent.as_str());
            let whole_product = matches!(found.stage, Stage::Slicing | Stage::Rejects);
            losses.push(Lost { stage: found.stage, mixture: (!whole_product).then_some(mixture.root), how: How::Share(loss) });
        }
    }
    if losses.is_empty() {
        account.assume("No losses are counted: the formula names no style", at, "none");
    } else {
        // An icing that loses a little says nothing of the cake that loses a tenth.
        unknown.iter().for_each(|(name, why)| account.assume(format!("No losses are counted of {name}: {why}"), at, "none"));
    }
    losses
}
