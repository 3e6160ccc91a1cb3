//! A day at a bakery that does not exist.

use super::*;
use crate::quantity::Quantity;

fn asked(question: &str) -> Result<OrdersAnswer, Faults> {
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    let question = serde_json::from_str(question).unwrap_or_else(|fault| panic!("{question}: {fault}"));
    Orders::answer(&question, reference, &mut Account::new(reference, true))
}

#[track_caller]
fn orders(orders: &str, more: &str) -> OrdersAnswer {
    asked(&format!(r#"{{"orders":[{orders}]{more}}}"#)).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

#[track_caller]
fn bought<'a>(answer: &'a OrdersAnswer, name: &str) -> &'a answer::BoughtTogether {
    answer.buy.iter().find(|bought| bought.ingredient == name).unwrap_or_else(|| panic!("no {name}: {:#?}", answer.buy))
}

const ANGEL: &str = r#"{"name":"Angel cakes","formula":{"name":"Larkrise angel cake","style":"angel","measures":"us","parts":[{"name":"foam","lines":[
    {"ingredient":"egg white","amount":"340 g"},{"ingredient":"granulated sugar","amount":"320 g"},{"ingredient":"cake flour","amount":"125 g"},
    {"ingredient":"cream of tartar","amount":"4 g"}]}],"pan":"10 inch tube, 4 inches deep"},"want":{"pans":8},"losses":[]}"#;
const CURD: &str = r#"{"name":"Lemon curd","formula":{"name":"Larkrise lemon curd","style":"curd","measures":"us","parts":[{"name":"curd","lines":[
    {"ingredient":"egg yolk","amount":"53 large"},{"ingredient":"granulated sugar","amount":"900 g"},{"ingredient":"lemon juice","amount":"700 g"},
    {"ingredient":"unsalted butter","amount":"600 g"}]}]},"want":{"factor":1},"losses":[]}"#;

#[test]
fn eight_angel_cakes_and_a_curd_take_eighty_three_eggs_and_not_a_hundred_and_thirty_six() {
    let answer = orders(&format!("{ANGEL},{CURD}"), "");
    let egg = bought(&answer, "egg");
    // 8 x 340 g of whites at 33 g: 82.4 eggs; 53 yolks are in them.
    assert_eq!((egg.count.as_ref().map(|count| count.whole), egg.apart), (Some(83), Some(136)));
    let left: Vec<_> = egg.left_over.iter().map(|left| (&*left.ingredient, left.amount.value.0.round())).collect();
    assert_eq!(left, [("egg white", 19.0), ("egg yolk", 510.0)]);
    assert!(answer.owed.summary.contains("83 eggs, not 136"), "{}", answer.owed.summary);
    let sugar = answer.totals.iter().find(|total| total.ingredient == "granulated sugar");
    assert_eq!(sugar.map(|sugar| sugar.amount.value.0), Some(8.0 * 320.0 + 900.0));
}

#[test]
fn packs_are_rounded_once_over_all_orders() {
    let loaf = |name: &str| {
        format!(
            r#"{{"name":"{name}","formula":{{"parts":[{{"name":"{name} dough","lines":[{{"ingredient":"bread flour","amount":"600 g"}},{{"ingredient":"water","amount":"400 g"}}]}}]}},"want":{{"factor":10}}}}"#
        )
    };
    let packs = r#","packs":[{"ingredient":"bread flour","pack":"16 kg"},{"ingredient":"egg","pack":"30 large"}]"#;
    let answer = orders(&[loaf("White"), loaf("Tin"), loaf("Cob")].join(","), packs);
    let flour = bought(&answer, "bread flour").packed.as_ref();
    // 18 kg: two sacks, and not three half-used ones.
    assert_eq!(flour.map(|packed| (packed.packs.whole, packed.over.value.0)), Some((2, 14_000.0)));
    assert!(answer.owed.assumptions.iter().any(|assumption| assumption.field == "/packs/1/ingredient"), "{:#?}", answer.owed.assumptions);
}

#[test]
fn a_tray_of_eggs_is_counted_in_eggs() {
    let answer = orders(&format!("{ANGEL},{CURD}"), r#","packs":[{"ingredient":"egg","pack":"30 large"}]"#);
    let packed = bought(&answer, "egg").packed.as_ref();
    assert_eq!(packed.map(|packed| (packed.packs.whole, packed.over.value.0)), Some((3, 350.0)));
}

/// A cake with an icing, the icing so many times as large.
fn iced(name: &str, icing: f64, butter: f64) -> String {
    let (sugar, butter) = (100.0 * icing, butter * icing);
    format!(
        r#"{{"name":"{name}","formula":{{"parts":[{{"name":"{name} batter","lines":[{{"ingredient":"cake flour","amount":"400 g"}}]}},
        {{"name":"Plain icing","scales_with":"finish","lines":[{{"ingredient":"powdered sugar","amount":"{sugar} g"}},{{"ingredient":"unsalted butter","amount":"{butter} g"}}]}}]}},"want":{{"factor":2}}}}"#
    )
}

#[test]
fn the_same_icing_in_two_cakes_is_mixed_once() {
    let answer = orders(&[iced("Seed", 1.0, 50.0), iced("Plum", 3.0, 50.0), iced("Oat", 1.0, 60.0)].join(","), "");
    let icings: Vec<_> = answer.mix.iter().filter(|mixing| mixing.part == "Plain icing").collect();
    assert_eq!(icings.iter().map(|mixing| (mixing.orders.len(), mixing.weight.value.0)).collect::<Vec<_>>(), [(2, 1200.0), (1, 320.0)]);
    let weights: Vec<f64> = icings[0].orders.iter().map(|order| order.weight.value.0).collect();
    assert_eq!(weights, [300.0, 900.0]);
    let lines: Vec<_> = icings[0].lines.iter().map(|line| line.amount.text.as_str()).collect();
    assert_eq!(lines, ["800 g", "400 g"]);
    let told = answer.owed.assumptions.iter().find(|assumption| assumption.value == "mixed once");
    assert_eq!(told.map(|told| told.field.as_str()), Some("/orders/0/formula/parts/1/name"));
}

#[test]
fn what_is_mixed_is_what_is_planned_and_what_is_used() {
    let answer = orders(&[iced("Seed", 1.0, 50.0), ANGEL.to_owned(), CURD.to_owned(), iced("Seed", 1.0, 50.0)].join(","), "");
    let sum = |quantities: &mut dyn Iterator<Item = &Quantity>| quantities.map(|quantity| quantity.value.0).sum::<f64>();
    let (plans, mix, totals) = (
        sum(&mut answer.plans.iter().map(|plan| &plan.mixed)),
        sum(&mut answer.mix.iter().map(|mixing| &mixing.weight)),
        sum(&mut answer.totals.iter().map(|total| &total.amount)),
    );
    assert!(
        (plans - mix).abs() < 1e-6 && (plans - totals).abs() < 1e-6 && (plans - answer.weight.value.0).abs() < 1e-6,
        "{plans} {mix} {totals}"
    );
    assert_eq!(answer.mix.iter().filter(|mixing| mixing.orders.len() == 2).count(), 2);
}

#[test]
fn an_order_is_planned_as_a_batch_is() {
    use crate::calculation::batch::Batch;
    let formula = r#"{"style":"lean-dough","parts":[{"name":"dough","lines":[{"ingredient":"bread flour","amount":"1 kg"},{"ingredient":"water","amount":"2 1/2 cups"},{"ingredient":"salt","amount":"20 g"}]}]}"#;
    let one = format!(r#"{{"formula":{formula},"want":{{"pieces":40,"each":"800 g"}}}}"#);
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    let question = serde_json::from_str(&one).unwrap_or_else(|fault| panic!("{fault}"));
    let batch = Batch::answer(&question, reference, &mut Account::new(reference, false)).unwrap_or_else(|faults| panic!("{faults:#?}"));
    let day = orders(&one, "");
    assert_eq!(
        (day.plans[0].multiplied.factor, &day.plans[0].multiplied.delivered, &day.mix[0].weight),
        (batch.multiplied.factor, &batch.multiplied.delivered, &batch.batches[0].weight)
    );
    let fields = |owed: &crate::reference::Owed| {
        owed.assumptions.iter().map(|a| a.field.trim_start_matches("/orders/0").to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(fields(&day.owed), fields(&batch.owed));
}

#[test]
fn every_fault_of_every_order_is_told_where_it_stands() {
    let found = asked(
        r#"{"orders":[{"formula":{"parts":[{"name":"dough","lines":[{"ingredient":"bread flour","amount":"1 blob"}]}]},"want":{"factor":1}},
        {"formula":{"parts":[{"name":"dough","lines":[{"ingredient":"bread flour","amount":"1 kg"}]}]},"want":{}},
        {"formula":{"parts":[{"name":"dough","lines":[{"ingredient":"bread flour","amount":"1 kg"}]}]},"want":{"pieces":3}}],
        "packs":[{"ingredient":"bread flour","pack":"0 kg"}]}"#,
    );
    let pointers: Vec<String> = found.err().map(|faults| faults.iter().map(|fault| fault.pointer.clone()).collect()).unwrap_or_default();
    assert_eq!(pointers, ["/orders/0/formula/parts/0/lines/0/amount", "/orders/1/want", "/orders/2/formula/makes/pieces", "/packs/0/pack"]);
}

#[test]
fn two_hundred_orders_are_one_question_and_two_hundred_and_one_are_too_many() {
    let many = |count: usize| vec![ANGEL; count].join(",");
    let answer = orders(&many(200), "");
    assert_eq!((answer.plans.len(), answer.mix.len(), answer.mix[0].orders.len()), (200, 1, 200));
    assert!(answer.owed.assumptions.len() <= 200);
    let refused = asked(&format!(r#"{{"orders":[{}]}}"#, many(201))).err();
    assert_eq!(refused.and_then(|faults| faults.iter().next().map(|fault| fault.code)), Some(Code::TooMany));
}

#[test]
fn a_large_curd_for_several_orders_cools_as_one() {
    let curd = CURD.replace("53 large", "12 large").replace("900 g", "400 g").replace("700 g", "300 g").replace("600 g", "250 g");
    let cools = |answer: &OrdersAnswer| answer.owed.cautions.iter().any(|caution| caution.id == "cooling-large-batch");
    assert!(!cools(&orders(&curd, "")));
    assert!(cools(&orders(&[curd.clone(), curd.clone(), curd.clone(), curd].join(","), "")));
}

#[test]
fn nobody_opens_a_pack_for_what_no_scale_tells_apart() {
    let packs = |butter: &str| {
        let order = format!(
            r#"{{"formula":{{"parts":[{{"name":"dough","lines":[{{"ingredient":"butter","amount":"{butter}"}},{{"ingredient":"plain flour","amount":"500 g"}}]}}]}},"want":{{"factor":1}},"losses":[]}}"#
        );
        let answer = orders(&order, r#","packs":[{"ingredient":"butter","pack":"1 lb"}]"#);
        let packed = answer.buy.iter().find_map(|bought| bought.packed.as_ref());
        packed.map(|packed| (packed.packs.whole, packed.over.value.0.round()))
    };
    assert_eq!(packs("1361 g"), Some((3, 0.0)));
    assert_eq!(packs("1370 g"), Some((4, 444.0)));
    assert_eq!(packs("0.2 g"), Some((1, 453.0)));
}

#[test]
fn eggs_are_bought_on_the_market_of_the_first_who_takes_some() {
    let icing = r#"{"formula":{"measures":"us","parts":[{"name":"icing","lines":[{"ingredient":"butter","amount":"100 g"},
        {"ingredient":"powdered sugar","amount":"200 g"}]}]},"want":{"factor":1},"losses":[]}"#;
    let angel = ANGEL.replace(r#""measures":"us""#, r#""measures":"uk""#);
    let answer = orders(&format!("{icing},{angel}"), "");
    assert_eq!(bought(&answer, "egg").count.as_ref().map(|count| count.kind.as_str()), Some("large (EU)"));
}

#[test]
fn a_pack_of_what_is_taken_from_a_whole_is_told_as_what_that_is_bought() {
    let packs = r#","packs":[{"ingredient":"egg white","pack":"1 kg"},{"ingredient":"lemon juice","pack":"1 l"},{"ingredient":"cocoa","pack":"1 kg"}]"#;
    let answer = orders(&format!("{ANGEL},{CURD}"), packs);
    let told: Vec<_> = answer
        .owed
        .assumptions
        .iter()
        .filter(|one| one.field.starts_with("/packs/") && one.value == "not used")
        .map(|one| &*one.text)
        .collect();
    assert_eq!(told[0], "The egg white is bought as egg: give the pack of that, this one is not used");
    assert_eq!(told[1], "The lemon juice is bought as lemon: give the pack of that, this one is not used");
    assert!(told[2].starts_with("No ") && told[2].ends_with("its pack is not used"), "{told:?}");
}

#[test]
fn a_loss_that_may_be_a_share_of_one_counts_as_it_stands_and_is_told() {
    let told = |percent: &str| {
        let order = ANGEL.replace(r#""losses":[]"#, &format!(r#""losses":[{{"stage":"baking","percent":{percent}}}]"#));
        let answer = orders(&order, "");
        answer.owed.assumptions.iter().find(|one| one.field == "/orders/0/losses/0/percent").map(|one| one.text.to_string())
    };
    assert_eq!(told("0.11").as_deref(), Some("In baking 0.11 % is lost, as it stands: as a share of one it would be written 11"));
    assert_eq!([told("11"), told("0.5"), told("0")], [None, None, None]);
}

#[test]
fn what_grew_heavier_on_the_way_is_named() {
    let order = ANGEL.replace(r#""losses":[]"#, r#""losses":[{"stage":"baking","before":"100 g","after":"110 g"}]"#);
    let faults = asked(&format!(r#"{{"orders":[{order}]}}"#)).map(|_| ()).expect_err("a fault");
    let fault = faults.iter().next().expect("a fault");
    assert_eq!((fault.pointer.as_str(), fault.found.as_str()), ("/orders/0/losses/0/after", "110 g, more than before"));
}

#[test]
fn what_may_be_in_store_is_offered_once_each() {
    let order = CURD.replace(r#""want":{"factor":1}"#, r#""want":{"have":{"ingredient":"cream","amount":"1 kg"}}"#);
    let order = order.replace(
        r#"{"ingredient":"unsalted butter","amount":"600 g"}"#,
        r#"{"ingredient":"unsalted butter","amount":"400 g"},{"ingredient":"unsalted butter","amount":"200 g"}"#,
    );
    let faults = asked(&format!(r#"{{"orders":[{order}]}}"#)).map(|_| ()).expect_err("a fault");
    let fault = faults.iter().next().expect("a fault");
    assert_eq!(fault.attempts, ["egg yolk", "granulated sugar", "lemon juice", "unsalted butter"]);
}
