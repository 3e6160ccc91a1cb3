//! How full pans are: always by volume, since the same grams stand twice as high when whipped. And which tiers are too wide to bake through without help.

use super::several::Pans;
use crate::quantity::{Density, Factor, Faults, Length, Mass, Quantifiable, Share, Span, Unit, Volume};
use crate::reference::{Citation, Reference};

/// Water at 20 C, which specific gravities are measured against.
const WATER: Density = Density::grams_per_millilitre(0.998);

/// A pan as narrow as this is a sheet: no core is put into it.
const LEAST_TIER_DEPTH: Length = Length::centimetres(4.5);

/// How full a pan is taken to be where nothing is said: half to two thirds, the usual fill of cake pans.
pub fn usual_fill() -> Span<Share> {
    Span::new(Share::of_one(0.5), Share::of_one(0.6), Share::of_one(2.0 / 3.0))
}

/// The space that batter of this specific gravity takes.
pub fn batter_volume(mass: Span<Mass>, specific_gravity: Span<Factor>) -> Span<Volume> {
    mass / specific_gravity.map(|gravity| WATER * gravity)
}

/// Whether batter suits its pans.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fit {
    /// It does not even go in raw.
    BeyondTheBrim,
    /// It will rise over the rim.
    Overflows,
    /// It may rise over the rim: it depends on the figures that are spans.
    MayOverflow,
    Fits,
    /// It stands so low that it bakes flat and dry.
    TooShallow,
}

/// Batter in its pans.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Filling {
    /// The share of the capacity.
    pub fill: Span<Share>,
    /// How deep it stands, where the pan has a depth.
    pub depth: Option<Length>,
    pub fit: Fit,
}

/// A printed bound is kept within 2 % of itself.
const LEEWAY: f64 = 1.02;

/// How full the pans are of this much batter, against the usual fill of such goods.
pub fn filling(pans: &Pans, batter: Span<Volume>, usual: Span<Share>) -> Result<Filling, Faults> {
    let capacity = pans.capacity()?;
    let fill = (batter / capacity).map(|fill| Share::of_one(fill.value()));
    Ok(Filling { fill, depth: pans.height_of(batter.value()), fit: fit(fill, usual) })
}

fn fit(fill: Span<Share>, usual: Span<Share>) -> Fit {
    let [low, high] = [fill.low(), fill.high()].map(Quantifiable::raw);
    let (least, most) = (usual.low().raw() / LEEWAY, usual.high().raw() * LEEWAY);
    match () {
        () if low > 1.0 => Fit::BeyondTheBrim,
        () if low > most => Fit::Overflows,
        () if high > most => Fit::MayOverflow,
        () if high < least => Fit::TooShallow,
        () => Fit::Fits,
    }
}

/// A pan so wide that its middle bakes late.
#[derive(Clone, Copy, Debug)]
pub struct WideTier {
    pub width: Length,
    /// The unit in which the pan is sold.
    pub unit: &'static Unit,
    /// From which width a heating core is used.
    pub core_from: Span<Length>,
    pub citation: Citation,
}

/// The widest of the pans that wants a heating core, if one does.
pub fn wide_tier(pans: &Pans, reference: &Reference) -> Option<WideTier> {
    let advice = reference.advices.find("wide-tier", "heating-core")?;
    let core_from = advice.length()?;
    let (width, unit) = pans
        .iter()
        .filter(|pan| !pan.has_core() && pan.depth().is_none_or(|depth| depth >= LEAST_TIER_DEPTH))
        .filter_map(|pan| pan.half_way().map(|half| (half + half, pan.unit)))
        .max_by(|(a, _), (b, _)| a.raw().total_cmp(&b.raw()))?;
    (width >= core_from.low()).then_some(WideTier { width, unit, core_from, citation: advice.citation })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pan::PansWritten;
    use crate::quantity::{Measures, Pointer};
    use crate::reference::Account;

    fn reference() -> &'static Reference {
        Reference::load().unwrap_or_else(|fault| panic!("{fault}"))
    }

    #[track_caller]
    fn pans(phrase: &str) -> Pans {
        let written: PansWritten = serde_json::from_value(phrase.into()).unwrap_or_else(|fault| panic!("{fault}"));
        let mut account = Account::new(reference(), false);
        written.resolve(Measures::Us, reference(), &Pointer::ROOT, &mut account).unwrap_or_else(|faults| panic!("{faults:?}"))
    }

    #[track_caller]
    fn fill_of(grams: f64, gravity: f64, phrase: &str) -> Filling {
        let batter = batter_volume(Span::exact(Mass::grams(grams)), Span::exact(Factor::times(gravity)));
        let usual = Span::new(Share::of_one(0.5), Share::of_one(0.6), Share::of_one(0.67));
        filling(&pans(phrase), batter, usual).unwrap_or_else(|faults| panic!("{faults:?}"))
    }

    #[test]
    fn grams_alone_do_not_tell_whether_a_pan_overflows() {
        let (dense, whipped) = (fill_of(700.0, 0.85, "8 inch round, 2 in deep"), fill_of(700.0, 0.47, "8 inch round, 2 in deep"));
        assert!((dense.fill.value().value() - 0.501).abs() < 0.001, "{dense:?}");
        assert_eq!(dense.fit, Fit::Fits);
        assert!((whipped.fill.value().value() - 0.906).abs() < 0.001, "{whipped:?}");
        assert_eq!(whipped.fit, Fit::Overflows);
        assert_eq!(fill_of(100.0, 0.85, "8 inch round, 2 in deep").fit, Fit::TooShallow);
        assert_eq!(fill_of(3000.0, 0.85, "8 inch round, 2 in deep").fit, Fit::BeyondTheBrim);
    }

    #[test]
    fn half_a_nine_inch_pan_takes_884_g() {
        let capacity = pans("9 inch round, 2 in deep").capacity().unwrap_or_else(|faults| panic!("{faults:?}"));
        let volume = batter_volume(Span::exact(Mass::grams(884.3)), Span::exact(Factor::times(0.85)));
        assert!(((volume.value() / capacity.value()).value() - 0.5).abs() < 0.0005, "{volume:?}");
    }

    #[test]
    fn a_wide_round_wants_a_heating_core_and_a_sheet_does_not() {
        assert!(wide_tier(&pans("12 inch round, 2 in deep"), reference()).is_some());
        for narrow in ["9 inch round", "half sheet", "13x9x2 in", "10 inch tube"] {
            assert!(wide_tier(&pans(narrow), reference()).is_none(), "{narrow}");
        }
    }
}
