//! What each row of the files is: an ingredient, its composition, what one of it weighs, what is got from it.

use super::super::class::{Class, shares};
use super::super::composition::{Composition, Constituent, LabelFigures};
use super::super::ingredient::{Counted, Ingredient, Nature, Trait, Yield};
use super::super::leavening::LeaveningFigures;
use super::super::source::{Cited, Sources};
use super::super::table::{Row, TableFault};
use super::super::weight::Weighings;
use crate::quantity::{Factor, Mass, Percent, Span};

pub(super) fn ingredient(row: &Row, leavening: &LeaveningFigures, sources: &Sources) -> Result<Ingredient, TableFault> {
    let nature = row.required("nature")?;
    let classes: Vec<(Class, _)> = shares(row, "classes")?;
    if classes.is_empty() {
        return Err(row.fault("no classes"));
    }
    let kind = |word: &'static str| Trait::of_word(word).ok_or_else(|| row.fault(format_args!("no trait {word}")));
    let traits: Vec<_> = row.list("traits")?.into_iter().map(kind).collect::<Result<_, _>>()?;
    let (white, yolk) = (traits.contains(&Trait::EggWhite), traits.contains(&Trait::EggYolk));
    if white && yolk || (white || yolk) && !classes.iter().any(|(class, _)| *class == Class::Egg) {
        return Err(row.fault("its egg is white or yolk: one of them, and of an egg"));
    }
    Ok(Ingredient {
        id: row.required("id")?.into(),
        name: row.required("name")?.into(),
        names: row.list("names")?,
        classes,
        nature: Nature::of_word(nature).ok_or_else(|| row.fault(format_args!("no nature {nature}")))?,
        fresh_yeast: row.number("fresh_yeast")?.map(Factor::times),
        fresh_egg: None,
        as_powder: leavening.as_powder(row.required("id")?),
        allergens_us: row.list("allergens_us")?,
        allergens_eu: row.list("allergens_eu")?,
        hazards: row.list("hazards")?,
        traits,
        cocoa: row.ends("cocoa_low", "cocoa_high")?.map(|[low, high]| Span::between(Percent::of_hundred(low), Percent::of_hundred(high))),
        composition: None,
        composition_citation: None,
        measured: Vec::new(),
        counted: Vec::new(),
        weighings: Weighings::default(),
        juiced: None,
        trimmed: None,
        drained: None,
        citation: Some(sources.cite(row)?),
        note: row.text("note")?,
    })
}

pub(super) fn composition(row: &Row) -> Result<Composition, TableFault> {
    let mut figures = [None; Constituent::ALL.len()];
    for constituent in Constituent::ALL {
        figures[constituent as usize] = row.number(constituent.word())?.map(Percent::of_hundred);
    }
    let milligrams = |column| row.number(column).map(|figure| figure.map(|figure| Percent::of_hundred(figure / 1000.0)));
    let label = LabelFigures {
        energy: row.number("energy_kcal")?.map(|figure| Factor::times(figure / 100.0)),
        sodium: milligrams("sodium_mg")?,
        cholesterol: milligrams("cholesterol_mg")?,
    };
    Ok(Composition::of(|constituent| figures[constituent as usize]).with_label(label))
}

pub(super) fn fresh_egg(row: &Row, of: &Ingredient, sources: &Sources) -> Result<Cited<Span<Factor>>, TableFault> {
    let figure = row.span("fresh", "low", "high")?.ok_or_else(|| row.fault("no fresh egg"))?.map(Factor::times);
    if figure.low() <= of.counts_as(Class::Egg) {
        return Err(row.fault("with its water it is no more egg than it is dry"));
    }
    Ok(Cited { figure, citation: sources.cite(row)? })
}

pub(super) fn counted(row: &Row, sources: &Sources) -> Result<Counted, TableFault> {
    Ok(Counted {
        unit: row.required("unit")?,
        size: row.text("size")?,
        mass: Cited {
            figure: row.span("grams", "low", "high")?.ok_or_else(|| row.fault("no grams"))?.map(Mass::grams),
            citation: sources.cite(row)?,
        },
    })
}

pub(super) fn yielded(row: &Row, sources: &Sources) -> Result<Yield, TableFault> {
    Ok(Yield {
        from: row.required("ingredient")?,
        gives: row.required("gives")?,
        bought: row.flag("bought")?,
        canned: row.flag("canned")?,
        percent: row.span("percent", "low", "high")?.map(|p| p.map(Percent::of_hundred)),
        each: row.span("grams_each", "grams_each_low", "grams_each_high")?.map(|m| m.map(Mass::grams)),
        citation: sources.cite(row)?,
    })
}
