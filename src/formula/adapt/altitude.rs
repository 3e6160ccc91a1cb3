//! A high kitchen: less leavening and sugar, more liquid, a hotter oven, by the printed bands and what lies between them. Where two tables disagree the span holds both and the formula takes its middle.

use serde::Deserialize;
use utoipa::ToSchema;

use super::super::allergens::is_nut;
use super::super::base::{THICKENS, flour_and_starch};
use super::super::ledger::is_baked;
use super::super::place::LinePlace;
use super::super::resolved::{Formula, Line, Mixture};
use super::working::{Adapting, Change, Place};
use crate::pan::{Doneness, Material, Move, OvenKind, boiling, dial_change, doneness, read_altitude};
use crate::quantity::{Factor, Length, Mass, Pointer, Quantifiable, Quantity, Scale, Span, TemperatureChange, Written, between};
use crate::reference::{AltitudeBand, AltitudeTable, Class, Ingredient, Trait, UpHigh, short};

/// The height of another kitchen.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct AltitudeStep {
    /// The altitude of the kitchen, such as "1600 m" or "5280 ft".
    #[serde(deserialize_with = "Written::altitude")]
    pub to: Written,
}

/// Below this the household tables change nothing; they begin at 3000 ft, 914 m.
const FROM_METRES: f64 = 900.0;
/// The sources that are named beside what is changed.
const HOUSEHOLD: &str = "high-altitude-household";
const MILITARY: &str = "sb-10-495-1";
/// Tablespoons in a cup: the tables count what is cut or added by the spoon for each cup.
const SPOONS: f64 = 16.0;

/// The height of the kitchen, in the words and on the scale of its baker.
struct Height {
    said: String,
    metres: f64,
    scale: Scale,
}

/// By what the lines of each kind are multiplied.
struct Cuts {
    leavening: Span<Factor>,
    sugar: Span<Factor>,
    liquid: Span<Factor>,
}

/// A filling or a topping without flour to speak of, beside the thing itself: sugared butter, fruit, a custard.
fn is_no_crumb(mixture: &Mixture<'_>) -> bool {
    let least = mixture.whole().mass().value() * Factor::times(THICKENS);
    mixture.style().is_none() && mixture.root != mixture.formula.main_root() && mixture.sum(flour_and_starch).mass().value() < least
}

/// What holds nothing that could set as a crumb: fruit and sugar, cream and chocolate, soft cheese with gelatin. Without an oven it is boiled or stirred, and not baked.
fn has_no_crumb(mixture: &Mixture<'_>) -> bool {
    // What gelatin sets cold is no cheesecake of the oven.
    let cold = mixture.lines().any(|line| line.ingredient.is(Trait::Sets));
    let sets = |ingredient: &Ingredient| {
        let classes = [Class::Flour, Class::Starch, Class::Egg, Class::Leavening, Class::Cheese];
        classes.into_iter().filter(|class| !cold || *class != Class::Cheese).any(|class| ingredient.counts_as(class) > Factor::ZERO)
            || ingredient.is(Trait::StandsForFlour)
            || ingredient.allergens_eu.iter().any(|allergen| is_nut(allergen))
    };
    let main = mixture.root == mixture.formula.main_root();
    main && mixture.style().is_none() && !mixture.lines().any(|line| sets(&line.ingredient))
}

impl Adapting<'_> {
    pub fn altitude(&mut self, wanted: &AltitudeStep, at: &Pointer<'_>) {
        let altitude = read_altitude(&wanted.to, &at.key("to"));
        let Some(altitude) = self.faults.keep(altitude) else { return };
        // Whoever counts in feet has a dial in Fahrenheit, unless the formula shows another.
        let scale = self.scale(if altitude.in_metres { Scale::Celsius } else { Scale::Fahrenheit });
        let height = Height { metres: altitude.height.in_centimetres() / 100.0, said: altitude.said, scale };
        let (altitude, metres) = (altitude.height, height.metres);
        if metres < FROM_METRES {
            let why = format!(
                "At {} nothing is changed: the household tables begin at 914 m (3000 ft); the military table alone takes out a fifth of the leavening from 610 m (2000 ft)",
                height.said
            );
            self.account.cite_id(HOUSEHOLD);
            self.tell(Change { source: Some(HOUSEHOLD), ..Change::new(Place::Field(""), why) });
            return;
        }
        let Some(formula) = self.formula() else { return };
        let cuts = self.cuts(height.metres);
        let mut baked = false;
        let oven = self.written.bake.as_ref().is_some_and(|bake| bake.oven.is_some());
        for mixture in formula.mixtures() {
            if is_baked(&formula, mixture.root) && (oven || !has_no_crumb(&mixture)) {
                baked = true;
                self.higher(&mixture, &cuts, &height);
            }
        }
        if baked {
            self.account.caution("high-altitude-foam");
            self.hotter(altitude, &height, at);
            self.crumb(&formula, altitude, &height);
        } else {
            self.unbaked(altitude, &height);
        }
    }

    /// What the tables say for this height.
    fn cuts(&mut self, metres: f64) -> Cuts {
        use AltitudeTable::{Household, Military};
        let all = self.reference.altitudes.all;
        let of = |table: AltitudeTable, figure: &dyn Fn(&AltitudeBand) -> Option<[f64; 2]>| -> Span<Factor> {
            let bands = all.iter().filter(|band| band.table == table);
            let points: Vec<_> = bands.filter_map(|band| Some((band.altitude.in_centimetres() / 100.0, figure(band)?))).collect();
            between_bands(&points, metres)
        };
        let spoons = |span: Option<Span<Factor>>| span.map(|span| [span.low().value(), span.high().value()].map(|spoons| spoons / SPOONS));
        let powder = |band: &AltitudeBand| Some([band.powder_cut.low().value(), band.powder_cut.high().value()]);
        let (household, military) = (of(Household, &powder), of(Military, &powder));
        let both = household.hull(military);
        let cut = Span::between(both.low(), both.high());
        let (sugar, liquid) = (of(Household, &|band| spoons(band.sugar_cut)), of(Household, &|band| spoons(band.liquid_rise)));
        all.iter().for_each(|band| self.account.cite(band.citation));
        let less = |cut: Factor| Factor::times(1.0 - cut.value());
        Cuts {
            leavening: cut.map_falling(less),
            sugar: sugar.map_falling(less),
            liquid: liquid.map(|more| Factor::times(1.0 + more.value())),
        }
    }

    fn higher(&mut self, mixture: &Mixture<'_>, cuts: &Cuts, height: &Height) {
        let asks = mixture.style().map_or(UpHigh::All, |style| style.up_high);
        let untouched = if mixture.has_yeast() {
            Some("a yeast dough rises faster up here; give it less time, colder dough or up to a quarter less yeast")
        } else if is_no_crumb(mixture) {
            Some("the tables are those of cakes, and it has no crumb that could fall")
        } else {
            match asks {
                UpHigh::All => None,
                UpHigh::Liquid => {
                    self.account.cite_id("csu-extension");
                    Some("the tables are those of cakes; pastry takes a little more liquid, added by the teaspoon where it comes out dry")
                }
                UpHigh::Nothing => Some("it hardly rises"),
            }
        };
        if let Some(why) = untouched {
            self.tell(Change::new(Place::Field("/parts"), format!("\"{}\" stays as it is: {why}", mixture.part().name)));
            return;
        }
        let mut wetted = false;
        for (LinePlace { part, line: at }, line) in mixture.placed() {
            let kind = kind(line);
            if kind != Some(Class::Leavening) {
                self.leavening_within((part, at), line, cuts.leavening);
            }
            let (factor, what, source) = match kind {
                Some(Class::Leavening) => (cuts.leavening, "less leavening: household and military tables disagree", MILITARY),
                Some(Class::Sugar) => (cuts.sugar, "less sugar, which concentrates as water boils off", HOUSEHOLD),
                Some(Class::Liquid) => {
                    wetted = true;
                    (cuts.liquid, "more liquid, for it evaporates sooner", HOUSEHOLD)
                }
                _ => continue,
            };
            if factor.value() == Factor::ONE {
                continue;
            }
            let ends = [factor.low(), factor.high()].map(|end| short((end.value() * 1000.0).round() / 1000.0));
            let why = format!("At {} {what}: {} times as much", height.said, between(&ends[0], &ends[1]));
            self.multiply((part, at), line, factor, &why, source);
        }
        if !wetted {
            let why =
                format!("\"{}\" has no liquid to add to: where it comes out dry, an extra egg is the usual mend", mixture.part().name);
            self.tell(Change { source: Some("csu-extension"), ..Change::new(Place::Field("/parts"), why) });
            self.account.cite_id("csu-extension");
        }
    }

    /// Leavening that stands within a flour or a mix cannot be cut by itself: what is asked of it is told, and what makes it possible.
    fn leavening_within(&mut self, (part, at): (usize, usize), line: &Line, factor: Span<Factor>) {
        let ingredient = &line.ingredient;
        let carried = line.weight.mass.value() * ingredient.counts_as(Class::Leavening);
        if carried == Mass::ZERO || factor.value() == Factor::ONE || ingredient.fresh_yeast.is_some() {
            return;
        }
        let asked = Quantity::from(factor.map(|factor| carried * factor)).range_text();
        let mend = if self.reference.swaps.of(&ingredient.id).next().is_some() {
            "Put the step \"replace\" with this ingredient before this one: the leavening then stands apart, and is cut"
        } else {
            "Take out as much of the other leavening, or use less of this"
        };
        let why = format!(
            "{} brings about {} of leavening of its own, which is not cut here; the tables ask for {asked}. {mend}",
            ingredient.name,
            Quantity::from(carried).text
        );
        let place = self.place(part, at);
        self.tell(Change { source: Some(HOUSEHOLD), ..Change::new(place, why) });
    }

    /// The oven, hotter.
    fn hotter(&mut self, altitude: Length, height: &Height, at: &Pointer<'_>) {
        let moved = Move { ovens: [OvenKind::default(); 2], materials: [Material::default(); 2], altitude };
        let change = dial_change(&moved, self.reference, self.account);
        if change.is_exact() && change.value() == TemperatureChange::ZERO {
            return;
        }
        let more = height.scale.changes([change.low(), change.high()]);
        let why = format!("The crust must set before the crumb has risen too far: {more} more");
        let bake = self.written.bake.as_ref().filter(|bake| bake.oven.is_some());
        let (root, ovens) = (Pointer::ROOT, bake.map(|bake| (bake.from_oven.unwrap_or_default(), bake.clone())));
        let Some((oven, bake)) = ovens else {
            self.tell(Change::new(Place::Field("/bake"), format!("{why}; the formula does not say where the dial stands")));
            return;
        };
        let formula = root.key("formula");
        // A setting that is still meant for another oven stays so: only the height is added here.
        let to = bake.to_oven;
        match bake.resolve(&formula.key("bake")) {
            Ok(bake) => self.turn(&bake, change, oven, None, &why, at),
            Err(faults) => self.faults.append(faults),
        }
        if let Some(bake) = self.written.bake.as_mut() {
            bake.to_oven = to;
        }
    }

    /// What is not baked keeps its weights; what is boiled is boiled by a thermometer that stands lower.
    fn unbaked(&mut self, altitude: Length, height: &Height) {
        let boils = height.scale.points([boiling(altitude); 2], 1);
        let usual = height.scale.points([boiling(Length::ZERO); 2], 0);
        let why = format!(
            "At {} nothing is changed, for nothing of it is baked. Water boils at {boils} here: a syrup that is boiled to a temperature is done as much below the printed figure as that lies below {usual}",
            height.said
        );
        self.account.cite_id("icao-standard-atmosphere");
        self.tell(Change { source: Some("icao-standard-atmosphere"), ..Change::new(Place::Field(""), why) });
    }

    /// The crumb never gets hotter than water boils here.
    fn crumb(&mut self, formula: &Formula, altitude: Length, height: &Height) {
        let boils = height.scale.points([boiling(altitude); 2], 1);
        self.account.cite_id("icao-standard-atmosphere");
        self.account.caution("altitude-doneness");
        let main = formula.main();
        let Some(usual) = main.style().filter(|style| style.is_baked()).and_then(|style| style.done) else {
            let why = format!("Water boils at {boils} here, and no crumb gets hotter: trust a skewer");
            self.tell(Change { source: Some("icao-standard-atmosphere"), ..Change::new(Place::Field("/bake"), why) });
            return;
        };
        let under = self.reference.advices.find("boiling", "below-boiling").and_then(|advice| advice.change());
        let under = under.map_or(TemperatureChange::ZERO, |change| change.high());
        let (change, range) = match doneness(usual, altitude, under) {
            Doneness::Crumb(crumb) => {
                let why = format!("Water boils at {boils} here, and no crumb gets hotter: this is what a thermometer can show");
                let said = height.scale.points([crumb.low(), crumb.high()], 0);
                let range = (!crumb.is_exact()).then(|| height.scale.quantity(crumb));
                (Change::new(Place::Field("/bake"), why).to(format!("crumb at {said}")), range)
            }
            Doneness::Skewer => {
                let why = format!("Water boils at {boils} here, below the usual end temperature: only a skewer can tell");
                (Change::new(Place::Field("/bake"), why).to("a skewer that comes out clean"), None)
            }
        };
        let change = change.from(format!("crumb at {}", height.scale.points([usual.low(), usual.high()], 0)));
        self.tell(Change { range, source: Some("icao-standard-atmosphere"), ..change });
    }
}

/// A figure between two printed bands, in a straight line; beyond the last band it stays.
fn between_bands(points: &[(f64, [f64; 2])], metres: f64) -> Span<Factor> {
    let mut points = points.to_vec();
    points.push((0.0, [0.0, 0.0]));
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    let above = points.iter().position(|(height, _)| *height >= metres).unwrap_or(points.len() - 1);
    let (below, above) = (points[above.saturating_sub(1)], points[above]);
    let way = if above.0 > below.0 { ((metres - below.0) / (above.0 - below.0)).clamp(0.0, 1.0) } else { 1.0 };
    let [low, high] = [0, 1].map(|end| Factor::of_raw(below.1[end] + way * (above.1[end] - below.1[end])));
    Span::between(low, high)
}

/// What a line is, where a height changes it.
fn kind(line: &Line) -> Option<Class> {
    let is = |class| line.ingredient.counts_as(class).value() >= 0.5;
    let found = [Class::Leavening, Class::Sugar, Class::Liquid].into_iter().find(|class| is(*class))?;
    (found != Class::Leavening || line.ingredient.fresh_yeast.is_none()).then_some(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn between_two_bands_the_figure_lies_on_the_line_and_beyond_the_last_it_stays() {
        let points = [(1000.0, [0.1, 0.2]), (2000.0, [0.3, 0.4])];
        let at = |metres| {
            let span = between_bands(&points, metres);
            [span.low().value(), span.high().value()].map(|end| (end * 1000.0).round() / 1000.0)
        };
        assert_eq!([at(0.0), at(500.0), at(1000.0), at(1500.0), at(9000.0)], [[0.0, 0.0], [0.05, 0.1], [0.1, 0.2], [0.2, 0.3], [0.3, 0.4]]);
    }
}
