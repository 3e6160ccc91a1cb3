//! The numbers of a phrase laid out on its shape: which is the diameter, which the depth, what a cup counts, and what the trade fills in.

use super::kind::ShapeKind;
use super::reading::Reading;
use super::sizes::nearest;
use super::words::{Token, is_filler, singular};
use crate::quantity::{Code, Family, Fault, Length, Measures, Pointer, Span, Unit, Volume};
use crate::reference::{Dimension, PanRow, Sizes};

/// A shape word: the words of the trade, the shape, and the rows of the table that are like it.
struct ShapeWord {
    words: &'static [&'static str],
    shape: &'static str,
    like: &'static [&'static str],
}

/// The first that stands in the phrase wins: a fluted tube is fluted.
const SHAPE_WORDS: &[ShapeWord] = &[
    ShapeWord { words: &["fluted", "bundt", "kugelhopf", "gugelhupf", "guglhupf"], shape: "fluted-ring", like: &[""] },
    ShapeWord { words: &["springform"], shape: "springform", like: &[""] },
    ShapeWord { words: &["muffin", "cupcake", "bun", "fairy"], shape: "muffin-tray", like: &[""] },
    ShapeWord { words: &["tube", "angel"], shape: "tube", like: &[""] },
    ShapeWord { words: &["loaf", "pullman"], shape: "loaf", like: &[""] },
    ShapeWord { words: &["pie"], shape: "round", like: &["pie-"] },
    ShapeWord { words: &["tart", "tartlet", "flan", "quiche"], shape: "round", like: &["tart-"] },
    ShapeWord { words: &["sandwich", "sponge", "victoria"], shape: "round", like: &["sandwich-"] },
    ShapeWord { words: &["ramekin"], shape: "round", like: &["ramekin-"] },
    ShapeWord { words: &["hemisphere", "hemispherical", "dome"], shape: "hemisphere", like: &[] },
    ShapeWord { words: &["heart"], shape: "heart", like: &[""] },
    ShapeWord { words: &["hexagon", "hexagonal"], shape: "hexagon", like: &[""] },
    ShapeWord { words: &["oval", "ellipse"], shape: "oval", like: &[""] },
    ShapeWord { words: &["square"], shape: "square", like: &["square-", "deep-square-", "shallow-square-"] },
    ShapeWord { words: &["sheet", "jelly", "roll", "swiss"], shape: "sheet", like: &[""] },
    ShapeWord { words: &["rectangle", "rectangular", "oblong", "traybake"], shape: "rectangle", like: RECTANGLES },
    ShapeWord { words: &["round", "layer", "circular"], shape: "round", like: &["round-", "deep-round-"] },
    ShapeWord { words: &["ring"], shape: "fluted-ring", like: &[""] },
];

const RECTANGLES: &[&str] = &["rectangle-", "roasting-", "traybake-", "lamington-"];
const NO_WORD_RECTANGLE: ShapeWord = ShapeWord { words: &[], shape: "rectangle", like: RECTANGLES };
const NO_WORD_SQUARE: ShapeWord = ShapeWord { words: &[], shape: "square", like: &["square-", "deep-square-", "shallow-square-"] };
const NO_WORD_MEASURED: ShapeWord = ShapeWord { words: &[], shape: "measured", like: &[] };

/// Above this, a number without a unit may be inches or centimetres.
const SURELY_INCHES: f64 = 18.0;

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

fn is_well(word: &str) -> bool {
    matches!(word, "hole" | "holes" | "well" | "wells" | "cavity" | "cavities")
}

fn volume_unit(word: &str, measures: Measures) -> Option<&'static Unit> {
    Unit::of_word(word, measures).filter(|unit| unit.family == Family::Volume && word.len() > 1 || word == "l")
}

/// Whether a word behind a number says what the number measures.
pub(super) fn is_measure(word: &str) -> bool {
    length_unit(word).is_some() || is_cup(word) || is_well(word) || Unit::of_word(word, Measures::Us).is_some()
}

/// What a phrase says, by kind of figure.
pub(super) struct Spelled {
    lengths: Vec<Measure>,
    depth: Option<Measure>,
    core: Option<Measure>,
    cups: Option<f64>,
    wells: Option<f64>,
    capacity: Option<Volume>,
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
                spelled.capacity = Some(Volume::millilitres(number * unit.size));
            } else {
                spelled.place((number, None), core_next);
                continue;
            }
            core_next = false;
            rest.next();
        }
        Ok(spelled)
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

    /// The shape that is said, or that follows from the numbers alone.
    fn shape(&self) -> Option<&'static ShapeWord> {
        if let Some(said) = SHAPE_WORDS.iter().find(|shape| shape.words.iter().any(|word| self.says(word))) {
            return Some(said);
        }
        let mut figures: Vec<f64> = self.lengths.iter().map(|(figure, _)| *figure).collect();
        figures.sort_by(|a, b| b.total_cmp(a));
        match figures.as_slice() {
            [length, width] | [length, width, _] if length == width => Some(&NO_WORD_SQUARE),
            [_, _] | [_, _, _] => Some(&NO_WORD_RECTANGLE),
            [] if self.capacity.is_some() => Some(&NO_WORD_MEASURED),
            _ => None,
        }
    }

    /// Lays the numbers out; nothing where they do not make a pan.
    pub(super) fn laid_out(&self, phrase: &str, reading: &mut Reading<'_>, at: &Pointer<'_>) -> Result<Option<LaidOut>, Fault> {
        let Some(word) = self.shape() else { return Ok(None) };
        let Some(kind) = ShapeKind::of_word(word.shape) else { return Ok(None) };
        let unit = self.unit(phrase, reading, at)?;
        if word.words.is_empty() && word.shape != "measured" {
            reading.account.assume(format!("{phrase:?} names no shape: it is taken as a {}", word.shape), at, word.shape);
        }
        let mut sizes = Sizes::default();
        let lengths = self.in_centimetres(unit);
        if !placed(kind, &lengths, &mut sizes) {
            return Ok(None);
        }
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
        sizes.capacity = match kind.word {
            "fluted-ring" | "measured" => self.capacity.or(cups).map(Span::exact),
            _ => None,
        };
        if kind.word == "fluted-ring"
            && let Some(cups) = self.cups
        {
            reading.account.assume(format!("{cups} cups are what the ring holds"), at, format!("capacity {cups} cups"));
        }
        if kind.word != "muffin-tray" {
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
        let like = match kind.word {
            "muffin-tray" if sizes.length(Dimension::Diameter).is_none() => reading.reference.pans.find(self.well_size()),
            _ => self.nearest_row(word, kind, unit, sizes, reading),
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
        let said: Vec<Dimension> = main(kind).into_iter().filter(|dimension| sizes.length(*dimension).is_some()).collect();
        if said.is_empty() {
            return None;
        }
        let is_like = |row: &&'static PanRow| row.shape == kind.word && word.like.iter().any(|like| row.id.starts_with(like));
        nearest(reading.reference.pans.all.iter().filter(is_like), sizes, unit, &said, f64::MAX)
    }
}

/// What the trade fills in: a depth always, a core for a tube, a well for a tray, a width for a loaf, a lean for a pie plate.
fn fills(dimension: Dimension, word: &ShapeWord) -> bool {
    match dimension {
        Dimension::BaseDiameter => matches!(word.shape, "tube" | "muffin-tray") || word.like == ["pie-"],
        Dimension::Corner => false,
        _ => true,
    }
}

fn scale(row: &PanRow, sizes: &Sizes) -> crate::quantity::Factor {
    let by = |dimension| Some(sizes.length(dimension)? / row.sizes.length(dimension)?);
    by(Dimension::Diameter).or_else(|| by(Dimension::Length)).unwrap_or(crate::quantity::Factor::ONE)
}

fn named_length(dimension: Dimension, length: Length, unit: &Unit) -> String {
    let figure = (length.in_centimetres() / unit.size * 100.0).round() / 100.0;
    format!("{} {figure} {}", dimension.word().replace('_', " "), unit.one)
}

fn in_unit((figure, own): Measure, unit: &'static Unit) -> Length {
    Length::centimetres(figure * own.unwrap_or(unit).size)
}

/// The dimensions by which a shape is sold.
fn main(kind: &ShapeKind) -> Vec<Dimension> {
    match kind.word {
        "square" => vec![Dimension::Side],
        "hexagon" => vec![Dimension::Across],
        "heart" => vec![Dimension::Width],
        "rectangle" | "sheet" | "loaf" | "oval" => vec![Dimension::Length, Dimension::Width],
        "measured" => vec![],
        _ => vec![Dimension::Diameter],
    }
}

/// Puts the lengths on the shape's dimensions; false where there are too many or too few.
fn placed(kind: &ShapeKind, lengths: &[Length], sizes: &mut Sizes) -> bool {
    let mut falling = lengths.to_vec();
    falling.sort_by(|a, b| b.in_centimetres().total_cmp(&a.in_centimetres()));
    let depth = |sizes: &mut Sizes, depth: Length| sizes.set(Dimension::Depth, depth);
    match (main(kind).as_slice(), falling.as_slice()) {
        ([], []) => true,
        (_, []) => matches!(kind.word, "fluted-ring" | "muffin-tray"),
        ([only], [one]) => {
            sizes.set(*only, *one);
            true
        }
        ([Dimension::Side], [side, other]) if side == other => {
            sizes.set(Dimension::Side, *side);
            true
        }
        ([Dimension::Side], [side, other, low]) if side == other => {
            sizes.set(Dimension::Side, *side);
            depth(sizes, *low);
            true
        }
        ([only], [one, low]) => {
            sizes.set(*only, *one);
            depth(sizes, *low);
            true
        }
        ([long, _], [length]) if kind.word == "loaf" => {
            sizes.set(*long, *length);
            true
        }
        ([long, wide], [length, width, rest @ ..]) if rest.len() < 2 => {
            sizes.set(*long, *length);
            sizes.set(*wide, *width);
            rest.iter().for_each(|low| depth(sizes, *low));
            true
        }
        _ => false,
    }
}
