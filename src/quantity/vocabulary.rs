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

/// A long text is nobody's misspelling, and likeness costs the product of the lengths.
const LONGEST: usize = 80;

/// The words nearest to one that was not found, the nearest first, at most `most`; none where nothing is near.
pub fn nearest<'w>(word: &str, words: impl IntoIterator<Item = &'w str>, most: usize) -> Vec<&'w str> {
    if word.len() > LONGEST {
        return Vec::new();
    }
    let letters = Letters::of(word);
    ranked(words.into_iter().filter_map(|known| Some((likeness(word, &letters, known, &Letters::of(known))?, known))), most)
}

/// Many words that are asked again and again for the nearest: their letters are counted once. They stand by their first letter and their length.
pub struct KnownWords(Vec<(Letters, &'static str)>);

impl KnownWords {
    pub fn of(words: impl IntoIterator<Item = &'static str>) -> Self {
        let mut words: Vec<_> = words.into_iter().map(|word| (Letters::of(word), word)).collect();
        words.sort_by_key(|(_, word)| place(word));
        Self(words)
    }

    /// The word that differs by the fewest slips of the pen, by so many at most, and begins with the same letter.
    pub fn slip_of(&self, word: &str, most: usize) -> Option<&'static str> {
        let (letters, (first, length)) = (Letters::of(word), place(word));
        let from = self.0.partition_point(|(_, known)| place(known) < (first, length.saturating_sub(most)));
        let alike = self.0[from..].iter().take_while(|(_, known)| place(known) <= (first, length + most));
        // Each letter that only one of them has is a slip: few words are worth comparing letter by letter.
        let near = alike.filter(|(of_known, _)| letters.length.max(of_known.length) - letters.common(of_known) <= most);
        let off = near.map(|(_, known)| (strsim::osa_distance(word, known), *known));
        off.filter(|(off, _)| *off <= most).min().map(|(_, known)| known)
    }

    /// As [`nearest`] finds them.
    pub fn nearest(&self, word: &str, most: usize) -> Vec<&'static str> {
        if word.len() > LONGEST {
            return Vec::new();
        }
        let letters = Letters::of(word);
        ranked(self.0.iter().filter_map(|(of_known, known)| Some((likeness(word, &letters, known, of_known)?, *known))), most)
    }
}

/// Where a word stands among others.
fn place(word: &str) -> (Option<u8>, usize) {
    (word.bytes().next(), word.len())
}

/// Those that are near, the nearest first.
fn ranked<'w>(scored: impl Iterator<Item = (f64, &'w str)>, most: usize) -> Vec<&'w str> {
    let mut scored: Vec<(f64, &str)> = scored.filter(|(near, _)| *near >= NEAR).collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(b.1)));
    scored.dedup_by(|a, b| a.1 == b.1);
    scored.into_iter().take(most).map(|(_, known)| known).collect()
}

/// Between 0 and 1, or nothing where it is certainly below what is near. A word that the other begins or ends with is nearer than letters alone say
/// ("flour" to "rye flour").
fn likeness(word: &str, letters: &Letters, known: &str, of_known: &Letters) -> Option<f64> {
    // Nor are those that are much longer or shorter, unless they hold the word.
    let (short, beginning) = (letters.length.min(of_known.length), || beginning(word, known));
    if letters.most_alike(of_known, short, 4) < NEAR && !(of_known.length > letters.length && known.contains(word)) {
        return None;
    }
    let common = letters.common(of_known);
    let holds = common == letters.length && word.len() >= 4 && known.split(' ').any(|part| part == word);
    // There are thousands of words, and few of them have so many letters of this one: the others are not worth a closer look.
    if !holds && letters.most_alike(of_known, common, beginning()) < NEAR {
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
        let words = ["whey", "wheat flour", "oat bran", "wheat germ", "oat flour"];
        for word in ["wheat fluor", "oat", "brann", "blobs", "whea", &"flour ".repeat(20)] {
            assert_eq!(KnownWords::of(words).nearest(word, 3), nearest(word, words, 3), "{word}");
        }
    }

    proptest::proptest! {
        #[test]
        fn a_slip_is_what_a_walk_over_all_words_finds(word in "[a-dé ]{1,9}", known in proptest::collection::vec("[a-dé ]{1,9}", 1..12), most in 1usize..3) {
            let known: Vec<&'static str> = known.into_iter().map(|word| &*word.leak()).collect();
            let alike = |known: &&&str| known.len().abs_diff(word.len()) <= most && known.as_bytes().first() == word.as_bytes().first();
            let off = known.iter().filter(alike).map(|known| (strsim::osa_distance(&word, known), *known));
            let walked = off.filter(|(off, _)| *off <= most).min().map(|(_, known)| known);
            proptest::prop_assert_eq!(KnownWords::of(known.iter().copied()).slip_of(&word, most), walked);
        }

        #[test]
        fn a_word_that_is_passed_over_is_not_near(word in "[a-fé ]{1,14}", known in "[a-fé ]{1,14}") {
            let holds = word.len() >= 4 && known.split(' ').any(|part| part == word);
            let alike = (strsim::normalized_damerau_levenshtein(&word, &known) + strsim::jaro_winkler(&word, &known)) / 2.0;
            let near = alike.max(if holds { 0.8 } else { 0.0 });
            let told = likeness(&word, &Letters::of(&word), &known, &Letters::of(&known));
            proptest::prop_assert!(told.map_or(near < NEAR, |told| (told - near).abs() < 1e-12), "{told:?} {near}");
        }
    }
}
