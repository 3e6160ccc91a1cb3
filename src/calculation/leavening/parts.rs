//! Soda, powder and acid by themselves: each from the other, by neutralising value and by the gas of the powder.

use super::answer::{AcidShown, LeaveningAnswer, SodaBalance};
use super::{LeaveningQuestion, printed};
use crate::formula::{PowderGas, acid_for, taken_up};
use crate::quantity::{
    Code, Factor, Fault, Faults, Mass, Measures, Pointer, Proportion, Quantity, Span, Written, nearest, plain, read_amount,
};
use crate::reference::{Account, Acid, Ingredient, LeaveningFigures, Measuring, Reference, short};

/// What is asked, understood.
pub(super) struct Asked {
    acid: Option<&'static Acid>,
    soda: Option<Span<Mass>>,
    powder: Option<Span<Mass>>,
    acid_amount: Option<Span<Mass>>,
}

pub(super) fn understood(
    question: &LeaveningQuestion,
    reference: &'static Reference,
    account: &mut Account,
    faults: &mut Faults,
) -> Option<Asked> {
    let root = Pointer::ROOT;
    let before = faults.total();
    let acid = question.acid.as_deref().and_then(|name| faults.keep(acid(name, &root.key("acid"), reference)));
    let mut weighed = |written: &Option<Written>, id: &str, field: &str| {
        let written = written.as_ref()?;
        let ingredient = reference.ingredients.by_id(id);
        mass(written, ingredient, question.measures, &root.key(field), reference, account, faults)
    };
    let soda = weighed(&question.soda, "baking-soda", "soda");
    let powder = weighed(&question.powder, "baking-powder", "powder");
    // What an acid that is not known weighs by the spoon nobody can tell: that it is not known is told.
    let is_volume = |amount: &Written| read_amount(amount, Measures::Us, &root).is_ok_and(|amount| amount.is_volume());
    let told = question.acid.is_some() && acid.is_none();
    let acid_amount = weighed(
        &question.acid_amount.clone().filter(|amount| !(told && is_volume(amount))),
        acid.map_or("", |acid| acid.ingredient),
        "acid_amount",
    );
    let asked = soda.is_some() || powder.is_some() || acid_amount.is_some();
    (faults.total() == before && asked).then_some(Asked { acid, soda, powder, acid_amount })
}

fn acid(name: &str, at: &Pointer<'_>, reference: &'static Reference) -> Result<&'static Acid, Fault> {
    let tables = &reference.leavening;
    let by_ingredient = || reference.ingredients.find(name).and_then(|found| tables.acid_of(&found.ingredient.id));
    tables.acid(name).or_else(by_ingredient).ok_or_else(|| {
        let mut near = nearest(&plain(name), tables.acid_names(), 3);
        if near.is_empty() {
            near = vec!["cream of tartar", "buttermilk", "sodium acid pyrophosphate"];
        }
        let fault = Fault::new(at, Code::UnknownIngredient, name, "an acid of the trade or a sour ingredient");
        let said = match reference.ingredients.find(name) {
            Some(found) => {
                format!("What acid {} has is not known: it counts as neutral. Name another that is sour.", found.ingredient.name)
            }
            None => "Name the acid, or an ingredient that is known to be sour.".to_owned(),
        };
        fault.saying(said).trying(near)
    })
}

/// A mass, or a measure of an ingredient that somebody weighed.
fn mass(
    written: &Written,
    ingredient: Option<&'static Ingredient>,
    measures: Option<Measures>,
    at: &Pointer<'_>,
    reference: &'static Reference,
    account: &mut Account,
    faults: &mut Faults,
) -> Option<Span<Mass>> {
    let root = Pointer::ROOT;
    let amount = faults.keep(read_amount(written, measures.unwrap_or_default(), at).map_err(|fault| fault.offering(&["5 g", "1 tsp"])))?;
    // A dry acid that nobody sells by the spoon is weighed as soda would be; it has no density of its own.
    let ingredient = match (ingredient, amount.is_mass()) {
        (Some(ingredient), _) => ingredient,
        (None, true) => reference.ingredients.by_id("baking-soda")?,
        (None, false) => {
            faults.push(Fault::new(at, Code::NoDensity, written.as_text().into_owned(), "a mass, such as \"10 g\"").trying(["10 g"]));
            return None;
        }
    };
    let (measures_at, filled_at) = (root.key("measures"), *at);
    let of = Measuring {
        ingredient,
        form: "",
        filled: None,
        measures: measures.unwrap_or_default(),
        measures_at: measures.is_none().then_some(&measures_at),
        filled_at: &filled_at,
    };
    let by_the_spoon = |fault: Fault| match fault.code {
        // Nobody doses leavening by the cup.
        Code::UnitMissing => {
            Fault { attempts: ["g", "tsp"].map(|unit| format!("{} {unit}", short(amount.number.value))).to_vec(), ..fault }
        }
        _ => fault,
    };
    let weight = faults.keep(reference.weigh(&amount, &of, at, account).map_err(by_the_spoon))?;
    if weight.mass.low() > Mass::ZERO {
        return Some(weight.mass);
    }
    faults.push(Fault::new(at, Code::OutOfRange, written.as_text().into_owned(), "an amount above 0"));
    None
}

pub(super) fn answered(
    question: &LeaveningQuestion,
    asked: &Asked,
    gas: PowderGas,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<LeaveningAnswer, Faults> {
    let root = Pointer::ROOT;
    let figures = &reference.leavening.figures;
    let measures = question.measures.unwrap_or_default();
    let of_powder = gas.figure(figures);
    account.cite(figures.soda_gas.citation);
    if question.powder_gas.is_none() && asked.acid_amount.is_none() {
        account.assume("The powder gives as much gas as usual powders do, 14 % (12 to 15.7)", &root.key("powder_gas"), gas.word());
    }
    account.cite(of_powder.citation);
    let acids = chosen(asked, reference, account, &root);
    let soda = soda(asked, &acids, of_powder.figure, reference, account).ok_or_else(|| no_soda(asked, &root))?;
    let shown: Vec<AcidShown> = acids.iter().filter_map(|acid| shown(acid, soda, asked, measures, reference, account)).collect();
    if shown.is_empty() {
        return Err(no_soda(asked, &root).into());
    }
    let (balance, met) = balance(asked, &acids, soda, figures, gas);
    let taken = asked.acid_amount.zip(acids.first()).map(|(amount, acid)| taken_up(amount, acid.takes_up.figure));
    let gas_given =
        met.map(|mass| mass * figures.soda_gas.figure.value()) + left(soda, met).map(|mass| mass * figures.soda_gas_by_heat.figure.value());
    let powder = asked.powder.unwrap_or_else(|| gas_given / of_powder.figure);
    let sodium = soda.map(|soda| soda * figures.sodium_of_soda.figure.value());
    account.cite(figures.sodium_of_soda.citation);
    let about: Vec<&str> = acids.iter().map(|acid| acid.ingredient).filter(|id| !id.is_empty()).collect();
    let summary = summary(asked, soda, &shown, balance.as_ref().zip(taken));
    Ok(LeaveningAnswer {
        soda: Some(printed::dosed(soda, "baking-soda", measures, reference, account)),
        powder: Some(printed::dosed(powder, "baking-powder", measures, reference, account)),
        acids: shown,
        acidity: Vec::new(),
        balance,
        gas: Quantity::from(gas_given),
        dose: None,
        sodium: printed::sodium(sodium, Span::exact(Mass::ZERO)),
        printed: printed::weighed(&about, reference, account),
        owed: account.settle(summary),
    })
}

/// Soda that no acid met gives half its gas, by heat.
fn left(soda: Span<Mass>, met: Span<Mass>) -> Span<Mass> {
    let rest = |soda: Mass, met: Mass| if soda > met { soda - met } else { Mass::ZERO };
    Span::new(rest(soda.low(), met.low()), rest(soda.value(), met.value()), rest(soda.high(), met.high()))
}

fn chosen(asked: &Asked, reference: &'static Reference, account: &mut Account, root: &Pointer<'_>) -> Vec<&'static Acid> {
    let tables = &reference.leavening;
    match (asked.acid, asked.powder) {
        (Some(acid), _) => vec![acid],
        (None, Some(_)) => {
            account.assume("The powder is made up with cream of tartar", &root.key("acid"), "cream of tartar");
            tables.acid("cream of tartar").into_iter().collect()
        }
        // Dry acids: an ingredient that is sour beside other things takes up far less.
        (None, None) => tables.acids.iter().filter(|acid| acid.takes_up.figure.value().value() > 30.0).collect(),
    }
}

/// The soda: as given, that in the powder, or as much as the acid takes up.
fn soda(
    asked: &Asked,
    acids: &[&'static Acid],
    of_powder: Span<Factor>,
    reference: &'static Reference,
    account: &mut Account,
) -> Option<Span<Mass>> {
    if asked.soda.is_some() {
        return asked.soda;
    }
    if let Some(powder) = asked.powder {
        let each = reference.leavening.figures.soda_gas.figure.value();
        let soda = powder * of_powder / each;
        account.step(|| {
            let [powder, soda] = [powder, soda].map(|mass| short(mass.value().in_grams()));
            format!(
                "{powder} g of powder x {} / {} g of gas a gram of soda = {soda} g of soda",
                short(of_powder.value().value()),
                short(each.value())
            )
        });
        return Some(soda);
    }
    let soda = taken_up(asked.acid_amount?, acids.first()?.takes_up.figure);
    (soda.value() > Mass::ZERO).then_some(soda)
}

fn no_soda(asked: &Asked, root: &Pointer<'_>) -> Fault {
    let name = asked.acid.map_or("no acid", |acid| acid.name);
    Fault::new(&root.key("acid"), Code::OutOfRange, name, "an acid that takes up soda for certain")
        .saying("It is so little sour, or so uncertainly, that no soda can be measured against it")
        .trying(["cream of tartar", "buttermilk"])
}

fn shown(
    acid: &'static Acid,
    soda: Span<Mass>,
    asked: &Asked,
    measures: Measures,
    reference: &'static Reference,
    account: &mut Account,
) -> Option<AcidShown> {
    let figure = acid.takes_up.figure;
    let amount = match asked.acid_amount {
        Some(amount) => amount,
        None => acid_for(soda, figure)?,
    };
    account.cite(acid.takes_up.citation);
    account.step(|| {
        let [amount, soda] = [amount, soda].map(|mass| short(mass.value().in_grams()));
        match asked.acid_amount {
            Some(given) => {
                let up = short(taken_up(given, figure).value().in_grams());
                format!("{amount} g of {} x {} / 100 = {up} g of soda taken up", acid.name, figure.value().value())
            }
            None => format!("{soda} g of soda x 100 / {} = {amount} g of {}", figure.value().value(), acid.name),
        }
    });
    Some(AcidShown {
        acid: acid.name,
        neutralising_value: Proportion::from(figure),
        amount: Quantity::from(amount),
        spoons: printed::spoons(amount, acid.ingredient, measures, reference, account),
        source: acid.takes_up.citation.source.id,
    })
}

/// Soda and acid that were both given; and the soda that meets acid.
fn balance(
    asked: &Asked,
    acids: &[&'static Acid],
    soda: Span<Mass>,
    figures: &LeaveningFigures,
    gas: PowderGas,
) -> (Option<SodaBalance>, Span<Mass>) {
    let (Some(_), Some(amount), Some(acid)) = (asked.soda, asked.acid_amount, acids.first()) else { return (None, soda) };
    let taken = taken_up(amount, acid.takes_up.figure);
    let least = |a: Mass, b: Mass| if a < b { a } else { b };
    let met = Span::new(least(soda.low(), taken.low()), least(soda.value(), taken.value()), least(soda.high(), taken.high()));
    (Some(super::formula::against(soda, taken, Some(gas.figure(figures).figure.value()), figures)), met)
}

fn summary(asked: &Asked, soda: Span<Mass>, acids: &[AcidShown], balance: Option<(&SodaBalance, Span<Mass>)>) -> String {
    let missing = |taken: Span<Mass>| Quantity::from(taken - soda).range_text();
    let soda = Quantity::from(soda);
    let first = acids.iter().find(|acid| acid.acid == "cream of tartar").or(acids.first());
    let of = |acid: &AcidShown| format!("{} of {}", acid.amount.range_text(), acid.acid);
    let acid = first.map(of).unwrap_or_default();
    match (asked.powder, asked.acid_amount, balance) {
        (_, _, Some((balance, taken))) => {
            let told = match balance.verdict {
                "above" => format!("{} of soda is left over", balance.left_over.range_text()),
                "below" => format!("acid is left over, for {} more of soda", missing(taken)),
                "within" => format!("soda and acid meet: {} is taken up", balance.taken_up.range_text()),
                _ => format!("soda and acid may meet: {} is taken up", balance.taken_up.range_text()),
            };
            format!("{} of soda and {acid}: {told}", soda.text)
        }
        (Some(powder), ..) => format!("{} of baking powder is {} of soda and {acid}", Quantity::from(powder).text, soda.range_text()),
        (_, Some(_), _) => format!("{acid} takes up {} of soda", soda.range_text()),
        _ => format!("{} of soda needs {acid}", soda.text),
    }
}
