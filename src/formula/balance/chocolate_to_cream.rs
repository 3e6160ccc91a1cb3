//! Chocolate against cream: the way bakers say a ganache.
//!
//! # What it checks
//! Chocolate over cream and other liquid, by whole weight.
//!
//! # Why it matters
//! 2:1 makes truffles, 1:1 a filling, 1:2 a sauce; white chocolate sets less and takes 3:1.
//!
//! # Example
//! 100 g of chocolate to 300 g of cream are 33 %: below the 50 to 300 % of a ganache.
//!
//! # Remedy
//! Melt in more chocolate, or take cream out.
//!
//! # Source
//! Ruhlman, Ratio.

use super::{Counts, Over, Rule};
use crate::formula::base::melted_chocolate;

/// The rule.
pub static RULE: Rule = Rule {
    id: "chocolate-to-cream",
    of: "chocolate",
    reach_for: "chocolate",
    counts: Counts::Each(|i, _| melted_chocolate(i)),
    over: Over::This("cream", Counts::Each(super::cream::counts)),
    why: "Chocolate sets the ganache: with too little it stays a sauce, with too much it is hard and may part",
    ..Rule::PLAIN
};

#[cfg(test)]
mod tests {
    use super::super::trial::{ABOVE, BELOW, WITHIN, verdict};

    #[test]
    fn it_is_told_when_it_is_kept_and_when_it_is_not() {
        assert_eq!(verdict("ganache", "chocolate-to-cream", &[("dark chocolate", "300 g"), ("heavy cream", "300 g")]), WITHIN);
        assert_eq!(verdict("ganache", "chocolate-to-cream", &[("dark chocolate", "100 g"), ("heavy cream", "300 g")]), BELOW);
        assert_eq!(verdict("ganache", "chocolate-to-cream", &[("dark chocolate", "700 g"), ("heavy cream", "200 g")]), ABOVE);
    }
}
