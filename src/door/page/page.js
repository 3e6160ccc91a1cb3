// Builds the page from the description of the service: a form for each calculation, its fields in words, and links to the tables.

/** What a schema is, in a word or two. */
function kindOf(schema) {
  const types = [...new Set([schema, ...(schema.oneOf || [])].flatMap((part) => part.type || []))].filter((type) => type !== "null");
  const names = { string: "text", number: "number", integer: "whole number", boolean: "true or false", array: "list", object: "object" };
  return types.map((type) => names[type] || type).join(" or ");
}

function bounds(schema) {
  const least = schema.minimum ?? schema.exclusiveMinimum;
  const most = schema.maximum ?? schema.exclusiveMaximum;
  const parts = [];
  if (least !== undefined && most !== undefined) parts.push(`${least} to ${most}`);
  if (schema.enum) parts.push(`one of ${schema.enum.filter((word) => word !== null).join(", ")}`);
  if (schema.maxLength) parts.push(`at most ${schema.maxLength} characters`);
  if (schema.maxItems) parts.push(`at most ${schema.maxItems}`);
  if (schema.default != null) parts.push(`${JSON.stringify(schema.default)} unless set`);
  return parts;
}

/** The fields of a schema, each with what it is; those of a field stand below it. */
class Fields {
  constructor(schemas) {
    this.schemas = schemas;
  }

  resolved(schema) {
    const { $ref: reference, ...own } = schema;
    if (reference) return { ...this.resolved(this.schemas[reference.split("/").pop()] || {}), ...own, name: reference };
    const wanted = schema.oneOf?.filter((part) => part.type !== "null" && part.type !== "array");
    return wanted?.length === 1 ? { ...this.resolved(wanted[0]), ...own, oneOf: undefined } : schema;
  }

  list(schema, above = []) {
    const whole = this.resolved(schema);
    if (!whole.properties || (whole.name && above.includes(whole.name))) return null;
    const inside = [...above, whole.name];
    const rows = Object.entries(whole.properties).flatMap(([name, property]) => this.row(name, property, whole.required?.includes(name), inside));
    return make("dl", { class: "fields" }, rows);
  }

  row(name, property, needed, above) {
    const schema = this.resolved(property);
    const facts = [kindOf(schema), ...bounds(schema), needed ? "needed" : "may be left out"].filter(Boolean).join(", ");
    const below = this.list(schema.items || property, above);
    return [
      make("dt", {}, make("code", {}, name), ` ${facts}`),
      make("dd", {}, prose(schema.description), below ? make("details", {}, make("summary", {}, `Inside ${name}`), below) : null),
    ];
  }
}

function article(path, item, fields) {
  const operation = item.post;
  const name = path.split("/").pop();
  const body = operation.requestBody.content["application/json"];
  const ask = new Ask(path, name, operation, Boolean(item.get));
  const inside = fields.list(body.schema);
  return make("article", { id: name, "aria-labelledby": `title-${name}` },
    make("h2", { id: `title-${name}` }, operation.summary),
    make("p", { class: "path" }, make("code", {}, `POST ${path}`), item.get ? [" and ", make("code", {}, `GET ${path}`)] : null),
    prose(operation.description),
    ask.whole,
    inside ? make("details", {}, make("summary", {}, "The fields of the question"), inside) : null);
}

function link(href, text) {
  return make("li", {}, make("a", { href }, text));
}

function reads(description, tag) {
  return Object.entries(description.paths)
    .filter(([path, item]) => item.get?.tags?.includes(tag) && !item.post && !path.includes("{"))
    .map(([path, item]) => link(HERE + path, item.get.summary));
}

async function build() {
  const state = document.getElementById("state");
  try {
    const description = await (await fetch(`${HERE}/openapi.json`)).json();
    const fields = new Fields(description.components.schemas);
    const asked = Object.entries(description.paths).filter(([, item]) => item.post);
    document.getElementById("questions").append(...asked.map(([path, item]) => article(path, item, fields)));
    document.getElementById("contents").append(...asked.map(([path]) => link(`#${path.split("/").pop()}`, path.split("/").pop())));
    document.getElementById("tables").append(...reads(description, "tables"));
    document.getElementById("service").append(link(`${HERE}/openapi.json`, "The description of the service (OpenAPI)"), ...reads(description, "service"));
    state.remove();
    if (location.hash) document.getElementById(location.hash.slice(1))?.scrollIntoView();
  } catch {
    state.textContent = "The description of the service could not be read. Is the service still running?";
  }
}

build();
