//! The words by which the trade names shapes, the shape of each, and by which lengths it is sold.

use super::kind::ShapeKind;
use super::words::{Token, singular};
use crate::quantity::Length;
use crate::reference::{Dimension, Sizes};

/// A shape word: the words of the trade, the shape, and the rows of the table that are like it.
pub(super) struct ShapeWord {
    pub(super) words: &'static [&'static str],
    pub(super) shape: &'static str,
    pub(super) like: &'static [&'static str],
}

/// The first that stands in the phrase wins: a fluted tube is fluted.
pub(super) const SHAPE_WORDS: &[ShapeWord] = &[
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
pub(super) const NO_WORD_RECTANGLE: ShapeWord = ShapeWord { words: &[], shape: "rectangle", like: RECTANGLES };
pub(super) const NO_WORD_SQUARE: ShapeWord =
    ShapeWord { words: &[], shape: "square", like: &["square-", "deep-square-", "shallow-square-"] };
pub(super) const NO_WORD_LOAF: ShapeWord = ShapeWord { words: &[], shape: "loaf", like: &[""] };
pub(super) const NO_WORD_MEASURED: ShapeWord = ShapeWord { words: &[], shape: "measured", like: &[] };

/// By how many lengths the shape that the words name is sold; nothing where they name none.
pub(super) fn across(tokens: &[Token]) -> Option<usize> {
    let is_said =
        |shape: &&ShapeWord| tokens.iter().any(|token| matches!(token, Token::Word(word) if shape.words.contains(&singular(word))));
    let shape = SHAPE_WORDS.iter().find(is_said)?;
    ShapeKind::of_word(shape.shape).map(|kind| main(kind).len())
}

/// Whether the words name a tray of wells.
pub(super) fn is_tray(tokens: &[Token]) -> bool {
    let of_tray = |word: &str| SHAPE_WORDS.iter().any(|shape| shape.shape == "muffin-tray" && shape.words.contains(&singular(word)));
    tokens.iter().any(|token| matches!(token, Token::Word(word) if of_tray(word)))
}

/// The dimensions by which a shape is sold.
pub(super) fn main(kind: &ShapeKind) -> Vec<Dimension> {
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
pub(super) fn placed(kind: &ShapeKind, lengths: &[Length], sizes: &mut Sizes) -> bool {
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
