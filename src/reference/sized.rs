//! The size of what is counted: it may stand with the amount or with the name, and is the same wherever it stands.

use super::Reference;
use super::ingredient::Ingredient;
use crate::quantity::{Amount, Counting, Size};

impl Reference {
    /// The amount with its size: "2 small bananas", and "2 bananas" of large ones. `size` is what the ingredient's name said.
    #[inline]
    pub fn in_size(&self, mut amount: Amount, ingredient: &Ingredient, size: Option<Size>) -> Amount {
        if let Counting::Named(word) = &amount.counting {
            let same = self.ingredients.find(word).filter(|named| named.ingredient.id == ingredient.id);
            if let Some(size) = same.and_then(|named| named.size.or(size)) {
                amount.counting = Counting::Size(size);
            }
        }
        match size {
            Some(size) => amount.in_size(size),
            None => amount,
        }
    }
}
