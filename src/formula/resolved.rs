//! A formula that has been understood: every name found, every line weighed with its span. What could not be understood is in the faults, all of it.

use std::ops::Deref;
use std::rc::Rc;

use smol_str::SmolStr;

use super::base::starch_stands_as_flour;
use super::place::LinePlace;
use super::total::Total;
use super::written::ScalesWith;
use crate::pan::Pans;
use crate::quantity::{Amount, Counting, Factor, Family, Mass, Measures, Size};
use crate::reference::{Class, Constituent, Filled, Ingredient, Style, Weight};

/// An ingredient of the table, or one of the caller's own.
#[derive(Clone, Debug)]
pub enum Known {
    Table(&'static Ingredient),
    Own(Rc<Ingredient>),
}

impl Deref for Known {
    type Target = Ingredient;

    fn deref(&self) -> &Ingredient {
        match self {
            Self::Table(ingredient) => ingredient,
            Self::Own(ingredient) => ingredient,
        }
    }
}

/// A line, understood and weighed.
#[derive(Clone, Debug)]
pub struct Line {
    pub ingredient: Known,
    pub form: &'static str,
    pub filled: Option<Filled>,
    /// The amount as the formula gives it first.
    pub amount: Amount,
    /// Whose cups and spoons they are.
    pub measures: Measures,
    pub weight: Weight,
    pub(super) doubt: Option<usize>,
}

impl Line {
    /// The size by which it counts eggs, or parts of them; nothing where it weighs them.
    pub fn egg_size(&self) -> Option<Size> {
        match self.amount.counting {
            Counting::Size(size) if self.ingredient.egg_part().is_some() => Some(size),
            _ => None,
        }
    }

    /// Whether it counts things: sticks of butter are measures.
    pub fn is_counted(&self) -> bool {
        match &self.amount.counting {
            Counting::Unit(unit) => unit.family == Family::Count && unit.id != "stick",
            Counting::Size(_) | Counting::Named(_) | Counting::Nothing => true,
            Counting::Disher(_) => false,
        }
    }

    /// Its weight as a sum.
    pub fn total(&self) -> Total {
        let mut total = Total::default();
        total.add(&self.weight, self.doubt, Factor::ONE);
        total
    }

    /// The line so many times, with what was written of it.
    #[must_use]
    pub fn times(mut self, factor: Factor) -> Self {
        self.scale(factor);
        self
    }

    /// Makes it so many times what it was.
    pub(super) fn scale(&mut self, factor: Factor) {
        self.weight.mass = self.weight.mass * factor;
        if let Some(ways) = &mut self.weight.by_way {
            ways.iter_mut().for_each(|mass| *mass = *mass * factor);
        }
        self.amount.number = self.amount.number.times(factor.value());
    }
}

/// A part, understood.
#[derive(Clone, Debug)]
pub struct Part {
    pub name: SmolStr,
    pub scales_with: ScalesWith,
    /// The part it is mixed into.
    pub into: Option<usize>,
    pub style: Option<&'static Style>,
    pub gravity: Option<Factor>,
    pub lines: Vec<Line>,
}

/// A formula, understood.
#[derive(Clone, Debug)]
pub struct Formula {
    pub name: Option<SmolStr>,
    pub style: Option<&'static Style>,
    pub measures: Measures,
    pub parts: Vec<Part>,
    /// The pans it was tested in.
    pub pans: Option<Rc<Pans>>,
    /// Whether it says how it bakes.
    pub bakes: bool,
    /// The part that the style speaks of: found once, for of many parts that is no short question.
    main: usize,
}

impl Part {
    /// The weight of the whole part.
    pub fn total(&self) -> Total {
        let mut total = Total::default();
        self.lines.iter().for_each(|line| total.add(&line.weight, line.doubt, Factor::ONE));
        total
    }
}

impl Formula {
    /// A formula of these parts, of which the main one is found.
    pub(super) fn new(name: Option<SmolStr>, style: Option<&'static Style>, measures: Measures, parts: Vec<Part>, bakes: bool) -> Self {
        let mut formula = Self { name, style, measures, parts, pans: None, bakes, main: 0 };
        formula.main = formula.find_main();
        formula
    }

    /// The same of other parts.
    pub(super) fn of_parts(&self, parts: Vec<Part>) -> Self {
        let (name, pans) = (self.name.clone(), self.pans.clone());
        Self { pans, ..Self::new(name, self.style, self.measures, parts, self.bakes) }
    }

    /// Takes the style off it. Which part is the main one then is asked anew.
    pub(super) fn leave_unstyled(&mut self) {
        self.style = None;
        self.main = self.find_main();
    }

    /// The place of the part that the formula's style speaks of.
    pub const fn main_root(&self) -> usize {
        self.main
    }

    /// The part in which a part ends: itself, or the one it is mixed into.
    pub fn root(&self, part: usize) -> usize {
        let mut at = part;
        // A chain cannot be longer than the list: resolving refuses circles.
        for _ in 0..self.parts.len() {
            match self.parts[at].into {
                Some(into) => at = into,
                None => break,
            }
        }
        at
    }

    /// The mixtures: each part that goes into no other, with those that go into it.
    pub fn mixtures(&self) -> impl Iterator<Item = Mixture<'_>> {
        (0..self.parts.len()).filter(|&part| self.parts[part].into.is_none()).map(|root| Mixture { formula: self, root })
    }

    /// The mixture that the formula's style speaks of.
    pub fn main(&self) -> Mixture<'_> {
        Mixture { formula: self, root: self.main }
    }

    /// Takes it as of another style than it names: that of its main mixture.
    pub fn restyle(&mut self, style: &'static Style) {
        match &mut self.parts[self.main].style {
            Some(own) => *own = style,
            None => self.style = Some(style),
        }
        self.main = self.find_main();
    }

    /// The lines of all parts.
    pub fn lines(&self) -> impl Iterator<Item = &Line> {
        self.parts.iter().flat_map(|part| &part.lines)
    }

    /// How many pans it was tested in.
    pub fn pan_count(&self) -> Option<Factor> {
        self.pans.as_ref().map(|pans| Factor::times(f64::from(pans.count())))
    }

    /// The weight of everything.
    pub fn mass(&self) -> Mass {
        self.parts.iter().map(|part| part.total().mass().value()).sum()
    }
}

/// A part with all that is mixed into it before baking: percentages and balance are those of the joined whole.
#[derive(Clone, Copy)]
pub struct Mixture<'f> {
    pub formula: &'f Formula,
    pub root: usize,
}

impl<'f> Mixture<'f> {
    /// The part that gives the mixture its name.
    pub fn part(&self) -> &'f Part {
        &self.formula.parts[self.root]
    }

    /// Its own style; the formula's for the first mixture.
    pub fn style(&self) -> Option<&'static Style> {
        self.part().style.or_else(|| self.formula.style.filter(|_| self.root == self.formula.main))
    }

    /// The parts that are in it, by their places.
    pub fn members(&self) -> impl Iterator<Item = usize> + 'f {
        let (formula, root) = (self.formula, self.root);
        (0..formula.parts.len()).filter(move |&part| formula.root(part) == root)
    }

    /// Its lines. Where every question walks them, by `for_each`: that makes two plain loops of the chain.
    pub fn lines(&self) -> impl Iterator<Item = &'f Line> {
        let formula = self.formula;
        self.members().flat_map(move |part| &formula.parts[part].lines)
    }

    /// Its lines, each with its place in the formula.
    pub fn placed(&self) -> impl Iterator<Item = (LinePlace, &'f Line)> {
        let formula = self.formula;
        self.members()
            .flat_map(move |part| formula.parts[part].lines.iter().enumerate().map(move |(line, known)| (LinePlace { part, line }, known)))
    }

    /// The sum of a share of each line's weight.
    pub fn sum(&self, share: impl Fn(&Ingredient) -> Factor) -> Total {
        let mut total = Total::default();
        self.lines().for_each(|line| total.add(&line.weight, line.doubt, share(&line.ingredient)));
        total
    }

    /// The weight that counts as a class.
    pub fn class(&self, class: Class) -> Total {
        self.sum(|ingredient| ingredient.counts_as(class))
    }

    /// Whether starch is flour in it: see `starch_stands_as_flour`.
    pub fn starch_is_flour(&self) -> bool {
        starch_stands_as_flour(self.lines().map(|line| &*line.ingredient))
    }

    /// All flour, with the starch that stands as flour.
    pub fn flour(&self) -> Total {
        let flour = self.class(Class::Flour);
        if self.starch_is_flour() { flour.plus(&self.class(Class::Starch)) } else { flour }
    }

    /// The weight of a constituent, over the lines that may be counted.
    pub fn constituent(&self, constituent: Constituent, counted: impl Fn(&Ingredient) -> bool) -> Total {
        self.sum(|ingredient| match ingredient.composition {
            Some(composition) if counted(ingredient) => composition.share(constituent),
            _ => Factor::ZERO,
        })
    }

    pub fn has_yeast(&self) -> bool {
        self.lines().any(|line| line.ingredient.fresh_yeast.is_some())
    }

    /// The whole weight.
    pub fn whole(&self) -> Total {
        self.sum(|_| Factor::ONE)
    }
}
