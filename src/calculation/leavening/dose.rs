//! The dose: all that raises as powder against flour, judged by the style, with its mend in grams and beside what books print.

use smol_str::SmolStr;

use super::answer::{DoseRule, DoseShown};
use crate::formula::{BalanceVerdict, Leaven, Loose, Mixture, PowderGas};
use crate::quantity::{Factor, Mass, Percent, Proportion, Quantity, Span};
use crate::reference::{Account, Bound, LeaveningFigures, PrintedDose, Reference, Style, short};

pub(super) fn dose(
    mixture: &Mixture<'_>,
    leaven: &Leaven,
    style: Option<&'static Style>,
    gas: PowderGas,
    reference: &'static Reference,
    account: &mut Account,
) -> Option<DoseShown> {
    let of_flour = leaven.dose(&reference.leavening.figures, gas)?;
    let flour = leaven.flour();
    let bound = style.and_then(|style| style.bounds.iter().find(|bound| bound.rule == "leavening"));
    if let Some(bound) = bound {
        account.cite(bound.citation);
    }
    account.step(|| {
        let as_powder = leaven.as_powder(&reference.leavening.figures, gas).value().in_grams();
        let [low, value, high] = [of_flour.low(), of_flour.value(), of_flour.high()].map(|percent| short(percent.value()));
        format!(
            "as powder {} g with the acid there is; {value} % ({low} to {high}) of {} g of flour",
            short(as_powder),
            short(flour.value().in_grams())
        )
    });
    let verdict = bound.map(|bound| BalanceVerdict::of(of_flour, bound));
    let raising = Raising::of(mixture, leaven, &reference.leavening.figures, gas);
    let exact = |percent: Percent| Proportion::from(Span::exact(percent));
    Some(DoseShown {
        of_flour: Proportion::from(of_flour),
        style: style.map(|style| style.id),
        least: bound.and_then(|bound| bound.low).map(exact),
        most: bound.and_then(|bound| bound.high).map(exact),
        verdict: verdict.map(BalanceVerdict::word),
        mend: bound.zip(verdict).and_then(|(bound, verdict)| mend(verdict, of_flour.value(), bound, &raising)),
        source: bound.map(|bound| bound.citation.source.id),
        rules: rules(flour, reference, account),
    })
}

/// What raises a mixture, as a baker may take it out.
struct Raising<'f> {
    flour: Mass,
    powder: Loose<'f>,
    /// Each kind that stands by itself: its name, how much of it there is, and for how much powder a gram of it stands by its gas.
    kinds: [(&'static str, Mass, Factor); 3],
}

impl<'f> Raising<'f> {
    fn of(mixture: &Mixture<'f>, leaven: &Leaven, figures: &LeaveningFigures, gas: PowderGas) -> Self {
        let of_powder = gas.figure(figures).figure.value();
        let powder = Leaven::loose_powder(mixture);
        let kinds = [
            ("baking powder", powder.mass(), Factor::ONE),
            ("soda", leaven.soda.value(), figures.soda_gas.figure.value() / of_powder),
            ("baker's ammonia", leaven.ammonia.value(), figures.bakers_ammonia_gas.figure.value() / of_powder),
        ];
        Self { flour: leaven.flour().value(), powder, kinds }
    }

    /// So much powder less: by whatever is enough alone; else by another flour, where flour brings some; else by one after the other.
    fn less(&self, powder: Mass) -> String {
        let alone = self.kinds.iter().filter(|(_, there, worth)| *there >= powder / *worth);
        let alone: Vec<_> = alone.map(|(name, _, worth)| format!("{} of {name}", grams(powder / *worth))).collect();
        if !alone.is_empty() {
            return format!("Take out {}", alone.join(", or "));
        }
        let exchanged = if self.powder.is_carried() { self.powder.take_out(powder, "baking powder", "plain flour") } else { None };
        exchanged.unwrap_or_else(|| self.in_turn(powder))
    }

    fn in_turn(&self, mut powder: Mass) -> String {
        let mut out = Vec::new();
        for (name, there, worth) in self.kinds.iter().filter(|(_, there, _)| *there > Mass::ZERO) {
            if *there >= powder / *worth {
                out.push(format!("{} of {name}", grams(powder / *worth)));
                break;
            }
            out.push(format!("all of the {name} ({})", grams(*there)));
            powder = powder - *there * *worth;
        }
        format!("Take out {}", out.join(" and "))
    }
}

/// To the bound that is passed, in grams of what is there to be taken out.
fn mend(verdict: BalanceVerdict, of_flour: Percent, bound: &Bound, raising: &Raising<'_>) -> Option<String> {
    let powder = |percent: f64| raising.flour * Percent::of_hundred(percent).as_factor();
    match verdict {
        BalanceVerdict::Below => Some(format!("Add {} of baking powder", grams(powder(bound.low?.value() - of_flour.value())))),
        BalanceVerdict::Above => Some(raising.less(powder(of_flour.value() - bound.high?.value()))),
        BalanceVerdict::Within | BalanceVerdict::Depends => None,
    }
}

fn grams(mass: Mass) -> SmolStr {
    Quantity::from(mass).text
}

fn rules(flour: Span<Mass>, reference: &'static Reference, account: &mut Account) -> Vec<DoseRule> {
    let shown = |rule: &'static PrintedDose| {
        account.cite(rule.citation);
        let powder = flour * rule.dose.map(Percent::as_factor);
        DoseRule { rule: rule.rule, of_flour: Proportion::from(rule.dose), powder: Quantity::from(powder), source: rule.citation.source.id }
    };
    reference.leavening.doses.iter().map(shown).collect()
}
