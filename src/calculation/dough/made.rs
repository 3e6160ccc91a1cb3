//! The dough of a question: percentages or a formula, preferments named or parted, at the size wanted.

use serde::Deserialize;
use utoipa::ToSchema;

use super::want::{Wanted, understood as want_understood};
use super::{DoughQuestion, parts};
use crate::calculation::percent::{LEAST_FLOUR, tell_share};
use crate::formula::{Dough, Known, Preferment, STARCH_IS_FLOUR, Seed, find_ingredient, parted, starch_stands_as_flour, straight};
use crate::quantity::{Code, Factor, Fault, Faults, Mass, Percent, Pointer, Share, behind_the, longer, plain};
use crate::reference::{Account, Class, Reference, short};

/// One ingredient of an overall formula.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PercentageWritten {
    /// The ingredient by any of its names.
    #[schema(max_length = 200, examples("water"))]
    pub ingredient: String,
    /// Hundredths of all flour.
    #[schema(exclusive_minimum = 0.0, maximum = 1000.0, examples(68.0))]
    pub percent: f64,
}

/// A preferment: a part of the formula by its name; or, with `prefermented_flour`, one to be parted from the dough.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PrefermentWritten {
    /// What it is called: for a part of the formula, its name there.
    #[schema(max_length = 200, examples("poolish"))]
    pub part: String,
    /// The share of all flour that is mixed into it, in percent.
    #[schema(nullable = false, exclusive_minimum = 0.0, maximum = 100.0, examples(34.2))]
    pub prefermented_flour: Option<f64>,
    /// Its water, in percent of its own flour.
    #[schema(nullable = false, minimum = 20.0, maximum = 300.0, examples(100.0))]
    pub hydration: Option<f64>,
    /// Which flour it takes. Without it: the heaviest, which is told.
    #[schema(nullable = false, max_length = 200, examples("bread flour"))]
    pub flour: Option<String>,
    /// The share of the dough's yeast that goes into it, in percent of its own flour. Without it and without a seed: none, which is told.
    #[schema(nullable = false, minimum = 0.0, maximum = 20.0, examples(0.06))]
    pub yeast: Option<f64>,
    /// The share of the dough's salt that goes into it, in percent of its own flour.
    #[schema(nullable = false, minimum = 0.0, maximum = 10.0, examples(2.0))]
    pub salt: Option<f64>,
    /// The ripe starter it is fed from: its flour and water count as the dough's own.
    #[schema(nullable = false)]
    pub seed: Option<SeedWritten>,
}

/// The ripe starter that a levain is fed from.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SeedWritten {
    /// Its weight, in percent of the flour it is fed.
    #[schema(exclusive_minimum = 0.0, maximum = 500.0, examples(20.0))]
    pub percent: f64,
    /// Its own water, in percent of its flour. Without it: 100, which is told.
    #[schema(nullable = false, minimum = 20.0, maximum = 300.0, examples(100.0))]
    pub hydration: Option<f64>,
}

/// The least and the most that a preferment, or a starter, is hydrated.
const WET: std::ops::RangeInclusive<f64> = 20.0..=300.0;
/// Flours of an overall formula make 100 %, but for what print rounds off.
const ROUNDED: f64 = 0.5;

/// The dough, as it is wanted; nothing where none was given or where anything is at fault.
pub(super) fn understood(
    question: &DoughQuestion,
    reference: &'static Reference,
    account: &mut Account,
    faults: &mut Faults,
) -> Option<Dough> {
    let root = Pointer::ROOT;
    let before = faults.total();
    let want = question.want.as_ref().map(|want| want_understood(want, &root.key("want"), account, faults));
    let targets = targets(question, reference, account, faults);
    let dough = match (&question.formula, &question.percentages) {
        (Some(_), _) => parts::gathered(question, reference, account, faults),
        (None, Some(percentages)) => by_percentages(percentages, &root.key("percentages"), reference, faults),
        _ => None,
    };
    let dough = dough.filter(|_| faults.total() == before)?;
    if dough.whole().starch_is_flour() {
        let written = if question.percentages.is_some() { "percentages" } else { "formula" };
        account.assume(STARCH_IS_FLOUR, &root.key(written), "flour-and-starch");
    }
    let want = match (want.flatten(), &question.percentages) {
        (None, Some(_)) => {
            account.assume("How much dough is wanted was not said: 1000 g of flour", &root.key("want"), "1000 g of flour");
            Some(Wanted::Flour(Mass::grams(1000.0)))
        }
        (want, _) => want,
    };
    let sized = sized(dough, want, &root.key("want"), account, faults)?;
    match parted(sized, &targets, &root.key("preferments"), reference) {
        Ok(dough) => Some(dough),
        Err(found) => {
            faults.append(found);
            None
        }
    }
}

fn sized(dough: Dough, want: Option<Wanted>, at: &Pointer<'_>, account: &mut Account, faults: &mut Faults) -> Option<Dough> {
    let (flour, whole) = (dough.flour().mass().value(), dough.whole().whole().mass().value());
    let factor = match want {
        None => return Some(dough),
        Some(Wanted::Flour(wanted)) => wanted / flour,
        Some(Wanted::Dough(wanted)) => wanted / whole,
    };
    if !(1e-6..=1e6).contains(&factor.value()) {
        let found = format!("{} times the dough that is given", short(factor.value()));
        faults.push(Fault::new(at, Code::OutOfRange, found, "from a millionth to a million times the dough that is given"));
        return None;
    }
    account.step(|| {
        let grams = |mass: Mass| short((mass * factor).in_grams());
        let share = (whole / flour).value();
        format!("dough {} g / {} (all percentages together, of flour as 1) = {} g of flour", grams(whole), short(share), grams(flour))
    });
    Some(dough.times(factor))
}

fn by_percentages(written: &[PercentageWritten], at: &Pointer<'_>, reference: &'static Reference, faults: &mut Faults) -> Option<Dough> {
    if written.is_empty() || written.len() > 100 {
        let code = if written.is_empty() { Code::EmptyFormula } else { Code::TooMany };
        faults.push(Fault::new(at, code, format!("{} lines", written.len()), "from 1 to 100 lines"));
        return None;
    }
    let before = faults.total();
    let mut lines = Vec::with_capacity(written.len());
    for (index, line) in written.iter().enumerate() {
        let at = at.index(index);
        let found = faults.keep(find_ingredient(reference, &line.ingredient, &at.key("ingredient")));
        let percent = within(line.percent, 0.0..=1000.0, &at.key("percent"), faults).filter(|percent| *percent > 0.0);
        if percent.is_none() && line.percent == 0.0 {
            faults.push(Fault::new(&at.key("percent"), Code::OutOfRange, "0", "above 0 %"));
        }
        if let (Some(found), Some(percent)) = (found, percent) {
            lines.push((Known::Table(found.ingredient), Percent::of_hundred(percent)));
        }
    }
    let of = |class| -> f64 { lines.iter().map(|(known, percent)| percent.value() * known.counts_as(class).value()).sum() };
    let starch = if starch_stands_as_flour(lines.iter().map(|(known, _)| &**known)) { of(Class::Starch) } else { 0.0 };
    let flour = of(Class::Flour) + starch;
    if faults.total() > before {
        return None;
    }
    if (flour - 100.0).abs() > ROUNDED {
        let code = if flour == 0.0 { Code::NoBase } else { Code::OutOfRange };
        let fault = Fault::new(at, code, format!("flours that make {} %", short(flour)), "flours that together make 100 %");
        // Flours that make 1 are shares of one.
        let said = if (flour * 100.0 - 100.0).abs() <= ROUNDED {
            "These are shares of one: write each as percent, a hundred times as much, 65 for 0.65"
        } else {
            "Percentages are of all flour: several flours share the 100 %, and a starter's flour counts with them"
        };
        faults.push(fault.saying(said));
        return None;
    }
    Some(straight(&lines, Mass::grams(1000.0) * Factor::times(100.0 / flour), "final dough"))
}

/// The preferments that are to be parted, each with its place in the question.
fn targets(
    question: &DoughQuestion,
    reference: &'static Reference,
    account: &mut Account,
    faults: &mut Faults,
) -> Vec<(Preferment, usize)> {
    let root = Pointer::ROOT;
    let list = root.key("preferments");
    let written = question.preferments.as_deref().unwrap_or_default();
    if written.len() > 10 {
        faults.push(Fault::new(&list, Code::TooMany, format!("{} preferments", written.len()), "at most 10 preferments"));
        return Vec::new();
    }
    let mut targets = Vec::new();
    for (index, one) in written.iter().enumerate() {
        let at = list.index(index);
        let is_it = |other: &PrefermentWritten| plain(&other.part) == plain(&one.part);
        if written[..index].iter().any(is_it) {
            faults.push(Fault::new(&at.key("part"), Code::RepeatedField, &*one.part, "a name of its own for each preferment"));
        }
        if let Some(flour) = one.prefermented_flour {
            targets.extend(target(one, flour, &at, reference, account, faults).map(|target| (target, index)));
        } else if question.formula.is_none() && question.percentages.is_some() {
            let accepted = "the share of all flour that is mixed into it";
            faults.push(Fault::new(&at.key("prefermented_flour"), Code::MissingField, "nothing", accepted));
        }
    }
    let shares: f64 = targets.iter().map(|(target, _)| target.flour.value()).sum();
    if shares > 1.0 + 1e-9 {
        faults.push(Fault::new(
            &list,
            Code::OutOfRange,
            format!("{} % of the flour", short(shares * 100.0)),
            "at most 100 % of the flour in all preferments",
        ));
    }
    targets
}

fn target(
    written: &PrefermentWritten,
    flour: f64,
    at: &Pointer<'_>,
    reference: &'static Reference,
    account: &mut Account,
    faults: &mut Faults,
) -> Option<Preferment> {
    let flour = within(flour, 0.000_1..=100.0, &at.key("prefermented_flour"), faults);
    if let Some(flour) = flour {
        let who = format!("The {} takes", behind_the(&written.part));
        tell_share(Percent::of_hundred(flour), LEAST_FLOUR, &who, " of all flour", &at.key("prefermented_flour"), account);
    }
    if written.part.trim().is_empty() || longer(&written.part, 200) {
        faults.push(Fault::new(&at.key("part"), Code::TextTooLong, &*written.part, "a name of 1 to 200 characters"));
    }
    let hydration = match written.hydration {
        Some(hydration) => within(hydration, WET, &at.key("hydration"), faults),
        None => {
            faults.push(Fault::new(
                &at.key("hydration"),
                Code::MissingField,
                "nothing",
                "its water in percent of its flour, from 20 to 300",
            ));
            None
        }
    };
    let yeast = written.yeast.map(|yeast| within(yeast, 0.0..=20.0, &at.key("yeast"), faults).map(Percent::of_hundred));
    let salt = written.salt.map(|salt| within(salt, 0.0..=10.0, &at.key("salt"), faults).map(Percent::of_hundred));
    let of = written.flour.as_deref().map(|name| faults.keep(find_ingredient(reference, name, &at.key("flour"))));
    let seed = written.seed.as_ref().map(|seed| seeded(seed, &at.key("seed"), account, faults));
    if written.yeast.is_none() && written.seed.is_none() {
        account.assume(
            format!("No yeast is taken for the {}: all of it goes into the final dough", behind_the(&written.part)),
            &at.key("yeast"),
            "0 %",
        );
    }
    if written.flour.is_none() {
        account.assume(
            format!("The {} takes the heaviest flour of the dough", behind_the(&written.part)),
            &at.key("flour"),
            "the heaviest",
        );
    }
    Some(Preferment {
        name: written.part.clone(),
        flour: Share::of_one(flour? / 100.0),
        hydration: Factor::times(hydration? / 100.0),
        of: match of {
            Some(found) => Some(found?.ingredient.id.clone()),
            None => None,
        },
        yeast: yeast.flatten(),
        salt: salt.flatten(),
        seed: seed.flatten(),
    })
}

fn seeded(written: &SeedWritten, at: &Pointer<'_>, account: &mut Account, faults: &mut Faults) -> Option<Seed> {
    let percent = within(written.percent, 0.000_1..=500.0, &at.key("percent"), faults);
    let hydration = match written.hydration {
        Some(hydration) => within(hydration, WET, &at.key("hydration"), faults),
        None => {
            account.assume("The ripe starter is half flour and half water", &at.key("hydration"), "100 %");
            Some(100.0)
        }
    };
    Some(Seed { percent: Percent::of_hundred(percent?), hydration: Factor::times(hydration? / 100.0) })
}

fn within(figure: f64, range: std::ops::RangeInclusive<f64>, at: &Pointer<'_>, faults: &mut Faults) -> Option<f64> {
    if range.contains(&figure) {
        return Some(figure);
    }
    let fault = Fault::new(at, Code::OutOfRange, format!("{figure} %"), format!("from {} % to {} %", range.start(), range.end()));
    let percent = figure * 100.0;
    let is_share = figure > 0.0 && figure < *range.start() && range.contains(&percent);
    faults.push(if is_share {
        fault.saying("Write it in percent, not as a share of one").trying([short(percent).to_string()])
    } else {
        fault
    });
    None
}
