//! Sugar against whites in a buttercream that stands on meringue.
//!
//! # What it checks
//! Sugar over egg whites, both by whole weight; passed over where there is no white.
//!
//! # Why it matters
//! Italian and Swiss buttercreams take one and a half to two of sugar to one of whites.
//!
//! # Example
//! 280 g of sugar to 150 g of whites are 187 %: within 140 to 205 %.
//!
//! # Remedy
//! Add sugar, or take whites out.
//!
//! # Source
//! Gisslen, Professional Baking (150 to 200).

use super::{Counts, Over, Rule};
use crate::formula::egg;
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "sugar-to-whites",
    of: "sugar",
    reach_for: "sugar",
    counts: Counts::Class(Class::Sugar),
    over: Over::This("egg white", Counts::Each(|i, reading| egg::whites(i, reading.made_up))),
    why: "The meringue of a buttercream needs sugar enough to stand while butter goes in; past the bound it is cloying and grains",
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(
            verdict("buttercream", "sugar-to-whites", &[("egg white", "150 g"), ("granulated sugar", "280 g"), ("butter", "340 g")]),
            WITHIN
        );
        assert_eq!(
            verdict("buttercream", "sugar-to-whites", &[("egg white", "150 g"), ("granulated sugar", "150 g"), ("butter", "340 g")]),
            BELOW
        );
        assert_eq!(
            verdict("buttercream", "sugar-to-whites", &[("egg white", "150 g"), ("granulated sugar", "400 g"), ("butter", "340 g")]),
            ABOVE
        );
    }
}
