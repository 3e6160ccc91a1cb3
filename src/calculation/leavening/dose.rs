//! The dose: all that raises as powder against flour, judged by the style, with its mend in grams and beside what books print.

use smol_str::SmolStr;

use super::answer::{DoseRule, DoseShown};
use crate::formula::{BalanceVerdict, Leaven, Loose, Mixture, PowderGas};
use crate::quantity::{Factor, Mass, Percent, Proportion, Quantity, Span, enough_text, lower_first, upper_first};
use crate::reference::{Account, Bound, LeaveningFigures, PrintedDose, Reference, Style, short};

pub(super) fn dose(
    mixture: &Mixture<'_>,
    leaven: &Leaven,
    style: Option<&'static Style>,
    gas: PowderGas,
    reference: &'static Reference,
    account: &mut Account,
) -> Option<DoseShown> {
    let of_flour = leaven.dose()?;
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
    // Where yeast raises it too, little powder is no fault.
    let judged = if mixture.has_yeast() { BalanceVerdict::at_most } else { BalanceVerdict::of };
    let verdict = bound.map(|bound| judged(of_flour, bound));
    let raising = Raising::of(mixture, leaven, bound, &reference.leavening.figures, gas);
    let beside = bound.zip(style).filter(|_| verdict == Some(BalanceVerdict::Above));
    let beside = beside.and_then(|(bound, style)| with_what_stands_for_flour(mixture, flour, of_flour, bound, style, &raising));
    let (verdict, mend) = match beside {
        Some((verdict, mend)) => (Some(verdict), Some(mend)),
        None => (verdict, bound.zip(verdict).and_then(|(bound, verdict)| mend(verdict, of_flour.value(), bound, &raising))),
    };
    let exact = |percent: Percent| Proportion::from(Span::exact(percent));
    Some(DoseShown {
        of_flour: Proportion::from(of_flour),
        style: style.map(|style| style.id),
        least: bound.and_then(|bound| bound.low).map(exact),
        most: bound.and_then(|bound| bound.high).map(exact),
        verdict: verdict.map(BalanceVerdict::word),
        mend,
        source: bound.map(|bound| bound.citation.source.id),
        rules: rules(flour, reference, account),
    })
}

/// The same on flour and on what stands in for it together, where that is too much on the flour alone: as the rules of balance have it.
fn with_what_stands_for_flour(
    mixture: &Mixture<'_>,
    flour: Span<Mass>,
    of_flour: Span<Percent>,
    bound: &Bound,
    style: &Style,
    raising: &Raising<'_>,
) -> Option<(BalanceVerdict, String)> {
    let summed = mixture.summed();
    let (name, beside) = summed.for_flour(style.whipped)?;
    let both = flour.value() + beside.mass().value();
    let on_both = of_flour.map(|percent| Percent::of_hundred(percent.value() * (flour.value() / both).value()));
    let percent = Proportion::from(Span::exact(on_both.value())).text();
    if BalanceVerdict::of(Span::exact(on_both.value()), bound) != BalanceVerdict::Above {
        let take = if name.ends_with('s') { "take" } else { "takes" };
        let told = format!(
            "{} {take} the place of flour here: on both together it is {percent} %, and nothing need be taken out",
            upper_first(name)
        );
        return Some((BalanceVerdict::Depends, told));
    }
    let less = raising.less(both * Percent::of_hundred(on_both.value().value() - bound.high?.value()).as_factor());
    Some((BalanceVerdict::Above, format!("On flour and {name} together it is {percent} %: {}", lower_first(&less))))
}

/// What raises and stands by itself, in the order in which it is taken out.
#[derive(Clone, Copy)]
enum Kind {
    Powder,
    Soda,
    Ammonia,
}

impl Kind {
    const fn word(self) -> &'static str {
        match self {
            Self::Powder => "baking powder",
            Self::Soda => "soda",
            Self::Ammonia => "baker's ammonia",
        }
    }
}

/// What raises a mixture, as a baker may take it out.
struct Raising<'f> {
    flour: Mass,
    /// The powder that the bound leaves.
    kept: Mass,
    powder: Loose<'f>,
    /// Each kind: how much of it there is, and how much powder that stands for by its gas.
    kinds: [(Kind, Mass, Mass); 3],
    leaven: &'f Leaven,
    figures: &'f LeaveningFigures,
    gas: PowderGas,
}

impl<'f> Raising<'f> {
    fn of(mixture: &Mixture<'f>, leaven: &'f Leaven, bound: Option<&Bound>, figures: &'f LeaveningFigures, gas: PowderGas) -> Self {
        let powder = Leaven::loose_powder(mixture);
        let ammonia = leaven.ammonia.value();
        let worth = ammonia * ammonia_worth(figures, gas);
        let kinds = [
            (Kind::Powder, powder.mass(), powder.mass()),
            (Kind::Soda, leaven.soda.value(), leaven.as_powder(figures, gas).value() - leaven.powder.value() - worth),
            (Kind::Ammonia, ammonia, worth),
        ];
        let flour = leaven.flour().value();
        let kept = bound.and_then(|bound| bound.high).map_or(Mass::ZERO, |high| flour * high.as_factor());
        Self { flour, kept, powder, kinds, leaven, figures, gas }
    }

    /// How much of a kind stands for so much powder.
    fn of_kind(&self, kind: Kind, powder: Mass) -> Mass {
        match kind {
            Kind::Powder => powder,
            Kind::Soda => self.leaven.soda_for(powder, self.figures, self.gas),
            Kind::Ammonia => powder / ammonia_worth(self.figures, self.gas),
        }
    }

    /// "4.6 g of soda": as much of a kind as stands for so much powder.
    fn so_much(&self, kind: Kind, powder: Mass) -> String {
        let mass = self.of_kind(kind, powder);
        format!("{} of {}", enough_text(mass, self.kept * (mass / powder)), kind.word())
    }

    /// So much powder less: by whatever is enough alone; else by another flour, where flour brings some; else by one after the other.
    fn less(&self, powder: Mass) -> String {
        let alone = self.kinds.iter().filter(|(_, _, worth)| *worth >= powder);
        let alone: Vec<_> = alone.map(|(kind, ..)| self.so_much(*kind, powder)).collect();
        if !alone.is_empty() {
            return format!("Take out {}", alone.join(", or "));
        }
        let exchanged =
            if self.powder.is_carried() { self.powder.take_out(powder, self.kept, "baking powder", "plain flour") } else { None };
        exchanged.unwrap_or_else(|| self.in_turn(powder))
    }

    fn in_turn(&self, mut powder: Mass) -> String {
        let mut out = Vec::new();
        for (kind, there, worth) in self.kinds.iter().filter(|(_, there, _)| *there > Mass::ZERO) {
            if *worth >= powder {
                out.push(self.so_much(*kind, powder));
                break;
            }
            out.push(format!("all of the {} ({})", kind.word(), grams(*there)));
            powder = powder - *worth;
        }
        format!("Take out {}", out.join(" and "))
    }
}

/// How much powder a gram of baker's ammonia stands for.
fn ammonia_worth(figures: &LeaveningFigures, gas: PowderGas) -> Factor {
    figures.bakers_ammonia_gas.figure.value() / gas.figure(figures).figure.value()
}

/// To the bound that is passed, in grams of what is there to be taken out.
fn mend(verdict: BalanceVerdict, of_flour: Percent, bound: &Bound, raising: &Raising<'_>) -> Option<String> {
    let powder = |percent: f64| raising.flour * Percent::of_hundred(percent).as_factor();
    match verdict {
        BalanceVerdict::Below => {
            let low = bound.low?.value();
            Some(format!("Add {} of baking powder", enough_text(powder(low - of_flour.value()), powder(low))))
        }
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
