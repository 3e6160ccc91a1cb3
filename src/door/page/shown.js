// How an answer is shown to a person: quantities as text with their range, lists as tables, the account of an answer in words.
"use strict";

/** Where the service stands, as the browser sees it: a proxy may have put it below a path of its own. */
const HERE = new URL(".", location.href).href.replace(/\/$/, "");

/** Makes an element with its attributes and children; texts stay texts. */
function make(name, attributes, ...children) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes || {})) {
    if (value === true) element.setAttribute(key, "");
    else if (value !== false && value != null) element.setAttribute(key, value);
  }
  element.append(...children.flat(Infinity).filter((child) => child != null));
  return element;
}

/** Text with `words` between backticks set as code. */
function inline(text) {
  return text.split("`").map((part, index) => (index % 2 ? make("code", {}, part) : part));
}

/** Paragraphs, and lists of lines that begin with a hyphen. */
function prose(text) {
  const blocks = [];
  let list = null;
  for (const line of (text || "").split("\n")) {
    if (line.startsWith("- ")) {
      if (!list) blocks.push((list = make("ul")));
      list.append(make("li", {}, inline(line.slice(2))));
    } else if (line.trim()) {
      list = null;
      blocks.push(make("p", {}, inline(line)));
    } else {
      list = null;
    }
  }
  return blocks;
}

/** A field's name as words. */
function words(name) {
  return name.replaceAll("_", " ");
}

const plainObject = (value) => value !== null && typeof value === "object" && !Array.isArray(value);
const isQuantity = (value) => plainObject(value) && "value" in value && "text" in value;
const isPercentage = (value) => plainObject(value) && "percent" in value && Object.keys(value).every((key) => ["percent", "low", "high"].includes(key));
const isLeaf = (value) => value === null || typeof value !== "object" || isQuantity(value) || isPercentage(value);

function number(value) {
  return Number.isInteger(value) ? String(value) : String(Number(value.toPrecision(5)));
}

/** A value that fits into one cell. */
function leaf(value) {
  if (isQuantity(value)) return [make("span", { class: "figure" }, value.text), range(value, value.unit)];
  if (isPercentage(value)) return [make("span", { class: "figure" }, `${number(value.percent)} %`), range(value, "%")];
  if (typeof value === "number") return [number(value)];
  if (typeof value === "boolean") return [value ? "yes" : "no"];
  return inline(String(value ?? "none"));
}

function range(value, unit) {
  if (value.low === undefined || value.high === undefined) return null;
  // A line breaks before the range, not between a figure and its unit.
  return [" ", make("span", { class: "range" }, `(${number(value.low)} to ${number(value.high)} ${unit})`)];
}

/** Any value of an answer. */
function shown(value) {
  if (isLeaf(value)) return leaf(value);
  if (!Array.isArray(value)) return [pairs(value)];
  if (value.length === 0) return ["none"];
  if (value.every((item) => plainObject(item) && !isLeaf(item) && Object.values(item).every(isLeaf))) return [table(value)];
  if (value.every(isLeaf)) return [make("ul", {}, value.map((item) => make("li", {}, leaf(item))))];
  return [make("ol", {}, value.map((item) => make("li", {}, shown(item))))];
}

function pairs(object) {
  const rows = Object.entries(object).map(([name, value]) => make("div", {}, make("dt", {}, words(name)), make("dd", {}, shown(value))));
  return make("dl", { class: "figures" }, rows);
}

function table(rows) {
  const columns = [...new Set(rows.flatMap(Object.keys))];
  const head = make("tr", {}, columns.map((column) => make("th", { scope: "col" }, words(column))));
  const body = rows.map((row) => make("tr", {}, columns.map((column) => make("td", {}, column in row ? leaf(row[column]) : ""))));
  return make("div", { class: "wide", tabindex: "0", role: "group", "aria-label": "Table" }, make("table", {}, make("thead", {}, head), make("tbody", {}, body)));
}

const ACCOUNT = ["summary", "assumptions", "cautions", "sources", "tables", "working"];

/** The parts of an answer below its sentence. */
function answerParts(answer) {
  const figures = Object.fromEntries(Object.entries(answer).filter(([name]) => !ACCOUNT.includes(name)));
  const source = (id) => make("a", { href: `${HERE}/v1/sources/${encodeURIComponent(id)}` }, id);
  const parts = [];
  const section = (title, items, kind = "ul") => {
    if (items.length) parts.push(make("h3", {}, title), make(kind, {}, items.map((item) => make("li", {}, item))));
  };
  if (answer.cautions?.length) {
    const items = answer.cautions.map((caution) => make("li", {}, caution.text, " (", source(caution.source), ")"));
    parts.push(make("div", { class: "note" }, make("h3", {}, "Mind"), make("ul", {}, items)));
  }
  parts.push(make("h3", {}, "Figures"), pairs(figures));
  section("Assumed", (answer.assumptions || []).map((one) => [`${one.text}. Set `, make("code", {}, one.field), " to change it."]));
  section("Working", (answer.working || []).map((step) => [step]), "ol");
  section("Sources", (answer.sources || []).map((one) => [one.title, " (", source(one.id), ")"]));
  parts.push(make("p", { class: "path" }, `Tables ${answer.tables}`));
  return parts;
}
