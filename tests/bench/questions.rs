//! The questions of the benches: many that differ, since one that repeats flatters every reader.

/// Questions to one calculation.
pub struct Questions {
    pub name: &'static str,
    pub bodies: Vec<String>,
}

type Body = fn(usize) -> String;

const ALL: &[(&str, Body)] = &[("convert", convert), ("pan-scale", pan_scale), ("batch", batch), ("ratio-check", ratio_check)];
const MANY: usize = 64;

impl Questions {
    pub fn of(name: &str) -> Self {
        let (name, body) = ALL.iter().find(|(known, _)| *known == name).expect("questions for it");
        Self { name, bodies: (0..MANY).map(body).collect() }
    }

    pub fn known(name: &str) -> bool {
        ALL.iter().any(|(known, _)| *known == name)
    }

    /// The median size of a question.
    pub fn size(&self) -> usize {
        let mut sizes: Vec<usize> = self.bodies.iter().map(String::len).collect();
        sizes.sort_unstable();
        sizes[sizes.len() / 2]
    }
}

fn convert(n: usize) -> String {
    let ingredient = ["honey", "granulated sugar", "butter", "bread flour", "whole milk", "cocoa powder", "molasses", "salt"][n % 8];
    format!(r#"{{"amount":"{} tbsp","ingredient":"{ingredient}","to":"g"}}"#, n + 1)
}

fn pan_scale(n: usize) -> String {
    let (diameter, side) = (6 + n % 8, 7 + n / 8);
    format!(
        r#"{{"from":{{"round":{{"diameter":"{diameter} in","depth":"2 in"}},"count":2}},"to":{{"square":{{"side":"{side} in","depth":"2 in"}}}},"keep":"fill"}}"#
    )
}

/// Lines of a formula in grams.
fn weighed(lines: &[(&str, usize)]) -> String {
    let line = |(ingredient, grams): &(&str, usize)| format!(r#"{{"ingredient":"{ingredient}","amount":"{grams} g"}}"#);
    lines.iter().map(line).collect::<Vec<_>>().join(",")
}

fn batch(n: usize) -> String {
    let lines = [
        ("all-purpose flour", 500 + n),
        ("butter", 125 + n),
        ("granulated sugar", 60),
        ("baking powder", 25),
        ("salt", 5),
        ("whole milk", 290),
    ];
    format!(
        r#"{{"formula":{{"name":"Larkrise scones","style":"scone","parts":[{{"name":"dough","scales_with":"pieces","lines":[{}]}}],"makes":{{"pieces":12}}}},"want":{{"pieces":{}}}}}"#,
        weighed(&lines),
        30 + n
    )
}

fn ratio_check(n: usize) -> String {
    let lines = [
        ("cake flour", 400 + n),
        ("granulated sugar", 360 + n),
        ("unsalted butter", 200 + n),
        ("egg", 210 + n),
        ("whole milk", 160 + n),
        ("almond flour", 20 + n),
        ("baking powder", 12),
        ("salt", 4),
        ("vanilla extract", 6),
        ("lemon zest", 5),
    ];
    format!(
        r#"{{"formula":{{"name":"Larkrise layer cake","style":"creamed","parts":[{{"name":"batter","lines":[{}]}}]}}}}"#,
        weighed(&lines)
    )
}
