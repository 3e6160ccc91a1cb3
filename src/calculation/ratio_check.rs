//! Is this formula in balance for what it claims to be, and if not, by how many grams?

mod summary;

use serde::{Deserialize, Serialize};
use smol_str::SmolStr;
use utoipa::ToSchema;

use self::summary::summary;
use super::{Answer, Calculation};
use crate::formula::{
    BalanceFinding, Formula, FormulaWritten, Hydration, Judging, LikelyStyle, Mixture, MixtureContents, NamedBase, Percentages, Summed,
    Tally, caution, find_style, likely, nearer, ruled, spoken,
};
use crate::quantity::{Code, Fault, Faults, Pointer};
use crate::reference::{Account, Base, Class, Owed, Reference, Style};

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
    let judging = |style| Judging { mixture: &main, base: &base, ruled: ruled(reference, style), tables: &reference.leavening };
    let findings = style.map(|style| judging(style).findings(account)).unwrap_or_default();
    let likely_styles = match style {
        None => Some(likely(&main, reference)),
        Some(style) => Some(nearer(&main, style, &findings, reference)).filter(|nearer| !nearer.is_empty()),
    };
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
            let text = format!("There is no flour: percentages are of {}, the heaviest of what can be the base", base.spoken());
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
        let gives_juice = |id: &str| reference.ingredients.all.iter().any(|juice| juice.juiced.is_some_and(|of| of.from == id));
        let whole = mixture.lines().find(|line| gives_juice(&line.ingredient.id));
        match whole.filter(|_| style.base == Base::Class(Class::Liquid)) {
            Some(line) => {
                fault.saying(format!("A whole {0} is no juice yet: write the juice, such as 120 ml of \"{0} juice\"", line.ingredient.name))
            }
            None => fault,
        }
    })?;
    if base.word() == "flour-and-starch" && mixture[Class::Flour].is_nothing() {
        account.assume("There is starch and no flour: the starch is taken as the flour", at, base.word());
    }
    Ok(base)
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
    let findings =
        Judging { mixture: &mixture, base: &base, ruled: ruled(reference, style), tables: &reference.leavening }.findings(account);
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
mod tests {
    use super::*;
    use crate::formula::BalanceVerdict;

    fn ask(question: serde_json::Value) -> Result<RatioCheckAnswer, Faults> {
        let question: RatioCheckQuestion = serde_json::from_value(question).expect("a question");
        let reference = Reference::load().expect("the tables");
        RatioCheck::answer(&question, reference, &mut Account::new(reference, true))
    }

    fn part(name: &str, style: Option<&str>, lines: &[(&str, &str)]) -> serde_json::Value {
        let lines: Vec<_> =
            lines.iter().map(|(ingredient, amount)| serde_json::json!({"ingredient": ingredient, "amount": amount})).collect();
        let mut part = serde_json::json!({"name": name, "lines": lines});
        if let Some(style) = style {
            part["style"] = style.into();
        }
        part
    }

    const CAKE: [(&str, &str); 5] =
        [("cake flour", "200 g"), ("granulated sugar", "234 g"), ("butter", "100 g"), ("egg", "110 g"), ("whole milk", "90 g")];
    const ICING: [(&str, &str); 3] = [("egg white", "150 g"), ("granulated sugar", "280 g"), ("butter", "340 g")];

    fn cautions(answer: &RatioCheckAnswer) -> Vec<&'static str> {
        answer.owed.cautions.iter().map(|caution| caution.id).collect()
    }

    #[test]
    fn the_sentence_names_what_is_out_of_balance_with_its_figures() {
        let answer = ask(serde_json::json!({"formula": {"style": "creamed", "parts": [part("batter", None, &CAKE)]}})).expect("an answer");
        assert_eq!(answer.owed.summary, "Sugar 117 % of flour is above the 70–100 % for creamed cake; 5 of 7 rules hold");
        assert_eq!(answer.cell(), "5 of 7");
        assert!(answer.owed.working.is_some_and(|steps| steps.iter().any(|step| step.starts_with("sugar: 117 %"))));
    }

    #[test]
    fn an_icing_is_judged_apart_even_where_it_is_written_first() {
        let parts = [part("icing", Some("buttercream"), &ICING), part("batter", None, &CAKE)];
        let answer = ask(serde_json::json!({"formula": {"style": "creamed", "parts": parts}})).expect("an answer");
        assert_eq!((answer.style, answer.percentages.basis, answer.percentages.lines.len()), (Some("creamed"), "flour", 5));
        assert_eq!(answer.parts.iter().map(|part| (part.style, part.percentages.basis)).collect::<Vec<_>>(), [("buttercream", "fat")]);
        assert!(cautions(&answer).contains(&"raw-egg"), "the icing is not baked");
    }

    #[test]
    fn what_is_baked_through_needs_no_caution_about_raw_egg() {
        let answer = ask(serde_json::json!({"formula": {"style": "creamed", "parts": [part("batter", None, &CAKE)]}})).expect("an answer");
        assert_eq!(cautions(&answer), Vec::<&str>::new());
    }

    #[test]
    fn a_custard_without_a_style_keeps_its_cautions() {
        let custard = [("whole milk", "500 g"), ("egg yolk", "100 g"), ("granulated sugar", "100 g")];
        let answer = ask(serde_json::json!({"formula": {"parts": [part("cream", None, &custard)]}})).expect("an answer");
        assert!(cautions(&answer).contains(&"custard-hold"), "{:?}", cautions(&answer));
    }

    #[test]
    fn whites_folded_in_are_judged_with_the_whole() {
        let mut whites = part("whites", None, &[("egg white", "200 g"), ("granulated sugar", "100 g")]);
        whites["into"] = "batter".into();
        let batter = part(
            "batter",
            None,
            &[
                ("cake flour", "200 g"),
                ("granulated sugar", "160 g"),
                ("egg yolk", "100 g"),
                ("vegetable oil", "100 g"),
                ("water", "150 g"),
            ],
        );
        let answer = ask(serde_json::json!({"formula": {"style": "chiffon", "parts": [batter, whites]}})).expect("an answer");
        let of = |rule: &str| answer.findings.iter().find(|finding| finding.rule == rule).map(|f| f.measured.percent.0);
        assert_eq!((of("sugar"), of("whites")), (Some(130.0), Some(100.0)));
    }

    #[test]
    fn a_cheesecake_is_judged_by_its_filling_though_the_crumbs_are_written_first() {
        let crumbs = part("base", None, &[("digestive biscuit", "200 g"), ("butter", "100 g")]);
        let filling = part("filling", None, &[("cream cheese", "900 g"), ("granulated sugar", "250 g"), ("egg", "200 g")]);
        let answer = ask(serde_json::json!({"style": "cheesecake", "formula": {"parts": [crumbs, filling]}})).expect("an answer");
        assert_eq!((answer.percentages.basis, answer.percentages.lines.len()), ("cheese", 3));
        assert!(answer.findings.iter().any(|finding| finding.rule == "sugar"));
    }

    #[test]
    fn a_cake_without_flour_is_refused_and_told_what_can_stand_without() {
        let faults =
            ask(serde_json::json!({"formula": {"style": "creamed", "parts": [part("batter", None, &ICING)]}})).expect_err("a refusal");
        let told: Vec<_> = faults.iter().map(|fault| (fault.pointer.as_str(), fault.code, fault.accepted.contains("nut-sponge"))).collect();
        assert_eq!(told, [("/formula/parts", Code::NoBase, true)]);
    }

    #[test]
    fn a_curd_of_whole_lemons_is_asked_for_its_juice() {
        let lines = [("lemon", "4"), ("granulated sugar", "200 g"), ("butter", "100 g"), ("egg", "3 large")];
        let faults = ask(serde_json::json!({"formula": {"style": "curd", "parts": [part("curd", None, &lines)]}})).expect_err("a refusal");
        assert!(faults.iter().all(|fault| fault.code == Code::NoBase && fault.detail.contains("write the juice")), "{faults:?}");
    }

    #[test]
    fn a_style_that_fits_better_is_named_in_the_sentence_and_the_cell_stays_a_count() {
        let victoria =
            [("self-raising flour", "200 g"), ("caster sugar", "200 g"), ("butter", "200 g"), ("egg", "200 g"), ("milk", "20 g")];
        let answer =
            ask(serde_json::json!({"formula": {"style": "creamed", "parts": [part("batter", None, &victoria)]}})).expect("an answer");
        assert!(answer.owed.summary.ends_with("4 of 7 rules hold; as pound cake all 6 hold"), "{}", answer.owed.summary);
        assert_eq!(answer.likely_styles.as_deref().and_then(<[_]>::first).map(|likely| likely.style), Some("pound"));
        assert_eq!(answer.cell(), "4 of 7");
    }

    #[test]
    fn rules_that_hang_on_the_cups_are_told_as_open_and_not_as_broken() {
        let cups =
            [("butter", "1 cup"), ("sugar", "2 cups"), ("flour", "3 cups"), ("egg", "4"), ("milk", "1 cup"), ("baking powder", "3 tsp")];
        let answer = ask(serde_json::json!({"formula": {"style": "creamed", "parts": [part("batter", None, &cups)]}})).expect("an answer");
        assert!(answer.owed.summary.ends_with("; 1 of 7 rules holds, 6 depend"), "{}", answer.owed.summary);
        assert_eq!(answer.cell(), "1 of 7, 6 depend");
    }

    #[test]
    fn faults_of_style_and_of_formula_are_told_together() {
        let faults =
            ask(serde_json::json!({"style": "creamd", "formula": {"parts": [part("batter", None, &[("plain flower", "200 g")])]}}))
                .expect_err("a refusal");
        assert_eq!(
            faults.iter().map(|fault| fault.pointer.as_str()).collect::<Vec<_>>(),
            ["/style", "/formula/parts/0/lines/0/ingredient"]
        );
    }

    #[test]
    fn the_style_asked_for_stands_before_the_formulas_own() {
        let answer =
            ask(serde_json::json!({"style": "high-ratio", "formula": {"style": "creamed", "parts": [part("batter", None, &CAKE)]}}))
                .expect("an answer");
        let sugar = answer.findings.iter().find(|finding| finding.rule == "sugar").map(|finding| finding.verdict);
        assert_eq!((answer.style, sugar), (Some("high-ratio"), Some(BalanceVerdict::Within)));
    }

    #[test]
    fn without_a_style_and_without_flour_the_natural_base_is_told() {
        let answer =
            ask(serde_json::json!({"formula": {"parts": [part("cream", None, &[("dark chocolate", "200 g"), ("heavy cream", "180 g")])]}}))
                .expect("an answer");
        assert_eq!((answer.percentages.basis, answer.hydration.is_none(), answer.findings.is_empty()), ("chocolate", true, true));
        assert!(answer.owed.assumptions.iter().any(|assumption| assumption.value == "chocolate"));
        assert_eq!(answer.likely_styles.as_deref().and_then(<[_]>::first).map(|likely| likely.style), Some("ganache"));
    }

    #[test]
    fn fruit_and_nuts_stand_outside_the_rules_and_inside_the_composition() {
        let with: Vec<_> = CAKE.into_iter().chain([("pear", "300 g")]).collect();
        let check = |lines: &[(&str, &str)]| {
            ask(serde_json::json!({"formula": {"style": "creamed", "parts": [part("batter", None, lines)]}})).expect("an answer")
        };
        let (plain, fruity) = (check(&CAKE), check(&with));
        let measured = |answer: &RatioCheckAnswer| answer.findings.iter().map(|finding| finding.measured.percent.0).collect::<Vec<_>>();
        assert_eq!(measured(&plain), measured(&fruity));
        let water = |answer: &RatioCheckAnswer| answer.composition.in_100_g.water.map_or(0.0, |water| water.percent.0);
        assert!(water(&fruity) > water(&plain) + 10.0);
    }
}
