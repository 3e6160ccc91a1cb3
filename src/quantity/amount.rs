//! How an amount is read: a number, then what it counts. `1 lb 4 oz` and `1 cup plus 2 tablespoons` add up, `1 cup less 1 tablespoon` is what is left; `gas mark 4` and `No. 16 disher` begin with the unit.

use super::code::Code;
use super::compound;
use super::fault::Fault;
use super::measure::Factor;
use super::no_unit::single_pack;
use super::number::{Number, bounded, read_number};
use super::plainly::plainly;
use super::pointer::Pointer;
use super::size::{EGGS, Size, size, size_in_full};
use super::spoken::{strip_ignoring_case, with_part, word_number};
use super::unit::{Family, Measures, Unit};
use super::vocabulary::plain;
use super::written::Written;

/// A number of something.
#[derive(Clone, Debug, PartialEq)]
pub struct Amount {
    pub number: Number,
    pub counting: Counting,
}

impl Amount {
    /// The same of things of this size, where it counts things and says no size of its own.
    pub fn put_in_size(&mut self, size: Size) {
        match &self.counting {
            Counting::Nothing => {}
            Counting::Named(word) if EGGS.contains(&&*plain(word)) => {}
            Counting::Unit(unit) if unit.family == Family::Count && matches!(unit.id, "each" | "dozen") => {
                self.number = self.number.times(unit.size);
            }
            _ => return,
        }
        self.counting = Counting::Size(size);
    }
}

/// What a number counts.
#[derive(Clone, Debug, PartialEq)]
pub enum Counting {
    /// A unit.
    Unit(&'static Unit),
    /// Levelled dishers, so many of which empty a US quart.
    Disher(Factor),
    /// Things sold by size, such as eggs.
    Size(Size),
    /// A word that is no unit: perhaps the thing itself ("3 eggs", "2 lemons").
    Named(Box<str>),
    /// Nothing: a bare number.
    Nothing,
}

/// The longest text that an amount may be.
const LONGEST: usize = 200;

/// Reads an amount as written.
pub fn read_amount(written: &Written, measures: Measures, at: &Pointer<'_>) -> Result<Amount, Fault> {
    match written {
        Written::Text(text) => read_text(text, measures, at).map_err(|fault| with_unit(fault, text)),
        Written::Pair { value, unit } => {
            let number = pair_number(*value, &at.key("value"))?;
            let counting = counted(unit.trim(), measures, &at.key("unit"))?;
            Ok(Amount { number, counting })
        }
    }
}

/// What may be tried in place of a number with two readings is the amount as a whole, whatever stands before and behind the number.
#[cold]
fn with_unit(mut fault: Fault, text: &str) -> Fault {
    if fault.code == Code::AmbiguousNumber {
        let found = fault.found.clone();
        fault.attempts.iter_mut().for_each(|attempt| *attempt = text.trim().replacen(&found, attempt, 1));
    }
    fault
}

/// A value given as a number passes the same gate as one given as a text.
fn pair_number(value: f64, at: &Pointer<'_>) -> Result<Number, Fault> {
    bounded(Number::exact(value), at)
}

fn read_text(text: &str, measures: Measures, at: &Pointer<'_>) -> Result<Amount, Fault> {
    // "400 g", "1 1/2 cups": nearly every amount is a plain figure and a word of the table, and needs no further look.
    if let Some((figure, word)) = plainly(text)
        && let Some(unit) = Unit::exactly(word.strip_prefix(' ').unwrap_or(word), measures)
    {
        return Ok(Amount { number: Number::exact(figure), counting: Counting::Unit(unit) });
    }
    let text = text.trim();
    if text.len() > LONGEST {
        return Err(Fault::new(at, Code::TextTooLong, text, format!("at most {LONGEST} characters")));
    }
    let Some((number, rest)) = read_number(text, at)? else { return unit_first(text, measures, at) };
    // "1 and a half cups".
    let (number, rest) = match number.is_exact().then(|| with_part(number.value, rest)) {
        Some((value, behind)) if behind.len() < rest.len() => (Number::exact(value), behind),
        _ => (number, rest),
    };
    if let Some(each) = compound::each_of(&number, rest) {
        let each = read_text(each, measures, at)?;
        return Ok(Amount { number: each.number.times(number.value), counting: each.counting });
    }
    whole(number, rest, text, measures, at)
}

/// A number with all that stands behind it.
fn whole(number: Number, rest: &str, text: &str, measures: Measures, at: &Pointer<'_>) -> Result<Amount, Fault> {
    let (unit, further) = compound::split(rest.trim());
    let mut amount = of_number(number, unit, measures, at)?;
    if let Some((joint, further)) = further {
        compound::join(&mut amount, joint, &read_text(further, measures, at)?, text, at)?;
    }
    Ok(amount)
}

/// What says that a figure is not exact, and changes nothing of it. What says in which way it is not ("scant", "nearly", "up to") is none of these: a line keeps
/// it as a remark, and an amount has no place for one.
pub const NEARLY: [&str; 15] = [
    "about ",
    "approx. ",
    "approx ",
    "approximately ",
    "ca. ",
    "ca ",
    "circa ",
    "roughly ",
    "around ",
    "abt. ",
    "abt ",
    "±",
    "+/-",
    "~",
    "≈",
];

/// So many of what stands behind the number: "2 dozen large eggs" are 24, and so are "2 large dozen".
fn of_number(number: Number, word: &str, measures: Measures, at: &Pointer<'_>) -> Result<Amount, Fault> {
    if let Some(size) = word.strip_suffix(" dozen").and_then(size) {
        return Ok(Amount { number: number.times(Unit::known("dozen").size), counting: Counting::Size(size) });
    }
    if let Some(things) = ["dozen ", "dozens "].iter().find_map(|dozen| word.strip_prefix(dozen)) {
        let dozen = Unit::known("dozen").size;
        return Ok(Amount { number: number.times(dozen), counting: counted(things, measures, at)? });
    }
    Ok(Amount { number, counting: counted(word, measures, at)? })
}

/// What stands behind the number.
fn counted(word: &str, measures: Measures, at: &Pointer<'_>) -> Result<Counting, Fault> {
    let word = word.strip_prefix("of ").unwrap_or(word).trim();
    let word = word.strip_suffix(" of").unwrap_or(word);
    if word.is_empty() {
        return Ok(Counting::Nothing);
    }
    // "4 large": no unit is called so.
    if let Some(size) = size_in_full(word) {
        return Ok(Counting::Size(size));
    }
    if let Some(unit) = Unit::of_word(word, measures) {
        return Ok(Counting::Unit(unit));
    }
    if let Some(per_quart) = disher(word) {
        return per_quart_in_range(per_quart, word, at).map(Counting::Disher);
    }
    if let Some(size) = size(word) {
        return Ok(Counting::Size(size));
    }
    if let Some(unit) = packed(word, measures) {
        return Ok(Counting::Unit(unit));
    }
    Ok(Counting::Named(word.into()))
}

/// "400 g tin", "1 kg bag": what stands on a pack is what is in it.
fn packed(word: &str, measures: Measures) -> Option<&'static Unit> {
    let (unit, pack) = word.rsplit_once(' ')?;
    single_pack(&plain(pack))?;
    Unit::of_word(unit.trim(), measures).filter(|unit| matches!(unit.family, Family::Mass | Family::Volume))
}

fn per_quart_in_range(per_quart: f64, word: &str, at: &Pointer<'_>) -> Result<Factor, Fault> {
    if (4.0..=100.0).contains(&per_quart) {
        return Ok(Factor::times(per_quart));
    }
    Err(Fault::new(at, Code::OutOfRange, word, "a disher from No. 4 to No. 100"))
}

/// "No. 16 disher", "#16 scoop": the number says how many level dishers empty a US quart.
fn disher(word: &str) -> Option<f64> {
    let word = plain(word);
    let word = ["dishers", "disher", "scoops", "scoop"]
        .iter()
        .find_map(|name| word.strip_suffix(name).or_else(|| word.strip_prefix(name)).map(str::trim))?;
    let digits = word.trim_start_matches("number").trim_start_matches("no").trim_start_matches(['.', '#', ' ']);
    digits.parse::<u32>().ok().map(f64::from)
}

/// "gas mark 1/4", "a dozen", "half a cup", "No. 16 disher".
fn unit_first(text: &str, measures: Measures, at: &Pointer<'_>) -> Result<Amount, Fault> {
    if let Some(rest) = NEARLY.iter().find_map(|word| strip_ignoring_case(text, word)) {
        return read_text(rest, measures, at);
    }
    let word = plain(text);
    for mark in ["gas mark", "gas no.", "gas no", "gas mk", "gas", "mark", "regulo"] {
        if let Some(rest) = word.strip_prefix(mark)
            && let Some((number, "")) = read_number(rest, at)?
        {
            return Ok(Amount { number, counting: Counting::Unit(Unit::known("gas-mark")) });
        }
    }
    if let Some(per_quart) = disher(&word) {
        let counting = per_quart_in_range(per_quart, &word, at).map(Counting::Disher)?;
        return Ok(Amount { number: Number::exact(1.0), counting });
    }
    // "half a cup", "one and a half sticks", "a dozen eggs".
    if let Some((count, rest)) = word_number(&word).filter(|(_, rest)| !rest.trim().is_empty() || !matches!(&*word, "a" | "an")) {
        return whole(Number::exact(count), rest, text, measures, at);
    }
    // "pinch", "dash": what is less than a millilitre is seldom counted.
    if let Some(unit) = Unit::of_word(&word, measures).filter(|unit| unit.family == Family::Volume && unit.size < 1.0) {
        return Ok(Amount { number: Number::exact(1.0), counting: Counting::Unit(unit) });
    }
    Err(Fault::new(at, Code::UnreadableAmount, text, "a number and a unit").trying(["1 1/2 cups", "250 g", "3 large"]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn read(text: &str) -> Amount {
        match read_amount(&Written::Text(text.into()), Measures::Us, &Pointer::ROOT) {
            Ok(amount) => amount,
            Err(fault) => panic!("{text}: {fault:?}"),
        }
    }

    #[track_caller]
    fn is(text: &str, value: f64, id: &str) {
        let amount = read(text);
        assert!((amount.number.value - value).abs() < 1e-12, "{text}: {amount:?}");
        assert!(matches!(amount.counting, Counting::Unit(unit) if unit.id == id), "{text}: {amount:?}");
    }

    #[test]
    fn amounts_are_read_as_people_write_them() {
        is("1 1/2 cups", 1.5, "us-cup");
        is("1½ cup", 1.5, "us-cup");
        is("120 ml", 120.0, "millilitre");
        is("2-3 Tbsp", 2.5, "us-tablespoon");
        is("3T", 3.0, "us-tablespoon");
        is("1 lb 4 oz", 1.25, "pound");
        is("1 lb. 4 oz.", 1.25, "pound");
        is("1 cup plus 2 tablespoons", 1.125, "us-cup");
        is("1 cup less 1 tbsp", 0.9375, "us-cup");
        is("1 cup minus 2 tablespoons", 0.875, "us-cup");
        is("1 lb less 2 oz", 0.875, "pound");
        is("1 cup and a half", 1.5, "us-cup");
        is("a cup and a half", 1.5, "us-cup");
        is("half a cup plus 1 tbsp", 0.5625, "us-cup");
        is("about 2 cups", 2.0, "us-cup");
        is("~3T", 3.0, "us-tablespoon");
        for text in ["abt. 250 g", "ca 250 g", "ca. 250 g", "± 250 g", "±250g", "+/- 250 g", "≈ 250 g", "Circa 250 g", "~ 250 g"] {
            is(text, 250.0, "gram");
        }
        // Which way it is not exact, an amount cannot tell.
        for text in ["nearly 250 g", "up to 250 g", "scant 250 g"] {
            assert!(read_amount(&Written::Text(text.into()), Measures::Us, &Pointer::ROOT).is_err(), "{text}");
        }
        is("1 pound and a quarter", 1.25, "pound");
        is("2 x 397 g tins", 794.0, "gram");
        is("3 × 1.5 kg", 4.5, "kilogram");
        is("397 g tin", 397.0, "gram");
        is("1kg bag", 1.0, "kilogram");
        is("2 hg", 2.0, "hectogram");
        is("350°F", 350.0, "fahrenheit");
        is("350 F", 350.0, "fahrenheit");
        is("9\"", 9.0, "inch");
        is("2 fl. oz.", 2.0, "us-fluid-ounce");
        is("a dozen", 1.0, "dozen");
        is("half a cup", 0.5, "us-cup");
    }

    #[test]
    fn numbers_are_read_in_words_too() {
        is("one and a half sticks", 1.5, "stick");
        is("1 and a half cups", 1.5, "us-cup");
        is("three-quarters cup", 0.75, "us-cup");
        is("twelve oz", 12.0, "ounce");
        let dozens = |text: &str| (read(text).number.value, read(text).counting);
        assert_eq!(dozens("2 dozen large eggs"), (24.0, Counting::Size(Size::LARGE)));
        assert_eq!(dozens("2 large dozen"), (24.0, Counting::Size(Size::LARGE)));
        assert_eq!(dozens("half a dozen eggs"), (6.0, Counting::Named("eggs".into())));
    }

    #[test]
    fn grams_and_decagrams_are_read_as_europe_writes_them() {
        for text in ["250 gr", "250gr", "250 Gr.", "250 grs"] {
            is(text, 250.0, "gram");
        }
        for text in ["25 dag", "25 dkg", "25 deka"] {
            is(text, 25.0, "decagram");
        }
        is("5 grains", 5.0, "grain");
    }

    #[test]
    fn an_oven_mark_comes_before_its_number_or_behind() {
        is("gas mark 1/4", 0.25, "gas-mark");
        is("Gas 4", 4.0, "gas-mark");
        is("4 gas mark", 4.0, "gas-mark");
    }

    #[test]
    fn a_word_that_stands_elsewhere_is_sent_there() {
        let told = |text: &str| {
            let at = Pointer::ROOT;
            let amount = read_text(text, Measures::Us, &at).unwrap_or_else(|fault| panic!("{fault:?}"));
            let Counting::Named(word) = &amount.counting else { panic!("{amount:?}") };
            let fault = amount.unknown_unit(word, &at);
            (fault.attempts.join(", "), fault.detail.to_string())
        };
        assert_eq!(told("180C fan").0, "180 C");
        assert!(told("1 cup packed").1.contains("filled=packed") && told("1 cup packed").0 == "1 cup");
        assert_eq!(told("2 heaped tablespoons").0, "2 tablespoons");
        assert!(told("2 handfuls").1.contains("no measure") && told("1 bag").1.contains("what stands on it"));
        // A teacup is no cup of a set.
        assert!(told("1 teacup").1.contains("made in every size") && told("2 wine glasses").1.contains("made in every size"));
    }

    #[test]
    fn eggs_are_counted_by_size_and_market() {
        let size = |text| read(text).counting;
        assert_eq!(size("3 medium"), Counting::Size(Size { class: "medium", market: None }));
        assert_eq!(size("3 EU medium"), Counting::Size(Size { class: "medium", market: Some("eu") }));
        assert_eq!(size("2 extra large eggs"), Counting::Size(Size { class: "extra-large", market: None }));
        assert_eq!(size("3 eggs"), Counting::Named("eggs".into()));
        // Whites are no whole eggs.
        assert_eq!(size("3 large egg whites"), Counting::Named("large egg whites".into()));
        assert_eq!(size("3"), Counting::Nothing);
    }

    #[test]
    fn a_disher_is_known_by_its_number() {
        assert_eq!(read("2 No. 16 dishers").counting, Counting::Disher(Factor::times(16.0)));
        assert_eq!(read("#40 scoop").counting, Counting::Disher(Factor::times(40.0)));
    }

    #[test]
    fn a_strange_letter_is_shown_by_its_code_point() {
        let Counting::Named(word) = read("2 gr\u{430}m").counting else { panic!("a Cyrillic a is no Latin a") };
        assert!(super::super::no_unit::unknown_unit(&Number::exact(2.0), &word, &Pointer::ROOT).detail.contains("U+0430"));
    }
}
