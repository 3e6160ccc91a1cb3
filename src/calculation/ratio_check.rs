//! Is this formula in balance for what it claims to be, and if not, by how many grams?

mod summary;

use serde::{Deserialize, Serialize};
use smol_str::SmolStr;
use utoipa::ToSchema;

use self::summary::summary;
use super::{Answer, Calculation};
use crate::formula::{
    BalanceFinding, Formula, FormulaWritten, Hydration, Judging, LikelyStyle, Line, Mixture, MixtureContents, NamedBase, Percentages,
    STARCH_IS_FLOUR, Summed, Tally, caution, find_style, likely, nearer, ruled, spoken, tell_made_up,
};
use crate::quantity::{Code, Fault, Faults, Pointer, Quantity};
use crate::reference::{Account, Base, Class, EggPart, Owed, Reference, Style};

/// A formula to be judged.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RatioCheckQuestion {
    /// The formula.
    pub formula: FormulaWritten,
    /// What it is to be judged as, in place of the style that the formula names; see /v1/styles. Without any style the likeliest are told.
    #[schema(nullable = false, max_length = 200, examples("creamed"))]
    pub style: Option<String>,
}

/// The percentages of the formula and its balance.
#[derive(Debug, Serialize, ToSchema)]
pub struct RatioCheckAnswer {
    /// The style that it was judged as; left out where none was named.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 60, examples("creamed"))]
    pub style: Option<&'static str>,
    /// Percentages of the base: the first part that goes into no other and has no style of its own, with all that is mixed into it.
    pub percentages: Percentages,
    /// What the same mixture is made of before baking.
    pub composition: MixtureContents,
    /// Water to flour; left out where the base is not flour.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub hydration: Option<Hydration>,
    /// One judgement for each rule of the style that has something to say. Empty where no style was named.
    #[schema(max_items = 50)]
    pub findings: Vec<BalanceFinding>,
    /// What it might be, the likeliest first. Where a style was named, only such as fit clearly better than that one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 5)]
    pub likely_styles: Option<Vec<LikelyStyle>>,
    /// The other parts that have a style of their own: icings, fillings, curds.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 50)]
    pub parts: Vec<PartBalance>,
    #[serde(flatten)]
    pub owed: Owed,
}

/// The balance of another part, judged by a style of its own.
#[derive(Debug, Serialize, ToSchema)]
pub struct PartBalance {
    /// The part by its name.
    #[schema(value_type = String, max_length = 200, examples("lemon curd"))]
    pub part: SmolStr,
    /// Its style.
    #[schema(max_length = 60, examples("curd"))]
    pub style: &'static str,
    /// Percentages of its own base.
    pub percentages: Percentages,
    /// One judgement for each rule of its style that has something to say.
    #[schema(max_items = 50)]
    pub findings: Vec<BalanceFinding>,
}

impl Answer for RatioCheckAnswer {
    fn cell(&self) -> String {
        match &self.likely_styles {
            Some(likely) if self.style.is_none() => likely.first().map_or("", |first| first.style).to_owned(),
            _ => Tally::of(self.findings.iter().map(|finding| finding.verdict)).cell(),
        }
    }

    fn owed(&self) -> &Owed {
        &self.owed
    }
}

/// The calculation.
pub struct RatioCheck;

impl Calculation for RatioCheck {
    const NAME: &'static str = "ratio-check";
    const SUMMARY: &'static str = "Is this formula in balance, and if not, by how many grams?";
    const DESCRIPTION: &'static str = "Gives the percentages of a formula, its composition and hydration, and judges it by the published rules of its style, each finding with its figures, its source and a mend in grams. \
        Use it before baking a new or changed formula, or to learn what a formula might be. Not for scaling: use pan-scale or batch for that.";
    const FLAT: bool = false;

    type Question = RatioCheckQuestion;
    type Answer = RatioCheckAnswer;

    fn answer(question: &RatioCheckQuestion, reference: &'static Reference, account: &mut Account) -> Result<RatioCheckAnswer, Faults> {
        let mut faults = Faults::new();
        let at = Pointer::ROOT;
        let wanted = question.style.as_deref().and_then(|name| faults.keep(find_style(reference, name, &at.key("style"))));
        let formula = Formula::resolve(&question.formula, &at.key("formula"), reference, account, &mut faults);
        let Some(mut formula) = formula.filter(|_| faults.is_empty()) else { return Err(faults) };
        if let Some(style) = wanted {
            formula.restyle(style);
        }
        judge(&formula, reference, account)
    }
}

fn judge(formula: &Formula, reference: &'static Reference, account: &mut Account) -> Result<RatioCheckAnswer, Faults> {
    // The formula's style speaks of the part that has none of its own: an icing may well be written first.
    let main = formula.main().summed();
    let style = main.style();
    let mut faults = Faults::new();
    let root = Pointer::ROOT;
    let at = root.key("formula");
    let base = faults.keep(base_of(&main, style, &at.key("parts"), reference, account));
    let others = formula.mixtures().filter(|mixture| mixture.root != main.root);
    let parts: Vec<_> = others.filter_map(|mixture| part(&mixture, reference, account, &mut faults)).collect();
    let Some(base) = base.filter(|_| faults.is_empty()) else { return Err(faults) };
    let judging = |style| Judging { mixture: &main, base: &base, ruled: ruled(reference, style), reference };
    let findings = style.map(|style| judging(style).findings(account)).unwrap_or_default();
    let likely_styles = match style {
        None => Some(likely(&main, reference)),
        Some(style) => Some(nearer(&main, style, &findings, reference)).filter(|nearer| !nearer.is_empty()),
    };
    tell_made_up(&main, &at, account);
    caution(formula, None, account);
    cite_contents(&main, account);
    let percentages = Percentages::of(&main, &base);
    percentages
        .lines
        .iter()
        .for_each(|line| account.step(|| format!("{}: {} % of {}", line.ingredient, line.percent.rounded(), base.spoken())));
    let summary = summary(style, &base, &findings, likely_styles.as_deref(), &parts);
    Ok(RatioCheckAnswer {
        style: style.map(|style| style.id),
        percentages,
        composition: MixtureContents::of(&main),
        hydration: base.flour().map(|flour| flour.hydration(&main)),
        findings,
        likely_styles,
        parts,
        owed: account.settle(summary),
    })
}

/// What is 100 %, told where it is not what anyone would expect; or the refusal with its mend.
fn base_of(
    mixture: &Summed<'_>,
    style: Option<&'static Style>,
    at: &Pointer<'_>,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<NamedBase, Fault> {
    let Some(style) = style else {
        let base = NamedBase::natural(mixture)
            .ok_or_else(|| no_base(at, "no flour, chocolate, cheese, fat, sugar, egg, liquid or nuts", "something that can be the base"))?;
        if base.word() != Class::Flour.word() {
            let root = Pointer::ROOT;
            let formula = root.key("formula");
            let text = match mixture[Class::Flour].is_nothing() {
                true => format!("There is no flour: percentages are of {}, the heaviest of what can be the base", base.spoken()),
                false => STARCH_IS_FLOUR.to_owned(),
            };
            account.assume(text, &formula.key("style"), base.word());
        }
        return Ok(base);
    };
    if style.needs_flour && mixture[Class::Flour].is_nothing() && mixture[Class::Starch].is_nothing() {
        let without: Vec<_> = reference.styles.all.iter().filter(|style| !style.needs_flour).map(|style| style.id).collect();
        let accepted = format!("flour (ground nuts are none), or a style that stands without it: {}", without.join(", "));
        return Err(no_base(at, format!("{} without flour", style.name), accepted));
    }
    let base = ruled(reference, style).base(mixture);
    let base = base.ok_or_else(|| {
        let fault = no_base(
            at,
            format!("{} without {}", style.name, spoken(style.base)),
            format!("{}, which is 100 % in this style, or another style", spoken(style.base)),
        );
        let fault = whipped_instead(mixture, style, reference).into_iter().fold(fault, Fault::saying);
        let gives_juice = |id: &str| reference.ingredients.all.iter().any(|juice| juice.juiced.is_some_and(|of| of.from == id));
        let whole = mixture.lines().find(|line| gives_juice(&line.ingredient.id));
        match whole.filter(|_| style.base == Base::Class(Class::Liquid)) {
            Some(line) => {
                fault.saying(format!("A whole {0} is no juice yet: write the juice, such as 120 ml of \"{0} juice\"", line.ingredient.name))
            }
            None => fault,
        }
    })?;
    if base.word() == "flour-and-starch" && !style.starch_is_flour {
        let text = match mixture[Class::Flour].is_nothing() {
            true => "There is starch and no flour: the starch is taken as the flour",
            false => STARCH_IS_FLOUR,
        };
        account.assume(text, at, base.word());
    }
    Ok(base)
}

/// Where another foam stands in for the whites that are the base, what it may be judged as.
fn whipped_instead(mixture: &Summed<'_>, style: &Style, reference: &'static Reference) -> Option<String> {
    if style.base != Base::EggWhite {
        return None;
    }
    let swap_of = |line: &Line| reference.swaps.of(EggPart::White.id()).find(|swap| swap.main() == line.ingredient.id);
    let (line, swap) = mixture.lines().find_map(|line| Some((line, swap_of(line)?)))?;
    let white = Quantity::from(line.weight.mass.value() / swap.components.first()?.grams.value().as_factor()).text;
    let name = &line.ingredient.name;
    Some(format!(
        "No balance is printed for {name}: to judge it as the whites for which it stands, write {white} of \"egg white\" in its place; for percentages alone leave out the style."
    ))
}

fn no_base(at: &Pointer<'_>, found: impl Into<String>, accepted: impl Into<String>) -> Fault {
    Fault::new(at, Code::NoBase, found, accepted)
}

/// Another part with a style of its own; one without is told and passed over.
fn part(mixture: &Mixture<'_>, reference: &'static Reference, account: &mut Account, faults: &mut Faults) -> Option<PartBalance> {
    let (root, name) = (Pointer::ROOT, &mixture.part().name);
    let formula = root.key("formula");
    let list = formula.key("parts");
    let at = list.index(mixture.root);
    let Some(style) = mixture.part().style else {
        account.assume(format!("The part \"{name}\" is a thing of its own without a style, and is not judged"), &at.key("style"), "none");
        return None;
    };
    let mixture = mixture.summed();
    let base = faults.keep(base_of(&mixture, Some(style), &at, reference, account))?;
    tell_made_up(&mixture, &formula, account);
    let findings = Judging { mixture: &mixture, base: &base, ruled: ruled(reference, style), reference }.findings(account);
    Some(PartBalance { part: name.clone(), style: style.id, percentages: Percentages::of(&mixture, &base), findings })
}

fn cite_contents(mixture: &Mixture<'_>, account: &mut Account) {
    for line in mixture.lines() {
        if let Some(citation) = line.ingredient.composition_citation {
            account.cite(citation);
        }
    }
}

#[cfg(test)]
mod tests;
