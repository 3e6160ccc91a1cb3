//! "All in grams": a list whose amounts stand without a unit, because one line tells it for all.

use std::borrow::Cow;

use crate::formula::is_all_in_grams;

/// The lines with the unit that one of them tells for all; where none does, as they are.
pub(super) fn in_grams(lines: Vec<&str>) -> Vec<Cow<'_, str>> {
    let told = lines.iter().any(|line| line.len() < 120 && is_all_in_grams(line));
    lines
        .into_iter()
        .map(|line| if told && is_bare(line) { Cow::Owned(format!("{} g", line.trim_end())) } else { Cow::Borrowed(line) })
        .collect()
}

/// "Butter 100", "butter ..... 12.5": a name with a number behind it, and nothing behind that.
fn is_bare(line: &str) -> bool {
    let line = line.trim();
    let name = line.trim_end_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',')).trim_end();
    let figure = &line[name.len()..];
    line.starts_with(char::is_alphabetic)
        && figure.ends_with(|c: char| c.is_ascii_digit())
        && figure.starts_with([' ', '\t', '.'])
        && !name.contains(|c: char| c.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_without_a_unit_is_in_grams_where_a_line_says_so_of_all() {
        let told = |lines: &[&'static str]| in_grams(lines.to_vec()).iter().map(|line| line.to_string()).collect::<Vec<_>>();
        assert_eq!(
            told(&["butter 100", "Eggs 2 large", "rum 12.5", "(all in grams)"]),
            ["butter 100 g", "Eggs 2 large", "rum 12.5 g", "(all in grams)"]
        );
        assert_eq!(told(&["Frangipane (weights in grams)", "flour 20"]), ["Frangipane (weights in grams)", "flour 20 g"]);
        assert_eq!(told(&["butter 100", "rum 10"]), ["butter 100", "rum 10"]);
        assert_eq!(told(&["Layer 1", "All amounts in g."])[1], "All amounts in g.");
    }
}
