//! Questions of balance and their answers.

use super::*;
use crate::formula::BalanceVerdict;

fn ask(question: serde_json::Value) -> Result<RatioCheckAnswer, Faults> {
    let question: RatioCheckQuestion = serde_json::from_value(question).expect("a question");
    let reference = Reference::load().expect("the tables");
    RatioCheck::answer(&question, reference, &mut Account::new(reference, true))
}

fn part(name: &str, style: Option<&str>, lines: &[(&str, &str)]) -> serde_json::Value {
    let lines: Vec<_> = lines.iter().map(|(ingredient, amount)| serde_json::json!({"ingredient": ingredient, "amount": amount})).collect();
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
fn a_part_whose_name_begins_with_the_is_called_so_once() {
    let parts = [part("the cake", None, &CAKE), part("the icing", Some("buttercream"), &ICING)];
    let answer = ask(serde_json::json!({"formula": {"style": "creamed", "parts": parts}})).expect("it is answered");
    assert!(answer.owed.summary.contains("; of the icing, "), "{}", answer.owed.summary);
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
        &[("cake flour", "200 g"), ("granulated sugar", "160 g"), ("egg yolk", "100 g"), ("vegetable oil", "100 g"), ("water", "150 g")],
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
    let faults = ask(serde_json::json!({"formula": {"style": "creamed", "parts": [part("batter", None, &ICING)]}})).expect_err("a refusal");
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
    let victoria = [("self-raising flour", "200 g"), ("caster sugar", "200 g"), ("butter", "200 g"), ("egg", "200 g"), ("milk", "20 g")];
    let answer = ask(serde_json::json!({"formula": {"style": "creamed", "parts": [part("batter", None, &victoria)]}})).expect("an answer");
    assert!(answer.owed.summary.ends_with("4 of 7 rules hold; as pound cake all 6 hold"), "{}", answer.owed.summary);
    assert_eq!(answer.likely_styles.as_deref().and_then(<[_]>::first).map(|likely| likely.style), Some("pound"));
    assert_eq!(answer.cell(), "4 of 7");
}

#[test]
fn rules_that_hang_on_the_cups_are_told_as_open_and_not_as_broken() {
    let cups = [("butter", "1 cup"), ("sugar", "2 cups"), ("flour", "3 cups"), ("egg", "4"), ("milk", "1 cup"), ("baking powder", "3 tsp")];
    let answer = ask(serde_json::json!({"formula": {"style": "creamed", "parts": [part("batter", None, &cups)]}})).expect("an answer");
    assert!(answer.owed.summary.ends_with("; 1 of 7 rules holds, 6 depend"), "{}", answer.owed.summary);
    assert_eq!(answer.cell(), "1 of 7, 6 depend");
}

#[test]
fn faults_of_style_and_of_formula_are_told_together() {
    let faults = ask(serde_json::json!({"style": "creamd", "formula": {"parts": [part("batter", None, &[("plain flower", "200 g")])]}}))
        .expect_err("a refusal");
    assert_eq!(faults.iter().map(|fault| fault.pointer.as_str()).collect::<Vec<_>>(), ["/style", "/formula/parts/0/lines/0/ingredient"]);
}

#[test]
fn the_style_asked_for_stands_before_the_formulas_own() {
    let answer = ask(serde_json::json!({"style": "high-ratio", "formula": {"style": "creamed", "parts": [part("batter", None, &CAKE)]}}))
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

#[test]
fn starch_is_flour_beside_flour_without_gluten_and_thickener_beside_wheat() {
    let bread = |flour| [(flour, "300 g"), ("tapioca starch", "100 g"), ("water", "360 g"), ("salt", "8 g"), ("instant yeast", "5 g")];
    let check = |flour| {
        let parts = [part("dough", None, &bread(flour))];
        ask(serde_json::json!({"formula": {"style": "lean-dough", "parts": parts}})).expect("an answer")
    };
    let water = |answer: &RatioCheckAnswer| answer.findings.iter().find(|f| f.rule == "water").map(|f| f.measured.percent.0.round());
    let (rice, oats, wheat) = (check("rice flour"), check("oat flour"), check("bread flour"));
    for without in [&rice, &oats] {
        assert_eq!((without.percentages.basis, water(without)), ("flour-and-starch", Some(90.0)));
        assert!(without.owed.assumptions.iter().any(|assumption| assumption.text == STARCH_IS_FLOUR));
    }
    // That oats bind no dough is no word on who may eat them.
    let listed = Reference::load().expect("the tables").ingredients.by_id("oat-flour").map(|oats| oats.allergens_eu.clone());
    assert_eq!((listed, STARCH_IS_FLOUR.contains("gluten")), (Some(vec!["cereals-with-gluten"]), false));
    assert_eq!((wheat.percentages.basis, water(&wheat)), ("flour", Some(120.0)));
}

#[test]
fn two_rules_that_hold_are_both_of_them() {
    let icing = part("icing", None, &[("powdered sugar", "200 g"), ("water", "40 g")]);
    let answer = ask(serde_json::json!({"formula": {"style": "glaze", "parts": [icing]}})).expect("an answer");
    assert!(answer.owed.summary.starts_with("Both rules for glaze or royal icing hold ("), "{}", answer.owed.summary);
}

#[test]
fn a_style_is_known_by_what_bakers_call_it() {
    let styles = &Reference::load().expect("the tables").styles;
    let known = ["bagels", "pizza", "lemon drizzle", "jelly roll", "éclairs", "truffles", "parkin", "shokupan", "beignets", "rough puff"];
    let found = known.map(|name| styles.find(name).map(|style| style.id));
    let wanted = ["lean-dough", "lean-dough", "pound", "sponge", "choux", "ganache", "quick-bread", "enriched-dough", "doughnut", "puff"];
    assert_eq!(found, wanted.map(Some));
}

#[test]
fn whites_that_are_counted_and_weighed_are_a_line() {
    let whites = |amount: &str, also: &str| {
        let line = serde_json::json!({"ingredient": "egg white", "amount": amount, "also": also});
        let sugar = serde_json::json!({"ingredient": "granulated sugar", "amount": "200 g"});
        ask(serde_json::json!({"formula": {"parts": [{"name": "foam", "lines": [line, sugar]}]}})).is_ok()
    };
    assert!(whites("3 whites", "100 g") && whites("100 g", "3 egg whites") && !whites("3 blobs", "100 g"));
}

#[test]
fn a_stick_with_spoons_is_one_amount_of_a_line() {
    let of = |butter: &str| {
        let lines = [("all-purpose flour", "200 g"), ("granulated sugar", "200 g"), ("butter", butter), ("egg", "100 g")];
        ask(serde_json::json!({"formula": {"parts": [part("batter", None, &lines)]}}))
    };
    let answer = of("1 stick plus 2 tbsp").unwrap_or_else(|faults| panic!("{faults:?}"));
    let butter = &answer.percentages.lines[2];
    assert!((butter.percent.0 - 70.9).abs() < 0.1, "{butter:?}");
    assert!(of("1 stick plus 30 g").is_err());
}

#[test]
fn dried_egg_that_counts_as_fresh_is_told_with_its_source_and_dry_where_it_finds_no_water() {
    let told = |with: (&'static str, &'static str)| {
        let lines = [("cake flour", "150 g"), ("granulated sugar", "150 g"), ("dried egg", "60 g"), with];
        let answer = ask(serde_json::json!({"formula": {"style": "genoise", "parts": [part("sponge", None, &lines)]}})).expect("an answer");
        let told = answer.owed.assumptions.iter().find(|it| it.text.contains("dried whole egg")).map(|it| it.text.to_string());
        (told.unwrap_or_default(), answer.percentages.classes.egg.map(|egg| egg.percent.0.round()))
    };
    let (text, egg) = told(("water", "180 g"));
    assert!(text.starts_with("60 g of dried whole egg counts as 240 g of egg, with the 180 g of the liquid"), "{text}");
    assert_eq!(egg, Some(160.0));
    assert!(told(("water", "90 g")).0.ends_with("the rest of it counts dry"));
    assert_eq!(
        told(("butter", "20 g")),
        ("There is no liquid to make up the 60 g of dried whole egg with: it counts dry".to_owned(), Some(40.0))
    );
}

#[test]
fn brown_sugar_is_packed_however_the_flour_is_filled() {
    let lines = [("all-purpose flour", "2 cups"), ("light brown sugar", "1 cup"), ("butter", "113 g"), ("egg", "50 g")];
    let percent = |filled: Option<&str>| {
        let mut formula = serde_json::json!({"style": "drop-cookie", "parts": [part("dough", None, &lines)]});
        if let Some(filled) = filled {
            formula["filled"] = filled.into();
        }
        let answer = ask(serde_json::json!({ "formula": formula })).expect("an answer");
        let sugar = &answer.percentages.lines[1];
        let told = answer.owed.assumptions.iter().any(|told| told.text.contains("packed, as is the custom"));
        (sugar.percent.0, sugar.low.map(|low| low.0), sugar.high.map(|high| high.0), told)
    };
    // 220 g, 198 at least, on 252 g of spooned flour.
    let (spooned, low, high, told) = percent(Some("spooned"));
    assert!((spooned - 22000.0 / 252.0).abs() < 1e-6 && told, "{spooned}");
    assert!(low.is_some_and(|low| low > 19800.0 / 272.0 - 1e-6) && high.is_some_and(|high| high < 22080.0 / 236.0 + 1e-6));
    // Where no way is said, all that may be lies between the ends: 144 g on dipped flour, 220.8 g on sifted.
    let (_, low, high, told) = percent(None);
    assert!(low.is_some_and(|low| low < 45.1) && high.is_some_and(|high| high > 100.0) && !told, "{low:?} {high:?}");
}

#[test]
fn a_meringue_of_another_foam_is_told_as_what_it_may_be_judged() {
    let judged = |foam: (&str, &str)| {
        let lines = [foam, ("caster sugar", "200 g"), ("cream of tartar", "1/4 tsp")];
        ask(serde_json::json!({"formula": {"style": "meringue", "parts": [part("meringue", None, &lines)]}}))
    };
    let faults = judged(("aquafaba", "91 g")).expect_err("it is no white");
    assert!(faults.iter().all(|fault| fault.detail.contains("write 100 g of \"egg white\" in its place")), "{faults:?}");
    assert!(judged(("egg white", "100 g")).is_ok());
    let faults = judged(("water", "91 g")).expect_err("it is no white");
    assert!(faults.iter().all(|fault| !fault.detail.contains("in its place")), "{faults:?}");
}

#[test]
fn what_bakes_in_an_oven_is_no_doughnut_and_no_pancake() {
    let dough = [
        ("bread flour", "370 g"),
        ("whole milk", "224 g"),
        ("granulated sugar", "50 g"),
        ("instant yeast", "6 g"),
        ("salt", "6 g"),
        ("egg", "50 g"),
        ("butter", "40 g"),
    ];
    let likely = |bake: serde_json::Value| {
        let mut formula = serde_json::json!({"parts": [part("dough", None, &dough)]});
        if !bake.is_null() {
            formula["bake"] = bake;
        }
        let answer = ask(serde_json::json!({"formula": formula})).expect("an answer");
        answer.likely_styles.unwrap_or_default().iter().map(|likely| likely.style).collect::<Vec<_>>()
    };
    assert!(likely(serde_json::Value::Null).contains(&"doughnut"));
    let baked = likely(serde_json::json!({"oven": "180 C", "minutes": "35"}));
    assert!(baked.contains(&"enriched-dough") && !baked.contains(&"doughnut"), "{baked:?}");
}
