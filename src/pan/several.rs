//! The pans of one side of a question, all used at once: what one batch goes into.

use super::one::Pan;
use crate::quantity::{Area, Fault, Faults, Length, Span, Volume};

/// One pan or several, never none.
#[derive(Debug)]
pub struct Pans {
    pub(super) all: Vec<Pan>,
}

impl Pans {
    pub fn iter(&self) -> impl Iterator<Item = &Pan> {
        self.all.iter()
    }

    /// The pan that is asked about where only one can be: the first.
    pub fn first(&self) -> &Pan {
        &self.all[0]
    }

    /// Whether all of them are trays of wells: cupcakes, muffins, friands.
    pub fn all_wells(&self) -> bool {
        self.all.iter().all(|pan| pan.wells() > 1)
    }

    /// How many pans altogether.
    pub fn count(&self) -> u32 {
        self.all.iter().fold(0, |sum, pan| sum.saturating_add(pan.count))
    }

    /// How many cakes come out of them altogether.
    pub fn cakes(&self) -> u32 {
        self.all.iter().fold(0, |sum, pan| sum.saturating_add(pan.count.saturating_mul(pan.wells())))
    }

    /// What they all hold to the brim.
    pub fn capacity(&self) -> Result<Span<Volume>, Faults> {
        let mut faults = Faults::new();
        let mut sum = Span::exact(Volume::ZERO);
        for pan in &self.all {
            if let Some(one) = faults.keep(pan.capacity()) {
                sum = sum + one * pan.times();
            }
        }
        faults.or(sum)
    }

    /// What is printed of them, if it is printed of each.
    pub fn published(&self) -> Option<Span<Volume>> {
        self.total(|pan| pan.published().map(|cited| cited.figure * pan.times()), Span::exact(Volume::ZERO))
    }

    /// The area of all rims.
    pub fn top_area(&self) -> Option<Area> {
        self.total(|pan| pan.top_area().map(|area| area * pan.times()), Area::ZERO)
    }

    /// The outer sides of all that comes out of them.
    pub fn side_area(&self) -> Option<Area> {
        self.total(|pan| pan.side_area().map(|area| area * pan.times()), Area::ZERO)
    }

    /// What they hold together up to this height.
    pub fn volume_to(&self, height: Length) -> Option<Volume> {
        self.total(|pan| pan.volume_to(height).map(|volume| volume * pan.times()), Volume::ZERO)
    }

    /// As a person would name them.
    pub fn text(&self) -> String {
        match &*self.all {
            [one] => one.text(),
            several => several.iter().map(Pan::text).collect::<Vec<_>>().join(" and "),
        }
    }

    /// The refusals for every pan whose depth is needed and not known.
    pub(super) fn depths_needed(&self) -> impl Iterator<Item = Fault> {
        self.all.iter().filter_map(|pan| pan.depth_known().err())
    }

    fn total<T: std::ops::Add<Output = T>>(&self, of: impl Fn(&Pan) -> Option<T>, nothing: T) -> Option<T> {
        self.all.iter().try_fold(nothing, |sum, pan| Some(sum + of(pan)?))
    }
}
