//! Pounds and ounces as a scale that weighs in them shows them.

use smol_str::SmolStr;

use super::decimals::decimals;
use super::measure::Mass;
use super::unit::Unit;

/// "13 lb 8 oz", "5.3 oz": below an ounce to a hundredth, from there to a tenth.
pub fn pounds_text(mass: Mass) -> SmolStr {
    let ounces = mass.in_grams() / Unit::known("ounce").size;
    let told = |ounces: f64, places| SmolStr::from(format!("{} oz", decimals(ounces, places)));
    if ounces < 1.0 {
        return told(ounces, 2);
    }
    let tenths = (ounces * 10.0).round();
    let (pounds, over) = ((tenths / 160.0).floor(), tenths % 160.0 / 10.0);
    match (pounds > 0.0, over > 0.0) {
        (false, _) => told(over, 1),
        (true, false) => format!("{pounds} lb").into(),
        (true, true) => format!("{pounds} lb {} oz", decimals(over, 1)).into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sixteen_ounces_are_a_pound() {
        let told = |ounces: f64| pounds_text(Mass::grams(ounces * 28.349_523_125));
        assert_eq!(
            [told(216.0), told(5.333), told(0.4167), told(16.0), told(15.97), told(127.99)],
            ["13 lb 8 oz", "5.3 oz", "0.42 oz", "1 lb", "1 lb", "8 lb"]
        );
    }
}
