//! Words behind a number that are no unit: what each is, and what to write instead.

use super::amount::Amount;
use super::code::Code;
use super::fault::Fault;
use super::number::Number;
use super::pointer::Pointer;
use super::unit::{Measures, Unit};
use super::vocabulary::{nearest, plain};

/// What a measure may be that is not level.
pub const UNEVEN: [&str; 5] = ["scant", "generous", "heaping", "heaped", "rounded"];

/// A thing in which ingredients are bought, in the singular.
pub(super) fn single_pack(word: &str) -> Option<&str> {
    const PACKS: &[&str] = &[
        "bag",
        "box",
        "jar",
        "tub",
        "tube",
        "carton",
        "bottle",
        "pot",
        "can",
        "tin",
        "bar",
        "container",
        "pouch",
        "pack",
        "packet",
        "package",
        "block",
        "sack",
        "case",
        "tray",
        "bucket",
        "punnet",
        "basket",
        "bunch",
        "portion",
        "drum",
    ];
    let known = |word: &str| PACKS.iter().find(|pack| **pack == word).copied();
    known(word).or_else(|| known(word.strip_suffix('s')?)).or_else(|| known(word.strip_suffix("es")?))
}

/// Words by which things are bought or thrown in, and which hold what they happen to hold.
pub(crate) fn no_measure(word: &str) -> Option<String> {
    const BY_HAND: &[&str] = &["handful", "knob", "splash", "drizzle", "glug", "dollop", "drop", "sprinkle", "squeeze", "sprig"];
    const TO_DRINK_FROM: &[&str] = &[
        "teacup",
        "tea cup",
        "coffee cup",
        "coffeecup",
        "breakfast cup",
        "wineglass",
        "wine glass",
        "glass",
        "mug",
        "tumbler",
        "katori",
        "vati",
        "coffee spoon",
    ];
    let single = word.strip_suffix('s').filter(|single| !single.ends_with('s')).unwrap_or(word);
    let single = if word.ends_with("glasses") { word.strip_suffix("es").unwrap_or(word) } else { single };
    if single == "part" {
        return Some("A part is as much as you choose: write what one part weighs, times how many".to_owned());
    }
    if BY_HAND.contains(&single) {
        return Some(format!("A {single} is no measure: weigh it, or write how many spoons are meant"));
    }
    if TO_DRINK_FROM.contains(&single) {
        return Some(format!("A {single} is made in every size: write how many cups or spoons are meant, or weigh it"));
    }
    single_pack(word).map(|pack| format!("How much a {pack} of it holds is not known: write what stands on it"))
}

/// A unit with a word that has a field of its own, or none: the unit, and where the word goes.
fn said_beside(word: &str) -> Option<(String, String)> {
    let (first, last) = (word.split(' ').next()?, word.rsplit(' ').next()?);
    let without = |aside: &str| word.strip_suffix(aside).or_else(|| word.strip_prefix(aside)).map(|unit| unit.trim().to_owned());
    let known = |unit: &String| Unit::all_words().any(|known| known == unit);
    if let Some(scale) = without("fan").or_else(|| without("fan oven")).filter(known) {
        return Some((scale.to_uppercase(), "Which oven it is stands beside the temperature: from_oven=fan.".to_owned()));
    }
    for aside in [last, first] {
        let said = match aside {
            "packed" | "sifted" | "spooned" | "dipped" => format!("How a cup is filled stands beside it: filled={aside}."),
            aside if aside == "level" || UNEVEN.contains(&aside) => {
                format!("{} is no measure: write how many level ones it is.", super::vocabulary::upper_first(aside))
            }
            "large" | "small" | "medium" | "big" => {
                format!("What a {aside} one holds is not known: write how many usual ones are meant, or weigh it.")
            }
            _ => continue,
        };
        if let Some(unit) = without(aside).filter(known) {
            return Some((unit, said));
        }
    }
    None
}

/// What parts thousands, beside blanks of every width.
const PARTING: [char; 3] = ['\'', '’', '_'];

/// "1 000 g", "1'000 g": a number whose thousands are parted. The rest of it is no unit, and without it the number is a thousandth of what was meant.
fn parted_thousands(number: &Number, word: &str, at: &Pointer<'_>) -> Option<Fault> {
    if !number.is_exact() || number.value.fract() != 0.0 || !(1.0..1000.0).contains(&number.value) {
        return None;
    }
    let by_blank = !word.starts_with(PARTING);
    let (mut digits, mut rest) = (number.value.to_string(), word);
    let begun = digits.len();
    while let Some((group, behind)) = rest.trim_start_matches(|c: char| c.is_whitespace() || PARTING.contains(&c)).split_at_checked(3)
        && group.bytes().all(|byte| byte.is_ascii_digit())
        && !behind.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '/' | '⁄'))
        && (digits.len() == begun || rest.starts_with(|c: char| c.is_whitespace() || PARTING.contains(&c)))
    {
        digits.push_str(group);
        rest = behind;
    }
    let decimals =
        rest.strip_prefix(['.', ',']).map(|tail| &tail[..tail.bytes().take_while(u8::is_ascii_digit).count()]).unwrap_or_default();
    let unit = if decimals.is_empty() { rest } else { &rest[1 + decimals.len()..] }.trim();
    if digits.len() == begun || !(unit.is_empty() || Unit::of_word(unit, Measures::Us).is_some()) {
        return None;
    }
    let point = if decimals.is_empty() { "" } else { "." };
    let whole = format!("{digits}{point}{decimals} {unit}").trim().to_owned();
    let found = format!("{}{}{word}", number.value, if by_blank { " " } else { "" });
    let each = format!("{} x {word}", number.value);
    let fault = Fault::new(at, Code::AmbiguousNumber, &*found, "digits with nothing between thousands");
    Some(if by_blank && number.value > 1.0 && !word.starts_with('0') && !unit.is_empty() {
        fault.saying(format!("{found} may mean {whole} or {each}; write the one you mean")).trying([whole, each])
    } else {
        fault.saying(format!("Write it as {whole}, with nothing between thousands")).trying([whole])
    })
}

/// The refusal of a word that is no unit.
pub(crate) fn unknown_unit(number: &Number, word: &str, at: &Pointer<'_>) -> Fault {
    if let Some(fault) = parted_thousands(number, word, at) {
        return fault;
    }
    let plain = plain(word);
    if let Some((unit, saying)) = said_beside(&plain) {
        let fault = Fault::new(at, Code::UnknownUnit, word, "a unit of the kitchen alone, see /v1/units");
        return fault.trying([format!("{} {unit}", number.value)]).saying(saying);
    }
    if let Some(saying) = no_measure(&plain) {
        return Fault::new(at, Code::UnknownUnit, word, "a mass or a volume").trying(["100 g", "2 tbsp"]).saying(saying);
    }
    // "1 cup (2 sticks)".
    if let Some((unit, second)) = plain.split_once(['(', '/', '|']).filter(|(unit, _)| Unit::all_words().any(|known| known == unit.trim()))
    {
        let fault = Fault::new(at, Code::UnknownUnit, word, "one amount").trying([format!("{} {}", number.value, unit.trim())]);
        let second = second.trim_end_matches(')').trim();
        return fault.saying(format!("A second measure stands behind the first: in a formula it is written apart, as also={second:?}"));
    }
    let mut near = nearest(&plain, Unit::all_words(), 3);
    if near.is_empty() {
        near = vec!["g", if number.value == 1.0 { "cup" } else { "cups" }, "tbsp"];
    }
    let tries: Vec<String> = near.iter().map(|unit| format!("{} {unit}", number.value)).collect();
    let strange = word.chars().find(|c| !c.is_ascii() && !"°²³µ".contains(*c));
    let fault = Fault::new(at, Code::UnknownUnit, word, "a unit of the kitchen or a UCUM code, see /v1/units").trying(tries);
    match strange {
        Some(letter) => fault.saying(format!("The letter {letter:?} is U+{:04X}: perhaps not the one you mean", u32::from(letter))),
        None => fault,
    }
}

impl Amount {
    /// The refusal of an amount whose word is no unit.
    pub fn unknown_unit(&self, word: &str, at: &Pointer<'_>) -> Fault {
        unknown_unit(&self.number, word, at)
    }

    /// The refusal of a bare number, with the mend.
    pub fn unit_missing(&self, at: &Pointer<'_>) -> Fault {
        let found = self.number.value.to_string();
        // Nothing and less than nothing lack more than a unit.
        let number = if self.number.value == 0.0 { 1.0 } else { self.number.value.abs() };
        Fault::new(at, Code::UnitMissing, found, "a number and a unit").trying([
            format!("{number} g"),
            format!("{number} cups"),
            format!("{number} oz"),
        ])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(number: f64, word: &str) -> (Code, Vec<String>) {
        let fault = unknown_unit(&Number::exact(number), word, &Pointer::ROOT);
        (fault.code, fault.attempts)
    }

    #[test]
    fn thousands_that_are_parted_are_never_taken_for_a_unit() {
        for (number, word, tries) in [
            (1.0, "000 g", &["1000 g"][..]),
            (1.0, "'000 g", &["1000 g"]),
            (1.0, "_000 g", &["1000 g"]),
            (1.0, "500,5 g", &["1500.5 g"]),
            (1.0, "000 000 mg", &["1000000 mg"]),
            (2.0, "500 g", &["2500 g", "2 x 500 g"]),
            (10.0, "000", &["10000"]),
        ] {
            assert_eq!(told(number, word), (Code::AmbiguousNumber, tries.iter().map(|t| (*t).to_owned()).collect()), "{number} {word}");
        }
        for (number, word) in [(1.0, "000 blobs"), (1.0, "5000 g"), (1.0, "100/3 g"), (1.5, "000 g"), (1000.0, "000 g"), (1.0, "00 g")] {
            assert_eq!(told(number, word).0, Code::UnknownUnit, "{number} {word}");
        }
    }
}
