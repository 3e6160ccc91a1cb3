//! Bench rounding: every line goes up or down to a step of the scale or to a real spoon, all lines chosen together, so that the percentages that matter move least and the total is kept. Each line rounded alone pays with the balance.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::super::balance::{Over, ruled};
use super::super::base::NamedBase;
use super::super::counted::Reading;
use super::super::place::LinePlace;
use super::super::resolved::{Line, Mixture};
use super::household::density;
use super::working::{Adapting, Change, Place, grams_text};
use crate::quantity::{Drawer, Factor, Figure, Quantity, Volume, off_percent};
use crate::reference::{Basis, Class, Ingredient};

mod choice;

use choice::{Choice, Picked, Ratio};

/// Amounts as they can be weighed or spooned.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RoundingStep {
    /// The step of the scale, or spoons.
    pub step: ScaleStep,
}

/// To what amounts are rounded.
/// - `5 g`: to 5 g; what is lighter than 50 g to 1 g, and below 10 g to 0.1 g, which a finer scale or a spoon must measure.
/// - `1 g`: to 1 g; what is lighter than 10 g to 0.1 g.
/// - `0.1 g`: to a tenth of a gram.
/// - `spoons`: to real cups and spoons of the formula's measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, ToSchema)]
pub enum ScaleStep {
    #[serde(rename = "5 g")]
    FiveGrams,
    #[serde(rename = "1 g")]
    Gram,
    #[serde(rename = "0.1 g")]
    TenthOfAGram,
    #[serde(rename = "spoons")]
    Spoons,
}

/// What a rounding costs.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct RoundingShown {
    /// What moved most.
    #[schema(max_length = 200, examples("leavening"))]
    pub worst: String,
    /// How far it moved, in hundredths of itself.
    #[schema(value_type = f64, minimum = -100.0, maximum = 100_000.0, examples(-2.1))]
    pub worst_percent: Figure,
    /// How far the same would have moved at worst with each line rounded alone, in hundredths of itself.
    #[schema(value_type = f64, minimum = -100.0, maximum = 100_000.0, examples(4.2))]
    pub alone_percent: Figure,
    /// The whole weight before.
    pub weight_before: Quantity,
    /// The whole weight after.
    pub weight_after: Quantity,
}

/// A scale's steps in grams, the coarsest first.
const STEPS: [f64; 3] = [5.0, 1.0, 0.1];
/// A line lighter than so many steps is weighed by the next finer step: half a step of it is never more than a twentieth.
const FEWEST_STEPS: f64 = 10.0;

/// How the two roundings of a line are written.
enum Ends {
    /// There is but one: it stays as it is written.
    Stays,
    Grams,
    Spoons([String; 2]),
}

/// Where a line may go: its two roundings, with how each is written.
struct Candidate {
    part: usize,
    at: usize,
    grams: f64,
    to: [f64; 2],
    ends: Ends,
}

impl Adapting<'_> {
    pub fn rounding(&mut self, wanted: &RoundingStep) {
        let Some(formula) = self.formula() else { return };
        let mut worst: Option<(String, Picked)> = None;
        let (mut before, mut after, mut finer) = (0.0, 0.0, false);
        for mixture in formula.mixtures() {
            let candidates = self.candidates(&mixture, wanted.step, &mut finer);
            let (ratios, names) = self.ratios(&mixture);
            let room = self.room(&candidates, wanted.step);
            let choice = Choice { candidates: candidates.iter().map(|c| (c.grams, c.to)).collect(), ratios, room };
            let picked = if wanted.step == ScaleStep::Spoons { choice.pick_before_the_total() } else { choice.pick() };
            for (candidate, up) in candidates.iter().zip(&picked.up) {
                let end = usize::from(*up);
                before += candidate.grams;
                after += candidate.to[end];
                self.round_line(candidate, end);
            }
            if worst.as_ref().is_none_or(|(_, known)| known.worst.abs() < picked.worst.abs()) {
                worst = Some((names.get(picked.at).cloned().unwrap_or_default(), picked));
            }
        }
        self.told_rounding(worst, [before, after], finer);
    }

    fn told_rounding(&mut self, worst: Option<(String, Picked)>, [before, after]: [f64; 2], finer: bool) {
        let Some((name, picked)) = worst else { return };
        let [weight_before, weight_after] = [before, after].map(|grams| Quantity::from(crate::quantity::Mass::grams(grams)));
        let why = format!(
            "All lines rounded together: the total goes from {} to {}, and what moves most is {name}, by {:.1} %; each line alone would have moved the worst by {:.1} %",
            grams_text(before),
            grams_text(after),
            picked.worst * 100.0,
            picked.alone * 100.0
        );
        self.tell(Change { off: Some(off_percent(after, before)), ..Change::new(Place::Field("/parts"), why) });
        if finer {
            let root = crate::quantity::Pointer::ROOT;
            let text = "The lightest lines are rounded finer than the step: weigh them on a finer scale, or spoon them";
            let steps = root.key("steps");
            self.account.assume(text, &steps.index(self.step), "a finer scale");
        }
        self.rounded = Some(RoundingShown {
            worst: name,
            worst_percent: Figure(picked.worst * 100.0),
            alone_percent: Figure(picked.alone * 100.0),
            weight_before,
            weight_after,
        });
    }

    fn candidates(&self, mixture: &Mixture<'_>, step: ScaleStep, finer: &mut bool) -> Vec<Candidate> {
        let drawer = Drawer::of(self.written.measures.unwrap_or_default());
        let of = |(LinePlace { part, line: at }, line): (LinePlace, &Line)| {
            let grams = line.weight.mass.value().in_grams();
            let stays = || Candidate { part, at, grams, to: [grams; 2], ends: Ends::Stays };
            // Eggs and fruit stay counted where no scale is used.
            if line.is_counted() && step == ScaleStep::Spoons {
                return stays();
            }
            match step {
                ScaleStep::Spoons => {
                    let own = line.amount.volume().filter(|_| self.line(part, at).also.is_none());
                    spooned((part, at), line, own, drawer).unwrap_or_else(stays)
                }
                _ => weighed(part, at, grams, step, finer),
            }
        };
        mixture.placed().map(of).collect()
    }

    /// How far the total may be off: half a step, or half a percent where spoons cannot do better.
    fn room(&self, candidates: &[Candidate], step: ScaleStep) -> f64 {
        let coarsest = candidates.iter().map(|c| c.to[1] - c.to[0]).fold(0.0, f64::max);
        match step {
            ScaleStep::Spoons => candidates.iter().map(|c| c.grams).sum::<f64>() * 0.005,
            _ => coarsest / 2.0 + 1e-9,
        }
    }

    fn round_line(&mut self, candidate: &Candidate, end: usize) {
        let (text, is_spooned) = match &candidate.ends {
            Ends::Stays => return,
            Ends::Grams => (grams_text(candidate.to[end]), false),
            Ends::Spoons(texts) => (texts[end].clone(), true),
        };
        let (part, at) = (candidate.part, candidate.at);
        let (place, before) = (self.place(part, at), self.said_as_written(part, at));
        if self.line(part, at).amount.as_text() == text.as_str() && self.line(part, at).also.is_none() {
            return;
        }
        self.set(part, at, text.clone(), None);
        let off = off_percent(candidate.to[end], candidate.grams);
        let said = grams_text(candidate.grams);
        // What was weighed and is now spooned is another amount, though it may weigh the same.
        let spooned = if is_spooned { format!(" to {text}") } else { String::new() };
        let why = match candidate.to[end].total_cmp(&candidate.grams) {
            _ if off.abs() < 0.005 && spooned.is_empty() => format!("{said} needs no rounding"),
            _ if off.abs() < 0.005 => format!("{said} is {text}"),
            std::cmp::Ordering::Less => format!("{said} rounded down{spooned}"),
            _ => format!("{said} rounded up{spooned}"),
        };
        let change = Change::new(place, why).from(before).to(self.said(part, at));
        self.tell(Change { off: Some(off), ..change });
    }

    /// The percentages that matter: the rules of the style, and every class over the base.
    fn ratios(&self, mixture: &Mixture<'_>) -> (Vec<Ratio>, Vec<String>) {
        let (mut ratios, mut names) = (Vec::new(), Vec::new());
        let ruled = mixture.style().map(|style| ruled(self.reference, style));
        let summed = mixture.summed();
        let base = ruled.and_then(|ruled| ruled.base(&summed)).or_else(|| NamedBase::natural(&summed));
        let shares = |of: &dyn Fn(&Ingredient) -> f64| -> Vec<f64> { mixture.lines().map(|line| of(&line.ingredient)).collect() };
        let below = base.as_ref().map(|base| (shares(&|i| base.share_of(i).value()), base.spoken()));
        let mut add = |above: Vec<f64>, below: &[f64], name: String| {
            let some = |shares: &[f64]| shares.iter().any(|share| *share > 0.0);
            if some(&above) && some(below) && above != below {
                ratios.push(Ratio { above, below: below.to_vec() });
                names.push(name);
            }
        };
        if let Some((below, base_name)) = &below {
            for class in Class::ALL {
                add(shares(&|i| i.counts_as(class).value()), below, format!("{} to {base_name}", class.word()));
            }
        }
        if let (Some(ruled), Some(base)) = (ruled, &base) {
            for entry in &ruled.entries {
                let basis = if entry.bound.basis == Basis::Both { Basis::Whole } else { entry.bound.basis };
                let reading = Reading { basis, base: base.base(), made_up: summed.made_up() };
                let above = shares(&|i| entry.rule.counts.share(i, reading).value());
                match (entry.rule.over, &below) {
                    (Over::Base, Some((below, _))) => add(above, below, entry.rule.id.to_owned()),
                    (Over::This(_, counts), _) => add(above, &shares(&|i| counts.share(i, reading).value()), entry.rule.id.to_owned()),
                    _ => {}
                }
            }
        }
        (ratios, names)
    }
}

/// The two steps of a scale around a weight.
fn weighed(part: usize, at: usize, grams: f64, step: ScaleStep, finer: &mut bool) -> Candidate {
    let first = match step {
        ScaleStep::FiveGrams => 0,
        ScaleStep::Gram => 1,
        _ => 2,
    };
    let fits = |size: &&f64| grams >= **size * FEWEST_STEPS;
    let size = STEPS[first..].iter().find(fits).copied().unwrap_or(STEPS[2]);
    *finer |= size < STEPS[first];
    let steps = grams / size;
    // A weight that stands on a step already, but for the noise of arithmetic, has nowhere to go.
    let near = steps.round();
    let ends = if (steps - near).abs() < 1e-6 { [near, near] } else { [steps.floor(), steps.ceil()] };
    let to = ends.map(|steps| (steps.max(1.0) * size * 10.0).round() / 10.0);
    Candidate { part, at, grams, to, ends: Ends::Grams }
}

/// The two real measures around a line: around its volume where that is all it has, else around what its weight takes up. Nothing where it is not measured so.
fn spooned((part, at): (usize, usize), line: &Line, own: Option<Volume>, drawer: &Drawer) -> Option<Candidate> {
    let mass = line.weight.mass.value();
    let own = own.unwrap_or(mass / density(line)?);
    if own < drawer.least() * Factor::times(0.5) || !drawer.serves(own) {
        return None;
    }
    let ends = drawer.bounds(own);
    let to = [0, 1].map(|end: usize| (mass * (ends[end].volume() / own)).in_grams());
    Some(Candidate { part, at, grams: mass.in_grams(), to, ends: Ends::Spoons(ends.map(|end| end.to_string())) })
}
