//! Formulas by what a baker would call them.

use super::*;

fn likeliest(lines: &[(&str, &str)]) -> Vec<&'static str> {
    super::super::trial::likeliest(lines).iter().map(|likely| likely.style).collect()
}

#[test]
fn flour_water_salt_and_yeast_are_bread() {
    let bread = [("bread flour", "500 g"), ("water", "325 g"), ("salt", "10 g"), ("instant yeast", "4 g")];
    assert_eq!(likeliest(&bread).first(), Some(&"lean-dough"));
}

#[test]
fn equal_weights_are_a_pound_cake() {
    let equal = [("cake flour", "200 g"), ("butter", "200 g"), ("granulated sugar", "200 g"), ("egg", "200 g")];
    assert!(likeliest(&equal).contains(&"pound"));
    assert!(likeliest(&equal).len() <= TOLD);
}

#[test]
fn a_banana_bread_is_no_cookie_and_a_dundee_is_a_fruit_cake() {
    let banana = [
        ("all-purpose flour", "250 g"),
        ("granulated sugar", "150 g"),
        ("butter", "115 g"),
        ("egg", "2 large"),
        ("banana", "340 g"),
        ("baking soda", "1 tsp"),
    ];
    assert!(matches!(likeliest(&banana).first(), Some(&"quick-bread" | &"muffin")), "{:?}", likeliest(&banana));
    let dundee = [("all-purpose flour", "225 g"), ("butter", "175 g"), ("brown sugar", "175 g"), ("egg", "4 large"), ("raisins", "500 g")];
    assert_eq!(likeliest(&dundee).first(), Some(&"fruit-cake"));
    let blondie = [
        ("butter", "283 g"),
        ("light brown sugar", "500 g"),
        ("egg", "4 large"),
        ("all-purpose flour", "300 g"),
        ("baking powder", "1/2 tsp"),
        ("white chocolate chips", "255 g"),
    ];
    assert!(!likeliest(&blondie).is_empty() && !likeliest(&blondie).contains(&"fruit-cake"), "{:?}", likeliest(&blondie));
}

#[test]
fn a_buttermilk_cake_that_is_too_sweet_is_a_cake_and_no_waffle() {
    let cake = [
        ("all-purpose flour", "220 g"),
        ("granulated sugar", "300 g"),
        ("butter", "113 g"),
        ("egg", "3 large"),
        ("buttermilk", "240 g"),
        ("baking powder", "5 g"),
        ("baking soda", "2 g"),
    ];
    assert_eq!(likeliest(&cake).first(), Some(&"high-ratio"));
    assert!(!likeliest(&cake).contains(&"waffle"), "{:?}", likeliest(&cake));
}

#[test]
fn chocolate_and_cream_are_a_ganache() {
    assert_eq!(likeliest(&[("dark chocolate", "200 g"), ("heavy cream", "200 g")]).first(), Some(&"ganache"));
}

#[test]
fn a_custard_is_no_syrup_a_torte_no_buttercream_and_a_sponge_without_nuts_no_nut_sponge() {
    let pumpkin = [("pumpkin puree", "425 g"), ("granulated sugar", "150 g"), ("egg", "2 large"), ("evaporated milk", "350 g")];
    let torte =
        [("dark chocolate", "225 g"), ("butter", "225 g"), ("granulated sugar", "200 g"), ("egg", "250 g"), ("cocoa powder", "50 g")];
    assert_eq!([likeliest(&pumpkin), likeliest(&torte)], [Vec::<&str>::new(), Vec::new()]);
    let roll = [("plain flour", "75 g"), ("caster sugar", "75 g"), ("egg", "3 medium")];
    assert!(likeliest(&roll).first() == Some(&"sponge") && !likeliest(&roll).contains(&"nut-sponge"), "{:?}", likeliest(&roll));
}

#[test]
fn a_traybake_is_a_cake_though_it_takes_twice_the_powder_and_a_cookie_has_half_the_egg() {
    let traybake = [
        ("self-raising flour", "275 g"),
        ("butter", "225 g"),
        ("caster sugar", "225 g"),
        ("egg", "200 g"),
        ("baking powder", "9 g"),
        ("whole milk", "60 g"),
    ];
    assert_eq!(likeliest(&traybake).first(), Some(&"creamed"), "{:?}", likeliest(&traybake));
    // Liquid outweighs the sugar, and is as much as the flour: either rule is enough.
    let creamed = super::super::trial::likeliest(&traybake).into_iter().find(|likely| likely.style == "creamed");
    assert_eq!(creamed.map(|likely| likely.outside), Some(vec!["fat", "leavening"]));
}

#[test]
fn ground_almonds_are_flour_in_a_christmas_cake_and_no_fruit_in_a_polenta_cake() {
    let christmas = [
        ("plain flour", "225 g"),
        ("ground almonds", "100 g"),
        ("butter", "250 g"),
        ("dark brown sugar", "250 g"),
        ("egg", "250 g"),
        ("raisins", "1100 g"),
        ("brandy", "100 ml"),
    ];
    let found = super::super::trial::likeliest(&christmas);
    assert_eq!(found.first().map(|likely| (likely.style, likely.outside.clone())), Some(("fruit-cake", vec!["water"])));
    let polenta = [
        ("ground almonds", "200 g"),
        ("polenta", "100 g"),
        ("butter", "200 g"),
        ("caster sugar", "200 g"),
        ("egg", "150 g"),
        ("baking powder", "6 g"),
    ];
    let found = likeliest(&polenta);
    assert!(found.first().is_some_and(|first| matches!(*first, "pound" | "creamed")) && !found.contains(&"fruit-cake"), "{found:?}");
}

#[test]
fn of_two_styles_that_hold_alike_the_one_that_shows_is_likelier() {
    let simnel = [
        ("plain flour", "225 g"),
        ("butter", "175 g"),
        ("light brown sugar", "175 g"),
        ("egg", "150 g"),
        ("raisins", "400 g"),
        ("marzipan", "450 g"),
        ("baking powder", "4 g"),
    ];
    assert_eq!(likeliest(&simnel).first(), Some(&"fruit-cake"));
}

#[test]
fn what_soda_raises_is_no_yeast_dough_and_what_nothing_raises_may_be() {
    let bread = |more: (&'static str, &'static str)| [("plain flour", "500 g"), ("buttermilk", "400 g"), ("salt", "8 g"), more];
    assert!(!likeliest(&bread(("baking soda", "5 g"))).contains(&"lean-dough"));
    assert_eq!(likeliest(&bread(("sourdough starter", "100 g"))).first(), Some(&"lean-dough"));
    assert_eq!(likeliest(&[("plain flour", "500 g"), ("water", "280 g"), ("salt", "8 g")]).first(), Some(&"lean-dough"));
}

#[test]
fn whites_and_yolks_apart_are_a_chiffon_and_plaited_bread_is_no_doughnut() {
    let chiffon = [
        ("cake flour", "2 1/4 cups"),
        ("granulated sugar", "1 1/2 cups"),
        ("baking powder", "1 tbsp"),
        ("vegetable oil", "1/2 cup"),
        ("egg yolk", "5 large"),
        ("water", "3/4 cup"),
        ("egg white", "1 cup"),
    ];
    assert_eq!(likeliest(&chiffon).first(), Some(&"chiffon"));
    let challah = [
        ("bread flour", "500 g"),
        ("egg", "3 large"),
        ("vegetable oil", "60 ml"),
        ("sugar", "75 g"),
        ("instant yeast", "7 g"),
        ("water", "150 g"),
        ("salt", "9 g"),
    ];
    assert_eq!(likeliest(&challah).first(), Some(&"enriched-dough"));
}

#[test]
fn of_two_that_are_as_near_the_one_that_shows_or_keeps_more_comes_first() {
    // A traybake of self-raising flour with a spoon of powder rises by more than any rule says.
    let traybake = [
        ("unsalted butter", "142 g"),
        ("caster sugar", "188 g"),
        ("egg", "150 g"),
        ("self-raising flour", "219 g"),
        ("baking powder", "4.6 g"),
        ("whole milk", "61 g"),
    ];
    assert_eq!(likeliest(&traybake).first(), Some(&"creamed"));
    let oil = [
        ("all-purpose flour", "250 g"),
        ("granulated sugar", "250 g"),
        ("vegetable oil", "150 g"),
        ("egg", "150 g"),
        ("whole milk", "150 g"),
        ("baking powder", "9 g"),
        ("salt", "3 g"),
    ];
    assert_eq!(likeliest(&oil).first(), Some(&"oil-cake"));
}
