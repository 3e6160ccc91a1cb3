//! Which style a formula fits better than the one it was judged by: a Victoria called a creamed cake is a pound cake. Only its kin are asked; a fruit
//! cake is no cookie, whatever its percentages.

use super::super::counted::Summed;
use super::finding::{BalanceFinding, BalanceVerdict};
use super::likely::{LikelyStyle, Score, off_of, scored};
use super::ruled;
use crate::reference::{Goods, Reference, Style};

/// How many rules must be broken outright before another style is looked for: one is a matter of taste.
const BROKEN: usize = 2;
/// How many nearer styles are told.
const TOLD: usize = 2;

/// Styles that fit better than the one a mixture was judged by, of its kin: those of which it breaks no more than half as many rules, and lies no more than
/// half as far outside. What is fried is known to its baker.
pub fn nearer(mixture: &Summed<'_>, style: &'static Style, findings: &[BalanceFinding], reference: &'static Reference) -> Vec<LikelyStyle> {
    let broken = findings.iter().filter(|f| matches!(f.verdict, BalanceVerdict::Above | BalanceVerdict::Below)).count();
    if broken < BROKEN {
        return Vec::new();
    }
    let off = off_of(mixture, ruled(reference, style), reference);
    let kin = |other: &Style| other.id != style.id && other.is_kin(style) && other.goods != Goods::Fried;
    let fits = |score: &Score| score.broken() as usize * 2 <= broken && score.off() * 2.0 <= off && !score.lacks_something();
    scored(mixture, reference, kin).into_iter().filter(fits).take(TOLD).map(Score::told).collect()
}

#[cfg(test)]
mod tests {
    use super::super::likely;
    use super::super::trial::{findings, formula};
    use super::*;

    fn nearest(style: &str, lines: &[(&str, &str)]) -> Option<&'static str> {
        let reference = Reference::load().expect("the tables");
        let of = reference.styles.find(style).expect("a style");
        nearer(&formula(lines).main().summed(), of, &findings(style, lines), reference).first().map(|likely| likely.style)
    }

    #[test]
    fn a_victoria_called_a_creamed_cake_is_a_pound_cake() {
        let victoria =
            [("self-raising flour", "200 g"), ("caster sugar", "200 g"), ("butter", "200 g"), ("egg", "200 g"), ("whole milk", "20 g")];
        assert_eq!(nearest("creamed", &victoria), Some("pound"));
    }

    #[test]
    fn a_formula_that_holds_is_called_nothing_else_and_a_fruit_cake_is_no_cookie() {
        let cake = [("cake flour", "100 g"), ("granulated sugar", "95 g"), ("butter", "50 g"), ("egg", "52 g"), ("whole milk", "45 g")];
        assert_eq!(nearest("creamed", &cake), None);
        let dundee = [
            ("all-purpose flour", "225 g"),
            ("butter", "175 g"),
            ("brown sugar", "175 g"),
            ("egg", "4 large"),
            ("raisins", "500 g"),
            ("baking powder", "5 g"),
        ];
        assert_ne!(nearest("fruit-cake", &dundee), Some("drop-cookie"));
    }

    #[test]
    fn a_macaron_called_a_nut_sponge_or_a_meringue_is_told_its_name() {
        let macaron = [("almond flour", "150 g"), ("powdered sugar", "150 g"), ("egg white", "110 g"), ("granulated sugar", "150 g")];
        assert_eq!(nearest("nut-sponge", &macaron), Some("macaron"));
        assert_eq!(nearest("macaron", &macaron), None);
    }

    #[test]
    fn a_cake_of_butter_alone_is_no_oil_cake() {
        let cake = [
            ("cake flour", "3 cups"),
            ("granulated sugar", "2 cups"),
            ("butter", "1 cup"),
            ("egg", "4 large"),
            ("whole milk", "1 cup"),
            ("baking powder", "1 tbsp"),
        ];
        assert_ne!(nearest("creamed", &cake), Some("oil-cake"));
    }

    #[test]
    fn nobody_takes_a_fruit_cake_for_a_cookie_or_bread_for_cake() {
        let styles = &Reference::load().expect("the tables").styles;
        let kin = |one: &str, other: &str| styles.find(one).zip(styles.find(other)).map(|(one, other)| one.is_kin(other));
        assert_eq!([kin("fruit-cake", "drop-cookie"), kin("lean-dough", "creamed")], [Some(false); 2]);
        assert_eq!([kin("waffle", "brioche"), kin("waffle", "pancake"), kin("angel", "meringue")], [Some(true); 3]);
    }

    #[test]
    fn what_is_as_far_from_its_kin_is_told_no_other_name() {
        let gingerbread = [
            ("plain flour", "225 g"),
            ("butter", "100 g"),
            ("dark brown sugar", "100 g"),
            ("golden syrup", "225 g"),
            ("black treacle", "225 g"),
            ("whole milk", "150 ml"),
            ("egg", "1 large"),
            ("baking soda", "1 tsp"),
        ];
        assert_eq!(nearest("quick-bread", &gingerbread), None);
        let dundee = [
            ("plain flour", "225 g"),
            ("butter", "150 g"),
            ("caster sugar", "150 g"),
            ("egg", "3 large"),
            ("baking powder", "1 tsp"),
            ("raisins", "450 g"),
        ];
        assert_eq!(
            likely(&formula(&dundee).main().summed(), Reference::load().expect("the tables")).first().map(|likely| likely.style),
            Some("fruit-cake")
        );
        assert!(findings("fruit-cake", &dundee).iter().all(|finding| finding.verdict == BalanceVerdict::Within));
    }

    #[test]
    fn a_panettone_is_no_doughnut() {
        let panettone = [
            ("bread flour", "550 g"),
            ("sugar", "150 g"),
            ("butter", "175 g"),
            ("egg yolk", "175 g"),
            ("water", "250 g"),
            ("fresh yeast", "10 g"),
            ("salt", "5 g"),
        ];
        assert_ne!(nearest("brioche", &panettone), Some("doughnut"));
    }
}
