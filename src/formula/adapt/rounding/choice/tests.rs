//! The proof on a thousand formulas that choosing together is better than rounding each line alone.

use super::*;

/// Chance that is the same on every machine.
struct Chance(u64);

impl Chance {
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as f64 / f64::from(1_u32 << 31)
    }
}

/// A formula of four to fifteen lines around a flour, each line a percentage of it, to 5 g.
fn formula(chance: &mut Chance) -> Choice {
    let lines = 4 + (chance.share() * 12.0) as usize;
    let flour = 120.0 + chance.share() * 900.0;
    let grams: Vec<f64> = (0..lines).map(|at| if at == 0 { flour } else { flour * (0.02 + chance.share() * chance.share()) }).collect();
    let candidates = grams
        .iter()
        .map(|grams| {
            let size = if *grams >= 50.0 {
                5.0
            } else if *grams >= 10.0 {
                1.0
            } else {
                0.1
            };
            (*grams, [(grams / size).floor() * size, (grams / size).ceil() * size])
        })
        .collect();
    let one = |line: usize| (0..lines).map(|at| if at == line { 1.0 } else { 0.0 }).collect::<Vec<f64>>();
    let ratios = (1..lines).map(|line| Ratio { above: one(line), below: one(0) }).collect();
    Choice { candidates, ratios, room: 2.5 + 1e-9 }
}

fn alone(choice: &Choice) -> Vec<bool> {
    choice.candidates.iter().map(|(exact, [down, up])| (up - exact).abs() < (exact - down).abs()).collect()
}

fn total_off(choice: &Choice, up: &[bool]) -> f64 {
    (0..up.len()).map(|at| choice.rounded(at, up[at]) - choice.candidates[at].0).sum::<f64>().abs()
}

#[test]
fn rounding_together_keeps_the_total_and_the_balance_better_than_each_line_alone() {
    let mut chance = Chance(20_250_601);
    let (mut better, mut kept_alone, mut better_kept, mut shift_together, mut shift_alone) = (0, 0, 0, 0.0, 0.0);
    for _ in 0..1000 {
        let choice = formula(&mut chance);
        let (single, picked) = (alone(&choice), choice.pick());
        let (together, apart) = (choice.cost_of(&picked.up), choice.cost_of(&single));
        assert!(together <= apart, "{together} for {apart}");
        assert!(total_off(&choice, &picked.up) <= choice.room, "the total is off by {} g", total_off(&choice, &picked.up));
        better += u32::from(together < apart);
        // Where each line alone happens to keep the total, what is compared is the balance and nothing else.
        if total_off(&choice, &single) <= choice.room {
            kept_alone += 1;
            better_kept += u32::from(together < apart);
        }
        shift_together += picked.worst.abs();
        shift_alone += picked.alone.abs();
    }
    println!(
        "never worse, better in {better} of 1000; each line alone keeps the total in {kept_alone}, and of these {better_kept} are better; mean worst shift {:.3} % for {:.3} %",
        shift_together / 10.0,
        shift_alone / 10.0
    );
    assert!(better >= 600 && better_kept >= 100, "{better}, {better_kept}");
    assert!(shift_together < shift_alone, "{shift_together} for {shift_alone}");
}

#[test]
fn no_choice_at_all_is_better_where_all_can_be_tried() {
    let mut chance = Chance(3);
    let (mut best_found, mut tried) = (0, 0);
    for _ in 0..200 {
        let choice = formula(&mut chance);
        let lines = choice.candidates.len();
        if lines > 9 {
            continue;
        }
        let all = (0..1_usize << lines).map(|set| (0..lines).map(|at| set >> at & 1 == 1).collect::<Vec<bool>>());
        let best = all.map(|up| choice.cost_of(&up)).fold(f64::INFINITY, f64::min);
        tried += 1;
        best_found += u32::from(choice.cost_of(&choice.pick().up) <= best * 1.05 + 1e-12);
    }
    assert!(tried > 60 && f64::from(best_found) >= 0.9 * f64::from(tried), "{best_found} of {tried}");
}
