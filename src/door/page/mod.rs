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
    fn the_page_works_below_whatever_path_a_proxy_has_put_it() {
        for absolute in ["href=\"/", "src=\"/", "\"/openapi", "`/v1", "\"/v1", "location.origin", "fetch(this.path"] {
            assert!(!PAGE.contains(absolute) && !SCRIPT.contains(absolute), "{absolute}");
        }
    }

    /// Text on its ground, by WCAG 2.2: 4.5 to 1 at least, for who wants it light and for who wants it dark.
    #[test]
    fn every_text_stands_out_from_its_ground_in_both_looks() {
        let of = |palette: &str, name: &str| {
            let value = palette.split(&format!("--{name}: #")).nth(1).and_then(|rest| rest.get(..6)).expect("a colour");
            let channel = |at: usize| f64::from(u8::from_str_radix(&value[at..at + 2], 16).expect("hexadecimal")) / 255.0;
            let linear = |part: f64| if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) };
            0.2126 * linear(channel(0)) + 0.7152 * linear(channel(2)) + 0.0722 * linear(channel(4))
        };
        let (light, dark) = STYLE.split_once("prefers-color-scheme: dark").expect("two looks");
        let white = 1.0;
        for palette in [light, dark] {
            let grounds = ["paper", "sheet", "care", "wrong"].map(|name| of(palette, name));
            let texts = ["ink", "quiet", "leaf"].map(|name| of(palette, name));
            let pairs = texts.iter().flat_map(|text| grounds.iter().map(move |ground| (*text, *ground)));
            for (text, ground) in pairs.chain([(of(palette, "crust"), grounds[0]), (white, of(palette, "press"))]) {
                let contrast = (text.max(ground) + 0.05) / (text.min(ground) + 0.05);
                assert!(contrast >= 4.5, "{contrast}");
            }
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
