//! Each line is weighed on trial: what every other calculation would refuse is told and kept out, and a mass that is that of one, or of eggs in their shells, is put right.

use super::gathered::Gathered;
use crate::formula::{Item, Measure};
use crate::quantity::{Code, Counting, Factor, Family, Fault, Mass, Pointer};
use crate::reference::{Account, EggPart, Measuring, without_shell};

impl Gathered<'_> {
    /// Weighs a line on trial; what cannot be weighed is told and kept out of the formula.
    pub(super) fn weighed(&mut self, item: &mut Item) {
        if let Some(also) = &item.also
            && let (Some(amount), false) = (&item.amount, self.weigh(item, also).is_ok())
        {
            item.notes.push(also.text.clone());
            // "500 g filo (1 packet)", "1½ cups crumbs (10 sheets)": a weight needs nothing beside it, and a number of things says no more.
            let counted = match &also.amount.counting {
                Counting::Unit(unit) => unit.family == Family::Count,
                counting => matches!(counting, Counting::Named(_)),
            };
            if !amount.is_mass() && !counted {
                item.doubts.push(format!("\"{}\" beside {} cannot be weighed: it is kept as a note", also.text, amount.text));
            }
            item.also = None;
        }
        let Some(amount) = &item.amount else { return };
        // "0-5 g": no formula takes what may be nothing.
        if amount.amount.number.low <= 0.0 {
            item.faults.push(format!("{} begins at nothing: give it an amount above 0", amount.text));
            item.weightless = true;
            return;
        }
        let Err(fault) = self.weigh(item, amount) else {
            not_the_same(item);
            self.of_several(item);
            self.in_shell(item);
            return;
        };
        if let Some(also) = item.also.take() {
            // The first measure has no figure; the second carries the line.
            if let Some(first) = item.amount.replace(also) {
                item.notes.push(first.text);
            }
            return;
        }
        let fingers = matches!(&amount.amount.counting, Counting::Unit(unit) if unit.by_the_fingers().is_some());
        match fault.code {
            _ if fingers => {
                item.notes.insert(0, amount.text.clone());
                item.unmeasured = true;
                return;
            }
            Code::UnitMissing | Code::NotCounted | Code::UnknownUnit => item.faults.push(format!("{}: {}", fault.found, fault.detail)),
            _ => item.doubts.push(format!("{}: {}", fault.found, fault.detail)),
        }
        item.tries.extend(fault.attempts);
        item.weightless = true;
    }

    fn weigh(&self, item: &Item, measure: &Measure) -> Result<f64, Fault> {
        let Some(ingredient) = item.ingredient else { return Ok(0.0) };
        let at = Pointer::ROOT;
        let of = Measuring {
            ingredient,
            form: item.form,
            filled: item.filled,
            measures: self.measures.unwrap_or_default(),
            measures_at: None,
            filled_at: &at,
        };
        // What a trial weighing notes is nobody's business.
        let mut trial = Account::new(self.reference, false);
        let weight = self.reference.weigh(&measure.amount, &of, &at, &mut trial)?;
        Ok(weight.mass.value().in_grams())
    }

    /// What a line weighs: of two measures a mass wins.
    pub(super) fn weight(&self, item: &Item) -> Mass {
        let said = item.also.iter().chain(&item.amount).find(|measure| measure.is_mass()).or(item.amount.as_ref());
        Mass::grams(said.and_then(|measure| self.weigh(item, measure).ok()).unwrap_or_default())
    }

    /// "3 eggs (50 g)": a mass beside several is that of one where only so it fits.
    fn of_several(&self, item: &mut Item) {
        let (Some(amount), Some(also)) = (&item.amount, &item.also) else { return };
        let count = amount.amount.number.value;
        if amount.is_mass()
            || !also.is_mass()
            || count <= 1.0
            || matches!(&amount.amount.counting, Counting::Unit(unit) if unit.family != Family::Count)
        {
            return;
        }
        let (Ok(whole), Ok(beside)) = (self.weigh(item, amount), self.weigh(item, also)) else { return };
        let near = |grams: f64| (grams / whole - 1.0).abs() < 0.3;
        if !near(beside) && near(beside * count) {
            let all = also.times(Factor::times(count));
            item.doubts.push(format!("{} is taken as the weight of one: {} in all", also.text, all.text));
            item.also = Some(all);
        }
    }

    /// "2 eggs (59 g each)": grams beside eggs are those with the shell where only so they are eggs of that class; without it they go into the formula.
    fn in_shell(&self, item: &mut Item) {
        let whole_egg = item.ingredient.and_then(|known| known.egg_part()) == Some(EggPart::Whole);
        let said = item.notes.iter().any(|note| note.contains("shell"));
        let (Some(amount), Some(also)) = (&item.amount, item.also.as_ref().filter(|also| whole_egg && !said && also.is_mass())) else {
            return;
        };
        let (Ok(counted), Ok(beside)) = (self.weigh(item, amount), self.weigh(item, also)) else { return };
        let share = without_shell().value().value();
        let off = |grams: f64| (grams / counted - 1.0).abs();
        if amount.is_mass() || off(beside * share) >= off(beside) || off(beside * share) > 0.2 {
            return;
        }
        let bare = also.without_shell();
        item.doubts.push(format!("{} is taken as the weight in the shell: {} without it", also.text, bare.text));
        item.also = Some(bare);
    }
}

/// How far apart two measures of one kind are that are the same amount: old books take 25 g for an ounce.
const APART: f64 = 1.25;

/// "1 oz / 1½ oz": two weights or two volumes that are not the same amount; the first is taken.
fn not_the_same(item: &mut Item) {
    let (Some(one), Some(other)) = (&item.amount, &item.also) else { return };
    let (Counting::Unit(first), Counting::Unit(second)) = (&one.amount.counting, &other.amount.counting) else { return };
    if first.family != second.family || !matches!(first.family, Family::Mass | Family::Volume) {
        return;
    }
    let times = one.amount.number.value * first.size / (other.amount.number.value * second.size);
    if (1.0 / APART..=APART).contains(&times) {
        return;
    }
    // "400 g tin (240 g drained weight)": what is left is what goes in; "¼ pint (150 ml)": millilitres are the same everywhere.
    let drained = item.notes.iter().any(|note| note.starts_with("drained w")) && times > 1.0;
    let plainer = first.is_national() && !second.is_national();
    let (kept, left) = if drained || plainer { (other.clone(), one.clone()) } else { (one.clone(), other.clone()) };
    if !drained {
        item.doubts.push(format!("{} and {} are not the same amount: {} is taken", one.text, other.text, kept.text));
    }
    item.notes.push(left.text);
    (item.amount, item.also) = (Some(kept), None);
}
