//! Which lines go up and which go down: from each line rounded alone, lines are turned over one by one and in pairs as long as the sum of squared shifts falls. Small enough to be done in the time of a request.

/// A percentage: shares of the lines above, over shares of the lines below.
pub(super) struct Ratio {
    pub above: Vec<f64>,
    pub below: Vec<f64>,
}

/// What there is to choose.
pub(super) struct Choice {
    /// Each line in grams, with its two roundings.
    pub candidates: Vec<(f64, [f64; 2])>,
    pub ratios: Vec<Ratio>,
    /// How far the total may be off, in grams.
    pub room: f64,
}

/// What was chosen.
pub(super) struct Picked {
    pub up: Vec<bool>,
    /// The largest shift of a percentage, as a share of itself, and which.
    pub worst: f64,
    pub at: usize,
    /// The largest with each line rounded alone.
    pub alone: f64,
}

/// A shift that nobody tastes, as a share: for less the total is kept.
const BEARABLE: f64 = 0.02;
/// The weight of a total that is off by more than its room, against the squares of the shifts: it comes first.
const TOTAL_FIRST: f64 = 1e6;
/// So many rounds of turning are always enough for a kitchen's formula; a longer one is left where it then is.
const MOST_ROUNDS: usize = 40;
/// With more lines than this only neighbours are turned in pairs, and beyond the second figure none, so that the time stays in bounds.
const MANY_LINES: usize = 40;
const ALL_TOO_MANY_LINES: usize = 400;

/// The sums of every percentage for one choice.
#[derive(Clone)]
struct Sums {
    above: Vec<f64>,
    below: Vec<f64>,
    total: f64,
}

impl Choice {
    /// With spoons, which are coarse: a total that is kept by spoiling a percentage is no gain. Where all lines together would do worse than each alone, the
    /// total may be further off.
    pub(super) fn pick_before_the_total(mut self) -> Picked {
        let mut picked = self.pick();
        let total: f64 = self.candidates.iter().map(|(exact, _)| exact).sum();
        while picked.worst.abs() > picked.alone.abs().max(BEARABLE) && self.room < total {
            self.room = (self.room * 2.0).max(total * 0.005);
            picked = self.pick();
        }
        picked
    }

    /// With the total kept within its room.
    pub(super) fn pick(&self) -> Picked {
        let mut up: Vec<bool> = self.candidates.iter().map(|(exact, [down, up])| (up - exact).abs() < (exact - down).abs()).collect();
        let exact = self.sums(|at| self.candidates[at].0);
        let alone = self.worst(&self.sums(|at| self.rounded(at, up[at])), &exact).0;
        self.descend(&mut up, &exact);
        let (worst, at) = self.worst(&self.sums(|at| self.rounded(at, up[at])), &exact);
        Picked { up, worst, at, alone }
    }

    fn rounded(&self, at: usize, up: bool) -> f64 {
        self.candidates[at].1[usize::from(up)]
    }

    fn sums(&self, grams: impl Fn(usize) -> f64) -> Sums {
        let sum = |shares: &[f64]| shares.iter().enumerate().map(|(at, share)| share * grams(at)).sum();
        Sums {
            above: self.ratios.iter().map(|ratio| sum(&ratio.above)).collect(),
            below: self.ratios.iter().map(|ratio| sum(&ratio.below)).collect(),
            total: (0..self.candidates.len()).map(&grams).sum(),
        }
    }

    fn shifts<'s>(&'s self, sums: &'s Sums, exact: &'s Sums) -> impl Iterator<Item = f64> + 's {
        (0..self.ratios.len()).map(|at| sums.above[at] * exact.below[at] / (sums.below[at] * exact.above[at]) - 1.0)
    }

    fn worst(&self, sums: &Sums, exact: &Sums) -> (f64, usize) {
        let shifts = self.shifts(sums, exact).enumerate();
        shifts.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs())).map_or((0.0, 0), |(at, shift)| (shift, at))
    }

    #[cfg(test)]
    fn cost_of(&self, up: &[bool]) -> f64 {
        let exact = self.sums(|at| self.candidates[at].0);
        self.cost(&self.sums(|at| self.rounded(at, up[at])), &exact)
    }

    /// What is made least: the squares of all shifts, and the worst once more.
    fn cost(&self, sums: &Sums, exact: &Sums) -> f64 {
        let (mut squares, mut worst) = (0.0, 0.0_f64);
        for shift in self.shifts(sums, exact) {
            squares += shift * shift;
            worst = worst.max(shift * shift);
        }
        let beyond = ((sums.total - exact.total).abs() - self.room).max(0.0) / exact.total.max(1e-9);
        squares + worst + TOTAL_FIRST * beyond * beyond + if beyond > 0.0 { TOTAL_FIRST * 1e-6 } else { 0.0 }
    }

    /// The sums after some lines are turned over.
    fn turned(&self, sums: &Sums, up: &[bool], lines: &[usize], into: &mut Sums) {
        into.clone_from(sums);
        for &line in lines {
            let by = self.rounded(line, !up[line]) - self.rounded(line, up[line]);
            into.total += by;
            for (at, ratio) in self.ratios.iter().enumerate() {
                into.above[at] += ratio.above[line] * by;
                into.below[at] += ratio.below[line] * by;
            }
        }
    }

    fn descend(&self, up: &mut [bool], exact: &Sums) {
        let open: Vec<usize> = (0..up.len()).filter(|&at| self.candidates[at].1[0] != self.candidates[at].1[1]).collect();
        let moves = moves(&open);
        let mut trial = exact.clone();
        let rounds = if open.len() <= ALL_TOO_MANY_LINES { MOST_ROUNDS } else { MOST_ROUNDS * 4 };
        for _ in 0..rounds {
            let sums = self.sums(|at| self.rounded(at, up[at]));
            let now = self.cost(&sums, exact);
            let mut best: Option<(f64, &[usize])> = None;
            for lines in &moves {
                self.turned(&sums, up, lines, &mut trial);
                let cost = self.cost(&trial, exact);
                if cost < best.map_or(now * (1.0 - 1e-12), |(known, _)| known) {
                    best = Some((cost, lines));
                }
            }
            let Some((_, lines)) = best else { break };
            lines.iter().for_each(|&line| up[line] = !up[line]);
        }
    }
}

/// One line at a time, and two.
fn moves(open: &[usize]) -> Vec<Vec<usize>> {
    let ones = open.iter().map(|&line| vec![line]);
    let near = |a: usize, b: usize| open.len() <= MANY_LINES || b - a <= 8;
    let paired = if open.len() <= ALL_TOO_MANY_LINES { open.len() } else { 0 };
    let pairs = (0..paired).flat_map(|a| (a + 1..open.len()).filter(move |&b| near(a, b)).map(move |b| vec![open[a], open[b]]));
    ones.chain(pairs).collect()
}

#[cfg(test)]
mod tests;
