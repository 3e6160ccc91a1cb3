//! The lines as they are read one after another: each is weighed on trial, so that what goes into the formula is taken by every other calculation.

use std::cell::OnceCell;

use super::ReadQuestion;
use super::answer::{LineMade, LineReport, Matched, PartRead, ReadAnswer};
use super::columns::{Columns, Headed, may_be_counted};
use super::facts::Facts;
use super::joined::{covers, is_half, preferments};
use super::markup::plain_letters;
use super::titles::Heading;
use crate::formula::{
    Beside, Item, LinePlace, LineRead, LineState, STEP, ScalesWith, begun, is_method, names_part, opens_as_step, read_beside, read_line,
    suggested, titled, unmarked,
};
use crate::quantity::{Code, Counting, Fault, Faults, Mass, Measures, Pointer, Written, behind_the, plain, read_amount};
use crate::reference::{Account, Reference, tell_fingers, tell_measures};

/// What has been read so far.
pub(super) struct Gathered<'q> {
    pub(super) question: &'q ReadQuestion,
    pub(super) reference: &'static Reference,
    pub(super) measures: Option<Measures>,
    /// Why degrees without a scale are those of Celsius, where the formula tells: asked when the first stands there.
    pub(super) celsius: OnceCell<Option<&'static str>>,
    /// Whether the list stands without units: its numbers are no eggs.
    pub(super) unitless: bool,
    /// The columns of the table in which the lines stand, where its head tells their units.
    columns: Option<Columns>,
    pub(super) parts: Vec<PartRead>,
    /// What the lines of each part weigh.
    pub(super) weights: Vec<Mass>,
    /// The name of the part that a heading began, until its first line comes.
    pub(super) waiting: Option<String>,
    /// Whether the method has begun, in which no ingredient is looked for but by its amount.
    method: bool,
    /// What stands beside the lines.
    pub(super) facts: Facts,
    /// The first line, where it may be the title: what it is called, and what else it says.
    pub(super) title: Option<(usize, String, Beside)>,
    /// The line before, where it may be the title of a part.
    pub(super) heading: Option<Heading>,
    pub(super) lines: Vec<LineReport>,
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

impl<'q> Gathered<'q> {
    pub(super) fn new(question: &'q ReadQuestion, measures: Option<Measures>, reference: &'static Reference) -> Self {
        Self {
            question,
            reference,
            measures,
            celsius: OnceCell::new(),
            unitless: false,
            columns: None,
            parts: Vec::new(),
            weights: Vec::new(),
            waiting: None,
            method: false,
            facts: Facts::default(),
            title: None,
            heading: None,
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
        let bare = &*plain_letters(bare);
        if let Some(Headed { columns, told, doubt }) = Columns::headed(bare, measures) {
            self.columns = Some(columns);
            report.state = if doubt.is_some() { LineState::Doubtful } else { LineState::Understood };
            report.detail = Some(doubt.unwrap_or(told));
            return self.lines.push(report);
        }
        let row = self.columns.as_ref().and_then(|columns| columns.line(bare));
        let unmarked = unmarked(row.as_deref().unwrap_or(bare));
        let bare = &*unmarked;
        let (mut bare, mut behind, mut read) = self.understood(bare);
        let scaled = self.in_celsius(&unmarked, &read, behind.as_ref(), at, account);
        if let Some(scaled) = &scaled {
            (bare, behind, read) = self.understood(scaled);
        }
        if let (Some(_), LineRead::Items(items)) = (&row, &mut read) {
            may_be_counted(items);
        }
        let read = self.begun(bare, read);
        if self.lines.is_empty() && self.is_title(bare, &read) {
            let (name, said) = titled(bare, self.reference);
            self.title = Some((0, name, said));
        }
        self.put(read, bare, &mut report, at, account);
        if let Some(said) = behind {
            self.beside(said, &mut report, at, account);
        }
        self.lines.push(report);
    }

    /// The line as it is read, without its other sentences; and what those say.
    fn understood<'t>(&self, bare: &'t str) -> (&'t str, Option<Beside>, LineRead) {
        let (bare, behind) = self.sentences(bare).map_or((bare, None), |(first, behind)| (first, Some(behind)));
        let unitless = if self.unitless { self.without_units(bare) } else { None };
        (bare, behind, unitless.unwrap_or_else(|| read_line(bare, self.measures.unwrap_or_default(), self.reference)))
    }

    /// "For the glaze: juice of 1 lemon": the part begins on the line of its first ingredient.
    fn begun(&mut self, bare: &str, read: LineRead) -> LineRead {
        let Some((part, first)) = begun(bare).filter(|_| !matches!(read, LineRead::Beside(_))) else { return read };
        // "Glaze: 50 g jam"; "Craquelin: 50 g butter, 60 g sugar": a name of its own is one where it stands before several.
        let least = if names_part(&part) || part.is_empty() { 1 } else { 2 };
        match read_line(first, self.measures.unwrap_or_default(), self.reference) {
            LineRead::Items(items) if items.iter().filter(|item| item.is_weighable()).count() >= least => {
                self.heading(part);
                LineRead::Items(items)
            }
            _ => read,
        }
    }

    /// Puts what was read where it belongs.
    fn put(&mut self, read: LineRead, bare: &str, report: &mut LineReport, at: &Pointer<'_>, account: &mut Account) {
        match read {
            LineRead::Heading(_) | LineRead::Beside(_) if self.title.is_some() && self.lines.is_empty() => report.state = LineState::Unread,
            // Goods that are made here are none of their own ingredients.
            LineRead::Items(items) if self.title.is_some() && items.iter().any(Item::is_weighable) && self.lines.is_empty() => {
                report.state = LineState::Unread;
            }
            // "Poolish" alone among the lines of the dough is the one above.
            LineRead::Heading(part) if let Some(again) = self.called_again(&part, bare) => self.whole_part(again, Vec::new(), report),
            LineRead::Heading(part) => {
                let nameless = part.is_empty();
                report.detail = Some(self.heading(part));
                // "Ingredients (for a 900 g loaf tin)".
                if let Some(said) = bracketed(bare).and_then(|said| read_beside(said, self.reference)) {
                    // What is told of a part alone is its tin.
                    let tin = Beside { pan: said.pan.clone(), ..Beside::default() };
                    if nameless || tin.pan.is_some() {
                        self.beside(if nameless { said } else { tin }, report, at, account);
                    }
                }
            }
            LineRead::Beside(said) => {
                // "1. Heat the oven": the steps are numbered behind the ingredients, under no heading.
                let numbered = report.written.trim_start().starts_with(|c: char| c.is_ascii_digit())
                    && !bare.starts_with(|c: char| c.is_ascii_digit());
                self.method |= numbered && !self.parts.is_empty() && (said.aside == Some(STEP) || said.oven.is_some());
                self.beside(*said, report, at, account);
            }
            // "Cream 200 g butter with the sugar" among the steps is work, and no cream.
            LineRead::Items(items) if self.method && (opens_as_step(bare) || !items.iter().any(Item::is_weighable)) => {
                let step = Beside { aside: Some(STEP), ..Beside::default() };
                self.beside(read_beside(bare, self.reference).unwrap_or(step), report, at, account);
            }
            LineRead::Items(items) if let Some(part) = self.part_called(&items) => self.whole_part(part, items, report),
            LineRead::Items(mut items) => {
                self.may_be_twice(&mut items);
                let may_head = self.may_head(bare, &items, report);
                self.headed(&items, report);
                self.items(items, report, at, account);
                self.heading = may_head;
            }
        }
    }

    /// What stands beside the ingredients goes where it belongs; what was told of the line before stays.
    fn beside(&mut self, said: Beside, report: &mut LineReport, at: &Pointer<'_>, account: &mut Account) {
        let (state, detail, attempts) = (report.state, report.detail.take(), std::mem::take(&mut report.attempts));
        self.facts.in_method = self.method;
        self.facts.put(said, report, self.reference, at, account);
        report.state = report.state.max(state);
        report.detail = detail.into_iter().chain(report.detail.take()).reduce(|first, more| format!("{first}. {more}"));
        report.attempts.splice(0..0, attempts);
        report.attempts.truncate(10);
    }

    /// "Flour 300 g, butter 200 g. Bake 40 min at 160 C.": a formula on one line; its ingredients, and what its other sentences say.
    fn sentences<'t>(&self, bare: &'t str) -> Option<(&'t str, Beside)> {
        let opens = |c: char| c.is_uppercase() || c.is_ascii_digit();
        let ends = bare.match_indices(". ").map(|(at, _)| at).filter(|at| bare[at + 2..].starts_with(opens));
        ends.take(3).find_map(|at| {
            let said = read_beside(&bare[at + 2..], self.reference)?;
            let placed =
                said.pan.is_some() || said.oven.is_some() || said.minutes.is_some() || said.makes.is_some() || !said.stages.is_empty();
            let LineRead::Items(items) = read_line(&bare[..at], self.measures.unwrap_or_default(), self.reference) else { return None };
            (placed && items.iter().any(Item::is_weighable)).then_some((&bare[..at], said))
        })
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

    /// A heading begins a part with its first line.
    pub(super) fn heading(&mut self, part: String) -> String {
        self.heading = None;
        self.method = is_method(&part);
        if self.method {
            let what = if ["tip", "note", "variation", "stor", "nutrition"].iter().any(|word| part.contains(word)) {
                "remarks begin"
            } else {
                "the method begins"
            };
            return format!("A heading: {what}, which is read for the pan and the oven alone");
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
        let measures = item.amount.iter().chain(&item.also);
        // "1 stick plus 2 tbsp": the spoons stand behind.
        let added = measures.clone().filter_map(|measure| {
            let (_, added) = measure.text.split_once(" plus ")?;
            read_amount(&Written::Text(added.into()), self.measures.unwrap_or_default(), at).ok()
        });
        for amount in measures.map(|measure| &measure.amount).chain(&added.collect::<Vec<_>>()) {
            let Counting::Unit(unit) = amount.counting else { continue };
            tell_fingers(unit, at, account);
            if self.measures.is_none() {
                tell_measures(unit, Measures::default(), Some(&measures_at), account);
            }
        }
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
        self.weights.resize(at + 1, Mass::grams(0.0));
        let weight = self.weight(item);
        self.weights[at] += weight;
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

    pub(super) fn settled(mut self, account: &mut Account) -> ReadAnswer {
        self.entitled(account);
        preferments(&mut self.parts);
        // Without a line that can be weighed there is no formula to point into.
        for from in self.facts.left_out().into_iter().chain(self.parts.is_empty().then_some("")) {
            self.lines.iter_mut().for_each(|line| line.displace(from));
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

/// What stands in brackets at the end of a line.
fn bracketed(line: &str) -> Option<&str> {
    line.trim_end_matches([':', ' ', '*', '#']).strip_suffix(')')?.split_once('(').map(|(_, said)| said)
}
