//! What stands beside the ingredients, sentence by sentence.

use super::*;

fn reference() -> &'static Reference {
    Reference::load().unwrap_or_else(|fault| panic!("{fault}"))
}

#[track_caller]
fn says(line: &str) -> Beside {
    opened(line, reference()).or_else(|| otherwise(line, reference())).unwrap_or_else(|| panic!("{line}: nothing"))
}

#[test]
fn what_a_formula_makes_is_counted_or_weighed() {
    let pieces = |line: &str| says(line).makes.map(|made| (made.pieces, made.weight));
    for (line, count) in [
        ("Makes 12 buns", 12),
        ("Serves 8", 8),
        ("Yield: 24 cookies", 24),
        ("Makes about 5 dozen cookies", 60),
        ("Makes one 9x5 inch loaf", 1),
        ("Makes a dozen", 12),
        ("SERVES: 6", 6),
        ("Cut into 15", 15),
        ("cuts into 15 squares", 15),
        ("Makes 15 bars", 15),
        ("yields 2 dozen", 24),
        ("for 12 people", 12),
        ("8 portions", 8),
    ] {
        assert_eq!(pieces(line), Some((Some(count), None)), "{line}");
    }
    let each = says("Makes 12 x 60 g buns").makes.map(|made| (made.pieces, made.each));
    assert_eq!(each, Some((Some(12), Some("60 g".to_owned()))));
    assert_eq!(pieces("Yield: 900 g"), Some((None, Some("900 g".to_owned()))));
    let ranged = says("Serves 6–8");
    assert_eq!(ranged.makes.map(|made| (made.pieces, made.told.is_some())), Some((Some(6), true)));
    for line in ["Cut into 2 cm cubes", "Cut in two and fill", "Cut into 12 strips", "2 medlars, cut into 8 pieces"] {
        assert!(otherwise(line, reference()).is_none_or(|said| said.makes.is_none()), "{line}");
    }
    for line in ["Makes enough for a crowd", "Makes 1 1/2 cups", "Makes 1.5 loaves", "Makes 0 buns"] {
        let said = says(line);
        assert!(said.makes.is_none() && !said.doubts.is_empty(), "{line}: {said:?}");
    }
}

#[test]
fn an_oven_and_its_minutes_are_read_off_a_sentence() {
    let bake = |line: &str| {
        let said = says(line);
        (said.oven.unwrap_or_default(), said.minutes.unwrap_or_default(), said.fan)
    };
    let is = |oven: &str, minutes: &str, fan: bool| (oven.to_owned(), minutes.to_owned(), fan);
    assert_eq!(bake("Bake at 350 °F for 30 minutes"), is("350 F", "30 min", false));
    assert_eq!(bake("Preheat the oven to 180C/350F/Gas 4."), is("180 C / 350 F / gas mark 4", "", false));
    assert_eq!(bake("Oven: 180 C fan 160 C"), is("180 C / 160 C fan", "", false));
    assert_eq!(bake("Oven 140°C/120°C fan/gas mark 1"), is("140 C / gas mark 1 / 120 C fan", "", false));
    assert_eq!(bake("Bake at 160C fan for 1 hour 15 minutes"), is("160 C", "75 min", true));
    assert_eq!(bake("325F, 20-25 min"), is("325 F", "20-25 min", false));
    assert_eq!(bake("180 fan 160, 25 min"), is("180 C / 160 C fan", "25 min", false));
    assert_eq!(bake("200/180 fan for 20 min"), is("200 C / 180 C fan", "20 min", false));
    assert_eq!(bake("Moderate oven 180°C (160°C fan-forced), 25 mins"), is("180 C / 160 C fan", "25 min", false));
    assert_eq!(bake("Bake for 1–1¼ hours, until firm, then cool for 10 minutes"), is("", "60-75 min", false));
}

#[test]
fn a_bake_in_stages_is_not_taken_for_one_of_them() {
    for (line, told) in [
        ("Bake at 425 F for 15 minutes, then 350 F for 40 minutes", "15 min at 425 F, 40 min at 350 F"),
        ("Bake 10 minutes, reduce to 350 F and bake 40 minutes more", "10 min, 40 min at 350 F"),
        ("425F for 20 min, then 350F for 40 more", "20 min at 425 F, 40 min at 350 F"),
        ("Bake at 425 F for 20 minutes. Reduce to 350 F and bake for 40 minutes.", "20 min at 425 F, 40 min at 350 F"),
        ("Bake 30 minutes at 230 C covered, 15 minutes uncovered", "30 min at 230 C (covered), 15 min (uncovered)"),
    ] {
        let said = says(line);
        assert!(said.oven.is_none() && said.minutes.is_none() && said.doubts.is_empty(), "{line}: {said:?}");
        assert_eq!(said.stages.iter().map(StageSaid::text).collect::<Vec<_>>().join(", "), told, "{line}");
    }
    for line in ["Bake at 225 for 15 minutes", "Bake at 225 for 15 minutes, then 180 for 40"] {
        let said = says(line);
        assert!(said.stages.is_empty() && !said.doubts.is_empty(), "{line}: {said:?}");
    }
}

#[test]
fn degrees_of_no_celsius_oven_are_fahrenheit_and_told() {
    for (line, oven) in [
        ("Bake at 350 for 50 min.", "350 F"),
        ("Bake 325° for 45-50 min", "325 F"),
        ("350° 50-60 mins", "350 F"),
        ("Bake 350 for 28-32 mins", "350 F"),
    ] {
        let said = says(line);
        assert_eq!((said.oven.as_deref(), said.told.is_some(), said.doubts.len()), (Some(oven), true, 0), "{line}: {said:?}");
    }
    for line in ["Bake at 300 for 50 min", "Bake at 350-375 for 30 min", "Bake at 350/180 for 30 min", "Bake at 180 for 30 min"] {
        assert!(says(line).oven.is_none(), "{line}: {:?}", says(line));
    }
}

#[test]
fn an_oven_that_is_turned_off_bakes_no_more() {
    for line in [
        "9-inch springform (3\" tall), water bath, 325°F 1 hr 30 min, +1 hr oven off",
        "Bake at 325 F for 90 minutes, turn the oven off and leave the cake in it for 1 hour",
    ] {
        let said = says(line);
        assert_eq!((said.oven.as_deref(), said.minutes.as_deref()), (Some("325 F"), Some("90 min")), "{line}: {said:?}");
    }
}

#[test]
fn the_end_of_a_range_of_time_has_its_own_unit() {
    for (line, minutes) in [
        ("170C, 45'-50'", "45-50 min"),
        ("Oven: 140 C for 1 hr 15, no peeking", "75 min"),
        ("Bake 1h30 at 140 C", "90 min"),
        ("Bake at 150 C for 1 hour to 1 hour 15 minutes", "60-75 min"),
        ("Bake at 350 F 30 min", "30 min"),
    ] {
        assert_eq!(says(line).minutes.as_deref(), Some(minutes), "{line}");
    }
}

#[test]
fn a_skillet_is_a_tin_where_it_bakes_and_not_on_the_stove() {
    for line in
        ["10-inch cast iron skillet", "Bake in a 10-inch cast iron skillet at 425 F for 20 minutes", "For a 10-inch cast iron skillet"]
    {
        assert_eq!(says(line).pan.as_deref(), Some("10-inch cast iron skillet"), "{line}");
    }
    for line in ["Melt the butter in a 10-inch skillet.", "Cook the apples in a 12 inch frying pan over medium heat"] {
        let said = says(line);
        assert_eq!((said.pan, said.aside), (None, Some(STOVE)), "{line}");
    }
}

#[test]
fn a_tin_is_found_in_a_sentence() {
    let pan = |line: &str| says(line).pan.unwrap_or_default();
    assert_eq!(pan("Pan: 9x13"), "9x13 pan");
    assert_eq!(pan("Makes 1 loaf"), "");
    let two = says("use a 23 cm springform tin or a 20 cm square tin");
    assert_eq!((two.pan.as_deref(), two.doubts.len()), (Some("23 cm springform tin"), 1));
    let shapeless = says("For a 20cm tin");
    assert!(shapeless.pan.is_none() && shapeless.strange_pan.is_some(), "{shapeless:?}");
    assert_eq!(pan("for a 9 inch round tin"), "9 inch round tin");
    assert_eq!(pan("2lb loaf tin, greased and lined"), "2lb loaf tin");
    assert_eq!(pan("lamington pan 20 x 30cm"), "lamington pan 20 x 30cm");
    assert_eq!(pan("12-hole muffin tin, 12 paper cases"), "12-hole muffin tin");
    assert_eq!(pan("Grease a 9x5-inch loaf pan."), "9x5-inch loaf pan");
    assert_eq!(pan("one 20cm round springform tin"), "one 20cm round springform tin");
    assert_eq!(pan("Grease and line two 8-inch round cake tins"), "two 8-inch round cake tins");
}

#[test]
fn the_rest_is_told_for_what_it_is() {
    for line in [
        "Prep time: 20 minutes",
        "Total 863 g",
        "Ingredient | Amount",
        "Note: keeps for a week.",
        "Mix everything together well",
        "|---|---|",
        "12 paper cases",
        "Blind bake at 190 C for 15 minutes",
    ] {
        assert!(says(line).aside.is_some(), "{line}");
    }
    for line in ["2 cups flour", "butter", "Cooking oil", "Cream cheese", "mixed peel", "Baking powder 10 g"] {
        assert_eq!(opened(line, reference()), None, "{line}");
    }
}

#[test]
fn a_time_of_the_oven_behind_those_of_the_work_is_not_lost() {
    for line in
        ["Prep 15 mins, cook 50 mins", "Prep time: 15 min; cooking time: 50 min", "Prep 15 min, chill 1 hour, cook 50 min, total 2 h"]
    {
        let said = says(line);
        assert_eq!((said.aside, said.doubts.len(), &*said.tries), (None, 1, &["Bake for 50 min".to_owned()][..]), "{line}: {said:?}");
    }
    let said = says("Prep 20 min; bake 35 min at 180 C");
    assert_eq!((said.oven.as_deref(), said.minutes.as_deref()), (Some("180 C"), Some("35 min")));
    assert_eq!(says("Prep 20 min, baking 35 min").minutes.as_deref(), Some("35 min"));
    assert!(says("Prep 20 min, total 1 hour").aside.is_some());
}

#[test]
fn stages_without_a_scale_or_a_unit_are_stages() {
    let said = says("425 for 15 min, then 350 for 40-50");
    assert_eq!(said.stages.iter().map(StageSaid::text).collect::<Vec<_>>(), ["15 min at 425 F", "40-50 min at 350 F"]);
    assert!(said.told.is_some_and(|told| told.contains("425") && told.contains("350")));
}

#[test]
fn an_oven_behind_a_tin_is_not_lost() {
    for (line, pan, minutes) in [
        ("Springform 26 cm Ø, 180 °C O/U heat, 35 min", "Springform 26 cm Ø", "35 min"),
        ("9x13; 350F 35-45 min", "9x13 pan", "35-45 min"),
        ("8 inch square pan, lined with paper, 350 F until golden, 30 min", "8 inch square pan", "30 min"),
    ] {
        let said = says(line);
        assert_eq!((said.pan.as_deref(), said.minutes.as_deref()), (Some(pan), Some(minutes)), "{line}: {said:?}");
        assert!(said.oven.is_some(), "{line}: {said:?}");
    }
    assert_eq!(says("2 loaf tins 21 x 8 cm, 6 x 60 g balls each").pan.as_deref(), Some("2 loaf tins 21 x 8 cm"));
    let stages = |line: &str| says(line).stages.iter().map(StageSaid::text).collect::<Vec<_>>().join(", ");
    assert_eq!(stages("200C 6 min → 170C 6 min"), "6 min at 200 C, 6 min at 170 C");
    assert_eq!(stages("350 for 8 min (crust), then 15 min filled"), "8 min at 350 F (crust), 15 min");
    assert_eq!(says("makes 18 (25 g ea.)").makes.and_then(|made| made.each).as_deref(), Some("25 g"));
}

#[test]
fn an_oven_is_found_whatever_stands_before_it() {
    let bake = |line: &str| {
        let said = says(line);
        (said.oven.unwrap_or_default(), said.minutes.unwrap_or_default(), said.doubts.len())
    };
    let is = |oven: &str, minutes: &str, doubts: usize| (oven.to_owned(), minutes.to_owned(), doubts);
    assert_eq!(bake("8 layers Ø 22 cm; 200 °C 4-5 min each"), is("200 C", "4-5 min", 0));
    assert_eq!(bake("200C fan, 25-30"), is("200 C", "", 1));
    assert_eq!(bake("Mod. oven 2 to 2½ hours"), is("", "120-150 min", 0));
    assert_eq!(bake("A moderate oven, Reg. 3, for 1 hour"), is("gas mark 3", "60 min", 0));
    let tin = says("2-kg tin; bake 180° C for 70-75 min (core 96-98 °C)");
    assert_eq!((tin.oven.as_deref(), tin.strange_pan.is_some()), (Some("180 C"), true), "{tin:?}");
}
