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

/// Ten lines as a publisher keeps them, some 2 KB: by the household measure, by weight, and with what belongs to the work.
fn ratio_check(n: usize) -> String {
    let quarter = ["", " 1/4", " 1/2", " 3/4"][n % 4];
    let lines = [
        (
            "cake flour",
            format!("3{quarter} cups"),
            400 + n,
            "spooned into the cup and levelled, then sifted twice with the baking powder and the salt",
        ),
        (
            "granulated sugar",
            format!("1{quarter} cups"),
            360 + n,
            "a fine one, so that it is dissolved before the eggs go in; keep a spoonful back for the pans",
        ),
        (
            "unsalted butter",
            format!("{} Tbsp", 13 + n % 4),
            200 + n,
            "taken out an hour before, cut into pieces, soft but still cool, some 20 C",
        ),
        (
            "egg",
            "4 large".to_owned(),
            210 + n,
            "at room temperature, beaten lightly, and added in five or six turns, each beaten in before the next",
        ),
        (
            "whole milk",
            "2/3 cup".to_owned(),
            160 + n,
            "at room temperature; in three turns with the flour, beginning and ending with the flour",
        ),
        ("almond flour", "3 Tbsp".to_owned(), 20 + n, "from blanched almonds, rubbed through a sieve with the last of the flour"),
        ("baking powder", "2 1/2 tsp".to_owned(), 12, "levelled with a knife, and no more than that, or the middle sinks"),
        ("salt", "2/3 tsp".to_owned(), 4, "fine; with a coarse one go by the weight and not by the spoon"),
        (
            "vanilla extract",
            "1 1/2 tsp".to_owned(),
            6,
            "beaten in with the last of the eggs, or the seeds of one pod rubbed into the sugar",
        ),
        ("lemon zest", "2 1/2 tsp".to_owned(), 5, "finely grated from two lemons, rubbed into the sugar before the butter is creamed"),
    ];
    let line = |(ingredient, amount, grams, note): &(&str, String, usize, &str)| {
        format!(r#"{{"ingredient":"{ingredient}","amount":"{amount}","also":"{grams} g","note":"{note}"}}"#)
    };
    format!(
        r#"{{"formula":{{"name":"Larkrise layer cake","style":"creamed","measures":"us","parts":[{{"name":"batter","lines":[{}]}}],"pan":{{"round":{{"diameter":"8 in","depth":"2 in"}},"count":2}},"bake":{{"oven":"350 F / 180 C","minutes":"28-32"}},"makes":{{"pieces":12}}}}}}"#,
        lines.iter().map(line).collect::<Vec<_>>().join(",")
    )
}
