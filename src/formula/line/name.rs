//! Which ingredient a written name means: whole first, then without what is said before and behind it. A word that is not understood is set aside and told, never passed over.

use super::text::is_done;
use super::words::{DONE, GENERAL, IDLE, KINDS, SHARED, SHORT, TAILS};
use crate::quantity::{no_measure, plain};
use crate::reference::{EggPart, Filled, Ingredient, Ingredients, is_drink};

/// What a name was found to mean, and what had to be set aside for it.
#[derive(Clone, Debug)]
pub(super) struct Named {
    pub ingredient: &'static Ingredient,
    pub form: &'static str,
    pub filled: Option<Filled>,
    /// What is said behind the name or before it, and does not change it.
    pub notes: Vec<String>,
    pub aside: Vec<String>,
    /// What a short name is taken for, where that is usual.
    pub assumed: Option<String>,
    /// Whether it was only near to a name of the table.
    pub slip: bool,
    pub doubts: Vec<String>,
    pub tries: Vec<String>,
    /// Whether it is only doubted because two kinds share the name.
    pub shared: bool,
}

impl Named {
    fn of(ingredient: &'static Ingredient) -> Self {
        Self {
            ingredient,
            form: "",
            filled: None,
            notes: Vec::new(),
            aside: Vec::new(),
            assumed: None,
            slip: false,
            doubts: Vec::new(),
            tries: Vec::new(),
            shared: false,
        }
    }

    /// Found by what stands in a bracket, and not by its name.
    pub(super) fn told_as(self, name: &str) -> Self {
        let taken = self.ingredient.name.clone().into_owned();
        let text = format!("\"{name}\" is not in the table; taken as {taken}, which stands behind it");
        self.doubting(text, [taken])
    }

    /// Whether it is known what it is, though perhaps not of which kind.
    pub(super) fn is_known(&self) -> bool {
        self.doubts.len() == usize::from(self.shared)
    }

    fn doubting(mut self, doubt: String, tries: impl IntoIterator<Item = String>) -> Self {
        self.doubts.push(doubt);
        self.tries.extend(tries);
        self
    }
}

/// What a name means, or nothing.
pub(super) fn named(ingredients: &Ingredients, written: &str) -> Option<Named> {
    let written = plain(written);
    // "'00' flour": a word in quotation marks is the word.
    if written.split(' ').any(|word| unquoted(word).len() < word.len()) {
        return named(ingredients, &written.split(' ').map(unquoted).collect::<Vec<_>>().join(" "));
    }
    let name = written.trim_matches(|c: char| matches!(c, '.' | '*' | ':' | '!' | '"' | '†')).trim();
    let name = name.strip_prefix("of ").unwrap_or(name).trim();
    if name.is_empty() || is_drink(name) {
        return None;
    }
    for idle in [" or to taste", " or more", " or less", " or as needed", " or so"] {
        if let Some(mut found) = name.strip_suffix(idle).and_then(|first| named(ingredients, first)) {
            found.notes.push(idle.trim().to_owned());
            return Some(found);
        }
    }
    if let Some(found) = name.strip_suffix(" or").and_then(|first| named(ingredients, first)) {
        let taken = found.ingredient.name.clone().into_owned();
        return Some(found.doubting("Another choice follows on the next line".to_owned(), [taken]));
    }
    // "85% dark chocolate": the share of cocoa is read apart.
    if let Some((share, rest)) = name.split_once("% ")
        && share.bytes().all(|b| b.is_ascii_digit())
        && rest.ends_with("chocolate")
        && ingredients.named(name).is_none()
    {
        return named(ingredients, rest);
    }
    straight(ingredients, name)
        .or_else(|| spelled_out(ingredients, name))
        .or_else(|| of_type(ingredients, name))
        .or_else(|| without_tail(ingredients, name))
        .or_else(|| choice(ingredients, name))
        .or_else(|| turned(ingredients, name))
        .or_else(|| without_strange(ingredients, name))
        .or_else(|| misspelt(ingredients, name))
}

fn unquoted(word: &str) -> &str {
    ['\'', '"'].iter().find_map(|mark| word.strip_prefix(*mark)?.strip_suffix(*mark)).unwrap_or(word)
}

/// The name with nothing but known words before and behind it.
fn straight(ingredients: &Ingredients, name: &str) -> Option<Named> {
    let mut end = name.len();
    loop {
        let head = &name[..end];
        if let Some(found) = fronted(ingredients, head) {
            let mut found = found;
            if end < name.len() {
                found.notes.push(name[end..].trim().to_owned());
            }
            return Some(found);
        }
        let (before, word) = head.rsplit_once(' ')?;
        if ingredients.is_form(word)
            && end == name.len()
            && let Some(found) = fronted(ingredients, before)
            && let Some(form) = found.ingredient.forms().into_iter().find(|form| *form == word)
        {
            // "walnut halves": the state stands behind the name, and is that in which it is measured.
            return Some(Named { form, ..found });
        }
        if !DONE.contains(word) {
            return None;
        }
        end = before.len();
    }
}

/// Takes known words off the front until a name is left.
fn fronted(ingredients: &Ingredients, name: &str) -> Option<Named> {
    let mut from = 0;
    loop {
        let rest = &name[from..];
        if let Some(ingredient) = entry(ingredients, rest) {
            return Some(with_front(ingredients, ingredient, &name[..from], rest));
        }
        let (word, _) = rest.split_once(' ').filter(|_| !is_drink(rest))?;
        if !(IDLE.contains(word) || DONE.contains(word) || is_form(ingredients, word)) || word == "and" && from == 0 {
            return None;
        }
        from += word.len() + 1;
    }
}

fn is_form(ingredients: &Ingredients, word: &str) -> bool {
    ingredients.is_form(word)
}

/// A name of the table, in the singular or the plural; a yolk is that of an egg.
fn entry(ingredients: &Ingredients, name: &str) -> Option<&'static Ingredient> {
    match name {
        "yolk" | "yolks" => return ingredients.by_id(EggPart::Yolk.id()),
        "white" | "whites" => return ingredients.by_id(EggPart::White.id()),
        _ => {}
    }
    ingredients.named(name).or_else(|| ingredients.named(&format!("{}y", name.strip_suffix("ies")?)))
}

/// The words before a name: a way of filling, a state in which it was measured, or a remark.
fn with_front(ingredients: &Ingredients, ingredient: &'static Ingredient, front: &str, name: &str) -> Named {
    // "peeled, sliced apples": a word in front may name another entry of the table together with the name.
    let other = front.split(' ').filter(|word| !word.is_empty()).find_map(|word| ingredients.named(&format!("{word} {name}")));
    let ingredient = other.unwrap_or(ingredient);
    let mut found = Named::of(ingredient);
    let forms = ingredient.forms();
    for word in front.split(' ').filter(|word| !word.is_empty()) {
        if let Some(way) = Filled::said(word) {
            found.filled = Some(way);
        } else if let Some(form) = forms.iter().find(|form| **form == word) {
            found.form = form;
        } else if !matches!(word, "the" | "a" | "an" | "some" | "your" | "large" | "medium" | "small" | "very") {
            found.notes.push(word.to_owned());
        }
    }
    if !found.notes.is_empty() {
        found.notes = vec![found.notes.join(" ")];
        if front.split(' ').any(|word| word == "fresh") && is_dry(ingredient) {
            let doubt = format!("\"fresh {name}\" is not in the table, and {} holds far less water", ingredient.name);
            found = found.doubting(doubt, [ingredient.name.clone().into_owned()]);
        }
    }
    // "sliced almonds" is both a name and a state in which almonds were measured.
    if let Some((word, rest)) = name.split_once(' ')
        && found.form.is_empty()
        && let Some(form) = forms.iter().find(|form| **form == word)
        && entry(ingredients, rest).is_some_and(|same| same.id == ingredient.id)
    {
        found.form = form;
    }
    shared(found, name)
}

/// Whether it is what is left of a fruit, a leaf or a root without its water. What is fresh of a spice is how it was ground.
fn is_dry(ingredient: &Ingredient) -> bool {
    ingredient.name.starts_with("dried ") || &*ingredient.id == "turmeric"
}

/// A name that two kinds share is told.
fn shared(mut found: Named, name: &str) -> Named {
    if let Some((_, kinds)) = SHARED.iter().find(|(known, _)| *known == name) {
        let doubt = format!("\"{name}\" may mean {}; taken as {}", kinds.join(" or "), found.ingredient.name);
        found.shared = true;
        return found.doubting(doubt, kinds.iter().map(|kind| (*kind).to_owned()));
    }
    if GENERAL.contains(&name) {
        found.assumed = Some(format!("\"{name}\" is taken as {}", found.ingredient.name));
    }
    found
}

/// "dark choc", "gran. sugar", "bkg powder": words cut short, as a hand in a hurry writes them.
fn spelled_out(ingredients: &Ingredients, name: &str) -> Option<Named> {
    let long = |word: &str| SHORT.iter().find(|(short, _)| *short == word.trim_end_matches('.')).map(|(_, long)| *long);
    if !name.split(' ').any(|word| long(word).is_some()) {
        return None;
    }
    let whole: Vec<&str> = name.split(' ').map(|word| long(word).unwrap_or(word)).collect();
    straight(ingredients, &whole.join(" "))
}

/// "flour T55": the type stands behind.
fn of_type(ingredients: &Ingredients, name: &str) -> Option<Named> {
    let (head, kind) = name.rsplit_once(' ').filter(|(_, kind)| kind.contains(|c: char| c.is_ascii_digit()))?;
    // "bread flour W260": how strong it is.
    if let Some(strength) =
        kind.strip_prefix('w').filter(|strength| head.ends_with("flour") && strength.bytes().all(|b| b.is_ascii_digit()))
    {
        let mut found = straight(ingredients, head)?;
        found.notes.push(format!("W{strength}"));
        return Some(found);
    }
    // "water 105f": how warm it is.
    if kind.strip_suffix(['f', 'c']).is_some_and(|degrees| degrees.trim_end_matches('°').bytes().all(|b| b.is_ascii_digit())) {
        let mut found = straight(ingredients, head)?;
        found.notes.push(kind.to_uppercase());
        return Some(found);
    }
    let type_of = |head: &str, kind: &str| straight(ingredients, &format!("{kind} {head}"));
    type_of(head, kind).or_else(|| {
        let bare = head.strip_suffix(" type")?;
        type_of(bare, kind).or_else(|| type_of(bare, &format!("type {kind}"))).or_else(|| straight(ingredients, &format!("wheat {name}")))
    })
}

/// "butter at room temperature", "pecan meat cut in pieces": what opens with such a word belongs behind the name.
fn without_tail(ingredients: &Ingredients, name: &str) -> Option<Named> {
    // "eggs of 60 g".
    let of_each = || name.match_indices(" of ").map(|(at, _)| at).find(|at| name[at + 4..].starts_with(|c: char| c.is_ascii_digit()));
    // "fine salt + flaked salt for topping".
    let beside = || name.find(" + ").filter(|at| [" for ", " to "].iter().any(|word| name[*at..].contains(word)));
    // "butter melted & cooled 5 minutes": all behind what is done to it says how.
    let done = || {
        let at = name.match_indices(' ').map(|(at, _)| at).find(|at| is_done(&name[at + 1..]))?;
        let tail = &name[at + 1..];
        // "butter and lard mixed": another stands in it.
        let other = tail.split(' ').any(|word| word == "or" || ingredients.named(word).is_some());
        (!other).then_some(at)
    };
    // "butter: 2 melted, 1 for the pan": shares of it, and no amount of its own.
    let shares = || name.find(": ").filter(|at| !super::is_measured_within(&name[*at..]));
    let at = TAILS
        .iter()
        .filter_map(|tail| name.find(tail))
        .chain(shares())
        .chain(of_each())
        .chain(beside())
        .chain(done())
        .filter(|at| *at > 0)
        .min()?;
    let mut found = straight(ingredients, &name[..at]).or_else(|| choice(ingredients, &name[..at]))?;
    found.notes.push(name[at..].trim().to_owned());
    Some(found)
}

/// "flour ap", "milk coconut": the kind stands behind, as a list of goods has it.
fn turned(ingredients: &Ingredients, name: &str) -> Option<Named> {
    let (head, kind) = name.split_once(' ').filter(|(_, kind)| !kind.contains(' '))?;
    ingredients.named(&format!("{kind} {head}")).map(Named::of)
}

/// "hot water or milk": the first is taken, and that is told.
fn choice(ingredients: &Ingredients, name: &str) -> Option<Named> {
    let (first, second) = [" and/or ", " or ", "/"].iter().find_map(|mark| name.split_once(mark))?;
    let (first, second) = (first.trim(), second.trim());
    if first.split(' ').all(|word| IDLE.contains(word) || matches!(word, "frozen" | "salted" | "unsalted"))
        && straight(ingredients, second).is_some()
    {
        // "fresh or frozen blueberries".
        let found = straight(ingredients, second)?;
        let text = format!("{first} or {second}: taken as {}", found.ingredient.name);
        return Some(if entry(ingredients, &format!("{first} {}", tail(second))).is_some_and(|other| other.id != found.ingredient.id) {
            found.doubting(text, [])
        } else {
            found
        });
    }
    // "light or dark brown sugar": the end belongs to both.
    let found = straight(ingredients, first)
        .or_else(|| straight(ingredients, &format!("{first} {}", tail(second))))
        .or_else(|| straight(ingredients, &format!("{first} {}", second.rsplit(' ').next()?)))?;
    // "canola or other vegetable oil" leaves the choice; "sour milk or buttermilk" are one in the table.
    let same = || straight(ingredients, second).is_some_and(|other| other.ingredient.id == found.ingredient.id && other.form == found.form);
    if second.starts_with("other ") || second.starts_with("another ") || same() {
        return Some(found);
    }
    let (one, other) = (found.ingredient.name.clone(), second.to_owned());
    Some(found.doubting(format!("Two ingredients are offered; taken as {one}, not as {other}"), [one.into_owned(), other]))
}

fn tail(text: &str) -> &str {
    text.split_once(' ').map_or(text, |(_, rest)| rest)
}

/// Words in front that nobody knows are set aside, and that is told, unless they make another thing of the name.
fn without_strange(ingredients: &Ingredients, name: &str) -> Option<Named> {
    let name = TAILS.iter().filter_map(|tail| name.find(tail)).min().map_or(name, |at| &name[..at]);
    let mut from = 0;
    let mut aside: Vec<String> = Vec::new();
    for _ in 0..3 {
        let (word, rest) = name[from..].split_once(' ').filter(|_| !is_drink(&name[from..]))?;
        if matches!(word, "and" | "&" | "or" | "with" | "of" | "in" | "no" | "not" | "cooked")
            || word.starts_with(|c: char| c.is_ascii_digit())
        {
            return None;
        }
        if !IDLE.contains(word) && !DONE.contains(word) {
            aside.push(word.to_owned());
        }
        from += word.len() + 1;
        let Some(mut found) = straight(ingredients, rest) else { continue };
        let head = rest.split(' ').find(|word| !IDLE.contains(word) && !DONE.contains(word)).unwrap_or(rest);
        if KINDS.contains(head) {
            return None;
        }
        let text = format!("Taken as {}; not understood, and set aside: {}", found.ingredient.name, aside.join(" "));
        found.aside = aside;
        let name = found.ingredient.name.clone().into_owned();
        return Some(found.doubting(text, [name]));
    }
    None
}

/// A slip of the pen: one letter in a short name, two in a long one.
fn misspelt(ingredients: &Ingredients, name: &str) -> Option<Named> {
    // "parts flour" is no slip for pasta flour.
    if !(6..=40).contains(&name.len()) || name.split_once(' ').is_some_and(|(first, _)| no_measure(first).is_some()) {
        return None;
    }
    let slips = if name.len() >= 10 { 2 } else { 1 };
    // "dark syrup" is another one, and no slip for date syrup: a word that the table has is the word.
    let near = ingredients.slip_of(name, slips)?;
    let strange = |word: &&str| !near.split(' ').any(|known| known == *word);
    if name.split(' ').filter(strange).any(|word| is_of_the_table(ingredients, word)) {
        return None;
    }
    let found = straight(ingredients, near)?;
    let text = format!("\"{name}\" is not in the table; taken as a slip for {near}");
    Some(Named { slip: true, ..found.doubting(text, [near.to_owned()]) })
}

/// Whether a word stands in the name of any ingredient.
fn is_of_the_table(ingredients: &Ingredients, word: &str) -> bool {
    ingredients.spellings().any(|name| name.contains(word) && name.split([' ', ',']).any(|known| known == word))
}

/// Names to offer where none was found.
pub fn suggested(ingredients: &Ingredients, written: &str) -> Vec<String> {
    let written = plain(written);
    let mut names = ingredients.nearest(&written);
    if names.is_empty()
        && let Some(last) = written.split(' ').next_back()
    {
        names = ingredients.nearest_called(last);
    }
    names.into_iter().map(str::to_owned).collect()
}
