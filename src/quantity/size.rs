//! Sizes of what is sold by size, such as eggs: the trade's words for them, and the market whose classes are meant.

use super::vocabulary::plain;

/// A size by its trade word, and the market whose classes are meant, if it was said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    pub class: &'static str,
    pub market: Option<&'static str>,
}

impl Size {
    /// That of an egg of which no size is said, in the market of whoever asks.
    pub const LARGE: Self = Self { class: "large", market: None };
}

const SIZES: &[(&str, &str)] = &[
    ("extra large", "extra-large"),
    ("extra-large", "extra-large"),
    ("very large", "extra-large"),
    ("extra small", "extra-small"),
    ("extra-small", "extra-small"),
    ("xl", "extra-large"),
    ("jumbo", "jumbo"),
    ("large", "large"),
    ("lg", "large"),
    ("medium", "medium"),
    ("med", "medium"),
    ("small", "small"),
    ("sm", "small"),
    ("peewee", "peewee"),
    ("l", "large"),
    ("m", "medium"),
    ("s", "small"),
];

/// Eggs and their parts, as they are counted.
pub(super) const EGGS: &[&str] = &["eggs", "egg", "egg whites", "egg white", "egg yolks", "egg yolk", "whites", "white", "yolks", "yolk"];

const MARKETS: &[(&str, &str)] =
    &[("us ", "us"), ("usa ", "us"), ("american ", "us"), ("eu ", "eu"), ("uk ", "eu"), ("european ", "eu"), ("british ", "eu")];

/// "large", "EU medium", "extra large eggs". The whites of large eggs are no large eggs: a part is no size.
pub(super) fn size(word: &str) -> Option<Size> {
    let word = plain(word);
    let (market, rest) = market_before(&word);
    let rest = ["eggs", "egg"].iter().find_map(|thing| rest.strip_suffix(thing)).unwrap_or(rest).trim();
    SIZES.iter().find(|(name, _)| *name == rest).map(|(_, class)| Size { class, market })
}

/// A size by its whole name in the very letters of the table. The short names may be units as well.
pub(super) fn size_in_full(word: &str) -> Option<Size> {
    SIZES.iter().find(|(name, _)| name.len() > 3 && *name == word).map(|(_, class)| Size { class, market: None })
}

/// The market that stands before a size, and what stands behind it.
fn market_before(words: &str) -> (Option<&'static str>, &str) {
    let found = MARKETS.iter().find_map(|(prefix, market)| Some((Some(*market), words.strip_prefix(prefix)?)));
    found.unwrap_or((None, words))
}

/// The size that stands before a name, and the name: "medium eggs", "EU large egg whites".
pub fn size_before(name: &str) -> Option<(Size, &str)> {
    let (market, rest) = market_before(name);
    SIZES.iter().find_map(|(word, class)| Some((Size { class, market }, rest.strip_prefix(word)?.strip_prefix(' ')?.trim_start())))
}

/// A size that stands alone: behind the comma of "eggs, medium".
pub fn size_alone(words: &str) -> Option<Size> {
    size(words).filter(|_| !words.contains("egg"))
}
