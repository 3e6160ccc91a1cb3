//! What is this amount of this ingredient in another unit? Within a kind of measure the answer is exact; across volume, mass and count it goes through the ingredient.

mod food;
mod oven;

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::{Answer, Calculation};
use crate::formula::find_ingredient;
use crate::pan::OvenKind;
use crate::quantity::{
    Amount, Code, Counting, Factor, Family, Fault, Faults, Measures, Number, Pointer, Quantity, Size, Unit, Written, read_amount,
};
use crate::reference::{Account, Filled, Found, Owed, Reference, piece, tell_fingers, tell_measures};

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
    /// The unit wanted: a word of the kitchen, a UCUM code, an egg size ("large"), "gas mark".
    #[schema(max_length = 200, examples("g"))]
    pub to: String,
    /// The national set of cups and spoons. Without it: us, which is told.
    #[schema(nullable = false)]
    pub measures: Option<Measures>,
    /// The oven that the temperature was written for. Without it: conventional.
    #[schema(nullable = false)]
    pub from_oven: Option<OvenKind>,
    /// The oven that the temperature is wanted for. Without it: the same.
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
}

/// The question, understood as far as it can be without crossing.
struct Asked<'q> {
    question: &'q ConvertQuestion,
    amount: Amount,
    target: Target,
    found: Option<Found>,
    measures: Measures,
}

impl Calculation for Convert {
    const NAME: &'static str = "convert";
    const SUMMARY: &'static str = "What is this amount of this ingredient in another unit?";
    const DESCRIPTION: &'static str = "Converts one amount: cups to grams, grams to spoons, eggs of one class to another, °F to °C and gas mark, inches to centimetres, in the national set of measures that is named. Where a published figure stands between (the weight of a cup, of an egg), the answer is a span with its sources. Use it for one amount; for a whole formula use batch or pan-scale. Not for currencies, energy or nutrition.";
    const FLAT: bool = true;

    type Question = ConvertQuestion;
    type Answer = ConvertAnswer;

    fn answer(question: &ConvertQuestion, reference: &'static Reference, account: &mut Account) -> Result<ConvertAnswer, Faults> {
        let asked = understand(question, reference)?;
        let (amount, result) = converted(&asked, reference, account).map_err(Faults::from)?;
        let mut summary = String::with_capacity(96);
        speak(&mut summary, &asked, &amount, reference);
        summary.extend([" is ", &result.text]);
        if result.spread().is_some() {
            summary.push_str(" (");
            result.write_range(&mut summary);
            summary.push(')');
        }
        let owed = account.settle(summary);
        Ok(ConvertAnswer { amount, result, owed })
    }
}

/// The amount in a sentence: "2 cups of honey", "3 medium eggs", "The lemon juice of 2 lemons".
fn speak(sentence: &mut String, asked: &Asked<'_>, amount: &Quantity, reference: &'static Reference) {
    let Some(found) = asked.found else { return sentence.push_str(&amount.text) };
    let name = &*found.ingredient.name;
    match &asked.amount.counting {
        Counting::Nothing | Counting::Size(_) => sentence.push_str(&amount.text),
        Counting::Named(word) if found.ingredient.counted(word.trim_end_matches('s'), None).is_none() => {
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
fn understand<'q>(question: &'q ConvertQuestion, reference: &'static Reference) -> Result<Asked<'q>, Faults> {
    let root = Pointer::ROOT;
    let measures = question.measures.unwrap_or_default();
    let mut faults = Faults::new();
    let amount = faults.keep(read_amount(&question.amount, measures, &root.key("amount")));
    let found = question.ingredient.as_deref().map(|name| find_ingredient(reference, name, &root.key("ingredient")));
    let mut found = found.and_then(|found| faults.keep(found));
    let target = faults.keep(target(&question.to, measures, &root.key("to")));
    if let Some(amount) = &amount {
        known_word(amount, reference, &mut faults);
        not_below_nothing(amount, &mut faults);
    }
    let (Some(amount), Some(target), true) = (amount, target, faults.is_empty()) else { return Err(faults) };
    if found.is_none() {
        found = implied(&amount, target, reference);
    }
    let amount = match found.and_then(|found| found.size) {
        Some(size) => amount.in_size(size),
        None => amount,
    };
    Ok(Asked { question, amount, target, found, measures })
}

/// A word that is neither a unit nor a thing is a fault whatever else is wrong.
fn known_word(amount: &Amount, reference: &'static Reference, faults: &mut Faults) {
    if let Counting::Named(word) = &amount.counting {
        let single = word.strip_suffix('s').unwrap_or(word);
        // A grade may stand before the thing: "silver sheets".
        let single = piece(single.rsplit(' ').next().unwrap_or(single));
        let counted = reference.ingredients.all.iter().any(|known| known.counted.iter().any(|piece| piece.unit == single));
        if !counted && reference.ingredients.find(word).is_none() {
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
        (Counting::Size(_), _) | (_, Target::Size(_)) => reference.ingredients.find("egg"),
        _ => None,
    }
}

fn target(word: &str, measures: Measures, at: &Pointer<'_>) -> Result<Target, Fault> {
    if let Some(unit) = Unit::of_word(word, measures) {
        return Ok(Target::Unit(unit));
    }
    // A size or another word is read as an amount of one, so that it knows every word that an amount knows.
    let one = Written::Pair { value: 1.0, unit: word.into() };
    match read_amount(&one, measures, at)?.counting {
        Counting::Unit(unit) => Ok(Target::Unit(unit)),
        Counting::Size(size) => Ok(Target::Size(size)),
        Counting::Named(named) if matches!(&*named, "egg" | "eggs") => Ok(Target::Size(Size::LARGE)),
        _ => {
            let number = Amount { number: Number::exact(1.0), counting: Counting::Nothing };
            let mut fault = number.unknown_unit(word, at);
            fault.attempts.iter_mut().for_each(|unit| *unit = unit.trim_start_matches("1 ").to_owned());
            Err(fault)
        }
    }
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
            return Err(kinds(from, to));
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

fn kinds(from: &Unit, to: &Unit) -> Fault {
    let at = Pointer::ROOT;
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
    (understood(number, from), Quantity::in_unit(result, to))
}

/// An amount as it was understood, in its own unit.
fn understood(number: &Number, unit: &'static Unit) -> Quantity {
    Quantity::in_unit(number.span(), unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn ask(question: &str) -> ConvertAnswer {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let question = serde_json::from_str(question).unwrap_or_else(|fault| panic!("{question}: {fault}"));
        Convert::answer(&question, reference, &mut Account::new(reference, true)).unwrap_or_else(|faults| panic!("{faults:?}"))
    }

    #[track_caller]
    fn gives(question: &str, value: f64, text: &str) {
        let answer = ask(question);
        assert!((answer.result.value.0 - value).abs() <= value.abs() * 1e-6, "{question}: {answer:#?}");
        assert_eq!(answer.result.text, text, "{question}");
    }

    #[test]
    fn definitions_are_exact() {
        gives(r#"{"amount":"1 gal","to":"ml"}"#, 3785.411784, "3785 ml");
        gives(r#"{"amount":"40 oz","to":"g"}"#, 1133.980925, "1134 g");
        gives(r#"{"amount":"3 australian tbsp","to":"us tbsp"}"#, 4.057682724, "4.06 tbsp");
        gives(r#"{"amount":"9 in","to":"cm"}"#, 22.86, "22.86 cm");
    }

    #[test]
    fn a_cup_of_flour_is_a_span_until_the_way_of_filling_is_said() {
        let open = ask(r#"{"amount":"2 cups","ingredient":"all-purpose flour","to":"g"}"#);
        assert_eq!(open.result.range_text(), "220–320 g");
        let spooned = ask(r#"{"amount":"2 cups","ingredient":"all-purpose flour","to":"g","filled":"spooned"}"#);
        assert_eq!(spooned.result.text, "252 g");
        assert!(open.owed.assumptions.iter().any(|a| a.field == "/filled"));
    }

    #[test]
    fn ovens_are_told_apart() {
        gives(r#"{"amount":"350 F","to":"C"}"#, 176.6666667, "177 °C");
        gives(r#"{"amount":"gas mark 4","to":"F"}"#, 350.0, "350 °F");
        gives(r#"{"amount":"350 F","to":"gas mark"}"#, 4.0, "gas mark 4");
        let fan = ask(r#"{"amount":"180 C","to":"C","to_oven":"fan"}"#);
        assert_eq!((fan.result.low.map(|f| f.0), fan.result.value.0, fan.result.high.map(|f| f.0)), (Some(152.0), 160.0, Some(167.0)));
    }

    #[test]
    fn eggs_are_counted_across_classes() {
        gives(r#"{"amount":"5 large","ingredient":"egg","to":"medium"}"#, 250.0 / 44.0, "5.68 medium eggs (US)");
        gives(r#"{"amount":"3 eggs","to":"g"}"#, 150.0, "150 g");
        assert_eq!(ask(r#"{"amount":"3","ingredient":"medium eggs","to":"g","measures":"uk"}"#).result.text, "155 g");
        assert_eq!(ask(r#"{"amount":"1 dozen","ingredient":"medium eggs","to":"kg","measures":"uk"}"#).result.text, "0.619 kg");
        assert!(
            ask(r#"{"amount":"1 lemon","ingredient":"lemon","to":"ml"}"#)
                .owed
                .assumptions
                .iter()
                .any(|assumed| assumed.value == "lemon juice")
        );
        assert_eq!(ask(r#"{"amount":"1 tin","ingredient":"evaporated milk","to":"g"}"#).result.text, "354 g");
        assert_eq!(ask(r#"{"amount":"pinch","ingredient":"salt","to":"ml"}"#).result.text, "0.31 ml");
        assert!(ask(r#"{"amount":"3 bananas","ingredient":"banana","to":"g"}"#).owed.summary.starts_with("3 bananas is "));
        gives(r#"{"amount":"2 lemons","ingredient":"lemon juice","to":"g"}"#, 96.0, "96 g");
        gives(r#"{"amount":"4 silver sheets","ingredient":"sheet gelatin","to":"g"}"#, 10.0, "10 g");
        gives(r#"{"amount":"1 stick","ingredient":"butter","to":"g"}"#, 113.4, "113 g");
    }
}
