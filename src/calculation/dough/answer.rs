//! The answer of `dough`: the overall formula, each preferment, the final dough, hydration by where its water comes from, and the water's temperature.

use serde::Serialize;
use smol_str::SmolStr;
use utoipa::ToSchema;

use super::DoughQuestion;
use super::warmth::{Answered, TemperatureShown};
use crate::calculation::Answer;
use crate::formula::{Dough, Held, Hydration, LineShown, NamedBase, Total, WaterOf, lines_scaled};
use crate::quantity::{Factor, Mass, Percent, Proportion, Quantity, Span, fitted_texts};
use crate::reference::{Account, Base, Class, Owed, short};

/// A dough with its preferments and its water.
#[derive(Debug, Serialize, ToSchema)]
pub struct DoughAnswer {
    /// All parts together; percentages are of all flour.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub overall: Option<OverallShown>,
    /// How wet it is, in the three ways in which the trade says it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub hydration: Option<Hydration>,
    /// Where its water comes from; the flour's own water is not counted.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 5)]
    pub water_from: Vec<WaterFrom>,
    /// The share of all flour that is in preferments.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub prefermented_flour: Option<Proportion>,
    /// The preferments.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 60)]
    pub preferments: Vec<PrefermentShown>,
    /// Other parts that are mixed into the dough: soakers, scalds.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 60)]
    pub other_parts: Vec<DoughPartShown>,
    /// The final dough, with the preferments as lines of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub final_dough: Option<DoughPartShown>,
    /// The temperature of the water.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub temperature: Option<TemperatureShown>,
    /// What is to be minded, each with its mend.
    #[schema(max_items = 20)]
    pub findings: Vec<DoughFinding>,
    #[serde(flatten)]
    pub owed: Owed,
}

/// All parts of a dough together.
#[derive(Debug, Serialize, ToSchema)]
pub struct OverallShown {
    /// All flour: the 100 %.
    pub flour: Quantity,
    /// All dough.
    pub dough: Quantity,
    /// All percentages together, flour included.
    pub total: Proportion,
    /// Each ingredient once.
    #[schema(max_items = 10_000)]
    pub lines: Vec<OverallLine>,
}

/// One ingredient over all parts.
#[derive(Debug, Serialize, ToSchema)]
pub struct OverallLine {
    /// The ingredient by its name in the table.
    #[schema(max_length = 200, examples("bread flour"))]
    pub ingredient: String,
    /// How much of it in all.
    pub amount: Quantity,
    /// Hundredths of all flour.
    pub of_flour: Proportion,
}

/// Water from one kind of ingredient.
#[derive(Debug, Serialize, ToSchema)]
pub struct WaterFrom {
    /// From `water`, `milk`, `eggs`, `fats` or `other`.
    #[schema(max_length = 10, examples("milk"))]
    pub from: &'static str,
    /// How much water.
    pub water: Quantity,
    /// Hundredths of all flour.
    pub of_flour: Proportion,
}

/// A preferment.
#[derive(Debug, Serialize, ToSchema)]
pub struct PrefermentShown {
    /// What it is called.
    #[schema(max_length = 200, examples("poolish"))]
    pub part: String,
    /// What it weighs.
    pub weight: Quantity,
    /// Its flour, that of a starter too.
    pub flour: Quantity,
    /// Its water, but for the flour's own.
    pub water: Quantity,
    /// Its water in hundredths of its flour.
    pub hydration: Proportion,
    /// Its flour in hundredths of all flour.
    pub prefermented_flour: Proportion,
    /// What to weigh; the texts add up to that of the weight.
    #[schema(max_items = 200)]
    pub lines: Vec<LineShown>,
}

/// A part of the dough.
#[derive(Debug, Serialize, ToSchema)]
pub struct DoughPartShown {
    /// What it is called.
    #[schema(max_length = 200, examples("final dough"))]
    pub part: String,
    /// What it weighs, preferments and other parts included where it is the final dough.
    pub weight: Quantity,
    /// What to weigh; the texts add up to that of the weight.
    #[schema(max_items = 300)]
    pub lines: Vec<LineShown>,
}

/// Something to be minded.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct DoughFinding {
    /// Its name: `water-below-freezing`, `water-harms-yeast`, `no-ice-needed`, `ice-cannot-melt`, `ice-wets-dough`, `ice-melts-in-the-dough`, `nothing-poured`, `too-little-poured`, `dough-harms-yeast`, `methods-disagree`.
    #[schema(max_length = 60, examples("ice-wets-dough"))]
    pub id: &'static str,
    /// What is the matter, with its figures.
    #[schema(max_length = 400)]
    pub why: String,
    /// What to do.
    #[schema(max_length = 400)]
    pub mend: String,
}

impl Answer for DoughAnswer {
    fn cell(&self) -> String {
        let water = self.temperature.as_ref().map(|temperature| temperature.water.value);
        let hydration = self.hydration.as_ref().map(|hydration| hydration.all_water.percent);
        water.or(hydration).map(|figure| figure.rounded().to_string()).unwrap_or_default()
    }

    fn owed(&self) -> &Owed {
        &self.owed
    }
}

pub(super) fn assembled(question: &DoughQuestion, dough: Option<&Dough>, warmth: Option<Answered>, account: &mut Account) -> DoughAnswer {
    let (temperature, findings) = warmth.map_or((None, Vec::new()), |warmth| (Some(warmth.shown), warmth.findings));
    let Some(dough) = dough else {
        let summary = summary("", temperature.as_ref(), &findings);
        return DoughAnswer {
            overall: None,
            hydration: None,
            water_from: Vec::new(),
            prefermented_flour: None,
            preferments: Vec::new(),
            other_parts: Vec::new(),
            final_dough: None,
            temperature,
            findings,
            owed: account.settle(summary),
        };
    };
    let flour = dough.flour();
    cite(dough, account);
    let held = dough.preferments.iter().map(|&part| dough.held(part).flour).reduce(|sum, more| sum.plus(&more));
    let prefermented = held.map(|held| held.percent_of(&flour).into());
    let overall = overall(dough, &flour, account);
    let hydration = hydration(dough);
    let water_from = water_from(dough, &flour);
    let about = about(question, &overall, wet(hydration.as_ref(), &water_from), prefermented.as_ref());
    for line in dough.formula.lines() {
        line.ingredient.hazards.iter().for_each(|hazard| account.caution(hazard));
    }
    DoughAnswer {
        hydration,
        water_from,
        prefermented_flour: prefermented,
        preferments: dough.preferments.iter().map(|&part| preferment(dough, part, &flour)).collect(),
        other_parts: others(dough).map(|part| other(dough, part)).collect(),
        final_dough: Some(final_dough(dough)),
        overall: Some(overall),
        owed: account.settle(summary(&about, temperature.as_ref(), &findings)),
        temperature,
        findings,
    }
}

fn cite(dough: &Dough, account: &mut Account) {
    for line in dough.formula.lines() {
        if let Some(citation) = line.ingredient.composition_citation.filter(|_| line.ingredient.counts_as(Class::Flour).value() == 0.0) {
            account.cite(citation);
        }
    }
}

fn hydration(dough: &Dough) -> Option<Hydration> {
    let whole = dough.whole().summed();
    let base = NamedBase::of(Base::Class(Class::Flour), whole.starch_is_flour(), &whole)?;
    base.flour().map(|flour| flour.hydration(&whole))
}

fn overall(dough: &Dough, flour: &Total, account: &mut Account) -> OverallShown {
    let ingredients = dough.ingredients();
    let values: Vec<Mass> = ingredients.iter().map(|(_, total)| total.mass().value()).collect();
    let (texts, whole_text) = fitted_texts(values.iter().copied());
    let whole = dough.whole().whole();
    let line = |((ingredient, total), text): (&(&crate::reference::Ingredient, Total), SmolStr)| OverallLine {
        ingredient: ingredient.name.clone().into_owned(),
        amount: Quantity::weighed(total.mass(), text),
        of_flour: total.percent_of(flour).into(),
    };
    for (ingredient, total) in &ingredients {
        account.step(|| {
            let (grams, flour) = (total.mass().value(), flour.mass().value());
            format!(
                "{}: {} g / {} g of flour = {} %",
                ingredient.name,
                short(grams.in_grams()),
                short(flour.in_grams()),
                short((grams / flour).value() * 100.0)
            )
        });
    }
    OverallShown {
        flour: Quantity::from(flour.mass()),
        dough: Quantity::weighed(whole.mass(), whole_text),
        total: whole.percent_of(flour).into(),
        lines: ingredients.iter().zip(texts).map(line).collect(),
    }
}

fn water_from(dough: &Dough, flour: &Total) -> Vec<WaterFrom> {
    let of = |kind: WaterOf| (kind, dough.water_of(kind));
    let some = WaterOf::ALL.into_iter().map(of).filter(|(_, water)| !water.is_nothing());
    some.map(|(kind, water)| WaterFrom { from: kind.word(), water: Quantity::from(water.mass()), of_flour: water.percent_of(flour).into() })
        .collect()
}

fn preferment(dough: &Dough, part: usize, all_flour: &Total) -> PrefermentShown {
    let Held { flour, water, .. } = dough.held(part);
    let (lines, weight) = lines_scaled(&dough.formula.parts[part].lines, Factor::ONE);
    PrefermentShown {
        part: dough.formula.parts[part].name.to_string(),
        weight,
        flour: Quantity::from(flour.mass()),
        water: Quantity::from(water.mass()),
        hydration: if flour.is_nothing() {
            Proportion::from(Span::exact(Percent::of_hundred(0.0)))
        } else {
            water.percent_of(&flour).into()
        },
        prefermented_flour: flour.percent_of(all_flour).into(),
        lines,
    }
}

fn others(dough: &Dough) -> impl Iterator<Item = usize> + '_ {
    (0..dough.formula.parts.len()).filter(|part| *part != dough.root && !dough.preferments.contains(part))
}

fn other(dough: &Dough, part: usize) -> DoughPartShown {
    let (lines, weight) = lines_scaled(&dough.formula.parts[part].lines, Factor::ONE);
    DoughPartShown { part: dough.formula.parts[part].name.to_string(), weight, lines }
}

/// The lines of the final dough, and every other part as one line of it.
fn final_dough(dough: &Dough) -> DoughPartShown {
    let part = &dough.formula.parts[dough.root];
    let (mut lines, _) = lines_scaled(&part.lines, Factor::ONE);
    for (at, other) in dough.formula.parts.iter().enumerate().filter(|(at, _)| *at != dough.root) {
        lines.push(LineShown {
            ingredient: other.name.to_string().into(),
            amount: Quantity::from(dough.held(at).whole.mass()),
            measure: None,
        });
    }
    let masses: Vec<Mass> = lines.iter().map(|line| Mass::grams(line.amount.value.0)).collect();
    let (texts, whole) = fitted_texts(masses.iter().copied());
    lines.iter_mut().zip(texts).for_each(|(line, text)| line.amount.text = text);
    let weight = Quantity::weighed(dough.whole().whole().mass(), whole);
    DoughPartShown { part: part.name.to_string(), weight, lines }
}

/// Where water alone makes the dough, its hydration is the water poured; else the water of milk, eggs and butter counts, and that is said.
fn wet(hydration: Option<&Hydration>, water_from: &[WaterFrom]) -> String {
    let Some(hydration) = hydration else { return String::new() };
    if water_from.iter().all(|water| matches!(water.from, "water" | "other")) {
        return format!(", {} % hydration", hydration.added_liquid.text());
    }
    format!(", {} % hydration with the water of all ingredients", hydration.all_water.text())
}

fn about(question: &DoughQuestion, overall: &OverallShown, wet: String, prefermented: Option<&Proportion>) -> String {
    let name = question.formula.as_ref().and_then(|formula| formula.name.as_deref()).unwrap_or("The dough");
    let prefermented = prefermented.map(|share| format!(", {} % of it prefermented", share.text())).unwrap_or_default();
    format!("{name}: {} of dough on {} of flour{prefermented}{wet}", overall.dough.text, overall.flour.text)
}

fn summary(about: &str, temperature: Option<&TemperatureShown>, findings: &[DoughFinding]) -> String {
    let mut text = about.to_owned();
    // Where nothing is poured the finding says so.
    if let Some((shown, poured)) = temperature.and_then(|shown| Some((shown, shown.poured.as_deref()?))) {
        let mut range = String::new();
        shown.water.write_bracketed(&mut range);
        let ice =
            shown.ice.as_ref().map(|ice| format!(", as {} of ice and {} from the tap", ice.ice.text, ice.water.text)).unwrap_or_default();
        let start = if about.is_empty() { "The" } else { "; the" };
        text.push_str(&format!("{start} {poured} is to be {}{range}{ice}", shown.water.text));
    }
    if let Some(first) = findings.first() {
        text.push_str(&format!(". {}", first.why));
    }
    text
}
