//! Words as people spell them: made plain before they are looked up, and a near miss answered with the nearest words.

use std::borrow::Cow;

use unicode_normalization::{UnicodeNormalization, is_nfc};

/// A name as it stands behind "the": "the icing" has the word already.
pub fn behind_the(name: &str) -> &str {
    name.split_once(' ').filter(|(word, _)| word.eq_ignore_ascii_case("the")).map_or(name, |(_, thing)| thing.trim_start())
}

/// Lower case, composed (NFC), one blank between words, typographic quotes and dashes made plain. Borrowed when the text is plain already.
pub fn plain(text: &str) -> Cow<'_, str> {
    let trimmed = text.trim();
    let already = trimmed.bytes().all(|b| b.is_ascii() && !b.is_ascii_uppercase() && b != b'\t' && b != b'\n') && !trimmed.contains("  ");
    if already {
        return Cow::Borrowed(trimmed);
    }
    let composed: Cow<'_, str> = if is_nfc(trimmed) { Cow::Borrowed(trimmed) } else { Cow::Owned(trimmed.nfc().collect()) };
    let mut out = String::with_capacity(composed.len());
    for word in composed.split_whitespace() {
        if !out.is_empty() {
            out.push(' ');
        }
        for letter in word.chars() {
            match letter {
                '’' | '‘' | 'ʼ' => out.push('\''),
                '‐' | '‑' => out.push('-'),
                _ => out.extend(letter.to_lowercase()),
            }
        }
    }
    Cow::Owned(out)
}

/// Whether a text has more letters than this. Its bytes are never fewer, and need no counting.
pub fn longer(text: &str, most: usize) -> bool {
    text.len() > most && text.chars().count() > most
}

/// A sentence inside another.
pub fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// The beginning of a sentence.
pub fn upper_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// From this likeness on a word is near another.
const NEAR: f64 = 0.72;

/// The words nearest to one that was not found, the nearest first, at most `most`; none where nothing is near.
pub fn nearest<'w>(word: &str, words: impl IntoIterator<Item = &'w str>, most: usize) -> Vec<&'w str> {
    // A long text is nobody's misspelling, and likeness costs the product of the lengths.
    if word.len() > 80 {
        return Vec::new();
    }
    let letters = Letters::of(word);
    let mut scored: Vec<(f64, &str)> =
        words.into_iter().filter_map(|known| Some((likeness(word, &letters, known)?, known))).filter(|(near, _)| *near >= NEAR).collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(b.1)));
    scored.dedup_by(|a, b| a.1 == b.1);
    scored.into_iter().take(most).map(|(_, known)| known).collect()
}

/// Between 0 and 1, or nothing where it is certainly below what is near. A word that the other begins or ends with is nearer than letters alone say
/// ("flour" to "rye flour").
fn likeness(word: &str, letters: &Letters, known: &str) -> Option<f64> {
    let of_known = Letters::of(known);
    let common = letters.common(&of_known);
    let holds = common == letters.length && word.len() >= 4 && known.split(' ').any(|part| part == word);
    // There are thousands of words, and few of them have so many letters of this one: the others are not worth a closer look.
    if !holds && letters.most_alike(&of_known, common, beginning(word, known)) < NEAR {
        return None;
    }
    let alike = (strsim::normalized_damerau_levenshtein(word, known) + strsim::jaro_winkler(word, known)) / 2.0;
    Some(alike.max(if holds { 0.8 } else { 0.0 }))
}

/// In how many letters two words begin alike, as far as Winkler counts them.
fn beginning(word: &str, known: &str) -> usize {
    word.chars().zip(known.chars()).take(4).take_while(|(one, other)| one == other).count()
}

/// How often each letter stands in a word, some letters counted together.
struct Letters {
    counts: [u8; Self::KINDS],
    length: usize,
}

impl Letters {
    const KINDS: usize = 32;

    fn of(word: &str) -> Self {
        let mut letters = Self { counts: [0; Self::KINDS], length: 0 };
        for letter in word.chars() {
            let count = &mut letters.counts[letter as usize % Self::KINDS];
            *count = count.saturating_add(1);
            letters.length += 1;
        }
        letters
    }

    /// How many letters two words have in common at most, wherever they stand.
    fn common(&self, other: &Self) -> usize {
        self.counts.iter().zip(&other.counts).map(|(one, other)| usize::from(*one.min(other))).sum()
    }

    /// The most that two words can be alike with so many letters in common, whatever their order: every other letter is a change, and none of those can be
    /// matched.
    fn most_alike(&self, other: &Self, common: usize, beginning: usize) -> f64 {
        let share = |length: usize| common as f64 / length.max(1) as f64;
        let jaro = (share(self.length) + share(other.length) + 1.0) / 3.0;
        let winkler = jaro + 0.1 * beginning as f64 * (1.0 - jaro);
        (share(self.length.max(other.length)) + winkler) / 2.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_the_is_said_twice() {
        let names = ["the icing", "The  poolish", "theme cake", "glaze", "the"];
        assert_eq!(names.map(behind_the), ["icing", "poolish", "theme cake", "glaze", "the"]);
    }

    #[test]
    fn spelling_does_not_depend_on_how_an_accent_is_stored() {
        assert_eq!(plain("Cre\u{300}me  FRAÎCHE "), plain("crème fraîche"));
    }

    #[test]
    fn a_near_miss_finds_its_word() {
        assert_eq!(nearest("wheat fluor", ["whey", "wheat flour", "oat bran"], 3).first(), Some(&"wheat flour"));
        assert!(nearest("blobs", ["cup", "gram"], 3).is_empty());
    }

    proptest::proptest! {
        #[test]
        fn a_word_that_is_passed_over_is_not_near(word in "[a-fé ]{1,14}", known in "[a-fé ]{1,14}") {
            let holds = word.len() >= 4 && known.split(' ').any(|part| part == word);
            let alike = (strsim::normalized_damerau_levenshtein(&word, &known) + strsim::jaro_winkler(&word, &known)) / 2.0;
            let near = alike.max(if holds { 0.8 } else { 0.0 });
            let told = likeness(&word, &Letters::of(&word), &known);
            proptest::prop_assert!(told.map_or(near < NEAR, |told| (told - near).abs() < 1e-12), "{told:?} {near}");
        }
    }
}
