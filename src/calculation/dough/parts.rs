//! Which parts of a written formula are the dough, and which of them are preferments: said by the caller, or read from the formula and told.

use super::{DoughQuestion, PrefermentWritten};
use crate::formula::{Dough, Formula, is_called_preferment};
use crate::quantity::{Code, Fault, Faults, Pointer, behind_the, plain};
use crate::reference::{Account, Reference, Trait};

/// The dough of the question's formula.
pub(super) fn gathered(
    question: &DoughQuestion,
    reference: &'static Reference,
    account: &mut Account,
    faults: &mut Faults,
) -> Option<Dough> {
    let root = Pointer::ROOT;
    let written = question.formula.as_ref()?;
    let formula = Formula::resolve(written, &root.key("formula"), reference, account, faults);
    let names: Vec<&str> = written.parts.iter().map(|part| part.name.as_str()).collect();
    let named = named(question, &names, faults);
    let (formula, named) = (formula?, named?);
    let apart =
        |part: usize| formula.parts[part].into.is_none() && (named.contains(&part) || is_called_preferment(&formula.parts[part].name));
    let own: Vec<usize> = (0..formula.parts.len()).filter(|&part| formula.parts[part].into.is_none()).collect();
    let dough_at = own.iter().copied().find(|&part| !apart(part)).unwrap_or_else(|| formula.root(0));
    let joined: Vec<usize> = own.iter().copied().filter(|&part| part != dough_at && apart(part)).collect();
    let preferments = if named.is_empty() { read(&formula, dough_at, &joined, account) } else { named };
    tell_left_out(&formula, dough_at, &joined, account);
    let dough = Dough::gathered(&formula, dough_at, &joined, &preferments);
    if dough.flour().is_nothing() {
        let fault = Fault::new(&root.key("formula"), Code::NoBase, "a dough without flour", "a dough with flour");
        faults.push(fault.saying("Percentages and hydration are of flour: add the flour of the dough"));
        return None;
    }
    Some(dough)
}

/// The parts that the caller names as preferments.
fn named(question: &DoughQuestion, names: &[&str], faults: &mut Faults) -> Option<Vec<usize>> {
    let root = Pointer::ROOT;
    let list = root.key("preferments");
    let before = faults.total();
    let mut named = Vec::new();
    for (index, one) in question.preferments.iter().flatten().take(10).enumerate() {
        let at = list.index(index);
        let wanted = plain(&one.part);
        let found = names.iter().position(|name| plain(name) == wanted);
        match (found, one.prefermented_flour) {
            (Some(_), Some(_)) => {
                faults.push(Fault::new(&at.key("part"), Code::NotTogether, &*one.part, "a name that no part of the formula has"));
            }
            (Some(part), None) => {
                only_named(one, &at, faults);
                named.push(part);
            }
            (None, None) => faults.push(
                Fault::new(
                    &at.key("part"),
                    Code::UnknownPart,
                    &*one.part,
                    "the name of a part of the formula, or prefermented_flour beside it",
                )
                .trying(names.iter().take(5).copied()),
            ),
            (None, Some(_)) => {}
        }
    }
    (faults.total() == before).then_some(named)
}

/// A part of the formula says itself what it is made of.
fn only_named(one: &PrefermentWritten, at: &Pointer<'_>, faults: &mut Faults) {
    let fields = [
        ("hydration", one.hydration.is_some()),
        ("flour", one.flour.is_some()),
        ("yeast", one.yeast.is_some()),
        ("salt", one.salt.is_some()),
        ("seed", one.seed.is_some()),
    ];
    for (field, _) in fields.into_iter().filter(|(_, given)| *given) {
        faults.push(Fault::new(
            &at.key(field),
            Code::NotTogether,
            format!("{field} of a part that is written out"),
            "its name alone, or prefermented_flour for a new one",
        ));
    }
}

/// Parts mixed into the dough that hold flour and ferment, and parts that are called so.
fn read(formula: &Formula, dough_at: usize, joined: &[usize], account: &mut Account) -> Vec<usize> {
    let root = Pointer::ROOT;
    let ferments = |part: usize| {
        let lines = &formula.parts[part].lines;
        let flour = lines.iter().any(|line| line.ingredient.counts_as(crate::reference::Class::Flour).value() > 0.0);
        let yeast = lines.iter().any(|line| line.ingredient.fresh_yeast.is_some() || line.ingredient.is(Trait::Ferments));
        flour && (yeast || is_called_preferment(&formula.parts[part].name))
    };
    let inside = |part: usize| formula.root(part) == dough_at || joined.contains(&formula.root(part));
    let found: Vec<usize> = (0..formula.parts.len()).filter(|&part| part != dough_at && inside(part) && ferments(part)).collect();
    for &part in &found {
        let text = format!(
            "The {} is taken as a preferment of the {}",
            behind_the(&formula.parts[part].name),
            behind_the(&formula.parts[dough_at].name)
        );
        account.assume(text, &root.key("preferments"), formula.parts[part].name.to_string());
    }
    found
}

fn tell_left_out(formula: &Formula, dough_at: usize, joined: &[usize], account: &mut Account) {
    let root = Pointer::ROOT;
    let at = root.key("formula");
    let list = at.key("parts");
    let out = (0..formula.parts.len()).filter(|&part| formula.root(part) != dough_at && !joined.contains(&formula.root(part)));
    for part in out {
        let name = &formula.parts[part].name;
        account.assume(format!("The {} is mixed into no dough and is left out", behind_the(name)), &list.index(part).key("into"), "none");
    }
}
