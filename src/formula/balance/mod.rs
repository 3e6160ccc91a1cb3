//! The balance of formulas: one rule a file, each with what it counts and why it matters. What a rule allows is a row of the style; the judging is done once, for all.

mod finding;
mod judge;
mod likely;
mod mend;
mod nearer;
mod rulebook;
mod stands_in;
mod told;

use super::counted::{Counts, Reading};
use crate::reference::Class;

pub use finding::{BalanceFinding, BalanceVerdict, Tally};
pub use judge::Judging;
pub use likely::{LikelyStyle, likely};
pub use nearer::nearer;
pub use rulebook::{Ruled, ruled};
pub use stands_in::StandIn;

/// Names the files of the rules: each is a module and a place in the list.
macro_rules! rules {
    ($($file:ident),* $(,)?) => {
        $(mod $file;)*

        /// Every rule.
        pub static RULES: &[&Rule] = &[$(&$file::RULE),*];
    };
}

rules![
    sugar,
    fat,
    butter,
    eggs,
    whites,
    yolks,
    water,
    liquid,
    cream,
    eggs_to_fat,
    liquid_to_sugar,
    liquid_to_flour,
    sugar_to_eggs,
    sugar_to_whites,
    butter_to_whites,
    chocolate_to_cream,
    icing_sugar,
    flour_share,
    starch,
    cocoa,
    milk_solids,
    leavening,
    soda,
    yeast,
    cream_of_tartar,
    cream_of_tartar_to_sugar,
    salt,
    fruit,
];

/// A rule of balance: what is counted over what, and why.
#[derive(Debug)]
pub struct Rule {
    /// Its name in the table of bounds and in answers.
    pub id: &'static str,
    /// What is counted, as it stands in a sentence.
    pub of: &'static str,
    /// What to reach for where there is none of it yet.
    pub reach_for: &'static str,
    /// What is used in place of a thing that only brings some along: whites for the eggs that bring the yolk. Empty where nothing is.
    pub in_place: &'static str,
    pub counts: Counts,
    pub over: Over,
    /// Why it matters, in one sentence.
    pub why: &'static str,
    /// Why it matters where whites are the base, if that is another matter.
    pub why_on_whites: Option<&'static str>,
    /// The rule that may hold in its stead.
    pub instead: Option<&'static str>,
    /// What may stand in for what it counts, though no share of it is counted.
    pub stands_in: &'static [StandIn],
    /// What it tells of which style a thing is.
    pub tells: Tells,
}

/// How much being outside a rule tells of which style a thing is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tells {
    /// What a thing is made of.
    Fully,
    /// What is dosed by the spoon: within one style the printed doses lie twice and more apart.
    Half,
    /// What seasons it.
    Nothing,
}

impl Rule {
    /// What few rules have, left out.
    const PLAIN: Self = Self {
        id: "",
        of: "",
        reach_for: "",
        in_place: "",
        counts: Counts::Class(Class::Flour),
        over: Over::Base,
        why: "",
        why_on_whites: None,
        instead: None,
        stands_in: &[],
        tells: Tells::Fully,
    };
}

/// What a rule measures against.
#[derive(Clone, Copy, Debug)]
pub enum Over {
    /// The base of the percentages.
    Base,
    /// Something else in the formula, by its name in a sentence.
    This(&'static str, Counts),
}

/// Formulas for the rules' own tests.
#[cfg(test)]
pub(super) mod trial {
    use super::super::{Formula, FormulaWritten};
    use super::*;
    use crate::quantity::{Faults, Pointer};
    use crate::reference::{Account, Reference};

    /// A formula of one part.
    pub fn formula(lines: &[(&str, &str)]) -> Formula {
        let lines: Vec<_> = lines.iter().map(|(name, amount)| serde_json::json!({"ingredient": name, "amount": amount})).collect();
        let written: FormulaWritten =
            serde_json::from_value(serde_json::json!({"parts": [{"name": "all", "lines": lines}]})).expect("a formula");
        let (reference, mut faults) = (Reference::load().expect("the tables"), Faults::new());
        let formula = Formula::resolve(&written, &Pointer::ROOT, reference, &mut Account::new(reference, false), &mut faults);
        formula.unwrap_or_else(|| panic!("{faults:?}"))
    }

    /// All findings of a formula for a style.
    pub fn findings(style: &str, lines: &[(&str, &str)]) -> Vec<BalanceFinding> {
        let reference = Reference::load().expect("the tables");
        let ruled = ruled(reference, reference.styles.find(style).expect("a style"));
        let formula = formula(lines);
        let summed = formula.main().summed();
        let base = ruled.base(&summed).expect("a base");
        Judging { mixture: &summed, base: &base, ruled, reference }.findings(&mut Account::new(reference, false))
    }

    /// What one rule finds; nothing where it has nothing to say.
    pub fn verdict(style: &str, rule: &str, lines: &[(&str, &str)]) -> Option<BalanceVerdict> {
        findings(style, lines).into_iter().find(|finding| finding.rule == rule).map(|finding| finding.verdict)
    }

    /// What one rule finds, whole.
    pub fn found(style: &str, rule: &str, lines: &[(&str, &str)]) -> BalanceFinding {
        findings(style, lines).into_iter().find(|finding| finding.rule == rule).expect("a finding")
    }

    /// What a formula might be.
    pub fn likeliest(lines: &[(&str, &str)]) -> Vec<LikelyStyle> {
        let reference = Reference::load().expect("the tables");
        likely(&formula(lines).main().summed(), reference)
    }

    pub const WITHIN: Option<BalanceVerdict> = Some(BalanceVerdict::Within);
    pub const ABOVE: Option<BalanceVerdict> = Some(BalanceVerdict::Above);
    pub const BELOW: Option<BalanceVerdict> = Some(BalanceVerdict::Below);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::Reference;

    #[test]
    fn every_bound_of_every_style_has_its_rule_and_every_rule_a_bound() {
        let reference = Reference::load().expect("the tables");
        let bounds: Vec<_> = reference.styles.all.iter().flat_map(|style| &style.bounds).map(|bound| bound.rule).collect();
        let missing: Vec<_> = bounds.iter().filter(|id| !RULES.iter().any(|rule| rule.id == **id)).collect();
        let idle: Vec<_> = RULES.iter().filter(|rule| !bounds.contains(&rule.id)).map(|rule| rule.id).collect();
        assert_eq!((missing, idle), (Vec::new(), Vec::new()));
    }

    #[test]
    fn no_two_rules_share_a_name_and_each_says_why() {
        let mut ids: Vec<_> = RULES.iter().map(|rule| rule.id).collect();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), RULES.len());
        assert!(RULES.iter().all(|rule| rule.why.len() > 30 && !rule.why.ends_with('.')));
        assert!(RULES.iter().filter_map(|rule| rule.instead).all(|id| ids.contains(&id)));
    }
}
