//! The OpenAPI document: built by walking the list of calculations, committed, and served as committed. It stands apart so that no handler describes itself.

mod bulk;
mod example;
mod hint;
mod operation;
mod parameter;
mod problem;
mod table;

use std::sync::OnceLock;

use sha2::{Digest, Sha256};
use utoipa::openapi::extensions::ExtensionsBuilder;
use utoipa::openapi::info::LicenseBuilder;
use utoipa::openapi::schema::{Components, ComponentsBuilder, Schema};
use utoipa::openapi::{ContactBuilder, Info, InfoBuilder, OpenApi, OpenApiBuilder, PathsBuilder, RefOr, ServerBuilder};

use crate::calculation::CALCULATIONS;
use crate::reference::Reference;

pub use example::{Example, Examples};

/// The document as committed, and as it is served.
const COMMITTED: &str = include_str!("../../../openapi/openapi.json");

/// What `info.description` says: the job, and the four promises that a caller has to know.
const ABOUT: &str = "The arithmetic of baking formulas: amounts in other units, pans, batches with their losses, and the balance of a formula. \
Amounts go in as people write them (`\"1 1/2 cups\"`) or as a value and a unit, and come out as numbers with their unit and, where the figure is not exact, its range. \
Every answer lists what it assumed, with the field to set to change it, the cautions that apply and the sources of its figures; `explain=true` adds the working. \
The service keeps nothing: the same question on the same tables gives the same bytes, and may be asked again at any time. \
Each calculation is asked by POST with a JSON body; the method QUERY (RFC 10008) is answered in the same way at the same address, and HEAD wherever GET is. \
New fields may appear in answers; unknown fields in questions are refused, with the nearest known one. \
Refusals are problem details (RFC 9457) with a stable `code` and, for every fault, its place, what was found, what is accepted and what to try.";

/// The committed document.
pub fn document() -> &'static [u8] {
    COMMITTED.as_bytes()
}

/// A strong entity tag of the committed document, quotes included.
pub fn etag() -> &'static str {
    static TAG: OnceLock<String> = OnceLock::new();
    TAG.get_or_init(|| strong_tag(document()))
}

/// A strong entity tag for fixed bytes: the first 16 hexadecimal digits of their SHA-256, in quotes.
pub fn strong_tag(bytes: &[u8]) -> String {
    let digits: String = Sha256::digest(bytes).iter().take(8).map(|byte| format!("{byte:02x}")).collect();
    format!("\"{digits}\"")
}

/// Builds the document from the list of calculations, their worked examples and the tables.
pub fn build(examples: &Examples, reference: &'static Reference) -> OpenApi {
    let mut components = problem::components(ComponentsBuilder::new()).build();
    let mut paths = PathsBuilder::new();
    for entry in CALCULATIONS {
        let worked = examples.of(entry.name);
        paths = paths.path(entry.path(), operation::path_item(entry, worked, &mut components));
    }
    for (path, item) in table::path_items(reference) {
        paths = paths.path(path, item);
    }
    table::schemas(&mut components);
    bulk::schemas(&mut components);
    entitle(&mut components);
    let mut document = OpenApiBuilder::new()
        .info(info())
        .servers(Some([ServerBuilder::new().url("/").description(Some("This server")).build()]))
        .paths(paths)
        .components(Some(components))
        .tags(Some(operation::tags()))
        .build();
    document.extensions = Some(ExtensionsBuilder::new().add("x-limits", table::limits()).build());
    document
}

/// The text of a document, as it is committed.
pub fn text(document: &OpenApi) -> Result<String, serde_json::Error> {
    document.to_pretty_json().map(|text| text + "\n")
}

fn info() -> Info {
    InfoBuilder::new()
        .title("evencrumb")
        .version(env!("CARGO_PKG_VERSION"))
        .description(Some(ABOUT))
        .contact(Some(ContactBuilder::new().name(Some("The people who run this server")).url(Some("/docs")).build()))
        .license(Some(LicenseBuilder::new().name("MIT or Apache-2.0, as you choose").identifier(Some("MIT OR Apache-2.0")).build()))
        .build()
}

/// Gives every named schema its name as its title, where it has none.
fn entitle(components: &mut Components) {
    for (name, schema) in &mut components.schemas {
        let RefOr::T(schema) = schema else { continue };
        let title = match schema {
            Schema::Object(object) => &mut object.title,
            Schema::Array(array) => &mut array.title,
            Schema::OneOf(one) => &mut one.title,
            Schema::AllOf(all) => &mut all.title,
            _ => continue,
        };
        title.get_or_insert_with(|| name.clone());
    }
}
