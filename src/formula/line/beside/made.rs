//! "Makes 12", "Serves 6–8", "Yield: 900 g": what a formula makes.

use super::super::amount::unit;
use super::Beside;
use super::tin::{self, Tin};
use super::words::{BAKED, CUT, EATERS, FEEDS, NO_PIECES, TINS, YIELDS};
use crate::quantity::{Family, Measures, NEARLY, Number, Pointer, plain, read_number, strip_ignoring_case, word_number};
use crate::reference::Reference;

/// What a formula makes: so many pieces, or so much.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Made {
    pub pieces: Option<u32>,
    pub weight: Option<String>,
    /// What one piece weighs.
    pub each: Option<String>,
    /// For how many it is, or into how many it is cut: that is no other number of what is baked.
    pub shared: bool,
    /// How many tins it fills: no number of pieces where another stands.
    pub tins: bool,
    /// What had to be chosen.
    pub told: Option<String>,
}

/// The most pieces that a formula may make.
const MOST: f64 = 1_000_000.0;

pub(super) fn made(clause: &str, reference: &'static Reference) -> Beside {
    let rest = YIELDS.iter().rev().find_map(|word| strip_ignoring_case(clause, word)).unwrap_or(clause);
    let rest = rest.trim_start_matches(|c: char| c.is_whitespace() || matches!(c, ':' | '=' | '-' | '–'));
    let rest = hedged(rest);
    let shared = ["serves", "servings", "portions"].iter().any(|word| strip_ignoring_case(clause, word).is_some());
    let said = counted(clause, rest).map(|made| Made { shared, tins: made.pieces.is_some() && are_tins(rest), ..made });
    // A loaf of 900 g is no tin of 900 g.
    let found = match tin::tin(rest, reference) {
        _ if said.as_ref().is_ok_and(|made| made.each.is_some()) => Tin::None,
        found @ Tin::Pan(..) => found,
        found => in_its_tin(rest, reference).unwrap_or(found),
    };
    let beside = match said {
        Ok(made) => Beside { makes: Some(made), ..Beside::default() },
        Err(doubt) => Beside { doubts: vec![doubt], tries: vec!["Makes 12".to_owned(), "Makes 900 g".to_owned()], ..Beside::default() },
    };
    // "Makes a 20 cm loaf" says no more of the tin than it says.
    if let Tin::Refused(_) = found { beside } else { beside.with_tin(found) }
}

/// What is as wide as its tin.
const AS_WIDE: [&str; 10] = ["cake", "cakes", "cheesecake", "cheesecakes", "layer", "layers", "tart", "tarts", "pie", "pies"];

/// "One 20 cm round cake", "two 8 inch square cakes": a cake is as wide as its tin.
fn in_its_tin(rest: &str, reference: &'static Reference) -> Option<Tin> {
    let (size, goods) = rest.trim_end_matches('.').rsplit_once(' ')?;
    let shaped = size.ends_with(" round") || size.ends_with(" square");
    let tins = if goods.ends_with('s') { "tins" } else { "tin" };
    let found = (shaped && AS_WIDE.contains(&&*plain(goods))).then(|| tin::tin(&format!("{size} {tins}"), reference))?;
    matches!(found, Tin::Pan(..)).then_some(found)
}

/// Whether it is tins that are counted: "one 9 inch square tin", but not "24 in a 12-hole tin".
fn are_tins(rest: &str) -> bool {
    let words: Vec<_> = rest.split_whitespace().map(|word| plain(word.trim_end_matches(['.', ',', ';']))).collect();
    // A loaf and a ring are both the tin and what is baked in it.
    let tin = |word: &str| TINS.contains(&word) && !matches!(word, "loaf" | "ring");
    words.last().is_some_and(|last| tin(last)) && !words.iter().any(|word| matches!(&**word, "in" | "for" | "from"))
}

/// A cake is cut into fewer to be filled, and dough into strips to be plaited.
const LEAST_CUT: u32 = 4;
/// Behind more words than these the line is a step of the method.
const WORDS: usize = 3;

/// "Cut into 15 squares", "for 12 people", "8 portions".
pub(super) fn shared_out(clause: &str) -> Option<Beside> {
    let clause = clause.trim_end_matches(':');
    let behind = |words: &[&str]| words.iter().find_map(|word| strip_ignoring_case(clause, word));
    let (cut, feeds) = (behind(CUT), behind(FEEDS));
    let rest = hedged(cut.or(feeds).or_else(|| behind(&["for "])).unwrap_or(clause));
    // "4 pieces of 350 g".
    let things = WEIGHING.iter().find_map(|mark| rest.split_once(mark)).map_or(rest, |(things, _)| things);
    let words: Vec<_> = things.split(' ').filter(|word| word.starts_with(char::is_alphabetic)).collect();
    let last = words.last().map(|word| plain(word)).unwrap_or_default();
    let baked = rest.len() < clause.len() && BAKED.contains(&&*last);
    let eaten = EATERS.contains(&&*last) || baked;
    if words.len() > WORDS || cut.or(feeds).is_none() && !eaten || words.iter().any(|word| NO_PIECES.contains(word)) {
        return None;
    }
    let made = counted(clause, rest).map(|made| Made { shared: eaten && !baked || cut.or(feeds).is_some(), ..made }).ok()?;
    let pieces = made.pieces?;
    (cut.is_none() || pieces >= LEAST_CUT).then(|| Beside { makes: Some(made), ..Beside::default() })
}

/// "28 brioches of 80 g": so many, and what each weighs.
pub(super) fn weighed_each(clause: &str) -> Option<Beside> {
    each_behind(clause)?;
    let lower = plain(clause);
    let baked = lower.split(' ').any(|word| BAKED.contains(&word));
    counted(clause, clause).ok().filter(|_| baked).map(|made| Beside { makes: Some(made), ..Beside::default() })
}

/// "12 muffins" and nothing else; "10 chocolate biscuits" may go into the bowl.
pub(super) fn pieces(clause: &str) -> Option<Beside> {
    const SIZES: [&str; 7] = ["large", "small", "medium", "big", "little", "mini", "jumbo"];
    let words = || clause.split(' ').skip(1);
    let kind = words().take(words().count().saturating_sub(1)).any(|word| !SIZES.contains(&&*plain(word)));
    let alone = clause.starts_with(|c: char| c.is_ascii_digit()) && clause.split(' ').count() <= WORDS && !kind;
    alone.then(|| shared_out(&format!("for {clause}"))).flatten()
}

/// The same with nothing between the number and the goods, though the table sells them too: "28 brioches of 80 g", not "20 digestive biscuits of 15 g".
pub(super) fn baked_each(clause: &str) -> Option<Beside> {
    let second = clause.split(' ').nth(1)?;
    if second == "pieces" || !BAKED.contains(&second) { None } else { weighed_each(clause) }
}

fn hedged(rest: &str) -> &str {
    let mut hedges = NEARLY.into_iter().chain(["up to ", "at least "]);
    hedges.find_map(|word| strip_ignoring_case(rest, word)).unwrap_or(rest).trim_start()
}

fn counted(clause: &str, rest: &str) -> Result<Made, String> {
    let unread = || format!("How many pieces or how much it makes could not be read in \"{rest}\"");
    let (number, behind) = match read_number(rest, &Pointer::ROOT) {
        Ok(Some(found)) => found,
        // "Makes a loaf" is one; "serves a crowd" is not.
        _ if plain(clause).starts_with("serves a ") => return Err(unread()),
        _ => word_number(rest).map(|(value, behind)| (Number::exact(value), behind)).ok_or_else(unread)?,
    };
    if let Some(each) = weight_before(&number, behind) {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "it is whole and at most a million")]
        return Ok(Made { pieces: Some(number.low as u32), each: Some(each), ..Made::default() });
    }
    if behind.trim_start().starts_with(['"', '″', '”', 'x', '×', '%']) {
        return Err(unread());
    }
    let (number, chosen) = match unit(behind, Measures::Us) {
        Some((unit, word, _)) if unit.family == Family::Mass => {
            let taken = rest[..rest.len() - behind.len()].trim();
            return Ok(Made { weight: Some(format!("{taken} {word}")), ..Made::default() });
        }
        Some((unit, ..)) if unit.family == Family::Volume => {
            return Err(format!("A formula makes so many pieces or weighs so much; \"{rest}\" is a volume"));
        }
        Some((unit, ..)) if unit.id == "dozen" => (number.times(unit.size), behind),
        _ => (number, behind),
    };
    let first = plain(chosen);
    if ["in", "in.", "inch", "inches", "cm", "mm"]
        .contains(&first.trim_start_matches('-').split([' ', '-', ',']).next().unwrap_or_default())
    {
        return Err(unread());
    }
    if number.low < 1.0 || number.low > MOST || number.low.fract() != 0.0 {
        return Err(unread());
    }
    let each = each_behind(chosen);
    let told = if number.is_exact() {
        let other = chosen.split_once(" or ").map(|(_, other)| other).filter(|other| other.starts_with(|c: char| c.is_ascii_digit()));
        other.or_else(|| shared_behind(chosen)).map(|other| format!("Of {} and \"{other}\" the first is taken", number.low))
    } else {
        Some(format!("Of {} to {} pieces the smaller number is taken", number.low, number.high))
    };
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "it is whole and at most a million")]
    Ok(Made { pieces: Some(number.low as u32), each, told, ..Made::default() })
}

/// "1 loaf (serves 12)", "one 9-inch cake, 8 servings": into how many it is shared out.
fn shared_behind(things: &str) -> Option<&str> {
    let inner = things.split_once(['(', ',']).map(|(_, inner)| inner.split(')').next().unwrap_or(inner).trim())?;
    let served = ["serves ", "cut into ", "cuts into ", "about ", ""].iter().find_map(|word| strip_ignoring_case(inner, word))?;
    let (_, behind) = read_number(served, &Pointer::ROOT).ok()??;
    let of = plain(behind.trim()).into_owned();
    let eaters = EATERS.contains(&&*of) || of == "slices";
    (eaters || of.is_empty() && served.len() < inner.len()).then_some(inner)
}

/// "1 x 900 g loaf", "12 x 60 g buns", "two 1 lb loaves": what one weighs, before the word for it.
fn weight_before(number: &Number, behind: &str) -> Option<String> {
    if !number.is_exact() || number.low.fract() != 0.0 || !(1.0..=MOST).contains(&number.low) {
        return None;
    }
    let bare = behind.trim_start();
    let times = bare.strip_prefix(['x', '×']).map(str::trim_start);
    let text = times.or_else(|| bare.starts_with(|c: char| c.is_ascii_digit()).then_some(bare))?;
    let (_, after) = read_number(text, &Pointer::ROOT).ok()??;
    let (unit, word, things) = unit(after, Measures::Us)?;
    let baked = times.is_some() || BAKED.contains(&things.trim());
    (unit.family == Family::Mass && baked).then(|| format!("{} {word}", text[..text.len() - after.len()].trim()))
}

/// What stands between pieces and the weight of one.
const WEIGHING: [&str; 4] = [" of ", " at ", " à ", " @ "];

fn is_each(text: &str) -> bool {
    ["each", "ea", "ea.", "apiece"].iter().any(|word| text.ends_with(word))
}

/// "2 loaves of 900 g", "12 buns at 60 g": what one of them weighs.
fn each_behind(things: &str) -> Option<String> {
    let joined = WEIGHING.iter().find_map(|mark| things.split_once(mark));
    // "2 loaves (450 g each)", "10 pretzels, 4 oz each".
    let bracketed = || Some(things.split_once('(')?.1.split_once(')')?.0).filter(|inner| is_each(inner));
    let behind_comma = || Some(things.split_once(", ")?.1).filter(|text| is_each(text));
    let text = joined.map(|(_, text)| text).or_else(bracketed).or_else(behind_comma)?.trim();
    let (number, behind) = read_number(text, &Pointer::ROOT).ok()??;
    let (unit, word, rest) = unit(behind, Measures::Us)?;
    let ends = rest.trim().is_empty() || is_each(rest.trim());
    (unit.family == Family::Mass && number.is_exact() && ends).then(|| format!("{} {word}", text[..text.len() - behind.len()].trim()))
}
