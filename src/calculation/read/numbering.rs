//! The numbers of a numbered list: "1. 200 g flour". One that stands in sequence with another is no amount, nor is one before a word; "1. 5 cups" alone may be one and a half and is left.

/// The lines without the numbers of a list.
pub(super) fn unnumbered<'t>(lines: &[&'t str]) -> Vec<&'t str> {
    let numbers: Vec<Option<(u32, &str)>> = lines.iter().map(|line| number(line)).collect();
    let stands = |wanted: u32| numbers.iter().flatten().any(|(number, _)| *number == wanted);
    let of_list = |(number, rest): &(u32, &str)| {
        stands(number + 1) || number.checked_sub(1).is_some_and(stands) || rest.bytes().take_while(u8::is_ascii_digit).count() != 1
    };
    lines.iter().zip(&numbers).map(|(line, number)| number.filter(of_list).map_or(*line, |(_, rest)| rest)).collect()
}

/// "1.", "2)" or "(3)" at the head of a line, and what stands behind.
fn number(line: &str) -> Option<(u32, &str)> {
    let line = line.trim();
    let line = line.get(..5).filter(|head| head.eq_ignore_ascii_case("step ")).map_or(line, |_| line[5..].trim_start());
    let open = line.strip_prefix('(');
    let text = open.unwrap_or(line);
    let end = text.find(|c: char| !c.is_ascii_digit()).filter(|end| (1..=3).contains(end))?;
    let rest = if open.is_some() { text[end..].strip_prefix(')') } else { text[end..].strip_prefix(['.', ')', ':']) }?;
    let behind = rest.trim_start();
    (rest.len() > behind.len() && !behind.is_empty()).then_some((text[..end].parse().ok()?, behind))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_numbers_of_a_list_are_no_amounts() {
        assert_eq!(unnumbered(&["1. 200 g flour", "2. 3 eggs"]), ["200 g flour", "3 eggs"]);
        assert_eq!(unnumbered(&["1) 5 cups flour", "2) a pinch of salt"]), ["5 cups flour", "a pinch of salt"]);
        assert_eq!(unnumbered(&["1. Preheat the oven"]), ["Preheat the oven"]);
        assert_eq!(unnumbered(&["(2) 250 g butter"]), ["250 g butter"]);
        assert_eq!(unnumbered(&["Step 1: Make the dough"]), ["Make the dough"]);
    }

    #[test]
    fn what_may_be_an_amount_is_left() {
        for line in ["1. 5 cups flour", "1.5 cups flour", "2 cups flour", "1 (14 oz) can condensed milk", "1."] {
            assert_eq!(unnumbered(&[line]), [line]);
        }
    }
}
