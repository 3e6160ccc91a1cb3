//! The leavening of a formula: what is sour in it and what soda is left over, with the mend in grams.

use super::answer::{DoseShown, LeaveningAnswer, SodaBalance, SourShown};
use super::dose::dose;
use super::{LeaveningQuestion, printed};
use crate::formula::{BalanceVerdict, Formula, Leaven, Mixture, PowderGas, Sour, acid_for};
use crate::quantity::{Code, Factor, Fault, Faults, Mass, Percent, Pointer, Proportion, Quantity, Span, behind_the, enough_text};
use crate::reference::{Account, LeaveningFigures, Reference, Style, short};

/// Soda and acid meet where they come within this: nobody tastes or weighs closer.
const MEETS: f64 = 0.1;

pub(super) fn answered(
    question: &LeaveningQuestion,
    formula: &Formula,
    style: Option<&'static Style>,
    gas: PowderGas,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<LeaveningAnswer, Faults> {
    let root = Pointer::ROOT;
    let mixture = raised(formula, &root, account);
    let tables = &reference.leavening;
    let leaven = Leaven::of(&mixture, tables, gas);
    if leaven.soda.high() == Mass::ZERO
        && leaven.powder.high() == Mass::ZERO
        && leaven.ammonia.high() == Mass::ZERO
        && leaven.sour.is_empty()
    {
        let fault = Fault::new(&root.key("formula"), Code::MissingFigure, "no soda, powder or acid", "a formula with chemical leavening");
        return Err(fault.saying("Nothing in it is chemical leavening or sour: for yeast use dough").into());
    }
    told(&leaven, question, gas, reference, account);
    let style = style.or_else(|| mixture.style());
    let dose = dose(&mixture, &leaven, style, gas, reference, account);
    let too_much = dose.as_ref().is_some_and(|dose| dose.verdict == Some(BalanceVerdict::Above.word()));
    let balance = against(leaven.soda, leaven.taken_up(), (!too_much).then(|| gas.figure(&tables.figures).figure.value()), &tables.figures);
    let borne = style.filter(|_| balance.verdict == "above").and_then(|style| borne(&leaven, style, account));
    let balance = SodaBalance { mend: borne.or(balance.mend), ..balance };
    let about: Vec<&str> = sour_ids(&leaven);
    let as_powder = leaven.as_powder(&tables.figures, gas);
    let summary = summary(formula, &leaven, &balance, dose.as_ref().map(|dose| (dose, style)), as_powder);
    Ok(LeaveningAnswer {
        soda: (leaven.soda.high() > Mass::ZERO).then(|| printed::dosed(leaven.soda, "baking-soda", formula.measures, reference, account)),
        powder: Some(printed::dosed(as_powder, "baking-powder", formula.measures, reference, account)),
        acids: Vec::new(),
        acidity: leaven.sour.iter().map(|sour| sour_shown(sour, formula, account)).collect(),
        balance: (leaven.soda.high() > Mass::ZERO || !leaven.sour.is_empty()).then_some(balance),
        gas: Quantity::from(leaven.gas(&tables.figures, gas)),
        dose,
        sodium: printed::sodium(leaven.sodium_of_leaven, leaven.sodium_of_salt),
        printed: printed::weighed(&about, reference, account),
        owed: account.settle(summary),
    })
}

/// The mixture that is raised: the first with flour; the first of all where none has flour.
fn raised<'f>(formula: &'f Formula, root: &Pointer<'_>, account: &mut Account) -> Mixture<'f> {
    let floured = formula.mixtures().find(|mixture| !mixture.class(crate::reference::Class::Flour).is_nothing());
    let chosen = floured.or_else(|| formula.mixtures().next()).unwrap_or_else(|| formula.main());
    for other in formula.mixtures().filter(|other| other.root != chosen.root) {
        let at = root.key("formula");
        account.assume(
            format!("The {} is not raised with the rest and is left out", behind_the(&other.part().name)),
            &at.key("parts"),
            other.part().name.to_string(),
        );
    }
    chosen
}

fn told(leaven: &Leaven, question: &LeaveningQuestion, gas: PowderGas, reference: &'static Reference, account: &mut Account) {
    let root = Pointer::ROOT;
    let figures = &reference.leavening.figures;
    if question.powder_gas.is_none() {
        account.assume("The powder gives as much gas as usual powders do, 14 % (12 to 15.7)", &root.key("powder_gas"), gas.word());
    }
    account.assume(
        "Whatever has no figure for its acid counts as neutral: flour, sweet milk, eggs, fat, white sugar",
        &root.key("formula"),
        "neutral",
    );
    account.cite(gas.figure(figures).citation);
    account.cite(figures.soda_gas.citation);
    if leaven.ammonia.high() > Mass::ZERO {
        account.caution("bakers-ammonia");
    }
    for sour in &leaven.sour {
        account.cite(sour.acid.takes_up.citation);
        account.step(|| {
            let takes_up = sour.acid.takes_up.figure;
            let [low, value, high] = [sour.soda.low(), sour.soda.value(), sour.soda.high()].map(|soda| short(soda.in_grams()));
            format!("{}: takes up {} g of soda in 100 g, here {value} g ({low} to {high})", sour.acid.name, takes_up.value().value())
        });
    }
    account.step(|| {
        let [soda, taken, left] = [leaven.soda, leaven.taken_up(), leaven.left_over()].map(|mass| short(mass.value().in_grams()));
        format!("soda {soda} g - {taken} g taken up = {left} g")
    });
}

fn sour_ids(leaven: &Leaven) -> Vec<&'static str> {
    leaven.sour.iter().map(|sour| sour.acid.ingredient).collect()
}

fn sour_shown(sour: &Sour, formula: &Formula, account: &mut Account) -> SourShown {
    let line = &formula.parts[sour.place.part].lines[sour.place.line];
    line.ingredient.hazards.iter().for_each(|hazard| account.caution(hazard));
    SourShown {
        pointer: sour.place.pointer(),
        ingredient: line.ingredient.name.clone().into_owned(),
        soda: Quantity::from(sour.soda),
        source: sour.acid.takes_up.citation.source.id,
    }
}

/// Soda against what the acids take up, with the mend; in it the powder whose lift goes with the soda, by its gas, unless there is too much lift already.
pub(super) fn against(soda: Span<Mass>, taken: Span<Mass>, powder: Option<Factor>, figures: &LeaveningFigures) -> SodaBalance {
    let left = soda - taken;
    let slack = (soda.value() + taken.value()) * Factor::times(MEETS / 2.0);
    let verdict = if left.low() > slack {
        "above"
    } else if left.high() + slack < Mass::ZERO {
        "below"
    } else if left.low() + slack >= Mass::ZERO && left.high() <= slack || (left.value() <= slack && left.value() + slack >= Mass::ZERO) {
        "within"
    } else {
        "depends"
    };
    SodaBalance {
        soda: Quantity::from(soda),
        taken_up: Quantity::from(taken),
        left_over: Quantity::from(left),
        verdict,
        mend: mend(verdict, left, taken.value(), powder, figures),
    }
}

fn mend(verdict: &str, left: Span<Mass>, taken: Mass, powder: Option<Factor>, figures: &LeaveningFigures) -> Option<String> {
    let text = |mass: Mass| Quantity::from(mass).text;
    match verdict {
        "above" => {
            const WHY: &str = "soda that finds no acid tastes of soap and browns the crumb";
            let out = enough_text(left.value(), taken);
            let Some(gas) = powder else { return Some(format!("Take out {out} of soda: {WHY}, and there is too much leavening with it")) };
            // Without acid it gave its gas by heat: that much lift goes with it.
            let lift = text(left.value() * figures.soda_gas_by_heat.figure.value() / gas);
            // Cream of tartar by its neutralising value of 45.
            let tartar = text(acid_for(left, Span::exact(Percent::of_hundred(45.0)))?.value());
            Some(format!("Take out {out} of soda, whose lift {lift} of baking powder gives, or add {tartar} of cream of tartar: {WHY}"))
        }
        "below" => {
            let missing = Mass::ZERO - left.value();
            Some(format!("{} more soda would take up the acid; leave it out where the crumb is to taste sour", text(missing)))
        }
        _ => None,
    }
}

/// Where a style bears soda that finds no acid, for it browns and spreads: it is held to the bound that the rules of balance have.
fn borne(leaven: &Leaven, style: &Style, account: &mut Account) -> Option<String> {
    let bound = style.bounds.iter().find(|bound| bound.rule == "soda")?;
    let most = bound.high?;
    let (soda, flour) = (leaven.soda.value(), leaven.flour().value());
    if flour <= Mass::ZERO {
        return None;
    }
    account.cite(bound.citation);
    let text = |percent: Percent| Proportion::from(Span::exact(percent)).text();
    let (percent, to_be, name) = ((soda / flour).as_percent(), flour * most.as_factor(), style.name);
    let told = format!(
        "the soda is {} % of the flour, and up to {} % is borne by a {name}, which it browns and spreads",
        text(percent),
        text(most)
    );
    Some(match percent > most {
        true => format!("Take out {} of soda: {told}; what is over tastes of soap", enough_text(soda - to_be, to_be)),
        false => format!("Nothing need be done: {told}"),
    })
}

/// ", above the 1.5–7 % for oil cake".
fn judged(dose: &DoseShown, style: &Style) -> Option<String> {
    let verdict = match dose.verdict? {
        "depends" => "within or outside",
        verdict => verdict,
    };
    let name = style.name;
    let bounds = match (&dose.least, &dose.most) {
        (Some(least), Some(most)) => format!("{}–{} % for {name}", least.text(), most.text()),
        (Some(least), None) => format!("least for {name}, {} %", least.text()),
        (None, Some(most)) => format!("most for {name}, {} %", most.text()),
        (None, None) => return None,
    };
    Some(format!(", {verdict} the {bounds}"))
}

fn summary(
    formula: &Formula,
    leaven: &Leaven,
    balance: &SodaBalance,
    dose: Option<(&DoseShown, Option<&Style>)>,
    as_powder: Span<Mass>,
) -> String {
    let name = formula.name.as_deref().unwrap_or("The formula");
    let of_flour = match dose {
        Some((dose, _)) => format!("leavening as powder {} % of the flour", dose.of_flour.text()),
        None if as_powder.value() > Mass::ZERO => {
            format!("leavening as powder {}, and no flour to set it against", Quantity::from(as_powder).range_text())
        }
        None => String::new(),
    };
    let judged = dose.and_then(|(dose, style)| judged(dose, style?)).unwrap_or_default();
    let soda = if leaven.soda.high() == Mass::ZERO {
        let sour = !leaven.sour.is_empty();
        if sour { format!("; no soda, and acid for {} of it", balance.taken_up.range_text()) } else { String::new() }
    } else {
        let word = match balance.verdict {
            "above" => "soda is left over",
            "below" => "acid is left over",
            "within" => "soda and acid meet",
            _ => "soda and acid may meet",
        };
        format!("; {word}: {} of soda, {} taken up", balance.soda.text, balance.taken_up.range_text())
    };
    let told = format!("{of_flour}{judged}{soda}");
    format!("{name}: {}", told.trim_start_matches("; "))
}
