//! Where mass goes on its way from the scale to the customer: a chain of stages that closes, each out the next in. A percent is of the mass that enters; a baking loss touches only what is baked.

use serde::Serialize;
use utoipa::ToSchema;

use super::resolved::{Formula, Mixture};
use super::unstyled::{Unstyled, unstyled};
use super::written::ScalesWith;
use crate::quantity::{Factor, Loss, Mass, Quantity, Span, grams_text};
use crate::reference::{Goods, Reference, Stage, StageLoss, Style};

/// One loss on the way.
#[derive(Clone, Copy, Debug)]
pub struct Lost {
    pub stage: Stage,
    /// The mixture it touches, by its root part; where none is named all, or what is baked where the stage is for that alone.
    pub mixture: Option<usize>,
    pub how: How,
}

/// How much is lost.
#[derive(Clone, Copy, Debug)]
pub enum How {
    /// A share of what enters.
    Share(Loss),
    /// The same mass from each batch.
    EachBatch(Mass),
    /// The same mass from each pan.
    EachPan(Mass),
}

/// One row of the ledger.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct LedgerRow {
    /// The stage.
    pub stage: Stage,
    /// The part that it touches, where it is not everything.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 200)]
    pub part: Option<String>,
    /// The mass that enters.
    #[serde(rename = "in")]
    pub enters: Quantity,
    /// The mass that does not leave.
    pub lost: Quantity,
    /// The mass that leaves: the next row's `in`.
    pub out: Quantity,
}

/// How many batches and pans there are: losses by the piece need it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BatchesAndPans {
    pub batches: Factor,
    pub pans: Factor,
}

/// The mixtures of a formula on their way, each as a multiple of the factor and a fixed mass: out = a x factor + b.
#[derive(Clone, Debug)]
pub struct Way<'f> {
    formula: &'f Formula,
    roots: Vec<Root>,
    losses: Vec<Lost>,
}

#[derive(Clone, Copy, Debug)]
struct Root {
    part: usize,
    /// Grams that grow with the factor, and grams that do not.
    grows: Mass,
    fixed: Mass,
    /// Whether it loses what only baked goods lose.
    baked: bool,
}

/// What is left after a stage: a mass that grows with the factor, and one that does not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Left {
    pub grows: Mass,
    pub fixed: Mass,
}

impl Left {
    /// The mass at a factor.
    pub fn at(self, factor: Factor) -> Mass {
        self.grows * factor + self.fixed
    }

    /// The factor at which this much is left.
    pub fn factor_for(self, wanted: Mass) -> Factor {
        (wanted - self.fixed) / self.grows
    }
}

impl<'f> Way<'f> {
    /// The way of a formula through its losses, in the order of the work.
    pub fn new(formula: &'f Formula, mut losses: Vec<Lost>) -> Self {
        losses.sort_by_key(|lost| lost.stage);
        // Whoever says what a cream loses in cooling has weighed it: where nothing is baked, it is all that there is.
        let all = none_is_baked(formula);
        let roots = formula
            .mixtures()
            .map(|mixture| {
                let of = |fixed: bool| -> Mass {
                    mixture
                        .members()
                        .filter(|&part| (formula.parts[part].scales_with == ScalesWith::Fixed) == fixed)
                        .map(|part| formula.parts[part].total().mass().value())
                        .sum()
                };
                Root { part: mixture.root, grows: of(false), fixed: of(true), baked: all || is_baked(formula, mixture.root) }
            })
            .collect();
        Self { formula, roots, losses }
    }

    /// What is left of one mixture, or of everything, after all stages that `until` lets pass.
    pub fn left(&self, mixture: Option<usize>, counts: BatchesAndPans, until: impl Fn(Stage) -> bool) -> Left {
        let mut roots = self.roots.clone();
        for lost in self.losses.iter().filter(|lost| until(lost.stage)) {
            take(&mut roots, lost, counts);
        }
        let chosen = roots.iter().filter(|root| mixture.is_none_or(|part| part == root.part));
        chosen.fold(Left { grows: Mass::ZERO, fixed: Mass::ZERO }, |sum, root| Left {
            grows: sum.grows + root.grows,
            fixed: sum.fixed + root.fixed,
        })
    }

    /// The ledger at a factor. It closes: each row's out is the next one's in.
    pub fn ledger(&self, factor: Factor, counts: BatchesAndPans) -> Vec<LedgerRow> {
        let mut roots = self.roots.clone();
        let whole = |roots: &[Root]| -> Mass { roots.iter().map(|root| root.grows * factor + root.fixed).sum() };
        let mut enters = whole(&roots);
        let mut rows = Vec::with_capacity(self.losses.len());
        let mut enters_text = hundredths(enters);
        for lost in &self.losses {
            take(&mut roots, lost, counts);
            let out = whole(&roots);
            let out_text = hundredths(out);
            let gone = enters_text - out_text;
            let quantity = |mass: Mass, shown: i64| Quantity::weighed(Span::exact(mass), grams_text(shown as f64 / 100.0));
            rows.push(LedgerRow {
                stage: lost.stage,
                part: lost.mixture.filter(|_| self.roots.len() > 1).map(|part| self.formula.parts[part].name.to_string()),
                enters: quantity(enters, enters_text),
                lost: quantity(enters - out, gone),
                out: quantity(out, out_text),
            });
            enters = out;
            enters_text = out_text;
        }
        rows
    }

    /// Whether some mixture is used up on the way, though others are left.
    pub fn uses_one_up(&self, factor: Factor, counts: BatchesAndPans) -> bool {
        let mut roots = self.roots.clone();
        self.losses.iter().any(|lost| {
            take(&mut roots, lost, counts);
            roots.iter().any(|root| root.grows * factor + root.fixed < Mass::ZERO)
        })
    }

    /// The losses, in the order of the work.
    pub fn losses(&self) -> &[Lost] {
        &self.losses
    }
}

/// Whole grams from 10 g up, hundredths of a gram below: as a number of hundredths, so that the texts of a ledger close.
fn hundredths(mass: Mass) -> i64 {
    let grams = mass.in_grams();
    if grams.abs() >= 10.0 { grams.round() as i64 * 100 } else { (grams * 100.0).round() as i64 }
}

fn take(roots: &mut [Root], lost: &Lost, counts: BatchesAndPans) {
    let touched = |root: &Root| match lost.mixture {
        Some(part) => root.part == part,
        None => root.baked || !lost.stage.baked_only(),
    };
    let in_all = match lost.how {
        How::Share(loss) => {
            for root in roots.iter_mut().filter(|root| touched(root)) {
                root.grows = root.grows * loss.kept();
                root.fixed = root.fixed * loss.kept();
            }
            return;
        }
        How::EachBatch(mass) => mass * counts.batches,
        How::EachPan(mass) => mass * counts.pans,
    };
    // A loss by the piece without a part is one mass from the whole, and each bears as much of it as it is of the whole: of what grows with the batch, where something does.
    let sum = |of: fn(&Root) -> Mass| -> Mass { roots.iter().filter(|root| touched(root)).map(of).sum() };
    let (growing, fixed) = (sum(|root| root.grows), sum(|root| root.fixed));
    for root in roots.iter_mut().filter(|root| touched(root)) {
        let share = if growing > Mass::ZERO {
            root.grows / growing
        } else if fixed > Mass::ZERO {
            root.fixed / fixed
        } else {
            Factor::ZERO
        };
        root.fixed = root.fixed - in_all * share;
    }
}

/// Whether nothing of a formula goes into the oven: then everything loses what only baked goods lose.
pub fn none_is_baked(formula: &Formula) -> bool {
    formula.mixtures().all(|mixture| !is_baked(formula, mixture.root))
}

/// Whether a mixture goes into the oven: by its style, else unless it finishes or fills what has been baked.
pub fn is_baked(formula: &Formula, root: usize) -> bool {
    let style = Mixture { formula, root }.style();
    style.map_or_else(|| unstyled(formula, root) == Some(Unstyled::Baked), Style::is_baked)
}

/// The losses that the tables assume for a mixture; those of the whole product come from the first mixture alone.
pub fn assumed(formula: &Formula, root: usize, reference: &'static Reference) -> Vec<&'static StageLoss> {
    let product = match (Mixture { formula, root }).style() {
        Some(style) => Some(style.loss_product),
        None => match unstyled(formula, root) {
            Some(Unstyled::Spread) => Some("icing"),
            Some(Unstyled::Filled(filling)) => filling.loss_product(),
            Some(Unstyled::Baked | Unstyled::Strewn) | None => None,
        },
    };
    let Some(product) = product else { return Vec::new() };
    let (first, browned) = (root == formula.main_root(), is_browned_on_a_crust(formula, root));
    let of_whole_product = |loss: &StageLoss| matches!(loss.stage, Stage::Slicing | Stage::Rejects);
    let counts = |loss: &StageLoss| (first || !of_whole_product(loss)) && !(browned && loss.stage == Stage::Baking);
    reference.losses.of_product(product).iter().copied().filter(|loss| counts(loss)).collect()
}

/// Whether it is a meringue on a pie: that is browned and not dried, and no figure is published of what it loses.
pub fn is_browned_on_a_crust(formula: &Formula, root: usize) -> bool {
    let goods = |root| (Mixture { formula, root }).style().map(|style| style.goods);
    root != formula.main_root() && goods(root) == Some(Goods::Dried) && goods(formula.main_root()) == Some(Goods::Crust)
}
