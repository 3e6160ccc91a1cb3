//! A line copied out of a web page: letters by their names ("&frac12;", "&nbsp;", "&#189;") and tags ("<li>") are made plain before it is read.

use std::borrow::Cow;

/// Letters by their names in HTML, as far as formulas hold them; the older names of the fractions are all there are.
const NAMED: [(&str, char); 50] = [
    ("amp", '&'),
    ("nbsp", ' '),
    ("ensp", ' '),
    ("emsp", ' '),
    ("thinsp", ' '),
    ("quot", '"'),
    ("apos", '\''),
    ("lt", '<'),
    ("gt", '>'),
    ("deg", '°'),
    ("ordm", 'º'),
    ("frac12", '½'),
    ("half", '½'),
    ("frac14", '¼'),
    ("frac34", '¾'),
    ("frac13", '⅓'),
    ("frac23", '⅔'),
    ("frac15", '⅕'),
    ("frac25", '⅖'),
    ("frac18", '⅛'),
    ("frac38", '⅜'),
    ("frac58", '⅝'),
    ("frac78", '⅞'),
    ("frasl", '/'),
    ("times", '×'),
    ("ndash", '–'),
    ("mdash", '—'),
    ("minus", '-'),
    ("hellip", '…'),
    ("bull", '•'),
    ("middot", '·'),
    ("rsquo", '\''),
    ("lsquo", '\''),
    ("rdquo", '"'),
    ("ldquo", '"'),
    ("prime", '\''),
    ("Prime", '"'),
    ("asymp", '≈'),
    ("Oslash", 'Ø'),
    ("eacute", 'é'),
    ("egrave", 'è'),
    ("ecirc", 'ê'),
    ("agrave", 'à'),
    ("acirc", 'â'),
    ("ccedil", 'ç'),
    ("icirc", 'î'),
    ("ucirc", 'û'),
    ("ouml", 'ö'),
    ("auml", 'ä'),
    ("uuml", 'ü'),
];

/// The longest name between "&" and ";".
const LONGEST: usize = 8;

/// The line in plain letters; as it is where no mark of a page stands in it.
pub(super) fn plain_letters(line: &str) -> Cow<'_, str> {
    let named = line.contains('&') && line.contains(';');
    let tagged = line.contains('<') && line.contains('>');
    if !named && !tagged {
        return line.into();
    }
    let untagged: Cow<'_, str> = if tagged { without_tags(line).into() } else { line.into() };
    if named { letters(&untagged).into() } else { untagged }
}

/// Without "<li>", "</span>"; "<br>" within a line parts it as a semicolon does. "< 5 g" is no tag.
fn without_tags(line: &str) -> String {
    let (mut out, mut rest) = (String::with_capacity(line.len()), line);
    while let Some((before, (tag, behind))) = rest.split_once('<').and_then(|(before, rest)| Some((before, rest.split_once('>')?))) {
        out.push_str(before);
        let name = tag.trim_start_matches('/');
        if !name.starts_with(|c: char| c.is_ascii_alphabetic()) {
            out.extend(["<", tag, ">"]);
        } else if name.starts_with("br") && !out.trim().is_empty() && !behind.trim().is_empty() {
            out.push_str("; ");
        }
        rest = behind;
    }
    out.push_str(rest);
    out
}

fn letters(line: &str) -> String {
    let (mut out, mut rest) = (String::with_capacity(line.len()), line);
    while let Some((before, behind)) = rest.split_once('&') {
        out.push_str(before);
        let found = behind.split_once(';').filter(|(name, _)| name.len() <= LONGEST).and_then(|(name, rest)| Some((letter(name)?, rest)));
        rest = match found {
            Some((letter, rest)) => {
                out.push(letter);
                rest
            }
            None => {
                out.push('&');
                behind
            }
        };
    }
    out.push_str(rest);
    out
}

/// One letter by its name or its number.
fn letter(name: &str) -> Option<char> {
    let Some(number) = name.strip_prefix('#') else { return NAMED.iter().find(|(known, _)| *known == name).map(|(_, letter)| *letter) };
    let code = number.strip_prefix(['x', 'X']).map_or_else(|| number.parse().ok(), |hex| u32::from_str_radix(hex, 16).ok());
    code.and_then(char::from_u32).filter(|letter| !letter.is_control())
}

#[cfg(test)]
mod tests {
    use super::plain_letters;

    #[test]
    fn letters_by_their_names_are_letters() {
        for (line, plain) in [
            ("1&frac12; cups flour", "1½ cups flour"),
            ("1&nbsp;tsp&nbsp;baking powder", "1 tsp baking powder"),
            ("350&deg;F for 30&ndash;35 min", "350°F for 30–35 min"),
            ("8&quot; square tin", "8\" square tin"),
            ("&#189; cup butter &amp; lard", "½ cup butter & lard"),
            ("<li><b>2</b> cups sugar</li>", "2 cups sugar"),
            ("200 g flour<br/>100 g sugar", "200 g flour; 100 g sugar"),
            ("half & half; cold", "half & half; cold"),
            ("< 5 g salt, > 2 g", "< 5 g salt, > 2 g"),
        ] {
            assert_eq!(plain_letters(line), plain, "{line}");
        }
    }
}
