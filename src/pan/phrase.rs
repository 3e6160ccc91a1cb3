//! A pan phrase understood: a trade name first, then a shape word with its numbers. Whatever was not said is taken from the trade, and told.

use super::kind::ShapeKind;
use super::material::Material;
use super::one::{DepthFrom, Pan};
use super::reading::{MOST_COUNT, Reading, assembled, sound_capacity, sound_length, whole_wells};
use super::spelled::{self, Spelled};
use super::words::{Token, counted, is_plural, named, pieces};
use crate::quantity::{Code, Fault, Length, Pointer, Unit, nearest, plain};
use crate::reference::{Dimension, PanRow, Sizes};

/// The longest phrase that is read.
const LONGEST: usize = 200;

/// The pan that a phrase means.
pub(super) fn resolve(phrase: &str, reading: &mut Reading<'_>, at: &Pointer<'_>) -> Result<Pan, Fault> {
    if phrase.len() > LONGEST {
        return Err(Fault::new(at, Code::TextTooLong, phrase, format!("at most {LONGEST} characters")));
    }
    let mut tokens = pieces(phrase);
    let material = take_material(&mut tokens);
    let mut count = None;
    let mut row = named(&tokens, reading.reference);
    if row.is_none() {
        count = take_count(&mut tokens);
        row = named(&tokens, reading.reference).filter(|_| count.is_some());
    }
    let pan = match row {
        Some(row) => trade_size(row, None, phrase, reading, at),
        None => with_depth(&tokens, phrase, reading, at),
    };
    let mut pan = pan.map_err(|mut fault| {
        fault.pointer = at.text();
        fault
    })?;
    pan.at = at.text();
    pan.count = count.unwrap_or(1);
    if !(1..=MOST_COUNT).contains(&pan.count) {
        return Err(Fault::new(at, Code::OutOfRange, pan.count.to_string(), format!("1 to {MOST_COUNT} pans")));
    }
    pan.material = material;
    Ok(pan)
}

fn take_material(tokens: &mut Vec<Token>) -> Option<Material> {
    let of = |token: &Token| match token {
        Token::Word(word) => Material::of_phrase_word(word),
        _ => None,
    };
    let found = tokens.iter().find_map(of);
    tokens.retain(|token| of(token).is_none());
    found
}

/// "two 8 inch rounds", "2 8-inch rounds", "2 x 8 inch rounds", "2 loaf tins".
fn take_count(tokens: &mut Vec<Token>) -> Option<u32> {
    let plural = tokens.iter().any(|token| matches!(token, Token::Word(word) if is_plural(word)));
    let (count, taken) = match tokens.as_slice() {
        [Token::Word(word), ..] => (counted(word)?, 1),
        [Token::Number(first), Token::Number(_), ..] => (whole(*first)?, 1),
        [Token::Number(first), Token::By, Token::Number(second), ..] if plural && first < second => (whole(*first)?, 2),
        [Token::Number(first), Token::Word(word), ..] if plural && !spelled::is_measure(word) => (whole(*first)?, 1),
        _ => return None,
    };
    if tokens.len() <= taken {
        return None;
    }
    tokens.drain(..taken);
    Some(count)
}

fn whole(number: f64) -> Option<u32> {
    (number.fract() == 0.0 && (0.0..=1e6).contains(&number)).then_some(number as u32)
}

fn with_depth(tokens: &[Token], phrase: &str, reading: &mut Reading<'_>, at: &Pointer<'_>) -> Result<Pan, Fault> {
    let Some((rest, depth)) = without_depth(tokens) else { return spelled_out(tokens, None, phrase, reading, at) };
    if let Some(row) = named(&rest, reading.reference) {
        let unit = depth.1.unwrap_or(row.unit);
        let depth = Length::centimetres(depth.0 * unit.size);
        return trade_size(row, Some(depth), phrase, reading, at);
    }
    spelled_out(&rest, Some(depth), phrase, reading, at)
}

type Measure = (f64, Option<&'static Unit>);

/// What makes the number before it a depth.
const DEEP: &[&str] = &["deep", "high", "tall", "depth"];

/// "2 in deep", "depth 2 in": the depth, and the phrase without it.
fn without_depth(tokens: &[Token]) -> Option<(Vec<Token>, Measure)> {
    let is = |at: usize, words: &[&str]| matches!(tokens.get(at), Some(Token::Word(word)) if words.contains(&word.as_str()));
    for at in 0..tokens.len() {
        let Token::Number(number) = tokens[at] else { continue };
        let unit = match tokens.get(at + 1) {
            Some(Token::Word(word)) => spelled::length_unit(word),
            _ => None,
        };
        let end = at + 1 + usize::from(unit.is_some());
        let behind = is(end, DEEP) && !matches!(tokens.get(end + 1), Some(Token::Number(_)));
        let start = match at {
            at if behind => at,
            at if at > 0 && is(at - 1, &["depth"]) => at - 1,
            at if at > 1 && is(at - 1, &["of"]) && is(at - 2, &["depth"]) => at - 2,
            _ => continue,
        };
        let end = end + usize::from(behind);
        let rest = [&tokens[..start], &tokens[end..]].concat();
        // "9 inch deep round" speaks of a deep pan: nine inches are its diameter.
        let sized = rest.iter().any(|token| matches!(token, Token::Number(_)));
        if sized || named_without_size(&rest) {
            return Some((rest, (number, unit)));
        }
    }
    None
}

fn named_without_size(rest: &[Token]) -> bool {
    rest.iter().any(|token| matches!(token, Token::Word(word) if matches!(word.as_str(), "muffin" | "sheet" | "half" | "quarter" | "tray")))
}

/// A trade size by its name.
fn trade_size(
    row: &'static PanRow,
    depth: Option<Length>,
    phrase: &str,
    reading: &mut Reading<'_>,
    at: &Pointer<'_>,
) -> Result<Pan, Fault> {
    let Some(kind) = ShapeKind::of_word(row.shape) else { return Err(unknown(phrase, reading, at)) };
    let mut sizes = row.sizes.clone();
    if let Some(depth) = depth {
        sizes.set(Dimension::Depth, sound_length(depth, Dimension::Depth, phrase, at)?);
    }
    let mut pan = assembled(kind, sizes, row.unit, reading.reference, at)?;
    if depth.is_none() {
        pan.row = Some(row);
        pan.depth = pan.depth.map(|(depth, _)| (depth, DepthFrom::Trade));
    }
    // A round of a diameter and a depth is all said; a half sheet is a name for a size that was not.
    if depth.is_none() || !matches!(kind.word, "round" | "square" | "springform") {
        let text = format!("{phrase:?} is taken as the trade size {}; inside: {}", row.name, pan.described());
        reading.account.assume(text, at, row.name);
        reading.account.cite(row.citation);
    }
    Ok(pan)
}

/// A pan spelled out by its shape and numbers.
fn spelled_out(tokens: &[Token], depth: Option<Measure>, phrase: &str, reading: &mut Reading<'_>, at: &Pointer<'_>) -> Result<Pan, Fault> {
    let spelled = Spelled::of(tokens, depth, reading.measures).map_err(|strange| unknown_word(&strange, phrase, reading, at))?;
    let Some(laid) = spelled.laid_out(phrase, reading, at)? else { return Err(unknown(phrase, reading, at)) };
    let sizes = sound(&laid.sizes, phrase, at)?;
    let mut pan = assembled(laid.kind, sizes, laid.unit, reading.reference, at)?;
    if laid.trade_depth {
        pan.depth = pan.depth.map(|(depth, _)| (depth, DepthFrom::Trade));
    }
    Ok(pan)
}

fn sound(sizes: &Sizes, phrase: &str, at: &Pointer<'_>) -> Result<Sizes, Fault> {
    for dimension in Dimension::ALL {
        if let Some(length) = sizes.length(*dimension) {
            sound_length(length, *dimension, phrase, at)?;
        }
    }
    if let Some(capacity) = sizes.capacity {
        sound_capacity(capacity, phrase, at)?;
    }
    if let Some(wells) = sizes.wells {
        whole_wells(wells, at)?;
    }
    Ok(sizes.clone())
}

fn unknown_word(word: &str, phrase: &str, reading: &Reading<'_>, at: &Pointer<'_>) -> Fault {
    unknown(phrase, reading, at).saying(format!("{word:?} is no word for a pan that is known. {}", Code::UnknownPan.mend()))
}

fn unknown(phrase: &str, reading: &Reading<'_>, at: &Pointer<'_>) -> Fault {
    let phrase = plain(phrase);
    let mut near = nearest(&phrase, reading.reference.pans.names(), 3);
    if near.is_empty() {
        near = vec!["9 inch round, 2 inches deep", "13x9x2 in", "half sheet"];
    }
    Fault::new(at, Code::UnknownPan, phrase, "a shape and its size, such as \"9 inch round, 2 inches deep\"").trying(near)
}

#[cfg(test)]
mod tests {
    // Phrases as bakers write them.
    use crate::pan::{DepthFrom, Material, Pan, PansWritten};
    use crate::quantity::{Code, Faults, Measures, Pointer};
    use crate::reference::{Account, Assumption, Reference};

    fn read(phrase: &str) -> (Result<Pan, Faults>, Vec<Assumption>) {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let mut account = Account::new(reference, false);
        let written: PansWritten =
            serde_json::from_value(serde_json::Value::String(phrase.to_owned())).unwrap_or_else(|fault| panic!("{fault}"));
        let pans = written.resolve(Measures::Us, reference, &Pointer::ROOT.key("from"), &mut account);
        (pans.map(|mut pans| pans.all.remove(0)), account.settle(String::new()).assumptions)
    }

    #[track_caller]
    fn is(phrase: &str, shape: &str, cups: f64, count: u32) -> (Pan, Vec<Assumption>) {
        let (pan, told) = read(phrase);
        let pan = pan.unwrap_or_else(|faults| panic!("{phrase}: {faults:?}"));
        let holds = pan.capacity().unwrap_or_else(|fault| panic!("{phrase}: {fault:?}")).value().in_millilitres() / 236.588_236_5;
        assert_eq!((pan.shape(), pan.count()), (shape, count), "{phrase}");
        assert!((holds - cups).abs() < 0.01, "{phrase}: {holds} cups, {}", pan.text());
        (pan, told)
    }

    #[track_caller]
    fn refused(phrase: &str, code: Code) {
        let (pan, _) = read(phrase);
        let faults = pan.map(|pan| pan.text()).expect_err(phrase);
        assert_eq!(
            faults.iter().map(|fault| (fault.code, fault.pointer.as_str())).collect::<Vec<_>>(),
            [(code, "/from")],
            "{phrase}: {faults:?}"
        );
    }

    #[test]
    fn a_round_is_read_in_any_order() {
        for phrase in [
            "9 inch round, 2 inches deep",
            "round, 9 in, depth 2 in",
            "2 inches deep 9\" round cake pan",
            "9x2 in round",
            "9-inch round pan 2-inch deep",
        ] {
            let (pan, told) = is(phrase, "round", 8.813, 1);
            assert_eq!(pan.depth_from(), Some(DepthFrom::Given), "{phrase}");
            assert!(told.is_empty(), "{phrase}: {told:?}");
            assert_eq!(pan.published().map(|cited| (cited.figure.value().in_millilitres() / 236.588_236_5).round()), Some(8.0));
        }
    }

    #[test]
    fn a_depth_that_is_not_said_is_the_trade_s_and_told() {
        let (pan, told) = is("9 inch round", "round", 8.813, 1);
        assert_eq!(pan.depth_from(), Some(DepthFrom::Trade));
        assert_eq!(told.len(), 1, "{told:?}");
        assert_eq!(told[0].field, "/from");
        let (_, told) = is("9.5 inch round", "round", 9.819, 1);
        assert!(told.iter().any(|told| told.value.contains("depth 2 in")), "{told:?}");
    }

    #[test]
    fn several_pans_are_counted() {
        is("two 8 inch round pans", "round", 6.963, 2);
        is("2 8-inch rounds", "round", 6.963, 2);
        is("2 x 8 inch rounds", "round", 6.963, 2);
        is("three 9x5 loaf pans", "loaf", 9.351, 3);
        is("two half sheets", "sheet", 13.085, 2);
    }

    #[test]
    fn three_numbers_without_a_shape_are_a_rectangle_and_told() {
        let (pan, told) = is("13x9x2 in", "rectangle", 16.208, 1);
        assert_eq!(pan.trade_size().map(|row| row.id), Some("rectangle-13x9x2"));
        assert!(told.iter().any(|told| told.value == "rectangle"), "{told:?}");
        is("9 × 13 × 2 inches", "rectangle", 16.208, 1);
        is("8x8x2\"", "square", 8.866, 1);
    }

    #[test]
    fn cups_count_wells_on_a_tray_and_measure_a_ring() {
        is("12-cup muffin tin", "muffin-tray", 0.4641 * 12.0, 1);
        is("12-cup fluted ring", "fluted-ring", 12.0, 1);
        is("10-cup ring", "fluted-ring", 10.0, 1);
        let (_, told) = is("14-cup fluted ring", "fluted-ring", 14.0, 1);
        assert!(told.iter().any(|told| told.text.contains("what the ring holds")), "{told:?}");
        let (pan, told) = is("18-hole muffin tray", "muffin-tray", 0.4641 * 18.0, 1);
        assert_eq!(pan.wells(), 18);
        assert!(!told.is_empty(), "the size of the wells is told");
    }

    #[test]
    fn trade_names_are_known() {
        is("half sheet", "sheet", 13.085, 1);
        is("9x5 loaf", "loaf", 9.351, 1);
        is("9 in square", "square", 11.221, 1);
        is("standard muffin tray", "muffin-tray", 0.4641 * 12.0, 1);
        for (phrase, id) in [
            ("23 cm springform", "springform-23cm"),
            ("20cm sandwich tin", "sandwich-20cm"),
            ("GN 1/1", "gn-1-1-65"),
            ("gastronorm 1/2 40 mm", "gn-1-2-40"),
            ("10 inch tube", "tube-10x4"),
            ("9 in pie plate", "pie-9x1-5"),
            ("1 lb loaf tin", "loaf-1lb"),
            ("2 lb loaf tin", "loaf-2lb"),
            ("loaf tin", "loaf-2lb"),
            ("Swiss roll tin", "swiss-roll-33x23"),
        ] {
            let (pan, told) = read(phrase);
            let pan = pan.unwrap_or_else(|faults| panic!("{phrase}: {faults:?}"));
            assert_eq!(pan.trade_size().map(|row| row.id), Some(id), "{phrase}");
            assert!(!told.is_empty(), "{phrase}");
        }
    }

    #[test]
    fn a_size_that_is_not_in_the_table_is_built_of_its_numbers() {
        is("22 cm round, 6 cm deep", "round", 9.640, 1);
        is("11 inch tube, 4 inches deep, core 3 in", "tube", 22.302, 1);
        is("4x3x2.5 in loaf", "loaf", 30.0 / 14.4375, 1);
    }

    #[test]
    fn a_material_may_be_said() {
        let (pan, _) = read("9x13 glass baking dish");
        assert_eq!(
            pan.map(|pan| (pan.material(), pan.shape())).map_err(|faults| panic!("{faults:?}")),
            Ok::<_, ()>((Material::Glass, "rectangle"))
        );
    }

    #[test]
    fn what_is_no_pan_is_refused_with_what_may_be_meant() {
        for phrase in ["9 inch rond", "a large one", "", "9 inch", "12-cup", "round of cheese", "💥"] {
            refused(phrase, Code::UnknownPan);
        }
        let (pan, _) = read("9 inch rond");
        let faults = pan.map(|_| ()).expect_err("no such shape");
        assert!(faults.iter().all(|fault| fault.attempts.contains(&"9 inch round".to_owned())), "{faults:?}");
        refused("24x24x2", Code::UnitMissing);
        refused("5000 inch round", Code::OutOfRange);
        refused("0 inch round", Code::ImpossiblePan);
        refused("5000 8 inch rounds", Code::OutOfRange);
    }

    proptest::proptest! {
        #[test]
        fn any_phrase_is_a_pan_that_can_be_or_is_refused(
            phrase in "(two |3 |)([0-9]{1,3}(\\.[0-9]|)( |)(x|by|in|cm|-| |)( |)){0,4}(round|loaf|muffin|cup|fluted|ring|deep|tube|sheet|square|\\PC){0,3}"
        ) {
            if let (Ok(pan), _) = read(&phrase) && let Ok(capacity) = pan.capacity() {
                let holds = capacity.value().in_millilitres();
                proptest::prop_assert!(holds > 0.0 && holds.is_finite(), "{phrase}: {holds}");
            }
        }
    }
}
