//! The page for browsers: read without a network beyond this server, built in the browser from the document. It stands apart because it is text for people, not an answer.

mod serve;

pub use serve::{document, given, page, script, style};

/// The page, at `/docs` and for browsers at `/`.
pub const PAGE: &str = include_str!("page.html");

/// Its script, at `/docs/page.js`.
pub const SCRIPT: &str = concat!(include_str!("shown.js"), include_str!("ask.js"), include_str!("page.js"));

/// Its look, at `/docs/page.css`.
pub const STYLE: &str = include_str!("page.css");

/// The Content-Security-Policy that the page keeps: nothing from elsewhere, nothing written into it.
pub const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src data:; \
base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_page_is_small_and_asks_for_nothing_from_elsewhere() {
        assert!(PAGE.len() + SCRIPT.len() + STYLE.len() <= 150_000);
        for text in [PAGE, SCRIPT, STYLE] {
            assert!(!text.contains("http://") && !text.contains("https://") && !text.contains("@import"));
        }
    }

    #[test]
    fn the_page_keeps_its_own_policy() {
        for inline in ["<style", "style=\"", "onclick=", "<script>", "javascript:"] {
            assert!(!PAGE.contains(inline), "{inline}");
        }
        for unsafe_call in ["innerHTML", "eval(", "insertAdjacentHTML", ".style."] {
            assert!(!SCRIPT.contains(unsafe_call), "{unsafe_call}");
        }
    }

    #[test]
    fn the_page_says_its_language_and_lets_a_reader_skip_to_the_questions() {
        for needed in ["<html lang=\"en\">", "name=\"viewport\"", "<title>", "href=\"#questions\"", "<main id=\"questions\"", "<noscript>"]
        {
            assert!(PAGE.contains(needed), "{needed}");
        }
    }
}
