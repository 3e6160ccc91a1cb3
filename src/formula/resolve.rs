//! From a formula as written to one that is understood. It walks once, looks every name up, weighs every line, and goes on after each fault so that all are told.

use std::rc::Rc;

use super::own::own_ingredient;
use super::resolved::{Formula, Known, Line, Part};
use super::total::Doubts;
use super::unknown::{find_style, no_one_ingredient, not_in_the_table, or_own, unknown_ingredient};
use super::written::{FormulaWritten, LineWritten, PartWritten};
use crate::quantity::{Amount, Code, Counting, Factor, Fault, Faults, Measures, Pointer, Size, Written, longer, plain, read_amount};
use crate::reference::{Account, Filled, Ingredient, Measuring, Reference, Style, Weight, egg_word, tell_drained};

/// The limits of a formula.
pub const MOST_PARTS: usize = 50;
pub const MOST_LINES: usize = 200;
const LONGEST_NAME: usize = 200;

/// What the name of a line says.
struct Named {
    ingredient: Known,
    form: &'static str,
    way: Option<Filled>,
    size: Option<Size>,
    /// Whether words stand behind it that are done after measuring.
    after: bool,
}

/// What is needed while a formula is read.
pub(super) struct Resolving<'a, 'f> {
    pub reference: &'static Reference,
    pub account: &'a mut Account,
    pub faults: &'f mut Faults,
    pub measures: Measures,
    pub own: Vec<Rc<Ingredient>>,
    /// The names of those that were refused: what is wrong with them is told where they are described.
    pub refused: Vec<Box<str>>,
    /// Where the formula stands in the question.
    pub formula_at: &'a Pointer<'a>,
}

impl Formula {
    /// Understands a formula. Nothing comes back where anything was at fault; the faults say it all.
    pub fn resolve(
        written: &FormulaWritten,
        at: &Pointer<'_>,
        reference: &'static Reference,
        account: &mut Account,
        faults: &mut Faults,
    ) -> Option<Formula> {
        let before = faults.total();
        let formula = Self::resolve_without_pans(written, at, reference, account, faults);
        let pans = written.pan.as_ref().and_then(|pan| {
            let read = pan.resolve(written.measures.unwrap_or_default(), reference, &at.key("pan"), account);
            read.map(Rc::new).map_err(|more| faults.append(more)).ok()
        });
        let mut formula = formula.filter(|_| faults.total() == before)?;
        formula.pans = pans;
        Some(formula)
    }

    /// The same where the pans are asked apart, or stand elsewhere: the formula's own are not looked at.
    pub fn resolve_without_pans(
        written: &FormulaWritten,
        at: &Pointer<'_>,
        reference: &'static Reference,
        account: &mut Account,
        faults: &mut Faults,
    ) -> Option<Formula> {
        let before = faults.total();
        let mut resolving = Resolving {
            reference,
            account,
            faults,
            measures: written.measures.unwrap_or_default(),
            own: Vec::new(),
            refused: Vec::new(),
            formula_at: at,
        };
        resolving.name(written.name.as_deref(), &at.key("name"));
        let style = written.style.as_deref().and_then(|name| resolving.style(name, &at.key("style")));
        for (index, own) in written.ingredients.iter().enumerate() {
            let list = at.key("ingredients");
            match own_ingredient(own, &list.index(index), resolving.faults) {
                Some(own) => resolving.own.push(Rc::new(own)),
                None => resolving.refused.push(plain(&own.name).into()),
            }
        }
        let mut doubts = Doubts::default();
        let parts = resolving.parts(written, at, &mut doubts);
        let bakes = written.bake.is_some();
        let name = written.name.as_deref().map(Into::into);
        let measures = resolving.measures;
        if faults.total() > before {
            return None;
        }
        let mut formula = Formula::new(name, style, measures, parts, bakes);
        formula.settle_main(at, account);
        Some(formula)
    }
}

impl Resolving<'_, '_> {
    fn name(&mut self, name: Option<&str>, at: &Pointer<'_>) {
        if let Some(name) = name.filter(|name| longer(name, LONGEST_NAME)) {
            self.faults.push(Fault::new(at, Code::TextTooLong, name, format!("at most {LONGEST_NAME} characters")));
        }
    }

    pub(super) fn style(&mut self, name: &str, at: &Pointer<'_>) -> Option<&'static Style> {
        let style = find_style(self.reference, name, at);
        self.faults.keep(style)
    }

    fn parts(&mut self, written: &FormulaWritten, at: &Pointer<'_>, doubts: &mut Doubts) -> Vec<Part> {
        let list = at.key("parts");
        if written.parts.is_empty() {
            self.faults.push(Fault::new(&list, Code::EmptyFormula, "no part", "one part at least"));
        }
        if written.parts.len() > MOST_PARTS {
            let found = format!("{} parts", written.parts.len());
            self.faults.push(Fault::new(&list, Code::TooMany, found, format!("at most {MOST_PARTS} parts")));
            return Vec::new();
        }
        let mut parts = Vec::with_capacity(written.parts.len());
        for (index, part) in written.parts.iter().enumerate() {
            let at = list.index(index);
            self.unique(part, index, &written.parts, &at);
            parts.push(self.part(part, written, index, &at, doubts));
        }
        self.circles(&parts, &list);
        parts
    }

    fn unique(&mut self, part: &PartWritten, index: usize, all: &[PartWritten], at: &Pointer<'_>) {
        self.name(Some(&part.name), &at.key("name"));
        let before = &all[..index];
        if before.is_empty() {
            return;
        }
        let plain_name = plain(&part.name);
        if before.iter().any(|other| plain(&other.name) == plain_name) {
            self.faults.push(Fault::new(&at.key("name"), Code::RepeatedField, &*part.name, "a name of its own for each part"));
        }
    }

    fn part(&mut self, part: &PartWritten, formula: &FormulaWritten, index: usize, at: &Pointer<'_>, doubts: &mut Doubts) -> Part {
        let style = part.style.as_deref().and_then(|name| self.style(name, &at.key("style")));
        let into = part.into.as_deref().and_then(|name| self.into(name, index, &formula.parts, &at.key("into")));
        let gravity = part.specific_gravity.and_then(|figure| self.gravity(figure, &at.key("specific_gravity")));
        let list = at.key("lines");
        if part.lines.is_empty() {
            self.faults.push(Fault::new(&list, Code::EmptyFormula, "no line", "one line at least"));
        }
        let mut lines = Vec::with_capacity(part.lines.len().min(MOST_LINES));
        if part.lines.len() > MOST_LINES {
            let found = format!("{} lines", part.lines.len());
            self.faults.push(Fault::new(&list, Code::TooMany, found, format!("at most {MOST_LINES} lines")));
        } else {
            let filled = part.filled.or(formula.filled);
            for (number, line) in part.lines.iter().enumerate() {
                let at = list.index(number);
                if self.weighed(line, "amount", filled, formula.measures.is_some(), &at, &mut lines).is_some()
                    && let Some(weighed) = lines.last_mut()
                {
                    positive(&weighed.weight, &line.amount, &at.key("amount"), self.faults);
                    weighed.doubt = doubts.place(weighed.weight.doubt, &weighed.ingredient.id, index * MOST_LINES + number);
                }
            }
        }
        Part { name: part.name.as_str().into(), scales_with: part.scales_with, into, style, gravity, lines }
    }

    fn gravity(&mut self, figure: f64, at: &Pointer<'_>) -> Option<Factor> {
        if (0.1..=2.0).contains(&figure) {
            return Some(Factor::times(figure));
        }
        self.faults.push(Fault::new(at, Code::OutOfRange, figure.to_string(), "a specific gravity from 0.1 to 2"));
        None
    }

    fn into(&mut self, name: &str, index: usize, parts: &[PartWritten], at: &Pointer<'_>) -> Option<usize> {
        let wanted = plain(name);
        let found = parts.iter().position(|part| plain(&part.name) == wanted).filter(|found| *found != index);
        if found.is_none() {
            let others = parts.iter().enumerate().filter(|(at, _)| *at != index).map(|(_, part)| part.name.clone());
            self.faults.push(Fault::new(at, Code::UnknownPart, name, "the name of another part").trying(others.take(5)));
        }
        found
    }

    /// A part cannot be mixed into itself by way of others.
    fn circles(&mut self, parts: &[Part], list: &Pointer<'_>) {
        for (index, part) in parts.iter().enumerate() {
            let (mut at, mut steps) = (part.into, 0);
            while let Some(next) = at.filter(|_| steps <= parts.len()) {
                at = parts[next].into;
                steps += 1;
            }
            if steps > parts.len() {
                let part_at = list.index(index);
                self.faults.push(
                    Fault::new(&part_at.key("into"), Code::NotTogether, &*part.name, "parts that end in one part")
                        .saying("The parts are mixed into one another in a circle: one of them must go into no other"),
                );
            }
        }
    }

    /// A line with its weight, whatever that is, behind the others; its amount stands at a field of this name. Put there at once: a line is long, and would
    /// be copied each time that it is handed on.
    pub(super) fn weighed(
        &mut self,
        line: &LineWritten,
        field: &str,
        filled: Option<Filled>,
        measures_said: bool,
        at: &Pointer<'_>,
        lines: &mut Vec<Line>,
    ) -> Option<()> {
        let amount_at = at.key(field);
        let amount = self.amount(&line.amount, line, measures_said, &amount_at);
        let mut also = line.also.as_ref().and_then(|also| self.amount(also, line, measures_said, &at.key("also")));
        let named = self.ingredient(&line.ingredient, &at.key("ingredient"));
        let mut amount = amount?;
        let Named { ingredient, form, way, size, after } = named?;
        let ingredient = self.counted_as(ingredient, line, &amount, &at.key("ingredient"));
        self.reference.size(&mut amount, &ingredient, &line.ingredient, size);
        if let Some(also) = &mut also {
            self.reference.size(also, &ingredient, &line.ingredient, size);
        }
        if after {
            let text = format!("What stands behind the comma of \"{}\" is done after measuring", line.ingredient);
            self.account.assume(text, &at.key("ingredient"), ingredient.name.clone());
            tell_drained(&ingredient, &line.ingredient, &amount_at, self.account);
        }
        let (filled_at, measures_at) = (self.formula_at.key("filled"), self.formula_at.key("measures"));
        let of = Measuring {
            ingredient: &ingredient,
            form,
            filled: line.filled.or(way).or_else(|| self.as_is_custom(&ingredient, filled?, &amount, at)),
            measures: self.measures,
            measures_at: (!measures_said).then_some(&measures_at),
            filled_at: &filled_at,
        };
        let weight = self.weigh((&amount, &amount_at), also.as_ref(), &of, at)?;
        let filled = of.filled;
        lines.push(Line { form, filled, amount, measures: self.measures, weight, doubt: None, ingredient });
        Some(())
    }

    /// How a cup of this is filled where only of all cups it is said how: brown sugar is packed whatever is done with flour.
    fn as_is_custom(&mut self, ingredient: &Ingredient, general: Filled, amount: &Amount, at: &Pointer<'_>) -> Option<Filled> {
        if general == Filled::Packed || !ingredient.weighings.packed_by_custom {
            return Some(general);
        }
        if amount.volume().is_some() {
            let text = format!("Cups and spoons of {} are packed, as is the custom, however the others are filled", ingredient.name);
            self.account.assume(text, &at.key("filled"), Filled::Packed.word());
        }
        Some(Filled::Packed)
    }

    /// An amount of a line. Packs and spoons add up by what they hold: only then the ingredient is looked up for it.
    fn amount(&mut self, written: &Written, line: &LineWritten, measures_said: bool, at: &Pointer<'_>) -> Option<Amount> {
        let read = read_amount(written, self.measures, at).or_else(|fault| {
            let found = self.reference.ingredients.find(&line.ingredient).ok_or_else(|| fault.clone())?;
            let measures_at = self.formula_at.key("measures");
            let of = Measuring {
                ingredient: found.ingredient,
                form: found.form,
                filled: line.filled.or(found.filled),
                measures: self.measures,
                measures_at: (!measures_said).then_some(&measures_at),
                filled_at: at,
            };
            // Only of what is counted so are three large ones offered.
            let by_size = found.ingredient.sold_by(Size::LARGE);
            let fault = if by_size { fault } else { fault.offering(&["1 1/2 cups", "250 g"]) };
            self.reference.in_packs(written, &of, at, self.account).ok_or(fault)
        });
        self.faults.keep(read)
    }

    /// The kind that is meant where the amount tells it: "4 sheets" of "gelatin".
    fn counted_as(&mut self, found: Known, line: &LineWritten, amount: &Amount, at: &Pointer<'_>) -> Known {
        let Known::Table(table) = found else { return found };
        let Some(kind) = self.reference.ingredients.counted_as(table, &line.ingredient, amount) else { return found };
        self.account.assume(format!("Counted so, \"{}\" is {}", line.ingredient, kind.name), at, kind.name.clone());
        Known::Table(kind)
    }

    /// The weight of a line. Of two measures a mass wins over a volume or a count.
    fn weigh(
        &mut self,
        (amount, amount_at): (&Amount, &Pointer<'_>),
        also: Option<&Amount>,
        of: &Measuring<'_>,
        at: &Pointer<'_>,
    ) -> Option<Weight> {
        let also_at = at.key("also");
        let (first, first_at, second) = match also {
            Some(also) if also.is_mass() && !amount.is_mass() => (also, &also_at, Some((amount, amount_at))),
            Some(also) => (amount, amount_at, Some((also, &also_at))),
            None => (amount, amount_at, None),
        };
        // The measure that loses must still be one: a word that is no unit is a fault wherever it stands.
        if let Some((other, other_at)) = second
            && let Counting::Named(word) = &other.counting
            && self.reference.ingredients.find(word).is_none()
            && egg_word(word).is_none()
            && of.ingredient.counted(word.trim_end_matches('s'), None).is_none()
        {
            self.faults.push(other.unknown_unit(word, other_at));
        }
        let weight = self.reference.weigh(first, of, first_at, self.account);
        self.faults.keep(weight)
    }

    /// What a name means: one of the caller's own first, then the table.
    fn ingredient(&mut self, name: &str, at: &Pointer<'_>) -> Option<Named> {
        if longer(name, LONGEST_NAME) {
            self.faults.push(Fault::new(at, Code::TextTooLong, name, format!("at most {LONGEST_NAME} characters")));
            return None;
        }
        if !(self.own.is_empty() && self.refused.is_empty()) {
            let wanted = plain(name);
            if self.refused.iter().any(|refused| **refused == *wanted) {
                return None;
            }
            if let Some(own) = self.own.iter().find(|own| plain(&own.name) == wanted) {
                return Some(Named { ingredient: Known::Own(own.clone()), form: "", way: None, size: None, after: false });
            }
        }
        match self.known(name, at) {
            Ok(found) => Some(Named {
                ingredient: Known::Table(found.ingredient),
                form: found.form,
                way: found.filled,
                size: found.size,
                after: found.after_measuring,
            }),
            Err(fault) => {
                self.faults.push(fault);
                None
            }
        }
    }

    /// The same in the table. What may be meant is looked for only as long as it will be told; where that is known, nothing of one's own is wanted.
    fn known(&self, name: &str, at: &Pointer<'_>) -> Result<crate::reference::Found, Fault> {
        self.reference.ingredients.find(name).ok_or_else(|| match self.faults.is_full() {
            true => not_in_the_table(name, at),
            false => no_one_ingredient(self.reference, name, at).unwrap_or_else(|| or_own(unknown_ingredient(self.reference, name, at))),
        })
    }
}

/// A line of nothing is a fault.
fn positive(weight: &Weight, written: &Written, at: &Pointer<'_>, faults: &mut Faults) {
    if weight.mass.low().in_grams() > 0.0 && weight.mass.is_finite() {
        return;
    }
    faults.push(
        Fault::new(at, Code::OutOfRange, written.as_text().into_owned(), "an amount above 0")
            .saying("Leave the line out, or give it an amount above 0"),
    );
}
