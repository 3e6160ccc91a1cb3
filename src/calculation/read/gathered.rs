//! The lines as they are read one after another: each is weighed on trial, so that what goes into the formula is taken by every other calculation.

use super::answer::{FormulaRead, LineMade, LineReport, Matched, PartRead, ReadAnswer};
use crate::formula::{Item, LinePlace, LineRead, LineState, Measure, ScalesWith, read_line, suggested};
use crate::quantity::{Code, Counting, Factor, Fault, Faults, Measures, Pointer, plain};
use crate::reference::{Account, Measuring, Reference, tell_measures};

/// What has been read so far.
pub(super) struct Gathered {
    reference: &'static Reference,
    measures: Option<Measures>,
    parts: Vec<PartRead>,
    /// The name of the part that a heading began, until its first line comes.
    waiting: Option<String>,
    lines: Vec<LineReport>,
    /// How many names have been given suggestions.
    suggested: usize,
}

/// For so many names the whole table is searched for what is near: each search costs more than reading a hundred lines.
const SUGGESTED: usize = 20;

/// What is said of a line, item by item.
#[derive(Default)]
struct Said {
    state: Option<LineState>,
    details: Vec<String>,
    attempts: Vec<String>,
}

impl Gathered {
    pub(super) fn new(measures: Option<Measures>, reference: &'static Reference) -> Self {
        Self { reference, measures, parts: Vec::new(), waiting: None, lines: Vec::new(), suggested: 0 }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }

    /// Reads one line.
    pub(super) fn line(&mut self, written: &str, number: usize, at: &Pointer<'_>, account: &mut Account) {
        let mut report = LineReport {
            pointer: at.text(),
            line: number + 1,
            written: written.to_owned(),
            state: LineState::Understood,
            matched: Vec::new(),
            detail: None,
            attempts: Vec::new(),
        };
        match read_line(written, self.measures.unwrap_or_default(), self.reference) {
            LineRead::Heading(part) => report.detail = Some(self.heading(part)),
            LineRead::Items(items) => {
                let mut said = Said::default();
                for item in items.into_iter().take(20) {
                    self.item(item, &mut report, &mut said, at, account);
                }
                report.state = said.state.unwrap_or(LineState::Unread);
                report.detail = (!said.details.is_empty()).then(|| said.details.join(". "));
                report.attempts = said.attempts;
                report.attempts.truncate(10);
            }
        }
        self.lines.push(report);
    }

    /// A heading begins a part with its first line.
    fn heading(&mut self, part: String) -> String {
        if part.is_empty() {
            return "A heading that names no part".to_owned();
        }
        let detail = format!("A heading: the lines below are the part \"{part}\"");
        self.waiting = Some(part);
        detail
    }

    fn item(&mut self, mut item: Item, report: &mut LineReport, said: &mut Said, at: &Pointer<'_>, account: &mut Account) {
        if item.is_weighable() && item.faults.is_empty() {
            self.weighed(&mut item);
        }
        let fits = item.is_weighable() && item.faults.is_empty();
        let place = if fits { Some(self.made(&item)) } else { None };
        if item.unmeasured && item.faults.is_empty() {
            said.details.push(format!(
                "Not measured (\"{}\"): it is kept here, and is not in the formula",
                item.notes.first().map_or("", String::as_str)
            ));
        } else if place.is_none() && item.faults.is_empty() {
            said.details.push("It is not in the formula".to_owned());
        }
        if place.is_some() && item.state() == LineState::Doubtful {
            item.doubts.iter().for_each(|doubt| account.assume(doubt.clone(), at, item.name()));
        }
        if place.is_some() {
            if let Some(assumed) = &item.assumed {
                account.assume(assumed.clone(), at, item.name());
            }
            self.told(&item, account);
        }
        said.state = said.state.max(Some(item.state()));
        report.matched.push(Matched {
            ingredient: item.ingredient.map(|known| known.id.clone().into_owned()),
            amount: item.amount.as_ref().map(|measure| measure.text.clone()),
            set_aside: item.aside,
            at: place,
        });
        said.details.extend(item.doubts.into_iter().chain(item.faults));
        said.attempts.extend(item.tries);
        if let Some(name) = item.strange.filter(|_| self.suggested < SUGGESTED) {
            self.suggested += 1;
            said.attempts.extend(suggested(&self.reference.ingredients, &name));
        }
    }

    /// Whose cups and spoons are meant, where that was not said and matters.
    fn told(&self, item: &Item, account: &mut Account) {
        let root = Pointer::ROOT;
        let at = root.key("measures");
        for measure in item.amount.iter().chain(&item.also).filter(|_| self.measures.is_none()) {
            if let Counting::Unit(unit) = measure.amount.counting {
                tell_measures(unit, Measures::default(), Some(&at), account);
            }
        }
    }

    /// Weighs a line on trial; what cannot be weighed is told and kept out of the formula.
    fn weighed(&mut self, item: &mut Item) {
        if let Some(also) = &item.also
            && let (Some(amount), false) = (&item.amount, self.weigh(item, also).is_ok())
        {
            item.notes.push(also.text.clone());
            item.doubts.push(format!("\"{}\" beside {} cannot be weighed: it is kept as a note", also.text, amount.text));
            item.also = None;
        }
        let Some(amount) = &item.amount else { return };
        let Err(fault) = self.weigh(item, amount) else {
            self.of_several(item);
            return;
        };
        if let Some(also) = item.also.take() {
            // The first measure has no figure; the second carries the line.
            if let Some(first) = item.amount.replace(also) {
                item.notes.push(first.text);
            }
            return;
        }
        match fault.code {
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

    /// "3 eggs (50 g)": a mass beside several is that of one where only so it fits.
    fn of_several(&self, item: &mut Item) {
        let (Some(amount), Some(also)) = (&item.amount, &item.also) else { return };
        let count = amount.amount.number.value;
        if amount.is_mass()
            || !also.is_mass()
            || count <= 1.0
            || matches!(&amount.amount.counting, Counting::Unit(unit) if unit.family != crate::quantity::Family::Count)
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

    /// Puts a line into the formula; gives its place.
    fn made(&mut self, item: &Item) -> String {
        if let Some(name) = self.waiting.take() {
            let name = self.own_name(name);
            let scales_with = covers(&name).then_some(ScalesWith::Finish);
            self.parts.push(PartRead { name, scales_with, lines: Vec::new() });
        } else if self.parts.is_empty() {
            self.parts.push(PartRead { name: "main".to_owned(), scales_with: None, lines: Vec::new() });
        }
        let at = self.parts.len() - 1;
        let lines = &mut self.parts[at].lines;
        let note = item.notes.join(", ");
        lines.push(LineMade {
            ingredient: item.name(),
            amount: item.amount.as_ref().map_or(String::new(), |measure| measure.text.clone()),
            also: item.also.as_ref().map(|measure| measure.text.clone()),
            filled: item.filled,
            note: (!note.is_empty()).then(|| note.chars().take(200).collect()),
        });
        LinePlace { part: at, line: lines.len() - 1 }.pointer()
    }

    /// A name that no other part has.
    fn own_name(&self, name: String) -> String {
        let taken = |wanted: &str| self.parts.iter().any(|part| plain(&part.name) == plain(wanted));
        if !taken(&name) {
            return name;
        }
        (2..).map(|number| format!("{name} {number}")).find(|wanted| !taken(wanted)).unwrap_or(name)
    }

    /// A formula has only so many parts, and a part so many lines.
    pub(super) fn in_bounds(&self, most_parts: usize, most_lines: usize, root: &Pointer<'_>) -> Result<(), Faults> {
        let found = if self.parts.len() > most_parts {
            format!("{} parts", self.parts.len())
        } else if let Some(part) = self.parts.iter().find(|part| part.lines.len() > most_lines) {
            format!("{} lines in one part", part.lines.len())
        } else {
            return Ok(());
        };
        Err(Fault::new(root, Code::TooMany, found, format!("at most {most_parts} parts of at most {most_lines} lines")).into())
    }

    pub(super) fn settled(self, account: &mut Account) -> ReadAnswer {
        let count = |state| self.lines.iter().filter(|line| line.state == state).count();
        let summary = format!(
            "{} lines: {} understood, {} doubtful, {} unread",
            self.lines.len(),
            count(LineState::Understood),
            count(LineState::Doubtful),
            count(LineState::Unread)
        );
        for (index, part) in self.parts.iter().enumerate().filter(|(_, part)| part.scales_with.is_some()) {
            let formula = Pointer::ROOT.key("formula");
            let parts = formula.key("parts");
            let text = format!("The {} covers the cake, so it grows with the area and is not baked", part.name);
            account.assume(text, &parts.index(index).key("scales_with"), "finish");
        }
        let formula = (!self.parts.is_empty()).then_some(FormulaRead { measures: self.measures, parts: self.parts });
        ReadAnswer { formula, lines: self.lines, owed: account.settle(summary) }
    }
}

/// Parts that go over what has been baked, by what everybody calls them. A filling or a topping may go into the oven.
fn covers(name: &str) -> bool {
    ["icing", "frosting", "glaze", "buttercream", "drizzle", "ganache"].iter().any(|word| plain(name).split(' ').any(|part| part == *word))
}
