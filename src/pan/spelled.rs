//! The numbers of a phrase laid out on its shape: which is the diameter, which the depth, what a cup counts, and what the trade fills in.

use super::kind::ShapeKind;
use super::phrase::named_length;
use super::reading::Reading;
use super::shape_words::{NO_WORD_LOAF, NO_WORD_MEASURED, NO_WORD_RECTANGLE, NO_WORD_SQUARE, RINGS_OF, SHAPE_WORDS, ShapeWord};
use super::shape_words::{either_ring, is_too_deep_for_a_pie, placed, said};
use super::sizes::{DEEP_DISH_APART, SOLD_AS_ONE, is_beside, nearest};
use super::words::{Token, is_filler, singular};
use crate::quantity::{Code, Family, Fault, Length, Measures, Pointer, Span, Unit, Volume};
use crate::reference::{Dimension, PanRow, Reference, Sizes};

/// Above this, a number without a unit may be inches or centimetres.
const SURELY_INCHES: f64 = 18.0;

/// The least that is baked in, in centimetres: across, across where the shape or all units are left out, and deep.
const LEAST_ACROSS: f64 = 4.0;
const LEAST_UNSURE: f64 = 6.0;
const LEAST_DEEP: f64 = 1.25;

type Measure = (f64, Option<&'static Unit>);

/// The unit of length that a word is.
pub(super) fn length_unit(word: &str) -> Option<&'static Unit> {
    match word {
        "in" => Some(Unit::known("inch")),
        "cm" => Some(Unit::known("centimetre")),
        "mm" => Some(Unit::known("millimetre")),
        _ => None,
    }
}

fn is_cup(word: &str) -> bool {
    matches!(word, "cup" | "cups")
}

pub(super) fn is_well(word: &str) -> bool {
    matches!(word, "hole" | "holes" | "well" | "wells" | "cavity" | "cavities")
}

fn volume_unit(word: &str, measures: Measures) -> Option<&'static Unit> {
    Unit::of_word(word, measures).filter(|unit| unit.family == Family::Volume && word.len() > 1 || word == "l")
}

/// Whether a word behind a number says what the number measures. What things are counted by measures no pan: a square is a shape, a cake what is baked in it.
pub(super) fn is_measure(word: &str) -> bool {
    is_cup(word) || is_well(word) || Unit::of_word(word, Measures::Us).is_some_and(|unit| unit.family != Family::Count)
}

/// What a phrase says, by kind of figure.
pub(super) struct Spelled {
    lengths: Vec<Measure>,
    depth: Option<Measure>,
    core: Option<Measure>,
    cups: Option<f64>,
    wells: Option<f64>,
    capacity: Option<(f64, &'static Unit)>,
    words: Vec<String>,
    cup: &'static Unit,
}

/// A shape with its sizes, ready to be built.
pub(super) struct LaidOut {
    pub(super) kind: &'static ShapeKind,
    pub(super) sizes: Sizes,
    pub(super) unit: &'static Unit,
    pub(super) trade_depth: bool,
}

impl Spelled {
    /// Sorts the pieces; fails with the first word that is none of the trade.
    pub(super) fn of(tokens: &[Token], depth: Option<Measure>, measures: Measures) -> Result<Self, String> {
        let cup = Unit::of_word("cup", measures).unwrap_or_else(|| Unit::known("us-cup"));
        let mut spelled = Self { lengths: Vec::new(), depth, core: None, cups: None, wells: None, capacity: None, words: Vec::new(), cup };
        let mut rest = tokens.iter().peekable();
        let mut core_next = false;
        while let Some(token) = rest.next() {
            let number = match token {
                Token::By => continue,
                Token::Word(word) if word == "core" => {
                    core_next = true;
                    continue;
                }
                Token::Word(word) => {
                    spelled.word(word)?;
                    continue;
                }
                Token::Number(number) => *number,
            };
            let behind = match rest.peek() {
                Some(Token::Word(word)) => word.as_str(),
                _ => "",
            };
            if is_cup(behind) {
                spelled.cups = Some(number);
            } else if is_well(behind) {
                spelled.wells = Some(number);
            } else if let Some(unit) = length_unit(behind) {
                spelled.place((number, Some(unit)), core_next);
            } else if let Some(unit) = volume_unit(behind, measures) {
                spelled.capacity = Some((number, unit));
            } else {
                spelled.place((number, None), core_next);
                continue;
            }
            core_next = false;
            rest.next();
        }
        spelled.count_wells();
        Ok(spelled)
    }

    /// "24 mini muffin": a bare number before a tray counts its cups.
    fn count_wells(&mut self) {
        let of_tray = self.said().and_then(|word| ShapeKind::of_word(word.shape)).is_some_and(|kind| kind.takes(Dimension::Wells));
        if let [(wells, None), others @ ..] = self.lengths.as_slice()
            && of_tray
            && self.wells.or(self.cups).is_none()
            && others.iter().all(|(_, unit)| unit.is_some())
        {
            self.cups = Some(*wells);
            self.lengths.remove(0);
        }
    }

    fn place(&mut self, measure: Measure, is_core: bool) {
        if is_core { self.core = Some(measure) } else { self.lengths.push(measure) }
    }

    fn word(&mut self, word: &str) -> Result<(), String> {
        let one = singular(word);
        let known = is_filler(word)
            || one == "mini"
            || one == "jumbo"
            || one == "tray"
            || one == "shallow"
            || one == "well"
            || RINGS_OF.contains(&one)
            || matches!(one, "pudding" | "basin" | "dariole" | "baba" | "soufflé" | "souffle" | "terrine")
            || SHAPE_WORDS.iter().any(|shape| shape.words.contains(&one));
        if !known {
            return Err(word.to_owned());
        }
        self.words.push(one.to_owned());
        Ok(())
    }

    fn says(&self, word: &str) -> bool {
        self.words.iter().any(|said| said == word)
    }

    fn said(&self) -> Option<&'static ShapeWord> {
        let unit = self.lengths.iter().rev().find_map(|(_, unit)| *unit).unwrap_or_else(|| Unit::known("inch"));
        said(&self.words, &self.in_centimetres(unit))
    }

    /// The shape that is said, or that follows from the numbers alone.
    fn shape(&self, reference: &'static Reference) -> Option<&'static ShapeWord> {
        if let Some(said) = self.said() {
            // "6 x 150 ml ramekins": what it holds is all that is known, and all that is needed.
            let by_lengths = ShapeKind::of_word(said.shape).is_some_and(|kind| !kind.needs_no_length());
            let holds_alone = self.capacity.is_some() && self.lengths.is_empty() && by_lengths;
            return Some(if holds_alone { &NO_WORD_MEASURED } else { said });
        }
        let mut figures: Vec<f64> = self.lengths.iter().map(|(figure, _)| *figure).collect();
        figures.sort_by(|a, b| b.total_cmp(a));
        match figures.as_slice() {
            [length, width] | [length, width, _] if length == width => Some(&NO_WORD_SQUARE),
            figures @ ([_, _] | [_, _, _]) if self.is_loaf(figures, reference) => Some(&NO_WORD_LOAF),
            [_, _] | [_, _, _] => Some(&NO_WORD_RECTANGLE),
            [] if self.capacity.is_some() => Some(&NO_WORD_MEASURED),
            _ => None,
        }
    }

    /// "9x5x3" is a loaf tin to the trade: a size by which loaf tins are sold, and no other tin.
    fn is_loaf(&self, falling: &[f64], reference: &'static Reference) -> bool {
        let mut units = self.lengths.iter().rev().filter_map(|(_, unit)| *unit);
        let unit = units.next().unwrap_or_else(|| Unit::known("inch"));
        let alike = units.all(|other| other.id == unit.id);
        let is_sold_as = |shape: &str| {
            let sold = |row: &&PanRow| {
                let sides = [Dimension::Length, Dimension::Width, Dimension::Depth].map(|side| row.sizes.length(side));
                let is_side = |(figure, side): (&f64, Option<Length>)| {
                    side.is_some_and(|side| (side.in_centimetres() / unit.size - figure).abs() < 0.01)
                };
                row.shape == shape && row.unit.id == unit.id && falling.iter().zip(sides).all(is_side)
            };
            reference.pans.all.iter().any(|row| sold(&row))
        };
        alike && is_sold_as("loaf") && !is_sold_as("rectangle")
    }

    /// Lays the numbers out; nothing where they do not make a pan.
    pub(super) fn laid_out(&self, phrase: &str, reading: &mut Reading<'_>, at: &Pointer<'_>) -> Result<Option<LaidOut>, Fault> {
        let Some(word) = self.shape(reading.reference) else { return Ok(None) };
        let Some(kind) = ShapeKind::of_word(word.shape) else { return Ok(None) };
        let unit = self.unit(phrase, reading, at)?;
        if word.words == ["ring"] && self.cups.is_none() && self.capacity.is_none() && self.words == ["ring"] {
            return Err(either_ring(phrase, at));
        }
        if word.words.is_empty() && word.shape != "measured" {
            reading.account.assume(format!("{phrase:?} names no shape: it is taken as a {}", word.shape), at, word.shape);
        }
        let mut sizes = Sizes::default();
        let lengths = self.in_centimetres(unit);
        if !placed(kind, &lengths, &mut sizes) || word.like == ["pie-"] && is_too_deep_for_a_pie(&sizes) {
            return Ok(None);
        }
        self.bakeable(word, kind, &sizes, phrase, at)?;
        if let Some(depth) = self.depth {
            sizes.set(Dimension::Depth, in_unit(depth, unit));
        }
        if let Some(core) = self.core {
            sizes.set(Dimension::CoreDiameter, in_unit(core, unit));
        }
        if !self.counted(kind, &mut sizes, reading, at) {
            return Ok(None);
        }
        let trade_depth = self.filled_in(word, kind, unit, &mut sizes, reading, at);
        Ok(Some(LaidOut { kind, sizes, unit, trade_depth }))
    }

    /// A bare number that makes a pan in which nothing can be baked was meant for something else.
    fn bakeable(&self, word: &ShapeWord, kind: &ShapeKind, sizes: &Sizes, phrase: &str, at: &Pointer<'_>) -> Result<(), Fault> {
        let bare = self.lengths.iter().filter(|(_, unit)| unit.is_none()).count();
        let unsure = word.words.is_empty() || bare == self.lengths.len();
        let least_across = if unsure { LEAST_UNSURE } else { LEAST_ACROSS };
        let is_tray = kind.takes(Dimension::Wells);
        let dimensions = kind.sold_by.iter().filter(|_| !is_tray).map(|side| (*side, least_across));
        let small = dimensions.chain([(Dimension::Depth, LEAST_DEEP)]).find_map(|(dimension, least)| {
            let length = sizes.length(dimension)?.in_centimetres();
            (length > 0.0 && length < least).then_some((dimension, length, least))
        });
        let Some((dimension, length, least)) = small.filter(|_| bare > 0) else { return Ok(()) };
        let found = format!("{phrase:?}: {} {:.1} cm", dimension.word(), length);
        Err(Fault::new(at, Code::ImpossiblePan, found, format!("a {} of at least {least} cm", dimension.word()))
            .saying("Write a unit behind each length and say which is the depth; how many pans there are stands first, before \"pans of\"")
            .trying(["8 inch round, 2 inches deep", "2 pans of 8 inch round"]))
    }

    /// The unit of the numbers that have none: that of the others, or inches where they can hardly be anything else.
    fn unit(&self, phrase: &str, reading: &mut Reading<'_>, at: &Pointer<'_>) -> Result<&'static Unit, Fault> {
        let all = || self.lengths.iter().chain(&self.depth).chain(&self.core);
        if let Some(unit) = all().rev().find_map(|(_, unit)| *unit) {
            return Ok(unit);
        }
        if all().any(|(figure, _)| *figure > SURELY_INCHES) {
            return Err(Fault::new(at, Code::UnitMissing, phrase, "a unit behind the numbers")
                .trying([format!("{phrase} in"), format!("{phrase} cm")]));
        }
        if all().next().is_some() {
            reading.account.assume(format!("The numbers of {phrase:?} are taken as inches"), at, "in");
        }
        Ok(Unit::known("inch"))
    }

    fn in_centimetres(&self, unit: &'static Unit) -> Vec<Length> {
        // A unit stands for all numbers before it: 13x9x2 in.
        let mut last = unit;
        let mut lengths: Vec<Length> = self
            .lengths
            .iter()
            .rev()
            .map(|(figure, own)| {
                last = own.unwrap_or(last);
                Length::centimetres(figure * last.size)
            })
            .collect();
        lengths.reverse();
        lengths
    }

    /// Cups count wells on a muffin tray and measure a ring.
    fn counted(&self, kind: &ShapeKind, sizes: &mut Sizes, reading: &mut Reading<'_>, at: &Pointer<'_>) -> bool {
        let cups = self.cups.map(|cups| Volume::millilitres(cups * self.cup.size));
        let held = self.capacity.map(|(number, unit)| Volume::millilitres(number * unit.size));
        if let Some((held, (_, unit))) = held.zip(self.capacity.filter(|(_, unit)| unit.is_national())) {
            let held = format!("{:.0} ml", held.in_millilitres());
            reading.account.assume(format!("One {} is {:.0} ml: it holds {held}", unit.one, unit.size), at, held);
        }
        sizes.capacity = held.or(cups).filter(|_| kind.takes(Dimension::Capacity)).map(Span::exact);
        if kind.word == "fluted-ring"
            && let Some(cups) = self.cups
        {
            reading.account.assume(format!("{cups} cups are what the ring holds"), at, format!("capacity {cups} cups"));
        }
        if !kind.takes(Dimension::Wells) {
            return true;
        }
        let Some(wells) = self.wells.or(self.cups).or(Some(12.0)).filter(|wells| wells.fract() == 0.0 && *wells <= 1e6) else {
            return false;
        };
        sizes.wells = Some(wells as u32);
        if self.wells.is_none() {
            reading.account.assume(format!("The tray is taken to have {wells} wells"), at, format!("{wells} wells"));
        }
        true
    }

    /// What was not said, from the nearest trade size; tells it. Whether the depth is the trade's.
    fn filled_in(
        &self,
        word: &ShapeWord,
        kind: &ShapeKind,
        unit: &Unit,
        sizes: &mut Sizes,
        reading: &mut Reading<'_>,
        at: &Pointer<'_>,
    ) -> bool {
        let like = if kind.takes(Dimension::Wells) && sizes.length(Dimension::Diameter).is_none() {
            reading.reference.pans.find(self.well_size())
        } else {
            self.nearest_row(word, kind, unit, sizes, reading)
        };
        let Some(row) = like else { return false };
        let asked = kind.fields.iter().map(|field| field.dimension);
        let mut filled = Vec::new();
        for dimension in asked.filter(|dimension| fills(*dimension, word)) {
            if let (None, Some(length)) = (sizes.length(dimension), row.sizes.length(dimension)) {
                let length = if dimension == Dimension::Depth { length } else { length * scale(row, sizes) };
                sizes.set(dimension, length);
                filled.push((dimension, length));
            }
        }
        if !filled.is_empty() {
            let figures: Vec<String> = filled.iter().map(|(dimension, length)| named_length(*dimension, *length, unit)).collect();
            let text = format!("Not said, so taken from the nearest trade size ({}): {}", row.name, figures.join(", "));
            reading.account.assume(text, at, figures.join(", "));
            reading.account.cite(row.citation);
        }
        filled.iter().any(|(dimension, _)| *dimension == Dimension::Depth)
    }

    fn well_size(&self) -> &'static str {
        match () {
            () if self.says("mini") => "muffin-mini-24",
            () if self.says("jumbo") => "muffin-jumbo-6",
            () => "muffin-12",
        }
    }

    fn nearest_row(
        &self,
        word: &ShapeWord,
        kind: &ShapeKind,
        unit: &Unit,
        sizes: &Sizes,
        reading: &Reading<'_>,
    ) -> Option<&'static PanRow> {
        let said: Vec<Dimension> = kind.sold_by.iter().copied().filter(|dimension| sizes.length(*dimension).is_some()).collect();
        if said.is_empty() {
            return None;
        }
        let is_like = |row: &&'static PanRow| row.shape == kind.word && word.like.iter().any(|like| row.id.starts_with(like));
        let rows = || reading.reference.pans.all.iter().filter(is_like);
        let usual = nearest(rows(), sizes, unit, said.iter().copied(), f64::MAX)?;
        let deep = |row: &PanRow| row.sizes.length(Dimension::Depth).map(Length::in_centimetres);
        let usual_deep = deep(usual)?;
        // How much deeper a row is than the usual one, the way the phrase says.
        let way = match (self.says("deep"), self.says("shallow")) {
            (true, false) => 1.0,
            (false, true) => -1.0,
            _ => return Some(usual),
        };
        let apart = if word.like == ["pie-"] { DEEP_DISH_APART } else { SOLD_AS_ONE };
        let beside = |row: &&'static PanRow| said.iter().all(|side| is_beside(row.sizes.length(*side), usual.sizes.length(*side), apart));
        let most = |same_unit: bool| {
            rows()
                .filter(|row| (row.unit.id == usual.unit.id) == same_unit)
                .filter(beside)
                .filter_map(|row| Some((row, (deep(row)? - usual_deep) * way)))
                .filter(|(_, more)| *more > usual_deep * 0.1)
                .max_by(|(_, a), (_, b)| a.total_cmp(b))
        };
        most(true).or_else(|| most(false).filter(|_| way > 0.0)).map_or(Some(usual), |(row, _)| Some(row))
    }
}

/// What the trade fills in: a depth always, a core for a tube, a well for a tray, a width for a loaf, a lean for a pie plate and a skillet.
fn fills(dimension: Dimension, word: &ShapeWord) -> bool {
    match dimension {
        Dimension::BaseDiameter => matches!(word.shape, "tube" | "muffin-tray") || word.leans(),
        Dimension::Corner => false,
        _ => true,
    }
}

fn scale(row: &PanRow, sizes: &Sizes) -> crate::quantity::Factor {
    let by = |dimension| Some(sizes.length(dimension)? / row.sizes.length(dimension)?);
    by(Dimension::Diameter).or_else(|| by(Dimension::Length)).unwrap_or(crate::quantity::Factor::ONE)
}

fn in_unit((figure, own): Measure, unit: &'static Unit) -> Length {
    Length::centimetres(figure * own.unwrap_or(unit).size)
}
