//! The temperatures of a question, read: points on a scale, and one difference, the friction.

use smol_str::SmolStr;

use super::{IceWay, MixerKind, TemperatureWritten, TrialWritten};
use crate::formula::friction_of_trial;
use crate::quantity::{
    Amount, Code, Counting, Factor, Family, Fault, Faults, Mass, Measures, Minutes, Pointer, Span, Temperature, TemperatureChange, Unit,
    Written, between, read_amount, read_mass,
};
use crate::reference::{Account, Measuring, Reference, short};

/// The temperatures, understood.
#[derive(Clone, Debug)]
pub(in crate::calculation::dough) struct Given {
    pub desired: Temperature,
    pub room: Temperature,
    pub flour: Temperature,
    pub preferment: Option<Temperature>,
    pub friction: Span<TemperatureChange>,
    /// How many terms the sum had in which the friction was measured; nothing where it is as given.
    pub measured_over: Option<usize>,
    pub tap: Option<Temperature>,
    pub ice: Option<IceWay>,
    pub ice_temperature: Temperature,
    pub water: Option<Mass>,
    pub fahrenheit: bool,
}

/// What a dough, or anything that goes into it, may have.
const DOUGH: (Temperature, Temperature) = (Temperature::celsius(-40.0), Temperature::celsius(100.0));
/// What a room, or flour in it, may have.
const ROOM: (Temperature, Temperature) = (Temperature::celsius(-40.0), Temperature::celsius(60.0));
const FROZEN: (Temperature, Temperature) = (Temperature::celsius(-60.0), Temperature::celsius(0.0));
/// The largest friction, on the scale of the sum.
const MOST_FRICTION: TemperatureChange = TemperatureChange::celsius_degrees(100.0);

pub(in crate::calculation::dough) fn understood(
    written: &TemperatureWritten,
    at: &Pointer<'_>,
    reference: &'static Reference,
    account: &mut Account,
    faults: &mut Faults,
) -> Option<Given> {
    let before = faults.total();
    let mut point = |written: &Written, range, field: &str| temperature(written, range, &at.key(field), account, faults);
    let desired = point(&written.desired, DOUGH, "desired");
    let room = point(&written.room, ROOM, "room");
    let flour = point(&written.flour, ROOM, "flour");
    let preferment = written.preferment.as_ref().and_then(|written| point(written, DOUGH, "preferment"));
    let tap = written.tap.as_ref().and_then(|written| point(written, DOUGH, "tap"));
    let ice_temperature = ice(written, at, account, faults);
    let water = written.water.as_ref().and_then(|water| poured(water, &at.key("water"), reference, account, faults));
    let scale = desired.is_some_and(|(_, fahrenheit)| fahrenheit);
    let friction = friction(written, scale, at, reference, account, faults);
    if written.ice.is_some() && written.tap.is_none() {
        faults.push(
            Fault::new(&at.key("tap"), Code::MissingFigure, "nothing", "the temperature of the water from the tap")
                .trying(["18 C", "65 F"]),
        );
    }
    if faults.total() > before {
        return None;
    }
    let (desired, fahrenheit) = desired?;
    Some(Given {
        desired,
        room: room?.0,
        flour: flour?.0,
        preferment: preferment.map(|(preferment, _)| preferment),
        friction: friction?,
        measured_over: written.trial.as_ref().map(|trial| if trial.preferment.is_some() { 4 } else { 3 }),
        tap: tap.map(|(tap, _)| tap),
        ice: written.ice,
        ice_temperature: ice_temperature?,
        water,
        fahrenheit,
    })
}

fn ice(written: &TemperatureWritten, at: &Pointer<'_>, account: &mut Account, faults: &mut Faults) -> Option<Temperature> {
    let field = at.key("ice_temperature");
    match (&written.ice_temperature, written.ice) {
        (Some(_), None) => {
            faults
                .push(Fault::new(&field, Code::NotTogether, "ice_temperature without ice", "ice beside it").trying(["replacing", "added"]));
            None
        }
        (Some(written), Some(_)) => temperature(written, FROZEN, &field, account, faults).map(|(ice, _)| ice),
        (None, ice) => {
            if ice.is_some() {
                account.assume("The ice is melting, not colder", &field, "0 °C");
            }
            Some(Temperature::celsius(0.0))
        }
    }
}

/// A point on a scale; tells whether it was written in Fahrenheit.
fn temperature(
    written: &Written,
    (least, most): (Temperature, Temperature),
    at: &Pointer<'_>,
    account: &mut Account,
    faults: &mut Faults,
) -> Option<(Temperature, bool)> {
    let amount = faults.keep(read_amount(written, Measures::Us, at).map_err(|fault| fault.offering(&["24 C", "75 F"])))?;
    let value = amount.number.value;
    let (found, fahrenheit) = match &amount.counting {
        Counting::Unit(unit) if unit.family == Family::Temperature => match unit.id {
            "fahrenheit" => (Temperature::fahrenheit(value), true),
            "kelvin" => (Temperature::celsius(value - 273.15), false),
            _ => (Temperature::celsius(value), false),
        },
        // A lower-case c is a cup in the kitchen: where only a temperature can stand, it is none.
        Counting::Unit(unit) if unit.family == Family::Volume && written.as_text().trim_end().ends_with(['c', 'C']) => {
            (Temperature::celsius(value), false)
        }
        _ => {
            let tries = [format!("{value} C"), format!("{value} F")];
            let found = written.as_text().into_owned();
            faults.push(Fault::new(at, Code::WrongUnit, found, "a temperature, such as \"24 C\" or \"75 F\"").trying(tries));
            return None;
        }
    };
    let within = |found: Temperature| least <= found && found <= most;
    if within(found) {
        if amount.number.low < amount.number.high {
            let middle = point(Span::exact(found), fahrenheit).text;
            account.assume(format!("Of {} the middle is taken", written.as_text()), at, middle.to_string());
        }
        return Some((found, fahrenheit));
    }
    let range = format!("a temperature from {} °C to {} °C", least.in_celsius(), most.in_celsius());
    // 72 is no room in Celsius, and a usual one in Fahrenheit.
    let other = (!fahrenheit && within(Temperature::fahrenheit(value))).then(|| format!("{value} F"));
    faults.push(Fault::new(at, Code::OutOfRange, written.as_text().into_owned(), range).trying(other));
    None
}

/// Water by weight, or by what it fills.
fn poured(written: &Written, at: &Pointer<'_>, reference: &'static Reference, account: &mut Account, faults: &mut Faults) -> Option<Mass> {
    let by_volume = read_amount(written, Measures::Us, at).ok().filter(Amount::is_volume);
    let (Some(amount), Some(ingredient)) = (by_volume, reference.ingredients.by_id("water")) else {
        return faults.keep(read_mass(written, Measures::Us, at));
    };
    let of = Measuring { ingredient, form: "", filled: None, measures: Measures::Us, measures_at: Some(at), filled_at: at };
    let mass = faults.keep(reference.weigh(&amount, &of, at, account))?.mass.value();
    if mass > Mass::ZERO {
        return Some(mass);
    }
    faults.push(Fault::new(at, Code::OutOfRange, written.as_text().into_owned(), "an amount of water above 0"));
    None
}

fn friction(
    written: &TemperatureWritten,
    fahrenheit: bool,
    at: &Pointer<'_>,
    reference: &'static Reference,
    account: &mut Account,
    faults: &mut Faults,
) -> Option<Span<TemperatureChange>> {
    if written.minutes.is_some() && written.mixer.is_none() {
        faults.push(Fault::new(&at.key("minutes"), Code::NotTogether, "minutes without mixer", "minutes only beside mixer"));
    }
    match (&written.friction, written.mixer, &written.trial) {
        (Some(friction), None, None) => difference(friction, &at.key("friction"), account, faults).map(Span::exact),
        (None, Some(mixer), None) => of_mixer(mixer, written.minutes.as_ref(), fahrenheit, at, reference, account, faults),
        (None, None, Some(trial)) => of_trial(trial, fahrenheit, &at.key("trial"), account, faults).map(Span::exact),
        _ => {
            let given = [written.friction.is_some(), written.mixer.is_some(), written.trial.is_some()];
            let found = if given.contains(&true) { "more than one of them" } else { "none of them" };
            faults.push(Fault::new(at, Code::ExactlyOne, found, "one of friction, mixer, trial"));
            None
        }
    }
}

/// "35 F" is a difference here: 35 Fahrenheit degrees, not a temperature.
fn difference(written: &Written, at: &Pointer<'_>, account: &mut Account, faults: &mut Faults) -> Option<TemperatureChange> {
    let amount = faults
        .keep(read_amount(written, Measures::Us, at).map_err(|fault| fault.offering(&["14 Celsius degrees", "25 Fahrenheit degrees"])))?;
    let value = amount.number.value;
    let found = match &amount.counting {
        Counting::Unit(unit) if matches!(unit.family, Family::Temperature | Family::TemperatureChange) => {
            if unit.family == Family::Temperature {
                account.assume(
                    "The friction is a difference and takes no offset",
                    at,
                    degrees(Span::exact(TemperatureChange::celsius_degrees(value * unit.size)), unit.id == "fahrenheit").text.to_string(),
                );
            }
            TemperatureChange::celsius_degrees(value * unit.size)
        }
        _ => {
            let tries = [format!("{value} Celsius degrees"), format!("{value} Fahrenheit degrees")];
            faults.push(
                Fault::new(at, Code::WrongUnit, written.as_text().into_owned(), "a difference, such as \"14 Celsius degrees\"")
                    .trying(tries),
            );
            return None;
        }
    };
    if TemperatureChange::ZERO <= found && found <= MOST_FRICTION {
        return Some(found);
    }
    faults.push(Fault::new(at, Code::OutOfRange, written.as_text().into_owned(), "a difference from 0 to 100 Celsius degrees"));
    None
}

fn of_mixer(
    mixer: MixerKind,
    minutes: Option<&Written>,
    fahrenheit: bool,
    at: &Pointer<'_>,
    reference: &'static Reference,
    account: &mut Account,
    faults: &mut Faults,
) -> Option<Span<TemperatureChange>> {
    let found = reference.frictions.find(mixer.word())?;
    let minutes = minutes.map(|minutes| time(minutes, &at.key("minutes"), faults));
    account.cite(found.rise.citation);
    // On the scale of the question.
    let text = |rise: Span<TemperatureChange>| {
        let (each, name) = if fahrenheit { (1.8, "Fahrenheit") } else { (1.0, "Celsius") };
        let told = |change: TemperatureChange| short((change.in_celsius_degrees() * each * 10.0).round() / 10.0);
        format!("{} {name} degrees on the sum of the factors", between(&told(rise.low()), &told(rise.high())))
    };
    if !found.each_minute {
        let rise = found.rise.figure;
        account.assume(format!("The friction of {} is that of a usual mix: {}", found.name, text(rise)), &at.key("friction"), text(rise));
        return Some(rise);
    }
    let Some(minutes) = minutes else {
        faults.push(Fault::new(&at.key("minutes"), Code::MissingFigure, "nothing", "how long it mixes").trying(["8 min"]));
        return None;
    };
    let rise = found.rise.figure * (minutes? / Minutes::minutes(1.0));
    account.assume(format!("The friction of {} is taken by the minute: {}", found.name, text(rise)), &at.key("friction"), text(rise));
    Some(rise)
}

fn time(written: &Written, at: &Pointer<'_>, faults: &mut Faults) -> Option<Minutes> {
    let amount = faults.keep(read_amount(written, Measures::Us, at).map_err(|fault| fault.offering(&["8 min"])))?;
    match &amount.counting {
        Counting::Unit(unit) if unit.family == Family::Time && (0.0..=120.0).contains(&(amount.number.value * unit.size)) => {
            Some(Minutes::minutes(amount.number.value * unit.size))
        }
        counting => {
            let found = written.as_text().into_owned();
            let code = if *counting == Counting::Nothing { Code::UnitMissing } else { Code::OutOfRange };
            faults.push(Fault::new(at, code, found, "a time from 0 to 120 minutes").trying([format!("{} min", amount.number.value)]));
            None
        }
    }
}

fn of_trial(
    trial: &TrialWritten,
    fahrenheit: bool,
    at: &Pointer<'_>,
    account: &mut Account,
    faults: &mut Faults,
) -> Option<TemperatureChange> {
    let mut point = |written: &Written, field: &str| temperature(written, DOUGH, &at.key(field), account, faults).map(|(point, _)| point);
    let dough = point(&trial.dough, "dough");
    let terms = [point(&trial.room, "room"), point(&trial.flour, "flour"), point(&trial.water, "water")];
    let preferment = trial.preferment.as_ref().map(|preferment| point(preferment, "preferment"));
    let mut all: Vec<Temperature> = terms.into_iter().collect::<Option<_>>()?;
    if let Some(preferment) = preferment {
        all.push(preferment?);
    }
    let friction = friction_of_trial(dough?, &all);
    account.cite_id("lehmann-2003");
    account.step(|| {
        let celsius = |point: Temperature| short(point.in_celsius()).to_string();
        let terms: Vec<String> = all.iter().map(|term| celsius(*term)).collect();
        let dough = dough.map_or(String::new(), celsius);
        format!(
            "friction of the trial: {} x {dough} - ({}) = {} Celsius degrees",
            all.len(),
            terms.join(" + "),
            short(friction.in_celsius_degrees())
        )
    });
    if friction < TemperatureChange::ZERO || friction > MOST_FRICTION {
        let found = format!("a friction of {}", degrees(Span::exact(friction), fahrenheit).text);
        faults.push(
            Fault::new(at, Code::OutOfRange, found, "a trial whose dough is warmer than its parts")
                .saying("Mixing warms a dough: measure the trial's temperatures again"),
        );
        return None;
    }
    Some(friction)
}

/// A difference in the scale of the answer.
pub(super) fn degrees(change: Span<TemperatureChange>, fahrenheit: bool) -> crate::quantity::Quantity {
    let unit = Unit::known(if fahrenheit { "fahrenheit-degrees" } else { "celsius-degrees" });
    crate::quantity::Quantity::in_unit(change / Factor::times(unit.size), unit)
}

impl Given {
    /// A temperature in a sentence, on the scale of the question.
    pub(super) fn said(&self, temperature: Temperature) -> SmolStr {
        point(Span::exact(temperature), self.fahrenheit).text
    }
}

/// A temperature in the scale of the answer.
pub(super) fn point(temperature: Span<Temperature>, fahrenheit: bool) -> crate::quantity::Quantity {
    if fahrenheit {
        return crate::quantity::Quantity::in_unit(temperature.map(|t| Factor::times(t.in_fahrenheit())), Unit::known("fahrenheit"));
    }
    crate::quantity::Quantity::from(temperature)
}
