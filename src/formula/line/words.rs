//! The words of an ingredient line that are no names: what is done to an ingredient, what leaves it as it is, how much is meant when nobody measured. They stand together so that a word is added in one place.

use std::collections::HashSet;
use std::sync::LazyLock;

type Words = LazyLock<HashSet<&'static str>>;

fn words(text: &'static str) -> HashSet<&'static str> {
    text.split(' ').collect()
}

/// Words before a name that change neither its weight nor its kind.
pub(super) static IDLE: Words = LazyLock::new(|| {
    words(
        "fresh freshly large medium small extra-large extra softened soft cold cool chilled warm hot boiling lukewarm tepid iced \
     ice-cold room-temperature ripe overripe very good good-quality quality best organic pure raw finely coarsely roughly thinly \
     firmly lightly loosely well level plain dry strained beaten unbeaten toasted roasted peeled pitted cooled scalded free-range \
     washed fine natural unwaxed skinless skinned shelled stoned seeded seedless clear runny stiffly prepared powdered your \
     favourite favorite the a an some hulled stemmed drained tinned canned thawed whole unpeeled smooth liquid separated own \
     homemade home-made pre-sifted unbleached ready-rolled hand-hot blood-warm just-boiled freshly-boiled unrefined eating freshly-squeezed \
     fresh-squeezed freshly-ground freshly-grated all-butter firm crisp aged new-laid newlaid medium-grind fine-grind coarse-grind thick-skinned thin-skinned",
    )
});

/// What may be done to an ingredient: before the name it is done before measuring, behind the name after.
pub(super) static DONE: Words = LazyLock::new(|| {
    words(
        "sifted chopped grated melted softened sliced crushed ground mashed whipped diced shredded minced cubed crumbled halved \
     quartered toasted roasted blanched flaked slivered pureed puréed browned separated beaten peeled cored pitted stoned seeded \
     drained rinsed soaked strained warmed chilled cooled cold warm hot boiling lukewarm thawed divided packed unpacked leveled \
     levelled whisked juiced zested trimmed scalded dissolved sieved cut torn broken pounded rolled plumped squeezed split scraped \
     skinned hulled optional heaped heaping scant only well finely coarsely roughly thinly lightly very stiff stiffly freshly and \
     then unsifted unbeaten washed dried creamed crystallised frozen fresh ripe undrained heated firmly loosely",
    )
});

/// Words that open what is said behind a name.
pub(super) const TAILS: &[&str] = &[
    " for ",
    " at ",
    " to ",
    " in ",
    " from ",
    " with ",
    " without ",
    " plus ",
    " such as ",
    " cut ",
    " about ",
    " mixed ",
    " broken ",
    " left ",
    " as ",
    " if ",
    " until ",
    " each",
    " of your ",
    " like ",
    " made ",
    " on ",
    " enough ",
    " weighing ",
    " that ",
    " which ",
    " + extra",
    " + more",
    " + a ",
    " + some ",
    " including ",
    " approx",
];

/// Words of names cut short, and the words that they are.
pub(super) const SHORT: &[(&str, &str)] = &[
    ("choc", "chocolate"),
    ("gran", "granulated"),
    ("ext", "extract"),
    ("br", "brown"),
    ("idy", "instant dry yeast"),
    ("ady", "active dry yeast"),
    ("marg", "margarine"),
    ("veg", "vegetable"),
    ("evap", "evaporated"),
    ("cond", "condensed"),
    ("sw", "sweetened"),
    ("swtd", "sweetened"),
    ("bkg", "baking"),
    ("pwd", "powder"),
    ("pdr", "powder"),
    ("powd", "powdered"),
    ("cinn", "cinnamon"),
    ("unsalt", "unsalted"),
    ("uns", "unsalted"),
    ("butterm", "buttermilk"),
    ("gd", "ground"),
    ("h.r", "high-ratio"),
    ("hr", "high-ratio"),
    ("s.r", "self-raising"),
    ("a.p", "all-purpose"),
    ("b.p", "baking powder"),
    ("bp", "baking powder"),
    ("b.s", "baking soda"),
    ("c.o.t", "cream of tartar"),
];

/// Heads of names that another word in front makes another thing altogether: "cashew butter" is no butter.
pub(super) static KINDS: Words = LazyLock::new(|| {
    words(
        "butter milk flour oil sugar cream cheese juice syrup powder extract paste jam jelly water starch yeast salt vinegar chips \
     sauce egg eggs seeds meal liqueur wine beer spice fat zest rind peel margarine honey yogurt yoghurt pepper soda tartar \
     vanilla rice oats bran curd marmalade fondant gelatin gelatine cocoa crumbs shortening pectin malt dough pastry essence cider nuts white whites yolk yolks",
    )
});

/// Amounts that nobody measured; "of" may follow.
pub(super) const UNMEASURED: &[&str] = &[
    "pinch",
    "pinches",
    "dash",
    "dashes",
    "handful",
    "handfuls",
    "knob",
    "knobs",
    "lump",
    "lumps",
    "splash",
    "splashes",
    "drizzle",
    "sprinkle",
    "sprinkling",
    "dusting",
    "grating",
    "gratings",
    "drop",
    "drops",
    "speck",
    "squeeze",
    "dollop",
    "smidgen",
    "smidge",
    "touch",
    "grains",
    "glug",
    "glugs",
    "nub",
    "shake",
    "shakes",
    "drizzles",
    "dollops",
    "squeezes",
    "squirt",
    "squirts",
    "lick",
    "scraping",
    "scrapings",
    "scrape",
    "twist",
    "twists",
    "grind",
    "grinds",
    "bit",
    "scattering",
    "smear",
    "lashings",
];

/// Openings that leave the amount to the cook.
pub(super) const SOME: &[&str] =
    &["some ", "a little ", "little ", "extra ", "enough ", "additional ", "more ", "a few ", "few ", "plenty of "];

/// Words behind a measured name that leave it out of what is mixed.
pub(super) const OUTSIDE: &[&str] = &[
    "to glaze",
    "for glazing",
    "egg wash",
    "for wash",
    "for the wash",
    "for brushing",
    "to brush",
    "for dusting",
    "to dust",
    "for greasing",
    "to grease",
    "for sprinkling",
    "to sprinkle",
    "for rolling",
    "for frying",
    "for deep-frying",
    "for deep frying",
    "for shallow-frying",
    "for shallow frying",
    "to decorate",
    "for decoration",
    "for decorating",
    "for the icing",
    "for the frosting",
    "for the filling",
    "for the topping",
    "for the glaze",
    "for the syrup",
    "for the drizzle",
    "for the tin",
    "for the pan",
];

/// Words within a line without an amount that say it is not measured.
pub(super) const NOT_MEASURED: &[&str] = &[
    "to taste",
    "as needed",
    "as required",
    "if needed",
    "as desired",
    "for dusting",
    "for greasing",
    "for rolling",
    "for sprinkling",
    "for grating",
    "for cooking",
    "to dredge",
    "for dredging",
    "to grate",
    "to serve",
    "for serving",
    "for frying",
    "to roll",
    "to dust",
    "to decorate",
    "for decoration",
    "for decorating",
    "for the top",
    "for the tin",
    "for the pan",
    "for the mould",
    "for the mold",
    "for the form",
    "for the dish",
    "for the tray",
    "for the worktop",
    "for brushing",
    "to finish",
    "for deep",
    "to grease",
    "for kneading",
    "to sprinkle",
    "for garnish",
    "to garnish",
    "q.s.",
    "to thin",
    "to loosen",
    "for ramekins",
    "for the ramekins",
    "for moulds",
    "for the moulds",
    "to moisten",
    "to mix",
    "for coating",
    "for topping",
    "to glaze",
    "to bind",
    "for flouring",
    "for the work surface",
    "for the board",
];

/// Things in which an ingredient is bought or counted, beside the units: singular, with the word of the table.
pub(super) const PACKS: &[(&str, &str)] = &[
    ("can", "can"),
    ("tin", "can"),
    ("jar", "jar"),
    ("container", "container"),
    ("carton", "carton"),
    ("box", "box"),
    ("bag", "bag"),
    ("tub", "tub"),
    ("bottle", "bottle"),
    ("pouch", "pouch"),
    ("bar", "bar"),
    ("pat", "pat"),
    ("stalk", "stalk"),
    ("sprig", "sprig"),
    ("strip", "strip"),
    ("ring", "ring"),
    ("slice", "slice"),
    ("rasher", "rasher"),
    ("head", "head"),
    ("bulb", "bulb"),
    ("package", "package"),
    ("pack", "package"),
    ("pot", "container"),
    ("tube", "tube"),
    ("log", "log"),
    ("half", "half"),
    ("punnet", "punnet"),
    ("basket", "basket"),
    ("bunch", "bunch"),
    ("portion", "portion"),
];

/// Names that two kinds share: the table's reading, and the kinds to choose from.
pub(super) const SHARED: &[(&str, &[&str])] = &[
    ("coconut", &["sweetened shredded coconut", "desiccated coconut"]),
    ("chocolate", &["semisweet chocolate", "unsweetened chocolate", "bittersweet chocolate"]),
    ("cream", &["heavy cream", "light cream"]),
    ("figs", &["dried figs", "fresh figs"]),
    ("fig", &["dried figs", "fresh figs"]),
    ("coffee", &["brewed coffee", "instant coffee"]),
    ("tea", &["brewed tea"]),
    ("oatmeal", &["rolled oats", "oat flour"]),
    ("rice", &["long-grain white rice", "short-grain rice"]),
    ("almond", &["almond extract", "almonds"]),
    ("hazelnut", &["hazelnuts"]),
    ("essence", &["vanilla extract"]),
    ("peel", &["candied peel", "orange zest", "lemon zest"]),
];

/// Short names and the kind that they are taken for.
pub(super) const GENERAL: &[&str] = &["flour", "butter", "brown sugar", "cocoa", "oil", "milk"];
