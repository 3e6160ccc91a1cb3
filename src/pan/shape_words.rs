//! The words by which the trade names shapes, the shape of each, and by which lengths it is sold.

use super::kind::ShapeKind;
use super::words::{Token, singular};
use crate::quantity::{Code, Fault, Length, Pointer, plain};
use crate::reference::{Dimension, Sizes};

/// A shape word: the words of the trade, the shape, and the rows of the table that are like it.
pub(super) struct ShapeWord {
    pub(super) words: &'static [&'static str],
    pub(super) shape: &'static str,
    pub(super) like: &'static [&'static str],
}

impl ShapeWord {
    /// Whether the trade makes it with a wall that leans, so that its base is narrower than the rim by which it is sold.
    pub(super) fn leans(&self) -> bool {
        matches!(self.like, ["pie-" | "skillet-"])
    }
}

/// The first that stands in the phrase wins: a fluted tart tin is a tart tin, a fluted tube is fluted, a square sandwich tin square.
pub(super) const SHAPE_WORDS: &[ShapeWord] = &[
    ShapeWord { words: &["muffin", "cupcake", "bun", "fairy"], shape: "muffin-tray", like: &[""] },
    ShapeWord { words: &["loaf", "pullman"], shape: "loaf", like: &[""] },
    ShapeWord { words: &["sheet", "jelly", "roll", "swiss"], shape: "sheet", like: &[""] },
    ShapeWord { words: &["heart"], shape: "heart", like: &[""] },
    ShapeWord { words: &["hexagon", "hexagonal"], shape: "hexagon", like: &[""] },
    ShapeWord { words: &["oval", "ellipse"], shape: "oval", like: &[""] },
    ShapeWord { words: &["square"], shape: "square", like: &["square-", "deep-square-", "shallow-square-"] },
    ShapeWord {
        words: &["rectangle", "rectangular", "oblong", "traybake", "roasting", "slab", "hotel", "steam", "lamington"],
        shape: "rectangle",
        like: RECTANGLES,
    },
    ShapeWord { words: TARTS, shape: "round", like: &["tart-"] },
    ShapeWord { words: &["pie"], shape: "round", like: &["pie-"] },
    ShapeWord { words: &["skillet", "frypan", "frying"], shape: "round", like: &["skillet-"] },
    ShapeWord { words: &["fluted", "bundt", "kugelhopf", "gugelhupf", "guglhupf"], shape: "fluted-ring", like: &[""] },
    ShapeWord { words: &["springform"], shape: "springform", like: &[""] },
    ShapeWord { words: &["tube", "angel"], shape: "tube", like: &[""] },
    ShapeWord { words: &["sandwich", "sponge", "victoria"], shape: "round", like: &["sandwich-"] },
    ShapeWord { words: &["ramekin"], shape: "round", like: &["ramekin-"] },
    ShapeWord { words: &["hemisphere", "hemispherical", "dome"], shape: "hemisphere", like: &[] },
    ShapeWord { words: &["round", "layer", "circular"], shape: "round", like: &["round-", "deep-round-"] },
    ShapeWord { words: &["ring"], shape: "fluted-ring", like: &[""] },
];

/// A pastry cook's ring: neither base nor hole. It is made in every height, so none is taken for it.
const PLAIN_RING: ShapeWord = ShapeWord { words: RINGS_OF, shape: "round", like: &[] };

/// What stands before "ring" where the ring is plain.
pub(super) const RINGS_OF: &[&str] =
    &["cake", "entremet", "mousse", "tart", "tartlet", "flan", "quiche", "pastry", "muffin", "crumpet", "plain", "round"];

const TARTS: &[&str] = &["tart", "tartlet", "flan", "quiche"];
const SIDED_TART: ShapeWord = ShapeWord { words: &["rectangular"], shape: "rectangle", like: &["tart-"] };
const SIDED_TART_BY_ITS_NUMBERS: ShapeWord = ShapeWord { words: &[], shape: "rectangle", like: &["tart-"] };
const SQUARE_TART: ShapeWord = ShapeWord { words: &["square"], shape: "square", like: &[] };

/// No tart tin is as deep, in centimetres: a second length is a side.
const TOO_DEEP_FOR_A_TART: f64 = 6.0;

const RECTANGLES: &[&str] = &["rectangle-", "roasting-", "traybake-", "lamington-"];
pub(super) const NO_WORD_RECTANGLE: ShapeWord = ShapeWord { words: &[], shape: "rectangle", like: RECTANGLES };
pub(super) const NO_WORD_SQUARE: ShapeWord =
    ShapeWord { words: &[], shape: "square", like: &["square-", "deep-square-", "shallow-square-"] };
pub(super) const NO_WORD_LOAF: ShapeWord = ShapeWord { words: &[], shape: "loaf", like: &[""] };
pub(super) const NO_WORD_MEASURED: ShapeWord = ShapeWord { words: &[], shape: "measured", like: &[] };

/// The shape that the words of a phrase name, in the light of its lengths.
pub(super) fn said(words: &[String], lengths: &[Length]) -> Option<&'static ShapeWord> {
    let says = |any: &[&str]| words.iter().any(|said| any.contains(&said.as_str()));
    if is_plain_ring(words.iter().map(String::as_str)) {
        return Some(&PLAIN_RING);
    }
    // "24 cm diameter", "Ø 24 cm": what has a diameter is round.
    let round = || SHAPE_WORDS.iter().find(|shape| shape.words.contains(&"round")).filter(|_| says(&["diameter"]) && !lengths.is_empty());
    let said = SHAPE_WORDS.iter().find(|shape| says(shape.words)).or_else(round)?;
    if !says(TARTS) {
        return Some(said);
    }
    let sides = lengths.iter().filter(|length| length.in_centimetres() >= TOO_DEEP_FOR_A_TART).count();
    Some(match said.shape {
        "rectangle" => &SIDED_TART,
        "square" => &SQUARE_TART,
        "round" if sides > 1 => &SIDED_TART_BY_ITS_NUMBERS,
        _ => said,
    })
}

/// "tart ring", "cake rings", "entremet ring"; "ring cake tin" is one with a hole.
pub(super) fn is_plain_ring<'w>(words: impl Iterator<Item = &'w str>) -> bool {
    let mut before = "";
    for word in words.map(singular) {
        if word == "ring" && RINGS_OF.contains(&before) {
            return true;
        }
        before = word;
    }
    false
}

/// What is baked by the dozen.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Little {
    /// A ramekin, a tartlet tin.
    Dish,
    /// A pastry cook's ring.
    Ring,
}

/// Whether the words name a round thing that is baked by the dozen.
pub(super) fn little(tokens: &[Token]) -> Option<Little> {
    let words = || tokens.iter().filter_map(|token| if let Token::Word(word) = token { Some(singular(word)) } else { None });
    if words().any(|word| matches!(word, "square" | "rectangular" | "oblong" | "oval" | "heart")) {
        return None;
    }
    if is_plain_ring(words()) {
        return Some(Little::Ring);
    }
    words().any(|word| matches!(word, "tartlet" | "ramekin")).then_some(Little::Dish)
}

/// Whether a second length can be no depth: that of a tart tin, by its first in centimetres.
pub(super) fn is_side_of_tart(tokens: &[Token], centimetres: f64) -> bool {
    let words = || tokens.iter().filter_map(|token| if let Token::Word(word) = token { Some(singular(word)) } else { None });
    centimetres >= TOO_DEEP_FOR_A_TART && words().any(|word| TARTS.contains(&word)) && !words().any(|word| word == "ring")
}

/// "20 cm ring" may be one without a base, or one with a hole and folds: they hold quite different amounts.
pub(super) fn either_ring(phrase: &str, at: &Pointer<'_>) -> Fault {
    let ring = plain(phrase);
    let (plain_ring, fluted) = (ring.replacen("ring", "cake ring", 1), ring.replacen("ring", "fluted ring", 1));
    Fault::new(at, Code::UnknownPan, phrase, "a cake ring (open, without a hole), or a fluted ring (with a hole in the middle)")
        .saying(format!("A ring may be open and plain, or a mould with a hole. Write {plain_ring:?}, or {fluted:?}"))
        .trying([plain_ring, fluted])
}

/// "28 x 20 cm pie dish" has no depth of 20 cm: what shape it is must be said.
pub(super) fn is_too_deep_for_a_pie(sizes: &Sizes) -> bool {
    match (sizes.length(Dimension::Diameter), sizes.length(Dimension::Depth)) {
        (Some(across), Some(deep)) => deep.in_centimetres() > 7.0 && (deep / across).value() > 0.5,
        _ => false,
    }
}

/// Whether a word names a shape.
pub(super) fn is_shape(word: &str) -> bool {
    SHAPE_WORDS.iter().any(|shape| shape.words.contains(&singular(word)))
}

/// Whether a word speaks of several pans of a shape; muffins and buns are in one tray.
pub(super) fn is_several(word: &str) -> bool {
    let one = singular(word);
    one != word && SHAPE_WORDS.iter().any(|shape| shape.shape != "muffin-tray" && shape.words.contains(&one))
}

/// By how many lengths the shape that the words name is sold; nothing where they name none.
pub(super) fn across(tokens: &[Token]) -> Option<usize> {
    let is_said =
        |shape: &&ShapeWord| tokens.iter().any(|token| matches!(token, Token::Word(word) if shape.words.contains(&singular(word))));
    let words = tokens.iter().filter_map(|token| if let Token::Word(word) = token { Some(word.as_str()) } else { None });
    let shape = if is_plain_ring(words) { &PLAIN_RING } else { SHAPE_WORDS.iter().find(is_said)? };
    ShapeKind::of_word(shape.shape).map(|kind| kind.sold_by.len())
}

/// Whether the words name a tray of wells.
pub(super) fn is_tray(tokens: &[Token]) -> bool {
    let words = || tokens.iter().filter_map(|token| if let Token::Word(word) = token { Some(word.as_str()) } else { None });
    if is_plain_ring(words()) {
        return false;
    }
    let of_tray = |word: &str| SHAPE_WORDS.iter().any(|shape| shape.shape == "muffin-tray" && shape.words.contains(&singular(word)));
    words().any(of_tray)
}

/// Puts the lengths on the shape's dimensions; false where there are too many or too few.
pub(super) fn placed(kind: &ShapeKind, lengths: &[Length], sizes: &mut Sizes) -> bool {
    let mut falling = lengths.to_vec();
    falling.sort_by(|a, b| b.in_centimetres().total_cmp(&a.in_centimetres()));
    let depth = |sizes: &mut Sizes, depth: Length| sizes.set(Dimension::Depth, depth);
    match (kind.sold_by, falling.as_slice()) {
        ([], []) => true,
        (_, []) => kind.needs_no_length(),
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
