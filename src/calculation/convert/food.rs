//! Across volume, mass and count: everything goes through the mass of the ingredient, with the span of what was published of it.

use super::{Asked, Target, understood};
use crate::quantity::{
    Amount, Code, Counting, Factor, Family, Fault, Length, Mass, Number, Pointer, Quantifiable, Quantity, Size, Span, Unit, Volume, plain,
};
use crate::reference::{
    Account, Found, Ingredient, Measuring, Reference, cite_all, in_number, market_of, market_said, short, tell_drained, tell_measures,
};

/// A disher is a volume by its number: into another volume it needs no ingredient.
fn disher_in_volume(asked: &Asked<'_>) -> Option<(Quantity, Quantity)> {
    let (Counting::Disher(per_quart), Target::Unit(unit)) = (&asked.amount.counting, asked.target) else { return None };
    if unit.family != Family::Volume {
        return None;
    }
    let one = Unit::known("us-quart").size / per_quart.value() / unit.size;
    let Number { value, .. } = asked.amount.number;
    let figures = asked.amount.number.span() * Factor::times(one);
    let mut amount = understood(&asked.amount.number, Unit::known("each"), asked.measures);
    amount.text = format!("{} No. {} disher", short(value), per_quart.value()).into();
    Some((amount, Quantity::in_unit(figures, unit)))
}

pub(super) fn converted(asked: &Asked<'_>, reference: &'static Reference, account: &mut Account) -> Result<(Quantity, Quantity), Fault> {
    let root = Pointer::ROOT;
    if let Some(both) = disher_in_volume(asked) {
        account.cite_id("nist-hb44");
        return Ok(both);
    }
    let Some(found) = asked.found else { return Err(needed(asked)) };
    let (measures_at, filled_at) = (root.key("measures"), root.key("filled"));
    let of = Measuring {
        ingredient: found.ingredient,
        form: found.form,
        filled: asked.question.filled.or(found.filled),
        measures: asked.measures,
        measures_at: asked.question.measures.is_none().then_some(&measures_at),
        filled_at: &filled_at,
    };
    after_measuring(&found, asked.question.ingredient.as_deref().unwrap_or_default(), account);
    let weight = reference.weigh(&asked.amount, &of, &root.key("amount"), account)?;
    let amount = amount_understood(asked, &found);
    let result = in_target(weight.mass, asked, &of, reference, account)?;
    found.ingredient.hazards.iter().for_each(|hazard| account.caution(hazard));
    Ok((amount, result))
}

/// The kind that is wanted in sheets, of "gelatine".
pub(super) fn counted_in(
    target: Target,
    found: &'static Ingredient,
    name: &str,
    reference: &'static Reference,
) -> Option<&'static Ingredient> {
    let Target::Unit(unit) = target else { return None };
    if unit.family != Family::Count {
        return None;
    }
    reference.ingredients.counted_as(found, name, &Amount { number: Number::exact(1.0), counting: Counting::Unit(unit) })
}

/// A volume becomes a mass only through an ingredient.
fn needed(asked: &Asked<'_>) -> Fault {
    let root = Pointer::ROOT;
    match &asked.amount.counting {
        Counting::Named(word) => asked.amount.unknown_unit(word, &root.key("amount")),
        Counting::Nothing => {
            let mut fault = asked.amount.unit_missing(&root.key("amount"));
            if matches!(asked.target, Target::Unit(unit) if super::is_oven(unit)) {
                let number = short(asked.amount.number.value);
                fault.attempts = vec![format!("{number} F"), format!("{number} C")];
            }
            fault
        }
        _ => Fault::new(&root.key("ingredient"), Code::IngredientNeeded, "no ingredient", "the name of an ingredient, see /v1/ingredients")
            .trying(["all-purpose flour", "granulated sugar", "water"]),
    }
}

fn after_measuring(found: &Found, said: &str, account: &mut Account) {
    if found.after_measuring {
        let root = Pointer::ROOT;
        account.assume("What stands behind the comma is done after measuring", &root.key("ingredient"), &*found.ingredient.name);
        tell_drained(found.ingredient, said, &root.key("amount"), account);
    }
}

fn amount_understood(asked: &Asked<'_>, found: &Found) -> Quantity {
    let number = &asked.amount.number;
    let named = |word: &str| {
        let mut quantity = understood(number, Unit::known("each"), asked.measures);
        quantity.text = format!("{} {word}", short(number.value)).into();
        quantity
    };
    match &asked.amount.counting {
        Counting::Unit(unit) => understood(number, unit, asked.measures),
        Counting::Disher(per_quart) => named(&format!("No. {} disher", per_quart.value())),
        Counting::Size(size) => named(&format!("{} {}", size.class, found.ingredient.called(number.value > 1.0))),
        Counting::Named(word) => named(&in_number(Factor::times(number.value), word)),
        Counting::Nothing => named(found.ingredient.called(number.value > 1.0)),
    }
}

fn in_target(
    mass: Span<Mass>,
    asked: &Asked<'_>,
    of: &Measuring<'_>,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<Quantity, Fault> {
    match asked.target {
        Target::Size(size) => in_eggs(mass, size, Unit::known("each"), of, reference, account),
        Target::Eggs => {
            let root = Pointer::ROOT;
            account.assume("Eggs without a size are large", &root.key("to"), "large");
            in_eggs(mass, Size::LARGE, Unit::known("each"), of, reference, account)
        }
        Target::Thing(thing) => in_things(mass, thing, of, reference, account),
        Target::Pack(pack) => in_packs(mass, pack, of, account),
        Target::Unit(unit) => match unit.family {
            Family::Mass => Ok(Quantity::in_unit(mass / Factor::times(unit.size), unit)),
            Family::Volume => in_volume(mass, unit, of, reference, account),
            _ => in_pieces(mass, unit, of, reference, account),
        },
    }
}

/// A fruit by volume is its flesh, cut; what it gives when pressed is an ingredient of its own.
fn pressed(of: &Measuring<'_>, reference: &'static Reference, account: &mut Account) {
    let juice = reference.ingredients.yields.iter().find(|entry| entry.from == of.ingredient.id && entry.gives.ends_with("juice"));
    let Some(juice) = juice.and_then(|entry| reference.ingredients.by_id(entry.gives)) else { return };
    let root = Pointer::ROOT;
    let text =
        format!("The volume is that of {} peeled and cut; for what it gives when pressed ask for {}", of.ingredient.name, juice.name);
    account.assume(text, &root.key("ingredient"), juice.name.clone());
}

/// A mass as a volume again.
fn in_volume(
    mass: Span<Mass>,
    unit: &'static Unit,
    of: &Measuring<'_>,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<Quantity, Fault> {
    let root = Pointer::ROOT;
    pressed(of, reference, account);
    tell_measures(unit, of.measures, of.measures_at, account);
    let at = root.key("to");
    let weighing = of.density(&at).map_err(|fault| match fault.attempts.is_empty() {
        true => Fault::new(&at, Code::NoDensity, unit.many, "a unit of mass for this ingredient")
            .saying(format!("Nobody has published what a cup or spoon of {} weighs: ask for its weight", of.ingredient.name))
            .trying(["g", "oz"]),
        false => fault,
    })?;
    cite_all(&weighing.citations, account);
    of.tell_way(weighing, account);
    let one = Volume::millilitres(unit.size);
    let volume = mass / weighing.density;
    account.step(|| {
        format!(
            "{} g / {} g/ml = {} ml; / {} ml = {} {}",
            short(mass.value().in_grams()),
            short(weighing.density.value().in_grams_per_millilitre()),
            short(volume.value().in_millilitres()),
            unit.size,
            short((volume.value() / one).value()),
            unit.one
        )
    });
    Ok(Quantity::in_unit(volume.map(|v| v / one), unit))
}

/// So many eggs of a size, or dozens of them.
fn in_eggs(
    mass: Span<Mass>,
    size: Size,
    unit: &'static Unit,
    of: &Measuring<'_>,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<Quantity, Fault> {
    let root = Pointer::ROOT;
    let at = root.key("to");
    let part = of.ingredient.egg_part();
    let egg = part.and_then(|part| reference.eggs.find(size, part, of.measures));
    let each = match (part, egg) {
        (_, Some(egg)) => egg.edible,
        (None, None) => match of.ingredient.counted("each", Some(size.class)) {
            Some(counted) => counted.mass,
            None => {
                return Err(
                    Fault::new(&at, Code::NotCounted, size.class, "a unit of mass or volume for this ingredient").trying(["g", "oz"])
                );
            }
        },
        (Some(_), None) => {
            let market = size.market.unwrap_or(market_of(of.measures));
            return Err(
                Fault::new(&at, Code::UnknownWord, size.class, format!("a class of the {market} market")).trying(["large", "medium"])
            );
        }
    };
    account.cite(each.citation);
    let count = mass / each.figure / Factor::times(unit.size);
    account.step(|| format!("{} g / {} g each", short(mass.value().in_grams()), short(each.figure.value().in_grams())));
    let mut quantity = Quantity::in_unit(count, unit);
    let dozen = if unit.id == "dozen" { "dozen " } else { "" };
    let market = market_said(size.market.unwrap_or(market_of(of.measures)));
    if let Some(at) = of.measures_at.filter(|_| size.market.is_none() && part.is_some()) {
        account.assume(format!("The egg classes are those of the {market} market"), at, of.measures.word());
    }
    let things = of.ingredient.called(quantity.value.0 > 1.0 || !dozen.is_empty());
    quantity.text = format!("{} {dozen}{} {things}", two_decimals(quantity.value.0), size.class).into();
    // Bananas have no classes of a market.
    if part.is_some() {
        quantity.text = format!("{} ({market})", quantity.text).into();
    }
    Ok(quantity)
}

/// So many lemons for so much juice, so many whites, so many bananas.
fn in_things(
    mass: Span<Mass>,
    thing: Found,
    of: &Measuring<'_>,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<Quantity, Fault> {
    let root = Pointer::ROOT;
    let at = root.key("to");
    let same = thing.ingredient.id == of.ingredient.id;
    if same && (thing.size.is_some() || of.ingredient.egg_part().is_some()) {
        if thing.size.is_none() {
            account.assume("Eggs without a size are large", &at, "large");
        }
        return in_eggs(mass, thing.size.unwrap_or(Size::LARGE), Unit::known("each"), of, reference, account);
    }
    let yielded = reference.ingredients.yields.iter().find(|entry| entry.from == thing.ingredient.id && entry.gives == of.ingredient.id);
    let (each, citation) = match (yielded.and_then(|entry| Some((entry.each?, entry.citation))), thing.ingredient.counted("each", None)) {
        (Some((each, citation)), _) => {
            let text = format!("One {} gives {} g of {}", thing.ingredient.name, short(each.value().in_grams()), of.ingredient.name);
            account.assume(text, &at, thing.ingredient.name.clone());
            (each, citation)
        }
        (None, Some(counted)) if same => (counted.mass.figure, counted.mass.citation),
        _ => return Err(no_count(&thing, of, &at)),
    };
    account.cite(citation);
    account.step(|| format!("{} g / {} g each", short(mass.value().in_grams()), short(each.value().in_grams())));
    let mut quantity = Quantity::in_unit(mass / each, Unit::known("each"));
    quantity.text = format!("{} {}", two_decimals(quantity.value.0), thing.ingredient.called(quantity.value.0 > 1.0)).into();
    Ok(quantity)
}

/// Another ingredient is no unit of this one.
fn no_count(thing: &Found, of: &Measuring<'_>, at: &Pointer<'_>) -> Fault {
    let saying = if thing.ingredient.id == of.ingredient.id {
        format!("Nothing is published of what one {} weighs", of.ingredient.name)
    } else {
        format!(
            "{} cannot become {}: for another ingredient in its place ask adapt to replace it",
            of.ingredient.name, thing.ingredient.name
        )
    };
    Fault::new(at, Code::NotCounted, &*thing.ingredient.name, "a unit of mass or volume for this ingredient")
        .saying(saying)
        .trying(["g", "oz"])
}

fn in_pieces(
    mass: Span<Mass>,
    unit: &'static Unit,
    of: &Measuring<'_>,
    reference: &'static Reference,
    account: &mut Account,
) -> Result<Quantity, Fault> {
    let root = Pointer::ROOT;
    if matches!(unit.id, "each" | "dozen") && of.ingredient.egg_part().is_some() {
        account.assume("Eggs without a size are large", &root.key("to"), "large");
        return in_eggs(mass, Size::LARGE, unit, of, reference, account);
    }
    let each = if unit.id == "dozen" { "each" } else { unit.id };
    let counted = of.ingredient.counted_by(each, None).ok_or_else(|| not_sold_so(unit.many))?;
    account.cite(counted.mass.citation);
    Ok(Quantity::in_unit(mass / counted.mass.figure / Factor::times(unit.size), unit))
}

/// So many cans, slices, sprigs.
fn in_packs(mass: Span<Mass>, pack: &str, of: &Measuring<'_>, account: &mut Account) -> Result<Quantity, Fault> {
    let counted = of.ingredient.counted(pack, None).ok_or_else(|| not_sold_so(pack))?;
    account.cite(counted.mass.citation);
    account.step(|| format!("{} g / {} g each", short(mass.value().in_grams()), short(counted.mass.figure.value().in_grams())));
    let mut quantity = Quantity::in_unit(mass / counted.mass.figure, Unit::known("each"));
    quantity.text = format!("{} {}", two_decimals(quantity.value.0), in_number(Factor::times(quantity.value.0), pack)).into();
    Ok(quantity)
}

fn not_sold_so(found: &str) -> Fault {
    Fault::new(&Pointer::ROOT.key("to"), Code::NotCounted, found, "a unit of mass or volume for this ingredient")
        .trying(["g", "cups", "oz"])
}

fn two_decimals(figure: f64) -> String {
    Quantity::in_unit(Span::exact(Length::of_raw(figure)), Unit::known("inch")).text.trim_end_matches(" in").to_owned()
}
impl Target {
    /// Of garlic a clove is a piece of it and not the spice, whatever else the word names.
    pub(super) fn of(self, found: &Found, word: &str) -> Self {
        let Self::Thing(thing) = self else { return self };
        let word = plain(word);
        let counted = |word: &str| found.ingredient.counted(word, None).map(|counted| Self::Pack(counted.unit));
        if thing.ingredient.id == found.ingredient.id {
            return self;
        }
        counted(&word).or_else(|| counted(word.strip_suffix('s')?)).unwrap_or(self)
    }
}
