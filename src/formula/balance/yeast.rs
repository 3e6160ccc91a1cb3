//! Yeast over the base, as fresh yeast.
//!
//! # What it checks
//! Yeast as grams of fresh yeast over the base: active dry counts 2.5, instant 3.
//!
//! # Why it matters
//! Sugar and fat slow it, so rich doughs take more; long cool fermentation takes less than is printed.
//!
//! # Example
//! 15 g of instant yeast on 500 g of flour are 9 % as fresh: above the 4 % of a lean dough.
//!
//! # Remedy
//! Take out yeast down to the bound, or keep it for a shorter, warmer dough.
//!
//! # Source
//! Gisslen, Professional Baking (fresh 1.5 to 4 in lean doughs); equivalents are common practice.

use super::{Counts, Over, Rule};
use crate::quantity::Factor;

/// The rule.
pub static RULE: Rule = Rule {
    id: "yeast",
    of: "yeast, counted as fresh",
    reach_for: "fresh yeast",
    counts: Counts::Each(|i, _| i.fresh_yeast.unwrap_or(Factor::ZERO)),
    over: Over::Base,
    why: "Yeast sets the pace: past the bound the dough runs away and tastes of it, short of it the dough is late",
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("enriched-dough", "yeast", &[("bread flour", "500 g"), ("instant yeast", "8 g")]), WITHIN);
        assert_eq!(verdict("enriched-dough", "yeast", &[("bread flour", "500 g"), ("instant yeast", "2 g")]), BELOW);
        assert_eq!(verdict("enriched-dough", "yeast", &[("bread flour", "500 g"), ("fresh yeast", "70 g")]), ABOVE);
    }
}
