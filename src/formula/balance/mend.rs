//! The mend in grams: what to take out or to add so that a rule holds, always to the nearer bound, always by the weights as quoted.

use smol_str::SmolStr;

use super::BalanceVerdict;
use super::Over;
use super::judge::{Judging, Measured};
use super::rulebook::Entry;
use crate::formula::counted::{Counts, Reading};
use crate::formula::egg::MadeUp;
use crate::formula::loose::Loose;
use crate::formula::resolved::{Line, Mixture};
use crate::quantity::{Factor, Mass, Quantity, Span, enough_text, lower_first};
use crate::reference::{Basis, Bound, Ingredient};

/// The weights of a rule as a baker moves them.
pub(super) struct Amounts<'n> {
    above: f64,
    below: f64,
    /// Whether what is counted is part of what it is measured against.
    inside: bool,
    /// What is counted, by its name, and how many grams of it a counted gram stands for.
    name: &'n str,
    grams_each: f64,
    /// The water that makes up a gram of it, where it is dried egg and counts as what it makes.
    water: f64,
    against: &'n str,
    on_base: bool,
    basis: Basis,
    /// What of it can be taken out, where some is within what it is measured against: the powder of self-raising flour.
    carried: Option<Loose<'n>>,
    /// What is used in place of what carries it; empty where that is the base without it.
    in_place: &'n str,
}

/// From this share on all of a thing is the base.
const WHOLLY: f64 = 0.99;

impl<'n> Amounts<'n> {
    pub fn of(judging: &Judging<'n>, entry: &Entry, measured: &Measured<'_>) -> Self {
        // Who adds dried egg adds the water that makes it up.
        let reading = Reading { made_up: MadeUp::WHOLLY, ..measured.reading };
        let only = only_one(judging.mixture, entry.rule.counts, reading);
        // Counted by the fat alone a gram of "fat" would be pure: butter is what a baker adds.
        let by_fat = reading.basis == Basis::EffectiveFat;
        let reached = || judging.reference.ingredients.named(entry.rule.reach_for).filter(|_| by_fat);
        let (name, grams_each) = match only {
            Some((ingredient, share)) => (&*ingredient.name, 1.0 / share.value()),
            None if let Some(butter) = reached() => (entry.rule.reach_for, 1.0 / entry.rule.counts.share(butter, reading).value()),
            None if measured.above.is_nothing() => (entry.rule.reach_for, 1.0),
            None => (entry.rule.of, 1.0),
        };
        let (against, on_base) = match entry.rule.over {
            Over::Base => (judging.base.spoken(), true),
            Over::This(what, _) => (what, false),
        };
        let counted = |line: &&Line| entry.rule.counts.share(&line.ingredient, reading).value() > 0.0;
        let of_base = |line: &Line| judging.base.share_of(&line.ingredient).value();
        // Starch is counted and is the base; of a starter one half is counted and the other is the base.
        let beside = on_base && judging.mixture.lines().filter(counted).any(|line| of_base(line) > 0.0);
        let inside = beside && judging.mixture.lines().filter(counted).any(|line| of_base(line) > WHOLLY);
        let in_place = entry.rule.in_place;
        let carried =
            (beside || !in_place.is_empty()).then(|| Loose::of(judging.mixture, |ingredient| entry.rule.counts.share(ingredient, reading)));
        Self {
            above: measured.above.mass().value().in_grams(),
            below: measured.below.mass().value().in_grams(),
            inside,
            name,
            grams_each,
            water: only.map_or(0.0, |(ingredient, share)| {
                let dry = Reading { made_up: MadeUp::NOT, ..reading };
                if entry.rule.counts.share(ingredient, dry) < share { MadeUp::WHOLLY.water(ingredient).value() } else { 0.0 }
            }),
            against,
            on_base,
            basis: reading.basis,
            carried: carried.filter(Loose::is_carried),
            in_place,
        }
    }

    /// Both ways to mend it, where both can be done.
    pub fn text(&self, bound: &Bound) -> String {
        let share = |end: crate::quantity::Percent| end.as_factor().value();
        let measured = self.above / self.below;
        match (bound.low.map(share), bound.high.map(share)) {
            (_, Some(high)) if measured > high => self.too_much(high),
            (Some(low), _) if measured < low => self.too_little(low),
            _ => "The quoted weights keep to the bound: nothing need be changed".to_owned(),
        }
    }

    /// Where it depends: what would settle it, and what to do if it is the worse.
    pub fn text_of_doubt(&self, bound: &Bound, on: &[&str], every_way: bool) -> String {
        let percent = Factor::times(self.above / self.below).as_percent();
        let kept = BalanceVerdict::of(Span::exact(percent), bound) == BalanceVerdict::Within;
        let settle = match on.first() {
            Some(&"whole") => "It holds by the whole weight of the fat, not by the fat alone".to_owned(),
            Some(&"effective-fat") => "It holds by the fat alone, without the water of butter, not by its whole weight".to_owned(),
            Some(_) if every_way => {
                "It holds by the usual weight of a cup in every way of filling; only the extremes of the published weights go beyond"
                    .to_owned()
            }
            Some(_) => format!("It holds with cups {}: say how they were filled, or weigh", on.join(" or ")),
            None if kept => {
                "It holds by the usual weights; only the ends of what is published or given go beyond: weigh what is counted to be sure"
                    .to_owned()
            }
            None => "Weigh what is counted, measured by cups or given as a range".to_owned(),
        };
        if kept {
            return settle;
        }
        let counted = if self.basis == Basis::EffectiveFat { "by the fat alone" } else { "by the weights quoted" };
        format!("{settle}; or, counted {counted}: {}", lower_first(&self.text(bound)))
    }

    fn too_much(&self, high: f64) -> String {
        let surplus = self.above - high * self.below;
        let out = self.grams(surplus, high * self.below);
        let (over, kept) = (Mass::grams(surplus), Mass::grams(high * self.below));
        let apart = |loose: &Loose<'_>| match self.in_place {
            "" => loose.take_out(over, kept, self.name, &format!("{} without it", self.against)),
            // Where enough stands by itself, there is the other way too.
            _ if loose.mass() >= over => None,
            instead => loose.take_out(over, kept, self.name, instead),
        };
        if let Some(text) = self.carried.as_ref().and_then(apart) {
            return text;
        }
        if self.inside {
            return format!("Exchange {out} of {} for as much of the other {}", self.name, self.against);
        }
        if high * self.below < 0.005 * self.above || high == 0.0 {
            return format!("Leave out the {}", self.name);
        }
        let add = self.above / high - self.below;
        let mut text = self.sentence(["Take out ", &out, " of ", self.name, &self.with_water(surplus)]);
        self.or(&mut text, "add", add);
        text
    }

    fn too_little(&self, low: f64) -> String {
        let short_by = low * self.below - self.above;
        let short = self.grams(short_by, low * self.below);
        if self.inside {
            return format!("Exchange {short} of the other {} for {}", self.against, self.name);
        }
        let mut text = self.sentence(["Add ", &short, " of ", self.name, &self.with_water(short_by)]);
        self.or(&mut text, "take out", self.below - self.above / low);
        text
    }

    /// The other way, where it changes no more than half of what is there.
    fn or(&self, text: &mut String, verb: &str, grams: f64) {
        // What is compared with the fat alone is no fat that anyone weighs.
        if grams > self.below / 2.0 || self.basis == Basis::EffectiveFat && !self.on_base {
            return;
        }
        let moves = if self.on_base { " (which moves the other percentages too)" } else { "" };
        let grams = Quantity::from(Mass::grams(grams)).text;
        text.extend([", or ", verb, " ", &grams, " of ", self.against, moves]);
    }

    /// Its beginning, with room for the other way behind it.
    fn sentence(&self, words: [&str; 5]) -> String {
        let mut text = String::with_capacity(160);
        text.extend(words);
        text
    }

    /// The water that goes with so much of what is counted, where it is dried egg.
    fn with_water(&self, counted: f64) -> String {
        if self.water == 0.0 {
            return String::new();
        }
        format!(" with {} of water", Quantity::from(Mass::grams(counted * self.grams_each * self.water)).text)
    }

    /// So many grams of what is counted, of which so many are to be there then: to the tenth where a whole gram would leave it beyond the bound again.
    fn grams(&self, counted: f64, kept: f64) -> SmolStr {
        enough_text(Mass::grams(counted * self.grams_each), Mass::grams(kept * self.grams_each))
    }
}

/// The ingredient that alone makes up what is counted, with the share of it that counts. One that counts only by a small part is not what a baker would move.
fn only_one<'f>(mixture: &Mixture<'f>, counts: Counts, reading: Reading) -> Option<(&'f Ingredient, Factor)> {
    let mut found: Option<(&'f Ingredient, Factor)> = None;
    for line in mixture.lines() {
        let share = counts.share(&line.ingredient, reading);
        if share.value() <= 0.0 {
            continue;
        }
        if found.is_some_and(|(known, _)| known.id != line.ingredient.id) {
            return None;
        }
        found = Some((&line.ingredient, share));
    }
    found.filter(|(_, share)| share.value() >= 0.5)
}

#[cfg(test)]
mod tests {
    use super::super::trial::findings;

    fn mend(style: &str, rule: &str, lines: &[(&str, &str)]) -> Option<String> {
        findings(style, lines).into_iter().find(|finding| finding.rule == rule).and_then(|finding| finding.mend)
    }

    #[test]
    fn too_much_sugar_is_taken_out_or_flour_is_added() {
        let cake = [("cake flour", "200 g"), ("granulated sugar", "235 g")];
        let text = "Take out 35 g of granulated sugar, or add 35 g of flour (which moves the other percentages too)";
        assert_eq!(mend("creamed", "sugar", &cake).as_deref(), Some(text));
    }

    #[test]
    fn yeast_is_told_in_grams_of_the_yeast_at_hand() {
        let dough = [("bread flour", "500 g"), ("water", "325 g"), ("instant yeast", "10 g"), ("salt", "10 g")];
        assert!(mend("lean-dough", "yeast", &dough).is_some_and(|text| text.starts_with("Take out 3 g of instant yeast")));
    }

    #[test]
    fn starch_beyond_half_is_exchanged_for_flour() {
        let genoise = [("cake flour", "50 g"), ("cornstarch", "100 g"), ("granulated sugar", "150 g"), ("egg", "250 g")];
        assert_eq!(
            mend("genoise", "starch", &genoise).as_deref(),
            Some("Exchange 25 g of cornstarch for as much of the other flour and starch")
        );
    }

    #[test]
    fn water_beside_a_starter_is_taken_out_and_not_exchanged_for_flour() {
        let dough =
            [("bread flour", "500 g"), ("butter", "200 g"), ("egg yolk", "175 g"), ("water", "200 g"), ("sourdough starter", "100 g")];
        // 250 g on 550 g of flour, of which the style takes 20 %: 140 g too many.
        assert!(
            mend("brioche", "water", &dough).is_some_and(|text| text.starts_with("Take out 140 g of liquid")),
            "{:?}",
            mend("brioche", "water", &dough)
        );
    }

    #[test]
    fn meringue_powder_in_a_royal_icing_stands_for_the_whites_that_it_makes() {
        let icing = |powder| [("meringue powder", powder), ("powdered sugar", "450 g"), ("water", "80 g")];
        // 0.35 of it is dried white, which stands for eight times as much: 84 g on 450 g and the sugar in the powder, 465 g.
        let found = findings("glaze", &icing("30 g")).into_iter().find(|finding| finding.rule == "whites");
        assert!(found.is_some_and(|whites| whites.mend.is_none() && (whites.measured.percent.0 - 100.0 * 84.0 / 465.0).abs() < 1e-6));
        // 12 % of 455 are 54.6, of which 28 are there.
        assert!(
            mend("glaze", "whites", &icing("10 g")).is_some_and(|text| text.starts_with("Add 9.5 g of meringue powder")),
            "{:?}",
            mend("glaze", "whites", &icing("10 g"))
        );
    }

    #[test]
    fn what_is_taken_out_is_enough() {
        // 4 % of 120 g are 4.8 g, so 11.2 g are too many; 11 g would leave 5 g, which is above the bound again.
        let cake = [("bread flour", "120 g"), ("granulated sugar", "100 g"), ("baking powder", "16 g")];
        assert!(mend("creamed", "leavening", &cake).is_some_and(|text| text.starts_with("Take out 11.2 g of baking powder")));
    }

    /// What the mend of a rule leads to, followed in grams.
    fn followed(style: &str, rule: &str, lines: &[(&str, &str)]) -> (String, super::super::BalanceVerdict) {
        let text = mend(style, rule, lines).unwrap_or_default();
        let (adds, rest) = text.strip_prefix("Add ").map_or_else(|| (false, text.trim_start_matches("Take out ")), |rest| (true, rest));
        let (grams, name) = rest.split(", or ").next().and_then(|way| way.split_once(" g of ")).expect("grams");
        let grams: f64 = grams.parse().expect("a number");
        let mut after: Vec<(&str, String)> = lines.iter().map(|(name, amount)| (*name, (*amount).to_owned())).collect();
        let moved = if adds { format!("{grams} g") } else { String::new() };
        if adds {
            after.push((name, moved));
        } else {
            let line = after.iter_mut().find(|(known, _)| *known == name).expect("the line");
            let was: f64 = line.1.trim_end_matches(" g").parse().expect("grams");
            line.1 = format!("{} g", was - grams);
        }
        let after: Vec<_> = after.iter().map(|(name, amount)| (*name, &**amount)).collect();
        let verdict = findings(style, &after).into_iter().find(|finding| finding.rule == rule).map(|finding| finding.verdict);
        (text, verdict.expect("a finding"))
    }

    #[test]
    fn fat_that_is_short_by_both_ways_of_counting_is_mended_for_both() {
        use super::super::BalanceVerdict::Within;
        let cake = |fats: &[(&'static str, &'static str)]| [&[("cake flour", "200 g"), ("granulated sugar", "180 g")], fats].concat();
        for (fats, begins) in [
            // 40 % of 200 g are 80 g of fat, which 98.6 g of butter hold.
            (&[("unsalted butter", "50 g")][..], "Add 49 g of unsalted butter, or take out "),
            (&[("unsalted butter", "30 g"), ("vegetable oil", "20 g")], "Add 44 g of butter"),
            (&[("vegetable oil", "50 g")], "Add 30 g of vegetable oil"),
            (&[], "Add 99 g of butter"),
            (&[("unsalted butter", "180 g")], "Take out 50 g of unsalted butter"),
        ] {
            let (text, verdict) = followed("creamed", "fat", &cake(fats));
            assert!(text.starts_with(begins), "{text}");
            assert_eq!(verdict, Within, "{text}");
        }
    }

    #[test]
    fn egg_against_fat_is_mended_for_both_ways_of_counting_it() {
        let cake = |egg| [("cake flour", "200 g"), ("unsalted butter", "100 g"), ("egg", egg)];
        for egg in ["180 g", "50 g"] {
            let (text, verdict) = followed("creamed", "eggs-to-fat", &cake(egg));
            assert_eq!(verdict, super::super::BalanceVerdict::Within, "{text}");
        }
    }

    #[test]
    fn what_is_taken_out_beside_flour_that_brings_some_is_enough() {
        // 2 % of 82.13 g are 1.64 g; 1 g less would leave 1.69 g with what is in the flour.
        let waffle = [("all-purpose flour", "60 g"), ("self-rising flour", "22.13 g"), ("salt", "2.28 g"), ("whole milk", "131 g")];
        let text = mend("waffle", "salt", &waffle).unwrap_or_default();
        assert!(text.starts_with("Take out 1.05 g of salt"), "{text}");
    }

    #[test]
    fn what_holds_by_its_usual_weight_is_told_so() {
        // A cup of shortening is 205 g, by another table 187: 51 or 47 % of 400 g of flour.
        let dough = [("all-purpose flour", "400 g"), ("shortening", "1 cup"), ("water", "100 g")];
        let text = mend("pie-dough", "fat", &dough).unwrap_or_default();
        assert!(text.starts_with("It holds by the usual weights"), "{text}");
    }

    #[test]
    fn yolk_that_whole_eggs_bring_goes_with_the_eggs() {
        let text = |lines: &[(&str, &str)]| mend("chiffon", "yolks", lines).unwrap_or_default();
        let whole = text(&[("cake flour", "200 g"), ("egg", "500 g")]);
        assert!(whole.starts_with("Use ") && whole.ends_with(" g of egg white in place of as much egg"), "{whole}");
        // Of so many yolks there are enough by themselves.
        let apart = text(&[("cake flour", "200 g"), ("egg", "50 g"), ("egg yolk", "140 g")]);
        assert!(apart.starts_with("Take out ") && apart.contains(" g of egg yolk, or add "), "{apart}");
        let both = text(&[("cake flour", "200 g"), ("egg", "500 g"), ("egg yolk", "18 g")]);
        assert!(both.starts_with("Take out all of the egg yolk (18 g), and use ") && both.ends_with(" in place of as much egg"), "{both}");
    }

    #[test]
    fn what_is_missing_is_named() {
        let cake = [("cake flour", "200 g"), ("granulated sugar", "180 g")];
        assert!(mend("creamed", "leavening", &cake).is_some_and(|text| text.starts_with("Add 3 g of baking powder")));
    }
}
