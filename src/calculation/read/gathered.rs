//! The lines as they are read one after another: each is weighed on trial, so that what goes into the formula is taken by every other calculation.

use super::answer::{LineMade, LineReport, Matched, PartRead, ReadAnswer};
use super::facts::Facts;
use super::joined::{covers, is_half, preferments};
use crate::formula::{
    Beside, Item, LinePlace, LineRead, LineState, Measure, STEP, ScalesWith, begun, is_measured_within, is_method, may_be_title,
    read_beside, read_line, suggested, titled,
};
use crate::quantity::{Code, Counting, Factor, Fault, Faults, Measures, Pointer, behind_the, plain};
use crate::reference::{Account, EggPart, Measuring, Reference, Trait, tell_fingers, tell_measures, without_shell};

/// What has been read so far.
pub(super) struct Gathered {
    reference: &'static Reference,
    measures: Option<Measures>,
    parts: Vec<PartRead>,
    /// The name of the part that a heading began, until its first line comes.
    waiting: Option<String>,
    /// Whether the method has begun, in which no ingredient is looked for but by its amount.
    method: bool,
    /// What stands beside the lines.
    facts: Facts,
    /// The first line, where it may be the title: what it is called, and what else it says.
    title: Option<(usize, String, Beside)>,
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
        Self {
            reference,
            measures,
            parts: Vec::new(),
            waiting: None,
            method: false,
            facts: Facts::default(),
            title: None,
            lines: Vec::new(),
            suggested: 0,
        }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }

    /// Reads one line: as it was written, and without the number of a list.
    pub(super) fn line(&mut self, written: &str, bare: &str, number: usize, at: &Pointer<'_>, account: &mut Account) {
        let mut report = LineReport {
            pointer: at.text(),
            line: number + 1,
            written: written.to_owned(),
            state: LineState::Understood,
            matched: Vec::new(),
            detail: None,
            attempts: Vec::new(),
        };
        let measures = self.measures.unwrap_or_default();
        let mut read = read_line(bare, measures, self.reference);
        if let Some((part, first)) = begun(bare)
            && let LineRead::Items(items) = read_line(first, measures, self.reference)
            && items.iter().any(Item::is_weighable)
        {
            self.heading(part);
            read = LineRead::Items(items);
        }
        if self.lines.is_empty() && self.is_title(bare, &read) {
            let (name, said) = titled(bare, self.reference);
            self.title = Some((0, name, said));
        }
        match read {
            LineRead::Heading(_) if self.title.is_some() && self.lines.is_empty() => report.state = LineState::Unread,
            LineRead::Beside(_) if self.title.is_some() && self.lines.is_empty() => report.state = LineState::Unread,
            LineRead::Heading(part) => report.detail = Some(self.heading(part)),
            LineRead::Beside(said) => self.facts.put(*said, &mut report, self.reference, at, account),
            LineRead::Items(items) if self.method && !items.iter().any(Item::is_weighable) => {
                let step = Beside { aside: Some(STEP), ..Beside::default() };
                self.facts.put(read_beside(bare, self.reference).unwrap_or(step), &mut report, self.reference, at, account);
            }
            LineRead::Items(items) => self.items(items, &mut report, at, account),
        }
        self.lines.push(report);
    }

    fn items(&mut self, items: Vec<Item>, report: &mut LineReport, at: &Pointer<'_>, account: &mut Account) {
        let mut said = Said::default();
        for item in items.into_iter().take(20) {
            self.item(item, report, &mut said, at, account);
        }
        report.state = said.state.unwrap_or(LineState::Unread);
        if self.method && !report.matched.is_empty() {
            report.state = report.state.max(LineState::Doubtful);
            said.details.push("It stands in the method; if it stands among the ingredients too, leave it out".to_owned());
        }
        report.detail = (!said.details.is_empty()).then(|| said.details.join(". "));
        report.attempts = said.attempts;
        report.attempts.truncate(10);
    }

    /// Whether the first line names the whole: no ingredient, no amount, and no more than a tin or a yield beside its name.
    fn is_title(&self, bare: &str, read: &LineRead) -> bool {
        let named = bare.trim_start_matches(|c: char| !c.is_alphanumeric()).starts_with(char::is_uppercase);
        named
            && !is_measured_within(bare)
            && match read {
                LineRead::Heading(part) => !part.is_empty() && may_be_title(bare),
                // "Rye sourdough" names an ingredient only if a word of it is set aside.
                // "Pumpkin pie" is no slip for pumpkin spice.
                LineRead::Items(items) => {
                    let named_otherwise =
                        |one: &Item| one.ingredient.is_none_or(|known| known.is(Trait::Goods)) || !one.aside.is_empty() || one.slip;
                    matches!(&**items, [one] if one.amount.is_none() && !one.unmeasured && named_otherwise(one))
                }
                // "Brownies (8-inch square pan)", but not "Grease a 9 inch tin".
                LineRead::Beside(said) => {
                    let (name, again) = titled(bare, self.reference);
                    said.aside.is_none() && said.oven.is_none() && again.pan == said.pan && said.pan.is_some() && name.len() < bare.len()
                }
            }
    }

    /// A heading begins a part with its first line.
    fn heading(&mut self, part: String) -> String {
        self.method = is_method(&part);
        if self.method {
            return "A heading: the method begins, which is read for the pan and the oven alone".to_owned();
        }
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
            self.told(&item, at, account);
        }
        said.state = said.state.max(Some(item.state()));
        report.matched.push(Matched {
            ingredient: item.ingredient.map(|known| known.id.clone().into_owned()),
            amount: item.amount.as_ref().map(|measure| measure.text.clone()),
            set_aside: item.aside,
            at: place,
        });
        for told in item.doubts.into_iter().chain(item.faults) {
            if !said.details.contains(&told) {
                said.details.push(told);
            }
        }
        said.attempts.extend(item.tries);
        if let Some(name) = item.strange.filter(|_| self.suggested < SUGGESTED) {
            self.suggested += 1;
            said.attempts.extend(suggested(&self.reference.ingredients, &name));
        }
    }

    /// Whose cups and spoons are meant, where that was not said and matters; and what a pinch is.
    fn told(&self, item: &Item, at: &Pointer<'_>, account: &mut Account) {
        let root = Pointer::ROOT;
        let measures_at = root.key("measures");
        for measure in item.amount.iter().chain(&item.also) {
            let Counting::Unit(unit) = measure.amount.counting else { continue };
            tell_fingers(unit, at, account);
            if self.measures.is_none() {
                tell_measures(unit, Measures::default(), Some(&measures_at), account);
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

    /// Puts a line into the formula; gives its place.
    fn made(&mut self, item: &Item) -> String {
        if let Some(name) = self.waiting.take() {
            let into = self.parts.iter().find(|part| is_half(&name) && is_half(&part.name)).map(|part| part.name.clone());
            let name = self.own_name(name);
            let scales_with = covers(&name).then_some(ScalesWith::Finish);
            self.parts.push(PartRead { name, scales_with, into, lines: Vec::new() });
        } else if self.parts.is_empty() {
            self.parts.push(PartRead { name: "main".to_owned(), scales_with: None, into: None, lines: Vec::new() });
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

    /// The first line is a title where ingredients follow it.
    fn entitled(&mut self, account: &mut Account) {
        let Some((index, name, said)) = self.title.take() else { return };
        let Some(report) = self.lines.get_mut(index) else { return };
        if self.parts.is_empty() {
            let alone = || "It may be a title: no ingredient that can be weighed follows it".to_owned();
            report.detail.get_or_insert_with(alone);
            return;
        }
        report.matched.clear();
        report.attempts.clear();
        report.detail = None;
        let names_none = matches!(&*plain(&name), "ingredients" | "you will need");
        self.facts.put(said, report, self.reference, &Pointer::ROOT.key("formula"), account);
        let detail = report.detail.take().map_or(String::new(), |more| format!(". {more}"));
        if names_none {
            report.detail = Some(format!("A heading that names no part{detail}"));
            return;
        }
        report.detail = Some(format!("The title: \"{name}\"{detail}"));
        report.matched.insert(0, Matched { ingredient: None, amount: None, set_aside: Vec::new(), at: Some("/formula/name".to_owned()) });
        self.facts.name = Some(name);
    }

    pub(super) fn settled(mut self, account: &mut Account) -> ReadAnswer {
        self.entitled(account);
        preferments(&mut self.parts);
        // Without a line that can be weighed there is no formula to point into.
        for (gone, from) in [(self.facts.staged, "/formula/bake"), (self.parts.is_empty(), "")] {
            self.lines.iter_mut().filter(|_| gone).for_each(|line| line.displace(from));
        }
        let count = |state| self.lines.iter().filter(|line| line.state == state).count();
        let summary = format!(
            "{} lines: {} understood, {} doubtful, {} unread",
            self.lines.len(),
            count(LineState::Understood),
            count(LineState::Doubtful),
            count(LineState::Unread)
        );
        let root = Pointer::ROOT;
        let formula = root.key("formula");
        let parts = formula.key("parts");
        for (index, part) in self.parts.iter().enumerate() {
            if part.scales_with.is_some() {
                let text = format!("The {} covers the cake, so it grows with the area and is not baked", behind_the(&part.name));
                account.assume(text, &parts.index(index).key("scales_with"), "finish");
            }
            if let Some(into) = &part.into {
                account.assume(
                    format!("The part \"{}\" is mixed into \"{into}\"", part.name),
                    &parts.index(index).key("into"),
                    into.clone(),
                );
            }
        }
        let (facts, parts, measures) = (self.facts, self.parts, self.measures);
        let formula = (!parts.is_empty()).then(|| facts.formula(measures, parts));
        ReadAnswer { formula, lines: self.lines, owed: account.settle(summary) }
    }
}
