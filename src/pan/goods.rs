//! Which goods a bake estimate can speak of: batters that lie in pans. For everything else it says why not.

/// Goods whose bake can be estimated, by the crumb they should reach.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Batter {
    /// The product in the advice on crumb temperatures.
    pub(super) crumb: &'static str,
}

/// What has no estimate, and why.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NoEstimate {
    pub why: &'static str,
}

/// The crumb that each style of batter should reach.
const BATTERS: &[(&str, &[&str])] = &[
    ("layer-cake", &["creamed", "high-ratio", "oil-cake", "genoise", "sponge", "nut-sponge"]),
    ("pound-cake", &["pound", "fruit-cake"]),
    ("quick-bread", &["quick-bread", "brownie"]),
    ("muffin", &["muffin"]),
    ("angel", &["angel", "chiffon"]),
    ("cheesecake", &["cheesecake"]),
];

/// What lies in a pan and does not fill it: it is as thick in any other.
const AS_THICK: &[&str] = &["drop-cookie", "rolled-cookie", "shortbread", "streusel", "scone"];

/// Whether a style keeps its thickness from pan to pan, and not the share that it fills.
pub fn lies_as_thick(style: &str) -> bool {
    AS_THICK.contains(&style)
}

/// Why no estimate is made of the others.
const OTHERS: &[(&str, &[&str])] = &[
    ("Doughnuts are fried, not baked in pans", &["doughnut"]),
    ("Griddle goods are baked on hot metal, in minutes, not in pans", &["pancake", "waffle", "crepe"]),
    (
        "Yeast doughs are proved and shaped: their time goes with the piece and its crust, not with the pan",
        &["lean-dough", "enriched-dough", "brioche", "laminated-dough"],
    ),
    (
        "Pastry is thin or hollow: its time goes with colour and drying, not with heat's way to the middle",
        &["pie-dough", "tart-dough", "puff", "choux"],
    ),
    (
        "Pieces that lie on a sheet bake by their own thickness, not by the pan",
        &["drop-cookie", "rolled-cookie", "shortbread", "streusel", "scone", "macaron"],
    ),
    ("Meringue is dried rather than baked", &["meringue"]),
    ("It is not baked in a pan", &["buttercream", "ganache", "pastry-cream", "curd", "glaze", "syrup"]),
];

/// Whether a style is a batter that lies in a pan. Where no style is said, a cake batter is meant.
pub fn batter(style: Option<&str>) -> Result<Batter, NoEstimate> {
    let of = |list: &[(&'static str, &[&str])]| {
        list.iter().find(|(_, styles)| style.is_some_and(|style| styles.contains(&style))).map(|(word, _)| *word)
    };
    match (of(BATTERS), of(OTHERS)) {
        (Some(crumb), _) => Ok(Batter { crumb }),
        (None, Some(why)) => Err(NoEstimate { why }),
        (None, None) => Ok(Batter { crumb: "layer-cake" }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::Reference;

    #[test]
    fn what_is_fried_has_no_estimate_and_what_is_poured_into_a_pan_has() {
        assert!(batter(Some("doughnut")).is_err());
        assert!(batter(Some("drop-cookie")).is_err());
        assert!(batter(Some("creamed")).is_ok() && batter(None).is_ok());
    }

    #[test]
    fn every_style_is_known_as_a_batter_or_as_none() {
        let reference = Reference::load().expect("the tables");
        let mut named: Vec<&str> = BATTERS.iter().chain(OTHERS).flat_map(|(_, styles)| *styles).copied().collect();
        let mut styles: Vec<&str> = reference.styles.all.iter().map(|style| style.id).collect();
        named.sort_unstable();
        styles.sort_unstable();
        assert_eq!(named, styles);
        let crumb = |crumb: &str| reference.advices.on("crumb-end").any(|advice| advice.product == crumb);
        assert!(BATTERS.iter().all(|(word, _)| crumb(word)));
    }
}
