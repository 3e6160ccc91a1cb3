//! The few plane figures that pans are made of, and the rule that makes a volume of three sections.

use std::f64::consts::PI;

use crate::quantity::{Area, Length, Share, Volume};

/// The area of a circle.
pub(super) fn circle(diameter: Length) -> Area {
    let d = diameter.in_centimetres();
    Area::square_centimetres(PI * d * d / 4.0)
}

/// A width on the way from the base to the rim of a straight slanting wall.
pub(super) fn between(base: Length, rim: Length, at: Share) -> Length {
    base + (rim - base) * at.as_factor()
}

/// The mean of three sections of a quadratic: Simpson's rule, exact here.
pub(super) fn mean_section(base: Area, middle: Area, rim: Area) -> Area {
    let [base, middle, rim] = [base, middle, rim].map(Area::in_square_centimetres);
    Area::square_centimetres((base + 4.0 * middle + rim) / 6.0)
}

/// The wall of a cone cut off: half the two girths, times the slant.
pub(super) fn cone_wall(base: Length, rim: Length, depth: Length) -> Area {
    let [base, rim, depth] = [base, rim, depth].map(Length::in_centimetres);
    let lean = (rim - base) / 2.0;
    Area::square_centimetres(PI * (base + rim) / 2.0 * libm::sqrt(depth * depth + lean * lean))
}

/// A wall that stands straight up on this girth.
pub(super) fn straight_wall(girth: Length, depth: Length) -> Area {
    girth * depth
}

/// The height that holds this volume, by halving: every section is above nothing, so there is one answer.
pub(super) fn height_of(volume: Volume, depth: Length, up_to: impl Fn(Length) -> Volume) -> Length {
    let (mut low, mut high) = (0.0, depth.in_centimetres());
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if up_to(Length::centimetres(middle)) < volume { low = middle } else { high = middle }
    }
    Length::centimetres(high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cone_cut_off_with_equal_ends_has_the_wall_of_a_cylinder() {
        let (d, h) = (Length::centimetres(20.0), Length::centimetres(5.0));
        let cylinder = straight_wall(Length::centimetres(PI * 20.0), h);
        assert!((cone_wall(d, d, h) - cylinder).in_square_centimetres().abs() < 1e-9);
    }
}
