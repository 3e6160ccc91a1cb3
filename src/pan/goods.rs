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

const LAYER: Batter = Batter { crumb: "layer-cake" };

/// Whether a style is a batter that lies in a pan. Where no style is said, a cake batter is meant.
pub fn batter(style: Option<&str>) -> Result<Batter, NoEstimate> {
    let why = match style {
        Some("pound" | "fruit-cake") => return Ok(Batter { crumb: "pound-cake" }),
        Some("quick-bread" | "brownie") => return Ok(Batter { crumb: "quick-bread" }),
        Some("muffin") => return Ok(Batter { crumb: "muffin" }),
        Some("angel" | "chiffon") => return Ok(Batter { crumb: "angel" }),
        Some("cheesecake") => return Ok(Batter { crumb: "cheesecake" }),
        Some("doughnut") => "Doughnuts are fried, not baked in pans",
        Some("pancake" | "waffle" | "crepe") => "Griddle goods are baked on hot metal, in minutes, not in pans",
        Some("lean-dough" | "enriched-dough" | "brioche" | "laminated-dough") => {
            "Yeast doughs are proved and shaped: their time goes with the piece and its crust, not with the pan"
        }
        Some("pie-dough" | "tart-dough" | "puff" | "choux") => {
            "Pastry is thin or hollow: its time goes with colour and drying, not with heat's way to the middle"
        }
        Some("drop-cookie" | "rolled-cookie" | "shortbread" | "streusel" | "scone") => {
            "Pieces that lie on a sheet bake by their own thickness, not by the pan"
        }
        Some("meringue") => "Meringue is dried rather than baked",
        Some("buttercream" | "ganache" | "pastry-cream" | "curd" | "glaze" | "syrup") => "It is not baked in a pan",
        _ => return Ok(LAYER),
    };
    Err(NoEstimate { why })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_fried_has_no_estimate_and_what_is_poured_into_a_pan_has() {
        assert!(batter(Some("doughnut")).is_err());
        assert!(batter(Some("drop-cookie")).is_err());
        assert!(batter(Some("creamed")).is_ok() && batter(None).is_ok());
    }
}
