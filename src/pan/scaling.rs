//! By what factor a formula goes from some pans into others. Printed capacities run below geometry, so one factor keeps to one of the two, or says that it could not.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::fill::usual_fill;
use super::kind::Held;
use super::one::{DepthFrom, Pan};
use super::several::Pans;
use crate::quantity::{Factor, Fault, Faults, Length, Quantifiable, Quantity, Share, Span, Volume};
use crate::reference::{Account, Dimension};

/// What stays the same when the pan changes.
/// - `fill`: the share of the capacity that is filled.
/// - `depth`: the depth of the batter.
/// - `amount`: the amount, so that the factor is 1: will what there is fit?
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Keep {
    #[default]
    Fill,
    Depth,
    Amount,
}

/// By which figures a factor was reckoned.
/// - `geometry`: inside dimensions, or water to the brim.
/// - `equal-depth`: areas alone, the depths being taken as equal.
/// - `printed`: printed capacities on both sides.
/// - `mixed`: printed on one side and geometry on the other, as a span that holds both.
/// - `batter-depth`: the same depth of batter in both.
/// - `amount`: nothing is scaled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum System {
    Geometry,
    EqualDepth,
    Printed,
    Mixed,
    BatterDepth,
    Amount,
}

/// A factor, and how it was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scaling {
    pub factor: Span<Factor>,
    pub system: System,
}

/// Printed capacities of straight pans are 0.77 to 1.02 of their geometry, 0.91 for the most: the printed and computed columns of the pan table, outliers left out.
const PRINTED_OF_GEOMETRY: [f64; 3] = [0.77, 0.91, 1.02];

/// The factor from some pans to others. `fill` is how full the first are, where it matters (tapered pans at the same depth of batter).
pub fn scaling(from: &Pans, to: &Pans, keep: Keep, fill: Option<Span<Share>>, account: &mut Account) -> Result<Scaling, Faults> {
    let scaling = match keep {
        Keep::Amount => Scaling { factor: Span::exact(Factor::ONE), system: System::Amount },
        _ if same(from, to) => Scaling { factor: Span::exact(Factor::ONE), system: System::Geometry },
        Keep::Fill => by_fill(from, to, account)?,
        Keep::Depth => by_depth(from, to, fill, account)?,
    };
    Ok(scaling)
}

fn same(from: &Pans, to: &Pans) -> bool {
    from.all.len() == to.all.len()
        && from.iter().zip(to.iter()).all(|(a, b)| a.kind.word == b.kind.word && a.sizes == b.sizes && a.count == b.count)
}

fn by_fill(from: &Pans, to: &Pans, account: &mut Account) -> Result<Scaling, Faults> {
    let open = |pan: &&Pan| pan.depth().is_none() && pan.held().is_none();
    let both = || from.iter().chain(to.iter());
    if both().all(|pan| open(&pan) && pan.kind.word != "fluted-ring") {
        return by_equal_depth(from, to, account);
    }
    let faults = both().filter(open).filter_map(|pan| pan.capacity().err());
    let faults = faults.fold(Faults::new(), collected);
    faults.or(())?;
    if let (Some(before), Some(after)) = (total(from, computed), total(to, computed)) {
        let factor = after / before;
        tell_depths(from.first(), to.first(), account);
        account
            .step(|| format!("capacity to / capacity from = {:.1} ml / {:.1} ml = {:.4}", ml(after), ml(before), factor.value().value()));
        return Ok(Scaling { factor, system: System::Geometry });
    }
    if let (Some(before), Some(after)) = (total(from, printed), total(to, printed)) {
        return Ok(by_print(from, to, before, after, account));
    }
    bridged(from, to, account)
}

/// Two depths that nobody said, of two tables, would else pass for a difference between the pans.
fn tell_depths(from: &Pan, to: &Pan, account: &mut Account) {
    let (Some((was, DepthFrom::Trade)), Some((will, DepthFrom::Trade))) = (from.depth, to.depth) else { return };
    let times = (will / was).value();
    if from.kind.word == to.kind.word && (times - 1.0).abs() > 0.05 {
        let text = format!(
            "Neither depth was said: {} and {} are taken, and these depths alone make a factor of {times:.2}. Say both, as in \"8 inch square, 2 inches deep\"",
            from.described(),
            to.described()
        );
        tell(account, to, Some(Dimension::Depth), text, "the depths of the trade sizes");
    }
}

fn collected(mut faults: Faults, fault: Fault) -> Faults {
    faults.push(fault);
    faults
}

fn ml(volume: Span<Volume>) -> f64 {
    volume.value().in_millilitres()
}

fn by_equal_depth(from: &Pans, to: &Pans, account: &mut Account) -> Result<Scaling, Faults> {
    let area = |pans: &Pans| pans.iter().try_fold(0.0, |sum, pan| Some(sum + (pan.mean_area()? * pan.times()).in_square_centimetres()));
    let (Some(before), Some(after)) = (area(from), area(to)) else {
        return Err(from.depths_needed().chain(to.depths_needed()).fold(Faults::new(), collected));
    };
    let factor = Factor::times(after / before);
    account.step(|| format!("equal depths cancel: {after:.1} cm2 / {before:.1} cm2 = {:.4}", factor.value()));
    tell(account, to.first(), Some(Dimension::Depth), "No depths were given: both are taken to be equally deep", "the same depth");
    Ok(Scaling { factor: Span::exact(factor), system: System::EqualDepth })
}

/// What it holds by its own measures: geometry, or water to the brim.
fn computed(pan: &Pan) -> Option<Span<Volume>> {
    match pan.held() {
        Some(Held::Water(volume)) => Some(volume),
        Some(_) => None,
        None => pan.by_geometry().map(Span::exact),
    }
}

/// What is printed of it, or the share of a cylinder that printed capacities are.
fn printed(pan: &Pan) -> Option<Span<Volume>> {
    pan.published().map(|cited| cited.figure).or(match pan.held() {
        Some(Held::Printed(volume) | Held::Estimated(volume)) => Some(volume),
        _ => None,
    })
}

fn total(pans: &Pans, one: impl Fn(&Pan) -> Option<Span<Volume>>) -> Option<Span<Volume>> {
    pans.iter().try_fold(Span::exact(Volume::ZERO), |sum, pan| Some(sum + one(pan)? * pan.times()))
}

fn tell(
    account: &mut Account,
    pan: &Pan,
    dimension: Option<Dimension>,
    text: impl Into<Cow<'static, str>>,
    value: impl Into<Cow<'static, str>>,
) {
    account.assume_at(text, pan.place_of(dimension), value);
}

fn cite(pans: &Pans, account: &mut Account) {
    pans.iter().filter_map(Pan::published).for_each(|cited| account.cite(cited.citation));
}

fn by_print(from: &Pans, to: &Pans, before: Span<Volume>, after: Span<Volume>, account: &mut Account) -> Scaling {
    let factor = after / before;
    let [was, will] = [before, after].map(|volume| Quantity::from(volume).text);
    let is_print = |pan: &Pan| pan.published().is_some() || matches!(pan.held(), Some(Held::Printed(_)));
    let (text, value) = match from.iter().chain(to.iter()).all(is_print) {
        true => (
            format!(
                "Folds cannot be reckoned, so both capacities are as printed: {was} and {will}. Printed figures run below geometry; the two are not mixed"
            ),
            "printed capacities",
        ),
        false => (
            format!(
                "Folds cannot be reckoned, so the capacities are {was} and {will}: as printed, or where none is printed the share of a cylinder that such rings hold. Fill both with water for a sharp factor"
            ),
            "share of a cylinder",
        ),
    };
    tell(account, odd_one(from, to), None, text, value);
    account.step(|| format!("printed to / printed from = {will} / {was} = {:.4}", factor.value().value()));
    cite(from, account);
    cite(to, account);
    Scaling { factor, system: System::Printed }
}

/// The pan because of which geometry does not serve.
fn odd_one<'p>(from: &'p Pans, to: &'p Pans) -> &'p Pan {
    to.iter().chain(from.iter()).find(|pan| computed(pan).is_none()).unwrap_or_else(|| to.first())
}

fn bridged(from: &Pans, to: &Pans, account: &mut Account) -> Result<Scaling, Faults> {
    let as_printed = |pan: &Pan| {
        printed(pan).or_else(|| {
            let geometry = computed(pan)?;
            let [low, usual, high] = PRINTED_OF_GEOMETRY.map(Factor::times);
            Some(geometry * Span::new(low, usual, high))
        })
    };
    let (Some(before), Some(after)) = (total(from, as_printed), total(to, as_printed)) else {
        return Err(from.iter().chain(to.iter()).filter_map(|pan| pan.capacity().err()).fold(Faults::new(), collected));
    };
    let factor = after / before;
    tell(
        account,
        odd_one(from, to),
        None,
        "One capacity is as printed and the other by geometry. Printed figures are 0.77 to 1.02 of geometry, mostly 0.91: the factor is a span that holds both; fill both with water for a sharp one",
        "0.91",
    );
    cite(from, account);
    cite(to, account);
    account.step(|| format!("as printed, {:.0} ml / {:.0} ml = {:.4}", ml(after), ml(before), factor.value().value()));
    Ok(Scaling { factor, system: System::Mixed })
}

fn by_depth(from: &Pans, to: &Pans, fill: Option<Span<Share>>, account: &mut Account) -> Result<Scaling, Faults> {
    if let (Some(before), Some(after)) = (upright(from), upright(to)) {
        let factor = Factor::times(after / before);
        account.step(|| format!("upright walls: {after:.1} cm2 / {before:.1} cm2 = {:.4}", factor.value()));
        return Ok(Scaling { factor: Span::exact(factor), system: System::BatterDepth });
    }
    from.depths_needed().chain(to.depths_needed()).fold(Faults::new(), collected).or(())?;
    let capacity = from.capacity()?.value();
    let fill = fill.unwrap_or_else(|| {
        tell(account, from.first(), None, "How full the pan was is not said: half to two thirds is taken", "60 %");
        usual_fill()
    });
    let factor_at = |share: Share| {
        let height = from.height_of(capacity * share.as_factor())?;
        Some(to.volume_to(height)? / from.volume_to(height)?)
    };
    let ends = [fill.low(), fill.value(), fill.high()].map(factor_at);
    let [Some(low), Some(value), Some(high)] = ends else {
        return Err(from
            .iter()
            .chain(to.iter())
            .map(|pan| pan.needs(Dimension::Depth, "a shape by its dimensions"))
            .fold(Faults::new(), collected));
    };
    account.step(|| format!("volumes to the same height of batter: factor {:.4}", value.value()));
    let factor = Span::new(low, value, low).hull(Span::new(high, value, high));
    Ok(Scaling { factor, system: System::BatterDepth })
}

/// The area of pans whose walls stand upright: any depth of batter is the same share of it.
fn upright(pans: &Pans) -> Option<f64> {
    pans.iter().try_fold(0.0, |sum, pan| {
        let (top, base) = (pan.top_area()?, pan.base_area()?);
        let straight = pan.shape.own_depth().is_none() && (top / base).raw() == 1.0;
        straight.then(|| sum + (top * pan.times()).in_square_centimetres())
    })
}

impl Pans {
    /// How high this much stands in all of them, filled to one level.
    pub fn height_of(&self, volume: Volume) -> Option<Length> {
        if let [only] = self.all.as_slice() {
            return only.height_of(volume / only.times());
        }
        let deepest = self.iter().filter_map(Pan::depth).fold(Length::ZERO, |most, depth| if depth > most { depth } else { most });
        let brim = self.volume_to(deepest)?;
        Some(super::geometry::height_of(volume, deepest, |height| self.volume_to(height).unwrap_or(brim)))
    }
}

#[cfg(test)]
mod tests;
