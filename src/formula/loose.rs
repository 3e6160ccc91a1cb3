//! What can be taken out of a mixture and what cannot: baking powder stands by itself, that of a self-raising flour goes only with its flour.

use super::resolved::Mixture;
use crate::quantity::{Factor, Mass, Quantity, enough_text};
use crate::reference::Ingredient;

/// From this share on a thing is in a formula for what is counted of it; below, it only brings some along.
const ITSELF: f64 = 0.5;

/// Whether something is within a thing by a small share, out of which nobody can take it.
pub fn is_within(share: Factor) -> bool {
    share.value() > 0.0 && share.value() < ITSELF
}

/// What stands by itself of what is counted, and the first thing that has some within.
#[derive(Clone, Copy, Debug)]
pub struct Loose<'f> {
    mass: Mass,
    carrier: Option<Carrier<'f>>,
}

#[derive(Clone, Copy, Debug)]
struct Carrier<'f> {
    name: &'f str,
    share: Factor,
}

impl<'f> Loose<'f> {
    /// By the share of each ingredient's weight that is counted.
    pub fn of(mixture: &Mixture<'f>, share: impl Fn(&Ingredient) -> Factor) -> Self {
        let mut loose = Self { mass: Mass::ZERO, carrier: None };
        for line in mixture.lines() {
            let share = share(&line.ingredient);
            if !is_within(share) {
                loose.mass += line.weight.mass.value() * share;
            } else if loose.carrier.is_none() {
                loose.carrier = Some(Carrier { name: &line.ingredient.name, share });
            }
        }
        loose
    }

    pub const fn mass(&self) -> Mass {
        self.mass
    }

    /// Whether some of it is within something else.
    pub const fn is_carried(&self) -> bool {
        self.carrier.is_some()
    }

    /// The mend of a surplus over what is kept: out of what stands by itself, the rest by something plain in place of what has it within. Nothing where neither
    /// is enough.
    pub fn take_out(&self, surplus: Mass, kept: Mass, name: &str, plain: &str) -> Option<String> {
        if self.mass >= surplus {
            return Some(format!("Take out {} of {name}", enough_text(surplus, kept)));
        }
        let Carrier { name: carrier, share } = self.carrier?;
        let exchanged = format!("{} of {plain} in place of as much {carrier}", enough_text((surplus - self.mass) / share, kept / share));
        Some(if self.mass > Mass::ZERO {
            format!("Take out all of the {name} ({}), and use {exchanged}", Quantity::from(self.mass).text)
        } else {
            format!("Use {exchanged}")
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::balance::trial::formula;
    use super::super::leaven::powder_share;
    use super::*;

    fn mend(lines: &[(&str, &str)], surplus: f64) -> Option<String> {
        Loose::of(&formula(lines).main(), powder_share).take_out(Mass::grams(surplus), Mass::grams(9.0), "baking powder", "plain flour")
    }

    #[test]
    fn powder_by_itself_is_taken_out_and_that_within_flour_goes_with_the_flour() {
        let both = [("self-raising flour", "225 g"), ("baking powder", "9.5 g")];
        assert_eq!(mend(&both, 9.0).as_deref(), Some("Take out 9 g of baking powder"));
        // 0.043 of the flour is powder: 4.3 g are within 100 g.
        let text = "Take out all of the baking powder (9.5 g), and use 100 g of plain flour in place of as much self-raising flour";
        assert_eq!(mend(&both, 13.8).as_deref(), Some(text));
        let text = "Use 100 g of plain flour in place of as much self-raising flour";
        assert_eq!(mend(&both[..1], 4.3).as_deref(), Some(text));
    }

    #[test]
    fn what_is_not_there_is_not_taken_out() {
        assert_eq!(mend(&[("all-purpose flour", "225 g"), ("baking powder", "5 g")], 6.0), None);
    }
}
