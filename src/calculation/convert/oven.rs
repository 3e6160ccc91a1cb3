//! Oven temperatures: °C, °F, kelvin and gas mark, conventional and fan told apart. A fan's correction is a span, for its sources disagree.

use super::{Asked, Target, understood};
use crate::pan::OvenKind;
use crate::quantity::{Code, Factor, Family, Fault, Pointer, Quantity, Span, Temperature, TemperatureChange, Unit};
use crate::reference::{Account, Reference, short};

/// The hottest that a kitchen's oven, or boiling sugar, comes to.
const HOTTEST: Temperature = Temperature::celsius(1000.0);

pub(super) fn converted(
    asked: &Asked<'_>,
    from: &'static Unit,
    to: &'static Unit,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<(Quantity, Quantity), Fault> {
    let root = Pointer::ROOT;
    let at = root.key("amount");
    let number = &asked.amount.number;
    let point = |figure: f64| temperature(figure, from, &at);
    let mut heat = Span::new(point(number.low)?, point(number.value)?, point(number.high)?);
    account.cite_id(from.source);
    account.cite_id(to.source);
    if is_dial(asked) {
        account.caution("oven-scale");
    }
    heat = corrected(heat, asked, reference, account)?;
    let amount = understood_mark(understood(number, from, asked.measures), from, number.value);
    Ok((amount, shown(heat, to, account)?))
}

/// Which oven stands before and which behind, for the sentence; nothing where they are one.
pub(super) fn told(asked: &Asked<'_>) -> [&'static str; 2] {
    match ovens(asked) {
        (OvenKind::Conventional, OvenKind::Fan) => [" in a conventional oven", " in a fan oven"],
        (OvenKind::Fan, OvenKind::Conventional) => [" in a fan oven", " in a conventional oven"],
        _ => ["", ""],
    }
}

/// The oven of the amount and that of the answer. A gas mark is a setting of an oven without a fan, unless another is asked for.
fn ovens(asked: &Asked<'_>) -> (OvenKind, OvenKind) {
    let from = asked.question.from_oven.unwrap_or(OvenKind::Conventional);
    let of_gas = matches!(asked.target, Target::Unit(unit) if unit.family == Family::OvenMark);
    let to = asked.question.to_oven.unwrap_or(if of_gas { OvenKind::Conventional } else { from });
    (from, to)
}

/// Whether an oven is meant, and not the weather.
fn is_dial(asked: &Asked<'_>) -> bool {
    asked.question.from_oven.is_some() || asked.question.to_oven.is_some()
}

fn temperature(figure: f64, unit: &Unit, at: &Pointer<'_>) -> Result<Temperature, Fault> {
    let found = match unit.id {
        "fahrenheit" => Temperature::fahrenheit(figure),
        "kelvin" => Temperature::celsius(figure - 273.15),
        "gas-mark" => {
            return Temperature::gas_mark(figure).ok_or_else(|| {
                Fault::new(at, Code::OutOfRange, format!("gas mark {figure}"), "gas mark 1/4, 1/2 or 1 to 10").trying(["gas mark 4"])
            });
        }
        _ => Temperature::celsius(figure),
    };
    if Temperature::ABSOLUTE_ZERO <= found && found <= HOTTEST {
        return Ok(found);
    }
    Err(Fault::new(at, Code::OutOfRange, format!("{figure} {}", unit.one), "a temperature from -273.15 °C to 1000 °C"))
}

/// From the one kind of oven to the other.
fn corrected(
    heat: Span<Temperature>,
    asked: &Asked<'_>,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<Span<Temperature>, Fault> {
    let (from, to) = ovens(asked);
    if from != to && asked.question.to_oven.is_none() {
        let root = Pointer::ROOT;
        account.assume("A gas mark is taken as that of an oven without a fan", &root.key("to_oven"), "conventional");
    }
    if asked.question.from_oven.is_none() && asked.question.to_oven.is_some() {
        let root = Pointer::ROOT;
        account.assume("The temperature was written for a conventional oven", &root.key("from_oven"), "conventional");
    }
    if from == to {
        return Ok(heat);
    }
    let Some(change) = reference.advices.find("fan", "span").and_then(|advice| advice.change()) else { return Ok(heat) };
    reference.advices.on("fan").filter(|advice| advice.product == "all").for_each(|advice| account.cite(advice.citation));
    account.step(|| {
        let degrees = |change: TemperatureChange| short(change.in_celsius_degrees());
        format!("a fan asks for {} (from {} to {}) Celsius degrees", degrees(change.value()), degrees(change.low()), degrees(change.high()))
    });
    Ok(match to {
        OvenKind::Fan => heat + change,
        OvenKind::Conventional => heat - change,
    })
}

fn shown(heat: Span<Temperature>, to: &'static Unit, account: &mut Account) -> Result<Quantity, Fault> {
    account.step(|| format!("{} °C", short(heat.value().in_celsius())));
    if to.family == Family::OvenMark {
        return marked(heat, to, account);
    }
    Ok(match to.id {
        "fahrenheit" => Quantity::in_unit(heat.map(|t| Factor::times(t.in_fahrenheit())), to),
        "kelvin" => Quantity::in_unit(heat.map(|t| Factor::times(t.in_celsius() + 273.15)), to),
        _ => Quantity::in_unit(heat, to),
    })
}

fn marked(heat: Span<Temperature>, to: &'static Unit, account: &mut Account) -> Result<Quantity, Fault> {
    let root = Pointer::ROOT;
    let mark = |t: Temperature| {
        t.in_gas_mark().ok_or_else(|| {
            Fault::new(
                &root.key("to"),
                Code::OutOfRange,
                format!("{} °C", short(t.in_celsius())),
                "a temperature that a gas dial has, from 107 °C to 260 °C",
            )
        })
    };
    let value = mark(heat.value())?;
    let exact = Temperature::gas_mark(value).is_some_and(|t| (t.in_celsius() - heat.value().in_celsius()).abs() < 0.6);
    if !exact {
        account.assume("No mark is exactly so hot: the nearest is given", &root.key("to"), format!("gas mark {}", mark_text(value)));
    }
    let ends = |t: Temperature| mark(t).unwrap_or(value);
    let span = Span::new(Factor::times(ends(heat.low())), Factor::times(value), Factor::times(ends(heat.high())));
    Ok(understood_mark(Quantity::in_unit(span, to), to, value))
}

/// "gas mark 1/2" and not "0.5 gas mark".
fn understood_mark(mut quantity: Quantity, unit: &Unit, mark: f64) -> Quantity {
    if unit.family == Family::OvenMark {
        quantity.text = format!("gas mark {}", mark_text(mark)).into();
    }
    quantity
}

fn mark_text(mark: f64) -> String {
    match mark {
        0.25 => "1/4".to_owned(),
        0.5 => "1/2".to_owned(),
        m => short(m).to_string(),
    }
}
