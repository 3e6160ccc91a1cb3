//! Which part of several is the thing itself: the one that the formula's style speaks of, or where none is named the one that carries a crumb. An icing may be
//! written first, and so may the fruit of a pie or the crumbs under a cheesecake.

use super::base::share;
use super::resolved::{Formula, Mixture, Part};
use super::written::ScalesWith;
use crate::quantity::{Factor, Mass, Pointer, upper_first};
use crate::reference::{Account, Base, Class, Goods, Ingredient, Style, Trait};

/// From this share of its weight on what is 100 % in a style is no mere thickener: a fruit filling holds 2 to 5 % of flour, a custard as much, the leanest
/// batter more. Common practice, no source.
const TO_SPEAK_OF: f64 = 0.1;

/// The same of the flour, starch, crumbs and nuts of a crust: half of a 3-2-1 or a 1-2-3 dough is flour, of a filling under a tenth. Between the two is
/// a pie with its crust and its filling in one list. Common practice, no source.
const OF_A_CRUST: f64 = 0.25;

impl Formula {
    /// The part that the formula's style speaks of: the first that goes into no other, has no style of its own, finishes nothing, and has enough of what is
    /// 100 % in the style; of cakes and doughs of flour the first of these that is raised. Without a style the first that rises, or else holds flour, egg or cheese to speak of.
    pub(super) fn find_main(&self) -> usize {
        if self.parts.len() == 1 {
            return 0;
        }
        let mut cakes = self.cakes();
        let Some(first) = cakes.next() else {
            return self.parts.iter().position(is_open).unwrap_or_else(|| self.root(0));
        };
        // A cake and its icing: there is nothing to choose.
        if self.cakes().nth(1).is_none() && self.parts.iter().all(|part| part.style.is_none()) {
            return first;
        }
        let Some(style) = self.style else {
            // A streusel is written before the muffins that it goes on: it holds flour, and does not rise.
            if self.carries(first) && (self.rises(first) || !self.holds(first, Class::Flour)) {
                return first;
            }
            let others: Vec<usize> = cakes.collect();
            let risen = others.iter().copied().find(|&at| self.rises(at) && self.holds(at, Class::Flour));
            let chosen = risen.or_else(|| if self.carries(first) { Some(first) } else { others.into_iter().find(|&at| self.carries(at)) });
            return chosen.unwrap_or(first);
        };
        if self.is_of(style, first) {
            // The streusel of a cake is of flour too, and lies where the cake's style is looked for.
            let raised = matches!(style.goods, Goods::Batter | Goods::Dough) && style.base == Base::Class(Class::Flour);
            if !raised || self.is_raised(first) {
                return first;
            }
            return cakes.find(|&at| self.is_of(style, at) && self.is_raised(at)).unwrap_or(first);
        }
        let has_it_already = || self.parts.iter().position(|part| part.into.is_none() && part.style.is_some_and(|own| same(own, style)));
        let is_held = |ingredient: &Ingredient| share(style.base, true, ingredient) > Factor::ZERO;
        let holds_any = |at: &usize| Mixture { formula: self, root: *at }.lines().any(|line| is_held(&line.ingredient));
        let chosen = cakes.find(|&at| self.is_of(style, at)).or_else(has_it_already);
        chosen.or_else(|| self.cakes().find(holds_any)).unwrap_or(first)
    }

    /// What may be the thing itself, in the order of writing.
    fn cakes(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.parts.len()).filter(|&at| is_open(&self.parts[at]) && self.parts[at].scales_with != ScalesWith::Finish)
    }

    fn is_of(&self, style: &Style, root: usize) -> bool {
        let least = if style.goods == Goods::Crust { OF_A_CRUST } else { TO_SPEAK_OF };
        self.reaches(root, least, |ingredient| share(style.base, true, ingredient))
    }

    /// Whether it bakes into a crumb or sets: crumbs bound with butter, fruit with sugar and a syrup do not.
    fn carries(&self, root: usize) -> bool {
        let bears = |it: &Ingredient| it.counts_as(Class::Flour) + it.counts_as(Class::Egg) + it.counts_as(Class::Cheese);
        self.rises(root) || self.reaches(root, TO_SPEAK_OF, bears)
    }

    /// Raised by leavening, yeast or eggs.
    fn is_raised(&self, root: usize) -> bool {
        self.rises(root) || self.holds(root, Class::Egg)
    }

    fn rises(&self, root: usize) -> bool {
        let rises = |it: &Ingredient| it.fresh_yeast.is_some() || it.is(Trait::Ferments) || it.counts_as(Class::Leavening) > Factor::ZERO;
        Mixture { formula: self, root }.lines().any(|line| rises(&line.ingredient))
    }

    fn holds(&self, root: usize, class: Class) -> bool {
        self.reaches(root, TO_SPEAK_OF, |ingredient| ingredient.counts_as(class))
    }

    /// Whether so much of the weight of a mixture is counted, by the weights as quoted. It stops as soon as it is enough: flour stands among the first lines.
    fn reaches(&self, root: usize, least: f64, of: impl Fn(&Ingredient) -> Factor) -> bool {
        let mixture = Mixture { formula: self, root };
        let mut whole = Mass::ZERO;
        mixture.lines().for_each(|line| whole += line.weight.mass.value());
        let (enough, mut counted) = (whole * Factor::times(least), Mass::ZERO);
        mixture.lines().any(|line| {
            counted += line.weight.mass.value() * of(&line.ingredient);
            counted >= enough
        })
    }

    /// Tells which part was taken to be the thing itself, where that is a choice. A crust's style that stands on what is plainly none is taken off: nothing
    /// is judged, lined or baked as a crust then.
    pub(super) fn settle_main(&mut self, at: &Pointer<'_>, account: &mut Account) {
        let crust = self.style.filter(|style| style.goods == Goods::Crust);
        if crust.is_none() && (self.style.is_some() || self.parts.len() == 1) {
            return;
        }
        let (main, first) = (self.main_root(), self.cakes().next());
        let others: Vec<usize> = self.cakes().filter(|&other| other != main).collect();
        let name = &self.parts[main].name;
        let place = at.key("parts");
        match crust {
            None if first.is_none_or(|first| first == main) => {}
            None => {
                let text = format!(
                    "\"{name}\" is taken to be the thing itself: of the parts without a style it is the first that rises, or holds flour, egg or cheese to speak of"
                );
                account.assume(text, &place.index(main), name.to_string());
            }
            Some(style) if self.parts[main].style.is_none() && self.is_plainly_no_crust(main) => {
                let text = format!(
                    "{} is the style of a crust, and \"{name}\" is plainly none: it is not taken as one. Write the crust as a part of its own with this style",
                    upper_first(style.name)
                );
                account.assume(text, &at.key("style"), "none");
                self.leave_unstyled();
            }
            Some(style) => {
                let of = match others.as_slice() {
                    [] => return,
                    [other] => format!("\"{}\"", self.parts[*other].name),
                    _ => "the other parts without one".to_owned(),
                };
                let text = format!("{} is taken to be the style of \"{name}\", not of {of}", upper_first(style.name));
                account.assume(text, &place.index(main), name.to_string());
            }
        }
    }

    /// Fruit, custard, a pie in one list: too little in it that could be rolled or pressed. Nuts and crumbs may stand for flour.
    fn is_plainly_no_crust(&self, root: usize) -> bool {
        let of_cereals = |ingredient: &Ingredient| match ingredient.allergens_eu.contains(&"cereals-with-gluten") {
            true => ingredient.counts_as(Class::Additions),
            false => Factor::ZERO,
        };
        !self.reaches(root, OF_A_CRUST, |ingredient| share(Base::NutsAndFlour, true, ingredient) + of_cereals(ingredient))
    }
}

/// Goes into no other part and has no style of its own.
fn is_open(part: &Part) -> bool {
    part.into.is_none() && part.style.is_none()
}

/// Whether a part's own style is what the whole formula names.
fn same(own: &Style, of_all: &Style) -> bool {
    own.id == of_all.id || own.goods == Goods::Crust && of_all.goods == Goods::Crust
}

#[cfg(test)]
mod tests;
