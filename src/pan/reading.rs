//! From a pan as written to a pan understood: every measure read and bounded, every fault told at its place.

use super::kind::{Impossible, ShapeKind};
use super::listed::listed;
use super::one::{DepthFrom, Pan};
use super::phrase;
use super::several::Pans;
use super::shapes::SHAPES;
use super::sizes::matching;
use super::written::{Drawn, Entry, MOST_PANS, PanWritten, PansWritten};
use crate::quantity::{
    Amount, Area, Code, Counting, Family, Fault, Faults, Length, Measures, Pointer, Span, Unit, Volume, Written, read_amount,
};
use crate::reference::{Account, Dimension, Reference, Sizes};

/// What a pan is read with.
pub(super) struct Reading<'a> {
    pub(super) measures: Measures,
    pub(super) reference: &'static Reference,
    pub(super) account: &'a mut Account,
}

/// The most pans of one kind.
pub(super) const MOST_COUNT: u32 = 1000;
/// The most wells of one tray.
pub(super) const MOST_WELLS: u32 = 200;

impl PansWritten {
    /// The pans that are meant. What had to be assumed is told in the account; all faults are told at once.
    pub fn resolve(
        &self,
        measures: Measures,
        reference: &'static Reference,
        at: &Pointer<'_>,
        account: &mut Account,
    ) -> Result<Pans, Faults> {
        let mut reading = Reading { measures, reference, account };
        match self {
            Self::One(pan) => pan.resolve(&mut reading, at).and_then(|all| few_enough(all, at)),
            Self::Several(pans) if pans.is_empty() => {
                Err(Fault::new(at, Code::MissingField, "an empty list", "one pan at least").trying(["9 inch round, 2 inches deep"]).into())
            }
            Self::Several(pans) if pans.len() > MOST_PANS => Err(too_many(pans.len(), at)),
            Self::Several(pans) => {
                let mut faults = Faults::new();
                let mut all = Vec::with_capacity(pans.len());
                for (index, pan) in pans.iter().enumerate() {
                    match pan.resolve(&mut reading, &at.index(index)) {
                        Ok(pans) => all.extend(pans),
                        Err(more) => faults.append(more),
                    }
                }
                faults.or(all).and_then(|all| few_enough(all, at))
            }
        }
    }
}

fn few_enough(all: Vec<Pan>, at: &Pointer<'_>) -> Result<Pans, Faults> {
    if all.len() > MOST_PANS { Err(too_many(all.len(), at)) } else { Ok(Pans { all }) }
}

fn too_many(pans: usize, at: &Pointer<'_>) -> Faults {
    Fault::new(at, Code::TooMany, format!("{pans} pans"), format!("at most {MOST_PANS} kinds of pan")).into()
}

impl PanWritten {
    /// A phrase may list several.
    fn resolve(&self, reading: &mut Reading<'_>, at: &Pointer<'_>) -> Result<Vec<Pan>, Faults> {
        match self {
            Self::Phrase(phrase) => match listed(phrase) {
                Some(phrases) => phrases.iter().map(|phrase| Ok(phrase::resolve(phrase, reading, at)?)).collect(),
                None => Ok(vec![phrase::resolve(phrase, reading, at)?]),
            },
            Self::Drawn(drawn) => Ok(vec![drawn.resolve(reading, at)?]),
        }
    }
}

impl Drawn {
    fn resolve(&self, reading: &mut Reading<'_>, at: &Pointer<'_>) -> Result<Pan, Faults> {
        let mut faults = Faults::new();
        let count = self.count.unwrap_or(1);
        if !(1..=MOST_COUNT).contains(&count) {
            faults.push(Fault::new(&at.key("count"), Code::OutOfRange, count.to_string(), format!("1 to {MOST_COUNT} pans")));
        }
        let [(word, entries)] = self.shapes.as_slice() else {
            faults.push(one_shape(&self.shapes, at));
            return Err(faults);
        };
        let place = at.key(word);
        let Some(kind) = ShapeKind::of_word(word) else { return Err(one_shape(&[], at).into()) };
        let (sizes, unit) = measured(entries, reading.measures, &place, &mut faults);
        if faults.is_empty() {
            match assembled(kind, sizes, unit, reading.reference, &place) {
                Ok(pan) => return Ok(Pan { count, material: self.material, ..pan }),
                Err(fault) => faults.push(fault),
            }
        }
        Err(faults)
    }
}

fn one_shape(shapes: &[(&'static str, Vec<(Dimension, Entry)>)], at: &Pointer<'_>) -> Fault {
    let words: Vec<_> = SHAPES.iter().map(|kind| kind.word).collect();
    let found = match shapes {
        [] => "no shape".to_owned(),
        several => several.iter().map(|(word, _)| *word).collect::<Vec<_>>().join(" and "),
    };
    Fault::new(at, Code::ExactlyOne, found, format!("exactly one of {}", words.join(", ")))
        .trying(["{\"round\": {\"diameter\": \"9 in\", \"depth\": \"2 in\"}}"])
}

/// The measures of a shape, and the unit in which the first of them was written.
fn measured(entries: &[(Dimension, Entry)], measures: Measures, at: &Pointer<'_>, faults: &mut Faults) -> (Sizes, &'static Unit) {
    let mut sizes = Sizes::default();
    let mut first = None;
    for (dimension, entry) in entries {
        let place = at.key(dimension.word());
        let read = match (dimension.family(), entry) {
            (Family::Count, Entry::Number(wells)) => whole_wells(*wells, &place).map(|wells| sizes.wells = Some(wells)),
            (Family::Volume, Entry::Amount(written)) => capacity(written, measures, &place).map(|volume| sizes.capacity = Some(volume)),
            (Family::Area, Entry::Amount(written)) => area(written, measures, &place).map(|area| sizes.top_area = Some(area)),
            (_, Entry::Amount(written)) => length(written, measures, *dimension, &place).map(|(length, unit)| {
                first.get_or_insert(unit);
                sizes.set(*dimension, length);
            }),
            (_, Entry::Number(_)) => Ok(()),
        };
        faults.keep(read);
    }
    (sizes, first.unwrap_or_else(|| Unit::known("centimetre")))
}

/// A pan of checked measures.
pub(super) fn assembled(
    kind: &'static ShapeKind,
    sizes: Sizes,
    unit: &'static Unit,
    reference: &'static Reference,
    at: &Pointer<'_>,
) -> Result<Pan, Fault> {
    let shape = (kind.build)(&sizes).map_err(|impossible| refusal(&impossible, &sizes, unit, at))?;
    let depth = match (shape.own_depth(), sizes.length(Dimension::Depth)) {
        (Some(own), _) => Some((own, DepthFrom::Shape)),
        (None, given) => given.map(|depth| (depth, DepthFrom::Given)),
    };
    let row = matching(kind, &sizes, unit, reference);
    Ok(Pan { kind, shape, sizes, unit, depth, count: 1, material: None, row, at: at.text() })
}

fn refusal(impossible: &Impossible, sizes: &Sizes, unit: &Unit, at: &Pointer<'_>) -> Fault {
    let dimension = impossible.dimension;
    let found = match sizes.length(dimension) {
        Some(length) => format!("{} {}", crate::quantity::Figure(length.in_centimetres() / unit.size).rounded(), unit.one),
        None => format!("no {}", dimension.word()),
    };
    Fault::new(&at.key(dimension.word()), impossible.code, found, impossible.accepted.clone())
}

pub(super) fn whole_wells(wells: u32, at: &Pointer<'_>) -> Result<u32, Fault> {
    match wells {
        1..=MOST_WELLS => Ok(wells),
        _ => Err(Fault::new(at, Code::OutOfRange, wells.to_string(), format!("1 to {MOST_WELLS} wells"))),
    }
}

/// Any length of a pan is between a millimetre and ten metres.
pub(super) fn sound_length(length: Length, dimension: Dimension, found: &str, at: &Pointer<'_>) -> Result<Length, Fault> {
    let least = if dimension == Dimension::Corner { 0.0 } else { 0.1 };
    match length.in_centimetres() {
        cm if (least..=1000.0).contains(&cm) => Ok(length),
        cm if cm <= 0.0 => Err(Fault::new(at, Code::ImpossiblePan, found, "a length above 0").trying(["9 in", "23 cm"])),
        _ => Err(Fault::new(at, Code::OutOfRange, found, "a length from 1 mm to 10 m").trying(["9 in", "23 cm"])),
    }
}

fn length(written: &Written, measures: Measures, dimension: Dimension, at: &Pointer<'_>) -> Result<(Length, &'static Unit), Fault> {
    let amount = read_amount(written, measures, at).map_err(|fault| fault.offering(&["9 in", "23 cm"]))?;
    let unit = unit_of(&amount, &[Family::Length], "a length, such as \"9 in\" or \"23 cm\"", &["in", "cm"], at)?;
    if !amount.number.is_exact() {
        return Err(Fault::new(at, Code::UnreadableAmount, written.as_text(), "one length, not a range").trying(["9 in", "23 cm"]));
    }
    let length = Length::centimetres(amount.number.value * unit.size);
    Ok((sound_length(length, dimension, &written.as_text(), at)?, unit))
}

fn capacity(written: &Written, measures: Measures, at: &Pointer<'_>) -> Result<Span<Volume>, Fault> {
    let amount = read_amount(written, measures, at).map_err(|fault| fault.offering(&["12 cups", "2.8 l"]))?;
    // The water that fills a pan may be weighed: a gram of it is a millilitre.
    let unit = unit_of(&amount, &[Family::Volume, Family::Mass], "a volume, such as \"12 cups\" or \"2.8 l\"", &["cups", "ml"], at)?;
    let end = |figure: f64| Volume::millilitres(figure * unit.size);
    sound_capacity(Span::new(end(amount.number.low), end(amount.number.value), end(amount.number.high)), &written.as_text(), at)
}

pub(super) fn sound_capacity(volume: Span<Volume>, found: &str, at: &Pointer<'_>) -> Result<Span<Volume>, Fault> {
    match (volume.low().in_millilitres(), volume.high().in_millilitres()) {
        (low, _) if low <= 0.0 => Err(Fault::new(at, Code::ImpossiblePan, found, "a capacity above 0").trying(["12 cups", "2.8 l"])),
        (low, high) if low >= 1.0 && high <= 1e6 => Ok(volume),
        _ => Err(Fault::new(at, Code::OutOfRange, found, "a capacity from 1 ml to 1000 l").trying(["12 cups", "2.8 l"])),
    }
}

fn area(written: &Written, measures: Measures, at: &Pointer<'_>) -> Result<Area, Fault> {
    let amount = read_amount(written, measures, at).map_err(|fault| fault.offering(&["400 cm2", "64 sq in"]))?;
    let unit = unit_of(&amount, &[Family::Area], "an area, such as \"400 cm2\" or \"64 sq in\"", &["cm2", "sq in"], at)?;
    let area = amount.number.value * unit.size;
    match area {
        _ if area <= 0.0 => Err(Fault::new(at, Code::ImpossiblePan, written.as_text(), "an area above 0").trying(["400 cm2"])),
        _ if (0.01..=1e6).contains(&area) => Ok(Area::square_centimetres(area)),
        _ => Err(Fault::new(at, Code::OutOfRange, written.as_text(), "an area from 1 mm2 to 100 m2").trying(["400 cm2"])),
    }
}

fn unit_of(amount: &Amount, families: &[Family], accepted: &str, tries: &[&str], at: &Pointer<'_>) -> Result<&'static Unit, Fault> {
    let attempts = || tries.iter().map(|unit| format!("{} {unit}", amount.number.value)).collect::<Vec<_>>();
    match &amount.counting {
        Counting::Unit(unit) if families.contains(&unit.family) => Ok(unit),
        Counting::Unit(unit) => {
            Err(Fault::new(at, Code::WrongUnit, format!("{}, {}", unit.one, unit.family.word()), accepted).trying(attempts()))
        }
        Counting::Named(word) => {
            let samples: Vec<String> = tries.iter().map(|unit| format!("1 {unit}")).collect();
            Err(amount.unknown_unit(word, at).offering(&samples.iter().map(String::as_str).collect::<Vec<_>>()))
        }
        Counting::Nothing => Err(Fault::new(at, Code::UnitMissing, amount.number.value.to_string(), accepted).trying(attempts())),
        Counting::Disher(_) | Counting::Size(_) => Err(Fault::new(at, Code::WrongUnit, "a count", accepted).trying(attempts())),
    }
}

#[cfg(test)]
mod tests {
    // Pans as objects, good and bad.
    use super::*;

    #[track_caller]
    fn faults(json: &str) -> Vec<(Code, String)> {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let written: PansWritten = serde_json::from_str(json).unwrap_or_else(|fault| panic!("{json}: {fault}"));
        let resolved = written.resolve(Measures::Us, reference, &Pointer::ROOT.key("to"), &mut Account::new(reference, false));
        match resolved {
            Ok(pans) => panic!("{json} is taken as {}", pans.text()),
            Err(faults) => faults.iter().map(|fault| (fault.code, fault.pointer.clone())).collect(),
        }
    }

    #[track_caller]
    fn refused(json: &str, code: Code, pointer: &str) {
        assert_eq!(faults(json), [(code, pointer.to_owned())], "{json}");
    }

    #[test]
    fn every_fault_is_told_at_its_place() {
        refused("{}", Code::ExactlyOne, "/to");
        refused("{\"round\":{\"diameter\":\"9 in\"},\"square\":{\"side\":\"9 in\"}}", Code::ExactlyOne, "/to");
        refused("{\"round\":{}}", Code::DimensionNeeded, "/to/round/diameter");
        refused("{\"round\":{\"diameter\":\"9\"}}", Code::UnitMissing, "/to/round/diameter");
        refused("{\"round\":{\"diameter\":\"9 cups\"}}", Code::WrongUnit, "/to/round/diameter");
        refused("{\"round\":{\"diameter\":\"9 blobs\"}}", Code::UnknownUnit, "/to/round/diameter");
        refused("{\"round\":{\"diameter\":\"0 in\"}}", Code::ImpossiblePan, "/to/round/diameter");
        refused("{\"round\":{\"diameter\":\"-9 in\"}}", Code::ImpossiblePan, "/to/round/diameter");
        refused("{\"round\":{\"diameter\":\"11 m\"}}", Code::OutOfRange, "/to/round/diameter");
        refused("{\"round\":{\"diameter\":\"9-10 in\"}}", Code::UnreadableAmount, "/to/round/diameter");
        refused("{\"round\":{\"diameter\":\"9 in\"},\"count\":0}", Code::OutOfRange, "/to/count");
        refused(
            "{\"tube\":{\"diameter\":\"9 in\",\"depth\":\"3 in\",\"core_diameter\":\"9 in\"}}",
            Code::ImpossiblePan,
            "/to/tube/core_diameter",
        );
        refused("{\"muffin-tray\":{\"wells\":0,\"diameter\":\"7 cm\"}}", Code::OutOfRange, "/to/muffin-tray/wells");
        refused("{\"measured\":{\"capacity\":\"0 ml\"}}", Code::ImpossiblePan, "/to/measured/capacity");
        refused("[]", Code::MissingField, "/to");
    }

    #[test]
    fn all_faults_are_told_at_once() {
        let told = faults("[{\"round\":{\"diameter\":\"9\",\"depth\":\"2 cups\"}},\"9 inch rond\"]");
        let places: Vec<_> = told.iter().map(|(_, pointer)| pointer.as_str()).collect();
        assert_eq!(places, ["/to/0/round/diameter", "/to/0/round/depth", "/to/1"]);
    }
}
