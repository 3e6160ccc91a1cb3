//! The list of shapes. A new one is a file here and a word below; questions, the document and the listing all walk the list.

/// Takes in one file for each shape, and lists them.
macro_rules! shapes {
    ($($shape:ident),* $(,)?) => {
        $(mod $shape;)*

        /// All shapes, in the order in which they are published.
        pub const SHAPES: &[&super::ShapeKind] = &[$(&$shape::KIND,)*];
    };
}

mod four_sided;

shapes!(round, springform, square, rectangle, sheet, loaf, tube, fluted_ring, oval, hexagon, heart, hemisphere, muffin_tray, measured,);

impl super::ShapeKind {
    /// The shape with this word.
    pub fn of_word(word: &str) -> Option<&'static Self> {
        SHAPES.iter().copied().find(|kind| kind.word == word)
    }
}

#[cfg(test)]
mod tests;
