//! Which goods a bake estimate can speak of: batters that lie in pans. For everything else it says why not.

use crate::reference::Goods;

/// Why no estimate is made of goods that are not a batter; nothing where one is.
pub(super) fn no_estimate(goods: Goods) -> Option<&'static str> {
    Some(match goods {
        Goods::Batter => return None,
        Goods::Fried => "Doughnuts are fried, not baked in pans",
        Goods::Griddle => "Griddle goods are baked on hot metal, in minutes, not in pans",
        Goods::Dough => "Yeast doughs are proved and shaped: their time goes with the piece and its crust, not with the pan",
        Goods::Crust | Goods::Pastry => "Pastry is thin or hollow: its time goes with colour and drying, not with heat's way to the middle",
        Goods::Piece => "Pieces that lie on a sheet bake by their own thickness, not by the pan",
        Goods::Dried => "Meringue is dried rather than baked",
        Goods::Unbaked => "It is not baked in a pan",
    })
}
