//! A cell that a spreadsheet would run as a formula, made harmless: text that somebody else wrote must never act on the reader's machine.

use std::borrow::Cow;

/// What a formula begins with, in spreadsheets of one kind or another; the wide forms are taken for the narrow ones in some.
const BEGINNINGS: &[char] = &['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];

/// The cell with an apostrophe before it, where it begins as a formula does and is no number.
pub fn harmless(cell: &str) -> Cow<'_, str> {
    let begins = cell.starts_with(BEGINNINGS);
    if begins && !is_number(cell) { Cow::Owned(format!("'{cell}")) } else { Cow::Borrowed(cell) }
}

/// A sign, digits, a point and an exponent: nothing that could name another cell.
fn is_number(cell: &str) -> bool {
    cell.bytes().all(|byte| byte.is_ascii_digit() || b"+-.eE".contains(&byte)) && cell.parse::<f64>().is_ok_and(f64::is_finite)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_spreadsheet_would_run_is_marked_and_numbers_are_not() {
        for formula in ["=1+1", "+A1", "-A1", "@SUM(A1)", "\t=1", "\r=1", "-", "+1+2", "－1", "-inf", "-1 cup", "-1e999"] {
            assert_eq!(harmless(formula), format!("'{formula}"));
        }
        for plain in ["", "-5", "+3.5", "-1.5e-3", "1 cup", "egg = whole", "188 g"] {
            assert_eq!(harmless(plain), plain);
        }
    }
}
