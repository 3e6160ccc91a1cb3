//! Every cause for which a question is refused, once: its stable code, its title, what it means and how to mend it. Status codes are the door's business.

/// Makes the closed list of causes together with what is published of each.
macro_rules! codes {
    ($($name:ident = $code:literal, $title:literal, $meaning:literal, $mend:literal;)*) => {
        /// The cause of a refusal. One code for each cause; a code is never used again for another.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum Code { $(#[doc = $meaning] $name,)* }

        impl Code {
            /// All causes, in the order in which they are published.
            pub const ALL: &'static [Code] = &[$(Code::$name,)*];

            pub const fn as_str(self) -> &'static str {
                match self { $(Code::$name => $code,)* }
            }

            pub const fn title(self) -> &'static str {
                match self { $(Code::$name => $title,)* }
            }

            pub const fn meaning(self) -> &'static str {
                match self { $(Code::$name => $meaning,)* }
            }

            pub const fn mend(self) -> &'static str {
                match self { $(Code::$name => $mend,)* }
            }
        }
    };
}

codes! {
    // What cannot be read.
    NotJson = "not-json", "The body is not JSON", "The text breaks the rules of JSON at the line and column given.", "Write the body as one JSON object; the detail names the place.";
    NotUtf8 = "not-utf-8", "The text is not UTF-8", "JSON is always UTF-8 (RFC 8259), and so are tables and addresses here; these bytes are not.", "Save or send the text as UTF-8.";
    ByteOrderMark = "byte-order-mark", "The body begins with a byte order mark", "Some spreadsheets write three bytes before the text; JSON forbids them.", "Remove the byte order mark.";
    BodyMissing = "body-missing", "There is no question", "The request has no body, or only blanks.", "Send one JSON object as the body.";
    TooDeep = "too-deep", "The question is nested too deeply", "Lists and objects stand inside one another beyond the limit.", "Send the question as documented; no question needs that depth.";
    BadRequest = "bad-request", "The request breaks the rules of HTTP", "The request line, a header or the path could not be read.", "Send a request as RFC 9110 has it.";
    // What can be read, but has not the shape of a question.
    NotAnObject = "not-an-object", "A question is an object", "The body is a list, a text, a number or nothing.", "Send one JSON object.";
    UnknownField = "unknown-field", "There is no such field", "The question has a field that this calculation does not know.", "Use one of the fields accepted, or leave it out.";
    MissingField = "missing-field", "A field is missing", "The calculation cannot be done without this field.", "Add the field.";
    RepeatedField = "repeated-field", "A field stands twice", "Two values for one field: nobody can tell which one is meant.", "Leave one of them.";
    WrongType = "wrong-type", "The wrong kind of value", "A text stands where a list belongs, or the like.", "Send the kind of value that is named.";
    TooMany = "too-many", "Too many items", "A list is longer than the limit.", "Send fewer items at once.";
    TextTooLong = "text-too-long", "A text is too long", "A name or an amount is longer than the limit.", "Shorten the text.";
    // What has the shape, but no meaning.
    UnknownWord = "unknown-word", "There is no such word", "The field takes one of a few words, and this is none of them.", "Use one of the words accepted.";
    UnreadableAmount = "unreadable-amount", "The amount cannot be read", "An amount is a number and a unit, as people write them.", "Write it like \"1 1/2 cups\", \"250 g\" or {\"value\": 1.5, \"unit\": \"cup\"}.";
    AmbiguousNumber = "ambiguous-number", "The number has two readings", "A comma before three digits parts thousands for some and decimals for others; a point or a blank may part them too.", "Write the number with nothing between thousands, and a point before decimals.";
    UnitMissing = "unit-missing", "The unit is missing", "A bare number does not say what it measures.", "Put a unit behind the number.";
    UnknownUnit = "unknown-unit", "There is no such unit", "The unit is neither a word of the kitchen nor a UCUM code.", "Use a unit in /v1/units, such as g, ml, cup or tsp.";
    WrongUnit = "wrong-unit", "The unit measures something else", "A length, say, stands where a mass or a volume belongs.", "Use a unit of the kind that is accepted.";
    OutOfRange = "out-of-range", "The figure is out of range", "The figure is larger or smaller than any kitchen's, or than this field allows.", "Use a figure within the range.";
    BeyondNumbers = "beyond-numbers", "The result is beyond all numbers", "The figures are each allowed, but together they give a number that cannot be written.", "Use figures of a real kitchen.";
    UnknownIngredient = "unknown-ingredient", "There is no such ingredient", "The name is not in the table, in any of the spellings known.", "Use a name in /v1/ingredients, or describe it under \"ingredients\".";
    IngredientNeeded = "ingredient-needed", "The ingredient is needed", "A volume becomes a mass, or a count either, only through a particular ingredient.", "Name the ingredient.";
    NoDensity = "no-density", "The weight of a cup is not known", "Nobody has published what a cup or spoon of this ingredient weighs, in this state.", "Weigh one and give the amount in grams.";
    NotCounted = "not-counted", "This is not counted", "The ingredient is not one that is counted in such pieces.", "Give a mass or a volume.";
    UnknownPan = "unknown-pan", "The pan cannot be made out", "The phrase names no shape or size that is known.", "Write it like \"9 inch round, 2 inches deep\", or send its shape and dimensions.";
    ImpossiblePan = "impossible-pan", "There can be no such pan", "The dimensions contradict one another: a core wider than the pan, a rim of nothing.", "Measure inside, from edge to edge, and the depth straight down.";
    DimensionNeeded = "dimension-needed", "A dimension is needed", "The answer depends on a dimension that was not given.", "Add the dimension named, or the capacity by filling the pan with water.";
    ExactlyOne = "exactly-one", "Exactly one of these is wanted", "Of these fields one, and only one, may stand.", "Give one of them and no other.";
    NotTogether = "not-together", "These do not go together", "Two fields contradict one another.", "Leave the one or the other.";
    UnknownPart = "unknown-part", "There is no such part", "A part, line or ingredient is named that the formula does not have.", "Use a name that stands in the formula.";
    UnknownStyle = "unknown-style", "There is no such style", "The style is not in the list.", "Use a style in /v1/styles.";
    NoBase = "no-base", "The base of the percentages is missing", "Percentages are of the flour, or of what stands in its place; this formula has none.", "Add the ingredient that is the base, or name the style.";
    EmptyFormula = "empty-formula", "There is nothing in the formula", "A formula needs one part with one line at least.", "Add a line.";
    NothingLeft = "nothing-left", "Nothing would be left", "A loss is the whole of what enters, or more.", "Give losses below 100 %.";
    MissingFigure = "missing-figure", "The formula lacks a figure that this needs", "The question depends on a figure of the formula that was not written: its pan, its yield, its finish.", "Add the figure that is named.";
    TablesChanged = "tables-changed", "The tables are another version", "The question asks for figures of one version of the tables; this server has another.", "Leave \"tables\" out, or ask a server with that version.";
    // What the service as such refuses.
    NotFound = "not-found", "There is nothing at this address", "No calculation, table or page has this path.", "See / for all paths.";
    MethodNotAllowed = "method-not-allowed", "The method is not allowed here", "The path exists; it does not answer this method.", "Use one of the methods in the Allow header.";
    NotAcceptable = "not-acceptable", "No answer in that form", "The Accept header, or format, asks for a form that this path does not give.", "Ask for a form that is accepted; application/json always is for one question.";
    UnsupportedMediaType = "unsupported-media-type", "The body has the wrong type", "The Content-Type, or Content-Encoding, is not one that is read here.", "Send one of the types that are accepted, in UTF-8 and not compressed.";
    TooLarge = "too-large", "The body is too large", "The body is larger than the limit.", "Send less at once; see /v1/limits.";
    AddressTooLong = "address-too-long", "The address is too long", "The path and query are longer than the limit.", "Send the question in the body, by POST.";
    HeadTooLarge = "head-too-large", "The head of the request is too large", "The request line and the headers together are larger than the limit, or the headers too many.", "Send the question in the body, and fewer or shorter headers; see /v1/limits.";
    TooSlow = "too-slow", "The request came too slowly", "The request did not arrive within the time allowed.", "Send it again, without pauses.";
    Overloaded = "overloaded", "The service is busy", "More is being computed than fits at once.", "Ask again after the seconds in Retry-After.";
    OurFault = "our-fault", "The service failed", "The fault is ours; the question may be right.", "Ask again; if it happens again, report the request id.";
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn every_cause_has_a_code_of_its_own_in_lower_case_with_hyphens() {
        let codes: HashSet<_> = Code::ALL.iter().map(|code| code.as_str()).collect();
        assert_eq!(codes.len(), Code::ALL.len());
        assert!(codes.iter().all(|code| code.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')));
    }
}
