//! A name that the tables do not have, and its refusal: the nearest names, the kinds between which it does not choose, or that it is made of several.

use crate::quantity::{Code, Fault, Pointer};
use crate::reference::{Found, Reference, Style, is_made};

/// A formula may bring ingredients of its own.
pub(super) fn or_own(fault: Fault) -> Fault {
    let accepted = format!("{}, or one of your own under \"ingredients\"", fault.accepted);
    Fault { accepted, ..fault }.saying(Code::UnknownIngredient.mend())
}

/// An ingredient of the table by any of its names, or the refusal with the nearest.
pub fn find_ingredient(reference: &'static Reference, name: &str, at: &Pointer<'_>) -> Result<Found, Fault> {
    let unknown = || no_one_ingredient(reference, name, at).unwrap_or_else(|| unknown_ingredient(reference, name, at));
    reference.ingredients.find(name).ok_or_else(unknown)
}

/// The refusal of a name that is known and not that of one ingredient: its kind is missing, or it is made of several.
#[cold]
pub(super) fn no_one_ingredient(reference: &'static Reference, name: &str, at: &Pointer<'_>) -> Option<Fault> {
    let refused = |accepted: String| Fault::new(at, Code::UnknownIngredient, name, accepted);
    if let Some(kinds) = reference.ingredients.kinds(name) {
        let fault = refused(format!("the kind that is meant: {}", kinds.why));
        return Some(fault.saying(format!("Write the kind: {}", kinds.names.join(" or "))).trying(kinds.names));
    }
    let mend = "Write what it is made of, as a part of its own in a formula: each ingredient with its amount";
    is_made(name).then(|| refused("an ingredient; this is made of several".to_owned()).saying(mend))
}

#[cold]
pub(super) fn unknown_ingredient(reference: &'static Reference, name: &str, at: &Pointer<'_>) -> Fault {
    not_in_the_table(name, at).saying("Write it by one of its names there.").trying(reference.ingredients.nearest(name))
}

pub(super) fn not_in_the_table(name: &str, at: &Pointer<'_>) -> Fault {
    Fault::new(at, Code::UnknownIngredient, name, "a name in /v1/ingredients")
}

/// A style by its id or another word, or the refusal with the nearest.
pub fn find_style(reference: &'static Reference, name: &str, at: &Pointer<'_>) -> Result<&'static Style, Fault> {
    reference
        .styles
        .find(name)
        .ok_or_else(|| Fault::new(at, Code::UnknownStyle, name, "a style in /v1/styles").trying(reference.styles.nearest(name)))
}
