//! What stands beside the ingredients, put where a formula has a place for it: its name, what it makes, its pan, its oven. The first to say a thing is believed; another is told.

use super::answer::{FormulaRead, LineReport, Matched, PartRead};
use super::staged::{doubt, in_words, is_whole, joined, told as in_text};
use crate::formula::{Beside, LineState, Made, MakesWritten, StageSaid};
use crate::pan::{BakeWritten, OvenKind, PanWritten, PansWritten, in_stages};
use crate::quantity::{Measures, Pointer, Written, plain};
use crate::reference::{Account, Reference};

const BAKE: &str = "/formula/bake";
const MINUTES: &str = "/formula/bake/minutes";

/// What has been read beside the lines.
#[derive(Default)]
pub(super) struct Facts {
    pub name: Option<String>,
    pan: Option<String>,
    bake: Option<BakeWritten>,
    /// Whether a stage of the bake could not be understood: what was told of the others is not the bake.
    stage_lost: bool,
    /// Whether the lines of the method are read.
    pub in_method: bool,
    /// Whether the minutes were told in the method, and of them whether two steps bake so long and another so long.
    minutes_of_step: bool,
    minutes_open: bool,
    makes: Option<MakesWritten>,
    /// Whether what it makes is how many eat of it, or into how many it is cut.
    shared: bool,
    /// Whether it is how many tins are filled.
    tins: bool,
}

/// What is told of one line.
#[derive(Default)]
struct Told {
    details: Vec<String>,
    doubts: Vec<String>,
    matched: Vec<Matched>,
}

impl Told {
    fn place(&mut self, found: Result<(String, String), String>, at: &str) {
        match found {
            Ok((detail, text)) => {
                self.details.push(detail);
                self.matched(text, Some(format!("/formula/{at}")));
            }
            Err(doubt) => self.doubts.push(doubt),
        }
    }

    /// What was understood, and where it stands; nowhere where it is only told.
    fn matched(&mut self, text: String, at: Option<String>) {
        self.matched.push(Matched { ingredient: None, amount: Some(text), set_aside: Vec::new(), at });
    }
}

impl Facts {
    /// Puts down what a line says, and tells it on its report.
    pub(super) fn put(
        &mut self,
        said: Beside,
        report: &mut LineReport,
        reference: &'static Reference,
        at: &Pointer<'_>,
        account: &mut Account,
    ) {
        let mut told = Told::default();
        if let Some(made) = said.makes {
            self.makes(made, &mut told, at, account);
        }
        if let Some(pan) = said.pan {
            // Two phrases may mean one pan: what they mean is compared.
            let same = self.pan.as_ref().is_some_and(|held| meant(held, reference) == meant(&pan, reference));
            let pan = self.pan.clone().filter(|_| same).unwrap_or(pan);
            told.place(first(&mut self.pan, pan, "The pan", String::clone), "pan");
        }
        self.stage_lost |= said.goes_on && said.stages.is_empty();
        if !said.stages.is_empty() {
            self.stages(&said.stages, said.goes_on, &mut told, at, account);
        }
        if let Some(text) = said.told {
            account.assume(text, at, said.oven.clone().unwrap_or_else(|| "F".to_owned()));
        }
        self.bake(said.oven, said.fan, said.minutes, &mut told);
        if let Some(ahead) = &said.ahead {
            told.details.push(format!("A crust is baked ahead, {ahead}: that stays in your method and is not in the formula"));
        }
        if let Some(aside) = said.aside.filter(|_| told.matched.is_empty() && said.ahead.is_none()) {
            told.details.push(format!("No ingredient: {aside}"));
        }
        told.doubts.extend(said.doubts);
        let strange = said.strange_pan.filter(|_| self.pan.is_none());
        let tries = if strange.is_some() || !told.doubts.is_empty() { said.tries } else { Vec::new() };
        told.doubts.extend(strange.map(String::from));
        report.matched.extend(told.matched);
        report.state = if told.doubts.is_empty() { LineState::Understood } else { LineState::Doubtful };
        told.details.extend(told.doubts);
        report.detail = (!told.details.is_empty()).then(|| told.details.join(". "));
        report.attempts = tries;
        report.attempts.truncate(10);
    }

    /// A bake in stages is put down whole; where that cannot be, it is told whole and kept out of the formula.
    fn stages(&mut self, stages: &[StageSaid], goes_on: bool, told: &mut Told, at: &Pointer<'_>, account: &mut Account) {
        match joined(self.bake.as_ref(), stages, goes_on) {
            Ok(joined) => {
                told.details.push(format!("It bakes in stages: {}", in_words(&joined.bake)));
                told.doubts.extend(joined.beside);
                if let Some(text) = joined.assumed {
                    account.assume(text, at, "fan");
                }
                let place = |stage: usize| stage.checked_sub(1).map_or_else(|| BAKE.to_owned(), |later| format!("{BAKE}/then/{later}"));
                for (stage, written) in joined.bake.stages().enumerate().skip(joined.from) {
                    told.matched(written.text(), Some(place(stage)));
                }
                self.minutes_of_step |= self.in_method;
                self.bake = Some(joined.bake);
            }
            Err(doubt) => {
                let all = in_text(self.bake.as_ref(), stages, goes_on);
                told.details.push(format!("It bakes in stages: {}. They are kept here and are not in the formula", in_stages(&all)));
                all.into_iter().for_each(|stage| told.matched(stage, None));
                told.doubts.push(doubt);
                self.stage_lost = true;
            }
        }
    }

    fn bake(&mut self, oven: Option<String>, fan: bool, minutes: Option<String>, told: &mut Told) {
        let trial = |oven: Option<&String>, minutes: Option<&String>| {
            let written = |text: &String| Written::Text(text.as_str().into());
            doubt(&BakeWritten { oven: oven.map(written), minutes: minutes.map(written), ..BakeWritten::default() })
        };
        if let Some(doubt) = trial(oven.as_ref(), minutes.as_ref()) {
            told.doubts.push(doubt);
        } else if oven.is_some() || minutes.is_some() {
            let bake = self.bake.get_or_insert_default();
            let alone = oven.is_none();
            if let Some(oven) = oven {
                let fresh = bake.oven.is_none();
                told.place(first(&mut bake.oven, Written::Text(oven.into()), "The oven", text_of), "bake/oven");
                bake.from_oven = bake.from_oven.or((fresh && fan).then_some(OvenKind::Fan));
            }
            if let Some(minutes) = minutes {
                self.minutes(minutes, alone, told);
            }
        }
    }

    /// How long it bakes; `alone`, where the line says nothing of the oven.
    fn minutes(&mut self, text: String, alone: bool, told: &mut Told) {
        let (bake, minutes) = (self.bake.get_or_insert_default(), Written::Text(text.as_str().into()));
        if is_whole(bake, &minutes) {
            told.details.push(format!("The bake in all: {text}, as its stages have it"));
            return;
        }
        let last = bake.then.len();
        if let Some(stage) = bake.then.last_mut().filter(|stage| alone && stage.minutes.is_none()) {
            // "Lower to 180 C." and on the next line "Bake 20 min."
            stage.minutes = Some(minutes);
            told.place(Ok((format!("The last stage: {}", stage.text()), text)), &format!("bake/then/{}/minutes", last - 1));
            return;
        }
        self.minutes_of_step |= bake.minutes.is_none() && self.in_method;
        let standing = bake.minutes.as_ref().map(text_of);
        let mut placed = first(&mut bake.minutes, minutes, "The bake", text_of);
        // A crust that is baked first is not the bake, and nobody says which of two steps is.
        if let (Err(_), Some(standing), true) = (&placed, standing, self.minutes_of_step && self.in_method) {
            self.minutes_open = true;
            placed = Err(format!("Two steps bake, {standing} and {text}: write the minutes that are meant, as \"Bake for {text}\""));
        }
        told.place(placed, "bake/minutes");
    }

    fn makes(&mut self, mut made: Made, told: &mut Told, at: &Pointer<'_>, account: &mut Account) {
        let makes = self.makes.get_or_insert(MakesWritten { pieces: None, each: None, weight: None });
        // How many tins are filled gives way to how many pieces there are.
        if made.tins && makes.pieces.is_some() && !self.tins {
            made.pieces = None;
        } else if made.pieces.is_some() && std::mem::replace(&mut self.tins, made.tins) {
            makes.pieces = None;
        }
        let fresh = makes.pieces.is_none();
        if fresh {
            self.shared = made.shared;
        }
        // "Makes 1 loaf" and "cuts into 12 slices" are both true.
        if let (Some(pieces), Some(standing), true) = (made.pieces, makes.pieces, made.shared != self.shared) {
            let (whole, share) = if made.shared { (standing, pieces) } else { (pieces, standing) };
            told.details.push(format!("It makes {whole}, shared out into {share}; in the formula stands {standing}, which was told first"));
        } else if let Some(pieces) = made.pieces {
            told.place(first(&mut makes.pieces, pieces, "What it makes", ToString::to_string), "makes/pieces");
        }
        if let Some(each) = made.each {
            told.place(first(&mut makes.each, Written::Text(each.into()), "What one weighs", text_of), "makes/each");
        }
        if let Some(weight) = made.weight {
            told.place(first(&mut makes.weight, Written::Text(weight.into()), "What it weighs", text_of), "makes/weight");
        }
        if let Some(chosen) = made.told {
            account.assume(chosen, at, makes.pieces.map_or(String::new(), |count| count.to_string()));
        }
    }

    /// What of the bake is kept out of the formula, though lines told it: nobody says which of two is meant, or one of several stages is missing.
    pub(super) fn left_out(&self) -> Option<&'static str> {
        let in_stages = self.bake.as_ref().is_some_and(|bake| !bake.then.is_empty());
        match (self.stage_lost, self.minutes_open) {
            (true, _) => Some(BAKE),
            (false, true) => Some(if in_stages { BAKE } else { MINUTES }),
            (false, false) => None,
        }
    }

    /// The formula with its parts.
    pub(super) fn formula(self, measures: Option<Measures>, parts: Vec<PartRead>) -> FormulaRead {
        let left_out = self.left_out();
        let makes = self.makes.filter(|makes| makes.pieces.is_some() || makes.weight.is_some());
        let mut bake = self.bake.filter(|_| left_out != Some(BAKE));
        if let Some(bake) = bake.as_mut().filter(|_| left_out == Some(MINUTES)) {
            bake.minutes = None;
        }
        let bake = bake.filter(|bake| bake.oven.is_some() || bake.minutes.is_some());
        FormulaRead { name: self.name, measures, parts, pan: self.pan, bake, makes }
    }
}

/// Puts a fact down where none stands; one that says the same is as good.
fn first<T>(held: &mut Option<T>, fresh: T, what: &str, text: impl Fn(&T) -> String) -> Result<(String, String), String> {
    let said = text(&fresh);
    let standing = held.get_or_insert(fresh);
    let standing = text(standing);
    if plain(&standing) == plain(&said) {
        Ok((format!("{what}: {said}"), said))
    } else {
        Err(format!("{what}: {said}; another line says {standing}, which is kept"))
    }
}

pub(super) fn text_of(written: &Written) -> String {
    written.as_text().into_owned()
}

/// The pan that a phrase means.
fn meant(phrase: &str, reference: &'static Reference) -> Option<String> {
    let written = PansWritten::One(PanWritten::Phrase(phrase.into()));
    written.resolve(Measures::Us, reference, &Pointer::ROOT, &mut Account::new(reference, false)).ok().map(|pans| pans.text())
}
