//! The words with which a line opens that is no ingredient.

pub(super) const YIELDS: &[&str] = &["makes", "yield", "yields", "serves", "servings", "portions"];

/// What is cut, and who eats: openings that tell a yield where nothing but a number of pieces follows.
pub(super) const CUT: &[&str] = &["cut into ", "cuts into ", "cut in ", "cuts in ", "slice into ", "slices into ", "divides into "];
pub(super) const FEEDS: &[&str] = &["gives ", "feeds ", "enough for "];
pub(super) const EATERS: &[&str] = &["people", "persons", "servings", "portions", "guests", "pieces", "pcs", "ones"];
/// What is cut for another end than to be eaten.
pub(super) const NO_PIECES: &[&str] = &["layers", "strips", "lengths", "discs", "disks"];

/// What comes out of an oven by the piece.
pub(super) const BAKED: &[&str] = &[
    "loaves",
    "rolls",
    "buns",
    "brioches",
    "baguettes",
    "bagels",
    "croissants",
    "pieces",
    "cookies",
    "biscuits",
    "muffins",
    "cupcakes",
    "scones",
    "doughnuts",
    "donuts",
    "cakes",
    "tarts",
    "tartlets",
    "pies",
];

pub(super) const TIMES: &[&str] = &[
    "prep",
    "prep time",
    "preparation",
    "preparation time",
    "total time",
    "cook time",
    "cooking time",
    "chill",
    "chill time",
    "chilling time",
    "rest",
    "resting time",
    "proving time",
    "proofing time",
    "rising time",
    "ready in",
    "active time",
    "hands-on time",
    "time",
];

pub(super) const TOTALS: &[&str] = &["total", "totals", "sum"];

pub(super) const NUTRITION: &[&str] =
    &["serving size", "nutrition", "nutrition per serving", "nutritional information", "calories", "kcal", "per serving", "per portion"];

pub(super) const NOTES: &[&str] =
    &["note", "notes", "tip", "tips", "nb", "n.b", "storage", "equipment", "source", "author", "adapted from", "level", "difficulty"];

/// Headings of what is done, not of what is taken.
pub(super) const METHOD: &[&str] =
    &["method", "directions", "instructions", "steps", "preparation", "procedure", "how to make it", "to bake", "to make", "method:"];

/// Heads of columns.
pub(super) const HEADS: &[&str] = &[
    "ingredient",
    "ingredients",
    "amount",
    "amounts",
    "quantity",
    "qty",
    "weight",
    "grams",
    "gram",
    "g",
    "%",
    "baker's",
    "bakers",
    "percent",
    "percentage",
    "metric",
    "imperial",
    "us",
    "uk",
    "cups",
    "cup",
    "volume",
    "ounces",
    "oz",
    "measure",
    "unit",
    "note",
    "notes",
];

/// What a cook is told to do: with two words or more behind it, and no amount, a step.
pub(super) const WORK: &[&str] = &[
    "preheat",
    "mix",
    "stir",
    "beat",
    "whisk",
    "fold",
    "heat",
    "grease",
    "line",
    "sift",
    "combine",
    "pour",
    "spoon",
    "place",
    "leave",
    "remove",
    "cool",
    "serve",
    "knead",
    "chill",
    "refrigerate",
    "put",
    "add",
    "melt",
    "bring",
    "let",
    "turn",
    "allow",
    "cover",
    "spread",
    "sprinkle",
    "dust",
    "divide",
    "transfer",
    "shape",
    "prove",
    "proof",
    "rest",
    "store",
    "bake",
    "cook",
    "cream",
    "rub",
    "blend",
    "scrape",
    "drizzle",
    "decorate",
    "press",
    "brush",
    "meanwhile",
    "once",
    "when",
    "in",
    "using",
    "set",
    "simmer",
    "boil",
    "prepare",
    "blind",
    "blind-bake",
    "par-bake",
    "cut",
    "roll",
    "bulk",
    "ferment",
    "autolyse",
    "retard",
    "laminate",
    "steam",
];

/// What cakes are baked in.
pub(super) const TINS: &[&str] = &[
    "tin",
    "tins",
    "pan",
    "pans",
    "dish",
    "plate",
    "plates",
    "tray",
    "trays",
    "mould",
    "moulds",
    "mold",
    "molds",
    "springform",
    "form",
    "ramekins",
    "sheet",
    "sheets",
    "loaf",
];

/// What lies on the table and is not eaten.
pub(super) const TOOLS: &[&str] = &[
    "paper cases",
    "muffin cases",
    "cupcake cases",
    "cupcake liners",
    "muffin liners",
    "paper liners",
    "baking paper",
    "baking parchment",
    "parchment",
    "parchment paper",
    "greaseproof paper",
    "skewers",
    "lolly sticks",
    "cocktail sticks",
    "baking beans",
    "kitchen string",
    "piping bag",
];
