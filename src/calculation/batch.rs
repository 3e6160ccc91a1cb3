//! I must deliver this much: what do I weigh for each batch, what is lost where, what do I buy?

mod answer;
mod losses;
mod mixer;
mod multiplied;
mod order;
mod want;

use serde::Deserialize;
use utoipa::ToSchema;

pub use answer::BatchAnswer;
pub use losses::LossWritten;
pub use mixer::MixerWritten;
pub use multiplied::{Multiplied, WholeAndExact};
pub use want::WantWritten;

pub(super) use answer::mixture_lines;
pub(super) use multiplied::whole_and_exact;
pub(super) use order::{Order, Understood};
pub(super) use want::Plan;

use super::Calculation;
use crate::formula::{FormulaWritten, Way, buying, caution};
use crate::quantity::{Faults, Pointer};
use crate::reference::{Account, Reference};

/// How much is wanted of a formula.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct BatchQuestion {
    /// The formula.
    pub formula: FormulaWritten,
    /// How much is wanted: exactly one of `pieces`, `pans`, `weight`, `factor`, `have`.
    pub want: WantWritten,
    /// What is lost on the way. Those given are the only ones; without any, the style's are assumed and listed.
    #[schema(nullable = false, max_items = 50)]
    pub losses: Option<Vec<LossWritten>>,
    /// The mixer, to part the work into equal batches.
    #[schema(nullable = false)]
    pub mixer: Option<MixerWritten>,
    /// How many pans the oven takes at once.
    #[schema(nullable = false, minimum = 1, maximum = 100_000, examples(6))]
    pub oven_pans: Option<u32>,
}

/// The calculation.
pub struct Batch;

impl Calculation for Batch {
    const NAME: &'static str = "batch";
    const SUMMARY: &'static str = "I must deliver this much: what to weigh, what to buy?";
    const DESCRIPTION: &'static str = "Multiplies a formula to a number of pieces, pans, a weight, a factor or what is in store, with what is lost at every stage on the way; parts the work into equal batches for a mixer, says what to put in each pan or piece, and lists what to buy, with whole eggs and fruit and what is left over. Use it for production; to change the pan use pan-scale, to check the formula use ratio-check.";
    const FLAT: bool = false;

    type Question = BatchQuestion;
    type Answer = BatchAnswer;

    fn answer(question: &BatchQuestion, reference: &'static Reference, account: &mut Account) -> Result<BatchAnswer, Faults> {
        let root = Pointer::ROOT;
        let mut faults = Faults::new();
        let order = Order { formula: &question.formula, want: &question.want, losses: question.losses.as_deref(), at: &root };
        let understood = order.understood(reference, account, &mut faults);
        let measures = question.formula.measures.unwrap_or_default();
        let mixer = question.mixer.as_ref().map(|mixer| mixer::understood(mixer, measures, &root.key("mixer"), &mut faults));
        in_range(question, &root, &mut faults);
        let (Some(understood), true) = (understood, faults.is_empty()) else {
            return Err(faults);
        };
        let formula = &understood.formula;
        let way = Way::new(formula, understood.losses.clone());
        let plan = want::planned(&understood.want, &order, formula, &way, mixer.flatten().as_ref(), account)?;
        let scaled = |part: usize| plan.factor_of(formula, part);
        let buy = buying(formula, scaled, reference, account);
        caution(formula, Some(plan.mixed(formula)), account);
        Ok(answer::assembled(question, formula, &way, &plan, buy, account))
    }
}

fn in_range(question: &BatchQuestion, root: &Pointer<'_>, faults: &mut Faults) {
    use crate::quantity::{Code, Fault};
    if question.oven_pans == Some(0) || question.oven_pans.is_some_and(|pans| pans > 100_000) {
        faults.push(Fault::new(&root.key("oven_pans"), Code::OutOfRange, "that many pans", "from 1 to 100000 pans"));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn ask(question: &str) -> BatchAnswer {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let question = serde_json::from_str(question).unwrap_or_else(|fault| panic!("{question}: {fault}"));
        Batch::answer(&question, reference, &mut Account::new(reference, true)).unwrap_or_else(|faults| panic!("{faults:#?}"))
    }

    const DOUGH: &str =
        r#"{"parts":[{"name":"dough","lines":[{"ingredient":"bread flour","amount":"1000 g"},{"ingredient":"water","amount":"600 g"}]}]}"#;

    #[test]
    fn finished_and_scaled_pieces_are_not_the_same_question() {
        let losses = r#"[{"stage":"mixing","percent":2},{"stage":"baking","percent":11}]"#;
        let mixed = |weighed: &str| {
            let want = format!(r#"{{"pieces":48,"each":"85 g","weighed":"{weighed}"}}"#);
            ask(&format!(r#"{{"formula":{DOUGH},"want":{want},"losses":{losses}}}"#)).formula.weight.value.0.round()
        };
        assert_eq!((mixed("delivered"), mixed("scaled")), (4678.0, 4163.0));
    }

    #[test]
    fn who_writes_pounds_and_ounces_is_told_in_them_beside_the_grams() {
        let answer = ask(
            r#"{"formula":{"parts":[{"name":"dough","lines":[{"ingredient":"bread flour","amount":"4 lb 8 oz"},{"ingredient":"water","amount":"2 lb"},
            {"ingredient":"salt","amount":"1.5 oz"},{"ingredient":"instant yeast","amount":"10 g"}]}]},"want":{"factor":3},"losses":[]}"#,
        );
        let lines = answer.formula.parts[0].lines.iter();
        let told: Vec<_> = lines.map(|line| line.measure.as_ref().map_or("", |measure| &measure.text)).collect();
        assert_eq!(told, ["13 lb 8 oz", "6 lb", "4.5 oz", ""]);
    }

    #[test]
    fn what_stays_on_the_ladle_is_not_in_the_pan() {
        let losses = r#"[{"stage":"mixing","percent":2},{"stage":"depositing","percent":5}]"#;
        let answer = ask(&format!(r#"{{"formula":{DOUGH},"want":{{"pieces":10,"each":"95 g","weighed":"scaled"}},"losses":{losses}}}"#));
        assert!((answer.formula.weight.value.0 - 950.0 / 0.95 / 0.98).abs() < 1e-6, "{}", answer.formula.weight.value.0);
        assert_eq!(answer.multiplied.scale_at[0].each.text, "95 g");
    }

    #[test]
    fn of_what_a_piece_is_scaled_is_said_where_more_goes_into_it() {
        let icing = r#"}]},{"name":"icing","lines":[{"ingredient":"icing sugar","amount":"200 g"}]}"#;
        let told =
            |formula: &str| ask(&format!(r#"{{"formula":{formula},"want":{{"pieces":10,"each":"60 g"}},"losses":[]}}"#)).owed.summary;
        assert!(told(DOUGH).contains(", 60 g in each piece"), "{}", told(DOUGH));
        let both = told(&DOUGH.replacen("}]}", icing, 1));
        assert!(both.contains("53 g of dough in each piece"), "{both}");
    }

    #[test]
    fn no_egg_is_opened_for_a_crumb_of_one() {
        let eggs = |grams: &str| {
            let lines = r#"[{"ingredient":"plain flour","amount":"500 g"},{"ingredient":"egg","amount":"GRAMS"},{"ingredient":"egg","amount":"1 large"}]"#;
            let formula = format!(r#"{{"measures":"us","parts":[{{"name":"dough","lines":{}}}]}}"#, lines.replace("GRAMS", grams));
            let answer = ask(&format!(r#"{{"formula":{formula},"want":{{"factor":1}},"losses":[]}}"#));
            answer.buy.iter().find_map(|bought| bought.count.as_ref()).map(|count| count.whole)
        };
        assert_eq!(["200.3 g", "201 g", "0.3 g"].map(eggs), [Some(5), Some(6), Some(1)]);
    }

    #[test]
    fn no_pan_is_given_more_than_is_mixed() {
        let each = |factor: f64| {
            let formula = DOUGH.replacen('{', r#"{"pan":"9 inch round, 2 inches deep","#, 1);
            let answer = ask(&format!(r#"{{"formula":{formula},"want":{{"factor":{factor}}},"losses":[]}}"#));
            answer.multiplied.scale_at[0].each.text.to_string()
        };
        assert_eq!([0.25, 1.0, 1.5].map(each), ["400 g", "1600 g", "1600 g"]);
    }

    #[test]
    fn what_has_grown_past_counting_is_told_by_weight_alone() {
        let cakes = |want: &str| {
            let answer = ask(&format!(
                r#"{{"formula":{{"measures":"us","filled":"spooned","makes":{{"pieces":12}},"parts":[{{"name":"batter","lines":[
                {{"ingredient":"all-purpose flour","amount":"2 cups"}},{{"ingredient":"egg","amount":"2 large"}},
                {{"ingredient":"salt","amount":"1/2 tsp"}}]}}]}},"want":{want},"losses":[]}}"#
            ));
            let lines = answer.formula.parts[0].lines.iter();
            lines.map(|line| line.measure.as_ref().map_or(String::new(), |measure| measure.text.to_string())).collect::<Vec<_>>()
        };
        assert_eq!(cakes(r#"{"pieces":100}"#), ["", "about 17 large", "about 1 tbsp plus 1 1/4 tsp"]);
        assert_eq!(cakes(r#"{"pieces":4}"#), ["2/3 cup", "2/3 large", "1/8 to 1/4 tsp"]);
    }

    #[test]
    fn a_loss_in_each_pan_asks_for_the_pans() {
        let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
        let losses = r#"[{"stage":"mixing","percent":2},{"stage":"depositing","each_pan":"5 g"}]"#;
        let question = format!(r#"{{"formula":{DOUGH},"want":{{"pieces":10,"each":"750 g"}},"losses":{losses}}}"#);
        let question = serde_json::from_str(&question).unwrap_or_else(|fault| panic!("{fault}"));
        let faults = Batch::answer(&question, reference, &mut Account::new(reference, false)).map(|_| ()).expect_err("no pans");
        assert_eq!(faults.iter().map(|fault| fault.pointer.as_str()).collect::<Vec<_>>(), ["/losses/1/each_pan"]);
    }

    #[test]
    fn a_baking_loss_touches_only_what_is_baked() {
        let answer = ask(r#"{"formula":{"parts":[{"name":"batter","lines":[{"ingredient":"all-purpose flour","amount":"900 g"}]},
            {"name":"icing","scales_with":"finish","lines":[{"ingredient":"powdered sugar","amount":"300 g"}]}]},
            "want":{"factor":1},"losses":[{"stage":"baking","percent":9}]}"#);
        assert!((answer.multiplied.delivered.value.0 - 1119.0).abs() < 1e-9);
    }

    #[test]
    fn a_loss_that_was_weighed_is_never_passed_over_though_nothing_is_baked() {
        let question = r#"{"formula": {"style": "pastry-cream", "parts": [{"name": "cream", "lines": [{"ingredient": "milk", "amount": "500 g"},
            {"ingredient": "sugar", "amount": "100 g"}, {"ingredient": "cornstarch", "amount": "40 g"}]}]},
            "want": {"weight": "900 g"}, "losses": [{"stage": "cooling", "percent": 10}]}"#;
        let answer = ask(question);
        assert_eq!(answer.ledger[0].lost.text, "100 g");
        assert!(answer.owed.assumptions.iter().any(|told| told.field == "/losses/0/part"), "{:?}", answer.owed.assumptions);
    }

    #[test]
    fn what_stays_in_the_pans_is_borne_by_each_part_as_it_is_of_the_whole() {
        let question = |more: &str| {
            format!(
                r#"{{"formula": {{"parts": [{{"name": "batter", "style": "muffin", "lines": [{{"ingredient": "flour", "amount": "1000 g"}}]}},
                {{"name": "cream", "style": "pastry-cream", "scales_with": "fixed", "lines": [{{"ingredient": "milk", "amount": "150 g"}}]}}],
                "pan": "9 inch round"}}, "want": {{"pans": 200}}, "losses": [{{"stage": "depositing", "each_pan": "7 g"{more}}},
                {{"stage": "slicing", "percent": 10, "part": "cream"}}]}}"#
            )
        };
        // All 1400 g are batter's: half of them would be more than all of the cream.
        let lost: Vec<_> = ask(&question("")).ledger.iter().map(|row| row.lost.value.0).collect();
        assert_eq!(lost, [1400.0, 15.0]);
        let question = serde_json::from_str(&question(r#", "part": "cream""#)).expect("a question");
        let reference = Reference::load().expect("the tables");
        let refused = Batch::answer(&question, reference, &mut Account::new(reference, true)).expect_err("there are 150 g of cream");
        assert!(refused.iter().all(|fault| fault.code == crate::quantity::Code::NothingLeft), "{refused:?}");
    }

    #[test]
    fn of_which_part_no_loss_is_known_is_told_beside_the_losses_that_are() {
        let told = |style: &str| {
            let answer = ask(&format!(
                r#"{{"formula":{{{style}"makes":{{"pieces":12}},"parts":[{{"name":"cake","lines":[{{"ingredient":"all-purpose flour","amount":"250 g"}}]}},
                {{"name":"icing","scales_with":"finish","lines":[{{"ingredient":"powdered sugar","amount":"200 g"}}]}}]}},"want":{{"pieces":24}}}}"#
            ));
            answer.owed.assumptions.iter().any(|assumed| assumed.text == "No losses are counted of cake: it has no style")
        };
        assert_eq!([told(""), told(r#""style":"creamed","#)], [true, false]);
    }

    #[test]
    fn dough_cut_away_from_a_lined_tin_is_gone_before_it_is_baked() {
        let answer = ask(
            r#"{"formula":{"style":"tart-dough","makes":{"pieces":4},"parts":[{"name":"case","lines":[{"ingredient":"plain flour","amount":"200 g"},
            {"ingredient":"butter","amount":"110 g"},{"ingredient":"icing sugar","amount":"60 g"},{"ingredient":"egg yolk","amount":"36 g"}]}]},"want":{"pieces":4}}"#,
        );
        let stages: Vec<_> = answer.ledger.iter().map(|row| row.stage.word()).collect();
        assert_eq!(stages, ["mixing", "cutting", "baking"]);
        // 406 g, of which 1 % stays in the bowl and 5 % is cut away: what lies in each tin has none of that in it.
        assert!((answer.multiplied.scale_at[0].each.value.0 - 406.0 * 0.99 * 0.95 / 4.0).abs() < 1e-6);
    }

    #[test]
    fn a_meringue_on_a_pie_is_browned_and_beside_nothing_it_is_dried() {
        let baked = |style: &str| {
            let answer = ask(&format!(
                r#"{{"formula":{{"style":"{style}","parts":[{{"name":"base","lines":[{{"ingredient":"plain flour","amount":"180 g"}},{{"ingredient":"butter","amount":"90 g"}},
                {{"ingredient":"egg","amount":"100 g"}}]}},{{"name":"meringue","style":"meringue","lines":[{{"ingredient":"egg white","amount":"120 g"}},
                {{"ingredient":"caster sugar","amount":"200 g"}}]}}]}},"want":{{"factor":1}}}}"#
            ));
            let is = |row: &&crate::formula::LedgerRow| row.part.as_deref() == Some("meringue") && row.stage.word() == "baking";
            let told = answer.owed.assumptions.iter().any(|it| it.text.contains("browned and not dried"));
            (answer.ledger.iter().filter(is).count(), told)
        };
        assert_eq!([baked("pie-dough"), baked("genoise")], [(0, true), (1, false)]);
    }

    #[test]
    fn what_is_strewn_over_a_cake_loses_nothing_in_an_icing_bowl_and_its_filling_nothing_in_the_oven() {
        let cake = |beside: &str| {
            let answer = ask(&format!(
                r#"{{"formula":{{"style":"pound","makes":{{"pieces":12}},"parts":[{{"name":"cake","lines":[{{"ingredient":"self-raising flour","amount":"200 g"}},
                {{"ingredient":"butter","amount":"200 g"}},{{"ingredient":"caster sugar","amount":"200 g"}},{{"ingredient":"egg","amount":"200 g"}}]}},{beside}]}},"want":{{"factor":1}}}}"#
            ));
            let told: Vec<_> = answer
                .owed
                .assumptions
                .iter()
                .map(|assumed| assumed.text.to_string())
                .filter(|text| text.contains("top") || text.contains("middle"))
                .collect();
            (told, answer.ledger.iter().filter(|row| row.part.as_deref() != Some("cake")).count())
        };
        let strewn = cake(r#"{"name":"top","scales_with":"finish","lines":[{"ingredient":"demerara sugar","amount":"30 g"}]}"#);
        let why =
            "No losses are counted of top: it is strewn or laid on as it is, not mixed as an icing is, and no figure is published for that";
        assert_eq!(strewn, (vec![why.to_owned()], 0));
        let (told, rows) = cake(r#"{"name":"middle","lines":[{"ingredient":"raspberry jam","amount":"150 g"}]}"#);
        assert!(told.iter().any(|text| text.contains("is a spread as it is bought:") && text.contains("not to be baked")), "{told:?}");
        assert!(told.iter().any(|text| text.contains("no figure is published for a filling of its kind")) && rows == 0, "{told:?}");
        let (told, rows) =
            cake(r#"{"name":"middle","lines":[{"ingredient":"butter","amount":"75 g"},{"ingredient":"icing sugar","amount":"150 g"}]}"#);
        assert!(rows == 1 && told.iter().any(|text| text.starts_with("middle loses 2 %")), "{told:?}");
    }

    #[test]
    fn what_is_in_store_is_read_as_a_line_of_the_formula_is() {
        let factor = |formula: &str, have: &str| {
            ask(&format!(r#"{{"formula":{formula},"want":{{"have":{have}}},"losses":[]}}"#)).multiplied.factor.0
        };
        let own =
            r#"{"ingredients":[{"name":"house mix"}],"parts":[{"name":"dough","lines":[{"ingredient":"house mix","amount":"500 g"}]}]}"#;
        assert_eq!(factor(own, r#"{"ingredient":"house mix","amount":"1 kg"}"#), 2.0);
        let eggs = r#"{"measures":"uk","parts":[{"name":"batter","lines":[{"ingredient":"egg","amount":"3 medium"}]}]}"#;
        assert_eq!(factor(eggs, r#"{"ingredient":"medium eggs","amount":"12"}"#), 4.0);
        let flour = r#"{"filled":"spooned","measures":"us","parts":[{"name":"dough","lines":[{"ingredient":"all-purpose flour","amount":"2 cups"}]}]}"#;
        assert_eq!(factor(flour, r#"{"ingredient":"all-purpose flour","amount":"5 cups"}"#), 2.5);
    }

    #[test]
    fn the_ledger_closes_and_its_texts_too() {
        let answer = ask(&format!(
            r#"{{"formula":{DOUGH},"want":{{"pieces":100,"each":"450 g"}},"losses":[{{"stage":"rejects","percent":2}},{{"stage":"fermentation","percent":1}},{{"stage":"dividing","percent":0.5}},{{"stage":"baking","percent":11.5}}]}}"#
        ));
        assert!((answer.ledger[0].enters.value.0 - 52_672.62).abs() < 0.01);
        for pair in answer.ledger.windows(2) {
            assert_eq!(pair[0].out.value, pair[1].enters.value);
        }
        let grams = |quantity: &crate::quantity::Quantity| quantity.text.trim_end_matches(" g").parse::<f64>().unwrap_or(f64::NAN);
        assert!(
            answer.ledger.iter().all(|row| (grams(&row.enters) - grams(&row.lost) - grams(&row.out)).abs() < 1e-9),
            "{:#?}",
            answer.ledger
        );
        assert!((answer.multiplied.delivered.value.0 - 45_000.0).abs() < 1e-6);
    }

    #[test]
    fn a_bowl_is_not_filled_to_its_brim() {
        let answer = ask(
            r#"{"formula":{"style":"lean-dough","parts":[{"name":"dough","lines":[{"ingredient":"bread flour","amount":"1000 g"},{"ingredient":"water","amount":"600 g"}]}]},
            "want":{"weight":"60 kg","weighed":"scaled"},"losses":[],"mixer":{"bowl":"20 qt"}}"#,
        );
        let first = answer.batches.first().map(|batch| (batch.count, batch.weight.value.0.round()));
        assert_eq!(first, Some((5, 12_000.0)));
        assert!(
            answer.owed.assumptions.iter().any(|assumed| assumed.field == "/mixer/weight" && assumed.text.contains("60 % of the bowl"))
        );
    }

    #[test]
    fn eggs_are_bought_of_a_market_by_its_name() {
        let kind = |measures: &str| {
            let answer = ask(&format!(
                r#"{{"formula":{{"measures":"{measures}","parts":[{{"name":"batter","lines":[{{"ingredient":"egg","amount":"2"}}]}}]}},"want":{{"factor":1}},"losses":[]}}"#
            ));
            answer.buy[0].count.as_ref().map_or(String::new(), |count| count.kind.clone())
        };
        assert_eq!(["us", "uk", "australia"].map(kind), ["large (US)", "large (EU)", "large (Australia)"]);
    }

    #[test]
    fn eggs_are_bought_for_the_larger_of_whites_and_yolks() {
        let answer = ask(
            r#"{"formula":{"measures":"us","parts":[{"name":"meringue","style":"meringue","lines":[{"ingredient":"egg white","amount":"330 g"},{"ingredient":"granulated sugar","amount":"500 g"}]},
            {"name":"curd","style":"curd","lines":[{"ingredient":"egg yolk","amount":"4 large"},{"ingredient":"lemon juice","amount":"100 g"},{"ingredient":"lemon zest","amount":"4 g"},{"ingredient":"granulated sugar","amount":"100 g"}]}]},"want":{"factor":1}}"#,
        );
        let egg = answer.buy.iter().find(|bought| bought.ingredient == "egg");
        assert_eq!(egg.and_then(|egg| egg.count.as_ref()).map(|count| count.whole), Some(10));
        assert_eq!(
            egg.map(|egg| egg.left_over.iter().map(|left| left.amount.text.clone()).collect::<Vec<_>>()),
            Some(vec!["102 g".into()])
        );
        let lemon = answer.buy.iter().find(|bought| bought.ingredient == "lemon");
        assert_eq!(lemon.and_then(|lemon| lemon.count.as_ref()).map(|count| count.whole), Some(3));
        assert_eq!(answer.buy.iter().filter(|bought| bought.ingredient == "granulated sugar").count(), 1);
    }
}
