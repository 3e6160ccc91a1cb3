//! The trade's pans: one row a size, with its inside dimensions and, where one was printed, its published capacity. A table of measures, so it knows no geometry.

use foldhash::HashMap;

use super::source::{Citation, Cited, Sources};
use super::table::{DataFile, Row, TableFault};
use crate::quantity::{Area, Factor, Family, Length, Measures, Share, Span, Unit, Volume, plain};

/// Makes the closed list of a pan's dimensions, each with the name it has in tables and questions.
macro_rules! dimensions {
    ($($name:ident = $word:literal, $family:ident;)*) => {
        /// What can be measured of a pan.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Dimension { $(#[doc = $word] $name,)* }

        impl Dimension {
            /// All of them, in the order in which they are written.
            pub const ALL: &'static [Dimension] = &[$(Dimension::$name,)*];

            /// Its name in tables and questions.
            pub const fn word(self) -> &'static str {
                match self { $(Dimension::$name => $word,)* }
            }

            /// What kind of measure it is.
            pub const fn family(self) -> Family {
                match self { $(Dimension::$name => Family::$family,)* }
            }
        }
    };
}

dimensions! {
    Diameter = "diameter", Length;
    BaseDiameter = "base_diameter", Length;
    CoreDiameter = "core_diameter", Length;
    CoreTopDiameter = "core_top_diameter", Length;
    Side = "side", Length;
    BaseSide = "base_side", Length;
    Length = "length", Length;
    Width = "width", Length;
    BaseLength = "base_length", Length;
    BaseWidth = "base_width", Length;
    Across = "across", Length;
    Depth = "depth", Length;
    Corner = "corner", Length;
    Wells = "wells", Count;
    Capacity = "capacity", Volume;
    TopArea = "top_area", Area;
}

/// The measures of one pan, as far as they are known.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sizes {
    lengths: [Option<Length>; Dimension::Wells as usize],
    pub wells: Option<u32>,
    pub capacity: Option<Span<Volume>>,
    pub top_area: Option<Area>,
}

impl Sizes {
    /// A length, if it is known.
    pub fn length(&self, dimension: Dimension) -> Option<Length> {
        self.lengths.get(dimension as usize).copied().flatten()
    }

    /// The first of its lengths: by it the sizes of a shape are put in order.
    pub fn lead(&self) -> Option<Length> {
        self.lengths.iter().copied().flatten().next()
    }

    /// Sets a length; what is not a length stays as it was.
    pub fn set(&mut self, dimension: Dimension, length: Length) {
        if let Some(place) = self.lengths.get_mut(dimension as usize) {
            *place = Some(length);
        }
    }

    /// The same without its depth.
    #[must_use]
    pub fn without_depth(mut self) -> Self {
        self.lengths[Dimension::Depth as usize] = None;
        self
    }
}

/// One trade size.
#[derive(Debug)]
pub struct PanRow {
    pub id: &'static str,
    pub name: &'static str,
    /// What else it is called.
    pub names: Vec<&'static str>,
    /// Where this size is sold: us, uk, metric or, for bakery trays and gastronorm, trade.
    pub region: &'static str,
    /// The shape's word.
    pub shape: &'static str,
    /// The unit in which its maker measures.
    pub unit: &'static Unit,
    /// Inside, from edge to edge.
    pub sizes: Sizes,
    /// What is printed of its capacity, of the whole tray where it has wells.
    pub published: Option<Cited<Span<Volume>>>,
    /// The commonest of its kind: taken where a phrase leaves the depth open.
    pub common: bool,
    pub citation: Citation,
    pub note: &'static str,
}

/// All trade sizes, found by id or by any of their names.
pub struct PanTable {
    pub all: &'static [PanRow],
    by_name: HashMap<String, &'static PanRow>,
    by_shape: HashMap<&'static str, Ranked>,
}

/// The sizes of one shape in the order of their first length, the lengths apart from the rows: a search touches few places.
#[derive(Default)]
struct Ranked {
    leads: Vec<Length>,
    rows: Vec<&'static PanRow>,
}

impl Ranked {
    fn of(mut rows: Vec<&'static PanRow>) -> Self {
        let lead = |row: &PanRow| row.sizes.lead().unwrap_or(Length::ZERO);
        rows.sort_by(|a, b| lead(a).in_centimetres().total_cmp(&lead(b).in_centimetres()));
        Self { leads: rows.iter().map(|row| lead(row)).collect(), rows }
    }
}

impl PanTable {
    pub(super) fn load(file: DataFile, sources: &Sources) -> Result<Self, TableFault> {
        let all = file.rows()?.iter().map(|row| pan(row, sources)).collect::<Result<Vec<_>, _>>()?;
        let all: &'static [PanRow] = Vec::leak(all);
        let mut by_name = HashMap::default();
        for row in all {
            for name in [row.id, row.name].iter().chain(&row.names) {
                let taken = by_name.insert(plain(name).into_owned(), row);
                if taken.is_some_and(|other: &PanRow| other.id != row.id) {
                    return Err(format!("{}: two pans are called {name}", file.name));
                }
            }
        }
        let mut rows: HashMap<&'static str, Vec<&'static PanRow>> = HashMap::default();
        all.iter().for_each(|row| rows.entry(row.shape).or_default().push(row));
        let by_shape = rows.into_iter().map(|(shape, rows)| (shape, Ranked::of(rows))).collect();
        Ok(Self { all, by_name, by_shape })
    }

    /// The sizes of one shape whose first length lies within this share of it; all of them where no length is known.
    pub fn near(&self, shape: &str, lead: Option<Length>, share: Share) -> &[&'static PanRow] {
        let Some(Ranked { leads, rows }) = self.by_shape.get(shape) else { return &[] };
        let Some(lead) = lead else { return rows };
        let (least, most) = (lead / Factor::times(1.0 + share.value()), lead / Factor::times(1.0 - share.value()));
        let from = leads.partition_point(|known| *known < least);
        let to = from + leads[from..].iter().take_while(|known| **known <= most).count();
        // A length at the very end belongs to it, whichever way its last digit was rounded.
        &rows[from.saturating_sub(1)..(to + 1).min(rows.len())]
    }

    /// The pan with this id or name.
    pub fn find(&self, name: &str) -> Option<&'static PanRow> {
        self.by_name.get(&*plain(name)).copied()
    }

    /// Every name, for suggestions.
    pub fn names(&self) -> impl Iterator<Item = &'static str> {
        self.all.iter().flat_map(|row| row.names.iter().copied())
    }
}

fn pan(row: &Row, sources: &Sources) -> Result<PanRow, TableFault> {
    let unit = match row.required("unit")? {
        "in" => Unit::known("inch"),
        "cm" => Unit::known("centimetre"),
        "mm" => Unit::known("millimetre"),
        other => return Err(row.fault(format_args!("no unit of length {other}"))),
    };
    let citation = sources.cite(row)?;
    let published =
        volume(row, ["published", "published_low", "published_high"], "published_unit")?.map(|figure| Cited { figure, citation });
    Ok(PanRow {
        id: row.required("id")?,
        name: row.required("name")?,
        names: row.list("names")?,
        region: row.required("region")?,
        shape: row.required("shape")?,
        unit,
        sizes: sizes(row, unit)?,
        published,
        common: row.flag("common")?,
        citation,
        note: row.text("note")?,
    })
}

fn sizes(row: &Row, unit: &Unit) -> Result<Sizes, TableFault> {
    let mut sizes = Sizes::default();
    for dimension in Dimension::ALL.iter().copied().filter(|dimension| dimension.family() == Family::Length) {
        if let Some(figure) = row.number(dimension.word())? {
            if figure <= 0.0 {
                return Err(row.fault(format_args!("{} is not above 0", dimension.word())));
            }
            sizes.set(dimension, Length::centimetres(figure * unit.size));
        }
    }
    sizes.wells = match row.text("wells")? {
        "" => None,
        wells => Some(wells.parse().map_err(|_| row.fault("wells is no whole number"))?),
    };
    sizes.capacity = volume(row, ["capacity"; 3], "capacity_unit")?;
    Ok(sizes)
}

fn volume(row: &Row, [value, low, high]: [&str; 3], unit: &str) -> Result<Option<Span<Volume>>, TableFault> {
    let Some(figures) = row.span(value, low, high)? else { return Ok(None) };
    let unit = row.required(unit)?;
    let size = match Unit::of_word(unit, Measures::Us) {
        Some(known) if known.family == Family::Volume => known.size,
        _ => return Err(row.fault(format_args!("no unit of volume {unit}"))),
    };
    Ok(Some(figures.map(|figure| Volume::millilitres(figure * size))))
}

#[cfg(test)]
mod tests {
    use crate::reference::Reference;

    #[test]
    fn a_nine_inch_round_is_found_by_what_people_call_it() {
        let pans = &Reference::load().unwrap_or_else(|fault| panic!("{fault}")).pans;
        for name in ["round-9x2", "9 inch round", "9 Inch Round Cake Pan"] {
            assert_eq!(pans.find(name).map(|row| row.id), Some("round-9x2"), "{name}");
        }
        assert!(pans.all.len() >= 60);
    }

    #[test]
    fn no_printed_capacity_is_nothing() {
        let pans = &Reference::load().unwrap_or_else(|fault| panic!("{fault}")).pans;
        for row in pans.all {
            assert!(row.published.as_ref().is_none_or(|cited| cited.figure.low().in_millilitres() > 0.0), "{}", row.id);
        }
    }
}
