//! How much longer a batter takes in another pan: by heat's way to the middle, and by what is printed of such pans where the kind of pan changes.

use super::kind::Bakes;
use super::one::Pan;
use crate::quantity::{Factor, Length, Quantifiable, Span};
use crate::reference::{Account, Reference};

/// The kinds of pan of which the trade knows how long they take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum PanKind {
    Layer,
    WideLayer,
    Deep,
    Sheet,
    JellyRoll,
    Loaf,
    MiniLoaf,
    Ring,
    Tube,
    Cupcake,
    MiniMuffin,
}

impl PanKind {
    /// As it stands in the working.
    const fn spoken(self) -> &'static str {
        match self {
            Self::Layer => "a layer",
            Self::WideLayer => "a wide layer",
            Self::Deep => "a deep pan",
            Self::Sheet => "a sheet",
            Self::JellyRoll => "a jelly roll",
            Self::Loaf => "a loaf",
            Self::MiniLoaf => "a small loaf",
            Self::Ring => "a fluted ring",
            Self::Tube => "a tube",
            Self::Cupcake => "cupcakes",
            Self::MiniMuffin => "mini muffins",
        }
    }
}

/// Batter deeper than this bakes as in a three-inch pan; thinner than that, as a jelly roll. Half of 3 in, and the usual fill of 1 in.
const DEEP_FROM: Length = Length::centimetres(3.6);
const THIN_TO: Length = Length::centimetres(1.6);
/// A sheet cake is at least as large as 11 x 7 in.
const SHEET_FROM: f64 = 490.0;
/// A small loaf is shorter than this; a mini muffin narrower.
const SMALL_LOAF: Length = Length::centimetres(16.5);
const SMALL_WELL: Length = Length::centimetres(5.1);
/// From here on across a layer is baked slowly, in a cooler oven: 14 in.
const WIDE_FROM: Length = Length::centimetres(35.0);
/// A pan so much wider takes its own time, whatever heat's way says.
const WIDER: f64 = 1.2;
/// A single round as small as a cupcake bakes as one.
const CUPCAKE_TO: Length = Length::centimetres(10.0);

impl PanKind {
    /// What a pan bakes like, with batter of this depth.
    pub(super) fn of(pan: &Pan, batter: Option<Length>) -> Self {
        let width = pan.half_way().map(|half| half + half);
        let narrow = |than: Length| width.is_some_and(|width| width < than);
        let wide = pan.top_area().is_some_and(|area| area.in_square_centimetres() >= SHEET_FROM);
        match pan.kind.bakes {
            Bakes::Wells if narrow(SMALL_WELL) => Self::MiniMuffin,
            Bakes::Wells => Self::Cupcake,
            Bakes::Loaf if pan.longest().is_some_and(|length| length < SMALL_LOAF) => Self::MiniLoaf,
            Bakes::Loaf => Self::Loaf,
            Bakes::Tube => Self::Tube,
            Bakes::Ring => Self::Ring,
            _ if narrow(SMALL_WELL) => Self::MiniMuffin,
            _ if narrow(CUPCAKE_TO) => Self::Cupcake,
            Bakes::Sheet if batter.is_some_and(|depth| depth <= THIN_TO) => Self::JellyRoll,
            _ if batter.is_some_and(|depth| depth >= DEEP_FROM) => Self::Deep,
            Bakes::Sheet if wide => Self::Sheet,
            _ if width.is_some_and(|width| width >= WIDE_FROM) => Self::WideLayer,
            _ => Self::Layer,
        }
    }

    /// How long it takes, where a layer takes once.
    fn against_layer(self, reference: &'static Reference, account: &mut Account) -> Option<Span<Factor>> {
        let kind = match self {
            Self::Layer => return Some(Span::exact(Factor::ONE)),
            Self::WideLayer => "layer-to-wide",
            Self::Deep => "layer-to-deep",
            Self::Sheet => "layer-to-sheet",
            Self::JellyRoll => "layer-to-jelly-roll",
            Self::Loaf => "layer-to-loaf",
            Self::MiniLoaf => {
                let loaf = Self::Loaf.against_layer(reference, account)?;
                let small = reference.advices.find("bake-kind", "loaf-to-mini-loaf")?;
                account.cite(small.citation);
                return small.ratio().map(|small| small * loaf.value());
            }
            Self::Ring => "layer-to-ring",
            Self::Tube => "layer-to-tube",
            Self::Cupcake => "layer-to-cupcake",
            Self::MiniMuffin => "layer-to-mini-muffin",
        };
        let advice = reference.advices.find("bake-kind", kind)?;
        account.cite(advice.citation);
        advice.ratio()
    }
}

/// A pan and how deep the batter stands in it.
#[derive(Clone, Copy)]
pub(super) struct Baking<'p> {
    pub(super) pan: &'p Pan,
    pub(super) batter: Option<Length>,
}

impl Baking<'_> {
    pub(super) fn kind(&self) -> PanKind {
        PanKind::of(self.pan, self.batter)
    }

    /// What both bake like. A thin batter bakes as a jelly roll beside a layer of usual depth; where both are thin, the time that is known is of a thin one already.
    fn kinds(from: Self, to: Self) -> [PanKind; 2] {
        let thin = |baking: Self| baking.batter.is_some_and(|depth| depth <= THIN_TO);
        match thin(from) && thin(to) {
            true => [from, to].map(|baking| PanKind::of(baking.pan, None)),
            false => [from, to].map(|baking| baking.kind()),
        }
    }

    /// Heat comes through the depth and from the sides at once: 1/L2 is the sum of both.
    pub(super) fn way(&self) -> Option<Length> {
        let (depth, side) = (self.batter?.in_centimetres(), self.pan.half_way()?.in_centimetres());
        Some(Length::centimetres(1.0 / libm::sqrt(1.0 / (depth * depth) + 1.0 / (side * side))))
    }
}

/// How many times as long the second takes; nothing where neither a way nor a practice is known.
pub(super) fn time_ratio(from: Baking<'_>, to: Baking<'_>, reference: &'static Reference, account: &mut Account) -> Option<Span<Factor>> {
    let conducted = by_conduction(from, to, reference, account);
    let [was, will] = Baking::kinds(from, to);
    let practised = if was == will { by_width(from, to, reference, account) } else { by_practice(was, will, reference, account) };
    match (conducted, practised) {
        (Some(conducted), Some(practised)) => {
            let middle = libm::sqrt(conducted.value().raw() * practised.value().raw());
            let value = Span::exact(Factor::times(middle));
            Some(value.hull(conducted).hull(practised))
        }
        (one, other) => one.or(other),
    }
}

fn by_conduction(from: Baking<'_>, to: Baking<'_>, reference: &'static Reference, account: &mut Account) -> Option<Span<Factor>> {
    let (was, will) = (from.way()?, to.way()?);
    let advice = reference.advices.find("depth-exponent", "span")?;
    let exponent = advice.ratio()?;
    let ratio = will / was;
    account.step(|| {
        format!(
            "heat's way (1/L2 = 1/depth2 + 1/half width2): {:.2} cm → {:.2} cm, ratio {:.3} to the power {} to {}",
            was.in_centimetres(),
            will.in_centimetres(),
            ratio.value(),
            exponent.low().value(),
            exponent.high().value(),
        )
    });
    account.cite(advice.citation);
    Some(raised(ratio, exponent))
}

/// A ratio of ways as one of times.
fn raised(ratio: Factor, exponent: Span<Factor>) -> Span<Factor> {
    let ends = [exponent.low(), exponent.value(), exponent.high()].map(|power| Factor::times(libm::pow(ratio.value(), power.value())));
    Span::new(ends[0], ends[1], ends[0]).hull(Span::new(ends[2], ends[1], ends[2]))
}

/// The same kind of pan, much wider or narrower: what is practised of the width, on the side of the change, and heat's way for what the depth changes.
fn by_width(from: Baking<'_>, to: Baking<'_>, reference: &'static Reference, account: &mut Account) -> Option<Span<Factor>> {
    if !matches!(from.kind(), PanKind::Layer | PanKind::Deep) {
        return None;
    }
    let across = (to.pan.half_way()? / from.pan.half_way()?).value();
    let wider = across > WIDER;
    if !wider && across * WIDER >= 1.0 {
        return None;
    }
    let advice = reference.advices.find("bake-kind", "layer-to-layer")?;
    account.cite(advice.citation);
    let practised = advice.ratio()?;
    let end = if wider { practised.high() } else { practised.low() };
    let middle = Factor::times(libm::sqrt(end.value()));
    let as_deep = Baking { batter: from.batter, ..to };
    let deeper = raised(to.way()? / as_deep.way()?, reference.advices.find("depth-exponent", "span")?.ratio()?);
    account.step(|| {
        format!(
            "{across:.2} times as wide: in practice up to {:.2} times as long at the same depth, and {:.2} times for the depth",
            end.value(),
            deeper.value().value()
        )
    });
    Some(Span::exact(middle).hull(Span::exact(Factor::ONE)).hull(Span::exact(end)) * deeper.value())
}

fn by_practice(from: PanKind, to: PanKind, reference: &'static Reference, account: &mut Account) -> Option<Span<Factor>> {
    let was = from.against_layer(reference, account)?.value();
    let will = to.against_layer(reference, account)?;
    account.step(|| {
        format!(
            "practice for another kind of pan ({} to {}): {:.2} to {:.2} times as long",
            from.spoken(),
            to.spoken(),
            (will.low() / was).value(),
            (will.high() / was).value()
        )
    });
    Some(will / was)
}
