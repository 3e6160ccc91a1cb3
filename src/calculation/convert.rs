//! What is this amount of this ingredient in another unit? Within a kind of measure the answer is exact; across volume, mass and count it goes through the ingredient.

mod food;
mod oven;

use serde::{Deserialize, Serialize};
use smol_str::SmolStr;
use utoipa::ToSchema;

use super::{Answer, Calculation};
use crate::formula::{LineRead, LineState, find_ingredient, read_line};
use crate::pan::OvenKind;
use crate::quantity::{
    Amount, Code, Counting, Drawer, Factor, Family, Fault, Faults, Measures, Number, Pointer, Quantity, Size, Unit, Written, read_amount,
};
use crate::reference::{Account, EggPart, Filled, Found, Measuring, Owed, Reference, egg_word, short, tell_fingers, tell_measures};

/// An amount to be converted.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ConvertQuestion {
    /// The amount: a number and a unit, as people write them.
    pub amount: Written,
    /// Of what: needed only to cross between volume, mass and count.
    #[schema(nullable = false, max_length = 200, examples("honey"))]
    pub ingredient: Option<String>,
    /// How the cup was filled, where it matters. Without it: every way, as a span.
    #[schema(nullable = false)]
    pub filled: Option<Filled>,
    /// What is wanted: a word of the kitchen, a UCUM code, an egg size ("large"), "gas mark", or the thing to be counted ("lemons", "egg whites").
    #[schema(max_length = 200, examples("g"))]
    pub to: String,
    /// The national set of cups and spoons. Without it: us, which is told.
    #[schema(nullable = false)]
    pub measures: Option<Measures>,
    /// The oven that the temperature was written for. Without it: conventional.
    #[schema(nullable = false)]
    pub from_oven: Option<OvenKind>,
    /// The oven of the answer. Without it: the same; of a gas mark, one without a fan.
    #[schema(nullable = false)]
    pub to_oven: Option<OvenKind>,
}

/// The amount as understood, and in the unit wanted.
#[derive(Debug, Serialize, ToSchema)]
pub struct ConvertAnswer {
    /// The amount as it was understood.
    pub amount: Quantity,
    /// The amount in the unit wanted.
    pub result: Quantity,
    #[serde(flatten)]
    pub owed: Owed,
}

impl Answer for ConvertAnswer {
    fn cell(&self) -> String {
        self.result.value.rounded().to_string()
    }

    fn owed(&self) -> &Owed {
        &self.owed
    }
}

/// The calculation.
pub struct Convert;

/// The unit that is wanted.
#[derive(Clone, Copy)]
enum Target {
    Unit(&'static Unit),
    Size(Size),
    /// So many eggs, of a size that was not said.
    Eggs,
    /// So many of a thing: lemons for their juice, whites.
    Thing(Found),
    /// So many of what it is sold in: cans, slices.
    Pack(&'static str),
}

/// The question, understood as far as it can be without crossing.
struct Asked<'q> {
    question: &'q ConvertQuestion,
    amount: Amount,
    target: Target,
    found: Option<Found>,
    /// What the ingredient was taken for.
    told: Option<String>,
    measures: Measures,
}

impl Calculation for Convert {
    const NAME: &'static str = "convert";
    const SUMMARY: &'static str = "What is this amount of this ingredient in another unit?";
    const DESCRIPTION: &'static str = "Converts one amount: cups to grams, grams to spoons, eggs of one class to another, °F to °C and gas mark, inches to centimetres, in the national measures that are named. Where a published figure stands between (a cup, an egg), the answer is a span with its sources. Use it for one amount; for a whole formula use batch or pan-scale. Not for currencies, energy or nutrition.";
    const FLAT: bool = true;

    type Question = ConvertQuestion;
    type Answer = ConvertAnswer;

    fn answer(question: &ConvertQuestion, reference: &'static Reference, account: &mut Account) -> Result<ConvertAnswer, Faults> {
        let asked = understand(question, reference, account)?;
        if let (Some(told), Some(found)) = (&asked.told, asked.found) {
            account.assume(told.clone(), &Pointer::ROOT.key("ingredient"), found.ingredient.name.clone());
        }
        let (amount, result) = converted(&asked, reference, account).map_err(Faults::from)?;
        let mut summary = String::with_capacity(96);
        speak(&mut summary, &asked, &amount, reference);
        // 180 °C is 392 °F in no book: the ovens are said where they differ.
        let [from, to] = oven::told(&asked);
        summary.extend([from, " is ", &result.text, to]);
        result.write_bracketed(&mut summary);
        if let Some(measured) = measured(&asked, &result) {
            summary.extend(["; measure ", &measured]);
        }
        let owed = account.settle(summary);
        Ok(ConvertAnswer { amount, result, owed })
    }
}

/// What was weighed or counted, in cups and spoons that there are: nobody has 2.4 cups.
fn measured(asked: &Asked<'_>, result: &Quantity) -> Option<SmolStr> {
    let Target::Unit(unit) = asked.target else { return None };
    let crossed = !matches!(&asked.amount.counting, Counting::Unit(from) if from.family == Family::Volume);
    if !crossed || unit.family != Family::Volume {
        return None;
    }
    Drawer::of(asked.measures).told(result.value.0, unit).filter(|told| *told != result.text)
}

/// The amount in a sentence: "2 cups of honey", "3 medium eggs", "The lemon juice of 2 lemons".
fn speak(sentence: &mut String, asked: &Asked<'_>, amount: &Quantity, reference: &'static Reference) {
    let Some(found) = asked.found else { return sentence.push_str(&amount.text) };
    let name = &*found.ingredient.name;
    match &asked.amount.counting {
        Counting::Nothing | Counting::Size(_) => sentence.push_str(&amount.text),
        Counting::Named(word) if !found.ingredient.is_sold_by(word) => {
            if reference.ingredients.find(word).is_some_and(|thing| thing.ingredient.id != found.ingredient.id) {
                sentence.extend(["The ", name, " of "]);
            }
            sentence.push_str(&amount.text);
        }
        Counting::Unit(unit) if unit.id == "dozen" => sentence.extend([&*amount.text, " ", found.ingredient.called(true)]),
        _ => sentence.extend([&*amount.text, " of ", name]),
    }
}

/// Reads every field, so that all faults are told at once.
fn understand<'q>(question: &'q ConvertQuestion, reference: &'static Reference, account: &mut Account) -> Result<Asked<'q>, Faults> {
    let root = Pointer::ROOT;
    let measures = question.measures.unwrap_or_default();
    let mut faults = Faults::new();
    let target = faults.keep(target(&question.to, measures, reference, &root.key("to")));
    let read = read_amount(&question.amount, measures, &root.key("amount"));
    let strange = match &read {
        Ok(amount) => matches!(&amount.counting, Counting::Named(word) if word.contains(' ') || reference.ingredients.find(word).is_none()),
        Err(_) => true,
    };
    if strange && let Some((amount, found, told)) = as_line(question, measures, reference, account) {
        let target = target.filter(|_| faults.is_empty()).ok_or(faults)?;
        let target = target.of(&found, &question.to);
        return Ok(Asked { question, amount, target, found: Some(found), told, measures });
    }
    let read = read.or_else(|fault| {
        let found = question.ingredient.as_deref().and_then(|name| reference.ingredients.find(name));
        found.and_then(|found| packed(&question.amount, &found, question, reference, account)).ok_or(fault)
    });
    let amount = faults.keep(read);
    let found = question.ingredient.as_deref().map(|name| find_ingredient(reference, name, &root.key("ingredient")));
    let mut found = found.and_then(|found| faults.keep(found));
    if let Some(amount) = &amount {
        known_word(amount, reference, &mut faults);
        not_below_nothing(amount, &mut faults);
    }
    let (Some(mut amount), Some(target), true) = (amount, target, faults.is_empty()) else { return Err(faults) };
    if found.is_none() {
        found = implied(&amount, target, reference);
    }
    let mut told = None;
    if let (Some(one), Some(name)) = (&mut found, &question.ingredient)
        && let Some(kind) = reference
            .ingredients
            .counted_as(one.ingredient, name, &amount)
            .or_else(|| food::counted_in(target, one.ingredient, name, reference))
    {
        one.ingredient = kind;
        told = Some(format!("Counted so, \"{name}\" is {}", kind.name));
    }
    if let Some(found) = found {
        reference.size(&mut amount, found.ingredient, question.ingredient.as_deref().unwrap_or_default(), found.size);
    }
    let target = found.map_or(target, |found| target.of(&found, &question.to));
    Ok(Asked { question, amount, target, found, told, measures })
}

/// "1 stick plus 2 tbsp": one amount only of what is sold in such sticks.
#[cold]
fn packed(
    amount: &Written,
    found: &Found,
    question: &ConvertQuestion,
    reference: &'static Reference,
    account: &mut Account,
) -> Option<Amount> {
    let root = Pointer::ROOT;
    let (measures_at, filled_at) = (root.key("measures"), root.key("filled"));
    let of = Measuring {
        ingredient: found.ingredient,
        form: found.form,
        filled: question.filled.or(found.filled),
        measures: question.measures.unwrap_or_default(),
        measures_at: question.measures.is_none().then_some(&measures_at),
        filled_at: &filled_at,
    };
    reference.in_packs(amount, &of, &root.key("amount"), account)
}

/// A word that is neither a unit nor a thing is a fault whatever else is wrong.
fn known_word(amount: &Amount, reference: &'static Reference, faults: &mut Faults) {
    if let Counting::Named(word) = &amount.counting {
        // A grade may stand before the thing: "silver sheets".
        let thing = word.rsplit(' ').next().unwrap_or(word);
        if reference.ingredients.piece_word(thing).is_none() && reference.ingredients.find(word).is_none() && egg_word(word).is_none() {
            let root = Pointer::ROOT;
            faults.push(amount.unknown_unit(word, &root.key("amount")));
        }
    }
}

/// Only a temperature, or a difference between two, can be below nothing.
fn not_below_nothing(amount: &Amount, faults: &mut Faults) {
    let cold = matches!(&amount.counting, Counting::Unit(unit) if matches!(unit.family, Family::Temperature | Family::TemperatureChange));
    if amount.number.low < 0.0 && !cold {
        let root = Pointer::ROOT;
        let found = format!("a negative amount, {}", amount.number.low);
        faults
            .push(Fault::new(&root.key("amount"), Code::OutOfRange, found, "0 or more").saying("Write the amount without the minus sign."));
    }
}

/// "3 eggs" and "2 large" name what they are of.
fn implied(amount: &Amount, target: Target, reference: &'static Reference) -> Option<Found> {
    match (&amount.counting, target) {
        (Counting::Named(word), _) => reference.ingredients.find(word),
        (Counting::Size(_), _) | (_, Target::Size(_) | Target::Eggs) => reference.ingredients.find("egg"),
        _ => None,
    }
}

fn target(word: &str, measures: Measures, reference: &'static Reference, at: &Pointer<'_>) -> Result<Target, Fault> {
    if let Some(unit) = Unit::of_word(word, measures) {
        return Ok(Target::Unit(unit));
    }
    // A size or another word is read as an amount of one, so that it knows every word that an amount knows.
    let one = Written::Pair { value: 1.0, unit: word.into() };
    match read_amount(&one, measures, at)?.counting {
        Counting::Unit(unit) => Ok(Target::Unit(unit)),
        Counting::Size(size) => Ok(Target::Size(size)),
        Counting::Named(named) => match egg_word(&named) {
            // Eggs count their parts too: so many whites of so many eggs.
            Some((size, EggPart::Whole)) => Ok(size.map_or(Target::Eggs, Target::Size)),
            Some((size, part)) => {
                let part = reference.ingredients.by_id(part.id()).ok_or_else(|| no_unit(word, at))?;
                Ok(Target::Thing(Found { size, ..Found::of(part) }))
            }
            None => {
                let thing = reference.ingredients.find(&named).map(Target::Thing);
                thing.or_else(|| reference.ingredients.piece_word(&named).map(Target::Pack)).ok_or_else(|| no_unit(word, at))
            }
        },
        _ => Err(no_unit(word, at)),
    }
}

fn no_unit(word: &str, at: &Pointer<'_>) -> Fault {
    let alone = word.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | ' '));
    if alone.len() < word.len() && Unit::of_word(alone, Measures::Us).is_some() {
        return Fault::new(at, Code::UnknownUnit, word, "a unit alone, see /v1/units").saying("Leave the number out.").trying([alone]);
    }
    let number = Amount { number: Number::exact(1.0), counting: Counting::Nothing };
    let mut fault = number.unknown_unit(word, at);
    fault.attempts.iter_mut().for_each(|unit| *unit = unit.trim_start_matches("1 ").to_owned());
    fault
}

/// "1½ sticks butter", "zest of 1 lemon", "1 cup, packed" of brown sugar: what is no bare amount is read as a line of a formula, if that leaves no doubt.
fn as_line(
    question: &ConvertQuestion,
    measures: Measures,
    reference: &'static Reference,
    account: &mut Account,
) -> Option<(Amount, Found, Option<String>)> {
    let Written::Text(text) = &question.amount else { return None };
    let line = question.ingredient.as_ref().map_or_else(|| text.to_string(), |name| format!("{text} {name}"));
    let LineRead::Items(items) = read_line(&line, measures, reference) else { return None };
    if items.iter().any(|item| !item.is_weighable() || item.state() != LineState::Understood || item.also.is_some()) {
        return None;
    }
    let mut items = items.into_iter();
    let (item, more, None) = (items.next()?, items.next(), items.next()) else { return None };
    let found = Found { form: item.form, filled: item.filled, ..Found::of(item.ingredient?) };
    let told = item.assumed.filter(|_| question.ingredient.is_none());
    let same = question
        .ingredient
        .as_deref()
        .is_none_or(|name| reference.ingredients.find(name).is_some_and(|named| named.ingredient.id == found.ingredient.id));
    let (one, more) = (item.amount?, more.filter(|_| same));
    let amount = match more {
        None => one.amount,
        // "1 stick plus 2 tbsp butter".
        Some(more) if more.ingredient.map(|other| &other.id) == Some(&found.ingredient.id) => {
            let whole = format!("{} plus {}", one.text, more.amount?.text);
            packed(&Written::Text(whole.into()), &found, question, reference, account)?
        }
        Some(_) => return None,
    };
    same.then_some((amount, found, told))
}

fn converted(asked: &Asked<'_>, reference: &'static Reference, account: &mut Account) -> Result<(Quantity, Quantity), Fault> {
    if let (Counting::Unit(from), Target::Unit(to)) = (&asked.amount.counting, asked.target) {
        if is_oven(from) && is_oven(to) {
            return oven::converted(asked, from, to, reference, account);
        }
        no_oven(asked.question)?;
        if from.family == to.family && from.family != Family::Count {
            return Ok(within(asked, from, to, account));
        }
        if !is_food(from) || !is_food(to) {
            return Err(kinds(asked, from, to));
        }
    }
    no_oven(asked.question)?;
    food::converted(asked, reference, account)
}

fn is_oven(unit: &Unit) -> bool {
    matches!(unit.family, Family::Temperature | Family::OvenMark)
}

fn is_food(unit: &Unit) -> bool {
    matches!(unit.family, Family::Mass | Family::Volume | Family::Count)
}

fn no_oven(question: &ConvertQuestion) -> Result<(), Fault> {
    let root = Pointer::ROOT;
    let at = match (question.from_oven, question.to_oven) {
        (Some(_), _) => root.key("from_oven"),
        (_, Some(_)) => root.key("to_oven"),
        _ => return Ok(()),
    };
    Err(Fault::new(&at, Code::NotTogether, "an oven", "an oven only beside a temperature"))
}

fn kinds(asked: &Asked<'_>, from: &Unit, to: &Unit) -> Fault {
    let at = Pointer::ROOT;
    if from.id == "celsius" && is_food(to) {
        let number = asked.amount.number.value;
        let cups = format!("{} {}", short(number), if number == 1.0 { "cup" } else { "cups" });
        return Fault::new(&at.key("amount"), Code::WrongUnit, "C, which is degrees Celsius", "a mass, a volume or a count")
            .saying("A cup is written c or cup")
            .trying([cups]);
    }
    Fault::new(&at.key("to"), Code::WrongUnit, to.family.word(), format!("a unit of the kind of {}", from.family.word())).saying(format!(
        "{} cannot become {}",
        from.family.word(),
        to.family.word()
    ))
}

/// Within one kind of measure: exact by definition.
fn within(asked: &Asked<'_>, from: &'static Unit, to: &'static Unit, account: &mut Account) -> (Quantity, Quantity) {
    let root = Pointer::ROOT;
    let at = root.key("measures");
    let at = asked.question.measures.is_none().then_some(&at);
    for (unit, field) in [(from, "amount"), (to, "to")] {
        tell_measures(unit, asked.measures, at, account);
        tell_fingers(unit, &root.key(field), account);
    }
    account.cite_id(from.source);
    account.cite_id(to.source);
    let number = &asked.amount.number;
    let times = |n: f64| n * from.size / to.size;
    account.step(|| format!("{} x {} / {} = {}", number.value, from.size, to.size, times(number.value)));
    let result = number.span().map(|figure| Factor::times(times(figure.value())));
    (understood(number, from, asked.measures), Quantity::in_unit(result, to))
}

/// An amount as it was understood, in its own unit.
fn understood(number: &Number, unit: &'static Unit, measures: Measures) -> Quantity {
    Quantity::understood(number.span(), unit, measures)
}

#[cfg(test)]
mod tests;
