//! What a formula weighs when it is done: as it says itself, else less what the tables assume to evaporate, else as mixed. Whichever it is, it is told. What the bowl keeps or the knife takes off has the same in a gram as the rest, so only what evaporates counts here.

use serde::Serialize;
use utoipa::ToSchema;

use super::ledger::{assumed, is_baked};
use super::nutrition::is_described;
use super::resolved::{Formula, Mixture};
use super::total::Total;
use super::unstyled::tell_fillings;
use super::written::MakesWritten;
use crate::quantity::{Factor, Faults, Mass, Pointer, Quantity, Span, read_mass};
use crate::reference::{Account, Constituent, Ingredient, Reference, Stage};

/// What the weight as sold rests on.
/// - `stated`: the formula says what it weighs when it is done.
/// - `losses`: what is mixed, less what the tables assume to evaporate, with their range.
/// - `mixed`: what is mixed, for nothing is known of what evaporates.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SoldBy {
    Stated,
    Losses,
    Mixed,
}

/// The weight as sold: at its value, and where as much and as little as may be has evaporated.
#[derive(Clone, Debug)]
pub struct AsSold {
    pub by: SoldBy,
    light: Total,
    value: Total,
    heavy: Total,
}

impl AsSold {
    /// The weight.
    pub fn mass(&self) -> Span<Mass> {
        Span::new(self.light.mass().low(), self.value.mass().value(), self.heavy.mass().high())
    }

    /// How much of something that does not evaporate is in a gram.
    pub(super) fn in_a_gram(&self, of: &Total) -> Span<Factor> {
        if of.is_nothing() {
            return Span::exact(Factor::ZERO);
        }
        Span::new(of.over(&self.heavy).low(), of.over(&self.value).value(), of.over(&self.light).high())
    }
}

/// What is dry, within the rounding of the tables.
const ROUNDED: Factor = Factor::times(0.99);

/// What the whole weighs when it is done.
pub fn as_sold(
    formula: &Formula,
    makes: Option<&MakesWritten>,
    pieces: u32,
    formula_at: &Pointer<'_>,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<AsSold, Faults> {
    let at = formula_at.key("makes");
    let stated = stated(formula, makes, pieces, &at)?;
    if let Some(mass) = stated.and_then(|stated| believed(formula, stated, account)) {
        let whole = Total::sharp(mass);
        return Ok(AsSold { by: SoldBy::Stated, light: whole.clone(), value: whole.clone(), heavy: whole });
    }
    Ok(dried(formula, &at.key("weight"), reference, account))
}

/// A weight that the formula states, and the field that states it.
struct Stated {
    mass: Mass,
    field: String,
}

fn stated(formula: &Formula, makes: Option<&MakesWritten>, pieces: u32, at: &Pointer<'_>) -> Result<Option<Stated>, Faults> {
    let mut faults = Faults::new();
    let mut read = |written: &Option<_>, key: &str| {
        let written = written.as_ref()?;
        let field = at.key(key);
        faults.keep(read_mass(written, formula.measures, &field)).map(|mass| Stated { mass, field: field.text() })
    };
    let weight = makes.and_then(|makes| read(&makes.weight, "weight"));
    let each = makes.and_then(|makes| read(&makes.each, "each"));
    if !faults.is_empty() {
        return Err(faults);
    }
    // What each weighs is said of the pieces that it makes, into however many it is cut now.
    let many = makes.and_then(|makes| makes.pieces).unwrap_or(pieces);
    Ok(weight.or(each.map(|each| Stated { mass: each.mass * Factor::times(f64::from(many)), ..each })))
}

/// Nothing grows heavier on its way, or lighter than what is dry in it: from another weight no figure would be right.
fn believed(formula: &Formula, stated: Stated, account: &mut Account) -> Option<Mass> {
    let mixed: Mass = formula.parts.iter().map(|part| part.total().mass().high()).sum();
    let dry: Mass = formula.mixtures().map(|mixture| mixture.sum(dry).mass().low()).sum();
    let text = |mass: Mass| Quantity::from(mass).text;
    let wrong = if stated.mass > mixed / ROUNDED {
        format!("more than the {} that are mixed", text(mixed))
    } else if stated.mass < dry * ROUNDED || stated.mass <= Mass::ZERO {
        format!("less than the {} in it that are not water", text(dry))
    } else {
        return Some(stated.mass);
    };
    account.assume_at(
        format!("The whole is said to weigh {} when it is done, {wrong}: that weight is not used", text(stated.mass)),
        stated.field,
        "not used",
    );
    None
}

/// What of a gram stays: it cannot evaporate, or is counted as if it did not, as alcohol is. Of an ingredient that nobody described it is not known.
fn dry(ingredient: &Ingredient) -> Factor {
    let Some(composition) = ingredient.composition.as_ref().filter(|_| is_described(ingredient)) else { return Factor::ZERO };
    let share = |constituent| composition.share(constituent).value();
    let solids = [Constituent::Protein, Constituent::Fat, Constituent::Carbohydrate, Constituent::Alcohol, Constituent::Ash].map(share);
    Factor::times(solids.iter().sum::<f64>().min(1.0))
}

/// Where water goes off; what other stages lose is the mixture itself.
const fn dries(stage: Stage) -> bool {
    matches!(stage, Stage::Cooking | Stage::Fermentation | Stage::Baking | Stage::Cooling)
}

fn dried(formula: &Formula, at: &Pointer<'_>, reference: &'static Reference, account: &mut Account) -> AsSold {
    let mut sold = AsSold { by: SoldBy::Mixed, light: Total::default(), value: Total::default(), heavy: Total::default() };
    for mixture in formula.mixtures() {
        let kept = kept(&mixture, at, reference, account);
        if kept.value() < Factor::ONE {
            sold.by = SoldBy::Losses;
        }
        let of = |kept: Factor| mixture.sum(|_| kept);
        sold.light = sold.light.plus(&of(kept.low()));
        sold.value = sold.value.plus(&of(kept.value()));
        sold.heavy = sold.heavy.plus(&of(kept.high()));
    }
    if sold.by == SoldBy::Losses {
        let root = Pointer::ROOT;
        tell_fillings(formula, &root.key("formula"), account);
        for mixture in formula.mixtures().filter(|mixture| mixture.style().is_none() && is_baked(formula, mixture.root)) {
            let text = format!("What {} loses in the oven is not known, for it names no style: nothing is counted", mixture.part().name);
            account.assume(text, at, "none");
        }
    } else {
        let text = "What it weighs when it is done was not said: it is taken to weigh what is mixed, as if nothing evaporated";
        account.assume(text, at, Quantity::from(formula.mass()).text.to_string());
    }
    account.step(|| format!("As sold {}, of {} mixed", Quantity::from(sold.mass()).range_text(), Quantity::from(formula.mass()).text));
    sold
}

/// What is left of a gram of a mixture: at the most, the usual and the least loss.
fn kept(mixture: &Mixture<'_>, at: &Pointer<'_>, reference: &'static Reference, account: &mut Account) -> Span<Factor> {
    let mut kept = Span::exact(Factor::ONE);
    let name = &mixture.part().name;
    for loss in assumed(mixture.formula, mixture.root, reference).into_iter().filter(|loss| dries(loss.stage)) {
        kept = kept * loss.percent.figure.map_falling(|percent| Factor::times(1.0 - percent.as_factor().value()));
        account.cite(loss.percent.citation);
        account.assume(loss.told_of(name), at, loss.told_percent.as_str());
    }
    // No more goes than there is to go.
    let least = mixture.sum(dry).over(&mixture.whole()).value();
    if kept.value() < least {
        account.assume(format!("{name} loses no more than its water"), at, "dry");
    }
    kept.map(|share| if share < least { least } else { share })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::FormulaWritten;

    #[track_caller]
    fn sold(more: &str, pieces: u32) -> (SoldBy, f64, Vec<(String, String)>) {
        sold_of("600 g", more, pieces)
    }

    #[track_caller]
    fn sold_of(water: &str, more: &str, pieces: u32) -> (SoldBy, f64, Vec<(String, String)>) {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let text = format!(
            r#"{{"parts":[{{"name":"dough","lines":[{{"ingredient":"bread flour","amount":"1000 g"}},{{"ingredient":"water","amount":"{water}"}}]}}]{more}}}"#
        );
        let written: FormulaWritten = serde_json::from_str(&text).unwrap_or_else(|fault| panic!("{text}: {fault}"));
        let (mut account, mut faults) = (Account::new(reference, false), Faults::new());
        let formula = Formula::resolve(&written, &Pointer::ROOT, reference, &mut account, &mut faults);
        let formula = formula.unwrap_or_else(|| panic!("{faults:#?}"));
        let mut account = account.beside();
        let sold = as_sold(&formula, written.makes.as_ref(), pieces, &Pointer::ROOT, reference, &mut account);
        let sold = sold.unwrap_or_else(|faults| panic!("{faults:#?}"));
        let told = account.settle(String::new()).assumptions.into_iter().map(|told| (told.field, told.value.into_owned())).collect();
        (sold.by, sold.mass().value().in_grams(), told)
    }

    #[test]
    fn the_weight_that_the_formula_states_stands_and_nothing_is_assumed() {
        assert_eq!(sold(r#","makes":{"weight":"1.4 kg"}"#, 1), (SoldBy::Stated, 1400.0, vec![]));
        assert_eq!(sold(r#","makes":{"pieces":20,"each":"70 g"}"#, 20), (SoldBy::Stated, 1400.0, vec![]));
    }

    #[test]
    fn what_each_weighs_is_said_of_the_pieces_that_it_makes_and_not_of_those_it_is_cut_into() {
        assert_eq!(sold(r#","makes":{"pieces":20,"each":"70 g"}"#, 10).1, 1400.0);
        assert_eq!(sold(r#","makes":{"each":"70 g"}"#, 20).1, 1400.0);
    }

    /// A pan loaf: 1 % in fermentation, 10.7 % in baking; what dividing and the bowl keep has the same in a gram.
    #[test]
    fn of_a_style_only_what_evaporates_goes_off_and_each_loss_is_told() {
        let (by, mass, told) = sold(r#","style":"lean-dough""#, 1);
        assert_eq!(by, SoldBy::Losses);
        assert!((mass - 1600.0 * 0.99 * 0.893).abs() < 1e-9, "{mass}");
        let told: Vec<_> = told.iter().map(|(field, value)| (field.as_str(), value.as_str())).collect();
        assert_eq!(told, [("/makes/weight", "1 %"), ("/makes/weight", "10.7 %")]);
    }

    #[test]
    fn without_a_style_it_weighs_what_is_mixed_and_that_is_told() {
        let (by, mass, told) = sold("", 1);
        assert_eq!((by, mass, told.len()), (SoldBy::Mixed, 1600.0, 1));
    }

    #[test]
    fn a_weight_that_cannot_be_is_told_and_not_used() {
        for weight in ["12 kg", "500 g"] {
            let (by, mass, told) = sold(&format!(r#","makes":{{"weight":"{weight}"}}"#), 1);
            assert_eq!((by, mass), (SoldBy::Mixed, 1600.0));
            assert!(told.contains(&("/makes/weight".to_owned(), "not used".to_owned())), "{told:?}");
        }
    }

    #[test]
    fn no_more_water_goes_than_there_is() {
        let (_, mass, told) = sold_of("200 g", r#","style":"choux""#, 1);
        // SR28: of 100 g of bread flour 11.98, 1.66, 72.53 and 0.47 g are protein, fat, carbohydrate and ash; of tap water 0.1 g.
        assert!((mass - 866.6).abs() < 1e-9, "{mass}");
        assert!(told.iter().any(|(_, value)| value == "dry"), "{told:?}");
    }
}
