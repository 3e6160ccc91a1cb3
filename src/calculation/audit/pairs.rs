//! The two measures of a line, each brought to grams: through the ingredient's published span where one of them is a cup or a count.

use super::finding::{AuditFigure, AuditFinding, AuditKind, AuditVerdict, LikelyWrong};
use super::slip::{self, Side};
use crate::formula::{Formula, FormulaWritten, Known, LinePlace};
use crate::quantity::{Amount, Counting, Family, Mass, Percent, Pointer, Quantity, Span, Unit, Written, read_amount};
use crate::reference::{Account, Filled, Ingredient, Measuring, Reference, Yield};

/// One measure of a line.
pub(super) struct Half {
    pub amount: Amount,
    pub text: String,
    pub mass: Span<Mass>,
}

/// Both measures of a line.
pub(super) struct Pair {
    pub part: usize,
    pub line: usize,
    pub ingredient: Known,
    pub form: &'static str,
    pub filled: Option<Filled>,
    pub first: Half,
    pub second: Half,
    /// What of it is used of what is bought, where something is trimmed off and somebody published how much.
    pub trimmed: Option<Span<Percent>>,
}

impl Half {
    pub(super) fn family(&self) -> Family {
        match &self.amount.counting {
            Counting::Unit(unit) => unit.family,
            Counting::Disher(_) => Family::Volume,
            _ => Family::Count,
        }
    }

    pub(super) fn unit(&self) -> Option<&'static Unit> {
        match self.amount.counting {
            Counting::Unit(unit) => Some(unit),
            _ => None,
        }
    }

    /// The share by which a figure may be off because it was rounded where it was printed: common practice, no source.
    pub(super) fn slack(&self) -> f64 {
        let value = self.amount.number.value;
        match (self.family(), self.unit()) {
            (Family::Mass, Some(unit)) if unit.id == "gram" => grams_rounded(value) / value,
            (Family::Mass, Some(unit)) if unit.id == "ounce" => (if value.fract() == 0.0 { 0.25 } else { 0.13 }) / value,
            (Family::Volume, Some(unit)) => millilitres_rounded(unit.size, value) / (unit.size * value),
            // A stick and a packet are made to a weight; eggs and fruit grow as they will.
            (Family::Count, Some(unit)) if unit.is_made() => 0.025,
            (Family::Count, _) => 0.08,
            _ => 0.025,
        }
    }

    pub(super) fn low(&self) -> f64 {
        self.mass.low().in_grams() * (1.0 - self.slack().min(0.3))
    }

    pub(super) fn high(&self) -> f64 {
        self.mass.high().in_grams() * (1.0 + self.slack().min(0.3))
    }
}

/// Printed grams are whole, and from 50 up mostly fives.
fn grams_rounded(value: f64) -> f64 {
    if value < 50.0 {
        0.5 + value * 0.02
    } else if value % 5.0 == 0.0 {
        2.5
    } else {
        0.5
    }
}

/// Spoons come by halves and quarters, cups by quarters and thirds; millilitres by fives.
fn millilitres_rounded(size: f64, value: f64) -> f64 {
    match size {
        s if s <= 1.0 => {
            if value >= 50.0 {
                2.5
            } else {
                0.5
            }
        }
        s if s < 10.0 => 0.4,
        s if s < 25.0 => 1.9,
        s if s < 100.0 => 3.0,
        s => s / 32.0,
    }
}

/// Both measures of every line that has two, each in grams; what cannot be brought to grams is not compared.
pub(super) fn pairs(
    written: &FormulaWritten,
    formula: &Formula,
    reference: &'static Reference,
    at: &Pointer<'_>,
    account: &mut Account,
) -> Vec<Pair> {
    let mut pairs = Vec::new();
    let (parts_at, filled_at, measures_at) = (at.key("parts"), at.key("filled"), at.key("measures"));
    for (part, (as_written, known)) in written.parts.iter().zip(&formula.parts).enumerate() {
        let part_at = parts_at.index(part);
        let lines_at = part_at.key("lines");
        for (line, (as_written, known)) in as_written.lines.iter().zip(&known.lines).enumerate() {
            let Some(also) = &as_written.also else { continue };
            let of = Measuring {
                ingredient: &known.ingredient,
                form: known.form,
                filled: known.filled,
                measures: formula.measures,
                measures_at: written.measures.is_none().then_some(&measures_at),
                filled_at: &filled_at,
            };
            let at = lines_at.index(line);
            let mut half = |written: &Written, at: &Pointer<'_>| {
                let amount = read_amount(written, formula.measures, at).ok().or_else(|| reference.in_packs(written, &of, at, account))?;
                let mass = reference.weigh(&amount, &of, at, account).ok()?.mass;
                (mass.low().in_grams() > 0.0).then(|| Half { amount, text: written.as_text().into_owned(), mass })
            };
            let (Some(first), Some(second)) = (half(&as_written.amount, &at.key("amount")), half(also, &at.key("also"))) else { continue };
            let (ingredient, form, filled) = (known.ingredient.clone(), known.form, known.filled);
            let trimmed = trimmed(&ingredient, reference);
            pairs.push(Pair { part, line, ingredient, form, filled, first, second, trimmed });
        }
    }
    pairs
}

/// What is left of it when it is peeled or stoned. An egg is weighed in its shell as often as not, and that is another slip.
fn trimmed(ingredient: &Ingredient, reference: &'static Reference) -> Option<Span<Percent>> {
    let of_itself = |entry: &&Yield| entry.from == ingredient.id && entry.gives == ingredient.id && !entry.canned;
    let found = reference.ingredients.yields.iter().find(of_itself).filter(|_| ingredient.egg_part().is_none());
    found.and_then(|entry| entry.percent)
}

impl Pair {
    /// "2 bananas (350 g)": what counted things weigh as they are bought, where that is the other measure. A count is of what is used.
    fn as_bought(&self) -> Option<(&Half, &Half)> {
        let (first, second) = (&self.first, &self.second);
        let (count, mass) = match (first.family(), second.family()) {
            (Family::Count, Family::Mass) => (first, second),
            (Family::Mass, Family::Count) => (second, first),
            _ => return None,
        };
        let share = self.trimmed?.map(Percent::as_factor);
        let (least, most) = (count.low() / share.high().value(), count.high() / share.low().value());
        (count.high() < mass.low() && mass.high() >= least && mass.low() <= most).then_some((count, mass))
    }

    /// By what factor the two stand apart beyond all that is published and rounded; 1 where they agree.
    pub(super) fn gap(&self) -> f64 {
        let cross = if self.first.family() == self.second.family() { 1.02 } else { 1.04 };
        let (first, second) = (&self.first, &self.second);
        let apart = if first.low() > second.high() {
            first.low() / second.high()
        } else if second.low() > first.high() {
            second.low() / first.high()
        } else {
            1.0
        };
        (apart / cross).max(1.0)
    }

    pub(super) fn ratio(&self) -> f64 {
        self.second.mass.value().in_grams() / self.first.mass.value().in_grams()
    }

    pub(super) fn pointer(&self) -> String {
        LinePlace { part: self.part, line: self.line }.pointer()
    }
}

/// From here on two measures contradict one another; below, it may be the kind or the way of filling.
const CONTRADICTION: f64 = 1.2;

/// The findings on the lines that have two measures.
pub(super) fn compared(pairs: &[Pair]) -> Vec<AuditFinding> {
    pairs.iter().filter(|pair| pair.gap() > 1.0).map(finding).collect()
}

fn finding(pair: &Pair) -> AuditFinding {
    let pointer = pair.pointer();
    let counted = [&pair.first, &pair.second].iter().any(|half| half.family() == Family::Count);
    let at = |side: Side| format!("{pointer}/{}", if side == Side::First { "amount" } else { "also" });
    if let Some((count, mass)) = pair.as_bought() {
        return as_bought(pair, count, mass, pointer);
    }
    let slip = slip::likelier(pair);
    let likely_wrong = slip.as_ref().map(|slip| LikelyWrong { pointer: at(slip.side), why: slip.why.clone() });
    AuditFinding {
        kind: if counted { AuditKind::CountAndMass } else { AuditKind::TwoMeasures },
        verdict: if pair.gap() > CONTRADICTION { AuditVerdict::Contradict } else { AuditVerdict::Doubtful },
        figures: vec![figure(&pair.first, at(Side::First)), figure(&pair.second, at(Side::Second))],
        likely_wrong,
        mend: mend(pair, slip.as_ref()),
        pointer,
    }
}

/// Both may be right: the scale was read before the knife.
fn as_bought(pair: &Pair, count: &Half, mass: &Half, pointer: String) -> AuditFinding {
    let at = |half: &Half| format!("{pointer}/{}", if std::ptr::eq(half, &raw const pair.first) { "amount" } else { "also" });
    let used = Quantity::from(count.mass).range_text();
    let mend = format!(
        "{} is what {} weigh as bought; without what is trimmed off they are {used}: where that is what goes in, write it as the weight",
        mass.text,
        counted(count, &pair.ingredient)
    );
    let figures = vec![figure(&pair.first, at(&pair.first)), figure(&pair.second, at(&pair.second))];
    AuditFinding { kind: AuditKind::CountAndMass, verdict: AuditVerdict::Doubtful, figures, likely_wrong: None, mend, pointer }
}

/// "2 large eggs", "2 bananas".
fn counted(half: &Half, ingredient: &Ingredient) -> String {
    match half.amount.counting {
        Counting::Size(_) | Counting::Nothing => format!("{} {}", half.text, ingredient.called(half.amount.number.value > 1.0)),
        Counting::Named(_) => half.text.clone(),
        _ => format!("{} of {}", half.text, ingredient.name),
    }
}

fn figure(half: &Half, pointer: String) -> AuditFigure {
    AuditFigure { pointer, written: half.text.clone(), is: Quantity::from(half.mass) }
}

/// Whether it is written in grams or kilograms.
fn is_metric(half: &Half) -> bool {
    matches!(&half.amount.counting, Counting::Unit(unit) if matches!(unit.id, "gram" | "kilogram"))
}

fn mend(pair: &Pair, slip: Option<&slip::Slip>) -> String {
    let range = |half: &Half| Quantity::from(half.mass).range_text();
    let (first, second) = (&pair.first, &pair.second);
    let of = |half: &Half| counted(half, &pair.ingredient);
    let figures = match (first.family(), second.family()) {
        // What is in grams says itself; the other is put into grams beside it.
        (Family::Mass, Family::Mass) if is_metric(first) => format!("{} is {}, not {}", second.text, range(second), first.text),
        (Family::Mass, Family::Mass) if is_metric(second) => format!("{} is {}, not {}", first.text, range(first), second.text),
        (Family::Mass, Family::Mass) => format!("{} is {}, {} is {}", first.text, range(first), second.text, range(second)),
        (Family::Mass, _) => format!("{} is {}, not {}", of(second), range(second), first.text),
        (_, Family::Mass) => format!("{} is {}, not {}", of(first), range(first), second.text),
        _ => format!("{} is {}, and {} is {}", of(first), range(first), second.text, range(second)),
    };
    match slip.and_then(|slip| slip.instead.clone()) {
        Some(instead) => format!("{figures}: perhaps {instead} was meant; weigh it, and write both anew"),
        None => format!("{figures}: weigh it, and write both anew"),
    }
}
