//! A unit: what it measures, how much of the base unit it is, what it is called. Which unit a word means can depend on the country of the cups and spoons.

use std::sync::LazyLock;

use foldhash::HashMap;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::units::UNITS;

/// What a unit measures.
/// - `mass`: a mass, in grams.
/// - `volume`: a volume, in millilitres.
/// - `length`: a length, in centimetres.
/// - `area`: an area, in square centimetres.
/// - `temperature`: a point on a scale of temperature.
/// - `temperature-change`: a distance between two temperatures, in Celsius degrees.
/// - `oven-mark`: a mark on the dial of a gas oven.
/// - `time`: a time, in minutes.
/// - `count`: pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Family {
    Mass,
    Volume,
    Length,
    Area,
    Temperature,
    TemperatureChange,
    OvenMark,
    Time,
    Count,
}

impl Family {
    /// What it measures, in a sentence.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Mass => "a mass",
            Self::Volume => "a volume",
            Self::Length => "a length",
            Self::Area => "an area",
            Self::Temperature => "a temperature",
            Self::TemperatureChange => "a temperature difference",
            Self::OvenMark => "a gas mark",
            Self::Time => "a time",
            Self::Count => "a count",
        }
    }
}

/// The national set of cups and spoons.
/// - `us`: US customary: cup 236.588 ml, tablespoon 14.787 ml.
/// - `metric`: cup 250 ml, tablespoon 15 ml, teaspoon 5 ml.
/// - `uk`: modern British: tablespoon 15 ml, teaspoon 5 ml, pint 568 ml.
/// - `imperial`: old British books: tablespoon 17.76 ml, pint 568 ml.
/// - `canada`: traditional Canadian: cup of 8 imperial fluid ounces, 227.3 ml.
/// - `australia`: cup 250 ml, tablespoon 20 ml.
/// - `japan`: cup 200 ml; go and sho.
/// - `us-label`: US nutrition labels: cup 240 ml, tablespoon 15 ml, ounce 28 g.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Measures {
    #[default]
    Us,
    Metric,
    Uk,
    Imperial,
    Canada,
    Australia,
    Japan,
    UsLabel,
}

impl Measures {
    pub const ALL: [Self; 8] =
        [Self::Us, Self::Metric, Self::Uk, Self::Imperial, Self::Canada, Self::Australia, Self::Japan, Self::UsLabel];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Us => "us",
            Self::Metric => "metric",
            Self::Uk => "uk",
            Self::Imperial => "imperial",
            Self::Canada => "canada",
            Self::Australia => "australia",
            Self::Japan => "japan",
            Self::UsLabel => "us-label",
        }
    }

    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|measures| measures.word() == word)
    }
}

/// One unit, with its exact definition.
#[derive(Debug, PartialEq)]
pub struct Unit {
    pub id: &'static str,
    /// How it stands behind a figure: "g", "cup".
    pub one: &'static str,
    pub many: &'static str,
    /// Its UCUM code, where it has one.
    pub ucum: Option<&'static str>,
    pub family: Family,
    /// How many grams, millilitres, centimetres … one of it is.
    pub size: f64,
    pub definition: &'static str,
    /// The id of the source of the definition.
    pub source: &'static str,
    /// Words that mean this unit in every country.
    pub words: &'static [&'static str],
    /// Words that mean this unit only within these national sets.
    pub national: &'static [&'static str],
    pub sets: &'static [Measures],
}

impl Unit {
    /// The unit with this id: for units that we name ourselves.
    pub fn known(id: &str) -> &'static Unit {
        Self::exactly(id, Measures::default()).unwrap_or(&UNITS[0])
    }

    /// Which unit a word means, among the measures of a country. Trade words win over UCUM codes; `t` and `T` are told apart.
    pub fn of_word(word: &str, measures: Measures) -> Option<&'static Unit> {
        let exact = |word: &str| Self::exactly(word, measures);
        exact(word)
            // A capital with a point is a capital still: "T." is a tablespoon.
            .or_else(|| word.strip_suffix('.').and_then(|word| exact(word.trim_end_matches('.'))))
            .or_else(|| {
                let plain = super::plain(word);
                let plain = plain.trim_end_matches('.');
                exact(plain).or_else(|| plain.contains('.').then(|| exact(&plain.replace('.', ""))).flatten())
            })
            .or_else(|| WORDS.ucum.get(word).copied())
            // A spoon is level where nothing else is said.
            .or_else(|| Self::of_word(word.strip_prefix("level ")?, measures).filter(|unit| unit.family == Family::Volume))
    }

    /// Which unit a word means in the very letters of the table.
    pub(super) fn exactly(word: &str, measures: Measures) -> Option<&'static Unit> {
        WORDS.exact.get(word)?.in_country(measures)
    }

    /// Whether so many pieces are counted that leave a factory each with its weight.
    pub fn is_made(&self) -> bool {
        matches!(self.id, "stick" | "packet")
    }

    /// Whether a word means another unit in another country: then an assumption must be told.
    pub fn is_national(&self) -> bool {
        !self.sets.is_empty()
    }

    /// What is told where a unit that many countries have is taken for that of the US.
    pub fn taken_for_us(&self) -> &'static str {
        match self.id {
            "us-pint" | "us-quart" | "us-gallon" | "us-gill" => {
                "Pints, quarts, gallons and gills are those of the US (pint 473 ml; that of the UK is 568 ml)"
            }
            "us-fluid-ounce" => "Fluid ounces are those of the US (29.6 ml; that of the UK is 28.4 ml)",
            _ => "Cups and spoons are those of the US (cup 236.6 ml, tablespoon 14.8 ml)",
        }
    }

    /// The spoon for which a pinch, a dash or a smidgen is taken: nothing standardises them.
    pub fn by_the_fingers(&self) -> Option<&'static str> {
        match self.id {
            "dash" => Some("1/8 tsp"),
            "pinch" => Some("1/16 tsp"),
            "smidgen" => Some("1/32 tsp"),
            _ => None,
        }
    }

    /// Every word that is understood, for suggestions.
    pub fn all_words() -> impl Iterator<Item = &'static str> {
        WORDS.exact.keys().copied()
    }
}

/// What a word means in each country: mostly the same everywhere.
#[derive(Default)]
struct Meaning([Option<&'static Unit>; Measures::ALL.len()]);

impl Meaning {
    fn in_country(&self, measures: Measures) -> Option<&'static Unit> {
        self.0[measures as usize]
    }
}

struct Words {
    exact: HashMap<&'static str, Meaning>,
    ucum: HashMap<&'static str, &'static Unit>,
}

static WORDS: LazyLock<Words> = LazyLock::new(|| {
    let mut words = Words { exact: HashMap::default(), ucum: HashMap::default() };
    for unit in UNITS {
        for word in unit.national {
            let meaning = words.exact.entry(word).or_default();
            unit.sets.iter().for_each(|set| meaning.0[*set as usize] = Some(unit));
        }
        if let Some(code) = unit.ucum {
            words.ucum.entry(code).or_insert(unit);
        }
    }
    for unit in UNITS {
        for word in unit.words.iter().copied().chain([unit.id]) {
            words.exact.insert(word, Meaning([Some(unit); Measures::ALL.len()]));
        }
    }
    words
});

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn is(word: &str, measures: Measures, id: &str) {
        assert_eq!(Unit::of_word(word, measures).map(|unit| unit.id), Some(id), "{word}");
    }

    #[test]
    fn a_cup_depends_on_the_country() {
        is("cup", Measures::Us, "us-cup");
        is("Cups", Measures::Metric, "metric-cup");
        is("c", Measures::Us, "us-cup");
        is("US cup", Measures::Australia, "us-cup");
        is("tbsp", Measures::Australia, "australian-tablespoon");
    }

    #[test]
    fn german_and_french_spoons_are_metric_in_every_set() {
        for measures in [Measures::Us, Measures::Australia] {
            for word in ["EL", "Esslöffel", "c. à s.", "cuillères à soupe", "msk", "spsk"] {
                is(word, measures, "metric-tablespoon");
            }
            for word in ["TL", "Teelöffel", "c. à c.", "cuillère à café", "tsk"] {
                is(word, measures, "metric-teaspoon");
            }
        }
        is("cc", Measures::Us, "millilitre");
    }

    #[test]
    fn every_unit_is_known_by_its_id() {
        for unit in UNITS {
            assert_eq!(Unit::known(unit.id).id, unit.id);
        }
    }

    #[test]
    fn a_small_t_is_a_teaspoon_and_a_large_one_a_tablespoon() {
        is("t", Measures::Us, "us-teaspoon");
        is("T", Measures::Us, "us-tablespoon");
        is("Tbsp.", Measures::Us, "us-tablespoon");
    }

    #[test]
    fn ounces_weigh_and_fluid_ounces_measure() {
        is("oz", Measures::Us, "ounce");
        is("T.", Measures::Us, "us-tablespoon");
        is("t.", Measures::Us, "us-teaspoon");
        is("fl. oz.", Measures::Us, "us-fluid-ounce");
        is("fl oz", Measures::Uk, "imperial-fluid-ounce");
        is("[foz_br]", Measures::Us, "imperial-fluid-ounce");
    }

    #[test]
    fn the_label_cup_keeps_its_confusing_code() {
        is("[cup_m]", Measures::Us, "us-label-cup");
    }

    #[test]
    fn every_word_of_a_country_means_something_everywhere() {
        for word in Unit::all_words() {
            for measures in Measures::ALL {
                assert!(Unit::exactly(word, measures).is_some(), "{word} means nothing in {measures:?}");
            }
        }
    }
}
