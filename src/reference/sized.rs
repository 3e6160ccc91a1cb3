//! What is counted, and its size: either may stand with the amount or with the name, and is the same wherever it stands.

use super::Reference;
use super::ingredient::Ingredient;
use crate::quantity::{Amount, Counting, Size};

impl Reference {
    /// Gives an amount its size: "2 small bananas", and "2 bananas" of large ones; and what is counted, where only the name says it: "10" of "dried apricot halves".
    /// `size` is what the ingredient's name said. In place: an amount is long, nearly none has a size, and every line comes by here.
    pub fn size(&self, amount: &mut Amount, ingredient: &Ingredient, name: &str, size: Option<Size>) {
        if size.is_some() || matches!(amount.counting, Counting::Named(_) | Counting::Nothing) {
            self.size_of_things(amount, ingredient, name, size);
        }
    }

    #[cold]
    fn size_of_things(&self, amount: &mut Amount, ingredient: &Ingredient, name: &str, size: Option<Size>) {
        if let Counting::Named(word) = &amount.counting {
            let same = self.ingredients.find(word).filter(|named| named.ingredient.id == ingredient.id);
            if let Some(size) = same.and_then(|named| named.size.or(size)) {
                amount.counting = Counting::Size(size);
            }
        }
        if let Some(size) = size {
            amount.put_in_size(size);
        }
        if amount.counting == Counting::Nothing
            && let Some(piece) = ingredient.counted_in(name)
        {
            amount.counting = Counting::Named(piece.into());
        }
    }
}
