//! Flour and starch over a base that is something else: whites, or nuts with flour.
//!
//! # What it checks
//! Flour and starch together over egg whites (angel cake), or as a share of nuts, flour and starch (nut sponge).
//!
//! # Why it matters
//! An angel cake has a third of the weight of its whites in flour; a nut sponge in which flour outweighs nuts is another cake.
//!
//! # Example
//! 130 g of flour on 250 g of whites are 52 %: above the 20 to 40 % of an angel cake.
//!
//! # Remedy
//! Take out flour down to the bound; fold it in with part of the sugar.
//!
//! # Source
//! Lowe, Experimental Cookery (20 to 40; 33 to 37.5 is usual).

use super::{Counts, Over, Rule};
use crate::reference::Class;

/// The rule.
pub static RULE: Rule = Rule {
    id: "flour-share",
    of: "flour",
    reach_for: "flour",
    counts: Counts::Either(Class::Flour, Class::Starch),
    over: Over::Base,
    why: "In a foam of whites or a cake of nuts flour only binds: past the bound it toughens, short of it the cake falls",
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(
            verdict("angel", "flour-share", &[("egg white", "250 g"), ("cake flour", "90 g"), ("granulated sugar", "250 g")]),
            WITHIN
        );
        assert_eq!(
            verdict("angel", "flour-share", &[("egg white", "250 g"), ("cake flour", "40 g"), ("granulated sugar", "250 g")]),
            BELOW
        );
        assert_eq!(
            verdict("angel", "flour-share", &[("egg white", "250 g"), ("cake flour", "130 g"), ("granulated sugar", "250 g")]),
            ABOVE
        );
    }
}
