//! A line that holds more than one ingredient: "½ tsp each cinnamon and cloves", "1 egg plus 1 yolk", "salt and pepper".

use super::amount::{lead, unit};
use super::name::named;
use super::read::Reader;
use super::taken::counted;
use super::text::{bracketed, figure_behind, is_done, is_figure, is_purpose, segments};
use super::unmeasured::unmeasured;
use super::{Item, Measure};
use crate::quantity::{Counting, Factor, Family, Pointer, Written, no_measure, plain, read_number, strip_ignoring_case};
use crate::reference::{Account, Class, Measuring};

impl Reader<'_> {
    /// "500 g flour, 300 ml water, 10 g salt": a line that lists several, each with its own amount. What has none belongs to the one before.
    pub(super) fn listed(&self, line: &str) -> Option<Vec<Item>> {
        let parts = outside_brackets(line);
        // "500 g Bramleys, 250 g blackberries": the first may be strange, and the others are not.
        if parts.len() < 2 {
            return None;
        }
        let first = parts[0].1;
        // "zest and juice of 4 lemons, 60 g cornflour".
        let weighed = |part| lead(part, self.measures).is_ok_and(|found| found.is_some_and(|found| found.measure.is_mass()));
        let of_a_thing = || weighed(parts[1].1) && self.stands_alone(parts[1].1) && self.thing_of(first).is_some();
        if !self.stands_alone(first) && !self.names_another(first) && !of_a_thing() {
            return None;
        }
        // "sunflower oil for the tin": it has no amount and needs none.
        let poured = |part: &str| unmeasured(part).is_some_and(|(name, _)| self.knows(name));
        let several = || parts.iter().filter(|(_, part)| self.stands_alone(part)).count() > 1;
        let begins = |part: &str| {
            self.stands_alone(part) || self.names_another(part) || self.thing_of(part).is_some() || poured(part) || self.is_open(part)
        };
        // "10 g extract, vanilla" is nothing without its kind.
        let flavours = |n: usize, part: &str| self.flavours(part) && self.stands_alone(parts[n - 1].1) && several();
        let starts: Vec<usize> = parts
            .iter()
            .enumerate()
            .filter(|(n, (_, part))| *n == 0 || begins(part) || flavours(*n, part))
            .map(|(_, (at, _))| *at)
            .collect();
        let ends = starts.iter().skip(1).copied().chain([line.len()]);
        let stretches = starts.iter().zip(ends).map(|(from, to)| line[*from..to].trim().trim_end_matches([',', ';']));
        (starts.len() > 1).then(|| stretches.fold(Vec::new(), |items, stretch| self.with_next(items, stretch)))
    }

    /// "600 ml milk, 4 eggs, 75 g sugar, vanilla": what flavours a list stands at its end without an amount, and is no kind of what stands before it.
    fn flavours(&self, part: &str) -> bool {
        let known = self.ingredients.named(&plain(part));
        known.is_some_and(|known| known.counts_as(Class::Flavouring) > Factor::ZERO || known.counts_as(Class::Salt) > Factor::ZERO)
    }

    /// "50 g butter | 60 g sugar | 60 g flour": bars and dots part a list as commas do, where every piece has its amount and its name.
    pub(super) fn barred(&self, line: &str) -> Option<String> {
        let mark = [" | ", " • ", " · ", " / "].into_iter().find(|mark| line.contains(mark))?;
        let pieces: Vec<&str> = line.split(mark).collect();
        // "200 g flour / 1⅔ cups flour" is the same once more.
        if mark == " / " && pieces.len() < 3 {
            return None;
        }
        let alone = |piece: &&&str| self.stands_alone(piece) || self.thing_of(piece).is_some() || self.is_open(piece);
        (pieces.iter().filter(alone).count() * 2 > pieces.len()).then(|| pieces.join(", "))
    }

    /// "yeast 0.5 g": a name that leaves its kind open, with its amount behind it.
    fn is_open(&self, piece: &str) -> bool {
        let Some(at) = figure_behind(piece) else { return false };
        let measured = lead(&piece[at..], self.measures).ok().flatten();
        measured.is_some_and(|found| found.measure.is_mass()) && self.ingredients.kinds(piece[..at].trim_end()).is_some()
    }

    /// "3 cups grated carrots, about 5 medium carrots": the same counted and measured is no more of it.
    fn with_next(&self, mut items: Vec<Item>, stretch: &str) -> Vec<Item> {
        let mut next = self.items(stretch);
        let counted = |item: &Item| item.amount.as_ref().map(|measure| measure.family() == Family::Count);
        match (items.last_mut(), &*next) {
            (Some(before), [one])
                if before.ingredient.map(|known| &known.id) == one.ingredient.map(|known| &known.id) && counted(before) != counted(one) =>
            {
                before.notes.push(stretch.to_owned());
            }
            _ => items.append(&mut next),
        }
        items
    }

    /// Whether a stretch has both an amount and the name of an ingredient.
    pub(super) fn stands_alone(&self, part: &str) -> bool {
        let known = |name: &str, counting: &Counting| {
            // "100 g sugar and 100 g flour": the first of two.
            let name = name.split_once(" and ").filter(|(_, behind)| behind.starts_with(is_figure)).map_or(name, |(first, _)| first);
            let name = segments(name).first().copied().unwrap_or_default().split(['(', '[']).next().unwrap_or_default().trim();
            !name.is_empty()
                && !self.is_for(name)
                && named(self.ingredients, name).is_some_and(|found| found.is_known())
                && (*counting != Counting::Nothing || self.is_counted(name))
        };
        match lead(part, self.measures) {
            // "1½ cups (210 g) flour": a further measure stands between.
            Ok(Some(head)) => {
                // "½lb/225g flour": the same once more.
                let second = head.rest.trim_start().strip_prefix('/').and_then(|second| lead(second, self.measures).ok().flatten());
                let rest = second.map_or(head.rest, |second| second.rest).trim_start();
                known(bracketed(rest).map_or(rest, |(_, behind)| behind.trim_start()), &head.measure.amount.counting)
            }
            // "225 g butter, pinch salt".
            Ok(None)
                if let Some((one, _, behind)) = unit(part, self.measures)
                    && one.by_the_fingers().is_some() =>
            {
                known(behind.trim_start().trim_start_matches("of "), &Counting::Unit(one))
            }
            Ok(None) => {
                let Some(at) = figure_behind(part) else { return false };
                let head = lead(&part[at..], self.measures).ok().flatten();
                head.is_some_and(|head| known(part[..at].trim_end_matches([' ', ':', '-', '–', '.']), &head.measure.amount.counting))
            }
            Err(_) => false,
        }
    }

    /// "5 g yeast", "½ cup butter and lard": a measure of what is not known is not a second measure of what is.
    fn names_another(&self, part: &str) -> bool {
        let Ok(Some(head)) = lead(part, self.measures) else { return false };
        let rest = head.rest.trim();
        // "a wineglassful of brandy".
        let word = rest.split(' ').next().unwrap_or_default();
        if head.measure.amount.counting == Counting::Nothing
            && rest.contains(' ')
            && no_measure(word.strip_suffix("ful").unwrap_or(word)).is_some()
        {
            return true;
        }
        // "one nutmeg, grated": what nobody counts so is asked back, and not passed over.
        if head.measure.amount.counting == Counting::Nothing && segments(rest).first().is_some_and(|name| self.knows(name)) {
            return true;
        }
        let known = [
            "total",
            "in total",
            "in all",
            "altogether",
            "each",
            "net",
            "drained",
            "prepared",
            "trimmed",
            "after",
            "before",
            "when",
            "whole",
        ];
        // "half a cup of butter and lard mixed": two that share a volume.
        let shared = || rest.trim_start_matches("of ").split_once(" and ").is_some_and(|(first, _)| self.knows(first));
        // "350 g wholegrain rye", "100 g whole zzyzx": what is weighed whole has nothing behind the word.
        let is_weight_so = |word: &&str| {
            let behind = rest.strip_prefix(*word);
            behind.is_some_and(|behind| !behind.starts_with(char::is_alphabetic) && (*word != "whole" || !behind.starts_with(' ')))
        };
        (head.measure.is_mass() || head.measure.family() == Family::Volume && shared())
            && rest.starts_with(char::is_alphabetic)
            && !self.is_for(rest)
            && !is_done(rest)
            && !known.iter().any(is_weight_so)
    }

    /// "2 tbsp extra for the tin", but not "100 g extra strong flour", which is a name of the table.
    fn is_for(&self, text: &str) -> bool {
        let name = || text.split([',', '(', ';']).next().unwrap_or_default();
        is_purpose(text) && self.ingredients.named(&plain(name().trim())).is_none()
    }

    fn knows(&self, name: &str) -> bool {
        named(self.ingredients, name).is_some_and(|found| found.doubts.is_empty())
    }

    /// "Milk 250": a number that has no unit.
    pub(super) fn unitless(&self, line: &str) -> Option<Item> {
        // "Flour 1000 100%": behind it stands the percentage of the baker.
        let line = line.rsplit_once(' ').filter(|(_, last)| last.ends_with('%')).map_or(line, |(before, _)| before);
        let (name, figure) = line.rsplit_once([' ', '|', ':'])?;
        let (number, "") = read_number(figure.trim(), &Pointer::ROOT).ok()?? else { return None };
        // "Flour | 100 | 1000": the name is the first column.
        let name = name.split(['(', '[', '|']).next()?.trim_end_matches([' ', ':', '-', '–', '.', ',']);
        let found = named(self.ingredients, name).filter(|found| found.doubts.is_empty())?;
        let called = &found.ingredient.name;
        let tries = ["g", "ml"].map(|unit| format!("{} {unit} {called}", number.value)).into();
        let faults = vec![format!("{figure} has no unit: write {figure} g, if grams are meant")];
        Some(Item { ingredient: Some(found.ingredient), faults, tries, ..Item::default() })
    }

    /// "Egg wash: 1 egg + 1 tbsp milk": what stands before the colon says what it is for.
    pub(super) fn labelled(&self, line: &str) -> Option<Vec<Item>> {
        let (label, rest) = [": ", " – ", " — ", " - "].iter().find_map(|mark| line.split_once(mark))?;
        lead(rest, self.measures).ok().flatten()?;
        // "Lemon juice – 2 lemons", "Zest: 1 orange": what is taken of them.
        if let Some(taken) = label.rsplit(' ').next().and_then(|part| self.thing_of(&format!("{part} of {rest}"))) {
            return Some(taken);
        }
        let mut items = self.items(rest);
        items.iter().all(|item| item.ingredient.is_some()).then(|| {
            items.iter_mut().for_each(|item| item.notes.push(label.trim().to_owned()));
            items
        })
    }

    /// "Cream: 500 g milk": the name behind the amount is that of the ingredient, and the one before only says what it is for.
    pub(super) fn labels(&self, label: &str, rest: &str) -> bool {
        let of = |name: &str| named(self.ingredients, name).filter(|found| found.doubts.is_empty()).map(|found| &found.ingredient.id);
        let behind = segments(rest.trim_start()).first().copied().and_then(of);
        behind.is_some() && named(self.ingredients, label).is_some_and(|before| Some(&before.ingredient.id) != behind)
    }

    /// "Salt: a pinch", "nutmeg, pinch": the pinch stands behind the name.
    pub(super) fn pinched_behind(&self, line: &str) -> Option<Vec<Item>> {
        let (name, tail) = line.rsplit_once([':', ',', '–', '|']).or_else(|| line.rsplit_once(" - ")).or_else(|| line.rsplit_once(' '))?;
        let (_, _, rest) =
            unit(tail.trim().trim_start_matches("a "), self.measures).filter(|(unit, ..)| unit.by_the_fingers().is_some())?;
        rest.trim().is_empty().then(|| self.items(&format!("{} {}", tail.trim(), name.trim())))
    }

    /// "½ tsp each cinnamon and cloves".
    pub(super) fn shared(&self, names: &str, item: &Item) -> Vec<Item> {
        let text = names.replace(" and ", ",").replace(" & ", ",");
        let each = || text.split(',').map(str::trim).filter(|name| !name.is_empty());
        // "1 ea vanilla bean, split + scraped": one thing, and what is done to it.
        if !each().skip(1).any(|name| self.knows(name)) {
            let mut one = item.clone();
            self.describe(names, &mut one);
            if one.ingredient.is_some() {
                return vec![one];
            }
        }
        each()
            .map(|name| {
                let mut one = item.clone();
                self.describe(name, &mut one);
                one
            })
            .collect()
    }

    /// "1 stick plus 2 tablespoons butter": two measures of one ingredient. Where a formula takes them as one amount they are one; a mass and a volume are two lines.
    pub(super) fn in_two_measures(&self, rest: &str, item: &Item) -> Option<Vec<Item>> {
        let second = ["plus ", "+ ", "and ", "& "].iter().find_map(|mark| strip_ignoring_case(rest, mark))?;
        lead(second, self.measures).ok()??;
        let [mut further] = <[Item; 1]>::try_from(self.items(second)).ok()?;
        further.ingredient?;
        if let Some(both) = self.in_packs(item, &further) {
            further.amount = Some(both);
            further.doubts.extend_from_slice(&item.doubts);
            return Some(vec![further]);
        }
        // "100 g plus 2 tbsp (125 g) sugar": that is what both weigh.
        if let Some(whole) = further.also.take().filter(Measure::is_mass) {
            let apart = [&item.amount, &further.amount].map(|measure| measure.as_ref().map_or("", |measure| &measure.text));
            further.notes.push(apart.join(" plus "));
            further.amount = Some(whole);
            return Some(vec![further]);
        }
        let mut first = Item { amount: item.amount.clone(), ..further.clone() };
        first.doubts.extend_from_slice(&item.doubts);
        Some(vec![first, further])
    }

    /// Both amounts as one, where the ingredient is sold in packs that tell what both are.
    fn in_packs(&self, item: &Item, further: &Item) -> Option<Measure> {
        let (first, second) = (item.amount.as_ref()?, further.amount.as_ref()?);
        let text = format!("{} plus {}", first.text, second.text);
        let at = Pointer::ROOT;
        let of = Measuring {
            ingredient: further.ingredient?,
            form: further.form,
            filled: further.filled.or(item.filled),
            measures: self.measures,
            measures_at: None,
            filled_at: &at,
        };
        // What a trial notes is told where the line is weighed.
        let mut trial = Account::new(self.reference, false);
        let amount = self.reference.in_packs(&Written::Text(text.as_str().into()), &of, &at, &mut trial)?;
        Some(Measure { amount, text })
    }

    /// "1 egg plus 1 yolk", "1 cup sugar plus 2 tablespoons": two ingredients, or more of the same.
    pub(super) fn two_things(&self, _line: &str, rest: &str, item: &Item) -> Option<Vec<Item>> {
        let (first, second) = [" plus ", " + ", " and ", " & "].iter().find_map(|mark| split_outside(rest, mark))?;
        // "buttermilk, or 1 cup milk plus 1 tbsp lemon juice": both are of the choice that is not taken.
        if first.match_indices(" or ").any(|(at, mark)| first[at + mark.len()..].starts_with(is_figure)) {
            return None;
        }
        if let Some(mut taken) = self.thing_of(second) {
            // "1 tbsp lemon juice plus zest of 1 lemon".
            let mut one = item.clone();
            self.describe(first, &mut one);
            one.ingredient?;
            taken.insert(0, one);
            return Some(taken);
        }
        // "1 tbsp milk + pinch of salt": one is meant.
        let pinched = unit(second, self.measures).is_some_and(|(unit, ..)| unit.by_the_fingers().is_some());
        let one_of = if pinched { format!("one {second}") } else { String::new() };
        let second = if pinched { &*one_of } else { second };
        let further = lead(second, self.measures).ok().flatten()?;
        if second.starts_with(|c: char| c.is_alphabetic())
            && matches!(further.measure.amount.counting, Counting::Nothing)
            && !rest.contains(" plus ")
        {
            return None;
        }
        let mut one = item.clone();
        self.describe(first, &mut one);
        one.ingredient?;
        let behind = further.rest.trim();
        if behind.is_empty() || is_purpose(behind) {
            one.doubts
                .push(format!("{} more stand behind: write them on a line of their own, or add them to the amount", further.measure.text));
            one.notes.push(format!("plus {}", second.trim()));
            one.tries.push(format!("{} {}", further.measure.text, one.name()));
            return Some(vec![one]);
        }
        let count = item.amount.clone()?;
        let mut others = self.items(second);
        if others.iter().all(|other| other.ingredient.is_some()) {
            let mut items = self.made_of(one, &count);
            items.append(&mut others);
            return Some(items);
        }
        // "1 egg plus 1 yolk": the part of an egg by its own word alone.
        let part = plain(behind.split([',', '(']).next()?).trim_end_matches('s').to_owned();
        let egg = matches!(part.as_str(), "yolk" | "white").then(|| self.ingredients.by_id(&format!("egg-{part}"))).flatten()?;
        let mut items = self.made_of(one, &count);
        items.push(Item { ingredient: Some(egg), amount: Some(counted("egg", &further.measure.amount)), ..Item::default() });
        Some(items)
    }

    /// "currants, raisins or chopped pecans": of several that are offered one is taken.
    pub(super) fn offered(&self, part: &str, item: &mut Item) {
        let Some((one, other)) = part.split_once(" or ") else { return };
        let known = |name: &str| named(self.ingredients, name).filter(|found| found.doubts.is_empty()).map(|found| found.ingredient);
        let (Some(one), Some(other), Some(mine)) = (known(one), known(other), item.ingredient) else { return };
        if [one, other].iter().all(|offered| offered.id != mine.id) {
            item.doubts.push(format!("Several ingredients are offered; taken as {}, not as {part}", mine.name));
            item.tries.extend([mine, one, other].map(|offered| offered.name.to_string()));
        }
    }

    /// "salt and pepper": two names without an amount.
    pub(super) fn pair(&self, names: &str) -> Option<[Item; 2]> {
        let (first, second) = [" and ", " & ", " + "].iter().find_map(|mark| names.split_once(mark))?;
        let of = |name: &str| {
            let mut item = Item::default();
            self.describe(name, &mut item);
            item.ingredient.is_some().then_some(item)
        };
        Some([of(first)?, of(second)?])
    }
}

/// The text before and behind a mark that stands in no bracket: "(or 1 cup milk + 1 tbsp vinegar)" is one remark.
fn split_outside<'t>(text: &'t str, mark: &str) -> Option<(&'t str, &'t str)> {
    let open = |before: &str| before.matches(['(', '[']).count() > before.matches([')', ']']).count();
    text.match_indices(mark).find(|(at, _)| !open(&text[..*at])).map(|(at, _)| (&text[..at], &text[at + mark.len()..]))
}

/// The stretches between commas and semicolons that stand in no bracket, each with its place; a decimal comma parts nothing.
fn outside_brackets(line: &str) -> Vec<(usize, &str)> {
    let (mut parts, mut from, mut depth) = (Vec::with_capacity(2), 0, 0u32);
    for (at, letter) in line.char_indices() {
        match letter {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            ',' | ';' if depth == 0 && line[at + 1..].starts_with(' ') => {
                parts.push((from, line[from..at].trim()));
                from = at + 2;
            }
            _ => {}
        }
    }
    parts.push((from.min(line.len()), line[from.min(line.len())..].trim()));
    parts
}
