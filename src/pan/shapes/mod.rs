//! The list of shapes. A new one is a file here and a word below; questions, the document and the listing all walk the list.

/// Takes in one file for each shape, and lists them.
macro_rules! shapes {
    ($($shape:ident),* $(,)?) => {
        $(mod $shape;)*

        /// All shapes, in the order in which they are published.
        pub const SHAPES: &[&super::ShapeKind] = &[$(&$shape::KIND,)*];
    };
}

mod four_sided;

shapes!(round, springform, square, rectangle, sheet, loaf, tube, fluted_ring, oval, hexagon, heart, hemisphere, muffin_tray, measured,);

impl super::ShapeKind {
    /// The shape with this word.
    pub fn of_word(word: &str) -> Option<&'static Self> {
        SHAPES.iter().copied().find(|kind| kind.word == word)
    }
}

#[cfg(test)]
mod tests {
    // Every shape against printed figures, and the laws that hold for all of them.
    use proptest::prelude::*;

    use super::*;
    use crate::pan::one::Pan;
    use crate::pan::reading::assembled;
    use crate::quantity::{Code, Family, Length, Pointer, Span, Unit, Volume};
    use crate::reference::{Dimension, Reference, Sizes};

    use Dimension::*;

    fn reference() -> &'static Reference {
        Reference::load().unwrap_or_else(|fault| panic!("{fault}"))
    }

    fn inches(word: &str, measures: &[(Dimension, f64)]) -> Result<Pan, Code> {
        let mut sizes = Sizes::default();
        for (dimension, figure) in measures {
            match dimension {
                Wells => sizes.wells = Some(*figure as u32),
                Capacity => sizes.capacity = Some(Span::exact(Volume::millilitres(figure * 236.588_236_5))),
                _ => sizes.set(*dimension, Length::centimetres(figure * 2.54)),
            }
        }
        let kind = crate::pan::ShapeKind::of_word(word).unwrap_or_else(|| panic!("no shape {word}"));
        assembled(kind, sizes, Unit::known("inch"), reference(), &Pointer::ROOT).map_err(|fault| fault.code)
    }

    #[track_caller]
    fn cups(word: &str, measures: &[(Dimension, f64)]) -> f64 {
        let pan = inches(word, measures).unwrap_or_else(|code| panic!("{word} {measures:?}: {code:?}"));
        pan.capacity().unwrap_or_else(|fault| panic!("{fault:?}")).value().in_millilitres() / 236.588_236_5
    }

    /// By its own measures alone: beside a printed capacity a fluted ring's estimate would jump to the print.
    fn by_itself(word: &str, measures: &[(Dimension, f64)]) -> f64 {
        match inches(word, measures).ok().and_then(|pan| pan.held()) {
            Some(crate::pan::Held::Estimated(volume)) => volume.value().in_millilitres(),
            _ => cups(word, measures),
        }
    }

    #[track_caller]
    fn holds(word: &str, measures: &[(Dimension, f64)], expected: f64) {
        let cups = cups(word, measures);
        assert!((cups - expected).abs() < 0.002, "{word} {measures:?}: {cups} for {expected} cups");
    }

    #[test]
    fn plain_pans_hold_what_geometry_says() {
        holds("round", &[(Diameter, 8.0), (Depth, 2.0)], 6.963);
        holds("round", &[(Diameter, 9.0), (Depth, 2.0)], 8.813);
        holds("round", &[(Diameter, 10.0), (Depth, 2.0)], 10.880);
        holds("square", &[(Side, 8.0), (Depth, 2.0)], 8.866);
        holds("square", &[(Side, 9.0), (Depth, 2.0)], 11.221);
        holds("rectangle", &[(Length, 13.0), (Width, 9.0), (Depth, 2.0)], 16.208);
        holds("sheet", &[(Length, 15.0), (Width, 10.0), (Depth, 1.0)], 10.390);
        holds("loaf", &[(Length, 8.5), (Width, 4.5), (Depth, 2.5)], 6.623);
        holds("springform", &[(Diameter, 9.0), (Depth, 2.5)], 11.016);
        holds("oval", &[(Length, 7.75), (Width, 5.625), (Depth, 2.0)], 4.743);
        holds("hemisphere", &[(Diameter, 8.0)], 9.2842);
        holds("hexagon", &[(Across, 9.0 * 3.0_f64.sqrt() / 2.0), (Depth, 2.0)], 7.2881);
        holds("heart", &[(Width, 9.0), (Depth, 2.0)], 6.874);
    }

    #[test]
    fn every_shape_takes_the_lengths_by_which_it_is_sold_or_what_stands_for_them() {
        for kind in SHAPES {
            assert!(kind.sold_by.iter().all(|length| kind.takes(*length)), "{}", kind.word);
            assert!(!kind.sold_by.is_empty() || kind.needs_no_length(), "{}", kind.word);
        }
    }

    #[test]
    fn leaning_walls_are_reckoned_exactly() {
        // A loaf printed at 1440 ml; a standard muffin cup printed at half a cup; a 10 x 4 in tube printed at 16 cups.
        holds("loaf", &[(Length, 8.5), (Width, 4.5), (BaseLength, 7.5), (BaseWidth, 3.5), (Depth, 2.75)], 1445.8 / 236.588);
        holds("muffin-tray", &[(Wells, 1.0), (Diameter, 2.75), (BaseDiameter, 2.0), (Depth, 1.5)], 0.4641);
        holds("muffin-tray", &[(Wells, 12.0), (Diameter, 2.75), (BaseDiameter, 2.0), (Depth, 1.5)], 0.464_10 * 12.0);
        holds("tube", &[(Diameter, 10.0), (BaseDiameter, 9.0), (CoreDiameter, 2.75), (CoreTopDiameter, 2.0), (Depth, 4.0)], 18.419);
    }

    #[test]
    fn equal_ends_make_a_cone_a_cylinder_and_round_corners_cost_their_share() {
        let straight = cups("round", &[(Diameter, 9.0), (Depth, 2.0)]);
        assert_eq!(cups("round", &[(Diameter, 9.0), (BaseDiameter, 9.0), (Depth, 2.0)]), straight);
        let corners = cups("rectangle", &[(Length, 9.0), (Width, 9.0), (Corner, 4.5), (Depth, 2.0)]);
        assert!((corners - straight).abs() < 1e-9, "corners of half the width make a round");
    }

    #[test]
    fn a_fluted_ring_without_a_capacity_is_a_span_that_holds_the_printed_ones() {
        for (diameter, depth, printed) in [(7.5, 3.0, 6.0), (9.0, 3.0, 9.0), (10.0, 3.0, 12.0), (10.0, 3.5, 12.0)] {
            let pan = inches("fluted-ring", &[(Diameter, diameter), (Depth, depth)]).unwrap_or_else(|code| panic!("{code:?}"));
            let Some(crate::pan::Held::Estimated(span)) = pan.held() else { panic!("a fluted ring is estimated") };
            let printed = printed * 236.588_236_5;
            assert!(
                span.low().in_millilitres() <= printed * 1.005 && printed <= span.high().in_millilitres() * 1.005,
                "{diameter} x {depth}"
            );
        }
        let share = reference().advices.find("fluted-share", "share-of-cylinder").and_then(crate::reference::Advice::ratio);
        assert_eq!(share.map(|s| (s.low().value(), s.value().value(), s.high().value())), Some((0.63, 0.68, 0.74)));
    }

    #[test]
    fn pans_that_cannot_be_are_refused() {
        for (word, measures) in [
            ("tube", &[(Diameter, 9.0), (Depth, 3.0), (CoreDiameter, 9.0)][..]),
            ("tube", &[(Diameter, 9.0), (Depth, 3.0), (CoreDiameter, 2.0), (CoreTopDiameter, 3.0)]),
            ("rectangle", &[(Length, 9.0), (Width, 5.0), (Corner, 2.6)]),
            ("round", &[(Diameter, 9.0), (BaseDiameter, 10.0)]),
        ] {
            assert_eq!(inches(word, measures).err(), Some(Code::ImpossiblePan), "{word} {measures:?}");
        }
        assert_eq!(inches("round", &[(Depth, 2.0)]).err(), Some(Code::DimensionNeeded));
        assert_eq!(inches("fluted-ring", &[(Depth, 2.0)]).err(), Some(Code::DimensionNeeded));
    }

    #[test]
    fn every_trade_size_is_a_pan_that_can_be() {
        for row in reference().pans.all {
            let kind = crate::pan::ShapeKind::of_word(row.shape).unwrap_or_else(|| panic!("{}: no shape {}", row.id, row.shape));
            let pan = assembled(kind, row.sizes.clone(), row.unit, reference(), &Pointer::ROOT)
                .unwrap_or_else(|fault| panic!("{}: {fault:?}", row.id));
            let capacity = pan.capacity().unwrap_or_else(|fault| panic!("{}: {fault:?}", row.id)).value();
            if let Some(published) = row.published {
                // Printed capacities are 0.56 to 1.08 of geometry in the table's sources; the mini muffin well is the one above.
                let ratio = (published.figure.value() / capacity).value();
                assert!((0.5..=1.8).contains(&ratio), "{}: printed {ratio:.2} of {capacity:?}", row.id);
            }
        }
    }

    #[test]
    fn the_outer_side_of_a_round_cake_is_its_girth_times_its_height() {
        let pan = inches("round", &[(Diameter, 8.0), (Depth, 2.0)]).unwrap_or_else(|code| panic!("{code:?}"));
        let side = pan.side_area().map(|area| area.in_square_centimetres() / 6.4516);
        assert!(side.is_some_and(|side| (side - 50.265).abs() < 0.001), "{side:?}");
    }

    /// Each shape with measures that make a pan, by one size.
    fn sample(word: &str, size: f64) -> Vec<(Dimension, f64)> {
        match word {
            "round" | "springform" => vec![(Diameter, size), (BaseDiameter, size * 0.8), (Depth, size / 4.0)],
            "square" => vec![(Side, size), (BaseSide, size * 0.9), (Depth, size / 4.0)],
            "rectangle" | "sheet" => vec![(Length, size), (Width, size * 0.7), (Depth, size / 6.0), (Corner, size * 0.1)],
            "loaf" => vec![(Length, size), (Width, size / 2.0), (BaseLength, size * 0.9), (BaseWidth, size * 0.4), (Depth, size / 3.0)],
            "tube" => vec![
                (Diameter, size),
                (CoreDiameter, size * 0.3),
                (CoreTopDiameter, size * 0.2),
                (BaseDiameter, size * 0.9),
                (Depth, size / 3.0),
            ],
            "oval" => vec![(Length, size), (Width, size * 0.7), (Depth, size / 4.0)],
            "hexagon" => vec![(Across, size), (Depth, size / 4.0)],
            "heart" => vec![(Width, size), (Depth, size / 4.0)],
            "hemisphere" => vec![(Diameter, size)],
            "muffin-tray" => vec![(Wells, 12.0), (Diameter, size / 3.0), (BaseDiameter, size / 4.0), (Depth, size / 6.0)],
            "fluted-ring" => vec![(Diameter, size), (Depth, size / 3.0)],
            _ => vec![(Capacity, size), (Depth, size / 3.0)],
        }
    }

    proptest! {
        #[test]
        fn a_pan_larger_in_any_dimension_holds_more(size in 4.0..30.0_f64, more in 1.001..1.05_f64) {
            for kind in SHAPES {
                let plain = sample(kind.word, size);
                for (at, (dimension, _)) in plain.iter().enumerate().filter(|(_, (dimension, _))| dimension.family() == Family::Length) {
                    let mut larger = plain.clone();
                    larger[at].1 *= more;
                    let (before, after) = (by_itself(kind.word, &plain), by_itself(kind.word, &larger));
                    match dimension {
                        Corner | CoreDiameter | CoreTopDiameter => prop_assert!(after < before, "{} {dimension:?}", kind.word),
                        Depth if kind.word == "measured" => prop_assert_eq!(after, before),
                        _ => prop_assert!(after > before, "{} {dimension:?}", kind.word),
                    }
                }
            }
        }

        #[test]
        fn what_stands_at_a_height_fills_to_that_height(size in 4.0..30.0_f64, share in 0.05..1.3_f64) {
            for kind in SHAPES {
                let Ok(pan) = inches(kind.word, &sample(kind.word, size)) else { panic!("{}", kind.word) };
                let capacity = pan.capacity().map(|span| span.value()).unwrap_or_default();
                let volume = capacity * crate::quantity::Factor::times(share);
                let height = pan.height_of(volume).unwrap_or_default();
                let back = pan.volume_to(height).unwrap_or_default();
                prop_assert!(((back / volume).value() - 1.0).abs() < 1e-9 || kind.word == "fluted-ring" || kind.word == "measured", "{}: {back:?} {volume:?}", kind.word);
            }
        }
    }
}
