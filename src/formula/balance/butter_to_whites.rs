//! Butter against whites in a buttercream that stands on meringue.
//!
//! # What it checks
//! Butter and other pure fats over egg whites, by whole weight; passed over where there is no white.
//!
//! # Why it matters
//! Italian and Swiss buttercreams take one and a half to two and a half of butter to one of whites.
//!
//! # Example
//! 340 g of butter to 150 g of whites are 227 %: within 145 to 260 %.
//!
//! # Remedy
//! Beat in more butter, or take some of the meringue away.
//!
//! # Source
//! Gisslen, Professional Baking (150 to 250).

use super::{Counts, Over, Rule};
use crate::formula::egg;

/// The rule.
pub static RULE: Rule = Rule {
    id: "butter-to-whites",
    of: "butter",
    reach_for: "butter",
    counts: Counts::Each(|i, _| super::butter::counts(i)),
    over: Over::This("egg white", Counts::Each(|i, reading| egg::whites(i, reading.made_up))),
    why: "Butter must close the foam of the whites: with too little the cream stays loose, with too much it is greasy",
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(
            verdict("buttercream", "butter-to-whites", &[("egg white", "150 g"), ("granulated sugar", "280 g"), ("butter", "340 g")]),
            WITHIN
        );
        assert_eq!(
            verdict("buttercream", "butter-to-whites", &[("egg white", "150 g"), ("granulated sugar", "280 g"), ("butter", "150 g")]),
            BELOW
        );
        assert_eq!(
            verdict("buttercream", "butter-to-whites", &[("egg white", "150 g"), ("granulated sugar", "280 g"), ("butter", "500 g")]),
            ABOVE
        );
    }
}
