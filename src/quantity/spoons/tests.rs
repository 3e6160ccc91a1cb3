//! What a cook is told of a volume, in the measures of each country.

use super::*;
use crate::quantity::{Quantity, Span};

#[track_caller]
fn is(measures: Measures, millilitres: f64, text: &str) {
    let found = Drawer::of(measures).nearest(Volume::millilitres(millilitres));
    assert_eq!(found.to_string(), text, "{millilitres} ml: {found:?}");
    assert!((found.volume().in_millilitres() / millilitres - 1.0).abs() < 0.09, "{found:?}");
}

#[test]
fn a_us_cup_is_a_little_less_than_a_metric_one() {
    is(Measures::Us, 236.588, "1 cup");
    is(Measures::Us, 250.0, "1 cup plus 1 tbsp");
    is(Measures::Metric, 236.588, "3/4 cup plus 3 tbsp");
    is(Measures::Japan, 400.0, "2 cups");
}

#[test]
fn spoons_are_whole_halves_quarters_and_eighths() {
    is(Measures::Us, 14.787, "1 tbsp");
    is(Measures::Us, 4.93, "1 tsp");
    is(Measures::Us, 2.5, "1/2 tsp");
    is(Measures::Us, 0.62, "1/8 tsp");
    is(Measures::Australia, 14.787, "3 tsp");
    is(Measures::Australia, 29.574, "1 1/2 tbsp");
}

#[test]
fn the_measures_around_a_volume_hold_it_between_them() {
    let drawer = Drawer::of(Measures::Us);
    for tenths in 7..20_000 {
        let millilitres = f64::from(tenths) / 10.0;
        let bounds = drawer.bounds(Volume::millilitres(millilitres));
        let [below, above] = bounds.map(|spooned| spooned.volume().in_millilitres());
        assert!(below <= millilitres || millilitres < drawer.least().in_millilitres(), "{millilitres}: {bounds:?}");
        assert!(above >= millilitres && above - below < millilitres.max(1.0), "{millilitres}: {bounds:?}");
    }
}

#[test]
fn what_no_measure_holds_is_told_in_those_that_lie_in_the_drawer() {
    let told = |measures: Measures, count: f64, unit: &str| {
        let text = Drawer::of(measures).told(count, Unit::known(unit));
        text.map_or_else(|| "as it is".to_owned(), |text| text.to_string())
    };
    let us = |count, unit| told(Measures::Us, count, unit);
    for (count, unit, wanted) in [
        (0.1875, "us-cup", "3 tbsp"),
        (0.0625, "us-cup", "1 tbsp"),
        (1.875, "us-cup", "1 3/4 cups plus 2 tbsp"),
        (2.67, "us-cup", "2 2/3 cups"),
        (2.7, "us-cup", "about 2 2/3 cups"),
        (40.0, "us-tablespoon", "2 1/2 cups"),
        (20.0, "us-teaspoon", "6 tbsp plus 2 tsp"),
        (0.45, "us-cup", "about 7 tbsp"),
        (2.0 / 3.0, "us-tablespoon", "2 tsp"),
        (4.5, "us-teaspoon", "1 1/2 tbsp"),
        (1.78, "us-pint", "about 3 1/2 cups"),
        (2.5, "us-cup", "as it is"),
        (6.0, "us-tablespoon", "as it is"),
        (0.0625, "us-teaspoon", "1/16 tsp"),
        (0.08, "us-teaspoon", "1/16 to 1/8 tsp"),
        (0.02, "us-teaspoon", "less than 1/16 tsp"),
        (0.17, "us-teaspoon", "1/8 to 1/4 tsp"),
        (0.35, "us-teaspoon", "about 1/3 tsp"),
        (0.39, "us-teaspoon", "about 3/8 tsp"),
        (0.6, "us-teaspoon", "about 5/8 tsp"),
        (0.45, "us-teaspoon", "scant 1/2 tsp"),
        (0.56, "us-teaspoon", "generous 1/2 tsp"),
        (3.0, "us-teaspoon", "1 tbsp"),
        (1.0 / 3.0, "us-teaspoon", "1/3 tsp"),
        (1.78, "stick", "about 1 3/4 sticks"),
        (3.56, "each", "about 3 1/2 pieces"),
        (0.9, "each", "as it is"),
        (1.26, "dozen", "1 1/4 dozen"),
        (0.1, "each", "as it is"),
        (40.1, "each", "40 pieces"),
        (41.667, "each", "42 pieces"),
        (20.4, "stick", "about 20 sticks"),
        (12.0, "each", "as it is"),
        (3.0, "metric-cup", "as it is"),
    ] {
        assert_eq!(us(count, unit), wanted, "{count} {unit}");
    }
    assert_eq!(told(Measures::Uk, 18.0, "metric-tablespoon"), "as it is", "the British have no cup");
    // Whoever spoons it all the same fills no hundredths of a spoon.
    assert_eq!(
        [13.11, 11.41, 7.29].map(|count| told(Measures::Uk, count, "metric-tablespoon")),
        ["13 tbsp", "11 1/2 tbsp", "about 7 1/2 tbsp"]
    );
    assert_eq!(told(Measures::Australia, 1.08, "metric-cup"), "1 metric cup plus 1 Australian tbsp");
}

#[test]
fn nobody_counts_to_twenty_cups() {
    let counts = |measures: Measures, count: f64, unit: &str| Drawer::of(measures).counts(count, Unit::known(unit));
    assert!(counts(Measures::Us, 12.0, "us-cup") && !counts(Measures::Us, 16.67, "us-cup"));
    assert!(!counts(Measures::Us, 300.0, "us-tablespoon") && counts(Measures::Us, 10.0, "us-quart"));
    assert!(counts(Measures::Uk, 12.0, "metric-tablespoon") && !counts(Measures::Uk, 30.0, "metric-tablespoon"));
    assert!(counts(Measures::Us, 9000.0, "millilitre") && counts(Measures::Us, 500.0, "each"), "a jug is read, and eggs are counted");
    let handy = |cups: f64| Drawer::of(Measures::Us).is_handy(Volume::millilitres(cups * 236.588));
    assert!(handy(11.0) && !handy(13.0));
}

#[test]
fn what_is_told_of_a_small_spoon_holds_the_amount() {
    let drawer = Drawer::of(Measures::Us);
    let spoon = Unit::known("us-teaspoon");
    for hundredths in 1..300 {
        let count = f64::from(hundredths) / 100.0;
        let told = drawer.told(count, spoon).unwrap_or_else(|| Quantity::in_unit(Span::exact(Volume::millilitres(count)), spoon).text);
        assert!(!told.contains('.'), "no spoon holds {told}");
    }
}
