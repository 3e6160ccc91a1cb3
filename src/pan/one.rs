//! A pan as understood: its shape, its depth as far as it is known, what it is made of and the row of the table it matches.

use super::geometry::{height_of, mean_section};
use super::kind::{Held, Shape, ShapeKind};
use super::material::Material;
use super::reading::assembled;
use crate::quantity::{Area, Code, Factor, Family, Fault, Length, Pointer, Share, Span, Unit, Volume, decimals};
use crate::reference::{Cited, Dimension, PanRow, Reference, Sizes};

/// Where a depth comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DepthFrom {
    /// The caller gave it.
    Given,
    /// The commonest depth of the trade.
    Trade,
    /// The shape leaves no choice.
    Shape,
}

/// A pan, so many times.
#[derive(Debug)]
pub struct Pan {
    pub(super) kind: &'static ShapeKind,
    pub(super) shape: Box<dyn Shape>,
    pub(super) sizes: Sizes,
    pub(super) unit: &'static Unit,
    pub(super) depth: Option<(Length, DepthFrom)>,
    pub(super) count: u32,
    pub(super) material: Option<Material>,
    pub(super) row: Option<&'static PanRow>,
    /// Where it stands in the question.
    pub(super) at: String,
}

impl Pan {
    /// The pan of a row of the table.
    pub(super) fn of_row(row: &'static PanRow, reference: &'static Reference) -> Option<Self> {
        let kind = ShapeKind::of_word(row.shape)?;
        assembled(kind, row.sizes.clone(), row.unit, reference, &Pointer::ROOT).ok()
    }

    /// How many of it are used at once.
    pub fn count(&self) -> u32 {
        self.count
    }

    pub fn material(&self) -> Material {
        self.material.unwrap_or_default()
    }

    pub fn material_given(&self) -> bool {
        self.material.is_some()
    }

    /// How many cakes come out of one such pan.
    pub fn wells(&self) -> u32 {
        self.shape.wells()
    }

    /// The trade size it is, if it is one.
    pub fn trade_size(&self) -> Option<&'static PanRow> {
        self.row
    }

    pub fn depth(&self) -> Option<Length> {
        self.depth.map(|(depth, _)| depth)
    }

    pub fn depth_from(&self) -> Option<DepthFrom> {
        self.depth.map(|(_, from)| from)
    }

    /// The depth, or the refusal that asks for it.
    pub fn depth_known(&self) -> Result<Length, Fault> {
        self.depth().ok_or_else(|| self.needs(Dimension::Depth, "the inside depth, such as \"2 in\""))
    }

    /// The refusal that asks for a dimension.
    pub(super) fn needs(&self, dimension: Dimension, accepted: &str) -> Fault {
        let mut fault = Fault::new(&Pointer::ROOT, Code::DimensionNeeded, self.text(), accepted);
        fault.pointer = self.place_of(Some(dimension));
        fault
    }

    /// Where to set a dimension of it: a phrase has one place for all.
    pub(super) fn place_of(&self, dimension: Option<Dimension>) -> String {
        match dimension {
            Some(dimension) if self.at.ends_with(self.kind.word) => format!("{}/{}", self.at, dimension.word()),
            _ => self.at.clone(),
        }
    }

    /// Where to set its material.
    pub(super) fn material_place(&self) -> String {
        match self.at.strip_suffix(self.kind.word) {
            Some(pan) => format!("{pan}material"),
            None => self.at.clone(),
        }
    }

    /// Its longest way across at the rim, where it has a length.
    pub(super) fn longest(&self) -> Option<Length> {
        self.sizes.length(Dimension::Length)
    }

    /// What one such pan holds to the brim: by geometry, by water or, where neither serves, as printed.
    pub fn capacity(&self) -> Result<Span<Volume>, Fault> {
        match self.held() {
            Some(Held::Water(volume) | Held::Printed(volume)) => Ok(volume),
            Some(Held::Estimated(volume)) => Ok(self.row.and_then(|row| row.published).map_or(volume, |cited| cited.figure)),
            None => self
                .by_geometry()
                .map(Span::exact)
                .ok_or_else(|| self.needs(Dimension::Depth, "the inside depth, or the capacity by water")),
        }
    }

    pub(super) fn held(&self) -> Option<Held> {
        self.shape.holds(self.depth())
    }

    /// The mean of its sections, which times the depth is the capacity.
    pub(super) fn mean_area(&self) -> Option<Area> {
        let at = |share| self.shape.section(Share::of_one(share));
        Some(mean_section(at(0.0)?, at(0.5)?, at(1.0)?))
    }

    pub(super) fn by_geometry(&self) -> Option<Volume> {
        Some(self.mean_area()? * self.depth()?)
    }

    /// What is printed of such a pan, with its source.
    pub fn published(&self) -> Option<Cited<Span<Volume>>> {
        self.row.and_then(|row| row.published)
    }

    /// The area at the rim, of all its wells.
    pub fn top_area(&self) -> Option<Area> {
        self.shape.section(Share::of_one(1.0))
    }

    /// The area at the base, of all its wells.
    pub fn base_area(&self) -> Option<Area> {
        self.shape.section(Share::of_one(0.0))
    }

    /// The outer sides of what comes out of it.
    pub fn side_area(&self) -> Option<Area> {
        self.shape.wall(self.depth()?)
    }

    /// How far heat has to come from the side.
    pub fn half_way(&self) -> Option<Length> {
        self.shape.half_way()
    }

    /// Whether heat comes up through the middle too.
    pub fn has_core(&self) -> bool {
        self.shape.has_core()
    }

    /// What it holds up to this height; above the rim as if the rim went straight on up.
    pub fn volume_to(&self, height: Length) -> Option<Volume> {
        let depth = self.depth()?;
        let share = |part: f64| Share::of_one((height / depth).value() * part);
        if self.held().is_some() {
            return self.capacity().ok().map(|capacity| capacity.value() * share(1.0).as_factor());
        }
        if height > depth {
            return Some(self.by_geometry()? + self.top_area()? * (height - depth));
        }
        let at = |part| self.shape.section(share(part));
        Some(mean_section(at(0.0)?, at(0.5)?, at(1.0)?) * height)
    }

    /// How high this much stands in one such pan; above the rim as if the rim went straight on up.
    pub fn height_of(&self, volume: Volume) -> Option<Length> {
        let (depth, capacity) = (self.depth()?, self.capacity().ok()?.value());
        if volume >= capacity {
            let rim = self.top_area().unwrap_or(capacity / depth);
            return Some(depth + (volume - capacity) / rim);
        }
        Some(height_of(volume, depth, |height| self.volume_to(height).unwrap_or(capacity)))
    }

    /// As a person would name it: "2 × round, 9 × 2 in".
    pub fn text(&self) -> String {
        let mut text = String::with_capacity(48);
        if self.count != 1 {
            text.extend([&*self.count.to_string(), " × "]);
        }
        match self.row.filter(|_| self.is_the_row()) {
            Some(row) => text.push_str(row.name),
            None => text.push_str(&self.described()),
        }
        text
    }

    fn is_the_row(&self) -> bool {
        self.row.is_some_and(|row| row.sizes == self.sizes)
    }

    pub(super) fn described(&self) -> String {
        let length = |length: Length| decimals(length.in_centimetres() / self.unit.size, 3);
        let main = self.kind.fields.iter().filter(|field| {
            field.dimension.family() == Family::Length
                && (field.needed && field.dimension != Dimension::CoreDiameter || matches!(field.dimension, Dimension::Diameter))
        });
        let depth = self.depth().filter(|_| self.depth_from() != Some(DepthFrom::Shape));
        let figures = main.filter_map(|field| self.sizes.length(field.dimension)).chain(depth).map(length);
        let mut text = self.kind.word.replace('-', " ");
        if let Some(wells) = self.sizes.wells {
            text.extend([", ", &*wells.to_string(), " wells of"]);
        }
        let plain = text.len();
        for figure in figures {
            let mark = match (text.len() > plain, self.sizes.wells) {
                (true, _) => " × ",
                (false, Some(_)) => " ",
                (false, None) => ", ",
            };
            text.extend([mark, &figure]);
        }
        if text.len() > plain {
            text.extend([" ", self.unit.one]);
        } else if let Some(capacity) = self.sizes.capacity {
            text.extend([", ", &decimals(capacity.value().in_millilitres(), 0), " ml"]);
        }
        text
    }

    /// How many pans, as a factor.
    pub(super) fn times(&self) -> Factor {
        Factor::times(f64::from(self.count))
    }
}
