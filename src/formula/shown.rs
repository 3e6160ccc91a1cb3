//! A formula on its way out: every part and line at a new size, weights first, the household measure beside them, texts that add up.

use std::borrow::Cow;

use serde::Serialize;
use smol_str::{SmolStr, SmolStrBuilder};
use utoipa::ToSchema;

use super::resolved::{Formula, Line};
use crate::quantity::{Counting, Drawer, Factor, Family, Mass, Measures, Quantity, Span, Unit, fitted_texts, pounds_text};
use crate::reference::in_number;

/// A formula at its new size.
#[derive(Debug, Serialize, ToSchema)]
pub struct FormulaShown {
    /// What it is called.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = Option<String>, nullable = false, max_length = 200)]
    pub name: Option<SmolStr>,
    /// What it weighs in all, as scaled.
    pub weight: Quantity,
    /// Its parts.
    #[schema(max_items = 50)]
    pub parts: Vec<PartShown>,
}

/// A part at its new size.
#[derive(Debug, Serialize, ToSchema)]
pub struct PartShown {
    /// What it is called.
    #[schema(value_type = String, max_length = 200)]
    pub part: SmolStr,
    /// By what it was multiplied.
    #[schema(minimum = 0.0, maximum = 1e9)]
    pub factor: crate::quantity::Figure,
    /// What it weighs.
    pub weight: Quantity,
    /// Its lines; their texts add up to that of the weight.
    #[schema(max_items = 200)]
    pub lines: Vec<LineShown>,
}

/// A line at its new size.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub struct LineShown {
    /// The ingredient by its name in the table.
    #[schema(max_length = 200, examples("all-purpose flour"))]
    pub ingredient: Cow<'static, str>,
    /// What to weigh out.
    pub amount: Quantity,
    /// The same in the measure in which it was written, where that was not in grams; its text in cups and spoons that there are, "about" where they do not meet it.
    /// Nothing where it has grown beyond what a kitchen counts, such as 12 cups: it is weighed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub measure: Option<Quantity>,
}

impl Formula {
    /// The formula with each part multiplied by its factor.
    pub fn scaled(&self, factor: impl Fn(usize) -> Factor) -> FormulaShown {
        let parts: Vec<PartShown> = (0..self.parts.len()).map(|part| self.part_scaled(part, factor(part))).collect();
        let whole = (0..self.parts.len()).map(|part| self.parts[part].total().mass() * factor(part)).reduce(|a, b| a + b);
        FormulaShown { name: self.name.clone(), weight: whole.unwrap_or(Span::exact(Mass::ZERO)).into(), parts }
    }

    fn part_scaled(&self, part: usize, factor: Factor) -> PartShown {
        let part = &self.parts[part];
        let (lines, weight) = lines_scaled(&part.lines, factor);
        PartShown { part: part.name.clone(), factor: crate::quantity::Figure(factor.value()), weight, lines }
    }
}

/// Lines multiplied by a factor, and what they weigh together.
pub fn lines_scaled(lines: &[Line], factor: Factor) -> (Vec<LineShown>, Quantity) {
    let masses: Vec<Span<Mass>> = lines.iter().map(|line| line.weight.mass * factor).collect();
    let (texts, total_text) = fitted_texts(masses.iter().map(Span::value));
    let whole = masses.iter().copied().reduce(|a, b| a + b).unwrap_or(Span::exact(Mass::ZERO));
    let shown = lines
        .iter()
        .zip(masses.iter().zip(texts))
        .map(|(line, (mass, text))| LineShown {
            ingredient: line.ingredient.name.clone(),
            amount: Quantity::weighed(*mass, text),
            measure: measure(line, factor),
        })
        .collect();
    (shown, Quantity::weighed(whole, total_text))
}

/// The household measure, multiplied.
fn measure(line: &Line, factor: Factor) -> Option<Quantity> {
    let span = line.amount.number.span() * factor;
    let counted = |word: &str| {
        let mut quantity = Quantity::measured(span, Unit::known("each"), line.measures);
        let mut text = SmolStrBuilder::new();
        text.push_str(quantity.text.trim_end_matches(" pieces").trim_end_matches(" piece"));
        for part in [" ", word].into_iter().filter(|_| !word.is_empty()) {
            text.push_str(part);
        }
        quantity.text = text.finish();
        quantity
    };
    Some(match &line.amount.counting {
        // Who writes pounds and ounces has a scale that shows them.
        Counting::Unit(unit) if matches!(unit.id, "pound" | "ounce") => {
            let text = pounds_text(line.weight.mass.value() * factor);
            Quantity { text, ..Quantity::in_unit(span, unit) }
        }
        Counting::Unit(unit) if unit.family == Family::Mass => return None,
        // Six pinches are no measure: a spoon is.
        Counting::Unit(unit) if unit.by_the_fingers().is_some() && (span.value().value() > 4.0 || span.value().value().fract() != 0.0) => {
            let spoon = Unit::known("us-teaspoon");
            Quantity::measured(span * Factor::times(unit.size / spoon.size), spoon, Measures::Us)
        }
        // As many as were written are still counted; what has grown past counting is weighed.
        Counting::Unit(unit) if factor > Factor::ONE && !Drawer::of(line.measures).counts(span.value().value(), unit) => return None,
        Counting::Unit(unit) => Quantity::measured(span, unit, line.measures),
        Counting::Size(size) => counted(size.class),
        Counting::Named(word) => counted(&in_number(span.value(), word)),
        Counting::Disher(per_quart) => counted(&format!("No. {} disher", per_quart.value())),
        Counting::Nothing => counted(line.ingredient.called(span.value().value() > 1.0)),
    })
}
