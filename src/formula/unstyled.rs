//! What becomes of a part that names no style of its own, beside the thing itself: baked with it, spread on it, strewn over it, or filled in when it has been baked. Only what is plain by its lines is taken out of the oven.

use super::base::{THICKENS, flour_and_starch, melted_chocolate, pure_fat};
use super::resolved::{Formula, Mixture};
use super::written::ScalesWith;
use crate::quantity::{Factor, Pointer, plain};
use crate::reference::{Account, Class, Goods, Ingredient, Nature, Trait};

/// What becomes of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unstyled {
    /// It goes into the oven with the rest.
    Baked,
    /// It finishes what has been baked, and is spread or poured.
    Spread,
    /// It finishes, and is laid on as it is: sugar, nuts, chips, berries, marzipan, jam.
    Strewn,
    /// It lies between what has been baked, or on it.
    Filled(Filling),
}

/// Fillings that are plain by their lines.
/// What of these is baked in, as jam in a tart, a custard in a pie or cheese in a coffee cake, stays baked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Filling {
    /// Icing sugar worked into fat or soft cheese.
    Buttercream,
    /// Chocolate with cream, butter or milk.
    Ganache,
    /// Cream to be whipped.
    Cream,
    /// Sharp juice set by eggs on the stove.
    Curd,
    /// Milk or cream set by eggs on the stove.
    Custard,
    /// What is set cold by gelatin and the like.
    Jelly,
    /// What is bought to be spread: jam, a curd in a jar.
    Spread,
}

impl Filling {
    /// What it is called.
    const fn word(self) -> &'static str {
        match self {
            Self::Buttercream => "a buttercream",
            Self::Ganache => "a ganache",
            Self::Cream => "cream",
            Self::Curd => "a curd",
            Self::Custard => "a custard",
            Self::Jelly => "set cold, by what is bought for its setting",
            Self::Spread => "a spread as it is bought",
        }
    }

    /// The class of product by which it loses; nothing where no figure is published.
    pub const fn loss_product(self) -> Option<&'static str> {
        match self {
            Self::Buttercream => Some("icing"),
            Self::Ganache => Some("ganache"),
            Self::Curd => Some("curd"),
            Self::Custard => Some("cream"),
            Self::Cream | Self::Jelly | Self::Spread => None,
        }
    }

    /// The filling that a mixture plainly is, beside what is such goods; nothing said of the goods, only what never bakes.
    fn of(mixture: &Mixture<'_>, goods: Option<Goods>) -> Option<Self> {
        if mixture.lines().any(|line| line.ingredient.is(Trait::Sets)) && mixture.class(Class::Flour).is_nothing() {
            return Some(Self::Jelly);
        }
        // What is filled when it is done; of a dough, a crust and what nobody names much is filled before.
        let in_a_cake = matches!(goods, Some(Goods::Batter | Goods::Fried | Goods::Griddle));
        if !in_a_cake && !matches!(goods, None | Some(Goods::Piece | Goods::Pastry | Goods::Dried)) {
            return None;
        }
        let whole = mixture.whole().mass().value();
        let share = |of: &dyn Fn(&Ingredient) -> Factor| (mixture.sum(of).mass().value() / whole).value();
        let any = |class| !mixture.class(class).is_nothing();
        let egg = any(Class::Egg);
        if any(Class::Leavening) || share(&flour_and_starch) > THICKENS {
            return None;
        }
        let wholly = |is: fn(&Ingredient) -> bool| share(&|it| if is(it) { Factor::ONE } else { Factor::ZERO });
        let (icing_sugar, fat, cream) = (wholly(Ingredient::is_icing_sugar), wholly(pure_fat), wholly(is_whipping_cream));
        let (chocolate, cheese, liquid) =
            (share(&melted_chocolate), share(&|it| it.counts_as(Class::Cheese)), share(&|it| it.counts_as(Class::Liquid)));
        let loosens = fat + cream + liquid;
        match () {
            () if !egg && icing_sugar >= A_QUARTER && fat + cheese > A_LITTLE && icing_sugar + fat + cheese + chocolate >= NEARLY_ALL => {
                Some(Self::Buttercream)
            }
            () if goods.is_none() => None,
            () if !egg && chocolate >= A_QUARTER && loosens > A_LITTLE && chocolate + loosens >= NEARLY_ALL => Some(Self::Ganache),
            () if !egg && cream >= HALF => Some(Self::Cream),
            () if !in_a_cake && goods != Some(Goods::Pastry) => None,
            () if egg && cheese == 0.0 && (liquid >= HALF || cream >= HALF) && wholly(is_juice) < A_LITTLE => Some(Self::Custard),
            // The filling of lemon bars is baked on its crust, and jam in a biscuit.
            () if in_a_cake && wholly(|it| it.is(Trait::Spread)) >= NEARLY_ALL => Some(Self::Spread),
            () if in_a_cake && egg && cheese == 0.0 && fat > A_LITTLE && wholly(is_juice) >= A_TENTH => Some(Self::Curd),
            () => None,
        }
    }
}

/// Shares of the whole weight; common practice, no source.
const A_LITTLE: f64 = 0.05;
const A_TENTH: f64 = 0.1;
const A_QUARTER: f64 = 0.25;
const HALF: f64 = 0.5;
const NEARLY_ALL: f64 = 0.8;

/// Cream of so much fat that it can be whipped.
fn is_whipping_cream(ingredient: &Ingredient) -> bool {
    ingredient.nature == Nature::Liquid
        && ingredient.counts_as(Class::Liquid).value() >= 0.4
        && ingredient.counts_as(Class::Fat).value() >= 0.3
}

/// What is pressed from fruit.
fn is_juice(ingredient: &Ingredient) -> bool {
    ingredient.juiced.is_some() && ingredient.counts_as(Class::Liquid) > Factor::ZERO
}

/// Nothing in it flows or is worked into an icing: marzipan is rolled out as it is bought. Chocolate may be melted, and of what is called an icing the water is
/// often not measured.
fn is_strewn(mixture: &Mixture<'_>) -> bool {
    let name = plain(&mixture.part().name);
    if ["icing", "frosting", "glaze"].iter().any(|word| name.contains(word)) {
        return false;
    }
    let as_it_is = |it: &Ingredient| match it.nature {
        Nature::Powder | Nature::Granular | Nature::Piece => it.counts_as(Class::Chocolate) == Factor::ZERO,
        Nature::Paste => it.is(Trait::Spread) || (it.counts_as(Class::Additions) + it.counts_as(Class::Sugar)).value() >= 0.9,
        _ => false,
    };
    mixture.lines().all(|line| as_it_is(&line.ingredient))
}

/// What becomes of a mixture that names no style; nothing where it has one.
pub fn unstyled(formula: &Formula, root: usize) -> Option<Unstyled> {
    let (mixture, is_main) = (Mixture { formula, root }, root == formula.main_root());
    if mixture.part().style.is_some() || is_main && formula.style.is_some() {
        return None;
    }
    if mixture.part().scales_with == ScalesWith::Finish {
        return Some(if is_strewn(&mixture) { Unstyled::Strewn } else { Unstyled::Spread });
    }
    if is_main {
        return Some(Unstyled::Baked);
    }
    let goods = formula.main().style().map(|style| style.goods);
    Some(Filling::of(&mixture, goods).map_or(Unstyled::Baked, Unstyled::Filled))
}

/// The mixtures that are plainly fillings, with what they are.
fn fillings(formula: &Formula) -> impl Iterator<Item = (Mixture<'_>, Filling)> {
    // What stands alone fills nothing.
    let several = formula.parts.len() > 1;
    formula.mixtures().filter(move |_| several).filter_map(|mixture| match unstyled(formula, mixture.root) {
        Some(Unstyled::Filled(filling)) => Some((mixture, filling)),
        _ => None,
    })
}

/// Tells which parts are taken for fillings that never see the oven.
pub fn tell_fillings(formula: &Formula, at: &Pointer<'_>, account: &mut Account) {
    let list = at.key("parts");
    for (mixture, filling) in fillings(formula) {
        let text = format!(
            "By its lines \"{}\" is {}: it is taken to be filled in or spread after the oven, and not to be baked",
            mixture.part().name,
            filling.word()
        );
        account.assume(text, &list.index(mixture.root).key("style"), "not baked");
    }
}

/// Tells of a filling beside pans that it is multiplied with their volume, as long as nobody says what it grows with: between layers that is the area.
pub fn tell_growing_fillings(formula: &Formula, at: &Pointer<'_>, account: &mut Account) {
    let list = at.key("parts");
    for (mixture, _) in fillings(formula).filter(|(mixture, _)| mixture.part().scales_with == ScalesWith::PanVolume) {
        let text = format!(
            "\"{}\" is multiplied as the batter is: what lies between layers or on them grows with the area, which is said by finish",
            mixture.part().name
        );
        account.assume(text, &list.index(mixture.root).key("scales_with"), ScalesWith::PanVolume.word());
    }
}

/// Why nothing is counted of a mixture without a style.
pub fn why_no_losses(formula: &Formula, root: usize) -> &'static str {
    match unstyled(formula, root) {
        Some(Unstyled::Strewn) => "it is strewn or laid on as it is, not mixed as an icing is, and no figure is published for that",
        Some(Unstyled::Filled(_)) => "no figure is published for a filling of its kind",
        _ => "it has no style",
    }
}

#[cfg(test)]
mod tests {
    use super::super::written::FormulaWritten;
    use super::*;
    use crate::quantity::Faults;
    use crate::reference::Reference;
    use serde_json::{Value, json};

    fn beside(style: Option<&str>, scales_with: &str, lines: &[(&str, &str)]) -> Option<Unstyled> {
        let lines: Vec<Value> = lines.iter().map(|(name, amount)| json!({"ingredient": name, "amount": amount})).collect();
        let cake = json!([
            {"ingredient": "plain flour", "amount": "200 g"}, {"ingredient": "butter", "amount": "150 g"}, {"ingredient": "caster sugar", "amount": "150 g"},
            {"ingredient": "egg", "amount": "150 g"}, {"ingredient": "baking powder", "amount": "6 g"}
        ]);
        let written: FormulaWritten = serde_json::from_value(
            json!({"style": style, "parts": [{"name": "cake", "lines": cake}, {"name": "beside", "scales_with": scales_with, "lines": lines}]}),
        )
        .expect("a formula");
        let (reference, mut faults) = (Reference::load().expect("the tables"), Faults::new());
        let formula = Formula::resolve(&written, &Pointer::ROOT, reference, &mut Account::new(reference, false), &mut faults);
        unstyled(&formula.unwrap_or_else(|| panic!("{faults:?}")), 1)
    }

    const FILLINGS: [(Filling, &[(&str, &str)]); 10] = [
        (Filling::Custard, &[("whole milk", "500 g"), ("egg yolk", "90 g"), ("caster sugar", "120 g"), ("cornstarch", "45 g")]),
        (Filling::Jelly, &[("orange juice", "150 ml"), ("caster sugar", "40 g"), ("powdered gelatin", "8 g")]),
        (Filling::Buttercream, &[("butter", "150 g"), ("icing sugar", "300 g"), ("vanilla extract", "1 tsp")]),
        (Filling::Buttercream, &[("cream cheese", "200 g"), ("butter", "80 g"), ("icing sugar", "150 g")]),
        (Filling::Ganache, &[("dark chocolate", "200 g"), ("double cream", "200 ml")]),
        (Filling::Cream, &[("double cream", "300 ml"), ("icing sugar", "20 g")]),
        (Filling::Cream, &[("heavy cream", "300 g"), ("strawberries", "200 g")]),
        (Filling::Spread, &[("raspberry jam", "150 g")]),
        (Filling::Spread, &[("lemon curd", "200 g")]),
        (Filling::Curd, &[("lemon juice", "100 ml"), ("egg yolk", "80 g"), ("caster sugar", "120 g"), ("butter", "80 g")]),
    ];

    #[test]
    fn what_lies_between_the_layers_of_a_cake_is_not_baked_with_them() {
        for (filling, lines) in FILLINGS {
            assert_eq!(beside(Some("creamed"), "pan-volume", lines), Some(Unstyled::Filled(filling)), "{lines:?}");
        }
    }

    #[test]
    fn what_may_be_baked_in_stays_in_the_oven() {
        // Of a pie, a bun and of what nobody names nothing is plain, but for what sets cold, and a buttercream, which never bakes.
        let styles = [("pie-dough", 9), ("enriched-dough", 9), ("drop-cookie", 4), ("choux", 3), ("doughnut", 0)];
        let styles = styles.map(|(style, baked)| (Some(style), baked));
        for (style, baked) in styles.into_iter().chain([(None, 7)]) {
            let filled = FILLINGS.iter().filter(|(_, lines)| beside(style, "pan-volume", lines) == Some(Unstyled::Baked)).count();
            assert_eq!(filled, baked, "{style:?}");
        }
        let swirls: [&[(&str, &str)]; 4] = [
            &[("cream cheese", "200 g"), ("caster sugar", "60 g"), ("egg", "50 g")],
            &[("brown sugar", "100 g"), ("butter", "60 g"), ("cinnamon", "2 tsp")],
            &[("plain flour", "60 g"), ("icing sugar", "40 g"), ("butter", "40 g")],
            &[("apple", "400 g"), ("caster sugar", "50 g")],
        ];
        for lines in swirls {
            assert_eq!(beside(Some("creamed"), "pan-volume", lines), Some(Unstyled::Baked), "{lines:?}");
        }
    }

    #[test]
    fn sugar_and_nuts_are_strewn_and_an_icing_is_spread() {
        let finish = |lines| beside(Some("creamed"), "finish", lines);
        let strewn: [&[(&str, &str)]; 5] = [
            &[("marzipan", "500 g")],
            &[("apricot jam", "50 g")],
            &[("demerara sugar", "30 g")],
            &[("icing sugar", "10 g")],
            &[("flaked almonds", "40 g"), ("raspberries", "100 g")],
        ];
        assert_eq!(strewn.map(finish), [Some(Unstyled::Strewn); 5]);
        let spread: [&[(&str, &str)]; 3] =
            [&[("icing sugar", "150 g"), ("lemon juice", "30 g")], &[("dark chocolate", "100 g")], &[("cream cheese", "50 g")]];
        assert_eq!(spread.map(finish), [Some(Unstyled::Spread); 3]);
    }
}
