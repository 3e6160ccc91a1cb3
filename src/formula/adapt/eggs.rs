//! Other eggs: the weight of whole eggs, whites and yolks stays what it was, each by its own part. Counts are the rounding of that weight, never the other way round.

use serde::Deserialize;
use utoipa::ToSchema;

use super::super::egg::WHITE_OF_WHOLE;
use super::super::resolved::Line;
use super::told::EggsTold;
use super::working::{Adapting, Change, grams_text, nothing_there};
use crate::quantity::{
    Amount, Code, Counting, Factor, Family, Fault, Figure, Mass, Pointer, Quantity, Size, Span, Written, off_percent, read_amount,
};
use crate::reference::{EggPart, market_of, market_said, short, without_shell};

/// Other eggs than those the formula was written for.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct EggsStep {
    /// The eggs there are: a class, such as "medium" or "EU large", or what one weighs as measured, such as "52 g".
    #[serde(deserialize_with = "Written::egg")]
    pub to: Written,
    /// How one was weighed, where `to` is a weight.
    #[serde(default)]
    #[schema(default = "shelled")]
    pub weighed: EggWeighed,
    /// Whether whole eggs are written into the formula, the nearest by weight; otherwise the weight stays and the nearest are only told.
    #[serde(default)]
    #[schema(default = false)]
    pub whole: bool,
}

/// How an egg was weighed.
/// - `shelled`: without its shell.
/// - `in-shell`: with its shell, which is 11 to 12 % of it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum EggWeighed {
    #[default]
    Shelled,
    InShell,
}

/// What the parts of one egg weigh.
struct Egg {
    name: String,
    /// How a count of them is written; nothing where they have no class.
    class: Option<String>,
    parts: [Span<Mass>; 3],
    source: &'static str,
}

impl Adapting<'_> {
    pub fn eggs(&mut self, wanted: &EggsStep, at: &Pointer<'_>) {
        let to = at.key("to");
        let egg = self.egg(wanted, &to);
        let egg = self.faults.keep(egg);
        let (Some(egg), Some(formula)) = (egg, self.formula()) else { return };
        let mut found = false;
        for (part, known) in formula.parts.iter().enumerate() {
            for (index, line) in known.lines.iter().enumerate() {
                if let Some(of) = line.ingredient.egg_part() {
                    found = true;
                    self.other_egg((part, index), line, of, &egg, wanted.whole);
                }
            }
        }
        if !found {
            self.refuse(
                nothing_there(at, "a formula without eggs", "a formula with egg, egg white or egg yolk").saying("Leave this step out"),
            );
        }
    }

    /// The eggs that are meant.
    fn egg(&mut self, wanted: &EggsStep, at: &Pointer<'_>) -> Result<Egg, Fault> {
        let accepted = "a class of eggs, such as \"medium\" or \"EU large\", or what one weighs, such as \"52 g\"";
        let measures = self.written.measures.unwrap_or_default();
        let text = wanted.to.as_text();
        // A class alone counts nothing: one of them is meant.
        let counted = if text.trim_start().starts_with(|c: char| c.is_ascii_digit()) { wanted.to.clone() } else { one(&text) };
        let amount = read_amount(&counted, measures, at)?;
        match &amount.counting {
            Counting::Size(size) if amount.number.value == 1.0 => self.of_class(*size, at),
            Counting::Unit(unit) if unit.family == Family::Mass => measured(&amount, unit.size, wanted.weighed, at),
            _ => Err(Fault::new(at, Code::UnreadableAmount, &*text, accepted).trying(["medium", "EU large", "52 g"])),
        }
    }

    fn of_class(&mut self, size: Size, at: &Pointer<'_>) -> Result<Egg, Fault> {
        let measures = self.written.measures.unwrap_or_default();
        let market = size.market.unwrap_or(market_of(measures));
        let find = |part| self.reference.eggs.find(size, part, measures);
        let [Some(whole), Some(white), Some(yolk)] = EggPart::ALL.map(find) else {
            let classes = self.reference.eggs.all.iter().filter(|egg| egg.market == market && egg.part == EggPart::Whole);
            return Err(Fault::new(at, Code::UnknownWord, size.class, format!("a class of the {market} market"))
                .trying(classes.map(|egg| egg.class).take(6)));
        };
        [whole, white, yolk].iter().for_each(|egg| self.account.cite(egg.edible.citation));
        if size.market.is_none() && self.written.measures.is_none() {
            let formula = Pointer::ROOT;
            let formula = formula.key("formula");
            let text = format!("The egg classes are those of the {} market", market_said(market));
            self.account.assume(text, &formula.key("measures"), measures.word());
        }
        let prefix = if market == market_of(measures) { String::new() } else { format!("{} ", market_said(market)) };
        Ok(Egg {
            name: format!("{} {} eggs", market_said(market), size.class),
            class: Some(format!("{prefix}{}", size.class)),
            parts: [whole, white, yolk].map(|egg| egg.edible.figure),
            source: whole.edible.citation.source.id,
        })
    }

    fn other_egg(&mut self, (part, at): (usize, usize), line: &Line, of: EggPart, egg: &Egg, whole: bool) {
        let (mass, each) = (line.weight.mass.value(), egg.parts[of as usize]);
        let exact = (mass / each.value()).value();
        let count = exact.round().max(1.0);
        let weight = each * Factor::times(count);
        let off = off_percent(weight.value().in_grams(), mass.in_grams());
        let (place, before) = (self.place(part, at), self.said(part, at));
        match &egg.class {
            Some(class) if whole => self.set(part, at, format!("{count} {class}"), None),
            None if whole => self.set_mass(part, at, weight.value()),
            // What was weighed stays as it is.
            _ if line.amount.is_mass() => {}
            _ => self.set_mass(part, at, mass),
        }
        let grams = |mass: Mass| grams_text(mass.in_grams());
        let why = format!(
            "{} of {} make {} of {}, at {} each; the nearest whole number, {count}, weighs {}, which is {} % {}",
            grams(mass),
            line.ingredient.name,
            short((exact * 100.0).round() / 100.0),
            egg.name,
            grams(each.value()),
            grams(weight.value()),
            short((off.abs() * 10.0).round() / 10.0),
            if off < 0.0 { "less" } else { "more" }
        );
        let change = Change::new(place, why).from(before).to(self.said(part, at));
        let eggs = EggsTold { exact: Figure(exact), whole: count.min(1e9) as u32, weight: weight.into(), off_percent: Figure(off) };
        let range = (whole && !each.is_exact()).then(|| Quantity::from(weight));
        self.tell(Change { eggs: Some(eggs), range, off: whole.then_some(off), source: Some(egg.source), ..change });
    }
}

fn one(class: &str) -> Written {
    Written::Text(format!("1 {class}").into())
}

/// Eggs that were weighed.
fn measured(amount: &Amount, unit: f64, weighed: EggWeighed, at: &Pointer<'_>) -> Result<Egg, Fault> {
    let edible = match weighed {
        EggWeighed::Shelled => Span::exact(Factor::ONE),
        EggWeighed::InShell => without_shell(),
    };
    let edible = [edible.low(), edible.value(), edible.high()].map(Factor::value);
    let number = [amount.number.low, amount.number.value, amount.number.high];
    let [low, value, high] = [0, 1, 2].map(|end| number[end] * unit * edible[end]);
    if !(5.0..=300.0).contains(&value) {
        return Err(Fault::new(at, Code::OutOfRange, format!("{} g", short(value)), "an egg from 5 g to 300 g").trying(["52 g"]));
    }
    let of = |share: f64| Span::new(Mass::grams(low * share), Mass::grams(value * share), Mass::grams(high * share));
    let name = match weighed {
        EggWeighed::Shelled => format!("eggs of {} g", short(value)),
        EggWeighed::InShell => format!("eggs of {} g in the shell", short(number[1] * unit)),
    };
    Ok(Egg { name, class: None, parts: [of(1.0), of(WHITE_OF_WHOLE), of(1.0 - WHITE_OF_WHOLE)], source: "usda-sr28" })
}
