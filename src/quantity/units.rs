//! The units of the kitchen, each with its exact definition and where that stands. A row is a fact by definition, so the list lives in code and a wrong row does not compile.

use super::unit::Family::{Area, Count, Length, Mass, OvenMark, Temperature, TemperatureChange, Time, Volume};
use super::unit::Measures::{Australia, Canada, Imperial, Japan, Metric, Uk, Us, UsLabel};
use super::unit::{Family, Measures, Unit};

const HB44: &str = "nist-hb44";
const SI: &str = "bipm-si";
const UK_ACT: &str = "uk-weights-measures-1985";
const PRACTICE: &str = "practice";

/// A unit that means the same in every country.
const fn unit(
    id: &'static str,
    (one, many): (&'static str, &'static str),
    ucum: Option<&'static str>,
    family: Family,
    size: f64,
    (definition, source): (&'static str, &'static str),
    words: &'static [&'static str],
) -> Unit {
    Unit { id, one, many, ucum, family, size, definition, source, words, national: &[], sets: &[] }
}

/// A volume whose plain word means another in another country.
#[allow(clippy::too_many_arguments, reason = "a row has as many cells")]
const fn national(
    id: &'static str,
    (one, many): (&'static str, &'static str),
    ucum: Option<&'static str>,
    size: f64,
    (definition, source): (&'static str, &'static str),
    words: &'static [&'static str],
    national: &'static [&'static str],
    sets: &'static [Measures],
) -> Unit {
    Unit { id, one, many, ucum, family: Volume, size, definition, source, words, national, sets }
}

const CUP: &[&str] = &["cup", "cups", "c", "cp", "cupful", "cupfuls"];
const TABLESPOON: &[&str] = &[
    "tablespoon",
    "tablespoons",
    "tablespoonful",
    "tablespoonfuls",
    "T",
    "Tbsp",
    "Tbs",
    "TB",
    "Tb",
    "tbsp",
    "tblspn",
    "tblspns",
    "tbsps",
    "tbs",
    "tbl",
    "tblsp",
    "tablesp",
    "tbls",
];
const TEASPOON: &[&str] = &["teaspoon", "teaspoons", "teaspoonful", "teaspoonfuls", "t", "tsp", "tsps", "teasp", "tspn", "tspns"];
const FLUID_OUNCE: &[&str] = &["fluid ounce", "fluid ounces", "fluid oz", "fl oz", "fl.oz", "fl ozs", "floz", "fl-oz"];
const PINT: &[&str] = &["pint", "pints", "pt", "pts"];
const QUART: &[&str] = &["quart", "quarts", "qt", "qts"];
const GALLON: &[&str] = &["gallon", "gallons", "gal", "gals"];
const GILL: &[&str] = &["gill", "gills"];
const DESSERTSPOON: &[&str] =
    &["dessertspoon", "dessertspoons", "dessert spoon", "dessert spoons", "dessertsp", "dessertspn", "dsp", "dstspn"];

// In German and French formulas the spoons are the metric ones: Esslöffel and cuillère à soupe 15 ml, Teelöffel and cuillère à café 5 ml; and so are the matsked and the tesked of Sweden, the spiseske of Denmark. "cc" is left to the cubic centimetre.
const EATING_SPOON: &[&str] = &[
    "metric tablespoon",
    "metric tablespoons",
    "metric tbsp",
    "uk tablespoon",
    "uk tbsp",
    "el",
    "esslöffel",
    "essloeffel",
    "cuillère à soupe",
    "cuillères à soupe",
    "cuillere a soupe",
    "cuilleres a soupe",
    "c. à soupe",
    "c. à s.",
    "c.à.s",
    "msk",
    "matsked",
    "matskedar",
    "spsk",
    "càs",
];
const COFFEE_SPOON: &[&str] = &[
    "metric teaspoon",
    "metric teaspoons",
    "metric tsp",
    "uk teaspoon",
    "uk tsp",
    "tl",
    "teelöffel",
    "teeloeffel",
    "cuillère à café",
    "cuillères à café",
    "cuillere a cafe",
    "cuilleres a cafe",
    "c. à café",
    "c. à c.",
    "c.à.c",
    "tsk",
    "tesked",
    "teskedar",
    "càc",
];

/// Every unit that is understood: one a line, as a table is read.
#[rustfmt::skip]
pub const UNITS: &[Unit] = &[
    // Masses, in grams. In a bakery "gr" is the gram all over Europe; the grain, which it abbreviates in law, is written out.
    unit("gram", ("g", "g"), Some("g"), Mass, 1.0, ("the gram", SI), &["g", "gram", "grams", "gramme", "grammes", "gr", "grs", "gm", "gms", "grm"]),
    unit("kilogram", ("kg", "kg"), Some("kg"), Mass, 1000.0, ("1000 g", SI), &["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"]),
    unit("hectogram", ("hg", "hg"), Some("hg"), Mass, 100.0, ("100 g", SI), &["hg", "hecto", "hectos", "hectogram", "hectograms", "etto", "etti"]),
    unit("decagram", ("dag", "dag"), Some("dag"), Mass, 10.0, ("10 g", SI), &["dag", "dkg", "deka", "decagram", "decagrams", "dekagram", "dekagrams"]),
    unit("milligram", ("mg", "mg"), Some("mg"), Mass, 0.001, ("0.001 g", SI), &["mg", "milligram", "milligrams"]),
    unit("ounce", ("oz", "oz"), Some("[oz_av]"), Mass, 28.349_523_125, ("1/16 lb", HB44), &["ounce", "ounces", "oz", "ozs", "oz av", "oz wt", "ounce weight"]),
    unit("us-label-ounce", ("label oz", "label oz"), Some("[oz_m]"), Mass, 28.0, ("28 g, on US nutrition labels only", "us-21cfr101-9"), &["label oz", "label ounce", "label ounces"]),
    unit("pound", ("lb", "lb"), Some("[lb_av]"), Mass, 453.592_37, ("0.45359237 kg exactly", HB44), &["pound", "pounds", "lb", "lbs", "#"]),
    unit("stone", ("stone", "stone"), Some("[stone_av]"), Mass, 6350.293_18, ("14 lb", UK_ACT), &["stone", "stones"]),
    unit("grain", ("grain", "grains"), Some("[gr]"), Mass, 0.064_798_91, ("1/7000 lb", HB44), &["grain", "grains"]),
    // Volumes, in millilitres.
    unit("millilitre", ("ml", "ml"), Some("mL"), Volume, 1.0, ("1 cubic centimetre", SI), &["ml", "mls", "mil", "mils", "millilitre", "millilitres", "milliliter", "milliliters", "cc", "cm3", "cm³"]),
    unit("centilitre", ("cl", "cl"), Some("cL"), Volume, 10.0, ("10 ml", SI), &["cl", "centilitre", "centilitres", "centiliter", "centiliters"]),
    unit("decilitre", ("dl", "dl"), Some("dL"), Volume, 100.0, ("100 ml", SI), &["dl", "decilitre", "decilitres", "deciliter", "deciliters"]),
    unit("litre", ("l", "l"), Some("L"), Volume, 1000.0, ("1000 ml", SI), &["l", "litre", "litres", "liter", "liters", "ltr"]),
    unit("cubic-inch", ("cubic inch", "cubic inches"), Some("[cin_i]"), Volume, 16.387_064, ("(2.54 cm) cubed", HB44), &["cubic inch", "cubic inches", "cu in", "in3", "in³"]),
    national("us-cup", ("cup", "cups"), Some("[cup_us]"), 236.588_236_5, ("16 US tablespoons, 231/16 cubic inches", HB44), &["us cup", "us cups", "american cup", "american cups"], CUP, &[Us]),
    national("us-tablespoon", ("tbsp", "tbsp"), Some("[tbs_us]"), 14.786_764_781_25, ("1/2 US fluid ounce", HB44), &["us tablespoon", "us tablespoons", "us tbsp", "american tablespoon"], TABLESPOON, &[Us]),
    national("us-teaspoon", ("tsp", "tsp"), Some("[tsp_us]"), 4.928_921_593_75, ("1/3 US tablespoon", HB44), &["us teaspoon", "us teaspoons", "us tsp", "american teaspoon"], TEASPOON, &[Us]),
    national("us-fluid-ounce", ("fl oz", "fl oz"), Some("[foz_us]"), 29.573_529_562_5, ("1/128 US gallon", HB44), &["us fl oz", "us fluid ounce", "us fluid ounces"], FLUID_OUNCE, &[Us, Japan]),
    national("us-pint", ("pint", "pints"), Some("[pt_us]"), 473.176_473, ("1/8 US gallon", HB44), &["us pint", "us pints"], PINT, &[Us, UsLabel, Japan]),
    national("us-quart", ("quart", "quarts"), Some("[qt_us]"), 946.352_946, ("1/4 US gallon", HB44), &["us quart", "us quarts"], QUART, &[Us, UsLabel, Japan]),
    national("us-gallon", ("gallon", "gallons"), Some("[gal_us]"), 3_785.411_784, ("231 cubic inches", HB44), &["us gallon", "us gallons"], GALLON, &[Us, UsLabel, Japan]),
    national("us-gill", ("gill", "gills"), Some("[gil_us]"), 118.294_118_25, ("1/4 US pint", HB44), &["us gill", "us gills"], GILL, &[Us, UsLabel, Japan]),
    unit("us-dry-pint", ("dry pint", "dry pints"), Some("[dpt_us]"), Volume, 550.610_471_357_5, ("1/64 US bushel of 2150.42 cubic inches", HB44), &["dry pint", "dry pints", "us dry pint"]),
    unit("us-dry-quart", ("dry quart", "dry quarts"), Some("[dqt_us]"), Volume, 1_101.220_942_715, ("1/32 US bushel", HB44), &["dry quart", "dry quarts", "us dry quart"]),
    national("us-label-cup", ("label cup", "label cups"), Some("[cup_m]"), 240.0, ("240 ml, on US nutrition labels only; UCUM calls it metric", "us-21cfr101-9"), &["label cup", "label cups"], CUP, &[UsLabel]),
    national("us-label-tablespoon", ("label tbsp", "label tbsp"), Some("[tbs_m]"), 15.0, ("15 ml, on US nutrition labels", "us-21cfr101-9"), &["label tablespoon", "label tbsp"], TABLESPOON, &[UsLabel]),
    national("us-label-teaspoon", ("label tsp", "label tsp"), Some("[tsp_m]"), 5.0, ("5 ml, on US nutrition labels", "us-21cfr101-9"), &["label teaspoon", "label tsp"], TEASPOON, &[UsLabel]),
    national("us-label-fluid-ounce", ("label fl oz", "label fl oz"), Some("[foz_m]"), 30.0, ("30 ml, on US nutrition labels", "us-21cfr101-9"), &["label fl oz", "label fluid ounce"], FLUID_OUNCE, &[UsLabel]),
    national("metric-cup", ("metric cup", "metric cups"), None, 250.0, ("250 ml; UCUM has no code for it", "uk-metric-association"), &["metric cup", "metric cups"], CUP, &[Metric, Australia]),
    national("metric-tablespoon", ("tbsp", "tbsp"), None, 15.0, ("15 ml", "uk-metric-association"), EATING_SPOON, TABLESPOON, &[Metric, Uk, Canada, Japan]),
    national("metric-teaspoon", ("tsp", "tsp"), None, 5.0, ("5 ml", "uk-metric-association"), COFFEE_SPOON, TEASPOON, &[Metric, Uk, Canada, Australia, Japan]),
    national("metric-dessertspoon", ("dessertspoon", "dessertspoons"), None, 10.0, ("10 ml", "uk-metric-association"), &["metric dessertspoon"], DESSERTSPOON, &[Us, UsLabel, Metric, Uk, Imperial, Canada, Australia, Japan]),
    national("australian-tablespoon", ("Australian tbsp", "Australian tbsp"), None, 20.0, ("20 ml", "uk-metric-association"), &["australian tablespoon", "australian tablespoons", "australian tbsp", "au tbsp"], TABLESPOON, &[Australia]),
    national("imperial-cup", ("imperial cup", "imperial cups"), None, 284.130_625, ("10 imperial fluid ounces, half a pint: traditional, not law", "uk-metric-association"), &["imperial cup", "imperial cups", "uk cup", "uk cups", "british cup"], CUP, &[Uk, Imperial]),
    national("canadian-cup", ("Canadian cup", "Canadian cups"), None, 227.304_5, ("8 imperial fluid ounces, the traditional cup; the metric one is 250 ml", "uk-metric-association"), &["canadian cup", "canadian cups"], CUP, &[Canada]),
    national("japanese-cup", ("Japanese cup", "Japanese cups"), None, 200.0, ("200 ml", "uk-metric-association"), &["japanese cup", "japanese cups"], CUP, &[Japan]),
    national("imperial-tablespoon", ("imperial tbsp", "imperial tbsp"), None, 17.758_164_062_5, ("5/8 imperial fluid ounce: traditional, from memory", UK_ACT), &["imperial tablespoon", "imperial tablespoons", "imperial tbsp"], TABLESPOON, &[Imperial]),
    national("imperial-teaspoon", ("imperial tsp", "imperial tsp"), None, 5.919_388_020_833_333, ("1/24 gill: traditional, from memory", UK_ACT), &["imperial teaspoon", "imperial teaspoons", "imperial tsp"], TEASPOON, &[Imperial]),
    national("imperial-fluid-ounce", ("imperial fl oz", "imperial fl oz"), Some("[foz_br]"), 28.413_062_5, ("1/160 imperial gallon", UK_ACT), &["imperial fl oz", "imperial fluid ounce", "imperial fluid ounces", "uk fl oz", "uk fluid ounce"], FLUID_OUNCE, &[Uk, Imperial, Canada, Australia, Metric]),
    national("imperial-gill", ("imperial gill", "imperial gills"), Some("[gil_br]"), 142.065_312_5, ("1/4 imperial pint", UK_ACT), &["imperial gill", "imperial gills"], GILL, &[Uk, Imperial, Canada, Australia, Metric]),
    national("imperial-pint", ("imperial pint", "imperial pints"), Some("[pt_br]"), 568.261_25, ("1/8 imperial gallon", UK_ACT), &["imperial pint", "imperial pints", "uk pint", "uk pints"], PINT, &[Uk, Imperial, Canada, Australia, Metric]),
    national("imperial-quart", ("imperial quart", "imperial quarts"), Some("[qt_br]"), 1_136.522_5, ("1/4 imperial gallon", UK_ACT), &["imperial quart", "imperial quarts", "uk quart"], QUART, &[Uk, Imperial, Canada, Australia, Metric]),
    national("imperial-gallon", ("imperial gallon", "imperial gallons"), Some("[gal_br]"), 4_546.09, ("4.54609 l exactly", UK_ACT), &["imperial gallon", "imperial gallons", "uk gallon"], GALLON, &[Uk, Imperial, Canada, Australia, Metric]),
    unit("go", ("go", "go"), None, Volume, 180.390_683_696_468_8, ("1/10 sho", "japan-sho-1891"), &["go", "gō", "japanese rice cup"]),
    unit("sho", ("sho", "sho"), None, Volume, 1_803.906_836_964_688_2, ("2401/1331 l exactly, since 1891", "japan-sho-1891"), &["sho", "shō"]),
    unit("dash", ("dash", "dashes"), None, Volume, 0.616_115_199_218_75, ("1/8 US teaspoon: not standardised, from memory", PRACTICE), &["dash", "dashes"]),
    unit("pinch", ("pinch", "pinches"), None, Volume, 0.308_057_599_609_375, ("1/16 US teaspoon: not standardised, from memory", PRACTICE), &["pinch", "pinches"]),
    unit("smidgen", ("smidgen", "smidgens"), None, Volume, 0.154_028_799_804_687_5, ("1/32 US teaspoon: not standardised, from memory", PRACTICE), &["smidgen", "smidgens", "smidge"]),
    // Lengths and areas, in centimetres.
    unit("centimetre", ("cm", "cm"), Some("cm"), Length, 1.0, ("0.01 m", SI), &["cm", "cms", "centimetre", "centimetres", "centimeter", "centimeters"]),
    unit("millimetre", ("mm", "mm"), Some("mm"), Length, 0.1, ("0.001 m", SI), &["mm", "millimetre", "millimetres", "millimeter", "millimeters"]),
    unit("metre", ("m", "m"), Some("m"), Length, 100.0, ("the metre", SI), &["metre", "metres", "meter", "meters"]),
    unit("inch", ("in", "in"), Some("[in_i]"), Length, 2.54, ("2.54 cm exactly", HB44), &["in", "in.", "inch", "inches", "ins", "\"", "″", "”"]),
    unit("foot", ("ft", "ft"), Some("[ft_i]"), Length, 30.48, ("12 in", HB44), &["ft", "foot", "feet", "'", "′"]),
    unit("square-centimetre", ("cm2", "cm2"), Some("cm2"), Area, 1.0, ("(1 cm) squared", SI), &["cm2", "cm²", "sq cm", "square centimetre", "square centimetres", "square centimeters"]),
    unit("square-inch", ("sq in", "sq in"), Some("[sin_i]"), Area, 6.4516, ("(2.54 cm) squared", HB44), &["in2", "in²", "sq in", "square inch", "square inches"]),
    // Temperatures: the size is that of one degree; the offset belongs to the scale.
    unit("celsius", ("°C", "°C"), Some("Cel"), Temperature, 1.0, ("kelvin less 273.15", SI), &["C", "°c", "℃", "celsius", "centigrade", "deg c", "degc", "degree celsius", "degrees c", "degrees celsius", "º c", "ºc"]),
    unit("fahrenheit", ("°F", "°F"), Some("[degF]"), Temperature, 0.555_555_555_555_555_6, ("C = (F - 32) / 1.8", HB44), &["f", "F", "°f", "℉", "fahrenheit", "deg f", "degf", "degree fahrenheit", "degrees f", "degrees fahrenheit", "ºf"]),
    unit("kelvin", ("K", "K"), Some("K"), Temperature, 1.0, ("the kelvin", SI), &["K", "kelvin", "kelvins"]),
    unit("celsius-degrees", ("Celsius degrees", "Celsius degrees"), None, TemperatureChange, 1.0, ("one degree of difference, no offset", SI), &["celsius degrees", "celsius degree", "c degrees", "c degree"]),
    unit("fahrenheit-degrees", ("Fahrenheit degrees", "Fahrenheit degrees"), None, TemperatureChange, 0.555_555_555_555_555_6, ("1/1.8 Celsius degree of difference", HB44), &["fahrenheit degrees", "fahrenheit degree", "f degrees", "f degree"]),
    unit("gas-mark", ("gas mark", "gas mark"), None, OvenMark, 1.0, ("F = 250 + 25 for each mark from 1; 1/2 is 250 F, 1/4 is 225 F", "gas-mark-table"), &["gas mark", "gas", "gas marks", "mark", "regulo", "gas no", "gas mk"]),
    unit("minute", ("min", "min"), Some("min"), Time, 1.0, ("60 s", SI), &["min", "mins", "min.", "minute", "minutes"]),
    unit("hour", ("h", "h"), Some("h"), Time, 60.0, ("60 min", SI), &["h", "hr", "hrs", "hour", "hours"]),
    // Counts.
    unit("each", ("piece", "pieces"), Some("1"), Count, 1.0, ("one", PRACTICE), &["each", "ea", "piece", "pieces", "pc", "pcs", "whole", "1"]),
    unit("dozen", ("dozen", "dozen"), None, Count, 12.0, ("12", PRACTICE), &["dozen", "doz", "dozens"]),
    unit("stick", ("stick", "sticks"), None, Count, 1.0, ("what the table of counted things says", "usda-sr28"), &["stick", "sticks", "stk", "stks"]),
    unit("packet", ("packet", "packets"), None, Count, 1.0, ("what the table of counted things says", "usda-sr28"), &["packet", "packets", "sachet", "sachets", "envelope", "envelopes", "pkt", "pkts", "pck", "pkg", "pkgs", "package", "packages"]),
    unit("sheet", ("sheet", "sheets"), None, Count, 1.0, ("what the table of counted things says", "usda-sr28"), &["sheet", "sheets"]),
    unit("leaf", ("leaf", "leaves"), None, Count, 1.0, ("what the table of counted things says; a leaf of gelatin is a sheet", "usda-sr28"), &["leaf", "leaves"]),
    unit("cake", ("cake", "cakes"), None, Count, 1.0, ("what the table of counted things says", "usda-sr28"), &["cake", "cakes", "block", "blocks"]),
    unit("square", ("square", "squares"), None, Count, 1.0, ("what the table of counted things says", "usda-sr28"), &["square", "squares"]),
    unit("cube", ("cube", "cubes"), None, Count, 1.0, ("what the table of counted things says", "usda-sr28"), &["cube", "cubes"]),
];

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn every_unit_has_an_id_and_words_of_its_own() {
        let ids: HashSet<_> = UNITS.iter().map(|unit| unit.id).collect();
        assert_eq!(ids.len(), UNITS.len());
        let mut words = HashSet::new();
        for word in UNITS.iter().flat_map(|unit| unit.words) {
            assert!(words.insert(word), "{word} means two units");
        }
        assert!(UNITS.iter().flat_map(|unit| unit.national).all(|word| !words.contains(word)));
    }

    #[test]
    fn the_us_measures_follow_from_231_cubic_inches() {
        // Whole numbers of 10^-10 ml keep every step exact: one cubic inch is 163870640000 of them.
        let gallon: i128 = 231 * 163_870_640_000;
        let share = |id: &str, parts: i128| {
            let exact = gallon as f64 / parts as f64 / 1e10;
            let written = Unit::known(id).size;
            assert!((written - exact).abs() <= exact * 2e-16, "{id}: {written} {exact}");
        };
        for (id, parts) in [
            ("us-gallon", 1),
            ("us-quart", 4),
            ("us-pint", 8),
            ("us-cup", 16),
            ("us-fluid-ounce", 128),
            ("us-tablespoon", 256),
            ("us-teaspoon", 768),
        ] {
            share(id, parts);
        }
    }
}
