//! The audit on formulas of our own: a clean one, and the same with one figure put wrong at a time.

use super::finding::AuditKind;
use super::*;

#[track_caller]
fn ask(formula: &str) -> AuditAnswer {
    let reference = Reference::load().unwrap_or_else(|fault| panic!("{fault}"));
    let question = serde_json::from_str(&format!("{{\"formula\":{formula}}}")).unwrap_or_else(|fault| panic!("{formula}: {fault}"));
    Audit::answer(&question, reference, &mut Account::new(reference, false)).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

/// One part of lines written as ingredient, amount, also.
fn formula(lines: &[(&str, &str, &str)], more: &str) -> String {
    let line = |(name, amount, also): &(&str, &str, &str)| {
        let also = if also.is_empty() { String::new() } else { format!(",\"also\":\"{also}\"") };
        format!("{{\"ingredient\":\"{name}\",\"amount\":\"{amount}\"{also}}}")
    };
    let lines: Vec<String> = lines.iter().map(line).collect();
    format!("{{\"parts\":[{{\"name\":\"batter\",\"lines\":[{}]}}]{more}}}", lines.join(","))
}

const CLEAN: &[(&str, &str, &str)] = &[
    ("all-purpose flour", "1 3/4 cups", "220 g"),
    ("granulated sugar", "1 cup", "200 g"),
    ("unsalted butter", "1/2 cup", "115 g"),
    ("egg", "3 large", "150 g"),
    ("buttermilk", "3/4 cup", "180 ml"),
    ("baking powder", "2 tsp", "9 g"),
    ("salt", "1/2 tsp", "3 g"),
    ("vanilla extract", "1 tsp", ""),
];

#[track_caller]
fn finds(lines: &[(&str, &str, &str)], more: &str, wanted: &[(AuditKind, AuditVerdict, &str)]) -> AuditAnswer {
    let answer = ask(&formula(lines, more));
    let found: Vec<_> = answer.findings.iter().map(|f| (f.kind, f.verdict, f.pointer.as_str())).collect();
    assert_eq!(found, wanted, "{:#?}", answer.findings);
    answer
}

/// The clean formula with one line in place of another.
fn with(at: usize, line: (&'static str, &'static str, &'static str)) -> Vec<(&'static str, &'static str, &'static str)> {
    let mut lines = CLEAN.to_vec();
    lines[at] = line;
    lines
}

#[test]
fn a_clean_formula_gives_no_finding() {
    let more = r#","pan":"9 inch (23 cm) round, 2 inches (5 cm) deep","bake":{"oven":"350 F / 180 C / gas mark 4"}"#;
    let answer = finds(CLEAN, more, &[]);
    assert!(answer.compared >= 11, "{}", answer.compared);
}

#[test]
fn a_stick_with_spoons_is_compared_with_its_grams() {
    let answer = finds(&with(2, ("unsalted butter", "1 stick plus 2 tbsp", "142 g")), "", &[]);
    assert!(answer.compared >= 6, "{}", answer.compared);
    let wrong = ask(&formula(&with(2, ("unsalted butter", "200 g", "1 stick plus 2 tbsp")), ""));
    assert_eq!(wrong.findings.first().map(|finding| &*finding.pointer), Some("/formula/parts/0/lines/2"), "{:#?}", wrong.findings);
}

#[test]
fn a_digit_too_many_in_the_grams_is_found_and_named() {
    let answer = finds(
        &with(1, ("granulated sugar", "1 cup", "2000 g")),
        "",
        &[(AuditKind::TwoMeasures, AuditVerdict::Contradict, "/formula/parts/0/lines/1")],
    );
    let wrong = answer.findings[0].likely_wrong.as_ref();
    assert_eq!(wrong.map(|wrong| wrong.pointer.as_str()), Some("/formula/parts/0/lines/1/also"));
    assert!(answer.findings[0].mend.contains("200 g"), "{}", answer.findings[0].mend);
}

#[test]
fn two_digits_exchanged_are_put_back() {
    let answer = finds(
        &with(0, ("all-purpose flour", "1 3/4 cups", "520 g")),
        "",
        &[(AuditKind::TwoMeasures, AuditVerdict::Contradict, "/formula/parts/0/lines/0")],
    );
    assert!(answer.findings[0].mend.contains("250 g"), "{}", answer.findings[0].mend);
}

#[test]
fn a_tablespoon_that_should_be_a_teaspoon_is_the_likelier_slip() {
    let answer =
        finds(&with(6, ("salt", "1 tbsp", "6 g")), "", &[(AuditKind::TwoMeasures, AuditVerdict::Contradict, "/formula/parts/0/lines/6")]);
    let wrong = answer.findings[0].likely_wrong.as_ref();
    assert_eq!(wrong.map(|wrong| wrong.pointer.as_str()), Some("/formula/parts/0/lines/6/amount"));
    assert!(answer.findings[0].mend.contains("1 tsp"), "{}", answer.findings[0].mend);
}

#[test]
fn ounces_written_as_grams_are_told() {
    let answer = finds(
        &with(2, ("unsalted butter", "1/2 cup", "4 g")),
        "",
        &[(AuditKind::TwoMeasures, AuditVerdict::Contradict, "/formula/parts/0/lines/2")],
    );
    assert!(answer.findings[0].mend.contains("4 oz"), "{}", answer.findings[0].mend);
}

#[test]
fn eggs_by_count_and_by_mass_are_compared() {
    finds(&with(3, ("egg", "3 large", "250 g")), "", &[(AuditKind::CountAndMass, AuditVerdict::Contradict, "/formula/parts/0/lines/3")]);
}

#[test]
fn a_wrong_celsius_is_found_and_a_fan_oven_is_suspected() {
    let oven = |text: &str| ask(&formula(CLEAN, &format!(r#","bake":{{"oven":"{text}"}}"#))).findings;
    for right in [
        "350 F / 175 C",
        "350 F / 180 C",
        "350 F (gas mark 4)",
        "375F/190C",
        "425 F / 220 C / gas mark 7",
        "180 C / 160 C fan",
        "325 F / 165 C",
    ] {
        assert!(oven(right).is_empty(), "{right}: {:#?}", oven(right));
    }
    let wrong = |text: &str| oven(text).first().map(|finding| finding.verdict);
    assert_eq!(wrong("350 F / 150 C"), Some(AuditVerdict::Contradict));
    assert_eq!(wrong("350 F / gas mark 7"), Some(AuditVerdict::Contradict));
    assert_eq!(wrong("350 F / 160 C"), Some(AuditVerdict::Doubtful));
    assert!(oven("350 F / 160 C")[0].mend.contains("fan"));
    assert_eq!(oven("180 C / 200 C fan")[0].mend, "180 C is 155 to 170 °C with a fan, not 200 C fan");
}

#[test]
fn what_fruit_weighs_as_it_is_bought_is_no_contradiction() {
    for (name, count, mass) in
        [("banana", "2", "350 g"), ("orange", "2 medium", "375 g"), ("mango", "1", "430 g"), ("avocado", "1", "250 g")]
    {
        let answer =
            finds(&with(7, (name, count, mass)), "", &[(AuditKind::CountAndMass, AuditVerdict::Doubtful, "/formula/parts/0/lines/7")]);
        let mend = &answer.findings[0].mend;
        assert!(mend.starts_with(&format!("{mass} is what {count} {name}")) && mend.contains("as bought"), "{mend}");
        assert!(answer.findings[0].likely_wrong.is_none());
    }
    // Twice as much is neither.
    let answer = ask(&formula(&with(7, ("banana", "2", "700 g")), ""));
    assert!(!answer.findings[0].mend.contains("as bought"), "{:?}", answer.findings);
}

#[test]
fn inches_and_centimetres_of_a_pan_are_compared() {
    let pan =
        |text: &str| ask(&formula(CLEAN, &format!(r#","pan":"{text}""#))).findings.iter().map(|f| (f.kind, f.verdict)).collect::<Vec<_>>();
    assert_eq!(pan("9 inch (22 cm) round, 2 inches deep"), []);
    assert_eq!(pan("9 inch (32 cm) round, 2 inches deep"), [(AuditKind::PanSize, AuditVerdict::Contradict)]);
    assert_eq!(pan("10 in / 24 cm round, 2 inches deep"), [(AuditKind::PanSize, AuditVerdict::Doubtful)]);
    assert_eq!(pan("9 x 9 x 2 inch (23 x 23 x 5 cm) square"), []);
    assert_eq!(pan("9x9 inch (23x24 cm), 2 inches deep"), [(AuditKind::PanSize, AuditVerdict::Doubtful)]);
    assert_eq!(pan("9 in x 9 in x 2 in (23 x 23 x 7 cm)"), [(AuditKind::PanSize, AuditVerdict::Contradict)]);
    assert!(pan("9x5x3 inch (23x13x7 cm) loaf").contains(&(AuditKind::PanSize, AuditVerdict::Doubtful)));
}

#[test]
fn a_part_whose_second_measures_are_all_doubled_was_scaled_by_halves() {
    let doubled = [
        ("all-purpose flour", "2 cups", "500 g"),
        ("granulated sugar", "1 cup", "400 g"),
        ("unsalted butter", "1/2 cup", "226 g"),
        ("whole milk", "1 cup", "484 g"),
    ];
    finds(&doubled, "", &[(AuditKind::PartScaled, AuditVerdict::Contradict, "/formula/parts/0")]);
}

#[test]
fn one_flour_in_two_places_has_one_weight_to_the_cup() {
    let mut lines = CLEAN.to_vec();
    lines.push(("all-purpose flour", "1 cup", "160 g"));
    finds(&lines, "", &[(AuditKind::UnevenMeasure, AuditVerdict::Doubtful, "/formula/parts/0/lines/8")]);
}

#[test]
fn a_cup_without_grams_among_weighed_lines_is_missed() {
    finds(
        &with(0, ("all-purpose flour", "1 3/4 cups", "")),
        "",
        &[(AuditKind::MassMissing, AuditVerdict::Doubtful, "/formula/parts/0/lines/0")],
    );
}

#[test]
fn pieces_cannot_weigh_more_than_is_mixed() {
    finds(CLEAN, r#","makes":{"pieces":12,"each":"65 g"}"#, &[]);
    finds(CLEAN, r#","makes":{"pieces":24,"each":"65 g"}"#, &[(AuditKind::Yield, AuditVerdict::Contradict, "/formula/makes")]);
    finds(
        CLEAN,
        r#","makes":{"pieces":12,"each":"65 g","weight":"600 g"}"#,
        &[(AuditKind::Yield, AuditVerdict::Contradict, "/formula/makes")],
    );
}

#[test]
fn a_formula_that_was_scaled_without_its_pan_does_not_fit() {
    let tripled = [("all-purpose flour", "2 kg", ""), ("granulated sugar", "2 kg", ""), ("whole milk", "2 kg", "")];
    finds(&tripled, r#","pan":"9 inch round, 2 inches deep""#, &[(AuditKind::PanAndBatter, AuditVerdict::Contradict, "/formula/pan")]);
}

#[test]
fn eggs_and_two_volumes_are_told_as_people_say_them() {
    let mend = |line| ask(&formula(&with(3, line), "")).findings.first().map(|finding| finding.mend.clone()).unwrap_or_default();
    assert!(mend(("egg", "3 large", "300 g")).starts_with("3 large eggs is 150 g, not 300 g"), "{}", mend(("egg", "3 large", "300 g")));
    assert!(mend(("whole milk", "1 cup", "100 ml")).starts_with("1 cup of whole milk is 244 g, and 100 ml is 103 g"));
}

#[test]
fn ounces_beside_grams_are_told_in_grams() {
    let answer = ask(&formula(&with(2, ("unsalted butter", "4 oz", "100 g")), ""));
    assert!(answer.findings.iter().any(|finding| finding.mend.starts_with("4 oz is 113 g, not 100 g")), "{:#?}", answer.findings);
}

#[test]
fn a_stick_of_a_hundred_grams_is_no_stick() {
    let stick = |also: &'static str| with(2, ("unsalted butter", "1 stick", also));
    for also in ["113 g", "115 g", "110 g", "4 oz"] {
        finds(&stick(also), "", &[]);
    }
    let at = "/formula/parts/0/lines/2";
    finds(&stick("100 g"), "", &[(AuditKind::CountAndMass, AuditVerdict::Doubtful, at)]);
    finds(&stick("80 g"), "", &[(AuditKind::CountAndMass, AuditVerdict::Contradict, at)]);
}

#[test]
fn a_spoon_or_a_pint_of_another_country_is_told_as_such() {
    let mend = |line: &str| {
        let answer = ask(&format!(r#"{{"measures":"us","parts":[{{"name":"p","lines":[{line}]}}]}}"#));
        answer.findings.first().map(|finding| finding.mend.clone()).unwrap_or_default()
    };
    let syrup = mend(r#"{"ingredient":"golden syrup","amount":"2 tbsp","also":"40 ml"}"#);
    assert!(syrup.contains("perhaps 2 Australian tablespoons was meant"), "{syrup}");
    let cream = mend(r#"{"ingredient":"heavy cream","amount":"1/2 pint","also":"284 ml"}"#);
    assert!(cream.contains("perhaps 1/2 imperial pint was meant"), "{cream}");
    let cocoa = mend(r#"{"ingredient":"cocoa powder","amount":"3/4 cup","also":"90 g"}"#);
    assert!(!cocoa.contains("70 g"), "{cocoa}");
}
