//! Is this formula in balance for what it claims to be, and if not, by how many grams?

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::{Answer, Calculation};
use crate::formula::{
    BalanceFinding, BalanceVerdict, Formula, FormulaWritten, Hydration, Judging, LikelyStyle, Mixture, MixtureContents, NamedBase,
    Percentages, find_style, likely, ruled, spoken,
};
use crate::quantity::{Code, Fault, Faults, Pointer};
use crate::reference::{Account, Class, Owed, Reference, Style};

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
    /// What it might be, the likeliest first; only where no style was named.
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
    #[schema(max_length = 200, examples("lemon curd"))]
    pub part: String,
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
        let kept = |findings: &[BalanceFinding]| findings.iter().filter(|f| f.verdict == BalanceVerdict::Within).count();
        match &self.likely_styles {
            Some(likely) => likely.first().map_or("", |first| first.style).to_owned(),
            None => format!("{} of {}", kept(&self.findings), self.findings.len()),
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
        let Some(formula) = formula.filter(|_| faults.is_empty()) else { return Err(faults) };
        judge(&formula, wanted, reference, account)
    }
}

fn judge(
    formula: &Formula,
    wanted: Option<&'static Style>,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<RatioCheckAnswer, Faults> {
    let mixtures = formula.mixtures();
    // The formula's style speaks of the part that has none of its own: an icing may well be written first.
    let main = mixtures.iter().copied().find(|mixture| mixture.part().style.is_none()).unwrap_or_else(|| formula.main());
    let style = wanted.or(main.part().style).or(formula.style);
    let mut faults = Faults::new();
    let base = faults.keep(base_of(&main, style, reference, account));
    let others = mixtures.iter().filter(|mixture| mixture.root != main.root);
    let parts: Vec<_> = others.filter_map(|mixture| part(mixture, reference, account, &mut faults)).collect();
    let Some(base) = base.filter(|_| faults.is_empty()) else { return Err(faults) };
    let findings =
        style.map(|style| Judging { mixture: main, base: &base, ruled: ruled(reference, style) }.findings(account)).unwrap_or_default();
    let likely_styles = style.is_none().then(|| likely(&main, reference));
    caution(&main, style, account);
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
    mixture: &Mixture<'_>,
    style: Option<&'static Style>,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<NamedBase, Fault> {
    let formula = Pointer::ROOT;
    let formula = formula.key("formula");
    let list = formula.key("parts");
    let Some(style) = style else {
        let base = NamedBase::natural(mixture).ok_or_else(|| {
            no_base(&list, "no flour, chocolate, cheese, fat, sugar, egg, liquid or nuts", "something that can be the base")
        })?;
        if base.word() != Class::Flour.word() {
            account.assume(
                format!("There is no flour: percentages are of {}, the heaviest of what can be the base", base.spoken()),
                &formula.key("style"),
                base.word(),
            );
        }
        return Ok(base);
    };
    let flour = || mixture.class(Class::Flour).plus(&mixture.class(Class::Starch));
    if style.needs_flour && flour().is_nothing() {
        let accepted = "flour (ground nuts are none), or a style that stands without it: nut-sponge, meringue, buttercream, ganache, pastry-cream, curd, glaze, syrup";
        return Err(no_base(&list, format!("{} without flour", style.name), accepted));
    }
    let base = ruled(reference, style).base(mixture);
    let base = base.ok_or_else(|| {
        no_base(
            &list,
            format!("{} without {}", style.name, spoken(style.base)),
            format!("{}, which is 100 % in this style, or another style", spoken(style.base)),
        )
    })?;
    if base.word() == "flour-and-starch" && mixture.class(Class::Flour).is_nothing() {
        account.assume("There is starch and no flour: the starch is taken as the flour", &list, base.word());
    }
    Ok(base)
}

fn no_base(at: &Pointer<'_>, found: impl Into<String>, accepted: impl Into<String>) -> Fault {
    Fault::new(at, Code::NoBase, found, accepted)
}

/// Another part with a style of its own; one without is told and passed over.
fn part(mixture: &Mixture<'_>, reference: &'static Reference, account: &mut Account, faults: &mut Faults) -> Option<PartBalance> {
    let (formula, name) = (Pointer::ROOT, &mixture.part().name);
    let (formula, root) = (formula.key("formula"), mixture.root);
    let list = formula.key("parts");
    let Some(style) = mixture.part().style else {
        let at = list.index(root);
        account.assume(format!("The part \"{name}\" is a thing of its own without a style, and is not judged"), &at.key("style"), "none");
        return None;
    };
    let base = faults.keep(base_of(mixture, Some(style), reference, account).map_err(|mut fault| {
        fault.pointer = list.index(root).to_string();
        fault
    }))?;
    let findings = Judging { mixture: *mixture, base: &base, ruled: ruled(reference, style) }.findings(account);
    caution(mixture, Some(style), account);
    Some(PartBalance { part: name.clone(), style: style.id, percentages: Percentages::of(mixture, &base), findings })
}

/// The cautions of a mixture: what is eaten raw, held warm, boiled or fried.
fn caution(mixture: &Mixture<'_>, style: Option<&'static Style>, account: &mut Account) {
    // Nobody knows whether a formula without a style is baked; a meringue is often only browned.
    let (baked, cooked) = style.map_or((false, false), |style| {
        let custard = style.cautions.contains(&"custard-hold");
        let browned = style.baked && !style.needs_flour && style.base == crate::reference::Base::EggWhite;
        (style.baked && !browned, (style.baked && !browned) || custard)
    });
    for (_, _, line) in mixture.lines() {
        for hazard in &line.ingredient.hazards {
            let applies = match *hazard {
                "raw-egg" | "raw-flour" => !cooked,
                "chilled-filling" => !baked && style.is_some(),
                _ => true,
            };
            if applies {
                account.caution(hazard);
            }
        }
    }
    let Some(style) = style else { return };
    let has = |class| mixture.lines().any(|(_, _, line)| line.ingredient.counts_as(class).value() > 0.0);
    for id in &style.cautions {
        let applies = match *id {
            "custard-hold" => has(Class::Egg),
            "boiled-sugar" => {
                has(Class::Sugar) && has(Class::Liquid) && (style.base == crate::reference::Base::Class(Class::Liquid) || has(Class::Egg))
            }
            "allergen-nuts" | "deep-fat" => true,
            _ => false,
        };
        if applies {
            account.caution(id);
        }
    }
}

fn cite_contents(mixture: &Mixture<'_>, account: &mut Account) {
    for (_, _, line) in mixture.lines() {
        if let Some(citation) = line.ingredient.composition_citation {
            account.cite(citation);
        }
    }
}

fn summary(
    style: Option<&Style>,
    base: &NamedBase,
    findings: &[BalanceFinding],
    likely: Option<&[LikelyStyle]>,
    parts: &[PartBalance],
) -> String {
    let mut text = match style {
        Some(style) => of_style(style, findings),
        None => of_likely(base, likely.unwrap_or_default()),
    };
    for part in parts {
        let kept = part.findings.iter().filter(|f| f.verdict == BalanceVerdict::Within).count();
        text.push_str(&format!("; of the {}, {kept} of {} rules hold", part.part, part.findings.len()));
    }
    text
}

fn of_style(style: &Style, findings: &[BalanceFinding]) -> String {
    let kept = findings.iter().filter(|f| f.verdict == BalanceVerdict::Within).count();
    let total = findings.len();
    let worst = findings.iter().find(|f| matches!(f.verdict, BalanceVerdict::Above | BalanceVerdict::Below));
    let Some(finding) = worst.or_else(|| findings.iter().find(|f| f.verdict == BalanceVerdict::Depends)) else {
        let figures: Vec<_> = findings.iter().take(2).map(|f| format!("{} {} % of {}", f.rule, f.measured.text(), f.basis)).collect();
        return format!("All {total} rules for {} hold ({})", style.name, figures.join(", "));
    };
    let says = match finding.verdict {
        BalanceVerdict::Depends => match finding.depends_on.as_deref() {
            Some([first, ..]) if matches!(*first, "whole" | "effective-fat") => "depends, by how the fat is counted, on",
            _ => "depends, by how it was measured, on",
        },
        BalanceVerdict::Above => "is above",
        _ => "is below",
    };
    format!(
        "{} {} % of {} {says} the {} for {}; {kept} of {total} rules hold",
        capital(finding.rule),
        finding.measured.text(),
        finding.basis,
        bounds(finding),
        style.name
    )
}

fn bounds(finding: &BalanceFinding) -> String {
    match (finding.low, finding.high) {
        (Some(low), Some(high)) => format!("{}–{} %", low.rounded(), high.rounded()),
        (Some(low), None) => format!("least of {} %", low.rounded()),
        (None, high) => format!("most of {} %", high.map_or(0.0, |high| high.rounded())),
    }
}

fn of_likely(base: &NamedBase, likely: &[LikelyStyle]) -> String {
    let told: Vec<_> = likely.iter().take(3).map(|l| format!("{} ({} of {} rules hold)", l.name, l.within, l.of)).collect();
    match told.is_empty() {
        true => format!("Percentages are of {}; no style was named and none is likely", base.spoken()),
        false => format!("No style was named; by its percentages of {} it might be {}", base.spoken(), told.join(", ")),
    }
}

fn capital(rule: &str) -> String {
    let mut letters = rule.chars();
    let first = letters.next().map(|first| first.to_ascii_uppercase());
    first.into_iter().chain(letters.map(|letter| if letter == '-' { ' ' } else { letter })).collect()
}
